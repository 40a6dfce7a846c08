"""What meat is in the kitchen: remembered only when told so, shown, corrected, and drawn down when a batch was made."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import partial
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, CutName, Fatness, Measure, Moment, Patties, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.notebook import Batch, ManyBatches, NoSuchBatch, NotebookError, Part, Stocked
from assistant.notebook.records import as_weighed
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Unclear, answered, ended
from assistant.topics.notes import batches, finding
from assistant.topics.notes.finding import is_of
from assistant.topics.plan import larder
from assistant.topics.plan.request import Item, Plan
from assistant.topics.plan.section import grams, system

_PLACE = r"(?:stock|(?:freezer|fridge|kitchen|larder|pantry|chiller|cool\s?room)(?:\s+stock)?)"
_THE = r"(?:my\s+|the\s+|our\s+)?"
_HAVE = re.compile(
    rf"\b(?:please\s+)?(?:remember|keep\s+in\s+mind|bear\s+in\s+mind|don'?t\s+forget)\s*(?:that|:)?\s*"
    rf"(?:i\s+have|i'?ve\s+got|i\s+got|we\s+have|we'?ve\s+got|there'?s|there\s+is|there\s+are|i\s+keep|i\s+still\s+have)?"
    rf"(?:\s+in\s+{_THE}{_PLACE})?|^\W*(?:my\s+|the\s+)?stock\s*(?:is|now|:|-|=)+(?:\s*(?:now|is))?"
    rf"|\bin\s+{_THE}{_PLACE}\s+(?:i|we)\s+(?:keep|have|now\s+have|always\s+have|always\s+keep)"
    rf"|\b(?:actually\s+|now\s+)?(?:(?:i|we)\s+(?:now\s+|still\s+|only\s+)?(?:have|keep)|there'?s|there\s+is|there\s+are|i'?ve\s+got|we'?ve\s+got)\b"
    rf"(?=.*\b(?:in|into)\s+{_THE}{_PLACE}\b)",
    re.IGNORECASE,
)
_IN_HAND = re.compile(
    r"^\W*(?:ok\W+|so\W+|right\W+)?(?:i|we|i've|we've)\s+(?:now\s+|still\s+)?(?:have|have\s+got|got|'ve\s+got)\b(?!.*\?)",
    re.IGNORECASE,
)
_REMEMBER_IT = re.compile(
    rf"^\W*(?:please\s+|and\s+)?(?:remember|keep)\s+(?:that|this|it|them|those|all\s+that)(?:\s+(?:as|in|for)\s+{_THE}{_PLACE})?(?:\s+please)?\W*$",
    re.IGNORECASE,
)
_ADD = re.compile(
    rf"\b(?:put|add|store|bought|got|buy)\b(?=.*\b(?:in|into|to|for)\s+{_THE}(?:\w+\s+)?stock\b)|^\W*stock\s+up\b",
    re.IGNORECASE,
)
_TAKE = re.compile(
    rf"\b(?:take|took|remove|removed|used|use)\b(?=.*\b(?:out\s+of|from|off|in)\s+{_THE}(?:\w+\s+)?stock\b)"
    rf"|\b(?:i'?m|we'?re|i\s+am|we\s+are)\s+(?:now\s+|all\s+)?out\s+of\b|\b(?:no\s+more|none\s+of\s+the)\b(?=.*\bleft\b)",
    re.IGNORECASE,
)
_WHERE = re.compile(rf"\s*\b(?:in|into|to|for|out\s+of|from|off)\s+{_THE}{_PLACE}\b", re.IGNORECASE)
_SHOW = re.compile(
    rf"\bwhat(?:'?s|\s+is|\s+do\s+(?:i|we)\s+have|\s+have\s+(?:i|we)\s+got|'?s\s+left|\s+meat\s+do\s+i\s+have|\s+is\s+left|\s+are)?\s+(?:left\s+)?"
    rf"(?:in|on)\s+{_THE}{_PLACE}\W*$|\b(?:show|list|check|see)\s+(?:me\s+)?{_THE}stock\W*$|^\W*(?:my|the|our)?\s*stock(?:\s+list)?\W*$"
    rf"|\bhow\s+much\s+(?P<rest>[a-z ]+?)\s+(?:is\s+left|have\s+(?:i|we)\s+(?:got\s+)?left|do\s+(?:i|we)\s+have\s+left|have\s+(?:i|we)\s+got)\W*$"
    rf"|\bhow\s+much\s+(?P<cut>.+?)\s+(?:is|do\s+i\s+have|have\s+i\s+got|is\s+left|left)\b.*\b(?:in\s+)?{_THE}stock\W*$",
    re.IGNORECASE,
)
_OWN = re.compile(
    r"^\W*what\s+(?:meat\s+)?(?:do\s+(?:i|we)\s+have|have\s+(?:i|we)\s+got)(?:\s+left)?\W*$", re.IGNORECASE
)
_CLEAR = re.compile(
    rf"\b(?:forget|clear|empty|wipe|reset)\s+(?:all\s+(?:of\s+)?)?{_THE}(?:whole\s+)?stock\W*$", re.IGNORECASE
)
_MADE = re.compile(
    r"^\W*(?:ok\W+|right\W+)?(?:(?:i|we|i've|we've|ive|weve)\s+)?(?:just\s+)?(?:made|ground|minced|did|cooked)\s+"
    r"(?:it|that|this|them|(?:that|the|this)\s+(?:batch|one|blend|mix))(?:\s+up)?(?:\s+(?:now|today|just\s+now))?[\s.!]*$",
    re.IGNORECASE,
)
_MADE_ONE = re.compile(
    r"^\W*(?:ok\W+|right\W+)?(?:(?:i|we|i've|we've|ive|weve)\s+)?(?:just\s+)?(?:made|ground|minced|did)\s+(?!.*\b(?:again|rated|scored)\b)",
    re.IGNORECASE,
)
_FROM = re.compile(
    rf"\b(?:from|with|using|out\s+of|of)\s+(?:(?:what'?s|what\s+is|what\s+(?:i|we)\s+have|the\s+meat|everything)\s+in\s+{_THE}{_PLACE}|what\s+(?:i|we)(?:\s+have|'ve)(?:\s+got)?|{_THE}stock)\b",
    re.IGNORECASE,
)
_LITTLE_WORDS = frozenset(
    [
        "have",
        "keep",
        "this",
        "what",
        "yes",
        "thanks",
        "praise",
        "correction",
        "add",
        "out_of",
        "not",
        "use_up",
        "drop",
        "total",
        "hello",
        "from_now_on",
    ]
)


class Keep(Struct, frozen=True):
    """Cuts to remember. how: "have" (this much is there now), "add" (so much more) or "take" (so much less)."""

    items: tuple[Item, ...]
    how: str = "have"


class Show(Struct, frozen=True):
    """What is in stock; cut: only this one."""

    cut: str = ""


class InHand(Struct, frozen=True):
    """Meat that is there and was not asked to be remembered: a batch, with how to keep it as stock."""

    plan: Plan


class Clear(Struct, frozen=True):
    """Forget all stock, or these cuts."""

    cuts: tuple[str, ...] = ()


class Made(Struct, frozen=True):
    """A batch was made: what it took comes off the stock. name: a saved one ("": the one on the table); weight: so
    much of it."""

    name: str = ""
    weight: Measure | None = None


class FromStock(Struct, frozen=True):
    """A batch out of what is in stock."""

    plan: Plan


class StockTopic(Struct, frozen=True):
    """The topic of the stock."""

    name: str = "stock"
    examples: tuple[str, ...] = (
        "remember I have 2 kg round and 1 kg fat trim",
        "what's in my kitchen?",
        "made it",
        "2 kg at 80/20 from my stock",
    )
    passes: frozenset[str] = _LITTLE_WORDS

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A request about the stock; "I have 2 kg round" alone is about a batch and not for keeping."""
        text = sentence.text
        whole = frozenset(sentence.phrases)
        if _MADE.match(text):
            return Reading(Made(), whole, 2)
        if (made := _made_by_name(sentence)) is not None:
            return Reading(made, whole, 3)  # surer than making it again, which "made" is a form of
        if _REMEMBER_IT.match(text) and isinstance(talk.plan, Plan) and (items := _weighed(talk.plan)) is not None:
            return Reading(Keep(items), whole, 3)
        if _CLEAR.search(text):
            return Reading(Clear(), whole, 2)
        for how, pattern in (("take", _TAKE), ("add", _ADD), ("have", _HAVE)):
            said = pattern.search(text)
            if said is not None and said.group().strip() and not _is_asking(sentence):
                return _kept(sentence, said, how)
        if talk.pending is None and talk.plan is None and _IN_HAND.match(text):
            return _in_hand(sentence, talk)
        if _OWN.match(text) and talk.plan is None:
            return Reading(Show(), whole, 2)
        planned = _from_stock(sentence, talk)
        if planned is not None:
            return planned
        shown = _SHOW.search(text)
        if shown and not sentence.of(Amount):
            return Reading(Show((shown["cut"] or shown["rest"] or "").strip()), whole, 2)
        return None

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """What is in stock now."""
        try:
            outcome: Outcome = _DOERS[type(request)](request, kitchen, talk)
            return outcome
        except NotebookError as fault:
            return _ends(
                Status.IMPOSSIBLE, f"The stock is kept in the notebook, which cannot be used: {fault.problem}."
            )


