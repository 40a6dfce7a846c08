"""Requests that were once answered beside the question: each is read as the cook meant it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def test_a_total_before_a_list_of_meats_is_that_of_the_batch(evening: Evening) -> None:
    # 20 % of 6 lb between 7.0 and 44.4 %: the six pounds were once the deer's alone
    answer = evening.ask("6 lb total of deer and pork belly, 20% fat")
    assert value(answer, "total") == pytest.approx(6)


def test_a_meat_taken_back_by_its_last_word_is_gone(evening: Evening) -> None:
    answer = evening.ask("1.8 kg at 18% fat, lamb breast and lamb shoulder, sorry, leg not shoulder")
    assert [figure.name for figure in answer.figures if figure.role == "component"] == ["lamb breast", "leg"]


def test_meat_in_the_tub_is_meat_that_is_there_and_no_pack_to_buy(evening: Evening) -> None:
    # 12 x 2 + 36 x 1 = 60 burgers; 7.2 kg / 60 = 120 g
    answer = evening.ask("There are 48 of us. A quarter will eat two, everybody else one, and I've 7.2 kg in the tub")
    assert value(answer, "patty_weight") == pytest.approx(120, rel=0.01)


def test_what_is_stuck_round_the_auger_is_lost_and_no_round(evening: Evening) -> None:
    # (8 + 0.25) / (1 - 1/5) = 10.3125
    answer = evening.ask(
        "need 8 kg. I lose a fifth in trimming and a quarter kilo stuck round the auger, how much to buy"
    )
    assert value(answer, "purchase") == pytest.approx(10.3125, rel=0.005)


def test_what_a_cup_weighs_is_asked_of_what(evening: Evening) -> None:
    answer = evening.ask("whats a cup weigh")
    assert answer.status is Status.NEEDS_DETAIL
    assert "Of what?" in answer.message


@pytest.mark.parametrize("line", ["need mince defrosted by Sunday", "mince thawed by 4 July 2027"])
def test_thawed_by_a_day_to_come_is_a_wish_and_no_age(evening: Evening, line: str) -> None:
    # it was once told to throw the meat away
    answer = evening.ask(line, "1 lb packs")
    assert "move it to the fridge" in said(answer)
    assert "throw" not in said(answer)


def test_an_ing_without_its_g_is_understood(evening: Evening) -> None:
    answer = evening.ask("6 lb from bottom round and beef fat trim, aimin for 15% fat")
    assert value(answer, "fat") == pytest.approx(15)


def test_under_before_a_name_is_no_limit(evening: Evening) -> None:
    answer = evening.ask("3 lb chuck, 1 lb short rib", "save this one under Garage Night")
    assert 'saved as "garage night"' in said(answer)


@pytest.mark.parametrize(
    ("line", "pounds"),
    [
        ("a pound for every three people, 12 people", 4),
        ("Figure a pound of meat for every three people. 270 people. How much?", 90),
        ("3 people to a pound, 12 of us", 4),
        ("half a pound for 2 people, 20 people", 5),
    ],
)
def test_so_much_for_so_many_is_a_rate_and_no_crowd(evening: Evening, line: str, pounds: int) -> None:
    assert value(evening.ask(line), "total") == pytest.approx(pounds)


def test_a_weight_for_two_groups_stays_the_meat_for_both(evening: Evening) -> None:
    assert value(evening.ask("5 lb for 12 people and 3 kids, how big"), "patty_count") == 15


def test_numbers_after_the_word_for_people_count_them(evening: Evening) -> None:
    # 40 x 2 + 12 x 1
    answer = evening.ask("adults: 40, kids: 12. 2 burgers each for adults, one for kids, 5 oz")
    assert value(answer, "patty_count") == 92


def test_burgers_that_are_made_are_no_fat(evening: Evening) -> None:
    answer = evening.ask("80/20 from chuck $6/lb and brisket trim $4/lb, 3 lb, what's each burger if I make 10")
    assert value(answer, "fat") == pytest.approx(20)
    assert value(answer, "patty_count") == 10


@pytest.mark.parametrize("weight", ["a stone", "14 lb"])
def test_a_recipe_written_for_another_weight_is_scaled_to_what_there_is(evening: Evening, weight: str) -> None:
    # 3 1/2 of 14 lb is a quarter; the salt once went in whole
    answer = evening.ask(f"the recipe is for {weight} of pork: 4 oz salt, 1 oz white pepper. I've only 3.5 lb")
    assert value(answer, "seasoning", "salt") == pytest.approx(1, rel=0.01)


def test_a_burger_to_eat_cooked_is_weighed_raw_and_not_eaten_so(evening: Evening) -> None:
    answer = evening.ask("wanna eat a 5oz cooked burger, 80/20 on the stove, how much raw")
    assert "raw patty" in said(answer) or value(answer, "patty_weight") > 5
    assert "not safe to eat" not in said(answer)


def test_crumbs_and_water_are_in_the_total_that_is_asked_for(evening: Evening) -> None:
    # 3.5 kg + 3.5 x 60 g + 3.5 x 80 g
    answer = evening.ask("breadcrumbs 60 g a kilo + iced water 80 g a kilo into 3.5 kg pork, total in the tub?")
    assert value(answer, "total", "mixed") == pytest.approx(3.99, rel=0.005)


@pytest.mark.parametrize(
    ("line", "topic", "verdict"),
    [
        # the heat that meat stood at was taken for the heat it was cooked to
        ("UK, mince at 5 C, 2 days ok?", "store", "only if you cook or freeze it that day"),
        ("mince at 5 C for 2 days ok?", "store", "too warm"),
        ("meat at 30 C, 1 hour ok?", "safe", "yes, for 1 h more"),
        ("burgers at 30 C for 3 hours safe?", "safe", "throw it away"),
        # and heat that cooks stays heat that cooks
        ("sous vide burgers 55 C 3 hours ok?", "cook", "not enough"),
        ("burger mince at 60 C for 20 min ok?", "cook", "not enough"),
    ],
)
def test_what_meat_stood_at_is_no_cooking_temperature(evening: Evening, line: str, topic: str, verdict: str) -> None:
    answer = evening.ask(line)
    assert answer.topic == topic
    assert verdict in said(answer)


@pytest.mark.parametrize(
    ("line", "role", "name", "wanted"),
    [
        # 5000 - 32 x 140
        ("5 kg less thirty-two patties of 140 g: what is left over?", "left_over", "", 0.52),
        # a bare number is in the unit of the one before it: 25 % and 35 % of 6 kg, 0.8 g/kg of 3 kg, 10 lb in loads of 4
        ("40 per cent chuck, 25 brisket, the rest topside: 6 kg", "component", "brisket", 1.5),
        ("salt 15 g a kilo, sage 2.5 g a kilo, mace 0.8. 3 kg", "seasoning", "mace", 2.4),
        ("10 lb to mix and my bowl only takes 4. how many loads", "ratio", "loads", 3),
        ("5:3:2 chuck:brisket:short rib for 8 kilos", "component", "brisket", 2.4),
        # 900 x (18 - 6) / (93 - 18); 9 x (16 - 6) / (45 - 16); at least 0.3 of 3 kg, and the batch of a kind
        ("How much suet (93%) takes 900 g of gravy beef, 6% fat, up to 18?", "add", "suet", 144),
        (
            "its too lean, nine pounds at six percent, I want it up to sixteen with bacon ends at 45%",
            "add",
            "bacon",
            3.1034,
        ),
        ("5 kg pork mix, 36% fat. Belly 50%, shoulder 20%, back fat 85%", "total", "", 5),
        ("At least 30% of the 3 kg should be shin. Shin 7%, brisket 20%, suet 90%; 22% fat overall", "total", "", 3),
        # 10 x (30 - 20) / (20 - 2) of deer into a mix that is there; wanted, such a mix is made of the two
        (
            "ten pounds of deer and pork mix at 30%, too fat, I want it at 20, how much deer at 2% to add",
            "add",
            "deer",
            5.5556,
        ),
        ("I want 3 lb of chuck and suet mix at 25% fat", "total", "", 3),
        # (3 x 10 + 1 x 90) / 4: asked against a label, and not made to it
        ("3 lb sirloin (10% fat) plus 1 lb suet (90%), is that fattier than 75/25 or leaner", "fat", "", 30),
        # only what is named is halved
        ("Just halve the salt, leave the rest: 18 g salt, 4 g pepper, 3 g mace", "seasoning", "pepper", 4),
        ("Just halve the salt, leave the rest: 18 g salt, 4 g pepper, 3 g mace", "seasoning", "salt", 9),
        # 10 / 1.18 and 12 / 1.045: percents of the meat in a weight that holds them
        (
            "finished weight should be 10 kg: meat plus 8% rusk plus 10% water, both on the meat",
            "total",
            "meat",
            8.4746,
        ),
        (
            "The finished mixture must weigh 12 lb including 3% water and 1.5% salt, both reckoned on the meat weight",
            "total",
            "meat",
            11.4833,
        ),
    ],
)
def test_what_a_line_leaves_unsaid_is_filled_in(
    evening: Evening, line: str, role: str, name: str, wanted: float
) -> None:
    assert value(evening.ask(line), role, name) == pytest.approx(wanted, rel=0.005)


def test_so_many_at_a_size_are_patties_of_the_batch(evening: Evening) -> None:
    answer = evening.ask("3 kg of chuck at 18%, seasoned with 15 g salt per kg", "how many would that do at 120 g?")
    assert value(answer, "patty_count") == 25


def test_the_plate_of_the_raw_meat_is_refused_and_no_time_out(evening: Evening) -> None:
    answer = evening.ask("Can the cooked burgers go back on the plate I carried them out on raw?")
    assert "never go back where raw meat was" in said(answer)


def test_the_best_scored_is_asked_of_the_notebook(evening: Evening) -> None:
    answer = evening.ask("log 1 kg chuck as Trial A, 6/10", "log 1 kg rump as Trial B, 9/10", "which one scored best?")
    assert '"trial b" 9/10' in said(answer)


@pytest.mark.parametrize("price", ["six fifty a pound", "six dollars fifty a pound", "$6.50 a pound"])
def test_a_price_is_read_as_it_is_spoken(evening: Evening, price: str) -> None:
    # fifty a pound was taken, and the six dropped: 3 x 6.50
    assert value(evening.ask(f"3 lb chuck at {price}, what's it cost"), "cost", "batch") == pytest.approx(19.5)
