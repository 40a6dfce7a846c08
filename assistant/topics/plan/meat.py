"""From the cook's word for a meat to its row: fat, range, species, source; or the question that must be asked first."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from assistant import data, wording
from assistant.data import CutRow
from assistant.topics.plan.own import OwnFat, of_cut
from assistant.topics.plan.request import Item, Plan

_ABOUT = Fraction(2)
"""Points either way when a cook says "about": a choice of ours, no source."""

_SPECIES_WORDS = {
    "beef": "beef",
    "steak": "beef",
    "pork": "pork",
    "pig": "pork",
    "lamb": "lamb",
    "mutton": "lamb",
    "veal": "veal",
    "chicken": "chicken",
    "turkey": "turkey",
    "duck": "duck",
    "venison": "venison",
    "deer": "venison",
    "boar": "wild boar",
    "goat": "goat",
    "bison": "bison",
    "elk": "elk",
    "rabbit": "rabbit",
}


class Meat(Struct, frozen=True):
    """An item with its figures. fat, low, high: percent, None where nothing is known of it. own: the cook's figure."""

    item: Item
    name: str
    row: CutRow | None
    fat: Fraction | None
    low: Fraction | None
    high: Fraction | None
    own: bool
    source: str
    note: str = ""

    @property
    def species(self) -> str:
        """The species of the row, or what the name says; "" where neither tells."""
        if self.row is not None:
            return self.row.species
        return next((species for word, species in _SPECIES_WORDS.items() if word in self.name.split()), "")


class Doubt(Struct, frozen=True):
    """A word that must be asked about: the word, the question, and the names to choose from."""

    word: str
    question: str
    keys: tuple[str, ...] = ()


def find(
    plan: Plan, country: str, choices: dict[str, str], own: Mapping[str, OwnFat] | None = None
) -> tuple[tuple[Meat, ...], Doubt | None]:
    """Every item with its figures, and the first word that has to be asked about before a fat can be worked out.

    own: the cook's figures kept in the notebook, by folded cut name; one said in the plan itself goes before them.
    """
    said = {species for item in plan.items if len(item.keys) == 1 for species in _row_species(item.keys[0])}
    meats = []
    doubts = []
    for item in plan.items:
        kept = of_cut(item.name, own) if own and item.fat is None and not item.trimmed else None
        found = _kept(item, kept) if kept is not None else _one(item, country, choices, plan, said)
        if isinstance(found, Doubt):
            doubts.append(found)
            found = Meat(item, item.name, None, None, None, None, False, "")
        meats.append(found)
    return tuple(meats), doubts[0] if doubts else None


def _kept(item: Item, figure: OwnFat) -> Meat:
    row = data.cuts().get(item.keys[0]) if len(item.keys) == 1 else None
    return Meat(item, item.name, row, figure.fat, figure.low, figure.high, True, "your figure, from the notebook")


def _row_species(key: str) -> tuple[str, ...]:
    row = data.cuts().get(key)
    return () if row is None else (row.species,)


def _one(item: Item, country: str, choices: dict[str, str], plan: Plan, said: set[str]) -> Meat | Doubt:
    key, note, doubt = _key(item, country, choices, plan, said)
    if doubt is not None and item.fat is None:
        return doubt
    row = data.cuts().get(key) if key else None
    labelled = item.name[:2].isdigit() and item.name[2:4].upper() in ("VL", "CL")
    if item.fat is not None and row is not None and row.kind == "cut" and item.fat > row.high + 40 and not labelled:
        figure = wording.number(item.fat)
        return Doubt(
            item.name,
            f"Is {figure}% the fat of the {item.name}, its lean, or its share of the batch? "
            f"As bought it is about {wording.percent(row.fat, 0)} fat.",
        )
    if item.fat is not None:
        if item.fat_high is not None and item.fat_high > item.fat:
            middle = (item.fat + item.fat_high) / 2
            return Meat(item, item.name, row, middle, item.fat, item.fat_high, True, "your range, its middle", "")
        spread = _ABOUT if item.fat_about else Fraction(0)
        low, high = max(Fraction(0), item.fat - spread), min(Fraction(100), item.fat + spread)
        source = f"your figure{', about' if item.fat_about else ''}"
        return Meat(item, item.name, row, item.fat, low, high, True, source, "")
    if row is None:
        nearest = data.absent().get(item.name, "")
        if not item.keys:
            hint = f" (the nearest I have is {nearest})" if nearest else ""
            return Doubt(
                item.name,
                f'I have no fat figure for "{item.name}"{hint}. What does its label or butcher say: how much fat, in %?',
                (nearest,) if nearest else (),
            )
        return Meat(item, item.name, None, None, None, None, False, "", note)
    if item.trimmed and row.lean_only is not None:
        return Meat(item, item.name, row, row.lean_only, row.lean_only, row.fat, False, f"{row.source}, trimmed", note)
    if item.trimmed:
        note = f"I have no figure for {item.name} with the fat cut off: counted as bought. {note}".strip()
    return Meat(item, item.name, row, row.fat, row.low, row.high, False, row.source, note)


def _key(
    item: Item, country: str, choices: dict[str, str], plan: Plan, said: set[str]
) -> tuple[str, str, Doubt | None]:
    """The row's key; a note on how an ambiguous word was taken; or the doubt about it."""
    if len(item.keys) == 1:
        return item.keys[0], "", None
    if not item.keys:
        return "", "", None
    if item.name in choices and choices[item.name] in data.cuts():
        return choices[item.name], "", None
    word = data.ambiguous().get(item.name)
    if word is None:
        return item.keys[0], "", None
    place = {"ie": "uk", "nz": "au", "ca": "us"}.get(country, country)
    if place in word.country:
        return word.country[place], _taken(item.name, word.country[place], word.note), None
    others = said | set(plan.species)
    fitting = [key for key in word.keys if set(_row_species(key)) & others]
    if not word.default and len(fitting) == 1:
        return fitting[0], _taken(item.name, fitting[0], ""), None
    if word.default and not word.ask:
        return word.default, _taken(item.name, word.default, word.note), None
    if word.default and item.fat is not None:
        return word.default, "", None
    return "", "", Doubt(item.name, word.question, word.keys)


def _taken(word: str, key: str, note: str) -> str:
    if note:
        return f'"{word.capitalize()}" {note}.'
    return f'Took "{word}" as {key}.' if word not in key else ""
