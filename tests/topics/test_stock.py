"""What meat is in the kitchen."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def grams(evening: Evening) -> dict[str, Fraction | None]:
    """What the notebook holds, in grams."""
    return {item.cut: item.grams for item in Notebook(evening.path).stock()}


@pytest.mark.parametrize(
    "line",
    [
        "remember I have 2 kg round and 1 kg fat trim",
        "stock: 2 kg round, 1 kg fat trim",
        "in my freezer I keep 2 kg round and 1 kg fat trim",
        "I have 2 kg round and 1 kg fat trim in stock",
        "put 2 kg round and 1 kg fat trim in stock",
    ],
)
def test_stock_is_remembered_when_told_so(evening: Evening, line: str) -> None:
    assert evening.ask(line).status is Status.ANSWERED
    assert grams(evening) == {"fat trim": 1000, "round": 2000}


@pytest.mark.parametrize(
    "line",
    [
        "2 kg round in the fridge, how long?",
        "put 3 lb round in the freezer for how long?",
        "2 kg round and 1 kg fat trim",
        "I have 2 kg round and 1 kg fat trim, how many patties?",
        "I have 2 kg round and 1 kg fat trim for 12 people",
        "I have no round",
        "do I have 2 kg round?",
        "I have 2 kg round and 1 kg fat trim, make it 80/20",
    ],
)
def test_meat_that_something_is_asked_of_is_not_for_keeping(evening: Evening, line: str) -> None:
    evening.ask(line)
    assert not evening.path.exists()


def test_it_is_shown(evening: Evening) -> None:
    answer = evening.ask("remember I have 2 kg round", "what's in my kitchen?")
    assert "round" in said(answer)
    assert value(answer, "component", "round") == pytest.approx(2 / 0.45359237)


def test_what_was_made_comes_off(evening: Evening) -> None:
    answer = evening.ask("remember I have 2 kg round", "1 kg round and 200 g suet", "made it")
    assert grams(evening) == {"round": 1000}
    assert "not in stock, so not taken off: suet" in said(answer)


def test_more_than_there_was_is_said(evening: Evening) -> None:
    answer = evening.ask("remember I have 2 kg round", "used 5 kg round from stock")
    assert grams(evening) == {"round": 0}
    assert "more round than the stock had" in said(answer)


def test_corrections(evening: Evening) -> None:
    evening.ask("remember I have 2 kg round", "add 500 g round to the stock")
    assert grams(evening) == {"round": 2500}
    evening.ask("actually I have 3 kg round in stock")
    assert grams(evening) == {"round": 3000}
    evening.ask("remove round from stock")
    assert grams(evening) == {}


def test_a_batch_from_stock(evening: Evening) -> None:
    answer = evening.ask("remember I have 2 kg round at 8% fat and 1 kg suet at 92% fat", "1 kg at 80/20 from my stock")
    assert value(answer, "component", "suet") == pytest.approx(1000 / 7 / 1000, rel=1e-6)


def test_a_batch_that_cannot_be_made_takes_nothing_off(evening: Evening) -> None:
    """It once emptied the stock: the limits of the batch were taken for what went into it."""
    evening.ask("I have 2 kg round and 1 kg fat trim")
    assert evening.ask("3 kg at 80/20 from my stock").status is Status.IMPOSSIBLE
    assert evening.ask("made it").status is Status.NEEDS_DETAIL
    assert grams(evening) == {"fat trim": 1000, "round": 2000}


def test_one_cut_that_is_there_is_told_as_the_notebooks(evening: Evening) -> None:
    """It once came as a batch without a batch's reminders."""
    answer = evening.ask("I have 2 kg fat trim")
    assert (answer.status, answer.topic) == (Status.ANSWERED, "notebook")


def test_nothing_made_is_asked(evening: Evening) -> None:
    assert evening.ask("made it").status is Status.NEEDS_DETAIL


def test_a_fat_figure_of_the_cooks_own_is_kept(evening: Evening) -> None:
    answer = evening.ask("my brisket trim is 55% fat, remember that")
    assert "brisket trim at 55% fat" in said(answer)
    assert Notebook(evening.path).stock()[0].fat == 55
