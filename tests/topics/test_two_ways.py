"""Lines that make two batches: asked about, and a word is enough for an answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.answer import Answer, Role, Status
from assistant.session import Conversation


def asked(folder: Path, *lines: str) -> Answer:
    talk = Conversation(notebook_path=folder / "two-ways.notebook", folder=folder)
    answers = [talk.ask(line) for line in lines]
    return answers[-1]


def weights(answer: Answer) -> dict[str, float]:
    return {f.name: float(f.value) for f in answer.figures if f.role is Role.COMPONENT}


@pytest.mark.parametrize(
    "line",
    [
        "20% pork fat",
        "10 lb 20% pork fat",
        "venison 2%, pork fat 20%, 10 lb",
        "chuck 18% 20% and suet, 3 lb at 25",
        "5 lb 80/20 from 18% chuck 20% and suet",
        "chuck 18%, suet 90%, chuck 20%, 5 lb at 25",
        "3 lb chuck $6.99",
        "3 lb chuck $6.99 and 1 lb suet $2",
    ],
)
def test_what_may_be_two_batches_is_asked(tmp_path: Path, line: str) -> None:
    assert asked(tmp_path, line).status is Status.NEEDS_DETAIL


def test_a_percent_no_fat_has_is_its_share_or_the_fat_wanted(tmp_path: Path) -> None:
    line = "venison 2%, pork fat 20%, 10 lb"
    assert weights(asked(tmp_path, line, "share")) == {"venison": 8, "pork fat": 2}
    fatty = asked(tmp_path, line, "fat")
    assert sum(weights(fatty).values()) == pytest.approx(10)
    assert next(f.value for f in fatty.figures if f.role is Role.FAT) == pytest.approx(20)


def test_the_second_fat_of_a_cut_is_not_given_to_the_next_one(tmp_path: Path) -> None:
    answer = asked(tmp_path, "chuck 18% 20% and suet, 3 lb at 25", "20")
    assert {f.name: f.fat_percent for f in answer.figures if f.role is Role.COMPONENT}["chuck"] == 20
    assert {f.name: f.fat_percent for f in answer.figures if f.role is Role.COMPONENT}["suet"] != 20


@pytest.mark.parametrize(("reply", "dollars"), [("each", 20.97), ("per lb", 20.97), ("all of it", 6.99)])
def test_money_without_a_word_for_what_it_buys(tmp_path: Path, reply: str, dollars: float) -> None:
    answer = asked(tmp_path, "3 lb chuck $6.99", reply)
    assert any(f.role is Role.COST and f.value == pytest.approx(dollars) for f in answer.figures)


@pytest.mark.parametrize(
    ("line", "dollars"), [("5 lb chuck $6", 30), ("3 lb chuck $60", 60), ("5 lb chuck for $30", 30)]
)
def test_a_price_that_only_fits_one_way_is_taken_that_way(tmp_path: Path, line: str, dollars: float) -> None:
    answer = asked(tmp_path, line)
    assert any(f.role is Role.COST and f.value == pytest.approx(dollars) for f in answer.figures)


@pytest.mark.parametrize(
    "line",
    [
        "10 lb deer burger with 20% beef fat",
        "deer burger 10 lb 20% pork fat",
        "make 10 lb venison burger with 20% suet",
        "want 10 lb of venison burger with 20% beef fat",
    ],
)
def test_a_share_of_what_is_made_is_in_its_weight(tmp_path: Path, line: str) -> None:
    assert sum(weights(asked(tmp_path, line)).values()) == pytest.approx(10)


@pytest.mark.parametrize("line", ["10 lb venison plus 20% suet", "20% pork fat, 10 lb venison 2%"])
def test_a_share_added_to_meat_that_is_there_comes_on_top(tmp_path: Path, line: str) -> None:
    assert sum(weights(asked(tmp_path, line)).values()) == pytest.approx(12.5)


@pytest.mark.parametrize(
    "line", ["2 lb round 6% and some suet 85%, 20%", "2 lb round 6% and enough suet at 85% for 20%"]
)
def test_some_fat_is_as_much_as_it_takes(tmp_path: Path, line: str) -> None:
    found = weights(asked(tmp_path, line))
    assert found["round"] == pytest.approx(2)
    assert found["suet"] == pytest.approx(2 * 14 / 65)


@pytest.mark.parametrize(
    "line",
    [
        "only 1 lb brisket left. make me 6 lb half brisket half chuck",
        "i only have 1 lb short rib. 9 lb equal parts chuck brisket short rib",
    ],
)
def test_shares_never_take_more_than_there_is(tmp_path: Path, line: str) -> None:
    answer = asked(tmp_path, line)
    assert answer.status is Status.IMPOSSIBLE
    assert "at the most" in answer.message


@pytest.mark.parametrize(
    ("line", "spoons"),
    [("2 tsp a lb salt, no sorry 1 tsp a lb, 4 lb", 4), ("salt 2 tsp a lb, wait 1 tsp a lb, for 4 lb", 4)],
)
def test_a_corrected_rate_keeps_its_name(tmp_path: Path, line: str, spoons: float) -> None:
    salt = next(f for f in asked(tmp_path, line).figures if f.role is Role.SEASONING)
    assert (salt.name, salt.value, salt.unit) == ("salt", spoons, "tsp")


def test_a_no_after_the_name_takes_the_figure_back(tmp_path: Path) -> None:
    assert weights(asked(tmp_path, "2 lb chuck, no 3 lb chuck, and 1 lb suet")) == {"chuck": 3, "suet": 1}


@pytest.mark.parametrize(
    ("line", "count", "ounces"),
    [
        ("20 people, from 5 lb chuck and 1 lb suet", 20, 4.8),
        ("10 guests, 2 burgers each, i have 4 lb chuck and 1 lb brisket", 20, 4),
    ],
)
def test_weighed_cuts_are_shared_among_the_people(tmp_path: Path, line: str, count: int, ounces: float) -> None:
    answer = asked(tmp_path, line)
    assert next(f.value for f in answer.figures if f.role is Role.PATTY_COUNT) == count
    assert next(f.value for f in answer.figures if f.role is Role.PATTY_WEIGHT) == pytest.approx(ounces)


def test_meat_beyond_what_the_people_eat_is_left_over(tmp_path: Path) -> None:
    answer = asked(tmp_path, "8 people 6 oz burgers, 4 lb chuck 1 lb brisket")
    assert next(f.value for f in answer.figures if f.role is Role.LEFT_OVER) == pytest.approx(2)
