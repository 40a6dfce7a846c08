"""How much fat there is in a lot by weight, and how much lean: "pounds of fat in 12 lb of 80/20"."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from assistant import wording
from assistant.answer import Figure, Role
from assistant.pattern import Pattern
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import Section, grams, in_unit, system

ASKED: Final = "fat_by_weight"
_ASKS = Pattern(
    r"\b(?:how much|how many \w+ of|how many \w+|pounds of|lbs? of|grams of|oz of|ounces of|kilos of|weight of)(?: (?:pure|actual|the))? "
    r"(?:fat|lean)(?: meat)? (?:is |are |there |would be |do i have )*in\b|\b(?:fat|lean) in (?:a|an|each|one|my) \d"
    r"|\bhow much of (?:that|it|this)(?: is|'s|s)? (?:fat|lean)\b",
    re.IGNORECASE,
)


def asks(text: str) -> bool:
    """Whether a line wants the fat of a lot as a weight."""
    return _ASKS.search(text) is not None


def section(plan: Plan, blended: Section | None, default_system: str) -> Section | None:
    """Fat and lean of the lot by weight, with the ends of its fat; None where nobody asked, or the lot is not known.

    A lot without cuts is as fat as its label says.
    """
    if ASKED not in plan.asks:
        return None
    size = plan.patties.size if plan.patties is not None and plan.patties.count is None else None
    if blended is not None and blended.grams is not None and blended.fat is not None:
        whole, fat, low, high = blended.grams, blended.fat, blended.low, blended.high
        unit = plan.items[0].weight.unit if plan.items and plan.items[0].weight is not None else "g"
    elif not plan.items and plan.target is not None and (measure := plan.batch or size) is not None:
        whole, fat, low, high, unit = grams(measure), plan.target, None, None, measure.unit
    else:
        return None
    speak = system(plan, default_system)
    ends = None if low is None or high is None or low == high else (low, high)
    told = (
        _figure("fat by weight", Role.FAT, whole, fat, ends, unit, speak),
        _figure("lean by weight", Role.LEAN, whole, 100 - fat, ends and (100 - ends[1], 100 - ends[0]), unit, speak),
    )
    shown = wording.both(whole, speak)
    return Section(
        headline=f"{told[0].shown} of fat and {told[1].shown} of lean in {shown} at {wording.lean_fat(fat)}.",
        figures=told,
        working=(f"{shown} x {wording.percent(fat)} fat = {told[0].shown}; the rest is lean.",),
        grams=whole,
    )


def _figure(
    name: str,
    role: Role,
    whole: Fraction,
    share: Fraction,
    ends: tuple[Fraction, Fraction] | None,
    unit: str,
    speak: str,
) -> Figure:
    low, high = (None, None) if ends is None else (in_unit(whole * end / 100, unit) for end in ends)
    mass = whole * share / 100
    return Figure(name, role, in_unit(mass, unit), unit, low, high, shown=wording.both(mass, speak))
