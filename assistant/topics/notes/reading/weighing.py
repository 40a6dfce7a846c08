"""What was truly weighed, where that is not what the plan said: "actually 1.1 kg of trim"."""

from __future__ import annotations

import re

from assistant.language.phrases import Amount, CutName, Measure, Moment, Word
from assistant.topics import within
from assistant.topics.base import Reading, Talk, Unclear
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import Line
from assistant.topics.notes.request import IT
from assistant.topics.plan.request import Plan

_WEIGHING = re.compile(
    r"\b(?:weighed(?:\s+(?:out|in))?|the\s+scales?\s+(?:said|says|showed|shows|read|reads)|(?:ended|wound)\s+up\s+(?:with|using|at)"
    r"|turned\s+out(?:\s+to\s+be)?|(?:really|actually|in\s+fact|in\s+the\s+end)\s+(?:i\s+|we\s+)?(?:used|put\s+in|took|weighed|went\s+with)"
    r"|(?:i|we)\s+(?:really|actually|in\s+fact|in\s+the\s+end)\s+(?:used|put\s+in|took|weighed|went\s+with)"
    r"|(?:used|put\s+in|went\s+in|was|were)\b(?=.*\b(?:in\s+the\s+end|in\s+fact|really)\b))",
    re.IGNORECASE,
)
"""Said of the past and of a scale: it can be no wish."""
_IN_TRUTH = re.compile(r"\b(?:actually|really|in\s+fact|in\s+truth|in\s+the\s+end|in\s+reality)\b", re.IGNORECASE)
"""These alone may as well correct a wish, unless the batch was kept just now."""
_ELSEWHERE = re.compile(
    r"\b(?:stock|freezer|fridge|larder|pantry|chiller|cooked|patt(?:y|ies)|burgers?)\b", re.IGNORECASE
)
_WISHES = (
    "not",
    "swap",
    "drop",
    "instead",
    "have",
    "make_it",
    "want",
    "how_much",
    "how_many",
    "buy",
    "too_fat",
    "too_lean",
)


def weighed(line: Line) -> Reading | None:
    """Weights of cuts that are told of the past, or that correct what was kept just now."""
    sentence, text = line.sentence, line.text
    told = _WEIGHING.search(text) is not None
    kept = line.talk.topic in ("notes", "stock") and bool(line.talk.plan or line.known)
    if not told and not (kept and _IN_TRUTH.search(text)):
        return None
    adding = any(word.payload == "add" and word.text.lower() != "put in" for word in sentence.words("cue"))
    if "?" in text or _ELSEWHERE.search(text) or sentence.has(*_WISHES) or adding or line.new:
        return None
    if not (line.known or line.talk.plan is not None):
        return None
    weights = _pairs(line)
    if weights is None:
        return None
    if not weights:
        return line.whole(Unclear('How much of each cut went in? Say for example "actually 1.1 kg of trim".'))
    return line.whole(request.Weighed(line.which() if line.known else IT, weights))


def _pairs(line: Line) -> tuple[tuple[str, Measure], ...] | None:
    """Cut and weight, as the plan pairs them; None where the line has other figures, or a cut without its weight."""
    rest = within.without(
        line.sentence, [word for word in line.sentence.phrases if isinstance(word, Word) and word.kind == "name"]
    )
    cuts, amounts = rest.of(CutName), rest.of(Amount)
    if any(not isinstance(phrase, Word | CutName | Amount | Moment) for phrase in rest.substance()):
        return None
    if len(cuts) != len(amounts) or any(amount.kind != "weight" for amount in amounts):
        return None
    if not cuts:
        return ()
    read = within.plan_of(rest, Talk())
    plan = None if read is None else read.request
    if not isinstance(plan, Plan) or len(plan.items) != len(cuts):
        return None
    items = plan.items
    if len(items) == 1 and items[0].weight is None and plan.batch is not None:
        return ((items[0].name, plan.batch),)
    found = [(item.name, item.weight) for item in items if item.weight is not None]
    return tuple(found) if len(found) == len(items) else None
