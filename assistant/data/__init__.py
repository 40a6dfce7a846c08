"""The project's figures, as typed rows. Each file is read once, the first time something asks for it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from assistant.data import cuts as _cuts
from assistant.data.cuts import AmbiguousWord, CutBook, CutRow
from assistant.data.tables import read_text

__all__ = ["AmbiguousWord", "CutBook", "CutRow", "absent", "ambiguous", "cut_names", "cuts"]


@cache
def _cut_book() -> CutBook:
    return _cuts.parse_cuts(read_text(_cuts.FILE))


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
