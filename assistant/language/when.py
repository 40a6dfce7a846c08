"""Clock times and dates as people type them. The reader names the moment; the topics give it a year and a zone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time

from msgspec import Struct

from assistant import wording
from assistant.language.scan import Mark

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAY_SHORT = {
    "mon": 0,
    "tue": 1,
    "tues": 1,
    "wed": 2,
    "weds": 2,
    "thu": 3,
    "thur": 3,
    "thurs": 3,
    "fri": 4,
    "sat": 5,
    "sun": 6,
}
_MONTHS = tuple(name.lower() for name in wording.MONTHS)
_MONTH_SHORT = {name[:3]: number for number, name in enumerate(_MONTHS, 1)} | {"sept": 9}
_ORDINAL = re.compile(r"(st|nd|rd|th)")


class Day(Struct, frozen=True):
    """A day as it was said. weekday 0 is Monday; relative counts days from today; year may be left open."""

    weekday: int | None = None
    day: int | None = None
    month: int | None = None
    year: int | None = None
    relative: int | None = None
    last: bool = False

    def on(self, today: date, *, past: bool = False) -> date | None:
        """The calendar day meant, seen from `today`: the coming one, or the latest one where `past`.

        None for a day that no calendar has (31 June).
        """
        if self.relative is not None:
            return date.fromordinal(today.toordinal() + self.relative)
        if self.day is not None and self.month is not None:
            # nine years ahead or back, for the sake of 29 February
            step = -1 if past else 1
            years = (self.year,) if self.year else range(today.year, today.year + 9 * step, step)
            for year in years:
                try:
                    found = date(year, self.month, self.day)
                except ValueError:
                    continue
                if self.year or (found <= today if past else found >= today):
                    return found
            return None
        if self.weekday is None:
            return None
        ahead = (self.weekday - today.weekday()) % 7
        if past or self.last:
            return date.fromordinal(
                today.toordinal() - ((today.weekday() - self.weekday) % 7 or (7 if self.last else 0))
            )
        return date.fromordinal(today.toordinal() + ahead)


def read(marks: Sequence[Mark], at: int) -> tuple[str, Day | time, int] | None:
    """(terminal, payload, mark after) where a clock time or a date begins at `at`."""
    mark = marks[at]
    if mark.kind == "clock":
        clock = _clock(mark.text)
        return None if clock is None else ("CLOCK", clock, at + 1)
    if mark.kind == "iso":
        try:
            day = date.fromisoformat(mark.text)
        except ValueError:
            return None
        return "DATE", Day(day=day.day, month=day.month, year=day.year), at + 1
    if mark.text in ("noon", "midday"):
        return "CLOCK", time(12), at + 1
    if mark.text == "midnight":
        return "CLOCK", time(0), at + 1
    if mark.kind == "number" and _text(marks, at + 1) in ("o'clock", "oclock"):
        return _o_clock(mark.text, at + 2)
    return _day(marks, at)


def _clock(text: str) -> time | None:
    digits = re.findall(r"[0-9]+", text)
    hour, minute = int(digits[0]), int(digits[1]) if len(digits) > 1 else 0
    if hour > 23 or ("a" in text and hour > 12):
        return None
    if "p" in text:
        hour = hour % 12 + 12
    elif "a" in text:
        hour %= 12
    return time(hour, minute) if minute < 60 else None


def _o_clock(hour: str, after: int) -> tuple[str, time, int] | None:
    """The full hour of "6 o'clock"; None for one that no clock shows."""
    return ("CLOCK", time(int(hour)), after) if hour.isdigit() and int(hour) < 24 else None


def _day(marks: Sequence[Mark], at: int) -> tuple[str, Day, int] | None:
    word = marks[at].text
    relative = {"today": 0, "tomorrow": 1, "yesterday": -1, "tmrw": 1, "tmr": 1, "tomorow": 1, "tonight": 0}.get(word)
    if relative is not None and word != "tonight":
        return "DATE", Day(relative=relative), at + 1
    if word == "last" and _weekday(_text(marks, at + 1)) is not None:
        return "DATE", Day(weekday=_weekday(_text(marks, at + 1)), last=True), at + 2
    weekday = _weekday(word)
    if (
        weekday is not None
        and not (word == "sat" and _text(marks, at + 1) in ("out", "on", "in", "there", "for", "at"))
        and word != "sun"
    ):
        dated = _dated(marks, at + 1)
        if dated is not None:
            return dated
        return "DATE", Day(weekday=weekday), at + 1
    return _dated(marks, at)


def _weekday(word: str) -> int | None:
    word = word.removesuffix("'s")
    if word in WEEKDAYS:
        return WEEKDAYS.index(word)
    if word.removesuffix("s") in WEEKDAYS:
        return WEEKDAYS.index(word.removesuffix("s"))
    return _WEEKDAY_SHORT.get(word)


def month_named(word: str) -> int | None:
    """1 to 12 for the name of a month in lower case, in full or short; None for any other word."""
    return _MONTHS.index(word) + 1 if word in _MONTHS else _MONTH_SHORT.get(word)


def _dated(marks: Sequence[Mark], at: int) -> tuple[str, Day, int] | None:
    """19 June 2027, June 19, 19th of June, the 4th of July."""
    start = at
    if _text(marks, at) == "the":
        at += 1
    first = _text(marks, at)
    after = at + 1
    if first.isdigit() and len(first) <= 2:
        after = _past_ordinal(marks, after)
        if _text(marks, after) == "of":
            after += 1
        month = month_named(_text(marks, after))
        if month is None or not 1 <= int(first) <= 31:
            return None
        return _with_year(marks, int(first), month, after + 1)
    month = month_named(first)
    if month is None or at != start:
        return None
    number = _text(marks, after)
    if not (number.isdigit() and len(number) <= 2 and 1 <= int(number) <= 31):
        return None
    return _with_year(marks, int(number), month, _past_ordinal(marks, after + 1))


def _past_ordinal(marks: Sequence[Mark], at: int) -> int:
    return at + 1 if _ORDINAL.fullmatch(_text(marks, at)) and marks[at].glued else at


def _with_year(marks: Sequence[Mark], day: int, month: int, at: int) -> tuple[str, Day, int]:
    comma = at + 1 if _text(marks, at) == "," else at
    year = _text(marks, comma)
    if year.isdigit() and len(year) == 4:
        return "DATE", Day(day=day, month=month, year=int(year)), comma + 1
    return "DATE", Day(day=day, month=month), at


def _text(marks: Sequence[Mark], at: int) -> str:
    return marks[at].text if at < len(marks) else ""
