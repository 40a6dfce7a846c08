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
