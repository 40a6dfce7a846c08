"""One heap of meat into patties of two sizes: as many of each, so many of one and the rest of the other, or either."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import two_sizes as engine
from assistant.engine.two_sizes import Shares
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, PerEach, Phrase, Scale, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.request import LOT, Group, Item, PattyWish, Plan
from assistant.topics.plan.restate import measure

NAME = "two_sizes"
_SAME_NUMBER = Pattern(r"\b(?:equal|same|identical) (?:numbers?|counts?|amounts?|quantit(?:y|ies)) of\b")
_HALF_THE_MEAT = Pattern(r"\bhalf (?:of )?(?:the |that |my )?(?:meat|mince|beef|it|batch)\b")
_REST = Pattern(r"\b(?:rest|remainder|remaining|left ?overs?|what(?:'s|s| is) left|others?|balance)\b")
_OR = Pattern(r"\bor\b|\bhow many\b.*\bhow many\b|\bversus\b|\bvs\b|\band how many\b")
_RANGE = Pattern(r"\bbetween\b|\bto\b")
_FEWEST_PATTIES = 3
"""The whole makes at least so many of the larger patty: else it is a third patty and no heap. A choice."""
_MOST = 100_000


class Way(StrEnum):
    """How the meat is shared between the two sizes."""

    SAME_NUMBER = "same number"
    REST = "rest"
    HALVES = "halves"
    EITHER = "either"


class TwoSizes(Struct, frozen=True):
    """So much meat, two sizes in the order of the line, and for REST how many of the first."""

    meat: Measure
    sizes: tuple[Measure, Measure]
    way: Way
    count: int = 0
    cut: str = ""
    keys: tuple[str, ...] = ()
    meat_of: heard.Meat = heard.Meat()


class _Size(Struct, frozen=True):
    """A weight of the line, the phrase that holds it, and a number said with it (0: none)."""

    phrase: Phrase
    measure: Measure
    count: int = 0
    number: Phrase | None = None


class TwoSizesTopic:
    """The topic of two sizes out of one heap."""

    name = NAME
    examples = ("10 kg into equal numbers of 100 g and 150 g burgers",)
    passes: frozenset[str] = frozenset(
        (
            *("equal", "split", "into", "mix", "how_many", "how_much", "want", "have", "what", "rest", "same_again"),
            *("left_with", "this", "left_over", "bigger", "smaller", "half_of_them", "make_it", "use_up", "add"),
        )
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Three weights, of which one is a heap, and how it is shared between the other two."""
        found = [_size_at(sentence, at) for at in range(len(sentence.phrases))]
        weights = [one for one in found if one is not None]
        if len(weights) != 3:
            return None
        whole = max(weights, key=lambda one: _grams(one.measure))
        one, other = (w for w in weights if w is not whole)
        largest = max(_grams(one.measure), _grams(other.measure))
        smallest = min(_grams(one.measure), _grams(other.measure))
        if whole.count or smallest <= 0 or _grams(whole.measure) < _FEWEST_PATTIES * largest:
            return None
        way = _way(sentence, one, other)
        cuts = sentence.of(CutName)
        if way is None or len(cuts) > 1:
            return None
        if way is Way.REST and other.count:
            one, other = other, one
        cut = cuts[0] if cuts else None
        taken = [w.phrase for w in weights] + [w.number for w in weights if w.number is not None]
        taken += [p for p in sentence.of(Patties) if p.count is None and p.each is None]
        taken += [p for p in sentence.of(People) if p.count is None and p.text.lower().endswith(" ones")]
        taken += [c for c in sentence.of(Count) if c.piece] if way is Way.HALVES else []
        left = [p for p in sentence.substance() if not isinstance(p, Word) and p not in taken and p is not cut]
        if left or sentence.has("composition", "cost"):
            return None
        each = [w for w in sentence.phrases if isinstance(w, Word) and w.kind == "pereach"]
        request = TwoSizes(
            whole.measure,
            (one.measure, other.measure),
            way,
            one.count if way is Way.REST else 0,
            cut.name if cut else "",
            cut.keys if cut else (),
            heard.meat(sentence),
        )
        return Reading(request, heard.all_of([*taken, cut, *each]), 3)

    def answer(self, request: Any, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """How many of each, and what is left."""
        wanted: TwoSizes = request
        speak = "us" if wanted.meat.unit in ("lb", "oz") else "metric"
        whole, (one, other) = _grams(wanted.meat), (_grams(size) for size in wanted.sizes)
        said = _said(wanted)
        if max(whole // one, whole // other) > _MOST:
            return verdict.told(NAME, said, "That is more patties than any kitchen makes.", status=Status.IMPOSSIBLE)
        if wanted.way is Way.EITHER:
            shares: Shares | None = Shares(int(whole // one), int(whole // other), Fraction(0))
        elif wanted.way is Way.SAME_NUMBER:
            shares = engine.same_number(whole, one, other)
        elif wanted.way is Way.HALVES:
            shares = engine.half_of_the_meat(whole, one, other)
        else:
            shares = engine.rest_into(whole, wanted.count, one, other)
        if shares is None:
            return _too_little(wanted, said, whole, one, speak)
        figures = _figures(wanted, shares, speak)
        counts = [
            f"{wording.counted(number, 'patty')} of {measure(size)}"
            for number, size in zip((shares.first, shares.second), wanted.sizes, strict=True)
        ]
        headline = wording.listing(counts, "or" if wanted.way is Way.EITHER else "and")
        if wanted.way is not Way.EITHER:
            headline += f"; {wording.both(shares.left, speak)} is left" if shares.left else "; nothing is left"
        plan = _plan(wanted, shares)
        told = verdict.told(
            NAME,
            said,
            f"{headline}.",
            figures=figures,
            cautions=verdict.with_meat(wanted.meat_of, kitchen, {"cook_temperature", "keep_cold"}),
            working=_working(wanted, whole, one, other, speak),
        )
        return Outcome(told.answer, plan=plan)


def _grams(weight: Measure) -> Fraction:
    return units.grams(weight.value, weight.unit)


def _size_at(sentence: Sentence, at: int) -> _Size | None:
    """The weight that a phrase holds, with the number that stands before it."""
    phrase = sentence.phrases[at]
    if isinstance(phrase, Patties) and phrase.each is not None and phrase.each.kind == "weight":
        number = phrase.count
        if number is not None and not _is_number(number):
            return None
        before = _number_before(sentence, at) if number is None else None
        count = int(number.value) if number is not None else before[0] if before else 0
        return _Size(phrase, phrase.each.measure, count, before[1] if before else None)
    if isinstance(phrase, Amount | PerEach) and phrase.kind == "weight" and phrase.measure.high is None:
        before = _number_before(sentence, at)
        return _Size(phrase, phrase.measure, *(before or (0, None)))
    return None


def _number_before(sentence: Sentence, at: int) -> tuple[int, Phrase] | None:
    """ "20 of them at 200 g", "12 burgers at 180 g", "15 x 200 g": how many are so heavy."""
    before = at - 1
    while before >= 0 and isinstance(word := sentence.phrases[before], Word):
        linking = word.kind in ("at", "of") or word.payload in ("this", "bigger", "smaller", "want")
        if not linking:
            return None
        before -= 1
    phrase = sentence.phrases[before] if before >= 0 else None
    if isinstance(phrase, Patties) and phrase.count is not None and phrase.each is None and _is_number(phrase.count):
        return int(phrase.count.value), phrase
    if isinstance(phrase, Scale) and phrase.factor.denominator == 1 and phrase.factor > 0:
        return int(phrase.factor), phrase
    return (int(phrase.value), phrase) if isinstance(phrase, Count) and _is_number(phrase) else None


def _is_number(count: Count) -> bool:
    plain = not count.piece and not count.proportion and count.high is None
    return plain and count.value.denominator == 1 and count.value > 0


def _way(sentence: Sentence, one: _Size, other: _Size) -> Way | None:
    """How the heap is shared; None where the line does not say, or says two things."""
    text = sentence.text.lower()
    counted = bool(one.count) + bool(other.count)
    if counted == 1 and _REST.search(text):
        return Way.REST
    if counted:
        return None
    if _SAME_NUMBER.search(text) and not _REST.search(text):
        return Way.SAME_NUMBER
    halves = [count for count in sentence.of(Count) if count.piece and count.value == Fraction(1, 2)]
    if _HALF_THE_MEAT.search(text) and (len(halves) == 2 or _REST.search(text) or sentence.has("rest")):
        return Way.HALVES
    between = text[min(one.phrase.last, other.phrase.last) : max(one.phrase.first, other.phrase.first)]
    asked = sentence.has("how_many") and _OR.search(text) is not None
    return Way.EITHER if asked and _RANGE.search(between) is None else None


def _said(wanted: TwoSizes) -> str:
    one, other = (measure(size) for size in wanted.sizes)
    meat = measure(wanted.meat) + (f" {wanted.cut}" if wanted.cut else "")
    if wanted.way is Way.REST:
        return f"{meat}: {wanted.count} patties of {one} and the rest at {other}"
    if wanted.way is Way.SAME_NUMBER:
        return f"{meat} into equal numbers of {one} and {other} patties"
    if wanted.way is Way.HALVES:
        return f"{meat}, half the meat in {one} patties, half in {other} patties"
    return f"How many {one} or {other} patties from {meat}"


def _figures(wanted: TwoSizes, shares: Shares, speak: str) -> list[Figure]:
    found = []
    for number, size in zip((shares.first, shares.second), wanted.sizes, strict=True):
        name = f"patties of {measure(size)}"
        found.append(Figure(name, Role.PATTY_COUNT, float(number), "count", shown=str(number)))
    meat = wording.both(_grams(wanted.meat), speak)
    found.append(Figure("meat", Role.TOTAL, float(wanted.meat.value), wanted.meat.unit, shown=meat))
    if shares.left:
        unit = wanted.sizes[1].unit
        left = float(units.to(shares.left, "g", unit))
        found.append(Figure("left over", Role.LEFT_OVER, left, unit, shown=wording.both(shares.left, speak)))
    return found


def _too_little(wanted: TwoSizes, said: str, whole: Fraction, one: Fraction, speak: str) -> Outcome:
    need = one * wanted.count
    unit = wanted.meat.unit
    figures = (
        Figure("meat needed", Role.TOTAL, float(units.to(need, "g", unit)), unit, shown=wording.both(need, speak)),
    )
    says = (
        f"{wanted.count} of {measure(wanted.sizes[0])} take {wording.both(need, speak)} and there is "
        f"{wording.both(whole, speak)}: it makes {int(whole // one)} of them."
    )
    return verdict.told(NAME, said, says, figures=figures, status=Status.IMPOSSIBLE)


def _working(wanted: TwoSizes, whole: Fraction, one: Fraction, other: Fraction, speak: str) -> tuple[str, ...]:
    heap, first, second = (wording.both(weight, speak) for weight in (whole, one, other))
    if wanted.way is Way.REST:
        left = whole - wanted.count * one
        return (f"{heap} less {wanted.count} x {first} leaves {wording.both(left, speak)}, over {second}.",)
    if wanted.way is Way.SAME_NUMBER:
        return (f"{heap} over {wording.both(one + other, speak)}, the weight of one of each.",)
    if wanted.way is Way.HALVES:
        return (f"{wording.both(whole / 2, speak)} over {first}, and as much over {second}.",)
    return (f"{heap} over {first}; {heap} over {second}.",)


def _plan(wanted: TwoSizes, shares: Shares) -> Plan:
    """What stands on the table after it: the lots, or the heap where it is to be one of the two."""
    items = (Item(wanted.cut, wanted.keys),) if wanted.cut else ()
    if wanted.way is Way.EITHER:
        return Plan(items=items, batch=wanted.meat, patties=PattyWish(size=wanted.sizes[0]))
    counts = zip((shares.first, shares.second), wanted.sizes, strict=True)
    groups = tuple(Group(Fraction(count), LOT, Fraction(1), size) for count, size in counts if count)
    return Plan(items=items, groups=groups)


TOPIC = TwoSizesTopic()
