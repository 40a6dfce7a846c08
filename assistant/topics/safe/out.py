"""Time out of the fridge, judged against the two-hour rule."""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta
from fractions import Fraction

from msgspec import Struct, field

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine.safety import Out, OutOfFridge, out_of_fridge
from assistant.language.phrases import Amount, Count, CutName, Moment, Patties, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.language.when import for_a_meal
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, pending_for
from assistant.topics.heard import Meat
from assistant.topics.store.cold import COOL_F

TOO_LONG = Fraction(24)
"""Hours to take for "overnight" and the like: nobody counted them, and every limit has passed."""
FRIDGE_HOURS = 48
"""Two days: the end of what ground meat keeps in the fridge."""
UNTIL_WHEN = Pattern(r"\b(latest|until when|till when|when|what time|by)\b")
HOTTEST_WEATHER_F = 130
LEAST_HOT = 20
"""Bare numbers below this beside "out" are no weather."""
AT_A_NUMBER = Pattern(r"\bat( about| around| only| roughly)? *$")
"""What stands before a bare number that is the air's: "sat out at 35 for an hour"."""
WARM_F = 55
"""Weather without a scale: from here on it is read as Fahrenheit, below it as Celsius, the stricter of the two."""


LEFT_OUT = Pattern(r"\b(forgot|forgotten|never|didnt|didn't|did not|wasnt|wasn't)\b[^.,;]*\bfridge\b")
NOT_COLD = Pattern(r"\b(not|never|no|\w+n'?t)\b[^.,;]*\bfridge\b|\bfridge\b[^.,;]*\b(not|never|off|\w+n'?t)\b")
"""The fridge that it was not in, or that did not run; "three days in the fridge, never frozen" was cold."""
STOOD = Pattern(
    r"\b(sat|sits|stood|stands|sitting|standing|lay|lain|laid|lies|lying|unchilled|(warm|hot) (kitchen|room|place|shed|garage)|"
    r"left (at|in|on|by|for|standing))\b(?![^.;]*\b(fridge|freezer|chiller)\b)"
)
"""Where meat stands when nobody says that it is cold: out."""


_DRIVE = Pattern(r"\b(drive|drives|driving|car ride|car journey)\b")
"""On the road: out, where nobody says that it lies on ice."""
_OFF_ICE = Pattern(r"\b(no|without|not|isn'?t|aint)\b[\w ]{0,12}\b(ice|cool box|coolbox|cooler|esky|icebox)\b")
_CAME_OFF = Pattern(r"\b(came |come |coming )?off the (grill|bbq|barbecue|barbie|braai|heat|pan) (at|since)\b")
"""When cooked meat came off the heat: its time out runs from then."""
_ICE_GONE = Pattern(r"\bice (had |has |all )?(melted|ran out|gone)\b")
_UP = Pattern(r" (are |is )?(up|over)\b")
"""After the hours of the limit itself: "when are its two hours up"."""
LEFT_COLD = Pattern(r"\bleft the fridge( at| about| around| since)? (\d|noon|midday|half|quarter)")
"""Meat that left the fridge at a time: "sausage meat left the fridge 10:40 am"."""
WORKING = Pattern(
    r"\b(finish\w*|start\w*|began|begun|done|stopped)( \w+)? (minc|grind|cutt|form|trimm|shap|press)ing\b|\b(ground|minced) it at\b"
)
"""Work with meat out of the fridge, told by the clock: "finished mincing at 10:40"."""


