"""Units: exact, read alike by both readers of the table, and in agreement with other people's tables."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from assistant import units
from assistant.errors import BadInput

MASSES = ("g", "kg", "mg", "lb", "oz", "stone")
VOLUMES = (
    *("ml", "cl", "dl", "l", "tsp", "tbsp", "fluid_ounce", "cup", "pint", "quart", "gallon"),
    *("metric_teaspoon", "metric_tablespoon", "metric_cup", "australian_tablespoon"),
    *("imperial_fluid_ounce", "imperial_pint", "imperial_quart", "imperial_gallon"),
)
LENGTHS = ("mm", "cm", "m", "inch", "ft")
TIMES = ("s", "minute", "hour", "day", "week", "month")
TEMPERATURES = ("degC", "degF", "kelvin")
KINDS = {"mass": MASSES, "volume": VOLUMES, "length": LENGTHS, "time": TIMES, "temperature": TEMPERATURES}

amounts = st.fractions(min_value=-10_000, max_value=10_000, max_denominator=1000)
pairs = st.sampled_from([(a, b) for names in KINDS.values() for a in names for b in names])


@pytest.mark.parametrize(("measure", "names"), KINDS.items())
def test_every_unit_knows_what_it_measures(measure: str, names: tuple[str, ...]) -> None:
    assert {units.kind(name) for name in names} == {measure}


@given(amounts, pairs)
def test_there_and_back_is_the_same(amount: Fraction, pair: tuple[str, str]) -> None:
    unit, other = pair
    assert units.to(units.to(amount, unit, other), other, unit) == amount


@given(amounts, pairs)
def test_pint_reads_the_table_alike(amount: Fraction, pair: tuple[str, str]) -> None:
    unit, other = pair
    by_pint = units.registry().Quantity(amount, unit).to(other).magnitude
    assert units.to(amount, unit, other) == by_pint


def test_the_exact_factors_of_the_law() -> None:
    """NIST Handbook 44 Appendix C; the yard and pound agreement of 1959."""
    assert units.grams(1, "lb") == Fraction("453.59237")
    assert units.grams(1, "oz") == Fraction("28.349523125")
    assert units.grams(1, "stone") == Fraction("6350.29318")
    assert units.to(1, "lb", "oz") == 16
    assert units.to(1, "inch", "mm") == Fraction("25.4")
    assert units.millilitres(1, "gallon") == Fraction("3785.411784")
    assert units.millilitres(1, "tsp") == Fraction("4.92892159375")
    assert units.millilitres(1, "imperial_gallon") == Fraction("4546.09")


def test_kitchen_measures_fit_into_each_other() -> None:
    for count, small, big in (
        *((3, "tsp", "tbsp"), (2, "tbsp", "fluid_ounce"), (8, "fluid_ounce", "cup"), (2, "cup", "pint")),
        *((2, "pint", "quart"), (4, "quart", "gallon"), (20, "imperial_fluid_ounce", "imperial_pint")),
        *((2, "imperial_pint", "imperial_quart"), (4, "imperial_quart", "imperial_gallon")),
        *((3, "metric_teaspoon", "metric_tablespoon"), (4, "metric_teaspoon", "australian_tablespoon")),
        *((12, "inch", "foot"), (14, "pound", "stone"), (7, "day", "week"), (60, "minute", "hour")),
    ):
        assert units.to(count, small, big) == 1, (small, big)


def test_against_the_constants_of_scipy() -> None:
    assert float(units.to(1, "lb", "kg")) == pytest.approx(constants.pound, rel=1e-15)
    assert float(units.to(1, "oz", "kg")) == pytest.approx(constants.ounce, rel=1e-15)
    assert float(units.to(1, "stone", "kg")) == pytest.approx(constants.stone, rel=1e-15)
    assert float(units.to(1, "inch", "m")) == pytest.approx(constants.inch, rel=1e-15)
    assert float(units.to(1, "ft", "m")) == pytest.approx(constants.foot, rel=1e-15)
    assert float(units.to(1, "gallon", "l")) == pytest.approx(constants.gallon * 1000, rel=1e-14)
    assert float(units.to(1, "fluid_ounce", "l")) == pytest.approx(constants.fluid_ounce * 1000, rel=1e-14)
    assert float(units.to(1, "imperial_gallon", "l")) == pytest.approx(constants.gallon_imp * 1000, rel=1e-14)
    assert float(units.difference(1, "degF", "kelvin")) == pytest.approx(constants.degree_Fahrenheit, rel=1e-15)
    for fahrenheit in (0, 40, 160, 212):
        converted = float(constants.convert_temperature(fahrenheit, "Fahrenheit", "Celsius"))
        assert float(units.to(fahrenheit, "degF", "degC")) == pytest.approx(converted, abs=1e-12)


@pytest.fixture(scope="module")
def default_registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


OWN_NAMES = ("metric_teaspoon", "metric_tablespoon", "metric_cup", "australian_tablespoon")
"""Spoons that pint's own table does not know; amounts of them go out in millilitres."""


