"""What the stock does and says."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import partial
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Measure
from assistant.notebook import Batch, ManyBatches, NoSuchBatch, NotebookError, Part, Stocked
from assistant.notebook.records import as_weighed
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Talk, Unclear, answered, ended
from assistant.topics.notes import batches, finding
from assistant.topics.notes.answering.saying import told_fault
from assistant.topics.notes.finding import is_of
from assistant.topics.plan import larder
from assistant.topics.plan.request import Item
from assistant.topics.plan.section import grams, system
from assistant.topics.stock.request import Clear, FromStock, InHand, Keep, Made, Show, Unprice


class _Kept(Struct, frozen=True):
    """What was written down. told: weights; known: what is known besides a weight; was: what a new weight replaced."""

    told: tuple[str, ...]
    known: tuple[str, ...]
    was: tuple[str, ...]
    figures: tuple[Figure, ...]
    notes: tuple[str, ...]


def _keep(wish: Keep, kitchen: Kitchen, _talk: Talk) -> Outcome:
    lacking = next((item.name for item in wish.items if item.weight is not None and grams(item.weight) < 0), None)
    if lacking is not None:
        return ends(Status.IMPOSSIBLE, f"Less than no {lacking} cannot be in stock.")
    odd = next((item for item in wish.items if item.fat is not None and not 0 <= item.fat <= 100), None)
    if odd is not None and odd.fat is not None:
        return ends(Status.IMPOSSIBLE, f"{odd.name} cannot be {float(odd.fat):g}% fat: fat runs from 0 to 100%.")
    kept = _written(wish, kitchen)
    notes = kept.notes
    if kept.was:
        notes = (f"In place of {wording.listing(kept.was)}.", *notes)
    if kept.known:
        notes += ("It counts in every batch from now on that names this cut without a figure of its own.",)
    said = f"In stock now: {wording.listing(kept.told)}." if kept.told else ""
    noted = _noted(kept.known) if kept.known else ""
    understood = f"Stock: {wording.listing([*kept.told, *kept.known])}"
    return Outcome(_answer(understood, " ".join(filter(None, (said, noted))), kept.figures, notes), undoable=True)


def _written(wish: Keep, kitchen: Kitchen) -> _Kept:
    """Write down the weights, fats and prices that were said, as one change."""
    notebook = kitchen.notebook()
    there = notebook.stock()
    told: list[str] = []
    known: list[str] = []
    was: list[str] = []
    items: list[Stocked] = []
    figures: list[Figure] = []
    notes: list[str] = []
    for item in wish.items:
        before = larder.found(there, item.name) or Stocked(item.name)
        now = _with_figures(item, before, kitchen)
        if item.weight is not None:
            left, note = _changed(wish.how, now.grams or Fraction(0), grams(item.weight), item.name, kitchen)
            now, notes = replace(now, grams=left), [*notes, *note]
            told.append(larder.weight_told(now, kitchen.units))
            figures.append(_figure(now.cut, left, kitchen))
            if wish.how == "have" and before.grams and before.grams != left:
                was.append(larder.weight_told(before, kitchen.units))
        else:
            known.append(larder.figures_told(now))
            figures += _known_figures(now)
        items.append(now)
    notebook.put_stocks(items)
    return _Kept(tuple(told), tuple(known), tuple(was), tuple(figures), tuple(notes))


def _noted(known: Iterable[str]) -> str:
    return f"Noted: {wording.listing(list(known))}."


def _with_figures(item: Item, there: Stocked, kitchen: Kitchen) -> Stocked:
    """What is known of a cut, with the fat and the price that were said of it now."""
    price, currency = _price(item) or (there.price, there.currency)
    if price is not None and not currency:
        currency = wording.HOME_CURRENCY.get(kitchen.country, "USD")
    fat = item.fat if item.fat is not None else there.fat
    return replace(there, price=price, currency=currency, fat=fat, updated=kitchen.now())


def _known_figures(item: Stocked) -> list[Figure]:
    found = []
    if item.fat is not None:
        found.append(Figure(f"fat of {item.cut}", Role.FAT, float(item.fat), "%", shown=wording.percent(item.fat)))
    if item.price is not None and item.currency:
        shown = wording.price(item.price, item.currency, "kg")
        found.append(Figure(f"{item.cut} per kg", Role.PRICE, float(item.price), item.currency, shown=shown))
    return found


def _changed(how: str, had: Fraction, weight: Fraction, name: str, kitchen: Kitchen) -> tuple[Fraction, list[str]]:
    """What is left of a cut, and a note where more was taken than had been there."""
    if how == "have":
        return weight, []
    if how == "add":
        return had + weight, []
    if weight <= had:
        return had - weight, []
    gap = wording.weight(weight - had, kitchen.units)
    return Fraction(0), [
        f'That is {gap} more {name} than the stock had, so none is left. Correct it with "stock: … {name}".'
    ]


def _have(wish: InHand, kitchen: Kitchen, talk: Talk) -> Outcome:
    """Meat in the kitchen, said by itself: remembered at once, which is told, with what it makes as it stands. Where it
    cannot be written down the batch is answered all the same."""
    outcome = within.answered(wish.plan, kitchen, talk)
    asked = outcome.pending.missing if outcome.pending is not None else ""
    if outcome.answer.status in (Status.IMPOSSIBLE, Status.NOT_UNDERSTOOD):
        return outcome
    if asked.startswith("cut:"):
        note = 'Nothing is kept in stock yet; once the cut is clear, say "remember that".'
        return replace(outcome, answer=replace(outcome.answer, notes=(*outcome.answer.notes, note)))
    try:
        kept = _written(Keep(wish.items, wish.how), replace(kitchen, units=system(wish.plan, kitchen.units)))
    except NotebookError as fault:
        said = f"Not kept as stock. {told_fault(fault)} {outcome.answer.message}".strip()
        return replace(outcome, answer=replace(outcome.answer, message=said))
    if kept.was:  # what was said of the stock in the plan's answer was said of the old weights
        outcome = within.answered(wish.plan, kitchen, talk)
    instead = f" (in place of {wording.listing(kept.was)})" if kept.was else ""
    said = f'In stock now: {wording.listing(kept.told)}{instead}. It is remembered; "undo" takes that back.'
    shown = outcome.answer
    if shown.status is not Status.ANSWERED:  # one cut by itself: there is nothing to work out yet
        shown = replace(shown, topic="notebook", status=Status.ANSWERED, headline=said, figures=kept.figures)
    else:  # it is told what there is, and not yet ground
        shown = replace(shown, message=said, steps=(), waits=())
    return replace(outcome, answer=shown, plan=wish.plan, pending=None, undoable=True)


def _show(wish: Show, kitchen: Kitchen, _talk: Talk) -> Outcome:
    kept = tuple(item for item in kitchen.notebook().stock() if not wish.cut or is_of(item.cut, wish.cut))
    if not kept:
        what = wish.cut or "meat"
        return Outcome(
            _answer(
                "Show the stock", f'No {what} is remembered in stock. Say for example "remember I have 2 kg round".'
            )
        )
    there, known = larder.in_words(kept, kitchen.units)
    figures = [_figure(item.cut, item.grams, kitchen) for item in kept if item.grams is not None]
    figures += [figure for item in kept if item.grams is None for figure in _known_figures(item)]
    said = there or f"No {wish.cut or 'meat'} is in stock."
    return Outcome(_answer("Show the stock", said, tuple(figures), (known,) if known else ()))


def _clear(wish: Clear, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    stock = notebook.stock()
    gone = [item.cut for item in stock if not wish.cuts or any(larder.found((item,), cut) for cut in wish.cuts)]
    if not notebook.drop_stock(*gone):
        return Outcome(_answer("Forget stock", "Nothing of that is in stock."))
    return Outcome(_answer("Forget stock", f"Out of stock now: {wording.listing(gone)}."), undoable=True)


def _unprice(wish: Unprice, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Prices are forgotten; what else is known of the cuts stays."""
    notebook = kitchen.notebook()
    priced = [
        item
        for item in notebook.stock()
        if item.price is not None and (not wish.cuts or any(larder.found((item,), cut) for cut in wish.cuts))
    ]
    if not priced:
        return Outcome(_answer("Forget prices", "No such price is remembered."))
    told = [f"{item.cut} {wording.price(item.price or Fraction(0), item.currency, 'kg')}" for item in priced]
    notebook.put_stocks([replace(item, price=None, currency="", updated=kitchen.now()) for item in priced], "prices")
    return Outcome(_answer("Forget prices", f"Forgotten: {wording.listing(told)}."), undoable=True)


