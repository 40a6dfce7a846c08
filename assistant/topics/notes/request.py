"""What can be asked of the notebook, each as a small record of its own.

A batch is named as the cook names it; IT is the batch last spoken of, LAST the one saved last.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from assistant.language.phrases import Measure
from assistant.language.sentence import Sentence
from assistant.topics.notes.periods import Period

IT = ""
LAST = "the last one"


@dataclass(frozen=True)
class Score:
    """Marks out of `top`; taken: the scale was not said and out of ten was taken."""

    value: Fraction
    top: int
    taken: bool = False


@dataclass(frozen=True)
class Save:
    """Keep a batch. batch: the plan's own request where the line describes one (else the batch on the table).

    label: a word for it in this conversation only ("v1: …"). name None: only the label, nothing is written.
    """

    name: str | None
    batch: Any = None
    score: Score | None = None
    remark: str = ""
    label: str = ""


@dataclass(frozen=True)
class Recall:
    """What was in a batch."""

    name: str


@dataclass(frozen=True)
class Again:
    """A batch once more: for another weight, so many times, or with the change that the rest of the line says."""

    name: str
    weight: Measure | None = None
    factor: Fraction | None = None
    change: Sentence | None = None


@dataclass(frozen=True)
class Rate:
    """Marks for a batch. score None: what the marks were is the question."""

    name: str
    score: Score | None
    remark: str = ""


@dataclass(frozen=True)
class Remarked:
    """A remark on a batch."""

    name: str
    text: str


@dataclass(frozen=True)
class Best:
    """The best (or worst) rated."""

    count: int = 1
    worst: bool = False


@dataclass(frozen=True)
class Average:
    """The mean of the ratings. names: of which batches; here: of those saved in this conversation."""

    names: tuple[str, ...] = ()
    here: bool = False


@dataclass(frozen=True)
class Compare:
    """Two batches side by side."""

    first: str
    second: str


@dataclass(frozen=True)
class LastTwo:
    """The two saved last side by side."""


@dataclass(frozen=True)
class Listing:
    """The names of what is saved."""


@dataclass(frozen=True)
class Search:
    """Batches with these words in their name, cuts, seasonings, tags or remarks."""

    words: str


@dataclass(frozen=True)
class Rename:
    """Another name for a batch."""

    old: str
    new: str


@dataclass(frozen=True)
class Forget:
    """Take a batch out of the notebook."""

    name: str


@dataclass(frozen=True)
class Tagged:
    """A tag on a batch."""

    name: str
    tag: str


@dataclass(frozen=True)
class Used:
    """What was made in a period; cut: only of this one ("" for all)."""

    period: Period
    cut: str = ""


@dataclass(frozen=True)
class Amount:
    """How much of one seasoning or cut went into a batch."""

    name: str
    thing: str


@dataclass(frozen=True)
class Next:
    """Which blend to try next."""


@dataclass(frozen=True)
class Beside:
    """A batch of its own, described in full in a line that also has the name of a saved one in it."""

    batch: Any
    name: str


@dataclass(frozen=True)
class Help:
    """How the notebook is used."""
