"""Lines that mean to change the batch and do not are asked about; those that the same answer answers are not."""

from __future__ import annotations

import pytest

from assistant import Conversation
from assistant.answer import Status
from assistant.unchanged import QUESTION

FORTY = "40 burgers of 150 g"


@pytest.mark.parametrize(
    ("first", "second"),
    [
        # the old answer came once more, as if the words had not been there
        ("3 kg at 20% from shin 6% and jowl 68%, 1.5% salt", "a tad less salt"),
        (FORTY, "and on sunday 30"),
        (FORTY, "sunday the same but 30"),
        ("I bought 30 lb of beef for 80 people, one 5 oz burger each", "how many more burgers are in what's left?"),
    ],
)
def test_a_change_that_changes_nothing_is_asked_about(first: str, second: str) -> None:
    """The batch stays on the table for the next line."""
    talk = Conversation()
    before = talk.ask(first)
    answer = talk.ask(second)
    assert (answer.status, answer.message, answer.figures) == (Status.NEEDS_DETAIL, QUESTION, ())
    assert talk.ask("again, please").figures == before.figures


@pytest.mark.parametrize("second", ["how many kilos is that", "so 6 kg", "6 kg right?", "what's left over?"])
def test_what_the_same_answer_answers_is_answered(second: str) -> None:
    """Figures of the answer said back, and questions about it."""
    talk = Conversation()
    talk.ask(FORTY)
    assert talk.ask(second).status is Status.ANSWERED


@pytest.mark.parametrize("weight", ["0.5", "1.5", "3.25"])
def test_the_same_request_once_more_is_answered_once_more(weight: str) -> None:
    """ "0.5 lb" is told as "1/2 lb": that its figure stands nowhere in the answer made it a change in vain."""
    talk = Conversation()
    line = f"{weight} lb at 79/21 from round and suet 92%"
    assert talk.ask(line).figures == talk.ask(line).figures != ()
