"""Every question of heat, cold, time and hands in the request files is answered as it is written there.

Of the other request files, care_cases.txt names the cases that are about heat, cold, time or hands, or that only sound so
("freeze 3 lb of patties for 20 people" is a batch).

test_requests.py holds shares over all files; here each case is a test of its own, so that a safety rule that is
changed by mistake is named by the line that it fails. The clock stands still, so that a day or an hour says the same
every time.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from assistant import Answer, Conversation, Status
from tests.requests import judge
from tests.topics.kitchen_talk import SUPPER

FILES = ("unsafe_*.jsonl", "unsafe2_*.jsonl", "care3_*.jsonl", "care8_*.jsonl", "home_safety.jsonl")
NOT_YET = frozenset({"CHB016"})
"""Cases that are answered honestly, but not yet as they should be."""

CASES = [
    case
    for pattern in FILES
    for path in sorted(judge.HERE.glob(pattern))
    if "holdback" not in path.name
    for case in judge.read_cases(path)
]


def named_cases() -> list[Mapping[str, Any]]:
    """The cases of the other files, by the ids that care_cases.txt gives under each file's name."""
    named = (Path(__file__).parent / "care_cases.txt").read_text(encoding="utf-8")
    found: list[Mapping[str, Any]] = []
    for block in re.split(r"\n(?=\S)", named.strip()):
        file, ids = block.split(":")
        cases = {case["id"]: case for case in judge.read_cases(judge.HERE / file)}
        found += [cases[one] for one in ids.split()]
    return found


def check_it_is_complete(answer: Answer) -> None:
    """What every answer on heat, cold, time and hands says: what was understood, how it was found, reminders, and the
    source of each figure and of the whole."""
    if answer.topic not in ("safe", "store", "thaw", "cook") or answer.status is not Status.ANSWERED:
        return
    assert answer.understood
    assert answer.working
    assert all(answer.working)
    assert answer.cautions
    assert any("Source" in note for note in answer.notes)
    for figure in answer.figures:
        assert figure.name
        assert figure.source, figure
        assert figure.shown, figure


@pytest.mark.parametrize("case", [*CASES, *named_cases()], ids=lambda case: case["id"])
def test_a_question_of_safety_is_answered_as_it_is_written(case: Mapping[str, Any], tmp_path: Path) -> None:
    talk = Conversation(tmp_path / "notebook.db", lambda: SUPPER, folder=tmp_path)
    answers = [talk.ask(turn) for turn in judge.turns_of(case)]
    for answer in answers:
        check_it_is_complete(answer)
    verdict = judge.judge(json.loads(json.dumps(answers[-1].as_data())), case["expect"])
    assert (verdict.kind is judge.Kind.PASS) is (case["id"] not in NOT_YET), verdict.reasons
