"""The exact simplex by itself: what it refuses, that it cannot circle, and that its values of rows are slopes."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from assistant.engine.simplex import Optimum, Row, UnboundedError, minimise
from assistant.errors import BadInput

ZERO, ONE = Fraction(0), Fraction(1)


def fractions(*values: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(v) for v in values)


def test_beale_s_example_ends() -> None:
    """Beale 1955, from memory: always taking the steepest column circles for ever; the optimum is -1/20."""
    rows = [
        Row(fractions("1/4", "-60", "-1/25", "9"), ZERO),
        Row(fractions("1/2", "-90", "-1/50", "3"), ZERO),
        Row(fractions("0", "0", "1", "0"), ONE),
    ]
    found = minimise(fractions("-3/4", "150", "-1/50", "6"), [], [ZERO] * 4, [None] * 4, rows)
    assert found is not None
    assert found.cost == Fraction(-1, 20)
    assert found.amounts == fractions("1/25", "0", "1", "0")


def test_endless_descent_is_an_error() -> None:
    with pytest.raises(UnboundedError):
        minimise([-ONE], [], [ZERO], [None])


def test_contradictions_have_no_optimum() -> None:
    assert minimise([ONE], [], [ONE], [ZERO]) is None
    assert minimise([ONE], [Row((ONE,), Fraction(3))], [ZERO], [ONE]) is None


@pytest.mark.parametrize(("argument", "lower", "row"), [("lower, upper", [], (ONE,)), ("rows", [ZERO], (ONE, ONE))])
def test_lists_of_unequal_length_are_refused(argument: str, lower: list[Fraction], row: tuple[Fraction, ...]) -> None:
    with pytest.raises(BadInput) as caught:
        minimise([ONE], [Row(row, ONE)], lower, [None])
    assert caught.value.argument == argument


def random_programme(random: Random, shift: Fraction, which: int) -> Optimum | None:
    """A programme of five columns and three rows; the right side of one row is moved by `shift`."""

    def numbers(count: int, low: int, high: int) -> list[Fraction]:
        return [Fraction(random.randint(low, high), random.randint(1, 6)) for _ in range(count)]

    costs, lower = numbers(5, -9, 9), numbers(5, -4, 4)
    upper: list[Fraction | None] = [low + width for low, width in zip(lower, numbers(5, 0, 12), strict=True)]
    rows = [Row(tuple(numbers(5, -5, 5)), numbers(1, -9, 9)[0] + (shift if k == which else ZERO)) for k in range(3)]
    return minimise(costs, rows[:1], lower, upper, rows[1:])


def test_values_of_rows_are_slopes_of_the_cost() -> None:
    """The cost is convex in a right side, so its value lies between the slopes of a step down and a step up."""
    step, compared = Fraction(1, 10**6), 0
    for seed in range(400):
        which = seed % 3
        here, up, down = (random_programme(Random(seed), shift, which) for shift in (ZERO, step, -step))
        if here is None or up is None or down is None:
            continue
        compared += 1
        value = (*here.equal_values, *here.most_values)[which]
        assert (here.cost - down.cost) / step <= value <= (up.cost - here.cost) / step
    assert compared > 100
