"""What the answers about prices share: figures of money, the unit to tell prices in, the fat of a meat."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Measure
from assistant.topics.base import Kitchen
from assistant.topics.plan import meat
from assistant.topics.plan.own import own_fats
from assistant.topics.plan.request import Item, Plan
from assistant.topics.prices.offers import Offer

TOPIC_NAME = "cost"
"""Of the answers, whichever question about money was asked."""
TWO_MONEYS = "Those are two currencies, and I never convert money. Give all prices in one."


def money(
    name: str, role: Role, amount: Fraction, currency: str, ends: tuple[Fraction, Fraction] | None = None
) -> Figure:
    """A sum or a price as a figure, with its range where it has one."""
    low, high = (None, None) if ends is None or ends[0] == ends[1] else (float(ends[0]), float(ends[1]))
    return Figure(name, role, float(amount), currency, low, high, shown=wording.money(amount, currency))


def currency(said: Iterable[str], kitchen: Kitchen) -> str:
    """The one currency of a line, the country's own where none was said; "" where there are two."""
    named = {code for code in said if code}
    if len(named) > 1:
        return ""
    return next(iter(named), wording.HOME_CURRENCY.get(kitchen.country, "USD"))


def unit_of(measures: Iterable[Measure | None], kitchen: Kitchen) -> str:
    """ "lb" or "kg": the unit to tell prices in, by the first weight that was said."""
    for measure in measures:
        if measure is not None:
            return "kg" if measure.unit in ("g", "kg", "mg") else "lb"
    return "lb" if kitchen.units == "us" else "kg"


def one(unit: str) -> Fraction:
    """Grams in a pound or kilogram."""
    return units.grams(1, unit)


def grams(measure: Measure) -> Fraction:
    """A weight in grams."""
    return units.grams(measure.value, measure.unit)


def fat_of(offer: Offer, kitchen: Kitchen) -> meat.Meat | meat.Doubt:
    """The fat of a meat, by its label, the cook's own figure or the table; or the question about it."""
    name = offer.name or "mince"
    item = Item(name, offer.keys, fat=offer.fat)
    meats, doubt = meat.find(Plan(items=(item,)), kitchen.country, {}, own_fats(kitchen))
    return doubt if doubt is not None else meats[0]


def called(offer: Offer) -> str:
    """A meat as it is told of: "12% mince", "the shop's 80/20", "chuck"."""
    if offer.shop:
        return "the shop's " + (wording.lean_fat(offer.fat) if offer.fat is not None else offer.name or "mince")
    name = offer.name or "mince"
    return f"{wording.percent(offer.fat)} {name}" if offer.fat is not None and "%" not in name else name
