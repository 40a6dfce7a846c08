"""The trade number of a grinder and the width of its plates."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.data.safety import safety_book
from assistant.session import ask


@pytest.mark.parametrize(
    ("line", "number", "mm"),
    [
        ("what size is a number 12 grinder", 12, 70),
        ("how big is a #8 plate", 8, 62),
        ("what plates fit a #22 grinder", 22, 82),
        ("what size plate does a no. 5 mincer take", 5, 54),
        ("what number grinder has a 100 mm plate", 32, 100),
        ("my grinder head is 70 mm across, what number is it", 12, 70),
    ],
)
def test_a_number_and_its_plates(line: str, number: int, mm: int) -> None:
    answer = ask(line)
    assert answer.status is Status.ANSWERED
    assert [figure.value for figure in answer.figures] == [mm, number]
    assert f"No. {number}: plates {mm} mm" in answer.headline


def test_a_number_that_no_table_has_is_not_guessed() -> None:
    answer = ask("how wide is a #10 grinder plate")
    assert answer.status is Status.IMPOSSIBLE
    assert all(row.key in answer.message for row in safety_book().grinder_sizes.values())
    assert not answer.figures


def test_the_number_of_a_grinder_beside_a_batch_is_no_fat() -> None:
    """It was taken as suet of 12 % fat."""
    answer = ask("3 lb at 80/20 from chuck and suet in my #12 grinder")
    assert answer.understood == "Plan 3 lb at 80/20 from chuck and suet"
    assert any("#12" in note for note in answer.notes)
