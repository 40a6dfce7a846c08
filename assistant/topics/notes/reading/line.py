"""One line, and what every reading of it needs: its new and known names, its free text, the batch it is about."""

from __future__ import annotations

import re
from functools import cached_property
from typing import Any

from msgspec import Struct

from assistant.language import naming
from assistant.language.phrases import Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Reading, Talk
from assistant.topics.notes.request import IT, LAST

_VERSION_AFTER = Pattern(r"\s*,?\s*\(?(?:version|ver|v)\s?([0-9]{1,4})\b\)?", re.IGNORECASE)
ASKING = Pattern(r"\b(?:how|where|can|could|should|do|does|is|what)\b", re.IGNORECASE)
POINTING = Pattern(r"^(?:it|this|that|this one|that one|them|the batch|this batch|that batch|)$", re.IGNORECASE)
_HEAD = Pattern(
    r"^(?:the|my|our|a|batch|called|named|saved|recipe|for|of|in|was|is|batch called|about)\s+", re.IGNORECASE
)
_TAIL = Pattern(r"\s+(?:again|once more|one more time|recipe|please|pls|thanks|batch)$", re.IGNORECASE)


class Line(Struct, frozen=True, dict=True):
    """One line and the talk it stands in. known: the names in it that the notebook has; new: those given in it."""

    sentence: Sentence
    talk: Talk

    @property
    def text(self) -> str:
        """The cleaned line."""
        return self.sentence.text

    @cached_property
    def new(self) -> list[tuple[int, int, str]]:
        """(first, last, name) of the names given in the line."""
        return [span for span in naming.new_names(self.text) if not naming.is_marks(span[2])]

    @cached_property
    def known(self) -> list[Word]:
        """Names that the notebook has, as they stand in the line."""
        starts = {first for first, _, _ in naming.new_names(self.text)}
        return [name for name in within.names(self.sentence) if name.first not in starts]

    def whole(self, wanted: Any, strength: int = 2) -> Reading:
        """A reading that accounts for the whole line."""
        return Reading(wanted, frozenset(self.sentence.phrases), strength)

    def is_plain(self, *allowed: type[Phrase]) -> bool:
        """Whether the line has no figures or food of its own, besides the allowed kinds."""
        return all(
            isinstance(phrase, (Word, *allowed)) and not (isinstance(phrase, Word) and phrase.kind == "badnum")
            for phrase in self.sentence.substance()
        )

    def region(self, *cues: str) -> str:
        """The free text after the first of the cues, without courtesies."""
        cue = self.sentence.cue(*cues)
        return "" if cue is None else bare_name(self.text[cue.last :])

    def named(self, name: Word) -> str:
        """A known name, with the version that is said after it."""
        version = _VERSION_AFTER.match(self.text[name.last :])
        return name.payload if version is None else f"{name.payload} version {version[1]}"

    def version_words(self, name: Word) -> frozenset[Phrase]:
        """The words of the version said after a known name."""
        version = _VERSION_AFTER.match(self.text[name.last :])
        return (
            frozenset() if version is None else within.overlapping(self.sentence, name.last, name.last + version.end())
        )

    def which(self, text: str = "") -> str:
        """The batch that the line is about: a known name, the last one, or the one last spoken of."""
        if self.known:
            return self.named(self.known[0])
        if self.sentence.has("last_one") or re.match(r"(?:the\s+)?(?:last|latest|previous)\b", text, re.IGNORECASE):
            return LAST
        return IT if POINTING.match(text) else text


def bare_name(text: str) -> str:
    """A stretch of the line as a name: without courtesies, articles and "again"."""
    name = naming.tidy(text.strip(" ,.;:?!"))
    for pattern in (_HEAD, _TAIL, _HEAD):
        name = pattern.sub("", name).strip(" ,.;:?!")
    return name
