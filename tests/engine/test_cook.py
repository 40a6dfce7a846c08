"""Cooking: what is left of weight, width and fat."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from assistant.engine import cook
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput


class Row(Struct, frozen=True):
    """A row typed here, so that these tests do not hang on the data files."""

    species: str
    form: str
    method: str
    fat_from: Fraction
    fat_to: Fraction
    percent: Fraction
    low: Fraction | None
    high: Fraction | None
    source: str


def _row(species: str, form: str, method: str, *figures: str | None) -> Row:
    fat_from, fat_to, percent, low, high = (None if figure is None else Fraction(figure) for figure in figures)
    assert fat_from is not None
    assert fat_to is not None
    assert percent is not None
    return Row(species, form, method, fat_from, fat_to, percent, low, high, "USDA yields, Release 2 (2014)")


ROWS = (
    _row("beef", "patty", "broiled", "22", "100", "63", "55.33", "69.44"),
    _row("beef", "patty", "broiled", "12", "22", "69", "63.96", "72.42"),
    _row("beef", "patty", "broiled", "0", "12", "73", "72.82", "74.68"),
    _row("beef", "patty", "pan-broiled", "12", "22", "73", "70.78", "75.97"),
    _row("pork", "sausage", "pan-fried", "0", "100", "80", None, None),
    _row("lamb", "any", "any", "0", "100", "69", None, None),
)
"""USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014); lamb from USDA SR28 17225, 313 g from 1 lb."""

grams = st.fractions(min_value=1, max_value=50_000, max_denominator=100)
yields = st.tuples(st.integers(30, 60), st.integers(60, 70), st.integers(70, 95)).map(
    lambda ends: Ranged(Fraction(ends[1]), Fraction(ends[0]), Fraction(ends[2]))
)


@pytest.mark.parametrize(
    ("fat", "percent", "low", "high"),
    [
        *((30, "63", "55.33", "69.44"), (20, "69", "63.96", "72.42"), (10, "73", "72.82", "74.68")),
        *((22, "69", "63.96", "72.42"), (12, "73", "72.82", "74.68"), (0, "73", "72.82", "74.68")),
        (Fraction("22.1"), "63", "55.33", "69.44"),
    ],
)
def test_broiled_beef_by_class_of_fat(fat: Fraction, percent: str, low: str, high: str) -> None:
    found = cook.cooked_yield(ROWS, Fraction(fat), "broiled")
    assert found is not None
    assert found.percent == Ranged(Fraction(percent), Fraction(low), Fraction(high))
    assert found.exact_match


def test_the_range_widens_over_every_class_the_fat_may_be_in() -> None:
    """A blend of 20 % that may be 18 to 24 % may fall into the fat class as well."""
    found = cook.cooked_yield(ROWS, Fraction(20), "broiled", fat_range=(Fraction(18), Fraction(24)))
    assert found is not None
    assert found.percent == Ranged(Fraction(69), Fraction("55.33"), Fraction("72.42"))


def test_a_row_for_any_way_is_used_last_and_says_so() -> None:
    found = cook.cooked_yield(ROWS, Fraction(20), "broiled", species="lamb")
    assert found is not None
    assert found.percent == Ranged(Fraction(69))
    assert not found.exact_match


def test_no_figure_is_not_another_figure() -> None:
    assert cook.cooked_yield(ROWS, Fraction(20), "boiled") is None
    assert cook.cooked_yield(ROWS, Fraction(30), "pan-broiled") is None
    assert cook.cooked_yield(ROWS, Fraction(20), "broiled", species="goat") is None
    assert cook.cooked_yield(ROWS, Fraction(20), "pan-fried", species="pork") is None


@given(grams, yields)
def test_raw_and_cooked_undo_each_other(raw: Fraction, percent: Ranged[Fraction]) -> None:
    cooked = cook.cooked_from_raw(raw, percent)
    assert cook.raw_for_cooked(cooked.value, percent).value == raw
    assert cooked.low is not None
    assert cooked.high is not None
    assert cooked.low <= cooked.value <= cooked.high
    back = cook.raw_for_cooked(cooked.low, percent)
    assert back.high == raw


def test_an_unknown_range_stays_unknown() -> None:
    assert cook.cooked_from_raw(Fraction(100), Ranged(Fraction(80))) == Ranged(Fraction(80))
    assert cook.raw_for_cooked(Fraction(80), Ranged(Fraction(80))) == Ranged(Fraction(100))


@given(st.floats(min_value=1, max_value=500))
def test_cooked_width(raw: float) -> None:
    """The band of 15 to 25 % is common practice; all measured pork patties of portion.SHRINK's source are inside."""
    found = cook.cooked_diameter(raw)
    assert (found.value, found.low, found.high) == pytest.approx((raw * 0.8, raw * 0.75, raw * 0.85))


@pytest.mark.parametrize(
    ("raw_fat", "cooked_fat", "percent", "kept"),
    [
        *(("30", "18.66", "63", 39), ("25", "18.87", "63", 48), ("20", "15.94", "73", 58), ("15", "14.02", "73", 68)),
        *(("10", "11.75", "73", 86), ("7", "8.94", "73", 93), ("5", "6.8", "73", 99), ("3", "4.46", "73", 108.5)),
    ],
)
def test_fat_kept(raw_fat: str, cooked_fat: str, percent: str, kept: float) -> None:
    """USDA yield x SR28 cooked fat / raw fat, ground beef broiled and pan-broiled; 97/3 comes out above all its fat."""
    share = cook.fat_kept(Fraction(raw_fat), Fraction(cooked_fat), Fraction(percent))
    assert float(share) == pytest.approx(kept, abs=0.6)


@pytest.mark.parametrize(
    ("fat", "ends", "argument"),
    [
        (101, None, "fat"),
        (-1, None, "fat"),
        (20, (21, 30), "fat_range"),
        (20, (10, 15), "fat_range"),
        (20, (-1, 30), "fat_range"),
        (20, (10, 101), "fat_range"),
    ],
)
def test_what_is_refused_of_a_fat_and_its_range_is_named(fat: int, ends: tuple[int, int] | None, argument: str) -> None:
    spread = None if ends is None else (Fraction(ends[0]), Fraction(ends[1]))
    with pytest.raises(BadInput) as fault:
        cook.cooked_yield(ROWS, Fraction(fat), "broiled", fat_range=spread)
    assert fault.value.argument == argument


def test_a_fat_may_be_anything_from_none_to_all() -> None:
    for fat in (0, 20, 100):
        found = cook.cooked_yield(ROWS, Fraction(fat), "broiled", fat_range=(Fraction(0), Fraction(100)))
        assert found is not None
        assert (found.percent.low, found.percent.high) == (Fraction("55.33"), Fraction("74.68"))


def test_nonsense_is_refused() -> None:
    twenty = Fraction(20)
    for call in (
        lambda: cook.cooked_yield(ROWS, Fraction(-1), "broiled"),
        lambda: cook.cooked_yield(ROWS, twenty, "broiled", fat_range=(Fraction(21), Fraction(30))),
        lambda: cook.cooked_yield(ROWS, twenty, "broiled", fat_range=(Fraction(10), Fraction(15))),
        lambda: cook.cooked_from_raw(twenty, Ranged(Fraction(0))),
        lambda: cook.raw_for_cooked(Fraction(-1), Ranged(twenty)),
        lambda: cook.cooked_diameter(0),
        lambda: cook.cooked_diameter(float("nan")),
        lambda: cook.fat_kept(Fraction(0), twenty, twenty),
    ):
        with pytest.raises(BadInput):
            call()
