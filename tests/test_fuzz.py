"""The fuzzer finds nothing, asks the same lines for the same seed, and would find what it looks for."""

from __future__ import annotations

import random

import pytest
from hypothesis import given

from assistant import Conversation
from tests import fuzz
from tests.answer_format import faults
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
    def lines(seed: int) -> list[tuple[str, str]]:
        chance = random.Random(seed)
        return [fuzz.any_line(chance, larder) for _ in range(50)]

    assert lines(1) == lines(1)
    assert lines(1) != lines(2)


@pytest.mark.parametrize("source", fuzz.SOURCES)
def test_every_source_makes_lines_of_its_own(larder: fuzz.Larder, source: str) -> None:
    chance = random.Random(3)
    made = [fuzz.any_line(chance, larder, source) for _ in range(200)]
    assert {name for _, name in made} == {source}
    assert len({line for line, _ in made}) > 50


def test_every_terminal_of_the_grammar_is_made_into_words(larder: fuzz.Larder) -> None:
    chance = random.Random(4)
    for ways in larder.rules.values():
        for name in {name for way in ways for name in way} - set(larder.rules):
            assert fuzz.terminal(name, chance, larder), name


@pytest.mark.parametrize("line", fuzz.HOSTILE)
def test_hostile_lines_are_answered_in_shape(line: str) -> None:
    assert list(faults(Conversation().ask(line).as_data())) == []


@given(any_text())
def test_any_text_is_answered_in_shape(line: str) -> None:
    answer = Conversation().ask(line)
    assert list(faults(answer.as_data())) == []
    assert answer.heard == line[: len(answer.heard) - 1] + answer.heard[-1:]


def _answer(**changes: object) -> dict[str, object]:
    return {**Conversation().ask("8 burgers of 150 g").as_data(), **changes}


def _figure(**changes: object) -> dict[str, object]:
    figure = {"name": "meat", "role": "total", "value": 1.0, "unit": "lb", "low": None, "high": None, "source": None}
    return {**figure, **changes}


def test_a_sound_answer_has_no_faults() -> None:
    assert list(faults(_answer(figures=[_figure()]))) == []


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
    assert list(faults(_answer(figures=[figure]))) != []


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
    assert list(faults(_answer(**changes))) != []


def _balanced(**changes: object) -> list[dict[str, object]]:
    """A batch of two parts with its weight and fat, as figures; `changes` to the total."""
    return [
        _figure(name="round", role="component", value=3.0, fat_percent=10.0),
        _figure(name="suet", role="component", value=1.0, fat_percent=90.0),
        _figure(name="batch", value=4.0, **changes),
        _figure(name="fat", role="fat", value=30.0, unit="%"),
    ]


def test_parts_that_weigh_the_batch_and_make_its_fat_are_sound() -> None:
    assert list(faults(_answer(figures=_balanced()))) == []


@pytest.mark.parametrize(
    "figures",
    [
        _balanced(unit="kg"),
        [*_balanced()[:3], _figure(name="fat", role="fat", value=31.0, unit="%")],
        [_figure(value=-1.0)],
        [_figure(role="fat", value=130.0, unit="%")],
    ],
)
def test_figures_that_do_not_balance_are_found_out(figures: list[dict[str, object]]) -> None:
    assert list(faults(_answer(figures=figures))) != []


def test_a_batch_without_its_reminders_is_found_out() -> None:
    assert list(faults(_answer(cautions=[]))) == ["no reminder cook_temperature", "no reminder keep_cold"]
