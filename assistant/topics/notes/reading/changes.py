"""Changes to one kept batch: another name, a remark, marks, a tag, or out of the notebook with it."""

from __future__ import annotations

import re

from assistant.language import naming
from assistant.language.phrases import Count, Moment, Phrase, Scale, Word
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Unclear
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import ASKING, POINTING, Line, bare_name
from assistant.topics.notes.reading.marks import WAS_MARKED, score_in, value_of, why_said
from assistant.topics.notes.request import IT, LAST, Score

_BARE_MARKS = Pattern(
    r"^\W*(?:(?:it|that|this|they|those)(?:\s*'?s|\s+is|\s+was|\s+were|\s+gets?|\s+got)?|i'?d\s+say|call\s+it)?\s*"
    r"(?:an?\s+)?(?:solid|strong|good|easy|definite|about|maybe|probably)?\s*"
    r"(?P<value>[0-9]{1,2}(?:\.[0-9])?|zero|one|two|three|four|five|six|seven|eight|nine|ten)(?:\s*,\s*(?P<why>[^0-9]+))?[\s.!]*$",
    re.IGNORECASE,
)
_RATE_IT = Pattern(
    r"^\W*(?:please\s+|let'?s\s+)?(?:rate|score|mark)\s+(?:it|this|that|this\s+one|that\s+one|(?:the|this|that)\s+batch)\W*$",
    re.I,
)
_OTHER_MARKS = Pattern(
    r"^\W*(?:(?:no|actually|sorry|wait|rather|make\s+(?:it|that)|i\s+mean|more\s+like|call\s+it|it'?s|an?|or)\W+)+(?P<value>[0-9]{1,2}(?:\.[0-9])?)"
    r"(?:\s*(?:/|out\s+of)\s*(?P<top>5|10))?[\s.!]*$",
    re.IGNORECASE,
)
_REMOVED = Pattern(
    r"\b(?:remove|delete|take|drop|erase|forget|strike|cross)\s+(?P<name>.+?)\s+(?:from|out\s+of)\s+(?:the|my|our)\s+(?:note\s?book|book|log)\b",
    re.IGNORECASE,
)

_GIVEN_TO = Pattern(r"\b(?:i|we|i'?d|we'?d|they)\s+(?:would\s+)?(?:give|gave|rate|rated|score|scored)\b", re.IGNORECASE)
_CALL = Pattern(r"\W*(?:(?:from\s+now\s+on|please|let'?s)\W+)?(?:call|name)\s+(?:the\s+)?", re.IGNORECASE)
_FROM_NOW_ON = Pattern(r"(?:\s+(?:from\s+now\s+on|instead|now|please))+\W*$", re.IGNORECASE)
_THROWN = Pattern(
    r"^\W*(?:please\s+|let'?s\s+)?(?:throw|bin|get\s+rid\s+of|scrap|remove|cross\s+out|lose|ditch|dump)\b",
    re.IGNORECASE,
)
_TAG_TAKEN_OFF = Pattern(r"\b(?:take|remove|drop|delete|pull)\b.*\btags?\b|\bun-?\s?tag\b", re.IGNORECASE)
_TAGGING = {
    False: (
        Pattern(r"\btag(?:ged|s)?\s+(?:(?P<name>\S.*?)\s+)?(?:as|with|for)\s+(?P<tag>.+)$", re.IGNORECASE),
        Pattern(r"\badd\s+(?:(?:a|the)\s+)?tags?\s+(?P<tag>.+?)\s+(?:to|on)\s+(?P<name>.+)$", re.IGNORECASE),
        Pattern(r"\btag(?:ged|s)?\b\s*(?P<tag>.*)$(?P<name>)", re.IGNORECASE),
    ),
    True: (
        Pattern(r"\bthe\s+(?P<tag>\S+)\s+tags?(?:\s+(?:off|from|on)\s*(?P<name>.*))?$", re.IGNORECASE),
        Pattern(r"\b(?:un-?\s?)?tags?\s+(?P<tag>.+?)\s+(?:from|off|on)\b\s*(?P<name>.*)$", re.IGNORECASE),
        Pattern(r"\b(?:un-?\s?)?tags?\b\s*(?P<tag>.*)$(?P<name>)", re.IGNORECASE),
    ),
}
"""How tags are put on and taken off, the fullest wording first."""
_BETWEEN_TAGS = Pattern(r"\s*,\s*(?:and\s+)?|\s+and\s+|\s*&\s*", re.IGNORECASE)


