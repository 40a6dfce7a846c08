"""Questions about one batch, or two side by side."""

from __future__ import annotations

import re

from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import Count, CutName, Moment, Phrase, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Unclear
from assistant.topics.notes import periods, request
from assistant.topics.notes.reading.line import POINTING, Line, bare_name
from assistant.topics.notes.request import IT, LAST, PREVIOUS

_SPLIT = Pattern(r"\s+(?:and|with|to|vs\.?|versus|against|or|from)\s+|\s*[,&]\s*", re.IGNORECASE)
_ABOUT = Pattern(
    r"\b(?:note|notes|remarks?)\b.*?\b(?:on|for|about)\s+(?P<noted>.+)$|\bhow\s+did\s+(?P<scored>.+?)\s+(?:score|rate)\b"
    r"|\bhow\s+did\s+(?P<done>.+?)\s+(?:do|turn|go|come)\b"
    r"|\bwhat\s+(?:did|does)\s+(?P<got>.+?)\s+(?:score|get|rate|earn)\b|\bwhen\s+did\s+(?:i|we)\s+(?:make|save|do)\s+(?P<made>.+)$|\bwhat\s+was\s+(?P<rated>.+?)\s+(?:rated|scored)\b",
    re.IGNORECASE,
)
_SHOWN = Pattern(
    r"^\W*(?:please\s+)?(?:show(?:\s+me)?|open|what'?s\s+in|what\s+is\s+in)\s+(?P<name>[^?!]{2,60}?)\W*$", re.IGNORECASE
)
_IN_THE_PAST = Pattern(
    r"\bwhat\s+(?:was|went)\s+in(?:to)?\b|\bwhat\s+did\s+(?:i|we)\s+put\s+in|\brecipe\s+for\b", re.IGNORECASE
)
_VERSUS = Pattern(
    r"^\W*(?P<one>[^,;.?!]{2,40}?)\s+(?:vs\.?|versus|against|compared\s+(?:to|with))\s+(?P<other>[^,;.?!]{2,40}?)\W*$",
    re.IGNORECASE,
)
_BETTER = Pattern(r"\b(?:better|nicer|tastier|juicier|preferred|prefer|liked?\s+(?:more|best))\b", re.IGNORECASE)
_THEM = Pattern(r"\b(?:between|compare|of)\s+(?:them|those|these|the\s+two|both)\b", re.IGNORECASE)
_BEFORE = Pattern(
    r"\b(?:version|one|batch)\s+before\b|\b(?:previous|earlier|last|prior)\s+version\b|\bprevious\s+(?:one|batch)\b|\bbefore\s+(?:it|that)\b"
    r"|\b(?:since|from|to|with|than)\s+last\s+time\b",
    re.IGNORECASE,
)
_BEST = Pattern(r"\b(?:the|my|our)\s+(?:best|winner|favou?rite|top)(?:\s+(?:one|batch|blend|mix))?\W*$", re.IGNORECASE)


def recalled(line: Line) -> Reading | None:
    """One batch shown."""
    sentence = line.sentence
    if line.new:
        return None
    asked = _ABOUT.search(line.text)
    if asked is not None and line.is_plain():
        told = next(said for said in asked.groups() if said is not None)
        marks = any(asked[group] is not None for group in ("scored", "got", "rated"))
        return line.whole(request.Recall(line.which(bare_name(told)), marks))
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
        return _by_name_alone(line)
    if sentence.has("show") and sentence.has("last_one") and line.is_plain():
        return line.whole(request.Recall(LAST))
    if sentence.has("show", "recall") and _BEST.search(line.text) and line.is_plain():
        return line.whole(request.Best())
    named = _SHOWN.match(line.text)
    name = "" if named is None else bare_name(named["name"])
    if name and line.is_plain() and not POINTING.match(name) and len(name.split()) <= 5 and not _is_talk(name):
        return line.whole(request.Recall(name), 1)
    return None


def _by_name_alone(line: Line) -> Reading:
    """A name and small words show the batch; a word beside it that is not understood may ask for anything."""
    name = line.named(line.known[0])
    told = line.version_words(line.known[0])
    others: list[Phrase] = [*line.sentence.unknown, *line.sentence.of(Count)]
    strange = [f'"{phrase.text}"' for phrase in others if phrase not in told]
    if not strange:
        return line.whole(request.Recall(name), 1)
    wishes = f'"show {name}", "{name} again for 4 kg", "rate {name} 8/10", "rename {name} to …" or "forget {name}"'
    return line.whole(
        Unclear(f"What about {name}: I do not know {', '.join(strange[:3])} here. Say for example {wishes}."), 1
    )


def _is_talk(name: str) -> bool:
    """Things that are shown or asked about but are no saved batch."""
    return (
        re.search(r"\b(?:there|mix|plan|steps?|math|working|more|here|fridge|freezer|kitchen|settings)\b", name, re.I)
        is not None
    )


def compared(line: Line) -> Reading | None:
    """Two batches side by side: by name, the last two, a batch and the version before it, or the one spoken of."""
    sentence = line.sentence
    versus = _VERSUS.match(line.text) if line.is_plain() else None
    asked = sentence.has("compare") or (versus is not None and (bool(line.known) or line.talk.topic == "notes"))
    better = sentence.has("worth", "best") or _BETTER.search(line.text) is not None
    if not asked and not (better and len(line.known) == 2):
        return None
    if len(line.known) == 2 and len(_halves(line)) <= 2:
        return line.whole(request.Compare(line.named(line.known[0]), line.named(line.known[1])))
    if not line.known and _THEM.search(line.text):
        two = line.talk.last if isinstance(line.talk.last, request.Compare) else request.LastTwo()
        return line.whole(two, 3)  # surer than what changed between two answers
    if sentence.has("last_two") or re.search(r"\b(?:last|latest)\s+(?:two|2|couple)\b", line.text, re.I):
        return line.whole(request.LastTwo())
    if _BEFORE.search(line.text) and len(line.known) <= 1:
        name = line.named(line.known[0]) if line.known else IT
        return line.whole(request.Compare(PREVIOUS + name, name))
    halves = [versus["one"], versus["other"]] if versus is not None else _halves(line)
    if len(halves) == 2 and not sentence.of(Weighed):
        sure = all(_is_labelled(line, half) for half in halves) or bool(line.known)
        return line.whole(request.Compare(*(_which_half(half) for half in halves)), 2 if sure else 1)
    if line.known and line.is_plain():
        question = (
            "I compare two at a time: which two?"
            if len(halves) > 2
            else f"Compare {line.known[0].payload} with which other one?"
        )
        return line.whole(Unclear(question))
    return None


def _halves(line: Line) -> list[str]:
    """What stands on either side of "and", "with" or their like, beside the word that compares."""
    region = line.region("compare")
    if not region:
        region = bare_name(line.text[: _place(line.sentence.cue("compare"))])
    region = re.sub(r"^(?:between|how|do|does)\s+|[?]|\s+differ.*$", "", region, flags=re.IGNORECASE)
    return [bare_name(half) for half in _SPLIT.split(region) if bare_name(half)]


def _is_labelled(line: Line, name: str) -> bool:
    return f"label {name.casefold()}" in line.talk.settings


def _which_half(half: str) -> str:
    if re.match(r"(?:the\s+)?(?:last|latest)\b", half, re.IGNORECASE):
        return LAST
    return IT if POINTING.match(half) else half


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


def _place(word: Word | None) -> int:
    return 0 if word is None else word.first
