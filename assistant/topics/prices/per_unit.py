"""What a weight that was paid for comes to by the pound, the kilogram or the patty."""

from __future__ import annotations

from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cost
from assistant.language.phrases import Amount, CutName, Fatness, Measure, Patties, People, Per, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.prices import telling
from assistant.topics.prices.request import Paid

_UNITS = ("lb", "kg", "oz", "g")


def read(sentence: Sentence) -> tuple[Paid, frozenset[Phrase]] | None:
    """One sum for one weight, and a unit or a patty to tell it by; None where there is more, or less, in the line."""
    if any(isinstance(phrase, Rate | Fatness | People) for phrase in sentence.phrases) or len(sentence.of(CutName)) > 1:
        return None
    sums = [amount for amount in sentence.of(Amount) if amount.kind == "money"]
    weights = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
    patties = [each for each in sentence.of(Patties) if each.count is None and each.each is not None]
    if len(sums) != 1 or len(patties) != len(sentence.of(Patties)) or len(patties) > 1:
        return None
    # "$18 for 2.4 kg, how much a kilo": the one kilo after the sum is what it is to be told by
    asked = [weight for weight in weights if weight.measure.value == 1 and weight is weights[-1] and len(weights) == 2]
    bought = [weight for weight in weights if weight not in asked]
    if len(bought) != 1:
        return None
    units_said = [*(per.per for per in sentence.of(Per)), *(one.measure for one in asked), *_bare_units(sentence)]
    if len(units_said) + len(patties) == 0 or len(units_said) > 1:
        return None
    portion = patties[0].each.measure if patties and patties[0].each is not None else None
    paid = Paid(bought[0].measure, sums[0].measure, units_said[0] if units_said else None, portion)
    used = heard.all_of([*sums, *weights, *patties, *sentence.of(Per), *sentence.of(CutName)])
    return paid, used | frozenset(word for word in sentence.words("pereach") if patties)


def again(sentence: Sentence, paid: Paid) -> tuple[Paid, frozenset[Phrase]] | None:
    """ "and per third-pounder?", "what's that a kilo": the same meat and money, told by another unit or patty."""
    patties = [each for each in sentence.of(Patties) if each.count is None and each.each is not None]
    units_said = [*(per.per for per in sentence.of(Per)), *_bare_units(sentence)]
    figures = [p for p in sentence.substance() if not isinstance(p, Word | Per) and p not in patties]
    asked = bool(sentence.words("pereach")) or bool(units_said)
    if figures or not asked or len(patties) + len(units_said) != 1:
        return None
    portion = patties[0].each.measure if patties and patties[0].each is not None else None
    used = heard.all_of([*patties, *sentence.of(Per), *sentence.words("pereach")])
    return Paid(paid.weight, paid.money, units_said[0] if units_said else None, portion), used


def _bare_units(sentence: Sentence) -> list[Measure]:
    """ "price per kilo": the unit stands without an amount."""
    named = [cue.removeprefix("unit:") for cue in sentence.cues if cue.startswith("unit:")]
    return [Measure(Fraction(1), unit) for unit in named if unit in _UNITS]


def answer(paid: Paid, kitchen: Kitchen) -> Outcome:
    """The price by the unit that was asked for, and of the patty."""
    currency = telling.currency([paid.money.unit], kitchen)
    bought = telling.grams(paid.weight)
    system = "us" if telling.unit_of([paid.weight], kitchen) == "lb" else "metric"
    understood = f"What {wording.weight(bought, system)} for {wording.money(paid.money.value, currency)} comes to"
    if bought <= 0 or paid.money.value <= 0:
        says = "The weight and the money both have to be above nothing."
        return verdict.told(telling.TOPIC_NAME, understood, says, status=Status.IMPOSSIBLE)
    per_gram = paid.money.value / bought
    figures: list[Figure] = []
    said: list[str] = []
    if paid.per is not None:
        name = paid.per.unit if paid.per.value == 1 else f"{wording.number(paid.per.value)} {paid.per.unit}"
        price = cost.price_for(per_gram, telling.grams(paid.per))
        figures.append(telling.money(f"price per {name}", Role.PRICE, price, currency))
        said.append(wording.price(price, currency, name))
    if paid.portion is not None:
        each = cost.price_for(per_gram, telling.grams(paid.portion))
        figures.append(telling.money("cost per patty", Role.COST, each, currency))
        size = wording.weight(telling.grams(paid.portion), system)
        said.append(f"{wording.money(each, currency)} for each {size}")
    return verdict.told(
        telling.TOPIC_NAME,
        understood,
        f"{wording.listing(said).capitalize()}.",
        figures=figures,
        working=(f"{wording.money(paid.money.value, currency)} over {wording.weight(bought, system)}.",),
    )
