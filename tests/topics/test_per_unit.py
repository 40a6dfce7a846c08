"""A sum paid for a weight, told by the pound, the kilogram or the patty."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("price per kilo if 350 g costs £3.15", 9.0),
        ("4.5 kg came to £40.50, per 150 g burger?", 1.35),
        ("paid $22 for 4 lb, whats that a lb", 5.5),
        ("£18 for 2.4 kg of brisket, how much a kilo", 7.5),
        ("500g tray is $8.50, per kg", 17.0),
    ],
)
def test_a_sum_over_a_weight(evening: Evening, line: str, wanted: float) -> None:
    answer = evening.ask(line)
    assert [figure.value for figure in answer.figures] == [pytest.approx(wanted)], answer


def test_nothing_paid_for_nothing_is_a_slip(evening: Evening) -> None:
    assert evening.ask("paid $22 for 0 lb, whats that a lb").status.value != "answered"
