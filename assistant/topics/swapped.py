"""Two meats told the wrong way about: "it is the other way round", "swap the two weights"."""

from __future__ import annotations

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from assistant.answer import Status
from assistant.language.phrases import CutName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, ended
from assistant.topics.plan.request import Item, Plan

NAME: Final = "swapped"
_AROUND = Pattern(
    r"\b(?:the )?other way (?:a?round|about)\b|\bvice versa\b|\b(?:wrong|opposite) way (?:a?round|about)\b"
    r"|\bgot (?:them|that|those|it) (?:backwards|mixed up|the wrong way)\b|\bswap the (?:two )?(?:weights|amounts|figures|numbers)\b"
)


class Swapped(Struct, frozen=True):
    """The batch with the figures of its two meats exchanged; None where it has not two to exchange."""

    plan: Plan | None


class SwappedTopic:
    """The topic of meats told the wrong way about."""

    name = NAME
    examples = ("no, it is the other way round",)
    passes: frozenset[str] = frozenset(("correction", "this", "not", "swap", "want", "yes"))

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """No figure and no meat in the line, and a batch on the table; "round" is part of the saying."""
        said = _AROUND.search(sentence.text.lower()) if isinstance(talk.plan, Plan) else None
        if said is None:
            return None
        cuts = [cut for cut in sentence.of(CutName) if not said.start() <= cut.first < said.end()]
        if cuts or any(not isinstance(phrase, Word | CutName) for phrase in sentence.phrases):
            return None
        return Reading(Swapped(_exchanged(talk.plan)), frozenset(sentence.phrases), 3)

    def answer(self, request: Swapped, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The batch worked out anew, or the question what was meant."""
        if request.plan is None:
            question = "What is the other way round? Name the meats with their weights or shares."
            return ended("blend", "The other way round", Status.NEEDS_DETAIL, question)
        from assistant.topics.plan import answers

        return replace(answers.answer(request.plan, kitchen, talk), amends=True)


TOPIC = SwappedTopic()


def _exchanged(plan: Plan) -> Plan | None:
    told = [item for item in plan.items if _is_told(item)]
    if len(plan.items) != 2 or len(told) != 2:
        return None
    first, second = plan.items
    return replace(plan, items=(_with_those_of(first, second), _with_those_of(second, first)))


def _is_told(item: Item) -> bool:
    return item.weight is not None or item.share is not None or item.parts is not None


def _with_those_of(item: Item, other: Item) -> Item:
    return replace(
        item,
        weight=other.weight,
        weight_is=other.weight_is,
        share=other.share,
        share_is=other.share_is,
        parts=other.parts,
    )