# ---- reading


def _made_by_name(sentence: Sentence) -> Made | None:
    """ "we made fair stall", "made 6 kg of fair stall today"."""
    names = within.names(sentence)
    weights = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
    plain = all(isinstance(p, Word | Moment) or p in weights for p in sentence.substance())
    if len(names) != 1 or len(weights) > 1 or not plain or not _MADE_ONE.match(sentence.text) or "?" in sentence.text:
        return None
    return Made(names[0].payload, weights[0].measure if weights else None)


def _is_asking(sentence: Sentence) -> bool:
    """Whether a line that speaks of meat in the kitchen wants something else than that it be remembered."""
    if "?" in sentence.text or sentence.has("how_long", "when", "thaw", "safe"):
        return True
    kept = re.search(
        r"\bstock\b|\b(?:remember|keep\s+in\s+mind|bear\s+in\s+mind|forget)\b", sentence.text, re.IGNORECASE
    )
    wants = sentence.has("how_much", "how_many", "want", "use_up") or any(
        isinstance(p, Moment | Patties | People) for p in sentence.phrases
    )
    return kept is None and (wants or (len(sentence.of(CutName)) > 1 and _target(sentence)))


def _target(sentence: Sentence) -> bool:
    """Whether a fat is said that is of no cut: there are more of them than cuts, or a ratio is one."""
    fats = sentence.of(Fatness)
    return any(fat.ratio for fat in fats) or len(fats) > len(sentence.of(CutName))


