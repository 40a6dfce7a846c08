"""How sure the fat of a blend is: the likely spread, the worst case, and the cut that most of the doubt comes from."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant.engine.kinds import Cut
from assistant.engine.spread import RangeMeans, Spread, spread
from assistant.topics.plan.meat import Meat


def spread_of(meats: Sequence[Meat], grams: Sequence[Fraction], known: int | None = None) -> Spread | None:
    """The spread of the blend's fat; None where a cut has no figure. known: a cut whose fat is taken as exact.

    A table's range counts as evenly likely from end to end; a cook's own "about" as two standard deviations.
    """
    if any(meat.fat is None for meat in meats):
        return None
    cuts = [
        Cut(meat.name, meat.fat or Fraction(0))
        if at == known
        else Cut(meat.name, meat.fat or Fraction(0), meat.low, meat.high)
        for at, meat in enumerate(meats)
    ]
    ranged = [meat for meat in meats if meat.low != meat.high]
    own = bool(ranged) and all(meat.own for meat in ranged)
    return spread(cuts, grams, RangeMeans.TWO_SD if own else RangeMeans.UNIFORM)


def likely(found: Spread) -> tuple[Fraction, Fraction]:
    """The likely range, percent: two standard deviations either way, never beyond the worst case."""
    if not found.independence_helps:
        return found.low, found.high
    band = Fraction(found.two_sd).limit_denominator(10**6)
    return max(found.low, found.fat - band), min(found.high, found.fat + band)
