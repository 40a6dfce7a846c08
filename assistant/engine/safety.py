"""Judging temperatures, hours and days against the published rules. Pure: dates and clocks are handed in.

All figures come from the safety file, with their authority. Where two parts of a batch differ, the stricter rules.
Nothing here gives leave that a spot reading cannot support: no time-and-temperature trade for a home grill.
"""

from __future__ import annotations

import math
from calendar import monthrange
from collections.abc import Collection
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from assistant.data.safety import (
    ANY_COUNTRY,
    COUNTRIES,
    HUNTED,
    Combination,
    Degrees,
    EndpointRow,
    Storage,
    ThawMethod,
    safety_book,
)
from assistant.errors import BadInput

Number = int | float | Fraction

GRAMS_PER_POUND = Fraction("453.59237")
"""Exact (NIST Handbook 44, Appendix C)."""
HALF_DAY_HOURS = 12
"""Thawing in the fridge is told in half-days: finer than that the model does not know."""
LIKELY_THICK_G = 1000
"""A pack of this weight may be a block 50 mm thick (the model's 1 kg block), so without a thickness allow for one."""
MEAT_F = (-100, 1000)
"""Readings outside this are slips of the keyboard, not meat."""


# --------------------------------------------------------------------------------------- how hot


class Endpoint(Struct, frozen=True):
    """How hot the middle must be.

    f, c: as the authority prints them. hold_seconds: how long to stay there (0: as soon as it reads so).
    rest_minutes: off the heat before cutting. why: the species that decided, or "hunted"; row: its key in the file.
    also: pairs of temperature and time that the country's own agency calls equal.
    """

    f: Fraction
    c: Fraction
    hold_seconds: int
    rest_minutes: int
    authority: str
    checked: str
    why: str
    row: str
    also: tuple[Combination, ...]


class Judgement(Struct, frozen=True):
    """A thermometer reading against what is needed.

    short_by_f: degrees F still missing, 0 where enough. hold_seconds: how long to keep it there (0: not at all).
    """

    enough: bool
    needed: Endpoint
    short_by_f: Fraction
    hold_seconds: int


def known_species() -> frozenset[str]:
    """Every species that `endpoint` knows, as the cuts file spells them."""
    return frozenset(name for row in safety_book().endpoints.values() for name in row.species) - {HUNTED}


def endpoint(species: Collection[str], country: str = "us", *, hunted: bool = False, ground: bool = True) -> Endpoint:
    """The strictest temperature that any part of the batch needs.

    species: one or more of `known_species()`; country: us, uk, ie, ca, au or nz; hunted: some of it is wild game from
    the field. A whole cut without a figure of its own gets the ground one, which is never lower.
    Raises BadInput for an empty or unknown species and for an unknown country.
    Source: the endpoint rows of the safety file (USDA FSIS, FSA, FSAI, Health Canada, FSIC, MPI).
    """
    if country not in COUNTRIES:
        raise BadInput("country", country, f"one of {', '.join(COUNTRIES)}")
    if not species:
        raise BadInput("species", species, "at least one species")
    parts = [*sorted(species), *([HUNTED] if hunted else [])]
    deciding = [(row, part) for part in parts for row in _rows_for(part, country, ground=ground)]
    row, why = max(deciding, key=lambda pair: _strictness(pair[0]))
    return Endpoint(
        f=row.at.f,
        c=row.at.c,
        hold_seconds=row.hold_seconds,
        rest_minutes=row.rest_minutes,
        authority=row.source,
        checked=row.checked,
        why=why,
        row=row.key,
        also=tuple(pair for pair in safety_book().combinations.values() if pair.place == country),
    )


def judge_temperature(
    f: Number, species: Collection[str], country: str = "us", *, hunted: bool = False, ground: bool = True
) -> Judgement:
    """Whether a reading of f degrees Fahrenheit in the middle is enough.

    Raises BadInput as `endpoint` does, and for a reading that is no temperature of meat.
    """
    reading = _number("f", f)
    if not MEAT_F[0] <= reading <= MEAT_F[1]:
        raise BadInput("f", f, f"a reading between {MEAT_F[0]} and {MEAT_F[1]} F")
    needed = endpoint(species, country, hunted=hunted, ground=ground)
    enough = reading >= needed.f
    hold = needed.hold_seconds
    if hold:
        hold = min([hold, *(pair.seconds for pair in needed.also if needed.f <= pair.at.f <= reading)])
    return Judgement(enough, needed, max(Fraction(0), needed.f - reading), hold)


