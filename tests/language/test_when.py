"""Clock times and dates as people type them; a day that no calendar has is none."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.phrases import Moment
from assistant.language.sentence import read
from assistant.language.when import Day

FRIDAY = date(2027, 6, 18)


def moments(typed: str) -> list[Moment]:
    """All moments of a line."""
    return read(typed).of(Moment)


@pytest.mark.parametrize(
    ("typed", "clock"),
    [
        ("1:15 pm", time(13, 15)),
        ("1:15pm", time(13, 15)),
        ("1.15 pm", time(13, 15)),
        ("1:15 p.m.", time(13, 15)),
        ("12:30 am", time(0, 30)),
        ("12:30 pm", time(12, 30)),
        ("12 am", time(0)),
        ("12 pm", time(12)),
        ("6pm", time(18)),
        ("6 AM", time(6)),
        ("18:30", time(18, 30)),
        ("18:30 pm", time(18, 30)),
        ("00:00", time(0)),
        ("23:59", time(23, 59)),
        ("noon", time(12)),
        ("midday", time(12)),
        ("midnight", time(0)),
        ("6 o'clock", time(6)),
        ("6 o’clock", time(6)),
    ],
)
def test_clock_times(typed: str, clock: time) -> None:
    (moment,) = moments(typed)
    assert moment.clock == clock


@pytest.mark.parametrize("typed", ["24:99", "31 o'clock", "25:00 pm", "99:99 pm", "13:75", "13:00 am"])
def test_what_no_clock_shows_is_no_moment(typed: str) -> None:
    assert moments(typed) == []


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("Saturday 19 June 2027", date(2027, 6, 19)),
        ("19 June 2027", date(2027, 6, 19)),
        ("June 19, 2027", date(2027, 6, 19)),
        ("19th of June 2027", date(2027, 6, 19)),
        ("the 19th of June", date(2027, 6, 19)),
        ("June 19th", date(2027, 6, 19)),
        ("19 Jun", date(2027, 6, 19)),
        ("2027-06-19", date(2027, 6, 19)),
        ("the 4th of July", date(2027, 7, 4)),
        ("17 June", date(2028, 6, 17)),
        ("today", FRIDAY),
        ("tomorrow", date(2027, 6, 19)),
        ("yesterday", date(2027, 6, 17)),
        ("Friday", FRIDAY),
        ("Saturday", date(2027, 6, 19)),
        ("thursday", date(2027, 6, 24)),
    ],
)
def test_dates_seen_from_a_friday(typed: str, day: date) -> None:
    (moment,) = moments(typed)
    assert moment.day is not None
    assert moment.day.on(FRIDAY) == day


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("last thursday", date(2027, 6, 17)),
        ("last friday", date(2027, 6, 11)),
        ("thursday", date(2027, 6, 17)),
        ("17 June", date(2027, 6, 17)),
        ("19 June", date(2026, 6, 19)),
    ],
)
def test_dates_that_are_over(typed: str, day: date) -> None:
    (moment,) = moments(typed)
    assert moment.day is not None
    assert moment.day.on(FRIDAY, past=True) == day


@pytest.mark.parametrize("typed", ["31 June", "30 February 2027", "2027-02-30", "29 February 2027"])
def test_a_day_that_no_calendar_has_is_never_another_day(typed: str) -> None:
    assert all(moment.day is None or moment.day.on(FRIDAY) is None for moment in moments(typed))


def test_a_leap_day_is_found_in_a_leap_year() -> None:
    assert Day(day=29, month=2).on(date(2027, 6, 18)) == date(2028, 2, 29)


def test_sat_out_is_no_saturday() -> None:
    assert moments("it sat out for an hour") == []


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_a_date_in_full_is_that_date(day: date) -> None:
    for typed in (day.isoformat(), f"{day.day} {day:%B} {day.year}", f"{day:%B} {day.day}, {day.year}"):
        (moment,) = moments(typed)
        assert moment.day is not None
        assert moment.day.on(FRIDAY) == day


@given(st.times().map(lambda clock: clock.replace(second=0, microsecond=0)))
def test_a_clock_time_in_either_manner_is_that_time(clock: time) -> None:
    for typed in (f"{clock:%H:%M}", f"{clock:%I:%M} {clock:%p}"):
        (moment,) = moments(typed)
        assert moment.clock == clock


@given(st.integers(0, 6), st.dates(date(2020, 1, 1), date(2040, 1, 1)))
def test_a_weekday_lies_within_the_week_ahead(weekday: int, today: date) -> None:
    coming, gone = Day(weekday=weekday).on(today), Day(weekday=weekday).on(today, past=True)
    assert coming is not None
    assert gone is not None
    assert coming.weekday() == gone.weekday() == weekday
    assert 0 <= (coming - today).days < 7
    assert 0 <= (today - gone).days < 7