def _in_hand(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "I have 2 kg round and 1 kg fat trim" and nothing else: a batch as it stands."""
    read = within.plan_of(sentence, talk)
    plan = None if read is None else read.request
    if read is None or not isinstance(plan, Plan) or _weighed(plan) is None or not sentence.of(CutName):
        return None
    only = all(isinstance(p, Word | CutName | Amount) for p in sentence.substance())
    asks = plan.asks or plan.target is not None or sentence.has("how_much", "how_many", "what", "want", "use_up", "for")
    return Reading(InHand(plan), read.used, read.strength) if only and not asks else None


def _kept(sentence: Sentence, said: re.Match[str], how: str) -> Reading | None:
    spoken = within.overlapping(sentence, *said.span())
    spoken = frozenset(p for p in spoken if not isinstance(p, CutName | Amount))
    for place in _WHERE.finditer(sentence.text):
        spoken |= within.overlapping(sentence, *place.span())
    rest = within.without(sentence, spoken)
    if not sentence.of(CutName):
        return (
            Reading(Unclear("What have you got: which cuts, and how much of each?"), frozenset(sentence.phrases), 1)
            if how == "have" and ("stock" in said.group().lower())
            else None
        )
    cuts = tuple(cut.name for cut in sentence.of(CutName))
    if how == "take" and not sentence.of(Amount):
        return Reading(Clear(cuts), frozenset(sentence.phrases), 2)
    read = within.plan_of(rest, Talk())
    plan = None if read is None else read.request
    if read is None or not isinstance(plan, Plan):
        return None
    items = _weighed(plan)
    used = spoken | read.used | within.cues(sentence, _LITTLE_WORDS)
    if items is None:
        return Reading(Unclear(f"How much of each: {wording.listing(cuts)}?"), used, 2)
    return Reading(Keep(items, how), used, 2)


def _weighed(plan: Plan) -> tuple[Item, ...] | None:
    """The cuts with their weights; a single weight before a list that the plan took as the whole is no stock."""
    items = plan.items
    if len(items) == 1 and items[0].weight is None and plan.batch is not None:
        items = (replace(items[0], weight=plan.batch),)
    if len(items) == 1 and items[0].fat is None and plan.target is not None:
        items = (replace(items[0], fat=plan.target),)  # "my brisket trim is 55% fat"
    return items if items and all(_says_something(item) for item in items) else None


def _says_something(item: Item) -> bool:
    return item.weight is not None or item.fat is not None or item.price is not None


def _from_stock(sentence: Sentence, talk: Talk) -> Reading | None:
    said = _FROM.search(sentence.text)
    if said is None or (
        talk.plan is not None and talk.plan.items and not re.search(rf"\b{_PLACE}\b", said.group(), re.IGNORECASE)
    ):
        return None  # "from what I have" is what was just named, where something was
    spoken: frozenset[Phrase] = within.overlapping(sentence, *said.span())
    rest = within.without(sentence, spoken)
    read = within.plan_of(rest, replace(talk, plan=None))
    if read is None or not isinstance(read.request, Plan):
        return None
    return Reading(FromStock(read.request), read.used | spoken, 2)


# ---- answering


def _keep(wish: Keep, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    there = notebook.stock()
    told: list[str] = []
    known: list[str] = []
    kept: list[Stocked] = []
    figures: list[Figure] = []
    notes: list[str] = []
    for item in wish.items:
        if item.weight is not None and grams(item.weight) < 0:
            return _ends(Status.IMPOSSIBLE, f"Less than no {item.name} cannot be in stock.")
        now = _with_figures(item, larder.found(there, item.name) or Stocked(item.name), kitchen)
        if item.weight is not None:
            left, note = _changed(wish.how, now.grams or Fraction(0), grams(item.weight), item.name, kitchen)
            now, notes = replace(now, grams=left), [*notes, *note]
            told.append(_weight_told(now, kitchen))
            figures.append(_figure(now.cut, left, kitchen))
        else:
            known.append(_figures_told(now))
            figures += _known_figures(now)
        kept.append(now)
    notebook.put_stocks(kept)
    if known:
        notes.append("It counts in every batch from now on that names this cut without a figure of its own.")
    said = " ".join(
        filter(None, (f"In stock now: {wording.listing(told)}." if told else "", _noted(known) if known else ""))
    )
    understood = f"Stock: {wording.listing([*told, *known])}"
    return Outcome(_answer(understood, said, tuple(figures), tuple(notes)), undoable=True)


def _noted(known: list[str]) -> str:
    return f"Noted: {wording.listing(known)}."


def _with_figures(item: Item, there: Stocked, kitchen: Kitchen) -> Stocked:
    """What is known of a cut, with the fat and the price that were said of it now."""
    price, currency = _price(item) or (there.price, there.currency)
    if price is not None and not currency:
        currency = wording.HOME_CURRENCY.get(kitchen.country, "USD")
    fat = item.fat if item.fat is not None else there.fat
    return replace(there, price=price, currency=currency, fat=fat, updated=kitchen.now())


def _weight_told(item: Stocked, kitchen: Kitchen) -> str:
    return f"{wording.both(item.grams, kitchen.units)} {item.cut}" if item.grams else f"no {item.cut}"


def _figures_told(item: Stocked) -> str:
    """ "brisket trim at 45% fat ($14/kg)": what is known of a cut besides its weight."""
    fat = f" at {wording.percent(item.fat)} fat" if item.fat is not None else ""
    price = f" ({wording.price(item.price, item.currency, 'kg')})" if item.price is not None and item.currency else ""
    return f"{item.cut}{fat}{price}"


def _known_figures(item: Stocked) -> list[Figure]:
    found = []
    if item.fat is not None:
        found.append(Figure(f"fat of {item.cut}", Role.FAT, float(item.fat), "%", shown=wording.percent(item.fat)))
    if item.price is not None and item.currency:
        shown = wording.price(item.price, item.currency, "kg")
        found.append(Figure(f"{item.cut} per kg", Role.PRICE, float(item.price), item.currency, shown=shown))
    return found


def _changed(how: str, had: Fraction, weight: Fraction, name: str, kitchen: Kitchen) -> tuple[Fraction, list[str]]:
    """What is left of a cut, and a note where more was taken than had been there."""
    if how == "have":
        return weight, []
    if how == "add":
        return had + weight, []
    if weight <= had:
        return had - weight, []
    gap = wording.weight(weight - had, kitchen.units)
    return Fraction(0), [
        f'That is {gap} more {name} than the stock had, so none is left. Correct it with "stock: … {name}".'
    ]


def _have(wish: InHand, kitchen: Kitchen, talk: Talk) -> Outcome:
    outcome = within.answered(wish.plan, kitchen, talk)
    note = 'Say "remember that" to keep it as stock.'
    return replace(outcome, answer=replace(outcome.answer, notes=(*outcome.answer.notes, note)))


def _show(wish: Show, kitchen: Kitchen, _talk: Talk) -> Outcome:
    kept = [item for item in kitchen.notebook().stock() if not wish.cut or is_of(item.cut, wish.cut)]
    stock = [item for item in kept if item.grams is not None]
    known = [item for item in kept if item.grams is None]
    if not kept:
        what = wish.cut or "meat"
        return Outcome(
            _answer(
                "Show the stock", f'No {what} is remembered in stock. Say for example "remember I have 2 kg round".'
            )
        )
    told = [_weight_told(item, kitchen) + _figures_told(item).removeprefix(item.cut) for item in stock]
    said = f"In stock: {wording.listing(told)}." if told else f"No {wish.cut or 'meat'} is in stock."
    figures = [_figure(item.cut, item.grams, kitchen) for item in stock if item.grams is not None]
    figures += [figure for item in known for figure in _known_figures(item)]
    notes = (f"Known without a weight: {wording.listing(list(map(_figures_told, known)))}.",) if known else ()
    return Outcome(_answer("Show the stock", said, tuple(figures), notes))


def _clear(wish: Clear, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    stock = notebook.stock()
    gone = [item.cut for item in stock if not wish.cuts or any(larder.found((item,), cut) for cut in wish.cuts)]
    if not notebook.drop_stock(*gone):
        return Outcome(_answer("Forget stock", "Nothing of that is in stock."))
    return Outcome(_answer("Forget stock", f"Out of stock now: {wording.listing(gone)}."), undoable=True)


def _made(wish: Made, kitchen: Kitchen, talk: Talk) -> Outcome:
    batch = _batch_made(wish, kitchen, talk)
    if isinstance(batch, Outcome):
        return batch
    notebook = kitchen.notebook()
    stock = [item for item in notebook.stock() if item.grams is not None]
    taken = [(part, there) for part in batch.parts for there in [larder.found(stock, part.cut)] if there is not None]
    if not taken:
        known = "None of its cuts is in stock" if stock else "No stock is remembered"
        return Outcome(_answer("The batch was made", f"Noted. {known}, so nothing is taken off."))
    left, notes = {there.cut: there for _, there in taken}, []
    for part, there in taken:
        weight, note = _changed("take", left[there.cut].grams or Fraction(0), part.grams, there.cut, kitchen)
        left[there.cut] = replace(left[there.cut], grams=weight, updated=kitchen.now())
        notes += note
    notebook.put_stocks(left.values(), "drawing down")
    told = [_weight_told(item, kitchen) for item in left.values()]
    figures = [
        replace(_figure(item.cut, item.grams or Fraction(0), kitchen), role=Role.LEFT_OVER) for item in left.values()
    ]
    notes += _not_in_stock(batch, taken)
    return Outcome(
        _answer("The batch was made", f"Left in stock: {wording.listing(told)}.", tuple(figures), tuple(notes)),
        undoable=True,
    )


def _batch_made(wish: Made, kitchen: Kitchen, talk: Talk) -> Batch | Outcome:
    """The batch that was made, with what went into it: one of the notebook by name, else the one on the table."""
    if wish.name:
        try:
            kept = finding.find(kitchen, wish.name)
        except (NoSuchBatch, ManyBatches, finding.NothingSaved):
            return _ends(Status.NEEDS_DETAIL, f'No saved batch is called "{wish.name}". Which batch was made?')
        if wish.weight is None:
            return as_weighed(kept)
        plan = batches.for_weight(kept, wish.weight)
    else:
        plan = talk.plan
    if plan is not None:
        outcome = within.answered(plan, kitchen, talk)
        batch = batches.batch_of(plan, outcome.answer, kitchen)
        if batch is not None and batch.parts:
            return batch
    return _ends(Status.NEEDS_DETAIL, 'Made which batch? Tell me what went in, such as "2 kg chuck and 500 g suet".')


def _not_in_stock(batch: Batch, taken: Iterable[tuple[Part, Stocked]]) -> list[str]:
    found = {part.cut for part, _ in taken}
    others = [part.cut for part in batch.parts if part.cut not in found]
    return [f"Not in stock, so not taken off: {wording.listing(others)}."] if others else []


def _batch(wish: FromStock, kitchen: Kitchen, talk: Talk) -> Outcome:
    stock = [item for item in kitchen.notebook().stock() if item.grams]
    if not stock:
        return _ends(
            Status.NEEDS_DETAIL,
            'No meat is remembered in stock. Say for example "remember I have 2 kg round and 1 kg suet".',
        )
    items = [
        Item(
            item.cut,
            _keys(item.cut),
            fat=item.fat,
            weight=Measure(item.grams or Fraction(0), "g"),
            weight_is="have",
        )
        for item in stock
    ]
    named = {item.name for item in wish.plan.items}
    extra = tuple(item for item in items if item.name not in named and item.name not in wish.plan.without)
    plan = replace(wish.plan, items=(*wish.plan.items, *extra), units=system(wish.plan, kitchen.units))
    return within.answered(plan, kitchen, talk)


def _keys(cut: str) -> tuple[str, ...]:
    return data.cut_names().get(cut.lower(), ())


def _price(item: Item) -> tuple[Fraction, str] | None:
    """The price of a kilogram, where one was said."""
    if item.price is None:
        return None
    per = item.price.per or item.weight
    return (item.price.amount / grams(per) * 1000, item.price.currency) if per is not None and per.value else None


def _figure(cut: str, mass: Fraction, kitchen: Kitchen) -> Figure:
    unit = "lb" if kitchen.units == "us" else "kg"
    return Figure(cut, Role.COMPONENT, float(units.to(mass, "g", unit)), unit, shown=wording.both(mass, kitchen.units))


def _unclear(wish: Unclear, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    return _ends(Status.NEEDS_DETAIL, wish.question)


_answer = partial(answered, "stock")
_ends = partial(ended, "stock", "The stock")
_DOERS: dict[type, Any] = {
    Keep: _keep,
    InHand: _have,
    Show: _show,
    Clear: _clear,
    Made: _made,
    FromStock: _batch,
    Unclear: _unclear,
}
TOPIC = StockTopic()
__all__ = ["TOPIC", "StockTopic"]
