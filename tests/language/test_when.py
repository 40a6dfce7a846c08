"""Clock times and dates as people type them; a day that no calendar has is none."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import Conversation, Status
from assistant.language.numbers import ONES
from assistant.language.phrases import Moment
from assistant.language.sentence import read
from assistant.language.when import DAY_FIRST, MONTH_FIRST, Day

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


@pytest.mark.parametrize(
    ("typed", "clock", "loose"),
    [
        ("one o'clock", time(1), True),
        ("six oclock", time(6), True),
        ("half past six", time(6, 30), True),
        ("half past 6", time(6, 30), True),
        ("half past six, 16 people", time(6, 30), True),  # a comma and a blank: no decimal
        ("half past six pm", time(18, 30), False),
        ("half past six in the evening", time(18, 30), False),
        ("out since half six", time(6, 30), True),
        ("a quarter to seven", time(6, 45), True),
        ("quarter past nine", time(9, 15), True),
        ("ten past 6", time(6, 10), True),
        ("it is ten to seven", time(6, 50), True),
        ("at twenty-five past one", time(1, 25), True),
        ("ten in the morning", time(10), False),
        ("one in the afternoon", time(13), False),
        ("12 at night", time(0), False),
        ("six pm", time(18), False),
        ("6 p.m.", time(18), False),
        ("serve at 6", time(6), True),
        ("serve at 6 on Saturday", time(6), True),
        ("guests arrive by seven", time(7), True),
        ("dinner at six thirty", time(6, 30), True),
        ("the mince is out since 2", time(2), True),
        ("it's four now", time(4), True),
        ("its 4 now", time(4), True),
        ("1:15", time(1, 15), True),
        ("30 people at 7.30, 120 g each", time(7, 30), True),
        ("it's 3.30 now", time(3, 30), True),
        ("from half nine", time(9, 30), True),
        ("13:15", time(13, 15), False),
        ("01:15", time(1, 15), False),
        ("1:15 pm", time(13, 15), False),
    ],
)
def test_clock_times_in_words(typed: str, clock: time, loose: bool) -> None:
    (moment,) = [moment for moment in moments(typed) if moment.clock is not None]
    assert (moment.clock, moment.loose) == (clock, loose)


@pytest.mark.parametrize(
    "typed",
    [
        "ten to twelve patties",
        "chuck at 6",
        "at 6 oz",
        "half six ounce patties",
        "a quarter to a third",
        "half of six pounds",
        "make it 4 now",
        "5 after 6 patties",
        "brisket at 9.50 a kilo",
        "from 10 lb of chuck",
        "by 6",
        "half past 13",
        "half past zero",
        "six to eight people",
        "serve at 6 oz each",
        "chuck at 7.30",
        "7.30 lb",
    ],
)
def test_what_only_looks_like_a_clock_time(typed: str) -> None:
    assert [moment for moment in moments(typed) if moment.clock is not None] == []


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("for the 19th", date(2027, 6, 19)),
        ("on the 17th", date(2027, 7, 17)),
        ("by the 31st", date(2027, 7, 31)),
        ("the day after tomorrow", date(2027, 6, 20)),
        ("25/12/2027", date(2027, 12, 25)),
        ("12/25/2027", date(2027, 12, 25)),
        ("05.05.2028", date(2028, 5, 5)),
        ("for sun", date(2027, 6, 20)),
        ("on 14/8", date(2027, 8, 14)),
        ("on 8/14", date(2027, 8, 14)),
    ],
)
def test_days_seen_from_a_friday_in_figures(typed: str, day: date) -> None:
    (moment,) = moments(typed)
    assert moment.day is not None
    assert moment.day.on(FRIDAY) == day


@pytest.mark.parametrize(
    "typed",
    ["it is in the sun", "my 40th", "the 2nd grind", "60/25/15", "1/2/3", "on 3/4 lb of chuck", "chuck at 14/8"],
)
def test_what_only_looks_like_a_day(typed: str) -> None:
    assert [moment for moment in moments(typed) if moment.day is not None] == []


@pytest.mark.parametrize(("order", "month"), [(DAY_FIRST, 4), (MONTH_FIRST, 3)])
def test_a_date_in_figures_is_read_in_the_order_that_is_set(order: str, month: int) -> None:
    (moment,) = read("03/04/2027", dates=order).of(Moment)
    assert moment.day == Day(day=3 if month == 4 else 4, month=month, year=2027)


def test_a_date_in_figures_that_could_be_two_days_is_asked_about_once(tmp_path: Path) -> None:
    talk = Conversation(notebook_path=tmp_path / "notebook")
    asked = talk.ask("ground beef frozen on 03/04/2026, use by?")
    assert asked.status is Status.NEEDS_DETAIL
    assert "3 April" in asked.message
    assert "4 March" in asked.message
    assert "3 July 2026" in talk.ask("day first").headline
    assert "6 July 2026" in talk.ask("ground beef frozen on 06/04/2026, use by?").headline


@given(st.integers(1, 12), st.sampled_from([("half past", 30), ("quarter past", 15), ("quarter to", -15)]))
def test_an_hour_in_words_and_in_digits_is_the_same(hour: int, part: tuple[str, int]) -> None:
    word = next(name for name, value in ONES.items() if value == hour)
    expected = (hour * 60 + part[1]) % 1440
    for said in (word, str(hour)):
        (moment,) = moments(f"{part[0]} {said}")
        assert moment.clock == time(expected // 60, expected % 60)


def test_a_day_that_says_nothing_and_one_that_no_month_has_are_no_day() -> None:
    assert Day(month=6).on(FRIDAY) is None
    assert Day(day=32).on(FRIDAY) is None


@pytest.mark.parametrize("order", ["day first", "month first"])
def test_a_day_in_figures_is_asked_about_until_the_order_is_known(order: str, tmp_path: Path) -> None:
    talk = Conversation(tmp_path / "notebook.db")
    asked = talk.ask("beef frozen on 3/4, ok?")
    assert asked.status is Status.NEEDS_DETAIL
    assert "3 April" in asked.message and "4 March" in asked.message
    assert talk.ask(order).status is Status.ANSWERED
    assert talk.ask("beef frozen on 3/4, ok?").status is Status.ANSWERED


def test_ten_to_twelve_alone_is_so_many_and_no_time() -> None:
    assert moments("ten to twelve") == []


def test_tonight_tells_the_half_of_the_day() -> None:
    (said,) = moments("dinner at 6 tonight")
    assert said.clock == time(18)


def test_the_day_before_yesterday() -> None:
    (said,) = moments("ground the day before yesterday")
    assert said.day is not None
    assert said.day.on(FRIDAY) == date(2027, 6, 16)


@pytest.mark.parametrize("typed", ["out since ²/³", "June ①", "June 8 ²²²²", "on ²/3, burgers", "the ² of June"])
def test_a_raised_or_ringed_digit_is_no_part_of_a_date(typed: str, tmp_path: Path) -> None:
    """Python calls them digits and can make no number of them."""
    assert Conversation(notebook_path=tmp_path / "notebook.db").ask(typed).status is not None
