"""Cold work in words. Times are the heat-flow model's (untested in a kitchen) and custom, as the safety file says."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Answer, Conversation, Status
from assistant.engine.cold import firm_cubes
from tests.topics.kitchen_talk import Evening, said


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def span(answer: Answer) -> tuple[float, float]:
    """The first range of time."""
    figure = next(figure for figure in answer.figures if figure.role.value == "duration")
    assert figure.low is not None
    assert figure.high is not None
    return figure.low, figure.high


@pytest.mark.parametrize(
    "line",
    [
        "how long do one inch cubes firm",
        "how long do 1 inch cubes go in the freezer before grinding",
        "how long to firm up cubes",
        "how long should meat cubes be in the freezer",
    ],
)
def test_inch_cubes(evening: Evening, line: str) -> None:
    low, high = span(evening.ask(line))
    model = firm_cubes(25.4)
    assert low == pytest.approx(model.low, abs=2.5)
    assert high == pytest.approx(model.high, abs=2.5)


def test_size_and_touching_change_it(evening: Evening) -> None:
    inch = span(evening.ask("how long do 1 inch cubes firm in the freezer"))
    smaller = span(evening.ask("and 3/4 inch?"))
    touching = span(evening.ask("what if they touch?"))
    assert smaller < inch
    assert touching[0] > smaller[1]


def test_a_cube_above_the_model_takes_longer_than_its_largest(evening: Evening) -> None:
    answer = evening.ask("2 inch cubes firm time")
    assert answer.headline.startswith("Longer than 30 min, which is the least for 1 5/8 in (4 cm) cubes")


def test_patties_stacked_are_one_pile_and_patties_in_a_layer_are_none(evening: Evening) -> None:
    """Named after a fault: "10 patties stacked" was answered as if they lay in one layer."""
    layer = span(evening.ask("how long do 10 patties take to freeze in a single layer"))
    assert span(evening.ask("how long do 4 patties stacked take to freeze"))[0] > layer[1]
    assert evening.ask("how long do 10 patties stacked take to freeze").headline.startswith("No figure for that")


@pytest.mark.parametrize("size", ["0 mm", "3 metre", "-20 mm"])
def test_what_is_no_cube_gets_no_time(evening: Evening, size: str) -> None:
    answer = evening.ask(f"how long do {size} cubes firm in the freezer")
    assert answer.status is Status.IMPOSSIBLE
    assert answer.figures == ()


def test_of_two_temperatures_the_colder_is_the_freezers(evening: Evening) -> None:
    warm, cold = (evening.ask(f"25 mm cubes from {start} C in a -18C freezer, minutes to firm up?") for start in (7, 2))
    assert span(cold) < span(warm)


@pytest.mark.parametrize(
    ("line", "ends"),
    [
        ("how long do patties take to freeze", (3, 6)),
        ("how long to freeze 1/2 inch patties", (2, 4)),
        ("how long for 3/4 inch patties to freeze stacked 4 high", (7, 13)),
    ],
)
def test_freezing_patties(evening: Evening, line: str, ends: tuple[float, float]) -> None:
    assert span(evening.ask(line)) == ends


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("how cold should meat be to grind", "28 °f (-2 °c) to 34 °f (1 °c)"),
        ("what temp should meat be before grinding", "40 °f (4 °c) stop"),
        ("how much should I grind at once", "2 lb to 3 lb at a time"),
        ("how much at once for 10 lb in the grinder", "4 to 5 lots"),
        ("can i use a food processor", "pulse 10 to 20 times"),
        ("how many pulses in food processor", "pulse 10 to 20 times"),
        ("10 lb batch in a food processor, how much at a time", "14 to 20 lots"),
        ("what plate for burgers", "1/8 in"),
        ("coarse or fine plate for chili?", "3/8 in"),
        ("one pass or two", "two passes"),
        ("should i grind twice", "two passes"),
        ("why is my fat smearing", "too warm"),
        ("my meat turned to mush in the grinder why", "chill"),
        ("grinder is smearing the meat, what to do", "unplug"),
    ],
)
def test_the_craft(evening: Evening, line: str, words: str) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.ANSWERED
    assert words in said(answer)
    assert "source" in said(answer)


def test_a_batch_through_a_plate_is_a_batch(evening: Evening) -> None:
    answer = evening.ask("3 lb at 80/20 from brisket trim and round, coarse grind")
    assert answer.topic == "blend"


def test_meat_too_warm_for_the_model_gets_the_custom_and_the_reason() -> None:
    answer = Conversation().ask("how long to firm 1 in cubes from 200 F in the freezer at 0")
    assert "No figure" in answer.headline
    assert [figure.shown for figure in answer.figures] == ["30 min to 1 h"]


def test_lots_of_no_weight_are_asked_about() -> None:
    answer = Conversation().ask("how much to grind at once, 0 lb")
    assert answer.status is Status.NEEDS_DETAIL
    assert "How much is it in all" in answer.message
