"""Cleaning what was typed, before anything is read: nothing invisible, nothing that only looks like a letter."""

from __future__ import annotations

import re
import unicodedata

from msgspec import Struct

from assistant.pattern import Pattern

LONGEST = 2000
"""Characters of one request; longer lines are refused at once (see DEVELOPERS.md, speed)."""

_PLAIN = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "ʼ": "'",
        "“": '"',
        "”": '"',
        "″": '"',
        "–": "-",
        "—": " - ",
        "‒": "-",
        "−": "-",
        "×": " x ",
        "⁄": "/",
        "∕": "/",
        "º": "°",
        "…": " . ",
        "\t": " ",
        "\r": " ",
        "\n": " ; ",
        "→": " -> ",
        "½": "½",
    }
)
_FULL_WIDTH = {code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)}


_YEARS_OLD = Pattern(r"\b([0-9]{1,3}) ?-?(?:yo|y/o|yr/o|y\.o\.?)(?=s?\b|\s|$)", re.IGNORECASE)
"""An age as it is texted: "my 3yo", "a 70 y/o"."""


_THOUSANDS = Pattern(r"(?<=[0-9])'(?=[0-9]{3}(?![0-9]))")
"""The mark between thousands as it is written in Switzerland: 2'500 g."""


class Typed(Struct, frozen=True):
    """A request as it can be read. hidden: whether invisible characters were taken out."""

    text: str
    hidden: bool


def clean(raw: str) -> Typed:
    """Fold look-alike punctuation and full-width forms; drop control, zero-width and direction characters.

    Digits of every script become ours. Vulgar fractions stay (2½ must never become 21/2); letters of other scripts stay too, so that a
    Cyrillic look-alike is reported as an unknown word instead of being taken for a Latin one.
    """
    text = raw.translate(_FULL_WIDTH).translate(_PLAIN)
    kept = []
    hidden = False
    for char in text:
        category = unicodedata.category(char)
        if category in ("Cc", "Cf", "Cs", "Co", "Cn"):
            hidden = True
            kept.append("" if category == "Cf" else " ")
        elif category.startswith("Z"):
            kept.append(" ")
        elif category == "Nd":
            # twelve is twelve in every script's digits
            kept.append(str(unicodedata.decimal(char)))
        else:
            kept.append(char)
    plain = _THOUSANDS.sub("", "".join(kept).strip())
    return Typed(_YEARS_OLD.sub(r"\1 yr old", plain), hidden)


def fold(word: str) -> str:
    """A word as the vocabulary spells it: lower case, no accents, no apostrophes."""
    plain = unicodedata.normalize("NFD", word.lower().replace("'", ""))
    return "".join(char for char in plain if unicodedata.category(char) != "Mn")
