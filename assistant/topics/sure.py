"""How sure a blend's fat is: likely spread and worst case, the cut that the doubt comes from, and what narrows it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from itertools import takewhile

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine.spread import Spread
from assistant.language.phrases import CutName, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict, within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan import answers, doubt
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan
from assistant.topics.plan.restate import understood

NAME = "sure"
_ASKS = Pattern(
    r"\bhow\s+(?:sure|certain|accurate|exact|precise|reliable|confident|close)\b[^.;?]*"
    r"|\bhow\s+(?:much|far)\s+(?:off\s+)?(?:can|could|might|may|would)\s+(?:it|that|the\s+(?:real\s+|true\s+)?fat)\s+(?:be\s+(?:off|out)|vary|differ|be)[^.;?]*"
    r"|\b(?:what(?:'?s|\s+is)?|give\s+me|show\s+me|and|with)?\s*(?:the\s+)?(?:worst\s+case|likely\s+(?:range|spread)|uncertainty|margin\s+of\s+error|error\s+bars?)\b[^.;?]*"
    r"|\bwhich\s+(?:of\s+(?:them|the\s+cuts)\s+)?(?:cut\s+|meat\s+|one\s+|figure\s+)?(?:matters|contributes|counts|makes\s+(?:it|the\s+fat)\s+(?:so\s+)?(?:un\w+|vague)|is\s+(?:the\s+)?(?:least\s+(?:sure|certain)|most\s+uncertain))\b[^.;?]*"
    r"|\b(?:which\s+(?:cut|meat|one|figure)|what|where)\s+(?:is|does|do|makes?|causes?|brings?)\s+(?:(?:the|most|much|all|of|that)\s+)*(?:doubt|uncertainty|spread)\b[^.;?]*"
    r"|\b(?:which\s+(?:cut|meat|one|figure)|what|who)\s+(?:contributes|adds|matters)\s+(?:the\s+)?most\b[^.;?]*"
    r"|\bwhat\s+(?:would|will|could|can)\s+(?:narrow|tighten|sharpen|make\s+(?:it|that|the\s+fat)\s+(?:surer|more\s+(?:certain|sure|exact)))[^.;?]*"
    r"|\bhow\s+(?:can|do|could|would|to)\s+(?:i\s+)?(?:narrow|tighten|sharpen|be\s+(?:surer|more\s+(?:sure|certain))|know\s+(?:it\s+)?(?:better|more\s+exactly))[^.;?]*",
    re.IGNORECASE,
)


class Sure(Struct, frozen=True):
    """How sure the fat of a batch is. plan: the batch, said in the line or on the table."""

    plan: Plan


class SureTopic:
    """The topic of how sure a blend is."""

    name = NAME
    examples = (
        "3 lb at 80/20 from chuck, brisket and suet, how sure is the fat?",
        "which cut makes the fat so uncertain?",
    )
    passes: frozenset[str] = frozenset(
        ("what", "how_much", "this", "why", "mix", "composition", "works_out", "want", "more")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """The question, with a batch in the line or on the table."""
        asked = [found for found in _ASKS.finditer(sentence.text) if found.group().strip()]
        if not asked:
            return None
        taken: set[Phrase] = set()
        for found in asked:
            inside = sorted(within.overlapping(sentence, *found.span()), key=lambda p: p.first)
            # where the batch begins the question ends: "how sure is 3 lb at 80/20 from chuck and suet?"
            taken |= set(takewhile(_is_of_the_question, inside))
        rest = within.without(sentence, taken)
        plan = within.plan_of(rest, talk)
        if plan is not None and isinstance(plan.request, Plan) and plan.request.items:
            return Reading(Sure(plan.request), plan.used | taken, 3)
        if talk.plan is None or any(isinstance(p, CutName) for p in rest.phrases):
            return None
        return Reading(Sure(talk.plan), frozenset(taken), 3)

    def answer(self, request: Sure, kitchen: Kitchen, talk: Talk) -> Outcome:
        """Likely spread, worst case, the cut behind most of it, and how to narrow it."""
        weighed = answers.weighed(request.plan, kitchen, talk)
        if weighed is None:
            return answers.answer(request.plan, kitchen, talk)
        meats, grams = weighed
        found = doubt.spread_of(meats, grams)
        said = f"How sure is the fat of this: {understood(request.plan).removeprefix('Plan ')}"
        if found is None:
            return verdict.told(NAME, said, "The fat of one of the cuts is not known at all.", status=Status.IMPOSSIBLE)
        told = _exact(said, found) if found.largest is None else _told(said, meats, grams, found, kitchen)
        return Outcome(told.answer, plan=request.plan, amends=True)


def _is_of_the_question(phrase: Phrase) -> bool:
    return (isinstance(phrase, Word) and phrase.kind in ("cue", "unknown", "side", "fatis", "sep", "of", "bound")) or (
        isinstance(phrase, CutName) and not phrase.keys
    )


def _exact(said: str, found: Spread) -> Outcome:
    shown = wording.percent(found.fat)
    return verdict.told(
        NAME,
        said,
        f"{shown} fat, exactly: every figure is your own. Only the scale and the mixing are left.",
        figures=[Figure("fat", Role.FAT, float(found.fat), "%", shown=shown)],
    )


def _told(said: str, meats: Sequence[Meat], grams: Sequence[Fraction], found: Spread, kitchen: Kitchen) -> Outcome:
    assert found.largest is not None
    widest, share = meats[found.largest], found.contributions[found.largest]
    low, high = doubt.likely(found)
    known = doubt.spread_of(meats, grams, found.largest)
    assert known is not None
    left, right = doubt.likely(known)
    figures = [
        _fat("fat, likely", found.fat, low, high),
        _fat("fat, worst case", found.fat, found.low, found.high),
        *(
            Figure(
                f"{meat.name}, part of the doubt",
                Role.RATIO,
                float(weight * 100),
                "%",
                shown=wording.percent(weight * 100, 0),
            )
            for meat, weight in zip(meats, found.contributions, strict=True)
            if weight
        ),
        _fat(f"fat, if the {widest.name} were known", found.fat, left, right),
    ]
    band = wording.percent_range(low, high, 1)
    worst = wording.percent_range(found.low, found.high, 1)
    part = "nearly all" if share > Fraction(199, 200) else wording.percent(share * 100, 0)
    same = (low, high) == (found.low, found.high)
    ends = f"anywhere from {worst}" if same else f"most likely {band}, {worst} at the worst"
    return verdict.told(
        NAME,
        said,
        f"{wording.percent(found.fat)} fat, {ends}. {part[:1].upper()}{part[1:]} of the doubt is the {widest.name}.",
        figures=figures,
        steps=(
            f"Read the {widest.name}'s label, or ask the butcher, and say it: {widest.name} {wording.number(widest.fat or 0, 0)}%. "
            f"Known exactly, the blend is {wording.percent_range(left, right, 1)}.",
            f"Or weigh the fat that you trim off and say: I trimmed 300 g of fat off a 2 kg {widest.name}.",
            "Or cook a sample out and say: cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered.",
        ),
        notes=_scale_note(found, kitchen),
        working=(
            "Worst case: every cut at the end of its range.",
            "Likely: two standard deviations of cuts that vary independently (JCGM 100:2008).",
        ),
    )


def _fat(name: str, fat: Fraction, low: Fraction, high: Fraction) -> Figure:
    shown = wording.percent(fat) if low == high else wording.percent_range(low, high, 1)
    if low == high:
        return Figure(name, Role.FAT, float(fat), "%", shown=shown)
    return Figure(name, Role.FAT, float(fat), "%", float(low), float(high), shown=shown)


def _scale_note(found: Spread, kitchen: Kitchen) -> list[str]:
    """What the kitchen scale adds: its step is an error of up to half a step either way, evenly likely."""
    step = kitchen.settings.get("scale_grams")
    if not step:
        return []
    points = found.from_scale(Fraction(step) / 2) / 3**0.5
    return (
        [f"Weighing to {wording.number(Fraction(step), 2)} g adds about {points:.2f} points: not worth a better scale."]
        if points < 0.5
        else []
    )


TOPIC = SureTopic()
