"""Putting a batch right: published additions, and what must hold for every correction."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from assistant.engine.blend import Cut, NoBlend, Reason
from assistant.engine.correct import (
    Correction,
    add_to_reach,
    salt_after,
    swap_to_reach,
)
from assistant.errors import BadInput

# Targets outside the fats drawn are set aside where a correction is wanted.
QUICK = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
fats = st.integers(0, 1000).map(lambda n: Fraction(n, 10))
masses = st.integers(1, 50000).map(lambda n: Fraction(n, 10))


@pytest.mark.parametrize(
    ("mass", "fat", "add_fat", "target", "grams"),
    [
        (500, 4, 35, 10, 120),  # University of Guelph, dairy education, published
        (160, 40, 0, 32, 40),  # the same, published
        (500, 3, 30, 5, 40),  # Dairy fundamentals p. 48: ratio 2 to 25 published, 40 computed
        (30, 15, 7, 10, 50),  # algebra textbook, question 145486, published
    ],
)
def test_published_additions(mass: int, fat: int, add_fat: int, target: int, grams: int) -> None:
    found = add_to_reach(Fraction(mass), Fraction(fat), [Cut("one", Fraction(add_fat))], Fraction(target))
    assert isinstance(found, Correction)
    assert found.add == (Fraction(grams),)
    assert (found.take_out, found.blend.total) == (Fraction(0), Fraction(mass + grams))


def test_swap_by_hand() -> None:
    """1 kg of 30 percent to 20 with meat of 8: 1000 x 10 / 22 out, the same in."""
    found = swap_to_reach(Fraction(1000), Fraction(30), [Cut("one", Fraction(8))], Fraction(20))
    assert isinstance(found, Correction)
    assert (found.take_out, found.add) == (Fraction(5000, 11), (Fraction(5000, 11),))


@QUICK
@given(mass=masses, fat=fats, other=fats, target=fats)
def test_one_addition_follows_the_mass_balance(
    mass: Fraction, fat: Fraction, other: Fraction, target: Fraction
) -> None:
    cut = Cut("one", other)
    added, swapped = add_to_reach(mass, fat, [cut], target), swap_to_reach(mass, fat, [cut], target)
    between = min(fat, other) <= target <= max(fat, other)
    assert isinstance(swapped, Correction) is between
    assert isinstance(added, Correction) is (between and (target != other or fat == target))
    if isinstance(added, Correction):
        assert added.blend.fat == target
        expected = mass * (target - fat) / (other - target) if other != target else Fraction(0)
        assert added.add == (expected,)
    if isinstance(swapped, Correction):
        assert (swapped.blend.fat, swapped.blend.total) == (target, mass)
        assert swapped.take_out == sum(swapped.add)
        assert swapped.take_out == (mass * (target - fat) / (other - fat) if other != fat else 0)


@QUICK
@given(mass=masses, fat=fats, pair=st.tuples(fats, fats), stocks=st.tuples(masses, masses), target=fats)
def test_two_additions_keep_stock_and_target(
    mass: Fraction, fat: Fraction, pair: tuple[Fraction, Fraction], stocks: tuple[Fraction, Fraction], target: Fraction
) -> None:
    cuts = [Cut("one", pair[0], at_most=stocks[0]), Cut("two", pair[1], at_most=stocks[1])]
    found = [reach(mass, fat, cuts, target) for reach in (add_to_reach, swap_to_reach)]
    assume(any(isinstance(f, Correction) for f in found))
    for correction in found:
        if isinstance(correction, Correction):
            assert correction.blend.fat == target
            assert all(0 <= a <= s for a, s in zip(correction.add, stocks, strict=True))
            assert correction.blend.total == mass - correction.take_out + sum(correction.add)
            # Neither cut alone can do it with less.
            for i, cut in enumerate(cuts):
                alone = add_to_reach(mass, fat, [cut], target)
                if correction is found[0] and isinstance(alone, Correction):
                    assert sum(correction.add) <= alone.add[0], i


def test_stock_that_is_too_small_says_how_much_is_missing() -> None:
    found = add_to_reach(Fraction(500), Fraction(4), [Cut("one", Fraction(35), at_most=Fraction(100))], Fraction(10))
    assert isinstance(found, NoBlend)
    assert found.reason is Reason.TOO_FAT
    assert [m.grams for m in found.more] == [((1, Fraction(20)),)]
    assert found.nearest is not None
    assert found.nearest.fat == Fraction(500 * 4 + 100 * 35, 600)


def test_swap_with_too_little_stock_says_how_much_is_missing() -> None:
    found = swap_to_reach(Fraction(1100), Fraction(30), [Cut("one", Fraction(8), at_most=Fraction(300))], Fraction(20))
    assert isinstance(found, NoBlend)
    assert found.reason is Reason.TOO_LEAN
    assert ((1, Fraction(200)),) in [m.grams for m in found.more]


def test_wishes_share_out_the_addition() -> None:
    cuts = [Cut(n, Fraction(35), wish=Fraction(w)) for n, w in (("one", 3), ("two", 1))]
    found = add_to_reach(Fraction(500), Fraction(4), cuts, Fraction(10))
    assert isinstance(found, Correction)
    assert found.add == (Fraction(90), Fraction(30))


def test_salt_is_thinned_by_the_meat_added() -> None:
    """1 kg at 2 percent holds 20 g; in 1.6 kg that is 1.25 percent."""
    assert salt_after(Fraction(1000), Fraction(2), Fraction(600)) == Fraction(5, 4)


@pytest.mark.parametrize(
    ("argument", "call"),
    [
        ("mass", lambda: add_to_reach(Fraction(0), Fraction(4), [Cut("one", Fraction(35))], Fraction(10))),
        ("fat", lambda: add_to_reach(Fraction(1), Fraction(4), [Cut("one", Fraction(135))], Fraction(10))),
        ("mass", lambda: swap_to_reach(Fraction(-1), Fraction(4), [Cut("one", Fraction(35))], Fraction(10))),
        ("salt_percent", lambda: salt_after(Fraction(1), Fraction(101), Fraction(1))),
        ("added", lambda: salt_after(Fraction(1), Fraction(1), Fraction(-1))),
    ],
)
def test_senseless_input_is_refused_by_name(argument: str, call: Callable[[], object]) -> None:
    with pytest.raises(BadInput) as caught:
        call()
    assert caught.value.argument == argument


def test_a_swap_that_would_need_more_of_the_batch_than_there_is_offers_none() -> None:
    # 1000 g of 30 % and at least 1200 g of 8 % make 20 % only with 1440 g of the old: (8 - 20) x 1200 / (20 - 30)
    found = swap_to_reach(
        Fraction(1000), Fraction(30), [Cut("lean", Fraction(8), at_least=Fraction(1200))], Fraction(20)
    )
    assert isinstance(found, NoBlend)
    assert found.largest is None
