"""A ground batch put right: what to add, or to take out and replace, within what there is of it; and its salt."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import data, wording
from assistant.answer import Figure, Role
from assistant.engine import blend as engine
from assistant.engine import correct, season
from assistant.engine.kinds import Cut, NoBlend
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit
from assistant.topics.plan.telling import told

USUAL_FAT, USUAL_LEAN = ("suet", "beef suet"), ("round", "beef round")
"""Name and row of what is worked out as an example where nobody says what goes in."""


def section(plan: Plan, meats: Sequence[Meat], default_system: str) -> Section | None:
    """The correction of a plan that has a ground batch; None for any other plan."""
    heap = _heap(plan, meats)
    if heap is None or plan.target is None or heap.item.weight is None or heap.fat is None:
        return None
    others = [meat for meat in meats if meat is not heap]
    unknown = next((meat for meat in others if meat.fat is None), None)
    if unknown is not None:
        return Section(asks="fat", message=f"Which cut is the {unknown.name}, or how fat is it (in %)?")
    speak = system(plan, default_system)
    if not others:
        return _what_goes_in(heap, plan.target, speak)
    if plan.batch is not None:
        # "what if it's only 4 lb": said of what is there
        heap = replace(heap, item=replace(heap.item, weight=plan.batch))
        plan = replace(plan, batch=None)
    assert heap.item.weight is not None and heap.fat is not None and plan.target is not None
    whole, cuts = grams(heap.item.weight), [_cut(meat) for meat in others]
    solve = correct.swap_to_reach if plan.keep else correct.add_to_reach
    found = solve(whole, heap.fat, cuts, plan.target)
    if isinstance(found, NoBlend):
        return _too_little(plan, heap, others, found, speak)
    answer = told(plan, [heap, *others], found.blend, speak)
    unit = weight_unit(plan, speak, whole)
    put = wording.listing(
        [f"{wording.both(g, speak)} {meat.name}" for meat, g in zip(others, found.add, strict=True) if g]
    )
    figures = [_add(meat, g, unit, speak) for meat, g in zip(others, found.add, strict=True)]
    says = f"Add {put}: {wording.both(found.blend.total, speak)} at {wording.lean_fat(found.blend.fat)}."
    if plan.keep:
        out = Figure(
            "take out", Role.LEFT_OVER, in_unit(found.take_out, unit), unit, shown=wording.both(found.take_out, speak)
        )
        figures.insert(0, out)
        says = (
            f"Take out {out.shown} and put in {put}: still {wording.both(whole, speak)}, "
            f"at {wording.lean_fat(found.blend.fat)}."
        )
    salted, notes = _salt(plan, whole - found.take_out, found.blend.total, speak)
    others_told = tuple(f for f in answer.figures if f.role is not Role.ADD)
    return replace(
        answer,
        headline=says,
        figures=(*figures, *others_told, *salted),
        notes=(*_stock_notes(others, found.add, speak), *notes, *answer.notes),
        steps=("Work the addition in cold and only until it is even; grind it first if it is not ground.",),
    )


def _what_goes_in(heap: Meat, target: Fraction, speak: str) -> Section:
    """How much comes out depends on what goes in for it: asked, with the figure for a usual choice."""
    assert heap.item.weight is not None and heap.fat is not None
    fatter = heap.fat < target
    name, key = USUAL_FAT if fatter else USUAL_LEAN
    row, other = data.cuts()[key], "fat trim or belly" if fatter else "shoulder clod or another lean cut"
    found = correct.swap_to_reach(grams(heap.item.weight), heap.fat, [Cut(name, row.fat, row.low, row.high)], target)
    if isinstance(found, NoBlend):
        return Section(asks="second cut", message=f"What goes in for it: {name}, {other}?")
    shown = wording.both(found.take_out, speak)
    unit = "lb" if speak == "us" else "g"
    return Section(
        asks="second cut",
        message=f"What goes in for it: {name}, {other}? With {name} at about {wording.percent(row.fat)} fat, take out "
        f"{shown} and put in as much.",
        figures=(
            Figure("take out", Role.LEFT_OVER, in_unit(found.take_out, unit), unit, source=row.source, shown=shown),
        ),
    )


def _heap(plan: Plan, meats: Sequence[Meat]) -> Meat | None:
    """The meat that is ground already: the one said so; where the weight is to stay, the one that has a weight."""
    weighed = [meat for meat in meats if meat.item.weight is not None]
    named = next((meat for meat in weighed if meat.name == plan.heap), None)
    if named is not None or not plan.keep or len(meats) < 2:
        return named
    return min(weighed, key=lambda meat: bool(meat.item.keys), default=None)


def _cut(meat: Meat) -> Cut:
    stock = None if meat.item.weight is None else grams(meat.item.weight)
    return Cut(meat.name, meat.fat or Fraction(0), meat.low, meat.high, at_most=stock)


def _add(meat: Meat, mass: Fraction, unit: str, speak: str, name: str = "to add") -> Figure:
    return Figure(
        f"{meat.name} {name}",
        Role.ADD,
        in_unit(mass, unit),
        unit,
        fat_percent=float(meat.fat or 0),
        source=meat.source or None,
        shown=wording.both(mass, speak),
    )


def _stock_notes(others: Sequence[Meat], added: Sequence[Fraction], speak: str) -> tuple[str, ...]:
    """Which addition is used to the last gram, and so decides how much of the others is needed."""
    gone = [
        m.name for m, g in zip(others, added, strict=True) if m.item.weight is not None and g == grams(m.item.weight)
    ]
    return (f"What decides it: all the {wording.listing(gone)} there is goes in.",) if gone else ()


def _too_little(plan: Plan, heap: Meat, others: Sequence[Meat], found: NoBlend, speak: str) -> Section:
    """Why it cannot be done: the stock is short, or nothing named is lean or fat enough; and what comes nearest."""
    assert plan.target is not None and heap.item.weight is not None and heap.fat is not None
    whole, target = grams(heap.item.weight), plan.target
    helpful = [m for m in others if m.fat is not None and (m.fat > target) == (target > heap.fat) and m.fat != target]
    want = wording.lean_fat(target)
    if not helpful:
        side = "leaner" if target < heap.fat else "fatter"
        named = wording.listing([f"{m.name} ({wording.percent(m.fat or 0)} fat)" for m in others])
        return Section(
            impossible=True,
            message=f"{named[:1].upper()}{named[1:]} cannot bring {wording.percent(heap.fat)} fat to {wording.percent(target)}: "
            f"it takes something {side} than {wording.percent(target)}.",
        )
    unit = weight_unit(plan, speak, whole)
    cuts = [_cut(meat) for meat in helpful]
    stock = [cut.at_most or Fraction(0) for cut in cuts]
    kept = max(Fraction(0), whole - sum(stock, Fraction(0))) if plan.keep else whole
    reach = engine.mix([Cut("batch", heap.fat), *cuts], [kept, *stock])
    more = next((way.grams for way in found.more if all(at > 0 for at, _ in way.grams)), ())
    missing = wording.listing([f"{wording.both(g, speak)} more {others[at - 1].name}" for at, g in more])
    return Section(
        impossible=True,
        message=f"Not enough {wording.listing([m.name for m in helpful])} for {want}: all of it brings the batch to "
        f"{wording.lean_fat(reach.fat)}. " + (f"It takes {missing}." if missing else ""),
        figures=(
            *(_add(others[at - 1], g, unit, speak, "more") for at, g in more),
            Figure("nearest fat", Role.FAT, float(reach.fat), "%", shown=wording.percent(reach.fat)),
        ),
    )


def _salt(plan: Plan, kept: Fraction, total: Fraction, speak: str) -> tuple[list[Figure], tuple[str, ...]]:
    """What unsalted meat does to the salt of the batch: its percent now, and the salt that brings it back."""
    if plan.salt_in is None:
        return [], ("It thins the salt: cook a bite and taste it before you salt again.",) if plan.salted else ()
    percent = correct.salt_after(kept, plan.salt_in, total - kept)
    missing = season.salt_to_add(total, plan.salt_in, season.of_meat(kept, plan.salt_in))
    shown = wording.weight(missing, "metric")
    figures = [
        Figure("salt now", Role.RATIO, float(percent), "%", shown=wording.percent(percent, 2)),
        Figure("salt to add", Role.SEASONING, float(missing), "g", shown=shown),
    ]
    note = (
        f"It thins the salt from {wording.percent(plan.salt_in, 2)} to {wording.percent(percent, 2)}: "
        f"{shown} more salt would hold it, if you want it as it was."
    )
    return figures, (note,)
