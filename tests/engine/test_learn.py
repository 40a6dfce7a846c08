"""Learning a cut's fat: from what was cut off, and from a sample cooked out."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.engine import learn
from assistant.engine.learn import Kept, kept_between
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

BEEF_TRIM = Ranged(Fraction("70.89"), Fraction("64.9"), Fraction("76.9"))
"""Fat in separable beef fat, USDA SR28 13019, give or take 6 points."""

BROILED = tuple(
    Kept(Fraction(fat), Fraction(kept))
    for fat, kept in ((30, 39), (25, 48), (20, 61), (15, 71), (10, 86), (7, 93), (5, 99), (3, 108))
)
"""Percent of its fat that broiled ground beef keeps: USDA yields and SR28. The leanest figure is
above all of it: its raw and its cooked samples differed."""

grams = st.fractions(min_value=10, max_value=10_000, max_denominator=10)
percents = st.fractions(min_value=1, max_value=60, max_denominator=10)


def test_a_trimmed_chuck_by_hand() -> None:
    """(15.7 - 0.1 x 70.89) / 0.9 = 9.57: 2000 g of chuck with 200 g of fat cut off it."""
    chuck = Ranged(Fraction("15.7"), Fraction("10.67"), Fraction("21.31"))
    found = learn.after_trimming(chuck, Fraction(2000), Fraction(200), BEEF_TRIM)
    assert float(found.value) == pytest.approx(9.568, abs=0.001)
    assert found.low == (Fraction("10.67") - Fraction("7.69")) / Fraction("0.9")
    assert found.high == (Fraction("21.31") - Fraction("6.49")) / Fraction("0.9")


@given(grams, grams, percents, percents)
def test_parting_and_trimming_undo_each_other(
    lean: Fraction, fat: Fraction, lean_fat: Fraction, trim: Fraction
) -> None:
    whole = learn.from_parting(lean, fat, Ranged(lean_fat), Ranged(trim))
    assert learn.after_trimming(whole, lean + fat, fat, Ranged(trim)) == Ranged(lean_fat)


@given(grams, percents, percents, st.fractions(min_value=Fraction(1, 10), max_value=10, max_denominator=10))
def test_the_unit_of_weight_changes_nothing(piece: Fraction, fat: Fraction, trim: Fraction, factor: Fraction) -> None:
    cut_off = piece / 20
    assume(fat * 20 >= trim)
    assert learn.after_trimming(Ranged(fat), piece, cut_off, Ranged(trim)) == learn.after_trimming(
        Ranged(fat), piece * factor, cut_off * factor, Ranged(trim)
    )


def test_more_fat_cut_off_than_there_was() -> None:
    """500 g cut off 2000 g at 70.89 % is 354 g of fat; the piece was said to hold 314 g."""
    with pytest.raises(BadInput) as caught:
        learn.after_trimming(Ranged(Fraction("15.7")), Fraction(2000), Fraction(500), BEEF_TRIM)
    assert caught.value.wanted.startswith("no more than 443 g")


def test_an_impossible_end_is_unknown() -> None:
    """At its leanest the piece cannot have had that much fat on it: there is no low end, and none is made up."""
    chuck = Ranged(Fraction("15.7"), Fraction("10.67"), Fraction("21.31"))
    found = learn.after_trimming(chuck, Fraction(1000), Fraction(180), BEEF_TRIM)
    assert found.low is None
    assert found.high is not None
    assert found.high > found.value


def test_parting_a_brisket_by_hand() -> None:
    """Mass balance: 1500 g at 8 % and 500 g at 70.89 % are 23.72 % together."""
    found = learn.from_parting(Fraction(1500), Fraction(500), Ranged(Fraction(8)), BEEF_TRIM)
    assert float(found.value) == pytest.approx(23.7225)
    assert found.low is None


def test_the_range_of_a_parted_cut_goes_from_both_low_ends_to_both_high_ends() -> None:
    """750 g of lean to 250 g of fat: (3 x 6 + 64) / 4 = 20.5 and (3 x 10 + 76) / 4 = 26.5 round (3 x 8 + 70) / 4."""
    lean, trim = Ranged(Fraction(8), Fraction(6), Fraction(10)), Ranged(Fraction(70), Fraction(64), Fraction(76))
    found = learn.from_parting(Fraction(750), Fraction(250), lean, trim)
    assert found == Ranged(Fraction("23.5"), Fraction("20.5"), Fraction("26.5"))


@pytest.mark.parametrize("published", [k for k in BROILED if k.raw_fat > 5])
def test_a_cook_out_finds_the_published_fats_again(published: Kept) -> None:
    rendered = 1000 * published.raw_fat * (100 - published.percent) / 10_000
    found = learn.from_cook_out(Fraction(1000), Fraction(700), rendered, BROILED).fat
    assert found.value == published.raw_fat
    assert found.low is None or found.low <= found.value
    assert found.high is None or found.high >= found.value


@given(st.fractions(min_value=6, max_value=30, max_denominator=100), grams)
def test_a_cook_out_undoes_the_straight_lines(fat: Fraction, raw: Fraction) -> None:
    fats = sorted(BROILED, key=lambda k: k.raw_fat)
    lower, upper = next((a, b) for a, b in pairwise(fats) if a.raw_fat <= fat <= b.raw_fat)
    lost = [k.raw_fat * (100 - k.percent) / 100 for k in (lower, upper)]
    share = (fat - lower.raw_fat) / (upper.raw_fat - lower.raw_fat)
    rendered = raw * (lost[0] + share * (lost[1] - lost[0])) / 100
    assert learn.from_cook_out(raw, raw / 2, rendered, BROILED).fat.value == fat


@given(st.fractions(min_value=Fraction(1, 10), max_value=18, max_denominator=10))
def test_more_fat_run_out_means_fatter_meat(percent: Fraction) -> None:
    raw = Fraction(1000)
    less = learn.from_cook_out(raw, Fraction(650), raw * percent / 100, BROILED).fat.value
    more = learn.from_cook_out(raw, Fraction(650), raw * (percent + Fraction(1, 10)) / 100, BROILED).fat.value
    assert less < more


def test_a_cook_out_by_hand() -> None:
    """100 g lost 7.8 g of fat: 20 %, as broiled 80/20 does. 69 g left: 23.2 % went as water. Five points less
    kept: 5.1 % lost at 15 % and 8.8 at 20, so 15 + 5 x 2.7 / 3.7. Five more: 6.8 at 20 and 11.75 at 25."""
    found = learn.from_cook_out(Fraction(100), Fraction(69), Fraction("7.8"), BROILED)
    assert found.fat.value == 20
    assert found.water_lost == Fraction("23.2")
    assert found.fat.low == 15 + 5 * Fraction("2.7") / Fraction("3.7")
    assert found.fat.high == 20 + 5 * Fraction("1") / Fraction("4.95")


def test_meat_that_loses_no_fat_is_only_known_to_be_lean() -> None:
    """The two leanest figures here lose nothing: no single fat can be told, so the middle is given and the range."""
    lean = (Kept(Fraction(3), Fraction(100)), Kept(Fraction(5), Fraction(100)), Kept(Fraction(10), Fraction(83)))
    found = learn.from_cook_out(Fraction(100), Fraction(70), Fraction(0), lean, margin=Fraction(0)).fat
    assert found == Ranged(Fraction(4), Fraction(3), Fraction(5))


def test_beyond_the_figures_nothing_is_guessed() -> None:
    with pytest.raises(BadInput) as caught:
        learn.from_cook_out(Fraction(100), Fraction(60), Fraction(25), BROILED)
    assert caught.value.wanted == "0.0 to 18.3 g, which the figures cover"
    near_the_end = learn.from_cook_out(Fraction(100), Fraction(60), Fraction(18), BROILED).fat
    assert near_the_end.high is None


def test_nonsense_is_refused() -> None:
    one, ten = Fraction(1), Ranged(Fraction(10))
    for call in (
        lambda: learn.after_trimming(ten, one, one, BEEF_TRIM),
        lambda: learn.after_trimming(ten, Fraction(0), one, BEEF_TRIM),
        lambda: learn.from_parting(Fraction(0), Fraction(0), ten, ten),
        lambda: learn.from_cook_out(one, one, one, BROILED),
        lambda: learn.from_cook_out(one, one / 2, Fraction(0), BROILED[:1]),
    ):
        with pytest.raises(BadInput):
            call()


def test_fat_kept_between_published_figures() -> None:
    """At a published fat the figure itself, halfway the middle, outside nothing."""
    points = [Kept(Fraction(20), Fraction(60)), Kept(Fraction(10), Fraction(80))]
    assert [kept_between(points, Fraction(f)) for f in (10, 15, 20, 21, 9)] == [80, 70, 60, None, None]
