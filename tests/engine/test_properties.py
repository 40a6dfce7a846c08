"""What must hold for every sum of the engine beside blends: order, units and scale play no part, more room never hurts."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.engine import cost, portion, season
from assistant.engine.blend import Cut, NoBlend
from assistant.engine.correct import Correction, add_to_reach, swap_to_reach
from assistant.engine.packs import Pack, Shopping, cheapest_packs
from assistant.engine.spread import spread

QUICK = settings(max_examples=60, deadline=None)
fats = st.integers(10, 900).map(lambda n: Fraction(n, 10))
masses = st.integers(10, 50000).map(lambda n: Fraction(n, 10))
factors = st.sampled_from([Fraction(1, 7), Fraction(3), Fraction("453.59237"), Fraction("28.349523125")])
markets = st.lists(st.tuples(fats, st.integers(2, 20), st.integers(1, 40), st.integers(0, 3)), min_size=2, max_size=4)


@QUICK
@given(mass=masses, fat=fats, target=fats, pair=st.tuples(fats, fats), factor=factors)
def test_a_correction_is_linear_and_knows_no_order(
    mass: Fraction, fat: Fraction, target: Fraction, pair: tuple[Fraction, Fraction], factor: Fraction
) -> None:
    """Twice the batch takes twice as much, whatever the unit, and the order of what is added changes nothing."""
    cuts = [Cut("one", pair[0], at_most=mass * 2), Cut("two", pair[1], at_most=mass * 2)]
    for reach in (add_to_reach, swap_to_reach):
        found, back = reach(mass, fat, cuts, target), reach(mass, fat, cuts[::-1], target)
        larger = reach(
            mass * factor, fat, [replace(cut, at_most=cut.at_most * factor) for cut in cuts if cut.at_most], target
        )
        assert isinstance(found, Correction) is isinstance(back, Correction) is isinstance(larger, Correction)
        if isinstance(found, Correction) and isinstance(back, Correction) and isinstance(larger, Correction):
            assert sum(back.add) == sum(found.add)
            assert sum(larger.add) == sum(found.add) * factor
            assert larger.take_out == found.take_out * factor


@QUICK
@given(mass=masses, fat=fats, target=fats, other=fats, stock=masses)
def test_more_stock_never_makes_a_correction_impossible(
    mass: Fraction, fat: Fraction, target: Fraction, other: Fraction, stock: Fraction
) -> None:
    for reach in (add_to_reach, swap_to_reach):
        scarce = reach(mass, fat, [Cut("one", other, at_most=stock)], target)
        ample = reach(mass, fat, [Cut("one", other)], target)
        if isinstance(scarce, Correction):
            assert isinstance(ample, Correction)
            assert ample.add == scarce.add


@settings(max_examples=25, deadline=None)
@given(market=markets, batch=st.integers(3, 20), target=fats, factor=factors)
def test_packs_know_no_order_and_no_unit_and_more_on_the_shelf_is_never_dearer(
    market: list[tuple[Fraction, int, int, int]], batch: int, target: Fraction, factor: Fraction
) -> None:
    def shop(scale: Fraction, more: int, turned: bool) -> Shopping | NoBlend:
        rows = market[::-1] if turned else market
        cuts = [Cut(f"{fat}", fat) for fat, _, _, _ in rows]
        packs = [
            Pack(at, size * 50 * scale, Fraction(price), most + more) for at, (_, size, price, most) in enumerate(rows)
        ]
        return cheapest_packs(cuts, packs, batch * 100 * scale, target)

    plain = shop(Fraction(1), 0, turned=False)
    others = shop(Fraction(1), 0, turned=True), shop(factor, 0, turned=False)
    ample = shop(Fraction(1), 2, turned=False)
    for other in others:
        assert isinstance(other, Shopping) is isinstance(plain, Shopping)
        if isinstance(plain, Shopping) and isinstance(other, Shopping):
            assert other.cost == plain.cost
    if isinstance(plain, Shopping):
        assert isinstance(ample, Shopping)
        assert ample.cost <= plain.cost


@QUICK
@given(parts=st.lists(st.tuples(fats, masses), min_size=2, max_size=5), factor=factors)
def test_a_spread_knows_no_order_and_no_unit(parts: list[tuple[Fraction, Fraction]], factor: Fraction) -> None:
    cuts = [Cut("cut", fat, low=fat * Fraction(9, 10), high=min(Fraction(100), fat + 2)) for fat, _ in parts]
    grams = [mass for _, mass in parts]
    plain = spread(cuts, grams)
    back = spread(cuts[::-1], [mass * factor for mass in grams[::-1]])
    assert (back.fat, back.low, back.high) == (plain.fat, plain.low, plain.high)
    assert back.two_sd == pytest.approx(plain.two_sd)
    assert back.contributions == plain.contributions[::-1]


@QUICK
@given(own=masses, own_fat=fats, shop=masses, shop_fat=fats, factor=factors)
def test_prices_compare_alike_in_any_unit_and_both_ways(
    own: Fraction, own_fat: Fraction, shop: Fraction, shop_fat: Fraction, factor: Fraction
) -> None:
    plain, scaled = (
        cost.compare(own, own_fat, shop, shop_fat),
        cost.compare(own * factor, own_fat, shop * factor, shop_fat),
    )
    assert scaled.lean_saving_percent == plain.lean_saving_percent
    assert scaled.break_even == plain.break_even * factor
    back = cost.compare(shop, shop_fat, own, own_fat)
    assert (back.own_lean, back.shop_lean) == (plain.shop_lean, plain.own_lean)
    # at its break-even price the own grind is as dear as the shop's
    assert cost.compare(plain.break_even, own_fat, shop, shop_fat).lean_saving_percent == 0


@QUICK
@given(meat=masses, percents=st.lists(st.integers(0, 30).map(Fraction), min_size=1, max_size=3), factor=factors)
def test_seasoning_undoes_itself_and_grows_with_the_meat(
    meat: Fraction, percents: list[Fraction], factor: Fraction
) -> None:
    grams = season.of_finished(meat, percents)
    assert season.percent_of_finished(grams, meat) == tuple(percents)
    assert season.of_finished(meat * factor, percents) == tuple(g * factor for g in grams)
    assert season.scale_mix(season.scale_mix(grams, meat, meat * factor), meat * factor, meat) == grams


@QUICK
@given(usable=masses, loss=st.integers(0, 99).map(Fraction), more=st.integers(0, 99).map(Fraction))
def test_a_smaller_loss_never_takes_more_buying(usable: Fraction, loss: Fraction, more: Fraction) -> None:
    low, high = sorted((loss, more))
    assert portion.purchase(usable, low) <= portion.purchase(usable, high)
