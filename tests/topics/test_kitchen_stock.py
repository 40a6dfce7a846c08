"""My kitchen in the words of cooks: stock remembered, used, drawn down and corrected; prices; the bowl and the scale."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import Evening, said, value

STOCK = "remember I have 3 kg round at 6% fat and 2 kg brisket trim at 40% fat"
BLEND = "2.4 kg round at 6% fat and 1.6 kg brisket trim at 40% fat"


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def in_stock(evening: Evening) -> dict[str, Fraction]:
    return {item.cut: item.grams for item in Notebook(evening.path).stock() if item.grams is not None}


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        ("stock: 1.5 kg round", 1500),
        ("actually I only have 1.5 kg round in stock", 1500),
        ("I used 500 g of the round in stock", 2500),
        ("bought another 1 kg round for the stock", 4000),
        ("add 500 g round to the stock", 3500),
        ("I have 2 kg round in the fridge", 2000),
        ("there is 2 kg round in the freezer", 2000),
    ],
)
def test_stock_is_corrected_in_many_words(evening: Evening, line: str, grams: int) -> None:
    evening.ask("remember I have 3 kg round", line)
    assert in_stock(evening) == {"round": grams}


@pytest.mark.parametrize("line", ["we're out of round", "I'm out of round", "forget the stock"])
def test_stock_is_gone(evening: Evening, line: str) -> None:
    evening.ask("remember I have 3 kg round", line)
    assert in_stock(evening) == {}


def test_what_is_in_hand_can_be_remembered(evening: Evening) -> None:
    answer = evening.ask("I have 2 kg round and 1 kg fat trim")
    assert value(answer, "total") == pytest.approx(3)
    assert in_stock(evening) == {} if evening.path.exists() else True
    evening.ask("remember that")
    assert in_stock(evening) == {"round": 2000, "fat trim": 1000}


def test_drawing_down_several_cuts_is_one_change(evening: Evening) -> None:
    """Undo brought back only the last cut."""
    evening.ask(STOCK, BLEND, "made it")
    assert in_stock(evening) == {"brisket trim": 400, "round": 600}
    evening.ask("undo")
    assert in_stock(evening) == {"brisket trim": 2000, "round": 3000}


def test_a_saved_batch_made_by_name_draws_the_stock_down(evening: Evening) -> None:
    evening.ask(STOCK, BLEND, "save that as fair stall", "2 lb chuck", "we made 2 kg of fair stall today")
    assert in_stock(evening) == {"brisket trim": 1200, "round": 1800}


def test_a_batch_that_takes_more_than_the_stock_says_so(evening: Evening) -> None:
    answer = evening.ask(STOCK, "8 kg at 20% from round and brisket trim")
    assert "than there is in stock" in said(answer)
    assert "stock" not in said(evening.ask("1 kg at 20% from round and brisket trim"))


def test_the_stock_is_offered_where_no_cut_was_named(evening: Evening) -> None:
    answer = evening.ask(STOCK, "4 kg at 20%")
    assert answer.status is Status.NEEDS_DETAIL
    assert "from my stock" in answer.message
    assert value(evening.ask("4 kg at 20% from what I have"), "component", "trim") == pytest.approx(4 * 14 / 34)


@pytest.mark.parametrize("line", ["chuck costs $14 a kilo, remember that", "remember chuck is $14 a kilo"])
def test_a_price_is_remembered_and_used(evening: Evening, line: str) -> None:
    evening.ask(line)
    answer = evening.another().ask("what does 2 kg of chuck cost?")
    assert value(answer, "cost") == pytest.approx(28)
    assert "from the notebook" in said(answer)


def test_a_price_that_is_lacking_is_asked_for_beside_the_blend(evening: Evening) -> None:
    """The cost was dropped without a word where one cut of two had a price."""
    answer = evening.ask("remember round is $6.50 a pound", "2 kg at 20% from round and suet, what does it cost")
    assert "what does the suet cost" in said(answer)


def test_two_currencies_make_no_sum(evening: Evening) -> None:
    evening.ask("remember chuck is £9 a kilo")
    answer = evening.ask("2 kg chuck and 1 kg round at $5 a kilo, what does it cost")
    assert "another currency" in said(answer)


def test_a_figure_without_a_weight_is_no_stock(evening: Evening) -> None:
    """A cut of which only the fat was known counted as stock without end."""
    evening.ask("remember my trim is 45% fat")
    assert evening.ask("2 kg at 20% from my stock").status is Status.NEEDS_DETAIL


def test_the_bowl_is_kept_and_used(evening: Evening) -> None:
    evening.ask("my bowl holds 3 kg")
    assert "2 loads of 2 kg" in said(evening.another().ask("4 kg at 20% from round at 6% fat and suet at 90% fat"))
    assert evening.ask("my bowl holds 5 litres").status is Status.IMPOSSIBLE
    assert "3 kg" in said(evening.ask("what equipment do I have?"))


def test_undo_goes_past_a_question_to_the_last_change(evening: Evening) -> None:
    evening.ask(BLEND, "save that as pier", "rate it 8", "what temperature do I cook it to?", "undo")
    assert Notebook(evening.path).get("pier").rating is None
    evening.ask("undo")
    assert Notebook(evening.path).count() == 0
    assert value(evening.ask("save that as quay"), "total") == pytest.approx(4)


def test_undo_of_a_setting_holds_for_the_conversation_too(evening: Evening) -> None:
    evening.ask("use metric", "undo")
    assert "pounds" in said(evening.ask("my kitchen"))


def test_what_to_try_next_says_why_and_is_put_on_the_table(evening: Evening) -> None:
    for suet, marks in ((500, 8), (250, 5), (1000, 4)):
        evening.ask(f"log 2 kg round at 6% fat and {suet} g suet at 90% fat as grind {suet}, {marks}/10")
    answer = evening.ask("what should I try next?")
    assert "because your three best lie between" in answer.headline
    fat = value(answer, "fat")
    made = evening.ask("3 kg of that")
    assert value(made, "total") == pytest.approx(3)
    assert value(made, "fat") == pytest.approx(fat)
    evening.ask("remember I have 2 kg short rib and 2 kg round")
    assert "you have not tried short rib" in evening.ask("what should I try next?").headline


def test_a_seasoning_after_the_name_is_none_of_the_name(evening: Evening) -> None:
    evening.ask("save 3 kg at 20% from round at 6% fat and suet at 90% fat as stern, 12 g salt per kilo")
    kept = Notebook(evening.path).get("stern")
    assert (kept.name, kept.seasonings[0].grams) == ("stern", Fraction(36))
