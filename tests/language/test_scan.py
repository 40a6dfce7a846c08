"""Marks: every visible character belongs to exactly one, in order."""

from __future__ import annotations

import pytest
from hypothesis import given

from assistant.language.scan import scan
from assistant.language.text import clean
from tests.strategies import any_text


def kinds(text: str) -> list[tuple[str, str]]:
    """Kind and text of every mark."""
    return [(mark.kind, mark.text) for mark in scan(text)]


@pytest.mark.parametrize(
    ("text", "marks"),
    [
        ("3 lb", [("number", "3"), ("word", "lb")]),
        ("3lb", [("number", "3"), ("word", "lb")]),
        ("1,500", [("number", "1,500")]),
        ("1,5", [("number", "1,5")]),
        (".5", [("number", ".5")]),
        ("1/2", [("number", "1"), ("sign", "/"), ("number", "2")]),
        ("1:15 pm", [("clock", "1:15 pm")]),
        ("18:30", [("clock", "18:30")]),
        ("5pm", [("clock", "5pm")]),
        ("2027-06-19", [("iso", "2027-06-19")]),
        ("1e400", [("bad", "1e400")]),
        ("9**9**9", [("bad", "9**9**9")]),
        ("NaN", [("bad", "nan")]),
        ("A$13", [("money", "a$"), ("number", "13")]),
        ("£9.80", [("money", "£"), ("number", "9.80")]),
        ("baker's", [("word", "bakers")]),
    ],
)
def test_marks(text: str, marks: list[tuple[str, str]]) -> None:
    assert kinds(text) == marks


def test_nan_is_a_bread_unless_spelled_as_the_number() -> None:
    assert kinds("naan nan") == [("word", "naan"), ("word", "nan")]


def test_glued_tells_whether_a_space_stood_before() -> None:
    assert [mark.glued for mark in scan("3lb of 5-6")] == [False, True, False, False, True, True]


@given(any_text())
def test_every_visible_character_lies_in_exactly_one_mark(typed: str) -> None:
    text = clean(typed).text
    end = 0
    for mark in scan(text):
        assert not text[end : mark.start].strip()
        assert end <= mark.start < mark.end
        assert mark.raw == text[mark.start : mark.end]
        end = mark.end
    assert not text[end:].strip()
