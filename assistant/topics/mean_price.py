"""Meat bought at several prices: what a kilo or a pound of all of it cost."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Measure, Per, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.restate import measure

NAME: Final = "mean price"
_MEAN: Final = Pattern(
    r"\b(?:average|averages|averaged|mean|blended|overall|on the whole|all together|altogether|combined|mixed together)\b",
    re.IGNORECASE,
)
_EACH: Final = {"g": "kg", "kg": "kg", "oz": "lb", "lb": "lb"}


class Bought(Struct, frozen=True):
    """So much meat at a price; per: the weight that the money is for."""

    weight: Measure
    money: Measure
    per: Measure

    @property
    def cost(self) -> Fraction:
        """What all of it cost."""
        return self.money.value * _grams(self.weight) / _grams(self.per)


class MeanPriceTopic:
    """The topic of one price for what was bought at several."""

    name = NAME
    examples = ("3 kg at £11.20 a kilo and 1 kg at £7.50 a kilo, what is the average price?",)
    passes: frozenset[str] = frozenset(
        ("cost", "what", "works_out", "total", "together", "have", "mix", "this", "paid")
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Weights with a price each, and one price asked for all; cuts by their name are a batch's."""
        mean = _MEAN.search(sentence.text)
        if mean is None:
            return None
        bought, used = _bought(sentence)
        others = [p for p in sentence.phrases if not isinstance(p, Word | Per) and p not in used]
        if len(bought) < 2 or others or len({one.money.unit for one in bought}) != 1:
            return None
        words = [word for word in sentence.words("unknown") if mean.start() <= word.first < mean.end()]
        return Reading(tuple(bought), frozenset((*used, *words, *sentence.of(Per))), 3)

    def answer(self, request: tuple[Bought, ...], _kitchen: Kitchen, _talk: Talk) -> Outcome:
        """Money over weight, and what each lot adds to it."""
        whole = sum((_grams(one.weight) for one in request), Fraction(0))
        cost = sum((one.cost for one in request), Fraction(0))
        unit, currency = _EACH[request[0].weight.unit], request[0].money.unit
        said = wording.listing([f"{measure(one.weight)} at {_price(one)}" for one in request])
        if whole <= 0:
            return verdict.told("cost", said, "The meat has to weigh something.", status=Status.IMPOSSIBLE)
        mean = cost * units.grams(1, unit) / whole
        shown = f"{wording.money(mean, currency)}/{unit}"
        weight = Measure(whole / units.grams(1, unit), unit)
        figures = (
            Figure(f"average per {unit}", Role.PRICE, float(mean), currency, shown=shown),
            Figure("cost in all", Role.COST, float(cost), currency, shown=wording.money(cost, currency)),
            Figure("weight in all", Role.TOTAL, float(weight.value), unit, shown=measure(weight)),
        )
        headline = f"{shown}: {wording.money(cost, currency)} for {measure(weight)}."
        parts = " + ".join(f"{measure(one.weight)} x {_price(one)}" for one in request)
        return verdict.told(
            "cost",
            f"The average price of {said}",
            headline,
            figures=figures,
            working=(f"({parts}) / {measure(weight)}.",),
        )


TOPIC = MeanPriceTopic()


def _grams(weight: Measure) -> Fraction:
    return units.grams(weight.value, weight.unit)


def _price(one: Bought) -> str:
    return f"{wording.money(one.money.value, one.money.unit)}/{measure(one.per).removeprefix('1 ')}"


def _bought(sentence: Sentence) -> tuple[list[Bought], list[Phrase]]:
    """Each weight with the price after it: "3 kg at £11.20" is a price for each kilo, as at the counter."""
    found: list[Bought] = []
    used: list[Phrase] = []
    weight: Amount | None = None
    for phrase in sentence.phrases:
        if isinstance(phrase, Amount) and phrase.kind == "weight":
            weight = phrase
            continue
        priced = isinstance(phrase, Rate | Amount) and phrase.kind == "money" and weight is not None
        if not priced or weight is None or weight.measure.unit not in _EACH or weight.measure.high is not None:
            continue
        assert isinstance(phrase, Rate | Amount)
        per = phrase.per if isinstance(phrase, Rate) else Measure(Fraction(1), _EACH[weight.measure.unit])
        found.append(Bought(weight.measure, phrase.measure, per))
        used += [weight, phrase]
        weight = None
    return found, used
