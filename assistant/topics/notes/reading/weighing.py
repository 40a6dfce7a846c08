"""What was truly weighed, where that is not what the plan said: "actually 1.1 kg of trim", "38 g of salt went in"."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, CutName, Moment, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Reading, Talk, Unclear
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import Line
from assistant.topics.notes.request import IT
from assistant.topics.plan.request import Plan

_WEIGHING = Pattern(
    r"\b(?:weighed(?:\s+(?:out|in))?|the\s+scales?\s+(?:said|says|showed|shows|read|reads)|(?:ended|wound)\s+up\s+(?:with|using|at)"
    r"|turned\s+out(?:\s+to\s+be)?|(?:really|actually|in\s+fact|in\s+the\s+end)\s+(?:i\s+|we\s+)?(?:used|put\s+in|took|weighed|went\s+with)"
    r"|(?:i|we)\s+(?:really|actually|in\s+fact|in\s+the\s+end|only)\s+(?:used|put\s+in|took|weighed|went\s+with)"
    r"|(?:used|put\s+in|went\s+in|was|were)\b(?=.*\b(?:in\s+the\s+end|in\s+fact|really)\b))",
    re.IGNORECASE,
)
"""Said of the past and of a scale: it can be no wish."""
_PUT_IN = Pattern(r"\bwent\s+in(?:to)?\b|\b(?:i|we)\s+(?:only\s+|just\s+)?(?:used|put\s+in|added)\b", re.IGNORECASE)
"""Said of the past, though it may as well ask for a batch: of one that is kept, with its amounts, it is what went in."""
_IN_TRUTH = Pattern(r"\b(?:actually|really|in\s+fact|in\s+truth|in\s+the\s+end|in\s+reality)\b", re.IGNORECASE)
"""These alone may as well correct a wish, unless the batch was kept just now."""
_ELSEWHERE = Pattern(r"\b(?:stock|freezer|fridge|larder|pantry|chiller|cooked|patt(?:y|ies)|burgers?)\b", re.IGNORECASE)
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
    """Weights of cuts and seasonings that are told of the past, or that correct what was kept just now."""
    if not (line.known or line.talk.plan is not None):
        return None
    sentence, text = line.sentence, line.text
    told = _WEIGHING.search(text) is not None or _tells_what_went_in(line)
    kept = line.talk.topic in ("notes", "stock") and bool(line.talk.plan or line.known)
    if not told and not (kept and _IN_TRUTH.search(text)):
        return None
    adding = any(
        word.payload == "add" and word.text.lower() not in ("put in", "added") for word in sentence.words("cue")
    )
    if "?" in text or _ELSEWHERE.search(text) or sentence.has(*_WISHES) or adding or line.new:
        return None
    wish = _pairs(line)
    if isinstance(wish, request.Weighed) and not wish.weights and not wish.pinches:
        return line.whole(Unclear('How much of each cut went in? Say for example "actually 1.1 kg of trim".'))
    return None if wish is None else line.whole(wish)


def _tells_what_went_in(line: Line) -> bool:
    sure = line.talk.topic == "notes" or _IN_TRUTH.search(line.text) is not None
    spoken_of = bool(line.known) or (sure and line.talk.plan is not None)
    return spoken_of and bool(line.sentence.of(Amount)) and _PUT_IN.search(line.text) is not None


def _pairs(line: Line) -> request.Weighed | Unclear | None:
    """Cut or seasoning and weight, as the plan pairs them; None where the line has other figures, or a name without
    its weight."""
    rest = within.without(
        line.sentence, [word for word in line.sentence.phrases if isinstance(word, Word) and word.kind == "name"]
    )
    cuts, spices, amounts = rest.of(CutName), rest.of(SeasoningName), rest.of(Amount)
    if any(not isinstance(phrase, Word | CutName | SeasoningName | Amount | Moment) for phrase in rest.substance()):
        return None
    if len(cuts) + len(spices) != len(amounts):
        return None
    if spices and not cuts and all(amount.kind == "volume" for amount in amounts):
        return Unclear(f"How many grams of {spices[0].name} was that? The notebook keeps what was weighed.")
    if any(amount.kind != "weight" for amount in amounts):
        return None
    whose = line.which() if line.known else IT
    if not amounts:
        return request.Weighed(whose, ())
    read = within.plan_of(rest, Talk())
    plan = None if read is None else read.request
    if not isinstance(plan, Plan) or len(plan.items) != len(cuts) or len(plan.seasonings) != len(spices):
        return None
    items = plan.items
    if len(items) == 1 and items[0].weight is None and plan.batch is not None:
        items = (replace(items[0], weight=plan.batch),)
    weights = tuple((item.name, item.weight) for item in items if item.weight is not None)
    pinches = tuple(
        (pinch.name, pinch.amount)
        for pinch in plan.seasonings
        if pinch.amount is not None and pinch.per is None and units.kind(pinch.amount.unit) == "mass"
    )
    complete = len(weights) == len(items) and len(pinches) == len(plan.seasonings)
    return request.Weighed(whose, weights, pinches) if complete else None
