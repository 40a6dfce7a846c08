"""How much is made for a meal: the figures of the batch where it has them all, else with a size taken for granted."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine.timetable import MOST_PATTIES
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Talk, ended
from assistant.topics.plan import Amended, mass
from assistant.topics.plan.answers import reopened
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import grams, in_unit, system

_SHOWN = (Role.COMPONENT, Role.PATTY_COUNT, Role.PATTY_WEIGHT, Role.TOTAL, Role.PURCHASE)
"""Roles of the batch's figures that a timetable repeats."""


class Amounts(Struct, frozen=True):
    """What is made: how many patties, grams of meat in all, and the figures and notes of the batch that say so.

    amends: the batch of before, changed.
    """

    plan: Plan
    count: int
    grams: Fraction
    figures: tuple[Figure, ...]
    notes: tuple[str, ...]
    amends: bool = False

    @property
    def species(self) -> frozenset[str]:
        """The species of every part of the batch; empty where no cut was named."""
        rows = data.cuts()
        keyed = {rows[key].species for item in self.plan.items for key in item.keys if key in rows}
        return frozenset(keyed) | frozenset(word for word in self.plan.species if word)


def of_batch(request: Any, kitchen: Kitchen, talk: Talk) -> Amounts | Outcome | None:
    """The amounts of a batch; what the batch itself has to ask or refuse; None where it says no amount at all.

    The notes of a batch that is on the table already were told with it.
    """
    if not isinstance(request, Plan | Amended):
        # the batch could be one or another, and asks which
        return within.answered(request, kitchen, talk)
    amends = isinstance(request, Amended)
    plan = reopened(request.plan if isinstance(request, Amended) else request)
    outcome = within.answered(plan, kitchen, talk)
    if outcome.answer.status is Status.IMPOSSIBLE:
        return outcome
    if outcome.pending is not None and outcome.pending.missing.startswith("cut:"):
        return outcome
    answered = outcome.answer.status is Status.ANSWERED
    figures = tuple(f for f in outcome.answer.figures if f.role in _SHOWN) if answered else ()
    notes = outcome.answer.notes if answered and request != talk.plan else ()
    plan = outcome.plan or plan
    count, whole = _count(figures), _grams(figures)
    speak = system(plan, kitchen.units)
    if count is None and plan.patties is not None and plan.patties.count is not None:
        count = int(mass.with_spare(plan.patties.count, plan))
    if whole is None:
        whole = mass.wanted(plan, speak) or mass.weighed(plan)
    if whole is None and count is None:
        return None
    size = _size(plan, speak)
    if whole is None:
        assert count is not None
        whole = size * count
        figures = (_patties(count), _each(size, speak), _meat(whole, speak))
        notes += (_assumed(size, speak),) if plan.patties is None or plan.patties.size is None else ()
    elif count is None:
        count = max(1, int(whole // size))
        figures += (_patties(count), _each(size, speak), *(() if _grams(figures) else (_meat(whole, speak),)))
        notes += (_assumed(size, speak),) if plan.patties is None or plan.patties.size is None else ()
    if not 1 <= count <= MOST_PATTIES:
        why = f"{count:,} patties are more than a timetable is made for: it goes up to {MOST_PATTIES:,}."
        return ended("timetable", "", Status.IMPOSSIBLE, why)
    return Amounts(plan, count, whole, figures, notes, amends)


def _count(figures: tuple[Figure, ...]) -> int | None:
    counts = [f.value for f in figures if f.role is Role.PATTY_COUNT]
    return int(counts[0]) if counts else None


def _grams(figures: tuple[Figure, ...]) -> Fraction | None:
    totals = [f for f in figures if f.role is Role.TOTAL]
    return units.grams(Fraction(totals[0].value), totals[0].unit) if totals else None


def _size(plan: Plan, speak: str) -> Fraction:
    wish = plan.patties
    return grams(wish.size if wish is not None and wish.size is not None else mass.HEAD_SIZE[speak])


def _assumed(size: Fraction, speak: str) -> str:
    return f"Taken as {wording.both(size, speak)} raw for each patty: say the size if it differs."


def _patties(count: int) -> Figure:
    return Figure("patties", Role.PATTY_COUNT, float(count), "count", shown=str(count))


def _each(size: Fraction, speak: str) -> Figure:
    unit = "oz" if speak == "us" else "g"
    return Figure("each patty", Role.PATTY_WEIGHT, in_unit(size, unit), unit, shown=wording.both(size, speak))


def _meat(whole: Fraction, speak: str) -> Figure:
    unit = "lb" if speak == "us" else "kg"
    return Figure("meat", Role.TOTAL, in_unit(whole, unit), unit, shown=wording.both(whole, speak))
