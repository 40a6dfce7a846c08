"""Patties, people and shopping: how many, how heavy, how wide, and what to buy for it."""

from __future__ import annotations

from fractions import Fraction

from assistant import data, units, wording
from assistant.answer import Figure, Role
from assistant.engine import cook, portion
from assistant.engine.ranged import Ranged
from assistant.language.phrases import Measure
from assistant.topics.plan import mass
from assistant.topics.plan.request import PattyWish, Plan
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit

_DEFAULT_FAT = Fraction(20)
"""Fat taken for size and shrinkage where the blend is not known; both change little with it."""


def section(
    plan: Plan, meat_grams: Fraction | None, fat: Fraction | None, species: str, default_system: str
) -> Section | None:
    """The portions of a batch of so many grams (None: not known), or None where none are asked for."""
    wish = plan.patties or PattyWish()
    speak = system(plan, default_system)
    if plan.groups:
        return _for_people(plan, wish, meat_grams, fat, species, speak)
    if plan.budget is not None:
        return None
    if wish.cooked and wish.size is not None:
        return _from_cooked(plan, wish, meat_grams, fat, species, speak)
    if _is_buying(plan) and wish.count is None:
        return _to_buy(plan, meat_grams, speak) if meat_grams is not None else None
    if plan.patties is None and not plan.asks & {"split"} and plan.bowl is None:
        return None
    return _of_batch(plan, wish, meat_grams, fat, species, speak)


def _is_buying(plan: Plan) -> bool:
    return bool(plan.losses) or "buy" in plan.asks


# ---- a batch into patties


def _of_batch(
    plan: Plan, wish: PattyWish, whole: Fraction | None, fat: Fraction | None, species: str, speak: str
) -> Section | None:
    del species
    count, size = wish.count, None if wish.size is None else grams(wish.size)
    if count is not None and (count <= 0 or count > 100_000 or count.denominator != 1):
        return Section(
            impossible=True, message=f"{wording.number(count)} patties cannot be made; ask for a whole number."
        )
    if size is not None and size <= 0:
        return Section(impossible=True, message="A patty has to weigh something: how heavy should each be?")
    if size is None and wish.diameter is not None and wish.thickness is not None:
        size = Fraction(
            portion.patty_grams(_mm(wish.diameter), _mm(wish.thickness), _fat(fat)).value
        ).limit_denominator(1000)
    if size is None and wish.bun is not None and wish.thickness is not None:
        across = portion.shape_for_bun(_mm(wish.bun)).value
        size = Fraction(portion.patty_grams(across, _mm(wish.thickness), _fat(fat)).value).limit_denominator(1000)
    if count is not None and size is not None:
        if whole is not None and plan.batch is None and _needs_no_batch(plan):
            whole = None
        return _both_said(plan, wish, int(count), size, whole, fat, speak)
    if whole is None or whole == 0:
        if (
            count is None
            and size is None
            and plan.patties is not None
            and not plan.asks & {"how_much", "how_many", "split"}
        ):
            return None
        if wish.bun is not None and size is None:
            return _bun_only(plan, wish, speak)
        if size is not None and count is None and wish.diameter is None and wish.thickness is None and wish.bun is None:
            return Section(asks="weight", message="How much meat is there, or how many patties do you want?")
        if size is not None:
            return _sized(plan, wish, size, fat, speak)
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
        return _bun_only(plan, wish, speak)
    if plan.asks & {"how_many", "split"} or plan.patties is not None:
        if "split" in plan.asks:
            return Section(asks="count", message="Into how many, or how heavy should each be?")
        if "how_many" in plan.asks:
            return Section(
                asks="size", message="How heavy should each patty be: 4 oz (115 g), 6 oz (170 g), something else?"
            )
    return None


def _needs_no_batch(_plan: Plan) -> bool:
    return False


