"""From a line to what is to be put on paper, and where."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, timetable, within
from assistant.topics.base import Pending, Reading, Talk
from assistant.topics.card.request import SUFFIXES, Kind, Paper

NAME = "card"
_FILE = Pattern(
    r"(?:\"(?P<quoted>[^\"]*\.(?:ics|md|markdown|txt))\"|(?P<bare>[^\s\"]+\.(?:ics|md|markdown|txt))\b)", re.IGNORECASE
)
_WRITTEN = Pattern(r"^(?:write|print)\b", re.IGNORECASE)
_BOOK = Pattern(r"\b(?:note\s?book|book|log)\b", re.IGNORECASE)
_ONLY_A_LABEL = Pattern(r"^\W*labels?\W*$|\blabels?\s+(?:as|to|in|into)\s+\S+\.txt\b", re.IGNORECASE)
"""The label of a pack of meat is talked about too: "the shin is 9% by the label"."""
_MARKDOWN = Pattern(r"\bmarkdown\b", re.IGNORECASE)
_PASSED = (
    "save_it",
    "this",
    "timetable",
    "card",
    "label_it",
    "calendar",
    "mix",
    "freezer",
    "fridge",
    "pack",
    "for_that",
)


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """A card, a label or calendar entries; a name that ends like a file makes it a file."""
    file, taken = _file(sentence)
    if not file and isinstance(talk.pending, Pending) and talk.pending.topic == NAME:
        return _named(sentence, talk.pending)
    kind = _kind(sentence, file)
    if kind is None:
        return None
    paper = Paper(kind, file, markdown=_MARKDOWN.search(sentence.text) is not None)
    taken |= within.cues(sentence, _PASSED)
    if kind is Kind.LABEL:
        paper, more = _label(sentence, paper)
        taken |= more
    rest = within.without(sentence, taken)
    first = _before(rest, talk) if any(not isinstance(phrase, Word) for phrase in rest.substance()) else None
    if first is not None:
        paper, taken = replace(paper, first=first.request), taken | first.used
    return Reading(paper, taken, 3)


def _file(sentence: Sentence) -> tuple[str, frozenset[Phrase]]:
    """The file name in a line and the phrases it covers; a name with blanks where it stands as a name of its own."""
    for name in within.names(sentence):
        if name.payload.lower().endswith(tuple(SUFFIXES)):
            return name.payload, frozenset({name})
    found = _FILE.search(sentence.text)
    if found is None:
        return "", frozenset()
    return found["quoted"] or found["bare"], within.overlapping(sentence, *found.span())


def _kind(sentence: Sentence, file: str) -> Kind | None:
    if file.lower().endswith(".ics") or (sentence.has("calendar") and not sentence.words("name")):
        return Kind.CALENDAR
    if (sentence.has("label_it") or _ONLY_A_LABEL.search(sentence.text)) and not sentence.has(
        "use_by", "label_date", "keep"
    ):
        return Kind.LABEL
    if file or (sentence.has("card") and not sentence.words("name")):
        return Kind.CARD
    saving = sentence.cue("save_it")
    written = saving is not None and _WRITTEN.match(saving.text) is not None
    return Kind.CARD if written and not sentence.words("name") and not _BOOK.search(sentence.text) else None


def _label(sentence: Sentence, paper: Paper) -> tuple[Paper, frozenset[Phrase]]:
    weights = [amount for amount in heard.amounts(sentence) if amount.kind == "weight"]
    fridge = sentence.has("fridge") and not sentence.has("freezer")
    if not weights or not sentence.has("pack"):
        return replace(paper, fridge=fridge), frozenset()
    pack: Amount = weights[-1]
    grams = units.grams(pack.measure.value, pack.measure.unit)
    return replace(paper, fridge=fridge, pack_g=grams), frozenset({pack})


def _before(rest: Sentence, talk: Talk) -> Reading | None:
    """A batch or a meal in the same line: it is worked out first, and then put on paper."""
    return timetable.TOPIC.read(rest, talk) or within.plan_of(rest, talk)


def _named(sentence: Sentence, pending: Pending) -> Reading | None:
    """The bare file name that was asked for: "supper" where calendar entries wait for one."""
    words = sentence.text.strip().rstrip(".!")
    if not words or len(words.split()) > 3 or any(not isinstance(phrase, Word) for phrase in sentence.substance()):
        return None
    if any(word.kind == "cue" for word in sentence.of(Word)):
        return None
    return Reading(replace(pending.request, file=f"{words}.ics"), frozenset(sentence.phrases), 2)
