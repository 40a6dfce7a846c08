"""A bill added up. The prices are the cook's own; nothing here is typical."""

from __future__ import annotations

import math
from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cost
from assistant.language.phrases import Measure
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.plan.restate import measure
from assistant.topics.plan.section import grams, in_unit
from assistant.topics.prices import telling
from assistant.topics.till.request import NAME, Bill, Priced


def answer(bill: Bill, kitchen: Kitchen) -> Outcome:
    """The bill, or a refusal where a price or a weight is nothing."""
    monies = [price.money for price in bill.prices] + ([bill.purse] if bill.purse is not None else [])
    currency = telling.currency([money.unit for money in monies], kitchen)
    if not currency:
        return verdict.told(NAME, "", telling.TWO_MONEYS, status=Status.NEEDS_DETAIL)
    weights = [price.per for price in bill.prices] + ([bill.weight] if bill.weight is not None else [])
    below = any(money.value <= 0 for money in monies) or any(weight.value <= 0 for weight in weights)
    if below or (bill.change is not None and bill.change <= -100):
        says = "The weights and the money all have to be above nothing."
        return verdict.told(NAME, _understood(bill, currency), says, status=Status.IMPOSSIBLE)
    sums = _Sums(bill, currency, "us" if weights[-1].unit in ("lb", "oz") else "metric")
    return sums.outcome()


def _rate(price: Priced, change: Fraction | None) -> Fraction:
    """Money per gram, with the rise or the discount."""
    return cost.per_gram(price.money.value, grams(price.per)) * (1 + (change or Fraction(0)) / 100)


