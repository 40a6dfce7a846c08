"""A new batch whose figures can be taken in two ways, each of which makes a kitchen's batch: asked, never guessed.

"20% pork fat" is so much pork fat, or a mix of 20 % fat; "3 lb chuck $6.99" is a price for all of it, or for each pound;
"chuck 18% 20%" is one cut with two fats. Where only one of the two is likely, it is taken.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.language.phrases import Measure
from assistant.topics.plan.choice import Choice, Option
from assistant.topics.plan.request import Item, Pinch, Plan
from assistant.topics.plan.section import grams

_FAR_FROM_ITS_FAT = 25
"""Points of fat below the leanest that a fat is sold at, from which a percent is not its fat. A choice."""
_LIKELY_PRICE = (Fraction(3, 2), Fraction(30))
"""Dollars, pounds or euros for a pound of meat: outside of it a price is more likely meant the other way. A choice."""
_SYSTEM = {"lb": "us", "stone": "us", "kg": "metric", "mg": "metric"}


class Twice(Struct, frozen=True):
    """Two fats that were said of one cut. taken_by: the name of another cut that got the second one ("" for none)."""

    name: str
    fats: tuple[Fraction, Fraction]
    taken_by: str = ""


def settled(plan: Plan, heard_twice: Sequence[Twice] = (), unsaid: Collection[str] = ()) -> Plan | Choice:
    """The batch with what is likely taken up, or the question that it raises by itself.

    heard_twice: cuts with two fats; unsaid: cuts whose price may be for all of it or by weight.
    """
    if heard_twice:
        return _two_fats(plan, heard_twice[0])
    return _two_rates(plan) or _share_or_fat(plan) or _in_all_or_by_weight(_by_the_batch(plan, unsaid), unsaid)


def _two_fats(plan: Plan, twice: Twice) -> Choice:
    options = []
    for fat in twice.fats:
        items = tuple(
            replace(item, fat=fat)
            if item.name == twice.name
            else replace(item, fat=None)
            if item.name == twice.taken_by
            else item
            for item in plan.items
        )
        figure = wording.number(fat)
        options.append(Option(f"{figure}%", frozenset((figure, f"{figure}%")), replace(plan, items=items)))
    first, second = (option.label for option in options)
    return Choice(f"Two figures for the {twice.name}: is it {first} fat, or {second}?", tuple(options))


def _two_rates(plan: Plan) -> Choice | None:
    """ "Salt 10%, salt at 1.8%": one seasoning at two rates."""
    for first in plan.seasonings:
        again = [p for p in plan.seasonings if p.name == first.name and _is_rate(p) and p != first]
        if _is_rate(first) and again:
            options = []
            for pinch in (first, *again):
                others = tuple(p for p in plan.seasonings if p.name != first.name)
                assert pinch.amount is not None
                said = _rate_said(pinch)
                options.append(
                    Option(said, frozenset(said.lower().split()), replace(plan, seasonings=(*others, pinch)))
                )
            rates = wording.listing([option.label for option in options], "or")
            return Choice(f"Two rates for the {first.name}: {rates}?", tuple(options))
    return None


def _is_rate(pinch: Pinch) -> bool:
    return pinch.amount is not None and (pinch.per is not None or pinch.amount.unit == "percent")


def _rate_said(pinch: Pinch) -> str:
    assert pinch.amount is not None
    amount = f"{wording.number(pinch.amount.value)}"
    if pinch.per is None:
        return f"{amount}%"
    return f"{amount} {pinch.amount.unit} per {wording.number(pinch.per.value)} {pinch.per.unit}".replace(
        "per 1 ", "per "
    )


# ---- so much fat, or a mix as fat as that


def _share_or_fat(plan: Plan) -> Choice | None:
    """ "10 lb 20% pork fat": no pork fat is as lean as that."""
    odd = [item for item in plan.items if item.share is None and item.parts is None and _too_lean_for_fat(item)]
    if len(odd) != 1 or plan.target is not None or plan.ratio is not None:
        return None
    (item,) = odd
    assert item.fat is not None
    alone = len(plan.items) == 1
    whole = plan.batch if plan.batch is not None or not alone else item.weight
    bare = replace(item, fat=None, weight=None if alone else item.weight)
    said = wording.percent(item.fat)
    shared = _with(replace(plan, batch=whole), item, replace(bare, share=item.fat / 100))
    fatty = _with(replace(plan, batch=whole, target=item.fat), item, bare)
    question = (
        f"{said} {item.name}: is that how much {item.name} goes in, or how fat the mix shall be? Say share, or fat."
    )
    return Choice(
        question,
        (
            Option(f"{said} of the mix", frozenset(("share", "part", "weight", "added", "much", "goes")), shared),
            Option(f"a mix of {said} fat", frozenset(("fat", "lean", "target", "final", "total", "overall")), fatty),
        ),
    )


def _too_lean_for_fat(item: Item) -> bool:
    rows = [data.cuts()[key] for key in item.keys if key in data.cuts()]
    pure = bool(rows) and all(row.kind == "fat" for row in rows)
    return pure and item.fat is not None and item.fat < min(row.low for row in rows) - _FAR_FROM_ITS_FAT


def _with(plan: Plan, old: Item, new: Item) -> Plan:
    return replace(plan, items=tuple(new if item is old else item for item in plan.items))


# ---- for all of it, or by weight


def _by_the_batch(plan: Plan, unsaid: Collection[str]) -> Plan:
    """ "10 lb from brisket $3.49 and short rib $5.29": without a weight of its own each is sold by the batch's unit."""
    if plan.batch is None:
        return plan
    per = Measure(Fraction(1), _unit_of(plan.batch))

    def priced(item: Item) -> Item:
        if item.name not in unsaid or item.price is None or item.price.per is not None or item.weight is not None:
            return item
        return replace(item, price=replace(item.price, per=per))

    return replace(plan, items=tuple(priced(item) for item in plan.items))