def _both_said(
    plan: Plan, wish: PattyWish, count: int, size: Fraction, whole: Fraction | None, fat: Fraction | None, speak: str
) -> Section:
    need = portion.mass_for(count, size) * (1 + (plan.spare or Fraction(0)) / 100)
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
    return _counted(plan, wish, count, size, left, need, fat, speak, buying=whole is None)


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
    buying: bool = False,
) -> Section:
    figures = [
        Figure("patties", Role.PATTY_COUNT, float(count), "count", shown=str(count)),
        Figure("each patty", Role.PATTY_WEIGHT, *_size_value(wish, size, speak), shown=wording.both(size, speak)),
    ]
    unit = weight_unit(plan, speak, whole)
    total = count * size if buying else whole
    if buying or plan.batch is None:
        figures.append(Figure("meat", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak)))
    if left > 0:
        figures.append(Figure("left over", Role.LEFT_OVER, in_unit(left, unit), unit, shown=wording.both(left, speak)))
    headline = f"{wording.counted(count, 'patty')} of {wording.both(size, speak)}"
    if buying:
        headline += f": {wording.both(total, speak)} of meat"
    elif left > 0:
        headline += f", {wording.both(left, speak)} left over"
    sizes, notes, steps = _size_figures(wish, size, fat, speak)
    figures += sizes
    buy = _purchase(plan, total if buying else whole, speak) if plan.losses else ()
    if buy:
        headline += f"; buy {buy[0].shown}"
    if plan.bowl is not None:
        loads = portion.bowls(whole, grams(plan.bowl))
        steps += (f"Work in {wording.counted(loads.count, 'load')} of {wording.both(loads.each, speak)}.",)
    return Section(
        headline=headline + ".",
        figures=(*figures, *buy),
        steps=steps,
        notes=notes,
        grams=total if buying else None,
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
        thick = portion.thickness_mm(size, across, _fat(fat))
        figures.append(_length("thickness", Role.PATTY_THICKNESS, thick.value, thick.low, thick.high, speak))
    elif wish.thickness is not None:
        wide = portion.diameter_mm(size, _mm(wish.thickness), _fat(fat))
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


def _sized(plan: Plan, wish: PattyWish, size: Fraction, fat: Fraction | None, speak: str) -> Section:
    del plan
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


def _bun_only(plan: Plan, wish: PattyWish, speak: str) -> Section:
    del plan
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


def _fat(fat: Fraction | None) -> Fraction:
    return _DEFAULT_FAT if fat is None or fat > 50 else fat


# ---- people


def _for_people(
    plan: Plan, wish: PattyWish, whole: Fraction | None, fat: Fraction | None, species: str, speak: str
) -> Section:
    people = sum(group.count for group in plan.groups)
    if people <= 0 or people > 100_000 or any(g.count.denominator != 1 for g in plan.groups):
        return Section(
            impossible=True, message=f"{wording.number(people)} people cannot be fed; ask for a whole number."
        )
    yielded = None
    if wish.cooked:
        yielded = _yield(plan, fat, species).percent.value
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
    headline = (
        f"{wording.both(serving.grams, speak)} of meat for {wording.number(people, 0)} people: {serving.count} patties"
    )
    headline += f" ({head})." if len(serving.servings) > 1 else f" of {wording.both(serving.servings[0].each, speak)}."
    buy = _purchase(plan, serving.grams, speak) if _is_buying(plan) else ()
    if buy and plan.losses:
        headline = headline[:-1] + f"; buy {buy[0].shown}."
    notes = []
    if found.assumed_count:
        notes.append(
            "Taken as 1 1/2 patties a head, 1 to 2 (common practice, no source): say how many each if you know."
        )
    if found.assumed_size:
        notes.append(f"Taken as {wording.both(found.size, speak)} raw for each patty: say the size if it differs.")
    spare = sum(one.spare for one in serving.servings)
    if spare:
        notes.append(f"{spare} of the patties are spare.")
    return Section(
        headline=headline,
        figures=(*figures, *buy),
        notes=tuple(notes),
        grams=serving.grams,
        working=(
            f"{wording.number(people, 0)} people, {serving.count} patties in all, {wording.both(serving.grams, speak)} together.",
        ),
    )


def _guess(found: mass.Eaters, whole: Fraction, unit: str) -> tuple[float | None, float | None]:
    if not found.assumed_count:
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


# ---- cooked weights


def _yield(plan: Plan, fat: Fraction | None, species: str) -> cook.CookedYield:
    """Cooked weight in percent of raw: the cook's own loss if said, else the published table."""
    own = next((loss for loss in plan.losses if loss.where == "cooking" and loss.amount.unit == "percent"), None)
    if own is not None:
        return cook.CookedYield(Ranged(100 - own.amount.value), "your figure")
    rows = data.cooked_yields()
    kind = species if species in {row.species for row in rows} else "beef"
    found = cook.cooked_yield(rows, _fat(fat), "broiled", kind)
    if found is None:
        found = cook.cooked_yield(rows, _DEFAULT_FAT, "broiled", "beef")
    assert found is not None
    return found


def _from_cooked(
    plan: Plan, wish: PattyWish, whole: Fraction | None, fat: Fraction | None, species: str, speak: str
) -> Section:
    assert wish.size is not None
    found = _yield(plan, fat, species)
    cooked = grams(wish.size)
    if found.percent.value <= 0:
        return Section(impossible=True, message="With all of it lost in the pan nothing would be left to eat.")
    raw = cook.raw_for_cooked(cooked, found.percent)
    unit = wish.size.unit
    ends = tuple(None if end is None else in_unit(end, unit) for end in (raw.low, raw.high))
    figure = Figure(
        "raw patty",
        Role.PATTY_WEIGHT,
        in_unit(raw.value, unit),
        unit,
        ends[0],
        ends[1],
        source=found.source,
        shown=wording.both(raw.value, speak),
    )
    loss = Figure(
        "cooked yield",
        Role.YIELD,
        float(found.percent.value),
        "%",
        None if found.percent.low is None else float(found.percent.low),
        None if found.percent.high is None else float(found.percent.high),
        source=found.source,
        shown=wording.percent(found.percent.value),
    )
    figures: tuple[Figure, ...] = (figure, loss)
    headline = f"Shape {wording.both(raw.value, speak)} raw for {wording.both(cooked, speak)} cooked."
    total = None
    if wish.count is not None:
        total = raw.value * wish.count
        big = weight_unit(plan, speak, total) if plan.batch else ("lb" if speak == "us" else "kg")
        figures += (Figure("meat", Role.TOTAL, in_unit(total, big), big, shown=wording.both(total, speak)),)
        headline = headline[:-1] + f"; {wording.both(total, speak)} of meat for {wording.number(wish.count, 0)}."
    del whole
    span = ""
    if found.percent.low is not None and found.percent.high is not None:
        span = f", {wording.percent_range(found.percent.low, found.percent.high)} measured"
    return Section(
        headline=headline,
        figures=figures,
        notes=(f"Cooked weight taken as {wording.percent(found.percent.value)} of raw ({found.source}{span}).",),
        grams=total,
        working=(f"Raw = cooked / yield: {wording.both(cooked, speak)} / {wording.percent(found.percent.value)}.",),
    )


# ---- buying


def _purchase(plan: Plan, usable: Fraction, speak: str) -> tuple[Figure, ...]:
    """What to buy for so many grams in the bowl: trimming comes first, then the grinder keeps its share."""
    need = buy_grams(plan, usable)
    unit = weight_unit(plan, speak, need) if plan.batch or plan.items else ("lb" if speak == "us" else "kg")
    return (Figure("buy", Role.PURCHASE, in_unit(need, unit), unit, shown=wording.both(need, speak)),)


def buy_grams(plan: Plan, usable: Fraction) -> Fraction:
    """Grams to buy for so many usable grams, from the losses said. Raises BadInput for losses of 100 % or more."""
    kept = Fraction(0)
    grinder = trim = Fraction(0)
    for loss in plan.losses:
        if loss.amount.unit != "percent":
            kept += grams(loss.amount)
        elif loss.where == "trim":
            trim = loss.amount.value
        elif loss.where == "grinder":
            grinder = loss.amount.value
    return portion.purchase(portion.purchase(usable, grinder) + kept, trim)


def _to_buy(plan: Plan, usable: Fraction, speak: str) -> Section | None:
    if not plan.losses:
        return None
    if any(loss.amount.unit == "percent" and not 0 <= loss.amount.value < 100 for loss in plan.losses):
        return Section(impossible=True, message="A loss has to be from 0 to under 100%.")
    buy = _purchase(plan, usable, speak)
    return Section(
        headline=f"Buy {buy[0].shown} for {wording.both(usable, speak)} to use.",
        figures=buy,
        working=("Losses divide: what you need over what is left of each pound or kilo.",),
    )
