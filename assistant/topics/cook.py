"""How hot the middle must be, and whether a reading is enough."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Caution
from assistant.data.safety import Combination, safety_book
from assistant.engine.safety import Endpoint, Judgement, judge_temperature, licensed_combinations
from assistant.errors import BadInput
from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Fatness,
    Parts,
    Patties,
    People,
    Phrase,
    Rate,
    SeasoningName,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
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
COOKED_F = (140, 180)
_LED_TO = Pattern(r"\b(?:to|at|hits?|reach(?:es|ed)?|reads?)\s*$", re.IGNORECASE)
"""What somebody would cook to: a reading in it, with its scale and a meat, is about cooking whatever else is said."""
STANDS_AT = Pattern(r"\b(is|are|its|it's|was|were) (only |now |about |just )*1[1-9][0-9]\b(?! ?(g|oz|lb|kg|min))")
"""A reading told and not asked: "the burger is 140"."""
ENOUGH = Pattern(
    r"^(?:[\w' ]{0,30}\b(?:says?|reckons?|thinks?|swears|told me|claims?|insists?)\b)?\W*(?:is|would|will|so|surely|that)?\s*1[1-9][0-9]\s*(?:°|deg\w*)?\s*[fc]?"
    r"\s*(?:is |will |would |should |'s |s )?(?:ok|okay|enough|fine|safe|good|all right|alright|plenty|do|suffices?|sufficient)\b[\w '/]{0,30}(?:, ?(?:i'?m|she'?s|he'?s|they'?re)? ?[\w ']{0,30})?\W*$"
)
"""A reading asked about with no word beside it: "is 145 enough", "160 ok?"."""
WARM_ROOM_F = 115
"""A heat up to here beside "how long" is that of the room. A choice."""
PRESERVING = Pattern(
    r"\b(ferment\w*|dry|dried|drying|cur(e|ed|ing)|dehydrat\w*|jerky|biltong|salami\w*|cold smok\w*)\b"
)
"""Ways of keeping meat that are no cooking: their temperatures are not ours to give."""
HOLDS = Pattern(r"\b(hold|holds|held|holding|keep|kept) (it|them|that|the \w+) (there|at|for)\b|\bfor a (while|bit)\b")
"""A reading that is to be held: "is 155 ok if I hold it there"."""
LOOKS = ("brown", "pink", "rare")
LONGEST_FOLLOW_UP = 5
HOTTEST_OVEN_F = 600
COLDEST_BARE_F = 20
"""A bare number below this in ice water is in Celsius."""
HOTTEST_C = 100
"""A bare number below this is read in Celsius: no meat is done below 100 °F, and none is cooked to 100 °C."""


class Cook(Struct, frozen=True):
    """A question of heat. about: "endpoint", "thermometer", "check", "rest", "time", "grill", "licensed"; reading: (value,
    unit) to judge, of several the one that decides; beside: another that was named; both: ground and whole are compared;
    scale: the one asked for; wants_rare: pink or rare is wished for; held: a time at the temperature was named;
    risk: guests at higher risk; unmeasured: done without a thermometer; pressed: asked to leave the rules aside."""

    about: str = "endpoint"
    meat: Meat = field(default_factory=Meat)
    reading: tuple[Fraction, str] | None = None
    scale: str = ""
    wants_rare: bool = False
    held: bool = False
    risk: bool = False
    pressed: bool = False
    unmeasured: bool = False
    country: str = ""
    beside: tuple[Fraction, str] | None = None
    both: bool = False


class CookTopic:
    """Temperatures in the middle, and doneness."""

    name = "cook"
    examples = ("What temperature for turkey burgers?", "Is 145 F ok for ground pork?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about the temperature of cooked meat, or a follow-up to one."""
        if sentence.has("out_baking") and not sentence.of(CutName):
            # "what oven temperature for a sourdough loaf"
            return None
        if heard.cold_at_the_grinder(sentence) and not sentence.of(Patties):
            return None
        return _follow_up(sentence, talk) or _question(sentence, talk)

    def answer(self, request: Cook, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The strictest temperature that the meat needs, and what was asked about it."""
        kitchen = verdict.kitchen_in(kitchen, request.country)
        needed = verdict.needed_for(request.meat, kitchen.country)
        scale = verdict.scale_of(kitchen, request.scale)
        if request.about == "licensed":
            return _licensed(request, needed, kitchen, scale)
        if request.about == "check":
            return _check(request, kitchen, scale)
        whole = verdict.needed_for(replace(request.meat, whole=True), kitchen.country) if request.both else None
        return verdict.told(
            self.name,
            _understood(request),
            _headline(request, needed, kitchen, scale),
            figures=[
                *verdict.cooking_figures(needed, scale),
                *(verdict.cooking_figures(whole, scale, "middle of a whole piece") if whole else ()),
            ],
            cautions=_cautions(request, kitchen),
            notes=_notes(request, needed, kitchen, scale),
            steps=[rule.text for rule in safety_book().rules_on("thermometer")]
            if request.about == "thermometer"
            else (),
            working=(f"{needed.why}: {verdict.degrees(needed, scale)}, {needed.authority} ({needed.checked}).",),
        )


# ---- reading


def _question(sentence: Sentence, talk: Talk) -> Reading | None:
    said = [heat for heat in heard.heats(sentence) if heat.unit or not _is_a_count_of_something(sentence, heat.phrase)]
    ovens = [heat for heat in heard.heats(sentence, high=HOTTEST_OVEN_F) if _is_an_ovens(sentence, heat)]
    readings = [heat for heat in said if heat not in ovens]
    if sentence.has("probe_check"):
        return _checking(sentence)
    if _wishes_it_rare(sentence) and not sentence.has("temp", "reads", "middle"):
        # "she's 84, can she have hers pink": a bare number there is no reading, or pink would be allowed by an age
        readings = [
            heat
            for heat in readings
            if heat.unit
            or heat.value >= PLAUSIBLE_F[0]
            or re.search(r"\b(at|to)\s*$", sentence.text[: heat.phrase.first])
        ]
    if not _is_about_heat(sentence, readings):
        return None
    deciding = _deciding(sentence, readings)
    outright = _outright(sentence)
    looks = sentence.has(*LOOKS)
    held = heard.durations(sentence)
    if held and deciding and not (outright or looks or _beside(deciding, held[0][0])):
        # "cutting for 50 min and grinding for 40": a bare number there is no temperature
        return None
    if held and not readings and not sentence.has("rest_after", "cook_time"):
        return None
    named, both = heard.meat(sentence), _compares(sentence)
    meat = named if _says_whose(named) else replace(heard.batch_meat(talk), whole=named.whole)
    request = Cook(
        about=_about(sentence),
        meat=replace(meat, whole=meat.whole and not both),
        reading=_taken(deciding) if deciding else None,
        scale=heard.asked_scale(sentence),
        wants_rare=_wishes_it_rare(sentence),
        held=bool(held),
        risk=heard.at_risk(sentence),
        pressed=sentence.has("pressure"),
        unmeasured=sentence.has("thermometer") and sentence.has("not"),
        country=heard.country(sentence),
        beside=next((_taken(heat) for heat in readings if heat is not deciding), None) if deciding else None,
        both=both,
    )
    used = heard.plain_words(sentence, weights=not sentence.has(*heard.PLANNING))
    # two readings of two meats are two questions: one of them stays in the line, and the session says so
    told = readings if len(meat.species) < 2 else [heat for heat in readings if heat is deciding]
    used |= heard.all_of([*(heat.phrase for heat in (*told, *ovens)), *(amount for amount, _, _ in held)])
    used |= frozenset(sentence.of(Parts))
    if sentence.has("temp", "middle") or deciding:
        # how much of the mix a meat makes up does not change how hot it must be
        used |= heard.all_of(amount for amount in sentence.of(Amount) if amount.kind == "percent")
    used |= heard.all_of([*heard.clocks(sentence), *heard.days(sentence), *_how_many(sentence)])
    cuts, weighed = sentence.of(CutName), any(amount.kind == "weight" for amount in sentence.of(Amount))
    if len(cuts) > 1 and weighed and sentence.of(Fatness) and not readings:
        # "3 lb 80/20 from chuck and suet, and what temp?": the batch is wanted, and it tells the heat besides
        return Reading(request, used, 0)
    return Reading(request, used, 2 if outright or any(heat.unit for heat in readings) else 1)


def _deciding(sentence: Sentence, readings: list[heard.Heat]) -> heard.Heat | None:
    """Of several readings the last where it corrects the others, else the one of the middle, else the coldest."""
    if len(readings) < 2:
        return readings[0] if readings else None
    correction, middle = sentence.cue("correction"), sentence.cue("middle")
    if correction is not None and correction.last <= readings[-1].phrase.first:
        return readings[-1]
    if middle is not None:
        return min(readings, key=lambda heat: _apart(heat.phrase, middle))
    return min(readings, key=lambda heat: heat.f(_taken(heat)[1]))


def _apart(one: Phrase, other: Phrase) -> tuple[int, bool]:
    """How many characters stand between two phrases; of two as near, the one that comes after counts."""
    return max(one.first - other.last, other.first - one.last), one.first < other.first


def _is_an_ovens(sentence: Sentence, heat: heard.Heat) -> bool:
    """ "My oven is at 350": the heat outside the meat."""
    before = sentence.text[: heat.phrase.first].lower()
    return (
        re.search(r"\b(oven|grill|smoker|griddle|pan|barbecue|bbq|fryer|skillet|oil)\b[^.;,?]{0,16}$", before)
        is not None
    )


def _compares(sentence: Sentence) -> bool:
    """ "Pork chop against ground pork": a whole piece and ground meat in one question."""
    cuts = sentence.of(CutName)
    whole = any(cut.name.split()[-1] in heard.WHOLE for cut in cuts) or sentence.has("whole_cut")
    ground = sentence.has("mix") or bool(sentence.of(Patties)) or any("ground" in cut.name for cut in cuts)
    return (
        whole
        and ground
        and (
            sentence.has("worth", "why") or re.search(r"\b(than|vs|or|and|versus)\b", sentence.text.lower()) is not None
        )
    )


def _checking(sentence: Sentence) -> Reading:
    """Whether the thermometer itself is right."""
    found = heard.heats(sentence, low=0, high=230)
    heat = found[0] if found else None
    seen = (heat.value, heat.unit or ("degC" if heat.value < COLDEST_BARE_F else "degF")) if heat else None
    request = Cook("check", reading=seen)
    return Reading(request, heard.plain_words(sentence) | heard.all_of(heat.phrase for heat in found[:1]), 2)


def _cooked_to(sentence: Sentence, heat: heard.Heat) -> bool:
    """ "Beef burger to 160": meat and one bare number, such as thermometers show and nobody weighs or counts."""
    led = _LED_TO.search(sentence.text, 0, heat.phrase.first) is not None
    figures = [p for p in sentence.phrases if isinstance(p, Amount | Count | Fatness | People | Rate)]
    bare = not heat.unit and COOKED_F[0] <= heat.value <= COOKED_F[1] and figures == [heat.phrase]
    return led and bare and _names_meat(sentence) and not sentence.has(*ELSEWHERE, *heard.PLANNING)


def _outright(sentence: Sentence) -> bool:
    return (
        sentence.has(*ASKS_FOR) or _says_where(sentence) or bool(heard.asked_scale(sentence) and _says_what(sentence))
    )


def _is_about_heat(sentence: Sentence, readings: list[heard.Heat]) -> bool:
    if (heard.warmed_again(sentence) and not sentence.has("raw")) or heard.holds_hot(sentence):
        return False
    if sentence.has("out_in", "counter") and heard.durations(sentence) and not sentence.has("what", "how_long"):
        # "cooked to 160, then left out 3 hours": the hours decide, whatever the heat was
        return False
    if heard.stands_at(sentence) is not None:
        return False
    if sentence.has("how_long") and readings and all(heat.unit and heat.f("") <= WARM_ROOM_F for heat in readings):
        # "how long may raw mince stay at 21 °C": the room's heat
        return False
    if sentence.has("drying") and PRESERVING.search(sentence.text.lower()):
        return False
    if sentence.has("leftover", "power_cut", "thaw", "from_frozen", "smear", "firm"):
        return False
    if sentence.has("selling") and not sentence.has(*heard.PLANNING, *ELSEWHERE):
        return bool(readings) or sentence.has("temp") or "code" in sentence.text.lower()
    if _compares(sentence) and sentence.has("why", "temp"):
        return True
    if _says_where(sentence) and not sentence.has(*OTHERS, *(cue for cue in heard.PLANNING if cue != "buy")):
        return True
    if (
        readings
        and heard.durations(sentence)
        and heard.asks_leave(sentence)
        and not sentence.has(*OTHERS, *heard.PLANNING)
    ):
        return _beside(readings[0], heard.durations(sentence)[0][0])
    hot = any(PLAUSIBLE_F[0] <= heat.f("degF") <= PLAUSIBLE_F[1] for heat in readings)
    if hot and HOLDS.search(sentence.text.lower()) and not sentence.has(*OTHERS, *heard.PLANNING):
        return True
    if hot and sentence.has("germs") and not sentence.has("freezer", *heard.PLANNING):
        # "does 155 kill bacteria"
        return True
    if len(readings) == 1 and _cooked_to(sentence, readings[0]):
        return True
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
    told = (sentence.has("middle", "reads") or STANDS_AT.search(sentence.text.lower())) and warm
    told = bool(told) and not sentence.has(*heard.PLANNING)
    if warm and ENOUGH.search(sentence.text.lower()):
        return True
    return (warm or marked) and _names_meat(sentence) and (_wants_to_know(sentence) or told)


def _says_where(sentence: Sentence) -> bool:
    """ "What should venison reach", "what should the meatloaf read inside"."""
    asks = re.search(
        r"\bwhat (should|must|does|do|did|would)\b.*\b(reach|read|hit|register|get to|show)\b", sentence.text.lower()
    )
    return asks is not None and _names_meat(sentence)


def _follow_up(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "and for chicken?", "in C?", "it reads 158", "and for kids?" after an answer about heat."""
    before = talk.last
    if not isinstance(before, Cook) or talk.topic != CookTopic.name:
        return None
    said = list(sentence.substance())
    if len(said) > LONGEST_FOLLOW_UP or sentence.has(*OTHERS, *ASKS_FOR, *heard.PLANNING, "selling"):
        return None
    named, scale, readings = heard.meat(sentence), heard.asked_scale(sentence), heard.heats(sentence)
    risk, looks = heard.at_risk(sentence), sentence.has("pink", "rare")
    pressed = sentence.has("pressure")
    if not (
        pressed or _says_whose(named) or scale or heard.country(sentence) or readings or risk or looks or named.whole
    ):
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
        pressed=pressed or before.pressed,
        about="endpoint" if readings else before.about,
        country=heard.country(sentence) or before.country,
    )
    used = heard.plain_words(sentence) | heard.all_of(heat.phrase for heat in readings[:1])
    return Reading(request, used, 2)


