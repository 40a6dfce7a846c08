"""Solving for a blend that is known to exist, and what is shared by all who ask for one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant.engine.fills import ONE, ZERO, Band, Break, Ends, first_break, first_workable, least_fill
from assistant.engine.kinds import HUNDRED, Binding, Blend, Cut, Limit, above_nothing, all_are, exact, mix
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


def ends_at(cuts: Sequence[Cut], inverse: Fraction) -> Ends:
    """Limits as shares of a batch of 1 / inverse grams (inverse 0: of a batch without end)."""
    lows, highs, low_slopes, high_slopes = [], [], [], []
    for cut in cuts:
        by_weight = cut.at_least * inverse
        lows.append(max(by_weight, cut.share_at_least))
        low_slopes.append(cut.at_least if by_weight > cut.share_at_least else ZERO)
        stock = None if cut.at_most is None else cut.at_most * inverse
        if cut.at_most is None or stock is None or stock >= cut.share_at_most:
            highs.append(cut.share_at_most)
            high_slopes.append(ZERO)
        else:
            highs.append(stock)
            high_slopes.append(cut.at_most)
    return Ends(tuple(lows), tuple(highs), tuple(low_slopes), tuple(high_slopes))


def gram_limits(cuts: Sequence[Cut], batch: Fraction) -> tuple[list[Fraction], list[Fraction]]:
    ends = ends_at(cuts, 1 / batch)
    return [v * batch for v in ends.lows], [v * batch for v in ends.highs]


def break_at(cuts: Sequence[Cut], inverse: Fraction, band: Band) -> Break | None:
    return first_break(fats_of(cuts), ends_at(cuts, inverse), band)


def largest_batch_inverse(cuts: Sequence[Cut], band: Band, tried: list[Fraction] | None = None) -> Fraction | None:
    """1 / the largest workable batch; 0 when there is no end; None when no batch works.

    Every number tried on the way goes into `tried`.
    """

    def probe(inverse: Fraction) -> Break | None:
        if tried is not None:
            tried.append(inverse)
        return break_at(cuts, inverse, band)

    return first_workable(probe, ZERO, upwards=True)


def smallest_batch_inverse(cuts: Sequence[Cut], band: Band) -> Fraction | None:
    """1 / the smallest workable batch; 0 when only a batch without end works; None when none does."""
    return first_workable(lambda t: break_at(cuts, t, band), inverse_end(cuts), upwards=False)


def inverse_end(cuts: Sequence[Cut]) -> Fraction:
    """1 / batch beyond which either the minimums overfill it or no limit changes any more."""
    if minimums := sum(c.at_least for c in cuts):
        return 1 / Fraction(minimums)
    return max([ONE, *(c.share_at_most / c.at_most for c in cuts if c.at_most)])


def wished_grams(cuts: Sequence[Cut], batch: Fraction) -> list[Fraction]:
    wishes = [ONE if c.wish is None else c.wish for c in cuts]
    return [w * batch / sum(wishes) for w in wishes]


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
    """The leanest (sign 1) or fattest (sign -1) blend of a batch that the limits allow; of several, the nearest."""
    lows, highs = gram_limits(cuts, batch)
    fill = least_fill([sign * c.fat for c in cuts], lows, highs, batch)
    fat = sign * fill.value / batch
    grams = nearest_point(fats_of(cuts), wished_grams(cuts, batch), lows, highs, batch, fat)
    slopes = {i: (sign * c.fat - fill.key) / batch for i, c in enumerate(cuts)}
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
