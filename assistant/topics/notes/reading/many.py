"""Questions over many batches: the best, the last few, what was used, what holds a word, what to try next."""

from __future__ import annotations

import re
from fractions import Fraction

from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import Count, CutName, Moment, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Unclear
from assistant.topics.notes import periods, request
from assistant.topics.notes.reading.line import Line
from assistant.topics.notes.request import LAST

_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "ten": 10}
_NUMBER = r"(?P<count>[0-9]{1,2}|two|three|four|five|six|ten)"
_TOP = Pattern(
    rf"\W*(?:show\s+(?:me\s+)?)?(?:the\s+|my\s+|our\s+)?(?:top|best)\s+{_NUMBER}\W*(?:so far|batches|of them)?\W*$",
    re.IGNORECASE,
)
_LATEST = Pattern(
    rf"\W*(?:show\s+(?:me\s+)?|list\s+|what\s+were\s+)?(?:the\s+|my\s+|our\s+)?(?:last|latest|newest|most\s+recent)\s+{_NUMBER}"
    r"(?:\s+(?:ones|batches|blends|mixes|i\s+(?:made|saved)|we\s+(?:made|saved)))*\W*$",
    re.IGNORECASE,
)
_RANKED = Pattern(
    r"\b(?:rank|ranking|league\s+table|leaderboard)\b|\b(?:sort(?:ed)?|order(?:ed)?)\s+(?:them\s+|my\s+batches\s+|the\s+batches\s+)?by\s+(?:rating|score|marks)\b"
    r"|\b(?:show|list|see|what\s+are)\s+(?:me\s+)?(?:all\s+)?(?:the\s+|my\s+|our\s+)?(?:ratings|scores|marks)\b",
    re.IGNORECASE,
)
_MARKED = Pattern(
    r"\b(?:rated|scored|marked|with|anything|everything|batches|ones|got|that\s+got)\s+(?:at\s+)?(?:an?\s+)?"
    r"(?P<side>over|above|under|below|less\s+than|more\s+than|better\s+than|at\s+least|at\s+most)?\s*(?P<marks>10|[0-9](?:\.[0-9])?)"
    r"(?:\s*(?:/|out\s+of)\s*(?P<top>5|10))?\s*(?P<after>or\s+(?:more|better|over|above|higher|up|less|lower|under|below|worse)|and\s+(?:up|over|above|under|below))?\W*$",
    re.IGNORECASE,
)
_EVER = Pattern(
    r"\b(?:have|did|has)\s+(?:i|we)\s+(?:ever\s+|last\s+|already\s+|before\s+)?(?:use|used|make|made|put|grind|ground|mince|minced|try|tried|have|had)\b",
    re.IGNORECASE,
)
_SOUGHT = Pattern(r"\W*(?:please\s+)?(?:find|search|look)\b(?!.*\b(?:for\s+me|how|price|cheap)\b)", re.IGNORECASE)
_GIVES_MARKS = Pattern(r"\W*(?:please\s+)?(?:rate|score|mark|give)\b.*[0-9]", re.IGNORECASE)
_WHICH_WAS = Pattern(
    r"^\W*which\s+(?:ones?|batch(?:es)?)\s+(?:was|were|came\s+out|turned\s+out)\s+"
    r"(?:(?:too|rather|quite|a\s+(?:bit|touch|little))\s+)*(?P<words>[a-z]{3,}(?:\s+[a-z]{3,})?)\W*$",
    re.IGNORECASE,
)
_HOW_MANY = Pattern(r"\bhow\s+many\s+(?:batches|blends|mixes|recipes)\b", re.IGNORECASE)
_NO_WORDS_TO_FIND = Pattern(
    r"\b(?:most|least|did|was|were|is|are|has\s+the|had\s+the|should|would|can)\b", re.IGNORECASE
)


def asked_over_all(line: Line) -> Reading | None:
    """What all ratings say: what to try next, the mean, the best and the worst, those in a range of marks."""
    sentence = line.sentence
    if sentence.has("next_blend") and line.is_plain(CutName):
        return line.whole(request.Next())
    if sentence.has("average") and line.is_plain(Moment):
        here = re.search(r"\b(?:they|them|those|these)\b", line.text, re.IGNORECASE) is not None
        return line.whole(request.Average(tuple(name.payload for name in line.known), here))
    if line.is_plain() and _RANKED.search(line.text):
        return line.whole(request.Best(_MANY))
    between = _between(line)
    if between is not None:
        return between
    if (
        sentence.has("best", "worst")
        and not _GIVES_MARKS.match(line.text)
        and line.is_plain(Count, Moment)
        and not sentence.has("again", "repeat", "same_again")
    ):
        cue = sentence.cue("best", "worst")
        count = _how_many(line, cue)
        return line.whole(request.Best(count, sentence.has("worst")))
    top = _TOP.match(line.text)
    return None if top is None else line.whole(request.Best(_counted(top["count"])))