class _Sums:
    """One bill worked out: figures, and what the headline says of them."""

    def __init__(self, bill: Bill, currency: str, speak: str) -> None:
        self.bill, self.currency, self.speak = bill, currency, speak
        self.rate = _rate(bill.prices[0], bill.change)
        self.figures: list[Figure] = []
        self.told: list[str] = []
        self.working: list[str] = []

    def outcome(self) -> Outcome:
        """The answer."""
        bill = self.bill
        if len(bill.prices) == 2 and bill.weight is None:
            self._cheaper()
        elif len(bill.prices) == 2 and bill.weight is not None:
            self._compared(grams(bill.weight))
        elif bill.prices[0].pack:
            self._packs(bill.prices[0])
        elif bill.weight is not None:
            self._all_told(grams(bill.weight), cost.price_for(self.rate, grams(bill.weight)))
        elif bill.purse is None:
            self._by_unit()
        else:
            self._for_the_purse(bill.purse.value)
        return verdict.told(
            NAME,
            _understood(bill, self.currency),
            "; ".join(self.told) + ".",
            figures=self.figures,
            notes=self._taken(),
            working=self.working,
        )

    def _money(self, name: str, amount: Fraction, role: Role = Role.COST) -> str:
        self.figures.append(telling.money(name, role, amount, self.currency))
        return wording.money(amount, self.currency)

    def _weight(self, name: str, weight: Fraction, role: Role = Role.TOTAL, unit: str = "") -> str:
        unit = unit or ("lb" if self.speak == "us" else "kg")
        shown = wording.both(weight, self.speak)
        self.figures.append(Figure(name, role, in_unit(weight, unit), unit, shown=shown))
        return shown

    def _cheaper(self) -> None:
        """Two prices by one weight."""
        per = self.bill.per or Measure(Fraction(1), "lb" if self.speak == "us" else "kg")
        found = [(price, cost.price_for(_rate(price, self.bill.change), grams(per))) for price in self.bill.prices]
        for price, by_unit in found:
            name = price.name or f"{wording.money(price.money.value, self.currency)} for {measure(price.per)}"
            self.told.append(f"{name} is {self._money(f'price per {per.unit}', by_unit, Role.PRICE)} per {per.unit}")
        (one, first), (other, second) = found
        if first == second:
            self.told.insert(0, "The same")
        else:
            less = one if first < second else other
            name = less.name or f"{wording.money(less.money.value, self.currency)} for {measure(less.per)}"
            self.told.insert(
                0, f"Cheaper is {name}, by {self._money('difference', abs(first - second))} per {per.unit}"
            )

    def _compared(self, weight: Fraction) -> None:
        found = [(price, cost.price_for(_rate(price, self.bill.change), weight)) for price in self.bill.prices]
        for price, total in found:
            name = price.name or wording.price(price.money.value, self.currency, price.per.unit)
            self.told.append(f"{name} {self._money(name, total)}")
        (_, first), (_, second) = found
        self.told.append(f"{self._money('difference', abs(first - second))} between them")

    def _packs(self, price: Priced) -> None:
        size, bill = grams(price.per), self.bill
        if bill.weight is None:
            if bill.packs is not None:
                weight = size * bill.packs
                self.told.append(f"{self._weight('meat', weight)} for {self._money('cost in all', self.rate * weight)}")
            self._by_unit()
            return
        packs = math.ceil(grams(bill.weight) / size)
        total = self.rate * size * packs
        self.figures.append(Figure("packs", Role.PURCHASE, float(packs), "count", shown=str(packs)))
        over = size * packs - grams(bill.weight)
        left = f", {self._weight('over', over, Role.LEFT_OVER)} over" if over else ""
        self.told.append(f"{wording.counted(packs, 'pack')} of {wording.both(size, self.speak)}{left}")
        self._all_told(size * packs, total)

    def _by_unit(self) -> None:
        per = self.bill.per or Measure(Fraction(1), "lb" if self.speak == "us" else "kg")
        shown = self._money(f"price per {per.unit}", cost.price_for(self.rate, grams(per)), Role.PRICE)
        self.told.append(f"{shown} per {measure(per).removeprefix('1 ')}")

    def _all_told(self, weight: Fraction, total: Fraction) -> None:
        bill = self.bill
        self.told.append(f"{self._money('cost in all', total)} for {wording.both(weight, self.speak)}")
        self.working.append(f"{wording.both(weight, self.speak)} at {self._a_unit()}.")
        if bill.heads:
            self.told.append(f"{self._money('cost per guest', cost.shared(total, int(bill.heads)))} a guest")
        if bill.per is not None or bill.change is not None:
            self._by_unit()
        if bill.purse is not None:
            self._against(bill.purse.value, total)

    def _against(self, purse: Fraction, total: Fraction) -> None:
        shown = wording.money(purse, self.currency)
        if total > purse:
            self.told.insert(0, f"No: {self._money('short', total - purse)} short of {shown}")
            enough = cost.mass_for_budget(purse, self.rate)
            self.told.append(f"{shown} buys {self._weight('meat for the money', enough)}")
        else:
            self.told.insert(0, f"Yes: {self._money('left of the money', total and purse - total)} left of {shown}")

    def _for_the_purse(self, purse: Fraction) -> None:
        meat = cost.mass_for_budget(purse, self.rate)
        shown = wording.money(purse, self.currency)
        heads, each = self.bill.heads, self.bill.each
        if heads:
            unit = "oz" if self.speak == "us" else "g"
            size = meat / (heads * each)
            self.told.append(f"{self._weight('each patty', size, Role.PATTY_WEIGHT, unit)} each at most")
        self.told.append(f"{shown} buys {self._weight('meat for the money', meat)}")
        self.working.append(f"{shown} at {self._a_unit()}.")

    def _a_unit(self) -> str:
        unit = "lb" if self.speak == "us" else "kg"
        return wording.price(cost.price_for(self.rate, telling.one(unit)), self.currency, unit)

    def _taken(self) -> tuple[str, ...]:
        price = self.bill.prices[0]
        if not price.assumed:
            return ()
        shown = wording.price(price.money.value, self.currency, price.per.unit)
        return (f"Taken as {shown}: say so if {wording.money(price.money.value, self.currency)} is for all of it.",)


def _understood(bill: Bill, currency: str) -> str:
    """The bill in words that read back."""
    told = []
    for price in bill.prices:
        money = wording.money(price.money.value, currency).replace(",", "")
        if price.pack:
            told.append(f"packs of {measure(price.per)} at {money} each")
        elif price.per.value == 1:
            told.append(f"{price.name} {money}/{price.per.unit}".strip())
        else:
            told.append(f"{money} for {measure(price.per)}")
    if bill.change is not None:
        told.append(f"{float(abs(bill.change)):g}% {'up' if bill.change > 0 else 'off'}")
    if bill.packs is not None:
        told.insert(0, f"{float(bill.packs):g} packs")
    if bill.weight is not None:
        told.append(f"{measure(bill.weight)} wanted")
    if bill.purse is not None:
        told.append(f"budget {wording.money(bill.purse.value, currency).replace(',', '')}")
    if bill.heads:
        told.append(f"{float(bill.heads):g} people, {float(bill.each):g} each")
    return "A bill: " + "; ".join(told)
