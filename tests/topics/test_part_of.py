"""A percent of a weight, and a rate of something that is not named."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        ("what's 1.25% of 3.7 kg", 46.25, "g"),
        ("what's 1.5% of 5 lb in oz", 1.2, "oz"),
        ("0.75 tsp per pound, 6.5 pounds", 4.875, "tsp"),
        ("16 g per kg for 3 kg", 48, "g"),
    ],
)
def test_a_share_of_a_weight(evening: Evening, line: str, value: float, unit: str) -> None:
    figure = evening.ask(line).figures[0]
    assert (figure.value, figure.unit) == (pytest.approx(value), unit)
