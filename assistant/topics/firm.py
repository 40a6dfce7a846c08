"""Cold meat and a clean cut: firming cubes, freezing patties, how much to grind at once, plates, passes, smearing."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.data.safety import safety_book
from assistant.engine.cold import SIDE_MM, Arrangement, Machine, Span, firm_cubes, freeze_patties, lots
from assistant.errors import BadInput
from assistant.language.phrases import Amount, Count, Patties, People, Phrase
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

SIDE, THICK = Fraction(254, 10), Fraction(20)
"""An inch cube and a patty of 20 mm, where no size was said: the custom for cubes, the thicker end of the table."""
FREEZER_C, FRIDGE_C = -18, 4
LARGEST_CUBE = 150
"""Millimetres: what nobody would still call a cube for the grinder."""
RAW_BARE_F = 60
"""A bare reading of meat at the grinder up to here is the raw meat's."""
WHAT = {
    "start_c": "the meat",
    "side_mm": "cubes",
    "thickness_mm": "patties",
    "freezer_c": "the freezer",
    "stack": "the stack",
}
"""What a limit of the engine is about, in words."""
COLD_C = 25
RAW_AT_MOST = 50
"""A reading up to here, on either scale, beside grinding is the raw meat's own."""
MOST_GRAMS = 1_000_000


class Firm(Struct, frozen=True):
    """A question of cold work. about: "cubes", "patties", "target", "lots", "plate", "passes", "smear"; side_mm: of a
    cube or a patty's thickness; freezer, start: (value, unit), the start of the meat; stack: patties on one another; grams: the batch."""

    about: str
    side_mm: Fraction | None = None
    freezer: tuple[Fraction, str] | None = None
    stack: int = 1
    touching: bool = False
    yes_no: bool = False
    grams: Fraction | None = None
    processor: bool = False
    fatty: bool = False
    start: tuple[Fraction, str] | None = None


