"""From a line to a meal to work back from, or to a change of the one on the table.

The words of time and kitchen are taken out of the line; what is left is read as a batch, as if it had been said alone.
"""

from __future__ import annotations

import re
from datetime import time
from fractions import Fraction

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Count, Patties, People, PerEach, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, within
from assistant.topics.base import Pending, Reading, Talk, Unclear
from assistant.topics.plan import Amended
from assistant.topics.plan.request import Group, PattyWish, Plan
from assistant.topics.timetable import fire
from assistant.topics.timetable.request import Meal

NAME = "timetable"
OTHERS = (
    *("out_in", "go_back", "danger_zone", "keep", "use_by", "label_date", "ago", "hold_hot", "leftover", "refreeze"),
    *("power_cut", "timer", "time_left", "temp", "safe", "is_it_ok", "smell", "counter", "stop_timer", "firm"),
    *("cost", "budget", "freeze_patties", "recall", "search", "saved_list", "save_it", "label_it", "card"),
)
"""Cues of other kinds of request, which may name a clock time or a day too."""
EARLIEST_LUNCH = 11
EARLIEST_COOK = 8
"""No grill is lit before eight in the morning unless it is said: a choice, no source."""
MOST_WORDS_OF_A_DAY = 4
"""A line of more words that names a day speaks of something on that day, unless it says what."""
HOTTEST_DAY_F = 125
"""A temperature above it is the meat's or the grill's, not the day's."""
_BARE_HOUR = Pattern(r"\b(at|by|till|until|around|about|from|it|is|say|to)\s+(about\s+|around\s+)?$", re.IGNORECASE)
_SERVED = Pattern(
    r"\b(?:serv(?:e|es|ed|ing)|eat|eating|on the table|food (?:is )?(?:out|up)|sit(?:ting)? down|doors|table|lunch|dinner"
    r"|supper|tea|breakfast|brunch|barbecue|barbeque|bbq|cook-?out|cooked by|ready (?:by|for|at)|done by|finished by)\b",
    re.IGNORECASE,
)
_FED = Pattern(
    r"\b(?:burgers?|patties|lunch|dinner|supper|tea|breakfast|brunch|barbecue|bbq|cook-?out|meal|party)\s+for\s+"
    r"(?:about\s+|around\s+)?$",
    re.IGNORECASE,
)
_FOR = Pattern(r"\bfor\s+(?:about\s+|around\s+)?$", re.IGNORECASE)
"""At the end of a line with a clock time in it: "burgers on the table at 12.30 for 15"."""
_EVENING = Pattern(r"\b(?:evening|tonight|this night|at night|afternoon|supper|dinner|p\.?m\.?)\b", re.IGNORECASE)
_MORNING = Pattern(r"\b(?:morning|breakfast|brunch|a\.?m\.?)\b", re.IGNORECASE)
_LUNCH = Pattern(r"\blunch(?:time)?\b", re.IGNORECASE)
_HANDS = Pattern(
    r"\b(?:there(?:'s|s| is| are|'re)?\s+|with\s+)?(?P<of>[a-z]+|[0-9]{1,2})\s+of\s+us\b(?!\s+(?:eat|each|want|for))"
    r"|\b(?P<more>[a-z]+|[0-9]{1,2})\s+(?:helpers?|pairs?\s+of\s+hands|extra\s+hands)\b"
    r"|\b(?P<alone>on\s+my\s+own|just\s+me|by\s+myself|alone)\b",
    re.IGNORECASE,
)
_AHEAD = Pattern(
    r"\b(?:the\s+)?(?:day|night|evening)\s+before\b|\bin\s+advance\b|\bahead(?:\s+of\s+time)?\b|\bovernight\b",
    re.IGNORECASE,
)
_SAME_DAY = Pattern(r"\b(?:all\s+)?(?:on\s+the|the\s+same|on\s+the\s+same)\s+day\b|\bnothing\s+ahead\b", re.IGNORECASE)
_CUBES = Pattern(r"\b(?:cub(?:e|es|ed|ing)|dice[ds]?|cut(?:ting)?\s+(?:it\s+|the\s+meat\s+)?up)\b", re.IGNORECASE)
_MADE = Pattern(
    r"\b(?:(?:patties|burgers|they)(?:'re|\s+are)?\s+(?:all\s+|already\s+)*(?:made|formed|shaped|done|ready)(?!\s+(?:by|for|at|before)\b)"
    r"|(?:already|ready)[\s-](?:made|formed|shaped)|made\s+(?:the\s+)?(?:patties|burgers)\s+already)\b",
    re.IGNORECASE,
)
_GROUND = Pattern(
    r"\b(?:already|ready|pre)[\s-]?(?:ground|minced)\b|\b(?:it|meat|mince)(?:'s|s|\s+is)\s+(?:already\s+)?(?:ground|minced)\b",
    re.IGNORECASE,
)
_BOUGHT = Pattern(
    r"\b(?:i|we)(?:'ve|\s+have|ve)?\s+(?:already\s+)?(?:got|have|bought)\s+(?:all\s+)?(?:the|my|our)?\s*(?:meat|cuts|it|beef)\b"
    r"|\b(?:meat|cuts|it|beef)(?:'s|s|\s+is|\s+are)\s+(?:already\s+)?(?:bought|here|in\s+the\s+fridge)\b"
    r"|\b(?:have|got)\s+the\s+(?:meat|cuts)\b|\bno\s+(?:need\s+to\s+buy|shopping)\b|\balready\s+bought\b",
    re.IGNORECASE,
)
_NOT_FROZEN = Pattern(
    r"\b(?:not|isn'?t|aren'?t|never)\s+frozen\b|\bfresh(?:\s+not\s+frozen)?\b|\balready\s+thawed\b|\bthawed\s+already\b",
    re.IGNORECASE,
)
_FROZEN = Pattern(r"\bfrozen\b|\b(?:in|out\s+of|from)\s+(?:the\s+)?freezer\b", re.IGNORECASE)
_A_ROUND = Pattern(
    r"^\W*(?:(?:for|per|a|each|every|in\s+each|is)\s+)*(?:a\s+|each\s+|per\s+)?(?:rounds?|batch(?:es)?|loads?|go|goes|lots?|time|side)\b",
    re.IGNORECASE,
)
_ROUND_IS = Pattern(
    r"\b(?:rounds?|batch|load|go)\s+(?:is|takes?|lasts?|of|needs?)\s+(?:about\s+|around\s+)?$", re.IGNORECASE
)
_A_SIDE = Pattern(r"\b(?:a|per|each|every)\s+side\b", re.IGNORECASE)
_FIRST_ON = Pattern(r"\b(?:first|them|they)\s+(?:batch\s+|round\s+|one\s+)?(?:go\s+)?on\b|\blight\b", re.IGNORECASE)
_IN_PACKS = Pattern(r"^\W*(?:packs?|packets?|bags?|blocks?|slabs?|lumps?|tubs?|trays?|parcels?)\b", re.IGNORECASE)
_POINTED = Pattern(r"(1[0-2]|[1-9])[.:]([0-5][0-9])")
_SHIFT = Pattern(r"^\W*(?P<way>earlier|sooner|before|later|after)\b", re.IGNORECASE)
_STEPS = (
    ("buy", r"buy|shop"),
    ("thaw", r"thaw|defrost"),
    ("cube", r"cub(?:e|ing)|dic(?:e|ing)|cut"),
    ("firm", r"firm|freeze"),
    ("grind", r"grind|minc"),
    ("season", r"season"),
    ("form", r"form|shap|patt|make (?:the |them|up)"),
    ("salt", r"salt"),
    ("cook", r"cook|grill|light"),
)
_WHEN_STEP = Pattern(
    r"\b(?:when|what time)\s+(?:do|does|should|must|have|need|to|am|are|is|shall)\b(?P<rest>.*)", re.IGNORECASE
)
_NEXT_DAY = Pattern(r"\bnext\s+(?:mon|tue|wed|thu|fri|sat|sun)", re.IGNORECASE)
_NUMBER_WORDS = {
    word: number
    for number, word in enumerate(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"), 1)
} | {"a": 1, "an": 1, "both": 2}


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """A meal, a change to the one on the table, or the answer to what was asked about it."""
    pending = talk.pending if talk.pending is not None and talk.pending.topic == NAME else None
    if pending is not None:
        reply = _reply(sentence, talk, pending)
        if reply is not None:
            return reply
    if talk.meal is not None and talk.topic in (NAME, "card"):
        return _changed(sentence, talk) or _asked(sentence, talk)
    return _asked(sentence, talk)


# ---- what was said


class _Said:
    """The words of a meal in one line, and the phrases they were said with."""

    def __init__(self, sentence: Sentence, before: Meal, asked: str = "") -> None:
        self.sentence = sentence
        self.text = sentence.text
        self.taken: set[Phrase] = set()
        self.meal = before
        self.asked = asked
        self._lit()
        self._when()
        self._shift()
        self._fire()
        self._round()
        self._hands()
        self._kitchen()
        self._heat()

    def _take(self, *phrases: Phrase | None) -> None:
        self.taken |= heard.all_of(phrases)

    def _take_span(self, found: re.Match[str] | None) -> bool:
        if found is None:
            return False
        self.taken |= within.overlapping(self.sentence, *found.span())
        return True

    def _lit(self) -> None:
        """ "If I start at 5.15": when the first round goes on, and no hour of serving."""
        said = fire.lit(self.sentence) if self.sentence.of(Patties) or self.meal.round_minutes is not None else None
        if said is None:
            return
        clock, half, phrases = said
        if not half and clock.hour < EARLIEST_COOK:
            clock = clock.replace(hour=clock.hour + 12)
        self.meal = replace(self.meal, lit=clock)
        self.taken |= phrases

    def _fire(self) -> None:
        """ "2 minutes between rounds", "40 burgers every quarter of an hour"."""
        pause = fire.gap(self.sentence)
        if pause is not None:
            self.meal = replace(self.meal, gap_minutes=pause[0])
            self.taken |= pause[1]
        rate = fire.rate(self.sentence)
        if rate is not None:
            self.meal = replace(self.meal, round_minutes=rate.minutes, at_once=rate.at_once)
            self.taken |= rate.phrases

    def _when(self) -> None:
        days, clocks = heard.days(self.sentence), heard.clocks(self.sentence)
        clocks = [moment for moment in clocks if moment not in self.taken]
        if days:
            said_next = _NEXT_DAY.search(self.text) is not None
            near = self.meal.on or self.meal.near
            self.meal = replace(self.meal, day=days[-1].day, on=None, near=near, next_said=said_next)
            self._take(days[-1])
        if clocks:
            moment = clocks[-1]
            self._set_clock(moment.clock, loose=moment.loose)
            twelve = self.sentence.before(moment)
            noon = isinstance(twelve, Count) and twelve.value == 12 and moment.text.isalpha()
            self._take(moment, twelve if noon else None)
        else:
            hour = self._bare_hour()
            if hour is not None:
                pointed = _POINTED.fullmatch(hour.text)
                clock = time(int(pointed[1]), int(pointed[2])) if pointed else time(int(hour.value))
                self._set_clock(clock, loose=True)
                self._take(hour)
        if self.meal.clock is not None and not self.meal.half:
            self.meal = replace(self.meal, half=_half(self.meal.clock, self.text))

    def _shift(self) -> None:
        """ "An hour earlier", "half an hour later": from the hour that was said before."""
        for amount, _, hours in heard.durations(self.sentence):
            way = _SHIFT.match(self.text[amount.last :])
            if way is None or self.meal.clock is None or not self.meal.half:
                continue
            minutes = round(hours * 60) * (-1 if way["way"].lower() in ("earlier", "sooner", "before") else 1)
            hour = self.meal.clock.hour % 12 + (12 if self.meal.half == "pm" else 0)
            moved = hour * 60 + self.meal.clock.minute + minutes
            if 0 < moved < 24 * 60:
                clock = time(moved // 60, moved % 60)
                self.meal = replace(self.meal, clock=clock, half="pm" if clock.hour >= 12 else "am")
                self._take(amount)
                self.taken |= within.overlapping(self.sentence, amount.last, amount.last + way.end())

    def _set_clock(self, clock: time | None, *, loose: bool) -> None:
        assert clock is not None
        half = _half(clock, self.text) if loose else "pm" if clock.hour >= 12 else "am"
        self.meal = replace(self.meal, clock=clock, half=half)

    def _bare_hour(self) -> Count | None:
        """ "at 6", "by 1": an hour with nothing beside it that says so but where it stands."""
        for count in self.sentence.of(Count):
            whole = count.value.denominator == 1 and 1 <= count.value <= 12
            hour = (whole or _POINTED.fullmatch(count.text) is not None) and count.high is None
            if not hour or count.piece or count.proportion or count in self.taken:
                continue
            before = self.text[: count.first].lower()
            led = _BARE_HOUR.search(before)
            o_clock = self._o_clock(count)
            led_by_at = led is not None and led[1] in ("at", "by", "till", "until")
            if led_by_at or o_clock or (self.asked in ("clock", "half") and len(list(self.sentence.substance())) <= 3):
                return count
        return None

    def _o_clock(self, count: Count) -> bool:
        after = self.sentence.after(count)
        if isinstance(after, Word) and after.text.lower().replace("'", "") == "oclock":
            self._take(after)
            return True
        return False

    def _round(self) -> None:
        """ "8 minutes a round", "a round is 10 minutes", "4 min a side"."""
        for amount in self.sentence.of(Amount):
            if amount.kind != "duration" or amount.measure.unit not in ("minute", "second", "hour"):
                continue
            if amount in self.taken:
                continue
            after, before = self.text[amount.last :], self.text[: amount.first]
            if _A_ROUND.match(after) is None and _ROUND_IS.search(before) is None:
                continue
            minutes = (amount.measure.high or amount.measure.value) * heard.HOURS[amount.measure.unit] * 60
            sides = 2 if _A_SIDE.search(after[:12]) else 1
            self.meal = replace(self.meal, round_minutes=minutes * sides)
            self._take(amount)
            led = _A_ROUND.match(after)
            if led is not None:
                self.taken |= within.overlapping(self.sentence, amount.last, amount.last + led.end())
        for each in self.sentence.of(PerEach):
            if each.kind == "duration":
                minutes = (each.measure.high or each.measure.value) * heard.HOURS[each.measure.unit] * 60
                self.meal = replace(self.meal, round_minutes=minutes)
                self._take(each)

    def _hands(self) -> None:
        found = _HANDS.search(self.text)
        if found is None:
            return
        said = (found["of"] or found["more"] or "").lower()
        count = 0 if found["alone"] else int(said) if said.isdecimal() else _NUMBER_WORDS.get(said)
        if count is None:
            return
        self.meal = replace(self.meal, hands=1 if found["alone"] else count + 1 if found["more"] else count)
        self._take_span(found)

    def _kitchen(self) -> None:
        meal, text = self.meal, self.text
        if self._take_span(_NOT_FROZEN.search(text)):
            meal = replace(meal, frozen=False)
        elif self._take_span(_FROZEN.search(text)):
            meal = replace(meal, frozen=True, have="cuts" if meal.have in ("", "nothing") else meal.have)
        if self._take_span(_BOUGHT.search(text)):
            meal = replace(meal, have="cuts")
        if self._take_span(_GROUND.search(text)):
            meal = replace(meal, have="ground")
        if self._take_span(_MADE.search(text)):
            meal = replace(meal, have="patties")
        if self._take_span(_SAME_DAY.search(text)):
            meal = replace(meal, ahead="nothing")
        elif self._take_span(_AHEAD.search(text)):
            cubes = self._take_span(_CUBES.search(text)) and not self.sentence.of(Patties)
            meal = replace(meal, ahead="cubes" if cubes else "patties")
            self._take(*(patties for patties in self.sentence.of(Patties) if not patties.count and not patties.each))
        self.meal = meal
        if meal.frozen:
            self._packs()

    def _packs(self) -> None:
        """ "In 2 lb packs", or a bare "2 lb" where that was asked."""
        for amount in heard.amounts(self.sentence):
            packs = _IN_PACKS.match(self.text[amount.last :])
            if amount.kind != "weight" or (packs is None and self.asked != "pack"):
                continue
            self.meal = replace(
                self.meal, pack_g=units.grams(amount.measure.high or amount.measure.value, amount.measure.unit)
            )
            self._take(amount)
            if packs is not None:
                self.taken |= within.overlapping(self.sentence, amount.last, amount.last + packs.end())

    def _heat(self) -> None:
        """How hot the day is: it shortens the time out of the fridge."""
        degrees = [amount for amount in self.sentence.of(Amount) if amount.kind == "degrees"]
        if degrees:
            measure = degrees[-1].measure
            unit = {"deg": "degF" if measure.value > 45 else "degC"}.get(measure.unit, measure.unit)
            ambient = units.to(measure.value, unit, "degF")
            if ambient <= HOTTEST_DAY_F:
                self.meal = replace(self.meal, ambient_f=ambient)
                self._take(degrees[-1])
        elif self.sentence.has("hot_day"):
            self.meal = replace(self.meal, ambient_f=Fraction(95))
            self._take(self.sentence.cue("hot_day"))


def _half(clock: time, text: str) -> str:
    """ "am" or "pm" by the words of the line and the hour; "" where a meal could be at either."""
    hour = clock.hour
    if hour > 12 or hour == 0:
        return "pm" if hour > 12 else "am"
    if _LUNCH.search(text):
        return "am" if EARLIEST_LUNCH <= hour < 12 else "pm"
    if _EVENING.search(text) and hour != 12:
        return "pm"
    if _MORNING.search(text) and hour != 12:
        return "am"
    # nobody sits down to burgers between one and eight in the morning: said in the answer
    return "pm" if hour == 12 or hour < 8 else ""


# ---- a meal asked about


def _asked(sentence: Sentence, talk: Talk) -> Reading | None:
    outright, starts = sentence.has("timetable"), sentence.has("start_when")
    said = _Said(sentence, Meal() if talk.meal is None or not outright else talk.meal)
    timed = said.meal.clock is not None
    served = _SERVED.search(sentence.text) is not None or sentence.has("feeding", "serve")
    if not outright and _anothers(sentence, said.meal):
        return None
    rounds = said.meal.round_minutes is not None
    if not (outright or timed or rounds or (starts and served)):
        return None
    plan = _batch(sentence, said, talk)
    eaters = bool(sentence.of(People) or sentence.of(Patties)) or _feeds(plan)
    known = plan is not None or talk.plan is not None
    if rounds and (said.meal.lit is not None or not (timed or outright or starts)):
        return _rounds(sentence, said, plan)
    if not (outright or starts or eaters or (served and known) or (timed and sentence.has("serve"))):
        return None
    if plan is not None and isinstance(plan.request, Unclear):
        return replace(plan, strength=2)
    meal = replace(said.meal, plan=None if plan is None else plan.request)
    if starts and not outright and (meal.round_minutes is not None or _FIRST_ON.search(sentence.text)):
        # "96 by 1 pm, 16 at a time, 9 min each round. Start when?": the fire is what is asked about
        meal = replace(meal, grill_only=True)
    used = frozenset(said.taken) | _own_words(sentence) | (plan.used if plan is not None else frozenset())
    sure = served and timed and eaters
    return Reading(meal, used, 3 if sure else 2 if outright or starts or served else 1)


def _rounds(sentence: Sentence, said: _Said, plan: Reading | None) -> Reading | None:
    """ "100 burgers, grill takes 20 at a time, 8 minutes a round": how long the fire is needed, at no hour yet."""
    batch = None if plan is None else plan.request.plan if isinstance(plan.request, Amended) else plan.request
    if plan is None or not isinstance(batch, Plan) or batch.at_once is None:
        return None
    meal = replace(said.meal, plan=plan.request, grill_only=True)
    words = within.cues(sentence, ("how_long", "works_out", "total", "when", "bowl", "into"))
    return Reading(meal, frozenset(said.taken) | _own_words(sentence) | words | plan.used, 2)


def _anothers(sentence: Sentence, meal: Meal) -> bool:
    """Whether a line with a clock time in it is another kind of question."""
    if sentence.has("thaw", "part_cook") and (meal.clock is None or not sentence.has("start_when")):
        return True
    # "when do I take the meat out if we eat at 6, frozen in 1 lb packs": out of the freezer
    passed = ("out_in",) if meal.frozen and meal.pack_g and meal.clock else ()
    return sentence.has(*(cue for cue in OTHERS if cue not in passed))


def _batch(sentence: Sentence, said: _Said, talk: Talk) -> Reading | None:
    """What the line says of the batch, apart from the words of the meal."""
    batch = _of_line(sentence, said, talk)
    if said.meal.at_once is None or batch is None or not isinstance(batch.request, Plan):
        return batch
    plan = replace(batch.request, at_once=said.meal.at_once)
    return replace(batch, request=plan)


def _of_line(sentence: Sentence, said: _Said, talk: Talk) -> Reading | None:
    served = _served_count(sentence, said)
    rest = within.without(sentence, said.taken | heard.all_of([served]))
    plan = within.plan_of(rest, talk) if _has_amounts(rest) else None
    if served is None or (plan is not None and not isinstance(plan.request, Plan)):
        return plan
    batch = Plan() if plan is None else plan.request
    if said.meal.round_minutes is None:
        batch = replace(batch, groups=(Group(count=served.value),))
    else:
        batch = replace(batch, patties=PattyWish(count=served.value))
    return Reading(batch, frozenset({served}) | (plan.used if plan is not None else frozenset()))


def _served_count(sentence: Sentence, said: _Said) -> Count | None:
    """ "Serve 60 at 1", "burgers for 12 at 7": people; "serve 96, 9 min a round": what goes on the grill."""
    for count in sentence.of(Count):
        before = sentence.before(count)
        served = isinstance(before, Word) and before.payload == "serve"
        last = count is [*sentence.substance()][-1] and (said.meal.clock is not None or said.meal.at_once is not None)
        fed = (_FED if not last else _FOR).search(sentence.text[: count.first]) is not None
        if (served or fed) and count not in said.taken and not count.proportion and count.value.denominator == 1:
            return count
    return None


def _feeds(plan: Reading | None) -> bool:
    batch = None if plan is None else plan.request.plan if isinstance(plan.request, Amended) else plan.request
    return isinstance(batch, Plan) and bool(batch.groups)


def _has_amounts(sentence: Sentence) -> bool:
    return any(not isinstance(phrase, Word) for phrase in sentence.substance())


def _own_words(sentence: Sentence) -> frozenset[Phrase]:
    own = ("timetable", "start_when", "serve", "feeding", "eats", "for_that", "this", "done", "must_be", "buy", "when")
    return within.cues(sentence, own)


# ---- a change, and the reply to a question


def _changed(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "Serve at 2 instead", "two of us", "from frozen", "grill takes 20 at a time", "make it 80 people"."""
    before: Meal = replace(talk.meal, plan=None)
    if sentence.has(*(cue for cue in OTHERS if cue not in ("out_in", "counter"))):
        return None
    more = fire.at_once_now(sentence, talk.plan) if talk.meal.grill_only else None
    if more is not None:
        plan = replace(talk.plan, at_once=more[0])
        return Reading(replace(before, plan=Amended(plan), at_once=None, grill_only=True), more[1], 4)
    said = _Said(sentence, before)
    step = _step_asked(sentence) if said.meal == before else ""
    if step:
        words = frozenset(phrase for phrase in sentence.phrases if isinstance(phrase, Word | SeasoningName | Patties))
        return Reading(replace(before, asks=step), words, 4)
    if sentence.has("why", "undo", "new_batch", "help", "how_long") or _day_in_passing(sentence, said):
        return None
    rest = within.without(sentence, said.taken)
    plan = _batch(sentence, said, talk)
    changes_batch = plan is not None and _matters(plan, talk)
    if said.meal == before and not changes_batch and not sentence.has("timetable"):
        return None
    if plan is not None and isinstance(plan.request, Unclear):
        return None
    meal = replace(said.meal, plan=None if plan is None else plan.request, grill_only=said.meal.clock is None)
    used = frozenset(said.taken) | _own_words(sentence) | _mere_words(rest)
    return Reading(meal, used | (plan.used if plan is not None else frozenset()), 4)


def _day_in_passing(sentence: Sentence, said: _Said) -> bool:
    """ "We only have the kitchen on Friday": a day, and nothing that says that it is the new one of the meal."""
    if not heard.days(sentence):
        return False
    moved = sentence.has("serve", "feeding", "instead", "make_it", "what_about", "correction")
    return not moved and _SERVED.search(sentence.text) is None and len(sentence.text.split()) > MOST_WORDS_OF_A_DAY


def _step_asked(sentence: Sentence) -> str:
    """ "When do I salt them": the step of the timetable that is asked about, "" for none."""
    asked = _WHEN_STEP.search(sentence.text)
    if asked is None:
        return ""
    return next((step for step, words in _STEPS if re.search(rf"\b(?:{words})", asked["rest"], re.IGNORECASE)), "")


def _mere_words(sentence: Sentence) -> frozenset[Phrase]:
    """Words of changing that carry nothing further beside a change that was read."""
    cues = (
        "instead",
        "correction",
        "make_it",
        "what_about",
        "want",
        "have",
        "when",
        "into",
        "fridge",
        "freezer",
        "only",
    )
    return within.cues(sentence, cues) | frozenset(sentence.words("bound"))


def _matters(plan: Reading, talk: Talk) -> bool:
    """Whether a line about the batch changes how much is made or how many go on at a time, and asks nothing else."""
    new = plan.request.plan if isinstance(plan.request, Amended) else plan.request
    old: Plan | None = talk.plan
    if not isinstance(new, Plan) or old is None or new.asks - old.asks or new.seasonings != old.seasonings:
        return False
    told = ("batch", "patties", "groups", "spare", "spare_count", "at_once", "target", "items", "absent", "servings")
    priced = any(item.price is not None for item in new.items)
    return not priced and any(getattr(new, name) != getattr(old, name) for name in told)


def _reply(sentence: Sentence, talk: Talk, pending: Pending) -> Reading | None:
    before: Meal = pending.request
    said = _Said(sentence, before, pending.missing)
    if pending.missing == "half" and before.clock is not None and not said.meal.half:
        words = sentence.text.lower()
        half = "pm" if _EVENING.search(words) else "am" if _MORNING.search(words) else ""
        said.meal = replace(said.meal, half=half)
    rest = within.without(sentence, said.taken)
    plan = _batch(sentence, said, talk)
    people = [count for count in sentence.of(Count) if pending.missing == "amounts" and count not in said.taken]
    if plan is None and len(people) == 1 and len(list(rest.substance())) == 1:
        plan = Reading(Plan(groups=(Group(count=people[0].value),)), frozenset(people))
    if said.meal == before and plan is None:
        return None
    if plan is not None and not isinstance(plan.request, Unclear):
        said.meal = replace(said.meal, plan=plan.request)
    used = frozenset(said.taken) | _own_words(sentence) | _mere_words(rest)
    return Reading(said.meal, used | (plan.used if plan is not None else frozenset()), 3)