_MANY = 10
"""Batches of a ranking that nobody gave a length."""


def _between(line: Line) -> Reading | None:
    """ "batches rated 7 or more", "anything under 5"."""
    found = _MARKED.search(line.text)
    about = line.sentence.has("rate_it", "batches", "saved_list", "search", "show") or line.talk.topic == "notes"
    if found is None or not about or line.known or not (found["side"] or found["after"]):
        return None
    if any(not isinstance(p, Word | Count) and p.first < found.start() for p in line.sentence.substance()):
        return None
    marks = Fraction(found["marks"]) / int(found["top"] or 10)
    said = f"{found['side'] or ''} {found['after'] or ''}".lower()
    low = re.search(r"under|below|less|most|lower|worse", said) is not None
    strictly = bool(found["side"]) and "at " not in said
    if low:
        return line.whole(request.Best(_MANY, worst=True, most=marks, strictly=strictly))
    return line.whole(request.Best(_MANY, least=marks, strictly=strictly))


def _how_many(line: Line, cue: Word | None) -> int:
    numbers = [count.value for count in line.sentence.of(Count)]
    if numbers and numbers[0].denominator == 1 and 0 < numbers[0] <= 50:
        return int(numbers[0])
    words = line.text.lower().split()
    if cue is not None and cue.text.lower().split()[-1] in ("batches", "favourites", "favorites"):
        return 3
    return next((_NUMBERS[word] for word in words if word in _NUMBERS), 1)


def _counted(word: str) -> int:
    return _NUMBERS.get(word.lower()) or max(1, int(word))


def listed(line: Line) -> Reading | None:
    """The names of all that is saved, or what the last few were."""
    latest = _LATEST.match(line.text)
    if latest is not None:
        return line.whole(request.Latest(_counted(latest["count"])))
    if _HOW_MANY.search(line.text) and line.is_plain() and not line.known:
        return line.whole(request.Listing())
    if not line.sentence.has("saved_list") or line.known or not line.is_plain() or _RANKED.search(line.text):
        return None
    return line.whole(request.Listing(), 1 if line.text.strip().lower() in ("list", "saved", "list them") else 2)


def searched(line: Line) -> Reading | None:
    """Batches with certain words in them."""
    sentence = line.sentence
    food: list[CutName | SeasoningName] = [*sentence.of(CutName), *sentence.of(SeasoningName)]
    if (
        _EVER.search(line.text)
        and len(food) == 1
        and not sentence.of(Weighed)
        and not sentence.has("how_much", "how_many")
    ):
        if periods.find(line.text) is None and all(moment.day is None for moment in sentence.of(Moment)):
            return line.whole(request.Search(food[0].name))
    sought = _SOUGHT.match(line.text)
    if sought is not None and len(food) == 1 and line.is_plain(CutName, SeasoningName):
        return line.whole(request.Search(food[0].name))
    which = _WHICH_WAS.match(line.text)
    if which is not None and line.is_plain(Count) and not sentence.has("best", "worst", "compare"):
        return line.whole(request.Search(which["words"]), 3)  # "dry" of the past is a remark, and no wish to mend
    if not sentence.has("search"):
        return None
    words = line.region("search")
    words = re.sub(
        r"\b(?:in\s+(?:it|them)|in\s+the\s+notebook|did\s+(?:i|we)\s+use|with|had|has|have|used|tagged)\b",
        "",
        words,
        flags=re.I,
    )
    words = " ".join(words.split())
    if not words or _NO_WORDS_TO_FIND.search(words):
        return line.whole(
            Unclear(
                'Look for what in the notebook? A word of a name, cut, seasoning, tag or note finds it: "batches with suet".'
            )
        )
    return line.whole(request.Search(words))


def used(line: Line) -> Reading | None:
    """What was used in a stretch of days."""
    sentence = line.sentence
    if not sentence.has("used"):
        return None
    found = periods.find(line.text)
    days = [moment for moment in sentence.of(Moment) if moment.day is not None]
    cuts = sentence.of(CutName)
    if found is not None:
        period = found[2]
    elif len(days) == 1 and days[0].day is not None:
        since = re.search(r"\bsince\b", line.text, re.IGNORECASE) is not None
        period = periods.Period(days[0].text, "day", since=since, day=days[0].day)
    elif sentence.has("last_one") and not cuts:
        return line.whole(request.Recall(LAST))
    else:
        return None
    if len(cuts) > 1 or sentence.of(Weighed):
        return None
    return line.whole(request.Used(period, cuts[0].name if cuts else ""))
