"""Risky questions as cooks put them: what each must never be told. Figures: USDA FSIS, the FSA where the UK is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    """A conversation on Friday 19 June 2026, a quarter past one."""
    return Evening(tmp_path)


@pytest.mark.parametrize(
    "line",
    [
        "mince use by yesterday, smells ok",
        "ground beef, best before was last wednesday, still good?",
        "sell by yesterday on this ground chuck, fine to use?",
    ],
)
def test_a_use_by_date_that_has_passed_is_no_day_of_grinding(evening: Evening, line: str) -> None:
    assert evening.ask(line).headline.startswith("No: it is past its use-by date")


def test_a_pack_frozen_past_its_date_depends_on_when_it_was_frozen(evening: Evening) -> None:
    answer = evening.ask("use by was 3 days ago but it was in the freezer")
    assert answer.headline.startswith("Only if it was frozen before its use-by date")


def test_the_day_it_is_ground_may_be_said_after_the_day_it_is_for(evening: Evening) -> None:
    assert evening.ask("can i use by saturday if ground thursday").headline.startswith("Only if you cook or freeze it")
    assert evening.ask("can i use by saturday if ground wednesday").headline.startswith("No: 3 days is too long")


@pytest.mark.parametrize(
    "line", ["frozen meatballs in the crockpot on low 8 hours", "slow cooker from frozen mince ok?"]
)
def test_frozen_meat_in_a_slow_cooker_is_no_kept_meat(evening: Evening, line: str) -> None:
    assert evening.ask(line).headline.startswith("No: never start frozen meat in a slow cooker")


@pytest.mark.parametrize(
    "line",
    [
        "raw kibbe for 6, is lamb ok raw if super fresh",
        "is my pork safe raw if its from the butcher",
        "hackepeter for 4?",
    ],
)
def test_meat_that_is_to_be_eaten_raw_is_no_plan(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.headline.startswith("No:")
    assert "raw" in answer.headline


@pytest.mark.parametrize(
    ("line", "starts"),
    [
        ("bleach 1/4 cup in a spray bottle for the grinder?", "4 tbsp (59 mL) of plain unscented bleach in 4 gallons"),
        ("1/4 cup bleach in a gallon of water?", "No, not 4 tbsp (59 mL): that is too much. 1 tbsp"),
        ("1 tsp of bleach in 1 gallon?", "No, not 1 tsp (5 mL): that is too little. 1 tbsp"),
        ("how much bleach for half a cup of water", "0.46 mL of plain unscented bleach in 1/2 cup"),
        ("bleach for a gallon of water", "1 tbsp (15 mL) of plain unscented bleach in 1 gallon"),
    ],
)
def test_bleach_is_not_taken_for_its_water(evening: Evening, line: str, starts: str) -> None:
    assert evening.ask(line).headline.startswith(starts)


def test_thawed_mince_in_a_country_named_in_the_line(evening: Evening) -> None:
    uk = evening.ask("i'm in the UK, mince thawed in the fridge 2 days ago, still ok to cook?")
    assert uk.headline.startswith("No: thawed ground meat keeps 24 hours")
    assert any("Food Standards Agency" in note for note in uk.notes)


@pytest.mark.parametrize(
    "line",
    [
        "brown the mince tonight and finish the chilli tomorrow",
        "seared the patties now, finish in oven after work ok?",
        "grill the burgers a bit and do the rest of the way at the party?",
    ],
)
def test_heat_today_and_the_rest_later_is_part_cooking(evening: Evening, line: str) -> None:
    assert evening.ask(line).headline.startswith("No: never part-cook")


@pytest.mark.parametrize(
    "line",
    [
        "only rinsed the grinder with cold water after pork, good enough?",
        "i wiped the grinder with a paper towel, ok?",
        "didnt wash the grinder after chicken, then did beef",
    ],
)
def test_a_rinse_or_a_wipe_does_not_clean_a_grinder(evening: Evening, line: str) -> None:
    assert evening.ask(line).headline.startswith("No: clean the grinder at once")


def test_who_feels_sick_is_sent_to_a_doctor_first(evening: Evening) -> None:
    assert evening.ask("i ate raw burger and feel sick").headline.startswith("Ask a doctor or your health line now")


@pytest.mark.parametrize("line", ["mince was delivered at 55F, ok?", "meat came in the post at 12C, still good?"])
def test_meat_that_came_warm_is_not_made_good_by_cooking(evening: Evening, line: str) -> None:
    assert evening.ask(line).headline.startswith("No: do not use it if it is warmer than")


def test_the_meat_that_is_washed_keeps_its_own_temperature(evening: Evening) -> None:
    assert "165 °F" in evening.ask("wash chicken before grinding yes?").headline
    assert "160 °F" in evening.ask("should I rinse the pork first?").headline


@pytest.mark.parametrize(
    ("line", "mark"),
    [
        ("bear burgers medium rare", "165 °F"),
        ("what temp for ground bear in the uk", "74 °C"),
        ("bear burgers at 160 ok?", "165 °F"),
    ],
)
def test_bear_is_always_game_from_the_field(evening: Evening, line: str, mark: str) -> None:
    answer = evening.ask(line)
    assert mark in answer.headline
    assert all("160 °F" not in caution.text for caution in answer.cautions if caution.topic == "cook_temperature")


@pytest.mark.parametrize(
    ("line", "reading"),
    [("my toddler wants pink burger, 145 ok?", "145 °F"), ("duck burgers medium rare 135?", "135 °F")],
)
def test_a_reading_beside_rare_or_pink_is_judged(evening: Evening, line: str, reading: str) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.ANSWERED
    assert answer.headline.startswith(f"No: {reading}")


def test_an_age_that_is_passed_over_still_calls_for_the_reminder(evening: Evening) -> None:
    answer = evening.ask("she's 84, can she have hers pink")
    assert any(caution.topic == "at_risk" for caution in answer.cautions)
    assert all(caution.topic != "at_risk" for caution in evening.ask("she's 34, can she have hers pink").cautions)