def _made(wish: Made, kitchen: Kitchen, talk: Talk) -> Outcome:
    batch = _batch_made(wish, kitchen, talk)
    if isinstance(batch, Outcome):
        return batch
    kitchen = replace(kitchen, units=batch.units or kitchen.units)
    notebook = kitchen.notebook()
    stock = [item for item in notebook.stock() if item.grams is not None]
    taken = [(part, there) for part in batch.parts for there in [larder.found(stock, part.cut)] if there is not None]
    if not taken:
        known = "None of its cuts is in stock" if stock else "No stock is remembered"
        return Outcome(_answer("The batch was made", f"Noted. {known}, so nothing is taken off."))
    left, notes = {there.cut: there for _, there in taken}, []
    for part, there in taken:
        weight, note = _changed("take", left[there.cut].grams or Fraction(0), part.grams, there.cut, kitchen)
        left[there.cut] = replace(left[there.cut], grams=weight, updated=kitchen.now())
        notes += note
    notebook.put_stocks(left.values(), "drawing down")
    told = [larder.weight_told(item, kitchen.units) for item in left.values()]
    figures = [
        replace(_figure(item.cut, item.grams or Fraction(0), kitchen), role=Role.LEFT_OVER) for item in left.values()
    ]
    notes += _not_in_stock(batch, taken)
    return Outcome(
        _answer("The batch was made", f"Left in stock: {wording.listing(told)}.", tuple(figures), tuple(notes)),
        undoable=True,
    )


