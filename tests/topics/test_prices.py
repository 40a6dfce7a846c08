"""Prices compared, from words. The sums are the engine's: tests/engine/test_cost.py."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.language.sentence import read
from assistant.session import Conversation
from assistant.topics.prices.offers import listed
from tests.topics.kitchen_talk import said, value


@pytest.mark.parametrize(
    ("line", "found"),
    [
        (
            "chuck at $6/lb with 15% bone, brisket trim at $3/lb losing 10% in trim",
            [("chuck", 6, 15), ("brisket trim", 3, 10)],
        ),
        ("£7.50/kg for 12% mince, £9/kg for 5% mince", [("mince", 7.5, 0), ("mince", 9, 0)]),
        ("round at €9/kg, brisket at €8/kg, I lose 20% of the round", [("round", 9, 20), ("brisket", 8, 0)]),
    ],
)
def test_each_meat_has_its_own_price_and_loss(line: str, found: list[tuple[str, float, float]]) -> None:
    offers = listed(read(line)).offers
    assert [(o.name, float(o.price or 0), float(o.lost)) for o in offers] == found


def test_own_and_shop_are_told_apart_in_any_order() -> None:
    # was swapped: a comma and "store" went on with the mix before them
    for line in (
        "my mix is $6.10/lb, store 80/20 is 6.99, do I save",
        "store 80/20 is $6.99/lb, my mix is 6.10, do I save",
    ):
        answer = Conversation().ask(line)
        assert value(answer, "price", "your own per lb") == pytest.approx(6.1)
        assert value(answer, "price", "shop") == pytest.approx(6.99)


def test_lean_for_lean_has_the_range_of_the_fat() -> None:
    answer = Conversation().ask("is my own chuck at $5.49/lb cheaper than store 80/20 at $5.99/lb?")
    lean = next(f for f in answer.figures if f.name == "your own, lean per lb")
    assert lean.low is not None and lean.high is not None
    assert isinstance(lean.value, float)
    assert lean.low < lean.value < lean.high


def test_at_the_break_even_price_neither_is_the_better_buy() -> None:
    price = value(Conversation().ask("break even price of 15% mince against store 80/20 at $8/lb"), "price", "may cost")
    assert price == pytest.approx(8.5)
    assert "cost the same" in said(
        Conversation().ask("15% mince at $8.50/lb against store 80/20 at $8/lb, lean for lean")
    )


def test_what_is_missing_is_asked_for() -> None:
    talk = Conversation()
    assert "price to beat" in said(talk.ask("what can I pay for chuck to beat the store?"))
    assert "how fat is the shop's" in said(talk.ask("$5.99/lb"))
    assert value(talk.ask("80/20"), "price", "may cost") == pytest.approx(5.99 * 0.843 / 0.8, abs=0.01)
    assert "what do you save" in said(Conversation().ask("my grinder cost $120, when has it paid for itself?"))


def test_currencies_are_never_mixed() -> None:
    answer = Conversation().ask("chuck at £5/kg against shop 80/20 at $6/lb, which is cheaper")
    assert answer.status is Status.IMPOSSIBLE
    assert "never convert money" in said(answer)


def test_a_piece_has_to_add_up() -> None:
    """Published butcher's test: 79.80 paid, by-products 6.10 and 6.90, 6 lb usable: 66.80, 11.13 a lb, factor 1.67."""
    answer = Conversation().ask(
        "I paid $79.80 for a 12 lb lamb loin, 6 lb usable, 1 lb of trim worth 6.10 a lb and 1.5 lb stew meat worth 4.60/lb"
    )
    assert value(answer, "cost", "worth of the usable") == pytest.approx(66.8)
    assert value(answer, "ratio") == pytest.approx(1.67, abs=0.006)
    more = Conversation().ask("a 10 lb packer at $5/lb, 9 lb usable and 2 lb of trim worth $1/lb")
    assert more.status is Status.IMPOSSIBLE


def test_a_limit_is_not_passed_over() -> None:
    answer = Conversation().ask("chuck at $5/lb, not more than 2 lb, against store 80/20 at $6/lb, which is cheaper")
    assert answer.status is not Status.ANSWERED or "2 lb" in said(answer)


def test_each_cut_loses_its_own() -> None:
    # was "28% lost" of both: the two losses were taken off all of the meat
    answer = Conversation().ask(
        "3 lb chuck at $7/lb with 20% bone and trim loss and 1 lb brisket at $5/lb with 10% trim, cost per lb of blend"
    )
    assert value(answer, "cost", "batch") == pytest.approx(3 * 7 / 0.8 + 5 / 0.9)
    assert value(answer, "purchase", "chuck") == pytest.approx(3.75)


def test_the_cheapest_counts_what_can_be_eaten() -> None:
    cheap = "cheapest 4 kg at 20% fat: shin 6% at £9/kg, belly 50% at £4/kg{}, mince 30% at £7/kg"
    whole = Conversation().ask(cheap.format(" with 1% trim"))
    bony = Conversation().ask(cheap.format(" of which I lose 40% as bone"))
    assert value(whole, "component", "belly") > 0
    assert value(bony, "component", "belly") == 0


def test_a_price_for_a_spoon_is_no_price_for_a_weight() -> None:
    # raised: pounds were divided by teaspoons
    line = (
        "B: rump, kg 2 a tsp brisket. save as Eight. 2 kg at 20%: shin 6%, chuck 16%, suet 90%, with half of it chuck"
    )
    assert Conversation().ask(line).status is not Status.ANSWERED
