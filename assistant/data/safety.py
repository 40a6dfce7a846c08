"""Food-safety facts: how hot, how cold, how long, who is at risk, and the reminders that go with an answer.

Each row names its authority in `source`; `checked` says how far the figure was confirmed. Figures are exact; a
temperature is the F and the C that the authority prints, so the two may differ by rounding of less than a degree.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import TypeVar

from msgspec import Struct

from assistant import built
from assistant.data.tables import Row, Table, read_text
from assistant.pattern import Pattern

FILE = "safety.toml"
COUNTRIES = ("us", "uk", "ie", "ca", "au", "nz")
ANY_COUNTRY = "any"
HUNTED = "hunted"
FORMS = frozenset({"ground", "whole"})
PLACES = frozenset({"licensed kitchen", *COUNTRIES})
FOODS = frozenset({"ground meat", "poultry"})
CONFIRMED = ("found", "from memory", "computed", "common practice, no source")
CAUTION_MOST = 160
"""Characters: two lines on a phone-sized terminal, so that a reminder is read and not skipped."""

_PAIR = Pattern(r"(-?\d+) F / (-?\d+) C")
_Kind = TypeVar("_Kind")


class Degrees(Struct, frozen=True):
    """One temperature as printed by its authority: whole degrees Fahrenheit and Celsius."""

    f: Fraction
    c: Fraction


class EndpointRow(Struct, frozen=True):
    """How hot the middle of some species' meat must be in one country ("any": a floor in all of them).

    form: "ground" or "whole". hold_seconds: how long to stay there; rest_minutes: off the heat before cutting.
    """

    key: str
    country: str
    form: str
    species: tuple[str, ...]
    at: Degrees
    hold_seconds: int
    rest_minutes: int
    source: str
    checked: str
    note: str


class Combination(Struct, frozen=True):
    """A temperature that counts when held for some seconds. place: "licensed kitchen" or a country."""

    key: str
    place: str
    food: str
    at: Degrees
    seconds: int
    source: str
    checked: str
    note: str


class Temperature(Struct, frozen=True):
    """Any other temperature, by its key."""

    key: str
    at: Degrees
    source: str
    checked: str


class SafetyFigure(Struct, frozen=True):
    """A time, count or mix. high is None where the source gives one number. unit: a pint unit, "%", "ppm", "1 in"."""

    key: str
    value: Fraction
    high: Fraction | None
    unit: str
    source: str
    checked: str
    note: str


class Storage(Struct, frozen=True):
    """How long a food keeps: days in a fridge at 40 F (4 C) or below, months at 0 F (-18 C) for quality only."""

    key: str
    names: tuple[str, ...]
    days_low: int
    days_high: int
    months_low: int
    months_high: int
    source: str
    checked: str
    note: str


class ThawMethod(Struct, frozen=True):
    """A way of thawing and what it permits afterwards. change_water_minutes is None where there is no water."""

    key: str
    allowed: bool
    cook_at_once: bool
    refreeze_raw: bool
    change_water_minutes: int | None
    source: str
    checked: str
    note: str


class ThawModel(Struct, frozen=True):
    """The longest a flat pack of this thickness takes by the heat-flow model, to lengthen the published rule with."""

    key: str
    thickness_mm: Fraction
    fridge_hours: Fraction
    water_minutes: Fraction
    source: str
    checked: str


class PattyFreeze(Struct, frozen=True):
    """Hours for patties to freeze by the heat-flow model: quick, middle and slow for the stillness of the air.

    stack: how many lie on top of one another; at: the freezer.
    """

    key: str
    thickness_mm: Fraction
    stack: int
    at: Degrees
    hours: tuple[Fraction, Fraction, Fraction]
    source: str
    checked: str


class Trichina(Struct, frozen=True):
    """Freezing that kills Trichinella in pork (never in game): pieces so thick at most, so cold, for so many days."""

    key: str
    thickness_in: Fraction
    at: Degrees
    days: int
    source: str
    checked: str


class Plate(Struct, frozen=True):
    """A grinder plate: its holes in mm (None for the kidney plate) and what it is for."""

    key: str
    mm: Fraction | None
    use: str
    source: str
    checked: str


class GrinderSize(Struct, frozen=True):
    """A trade number and the diameter of its plates in mm."""

    key: str
    mm: Fraction
    source: str
    checked: str


class RiskGroup(Struct, frozen=True):
    """People who must not be served undercooked ground meat."""

    key: str
    who: str
    source: str
    checked: str


class Allergens(Struct, frozen=True):
    """A list of allergens: those of a country, or those that one ingredient may hold."""

    key: str
    names: tuple[str, ...]
    source: str
    checked: str


class Rule(Struct, frozen=True):
    """One rule in words, by topic."""

    key: str
    topic: str
    text: str
    source: str
    checked: str


class CautionText(Struct, frozen=True):
    """A reminder ready to print. key: the topic, or topic.variant; topic: what the answer's caution is filed under."""

    key: str
    topic: str
    text: str
    source: str


