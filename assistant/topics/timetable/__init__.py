"""Work backwards from serving: when to buy, thaw, cube, grind, form, salt and cook, in clock times and dates."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from assistant.answer import Status
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Unclear, ended
from assistant.topics.timetable import answers, reading


class TimetableTopic(Struct, frozen=True):
    """The topic of the day's timetable."""

    name: str = reading.NAME
    examples: tuple[str, ...] = (
        "serving 60 at one o'clock on Saturday",
        "timetable for that, serving at 1 pm on Saturday",
    )
    passes: frozenset[str] = frozenset(
        [
            "want",
            "have",
            "what",
            "when",
            "yes",
            "thanks",
            "praise",
            "hello",
            "into",
            "this",
            "coming",
            "everyone",
            "mix",
        ]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A meal to work back from, or a change to the one on the table."""
        return reading.read(sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The timetable, or the one question that is missing."""
        if isinstance(request, Unclear):
            return ended(self.name, "", Status.NEEDS_DETAIL, request.question)
        return answers.answer(request, kitchen, talk)


TOPIC = TimetableTopic()
