"""Seasonings told by two phrases: percents of the meat, which is 100."""

from __future__ import annotations

from assistant.language.phrases import Amount, Count, Measure, Phrase, SeasoningName
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_whole


def meat_is_a_hundred(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Meat is 100, salt 1.8, pepper 0.4", "100% meat, 2% salt": percents of the meat."""
    if not sentence.of(SeasoningName):
        return
    for at in range(len(phrases) - 1):
        pair = phrases[at : at + 2]
        meat = next((phrase for phrase in pair if is_cue(phrase, "mix")), None)
        hundred = next((phrase for phrase in pair if _is_a_hundred(phrase)), None)
        if meat is None or hundred is None or "meat" not in meat.text.lower():
            continue
        del phrases[at : at + 2]
        for place in range(len(phrases) - 1):
            name, count = phrases[place : place + 2]
            if isinstance(name, SeasoningName) and isinstance(count, Count) and not count.piece:
                measure = Measure(count.value, "percent")
                phrases[place + 1] = Amount(count.first, count.last, count.text, "percent", measure)
        return


def _is_a_hundred(phrase: Phrase) -> bool:
    if isinstance(phrase, Amount):
        return is_percent(phrase) and phrase.measure.value == 100
    return is_whole(phrase) and phrase.value == 100
