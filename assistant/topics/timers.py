"""Timers and the warm clock in words, over assistant/clock.py. They are kept in the notebook, so that "how long left"
works after a restart; a timer rings where somebody watches the clock (the chat), and is told as done elsewhere.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from fractions import Fraction
from functools import partial
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.clock import HOT_LIMIT, LONGEST, Clocks, Timer, WarmClock
from assistant.errors import BadInput
from assistant.language.phrases import Amount, Count, CutName, Moment, Patties, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.notebook import Notebook, NotebookError, TimerNote
from assistant.pattern import Pattern
from assistant.topics import heard
from assistant.topics.base import Kitchen, Outcome, Pending, Reading, Talk, answered, ended, pending_for
from assistant.topics.cautions import reminders

WARM = "warm clock: "
"""Before the name of a warm clock among the notebook's timers."""
_SAME_MEAT = timedelta(hours=24)
"""For so long, meat of the same name that comes out again is taken for the same meat: our choice, on the safe side."""
_HOT_AIR_F, _HOTTEST_CELSIUS = 90, 45
"""USDA FSIS: above 90 F the limit is an hour. No kitchen is above 45 C, so that a bare 95 is Fahrenheit."""
_COOLEST_AIR, _HOTTEST_AIR = 15, 130
_ITS = Pattern(r"\b(it'?s|it is|at|in)( (about|around|like|over|nearly))* *$", re.IGNORECASE)
"""What stands before a bare number that is the air's, and between which such a number lies."""
_SECONDS = {"second": 1, "minute": 60, "hour": 3600, "day": 86400}
_MEAT = (
    r"(?:the\s+|my\s+|our\s+|all\s+|new\s+|fresh\s+|other\s+)*"
    r"(?:meat|mince|patties|burgers|beef|pork|chuck|mix|cubes|it|they|everything)"
)
_OUT = Pattern(
    rf"^\W*(?:(?:ok|okay|right|so|now|just)\W+)*(?:(?P<name>{_MEAT})\s*(?:'?s|\s+is|\s+are|'re|\s+came|\s+has\s+come|\s+just\s+came)?"
    rf"|(?:i\s+|i'?ve\s+|we\s+|we'?ve\s+)?(?:just\s+)?(?:took|taken|taking|got|take)\s+(?P<taken>{_MEAT}))"
    r"\s+(?:now\s+|just\s+)?(?:out|on\s+the\s+(?:counter|bench|table|worktop))(?:\s+of\s+the\s+fridge)?"
    r"(?:\s*,?\s*(?:right\s+)?(?:now|start\s+the\s+(?:warm\s+)?clock))?"
    r"(?:(?P<hot>\W+.*\b(?:hot|boiling|scorching|heat).*)|\W+(?:and\s+)?(?:it'?s|it\s+is|at|in)\b[^?]{0,20}[0-9][^?]{0,30})?\W*$"
    r"|^\W*start\s+the\s+warm\s+clock\W*$",
    re.IGNORECASE,
)
_TOOK_OUT = Pattern(
    rf"\b(took|taken|got|came|come|brought)\b.{{0,20}}\bout\b|\b{_MEAT}\b.{{0,12}}\bout\b", re.IGNORECASE
)
"""Meat that came out of the fridge: how long it may be out is asked, and no timer."""
_BACK = Pattern(
    rf"^\W*(?:(?:ok|okay|right|so|now)\W+)*(?:(?P<name>{_MEAT})\s*(?:'?s|\s+is|\s+are|'re|\s+went|\s+goes)?\s+)?"
    rf"(?:(?:i\s+|i'?ve\s+|we\s+)?put\s+(?P<put>{_MEAT})\s+)?(?:now\s+|all\s+)?(?:back|away)"
    r"(?:\s+in(?:to|side)?)?(?:\s+(?:the\s+)?(?:fridge|freezer|cold))?(?:\s+now)?\W*$|^\W*stop\s+the\s+warm\s+clock\W*$",
    re.IGNORECASE,
)
_NAMED = Pattern(
    r"\b(?:for|on|called|named|to\s+(?:check|turn|flip|stir|take\s+out))\s+(?:the\s+|my\s+|our\s+)?"
    r"(?P<name>[a-z][a-z' -]{1,40}?)"
    r"(?:\s+timer)?(?:\s+(?:please|pls|now))*\W*$|\b(?:set|start|cancel|stop|pause|resume|kill|end|unpause|a|an|the|my|put|clear|new)\s+"
    r"(?:a\s+|the\s+|my\s+)?(?P<before>[a-z][a-z' -]{1,30}?)\s+timer\b|^\W*(?P<first>[a-z][a-z' -]{1,30}?)\s+timer\b",
    re.IGNORECASE,
)
_NO_NAME = Pattern(
    r"^(?:a|an|the|new|another|kitchen|set|start|me|set me a|set a|start a|put a|"
    r"cancel the|stop the|pause the|resume the|cancel|stop|"
    r"pause|resume|on|on the|it|that|this|all|all the|timer|about|how|what|my)$",
    re.IGNORECASE,
)
_AFTER_THE_VERB = Pattern(
    r"^\W*(?:cancel|stop|kill|end|pause|hold|freeze|resume|unpause|restart|continue|clear)\s+"
    r"(?:the\s+|my\s+|our\s+)?(?P<name>[a-z][a-z' -]{1,30}?)(?:\s+(?:again|please|now))*\W*$",
    re.IGNORECASE,
)
"""A timer by its bare name: "pause the cubes"."""
_LONGER = Pattern(
    r"^\W*(?:ok\W+)?(?P<add>add\s+|give\s+(?:it|them)\s+|plus\s+|another\s+)?(?P<number>[0-9]{1,4})\s*(?P<more>more\s+)?"
    r"(?P<unit>second|sec|minute|min|hour|hr)s?(?P<after>\s+(?:more|longer|extra))?"
    r"(?:\s+(?:to|on|for)\s+(?:the\s+|my\s+)?(?P<name>[a-z][a-z' -]{1,30}?)(?:\s+timer)?)?(?:\s+please)?\W*$",
    re.IGNORECASE,
)
"""More time on a timer: "add 5 minutes to the cubes", "5 more minutes"."""
_LETTERS = {"s": "second", "m": "minute", "h": "hour"}
_ONLY_A_TIME = Pattern(
    r"^\W*(?:for|on)\s+the\s+(?P<name>[a-z][a-z' -]{1,30}?)(?:\s+(?:please|now))?\W*$", re.IGNORECASE
)
_PLACES = ("fridge", "freezer", "counter", "grill", "oven", "sun", "car")
_ALL = Pattern(r"\ball\b|\bevery\b|\btimers\b", re.IGNORECASE)


