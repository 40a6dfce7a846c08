"""Filling lines: prose to a width, and never a break inside a number, between it and its unit, or in a word."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from assistant.pattern import Pattern

GLUE = "\N{NO-BREAK SPACE}"
WIDEST_PROSE = 100
"""Columns: longer lines are hard to read back from, however wide the terminal."""
NARROWEST = 20
"""Columns: below this no layout helps, and the terminal may fold as it likes."""

_UNITS = (
    "lbs?|pounds?|oz|ounces?|g|grams?|kg|mg|mm|cm|in|inch|inches|ml|l|litres?|liters?|cups?|tsp|tbsp|teaspoons?"
    "|tablespoons?|deg|[FC]|°[FC]|%|min|mins|minutes?|h|hours?|hrs?|days?|weeks?|months?|seconds?|s|am|pm|patties|patty"
    "|[A-Z]{3}"
)
_NUMBER_END = r"(?<=[0-9¼-¾⅐-⅞])"
_HELD = Pattern(
    rf"{_NUMBER_END} (?=(?:{_UNITS})(?![A-Za-z]))"  # 4 oz
    r"|(?<=[0-9]) (?=[0-9]+/[0-9])"  # 2 1/2
    r"|(?<=\bdeg) (?=[FC]\b)"  # deg F
    r"|(?<=%) (?=(?:fat|lean)\b)"  # 45% fat
    r"|(?<=(?:\blb|\bkg)) (?=[0-9¼-¾⅐-⅞])"  # 1 lb 4 oz
)


def cells(text: str) -> int:
    """Columns that the text takes on a terminal: two for wide East Asian letters, none for combining marks."""
    if text.isascii():
        return len(text)
    return len(text) + sum(_cells(char) - 1 for char in text if not char.isascii())


def _cells(char: str) -> int:
    if unicodedata.combining(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def fitted(text: str, width: int) -> str:
    """The text, or its beginning and its end with ".." between where it is too wide: the end tells how long is left."""
    if cells(text) <= width:
        return text
    tail = text[-(width // 2) :]
    head = text[: max(width - cells(tail) - 2, 0)]
    return f"{head}..{tail}"


def held_together(text: str) -> str:
    """The text with a no-break space between each number and its unit."""
    return _HELD.sub(GLUE, text)


def fill(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The text broken into lines of at most `width` columns; `first` and `rest` open the first and later lines.

    Breaks only at spaces, and at the spaces that hold a number to its unit only when a line cannot take both.
    A word wider than a line (nobody's word but somebody's paste) is broken where the line ends.
    """
    lines: list[str] = []
    line, taken, empty = first, cells(first), True
    for piece in _pieces(held_together(text), max(width - max(cells(first), cells(rest)), 1)):
        more = cells(piece)
        if empty:
            line, taken, empty = line + piece, taken + more, False
        elif taken + 1 + more <= width:
            line, taken = f"{line} {piece}", taken + 1 + more
        else:
            lines.append(line)
            line, taken = rest + piece, cells(rest) + more
    if not empty or first.strip():
        lines.append(line)
    return [each.replace(GLUE, " ").rstrip() for each in lines]


def widest_piece(texts: Iterable[str]) -> int:
    """Columns of the widest piece that may not be broken, such as a number with its unit."""
    return max((cells(word) for text in texts for word in held_together(text).split(" ")), default=0)


def _pieces(text: str, room: int) -> list[str]:
    pieces: list[str] = []
    for word in text.split(" "):
        if cells(word) <= room:
            pieces.append(word)
            continue
        for part in word.split(GLUE):
            pieces.extend(_chopped(part, room))
    return [piece for piece in pieces if piece]


def _chopped(word: str, room: int) -> list[str]:
    parts, part = [], ""
    for char in word:
        if part and cells(part + char) > room:
            parts.append(part)
            part = ""
        part += char
    return [*parts, part]
