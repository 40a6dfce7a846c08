"""Patties, people and shopping: how many, how heavy, how wide, and what to buy for it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.language.phrases import Measure
from assistant.topics.plan import buying, cooked, mass
from assistant.topics.plan.cooked import fat_or_default
from assistant.topics.plan.request import LOT, PattyWish, Plan
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
    if plan.groups:
        return _for_people(plan, wish, meat_grams, meat, speak)
    if plan.budget is not None:
        return None
    if wish.cooked and wish.size is not None:
        return cooked.raw_for_plate(plan, wish, meat, speak)
    if plan.cooked:
        return _cooked(plan, wish, meat_grams, meat, speak)
    if buying.is_buying(plan) and wish.count is None and wish.size is None:
        return buying.section(plan, meat_grams, components or {}, speak) if meat_grams is not None else None
    if plan.at_once is not None and wish.count is not None and wish.size is None and meat_grams is None:
        return _rounds_of(plan, wish.count)
    if plan.patties is None and not plan.asks & {"split"} and plan.bowl is None:
        return None
    return _of_batch(plan, wish, meat_grams, fat, speak)


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
    if size is not None and size <= 0:
        return Section(impossible=True, message="A patty has to weigh something: how heavy should each be?")
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


def _both_said(
    plan: Plan, wish: PattyWish, count: int, size: Fraction, whole: Fraction | None, fat: Fraction | None, speak: str
) -> Section:
    count = int(mass.with_spare(Fraction(count), plan))
    need = portion.mass_for(count, size)
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
    total = count * size if to_buy else whole
    if to_buy or plan.batch is None:
        figures.append(Figure("meat", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak)))
    if left > 0:
        figures.append(Figure("left over", Role.LEFT_OVER, in_unit(left, unit), unit, shown=wording.both(left, speak)))
    headline = f"{wording.counted(count, 'patty')} of {wording.both(size, speak)}"
    if to_buy:
        headline += f": {wording.both(total, speak)} of meat"
    elif left > 0:
        headline += f", {wording.both(left, speak)} left over"
    sizes, notes, steps = _size_figures(wish, size, fat, speak)
    figures += sizes
    buy = buying.purchase(plan, total if to_buy else whole, speak) if buying.is_buying(plan) and plan.losses else ()
    if buy:
        headline += f"; buy {buy[0].shown}"
    if plan.bowl is not None:
        loads = portion.bowls(whole, grams(plan.bowl))
        steps += (f"Work in {wording.counted(loads.count, 'load')} of {wording.both(loads.each, speak)}.",)
    spare = int(mass.with_spare(wish.count, plan) - wish.count) if wish.count is not None else 0
    if spare:
        notes += (f"{spare} of the patties {'is' if spare == 1 else 'are'} spare.",)
    rounds, round_steps = _rounds(plan, count)
    return Section(
        headline=headline + ".",
        figures=(*figures, *buy, *rounds),
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
            "Patties draw in 15 to 25% across; half an inch over the bun allows for it (common practice, no source).",
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
        notes=(
            "Patties draw in 15 to 25% across; half an inch over the bun allows for it (common practice, no source).",
        ),
        steps=("Press a shallow dimple in the middle, so that they stay flat.",),
    )


def _mm(measure: Measure) -> float:
    return float(units.to(measure.value, measure.unit, "mm"))


# ---- people


def _for_people(plan: Plan, wish: PattyWish, whole: Fraction | None, meat: cooked.Meat, speak: str) -> Section:
    people = sum(group.count for group in plan.groups)
    if people <= 0 or people > 100_000 or any(g.count.denominator != 1 for g in plan.groups):
        return Section(
            impossible=True, message=f"{wording.number(people)} people cannot be fed; ask for a whole number."
        )
    yielded = cooked.yielded(plan, meat).percent.value if wish.cooked else None
    no_size = wish.size is None and all(group.size is None for group in plan.groups)
    if plan.batch is not None and no_size and whole is not None:
        return _budget_of_meat(plan, whole, speak)
    found = mass.eaters(plan, speak, yielded)
    assert found is not None
    serving = found.servings
    unit = weight_unit(plan, speak, serving.grams) if plan.batch or plan.items else ("lb" if speak == "us" else "kg")
    if whole is not None and plan.batch is not None and serving.grams > whole * Fraction(1001, 1000):
        return _too_little(plan, whole, serving.grams, serving.count, speak)
    figures = [
        Figure("patties", Role.PATTY_COUNT, float(serving.count), "count", shown=str(serving.count)),
        Figure(
            "meat",
            Role.TOTAL,
            in_unit(serving.grams, unit),
            unit,
            *_guess(found, serving.grams, unit),
            shown=wording.both(serving.grams, speak),
        ),
    ]
    for one in serving.servings:
        size_unit = _size_unit(plan, wish, speak)
        figures.insert(
            1,
            Figure(
                "each patty",
                Role.PATTY_WEIGHT,
                in_unit(one.each, size_unit),
                size_unit,
                shown=wording.both(one.each, speak),
            ),
        )
    head = wording.listing([f"{one.count} of {wording.both(one.each, speak)}" for one in serving.servings])
    lots = all(group.sort == LOT for group in plan.groups)
    eaters = "" if lots else f" for {wording.number(people, 0)} people"
    headline = f"{wording.both(serving.grams, speak)} of meat{eaters}: {serving.count} patties"
    headline += f" ({head})." if len(serving.servings) > 1 else f" of {wording.both(serving.servings[0].each, speak)}."
    buy = buying.purchase(plan, serving.grams, speak) if buying.is_buying(plan) else ()
    if buy and plan.losses:
        headline = headline[:-1] + f"; buy {buy[0].shown}."
    notes = []
    if found.assumed_count:
        notes.append(
            f"Taken as {wording.fraction(plan.appetite or mass.HEAD_PATTIES, Fraction(1, 2))} patties a head"
            f"{'' if plan.appetite else ', 1 to 2'} (common practice, no source): say how many each if you know."
        )
    if found.assumed_size:
        notes.append(f"Taken as {wording.both(found.size, speak)} raw for each patty: say the size if it differs.")
    notes += _people_notes(plan, serving)
    exactly = _exactly_spare(plan, serving, unit, speak)
    rounds, round_steps = _rounds(plan, serving.count)
    return Section(
        headline=headline,
        figures=(*figures, *exactly, *buy, *rounds),
        steps=round_steps,
        notes=tuple(notes),
        grams=serving.grams,
        working=(
            f"{'' if lots else f'{wording.number(people, 0)} people, '}{serving.count} patties in all, "
            f"{wording.both(serving.grams, speak)} together.",
        ),
    )


def _people_notes(plan: Plan, serving: portion.Servings) -> list[str]:
    """What was taken for granted, or taken off, on the way to the number of patties."""
    notes = []
    if plan.absent:
        notes.append(f"{wording.number(plan.absent, 0)} taken off for those who do not come or do not eat it.")
    if plan.servings and plan.servings != 1:
        notes.append(f"Everybody is fed {wording.number(plan.servings, 0)} times.")
    if plan.seconds == Fraction(1, 2):
        notes.append("Half of the people are counted twice.")
    spare = sum(one.spare for one in serving.servings)
    if spare:
        notes.append(f"{spare} of the patties {'is' if spare == 1 else 'are'} spare.")
    return notes


def _exactly_spare(plan: Plan, serving: portion.Servings, unit: str, speak: str) -> tuple[Figure, ...]:
    """The weight with the spare percent and no rounding to whole patties, where that makes a difference."""
    if not plan.spare:
        return ()
    eaten = sum(((one.count - one.spare) * one.each for one in serving.servings), Fraction(0))
    exact = eaten * (1 + plan.spare / 100)
    if plan.spare_count or abs(exact - serving.grams) * 1000 < exact:
        return ()
    shown = wording.both(exact, speak)
    return (
        Figure(
            f"{wording.percent(plan.spare)} more, not in whole patties",
            Role.TOTAL,
            in_unit(exact, unit),
            unit,
            shown=shown,
        ),
    )


def _rounds(plan: Plan, count: int) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """How many rounds on the grill, where it was said how many go on at a time."""
    if plan.at_once is None or count < 1:
        return (), ()
    rounds = portion.even_rounds(count, int(plan.at_once))
    full = portion.rounds(count, int(plan.at_once))
    figure = Figure("rounds", Role.RATIO, float(len(rounds)), "count", shown=str(len(rounds)))
    text = f"Cook in {wording.counted(len(rounds), 'round')} of up to {wording.number(plan.at_once, 0)}"
    if full[-1] != full[0]:
        text += (
            f"; the last has {full[-1]}, or make them even: {wording.listing([str(one) for one in rounds])}"
            if len(rounds) <= 8
            else f"; the last has {full[-1]}"
        )
    return (figure,), (text + ".",)


def _rounds_of(plan: Plan, count: Fraction) -> Section:
    """Rounds for a number of patties, whatever they weigh."""
    if count.denominator != 1 or count <= 0 or count > 100_000:
        return Section(
            impossible=True, message=f"{wording.number(count)} patties cannot be made; ask for a whole number."
        )
    patties = int(mass.with_spare(count, plan))
    figures, steps = _rounds(plan, patties)
    assert plan.at_once is not None
    return Section(
        headline=f"{wording.counted(patties, 'patty')} at {wording.number(plan.at_once, 0)} a time: "
        f"{wording.counted(int(figures[0].value), 'round')}.",
        figures=(*figures, Figure("patties", Role.PATTY_COUNT, float(patties), "count", shown=str(patties))),
        steps=steps,
        working=(f"{patties} over {wording.number(plan.at_once, 0)}, rounded up.",),
    )


def _guess(found: mass.Eaters, whole: Fraction, unit: str) -> tuple[float | None, float | None]:
    if not found.assumed_count or found.patties_each != mass.HEAD_PATTIES:
        return None, None
    return in_unit(whole * 2 / 3, unit), in_unit(whole * 4 / 3, unit)


def _size_unit(plan: Plan, wish: PattyWish, speak: str) -> str:
    said = wish.size or next((group.size for group in plan.groups if group.size is not None), None)
    return said.unit if said is not None else ("oz" if speak == "us" else "g")


def _budget_of_meat(plan: Plan, whole: Fraction, speak: str) -> Section:
    """So much meat for so many people: how heavy each patty may be."""
    count = Fraction(0)
    for group in plan.groups:
        each = group.each if group.each is not None else Fraction(1)
        count += group.count * (each + (plan.seconds or Fraction(0)))
    count = count * (1 + (plan.spare or Fraction(0)) / 100)
    number = -(-count.numerator // count.denominator)
    size = whole / number
    unit = "oz" if speak == "us" else "g"
    return Section(
        headline=f"{number} patties of {wording.both(size, speak)} each.",
        figures=(
            Figure("patties", Role.PATTY_COUNT, float(number), "count", shown=str(number)),
            Figure("each patty", Role.PATTY_WEIGHT, in_unit(size, unit), unit, shown=wording.both(size, speak)),
        ),
        working=(f"{wording.both(whole, speak)} over {number} patties.",),
        notes=() if any(g.each is not None for g in plan.groups) else ("Counted as one patty a head.",),
    )


def _too_little(plan: Plan, whole: Fraction, need: Fraction, count: int, speak: str) -> Section:
    unit = weight_unit(plan, speak, need)
    each = whole / count
    return Section(
        impossible=True,
        message=f"That takes {wording.both(need, speak)} and there is {wording.both(whole, speak)}: "
        f"{count} patties could weigh {wording.both(each, speak)} each.",
        figures=(
            Figure("meat needed", Role.TOTAL, in_unit(need, unit), unit, shown=wording.both(need, speak)),
            Figure(
                "patty that would do",
                Role.PATTY_WEIGHT,
                in_unit(each, "oz" if speak == "us" else "g"),
                "oz" if speak == "us" else "g",
                shown=wording.both(each, speak),
            ),
        ),
    )
