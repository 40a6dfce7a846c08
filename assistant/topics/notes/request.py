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
BEST = "the best one"
PREVIOUS = "the version before "
"""Before a name: the version before the one named; alone, before the batch last spoken of."""


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
    """What was in a batch. marks: how it was rated is what was asked."""

    name: str
    marks: bool = False


class Again(Struct, frozen=True):
    """A batch once more: for another weight, so many times, or with the change that the rest of the line says.

    cut: the weight is that of this cut, and the batch is as much as it gives. fat: percent to bring it to.
    """

    name: str
    weight: Measure | None = None
    factor: Fraction | None = None
    change: Sentence | None = None
    cut: str = ""
    fat: Fraction | None = None


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
    """The best (or worst) rated. least, most: only those of these marks, 0 to 1; strictly: not of exactly these."""

    count: int = 1
    worst: bool = False
    least: Fraction | None = None
    most: Fraction | None = None
    strictly: bool = False


class Latest(Struct, frozen=True):
    """The batches saved last."""

    count: int


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


class Weighed(Struct, frozen=True):
    """What was truly weighed: cut and weight, seasoning and weight. name: of which batch; IT for the one on the table
    or last spoken of."""

    name: str
    weights: tuple[tuple[str, Measure], ...]
    pinches: tuple[tuple[str, Measure], ...] = ()


class Rename(Struct, frozen=True):
    """Another name for a batch."""

    old: str
    new: str


class Forget(Struct, frozen=True):
    """Take a batch out of the notebook."""

    name: str


class Tagged(Struct, frozen=True):
    """Tags on a batch, or off it."""

    name: str
    tags: tuple[str, ...]
    off: bool = False


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
