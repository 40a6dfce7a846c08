"""The trade number of a grinder: how wide its plates are, and which number a plate of so many millimetres has."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.data.safety import GrinderSize, safety_book
from assistant.language.phrases import Amount, Count
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME = "head size"
_MACHINE = r"(?:meat\s+)?(?:grinder|mincer|head|plates?|neck)s?"
_NUMBERED = Pattern(
    rf"(?:\b(?:no|nr|number|size)\b\.?|#)\s*(?P<number>\d{{1,3}})\s+{_MACHINE}\b"
    rf"|\b{_MACHINE}\s+(?:(?:of|is|a|size|number)\s+)*(?:#|no\.?|number|nr\.?)\s*(?P<after>\d{{1,3}})\b",
    re.IGNORECASE,
)
_ASKS_SIZE = Pattern(
    r"\b(?:how\s+(?:big|wide|large)|what\s+(?:size|diameter|plates?)|which\s+plates?|diameter|fits?)\b", re.I
)
_ASKS_NUMBER = Pattern(r"\b(?:what|which)\s+(?:grinder\s+|mincer\s+)?(?:number|no\.?|size)\b", re.IGNORECASE)
_OF_A_MACHINE = Pattern(rf"\b{_MACHINE}\b", re.IGNORECASE)
_NEAR = Fraction(3)
"""Millimetres by which a measured plate may miss the table's; the steps between the numbers are 8 and more."""


class HeadSize(Struct, frozen=True):
    """A trade number (0: to be found), or the width of a plate in mm."""

    number: int = 0
    mm: Fraction = Fraction(0)


class HeadSizeTopic:
    """The topic of grinder numbers."""

    name = NAME
    examples = ("how wide are the plates of a number 12 grinder?",)
    passes: frozenset[str] = frozenset(("what", "how_much", "in_grinder", "which_plate", "across", "this"))

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """A numbered grinder with its size asked for, or a plate's width with the number asked for."""
        said = _NUMBERED.search(sentence.text)
        if said is not None and _ASKS_SIZE.search(sentence.text) and not _weighs(sentence):
            number = int(said["number"] or said["after"])
            return Reading(HeadSize(number), frozenset(sentence.phrases), 3)
        widths = [a for a in sentence.of(Amount) if a.kind == "length"]
        asked = _ASKS_NUMBER.search(sentence.text) and _OF_A_MACHINE.search(sentence.text)
        if asked and len(widths) == 1 and not sentence.of(Count) and not _weighs(sentence):
            width = widths[0].measure
            mm = units.to(width.value, width.unit, "mm")
            return Reading(HeadSize(mm=mm), frozenset(sentence.phrases), 3)
        return None

    def answer(self, request: HeadSize, _kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The row of the table; the numbers that are known where it has none."""
        rows = {int(row.key.removeprefix("no. ")): row for row in safety_book().grinder_sizes.values()}
        if request.number:
            found = {number: row for number, row in rows.items() if number == request.number}
            said = f"How wide the plates of a no. {request.number} grinder are"
        else:
            found = {number: row for number, row in rows.items() if abs(row.mm - request.mm) <= _NEAR}
            said = f"Which number a grinder plate of {wording.length(request.mm, 'metric')} has"
        if not found:
            known = wording.listing([f"no. {number} with {wording.number(row.mm)} mm" for number, row in rows.items()])
            return verdict.told(NAME, said, f"I have no figure for that one. I know {known}.", status=Status.IMPOSSIBLE)
        ((number, row),) = found.items()
        return _told(said, number, row)


def _weighs(sentence: Sentence) -> bool:
    """Whether meat is weighed in the line; the "a #" of "a #22 grinder" is read as a pound, and is none."""
    return any(a.kind == "weight" and not a.text.rstrip().endswith("#") for a in sentence.of(Amount))


def _told(said: str, number: int, row: GrinderSize) -> Outcome:
    width = f"{wording.number(row.mm)} mm ({wording.length(row.mm).split(' (')[0]})"
    return verdict.told(
        NAME,
        said,
        f"No. {number}: plates {width} across.",
        figures=(
            Figure(f"no. {number} plate", Role.CONVERSION, float(row.mm), "mm", source=row.source, shown=width),
            Figure("grinder number", Role.CONVERSION, float(number), "count", source=row.source, shown=f"no. {number}"),
        ),
        notes=(f"From {row.source}. Measure the old plate before you buy one (common practice, no source).",),
    )


TOPIC = HeadSizeTopic()
