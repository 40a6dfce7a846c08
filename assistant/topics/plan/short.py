"""Short changes of the batch on the table that are told by more than a figure: another unit for the same number, a rate by
itself, those who do not eat, the big ones of two sizes, a seasoning by half of its name."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Count, Measure, Patties, People, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Unclear
from assistant.topics.plan import merge
from assistant.topics.plan.choice import Choice, Option
from assistant.topics.plan.request import Group, Pinch, Plan

_MASSES = ("unit:kg", "unit:g", "unit:lb", "unit:oz")
_NO_MEAT = Pattern(
    r"\b(of (them|em|those|us)|are|wont|won't|dont|don't)\b.*"
    r"\b(veggies?|vegetarians?|vegans?|eat (meat|any|one|burgers)|not eating|not coming|come|cancelled|dropp(ed|ing) out|bailed)\b"
)
"""Some of the people do not come, or eat no meat."""
_BIG, _SMALL = Pattern(r"\b(big|bigger|large|larger|heavy|heavier)\b"), Pattern(r"\b(small|smaller|little|light)\b")
_COMING = Pattern(r"\b(come|comes|came|coming|turn up|turned up|show up|showed up|say yes|said yes|accept)\b")
_GONE = Pattern(r"\b(cancel|dropp|bail|cried off|pulled out|can'?t|cannot|won'?t|not coming|ill|sick|away|out|left)")
_NEAR = Fraction(5)
"""How many times more or fewer people may come than were planned for: beyond it, the number is another figure's."""


def other_unit(plan: Plan, sentence: Sentence) -> tuple[Plan, tuple[Phrase, ...]] | None:
    """ "It's 10 kg not lb": the same number of the batch in the unit that was meant."""
    weights = [p for p in sentence.of(Amount) if p.kind == "weight"]
    names = [p for p in sentence.words("cue") if p.payload in _MASSES]
    batch = plan.batch
    if batch is None or len(weights) != 1 or len(names) != 1 or not sentence.has("not"):
        return None
    said, wrong = weights[0].measure, names[0].payload.removeprefix("unit:")
    if said.value != batch.value or wrong != batch.unit or said.unit == wrong:
        return None
    return merge.resized(plan, replace(batch, unit=said.unit)), (weights[0], names[0])


def fewer_eat(plan: Plan, sentence: Sentence) -> tuple[Plan, tuple[Phrase, ...]] | None:
    """ "A fifth of them are veggie", "20% won't come": so many fewer of every group."""
    shares = [p for p in sentence.phrases if (part := _share(p)) is not None and 0 < part < 1]
    text = sentence.text.lower()
    if len(shares) != 1 or not plan.groups or _NO_MEAT.search(text) is None:
        return None
    others = [p for p in sentence.of(Amount) + sentence.of(Count) if p is not shares[0]]
    if others:
        return None
    part = _share(shares[0])
    assert part is not None
    groups = tuple(replace(group, count=_rounded(group.count * (1 - part))) for group in plan.groups)
    return replace(plan, groups=groups), (shares[0], *sentence.of(People))


def _share(phrase: Phrase) -> Fraction | None:
    if isinstance(phrase, Count) and phrase.piece:
        return phrase.value
    if isinstance(phrase, Amount) and phrase.kind == "percent":
        return phrase.measure.value / 100
    return None


