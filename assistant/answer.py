"""The answer as data: what every way of asking hands back and every renderer shows.

Standard library only, frozen, no wording of its own. Nothing here computes.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from msgspec import Struct


class Status(StrEnum):
    """How a request ended."""

    ANSWERED = "answered"
    NEEDS_DETAIL = "needs_detail"
    NOT_UNDERSTOOD = "not_understood"
    IMPOSSIBLE = "impossible"


class Role(StrEnum):
    """What a figure is; the closed list that programs reading JSON may rely on."""

    COMPONENT = "component"
    TOTAL = "total"
    FAT = "fat"
    LEAN = "lean"
    ADD = "add"
    LEFT_OVER = "left_over"
    SEASONING = "seasoning"
    PATTY_WEIGHT = "patty_weight"
    PATTY_COUNT = "patty_count"
    PATTY_DIAMETER = "patty_diameter"
    PATTY_THICKNESS = "patty_thickness"
    COOKED_WEIGHT = "cooked_weight"
    YIELD = "yield"
    PURCHASE = "purchase"
    PRICE = "price"
    COST = "cost"
    TEMPERATURE = "temperature"
    DURATION = "duration"
    CLOCK_TIME = "clock_time"
    DATE = "date"
    CONVERSION = "conversion"
    RATIO = "ratio"
    RATING = "rating"


class Figure(Struct, frozen=True):
    """One number that the answer states.

    value: full precision, never the rounded display; for dates and clock times an ISO 8601 string.
    unit: a pint unit name, "%", an ISO 4217 code, "count", "1", "date" or "time".
    low, high: bounds, where the inputs are typical values and not measurements.
    fat_percent: for components, the fat assumed for the cut.
    shown: the same figure as people write it ("1 lb 4 oz"), so that no renderer has to round.
    """

    name: str
    role: Role
    value: float | str
    unit: str
    low: float | None = None
    high: float | None = None
    fat_percent: float | None = None
    source: str | None = None
    shown: str = ""

    def as_data(self) -> dict[str, Any]:
        """The figure as JSON-ready data; fat_percent only where it is known."""
        data: dict[str, Any] = {
            "name": self.name,
            "role": self.role.value,
            "value": self.value,
            "unit": self.unit,
            "low": self.low,
            "high": self.high,
            "source": self.source,
        }
        if self.fat_percent is not None:
            data["fat_percent"] = self.fat_percent
        return data


class Caution(Struct, frozen=True):
    """A safety reminder that the answer touches, with its source. urgent: say it again although already said."""

    topic: str
    text: str
    source: str
    urgent: bool = False

    def as_data(self) -> dict[str, str]:
        """The caution as JSON-ready data."""
        return {"topic": self.topic, "text": self.text, "source": self.source}


class Wait(Struct, frozen=True):
    """A step that takes time by itself, for whoever offers a timer. It is no part of the published shape.

    step: which one, from 0; name: what a timer for it is called; minutes: when to look first; most: the latest.
    """

    step: int
    name: str
    minutes: int
    most: int


class Answer(Struct, frozen=True):
    """The one shape of every answer.

    heard: the line as typed; whoever was asked fills it in, topics leave it out.
    headline: the short right answer in one line, shown first on a terminal.
    steps: what to do, in order; waits: those of them that take time. notes: assumptions, corrections, words set aside.
    message: the question, refusal or explanation where status is not "answered"
    (and a plain sentence, such as a yes or no, where it is). document: the lines of a page that was asked for, a recipe
    card or a label, shown as it is in place of figures, steps and reminders, which it holds itself.
    """

    understood: str
    status: Status
    topic: str
    headline: str = ""
    figures: tuple[Figure, ...] = ()
    steps: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = ()
    message: str = ""
    working: tuple[str, ...] = ()
    waits: tuple[Wait, ...] = ()
    heard: str = ""
    document: tuple[str, ...] = ()

    def as_data(self) -> dict[str, Any]:
        """The answer as JSON-ready data, in the published shape; document only where there is one."""
        data: dict[str, Any] = {
            "heard": self.heard,
            "understood": self.understood,
            "status": self.status.value,
            "topic": self.topic,
            "figures": [figure.as_data() for figure in self.figures],
            "steps": list(self.steps),
            "cautions": [caution.as_data() for caution in self.cautions],
            "notes": list(self.notes),
            "message": self.message or self.headline,
        }
        return {**data, "document": list(self.document)} if self.document else data
