"""How many burgers a sum of money buys at so much each: "£120 kitty, burgers £1.35 each, how many?"."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Patties, People, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.prices import telling

NAME: Final = "afford"
_BURGERS = Pattern(r"\b(?:burgers?|hamburgers?|patty|patties)\b", re.IGNORECASE)
_MOST: Final = 100_000
"""Burgers: more are no kitchen's."""


class Afford(Struct, frozen=True):
    """So much money, and what one burger costs."""

    money: Fraction
    each: Fraction
    currencies: tuple[str, str]


class AffordTopic:
    """The topic of burgers for a sum."""

    name = NAME
    examples = ("£120 in the kitty, burgers £1.35 each, how many?",)
    passes: frozenset[str] = frozenset(
        ("how_many", "budget", "have", "cost", "what", "this", "make_it", "want", "works_out", "for_that")
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """One sum, one price each, and nothing else that is counted or weighed."""
        sums = [a for a in sentence.of(Amount) if a.kind == "money"]
        each = [p for p in sentence.of(PerEach) if p.kind == "money"]
        counts = [p.count for p in sentence.of(Patties)] + [p.count for p in sentence.of(People)]
        named = [count for count in counts if count is not None]
        others = [p for p in sentence.phrases if isinstance(p, Amount | Count | PerEach | Rate | CutName)]
        about = bool(sentence.of(Patties)) or _BURGERS.search(sentence.text) is not None
        asked = sentence.has("how_many", "budget")
        if len(sums) != 1 or len(each) != 1 or len(others) != 2 or named or not (about and asked):
            return None
        request = Afford(sums[0].measure.value, each[0].measure.value, (sums[0].measure.unit, each[0].measure.unit))
        used: set[Phrase] = {*sums, *each, *sentence.of(Patties)}
        plain = {word for word in sentence.of(Word) if word.kind == "unknown" and word.text.lower() == "kitty"}
        return Reading(request, heard.all_of([*used, *plain]), 3)

    def answer(self, request: Afford, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The whole burgers, and the change."""
        currency = telling.currency(request.currencies, kitchen)
        said = f"How many burgers {wording.money(request.money, currency or request.currencies[0])} buys at "
        said += f"{wording.money(request.each, currency or request.currencies[1])} each"
        if not currency:
            return verdict.told(telling.TOPIC_NAME, said, telling.TWO_MONEYS, status=Status.IMPOSSIBLE)
        if request.each <= 0 or request.money < 0 or request.money / request.each > _MOST:
            return verdict.told(telling.TOPIC_NAME, said, "That is no price for a burger.", status=Status.IMPOSSIBLE)
        count = int(request.money / request.each)
        change = request.money - count * request.each
        return verdict.told(
            telling.TOPIC_NAME,
            said,
            f"{count} burgers, and {wording.money(change, currency)} left.",
            figures=(
                Figure("burgers", Role.PATTY_COUNT, float(count), "count", shown=str(count)),
                telling.money("spent", Role.COST, count * request.each, currency),
                telling.money("left of the money", Role.COST, change, currency),
            ),
            working=(
                f"{wording.money(request.money, currency)} over {wording.money(request.each, currency)}, whole ones.",
            ),
        )


TOPIC = AffordTopic()
