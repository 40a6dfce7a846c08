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
from operator import gt, mul
from typing import Generic, TypeVar

from msgspec import Struct

ZERO, ONE = Fraction(0), Fraction(1)
Number = TypeVar("Number", int, Fraction)


class Band(Struct, frozen=True):
    """The fat that is wanted, percent; an end that is None is open. An exact figure has two equal ends."""

    low: Fraction | None
    high: Fraction | None


class Fats(Struct, frozen=True):
    """The fat of every cut and the ends of the wanted band (None: open) in whole numbers, `percent` of them to 1 %."""

    cuts: tuple[int, ...]
    low: int | None
    high: int | None
    percent: int


class Ends(Struct, frozen=True):
    """Lower and upper share of every cut, and how each changes with the number that is turned.

    In whole numbers, so that nothing is rounded and sums are quick: shares are out of `whole`, slopes out of `run`.
    """

    lows: Sequence[int]
    highs: Sequence[int]
    low_slopes: Sequence[int]
    high_slopes: Sequence[int]
    whole: int
    run: int


class Fault(Enum):
    """What the first broken condition is."""

    CROSSED = "crossed"  # a cut's lower end lies above its upper end
    SHORT = "short"  # all upper ends together do not fill the batch
    OVERFULL = "overfull"  # all lower ends together overfill it
    TOO_LEAN = "too lean"  # even the leanest fill is above the band
    TOO_FAT = "too fat"  # even the fattest fill is below the band


class Break(Struct, frozen=True):
    """A broken condition: by how much (negative) and how that changes with the number that is turned.

    Fat counts in the unit of Fats. at: fat at which the fill stands, where fat is the fault: cuts beyond it would help.
    """

    fault: Fault
    amount: Fraction
    slope: Fraction
    at: int = 0


class Fill(Struct, Generic[Number], frozen=True):
    """Parts that make the sum of key x part least, and the key at which the last part was taken."""

    parts: tuple[Number, ...]
    key: Number
    value: Number


def least_fill(keys: Sequence[Number], lows: Sequence[Number], highs: Sequence[Number], total: Number) -> Fill[Number]:
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
    return Fill(tuple(parts), key, sum(map(mul, keys, parts), keys[0] * 0))


def least_key_curve(keys: Sequence[int], ends: Ends) -> tuple[Fill[int], int]:
    """The fill of least mean key of a whole batch, and a slope of its value (out of `run`) as the limits move."""
    fill = least_fill(keys, ends.lows, ends.highs, ends.whole)
    slope = 0
    for key, low_slope, high_slope in zip(keys, ends.low_slopes, ends.high_slopes, strict=True):
        if key > fill.key:
            slope += (key - fill.key) * low_slope
        elif key < fill.key:
            slope += (key - fill.key) * high_slope
    return fill, slope


def first_break(fats: Fats, ends: Ends) -> Break | None:
    """The first condition that these limits break, or None when some blend satisfies all."""
    whole, run = ends.whole, ends.run
    crossed = next((i for i, over in enumerate(map(gt, ends.lows, ends.highs)) if over), None)
    if crossed is not None:
        apart = ends.highs[crossed] - ends.lows[crossed]
        slope = ends.high_slopes[crossed] - ends.low_slopes[crossed]
        return Break(Fault.CROSSED, Fraction(apart, whole), Fraction(slope, run))
    if (short := sum(ends.highs) - whole) < 0:
        return Break(Fault.SHORT, Fraction(short, whole), Fraction(sum(ends.high_slopes), run))
    if (over := whole - sum(ends.lows)) < 0:
        return Break(Fault.OVERFULL, Fraction(over, whole), Fraction(-sum(ends.low_slopes), run))
    if fats.high is not None:
        fill, slope = least_key_curve(fats.cuts, ends)
        if fill.value > fats.high * whole:
            amount = Fraction(fats.high * whole - fill.value, whole)
            return Break(Fault.TOO_LEAN, amount, Fraction(-slope, run), fill.key)
    if fats.low is not None:
        fill, slope = least_key_curve([-f for f in fats.cuts], ends)
        if -fill.value < fats.low * whole:
            amount = Fraction(-fill.value - fats.low * whole, whole)
            return Break(Fault.TOO_FAT, amount, Fraction(-slope, run), -fill.key)
    return None


def first_workable(
    probe: Callable[[Fraction], Break | None], start: Fraction, upwards: bool, last: Fraction | None = None
) -> Fraction | None:
    """The workable number nearest to `start` in one direction (upwards: no further than `last`), or None.

    probe must come from conditions that are concave in the number. Each step goes to where the broken condition's
    slope meets zero, and no workable number can lie before that.
    """
    at = start
    while last is None or at <= last:
        if (broken := probe(at)) is None:
            return at
        if (broken.slope <= 0) if upwards else (broken.slope >= 0):
            return None
        at -= broken.amount / broken.slope
    return None


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
