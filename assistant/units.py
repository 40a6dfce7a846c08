"""Exact conversion between units of mass, volume, length, time and temperature.

One table, data/units.txt, written in pint's definition language, and one registry made from it: our own, never pint's
default one, and built only when something asks for it. Loading pint costs more than most answers, so a unit that the
table writes as a plain multiple of its base ("pound = 453.59237 * gram") is read off the table directly; the registry
does the rest, which is the temperature scales. A test holds the two readings of the table against each other.

A cook's words never come here: the language front turns them into the names of this table first.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from assistant.errors import BadInput

if TYPE_CHECKING:
    from pint import UnitRegistry

TABLE: Final = Path(__file__).with_name("data") / "units.txt"
NO_SYMBOL: Final = "_"
TEMPERATURE: Final = "temperature"

Number = int | float | Fraction
"""What may be converted. A float is taken as exactly the binary number it is."""


class UnknownUnit(BadInput):
    """The units table has no such name."""


class WrongKind(BadInput):
    """The unit exists and measures something else, such as a length where a mass was wanted."""


def to(value: Number, unit: str, other: str) -> Fraction:
    """The value, given in `unit`, in `other`; exact.

    Temperatures are points on a scale, so 0 degC is 32 degF; for a rise or fall use `difference`.
    Raises UnknownUnit, WrongKind where the two units measure different things, BadInput where value is no number.
    """
    amount = _exact(value)
    factor = _factor(unit, other)
    return _to_scale(amount, unit, other) if factor is None else amount * factor


def difference(value: Number, unit: str, other: str) -> Fraction:
    """A rise or fall in temperature, given in degrees of `unit`, in degrees of `other`: 9 degF are 5 degC.

    Raises UnknownUnit, WrongKind where a unit is not a temperature, BadInput where value is no number.
    """
    amount = _exact(value)
    for argument, name in (("unit", unit), ("other", other)):
        if kind(name) != TEMPERATURE:
            raise WrongKind(argument, name, "a unit of temperature")
    return amount * (_to_scale(Fraction(1), unit, other) - _to_scale(Fraction(0), unit, other))


def grams(value: Number, unit: str) -> Fraction:
    """A mass in grams. Raises as `to`."""
    return to(value, unit, "gram")


def millilitres(value: Number, unit: str) -> Fraction:
    """A volume in millilitres. Raises as `to`."""
    return to(value, unit, "milliliter")


def kind(unit: str) -> str:
    """What the unit measures: "mass", "volume", "length", "time" or "temperature". Raises UnknownUnit."""
    measured = _table().get(unit)
    if measured is None:
        raise UnknownUnit("unit", unit, "a unit of data/units.txt")
    return measured[0]


@cache
def registry() -> UnitRegistry[Any]:
    """The one pint registry, made from the table with exact fractions; built on first use."""
    from pint import UnitRegistry

    return UnitRegistry(_lines(), non_int_type=Fraction)


def _exact(value: Number) -> Fraction:
    if type(value) is Fraction:
        return value
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        raise BadInput("value", value, "a number")
    try:
        return Fraction(value)
    except (OverflowError, ValueError):  # an infinity, or a float that is no number
        raise BadInput("value", value, "a number") from None


@cache
def _factor(unit: str, other: str) -> Fraction | None:
    """How many of `other` one `unit` is; None for scales of temperature, which have none. Raises UnknownUnit, WrongKind."""
    if kind(unit) != kind(other):
        raise WrongKind("other", other, f"a unit of {kind(unit)}, as {unit} is")
    first, second = _table()[unit][1], _table()[other][1]
    return None if first is None or second is None or kind(unit) == TEMPERATURE else first / second


@lru_cache(maxsize=256)
def _to_scale(amount: Fraction, unit: str, other: str) -> Fraction:
    return Fraction(registry().Quantity(amount, unit).to(other).magnitude)


def _lines() -> list[str]:
    lines = TABLE.read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


@cache
def _table() -> dict[str, tuple[str, Fraction | None]]:
    """Every name in the table: what it measures, and how many of the base it is (None: not a plain multiple).

    Only these names are units. pint would also take "pounds", "lb*oz" or "millidegC", which nobody means to write here.
    """
    table: dict[str, tuple[str, Fraction | None]] = {}
    for line in _lines():
        name, value, *others = (piece.strip() for piece in line.split("="))
        measured = _measured(value, table)
        table.update((known, measured) for known in (name, *others) if known != NO_SYMBOL)
    return table


def _measured(value: str, table: dict[str, tuple[str, Fraction | None]]) -> tuple[str, Fraction | None]:
    if value.startswith("["):
        return value.strip("[]"), Fraction(1)
    scale, _, offset = value.partition(";")
    number, _, base = scale.rpartition(" * ")
    return table[base.strip()][0], None if offset else Fraction(number)
