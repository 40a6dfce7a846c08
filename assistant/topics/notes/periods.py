"""Stretches of days as people say them of the past: in June, last week, since May, yesterday."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta

from msgspec import Struct

from assistant import wording
from assistant.language.when import Day, month_named
from assistant.pattern import Pattern

_MONTH = Pattern(
    r"\b(?P<since>since|from)?\s*(?:in|of|for|during|last|this|since|from)\s+(?:the\s+month\s+of\s+)?"
    r"(?P<month>january|february|march|april|may|june|july|august|september|october|november|december"
    r"|jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)\b(?!\s+[0-9]{1,2}\b)(?:\s+(?P<year>(?:19|20)[0-9]{2}))?",
    re.IGNORECASE,
)
_SPAN = Pattern(
    r"\b(?P<which>this|last|past|the\s+last|the\s+past)\s+(?P<size>week|month|year|weekend)\b", re.IGNORECASE
)
_YEAR = Pattern(r"\b(?:in|during|since)\s+(?P<year>20[0-9]{2})\b", re.IGNORECASE)
_DAYS_BACK = Pattern(r"\b(?:last|past)\s+(?P<count>[0-9]{1,3})\s+(?P<size>day|week|month)s?\b", re.IGNORECASE)


class Period(Struct, frozen=True):
    """A stretch of past days. said: the words for it; kind: month, week, year, days or day; since: up to today.

    back: how many weeks, months or years before this one; month and year where they were named.
    """

    said: str
    kind: str
    since: bool = False
    back: int = 0
    month: int | None = None
    year: int | None = None
    day: Day | None = None

    def days(self, today: date) -> tuple[date, date] | None:
        """First and last day, seen from today; None for a day that no calendar has."""
        first, last = self._bounds(today)
        if first is None or last is None:
            return None
        return (first, today) if self.since else (first, last)

    def _bounds(self, today: date) -> tuple[date | None, date | None]:
        if self.kind == "day":
            day = None if self.day is None else self.day.on(today, past=True)
            return day, day
        if self.kind == "days":
            return today - timedelta(days=self.back), today
        if self.kind == "week":
            monday = today - timedelta(days=today.weekday() + 7 * self.back)
            return monday, monday + timedelta(days=6)
        if self.kind == "weekend":
            saturday = today - timedelta(
                days=(today.weekday() + 2) % 7 + (7 if self.back and today.weekday() > 4 else 0)
            )
            return saturday, saturday + timedelta(days=1)
        if self.kind == "year":
            year = self.year or today.year - self.back
            return date(year, 1, 1), date(year, 12, 31)
        return _month_bounds(self, today)


def find(text: str) -> tuple[int, int, Period] | None:
    """(first, last, period) of the period that a cleaned request names, days of the calendar apart."""
    match = _DAYS_BACK.search(text)
    if match:
        days = {"day": 1, "week": 7, "month": 30}[match["size"].lower()] * int(match["count"])
        return (*match.span(), Period(match.group(), "days", back=days))
    match = _MONTH.search(text)
    if match:
        month = month_named(match["month"].lower())
        since = re.match(r"\s*(?:since|from)\b", match.group(), re.IGNORECASE) is not None
        year = int(match["year"]) if match["year"] else None
        return (*match.span(), Period(_tidy(match.group()), "month", since=since, month=month, year=year))
    match = _SPAN.search(text)
    if match:
        back = 0 if match["which"].lower() == "this" else 1
        return (*match.span(), Period(_tidy(match.group()), match["size"].lower(), back=back))
    match = _YEAR.search(text)
    if match:
        since = match.group().lower().startswith("since")
        return (*match.span(), Period(_tidy(match.group()), "year", since=since, year=int(match["year"])))
    return None


def shown(days: tuple[date, date]) -> str:
    """The days in full: "from Mon 1 June 2026 to Tue 30 June 2026", "on Mon 1 June 2026"."""
    first, last = days
    return f"on {wording.day(first)}" if first == last else f"from {wording.day(first)} to {wording.day(last)}"


def _tidy(text: str) -> str:
    return " ".join(text.split())


def _month_bounds(period: Period, today: date) -> tuple[date, date]:
    month, year = period.month, period.year
    if month is None:
        whole = today.year * 12 + today.month - 1 - period.back
        year, month = whole // 12, whole % 12 + 1
    elif year is None:
        year = today.year if month <= today.month else today.year - 1
    return date(year, month, 1), date(year, month, monthrange(year, month)[1])
