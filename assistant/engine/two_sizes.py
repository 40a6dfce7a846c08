"""One heap of meat into patties of two sizes. Weights in grams, exact; whole patties only."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct


class Shares(Struct, frozen=True):
    """How many of each size, and the meat that is left."""

    first: int
    second: int
    left: Fraction


def same_number(whole: Fraction, one: Fraction, other: Fraction) -> Shares:
    """As many of the one as of the other, as many as the meat makes."""
    pairs = whole // (one + other)
    return Shares(int(pairs), int(pairs), whole - pairs * (one + other))


def rest_into(whole: Fraction, count: int, one: Fraction, other: Fraction) -> Shares | None:
    """So many of the one, and of what is left as many of the other as it makes; None where the meat is too little."""
    left = whole - count * one
    if left < 0:
        return None
    more = left // other
    return Shares(count, int(more), left - more * other)


def half_of_the_meat(whole: Fraction, one: Fraction, other: Fraction) -> Shares:
    """Half of the meat into the one size, half of it into the other."""
    half = whole / 2
    first, second = half // one, half // other
    return Shares(int(first), int(second), whole - first * one - second * other)
