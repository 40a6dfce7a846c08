"""The cook's own fat figures of cuts, kept in the notebook: said outright, or learned by weighing, with their range."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data
from assistant.notebook import NotebookError, Stocked, folded
from assistant.topics.base import Kitchen

_SETTING = "own fat "
"""A learned figure stands in the settings as "fat low high", for a cut of the stock has no room for a range."""


class OwnFat(Struct, frozen=True):
    """A cook's own figure for a cut, percent; low and high are the figure itself where it was said without a range."""

    fat: Fraction
    low: Fraction
    high: Fraction


def own_fats(kitchen: Kitchen) -> Mapping[str, OwnFat]:
    """The figures kept, by the folded name of the cut. Empty where there is no notebook, or none that can be read:
    a batch can be worked out without one.
    """
    try:
        notebook = kitchen.notebook()
        if not notebook.path.exists():
            return {}
        said = {folded(item.cut): item.fat for item in notebook.stock() if item.fat is not None}
        settings = notebook.settings()
    except NotebookError:
        return {}
    found = {cut: OwnFat(fat, fat, fat) for cut, fat in said.items()}
    for key, value in settings.items():
        learned = _from_text(value) if key.startswith(_SETTING) else None
        cut = folded(key.removeprefix(_SETTING))
        # a figure said later, outright, stands in the stock and wins
        if learned is not None and said.get(cut, learned.fat) == learned.fat:
            found[cut] = learned
    return found


def of_cut(name: str, own: Mapping[str, OwnFat]) -> OwnFat | None:
    """The figure kept for a cut: under the same name, or under another name for the same single row of the table."""
    if folded(name) in own:
        return own[folded(name)]
    keys = _keys(name)
    if len(keys) != 1:
        return None
    return next((kept for cut, kept in own.items() if _keys(cut) == keys), None)


def keep(kitchen: Kitchen, cut: str, figure: OwnFat) -> None:
    """Keep a figure for a cut. Raises NotebookError where the notebook cannot be written."""
    notebook = kitchen.notebook()
    there = next((item for item in notebook.stock() if folded(item.cut) == folded(cut)), None)
    if figure.low != figure.high:
        notebook.set_setting(_SETTING + cut, f"{figure.fat} {figure.low} {figure.high}")
        if there is None or there.fat is None:
            return
    notebook.put_stock(replace(there or Stocked(cut), fat=figure.fat, updated=kitchen.now()))


def _keys(name: str) -> tuple[str, ...]:
    return data.cut_names().get(name.lower(), ())


def _from_text(text: str) -> OwnFat | None:
    try:
        fat, low, high = (Fraction(word) for word in text.split())
    except (ValueError, ZeroDivisionError):
        return None
    return OwnFat(fat, low, high)
