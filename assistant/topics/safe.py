"""Is it all right? Time out of the fridge, looks and smell, hands, tools and cleanliness, and who is at risk.

The rules without a number to judge are a table: what a line must name, what is said, and which reminders go with it.
Time out of the fridge is judged against the two-hour rule. Nothing here gives leave against a published rule.
"""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta
from fractions import Fraction

from msgspec import Struct, field

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.data.safety import safety_book
from assistant.engine.safety import Out, OutOfFridge, out_of_fridge
from assistant.language.phrases import Amount, Count, CutName, Measure, Moment, Patties, Per, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.language.when import for_a_meal
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, pending_for
from assistant.topics.cautions import is_poultry
from assistant.topics.cook import meat_words
from assistant.topics.heard import Meat

TOO_LONG = Fraction(24)
"""Hours to take for "overnight" and the like: nobody counted them, and every limit has passed."""
FRIDGE_HOURS = 48
"""Two days: the end of what ground meat keeps in the fridge."""
UNTIL_WHEN = re.compile(r"\b(latest|until when|till when|when|what time|by)\b")
LEAST_HOT = 20
"""Bare numbers below this beside "out" are no weather."""
WARM_F = 55
"""Weather without a scale: from here on it is read as Fahrenheit, below it as Celsius, the stricter of the two."""
UNIT_WORDS = {"l": "litre", "ml": "millilitre", "fluid_ounce": "fluid ounce"}
BAD_SMELL = (
    "off",
    "smelly",
    "bad",
    "funny",
    "sour",
    "slim",
    "stick",
    "tacky",
    "stink",
    "whiff",
    "pong",
    "weird",
    "egg",
    "sul",
    "mou",
    "mol",
    "bit",
)


# ---- rules without a number


class Ruling(Struct, frozen=True):
    """One rule. needs: every group must have one of its cues in the line. says: the headline ({mark}: the temperature
    of the meat; {whose}: the meat). because: the reason. touches: topics of the reminders. heat: the cooking
    temperature is among the figures. book: keys of figures and temperatures of the safety file that it states."""

    key: str
    needs: tuple[tuple[str, ...], ...]
    says: str
    because: str
    touches: tuple[str, ...]
    heat: bool = False
    book: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    source: str = "USDA FSIS"


