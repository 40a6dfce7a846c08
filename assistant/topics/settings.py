"""The kitchen's settings in words: units, country, the scale's step, the freezer, the order of dates.

They hold for the conversation at once, and are kept in the notebook for the next one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Word
from assistant.language.sentence import Sentence
from assistant.notebook import NotebookError
from assistant.pattern import Pattern
from assistant.topics import equipment, within
from assistant.topics.base import Kitchen, Outcome, Pending, Reading, Talk, pending_for
from assistant.topics.equipment import BOWL
from assistant.topics.plan import answers, larder
from assistant.topics.plan.request import Plan
from assistant.topics.plan.steps import CUBE, FREEZER, MACHINE, Work, grinding

COUNTRIES = {
    "us": "the United States",
    "uk": "the United Kingdom",
    "ie": "Ireland",
    "ca": "Canada",
    "au": "Australia",
    "nz": "New Zealand",
}
SPOONS = {"us": "a tablespoon is 14.8 mL", "au": "a tablespoon is 20 mL"}
UNITS, COUNTRY, SCALE, DATES, BELL = "units", "country", "scale_grams", "dates", "bell"
FOLLOWS = "units_follow_country"
"""Set while nobody chose the units: then they are those of the country."""
KEPT = (UNITS, COUNTRY, MACHINE, FREEZER, CUBE, BOWL, SCALE, DATES, BELL, FOLLOWS)
"""Every setting of the kitchen, as it is called in the notebook."""
_NEW_STEPS = frozenset((MACHINE, FREEZER, CUBE))
"""Settings that the steps of the batch on the table depend on."""
_UNITS_IN_WORDS = {"us": "pounds and ounces first", "metric": "grams and kilograms first"}
_FREEZER = Pattern(
    r"\b(?:my|our|the)\s+freezer(?:'s)?\s*(?:is|runs|sits|stays|set|temp\w*|=|:|\s)*\s*(?:at|to|is)?\s*(?=-|minus|[0-9])",
    re.I,
)
_WHICH_KIT = Pattern(
    r"^\W*(?:what|which)\s+(?:scales?|bowl|freezer|grinder|mincer|machine)\s+(?:do\s+(?:i|we)\s+(?:have|use)|have\s+(?:i|we)(?:\s+got)?|am\s+i\s+using)\W*$",
    re.I,
)
_INTO = Pattern(r"\b(in|into|from|of)\s*$", re.IGNORECASE)
"""Before "the freezer at 6.40": when something went in, and not what the freezer is set to."""
_KIT = {"bowl": BOWL, "scale": SCALE, "scales": SCALE, "freezer": FREEZER, "machine": MACHINE, "grinder": MACHINE}
_KIT |= {"mincer": MACHINE, "cubes": CUBE}
_FORGOTTEN = Pattern(
    rf"^\W*(?:please\s+)?(?:forget|clear|drop|remove|delete|reset)\s+(?:about\s+)?(?:my|the|our)\s+(?P<what>{'|'.join(_KIT)})(?:\s+(?:size|step|steps|temperature|setting))?\W*$",
    re.I,
)
_COLDEST, _WARMEST = Fraction(-60), Fraction(0)
_FINEST_STEP, _COARSEST_STEP = Fraction(1, 100), Fraction(500)
_ELSEWHERE = Pattern(
    r"\b(?i:i'?m|i am|we'?re|we are|i live|we live|based)\s+(?:in|from)\s+(?P<place>(?:the\s+)?[A-Z][A-Za-z]{2,})\W*$"
)


class Set(Struct, frozen=True):
    """Settings to keep, as key and value; then: a batch in the same line, to be answered with them."""

    changes: tuple[tuple[str, str], ...]
    then: Any = None


class Show(Struct, frozen=True):
    """What the kitchen's settings are."""


class Reset(Struct, frozen=True):
    """Back to the settings that nobody chose: all of them, or these keys."""

    keys: tuple[str, ...] = ()


class Lack(Struct, frozen=True):
    """There is no grinder; what there is was not said."""


class Refuse(Struct, frozen=True):
    """A setting that cannot be kept, and why."""

    why: str