def renamed(line: Line) -> Reading | None:
    """Another name for a batch."""
    if line.known and _CALL.fullmatch(line.text[: line.known[0].first]):
        new = naming.tidy(_FROM_NOW_ON.sub("", line.text[line.known[0].last :]))
        return line.whole(request.Rename(line.known[0].payload, new) if new else Unclear("Call it what?"))
    if not line.sentence.has("rename", "forget_batch", "swap"):
        return None
    found = naming.renamed(line.text)
    if found is None:
        return line.whole(Unclear("Rename which batch, and to what?")) if line.sentence.has("rename") else None
    old = bare_name(found[0])
    return line.whole(request.Rename(line.which(old), found[1]))


def remarked(line: Line) -> Reading | None:
    """A remark, which is free text whatever it names."""
    if not line.sentence.has("note_it", "save_it"):
        return None
    said = naming.remark(line.text)
    if said is None:
        return None
    cue = line.sentence.cue("note_it", "save_it")
    if (
        line.new
        or cue is None
        or not re.match(r"^\W*(?:and|also|please|add|make|write|take|a|put|one)?\W*(?:a\s+)?$", line.text[: cue.first])
    ):
        return None
    return line.whole(request.Remarked(line.which(bare_name(said.whose)), said.text))


def rated(line: Line) -> Reading | None:
    """Marks for a batch: "rate the last one 7, crust great", "8 out of 10", and "7" where marks were asked for."""
    sentence, text = line.sentence, line.text
    bare = _BARE_MARKS.match(text)
    if (again := _corrected(line)) is not None:
        return again
    if bare and line.talk.pending is not None and isinstance(line.talk.pending.request, request.Rate):
        marks = Score(value_of(bare["value"]), 10, taken=True)
        return line.whole(request.Rate(line.talk.pending.request.name, marks, (bare["why"] or "").strip()))
    score, place = score_in(line)
    found = naming.marks(text)
    asked = sentence.has("rate_it") or (sentence.has("rate_of") and (bool(line.known) or sentence.has("last_one")))
    asked = asked or bool(re.match(r"\W*(?:please\s+)?(?:rate|score|give(?!\s+me))\b", text, re.IGNORECASE))
    asked = asked or bool(line.known and _GIVEN_TO.search(text)) or _was_marked(line)
    if found is None and sentence.has("again", "repeat", "same_again"):
        return None
    if not asked and found is None and not (bare and _may_be_marks(line)):
        return None
    if found is not None and not asked and _more_than_marks(line, found.first, found.last):
        return None
    if naming.many_marks(text) and asked:
        return line.whole(Unclear("One batch at a time, please: say the marks of the first one by itself."))
    if score is None and bare:
        score, place = Score(value_of(bare["value"]), 10, taken=True), bare.span("value")
    if score is None:
        pointed = line.known or sentence.has("last_one") or _RATE_IT.match(text)
        if (found is None and not pointed) or not line.is_plain():
            return None
        if ASKING.match(text.strip()):
            return line.whole(request.Recall(line.which()))
        return line.whole(request.Rate(line.which(), None))
    if not _only_about_batches(line, place):
        return None
    return line.whole(
        request.Rate(_rated_name(line, place[0]), score, why_said(text[place[1] :])), 2 if asked or found else 1
    )


def _corrected(line: Line) -> Reading | None:
    """ "actually 9", "make that 8 out of 10" right after marks were given: other marks for the same batch."""
    last, said = line.talk.last, _OTHER_MARKS.match(line.text)
    if said is None or not isinstance(last, request.Rate) or line.known:
        return None
    top = int(said["top"]) if said["top"] else 10
    return line.whole(request.Rate(last.name, Score(value_of(said["value"]), top, taken=not said["top"])), 3)


def _was_marked(line: Line) -> bool:
    """ "fair stall was a 6": marks of a batch that is named, and nothing else in the line."""
    return bool(line.known) and WAS_MARKED.search(line.text) is not None and line.is_plain(Count, Moment)


def _may_be_marks(line: Line) -> bool:
    """ "it was a 7" follows a batch that was just saved or shown."""
    return line.talk.topic == "notes" and bool(re.search(r"\b(?:was|is|gets?|solid)\b", line.text))


