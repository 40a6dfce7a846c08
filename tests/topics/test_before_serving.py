"""The clock worked back from serving by the times that the line itself names; worked out by hand."""

from __future__ import annotations

import pytest

from assistant import Conversation
from assistant.answer import Answer, Role, Status


def last(*lines: str) -> Answer:
    """The answer to the last of some turns."""
    talk = Conversation()
    for line in lines[:-1]:
        talk.ask(line)
    answer: Answer = talk.ask(lines[-1])
    return answer


@pytest.mark.parametrize(
    ("lines", "clock"),
    [
        (("eating at 7 pm, burgers take 12 min and then rest 5. when do they go on?",), "18:43"),
        (("burgers take 12 min then rest 5, eating at 7. when do they come off?",), "18:55"),
        (("we eat at 8pm, patties need 6 minutes a side and 5 to rest, when should I put them on",), "19:43"),
        (("serve at 19:00, shaping takes 20 min, chill 30 min, cook 12 min, when do I start",), "17:58"),
        (("serve at 19:00, shaping takes 20 min, cook 12 min, when do I put them on",), "18:48"),
        (
            (
                "Serving at 1:30 pm. Burgers take 12 minutes on the grill and I want them off 5 minutes before we "
                "serve. When do they go on?",
            ),
            "13:13",
        ),
        (
            (
                "Second sitting's at 1:15 pm",
                "15 minutes on the grill and 10 minutes to shape them first. When do I start shaping?",
            ),
            "12:50",
        ),
    ],
)
def test_the_moment_that_is_asked_about_stands_first(lines: tuple[str, ...], clock: str) -> None:
    """What comes before the step that is asked about is not counted back."""
    moments = [figure.value for figure in last(*lines).figures if figure.role is Role.CLOCK_TIME]
    assert moments[0] == clock


def test_a_step_of_no_length_is_asked_about() -> None:
    """Not the start of the cooking in its place."""
    answer = last("eat at 7, cook 12 min, rest 5 min, when do I start shaping them")
    assert answer.status is Status.NEEDS_DETAIL
    assert "shaping" in answer.message


def test_numbers_that_are_no_lengths_of_time_are_not_passed_over() -> None:
    """40 people or a bare 15 make it another request, or none."""
    assert last("10 minutes to shape, 15 on the grill, eating at 6, when do they go on").topic != "before_serving"
    assert last("second sitting at 1:15 for 40").topic != "before_serving"