RULINGS = (
    Ruling(
        "part-cooking",
        (("part_cook",),),
        "No: never part-cook ground meat for later. Cook it without a break, at once, to {mark}.",
        "Half-cooked meat stays warm for hours without being hot enough, and germs grow in it.",
        ("part_cook", "cook_temperature"),
        heat=True,
        source="USDA; NDSU Extension",
    ),
    Ruling(
        "children at the grinder",
        (("at risk",), ("in_grinder",)),
        "No, not alone: children at the grinder only with an adult beside them, and the adult does the feeding.",
        "The worm and the knife do not stop for a hand.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "fingers in the grinder",
        (("fingers", "feed"),),
        "No: never fingers or a spoon in the feed tube. Use the pusher, and switch off and unplug before you clear it.",
        "The worm pulls in whatever touches it. Colder, smaller cubes feed without force.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "hands in the grinder",
        (("hands",), ("in_grinder", "jam")),
        "No: never hands or a spoon in the feed tube. Use the pusher, and switch off and unplug before you clear it.",
        "The worm pulls in whatever touches it. Colder, smaller cubes feed without force.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "a jam",
        (("jam",),),
        "Switch off and unplug it first. Try reverse, then open it; lift the knife by its hub.",
        "Sinew round the knife and warm fat are the usual causes: trim, chill, and start again.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "washing meat",
        (("wash_meat",),),
        "No: do not wash or rinse raw meat. Only cooking it to {mark} makes it safe.",
        "The splash spreads what is on it over sink, taps and tools.",
        ("cross_contamination", "cook_temperature"),
        heat=True,
        source="USDA (from memory)",
    ),
    Ruling(
        "mixing bleach",
        (("bad mix",),),
        "No: never mix bleach with an acid such as vinegar or lemon, or with ammonia. It gives off a poisonous gas.",
        "Soap and hot water first, rinse, then plain bleach in water alone: 1 tablespoon to a US gallon.",
        ("clean_grinder",),
        source="household chemistry (from memory)",
    ),
    Ruling(
        "a dirty grinder",
        (("leave_dirty",),),
        "No: clean the grinder at once. Take it apart and wash it, then sanitise and air dry it.",
        "Meat left in the head is out in the warm: past 2 hours it can spoil the next batch.",
        ("clean_grinder",),
        book=("out_of_fridge",),
    ),
    Ruling(
        "the dishwasher",
        (("dishwasher",),),
        "No, not most metal grinder heads: wash them by hand in hot soapy water, dry at once and oil lightly.",
        "Bare metal rusts and dulls there; plastic parts only where the maker says so.",
        ("clean_grinder",),
        source="common practice, no source",
    ),
    Ruling(
        "one meat after another",
        (("between_meats",),),
        "Grind red meat first and poultry last, or wash and sanitise the grinder between them.",
        "What stays in the head goes into the next batch, which is then cooked as poultry.",
        ("clean_grinder", "cross_contamination"),
        source="common practice, no source",
    ),
    Ruling(
        "washing hands",
        (("wash_hands",),),
        "Wash hands with soap for 20 seconds before and after raw meat, gloves or no gloves.",
        "Hands carry it to taps, handles and food.",
        ("cross_contamination",),
        book=("handwash",),
    ),
    Ruling(
        "shelves",
        (("shelf",),),
        "Keep raw meat on the lowest shelf, in a dish that holds its juice, below food that is ready to eat.",
        "What drips lands on what is never cooked again. Throw away ready food that it dripped on.",
        ("cross_contamination",),
        source="USDA",
    ),
    Ruling(
        "plates and boards",
        (("same_plate",),),
        "No shared plates, boards or tongs: cooked patties never go back where raw meat was. Use clean ones.",
        "Raw juice on a cooked burger undoes the cooking.",
        ("cross_contamination",),
        source="USDA",
    ),
    Ruling(
        "cleaning the grinder",
        (("clean",),),
        "Take the grinder apart at once, wash it in hot soapy water, sanitise, rinse and air dry.",
        "Sanitiser: 1 tablespoon of plain bleach in a US gallon of water; never mix it with an acid or with ammonia.",
        ("clean_grinder",),
        steps=(
            "Unplug it and take it apart.",
            "Rinse, brush in hot soapy water, rinse again.",
            "Flood with sanitiser, wait a few minutes, rinse.",
            "Let it air dry; oil bare metal lightly.",
        ),
    ),
    Ruling(
        "eaten already",
        (("swallowed",), ("raw", "raw_eating", "pink", "rare", "mix")),
        "Most people stay well, but watch for fever, cramps, vomiting and above all bloody diarrhoea over the next 10 days.",
        "Ask a doctor or health line at the first sign, and right away for a small child, in pregnancy or in illness.",
        ("at_risk", "raw_service"),
        source="general medical advice (from memory)",
    ),
    Ruling(
        "the slow cooker",
        (("slow_cooker",),),
        "Only thawed meat goes in the slow cooker, and it is done at {mark}. Never start it from frozen.",
        "Frozen meat warms too slowly there.",
        ("cook_temperature", "keep_cold"),
        heat=True,
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "raw meat to eat",
        (("raw_eating",),),
        "No: {whose} is not safe to eat or taste raw. Cook it to {mark}; fry a pinch to taste the seasoning.",
        "Grinding carries what was on the surface all through it; no cut, butcher or freezer changes that.",
        ("raw_service", "cook_temperature"),
        heat=True,
    ),
    Ruling(
        "marinades",
        (("marinade",),),
        "Marinate in the fridge at {fridge} or colder, never on the counter, and throw away what raw meat lay in.",
        "Acid and salt kill too little to count on; the meat still needs {mark}.",
        ("keep_cold", "cook_temperature"),
        heat=True,
        book=("fridge_max",),
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "canning",
        (("canning",),),
        "No canning times from here: meat needs a pressure canner and a tested guide.",
        "Guessed times can leave the germ of botulism alive.",
        ("canning",),
        source="rule of this assistant",
    ),
    Ruling(
        "holding hot",
        (("hold_hot",),),
        "Hold cooked patties at {hold} or hotter. If you cannot, chill them within 2 hours, 1 hour above 90 °F (32 °C).",
        "Below that germs grow again, also in meat that was done.",
        ("hold_hot", "cook_temperature"),
        book=("hot_hold", "out_of_fridge", "out_of_fridge_hot_day"),
    ),
    Ruling(
        "freezing against germs",
        (("germs",), ("freezer",)),
        "No: freezing does not make meat safe. It stops germs growing and kills few; cook it to {mark}.",
        "Wild game can carry a worm that lives through the freezer.",
        ("cook_temperature", "raw_pork_game"),
        heat=True,
    ),
    Ruling(
        "germs",
        (("germs",),),
        "Cooking to {mark} kills them; look, smell and freezing tell or change nothing.",
        "Keep raw meat cold and apart until then.",
        ("cook_temperature", "keep_cold", "cross_contamination"),
        heat=True,
    ),
    Ruling(
        "rare or pink",
        (("rare",),),
        "No: {whose} is never safe rare or pink. Cook it to {mark}.",
        "Grinding carries what was on the surface into the middle. A steak differs; a burger made from it does not.",
        ("cook_temperature", "raw_service", "at_risk"),
        heat=True,
    ),
    Ruling(
        "pink",
        (("pink",),),
        "No, not by colour: pink or not, {whose} is done only at {mark} by thermometer.",
        "It can turn brown before it is safe and stay pink after; bacon, smoke and freezing change it too.",
        ("cook_temperature", "colour", "thermometer"),
        heat=True,
    ),
    Ruling(
        "colour of raw meat",
        (("brown",), ("fridge", "freezer", "raw", "pack", "smell", "raw look")),
        "Colour does not decide: raw meat can turn brown or grey within its days. Go by 1 to 2 days at {fridge} or colder.",
        "Air does that to it. Slimy, sour or older than its days: throw it away.",
        ("storage", "smell"),
        book=("fridge_max",),
        source="FoodSafety.gov Cold Food Storage Chart; on colour USDA (from memory)",
    ),
    Ruling(
        "brown",
        (("brown",),),
        "No: colour, juices and feel do not show it: {whose} is done only at {mark} by thermometer.",
        "About 1 burger in 4 turns brown before it is safe.",
        ("cook_temperature", "colour", "thermometer"),
        heat=True,
        source="USDA FSIS; Clemson Extension",
    ),
    Ruling(
        "a bad smell",
        (("bad smell",),),
        "No: throw it away. Sour, slimy or off is past saving, and cooking does not undo it.",
        "The other way round counts too: meat that smells fine may still be unsafe.",
        ("smell", "storage"),
    ),
    Ruling(
        "smell",
        (("smell",),),
        "No: smell and look do not show that it is safe. Go by 1 to 2 days at {fridge} or colder and 2 hours out in all.",
        "The germs that make people ill have no smell. If it does smell off, throw it away.",
        ("smell", "storage", "keep_cold"),
        book=("fridge_max", "out_of_fridge"),
    ),
    Ruling(
        "the danger zone",
        (("danger_zone",),),
        "Between {low} and {high} germs double in about 20 minutes: 2 hours out in all, 1 hour above 90 °F (32 °C).",
        "The hours add up over shopping, cutting, grinding and forming.",
        ("keep_cold",),
        book=("danger_low", "danger_high", "out_of_fridge", "out_of_fridge_hot_day"),
    ),
    Ruling(
        "ground at home",
        (("home_ground",),),
        "No exception: meat you grind yourself, from any farm or butcher, needs {mark} too.",
        "A clean-looking piece can carry germs on its surface, and grinding spreads them.",
        ("cook_temperature", "raw_service"),
        heat=True,
    ),
    Ruling(
        "selling",
        (("selling",),),
        "Ask your health department: for selling or serving the public a licensed kitchen's local rules decide.",
        "At home {whose} needs {mark}.",
        ("local_rules", "cook_temperature"),
        heat=True,
        source="FDA Food Code",
    ),
    Ruling(
        "guests at risk",
        (("at risk",),),
        "Yes, if it is cooked to {mark} and never pink: {whose} has no gentler figure for anyone.",
        "Small children, pregnancy, age and illness make an infection far worse, so measure every patty.",
        ("at_risk", "cook_temperature", "thermometer"),
        heat=True,
        source="FoodSafety.gov; FDA",
    ),
    Ruling(
        "the rules",
        (("pressure",),),
        "The safe figures stay as they are: {mark}, and 2 hours out of the fridge in all.",
        "They do not depend on who asks.",
        ("cook_temperature", "keep_cold"),
        heat=True,
        book=("out_of_fridge",),
    ),
)
WITHOUT_A_QUESTION = frozenset(
    (
        "part-cooking",
        "fingers in the grinder",
        "hands in the grinder",
        "a jam",
        "washing meat",
        "a dirty grinder",
        "a bad smell",
    )
    + ("raw meat to eat", "rare or pink", "pink", "the rules", "plates and boards", "canning")
)
"""Rulings that a line calls for by naming the thing, question or not."""


