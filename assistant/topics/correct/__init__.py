"""Putting a batch right that is already ground: what to add, or to take out and replace, with what there is of it.

It only reads: the batch, its fat and salt, the fat that is wanted and what may go in become a plan, which the plan's
own topic answers and carries on.
"""

from __future__ import annotations

from typing import Any

from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.correct.reading import correction
from assistant.topics.plan import TOPIC as PLAN


class CorrectTopic:
    """The topic of corrections."""

    name = "correct"
    examples = (
        "4 lb of 90/10 is salted at 1%, want 80/20, add suet at 95%, I only have 3 oz",
        "keep the weight: 2 kg mince at 30% fat, swap some for topside at 5%, want 20%",
    )
    passes: frozenset[str] = PLAN.passes | {"keep_weight", "already_salted", "how_much", "left_with", "instead", "drop"}

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A batch with its fat, a fat that is wanted, and what to bring it there with."""
        del talk
        found = correction(sentence)
        return None if found is None else Reading(found[0], found[1], 2)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The correction, worked out by the plan."""
        return PLAN.answer(request, kitchen, talk)


TOPIC = CorrectTopic()
