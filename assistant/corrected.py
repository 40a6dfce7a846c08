"""A line that only puts a figure of the line before right: that line is read once more, with the other figure.

"8 of them are vegetarian", and then "no wait, 6": whatever the eight were, six are the same.
"""

from __future__ import annotations

from assistant.language.phrases import Amount, Count, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern

_NUMBER = Pattern(r"\d+(?:[.,]\d+)?(?: \d/\d|/\d+)?")
_SAYS_NOTHING = ("make_it", "this", "about", "yes")


def retold(correction: Sentence, before: Sentence) -> str | None:
    """The line before with its one figure as it is now said; None where either holds more, or says anything else."""
    figures = [phrase for phrase in correction.phrases if not isinstance(phrase, Word)]
    told = [phrase for phrase in before.phrases if not isinstance(phrase, Word) and _NUMBER.search(phrase.text)]
    if len(figures) != 1 or len(told) != 1 or not correction.has("correction") or before.has("correction"):
        return None
    (now,), (was,) = figures, told
    if not isinstance(now, Count | Amount) or any(_says_more(word) for word in correction.words("cue")):
        return None
    if isinstance(now, Amount) and not (isinstance(was, Amount) and was.kind == now.kind):
        return None
    text = now.text if isinstance(now, Amount) else _with_number(was, now.text)
    return None if text is None else before.text[: was.first] + text + before.text[was.last :]


def _says_more(word: Word) -> bool:
    return word.payload not in ("correction", *_SAYS_NOTHING)


def _with_number(was: Phrase, number: str) -> str | None:
    """ "8 of them" with 6 in the place of 8; None where it is no plain number, or two of them."""
    found = list(_NUMBER.finditer(was.text))
    if len(found) != 1 or _NUMBER.fullmatch(number) is None:
        return None
    return was.text[: found[0].start()] + number + was.text[found[0].end() :]
