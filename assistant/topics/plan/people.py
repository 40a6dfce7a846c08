"""People and what they eat: patties for everybody, or how heavy each may be where the meat is given."""

from __future__ import annotations

from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.topics.plan import buying, cooked, mass, rounds
from assistant.topics.plan.request import LOT, Group, PattyWish, Plan
from assistant.topics.plan.section import Section, grams, in_unit, weight_unit


def section(plan: Plan, wish: PattyWish, whole: Fraction | None, meat: cooked.Meat, speak: str) -> Section:
    """The patties for the groups of a plan. whole: grams of meat, where they are given."""
    counted = sum(group.count for group in plan.groups)
    if counted <= 0 or counted > 100_000 or any(g.count.denominator != 1 or g.count < 0 for g in plan.groups):
        return Section(
            impossible=True, message=f"{wording.number(counted)} people cannot be fed; ask for a whole number."
        )
    unsized = [group for group in plan.groups if group.size is None]
    given = whole is not None and (plan.batch is not None or mass.all_weighed(plan))
    if wish.size is None and len(unsized) == len(plan.groups) and given and whole is not None:
        return _budget_of_meat(plan, whole, speak)
    if wish.size is None and 0 < len(unsized) < len(plan.groups):
        return Section(asks="size", message=f"How heavy is each burger for {_called(unsized[0])}?")
    yielded = cooked.yielded(plan, meat).percent.value if wish.cooked else None
    found = mass.eaters(plan, speak, yielded)
    assert found is not None
    if found.servings.count < 1:
        return Section(impossible=True, message="That takes off more burgers than there are.")
    need = found.servings.grams + mass.on_top(plan)
    if whole is not None and given and need > whole and buying.is_topping_up(plan):
        return buying.more(plan, whole, need, speak)
    if whole is not None and given and need > whole * Fraction(1001, 1000):
        return _too_little(plan, whole, need, found.servings.count, speak)
    left = whole - need if whole is not None and given else Fraction(0)
    return _fed(plan, found, need, left, speak)


def _fed(plan: Plan, found: mass.Eaters, need: Fraction, left: Fraction, speak: str) -> Section:
    serving = found.servings
    unit = weight_unit(plan, speak, need) if plan.batch or plan.items else ("lb" if speak == "us" else "kg")
    head = wording.listing([f"{one.count} of {wording.both(one.each, speak)}" for one in serving.servings])
    headline = f"{wording.both(serving.grams, speak)} of meat"
    headline += f" for {wording.counted(found.people, 'person')}" if found.people else ""
    headline += f": {wording.counted(serving.count, 'patty')}"
    headline += f" ({head})" if len(serving.servings) > 1 else f" of {wording.both(serving.servings[0].each, speak)}"
    if mass.on_top(plan):
        headline += f"; {wording.both(need, speak)} with the {wording.both(mass.aside(plan), speak)} kept back"
    if left > 0:
        headline += f"; {wording.both(left, speak)} left over"
    buy = buying.purchase(plan, need, speak) if buying.is_buying(plan) else ()
    if buy and plan.losses:
        headline += f"; buy {buy[0].shown}"
    cooking, round_steps = rounds.of(plan, serving.count)
    return Section(
        headline=headline + ".",
        figures=(
            Figure("patties", Role.PATTY_COUNT, float(serving.count), "count", shown=str(serving.count)),
            *_sizes(plan, serving, speak),
            _meat("meat", need, unit, speak, *_guess(found, need, unit)),
            *(_meat(label.capitalize(), one.grams, unit, speak) for label, one in found.occasions.items()),
            *_exactly_spare(plan, serving, unit, speak),
            *_left_over(left, unit, speak),
            *buy,
            *cooking,
        ),
        steps=round_steps,
        notes=(*_taken(plan, found, speak), *_people_notes(plan, serving)),
        grams=need,
        working=(_sum(plan, speak), f"{serving.count} patties in all, {wording.both(serving.grams, speak)} together."),
    )


def _meat(
    name: str, whole: Fraction, unit: str, speak: str, low: float | None = None, high: float | None = None
) -> Figure:
    shown = wording.both(whole, speak)
    return Figure(name or "the first", Role.TOTAL, in_unit(whole, unit), unit, low, high, shown=shown)


def _left_over(left: Fraction, unit: str, speak: str) -> tuple[Figure, ...]:
    if left <= 0:
        return ()
    return (Figure("left over", Role.LEFT_OVER, in_unit(left, unit), unit, shown=wording.both(left, speak)),)


