"""How cold a fridge or freezer must be, and power cuts."""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.data.safety import Degrees, Temperature, safety_book
from assistant.engine.safety import AfterCut, power_cut
from assistant.language.phrases import Patties
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading

COLDER_THAN_ANY_FRIDGE_F = 20
"""A fridge "at 4" is 4 °C: below this no fridge runs in Fahrenheit, and above it none runs in Celsius."""
POWER = Pattern(
    r"\b(power|electric|electricity|mains|current)\b('s| has| is| was| were|s)?\s*(been |gone |went )?"
    r"(went|off|out|down|cut|failed|back|gone)\b|\b(fridge|freezer)\b.{0,20}\b(died|broke|packed (up|in)|conked out|switched off|failed)\b"
)
"""How people say that the power went: with a word between, which no list of phrases holds."""
LEFT_OPEN = Pattern(
    r"\b(fridge|freezer)( door)? (was |been |got )?(left )?(wide )?open\b|\bleft the (fridge|freezer)( door)? open\b"
)
"""A door that stood open: the hours that a shut one holds the cold say nothing then."""
COOL_F, ICY_F = 60, 20
"""Readings of kept food, with their scale: up to the first a fridge's, below the second a freezer's."""
NO_LIMIT = Fraction(1000)
"""Hours to take for a power cut that lasted "overnight" and was not counted: past every limit of a fridge."""


class Cold(Struct, frozen=True):
    """How cold it should be, or whether a reading is. unmarked: no scale was said."""

    where: str
    at: tuple[Fraction, str] | None = None
    unmarked: bool = False


class Cut(Struct, frozen=True):
    """A power cut. places: keys of the engine; food: (value, unit) that the meat reads; since, until: by the clock, until now
    where no end was said; loose: which half of the day the end is in was not said; night: it began before today;
    left_open: the door stood open."""

    hours: Fraction | None = None
    places: tuple[str, ...] = ()
    food: tuple[Fraction, str] | None = None
    icy: bool = False
    since: time | None = None
    until: time | None = None
    loose: bool = False
    night: bool = False
    left_open: bool = False


def read_power_cut(sentence: Sentence) -> Reading | None:
    """A power cut, with its hours, places and what the meat reads."""
    if sentence.has("jam", "in_grinder"):
        return None
    left_open = LEFT_OPEN.search(sentence.text.lower()) is not None
    if not (sentence.has("power_cut") or left_open or POWER.search(sentence.text.lower())):
        return None
    spells = heard.durations(sentence)
    clocks = heard.clocks(sentence)
    hours = max((most for _, _, most in spells), default=NO_LIMIT if sentence.has("long_spell") else None)
    food = next((heat for heat in heard.heats(sentence, low=0, high=100)), None)
    timed = hours is None and 0 < len(clocks) < 3
    days = heard.days(sentence)
    request = Cut(
        hours,
        _cut_places(sentence),
        marked(food, "fridge"),
        sentence.has("icy"),
        since=clocks[0].clock if timed else None,
        until=clocks[1].clock if timed and len(clocks) == 2 else None,
        loose=timed and clocks[-1].loose,
        night=timed and any((day.day.relative or 0) < 0 for day in days if day.day is not None),
        left_open=left_open,
    )
    used = heard.plain_words(sentence) | heard.all_of(
        [*(phrase for phrase, _, _ in spells), food.phrase if food else None]
    )
    if timed:
        used |= heard.all_of([*clocks, *days])
    return Reading(request, used if hours is not None or timed or not clocks else used - heard.all_of(clocks), 2)


def _cut_places(sentence: Sentence) -> tuple[str, ...]:
    text = sentence.text.lower()
    freezer: tuple[str, ...] = (
        ("freezer_half",) if sentence.has("half_full") else ("freezer_full",) if sentence.has("full") else ()
    )
    freezer = freezer or ("freezer_full", "freezer_half")
    places: list[str] = []
    if sentence.has("fridge") or "fridge" in text:
        places.append("fridge")
    if sentence.has("freezer", "half_full", "full", "icy") or "freezer" in text:
        places.extend(freezer)
    return tuple(places) or ("fridge", *freezer)


