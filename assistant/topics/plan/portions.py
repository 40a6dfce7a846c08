"""Patties, people and shopping: how many, how heavy, how wide, and what to buy for it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.language.phrases import Measure
from assistant.topics.plan import buying, cooked, mass, packs, people, rounds
from assistant.topics.plan.cooked import fat_or_default
from assistant.topics.plan.request import PattyWish, Plan
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit


def section(
    plan: Plan,
    meat_grams: Fraction | None,
    fat: Fraction | None,
    species: str,
    default_system: str,
    components: Mapping[str, Fraction] | None = None,
) -> Section | None:
    """The portions of a batch of so many grams (None: not known), or None where none are asked for.

    components: grams of each meat of the blend, by name, for losses that belong to one of them.
    """
    wish = plan.patties or PattyWish()
    speak = system(plan, default_system)
    meat = cooked.Meat(fat, species)
    if plan.rolls_a_pack is not None:
        return packs.rolls(plan)
    whole = buying.shaped_from(plan, meat_grams)
    if whole is not None and mass.is_given(plan) and whole - mass.aside(plan) <= 0:
        return Section(impossible=True, message="That keeps back all the meat that there is.")
    whole = whole - mass.aside(plan) if whole is not None and mass.is_given(plan) else whole
    if plan.groups:
        fed = people.section(plan, wish, whole, meat, speak)
        return packs.added(plan, rounds.with_loads(plan, fed, speak), speak)
    if plan.budget is not None:
        return None
    told_apart = plan.pair is not None and meat_grams is None and wish.size is None and wish.count is None
    if told_apart:
        # "raw it was 180 g, off the grill 135 g: what's my shrink?"
        return buying.told_as_two(plan, speak)
    if wish.cooked and wish.size is not None:
        return cooked.raw_for_plate(plan, wish, meat, speak)
    if plan.cooked:
        return _cooked(plan, wish, meat_grams, meat, speak)
    if plan.patties is None and plan.pack is not None and meat_grams is not None:
        return packs.of_meat(plan, meat_grams, speak)
    if buying.is_buying(plan) and wish.count is None and wish.size is None:
        return buying.section(plan, meat_grams, components or {}, speak) if meat_grams is not None else None
    if plan.at_once is not None and wish.count is not None and wish.size is None and meat_grams is None:
        return rounds.section(plan, wish.count)
    if plan.patties is None and plan.bowl is not None and meat_grams is not None:
        return rounds.bowls(plan, meat_grams, speak)
    if plan.patties is None and not plan.asks & {"split"} and plan.bowl is None:
        return None
    return packs.added(plan, _of_batch(plan, wish, whole, fat, speak), speak)


def _cooked(plan: Plan, wish: PattyWish, whole: Fraction | None, meat: cooked.Meat, speak: str) -> Section | None:
    """Raw to cooked, or back, for one patty or the whole batch."""
    size = wish.size or plan.batch or next((item.weight for item in plan.items if item.weight is not None), None)
    if size is None:
        return None
    said = grams(size) if wish.size is not None or whole is None else whole
    if plan.cooked == "given":
        return cooked.batch_for_plate(plan, said, size.unit, meat, speak)
    return cooked.plate_for_raw(plan, said, size.unit, meat, speak)


# ---- a batch into patties


def _of_batch(plan: Plan, wish: PattyWish, whole: Fraction | None, fat: Fraction | None, speak: str) -> Section | None:
    count, size = wish.count, None if wish.size is None else grams(wish.size)
    if count is not None and (count <= 0 or count > 100_000 or count.denominator != 1):
        return Section(
            impossible=True, message=f"{wording.number(count)} patties cannot be made; ask for a whole number."
        )
    if size is not None and size < 1:
        return Section(impossible=True, message="A patty has to weigh a gram at least: how heavy should each be?")
    if size is None and wish.diameter is not None and wish.thickness is not None:
        size = Fraction(
            portion.patty_grams(_mm(wish.diameter), _mm(wish.thickness), fat_or_default(fat)).value
        ).limit_denominator(1000)
    if size is None and wish.bun is not None and wish.thickness is not None:
        across = portion.shape_for_bun(_mm(wish.bun)).value
        size = Fraction(portion.patty_grams(across, _mm(wish.thickness), fat_or_default(fat)).value).limit_denominator(
            1000
        )
    if count is not None and size is not None:
        return _both_said(plan, wish, int(count), size, whole, fat, speak)
    if count is not None:
        count = mass.with_spare(count, plan)
    if whole is None or whole == 0:
        if wish.bun is not None and size is None:
            return _bun_only(wish, speak)
        if (
            count is None
            and size is None
            and plan.patties is not None
            and not plan.asks & {"how_much", "how_many", "split"}
        ):
            return None
        if size is not None and count is None and wish.diameter is None and wish.thickness is None and wish.bun is None:
            return Section(asks="weight", message="How much meat is there, or how many patties do you want?")
        if size is not None:
            return _sized(wish, size, fat, speak)
        if count is not None and plan.asks & {"how_much", "buy", "want"}:
            return _of_usual_size(plan, fat, speak)
        if count is not None and plan.paid is not None:
            # "$312 on meat for 130 burgers, what's that each": the money alone is shared out
            return None
        if count is not None:
            return Section(asks="size", message="How heavy is each of them, or how much meat is there?")
        return Section(asks="weight", message="How much meat is there?")
    if size is not None:
        if size > whole:
            return Section(
                impossible=True,
                message=f"{wording.both(whole, speak)} of meat does not make one patty of {wording.both(size, speak)}.",
            )
        found = portion.count_from(whole, size)
        return _counted(plan, wish, found.count, size, found.left_over, whole, fat, speak)
    if count is not None:
        return _counted(plan, wish, int(count), portion.equal_shares(whole, int(count)), Fraction(0), whole, fat, speak)
    if wish.bun is not None:
        return _bun_only(wish, speak)
    if plan.asks & {"how_many", "split"} or plan.patties is not None:
        if "split" in plan.asks:
            return Section(asks="count", message="Into how many, or how heavy should each be?")
        if "how_many" in plan.asks:
            return Section(
                asks="size", message="How heavy should each patty be: 4 oz (115 g), 6 oz (170 g), something else?"
            )
    return None


def _of_usual_size(plan: Plan, fat: Fraction | None, speak: str) -> Section:
    """So many patties and no word of their weight: at the usual one, which is told."""
    size = mass.HEAD_SIZE[speak]
    wish = replace(plan.patties or PattyWish(), size=size)
    found = _both_said(replace(plan, patties=wish), wish, int(wish.count or 0), grams(size), None, fat, speak)
    taken = f"Taken as {wording.both(grams(size), speak)} raw for each patty: say the size if it differs."
    return replace(found, notes=(taken, *found.notes))


def _both_said(
    plan: Plan, wish: PattyWish, count: int, size: Fraction, whole: Fraction | None, fat: Fraction | None, speak: str
) -> Section:
    count = int(mass.with_spare(Fraction(count), plan))
    if count < 1:
        return Section(impossible=True, message="That takes off more burgers than there are.")
    need = portion.mass_for(count, size) + mass.on_top(plan)
    if whole is not None and need > whole and buying.is_topping_up(plan):
        return buying.more(plan, whole, need, speak)
    if whole is not None and need > whole * Fraction(1001, 1000):
        fits = portion.count_from(whole, size)
        even = portion.equal_shares(whole, count)
        unit = weight_unit(plan, speak, need)
        return Section(
            impossible=True,
            message=f"{count} patties of {wording.both(size, speak)} take {wording.both(need, speak)}; there is "
            f"{wording.both(whole, speak)}. That makes {wording.counted(fits.count, 'patty')} of that size, "
            f"or {count} of {wording.both(even, speak)}.",
            figures=(
                Figure("meat needed", Role.TOTAL, in_unit(need, unit), unit, shown=wording.both(need, speak)),
                Figure(
                    "patty, if all are to be made",
                    Role.PATTY_WEIGHT,
                    *_size_value(wish, even, speak),
                    shown=wording.both(even, speak),
                ),
            ),
        )
    left = whole - need if whole is not None else Fraction(0)
    return _counted(plan, wish, count, size, left, need, fat, speak, to_buy=whole is None)


def _counted(
    plan: Plan,
    wish: PattyWish,
    count: int,
    size: Fraction,
    left: Fraction,
    whole: Fraction,
    fat: Fraction | None,
    speak: str,
    *,
    to_buy: bool = False,
) -> Section:
    figures = [
        Figure("patties", Role.PATTY_COUNT, float(count), "count", shown=str(count)),
        Figure("each patty", Role.PATTY_WEIGHT, *_size_value(wish, size, speak), shown=wording.both(size, speak)),
    ]
    unit = weight_unit(plan, speak, whole)
    total = count * size + mass.on_top(plan) if to_buy else whole
    if to_buy or plan.batch is None:
        figures.append(Figure("meat", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak)))
    if left > 0:
        figures.append(Figure("left over", Role.LEFT_OVER, in_unit(left, unit), unit, shown=wording.both(left, speak)))
    headline = f"{wording.counted(count, 'patty')} of {wording.both(size, speak)}"
    if to_buy:
        headline += f": {wording.both(total, speak)} of meat"
    elif left > 0:
        headline += f", {wording.both(left, speak)} left over"
    if to_buy and plan.aside is not None:
        headline += f" with the {wording.both(mass.aside(plan), speak)} kept back"
    sizes, notes, steps = _size_figures(wish, size, fat, speak)
    figures += sizes
    buy = (
        buying.purchase(plan, total if to_buy else whole, speak)
        if plan.losses and (to_buy or "buy" in plan.asks)
        else ()
    )
    if buy:
        headline += f"; buy {buy[0].shown}"
    loads = rounds.loads(plan, whole, speak)
    if loads:
        steps += (f"Work in {rounds.told(loads)}.",)
    if plan.feeds is not None and plan.feeds > 0:
        fed = int(count / plan.feeds)
        headline = f"{wording.counted(fed, 'person')}, {wording.number(plan.feeds)} each: {headline}"
        figures.append(Figure("people fed", Role.TOTAL, float(fed), "count", shown=str(fed)))
    spare = int(mass.with_spare(wish.count, plan) - wish.count) if wish.count is not None else 0
    if spare > 0:
        notes += (f"{spare} of the patties {'is' if spare == 1 else 'are'} spare.",)
    cooking, round_steps = rounds.of(plan, count)
    return Section(
        headline=headline + ".",
        figures=(*figures, *loads, *buy, *cooking),
        steps=(*steps, *round_steps),
        notes=notes,
        grams=total if to_buy else None,
        working=(f"{wording.both(total, speak)} over {count} is {wording.both(size, speak)} each.",),
    )


def _size_value(wish: PattyWish, size: Fraction, speak: str) -> tuple[float, str]:
    unit = wish.size.unit if wish.size is not None else ("oz" if speak == "us" else "g")
    return in_unit(size, unit), unit


def _size_figures(
    wish: PattyWish, size: Fraction, fat: Fraction | None, speak: str
) -> tuple[list[Figure], tuple[str, ...], tuple[str, ...]]:
    """Diameter and thickness, as far as one of them or the bun was said."""
    figures: list[Figure] = []
    steps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    across = None if wish.diameter is None else _mm(wish.diameter)
    if wish.bun is not None:
        shape = portion.shape_for_bun(_mm(wish.bun))
        across = shape.value
        figures.append(_length("shape it this wide", Role.PATTY_DIAMETER, shape.value, shape.low, shape.high, speak))
        notes += (
            "Patties draw in 15 to 25% across while they cook; this allows for 20% (common practice, no source).",
        )
    if across is not None:
        thick = portion.thickness_mm(size, across, fat_or_default(fat))
        figures.append(_length("thickness", Role.PATTY_THICKNESS, thick.value, thick.low, thick.high, speak))
    elif wish.thickness is not None:
        wide = portion.diameter_mm(size, _mm(wish.thickness), fat_or_default(fat))
        figures.append(_length("diameter", Role.PATTY_DIAMETER, wide.value, wide.low, wide.high, speak))
    if figures:
        steps = ("Press a shallow dimple in the middle, so that they stay flat.",)
    return figures, notes, steps


def _length(name: str, role: Role, value: float, low: float | None, high: float | None, speak: str) -> Figure:
    unit = "inch" if speak == "us" else "mm"
    convert = 25.4 if unit == "inch" else 1.0
    return Figure(
        name,
        role,
        value / convert,
        unit,
        None if low is None else low / convert,
        None if high is None else high / convert,
        shown=wording.length(Fraction(value).limit_denominator(1000), speak),
        source="density of meat without air, Choi and Okos 1986" if role is Role.PATTY_THICKNESS else None,
    )


def _sized(wish: PattyWish, size: Fraction, fat: Fraction | None, speak: str) -> Section:
    figures, notes, steps = _size_figures(wish, size, fat, speak)
    shown = wording.listing([f"{figure.name} {figure.shown}" for figure in figures])
    weight = Figure("each patty", Role.PATTY_WEIGHT, *_size_value(wish, size, speak), shown=wording.both(size, speak))
    return Section(
        headline=f"A patty of {wording.both(size, speak)}: {shown}."
        if shown
        else f"A patty of {wording.both(size, speak)}.",
        figures=(weight, *figures),
        notes=notes,
        steps=steps,
    )


def _bun_only(wish: PattyWish, speak: str) -> Section:
    assert wish.bun is not None
    shape = portion.shape_for_bun(_mm(wish.bun))
    figure = _length("shape it this wide", Role.PATTY_DIAMETER, shape.value, shape.low, shape.high, speak)
    return Section(
        headline=f"Shape the patties {figure.shown} wide for that bun.",
        figures=(figure,),
        notes=("Patties draw in 15 to 25% across while they cook; this allows for 20% (common practice, no source).",),
        steps=("Press a shallow dimple in the middle, so that they stay flat.",),
    )


def _mm(measure: Measure) -> float:
    return float(units.to(measure.value, measure.unit, "mm"))
