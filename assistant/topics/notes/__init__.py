"""The notebook in words: saving, showing, rating, comparing, and cooking a saved batch again."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.notes.reading import read as read_line


class NotesTopic(Struct, frozen=True):
    """The topic of the notebook."""

    name: str = "notes"
    examples: tuple[str, ...] = (
        "save that as fair stall",
        "fair stall again for 4 kg",
        "rate the last one 7, crust great",
        "compare the last two",
        "show my saved batches",
        "what should I try next?",
    )
    passes: frozenset[str] = frozenset(["this", "what", "yes", "thanks", "praise", "hello", "help", "more", "have"])

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A request of the notebook."""
        return read_line(sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """What the notebook did or said."""
        from assistant.topics.notes.answering import answer

        return answer(request, kitchen, talk)


TOPIC = NotesTopic()
