"""Weights that a kitchen scale can show, with the batch kept and the fat as near as steps allow."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor

from assistant.engine.kinds import HUNDRED, above_nothing, exact
from assistant.errors import BadInput

HALF = Fraction(1, 2)


def weigh_out(
    grams: Sequence[Fraction],
    fats: Sequence[Fraction],
    step: Fraction,
    at_least: Sequence[Fraction] | None = None,
    at_most: Sequence[Fraction | None] | None = None,
) -> tuple[Fraction, ...]:
    """Grams in whole steps of the scale, one per cut.

    grams, at_least, at_most: grams; fats: percent; step: grams. The total is the batch rounded to the step (half a
    step rounds up). Each weight is first rounded by largest remainder; then single steps are moved from one cut to
    another while that brings the fat of the blend nearer to the unrounded one. No weight moves a whole step or more
    beyond its exact figure, none is negative, and a cut of 0 g stays out.
    Limits are kept: a stock is rounded down to the step and a minimum up; where that leaves a cut no reading (it must
    be used up exactly), its nearest reading stands. Limits may then keep the total from the rounded batch, by as few
    steps as possible: check the sum. Raises BadInput for lists of unequal length or figures that make no sense.
    """
    count = len(grams)
    step = above_nothing("step", step)
    for argument, values in (("fats", fats), ("at_least", at_least), ("at_most", at_most)):
        if values is not None and len(values) != count:
            raise BadInput(argument, len(values), f"{count} values, one per cut")
    # From here on one step is the unit: whole numbers are readings of the scale.
    wanted = [exact("grams", g) / step for g in grams]
    percents = [exact("fats", f, high=HUNDRED) for f in fats]
    lows = [Fraction(0)] * count if at_least is None else [exact("at_least", v) / step for v in at_least]
    highs = [None] * count if at_most is None else [None if v is None else exact("at_most", v) / step for v in at_most]
    bounds = [_readings(w, low, high) for w, low, high in zip(wanted, lows, highs, strict=True)]
    steps = _largest_remainder(wanted, bounds)
    _move_towards_fat(steps, wanted, percents, bounds)
    return tuple(s * step for s in steps)


def _readings(wanted: Fraction, low: Fraction, high: Fraction | None) -> tuple[int, int]:
    """Lowest and highest reading for one cut: its exact weight rounded down or up, inside its limits."""
    least, most = ceil(low), None if high is None else floor(high)
    if most is not None and least > most:
        return (_half_up(wanted),) * 2
    bottom, top = max(floor(wanted), least), max(ceil(wanted), least)
    return (bottom, top) if most is None else (min(bottom, most), min(top, most))


def _half_up(value: Fraction) -> int:
    return floor(value + HALF)


def _largest_remainder(wanted: Sequence[Fraction], bounds: Sequence[tuple[int, int]]) -> list[int]:
    """Every cut at its lower reading, then a step up for those that lose most by it until the batch is full."""
    steps = [bottom for bottom, _ in bounds]
    missing = _half_up(sum(wanted, Fraction(0))) - sum(steps)
    by_loss = sorted(range(len(steps)), key=lambda i: steps[i] - wanted[i])
    for i in by_loss:
        if missing > 0 and steps[i] < bounds[i][1]:
            steps[i] += 1
            missing -= 1
    return steps


def _move_towards_fat(
    steps: list[int], wanted: Sequence[Fraction], fats: Sequence[Fraction], bounds: Sequence[tuple[int, int]]
) -> None:
    total = sum(wanted, Fraction(0))
    if not total:
        return
    aim = sum((f * w for f, w in zip(fats, wanted, strict=True)), Fraction(0)) / total
    error = sum(((f - aim) * s for f, s in zip(fats, steps, strict=True)), Fraction(0))
    while True:
        moves = [
            (abs(error + fats[to] - fats[giver]), giver, to)
            for giver in range(len(steps))
            for to in range(len(steps))
            if steps[giver] > bounds[giver][0] and steps[to] < bounds[to][1]
        ]
        if not moves or min(moves)[0] >= abs(error):
            return
        _, giver, to = min(moves)
        steps[giver] -= 1
        steps[to] += 1
        error += fats[to] - fats[giver]
