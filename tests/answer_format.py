"""Whether an answer as data keeps what is published of it: its keys and types, its units and ranges, and its sums.

`faults` says what is wrong, in words; nothing where all is well. The fuzzer and the tests of conversations ask it
about every answer, whatever was typed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from datetime import time as day_time
from fractions import Fraction
from functools import cache
from typing import Any

from assistant import units
from assistant.answer import Role, Status
from assistant.errors import BadInput

CURRENCIES = frozenset(("USD", "GBP", "EUR", "AUD", "CAD", "NZD"))
KEYS = {"heard", "understood", "status", "topic", "figures", "steps", "cautions", "notes", "message"}
FIGURE_KEYS = {"name", "role", "value", "unit", "low", "high", "source"}
NEVER_BELOW_NOTHING = frozenset(
    role.value
    for role in (
        Role.COMPONENT,
        Role.TOTAL,
        Role.FAT,
        Role.LEAN,
        Role.SEASONING,
        Role.PATTY_WEIGHT,
        Role.PATTY_COUNT,
        Role.PATTY_DIAMETER,
        Role.PATTY_THICKNESS,
        Role.COOKED_WEIGHT,
        Role.YIELD,
        Role.PURCHASE,
    )
)
MINDED = frozenset(("blend", "portion", "season"))
"""Topics whose every answer carries the reminders to cook through and to keep cold."""


def faults(data: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with the shape of an answer as data; nothing where it is as published."""
    if not KEYS <= set(data) <= KEYS | {"document"}:
        yield f"keys are {sorted(data)}"
        return
    if data["status"] not in [status.value for status in Status]:
        yield f"status {data['status']!r}"
    if data["status"] == Status.ANSWERED.value and not (data["message"] or data["figures"] or data["steps"]):
        yield "answered with nothing"
    if data["status"] != Status.ANSWERED.value and not data["message"]:
        yield f"{data['status']} without a message"
    for key in ("heard", "understood", "topic", "message"):
        if not isinstance(data[key], str):
            yield f"{key} is a {type(data[key]).__name__}"
    for key in ("steps", "notes"):
        if not all(isinstance(line, str) and line for line in data[key]):
            yield f"an empty line, or none, in {key}"
    for caution in data["cautions"]:
        if set(caution) != {"topic", "text", "source"} or not all(caution.values()):
            yield f"caution {caution}"
    for figure in data["figures"]:
        yield from _figure_faults(figure)
    yield from _sum_faults(data["figures"])
    if data["status"] == Status.ANSWERED.value and data["topic"] in MINDED:
        missing = {"cook_temperature", "keep_cold"} - {caution["topic"] for caution in data["cautions"]}
        yield from (f"no reminder {topic}" for topic in sorted(missing))
    try:
        json.dumps(data, allow_nan=False)
    except (TypeError, ValueError) as error:
        yield f"no JSON: {error}"


def _figure_faults(figure: Mapping[str, Any]) -> Iterator[str]:
    if not FIGURE_KEYS <= set(figure) <= FIGURE_KEYS | {"fat_percent"}:
        yield f"figure keys {sorted(figure)}"
        return
    said = f"{figure['role']} {figure['name']!r} {figure['value']!r} {figure['unit']!r}"
    if figure["role"] not in [role.value for role in Role] or not figure["name"]:
        yield f"role or name of {said}"
    yield from (f"{problem} of {said}" for problem in _value_faults(figure))


def _value_faults(figure: Mapping[str, Any]) -> Iterator[str]:
    value, unit = figure["value"], figure["unit"]
    if isinstance(value, str):
        if unit not in ("date", "time") or not _is_moment(value):
            yield "moment"
        return
    if isinstance(value, bool) or not isinstance(value, int | float):
        yield f"type {type(value).__name__}"
        return
    numbers = [value, *(figure[key] for key in ("low", "high", "fat_percent") if figure.get(key) is not None)]
    if not all(isinstance(number, int | float) and math.isfinite(number) for number in numbers):
        yield "a number that is none"
        return
    if not _is_unit(unit):
        yield "unit"
    if value < 0 and figure["role"] in NEVER_BELOW_NOTHING:
        yield "less than nothing"
    if unit == "%" and figure["role"] in ("fat", "lean", "yield") and value > 100:
        yield "more than all"
    low, high = figure["low"], figure["high"]
    slack = 1e-6 * max(1.0, abs(value))
    if (low is not None and low > value + slack) or (high is not None and high < value - slack):
        yield f"range {low}..{high}"


def _sum_faults(figures: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Where the parts of a batch do not weigh the batch, or their fat is not its fat."""
    parts = [figure for figure in figures if figure["role"] == "component" and _is_weight(figure["unit"])]
    totals = [figure for figure in figures if figure["role"] == "total" and _is_weight(figure["unit"])]
    fats = [figure for figure in figures if figure["role"] == "fat" and figure["unit"] == "%"]
    grams = [_grams(part) for part in parts]
    if parts and len(totals) == 1 and not math.isclose(sum(grams), _grams(totals[0]), rel_tol=1e-6):
        yield f"parts weigh {sum(grams):.6g} g and the batch {_grams(totals[0]):.6g} g"
    known = [part["fat_percent"] for part in parts if part.get("fat_percent") is not None]
    if parts and sum(grams) and len(fats) == 1 and len(known) == len(parts):
        fat = sum(weight * percent for weight, percent in zip(grams, known, strict=True)) / sum(grams)
        if not math.isclose(fat, fats[0]["value"], rel_tol=1e-6, abs_tol=1e-6):
            yield f"fat of the parts is {fat:.6g} % and that of the batch {fats[0]['value']:.6g} %"


def _is_weight(unit: str) -> bool:
    return _is_unit(unit) and "/" not in unit and unit not in ("%", "count", "1") and _kind(unit) == "mass"


def _kind(unit: str) -> str:
    return "" if unit in CURRENCIES else units.kind(unit)


def _grams(figure: Mapping[str, Any]) -> float:
    return float(units.grams(Fraction(figure["value"]), figure["unit"]))


def _is_moment(text: str) -> bool:
    """Whether it is an ISO 8601 date, time or both."""
    for kind in (date, datetime, day_time):
        try:
            kind.fromisoformat(text)
        except ValueError:
            continue
        return True
    return False


@cache
def _is_unit(unit: str) -> bool:
    """A name of the units table, one over another (g/kg), a currency, or one of the three without a unit."""
    if unit in ("%", "count", "1") or unit in CURRENCIES:
        return True
    try:
        return all(units.kind(name) for name in unit.split("/", 1))
    except BadInput:
        return False