def _about(sentence: Sentence) -> str:
    if sentence.has("selling") and not sentence.has("cook_time", "grill_heat"):
        return "licensed"
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


def _beside(heat: heard.Heat, held: Phrase) -> bool:
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
    if request.about == "check":
        return "How to check a thermometer"
    if request.about == "licensed":
        return f"What a licensed kitchen may do with {whose}"
    if request.reading:
        return f"Is {verdict.reading(*request.reading)} ok for {whose}?"
    if request.both:
        return f"What temperature in the middle for {whose}, and for a whole piece?"
    return {
        "thermometer": f"How to use a thermometer for {whose}",
        "rest": f"Resting time for {whose}",
        "time": f"Cooking time for {whose}",
        "grill": f"Grill temperature for {whose}",
    }.get(request.about, f"What temperature in the middle for {'rare ' if request.wants_rare else ''}{whose}?")


def _headline(request: Cook, needed: Endpoint, kitchen: Kitchen, scale: str) -> str:
    mark = verdict.mark(needed, scale)
    whose = meat_words(request.meat)
    if request.both:
        whole = verdict.needed_for(replace(request.meat, whole=True), kitchen.country)
        return f"{whose[:1].upper()}{whose[1:]}: {mark}. A whole piece: {verdict.mark(whole, scale)}."
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
    if judged.needed.rest_minutes:
        rest = wording.duration(judged.needed.rest_minutes)
        return f"Yes: {seen} in the middle is enough for {whose}, once it has rested {rest} off the heat."
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
    if request.both:
        notes.append(safety_book().rules["whole_is_not_ground"].text)
    if request.beside is not None and request.reading is not None:
        notes.append(
            f"{verdict.reading(*request.reading)} decides, not {verdict.reading(*request.beside)}: every patty, in its "
            "coldest spot."
        )
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


