"""A line that was meant to change the batch and left it as it was: that is said, instead of the old answer once more.

Whoever types "the same but 40" or "a tad less salt" has heard the answer before and wants another. Where the batch on the
table comes out unchanged, the line was not understood, however many of its words were.
"""

from __future__ import annotations

from fractions import Fraction
from re import Match

from assistant.answer import Answer, Status
from assistant.language.phrases import Amount, Count, Phrase
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Outcome, Talk

_ANOTHER = Pattern(
    r"\b(a (bit|tad|touch|little|smidge|hair) (less|more|under|over)|(less|fewer|^more) \w+|how big an?|(how many|how much|any) more"
    r"|(the )?same (again )?but|what'?s left(?! over))\b"
)
"""Words for a batch other than the one that was told."""
_OF_THE_BATCH = frozenset(("weight", "money", "percent", "length"))
_NUMBER = Pattern(r"(?:(\d+) )?(\d+/[1-9]\d*)|\d+(?:\.\d+)?")


def asks_in_vain(sentence: Sentence, talk: Talk, outcome: Outcome) -> bool:
    """Whether a line asks for a change, or names a figure that is nowhere in the answer, and the batch is as before."""
    before, now = talk.planned, outcome.answer
    if before is None or talk.plan is None or outcome.plan is None or now.status is not Status.ANSWERED:
        return False
    if before.figures != now.figures or before.topic != now.topic:
        return False
    if _ANOTHER.search(sentence.text.lower()) is not None:
        return True
    told = _told(now)
    return any(figure not in told for figure in map(_figure, sentence.phrases) if figure is not None)


def _figure(phrase: Phrase) -> Fraction | None:
    """The figure of a phrase that could have changed the batch; heat and time change what is told beside it."""
    if isinstance(phrase, Count):
        return phrase.value
    if isinstance(phrase, Amount) and phrase.kind in _OF_THE_BATCH:
        return phrase.measure.value
    return None


def _told(answer: Answer) -> set[Fraction]:
    """Every figure that the answer shows, in whichever unit."""
    shown = f"{answer.understood} {answer.headline} " + " ".join(figure.shown for figure in answer.figures)
    return {_read(number) for number in _NUMBER.finditer(shown)}


def _read(number: Match[str]) -> Fraction:
    """ "1 1/2" as one figure: a batch of half a pound is told as "1/2 lb", however its weight was typed."""
    whole, part = number.groups()
    return Fraction(number.group()) if part is None else Fraction(part) + int(whole or 0)


QUESTION = "That leaves the batch as it is. What shall change, and to what?"
