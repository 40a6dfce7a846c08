"""The clock worked back from serving by the times that a line itself names: "burgers take 12 min, rest 5, eat at 7"."""

from __future__ import annotations

import math
from datetime import datetime, time, timedelta
from enum import IntEnum
from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Moment, Patties, People, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.language.when import for_a_meal
from assistant.pattern import Pattern
from assistant.topics import heard, verdict, within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME = "before_serving"
_SPAN = Pattern(
    r"\b(?P<much>\d+(?:\.\d+)?|half an|(?:a )?quarter of an|three quarters of an|an|a|one|two|three|four|five|six|seven|eight|ten|twelve|fifteen|twenty|thirty)"
    r"[ -]?(?P<unit>hours?|hrs?|minutes?|mins?)\b(?P<side> (?:a|per|each|on each) side)?"
    r"|\brest(?:s|ing)?(?: them)?(?: for)? (?P<rest>\d+)\b(?! ?(?:%|g|kg|lb|oz|hours?|hrs?|minutes?|mins?)\b)"
    r"|\b(?P<to>\d+) (?:to |for |of )?rest(?:ing)?\b"
)
_WORDS = {"half an": Fraction(1, 2), "an": Fraction(1), "a": Fraction(1), "three quarters of an": Fraction(3, 4)}
_WORDS |= {"quarter of an": Fraction(1, 4), "a quarter of an": Fraction(1, 4)}
_WORDS |= {
    word: Fraction(number)
    for word, number in (("one", 1), ("two", 2), ("three", 3), ("four", 4), ("five", 5), ("six", 6), ("seven", 7))
}
_WORDS |= {"eight": Fraction(8), "ten": Fraction(10), "twelve": Fraction(12), "fifteen": Fraction(15)}
_WORDS |= {"twenty": Fraction(20), "thirty": Fraction(30)}
_ASKED = Pattern(r"\b(?:when|what time)\b(?P<rest>[^?.!]*)")
_CUT = Pattern(r",|;|\.(?!\d)| and | then | plus ")
_SITTING = Pattern(
    r"^\W*(?:(?:the|our|my) )?(?:(?:first|second|third|last|early|late|next) )?(?:sitting|seating|service)(?:['’]?s| is)? (?:at|for)\b[^,;?]*$"
)
_LONGEST = 24 * 60


class Stage(IntEnum):
    """What a length of time is for, in the order of the work."""

    SHAPE = 0
    CHILL = 1
    LIGHT = 2
    COOK = 3
    REST = 4
    OFF = 5


_STAGES = (
    (
        Stage.OFF,
        Pattern(r"\boff\b|\bbefore (?:we |i |they )?(?:serv|eat)|\bbefore (?:serving|the meal|lunch|dinner|supper)"),
    ),
    (Stage.REST, Pattern(r"\brest|\bstand\b")),
    (Stage.LIGHT, Pattern(r"\blight|\bcoals?\b|\bcharcoal|\bpre-?heat|\bheat up|\bget (?:it )?hot")),
    (Stage.CHILL, Pattern(r"\bchill|\bfirm|\bfridge|\bcool")),
    (Stage.SHAPE, Pattern(r"\bshap|\bform|\bpatt(?:y|ing)\b|\broll|\bpress|\bmake (?:them|the|up)")),
    (
        Stage.COOK,
        Pattern(
            r"\bcook|\bgrill|\bfry|\bfries|\bpan\b|\boven|\bbarbecue|\bbbq|\bsear|\bgriddle|\btakes?\b|\bneeds?\b|\bon the\b"
        ),
    ),
)
_WANTED = (
    (Stage.REST, Pattern(r"\b(?:come|comes|take|get|be) (?:\w+ )?off\b|\boff the\b")),
    (Stage.SHAPE, Pattern(r"\bshap|\bform|\bpatty|\bmake (?:them|the)")),
    (Stage.LIGHT, Pattern(r"\blight|\bcoals?\b|\bfire\b|\bpre-?heat")),
    (Stage.COOK, Pattern(r"\bgo(?:es)? (?:on|in)\b|\bput\b|\bcook|\bgrill|\bfry|\bon\b|\bin\b")),
)
_NAMES = {
    Stage.SHAPE: "shape",
    Stage.CHILL: "chill",
    Stage.LIGHT: "light",
    Stage.COOK: "on",
    Stage.REST: "off",
    Stage.OFF: "off",
}
_SAID = {
    Stage.SHAPE: "shaping",
    Stage.CHILL: "chilling",
    Stage.LIGHT: "lighting",
    Stage.COOK: "cooking",
    Stage.REST: "resting",
    Stage.OFF: "off before serving",
}


