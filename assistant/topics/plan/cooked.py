"""Raw and cooked: what to shape raw for a weight on the plate, and what a raw weight leaves."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant import data, wording
from assistant.answer import Figure, Role
from assistant.engine import cook
from assistant.engine.ranged import Ranged
from assistant.topics.plan.request import PattyWish, Plan
from assistant.topics.plan.section import Section, grams, in_unit, weight_unit

DEFAULT_FAT = Fraction(20)
"""Percent of fat taken for size and shrinkage where the blend is not known; both change little with it."""


class Meat(Struct, frozen=True):
    """What the yield depends on: fat in percent (None: not known) and species."""

    fat: Fraction | None
    species: str


def fat_or_default(fat: Fraction | None) -> Fraction:
    """The fat, or the default where it is not known or no burger's."""
    return DEFAULT_FAT if fat is None or fat > 50 else fat


def yielded(plan: Plan, meat: Meat) -> cook.CookedYield:
    """Cooked weight in percent of raw: the cook's own loss if said, else the published table."""
    own = next((loss for loss in plan.losses if loss.where == "cooking" and loss.amount.unit == "percent"), None)
    if own is not None:
        return cook.CookedYield(Ranged(100 - own.amount.value), "your figure")
    rows = data.cooked_yields()
    kind = meat.species if meat.species in {row.species for row in rows} else "beef"
    fat = fat_or_default(meat.fat if meat.fat is not None else plan.target)
    found = cook.cooked_yield(rows, fat, "broiled", kind)
    if found is None:
        found = cook.cooked_yield(rows, DEFAULT_FAT, "broiled", "beef")
    assert found is not None
    return found


def raw_for_plate(plan: Plan, wish: PattyWish, meat: Meat, speak: str) -> Section:
    """What to shape for a patty that weighs so much on the plate."""
    assert wish.size is not None
    found = yielded(plan, meat)
    cooked = grams(wish.size)
    if found.percent.value <= 0:
        return Section(impossible=True, message="With all of it lost in the pan nothing would be left to eat.")
    raw = cook.raw_for_cooked(cooked, found.percent)
    figures: tuple[Figure, ...] = (
        _figure("raw patty", Role.PATTY_WEIGHT, raw, wish.size.unit, found, speak),
        _share(found),
    )
    headline = f"Shape {wording.both(raw.value, speak)} raw for {wording.both(cooked, speak)} cooked."
    total = None
    if wish.count is not None:
        total = raw.value * wish.count
        unit = weight_unit(plan, speak, total) if plan.batch else ("lb" if speak == "us" else "kg")
        figures += (_figure("meat", Role.TOTAL, _times(raw, wish.count), unit, found, speak),)
        headline = headline[:-1] + f"; {wording.both(total, speak)} of meat for {wording.number(wish.count, 0)}."
    return Section(
        headline=headline,
        figures=figures,
        notes=_notes(plan, found, meat),
        grams=total,
        working=(f"Raw = cooked / yield: {wording.both(cooked, speak)} / {wording.percent(found.percent.value)}.",),
    )


def plate_for_raw(plan: Plan, raw: Fraction, unit: str, meat: Meat, speak: str) -> Section:
    """What so many grams of raw meat weigh once cooked, told in the unit that was said."""
    found = yielded(plan, meat)
    cooked = cook.cooked_from_raw(raw, found.percent)
    return Section(
        headline=f"{wording.both(raw, speak)} raw comes to about {wording.both(cooked.value, speak)} cooked.",
        figures=(
            _figure("cooked", Role.COOKED_WEIGHT, cooked, unit, found, speak),
            _share(found),
        ),
        notes=_notes(plan, found, meat),
        working=(f"Cooked = raw x yield: {wording.both(raw, speak)} x {wording.percent(found.percent.value)}.",),
    )


def batch_for_plate(plan: Plan, cooked: Fraction, unit: str, meat: Meat, speak: str) -> Section:
    """How much raw meat makes so many grams cooked."""
    found = yielded(plan, meat)
    if found.percent.value <= 0:
        return Section(impossible=True, message="With all of it lost in the pan nothing would be left to eat.")
    raw = cook.raw_for_cooked(cooked, found.percent)
    return Section(
        headline=f"Start with {wording.both(raw.value, speak)} raw for {wording.both(cooked, speak)} cooked.",
        figures=(_figure("raw meat", Role.TOTAL, raw, unit, found, speak), _share(found)),
        notes=_notes(plan, found, meat),
        grams=raw.value,
        working=(f"Raw = cooked / yield: {wording.both(cooked, speak)} / {wording.percent(found.percent.value)}.",),
    )


def _times(raw: Ranged[Fraction], count: Fraction) -> Ranged[Fraction]:
    low = None if raw.low is None else raw.low * count
    return Ranged(raw.value * count, low, None if raw.high is None else raw.high * count)


def _figure(name: str, role: Role, mass: Ranged[Fraction], unit: str, found: cook.CookedYield, speak: str) -> Figure:
    low, high = (None if end is None else in_unit(end, unit) for end in (mass.low, mass.high))
    shown = wording.both(mass.value, speak)
    return Figure(name, role, in_unit(mass.value, unit), unit, low, high, source=found.source, shown=shown)


def _share(found: cook.CookedYield) -> Figure:
    low, high = (None if end is None else float(end) for end in (found.percent.low, found.percent.high))
    shown = wording.percent(found.percent.value)
    return Figure(
        "cooked yield", Role.YIELD, float(found.percent.value), "%", low, high, source=found.source, shown=shown
    )


def _notes(plan: Plan, found: cook.CookedYield, meat: Meat) -> tuple[str, ...]:
    span = ""
    if found.percent.low is not None and found.percent.high is not None:
        span = f", {wording.percent_range(found.percent.low, found.percent.high)} measured"
    notes: tuple[str, ...] = (
        f"Cooked weight taken as {wording.percent(found.percent.value)} of raw ({found.source}{span}).",
    )
    if meat.fat is None and plan.target is None and found.source != "your figure":
        notes += (f"The blend was not said: taken as {wording.lean_fat(DEFAULT_FAT)}.",)
    return notes
