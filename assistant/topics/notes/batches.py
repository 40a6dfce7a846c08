"""Between the plan and the notebook: a batch as it is kept, and the plan of a kept batch opened again."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec.structs import replace

from assistant import data, units
from assistant.answer import Answer, Figure, Role
from assistant.language.phrases import Measure
from assistant.notebook.records import Batch, Part, Seasoned, as_weighed, folded, mean_by_weight
from assistant.topics.base import Kitchen
from assistant.topics.plan import meat, merge
from assistant.topics.plan.answers import reopened
from assistant.topics.plan.keep import plan_from_text, plan_to_text
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.own import own_fats
from assistant.topics.plan.request import Item, Pinch, Plan
from assistant.topics.plan.section import grams, system

_MASSES = ("g", "kg", "lb", "oz", "mg", "stone")
_FINEST = 10**9
"""Figures are floats of exact fractions; the fraction of a denominator up to this that is nearest is the exact one."""


def batch_of(plan: Plan, answer: Answer, kitchen: Kitchen) -> Batch | None:
    """The batch that an answer worked out, without a name; None where it has neither meat nor seasoning nor patties."""
    figures = answer.figures
    parts = _parts(plan, figures, kitchen)
    seasonings = _seasonings(figures)
    if not parts and not seasonings:
        return None
    fat = _first(figures, Role.FAT)
    size, count = _first(figures, Role.PATTY_WEIGHT), _first(figures, Role.PATTY_COUNT)
    cost = _first(figures, Role.COST)
    return Batch(
        name="",
        parts=parts,
        target_fat=plan.target,
        fat=_exact(fat.value) if fat else mean_by_weight(parts, "fat"),
        fat_low=mean_by_weight(parts, "low") if fat is None or fat.low is None else _exact(fat.low),
        fat_high=mean_by_weight(parts, "high") if fat is None or fat.high is None else _exact(fat.high),
        seasonings=seasonings,
        patty_grams=_mass(size) if size else None,
        patty_count=_whole(count),
        cost=_exact(cost.value) if cost else None,
        currency=cost.unit if cost else "",
        units=system(plan, kitchen.units),
        request=plan_to_text(reopened(plan)),
    )


def plan_of(batch: Batch) -> Plan:
    """The plan that a kept batch was, with its cuts and seasonings as they were truly weighed where that is written
    down; or, where it brings none that reads, a plan of its cuts."""
    if batch.request:
        try:
            plan = _of_pinches(reopened(plan_from_text(batch.request)), batch)
            return _of_weights(plan, batch) if batch.cuts_weighed or _was_of_stock(plan, batch) else plan
        except ValueError:  # written by hand or by another version: the weights are still there
            pass
    return _of_weights(Plan(units=batch.units), batch)


def _was_of_stock(plan: Plan, batch: Batch) -> bool:
    """Whether weights of the plan say what there was that day, which is no part of the batch."""
    return bool(batch.parts) and any(
        item.weight is not None and item.weight_is in ("have", "all") for item in plan.items
    )


def _of_pinches(plan: Plan, batch: Batch) -> Plan:
    """The plan with so much of each seasoning as went in, where that was weighed. What was written for another weight
    of meat is then worked out for this one, as the two cannot stand in one list."""
    weighed = {folded(item.name) for item in batch.seasonings if item.weighed is not None}
    if not weighed:
        return plan
    written = plan.recipe_for is not None or plan.factor is not None
    went_in = {folded(item.name): item for item in batch.seasonings if written or folded(item.name) in weighed}
    pinches = (_as_put_in(pinch, went_in.get(folded(pinch.name))) for pinch in plan.seasonings)
    return replace(plan, seasonings=tuple(pinches), recipe_for=None, factor=None)


def _as_put_in(pinch: Pinch, item: Seasoned | None) -> Pinch:
    if item is None:
        return pinch
    if item.used is not None:
        return Pinch(pinch.name, pinch.key, Measure(item.used, "g"))
    return pinch if item.amount is None else Pinch(pinch.name, pinch.key, Measure(item.amount, item.unit))


def _of_weights(plan: Plan, batch: Batch) -> Plan:
    """The plan with so much of each cut as went in, whatever fat and weight had been aimed at."""
    said = {folded(item.name): item for item in plan.items}
    names, unit = data.cut_names(), "lb" if batch.units == "us" else "kg"
    items = []
    for part in batch.parts:
        item = said.get(folded(part.cut)) or Item(part.cut, names.get(part.cut.lower(), ()), fat=part.fat)
        weight = Measure(units.to(part.used, "g", unit), unit)
        items.append(Item(item.name, item.keys, item.fat, item.fat_about, item.fat_high, weight, price=item.price))
    whole = dict.fromkeys(("batch", "target", "target_high", "ratio", "budget"))
    wish = plan.patties
    if wish is not None and wish.size is not None:
        wish = replace(wish, count=None, count_high=None)  # as many as these weights give
    return replace(plan, items=tuple(items), equal=False, keep=False, wish="", groups=(), patties=wish, **whole)


def for_weight(batch: Batch, weight: Measure) -> Plan | None:
    """The plan of a kept batch with every quantity scaled to another weight; None where its own weight is not known."""
    plan, whole = plan_of(batch), as_weighed(batch).grams
    if not whole and plan.batch is not None:
        whole = grams(plan.batch)
    if not whole:
        return None
    wish = plan.patties
    if wish is not None and wish.size is not None:
        wish = replace(wish, count=None, count_high=None)  # as many as the new weight gives
    scaled = merge.scaled(replace(plan, patties=wish, groups=(), spare=None, seconds=None), grams(weight) / whole)
    if plan.batch is not None or not any(item.weight is not None for item in scaled.items):
        scaled = replace(scaled, batch=weight)
    return scaled


def freed(plan: Plan) -> Plan:
    """The plan with its whole weight kept and its cuts free to be weighed anew, for another fat."""
    weighed = [item.weight for item in plan.items if item.weight is not None]
    if not weighed or len(weighed) < len(plan.items) or len(weighed) < 2:
        return plan
    whole, unit = sum((grams(weight) for weight in weighed), Fraction(0)), weighed[0].unit
    items = tuple(replace(item, weight=None) for item in plan.items)
    return replace(plan, items=items, batch=plan.batch or Measure(units.to(whole, "g", unit), unit))


def times(batch: Batch, factor: Fraction) -> Plan:
    """The plan of a kept batch with every quantity so many times as much."""
    return for_weight(batch, _heavier(batch, factor)) or merge.scaled(plan_of(batch), factor)


def _heavier(batch: Batch, factor: Fraction) -> Measure:
    """So many times the weight of a batch, in the unit that the batch was said in."""
    said = plan_of(batch).batch
    unit = said.unit if said is not None else ("lb" if batch.units == "us" else "kg")
    return Measure(units.to(as_weighed(batch).grams * factor, "g", unit), unit)


def automatic_name(batch: Batch) -> str:
    """A name for a batch that was given none: its cuts."""
    cuts = [part.cut for part in batch.parts][:3] or [seasoned.name for seasoned in batch.seasonings][:3]
    return " and ".join([", ".join(cuts[:-1]), cuts[-1]] if len(cuts) > 1 else cuts)


def _parts(plan: Plan, figures: Iterable[Figure], kitchen: Kitchen) -> tuple[Part, ...]:
    components = [f for f in figures if f.role is Role.COMPONENT and f.unit in _MASSES and f.value]
    if components:
        meats, _ = meat.find(plan, kitchen.country, {}, own_fats(kitchen))
        return tuple(_component(figure, meats) for figure in components)
    weighed = [item for item in plan.items if item.weight is not None]
    if weighed and len(weighed) == len(plan.items):
        return tuple(_part(item, grams(item.weight), plan, kitchen) for item in weighed if item.weight is not None)
    whole = _total(plan, figures)
    if whole is None or len(plan.items) > 1:
        return ()
    return (_part(plan.items[0], whole, plan, kitchen),) if plan.items else (Part("meat", whole),)


def _component(figure: Figure, meats: Iterable[Meat]) -> Part:
    """A cut with the fat then assumed, and the range it was taken from, where that is the meat's own."""
    fat = None if figure.fat_percent is None else _exact(figure.fat_percent)
    found = next((m for m in meats if m.name == figure.name and fat is not None and m.fat == fat), None)
    return Part(figure.name, _mass(figure), fat, *((found.low, found.high) if found else (None, None)))


