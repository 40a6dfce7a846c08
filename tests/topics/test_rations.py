"""Meat by the head by custom, salt that went in wrongly, losses told in either direction."""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant import Answer, Conversation, Role, Status, units


def figures(answer: Answer, role: Role) -> dict[str, float]:
    """Name and value of each figure of a role."""
    return {figure.name: round(float(figure.value), 3) for figure in answer.figures if figure.role is role}


@pytest.mark.parametrize(
    "line", ["how much meat per head", "how much mince do i need per person", "how much per person for burgers"]
)
def test_a_head_gets_what_burgers_for_so_many_count_on(line: str) -> None:
    """One and a half patties of 6 oz, as "burgers for 20" takes it."""
    answer = Conversation().ask(line)
    assert figures(answer, Role.PATTY_WEIGHT) == {"a head": 9}
    many = Conversation().ask("burgers for 20")
    assert figures(many, Role.TOTAL)["meat"] == 20 * 9 / 16


@pytest.mark.parametrize(("line", "fed"), [("how many people does 4 kg feed", 17), ("how far will 10 lb go", 17)])
def test_how_far_a_weight_goes(line: str, fed: int) -> None:
    """4 kg at 225 g, 10 lb at 9 oz a head."""
    assert figures(Conversation().ask(line), Role.PATTY_COUNT) == {"people fed": fed}


@pytest.mark.parametrize(
    "line",
    [
        "oversalted 40 g in 2 kg, wanted 1.5%",
        "i put 40 g salt in 2 kg, wanted 1.5%",
        "too much salt: 40 g in 2 kg instead of 1.5%",
        "40 g salt went in 2 kg, meant 30 g",
    ],
)
def test_salt_that_is_too_much_is_thinned(line: str) -> None:
    """40 g is 1.5 % of 2,667 g."""
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    (added,) = [figure for figure in answer.figures if figure.role is Role.ADD]
    assert float(units.grams(Fraction(added.value), added.unit)) == pytest.approx(666.667, abs=0.01)


def test_salt_that_is_too_little_is_topped_up() -> None:
    """30 g less the 20 g that are in it."""
    answer = Conversation().ask("only put 20 g salt in 2 kg, should have been 1.5%")
    assert figures(answer, Role.SEASONING)["salt"] == 10


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("15 lb with 12% trim loss, how much left", {"left to use": 13.2}),
        ("i lose 12% to trimming, starting with 15 lb", {"left to use": 13.2}),
        ("i lose 12% trimming, 15 lb to start", {"left to use": 13.2}),
        ("bought 15 lb brisket, trimmed 12% off", {"left to use": 13.2}),
    ],
)
def test_what_was_there_at_the_start_loses_from_there(line: str, told: dict[str, float]) -> None:
    """It was told what to buy for 15 lb."""
    answer = Conversation().ask(line)
    assert figures(answer, Role.TOTAL) == told
    assert not figures(answer, Role.PURCHASE)


def test_what_is_needed_after_the_loss_is_bought_for() -> None:
    """15 / 0.88; the 12 % was taken for the fat that is wanted."""
    assert figures(Conversation().ask("need 15 lb after 12% trim loss"), Role.PURCHASE) == {"buy": 17.045}


def test_a_weight_and_a_loss_alone_are_told_both_ways() -> None:
    """Nobody said whether 15 lb is bought or needed."""
    answer = Conversation().ask("15 lb, 12% trim loss")
    assert figures(answer, Role.TOTAL)["left to use"] == 13.2
    assert figures(answer, Role.PURCHASE) == {"buy": 17.045}
    assert "is what you bought" in answer.headline


@pytest.mark.parametrize(
    ("line", "weights"),
    [
        ("3 x 1.25 lb of 80/20 and 1 lb of 93/7", {"80/20": 3.75, "93/7": 1}),
        ("3 packs of 80/20, 1.25 lb each, and one 1 lb pack of 93/7", {"80/20": 3.75, "93/7": 1}),
        ("3 x 5 lb chuck and 4 lb suet", {"chuck": 15, "suet": 4}),
    ],
)
def test_so_many_of_one_weight_are_not_so_many_of_all(line: str, weights: dict[str, float]) -> None:
    """ "3 x" was held for a scaling of the whole line."""
    assert figures(Conversation().ask(line), Role.COMPONENT) == weights


@pytest.mark.parametrize("line", ["5 lb less half a pound for meatballs, 6 oz patties", "5 lb less 8 oz, 6 oz patties"])
def test_what_goes_elsewhere_is_taken_off_first(line: str) -> None:
    """ "Less half a pound" was dropped without a word."""
    assert figures(Conversation().ask(line), Role.PATTY_COUNT) == {"patties": 12}


@pytest.mark.parametrize(
    ("line", "raw"),
    [
        ("patties shrink 22%, i want 4 inch cooked, how wide raw", 5.128),
        ("need a 4 inch cooked patty, how wide do I press it", 5),
    ],
)
def test_the_raw_width_is_told_for_a_cooked_one(line: str, raw: float) -> None:
    """The cooked width was taken for the raw one; the cook's own share of it was taken for fat."""
    assert figures(Conversation().ask(line), Role.PATTY_DIAMETER)["shape it this wide"] == raw
