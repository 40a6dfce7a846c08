"""People counted by two phrases: a pound for three of them, a crew of 8, adults 55, 40 others."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Measure,
    Moment,
    Patties,
    People,
    PerEach,
    Phrase,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import MOST_EACH, ends_at, is_cue, is_sep, is_whole, is_word

_FEEDS = Pattern(
    r"^\s*(?:of (?:meat|mince|beef|burger))?\s*(?:for|to|per|feeds?|does|serves?|between)( every| each)?\s*$"
)
_TO_A = Pattern(r"^\s*(?:to|per|from|out of|on|for)( every| each)?\s*$")
_OTHERS = Pattern(r"\s+(other(s| people)|grown[- ]?ups)\b", re.IGNORECASE)
_HEAVIEST_PATTY = 500
"""Grams. A heavier weight is nobody's one patty. Common practice, no source."""
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


def counted_in_brackets(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "6 oz for the lads (12), 4 oz for the girls (9)": their number behind them."""
    for at in range(len(phrases) - 3, -1, -1):
        if at + 3 > len(phrases):
            continue
        people, bracket, count = phrases[at : at + 3]
        named = isinstance(people, People) and people.count is None and is_word(bracket, "open")
        if named and is_whole(count) and isinstance(people, People) and isinstance(count, Count):
            end = at + 4 if at + 3 < len(phrases) and is_word(phrases[at + 3], "close") else at + 3
            phrases[at:end] = [People(people.first, count.last, f"{count.text} {people.text}", people.sort, count)]


_GET = Pattern(r"\b(?:get|gets|getting|eat|eats|have|having|want|take)\b", re.IGNORECASE)


def counted_after(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Adults 55, kids 25", "adults: 55": the number after the word, in a list where none stands before it."""
    heads = [at for at, phrase in enumerate(phrases) if isinstance(phrase, People)]
    if not heads or any(phrases[at].count is not None for at in heads):  # type: ignore[attr-defined]
        return
    for at in reversed(heads):
        people = phrases[at]
        colon = at + 1 < len(phrases) and is_sep(phrases[at + 1], ":")
        figure = at + 2 if colon else at + 1
        count = phrases[figure] if figure < len(phrases) else None
        if count is not None and _GET.search(sentence.text[people.last : count.first]):
            # "kids get 1": so many each, and not so many kids
            continue
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


def burgers_without_some(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "15 burgers, 3 of them veggie": twelve of meat, where nobody who eats is counted."""
    if any(isinstance(phrase, People) for phrase in phrases):
        return
    for at in range(1, len(phrases) - 2):
        count, of_them, none = phrases[at : at + 3]
        told = is_whole(count) and is_cue(of_them, "this") and is_cue(none, "fewer")
        lots = [place for place in range(at) if isinstance(phrases[place], Patties)]
        if not told or len(lots) != 1 or not isinstance(count, Count):
            continue
        lot = phrases[lots[0]]
        if isinstance(lot, Patties) and lot.count is not None and lot.count.value > count.value:
            left = replace(lot.count, value=lot.count.value - count.value)
            phrases[lots[0]] = replace(lot, count=left)
            del phrases[at : at + 3]
        return


def none_for_some(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "15 adults 10 kids, 2 kids are veggie", "2 of the kids …", "2 veggie kids": fewer of the sort that is named, and
    not of all the guests."""
    for at in range(len(phrases) - 1, 1, -1):
        told = _some_of_a_sort(phrases, at)
        if told is None:
            continue
        few, sort, end = told
        counted = [(place, p) for place, p in enumerate(phrases[:at]) if isinstance(p, People) and p.count is not None]
        whole = next(((place, p) for place, p in counted if p.sort == sort), None)
        if whole is None or len({p.sort for _, p in counted}) < 2:
            continue
        place, people = whole
        if people.count is None or people.count.high is not None or people.count.value <= few:
            continue
        left = replace(people.count, value=people.count.value - few)
        words = people.text.split(maxsplit=1)
        phrases[place] = replace(people, count=left, text=f"{left.value} {words[-1]}")
        first, last = phrases[at], phrases[end]
        phrases[at : end + 1] = [Word(first.first, last.last, "", "cue", "occasion")]
        return


def _some_of_a_sort(phrases: list[Phrase], at: int) -> tuple[Fraction, str, int] | None:
    """How many of which sort eat none, where that is said from a place on; and the place where it ends."""
    first, rest = phrases[at], phrases[at + 1 : at + 4]
    if isinstance(first, People) and first.count is not None and rest and is_cue(rest[0], "fewer"):
        return first.count.value, first.sort, at + 1
    if not is_whole(first) or len(rest) < 2:
        return None
    if is_cue(rest[0], "fewer") and isinstance(rest[1], People) and rest[1].count is None:
        return first.value, rest[1].sort, at + 2
    of_them = len(rest) == 3 and is_word(rest[0], "of") and is_cue(rest[2], "fewer")
    if of_them and isinstance(rest[1], People) and rest[1].count is None:
        return first.value, rest[1].sort, at + 3
    return None


def each_by_sort(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "15 adults 10 kids, adults 2 kids 1", "12 adults and 8 kids, 2 for adults 1 for kids", "20 adults and 12 kids,
    2 and 1": how many each, told of the sorts of people that were counted before; and how heavy, likewise."""
    for figure_of in (_few, _patty):
        counted: dict[str, int] = {}
        for at, phrase in enumerate(phrases):
            if isinstance(phrase, People) and phrase.count is not None:
                counted.setdefault(phrase.sort, at)
        if len(counted) > 1 and not _has_its_own(phrases, counted):
            _give_by_sort(phrases, counted, figure_of)


def _has_its_own(phrases: list[Phrase], counted: dict[str, int]) -> bool:
    """ "48 adults having two, 36 children having one, …": a figure right after the first sort is that sort's own."""
    between = phrases[min(counted.values()) + 1 : max(counted.values())]
    return any(isinstance(phrase, Count | Amount | PerEach | Patties) for phrase in between)


_Figure = Count | Amount


def _give_by_sort(
    phrases: list[Phrase], counted: dict[str, int], figure_of: Callable[[Phrase], _Figure | None]
) -> None:
    """Put what is told of each sort, after all of them are counted, beside the people that it is said of."""
    start = max(counted.values()) + 1
    while start < len(phrases) and isinstance(phrases[start], PerEach):
        start += 1
    told = _told_from(phrases, start, counted, figure_of)
    if told is None:
        # "2 for adults 1 for kids, 20 adults 10 kids": before they are counted
        before = len(phrases)
        told = _told_from(phrases, 0, counted, figure_of, min(counted.values()))
        counted = {sort: at - (before - len(phrases)) for sort, at in counted.items()}
    if told is None:
        return
    for sort, at in sorted(counted.items(), key=lambda pair: -pair[1]):
        figure = told[sort]
        weighed = isinstance(figure, Amount)
        measure = figure.measure if isinstance(figure, Amount) else Measure(figure.value, "count")
        kind = "weight" if weighed else "count"
        phrases.insert(at + 1, PerEach(figure.first, figure.last, figure.text, kind, measure))


def _told_from(
    phrases: list[Phrase],
    start: int,
    counted: dict[str, int],
    figure_of: Callable[[Phrase], _Figure | None],
    most: int | None = None,
) -> dict[str, _Figure] | None:
    """The figure of each sort as a row from a place on tells it, and the row taken out; None where it does not."""
    last, end = len(phrases) if most is None else most, start
    while end < last and (_is_between(phrases[end]) or _parts(phrases[end], figure_of)):
        end += 1
    while end > start and is_sep(phrases[end - 1]):
        end -= 1
    row = [part for phrase in phrases[start:end] for part in _parts(phrase, figure_of)]
    told = _by_turns(row, list(counted))
    if told is not None:
        del phrases[start:end]
    return told


def _is_between(phrase: Phrase) -> bool:
    return is_sep(phrase) or is_word(phrase, "join") or is_cue(phrase, "eats")


def _few(phrase: Phrase) -> Count | None:
    """A number of patties for each."""
    if isinstance(phrase, PerEach) and phrase.kind == "count":
        return Count(phrase.first, phrase.last, phrase.text, phrase.measure.value)
    counted = phrase.count if isinstance(phrase, Patties) and phrase.each is None else phrase
    return counted if is_whole(counted) and counted.value <= MOST_EACH else None


def _patty(phrase: Phrase) -> Amount | None:
    """A weight that a patty may have."""
    each = phrase.each if isinstance(phrase, Patties) and phrase.count is None else phrase
    light = isinstance(each, Amount) and each.kind == "weight" and units.grams(each.measure.value, each.measure.unit)
    return each if isinstance(each, Amount) and light and light <= _HEAVIEST_PATTY else None


def _parts(phrase: Phrase, figure_of: Callable[[Phrase], _Figure | None]) -> list[People | _Figure]:
    """The sort and the figure of a phrase in the order in which they stand: "2 kids" is a two, then kids."""
    if isinstance(phrase, People):
        first = None if phrase.count is None else figure_of(phrase.count)
        if phrase.count is None:
            return [phrase]
        return [] if first is None else [first, phrase]
    figure = figure_of(phrase)
    return [] if figure is None else [figure]


def _by_turns(row: list[People | _Figure], sorts: list[str]) -> dict[str, _Figure] | None:
    """The figure of each sort, where the row tells one for all of them and nothing else."""
    figures = [part for part in row if not isinstance(part, People)]
    names = [part.sort for part in row if isinstance(part, People)]
    if len(figures) != len(sorts):
        return None
    if not names:
        return dict(zip(sorts, figures, strict=True))
    turns = all(isinstance(one, People) != isinstance(other, People) for one, other in pairwise(row))
    return dict(zip(names, figures, strict=True)) if turns and sorted(names) == sorted(sorts) else None
