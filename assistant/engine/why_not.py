"""Why a blend cannot be made, and what comes nearest: the reason, the colliding demands, and the ways out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant.engine.fills import (
    ONE,
    ZERO,
    Band,
    Break,
    Ends,
    Fault,
    first_break,
    first_workable,
    least_key_curve,
    peak,
)
from assistant.engine.kinds import Blend, Cut, Demand, Limit, More, NoBlend, Reason
from assistant.engine.simplex import Row, minimise
from assistant.engine.solve import (
    ANY_FAT,
    Counts,
    counted,
    end_blend,
    fats_of,
    gram_limits,
    inverse_end,
    largest_batch_inverse,
    nearest_blend,
    smallest_batch_inverse,
    unlimited,
)


def why_not(cuts: Sequence[Cut], batch: Fraction, band: Band) -> NoBlend | None:
    """Why this batch cannot be made, or None when it can."""
    counts = counted(cuts, band)
    broken = counts.break_at(1 / batch)
    if broken is None:
        return None
    reason, clash = _explain(cuts, batch, broken.fault, band)
    found = NoBlend(reason, batch, clash, more=_more_stock(cuts, counts, batch, broken, band))
    if broken.fault in (Fault.TOO_LEAN, Fault.TOO_FAT):
        leanest, fattest = end_blend(cuts, batch, 1), end_blend(cuts, batch, -1)
        nearest = leanest if reason is Reason.TOO_LEAN else fattest
        found = replace(
            found, lean_end=leanest.fat, fat_end=fattest.fat, leanest=leanest, fattest=fattest, nearest=nearest
        )
    return _with_other_sizes(found, cuts, counts, batch, band)


def _with_other_sizes(found: NoBlend, cuts: Sequence[Cut], counts: Counts, batch: Fraction, band: Band) -> NoBlend:
    """Add the workable batch next in size, above or below: sizes that work lie in one piece."""
    inverse = largest_batch_inverse(counts)
    if inverse is None:
        return found
    if inverse * batch > 1:
        return replace(found, largest=nearest_blend(cuts, 1 / inverse, band))
    inverse = smallest_batch_inverse(counts)
    return replace(found, smallest=nearest_blend(cuts, 1 / inverse, band)) if inverse else found


def why_not_any(cuts: Sequence[Cut], band: Band) -> NoBlend:
    """Why no batch of any size can be made."""
    counts, free = counted(cuts, band), counted(cuts, ANY_FAT)
    first, last = largest_batch_inverse(free), smallest_batch_inverse(free)
    more = _more_stock_any(cuts, counts, band)
    if first is None or last is None or last == 0:
        at = inverse_end(counts)
        broken = free.break_at(at)
        assert broken is not None
        reason, clash = _explain(cuts, 1 / at, broken.fault, band)
        return NoBlend(reason, None, clash, more=more)
    broken = counts.break_at(last)
    assert broken is not None
    reason, clash = _explain(cuts, 1 / last, broken.fault, band)
    leanness, fatness = _end_curve(counts, 1), _end_curve(counts, -1)
    at_lean, at_fat = peak(leanness, first, last), peak(fatness, first, last)
    leanest = end_blend(cuts, 1 / at_lean, 1) if at_lean else None
    fattest = end_blend(cuts, 1 / at_fat, -1) if at_fat else None
    return NoBlend(
        reason,
        None,
        clash,
        lean_end=-leanness(at_lean)[0],
        fat_end=fatness(at_fat)[0],
        leanest=leanest,
        fattest=fattest,
        nearest=leanest if reason is Reason.TOO_LEAN else fattest,
        more=more,
    )


def _end_curve(counts: Counts, sign: int) -> Callable[[Fraction], tuple[Fraction, Fraction]]:
    """How the fat of the fattest blend (sign -1), or the leanest one's with its sign changed, goes with 1 / batch."""
    keys = [sign * fat for fat in counts.fats.cuts]

    def curve(inverse: Fraction) -> tuple[Fraction, Fraction]:
        ends = counts.ends(inverse)
        fill, slope = least_key_curve(keys, ends)
        unit = counts.fats.percent
        return Fraction(-fill.value, ends.whole * unit), Fraction(-slope, ends.run * unit)

    return curve


