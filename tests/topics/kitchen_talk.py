"""A conversation with a notebook of its own and a clock that the test holds."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path

from assistant import Answer, Conversation

SUPPER = datetime(2026, 6, 19, 13, 15, tzinfo=timezone(timedelta(hours=1)))


class Evening:
    """A conversation and its clock."""

    def __init__(self, folder: Path, name: str = "notebook.db") -> None:
        self.path = folder / name
        self.now = SUPPER
        self.talk = Conversation(self.path, lambda: self.now)

    def ask(self, *lines: str) -> Answer:
        """Ask line after line; the answer to the last one."""
        answers = [self.talk.ask(line) for line in lines]
        return answers[-1]

    def later(self, minutes: float) -> None:
        """Let time go by."""
        self.now += timedelta(minutes=minutes)

    def another(self) -> Evening:
        """Another conversation over the same notebook, as after a restart."""
        again = Evening(self.path.parent, self.path.name)
        again.now = self.now
        return again


def said(answer: Answer) -> str:
    """Everything that a person reads of an answer, in lower case."""
    shown = (figure.shown for figure in answer.figures)
    return " ".join((answer.headline, answer.message, *answer.notes, *answer.steps, *shown)).lower()


def value(answer: Answer, role: str, name: str = "") -> float:
    """The one figure of a role (and name)."""
    found = [f.value for f in answer.figures if f.role.value == role and name in f.name]
    assert found, (role, name, answer.figures)
    assert isinstance(found[0], float)
    return found[0]
