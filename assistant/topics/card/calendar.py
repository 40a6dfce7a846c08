"""A timetable as calendar entries, by the iCalendar standard (RFC 5545), written by the icalendar library.

Moments go out in UTC, which every calendar shows in the zone of whoever looks, clock changes included.
"""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import groupby
from typing import TYPE_CHECKING

from assistant.engine.timetable import Kind
from assistant.topics.timetable import telling
from assistant.topics.timetable.telling import Shown

if TYPE_CHECKING:
    from icalendar import Event

LEFT_OUT = (Kind.KEEP,)
"""Waiting in the fridge is nothing to be reminded of."""


def entries(shown: Shown) -> bytes:
    """One entry a step, the rounds together, and one for serving. The stamp is the clock that was handed in."""
    from icalendar import Calendar  # a tenth of a second, which only who saves a calendar pays

    calendar = Calendar()
    calendar.add("prodid", "-//Mincewise//Kitchen timetable//EN")
    calendar.add("version", "2.0")
    for kind, group in groupby(shown.table.steps, key=lambda step: step.kind):
        steps = list(group)
        if kind not in LEFT_OUT:
            what = telling.what_to_do(shown, kind, steps)
            calendar.add_component(_entry(shown, telling.DONE[kind][0], steps[0].start, steps[-1].end, what))
    patties = telling.what_is_served(shown)
    calendar.add_component(_entry(shown, "serve", shown.serve, shown.serve, patties))
    return bytes(calendar.to_ical())


def _entry(shown: Shown, name: str, start: datetime, end: datetime, what: str) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", _uid(shown, name))
    event.add("dtstamp", shown.now.astimezone(UTC).replace(microsecond=0))
    event.add("dtstart", start.astimezone(UTC))
    if end != start:
        event.add("dtend", end.astimezone(UTC))
    event.add("summary", name.capitalize())
    event.add("description", what)
    return event


def _uid(shown: Shown, name: str) -> str:
    """The same for the same step of the same meal, so that a calendar takes a later file as the newer entry."""
    import hashlib  # like the library, only for who saves a calendar

    digest = hashlib.sha256(f"{shown.meal.on} {shown.amounts.plan!r} {name}".encode()).hexdigest()
    return f"{digest[:32]}@mincewise"
