"""Cost: usable meat, blends, own against shop, budgets."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engine import cost
from assistant.engine.cost import Bought, ByProduct
from assistant.errors import BadInput

POUND = Fraction("453.59237")
money = st.fractions(min_value=Fraction(1, 100), max_value=200, max_denominator=100)
grams = st.fractions(min_value=1, max_value=50_000, max_denominator=100)
usable = st.fractions(min_value=10, max_value=100, max_denominator=10)
fats = st.fractions(min_value=0, max_value=60, max_denominator=10)
cuts = st.lists(st.builds(Bought, grams, money, usable), min_size=1, max_size=5)


@given(money, grams)
def test_a_price_a_pound_and_a_price_a_kilogram_are_one(price: Fraction, weight: Fraction) -> None:
    by_gram = cost.per_gram(price, POUND)
    assert cost.price_for(by_gram, POUND) == price
    assert cost.price_for(cost.per_gram(cost.price_for(by_gram, Fraction(1000)), Fraction(1000)), weight) == (
        cost.price_for(by_gram, weight)
    )


@pytest.mark.parametrize(
    ("bought", "left", "percent"),
    [
        ("5.2", "4.6", 88.5),  # striploin, trade mathematics for cooks
        ("2.5", "1.75", 70.0),  # tenderloin, BC cook-training textbook
        ("17", "10", 58.8),  # cauliflower, Traster, Foundations of Cost Control, example 4a
        ("8", "6.4375", 80.5),  # celery, the same, 4b
        ("1605", "1468", 91.5),  # a roast ribeye, cooked yield test
    ],
)
def test_usable_percent_as_published(bought: str, left: str, percent: float) -> None:
    assert float(cost.usable_percent(Fraction(bought), Fraction(left))) == pytest.approx(percent, abs=0.05)


def test_usable_price_as_published() -> None:
    """Striploin at 11.95, 5.2 kg cut to 4.6: 13.51 (trade mathematics; the quotient computed in the reference)."""
    percent = cost.usable_percent(Fraction("5.2"), Fraction("4.6"))
    assert float(cost.usable_price(Fraction("11.95"), percent)) == pytest.approx(13.51, abs=0.005)


def test_cutting_up_a_lamb_loin() -> None:
    """Food-service cost control textbook, exercise 6.3 (a student's worked copy): 12 lb at 6.65, 1 lb of trim worth
    6.10 and 1.5 lb worth 4.60, 6 lb usable, 5 oz portions. Cooked down to 5 lb: 15.96 a pound, 4.99 a portion."""
    price = cost.per_gram(Fraction("6.65"), POUND)
    trims = [
        ByProduct(POUND, cost.per_gram(Fraction("6.10"), POUND)),
        ByProduct(POUND * Fraction(3, 2), cost.per_gram(Fraction("4.60"), POUND)),
    ]
    raw = cost.cutting_test(12 * POUND, price, 6 * POUND, trims)
    assert raw.paid == Fraction("79.80")
    assert raw.worth == Fraction("66.80")
    assert float(cost.price_for(raw.price, POUND)) == pytest.approx(11.13, abs=0.006)
    assert float(raw.factor) == pytest.approx(1.67, abs=0.006)
    assert float(cost.price_for(raw.price, POUND * 5 / 16)) == pytest.approx(3.48, abs=0.006)
    cooked = cost.cutting_test(12 * POUND, price, 5 * POUND)
    assert float(cost.price_for(cooked.price, POUND)) == pytest.approx(15.96, abs=0.006)
    assert float(cost.price_for(cooked.price, POUND * 5 / 16)) == pytest.approx(4.99, abs=0.006)
    assert float(cooked.factor) == pytest.approx(2.4, abs=0.006)


@given(cuts, st.fractions(min_value=Fraction(1, 10), max_value=10, max_denominator=10))
def test_a_blend_costs_what_its_parts_cost(blend: list[Bought], factor: Fraction) -> None:
    whole = cost.blend_cost(blend)
    assert sum(whole.parts) == whole.total
    assert whole.price * sum(cut.grams for cut in blend) == whole.total
    more = cost.blend_cost([Bought(cut.grams * factor, cut.price, cut.usable_percent) for cut in blend])
    assert (more.total, more.price) == (whole.total * factor, whole.price)
    dearest = max(cost.usable_price(cut.price, cut.usable_percent) for cut in blend)
    cheapest = min(cost.usable_price(cut.price, cut.usable_percent) for cut in blend)
    assert cheapest <= whole.price <= dearest


@given(money, st.integers(1, 300))
def test_shares_make_the_whole(total: Fraction, count: int) -> None:
    assert cost.shared(total, count) * count == total


@given(money, fats, money, fats)
def test_at_the_break_even_price_nothing_is_saved(
    own: Fraction, own_fat: Fraction, shop: Fraction, fat: Fraction
) -> None:
    found = cost.compare(own, own_fat, shop, fat)
    level = cost.compare(found.break_even, own_fat, shop, fat)
    assert level.lean_saving_percent == 0
    assert (found.lean_saving_percent > 0) == (own < found.break_even)
    assert found.saving == shop - own


def test_lean_for_lean_by_hand() -> None:
    """Arithmetic: 4.00 at 20 % fat is 5.00 for the lean; 5.40 at 10 % is 6.00; break-even 6.00 x 0.8 = 4.80."""
    found = cost.compare(Fraction(4), Fraction(20), Fraction("5.40"), Fraction(10))
    assert (found.own_lean, found.shop_lean, found.break_even) == (Fraction(5), Fraction(6), Fraction("4.80"))
    assert found.lean_saving_percent == Fraction(100, 6)
    # 1.40 of 5.40
    assert found.saving_percent == Fraction(700, 27)


@given(cuts, money, grams, usable)
def test_a_cut_at_its_break_even_price_makes_the_wanted_price(
    others: list[Bought], wanted: Fraction, weight: Fraction, percent: Fraction
) -> None:
    price = cost.break_even_price(wanted, others, weight, percent)
    if price >= 0:
        assert cost.blend_cost([*others, Bought(weight, price, percent)]).price == wanted
    else:
        assert cost.blend_cost([*others, Bought(weight, Fraction(0), percent)]).price > wanted


@given(money, money, grams)
def test_money_spent_is_money_had(budget: Fraction, price: Fraction, patty: Fraction) -> None:
    assert cost.price_for(price, cost.mass_for_budget(budget, price)) == budget
    each = cost.price_for(price, patty)
    paid = cost.count_for_budget(budget, each)
    assert paid.count * each + paid.left == budget
    assert 0 <= paid.left < each


def test_a_grinder_pays_off() -> None:
    """Arithmetic: 120 spent, 2 a kilogram saved: 60 kg. Nothing saved: never."""
    assert cost.pays_off_after(Fraction(120), Fraction(2, 1000)) == 60_000
    assert cost.pays_off_after(Fraction(120), Fraction(0)) is None
    assert cost.pays_off_after(Fraction(120), Fraction(-1)) is None


def test_nonsense_is_refused() -> None:
    one = Fraction(1)
    for call in (
        lambda: cost.per_gram(one, Fraction(0)),
        lambda: cost.per_gram(Fraction(-1), one),
        lambda: cost.usable_percent(one, Fraction(2)),
        lambda: cost.usable_price(one, Fraction(0)),
        lambda: cost.cutting_test(one, one, one, [ByProduct(one, one)]),
        lambda: cost.cutting_test(Fraction(2), one, one, [ByProduct(one, Fraction(3))]),
        lambda: cost.blend_cost([]),
        lambda: cost.shared(one, 0),
        lambda: cost.lean_price(one, Fraction(100)),
        lambda: cost.mass_for_budget(one, Fraction(0)),
        lambda: cost.count_for_budget(one, Fraction(0)),
    ):
        with pytest.raises(BadInput):
            call()
