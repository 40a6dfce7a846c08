"""Thawing in words. Figures: University of Illinois Extension, citing The Big Thaw (USDA 2013)."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Answer, Status
from tests.topics.kitchen_talk import Evening, said


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    """A conversation on Friday 19 June 2026."""
    return Evening(tmp_path)


def thawing(answer: Answer) -> tuple[float | str, str]:
    """The first length of time: the middle of a range in water, its slow end in the fridge."""
    return next((figure.value, figure.unit) for figure in answer.figures if figure.role.value == "duration")


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        ("cold water thaw one pound pack", 45, "minute"),
        ("three 1 lb packs in cold water how long to thaw", 45, "minute"),
        ("thaw time 1 lb cold water", 45, "minute"),
        ("how long to thaw 4 lb in cold water", 150, "minute"),
        ("how long in the microwave to thaw 1 lb", 3, "minute"),
        ("how long to defrost 500g mince in fridge", 24, "hour"),
        ("how long does 5 lb take to thaw in the fridge", 60, "hour"),
        ("how long does a 2 lb pack take to defrost", 24, "hour"),
    ],
)
def test_how_long(evening: Evening, line: str, value: float, unit: str) -> None:
    assert thawing(evening.ask(line)) == (value, unit)


def test_the_middle_of_the_rule(evening: Evening) -> None:
    value, unit = thawing(evening.ask("1.5 kg pack, forgot to defrost. cold water how long?"))
    assert unit == "minute"
    assert 90 <= float(value) <= 180


def test_the_water_is_changed(evening: Evening) -> None:
    answer = evening.ask("cold water thaw one pound pack")
    assert "every 30 min" in answer.headline
    assert "cook it at once" in said(answer)


def test_when_to_take_it_out(evening: Evening) -> None:
    for line in ("when should I take the mince out of the freezer?", "2 kg bags", "in the fridge"):
        assert evening.ask(line).status is Status.NEEDS_DETAIL
    answer = evening.ask("for Saturday 19 June 2027")
    (moved,) = [figure for figure in answer.figures if figure.role.value == "date"]
    assert moved.unit == "date"
    assert "2027-06-16" <= str(moved.value) <= "2027-06-18"


def test_when_in_one_line(evening: Evening) -> None:
    answer = evening.ask("when do i move 4 lb of ground beef to the fridge for thursday 25 june")
    assert "2026-06-23" in [figure.value for figure in answer.figures]


def test_too_late_for_the_fridge(evening: Evening) -> None:
    answer = evening.ask("when do i take 5 lb of mince out of the freezer into the fridge for today")
    assert "too late" in answer.headline
    assert "cold water" in answer.headline


def test_a_new_request_wins_over_the_question(evening: Evening) -> None:
    evening.ask("when should I take the mince out of the freezer?")
    answer = evening.ask("3 lb at 80/20 from brisket trim and round")
    assert (answer.status, answer.topic) == (Status.ANSWERED, "blend")


@pytest.mark.parametrize(
    "line",
    [
        "can i thaw mince on the counter",
        "can i thaw in hot water",
        "can I defrost mince in warm water",
        "left it on the counter to thaw for 5 hours",
        "can you thaw burgers in warm water",
    ],
)
def test_methods_that_are_not(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.headline.startswith("No:")
    assert "throw it away" in answer.headline


@pytest.mark.parametrize(
    ("line", "opening"),
    [
        ("is it ok to defrost in the microwave", "Yes:"),
        ("can i cook burgers from frozen", "Yes:"),
        ("cook frozen patties ok?", "Yes:"),
        ("thaw 1 kg overnight in the fridge enough?", "No, a night is too short"),
        ("thawed mince how long does it keep", "Thawed in the fridge, ground meat keeps 1 to 2 days"),
        ("thawed in the microwave, can it wait till tomorrow", "No time at all"),
    ],
)
def test_methods_that_are(evening: Evening, line: str, opening: str) -> None:
    assert evening.ask(line).headline.startswith(opening)


def test_following_up(evening: Evening) -> None:
    assert thawing(evening.ask("how long to thaw 3 lb in the fridge"))[1] == "hour"
    assert thawing(evening.ask("what about cold water?"))[1] == "minute"
    assert thawing(evening.ask("microwave?")) == (9, "minute")


def test_frozen_chicken_burgers_keep_their_figure(evening: Evening) -> None:
    assert 165 in [figure.value for figure in evening.ask("can i cook chicken burgers from frozen").figures]


def test_left_out_to_soften(evening: Evening) -> None:
    answer = evening.ask("take the frozen burgers out on the side in the morning to be soft for tea?")
    assert answer.headline.startswith("No: never on the counter")


def test_a_brick_in_the_sink(evening: Evening) -> None:
    answer = evening.ask("burger meats a brick, 3 lb, gonna stick it in a sink of cold water. how long")
    assert thawing(answer)[1] == "minute"


def test_thawed_and_ground_since(evening: Evening) -> None:
    assert "1 to 2 days" in evening.ask("roast was fridge thawed yesterday then i ground it, how long now").headline


def test_the_fridge_is_assumed_for_a_day(evening: Evening) -> None:
    answer = evening.ask("what day should i take out 5 lb for sunday july 12 2026")
    assert "2026-07-10" <= str(next(f.value for f in answer.figures if f.unit == "date")) <= "2026-07-11"
    assert "assumed" in said(answer)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        # was told that thawing in the fridge is fine; the three days were not looked at
        (("thawed since 3 days in the fridge, still good?",), "no: thawed ground meat keeps 1 to 2 days"),
        (("mince thawed in the fridge 5 hours ago, ok?",), "keeps 1 to 2 days more"),
        (("mince thawed 2 hours in cold water, is it ok?",), "no time at all"),
        (("mince thawed last Monday, is it still ok",), "no: thawed ground meat keeps 1 to 2 days"),
        (("is it ok to thaw in the microwave",), "at half power"),
        (("how should I thaw mince",), "never on the counter"),
        (("how long to thaw 2 lb 0 inch thick",), "thickness_mm should be more than zero"),
        (("when do I thaw 3 lb for 31 February",), "no calendar has that day"),
        (("when do I move 2 lb of frozen mince to the fridge for Monday",), "by the morning of sun 21 june"),
        (("when do I move 2 lb of frozen mince to the fridge for Sunday at 18:00",), "by the evening of sat 20 june"),
        (("when should I move a 20 lb block to the fridge for 30 June",), "4 days to 6 days for a pack of 20 lb"),
        (("when do I take 4 lb out of the freezer for Saturday",), "too late for the fridge"),
        (("when do I take 2 kg out of the freezer for Tuesday", "what about the microwave"), "on the day itself"),
        (("how long to thaw 2 lb", "and in the fridge?"), "in the fridge: 24 h"),
    ],
)
def test_thawing_in_words(tmp_path: Path, lines: tuple[str, ...], says: str) -> None:
    assert says in said(Evening(tmp_path).ask(*lines))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("thaw 2 kg in a fridge at 3 C", "2 days 12 h"),
        ("how long to thaw 2 kg in the fridge at 38 F", "2 days 12 h"),
        ("thaw 1 lb in a fridge at 50 F", "No: 50 °F (10 °C) is too warm"),
    ],
)
def test_how_cold_the_fridge_is_while_it_thaws(evening: Evening, line: str, says: str) -> None:
    answer = evening.ask(line)
    assert says in answer.headline
    assert "°F" in answer.understood


def test_the_uk_gives_a_day_to_what_has_thawed(evening: Evening) -> None:
    assert "24 hours of full thaw" in said(evening.ask("my country is uk", "how long to thaw 1 kg in the fridge"))
