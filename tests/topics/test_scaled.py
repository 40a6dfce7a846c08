"""Weights as a kitchen scale shows them, and limits that decide a blend, in words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant import wording
from assistant.answer import Answer
from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value

BATCH = "3 lb at 80/20 from brisket trim and round"
OUNCE = 28.349523125


def grams(answer: Answer) -> list[float]:
    """Every component in grams."""
    pound = 16 * OUNCE
    sizes = {"lb": pound, "kg": 1000.0, "g": 1.0, "oz": OUNCE}
    return [float(f.value) * sizes[f.unit] for f in answer.figures if f.role == "component"]


@pytest.mark.parametrize(
    ("words", "step"),
    [
        ("to the nearest 1/4 oz", OUNCE / 4),
        ("rounded to 5 g", 5),
        ("to the nearest gram", 1),
        ("on a 0.1 oz scale", OUNCE / 10),
        ("in steps of 10 g", 10),
    ],
)
def test_every_weight_is_a_reading_of_the_scale(words: str, step: float) -> None:
    answer = Conversation().ask(f"{BATCH}, {words}")
    weights = grams(answer)
    assert all(abs(w / step - round(w / step)) < 1e-6 for w in weights)
    # the fat told is that of the rounded weights
    fats = [f.fat_percent for f in answer.figures if f.role == "component"]
    fat = sum(w * (f or 0) for w, f in zip(weights, fats, strict=True)) / sum(weights)
    assert value(answer, "fat") == pytest.approx(fat)
    assert abs(fat - 20) < 0.5


def test_the_batch_on_the_table_is_rounded_too() -> None:
    talk = Conversation()
    talk.ask(BATCH)
    assert grams(talk.ask("to the nearest 5 g")) == pytest.approx([450, 910])


def test_weights_in_the_words_of_the_scale() -> None:
    ounce = Fraction("28.349523125")
    assert wording.in_steps(ounce * Fraction(236, 10), ounce / 10) == "1 lb 7.6 oz"
    assert wording.in_steps(ounce * Fraction(95, 4), ounce / 4) == "1 lb 7 3/4 oz"
    assert wording.in_steps(16 * ounce, ounce) == "1 lb"
    assert wording.in_steps(Fraction(455), Fraction(5)) == "455 g"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("3 lb at 80/20 from chuck 16%, round 6%, suet 90%, at most 4 oz suet", "limit on suet; without it 5 1/2 oz"),
        ("3 lb at 80/20 from chuck 16%, round 6%, suet 90%, at least 2 lb round", "minimum on round; without it"),
        ("I have 3 lb round at 6% and 1 lb suet at 90%, what's the largest batch at 80/20", "each oz more of it"),
        (
            "cheapest 5 lb at 80/20 from chuck 16% at $6/lb, round 6% at $5/lb, trim 50% at $3/lb, at least 1 lb chuck",
            "each lb less of it would save $1.45",
        ),
        (
            "cheapest 5 lb at 80/20 from chuck 16% at $6/lb, round 6% at $5/lb, trim 50% at $3/lb",
            "a point fatter would save",
        ),
        (
            "5 lb at 80/20 from chuck, suet and round, at least 60% chuck and at least 50% round",
            "60% chuck and 50% round",
        ),
    ],
)
def test_the_limit_that_binds_is_named(line: str, words: str) -> None:
    assert words in said(Conversation().ask(line))
