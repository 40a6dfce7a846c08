"""From a line to a request of the notebook. Names and remarks are free text, so whole stretches of the line count as
read; a line that describes a batch besides is handed to the plan for that part."""

from __future__ import annotations

from collections.abc import Callable

from assistant.language.sentence import Sentence
from assistant.topics.base import Reading, Talk, Unclear
from assistant.topics.notes.reading import again, asking, changes, many, saving, weighing
from assistant.topics.notes.reading.line import Line

_BARE_WISHES = {
    "note": 'Note what, and on which batch? Say for example "note: a touch dry".',
    "rate": "Rate which batch, and how many marks out of 10?",
    "compare": "Compare which two batches?",
    "forget": "Forget which batch?",
    "delete": "Delete which batch?",
}
_ATTEMPTS: tuple[Callable[[Line], Reading | None], ...] = (
    changes.renamed,
    changes.remarked,
    weighing.weighed,
    saving.saved,
    many.listed,
    asking.compared,
    many.asked_over_all,
    changes.rated,
    changes.tagged,
    changes.forgotten,
    many.searched,
    asking.amount_used,
    many.used,
    again.again,
    asking.recalled,
)
"""In this order: what is free text after a cue comes before what is guessed from the words of the line."""


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """The request of the notebook in this line, or None."""
    line = Line(sentence, talk)
    bare = _BARE_WISHES.get(line.text.strip(" .!?").lower())
    if bare is not None:
        return line.whole(Unclear(bare))
    return next((found for attempt in _ATTEMPTS if (found := attempt(line)) is not None), None)
