"""A follow-up in the reading: what it says, what is accounted for, and the batch on the table."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Fatness, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Unclear
from assistant.topics.plan.choice import Choice
from assistant.topics.plan.request import Plan


class Missing(Struct, frozen=True):
    """A question whose answer goes on from the batch as it is. missing: what, in the words of Pending."""

    question: str
    missing: str


class Line(Struct, frozen=True):
    """A follow-up being read. plan: what it says by itself; used: phrases accounted for; old: the batch on the table;
    settled: that batch as the line leaves it, where a step has worked it out whole."""

    plan: Plan
    used: frozenset[Phrase]
    sentence: Sentence
    old: Plan
    settled: Plan | None = None


Step = Line | Choice | Missing | Unclear


def free_figures(line: Line) -> list[Phrase]:
    """The figures of the line that nothing has taken yet."""
    return [p for p in line.sentence.phrases if isinstance(p, Amount | Count | Fatness) and p not in line.used]


def settle(line: Line, plan: Plan, *used: Phrase) -> Line:
    words = (p for p in line.sentence.phrases if isinstance(p, Word) and p.kind == "cue")
    return replace(line, settled=replace(plan, asks=line.plan.asks, too=""), used=line.used | {*used, *words})
