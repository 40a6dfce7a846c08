"""Ground meat told in one line and put right in the next; and a no that opens a line."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("lines", "pounds"),
    [
        # 7 lb at 7 % to 15 % with bacon at 40 %: 7 x 8 / 25 = 2.24
        (("got 7 lb of 93/7", "want it 85/15 gonna add bacon thats 40% fat. how much"), 2.24),
        (("7 lb of 93/7", "want it 85/15, how much bacon at 40% do i add"), 2.24),
        (("got 7 lb of 93/7", "want it 85/15", "bacon 40%"), 2.24),
        # 4 lb at 30 % to 20 % with round at 6 %: 4 x 10 / 14 = 2.857
        (("its too fat", "4 lb", "30 percent, should be 20, i have 6% round"), 40 / 14),
        (("its too fat", "4 lb", "it's 70/30 and want 80/20, round 6%"), 40 / 14),
    ],
)
def test_a_lot_told_before_is_put_right(evening: Evening, lines: tuple[str, ...], pounds: float) -> None:
    *before, last = lines
    for line in before:
        assert evening.ask(line).status is Status.NEEDS_DETAIL
    assert value(evening.ask(last), "add") == pytest.approx(pounds)


def test_a_lot_that_its_cuts_can_reach_is_a_batch_from_them(evening: Evening) -> None:
    evening.ask("7 lb of 93/7")
    answer = evening.ask("no make it 85/15, round 8% and suet 92%")
    # 7 lb from both: 7 x 7 / 84 = 0.583 lb of suet
    assert value(answer, "component", "suet") == pytest.approx(7 * 7 / 84)


@pytest.mark.parametrize(
    ("line", "pounds", "fat"),
    [("no make it 75/25", 5, 25), ("no 75/25", 5, 25), ("no 6 lb", 6, 20), ("no i want 6 lb", 6, 20)],
)
def test_a_no_that_opens_the_line_takes_back_what_was_said(
    evening: Evening, line: str, pounds: float, fat: float
) -> None:
    evening.ask("5 lb at 80/20 from round 8% and suet 92%")
    answer = evening.ask(line)
    assert value(answer, "total") == pytest.approx(pounds)
    assert value(answer, "fat") == pytest.approx(fat)


def test_a_no_before_a_name_rules_it_out(evening: Evening) -> None:
    evening.ask("5 lb at 80/20 from round 8% and suet 92%")
    assert "no suet" in evening.ask("no suet").understood


def test_a_rate_is_corrected_while_the_weight_is_asked_for(evening: Evening) -> None:
    evening.ask("salt 1.5%")
    assert evening.ask("no 2%").status is Status.NEEDS_DETAIL
    assert value(evening.ask("5 kg"), "seasoning", "salt") == pytest.approx(100)
