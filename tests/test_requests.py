"""What people type: never broken, and the share answered rightly does not sink.

The shares are floors, raised as the language gets better; the held-back files were never worked against.
"""

from __future__ import annotations

import tempfile
from collections import Counter
from pathlib import Path

import pytest

from tests.requests import judge

FOLDER = Path(__file__).parent / "requests"
FILES = sorted(FOLDER.glob("*.jsonl"))
WORKED, HELD_BACK = 0.50, 0.40
"""Least share of passes in a file that was worked against, and in one that was not."""
WRONG_AT_MOST = 0.34
"""Largest share of wrong answers in any one file; overall it is far lower and has to come down to none."""


def _tally(path: Path) -> Counter[judge.Kind]:
    tally: Counter[judge.Kind] = Counter()
    for case in judge.read_cases(path):
        with tempfile.TemporaryDirectory() as folder:
            verdict, _ = judge.try_case(case, Path(folder) / "notebook.db")
        tally[verdict.kind] += 1
    return tally


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_requests_are_never_broken_and_mostly_right(path: Path) -> None:
    tally = _tally(path)
    whole = sum(tally.values())
    assert tally[judge.Kind.BROKEN] == 0, tally
    floor = HELD_BACK if "holdback" in path.stem else WORKED
    assert tally[judge.Kind.PASS] >= floor * whole, tally
    assert tally[judge.Kind.WRONG] <= WRONG_AT_MOST * whole, tally


def test_there_are_more_than_four_hundred_requests() -> None:
    assert sum(len(judge.read_cases(path)) for path in FILES) > 400
