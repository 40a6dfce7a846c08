"""Plain requests that were once misread or refused, each with the sum worked by hand beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "role", "name", "figure"),
    [
        # the fat of the mince that the cuts are to make, and no cut's: 5 x (20 - 5) / (38 - 5)
        ("5 kg burger mix at 20% using topside 5% and brisket point 38%", "component", "brisket", 75 / 33),
        ("3 lb ground at 20% from chuck 16% and suet 92%", "component", "suet", 12 / 76),
        # the fat of a mince that goes in: 4 x 8 / (92 - 20)
        ("4 lb of mince at 12% and suet 92%, get it to 20", "add", "suet", 32 / 72),
        ("2 kg of mince at 10% plus 500 g belly 50%, whats the fat", "fat", "fat", (200 + 250) / 25),
        # a proportion needs no weight: (20 - 6) / (50 - 6)
        ("in what proportion do i mix shin 6% and belly 50% for 20% fat", "component", "belly", 14 / 44),
        ("what percent of each for 80/20, chuck 16 suet 92", "ratio", "suet", 4 / 76 * 100),
        # fat by weight
        ("how many pounds of fat is in 12 lb of 80/20", "fat", "by weight", 2.4),
        ("12 lb of 80/20, how much of that is fat", "fat", "by weight", 2.4),
        ("how much lean in 5 lb of 70/30", "lean", "by weight", 3.5),
        ("fat in a 6 oz 80/20 patty", "fat", "by weight", 1.2),
        # 28 / 1.5 x 4.2, and 3 / 2 x 7
        ("scale 28 g salt per 1.5 kg up to 4.2 kg", "seasoning", "salt", 78.4),
        ("scale 3 tsp salt per 2 lb to 7 lb", "seasoning", "salt", 10.5),
    ],
)
def test_figures(evening: Evening, line: str, role: str, name: str, figure: float) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.ANSWERED
    assert value(answer, role, name) == pytest.approx(figure)
