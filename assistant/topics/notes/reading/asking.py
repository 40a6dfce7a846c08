"""Questions to the notebook: one batch, two side by side, or all of them."""

from __future__ import annotations

import re

from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import Count, CutName, Moment, SeasoningName, Word
from assistant.topics.base import Reading, Unclear
from assistant.topics.notes import periods, request
from assistant.topics.notes.reading.line import POINTING, Line, bare_name
from assistant.topics.notes.request import IT, LAST

_SPLIT = re.compile(r"\s+(?:and|with|to|vs\.?|versus|against|or|from)\s+|\s*[,&]\s*", re.IGNORECASE)
_ABOUT = re.compile(
    r"\b(?:note|notes|remarks?)\b.*?\b(?:on|for|about)\s+(?P<noted>.+)$|\bhow\s+did\s+(?P<done>.+?)\s+(?:score|do|rate|turn|go|come)\b"
    r"|\bwhen\s+did\s+(?:i|we)\s+(?:make|save|do)\s+(?P<made>.+)$|\bwhat\s+was\s+(?P<rated>.+?)\s+(?:rated|scored)\b",
    re.IGNORECASE,
)
_SHOWN = re.compile(
    r"^\W*(?:please\s+)?(?:show(?:\s+me)?|open|what'?s\s+in|what\s+is\s+in)\s+(?P<name>[^?!]{2,60}?)\W*$", re.IGNORECASE
)
_IN_THE_PAST = re.compile(
    r"\bwhat\s+(?:was|went)\s+in(?:to)?\b|\bwhat\s+did\s+(?:i|we)\s+put\s+in|\brecipe\s+for\b", re.IGNORECASE
)
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5}


def recalled(line: Line) -> Reading | None:
    """One batch shown."""
    sentence = line.sentence
    if line.new:
        return None
    asked = _ABOUT.search(line.text)
    if asked is not None and line.is_plain():
        told = next(said for said in asked.groups() if said is not None)
        return line.whole(request.Recall(line.which(bare_name(told))))
    if sentence.has("recall"):
        region = line.region("recall")
        if line.known or sentence.has("last_one"):
            return line.whole(request.Recall(line.which(region)))
        if region and _IN_THE_PAST.search(line.text) and not sentence.of(Weighed):
            return line.whole(request.Recall(region))
        if not region or not (sentence.unknown or line.talk.plan is None or region[0].isupper()):
            return None
        figures = any(
            not isinstance(p, Word | CutName | Moment | SeasoningName) and not hasattr(p, "each")
            for p in sentence.substance()
        )
        return None if figures else line.whole(request.Recall(region), 1)
    if line.known and line.is_plain(Moment, Count):
        return line.whole(request.Recall(line.named(line.known[0])), 1)
    if sentence.has("show") and sentence.has("last_one") and line.is_plain():
        return line.whole(request.Recall(LAST))
    named = _SHOWN.match(line.text)
    name = "" if named is None else bare_name(named["name"])
    if name and line.is_plain() and not POINTING.match(name) and len(name.split()) <= 5 and not _is_talk(name):
        return line.whole(request.Recall(name), 1)
    return None


def _is_talk(name: str) -> bool:
    """Things that are shown or asked about but are no saved batch."""
    return (
        re.search(r"\b(?:there|mix|plan|steps?|math|working|more|here|fridge|freezer|kitchen|settings)\b", name, re.I)
        is not None
    )


def compared(line: Line) -> Reading | None:
    """Two batches side by side: by name, the last two, or the one spoken of and another."""
    sentence = line.sentence
    if not sentence.has("compare") and not (sentence.has("worth", "best") and len(line.known) == 2):
        return None
    if len(line.known) >= 2:
        return line.whole(request.Compare(line.named(line.known[0]), line.named(line.known[1])))
    if sentence.has("last_two") or re.search(r"\b(?:last|latest)\s+(?:two|2|couple)\b", line.text, re.I):
        return line.whole(request.LastTwo())
    region = line.region("compare")
    if not region and sentence.has("compare"):
        region = bare_name(line.text[: _place(sentence.cue("compare"))])
    region = re.sub(r"^(?:between|how|do|does)\s+|[?]|\s+differ.*$", "", region, flags=re.IGNORECASE)
    halves = [bare_name(half) for half in _SPLIT.split(region) if bare_name(half)]
    if len(halves) == 2 and not sentence.of(Weighed):
        sure = all(_is_labelled(line, half) for half in halves) or bool(line.known)
        return line.whole(request.Compare(*(_which_half(half) for half in halves)), 2 if sure else 1)
    return None


