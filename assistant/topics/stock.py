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
from assistant.language.phrases import Amount, CutName, Measure, Phrase
from assistant.language.sentence import Sentence
from assistant.notebook import Batch, NotebookError, Part, Stocked, folded
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Unclear, answered, ended
from assistant.topics.notes import batches
from assistant.topics.plan.request import Item, Plan
from assistant.topics.plan.section import grams

_PLACE = r"(?:stock|(?:freezer|fridge|kitchen|larder|pantry|chiller|cool\s?room)(?:\s+stock)?)"
_THE = r"(?:my\s+|the\s+|our\s+)?"
_HAVE = re.compile(
    rf"\b(?:please\s+)?(?:remember|keep\s+in\s+mind|bear\s+in\s+mind|don'?t\s+forget)\s*(?:that|:)?\s*"
    rf"(?:i\s+have|i'?ve\s+got|i\s+got|we\s+have|we'?ve\s+got|there'?s|there\s+is|there\s+are|i\s+keep|i\s+still\s+have)?"
    rf"(?:\s+in\s+{_THE}{_PLACE})?|^\W*(?:my\s+|the\s+)?stock\s*(?:is|now|:|-|=)+(?:\s*(?:now|is))?"
    rf"|\bin\s+{_THE}{_PLACE}\s+(?:i|we)\s+(?:keep|have|now\s+have|always\s+have|always\s+keep)"
    rf"|\b(?:actually\s+|now\s+)?(?:(?:i|we)\s+(?:now\s+|still\s+|only\s+)?(?:have|keep)|there'?s|there\s+is|there\s+are|i'?ve\s+got|we'?ve\s+got)\b"
    rf"(?=.*\b(?:in|into)\s+{_THE}stock\b)",
    re.IGNORECASE,
)
_ADD = re.compile(
    rf"\b(?:put|add|store)\b(?=.*\b(?:in|into|to)\s+{_THE}(?:\w+\s+)?stock\b)|^\W*stock\s+up\b", re.IGNORECASE
)
_TAKE = re.compile(
    rf"\b(?:take|took|remove|removed|used|use)\b(?=.*\b(?:out\s+of|from|off)\s+{_THE}(?:\w+\s+)?stock\b)", re.IGNORECASE
)
_WHERE = re.compile(rf"\s*\b(?:in|into|to|out\s+of|from|off)\s+{_THE}{_PLACE}\b", re.IGNORECASE)
_SHOW = re.compile(
    rf"\bwhat(?:'?s|\s+is|\s+do\s+(?:i|we)\s+have|\s+have\s+(?:i|we)\s+got|'?s\s+left|\s+meat\s+do\s+i\s+have|\s+is\s+left|\s+are)?\s+(?:left\s+)?"
    rf"(?:in|on)\s+{_THE}{_PLACE}\W*$|\b(?:show|list|check|see)\s+(?:me\s+)?{_THE}stock\W*$|^\W*(?:my|the|our)?\s*stock(?:\s+list)?\W*$"
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
_FROM = re.compile(
    rf"\b(?:from|with|using|out\s+of|of)\s+(?:(?:what'?s|what\s+is|what\s+i\s+have|the\s+meat|everything)\s+in\s+{_THE}{_PLACE}|{_THE}stock)\b",
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


class Clear(Struct, frozen=True):
    """Forget all stock, or these cuts."""

    cuts: tuple[str, ...] = ()


class Made(Struct, frozen=True):
    """The batch on the table was made: what it took comes off the stock."""


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
        if _CLEAR.search(text):
            return Reading(Clear(), whole, 2)
        for how, pattern in (("take", _TAKE), ("add", _ADD), ("have", _HAVE)):
            said = pattern.search(text)
            if said is not None and said.group().strip():
                return None if "?" in text or sentence.has("how_long", "when") else _kept(sentence, said, how)
        if _OWN.match(text) and talk.plan is None:
            return Reading(Show(), whole, 2)
        planned = _from_stock(sentence, talk)
        if planned is not None:
            return planned
        shown = _SHOW.search(text)
        if shown and not sentence.of(Amount):
            return Reading(Show((shown["cut"] or "").strip()), whole, 2)
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
    return items if items and all(item.weight is not None or item.fat is not None for item in items) else None


def _from_stock(sentence: Sentence, talk: Talk) -> Reading | None:
    said = _FROM.search(sentence.text)
    if said is None:
        return None
    spoken: frozenset[Phrase] = within.overlapping(sentence, *said.span())
    rest = within.without(sentence, spoken)
    read = within.plan_of(rest, replace(talk, plan=None))
    if read is None or not isinstance(read.request, Plan):
        return None
    return Reading(FromStock(read.request), read.used | spoken, 2)


# ---- answering


def _keep(wish: Keep, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    told, figures, notes = [], [], []
    for item in wish.items:
        if item.weight is None:
            own, how_used = _own_fat(item, kitchen)
            told.append(own)
            notes.append(how_used)
            continue
        weight = grams(item.weight)
        if weight < 0:
            return _ends(Status.IMPOSSIBLE, f"Less than no {item.name} cannot be in stock.")
        there = _find(notebook.stock(), item.name)
        had = there.grams if there is not None and there.grams is not None else Fraction(0)
        left, note = _changed(wish.how, had, weight, item.name, kitchen)
        notes += note
        cut = there.cut if there is not None else item.name
        fat = item.fat if item.fat is not None else (there.fat if there is not None else None)
        price, currency = _price(item) or ((there.price, there.currency) if there is not None else (None, ""))
        notebook.put_stock(Stocked(cut, left, price, currency, fat, kitchen.now()))
        told.append(f"{wording.both(left, kitchen.units)} {cut}")
        figures.append(_figure(cut, left, kitchen))
    understood = f"Stock: {wording.listing(told)}"
    said = f"In stock now: {wording.listing(told)}."
    return Outcome(_answer(understood, said, tuple(figures), tuple(notes)), undoable=True)


def _own_fat(item: Item, kitchen: Kitchen) -> tuple[str, str]:
    """The cook's own fat figure of a cut, kept without a weight: what was kept, and how to use it."""
    notebook = kitchen.notebook()
    there = _find(notebook.stock(), item.name) or Stocked(item.name)
    notebook.put_stock(replace(there, fat=item.fat, updated=kitchen.now()))
    percent = wording.percent(item.fat or Fraction(0))
    return f"{there.cut} at {percent} fat", "It counts in every batch from now on that names this cut without a figure."


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


def _show(wish: Show, kitchen: Kitchen, _talk: Talk) -> Outcome:
    stock = [
        item
        for item in kitchen.notebook().stock()
        if not wish.cut or set(folded(wish.cut).split()) <= set(folded(item.cut).split())
    ]
    if not stock:
        what = wish.cut or "meat"
        return Outcome(
            _answer(
                "Show the stock", f'No {what} is remembered in stock. Say for example "remember I have 2 kg round".'
            )
        )
    told = [_line(item, kitchen) for item in stock]
    figures = tuple(_figure(item.cut, item.grams, kitchen) for item in stock if item.grams is not None)
    return Outcome(_answer("Show the stock", f"In stock: {wording.listing(told)}.", figures))


def _line(item: Stocked, kitchen: Kitchen) -> str:
    weight = wording.both(item.grams, kitchen.units) if item.grams is not None else "some"
    fat = f" at {wording.percent(item.fat)} fat" if item.fat is not None else ""
    price = f" ({wording.price(item.price, item.currency, 'kg')})" if item.price is not None and item.currency else ""
    return f"{weight} {item.cut}{fat}{price}"


def _clear(wish: Clear, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    stock = notebook.stock()
    gone = [item.cut for item in stock if not wish.cuts or any(_find((item,), cut) for cut in wish.cuts)]
    for cut in gone:
        notebook.drop_stock(cut)
    if not gone:
        return Outcome(_answer("Forget stock", "Nothing of that is in stock."))
    return Outcome(_answer("Forget stock", f"Out of stock now: {wording.listing(gone)}."), undoable=True)


def _made(_wish: Made, kitchen: Kitchen, talk: Talk) -> Outcome:
    batch = None
    if talk.plan is not None:
        outcome = within.answered(talk.plan, kitchen, talk)
        batch = batches.batch_of(talk.plan, outcome.answer, kitchen)
    if batch is None or not batch.parts:
        return _ends(
            Status.NEEDS_DETAIL, 'Made which batch? Tell me what went in, such as "2 kg chuck and 500 g suet".'
        )
    notebook = kitchen.notebook()
    stock = notebook.stock()
    taken = [(part, there) for part in batch.parts for there in [_find(stock, part.cut)] if there is not None]
    if not taken:
        known = "None of its cuts is in stock" if stock else "No stock is remembered"
        return Outcome(_answer("The batch was made", f"Noted. {known}, so nothing is taken off."))
    told, notes, figures = [], [], []
    for part, there in taken:
        left, note = _changed("take", there.grams or Fraction(0), part.grams, there.cut, kitchen)
        notes += note
        notebook.put_stock(replace(there, grams=left, updated=kitchen.now()))
        told.append(f"{wording.both(left, kitchen.units)} {there.cut}")
        figures.append(replace(_figure(there.cut, left, kitchen), role=Role.LEFT_OVER))
    notes += _not_in_stock(batch, taken)
    return Outcome(
        _answer("The batch was made", f"Left in stock: {wording.listing(told)}.", tuple(figures), tuple(notes)),
        undoable=True,
    )


def _not_in_stock(batch: Batch, taken: Iterable[tuple[Part, Stocked]]) -> list[str]:
    found = {part.cut for part, _ in taken}
    others = [part.cut for part in batch.parts if part.cut not in found]
    return [f"Not in stock, so not taken off: {wording.listing(others)}."] if others else []


def _batch(wish: FromStock, kitchen: Kitchen, talk: Talk) -> Outcome:
    stock = [item for item in kitchen.notebook().stock() if item.grams is None or item.grams > 0]
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
            weight=None if item.grams is None else Measure(item.grams, "g"),
            weight_is="have",
        )
        for item in stock
    ]
    named = {item.name for item in wish.plan.items}
    extra = tuple(item for item in items if item.name not in named and item.name not in wish.plan.without)
    plan = replace(wish.plan, items=(*wish.plan.items, *extra), units=wish.plan.units or kitchen.units)
    return within.answered(plan, kitchen, talk)


def _find(stock: Iterable[Stocked], name: str) -> Stocked | None:
    """The stock of a cut: the same name, or another name for the same row of the cut table."""
    stock = list(stock)
    same = [item for item in stock if folded(item.cut) == folded(name)]
    keys = _keys(name)
    same = same or [item for item in stock if len(keys) == 1 and _keys(item.cut) == keys]
    return same[0] if same else None


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
    Show: _show,
    Clear: _clear,
    Made: _made,
    FromStock: _batch,
    Unclear: _unclear,
}
TOPIC = StockTopic()
__all__ = ["TOPIC", "StockTopic"]
