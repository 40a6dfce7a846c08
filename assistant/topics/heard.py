"""What a line says besides a batch: whose meat, how hot, how long, since when, and for whom.

The readings that the topics on heat, cold and time share. Each hands back the phrases it took, so that a number
nobody accounted for stays in the line and the session refuses instead of answering past it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, time
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units
from assistant.data.safety import COUNTRIES, HUNTED
from assistant.engine.safety import known_species
from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Fatness,
    Moment,
    Patties,
    People,
    PerEach,
    Phrase,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.language.when import Day, for_a_meal
from assistant.pattern import Pattern
from assistant.topics.base import Talk

HOURS = {
    "second": Fraction(1, 3600),
    "minute": Fraction(1, 60),
    "hour": Fraction(1),
    "day": Fraction(24),
    "week": Fraction(168),
    "month": Fraction(730),
    "year": Fraction(8760),
}
"""A month is a twelfth of a year: good enough to be past every limit."""
WHOLE = frozenset({"steak", "steaks", "roast", "joint", "chop", "chops", "beef steak", "roasting joint"})
"""Names of cuts that mean an unground piece when nothing in the line says that it is ground."""
SMALL_CHILD, OLD = 5, 65
BELOW_COOKING_F = 105
"""No meat is cooked to less, so that a marked reading below it, held for a time, is the air's or the fridge's."""
NOT_STANDING = (
    *("temp", "middle", "reads", "thermometer", "cook_time", "grill_heat", "sous_vide", "rest_after"),
    *("thaw", "from_frozen", "cold_water", "firm", "freeze_patties", "smear", "power_cut", "freezer"),
)
"""Cues of lines whose temperature is not what the meat was kept at."""
LEAVE = Pattern(
    r"\b(can|could|should|may|must|has|is|are|isnt|arent|do|does|will|would|have|need) "
    r"(i|we|you|it|they|this|that|these|those|the|my|our|he|she|to)\b|\b(right|yes|no|correct|ok|okay|fine|enough)\s*[?.!]*$"
    r"|^(has|have|is|are|was|were|can|could|should|do|does|will|would|ok|okay)\b"
)
"""How people ask for a yes or a no."""
_SOMEBODY_IS = Pattern(
    r"\b(aged|shes|hes|whos|turn(ing|ed|s)"
    r"|(she|he|who|mum|mom|dad|mother|father|wife|husband|aunt|uncle|auntie|sister|brother|son|daughter|friend|mate|boss"
    r"|neighbou?r|guest|cousin|niece|nephew)(s| is| was| just| only|,)+)$"
)
"""What stands just before somebody's age, apostrophes taken out: "dad is 71", "my boss's 66"."""

_TOLD_AGE = Pattern(r"\b(\d{1,3})$")
"""An age at the end of what was passed over about somebody: "she's 84"."""


_AIR = Pattern(
    r"^( (hot|warm))?,? *(out(side|doors)?|today|tomorrow|in the (sun|shade|garden|yard|park|tent|marquee))\b"
)
"""What follows a temperature that is the air's."""
_HOTTEST_AIR, _WARM_F = 130, 55


_WARMED = Pattern(
    r"\b(reheat\w*|(heat|warm)(ing|ed)? (up|through|again))\b"
    r"|\b(yesterday|last night|friday|saturday|sunday)'?s (cooked |grilled )?(burgers|patties|meatballs|meatloaf|sausages)\b"
)
"""What was cooked before, told by more than a word: "last night's burgers"."""
_HOLDS_HOT = Pattern(r"\b(keep|keeping|kept|hold|holding|held)\b[\w ]{0,20}\b(hot|warm)\b(?! (water|day))")
HOT_DISH = Pattern(r"\b(hot|steaming|warm) (burgers|patties|meatballs|food)\b|\b(ragu|bolognese|chilli|meat ?sauce)\b")
"""What is cooked, though nobody says so."""
_LEAST_HELD_F, _MOST_HELD_F = 100, 200
"""Degrees between which cooked food is held warm."""
_HELD_HOURS = Fraction(1, 2)
_HOLDS = Pattern(
    r"\b(hold|holding)( the| my)?( cooked)? (burgers|patties|meatballs|sausages|food) (at|in|on)\b|\bholding how long\b"
    r"|\b(hot|warm) enough to hold\b|\bkeep(ing)? (burgers|patties|meatballs|sausages|food|them) in the oven\b"
)
_STILL_WARM = Pattern(
    r"\b(warm|hot|cooked|steaming)\b.*\bfridge\b.*\bcool|\b(cool|cooled)\b.*\b(before|first|then)\b.*\bfridge\b"
    r"|\b(warm|hot|steaming)\b[\w ]{0,24}\b(straight|right|directly)\b[\w ]{0,12}\bfridge\b"
)


