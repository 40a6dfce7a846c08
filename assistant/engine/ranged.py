"""A figure with the range it may lie in."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

Amount = TypeVar("Amount", Fraction, float)


@dataclass(frozen=True, slots=True)
class Ranged(Generic[Amount]):
    """value, and the ends of its range in the same unit; an end is None where nothing is known about it."""

    value: Amount
    low: Amount | None = None
    high: Amount | None = None
