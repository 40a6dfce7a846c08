"""Requests that were once answered beside the question: each is read as the cook meant it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def test_a_total_before_a_list_of_meats_is_that_of_the_batch(evening: Evening) -> None:
    # 20 % of 6 lb between 7.0 and 44.4 %: the six pounds were once the deer's alone
    answer = evening.ask("6 lb total of deer and pork belly, 20% fat")
    assert value(answer, "total") == pytest.approx(6)


def test_a_meat_taken_back_by_its_last_word_is_gone(evening: Evening) -> None:
    answer = evening.ask("1.8 kg at 18% fat, lamb breast and lamb shoulder, sorry, leg not shoulder")
    assert [figure.name for figure in answer.figures if figure.role == "component"] == ["lamb breast", "leg"]


def test_meat_in_the_tub_is_meat_that_is_there_and_no_pack_to_buy(evening: Evening) -> None:
    # 12 x 2 + 36 x 1 = 60 burgers; 7.2 kg / 60 = 120 g
    answer = evening.ask("There are 48 of us. A quarter will eat two, everybody else one, and I've 7.2 kg in the tub")
    assert value(answer, "patty_weight") == pytest.approx(120, rel=0.01)


def test_what_is_stuck_round_the_auger_is_lost_and_no_round(evening: Evening) -> None:
    # (8 + 0.25) / (1 - 1/5) = 10.3125
    answer = evening.ask(
        "need 8 kg. I lose a fifth in trimming and a quarter kilo stuck round the auger, how much to buy"
    )
    assert value(answer, "purchase") == pytest.approx(10.3125, rel=0.005)


def test_what_a_cup_weighs_is_asked_of_what(evening: Evening) -> None:
    answer = evening.ask("whats a cup weigh")
    assert answer.status is Status.NEEDS_DETAIL
    assert "Of what?" in answer.message


@pytest.mark.parametrize("line", ["need mince defrosted by Sunday", "mince thawed by 4 July 2027"])
def test_thawed_by_a_day_to_come_is_a_wish_and_no_age(evening: Evening, line: str) -> None:
    # it was once told to throw the meat away
    answer = evening.ask(line, "1 lb packs")
    assert "move it to the fridge" in said(answer)
    assert "throw" not in said(answer)


def test_an_ing_without_its_g_is_understood(evening: Evening) -> None:
    answer = evening.ask("6 lb from bottom round and beef fat trim, aimin for 15% fat")
    assert value(answer, "fat") == pytest.approx(15)


def test_under_before_a_name_is_no_limit(evening: Evening) -> None:
    answer = evening.ask("3 lb chuck, 1 lb short rib", "save this one under Garage Night")
    assert 'saved as "garage night"' in said(answer)
