"""Completion: from known names and openings, the same every time, whole lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from assistant.language.suggest import MOST, suggest
from assistant.language.vocabulary import nearest


class _Opening(Struct, frozen=True):
    examples: tuple[str, ...]


TOPICS = (_Opening(("3 lb 6 oz in grams", "71 C in F")), _Opening(("help", "what can you do")))


@pytest.mark.parametrize(
    ("line", "first"),
    [
        ("3 lb bri", "3 lb brisket"),
        ("3 LB BRI", "3 LB brisket"),
        ("2 tsp smoked pa", "2 tsp smoked paprika"),
        ("3 lb top ro", "3 lb top round"),
        ("he", "help"),
        ("What c", "what can you do"),
        ("3 lb 6", "3 lb 6 oz in grams"),
        ("make fair", "make Fair Stall"),
    ],
)
def test_the_first_suggestion(line: str, first: str) -> None:
    assert suggest(line, {"fair stall": "Fair Stall"}, TOPICS)[0] == first


@pytest.mark.parametrize("line", ["c", "3 lb chuck ", "5 lb of zzz"])
def test_nothing_to_suggest(line: str) -> None:
    assert suggest(line, {}, TOPICS) == []


def test_an_empty_line_is_opened_by_each_topic() -> None:
    assert suggest("", {}, TOPICS) == ["3 lb 6 oz in grams", "help"]


@given(st.text(alphabet="abcdeghilnoprstuk é3", max_size=20))
def test_short_and_each_once(line: str) -> None:
    found = suggest(line, {}, TOPICS)
    assert len(found) <= MOST
    assert len(set(found)) == len(found)
    assert found == suggest(line, {}, TOPICS)
    assert line not in found


@pytest.mark.parametrize(
    "word",
    [
        "cold",
        "plan",
        "grand",
        "thing",
        "think",
        "flask",
        "plant",
        "form",
        "from",
        "land",
        "pond",
        "rind",
        "train",
        "steal",
    ],
)
def test_everyday_words_near_a_cut_or_a_unit_are_left_alone(word: str) -> None:
    assert nearest(word) is None