class Meat(Struct, frozen=True):
    """Whose meat it is. unsure: names that no authority's row covers, so the strictest figure is used for them."""

    species: frozenset[str] = frozenset()
    hunted: bool = False
    whole: bool = False
    unsure: tuple[str, ...] = ()


class Heat(Struct, frozen=True):
    """A temperature that was said. unit: "degF", "degC" or "" where none was said."""

    value: Fraction
    unit: str
    phrase: Phrase

    def f(self, unmarked: str) -> Fraction:
        """Degrees Fahrenheit; unmarked: the scale to read a number without one in."""
        return units.to(self.value, self.unit or unmarked, "degF")


def meat(sentence: Sentence) -> Meat:
    """The species of every cut named in the line; a name that could be several counts as all of them."""
    species: set[str] = set()
    unsure: list[str] = []
    for cut in sentence.of(CutName):
        found = _species_of(cut)
        species |= found
        if not found:
            unsure.append(cut.name)
    unsure += _strange(sentence)
    if sentence.has("poultry"):
        species.add("chicken")
    if sentence.has("stuffed"):
        species.add("stuffed meat")
    ground = sentence.has("mix", "into", "home_ground") or bool(sentence.of(Patties))
    whole = any(cut.name in WHOLE for cut in sentence.of(CutName)) and not ground
    hunted = sentence.has("hunted") or any(
        cut.name in ("game", "game meat", "wild game") for cut in sentence.of(CutName)
    )
    return Meat(frozenset(species), hunted, whole or sentence.has("whole_cut"), tuple(unsure))


_STYLES = frozenset(
    (
        *("italian", "german", "polish", "spanish", "portuguese", "french", "greek", "mexican", "turkish", "chinese"),
        *("thai", "korean", "indian", "english", "scottish", "irish", "cumberland", "lincolnshire", "american"),
        *("swedish", "hungarian", "cajun", "texan", "hawaiian", "moroccan"),
    )
)
"""Ways of seasoning that stand before a sausage or a burger and are no meat."""


def _strange(sentence: Sentence) -> list[str]:
    """Words nobody taught us just before burgers or mince: each may be a meat, and no beef is taken for it."""
    found = []
    for word in sentence.unknown:
        after = sentence.after(word)
        if word.text.lower() in _STYLES or word.text.lower() == "hold":
            continue
        meat = isinstance(after, Patties) or (isinstance(after, Word) and after.payload == "mix")
        if (
            meat
            and after is not None
            and not sentence.of(CutName)
            and not sentence.text[word.last : after.first].strip()
            and word.text.isalpha()
        ):
            found.append(word.text)
    return found


def _species_of(cut: CutName) -> set[str]:
    rows = data.cuts()
    named = set(re.findall(r"[a-z]+", cut.name)) & known_species()
    if named:
        return named
    keys = cut.keys or tuple(filter(None, [data.absent().get(cut.name, "")]))
    return {rows[key].species for key in keys} & known_species()


def batch_meat(talk: Talk) -> Meat:
    """The species of the batch being planned, for questions that say only "them"."""
    asked = talk.pending.request if talk.pending is not None else None
    # a batch that is still being asked about counts as much as one that is planned
    items = (*getattr(talk.plan, "items", ()), *getattr(asked, "items", ()))
    rows = data.cuts()
    species = {rows[key].species for item in items for key in item.keys if key in rows}
    return Meat(frozenset(species & known_species()))


def endpoint_species(meat: Meat) -> tuple[frozenset[str], bool]:
    """What to hand to the engine: (species, hunted). Nothing said is plain ground beef; a name without a row of its
    own is read as strictly as hunted game."""
    return meat.species or frozenset({"beef"}), meat.hunted or bool(meat.unsure)


