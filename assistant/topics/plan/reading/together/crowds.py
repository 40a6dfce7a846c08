"""A crowd told by its parts: half of 64 are kids, twice as many kids as adults, under 10s: 17, only 16 of the 18 eat."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Bound, Count, Patties, People, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_sep, is_whole, is_word

_MOST_APART = 4
"""Phrases between a share and the people that it is of: "half of the 64 guests are kids"."""
_OTHER_SORT = {"kid": "adult", "adult": "kid"}
_BETWEEN = frozenset(
    [
        "the",
        "of",
        "them",
        "those",
        "us",
        "are",
        "is",
        "will",
        "be",
        "were",
        "'re",
        "guests",
        "people",
        "to",
        "they",
        "who",
        "our",
        "my",
        "come",
    ]
)
_TIMES = {"half": Fraction(1, 2), "twice": Fraction(2), "double": Fraction(2), "2 times": Fraction(2)}
_TIMES |= {"three times": Fraction(3), "3 times": Fraction(3), "four times": Fraction(4), "4 times": Fraction(4)}
_AS_MANY = Pattern(rf"\b(?P<times>{'|'.join(_TIMES)}) as many (?P<more>[a-z-]+)(?: (?P<as>as) (?P<fewer>[a-z-]+))?\b")
_YEARS = {"fives": 5, "sixes": 6, "sevens": 7, "eights": 8, "nines": 9, "tens": 10, "twelves": 12, "sixteens": 16}
_AGED = Pattern(
    rf"\b(?:(?:kids|children) )?(?P<way>under|over)(?:[ -]the)?[ -](?:age )?(?:of )?(?P<age>[1-9]\d?|{'|'.join(_YEARS)})"
    r"(?P<s>['’]?s)?\b(?! ?(?:%|kg|g|lb|oz|minutes|min|burgers)\b)"
)
_ONLY_SO_MANY = frozenset(("want", "eats", "coming", "have"))


def _put(phrases: list[Phrase], first: int, last: int, *new: Phrase) -> None:
    """Others in place of the phrases that stand in a stretch of the text; a weight that reaches out of it stays."""
    over = (p.each for p in phrases if isinstance(p, Patties) and p.first < last < p.last)
    outside = [each for each in over if each is not None and each.first >= last]
    kept = [*(p for p in phrases if p.last <= first or p.first >= last), *outside]
    kept.sort(key=lambda phrase: phrase.first)
    at = next((at for at, p in enumerate(kept) if p.first >= last), len(kept))
    phrases[:] = [*kept[:at], *new, *kept[at:]]


def _headed(phrases: list[Phrase]) -> People | None:
    """The one whole of a line that is told in parts: "64 guests", "120 coming"."""
    heads = [p for p in phrases if isinstance(p, People) and p.sort == "person" and p.count is not None]
    if not heads:
        for at in range(len(phrases) - 1):
            count = phrases[at]
            if is_whole(count) and is_cue(phrases[at + 1], "coming") and isinstance(count, Count):
                heads = [People(count.first, phrases[at + 1].last, f"{count.text} people", "person", count)]
                phrases[at : at + 2] = heads
                break
    return heads[0] if len(heads) == 1 and is_whole(heads[0].count) else None


def _share(phrase: Phrase) -> Fraction | None:
    """The part that a phrase names, 0 for "the rest"."""
    if is_percent(phrase) and isinstance(phrase, Amount):
        return phrase.measure.value / 100 if phrase.measure.value < 100 else None
    if isinstance(phrase, Count) and phrase.piece and 0 < phrase.value < 1:
        return phrase.value
    if is_cue(phrase, "half_of_them"):
        return Fraction(1, 2)
    return Fraction(0) if is_cue(phrase, "rest") else None


def _part_at(phrases: list[Phrase], at: int, whole: People, text: str) -> tuple[int, Fraction, People] | None:
    """A part of the whole that begins at a place: where it ends, how much of it, and who they are."""
    first = phrases[at]
    if isinstance(first, People) and first.count is not None and first.count.piece and 0 < first.count.value < 1:
        return (at, first.count.value, first) if first.sort in _OTHER_SORT else None
    share = _share(first)
    if share is None:
        return None
    for place in range(at + 1, min(at + 1 + _MOST_APART, len(phrases))):
        who = phrases[place]
        apart = text[phrases[place - 1].last : who.first].lower().replace("'", " '").split()
        if not set(apart) <= _BETWEEN:
            return None
        if isinstance(who, People) and who.count is None and who.sort in _OTHER_SORT:
            return place, share, who
        if who is not whole and not (is_word(who, "of") or is_cue(who, "this") or is_cue(who, "eats")):
            return None
    return None


def by_share(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Half the 64 guests are kids, the other half adults", "80 guests, a quarter of them kids": counted out.

    What does not come out whole goes to the adults, who eat more. A part that is not named is the other sort.
    """
    if not any(isinstance(phrase, People) and phrase.sort in _OTHER_SORT for phrase in phrases):
        return
    tried = list(phrases)
    whole = _headed(tried)
    if whole is None or whole.count is None:
        return
    parts = _parts_of(tried, whole, sentence.text)
    named = {who.sort for _, _, _, who in parts}
    shares = sum((share for _, _, share, _ in parts), Fraction(0))
    if (
        not parts
        or len(named) != len(parts)
        or shares > 1
        or (len(parts) == 2 and shares != 1 and not _has_rest(parts))
    ):
        return
    counts = _counted_out(parts, whole.count.value)
    if counts is None or (len(parts) == 1 and not _others_are_plain(tried, named)):
        return
    phrases[:] = tried
    for first, last, _, who in parts:
        _put(phrases, first, last, _people(first, last, who.sort, counts[who.sort]))
    if len(parts) == 1:
        (sort,) = named
        other = _OTHER_SORT[sort]
        fewer = _people(whole.first, whole.last, other, whole.count.value - counts[sort])
        where = parts[0][0]
        if where <= whole.first < parts[0][1]:
            # "half the 64 guests are kids": the others follow them
            fewer = replace(fewer, first=parts[0][1], last=parts[0][1])
            _put(phrases, parts[0][1], parts[0][1], fewer)
        else:
            _put(phrases, whole.first, whole.last, fewer)
    else:
        phrases[:] = [phrase for phrase in phrases if phrase is not whole]


