"""Why there is no blend: which demands collide, what is nearest, and what would have to be got or eased."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role
from assistant.engine.kinds import Demand, Limit, NoBlend, Reason
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, in_unit, weight_unit


def no_blend(plan: Plan, meats: Sequence[Meat], found: NoBlend, speak: str) -> Section:
    """The refusal in words, with the nearest that works in figures."""
    figures: list[Figure] = []
    lines = [reason(plan, meats, found, speak)]
    if found.largest is not None and found.largest.total > 0 and found.batch is not None:
        lines.append(
            f"The most at that fat is {wording.both(found.largest.total, speak)}: "
            + wording.listing(
                [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(found.largest.grams, meats, strict=True) if g]
            )
            + "."
        )
        unit = weight_unit(plan, speak, found.largest.total)
        figures.append(
            Figure(
                "most that works",
                Role.TOTAL,
                in_unit(found.largest.total, unit),
                unit,
                shown=wording.both(found.largest.total, speak),
            )
        )
    for more in found.more[:2]:
        needed = wording.listing([f"{wording.both(g, speak)} more {meats[i].name}" for i, g in more.grams])
        lines.append(f"Or get {needed}.")
        for index, g in more.grams:
            unit = weight_unit(plan, speak, g)
            figures.append(
                Figure(f"{meats[index].name} more", Role.ADD, in_unit(g, unit), unit, shown=wording.both(g, speak))
            )
    if found.lean_end is not None and found.fat_end is not None:
        nearest = found.nearest
        if nearest is not None:
            lines.append(
                f"Nearest: {wording.percent(nearest.fat)} fat, "
                + wording.listing(
                    [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(nearest.grams, meats, strict=True) if g]
                )
                + "."
            )
            figures.append(
                Figure(
                    "nearest fat",
                    Role.FAT,
                    float(nearest.fat),
                    "%",
                    float(found.lean_end),
                    float(found.fat_end),
                    shown=wording.percent(nearest.fat),
                )
            )
    return Section(
        impossible=True,
        message=" ".join(lines),
        figures=tuple(figures),
        notes=tuple(meat.note for meat in meats if meat.note),
        touches=frozenset(meat.species for meat in meats),
    )


def reason(plan: Plan, meats: Sequence[Meat], found: NoBlend, speak: str) -> str:
    """The one sentence that says what stands in the way."""
    names = wording.listing([meat.name for meat in meats])
    if found.reason in (Reason.TOO_LEAN, Reason.TOO_FAT) and found.lean_end is not None and found.fat_end is not None:
        want = wording.percent(plan.target or 0)
        ends = wording.percent_range(found.lean_end, found.fat_end, 1)
        within = (
            " within the limits given"
            if any(m.item.weight is not None or m.item.share is not None for m in meats)
            else ""
        )
        return f"{want} fat cannot be reached with {names}{within}: they reach {ends} fat."
    if found.reason is Reason.SHARES_CLASH:
        total = sum((m.item.share or Fraction(0) for m in meats), Fraction(0))
        if total > 1:
            said = [f"{wording.percent(m.item.share * 100)} {m.name}" for m in meats if m.item.share]
            return f"{wording.listing(said)} add up to {wording.percent(total * 100)}: those shares are more than the whole."
        return "Those shares cannot make up a whole batch: " + _demands(meats, found.clash, speak) + "."
    if found.reason is Reason.STOCK_SHORT:
        return (
            f"There is not enough meat for {wording.both(found.batch or 0, speak)}: "
            + _demands(meats, found.clash, speak)
            + "."
        )
    if found.reason is Reason.STOCK_UNLIMITED:
        return "With no limit on any cut there is no largest batch: how much do you want, or how much have you got?"
    if found.reason is Reason.MINIMUMS_EXCEED_BATCH:
        return "What must go in weighs more than the batch: " + _demands(meats, found.clash, speak) + "."
    return "These demands collide: " + _demands(meats, found.clash, speak) + "."


def _demands(meats: Sequence[Meat], demands: Sequence[Demand], speak: str) -> str:
    lines = []
    for demand in demands:
        names = wording.listing([meats[index].name for index in demand.cuts])
        if demand.limit in (Limit.AT_LEAST, Limit.AT_MOST, Limit.BATCH):
            value = wording.weight(demand.value, speak)
        elif demand.limit in (Limit.SHARE_AT_LEAST, Limit.SHARE_AT_MOST):
            value = wording.percent(demand.value * 100)
        elif demand.limit is Limit.WHOLE:
            continue
        elif demand.limit is Limit.LEFT_OUT:
            value = "none"
        else:
            value = wording.percent(demand.value)
        lines.append(f"{names} {demand.limit.value} {value}".strip())
    return " against ".join(lines)