class OutTime(Struct, frozen=True):
    """Meat out of the fridge. hours: in all (None: not said); since, until: clock times, loose where nobody said which
    half of the day one of them is in; yesterday: out since before today; ambient: (value, unit); hot: a hot day or place
    in words; asks: "ok", "limit" or "back"."""

    hours: Fraction | None = None
    since: time | None = None
    until: time | None = None
    loose: bool = False
    yesterday: bool = False
    ambient: tuple[Fraction, str] | None = None
    hot: bool = False
    cooked: bool = False
    meat: Meat = field(default_factory=Meat)
    asks: str = "ok"


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """A line about time out of the fridge, with what the last turn left open."""
    pending = pending_for(talk, "safe")
    waiting = pending.request if pending is not None and isinstance(pending.request, OutTime) else None
    before = talk.last if isinstance(talk.last, OutTime) and talk.topic == "safe" else None
    cues, text = sentence.cues, sentence.text.lower()
    hours_said = bool(heard.durations(sentence) or heard.clocks(sentence))
    if heard.still_warm_into_the_fridge(sentence) or (heard.shares_a_plate(sentence) and not hours_said):
        return None
    if cues & {"out_in", "counter"} and heard.durations(sentence) and not cues & {"what", "how_long"}:
        # "cooked to 160 but then left out 5 hours": the hours decide, whatever the heat was
        cues = cues - {"temp"}
    if cues & {
        "thaw",
        "power_cut",
        "refreeze",
        "part_cook",
        "temp",
        "from_frozen",
        "clean",
        "leave_dirty",
        "use_by",
        *(cue for cue in heard.PLANNING if cue != "buy" or not heard.durations(sentence)),
    }:
        return None
    if (
        cues & {"brown", "pink"}
        and cues & {"middle", "raw"}
        and not heard.durations(sentence)
        and not heard.clocks(sentence)
    ):
        # "grey inside, red outside" is how it looks
        return None
    not_cold = "fridge" in cues and (
        _left_out(sentence)
        or ("keep" not in cues and NOT_COLD.search(text) is not None and bool(heard.durations(sentence)))
    )
    timed = bool(heard.durations(sentence)) or "long_spell" in cues
    just_out = timed and any(word.text.lower() == "out a" for word in sentence.words("cue"))
    worked = re.search(r"\b(grinding|mincing|forming|cutting)\b.*\btook\b", sentence.text.lower()) is not None
    added_up = (
        len(heard.durations(sentence)) > 1
        and re.search(r"\b(car|cutting|grinding|mincing|forming|shopping|counter)\b", sentence.text.lower()) is not None
    )
    stood = (
        not heard.holds_hot(sentence)
        and STOOD.search(sentence.text.lower()) is not None
        and any(most < TOO_LONG for _, _, most in heard.durations(sentence))
    )
    worked_by_the_clock = WORKING.search(sentence.text.lower()) is not None and (
        bool(heard.clocks(sentence)) and ("fridge" in cues or UNTIL_WHEN.search(sentence.text.lower()) is not None)
    )
    just_out = (just_out or added_up or worked_by_the_clock or (timed and (worked or stood))) or (
        _weather_words(sentence) is not None and (timed or _asks_how_long(sentence))
    )
    just_out = just_out or (LEFT_COLD.search(text) is not None and bool(heard.clocks(sentence)))
    driven = _DRIVE.search(text) is not None and timed
    iced = (sentence.has("fridge") or " ice" in text) and _OFF_ICE.search(text) is None
    came_off = _CAME_OFF.search(text) is not None and "fridge" in cues and bool(heard.clocks(sentence))
    just_out = just_out or (driven and not iced) or came_off
    covered = "foil" in sentence.text.lower() and "hold_hot" in cues and bool(heard.clocks(sentence))
    stood_at = heard.stands_at(sentence)
    just_out = just_out or (stood_at is not None and stood_at.f("") > COOL_F and heard.asks_leave(sentence))
    about_out = cues & {"out_in", "counter", "hot_day", "go_back"} or not_cold or just_out or covered
    numbers = bool(heard.durations(sentence) or heard.clocks(sentence))
    if "frozen" in sentence.text.lower() and "freezer" in cues and not numbers and "long_spell" not in cues:
        return None
    if (
        not about_out
        and not (waiting is not None and (numbers or "long_spell" in cues))
        and not _goes_on(sentence, before)
    ):
        return None
    if _feeds(sentence) and not timed and not numbers:
        # "35 degrees out and 20 people want burgers": a portion, on a hot day
        return None
    if cues & {"jam", "feed", "fingers", "thermometer"} and not numbers:
        return None
    if not numbers and not timed and not waiting and _only_out(sentence):
        return None
    if cues & {"smell", "firm", "freeze_patties", "marinade", "slow_cooker"} and not numbers:
        return None
    request, used = _out_request(sentence, waiting or (before if _goes_on(sentence, before) else None))
    return Reading(request, used, 3 if stood and timed else 2 if about_out else 1)