def heats(sentence: Sentence, low: int = 40, high: int = 250) -> list[Heat]:
    """Temperatures, marked or bare; a bare number only between low and high, and only where nothing else owns it.

    Of a range the lower end is taken: a reading is only as good as its coldest.
    """
    found = []
    aged = {phrase for phrase, _ in ages(sentence)}
    inside = [patties.each for patties in sentence.of(Patties) if patties.each is not None]
    for phrase in (*sentence.phrases, *inside):
        if isinstance(phrase, Amount) and phrase.kind == "degrees":
            unit = phrase.measure.unit
            found.append(Heat(phrase.measure.value, "" if unit == "deg" else unit, phrase))
        elif isinstance(phrase, Count) and not phrase.proportion and not phrase.piece and phrase not in aged:
            unit = _loose_scale(sentence, phrase)
            if unit or low <= phrase.value <= high:
                found.append(Heat(phrase.value, unit, phrase))
    scale = asked_scale(sentence)
    return [replace(heat, unit=heat.unit or scale) for heat in found] if len(found) == 1 and scale else found


def air(sentence: Sentence) -> Heat | None:
    """How hot it is where people eat: "35 degrees out and 20 people want burgers". Without a scale it is read as
    Fahrenheit from 55 on, below that as Celsius."""
    marked = (heat for heat in heats(sentence, low=0, high=0) if isinstance(heat.phrase, Amount))
    heat = next((heat for heat in marked if _AIR.search(sentence.text[heat.phrase.last :].lower())), None)
    if heat is None or heat.value > _HOTTEST_AIR:
        return None
    return replace(heat, unit=heat.unit or ("degF" if heat.value >= _WARM_F else "degC"))


def stands_at(sentence: Sentence) -> Heat | None:
    """What meat stands at for the time said: a marked reading too cool for any cooking ("mince at 5 C, 2 days"); of
    several the warmest. None where the line is about cooking, thawing or firming."""
    if not durations(sentence) or sentence.has(*NOT_STANDING):
        return None
    warmest = max(with_scale(sentence), key=lambda heat: heat.f(""), default=None)
    return warmest if warmest is not None and warmest.f("") < BELOW_COOKING_F else None


def with_scale(sentence: Sentence) -> list[Heat]:
    """The temperatures that were said with their scale."""
    return [heat for heat in heats(sentence, low=0, high=0) if heat.unit]


def _loose_scale(sentence: Sentence, phrase: Phrase) -> str:
    """The scale of "71 c" and "48 f", typed small and apart."""
    letter = sentence.after(phrase)
    if isinstance(letter, Word) and letter.kind == "unknown":
        return {"c": "degC", "f": "degF"}.get(letter.text.lower(), "")
    return ""


def asked_scale(sentence: Sentence) -> str:
    """ "degC" or "degF" where the line asks for one scale, else ""."""
    for word in sentence.words("cue"):
        if word.payload in ("convert", "unit:degC", "unit:degF"):
            text = word.text.lower()
            if re.search(r"\b(c|celsius|centigrade)$", text):
                return "degC"
            if re.search(r"\b(f|fahrenheit)$", text):
                return "degF"
    return ""


def amounts(sentence: Sentence) -> list[Amount]:
    """Every amount, also the size inside "1/2 inch patties"."""
    inside = [patties.each for patties in sentence.of(Patties) if patties.each is not None]
    return [*sentence.of(Amount), *inside]


NOT_YET = Pattern(r"\b(never|not|hasnt|hasn't|wasnt|wasn't) (been |yet )?(frozen|thawed|opened|cooked)\b")
"""A no that is not of the fridge: "three days in the fridge, never frozen"."""


def durations(sentence: Sentence) -> tuple[tuple[Amount, Fraction, Fraction], ...]:
    """(phrase, least hours, most hours) of every length of time that is not somebody's age."""
    return sentence.once(_durations)


def _durations(sentence: Sentence) -> tuple[tuple[Amount, Fraction, Fraction], ...]:
    found = []
    aged = {phrase for phrase, _ in ages(sentence)}
    for amount in sentence.of(Amount):
        if amount.kind == "duration" and amount.measure.unit in HOURS and amount not in aged:
            hours = HOURS[amount.measure.unit]
            found.append((amount, amount.measure.value * hours, (amount.measure.high or amount.measure.value) * hours))
    return tuple(found)


def ages(sentence: Sentence) -> tuple[tuple[Phrase, Fraction], ...]:
    """(phrase, years) of everybody's age: "4 year old", "aged 70 years", "a 3 yr old", "18 months old"."""
    return sentence.once(_ages)


