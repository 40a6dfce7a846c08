"""Short conversations that once went wrong: what a later line means for the batch on the table."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.answer import Answer, Role, Status
from assistant.session import Conversation


@pytest.fixture
def talk(tmp_path: Path) -> Conversation:
    return Conversation(notebook_path=tmp_path / "notebook")


def said(talk: Conversation, *lines: str) -> Answer:
    """The last answer of a conversation."""
    return [talk.ask(line) for line in lines][-1]


def one(answer: Answer, role: Role) -> float:
    """The first figure of a role."""
    value = next(figure.value for figure in answer.figures if figure.role is role)
    assert isinstance(value, float | int)
    return float(value)


def test_fixed_a_percent_answers_at_what_rate(talk: Conversation) -> None:
    answer = said(talk, "how much salt", "5 lb", "1.5%")
    assert one(answer, Role.SEASONING) == pytest.approx(0.015 * 5 * 453.59237)


def test_fixed_two_percents_answer_for_two_seasonings(talk: Conversation) -> None:
    answer = said(talk, "salt and pepper for 4 lb", "1% and .3%")
    grams = [f.value for f in answer.figures if f.role is Role.SEASONING and f.unit == "g"]
    assert grams == [pytest.approx(18.1437, abs=1e-3), pytest.approx(5.4431, abs=1e-3)]


def test_fixed_kosher_says_which_salt(talk: Conversation) -> None:
    answer = said(talk, "how much salt", "5 lb", "1.5%", "kosher")
    assert {f.name for f in answer.figures if f.role is Role.SEASONING and f.unit == "g"} == {"kosher"}


def test_fixed_meat_named_after_the_guests_is_for_them(talk: Conversation) -> None:
    answer = said(talk, "I need burgers for 40, two each, 120g", "use rump and suet, 80/20")
    assert one(answer, Role.PATTY_COUNT) == 80
    assert sum(float(f.value) for f in answer.figures if f.role is Role.COMPONENT) == pytest.approx(9.6)


def test_fixed_prices_alone_are_for_the_cuts_on_the_table(talk: Conversation) -> None:
    answer = said(talk, "2 kg rump and 500 g suet", "rump 9 quid a kilo, suet 3")
    assert one(answer, Role.COST) == pytest.approx(2 * 9 + 0.5 * 3)
    assert one(
        said(talk, "4 lb chuck and 1 lb short rib", "cost if chuck is 6.99 and short rib 8.99 a lb"), Role.COST
    ) == (pytest.approx(4 * 6.99 + 8.99))


def test_fixed_already_salted_is_no_fat(talk: Conversation) -> None:
    answer = said(talk, "3 kg at 30% fat, want 20%, using 5% topside", "already salted at 1.2%")
    assert answer.status is Status.ANSWERED
    assert one(answer, Role.FAT) == pytest.approx(20)
    assert one(answer, Role.SEASONING) == pytest.approx(24)


@pytest.mark.parametrize(
    ("before", "role", "wanted"),
    [("burgers for 40, two each, 120g", Role.PATTY_COUNT, 88), ("3 lb 80/20 chuck and suet", Role.FAT, 20)],
)
def test_fixed_plus_a_percent_is_more_and_no_fat(talk: Conversation, before: str, role: Role, wanted: float) -> None:
    assert one(said(talk, before, "plus 10 percent"), role) == pytest.approx(wanted)


def test_fixed_lean_said_of_a_cut_is_no_other_meat(talk: Conversation) -> None:
    answer = said(talk, "2 lb elk, really lean like 3%. how much bacon at 40% goes with it for 12% fat")
    assert {f.name for f in answer.figures if f.role is Role.COMPONENT} == {"elk", "bacon"}


def test_fixed_children_on_top_keep_both_sizes(talk: Conversation) -> None:
    answer = said(
        talk, "60 people, two burgers each, 130 g", "10% extra", "and 20 kids one each at 90g", "price is £8/kg"
    )
    assert one(answer, Role.PATTY_COUNT) == 154
    assert one(answer, Role.TOTAL) == pytest.approx((132 * 130 + 22 * 90) / 1000)
    patty = next(f.value for f in answer.figures if f.name == "cost per patty")
    assert patty == pytest.approx(8 * 19.14 / 154)


def test_fixed_a_weight_to_scale_to_is_not_the_one_written_for(talk: Conversation) -> None:
    answer = said(talk, "scale this to 7 lb: for 5 lb meat, 2 tbsp salt, 1 tbsp pepper, 1 tsp nutmeg")
    assert one(answer, Role.SEASONING) == pytest.approx(2 * 7 / 5)


def test_fixed_minutes_for_the_patties_are_no_patties(talk: Conversation) -> None:
    assert said(talk, "set a timer for 10 minutes for the patties").status is Status.ANSWERED


def test_fixed_a_fat_cut_told_by_its_lean_is_no_third_meat(talk: Conversation) -> None:
    answer = said(talk, "5 lb at 80% lean from chuck roast (82% lean) and beef fat (10% lean)")
    assert {f.name: f.fat_percent for f in answer.figures if f.role is Role.COMPONENT} == {
        "chuck roast": 18,
        "beef fat": 90,
    }


@pytest.mark.parametrize("line", ["5 lb at 80/30 from chuck and suet", "5 lb of 120/20 from chuck and suet"])
def test_fixed_a_ratio_that_is_not_a_hundred_is_named(talk: Conversation, line: str) -> None:
    answer = said(talk, line)
    assert answer.status is not Status.ANSWERED
    assert "does not come to 100" in answer.message


def test_fixed_scale_from_one_weight_to_another_is_no_range(talk: Conversation) -> None:
    answer = said(talk, "scale from 3 lb to 8 lb: 2 tbsp salt, 1 tbsp sugar")
    assert one(answer, Role.SEASONING) == pytest.approx(2 * 8 / 3)


@pytest.mark.parametrize(
    ("line", "role", "first", "low", "high"),
    [
        ("8-10 burgers at 6 oz, how much meat", Role.TOTAL, 3.75, 3.0, 3.75),
        ("feeding 20 to 25 people, 6 oz burgers", Role.PATTY_COUNT, 25, 20, 25),
        ("2-3 lb chuck into 6 oz patties", Role.PATTY_COUNT, 5, 5, 8),
        ("10 to 12 burgers from 5 lb, what size", Role.PATTY_WEIGHT, 8, 6.6667, 8),
        ("salt 1 to 1.5% for 5 lb", Role.SEASONING, 22.6796, 22.6796, 34.0194),
        ("10 to 15% trim loss, need 8 lb", Role.PURCHASE, 8 / 0.85, 8 / 0.9, 8 / 0.85),
        ("2 or 3 burgers each for 12 people, 6 oz", Role.PATTY_COUNT, 36, 24, 36),
    ],
)
def test_fixed_a_range_is_told_at_both_ends(
    talk: Conversation, line: str, role: Role, first: float, low: float, high: float
) -> None:
    answer = said(talk, line)
    figure = next(f for f in answer.figures if f.role is role)
    assert figure.value == pytest.approx(first, rel=1e-4)
    assert figure.low == pytest.approx(low, abs=1e-3)
    assert figure.high == pytest.approx(high, rel=1e-4)
    assert "At the other" in answer.notes[0]


@pytest.mark.parametrize(
    ("line", "role", "wanted"),
    [
        ("half a kilo of suet (88%) and as much silverside (5%) as it takes to get down to 20%", Role.TOTAL, 2.7667),
        ("one ox heart, 1.3 kg (4% fat), the rest brisket at 25%, up to 3 kg", Role.TOTAL, 3),
        ("I need 3.3 kg of mince with 16% fat. I have leg of mutton at 8% and lamb breast at 42%.", Role.TOTAL, 3.3),
        ("20 lots of 5 burgers, 4 oz each", Role.PATTY_COUNT, 100),
        ("80 burgers at 120 g minus the 6 we've still got in the freezer", Role.PATTY_COUNT, 74),
    ],
)
def test_fixed_what_a_figure_is_of(talk: Conversation, line: str, role: Role, wanted: float) -> None:
    assert one(said(talk, line), role) == pytest.approx(wanted, rel=1e-3)


def test_fixed_two_mixes_are_not_put_into_one(talk: Conversation) -> None:
    line = "which is leaner, 2 kg topside (5%) with 500 g brisket (28%), or 2 kg rump (9%) with 200 g suet (90%)?"
    assert said(talk, line).status is Status.NEEDS_DETAIL


@pytest.mark.parametrize("line", ["raw for 4 oz cooked", "raw weight for 4 oz cooked", "4 oz cooked, how much raw"])
def test_fixed_raw_for_cooked_is_more_and_not_less(talk: Conversation, line: str) -> None:
    assert one(said(talk, line), Role.PATTY_WEIGHT) > 4


@pytest.mark.parametrize(
    "lines",
    [
        ("feed 20-25 people at -1 oz oz each", "$16 a kg, 120 x 110 g, and buns $0.60 each. total?"),
        ("two/13 pounders save the mix it 45.63 tsp next step please cream",),
    ],
)
def test_fixed_figures_that_no_sum_can_take_raise_nothing(talk: Conversation, lines: tuple[str, ...]) -> None:
    assert said(talk, *lines).status in set(Status)
