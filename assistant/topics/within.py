"""A batch within another request: "topside 75%, brisket 25%, 2 kg. Save it as Sunday mix." holds a plan and a saving.

The topic that owns the line takes its own words out and hands the rest to the plan, as if it had been said alone.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

from msgspec.structs import replace

from assistant.language.phrases import Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan import TOPIC as PLAN


def without(sentence: Sentence, taken: Collection[Phrase]) -> Sentence:
    """The sentence without some of its phrases; every character keeps its place, as the plan reads between phrases."""
    text = sentence.text
    for phrase in taken:
        text = text[: phrase.first] + " " * (phrase.last - phrase.first) + text[phrase.last :]
    return replace(sentence, text=text, phrases=tuple(p for p in sentence.phrases if p not in taken))


def plan_of(sentence: Sentence, talk: Talk) -> Reading | None:
    """The sentence as a batch or a change to the one on the table; what the plan passes over counts as used."""
    if not any(True for _ in sentence.substance()):
        return None
    read = PLAN.read(sentence, replace(talk, pending=None))
    if read is None:
        return None
    passed = {word for word in sentence.words("cue") if word.payload in PLAN.passes}
    return replace(read, used=read.used | passed)


def answered(request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The plan's own answer."""
    return PLAN.answer(request, kitchen, talk)


def overlapping(sentence: Sentence, first: int, last: int) -> frozenset[Phrase]:
    """The phrases that stand at least partly in a stretch of the text."""
    return frozenset(p for p in sentence.phrases if p.first < last and p.last > first)


def names(sentence: Sentence) -> list[Word]:
    """The names of batches in the line, new ones and known ones."""
    return sentence.words("name")


def cues(sentence: Sentence, wanted: Iterable[str]) -> frozenset[Phrase]:
    """All words of the given cues."""
    wanted = set(wanted)
    return frozenset(word for word in sentence.words("cue") if word.payload in wanted)
