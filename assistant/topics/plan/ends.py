"""A range that was said: "8-10 burgers", "20 to 25 people", "2-3 lb of chuck". Both ends are worked out and told."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from assistant.answer import Answer, Figure
from assistant.language.phrases import Measure
from assistant.topics.base import Outcome
from assistant.topics.plan.request import Group, Item, PattyWish, Plan


def ends(plan: Plan) -> tuple[Plan, Plan] | None:
    """The plan at the lower and at the upper end of what was said as a range; None where nothing was."""
    if not any(_ranges(plan)):
        return None
    return _at(plan, upper=False), _at(plan, upper=True)


def buys_for_more(plan: Plan) -> bool:
    """Whether the meat follows from the range, so that the upper end is told first: nobody is to go short."""
    counted = plan.batch is None and all(item.weight is None for item in plan.items)
    return counted and (any(group.high is not None for group in plan.groups) or _count_high(plan) is not None)


def told(first: Outcome, other: Outcome, plan: Plan, *, upper_first: bool) -> Outcome:
    """The answer at one end, with the other end beside it: in a note, and as the range of each figure that differs."""
    answer, beside = first.answer, other.answer
    which = "upper" if upper_first else "lower"
    note = f"For the {which} end of what you said. At the other: {beside.headline or beside.message}"
    figures = tuple(_spanned(figure, beside) for figure in answer.figures)
    return replace(
        first, answer=replace(answer, figures=figures, notes=(note, *answer.notes)), plan=first.plan and plan
    )


def _ranges(plan: Plan) -> Iterator[bool]:
    yield _count_high(plan) is not None
    yield plan.batch is not None and plan.batch.high is not None
    yield from (item.weight is not None and item.weight.high is not None for item in plan.items)
    yield from (group.high is not None for group in plan.groups)


def _count_high(plan: Plan) -> Fraction | None:
    return None if plan.patties is None else plan.patties.count_high


def _at(plan: Plan, *, upper: bool) -> Plan:
    return replace(
        plan,
        batch=_end(plan.batch, upper),
        items=tuple(_item(item, upper) for item in plan.items),
        groups=tuple(_group(group, upper) for group in plan.groups),
        patties=None if plan.patties is None else _patties(plan.patties, upper),
    )


def _end(amount: Measure | None, upper: bool) -> Measure | None:
    if amount is None or amount.high is None:
        return amount
    return replace(amount, value=amount.high if upper else amount.value, high=None)


def _item(item: Item, upper: bool) -> Item:
    return replace(item, weight=_end(item.weight, upper))


def _group(group: Group, upper: bool) -> Group:
    count = group.high if upper and group.high is not None else group.count
    return replace(group, count=count, high=None)


def _patties(wish: PattyWish, upper: bool) -> PattyWish:
    count = wish.count_high if upper and wish.count_high is not None else wish.count
    return replace(wish, count=count, count_high=None)


def _spanned(figure: Figure, beside: Answer) -> Figure:
    """The figure with the other end's as its range; a range of its own is kept within it."""
    same = (f for f in beside.figures if (f.name, f.role, f.unit) == (figure.name, figure.role, figure.unit))
    other = next(same, None)
    values = [one for f in (figure, other) if f is not None for one in (f.value, f.low, f.high)]
    numbers = [one for one in values if isinstance(one, int | float)]
    if other is None or other.value == figure.value or not numbers:
        return figure
    return replace(figure, low=min(numbers), high=max(numbers))
