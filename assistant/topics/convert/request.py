"""What is to be converted."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.language.phrases import Measure, Word

NAME: Final = "convert"
CURRENCIES: Final = frozenset({"USD", "GBP", "EUR", "AUD", "CAD", "NZD", "GBP_penny", "USD_cent"})

STRANGE: Final = "strange"
"""The key of a thing that no table of ours has."""


class Conversion(Struct, frozen=True):
    """What is to be converted.

    amount: as it was said; its unit is "" or "deg" where no unit or no scale was named. to: units or systems
    ("metric", "us"), none where that is left to us. of, said: the thing by its key and as it was called.
    per, to_per: for a price, what it is for and what it is wanted for. currency: another money that was asked for.
    country: whose spoons, cups and pints, where that was said ("" for the kitchen's own).
    letter: "T" or "t" where a spoon was written so. assumed: the scale of the degrees was not said.
    whole: rounded to whole units, as was asked for.
    """

    amount: Measure
    to: tuple[str, ...] = ()
    of: str = ""
    said: str = ""
    per: Measure | None = None
    to_per: Measure | None = None
    currency: str = ""
    country: str = ""
    letter: str = ""
    assumed: bool = False
    whole: bool = False


class Mention(Struct, frozen=True):
    """A unit that is named without a number, and the word that names it."""

    word: Word
    unit: str
