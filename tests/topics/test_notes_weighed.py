"""What was truly weighed, and what follows from it: the fat, the stock, what is compared, made again and learned from."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import Status
from assistant.notebook import Notebook, compare_batches
from tests.topics.kitchen_talk import Evening, said, value

PLAN = "4 kg at 20% from round at 6% fat and brisket trim at 40% fat"
ROUND = 4 * 20 / 34
"""Kilograms of round at 6 % in 4 kg at 20 % beside trim at 40 %: 4 (40 - 20) / (40 - 6)."""


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    "line",
    [
        "actually 1.8 kg of trim",
        "it was actually 1.8 kg of trim",
        "I weighed 1.8 kg of trim in the end",
        "the scale said 1.8 kg trim",
        "ended up with 1800 g of brisket trim",
        "I really put in 1.8 kg trim",
        "the trim was 1.8 kg in the end",
        "fair stall: actually used 1.8 kg trim",
    ],
)
def test_what_was_weighed_is_kept_beside_what_was_planned(evening: Evening, line: str) -> None:
    answer = evening.ask(PLAN, "save that as fair stall", line)
    whole = ROUND + 1.8
    assert value(answer, "component", "trim") == pytest.approx(1.8)
    assert value(answer, "fat") == pytest.approx((ROUND * 6 + 1.8 * 40) / whole)
    kept = Notebook(evening.path).get("fair stall")
    assert [part.weighed for part in kept.parts] == [None, 1800]
    assert kept.target_fat == 20
    assert "1.65 kg planned" in answer.headline


def test_two_cuts_weighed_in_one_line(evening: Evening) -> None:
    answer = evening.ask(PLAN, "save that as fair stall", "I really put in 1800 g trim and 2.2 kg round")
    assert value(answer, "fat") == pytest.approx(21.3)


def test_weighing_is_undone(evening: Evening) -> None:
    evening.ask(PLAN, "save that as fair stall", "actually 1.8 kg of trim", "undo")
    assert not Notebook(evening.path).get("fair stall").was_weighed


def test_a_cut_that_is_not_in_the_batch_is_asked_about(evening: Evening) -> None:
    answer = evening.ask(PLAN, "save that as fair stall", "actually 300 g of pork belly")
    assert answer.status is Status.NEEDS_DETAIL
    assert "pork belly" in answer.message
    assert not Notebook(evening.path).get("fair stall").was_weighed


def test_a_batch_that_is_not_kept_is_worked_out_as_weighed(evening: Evening) -> None:
    answer = evening.ask(PLAN, "I weighed out 1.8 kg of trim")
    assert value(answer, "total") == pytest.approx(ROUND + 1.8)
    evening.ask("save that as pier")
    assert Notebook(evening.path).get("pier").parts[1].grams == 1800


def test_a_batch_changed_since_it_was_kept_is_not_written_over(evening: Evening) -> None:
    evening.ask(PLAN, "save that as fair stall", "fair stall again for 8 kg", "I weighed 3.5 kg of trim")
    assert not Notebook(evening.path).get("fair stall").was_weighed


def test_made_again_it_is_the_batch_that_was_eaten(evening: Evening) -> None:
    answer = evening.ask(PLAN, "save that as fair stall", "actually 1.8 kg of trim", "fair stall again for 2 kg")
    assert value(answer, "component", "trim") == pytest.approx(2 * 1.8 / (ROUND + 1.8), abs=0.001)
    assert value(answer, "total") == pytest.approx(2)


def test_what_was_used_and_compared_is_what_was_weighed(evening: Evening) -> None:
    evening.ask(PLAN, "save that as fair stall", "actually 1.8 kg of trim")
    assert value(evening.ask("how much trim did I use in June"), "total") == pytest.approx(1800)
    kept = Notebook(evening.path).get("fair stall")
    assert compare_batches(kept, kept).parts[1].grams == (Fraction(1800), Fraction(1800))


def test_the_stock_is_drawn_down_by_what_was_weighed(evening: Evening) -> None:
    evening.ask("remember I have 5 kg round and 3 kg brisket trim", PLAN, "save that as fair stall")
    answer = evening.ask("actually 1.8 kg of trim", "made it")
    assert "1.2 kg" in said(answer)


def test_patties_follow_from_what_was_weighed(evening: Evening) -> None:
    evening.ask("3 kg round at 6% fat into 150 g patties", "save that as pier", "actually 3.6 kg of round")
    assert value(evening.ask("show pier"), "patty_count") == 24
