"""Learning a cut's own fat: from visible fat cut off and weighed, or from a sample cooked out; and keeping the figure."""

from __future__ import annotations

from assistant.answer import Status
from assistant.language.sentence import Sentence
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.learn.reading import SMALL, read
from assistant.topics.learn.request import NAME, HowTo, Keep, Weighed


class LearnTopic:
    """The topic of a cut's own fat."""

    name = NAME
    examples = (
        "I trimmed 300 g of fat off a 2 kg brisket",
        "cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered",
        "how can I find out how fat my trim is?",
    )
    passes = SMALL

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Something weighed, how to weigh it, what was asked back, or "remember that" after it."""
        return read(sentence, talk)

    def answer(self, request: Weighed | HowTo | Keep, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The fat with its range, the steps, or what was kept; asks for a weight that is missing."""
        from assistant.topics.learn.telling import keep_figure, missing, steps_to_weigh, told, understood
        from assistant.topics.learn.weighing import worked_out

        if isinstance(request, HowTo):
            return steps_to_weigh(request, kitchen)
        if isinstance(request, Keep):
            return keep_figure(request, kitchen)
        lacking = missing(request)
        if lacking is not None:
            return verdict.ask_back(NAME, understood(request), lacking[1], request, lacking[0])
        found = worked_out(request, kitchen)
        if isinstance(found, str):
            return verdict.told(NAME, understood(request), found, status=Status.IMPOSSIBLE)
        return told(request, found, kitchen)


TOPIC = LearnTopic()
