"""The one blend nearest to the wished shares, exactly.

With three or more cuts a fat figure leaves a choice. The choice made here keeps every cut as near as possible to the
share that was wished for: the sum of (grams - wished)^2 / wished is made least. At that point every cut that is not
held by a limit weighs wished x (1 + level + tilt x (its fat - the wanted fat)) (the Karush-Kuhn-Tucker conditions),
and the others rest on the limit they would overstep. So only two numbers are sought, the level that gives the batch
and the tilt that gives the fat. Both are where a rising curve of straight pieces takes a known value. Floating point
finds the right pieces; the last steps are taken in fractions from there, and only an exact hit ends the search.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Generic, TypeVar

from msgspec import Struct

Number = TypeVar("Number", float, Fraction)

# Floating point only proposes a start; past this many rounds it has nothing more to say.
_FLOAT_ROUNDS = 40
_FLOAT_MISS = 1e-10
# A start with few digits keeps the fractions short; exactness does not depend on it.
_START_DENOMINATOR = 10**10


def nearest_point(
    fats: Sequence[Fraction],
    wished: Sequence[Fraction],
    lows: Sequence[Fraction],
    highs: Sequence[Fraction],
    total: Fraction,
    fat: Fraction | None,
) -> tuple[Fraction, ...]:
    """Grams nearest to the wished grams that add up to `total` and, unless `fat` is None, have that fat.

    The caller has made sure that such grams exist and that every wish is above 0. Unique, so the order of the cuts
    does not matter.
    """
    aim = Fraction(0) if fat is None else fat
    exact = _Pull([f - aim for f in fats], list(wished), list(lows), list(highs), total, Fraction(0))
    zero = Fraction(0)
    if fat is None or not any(exact.leans):
        return tuple(exact.hang(zero, zero).grams)
    rough = _Pull(
        [float(v) for v in exact.leans],
        [float(v) for v in wished],
        [float(v) for v in lows],
        [float(v) for v in highs],
        float(total),
        _FLOAT_MISS * float(total),
    )
    tilt, level = rough.balance(0.0, 0.0)
    tilt_start, level_start = (Fraction(v).limit_denominator(_START_DENOMINATOR) for v in (tilt, level))
    tilt_exact, level_exact = exact.balance(tilt_start, level_start)
    return tuple(exact.hang(tilt_exact, level_exact).grams)


class _Hang(Struct, Generic[Number], frozen=True):
    """The blend at one tilt, with the slope of its fat when the tilt grows."""

    grams: list[Number]
    level: Number
    lean: Number
    slope: Number


class _Pull(Generic[Number]):
    """Cuts pulled towards their wished grams. leans: fat above the wanted fat, one per cut."""

    def __init__(
        self,
        leans: list[Number],
        wished: list[Number],
        lows: list[Number],
        highs: list[Number],
        total: Number,
        miss: Number,
    ) -> None:
        self.leans: list[Number] = leans
        self.wished: list[Number] = wished
        self.lows: list[Number] = lows
        self.highs: list[Number] = highs
        self.total: Number = total
        self.miss: Number = miss
        self.reach: Number = max(abs(v) for v in leans)

    def balance(self, tilt: Number, level: Number) -> tuple[Number, Number]:
        """The tilt and level at which the blend has the wanted fat."""
        levels = [level]

        def fat_at(at: Number) -> tuple[Number, Number]:
            hang = self.hang(at, levels[-1])
            levels.append(hang.level)
            return hang.lean, hang.slope

        found = _crossing(fat_at, self.total * 0, tilt, 1 / self.reach, self.miss * self.reach)
        return found, levels[-1]

    def hang(self, tilt: Number, level: Number) -> _Hang[Number]:
        """The blend of the right weight at this tilt; the search for its level starts at `level`."""
        bases = [w + w * tilt * v for w, v in zip(self.wished, self.leans, strict=True)]
        one = self.total * 0 + 1

        def weight_at(at: Number) -> tuple[Number, Number]:
            weight, slope = self.total * 0, self.total * 0
            for base, wish, low, high in zip(bases, self.wished, self.lows, self.highs, strict=True):
                pulled = base + at * wish
                if pulled < low:
                    weight += low
                elif pulled > high:
                    weight += high
                else:
                    weight += pulled
                    slope += wish
            return weight, slope

        found = _crossing(weight_at, self.total, level, one, self.miss)
        grams: list[Number] = []
        free: list[tuple[Number, Number]] = []
        lean = self.total * 0
        for base, wish, low, high, v in zip(bases, self.wished, self.lows, self.highs, self.leans, strict=True):
            pulled = base + found * wish
            part = low if pulled < low else high if pulled > high else pulled
            grams.append(part)
            lean += part * v
            if low < pulled < high:
                free.append((wish, v))
        return _Hang(grams, found, lean, self._spread(free))

    def _spread(self, free: list[tuple[Number, Number]]) -> Number:
        """Weighted square spread of the free cuts' fat: how fast the fat of the blend follows the tilt."""
        nothing = self.total * 0
        weight = sum((w for w, _ in free), nothing)
        if not weight:
            return nothing
        mean = sum((w * v for w, v in free), nothing) / weight
        return sum((w * (v - mean) * (v - mean) for w, v in free), nothing)


def _crossing(
    curve: Callable[[Number], tuple[Number, Number]], wanted: Number, start: Number, stride: Number, miss: Number
) -> Number:
    """Where a rising, continuous curve of straight pieces takes the wanted value.

    curve gives height and slope. Follows the slope (which lands exactly once it is on the right piece) and halves the
    bracket every third round, so it cannot circle between pieces. With miss 0 only the exact value ends the search.
    """
    at, rounds = start, 0
    best, best_gap = start, start * 0 - 1
    below: Number | None = None
    above: Number | None = None
    while True:
        height, slope = curve(at)
        gap = wanted - height
        rounds += 1
        if best_gap < 0 or abs(gap) < best_gap:
            best, best_gap = at, abs(gap)
        if best_gap <= miss or (miss > 0 and rounds >= _FLOAT_ROUNDS):
            return best
        if gap > 0:
            below = at
        else:
            above = at
        # A slope that is mere rounding noise would throw the search far away.
        guess = at + gap / slope if slope > miss else None
        bracketed = below is not None and above is not None
        inside = guess is not None and (below is None or guess > below) and (above is None or guess < above)
        if guess is not None and inside and not (bracketed and rounds % 3 == 0):
            at = guess
        elif below is not None and above is not None:
            at = (below + above) / 2
        else:
            at = at + stride if gap > 0 else at - stride
            stride = stride * 2