class SafetyBook(Struct, frozen=True):
    """The whole file, each section by key, thaw_model in order of thickness.

    storage_names maps every name of a food, lower case, to its row's key.
    """

    endpoints: Mapping[str, EndpointRow]
    combinations: Mapping[str, Combination]
    temperatures: Mapping[str, Temperature]
    figures: Mapping[str, SafetyFigure]
    storage: Mapping[str, Storage]
    storage_names: Mapping[str, str]
    thaw: Mapping[str, ThawMethod]
    thaw_model: tuple[ThawModel, ...]
    patty_freeze: tuple[PattyFreeze, ...]
    trichina: Mapping[str, Trichina]
    plates: Mapping[str, Plate]
    grinder_sizes: Mapping[str, GrinderSize]
    at_risk: Mapping[str, RiskGroup]
    allergens: Mapping[str, Allergens]
    holds: Mapping[str, Allergens]
    rules: Mapping[str, Rule]
    cautions: Mapping[str, CautionText]

    def rules_on(self, topic: str) -> tuple[Rule, ...]:
        """The rules of one topic, in the order of the file; none where the topic is unknown."""
        return tuple(rule for rule in self.rules.values() if rule.topic == topic)


SECTIONS = (
    "endpoint",
    "combination",
    "temperature",
    "figure",
    "storage",
    "thaw",
    "thaw_model",
    "patty_freeze",
    "trichina",
    "plate",
    "grinder_size",
    "at_risk",
    "allergens",
    "holds",
    "rule",
    "caution",
)


@built.kept("safety", SafetyBook)
def safety_book() -> SafetyBook:
    """The project's own safety file, read once. Raises BadTable where the file is wrong."""
    return parse_safety(read_text(FILE))


def parse_safety(text: str, file: str = FILE) -> SafetyBook:
    """The safety file's text as a SafetyBook. Raises BadTable for the first row that is wrong."""
    table = Table(file, text, SECTIONS)
    storage = _section(table, "storage", _storage)
    return SafetyBook(
        endpoints=_section(table, "endpoint", _endpoint),
        combinations=_section(table, "combination", _combination),
        temperatures=_section(table, "temperature", _temperature),
        figures=_section(table, "figure", _figure),
        storage=storage,
        storage_names=_names(file, storage),
        thaw=_section(table, "thaw", _thaw),
        thaw_model=tuple(_section(table, "thaw_model", _thaw_model).values()),
        patty_freeze=tuple(_section(table, "patty_freeze", _patty_freeze).values()),
        trichina=_section(table, "trichina", _trichina),
        plates=_section(table, "plate", _plate),
        grinder_sizes=_section(table, "grinder_size", _grinder_size),
        at_risk=_section(table, "at_risk", _risk_group),
        allergens=_section(table, "allergens", lambda row: _allergens(row, "names")),
        holds=_section(table, "holds", lambda row: _allergens(row, "allergens")),
        rules=_section(table, "rule", _rule),
        cautions=_section(table, "caution", _caution),
    )


def _section(table: Table, section: str, read: Callable[[Row], _Kind]) -> Mapping[str, _Kind]:
    found: dict[str, _Kind] = {}
    for row in table.rows(section):
        found[row.key] = read(row)
        row.done()
    return MappingProxyType(found)


def _degrees(row: Row) -> Degrees:
    """A "160 F / 71 C" pair; the two must be the same temperature to the nearest whole degree."""
    written = row.text("at")
    match = _PAIR.fullmatch(written)
    if not match:
        raise row.bad("at", f"{written!r} is not written like 160 F / 71 C")
    f, c = (Fraction(figure) for figure in match.groups())
    if abs((f - 32) * 5 / 9 - c) > Fraction(1, 2):
        raise row.bad("at", f"{written!r} names two different temperatures")
    return Degrees(f, c)


def _count(row: Row, field: str, default: int | None = None) -> int:
    """A whole number of zero or more."""
    value = row.number(field) if default is None else row.maybe(field)
    if value is None:
        return default or 0
    if value.denominator != 1:
        raise row.bad(field, f"must be a whole number, is {value}")
    return int(value)


def _span(row: Row, low: str, high: str) -> tuple[int, int]:
    first, last = _count(row, low), _count(row, high)
    if first > last:
        raise row.bad(high, f"is below {low}")
    return first, last


def _checked(row: Row) -> str:
    checked = row.text("checked")
    if not checked.startswith(CONFIRMED):
        raise row.bad("checked", f"must start with one of {', '.join(CONFIRMED)}")
    return checked


