"""Two amounts beside each other: "which is more, 8 oz or 200 g", "is 8 fl oz the same as 8 oz"; and two units that
measure different things: "difference between oz and fl oz"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import data, units
from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Amount, CutName, Measure, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen, Outcome, Reading
from assistant.topics.convert.measures import kind_of, measure_notes, measured_in, source_of, table_unit
from assistant.topics.convert.reading import mentions_of
from assistant.topics.convert.request import NAME
from assistant.topics.convert.written import amount_text, value_text

_COMPARES: Final = Pattern(
    r"\b(which|what|whats)( is| one is)?( the)? (more|less|heavier|lighter|bigger|smaller|larger|hotter|colder|longer|warmer)\b"
    r"|\bcompar(e|ed|ing)\b|\b(same|equal|equivalent)( amount)? (as|to)\b|\bas (much|heavy|big|hot|long) as\b|\b(vs|versus)\b"
    r"|\b(more|less|heavier|lighter|bigger|larger|smaller|hotter|colder|warmer) than\b|\b(difference|diff) between\b"
    r"|\bthe same\b"
)
_DEGREES_OF_IT: Final = frozenset(
    (
        "heavier",
        "lighter",
        "smaller",
        "larger",
        "hotter",
        "colder",
        "longer",
        "warmer",
        "heavy",
        "equal",
        "equivalent",
        "diff",
    )
)
"""Words that ask which of the two; nothing else of the line may be unknown."""
_CUES: Final = frozenset(
    (
        "what",
        "more",
        "bigger",
        "smaller",
        "same_again",
        "compare",
        "worth",
        "yes",
        "this",
        "how_much",
        "want",
        "equals",
        "mix",
    )
)
_KINDS: Final = ("weight", "volume", "length", "degrees", "duration")
_FINER: Final = {"lb": "oz", "kg": "g", "l": "ml"}
"""What is told of a difference under one of these."""
_SMALL: Final = {"mass": "g", "volume": "ml", "length": "mm", "time": "minute", units.TEMPERATURE: "degC"}
_NAMES: Final = {
    "mass": "weight",
    "volume": "volume",
    "length": "length",
    "time": "time",
    units.TEMPERATURE: "temperature",
}


class Compared(Struct, frozen=True):
    """Two amounts; said of something or not, it is the same. bare: two units that were named without a number."""

    one: Measure
    other: Measure
    bare: bool = False


def read_compared(sentence: Sentence) -> Reading | None:
    """Two amounts, or two bare units, and a word that sets them beside each other."""
    if not _COMPARES.search(sentence.text.lower()):
        return None
    allowed = (Amount, Word, CutName, SeasoningName)
    if any(not isinstance(phrase, allowed) for phrase in sentence.phrases):
        return None
    if any(word.payload not in _CUES and not word.payload.startswith("unit:") for word in sentence.words("cue")):
        return None
    asking = [word for word in sentence.unknown if word.text.lower() in _DEGREES_OF_IT]
    amounts = sentence.of(Amount)
    if len(amounts) == 2 and all(amount.kind in _KINDS and amount.measure.high is None for amount in amounts):
        measures = [amount.measure for amount in amounts]
        used: tuple[Phrase, ...] = tuple(amounts)
    elif not amounts and not sentence.of(CutName) and not sentence.of(SeasoningName):
        mentions = mentions_of(sentence)
        if len({mention.unit for mention in mentions}) != 2 or len(mentions) != 2:
            return None
        measures = [Measure(Fraction(1), mention.unit) for mention in mentions]
        used = tuple(mention.word for mention in mentions)
    else:
        return None
    if any(not kind_of(measure.unit) for measure in measures):
        return None
    named = [*sentence.of(CutName), *sentence.of(SeasoningName)] if len(measures) == 2 else []
    if named and len({kind_of(measure.unit) for measure in measures}) > 1:
        # a cup of salt and 300 g of it: its own weight by the spoon decides, and that is another sum
        return None
    taken = frozenset(
        phrase for phrase in (*used, *asking, *named, *sentence.words("cue")) if phrase in sentence.phrases
    )
    return Reading(Compared(measures[0], measures[1], bare=not amounts or _all_one(sentence, measures)), taken, 3)


def _all_one(sentence: Sentence, measures: Sequence[Measure]) -> bool:
    """ "The difference between a teaspoon and a tablespoon": of the units, and of no two amounts."""
    return "between" in sentence.text.lower() and all(measure.value == 1 for measure in measures)


def answer(request: Compared, kitchen: Kitchen) -> Outcome:
    """Which is more, and by how much; that they measure different things, where they do."""
    one, other = request.one, request.other
    if kind_of(one.unit) == kind_of(other.unit):
        if request.bare:
            return _units_of_one_kind(one, other, kitchen.country)
        return _same_kind(one, other, kitchen)
    return _of_two_kinds(one, other, kitchen)


def _same_kind(one: Measure, other: Measure, kitchen: Kitchen) -> Outcome:
    kind, country = kind_of(one.unit), kitchen.country
    base = _SMALL[kind]
    sizes = [measured_in(measure.value, measure.unit, base, country) for measure in (one, other)]
    in_other = measured_in(one.value, one.unit, other.unit, country)
    same = f" ({value_text(in_other, other.unit)})" if one.unit != other.unit else ""
    figures = [_figure(one, in_other, other.unit, country)] if one.unit != other.unit else []
    if sizes[0] == sizes[1]:
        says = f"{amount_text(one)} and {amount_text(other)} are the same"
    else:
        word = {units.TEMPERATURE: ("hotter", "colder"), "time": ("longer", "shorter"), "length": ("longer", "shorter")}
        more, less = word.get(kind, ("more", "less"))
        apart = measured_in(abs(sizes[0] - sizes[1]), base, other.unit, country) if kind != units.TEMPERATURE else None
        step = other.unit
        if apart is not None and apart < 1 and step in _FINER:
            apart, step = units.to(apart, step, _FINER[step]), _FINER[step]
        by = f", by {value_text(apart, step)}" if apart is not None else ""
        says = f"{amount_text(one)}{same} is {more if sizes[0] > sizes[1] else less} than {amount_text(other)}{by}"
        if apart is not None:
            figures.append(_figure(one, apart, step, country, name="difference"))
    if not figures:
        figures = [_figure(measure, size, base, country) for measure, size in zip((one, other), sizes, strict=True)]
    return _told(one, other, says, figures, measure_notes((one.unit, other.unit), country))


def _units_of_one_kind(one: Measure, other: Measure, country: str) -> Outcome:
    """ "Difference between a tsp and a tbsp": how many of the smaller make the larger."""
    if measured_in(one.value, one.unit, other.unit, country) < other.value:
        one, other = other, one
    held = measured_in(one.value, one.unit, other.unit, country)
    figures = [_figure(one, held, other.unit, country)]
    says = f"{amount_text(one)} is {figures[0].shown}"
    return _told(one, other, says, figures, measure_notes((one.unit, other.unit), country))


def _of_two_kinds(one: Measure, other: Measure, kitchen: Kitchen) -> Outcome:
    """A weight and a volume: no two of them are the same but of a named thing, for which water stands."""
    country = kitchen.country
    figures, told = [], []
    for measure in (one, other):
        base = _SMALL[kind_of(measure.unit)]
        value = measured_in(measure.value, measure.unit, base, country)
        figures.append(_figure(measure, value, base, country))
        told.append(f"{amount_text(measure)} is a {_NAMES[kind_of(measure.unit)]} ({figures[-1].shown})")
    says = f"Not the same thing: {told[0]}, {told[1]}"
    notes = measure_notes((one.unit, other.unit), country)
    volume = next((measure for measure in (one, other) if kind_of(measure.unit) == "volume"), None)
    weight = next((measure for measure in (one, other) if kind_of(measure.unit) == "mass"), None)
    if volume is not None and weight is not None:
        water = data.seasonings()["water"].density
        assert water is not None
        grams = measured_in(volume.value, volume.unit, "ml", country) * water
        heavy = units.to(grams, "g", weight.unit)
        name = f"{amount_text(volume)} of water"
        figures.append(
            Figure(
                name,
                Role.CONVERSION,
                float(heavy),
                weight.unit,
                source="USDA SR28",
                shown=value_text(heavy, weight.unit),
            )
        )
        says += f". Of water, {amount_text(volume)} weighs {value_text(heavy, weight.unit)}"
    return _told(one, other, says, figures, notes)


def _figure(of: Measure, value: Fraction, unit: str, country: str, name: str = "") -> Figure:
    source = source_of(kind_of(unit), (of.unit, unit), country)
    shown = value_text(value, unit)
    return Figure(
        name or amount_text(of), Role.CONVERSION, float(value), table_unit(unit, country), source=source, shown=shown
    )


def _told(one: Measure, other: Measure, says: str, figures: Sequence[Figure], notes: Sequence[str]) -> Outcome:
    return Outcome(
        Answer(
            understood=f"Compare {amount_text(one)} and {amount_text(other)}",
            status=Status.ANSWERED,
            topic=NAME,
            headline=says,
            figures=tuple(figures),
            notes=tuple(notes),
        )
    )
