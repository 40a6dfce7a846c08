"""Whole answers on heat, cold, time and cleanliness, beside the ones kept in safety_answers/, one file for a topic.

A case there is the lines that are asked (">") and below them all that the last answer says: figures with their source,
notes, steps, the reminders by topic, the working. Whatever stands beside a verdict is held so too, to the word.
UPDATE_ANSWERS=1 writes the answers anew (a case may be added as its ">" lines alone); read every difference against
the safety file before keeping it. The published limits themselves are typed once more in test_safety_limits.py, so
that a wrong figure cannot be kept by mistake.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from assistant import Answer
from tests.topics.kitchen_talk import Evening

KEPT = Path(__file__).parent / "safety_answers"
ASKED = "> "


def asked(case: str) -> tuple[str, ...]:
    """The lines that a kept case asks."""
    return tuple(line.removeprefix(ASKED) for line in case.splitlines() if line.startswith(ASKED))


def cases(path: Path) -> list[str]:
    """The cases of one file."""
    return path.read_text(encoding="utf-8").strip().split("\n\n")


def written(answer: Answer) -> str:
    """All that an answer says, a line for each thing."""
    lines = [f"{answer.topic}, {answer.status}: {answer.understood}", answer.headline]
    lines += [f"message: {answer.message}"] if answer.message else []
    for one in answer.figures:
        ends = "" if one.low is None and one.high is None else f" ({one.low:g} to {one.high:g})"
        amount = one.value if isinstance(one.value, str) else f"{one.value:.6g}"
        lines.append(f"  {one.role} {one.name}: {amount} {one.unit}{ends}, {one.shown} [{one.source}]")
    lines += [f"  note: {note}" for note in answer.notes]
    lines += [f"  step: {step}" for step in answer.steps]
    reminders = (f"{caution.topic}{'!' if caution.urgent else ''}" for caution in answer.cautions)
    lines += [f"  reminders: {', '.join(reminders)}"] if answer.cautions else []
    lines += [f"  working: {line}" for line in answer.working]
    return "\n".join(line for line in lines if line)


def told(lines: tuple[str, ...], folder: Path) -> str:
    """A case as it is kept: what was asked, and what the last answer says."""
    folder.mkdir(exist_ok=True)
    return "\n".join([*(f"{ASKED}{line}" for line in lines), written(Evening(folder).ask(*lines))])


@pytest.mark.parametrize(
    ("path", "case"),
    [
        pytest.param(path, case, id=f"{path.stem}: {' | '.join(asked(case))}")
        for path in sorted(KEPT.glob("*.txt"))
        for case in cases(path)
    ],
)
def test_the_whole_answer(path: Path, case: str, tmp_path: Path) -> None:
    now = told(asked(case), tmp_path)
    if os.environ.get("UPDATE_ANSWERS"):
        kept = path.read_text(encoding="utf-8").split("\n\n")
        fresh = [now if asked(one) == asked(case) else one.strip() for one in kept]
        path.write_text("\n\n".join(fresh) + "\n", encoding="utf-8")
        case = now
    assert now == case, "UPDATE_ANSWERS=1 keeps the new one; read the difference first"


def test_no_case_is_kept_twice() -> None:
    lines = [asked(case) for path in sorted(KEPT.glob("*.txt")) for case in cases(path)]
    assert len(set(lines)) == len(lines)
