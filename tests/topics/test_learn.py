"""A cut's own fat in words. Fat of cuts, lean and visible fat: USDA SR28 (brisket 13803: 19.06 %, lean only 4.84 %; beef
fat 13019: 70.89 %); cooked fats and yields: USDA SR28 and the USDA table of cooking yields."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import Answer, Status
from assistant.engine import learn
from assistant.topics.kept import kept_shares
from tests.topics.kitchen_talk import Evening, said, value

TRIMMED = "I trimmed 300 g of fat off a 2 kg brisket"
COOKED_OUT = "cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered"


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def ends(answer: Answer) -> tuple[float | None, float | None]:
    """The range of the fat."""
    figure = next(figure for figure in answer.figures if figure.role.value == "fat")
    return figure.low, figure.high


@pytest.mark.parametrize(
    "line",
    [
        TRIMMED,
        "trimmed 300 g fat off a 2 kg brisket, how fat is it now?",
        "after trimming 300 g of fat off a 2 kg brisket, how fat is it?",
        "2 kg brisket, 300 g of fat trimmed off. how lean is what's left",
        "the fat I trimmed off was 300 g, brisket was 2 kg",
        "my brisket weighed 2 kg and I trimmed off 300 g of fat",
        "cut away 300 g of hard fat from a 2 kg brisket",
    ],
)
def test_fat_cut_off_a_brisket(evening: Evening, line: str) -> None:
    """(19.06 - 0.15 x 70.89) / 0.85 = 9.91; the low end is brisket with no visible fat on it."""
    answer = evening.ask(line)
    assert answer.topic == "learn"
    assert value(answer, "fat") == pytest.approx(9.9135, abs=0.001)
    low, high = ends(answer)
    assert low == 4.84
    assert high == pytest.approx((22.21 - 0.15 * 63.78) / 0.85, abs=0.01)
    assert value(answer, "total") == pytest.approx(1.7)


def test_more_fat_off_than_a_brisket_has(evening: Evening) -> None:
    answer = evening.ask("I trimmed 900 g of fat off a 2 kg brisket")
    assert ends(answer) == (4.84, None)
    assert "more fat came off than a usual brisket carries" in said(answer)


def test_a_piece_of_known_fat(evening: Evening) -> None:
    """(20 - 0.1875 x 70.89) / 0.8125 = 8.26: the cook's own figure goes before the table's."""
    answer = evening.ask("I trimmed 12 oz of fat off a 4 lb piece of chuck that was 20% fat")
    assert value(answer, "fat") == pytest.approx((20 - 0.1875 * 70.89) / 0.8125, abs=0.001)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("I trimmed 3 kg of fat off a 2 kg brisket", "slip"),
        ("trimmed 300 g of fat off a 2 kg turkey", "no figure for the fat cut off turkey"),
        ("cook-out test: 100 g raw, 80 g cooked, 30 g fat rendered", "more than the 100 g raw"),
        ("cook-out test: 100 g raw, 45 g cooked, 45 g fat rendered", "at least that much"),
        ("I trimmed 600 g of fat off a 2 kg brisket that was 5% fat", "does not add up"),
    ],
)
def test_weights_that_cannot_be_right(evening: Evening, line: str, words: str) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.IMPOSSIBLE
    assert words in said(answer)


def test_parted_by_the_knife(evening: Evening) -> None:
    """Lean at 5.38 % (SR28 23483) and fat at 70.89 %: 1.5 kg and 0.5 kg are 21.8 %."""
    answer = evening.ask("parted 2 kg brisket trim into 1.5 kg lean and 500 g fat")
    assert value(answer, "fat") == pytest.approx((1.5 * 5.38 + 0.5 * 70.89) / 2, abs=0.01)


@pytest.mark.parametrize(
    "line",
    [
        COOKED_OUT,
        "cookout test: raw 100 g, cooked 68 g, fat 9 g",
        "100 g raw mince, 68 g after cooking, rendered 9 g fat",
        "sample 100 g, left 68 g, 9 g of fat melted out",
    ],
)
def test_a_cook_out(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    found = learn.from_cook_out(Fraction(100), Fraction(68), Fraction(9), kept_shares("crumbles", "pan-browned")).fat
    assert value(answer, "fat") == float(found.value)
    assert ends(answer) == (float(found.low or 0), float(found.high or 0))
    assert value(answer, "ratio", "water") == pytest.approx(23)


def test_shares_kept_are_those_of_the_tables() -> None:
    """An 80/20 patty, broiled: 17.78 % fat cooked (SR28 23573); about 61 % of its fat stays in."""
    kept = {share.raw_fat: float(share.percent) for share in kept_shares("patty", "broiled")}
    assert kept[Fraction(20)] == pytest.approx(61, abs=1)


def test_what_is_missing_is_asked_for(evening: Evening) -> None:
    assert evening.ask("trimmed 300 g of fat off my brisket").status is Status.NEEDS_DETAIL
    assert value(evening.ask("2 kg"), "fat") == pytest.approx(9.9135, abs=0.001)
    assert "what did the meat weigh" in said(evening.ask("cook-out test: 100 g raw, 9 g fat rendered"))
    assert value(evening.ask("68 g"), "yield") == pytest.approx(68)


def test_a_learned_figure_is_remembered_with_its_range(evening: Evening) -> None:
    learned = evening.ask(COOKED_OUT)
    kept = evening.ask("remember that", "brisket trim")
    assert kept.status is Status.ANSWERED
    batch = evening.another().ask("3 lb at 80/20 from brisket trim and round")
    trim = next(figure for figure in batch.figures if figure.name == "brisket trim")
    assert trim.fat_percent == pytest.approx(value(learned, "fat"), abs=0.05)
    assert trim.source == "your figure, from the notebook"
    assert value(batch, "component", "brisket trim") > 2.5  # the table's 45 % would take a third of that


def test_the_figure_said_last_wins(evening: Evening) -> None:
    evening.ask(COOKED_OUT, "remember that for my brisket trim", "my brisket trim is 55% fat, remember that")
    batch = evening.ask("3 lb at 80/20 from brisket trim and round")
    assert value(batch, "component", "brisket trim") == pytest.approx(0.797, abs=0.001)
    own = evening.ask("new batch: 3 lb at 80/20 from brisket trim at 60% and round")
    assert value(own, "component", "brisket trim") == pytest.approx(0.721, abs=0.001)


def test_without_a_notebook_none_is_made(evening: Evening) -> None:
    evening.ask("3 lb at 80/20 from brisket trim and round", TRIMMED)
    assert not evening.path.exists()


@pytest.mark.parametrize(
    "line",
    [
        "how can I find out how fat my trim is",
        "how do I work out how fatty my brisket trim is?",
        "is there a way to measure the fat in my trim?",
        "cook-out test",
    ],
)
def test_how_to_find_out(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.topic == "learn"
    assert len(answer.steps) == 5
    assert "common practice, no source" in said(answer)


@pytest.mark.parametrize(
    "line",
    [
        "7 lb packer, trimmed off 1.75 lb. what percent waste",
        "14 lb brisket 3.29/lb, trimmed off 3.5 lb. what did the good part cost a lb",
        "cook-out for 60 people, 2 burgers each",
        "how fat is brisket?",
        "my brisket trim is 55% fat, remember that",
        "remember that",
    ],
)
def test_lines_of_others(evening: Evening, line: str) -> None:
    assert evening.ask(line).topic != "learn"
