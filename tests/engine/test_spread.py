"""Spread of a blend's fat: law of propagation of uncertainty, JCGM 100:2008; figures not worked out by this code."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.engine.blend import Cut
from assistant.engine.spread import RangeMeans, spread

QUICK = settings(max_examples=60, deadline=None)


def cut(name: str, fat: str, half: str) -> Cut:
    middle, reach = Fraction(fat), Fraction(half)
    return Cut(name, middle, low=middle - reach, high=middle + reach)


THREE = [cut("chuck", "15.7", "5.3"), cut("round", "8.8", "2.0"), cut("trim", "70.9", "6.0")]
THREE_GRAMS = [Fraction(600), Fraction(300), Fraction(100)]


@pytest.mark.parametrize(("means", "sd"), [(RangeMeans.UNIFORM, 1.9003), (RangeMeans.TWO_SD, 1.6457)])
def test_three_cuts(means: RangeMeans, sd: float) -> None:
    """Closed form; 2,000,000 random draws gave 1.9003 for the uniform case."""
    found = spread(THREE, THREE_GRAMS, means)
    assert found.fat == Fraction("19.15")
    assert found.worst_half == Fraction("4.38")
    assert (found.low, found.high) == (Fraction("14.77"), Fraction("23.53"))
    # The published figures are rounded to 4 decimals.
    assert found.sd == pytest.approx(sd, abs=1e-3)
    assert found.two_sd == pytest.approx(2 * sd, abs=1e-3)
    assert found.largest == 0


def test_two_cuts() -> None:
    """Closed form: worst case 2.9018, two standard deviations 2.0691."""
    cuts = [cut("trim", "70.9", "7"), cut("round", "8.8", "2")]
    found = spread(cuts, [Fraction("180.354"), Fraction("819.646")], RangeMeans.TWO_SD)
    assert float(found.fat) == pytest.approx(20.0, abs=1e-3)
    assert float(found.worst_half) == pytest.approx(2.9018, abs=1e-3)
    assert found.two_sd == pytest.approx(2.0691, abs=1e-3)


def test_scale_error() -> None:
    """5 g on each of two weighings of 70.9 and 8.8 percent in 1 kg at 20: 0.2606 points."""
    cuts = [Cut("trim", Fraction("70.9")), Cut("round", Fraction("8.8"))]
    share = (20 - Fraction("8.8")) / (Fraction("70.9") - Fraction("8.8"))
    found = spread(cuts, [1000 * share, 1000 * (1 - share)])
    assert found.fat == 20
    assert found.per_gram == (Fraction("50.9") / 1000, Fraction("-11.2") / 1000)
    assert found.from_scale(Fraction(5)) == pytest.approx(0.2606, abs=1e-3)


def test_one_cut_gains_nothing_from_independence() -> None:
    """Two standard deviations of one uniform range are 2 / sqrt(3) of its half: wider than the worst case."""
    found = spread([cut("chuck", "15.7", "5.3")], [Fraction(1000)])
    assert not found.independence_helps
    assert found.two_sd > float(found.worst_half)
    assert spread(THREE, THREE_GRAMS).independence_helps


def test_cuts_without_a_range_spread_nothing() -> None:
    found = spread([Cut("a", Fraction(20)), Cut("b", Fraction(30))], [Fraction(1), Fraction(1)])
    assert (found.sd, found.worst_half, found.largest, found.contributions) == (
        0.0,
        Fraction(0),
        None,
        (Fraction(0), Fraction(0)),
    )


@QUICK
@given(
    parts=st.lists(
        st.tuples(st.integers(1, 1000), st.integers(10, 60), st.integers(0, 10), st.integers(0, 10)),
        min_size=1,
        max_size=6,
    )
)
def test_worst_case_holds_the_figure_and_contributions_add_up(parts: list[tuple[int, int, int, int]]) -> None:
    cuts = [
        Cut("cut", Fraction(fat), low=Fraction(fat - below), high=Fraction(fat + above))
        for _, fat, below, above in parts
    ]
    found = spread(cuts, [Fraction(g) for g, *_ in parts])
    assert found.low <= found.fat <= found.high
    assert found.high - found.low == 2 * found.worst_half
    assert sum(found.contributions) == (0 if found.largest is None else 1)
    # Independent deviations never add up to more than all of them together.
    assert found.sd * 3**0.5 <= float(found.worst_half) * (1 + 1e-12)
