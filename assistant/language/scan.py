"""From characters to marks: numbers, words and signs, each knowing whether a space stood before it."""

from __future__ import annotations

import re

from msgspec import Struct

from assistant.language.text import fold
from assistant.pattern import Pattern

_SCAN = Pattern(
    r"""
      (?P<bad> [0-9][0-9.]*[eE][+-]?[0-9]+(?![0-9A-Za-z]) | [0-9]+(?:\ *(?:\*\*|\^)\ *[0-9]+)+ | [0-9]{14,} )
    | (?P<clock> [0-9]{1,2}[:.][0-9]{2}\ ?(?:am|pm|a\.m\.|p\.m\.)(?![A-Za-z]) | [0-9]{1,2}\ ?(?:am|pm)(?![A-Za-z])
               | (?:[01]?[0-9]|2[0-3]):[0-5][0-9](?![0-9:]) )
    | (?P<iso> [0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9]) )
    | (?P<figured> [0-9]{1,2}(?P<between>[/.-])[0-9]{1,2}(?P=between)20[0-9]{2}(?![0-9]) )
    | (?P<number> [0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?(?![0-9]) | [0-9]+,[0-9]{1,2}(?![0-9]) | [0-9]*\.[0-9]+ | [0-9]+ )
    | (?P<money> (?:US|AU|NZ|CA|A|C)?\$ | [£€¢] )
    | (?P<arrow> -> | => )
    | (?P<word> [^\W\d_½¼¾⅓⅔⅛⅜⅝⅞⅕⅙]+(?:'[^\W\d_]+)* )
    | (?P<sign> \S )
    """,
    re.VERBOSE | re.IGNORECASE,
)


_TEXTED = {
    "chkn": "chicken",
    "chkin": "chicken",
    "chx": "chicken",
    "chix": "chicken",
    "trky": "turkey",
    "brskt": "brisket",
    "shldr": "shoulder",
    "brgr": "burger",
    "brgrs": "burgers",
    "burg": "burger",
    "burgs": "burgers",
    "grnd": "ground",
    "frzr": "freezer",
    "seasng": "seasoning",
    "tmrw": "tomorrow",
    "tmrrw": "tomorrow",
    "tmw": "tomorrow",
    "tmoro": "tomorrow",
    "tonite": "tonight",
    "nite": "night",
    "yest": "yesterday",
    "incl": "including",
    **{
        f"{verb}in": f"{verb}ing"
        for verb in (
            *(
                "cook",
                "grind",
                "minc",
                "trimm",
                "mak",
                "need",
                "us",
                "go",
                "do",
                "feed",
                "hav",
                "look",
                "gett",
                "fry",
                "grill",
            ),
            *(
                "freez",
                "thaw",
                "mix",
                "serv",
                "com",
                "try",
                "want",
                "add",
                "shoot",
                "aim",
                "season",
                "pack",
                "eat",
                "bring",
            ),
            *("start", "los", "sitt", "keep", "runn", "wast", "plann", "hop", "tak", "giv", "wonder", "think"),
        )
    },
}
"""Words as they are cut short in a text message, that mean nothing else."""


class Mark(Struct, frozen=True):
    """One scanned piece. text: folded; raw: as typed (T is a tablespoon, t a teaspoon); glued: no space before it."""

    kind: str
    text: str
    raw: str
    start: int
    end: int
    glued: bool


def scan(text: str) -> list[Mark]:
    """All marks of a cleaned request, in order. Linear in its length."""
    marks = []
    last_end = -1
    for match in _SCAN.finditer(text):
        kind = match.lastgroup or "sign"
        raw = match.group()
        folded = fold(raw)
        if kind == "word" and folded in ("nan", "infinity", "inf"):
            kind = "bad" if folded != "nan" or raw == "NaN" else "word"
        marks.append(
            Mark(
                kind,
                _TEXTED.get(folded, folded) if kind == "word" else raw.lower(),
                raw,
                match.start(),
                match.end(),
                match.start() == last_end,
            )
        )
        last_end = match.end()
    return marks