def _batch_made(wish: Made, kitchen: Kitchen, talk: Talk) -> Batch | Outcome:
    """The batch that was made, with what went into it: one of the notebook by name, else the one on the table."""
    if wish.name:
        try:
            kept = finding.find(kitchen, wish.name)
        except (NoSuchBatch, ManyBatches, finding.NothingSaved):
            return ends(Status.NEEDS_DETAIL, f'No saved batch is called "{wish.name}". Which batch was made?')
        if wish.weight is None:
            return as_weighed(kept)
        plan = batches.for_weight(kept, wish.weight)
    else:
        plan = talk.plan
    if plan is not None:
        outcome = within.answered(plan, kitchen, talk)
        if outcome.answer.status is Status.IMPOSSIBLE:
            # the figures of what cannot be made are no batch that somebody made
            return ends(
                Status.NEEDS_DETAIL,
                'That batch cannot be made. Tell me what went in, such as "made 2 kg chuck and 500 g suet".',
            )
        batch = batches.batch_of(plan, outcome.answer, kitchen)
        if batch is not None and batch.parts:
            return batch
    return ends(Status.NEEDS_DETAIL, 'Made which batch? Tell me what went in, such as "2 kg chuck and 500 g suet".')


def _not_in_stock(batch: Batch, taken: Iterable[tuple[Part, Stocked]]) -> list[str]:
    found = {part.cut for part, _ in taken}
    others = [part.cut for part in batch.parts if part.cut not in found]
    return [f"Not in stock, so not taken off: {wording.listing(others)}."] if others else []


def _batch(wish: FromStock, kitchen: Kitchen, talk: Talk) -> Outcome:
    stock = [item for item in kitchen.notebook().stock() if item.grams]
    if not stock:
        return ends(
            Status.NEEDS_DETAIL,
            'No meat is remembered in stock. Say for example "remember I have 2 kg round and 1 kg suet".',
        )
    items = [
        Item(
            item.cut,
            _keys(item.cut),
            fat=item.fat,
            weight=Measure(item.grams or Fraction(0), "g"),
            weight_is="have",
        )
        for item in stock
    ]
    named = {item.name for item in wish.plan.items}
    extra = tuple(item for item in items if item.name not in named and item.name not in wish.plan.without)
    plan = replace(wish.plan, items=(*wish.plan.items, *extra), units=system(wish.plan, kitchen.units))
    return within.answered(plan, kitchen, talk)


def _keys(cut: str) -> tuple[str, ...]:
    return data.cut_names().get(cut.lower(), ())


def _price(item: Item) -> tuple[Fraction, str] | None:
    """The price of a kilogram, where one was said."""
    if item.price is None:
        return None
    per = item.price.per or item.weight
    return (item.price.amount / grams(per) * 1000, item.price.currency) if per is not None and per.value else None


def _figure(cut: str, mass: Fraction, kitchen: Kitchen) -> Figure:
    unit = "lb" if kitchen.units == "us" else "kg"
    return Figure(cut, Role.COMPONENT, float(units.to(mass, "g", unit)), unit, shown=wording.both(mass, kitchen.units))


def _unclear(wish: Unclear, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    return ends(Status.NEEDS_DETAIL, wish.question)


_answer = partial(answered, "stock")
ends = partial(ended, "stock", "The stock")
DOERS: dict[type, Any] = {
    Keep: _keep,
    InHand: _have,
    Show: _show,
    Clear: _clear,
    Unprice: _unprice,
    Made: _made,
    FromStock: _batch,
    Unclear: _unclear,
}