def _feeds(sentence: Sentence) -> bool:
    """Whether burgers for so many people are wanted, and nothing is asked of meat that is out."""
    fed = any(people.count is not None for people in sentence.of(People)) and bool(sentence.of(Patties))
    return (
        fed
        and not sentence.has("counter", "go_back", "time_left", "how_long", "is_it_ok", "safe")
        and not _leave(sentence)
    )


def _leave(sentence: Sentence) -> bool:
    return heard.asks_leave(sentence) or LEFT_OUT.search(sentence.text.lower()) is not None


def _only_out(sentence: Sentence) -> bool:
    """A bare "out" that asks nothing of meat or time: "which came out lower?", "eating outside"."""
    if _ICE_GONE.search(sentence.text.lower()):
        return False
    told = (
        sentence.has("how_long", "time_left", "when", "counter", "hot_day", "go_back", "is_it_ok")
        or _weather(sentence) is not None
    )
    named = sentence.has("mix", "fridge", "this") or bool(sentence.of(CutName)) or bool(sentence.of(Patties))
    return not told and not (named and heard.asks_leave(sentence))


def _left_out(sentence: Sentence) -> bool:
    """ "Forgot to put it in the fridge", "never made it to the fridge"."""
    return LEFT_OUT.search(sentence.text.lower()) is not None and not sentence.has("how_long", "keep")


def _goes_on(sentence: Sentence, before: OutTime | None) -> bool:
    """ "What if it is 95 out?", "and after 3 hours?", "when must it go back?" after an answer about time out."""
    if before is None or len(list(sentence.substance())) > 6:
        return False
    if (
        _weather(sentence) is not None
        and not heard.durations(sentence)
        and not sentence.has("fridge", "freezer", "temp")
    ):
        # "its 94 outside tho"
        return True
    return sentence.has("go_back", "hot_day") or (
        sentence.has("what_about", "what", "join") and bool(heard.durations(sentence) or _weather(sentence))
    )


def _out_request(sentence: Sentence, earlier: OutTime | None) -> tuple[OutTime, frozenset[Phrase]]:
    before = earlier or OutTime()
    text = sentence.text.lower()
    spells, days, weather = heard.durations(sentence), heard.days(sentence), _weather(sentence)
    told = [spell for spell in spells if not _UP.match(text[spell[0].last :])]
    in_fridge = [spell for spell in told if spell[1] >= TOO_LONG] if sentence.has("fridge") and len(told) > 1 else []
    hours = _hours_out(sentence, [spell for spell in told if spell not in in_fridge])
    if any(most > FRIDGE_HOURS for _, _, most in in_fridge):
        # days in the fridge and hours out were both said, and the days alone are too many
        hours = TOO_LONG
    clocks = _clocks_out(sentence)
    cooked_at = [heat.phrase for heat in heard.heats(sentence, low=HOTTEST_WEATHER_F, high=220) if _is_meats(heat)]
    named = heard.meat(sentence)
    request = OutTime(
        hours=hours if hours is not None else before.hours,
        since=clocks[0].clock if clocks else before.since,
        until=clocks[1].clock if len(clocks) > 1 else before.until,
        loose=any(clock.loose for clock in clocks) if clocks else before.loose,
        yesterday=any(_is_past(day, text) for day in days),
        ambient=weather[0] if weather else before.ambient,
        hot=sentence.has("hot_day") or "in the sun" in text or "hot car" in text or before.hot,
        cooked=sentence.has("cooked", "leftover", "done") or bool(cooked_at) or before.cooked,
        meat=named if named.species else before.meat,
        asks=_asks(sentence, clocks, hours) if hours is not None or clocks or earlier is None else before.asks,
    )
    numbers = [
        *(phrase for phrase, _, _ in spells),
        *heard.clocks(sentence)[:2],
        *days,
        *cooked_at,
        weather and weather[1],
    ]
    return request, heard.plain_words(sentence) | heard.all_of(numbers)


