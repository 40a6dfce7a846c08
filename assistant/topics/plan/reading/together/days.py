"""Burgers and people told day by day: "Fri 60 burgers, Sat twice that", "3 days, 85 burgers a day"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Moment, Patties, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.language.when import Day
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_sep, is_whole, is_word

_FACTORS = {"halve": Fraction(1, 2), "double": Fraction(2), "triple": Fraction(3), "same_again": Fraction(1)}
_A_DAY = Pattern(r"^\W*(?:(?:a|per|each|every) (?:day|night)|daily|nightly|on each)\b")
_SUN = Pattern(r"\bsun\b(?! ?(?:shine|dried|flower))")
_FEWEST = 7
"""Burgers of a day: a smaller number is what each eater gets. A choice."""


class _Told(Struct, frozen=True):
    """What is said of one day: the places of the line, the day, and how many or so many times another day."""

    first: int
    last: int
    day: Moment
    count: Fraction | None = None
    factor: Fraction | None = None
    of: str = ""
    shape: str = ""


def day_by_day(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Fri 60 burgers, Sat twice that, Sun half of Friday's", "60 burgers Friday and 90 Saturday"."""
    _clipped_sunday(phrases, sentence)
    told = _entries(phrases)
    days = [_name(one.day) for one in told]
    shapes = {one.shape for one in told if one.shape}
    if len(told) < 2 or len(set(days)) != len(days) or len(shapes) != 1 or told[0].count is None:
        return
    (shape,) = shapes
    counts: dict[str, Fraction] = {}
    for one in told:
        like = counts.get(one.of) if one.of else next(reversed(counts.values()), None)
        if one.count is None and (like is None or one.factor is None):
            return
        count = one.count if one.count is not None else (like or Fraction(0)) * (one.factor or Fraction(0))
        counts[_name(one.day)] = Fraction(-int(-count // 1))
    if shape == "patties" and min(counts.values()) < _FEWEST:
        return
    for one in reversed(told):
        span = phrases[one.first : one.last + 1]
        first, last = span[0].first, span[-1].last
        day = replace(one.day, first=first, last=first)
        number = Count(first, last, f"{float(counts[_name(one.day)]):g}", counts[_name(one.day)])
        phrases[one.first : one.last + 1] = [day, _counted(shape, number)]
    drop_the_number_of_days(phrases, len(told))


def _clipped_sunday(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Sun" is a day where another day is named, and the weather everywhere else."""
    said = _SUN.search(sentence.text.lower())
    named = any(isinstance(p, Moment) and p.day is not None and p.day.weekday is not None for p in phrases)
    if said is None or not named or any(p.first < said.end() and p.last > said.start() for p in phrases):
        return
    at = next((at for at, p in enumerate(phrases) if p.first >= said.end()), len(phrases))
    text = sentence.text[said.start() : said.end()]
    phrases.insert(at, Moment(said.start(), said.end(), text, None, Day(weekday=6)))


def difference_of_days(phrases: Sequence[Phrase]) -> str:
    """ "50 burgers on Friday, 20 more on Saturday": the question that it raises, "" where nothing is said like that."""
    others = any(isinstance(p, Patties | People) and p.count is not None for p in phrases)
    for at in range(len(phrases) - 2):
        count, more, day = phrases[at : at + 3]
        follows = phrases[at + 3] if at + 3 < len(phrases) and is_sep(day, " ") else day
        if others and is_whole(count) and is_cue(more, "bigger", "smaller") and isinstance(follows, Moment):
            return f"{count.text} {more.text} than the other day, or {count.text} in all? Say how many on each day."
    return ""


def _counted(shape: str, number: Count) -> Phrase:
    if shape == "patties":
        return Patties(number.first, number.last, f"{number.text} burgers", number)
    return People(number.first, number.last, f"{number.text} people", "person", number)


def _entries(phrases: list[Phrase]) -> list[_Told]:
    """What the line says of each day, all with the day before the number or all behind it; nothing where it mixes them."""
    before, after = _read(phrases, day_first=True), _read(phrases, day_first=False)
    return before if len(before) >= len(after) else after


def _read(phrases: list[Phrase], *, day_first: bool) -> list[_Told]:
    found: list[_Told] = []
    at = 0
    while at < len(phrases):
        one = _day_then_number(phrases, at) if day_first else _number_then_day(phrases, at)
        if one is not None:
            found.append(one)
            at = one.last
        at += 1
    return found


def _day_then_number(phrases: list[Phrase], at: int) -> _Told | None:
    day, after = phrases[at], at + 1
    if not (isinstance(day, Moment) and day.day is not None and day.clock is None):
        return None
    while after < len(phrases) and is_sep(phrases[after], ":", " ", "-"):
        after += 1
    return _number(phrases, at, after, day)


def _number(phrases: list[Phrase], first: int, at: int, day: Moment) -> _Told | None:
    """A number, or so many times that of another day, from a place on."""
    said = phrases[at] if at < len(phrases) else None
    if isinstance(said, Patties) and said.count is not None and is_whole(said.count) and said.each is None:
        return _Told(first, at, day, said.count.value, shape="patties")
    if isinstance(said, People) and said.count is not None and is_whole(said.count) and said.sort == "person":
        return _Told(first, at, day, said.count.value, shape="people")
    if is_whole(said) and isinstance(said, Count):
        return _Told(first, at, day, said.value)
    factor = _FACTORS.get(said.payload) if isinstance(said, Word) and said.kind == "cue" else None
    if isinstance(said, Count) and said.piece:
        factor = said.value
    if factor is None:
        return None
    last, of = at, ""
    while last + 1 < len(phrases) and (is_word(phrases[last + 1], "of") or is_cue(phrases[last + 1], "this")):
        last += 1
    follows = phrases[last + 1] if last + 1 < len(phrases) else None
    if isinstance(follows, Moment) and follows.day is not None and follows is not day:
        last, of = last + 1, _name(follows)
    return _Told(first, last, day, factor=factor, of=of)


def _number_then_day(phrases: list[Phrase], at: int) -> _Told | None:
    said = phrases[at]
    counted = is_whole(said) or isinstance(said, Patties | People) or is_cue(said, *_FACTORS)
    after = at + 1
    while after < len(phrases) and (
        is_sep(phrases[after], " ") or is_word(phrases[after], "at") or is_cue(phrases[after], "this")
    ):
        after += 1
    day = phrases[after] if after < len(phrases) else None
    if not (counted and isinstance(day, Moment) and day.day is not None and day.clock is None):
        return None
    one = _number(phrases, at, at, day)
    return None if one is None else replace(one, last=after, of="")


def _name(day: Moment) -> str:
    return day.text.lower().replace("’", "'").removesuffix("'s")[:3]


def drop_the_number_of_days(phrases: list[Phrase], days: int) -> None:
    """ "Two-day fair, 180 people Saturday and 120 Sunday": the days are told one by one."""
    phrases[:] = [phrase for phrase in phrases if not (_days(phrase) == days and days > 1)]


def _days(phrase: Phrase) -> Fraction | None:
    """ "3 days", "a week": how many days; None for anything else, and for "a day"."""
    if not isinstance(phrase, Amount) or phrase.kind != "duration" or phrase.measure.high is not None:
        return None
    if phrase.measure.unit == "week":
        return phrase.measure.value * 7
    daily = phrase.measure.unit != "day" or phrase.text.lower().startswith("a ")
    return None if daily else phrase.measure.value


def so_many_a_day(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "3 days, 85 burgers a day", "four nights running, 25 burgers a night": all of them."""
    text = sentence.text.lower()
    burgers = [p for p in phrases if isinstance(p, Patties) and p.count is not None and is_whole(p.count)]
    if len(burgers) != 1 or any(isinstance(p, People) and p.count is not None for p in phrases):
        return
    (daily,) = burgers
    mark = _A_DAY.search(text[daily.last :])
    count = daily.count
    if mark is None or count is None or count.value < 2:
        return
    lasting = [(at, at, days) for at, p in enumerate(phrases) if (days := _days(p)) is not None and days > 1]
    for at in range(len(phrases) - 1):
        number = phrases[at]
        if is_whole(number) and is_cue(phrases[at + 1], "sitting") and isinstance(number, Count):
            lasting.append((at, at + 1, number.value))
    if len(lasting) != 1:
        return
    first, last, days = lasting[0]
    said = {id(p) for p in phrases[first : last + 1]}
    said |= {id(p) for p in phrases if daily.last <= p.first < daily.last + mark.end() and not is_sep(p, ",", ".")}
    whole = replace(count, text=f"{float(count.value * days):g}", value=count.value * days)
    wish = replace(daily, text=f"{whole.text} burgers", count=whole)
    phrases[:] = [wish if p is daily else p for p in phrases if id(p) not in said]
