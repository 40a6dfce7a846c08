"""Timers and the warm clock, with the time handed in."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import clock
from assistant.clock import Clocks, Event
from assistant.engine.safety import Out, out_of_fridge
from assistant.errors import BadInput

NOON = datetime(2026, 7, 4, 12, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


def events(clocks: Clocks, now: datetime) -> tuple[Clocks, list[Event]]:
    later, said = clocks.due(now)
    return later, [each.event for each in said]


def test_a_timer_rings_once_and_not_before() -> None:
    clocks = Clocks().start("rest", 5 * MINUTE, NOON)
    assert events(clocks, NOON + 5 * MINUTE - timedelta(seconds=1))[1] == []
    clocks, said = events(clocks, NOON + 5 * MINUTE)
    assert said == [Event.TIMER_DONE]
    assert events(clocks, NOON + 9 * MINUTE)[1] == []


@given(st.integers(1, 500), st.integers(0, 500), st.integers(0, 5000))
def test_a_pause_puts_the_end_off_by_its_length(length: int, before: int, pause: int) -> None:
    before = min(before, length)
    clocks = Clocks().start("rest", length * MINUTE, NOON)
    clocks = clocks.pause("REST", NOON + before * MINUTE)
    assert clocks.timer("rest").left(NOON + (before + pause) * MINUTE) == (length - before) * MINUTE
    assert events(clocks, NOON + (before + pause) * MINUTE)[1] == []
    clocks = clocks.resume("rest", NOON + (before + pause) * MINUTE)
    assert clocks.timer("rest").due == NOON + (length + pause) * MINUTE


def test_several_timers_have_names_of_their_own() -> None:
    clocks = Clocks().start("timer", MINUTE, NOON)
    assert clocks.free_name() == "timer 2"
    clocks = clocks.start(clocks.free_name(), 2 * MINUTE, NOON)
    with pytest.raises(BadInput):
        clocks.start(" TIMER  2", MINUTE, NOON)
    assert [timer.name for timer in clocks.cancel("timer").timers] == ["timer 2"]
    with pytest.raises(BadInput) as refused:
        clocks.cancel("rest")
    assert refused.value.wanted == "one of timer, timer 2"


@pytest.mark.parametrize("length", [timedelta(0), -MINUTE, timedelta(days=7, seconds=1)])
def test_a_timer_needs_a_length(length: timedelta) -> None:
    with pytest.raises(BadInput):
        Clocks().start("rest", length, NOON)


def test_a_moment_needs_its_zone() -> None:
    with pytest.raises(BadInput):
        Clocks().start("rest", MINUTE, datetime(2026, 7, 4, 12))


def test_a_change_to_winter_time_does_not_stretch_a_timer() -> None:
    zone = ZoneInfo("America/New_York")
    start = datetime(2026, 11, 1, 1, 30, tzinfo=zone)  # an hour that comes twice
    timer = Clocks().start("overnight", timedelta(hours=2), start).timer("overnight")
    assert timer.left(datetime(2026, 11, 1, 2, 30, tzinfo=zone)) == timedelta(0)


@pytest.mark.parametrize(("hot", "half", "near", "over"), [(False, 60, 110, 121), (True, 30, 50, 61)])
def test_the_warm_clock_warns_at_half_near_the_end_and_when_over(hot: bool, half: int, near: int, over: int) -> None:
    clocks = Clocks().take_out("chuck", NOON, hot=hot)
    heard = []
    for minute in range(over + 5):
        clocks, said = events(clocks, NOON + minute * MINUTE)
        heard += [(minute, event) for event in said]
    assert heard == [(half, Event.WARM_HALF), (near, Event.WARM_NEAR_END), (over, Event.WARM_OVER)]


def test_time_out_earlier_counts() -> None:
    clocks = Clocks().take_out("chuck", NOON, before=100 * MINUTE)
    assert clocks.warm[0].left(NOON) == 20 * MINUTE
    assert events(clocks, NOON + 30 * MINUTE)[1] == [Event.WARM_OVER]  # the gravest only


@given(st.integers(0, 300), st.booleans())
def test_the_warm_clock_agrees_with_the_two_hour_rule(minutes: int, hot: bool) -> None:
    """USDA FSIS: two hours, one above 90 F."""
    told = out_of_fridge(minutes, 95 if hot else 70)
    warm = Clocks().take_out("chuck", NOON, hot=hot).warm[0]
    assert warm.limit == told.limit_minutes * MINUTE
    over = Event.WARM_OVER in warm.due(NOON + minutes * MINUTE)
    assert over == (told.verdict is Out.THROW_AWAY)


def test_put_back_ends_the_warm_clock() -> None:
    clocks = Clocks().take_out("chuck", NOON).take_out("suet", NOON)
    assert [warm.name for warm in clocks.put_back("Chuck").warm] == ["suet"]
    with pytest.raises(BadInput):
        clocks.put_back("round")


def test_the_toolbar_shows_the_most_pressing_first() -> None:
    clocks = Clocks().start("long", 90 * MINUTE, NOON).start("rest", 5 * MINUTE, NOON).take_out("chuck", NOON)
    assert clock.toolbar(clocks, NOON + MINUTE) == "rest 4:00 | long 1:29:00 | chuck out 1 min, 119 left"
    assert clock.toolbar(clocks.pause("rest", NOON), NOON + 200 * MINUTE) == (
        "long done | rest 5:00 (paused) | chuck out 200 min, TOO LONG"
    )
    assert clock.toolbar(Clocks(), NOON) == ""


def test_announcements_begin_with_a_word() -> None:
    clocks = Clocks().start("rest", MINUTE, NOON).take_out("chuck", NOON)
    assert [clock.announcement(due) for due in clocks.due(NOON + 60 * MINUTE)[1]] == [
        "Timer: rest done, 59 min ago.",
        "Safety: chuck, half of its time out of the fridge is gone; 60 minutes are left.",
    ]


def test_a_timer_never_runs_for_more_than_a_week() -> None:
    clocks = Clocks().start("brine", 6 * 24 * 60 * MINUTE, NOON)
    with pytest.raises(BadInput):
        clocks.lengthen("brine", 2 * 24 * 60 * MINUTE, NOON)
    assert clocks.lengthen("brine", 60 * MINUTE, NOON).timer("brine").left(NOON) == (6 * 24 + 1) * 60 * MINUTE
