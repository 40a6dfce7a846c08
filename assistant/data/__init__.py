"""The project's figures, as typed rows. Each file is read once, the first time something asks for it."""

from __future__ import annotations

from collections.abc import Mapping

from assistant import built
from assistant.data import cuts as _cuts
from assistant.data import seasonings as _seasonings
from assistant.data import yields as _yields
from assistant.data.cuts import CutBook, CutRow
from assistant.data.seasonings import CuringSalt, SaltLevel, Seasoning, SeasoningBook, SpoonWeight
from assistant.data.tables import read_text
from assistant.data.words import AmbiguousWord
from assistant.data.yields import CookedFat, CookedYield, YieldBook

__all__ = [
    "AmbiguousWord",
    "CookedFat",
    "CookedYield",
    "CuringSalt",
    "CutBook",
    "CutRow",
    "SaltLevel",
    "Seasoning",
    "SeasoningBook",
    "SpoonWeight",
    "YieldBook",
    "absent",
    "ambiguous",
    "ambiguous_seasonings",
    "cooked_fats",
    "cooked_yields",
    "cut_names",
    "cuts",
    "never_by_spoon",
    "salt_levels",
    "seasoning_names",
    "seasonings",
]


@built.kept("cuts", CutBook)
def _cut_book() -> CutBook:
    return _cuts.parse_cuts(read_text(_cuts.FILE))


@built.kept("seasonings", SeasoningBook)
def _seasoning_book() -> SeasoningBook:
    return _seasonings.parse_seasonings(read_text(_seasonings.FILE))


@built.kept("yields", YieldBook)
def _yield_book() -> YieldBook:
    return _yields.parse_yields(read_text(_yields.FILE))


def cuts() -> Mapping[str, CutRow]:
    """Every kind of meat by its key. Raises BadTable where the file is wrong."""
    return _cut_book().cuts


def cut_names() -> Mapping[str, tuple[str, ...]]:
    """Lower-case name to the keys it may mean: one for a plain name, several for an ambiguous word."""
    return _cut_book().names


def ambiguous() -> Mapping[str, AmbiguousWord]:
    """Words with more than one reading, by the word."""
    return _cut_book().ambiguous


def absent() -> Mapping[str, str]:
    """Names of meat without any figure, to the key of the nearest row; "" where nothing is near."""
    return _cut_book().absent


def seasonings() -> Mapping[str, Seasoning]:
    """Every seasoning, liquid and binder by its key. Raises BadTable where the file is wrong."""
    return _seasoning_book().seasonings


def seasoning_names() -> Mapping[str, tuple[str, ...]]:
    """Lower-case name to the keys of the seasonings it may mean."""
    return _seasoning_book().names


def ambiguous_seasonings() -> Mapping[str, AmbiguousWord]:
    """Seasoning words with more than one reading, by the word."""
    return _seasoning_book().ambiguous


def never_by_spoon() -> Mapping[str, CuringSalt]:
    """Every name of a nitrite or nitrate cure, lower case, to the cure. None of them has a spoon weight anywhere."""
    return _seasoning_book().curing_salts


def salt_levels() -> Mapping[str, SaltLevel]:
    """The usual added salt, percent of the meat, by kind of grind: "burger", "fresh sausage"."""
    return _seasoning_book().salt_levels


def cooked_yields() -> tuple[CookedYield, ...]:
    """Cooked weight as percent of raw, by species, form, method and class of fat."""
    return _yield_book().yields


def cooked_fats() -> tuple[CookedFat, ...]:
    """The fat of cooked ground beef, by raw fat, form and method."""
    return _yield_book().cooked_fats
