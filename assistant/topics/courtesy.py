"""Small talk: a short polite reply, and only where nothing else is in the line."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.answer import Answer, Status
from assistant.language.phrases import Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME: Final = "courtesy"

_ORDER: Final = ("bye", "thanks", "praise", "sorry", "who_are_you", "how_are_you", "hello", "yes", "no")
"""What is answered where a line holds several: a goodbye outlives the thanks before it."""

_REPLIES: Final = {
    "bye": "Goodbye. Clean the grinder while it is still easy.",
    "thanks": "You are welcome.",
    "praise": "Good to hear.",
    "sorry": "No harm done.",
    "who_are_you": "A kitchen helper for people who grind their own meat: a program, not a person.",
    "how_are_you": "All well here. What are we grinding?",
    "hello": "Hello. What are we grinding?",
    "yes": "Good. Nothing was left open; what comes next?",
    "no": "Right. Nothing was changed; what comes next?",
}
_UNDERSTOOD: Final = {
    "bye": "Goodbye",
    "thanks": "Thanks",
    "praise": "Good job",
    "sorry": "Apologies",
    "who_are_you": "Who are you",
    "how_are_you": "How are you",
    "hello": "Hello",
    "yes": "Yes",
    "no": "Nope",
}
_FILLERS: Final = frozenset(("what", "this", "correction"))


class Courtesy(Struct, frozen=True):
    """What was said, by its cue."""

    kind: str


class CourtesyTopic:
    """The topic of hellos, thanks and goodbyes."""

    name = NAME
    examples = ("hello", "thanks", "goodbye")
    passes = frozenset((*_ORDER, *_FILLERS))

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Small talk alone in its line; a yes or no to an open question is for who asked it."""
        if any(not isinstance(phrase, Word) for phrase in sentence.phrases):
            return None
        if any(word.kind in ("badnum", "name") for word in sentence.phrases if isinstance(word, Word)):
            return None
        cues = sentence.words("cue")
        refusal = [word for word in cues if word.payload == "not" and word.text.lower() == "no"]
        if any(word.payload not in self.passes and word not in refusal for word in cues):
            return None
        kinds = {"no" if word in refusal else _kind(word) for word in cues}
        kind = next((name for name in _ORDER if name in kinds), "")
        if not kind or (kind in ("yes", "no") and talk.pending is not None):
            return None
        unexplained = len(sentence.unknown)
        return Reading(Courtesy(kind), frozenset(cues), 0 if unexplained else 1)

    def answer(self, request: Courtesy, _kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The reply; no figures."""
        return Outcome(
            Answer(
                understood=_UNDERSTOOD[request.kind],
                status=Status.ANSWERED,
                topic=NAME,
                message=_REPLIES[request.kind],
            )
        )


def _kind(word: Word) -> str:
    """A "sorry" before anything else corrects it; alone in its line it is an apology."""
    return "sorry" if word.payload == "correction" and "sorry" in word.text.lower() else word.payload


TOPIC = CourtesyTopic()