def _rounded(people: Fraction) -> Fraction:
    """Whole people: a part of one still eats."""
    return Fraction(-(-people.numerator // people.denominator))


def come(plan: Plan, sentence: Sentence) -> tuple[Plan, tuple[Phrase, ...]] | None:
    """ "What if 190 come": another number of people, all else as it was."""
    numbers = [p for p in sentence.of(Count) if not p.piece]
    figures = [p for p in sentence.phrases if isinstance(p, Amount | Count | Rate)]
    if len(numbers) != 1 or len(figures) != 1 or len(plan.groups) != 1 or sentence.of(People):
        return None
    value, known = numbers[0].value, plan.groups[0].count
    if not _COMING.search(sentence.text.lower()) or sentence.has("bigger", "smaller", "add", "fewer", "not"):
        return None
    if value.denominator != 1 or value <= 0 or not 1 / _NEAR <= value / known <= _NEAR:
        return None
    return replace(plan, groups=(replace(plan.groups[0], count=value),)), (numbers[0],)


def told_why(plan: Plan, sentence: Sentence) -> tuple[Plan, tuple[Phrase, ...]] | None:
    """ "Make it 16 because 4 cancelled", of twenty: two numbers that come to the people there were."""
    numbers = [p for p in sentence.of(Count) if not p.piece]
    if len(numbers) != 2 or len(plan.groups) != 1 or _GONE.search(sentence.text.lower()) is None:
        return None
    stay, gone = sorted(numbers, key=lambda number: number.value, reverse=True)
    if stay.value + gone.value != plan.groups[0].count:
        return None
    return replace(plan, groups=(replace(plan.groups[0], count=stay.value),)), (stay, gone)


def of_one_size(plan: Plan, sentence: Sentence) -> tuple[Plan, tuple[Phrase, ...]] | None:
    """ "Make the big ones 170 g": of two sizes of patty the heavier or the lighter."""
    weights = [p for p in sentence.phrases if (size := _size(p)) is not None]
    sized = [group for group in plan.groups if group.size is not None]
    text = sentence.text.lower()
    big, small = _BIG.search(text) is not None, _SMALL.search(text) is not None
    if len(weights) != 1 or len(sized) < 2 or len(sized) != len(plan.groups) or big == small:
        return None
    chosen = (max if big else min)(sized, key=_grams_each)
    if any(group is not chosen and _grams_each(group) == _grams_each(chosen) for group in sized):
        return None
    size = _size(weights[0])
    groups = tuple(replace(group, size=size) if group is chosen else group for group in plan.groups)
    return replace(plan, groups=groups), (weights[0],)


def _size(phrase: Phrase) -> Measure | None:
    if isinstance(phrase, Amount) and phrase.kind == "weight":
        return phrase.measure
    each = getattr(phrase, "each", None)
    return each.measure if isinstance(each, Amount) and each.kind == "weight" else None


def _grams_each(group: Group) -> Fraction:
    assert group.size is not None
    return units.grams(group.size.value, group.size.unit)


def left_out(plan: Plan, names: tuple[str, ...]) -> tuple[str, ...] | Unclear:
    """Names of seasonings to leave out as the mix has them: "the garlic" is its garlic powder, if only one is meant."""
    found: list[str] = []
    for name in names:
        fitting = _meant(plan.seasonings, name)
        if len(fitting) > 1:
            return Unclear(f"Which {name} shall go: " + " or ".join(pinch.name for pinch in fitting) + "?")
        found.append(fitting[0].name if fitting else name)
    return tuple(found)


def _meant(pinches: tuple[Pinch, ...], name: str) -> list[Pinch]:
    exact = [pinch for pinch in pinches if pinch.name == name]
    words = set(name.split())
    return exact or [pinch for pinch in pinches if words < set(pinch.name.split())]


def which_unit(new: Plan, old: Plan, missing: str, sentence: Sentence, kept: str) -> Choice | None:
    """A bare "5" after "how much do you want to make": pounds or kilos. kept: the kitchen's units, where they were set."""
    numbers = [p for p in sentence.of(Count) if not p.piece and not p.proportion and p.high is None]
    if missing != "weight" or not old.items or new.batch is not None or len(numbers) != 1:
        return None
    if len(list(sentence.substance())) > 1 or numbers[0].value <= 0:
        return None
    value = numbers[0].value
    pounds, kilos = (replace(old, batch=Measure(value, unit)) for unit in ("lb", "kg"))
    options = (
        Option(f"{numbers[0].text} lb", frozenset(("lb", "lbs", "pound", "pounds")), pounds),
        Option(f"{numbers[0].text} kg", frozenset(("kg", "kilo", "kilos", "kilograms")), kilos),
    )
    first, second = reversed(options) if kept == "metric" else options
    return Choice(f"{first.label} or {second.label}?", (first, second))


def accounted(sentence: Sentence, taken: tuple[Phrase, ...]) -> frozenset[Phrase]:
    """What such a line accounts for: its figures, the people and patties it names, and the words that lead to them."""
    words = (
        p for p in sentence.phrases if isinstance(p, People | Patties) or (isinstance(p, Word) and p.kind == "cue")
    )
    return frozenset((*taken, *words))
