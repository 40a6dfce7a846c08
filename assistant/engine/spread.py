"""How far the true fat of a blend may lie from its figure, since no cut's fat is known exactly.

The blend's fat is linear in its cuts', so both bands are exact: the worst case adds every half-range, the independent
one adds squares (law of propagation of uncertainty, JCGM 100:2008).
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from fractions import Fraction
from math import sqrt

from msgspec import Struct

from assistant.engine.kinds import Cut, exact, mix


class RangeMeans(Enum):
    """What a cut's range from low to high says."""

    UNIFORM = "uniform"  # every fat inside is equally likely: standard deviation = half-range / sqrt(3)
    TWO_SD = "two sd"  # two standard deviations to either side: standard deviation = half-range / 2


class Spread(Struct, frozen=True):
    """Percent of fat, except where said.

    low, high: worst case, every cut at the end of its range. sd: standard deviation when cuts vary independently;
    two_sd: twice that, the usual band. worst_half: half the worst case's width. independence_helps: whether two_sd is
    the narrower; when one cut makes up most of the blend it is not, and the worst case is the band to state.
    contributions: each cut's part of the variance, 0 to 1, adding up to 1 (all 0 when no cut has a range).
    largest: index of the cut that contributes most, None when none does.
    per_gram: fat points per gram too much of each cut on the scale, (fat of cut - fat of blend) / total.
    """

    fat: Fraction
    low: Fraction
    high: Fraction
    worst_half: Fraction
    sd: float
    two_sd: float
    independence_helps: bool
    contributions: tuple[Fraction, ...]
    largest: int | None
    per_gram: tuple[Fraction, ...]

    def from_scale(self, sd_grams: Fraction) -> float:
        """Standard deviation of the fat, in points, when every weighing has this standard deviation (grams)."""
        error = exact("sd_grams", sd_grams)
        return sqrt(error * error * sum(d * d for d in self.per_gram))


def spread(cuts: Sequence[Cut], grams: Sequence[Fraction], means: RangeMeans = RangeMeans.UNIFORM) -> Spread:
    """The spread of a blend's fat. grams: one weight per cut. Raises BadInput as `mix` does."""
    blend = mix(cuts, grams)
    shares = [g / blend.total for g in blend.grams]
    halves = [w * (c.highest - c.lowest) / 2 for w, c in zip(shares, cuts, strict=True)]
    squares = [h * h for h in halves]
    together = sum(squares, Fraction(0))
    divisor = 3 if means is RangeMeans.UNIFORM else 4
    sd = sqrt(together / divisor)
    worst_half = sum(halves, Fraction(0))
    return Spread(
        fat=blend.fat,
        low=blend.low,
        high=blend.high,
        worst_half=worst_half,
        sd=sd,
        two_sd=2 * sd,
        independence_helps=4 * together / divisor < worst_half * worst_half,
        contributions=tuple(s / together if together else Fraction(0) for s in squares),
        largest=max(range(len(squares)), key=squares.__getitem__) if together else None,
        per_gram=tuple((c.fat - blend.fat) / blend.total for c in cuts),
    )
