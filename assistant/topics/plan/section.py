"""One part of an answer: the figures it adds, the line it puts first, what to do, and how it was worked out."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec import Struct, field

from assistant import units, wording
from assistant.answer import Figure
from assistant.language.phrases import Measure
from assistant.topics.plan.request import Plan


class Section(Struct, frozen=True):
    """headline first on the screen; figures; steps; notes; working for "why".

    grams: the weight of the batch as this section leaves it (None: it says nothing of it). fat, low, high: percent.
    impossible: the request is understood and cannot be done; asks: a detail is missing (the question is in message).
    """

    headline: str = ""
    figures: tuple[Figure, ...] = ()
    steps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    grams: Fraction | None = None
    fat: Fraction | None = None
    low: Fraction | None = None
    high: Fraction | None = None
    cost: Fraction | None = None
    message: str = ""
    impossible: bool = False
    asks: str = ""
    touches: frozenset[str] = field(default_factory=frozenset)


def grams(measure: Measure) -> Fraction:
    """A weight in grams, exactly."""
    return units.grams(measure.value, measure.unit)


def system(plan: Plan, default: str) -> str:
    """The unit system to speak first: the cook's own words, else the setting."""
    if plan.units:
        return plan.units
    for unit in _units_said(plan):
        if unit in ("lb", "oz", "stone", "inch"):
            return "us"
        if unit in ("g", "kg", "mg", "cm", "mm"):
            return "metric"
    return default


def _units_said(plan: Plan) -> Iterable[str]:
    measures = [plan.batch, *(item.weight for item in plan.items), plan.patties.size if plan.patties else None]
    measures += [group.size for group in plan.groups]
    measures += [item.price.per for item in plan.items if item.price is not None]
    measures += [*(plan.pair or ()), plan.pack, plan.aside, plan.bowl]
    measures += [pinch.per for pinch in plan.seasonings] + [plan.recipe_for]
    if plan.patties is not None:
        measures += [plan.patties.bun, plan.patties.diameter, plan.patties.thickness]
    return [measure.unit for measure in measures if measure is not None]


def weight_unit(plan: Plan, default: str, mass: Fraction) -> str:
    """The unit for a weight in the data: the one said for the batch, else lb or kg by system."""
    measure = plan.batch or next((item.weight for item in plan.items if item.weight is not None), None)
    if measure is not None and measure.unit in ("lb", "oz", "g", "kg"):
        return measure.unit
    if system(plan, default) == "us":
        return "lb"
    return "kg" if mass >= 1000 else "g"


def in_unit(mass: Fraction, unit: str) -> float:
    """Grams as a number in another weight unit, full precision."""
    return float(units.to(mass, "g", unit))


def listed(names: Iterable[str]) -> str:
    """a, b and c."""
    return wording.listing(list(names))
