"""Why a blend cannot be made, and what comes nearest: the reason, the colliding demands, and the ways out."""

from __future__ import annotations

from collections.abc import Sequence
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
    break_at,
    end_blend,
    ends_at,
    fats_of,
    inverse_end,
    largest_batch_inverse,
    nearest_blend,
    smallest_batch_inverse,
)


def why_not(cuts: Sequence[Cut], batch: Fraction, band: Band) -> NoBlend | None:
    """Why this batch cannot be made, or None when it can."""
    broken = break_at(cuts, 1 / batch, band)
    if broken is None:
        return None
    reason, clash = _explain(cuts, 1 / batch, broken, band)
    found = NoBlend(reason, batch, clash, more=_more_stock(cuts, batch, band))
    if broken.fault in (Fault.TOO_LEAN, Fault.TOO_FAT):
        leanest, fattest = end_blend(cuts, batch, 1), end_blend(cuts, batch, -1)
        nearest = leanest if reason is Reason.TOO_LEAN else fattest
        found = replace(
            found, lean_end=leanest.fat, fat_end=fattest.fat, leanest=leanest, fattest=fattest, nearest=nearest
        )
    return _with_other_sizes(found, cuts, batch, band)


def _with_other_sizes(found: NoBlend, cuts: Sequence[Cut], batch: Fraction, band: Band) -> NoBlend:
    """Add the workable batch next in size, above or below: sizes that work lie in one piece."""
    inverse = largest_batch_inverse(cuts, band)
    if inverse is None:
        return found
    if inverse * batch > 1:
        return replace(found, largest=nearest_blend(cuts, 1 / inverse, band))
    inverse = smallest_batch_inverse(cuts, band)
    return replace(found, smallest=nearest_blend(cuts, 1 / inverse, band)) if inverse else found


def why_not_any(cuts: Sequence[Cut], band: Band) -> NoBlend:
    """Why no batch of any size can be made."""
    first, last = largest_batch_inverse(cuts, ANY_FAT), smallest_batch_inverse(cuts, ANY_FAT)
    more = _more_stock_any(cuts, band)
    if first is None or last is None or last == 0:
        at = inverse_end(cuts)
        broken = break_at(cuts, at, ANY_FAT)
        assert broken is not None
        reason, clash = _explain(cuts, at, broken, band)
        return NoBlend(reason, None, clash, more=more)
    broken = break_at(cuts, last, band)
    assert broken is not None
    reason, clash = _explain(cuts, last, broken, band)

    def leanness(t: Fraction) -> tuple[Fraction, Fraction]:
        value, slope = least_key_curve(fats_of(cuts), ends_at(cuts, t))
        return -value, -slope

    def fatness(t: Fraction) -> tuple[Fraction, Fraction]:
        value, slope = least_key_curve([-f for f in fats_of(cuts)], ends_at(cuts, t))
        return -value, -slope

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


def _explain(cuts: Sequence[Cut], inverse: Fraction, broken: Break, band: Band) -> tuple[Reason, tuple[Demand, ...]]:
    """The reason and the demands that collide, in grams for a batch of 1 / inverse."""
    ends = ends_at(cuts, inverse)
    if broken.fault is Fault.CROSSED:
        return _explain_crossed(cuts, inverse, ends)
    whole = Demand(Limit.WHOLE, (), ONE)
    if broken.fault is Fault.OVERFULL:
        share_cuts = tuple(i for i, c in enumerate(cuts) if c.share_at_least)
        shares = sum((c.share_at_least for c in cuts), ZERO)
        if shares > 1:
            return Reason.SHARES_CLASH, (Demand(Limit.SHARE_AT_LEAST, share_cuts, shares), whole)
        low_cuts = tuple(i for i, low in enumerate(ends.lows) if low)
        demand = Demand(Limit.AT_LEAST, low_cuts, sum(ends.lows, ZERO) / inverse)
        return Reason.MINIMUMS_EXCEED_BATCH, (demand, Demand(Limit.BATCH, (), 1 / inverse))
    if broken.fault is Fault.SHORT:
        everything = tuple(range(len(cuts)))
        shares = sum((c.share_at_most for c in cuts), ZERO)
        if shares < 1:
            return Reason.SHARES_CLASH, (Demand(Limit.SHARE_AT_MOST, everything, shares), whole)
        demand = Demand(Limit.AT_MOST, everything, sum(ends.highs, ZERO) / inverse)
        return Reason.STOCK_SHORT, (demand, Demand(Limit.BATCH, (), 1 / inverse))
    return _explain_fat(cuts, ends, broken.fault, band)


def _explain_crossed(cuts: Sequence[Cut], inverse: Fraction, ends: Ends) -> tuple[Reason, tuple[Demand, ...]]:
    i = next(i for i, (low, high) in enumerate(zip(ends.lows, ends.highs, strict=True)) if low > high)
    return Reason.CUT_LIMITS_CLASH, (_low_demand(cuts[i], i, inverse), _high_demand(cuts[i], i, inverse))


def _low_demand(cut: Cut, i: int, inverse: Fraction) -> Demand:
    if cut.at_least * inverse > cut.share_at_least:
        return Demand(Limit.AT_LEAST, (i,), cut.at_least)
    return Demand(Limit.SHARE_AT_LEAST, (i,), cut.share_at_least)


