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
WORKED, HELD_BACK = 0.95, 0.70
"""Least share of passes over the files that were worked against, and over those that were not."""
WRONG_WORKED, WRONG_HELD_BACK = 0.01, 0.10
"""Largest share of wrong answers over either kind; it has to come down to none."""


def _tally(path: Path) -> Counter[judge.Kind]:
    tally: Counter[judge.Kind] = Counter()
    for case in judge.read_cases(path):
        with tempfile.TemporaryDirectory() as folder:
            verdict, _ = judge.try_case(case, Path(folder) / "notebook.db")
        tally[verdict.kind] += 1
    return tally


@pytest.mark.parametrize("held_back", [False, True])
def test_requests_are_never_broken_and_mostly_right(held_back: bool) -> None:
    tally: Counter[judge.Kind] = Counter()
    for path in FILES:
        if ("holdback" in path.stem) == held_back:
            tally += _tally(path)
    whole = sum(tally.values())
    print(tally)
    assert tally[judge.Kind.BROKEN] == 0, tally
    assert tally[judge.Kind.PASS] >= (HELD_BACK if held_back else WORKED) * whole, tally
    assert tally[judge.Kind.WRONG] <= (WRONG_HELD_BACK if held_back else WRONG_WORKED) * whole, tally


def test_there_are_more_than_four_hundred_requests() -> None:
    assert sum(len(judge.read_cases(path)) for path in FILES) > 400
