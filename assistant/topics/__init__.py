"""The kinds of request, one line each. Order settles ties: the earlier topic wins."""

from __future__ import annotations

from functools import cache
from importlib import import_module

from assistant.topics.base import Topic

MODULES = (
    "turns",
    "notes",
    "stock",
    "settings",
    "timers",
    "walk",
    "craft",
    "repriced",
    "swapped",
    "rations",
    "oversalted",
    "afford",
    "plan",
    "timetable",
    "card",
    "convert",
    "cook",
    "safe",
    "allergens",
    "cure",
    "guide",
    "courtesy",
    "outside",
    "store",
    "thaw",
    "firm",
    "salting",
    "choosing",
    "learn",
    "packs",
    "deals",
    "prices",
    "correct",
    "sure",
    "shrink",
    "scaled",
    "reach",
    "evenly",
    "stall",
    "head_size",
    "till",
    "mean_price",
    "pro_rata",
    "bags",
    "per_day",
    "two_sizes",
    "ready",
    "before_serving",
    "off_the_bone",
)
"""Modules of this package that hold a TOPIC, in the order in which ties are settled."""


@cache
def topics() -> tuple[Topic, ...]:
    """Every topic, loaded when the first line is read."""
    return tuple(import_module(f"{__name__}.{module}").TOPIC for module in MODULES)
