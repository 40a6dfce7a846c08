"""What a line says of the fire alone: a gap between rounds, so many every few minutes, another grill, when it is lit."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import time
from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Amount, Count, CutName, Patties, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, within
from assistant.topics.plan.request import Plan

_PLACE = r"(?:grills?|pans?|griddles?|barbecues?|barbies?|bbqs?|skillets?|hot ?plates?|flat ?tops?|planchas?|braais?)"
_GAP_AFTER = Pattern(
    r"^[\s-]*(?:(?:gap|break|pause|turn-?round|turnaround|change-?over)\b(?:[^.,;\d]{0,30}\bbetween\b\s*\w*)?"
    r"|(?:to |for )?(?:\w+ing |(?:re-?load|scrape|clean|wipe|swap|clear|turn|change|rest|cool)\w* ?)?[^.,;\d]{0,24}\b(?:in[ -]between|between)\b"
    r"(?: (?:the |each )?(?:rounds?|batches|batch|goes|loads?|lots|them|each))?"
    r"|to (?:re-?load|scrape|clean|wipe|swap|clear|change over)\b[^.,;\d]{0,24})"
)
_GAP_BEFORE = Pattern(r"\b(?:gap|break|pause|turn-?round|turnaround|change-?over)s? (?:is |of |takes )?(?:about )?$")
_EVERY = frozenset(("every", "in", "per", "each", "at a time every", "takes", "take", "about every", "in about"))
_ANOTHER = Pattern(
    rf"\b(?:second|another|extra|2nd|one more|spare|other) (?P<place>{_PLACE})\b"
    r"(?:[\s,]*(?:that |which |it )?(?:takes|holds|fits|does|of|for)\s*(?:only |just |about )?)?"
)
_HOLDS_NOW = Pattern(
    rf"\b{_PLACE}\b.*?\b(?:only|takes?|holds?|fits?|room for|just)\b|\b(?:only|room for|just)\b.*\b{_PLACE}\b"
)
_LIT = Pattern(
    r"\b(?:if (?:i|we) )?(?:start(?:ing|ed)?|begin(?:ning)?|light(?:ing)? (?:it |up )?|first (?:ones? |round |batch )?(?:goes |go )?on|kick(?:ing)? off)"
    r"(?: (?:cooking|grilling|frying))?\s+(?:at|from)\s+(?P<clock>(?P<hour>1[0-2]|0?[1-9])(?:[.:](?P<minute>[0-5]\d))?)"
    r"(?P<half>\s*[ap]\.?m\b)?"
)


class Rate(Struct, frozen=True):
    """So many every so many minutes, and the phrases that said it."""

    at_once: Fraction
    minutes: Fraction
    phrases: frozenset[Phrase]


def gap(sentence: Sentence) -> tuple[Fraction, frozenset[Phrase]] | None:
    """ "Allow 2 minutes between rounds", "5 minutes to scrape down in between": minutes, and what said them."""
    text = sentence.text.lower()
    for amount in _minutes_said(sentence):
        after = _GAP_AFTER.match(text[amount.last :])
        if after is None and _GAP_BEFORE.search(text[: amount.first]) is None:
            continue
        end = amount.last + (after.end() if after is not None else 0)
        return _minutes(amount), frozenset((amount,)) | within.overlapping(sentence, amount.last, end)
    return None


def rate(sentence: Sentence) -> Rate | None:
    """ "40 burgers every quarter of an hour", "I can cook 30 burgers in 10 minutes": where others are counted besides."""
    text = sentence.text.lower()
    for amount in _minutes_said(sentence):
        before = sentence.before(amount)
        counted = before.count if isinstance(before, Patties) else None
        apart = "" if before is None else " ".join(text[before.last : amount.first].split())
        others = [p for p in sentence.phrases if p is not before and _counts(p)]
        if counted is not None and apart in _EVERY and others and counted.value > 0 and counted.value.denominator == 1:
            led = [p for p in sentence.phrases if p.last <= before.first and _is_bowl(p)] if before is not None else []
            return Rate(counted.value, _minutes(amount), heard.all_of([before, amount, *led]))
    return None


def at_once_now(sentence: Sentence, plan: Plan | None) -> tuple[Fraction, frozenset[Phrase]] | None:
    """ "Found a second pan", "borrowed another grill, takes 10", "the grill's smaller than I thought, only 16"."""
    if plan is None or plan.at_once is None or any(isinstance(p, Patties | People | CutName) for p in sentence.phrases):
        return None
    text = sentence.text.lower()
    counts = [c for c in sentence.of(Count) if c.value.denominator == 1 and not c.piece and c.high is None]
    others = [p for p in sentence.of(Amount) if not p.text.lower().endswith("second")]
    another = _ANOTHER.search(text)
    if others or len(counts) > 1:
        return None
    if another is not None:
        held = counts[0].value if counts else plan.at_once
        if counts and counts[0].first != another.end():
            return None
        return plan.at_once + held, frozenset(sentence.phrases)
    if counts and _HOLDS_NOW.search(text) and counts[0].value > 0:
        return counts[0].value, frozenset(sentence.phrases)
    return None


def lit(sentence: Sentence) -> tuple[time, str, frozenset[Phrase]] | None:
    """ "If I start at 5.15", "starting at 12:15 pm": the clock time, the half of the day where it was said, the phrases."""
    found = _LIT.search(sentence.text.lower())
    if found is None:
        return None
    half = (found["half"] or "").strip().replace(".", "")
    clock = time(
        int(found["hour"]) % 12 + (12 if half == "pm" else 0) if half else int(found["hour"]), int(found["minute"] or 0)
    )
    return clock, half, within.overlapping(sentence, *found.span())


def _minutes_said(sentence: Sentence) -> Iterable[Amount]:
    return (a for a in sentence.of(Amount) if a.kind == "duration" and a.measure.unit in ("minute", "second", "hour"))


def _minutes(amount: Amount) -> Fraction:
    return (amount.measure.high or amount.measure.value) * heard.HOURS[amount.measure.unit] * 60


def _counts(phrase: Phrase) -> bool:
    if isinstance(phrase, Patties | People):
        return phrase.count is not None
    return isinstance(phrase, Count) and phrase.value.denominator == 1 and not phrase.piece


def _is_bowl(phrase: Phrase) -> bool:
    return isinstance(phrase, Word) and phrase.payload in ("bowl", "grills")
