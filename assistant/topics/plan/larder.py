"""What the notebook knows of the meat in the kitchen, where a batch is planned: prices, and how far the stock reaches."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Measure
from assistant.notebook import NotebookError, Stocked, folded
from assistant.topics.base import Kitchen
from assistant.topics.plan.request import Item, Plan, Price


def stock(kitchen: Kitchen) -> tuple[Stocked, ...]:
    """What is remembered; nothing where there is no notebook, or none that can be read: a batch needs none."""
    try:
        notebook = kitchen.notebook()
        return notebook.stock() if notebook.path.exists() else ()
    except NotebookError:
        return ()


def found(kept: Iterable[Stocked], cut: str) -> Stocked | None:
    """What is remembered of a cut: under the same name, or under another name for the same row of the cut table."""
    kept = list(kept)
    same = next((item for item in kept if folded(item.cut) == folded(cut)), None)
    keys = _keys(cut)
    if same is not None or len(keys) != 1:
        return same
    return next((item for item in kept if _keys(item.cut) == keys), None)


def with_prices(plan: Plan, kitchen: Kitchen) -> tuple[Plan, tuple[str, ...]]:
    """The plan with the prices kept for cuts that were given none, where its cost is asked; and which those are."""
    if "cost" not in plan.asks and plan.budget is None and not any(item.price is not None for item in plan.items):
        return plan, ()
    kept = stock(kitchen) if plan.items else ()
    money = next((item.price.currency for item in plan.items if item.price is not None and item.price.currency), "")
    items: list[Item] = []
    used: list[str] = []
    other: list[str] = []
    for item in plan.items:
        there = found(kept, item.name) if item.price is None else None
        if there is None or there.price is None:
            items.append(item)
            continue
        shown = f"{item.name} at {wording.price(there.price, there.currency, 'kg')}"
        money = money or there.currency
        if there.currency == money:
            items.append(_priced(item, there.price, there.currency))
            used.append(shown)
        else:  # two currencies make no sum
            items.append(item)
            other.append(shown)
    notes: tuple[str, ...] = (f"From the notebook: {wording.listing(used)}.",) if used else ()
    if other:
        notes += (f"Not used, another currency: {wording.listing(other)}.",)
    return replace(plan, items=tuple(items)), notes


def shortfalls(figures: Iterable[Figure], kitchen: Kitchen) -> tuple[str, ...]:
    """What the stock lacks for the cuts of a batch, of those that are remembered with a weight."""
    kept = [item for item in stock(kitchen) if item.grams is not None]
    if not kept:
        return ()
    lacking = []
    for figure in figures:
        there = (
            found(kept, figure.name) if figure.role is Role.COMPONENT and not isinstance(figure.value, str) else None
        )
        if there is None or there.grams is None or isinstance(figure.value, str):
            continue
        gap = units.grams(Fraction(figure.value).limit_denominator(10**9), figure.unit) - there.grams
        if gap > 0:
            lacking.append(f"{wording.both(gap, kitchen.units)} more {figure.name}")
    return (f"That takes {wording.listing(lacking)} than there is in stock.",) if lacking else ()


def hint(kitchen: Kitchen) -> str:
    """What is in stock, where a batch is wanted and no cut was named; "" where nothing is remembered."""
    there = [item for item in stock(kitchen) if item.grams]
    if not there:
        return ""
    listed = wording.listing([f"{wording.both(item.grams or Fraction(0), kitchen.units)} {item.cut}" for item in there])
    return f' In stock: {listed}; say "from my stock" to use that.'


def in_words(kept: Iterable[Stocked], system: str) -> tuple[str, str]:
    """What there is by weight, and what is known of cuts without one; "" for either where there is nothing."""
    kept = list(kept)
    weighed = [
        weight_told(item, system) + figures_told(item).removeprefix(item.cut) for item in kept if item.grams is not None
    ]
    known = [figures_told(item) for item in kept if item.grams is None and (item.price or item.fat) is not None]
    return (
        f"In stock: {wording.listing(weighed)}." if weighed else "",
        f"Known without a weight: {wording.listing(known)}." if known else "",
    )


def weight_told(item: Stocked, system: str) -> str:
    """ "2 kg round", "no round"."""
    return f"{wording.both(item.grams, system)} {item.cut}" if item.grams else f"no {item.cut}"


def figures_told(item: Stocked) -> str:
    """ "brisket trim at 45% fat ($14/kg)": what is known of a cut besides its weight."""
    fat = f" at {wording.percent(item.fat)} fat" if item.fat is not None else ""
    price = f" ({wording.price(item.price, item.currency, 'kg')})" if item.price is not None and item.currency else ""
    return f"{item.cut}{fat}{price}"


def _priced(item: Item, price: Fraction, currency: str) -> Item:
    return replace(item, price=Price(price, currency, Measure(Fraction(1), "kg")))


def _keys(cut: str) -> tuple[str, ...]:
    return data.cut_names().get(cut.lower(), ())
