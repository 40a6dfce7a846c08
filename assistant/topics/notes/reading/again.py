"""A kept batch once more: for another weight, so many times, for so many people, or with a change."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import (
    Count,
    CutName,
    Fatness,
    Moment,
    Patties,
    People,
    Phrase,
    Rate,
    Scale,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Reading
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import POINTING, Line, bare_name
from assistant.topics.notes.request import BEST, IT, LAST
from assistant.topics.plan.merge import factor_said
from assistant.topics.plan.request import Plan

_FOR_WEIGHT = Pattern(r"\s+(?:for|to|at|but|scaled|as|into|in)\s+(?=\S*[0-9])", re.IGNORECASE)
_A_BATCH_AND_A_HALF = Pattern(r"\b(?:a|one|1)\s+batch\s+and\s+a\s+half\b", re.IGNORECASE)
_AGAIN = ("again", "repeat", "same_again")
_CHANGES = ("make_it", "not", "swap", "drop", "instead", "leaner", "fattier", "bigger", "smaller")
"""What says that a named batch is to be made, though in another way."""
_EXCHANGES = ("not", "swap", "drop", "instead")
_OTHERS = ("how_long", "keep", "thaw", "safe", "cook", "temperature", "when_ready", "days_left")
"""Questions about a batch that are not about making it."""
_SMALL = (
    *_AGAIN,
    "last_one",
    "best",
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
    "batches",
    "what_about",
    "total",
    "correction",
)
"""Words that change nothing where a batch is made again."""


def again(line: Line) -> Reading | None:
    """A kept batch to be made again, or None."""
    sentence = line.sentence
    cue = sentence.cue(*_AGAIN)
    name = _whose(line, cue)
    if not name or line.new or (cue is None and sentence.has(*_OTHERS)):
        return None
    weights = [amount for amount in sentence.of(Weighed) if amount.kind == "weight"]
    factor = None if weights else _factor(line)
    fat = _fat_alone(sentence)
    figures = any(isinstance(p, People | Patties | Fatness | Rate) or _is_percent(p) for p in sentence.phrases)
    wanted = bool(weights or factor) or figures
    if cue is None and not wanted and not sentence.has(*_CHANGES):
        return None
    taken = within.cues(sentence, _SMALL) | frozenset(sentence.of(Moment)) | _name_words(line, name)
    if line.known:
        taken |= frozenset(line.known) | line.version_words(line.known[0])
        name = line.named(line.known[0])
        for special in (_of_a_cut(line, name, weights), _scaled_for_a_cut(line, name, weights)):
            if special is not None:
                return special
        own_batch = cue is None and bool(weights) and len(sentence.of(CutName)) > 0
        if own_batch and not sentence.has(*_EXCHANGES):
            return _beside(line, line.known[0].payload)
    if factor is not None:
        words = frozenset(p for p in sentence.phrases if isinstance(p, Word | Scale | Count) or _is_percent(p))
        return Reading(request.Again(name, factor=factor), taken | words, 2)
    if fat is not None and len(weights) < 2:
        weight = weights[0].measure if weights else None
        return Reading(
            request.Again(name, weight, fat=fat.measure.value), taken | {fat, *weights} | _small(sentence), 2
        )
    return _changed(line, name, taken, weights)


def _fat_alone(sentence: Sentence) -> Weighed | None:
    """The "25%" of "fair stall again but 25%": a percent beside small words and a weight only is the fat."""
    percents = [p for p in sentence.of(Weighed) if _is_percent(p)]
    others = any(
        not isinstance(p, Word | Weighed | Moment) or (isinstance(p, Word) and p.kind == "unknown")
        for p in sentence.substance()
    )
    if len(percents) != 1 or others or not 0 < percents[0].measure.value < 100:
        return None
    cues = {word.payload for word in sentence.words("cue")}
    return percents[0] if cues <= {*_SMALL, *_CHANGES} else None


def _small(sentence: Sentence) -> frozenset[Phrase]:
    return within.cues(sentence, _CHANGES)


def _whose(line: Line, cue: Word | None) -> str:
    """The batch that is to be made again, "" where none is meant."""
    if line.known:
        return line.known[0].payload
    if cue is not None and line.sentence.has("best"):
        return BEST
    if cue is None or (line.talk.plan is not None and not line.sentence.has("last_one")):
        return ""
    past = re.search(r"\b(?:last time|as before|like before)\b", line.text, re.IGNORECASE)
    return LAST if past or line.sentence.has("last_one") else _name_beside(line, cue)


def _factor(line: Line) -> Fraction | None:
    """So many times as much: double, 3x, two batches of it, a batch and a half, half of it, 50% more."""
    sentence = line.sentence
    said = factor_said(sentence)
    if said is not None or not line.known:
        return said
    if scales := sentence.of(Scale):
        return scales[0].factor
    if _A_BATCH_AND_A_HALF.search(line.text):
        return Fraction(3, 2)
    counts, percents = sentence.of(Count), [p for p in sentence.of(Weighed) if p.kind == "percent"]
    if len(counts) == 1 and (counts[0].piece or sentence.has("batches")):
        return counts[0].value
    if len(percents) == 1 and sentence.has("bigger", "smaller", "more"):
        part = percents[0].measure.value / 100
        return 1 - part if sentence.has("smaller") else 1 + part
    return None


def _is_percent(phrase: Phrase) -> bool:
    return isinstance(phrase, Weighed) and phrase.kind == "percent"


def _of_a_cut(line: Line, name: str, weights: list[Weighed]) -> Reading | None:
    """ "how much round do I need for 9 kg of fair stall": the batch for that weight, one cut of it asked for."""
    if len(weights) != 1 or len(line.sentence.of(CutName)) != 1 or not line.sentence.has("how_much"):
        return None
    known = line.known[0]
    beside = line.text[weights[0].last : known.first] if weights[0].last <= known.first else "far"
    if re.fullmatch(r"\s*(?:of\s+)?(?:the\s+|our\s+|my\s+)?", beside, re.IGNORECASE) is None:
        return None
    return line.whole(request.Again(name, weights[0].measure))


def _scaled_for_a_cut(line: Line, name: str, weights: list[Weighed]) -> Reading | None:
    """ "fair stall from 1 kg of trim": as much of it as that gives."""
    cuts = line.sentence.of(CutName)
    if len(weights) != 1 or len(cuts) != 1 or line.sentence.has(*_EXCHANGES, "how_much"):
        return None
    if any(not isinstance(p, Word | Moment | CutName) and p is not weights[0] for p in line.sentence.substance()):
        return None
    between = line.text[weights[0].last : cuts[0].first] if weights[0].last <= cuts[0].first else "far"
    if re.fullmatch(r"\s*(?:of\s+)?(?:the\s+|our\s+|my\s+)?", between, re.IGNORECASE) is None:
        return None
    return line.whole(request.Again(name, weights[0].measure, cut=cuts[0].name))


def _changed(line: Line, name: str, taken: frozenset[Phrase], weights: list[Weighed]) -> Reading | None:
    """At another weight, and with the change that the rest of the line says."""
    sentence = line.sentence
    open_plan = replace(line.talk, plan=line.talk.plan or Plan())
    weight = _own_weight(line, weights)
    if weight is not None:
        taken |= {weight}
        rest = within.without(sentence, taken)
        more = None if _says_no_more(rest) else within.plan_of(rest, open_plan)
        if more is None:
            return Reading(request.Again(name, weight.measure), taken, 2)
        return Reading(request.Again(name, weight.measure, change=rest), taken | more.used, 2)
    rest = within.without(sentence, taken - within.cues(sentence, ("into", "want", "make_it", "out_of")))
    if _says_no_more(rest) and not rest.has(*_CHANGES):
        return Reading(request.Again(name), taken, 2)
    change = within.plan_of(rest, open_plan)
    used = taken | (change.used if change is not None else frozenset())
    return Reading(request.Again(name, change=rest), used, 2)


def _own_weight(line: Line, weights: list[Weighed]) -> Weighed | None:
    """The weight that the whole batch is to have, among those of the line: not that of a patty, a cut or a seasoning."""
    sentence = line.sentence
    if any(isinstance(p, Patties | People | CutName) for p in sentence.phrases) or sentence.has("how_many"):
        return None
    if sentence.of(SeasoningName):  # "for 5 lb with 1 tsp pepper per lb", and no "30 g salt"
        weights = [w for w in weights if re.search(r"\b(?:for|to)\s+$", line.text[: w.first], re.IGNORECASE)]
    return weights[0] if len(weights) == 1 else None


def _beside(line: Line, name: str) -> Reading | None:
    """A batch of its own ("3 lb taco meat from chuck and suet"), where a batch called "taco meat" is saved."""
    rest = within.without(line.sentence, line.known)
    plan = within.plan_of(rest, line.talk)
    return None if plan is None else Reading(request.Beside(plan.request, name), plan.used | frozenset(line.known), 1)


def _says_no_more(rest: Sentence) -> bool:
    return all(isinstance(p, Word) for p in rest.substance()) and not rest.has("leaner", "fattier")


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
    at = line.text.find(name) if name not in (IT, LAST, BEST) else -1
    return within.overlapping(line.sentence, at, at + len(name)) if at >= 0 else frozenset()