class Backwards(Struct, frozen=True):
    """When it is served, how long each stage takes, and which one is asked about (None: the first)."""

    serve: time
    spans: tuple[tuple[Stage, Fraction], ...] = ()
    asked: Stage | None = None
    meat: heard.Meat = heard.Meat()


class BeforeServingTopic:
    """The topic of a clock worked back by times that are said."""

    name = NAME
    examples = ("eating at 7 pm, burgers take 12 min and rest 5 min, when do they go on?",)
    passes: frozenset[str] = frozenset(
        (
            *("serve", "start_when", "rest", "rest_after", "into", "this", "want", "next_step", "cook_time", "firm"),
            *("when", "safe", "mix", "goes_in", "eats", "fridge", "must_be", "have"),
        )
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """When something begins is asked, and every number of the line is a length of time or the hour of serving."""
        text = sentence.text.lower()
        if any(_is_of_a_batch(phrase) for phrase in sentence.phrases):
            return None
        clock = _clock(sentence)
        numbers = [p for p in sentence.phrases if isinstance(p, Amount | Count | PerEach | Moment)]
        if clock is not None and _SITTING.match(text) and all(number in clock[1] for number in numbers):
            return Reading(Backwards(clock[0]), frozenset(sentence.phrases), 2)
        asked = list(_ASKED.finditer(text))
        spans = list(_SPAN.finditer(text))
        served = clock[0] if clock is not None else _kept(talk)
        if not asked or not spans or served is None or (clock is None and NAME not in talk.kept):
            return None
        told = _stages(text, [span.span() for span in spans], asked[-1].start())
        if told is None:
            return None
        used: set[Phrase] = set(within.cues(sentence, self.passes))
        for span in spans:
            used |= within.overlapping(sentence, *span.span())
        used |= clock[1] if clock is not None else set()
        used |= set(sentence.of(Patties))
        if any(number not in used for number in numbers):
            return None
        times = tuple((stage, _minutes(span)) for stage, span in zip(told, (s.groupdict() for s in spans), strict=True))
        wanted = next((stage for stage, words in _WANTED if words.search(asked[-1]["rest"])), None)
        if wanted is Stage.COOK and Stage.COOK not in told:
            return None
        return Reading(Backwards(served, times, wanted, heard.meat(sentence)), frozenset(used), 4)

    def answer(self, request: Any, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The moment that is asked about, and every other one on the way to it."""
        wanted: Backwards = request
        serve = datetime.combine(kitchen.now().date(), wanted.serve)
        if not wanted.spans:
            says = f"What has to be done before {_clock_words(serve)}? Say for example: 15 minutes on the grill, 5 to rest."
            told = verdict.told(NAME, f"Serving at {_clock_words(serve)}", says, status=Status.NEEDS_DETAIL)
            return Outcome(told.answer, keeps=wanted.serve)
        if wanted.asked in (Stage.SHAPE, Stage.LIGHT) and wanted.asked not in {stage for stage, _ in wanted.spans}:
            says = f"How long does the {_SAID[wanted.asked]} take?"
            return verdict.told(NAME, "Worked back from serving", says, status=Status.NEEDS_DETAIL)
        spans = sorted(wanted.spans, key=lambda span: span[0])
        if sum(minutes for _, minutes in spans) > _LONGEST:
            return verdict.told(
                NAME, "Worked back from serving", "That is longer than a day.", status=Status.IMPOSSIBLE
            )
        moments, at = {}, serve
        for stage, minutes in reversed(spans):
            at -= timedelta(minutes=math.ceil(minutes))
            moments[stage] = at
        asked = wanted.asked if wanted.asked in moments else None
        if wanted.asked is Stage.REST and Stage.OFF in moments and asked is None:
            asked = Stage.OFF
        first = asked if asked is not None else spans[0][0]
        if wanted.asked is Stage.REST and asked is None:
            moments[Stage.REST], first = serve, Stage.REST
        order = [first, *(stage for stage, _ in spans if stage is not first)]
        figures = [
            Figure(
                _NAMES[stage],
                Role.CLOCK_TIME,
                moments[stage].strftime("%H:%M"),
                "time",
                shown=_clock_words(moments[stage]),
            )
            for stage in order
        ]
        way = [f"{wording.duration(minutes)} {_SAID[stage]}" for stage, minutes in spans]
        said = f"{', '.join(way)}, served at {_clock_words(serve)}"
        headline = f"{_NAMES[first].capitalize()} at {_clock_words(moments[first])}: {said}."
        touches = verdict.with_meat(wanted.meat, kitchen, {"cook_temperature"})
        working = (f"{_clock_words(serve)} less {wording.listing(way)}.",)
        told = verdict.told(NAME, said, headline, figures=figures, cautions=touches, working=working)
        return Outcome(told.answer, keeps=wanted.serve)


def _is_of_a_batch(phrase: Phrase) -> bool:
    """A number of burgers or people, a weight, a round: a timetable's or another's, and not this."""
    if isinstance(phrase, People | CutName):
        return isinstance(phrase, CutName) or phrase.count is not None
    if isinstance(phrase, Patties):
        return phrase.count is not None or phrase.each is not None
    if isinstance(phrase, Amount | PerEach):
        return phrase.kind not in ("duration", "count")
    return isinstance(phrase, Word) and phrase.payload in ("bowl", "grills", "thaw", "timer", "stop_timer")


def _clock(sentence: Sentence) -> tuple[time, frozenset[Phrase]] | None:
    """The one clock time of the line as that of a meal: "at 7", "6:30", "19:00"."""
    moments = heard.clocks(sentence)
    text = sentence.text.lower()
    if not moments:
        bare = [c for c in sentence.of(Count) if text[: c.first].endswith(("at ", "by ")) and c.value.denominator == 1]
        if len(bare) != 1 or not 1 <= bare[0].value <= 12:
            return None
        return for_a_meal(time(int(bare[0].value))), frozenset(bare)
    clock = heard.mealtime(moments[0])
    return (clock, frozenset(moments)) if len(moments) == 1 and clock is not None else None


def _kept(talk: Talk) -> time | None:
    kept = talk.kept.get(NAME)
    return kept if isinstance(kept, time) else None


def _stages(text: str, spans: list[tuple[int, int]], question: int) -> list[Stage] | None:
    """What each length of time is for, by the words behind it up to the next, else by those before it; None where one
    is not plain or two are the same."""
    found: list[Stage] = []
    for place, (first, last) in enumerate(spans):
        end = spans[place + 1][0] if place + 1 < len(spans) else len(text)
        end = min(end, question) if question >= last else end
        start = spans[place - 1][1] if place else 0
        behind = _CUT.split(text[last:end])[0]
        before = _CUT.split(text[start:first])[-1]
        stage = next(
            (one for words in (text[first:last], behind, before) if (one := _stage_of(words)) is not None), None
        )
        if stage is None or stage in found:
            return None
        found.append(stage)
    return found


def _stage_of(words: str) -> Stage | None:
    return next((stage for stage, pattern in _STAGES if pattern.search(words)), None)


def _minutes(span: dict[str, str | Any]) -> Fraction:
    if span["unit"] is None:
        return Fraction(span["rest"] or span["to"])
    much = _WORDS.get(span["much"]) or Fraction(span["much"])
    minutes = much * 60 if span["unit"].startswith("h") else much
    return minutes * 2 if span["side"] else minutes


def _clock_words(moment: datetime) -> str:
    return wording.clock(moment)


TOPIC = BeforeServingTopic()