def _hours_out(sentence: Sentence, spells: list[tuple[Amount, Fraction, Fraction]]) -> Fraction | None:
    """All the time out that was said, added up; a night or a few hours that nobody counted is too long."""
    if spells:
        return sum((most for _, _, most in spells), Fraction(0))
    if sentence.has("long_spell") or (_left_out(sentence) and heard.days(sentence)):
        return TOO_LONG
    return None


def _clocks_out(sentence: Sentence) -> list[Moment]:
    """When it came out, and until when. "Supper at noon; they came out at 11:40, latest they can stay out?" has another
    clock time that is not the meat's."""
    clocks, came_out = heard.clocks(sentence), sentence.cue("out_in")
    if came_out is None or len(clocks) < 2 or not UNTIL_WHEN.search(sentence.text.lower()):
        return clocks
    return [min(clocks, key=lambda clock: (clock.first < came_out.first, abs(clock.first - came_out.last)))]


def _asks(sentence: Sentence, clocks: list[Moment], hours: Fraction | None) -> str:
    """ "back" by when, "limit" how long it may be out, or "ok"."""
    if hours is not None:
        return "ok"
    text = sentence.text.lower()
    if not clocks and re.search(r"\b(can|may|should|could|do) (i|we|you) (leave|let|have)\b", text):
        return "limit"
    told = UNTIL_WHEN.search(text) is not None or not heard.asks_leave(sentence)
    if sentence.has("go_back") or (len(clocks) == 1 and told and "since" not in text):
        return "back"
    return "limit" if _asks_how_long(sentence) else "ok"


def _is_past(moment: Moment, text: str) -> bool:
    day = moment.day
    return day is not None and ((day.relative or 0) < 0 or day.last or (day.weekday is not None and "since" in text))


def _asks_how_long(sentence: Sentence) -> bool:
    return sentence.has("how_long", "time_left", "what", "when")


def _weather(sentence: Sentence) -> tuple[tuple[Fraction, str], Phrase] | None:
    for heat in heard.heats(sentence, low=LEAST_HOT, high=HOTTEST_WEATHER_F):
        if _is_meats(heat):
            continue
        if heat.unit or isinstance(heat.phrase, Amount) or _beside_out(sentence, heat.phrase):
            return (heat.value, heat.unit or ("degF" if heat.value >= WARM_F else "degC")), heat.phrase
    return None


def _is_meats(heat: heard.Heat) -> bool:
    """Whether a temperature is too hot for any weather: the middle of something cooked."""
    return heat.f("degF") > HOTTEST_WEATHER_F


def _weather_words(sentence: Sentence) -> re.Match[str] | None:
    """ "It's like 92 in the garage": a number that is the air's."""
    place = r"(in (here|there|the (kitchen|garage|shed|garden|shade|sun|car|tent|yard|house|marquee)|my \w+)|out(side)?|today)"
    text = sentence.text.lower()
    named = r"\b(kitchen|room|garage|shed|tent|marquee|house|flat)('?s| is| was)? (about |around |at |only )*\d+"
    return re.search(rf"\b\d+(\.\d+)?\s*(°|degrees|deg)?\s*[fc]?\s+{place}\b", text) or re.search(named, text)


