"""A blend as it is told: headline, figures with their ranges, notes, and how it was worked out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.engine.kinds import Blend
from assistant.topics.plan import doubt, limits
from assistant.topics.plan.cuts import cuts_of
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, grams, in_unit, weight_unit


def told(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str, *, notes: tuple[str, ...] = ()) -> Section:
    """A blend as it is told: headline, figures, notes and working."""
    figures = components(plan, meats, found.grams, speak)
    fixed = plan.batch is None and any(meat.item.weight is None for meat in meats)
    if fixed:
        figures += tuple(
            Figure(
                f"{meat.name} to add",
                Role.ADD,
                in_unit(g, weight_unit(plan, speak, g)),
                weight_unit(plan, speak, g),
                shown=wording.both(g, speak),
            )
            for meat, g in zip(meats, found.grams, strict=True)
            if meat.item.weight is None and any(other.item.weight is not None for other in meats)
        )
    fat = Figure(
        "fat",
        Role.FAT,
        float(found.fat),
        "%",
        None if found.low == found.high else float(found.low),
        None if found.low == found.high else float(found.high),
        shown=wording.percent_at_worst(found.fat, found.low, found.high),
    )
    lean = Figure(
        "lean",
        Role.LEAN,
        float(100 - found.fat),
        "%",
        None if found.low == found.high else float(100 - found.high),
        None if found.low == found.high else float(100 - found.low),
        shown=wording.percent_at_worst(100 - found.fat, 100 - found.high, 100 - found.low),
    )
    if "percent" in plan.asks and not plan.seasonings:
        figures += _shares_of(meats, found)
    parts = [f"{figure.shown} {figure.name}" for figure in figures if figure.role is Role.COMPONENT and figure.value]
    headline = f"{wording.listing(parts)}: {wording.both(found.total, speak)} at {wording.lean_fat(found.fat)}."
    return Section(
        headline=headline,
        figures=(*figures, batch_figure(plan, found.total, speak), fat, lean, *_left(plan, meats, found, speak)),
        notes=(*_patties_note(plan, found.total, speak), *notes, *_notes(plan, meats, found, speak)),
        working=_working(meats, found, speak),
        grams=found.total,
        fat=found.fat,
        low=found.low,
        high=found.high,
        cost=found.cost,
        touches=frozenset(meat.species for meat in meats),
    )


def _shares_of(meats: Sequence[Meat], found: Blend) -> tuple[Figure, ...]:
    """Each cut's share of the batch, where percents were asked for."""
    return tuple(
        Figure(
            f"{meat.name} share",
            Role.RATIO,
            float(g / found.total * 100),
            "%",
            shown=wording.percent(g / found.total * 100),
        )
        for meat, g in zip(meats, found.grams, strict=True)
    )


def _patties_note(plan: Plan, total: Fraction, speak: str) -> tuple[str, ...]:
    """How many patties it makes, in the two usual sizes, where none was asked for."""
    if plan.patties is not None or plan.groups or plan.seasonings:
        return ()
    sizes = [units.grams(4, "oz"), units.grams(6, "oz")] if speak == "us" else [Fraction(115), Fraction(170)]
    counts = [portion.count_from(total, size).count for size in sizes]
    if counts[0] == 0:
        return ()
    shown = [
        f"{wording.counted(n, 'patty')} of {wording.weight(g, speak)}" for n, g in zip(counts, sizes, strict=True) if n
    ]
    return (f"Makes {wording.listing(shown, 'or')}.",)


def components(plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction], speak: str) -> tuple[Figure, ...]:
    """The weight of each cut, in one unit for all of them."""
    total = sum(weights, Fraction(0))
    unit = weight_unit(plan, speak, total)
    other = "metric" if speak == "us" else "us"
    first, _ = wording.weights(weights, speak)
    second, _ = wording.weights(weights, other)
    return tuple(
        Figure(
            meat.name,
            Role.COMPONENT,
            in_unit(g, unit),
            unit,
            fat_percent=None if meat.fat is None else float(meat.fat),
            source=meat.source or None,
            shown=f"{here} ({there})",
        )
        for meat, g, here, there in zip(meats, weights, first, second, strict=True)
    )


