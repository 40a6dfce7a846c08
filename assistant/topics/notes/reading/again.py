"""A kept batch once more: for another weight, so many times, for so many people, or with a change."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import Count, CutName, Moment, Patties, People, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.topics import within
from assistant.topics.base import Reading
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import POINTING, Line, bare_name
from assistant.topics.notes.request import IT, LAST
from assistant.topics.plan.merge import factor_said
from assistant.topics.plan.request import Plan

_FOR_WEIGHT = re.compile(r"\s+(?:for|to|at|but|scaled|as|into|in)\s+(?=\S*[0-9])", re.IGNORECASE)


def again(line: Line) -> Reading | None:
    """A kept batch to be made again, or None."""
    sentence = line.sentence
    cue = sentence.cue("again", "repeat", "same_again")
    weights = [amount for amount in sentence.of(Weighed) if amount.kind == "weight"]
    factor = factor_said(sentence)
    pieces = [count for count in sentence.of(Count) if count.piece]
    if line.known and len(pieces) == len(sentence.of(Count)) == 1:
        factor = pieces[0].value  # "half of fair stall", "fair stall at half the size"
    name = line.known[0].payload if line.known else ""
    if not name:
        if cue is None or (line.talk.plan is not None and not sentence.has("last_one")):
            return None
        past = sentence.has("last_one") or re.search(r"\b(?:last time|as before|like before)\b", line.text, re.I)
        name = LAST if past else _name_beside(line, cue)
        if not name:
            return None
    elif (
        cue is None
        and not weights
        and factor is None
        and not sentence.of(People)
        and not sentence.of(Patties)
        and not sentence.has("make_it", "not", "swap", "drop", "instead")
    ):
        return None
    if line.new:
        return None
    changed = sentence.has("not", "swap", "drop", "instead") and bool(line.known)
    if cue is None and line.known and len(sentence.of(CutName)) > 0 and not changed:
        return _beside(line, name)
    taken = within.cues(
        sentence,
        [
            "again",
            "repeat",
            "same_again",
            "last_one",
            "this",
            "recall",
            "show",
            "into",
            "want",
            "make_it",
            "scale_to",
            "double",
            "halve",
            "triple",
            "have",
            "what",
            "yes",
            "thanks",
            "praise",
            "hello",
            "out_of",
            "mix",
            "how_much",
            "batch",
            "what_about",
            "total",
            "correction",
        ],
    )
    taken |= frozenset(line.known) | frozenset(sentence.of(Moment)) | _name_words(line, name)
    if line.known:
        name = line.named(line.known[0])
        taken |= line.version_words(line.known[0])
    open_plan = replace(line.talk, plan=line.talk.plan or Plan())
    own = not (bool(sentence.of(Patties)) or bool(sentence.of(People)) or bool(sentence.of(CutName)))
    if len(weights) == 1 and own and not sentence.of(SeasoningName):
        taken |= {weights[0]}
        rest = within.without(sentence, taken)
        more = None if _says_no_more(rest) else within.plan_of(rest, open_plan)
        if more is None:
            return Reading(request.Again(name, weights[0].measure), taken, 2)
        return Reading(request.Again(name, weights[0].measure, change=rest), taken | more.used, 2)
    if factor is not None and not weights:
        halves = frozenset(count for count in sentence.of(Count) if count.piece)
        words = frozenset(phrase for phrase in sentence.phrases if isinstance(phrase, Word))
        return Reading(request.Again(name, factor=factor), taken | halves | words, 2)
    rest = within.without(sentence, taken - within.cues(sentence, ("into", "want", "make_it", "out_of")))
    if not any(not isinstance(p, Word) or p.kind != "cue" for p in rest.substance()):
        return Reading(request.Again(name), taken, 2)
    change = within.plan_of(rest, open_plan)
    used = taken | (change.used if change is not None else frozenset())
    return Reading(request.Again(name, change=rest), used, 2)


def _beside(line: Line, name: str) -> Reading | None:
    """A batch of its own ("3 lb taco meat from chuck and suet"), where a batch called "taco meat" is saved."""
    rest = within.without(line.sentence, line.known)
    plan = within.plan_of(rest, line.talk)
    return None if plan is None else Reading(request.Beside(plan.request, name), plan.used | frozenset(line.known), 1)


def _says_no_more(rest: Sentence) -> bool:
    return all(isinstance(p, Word) for p in rest.substance())


def _name_beside(line: Line, cue: Word) -> str:
    """A name that the vocabulary hid: "repeat taco meat for 4 kg", "taco meat again"."""
    if re.search(r"[.;!?]\s+\S|\b(?:what|how|when|which|why|can|could|do|does|is)\b", line.text, re.IGNORECASE):
        return ""  # "Rained off again. Anyhow, …" is small talk
    after = _FOR_WEIGHT.split(line.text[cue.last :])[0]
    name = bare_name(after) or bare_name(line.text[: cue.first])
    name = re.sub(r"^(?:make|do|let'?s\s+(?:do|make|have))\s+", "", name, flags=re.IGNORECASE)
    return (
        ""
        if POINTING.match(name) or not re.search(r"[A-Za-z]{2}", name) or re.search(r"\bbut\b|\bfor\b", name)
        else name
    )


def _name_words(line: Line, name: str) -> frozenset[Phrase]:
    at = line.text.find(name) if name not in (IT, LAST) else -1
    return within.overlapping(line.sentence, at, at + len(name)) if at >= 0 else frozenset()
