"""When meat that went into the cold at a clock time is to come out: "cubes in the freezer at 6:40, 45 minutes"."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from fractions import Fraction

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Count, Phrase
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.heard import Meat

NAME = "ready"
_IN = Pattern(r"\b(in|into|inside)\b( the| my| our)? (freezer|fridge)\b")
_DOTTED = Pattern(r"\b(?:at|since) (1[0-2]|[1-9])\.([0-5][0-9])\b")
"""A clock time with a dot, "at 6.40", beside a place where it can be no temperature."""
_OTHERS = (
    *("counter", "thaw", "power_cut", "use_by", "keep", "refreeze", "timer", "temp", "not", "leftover"),
    *heard.PLANNING,
)
_COMES_OUT = Pattern(r"\bwhen\b.*\b(take|takes|get|come|comes|pull)( it| them)? out\b")
_LONGEST = Fraction(12)
"""Hours. Longer than that it is kept, not firmed."""


class Ready(Struct, frozen=True):
    """at: the clock time at which it went in, loose where its half of the day is unsaid; low, high: hours; place."""

    at: time
    loose: bool
    low: Fraction
    high: Fraction
    place: str


class ReadyTopic:
    """A clock time and a length of time, added up."""

    name = NAME
    examples = ("cubes in the freezer at 6:40, 45 minutes",)
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """One clock time at which it went in, and how long it is to stay."""
        text = sentence.text.lower()
        place = _IN.search(text)
        spells = heard.durations(sentence)
        if place is None or len(spells) != 1 or spells[0][2] > _LONGEST:
            return None
        out = sentence.has("out_in") and _COMES_OUT.search(text) is None
        if (
            out
            or sentence.has(*_OTHERS)
            or heard.days(sentence)
            or sentence.has("safe", "is_it_ok", "yes", "is_enough")
        ):
            return None
        clock = _clock(sentence)
        if clock is None:
            return None
        at, loose, phrase = clock
        length, low, high = spells[0]
        used = heard.plain_words(sentence) | heard.all_of([phrase, length])
        return Reading(Ready(at, loose, low, high, place[3]), used, 3)

    def answer(self, request: Ready, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The time at which it comes out."""
        now = kitchen.now()
        began = _nearest(request, now)
        first, last = (began + timedelta(hours=float(hours)) for hours in (request.low, request.high))
        source = "worked out from what you said"
        moments = [first] if first == last else [first, last]
        figures = [
            Figure("ready", Role.CLOCK_TIME, moment.isoformat(), "time", source=source, shown=_shown(moment, request))
            for moment in moments
        ]
        spell = wording.duration(request.low * 60)
        if request.high != request.low:
            spell += f" to {wording.duration(request.high * 60)}"
        asked = f"In the {request.place} at {_shown(began, request)} for {spell}: when is it ready?"
        says = (
            f"Ready at {' to '.join(figure.shown or '' for figure in figures)}: {spell} from {_shown(began, request)}."
        )
        return verdict.told(
            NAME,
            asked,
            says,
            figures=figures,
            cautions=verdict.with_meat(Meat(), kitchen, {"keep_cold"}),
            notes=[f"No clock runs for it: say a timer of {spell} to be told."],
            working=(f"{_shown(began, request)} + {spell} = {figures[-1].shown}",),
        )


def _clock(sentence: Sentence) -> tuple[time, bool, Phrase] | None:
    """The one clock time of the line, whether its half of the day is unsaid, and the phrase that says it."""
    clocks = heard.clocks(sentence)
    if len(clocks) == 1 and clocks[0].clock is not None:
        return clocks[0].clock, clocks[0].loose, clocks[0]
    dotted = _DOTTED.search(sentence.text.lower())
    if clocks or dotted is None:
        return None
    phrase = next((count for count in sentence.of(Count) if count.first == dotted.start(1)), None)
    return None if phrase is None else (time(int(dotted[1]) % 12, int(dotted[2])), True, phrase)


def _nearest(request: Ready, now: datetime) -> datetime:
    """When it went in: of the two halves of the day the one that is nearer to now."""
    day = now.replace(hour=request.at.hour, minute=request.at.minute, second=0, microsecond=0)
    if not request.loose:
        return day
    halves = [day.replace(hour=day.hour % 12 + half) for half in (0, 12)]
    return min(halves, key=lambda moment: abs(moment - now))


def _shown(moment: datetime, request: Ready) -> str:
    """A clock time as it was said: with its half of the day only where that was."""
    return f"{(moment.hour - 1) % 12 + 1}:{moment.minute:02d}" if request.loose else wording.clock(moment)


TOPIC = ReadyTopic()
