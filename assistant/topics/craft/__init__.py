"""The handiwork: shaping, mixing, packing, turning, and what went wrong with a burger. Said in words, without a batch."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.language.phrases import Amount, Count, Fatness, Patties, People, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.craft.advice import ADVICE, DRIPS, LABEL, SOURCE, Advice

NAME: Final = "craft"
_ASKS_OR_COMPLAINS = Pattern(
    r"\?|^(?:so |and |but |ok |hey |um |hi )*(?:how|why|what|when|which|should|shall|do|does|can|could|is|are|best|any)\b"
    r"|\b(?:keeps?|kept|why|came out|come out|turn(?:s|ed)? out|wont|won't|don't|dont|fall\w*|fell|too|always|are|is|gets?"
    r"|my|stick\w*|puff\w*)\b"
)
_ELSEWHERE: Final = ("temp", "counter", "thaw", "refreeze", "cook_time", "smell", "timer", "part_cook", "ago")
"""Words of heat, time out and thawing: those answers come with figures."""


class Craft(Struct, frozen=True):
    """What is asked: the `about` of a piece of advice."""

    about: str


class CraftTopic:
    """Questions of the hand."""

    name = NAME
    examples = ("Why do my burgers fall apart?", "Do I put paper between patties?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question or a complaint without any figure in it."""
        if _has_figures(sentence):
            return None
        text = sentence.text.lower()
        if not _ASKS_OR_COMPLAINS.search(text):
            return None
        found = _asked(text)
        if found is None:
            return None
        advice, first, last = found
        if sentence.has(*_ELSEWHERE) and advice.about != DRIPS:
            return None
        if talk.plan is not None and advice.about == LABEL:
            return None
        within = {word for word in sentence.of(Word) if first <= word.first < last}
        return Reading(Craft(advice.about), heard.plain_words(sentence, weights=False) | within, 2)

    def answer(self, request: Craft, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The advice, its reason and the reminders that touch it."""
        del talk
        advice = _advice(request.about)
        return verdict.told(
            NAME,
            advice.about,
            advice.says,
            cautions=verdict.with_meat(heard.Meat(), kitchen, advice.touches),
            notes=[advice.because, f"Source: {SOURCE}."],
            working=(f"{advice.about}: {SOURCE}.",),
        )


def _asked(text: str) -> tuple[Advice, int, int] | None:
    """The advice that the line asks for, and from where to where it does; by its own title before all others."""
    for advice in ADVICE:
        at = text.find(advice.about.lower())
        if at >= 0:
            return advice, at, at + len(advice.about)
    for advice in ADVICE:
        said = advice.asks.search(text)
        if said is not None:
            return advice, said.start(), said.end()
    return None


def _has_figures(sentence: Sentence) -> bool:
    return any(_is_figure(phrase) for phrase in sentence.phrases)


def _is_figure(phrase: Phrase) -> bool:
    if isinstance(phrase, Patties | People):
        return phrase.count is not None
    return isinstance(phrase, Amount | Count | Fatness | PerEach | Rate)


def _advice(about: str) -> Advice:
    return next(advice for advice in ADVICE if advice.about == about)


TOPIC = CraftTopic()
