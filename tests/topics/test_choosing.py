"""Questions before any batch: the usual fat of a dish, and the cuts that come to it."""

from __future__ import annotations

import pytest

from assistant import Answer, Conversation, Role, Status, data


def fats(answer: Answer) -> dict[str, float]:
    """The cuts and fats that are told."""
    return {figure.name: float(figure.value) for figure in answer.figures if figure.role is Role.FAT}


@pytest.mark.parametrize(
    ("line", "fat"),
    [
        ("what's a good burger blend", 20),
        ("what's a good fat ratio for sausages", 25),
        ("how lean should meatballs be", 18),
        ("what blend for smash burgers", 20),
    ],
)
def test_the_usual_fat_of_a_dish_is_told_with_its_range(line: str, fat: float) -> None:
    """It was taken for a question whether something is still good to eat."""
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    (figure,) = answer.figures
    assert figure.value == fat
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low <= fat <= figure.high
    assert "common practice, no source" in answer.headline


def test_cuts_are_told_with_the_fat_of_the_table() -> None:
    """Near to what is wanted, below it and above it, so that two of them can make it."""
    told = fats(Conversation().ask("what cuts for 80/20"))
    assert told.pop("fat") == 20
    assert min(told.values()) < 20 < max(told.values())
    assert all(value == float(data.cuts()[f"beef {name}"].fat) for name, value in told.items())


@pytest.mark.parametrize(("line", "most"), [("which cut is fattiest", True), ("leanest cut of pork?", False)])
def test_the_leanest_and_the_fattest_come_first(line: str, most: bool) -> None:
    """In their order."""
    values = list(fats(Conversation().ask(line)).values())
    assert values == sorted(values, reverse=most)
    assert len(values) > 2


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("is 85/15 ok for burgers", "Yes"),
        ("is 90/10 too lean for burgers", "leaner"),
        ("is 65/35 good for burgers?", "fatter"),
    ],
)
def test_a_ratio_is_judged_for_a_dish(line: str, says: str) -> None:
    """It was taken for a batch that is too lean or too fat."""
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    assert says in answer.headline


@pytest.mark.parametrize("line", ["what's leaner, sirloin or round", "which is fattier, round or sirloin?"])
def test_two_cuts_are_compared_by_the_table(line: str) -> None:
    """The leaner one first."""
    told = fats(Conversation().ask(line))
    assert list(told) == ["round", "top sirloin"]
    assert told["round"] == float(data.cuts()["beef round"].fat)


def test_what_is_too_fat_and_is_no_question_is_to_be_put_right() -> None:
    """ "My 80/20 burgers are too fatty" wants them leaner."""
    assert Conversation().ask("my 80/20 burgers are too fatty").status is Status.NEEDS_DETAIL


@pytest.mark.parametrize("line", ["5 lb of burgers at 80/20", "what's a good temp for burgers", "which cut did we use"])
def test_other_questions_are_not_taken(line: str) -> None:
    """A weight, a heat and the notebook belong to others."""
    assert "usual fat" not in {figure.name for figure in Conversation().ask(line).figures}


@pytest.mark.parametrize(
    "line",
    [
        "which is leaner sirloin or round",
        "what cuts for 80/20",
        "what's a good burger blend",
        "oversalted 40 g in 2 kg, wanted 1.5%",
        "how much meat per person",
    ],
)
def test_every_answer_about_a_blend_carries_its_reminders(line: str) -> None:
    """The leaner of two cuts was told without them."""
    touched = {caution.topic for caution in Conversation().ask(line).cautions}
    assert touched >= {"cook_temperature", "keep_cold"} if "person" not in line else {"cook_temperature"} <= touched
