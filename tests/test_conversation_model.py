"""A conversation of random turns beside a small model of it: undo restores, and figures always balance."""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from assistant import Answer, Conversation, Role, Status, units
from tests.answer_format import faults
from tests.strategies import Blend, blends

NOW = datetime(2027, 6, 18, 16, 30, tzinfo=UTC)
DEEPEST = 20
"""Turns that the model remembers; the conversation itself remembers more."""


class Evening(RuleBasedStateMachine):
    """One conversation. `before` holds the answers that undo has to bring back, newest last."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.talk = Conversation(Path(self.folder.name) / "notebook.db", now=lambda: NOW)
        self.grams = 0.0
        self.before: list[tuple[Answer, float]] = []
        self.answer: Answer | None = None

    def teardown(self) -> None:
        """The notebook goes with the evening."""
        self.folder.cleanup()

    def _ask(self, line: str) -> Answer:
        answer = self.talk.ask(line)
        assert list(faults(answer.as_data())) == [], line
        return answer

    def _now(self, answer: Answer, grams: float) -> None:
        if self.answer is not None and self.answer.figures != answer.figures:
            self.before = [*self.before[-DEEPEST:], (self.answer, self.grams)]
        self.answer, self.grams = answer, grams

    @initialize(blend=blends())
    def plan(self, blend: Blend) -> None:
        """Every evening begins with a batch."""
        self.another(blend)

    @rule(blend=blends())
    def another(self, blend: Blend) -> None:
        """A full request replaces whatever was on the table."""
        answer = self._ask(blend.line())
        assert answer.status is Status.ANSWERED
        self._now(answer, float(units.grams(blend.pounds, "lb")))

    @rule(change=st.sampled_from((("double that", 2.0), ("halve that", 0.5))))
    def multiply(self, change: tuple[str, float]) -> None:
        """So many times the batch, within what a kitchen grinds."""
        words, factor = change
        if not 200 < self.grams * factor < 500_000:
            return
        answer = self._ask(words)
        assert answer.status is Status.ANSWERED, answer.message
        self._now(answer, self.grams * factor)

    @rule(pounds=st.integers(1, 40))
    def resize(self, pounds: int) -> None:
        """Another weight for the same batch."""
        answer = self._ask(f"make it {pounds} lb")
        assert answer.status is Status.ANSWERED, answer.message
        self._now(answer, float(units.grams(pounds, "lb")))

    @rule(
        line=st.sampled_from(("what is the weather", "qwrtz", "1/0 lb", "help", "thanks", "why", "convert 2 lb to g"))
    )
    def something_else(self, line: str) -> None:
        """Small talk, nonsense and other questions change nothing of the batch."""
        self._ask(line)
        self._table_is_as_it_was()

    def _table_is_as_it_was(self) -> None:
        probe = self._ask("double that")
        if probe.status is Status.ANSWERED:
            total = next(figure for figure in probe.figures if figure.role is Role.TOTAL)
            assert float(units.grams(_exact(total.value), total.unit)) == pytest.approx(2 * self.grams, rel=1e-6)
            self._ask("undo")

    @precondition(lambda self: self.before)
    @rule()
    def undo(self) -> None:
        """The answer of before is back, figure for figure."""
        answer, grams = self.before.pop()
        back = self._ask("undo")
        assert back.figures == answer.figures
        self.answer, self.grams = back, grams

    @invariant()
    def figures_balance(self) -> None:
        """The parts weigh what the batch weighs, and their fat is its fat."""
        if self.answer is None:
            return
        parts = [figure for figure in self.answer.figures if figure.role is Role.COMPONENT]
        grams = [float(units.grams(_exact(part.value), part.unit)) for part in parts]
        assert sum(grams) == pytest.approx(self.grams, rel=1e-6)
        fat = next(figure for figure in self.answer.figures if figure.role is Role.FAT)
        weighed = sum(weight * (part.fat_percent or 0) for weight, part in zip(grams, parts, strict=True)) / sum(grams)
        assert weighed == pytest.approx(float(fat.value), abs=1e-6)


def _exact(value: float | str) -> float:
    assert not isinstance(value, str)
    return value


TestEvening = pytest.mark.slow(Evening.TestCase)
TestEvening.settings = settings(max_examples=25, stateful_step_count=12, deadline=None)


class ShortEvening(Evening):
    """The same, short enough for every run."""


TestShortEvening = ShortEvening.TestCase
TestShortEvening.settings = settings(max_examples=5, stateful_step_count=6, deadline=None)
