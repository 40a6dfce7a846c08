"""Some of the guests eat so many, and all others so many: "30 guests, 18 eat 2, the rest 1"."""

from __future__ import annotations

from assistant.language.phrases import Count, Measure, Patties, People, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.together.shapes import MOST_EACH, is_cue, is_sep, is_whole, is_word

_EATING = ("eats", "have", "want", "everyone")


def some_and_the_rest(phrases: list[Phrase], sentence: Sentence) -> None:
    """The guests counted once, then some of them and all others with what each of those eats: two groups."""
    heads = [at for at, p in enumerate(phrases) if isinstance(p, People) and p.count is not None]
    if not heads or heads[0] + 1 >= len(phrases):
        return
    whole = phrases[heads[0]]
    at = _past(phrases, heads[0] + 1)
    told = _some(phrases, at)
    if told is None or not isinstance(whole, People) or whole.count is None:
        return
    some, figure, at = told
    at = _past(phrases, at)
    if at >= len(phrases) or not _is_the_rest(phrases, at, sentence):
        return
    other, end = _each(phrases, at if isinstance(phrases[at], Count) else at + 1)
    few, many = some.count, whole.count
    if figure is None or other is None or few is None or not few.value < many.value or many.high is not None:
        return
    left = Count(whole.first, whole.last, str(many.value - few.value), many.value - few.value)
    others = People(whole.first, whole.last, f"{left.text} others", "person", left)
    comma = Word(figure.last, figure.last, ",", "sep", ",")
    phrases[heads[0] : end] = [some, figure, comma, others, other]


def _past(phrases: list[Phrase], at: int) -> int:
    """The place after commas and joins."""
    while at < len(phrases) and (is_sep(phrases[at]) or is_word(phrases[at], "join")):
        at += 1
    return at


def _some(phrases: list[Phrase], at: int) -> tuple[People, PerEach | None, int] | None:
    """ "12 of them children who have one burger": how many, what each of them eats, and the place after it."""
    first = phrases[at] if at < len(phrases) else None
    if isinstance(first, People) and first.count is not None:
        some, at = first, at + 1
    elif is_whole(first):
        sort, at = "person", at + 1
        while at < len(phrases) and (is_cue(phrases[at], "this", "big_eaters") or _is_sort(phrases[at])):
            named = phrases[at]
            sort = named.sort if isinstance(named, People) else sort
            at += 1
        some = People(first.first, first.last, f"{first.text} of them", sort, first)
    else:
        return None
    figure, at = _each(phrases, at)
    return some, figure, at


def _is_sort(phrase: Phrase) -> bool:
    return isinstance(phrase, People) and phrase.count is None


def _each(phrases: list[Phrase], at: int) -> tuple[PerEach | None, int]:
    """What each of those eats, behind a verb, and the place after it."""
    while at < len(phrases) and _is_eating(phrases[at]):
        at += 1
    figure = phrases[at] if at < len(phrases) else None
    if isinstance(figure, PerEach) and figure.kind == "count":
        return figure, at + 1
    counted = figure.count if isinstance(figure, Patties) and figure.each is None else figure
    if figure is None or not isinstance(counted, Count) or not is_whole(counted) or counted.value > MOST_EACH:
        return None, at
    each = PerEach(figure.first, figure.last, figure.text, "count", Measure(counted.value, "count"))
    after = at + 1
    if after < len(phrases) and is_word(phrases[after], "pereach"):
        after += 1
    return each, after


def _is_eating(phrase: Phrase) -> bool:
    return is_cue(phrase, *_EATING) or (is_cue(phrase, "safe") and phrase.text.lower() == "eat")


def _is_the_rest(phrases: list[Phrase], at: int, sentence: Sentence) -> bool:
    """ "The rest", "everyone else", "the others"."""
    word = phrases[at]
    before = sentence.text[phrases[at - 1].last : word.first].lower()
    if isinstance(word, Count):
        return before.strip().endswith("others")
    else_ = sentence.text[word.last :].lower().lstrip().startswith("else")
    return is_cue(word, "rest") or (is_cue(word, "everyone") and else_)
