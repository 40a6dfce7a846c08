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


# ---- seasonings

SALTED = "2.4 kg round at 6% fat and 1.6 kg brisket trim at 40% fat, 10 g salt and 2 g pepper per kilo"


@pytest.mark.parametrize(
    "line",
    [
        "actually 38 g of salt went in",
        "in the end I put in 38 g of salt",
        "I only put in 38 g of salt",
        "the scale said 38 g salt",
        "38 g of salt went into fair stall",
        "I used 38 g of salt in fair stall",
    ],
)
def test_a_seasoning_truly_weighed_is_kept_shown_and_used_again(evening: Evening, line: str) -> None:
    """It changed the batch on the table and was never written down."""
    answer = evening.ask(SALTED, "save that as fair stall", line)
    assert "38 g salt (40 g planned)" in answer.headline
    kept = Notebook(evening.path).get("fair stall")
    salt, pepper = kept.seasonings
    assert (salt.grams, salt.weighed) == (Fraction(40), Fraction(38))
    assert (pepper.grams, pepper.weighed) == (Fraction(8), None)
    later = evening.another()
    assert value(later.ask("show fair stall"), "seasoning", "salt") == 38
    again = later.ask("fair stall again for 8 kg")
    assert value(again, "seasoning", "salt") == pytest.approx(76)
    assert value(again, "seasoning", "pepper") == pytest.approx(16)
    assert value(later.ask("how much salt was in fair stall?"), "seasoning", "salt") == 38


def test_a_cut_and_a_seasoning_weighed_in_one_line(evening: Evening) -> None:
    answer = evening.ask(SALTED, "save that as fair stall", "actually 1.8 kg of trim and 38 g salt")
    assert value(answer, "component", "trim") == pytest.approx(1.8)
    assert value(answer, "seasoning", "salt") == 38
    assert value(answer, "seasoning", "pepper") == 8


def test_a_weighed_seasoning_is_undone_and_compared(evening: Evening) -> None:
    evening.ask("4 kg chuck, 15 g salt per kilo, save as Bow", "4 kg chuck, 15 g salt per kilo, save as Stern")
    evening.ask("I really used 70 g of salt in Bow")
    assert "60 g salt instead of 70 g salt" in said(evening.ask("compare Bow and Stern"))
    assert "no difference" in said(evening.ask("undo", "compare Bow and Stern"))


def test_the_fat_stays_where_only_the_salt_was_weighed(evening: Evening) -> None:
    answer = evening.ask(SALTED, "save that as fair stall", "actually 38 g of salt went in")
    assert value(answer, "fat") == pytest.approx(19.6)


def test_amounts_of_a_recipe_and_one_that_was_weighed(evening: Evening) -> None:
    """30 g salt and 6 g pepper for 2 kg, 3 kg made: 45 and 9 g planned, of which 50 g salt went in."""
    evening.ask("30 g salt, 6 g pepper does 2 kg. do me 3 kg", "save that as shaker", "actually 50 g of salt went in")
    answer = evening.ask("shaker again for 6 kg")
    assert value(answer, "seasoning", "salt") == pytest.approx(100)
    assert value(answer, "seasoning", "pepper") == pytest.approx(18)


def test_a_seasoning_said_by_the_spoon_and_then_weighed(evening: Evening) -> None:
    answer = evening.ask(
        "4 kg chuck, 3 tbsp salt and 2 tsp pepper", "save that as Bow", "actually 50 g of salt went in"
    )
    assert "50 g salt" in answer.headline
    assert value(evening.ask("Bow again for 2 kg"), "seasoning", "salt") == pytest.approx(25)


def test_a_spoon_is_not_weighed(evening: Evening) -> None:
    answer = evening.ask(SALTED, "save that as fair stall", "actually 2 tbsp of salt went in")
    assert answer.status is Status.NEEDS_DETAIL
    assert "how many grams" in said(answer)
    assert not Notebook(evening.path).get("fair stall").was_weighed


@pytest.mark.parametrize(("plan", "known"), [(SALTED, "only salt and pepper"), (PLAN, "no other seasoning")])
def test_a_seasoning_that_is_not_in_the_batch_is_told(evening: Evening, plan: str, known: str) -> None:
    answer = evening.ask(plan, "save that as fair stall", "actually 5 g of cumin went in")
    assert answer.status is Status.NEEDS_DETAIL
    assert known in said(answer)


def test_of_two_kinds_of_salt_it_is_asked_which(evening: Evening) -> None:
    line = "4 kg chuck, 30 g kosher salt and 10 g celery salt"
    answer = evening.ask(line, "save that as Bow", "actually 38 g of salt went in")
    assert answer.status is Status.NEEDS_DETAIL
    assert "kosher salt or celery salt" in said(answer)


def test_a_weighed_seasoning_of_a_batch_that_is_not_kept(evening: Evening) -> None:
    answer = evening.ask(SALTED, "actually 38 g of salt went in")
    assert value(answer, "seasoning", "salt") == pytest.approx(38)
    assert "save it as" in said(answer)


@pytest.mark.parametrize("line", ["how much salt went in?", "what went in?", "38 g of salt went in?"])
def test_a_question_writes_nothing(evening: Evening, line: str) -> None:
    evening.ask(SALTED, "save that as fair stall", line)
    assert not Notebook(evening.path).get("fair stall").was_weighed
