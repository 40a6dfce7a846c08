"""Crowds: whose figure is whose, who is counted, and how a crowd changes; figures worked out by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant import Conversation
from assistant.answer import Answer, Role, Status
from assistant.topics.plan.reading.align import EVERYONE, OTHERS, Named, shared_out
from tests.topics.kitchen_talk import value


def last(*lines: str) -> Answer:
    """The answer to the last of some turns."""
    talk = Conversation()
    for line in lines[:-1]:
        talk.ask(line)
    answer: Answer = talk.ask(lines[-1])
    return answer


def values(answer: Answer, role: Role) -> list[float]:
    """The figures of one role."""
    return [float(figure.value) for figure in answer.figures if figure.role is role]


def _apart(first: int, second: int) -> int:
    return abs(first - second)


@pytest.mark.parametrize(
    ("mentions", "figures", "expected"),
    [
        ([(0, 0), (4, 1)], [2, 6], {0: 2, 1: 6}),  # adults 6 oz, kids 3 oz
        ([(2, 0), (6, 1)], [1, 5], {0: 1, 1: 5}),  # 6 oz for adults, 3 oz for kids
        ([(0, 0), (2, 1), (4, 2)], [6, 8, 10], {0: 6, 1: 8, 2: 10}),  # adults, teens, kids: 6, 5 and 3 oz
        ([(0, 0), (2, 1)], [5], {0: 5, 1: 5}),  # adults and kids, 5 oz
        ([(0, 0), (2, 1), (4, 2), (6, 0), (9, OTHERS)], [7, 10], {0: 7, 1: 10, 2: 10}),  # players two, others one
        ([(0, 0), (2, 1), (4, EVERYONE)], [5], {0: 5, 1: 5}),
        ([(0, 0), (4, 1)], [2], {0: 2}),  # 14 adults 6 oz, 9 kids: the kids' is not known
    ],
)
def test_each_figure_goes_to_its_own_group(
    mentions: list[tuple[int, int]], figures: list[int], expected: dict[int, int]
) -> None:
    named = [Named(place, group) for place, group in mentions]
    groups = 1 + max(group for _, group in mentions)
    assert shared_out(named, figures, groups, _apart) == expected


def test_figures_that_fit_no_way_of_speaking_are_given_to_nobody() -> None:
    named = [Named(0, 0), Named(9, 1)]
    assert shared_out(named, [2, 3, 4], 2, _apart) is None


@pytest.mark.parametrize(
    ("lines", "kilos"),
    [
        (("48 adults having two, 36 children having one, 6 veggies having none. 140 g adult, 85 g child",), "16.5"),
        (("75 guests x 2 x 110 g, less 10 burgers because the vegetarians have their own",), "15.4"),
        (("60 in all, 20 of whom are children. Kids one 80 g burger, adults two 120 g ones.",), "11.2"),
        (("18 rowers eat twice what the 12 spectators eat, spectators 110 g",), "5.28"),
        (("100 people, half have one burger, half have two, 125 g",), "18.75"),
        (("Day one: 64 people, 150 g each", "Day two: a quarter more people", "total for the two days?"), "21.6"),
        (("50 people, 2 burgers each, 125 g", "make them 110", "and only 45 people"), "9.9"),
        (("80 guests, two 120 g burgers each", "and 20 kids, one each at 80 g"), "20.8"),
        (("20 adults two 150 g burgers, 10 kids one 80 g", "kids get two as well"), "7.6"),
        (("feeding 45, of which 15 kids at 80 g, the others 150 g each",), "5.7"),
        (("60 guests, two each, but the 12 kids only one, 110 g burgers",), "11.88"),
        (("55 people on friday and the same again on saturday, 140 g each",), "15.4"),
        (("twice the crowd on Sunday: 40 on Saturday, 120 g burgers",), "14.4"),
        (("25 patties of 150 g and keep 500 g aside for meatballs",), "4.25"),
    ],
)
def test_meat_for_a_crowd(lines: tuple[str, ...], kilos: str) -> None:
    assert values(last(*lines), Role.TOTAL)[0] == pytest.approx(float(Fraction(kilos)))


def test_days_add_up_to_the_whole() -> None:
    answer = last("Saturday 90 people at 130 g one each, Sunday 50 people same size")
    whole, *days = values(answer, Role.TOTAL)
    assert whole == pytest.approx(sum(days)) and len(days) == 2


def test_a_group_without_a_size_is_asked_about() -> None:
    answer = last("14 adults at 6 oz each, 9 kids")
    assert answer.status is Status.NEEDS_DETAIL and "9 kids" in answer.message


@pytest.mark.parametrize(
    "lines",
    [
        ("35 people, 5 oz each", "kids are half of them, they get 3 oz"),
        ("40 people at 150 g, double",),
        ("40 kids, half 80 g half 100 g",),
    ],
)
def test_what_could_mean_several_things_is_asked(lines: tuple[str, ...]) -> None:
    answer = last(*lines)
    assert answer.status is Status.NEEDS_DETAIL


def test_a_range_of_guests_is_asked_about_and_the_reply_taken() -> None:
    lines = ("between 60 and 75 are coming, one 140 g burger each", "75")
    assert last(lines[0]).status is Status.NEEDS_DETAIL
    assert values(last(*lines), Role.TOTAL) == [10.5]


def test_meat_kept_back_comes_off_what_there_is() -> None:
    answer = last("have only 7.5 kg. 60 folk, keep back half a kilo for the cooks. size each?")
    assert values(answer, Role.PATTY_WEIGHT) == [pytest.approx(7000 / 60)]


def test_a_yield_told_as_two_weights_divides() -> None:
    answer = last("buy weight for 150 x 120 g burgers when 1 kg of brisket gives me 780 g of mince")
    assert values(answer, Role.PURCHASE) == [pytest.approx(18 / 0.78)]


def test_what_is_there_already_is_not_bought_again() -> None:
    answer = last("already have 3 kg in the freezer, need 55 burgers at 150 g, how much more to buy")
    assert values(answer, Role.PURCHASE) == [pytest.approx(5.25)]


def test_several_grills_are_one_round() -> None:
    assert values(last("3 barbecues holding 12 each. 130 burgers. How many rounds?"), Role.RATIO) == [4.0]


@pytest.mark.parametrize(
    ("line", "role", "value"),
    [
        # 10 lb 11.4 oz raw at $5 over 40: what is paid for 6 oz cooked, not for 6 oz raw
        ("40 burgers 6 oz cooked weight, 30% loss, meat at $5/lb, cost", Role.COST, 15 / 0.7 * 5 / 40),
        # 25 kg x 7, and over 20.5 kg
        ("25 kg untrimmed at £7/kg with 18% loss, price of the good meat", Role.COST, 175),
        ("25 kg untrimmed at £7/kg with 18% loss, price of the good meat", Role.PRICE, 7 / 0.82),
        # 8.4 kg / 0.85 = 9.88 kg: 14 packs of 750 g
        ("packs of 750 g, 60 people 140 g each, 15% trim", Role.PURCHASE, 14),
    ],
)
def test_losses_count_once_and_the_right_way(line: str, role: Role, value: float) -> None:
    assert any(found == pytest.approx(value, rel=1e-6) for found in values(last(line), role))


def test_a_budget_feeds_so_many_who_eat_two_each() -> None:
    # 300 / 8 = 37.5 kg = 312 patties of 120 g
    assert 156.0 in values(last("£300, mince £8/kg, 120 g burgers, 2 each, how many people"), Role.RATIO)


@pytest.mark.parametrize(
    ("lines", "kilos"),
    [
        (("24 kids at 80 g and 51 adults at 150 g", "the kids aren't coming now"), 7.65),
        (("40 people at two 100 g burgers each", "ten of them are kids and only have one"), 7.0),
        (("40 people, two 100 g burgers each", "10 of them only want one"), 7.0),
        # 64 x 2 x 1.05 = 134.4 and 38 x 2 x 1.05 = 79.8 burgers of 130 g, 215 together
        (
            ("Friday's lot: 64 at the table, two burgers a head, 130 g each, 5% over", "Saturday: same plan, 38 heads"),
            27.95,
        ),
    ],
)
def test_a_crowd_that_changes_by_a_line(lines: tuple[str, ...], kilos: float) -> None:
    assert value(last(*lines), "total", "meat") == pytest.approx(kilos, rel=1e-3)


@pytest.mark.parametrize("line", ["the kids aren't coming", "50 of them only want one"])
def test_people_who_were_never_counted_are_asked_about(line: str) -> None:
    answer = last("40 people two 4 oz burgers each", line)
    assert answer.status is Status.NEEDS_DETAIL


@pytest.mark.parametrize(
    ("line", "inches"),
    [
        ("buns r 4 in across how wide do i press em", 5),
        ("My bun is 4 in across. How wide do I shape the raw patty?", 5),
    ],
)
def test_a_bun_told_by_its_width_is_no_patty(line: str, inches: float) -> None:
    # 20 % shrink across: 4 / 0.8
    assert value(last(line), "patty_diameter") == pytest.approx(inches)


def test_money_over_burgers_needs_no_weight() -> None:
    answer = last("Spent $312 on meat for 130 burgers, what's that each?")
    assert value(answer, "cost", "patty") == pytest.approx(2.4)


def test_what_the_grill_holds_is_not_how_many_there_are() -> None:
    answer = last("The grill holds 18 burgers and a round takes 12 minutes. 100 burgers: how many rounds and how long?")
    assert value(answer, "ratio", "rounds") == 6
    assert value(answer, "duration") == 72


def test_shares_of_the_guests_by_what_they_eat_are_asked_for_in_numbers() -> None:
    # the chicken was left out and its 10 % taken for its fat
    answer = last(
        "100 guests: 20% are vegetarian, 10% want chicken, everyone else beef. 150 g raw each. How much beef?"
    )
    assert answer.status is Status.NEEDS_DETAIL


@pytest.mark.parametrize(
    "lines",
    [
        ("30 eat beef, 12 eat only lamb and 8 eat only chicken. 160 g raw each",),
        ("100 guests: 10% want chicken, everyone else beef. 150 g each", "70 eat beef and 10 eat chicken, 150 g each"),
    ],
)
def test_the_chicken_of_a_group_is_cooked_as_hot_as_chicken_needs(lines: tuple[str, ...]) -> None:
    # 165 °F, USDA FSIS: the reminder spoke of 160 °F alone
    assert any("165" in caution.text for caution in last(*lines).cautions)


@pytest.mark.parametrize(
    ("line", "kids", "adults"),
    [
        ("half the 64 guests are kids (90 g), the other half adults (150 g)", 32, 32),
        ("40 people, a third are kids, 3 oz for kids and 6 oz for adults", 13, 27),
        ("210 people, twice as many kids as adults, kids 80 g and adults 140 g, one each", 140, 70),
        ("Under 10s: 17, one 70g slider each. Over 10s: 29, two 115g burgers each.", 17, 29),
        ("22 and 19 - adults and kids - 2 each and 1 each, same 130 g patty", 19, 22),
    ],
)
def test_sorts_told_by_their_share_their_age_or_their_place_in_a_list_are_counted(
    line: str, kids: int, adults: int
) -> None:
    """What does not come out whole goes to the adults; an age is no number of people."""
    understood = last(line).understood
    assert f"for {kids} children" in understood
    assert f"for {adults} adults" in understood


def test_two_sizes_for_sorts_that_nobody_counted_are_asked_about() -> None:
    """Not one size for the one sort and the other as the meat that there is."""
    answer = last("12 people, adults 150 g, kids 90 g")
    assert answer.status is Status.NEEDS_DETAIL
    assert "How many of the 12 are children" in answer.message


def test_only_those_who_eat_are_fed_and_only_where_it_is_burgers_that_they_eat() -> None:
    """ "Only 20 want cheese" does not send the other ten home."""
    assert value(last("out of our 18 only 16 want burgers, two each, 120 g"), Role.PATTY_COUNT) == 32
    assert last("30 people, only 20 want cheese, 2 burgers each, 120 g").status is not Status.ANSWERED


@pytest.mark.parametrize(
    ("lines", "patties"),
    [
        (("60 burgers Friday and 90 Saturday, 150 g each",), 150),
        (("60 burgers Friday and 90 Saturday, 150 g each", "Sunday same as Friday"), 210),
        (("60 burgers Friday and 90 Saturday, 150 g each", "Sunday same as Saturday"), 240),
        (("60 burgers Friday and 90 Saturday, 150 g each", "make the Saturday lot 60"), 120),
        (("Fri 60 burgers, Sat twice that, Sun half of Friday's. All 150 g.",), 210),
        (("Market stall, 3 days, 85 burgers a day, 140 g",), 255),
        (("four nights running, 25 burgers a night at 6 oz",), 100),
    ],
)
def test_burgers_told_day_by_day_are_counted_over_all_days(lines: tuple[str, ...], patties: int) -> None:
    """Not one day's for all of them, and a day like another is like the one that was named."""
    assert value(last(*lines), Role.PATTY_COUNT) == patties


def test_so_many_more_on_another_day_is_asked_about() -> None:
    """20 on Saturday, or 70."""
    assert last("50 burgers on Friday, 20 more on Saturday, quarter pounders").status is Status.NEEDS_DETAIL


def test_what_is_on_the_table_is_shared_out_over_days() -> None:
    """18.9 kg over three days; 100 burgers over three are not equal."""
    shared = last("126 burgers at 150 g", "split that evenly over three days, kilos a day?")
    assert value(shared, Role.TOTAL) == pytest.approx(6.3)
    assert "one more on 1 of them" in last("100 burgers at 150 g", "split it over 3 days").headline
