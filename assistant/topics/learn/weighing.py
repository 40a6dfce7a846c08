"""The fat of a cut with its range, from what was weighed: mass balance and the published shares that stay in."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct
from msgspec.structs import astuple, replace

from assistant import data, units, wording
from assistant.answer import Figure, Role
from assistant.data import CutRow
from assistant.engine import learn
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput
from assistant.language.phrases import Measure
from assistant.topics.base import Kitchen
from assistant.topics.kept import kept_shares
from assistant.topics.learn.request import CookedOut, Parted, Trimmed, Weighed
from assistant.topics.plan import meat
from assistant.topics.plan.request import Item, Plan
from assistant.topics.plan.section import grams

VISIBLE_FAT = {"beef": "beef fat", "pork": "pork fat", "lamb": "lamb fat", "veal": "veal fat"}
LEAN = {"beef": "beef lean", "pork": "pork lean", "lamb": "lamb lean", "veal": "veal lean"}
"""Rows of the cut table for visible fat and for meat without any, by species."""


class Learned(Struct, frozen=True):
    """What weighing showed: the fat with its range, and the words that go with it."""

    name: str
    fat: Ranged[Fraction]
    says: str
    source: str
    figures: tuple[Figure, ...] = ()
    notes: tuple[str, ...] = ()


def shown(measure: Measure | None) -> str:
    """A weight in the system it was said in."""
    if measure is None:
        return "some"
    return wording.weight(grams(measure), "us" if measure.unit in ("lb", "oz") else "metric")


def _row(cut: str, keys: tuple[str, ...], kitchen: Kitchen) -> CutRow | str:
    """The row of a cut as the batch would take it; the question where the word is open."""
    meats, doubt = meat.find(Plan(items=(Item(cut, keys),)), kitchen.country, {})
    if doubt is not None or meats[0].row is None:
        return doubt.question if doubt is not None else f"I have no fat figure for {cut}."
    return meats[0].row


def _ranged(row: CutRow) -> Ranged[Fraction]:
    return Ranged(row.fat, row.low, row.high)


def worked_out(request: Weighed, kitchen: Kitchen) -> Learned | str:
    """What the weights show, or why they cannot all be right."""
    weights = [value for value in astuple(request) if isinstance(value, Measure)]
    if any(measure.value <= 0 for measure in weights):
        return "Every weight has to be above nothing. Which one is a slip?"
    if isinstance(request, CookedOut):
        return _from_cook_out(request, kitchen)
    return _from_trimming(request, kitchen) if isinstance(request, Trimmed) else _from_parting(request, kitchen)


def _from_trimming(request: Trimmed, kitchen: Kitchen) -> Learned | str:
    assert request.piece is not None
    row = _row(request.cut, request.keys, kitchen) if request.cut else data.cuts()["beef, any cut"]
    if isinstance(row, str):
        return row
    if row.species not in VISIBLE_FAT:
        return f"I have no figure for the fat cut off {row.species}. A cook-out test of what is left tells: ask me how."
    trim = data.cuts()[VISIBLE_FAT[row.species]]
    piece, off = grams(request.piece), grams(request.off)
    if off >= piece:
        return f"{shown(request.off)} cannot come off {shown(request.piece)}. Is one of the two weights a slip?"
    before = _ranged(row) if request.fat is None else Ranged(request.fat, request.fat, request.fat)
    try:
        left = learn.after_trimming(before, piece, off, _ranged(trim))
    except BadInput as fault:
        if request.fat is not None:
            return f"That does not add up: {fault.wanted} could come off a piece of {wording.percent(request.fat)} fat. Which figure is off?"
        left = None
    return _left_of(request, row, trim, left, kitchen)


def _left_of(
    request: Trimmed, row: CutRow, trim: CutRow, left: Ranged[Fraction] | None, kitchen: Kitchen
) -> Learned | str:
    """The fat of what is left, never taken for leaner than the cut is with no visible fat at all."""
    assert request.piece is not None
    off, rest = grams(request.off), grams(request.piece) - grams(request.off)
    name = f"{request.cut or 'meat'}, trimmed"
    floor = row.lean_only if request.fat is None else None
    notes = []
    if floor is not None:
        whole = learn.from_parting(rest, off, Ranged(floor), Ranged(trim.fat)).value
        notes.append(
            f"The low end is {request.cut} with no visible fat left on it ({wording.percent(floor)}, {row.source}); "
            f"the whole piece would then have held {wording.percent(whole)}. The table has it at {wording.percent(row.fat)}."
        )
        if left is None or left.value < floor:
            notes.insert(0, f"More fat came off than a usual {request.cut} carries: taken as trimmed clean.")
            # the fat end still holds where the table's fattest piece allows it, else it is open
            left = Ranged(floor, floor, None if left is None else left.high)
        elif left.low is None or left.low < floor:
            left = replace(left, low=floor)
    if left is None:
        return f"More fat came off than a usual {request.cut} carries, so the table cannot tell. A cook-out test of what is left will: ask me how."
    share = off / grams(request.piece) * 100
    shown = range_words(left)
    return Learned(
        name,
        left,
        f"What is left of the {request.cut or 'piece'} is about {shown} fat: {wording.lean_fat(left.value, 0)}.",
        f"{row.source}; fat cut off: {trim.source}; mass balance"
        if request.fat is None
        else f"your figure; fat cut off: {trim.source}",
        (
            _weight_figure("left after trimming", Role.TOTAL, rest, request.piece),
            Figure("share cut off", Role.RATIO, float(share), "%", shown=wording.percent(share)),
        ),
        tuple(notes),
    )


def _from_parting(request: Parted, kitchen: Kitchen) -> Learned | str:
    row = _row(request.cut, request.keys, kitchen)
    if isinstance(row, str):
        return row
    if row.species not in VISIBLE_FAT:
        return f"I have no figures for the lean and the fat of {row.species}. A cook-out test tells: ask me how."
    trim, lean = data.cuts()[VISIBLE_FAT[row.species]], data.cuts()[LEAN[row.species]]
    of_lean = (
        _ranged(lean)
        if row.lean_only is None
        else Ranged(row.lean_only, min(lean.low, row.lean_only), max(lean.high, row.lean_only))
    )
    found = learn.from_parting(grams(request.lean), grams(request.fat), of_lean, _ranged(trim))
    return Learned(
        request.cut,
        found,
        f"Your {request.cut} is about {range_words(found)} fat: {wording.lean_fat(found.value, 0)}.",
        f"lean: {lean.source}; visible fat: {trim.source}; mass balance",
        (_weight_figure("lean and fat", Role.TOTAL, grams(request.lean) + grams(request.fat), request.lean),),
    )


def _from_cook_out(request: CookedOut, kitchen: Kitchen) -> Learned | str:
    assert request.raw is not None and request.cooked is not None and request.rendered is not None
    raw, cooked, fat = (grams(m) for m in (request.raw, request.cooked, request.rendered))
    if cooked + fat > raw:
        return f"{shown(request.cooked)} and {shown(request.rendered)} are more than the {shown(request.raw)} raw. Which weight is a slip?"
    shares = kept_shares(request.form, request.method)
    out = wording.percent(fat / raw * 100)
    try:
        found = learn.from_cook_out(raw, cooked, fat, shares)
    except BadInput:
        ends = " to ".join(f"{wording.number(pick(k.raw_fat for k in shares))}%" for pick in (min, max))
        if fat / raw > Fraction(1, 20):
            return (
                f"It is fatter than the published figures reach ({ends}): {out} of it ran out, so it holds at least that much. "
                "Mix it half and half with a lean cut and test that: twice the answer, less the lean one's fat, is yours."
            )
        return f"So little ran out ({out}) that the published figures ({ends}) cannot tell how lean it is; the label or the butcher can."
    name = request.cut or "sample"
    way = {"crumbles": "crumbled in a pan", "loaf": "baked as a loaf"}.get(
        request.form, f"a patty, {'grilled' if request.method == 'broiled' else 'in a pan'}"
    )
    notes = [
        f"Taken as {way}; say grilled or baked if it was." if request.assumed else f"Cooked: {way}.",
        "Fat that stayed in the pan is not counted, so the truth is rather above than below.",
    ]
    if request.cut and not _is_beef(request.cut):
        notes.append("The published shares are of ground beef; for other meat they are a stand-in.")
    return Learned(
        name,
        found.fat,
        f"The raw {name} was about {range_words(found.fat)} fat: {wording.lean_fat(found.fat.value, 0)}.",
        "USDA cooking yields and SR28: share of its fat that ground beef keeps",
        (
            Figure("fat that ran out, of the raw weight", Role.RATIO, float(fat / raw * 100), "%", shown=out),
            Figure(
                "water and steam, of the raw weight",
                Role.RATIO,
                float(found.water_lost),
                "%",
                shown=wording.percent(found.water_lost),
            ),
            Figure(
                "cooked, of the raw weight",
                Role.YIELD,
                float(cooked / raw * 100),
                "%",
                shown=wording.percent(cooked / raw * 100),
            ),
        ),
        tuple(notes),
    )


def _is_beef(cut: str) -> bool:
    rows = data.cuts()
    return all(rows[key].species == "beef" for key in data.cut_names().get(cut.lower(), ()))


def range_words(fat: Ranged[Fraction]) -> str:
    """ "12% (10 to 14%)"; an end that is not known is said to be open."""
    middle = wording.percent(fat.value, 0)
    if fat.low is not None and fat.high is not None:
        return f"{middle} ({wording.percent_range(fat.low, fat.high)})"
    if fat.low is not None:
        return f"{middle} (at least {wording.percent(fat.low, 0)})"
    return f"{middle} (at most {wording.percent(fat.high, 0)})" if fat.high is not None else middle


def _weight_figure(name: str, role: Role, grams: Fraction, like: Measure) -> Figure:
    unit = like.unit if like.unit in ("g", "kg", "lb", "oz") else "g"
    system = "us" if unit in ("lb", "oz") else "metric"
    return Figure(name, role, float(units.to(grams, "g", unit)), unit, shown=wording.both(grams, system))
