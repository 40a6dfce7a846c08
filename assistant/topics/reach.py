"""How lean and how fat a batch can be made from the cuts named, within their limits."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import blend as engine
from assistant.engine.kinds import Blend, NoBlend
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict, within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan import meat
from assistant.topics.plan.cuts import cuts_of
from assistant.topics.plan.own import own_fats
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import grams, system

NAME = "reach"
_ASKS = Pattern(
    r"\bhow\s+lean\s+(?:and|or)\s+(?:how\s+)?fat(?:ty)?\s+(?:can|could|does|will|may)\s+(?:i|we|it|that|this|they)\s+(?:go|be|get|make(?:\s+it)?)\b"
    r"|\bhow\s+(?:lean|fat(?:ty)?)\s+(?:can|could)\s+(?:i|we|it|they)\s+(?:go|get|be(?:\s+made)?|make\s+it)\b"
    r"|\b(?:what|which)\s+(?:range\s+of\s+)?(?:fats?|lean\s+to\s+fat|lean\s+to\s+fats|fat\s+levels?|ratios?|range)\s+(?:can|could)\s+(?:i|we)\s+(?:reach|make|get|hit|do)\b"
    r"|\b(?:between\s+)?what\s+fats\s+(?:lie|are)\s+(?:possible|within\s+reach)\b",
    re.IGNORECASE,
)


class Within(Struct, frozen=True):
    """The cuts and their limits; a batch where one was said."""

    plan: Plan


class ReachTopic:
    """The topic of what fat can be reached."""

    name = NAME
    examples = ("how lean and how fat can I go with chuck and suet?",)
    passes: frozenset[str] = frozenset(
        ("what", "how_much", "out_of", "have", "mix", "composition", "this", "largest", "want")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """The question, with the cuts in the line or of the batch on the table."""
        said = _ASKS.search(sentence.text)
        if said is None:
            return None
        taken = within.overlapping(sentence, said.start(), said.end())
        rest = within.without(sentence, taken)
        plan = within.plan_of(rest, talk)
        batch: Any = getattr(plan.request, "plan", plan.request) if plan is not None else None
        if plan is not None and isinstance(batch, Plan) and batch.items:
            return Reading(Within(batch), plan.used | taken, 3)
        others = list(rest.substance())
        return Reading(Within(talk.plan), taken, 3) if isinstance(talk.plan, Plan) and not others else None

    def answer(self, request: Within, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The leanest and the fattest blend, and that all between them can be made."""
        plan = replace(request.plan, target=None)
        meats, doubt = meat.find(plan, kitchen.country, {}, own_fats(kitchen))
        names = wording.listing([one.name for one in meats])
        said = f"How lean and how fat a batch can be from {names}"
        if doubt is not None or any(one.fat is None for one in meats):
            question = doubt.question if doubt is not None else "How fat is each of them, in %?"
            return verdict.told(NAME, said, question, status=Status.NEEDS_DETAIL)
        speak = system(plan, kitchen.units)
        batch = grams(plan.batch) if plan.batch is not None else units.grams(1, "lb" if speak == "us" else "kg")
        cuts = [
            cut
            if one.item.weight is None or one.item.weight_is != "is"
            else engine.Cut(cut.name, cut.fat, cut.low, cut.high, at_most=cut.at_most)
            for one, cut in zip(meats, cuts_of(meats), strict=True)
        ]
        found = engine.reach(cuts, batch)
        if isinstance(found, NoBlend):
            says = f"No {wording.weight(batch, speak)} can be made of them within those limits."
            return verdict.told(NAME, said, says, status=Status.IMPOSSIBLE)
        lean, fat = found.leanest, found.fattest
        return verdict.told(
            NAME,
            said,
            f"From {wording.lean_fat(lean.fat)} to {wording.lean_fat(fat.fat)}: every fat between {wording.percent_range(lean.fat, fat.fat, 1)} can be made.",
            figures=[_end("leanest", lean), _end("fattest", fat)],
            notes=[_made("Leanest", lean, meats, speak), _made("Fattest", fat, meats, speak)],
            working=("The leanest is filled up from the lean end, the fattest from the fat end, within every limit.",),
        )


def _end(name: str, made: Blend) -> Figure:
    low, high = (None, None) if made.low == made.high else (float(made.low), float(made.high))
    return Figure(name, Role.FAT, float(made.fat), "%", low=low, high=high, shown=wording.percent(made.fat))


def _made(name: str, made: Blend, meats: tuple[meat.Meat, ...], speak: str) -> str:
    parts = [
        f"{wording.weight(g, speak)} {one.name}" for g, one in zip(made.grams, meats, strict=True) if g > Fraction(0)
    ]
    return f"{name}: {wording.listing(parts)}."


TOPIC = ReachTopic()
