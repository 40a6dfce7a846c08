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


@pytest.mark.parametrize("line", ["5 lb of burgers at 80/20", "what's a good temp for burgers", "which cut did we use"])
def test_other_questions_are_not_taken(line: str) -> None:
    """A weight, a heat and the notebook belong to others."""
    assert "usual fat" not in {figure.name for figure in Conversation().ask(line).figures}
