"""Phrases that say one thing between them: read as one, and nothing of them is dropped."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "days"),
    [
        # two each of 6 oz: 12 x 2 x 6 / 16 = 9 lb, 20 x 2 x 6 / 16 = 15 lb
        ("12 people saturday and 20 sunday, 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        ("12 people on saturday, 20 people on sunday, 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        ("saturday 12 people sunday 20 people 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        # two each of 5 oz: 8 x 10 / 16 = 5 lb, 14 x 10 / 16 = 8.75 lb, 6 x 10 / 16 = 3.75 lb
        ("8 friday 14 saturday 6 sunday two 5 oz burgers each", {"Friday": 5, "Saturday": 8.75, "Sunday": 3.75}),
    ],
)
def test_people_are_told_day_by_day(evening: Evening, line: str, days: dict[str, float]) -> None:
    answer = evening.ask(line)
    for day, pounds in days.items():
        assert value(answer, "total", day) == pytest.approx(pounds)


@pytest.mark.parametrize(
    ("line", "role", "name", "figure"),
    [
        ("we will be four, quarter pounders", "patty_count", "", 4),
        ("12 equal patties from 2 kg", "patty_weight", "", 2000 / 12),
        ("how many 5 oz to the pound", "patty_count", "", 3),
        ("how many 4 oz burgers to a pound", "patty_count", "", 4),
        ("make 4 lots of 2 kg, salt 15 g/kg", "seasoning", "salt", 120),
        ("triple batch of 2 lb 85/15 chuck round suet", "total", "batch", 6),
        ("a double batch of 3 lb at 80/20, brisket trim and round", "total", "batch", 6),
        ("one of brisket two of chuck 6 lb", "component", "chuck", 4),
        ("100% meat, 2% salt, 0.3% pepper, 10% water for 4 kg", "seasoning", "salt", 80),
        ("meat is 100, salt 1.8, pepper .4, want 3.5 kilos", "seasoning", "pepper", 14),
        ("6 kg rump, threw out 900 g of fat, how much is left", "total", "left", 5.1),
        ("10 lb chuck, 1.5 lb of it ended up in the bin, how many 5 oz patties", "total", "meat", 8.5),
        # 6 kg at 19.00 over the 5.1 kg that is left
        (
            "whole rump £19/kg, 6 kg of it; 900 g of fat off it went in the bin. cost per kg of what's left?",
            "price",
            "",
            22.3529,
        ),
        # 3 x + 95 (5 - x) = 20 x 5: x = 375 / 92
        ("rump 9 quid a kilo fat 3%, suet 95% 2 quid a kilo, 5 kg 80/20", "component", "rump", 375 / 92),
    ],
)
def test_two_phrases_are_one(evening: Evening, line: str, role: str, name: str, figure: float) -> None:
    assert value(evening.ask(line), role, name) == pytest.approx(figure, rel=1e-4)


def test_a_double_batch_is_not_made_once(evening: Evening) -> None:
    # "double" was dropped in silence beside what there is
    answer = evening.ask("got 6 lb round and 4 lb suet, make me a double batch of 3 lb at 80/20")
    assert value(answer, "total", "batch") == pytest.approx(6)


def test_batches_that_come_out_of_a_weight_are_not_added_to_it(evening: Evening) -> None:
    answer = evening.ask("12 lb in 3 batches of 4 lb, salt 1.5%")
    assert answer.status is not Status.ANSWERED or value(answer, "total") == pytest.approx(12)


@pytest.mark.parametrize(
    ("line", "cut", "pounds"),
    [
        # without round: 15.7 c + 94 (6 - c) = 120
        ("as much chuck as possible, 6 lb 80/20 with suet and round", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 chuck suet round with as much of the chuck as I can", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 from chuck, round and suet, the more chuck the better", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 from chuck, round and suet, as little round as possible", "round", 0),
        # all of the fat from the trim
        ("6 lb 75/25 brisket trim, round, suet, as little suet as possible", "suet", 0),
    ],
)
def test_of_one_cut_the_most_or_the_least(evening: Evening, line: str, cut: str, pounds: float) -> None:
    # "the more chuck the better" was dropped in silence
    assert value(evening.ask(line), "component", cut) == pytest.approx(pounds, rel=0.005)


def test_as_much_of_two_cuts_as_possible_is_asked_about(evening: Evening) -> None:
    answer = evening.ask("6 lb 80/20 from chuck, round and suet, max chuck and max round")
    assert answer.status is Status.NEEDS_DETAIL


def test_mostly_is_half_at_least(evening: Evening) -> None:
    answer = evening.ask("6 lb 80/20 from chuck, round and suet, mostly chuck")
    assert "at least 50% chuck" in answer.understood
    assert value(answer, "component", "chuck") >= 3