def _is_labelled(line: Line, name: str) -> bool:
    return f"label {name.casefold()}" in line.talk.settings


def _which_half(half: str) -> str:
    if re.match(r"(?:the\s+)?(?:last|latest)\b", half, re.IGNORECASE):
        return LAST
    return IT if POINTING.match(half) else half


def asked_over_all(line: Line) -> Reading | None:
    """What all ratings say: what to try next, the mean, the best and the worst."""
    sentence = line.sentence
    if sentence.has("next_blend") and line.is_plain(CutName):
        return line.whole(request.Next())
    if sentence.has("average") and line.is_plain(Moment):
        here = re.search(r"\b(?:they|them|those|these)\b", line.text, re.IGNORECASE) is not None
        return line.whole(request.Average(tuple(name.payload for name in line.known), here))
    if sentence.has("best", "worst") and line.is_plain(Count, Moment):
        cue = sentence.cue("best", "worst")
        count = _how_many(line, cue)
        return line.whole(request.Best(count, sentence.has("worst")))
    if re.match(
        r"\W*(?:the\s+)?(?:top|best)\s+(?:[0-9]{1,2}|two|three|four|five)\W*(?:so far|batches|of them)?\W*$",
        line.text,
        re.I,
    ):
        return line.whole(request.Best(_how_many(line, None)))
    return None


def _how_many(line: Line, cue: Word | None) -> int:
    numbers = [count.value for count in line.sentence.of(Count)]
    if numbers and numbers[0].denominator == 1 and 0 < numbers[0] <= 50:
        return int(numbers[0])
    words = line.text.lower().split()
    if cue is not None and cue.text.lower().split()[-1] in ("batches", "favourites", "favorites"):
        return 3
    return next((_NUMBERS[word] for word in words if word in _NUMBERS), 1)


def listed(line: Line) -> Reading | None:
    """The names of all that is saved."""
    if not line.sentence.has("saved_list") or line.known or not line.is_plain():
        return None
    return line.whole(request.Listing(), 1 if line.text.strip().lower() in ("list", "saved", "list them") else 2)


def searched(line: Line) -> Reading | None:
    """Batches with certain words in them."""
    if not line.sentence.has("search"):
        return None
    words = line.region("search")
    words = re.sub(
        r"\b(?:in\s+(?:it|them)|in\s+the\s+notebook|did\s+(?:i|we)\s+use|with|had|has|have|used|tagged)\b",
        "",
        words,
        flags=re.I,
    )
    words = " ".join(words.split())
    return line.whole(request.Search(words)) if words else line.whole(Unclear("Look for what in the notebook?"))


def amount_used(line: Line) -> Reading | None:
    """ "how much salt did I use last time", "how much chuck was in fair stall"."""
    sentence = line.sentence
    past = sentence.has("used", "last_one", "recall") or bool(line.known)
    things: list[CutName | SeasoningName] = [*sentence.of(SeasoningName), *sentence.of(CutName)]
    if not past or not sentence.has("how_much", "what", "how_many") or len(things) != 1 or sentence.of(Weighed):
        return None
    if periods.find(line.text) is not None or sentence.of(Moment):
        return None
    within_name = re.search(r"\bin\s+(?:the\s+)?(?P<name>[^?]+?)\s*\??$", line.text, re.IGNORECASE)
    name = line.which() if line.known or sentence.has("last_one") else ""
    if not name and within_name is not None and not POINTING.match(bare_name(within_name["name"])):
        name = bare_name(within_name["name"])
    return line.whole(request.Amount(name, things[0].name))


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


def _place(word: Word | None) -> int:
    return 0 if word is None else word.first
