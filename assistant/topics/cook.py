"""How hot the middle must be, and whether a reading is enough."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant import units
from assistant.answer import Caution
from assistant.data.safety import safety_book
from assistant.engine.safety import Endpoint, Judgement, judge_temperature
from assistant.errors import BadInput
from assistant.language.phrases import Amount, Count, CutName, Fatness, Patties, Phrase, Rate, SeasoningName
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.cautions import is_poultry
from assistant.topics.heard import Meat

ASKS_FOR = ("temp", "thermometer", "rest_after", "cook_time", "grill_heat", "sous_vide", "done")
"""Cues that say outright that the line is about heat in the middle."""
ELSEWHERE = (
    *("leftover", "hold_hot", "power_cut", "thaw", "from_frozen", "smear", "firm", "out_in", "counter", "hot_day"),
    *("fridge", "freezer", "refreeze", "slow_cooker", "danger_zone"),
)
"""Cues of places and times whose temperature is not the meat's."""
OTHERS = (
    *ELSEWHERE,
    *("clean", "fingers", "part_cook", "germs", "canning", "use_by", "keep", "marinade", "same_plate", "wash_meat"),
    "freeze_patties",
)
"""Cues of other kinds of question, which may name a temperature too."""
PLAUSIBLE_F = (110, 220)
"""What somebody would cook to: a reading in it, with its scale and a meat, is about cooking whatever else is said."""
LOOKS = ("brown", "pink", "rare")
LONGEST_FOLLOW_UP = 5
HOTTEST_C = 100
"""A bare number below this is read in Celsius: no meat is done below 100 °F, and none is cooked to 100 °C."""


class Cook(Struct, frozen=True):
    """A question of heat. about: "endpoint", "thermometer", "rest", "time", "grill"; reading: (value, unit) to judge;
    scale: the one asked for; wants_rare: pink or rare is wished for; held: a time at the temperature was named;
    risk: guests at higher risk; unmeasured: done without a thermometer; pressed: asked to leave the rules aside; yes_no: a yes or no is wanted."""

    about: str = "endpoint"
    meat: Meat = field(default_factory=Meat)
    reading: tuple[Fraction, str] | None = None
    scale: str = ""
    wants_rare: bool = False
    held: bool = False
    risk: bool = False
    pressed: bool = False
    unmeasured: bool = False
    yes_no: bool = False
    country: str = ""


