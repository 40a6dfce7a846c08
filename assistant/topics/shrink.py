"""What the grill does to a patty: how wide it ends up, how wide to shape it for that, and how much of its fat stays."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cook, learn, portion
from assistant.engine.kinds import HUNDRED
from assistant.engine.ranged import Ranged
from assistant.language.phrases import Amount, Count, CutName, Fatness, Measure, Patties, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, pending_for
from assistant.topics.kept import kept_shares
from assistant.topics.plan.cooked import DEFAULT_FAT
from assistant.topics.plan.request import Plan

NAME = "shrink"
BAND = "common practice, no source; pork patties of 10 to 25% fat measured 21 to 23% (Food Science of Animal Resources 36(4))"
_WIDE = Pattern(
    r"\b(?:how\s+(?:wide|big|large|broad|small|much\s+(?:smaller|narrower))|what\s+(?:size|width|diameter)|how\s+(?:much|far)\s+(?:will|does|do|would)\b[^.;?]*\bshrink)\b",
    re.IGNORECASE,
)
_HEAT = Pattern(
    r"\b(?:cook(?:ed|s|ing)?|grill(?:ed|ing)?|broil(?:ed|ing)?|fr(?:y|ied|ying)|shrinks?|shrunk|off\s+the\s+(?:grill|pan)|done|baked)\b",
    re.IGNORECASE,
)
_BACKWARDS = Pattern(
    r"\b(?:shape|press|form|make|raw|start|pat)\b[^.;?]*\b(?:to\s+(?:be|end\s+up|get|come\s+out)|for|so\s+(?:that\s+)?(?:it|they)|ends?\s+up)\b|\b(?:should|must|to)\s+be\b[^.;?]*\b(?:cooked|grilled)\b[^.;?]*\b(?:raw|shape)\b",
    re.IGNORECASE,
)
_TO_BE_COOKED = Pattern(
    r"^\W*(?:wide |across )?(?:patt(?:y|ies) |burgers? )?(?:when |once |after )?(?:cooked|cooking|done|grilled|grilling|finished)\b"
    r"|\b(?:cooked|finished|grilled) (?:width|size|patty|burger) (?:of|is|at)?\W*$",
    re.IGNORECASE,
)
_RAW = Pattern(r"\b(?:raw|press|shape|form|pat|start|make)\b", re.IGNORECASE)
"""With a width that is said of the cooked patty, the raw one is asked for."""
_DRAWN_BEFORE = Pattern(
    r"\b(?:shrink\w*|shrunk|draws? in|drawn in|loses?|losing|narrower)\b(?: by| about| around| of)*\s*$", re.IGNORECASE
)
_DRAWN_AFTER = Pattern(r"^\s*(?:of )?(?:shrink\w*|draw-?in|narrower|smaller)\b", re.IGNORECASE)
_FAT_LEFT = Pattern(
    r"\bhow\s+(?:much|many\s+(?:grams|g|oz|ounces))\s+(?:of\s+)?(?:its\s+|the\s+)?fat\b[^.;?]*\b(?:stays?|left|remains?|kept|keeps?|lost|loses?|runs?\s+out|renders?|cooks?\s+(?:out|off)|drips?|cooked|grilled|broiled|fried|baked)\b"
    r"|\b(?:what|how\s+fat(?:ty)?)\b[^.;?]*\b(?:cooked|grilled|broiled|fried)\b[^.;?]*\bfat\b"
    r"|\bfat\b[^.;?]*\b(?:of|in)\s+(?:a|the|my)?\s*(?:cooked|grilled|broiled|fried)\b"
    r"|\bhow\s+fat(?:ty)?\s+(?:is|are)\b[^.;?]*\b(?:once|when|after)\s+(?:cooked|grilled|broiled|fried)\b",
    re.IGNORECASE,
)
_WAYS = (
    (Pattern(r"\b(?:(?:meat)?loaf|baked|oven)\b", re.IGNORECASE), ("loaf", "baked")),
    (Pattern(r"\b(?:crumbl\w+|browned|bolognese|taco)\b", re.IGNORECASE), ("crumbles", "pan-browned")),
    (Pattern(r"\b(?:pan|skillet|fried|fry|griddle|flat\s?top)\b", re.IGNORECASE), ("patty", "pan-broiled")),
)
_GRILLED = ("patty", "broiled")
_THICK = Pattern(r"^\s*(?:thick|deep|high|tall)\b", re.IGNORECASE)


class Width(Struct, frozen=True):
    """The width of a patty. known: how wide it is raw, or (backwards) is to be cooked; else size and thickness say.
    drawn: percent of the width that the cook's own patties lose."""

    known: Measure | None = None
    backwards: bool = False
    size: Measure | None = None
    thickness: Measure | None = None
    fat: Fraction | None = None
    form: str = "patty"
    method: str = "broiled"
    drawn: Fraction | None = None


