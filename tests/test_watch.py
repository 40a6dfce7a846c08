"""Watching the clocks: what is announced, once, and what the toolbar shows, over a clock that the test holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def test_without_a_notebook_there_is_nothing_to_show_and_none_is_made(evening: Evening) -> None:
    assert (evening.talk.toolbar(), evening.talk.announcements()) == ("", [])
    assert not evening.path.exists()


def test_several_timers_and_the_warm_clock_stand_in_the_toolbar(evening: Evening) -> None:
    evening.ask("15 minutes for the cubes", "5 minutes for the rest", "meat's out")
    evening.later(1)
    assert evening.talk.toolbar() == "rest 4:00 | cubes 14:00 | meat out 1 min, 119 left"


def test_a_timer_is_announced_once_and_stays_as_done_for_a_while(evening: Evening) -> None:
    evening.ask("5 minutes for the rest")
    assert evening.talk.announcements() == []
    evening.later(5)
    assert evening.talk.announcements() == ["Timer: rest done."]
    evening.later(1)
    assert (evening.talk.announcements(), evening.talk.toolbar()) == ([], "rest done")
    evening.later(11)
    assert (evening.talk.announcements(), evening.talk.toolbar()) == ([], "")
    assert "No timer is running" in evening.ask("how long left").message


def test_a_timer_that_was_paused_and_cancelled_leaves_the_toolbar_at_once(evening: Evening) -> None:
    evening.ask("15 minutes for the cubes", "pause the cubes")
    evening.later(60)
    assert (evening.talk.toolbar(), evening.talk.announcements()) == ("cubes 15:00 (paused)", [])
    evening.ask("resume the cubes")
    assert evening.talk.toolbar() == "cubes 15:00"
    evening.ask("cancel the cubes")
    assert evening.talk.toolbar() == ""


def test_the_warm_clock_warns_at_half_near_the_end_and_when_it_is_over(evening: Evening) -> None:
    evening.ask("meat's out")
    said = []
    for _ in range(13):
        evening.later(10)
        said += evening.talk.announcements()
    assert said == [
        "Safety: meat, half of its time out of the fridge is gone; 60 minutes are left.",
        "Safety: meat, 10 minutes left; back into the fridge now.",
        "Safety: meat, out too long. Do not eat it; throw it away.",
    ]


def test_in_the_heat_the_warnings_come_twice_as_soon(evening: Evening) -> None:
    evening.ask("meat's out, it's 95 F in here")
    evening.later(30)
    assert evening.talk.announcements() == [
        "Safety: meat, half of its time out of the fridge is gone; 30 minutes are left."
    ]


def test_back_in_the_fridge_stops_the_warnings(evening: Evening) -> None:
    evening.ask("meat's out")
    evening.later(50)
    evening.ask("back in the fridge")
    evening.later(100)
    assert (evening.talk.announcements(), evening.talk.toolbar()) == ([], "")


def test_clocks_survive_leaving_and_say_since_when_they_are_done(evening: Evening) -> None:
    evening.ask("15 minutes for the cubes", "2 hours for the ribs", "meat's out")
    evening.later(75)
    again = evening.another()
    assert again.talk.announcements() == [
        "Timer: cubes done, 1 h 0 min ago.",
        "Safety: meat, half of its time out of the fridge is gone; 45 minutes are left.",
    ]
    assert again.talk.toolbar() == "ribs 45:00 | meat out 75 min, 45 left"


def test_a_timer_set_in_another_window_is_seen(evening: Evening) -> None:
    evening.ask("15 minutes for the cubes")
    assert evening.talk.toolbar() == "cubes 15:00"
    evening.another().ask("5 minutes for the rest")
    evening.later(0.5)
    assert evening.talk.toolbar() == "rest 4:30 | cubes 14:30"


def test_a_timer_of_the_same_name_set_again_rings_again(evening: Evening) -> None:
    evening.ask("5 minutes for the rest")
    evening.later(5)
    evening.talk.announcements()
    evening.ask("5 minutes for the rest")
    assert evening.talk.toolbar() == "rest 5:00"
    evening.later(5)
    assert evening.talk.announcements() == ["Timer: rest done."]


def test_a_notebook_that_cannot_be_read_shows_nothing_and_stops_nobody(tmp_path: Path) -> None:
    (tmp_path / "notebook.db").write_bytes(b"no notebook at all")
    evening = Evening(tmp_path)
    assert (evening.talk.toolbar(), evening.talk.announcements()) == ("", [])
