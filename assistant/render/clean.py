"""Text that people typed, saved or imported, made safe to put on a screen or into a line of JSON.

One rule for all renderers: no control byte, no escape, no mark that turns the direction of writing round or
that cannot be seen. What is left stands on the screen letter for letter.
"""

from __future__ import annotations

import re
import unicodedata

from assistant.pattern import Pattern

_HIDDEN = frozenset({"Cc", "Cf", "Co", "Cn"})
_SPACES = Pattern(r"\s+")

_ASCII = {
    "°F": " deg F",
    "°C": " deg C",
    "°": " deg",
    "×": "x",
    "÷": "/",
    "±": "+/-",
    "≤": "<=",
    "≥": ">=",
    "≈": "~",
    "–": "-",
    "—": "-",
    "‒": "-",
    "−": "-",
    "…": "...",
    "→": "->",
    "·": "-",
    "•": "-",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "″": '"',
    "′": "'",
    "⁄": "/",
    "µ": "u",
    "£": "GBP ",
    "€": "EUR ",
    "ß": "ss",
    "æ": "ae",
    "œ": "oe",
    "ø": "o",
    "Æ": "AE",
    "Œ": "OE",
    "Ø": "O",
}
_ASCII_WORDS = Pattern(" ?(?:" + "|".join(map(re.escape, sorted(_ASCII, key=len, reverse=True))) + ")")
_FRACTION_AFTER_DIGIT = Pattern(r"(?<=[0-9])(?=[¼-¾⅐-⅞])")


def clean(text: str) -> str:
    """The text on one line: white space becomes single spaces; control, direction and invisible characters go.

    Half a surrogate pair, which no encoding can write, becomes the replacement character.
    """
    spaced = _SPACES.sub(" ", text)
    if spaced.isascii() and spaced.isprintable():
        return spaced.strip()
    return "".join(map(_visible, spaced)).strip()


def marked(text: str) -> str:
    """The text with a mark in place of every character that is invisible, turns the writing round, or is half a one.

    As long as it was. Control characters below 128 are left: a line editor shows those in its own way (^[).
    """
    if text.isascii():
        return text
    return "".join(char if char.isascii() or _visible(char) == char else "\N{REPLACEMENT CHARACTER}" for char in text)


def _visible(char: str) -> str:
    category = unicodedata.category(char)
    if category == "Cs":
        return "\N{REPLACEMENT CHARACTER}"
    return "" if category in _HIDDEN else char


def to_ascii(text: str) -> str:
    """The text for an output that knows only ASCII: 2½ becomes "2 1/2", °F becomes "deg F", accents go.

    A letter that has no such form becomes "?", which at least shows that something stood there.
    """
    if text.isascii():
        return text
    spaced = _FRACTION_AFTER_DIGIT.sub(" ", text)
    worded = _ASCII_WORDS.sub(_in_ascii, spaced)
    bare = unicodedata.normalize("NFKD", worded).replace("\N{FRACTION SLASH}", "/")
    return "".join(char if char.isascii() else "?" for char in bare if not unicodedata.combining(char))


def _in_ascii(match: re.Match[str]) -> str:
    typed = match.group()
    found = _ASCII[typed.lstrip(" ")]
    return found if found.startswith(" ") else typed[: typed.startswith(" ")] + found
