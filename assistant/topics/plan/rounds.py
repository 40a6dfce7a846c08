"""Rounds on the grill or in the pan, where so many go on at a time."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

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


def bowls(plan: Plan, whole: Fraction, speak: str) -> Section:
    """Loads of a bowl that holds so much."""
    assert plan.bowl is not None
    figures = loads(plan, whole, speak)
    if not figures:
        return Section(impossible=True, message="A bowl that holds nothing mixes nothing: how much does it take?")
    return Section(
        headline=f"{told(figures)}.",
        figures=figures,
        working=(f"{wording.both(whole, speak)} over {wording.both(grams(plan.bowl), speak)}, rounded up.",),
    )


def loads(plan: Plan, whole: Fraction, speak: str) -> tuple[Figure, ...]:
    """How many loads of the bowl some meat is, and what each weighs; none where no bowl was named, or it holds nothing."""
    if plan.bowl is None or plan.bowl.value <= 0 or whole <= 0:
        return ()
    found = portion.bowls(whole, grams(plan.bowl))
    unit = weight_unit(plan, speak, found.each)
    each = wording.both(found.each, speak)
    return (
        Figure("loads", Role.RATIO, float(found.count), "count", shown=str(found.count)),
        Figure("each load", Role.RATIO, in_unit(found.each, unit), unit, shown=each),
    )


def with_loads(plan: Plan, fed: Section, speak: str) -> Section:
    """The meat for people, in loads of the bowl where one was named."""
    figures = loads(plan, fed.grams or Fraction(0), speak)
    if not figures:
        return fed
    return replace(fed, figures=(*fed.figures, *figures), steps=(f"Work in {told(figures)}.", *fed.steps))


def told(figures: tuple[Figure, ...]) -> str:
    """The two figures of `loads` in words: "3 loads of 4 lb"."""
    number, each = figures
    return f"{wording.counted(int(number.shown), 'load')} of {each.shown}"
