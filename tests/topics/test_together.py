"""Phrases that say one thing between them: read as one, and nothing of them is dropped."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "days"),
    [
        # two each of 6 oz: 12 x 2 x 6 / 16 = 9 lb, 20 x 2 x 6 / 16 = 15 lb
        ("12 people saturday and 20 sunday, 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        ("12 people on saturday, 20 people on sunday, 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        ("saturday 12 people sunday 20 people 2 burgers each 6 oz", {"Saturday": 9, "Sunday": 15}),
        # two each of 5 oz: 8 x 10 / 16 = 5 lb, 14 x 10 / 16 = 8.75 lb, 6 x 10 / 16 = 3.75 lb
        ("8 friday 14 saturday 6 sunday two 5 oz burgers each", {"Friday": 5, "Saturday": 8.75, "Sunday": 3.75}),
    ],
)
def test_people_are_told_day_by_day(evening: Evening, line: str, days: dict[str, float]) -> None:
    answer = evening.ask(line)
    for day, pounds in days.items():
        assert value(answer, "total", day) == pytest.approx(pounds)


@pytest.mark.parametrize(
    ("line", "role", "name", "figure"),
    [
        ("we will be four, quarter pounders", "patty_count", "", 4),
        ("12 equal patties from 2 kg", "patty_weight", "", 2000 / 12),
        ("how many 5 oz to the pound", "patty_count", "", 3),
        ("how many 4 oz burgers to a pound", "patty_count", "", 4),
        ("make 4 lots of 2 kg, salt 15 g/kg", "seasoning", "salt", 120),
        ("triple batch of 2 lb 85/15 chuck round suet", "total", "batch", 6),
        ("a double batch of 3 lb at 80/20, brisket trim and round", "total", "batch", 6),
        ("one of brisket two of chuck 6 lb", "component", "chuck", 4),
        ("100% meat, 2% salt, 0.3% pepper, 10% water for 4 kg", "seasoning", "salt", 80),
        ("meat is 100, salt 1.8, pepper .4, want 3.5 kilos", "seasoning", "pepper", 14),
        ("6 kg rump, threw out 900 g of fat, how much is left", "total", "left", 5.1),
        ("10 lb chuck, 1.5 lb of it ended up in the bin, how many 5 oz patties", "total", "meat", 8.5),
        # 6 kg at 19.00 over the 5.1 kg that is left
        (
            "whole rump £19/kg, 6 kg of it; 900 g of fat off it went in the bin. cost per kg of what's left?",
            "price",
            "",
            22.3529,
        ),
        # 3 x + 95 (5 - x) = 20 x 5: x = 375 / 92
        ("rump 9 quid a kilo fat 3%, suet 95% 2 quid a kilo, 5 kg 80/20", "component", "rump", 375 / 92),
    ],
)
def test_two_phrases_are_one(evening: Evening, line: str, role: str, name: str, figure: float) -> None:
    assert value(evening.ask(line), role, name) == pytest.approx(figure, rel=1e-4)


def test_a_double_batch_is_not_made_once(evening: Evening) -> None:
    # "double" was dropped in silence beside what there is
    answer = evening.ask("got 6 lb round and 4 lb suet, make me a double batch of 3 lb at 80/20")
    assert value(answer, "total", "batch") == pytest.approx(6)


def test_batches_that_come_out_of_a_weight_are_not_added_to_it(evening: Evening) -> None:
    answer = evening.ask("12 lb in 3 batches of 4 lb, salt 1.5%")
    assert answer.status is not Status.ANSWERED or value(answer, "total") == pytest.approx(12)


@pytest.mark.parametrize(
    ("line", "cut", "pounds"),
    [
        # without round: 15.7 c + 94 (6 - c) = 120
        ("as much chuck as possible, 6 lb 80/20 with suet and round", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 chuck suet round with as much of the chuck as I can", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 from chuck, round and suet, the more chuck the better", "chuck", 6 * 74 / 78.3),
        ("6 lb 80/20 from chuck, round and suet, as little round as possible", "round", 0),
        # all of the fat from the trim
        ("6 lb 75/25 brisket trim, round, suet, as little suet as possible", "suet", 0),
    ],
)
def test_of_one_cut_the_most_or_the_least(evening: Evening, line: str, cut: str, pounds: float) -> None:
    # "the more chuck the better" was dropped in silence
    assert value(evening.ask(line), "component", cut) == pytest.approx(pounds, rel=0.005)


def test_as_much_of_two_cuts_as_possible_is_asked_about(evening: Evening) -> None:
    answer = evening.ask("6 lb 80/20 from chuck, round and suet, max chuck and max round")
    assert answer.status is Status.NEEDS_DETAIL


def test_mostly_is_half_at_least(evening: Evening) -> None:
    answer = evening.ask("6 lb 80/20 from chuck, round and suet, mostly chuck")
    assert "at least 50% chuck" in answer.understood
    assert value(answer, "component", "chuck") >= 3


@pytest.mark.parametrize(
    ("line", "role", "name", "figure"),
    [
        # 3 x 28 + 6 x = 20 (3 + x)
        (
            "3 kilos of mince has come out at 28% fat, too greasy. I've topside at 6. Get me to 20",
            "add",
            "topside",
            24 / 14,
        ),
        ("one part in four fat, 4 lb, round 8%, suet 92%", "component", "suet", 4 * 17 / 84),
        # (500 x 12 + 300 x 30) / 800
        ("What's the lean percentage if I mix 500g of mince at 12% fat with 300g at 30% fat?", "lean", "", 81.25),
        ("15% - no, hang on, 18% fat, 2.4 kg, topside 6%, brisket 26%", "component", "brisket", 1.44),
        ("4kg split 60/25/15 between chuck, brisket and short rib", "component", "chuck", 2.4),
        ("chuck and shin 3 kg, shin double the chuck", "component", "shin", 2),
        ("2 lb of burgers that are 80 lean, i have 93 lean and 70 lean ground beef", "component", "70", 2 * 13 / 23),
        ("eye of round and brisket point, 6 lb 85/15, eye 4% point 26%", "component", "point", 3),
        ("chuck 18%, brisket 22%, topside 5%, 3 kg at 12%, leave the brisket alone", "component", "chuck", 21 / 13),
        (
            "need 8 lb of 78/22. got 24 oz suet at 94%, all the round i want at 7%",
            "component",
            "suet",
            8 * 16 * 15 / 87 / 16,
        ),
        ("2 level teaspoons of fine salt per kilo, I've 3.25 kg", "seasoning", "fine salt", 6.5),
        ("written for 10 lb: 3 oz salt, 5 t sage, T mace. i got 4 lb", "seasoning", "mace", 0.4),
    ],
)
def test_fats_and_shares_told_by_two_phrases(evening: Evening, line: str, role: str, name: str, figure: float) -> None:
    assert value(evening.ask(line), role, name) == pytest.approx(figure, rel=0.005)


def test_a_batch_reduced_from_one_fat_to_another_keeps_its_weight(evening: Evening) -> None:
    # taken out and put in: 20 (26 - 20) / (26 - 5)
    answer = evening.ask(
        "Reduce a 20 kg batch from 26% fat to 20% using silverside at 5%. Keep the batch at 20 kg by removing some."
    )
    assert value(answer, "add", "silverside") == pytest.approx(20 * 6 / 21, rel=1e-4)
    assert value(answer, "total") == pytest.approx(20)


def test_the_kind_before_the_colon_is_no_cut(evening: Evening) -> None:
    answer = evening.ask(
        "2 kg beef at 15% fat: topside 6%, brisket fat 70%", "the same again but lamb: lamb leg 9%, lamb breast 30%"
    )
    assert [figure.name for figure in answer.figures if figure.role == "component"] == ["lamb leg", "lamb breast"]


@pytest.mark.parametrize(
    ("line", "role", "name", "figure"),
    [
        ("ive 6 1/2 lb ground up. salt it one n a quarter %", "seasoning", "salt", 2948.35 * 0.0125),
        ("half pound ribeye, 1 lb 3 oz flank, 9oz brisket flat. weight n fat %?", "total", "batch", 2.25),
        ("a third of my 6 lb is brisket the rest chuck how much of each", "component", "brisket", 2),
        ("11 equal patties out of a 2-3/4 lb pack; what does one weigh?", "patty_weight", "", 4),
        # (30 - 20) / (20 - 5) of 5 lb
        ("made 5 lb n its way fat like 30%. wanna get it down to 20, got eye round at 5%", "add", "eye round", 10 / 3),
        (
            "whats the fat if i mix 2 lb chuck thats 18 percent 1 lb brisket 22 percent and a half lb bacon 40 percent",
            "fat",
            "",
            78 / 3.5,
        ),
        # (20 - 14) / (99 - 20) of 3 kg
        (
            "My 3 kg came out at 14% and I was after 20%. I've beef dripping at 99%. How much do I melt in?",
            "add",
            "",
            18 / 79,
        ),
        ("tripple this but leave the sugar out. 1 tbsp salt 2 tsp sugar 1 tsp pepper", "seasoning", "salt", 3),
    ],
)
def test_what_was_dropped_or_taken_for_something_else(
    evening: Evening, line: str, role: str, name: str, figure: float
) -> None:
    # "one n a quarter" was a quarter, "tripple" was dropped, "bowls" were jowls
    assert value(evening.ask(line), role, name) == pytest.approx(figure, rel=0.005)


def test_shares_over_the_whole_are_no_fats(evening: Evening) -> None:
    # 30 % of two cuts were taken for their fat, and the shares made up
    answer = evening.ask("2.5 kg please: half rump, 30% brisket and 30% short rib")
    assert answer.status is Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("lines", "gone", "come"),
    [
        (
            ("85/15, 1.5kg, topside chuck and brisket, butcher's out of chuck, so shin in place of that",),
            "chuck",
            "shin",
        ),
        (("rump 10% and brisket trim 45%, 6 kg, 15% fat", "put suet (94%) where the trim was"), "brisket trim", "suet"),
    ],
)
def test_a_cut_that_takes_the_place_of_another(evening: Evening, lines: tuple[str, ...], gone: str, come: str) -> None:
    names = [figure.name for figure in evening.ask(*lines).figures if figure.role == "component"]
    assert come in names
    assert gone not in names


def test_scaled_by_no_figure_is_asked_about(evening: Evening) -> None:
    # the batch was told again as it was
    answer = evening.ask("topside 5% and suet 92%, 18% fat, 5 kg all told", "scale it down a smidge")
    assert answer.status is Status.NEEDS_DETAIL


def test_a_full_bowl_keeps_its_weight(evening: Evening) -> None:
    # 8 (18 - 12) / (50 - 12)
    answer = evening.ask("8 lb batch came out 12% fat want 18%, bowls full. take some out put trim in thats 50%")
    assert value(answer, "add", "trim") == pytest.approx(48 / 38, rel=1e-3)


@pytest.mark.parametrize(
    ("lines", "role", "name", "figure"),
    [
        # 12 x 2 x 6 oz = 9 lb: the loads were not told
        (("12 ppl 2 burgers each 6 oz. my mixer bowl only holds 3 lb how many loads",), "ratio", "loads", 3),
        (("10 lb into 6 oz patties, bowl holds 4 lb, how many loads",), "ratio", "loads", 3),
        (("30 eat beef, 12 eat only lamb and 8 eat only chicken. 160 g raw each",), "total", "Lamb", 1.92),
        (("20 sliders @ 3 oz plus 4 kid ones @ 2, total lb?",), "total", "meat", 4.25),
        # 9.25 / 0.88
        (
            ("Trim's 12% on brisket and the grinder keeps 250 g. I want 9 kg of mince. What do I buy?",),
            "purchase",
            "",
            9.25 / 0.88,
        ),
        # 6.15 / 0.92
        (
            (
                "After an 8% trimming loss I mince, and 150 g never comes out of the machine. To have 6 kg in the bowl, how much meat do I order?",
            ),
            "purchase",
            "",
            6.15 / 0.92,
        ),
        # 104 x 120 g / 0.82
        (
            ("45 guests 2 rissoles each 120g +15%", "and the rump loses 18% when I trim it. buy weight?"),
            "purchase",
            "",
            12.48 / 0.82,
        ),
        (("Friday 25 people, Saturday 70, one 130 g burger each", "drop Friday"), "total", "meat", 9.1),
    ],
)
def test_people_loads_and_losses(evening: Evening, lines: tuple[str, ...], role: str, name: str, figure: float) -> None:
    assert value(evening.ask(*lines), role, name) == pytest.approx(figure, rel=0.001)


def test_a_day_that_nobody_is_down_for_is_asked_about(evening: Evening) -> None:
    answer = evening.ask("Friday 25 people, Saturday 70, one 130 g burger each", "drop Sunday")
    assert answer.status is Status.NEEDS_DETAIL
    assert "only for Friday and Saturday" in answer.message


@pytest.mark.parametrize(
    ("lines", "role", "name", "figure"),
    [
        # 14 % chuck and 70 % fat at 22 %: 6 x 8 / 56
        (
            ("round 7% chuck 14% beef fat 70%. 6 lb at 22", "scratch the round, i'm out"),
            "component",
            "beef fat",
            48 / 56,
        ),
        # 4.5 (32 - 22) / (22 - 5)
        (
            ("oops put in too much suet, 4.5 lb at 32% fat now. eye round's 5%. want it at 22, add how much",),
            "add",
            "eye round",
            45 / 17,
        ),
        # 16 x 2.99 / 11
        (("16 lb packer at 2.99, 5 lb of it went to tallow. whats the rest run me per lb",), "price", "", 47.84 / 11),
        # 750 (16 - 6) / (84 - 16)
        (
            ("Shin, 750 g, about 6% fat. I'd like to take it up to 16 with bone marrow at 84%",),
            "add",
            "marrow",
            7500 / 68,
        ),
        # 1.4 (33 - 20) / (20 - 10)
        (
            ("Lamb breast at 33% fat, 1.4 kg, must all go. Leg of lamb 10%. Want 20% mince - how much leg?",),
            "component",
            "leg",
            1.82,
        ),
        (("2 kg, half pork shoulder at 20% and half beef at 8%. How fat is it?",), "fat", "", 14),
        (("For 60 people, 2 burgers each, 4 oz", "half of them only want one"), "total", "meat", 22.5),
        (("knock this down to a third, 1 1/2 tbsp salt, 3 tsp pepper",), "seasoning", "salt", 0.5),
        # 95 and 50 lean to 75 lean: 12 x 20 / 45
        (("12 kilo of 75VL for the pie shop: 95VL bull beef and 50VL flank",), "component", "50VL", 12 * 20 / 45),
        (("Everything against 100 of meat: salt 1.5, sugar 0.4. I've 8.5 kg of meat.",), "seasoning", "sugar", 34),
        (("€200 float, mix costs €11.50 the kilo, 150 g each. how many can I make?",), "patty_count", "", 115),
        (
            ("ground beef from 3 different packs: 1 lb 80/20, 2 lb 90/10, 1 lb 73/27. mixed, what is it",),
            "fat",
            "",
            16.75,
        ),
        (
            ("lean side is venison, about 3% fat. fat side is pork belly, 52%. 6 lb finished, 18% fat",),
            "component",
            "belly",
            90 / 49,
        ),
        (("20 g salt and pepper at a quarter of the salt, 2 kg",), "seasoning", "pepper", 5),
        (("1 1/2 percent salt on 4 lb but i got no scale just a teaspoon",), "seasoning", "spoon", 27.2155 / 6),
    ],
)
def test_more_that_was_misread(evening: Evening, lines: tuple[str, ...], role: str, name: str, figure: float) -> None:
    assert value(evening.ask(*lines), role, name) == pytest.approx(figure, rel=0.005)


def test_a_meat_taken_back_by_its_beast_is_gone(evening: Evening) -> None:
    answer = evening.ask(
        "2.2 kg 75/25 from pork shoulder, pork belly and veal shoulder. Sorry, not veal, chicken thigh!"
    )
    names = [figure.name for figure in answer.figures if figure.role == "component"]
    assert names == ["pork shoulder", "pork belly", "chicken thigh"]


def test_half_of_several_sorts_is_asked_about(evening: Evening) -> None:
    answer = evening.ask("40 adults at 150 g and 20 kids at 80 g, 2 each", "half of them only want one")
    assert answer.status is Status.NEEDS_DETAIL


@pytest.mark.parametrize(
    ("lines", "role", "name", "figure"),
    [
        # 45 at 140 g and 35 at 140 g: the vegetarians were fed
        (("Saturday 60 people of whom 15 are vegetarian; Sunday 35. One 140 g burger each",), "total", "meat", 11.2),
        (("12 of my 20 guests eat meat, two 5 oz burgers each for those. how much beef?",), "total", "meat", 7.5),
        (("12 same-size pork patties from a 4-1/2 lb pack",), "patty_weight", "", 6),
        (("Sausage mix of 6 kg: meat 80%, rusk 10%, water 10%. Weights please",), "total", "meat", 4.8),
        (("Sausage mix of 6 kg: meat 80%, rusk 10%, water 10%. Weights please",), "seasoning", "rusk", 600),
        (("knock this down to a third, 1 1/2 tbsp salt / 3 tsp pepper / 3/4 tsp mace",), "seasoning", "mace", 0.25),
        (("Not 80/20 this time, 70/30: 2 kg from topside 6% and pork belly 52%",), "fat", "", 30),
        (("my grinder eats 3 oz every time. i want 5 lb clean how much goes in",), "purchase", "", 5.1875),
        # 15.3 / 0.8
        (
            ("trim waste 20%, then 300 g stays in the machine. fifteen kilos finished is what I'm after. order?",),
            "purchase",
            "",
            19.125,
        ),
        (("how much chuk at 17% and how much sueet at 94 for 2 lbs 75/25",), "component", "suet", 16 / 77),
        (("1.4% fleur de sel for 3 kg of pork",), "seasoning", "fleur", 42),
    ],
)
def test_still_more_that_was_misread(
    evening: Evening, lines: tuple[str, ...], role: str, name: str, figure: float
) -> None:
    assert value(evening.ask(*lines), role, name) == pytest.approx(figure, rel=0.005)
