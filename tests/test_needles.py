"""A pattern never matches in a text that holds none of its needles: it would be passed over there in silence."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant import building
from assistant.needles import needles
from tests.requests import judge

NEEDLES = building.needles_of_patterns()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (r"\bsav(?:e|ed|ing) it\b", {"save it", "saved it", "saving it"}),
        (r"\brates?\b", {"rate"}),
        (r"(?:half|quarter)\s+of\s+it", {"half", "quarter"}),
        (r"(?:half|quarter)?\s*mince", {"mince"}),
        (r"keep\w* (?:cold|warm)", {"keep"}),
        (r"(?:two){2}", {"two"}),
        (r"(?:or)+ the one", {" the one"}),
        (r"gr[ea]y meat", {"gray meat", "grey meat"}),
        (r"Bun(?=\s+price)", {"bun"}),
        (r"(?<!not )raw", {"raw"}),
    ],
)
def test_needles(text: str, found: set[str]) -> None:
    assert set(needles(text, re.IGNORECASE)) == found


@pytest.mark.parametrize(
    "text",
    [
        r"\bin\b",  # too short: nearly every line holds it
        r"(?:ready)?",
        r"(?:ready)*",
        r"ready|[0-9]+",
        r"ready|in",
        r"[^,]+",
        r"(.)\1",
        r"ér",
        r"   ",
    ],
)
def test_no_needles(text: str) -> None:
    assert needles(text, 0) == ()


def test_words_of_a_part_that_are_too_many_are_not_told_beyond_it() -> None:
    letters = "(?:a|b|c|d|e|f|g)"
    assert set(needles(f"butter{letters}{letters}{letters}", 0)) == {f"butter{letter}" for letter in "abcdefg"}


@given(st.data())
@settings(max_examples=60)
def test_whatever_a_pattern_matches_holds_a_needle(data: st.DataObject) -> None:
    key = data.draw(st.sampled_from(sorted(NEEDLES)))
    flags, _, text = key.partition(" ")
    matched = data.draw(st.from_regex(re.compile(text, (int(flags) | re.ASCII) & ~re.UNICODE)).filter(str.isascii))
    assert any(needle in matched.lower() for needle in NEEDLES[key]), matched


def test_no_request_is_passed_over_by_a_pattern_that_matches_it() -> None:
    files = [judge.HERE / f"stranger_{which}.jsonl" for which in ("one", "two", "three", "four", "five")]
    lines = {turn for path in files for case in judge.read_cases(path) for turn in judge.turns_of(case)}
    plain = [line for line in lines if line.isascii()]
    assert len(NEEDLES) > 200 and len(plain) > 400
    for key, pieces in NEEDLES.items():
        flags, _, text = key.partition(" ")
        matches = re.compile(text, int(flags)).search
        for line in plain:
            if matches(line):
                assert any(piece in line.lower() for piece in pieces), (line, text)
