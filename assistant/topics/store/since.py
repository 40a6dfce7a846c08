"""From which day to which meat is kept, told by what stands beside each day and each length of time.

A day that has no word beside it could be either end. It is read so that no kept day is lost: what is said of meat that
is there already lies behind, and the day that is asked about lies ahead.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Amount, Moment
from assistant.language.sentence import Sentence
from assistant.language.when import Day, month_named
from assistant.pattern import Pattern
from assistant.topics import heard

A_WEEK = timedelta(days=7)
_WORKED = r"(ground|minced|made|bought|opened|formed|cooked|grilled|fried|killed|shot|butchered|boned|got|thawed|defrosted|frozen|froze)"
_IT = r"( (it|them|this|that|these|those|some|all|the|my|our|beef|pork|lamb|meat|mince|patties|burgers|sausages?|up|back))*"
_DONE_ON = Pattern(rf"\b({_WORKED}{_IT}|since|from)( on| in| back| late| early| last| this| around)* *$")
"""What stands just before the day on which it was done."""
_DOES_ON = Pattern(rf"\b(grind|mince|make|grinding|mincing|making|form|forming|buy|buying){_IT}( on| this| next)* *$")
"""What stands just before the day on which it is still to be done."""
_WANTED_ON = Pattern(
    r"\b(for|until|till|til|to|by|through|still|ok|okay|fine|good|alright|safe|edible|eat|eating|use|using|cook|cooking"
    r"|serve|serving|fry|grill|have|having|burgers|supper|dinner|lunch|tea|barbecue|bbq)( (it|them))?"
    r"( (for|on|in|by|until|till|come|at|next|this|now))* *$"
)
"""What stands just before the day on which it is to be eaten."""
_NEXT = Pattern(r"\bnext *$")
LATER = Pattern(
    r"\b(will|going to|gonna|plan|planning|grinding|mincing|(grind|mince) it)\b"
    r"|\b(if|when) (i|we)\b(?! (ground|minced|made|bought|opened|froze|thawed|put)\b)"
)
"""How people speak of meat that is not ground yet."""
_LAST_NIGHT = Pattern(r"\blast (night|evening)\b")
_TODAY = Pattern(
    r"\b(this (morning|afternoon|evening)|just now|just (ground|minced|made)|earlier|(grinding|mincing|making)( it| them)? tonight)\b"
)
_FROM_NOW = Pattern(
    r"\b(in|another|ok|okay|fine|good|keep|keeps|last|lasts|safe|alright|wait)( it| them)?( for)?( (the next|another|up to))? *$"
)
_MORE = Pattern(r"^ *(more|longer|from now|later|time|yet|further|extra)\b")
"""A length of time that is still to come: "in 2 days", "2 days more"."""


_MONTH = Pattern(
    r"\b(january|jan|february|feb|march|april|apr|june|jun|july|jul|august|aug|september|sept?|october|oct|november|nov"
    r"|december|dec|(?<=in )may|(?<=since )may|(?<=from )may|(?<=last )may|(?<=until )may|(?<=till )may)\b(?! *\d)"
)
"""A month by its name alone. "May" and "march" are also other words: that one needs the word before it, this one the
company of kept meat."""


class Since(Struct, frozen=True):
    """Both ends, as they were said. later: the first is still to come; next_week: the last is the one after the coming
    one; age, ahead: hours that have gone, and that are to come."""

    start: Day | None = None
    end: Day | None = None
    later: bool = False
    next_week: bool = False
    age: Fraction | None = None
    ahead: Fraction | None = None

    @property
    def known(self) -> bool:
        """Whether any day or age was said."""
        return any(end is not None for end in (self.start, self.end, self.age, self.ahead))


def read(sentence: Sentence, spells: list[tuple[Amount, Fraction, Fraction]]) -> Since:
    """The two ends. spells: the lengths of time that may be an age."""
    text = sentence.text.lower()
    in_months = months(sentence)
    to_come = [most for phrase, _, most in spells if _is_to_come(text, phrase)]
    gone = [most for phrase, _, most in spells if not _is_to_come(text, phrase)]
    first, last = _ends(text, sorted([*heard.days(sentence), *in_months], key=lambda day: day.first), aged=bool(gone))
    if first is None and _LAST_NIGHT.search(text):
        start: Day | None = Day(relative=-1)
    elif first is None and (last is not None or to_come) and _TODAY.search(text):
        start = Day(relative=0)
    else:
        start = first.day if first is not None else None
    done = first is not None and _DONE_ON.search(_before(text, first)) is not None
    if not gone and to_come and start is None:
        # "is mince ok for 3 days": of meat that nobody gave a day
        gone, to_come = to_come, []
    return Since(
        start=start,
        end=_last_day(last, in_months),
        later=LATER.search(text) is not None and not done,
        next_week=last is not None and _NEXT.search(_before(text, last)) is not None,
        age=max(gone, default=None),
        ahead=max(to_come, default=None),
    )


def _is_to_come(text: str, spell: Amount) -> bool:
    if _MORE.search(text[spell.last :]):
        return True
    return _FROM_NOW.search(text[: spell.first]) is not None and not text[spell.last :].lstrip().startswith(
        ("old", "ago", "after")
    )


def months(sentence: Sentence) -> list[Moment]:
    """Months that stand without a day, as their first days: no kept day is lost."""
    text = sentence.text.lower()
    days = [(day.first, day.last) for day in heard.days(sentence)]
    found = [
        (said.start(), said.end(), month_named(said[1]))
        for said in _MONTH.finditer(text)
        if not any(first <= said.start() < last for first, last in days)
    ]
    return [Moment(first, last, text[first:last], day=Day(day=1, month=month)) for first, last, month in found]


def _last_day(last: Moment | None, in_months: list[Moment]) -> Day | None:
    """The day at the end; of a month alone its last, in a year that is no leap year."""
    if last is None or last not in in_months:
        return None if last is None else last.day
    assert last.day is not None and last.day.month is not None
    return Day(day=monthrange(2027, last.day.month)[1], month=last.day.month)


def _ends(text: str, days: list[Moment], *, aged: bool) -> tuple[Moment | None, Moment | None]:
    """The day it is kept from and the day it is kept to. aged: how old it is was said, so that one lone day is the last."""
    first = next((day for day in days if _begins(text, day)), None)
    wanted = [day for day in days if day is not first and _ends_it(text, day)]
    last = wanted[-1] if wanted else None
    rest = [day for day in days if day is not first and day not in wanted]
    if first is None and rest and not (aged and last is None and len(rest) == 1):
        first = rest.pop(0)
    if last is None and rest:
        last = rest[-1]
    told = first is not None and _begins(text, first)
    if first is not None and last is not None and not told and _is_behind(last):
        first, last = last, first
    return first, last


def _begins(text: str, day: Moment) -> bool:
    before = _before(text, day)
    if _DONE_ON.search(before) or _DOES_ON.search(before):
        return True
    # "Monday's mince", and no "for Saturday's burgers"
    of_it = text[day.first : day.last].endswith("s") and day.day is not None and day.day.weekday is not None
    return (of_it or _is_behind(day)) and not _WANTED_ON.search(before)


def _ends_it(text: str, day: Moment) -> bool:
    ahead = day.day is not None and (day.day.relative or 0) > 0
    return ahead or _WANTED_ON.search(_before(text, day)) is not None


def _is_behind(day: Moment) -> bool:
    return day.day is not None and ((day.day.relative or 0) < 0 or day.day.last)


def _before(text: str, day: Moment) -> str:
    return text[max(0, day.first - 40) : day.first]


def dates(since: Since, today: date) -> tuple[date | None, date | None]:
    """The calendar days of both ends. A weekday that has gone is the latest one; one at the end is counted from today,
    or from the first day where that is still to come."""
    start = None if since.start is None else since.start.on(today, past=not since.later)
    if since.end is None:
        return start, None
    seen_from = max(start, today) if start is not None else today
    if since.end.weekday is not None and not since.end.last:
        end = since.end.on(seen_from)
        assert end is not None
        same = since.start is not None and since.start.weekday == since.end.weekday and end == start
        return start, end + A_WEEK if same or since.next_week else end
    if since.end.relative is None and since.end.day is not None and start is not None:
        return start, since.end.on(start)
    return start, since.end.on(today, past=since.end.last)


def days_kept(since: Since, start: date | None, end: date | None, today: date) -> Fraction | None:
    """Days from the one end to the other, the longest that was said; None where the first end is not known. Never less
    than none: a last day before the first is no span."""
    ahead = (since.ahead or Fraction(0)) / 24
    age = None if since.age is None else since.age / 24
    until = end or (max(today, start) if start is not None else today)
    counted = [] if start is None else [Fraction((until - start).days) + ahead]
    if age is not None:
        counted.append(age + ahead + (max((until - today).days, 0) if end is not None else 0))
    return max(counted, default=None)
