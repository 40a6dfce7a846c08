"""Rates by weight said in another manner; figures by exact arithmetic (16 oz to the lb, 453.59237 g to the lb)."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import Conversation, Status
from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        ("18 g/kg as oz per lb", 0.288, "oz"),
        ("0.3 oz per lb in g/kg", 18.75, "g"),
        ("What's 22 g/kg as a percentage?", 2.2, "%"),
        ("1 oz to 25 lb as percent", 0.25, "%"),
        ("2% salt in g/kg", 20, "g"),
    ],
)
def test_a_rate_in_another_manner(evening: Evening, line: str, value: float, unit: str) -> None:
    answer = evening.ask(line)
    (figure,) = answer.figures
    assert (figure.value, figure.unit) == (pytest.approx(value), unit)


def test_a_ratio_as_lean_percent(evening: Evening) -> None:
    assert evening.ask("80/20 as lean percent").headline == "80/20 is 80% lean and 20% fat"


def test_whose_pint(evening: Evening) -> None:
    assert evening.ask("1 pint uk in ml").figures[0].value == pytest.approx(568.26125)
    assert evening.ask("fl oz in a US pint").figures[0].value == pytest.approx(16)


def test_rounded_to_whole_units_when_asked(evening: Evening) -> None:
    assert evening.ask("half a pound in grams to the nearest gram").headline == "0.5 lb is 227 g"


@given(st.integers(1, 500))
def test_to_ounces_and_back(rate: int) -> None:
    there = Conversation().ask(f"{rate} g/kg in oz per lb").figures[0].value
    assert isinstance(there, float)
    assert there / 16 * 1000 == pytest.approx(rate)


@pytest.mark.parametrize("line", ["2 g/kg of cure #1 in oz per lb", "5 to 8 g/kg in oz per lb"])
def test_what_is_not_worked_out(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.topic != "convert" or answer.status is not Status.ANSWERED


def test_a_rate_of_a_batch_of_nothing_is_no_division(evening: Evening) -> None:
    # raised: half a guest who eats half a patty came to no meat, and the rate was counted on it
    answer = evening.ask(
        "half a per lb ½ per lb kofta x1 1/2 19.13 gms in the states 1 1/2%  where were we ground oregano a kg kgs",
        "4:42 pm, half a covers",
    )
    assert answer.status is Status.IMPOSSIBLE
