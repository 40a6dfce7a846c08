"""Converting: weights, volumes, lengths, temperatures, times, prices per unit, and spoons of a named thing.

What is exact stays exact; what rests on a typical weight of a spoonful says on which. Money is never exchanged.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.convert import compare, rates
from assistant.topics.convert.reading import (
    PASSES,
    read_conversion,
    read_next_amount,
    read_other_units,
    read_patty,
    read_price,
    read_reply,
)
from assistant.topics.convert.request import NAME, Conversion

_OTHER_UNITS = Pattern(r"^\W*(?:and\s+)?in\s+(?:lbs?|pounds?|oz|ounces)(?:\s+and\s+(?:oz|ounces))?\W*$", re.IGNORECASE)


class Convert:
    """The topic of conversions."""

    name = NAME
    examples = (
        "3 lb 6 oz in grams",
        "1 tbsp smoked paprika in grams",
        "7.5 g cayenne in tsp",
        "71 C in F",
        "£9.80 a kilo per lb",
    )
    passes = PASSES

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A conversion, the reply to a question of ours, or other units for the last one."""
        if talk.plan is not None and _OTHER_UNITS.match(sentence.text):
            # "in lb and oz" of the batch on the table
            return None
        if talk.plan is not None and sentence.phrases and sentence.phrases[0] in sentence.words("pereach"):
            # "each must weigh 6 oz"
            return None
        wanted = (
            compare.read_compared(sentence)
            or rates.read_rate(sentence)
            or read_reply(sentence, talk)
            or read_price(sentence)
            or read_conversion(sentence)
        )
        if wanted is None and talk.plan is None:
            wanted = read_patty(sentence)
        if wanted is not None and sentence.has("new_batch"):
            # "forget all that. what's 3 lb in grams": what is wanted now is said in full
            return replace(wanted, strength=wanted.strength + 1)
        return wanted or read_next_amount(sentence, talk) or read_other_units(sentence, talk)

    def answer(
        self,
        request: Conversion | compare.Compared | rates.Rated | rates.Leanness | rates.PartOf,
        kitchen: Kitchen,
        _talk: Talk,
    ) -> Outcome:
        """The converted amount with its range and source, or what is missing."""
        if isinstance(request, compare.Compared):
            return compare.answer(request, kitchen)
        if isinstance(request, rates.Rated | rates.Leanness | rates.PartOf):
            return rates.answer(request)
        from assistant.topics.convert import answers

        return answers.answer(request, kitchen)


TOPIC = Convert()
