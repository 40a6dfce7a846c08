"""Changes that leave open what they change: asked back, for either reading would be wrong half the time."""

from __future__ import annotations

import re

from assistant.language.phrases import Amount, CutName
from assistant.pattern import Pattern
from assistant.topics.base import Unclear
from assistant.topics.plan import merge
from assistant.topics.plan.line import Line, Step


def of_which_batch(line: Line) -> Step:
    """ "Now triple the original", once the batch was changed: which of them is not said."""
    scales = line.sentence.has("double", "halve", "triple", "half_again", "twice_as")
    if scales and _ORIGINAL.search(line.sentence.text) is not None:
        return Unclear('The first batch, or the one now on the table? "Go back to the first one" brings that back.')
    return line


_ORIGINAL = Pattern(r"\bthe (?:original|first)(?: (?:one|batch|recipe|amount))?\b", re.IGNORECASE)


def so_much_less_of_one(line: Line) -> Step:
    """ "Use 1 lb less brisket": less than what the blend came to, which is told and not said; how much in all is asked."""
    weights = [p for p in line.sentence.of(Amount) if p.kind == "weight"]
    word = line.sentence.cue("bigger", "smaller")
    if len(weights) != 1 or word is None or len(line.plan.items) != 1:
        return line
    (said,) = line.plan.items
    beside = line.sentence.after(weights[0]) is word and isinstance(line.sentence.after(word), CutName)
    known = any(item.weight is None and merge.same_meat(item, said) for item in line.old.items)
    if not beside or not known or said.weight != weights[0].measure:
        return line
    return Unclear(f"{weights[0].text} {word.text} than the last blend had? Say how much {said.name} in all.")