def cook_caution(species: Collection[str], country: str = "us", *, hunted: bool = False) -> str:
    """The key of the cook_temperature reminder that fits a ground batch, for example "cook_temperature.poultry".

    Raises BadInput as `endpoint` does.
    """
    needed = endpoint(species, country, hunted=hunted)
    book = safety_book()
    if country != "us" and book.endpoints[needed.row].country == country:
        return f"cook_temperature.{country}"
    if needed.row == "any_ground_hunted":
        return "cook_temperature.hunted"
    if needed.row == "any_stuffed":
        return "cook_temperature.stuffed"
    if needed.row == "any_ground_poultry":
        return "cook_temperature.poultry"
    if set(species) & set(book.endpoints["us_ground_game"].species):
        return "cook_temperature.game"
    return "cook_temperature.beef" if set(species) == {"beef"} else "cook_temperature.red"


def licensed_combinations() -> tuple[Combination, ...]:
    """Temperature and time pairs for a licensed kitchen with records; never advice for a home pan or grill.

    Source: FDA Food Code 2022, 3-401.11.
    """
    return tuple(pair for pair in safety_book().combinations.values() if pair.place == "licensed kitchen")


def _rows_for(part: str, country: str, *, ground: bool) -> list[EndpointRow]:
    """The rows that bind one species (or "hunted") in one country: its own figure and the floors of every country."""
    rows = [row for row in safety_book().endpoints.values() if part in row.species]
    if not rows:
        raise BadInput("species", part, f"one of {', '.join(sorted(known_species()))}")
    forms = ("ground",) if ground else ("whole", "ground")
    own = [[row for row in rows if row.country == country and row.form == form] for form in forms]
    floors = [row for row in rows if row.country == ANY_COUNTRY]
    return next((found for found in own if found), []) + floors


def _strictness(row: EndpointRow) -> tuple[Fraction, int, int]:
    return row.at.f, row.hold_seconds, row.rest_minutes


# --------------------------------------------------------------------------------------- out of the fridge


class Out(StrEnum):
    """Meat out of the fridge."""

    FINE_SO_FAR = "fine_so_far"
    THROW_AWAY = "throw_away"


class OutOfFridge(Struct, frozen=True):
    """Minutes out against the limit. left_minutes: until the limit, 0 where it has passed.

    hot_day: the one-hour limit applies. ambient_known: false means that the two hours assume no hot day.
    """

    verdict: Out
    limit_minutes: int
    left_minutes: Fraction
    hot_day: bool
    ambient_known: bool
    authority: str


def out_of_fridge(minutes: Number, ambient_f: Number | None = None) -> OutOfFridge:
    """The two-hour rule, one hour above 90 F (32 C). minutes: all the time out so far, added up.

    Raises BadInput for a negative or endless time and for an impossible ambient temperature. Source: USDA FSIS.
    """
    spent = _not_negative("minutes", minutes)
    hot = ambient_f is not None and _meat_f("ambient_f", ambient_f) > safety_book().temperatures["hot_day"].at.f
    limit = safety_book().figures["out_of_fridge_hot_day" if hot else "out_of_fridge"]
    limit_minutes = int(limit.value * 60)
    return OutOfFridge(
        verdict=Out.THROW_AWAY if spent > limit_minutes else Out.FINE_SO_FAR,
        limit_minutes=limit_minutes,
        left_minutes=max(Fraction(0), limit_minutes - spent),
        hot_day=hot,
        ambient_known=ambient_f is not None,
        authority=limit.source,
    )


# --------------------------------------------------------------------------------------- how long it keeps


class Where(StrEnum):
    """Where food is kept."""

    FRIDGE = "fridge"
    FREEZER = "freezer"


class Keeps(Struct, frozen=True):
    """How long a food keeps. low..high in `unit` ("day" or "month").

    counts: false where the fridge or freezer is warmer than `limit`, and then low and high are None: no figure holds.
    """

    food: str
    where: Where
    low: int | None
    high: int | None
    unit: str
    counts: bool
    limit: Degrees
    authority: str
    checked: str
    note: str


