"""Work backwards from serving: when to buy, thaw, cube, grind, form, salt and cook, in clock times and dates.

What reads and answers is loaded for the first line that speaks of a time: a blend need not wait for it.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from assistant.answer import Status
from assistant.language.phrases import Amount, Count, Moment, PerEach, Phrase
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Unclear, ended

NAME = "timetable"
_SPEAKS_OF_TIME = ("timetable", "start_when", "serve", "feeding")


class TimetableTopic(Struct, frozen=True):
    """The topic of the day's timetable."""

    name: str = NAME
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
        mine = talk.meal is not None or (talk.pending is not None and talk.pending.topic == NAME)
        if not (mine or sentence.has(*_SPEAKS_OF_TIME) or any(_may_be_a_time(phrase) for phrase in sentence.phrases)):
            return None
        from assistant.topics.timetable import reading

        return reading.read(sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The timetable, or the one question that is missing."""
        if isinstance(request, Unclear):
            return ended(self.name, "", Status.NEEDS_DETAIL, request.question)
        from assistant.topics.timetable import answers

        return answers.answer(request, kitchen, talk)


def _may_be_a_time(phrase: Phrase) -> bool:
    return isinstance(phrase, Moment | Count | PerEach) or (isinstance(phrase, Amount) and phrase.kind == "duration")


TOPIC = TimetableTopic()