def read_cold(sentence: Sentence) -> Reading | None:
    """ "What temperature should my fridge be", "freezer reads -4", "is 45 F ok for a fridge"."""
    readings = heard.heats(sentence, low=-60, high=90)
    kept_at = sentence.has("keep") and any(heat.unit and heat.f("") <= COOL_F for heat in readings)
    raw_kept = (
        sentence.has("keep") and sentence.has("temp") and not sentence.has("cooked", "leftover", "hold_hot", "done")
    )
    if not (sentence.has("fridge", "freezer") or kept_at or raw_kept):
        return None
    if re.search(r"\b(cube|chunk|dice)", sentence.text.lower()):
        return None
    if any(patties.count is not None for patties in sentence.of(Patties)):
        # "80 burgers minus the 6 in the freezer": a number there counts burgers
        return None
    how_cold = heard.how_cold_a_place(sentence)
    if sentence.has("firm") and not how_cold:
        return None
    if sentence.has("thaw", "out_in", "freeze_patties", "stack", "cooked", "leftover"):
        return None
    times = heard.durations(sentence) or heard.days(sentence) or sentence.has("how_long", "use_by")
    times = times or (sentence.has("keep", "is_it_ok") and not (kept_at or raw_kept))
    if times or not (sentence.has("temp", "reads", "how_cold") or how_cold or readings):
        return None
    frozen = sentence.has("freezer") or (
        not sentence.has("fridge") and all(heat.f("degF") < ICY_F for heat in readings)
    )
    where = "freezer" if (frozen and readings) or sentence.has("freezer") else "fridge"
    # of several readings the warmest decides
    heat = max(readings, key=lambda one: _in_f(one, where), default=None)
    request = Cold(where, marked(heat, where), bool(heat and not heat.unit))
    return Reading(request, heard.plain_words(sentence) | heard.all_of(one.phrase for one in readings), 2)


def _in_f(heat: heard.Heat, where: str) -> Fraction:
    value, unit = marked(heat, where) or (heat.value, "degF")
    return units.to(value, unit, "degF")


def marked(heat: heard.Heat | None, where: str) -> tuple[Fraction, str] | None:
    """A reading with its scale. A bare fridge reading has only one that makes sense; a bare freezer reading is taken
    on the scale on which it is the warmer, so that a warm freezer never passes for a cold one."""
    if heat is None:
        return None
    if heat.unit:
        return heat.value, heat.unit
    if where == "fridge":
        return heat.value, "degC" if heat.value < COLDER_THAN_ANY_FRIDGE_F else "degF"
    return heat.value, "degC" if heat.value > -40 else "degF"


def fridge_limit(country: str) -> Temperature:
    """The warmest fridge that the country's agency allows, with its source."""
    rows = safety_book().temperatures
    return rows.get(f"fridge_max_{country}", rows["fridge_max"])


def capital(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


def answer_cold(request: Cold, kitchen: Kitchen) -> Outcome:
    """The limit of the fridge or freezer, and whether a reading is within it."""
    fridge = request.where == "fridge"
    row = fridge_limit(kitchen.country) if fridge else safety_book().temperatures["freezer_max"]
    limit = row.at
    scale = verdict.scale_of(kitchen)
    mark = verdict.degrees(limit, scale)
    if request.at is None:
        says = f"{capital(request.where)}: {mark} or colder."
    else:
        says = _cold_enough(request, limit, mark)
    notes = ["Measure it in a glass of water that stood there overnight, not by the dial (common practice, no source)."]
    if request.where == "freezer":
        notes = ["A warmer freezer shortens the months of good quality; what is frozen hard stays safe."]
    return verdict.told(
        "store",
        f"How cold the {request.where} must be"
        if request.at is None
        else f"Is {verdict.reading(*request.at)} ok for a {request.where}?",
        says,
        figures=verdict.temperature_figures(f"{request.where} at most", limit, row.source, scale),
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"fridge_temp", "keep_cold"}),
        notes=[*notes, f"Source: {row.source}. {verdict.LOCAL}"],
        working=(f"{request.where} at most {mark} ({row.source}).",),
    )


def _cold_enough(request: Cold, limit: Degrees, mark: str) -> str:
    assert request.at is not None
    if request.unmarked and request.where == "freezer":
        value = request.at[0]
        f_ok, c_ok = value <= limit.f, value <= limit.c
        number = wording.number(value)
        if f_ok != c_ok:
            return f"Yes if that is {number} °F, no if it is {number} °C: the freezer should be at {mark} or colder."
    if units.to(*request.at, "degF") <= limit.f or (request.at[1] == "degC" and request.at[0] <= limit.c):
        return f"Yes: {verdict.reading(*request.at)} is cold enough. The {request.where} should be at {mark} or colder."
    return f"No: {verdict.reading(*request.at)} is too warm. The {request.where} should be at {mark} or colder."


