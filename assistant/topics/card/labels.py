"""A label for a pack: what, lean to fat, weight, the day it was made, use by, and how hot to cook it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from msgspec import Struct

from assistant import data, units, wording
from assistant.answer import Figure, Role
from assistant.engine.safety import Keeps, Where, endpoint, keeps, use_by
from assistant.topics.base import Kitchen
from assistant.topics.card import pages
from assistant.topics.card.request import Paper
from assistant.topics.plan import mass
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import system

WIDTH = 28
"""Letters on a line: what a narrow label, about 2 1/4 in (57 mm) wide, takes. From memory."""


class Label(Struct, frozen=True):
    """lines as they are printed; packs: how many of them are needed; figures and notes that tell the same."""

    lines: tuple[str, ...]
    packs: int
    figures: tuple[Figure, ...]
    notes: tuple[str, ...]


def label_of(plan: Plan, figures: Sequence[Figure], kitchen: Kitchen, paper: Paper) -> Label | None:
    """The label for a batch; None where nobody said how much it is. figures: the answer's to the batch.

    The earlier date of the range in the storage table is printed: whoever reads a label should be on the safe side.
    """
    speak = system(plan, kitchen.units)
    whole = _grams(figures) or mass.wanted(plan, speak) or mass.weighed(plan)
    if whole is None:
        return None
    each = min(paper.pack_g or whole, whole)
    today = kitchen.now().date()
    food, place, reads = _food(plan), Where.FRIDGE if paper.fridge else Where.FREEZER, _reads(kitchen, paper)
    kept = keeps(food, place, reads)
    until = None if kept.low is None else use_by(today, food, place, reads)[0]
    weight = wording.both(each, speak)
    lines = (
        _what(plan).upper(),
        _ratio(figures, plan),
        weight,
        f"Made {wording.short_day(today, today.year)}",
        "Use by: no date holds" if until is None else f"Use by {wording.short_day(until, until.year)}",
        _cooked(plan, kitchen),
    )
    facts = [Figure("pack", Role.TOTAL, float(each), "g", shown=weight)]
    if until is not None:
        facts.append(
            Figure("use by", Role.DATE, until.isoformat(), "date", source=kept.authority, shown=wording.day(until))
        )
    return Label(
        lines=pages.broken(tuple(line for line in lines if line), WIDTH),
        packs=math.ceil(whole / each),
        figures=tuple(facts),
        notes=(_of_keeping(kept, until),),
    )


def _grams(figures: Sequence[Figure]) -> Fraction | None:
    totals = [f for f in figures if f.role is Role.TOTAL]
    return units.grams(Fraction(totals[0].value), totals[0].unit) if totals else None


def _what(plan: Plan) -> str:
    names = list(dict.fromkeys(item.name for item in plan.items))
    return f"Ground {' + '.join(names)}" if names else "Ground meat"


def _ratio(figures: Sequence[Figure], plan: Plan) -> str:
    """Lean to fat: of the answer, else as it was said, else of the one cut."""
    told = next((f.value for f in figures if f.role is Role.FAT and f.unit == "%"), None)
    fat = plan.target if told is None else Fraction(told).limit_denominator(1000)
    if fat is None and len(plan.items) == 1:
        item = plan.items[0]
        fat = item.fat if item.fat is not None else data.cuts()[item.keys[0]].fat if len(item.keys) == 1 else None
    return "" if fat is None else f"{wording.lean_fat(fat, 0)} lean:fat"


def _food(plan: Plan) -> str:
    """The row of the storage table: what is seasoned or holds cured meat keeps as sausage does, which is shorter."""
    rows = data.cuts()
    cured = any(rows[key].kind in ("cured", "seasoned") for item in plan.items for key in item.keys if key in rows)
    return "raw sausage" if cured or plan.seasonings or plan.salted else "ground meat"


def _reads(kitchen: Kitchen, paper: Paper) -> Fraction | None:
    """What the freezer of this kitchen is set to, in Fahrenheit; None where nobody said."""
    set_to = kitchen.settings.get("freezer_celsius")
    return units.to(Fraction(set_to), "degC", "degF") if set_to and not paper.fridge else None


def _cooked(plan: Plan, kitchen: Kitchen) -> str:
    rows = data.cuts()
    species = {rows[key].species for item in plan.items for key in item.keys if key in rows}
    needed = endpoint(species or {"beef", "pork"}, kitchen.country)
    hold = f", {wording.duration(Fraction(needed.hold_seconds, 60))}" if needed.hold_seconds else ""
    return f"Raw. Cook to {wording.number(needed.f)} F ({wording.number(needed.c)} C){hold}"


def _of_keeping(kept: Keeps, until: date | None) -> str:
    if until is None:
        return f"Your {kept.where.value} is warmer than {kept.limit.f} °F ({kept.limit.c} °C): no date holds there."
    span = f"{kept.low} to {kept.high} {wording.plural_of(kept.unit)}"
    if kept.unit == "month":
        return (
            f"Keeps {span} at 0 °F (-18 °C) or colder; in the freezer that is about quality. Source: {kept.authority}."
        )
    return f"Keeps {span} in the fridge at 40 °F (4 °C) or colder. Source: {kept.authority}."
