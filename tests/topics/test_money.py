"""Money in words: prices by weight and by pack, budgets, and what it comes to for each."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.session import Conversation
from tests.topics.kitchen_talk import value


@pytest.mark.parametrize(
    ("line", "price"),
    [
        ("€6,50 for half a kilo. Per kilo?", 13),
        ("500 g for £4.20, price per kg", 8.4),
        ("A$1.85 per 100 g - per kilo?", 18.5),
    ],
)
def test_a_sum_for_a_weight_is_a_price(line: str, price: float) -> None:
    assert value(Conversation().ask(line), "price") == pytest.approx(price)


def test_at_is_a_price_for_each_pound_and_for_is_for_the_piece() -> None:
    at = Conversation().ask("4 lb chuck at $6.99 and 1 lb brisket at $5.49, what per lb")
    assert value(at, "price") == pytest.approx((4 * 6.99 + 5.49) / 5)
    piece = Conversation().ask("4 lb chuck for $28, cost per lb?")
    assert value(piece, "price") == pytest.approx(7)


def test_a_fee_is_shared_over_the_meat() -> None:
    answer = Conversation().ask("12 kg at £8/kg plus £6 for delivery, what does it work out at per kilo?")
    assert value(answer, "price") == pytest.approx(8.5)


def test_what_was_paid_is_shared_by_the_guests() -> None:
    answer = Conversation().ask("mince comes to £186 for 120 guests, what's that a head?")
    assert value(answer, "cost", "guest") == pytest.approx(1.55)
    assert not any(figure.role == "patty_count" for figure in answer.figures)


def test_a_budget_sets_the_size_of_the_patties() -> None:
    # was 150 g: the size nobody said was assumed, with the budget lying beside it
    line = "£220 to spend, mince £8.80/kg, two burgers each for 70 people. How heavy can each be?"
    assert value(Conversation().ask(line), "patty_weight") == pytest.approx(25000 / 140)


def test_trim_is_paid_for_in_a_budget() -> None:
    line = "A$300, beef A$14.50/kg and I lose 12% trimming it. How many 125 g patties is that?"
    assert value(Conversation().ask(line), "patty_count") == 145


def test_a_price_said_later_is_of_the_batch_on_the_table() -> None:
    talk = Conversation()
    talk.ask("64 people, two 125 g burgers each")
    assert value(talk.ask("mince is £8.40 a kilo, what's it costing?"), "cost", "batch") == pytest.approx(134.4)
    assert value(talk.ask("per guest?"), "cost", "guest") == pytest.approx(2.1)


def test_no_currency_is_changed_into_another() -> None:
    assert Conversation().ask("how much is £40 in Australian dollars").status is not Status.ANSWERED