def _parts_of(phrases: list[Phrase], whole: People, text: str) -> list[tuple[int, int, Fraction, People]]:
    found = []
    at = 0
    while at < len(phrases):
        part = _part_at(phrases, at, whole, text)
        if part is not None:
            found.append((phrases[at].first, phrases[part[0]].last, part[1], part[2]))
            at = part[0]
        at += 1
    return found


def _others_are_plain(phrases: list[Phrase], named: set[str]) -> bool:
    """Whether it is plain what those get who make up the rest: they are named too, or all get the same."""
    others = any(isinstance(p, People) and p.count is None and p.sort in _OTHER_SORT.keys() - named for p in phrases)
    sizes = [p for p in phrases if isinstance(p, Amount | PerEach) and p.kind == "weight"]
    sizes += [p.each for p in phrases if isinstance(p, Patties) and p.each is not None]
    return others or len(sizes) < 2 or any(is_cue(p, "rest", "everyone") for p in phrases)


def _has_rest(parts: list[tuple[int, int, Fraction, People]]) -> bool:
    return any(share == 0 for _, _, share, _ in parts)


def _counted_out(parts: list[tuple[int, int, Fraction, People]], whole: Fraction) -> dict[str, Fraction] | None:
    """So many of each sort that was named; None where only "the rest" was."""
    told = next(((share, who.sort) for _, _, share, who in parts if share), None)
    if told is None:
        return None
    share, sort = told
    exact = whole * share
    count = Fraction(int(exact)) if sort == "kid" else Fraction(-int(-exact // 1))
    counts = {sort: count}
    if len(parts) == 2:
        counts[_OTHER_SORT[sort]] = whole - count
    return counts


_NAMES = {"kid": "kids", "adult": "adults"}


def _people(first: int, last: int, sort: str, value: Fraction) -> People:
    count = Count(first, last, f"{float(value):g}", value)
    return People(first, last, f"{count.text} {_NAMES.get(sort, 'people')}", sort, count)


def as_many_as(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "210 people, twice as many kids as adults", "20 adults and half as many kids": both of them counted."""
    said = _AS_MANY.search(sentence.text.lower())
    if said is None:
        return
    more = _named_at(phrases, said.start("more"))
    factor = _TIMES[said["times"]]
    if more is None:
        return
    if said["as"] is None:
        known = [p for p in phrases if isinstance(p, People) and p.count is not None and p.sort in _OTHER_SORT]
        if len(known) == 1 and known[0].sort != more.sort and known[0].count is not None and is_whole(known[0].count):
            exact = known[0].count.value * factor
            value = Fraction(-int(-exact // 1))
            _put(phrases, *said.span(), _people(said.start(), said.end(), more.sort, value))
        return
    fewer, whole = _named_at(phrases, said.start("fewer")), _headed(phrases)
    if fewer is None or whole is None or whole.count is None or fewer.sort == more.sort:
        return
    smaller = whole.count.value / (factor + 1)
    if smaller.denominator != 1:
        # what does not come out whole goes to the adults, who eat more
        smaller = Fraction(int(smaller)) if fewer.sort == "kid" else Fraction(int(smaller) + 1)
    split = said.start("as")
    _put(
        phrases,
        *said.span(),
        _people(said.start(), split, more.sort, whole.count.value - smaller),
        _people(split, said.end(), fewer.sort, smaller),
    )
    phrases[:] = [phrase for phrase in phrases if phrase is not whole]


def _named_at(phrases: list[Phrase], first: int) -> People | None:
    found = next((p for p in phrases if p.first == first), None)
    named = isinstance(found, People) and found.count is None and found.sort in _OTHER_SORT
    return found if named and isinstance(found, People) else None


def by_age(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Under 10s: 17, … Over 10s: 29", "12 under fives": the number beside the years counts them."""
    text = sentence.text.lower()
    told = list(_AGED.finditer(text))
    years = {(one["way"], one["age"]) for one in told}
    for one in told:
        if any(
            isinstance(p, People) and p.count is not None and p.first < one.end() and p.last > one.start()
            for p in phrases
        ):
            continue
        plural = one["s"] is not None or one["age"] in _YEARS
        paired = ("under" if one["way"] == "over" else "over", one["age"]) in years
        if not (plural or paired):
            continue
        count = _beside(phrases, *one.span())
        if count is None:
            sort = "kid" if one["way"] == "under" else "adult"
            _put(phrases, *one.span(), People(one.start(), one.end(), one.group(), sort))
            continue
        first, last = min(one.start(), count.first), max(one.end(), count.last)
        age = one["age"] if one["age"] not in _YEARS else str(_YEARS[one["age"]])
        sort = "kid" if one["way"] == "under" else "adult"
        noun = f"{count.text} {one['way']}-{age}s"
        _put(phrases, first, last, People(first, last, noun, sort, replace(count, bound=Bound.IS)))


def _beside(phrases: list[Phrase], first: int, last: int) -> Count | None:
    """The number behind a stretch of the text and a colon, or right before it."""
    after = next((at for at, p in enumerate(phrases) if p.first >= last), len(phrases))
    while after < len(phrases) and (is_sep(phrases[after], ":", " ") or is_word(phrases[after], "unknown", "s")):
        after += 1
    before = next((p for p in reversed(phrases) if p.last <= first), None)
    if is_whole(before) and isinstance(before, Count) and first - before.last <= 1:
        return before
    found = phrases[after] if after < len(phrases) else None
    return found if is_whole(found) and isinstance(found, Count) and found.first - last <= 4 else None


def listed_in_order(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "22 and 19 - adults and kids - 2 each and 1 each": each number with the sort in its place of the list."""
    for at in range(len(phrases) - 6):
        window = phrases[at : at + 7]
        for counts, names in (((0, 2), (4, 6)), ((4, 6), (0, 2))):
            numbers, people = [window[i] for i in counts], [window[i] for i in names]
            bare = all(is_whole(number) for number in numbers)
            sorts = all(isinstance(who, People) and who.count is None for who in people)
            linked = is_word(window[1], "join") and is_word(window[5], "join")
            if not (bare and sorts and linked and is_sep(window[3], ",", ":", ".", "-")):
                continue
            merged: list[Phrase] = [window[names[0]], window[names[1]]]
            for place, (number, who) in enumerate(zip(numbers, people, strict=True)):
                if isinstance(number, Count) and isinstance(who, People):
                    merged[place] = _people(who.first, who.last, who.sort, number.value)
            phrases[at : at + 7] = [merged[0], window[names[0] + 1], merged[1]]
            _so_many_each(phrases)
            return


def _so_many_each(phrases: list[Phrase]) -> None:
    """ "2 and 1 each": both numbers are for each."""
    for at in range(len(phrases) - 2):
        first, link, second = phrases[at : at + 3]
        each = isinstance(second, PerEach) and second.kind == "count"
        if is_whole(first) and is_word(link, "join") and each and isinstance(second, PerEach):
            measure = replace(second.measure, value=first.value)
            phrases[at] = PerEach(first.first, first.last, first.text, "count", measure)


def only_so_many_eat(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Out of our 18 only the other 16 want burgers", "20 invited but just 17 are eating": those who eat are fed."""
    for at in range(1, len(phrases)):
        some = phrases[at]
        eats = phrases[at + 1] if at + 1 < len(phrases) else None
        if not (is_whole(some) and isinstance(some, Count) and eats is not None and _eat(eats)):
            continue
        told = [p for p in phrases[:at] if _number(p) is not None]
        whole = max((_number(p) or Fraction(0) for p in told), default=Fraction(0))
        others = [_number(p) for p in told if _number(p) != whole]
        led = (
            some.bound is Bound.ONLY or re.search(r"\bso (?:only )?$", sentence.text[: some.first].lower()) is not None
        )
        if not (led and whole > some.value) or any(one != whole - some.value for one in others):
            continue
        end = at + 2
        while end < len(phrases) and (_plain_burgers(phrases[end]) or is_cue(phrases[end], "mix", "eats")):
            end += 1
        if end < len(phrases) and not (is_word(phrases[end], "sep") or is_word(phrases[end], "join")):
            # "only 20 want cheese", "only 6 want two": all of them eat
            continue
        count = replace(some, bound=Bound.IS)
        people = People(some.first, phrases[end - 1].last, f"{some.value} people", "person", count)
        first = next(place for place, phrase in enumerate(phrases) if phrase in told)
        phrases[first:end] = [people]
        return


def _eat(phrase: Phrase) -> bool:
    return is_cue(phrase, *_ONLY_SO_MANY) or (is_cue(phrase, "safe") and phrase.text.lower() in ("eat", "eating"))


def _number(phrase: Phrase) -> Fraction | None:
    """How many a phrase counts, as people or alone."""
    if isinstance(phrase, People):
        return phrase.count.value if phrase.count is not None else None
    return phrase.value if is_whole(phrase) and isinstance(phrase, Count) else None


def _plain_burgers(phrase: Phrase) -> bool:
    return isinstance(phrase, Patties) and phrase.count is None and phrase.each is None


def single(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Children 25, a single 80 g one": one of them."""
    for at in range(len(phrases) - 1):
        word, size = phrases[at : at + 2]
        said = isinstance(word, Word) and word.kind == "unknown" and word.text.lower() == "single"
        if said and isinstance(size, Amount | Patties):
            phrases[at] = Count(word.first, word.last, word.text, Fraction(1))
