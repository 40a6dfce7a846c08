"""How far a set of limits reaches: greedy fills, and what happens to them as one number is turned.

All weights here are shares of the batch, so they add up to 1. A limit by weight becomes a share that grows with
t = 1 / batch, so every question about the size of a batch is a question about t, and t = 0 is a batch without end.
The fattest and leanest fill, as functions of t, are concave and convex with straight pieces: each answer also gives
a slope, and following slopes reaches the first workable t exactly, in a few steps (Newton on a concave function).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

ZERO, ONE = Fraction(0), Fraction(1)


class Band(Struct, frozen=True):
    """The fat that is wanted, percent; an end that is None is open. An exact figure has two equal ends."""

    low: Fraction | None
    high: Fraction | None


class Ends(Struct, frozen=True):
    """Lower and upper share of every cut, and how each changes with the number that is turned."""

    lows: tuple[Fraction, ...]
    highs: tuple[Fraction, ...]
    low_slopes: tuple[Fraction, ...]
    high_slopes: tuple[Fraction, ...]


class Fault(Enum):
    """What the first broken condition is."""

    CROSSED = "crossed"  # a cut's lower end lies above its upper end
    SHORT = "short"  # all upper ends together do not fill the batch
    OVERFULL = "overfull"  # all lower ends together overfill it
    TOO_LEAN = "too lean"  # even the leanest fill is above the band
    TOO_FAT = "too fat"  # even the fattest fill is below the band


class Break(Struct, frozen=True):
    """A broken condition: by how much (negative) and how that changes with the number that is turned."""

    fault: Fault
    amount: Fraction
    slope: Fraction


class Fill(Struct, frozen=True):
    """Parts that make the sum of key x part least, and the key at which the last part was taken."""

    parts: tuple[Fraction, ...]
    key: Fraction
    value: Fraction


def least_fill(keys: Sequence[Fraction], lows: Sequence[Fraction], highs: Sequence[Fraction], total: Fraction) -> Fill:
    """Take every lower end, then fill up from the smallest key. The limits must allow the total."""
    parts = list(lows)
    left = total - sum(lows)
    open_cuts = sorted((i for i in range(len(keys)) if lows[i] < highs[i]), key=keys.__getitem__)
    key = keys[open_cuts[0]] if open_cuts else max(keys)
    for i in open_cuts:
        if left <= 0:
            break
        part = min(left, highs[i] - lows[i])
        parts[i] += part
        left -= part
        key = keys[i]
    value = sum((k * p for k, p in zip(keys, parts, strict=True)), ZERO)
    return Fill(tuple(parts), key, value)


def least_key_curve(keys: Sequence[Fraction], ends: Ends) -> tuple[Fraction, Fraction]:
    """Smallest mean key of a whole batch, and a slope of it as the limits move."""
    fill = least_fill(keys, ends.lows, ends.highs, ONE)
    slope = ZERO
    for key, low_slope, high_slope in zip(keys, ends.low_slopes, ends.high_slopes, strict=True):
        if key > fill.key:
            slope += (key - fill.key) * low_slope
        elif key < fill.key:
            slope += (key - fill.key) * high_slope
    return fill.value, slope


def first_break(fats: Sequence[Fraction], ends: Ends, band: Band) -> Break | None:
    """The first condition that these limits break, or None when some blend satisfies all."""
    for low, high, low_slope, high_slope in zip(ends.lows, ends.highs, ends.low_slopes, ends.high_slopes, strict=True):
        if low > high:
            return Break(Fault.CROSSED, high - low, high_slope - low_slope)
    if (short := sum(ends.highs) - 1) < 0:
        return Break(Fault.SHORT, Fraction(short), Fraction(sum(ends.high_slopes)))
    if (over := 1 - sum(ends.lows)) < 0:
        return Break(Fault.OVERFULL, Fraction(over), -Fraction(sum(ends.low_slopes)))
    if band.high is not None:
        value, slope = least_key_curve(fats, ends)
        if value > band.high:
            return Break(Fault.TOO_LEAN, band.high - value, -slope)
    if band.low is not None:
        value, slope = least_key_curve([-f for f in fats], ends)
        if -value < band.low:
            return Break(Fault.TOO_FAT, -value - band.low, -slope)
    return None


def first_workable(probe: Callable[[Fraction], Break | None], start: Fraction, upwards: bool) -> Fraction | None:
    """The workable number nearest to `start` in one direction, or None.

    probe must come from conditions that are concave in the number. Each step goes to where the broken condition's
    slope meets zero, and no workable number can lie before that.
    """
    at = start
    while (broken := probe(at)) is not None:
        if (broken.slope <= 0) if upwards else (broken.slope >= 0):
            return None
        at -= broken.amount / broken.slope
    return at


def peak(curve: Callable[[Fraction], tuple[Fraction, Fraction]], left: Fraction, right: Fraction) -> Fraction:
    """Where a concave curve of straight pieces is highest between two ends. curve gives height and slope."""
    left_height, left_slope = curve(left)
    if left_slope <= 0 or left == right:
        return left
    right_height, right_slope = curve(right)
    if right_slope >= 0:
        return right
    while True:
        middle = (right_height - left_height + left_slope * left - right_slope * right) / (left_slope - right_slope)
        height, slope = curve(middle)
        if slope == 0 or height == left_height + left_slope * (middle - left):
            return middle
        if slope > 0:
            left, left_height, left_slope = middle, height, slope
        else:
            right, right_height, right_slope = middle, height, slope
