"""The figures of a batch, one by one: what each is called, what it is now, and the batch with another in its place.

Follow-ups name a figure by its old value ("94 not 92"), by its size ("no wait 1.75") or by its kind ("25% instead").
Here are the figures they may mean; followups.py finds which.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Fatness, Measure, Phrase
from assistant.topics.plan.request import Group, Item, PattyWish, Pinch, Plan
from assistant.topics.plan.restate import measure

FAT = "fat"
"""The unit of a share of fat, which is said in percent or by a bare number."""


class Slot(Struct, frozen=True):
    """One figure. label: as it is told back ("the 92% fat of the suet"); words: what names it in a reply;
    unit: a weight, "percent", "count", "people" or FAT; put: the batch with another value in its place; each: it is the
    weight of one patty."""

    label: str
    words: frozenset[str]
    value: Fraction
    unit: str
    put: Callable[[Fraction], Plan]
    of_cut: bool = False
    each: bool = False


def slots(plan: Plan) -> Iterator[Slot]:
    """Every figure that was said of a batch."""
    if plan.batch is not None:
        yield _batch(plan, plan.batch)
    if plan.target is not None:
        words = frozenset(("fat", "lean", "target", "percent", "%"))
        yield Slot(
            f"the {_percent(plan.target)} fat",
            words,
            plan.target,
            FAT,
            lambda v: replace(plan, target=v, target_high=None),
        )
    for place, item in enumerate(plan.items):
        yield from _of_item(plan, place, item)
    wish = plan.patties
    if wish is not None and wish.count is not None:
        yield _patties(plan, wish, wish.count)
    if wish is not None and wish.size is not None:
        yield _size(plan, wish, wish.size)
    for place, group in enumerate(plan.groups):
        yield _people(plan, place, group)
    for place, pinch in enumerate(plan.seasonings):
        if pinch.amount is not None:
            yield _of_pinch(plan, place, pinch, pinch.amount)


def _batch(plan: Plan, batch: Measure) -> Slot:
    words = frozenset(("batch", "weight", "total", "all", "meat", batch.unit, *_UNIT_WORDS.get(batch.unit, ())))
    return Slot(
        f"the {measure(batch)} batch",
        words,
        batch.value,
        batch.unit,
        lambda v: replace(plan, batch=replace(batch, value=v, high=None)),
    )


def _patties(plan: Plan, wish: PattyWish, count: Fraction) -> Slot:
    words = frozenset(("patties", "burgers", "patty", "burger"))
    return Slot(f"the {count} patties", words, count, "count", lambda v: replace(plan, patties=replace(wish, count=v)))


def _size(plan: Plan, wish: PattyWish, size: Measure) -> Slot:
    words = frozenset(
        ("each", "size", "patties", "burgers", "patty", "burger", size.unit, *_UNIT_WORDS.get(size.unit, ()))
    )

    def put(value: Fraction) -> Plan:
        return replace(plan, patties=replace(wish, size=replace(size, value=value, high=None)))

    return Slot(f"the {measure(size)} patties", words, size.value, size.unit, put, each=True)


def _people(plan: Plan, place: int, group: Group) -> Slot:
    words = frozenset(("people", "guests", "crowd", group.noun, group.sort))

    def put(value: Fraction) -> Plan:
        groups = (*plan.groups[:place], replace(group, count=value), *plan.groups[place + 1 :])
        return replace(plan, groups=groups)

    return Slot(f"the {group.count} {group.noun or 'people'}", words, group.count, "people", put)


def _of_item(plan: Plan, place: int, item: Item) -> Iterator[Slot]:
    words = frozenset(item.name.split())

    def put(changed: Item) -> Plan:
        return replace(plan, items=(*plan.items[:place], changed, *plan.items[place + 1 :]))

    if item.fat is not None:
        yield Slot(
            f"the {_percent(item.fat)} fat of the {item.name}",
            words,
            item.fat,
            FAT,
            lambda v: put(replace(item, fat=v, fat_high=None)),
            of_cut=True,
        )
    weight = item.weight
    if weight is not None:
        label = f"the {measure(weight)} of {item.name}"
        yield Slot(
            label,
            words,
            weight.value,
            weight.unit,
            lambda v: put(replace(item, weight=replace(weight, value=v, high=None))),
            of_cut=True,
        )
    if item.share is not None:
        share = item.share * 100
        label = f"the {_percent(share)} of {item.name}"
        yield Slot(label, words, share, "percent", lambda v: put(replace(item, share=v / 100)), of_cut=True)


def _of_pinch(plan: Plan, place: int, pinch: Pinch, amount: Measure) -> Slot:
    def put(value: Fraction) -> Plan:
        changed = replace(pinch, amount=replace(amount, value=value, high=None))
        return replace(plan, seasonings=(*plan.seasonings[:place], changed, *plan.seasonings[place + 1 :]))

    words = frozenset((*pinch.name.split(), *_UNIT_WORDS.get(amount.unit, (amount.unit,))))
    return Slot(f"the {measure(amount)} {pinch.name}", words, amount.value, amount.unit, put)


_UNIT_WORDS = {
    "lb": ("lb", "lbs", "pound", "pounds"),
    "oz": ("oz", "ounce", "ounces"),
    "kg": ("kg", "kilo", "kilos"),
    "g": ("g", "gram", "grams"),
    "percent": (),
}


def _percent(value: Fraction) -> str:
    return f"{float(value):g}%"


def value_of(phrase: Phrase) -> Fraction | None:
    """The value of a figure in a follow-up; None for a phrase that is no plain figure."""
    if isinstance(phrase, Amount):
        return phrase.measure.value
    if isinstance(phrase, Fatness):
        return phrase.fat
    if isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
        return phrase.value
    return None


def takes(slot: Slot, phrase: Phrase) -> bool:
    """Whether a figure could stand in a place: a percent for a percent or a fat, a weight for a weight, a bare number for any."""
    if isinstance(phrase, Count):
        return True
    if isinstance(phrase, Fatness):
        return slot.unit == FAT
    if isinstance(phrase, Amount) and phrase.kind == "percent":
        return slot.unit in (FAT, "percent")
    return isinstance(phrase, Amount) and phrase.measure.unit == slot.unit
