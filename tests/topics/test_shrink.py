"""What cooking does to a patty, in words. The sums: tests/engine/test_cook.py, test_learn.py, test_portion.py."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value


@pytest.mark.parametrize(
    "line",
    [
        "how wide will a 5 inch patty be once cooked?",
        "what size will a 5 inch burger be after grilling",
        "a 5 inch patty, how big is it cooked?",
    ],
)
def test_a_patty_draws_in(line: str) -> None:
    """Common practice: 15 to 25 % across."""
    answer = Conversation().ask(line)
    width = next(f for f in answer.figures if f.name == "cooked width")
    assert (width.value, width.low, width.high, width.unit) == pytest.approx((4, 3.75, 4.25, width.unit))
    assert width.unit == "inch"


def test_the_width_follows_from_weight_and_thickness() -> None:
    talk = Conversation()
    assert "how thick" in said(talk.ask("a 6 oz patty of 80/20, how wide will it be when cooked?"))
    answer = talk.ask("3/4 inch")
    assert value(answer, "patty_diameter", "raw") == pytest.approx(105.0 / 25.4, abs=0.03)
    assert value(answer, "patty_diameter", "cooked") == pytest.approx(value(answer, "patty_diameter", "raw") * 0.8)


def test_shaping_for_a_cooked_width_undoes_it() -> None:
    assert value(
        Conversation().ask("how wide do I shape patties to be 4 inches cooked?"), "patty_diameter"
    ) == pytest.approx(5)


@pytest.mark.parametrize(
    ("line", "kept", "cooked"),
    [
        # USDA SR28 cooked fats x USDA cooking yields / raw fat
        ("how much of the fat stays in a grilled 80/20 burger?", 17.78 * 69 / 20, 17.78),
        ("how much fat is left in a broiled 70/30 patty", 18.66 * 63 / 30, 18.66),
        ("how much fat stays in 85/15 browned in a pan?", 15.3 * 67 / 15, 15.3),
        ("how much of the fat stays in a 90/10 burger cooked in a pan?", 10.68 * 77 / 10, 10.68),
    ],
)
def test_fat_kept_as_published(line: str, kept: float, cooked: float) -> None:
    answer = Conversation().ask(line)
    assert value(answer, "ratio", "fat kept") == pytest.approx(kept)
    assert value(answer, "fat", "cooked") == pytest.approx(cooked)


def test_grams_of_fat_where_a_weight_was_said() -> None:
    answer = Conversation().ask("how many grams of fat are left in a grilled 6 oz 80/20 patty")
    left, out, raw = (value(answer, "fat", name) for name in ("left in it", "runs out", "in it raw"))
    assert left + out == pytest.approx(raw) == pytest.approx(6 * 28.349523125 / 5)


def test_other_meats_have_no_figure() -> None:
    # was answered with the pork's own fat, past the question
    answer = Conversation().ask("how much fat stays in a grilled 80/20 pork burger")
    assert answer.status is Status.IMPOSSIBLE
    assert "ground beef only" in said(answer)