def _endpoint(row: Row) -> EndpointRow:
    return EndpointRow(
        key=row.key,
        country=row.choice("country", {*COUNTRIES, ANY_COUNTRY}),
        form=row.choice("form", FORMS),
        species=row.words("species"),
        at=_degrees(row),
        hold_seconds=_count(row, "hold_seconds", 0),
        rest_minutes=_count(row, "rest_minutes", 0),
        source=row.text("source"),
        checked=_checked(row),
        note=row.text("note", ""),
    )


def _combination(row: Row) -> Combination:
    return Combination(
        key=row.key,
        place=row.choice("place", PLACES),
        food=row.choice("food", FOODS),
        at=_degrees(row),
        seconds=_count(row, "seconds"),
        source=row.text("source"),
        checked=_checked(row),
        note=row.text("note", ""),
    )


def _temperature(row: Row) -> Temperature:
    return Temperature(row.key, _degrees(row), row.text("source"), _checked(row))


def _figure(row: Row) -> SafetyFigure:
    value, high = row.number("value"), row.maybe("high")
    if high is not None and high < value:
        raise row.bad("high", "is below value")
    return SafetyFigure(
        key=row.key,
        value=value,
        high=high,
        unit=row.text("unit"),
        source=row.text("source"),
        checked=_checked(row),
        note=row.text("note", ""),
    )


def _storage(row: Row) -> Storage:
    days_low, days_high = _span(row, "days_low", "days_high")
    months_low, months_high = _span(row, "months_low", "months_high")
    return Storage(
        key=row.key,
        names=row.words("names"),
        days_low=days_low,
        days_high=days_high,
        months_low=months_low,
        months_high=months_high,
        source=row.text("source"),
        checked=_checked(row),
        note=row.text("note", ""),
    )


def _names(file: str, storage: Mapping[str, Storage]) -> Mapping[str, str]:
    """Every name of a stored food to its key; a name with two owners would depend on the order of the file."""
    owners: dict[str, str] = {}
    for row in storage.values():
        for name in (row.key, *row.names):
            if name != name.lower() or name in owners:
                raise Row(file, row.key, {}).bad("names", f"{name!r} is used twice or not lower case")
            owners[name] = row.key
    return MappingProxyType(owners)


def _thaw(row: Row) -> ThawMethod:
    change = row.maybe("change_water_minutes")
    return ThawMethod(
        key=row.key,
        allowed=row.flag("allowed"),
        cook_at_once=row.flag("cook_at_once"),
        refreeze_raw=row.flag("refreeze_raw"),
        change_water_minutes=None if change is None else int(change),
        source=row.text("source"),
        checked=_checked(row),
        note=row.text("note", ""),
    )


def _thaw_model(row: Row) -> ThawModel:
    return ThawModel(
        key=row.key,
        thickness_mm=row.number("thickness_mm"),
        fridge_hours=row.number("fridge_hours"),
        water_minutes=row.number("water_minutes"),
        source=row.text("source"),
        checked=_checked(row),
    )


def _patty_freeze(row: Row) -> PattyFreeze:
    quick, middle, slow = (row.number(field) for field in ("quick_hours", "middle_hours", "slow_hours"))
    if not quick <= middle <= slow:
        raise row.bad("middle_hours", "is not between quick_hours and slow_hours")
    return PattyFreeze(
        key=row.key,
        thickness_mm=row.number("thickness_mm"),
        stack=_count(row, "stack"),
        at=_degrees(row),
        hours=(quick, middle, slow),
        source=row.text("source"),
        checked=_checked(row),
    )


def _trichina(row: Row) -> Trichina:
    return Trichina(
        key=row.key,
        thickness_in=row.number("thickness_in"),
        at=_degrees(row),
        days=_count(row, "days"),
        source=row.text("source"),
        checked=_checked(row),
    )


def _plate(row: Row) -> Plate:
    return Plate(row.key, row.maybe("mm"), row.text("use"), row.text("source"), _checked(row))


def _grinder_size(row: Row) -> GrinderSize:
    return GrinderSize(row.key, row.number("mm"), row.text("source"), _checked(row))


def _risk_group(row: Row) -> RiskGroup:
    return RiskGroup(row.key, row.text("who"), row.text("source"), _checked(row))


def _allergens(row: Row, field: str) -> Allergens:
    return Allergens(row.key, row.words(field), row.text("source"), _checked(row))


def _rule(row: Row) -> Rule:
    return Rule(row.key, row.text("topic"), row.text("text"), row.text("source"), _checked(row))


def _caution(row: Row) -> CautionText:
    text = row.text("text")
    if len(text) > CAUTION_MOST:
        raise row.bad("text", f"is {len(text)} characters long, and {CAUTION_MOST} are allowed")
    return CautionText(key=row.key, topic=row.key.partition(".")[0], text=text, source=row.text("source"))
