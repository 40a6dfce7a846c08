"""Money questions without a batch: offers by weight, prices that move, burgers for a sum."""

from __future__ import annotations

import pytest

from assistant import Answer, Conversation, Role, Status


def prices(answer: Answer) -> list[float]:
    """Every price that is told, rounded to the cent."""
    return [round(float(figure.value), 2) for figure in answer.figures if figure.role is Role.PRICE]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("5 lb for $22.50 or $4.79 a lb, which is cheaper", [4.5, 4.79, 0.29]),
        ("is 5 lb for $22.50 better than $4.79 a lb", [4.5, 4.79, 0.29]),
        ("10 lb box at 38 bucks or 4.25 a lb?", [3.8, 4.25, 0.45]),
        ("1.2 kg for £9 vs 900 g for £7", [7.5, 7.78, 0.28]),
        ("chuck 5 lb for $22.50 or brisket 4 lb for $20", [4.5, 5, 0.5]),
        ("NZ$21.90/kg topside or a 400 g tray for NZ$8.50?", [21.9, 21.25, 0.65]),
        ("3 packs for £10, 500 g each, or loose at £7.20/kg - which is cheaper?", [6.67, 7.2, 0.53]),
    ],
)
def test_two_offers_are_told_by_one_weight(line: str, told: list[float]) -> None:
    """ "5 lb for $22.50" was taken for a price by the pound."""
    assert prices(Conversation().ask(line)) == told


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("3 packs, 2 lb each, $4.99 each, whats that per lb", 2.5),
        ("3 2 lb packs at $4.99 each, per lb?", 2.5),
        ("2 packs for £7, each 500 g. per kilo?", 7),
        ("2 lb pack for 4.99 whats that a lb", 2.5),
    ],
)
def test_a_pack_is_told_by_weight(line: str, told: float) -> None:
    """Money each is for one pack, money in all is for all of them."""
    assert prices(Conversation().ask(line)) == [told]


@pytest.mark.parametrize("line", ["5 lb for $22.50 or £4.79 a lb, which is cheaper"])
def test_two_moneys_are_never_set_against_each_other(line: str) -> None:
    """No rate of exchange is known here."""
    assert Conversation().ask(line).status is Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ("price has gone up 8%", 6.48),
        ("chuck is 10% off today", 5.4),
        ("now its 15% off", 5.1),
        ("what if prices rise 5%", 6.3),
        ("make it 8% dearer", 6.48),
        ("chuck is half price", 3),
        ("price dropped by 20 percent", 4.8),
    ],
)
def test_a_price_moves_by_its_percent(change: str, told: float) -> None:
    """ "10% off" was taken for 10% fat."""
    talk = Conversation()
    talk.ask("6 lb chuck at $6 a lb")
    answer = talk.ask(change)
    assert answer.status is Status.ANSWERED
    assert told in prices(answer)


def test_a_percent_off_nothing_is_asked_about() -> None:
    """Without a price on the table there is nothing to take it from; it was read as the fat of the chuck."""
    answer = Conversation().ask("chuck is 10% off today")
    assert answer.status is Status.NEEDS_DETAIL
    assert "price of the chuck" in answer.message


@pytest.mark.parametrize(
    "line", ["£120 kitty, burgers £1.35 each, how many", "how many burgers for £120 at £1.35 each"]
)
def test_a_sum_buys_whole_burgers(line: str) -> None:
    """88 at £1.35 are £118.80."""
    told = {figure.name: round(float(figure.value), 2) for figure in Conversation().ask(line).figures}
    assert told == {"burgers": 88, "spent": 118.8, "left of the money": 1.2}


@pytest.mark.parametrize(
    "line",
    [
        "mince at £8/kg or chuck at £7.50/kg, which is cheaper",
        "mince at £8 or chuck at £7.50, which is cheaper",
    ],
)
def test_each_price_stays_with_its_own_meat(line: str) -> None:
    """The two were exchanged where "or" stood between them."""
    told = {figure.name: float(figure.value) for figure in Conversation().ask(line).figures}
    assert told["your own per kg"] == 7.5
    assert told["the shop's mince per kg"] == 8


def test_bare_prices_to_the_cent_are_compared() -> None:
    """Nobody says dollars twice with a knife in the hand."""
    answer = Conversation().ask("is it cheaper to grind chuck at 4.99 or buy 80/20 at 5.49")
    assert answer.status is Status.ANSWERED
    assert prices(answer)[:3] == [4.99, 5.49, 0.5]