def _licensed(request: Cook, needed: Endpoint, kitchen: Kitchen, scale: str) -> Outcome:
    """The pairs of temperature and time of the US Food Code, told as what they are; elsewhere the country's own figure."""
    pairs = [pair for pair in licensed_combinations() if (pair.food == "poultry") == is_poultry(request.meat.species)]
    shown = [f"{verdict.degrees(pair.at, scale)} for {_held(pair.seconds)}" for pair in pairs]
    figures = [*verdict.cooking_figures(needed, scale)]
    for pair in pairs:
        name = f"licensed kitchen, held {_held(pair.seconds)}"
        figures += verdict.temperature_figures(name, pair.at, pair.source, scale)
    if kitchen.country != "us":
        says = f"Ask your local food authority: its rules decide for a licensed kitchen. Its figure for all: {verdict.mark(needed, scale)}."
        figures = [*verdict.cooking_figures(needed, scale)]
    elif request.reading is None:
        says = f"In a licensed kitchen that keeps records: {wording.listing(shown, 'or')}."
    else:
        says = _licensed_verdict(request.reading, pairs, scale)
    return verdict.told(
        "cook",
        _understood(request),
        says,
        figures=figures,
        cautions=verdict.with_meat(request.meat, kitchen, {"local_rules", "cook_temperature"}),
        notes=[
            f"At home one figure counts, {verdict.degrees(needed, scale)}: a home thermometer shows a spot, not a time kept.",
            f"Source: {pairs[0].source}. {verdict.LOCAL}",
        ],
        working=tuple(f"{pair.at.f} F for {pair.seconds} s ({pair.checked})." for pair in pairs),
    )


