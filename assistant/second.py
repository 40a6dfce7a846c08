"""The question that a line asks besides: an answer to one of two says which one it leaves out.

A part of the line is another question where it opens as one, another topic reads it outright by itself, and the line
without it is understood just the same: it gave the answer nothing.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.answer import Answer
from assistant.language.phrases import Word
from assistant.language.sentence import Sentence
from assistant.language.sentence import read as read_sentence
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Topic

_ASKS = r"(?:what|whats|what's|how|when|is|are|can|could|do|does|should|will|would|which|where|why|may|must)\b"
_BREAK = Pattern(rf"(?<=[?.;!])\s+|,?\s+(?:and|also|plus|&)\s+(?:also\s+|then\s+)?(?={_ASKS})|,\s+(?={_ASKS})")
_QUESTION = Pattern(rf"\W*(?:and |also |so |then )*{_ASKS}")
_SURE = 2
"""From this strength on a topic says outright that a line is its own."""

_PLAIN = frozenset(
    (
        *(
            "what",
            "how_long",
            "how_much",
            "how_many",
            "is_it_ok",
            "safe",
            "is_enough",
            "yes",
            "not",
            "this",
            "why",
            "when",
        ),
        *(
            "temp",
            "more",
            "bigger",
            "smaller",
            "repeat",
            "time_left",
            "mix",
            "in_grinder",
            "want",
            "have",
            "works_out",
            "next_step",
            "rest",
            "at_once",
        ),
    )
)
"""Cues of a question that leaves open what it is about."""

Choose = Callable[[str], tuple[Topic, Reading] | None]


def left_out(sentence: Sentence, topic: Topic, read: Reading, answer: Answer, choose: Choose) -> list[str]:
    """The questions of the line that the answer does not touch. choose: the topic that reads a text best, with nothing
    said before it; None where nobody does, or a word of it is not understood."""
    parts = _parts(sentence.text)
    if len(parts) < 2:
        return []
    found = []
    for part in parts:
        if not _QUESTION.match(part.lower()):
            continue
        other = choose(part)
        if other is None or other[0].name == topic.name or other[1].strength < _SURE:
            continue
        if not _has_matter(part):
            continue
        if other[0].name == "cook" and any(caution.topic.startswith("cook_temp") for caution in answer.cautions):
            # the reminder says it
            continue
        if topic.name == "ready" and part.lower().startswith("when"):
            # "in the freezer at two for half an hour, when do I take it out" is what was answered
            continue
        rest = choose(sentence.text.replace(part, " "))
        if rest is not None and rest[0].name == topic.name and rest[1].request == read.request:
            found.append(part.strip(" ,.;"))
    return found


def _has_matter(part: str) -> bool:
    """Whether a question names what it is about: "is that ok" and "what temp" belong to what was said before them."""
    sentence = read_sentence(part)
    named = any(not isinstance(phrase, Word) for phrase in sentence.phrases)
    return named or not sentence.cues <= _PLAIN


def _parts(text: str) -> list[str]:
    """The line, cut where another question may begin."""
    parts, start = [], 0
    for match in _BREAK.finditer(text):
        parts.append(text[start : match.start()])
        start = match.end()
    return [part for part in (*parts, text[start:]) if part.strip(" ,.;?!")]
