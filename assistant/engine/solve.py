"""Solving for a blend that is known to exist, and what is shared by all who ask for one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct
from msgspec.structs import replace

from assistant.engine.fills import ONE, ZERO, Band, Break, Ends, Fats, first_break, first_workable, least_fill
from assistant.engine.kinds import HUNDRED, Binding, Blend, Cut, Kind, Limit, above_nothing, all_are, exact, mix
from assistant.engine.nearest import nearest_point
from assistant.errors import BadInput

MOST_CUTS = 200
ANY_FAT = Band(None, None)


def checked(cuts: Sequence[Cut]) -> tuple[Cut, ...]:
    """The cuts, if there are 1 to 200 and either all or none have a wish. Raises BadInput."""
    if not 1 <= len(cuts) <= MOST_CUTS:
        raise BadInput("cuts", len(cuts), f"1 to {MOST_CUTS} cuts: more is no kitchen's blend and would take too long")
    cuts = all_are("cuts", cuts, Cut)
    wishes = [c.wish for c in cuts]
    if any(w is None for w in wishes) and any(w is not None for w in wishes):
        raise BadInput("wish", wishes, "a wish for every cut or for none")
    return tuple(cuts)


def wanted_batch(batch: Fraction) -> Fraction:
    return above_nothing("batch", batch)


def wanted_band(fat: Fraction | None, at_most: Fraction | None, at_least: Fraction | None) -> Band:
    """The fat asked for: an exact figure, or one or two ends, or nothing. Raises BadInput."""
    if fat is not None:
        if at_most is not None or at_least is not None:
            raise BadInput("fat", fat, "either an exact figure or ends, not both")
        figure = exact("fat", fat, high=HUNDRED)
        return Band(figure, figure)
    low = None if at_least is None else exact("fat_at_least", at_least, high=HUNDRED)
    high = None if at_most is None else exact("fat_at_most", at_most, high=HUNDRED)
    if low is not None and high is not None and low > high:
        raise BadInput("fat_at_least", at_least, f"no more than fat_at_most, {high}")
    return Band(low, high)


def fats_of(cuts: Sequence[Cut]) -> list[Fraction]:
    return [c.fat for c in cuts]


class Counts(Struct, frozen=True):
    """Cuts and the wanted fat in whole numbers: weights out of `gram` a gram, shares out of `one` for the whole batch.

    Whether a batch of some size works is asked many times over, and whole numbers answer ten times as fast as fractions.
    """

    fats: Fats
    at_least: tuple[int, ...]
    at_most: tuple[int | None, ...]
    shares_at_least: tuple[int, ...]
    shares_at_most: tuple[int, ...]
    gram: int
    one: int

    def ends(self, inverse: Fraction) -> Ends:
        """Limits as shares of a batch of 1 / inverse grams (inverse 0: of a batch without end)."""
        by_weight, by_share = inverse.numerator * self.one, inverse.denominator * self.gram
        lows, highs, low_slopes, high_slopes = [], [], [], []
        for least, most, share_least, share_most in zip(
            self.at_least, self.at_most, self.shares_at_least, self.shares_at_most, strict=True
        ):
            low, share = least * by_weight, share_least * by_share
            lows.append(max(low, share))
            low_slopes.append(least if low > share else 0)
            share = share_most * by_share
            if most is None or most * by_weight >= share:
                highs.append(share)
                high_slopes.append(0)
            else:
                highs.append(most * by_weight)
                high_slopes.append(most)
        return Ends(lows, highs, low_slopes, high_slopes, self.one * by_share, self.gram)

    def break_at(self, inverse: Fraction) -> Break | None:
        """What a batch of 1 / inverse grams breaks first, or None where it can be made."""
        return first_break(self.fats, self.ends(inverse))


def counted(cuts: Sequence[Cut], band: Band) -> Counts:
    """The cuts and the band in whole numbers; a share's unit is a hundredth or finer, a weight's a gram or finer."""
    ends = [end for end in (band.low, band.high) if end is not None]
    fat = lcm(*(f.denominator for f in (*fats_of(cuts), *ends)))
    gram = lcm(*(c.at_least.denominator for c in cuts), *(c.at_most.denominator for c in cuts if c.at_most))
    one = lcm(100, *(share.denominator for c in cuts for share in (c.share_at_least, c.share_at_most)))
    return Counts(
        Fats(
            tuple(_out_of(fat, c.fat) for c in cuts),
            None if band.low is None else _out_of(fat, band.low),
            None if band.high is None else _out_of(fat, band.high),
            fat,
        ),
        tuple(_out_of(gram, c.at_least) for c in cuts),
        tuple(None if c.at_most is None else _out_of(gram, c.at_most) for c in cuts),
        tuple(_out_of(one, c.share_at_least) for c in cuts),
        tuple(_out_of(one, c.share_at_most) for c in cuts),
        gram,
        one,
    )


def eased(counts: Counts, i: int, limit: Limit) -> Counts:
    """The counts with one limit of cut i eased by a gram, or by a hundredth of the batch; no minimum falls below 0,
    no share rises above 1."""
    hundredth = counts.one // 100
    if limit is Limit.AT_MOST:
        return replace(counts, at_most=_put(counts.at_most, i, (counts.at_most[i] or 0) + counts.gram))
    if limit is Limit.AT_LEAST:
        return replace(counts, at_least=_put(counts.at_least, i, max(0, counts.at_least[i] - counts.gram)))
    if limit is Limit.SHARE_AT_MOST:
        share = min(counts.one, counts.shares_at_most[i] + hundredth)
        return replace(counts, shares_at_most=_put(counts.shares_at_most, i, share))
    share = max(0, counts.shares_at_least[i] - hundredth)
    return replace(counts, shares_at_least=_put(counts.shares_at_least, i, share))


def unlimited(counts: Counts, i: int) -> Counts:
    """The counts with no end to the stock of cut i."""
    return replace(counts, at_most=_put(counts.at_most, i, None))


def _put(values: tuple[Kind, ...], i: int, value: Kind) -> tuple[Kind, ...]:
    return (*values[:i], value, *values[i + 1 :])


def _out_of(unit: int, value: Fraction) -> int:
    return value.numerator * (unit // value.denominator)


def gram_limits(cuts: Sequence[Cut], batch: Fraction) -> tuple[list[Fraction], list[Fraction]]:
    """The least and the most grams of every cut in a batch of so many."""
    lows = [max(c.at_least, c.share_at_least * batch) for c in cuts]
    by_share = [c.share_at_most * batch for c in cuts]
    return lows, [most if c.at_most is None else min(most, c.at_most) for c, most in zip(cuts, by_share, strict=True)]


def largest_batch_inverse(
    counts: Counts, tried: list[Fraction] | None = None, start: Fraction = ZERO
) -> Fraction | None:
    """1 / the largest workable batch; 0 when there is no end; None when no batch works.

    Every number tried on the way goes into `tried`. start: where nothing larger than 1 / start is known to work.
    """

    def probe(inverse: Fraction) -> Break | None:
        if tried is not None:
            tried.append(inverse)
        return counts.break_at(inverse)

    return first_workable(probe, start, upwards=True)


def smallest_batch_inverse(counts: Counts) -> Fraction | None:
    """1 / the smallest workable batch; 0 when only a batch without end works; None when none does."""
    return first_workable(counts.break_at, inverse_end(counts), upwards=False)


def inverse_end(counts: Counts) -> Fraction:
    """1 / batch beyond which either the minimums overfill it or no limit changes any more."""
    if minimums := sum(counts.at_least):
        return Fraction(counts.gram, minimums)
    shares = zip(counts.shares_at_most, counts.at_most, strict=True)
    return max([ONE, *(Fraction(share * counts.gram, counts.one * most) for share, most in shares if most)])


def wished_grams(cuts: Sequence[Cut], batch: Fraction) -> list[Fraction]:
    wishes = [ONE if c.wish is None else c.wish for c in cuts]
    unit = batch / sum(wishes, ZERO)
    return [w * unit for w in wishes]


def nearest_blend(cuts: Sequence[Cut], batch: Fraction, band: Band) -> Blend:
    """The blend nearest to the wishes; the caller has made sure that one exists."""
    lows, highs = gram_limits(cuts, batch)
    grams, held = nearest_in_band(cuts, batch, band, lows, highs)
    blend = with_bindings(cuts, mix(cuts, grams), {})
    if held is None:
        return blend
    return replace(blend, binding=(*blend.binding, Binding(None, held)))


def nearest_in_band(
    cuts: Sequence[Cut], batch: Fraction, band: Band, lows: Sequence[Fraction], highs: Sequence[Fraction]
) -> tuple[tuple[Fraction, ...], Limit | None]:
    """Grams nearest to the wishes, and which end of the band holds them.

    The sum of squares is convex: if the best grams without the band lie outside it, the best inside lie on that end.
    """
    fats, wished = fats_of(cuts), wished_grams(cuts, batch)
    if band.low is not None and band.low == band.high:
        return nearest_point(fats, wished, lows, highs, batch, band.low), Limit.FAT
    grams = nearest_point(fats, wished, lows, highs, batch, None)
    fat = sum((f * g for f, g in zip(fats, grams, strict=True)), ZERO) / batch
    if band.high is not None and fat > band.high:
        return nearest_point(fats, wished, lows, highs, batch, band.high), Limit.FAT_AT_MOST
    if band.low is not None and fat < band.low:
        return nearest_point(fats, wished, lows, highs, batch, band.low), Limit.FAT_AT_LEAST
    return grams, None


def end_blend(cuts: Sequence[Cut], batch: Fraction, sign: int) -> Blend:
    """The leanest (sign 1) or fattest (sign -1) blend of a batch that the limits allow; of several, the nearest.

    Only cuts of the very fat at which the filling stops leave a choice: all others are full, or at their least.
    """
    lows, highs = gram_limits(cuts, batch)
    keys = [sign * f for f in fats_of(cuts)]
    stop = least_fill(keys, lows, highs, batch).key
    least = [high if key < stop else low for key, low, high in zip(keys, lows, highs, strict=True)]
    most = [low if key > stop else high for key, low, high in zip(keys, lows, highs, strict=True)]
    grams = nearest_point(fats_of(cuts), wished_grams(cuts, batch), least, most, batch, None)
    slopes = {i: (key - stop) / batch for i, key in enumerate(keys)}
    return with_bindings(cuts, mix(cuts, grams), slopes)


def with_bindings(cuts: Sequence[Cut], blend: Blend, slopes: Mapping[int, Fraction]) -> Blend:
    """The blend with the limits it rests on. slopes: how much worse one gram more of a cut makes it, by cut."""
    found = tuple(
        Binding(i, limit, _gain(limit, slopes.get(i), blend.total))
        for i, (cut, grams) in enumerate(zip(cuts, blend.grams, strict=True))
        for limit in _limits_touched(cut, grams, blend.total)
    )
    return replace(blend, binding=found)


def _gain(limit: Limit, slope: Fraction | None, total: Fraction) -> Fraction | None:
    """What one unit of easing gives: nothing, where the other end of the same cut is what holds it."""
    if slope is None:
        return None
    gain = max(ZERO, -slope if limit in (Limit.AT_MOST, Limit.SHARE_AT_MOST) else slope)
    return gain * total / 100 if limit in (Limit.SHARE_AT_LEAST, Limit.SHARE_AT_MOST) else gain


def _limits_touched(cut: Cut, grams: Fraction, total: Fraction) -> list[Limit]:
    touched = []
    if grams == 0 and not cut.at_least and not cut.share_at_least and cut.at_most != 0 and cut.share_at_most:
        touched.append(Limit.LEFT_OUT)
    if cut.at_least and grams == cut.at_least:
        touched.append(Limit.AT_LEAST)
    if cut.share_at_least and grams == cut.share_at_least * total:
        touched.append(Limit.SHARE_AT_LEAST)
    if cut.at_most is not None and grams == cut.at_most:
        touched.append(Limit.AT_MOST)
    # A share of 1 is no limit: a cut that fills the whole batch is held by the batch.
    if cut.share_at_most < 1 and grams == cut.share_at_most * total:
        touched.append(Limit.SHARE_AT_MOST)
    return touched