def _held(seconds: int) -> str:
    return wording.duration(Fraction(seconds, 60)) if seconds else "less than a second"


def _licensed_verdict(reading: tuple[Fraction, str], pairs: list[Combination], scale: str) -> str:
    f, seen = units.to(*reading, "degF"), verdict.reading(*reading)
    enough = [pair for pair in pairs if pair.at.f <= f]
    if not enough:
        lowest = min(pairs, key=lambda pair: pair.at.f)
        return f"No: {seen} is below every figure for ground meat; the lowest is {verdict.degrees(lowest.at, scale)} for {_held(lowest.seconds)}."
    nearest = max(enough, key=lambda pair: pair.at.f)
    return (
        f"Only in a licensed kitchen, if it stays at {verdict.degrees(nearest.at, scale)} for {_held(nearest.seconds)} with "
        "records kept, and your health department agrees."
    )


def _check(request: Cook, kitchen: Kitchen, scale: str) -> Outcome:
    book = safety_book()
    ice, slack = book.temperatures["ice_point"], book.figures["thermometer_tolerance"]
    mark = f"{verdict.degrees(ice.at, scale)}, within {wording.number(slack.value)} °F (1 °C)"
    says = f"In ice water it should read {mark}: a glass of ice topped up with water, the probe in the middle."
    if request.reading is not None:
        f = units.to(*request.reading, "degF")
        off = abs(f - ice.at.f) > slack.value
        says = f"{'No' if off else 'Yes'}: {verdict.reading(*request.reading)} in ice water is {'too far off' if off else 'close enough'}; it should read {mark}."
    return verdict.told(
        "cook",
        _understood(request),
        says,
        figures=verdict.temperature_figures("in ice water", ice.at, ice.source, scale),
        cautions=verdict.with_meat(request.meat, kitchen, {"thermometer"}),
        notes=["One that is further off is set right as its maker says, or replaced.", f"Source: {ice.source}."],
        working=(f"Ice point {ice.at.f} F ({ice.source}); tolerance {slack.value} F ({slack.source}).",),
    )


TOPIC = CookTopic()
