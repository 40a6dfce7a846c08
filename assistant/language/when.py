"""Clock times and dates as people type them. The reader names the moment; the topics give it a year and a zone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time

from msgspec import Struct

from assistant import wording
from assistant.language.numbers import ONES
from assistant.language.scan import Mark
from assistant.pattern import Pattern

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
_ORDINAL = Pattern(r"(st|nd|rd|th)")
DAY_FIRST, MONTH_FIRST = "day first", "month first"
"""The orders of a date in figures alone, as the settings keep them."""
_MINUTES = {"five": 5, "ten": 10, "quarter": 15, "twenty": 20, "half": 30}
_MINUTES |= {str(minutes): minutes for minutes in (5, 10, 15, 20, 25)}
_PAST, _TO = ("past", "after", "gone"), ("to", "before", "till")
_HALVES = {"morning": False, "afternoon": True, "evening": True, "night": True, "tonight": True, "lunchtime": True}
"""Parts of the day that say whether an hour is before noon (False) or after it."""
_POINTS = frozenset(("since", "until", "till", "at", "by", "from", "about", "around"))
"""Words before a bare hour."""
_MEALS = Pattern(
    r"serv(e|ed|ing)|eat(ing)?|dinner|supper|lunch|tea|breakfast|guests|arriv(e|es|ing)|com(e|ing)|ready|"
    r"start(s|ing)?|begins?|meal|party|bbq|barbecue|cookout|ring|home|feed(ing)?|out|left|people|adults|kids|friends|folks"
)
"""What happens at an hour: "serve at 6" is a time; "chuck at 6" is a price and "at 20" a share of fat."""
_AMOUNTS = Pattern(
    r"oz|lbs?|g|kg|%|inch(es)?|"
    r"mm|cm|patties|burgers|pounds|ounces|people"
)
_AFTER_AN_HOUR = Pattern(
    r"[,.?!;-]?|today|tomorrow|tonight|on|and|its?|now|so|is|"
    r"was|for|this|sharp|exactly|please|then|we|till|until"
)
"""What may follow a bare hour: a unit or a name after it makes it an amount."""


_BEGINNINGS = frozenset(
    [*_WEEKDAY_SHORT, *WEEKDAYS, *(f"{day}s" for day in WEEKDAYS), *_MONTHS, *_MONTH_SHORT, *_MINUTES, *ONES]
    + ["a", "the", "last", "day", "noon", "midday", "midnight", "tmrw", "tmr", "tomorow"]
    + [f"{day}{s}" for day in ("today", "tomorrow", "yesterday") for s in ("", "s")]
)
"""Every word that a time or a date can begin with; most words of a line are none and need no further look."""


class Clock(Struct, frozen=True):
    """A clock time as it was said. loose: on a 12-hour clock, and nobody said which half of the day."""

    at: time
    loose: bool = False


class Day(Struct, frozen=True):
    """A day as it was said. weekday 0 is Monday; relative counts days from today; month and year may be left open.
    weeks: so many after the coming one ("Sunday week")."""

    weekday: int | None = None
    day: int | None = None
    month: int | None = None
    year: int | None = None
    relative: int | None = None
    last: bool = False
    weeks: int = 0

    def on(self, today: date, *, past: bool = False) -> date | None:
        """The calendar day meant, seen from `today`: the coming one, or the latest one where `past`.

        None for a day that no calendar has (31 June).
        """
        if self.relative is not None:
            return date.fromordinal(today.toordinal() + self.relative)
        if self.day is not None and self.month is None:
            return _in_the_nearest_month(self.day, today, past=past)
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
        return date.fromordinal(today.toordinal() + ahead + 7 * self.weeks)


def _in_the_nearest_month(day: int, today: date, *, past: bool) -> date | None:
    """ "The 19th": the coming one, or the latest one where `past`."""
    month = today.year * 12 + today.month - 1
    for step in range(3):
        year, index = divmod(month - step if past else month + step, 12)
        try:
            found = date(year, index + 1, day)
        except ValueError:
            continue
        if found <= today if past else found >= today:
            return found
    return None


def read(marks: Sequence[Mark], at: int, order: str = "") -> tuple[str, Day | Clock, int] | None:
    """(terminal, payload, mark after) where a clock time or a date begins at `at`.

    order: DAY_FIRST, MONTH_FIRST or "", for dates in figures alone that could be read both ways.
    """
    mark = marks[at]
    if mark.kind == "word" and mark.text not in _BEGINNINGS:
        return None
    if mark.kind == "clock":
        clock = _clock(mark.text)
        return None if clock is None else _with_half(marks, clock, at + 1)
    if mark.kind == "iso":
        try:
            day = date.fromisoformat(mark.text)
        except ValueError:
            return None
        return "DATE", Day(day=day.day, month=day.month, year=day.year), at + 1
    if mark.kind == "figured":
        figured = figured_dates(mark.text, order)
        return ("DATE", figured[0], at + 1) if len(figured) == 1 else None
    month_and_day = _without_year(marks, at, order)
    if month_and_day is not None:
        return month_and_day
    if mark.text in ("noon", "midday"):
        return "CLOCK", Clock(time(12)), at + 1
    if mark.text == "midnight":
        return "CLOCK", Clock(time(0)), at + 1
    return _spoken(marks, at) or _day(marks, at)


def figured_dates(text: str, order: str = "") -> tuple[Day, ...]:
    """The days that "03/04/2026" can be: none that no calendar has, one where the order is said or plain, else two."""
    first, second, year = (int(part) for part in re.split(r"[/.-]", text))
    pairs = {DAY_FIRST: (first, second), MONTH_FIRST: (second, first)}
    found = []
    for day, month in dict.fromkeys([pairs[order]] if order else pairs.values()):
        try:
            date(year, month, day)
        except ValueError:
            continue
        found.append(Day(day=day, month=month, year=year))
    return tuple(found)


def either_day(marks: Sequence[Mark], at: int) -> bool:
    """Whether a date in figures without a year begins at `at` that could be two days: "on 3/4"."""
    return len(_days_without_year(marks, at, "")) > 1


def _without_year(marks: Sequence[Mark], at: int, order: str) -> tuple[str, Day, int] | None:
    days = _days_without_year(marks, at, order)
    return ("DATE", days[0], at + 3) if len(days) == 1 else None


def _days_without_year(marks: Sequence[Mark], at: int, order: str) -> tuple[Day, ...]:
    """The days that "on 14/8" can be; "3/4 lb" and "chuck at 3/4" are fractions."""
    if _text(marks, at - 1) not in ("on", "since", "dated") or _text(marks, at + 1) != "/":
        return ()
    if not (_is_small(marks, at) and _is_small(marks, at + 2) and marks[at + 1].glued and marks[at + 2].glued):
        return ()
    if _AMOUNTS.fullmatch(_text(marks, at + 3)) or _text(marks, at + 3) in ("of", "a", "/"):
        return ()
    # any leap year has every day that there is
    found = figured_dates(f"{marks[at].text}/{marks[at + 2].text}/2028", order)
    return tuple(Day(day=day.day, month=day.month) for day in found)


def _is_small(marks: Sequence[Mark], at: int) -> bool:
    text = _text(marks, at)
    return text.isdecimal() and len(text) <= 2


def for_a_meal(clock: time) -> time:
    """An hour with its half of the day unsaid, as it is meant of a meal: 1 to 9 after noon, 10 to 12 as they stand."""
    return clock.replace(hour=clock.hour + 12) if 1 <= clock.hour <= 9 else clock


def _clock(text: str) -> Clock | None:
    digits = re.findall(r"[0-9]+", text)
    hour, minute = int(digits[0]), int(digits[1]) if len(digits) > 1 else 0
    if hour > 23 or ("a" in text and hour > 12) or minute > 59:
        return None
    if "p" in text:
        return Clock(time(hour % 12 + 12, minute))
    if "a" in text:
        return Clock(time(hour % 12, minute))
    return Clock(time(hour, minute), loose=1 <= hour <= 12 and not text.startswith("0"))


def _spoken(marks: Sequence[Mark], at: int) -> tuple[str, Clock, int] | None:
    """ "Half past six", "quarter to 7", "six o'clock", "ten in the morning", "six pm"; "serve at 6", "it's four now"."""
    turned = _past_or_to(marks, at)
    if turned is not None:
        return _with_half(marks, *turned)
    pointed = _with_a_point(marks, at)
    if pointed is not None:
        told = _with_half(marks, pointed, at + 1)
        return told if not told[1].loose or _is_an_hour(marks, at, at + 1) else None
    hour = _hour(marks, at)
    if hour is None:
        return None
    after = at + 1
    if _text(marks, after) in ("oclock",):
        return _with_half(marks, Clock(time(hour), loose=1 <= hour <= 12), after + 1)
    if hour > 12 or hour == 0:
        return None
    minute = {"fifteen": 15, "thirty": 30}.get(_text(marks, after), 0)
    clock = Clock(time(hour, minute), loose=True)
    after += 1 if minute else 0
    told = _with_half(marks, clock, after)
    if not told[1].loose or _is_an_hour(marks, at, after):
        return told
    return None


def _with_a_point(marks: Sequence[Mark], at: int) -> Clock | None:
    """ "7.30" as it may be a time; whether it is one, its neighbours say."""
    said = re.fullmatch(r"(1[0-2]|[1-9])[.]([0-5][0-9])", _text(marks, at))
    return Clock(time(int(said[1]), int(said[2])), loose=True) if said else None


def _past_or_to(marks: Sequence[Mark], at: int) -> tuple[Clock, int] | None:
    """ "Half past six", "a quarter to seven", "ten past 6", "half six" (half past, as it is said in Britain)."""
    first = at + 1 if _text(marks, at) == "a" and _text(marks, at + 1) == "quarter" else at
    minutes = _MINUTES.get(_text(marks, first))
    if minutes is None:
        return None
    after = first + 1
    five = after + 1 if _text(marks, after) == "-" else after
    if minutes == 20 and _text(marks, five) == "five":
        minutes, after = 25, five + 1
    if _text(marks, after) in ("minutes", "mins", "min"):
        after += 1
    link, pointed = _text(marks, after), _points_at_a_time(marks, at)
    # "ten to twelve patties" is a range, "5 after 6" may be an order of things
    sure = pointed or minutes == 15 or (minutes == 30 and link == "past")
    hour = _hour(marks, after + 1)
    if link in (*_PAST, *_TO) and _may_be_an_hour(marks, hour, after + 2):
        assert hour is not None
        if not (sure or link == "past") or (minutes == 30 and link in _TO):
            return None
        if (
            link in _TO
            and minutes != 15
            and at
            and _text(marks, at - 1) == "from"
            and not _goes_until(marks, after + 2)
        ):
            # "out from 10 till 12": two hours, and no ten minutes to twelve
            return None
        total = hour * 60 + (minutes if link in _PAST else -minutes)
        return Clock(time(total // 60 % 24, total % 60), loose=True), _past_o_clock(marks, after + 2)
    hour = _hour(marks, after)
    if minutes == 30 and pointed and _may_be_an_hour(marks, hour, after + 1):
        assert hour is not None
        return Clock(time(hour, 30), loose=True), after + 1
    return None


def _goes_until(marks: Sequence[Mark], at: int) -> bool:
    """Whether the end of a span follows a little further on: "from ten to seven till nine"."""
    return any(_text(marks, at + step) in (*_TO, "until") for step in range(4))


def _may_be_an_hour(marks: Sequence[Mark], hour: int | None, after: int) -> bool:
    """Whether a number can be an hour of a 12-hour clock: what follows does not make an amount of it."""
    following = _text(marks, after)
    joined = following in (".", ",", "/") and marks[after].glued and _kind(marks, after + 1) == "number"
    decimal = joined and marks[after + 1].glued
    return hour is not None and 1 <= hour <= 12 and not decimal and not _AMOUNTS.fullmatch(following)


def _with_half(marks: Sequence[Mark], clock: Clock, after: int) -> tuple[str, Clock, int]:
    """The clock time with the half of the day that is said after it: "pm", "in the morning", "tonight"."""
    if not clock.loose:
        return "CLOCK", clock, after
    words = [_text(marks, after + step) for step in range(4)]
    late: bool | None = None
    if words[0] in ("am", "pm"):
        late, after = words[0] == "pm", after + 1
    elif words[0] in ("a", "p") and words[1] == "." and words[2] == "m":
        late, after = words[0] == "p", after + (4 if words[3] == "." else 3)
    elif words[:2] == ["in", "the"] and words[2] in _HALVES:
        late, after = _HALVES[words[2]], after + 3
    elif words[0] in ("this", "yesterday", "tomorrow") and words[1] in _HALVES:
        # the day itself stays in the line
        late = _HALVES[words[1]]
    elif words[:2] == ["at", "night"]:
        late, after = clock.at.hour >= 5 and clock.at.hour != 12, after + 2
    elif words[0] == "tonight":
        late, after = True, after + 1
    if late is None:
        return "CLOCK", clock, after
    return "CLOCK", Clock(clock.at.replace(hour=clock.at.hour % 12 + (12 if late else 0))), after


def _is_an_hour(marks: Sequence[Mark], at: int, after: int) -> bool:
    """Whether a bare number tells the time: "it's four now", "serve at 6", "since 2"; nothing that it could count follows."""
    before, earlier = _text(marks, at - 1), {_text(marks, at - step) for step in range(2, 5)} if at else set()
    if at and before in ("its", "is") and (_text(marks, after) == "now" or "now" in earlier):
        return True
    if not at or before not in _POINTS:
        return False
    following = _text(marks, after)
    if not _AFTER_AN_HOUR.fullmatch(following) and _weekday(following) is None:
        return False
    out_of_the_cold = _text(marks, at - 2) in ("fridge", "freezer") and "out" in {
        _text(marks, at - step) for step in range(3, 6)
    }
    return before in ("since", "until", "till") or out_of_the_cold or any(_MEALS.fullmatch(word) for word in earlier)


def _points_at_a_time(marks: Sequence[Mark], at: int) -> bool:
    before = _text(marks, at - 1) if at else ""
    return before in _POINTS or before in ("its", "is", "was", "now", "almost", "nearly", "before", "after")


def _past_o_clock(marks: Sequence[Mark], at: int) -> int:
    return at + 1 if _text(marks, at) in ("oclock",) else at


def _hour(marks: Sequence[Mark], at: int) -> int | None:
    """0 to 23 where a whole number stands, in digits or as a word."""
    text = _text(marks, at)
    if _kind(marks, at) == "number" and text.isdecimal() and len(text) <= 2:
        hour: int | None = int(text)
    else:
        hour = ONES.get(text)
    return hour if hour is not None and hour < 24 else None


def _day(marks: Sequence[Mark], at: int) -> tuple[str, Day, int] | None:
    # an apostrophe is folded away: "today's" is scanned as "todays"
    word = re.sub(r"^(today|tomorrow|yesterday)s$", r"\1", marks[at].text)
    if [_text(marks, at + step) for step in range(3)] == ["day", "after", "tomorrow"]:
        return "DATE", Day(relative=2), at + 3
    if [_text(marks, at + step) for step in range(3)] == ["day", "before", "yesterday"]:
        return "DATE", Day(relative=-2), at + 3
    relative = {"today": 0, "tomorrow": 1, "yesterday": -1, "tmrw": 1, "tmr": 1, "tomorow": 1, "tonight": 0}.get(word)
    if relative is not None and word != "tonight":
        return "DATE", Day(relative=relative), at + 1
    if word == "last" and _weekday(_text(marks, at + 1)) is not None:
        return "DATE", Day(weekday=_weekday(_text(marks, at + 1)), last=True), at + 2
    weekday = _weekday(word)
    if (
        weekday is not None
        and not (word == "sat" and _is_sitting(marks, at))
        and (
            word != "sun"
            or _text(marks, at - 1) in ("on", "by", "for", "until", "till", "since", "next")
            or _kind(marks, at + 1) == "clock"
        )
    ):
        dated = _dated(marks, at + 1)
        if dated is not None:
            return dated
        if _text(marks, at + 1) == "week" and word in WEEKDAYS:
            return "DATE", Day(weekday=weekday, weeks=1), at + 2
        return "DATE", Day(weekday=weekday), at + 1
    return _dated(marks, at)


_SPELLS = frozenset(("minute", "minutes", "min", "mins", "hour", "hours", "hr", "hrs"))


def _is_sitting(marks: Sequence[Mark], at: int) -> bool:
    """ "It sat out", "burgers have sat under foil": no Saturday."""
    before, after = _text(marks, at - 1), _text(marks, at + 1)
    if any(_text(marks, at + step) in _SPELLS for step in (2, 3, 4)):
        # "patties sat ninety minutes"
        return True
    return before in ("have", "has", "had", "been", "it", "they", "that", "which", "just") or after in (
        *(
            "out",
            "on",
            "in",
            "there",
            "for",
            "at",
            "under",
            "around",
            "overnight",
            "uncovered",
            "open",
            "beside",
            "next",
        ),
        *("by", "near", "waiting", "a", "too"),
    )


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
    if first.isdecimal() and len(first) <= 2:
        after = _past_ordinal(marks, after)
        if _text(marks, after) == "of":
            after += 1
        month = month_named(_text(marks, after))
        if month is None and _is_the_nth(marks, start, at, after):
            return ("DATE", Day(day=int(first)), after) if 1 <= int(first) <= 31 else None
        if month is None or not 1 <= int(first) <= 31:
            return None
        return _with_year(marks, int(first), month, after + 1)
    month = month_named(first)
    if month is None or at != start:
        return None
    number = _text(marks, after)
    if not (number.isdecimal() and len(number) <= 2 and 1 <= int(number) <= 31):
        return None
    return _with_year(marks, int(number), month, _past_ordinal(marks, after + 1))


def _is_the_nth(marks: Sequence[Mark], start: int, number: int, after: int) -> bool:
    """ "For the 19th", "on the 3rd": a day of the month, where nothing says what else there are so many of."""
    ordinal = after == number + 2 and start < number
    leads = _text(marks, start - 1) if start else ""
    following = _text(marks, after)
    return (
        ordinal
        and leads in ("on", "for", "by", "since", "until", "till", "from")
        and (_AFTER_AN_HOUR.fullmatch(following) is not None or following in ("at", "noon", "midday"))
    )


def _past_ordinal(marks: Sequence[Mark], at: int) -> int:
    return at + 1 if _ORDINAL.fullmatch(_text(marks, at)) and marks[at].glued else at


def _with_year(marks: Sequence[Mark], day: int, month: int, at: int) -> tuple[str, Day, int]:
    comma = at + 1 if _text(marks, at) == "," else at
    year = _text(marks, comma)
    if year.isdecimal() and len(year) == 4:
        return "DATE", Day(day=day, month=month, year=int(year)), comma + 1
    return "DATE", Day(day=day, month=month), at


def _text(marks: Sequence[Mark], at: int) -> str:
    return marks[at].text if 0 <= at < len(marks) else ""


def _kind(marks: Sequence[Mark], at: int) -> str:
    return marks[at].kind if 0 <= at < len(marks) else ""