def _sizes(plan: Plan, serving: portion.Servings, speak: str) -> list[Figure]:
    unit = _size_unit(plan, plan.patties or PattyWish(), speak)
    several = len(serving.servings) > 1
    return [
        Figure(
            f"each of {one.count}" if several else "each patty",
            Role.PATTY_WEIGHT,
            in_unit(one.each, unit),
            unit,
            shown=wording.both(one.each, speak),
        )
        for one in serving.servings
    ]


def _called(group: Group) -> str:
    """ "the 9 children"."""
    count = wording.number(group.count, 0)
    if group.noun and group.sort != LOT:
        return f"the {count} {group.noun if group.count == 1 else plural(group.noun)}"
    return f"the {count} {'burgers' if group.sort == 'patty' else 'people'}"


def plural(noun: str) -> str:
    """More than one of them: men, children, guests."""
    return {
        "man": "men",
        "woman": "women",
        "child": "children",
        "person": "people",
        "folk": "folk",
        "ppl": "people",
        "people": "people",
        "of u": "of us",
    }.get(noun, noun + "s")


def _taken(plan: Plan, found: mass.Eaters, speak: str) -> list[str]:
    """What was taken for granted where nothing was said."""
    notes = []
    if found.assumed_count:
        notes.append(
            f"Taken as {wording.fraction(plan.appetite or mass.HEAD_PATTIES, Fraction(1, 2))} patties a head"
            f"{'' if plan.appetite else ', 1 to 2'} (common practice, no source): say how many each if you know."
        )
    if found.assumed_size:
        notes.append(f"Taken as {wording.both(found.size, speak)} raw for each patty: say the size if it differs.")
    return notes


def _sum(plan: Plan, speak: str) -> str:
    """The groups as they were counted, one after the other."""
    parts = []
    for group in plan.groups:
        each = f" x {wording.number(group.each)}" if group.each is not None and group.each != 1 else ""
        size = group.size or (plan.patties.size if plan.patties is not None else None)
        told = f" x {wording.both(grams(size), speak)}" if size is not None else ""
        parts.append(f"{group.label + ': ' if group.label else ''}{_called(group).removeprefix('the ')}{each}{told}")
    return "; ".join(parts) + "."


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
    if spare < 0:
        notes.append(f"{-spare} fewer are made than there are to eat.")
    if spare > 0:
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


def _guess(found: mass.Eaters, whole: Fraction, unit: str) -> tuple[float | None, float | None]:
    if not found.assumed_count or found.patties_each != mass.HEAD_PATTIES:
        return None, None
    return in_unit(whole * 2 / 3, unit), in_unit(whole * 4 / 3, unit)


def _size_unit(plan: Plan, wish: PattyWish, speak: str) -> str:
    said = wish.size or next((group.size for group in plan.groups if group.size is not None), None)
    return said.unit if said is not None else ("oz" if speak == "us" else "g")


def _budget_of_meat(plan: Plan, whole: Fraction, speak: str) -> Section:
    """So much meat for so many people: how heavy each patty may be."""
    counts = [_eaten(plan, group) for group in plan.groups]
    number = sum(counts)
    if number < 1:
        return Section(impossible=True, message="Nobody eats a burger there: how many for each?")
    hefts = list(dict.fromkeys(group.heft for group in plan.groups))
    size = whole / sum((group.heft * count for group, count in zip(plan.groups, counts, strict=True)), Fraction(0))
    unit = "oz" if speak == "us" else "g"
    named = {heft: [_called(group) for group in plan.groups if group.heft == heft] for heft in hefts}
    told = [f"{wording.both(size * heft, speak)} for {wording.listing(named[heft])}" for heft in hefts]
    each = wording.listing(told) if len(hefts) > 1 else f"{wording.both(size, speak)} each"
    return Section(
        headline=f"{number} patties of {each}.",
        figures=(
            Figure("patties", Role.PATTY_COUNT, float(number), "count", shown=str(number)),
            *(
                Figure(
                    f"each for {wording.listing(named[heft])}" if len(hefts) > 1 else "each patty",
                    Role.PATTY_WEIGHT,
                    in_unit(size * heft, unit),
                    unit,
                    shown=wording.both(size * heft, speak),
                )
                for heft in hefts
            ),
        ),
        working=(f"{wording.both(whole, speak)} over {number} patties.",),
        notes=() if any(g.each is not None for g in plan.groups) else ("Counted as one patty a head.",),
    )


def _eaten(plan: Plan, group: Group) -> int:
    """Whole patties for a group, seconds and spare among them."""
    each = group.each if group.each is not None else Fraction(1)
    count = group.count * (each + (plan.seconds or Fraction(0))) * (1 + (plan.spare or Fraction(0)) / 100)
    return -(-count.numerator // count.denominator)


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
