"""The questions about prices, as they were read."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Measure
from assistant.topics.prices.offers import Offer


class Compare(Struct, frozen=True):
    """Own cuts (or one ground meat) against another, lean for lean. batch: the weight to tell it for; per: the unit
    that prices are wanted in.
    """

    own: tuple[Offer, ...]
    other: Offer
    batch: Measure | None = None
    per: Measure | None = None


class Paid(Struct, frozen=True):
    """Money paid for a weight. per: what to tell the price by; portion: a patty to price."""

    weight: Measure
    money: Measure
    per: Measure | None = None
    portion: Measure | None = None


class BreakEven(Struct, frozen=True):
    """What one cut may cost. others: the rest of the blend; goal: the shop's meat to beat lean for lean, or, where it
    is not of the shop, the price that the blend is to come to (None: asked for).
    """

    cut: Offer
    others: tuple[Offer, ...] = ()
    goal: Offer | None = None


class PaysOff(Struct, frozen=True):
    """When a grinder has paid for itself. saving: money saved per weight; or own and shop prices to take it from.
    pace: meat ground in `every`.
    """

    spent: Fraction
    currency: str = ""
    saving: Offer | None = None
    own: Offer | None = None
    shop: Offer | None = None
    pace: Measure | None = None
    every: Measure | None = None


class ByProduct(Struct, frozen=True):
    """Trim or bone worth something: its weight and its price."""

    name: str
    weight: Measure
    price: Fraction
    per: Measure


class Piece(Struct, frozen=True):
    """A piece weighed before and after cutting it up. price: money for `per`, or for the whole piece (per None);
    portion: a portion to price.
    """

    name: str
    bought: Measure | None
    usable: Measure | None
    price: Fraction | None = None
    per: Measure | None = None
    currency: str = ""
    by_products: tuple[ByProduct, ...] = ()
    portion: Measure | None = None
    asked_per: Measure | None = None