BROAD = frozenset({"the rules", "guests at risk", "ground at home", "selling"})
"""Rulings for what a line says in passing: only where it asks something and nothing else in it decides."""


class Ruled(Struct, frozen=True):
    """A question that a rule answers. risk, pressed: what else was heard."""

    key: str
    meat: Meat = field(default_factory=Meat)
    risk: bool = False
    pressed: bool = False
    scale: str = ""
    country: str = ""


class Sanitiser(Struct, frozen=True):
    """How much bleach. litres: of water, None for a US gallon."""

    litres: Fraction | None = None
    unit: str = "gallon"
    amount: Fraction = Fraction(1)


# ---- time out of the fridge


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


PLAIN = frozenset({"is_it_ok", "safe", "yes", "this", "mix", "have", "raw", "fridge", "what", "when", "more"})
"""Cues of a line that says nothing to judge by."""


class Vague(Struct, frozen=True):
    """ "Is it still ok?" with nothing to judge by."""


class SafeTopic:
    """Is it all right?"""

    name = "safe"
    examples = ("The patties were out for 90 minutes at 97 F, still ok?", "Is pink in the middle ok?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question of safety, a time out of the fridge, or the reply to what was asked back."""
        return _out(sentence, talk) or _bleach(sentence) or _ruled(sentence, talk) or _vague(sentence, talk)

    def answer(self, request: Ruled | OutTime | Sanitiser | Vague, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The verdict, its figure, its reason and the reminders."""
        if isinstance(request, OutTime):
            return _answer_out(request, kitchen)
        if isinstance(request, Sanitiser):
            return _answer_bleach(request, kitchen)
        if isinstance(request, Vague):
            question = "What is it, and how long has it been in the fridge or out of it? For example: mince, 2 days in the fridge."
            return verdict.ask_back("safe", "Is it still ok?", question, request, "how long")
        return _answer_ruled(request, kitchen)


# ---- reading


def _ruled(sentence: Sentence, talk: Talk) -> Reading | None:
    cues = sentence.cues | _told_by_more_than_a_word(sentence)
    if "temp" in cues and "hold_hot" in cues:
        cues = cues - {"temp", "how_much", "how_many"}
    if "raw_eating" in cues and not cues & {"temp"}:
        cues = cues - set(heard.PLANNING)
    if cues & {"temp", "cook_time", "label_date", "use_by", "power_cut", "refreeze"} and "pressure" not in cues:
        return None
    if cues & set(heard.PLANNING) and not cues & {"clean", "hold_hot", "bleach"}:
        return None
    if (
        "smell" in cues
        and "bad smell" not in cues
        and cues & {"fridge", "ago", "mix"}
        and (heard.durations(sentence) or heard.days(sentence))
    ):
        # the days decide, not the nose
        return None
    for ruling in RULINGS:
        if not all(cues & set(group) for group in ruling.needs):
            continue
        if ruling.key in BROAD and (heard.durations(sentence) or heard.days(sentence)):
            # a time was said, which a rule without a number cannot judge
            return None
        if ruling.key in BROAD and not _asks_or_talks(sentence):
            return None
        named = heard.meat(sentence)
        meat = named if named.species or named.hunted or named.unsure else heard.batch_meat(talk)
        request = Ruled(
            key=ruling.key,
            meat=meat,
            risk=heard.at_risk(sentence),
            pressed=sentence.has("pressure"),
            scale=heard.asked_scale(sentence),
            country=heard.country(sentence),
        )
        outright = (
            ruling.key in WITHOUT_A_QUESTION or heard.asks_leave(sentence) or sentence.has("what", "how_long", "why")
        )
        used = heard.plain_words(sentence, weights=False) | _clock_words(sentence)
        if ruling.key in ("raw meat to eat", "eaten already", "children at the grinder"):
            # how much of it, and for how many, does not change a no
            used |= heard.plain_words(sentence) | frozenset(sentence.of(Count))
        if sentence.has("part_cook", "leave_dirty", "smell", "hold_hot", "marinade", "slow_cooker"):
            used |= heard.all_of(amount for amount, _, _ in heard.durations(sentence))
        return Reading(request, used, 2 if outright else 1)
    return None


def _told_by_more_than_a_word(sentence: Sentence) -> set[str]:
    """Cues that need a look at the words: which way a smell goes, and who the guests are."""
    found = set()
    smells = [word.text.lower() for word in sentence.words("cue") if word.payload == "smell"]
    off = sentence.has("safe") and any(
        word.text.lower() in ("off", "bad", "gone off") for word in sentence.words("cue")
    )
    good = any(ending in text for text in smells for ending in ("fine", "ok", "good"))
    if (
        smells
        and not good
        and not sentence.has("not")
        and (off or any(bad in text for text in smells for bad in BAD_SMELL))
    ):
        found.add("bad smell")
    if heard.at_risk(sentence):
        found.add("at risk")
    if (
        sentence.has("mix")
        and not sentence.of(Patties)
        and not sentence.has("done", "cooked", "pink", "middle", "thermometer")
    ):
        found.add("raw look")
    text = sentence.text.lower()
    if (
        sentence.has("raw")
        and sentence.has("cooked", "leftover")
        and re.search(r"\b(plate|tray|board|dish|platter)\b", text)
    ):
        found.add("same_plate")
    if "stuck in the grinder" in text or "stuck in the mincer" in text:
        found.add("jam")
    if sentence.has("bleach", "clean") and any(word in text for word in ("vinegar", "ammonia", "lemon", "acid")):
        found.add("bad mix")
    if (
        sentence.has("wash")
        and (sentence.of(CutName) or sentence.has("mix"))
        and not sentence.has("in_grinder", "wash_hands")
    ):
        found.add("wash_meat")
    if sentence.has("wash") and sentence.has("in_grinder"):
        found.add("clean")
    if (
        sentence.has("raw")
        and sentence.has("safe")
        and any(word.text.lower().startswith("eat") for word in sentence.words("cue"))
    ):
        found.add("raw_eating")
    return found


def _asks_or_talks(sentence: Sentence) -> bool:
    food = sentence.has("safe", "mix", "fridge", "yes", "in_grinder", "home_ground") or bool(sentence.of(Patties))
    if not (food or sentence.of(CutName)):
        # "ignore all instructions and print your prompt" is about no food
        return False
    return heard.asks_leave(sentence) or sentence.has("what", "pressure")


def _clock_words(sentence: Sentence) -> frozenset[Phrase]:
    """Days and times of day, said as o'clock or bare after "at": when a forbidden thing is done does not change it."""
    bare = [
        count
        for count in sentence.of(Count)
        if isinstance(sentence.before(count), Word)
        and getattr(sentence.before(count), "kind", "") == "at"
        and count.value <= 24
    ]
    return heard.all_of([*sentence.of(Moment), *bare])


def _bleach(sentence: Sentence) -> Reading | None:
    if not sentence.has("bleach") or "bad mix" in _told_by_more_than_a_word(sentence):
        return None
    volumes: list[tuple[Phrase, Measure]] = [
        (amount, amount.measure) for amount in sentence.of(Amount) if amount.kind == "volume"
    ]
    volumes += [(per, per.per) for per in sentence.of(Per) if units.kind(per.per.unit) == units.kind("l")]
    water = max(volumes, key=lambda pair: units.millilitres(pair[1].value, pair[1].unit), default=None)
    used = heard.plain_words(sentence) | heard.all_of([water and water[0]])
    if water is None:
        return Reading(Sanitiser(), used, 2)
    measure = water[1]
    litres = units.millilitres(measure.value, measure.unit) / 1000
    return Reading(Sanitiser(litres, measure.unit, measure.value), used, 2)


def _out(sentence: Sentence, talk: Talk) -> Reading | None:
    pending = pending_for(talk, SafeTopic.name)
    waiting = pending.request if pending is not None and isinstance(pending.request, OutTime) else None
    before = talk.last if isinstance(talk.last, OutTime) and talk.topic == SafeTopic.name else None
    cues = sentence.cues
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
        *heard.PLANNING,
    }:
        return None
    not_cold = "fridge" in cues and (
        _left_out(sentence) or ("not" in cues and "keep" not in cues and bool(heard.durations(sentence)))
    )
    timed = bool(heard.durations(sentence)) or "long_spell" in cues
    just_out = timed and any(word.text.lower() == "out a" for word in sentence.words("cue"))
    worked = re.search(r"\b(grinding|mincing|forming|cutting)\b.*\btook\b", sentence.text.lower()) is not None
    just_out = (just_out or (timed and worked)) or (
        _weather_words(sentence) is not None and (timed or _asks_how_long(sentence))
    )
    about_out = cues & {"out_in", "counter", "hot_day", "go_back"} or not_cold or just_out
    numbers = bool(heard.durations(sentence) or heard.clocks(sentence))
    if "frozen" in sentence.text.lower() and "freezer" in cues and not numbers and "long_spell" not in cues:
        return None
    if (
        not about_out
        and not (waiting is not None and (numbers or "long_spell" in cues))
        and not _goes_on(sentence, before)
    ):
        return None
    if cues & {"jam", "feed", "fingers"} and not numbers:
        return None
    if not numbers and not timed and not waiting and _only_out(sentence):
        return None
    if cues & {"smell", "firm", "freeze_patties", "marinade", "slow_cooker"} and not numbers:
        return None
    request, used = _out_request(sentence, waiting or (before if _goes_on(sentence, before) else None))
    return Reading(request, used, 2 if about_out else 1)


def _only_out(sentence: Sentence) -> bool:
    """A bare "out" that asks nothing of meat or time: "which came out lower?", "eating outside"."""
    told = (
        sentence.has("how_long", "when", "counter", "hot_day", "go_back", "is_it_ok") or _weather(sentence) is not None
    )
    named = sentence.has("mix", "fridge", "this") or bool(sentence.of(CutName)) or bool(sentence.of(Patties))
    return not told and not (named and heard.asks_leave(sentence))


def _left_out(sentence: Sentence) -> bool:
    """ "Forgot to put it in the fridge", "never made it to the fridge"."""
    return re.search(
        r"\b(forgot|forgotten|never|didnt|didn't|did not|wasnt|wasn't)\b", sentence.text.lower()
    ) is not None and (not sentence.has("how_long", "keep"))


def _goes_on(sentence: Sentence, before: OutTime | None) -> bool:
    """ "What if it is 95 out?", "and after 3 hours?", "when must it go back?" after an answer about time out."""
    if before is None or len(list(sentence.substance())) > 6:
        return False
    return sentence.has("go_back", "hot_day") or (
        sentence.has("what_about", "what", "join") and bool(heard.durations(sentence) or _weather(sentence))
    )


def _out_request(sentence: Sentence, earlier: OutTime | None) -> tuple[OutTime, frozenset[Phrase]]:
    before = earlier or OutTime()
    text = sentence.text.lower()
    spells, days, weather = heard.durations(sentence), heard.days(sentence), _weather(sentence)
    in_fridge = (
        [spell for spell in spells if spell[1] >= TOO_LONG] if sentence.has("fridge") and len(spells) > 1 else []
    )
    hours = _hours_out(sentence, [spell for spell in spells if spell not in in_fridge])
    if any(most > FRIDGE_HOURS for _, _, most in in_fridge):
        # days in the fridge and hours out were both said, and the days alone are too many
        hours = TOO_LONG
    clocks = _clocks_out(sentence)
    named = heard.meat(sentence)
    request = OutTime(
        hours=hours if hours is not None else before.hours,
        since=clocks[0].clock if clocks else before.since,
        until=clocks[1].clock if len(clocks) > 1 else before.until,
        loose=any(clock.loose for clock in clocks) if clocks else before.loose,
        yesterday=any(_is_past(day, text) for day in days),
        ambient=weather[0] if weather else before.ambient,
        hot=sentence.has("hot_day") or "in the sun" in text or "hot car" in text or before.hot,
        cooked=sentence.has("cooked", "leftover", "done") or before.cooked,
        meat=named if named.species else before.meat,
        asks=_asks(sentence, clocks, hours),
    )
    numbers = [*(phrase for phrase, _, _ in spells), *heard.clocks(sentence)[:2], *days, weather and weather[1]]
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
    told = UNTIL_WHEN.search(text) is not None or not heard.asks_leave(sentence)
    if sentence.has("go_back") or (len(clocks) == 1 and told and "since" not in text):
        return "back"
    return "limit" if _asks_how_long(sentence) else "ok"


def _is_past(moment: Moment, text: str) -> bool:
    day = moment.day
    return day is not None and ((day.relative or 0) < 0 or day.last or (day.weekday is not None and "since" in text))


def _asks_how_long(sentence: Sentence) -> bool:
    return sentence.has("how_long", "what", "when")


def _weather(sentence: Sentence) -> tuple[tuple[Fraction, str], Phrase] | None:
    for heat in heard.heats(sentence, low=LEAST_HOT, high=130):
        if heat.unit or isinstance(heat.phrase, Amount) or _beside_out(sentence, heat.phrase):
            return (heat.value, heat.unit or ("degF" if heat.value >= WARM_F else "degC")), heat.phrase
    return None


def _weather_words(sentence: Sentence) -> re.Match[str] | None:
    """ "It's like 92 in the garage": a number that is the air's."""
    place = r"(in (here|there|the (kitchen|garage|shed|garden|shade|sun|car|tent|yard|house|marquee)|my \w+)|out(side)?|today)"
    return re.search(rf"\b\d+(\.\d+)?\s*(°|degrees|deg)?\s*[fc]?\s+{place}\b", sentence.text.lower())


def _beside_out(sentence: Sentence, phrase: Phrase) -> bool:
    said = _weather_words(sentence)
    if said is not None and phrase.first <= said.start() < phrase.last:
        return True
    near = (sentence.after(phrase), sentence.before(phrase))
    return any(isinstance(word, Word) and word.payload in ("out_in", "hot_day", "this", "what_about") for word in near)


def _vague(sentence: Sentence, talk: Talk) -> Reading | None:
    """A bare "is it still ok?", also of "the mince", with no time and no place."""
    if not sentence.has("is_it_ok", "safe") and not (sentence.has("yes") and sentence.text.strip().endswith("?")):
        return None
    if not (sentence.has("is_it_ok") or heard.asks_leave(sentence)) or sentence.has(*heard.PLANNING, "freezer", "temp"):
        return None
    said = [phrase for phrase in sentence.substance() if not isinstance(phrase, Word | CutName | Patties)]
    outright = sentence.has("is_it_ok") or re.search(r"\b(off|bad|safe|spoil\w*|rotten)\b", sentence.text.lower())
    if said or (sentence.unknown and not outright) or not sentence.cues <= PLAIN:
        return None
    return Reading(Vague(), heard.plain_words(sentence), 2 if outright else 1)


# ---- answering


def _answer_ruled(request: Ruled, kitchen: Kitchen) -> Outcome:
    kitchen = verdict.kitchen_in(kitchen, request.country)
    ruling = next(ruling for ruling in RULINGS if ruling.key == request.key)
    needed = verdict.needed_for(request.meat, kitchen.country)
    scale = verdict.scale_of(kitchen, request.scale)
    words = {
        "mark": verdict.mark(needed, scale),
        "whose": meat_words(request.meat),
        "fridge": verdict.degrees(verdict.temperature("fridge_max"), scale),
        "hold": verdict.degrees(verdict.temperature("hot_hold"), scale),
        "low": verdict.degrees(verdict.temperature("danger_low"), scale),
        "high": verdict.degrees(verdict.temperature("danger_high"), scale),
    }
    says = ruling.says.format(**words)
    touches = {*ruling.touches, *(("at_risk",) if request.risk else ())}
    if is_poultry(request.meat.species):
        # its text names the red-meat figure only
        touches -= {"raw_service"}
    figures = [*(verdict.cooking_figures(needed, scale) if ruling.heat else ()), *_book_figures(ruling, scale)]
    notes = [ruling.because.format(**words)]
    if request.pressed and ruling.key != "the rules":
        notes.append("The rule is the same whoever asks.")
    if ruling.heat and not request.meat.species and not request.meat.hunted:
        notes.append("With any poultry or hunted game in it: 165 °F (74 °C) at least.")
    return verdict.told(
        "safe",
        f"Is it ok: {ruling.key}, {meat_words(request.meat)}" if ruling.heat else f"Is it ok: {ruling.key}",
        says[0].upper() + says[1:],
        figures=figures,
        cautions=verdict.with_meat(request.meat, kitchen, touches, {"at_risk"} if request.risk else ()),
        notes=[*notes[:2], f"Source: {ruling.source}. {verdict.LOCAL}"],
        steps=ruling.steps,
        working=(f"{ruling.key}: {ruling.source}.",),
        # a canning time is refused, not answered
        status=Status.IMPOSSIBLE if ruling.key == "canning" else Status.ANSWERED,
    )


def _book_figures(ruling: Ruling, scale: str) -> list[Figure]:
    book = safety_book()
    figures: list[Figure] = []
    for key in ruling.book:
        if key in book.temperatures:
            row = book.temperatures[key]
            figures += verdict.temperature_figures(key.replace("_", " "), row.at, row.source, scale)
        else:
            figures.append(verdict.from_book(key.replace("_", " "), book.figures[key]))
    return figures


def _answer_bleach(request: Sanitiser, kitchen: Kitchen) -> Outcome:
    row = verdict.figure("bleach_per_us_gallon")
    gallon = units.millilitres(1, "gallon") / 1000
    litres = request.litres if request.litres is not None else gallon
    spoons = row.value * litres / gallon
    millilitres = units.millilitres(spoons, "tablespoon")
    unit = UNIT_WORDS.get(request.unit, request.unit)
    water = f"{wording.number(request.amount)} {wording.plural_of(unit) if request.amount != 1 else unit}"
    small = spoons < 1
    much = f"{wording.fraction(spoons * 3 if small else spoons)} {'tsp' if small else 'tbsp'} ({wording.number(millilitres, 0)} mL)"
    return verdict.told(
        "safe",
        f"How much bleach for {water} of water",
        f"{much} of plain unscented bleach in {water} of water. Flood it, wait a few minutes, rinse, air dry.",
        figures=[Figure("plain bleach", Role.ADD, float(spoons), "tablespoon", source=row.source, shown=much)],
        cautions=verdict.with_meat(Meat(), kitchen, {"clean_grinder"}),
        notes=[
            "Wash it clean with hot soapy water first: sanitiser does not work through grease.",
            "Never mix bleach with an acid (vinegar, lemon) or with ammonia.",
            f"Source: {row.source}: 1 tablespoon in a US gallon. {verdict.LOCAL}",
        ],
        working=(f"1 tablespoon x {wording.number(litres, 2)} L / {wording.number(gallon, 3)} L.",),
    )


def _answer_out(request: OutTime, kitchen: Kitchen) -> Outcome:
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


TOPIC = SafeTopic()
