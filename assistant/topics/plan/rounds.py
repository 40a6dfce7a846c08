"""Rounds on the grill or in the pan, where so many go on at a time."""

from __future__ import annotations

from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.topics.plan import mass
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, grams, in_unit, weight_unit


def of(plan: Plan, count: int) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """How many rounds on the grill, where it was said how many go on at a time."""
    if plan.at_once is None or count < 1:
        return (), ()
    needed, last = portion.rounds(count, int(plan.at_once))
    figure = Figure("rounds", Role.RATIO, float(needed), "count", shown=str(needed))
    text = f"Cook in {wording.counted(needed, 'round')} of up to {wording.number(plan.at_once, 0)}"
    if needed > 1 and last < plan.at_once:
        text += f"; the last has {last}"
        if needed <= 8:
            even = portion.even_rounds(count, int(plan.at_once))
            text += f", or make them even: {wording.listing([str(one) for one in even])}"
    return (figure,), (text + ".",)


def section(plan: Plan, count: Fraction) -> Section:
    """Rounds for a number of patties, whatever they weigh."""
    if count.denominator != 1 or count <= 0 or count > 100_000:
        return Section(
            impossible=True, message=f"{wording.number(count)} patties cannot be made; ask for a whole number."
        )
    patties = int(mass.with_spare(count, plan))
    figures, steps = of(plan, patties)
    assert plan.at_once is not None
    return Section(
        headline=f"{wording.counted(patties, 'patty')} at {wording.number(plan.at_once, 0)} a time: "
        f"{wording.counted(int(figures[0].value), 'round')}.",
        figures=(*figures, Figure("patties", Role.PATTY_COUNT, float(patties), "count", shown=str(patties))),
        steps=steps,
        working=(f"{patties} over {wording.number(plan.at_once, 0)}, rounded up.",),
    )


def bowls(plan: Plan, whole: Fraction, speak: str) -> Section | None:
    """Loads of a bowl that holds so much."""
    assert plan.bowl is not None
    if plan.bowl.value <= 0:
        return Section(impossible=True, message="A bowl that holds nothing mixes nothing: how much does it take?")
    loads = portion.bowls(whole, grams(plan.bowl))
    unit = weight_unit(plan, speak, loads.each)
    return Section(
        headline=f"{wording.counted(loads.count, 'load')} of {wording.both(loads.each, speak)}.",
        figures=(
            Figure("loads", Role.RATIO, float(loads.count), "count", shown=str(loads.count)),
            Figure("each load", Role.RATIO, in_unit(loads.each, unit), unit, shown=wording.both(loads.each, speak)),
        ),
        working=(f"{wording.both(whole, speak)} over {wording.both(grams(plan.bowl), speak)}, rounded up.",),
    )
