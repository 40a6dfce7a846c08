"""Is it all right? Time out of the fridge, looks and smell, hands, tools and cleanliness, and who is at risk.

The rules without a number to judge are a table (rulings.py), the time out of the fridge is judged against the two-hour
rule (out.py). Nothing here gives leave against a published rule.
"""

from __future__ import annotations

import re

from msgspec import Struct

from assistant.language.phrases import CutName, Patties, Word
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.safe import bleach, out, ruled
from assistant.topics.safe.bleach import Sanitiser
from assistant.topics.safe.out import OutTime
from assistant.topics.safe.ruled import Ruled

PLAIN = frozenset({"is_it_ok", "safe", "yes", "this", "mix", "have", "raw", "fridge", "what", "when", "more"})
"""Cues of a line that says nothing to judge by."""


class Vague(Struct, frozen=True):
    """ "Is it still ok?" with nothing to judge by."""


class SafeTopic:
    """Is it all right?"""

    name = "safe"
    examples = ("The patties were out for 90 minutes at 97 F, still ok?", "Is pink in the middle ok?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question of safety, a time out of the fridge, or the reply to what was asked back."""
        return out.read(sentence, talk) or bleach.read(sentence) or ruled.read(sentence, talk) or _vague(sentence, talk)

    def answer(self, request: Ruled | OutTime | Sanitiser | Vague, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The verdict, its figure, its reason and the reminders."""
        if isinstance(request, OutTime):
            return out.answer(request, kitchen)
        if isinstance(request, Sanitiser):
            return bleach.answer(request, kitchen)
        if isinstance(request, Vague):
            question = "What is it, and how long has it been in the fridge or out of it? For example: mince, 2 days in the fridge."
            return verdict.ask_back("safe", "Is it still ok?", question, request, "how long")
        return ruled.answer(request, kitchen)


def _vague(sentence: Sentence, talk: Talk) -> Reading | None:
    """A bare "is it still ok?", also of "the mince", with no time and no place."""
    if not sentence.has("is_it_ok", "safe") and not (sentence.has("yes") and sentence.text.strip().endswith("?")):
        return None
    if not (sentence.has("is_it_ok") or heard.asks_leave(sentence)) or sentence.has(*heard.PLANNING, "freezer", "temp"):
        return None
    said = [phrase for phrase in sentence.substance() if not isinstance(phrase, Word | CutName | Patties)]
    outright = sentence.has("is_it_ok") or re.search(r"\b(off|bad|safe|spoil\w*|rotten)\b", sentence.text.lower())
    if said or (sentence.unknown and not outright) or not sentence.cues <= PLAIN:
        return None
    return Reading(Vague(), heard.plain_words(sentence), 2 if outright else 1)


TOPIC = SafeTopic()