def _beside_out(sentence: Sentence, phrase: Phrase) -> bool:
    said = _weather_words(sentence)
    if said is not None and phrase.first < said.end() and said.start() < phrase.last:
        return True
    if isinstance(phrase, Count) and AT_A_NUMBER.search(sentence.text[: phrase.first].lower()):
        return True
    near = (sentence.after(phrase), sentence.before(phrase))
    return any(isinstance(word, Word) and word.payload in ("out_in", "hot_day", "this", "what_about") for word in near)


def answer(request: OutTime, kitchen: Kitchen) -> Outcome:
    """The verdict, the limit, or when it must be back."""
    if request.asks == "back" and request.since is not None and request.hours is None:
        return _back_by(request, kitchen)
    minutes = _minutes(request, kitchen)
    if minutes is None and request.asks == "limit":
        return _limit(request, kitchen)
    if minutes is None:
        question = "How long has it been out in all, and is it hotter than 90 °F (32 °C) there?"
        if request.asks == "back":
            question = "When did it come out of the fridge? For example: 1:15 pm."
        return verdict.ask_back("safe", "Meat out of the fridge: is it still ok?", question, request, "hours")
    judged = out_of_fridge(minutes, _ambient_f(request))
    return _judged(request, judged, minutes, kitchen)


ROOM_F = 110
"""No weather: from here on food stands on something that is to keep it hot. A choice."""


def _judged(request: OutTime, judged: OutOfFridge, minutes: Fraction, kitchen: Kitchen) -> Outcome:
    limit = f"{wording.duration(judged.limit_minutes)}{' above 90 °F (32 °C)' if judged.hot_day else ''}"
    spent = wording.duration(minutes) if request.hours != TOO_LONG else "That long"
    what = "Cooked patties" if request.cooked else "Meat"
    if judged.verdict is Out.THROW_AWAY:
        says = f"No: throw it away. {spent} out of the fridge is over the limit of {limit}."
    elif not judged.left_minutes:
        says = f"Only if you cook or chill it right now: {spent} is the whole limit of {limit}. A minute more and throw it away."
    else:
        says = (
            f"Yes, for {wording.duration(judged.left_minutes)} more: {spent} out, and the limit is {limit} in all. "
            "Cook it or put it in the fridge before then."
        )
    figures = [
        verdict.time_figure("limit out of the fridge", Fraction(judged.limit_minutes, 60), "hour", judged.authority)
    ]
    if judged.left_minutes and judged.verdict is Out.FINE_SO_FAR:
        figures.append(verdict.time_figure("left", judged.left_minutes, "minute", judged.authority))
    notes = ["All the time out adds up. Cooking does not undo it: some germs leave a poison that heat does not break."]
    if not judged.hot_day and judged.verdict is Out.FINE_SO_FAR:
        notes.insert(0, "Above 90 °F (32 °C) the limit is 1 hour.")
    if request.ambient and request.ambient[1] == "degC" and judged.hot_day:
        notes.insert(0, f"The weather was read as {verdict.reading(*request.ambient)}.")
    hot = verdict.temperature("hot_hold")
    if request.cooked and request.ambient is not None and ROOM_F < units.to(*request.ambient, "degF") < hot.f:
        # "on the buffet at 120 °F": too warm for a room, and not hot enough to hold food
        notes.insert(0, f"Food that is kept hot is held at {verdict.degrees(hot, verdict.scale_of(kitchen))} or above.")
    notes.append(f"Source: {judged.authority}. {verdict.LOCAL}")
    touches = {
        "keep_cold",
        "leftovers" if request.cooked else "cook_temperature",
        *(("hot_day",) if judged.hot_day else ()),
    }
    return verdict.told(
        "safe",
        f"{what} out of the fridge for {wording.duration(minutes)}{_at(request)}: is it ok?",
        says,
        figures=figures,
        cautions=verdict.with_meat(request.meat, kitchen, touches),
        notes=notes,
        working=(f"{wording.number(minutes)} min against {judged.limit_minutes} min ({judged.authority}).",),
        thrown=judged.verdict is Out.THROW_AWAY,
    )


