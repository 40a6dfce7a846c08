"""What a topic is: one kind of request, from phrases to an answer.

A topic reads a sentence (read), answers the request that it read (answer), and says in full what
it understood (the answer's `understood`, meant to read back to the same request). Topics know nothing
of each other; the session asks all of them and takes the reading that explains the line best.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any, Protocol

from msgspec import Struct, field

from assistant.answer import Answer, Figure, Status
from assistant.language.phrases import Phrase
from assistant.language.sentence import Sentence

if TYPE_CHECKING:
    from pathlib import Path

    from assistant.notebook import Notebook


class Reading(Struct, frozen=True):
    """How a topic understands a sentence.

    request: the topic's own frozen request. used: the phrases it accounts for (by identity of place).
    strength: how sure the topic is that the sentence is its own; 0 a guess, 1 fits, 2 says so outright, 3 a hazard
    that has to be answered before anything else in the line.
    """

    request: Any
    used: frozenset[Phrase]
    strength: int = 1


class Pending(Struct, frozen=True):
    """A question that was asked back: which topic asked, what it had so far, and what it is missing."""

    topic: str
    request: Any
    missing: str


class Talk(Struct, frozen=True):
    """What the conversation holds so far; immutable, so that undo is going back to an older one.

    plan: the batch being planned (assistant.topics.plan.request.Plan) or None.
    earlier: batches planned before it, newest last. topic: of the last answer. last: the last answered
    request. planned: the answer that the plan was given. told: topics of cautions already shown. choices: words
    settled once ("sirloin" -> key). line: the last one that was taken up. meal: what the batch is served for (assistant.topics.timetable.request.Meal) or None.
    """

    plan: Any = None
    earlier: tuple[Any, ...] = ()
    topic: str = ""
    last: Any = None
    pending: Pending | None = None
    told: frozenset[str] = frozenset()
    settings: Mapping[str, str] = field(default_factory=dict)
    answer: Answer | None = None
    before: Answer | None = None
    planned: Answer | None = None
    wrote: bool = False
    meal: Any = None
    kept: Mapping[str, Any] = field(default_factory=dict)
    line: Sentence | None = None


class Kitchen(Struct, frozen=True):
    """What answering may look at: the clock, the notebook (opened on first use), and the settings.

    country: "us", "uk", "ie", "ca", "au" or "nz". units: "us" or "metric". folder: where files that the person names
    are written, None for the current one.
    """

    now: Callable[[], datetime]
    notebook: Callable[[], Notebook]
    country: str = "us"
    units: str = "us"
    settings: Mapping[str, str] = field(default_factory=dict)
    folder: Path | None = None


class Outcome(Struct, frozen=True):
    """An answer and what the conversation should remember of it.

    plan: the batch as it now stands, where it changed; meal: likewise what it is served for. pending: set where the answer asks back.
    settings: settings to keep. undoable: whether the notebook was written (undo must take it back there too).
    back: 1 to go back to the batch before the last change, -1 to the first one. amends: the plan is the one of
    before, changed, and not another batch. clears: nothing stands on the table any more. keeps: what the topic keeps for itself (None: as it was).
    """

    answer: Answer
    plan: Any = None
    pending: Pending | None = None
    settings: Mapping[str, str] = field(default_factory=dict)
    undoable: bool = False
    back: int = 0
    amends: bool = False
    clears: bool = False
    meal: Any = None
    keeps: Any = None


class Unclear(Struct, frozen=True):
    """A request that lacks something: the question that it earns."""

    question: str


class Topic(Protocol):
    """One kind of request."""

    name: str
    examples: tuple[str, ...]
    passes: frozenset[str]
    """Cues that mean nothing further where this topic is the one that reads the line."""

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """The sentence as a request of this topic, or None."""

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The answer to a request of this topic."""


def used(*phrases: Phrase | None) -> frozenset[Phrase]:
    """A set of the phrases that are there."""
    return frozenset(phrase for phrase in phrases if phrase is not None)


def pending_for(talk: Talk, topic: str) -> Pending | None:
    """The question that a topic asked back, if the last turn was that."""
    return talk.pending if talk.pending is not None and talk.pending.topic == topic else None


def answered(
    topic: str, understood: str, headline: str, figures: tuple[Figure, ...] = (), notes: tuple[str, ...] = ()
) -> Answer:
    """A plain answer: one line, its figures and what to know about them."""
    return Answer(understood, Status.ANSWERED, topic, headline, figures=figures, notes=notes)


def ended(topic: str, understood: str, status: Status, message: str) -> Outcome:
    """A question, a refusal or an explanation, and nothing else changed."""
    return Outcome(Answer(understood, status, topic, message=message))
