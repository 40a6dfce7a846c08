"""Rates by weight in another manner: "18 g/kg as oz per lb", "22 g/kg as a percentage", "80/20 as lean percent"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Amount, Count, Fatness, Measure, Per, Phrase, Rate, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Outcome, Reading
from assistant.topics.convert.measures import kind_of
from assistant.topics.convert.reading import mentions_of
from assistant.topics.convert.request import NAME, Mention
from assistant.topics.convert.written import exact_text

_USUAL_PER: Final = {"g": "kg", "kg": "kg", "oz": "lb", "lb": "lb"}
"""What a rate in a unit is usually said of."""


class Rated(Struct, frozen=True):
    """A share by weight. said: as it was typed; share: weight for weight; unit: "percent" or a weight; per: of what
    weight; name: of the seasoning, where one was named."""

    said: str
    share: Fraction
    unit: str
    per: Measure | None = None
    name: str = ""


class Leanness(Struct, frozen=True):
    """A ratio of lean and fat that is wanted in percent."""

    fat: Fraction


class PartOf(Struct, frozen=True):
    """So many percent of a weight. unit: what the part is wanted in; part: as it was said, where in no percent."""

    percent: Fraction
    whole: Measure
    unit: str
    part: str = ""


def read_rate(sentence: Sentence) -> Reading | None:
    """One rate or percent, and the unit it is wanted in; a ratio wanted as lean and fat; or a percent of a weight."""
    found = _leanness(sentence) or _part_of(sentence) or _fraction_of(sentence)
    if found is not None:
        return found
    allowed = (Rate, Per, SeasoningName, Word, Amount)
    names, pers = sentence.of(SeasoningName), sentence.of(Per)
    shares = [*sentence.of(Rate), *sentence.of(Amount)]
    if len(shares) != 1 or len(names) > 1 or len(pers) > 1 or not all(isinstance(p, allowed) for p in sentence.phrases):
        return None
    share = _share(shares[0])
    mentions = mentions_of(sentence, percent=True)
    wanted = _wanted(mentions, pers)
    if share is None or wanted is None or any(name.key == "cure" for name in names):
        return None
    unit, per = wanted
    request = Rated(shares[0].text, share, unit, per, names[0].text.lower() if names else "")
    used = frozenset((shares[0], *names, *pers, *(mention.word for mention in mentions)))
    return Reading(request, used, 2)


def _share(phrase: Phrase) -> Fraction | None:
    """Weight for weight; None for a range, a price, a spoon or a plain weight."""
    if isinstance(phrase, Rate) and phrase.kind == "weight" and phrase.measure.high is None:
        base = units.grams(phrase.per.value, phrase.per.unit)
        return units.grams(phrase.measure.value, phrase.measure.unit) / base if base > 0 else None
    if isinstance(phrase, Amount) and phrase.kind == "percent" and phrase.measure.high is None:
        return phrase.measure.value / 100
    return None


def _wanted(mentions: Sequence[Mention], pers: Sequence[Per]) -> tuple[str, Measure | None] | None:
    wanted = [mention.unit for mention in mentions]
    if wanted == ["percent"] and not pers:
        return "percent", None
    if len(wanted) != 1 or kind_of(wanted[0]) != "mass":
        return None
    per = pers[0].per if pers else Measure(Fraction(1), _USUAL_PER.get(wanted[0], "kg"))
    return (wanted[0], per) if kind_of(per.unit) == "mass" else None


def _leanness(sentence: Sentence) -> Reading | None:
    fats = sentence.of(Fatness)
    words = [word for word in sentence.words("cue") if word.payload == "unit:percent"]
    if (
        len(fats) != 1
        or not fats[0].ratio
        or not words
        or any(not isinstance(p, Fatness | Word) for p in sentence.phrases)
    ):
        return None
    return Reading(Leanness(fats[0].fat), frozenset((fats[0], *words)), 2)


def _part_of(sentence: Sentence) -> Reading | None:
    """ "what's 1.25% of 3.7 kg", "1.5% of 5 lb in oz": nothing is named, so it is a sum and no seasoning."""
    amounts = sentence.of(Amount)
    between = sentence.after(amounts[0]) if len(amounts) == 2 else None
    if not (isinstance(between, Word) and between.kind == "of" and sentence.after(between) is amounts[1]):
        return None
    if [amount.kind for amount in amounts] != ["percent", "weight"] or any(
        not isinstance(phrase, Amount | Word) for phrase in sentence.phrases
    ):
        return None
    mentions = [mention for mention in mentions_of(sentence) if kind_of(mention.unit) == "mass"]
    whole = amounts[1].measure
    unit = mentions[0].unit if mentions else {"kg": "g", "lb": "oz"}.get(whole.unit, whole.unit)
    used = frozenset((*amounts, *(mention.word for mention in mentions)))
    return Reading(PartOf(amounts[0].measure.value, whole, unit), used, 2)


def _fraction_of(sentence: Sentence) -> Reading | None:
    """ "A third of 6 lb is how much", "what's two thirds of 900 g": of nothing named, and asked for outright."""
    counts, amounts = sentence.of(Count), sentence.of(Amount)
    asked = sentence.has("what", "how_much", "equals", "convert")
    if len(counts) != 1 or len(amounts) != 1 or amounts[0].kind not in ("weight", "volume") or not asked:
        return None
    count, amount = counts[0], amounts[0]
    of = sentence.after(count)
    if not (isinstance(of, Word) and of.kind == "of" and sentence.after(of) is amount):
        return None
    mentions = mentions_of(sentence)
    plain = all(isinstance(phrase, Amount | Count | Word) for phrase in sentence.phrases)
    if not plain or count.high is not None or not 0 < count.value < 1 or amount.measure.high is not None:
        return None
    if any(kind_of(mention.unit) != kind_of(amount.measure.unit) for mention in mentions):
        return None
    unit = mentions[0].unit if mentions else amount.measure.unit
    used = frozenset((count, amount, *(mention.word for mention in mentions)))
    return Reading(PartOf(count.value * 100, amount.measure, unit, count.text.lower()), used, 3)


def answer(request: Rated | Leanness | PartOf) -> Outcome:
    """The rate in the unit that is wanted; exact but for rounding."""
    if isinstance(request, PartOf):
        part = units.to(request.whole.value * request.percent / 100, request.whole.unit, request.unit)
        share = request.part or f"{exact_text(request.percent)}%"
        said = f"{share} of {exact_text(request.whole.value)} {request.whole.unit}"
        shown = f"{wording.number(part, 2)} {request.unit}"
        told = _figure(said, Role.CONVERSION, part, request.unit, shown)
        return _told(f"{said} in {request.unit}", f"{said} is {shown}", [told])
    if isinstance(request, Leanness):
        lean, fat = (f"{exact_text(value)}%" for value in (100 - request.fat, request.fat))
        figures = [
            _figure("lean", Role.LEAN, 100 - request.fat, "%", lean),
            _figure("fat", Role.FAT, request.fat, "%", fat),
        ]
        ratio = f"{exact_text(100 - request.fat)}/{exact_text(request.fat)}"
        return _told(f"{ratio} as lean percent", f"{ratio} is {lean} lean and {fat} fat", figures)
    if request.unit == "percent":
        value, unit, shown = request.share * 100, "%", f"{wording.number(request.share * 100, 3)}%"
        wish = "percent"
    else:
        assert request.per is not None
        value = units.to(request.share * units.grams(request.per.value, request.per.unit), "g", request.unit)
        unit = request.unit
        per = request.per.unit if request.per.value == 1 else f"{exact_text(request.per.value)} {request.per.unit}"
        shown = f"{wording.number(value, 3)} {request.unit} per {per}"
        wish = f"{request.unit} per {per}"
    of = f" {request.name}" if request.name else ""
    figure = _figure(f"{request.said}{of}", Role.CONVERSION, value, unit, shown)
    return _told(f"{request.said}{of} in {wish}", f"{request.said}{of} is {shown}", [figure])


def _figure(name: str, role: Role, value: Fraction, unit: str, shown: str) -> Figure:
    return Figure(name, role, float(value), unit, source="arithmetic, by weight", shown=shown)


def _told(understood: str, headline: str, figures: Sequence[Figure]) -> Outcome:
    return Outcome(
        Answer(understood=understood, status=Status.ANSWERED, topic=NAME, headline=headline, figures=tuple(figures))
    )
