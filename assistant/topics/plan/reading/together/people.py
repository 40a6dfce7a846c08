"""People counted by two phrases: a pound for three of them, a crew of 8, adults 55, 40 others."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Moment,
    People,
    PerEach,
    Phrase,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import ends_at, is_cue, is_sep, is_whole, is_word

_FEEDS = Pattern(
    r"^\s*(?:of (?:meat|mince|beef|burger))?\s*(?:for|to|per|feeds?|does|serves?|between)( every| each)?\s*$"
)
_TO_A = Pattern(r"^\s*(?:to|per|from|out of|on|for)( every| each)?\s*$")
_OTHERS = Pattern(r"\s+(other(s| people)|grown[- ]?ups)\b", re.IGNORECASE)
_AT_ONE_TABLE = 4
"""More people than that are a crowd, for whom a weight is said whole. A choice."""


def shared(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "A pound of meat for every three people", "3 people to a pound": so much for each, where the guests are counted
    besides."""
    if sum(isinstance(phrase, People) and phrase.count is not None for phrase in phrases) < 2:
        return
    for at in range(len(phrases) - 1):
        meat = next((p for p in (at + 1, at + 2) if p < len(phrases) and not _is_of_meat(phrases[p])), at + 1)
        first, second = phrases[at], phrases[meat]
        led = isinstance(first, Amount)
        amount, people = (first, second) if led else (second, first)
        if not (isinstance(amount, Amount) and isinstance(people, People) and amount.kind == "weight"):
            continue
        gap = sentence.text[phrases[meat - 1].last : second.first].lower()
        said = _FEEDS if led else _TO_A
        if people.count is None or people.count.value <= 1 or people.count.high or not said.match(gap):
            continue
        if "every" not in gap and "each" not in gap and people.count.value > _AT_ONE_TABLE:
            # "5 lb for 12 people and 3 kids": the meat for all of them
            continue
        each = replace(amount.measure, value=amount.measure.value / people.count.value)
        text = sentence.text[first.first : second.last]
        phrases[at : meat + 1] = [PerEach(first.first, second.last, text, "weight", each)]
        return


def _is_of_meat(phrase: Phrase) -> bool:
    return isinstance(phrase, Word) and phrase.payload in ("meat_only", "mix")