def keeps(food: str, where: Where | str, at_f: Number | None = None) -> Keeps:
    """Days in the fridge or months in the freezer (for quality only).

    food: a key or name of the storage rows, for example "ground meat"; at_f: what the fridge or freezer reads.
    Raises BadInput for an unknown food or place. Source: FoodSafety.gov Cold Food Storage Chart.
    """
    row, place = _stored(food), _where(where)
    chilled = place is Where.FRIDGE
    limit = safety_book().temperatures["fridge_max" if chilled else "freezer_max"].at
    counts = at_f is None or _meat_f("at_f", at_f) <= limit.f
    low, high = (row.days_low, row.days_high) if chilled else (row.months_low, row.months_high)
    return Keeps(
        food=row.key,
        where=place,
        low=low if counts else None,
        high=high if counts else None,
        unit="day" if chilled else "month",
        counts=counts,
        limit=limit,
        authority=row.source,
        checked=row.checked,
        note=row.note,
    )


def use_by(start: date, food: str, where: Where | str, at_f: Number | None = None) -> tuple[date, date]:
    """The first and the last date to use it by, counted from the day it was ground, bought or frozen.

    A month ends on the last day of a shorter month: 31 January and one month is 28 or 29 February.
    Raises BadInput as `keeps` does, where the fridge is too warm for any date, and past the end of the calendar.
    """
    kept = keeps(food, where, at_f)
    if kept.low is None or kept.high is None:
        raise BadInput("at_f", at_f, f"{kept.limit.f} F or colder")
    try:
        if kept.unit == "day":
            return start + timedelta(days=kept.low), start + timedelta(days=kept.high)
        return _months_on(start, kept.low), _months_on(start, kept.high)
    except (OverflowError, ValueError) as fault:
        raise BadInput("start", start, "a date well before the end of the calendar") from fault


def _stored(food: str) -> Storage:
    book = safety_book()
    key = book.storage_names.get(food.strip().lower())
    if key is None:
        raise BadInput("food", food, f"one of {', '.join(book.storage)}")
    return book.storage[key]


def _where(where: Where | str) -> Where:
    try:
        return Where(where)
    except ValueError as fault:
        raise BadInput("where", where, f"one of {', '.join(Where)}") from fault


def _months_on(start: date, months: int) -> date:
    years, month = divmod(start.month - 1 + months, 12)
    year = start.year + years
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1]))


# --------------------------------------------------------------------------------------- thawing


class Thawing(Struct, frozen=True):
    """How long a pack takes to thaw, in hours; None where the method is not allowed or is no thawing at all.

    may_be_thick: no thickness was given and the pack is heavy enough to be a thick block, so `high` allows for one
    (in the fridge; in water a thick block can take longer than `high`).
    """

    method: ThawMethod
    low_hours: Fraction | None
    high_hours: Fraction | None
    may_be_thick: bool


class TakeOut(Struct, frozen=True):
    """When to move a pack from the freezer to the fridge.

    best: surely thawed by then. low: the earliest, so that thawed meat waits no longer than its 1 to 2 days.
    high: the latest that the published rule allows. split: one block of this size cannot meet both; make flat packs.
    """

    best: datetime
    low: datetime
    high: datetime
    thawing: Thawing
    split: bool


def thaw(mass_g: Number, method: str = "fridge", thickness_mm: Number | None = None) -> Thawing:
    """Hours to thaw one pack of ground meat, from the published rules, lengthened (never shortened) for thick packs.

    method: a key of the thaw rows: "fridge", "cold water", "microwave", "counter", "hot water", "cook from frozen".
    Fridge: 24 hours per 4 to 5 lb, a day at least, a day more over 50 mm, rounded up to half-days. Water: 30 minutes a
    pound at least; an hour for a pound and 2 to 3 hours for 3 to 4 lb, on straight lines between. Microwave: 3 minutes
    a pound. Raises BadInput for a mass or thickness that is not above zero and for an unknown method.
    Source: USDA FSIS through University of Illinois Extension; thickness by the heat-flow model of the safety file.
    """
    pounds = _positive("mass_g", mass_g) / GRAMS_PER_POUND
    thickness = None if thickness_mm is None else _positive("thickness_mm", thickness_mm)
    row = safety_book().thaw.get(method)
    if row is None:
        raise BadInput("method", method, f"one of {', '.join(safety_book().thaw)}")
    heavy = thickness is None and pounds * GRAMS_PER_POUND >= LIKELY_THICK_G
    if method == "fridge":
        low, high = _fridge_hours(pounds, thickness, may_be_thick=heavy)
        return Thawing(row, low, high, heavy)
    if method == "cold water":
        low, high = _water_hours(pounds, thickness)
        return Thawing(row, low, high, heavy)
    if method == "microwave":
        hours = _figure("thaw_microwave_per_pound") * pounds / 60
        return Thawing(row, hours, hours, heavy)
    return Thawing(row, None, None, heavy)


