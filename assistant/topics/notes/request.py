"""What can be asked of the notebook, each as a small record of its own.

A batch is named as the cook names it; IT is the batch last spoken of, LAST the one saved last.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant.language.phrases import Measure
from assistant.language.sentence import Sentence
from assistant.topics.notes.periods import Period

IT = ""
LAST = "the last one"


class Score(Struct, frozen=True):
    """Marks out of `top`; taken: the scale was not said and out of ten was taken."""

    value: Fraction
    top: int
    taken: bool = False


class Save(Struct, frozen=True):
    """Keep a batch. batch: the plan's own request where the line describes one (else the batch on the table).

    label: a word for it in this conversation only ("v1: …"). name None: only the label, nothing is written.
    """

    name: str | None
    batch: Any = None
    score: Score | None = None
    remark: str = ""
    label: str = ""


class Recall(Struct, frozen=True):
    """What was in a batch."""

    name: str


class Again(Struct, frozen=True):
    """A batch once more: for another weight, so many times, or with the change that the rest of the line says."""

    name: str
    weight: Measure | None = None
    factor: Fraction | None = None
    change: Sentence | None = None


class Rate(Struct, frozen=True):
    """Marks for a batch. score None: what the marks were is the question."""

    name: str
    score: Score | None
    remark: str = ""


class Remarked(Struct, frozen=True):
    """A remark on a batch."""

    name: str
    text: str


class Best(Struct, frozen=True):
    """The best (or worst) rated."""

    count: int = 1
    worst: bool = False


class Average(Struct, frozen=True):
    """The mean of the ratings. names: of which batches; here: of those saved in this conversation."""

    names: tuple[str, ...] = ()
    here: bool = False


class Compare(Struct, frozen=True):
    """Two batches side by side."""

    first: str
    second: str


class LastTwo(Struct, frozen=True):
    """The two saved last side by side."""


class Listing(Struct, frozen=True):
    """The names of what is saved."""


class Search(Struct, frozen=True):
    """Batches with these words in their name, cuts, seasonings, tags or remarks."""

    words: str


class Rename(Struct, frozen=True):
    """Another name for a batch."""

    old: str
    new: str


class Forget(Struct, frozen=True):
    """Take a batch out of the notebook."""

    name: str


class Tagged(Struct, frozen=True):
    """A tag on a batch."""

    name: str
    tag: str


class Used(Struct, frozen=True):
    """What was made in a period; cut: only of this one ("" for all)."""

    period: Period
    cut: str = ""


class Amount(Struct, frozen=True):
    """How much of one seasoning or cut went into a batch."""

    name: str
    thing: str


class Next(Struct, frozen=True):
    """Which blend to try next."""


class Beside(Struct, frozen=True):
    """A batch of its own, described in full in a line that also has the name of a saved one in it."""

    batch: Any
    name: str


class Help(Struct, frozen=True):
    """How the notebook is used."""
