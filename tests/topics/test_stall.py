"""Burgers for money: figures worked out by hand beside each line."""

from __future__ import annotations

import pytest

from assistant import Conversation
from assistant.answer import Status


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        # 0.15 kg x 9.20 + 0.22 = 1.60; 6.50 - 1.60
        ("selling 150 g burgers at £6.50, mince £9.20/kg, rolls 22p each: what is left of each?", 4.90, "GBP"),
        # 150 x 4 - 150 x 0.14 x 9.20
        (
            "We charge £4 a burger and expect 150. Mince runs to £9.20 a kilo at 140 g. What's left after?",
            406.80,
            "GBP",
        ),
        # 90 x 5 - 140
        ("sell 90 burgers at £5 each, mince cost me £140 all in, profit?", 310, "GBP"),
        # 1.20 / 9.60 kg
        ("Each burger must cost me no more than £1.20 in meat. Mince is £9.60/kg. Biggest patty?", 125, "g"),
        # 2.40 / 8 kg
        ("£2.40 a head to spend on meat, mince is £8 a kg. What weight can each have?", 300, "g"),
        # 2 x (0.12 x 8.60 + 0.22)
        ("65 guests, two 120 g burgers, mince £8.60/kg, rolls 22p each. What's it cost a head?", 2.504, "GBP"),
        ("split £163.20 of meat between 48 of us", 3.40, "GBP"),
        # 1.92 / 6.50
        ("mince A$12.80/kg, 150 g burgers, I sell them at A$6.50. Meat cost as a percentage?", 29.538, "%"),
    ],
)
def test_money_of_burgers(line: str, value: float, unit: str) -> None:
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    assert any(abs(float(f.value) - value) < 0.01 and f.unit == unit for f in answer.figures), answer.figures


def test_a_limit_for_each_burger_is_not_shared_by_those_a_guest_eats() -> None:
    line = "40 people, two each. Each burger must cost no more than £1.20, mince £9.60/kg, biggest patty?"
    sizes = [f.value for f in Conversation().ask(line).figures if f.role.value == "patty_weight"]
    assert sizes == [125.0]


def test_two_moneys_in_one_line_are_asked_about() -> None:
    answer = Conversation().ask("selling 150 g burgers at $6.50, mince £9.20/kg, what is left of each?")
    assert answer.status is Status.NEEDS_DETAIL


def test_selling_is_told_who_decides() -> None:
    answer = Conversation().ask("selling 150 g burgers at £6.50, mince £9.20/kg, what is left of each?")
    assert any("health department" in note for note in answer.notes)