def take_out(ready: datetime, mass_g: Number, thickness_mm: Number | None = None) -> TakeOut:
    """When to move a pack from the freezer to the fridge so that it is thawed at `ready`, naive or aware.

    Hours are real hours: over a clock change an aware moment moves by the hours that pass.
    Raises BadInput as `thaw` does, and where the answer falls before the calendar starts.
    """
    thawing = thaw(mass_g, "fridge", thickness_mm)
    assert thawing.low_hours is not None
    assert thawing.high_hours is not None
    waits = safety_book().figures["thawed_keeps_ground"].high or Fraction(0)
    earliest = thawing.low_hours + waits * 24
    longest = min(thawing.high_hours, earliest)
    return TakeOut(
        best=hours_before(ready, longest),
        low=hours_before(ready, earliest),
        high=hours_before(ready, thawing.low_hours),
        thawing=thawing,
        split=thawing.high_hours > earliest,
    )


def hours_before(moment: datetime, hours: Fraction) -> datetime:
    """The moment so many real hours earlier, in the same zone. Raises BadInput before the calendar starts."""
    span = timedelta(seconds=float(hours * 3600))
    try:
        if moment.tzinfo is None:
            return moment - span
        return (moment.astimezone(UTC) - span).astimezone(moment.tzinfo)
    except OverflowError as fault:
        raise BadInput("moment", moment, "a moment well after the start of the calendar") from fault


def _fridge_hours(pounds: Fraction, thickness: Fraction | None, *, may_be_thick: bool) -> tuple[Fraction, Fraction]:
    per_day = safety_book().figures["thaw_fridge_day_pounds"]
    least = _figure("thaw_fridge_least")
    low = max(least, 24 * pounds / (per_day.high or per_day.value))
    high = max(least, 24 * pounds / per_day.value)
    if may_be_thick or (thickness is not None and thickness > _figure("thaw_block_thick")):
        high += 24
    if thickness is not None:
        high = max(high, _model(thickness, water=False))
    return _half_days(low), _half_days(high)


def _water_hours(pounds: Fraction, thickness: Fraction | None) -> tuple[Fraction, Fraction]:
    """Low: 30 minutes a pound, bent up to 2 hours at 3 lb. High: an hour for a pound, in line to 3 hours at 4 lb."""
    per_pound, one = _figure("thaw_water_per_pound"), _figure("thaw_water_one_pound")
    bigger = safety_book().figures["thaw_water_three_to_four_pounds"]
    last = bigger.high or bigger.value
    low = max(per_pound * pounds, min(bigger.value, per_pound + (bigger.value - per_pound) * (pounds - 1) / 2)) / 60
    high = max(one, one + (last - one) * (pounds - 1) / 3) / 60
    if thickness is not None:
        high = max(high, _model(thickness, water=True))
    return low, high


def _model(thickness: Fraction, *, water: bool) -> Fraction:
    """Slow end of the heat-flow model in hours: straight between rows, then with the square of thickness."""
    rows = safety_book().thaw_model
    points = [(row.thickness_mm, row.water_minutes / 60 if water else row.fridge_hours) for row in rows]
    for (thin, soon), (thick, late) in pairwise(points):
        if thickness <= thick:
            return soon + (late - soon) * max(Fraction(0), thickness - thin) / (thick - thin)
    thickest, latest = points[-1]
    return latest * (thickness / thickest) ** 2


def _half_days(hours: Fraction) -> Fraction:
    return Fraction(math.ceil(hours / HALF_DAY_HOURS) * HALF_DAY_HOURS)


# --------------------------------------------------------------------------------------- freezing again, leftovers