def _explain(cuts: Sequence[Cut], batch: Fraction, fault: Fault, band: Band) -> tuple[Reason, tuple[Demand, ...]]:
    """The reason and the demands that collide in a batch of so many grams."""
    lows, highs = gram_limits(cuts, batch)
    if fault is Fault.CROSSED:
        i = next(i for i, (low, high) in enumerate(zip(lows, highs, strict=True)) if low > high)
        return Reason.CUT_LIMITS_CLASH, (_low_demand(cuts[i], i, batch), _high_demand(cuts[i], i, batch))
    whole = Demand(Limit.WHOLE, (), ONE)
    if fault is Fault.OVERFULL:
        share_cuts = tuple(i for i, c in enumerate(cuts) if c.share_at_least)
        shares = sum((c.share_at_least for c in cuts), ZERO)
        if shares > 1:
            return Reason.SHARES_CLASH, (Demand(Limit.SHARE_AT_LEAST, share_cuts, shares), whole)
        demand = Demand(Limit.AT_LEAST, tuple(i for i, low in enumerate(lows) if low), sum(lows, ZERO))
        return Reason.MINIMUMS_EXCEED_BATCH, (demand, Demand(Limit.BATCH, (), batch))
    if fault is Fault.SHORT:
        everything = tuple(range(len(cuts)))
        shares = sum((c.share_at_most for c in cuts), ZERO)
        if shares < 1:
            return Reason.SHARES_CLASH, (Demand(Limit.SHARE_AT_MOST, everything, shares), whole)
        return Reason.STOCK_SHORT, (Demand(Limit.AT_MOST, everything, sum(highs, ZERO)), Demand(Limit.BATCH, (), batch))
    return _explain_fat(cuts, batch, fault, band)


def _low_demand(cut: Cut, i: int, batch: Fraction) -> Demand:
    if cut.at_least > cut.share_at_least * batch:
        return Demand(Limit.AT_LEAST, (i,), cut.at_least)
    return Demand(Limit.SHARE_AT_LEAST, (i,), cut.share_at_least)


def _high_demand(cut: Cut, i: int, batch: Fraction) -> Demand:
    if cut.at_most is not None and cut.at_most <= cut.share_at_most * batch:
        return Demand(Limit.AT_MOST, (i,), cut.at_most)
    return Demand(Limit.SHARE_AT_MOST, (i,), cut.share_at_most)


def _explain_fat(cuts: Sequence[Cut], batch: Fraction, fault: Fault, band: Band) -> tuple[Reason, tuple[Demand, ...]]:
    """The fat wanted against every limit that keeps the blend from it (none: no cut is lean or fat enough)."""
    too_fat = fault is Fault.TOO_FAT
    aim = band.low if too_fat else band.high
    assert aim is not None
    kind = Limit.FAT if band.low == band.high else Limit.FAT_AT_LEAST if too_fat else Limit.FAT_AT_MOST
    demands = [Demand(kind, (), aim)]
    for i, (cut, low, high) in enumerate(zip(cuts, *gram_limits(cuts, batch), strict=True)):
        helps = cut.fat > aim if too_fat else cut.fat < aim
        hurts = cut.fat < aim if too_fat else cut.fat > aim
        if helps and high < batch:
            demands.append(_high_demand(cut, i, batch))
        elif hurts and low > 0:
            demands.append(_low_demand(cut, i, batch))
    return Reason.TOO_FAT if too_fat else Reason.TOO_LEAN, tuple(demands)


