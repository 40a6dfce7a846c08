"""Two sizes out of one heap, and another size of the same meat; figures worked out by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant import Conversation
from assistant.answer import Answer, Role, Status
from assistant.engine import two_sizes
from tests.topics.kitchen_talk import value


def last(*lines: str) -> Answer:
    """The answer to the last of some turns."""
    talk = Conversation()
    for line in lines[:-1]:
        talk.ask(line)
    answer: Answer = talk.ask(lines[-1])
    return answer


def test_the_rest_goes_into_the_other_size_and_too_little_is_said() -> None:
    """15 kg less 20 of 200 g leaves 11 kg: 88 of 125 g."""
    shares = two_sizes.rest_into(Fraction(15000), 20, Fraction(200), Fraction(125))
    assert shares is not None
    assert (shares.first, shares.second, shares.left) == (20, 88, Fraction(0))
    assert two_sizes.rest_into(Fraction(1000), 20, Fraction(200), Fraction(125)) is None
    assert last("3 kg: 20 at 200 g and the rest at 100 g").status is Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("line", "first", "second"),
    [
        ("15 kg: 20 of them at 200 g and the remainder at 125 g, how many of the small ones?", 20, 88),
        ("from 10 kg make equal numbers of 100 g and 150 g burgers, how many of each", 40, 40),
        ("5 lb of meat how many if i do quarter pounders and how many if i do third pounders", 20, 15),
        ("12 kg, half the meat in 100 g patties and half in 150 g patties", 60, 40),
    ],
)
def test_two_sizes_are_counted_each(line: str, first: int, second: int) -> None:
    """In the order of the line."""
    counted = [figure.value for figure in last(line).figures if figure.role is Role.PATTY_COUNT]
    assert counted == [first, second]


@pytest.mark.parametrize(
    "line", ["10 kg turkey, 20 at 200 g and the rest at 100 g", "10 kg turkey into equal patties of at least 100 g"]
)
def test_poultry_in_two_sizes_or_in_equal_patties_is_cooked_as_hot_as_poultry(line: str) -> None:
    """Not as hot as beef."""
    assert "165" in last(line).cautions[0].text


@pytest.mark.parametrize(
    ("lines", "patties"),
    [
        (("60 burgers from 6 kg", "same meat though 120 g"), 50),
        (("8 burgers at 6 oz", "make them 4 oz, same meat though"), 12),
        (("12 people 2 each 150 g", "make them 100 g but same meat"), 36),
        (("how many quarter pounders in 6 lb", "and thirds"), 18),
    ],
)
def test_another_size_of_the_same_meat_changes_the_number(lines: tuple[str, ...], patties: int) -> None:
    """The meat stays."""
    assert value(last(*lines), Role.PATTY_COUNT) == patties


def test_more_patties_than_the_meat_makes_are_no_patty_to_be_guessed() -> None:
    """12 at 200 g take 2.4 kg."""
    answer = last("1.5 kg mince. I need 12 at 200 g")
    assert answer.status is Status.IMPOSSIBLE
    assert "7 patties" in answer.message


@pytest.mark.parametrize(
    ("line", "percent"),
    [
        ("A 200 g raw patty came off the hotplate at 146 g. What did it lose, in per cent?", 27),
        ("a 6 oz patty came off the grill at 4.5 oz, what percent did it lose", 25),
        ("my 8 oz burger weighed 6 oz after cooking, what is the shrink", 25),
    ],
)
def test_what_a_patty_lost_is_told_of_its_two_weights(line: str, percent: float) -> None:
    """Not what to shape for the lighter one."""
    assert value(last(line), Role.RATIO) == pytest.approx(percent)


def test_the_cooked_weight_of_ground_meat_is_asked_with_its_label() -> None:
    """80/20 is what it is, and no blend to be made."""
    assert value(last("cooked weight of 5 lb of 80/20 on the grill"), Role.COOKED_WEIGHT) == pytest.approx(3.45)
    raw = last("i want 8 lb of cooked taco meat start with 80/20 how much raw")
    assert value(raw, Role.TOTAL) == pytest.approx(8 / 0.69, rel=0.001)


def test_casings_that_do_not_count_change_nothing() -> None:
    """36 of 4 oz."""
    line = "how many lbs for 3 dozen brats at 4 oz each, casings dont count"
    assert value(last(line), Role.TOTAL) == 9


def test_a_weight_and_a_number_answer_how_much_there_is_to_share() -> None:
    """46 oz over 8."""
    assert value(last("cut it up into equal ones", "2 lb 14 oz, 8"), Role.PATTY_WEIGHT) == pytest.approx(5.75)


def test_the_same_meat_after_another_size_is_that_of_before_the_change() -> None:
    """1360 g over 140 g; where no size changed nothing does."""
    lines = ("8 burgers at 170 g", "make them 140", "same meat though, how many do I get?")
    assert value(last(*lines), Role.PATTY_COUNT) == 9
    assert value(last("8 burgers at 170 g", "same meat, how many?"), Role.PATTY_COUNT) == 8


def test_meat_is_rounded_up_beside_the_exact_weight() -> None:
    """37.5 lb are 38; the round in "round it up" is no cut."""
    answer = last("100 burgers at 6 oz, round it up to whole pounds")
    assert value(answer, Role.PURCHASE) == 38
    assert value(answer, Role.TOTAL) == 37.5
    assert "rounded up to whole pounds" in answer.understood