class Refreeze(StrEnum):
    """What may be done with thawed raw meat."""

    MAY = "may"
    COOK_FIRST = "cook_first"
    THROW_AWAY = "throw_away"


class AfterCut(StrEnum):
    """Food after a power cut."""

    KEEP = "keep"
    CHECK_EACH = "check_each"
    THROW_AWAY = "throw_away"


class PowerCut(Struct, frozen=True):
    """A power cut of some hours against how long a shut fridge or freezer holds. left_hours: 0 where it has passed."""

    verdict: AfterCut
    limit_hours: Fraction
    left_hours: Fraction
    authority: str


def refreeze(
    how_thawed: str, minutes_out: Number | None = 0, ambient_f: Number | None = None, country: str = "us"
) -> Refreeze:
    """Whether thawed raw meat may be frozen again.

    how_thawed: a key of the thaw rows; minutes_out: time out of the fridge in all, None where nobody knows.
    In the UK never raw. Meat thawed on the counter or in hot water for an unknown time is thrown away.
    Raises BadInput for an unknown method or country. Source: USDA FSIS; Food Standards Agency.
    """
    row = safety_book().thaw.get(how_thawed)
    if row is None or how_thawed == "cook from frozen":
        raise BadInput("how_thawed", how_thawed, "fridge, cold water, microwave, counter or hot water")
    if country not in COUNTRIES:
        raise BadInput("country", country, f"one of {', '.join(COUNTRIES)}")
    if minutes_out is None:
        return Refreeze.THROW_AWAY
    if out_of_fridge(minutes_out, ambient_f).verdict is Out.THROW_AWAY:
        return Refreeze.THROW_AWAY
    if row.refreeze_raw and country != "uk":
        return Refreeze.MAY
    if not row.allowed and not minutes_out:
        raise BadInput("minutes_out", minutes_out, "the time on the counter or in hot water, or None where not known")
    return Refreeze.COOK_FIRST


def power_cut(hours: Number, place: str, food_f: Number | None = None, *, icy: bool = False) -> PowerCut:
    """Raw meat after a power cut of `hours` with the door shut.

    place: "fridge", "freezer_full" or "freezer_half"; food_f: what the meat reads, if measured; icy: it still holds ice
    crystals. A reading decides before the clock does: above 40 F (4 C) it goes, once the cut passed the 2-hour rule.
    Raises BadInput for negative hours or an unknown place. Source: USDA FSIS; FDA.
    """
    lasted = _not_negative("hours", hours)
    limit = safety_book().figures.get(f"power_cut_{place}")
    if limit is None:
        raise BadInput("place", place, "fridge, freezer_full or freezer_half")
    cold = safety_book().temperatures["fridge_max"].at.f
    reading = None if food_f is None else _meat_f("food_f", food_f)
    if reading is not None:
        warm_long = reading > cold and lasted > _figure("out_of_fridge")
        verdict = AfterCut.THROW_AWAY if warm_long else AfterCut.KEEP
    elif icy or lasted <= limit.value:
        verdict = AfterCut.KEEP
    else:
        verdict = AfterCut.THROW_AWAY if place == "fridge" else AfterCut.CHECK_EACH
    return PowerCut(verdict, limit.value, max(Fraction(0), limit.value - lasted), limit.source)


# --------------------------------------------------------------------------------------- numbers handed in


def _figure(key: str) -> Fraction:
    return safety_book().figures[key].value


def _number(argument: str, value: Number) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, (int, float, Fraction)):
        raise BadInput(argument, value, "a number")
    if isinstance(value, float) and not math.isfinite(value):
        raise BadInput(argument, value, "a finite number")
    return Fraction(value)


def _not_negative(argument: str, value: Number) -> Fraction:
    number = _number(argument, value)
    if number < 0:
        raise BadInput(argument, value, "zero or more")
    return number


def _positive(argument: str, value: Number) -> Fraction:
    number = _number(argument, value)
    if number <= 0:
        raise BadInput(argument, value, "more than zero")
    return number


def _meat_f(argument: str, value: Number) -> Fraction:
    number = _number(argument, value)
    if not MEAT_F[0] <= number <= MEAT_F[1]:
        raise BadInput(argument, value, f"a temperature between {MEAT_F[0]} and {MEAT_F[1]} F")
    return number