class CookTopic:
    """Temperatures in the middle, and doneness."""

    name = "cook"
    examples = ("What temperature for turkey burgers?", "Is 145 F ok for ground pork?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about the temperature of cooked meat, or a follow-up to one."""
        return _follow_up(sentence, talk) or _question(sentence, talk)

    def answer(self, request: Cook, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The strictest temperature that the meat needs, and what was asked about it."""
        kitchen = verdict.kitchen_in(kitchen, request.country)
        needed = verdict.needed_for(request.meat, kitchen.country)
        scale = verdict.scale_of(kitchen, request.scale)
        return verdict.told(
            self.name,
            _understood(request),
            _headline(request, needed, kitchen, scale),
            figures=verdict.cooking_figures(needed, scale),
            cautions=_cautions(request, kitchen),
            notes=_notes(request, needed, kitchen, scale),
            steps=[rule.text for rule in safety_book().rules_on("thermometer")]
            if request.about == "thermometer"
            else (),
            working=(f"{needed.why}: {verdict.degrees(needed, scale)}, {needed.authority} ({needed.checked}).",),
        )


# ---- reading


def _question(sentence: Sentence, talk: Talk) -> Reading | None:
    readings = [
        heat for heat in heard.heats(sentence) if heat.unit or not _is_a_count_of_something(sentence, heat.phrase)
    ]
    if _wishes_it_rare(sentence) and not sentence.has("temp", "reads", "middle"):
        # "she's 84, can she have hers pink": a bare number there is no reading, or pink would be allowed by an age
        readings = [
            heat for heat in readings if heat.unit or re.search(r"\b(at|to)\s*$", sentence.text[: heat.phrase.first])
        ]
    if not _is_about_heat(sentence, readings):
        return None
    outright = _outright(sentence)
    looks = sentence.has(*LOOKS)
    held = heard.durations(sentence)
    if held and readings and not (outright or looks or _beside(sentence, readings[0], held[0][0])):
        # "cutting for 50 min and grinding for 40": a bare number there is no temperature
        return None
    if held and not readings and not sentence.has("rest_after", "cook_time"):
        return None
    named = heard.meat(sentence)
    request = Cook(
        about=_about(sentence),
        meat=named if _says_whose(named) else replace(heard.batch_meat(talk), whole=named.whole),
        reading=_taken(readings[0]) if readings else None,
        scale=heard.asked_scale(sentence),
        wants_rare=_wishes_it_rare(sentence),
        held=bool(held),
        risk=heard.at_risk(sentence),
        pressed=sentence.has("pressure"),
        unmeasured=sentence.has("thermometer") and sentence.has("not"),
        yes_no=heard.asks_leave(sentence),
        country=heard.country(sentence),
    )
    used = heard.plain_words(sentence, weights=not sentence.has(*heard.PLANNING))
    used |= heard.all_of([*(heat.phrase for heat in readings[:1]), *(amount for amount, _, _ in held)])
    used |= heard.all_of([*heard.clocks(sentence), *heard.days(sentence), *_how_many(sentence)])
    return Reading(request, used, 2 if outright or any(heat.unit for heat in readings) else 1)


def _outright(sentence: Sentence) -> bool:
    return sentence.has(*ASKS_FOR) or bool(heard.asked_scale(sentence) and _says_what(sentence))


def _is_about_heat(sentence: Sentence, readings: list[heard.Heat]) -> bool:
    if sentence.has("leftover", "hold_hot", "power_cut", "thaw", "from_frozen", "smear", "firm"):
        return False
    plausible = any(heat.unit and PLAUSIBLE_F[0] <= heat.f("") <= PLAUSIBLE_F[1] for heat in readings)
    if plausible and _names_meat(sentence) and not sentence.has(*ELSEWHERE, *heard.PLANNING):
        return True
    if sentence.has(*OTHERS) and not (sentence.has("temp") and _is_cooking(sentence)):
        return False
    if sentence.has(*LOOKS) and not sentence.has("temp"):
        return bool(readings)
    if _outright(sentence):
        return True
    warm = any(heat.f(_taken(heat)[1]) >= PLAUSIBLE_F[0] for heat in readings)
    marked = any(heat.unit for heat in readings) and re.search(r"\b(grind|minc)ing\b", sentence.text.lower()) is None
    marked = marked and not sentence.has("ago", "keep", "use_by") and not heard.days(sentence)
    return (warm or marked) and _names_meat(sentence) and _wants_to_know(sentence)


def _follow_up(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "and for chicken?", "in C?", "it reads 158", "and for kids?" after an answer about heat."""
    before = talk.last
    if not isinstance(before, Cook) or talk.topic != CookTopic.name:
        return None
    said = list(sentence.substance())
    if len(said) > LONGEST_FOLLOW_UP or sentence.has(*OTHERS, *ASKS_FOR, *heard.PLANNING):
        return None
    named, scale, readings = heard.meat(sentence), heard.asked_scale(sentence), heard.heats(sentence)
    risk, looks = heard.at_risk(sentence), sentence.has("pink", "rare")
    if not (_says_whose(named) or scale or heard.country(sentence) or readings or risk or looks or named.whole):
        return None
    if (
        any(not isinstance(phrase, CutName | Patties) for phrase in said if phrase not in heard.plain_words(sentence))
        and not readings
    ):
        return None
    request = replace(
        before,
        meat=replace(named, hunted=named.hunted) if _says_whose(named) else replace(before.meat, whole=named.whole),
        scale=scale or before.scale,
        reading=_taken(readings[0]) if readings else None if _says_whose(named) else before.reading,
        risk=risk or before.risk,
        wants_rare=looks or before.wants_rare,
        yes_no=bool(readings) or looks,
        about="endpoint" if readings else before.about,
        country=heard.country(sentence) or before.country,
    )
    used = heard.plain_words(sentence) | heard.all_of(heat.phrase for heat in readings[:1])
    return Reading(request, used, 2)


def _about(sentence: Sentence) -> str:
    for cue, about in (("rest_after", "rest"), ("cook_time", "time"), ("grill_heat", "grill")):
        if sentence.has(cue):
            return about
    return "thermometer" if sentence.has("thermometer") and not sentence.has("temp", "reads") else "endpoint"


def _says_what(sentence: Sentence) -> bool:
    """ "What should beef mince reach in Celsius": a scale, a meat and no number at all."""
    numbers = [phrase for phrase in sentence.phrases if isinstance(phrase, Amount | Count | Rate | Fatness)]
    return not numbers and _names_meat(sentence) and sentence.has("what")


def _says_whose(meat: Meat) -> bool:
    return bool(meat.species or meat.hunted or meat.unsure)


def _wants_to_know(sentence: Sentence) -> bool:
    """A yes or no is wanted, if only by the mark: "burgers 160?"."""
    return heard.asks_leave(sentence) or (sentence.text.rstrip().endswith("?") and not sentence.has(*heard.PLANNING))


def _how_many(sentence: Sentence) -> list[Phrase]:
    """ "12 turkey burgers": how many there are does not change how hot."""
    return [count for count in sentence.of(Count) if isinstance(sentence.after(count), (CutName, Patties))]


def _beside(sentence: Sentence, heat: heard.Heat, held: Phrase) -> bool:
    """Whether a time stands just after a reading: "145 for 3 minutes"."""
    return bool(heat.unit) or (heat.phrase.last <= held.first and held.first - heat.phrase.last <= len(" degrees for "))


def _names_meat(sentence: Sentence) -> bool:
    named = bool(sentence.of(CutName)) or bool(sentence.of(Patties))
    if named or any("burger" in word.text for word in sentence.words("pereach")):
        return True
    return sentence.has("mix", "poultry", "middle", "reads", "hunted")


def _is_cooking(sentence: Sentence) -> bool:
    return bool(sentence.of(Patties)) or sentence.has("middle", "done", "rare", "pink")


def _is_a_count_of_something(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a bare number counts what follows it ("60 garlic cloves")."""
    if not isinstance(phrase, Count) or sentence.has("temp", "reads", "middle"):
        return False
    return isinstance(sentence.after(phrase), SeasoningName | CutName)


def _wishes_it_rare(sentence: Sentence) -> bool:
    return sentence.has("pink", "rare") and not _done_looking(sentence)


def _done_looking(sentence: Sentence) -> bool:
    """Pink is what somebody fears, not what they wish for: "is it done if it is still pink at 165"."""
    return sentence.has("done") and not sentence.has("rare")


def _taken(heat: heard.Heat) -> tuple[Fraction, str]:
    return heat.value, heat.unit or ("degC" if heat.value < HOTTEST_C else "degF")


# ---- answering


def meat_words(meat: Meat) -> str:
    """The meat as it is said: "ground beef and pork", "hunted venison", "a whole cut of beef"."""
    names = " and ".join(sorted(meat.species)) or ("game" if meat.hunted else "")
    if meat.unsure:
        names = " and ".join([*sorted(meat.species), *meat.unsure])
    if meat.whole:
        return f"a whole cut of {names or 'beef'}"
    if meat.hunted:
        return f"ground hunted {names}"
    return f"ground {names}" if names else "ground meat"


def _understood(request: Cook) -> str:
    whose = meat_words(request.meat)
    if request.reading:
        return f"Is {verdict.reading(*request.reading)} ok for {whose}?"
    return {
        "thermometer": f"How to use a thermometer for {whose}",
        "rest": f"Resting time for {whose}",
        "time": f"Cooking time for {whose}",
        "grill": f"Grill temperature for {whose}",
    }.get(request.about, f"What temperature in the middle for {'rare ' if request.wants_rare else ''}{whose}?")


def _headline(request: Cook, needed: Endpoint, kitchen: Kitchen, scale: str) -> str:
    mark = verdict.mark(needed, scale)
    whose = meat_words(request.meat)
    if request.reading:
        return _judged(request, kitchen, mark)
    if request.wants_rare and not request.meat.whole:
        return f"No: {whose} is never safe rare or pink. Cook it to {mark}."
    if request.unmeasured:
        return f"No: only a thermometer shows that {whose} is done. Cook it to {mark}."
    if request.about == "time":
        return f"Until the middle reads {verdict.degrees(needed, scale)}: no number of minutes can promise that."
    if request.about == "grill":
        return f"Go by the middle of the meat, not by the grill: {mark} for {whose}."
    if request.about == "rest" and not needed.rest_minutes:
        return f"No rest is needed: {whose} must read {mark} before it comes off the heat."
    return f"Cook {whose} to {mark}."


def _judged(request: Cook, kitchen: Kitchen, mark: str) -> str:
    assert request.reading is not None
    seen = verdict.reading(*request.reading)
    whose = meat_words(request.meat)
    try:
        judged = _judge(request, kitchen)
    except BadInput:
        return f"No: {seen} cannot be the middle of any meat. Check the thermometer; {whose} needs {mark}."
    if not judged.enough:
        return f"No: {seen} is not enough for {whose}. Cook it to {mark}."
    if judged.hold_seconds:
        return f"Yes, once it has stayed at {seen} for {judged.hold_seconds} seconds in the middle."
    return f"Yes: {seen} in the middle is enough for {whose}."


def _judge(request: Cook, kitchen: Kitchen) -> Judgement:
    assert request.reading is not None
    species, hunted = heard.endpoint_species(request.meat)
    f = units.to(*request.reading, "degF")
    if request.reading[1] == "degC":
        # whole degrees Celsius are what the authorities print: 71 C is 160 F although it converts to 159.8
        needed = verdict.needed_for(request.meat, kitchen.country)
        f = needed.f if request.reading[0] == needed.c else f
    return judge_temperature(f, species, kitchen.country, hunted=hunted, ground=not request.meat.whole)


def _cautions(request: Cook, kitchen: Kitchen) -> tuple[Caution, ...]:
    touches = {"thermometer"}
    if not request.meat.whole:
        touches.add("cook_temperature")
    if request.risk or request.wants_rare:
        touches.add("at_risk")
    if request.wants_rare or request.reading:
        touches.add("colour")
    urgent = {"at_risk"} if request.risk else set()
    return verdict.with_meat(request.meat, kitchen, touches, urgent)


def _notes(request: Cook, needed: Endpoint, kitchen: Kitchen, scale: str) -> list[str]:
    notes = []
    if request.meat.unsure:
        notes.append(f"No agency's figure covers {' and '.join(request.meat.unsure)}: the strictest one is used.")
    if request.held and kitchen.country == "us":
        notes.append(
            "Lower temperatures held for a time are for licensed kitchens that keep records, not for a home grill."
        )
    if request.pressed:
        notes.append("The figure is the same whoever asks: grinding carries what was on the surface into the middle.")
    if request.meat.whole and not is_poultry(request.meat.species):
        ground = verdict.needed_for(replace(request.meat, whole=False), kitchen.country)
        notes.append(
            f"That is for a piece in one part. Ground, it needs {verdict.degrees(ground, scale)} in the middle."
        )
    elif not _says_whose(request.meat):
        notes.append("With any poultry or hunted game in it: 165 °F (74 °C) at least.")
    elif len(request.meat.species) > 1:
        notes.append(f"A mix is cooked to the highest figure that any part of it needs; here {needed.why} decides.")
    memory = ", from memory" if needed.checked.startswith("from memory") else ""
    notes.append(f"Source: {needed.authority}{memory}. {verdict.LOCAL}")
    return notes


TOPIC = CookTopic()
