"""Seasonings told by two phrases: percents of the meat, which is 100, level spoons, a spoon by its letter."""

from __future__ import annotations

from fractions import Fraction

from assistant.language.phrases import Amount, Count, Measure, Phrase, SeasoningName
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_whole, is_word


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


_SPOONS = {"unit:tsp": "tsp", "unit:tbsp": "tbsp"}


def level_spoons(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "2 level teaspoons": spoons are level unless they are said to be heaped, which is asked about."""
    for at in range(len(phrases) - 2):
        count, level, spoon = phrases[at : at + 3]
        unit = next((name for cue, name in _SPOONS.items() if is_cue(spoon, cue)), None)
        plain = isinstance(count, Count) and not count.proportion and count.high is None
        if plain and isinstance(count, Count) and unit and is_word(level, "unknown") and level.text.lower() == "level":
            text = sentence.text[count.first : spoon.last]
            phrases[at : at + 3] = [Amount(count.first, spoon.last, text, "volume", Measure(count.value, unit))]
            return


def a_spoon(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5 t sage, T mace": one, where its letter stands alone in a list of spoons."""
    spoons = any(isinstance(phrase, Amount) and phrase.kind == "volume" for phrase in phrases)
    for at in range(len(phrases) - 1):
        letter, name = phrases[at : at + 2]
        if spoons and is_word(letter, "unknown") and letter.text in ("t", "T") and isinstance(name, SeasoningName):
            measure = Measure(Fraction(1), "tsp" if letter.text == "t" else "tbsp")
            phrases[at] = Amount(letter.first, letter.last, letter.text, "volume", measure)
