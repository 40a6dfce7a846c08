"""Numbers that only name something or tell an age or a year: "class 4B", "table 7", "since 1952", "I'm 73, and …".

They are no amounts of anything; the line is read without them, and the answer tells that they were set aside.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language.scan import Mark

_NUMBERED = frozenset(
    (
        *("class", "year", "form", "troop", "table", "room", "house", "flat", "apartment", "block", "route", "bus"),
        *("platform", "gate", "lane", "court", "pitch", "hole", "bay", "lodge", "platoon", "squad", "station", "post"),
        *("local", "highway", "exit", "level", "floor", "deck", "ward", "sector", "field", "chapter", "berth", "plot"),
    )
)
"""What carries a number of its own. Batches, steps, cures and choices are not here: theirs matter."""
_DATED = frozenset(["in", "since", "est", "founded", "summer", "circa", "from", "back"])
_WHO_IS = frozenset(["im", "hes", "shes"])
_GOES_ON = frozenset([",", ".", ";", "!", "and", "so", "but", "today", "tomorrow", "now", "this", "next", "on"])
_OLDEST = 110


def background_ends(marks: Sequence[Mark], at: int) -> int:
    """The mark after a number of the background that begins at `at`, with the word before it; `at` where none does.

    Whether a unit, people or patties follow, which would make it an amount after all, is for the caller to see.
    """
    if marks[at].kind != "word" or at + 1 >= len(marks) or not _is_whole(marks[at + 1]):
        return _of_a_door(marks, at)
    number = int(marks[at + 1].text[:5])
    follows = marks[at + 2] if at + 2 < len(marks) else None
    if marks[at].text in _NUMBERED:
        lettered = follows is not None and follows.glued and len(follows.text) == 1 and follows.text in "abcdef"
        return at + 3 if lettered else at + 2
    if marks[at].text in _DATED and 1800 <= number < 2100:
        return at + 2
    aged = marks[at].text in _WHO_IS and 0 < number <= _OLDEST
    return at + 2 if aged and (follows is None or follows.text in _GOES_ON) else at


def _of_a_door(marks: Sequence[Mark], at: int) -> int:
    """ "at number 42", "house number 7": a door, and no choice between two answers ("number 2")."""
    led = marks[at].text in ("at", "house", "door") and at + 2 < len(marks) and marks[at + 1].text in ("number", "no")
    return at + 3 if led and _is_whole(marks[at + 2]) else at


def _is_whole(mark: Mark) -> bool:
    """Whether a mark is a plain number; a raised two (²) is a digit to Python, and none to read."""
    return mark.kind == "number" and mark.text.isdecimal() and mark.text.isascii()
