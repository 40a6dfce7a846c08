"""A correction by a figure alone says the change of before once more with it, on the batch that was changed."""

from __future__ import annotations

import pytest

from assistant import Answer, Conversation, Role, Status

CROWD = "70 people, one 160 g burger each"
BATCH = "5 lb 80/20 chuck and suet"


def told(answer: Answer, role: Role) -> float:
    """The one figure of a role."""
    (figure,) = (figure for figure in answer.figures if figure.role is role)
    return float(figure.value)


@pytest.mark.parametrize(
    ("first", "change", "correction", "role", "value"),
    [
        # six people were left of seventy
        (CROWD, "8 of them are vegetarian", "no wait, 6", Role.PATTY_COUNT, 64),
        (CROWD, "10% extra", "no 15", Role.PATTY_COUNT, 81),
        (CROWD, "3 can't come", "i mean 4", Role.PATTY_COUNT, 66),
        (BATCH, "make it 8 lb", "no wait 4 kg", Role.TOTAL, 4),
        (BATCH, "make it 75/25", "sorry 70/30", Role.FAT, 30),
    ],
)
def test_the_change_is_made_once_more_with_the_other_figure(
    first: str, change: str, correction: str, role: Role, value: float
) -> None:
    """Whatever the first figure was said of."""
    talk = Conversation()
    talk.ask(first)
    talk.ask(change)
    answer = talk.ask(correction)
    assert answer.status is Status.ANSWERED
    assert told(answer, role) == pytest.approx(value)


def test_undo_goes_back_before_the_change_that_was_corrected() -> None:
    """The change that was meant is one turn, however often it was said."""
    talk = Conversation()
    before = talk.ask(CROWD)
    talk.ask("8 of them are vegetarian")
    talk.ask("no wait, 6")
    assert talk.ask("undo").figures == before.figures


@pytest.mark.parametrize("line", ["thanks", "why"])
def test_a_line_without_a_figure_is_not_said_once_more(line: str) -> None:
    """What was said in between holds nothing to put right: the figure is the batch's."""
    talk = Conversation()
    talk.ask(BATCH)
    talk.ask(line)
    assert told(talk.ask("no wait 6"), Role.TOTAL) == 6
