"""Which length is the bun's, the patty's width or its thickness."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.topics.kitchen_talk import Evening


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "understood"),
    [
        ("patty for a 4 inch bun half inch thick how heavy", "1/2 inch thick, 4 inch bun"),
        ("patty for 4 inch buns 1/2 inch thick", "1/2 inch thick, 4 inch bun"),
        ("4 inch bun, patty 3/4 thick, weight?", "3/4 inch thick, 4 inch bun"),
        ('how heavy is a 4" patty 3/4" thick', "3/4 inch thick, 4 inch across"),
        ("6 oz patty, how wide at 3/4 inch", "3/4 inch thick"),
        ("if i make em 5 inches across and 6 oz how thick", "6 oz patties, 5 inch across"),
        ("180 g patty 12 cm wide thickness", "180 g patties, 12 cm across"),
        ("10 thick and 110 wide patty, what weight", "10 mm thick, 110 mm across"),
        ("my bun is 10 cm across, 2 cm thick patty, what weight", "2 cm thick, 10 cm bun"),
        ("5 oz on a 4 in roll how wide and thick", "5 oz patties, 4 inch bun"),
    ],
)
def test_each_length_is_of_what_it_is_said_of(evening: Evening, line: str, understood: str) -> None:
    answer = evening.ask(line)
    assert understood in answer.understood
    assert not [note for note in answer.notes if note.startswith("Not taken")]


def test_lengths_in_centimetres_are_answered_in_grams(evening: Evening) -> None:
    answer = evening.ask("burger for a 10cm bun, 2 cm thick how many grams")
    weight = next(figure for figure in answer.figures if figure.role.value == "patty_weight")
    assert weight.unit == "g"