def batch_figure(plan: Plan, total: Fraction, speak: str) -> Figure:
    """The weight of the whole batch."""
    unit = weight_unit(plan, speak, total)
    return Figure("batch", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak))


def _left(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str) -> tuple[Figure, ...]:
    """What stays in the fridge of a stock that was named."""
    left = []
    for meat, used in zip(meats, found.grams, strict=True):
        if meat.item.weight is None or meat.item.weight_is != "have":
            continue
        rest = grams(meat.item.weight) - used
        if rest > 0:
            unit = weight_unit(plan, speak, rest)
            left.append(
                Figure(f"{meat.name} left", Role.LEFT_OVER, in_unit(rest, unit), unit, shown=wording.both(rest, speak))
            )
    return tuple(left)


def _notes(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str) -> tuple[str, ...]:
    notes = [meat.note for meat in meats if meat.note]
    if plan.target_reversed and plan.target is not None:
        notes.append(
            f"Read as {wording.lean_fat(plan.target)}: {wording.percent(100 - plan.target)} lean, {wording.percent(plan.target)} fat."
        )
    notes.extend(_all_but_one(meats, found))
    if found.high - found.low > 1:
        whole = doubt.spread_of(meats, found.grams)
        if whole is not None and whole.largest is not None:
            low, high = doubt.likely(whole)
            ends, likely = wording.percent_range(found.low, found.high, 1), wording.percent_range(low, high, 1)
            most = "" if likely == ends else f"{likely} most likely, "
            notes.append(
                f"Typical figures: the fat is {most}{ends} at the worst, mostly because of the "
                f"{meats[whole.largest].name}. Its label, or weighing the fat you trim off, narrows that."
            )
    if plan.target is None and found.fat > 30:
        notes.append(
            f"{wording.percent(found.fat)} fat is over the 30% that US law allows in ground beef for sale (9 CFR 319.15)."
        )
    notes.extend(limits.that_bind(plan, meats, found, cuts_of(meats), speak))
    if found.tied:
        notes.append("Another mix costs exactly the same.")
    return tuple(notes)


def _all_but_one(meats: Sequence[Meat], found: Blend) -> list[str]:
    gone = [meat.name for meat, g in zip(meats, found.grams, strict=True) if g == 0]
    return [f"No {wording.listing(gone, 'or')} is needed for this."] if gone else []


def _working(meats: Sequence[Meat], found: Blend, speak: str) -> tuple[str, ...]:
    lines = []
    for meat, g in zip(meats, found.grams, strict=True):
        assert meat.fat is not None
        span = "" if meat.low == meat.high else f", as bought {wording.percent_range(meat.low or 0, meat.high or 0, 1)}"
        lines.append(f"{meat.name}: {wording.percent(meat.fat)} fat ({meat.source}{span}).")
        lines.append(f"{wording.weight(g, speak)} of it holds {wording.weight(g * meat.fat / 100, speak)} of fat.")
    lines.append(
        f"Together {wording.weight(found.total * found.fat / 100, speak)} of fat in {wording.weight(found.total, speak)}: "
        f"{wording.percent(found.fat)} (mass balance)."
    )
    if len(meats) == 2 and meats[0].fat != meats[1].fat and None not in (meats[0].fat, meats[1].fat):
        lines.append(_square(meats, found))
    elif len(meats) > 2:
        lines.append(
            "Several mixes would do: this one stays as near as it can to equal shares, or to the parts you asked for."
        )
    return tuple(lines)


def _square(meats: Sequence[Meat], found: Blend) -> str:
    """The Pearson square in a line: each cut's part is the other's distance from the target."""
    one, two = meats[0].fat or Fraction(0), meats[1].fat or Fraction(0)
    return (
        f"Square: {meats[0].name} {wording.percent(abs(two - found.fat))} parts to "
        f"{meats[1].name} {wording.percent(abs(one - found.fat))} parts, the distances from {wording.percent(found.fat)}."
    ).replace("% parts", " parts")
