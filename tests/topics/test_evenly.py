"""Equal patties with nothing left over, in words."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.session import Conversation
from tests.topics.kitchen_talk import value


@pytest.mark.parametrize(
    ("line", "count", "each"),
    [
        ("3 lb into equal patties of at least 5 oz with nothing left", 9, 48 / 9),
        ("1 kg into patties of at most 120 g, nothing left over", 9, 1000 / 9),
        ("3 lb into equal patties between 5 and 6 oz", 9, 48 / 9),
        ("split 2 kg into equal burgers no more than 150 g", 14, 2000 / 14),
        ("3 lb into 5 oz patties with none left over", 10, 4.8),
    ],
)
def test_all_of_it_is_shared_out(line: str, count: int, each: float) -> None:
    # was answered with so much left over, past the bound and the wish
    answer = Conversation().ask(line)
    assert value(answer, "patty_count") == count
    assert value(answer, "patty_weight") == pytest.approx(each)
    assert not any(figure.role == "left_over" for figure in answer.figures)


def test_a_plain_size_still_leaves_the_rest() -> None:
    assert value(Conversation().ask("3 lb into 5 oz patties"), "left_over") == pytest.approx(3 / 16)


def test_where_no_number_fits_the_nearest_are_told() -> None:
    answer = Conversation().ask("1 kg into equal patties between 510 and 600 g")
    assert answer.status is Status.IMPOSSIBLE
    assert [f.value for f in answer.figures] == [1000, 500]


def test_the_batch_on_the_table() -> None:
    talk = Conversation()
    talk.ask("3 lb at 80/20 from round 6% and suet 90%")
    assert value(talk.ask("equal patties of at least 5 oz, nothing left"), "patty_count") == 9
    assert value(talk.ask("make it 6 lb"), "total", "batch") == 6
