"""Random blends against another solver (HiGHS, through scipy) and against the conditions of an optimum."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import linprog

from assistant.engine.blend import Blend, Cut, NoBlend, Reason, cheapest, complete, largest, most_of, nearest
from assistant.engine.simplex import Row, minimise

BATCH = Fraction(1000)
few_and_many = pytest.mark.parametrize("count", [300, pytest.param(5000, marks=[pytest.mark.slow, pytest.mark.oracle])])


def random_cuts(random: Random) -> list[Cut]:
    """Two to eight cuts with ties in fat and price, and limits that bind, touch or contradict now and then."""
    count = random.randint(2, 8)
    cuts = []
    for i in range(count):
        cut = Cut(
            f"cut {i}",
            random.choice([Fraction(random.randint(3, 90)), Fraction(20), Fraction(random.randint(30, 900), 10)]),
            price=Fraction(random.choice([random.randint(0, 200), 50]), 1000),
            wish=Fraction(random.randint(1, 9)),
        )
        if random.random() < 0.5:
            cut = replace(cut, at_most=Fraction(random.randint(0, 900)))
        if random.random() < 0.25:
            cut = replace(cut, at_least=Fraction(random.randint(0, 500), count))
        if random.random() < 0.25:
            cut = replace(cut, share_at_most=Fraction(random.randint(0, 100), 100))
        if random.random() < 0.25:
            cut = replace(cut, share_at_least=Fraction(random.randint(0, 60), 100 * count))
        cuts.append(cut)
    return cuts


def random_band(random: Random) -> tuple[Fraction | None, Fraction | None, Fraction | None]:
    """An exact fat, or one or two ends."""
    low = Fraction(random.randint(50, 450), 10)
    kind = random.random()
    if kind < 0.6:
        return low, None, None
    if kind < 0.7:
        return None, low, None
    if kind < 0.8:
        return None, None, low
    return None, low + random.randint(0, 5), low


def limits(cuts: list[Cut]) -> list[tuple[float, float]]:
    """Limits of each cut in grams, for the batch."""
    return [
        (
            float(max(c.at_least, c.share_at_least * BATCH)),
            float(c.share_at_most * BATCH if c.at_most is None else min(c.at_most, c.share_at_most * BATCH)),
        )
        for c in cuts
    ]


def fat_rows(
    cuts: list[Cut], band: tuple[Fraction | None, Fraction | None, Fraction | None]
) -> tuple[list[list[float]], list[list[float]]]:
    """Rows that must be 0, and rows that must not be above 0."""
    fat, high, low = band
    equal = [] if fat is None else [[float(c.fat - fat) for c in cuts]]
    most = [] if high is None else [[float(c.fat - high) for c in cuts]]
    if low is not None:
        most.append([float(low - c.fat) for c in cuts])
    return equal, most


@few_and_many
def test_cheapest_costs_what_highs_finds(count: int) -> None:
    random = Random(count)
    made = 0
    for _ in range(count):
        cuts, band = random_cuts(random), random_band(random)
        ours = cheapest(cuts, BATCH, band[0], fat_at_most=band[1], fat_at_least=band[2])
        bounds = limits(cuts)
        if any(low > high for low, high in bounds):
            assert isinstance(ours, NoBlend)
            continue
        equal, most = fat_rows(cuts, band)
        theirs = linprog(
            [float(c.price or 0) for c in cuts],
            A_ub=most or None,
            b_ub=[0.0] * len(most) or None,
            A_eq=[[1.0] * len(cuts), *equal],
            b_eq=[float(BATCH), *([0.0] * len(equal))],
            bounds=bounds,
        )
        if isinstance(ours, NoBlend):
            assert theirs.status == 2, (cuts, band)
        else:
            made += 1
            assert theirs.status == 0, (cuts, band)
            assert ours.cost is not None
            assert float(ours.cost) == pytest.approx(theirs.fun, rel=1e-7, abs=1e-7), (cuts, band)
    assert made > count // 4


@few_and_many
def test_the_most_and_the_least_of_a_cut_are_those_of_highs(count: int) -> None:
    random = Random(count + 1)
    made = 0
    for _ in range(count):
        cuts, band = random_cuts(random), random_band(random)
        least = random.random() < 0.5
        ours = most_of(cuts, BATCH, 0, band[0], fat_at_most=band[1], fat_at_least=band[2], least=least)
        bounds = limits(cuts)
        if any(low > high for low, high in bounds):
            assert isinstance(ours, NoBlend)
            continue
        equal, most = fat_rows(cuts, band)
        theirs = linprog(
            [1.0 if least else -1.0, *([0.0] * (len(cuts) - 1))],
            A_ub=most or None,
            b_ub=[0.0] * len(most) or None,
            A_eq=[[1.0] * len(cuts), *equal],
            b_eq=[float(BATCH), *([0.0] * len(equal))],
            bounds=bounds,
        )
        if isinstance(ours, NoBlend):
            assert theirs.status == 2, (cuts, band)
        else:
            made += 1
            assert float(ours.grams[0]) == pytest.approx(abs(theirs.fun), rel=1e-7, abs=1e-6), (cuts, band)
    assert made > count // 4


@few_and_many
def test_largest_and_smallest_batch_are_those_of_highs(count: int) -> None:
    random = Random(count + 1)
    made = 0
    for _ in range(count):
        cuts, band = random_cuts(random), random_band(random)
        names = {"fat_at_most": band[1], "fat_at_least": band[2]}
        answers = [(-1.0, largest(cuts, band[0], fat_at_most=band[1], fat_at_least=band[2], gains=False))]
        if any(c.at_least for c in cuts):
            answers.append((1.0, complete(cuts, band[0], **names)))
        for sign, ours in answers:
            theirs = free_batch(cuts, band, sign)
            if isinstance(ours, Blend):
                made += 1
                assert theirs.status == 0, (cuts, band)
                assert sign * float(ours.total) == pytest.approx(theirs.fun, rel=1e-6, abs=1e-6), (cuts, band)
            elif ours.reason is Reason.STOCK_UNLIMITED:
                # HiGHS calls some endless problems infeasible (seen in 1.17.1 of scipy), so a blend is the proof.
                assert theirs.status != 0, (cuts, band)
                assert isinstance(nearest(cuts, BATCH * 10**6, band[0], **names), Blend), (cuts, band)
            else:
                # A batch of nothing satisfies all when nothing must be used; that is no batch.
                assert theirs.status == 2 or abs(theirs.fun) < 1e-9, (cuts, band)
    assert made > count // 4


def free_batch(cuts: list[Cut], band: tuple[Fraction | None, Fraction | None, Fraction | None], sign: float):  # type: ignore[no-untyped-def]
    """Largest (sign -1) or smallest (sign 1) batch: the last column is the batch itself."""
    equal, most = ([[*row, 0.0] for row in rows] for rows in fat_rows(cuts, band))
    for i, cut in enumerate(cuts):
        unit = np.eye(len(cuts))[i]
        most.append([*(-unit), float(cut.share_at_least)])
        most.append([*unit, -float(cut.share_at_most)])
    bounds = [(float(c.at_least), None if c.at_most is None else float(c.at_most)) for c in cuts]
    if any(high is not None and low > high for low, high in bounds):
        bounds = [(1.0, 1.0) for _ in cuts]
        equal = [[*([1.0] * len(cuts)), 0.0]]
    return linprog(
        [*([0.0] * len(cuts)), sign],
        A_ub=most,
        b_ub=[0.0] * len(most),
        A_eq=[[*([1.0] * len(cuts)), -1.0], *equal],
        b_eq=[0.0] * (1 + len(equal)),
        bounds=[*bounds, (0.0, None)],
    )


@few_and_many
def test_nearest_satisfies_the_conditions_of_the_least_sum_of_squares(count: int) -> None:
    """x is nearest just when no allowed blend y has gradient . y < gradient . x (Karush-Kuhn-Tucker, exactly)."""
    random = Random(count + 2)
    made = 0
    # so many blends that exist: a refusal is not nearest to anything
    while made < count:
        cuts, band = random_cuts(random), random_band(random)
        fat, high, low = band
        blend = nearest(cuts, BATCH, fat, fat_at_most=high, fat_at_least=low)
        if isinstance(blend, NoBlend):
            continue
        made += 1
        wishes = sum(c.wish or Fraction(1) for c in cuts)
        wished = [(c.wish or Fraction(1)) * BATCH / wishes for c in cuts]
        gradient = [(x - t) / t for x, t in zip(blend.grams, wished, strict=True)]
        equal, most = [Row((Fraction(1),) * len(cuts), BATCH)], []
        if fat is not None:
            equal.append(Row(tuple(c.fat - fat for c in cuts), Fraction(0)))
        if high is not None:
            most.append(Row(tuple(c.fat - high for c in cuts), Fraction(0)))
        if low is not None:
            most.append(Row(tuple(low - c.fat for c in cuts), Fraction(0)))
        best = minimise(
            gradient,
            equal,
            [max(c.at_least, c.share_at_least * BATCH) for c in cuts],
            [c.share_at_most * BATCH if c.at_most is None else min(c.at_most, c.share_at_most * BATCH) for c in cuts],
            most,
        )
        assert best is not None
        assert best.cost == sum(d * x for d, x in zip(gradient, blend.grams, strict=True)), (cuts, band)
