"""A notebook kept in words beside a dictionary: what was saved is there, what was forgotten is not, undo brings back."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from assistant import units
from assistant.answer import Answer, Role, Status
from assistant.session import Conversation
from tests.answer_format import faults
from tests.strategies import Blend, blends

NOW = datetime(2027, 6, 18, 16, 30, tzinfo=UTC)
NAMES = ("alder", "birch", "cedar", "hazel")
names = st.sampled_from(NAMES)
Parts = tuple[float, ...]


class Keeping(RuleBasedStateMachine):
    """One notebook; `kept` is what should be in it, `before` what was in it before the last line that wrote."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.kept: dict[str, Parts] = {}
        self.before: Mapping[str, Parts] | None = None
        self.talk = self._opened()

    def teardown(self) -> None:
        """The notebook goes with the evening."""
        self.folder.cleanup()

    def _opened(self) -> Conversation:
        return Conversation(Path(self.folder.name) / "notebook.db", now=lambda: NOW)

    def _ask(self, line: str) -> Answer:
        answer = self.talk.ask(line)
        assert list(faults(answer.as_data())) == [], line
        return answer

    def _write(self, line: str) -> None:
        self.before = dict(self.kept)
        assert self._ask(line).status is Status.ANSWERED, line

    @rule(name=names, blend=blends())
    def save(self, name: str, blend: Blend) -> None:
        """A new batch under a name that is free."""
        if name in self.kept:
            return
        planned = self._ask(blend.line())
        self._write(f"save that as {name}")
        self.kept[name] = parts(planned)

    @precondition(lambda self: self.kept)
    @rule(data=st.data())
    def forget(self, data: st.DataObject) -> None:
        """One of them goes."""
        name = data.draw(st.sampled_from(sorted(self.kept)))
        self._write(f"delete {name}")
        del self.kept[name]

    @precondition(lambda self: self.before is not None)
    @rule()
    def undo(self) -> None:
        """The last line that wrote is taken back."""
        assert self.before is not None
        assert self._ask("undo").status is Status.ANSWERED
        self.kept, self.before = dict(self.before), None

    @rule(line=st.sampled_from(("what is the weather", "qwrtz", "1/0 lb", "help", "is 145 F enough for burgers")))
    def something_else(self, line: str) -> None:
        """What has nothing to do with the notebook changes nothing in it; nothing is left to undo there."""
        self._ask(line)
        self.before = None

    @rule()
    def come_back_tomorrow(self) -> None:
        """Another conversation finds what this one kept."""
        self.talk, self.before = self._opened(), None

    @rule(name=names)
    def show(self, name: str) -> None:
        """A batch that is there is shown as it was saved; one that is not is not made up."""
        answer = self._ask(f"show {name}")
        self.before = None
        if name in self.kept:
            assert answer.status is Status.ANSWERED
            assert parts(answer) == pytest.approx(self.kept[name], rel=1e-9)
        else:
            assert not [figure for figure in answer.figures if figure.role is Role.COMPONENT]

    @invariant()
    def the_list_is_the_dictionary(self) -> None:
        """Asked in a conversation of its own, so that this one's undo is left alone."""
        listed = self._opened().ask("list batches")
        told = " ".join((listed.headline, listed.message, *listed.notes, *listed.steps))
        assert {name for name in NAMES if f'"{name}"' in told} == set(self.kept)


def parts(answer: Answer) -> Parts:
    """Grams of the parts of a batch, in order."""
    return tuple(
        float(units.grams(part.value, part.unit))
        for part in answer.figures
        if part.role is Role.COMPONENT and not isinstance(part.value, str)
    )


TestKeeping = pytest.mark.slow(Keeping.TestCase)
TestKeeping.settings = settings(max_examples=15, stateful_step_count=12, deadline=None)


class ShortKeeping(Keeping):
    """The same, short enough for every run."""


TestShortKeeping = ShortKeeping.TestCase
TestShortKeeping.settings = settings(max_examples=4, stateful_step_count=8, deadline=None)
