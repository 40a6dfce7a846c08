"""Conversions as they are written."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from assistant import data, units, wording
from assistant.answer import Figure
from assistant.language.phrases import Measure
from assistant.topics.convert.measures import kind_of
from assistant.topics.convert.request import Conversion

_MEASURES_OF: Final = {
    "au": "Australian measures",
    "us": "American measures",
    "uk": "British measures",
    "ca": "Canada",
    "nz": "New Zealand",
    "ie": "Ireland",
}
_WRITTEN: Final = {
    "g": "grams",
    "cup": "cups",
    "fluid_ounce": "fl oz",
    "l": "litres",
    "inch": "inches",
    "foot": "feet",
    "meter": "metres",
    "degC": "celsius",
    "degF": "fahrenheit",
    "minute": "minutes",
    "hour": "hours",
    "day": "days",
    "week": "weeks",
    "month": "months",
    "second": "seconds",
    "us": "us units",
}
SHORT: Final = {
    "fluid_ounce": "fl oz",
    "foot": "ft",
    "meter": "m",
    "degC": "°C",
    "degF": "°F",
    "minute": "min",
    "hour": "h",
    "second": "s",
}


def per_text(per: Measure) -> str:
    """What a price is for."""
    unit = SHORT.get(per.unit, per.unit)
    return unit if per.value == 1 else f"{exact_text(per.value)} {unit}"


def ends(measure: Measure) -> tuple[Fraction, ...]:
    """Both ends of a range, or the one value."""
    return (measure.value,) if measure.high is None else (measure.value, measure.high)


def exact_text(value: Fraction) -> str:
    """A number written so that it reads back as itself: decimals where they end, else a mixed fraction."""
    decimals = value * 10**6
    if decimals.denominator == 1:
        return wording.number(value, 6).replace(",", "")
    whole, part = divmod(value, 1)
    return f"{whole} {part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"


def with_its_unit(value: Fraction, unit: str) -> str:
    whole, ounces = divmod(value * 16, 16)
    if unit == "lb" and whole and ounces and ounces.denominator == 1:
        return f"{whole} lb {ounces} oz"
    return f"{exact_text(value)} {_unit_text(unit, value)}".rstrip()


def _unit_text(unit: str, value: Fraction) -> str:
    plural = unit in ("cup", "pint", "quart", "gallon", "inch", "pinch", "dash", "day", "week", "month") and value > 1
    return wording.plural_of(unit) if plural else SHORT.get(unit, unit)


def amount_text(measure: Measure) -> str:
    """An amount as it reads back."""
    if measure.high is None:
        return with_its_unit(measure.value, measure.unit)
    return f"{exact_text(measure.value)} to {with_its_unit(measure.high, measure.unit)}"


def subject_text(request: Conversion) -> str:
    """What is converted, with its name."""
    return f"{amount_text(request.amount)} {request.said}".rstrip()


def value_text(value: Fraction, unit: str, *, whole: bool = False) -> str:
    """Four figures or so, and never nothing for something. whole: in whole units, where that leaves something."""
    size = abs(value)
    if whole:
        digits = 0
    elif kind_of(unit) == units.TEMPERATURE:
        digits = 1
    else:
        digits = 0 if size >= 1000 else 1 if size >= 100 else 2 if size >= 1 else 3
    while value and digits < 9 and not wording.rounded(value, Fraction(1, 10**digits)):
        digits += 1
    return f"{wording.number(value, digits)} {_unit_text(unit, value)}"


def mixed_text(pounds: Fraction) -> str:
    """Pounds and ounces to a hundredth of an ounce."""
    hundredths = wording.rounded(pounds * 16, Fraction(1, 100))
    whole, ounces = divmod(hundredths, 16)
    return f"{whole} lb {wording.number(ounces, 2)} oz" if whole else f"{wording.number(ounces, 2)} oz"


def span_text(texts: Sequence[str]) -> str:
    """Both ends of a range; the unit once where they share it."""
    first, _, unit = texts[0].rpartition(" ")
    shared = len(texts) > 1 and texts[-1].endswith(f" {unit}") and first.replace(".", "").isdigit()
    return " to ".join((first if shared else texts[0], *texts[1:]))


def as_spoons(figures: Sequence[Figure], to: Sequence[str]) -> str:
    """What to fill, to the nearest eighth, where one spoon size was asked for and the figure is not one itself."""
    if len(to) != 1 or to[0] not in ("tsp", "tbsp", "cup") or len(figures) != 1:
        return ""
    value = Fraction(figures[0].value)
    near = wording.rounded(value, Fraction(1, 8))
    return f", about {wording.fraction(near, Fraction(1, 8))} {to[0]}" if near and near != value else ""


def listed(to: Sequence[str]) -> str:
    """Units in a row."""
    return wording.listing([_WRITTEN.get(unit, unit) for unit in to])


def understood_text(request: Conversion) -> str:
    """The request in full words, which read back to the same request."""
    if request.per is not None and request.to_per is not None:
        return f"Convert {_money_text(request.amount)} per {per_text(request.per)} to{_money_wanted(request)}"
    if request.currency:
        return f"Convert {_money_text(request.amount)} to {request.currency}"
    of = f" of {request.said}" if request.said else ""
    to = f" to {listed(request.to)}" if request.to else ""
    whose = f" in {_MEASURES_OF[request.country]}" if request.country else ""
    return f"Convert {amount_text(request.amount)}{of}{to}{whose}"


def _money_wanted(request: Conversion) -> str:
    assert request.to_per is not None
    currency = f" {request.currency}" if request.currency else ""
    return f"{currency} per {per_text(request.to_per)}"


def _money_text(amount: Measure) -> str:
    symbol = wording.CURRENCY_SYMBOLS.get(amount.unit, "")
    return " to ".join(f"{symbol}{_coins_text(value)}" for value in ends(amount))


def _coins_text(value: Fraction) -> str:
    """Two decimals where the sum is in whole cents, as prices are written; else as exact as it was said."""
    cents = value * 100
    if cents.denominator != 1 or value < 0:
        return exact_text(value)
    return f"{cents.numerator // 100}.{cents.numerator % 100:02d}".removesuffix(".00")


def first_name(key: str) -> str:
    """The plainest name of a seasoning."""
    row = data.seasonings()[key]
    return next(name for name in (key, *row.names) if "," not in name)