@pytest.mark.parametrize("name", [name for names in KINDS.values() for name in names if name not in OWN_NAMES])
def test_names_mean_the_same_to_programs_with_pints_own_table(
    name: str, default_registry: pint.UnitRegistry[float]
) -> None:
    """Figures carry these names in JSON, to be read with a default registry."""
    base = {"mass": "gram", "volume": "milliliter", "length": "millimeter", "time": "second", "temperature": "kelvin"}
    wanted = base[units.kind(name)]
    theirs = default_registry.Quantity(10.0, name).to(wanted).magnitude
    assert float(units.to(10, name, wanted)) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius", "published"),
    [
        *((0, "-17.78", -18), (32, "0", 0), (40, "4.44", 4), (90, "32.22", 32), (140, "60", 60), (145, "62.78", 63)),
        *((155, "68.33", 68), (158, "70", 70), (160, "71.11", 71), (165, "73.89", 74)),
    ],
)
def test_temperatures_as_published(fahrenheit: int, celsius: str, published: int) -> None:
    """Pairs from FSIS and FDA texts, the exact conversion (NIST SP 811) beside them."""
    exact = units.to(fahrenheit, "degF", "degC")
    assert exact == Fraction(fahrenheit - 32) * 5 / 9
    assert round(float(exact), 2) == float(celsius)
    assert round(float(exact)) == published


def test_a_rise_is_not_a_reading() -> None:
    assert units.difference(9, "degF", "degC") == 5
    assert units.difference(5, "degC", "degF") == 9
    assert units.to(5, "degC", "degF") == 41


@pytest.mark.parametrize(
    ("inch", "millimetres"),
    [
        *(("1/8", "3.175"), ("5/32", "3.96875"), ("3/16", "4.7625"), ("1/4", "6.35")),
        *(("5/16", "7.9375"), ("3/8", "9.525"), ("1/2", "12.7")),
    ],
)
def test_grinder_plates_in_millimetres(inch: str, millimetres: str) -> None:
    """Arithmetic, 25.4 mm an inch."""
    assert units.to(Fraction(inch), "inch", "mm") == Fraction(millimetres)


@pytest.mark.parametrize(
    "name", ["", "lbs", "lb*oz", "2*lb", "kilolb", "millidegC", "LB", "smidgen", "1", "lb ", "_", "in in"]
)
def test_only_names_of_the_table_are_units(name: str) -> None:
    with pytest.raises(units.UnknownUnit) as caught:
        units.to(1, name, "g")
    assert caught.value.value == name


def test_kinds_do_not_mix() -> None:
    with pytest.raises(units.WrongKind) as caught:
        units.grams(1, "cup")
    assert caught.value.wanted == "a unit of volume, as cup is"
    with pytest.raises(units.WrongKind):
        units.difference(1, "lb", "degC")


@pytest.mark.parametrize("value", [float("nan"), float("inf"), True, "1", None])
def test_what_is_no_number_is_refused(value: object) -> None:
    with pytest.raises(BadInput):
        units.to(value, "lb", "g")  # type: ignore[arg-type]


def test_common_conversions_leave_pint_alone() -> None:
    script = (
        "import sys; from assistant import units; units.grams(1, 'lb'); units.millilitres(1, 'tsp');"
        "units.to(1, 'inch', 'mm'); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 0