def answer_power_cut(request: Cut, kitchen: Kitchen) -> Outcome:
    """What may be kept, place by place."""
    if request.left_open and request.food is None and not request.icy:
        return _answer_left_open(request, kitchen)
    if request.since is not None:
        request = replace(request, hours=_hours_by_the_clock(request, request.since, kitchen.now()))
    limits = {place: verdict.figure(f"power_cut_{place}") for place in request.places}
    names = {"fridge": "Fridge", "freezer_full": "Full freezer", "freezer_half": "Half-full freezer"}
    figures = [verdict.from_book(f"{names[place].lower()} holds, shut", row) for place, row in limits.items()]
    if request.hours is None and request.food is None:
        says = (
            "Keep the doors shut. "
            + "; ".join(f"{names[place]}: {row.value} hours" for place, row in limits.items())
            + "."
        )
    else:
        says = " ".join(f"{names[place]}: {_after_cut(request, place)}" for place in request.places)
    limit = safety_book().temperatures["fridge_max"]
    hours = "" if request.hours is None or request.hours == NO_LIMIT else f" of {wording.duration(request.hours * 60)}"
    return verdict.told(
        "store",
        f"Raw meat after a power cut{hours}: {', '.join(names[place].lower() for place in request.places)}",
        says,
        figures=[
            *figures,
            *verdict.temperature_figures("meat at most", limit.at, limit.source, verdict.scale_of(kitchen)),
        ],
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"power_cut", "refreeze"}),
        notes=[
            "With the doors kept shut. Never taste it to find out.",
            f"Source: {next(iter(limits.values())).source}. {verdict.LOCAL}",
        ],
        working=tuple(f"{names[place]}: {row.value} h ({row.source})." for place, row in limits.items()),
    )


def _answer_left_open(request: Cut, kitchen: Kitchen) -> Outcome:
    """Only what the meat itself shows counts: how long a shut door holds the cold was never said of an open one."""
    limit, out = safety_book().temperatures["fridge_max"], verdict.figure("out_of_fridge")
    scale = verdict.scale_of(kitchen)
    frozen = "still has ice crystals or " if "fridge" not in request.places else ""
    return verdict.told(
        "store",
        f"Raw meat after the door of the {'fridge' if 'fridge' in request.places else 'freezer'} stood open",
        f"Measure it: keep only what {frozen}is at {verdict.degrees(limit.at, scale)} or colder. Throw away what was warmer "
        f"for more than {out.value} hours, or for nobody knows how long.",
        figures=[
            *verdict.temperature_figures("meat at most", limit.at, limit.source, scale),
            verdict.from_book("limit above that", out),
        ],
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"keep_cold", "refreeze"}),
        notes=[
            "The hours that a shut door holds the cold do not count for an open one.",
            f"Source: {limit.source}. {verdict.LOCAL}",
        ],
        working=(f"{verdict.degrees(limit.at, scale)} ({limit.source}); {out.value} h above it ({out.source}).",),
    )


def _hours_by_the_clock(request: Cut, since: time, now: datetime) -> Fraction:
    """From the one clock time to the other, or to now. Where a half of the day was not said, the first end after the
    beginning is taken; a cut since yesterday is a day longer."""
    start = datetime.combine(now.date(), since)
    end = datetime.combine(now.date(), request.until or now.time().replace(tzinfo=None))
    around = timedelta(hours=12 if request.loose and request.until is not None else 24)
    while end <= start:
        end += around
    if request.night and end - start < timedelta(hours=24) and end.date() == start.date():
        end += timedelta(days=1)
    return Fraction(round((end - start).total_seconds()), 3600)


def _after_cut(request: Cut, place: str) -> str:
    food = None if request.food is None else units.to(*request.food, "degF")
    cut = power_cut(
        request.hours if request.hours is not None else NO_LIMIT, place, food, icy=request.icy and place != "fridge"
    )
    limit = wording.number(cut.limit_hours)
    if cut.verdict is AfterCut.THROW_AWAY:
        return f"No, throw raw meat away (it holds {limit} hours)."
    if cut.verdict is AfterCut.CHECK_EACH:
        return f"past its {limit} hours: keep only what has ice crystals or is at 40 °F (4 °C) or colder; throw the rest away."
    warmest = verdict.temperature("fridge_max")
    if food is not None and food > warmest.f:
        return f"Only if you cook or chill it right now: it is above {verdict.degrees(warmest, 'degF')}, and 2 hours of that are the limit."
    left = (
        f", {wording.duration(cut.left_hours * 60)} left of its {limit} hours"
        if cut.left_hours and not request.left_open
        else ""
    )
    return f"Yes, keep it{left}." if request.food or request.icy else f"Yes, if it stayed shut{left}."
