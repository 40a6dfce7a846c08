"""A range that was said: "8-10 burgers", "20 to 25 people", "1-2 tsp a lb", "10 to 15% trim". Both ends are told."""

from __future__ import annotations

from typing import Any

from msgspec import Struct
from msgspec.structs import asdict, replace

from assistant.answer import Answer, Figure
from assistant.language.phrases import Measure
from assistant.topics.base import Outcome
from assistant.topics.plan.request import Group, PattyWish, Plan


def ends(plan: Plan) -> tuple[Plan, Plan] | None:
    """The plan at the lower and at the upper end of what was said as a range; None where nothing was.

    A size alone is no range here: "5 lb into 4-6 oz patties" leaves the size to us (portions.py).
    """
    if not _is_ranged(plan):
        return None
    low, high = _plan_at(plan, upper=False), _plan_at(plan, upper=True)
    return None if low == high else (low, high)


def _is_ranged(value: Any) -> bool:
    """Whether any part of a plan has an upper end: most have none, and nothing is worked out twice for them."""
    if isinstance(value, tuple):
        return any(map(_is_ranged, value))
    if not isinstance(value, Struct):
        return False
    if any(getattr(value, name, None) is not None for name in ("high", "count_high")):
        return True
    parts = (getattr(value, name) for name in value.__struct_fields__)
    return any(_is_ranged(part) for part in parts if isinstance(part, Struct | tuple))


def buys_for_more(plan: Plan) -> bool:
    """Whether the meat follows from the range, so that the upper end is told first: nobody is to go short."""
    ranged_loss = any(loss.amount.high is not None for loss in plan.losses)
    return ranged_loss or (plan.batch is None and all(item.weight is None for item in plan.items))


def told(first: Outcome, other: Outcome, plan: Plan, *, upper_first: bool) -> Outcome:
    """The answer at one end, with the other end beside it: in a note, and as the range of each figure that differs."""
    answer, beside = first.answer, other.answer
    which = "upper" if upper_first else "lower"
    note = f"For the {which} end of what you said. At the other: {beside.headline or beside.message}"
    figures = tuple(_spanned(figure, beside) for figure in answer.figures)
    return replace(
        first, answer=replace(answer, figures=figures, notes=(note, *answer.notes)), plan=first.plan and plan
    )


def _plan_at(plan: Plan, *, upper: bool) -> Plan:
    wish = plan.patties
    size = wish.size if wish is not None and not plan.groups and wish.count is None else None
    each = wish.count_high if upper and wish is not None and wish.count is None else None
    found = _at(plan, upper)
    assert isinstance(found, Plan)
    if size is not None and found.patties is not None:
        found = replace(found, patties=replace(found.patties, size=size))
    if each is not None:
        # "2 or 3 burgers each": the number was given to the people
        found = replace(found, groups=tuple(replace(group, each=each) for group in found.groups))
    return found


def _at(value: Any, upper: bool) -> Any:
    """Any part of a plan at one end of its ranges."""
    if isinstance(value, Measure):
        return value if value.high is None else Measure(value.high if upper else value.value, value.unit)
    if isinstance(value, tuple):
        return tuple(_at(part, upper) for part in value)
    if not isinstance(value, Struct):
        return value
    changes = {name: _at(part, upper) for name, part in asdict(value).items()}
    if isinstance(value, Group) and value.high is not None:
        changes.update(count=value.high if upper else value.count, high=None)
    if isinstance(value, PattyWish) and value.count_high is not None:
        changes.update(count=value.count_high if upper and value.count is not None else value.count, count_high=None)
    return replace(value, **changes)


def _spanned(figure: Figure, beside: Answer) -> Figure:
    """The figure with the other end's as its range; a range of its own is kept within it."""
    same = (f for f in beside.figures if (f.name, f.role, f.unit) == (figure.name, figure.role, figure.unit))
    other = next(same, None)
    values = [one for f in (figure, other) if f is not None for one in (f.value, f.low, f.high)]
    numbers = [one for one in values if isinstance(one, int | float)]
    if other is None or other.value == figure.value or not numbers:
        return figure
    return replace(figure, low=min(numbers), high=max(numbers))
