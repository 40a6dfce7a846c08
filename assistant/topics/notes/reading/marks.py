"""Marks out of ten, and the remark that follows them."""

from __future__ import annotations

import re
from fractions import Fraction

from assistant.language import naming
from assistant.language.numbers import ONES
from assistant.pattern import Pattern
from assistant.topics.notes.reading.line import Line
from assistant.topics.notes.request import Score

_GIVEN = Pattern(
    r"\b(?:rat(?:e|ed|ing)|scor(?:e|ed|es)|give|gave|gets|rates)\b.*?\s(?:an?\s+|at\s+|as\s+|:\s*)?"
    r"(?P<value>[0-9]{1,2}(?:\.[0-9])?|(?<!last\s)(?<!that\s)(?<!this\s)(?<!the\s)(?<!best\s)(?<!first\s)one|two|three|four|five|six|seven|eight|nine|ten)(?P<half>\s+and\s+a\s+half|\s+1/2|½)?"
    r"(?![0-9.]*[0-9])(?!\s*(?:/|%|g\b|kg|lb|oz|tsp))\s*(?=[,;!:-]|\.(?:\s|$)|$|\s(?:and|for|because|but|-))",
    re.IGNORECASE,
)
WAS_MARKED = Pattern(
    r"\b(?:was|is|were|gets?|got|earned|earns|deserves|comes?\s+in\s+at|came\s+in\s+at)\s+(?:only\s+|about\s+|maybe\s+)?(?:an?\s+)?"
    r"(?:solid\s+|strong\s+|good\s+|weak\s+|easy\s+|mere\s+)?(?P<value>10|[0-9](?:\.[0-9])?)(?P<half>½|\s+1/2)?\s*(?=[,;!]|\.(?:\s|$)|$)",
    re.IGNORECASE,
)
"""Said of a batch by name; of anything else, "it was 6" may be a time or a weight."""


def score_in(line: Line, after: int = 0) -> tuple[Score | None, tuple[int, int]]:
    """The marks that stand after a place of the line, and where."""
    found = naming.marks(line.text[after:])
    if found is not None:
        return Score(found.value, found.top), (found.first + after, found.last + after)
    tail = re.match(r"\s*[,:;-]\s*(?P<value>[0-9]{1,2}(?:\.[0-9])?)\W*$", line.text[after:]) if after else None
    given = tail or _GIVEN.search(line.text[after:]) or (WAS_MARKED.search(line.text[after:]) if line.known else None)
    if given is None:
        return None, (0, 0)
    half = Fraction(1, 2) if given.groupdict().get("half") else Fraction(0)
    value = value_of(given["value"]) + half
    return Score(value, 10, taken=True), (given.start("value") + after, given.end() + after)


def why_said(text: str) -> str:
    """What follows the marks, as a remark: "crust great"."""
    words = re.sub(r"^[\s,;.:!-]*(?:(?:and|but|because|as|since)\s+)?", "", naming.tidy(text))
    return words.strip() if re.search(r"[A-Za-z]{3}", words) and not re.match(r"(?:for|please|out of)\b", words) else ""


def value_of(word: str) -> Fraction:
    """A number in figures or as a word."""
    return Fraction(ONES[word.lower()]) if word.lower() in ONES else Fraction(word)