def _more_than_marks(line: Line, first: int, last: int) -> bool:
    """Whether figures or food stand beside the marks: then "4/5" is a fraction of something."""
    beside = [p for p in line.sentence.substance() if p.last <= first or p.first >= last]
    return any(not isinstance(p, _small(line, first, last)) for p in beside)


def _only_about_batches(line: Line, place: tuple[int, int]) -> bool:
    """No amounts or food before the marks: what comes after them is the cook's remark, whatever it names."""
    return all(isinstance(p, _small(line, *place)) or p.first >= place[0] for p in line.sentence.substance())


def _small(line: Line, first: int, last: int) -> tuple[type[Phrase], ...]:
    """What may stand beside marks without being a batch: after a batch was kept, numbers too ("half a point short of
    perfect, 9.5 out of 10")."""
    surely = line.talk.topic == "notes" and re.search(r"\bout\s+of\b", line.text[first:last], re.IGNORECASE)
    return (Word, Moment, Count, Scale) if surely else (Word, Moment)


def _rated_name(line: Line, until: int) -> str:
    if line.known or line.sentence.has("last_one"):
        return line.which()
    if not re.match(r"\W*(?:please\s+)?(?:rate|score|give|i)\b", line.text, re.IGNORECASE):
        return IT
    before = re.sub(
        r"^\W*(?:please\s+)?(?:rate|score|give|i'?d\s+(?:rate|give)|i\s+(?:rate|give))\s+",
        "",
        line.text[:until],
        flags=re.I,
    )
    before = re.sub(
        r"\s*(?:an?|at|as|:|was|is|gets?|got|scored|rated|maybe|about|for|-|,)?\s*$", "", before.strip(), flags=re.I
    )
    name = bare_name(before)
    words = {word.text.lower() for word in line.sentence.unknown}
    return name if words & set(name.lower().split()) else IT


def tagged(line: Line) -> Reading | None:
    """Tags on a batch, or off it."""
    if not line.sentence.has("tag", "untag"):
        return None
    off = line.sentence.has("untag") or _TAG_TAKEN_OFF.search(line.text) is not None
    found = (pattern.search(line.text) for pattern in _TAGGING[off])
    said = next((match for match in found if match is not None), None)
    if said is None:  # the word itself was misspelt
        return line.whole(Unclear("Tag which batch, and with what word?"))
    words = re.sub(r"^(?:it|that|this|the\s+last\s+one)(?:\s+|$)", "", naming.tidy(said["tag"]), flags=re.IGNORECASE)
    tags = tuple(filter(None, (bare_tag(word) for word in _BETWEEN_TAGS.split(words))))
    if not tags:
        return line.whole(Unclear("Take which tag off?" if off else "Tag it with what word?"))
    whose = bare_name(naming.tidy(said["name"] or ""))
    last = re.search(r"\blast\s+(?:one|batch)\b", said["name"] or line.text, re.IGNORECASE) is not None
    return line.whole(request.Tagged(LAST if last else line.which(whose), tags, off))


def bare_tag(text: str) -> str:
    """A tag without a quote, an article or the word tag around it."""
    return re.sub(r"^(?:the|a|with|as)\s+|\s+tags?$", "", naming.tidy(text), flags=re.IGNORECASE).strip()


def forgotten(line: Line) -> Reading | None:
    """A batch to be taken out of the notebook."""
    if _THROWN.search(line.text) and len(line.known) == 1 and line.is_plain():
        return line.whole(request.Forget(line.which()))
    cue = line.sentence.cue("forget_batch")
    if cue is None or not (line.is_plain(Moment) or line.known):
        return None
    removed = _REMOVED.search(line.text)
    region = bare_name(removed["name"]) if removed is not None else line.region("forget_batch")
    pointed = line.sentence.has("last_one") or re.search(r"\bbatch\b|\bnotebook\b", line.text, re.IGNORECASE)
    if line.known or pointed:
        if removed is None and cue.text.lower().split()[0] in ("from", "out"):
            return line.whole(Unclear("Take which batch out of the notebook?"))
        return line.whole(request.Forget(line.which(region)))
    verb = cue.text.lower().split()[0]
    if (
        verb in ("delete", "erase", "forget")
        and line.is_plain()
        and not re.match(r"(?:about|all|everything)\b", region)
    ):
        if not POINTING.match(region):
            return line.whole(request.Forget(region), 1)
        return line.whole(request.Forget(IT), 1) if verb != "forget" else None
    return None
