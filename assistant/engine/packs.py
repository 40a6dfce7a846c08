"""What to buy when meat comes in whole packs: the cheapest set of packs from which the batch can be made.

Branch and bound: the linear programme that may buy part of a pack gives a price that no whole packs can beat; rounding
its packs up gives a set that works; where a pack is bought in part, the search goes on with fewer and with more of it.
Exact throughout. What is not ground is left over.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor, gcd, lcm

from msgspec import Struct
from msgspec.structs import force_setattr, replace

from assistant.engine.blend import Blend, Cut, NoBlend, nearest
from assistant.engine.fills import ONE, ZERO, Band
from assistant.engine.kinds import above_nothing, all_are, exact
from assistant.engine.simplex import Optimum, Row, minimise
from assistant.engine.solve import checked, gram_limits, wanted_band, wanted_batch
from assistant.engine.why_not import why_not
from assistant.errors import BadInput

MOST_PACKS = 60
# Past so many part-problems the best set found is given, with the price that none can beat beside it.
PATIENCE = 500


class Pack(Struct, frozen=True):
    """A pack on sale. cut: index of the cut in it; grams: trimmed meat it gives; price: money for the pack;
    at_most: how many can be had (None: enough). Raises BadInput.
    """

    cut: int
    grams: Fraction
    price: Fraction
    at_most: int | None = None

    def __post_init__(self) -> None:
        force_setattr(self, "grams", above_nothing("grams", self.grams))
        force_setattr(self, "price", exact("price", self.price))
        if self.at_most is not None and self.at_most < 0:
            raise BadInput("at_most", self.at_most, "0 packs or more")


class Shopping(Struct, frozen=True):
    """What to buy. packs: how many of each, in the order given; cost: money for all of them; blend: what to make of
    them and of what was there (its own cost is None); left_over: grams per cut not ground.

    proved: no set of packs is cheaper; else none costs less than `floor`, and the search was stopped.
    """

    packs: tuple[int, ...]
    cost: Fraction
    blend: Blend
    left_over: tuple[Fraction, ...]
    proved: bool
    floor: Fraction


def cheapest_packs(
    cuts: Sequence[Cut],
    packs: Sequence[Pack],
    batch: Fraction,
    fat: Fraction | None = None,
    *,
    fat_at_most: Fraction | None = None,
    fat_at_least: Fraction | None = None,
    have: Sequence[Fraction] | None = None,
    patience: int = PATIENCE,
) -> Shopping | NoBlend:
    """The cheapest whole packs for a batch of `batch` grams of the wanted fat; the blend is the nearest to the wishes.

    have: grams of each cut already there, free (None: nothing). The cuts' limits hold for what is ground; their price
    is not looked at. patience: part-problems tried at most. Raises BadInput.
    """
    cuts, batch, band = checked(cuts), wanted_batch(batch), wanted_band(fat, fat_at_most, fat_at_least)
    packs = all_are("packs", packs, Pack)
    stock = _stock(cuts, have)
    if len(packs) > MOST_PACKS:
        raise BadInput("packs", len(packs), f"at most {MOST_PACKS} kinds of pack")
    if any(not 0 <= p.cut < len(cuts) for p in packs):
        raise BadInput("packs", [p.cut for p in packs], f"indices of cuts, 0 to {len(cuts) - 1}")
    plain = tuple(replace(c, price=None) for c in cuts)
    market = _Market(plain, tuple(packs), batch, band, stock)
    if (none := why_not(market.stocked(market.most), batch, band)) is not None:
        return none
    bought, cost, bottom = market.search(patience)
    blend = nearest(market.stocked(bought), batch, fat, fat_at_most=fat_at_most, fat_at_least=fat_at_least)
    assert isinstance(blend, Blend), "packs rounded up always cover the blend they were rounded from"
    left = tuple(s - g for s, g in zip(market.supply(bought), blend.grams, strict=True))
    return Shopping(tuple(bought), cost, blend, left, bottom >= cost, bottom)


def _stock(cuts: Sequence[Cut], have: Sequence[Fraction] | None) -> tuple[Fraction, ...]:
    if have is None:
        return (ZERO,) * len(cuts)
    if len(have) != len(cuts):
        raise BadInput("have", len(have), f"{len(cuts)} weights, one per cut")
    return tuple(exact("have", h) for h in have)


class _Market:
    """The packs on sale, and the batch they are for."""

    def __init__(
        self, cuts: tuple[Cut, ...], packs: tuple[Pack, ...], batch: Fraction, band: Band, stock: tuple[Fraction, ...]
    ) -> None:
        self.cuts, self.packs, self.batch, self.band, self.stock = cuts, packs, batch, band, stock
        self.lows, self.highs = gram_limits(cuts, batch)
        # More packs than fill the whole of a cut's place in the batch are never needed.
        needed = [max(0, ceil(self.highs[p.cut] / p.grams)) for p in packs]
        self.most = [n if p.at_most is None else min(n, p.at_most) for n, p in zip(needed, packs, strict=True)]
        # Every possible sum is a multiple of this, so a bound may be raised to the next multiple.
        denominator = lcm(*(p.price.denominator for p in packs))
        self.coin = Fraction(gcd(*(int(p.price * denominator) for p in packs)), denominator)

    def supply(self, bought: Sequence[int]) -> list[Fraction]:
        """Grams of each cut there would be."""
        there = list(self.stock)
        for pack, count in zip(self.packs, bought, strict=True):
            there[pack.cut] += count * pack.grams
        return there

    def stocked(self, bought: Sequence[int]) -> list[Cut]:
        """The cuts, limited to what there would be."""
        return [
            replace(c, at_most=s if c.at_most is None else min(s, c.at_most))
            for c, s in zip(self.cuts, self.supply(bought), strict=True)
        ]

    def price(self, bought: Sequence[int]) -> Fraction:
        return sum((n * p.price for n, p in zip(bought, self.packs, strict=True)), ZERO)

    def search(self, patience: int) -> tuple[list[int], Fraction, Fraction]:
        """Best packs found, their price, and the price that no packs can beat (equal when proved)."""
        best, best_cost = self.most, self.price(self.most)
        start = ([0] * len(self.packs), list(self.most))
        heap: list[tuple[Fraction, int, tuple[list[int], list[int]]]] = [(ZERO, 0, start)]
        made = 0
        while heap:
            bound, _, (least, most) = heapq.heappop(heap)
            if bound >= best_cost:
                break
            if made >= patience:
                return best, best_cost, bound
            made += 1
            found = self._in_parts(least, most)
            if found is None:
                continue
            parts = [x / p.grams for x, p in zip(found.amounts[len(self.cuts) :], self.packs, strict=True)]
            bound = self._raised(self.price(least) + found.cost)
            rounded = [n + ceil(part) for n, part in zip(least, parts, strict=True)]
            if (cost := self.price(rounded)) < best_cost:
                best, best_cost = rounded, cost
            if bound >= best_cost:
                continue
            j = max(range(len(parts)), key=lambda k: min(parts[k] % 1, -parts[k] % 1))
            split = least[j] + floor(parts[j])
            fewer = [*most[:j], split, *most[j + 1 :]]
            more = [*least[:j], split + 1, *least[j + 1 :]]
            heapq.heappush(heap, (bound, 2 * made, (least, fewer)))
            heapq.heappush(heap, (bound, 2 * made + 1, (more, most)))
        return best, best_cost, best_cost

    def _raised(self, cost: Fraction) -> Fraction:
        return ceil(cost / self.coin) * self.coin if self.coin else cost

    def _in_parts(self, least: Sequence[int], most: Sequence[int]) -> Optimum | None:
        """The cheapest blend when packs may be bought in part, between these counts.

        Columns: one per cut for what is there or surely bought, free; then one per pack for what may be bought.
        """
        of_cut = [*range(len(self.cuts)), *(p.cut for p in self.packs)]
        costs = [*([ZERO] * len(self.cuts)), *(p.price / p.grams for p in self.packs)]
        room = [(hi - lo) * p.grams for lo, hi, p in zip(least, most, self.packs, strict=True)]
        fats = [self.cuts[i].fat for i in of_cut]
        equal, at_most = [Row((ONE,) * len(of_cut), self.batch)], []
        if self.band.low is not None and self.band.low == self.band.high:
            equal.append(Row(tuple(f - self.band.low for f in fats), ZERO))
        else:
            if self.band.high is not None:
                at_most.append(Row(tuple(f - self.band.high for f in fats), ZERO))
            if self.band.low is not None:
                at_most.append(Row(tuple(self.band.low - f for f in fats), ZERO))
        for i, (low, high) in enumerate(zip(self.lows, self.highs, strict=True)):
            if high < self.batch:
                at_most.append(Row(tuple(ONE if k == i else ZERO for k in of_cut), high))
            if low > 0:
                at_most.append(Row(tuple(-ONE if k == i else ZERO for k in of_cut), -low))
        return minimise(costs, equal, [ZERO] * len(of_cut), [*self.supply(least), *room], at_most)