def _high_demand(cut: Cut, i: int, inverse: Fraction) -> Demand:
    if cut.at_most is not None and cut.at_most * inverse <= cut.share_at_most:
        return Demand(Limit.AT_MOST, (i,), cut.at_most)
    return Demand(Limit.SHARE_AT_MOST, (i,), cut.share_at_most)


def _explain_fat(cuts: Sequence[Cut], ends: Ends, fault: Fault, band: Band) -> tuple[Reason, tuple[Demand, ...]]:
    """The fat wanted against every limit that keeps the blend from it (none: no cut is lean or fat enough)."""
    too_fat = fault is Fault.TOO_FAT
    aim = band.low if too_fat else band.high
    assert aim is not None
    kind = Limit.FAT if band.low == band.high else Limit.FAT_AT_LEAST if too_fat else Limit.FAT_AT_MOST
    # Limits by weight depend on the batch; any t that gives these ends names the same limits.
    demands = [Demand(kind, (), aim)]
    for i, cut in enumerate(cuts):
        helps = cut.fat > aim if too_fat else cut.fat < aim
        hurts = cut.fat < aim if too_fat else cut.fat > aim
        if helps and ends.highs[i] < 1:
            by_weight = ends.highs[i] < cut.share_at_most or cut.share_at_most == 1
            value = cut.at_most if by_weight and cut.at_most is not None else cut.share_at_most
            limit = Limit.AT_MOST if by_weight and cut.at_most is not None else Limit.SHARE_AT_MOST
            demands.append(Demand(limit, (i,), value))
        elif hurts and ends.lows[i] > 0:
            by_share = ends.lows[i] == cut.share_at_least
            demands.append(
                Demand(Limit.SHARE_AT_LEAST, (i,), cut.share_at_least)
                if by_share
                else Demand(Limit.AT_LEAST, (i,), cut.at_least)
            )
    reason = Reason.TOO_FAT if too_fat else Reason.TOO_LEAN
    return reason, tuple(demands)


def _more_stock(cuts: Sequence[Cut], batch: Fraction, band: Band) -> tuple[More, ...]:
    """Ways to make the whole batch with more stock: of one cut if one is enough, else the least of several."""
    ends = ends_at(cuts, 1 / batch)
    single = []
    for i, cut in enumerate(cuts):
        if cut.at_most is not None and cut.at_most < cut.share_at_most * batch:
            needed = _needed_share(cuts, ends, i, band)
            if needed is not None and needed <= cut.share_at_most:
                single.append(More(((i, needed * batch - cut.at_most),)))
    if single:
        return tuple(sorted(single, key=lambda m: m.grams[0][1]))
    together = _least_extra(cuts, ends, batch, band)
    return () if together is None else (together,)


def _needed_share(cuts: Sequence[Cut], ends: Ends, i: int, band: Band) -> Fraction | None:
    """The least share of cut i, above its stock, with which the batch works."""
    still = (ZERO,) * len(cuts)
    moving = (*still[:i], ONE, *still[i + 1 :])

    def probe(share: Fraction) -> Break | None:
        lows = (*ends.lows[:i], share, *ends.lows[i + 1 :])
        highs = (*ends.highs[:i], share, *ends.highs[i + 1 :])
        return first_break(fats_of(cuts), Ends(lows, highs, moving, moving), band)

    return first_workable(probe, max(ends.lows[i], ends.highs[i]), upwards=True)


def _least_extra(cuts: Sequence[Cut], ends: Ends, batch: Fraction, band: Band) -> More | None:
    """The fewest grams of extra stock, of any cuts together, with which the batch works."""
    if any(low > c.share_at_most for low, c in zip(ends.lows, cuts, strict=True)):
        return None
    fats, count = fats_of(cuts), len(cuts)
    room = [c.share_at_most - min(h, c.share_at_most) for c, h in zip(cuts, ends.highs, strict=True)]
    lower = [*(min(low, high) for low, high in zip(ends.lows, ends.highs, strict=True)), *([ZERO] * count)]
    # A minimum above the stock has to be bought whatever else is chosen.
    for i, (low, high) in enumerate(zip(ends.lows, ends.highs, strict=True)):
        lower[count + i] = max(ZERO, low - high)
    at_most = []
    if band.high is not None:
        at_most.append(Row(tuple(f - band.high for f in fats) * 2, ZERO))
    if band.low is not None:
        at_most.append(Row(tuple(band.low - f for f in fats) * 2, ZERO))
    costs = [ZERO] * count + [ONE] * count
    found = minimise(costs, [Row((ONE,) * (2 * count), ONE)], lower, [*ends.highs, *room], at_most)
    if found is None:
        return None
    extra = found.amounts[count:]
    return More(tuple((i, share * batch) for i, share in enumerate(extra) if share))


def _more_stock_any(cuts: Sequence[Cut], band: Band) -> tuple[More, ...]:
    """For a batch of any size: how much more of one cut would do, least first."""
    ways = []
    for i, cut in enumerate(cuts):
        if cut.at_most is None:
            continue
        eased: list[Cut] = [*cuts[:i], replace(cut, at_most=None), *cuts[i + 1 :]]
        inverse = smallest_batch_inverse(eased, band)
        if inverse:
            blend: Blend = nearest_blend(eased, 1 / inverse, band)
            if blend.grams[i] > cut.at_most:
                ways.append(More(((i, blend.grams[i] - cut.at_most),)))
    return tuple(sorted(ways, key=lambda m: m.grams[0][1]))
