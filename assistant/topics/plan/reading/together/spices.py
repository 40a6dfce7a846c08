"""Seasonings told by two phrases: percents of the meat, which is 100, level spoons, a spoon by its letter."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Measure, Phrase, Rate, Scale, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_whole, is_word


def meat_is_a_hundred(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Meat is 100, salt 1.8, pepper 0.4", "100% meat, 2% salt", "per hundred of meat 1.8 salt": percents of the meat."""
    if not sentence.of(SeasoningName):
        return
    for at in range(len(phrases) - 1):
        end = at + 3 if is_word(phrases[at + 1], "of") else at + 2
        group = [phrase for phrase in phrases[at:end] if not is_word(phrase, "of")]
        meat = next((phrase for phrase in group if is_cue(phrase, "mix", "meat_only")), None)
        hundred = next((phrase for phrase in group if _is_a_hundred(phrase)), None)
        if meat is None or hundred is None or "meat" not in meat.text.lower():
            continue
        start = at - 1 if at and phrases[at - 1].text.lower() in ("against", "per", "to", "for") else at
        del phrases[start:end]
        _in_percent(phrases)
        return


def _in_percent(phrases: list[Phrase]) -> None:
    """Every bare number beside a seasoning as a percent."""
    for place, count in enumerate(phrases):
        beside = [p for p in (place - 1, place + 1) if 0 <= p < len(phrases) and isinstance(phrases[p], SeasoningName)]
        if beside and isinstance(count, Count) and not count.piece and not count.proportion:
            phrases[place] = Amount(count.first, count.last, count.text, "percent", Measure(count.value, "percent"))


_DOWN_TO = Pattern(
    r"\b(?:knock|cut|scale|bring|take|drop|boil|shrink)\s+(?:this|it|that|these|the recipe)?\s*down to $"
)


def down_to_a_part(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Knock this down to a third, 3 tbsp salt, …": so much of each."""
    for at, part in enumerate(phrases):
        led = _DOWN_TO.search(sentence.text[: part.first].lower()) and sentence.of(SeasoningName)
        if led and isinstance(part, Count) and part.piece:
            start = at - 1 if at and is_cue(phrases[at - 1], "want", "scale_to", "make_it") else at
            phrases[start : at + 1] = [Scale(part.first, part.last, part.text, part.value)]
            return


def a_part_of_another(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Salt 20 g, and pepper at a quarter of the salt": so much of what the other is."""
    for at in range(len(phrases) - 2):
        part, of, whole = phrases[at : at + 3]
        figures = [
            phrases[p]
            for p in range(at)
            if isinstance(phrases[p], Amount)
            for name in (phrases[p - 1] if p else None, phrases[p + 1])
            if isinstance(name, SeasoningName) and isinstance(whole, SeasoningName) and name.key == whole.key
        ]
        piece = isinstance(part, Count) and part.piece and is_word(of, "of")
        if piece and isinstance(part, Count) and len(figures) == 1 and isinstance(figures[0], Amount):
            measure = replace(figures[0].measure, value=figures[0].measure.value * part.value)
            phrases[at : at + 3] = [
                replace(figures[0], first=part.first, last=whole.last, text=part.text, measure=measure)
            ]
            return


def _is_a_hundred(phrase: Phrase) -> bool:
    if is_word(phrase, "unknown"):
        return phrase.text.lower() == "hundred"
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


def parts_of_the_finished(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Sausage mix of 6 kg: meat 80%, rusk 10%, water 10%": the meat is what the others leave of the finished weight."""
    named = [
        at for at in range(len(phrases) - 1) if isinstance(phrases[at], SeasoningName) and is_percent(phrases[at + 1])
    ]
    meat = next((at for at in range(len(phrases) - 1) if _is_share_of_meat(phrases, at)), None)
    weight = next((at for at, p in enumerate(phrases) if isinstance(p, Amount) and p.kind == "weight"), None)
    if meat is None or weight is None or not named or len(named) != len(sentence.of(SeasoningName)):
        return
    if sum(_percent(phrases[at + 1]) for at in (*named, meat)) != 100:
        return
    for at in reversed(named):
        share = phrases[at + 1]
        phrases[at + 2 : at + 2] = [Word(share.last, share.last, "of the total", "cue", "of_total")]
    meat = next(at for at in range(len(phrases) - 1) if _is_share_of_meat(phrases, at))
    end = meat + 3 if meat + 2 < len(phrases) and is_word(phrases[meat + 2], "sep") else meat + 2
    del phrases[meat:end]
    total = phrases[weight]
    after = phrases[weight + 1] if weight + 1 < len(phrases) else None
    if after is None or not is_cue(after, "of_total"):
        phrases[weight + 1 : weight + 1] = [Word(total.last, total.last, "finished weight", "cue", "of_total")]


def _is_share_of_meat(phrases: list[Phrase], at: int) -> bool:
    return is_cue(phrases[at], "mix") and phrases[at].text.lower() == "meat" and is_percent(phrases[at + 1])


def _percent(phrase: Phrase) -> Fraction:
    return phrase.measure.value if isinstance(phrase, Amount) else Fraction(0)


_MAKES = ("makes", "make", "makes about", "make about")


def makes_so_much(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "This makes 2.5 kg: 35 g salt, … I have 4.1 kg": what the list is written for, where another weight is there."""
    weights = [p for p in sentence.of(Amount) if p.kind == "weight"]
    for at in range(len(phrases) - 2):
        makes, weight, colon = phrases[at : at + 3]
        written = is_cue(makes, "into") and makes.text.lower() in _MAKES and is_word(colon, "sep", ":")
        if written and weight in weights and weight is not weights[-1] and sentence.of(SeasoningName):
            start = at - 1 if at and is_cue(phrases[at - 1], "this") else at
            phrases[start : at + 1] = [Word(makes.first, makes.last, makes.text, "cue", "recipe_for")]
            return


def at_the_rate_before(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Salt at 15 g a kilo and paprika at 4": so many of the same a kilo."""
    rate: Rate | None = None
    for at, phrase in enumerate(phrases):
        if isinstance(phrase, Rate) and phrase.kind in ("weight", "volume"):
            rate = phrase
        led = at > 1 and is_word(phrases[at - 1], "at") and isinstance(phrases[at - 2], SeasoningName)
        if rate is None or not led or not isinstance(phrase, Count) or phrase.piece or phrase.proportion:
            continue
        measure = Measure(phrase.value, rate.measure.unit, phrase.high)
        phrases[at] = Rate(phrase.first, phrase.last, phrase.text, rate.kind, measure, rate.per)
