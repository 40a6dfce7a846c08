"""On paper: the batch as a recipe card, a label for the freezer, the timetable as calendar entries."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.card import reading


class CardTopic(Struct, frozen=True):
    """The topic of what is written down."""

    name: str = reading.NAME
    examples: tuple[str, ...] = ("write that down", "save that as supper.md", "save it as supper.ics", "label for that")
    passes: frozenset[str] = frozenset(["want", "have", "yes", "thanks", "praise", "into", "what", "help", "more"])

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A card, a label or a calendar file."""
        return reading.read(sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The page shown, or written where the person named a file."""
        from assistant.topics.card import answers  # what writes a page is loaded by who asks for one

        return answers.answer(request, kitchen, talk)


TOPIC = CardTopic()