class SettingsTopic(Struct, frozen=True):
    """The topic of the kitchen's settings."""

    name: str = "settings"
    examples: tuple[str, ...] = (
        "use grams from now on",
        "I'm in Australia",
        "my scale shows 5 g",
        "no grinder, just a food processor",
        "my kitchen",
    )
    passes: frozenset[str] = frozenset(
        ["yes", "thanks", "praise", "hello", "want", "have", "this", "what", "correction", "out_of", "from_now_on"]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A setting, with or without a batch beside it."""
        if (dropped := _FORGOTTEN.match(sentence.text)) is not None:
            return Reading(Reset((_KIT[dropped["what"].lower()],)), frozenset(sentence.phrases), 3)
        if sentence.has("forget_settings"):
            return Reading(Reset(), frozenset(sentence.phrases), 2)
        named = equipment.machine_named(sentence.text) if pending_for(talk, self.name) else ""
        if named:
            return Reading(Set(((MACHINE, named),)), frozenset(sentence.phrases), 2)
        taken: set[Any] = set()
        changes: list[tuple[str, str]] = []
        for found in (
            _units(sentence),
            _country(sentence),
            _scale(sentence),
            _freezer(sentence),
            _dates(sentence),
            _bell(sentence),
            equipment.machine(sentence),
            equipment.cubes(sentence),
            equipment.bowl(sentence),
        ):
            if isinstance(found, str):
                return Reading(Refuse(found), frozenset(sentence.phrases), 2)
            if isinstance(found, Reading):
                return found
            if found is not None:
                changes += found[0]
                taken |= found[1]
        if not changes:
            return _shown(sentence) or _lacking(sentence)
        taken |= within.cues(sentence, ("from_now_on",))
        taken |= _own_spoon(sentence, changes)
        rest = within.without(sentence, taken)
        if not any(True for _ in rest.substance()):
            return Reading(Set(tuple(changes)), frozenset(taken), 2)
        plan = within.plan_of(rest, talk)
        if plan is None or not any(not isinstance(phrase, Word) for phrase in rest.substance()):
            sure = all(isinstance(phrase, Word) for phrase in rest.substance())
            return Reading(Set(tuple(changes)), frozenset(taken), 1) if sure else None
        return Reading(Set(tuple(changes), plan.request), frozenset(taken) | plan.used, 2)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The settings as they are from now on."""
        if isinstance(request, Set):
            return _set(request, kitchen, talk)
        if isinstance(request, Reset):
            return _reset(request, kitchen)
        if isinstance(request, Lack):
            question = "No grinder: what have you got, a food processor, or a grinder for the stand mixer?"
            return Outcome(
                _said("No grinder", question, Status.NEEDS_DETAIL), pending=Pending(self.name, request, MACHINE)
            )
        if isinstance(request, Refuse):
            return Outcome(_said("A setting", request.why, Status.IMPOSSIBLE))
        meat = tuple(filter(None, larder.in_words(larder.stock(kitchen), kitchen.units)))
        return Outcome(
            _said("My kitchen", f"{_all(kitchen.settings)}.", figures=_figures(kitchen.settings), notes=meat)
        )


# ---- reading

Found = tuple[list[tuple[str, str]], set[Any]]


def _units(sentence: Sentence) -> Found | None:
    cue = sentence.cue("metric_units", "us_units")
    if cue is None:
        return None
    alone = len(list(sentence.substance())) == 1
    if " " not in cue.text and not alone and not sentence.has("from_now_on"):
        return None  # "how many grams in a metric cup" sets nothing
    return [(UNITS, "metric" if cue.payload == "metric_units" else "us")], {cue}


def _country(sentence: Sentence) -> Found | Reading | None:
    said = sentence.cue("i_am_in")
    named = next((word for word in sentence.words("cue") if word.payload.startswith("country_")), None)
    alone = named is not None and len(list(sentence.substance())) == 1
    if named is not None and (said is not None or alone or re.search(r"\b(?:i'?m|i am|we'?re)\b", sentence.text, re.I)):
        country = named.payload.removeprefix("country_")
        return [(COUNTRY, country)], {word for word in (said, named) if word is not None}
    place = _ELSEWHERE.search(sentence.text)
    if place is None or any(not isinstance(phrase, Word) for phrase in sentence.substance()):
        return None
    known = wording.listing(list(COUNTRIES.values()), "or")
    why = f"I have no tables for {place['place']}: cuts and spoons are known for {known}. Which is nearest to yours?"
    return Reading(Refuse(why), frozenset(sentence.phrases), 1)


def _own_spoon(sentence: Sentence, changes: list[tuple[str, str]]) -> set[Any]:
    """ "I'm in Australia, so my tablespoons are 20 ml": what the country says already."""
    country = next((value for name, value in changes if name == COUNTRY), "")
    spoons = [word for word in sentence.words("cue") if word.payload == "unit:tbsp"]
    sizes = [amount for amount in sentence.of(Amount) if amount.kind == "volume"]
    if not country or len(spoons) != 1 or len(sizes) != 1:
        return set()
    holds = units.to(sizes[0].measure.value, sizes[0].measure.unit, "ml")
    return {spoons[0], sizes[0]} if holds == (20 if country == "au" else 15) else set()


def _scale(sentence: Sentence) -> Found | Reading | None:
    cue = sentence.cue("my_scale")
    steps = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
    if cue is None or not steps or sentence.of(CutName):
        # beside a batch the step is for that batch alone (scaled.py)
        return None
    step = units.grams(steps[0].measure.value, steps[0].measure.unit)
    if step > _COARSEST_STEP and sentence.has("convert", "into", "unit:g"):
        # "my scales only do grams, 2 lb 10 oz in grams" is a conversion
        return None
    if not _FINEST_STEP <= step <= _COARSEST_STEP:
        why = f"A scale with steps of {steps[0].text} does not weigh meat: 0.01 g to 500 g make sense."
        return Reading(Refuse(why), frozenset(sentence.phrases), 2)
    beside = [phrase for phrase in sentence.phrases if isinstance(phrase, Word)]  # "only goes to the nearest …"
    return [(SCALE, str(step))], {cue, steps[0], *beside}


def _freezer(sentence: Sentence) -> Found | Reading | None:
    said = _FREEZER.search(sentence.text)
    if (
        said is None
        or _INTO.search(sentence.text[: said.start()])
        or "?" in sentence.text
        or sentence.has("how_long", "keep", "thaw", "power_cut", "safe")
    ):
        return None
    after = [p for p in sentence.phrases if p.first >= said.end() - 1 and isinstance(p, Amount | Count)]
    if not after:
        return None
    cold = after[0]
    degrees = cold.measure.value if isinstance(cold, Amount) else cold.value
    unit = cold.measure.unit if isinstance(cold, Amount) else "deg"
    if unit not in ("degF", "degC", "deg"):
        return None
    celsius = units.to(degrees, "degF", "degC") if unit == "degF" or (unit == "deg" and degrees >= 0) else degrees
    if not _COLDEST <= celsius <= _WARMEST:
        why = f"A freezer at {wording.temperature(celsius, 'degC')} is no freezer: 0 °F (-18 °C) or below is."
        return Reading(Refuse(why), frozenset(sentence.phrases), 2)
    return [(FREEZER, str(celsius))], {cold, *within.overlapping(sentence, *said.span())}


def _dates(sentence: Sentence) -> Found | None:
    cue = sentence.cue("day_first", "month_first")
    return None if cue is None else ([(DATES, cue.payload.replace("_", " "))], {cue})


def _bell(sentence: Sentence) -> Found | None:
    cue = sentence.cue("bell_on", "bell_off")
    return None if cue is None else ([(BELL, cue.payload.removeprefix("bell_"))], {cue})


def _shown(sentence: Sentence) -> Reading | None:
    asked = sentence.has("my_settings") or _WHICH_KIT.search(sentence.text) is not None
    if not asked or not all(isinstance(phrase, Word) for phrase in sentence.substance()):
        return None
    return Reading(Show(), frozenset(sentence.phrases), 1)


def _lacking(sentence: Sentence) -> Reading | None:
    """No grinder, and no word of what there is: that is worth a question."""
    if not equipment.lacks_grinder(sentence) or not all(isinstance(phrase, Word) for phrase in sentence.substance()):
        return None
    return Reading(Lack(), frozenset(sentence.phrases), 2)


# ---- answering


def _set(wish: Set, kitchen: Kitchen, talk: Talk) -> Outcome:
    changes = dict(wish.changes)
    if UNITS in changes:
        changes[FOLLOWS] = ""
    elif COUNTRY in changes and (UNITS not in kitchen.settings or kitchen.settings.get(FOLLOWS)):
        changes |= {UNITS: "us" if changes[COUNTRY] == "us" else "metric", FOLLOWS: "yes"}
    settings = {**kitchen.settings, **changes}
    system = changes.get(UNITS) or kitchen.units
    said = f"From now on: {_told(changes, system)}."
    note, kept = keep(changes, kitchen)
    now = replace(kitchen, settings=settings, units=settings.get(UNITS, "us"), country=settings.get(COUNTRY, "us"))
    if wish.then is None:
        shown = _said(f"Set {_told(changes, system)}", said, figures=_figures(changes), notes=note)
        new_steps = MACHINE in changes or (talk.plan is not None and _NEW_STEPS & set(changes))
        steps = _steps_now(now, talk) if new_steps else ()
        return Outcome(replace(shown, steps=steps), settings=changes, undoable=kept)
    outcome = within.answered(wish.then, now, replace(talk, settings=settings))
    told = replace(outcome.answer, notes=(said, *note, *outcome.answer.notes))
    return replace(outcome, answer=told, settings={**outcome.settings, **changes}, undoable=kept)


def _steps_now(kitchen: Kitchen, talk: Talk) -> tuple[str, ...]:
    """The steps for the kitchen as it is now: of the batch on the table, of any grinding where there is none."""
    if talk.plan is None:
        return tuple(step.text for step in grinding(Work(Plan(), (), (), None, kitchen.settings, kitchen.units)))
    if talk.planned is None or not talk.planned.steps:
        return ()
    return answers.answer(answers.reopened(talk.plan), kitchen, talk).answer.steps


def keep(changes: Mapping[str, str], kitchen: Kitchen) -> tuple[tuple[str, ...], bool]:
    """Write settings into the notebook: a note where it could not keep them, and whether it did."""
    try:
        kitchen.notebook().set_settings(changes)
    except NotebookError as fault:
        return (f"For this conversation only. The notebook cannot be used: {fault.problem}.",), False
    return (), True


def _forgotten(keys: tuple[str, ...], kitchen: Kitchen) -> Outcome:
    there = {key: kitchen.settings[key] for key in keys if kitchen.settings.get(key)}
    if not there:
        return Outcome(_said("Forget a setting", "Nothing of that is set."))
    told = _told(there, kitchen.units)
    try:
        kitchen.notebook().drop_setting(*there)
    except NotebookError as fault:
        note = f"For this conversation only. The notebook cannot be used: {fault.problem}."
        return Outcome(_said(f"Forget {told}", f"Forgotten: {told}.", notes=(note,)), settings=dict.fromkeys(there, ""))
    return Outcome(_said(f"Forget {told}", f"Forgotten: {told}."), settings=dict.fromkeys(there, ""), undoable=True)


def _reset(wish: Reset, kitchen: Kitchen) -> Outcome:
    if wish.keys:
        return _forgotten(wish.keys, kitchen)
    usual = {**dict.fromkeys(KEPT, ""), UNITS: "us", COUNTRY: "us", FOLLOWS: "yes"}
    try:
        kitchen.notebook().drop_setting(*KEPT)
    except NotebookError as fault:
        note = f"For this conversation only. The notebook cannot be used: {fault.problem}."
        return Outcome(_said("Reset the settings", f"{_all(usual)}.", notes=(note,)), settings=usual)
    return Outcome(_said("Reset the settings", f"{_all(usual)}."), settings=usual, undoable=True)


def _all(settings: Mapping[str, str]) -> str:
    whole = {UNITS: settings.get(UNITS) or "us", COUNTRY: settings.get(COUNTRY) or "us"}
    whole |= {key: settings[key] for key in KEPT if settings.get(key) and key != FOLLOWS}
    return _told(whole, whole[UNITS])


def _told(changes: Mapping[str, str], system: str) -> str:
    words = []
    for key, value in changes.items():
        if key == UNITS:
            words.append(_UNITS_IN_WORDS.get(value, value))
        elif key == COUNTRY:
            words.append(f"{COUNTRIES.get(value, value)} ({SPOONS.get(value, 'a tablespoon is 15 mL')})")
        elif key == SCALE:
            words.append(f"a scale in steps of {wording.in_steps(Fraction(value), Fraction(value))}")
        elif key == FREEZER:
            words.append(f"a freezer at {wording.temperature(Fraction(value), 'degC')}")
        elif key == DATES:
            words.append(f"dates with the {value}")
        elif key == BELL:
            words.append("a bell when a timer is done" if value == "on" else "no bell when a timer is done")
        elif key in (MACHINE, CUBE, BOWL):
            words += equipment.told({key: value}, system)
    return wording.listing(words)


def _figures(settings: Mapping[str, str]) -> tuple[Figure, ...]:
    found = []
    if settings.get(SCALE):
        step = Fraction(settings[SCALE])
        found.append(Figure("scale step", Role.CONVERSION, float(step), "g", shown=wording.in_steps(step, step)))
    if settings.get(FREEZER):
        cold = Fraction(settings[FREEZER])
        found.append(Figure("freezer", Role.TEMPERATURE, float(cold), "degC", shown=wording.temperature(cold, "degC")))
    if settings.get(BOWL):
        holds, system = Fraction(settings[BOWL]), settings.get(UNITS) or "us"
        unit = "lb" if system == "us" else "kg"
        shown = wording.both(holds, system)
        found.append(Figure("bowl", Role.CONVERSION, float(units.to(holds, "g", unit)), unit, shown=shown))
    return tuple(found)


def _said(
    understood: str,
    headline: str,
    status: Status = Status.ANSWERED,
    figures: tuple[Figure, ...] = (),
    notes: tuple[str, ...] = (),
) -> Answer:
    shown = headline[:1].upper() + headline[1:]
    return Answer(
        understood=understood,
        status=status,
        topic="settings",
        headline=shown if status is Status.ANSWERED else "",
        message="" if status is Status.ANSWERED else shown,
        figures=figures,
        notes=notes,
    )


TOPIC = SettingsTopic()
