"""What is asked of a bill."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Measure

NAME = "till"


class Priced(Struct, frozen=True):
    """Money (unit: the currency, "" where none was said) for a weight. assumed: the weight was taken from the unit of
    the meat, for nobody said it; pack: sold only in packs of that weight."""

    money: Measure
    per: Measure
    assumed: bool = False
    pack: bool = False
    name: str = ""


class Bill(Struct, frozen=True):
    """prices: one, or two to be compared. weight: the meat that is wanted. packs: how many were bought. change: percent
    up (above nothing) or off. purse: the money there is. heads: who share it, with so many burgers each. per: a price
    by this weight is asked for."""

    prices: tuple[Priced, ...]
    weight: Measure | None = None
    packs: Fraction | None = None
    change: Fraction | None = None
    purse: Measure | None = None
    heads: Fraction | None = None
    each: Fraction = Fraction(1)
    per: Measure | None = None