class FatLeft(Struct, frozen=True):
    """How much fat stays in cooked meat. fat: of the raw meat; size: the raw weight, where one was said."""

    fat: Fraction | None = None
    size: Measure | None = None
    form: str = "patty"
    method: str = "broiled"
    species: tuple[str, ...] = ()


class ShrinkTopic:
    """The topic of what cooking takes."""

    name = NAME
    examples = ("how wide will a 5 inch patty be once cooked?", "how much of the fat stays in a grilled 80/20 burger?")
    passes: frozenset[str] = frozenset(
        (
            "cooked",
            "across",
            "thick",
            "what",
            "how_much",
            "how_many",
            "this",
            "lose",
            "raw",
            "want",
            "into",
            "must_be",
            "left_with",
        )
        + (
            "composition",
            "mix",
            "have",
            "bun",
            "rendered",
            "done",
            "works_out",
            "smaller",
            "bigger",
            "convert",
            "leftover",
        )
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about width or fat after cooking, or the fat or width that was asked back."""
        return _reply(sentence, talk) or _fat_left(sentence, talk) or _width(sentence, talk)

    def answer(self, request: Width | FatLeft, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The width with its range, or the fat with its share."""
        return _told_width(request, kitchen) if isinstance(request, Width) else _told_fat(request)


# ---- reading


def _reading(request: object, sentence: Sentence, taken: set[Phrase]) -> Reading:
    words = {
        w for kind in ("side", "bound", "unknown", "fatis", "pereach") for w in sentence.words(kind) if _is_small(w)
    }
    one = {p for p in sentence.of(Patties) if p.count is None or p.count.value == 1}
    return Reading(request, frozenset(taken | words | one), 3)


def _is_small(word: Word) -> bool:
    if word.kind == "unknown":
        return word.text.lower() in (
            "how",
            "broiled",
            "grilled",
            "stays",
            "remains",
            "kept",
            "drips",
            "fatty",
            "shrinks",
            "after",
            "once",
        )
    return word.payload not in ("at_most", "at_least")


def _way(sentence: Sentence) -> tuple[str, str]:
    return next((way for words, way in _WAYS if words.search(sentence.text)), _GRILLED)


def _fat_said(sentence: Sentence, talk: Talk) -> tuple[Fraction | None, set[Phrase]]:
    """The raw fat of the line, else of the batch on the table; None as the fraction where it was said twice."""
    said: list[Phrase] = [*sentence.of(Fatness), *(a for a in sentence.of(Amount) if a.kind == "percent")]
    if len(said) == 1:
        phrase = said[0]
        fat = phrase.fat if isinstance(phrase, Fatness) else phrase.measure.value  # type: ignore[attr-defined]
        return fat, {phrase}
    planned = talk.plan.target if isinstance(talk.plan, Plan) else None
    return (planned if not said else None), set()


def _weight(sentence: Sentence) -> Amount | None:
    found = [a for a in heard.amounts(sentence) if a.kind == "weight"]
    return found[0] if len(found) == 1 else None


def _fat_left(sentence: Sentence, talk: Talk) -> Reading | None:
    if not _FAT_LEFT.search(sentence.text) or sentence.has("cook_out", "rendered", "trim"):
        return None
    fat, taken = _fat_said(sentence, talk)
    weight = _weight(sentence)
    form, method = _way(sentence)
    named: list[Phrase] = [*sentence.words("species"), *sentence.of(CutName)]
    said = {word.payload for word in sentence.words("species")} | heard.meat(sentence).species
    species = tuple(sorted(said - {"beef"}))
    request = FatLeft(fat, None if weight is None else weight.measure, form, method, species)
    return _reading(request, sentence, taken | heard.all_of([weight, *named]))


def _width(sentence: Sentence, talk: Talk) -> Reading | None:
    if not (_WIDE.search(sentence.text) and _HEAT.search(sentence.text)) or sentence.has("bun"):
        return None
    lengths = [a for a in heard.amounts(sentence) if a.kind == "length"]
    thick = next((a for a in lengths if _THICK.match(sentence.text[a.last :])), None)
    wide = [a for a in lengths if a is not thick]
    weight = _weight(sentence)
    on_patties = bool(sentence.of(Patties)) or any(isinstance(p, PerEach) for p in sentence.phrases) or bool(lengths)
    if len(wide) > 1 or not on_patties or (weight is None and not lengths and talk.plan is None):
        return None
    drawn = next((a for a in sentence.of(Amount) if a.kind == "percent" and _is_drawn(sentence.text, a)), None)
    fat, taken = _fat_said(sentence, talk) if drawn is None else (None, {drawn})
    form, method = _way(sentence)
    request = Width(
        known=wide[0].measure if wide else None,
        backwards=bool(wide) and _is_to_be_cooked(sentence.text, wide[0]),
        size=None if weight is None else weight.measure,
        thickness=None if thick is None else thick.measure,
        fat=fat,
        form="patty",
        method=method if form == "patty" else "broiled",
        drawn=None if drawn is None else drawn.measure.value,
    )
    if request.known is None and request.size is None:
        return None
    return _reading(request, sentence, taken | heard.all_of([*lengths, weight]))


def _is_to_be_cooked(text: str, wide: Amount) -> bool:
    """Whether a width is the one wanted on the plate."""
    if _BACKWARDS.search(text):
        return True
    said = _TO_BE_COOKED.search(text[wide.last :]) or _TO_BE_COOKED.search(text[: wide.first])
    return said is not None and _RAW.search(text) is not None


def _is_drawn(text: str, share: Amount) -> bool:
    """ "Shrink 22%", "22% shrinkage": of the width, and no fat."""
    before, after = text[: share.first], text[share.last :]
    if "weight" in text.lower():
        return False
    return _DRAWN_BEFORE.search(before) is not None or _DRAWN_AFTER.search(after) is not None


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    waiting = pending_for(talk, NAME)
    if waiting is None:
        return None
    request = waiting.request
    if isinstance(request, FatLeft):
        fat, taken = _fat_said(sentence, Talk())
        return None if fat is None else _reading(replace(request, fat=fat), sentence, taken)
    lengths = [a for a in sentence.of(Amount) if a.kind == "length"]
    if len(lengths) != 1 or sentence.of(Count):
        return None
    return _reading(replace(request, thickness=lengths[0].measure), sentence, {lengths[0]})


# ---- answering


def _millimetres(measure: Measure) -> float:
    return float(units.to(measure.value, measure.unit, "mm"))


def _length_unit(request: Width, kitchen: Kitchen) -> str:
    said = request.known or request.thickness
    if said is not None:
        return said.unit
    return "inch" if kitchen.units == "us" else "cm"


def _told_width(request: Width, kitchen: Kitchen) -> Outcome:
    unit = _length_unit(request, kitchen)
    system = "us" if unit == "inch" else "metric"
    fat = request.fat if request.fat is not None and request.fat <= portion.FATTEST_FOR_DENSITY else DEFAULT_FAT
    if any(m is not None and m.value <= 0 for m in (request.known, request.size, request.thickness)):
        return verdict.told(
            NAME, "The width of a patty", "Every size has to be above nothing.", status=Status.IMPOSSIBLE
        )
    if request.drawn is not None and not 0 <= request.drawn < HUNDRED:
        return verdict.told(
            NAME, "The width of a patty", "A patty cannot lose all of its width.", status=Status.IMPOSSIBLE
        )
    if request.known is not None and request.drawn is not None:
        return _as_drawn(request.known, request.drawn, unit, system, backwards=request.backwards)
    if request.known is not None and request.backwards:
        return _shaped(request.known, unit, system)
    if request.known is not None:
        raw = Ranged(_millimetres(request.known))
    elif request.thickness is None:
        question = "How wide is it raw, or how thick is it shaped?"
        return verdict.ask_back(NAME, "How wide a patty is once cooked", question, request, "thickness")
    else:
        assert request.size is not None
        weight = units.grams(request.size.value, request.size.unit)
        raw = portion.diameter_mm(weight, _millimetres(request.thickness), fat)
    cooked = cook.cooked_diameter(raw.value)
    low = cooked.low if raw.low is None or cooked.low is None else cooked.low * raw.low / raw.value
    high = cooked.high if raw.high is None or cooked.high is None else cooked.high * raw.high / raw.value
    says = (
        f"About {wording.length(cooked.value, system)} across once cooked, from {wording.length(raw.value, system)} raw: "
        f"patties draw in {wording.number(portion.LEAST_SHRINK)} to {wording.number(portion.MOST_SHRINK)}%."
    )
    return verdict.told(
        NAME,
        f"How wide a patty of {wording.length(raw.value, system)} is once cooked",
        says,
        figures=[
            _wide("cooked width", Ranged(cooked.value, low, high), unit, system, BAND),
            _wide("raw width", raw, unit, system),
        ],
        notes=[f"Draw-in across: {BAND}."],
        steps=("Press a shallow dimple in the middle, so that they stay flat.",),
        working=_by_weight(fat, request.method),
    )


def _as_drawn(known: Measure, drawn: Fraction, unit: str, system: str, *, backwards: bool) -> Outcome:
    """The other of the two widths, by the cook's own share of the width."""
    said, kept = Fraction(_millimetres(known)), 1 - drawn / 100
    raw, cooked = (said / kept, said) if backwards else (said, said * kept)
    share = wording.percent(drawn)
    wide, plate = wording.length(raw, system), wording.length(cooked, system)
    return verdict.told(
        NAME,
        f"How wide to shape a patty for {plate} once cooked, shrinking {share}"
        if backwards
        else f"How wide a patty of {wide} is once cooked, shrinking {share}",
        f"Shape it {wide} wide: {share} of the width gone leaves {plate}."
        if backwards
        else f"About {plate} across once cooked: {wide} less {share} of the width.",
        figures=[
            _wide("shape it this wide" if backwards else "raw width", Ranged(float(raw)), unit, system, "your own"),
            _wide("cooked width", Ranged(float(cooked)), unit, system, "your own"),
        ],
        notes=[f"{share} is taken of the width. If it was of the weight, weigh instead: the width loses less."],
        steps=("Press a shallow dimple in the middle, so that they stay flat.",),
        working=("Raw width = cooked width / (1 - draw-in).",),
    )


def _by_weight(fat: Fraction, method: str) -> tuple[str, ...]:
    """What the weight lost would do to the width by itself: the middle way between flat and swollen patties."""
    found = cook.cooked_yield(data.cooked_yields(), fat, method)
    if found is None:
        return ()
    alike, flat = portion.shrink_bounds(found.percent.value)
    return (
        f"Cooked weight {wording.percent(found.percent.value)} of raw ({found.source}): the width would be "
        f"{alike * 100:.0f}% of raw if it shrank alike all ways, {flat * 100:.0f}% if the thickness stayed. "
        "Patties draw in across and swell, so they end up narrower than the first.",
    )


def _shaped(wanted: Measure, unit: str, system: str) -> Outcome:
    """How wide to shape raw for a width on the plate."""
    shape = portion.shape_for_bun(_millimetres(wanted))
    target = wording.length(_millimetres(wanted), system)
    return verdict.told(
        NAME,
        f"How wide to shape a patty for {target} once cooked",
        f"Shape it {wording.length(shape.value, system)} wide for about {target} once cooked.",
        figures=[_wide("shape it this wide", shape, unit, system, BAND)],
        notes=[f"Draw-in across: {BAND}."],
        steps=("Press a shallow dimple in the middle, so that they stay flat.",),
        working=("Raw width = cooked width / (1 - draw-in).",),
    )


def _wide(name: str, mm: Ranged[float], unit: str, system: str, source: str | None = None) -> Figure:
    def said(value: float) -> float:
        return float(units.to(Fraction(value), "mm", unit))

    return Figure(
        name,
        Role.PATTY_DIAMETER,
        said(mm.value),
        unit,
        None if mm.low is None else said(mm.low),
        None if mm.high is None else said(mm.high),
        source=source,
        shown=wording.length(mm.value, system),
    )


def _told_fat(request: FatLeft) -> Outcome:
    way = {"broiled": "grilled", "pan-broiled": "cooked in a pan", "pan-browned": "browned in a pan", "baked": "baked"}[
        request.method
    ]
    said = f"How much fat stays in {request.form} {way}"
    if request.species:
        says = f"That is published for ground beef only; for {wording.listing(request.species)} I have no figure."
        return verdict.told(NAME, said, says, status=Status.IMPOSSIBLE)
    if request.fat is None:
        return verdict.ask_back(NAME, said, "How fat is it raw, such as 80/20?", request, "fat")
    said += f" at {wording.lean_fat(request.fat)}"
    shares = kept_shares(request.form, request.method)
    kept = learn.kept_between(shares, request.fat)
    found = cook.cooked_yield(data.cooked_yields(), request.fat, request.method, "beef", request.form)
    if kept is None or found is None:
        ends = [share.raw_fat for share in shares]
        says = f"That is published for ground beef of {wording.percent_range(min(ends), max(ends))} fat only."
        return verdict.told(NAME, said, says, status=Status.IMPOSSIBLE)
    kept = min(Fraction(100), kept)
    low, high = max(Fraction(0), kept - learn.KEPT_MARGIN), min(Fraction(100), kept + learn.KEPT_MARGIN)
    cooked_fat = kept * request.fat / found.percent.value
    source = "USDA SR28 and the USDA table of cooking yields"
    figures = [
        Figure(
            "fat kept",
            Role.RATIO,
            float(kept),
            "%",
            float(low),
            float(high),
            source=source,
            shown=wording.percent(kept, 0),
        ),
        Figure(
            "fat of the cooked meat", Role.FAT, float(cooked_fat), "%", source=source, shown=wording.percent(cooked_fat)
        ),
    ]
    says = (
        f"About {wording.percent(kept, 0)} of the fat stays in; the cooked meat is {wording.percent(cooked_fat)} fat."
    )
    if request.size is not None and request.size.value > 0:
        raw = units.grams(request.size.value, request.size.unit)
        before = raw * request.fat / 100
        system = "us" if request.size.unit in ("oz", "lb") else "metric"
        figures += [
            _grams("fat in it raw", before, system),
            _grams("fat left in it", before * kept / 100, system),
            _grams("fat that runs out", before * (100 - kept) / 100, system),
        ]
        says += (
            f" Of {wording.both(before, system)} in {wording.weight(raw, system)} raw, "
            f"{wording.both(before * (100 - kept) / 100, system)} runs out."
        )
    return verdict.told(
        NAME,
        said,
        says,
        figures=figures,
        notes=[f"Ground beef {way}, {source}; give or take {wording.number(learn.KEPT_MARGIN)} points."],
        working=("Fat kept = cooked yield x cooked fat / raw fat, on straight lines between the published fats.",),
    )


def _grams(name: str, mass: Fraction, system: str) -> Figure:
    return Figure(name, Role.FAT, float(mass), "g", shown=wording.both(mass, system))


TOPIC = ShrinkTopic()
