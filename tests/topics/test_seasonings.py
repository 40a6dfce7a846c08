"""Seasoning in words: rates, percents, written mixes, and the questions that earn one back."""

from __future__ import annotations

import pytest

from assistant.answer import Role, Status
from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value


def test_a_total_is_no_rate_when_the_rate_is_asked_for() -> None:
    # was 24 tsp: the pound asked about was taken for the pound that the 4 tsp were said of
    answer = Conversation().ask("have 4 tsp salt total in 6 lb. how much is that a pound")
    assert value(answer, "seasoning", "per lb") == pytest.approx(4 / 6)


def test_a_spoon_without_a_number_is_one() -> None:
    answer = Conversation().ask("tbsp of paprika and a tsp of cayenne for every 4 lb. have 10")
    assert value(answer, "seasoning", "paprika") == pytest.approx(2.5)
    assert value(answer, "seasoning", "cayenne") == pytest.approx(2.5)


def test_one_seasoning_is_told_off_another() -> None:
    answer = Conversation().ask("salt 15 g per kg, nutmeg 1 g per kg, twice as much pepper as nutmeg, 4 kg")
    assert value(answer, "seasoning", "pepper") == pytest.approx(8)
    assert value(answer, "seasoning", "salt") == pytest.approx(60)


def test_two_weights_of_a_written_mix_are_from_and_to() -> None:
    answer = Conversation().ask("30 g salt, 6 g pepper, 4 g chilli does 2 kg. Do me 3 kg and leave out the chilli")
    assert value(answer, "seasoning", "salt") == pytest.approx(45)
    assert not any("chilli" in figure.name for figure in answer.figures)


def test_doubling_a_rate_doubles_the_spoons() -> None:
    # was 4 tsp: the factor went unheard beside a rate
    assert value(Conversation().ask("1 tsp salt per lb, 4 lb, double it"), "seasoning", "salt") == pytest.approx(8)


def test_salt_cannot_be_taken_out_and_meat_thins_it() -> None:
    answer = Conversation().ask("had 2% salt in 4 lb, want 1.5%")
    assert answer.status is Status.IMPOSSIBLE
    assert value(answer, "add") == pytest.approx(4 * 0.5 / 1.5)


def test_no_rate_is_asked_for_with_what_is_usual() -> None:
    answer = Conversation().ask("how much salt for 5 lb of burger")
    assert answer.status is Status.NEEDS_DETAIL
    assert "0.75 to 1.25%" in answer.message
    assert "common practice, no source" in answer.message


def test_a_tablespoon_is_the_country_s() -> None:
    line = "1 tbsp paprika per kg, 3 kg"
    us = value(Conversation().ask(line), "seasoning", "by weight")
    au = value(Conversation().ask(line + ", aussie spoons"), "seasoning", "by weight")
    assert au / us == pytest.approx(20 / 14.78676, rel=1e-4)  # NIST Handbook 44 Appendix C; 20 mL


@pytest.mark.parametrize("line", ["does the salt go in the mix or on the outside", "when do i salt the burgers"])
def test_salt_goes_outside_just_before_cooking(line: str) -> None:
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    assert "outside, just before cooking" in said(answer)


def test_sausage_is_salted_in_the_mix() -> None:
    assert Conversation().ask("does salt go into the mix for sausage").headline.startswith("Into the mix")


def test_a_cup_of_what_nobody_knows_is_no_seasoning() -> None:
    assert Conversation().ask("a cup of gravel in grams").status is not Status.ANSWERED


def test_a_spoon_after_a_seasoning_is_the_next_spoon_and_no_rate() -> None:
    # was one tablespoon per teaspoon
    answer = Conversation().ask("a tbsp of paprika a tsp of cayenne for every 4 lb. have 10 lb")
    spoons = [figure for figure in answer.figures if figure.role is Role.SEASONING and figure.unit in ("tbsp", "tsp")]
    assert [(figure.name, figure.value, figure.unit) for figure in spoons] == [
        ("paprika", 2.5, "tbsp"),
        ("cayenne", 2.5, "tsp"),
    ]


def test_a_number_after_a_rate_per_spoon_is_no_batch_of_spoons() -> None:
    # raised: ten teaspoons of meat were compared with five kilos
    talk = Conversation()
    talk.ask("five kilos of pork collar and belly")
    assert talk.ask("a tbsp of paprika per tsp of cayenne. have 10").status is not Status.ANSWERED


def test_spoons_that_exist_with_what_they_miss_by() -> None:
    # was "17/24 tbsp", which no drawer holds
    answer = Conversation().ask("mix written for 10 lb: 5 tbsp salt, 2 tbsp pepper, 1 tsp cumin. I have 3.5 lb")
    assert "1 tbsp + 2 1/4 tsp" in answer.headline
    assert "17/24" not in answer.headline
    assert value(answer, "ratio", "pepper, error") == pytest.approx((2.125 / 2.1 - 1) * 100)


def test_salt_in_bacon_is_counted() -> None:
    """Bacon of SR28 10862 holds 662 mg of sodium in 100 g: 1.68 % salt."""
    answer = Conversation().ask("1 lb bacon and 4 lb chuck, 1.5% salt")
    held, added = value(answer, "seasoning", "already"), value(answer, "seasoning", "salt")
    assert held == pytest.approx(453.59237 * 0.662 / 100 * 2.542, rel=0.01)
    assert held + added == pytest.approx(5 * 453.59237 * 0.015)


def test_a_rate_by_the_spoon_stays_as_it_was_said() -> None:
    answer = Conversation().ask("1 lb bacon and 4 lb chuck, 1 tsp salt per lb")
    assert value(answer, "seasoning", "salt") == 5
    assert "take that off" in " ".join(answer.notes)


def test_percent_of_the_finished_weight() -> None:
    answer = Conversation().ask("30 g salt in 2 kg of meat, what percent of the finished weight is that?")
    assert value(answer, "ratio", "finished") == pytest.approx(3000 / 2030)
