"""Which of the cook's limits decides a blend, and what easing it would give."""

from __future__ import annotations

from collections.abc import Sequence

from assistant import units, wording
from assistant.engine import blend as engine
from assistant.engine.kinds import Binding, Blend, Cut, Limit
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan

_SAID = {
    Limit.AT_LEAST: "minimum",
    Limit.AT_MOST: "limit",
    Limit.SHARE_AT_LEAST: "minimum share",
    Limit.SHARE_AT_MOST: "largest share",
}
_BY_WEIGHT = (Limit.AT_LEAST, Limit.AT_MOST)
MOST_TOLD = 2
MOST_EASED = 20
"""Cuts up to which easing each limit of the largest batch is worked out: a search for every one of them."""


def that_bind(plan: Plan, meats: Sequence[Meat], found: Blend, cuts: Sequence[Cut], speak: str) -> list[str]:
    """A line for each limit of the cook's that the blend rests on, with what one step of easing it is worth.

    cuts: the meats with their limits, as they went into the sum. Money for the cheapest, weight for the largest; where
    only nearness was sought, how much of the cut would go in without the limit.
    """
    notes = []
    for binding in found.binding:
        if binding.cut is None:
            notes += _fat_value(plan, meats, binding)
        elif binding.limit in _SAID and _is_said(plan, meats[binding.cut], binding):
            notes.append(
                f"What decides it: the {_SAID[binding.limit]} on {meats[binding.cut].name}"
                f"{_easing(plan, meats, found, cuts, binding, speak)}."
            )
    return notes[:MOST_TOLD]


def _is_said(plan: Plan, meat: Meat, binding: Binding) -> bool:
    """Whether the cook set this limit: a weight that simply goes in, or all that is to be used up, is none."""
    item = meat.item
    if item.weight is None and item.share is None:
        return False
    if plan.batch is None:
        # what there is of a cut is what the batch is made for: told only where more of it would make it larger
        return bool(binding.gain) and binding.limit in _BY_WEIGHT
    return item.weight_is not in ("is", "all") or item.share is not None


def _easing(plan: Plan, meats: Sequence[Meat], found: Blend, cuts: Sequence[Cut], binding: Binding, speak: str) -> str:
    assert binding.cut is not None
    step, name = (units.grams(1, "lb"), "lb") if speak == "us" else (units.grams(100, "g"), "100 g")
    less = binding.limit in (Limit.AT_LEAST, Limit.SHARE_AT_LEAST)
    side = "less" if less else "more"
    if binding.gain and plan.wish == "cheapest":
        if binding.limit in _BY_WEIGHT:
            worth = wording.money(binding.gain * step, _currency(meats))
            return f"; each {name} {side} of it would save {worth}"
        return f"; each point of its share {side} would save {wording.money(binding.gain / 100, _currency(meats))}"
    if binding.gain and plan.batch is None:
        one = units.grams(1, "oz") if speak == "us" else units.grams(100, "g")
        more = wording.weight(binding.gain * one, speak)
        return f"; each {'oz' if speak == 'us' else '100 g'} {side} of it would make {more} more"
    if plan.batch is None or plan.wish:
        return ""
    return _without(plan, found, cuts, binding.cut, speak)


def _without(plan: Plan, found: Blend, cuts: Sequence[Cut], at: int, speak: str) -> str:
    """How much of a cut would go in if its limits were lifted, the fat staying as it is."""
    free = Cut(cuts[at].name, cuts[at].fat, cuts[at].low, cuts[at].high, wish=cuts[at].wish)
    eased = engine.nearest([*cuts[:at], free, *cuts[at + 1 :]], found.total, found.fat)
    if not isinstance(eased, Blend) or eased.grams[at] == found.grams[at]:
        return ""
    return f"; without it {wording.weight(eased.grams[at], speak)} would go in"


def _fat_value(plan: Plan, meats: Sequence[Meat], binding: Binding) -> list[str]:
    """What the wanted fat costs, where the cheapest blend was sought."""
    if not binding.gain or plan.wish != "cheapest":
        return []
    worth = wording.money(abs(binding.gain), _currency(meats))
    if binding.limit is Limit.FAT:
        side = "fatter" if binding.gain > 0 else "leaner"
        return [f"The fat decides the price: a point {side} would save {worth}."]
    return [f"The limit on the fat decides the price: a point's easing would save {worth}."]


def _currency(meats: Sequence[Meat]) -> str:
    said = (meat.item.price.currency for meat in meats if meat.item.price is not None)
    return next((currency for currency in said if currency), "USD")
