"""Blends of cuts to a wanted fat, exactly: what can be made, the nearest to what was asked, the cheapest, the largest.

Masses are grams, fat is percent by weight, money is per gram of trimmed meat, all as fractions. Mass balance:
fat of the blend = sum(grams x fat) / sum(grams). A blend that cannot be made is an answer too: see NoBlend.
Every function takes 1 to 200 cuts and raises BadInput for anything that is not a sensible quantity.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant.engine.fills import ONE, ZERO, Band, Break
from assistant.engine.kinds import Binding, Blend, Cut, Demand, Limit, More, NoBlend, Reach, Reason, mix
from assistant.engine.simplex import Optimum, Row, minimise
from assistant.engine.solve import (
    ANY_FAT,
    Counts,
    checked,
    counted,
    eased,
    end_blend,
    gram_limits,
    largest_batch_inverse,
    nearest_blend,
    nearest_in_band,
    smallest_batch_inverse,
    wanted_band,
    wanted_batch,
    with_bindings,
)
from assistant.engine.why_not import why_not, why_not_any
from assistant.errors import BadInput

__all__ = [
    "Binding",
    "Blend",
    "Cut",
    "Demand",
    "Limit",
    "More",
    "NoBlend",
    "Reach",
    "Reason",
    "cheapest",
    "complete",
    "fattest",
    "largest",
    "leanest",
    "mix",
    "most_of",
    "nearest",
    "reach",
]


def nearest(
    cuts: Sequence[Cut],
    batch: Fraction,
    fat: Fraction | None = None,
    *,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
) -> Blend | NoBlend:
    """The blend of `batch` grams nearest to the wished shares, with exactly the fat wanted (or within its ends).

    Makes sum((grams - wished)^2 / wished) least; unique. Without any fat figure only wishes and limits count.
    """
    cuts, batch, band = checked(cuts), wanted_batch(batch), wanted_band(fat, fat_at_most, fat_at_least)
    return why_not(cuts, batch, band) or nearest_blend(cuts, batch, band)


def leanest(cuts: Sequence[Cut], batch: Fraction) -> Blend | NoBlend:
    """The leanest blend of `batch` grams: every minimum, then filled up from the lean end. Of several the nearest."""
    cuts, batch = checked(cuts), wanted_batch(batch)
    return why_not(cuts, batch, ANY_FAT) or end_blend(cuts, batch, 1)


def fattest(cuts: Sequence[Cut], batch: Fraction) -> Blend | NoBlend:
    """The fattest blend of `batch` grams, by the same road from the other end."""
    cuts, batch = checked(cuts), wanted_batch(batch)
    return why_not(cuts, batch, ANY_FAT) or end_blend(cuts, batch, -1)


def reach(cuts: Sequence[Cut], batch: Fraction) -> Reach | NoBlend:
    """The leanest and the fattest blend of `batch` grams; every fat between them can be made."""
    cuts, batch = checked(cuts), wanted_batch(batch)
    return why_not(cuts, batch, ANY_FAT) or Reach(end_blend(cuts, batch, 1), end_blend(cuts, batch, -1))


def cheapest(
    cuts: Sequence[Cut],
    batch: Fraction,
    fat: Fraction | None = None,
    *,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
) -> Blend | NoBlend:
    """The cheapest blend of `batch` grams (an exact linear programme); of equally cheap ones the nearest to the wishes.

    Every cut needs a price. `tied` says whether there are others as cheap.
    """
    cuts, batch, band = checked(cuts), wanted_batch(batch), wanted_band(fat, fat_at_most, fat_at_least)
    if any(c.price is None for c in cuts):
        raise BadInput("price", [c.name for c in cuts if c.price is None], "a price for every cut")
    if (none := why_not(cuts, batch, band)) is not None:
        return none
    lows, highs = gram_limits(cuts, batch)
    programme = _Programme(cuts, batch, band, lows, highs)
    optimum = programme.solve([c.price or ZERO for c in cuts])
    # Every cheapest blend leaves the cuts with a slope on their limit and the rows with a value tight.
    stays = [slope != 0 for slope in optimum.slopes]
    face_lows = [x if stay else low for x, stay, low in zip(optimum.amounts, stays, lows, strict=True)]
    face_highs = [x if stay else high for x, stay, high in zip(optimum.amounts, stays, highs, strict=True)]
    fat_value, tight = programme.fat_value(optimum)
    grams, _ = nearest_in_band(cuts, batch, tight, face_lows, face_highs)
    tied = grams != optimum.amounts or _Programme(cuts, batch, tight, face_lows, face_highs).can_move(grams)
    blend = with_bindings(cuts, mix(cuts, grams), dict(enumerate(optimum.slopes)))
    return replace(blend, binding=(*blend.binding, *fat_value), tied=tied)


def most_of(
    cuts: Sequence[Cut],
    batch: Fraction,
    which: int,
    fat: Fraction | None = None,
    *,
    least: bool = False,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
) -> Blend | NoBlend:
    """The blend of `batch` grams with the most (or the least) of the cut at place `which`; of several the nearest.

    The cheapest blend where the other cuts (or that one) cost one a gram and nothing else costs anything. Prices of the
    cuts are only counted, not weighed.
    """
    cuts = checked(cuts)
    if isinstance(which, bool) or not isinstance(which, int) or not 0 <= which < len(cuts):
        raise BadInput("which", which, "the place of one of the cuts")
    priced = [replace(cut, price=ONE if (at == which) == least else ZERO) for at, cut in enumerate(cuts)]
    found = cheapest(priced, batch, fat, fat_at_most=fat_at_most, fat_at_least=fat_at_least)
    return found if isinstance(found, NoBlend) else mix(cuts, found.grams)


class _Programme:
    """The linear programme of one batch: grams add up to it, the fat is in the band, limits are kept."""

    def __init__(
        self, cuts: Sequence[Cut], batch: Fraction, band: Band, lows: Sequence[Fraction], highs: Sequence[Fraction]
    ) -> None:
        self.batch, self.band, self.lows, self.highs = batch, band, lows, highs
        self.equal = [Row((ONE,) * len(cuts), batch)]
        self.at_most: list[Row] = []
        self.ends: list[Limit] = []
        if band.low is not None and band.low == band.high:
            self.equal.append(Row(tuple(c.fat - band.low for c in cuts), ZERO))
            return
        if band.high is not None:
            self.at_most.append(Row(tuple(c.fat - band.high for c in cuts), ZERO))
            self.ends.append(Limit.FAT_AT_MOST)
        if band.low is not None:
            self.at_most.append(Row(tuple(band.low - c.fat for c in cuts), ZERO))
            self.ends.append(Limit.FAT_AT_LEAST)

    def solve(self, costs: Sequence[Fraction]) -> Optimum:
        found = minimise(costs, self.equal, self.lows, self.highs, self.at_most)
        assert found is not None, "the caller has made sure that a blend exists"
        return found

    def can_move(self, grams: Sequence[Fraction]) -> bool:
        """Whether any other blend satisfies all: some cut can be moved off a limit it rests on.

        If no cut can, every other blend would differ only in cuts between their limits, and then it could be
        followed until one of them met a limit; the corner that the simplex returns rules that out.
        """
        away = [
            ZERO if low == high else -ONE if g == low else ONE if g == high else ZERO
            for g, low, high in zip(grams, self.lows, self.highs, strict=True)
        ]
        here = sum((a * g for a, g in zip(away, grams, strict=True)), ZERO)
        return any(away) and self.solve(away).cost < here

    def fat_value(self, optimum: Optimum) -> tuple[tuple[Binding, ...], Band]:
        """What the fat figure costs, and the band narrowed to the end that every cheapest blend rests on."""
        if len(self.equal) > 1:
            return (Binding(None, Limit.FAT, -optimum.equal_values[1] * self.batch),), self.band
        for limit, value in zip(self.ends, optimum.most_values, strict=True):
            if value != 0:
                end = self.band.high if limit is Limit.FAT_AT_MOST else self.band.low
                return (Binding(None, limit, -value * self.batch),), Band(end, end)
        return (), self.band


def largest(
    cuts: Sequence[Cut],
    fat: Fraction | None = None,
    *,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
    gains: bool = True,
) -> Blend | NoBlend:
    """The largest batch that the stock allows, and of that size the blend nearest to the wishes.

    Each binding's gain is the number of grams that one unit more would add; without `gains` they are left out, for each
    takes a search of its own. NoBlend with STOCK_UNLIMITED when there is no end.
    """
    cuts, band = checked(cuts), wanted_band(fat, fat_at_most, fat_at_least)
    counts, tried = counted(cuts, band), list[Fraction]()
    inverse = largest_batch_inverse(counts, tried)
    # Limits that contradict each other at every size may still vanish against a batch without end.
    if inverse is None or (inverse == 0 and not smallest_batch_inverse(counts)):
        return why_not_any(cuts, band)
    if inverse == 0:
        return NoBlend(Reason.STOCK_UNLIMITED, None, ())
    blend = nearest_blend(cuts, 1 / inverse, band)
    if not gains:
        return blend
    broken = counts.break_at(tried[-2])
    worth = tuple(
        b
        if b.cut is None or b.limit is Limit.LEFT_OUT
        else replace(b, gain=_grams_more(eased(counts, b.cut, b.limit), blend.total, tried[:-1], broken))
        for b in blend.binding
    )
    return replace(blend, binding=worth)


def _grams_more(
    looser: Counts, total: Fraction, too_large: Sequence[Fraction], broken: Break | None
) -> Fraction | None:
    """How much larger the batch gets with one limit eased; None where it then has no end.

    too_large: 1 / each batch tried on the way to the largest one; broken: what the last of them breaks, which led
    straight there.
    """
    now = looser.break_at(too_large[-1])
    if now == broken:
        # the same condition, broken just as before, leads to the same batch
        return ZERO
    # what is too large even with the limit eased is where the search may begin
    tried = reversed(too_large if now is not None else too_large[:-1])
    start = next((t for t in tried if looser.break_at(t) is not None), ZERO)
    inverse = largest_batch_inverse(looser, start=start)
    return 1 / inverse - total if inverse else None


def complete(
    cuts: Sequence[Cut],
    fat: Fraction | None = None,
    *,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
) -> Blend | NoBlend:
    """The smallest batch that uses every minimum and has the wanted fat; of that size the nearest to the wishes.

    "Use up all of A": give A the same at_least and at_most. Raises BadInput when no cut has an at_least.
    """
    cuts, band = checked(cuts), wanted_band(fat, fat_at_most, fat_at_least)
    if not any(c.at_least for c in cuts):
        raise BadInput("cuts", [c.name for c in cuts], "at least one cut with a weight that must be used")
    inverse = smallest_batch_inverse(counted(cuts, band))
    # Only ever larger batches come nearer to the fat: none has it.
    if not inverse:
        return why_not_any(cuts, band)
    return nearest_blend(cuts, 1 / inverse, band)