def crew(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "For a crew of 8": so many people."""
    for at in range(len(phrases) - 2):
        crew, of, count = phrases[at : at + 3]
        named = isinstance(crew, Word) and crew.payload == "per_table" and crew.text.lower().startswith("a ")
        joined = is_word(of, "of")
        if named and joined and isinstance(count, Count) and count.value.denominator == 1 and not count.proportion:
            phrases[at : at + 3] = [People(crew.first, count.last, f"{count.text} {crew.text}", "person", count)]
            return


def counted_after(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Adults 55, kids 25", "adults: 55": the number after the word, in a list where none stands before it."""
    heads = [at for at, phrase in enumerate(phrases) if isinstance(phrase, People)]
    if not heads or any(phrases[at].count is not None for at in heads):  # type: ignore[attr-defined]
        return
    for at in reversed(heads):
        people = phrases[at]
        colon = at + 1 < len(phrases) and is_sep(phrases[at + 1], ":")
        figure = at + 2 if colon else at + 1
        count = phrases[figure] if figure < len(phrases) else None
        if is_whole(count) and ends_at(phrases, figure) and isinstance(people, People):
            merged = People(people.first, count.last, f"{count.text} {people.text}", people.sort, count)
            phrases[at : figure + 1] = [merged]


def others(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "18 kids on 3 oz, 40 others on 6 oz": more people, after some that were counted."""
    for at, count in enumerate(phrases):
        said = _OTHERS.match(sentence.text[count.last :]) if is_whole(count) else None
        counted = any(isinstance(phrase, People) and phrase.count is not None for phrase in phrases[:at])
        if said is not None and counted and isinstance(count, Count):
            phrases[at] = People(
                count.first, count.last + said.end(), count.text + said.group().lower(), "person", count
            )


_WE_ARE = Pattern(
    r"\b(?:we|there)(?:['’]?ll be|['’]re|['’]?re| will be| are| is| were| would be)(?: going to be| gonna be)?"
    r"(?: just| only| about| probably| maybe)?\s*$"
)


def we_are(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "We will be four, quarter pounders": so many people."""
    if any(isinstance(phrase, People) for phrase in phrases):
        return
    for at, count in enumerate(phrases):
        if is_whole(count) and ends_at(phrases, at) and _WE_ARE.search(sentence.text[: count.first].lower()):
            phrases[at] = People(count.first, count.last, count.text, "person", count)
            return


def by_day(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "12 people Saturday and 20 Sunday", "8 Friday, 14 Saturday, two burgers each": people, told day by day."""
    days = [at for at in range(len(phrases)) if _is_day(_after_blank(phrases, at))]
    heads = [at for at in days if _is_people(phrases[at])]
    bare = [at for at in days if is_whole(phrases[at])]
    if not bare or len(heads) + len(bare) < 2:
        return
    for at in reversed(bare):
        count = phrases[at]
        if isinstance(count, Count):
            day = _after_blank(phrases, at)
            phrases[at : at + (2 if day is phrases[at + 1] else 3)] = [
                People(count.first, count.last, count.text, "person", count),
                *([] if day is None else [day]),
            ]


def _after_blank(phrases: list[Phrase], at: int) -> Phrase | None:
    """What follows a phrase, behind a word that was passed over ("30 on Saturday")."""
    after = at + 2 if at + 1 < len(phrases) and is_sep(phrases[at + 1], " ") else at + 1
    return phrases[after] if after < len(phrases) else None


def _is_day(phrase: Phrase | None) -> bool:
    return isinstance(phrase, Moment) and phrase.day is not None


def _is_people(phrase: Phrase) -> bool:
    return isinstance(phrase, People) and phrase.count is not None


def by_meat(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "30 eat beef, 12 eat only lamb and 8 eat only chicken": people told by what they eat, as others are by day."""
    found = [at for at in range(len(phrases) - 2) if _eats_a_meat(phrases, at) is not None]
    if len(found) < 2:
        return
    for at in reversed(found):
        meat, count = _eats_a_meat(phrases, at), phrases[at]
        if meat is not None and isinstance(count, Count | People):
            people = (
                count if isinstance(count, People) else People(count.first, count.last, count.text, "person", count)
            )
            end = phrases.index(meat) + 1
            phrases[at:end] = [people, Word(meat.first, meat.last, meat.text, "cue", "occasion")]


def _eats_a_meat(phrases: list[Phrase], at: int) -> CutName | None:
    """The meat that those counted at a place eat; None where nothing of the kind is said."""
    count, eats = phrases[at : at + 2]
    after = at + 3 if is_word(phrases[at + 2], "bound", "only") else at + 2
    meat = phrases[after] if after < len(phrases) else None
    counted = is_whole(count) or _is_people(count)
    eating = is_cue(eats, "eats", "want", "have") or (is_cue(eats, "safe") and eats.text.lower() == "eat")
    return meat if counted and eating and isinstance(meat, CutName) else None


def so_many_of_the_guests(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "12 of my 20 guests eat meat": those who eat it are fed."""
    for at in range(len(phrases) - 4):
        some, of, all_of_them, eat, meat = phrases[at : at + 5]
        eating = is_cue(eat, "eats") or (is_cue(eat, "safe") and eat.text.lower() == "eat")
        counted = is_whole(some) and is_word(of, "of") and _is_people(all_of_them)
        if counted and eating and is_cue(meat, "mix") and isinstance(all_of_them, People) and isinstance(some, Count):
            phrases[at : at + 5] = [People(some.first, meat.last, f"{some.text} guests", all_of_them.sort, some)]
            return
