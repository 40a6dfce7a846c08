"""What one phrase of a line is, as those ask who make one phrase of several."""

from __future__ import annotations

from typing import TypeGuard

from assistant.language.phrases import (
    Amount,
    Count,
    Phrase,
    Word,
)

MOST_EACH = 6
"""A bare number up to this beside an eater counts patties; a larger one counts something else."""


HEAVIEST_PATTY = 500
"""Grams. A heavier weight is nobody's one patty. Common practice, no source."""


def ends_at(phrases: list[Phrase], at: int) -> bool:
    """Whether a list or a sentence goes no further after a place."""
    return at + 1 >= len(phrases) or is_sep(phrases[at + 1], ",", ".", ";")


def is_whole(phrase: Phrase | None) -> TypeGuard[Count]:
    plain = isinstance(phrase, Count) and not phrase.piece and not phrase.proportion
    return plain and isinstance(phrase, Count) and phrase.value.denominator == 1


def is_percent(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind == "percent"


def is_word(phrase: Phrase, kind: str, *payloads: str) -> bool:
    return isinstance(phrase, Word) and phrase.kind == kind and (not payloads or phrase.payload in payloads)


def is_cue(phrase: Phrase, *names: str) -> bool:
    return is_word(phrase, "cue", *names)


def is_sep(phrase: Phrase, *signs: str) -> bool:
    return is_word(phrase, "sep", *signs)
