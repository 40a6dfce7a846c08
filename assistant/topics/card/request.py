"""What is to be put on paper: a recipe card, a freezer label or the timetable as calendar entries."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Any

from msgspec import Struct


class Kind(StrEnum):
    """What is written."""

    CARD = "card"
    LABEL = "label"
    CALENDAR = "calendar"


SUFFIXES = {".md": "markdown", ".markdown": "markdown", ".txt": "text", ".ics": "calendar"}
"""Endings of the files that can be written, and what goes into them."""


class Paper(Struct, frozen=True):
    """kind; file: the name to save it under ("" to show it); markdown: shown so. pack_g: the weight of one pack for a
    label; fridge: the label is for the fridge, not the freezer. first: a request of the same line that comes before,
    with its topic."""

    kind: Kind = Kind.CARD
    file: str = ""
    markdown: bool = False
    pack_g: Fraction | None = None
    fridge: bool = False
    first: Any = None
