"""The blend nearest to what was asked for: least sum of (grams - wished)^2 / wished, exactly.

The best blend has a simple shape: every cut hangs at wished * (1 + level + tilt * fat), cut off at its limits. So two
numbers are enough. For a given tilt the level that makes up the weight is where a rising broken line takes a known
value, and the fat of the blend rises with the tilt along another broken line that must also take a known value. Each
search steps along the line it stands on until it lands exactly: no rounding, and no tolerance decides when to stop.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct

ZERO, ONE = Fraction(0), Fraction(1)


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
    unit = lcm(total.denominator, *(v.denominator for values in (wished, lows, highs) for v in values))
    aim = fats[0] if fat is None else fat
    fine = lcm(aim.denominator, *(f.denominator for f in fats))
    pull = _Pull(
        [_out_of(fine, f) - _out_of(fine, aim) for f in fats],
        [_out_of(unit, v) for v in wished],
        [_out_of(unit, v) for v in lows],
        [_out_of(unit, v) for v in highs],
        _out_of(unit, total),
    )
    found = pull.hang(ZERO, ZERO) if fat is None or not any(pull.leans) else pull.balance()
    return tuple(Fraction(part, unit * found.scale) for part in found.parts)


def _out_of(unit: int, value: Fraction) -> int:
    return value.numerator * (unit // value.denominator)


class _Hang(Struct, frozen=True):
    """The blend at one tilt. parts: weights, out of `scale` for the unit; lean: how far its fat is above the aim, and
    slope: how that grows with the tilt."""

    parts: list[int]
    scale: int
    level: Fraction
    lean: Fraction
    slope: Fraction


class _Pull:
    """Cuts pulled towards their wished weights, in whole numbers. leans: fat above the wanted fat, one per cut."""

    def __init__(self, leans: list[int], wished: list[int], lows: list[int], highs: list[int], total: int) -> None:
        self.leans, self.wished, self.lows, self.highs, self.total = leans, wished, lows, highs, total

    def balance(self) -> _Hang:
        """The blend that has the wanted fat."""
        hangs: list[_Hang] = []

        def fat_at(tilt: Fraction) -> tuple[Fraction, Fraction]:
            hangs.append(self.hang(tilt, hangs[-1].level if hangs else ZERO))
            return hangs[-1].lean, hangs[-1].slope

        _crossing(fat_at, ZERO, ZERO, Fraction(1, max(map(abs, self.leans))))
        return hangs[-1]

    def hang(self, tilt: Fraction, level: Fraction) -> _Hang:
        """The blend of the right weight at this tilt; the search for its level starts at `level`."""
        across, down = tilt.numerator, tilt.denominator
        bases = [w * (down + across * v) for w, v in zip(self.wished, self.leans, strict=True)]
        cuts = [
            (base, w * down, low * down, high * down)
            for base, w, low, high in zip(bases, self.wished, self.lows, self.highs, strict=True)
        ]

        def weight_at(at: Fraction) -> tuple[Fraction, Fraction]:
            up, per = at.numerator, at.denominator
            weight = slope = 0
            for base, wish, low, high in cuts:
                pulled = base * per + up * wish
                if pulled < low * per:
                    weight += low * per
                elif pulled > high * per:
                    weight += high * per
                else:
                    weight += pulled
                    slope += wish
            return Fraction(weight, per), Fraction(slope)

        found = _crossing(weight_at, Fraction(self.total * down), level, ONE)
        up, per = found.numerator, found.denominator
        parts: list[int] = []
        lean = 0
        free: list[tuple[int, int]] = []
        for (base, wish, low, high), v in zip(cuts, self.leans, strict=True):
            pulled = base * per + up * wish
            part = min(max(pulled, low * per), high * per)
            parts.append(part)
            lean += part * v
            if low * per < pulled < high * per:
                free.append((wish, v))
        scale = down * per
        return _Hang(parts, scale, found, Fraction(lean, scale), _spread(free) / down)


def _spread(free: Sequence[tuple[int, int]]) -> Fraction:
    """Weighted square spread of the free cuts' fat: how fast the fat of the blend follows the tilt."""
    weight, first = sum(w for w, _ in free), sum(w * v for w, v in free)
    return sum(w * v * v for w, v in free) - Fraction(first * first, weight) if weight else ZERO


def _crossing(
    curve: Callable[[Fraction], tuple[Fraction, Fraction]], wanted: Fraction, start: Fraction, stride: Fraction
) -> Fraction:
    """Where a rising, continuous curve of straight pieces takes the wanted value.

    curve gives height and slope. Follows the slope (which lands exactly once it is on the right piece) and halves the
    bracket every third round, so it cannot circle between pieces.
    """
    at, rounds = start, 0
    below: Fraction | None = None
    above: Fraction | None = None
    while True:
        height, slope = curve(at)
        gap = wanted - height
        if not gap:
            return at
        rounds += 1
        if gap > 0:
            below = at
        else:
            above = at
        guess = at + gap / slope if slope else None
        bracketed = below is not None and above is not None
        inside = guess is not None and (below is None or guess > below) and (above is None or guess < above)
        if guess is not None and inside and not (bracketed and rounds % 3 == 0):
            at = guess
        elif below is not None and above is not None:
            at = (below + above) / 2
        else:
            at = at + stride if gap > 0 else at - stride
            stride = stride * 2
