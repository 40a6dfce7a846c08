"""Burgers counted into bags: full ones, and what is in the last."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("lines", "what", "needed"),
    [
        # 5,700 / 75 = 76 sliders; 76 / 8 = 9.5
        (("5.7 kg into 75 g sliders", "they freeze 8 to a bag, how many bags?"), "bags", 10),
        (("170 patties, 24 fit in a box. How many boxes?",), "boxes", 8),
        (("60 burgers, 6 per bag, how many bags do i need",), "bags", 10),
        (("84 rissoles, freezing a dozen to a tray, how many trays",), "trays", 7),
        (("45 guests 2 burgers each 150 g", "ten to a box, how many boxes"), "boxes", 9),
        (("20 burgers in how many packs of 8",), "packs", 3),
    ],
)
def test_burgers_in_bags(evening: Evening, lines: tuple[str, ...], what: str, needed: float) -> None:
    assert value(evening.ask(*lines), "ratio", what) == needed


def test_the_last_bag_is_told(evening: Evening) -> None:
    assert "the last holds 4" in said(evening.ask("20 burgers, 8 to a bag, how many bags"))
    assert "all full" in said(evening.ask("24 burgers, 8 to a bag, how many bags"))
    assert "1 bag:" in said(evening.ask("3 burgers, 8 to a bag, how many bags"))


@pytest.mark.parametrize(
    "line",
    [
        "8 to a bag, how many bags?",
        "60 burgers, 0 to a bag, how many bags",
        "60 burgers, 8 to a bag at 20p, 3 spare, how many bags",
    ],
)
def test_what_is_not_said_in_full_is_not_answered(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.topic != "bags" or answer.status is not Status.ANSWERED


def test_rolls_in_packs_are_not_bags_of_burgers(evening: Evening) -> None:
    assert evening.ask("210 burgers, rolls come in packs of 12 - how many packs?").topic != "bags"


def test_meat_in_packs_is_not_counted_by_the_last_answer(evening: Evening) -> None:
    answer = evening.ask("3 lb chuck", "8 to a bag, how many bags")
    assert answer.topic != "bags"


def test_one_load_of_the_bowl_is_one_load(evening: Evening) -> None:
    # "Work in 1 loads"
    assert "1 load of" in said(evening.ask("2 lb into 4 oz patties, bowl holds 4 lb"))
    assert "1 load of" in said(evening.ask("4 people, one 4 oz burger each, bowl holds 4 lb"))
