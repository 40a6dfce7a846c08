"""What hurried cooks type about safety and what was once misread, each with the answer that guidance gives."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, said


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    """It is Friday 19 June 2026, a quarter past one."""
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("lines", "opening"),
    [
        # the date on the pack is judged by the day of the cooking, and not taken for the day of the grinding
        (("use by date 17 june, cook today?",), "no: it is past its use-by date"),
        (("use by saturday, cook sunday?",), "no: it is past its use-by date"),
        (("use by saturday, ok to eat today",), "until sat 20 june 2026"),
        (("mince sell by 2 days ago",), "no: it is past its use-by date"),
        # thawed in the microwave or in water it is cooked at once
        (("defrosted in the microwave this morning, cook tonight ok?",), "no: thawed in the microwave"),
        (("thaw patties in microwave then bbq tomorrow",), "no: thawed in the microwave"),
        (("thaw mince in microwave and cook it ok?",), "yes: at half power"),
        (("mince thawed in sink overnight",), "no: never in cold water overnight"),
        # Wednesday to Saturday is three days, yesterday to tomorrow two
        (("mince thawed wednesday, ok to cook tomorrow?",), "no: thawed ground meat keeps 1 to 2 days"),
        (("thawed yesterday, ok to cook tomorrow?",), "only if you cook it that day"),
        # out of the fridge by other words
        (("sausage meat left the fridge 10:40 am",), "back in the fridge or cooked by 12:40"),
        (("set the ground lamb on the counter at 11:50 am", "when's it gotta go back"), "back in the fridge or cooked by 1:50"),
        (("34 c at the field. Patties come out of the cool box at 11:30, when must they be on the grill by?",), "back in the fridge or cooked by 12:30"),
        (("left the fridge door open 3 hours, mince ok?",), "measure it"),
        (("Took the mince out of the cool box at 9:20 am, it's about 24 C. When are its two hours up?",), "back in the fridge or cooked by 11:20"),
        # cooked food: held hot, cooled; a heat held for minutes is a way of cooking and not of holding
        (("is 60 c hot enough to hold burgers",), "yes: 60 °c (140 °f) is hot enough"),
        (("keep patties in the oven at 120f ok?",), "no: 120 °f (49 °c) is not hot enough"),
        (("hold burgers at 145f for 20 min then eat",), "no: 145 °f (63 °c) is not enough"),
        (("burgers held at 145 f for 4 minutes ok",), "no: 145 °f (63 °c) is not enough"),
        (("how fast must i cool cooked meatballs",), "straight into the fridge"),
        (("can i put hot burgers straight in the fridge",), "straight into the fridge"),
        # raw meat at the grinder is judged as such and not as cooked
        (("is it ok to grind at 8 c",), "stop: 8 °c (46 °f) is too warm"),
        (("meat temp 45f when i ground it",), "stop: 45 °f (7 °c) is too warm"),
        (("meat at 1 c ok to grind?",), "go on: 1 °c (34 °f)"),
        (("grind pork then cook to 63 c ok?",), "no: 63 °c (145 °f) is not enough"),
        (("can i serve burgers rare if i grind a whole steak myself",), "no: ground beef is never safe rare"),
        (("put frozen burgers straight on the bbq ok?",), "yes: thin patties can be cooked from frozen"),
        (("once mince has thawed in the fridge, how soon do i have to cook it?",), "thawed in the fridge, ground meat keeps 1 to 2 days"),
        # a clock time and a length of time are added up
        (("cubes in the freezer at 6:40, 45 minutes",), "ready at 7:25"),
        (("cubes in the freezer at 6.40, 45 minutes",), "ready at 7:25"),
        (("put the mince in the freezer at 2pm for half an hour, when do i take it out",), "ready at 2:30 pm"),
        (("bowl in the freezer at 11:50 am, 20 to 30 minutes",), "ready at 12:10 pm to 12:20 pm"),
    ],
)  # fmt: skip
def test_judged(evening: Evening, lines: tuple[str, ...], opening: str) -> None:
    assert said(evening.ask(*lines)).startswith(opening)


@pytest.mark.parametrize("day", ["35 degrees out", "95f outside"])
def test_a_hot_day_beside_a_crowd_is_a_portion_with_its_reminder(evening: Evening, day: str) -> None:
    answer = evening.ask(f"{day} and 20 people want burgers")
    assert answer.status is Status.ANSWERED
    assert answer.topic == "portion"
    assert any("1 hour in all" in caution.text for caution in answer.cautions)


def test_a_mild_day_beside_a_crowd_brings_no_reminder_of_heat(evening: Evening) -> None:
    answer = evening.ask("20 degrees out and 20 people want burgers")
    assert answer.topic == "portion"
    assert not any("Above 90" in caution.text for caution in answer.cautions[:2])


def test_what_went_into_the_freezer_at_a_time_sets_no_freezer(evening: Evening) -> None:
    assert evening.ask("cubes in the freezer at 6.40, 45 minutes").topic != "settings"


def test_the_half_of_the_day_nobody_said_is_the_nearer_one(evening: Evening) -> None:
    answer = evening.ask("cubes went in the freezer at 12:50, 45 mins, when are they ready")
    assert [figure.value for figure in answer.figures] == ["2026-06-19T13:35:00+01:00"]
    assert not any("Not answered" in note for note in answer.notes)


@pytest.mark.parametrize(
    "line",
    [
        "cubes in the freezer at 6:40, 45 minutes, ok?",
        "mince not in the fridge at 6:40, 45 minutes",
        "mince out of the freezer at 6:40, 45 minutes",
    ],
)
def test_what_is_judged_or_out_is_no_sum_of_the_clock(evening: Evening, line: str) -> None:
    assert evening.ask(line).topic != "ready"