def _more_stock(cuts: Sequence[Cut], counts: Counts, batch: Fraction, broken: Break, band: Band) -> tuple[More, ...]:
    """Ways to make the whole batch with more stock: of one cut if one is enough, else the least of several."""
    ends = counts.ends(1 / batch)
    single = []
    for i, cut in enumerate(cuts):
        if cut.at_most is not None and cut.at_most < cut.share_at_most * batch:
            needed = _needed_share(counts, ends, i, broken, cut.share_at_most)
            if needed is not None:
                single.append(More(((i, needed * batch - cut.at_most),)))
    if single:
        return tuple(sorted(single, key=lambda m: m.grams[0][1]))
    together = _least_extra(cuts, batch, band)
    return () if together is None else (together,)


def _needed_share(counts: Counts, ends: Ends, i: int, broken: Break, most: Fraction) -> Fraction | None:
    """The least share of cut i, above its stock and up to `most`, with which the batch works."""
    still = (0,) * len(ends.lows)
    moving = (*still[:i], 1, *still[i + 1 :])

    def probe(share: Fraction) -> Break | None:
        per = share.denominator
        lows, highs = [v * per for v in ends.lows], [v * per for v in ends.highs]
        lows[i] = highs[i] = share.numerator * ends.whole
        return first_break(counts.fats, Ends(lows, highs, moving, moving, ends.whole * per, 1))

    slope = _slope_of(broken, counts.fats.cuts[i], crossed=ends.lows[i] > ends.highs[i])
    if slope <= 0:
        return None
    return first_workable(probe, Fraction(ends.highs[i], ends.whole) - broken.amount / slope, upwards=True, last=most)


def _slope_of(broken: Break, fat: int, crossed: bool) -> int:
    """How fast the broken condition mends when there is more of a cut of this fat, by share of the batch.

    A minimum above the stock, or one that overfills the batch, is mended by no other cut.
    """
    if broken.fault in (Fault.TOO_LEAN, Fault.TOO_FAT):
        return broken.at - fat if broken.fault is Fault.TOO_LEAN else fat - broken.at
    return int(crossed if broken.fault is Fault.CROSSED else broken.fault is Fault.SHORT)


def _least_extra(cuts: Sequence[Cut], batch: Fraction, band: Band) -> More | None:
    """The fewest grams of extra stock, of any cuts together, with which the batch works."""
    lows, highs = gram_limits(cuts, batch)
    tops = [c.share_at_most * batch for c in cuts]
    if any(low > top for low, top in zip(lows, tops, strict=True)):
        return None
    fats, count = fats_of(cuts), len(cuts)
    room = [top - high for top, high in zip(tops, highs, strict=True)]
    # A minimum above the stock has to be bought whatever else is chosen.
    lower = [min(low, high) for low, high in zip(lows, highs, strict=True)]
    lower += [max(ZERO, low - high) for low, high in zip(lows, highs, strict=True)]
    at_most = []
    if band.high is not None:
        at_most.append(Row(tuple(f - band.high for f in fats) * 2, ZERO))
    if band.low is not None:
        at_most.append(Row(tuple(band.low - f for f in fats) * 2, ZERO))
    costs = [ZERO] * count + [ONE] * count
    found = minimise(costs, [Row((ONE,) * (2 * count), batch)], lower, [*highs, *room], at_most)
    if found is None:
        return None
    return More(tuple((i, grams) for i, grams in enumerate(found.amounts[count:]) if grams))


def _more_stock_any(cuts: Sequence[Cut], counts: Counts, band: Band) -> tuple[More, ...]:
    """For a batch of any size: how much more of one cut would do, least first."""
    ways = []
    for i, cut in enumerate(cuts):
        if cut.at_most is None:
            continue
        inverse = smallest_batch_inverse(unlimited(counts, i))
        if inverse:
            eased: list[Cut] = [*cuts[:i], replace(cut, at_most=None), *cuts[i + 1 :]]
            blend: Blend = nearest_blend(eased, 1 / inverse, band)
            if blend.grams[i] > cut.at_most:
                ways.append(More(((i, blend.grams[i] - cut.at_most),)))
    return tuple(sorted(ways, key=lambda m: m.grams[0][1]))
