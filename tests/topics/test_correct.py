"""Corrections in words. The sums are the engine's: tests/engine/test_correct.py."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value


@pytest.mark.parametrize(
    "line",
    [
        "2 kg of mince at 30% fat, keep it at 2 kg, take some out and replace with round at 5% for 20%",
        "without making it heavier bring 2 kg of 30% mince to 20% with 5% round",
        "2 kg at 30% fat, keep the weight, replace some with round 5%, want 20%",
        "bring 2 kg at 70/30 to 80/20 with round at 5% fat, keep the weight",
    ],
)
def test_the_weight_stays(line: str) -> None:
    answer = Conversation().ask(line)
    assert value(answer, "left_over", "take out") == pytest.approx(0.8)
    assert value(answer, "total", "batch") == pytest.approx(2)
    assert value(answer, "fat") == pytest.approx(20)


def test_stock_of_what_goes_in_is_no_batch() -> None:
    # was "take out 180 g … still 300 g": the stock of round was taken for the batch
    answer = Conversation().ask(
        "2 kg mince at 30% fat, keep the weight, swap some out for round 5%, I have only 300 g round, want 20%"
    )
    assert answer.status is Status.IMPOSSIBLE
    assert value(answer, "add", "round more") == pytest.approx(0.5)


def test_what_was_understood_reads_back() -> None:
    for line in (
        "4 lb of 90/10 already salted at 1%, too lean, want 80/20, add suet at 95%, I only have 1 lb",
        "2 kg mince at 30% fat, keep the weight, swap some for round 5%, want 20%",
    ):
        answer = Conversation().ask(line)
        again = Conversation().ask(answer.understood)
        assert again.understood == answer.understood
        assert again.figures == answer.figures


def test_salt_is_thinned_and_told() -> None:
    answer = Conversation().ask("my 3 lb batch at 70/30 is already salted at 1.5%, add round at 5% to reach 80/20")
    assert value(answer, "ratio", "salt") == pytest.approx(0.9)
    assert "thins the salt" in said(answer)
    unknown = Conversation().ask("3 lb of 70/30 is already salted, too fat, add round at 5% to reach 80/20")
    assert "taste" in said(unknown)


def test_a_lighter_batch_than_was_said() -> None:
    # was answered unchanged: the plan's batch was not the ground batch
    talk = Conversation()
    talk.ask("5 lb of 90/10, make it 80/20 with suet at 94")
    assert value(talk.ask("what if it's only 4 lb"), "add", "suet") == pytest.approx(40 / 74)
