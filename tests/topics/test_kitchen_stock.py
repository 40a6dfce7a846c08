"""My kitchen in the words of cooks: stock remembered, used, drawn down and corrected; prices; the bowl and the scale."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import Conversation, Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import SUPPER, Evening, said, value

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


IN_HAND = "I have 2 kg round and 1 kg fat trim"


def test_what_is_in_hand_is_remembered_and_told(evening: Evening) -> None:
    """It was kept only after "remember that"."""
    answer = evening.ask(IN_HAND)
    assert value(answer, "total") == pytest.approx(3)
    assert "in stock now: 2 kg" in said(answer)
    assert '"undo" takes that back' in said(answer)
    assert in_stock(evening) == {"round": 2000, "fat trim": 1000}
    evening.ask("undo")
    assert in_stock(evening) == {}


@pytest.mark.parametrize(
    ("line", "there"),
    [
        ("actually I only have 1.5 kg round", {"round": 1500, "fat trim": 1000}),
        ("I have 3 kg round", {"round": 3000, "fat trim": 1000}),
        ("I also have 500 g suet", {"round": 2000, "fat trim": 1000, "suet": 500}),
        ("I have another 500 g round", {"round": 2500, "fat trim": 1000}),
        ("no, 1.2 kg fat trim", {"round": 2000, "fat trim": 1200}),
        ("I used 300 g of the fat trim", {"round": 2000, "fat trim": 700}),
        ("remember that", {"round": 2000, "fat trim": 1000}),
        ("forget the stock", {}),
        ("do I have 3 kg round?", {"round": 2000, "fat trim": 1000}),
        ("did I use 300 g of the fat trim?", {"round": 2000, "fat trim": 1000}),
    ],
)
def test_what_is_in_hand_is_corrected_in_the_next_breath(evening: Evening, line: str, there: dict[str, int]) -> None:
    evening.ask(IN_HAND, line)
    assert in_stock(evening) == there


def test_a_new_weight_tells_what_it_replaced(evening: Evening) -> None:
    answer = evening.ask(IN_HAND, "I have 3 kg round")
    assert "in place of 2 kg" in said(answer)
    assert "more round than there is" not in said(answer)  # it was held against the old weight
    assert "in place of 6 lb 9 3/4 oz (3 kg) round" in said(evening.another().ask("remember I have 1 kg round"))


def test_correcting_after_a_look_leaves_the_batch_alone(evening: Evening) -> None:
    evening.ask(IN_HAND, "what's in my kitchen?", "correct that, 1.2 kg fat trim")
    assert in_stock(evening) == {"round": 2000, "fat trim": 1200}


def test_a_range_is_no_weight_to_write_down(evening: Evening) -> None:
    evening.ask("I have 2 or 3 kg round and 1 kg suet")
    assert not evening.path.exists()


def test_over_a_batch_on_the_table_it_is_that_batchs_limit(evening: Evening) -> None:
    evening.ask("3 kg at 20% from round at 6% fat and suet at 90% fat", "I only have 300 g suet")
    assert not evening.path.exists()


def test_other_meat_than_the_batch_on_the_table_is_remembered(evening: Evening) -> None:
    evening.ask("3 kg at 20% from round at 6% fat and suet at 90% fat", "I have 2 kg brisket at $9 a kilo")
    (item,) = Notebook(evening.path).stock()
    assert item.grams == 2000
    assert item.price == 9
    assert (item.cut, item.currency) == ("brisket", "USD")


def test_nothing_is_kept_while_it_is_not_clear_or_cannot_be(evening: Evening) -> None:
    assert evening.ask("I have 0 kg round").status is Status.IMPOSSIBLE
    assert "gribble" in said(evening.ask("I have 2 kg gribble and 1 kg suet"))
    assert in_stock(evening) == {}


def test_what_cannot_be_kept_is_still_answered(tmp_path: Path) -> None:
    """A one-shot call on a machine that cannot be written to."""
    blocked = tmp_path / "a file"
    blocked.write_text("in the way")
    talk = Conversation(blocked / "notebook.db", lambda: SUPPER)
    answer = talk.ask(IN_HAND)
    assert answer.status is Status.ANSWERED
    assert value(answer, "total") == pytest.approx(3)
    assert "not kept as stock" in said(answer)
    assert "in stock now" not in said(answer)


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


@pytest.mark.parametrize(
    ("line", "trim"),
    [
        # 6 % round and 40 % trim for 20 %: 14/34 of the batch is trim; a batch under 2 kg is told in grams
        ("2 kg at 20% from my stock, 10 g salt per kilo", 28 / 34),
        ("from my stock, 2 kg at 20% and 20 g salt", 28 / 34),
        ("10 burgers of 150 g from my stock at 80/20", 21000 / 34),
        ("use my stock for 10 burgers of 150 g at 20%", 21000 / 34),
        ("2 kg of my stock at 20%", 28 / 34),
    ],
)
def test_other_figures_stand_beside_the_stock(evening: Evening, line: str, trim: float) -> None:
    """With a salt beside it the stock was taken for one to season with."""
    answer = evening.ask(STOCK, line)
    assert answer.status is Status.ANSWERED
    assert value(answer, "component", "trim") == pytest.approx(trim, rel=0.001)


def test_people_fed_from_the_stock(evening: Evening) -> None:
    answer = evening.ask(STOCK, "what can I make from my stock for 12 people at 150 g")
    assert "stock per" not in said(answer)


def test_so_much_of_what_is_there_without_a_fat_is_asked(evening: Evening) -> None:
    """All of it was taken, whatever weight was wanted."""
    answer = evening.ask(STOCK, "2 kg from my stock")
    assert answer.status is Status.NEEDS_DETAIL
    assert "all of it together is 5 kg" in said(answer)
    assert value(evening.ask("20%"), "component", "trim") == pytest.approx(28 / 34, rel=0.001)


def test_telling_what_is_there_brings_no_steps(evening: Evening) -> None:
    assert evening.ask(IN_HAND).steps == ()
    assert evening.ask("make it 80/20").steps != ()


def test_a_batch_of_the_stock_is_made_again_without_the_limits_of_that_day(evening: Evening) -> None:
    """What there had been was scaled with it, and so much of it was said to be left."""
    evening.ask(STOCK, "4 kg at 20% from my stock, 10 g salt per kilo", "save that as fair stall", "made it")
    answer = evening.ask("fair stall again for 2 kg")
    assert value(answer, "component", "trim") == pytest.approx(28 / 34)
    assert value(answer, "seasoning", "salt") == pytest.approx(20)
    assert not [figure for figure in answer.figures if figure.role.value == "left_over"]
    assert "than there is in stock" in said(answer)
    assert value(evening.ask("fair stall again but 25%"), "fat") == pytest.approx(25)


def test_what_an_earlier_conversation_wrote_is_taken_back_only_when_that_is_said(evening: Evening) -> None:
    """A one-shot call is a conversation of its own: its undo found nothing, though it had been offered."""
    assert "nothing to undo" in said(evening.ask("undo"))
    evening.ask(IN_HAND)
    told = said(evening.another().ask("undo"))
    assert "the stock" in told
    assert '"undo in the notebook"' in told
    assert in_stock(evening) == {"round": 2000, "fat trim": 1000}
    assert "taken back in the notebook" in said(evening.another().ask("undo in the notebook"))
    assert in_stock(evening) == {}
    assert "nothing to undo" in said(evening.another().ask("undo the last change in the notebook"))


def test_undo_in_the_notebook_within_a_conversation_is_undo(evening: Evening) -> None:
    evening.ask("remember I have 3 kg suet", IN_HAND, "undo in the notebook")
    assert in_stock(evening) == {"suet": 3000}


def test_a_notebook_that_cannot_be_read_has_nothing_to_take_back(tmp_path: Path) -> None:
    (tmp_path / "notebook.db").write_bytes(b"no notebook at all")
    assert "nothing to undo" in said(Evening(tmp_path).ask("undo in the notebook"))


@pytest.mark.parametrize(
    ("line", "there"),
    [
        ("the round is all gone", {"fat trim": 1000}),
        ("I bought 1 kg of suet", {"round": 2000, "fat trim": 1000, "suet": 1000}),
        ("I just bought 500 g round", {"round": 2500, "fat trim": 1000}),
        ("took 200 g fat trim out", {"round": 2000, "fat trim": 800}),
    ],
)
def test_after_a_look_at_the_stock_it_comes_and_goes(evening: Evening, line: str, there: dict[str, int]) -> None:
    evening.ask(IN_HAND, "what's left?", line)
    assert in_stock(evening) == there


def test_what_was_bought_is_there_and_makes_a_batch(evening: Evening) -> None:
    answer = evening.ask("remember I have 1 kg round", "I bought 2 kg round and 500 g suet")
    assert in_stock(evening) == {"round": 3000, "suet": 500}
    assert value(answer, "total") == pytest.approx(2.5)


def test_a_price_for_the_whole_is_no_stock(evening: Evening) -> None:
    evening.ask("I bought 3 kg chuck for $30")
    assert not evening.path.exists()


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("forget the price of chuck", {"suet"}),
        ("forget the suet price", {"chuck"}),
        ("forget my prices", set()),
        ("drop the price for brisket", {"chuck", "suet"}),
    ],
)
def test_prices_are_forgotten(evening: Evening, line: str, left: set[str]) -> None:
    """The forgetting of a batch was read."""
    evening.ask("chuck is $12 a kilo, remember that", "suet is $3 a kilo, remember that", line)
    assert {item.cut for item in Notebook(evening.path).stock() if item.price is not None} == left
    shown = said(evening.ask("my kitchen"))
    assert all((f"{cut} (" in shown) is (cut in left) for cut in ("chuck", "suet"))
