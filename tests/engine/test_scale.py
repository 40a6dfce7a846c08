"""Weights for a scale: whole steps, the batch kept, the fat no further off than rounding alone leaves it."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.engine.scale import weigh_out
from assistant.errors import BadInput

OUNCE = Fraction("28.349523125")
STEPS = [Fraction(1), Fraction(5), OUNCE / 10, OUNCE / 4]
QUICK = settings(max_examples=100, deadline=None)

steps = st.sampled_from(STEPS)
weights = st.integers(0, 20000).map(lambda n: Fraction(n, 7))
fats = st.integers(20, 950).map(lambda n: Fraction(n, 10))
cuts = st.lists(st.tuples(weights, fats), min_size=1, max_size=6)


def fat_error(parts: list[Fraction], wanted: list[Fraction], percents: list[Fraction]) -> Fraction:
    """Grams of fat too much or too little for a batch of this weight."""
    aim = sum((w * f for w, f in zip(wanted, percents, strict=True)), Fraction(0)) / sum(wanted)
    return abs(sum((p * (f - aim) for p, f in zip(parts, percents, strict=True)), Fraction(0)))


@QUICK
@given(cuts=cuts, step=steps)
def test_whole_steps_that_add_up_to_the_batch(cuts: list[tuple[Fraction, Fraction]], step: Fraction) -> None:
    grams, percents = [g for g, _ in cuts], [f for _, f in cuts]
    parts = weigh_out(grams, percents, step)
    assert all((p / step).denominator == 1 and p >= 0 for p in parts)
    assert sum(parts) == floor(sum(grams) / step + Fraction(1, 2)) * step
    assert all(abs(p - g) < step for p, g in zip(parts, grams, strict=True))


@QUICK
@given(cuts=cuts, step=steps)
def test_no_single_move_brings_the_fat_nearer(cuts: list[tuple[Fraction, Fraction]], step: Fraction) -> None:
    grams, percents = [g for g, _ in cuts], [f for _, f in cuts]
    parts = list(weigh_out(grams, percents, step))
    if not sum(grams):
        return
    error = fat_error(parts, grams, percents)
    for giver in range(len(parts)):
        for to in range(len(parts)):
            moved = list(parts)
            moved[giver] -= step
            moved[to] += step
            if all(abs(m - g) < step for m, g in zip(moved, grams, strict=True)):
                assert fat_error(moved, grams, percents) >= error


@QUICK
@given(cuts=cuts, step=steps, slack=st.integers(0, 30))
def test_stock_is_never_overdrawn(cuts: list[tuple[Fraction, Fraction]], step: Fraction, slack: int) -> None:
    grams, percents = [g for g, _ in cuts], [f for _, f in cuts]
    stock = [g + slack for g in grams]
    parts = weigh_out(grams, percents, step, at_most=stock)
    assert all(p <= s for p, s in zip(parts, stock, strict=True))


def test_minimum_is_kept_and_stock_to_be_used_up_takes_its_nearest_reading() -> None:
    grams = [Fraction("453.59237"), Fraction("546.40763")]
    parts = weigh_out(grams, [Fraction(8), Fraction(50)], Fraction(5), [grams[0], Fraction(0)], [grams[0], None])
    assert parts == (Fraction(455), Fraction(545))
    least = weigh_out(grams, [Fraction(8), Fraction(50)], Fraction(5), [grams[0], Fraction(0)])
    assert least[0] == 455


def test_thirds_by_hand() -> None:
    """1 kg in thirds on a 5 g scale: 66 or 67 steps each, 200 in all; 10, 20, 31 percent come nearest with 67 66 67."""
    parts = weigh_out([Fraction(1000, 3)] * 3, [Fraction(10), Fraction(20), Fraction(31)], Fraction(5))
    assert parts == (Fraction(335), Fraction(330), Fraction(335))


def test_nothing_weighs_nothing() -> None:
    assert weigh_out([Fraction(0)], [Fraction(20)], Fraction(5)) == (Fraction(0),)


@pytest.mark.parametrize(
    ("argument", "call"),
    [
        ("step", lambda: weigh_out([Fraction(1)], [Fraction(20)], Fraction(0))),
        ("fats", lambda: weigh_out([Fraction(1)], [], Fraction(1))),
        ("grams", lambda: weigh_out([Fraction(-1)], [Fraction(20)], Fraction(1))),
        ("at_most", lambda: weigh_out([Fraction(1)], [Fraction(20)], Fraction(1), at_most=[])),
    ],
)
def test_senseless_input_is_refused_by_name(argument: str, call: Callable[[], object]) -> None:
    with pytest.raises(BadInput) as caught:
        call()
    assert caught.value.argument == argument
