"""The conversation at the terminal, without a terminal: what lines do, and the line editor over a pipe."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from msgspec.structs import replace
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from assistant import chat
from assistant.answer import Answer
from assistant.chat import Counter, overlap
from assistant.render.reminders import Reminders
from assistant.render.screen import Page
from tests.terminal.standin import BLEND, COOK, HANDS, StandIn


class Desk:
    """A counter with a stand-in behind it and a page in front."""

    def __init__(self, layout: str = "plain") -> None:
        self.talk = StandIn()
        self.out = io.StringIO()
        self.counter = Counter(lambda: self.talk, self.out, lambda: Page(layout, 72))


def typed(keys: str) -> tuple[int, Desk]:
    """The exit status, and the desk, once somebody has typed these keys at the line editor."""
    desk = Desk("terminal")
    with create_pipe_input() as source:
        source.send_text(keys)
        session = chat.prompt_session(desk.counter, {"MINCEWISE_HISTORY": "off"}, input=source, output=DummyOutput())
        return chat.prompt_loop(desk.counter, session), desk


def test_enter_runs_the_line_and_ctrl_d_leaves() -> None:
    status, desk = typed("count\rcount\r\x04")
    assert (status, desk.talk.asked) == (0, ["count", "count"])
    assert desk.out.getvalue() == "asked 1\nasked 2\n"


def test_ctrl_c_drops_the_line() -> None:
    _, desk = typed("half a li\x03count\r\x04")
    assert desk.talk.asked == ["count"]
    assert "Line dropped. Ctrl-D leaves." in desk.out.getvalue()


def test_ctrl_l_keeps_the_line() -> None:
    assert typed("cou\x0cnt\r\x04")[1].talk.asked == ["count"]


def test_a_pasted_recipe_is_asked_line_by_line_without_the_blank_ones() -> None:
    assert typed("\x1b[200~count\n\n  \n3 lb of it\x1b[201~\r\x04")[1].talk.asked == ["count", "3 lb of it"]


@pytest.mark.parametrize("word", ["quit", "Exit", " bye "])
def test_a_farewell_leaves(word: str) -> None:
    status, desk = typed(f"{word}\r")
    assert (status, desk.talk.asked) == (0, [])


def test_at_most_two_cautions_and_more_shows_the_rest_once() -> None:
    desk = Desk()
    desk.counter.take("3 lb of it")
    assert desk.out.getvalue().count("Safety:") == 2
    assert HANDS.text not in desk.out.getvalue()
    assert desk.out.getvalue().endswith("1 more reminder: type more\n")
    desk.counter.take("more")
    assert desk.out.getvalue().count(HANDS.text) == 1
    desk.counter.take("more")  # nothing held back: now it is a request like any other
    assert desk.talk.asked == ["3 lb of it", "more"]


def test_a_caution_told_once_is_not_told_again_unless_urgent() -> None:
    reminders = Reminders(2)
    urgent = replace(COOK, text="Throw it away.", urgent=True)
    assert len(reminders.pick(BLEND).cautions) == 2
    assert reminders.pick(replace(BLEND, cautions=(COOK, urgent))).cautions == (urgent,)
    assert reminders.pick(replace(BLEND, cautions=(COOK, urgent))).cautions == (urgent,)


def test_a_held_caution_is_offered_again_until_it_was_shown() -> None:
    reminders = Reminders(2)
    reminders.pick(BLEND)
    assert reminders.held == (HANDS,)
    assert reminders.pick(BLEND).cautions == (HANDS,)


def test_notes_and_steps_that_were_told_are_not_told_again_until_the_answer_is_asked_for_once_more() -> None:
    told = replace(BLEND, cautions=(), notes=("one", "two", "three"))
    reminders = Reminders(2)
    first = reminders.pick(told)
    assert (first.notes, reminders.held_notes, first.steps) == (("one", "two"), ("three",), BLEND.steps)
    changed = reminders.pick(replace(told, headline="another weight", notes=("one", "four")))
    assert (changed.steps, changed.notes) == ((), ("The steps stay the same.", "four"))
    again = reminders.pick(replace(told, headline="another weight", notes=("one", "four")))
    assert (again.steps, again.notes) == (BLEND.steps, ("one", "four"))
    assert Reminders().pick(told) == told


def test_a_reading_is_told_once_until_the_answer_is_asked_for_once_more() -> None:
    reminders = Reminders(2)
    assert reminders.pick(BLEND).understood == BLEND.understood
    assert reminders.pick(replace(BLEND, headline="another")).understood == ""
    assert reminders.pick(replace(BLEND, headline="another")).understood == BLEND.understood


def test_more_shows_the_notes_held_back() -> None:
    desk = Desk()
    desk.talk.blend = replace(BLEND, notes=("one", "two", "three"))
    desk.counter.take("3 lb of it")
    assert desk.out.getvalue().endswith("1 more reminder, 1 more note: type more\n")
    desk.counter.take("show more")
    assert desk.out.getvalue().endswith(f"{HANDS.text}\n- three\n")


def test_a_fault_inside_does_not_end_the_conversation() -> None:
    desk = Desk()
    assert desk.counter.take("break\ncount")
    assert "Something went wrong inside the program" in desk.out.getvalue()
    assert "asked 2" in desk.out.getvalue()


def test_completion_offers_nothing_while_loading_and_survives_a_fault() -> None:
    desk = Desk()
    assert desk.counter.suggest("chu") == []
    desk.counter.talk()
    assert desk.counter.suggest("3 lb of chu") == ["chuck"]

    def broken(before: str) -> list[str]:
        raise KeyError(before)

    desk.talk.suggest = broken  # type: ignore[method-assign]
    assert desk.counter.suggest("chu") == []


@pytest.mark.parametrize(
    ("before", "suggestion", "kept"),
    [("3 lb of chu", "chuck", 3), ("3 lb of CHU", "chuck", 3), ("tic", "chuck", 0), ("3 lb ", "chuck", 0)],
)
def test_completion_goes_on_from_what_stands_there(before: str, suggestion: str, kept: int) -> None:
    assert overlap(before, suggestion) == kept


def test_a_whole_line_suggested_takes_the_place_of_its_beginning() -> None:
    assert overlap("3 lb at", "3 lb at 80/20") == len("3 lb at")


def test_a_conversation_without_clocks_has_no_toolbar() -> None:
    class Plainest:
        def ask(self, text: str) -> Answer:
            assert text
            return BLEND

        def suggest(self, before: str) -> list[str]:
            return [before]

    counter = Counter(Plainest, io.StringIO(), lambda: Page("plain", 72))
    counter.talk()
    assert (counter.toolbar(), counter.announcements()) == ("", [])


def test_the_plain_loop_announces_without_the_bell() -> None:
    desk = Desk()
    assert chat.plain_loop(desk.counter, io.StringIO("timer\n"), desk.out) == 0
    assert "Timer: rest is done.\n" in desk.out.getvalue()
    assert "\a" not in desk.out.getvalue()


def test_many_clocks_on_a_narrow_screen_take_three_lines_and_no_more() -> None:
    desk = Desk()
    desk.talk.bar = (
        "rest 4:59 | cubes 14:20 | second tray of cubes for the stall 40:10 | meat out 35 min, 85 left | a 1:00:00"
    )
    desk.counter.talk()
    desk.counter.page = lambda: Page("terminal", 30)
    assert desk.counter.toolbar().split("\n") == [
        "rest 4:59 | cubes 14:20",
        "second tray o..the stall 40:10",
        "meat out 35 min, 85 left +1",
    ]


def test_a_history_that_cannot_be_kept_is_no_reason_to_stop(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    history = chat._history(tmp_path / "file" / "history")
    assert type(history).__name__ == "InMemoryHistory"