def _part(item: Item, weight: Fraction, plan: Plan, kitchen: Kitchen) -> Part:
    meats, _ = meat.find(replace(plan, items=(item,)), kitchen.country, {}, own_fats(kitchen))
    found = meats[0] if meats else None
    return Part(item.name, weight, *((found.fat, found.low, found.high) if found else (item.fat,)))


def _total(plan: Plan, figures: Iterable[Figure]) -> Fraction | None:
    if plan.batch is not None:
        return grams(plan.batch)
    totals = [f for f in figures if f.role is Role.TOTAL and f.unit in _MASSES and f.name != "mixed weight"]
    return _mass(totals[0]) if totals else None


def _seasonings(figures: Iterable[Figure]) -> tuple[Seasoned, ...]:
    """By name; "salt, by spoon" and "salt, by weight" are the same salt in another measure."""
    found: dict[str, Seasoned] = {}
    for figure in figures:
        if figure.role is not Role.SEASONING:
            continue
        name = figure.name.split(", by ")[0]
        kept = found.get(name, Seasoned(name))
        if figure.unit in _MASSES:
            kept = replace(kept, grams=_mass(figure))
        else:
            kept = replace(kept, amount=_exact(figure.value), unit=figure.unit)
        found[name] = kept
    return tuple(found.values())


def _first(figures: Iterable[Figure], role: Role) -> Figure | None:
    return next((figure for figure in figures if figure.role is role), None)


def _exact(value: float | str) -> Fraction:
    return Fraction(value).limit_denominator(_FINEST)


def _mass(figure: Figure) -> Fraction:
    return units.grams(_exact(figure.value), figure.unit)


def _whole(figure: Figure | None) -> int | None:
    return None if figure is None or isinstance(figure.value, str) else int(figure.value)