def _ages(sentence: Sentence) -> tuple[tuple[Phrase, Fraction], ...]:
    found: list[tuple[Phrase, Fraction]] = []
    if _of_the_meat(sentence):
        return ()
    for phrase in sentence.phrases:
        old = "old" in sentence.text[phrase.last :][:6].lower()
        if isinstance(phrase, Amount) and phrase.kind == "duration":
            if phrase.measure.unit == "year":
                found.append((phrase, phrase.measure.value))
            elif (
                phrase.measure.unit == "month"
                and old
                and (sentence.has("at_risk") or not sentence.has("fridge", "freezer"))
            ):
                found.append((phrase, phrase.measure.value / 12))
        elif isinstance(phrase, Word) and phrase.payload == "background":
            # "she's 84, can she have hers pink"
            told = _TOLD_AGE.search(phrase.text.lower())
            found += [(phrase, Fraction(told.group(1)))] if told else []
        elif isinstance(phrase, Count) and (
            _starts_with_years(sentence.after(phrase)) or _of_a_person(sentence, phrase)
        ):
            found.append((phrase, phrase.value))
    return tuple(found)


def _of_the_meat(sentence: Sentence) -> bool:
    """Years and months are the meat's where it is kept somewhere and nobody's guest is named."""
    kids = any(people.sort == "kid" for people in sentence.of(People))
    return sentence.has("fridge", "freezer", "ago", "keep") and not sentence.has("at_risk") and not kids


def _of_a_person(sentence: Sentence, count: Count) -> bool:
    """ "My gran is 82", "she's 4": a bare number just after somebody is an age, never a temperature."""
    # only the end of what stands before: a long line of numbers asks this of each of them
    before = sentence.text[: count.first].rstrip()[-24:].lower().replace("'", "")
    just_before = sentence.before(count)
    person = isinstance(just_before, People) or (isinstance(just_before, Word) and just_before.payload == "at_risk")
    return (person and re.search(r"\b(is|was|whos|hes|shes|aged|s|turned|turns|,)$|[a-z]s$", before) is not None) or (
        _SOMEBODY_IS.search(before) is not None
        # "a care home, all over 80"
        or (sentence.has("at_risk") and re.search(r"\b(over|past|nearly|almost|all)$", before) is not None)
    )


def _starts_with_years(phrase: Phrase | None) -> bool:
    return (
        isinstance(phrase, Word)
        and phrase.payload == "at_risk"
        and phrase.text.lower().startswith(("yr", "month", "week"))
    )


def country(sentence: Sentence) -> str:
    """The country named for this one question, "" where none is."""
    named = [cue.removeprefix("country_") for cue in sorted(sentence.cues) if cue.startswith("country_")]
    return named[0] if len(named) == 1 and named[0] in COUNTRIES else ""


def clocks(sentence: Sentence) -> list[Moment]:
    """Clock times, in order."""
    return [moment for moment in sentence.of(Moment) if moment.clock is not None]


def mealtime(moment: Moment) -> time | None:
    """The clock time that food is to be ready: an hour with its half of the day unsaid is read as for a meal."""
    return for_a_meal(moment.clock) if moment.clock is not None and moment.loose else moment.clock


def days(sentence: Sentence) -> list[Moment]:
    """Days, in order."""
    return [moment for moment in sentence.of(Moment) if moment.day is not None]


def warmed_again(sentence: Sentence) -> bool:
    """Whether what was cooked before is to be made hot again."""
    return _WARMED.search(sentence.text.lower()) is not None


def holds_hot(sentence: Sentence) -> bool:
    """Whether what is cooked is to be kept hot: "hold the burgers warm", "keeping them hot"."""
    text = sentence.text.lower()
    if sentence.has("hold_hot") or _HOLDS_HOT.search(text) is not None:
        return True
    # "hold burgers at 140 F how long", but not "held at 3 C for four days" nor a core held for seconds
    served = sentence.of(Patties) or re.search(r"\b(food|them|meatballs|sausages)\b", text)
    apart = not sentence.has("middle", "temp", "done", "thermometer", "raw", "long_held")
    # minutes at a heat are how burgers are cooked, not how they are served
    apart = apart and all(most >= _HELD_HOURS for _, _, most in durations(sentence)) and "sous" not in text
    warm = any(_LEAST_HELD_F <= heat.f("") <= _MOST_HELD_F for heat in with_scale(sentence))
    return bool(served) and apart and warm and _HOLDS.search(text) is not None


_GRINDS = Pattern(
    r"\b(to|when i|when we|can i|can we|before|while|for) (grind|mince|ground)\b|\b(grinding|mincing|minced it|ground it|in ?to the (mincer|grinder))\b"
)


