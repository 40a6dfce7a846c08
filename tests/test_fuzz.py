"""The fuzzer finds nothing, asks the same lines for the same seed, and would find what it looks for."""

from __future__ import annotations

import random

import pytest
from hypothesis import given

from assistant import Conversation
from tests import fuzz
from tests.strategies import any_text


@pytest.fixture(scope="module")
def larder() -> fuzz.Larder:
    return fuzz.Larder.stocked()


def test_a_thousand_lines_are_answered_in_shape() -> None:
    found = fuzz.run(1000, seed=5)
    assert found.wrong == {}
    assert sum(found.statuses.values()) == 1000


@pytest.mark.slow
def test_ten_thousand_lines_are_answered_in_shape() -> None:
    assert fuzz.run(10_000, seed=6).wrong == {}


def test_the_same_seed_asks_the_same_lines(larder: fuzz.Larder) -> None:
    def lines(seed: int) -> list[str]:
        chance = random.Random(seed)
        return [fuzz.any_line(chance, larder) for _ in range(50)]

    assert lines(1) == lines(1)
    assert lines(1) != lines(2)


@pytest.mark.parametrize("line", fuzz.HOSTILE)
def test_hostile_lines_are_answered_in_shape(line: str) -> None:
    assert list(fuzz.faults(Conversation().ask(line).as_data())) == []


@given(any_text())
def test_any_text_is_answered_in_shape(line: str) -> None:
    answer = Conversation().ask(line)
    assert list(fuzz.faults(answer.as_data())) == []
    assert answer.heard == line[: len(answer.heard) - 1] + answer.heard[-1:]


def _answer(**changes: object) -> dict[str, object]:
    return {**Conversation().ask("8 burgers of 150 g").as_data(), **changes}


def _figure(**changes: object) -> dict[str, object]:
    figure = {"name": "meat", "role": "total", "value": 1.0, "unit": "lb", "low": None, "high": None, "source": None}
    return {**figure, **changes}


def test_a_sound_answer_has_no_faults() -> None:
    assert list(fuzz.faults(_answer(figures=[_figure()]))) == []


@pytest.mark.parametrize(
    "figure",
    [
        _figure(value=float("nan")),
        _figure(value=float("inf")),
        _figure(value=None),
        _figure(value=True),
        _figure(value="noon", unit="time"),
        _figure(value="12:30", unit="lb"),
        _figure(unit="furlong"),
        _figure(role="weight"),
        _figure(name=""),
        _figure(low=2.0, high=3.0),
        _figure(low=0.1, high=0.5),
        _figure(extra=1),
    ],
)
def test_a_figure_that_is_none_is_found_out(figure: dict[str, object]) -> None:
    assert list(fuzz.faults(_answer(figures=[figure]))) != []


@pytest.mark.parametrize(
    "changes",
    [
        {"status": "maybe"},
        {"heard": None},
        {"steps": [""]},
        {"notes": [None]},
        {"cautions": [{"topic": "keep_cold", "text": "", "source": "USDA FSIS"}]},
        {"message": "", "figures": [], "steps": []},
        {"status": "impossible", "message": ""},
        {"more": 1},
    ],
)
def test_an_answer_out_of_shape_is_found_out(changes: dict[str, object]) -> None:
    assert list(fuzz.faults(_answer(**changes))) != []
