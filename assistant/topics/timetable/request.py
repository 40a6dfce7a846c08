"""A meal that is worked back from: when it is served, and what the kitchen starts from."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant.language.when import Day


class Meal(Struct, frozen=True):
    """What was said of serving. What is cooked is the batch on the table, or `plan` where the line brought its own.

    day: as it was said; on: the calendar day once it is settled; near: the day that it was before a change. clock: as said; half: "am", "pm" or "" where neither
    the clock time nor a word of the line tells. have: "", "nothing", "cuts", "ground" or "patties"; ahead: "", "nothing",
    "cubes" or "patties"; frozen: what there is is frozen, in packs of pack_g. at_once: patties in a round, round_minutes:
    of one round, gap_minutes: between two; at_once: as many as the line itself says go on, handed to the batch;
    lit: when the first round goes on, where that is said. in_time: it was told when nothing was late yet, and so is under way. asks: the one step that
    is asked about ("" for all of them). hands: people at work. ambient_f: how hot it gets. grill_only: only the rounds were asked about.
    """

    day: Day | None = None
    on: date | None = None
    near: date | None = None
    clock: time | None = None
    half: str = ""
    have: str = ""
    ahead: str = ""
    frozen: bool | None = None
    pack_g: Fraction | None = None
    round_minutes: Fraction | None = None
    gap_minutes: Fraction | None = None
    at_once: Fraction | None = None
    lit: time | None = None
    hands: int = 1
    ambient_f: Fraction | None = None
    grill_only: bool = False
    next_said: bool = False
    in_time: bool = False
    asks: str = ""
    plan: Any = None
