"""A bill for meat in one line: so much at so much, with a rise or a discount, whole packs, shared out or held to a sum."""

from __future__ import annotations

from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.till import reading, sums
from assistant.topics.till.request import NAME, Bill


class TillTopic:
    """The topic of a bill."""

    name = NAME
    examples = ("16 kg at £7.95 for 96 guests: total and per guest?",)
    passes = reading.PASSED

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """A price and what it is counted on, and no figure beside it that a bill does not have."""
        return reading.read(sentence)

    def answer(self, request: Bill, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The bill added up."""
        return sums.answer(request, kitchen)


TOPIC = TillTopic()
