"""Names, marks and remarks are cut out of a line by where they stand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language import naming
from assistant.language.scan import scan
from assistant.language.text import clean


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("save that as friday burgers", ["friday burgers"]),
        ("log 2 kg chuck as Heat 1, 7/10", ["Heat 1"]),
        ("log 2.5 kg chuck as Heat 1 8 out of 10", ["Heat 1"]),
        ("save it as A1 rated 9/10", ["A1"]),
        ("v1: 2 kg rump and 1 kg brisket. save as Show v1", ["v1", "Show v1"]),
        ("Mix one: 2 kg rump", ["Mix one"]),
        ("save it as mac and cheese and make it 5 lb", ["mac and cheese"]),
        ("rename fair stall to Fete", ["Fete"]),
        ('save as "burger night", 8/10', ["burger night"]),
        ("save it as 4th of July", ["4th of July"]),
        ("call the batch Club night!", ["Club night"]),
        ("save as Robert'); DROP TABLE batches;--", ["Robert'); DROP TABLE batches;--"]),
    ],
)
def test_names(line: str, names: list[str]) -> None:
    assert [name for _, _, name in naming.new_names(line)] == names


@pytest.mark.parametrize(
    "line",
    [
        "call it 12 lb", "call it fifteen people", "call it a dozen", "keep it under 20% fat",
        "keep it as lean as you can",
        "put in 2 kg of round under 10% fat", "can I keep it as patties", "save money", "Q: how much",
        "store it as cubes or mince?",
        "save it", "Cuts: round 8, suet 92", "3 lb at 80/20: round and suet",
    ],
)  # fmt: skip
def test_what_is_no_name(line: str) -> None:
    assert naming.new_names(line) == []


@given(st.text(max_size=200))
def test_a_name_stands_where_its_span_says(line: str) -> None:
    text = clean(f"save that as {line}").text
    for first, last, name in naming.new_names(text):
        assert 0 <= first < last <= len(text)
        assert name in text[first:last]


@pytest.mark.parametrize(
    ("line", "value", "top"),
    [
        ("7/10", 7, 10), ("8 out of 10", 8, 10), ("4 stars", 4, 5), ("eight out of ten", 8, 10),
        ("3 1/2 out of 5", Fraction(7, 2), 5),
        ("8.5/10", Fraction(17, 2), 10), ("log 3 lb at 80/20 as x - 7.5/10", Fraction(15, 2), 10),
    ],
)  # fmt: skip
def test_marks(line: str, value: Fraction, top: int) -> None:
    found = naming.marks(line)
    assert found is not None
    assert (found.value, found.top) == (value, top)


@pytest.mark.parametrize("line", ["80/20", "4/5 lb", "1/2 lb", "3 lb", "85/15 from 2 cuts"])
def test_fractions_and_ratios_are_no_marks(line: str) -> None:
    assert naming.marks(line) is None


def test_names_that_mean_something_are_not_looked_for() -> None:
    kept = [
        "fair stall",
        "Sunday mix",
        "burgers",
        "chuck and suet",
        "80/20 classic",
        "Heat 1",
        "A",
        "beef",
        "2 lb chuck",
    ]
    assert list(naming.known_names(kept).values()) == ["fair stall", "Sunday mix", "80/20 classic", "Heat 1"]


def test_a_name_that_is_a_word_for_people_is_one_in_its_places() -> None:
    names = naming.known_names(["Crew", "beef", "again"])
    assert list(names.values()) == ["Crew"]
    for line, found in [
        ("how much salt is in crew", True),
        ("Crew again for 2 kg", True),
        ("rate Crew 7", True),
        ("half of Crew", True),
        ("Crew for 10 people", True),
        ("12 patties for the crew", False),
        ("crew for 10 people", False),
        ("crew of 8", False),
    ]:
        marks = scan(line)
        at = next(place for place, mark in enumerate(marks) if mark.text == "crew")
        assert naming.loaded_name(names, marks, at) == (("Crew", at + 1) if found else None), line


def test_remarks() -> None:
    found = naming.remark("note on fair stall: too salty")
    assert found is not None
    assert (found.text, found.whose) == ("too salty", "fair stall")
