"""Spoons, cups and pints, which are not of one size in every country."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from assistant import units, wording

_IMPERIAL: Final = {
    "fluid_ounce": "imperial_fluid_ounce",
    "pint": "imperial_pint",
    "quart": "imperial_quart",
    "gallon": "imperial_gallon",
}
_METRIC: Final = {
    "pinch": "metric_pinch",
    "dash": "metric_dash",
    "tsp": "metric_teaspoon",
    "tbsp": "metric_tablespoon",
    "cup": "metric_cup",
    **_IMPERIAL,
}
_MEASURES: Final = {"us": {}, "au": {**_METRIC, "tbsp": "australian_tablespoon"}}
"""The measures of a country by the cook's word, where they are not the US ones; every other country: _METRIC."""
_OF_A_TEASPOON: Final = {"pinch": Fraction(1, 16), "dash": Fraction(1, 8)}
"""As in data/units.txt: common practice, no source."""
_SPOKEN: Final = {
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "fluid_ounce": "fluid ounce",
    "ml": "millilitre",
    "l": "litre",
}
_SOURCES: Final = {
    "mass": "NIST Handbook 44 Appendix C",
    "volume": "NIST Handbook 44 Appendix C",
    "length": "NIST Handbook 44 Appendix C",
    "time": "exact by definition",
    "temperature": "NIST SP 811",
}


def kind_of(unit: str) -> str:
    """What a cook's unit measures, "" for what the units table does not have."""
    try:
        return units.kind(unit)
    except units.UnknownUnit:
        return ""


def table_unit(unit: str, country: str) -> str:
    """The units table's name for a cook's unit: spoons, cups and pints are not of one size in every country."""
    return _MEASURES.get(country, _METRIC).get(unit, unit)


def measured_in(value: Fraction, unit: str, other: str, country: str) -> Fraction:
    """The value in another unit of the same kind, in the measures of the country; exact."""
    return units.to(value, table_unit(unit, country), table_unit(other, country))


def source_of(kind: str, named: Iterable[str], country: str) -> str:
    tables = {table_unit(unit, country) for unit in named}
    if any(table.startswith("imperial") for table in tables):
        return "UK Weights and Measures Act 1985, from memory"
    if any(table.startswith("australian") for table in tables):
        return "AS 1325, from memory"
    if any(table.startswith("metric") for table in tables):
        return "metric spoons and cup as sold, from memory"
    return _SOURCES[kind]


def measure_notes(named: Iterable[str], country: str) -> list[str]:
    """Which spoons, cups and pints were meant, where their size depends on the country."""
    sizes = []
    named = tuple(dict.fromkeys(named))
    for unit in named:
        if unit in _METRIC:
            table = table_unit(unit, country)
            size = wording.number(units.millilitres(1, table), 1)
            sizes.append(f"a {spoken(unit)} of {size} ml")
    whose = {"us": "US", "au": "Australian"}.get(country, "UK" if country == "uk" else "metric and imperial")
    notes = [f"Taken in {whose} measures: {wording.listing(sizes)}."] if sizes else []
    for unit in named:
        if unit in _OF_A_TEASPOON:
            share = wording.fraction(_OF_A_TEASPOON[unit], Fraction(1, 16))
            notes = [*notes, f"A {unit} is counted as {share} tsp (common practice, no source)."]
    return notes


def spoken(unit: str) -> str:
    """The unit in full, as it is said of a spoon."""
    return _SPOKEN.get(unit, unit)
