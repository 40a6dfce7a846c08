"""Thawing: how long by each method, which methods are safe, and when to move a pack for a day."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.data.safety import safety_book
from assistant.engine.safety import Thawing, take_out, thaw
from assistant.errors import BadInput
from assistant.language.phrases import Amount, Count, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.language.when import Day
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.store.cold import fridge_limit, marked

METHODS = (
    ("from_frozen", "cook from frozen"),
    ("hot_water", "hot water"),
    ("cold_water", "cold water"),
    ("microwave", "microwave"),
    ("counter", "counter"),
)
"""Cues and the thaw rows they name; the fridge comes last, as "out of the freezer into the fridge" names it in passing."""
SAID = {
    "fridge": "in the fridge",
    "cold water": "in cold water",
    "microwave": "in the microwave",
    "counter": "on the counter",
    "hot water": "in hot or warm water",
    "cook from frozen": "not at all, cooked from frozen",
}
AT_ONCE = ("cold water", "microwave")
"""Ways that warm parts of the meat: it is cooked at once."""
READY = time(12)
"""A day without an hour is taken as noon of it: a choice, no source."""
OTHERS = ("refreeze", "power_cut", "firm", "freeze_patties", "leftover", "slow_cooker")
MOST_GRAMS = 100_000
"""A pack heavier than this is a slip of the keyboard."""


_KEPT_AFTER = Pattern(
    r"\b(then|and|afterwards?|after that) (put|keep|leave|store|chill|cook|use|refrigerate) (it|them|the rest)?\b.*\b(fridge|later|tomorrow|tonight|overnight)\b|"
    r"\b(cook|use|keep) (it|them) (later|tomorrow|tonight)\b|"
    r"\b(cook\w*|use|using|bbq|barbecue|grill\w*|fry\w*|eat\w*) (later|tomorrow)\b|"
    r"\b(this morning|at noon|at lunch\w*|earlier|yesterday|last night)\b.*\b(tonight|tomorrow|this evening|later|for (tea|dinner|supper))\b"
)
"""How people say that thawed meat is not to be cooked at once."""


_BY = Pattern(r"\b(by|for|before|in time for|ready)( the| this| next| coming)? *$")
_OUT = Pattern(r"\b(take|get|pull|bring|have)\b.*\bout\b")
_MOVED = Pattern(r"\b(move|take|put|get|shift|transfer)\b")


class Thaw(Struct, frozen=True):
    """A question of thawing. asks: "when" to take it out, "how long", "ok" whether the method is safe, or "after" how
    long it keeps thawed; later: it is not to be cooked at once; grams: of one pack; thick_mm: where said; day, clock: when
    it is wanted, or of "after" when it had thawed; cooked: the day on which it is to be cooked; at: (value, unit) that the fridge reads; country: the one that the line names."""

    asks: str = "how long"
    method: str = ""
    grams: Fraction | None = None
    thick_mm: Fraction | None = None
    day: Day | None = None
    clock: time | None = None
    days: Fraction | None = None
    cooked: Day | None = None
    at: tuple[Fraction, str] | None = None
    overnight: bool = False
    later: bool = False
    country: str = ""
    named: heard.Meat = field(default_factory=heard.Meat)


class ThawTopic:
    """Thawing."""

    name = "thaw"
    examples = (
        "How long to thaw a 1 lb pack in cold water?",
        "When do I take 2 kg of mince out of the freezer for Saturday?",
    )
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about thawing, or the reply to what was asked back about it."""
        return _question(sentence) or _reply(sentence, talk)

    def answer(self, request: Thaw, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The hours, the day to take it out, or a verdict on the method; asks for the pack and the day."""
        kitchen = verdict.kitchen_in(kitchen, request.country)
        if request.method in ("counter", "hot water"):
            return _forbidden(request, kitchen)
        if request.method == "cook from frozen":
            return _from_frozen(request, kitchen)
        if request.at is not None and units.to(*request.at, "degF") > fridge_limit(kitchen.country).at.f:
            return _too_warm(request, kitchen)
        if request.asks == "after":
            return _after(request, kitchen)
        if request.later and request.method in AT_ONCE:
            return _allowed(replace(request, asks="ok"), kitchen)
        if request.overnight and request.method == "cold water":
            return _forbidden(request, kitchen)
        missing = _missing(request)
        if missing is not None:
            what, question = missing
            return verdict.ask_back("thaw", _understood(request), question, request, what)
        try:
            return _take_out(request, kitchen) if request.asks == "when" else _hours(request, kitchen)
        except BadInput as fault:
            question = f"That cannot be thawed: {fault.argument} should be {fault.wanted}. How heavy is one pack?"
            return verdict.ask_back("thaw", _understood(request), question, replace(request, grams=None), "weight")


# ---- reading


def _question(sentence: Sentence) -> Reading | None:
    moved = _MOVED.search(sentence.text.lower()) is not None
    frozen_pack = (
        moved and sentence.has("fridge") and _asks_when(sentence) and not sentence.has("out_in", "go_back", "keep")
    )
    frozen_pack = frozen_pack or (
        sentence.has("drop")
        and "take out" in sentence.text.lower()
        and _asks_when(sentence)
        and bool(_weights(sentence))
    )
    frozen_pack = frozen_pack or (
        sentence.has("freezer") and _asks_when(sentence) and (moved or sentence.has("fridge"))
    )
    # "when do I take a 3 lb pack out for Saturday": days before are for the freezer, and not for the table
    to_a_day = _OUT.search(sentence.text.lower()) is not None and _asks_when(sentence) and _is_for_a_day(sentence)
    frozen_pack = frozen_pack or to_a_day
    # "2 kg frozen, needs to be ready for Saturday, fridge"
    ready_by = "frozen" in sentence.text.lower() and bool(_weights(sentence)) and _is_for_a_day(sentence)
    ready_by = ready_by and not sentence.has("keep", "from_frozen", "ago")
    frozen_pack = frozen_pack or ready_by
    sunk = sentence.has("cold_water") and sentence.has("how_long") and bool(_weights(sentence))
    sunk = sunk or (sentence.has("cold_water", "hot_water", "microwave") and "frozen" in sentence.text.lower())
    left_out = sentence.has("freezer") and sentence.has("counter", "out_in") and not heard.durations(sentence)
    softens = moved or ("frozen" in sentence.text.lower() and heard.asks_leave(sentence))
    if left_out and softens and not sentence.has("keep", "go_back") and not _asks_when(sentence):
        # "take the frozen burgers out on the side in the morning"
        return _reading(sentence, Thaw(asks="ok", method="counter"), 2)
    if not sentence.has("thaw", "from_frozen") and not frozen_pack and not sunk:
        return None
    if sentence.has(*OTHERS) or (sentence.has("temp") and not sentence.has("how_long", "when")):
        return None
    return _reading(sentence, Thaw(asks=_asks(sentence)), 3 if to_a_day or ready_by else 2)


def _asks(sentence: Sentence) -> str:
    text = sentence.text.lower()
    if _ONCE_THAWED.search(text) and not _weights(sentence):
        return "after"
    if _asks_when(sentence) and _MOVED.search(text) and not sentence.has("keep", "use_by"):
        return "when"
    if "thawed" in text and sentence.has("keep") and sentence.has("how_long", "safe", "yes", "is_it_ok"):
        return "after"
    since = heard.days(sentence) or heard.durations(sentence)
    if _thawed_then_cooked(sentence):
        return "after"
    gone = any((day.day.relative or 0) < 0 for day in heard.days(sentence) if day.day is not None)
    wished = (_asks_when(sentence) or sentence.has("when", "want") or _is_for_a_day(sentence)) and not gone
    if ("thawed" in text or "defrosted" in text) and not wished and not sentence.has("how_long") and since:
        # "thawed yesterday, when must I cook it", but not "thawed by Sunday, when do I start"
        return "after"
    thawed = re.search(r"\b(thawed|defrosted)\b", text) is not None
    if thawed and heard.days(sentence) and sentence.has("how_long") and not _weights(sentence):
        return "after"
    if _asks_when(sentence):
        return "when"
    if sentence.has("how_long"):
        return "how long"
    if _is_for_a_day(sentence) and not gone and _weights(sentence):
        # "need it thawed by Saturday, 3 lb pack"
        return "when"
    if heard.days(sentence) and not heard.asks_leave(sentence):
        return "when"
    return "ok" if heard.asks_leave(sentence) else "how long"


_ONCE_THAWED = Pattern(
    r"\b(once|after|when)\b.*\b(thawed|defrosted)\b.*\bhow (soon|long|quick\w*|fast)\b"
    r"|\bhow (soon|long|quick\w*|fast)\b.*\b(cook|use|eat|keep)\b.*\b(once|after|when)\b.*\b(thawed|defrosted)\b"
)
_THAWED = Pattern(r"\b(thawed|defrosted|unfrozen)( out)?( in the fridge)?( on| since)? *$")


def _thawed_then_cooked(sentence: Sentence) -> bool:
    """ "Thawed Monday, ok to cook tomorrow": the day of the thawing, and then the day of the cooking."""
    days = heard.days(sentence)
    return len(days) == 2 and _THAWED.search(sentence.text[: days[0].first].lower()) is not None


def _is_for_a_day(sentence: Sentence) -> bool:
    """ "Defrosted by Sunday", "thawed for the 4th": a day to come, and not the day of the thawing."""
    return any(_BY.search(sentence.text[: day.first].lower()) for day in heard.days(sentence))


def _asks_when(sentence: Sentence) -> bool:
    """ "When do I", "what day", which the lexer files with the questions of how long."""
    return re.search(r"\b(when|what (day|time)|by when)\b", sentence.text.lower()) is not None


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    waiting = talk.pending
    if waiting is not None and isinstance(waiting.request, Thaw):
        reply = _reading(sentence, waiting.request, 2, bare=waiting.missing)
        return reply if reply.request != waiting.request else None
    before = talk.last
    if not isinstance(before, Thaw) or talk.topic != ThawTopic.name or len(list(sentence.substance())) > 5:
        return None
    if not sentence.has("what_about", "fridge", *(cue for cue, _ in METHODS)) and not _weights(sentence):
        return None
    if sentence.has("temp", "keep", "how_much", "how_many", *OTHERS):
        return None
    reply = _reading(sentence, before, 1)
    return reply if reply.request != before else None


def _reading(sentence: Sentence, before: Thaw, strength: int, bare: str = "") -> Reading:
    """What the line adds to what was known. bare: what was asked for, so that a bare "noon" or "2 kg" is enough."""
    weights, days, clocks = _of_a_pack(sentence), heard.days(sentence), heard.clocks(sentence)
    thick = next((amount for amount in heard.amounts(sentence) if amount.kind == "length"), None)
    spells = heard.durations(sentence)
    method = _method(sentence) or before.method
    kept = before.asks == "after" and len(days) == 2
    # how cold the fridge is that it thaws in
    cold = next(
        (heat for heat in heard.heats(sentence) if method == "fridge" and isinstance(heat.phrase, Amount)), None
    )
    request = replace(
        before,
        method=method,
        at=marked(cold, "fridge") or before.at,
        grams=_grams(weights[0]) if weights else before.grams,
        thick_mm=before.thick_mm
        if thick is None
        else units.to(thick.measure.high or thick.measure.value, thick.measure.unit, "mm"),
        day=(days[0] if kept else days[-1]).day if days else before.day,
        cooked=days[-1].day if kept else before.cooked,
        clock=heard.mealtime(clocks[-1]) if clocks else before.clock,
        days=max((most / 24 for _, _, most in spells), default=before.days),
        overnight=sentence.has("long_spell") or before.overnight,
        later=_KEPT_AFTER.search(sentence.text.lower()) is not None or before.later,
        named=heard.meat(sentence) if heard.meat(sentence).species else before.named,
        country=heard.country(sentence) or before.country,
    )
    used: set[Phrase] = set(heard.plain_words(sentence, weights=False))
    used |= heard.all_of(
        [
            *(_weights(sentence) if _packed(sentence) else weights[:1]),
            *(days if kept else days[-1:]),
            *clocks[-1:],
            thick,
        ]
    )
    used |= heard.all_of([cold.phrase if cold else None])
    if request.asks in ("after", "ok") or request.method == "counter":
        used |= heard.all_of(phrase for phrase, _, _ in spells)
    used |= {count for count in sentence.of(Count) if bare == "weight" and weights and _counts_packs(sentence, count)}
    return Reading(request, frozenset(used), strength)


def _counts_packs(sentence: Sentence, count: Count) -> bool:
    """ "three 2 lb packs": packs apart from one another thaw each at its own pace."""
    return isinstance(sentence.after(count), Amount)


def _weights(sentence: Sentence) -> list[Amount]:
    """Weights of a pack; of "three 1 lb packs" the pound, as packs side by side thaw alike."""
    return [amount for amount in heard.amounts(sentence) if amount.kind == "weight"]


def _packed(sentence: Sentence) -> list[Amount]:
    """ "60 lb frozen in 5 lb packs": the weights that stand beside a word for packs."""
    found = []
    for at, phrase in enumerate(sentence.phrases):
        beside = (*sentence.phrases[max(at - 1, 0) : at], *sentence.phrases[at + 1 : at + 2])
        packed = any(isinstance(near, Word) and near.payload == "pack" for near in beside)
        if isinstance(phrase, Amount) and phrase.kind == "weight" and packed:
            found.append(phrase)
    return found


def _of_a_pack(sentence: Sentence) -> list[Amount]:
    """The weight of one pack first: of "10 lb in packs of 2 lb" the lighter."""
    return sorted(_packed(sentence), key=_grams) or _weights(sentence)


def _grams(amount: Amount) -> Fraction:
    return units.grams(amount.measure.high or amount.measure.value, amount.measure.unit)


def _method(sentence: Sentence) -> str:
    named = next((method for cue, method in METHODS if sentence.has(cue)), "")
    taken = re.search(r"\b(take|get|taking|bring) (it|them|this|these|the \w+) out\b", sentence.text.lower())
    if not named and not sentence.has("fridge") and sentence.has("out_in", "hot_day") and not taken:
        # left out to thaw, wherever that is
        return "counter"
    return named or ("fridge" if sentence.has("fridge") else "")


# ---- answering


def _missing(request: Thaw) -> tuple[str, str] | None:
    """What has to be asked, in the order in which it is easiest to answer."""
    if request.asks == "ok":
        return None
    if request.grams is None:
        return "weight", "How heavy is one pack? For example: 1 lb, or 2 kg bags."
    if request.asks == "when" and not request.method and request.day is None:
        return "method", "How will it thaw: in the fridge, in cold water, or in the microwave?"
    if request.asks == "when" and request.method == "fridge" and request.day is None:
        return "day", "For which day? For example: Saturday, or 19 June."
    if not 0 < request.grams <= MOST_GRAMS:
        return "weight", "That is no weight of one pack. How heavy is it? For example: 1 lb, or 2 kg."
    return None


def _understood(request: Thaw) -> str:
    weighs = request.grams is not None and request.grams > 0
    pack = f" a {wording.weight(request.grams, 'metric')} pack" if request.grams and weighs else " ground meat"
    where = f" {SAID[request.method]}" if request.method else ""
    where += f" at {verdict.reading(*request.at)}" if request.at is not None else ""
    thick = f", {wording.length(request.thick_mm)} thick" if request.thick_mm else ""
    opening = {"when": "When to take out", "ok": "Is it ok to thaw", "after": "How long it keeps, thawed,"}
    return f"{opening.get(request.asks, 'How long to thaw')}{pack}{where}{thick}"


def _hours(request: Thaw, kitchen: Kitchen) -> Outcome:
    """Hours by the method said; by every safe one where none was, or for the plain "is it ok"."""
    if request.asks == "ok" and (request.grams is None or not request.method):
        return _allowed(request, kitchen)
    assert request.grams is not None
    method = request.method or "fridge"
    thawing = thaw(request.grams, method, request.thick_mm)
    figures = [_thaw_figure(method, thawing)]
    says = f"{_pack(request, kitchen)} {SAID[method]}: {figures[0].shown}."
    if not request.method:
        water = thaw(request.grams, "cold water", request.thick_mm)
        figures.append(_thaw_figure("cold water", water))
        says = f"{_pack(request, kitchen)}: {figures[0].shown} in the fridge, or {figures[1].shown} in cold water."
    if "cold water" in (method, "" if request.method else "cold water"):
        figures.append(verdict.time_figure("change the water every", Fraction(30), "minute", thawing.method.source))
        says += " Change the water every 30 min and cook it at once."
    if method == "microwave":
        says += " At half power; cook it at once."
    if request.asks == "ok":
        no = request.overnight and method == "fridge"
        says = f"{'No, a night is too short' if no else 'Yes'}: {says[0].lower() + says[1:]}"
    return _told(request, kitchen, says, figures, thawing)


def _take_out(request: Thaw, kitchen: Kitchen) -> Outcome:
    assumed = not request.method
    request = replace(request, method=request.method or "fridge")
    if request.method != "fridge":
        short = _hours(replace(request, asks="how long"), kitchen)
        answer = replace(short.answer, headline=f"On the day itself, just before cooking. {short.answer.headline}")
        return replace(short, answer=answer)
    assert request.day is not None
    assert request.grams is not None
    now = kitchen.now()
    day = heard.day_on(request.day, now.date(), past=False)
    if day is None:
        again = replace(request, day=None)
        return verdict.ask_back(
            "thaw", _understood(request), "No calendar has that day. Which day is it for?", again, "day"
        )
    ready = datetime.combine(day, request.clock or READY, now.tzinfo)
    plan = take_out(ready, request.grams, request.thick_mm)
    source = plan.thawing.method.source
    figures = [
        Figure(
            "move it to the fridge",
            Role.DATE,
            plan.best.date().isoformat(),
            "date",
            source=source,
            shown=wording.day(plan.best),
        ),
        _thaw_figure("fridge", plan.thawing),
    ]
    says = f"Move it to the fridge by {_part_of_day(plan.best)} of {wording.day(plan.best)}: {figures[1].shown} for {_pack(request, kitchen, lower=True)}."
    notes = [] if request.clock else [f"Ready at noon of {wording.day(ready)} was assumed; say the hour for another."]
    if plan.best < now <= plan.high:
        says = f"Move it to the fridge now: {figures[1].shown} for {_pack(request, kitchen, lower=True)}, so it will be close."
    elif plan.best < now:
        says = (
            f"That is too late for the fridge: it had to be there by {wording.day(plan.best)}. "
            "Thaw it in cold water on the day and cook it at once, or cook it from frozen."
        )
    if assumed:
        notes.insert(0, "In the fridge was assumed; in cold water it is done on the day itself.")
    if plan.split:
        notes.insert(0, "One block of this size thaws too slowly to keep. Freeze flat packs of 1 to 2 lb next time.")
    return _told(request, kitchen, says, figures, plan.thawing, notes)


def _part_of_day(moment: datetime) -> str:
    return "the morning" if moment.hour < 12 or (moment.hour, moment.minute) == (12, 0) else "the evening"


def _allowed(request: Thaw, kitchen: Kitchen) -> Outcome:
    row = safety_book().thaw[request.method or "fridge"]
    if not request.method:
        says = "Thaw it in the fridge, in cold water changed every 30 min, or in the microwave. Never on the counter or in hot water."
    elif request.method == "fridge":
        says = f"Yes: the fridge is the safest way, a full day for about a pound. {_then(kitchen)}"
    elif request.method == "cold water":
        says = "Yes: in a leak-proof bag, cold water changed every 30 min, and cooked at once."
    else:
        says = "Yes: at half power, about 3 min a pound, and cooked at once."
    if request.later and request.method in AT_ONCE:
        says = f"No: thawed in {'cold water' if request.method == 'cold water' else 'the microwave'} it is cooked at once, not kept. Parts of it are warm."
    limit = safety_book().temperatures["fridge_max"]
    figures = list(verdict.temperature_figures("fridge at most", limit.at, limit.source, verdict.scale_of(kitchen)))
    if request.method in ("", "cold water"):
        figures.append(verdict.time_figure("change the water every", Fraction(30), "minute", row.source))
    return _finish(request, kitchen, says, figures, ["How long depends on the pack: say how heavy it is."], row.source)


def _told(
    request: Thaw, kitchen: Kitchen, says: str, figures: list[Figure], thawing: Thawing, notes: list[str] | None = None
) -> Outcome:
    notes = list(notes or [])
    if thawing.method.key == "fridge":
        notes.append(_then(kitchen))
    if thawing.may_be_thick and thawing.method.key == "cold water":
        notes.append("A block thicker than 2 in (5 cm) can take longer than that.")
    return _finish(request, kitchen, says, figures, notes, thawing.method.source)


def _then(kitchen: Kitchen) -> str:
    """How long it keeps once it has thawed in the fridge, by the country's agency."""
    if kitchen.country == "uk":
        return "Cook it within 24 hours of full thaw (Food Standards Agency)."
    return "Thawed in the fridge, ground meat keeps 1 to 2 days more there."


def _too_warm(request: Thaw, kitchen: Kitchen) -> Outcome:
    """A fridge in which nothing may thaw."""
    assert request.at is not None
    limit = fridge_limit(kitchen.country)
    scale = verdict.scale_of(kitchen)
    says = (
        f"No: {verdict.reading(*request.at)} is too warm. Thaw it in a fridge at {verdict.degrees(limit.at, scale)} or "
        "colder, or in cold water changed every 30 min and cook it at once."
    )
    figures = list(verdict.temperature_figures("fridge at most", limit.at, limit.source, scale))
    return _finish(replace(request, asks="ok"), kitchen, says, figures, [], limit.source, thrown=True)


def _finish(
    request: Thaw,
    kitchen: Kitchen,
    says: str,
    figures: list[Figure],
    notes: list[str],
    source: str,
    *,
    thrown: bool = False,
) -> Outcome:
    at_once = request.method in ("cold water", "microwave", "hot water", "counter")
    touches = {"thaw_counter", "cook_temperature", "thaw_cook_at_once" if at_once else "keep_cold"}
    return verdict.told(
        "thaw",
        _understood(request),
        says,
        figures=figures,
        cautions=verdict.with_meat(request.named, kitchen, touches),
        notes=[*notes[:2], f"Source: {source}."],
        steps=() if thrown or request.asks == "after" else _steps(request),
        working=(f"{_understood(request)}: {source}.",),
        thrown=thrown,
    )


def _steps(request: Thaw) -> tuple[str, ...]:
    if request.method == "cold water":
        return (
            "Seal it in a leak-proof bag.",
            "Sink it in cold tap water, weighed down.",
            "Change the water every 30 minutes.",
            "Cook it at once.",
        )
    if request.method == "fridge":
        return ("Lay the pack flat in a dish on the lowest shelf of the fridge.",)
    return ()


def _thaw_figure(method: str, thawing: Thawing) -> Figure:
    assert thawing.low_hours is not None
    assert thawing.high_hours is not None
    low, high = thawing.low_hours, thawing.high_hours
    name = f"thawing {SAID[method]}"
    if method == "fridge":
        return verdict.time_figure(name, high, "hour", thawing.method.source, low, high)
    if low == high:
        return verdict.time_figure(name, high * 60, "minute", thawing.method.source)
    return verdict.time_figure(name, (low + high) * 30, "minute", thawing.method.source, low * 60, high * 60)


def _pack(request: Thaw, kitchen: Kitchen, *, lower: bool = False) -> str:
    assert request.grams is not None
    weight = wording.both(request.grams, kitchen.units)
    return f"{'a' if lower else 'A'} pack of {weight}"


def _forbidden(request: Thaw, kitchen: Kitchen) -> Outcome:
    row = safety_book().thaw[request.method]
    limit = safety_book().temperatures["fridge_max"]
    figures = list(verdict.temperature_figures("fridge at most", limit.at, limit.source, verdict.scale_of(kitchen)))
    figures.append(verdict.time_figure("change the cold water every", Fraction(30), "minute", row.source))
    says = (
        f"No: never {SAID[request.method]}{' overnight' if request.method == 'cold water' else ''}. Use the fridge at 40 °F (4 °C) or colder, or cold water changed every 30 min. "
        "Meat that lay warm for over 2 hours: throw it away."
    )
    note = "The outside gets warm enough for germs while the middle is still frozen."
    return _finish(request, kitchen, says, figures, [note], row.source)


def _from_frozen(request: Thaw, kitchen: Kitchen) -> Outcome:
    row = safety_book().thaw["cook from frozen"]
    needed = verdict.needed_for(request.named, kitchen.country)
    scale = verdict.scale_of(kitchen)
    says = (
        f"Yes: thin patties can be cooked from frozen. Allow about half as long again, and go by "
        f"{verdict.degrees(needed, scale)}{verdict.hold_words(needed)} in the middle."
    )
    return verdict.told(
        "thaw",
        "Cook patties from frozen: is it ok?",
        says,
        figures=verdict.cooking_figures(needed, scale),
        cautions=verdict.with_meat(request.named, kitchen, {"cook_temperature", "thermometer"}),
        notes=["Not in a slow cooker: it warms frozen meat too slowly.", f"Source: {row.source}. {verdict.LOCAL}"],
        working=(f"Half as long again ({row.source}).",),
    )


def _after(request: Thaw, kitchen: Kitchen) -> Outcome:
    """How long thawed meat keeps; water and microwave leave it no time at all."""
    uk = kitchen.country == "uk"
    row = verdict.figure("uk_fully_thawed_cook_within" if uk else "thawed_keeps_ground")
    span = "24 hours" if uk else "1 to 2 days"
    since = request.days
    if since is None and request.day is not None:
        since = _thawed_for(request.day, request.cooked, kitchen.now().date())
    most = Fraction(1) if uk else row.high or row.value
    past = since is not None and since > most and request.method not in AT_ONCE
    if request.method in AT_ONCE:
        says = f"No time at all: thawed {SAID[request.method]} it is cooked at once."
    elif past:
        says = f"No: thawed ground meat keeps {span} in the fridge. It is past that; throw it away."
    elif since is not None and since == most:
        says = f"Only if you cook it {'that day' if request.cooked else 'today'}: that is the end of the {span} that thawed ground meat keeps at 40 °F (4 °C) or colder."
    elif since is not None and since >= 1:
        says = (
            f"Yes, if it was at 40 °F (4 °C) or colder all the time: {verdict.span(since, since, 'day')} of its {span}."
        )
    else:
        says = f"Thawed in the fridge, ground meat keeps {span} more there, at 40 °F (4 °C) or colder."
    return _finish(
        replace(request, asks="after"),
        kitchen,
        says,
        [verdict.from_book("keeps, thawed, in the fridge", row)],
        [],
        row.source,
        thrown=past,
    )


def _thawed_for(thawed: Day, cooked: Day | None, today: date) -> Fraction | None:
    """Days from the thawing to the cooking, or to today where no day of cooking was said."""
    began = heard.day_on(thawed, today, past=True)
    ends = today if cooked is None else heard.day_on(cooked, today, past=False)
    return None if began is None or ends is None else Fraction((ends - began).days)


TOPIC = ThawTopic()