def cold_at_the_grinder(sentence: Sentence) -> bool:
    """Whether a reading is of raw meat at the grinder: "meat is at 8 C, can I grind", "is it ok to grind at 8 c"."""
    cold = any(heat.f("") < BELOW_COOKING_F for heat in with_scale(sentence))
    apart = not sentence.has("done", "middle", "cooked", "cook_time", "out_in", "counter", "fridge", "freezer")
    text = sentence.text.lower()
    air = re.search(r"\b(kitchen|room|garage|shed|outside|weather|day)\b", text) is not None
    return cold and apart and not air and not durations(sentence) and _GRINDS.search(text) is not None


def how_cold_a_place(sentence: Sentence) -> bool:
    """ "How cold should the fridge be": of the place, and of no meat at the grinder."""
    text = sentence.text.lower()
    place = "how cold" in text and sentence.has("fridge", "freezer")
    return place and re.search(r"\b(grind|ground|minc|cube|meat|firm)", text) is None


def still_warm_into_the_fridge(sentence: Sentence) -> bool:
    """ "Can cooked burgers go in the fridge warm, or must they cool first": how soon, and no time out that is judged."""
    patient = sentence.has("fridge") and _STILL_WARM.search(sentence.text.lower()) is not None
    cooked = sentence.has("leftover", "cooked", "done") or HOT_DISH.search(sentence.text.lower()) is not None
    raw = sentence.has("raw") or not cooked
    return patient and not raw and asks_leave(sentence) and not (durations(sentence) or clocks(sentence))


def at_risk(sentence: Sentence) -> bool:
    """Whether children, old people, pregnancy or illness are named."""
    if _named_at_risk(sentence) or any(people.sort == "kid" for people in sentence.of(People)):
        return True
    return any(years <= SMALL_CHILD or years >= OLD for _, years in ages(sentence))


def _named_at_risk(sentence: Sentence) -> bool:
    return any(word.payload == "at_risk" and not word.text.lower().startswith("yr") for word in sentence.words("cue"))


def asks_leave(sentence: Sentence) -> bool:
    """Whether the line wants a yes or a no."""
    plain = re.sub(r"['’]", "", sentence.text.lower()).strip()
    return bool(LEAVE.search(plain)) or sentence.has("safe", "is_it_ok", "is_enough", "yes")


def plain_words(sentence: Sentence, *, weights: bool = True, negations: bool = True) -> frozenset[Phrase]:
    """The phrases that cannot change a verdict once the topic has read its own: words, meats, how many there are.

    weights: also amounts of meat and fat, which do not matter to how hot or how long. negations: also "not" and its
    like, where the verdict is the same with and without. Times, temperatures and bare numbers are never among them.
    """
    taken: set[Phrase] = set()
    for phrase in sentence.phrases:
        if isinstance(phrase, CutName | SeasoningName | Patties | People):
            taken.add(phrase)
        elif isinstance(phrase, Word) and (
            phrase.kind not in ("unknown", "badnum") or phrase.text.lower() in ("c", "f")
        ):
            if negations or phrase.payload not in ("not", "drop", "swap", "instead"):
                taken.add(phrase)
        elif weights and (isinstance(phrase, Fatness | PerEach) or _is_size(phrase)):
            taken.add(phrase)
    return frozenset(taken | {phrase for phrase, _ in ages(sentence)})


def _is_size(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind in ("weight", "length")


def all_of(phrases: Iterable[Phrase | None]) -> frozenset[Phrase]:
    """The phrases that are there."""
    return frozenset(phrase for phrase in phrases if phrase is not None)


def day_on(day: Day, today: date, *, past: bool) -> date | None:
    """The calendar day meant, None for one that no calendar has."""
    return day.on(today, past=past)


def said_hunted(species: frozenset[str], hunted: bool) -> frozenset[str]:
    """The species as the reminders want them."""
    return species | {HUNTED} if hunted else species


PLANNING = (
    "how_much",
    "how_many",
    "into",
    "cost",
    "season",
    "composition",
    "budget",
    "cheapest",
    "largest",
    "buy",
    "equals",
)
"""Cues of a line that is about a batch, even where it names a temperature too."""


_PLATE = Pattern(r"\b(plate|tray|board|dish|platter)\b")


def shares_a_plate(sentence: Sentence) -> bool:
    """Whether cooked meat is to lie where raw meat lay."""
    both = sentence.has("raw") and sentence.has("cooked", "leftover")
    return both and _PLATE.search(sentence.text.lower()) is not None
