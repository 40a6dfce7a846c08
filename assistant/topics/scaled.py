"""A batch weighed out in the steps of a scale that the line names: "… to the nearest 5 g", "on a 1/4 oz scale"."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, CutName, Phrase
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.request import Plan

NAME = "scaled"
_STEP = Pattern(
    r"\b(?:rounded\s+(?:off\s+)?to|(?:weighed\s+)?to)\s+(?:the\s+)?nearest\s+(?P<nearest>[^,.;?]*)|\brounded\s+(?:off\s+)?to\s+(?P<rounded>[^,.;?]*)"
    r"|\bin\s+(?:steps\s+of\s+)(?P<steps>[^,.;?]*)|\bin\s+(?P<in>\S+\s*\S*)\s+steps\b"
    r"|(?:\b(?:and|on|with|my|our|the|a|this|kitchen|digital)\s+)*\bscales?\s+(?:that\s+|which\s+|only\s+|just\s+|always\s+)*"
    r"(?:shows?|reads?|displays?|goes|go|weighs?|measures?|steps?|counts?|resolution|is|in|has|have|does)\b"
    r"(?:\s+(?:is|are|only|just|up|down|to|in|by|of|the|nearest|every|each|steps?|a|resolution))*(?P<shows>\s[^,.;?]*)"
    r"|\bon\s+an?\s+(?P<on>\S+\s*\S*)\s+scale\b|\bon\s+a\s+scale\s+(?:of|with|that\s+shows)\s+(?P<scale>[^,.;?]*)",
    re.IGNORECASE,
)
_ONE = (
    (Pattern(r"\s*(?:whole\s+|full\s+)?(?:gram|g)\b", re.IGNORECASE), "g"),
    (Pattern(r"\s*(?:whole\s+|full\s+)?(?:ounce|oz)\b", re.IGNORECASE), "oz"),
)
_FINEST, _COARSEST = Fraction(1, 100), Fraction(500)


class Scaled(Struct, frozen=True):
    """A batch and the grams that the scale shows."""

    plan: Any
    step: Fraction


class ScaledTopic:
    """The topic of weights on a named scale."""

    name = NAME
    examples = ("3 lb at 80/20 from brisket trim and round, to the nearest 1/4 oz",)
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A batch, or the one on the table, with the step of the scale."""
        said = _STEP.search(sentence.text)
        if said is None:
            return None
        taken = within.overlapping(sentence, said.start(), said.end())
        # what the scale shows is no step where it is the weight of some meat: "the scale shows 400 g of brisket"
        step = None if any(isinstance(phrase, CutName) for phrase in taken) else _grams(said, taken)
        if step is None or not _FINEST <= step <= _COARSEST:
            return None
        plan = within.plan_of(within.without(sentence, taken), talk)
        batch = getattr(plan.request, "plan", plan.request) if plan is not None else None
        if plan is not None and isinstance(batch, Plan) and batch.items:
            return Reading(Scaled(plan.request, step), plan.used | taken, 3)
        if said["shows"]:
            # said alone it is the scale from now on, which is a setting
            return None
        rest = [phrase for phrase in sentence.substance() if phrase not in taken]
        return Reading(Scaled(talk.plan, step), taken, 3) if talk.plan is not None and not rest else None

    def answer(self, request: Scaled, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The plan's answer, in whole steps of that scale."""
        settings = {**kitchen.settings, "scale_grams": str(request.step)}
        return within.answered(request.plan, replace(kitchen, settings=settings), talk)


def _grams(said: re.Match[str], taken: frozenset[Phrase]) -> Fraction | None:
    amounts = [p for p in taken if isinstance(p, Amount) and p.kind == "weight"]
    if len(amounts) == 1:
        return units.grams(amounts[0].measure.value, amounts[0].measure.unit)
    words = next((text for text in said.groups() if text), "")
    unit = next((unit for pattern, unit in _ONE if pattern.match(words)), "")
    return units.grams(1, unit) if unit and not amounts else None


TOPIC = ScaledTopic()
