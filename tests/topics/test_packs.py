"""Whole packs in words. The sums are the engine's (tests/engine/test_packs.py compares it with an outside solver)."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Answer, Status
from tests.topics.kitchen_talk import Evening, said, value

PACKS = "round comes in 2 lb packs at $9, suet in 1 lb packs at $3"
WHOLE = f"{PACKS}, need 5 lb at 80/20"


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def bought(answer: Answer) -> dict[str, float | str]:
    """Packs to buy, by name."""
    return {figure.name: figure.value for figure in answer.figures if figure.role.value == "purchase"}


@pytest.mark.parametrize(
    "line",
    [
        WHOLE,
        "2 lb packs of round are $9 each, 1 lb packs of suet $3 each, I want 5 lb at 80/20",
        "packs: round 2 lb for $9, suet 1 lb for $3; 5 lb at 80/20",
        "5 lb at 80/20: round in 2 lb packs at $9, suet in 1 lb packs at $3",
        "how many packs do I buy for 5 lb at 80/20? round 2 lb packs $9, suet 1 lb packs $3",
        "round comes in 2 lb packs ($9) and suet in 1 lb packs ($3), how many packs for 5 lb at 80/20",
        "round: $9 per 2 lb pack. suet: $3 per 1 lb pack. 5 lb at 80/20",
        "$9 for a 2 lb pack of round, $3 for a 1 lb pack of suet, need 5 lb at 80/20",
        "round comes in 2 lb packs at 9, suet in 1 lb packs at 3, need 5 lb at 80/20",
        "if round comes in 2 lb packs at $9 and suet in 1 lb packs at $3, what's cheapest for 5 lb at 80/20?",
    ],
)
def test_the_cheapest_packs(evening: Evening, line: str) -> None:
    """Round at 7.33 % and suet at 94 %: 4.27 lb and 0.73 lb, so three packs at $9 and one at $3."""
    answer = evening.ask(line)
    assert bought(answer) == {"2 lb packs of round": 3, "1 lb packs of suet": 1}
    assert value(answer, "cost") == 30
    assert value(answer, "component", "round") == pytest.approx(4.2696, abs=0.001)
    assert value(answer, "left_over", "round") == pytest.approx(6 - 4.2696, abs=0.001)
    assert value(answer, "fat") == 20


def test_two_sizes_of_one_cut_and_chuck_in_bags(evening: Evening) -> None:
    two = evening.ask(
        "round comes in 2 lb packs at $9 or 5 lb packs at $20, suet in 1 lb packs at $3, need 5 lb at 80/20"
    )
    assert bought(two) == {"5 lb packs of round": 1, "1 lb packs of suet": 1}
    chuck = evening.ask("chuck in 1 kg bags at €11, brisket trim in 2 kg bags at €9, want 6 kg at 75/25")
    assert bought(chuck) == {"1 kg packs of chuck": 5, "2 kg packs of brisket trim": 1}
    assert value(chuck, "cost") == 64


def test_labels_tell_packs_of_one_name_apart(evening: Evening) -> None:
    answer = evening.ask("beef mince 5% 400g packs £3, beef mince 20% 400g packs £2, 2 kg at 12% fat")
    assert bought(answer) == {"400 g packs of 5% beef mince": 3, "400 g packs of 20% beef mince": 3}


def test_what_is_there_already_is_free(evening: Evening) -> None:
    answer = evening.ask(f"{PACKS}, I have 1 lb of round, need 5 lb at 80/20")
    assert bought(answer) == {"2 lb packs of round": 2, "1 lb packs of suet": 1}


def test_what_is_missing_is_asked_for(evening: Evening) -> None:
    assert "how much do you want to make" in said(evening.ask(PACKS))
    assert "at what lean to fat" in said(evening.ask("5 lb"))
    assert value(evening.ask("80/20"), "cost") == 30
    assert "what does a pack of suet cost" in said(
        evening.ask("round comes in 2 lb packs at $9, suet in 1 lb packs, need 5 lb at 80/20")
    )
    assert value(evening.ask("$3"), "cost") == 30
    assert "what does a pack of round weigh" in said(
        evening.ask("round comes in packs at $9, suet in 1 lb packs at $3, need 5 lb at 80/20")
    )
    assert value(evening.ask("2 lb"), "cost") == 30


def test_another_batch_from_the_same_packs(evening: Evening) -> None:
    assert value(evening.ask(WHOLE, "make it 8 lb"), "cost") == 42
    assert value(evening.ask("and at 75/25?"), "fat") == 25


def test_packs_for_the_batch_on_the_table(evening: Evening) -> None:
    assert value(evening.ask("5 lb at 80/20 from round and suet", PACKS), "cost") == 30


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("round comes in 2 lb packs at $9, suet in 1 lb packs at £3, need 5 lb at 80/20", "never convert money"),
        ("round comes in 2 lb packs at $9, chuck in 1 lb packs at $7, need 5 lb at 60/40", "add something fatter"),
        (
            "round comes in 2 lb packs at $9, at most 1 pack, suet in 1 lb packs at $3, need 5 lb at 80/20",
            "they reach 59.3 to 94% fat",
        ),
        ("round comes in 2 lb packs at $9, suet in 0 lb packs at $3, need 5 lb at 80/20", "which figure is a slip"),
        (f"{PACKS}, need 0 lb at 80/20", "no batch to buy packs for"),
    ],
)
def test_what_cannot_be_bought(evening: Evening, line: str, words: str) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.IMPOSSIBLE
    assert words in said(answer)


@pytest.mark.parametrize(
    "line",
    [
        "I've two 500 g packs of 12% mince and one 750 g pack of 20%. Tipped together, what's the fat?",
        "How long to thaw a 1 lb pack in cold water?",
        "topside £9.80/kg 3 kg, brisket £8.20/kg 1.5 kg: cost per 150 g burger",
    ],
)
def test_lines_of_others(evening: Evening, line: str) -> None:
    assert evening.ask(line).topic != "packs"