class Start(Struct, frozen=True):
    """A timer to set. length None: how long is the question; at: until a clock time of today or tomorrow."""

    name: str
    length: timedelta | None = None
    at: Moment | None = None


class Left(Struct, frozen=True):
    """How long each timer and warm clock has left. name "": all of them."""

    name: str = ""


class Stop(Struct, frozen=True):
    """A timer to cancel. name "": the only one; every: all of them."""

    name: str = ""
    every: bool = False


class Hold(Struct, frozen=True):
    """A timer to pause, or to let run again; every: all of them."""

    name: str = ""
    resume: bool = False
    every: bool = False


class Longer(Struct, frozen=True):
    """More time on a timer. name "": the only one."""

    length: timedelta
    name: str = ""


class Out(Struct, frozen=True):
    """Meat came out of the fridge: the warm clock starts. fresh: other meat than the one that was out before."""

    name: str = "the meat"
    hot: bool = False
    fresh: bool = False


class Back(Struct, frozen=True):
    """Meat is back in the fridge: the warm clock stops."""

    name: str = ""


class TimersTopic(Struct, frozen=True):
    """The topic of timers and the warm clock."""

    name: str = "timers"
    examples: tuple[str, ...] = (
        "set a timer for 20 minutes",
        "15 minutes for the cubes",
        "meat's out",
        "how long left?",
    )
    passes: frozenset[str] = frozenset(
        ["yes", "thanks", "praise", "hello", "want", "this", "firm", "correction", "what"]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A request about a timer, or a plain statement that the meat is out or back."""
        wish = self._wish(sentence, talk)
        if wish is None:
            return None
        strength = 1 if isinstance(wish, Start) and not sentence.has("timer") else 2
        # a bare number that no length of time took is no part of a timer
        new = isinstance(wish, Out | Back) or (isinstance(wish, Start) and pending_for(talk, self.name) is None)
        weather = _weather(sentence) if isinstance(wish, Out) else []
        loose = [count for count in sentence.of(Count) if count.value != 1 and count not in weather] if new else []
        return Reading(wish, frozenset(sentence.phrases) - frozenset(loose), strength)

    def _wish(self, sentence: Sentence, talk: Talk) -> Any:
        text = sentence.text
        if any(
            isinstance(phrase, Amount) and phrase.kind not in ("duration", "degrees") for phrase in sentence.phrases
        ):
            return None
        out, back = _OUT.match(text), _BACK.match(text)
        counted = bool(heard.durations(sentence)) or sentence.has("long_spell")
        if "?" not in text and out is not None and not sentence.of(Moment) and not counted:
            # "out of the fridge at 11:30 pm" began before now: when it must be back is worked out from that
            said = out["name"] or out["taken"] or ""
            fresh = re.search(r"\b(?:new|fresh|other)\b", said, re.IGNORECASE) is not None
            return Out(_clean(said), bool(out["hot"]) or _is_hot(sentence), fresh)
        if any(isinstance(phrase, Amount) and phrase.kind == "degrees" for phrase in sentence.phrases):
            return None
        if (
            "?" not in text
            and back is not None
            and (back["name"] or back["put"] or "fridge" in text.lower() or "clock" in text)
        ):
            return Back(_clean(back["name"] or back["put"]) if back["name"] or back["put"] else "")
        longer = _longer(text, talk)
        if longer is not None:
            return longer
        lengths = [amount for amount in sentence.of(Amount) if amount.measure.unit in _SECONDS]
        if sentence.has("stop_timer") or (_cancels(sentence) and "timer" in text.lower()):
            return None if lengths else Stop(_name(text), bool(_ALL.search(text)) and not _name(text))
        if sentence.has("pause_timer", "resume_timer") and not lengths:
            name = _name(text) or _bare_name(text)
            return Hold(name, sentence.has("resume_timer"), bool(_ALL.search(text)) and not name)
        if sentence.has("cancel_the") and _bare_name(text) and all(isinstance(p, Word) for p in sentence.phrases):
            return Stop(_bare_name(text))
        if (
            sentence.has("time_left")
            and not _TOOK_OUT.search(text)
            and not lengths
            and not sentence.of(Patties)
            and not sentence.of(CutName)
        ):
            return Left(_name(text))
        return self._start(sentence, lengths, talk)

    def _start(self, sentence: Sentence, lengths: list[Amount], talk: Talk) -> Start | None:
        text = sentence.text
        clocks = [moment for moment in sentence.of(Moment) if moment.clock is not None]
        pending = pending_for(talk, self.name)
        waiting = None if pending is None else pending.request
        if any(isinstance(phrase, SeasoningName) for phrase in sentence.phrases):
            return None
        if isinstance(waiting, Start) and len(lengths) == 1 and len(list(sentence.substance())) == 1:
            return Start(waiting.name, _length(lengths[0]))
        if isinstance(waiting, Start) and len(list(sentence.substance())) == 1 and sentence.of(Count):
            return Start(waiting.name, timedelta(minutes=float(sentence.of(Count)[0].value)))
        if sentence.has("timer"):
            counted = [count for count in sentence.of(Count) if count.value != 1 and "timers" in text.lower()]
            if counted:
                # "set 3 timers for 5 minutes": they are set one at a time, each with its name
                return None
            if len(lengths) == 1 and not clocks:
                return Start(_name(_cut_out(text, lengths[0])), _length(lengths[0]))
            if len(clocks) == 1 and not lengths:
                return Start(_name(_cut_out(text, clocks[0])), at=clocks[0])
            return (
                Start(_name(text))
                if not lengths and not clocks and not sentence.of(Count) and "?" not in text
                else None
            )
        if len(lengths) != 1 or clocks or "?" in text:
            return None
        only = _ONLY_A_TIME.match(text[lengths[0].last :])
        if only is None or text[: lengths[0].first].strip() or only["name"].split()[-1].lower() in _PLACES:
            return None
        return Start(_clean(only["name"]), _length(lengths[0]))

    def answer(self, request: Any, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """What the clocks say. A notebook that cannot be written is told, with the time to look out for."""
        try:
            outcome: Outcome = _DOERS[type(request)](request, kitchen)
            return outcome
        except NotebookError as fault:
            return _ends(
                Status.IMPOSSIBLE, f"The timer cannot be kept: {fault.problem}. {_by_hand(request, kitchen)}".strip()
            )
        except BadInput as slip:
            return _ends(Status.NEEDS_DETAIL, f"Which one? It must be {slip.wanted}.")


def load(notebook: Notebook) -> Clocks:
    """The clocks as the notebook keeps them; a warm clock is a timer whose name begins with WARM."""
    timers, warm = [], []
    for note in notebook.timers():
        if note.name.startswith(WARM) and note.paused is not None:
            continue  # back in the fridge: see _out_before
        if note.name.startswith(WARM):
            hot = note.due - note.started <= HOT_LIMIT
            warm.append(WarmClock(note.name.removeprefix(WARM), note.started, hot))
        else:
            timers.append(Timer(note.name, note.started, note.due, note.paused))
    return Clocks(tuple(timers), tuple(warm))


def keep(notebook: Notebook, before: Clocks, after: Clocks) -> None:
    """Write what changed between two states of the clocks."""
    was, now = _notes(before), _notes(after)
    for name in was:
        if name not in now:
            notebook.drop_timer(name)
    for name, note in now.items():
        if was.get(name) != note:
            notebook.put_timer(note)


def _out_before(notebook: Notebook, name: str, now: datetime) -> timedelta:
    """How long meat of this name was out earlier today: warm time adds up, and cooling does not undo it."""
    for note in notebook.timers():
        if note.name == WARM + name and note.paused is not None and now - note.paused < _SAME_MEAT:
            return note.paused - note.started
    return timedelta(0)


def _notes(clocks: Clocks) -> dict[str, TimerNote]:
    notes = {timer.name: TimerNote(timer.name, timer.due, timer.started, timer.paused) for timer in clocks.timers}
    for clock in clocks.warm:
        began = clock.since - clock.before
        notes[WARM + clock.name] = TimerNote(WARM + clock.name, began + clock.limit, began)
    return notes


# ---- reading


def _length(amount: Amount) -> timedelta:
    seconds = amount.measure.value * _SECONDS[amount.measure.unit]
    return timedelta(seconds=float(seconds))


def _name(text: str) -> str:
    """The name that a line gives to a timer, "" where it gives none."""
    for match in _NAMED.finditer(text):
        name = _clean(match["name"] or match["before"] or match["first"])
        if name and not _NO_NAME.match(name):
            return name
    return ""


def _longer(text: str, talk: Talk) -> Longer | None:
    """More time on a timer, where the line says so, or says it right after talk of timers."""
    match = _LONGER.match(text)
    if match is None or not (match["add"] or match["more"] or match["after"]):
        return None
    named = _clean(match["name"]) if match["name"] else ""
    # "another 30 minutes" after a question of safety is time out of the fridge, and none of ours
    if not named and talk.topic not in ("timers", "walk"):
        return None
    unit = _LETTERS[match["unit"][0].lower()]
    return Longer(timedelta(seconds=int(match["number"]) * _SECONDS[unit]), named)


def _bare_name(text: str) -> str:
    """The name in "pause the cubes", "" where there is none."""
    match = _AFTER_THE_VERB.match(text)
    name = _clean(match["name"]) if match else ""
    return "" if _NO_NAME.match(name) or name.endswith(("timer", "timers", "clock")) else name


def _is_hot(sentence: Sentence) -> bool:
    """Whether the line gives a temperature of the air above 90 F (32 C); a bare number is read as Fahrenheit from 45."""
    told = [(heat.measure.value, heat.measure.unit) for heat in sentence.of(Amount) if heat.kind == "degrees"]
    told += [(count.value, "") for count in _weather(sentence)]
    for value, unit in told:
        bare = "degF" if value > _HOTTEST_CELSIUS else "degC"
        if units.to(value, unit if unit in ("degF", "degC") else bare, "degF") > _HOT_AIR_F:
            return True
    return False


def _weather(sentence: Sentence) -> list[Count]:
    """Bare numbers that are the air's: "meat's out, it's 95"."""
    return [
        count
        for count in sentence.of(Count)
        if _COOLEST_AIR <= count.value <= _HOTTEST_AIR and _ITS.search(sentence.text[: count.first])
    ]


def _clean(name: str | None) -> str:
    words = re.sub(
        r"^(?:(?:set|start|cancel|stop|pause|resume|the|my|our|all|new|fresh|other|a|an)\s+)+",
        "",
        (name or "the meat").strip(),
        flags=re.IGNORECASE,
    )
    return {"it": "meat", "they": "meat", "everything": "meat"}.get(words.lower(), " ".join(words.lower().split()))


def _cut_out(text: str, phrase: Amount | Moment) -> str:
    return text[: phrase.first] + text[phrase.last :]


def _cancels(sentence: Sentence) -> bool:
    return sentence.has("cancel_the", "fewer", "drop", "forget_batch")


# ---- answering


def _started(wish: Start, kitchen: Kitchen) -> Outcome:
    now = kitchen.now()
    length = _until(wish.at, now) if wish.at is not None else wish.length
    if length is None:
        outcome = _ends(Status.NEEDS_DETAIL, "For how long?")
        return Outcome(outcome.answer, pending=Pending("timers", wish, "length"))
    if not timedelta(0) < length <= LONGEST:
        return _ends(Status.IMPOSSIBLE, "A timer runs from one second to seven days. For how long?")
    notebook = kitchen.notebook()
    before = load(notebook)
    clocks = _without_rung(before, wish.name, now)
    name = clocks.free_name(wish.name or "timer")
    after = clocks.start(name, length, now)
    keep(notebook, before, after)
    due = now + length
    said = f"{name.capitalize()}: {_span(length)}, until {wording.clock(due)}."
    note = () if name == (wish.name or "timer") else (f'A timer called "{wish.name or "timer"}" is running already.',)
    return Outcome(
        _answer(f"Set a timer for {name}, {_span(length)}", said, (_lasts(name, length), _at(name, due)), note)
    )


def _until(moment: Moment, now: datetime) -> timedelta | None:
    if moment.clock is None:
        return None
    due = now.replace(hour=moment.clock.hour, minute=moment.clock.minute, second=0, microsecond=0)
    # an hour on a 12-hour clock comes round twice a day
    again = timedelta(hours=12 if moment.loose else 24)
    while due <= now:
        due += again
    return due - now


def _without_rung(clocks: Clocks, name: str, now: datetime) -> Clocks:
    """Without timers of this name that have rung: setting it again means the next one."""
    gone = [
        timer.name
        for timer in clocks.timers
        if timer.left(now) <= timedelta(0) and timer.name.startswith(name or "timer")
    ]
    for timer in gone:
        clocks = clocks.cancel(timer)
    return clocks


def _left(wish: Left, kitchen: Kitchen) -> Outcome:
    now, clocks = kitchen.now(), load(kitchen.notebook())
    timers = [timer for timer in clocks.timers if _fits(timer.name, wish.name)]
    warm = [clock for clock in clocks.warm if _fits(clock.name, wish.name) or not timers]
    if not timers and not warm:
        message = 'No timer is running. Say for example "15 minutes for the cubes" or "meat\'s out".'
        return _ends(Status.NEEDS_DETAIL, message)
    told = [_timer_told(timer, now) for timer in timers] + [_warm_told(clock, now) for clock in warm]
    figures = [_lasts(timer.name, max(timer.left(now), timedelta(0))) for timer in timers]
    figures += [_lasts(f"{clock.name}, time left", max(clock.left(now), timedelta(0))) for clock in warm]
    figures += [_at(timer.name, timer.due.astimezone(now.tzinfo)) for timer in timers if timer.paused is None]
    cautions = reminders((), kitchen.country, touches={"keep_cold"}, urgent=_urgent(warm, now)) if warm else ()
    shown = _answer("How long is left", " ".join(told), tuple(figures))
    return Outcome(replace(shown, cautions=cautions))


def _urgent(warm: list[WarmClock], now: datetime) -> tuple[str, ...]:
    return ("keep_cold",) if any(clock.left(now) < timedelta(0) for clock in warm) else ()


def _fits(name: str, wanted: str) -> bool:
    return not wanted or set(wanted.lower().split()) <= set(name.lower().split())


def _timer_told(timer: Timer, now: datetime) -> str:
    left = timer.left(now)
    name = timer.name.capitalize()
    if timer.paused is not None:
        return f"{name}: {_span(left)} left, paused."
    if left <= timedelta(0):
        return f"{name}: done {_span(-left)} ago." if left < timedelta(0) else f"{name}: done now."
    return f"{name}: {_span(left)} left, until {wording.clock(timer.due.astimezone(now.tzinfo))}."


def _warm_told(clock: WarmClock, now: datetime) -> str:
    out, left = clock.out(now), clock.left(now)
    name = clock.name.capitalize()
    if left < timedelta(0):
        return f"{name}: out {_span(out)}, over the {_span(clock.limit)} in all. Throw it away."
    return f"{name}: out {_span(out)}, {_span(left)} left before it must be back in the fridge."


def _stopped(wish: Stop, kitchen: Kitchen) -> Outcome:
    notebook = kitchen.notebook()
    before = load(notebook)
    if not before.timers:
        return _ends(Status.NEEDS_DETAIL, "No timer is running, so there is none to cancel.")
    gone = [timer.name for timer in before.timers if wish.every or _fits(timer.name, wish.name)]
    if not gone or (len(gone) > 1 and not wish.every):
        names = wording.listing([timer.name for timer in before.timers], "or")
        return _ends(Status.NEEDS_DETAIL, f"Which timer: {names}?")
    after = before
    for name in gone:
        after = after.cancel(name)
    keep(notebook, before, after)
    return Outcome(_answer("Cancel a timer", f"Cancelled: {wording.listing(gone)}."))


def _held(wish: Hold, kitchen: Kitchen) -> Outcome:
    notebook, now = kitchen.notebook(), kitchen.now()
    before = load(notebook)
    fitting = [t for t in before.timers if _fits(t.name, wish.name) and (t.paused is not None) == wish.resume]
    if wish.every and fitting:
        after = before
        for each in fitting:
            after = after.resume(each.name, now) if wish.resume else after.pause(each.name, now)
        keep(notebook, before, after)
        told = " ".join(_timer_told(after.timer(each.name), now) for each in fitting)
        return Outcome(_answer("Resume all timers" if wish.resume else "Pause all timers", told))
    if len(fitting) != 1:
        names = wording.listing([timer.name for timer in fitting or before.timers], "or")
        which = f"Which timer: {names}?" if names else "No timer is running."
        return _ends(Status.NEEDS_DETAIL, which)
    name = fitting[0].name
    after = before.resume(name, now) if wish.resume else before.pause(name, now)
    keep(notebook, before, after)
    return Outcome(_answer("Resume a timer" if wish.resume else "Pause a timer", _timer_told(after.timer(name), now)))


def _lengthened(wish: Longer, kitchen: Kitchen) -> Outcome:
    notebook, now = kitchen.notebook(), kitchen.now()
    before = load(notebook)
    fitting = [timer.name for timer in before.timers if _fits(timer.name, wish.name)]
    if len(fitting) != 1:
        names = wording.listing(fitting or [timer.name for timer in before.timers], "or")
        return _ends(Status.NEEDS_DETAIL, f"Which timer: {names}?" if names else "No timer is running.")
    after = before.lengthen(fitting[0], wish.length, now)
    keep(notebook, before, after)
    timer = after.timer(fitting[0])
    shown = (_lasts(timer.name, timer.left(now)), _at(timer.name, timer.due.astimezone(now.tzinfo)))
    return Outcome(_answer(f"{_span(wish.length)} more for {timer.name}", _timer_told(timer, now), shown))


def _out(wish: Out, kitchen: Kitchen) -> Outcome:
    notebook, now = kitchen.notebook(), kitchen.now()
    before = load(notebook)
    running = next((clock for clock in before.warm if clock.name == wish.name), None)
    earlier = timedelta(0) if wish.fresh else _out_before(notebook, wish.name, now)
    after = before if running is not None else before.take_out(wish.name, now, wish.hot, earlier)
    keep(notebook, before, after)
    clock = next(clock for clock in after.warm if clock.name == wish.name)
    due = now + clock.left(now)
    left = clock.left(now)
    said = (
        f"{wish.name.capitalize()}: {_span(max(left, timedelta(0)))} left, back in the fridge by {wording.clock(due)}."
    )
    if left <= timedelta(0):
        said = f"{wish.name.capitalize()} has been out {_span(clock.out(now))} in all: that is too long. Throw it away."
    notes: tuple[str, ...] = (
        (f"The clock runs since {wording.clock(clock.since.astimezone(now.tzinfo))}.",) if running is not None else ()
    )
    if running is None and earlier:
        notes += (f'It was out {_span(earlier)} before, and that counts. For other meat say "new meat\'s out".',)
    if not clock.hot:
        notes += ("Above 90 °F (32 °C) around it the limit is one hour: say \"meat's out, it's hot\".",)
    shown = _answer(
        "The meat is out of the fridge",
        said,
        (_lasts("time left", max(clock.left(now), timedelta(0))), _at("back by", due)),
        notes,
    )
    return Outcome(replace(shown, cautions=reminders((), kitchen.country, touches={"keep_cold"})))


def _back(wish: Back, kitchen: Kitchen) -> Outcome:
    notebook, now = kitchen.notebook(), kitchen.now()
    before = load(notebook)
    if not before.warm:
        return Outcome(
            _answer(
                "The meat is back in the fridge",
                'Good. No warm clock was running: say "meat\'s out" when it comes out.',
            )
        )
    found = [clock for clock in before.warm if _fits(clock.name, wish.name.removeprefix("the "))] or list(before.warm)
    after = before
    for clock in found:
        after = after.put_back(clock.name)
    keep(notebook, before, after)
    for clock in found:
        began = clock.since - clock.before
        notebook.put_timer(TimerNote(WARM + clock.name, began + clock.limit, began, paused=now))
    told = [f"{clock.name} was out {_span(clock.out(now))}" for clock in found]
    over = any(clock.left(now) < timedelta(0) for clock in found)
    said = f"{wording.listing(told)}.".capitalize()
    said += " That is too long: throw it away." if over else " Time out adds up: cooling does not set it back."
    figures = tuple(_lasts(f"{clock.name}, out", clock.out(now)) for clock in found)
    return Outcome(_answer("The meat is back in the fridge", said, figures))


def _by_hand(wish: Any, kitchen: Kitchen) -> str:
    """What to do without a timer: the time to look out for."""
    if isinstance(wish, Start) and wish.length is not None:
        return f"Look at the clock: it would ring at {wording.clock(kitchen.now() + wish.length)}."
    if isinstance(wish, Out):
        limit = WarmClock(wish.name, kitchen.now(), wish.hot).limit
        return f"Look at the clock: back in the fridge by {wording.clock(kitchen.now() + limit)}."
    return ""


def _span(length: timedelta) -> str:
    seconds = Fraction(length / timedelta(seconds=1)).limit_denominator(1)
    return (
        wording.duration(seconds / 60)
        if seconds % 60 == 0 or seconds >= 600 or seconds < 60
        else (f"{seconds // 60} min {seconds % 60} s")
    )


def _lasts(name: str, length: timedelta) -> Figure:
    return Figure(name, Role.DURATION, length / timedelta(minutes=1), "minute", shown=_span(length))


def _at(name: str, due: datetime) -> Figure:
    return Figure(name, Role.CLOCK_TIME, due.isoformat(), "time", shown=wording.clock(due))


_answer = partial(answered, "timers")
_ends = partial(ended, "timers", "Timers")
_DOERS: dict[type, Any] = {
    Start: _started,
    Left: _left,
    Stop: _stopped,
    Hold: _held,
    Longer: _lengthened,
    Out: _out,
    Back: _back,
}
TOPIC = TimersTopic()
