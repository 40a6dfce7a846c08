"""As much a head as before for another number of people: "10 people eat 1.5 kg, how much for 34?"."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Count, Measure, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.restate import measure
from assistant.topics.plan.section import grams, in_unit

NAME = "pro_rata"
_LEADS = Pattern(
    r"(?:\b(?:for|feeds?|is|it's|its|now|to|are|serves?|have|\w+'ve|got)|[=?:,-])\s*(?:about\s+|around\s+)?$"
)
"""What stands before the number of people that are coming now."""
_PLAIN = frozenset(("catered", "before", "pro", "rata", "per", "fed", "last", "previously"))
_LIGHTEST = 200
"""Grams. A lighter weight is what one person gets. Common practice, no source."""


class ProRata(Struct, frozen=True):
    """So much meat did for so many; how much is it for so many others."""

    meat: Measure
    heads: Fraction
    others: Fraction


class ProRataTopic:
    """The topic of as much a head for other people."""

    name = NAME
    examples = ("10 people eat 1.5 kg, how much for 34?",)
    passes: frozenset[str] = frozenset(
        ("how_much", "what", "safe", "mix", "make_it", "have", "want", "total", "this", "what_about", "eats", "feeding")
        + ("into", "coming", "buy", "before", "per_day", "for_that")
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Two numbers of people and one weight of meat between them, and no other figure."""
        weights = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
        if len(weights) != 1 or grams(weights[0].measure) < _LIGHTEST or weights[0].measure.high is not None:
            return None
        numbers = [p for p in sentence.phrases if isinstance(p, People | Count)]
        heads = [(phrase, count) for phrase in numbers if (count := _heads(phrase)) is not None]
        others = [p for p in sentence.phrases if not isinstance(p, Word) and p not in numbers and p not in weights]
        if len(heads) != 2 or len(heads) != len(numbers) or others or sentence.words("pereach"):
            return None
        (first, few), (second, many) = heads
        apart = isinstance(second, People) or _LEADS.search(sentence.text[: second.first].lower()) is not None
        named = any(isinstance(p, People) for p in (first, second)) or _PRO_RATA.search(sentence.text) is not None
        asked = sentence.has("how_much", "what") or "?" in sentence.text
        if (
            weights[0].first > second.first
            or not (apart and named and asked)
            or sentence.has("fewer", "smaller", "rest")
        ):
            return None
        plain = (word for word in sentence.unknown if word.text.lower() in _PLAIN)
        return Reading(ProRata(weights[0].measure, few, many), frozenset((first, second, weights[0], *plain)), 1)

    def answer(self, request: ProRata, _kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The meat for the others, and what that is a head."""
        speak = "us" if request.meat.unit in ("lb", "oz") else "metric"
        each = grams(request.meat) / request.heads
        need = each * request.others
        unit, small = ("lb", "oz") if speak == "us" else ("kg", "g")
        said = (
            f"{measure(request.meat)} for {wording.counted(int(request.heads), 'person')}, "
            f"how much for {wording.counted(int(request.others), 'person')}?"
        )
        figures = (
            Figure("meat", Role.TOTAL, in_unit(need, unit), unit, shown=wording.both(need, speak)),
            Figure("a head", Role.PATTY_WEIGHT, in_unit(each, small), small, shown=wording.both(each, speak)),
        )
        headline = f"{wording.both(need, speak)} for {wording.counted(int(request.others), 'person')}: "
        headline += f"{wording.both(each, speak)} a head, as before."
        working = (f"{measure(request.meat)} over {request.heads}, times {request.others}.",)
        if need <= 0:
            says = "The meat has to weigh something."
            return verdict.told(NAME, said, says, status=Status.IMPOSSIBLE)
        return verdict.told(NAME, said, headline, figures=figures, working=working)


_PRO_RATA = Pattern(r"\bpro\W?rata\b|\bcater\w*|\bfed\b|\bfeeds?\b|\bserve[sd]?\b|\bpeople\b", re.IGNORECASE)


def _heads(phrase: Phrase) -> Fraction | None:
    """How many people a phrase counts; None for a piece, a range or people without a number."""
    count = phrase.count if isinstance(phrase, People) else phrase
    if not isinstance(count, Count) or count.piece or count.proportion or count.high is not None:
        return None
    return count.value if count.value.denominator == 1 and count.value > 1 else None


TOPIC = ProRataTopic()
