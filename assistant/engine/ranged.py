"""A figure with the range it may lie in."""

from __future__ import annotations

from fractions import Fraction
from typing import Generic, TypeVar

from msgspec import Struct

Amount = TypeVar("Amount", Fraction, float)


class Ranged(Struct, Generic[Amount], frozen=True):
    """value, and the ends of its range in the same unit; an end is None where nothing is known about it."""

    value: Amount
    low: Amount | None = None
    high: Amount | None = None
