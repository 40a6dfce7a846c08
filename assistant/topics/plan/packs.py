"""Packs: how many to buy for so much meat, or to fill with it, and how many packs of bread rolls."""

from __future__ import annotations

import math
from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Figure, Role
from assistant.topics.plan import buying
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, grams, in_unit


def of_meat(plan: Plan, whole: Fraction, speak: str) -> Section:
    """So many packs to buy for so many grams, or, where the meat goes into packs, so many of them filled."""
    assert plan.pack is not None
    size = grams(plan.pack)
    if size <= 0:
        return Section(impossible=True, message="A pack has to weigh something.")
    if plan.packed_into:
        count = Fraction(whole // size)
        over = whole - count * size
        headline = f"{wording.counted(int(count), 'pack')} of {wording.both(size, speak)}"
    else:
        whole = buying.buy_grams(plan, whole)
        count = Fraction(math.ceil(whole / size))
        over = count * size - whole
        headline = (
            f"{wording.counted(int(count), 'pack')} of {wording.both(size, speak)} for {wording.both(whole, speak)}"
        )
    figures = [Figure("packs", Role.PURCHASE, float(count), "count", shown=str(int(count)))]
    if over > 0:
        headline += f", {wording.both(over, speak)} over"
        unit = plan.pack.unit
        figures.append(Figure("over", Role.LEFT_OVER, in_unit(over, unit), unit, shown=wording.both(over, speak)))
    bought = count * size
    figures.append(
        Figure(
            "in packs", Role.TOTAL, in_unit(bought, plan.pack.unit), plan.pack.unit, shown=wording.both(bought, speak)
        )
    )
    return Section(headline=headline + ".", figures=tuple(figures))


def added(plan: Plan, section: Section | None, speak: str) -> Section | None:
    """A section with the packs to buy for its meat, where the meat is sold in packs."""
    if section is None or plan.pack is None or section.grams is None or section.impossible or section.asks:
        return section
    packed = of_meat(plan, section.grams, speak)
    if packed.impossible:
        return packed
    return replace(
        section,
        headline=f"{packed.headline} {section.headline}",
        figures=(*packed.figures, *section.figures),
    )


def rolls(plan: Plan) -> Section:
    """Packs of rolls for so many rolls, or so many burgers."""
    wish = plan.patties
    count = plan.rolls if plan.rolls is not None else wish.count if wish is not None else None
    if count is None and plan.groups:
        count = sum((group.count * (group.each or 1) for group in plan.groups), Fraction(0))
    if count is None:
        return Section(asks="count", message="For how many burgers?")
    if not plan.rolls_a_pack or count <= 0:
        return Section(impossible=True, message="A pack has to hold something.")
    packs = math.ceil(count / plan.rolls_a_pack)
    over = packs * plan.rolls_a_pack - count
    spare = f", {wording.number(over, 0)} over" if over else ""
    return Section(
        headline=f"{wording.counted(packs, 'pack')} of {wording.number(plan.rolls_a_pack, 0)} for "
        f"{wording.number(count)} rolls{spare}.",
        figures=(
            Figure("packs", Role.PURCHASE, float(packs), "count", shown=str(packs)),
            Figure("rolls over", Role.LEFT_OVER, float(over), "count", shown=wording.number(over, 0)),
        ),
        working=(f"{wording.number(count)} over {wording.number(plan.rolls_a_pack, 0)}, rounded up.",),
    )
