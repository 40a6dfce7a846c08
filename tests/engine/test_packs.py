"""Whole packs: against HiGHS's integer programmes, and what must hold for every shopping list."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from random import Random

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import Bounds, LinearConstraint, milp

from assistant.engine.blend import Blend, Cut, Limit, NoBlend, Reason, nearest
from assistant.engine.packs import Pack, Shopping, cheapest_packs
from assistant.errors import BadInput


def random_market(random: Random) -> tuple[list[Cut], list[Pack], list[Fraction]]:
    count = random.randint(1, 8)
    cuts = []
    for i in range(count):
        limits = {}
        if random.random() < 0.15:
            limits["share_at_most"] = Fraction(random.randint(20, 100), 100)
        if random.random() < 0.15:
            limits["share_at_least"] = Fraction(random.randint(0, 40), 100 * count)
        cuts.append(Cut(f"cut {i}", Fraction(random.randint(30, 900), 10), **limits))
    packs = [
        Pack(
            i,
            Fraction(random.randint(2, 20) * 50),
            Fraction(random.randint(0, 2500), 100),
            random.choice([None, 0, 1, 2, 3]),
        )
        for i in range(count)
        for _ in range(random.choice([0, 1, 1, 2]))
    ]
    return cuts, packs, [Fraction(random.choice([0, 0, 200, 500])) for _ in cuts]


def by_highs(  # type: ignore[no-untyped-def]
    cuts: list[Cut], packs: list[Pack], have: list[Fraction], batch: Fraction, low: Fraction, high: Fraction
):
    """The same question as one integer programme: grams of each cut, then packs of each kind."""
    size = len(cuts) + len(packs)
    fats = [float(c.fat) for c in cuts]
    rows = [np.r_[np.ones(len(cuts)), np.zeros(len(packs))], np.r_[fats, np.zeros(len(packs))]]
    lows, highs = [float(batch), float(low * batch)], [float(batch), float(high * batch)]
    for i, there in enumerate(have):
        row = np.zeros(size)
        row[i] = 1
        for j, pack in enumerate(packs):
            if pack.cut == i:
                row[len(cuts) + j] = -float(pack.grams)
        rows.append(row)
        lows.append(-np.inf)
        highs.append(float(there))
    ends = Bounds(
        [*(float(c.share_at_least * batch) for c in cuts), *([0.0] * len(packs))],
        [*(float(c.share_at_most * batch) for c in cuts), *(np.inf if p.at_most is None else p.at_most for p in packs)],
    )
    return milp(
        [*([0.0] * len(cuts)), *(float(p.price) for p in packs)],
        constraints=LinearConstraint(np.array(rows), lows, highs),
        integrality=[*([0] * len(cuts)), *([1] * len(packs))],
        bounds=ends,
        options={"mip_rel_gap": 1e-9},
    )


@pytest.mark.parametrize("count", [60, pytest.param(5000, marks=[pytest.mark.slow, pytest.mark.oracle])])
def test_cheapest_packs_are_those_of_highs(count: int) -> None:
    random = Random(count)
    made = 0
    for _ in range(count):
        cuts, packs, have = random_market(random)
        batch, low = Fraction(random.randint(3, 40) * 100), Fraction(random.randint(100, 350), 10)
        high = low + random.choice([0, 0, 3])
        ours = cheapest_packs(cuts, packs, batch, fat_at_least=low, fat_at_most=high, have=have)
        theirs = by_highs(cuts, packs, have, batch, low, high)
        if isinstance(ours, NoBlend):
            assert theirs.status == 2, (cuts, packs, have, batch, low, high)
            continue
        made += 1
        assert theirs.status == 0
        assert ours.proved
        assert float(ours.cost) == pytest.approx(theirs.fun, abs=1e-6), (cuts, packs, have, batch, low, high)
        holds(ours, cuts, packs, have, batch, low, high)
    assert made > count // 5


def holds(
    found: Shopping,
    cuts: list[Cut],
    packs: list[Pack],
    have: list[Fraction],
    batch: Fraction,
    low: Fraction,
    high: Fraction,
) -> None:
    """Bought is what is ground and what is left; the batch and the fat are exact; no pack beyond what can be had."""
    assert found.cost == sum(n * p.price for n, p in zip(found.packs, packs, strict=True))
    assert found.blend.total == batch
    assert low <= found.blend.fat <= high
    assert all(p.at_most is None or n <= p.at_most for n, p in zip(found.packs, packs, strict=True))
    for i, grams in enumerate(found.blend.grams):
        bought = sum((n * p.grams for n, p in zip(found.packs, packs, strict=True) if p.cut == i), Fraction(0))
        assert found.left_over[i] == have[i] + bought - grams
        assert found.left_over[i] >= 0
        assert cuts[i].share_at_least * batch <= grams <= cuts[i].share_at_most * batch


ROUND, TRIM = Cut("round", Fraction(8)), Cut("trim", Fraction(50))


def test_by_hand() -> None:
    """2 kg at 20 percent take 1428.6 g of 8 and 571.4 g of 50: two 1 kg packs of round at 9, one of 600 g at 4."""
    packs = [
        Pack(0, Fraction(1000), Fraction(9)),
        Pack(0, Fraction(500), Fraction(6)),
        Pack(1, Fraction(600), Fraction(4)),
    ]
    found = cheapest_packs([ROUND, TRIM], packs, Fraction(2000), Fraction(20))
    assert isinstance(found, Shopping)
    # 1000 + 500 g for 15 beats 2 x 1000 g for 18.
    assert (found.packs, found.cost) == ((1, 1, 1), Fraction(19))
    assert found.left_over == (Fraction(1500) - Fraction(10000, 7), Fraction(600) - Fraction(4000, 7))


def test_too_few_packs_on_sale_says_how_much_is_missing() -> None:
    packs = [Pack(0, Fraction(1000), Fraction(9)), Pack(1, Fraction(300), Fraction(4), at_most=1)]
    found = cheapest_packs([ROUND, TRIM], packs, Fraction(2000), Fraction(20))
    assert isinstance(found, NoBlend)
    assert found.reason is Reason.TOO_FAT
    assert (Limit.AT_MOST, (1,), Fraction(300)) in [(d.limit, d.cuts, d.value) for d in found.clash]
    assert ((1, Fraction(4000, 7) - 300),) in [m.grams for m in found.more]


def test_stopped_search_says_so_and_gives_the_price_none_can_beat() -> None:
    packs = [
        Pack(0, Fraction(700), Fraction(9)),
        Pack(0, Fraction(500), Fraction(7)),
        Pack(1, Fraction(600), Fraction(4)),
    ]
    stopped = cheapest_packs([ROUND, TRIM], packs, Fraction(2000), Fraction(20), patience=1)
    proved = cheapest_packs([ROUND, TRIM], packs, Fraction(2000), Fraction(20))
    assert isinstance(stopped, Shopping)
    assert isinstance(proved, Shopping)
    assert proved.proved
    assert stopped.floor <= proved.cost <= stopped.cost
    assert stopped.proved is (stopped.floor == stopped.cost)


def test_nothing_to_buy_when_it_is_all_there() -> None:
    found = cheapest_packs([ROUND, TRIM], [], Fraction(1000), Fraction(20), have=[Fraction(1000), Fraction(1000)])
    assert isinstance(found, Shopping)
    assert (found.packs, found.cost) == ((), Fraction(0))


@pytest.mark.parametrize(
    ("argument", "call"),
    [
        ("grams", lambda: Pack(0, Fraction(0), Fraction(1))),
        ("price", lambda: Pack(0, Fraction(1), Fraction(-1))),
        ("at_most", lambda: Pack(0, Fraction(1), Fraction(1), -1)),
        ("packs", lambda: cheapest_packs([ROUND], [Pack(1, Fraction(1), Fraction(1))], Fraction(1))),
        ("packs", lambda: cheapest_packs([ROUND], [Pack(0, Fraction(1), Fraction(1))] * 61, Fraction(1))),
        ("have", lambda: cheapest_packs([ROUND], [], Fraction(1), have=[])),
    ],
)
def test_senseless_input_is_refused_by_name(argument: str, call: Callable[[], object]) -> None:
    with pytest.raises(BadInput) as caught:
        call()
    assert caught.value.argument == argument


@pytest.mark.parametrize(
    "band", [{"fat_at_most": 20}, {"fat_at_least": 25}, {"fat_at_most": 22, "fat_at_least": 18}, {"fat": 20}, {}]
)
@pytest.mark.parametrize("prices", [(3, 1), (1, 3)])
def test_no_other_number_of_two_packs_is_cheaper(band: dict[str, int], prices: tuple[int, int]) -> None:
    """All numbers of packs up to five of each, one by one: those that make a kilo, and the cheapest of them."""
    cuts = [Cut("lean", Fraction(10)), Cut("fat", Fraction(40))]
    packs = [Pack(0, Fraction(300), Fraction(prices[0])), Pack(1, Fraction(250), Fraction(prices[1]))]
    fat, high, low = (Fraction(band[name]) if name in band else None for name in ("fat", "fat_at_most", "fat_at_least"))
    costs = [
        prices[0] * some + prices[1] * more
        for some in range(6)
        for more in range(6)
        if isinstance(
            nearest(
                [replace(cuts[0], at_most=Fraction(300 * some)), replace(cuts[1], at_most=Fraction(250 * more))],
                Fraction(1000),
                fat,
                fat_at_most=high,
                fat_at_least=low,
            ),
            Blend,
        )
    ]
    found = cheapest_packs(cuts, packs, Fraction(1000), fat, fat_at_most=high, fat_at_least=low)
    assert isinstance(found, Shopping)
    assert found.cost == min(costs)
    assert found.proved
