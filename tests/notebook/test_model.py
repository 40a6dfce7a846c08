"""The notebook beside a small model of it: whatever is done, in whatever order, both hold the same, after closing too."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from assistant.notebook import Batch, NoSuchBatch, Notebook, NothingToUndo, Part, Stocked
from tests.notebook.samples import ticking

NAMES = st.sampled_from(["Fair stall", "fair  STALL", "Quay", "80/20", "'; DROP TABLE batches; --", "../up", "[b]x"])
CUTS = st.sampled_from(["chuck", "Round", "brisket trim"])
GRAMS = st.fractions(1, 5000, max_denominator=7)

Kept = dict[tuple[str, int], Batch]
"""Batches of the model by folded name and version."""


def key(name: str) -> str:
    """A name as names are compared: no heed of case and blanks."""
    return " ".join(name.split()).casefold()


class Book(RuleBasedStateMachine):
    """A notebook and its model: batches, stock, settings, and what they were before each change."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.path = Path(self.folder.name) / "n.db"
        self.notebook = Notebook(self.path, now=ticking())
        self.batches: Kept = {}
        self.stock: dict[str, Fraction | None] = {}
        self.settings: dict[str, str] = {}
        self.before: list[tuple[Kept, dict[str, Fraction | None], dict[str, str]]] = []

    def teardown(self) -> None:
        self.notebook.check()
        self.notebook.close()
        self.folder.cleanup()

    def _remember(self) -> None:
        self.before.append((dict(self.batches), dict(self.stock), dict(self.settings)))

    def _newest(self, name: str) -> tuple[str, int] | None:
        versions = [version for kept, version in self.batches if kept == key(name)]
        return (key(name), max(versions)) if versions else None

    @rule(name=NAMES, cut=CUTS, grams=GRAMS)
    def save(self, name: str, cut: str, grams: Fraction) -> None:
        version = max((v for kept, v in self.batches if kept == key(name)), default=0) + 1
        self._remember()
        saved = self.notebook.save(Batch(name, (Part(cut, grams),)))
        assert (key(saved.name), saved.version) == (key(name), version)
        self.batches[key(name), version] = saved

    @rule(name=NAMES, marks=st.integers(0, 10))
    def rate(self, name: str, marks: int) -> None:
        newest = self._newest(name)
        if newest is None:
            with pytest.raises(NoSuchBatch):
                self.notebook.rate(name, Fraction(marks), 10)
            return
        self._remember()
        self.batches[newest] = self.notebook.rate(name, Fraction(marks), 10)
        assert self.batches[newest].rating == marks

    @rule(name=NAMES, grams=GRAMS)
    def weigh(self, name: str, grams: Fraction) -> None:
        newest = self._newest(name)
        if newest is not None:
            self._remember()
            cut = self.batches[newest].parts[0].cut
            self.batches[newest] = self.notebook.weighed(name, {cut: grams})
            assert self.batches[newest].parts[0].used == grams

    @rule(name=NAMES)
    def forget(self, name: str) -> None:
        if self._newest(name) is None:
            return
        self._remember()
        self.notebook.forget(name)
        self.batches = {place: batch for place, batch in self.batches.items() if place[0] != key(name)}

    @rule(items=st.dictionaries(CUTS.map(str.lower), st.none() | GRAMS, min_size=1))
    def put_stock(self, items: dict[str, Fraction | None]) -> None:
        self._remember()
        self.notebook.put_stocks(Stocked(cut, grams) for cut, grams in items.items())
        self.stock |= items

    @rule(cuts=st.lists(CUTS.map(str.lower), min_size=1, unique=True))
    def drop_stock(self, cuts: list[str]) -> None:
        there = [cut for cut in cuts if cut in self.stock]
        if there:
            self._remember()
        assert self.notebook.drop_stock(*cuts) is bool(there)
        self.stock = {cut: grams for cut, grams in self.stock.items() if cut not in there}

    @rule(values=st.dictionaries(st.sampled_from(["units", "country", "bell"]), st.text(max_size=5), min_size=1))
    def set_settings(self, values: dict[str, str]) -> None:
        self._remember()
        self.notebook.set_settings(values)
        self.settings |= values

    @precondition(lambda self: self.before)
    @rule()
    def undo(self) -> None:
        self.notebook.undo_last()
        self.batches, self.stock, self.settings = self.before.pop()

    @precondition(lambda self: not self.before)
    @rule()
    def nothing_to_undo(self) -> None:
        with pytest.raises(NothingToUndo):
            self.notebook.undo_last()

    @rule()
    def close(self) -> None:
        self.notebook.close()

    @invariant()
    def both_hold_the_same(self) -> None:
        kept = {(key(batch.name), batch.version): batch for batch in self.notebook.all()}
        assert kept == self.batches
        assert {item.cut: item.grams for item in self.notebook.stock()} == self.stock
        assert self.notebook.settings() == self.settings

    @invariant()
    def the_best_is_the_best(self) -> None:
        scores = sorted((batch.score for batch in self.batches.values() if batch.score is not None), reverse=True)
        assert [batch.score for batch in self.notebook.best(50)] == scores[:50]


TestBook = Book.TestCase
TestBook.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