def _limit(request: OutTime, kitchen: Kitchen) -> Outcome:
    usual, hot = verdict.figure("out_of_fridge"), verdict.figure("out_of_fridge_hot_day")
    judged = out_of_fridge(0, _ambient_f(request))
    says = (
        "1 hour in all, as it is hotter than 90 °F (32 °C). Past that, throw it away."
        if judged.hot_day
        else "2 hours in all, 1 hour above 90 °F (32 °C). Past that, throw it away."
    )
    rows = (
        [("limit above 90 °F", hot)]
        if judged.hot_day
        else [("limit out of the fridge", usual), ("limit above 90 °F", hot)]
    )
    touches = {"keep_cold", "leftovers" if request.cooked else "cook_temperature"}
    return verdict.told(
        "safe",
        f"How long {'cooked patties' if request.cooked else 'raw meat'} may be out of the fridge{_at(request)}",
        says,
        figures=[verdict.from_book(name, row) for name, row in rows],
        cautions=verdict.with_meat(request.meat, kitchen, touches),
        notes=["It adds up over shopping, cutting, grinding and forming.", f"Source: {usual.source}. {verdict.LOCAL}"],
        working=(f"{usual.value} h, {hot.value} h above 90 F ({usual.source}).",),
    )


def _back_by(request: OutTime, kitchen: Kitchen) -> Outcome:
    assert request.since is not None
    judged = out_of_fridge(0, _ambient_f(request))
    since = for_a_meal(request.since) if request.loose else request.since
    start = datetime.combine(kitchen.now().date(), since)
    end = start + timedelta(minutes=judged.limit_minutes)
    days = " the next day" if end.date() > start.date() else ""
    hot = " (hotter than 90 °F, 32 °C)" if judged.hot_day else "; 1 hour earlier above 90 °F (32 °C)"
    return verdict.told(
        "safe",
        f"Meat out of the fridge at {wording.clock(since)}{_at(request)}: when must it be back?",
        f"Back in the fridge or cooked by {wording.clock(end)}{days}: {wording.duration(judged.limit_minutes)} in all{hot}.",
        figures=[
            Figure(
                "back in the fridge by",
                Role.CLOCK_TIME,
                end.time().isoformat("minutes"),
                "time",
                source=judged.authority,
                shown=wording.clock(end),
            ),
            verdict.time_figure(
                "limit out of the fridge", Fraction(judged.limit_minutes, 60), "hour", judged.authority
            ),
        ],
        cautions=verdict.with_meat(request.meat, kitchen, {"keep_cold", "cook_temperature"}),
        notes=["Time that it was out before counts too.", f"Source: {judged.authority}. {verdict.LOCAL}"],
        working=(f"{wording.clock(since)} + {judged.limit_minutes} min.",),
    )


def _minutes(request: OutTime, kitchen: Kitchen) -> Fraction | None:
    if request.hours is not None:
        return request.hours * 60
    if request.yesterday:
        return TOO_LONG * 60
    if request.since is None:
        return None
    day = kitchen.now().date()
    start = datetime.combine(day, request.since)
    end = datetime.combine(day, request.until or kitchen.now().time().replace(tzinfo=None))
    # on a 12-hour clock with the half unsaid, the meat is taken to be out for less than one round of it
    around = 12 * 60 if request.loose else 24 * 60
    minutes = Fraction(round((end - start).total_seconds()), 60) % around
    return minutes or (Fraction(around) if request.until is not None else minutes)


def _ambient_f(request: OutTime) -> Fraction | None:
    if request.ambient is not None:
        return units.to(*request.ambient, "degF")
    # "a scorching day" has no figure; a degree over the mark puts it under the stricter hour
    return verdict.temperature("hot_day").f + 1 if request.hot else None


def _at(request: OutTime) -> str:
    if request.ambient is not None:
        return f" at {verdict.reading(*request.ambient)}"
    return " on a hot day" if request.hot else ""