class FirmTopic:
    """Cold work."""

    name = "firm"
    examples = ("How long do 1 inch cubes firm in the freezer?", "Which plate for burgers?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about chilling or grinding, or another size for the one before."""
        return _question(sentence) or _follow_up(sentence, talk)

    def answer(self, request: Firm, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The time, the plate or the cure, with how sure it is."""
        answers = {
            "cubes": _cubes,
            "patties": _patties,
            "target": _target,
            "lots": _lots,
            "plate": _plate,
            "passes": _passes,
            "smear": _smear,
        }
        return answers[request.about](request, kitchen)


# ---- reading


def _question(sentence: Sentence) -> Reading | None:
    about = _about(sentence)
    if sentence.has("keep", "use_by") and sentence.has("fridge", "freezer") and about in ("cubes", "target"):
        return None
    counted = [p.count for p in sentence.of(Patties)] + [p.count for p in sentence.of(People)]
    if about == "lots" and any(count is not None for count in counted):
        # "half a dozen 7 oz burgers, how much do I grind": the meat for them
        return None
    # "came out like paste" is no time out of the fridge
    elsewhere = ("out_in", "counter") if about != "smear" or heard.durations(sentence) else ()
    if not about or sentence.has("thaw", "refreeze", "power_cut", "leftover", "cook_time", *elsewhere):
        return None
    return _reading(sentence, Firm(about))


def _about(sentence: Sentence) -> str:
    text = sentence.text.lower()
    if sentence.has("smear"):
        return "smear"
    if sentence.has("which_plate") or re.search(r"\d/\d+.*\bplate\b", text):
        # "8 lb through the coarse plate" is a batch; a question of plates says so
        asks = sentence.has("what", "safe", "yes") or any(word in text for word in ("what", "which", " or ", "size"))
        return "plate" if asks else ""
    if sentence.has("passes") and (heard.asks_leave(sentence) or sentence.has("what", "how_many") or " or " in text):
        return "passes"
    cubed = re.search(r"\b(cube|chunk|dice|strip)", text) is not None
    if (
        cubed
        and sentence.has("freezer", "freeze_patties", "firm")
        and (sentence.has("how_long") or any(amount.kind == "length" for amount in sentence.of(Amount)))
        and not sentence.of(Patties)
    ):
        return "cubes"
    if sentence.has("freeze_patties") or (sentence.has("stack") and "freez" in text):
        return "" if sentence.has("keep", "use_by") or _no_how_long(sentence) else "patties"
    if sentence.has("at_once") and (
        "how much" in text or "how many" in text or sentence.has("mix", "in_grinder", "processor")
    ):
        return "lots"
    asks = sentence.has("how_much", "how_many", "how_long", "what", "mix") or heard.asks_leave(sentence)
    if sentence.has("processor") and (asks or "pulse" in text):
        return "lots"
    if heard.cold_at_the_grinder(sentence) and not sentence.of(Patties):
        return "target"
    if sentence.has("temp") and any(word in text for word in ("grind", "minc")) and not sentence.of(Patties):
        return (
            "target"
            if any(word in text for word in ("to grind", "before", "grinding", "when i grind", "when grinding"))
            else ""
        )
    if _too_warm(sentence) and any(word in text for word in ("grind", "minc")):
        return "target"
    if (
        sentence.has("reads")
        and _raw_readings(sentence)
        and re.search(r"\b(grind|minc)", text)
        and not sentence.of(Patties)
    ):
        return "target"
    if heard.how_cold_a_place(sentence):
        return ""
    if sentence.has("firm"):
        return "target" if "how cold" in text or "cold enough" in text else "cubes"
    return ""


def _too_warm(sentence: Sentence) -> bool:
    """A reading of raw meat at work: "it's gone above 12 degrees while mincing"."""
    readings = [amount for amount in sentence.of(Amount) if amount.kind == "degrees"]
    cool = any(amount.measure.value <= RAW_AT_MOST for amount in readings)
    return (
        cool
        and not heard.durations(sentence)
        and not sentence.has("freezer", "fridge", "out_in", "done", "middle")
        and not sentence.of(Patties)
    )


def _raw_readings(sentence: Sentence) -> list[heard.Heat]:
    """Bare readings that raw meat at work can have."""
    return heard.heats(sentence, low=0, high=RAW_BARE_F)


def _no_how_long(sentence: Sentence) -> bool:
    return (
        not sentence.has("how_long", "when", "safe", "yes", "stack")
        and "time" not in sentence.text.lower()
        and not heard.asks_leave(sentence)
    )


def _reading(sentence: Sentence, before: Firm) -> Reading:
    sizes = [amount for amount in heard.amounts(sentence) if amount.kind == "length"]
    weights = [amount for amount in heard.amounts(sentence) if amount.kind == "weight"]
    at_work = before.about == "target" or sentence.has("freezer", "temp", "reads")
    stacked = [count for count in sentence.of(Count) if sentence.has("stack")]
    # away from a freezer and a thermometer only a number below nought is sure to be one: "cubes firm up at -18"
    high = RAW_BARE_F if before.about == "target" else 10 if at_work else -1
    heats = [heat for heat in heard.heats(sentence, low=-60, high=high) if heat.phrase not in stacked]
    # of two, "from 4 C in a -18 C freezer", the colder is the freezer's
    heats.sort(key=lambda heat: heat.f(_scale(heat.value, before.about)))
    heat = heats[0] if heats else None
    start = heats[-1] if len(heats) > 1 else None
    counts = [count for count in sentence.of(Count) if heat is None or count is not heat.phrase]
    text = sentence.text.lower()
    # "10 patties stacked" is one pile of ten; "40 patties in stacks of 4" names the pile; "10 in one layer" makes none
    if "stack" in text:
        counts += [patties.count for patties in sentence.of(Patties) if patties.count is not None]
    piled = sentence.has("stack") and re.search(r"\b(single|one|a) layer\b", text) is None
    stack = counts[0] if counts and piled and counts[0].value.denominator == 1 else None
    request = replace(
        before,
        side_mm=_mm(sizes[0]) if sizes else before.side_mm,
        freezer=(heat.value, heat.unit or _scale(heat.value, before.about)) if heat else before.freezer,
        stack=int(stack.value) if stack else before.stack,
        yes_no=heard.asks_leave(sentence),
        touching="touch" in text or "piled" in text or "heap" in text or before.touching,
        start=(start.value, start.unit or "degC") if start else before.start,
        grams=units.grams(weights[0].measure.value, weights[0].measure.unit) if weights else before.grams,
        processor=sentence.has("processor") or before.processor,
        fatty="fat" in text.replace("fatty", "fat") or before.fatty,
    )
    used: set[Phrase] = set(heard.plain_words(sentence, weights=before.about not in ("cubes", "patties", "lots")))
    if before.about == "plate":
        # "3/8 or 1/8": the plates themselves, with their inches unsaid
        used |= frozenset((*sentence.of(Count), *sizes))
    if not piled:
        # how many lie side by side does not matter to how long they take
        used |= {count for count in counts if getattr(sentence.after(count), "payload", "") == "freeze_patties"}
    used |= heard.all_of([*sizes[:1], *weights[:1], stack, *(one.phrase for one in (heat, start) if one)])
    return Reading(request, frozenset(used), 2)


def _scale(value: Fraction, about: str) -> str:
    """The scale of a bare reading: meat at the grinder "at 12" is in Celsius, "at 38" in Fahrenheit; a freezer below
    -10 is in Celsius."""
    if about == "target":
        return "degF" if value > COLD_C else "degC"
    return "degF" if value > -10 else "degC"


def _follow_up(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "And 3/4 inch?", "what if they touch?", "and 10 lb?" after an answer of this topic."""
    before = talk.last
    if not isinstance(before, Firm) or talk.topic != FirmTopic.name or len(list(sentence.substance())) > 4:
        return None
    if sentence.has("temp", "how_much", "how_many", *heard.PLANNING) or sentence.of(Patties):
        return None
    found = _reading(sentence, before)
    return found if found.request != before else None


def _mm(amount: Amount) -> Fraction:
    return units.to(amount.measure.value, amount.measure.unit, "mm")


# ---- answering


def _freezer_c(request: Firm) -> Fraction:
    return Fraction(FREEZER_C) if request.freezer is None else units.to(*request.freezer, "degC")


def _cubes(request: Firm, kitchen: Kitchen) -> Outcome:
    side = request.side_mm if request.side_mm is not None else SIDE
    lay = Arrangement.TOUCHING if request.touching else Arrangement.SPACED
    custom = verdict.figure("firm_cubes")
    size = wording.length(side, kitchen.units)
    if not 0 < side <= LARGEST_CUBE:
        says = (
            f"Cubes of {size} cannot be firmed for grinding: cut them 15 to 40 mm (5/8 to 1 1/2 in), an inch by custom."
        )
        return _refused(f"How long cubes of {size} take to firm", says)
    start = Fraction(FRIDGE_C) if request.start is None else units.to(*request.start, "degC")
    try:
        span = firm_cubes(min(side, Fraction(SIDE_MM[1])), _freezer_c(request), start, arrangement=lay)
    except BadInput as fault:
        says = (
            f"No figure for that: {WHAT[fault.argument]} should be {fault.wanted}. By custom 30 min to 1 h for inch cubes, "
            "until the edges are firm and the middle still gives."
        )
        figures = [verdict.from_book("in the freezer, by custom, inch cubes", custom)]
        return _told(kitchen, f"How long cubes of {size} take to firm", says, figures, [], custom.source)
    if side > SIDE_MM[1]:
        return _too_big(request, span, size, kitchen)
    low, high = Fraction(_to_five(span.low)), Fraction(_to_five(span.high))
    middle = Fraction(_to_five(span.middle))
    figures = [
        verdict.time_figure("in the freezer, by the model", middle, "minute", "heat-flow model", low, high),
        verdict.from_book("in the freezer, by custom", custom),
    ]
    says = (
        f"{wording.number(low)} to {wording.number(high)} min in the freezer for {size} cubes "
        f"{'that touch' if request.touching else 'in one layer, apart'}: firm at the edges, the middle still gives."
    )
    notes = [
        "Custom says 30 min to 1 h; go by touch. Touching cubes take about three times as long, fatty ones two thirds."
    ]
    return _told(
        kitchen,
        f"How long {size} cubes take to firm in the freezer",
        says,
        figures,
        notes,
        "heat-flow model, untested in a kitchen",
    )


def _too_big(request: Firm, span: Span, size: str, kitchen: Kitchen) -> Outcome:
    """Cubes above the sizes of the model: longer than its largest, and better cut smaller."""
    least = Fraction(_to_five(span.low))
    largest = wording.length(Fraction(SIDE_MM[1]), kitchen.units)
    figures = [verdict.time_figure("in the freezer, at least", least, "minute", f"heat-flow model, {largest} cubes")]
    says = (
        f"Longer than {wording.number(least)} min, which is the least for {largest} cubes; no figure for {size}. Cut them "
        "to an inch: quicker, and they firm evenly."
    )
    return _told(
        kitchen, f"How long cubes of {size} take to firm", says, figures, [], "heat-flow model, untested in a kitchen"
    )


def _refused(understood: str, says: str) -> Outcome:
    return verdict.told("firm", understood, says, status=Status.IMPOSSIBLE)


def _to_five(minutes: float) -> int:
    """Told in steps of 5 minutes: the model is no finer."""
    return max(5, round(minutes / 5) * 5)


def _patties(request: Firm, kitchen: Kitchen) -> Outcome:
    # told to the millimetre, as half an inch is 12.7 mm and the table starts at 13
    thick = wording.rounded(request.side_mm) if request.side_mm is not None else THICK
    size = wording.length(thick, kitchen.units)
    try:
        frozen = freeze_patties(thick, request.stack, _freezer_c(request))
    except BadInput as fault:
        says = f"No figure for that: {WHAT[fault.argument]} should be {fault.wanted}. Leave them overnight."
        return _told(kitchen, f"How long patties of {size} take to freeze", says, [], [], "heat-flow model")
    low, high = Fraction(frozen.low_hours), Fraction(frozen.high_hours)
    figures = [verdict.time_figure("freezing through", high, "hour", "heat-flow model", low, high)]
    how = "in one layer" if request.stack == 1 else f"{request.stack} high"
    says = f"{figures[0].shown} for patties {size} thick, {how}{': leave them overnight' if frozen.overnight else ''}."
    says = f"Yes: {says}" if request.yes_no else says
    notes = [
        "Freeze them in one layer on a tray with paper between, then bag them: 3 to 4 months at 0 °F (-18 °C) for quality."
    ]
    return _told(
        kitchen,
        f"How long patties {size} thick take to freeze, {how}",
        says,
        figures,
        notes,
        "heat-flow model, untested in a kitchen",
    )


def _target(request: Firm, kitchen: Kitchen) -> Outcome:
    book = safety_book()
    low, high, stop = (book.temperatures[key] for key in ("grind_target_low", "grind_target_high", "grind_stop"))
    scale = verdict.scale_of(kitchen)
    figures = [
        *verdict.temperature_figures("meat at the grinder, from", low.at, low.source, scale),
        *verdict.temperature_figures("meat at the grinder, to", high.at, high.source, scale),
        *verdict.temperature_figures("stop and chill again at", stop.at, stop.source, scale),
    ]
    says = (
        f"{verdict.degrees(low.at, scale)} to {verdict.degrees(high.at, scale)} at the grinder; at "
        f"{verdict.degrees(stop.at, scale)} stop and chill it again."
    )
    if request.freezer is not None:
        warm = units.to(*request.freezer, "degF") >= stop.at.f
        seen = verdict.reading(*request.freezer)
        says = f"{f'Stop: {seen} is too warm to grind, chill it first' if warm else f'Go on: {seen} is cold enough'}. Wanted: {says}"
    notes = ["Chill head, worm, knife, plate and bowl too."]
    return _told(
        kitchen, "How cold meat should be to grind", says, figures, notes, f"{low.checked}; the stop: {stop.source}"
    )


def _lots(request: Firm, kitchen: Kitchen) -> Outcome:
    machine = Machine.PROCESSOR if request.processor else Machine.GRINDER
    row = verdict.figure("processor_batch" if request.processor else "grinder_lot")
    grams = request.grams if request.grams is not None else units.grams(1, "lb")
    if not 0 < grams <= MOST_GRAMS:
        return verdict.ask_back(
            "firm", "How much to grind at once", "How much is it in all? For example: 6 lb.", request, "weight"
        )
    work = lots(grams, machine)
    lot = f"{wording.weight(work.lot_low_g, kitchen.units)} to {wording.weight(work.lot_high_g, kitchen.units)}"
    figures = [_lot_figure(work.lot_low_g, work.lot_high_g, lot, row.source)]
    says = f"{lot} at a time; keep the rest in the fridge."
    if request.grams is not None:
        many = f"{work.fewest} to {work.most}" if work.fewest != work.most else str(work.fewest)
        lots_of = "lot" if work.most == 1 else "lots"
        says = f"{wording.both(grams, kitchen.units)} in {many} {lots_of} of {lot}; keep the rest in the fridge."
        ends = (float(work.fewest), float(work.most))
        figures.append(
            Figure("lots", Role.RATIO, ends[1], "count", low=ends[0], high=ends[1], source=row.source, shown=many)
        )
    notes = []
    if request.processor:
        says += " Pulse 10 to 20 times, a second each."
        figures.append(verdict.from_book("firming the cubes", verdict.figure("processor_cubes_firm")))
        notes.append("Firm the cubes 15 to 30 min in the freezer first.")
    return _told(
        kitchen,
        f"How much to {'chop in a food processor' if request.processor else 'grind'} at once",
        says,
        figures,
        notes,
        f"{row.source} ({row.checked})",
    )


def _lot_figure(low: Fraction, high: Fraction, shown: str, source: str) -> Figure:
    pound = units.grams(1, "lb")
    return Figure(
        "one lot",
        Role.TOTAL,
        float(high / pound),
        "lb",
        low=float(low / pound),
        high=float(high / pound),
        source=source,
        shown=shown,
    )


def _plate(_request: Firm, kitchen: Kitchen) -> Outcome:
    coarse, fine = safety_book().plates["3/8 in"], safety_book().plates["1/8 in"]
    figures = [
        Figure(
            f"{name} plate",
            Role.CONVERSION,
            float(row.mm or 0),
            "millimeter",
            source=row.source,
            shown=f"{row.key} ({wording.number(row.mm or 0)} mm)",
        )
        for name, row in (("first", coarse), ("last", fine))
    ]
    says = f"Burgers: {figures[0].shown} first, then {figures[1].shown}; for a coarser burger stop at 1/4 in (6.4 mm). Chili: 3/8 in once."
    notes = ["Chill the meat again between the two passes."]
    return _told(kitchen, "Which plate to grind with", says, figures, notes, fine.checked)


def _passes(_request: Firm, kitchen: Kitchen) -> Outcome:
    says = "Two passes for a fine, even burger: 3/8 in (9.5 mm), chill, then 1/8 in (3.2 mm). One pass at 1/4 in (6.4 mm) for a loose, coarse one."
    notes = ["Two passes mix fat and lean evenly; each warms the meat, so chill it between."]
    return _told(kitchen, "One pass through the grinder or two", says, [], notes, "common practice, no source")


def _smear(_request: Firm, kitchen: Kitchen) -> Outcome:
    custom = verdict.figure("firm_cubes")
    low, high = safety_book().temperatures["grind_target_low"], safety_book().temperatures["grind_target_high"]
    scale = verdict.scale_of(kitchen)
    figures = [
        *verdict.temperature_figures("meat at the grinder, from", low.at, low.source, scale),
        *verdict.temperature_figures("meat at the grinder, to", high.at, high.source, scale),
        verdict.from_book("firming the cubes", custom),
    ]
    says = (
        f"The fat is too warm, or the knife does not cut. Stop, chill cubes and grinder parts to {verdict.degrees(low.at, scale)} "
        f"to {verdict.degrees(high.at, scale)}, then go on."
    )
    outcome = _told(kitchen, "Why the fat smears", says, figures, ["Cold fat cuts; warm fat smears."], custom.checked)
    steps = (
        "Unplug it, open it and clear sinew from the knife.",
        "Put the knife in with its flat side to the plate; tighten the ring.",
        "Firm the cubes and chill the metal parts 30 min to 1 h in the freezer.",
        "Grind in lots of 2 to 3 lb, and coarse before fine.",
    )
    return replace(outcome, answer=replace(outcome.answer, steps=steps))


def _told(
    kitchen: Kitchen, understood: str, says: str, figures: list[Figure], notes: list[str], source: str
) -> Outcome:
    touches = {"keep_cold", "cook_temperature"}
    return verdict.told(
        "firm",
        understood,
        says,
        figures=figures,
        cautions=verdict.with_meat(heard.Meat(), kitchen, touches),
        notes=[*notes, f"Source: {source}."],
        working=(f"{understood}: {source}.",),
    )


TOPIC = FirmTopic()
