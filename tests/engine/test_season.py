"""Seasoning: percents, rates, mixes, salt and spoons."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import units
from assistant.engine import season
from assistant.engine.season import Saltiness
from assistant.errors import BadInput

grams = st.fractions(min_value=Fraction(1, 10), max_value=50_000, max_denominator=1000)
percents = st.lists(st.fractions(min_value=0, max_value=20, max_denominator=100), max_size=4)
factors = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=100)
POUND = Fraction("453.59237")

TABLE_SALT = (Fraction(6), Fraction(18))
"""Grams in a teaspoon and a tablespoon, USDA SR28 02047."""
GARLIC_POWDER = (Fraction("3.1"), Fraction("9.7"))
"""USDA SR28 02020: its tablespoon is not three of its teaspoons."""


@given(grams, st.fractions(min_value=0, max_value=100))
def test_percent_of_meat_there_and_back(meat: Fraction, percent: Fraction) -> None:
    assert season.percent_of_meat(season.of_meat(meat, percent), meat) == percent


@given(grams, percents)
def test_percents_of_the_finished_weight_hold_together(meat: Fraction, wanted: list[Fraction]) -> None:
    added = season.of_finished(meat, wanted)
    assert season.percent_of_finished(added, meat) == tuple(wanted)


@given(grams, factors, st.fractions(min_value=0, max_value=50))
def test_seasoning_grows_with_the_meat(meat: Fraction, factor: Fraction, percent: Fraction) -> None:
    assert season.of_meat(meat * factor, percent) == factor * season.of_meat(meat, percent)
    assert season.of_finished(meat * factor, [percent]) == tuple(
        factor * g for g in season.of_finished(meat, [percent])
    )


@given(grams, st.fractions(min_value=0, max_value=10))
def test_the_unit_of_a_rate_changes_nothing(meat: Fraction, per_pound: Fraction) -> None:
    per_kilogram = per_pound * 1000 / POUND
    assert season.by_rate(meat, per_pound, POUND) == season.by_rate(meat, per_kilogram, Fraction(1000))


@given(st.lists(grams, max_size=5), grams, grams)
def test_scaling_a_mix_there_and_back(mix: list[Fraction], written: Fraction, wanted: Fraction) -> None:
    assert season.scale_mix(season.scale_mix(mix, written, wanted), wanted, written) == tuple(mix)


def test_a_batch_by_hand() -> None:
    """Arithmetic: 1 % of 3 lb is 13.6 g; a spoon a pound on 5 lb is 5; 2 % of finished 1000 g is 20 g."""
    assert season.of_meat(3 * POUND, Fraction(1)) == Fraction("13.6077711")
    assert season.by_rate(5 * POUND, Fraction(1), POUND) == 5
    assert season.of_finished(Fraction(980), [Fraction(2)]) == (Fraction(20),)
    assert season.of_finished(Fraction(950), [Fraction(3), Fraction(2)]) == (Fraction(30), Fraction(20))
    assert season.scale_mix([Fraction(2), Fraction(1, 2)], 5 * POUND, 2 * POUND) == (Fraction(4, 5), Fraction(1, 5))


def test_salt_from_sodium() -> None:
    """Molar masses: NaCl 58.443 over Na 22.990. SR28: fresh pork sausage 739 mg sodium in 100 g, about 1.9 % salt."""
    assert float(season.SALT_PER_SODIUM) == pytest.approx(58.443 / 22.990, abs=0.0005)
    assert float(season.salt_from_sodium(Fraction(100), Fraction(739))) == pytest.approx(1.88, abs=0.005)
    assert season.salt_from_sodium(Fraction(200), Fraction(1000)) == 2 * season.SALT_PER_SODIUM


@given(grams, st.fractions(min_value=0, max_value=3), st.fractions(min_value=0, max_value=500))
def test_salt_to_add_makes_up_the_wanted_share(meat: Fraction, percent: Fraction, already: Fraction) -> None:
    added = season.salt_to_add(meat, percent, already)
    assert added + already == season.of_meat(meat, percent)


def test_too_much_salt_is_told_and_not_hidden() -> None:
    assert season.salt_to_add(Fraction(1000), Fraction(1), already=Fraction(12)) == -2


def test_what_is_salty() -> None:
    """Custom: 2 % is sausage; above 2.5 % is unusual."""
    assert season.judge_salt(Fraction("2.5")) is Saltiness.USUAL
    assert season.judge_salt(Fraction("2.6")) is Saltiness.UNUSUALLY_SALTY


@pytest.mark.parametrize(
    ("wanted", "spoon_set", "measures"),
    [
        (18, "us", ((Fraction(1), "tbsp"),)),
        (9, "us", ((Fraction(3, 2), "tsp"),)),
        (Fraction("13.6"), "us", ((Fraction(9, 4), "tsp"),)),
        (Fraction("0.38"), "us", ((Fraction(1), "pinch"),)),
        (Fraction("40.5"), "us", ((Fraction(2), "tbsp"), (Fraction(3, 4), "tsp"))),
        (Fraction("24.35"), "au", ((Fraction(1), "tbsp"),)),
        (Fraction("24.35"), "metric", ((Fraction(1), "tbsp"), (Fraction(1), "tsp"))),
        (Fraction("0.1"), "us", ()),
    ],
)
def test_spoons_of_table_salt(wanted: Fraction, spoon_set: str, measures: tuple[tuple[Fraction, str], ...]) -> None:
    assert season.spoonfuls(Fraction(wanted), *TABLE_SALT, spoon_set=spoon_set).measures == measures


def test_a_weight_too_small_for_any_spoon_says_so() -> None:
    nothing = season.spoonfuls(Fraction("0.1"), *TABLE_SALT)
    assert nothing.grams == 0
    assert nothing.error == -100


spoon_sets = st.sampled_from(sorted(season.SPOON_SETS))
spices = st.sampled_from([TABLE_SALT, GARLIC_POWDER, (Fraction("2.3"), None)])


@given(st.fractions(min_value=Fraction(1, 2), max_value=300, max_denominator=100), spoon_sets, spices)
def test_spoons_hold_what_they_say(wanted: Fraction, spoon_set: str, spice: tuple[Fraction, Fraction | None]) -> None:
    chosen = season.spoonfuls(wanted, *spice, spoon_set=spoon_set)
    held = sum((season.spoons_weigh(amount, unit, *spice, spoon_set) for amount, unit in chosen.measures), Fraction(0))
    assert held == chosen.grams
    assert chosen.error == (held - wanted) * 100 / wanted


@given(st.fractions(min_value=Fraction(1, 2), max_value=300, max_denominator=100), spoon_sets, spices)
def test_the_nearest_spoons_miss_by_half_a_pinch_at_most(
    wanted: Fraction, spoon_set: str, spice: tuple[Fraction, Fraction | None]
) -> None:
    """Where the tablespoon weighs less than its teaspoons there is no gap between them to miss more by."""
    nearest = season.spoonfuls(wanted, *spice, spoon_set=spoon_set, within=Fraction(0))
    pinch = season.spoons_weigh(Fraction(1), "pinch", *spice, spoon_set)
    gap = season.spoons_weigh(Fraction(1), "tbsp", *spice, spoon_set) - season.spoons_weigh(
        Fraction(4 if spoon_set == "au" else 3), "tsp", *spice, spoon_set
    )
    assert abs(nearest.grams - wanted) <= max(pinch / 2, (pinch + gap) / 2)


@given(st.fractions(min_value=Fraction(1, 2), max_value=300, max_denominator=100), spoon_sets, spices)
def test_leeway_is_kept_to_and_saves_spoons(
    wanted: Fraction, spoon_set: str, spice: tuple[Fraction, Fraction | None]
) -> None:
    def filled(chosen: season.Spoonfuls) -> int:
        count = 0
        for amount, _ in chosen.measures:
            count += int(amount) + int(amount % 1 * 8).bit_count()
        return count

    easy = season.spoonfuls(wanted, *spice, spoon_set=spoon_set, within=Fraction(3))
    nearest = season.spoonfuls(wanted, *spice, spoon_set=spoon_set, within=Fraction(0))
    assert abs(easy.error) <= max(Fraction(3), abs(nearest.error))
    assert filled(easy) <= filled(nearest)


def test_spoons_of_other_countries_go_by_volume() -> None:
    """A 20 mL tablespoon holds 20 / 14.79 of the US one (unit facts: NIST Handbook 44; AS 1325 from memory)."""
    australian = season.spoons_weigh(Fraction(1), "tbsp", *TABLE_SALT, "au")
    assert float(australian) == pytest.approx(18 * 20 / 14.78676478125)
    assert float(season.spoons_weigh(Fraction(1), "tsp", *TABLE_SALT, "metric")) == pytest.approx(6 * 5 / 4.92892159375)


def test_spoon_sets_are_those_of_the_units_table() -> None:
    names = {
        "us": ("teaspoon", "tablespoon"),
        "metric": ("metric_teaspoon", "metric_tablespoon"),
        "au": ("metric_teaspoon", "australian_tablespoon"),
    }
    assert names.keys() == season.SPOON_SETS.keys()
    for spoon_set, (teaspoon, tablespoon) in names.items():
        spoons = season.SPOON_SETS[spoon_set]
        assert spoons.teaspoon == units.millilitres(1, teaspoon)
        assert spoons.tablespoon == units.millilitres(1, tablespoon)


def test_nonsense_is_refused() -> None:
    one = Fraction(1)
    for call in (
        lambda: season.of_finished(one, [Fraction(60), Fraction(40)]),
        lambda: season.percent_of_meat(one, Fraction(0)),
        lambda: season.of_meat(Fraction(-1), one),
        lambda: season.of_meat(1.5, one),  # type: ignore[arg-type]
        lambda: season.salt_from_sodium(one, Fraction(100_001)),
        lambda: season.spoonfuls(Fraction(0), one),
        lambda: season.spoonfuls(one, one, spoon_set="moon"),
        lambda: season.spoons_weigh(one, "cup", one),
    ):
        with pytest.raises(BadInput):
            call()


def test_spoons_are_american_where_nobody_says_whose() -> None:
    assert season.spoons_weigh(Fraction(1), "tbsp", *TABLE_SALT) == season.spoons_weigh(
        Fraction(1), "tbsp", *TABLE_SALT, "us"
    )
    assert season.spoons_weigh(Fraction(1), "tbsp", *TABLE_SALT) != season.spoons_weigh(
        Fraction(1), "tbsp", *TABLE_SALT, "au"
    )
