"""What fat can be reached, in words. The sums are the engine's: tests/engine/test_blend.py."""

from __future__ import annotations

import pytest

from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value


@pytest.mark.parametrize(
    ("line", "leanest", "fattest"),
    [
        ("how lean and how fat can I go with chuck 16% and suet 90%?", 16, 90),
        ("how fat can I get 4 lb from round 6% and 1 lb suet 90%", 6, 27),
        ("what fats can I make from shin 6%, chuck 16% and belly 50%", 6, 50),
    ],
)
def test_both_ends_within_the_limits(line: str, leanest: float, fattest: float) -> None:
    answer = Conversation().ask(line)
    assert value(answer, "fat", "leanest") == pytest.approx(leanest)
    assert value(answer, "fat", "fattest") == pytest.approx(fattest)


def test_of_the_batch_on_the_table() -> None:
    talk = Conversation()
    talk.ask("3 lb at 80/20 from round 6% and suet 90%")
    assert "leanest: 3 lb round" in said(talk.ask("how lean can I go"))