def _in_all_or_by_weight(plan: Plan, unsaid: Collection[str]) -> Plan | Choice:
    """ "3 lb chuck $6.99", with nothing that says what the money is for."""
    open_ = [item for item in plan.items if item.name in unsaid and item.price is not None and item.weight is not None]
    if not open_:
        return plan
    by_weight = replace(plan, items=tuple(_by_weight(item) if item in open_ else item for item in plan.items))
    each = all(_is_likely(_by_weight(item)) for item in open_)
    in_all = all(_is_likely(item) for item in open_)
    if each != in_all:
        return by_weight if each else plan
    first = open_[0]
    assert first.price is not None and first.weight is not None
    unit = _unit_of(first.weight)
    sums = wording.listing([wording.money(item.price.amount, item.price.currency) for item in open_ if item.price])
    names = wording.listing([f"{wording.both(grams(i.weight), _SYSTEM[unit])} {i.name}" for i in open_ if i.weight])
    return Choice(
        f"{sums}: for each {unit}, or for all of it ({names})? Say each, or all.",
        (
            Option(f"each {unit}", frozenset(("each", unit, "per", "a", "pound", "kilo")), by_weight),
            Option("all of it", frozenset(("all", "total", "whole", "both", "for", "piece", "altogether")), plan),
        ),
    )


def _unit_of(weight: Measure) -> str:
    """The unit that meat weighed like this is priced by."""
    return {"oz": "lb", "g": "kg"}.get(weight.unit, weight.unit)


def _by_weight(item: Item) -> Item:
    assert item.price is not None and item.weight is not None
    return replace(item, price=replace(item.price, per=Measure(Fraction(1), _unit_of(item.weight))))


def _is_likely(item: Item) -> bool:
    """Whether a price makes a pound of meat cost what a pound of meat costs."""
    assert item.price is not None and item.weight is not None
    per = grams(item.price.per if item.price.per is not None else item.weight)
    low, high = _LIKELY_PRICE
    return per > 0 and low <= item.price.amount * units.grams(1, "lb") / per <= high
