"""How long it keeps: fridge and freezer, use-by dates, how cold, power cuts, freezing again, leftovers."""

from __future__ import annotations

import re
from datetime import date, timedelta
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.data.safety import Degrees, Storage, safety_book
from assistant.engine.safety import AfterCut, Keeps, Refreeze, Where, keeps, power_cut, refreeze, use_by
from assistant.errors import BadInput
from assistant.language.phrases import Amount, CutName, Patties, Word
from assistant.language.sentence import Sentence
from assistant.language.when import Day
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.cautions import is_poultry

GROUND, COOKED, COOKED_CHICKEN = "ground meat", "cooked patties", "cooked chicken patties"
COLDER_THAN_ANY_FRIDGE_F = 20
"""A fridge "at 4" is 4 °C: below this no fridge runs in Fahrenheit, and above it none runs in Celsius."""
LATER = re.compile(r"\b(will|going to|gonna|plan|planning|grinding|mincing|if i|when i|tomorrow)\b")
"""How people speak of meat that is not ground yet."""
GENERAL = frozenset(
    {"beef", "pork", "lamb", "veal", "venison", "chicken", "turkey", "meat", "duck", "deer", "bison", "elk"}
)
"""Names of an animal: ground or whole was not said, so the shorter days of ground meat are told."""
POWER = re.compile(
    r"\b(power|electric|electricity|mains|current)\b('s| has| is| was| were|s)?\s*(been |gone |went )?"
    r"(off|out|down|cut|failed|back)\b|\b(fridge|freezer)\b.{0,20}\b(died|broke|packed (up|in)|conked out|switched off|failed)\b"
)
"""How people say that the power went: with a word between, which no list of phrases holds."""
METHODS = (("cold_water", "cold water"), ("hot_water", "hot water"), ("microwave", "microwave"), ("counter", "counter"))
SHORTEST_AGE = Fraction(1)
"""Hours: nobody gives the age of kept meat in minutes."""
NOT_KEPT = frozenset(
    ("temp", "cook_time", "out_in", "counter", "part_cook", "firm", "freeze_patties", "clean", "hold_hot", "go_back")
) | {"thaw", "from_frozen", "cold_water", "leave_dirty", "germs", "label_date"}
"""Cues of other kinds of question."""
NO_LIMIT = Fraction(1000)
"""Hours to take for a power cut that lasted "overnight" and was not counted: past every limit of a fridge."""


class Kept(Struct, frozen=True):
    """Food that is kept. where: "fridge", "freezer" or "" for both; days: how long already; start, end: from which day
    to which; at: (value, unit) that the fridge reads; asks: "how long", "use by" or "ok"."""

    food: str = GROUND
    where: str = ""
    days: Fraction | None = None
    start: Day | None = None
    end: Day | None = None
    later: bool = False
    at: tuple[Fraction, str] | None = None
    asks: str = "how long"
    named: frozenset[str] = frozenset()
    smelled: bool = False


class Cold(Struct, frozen=True):
    """How cold it should be, or whether a reading is. unmarked: no scale was said."""

    where: str
    at: tuple[Fraction, str] | None = None
    unmarked: bool = False


class Refrozen(Struct, frozen=True):
    """May it be frozen again? method: a key of the thaw rows, "" where not said; days: since it thawed."""

    method: str = ""
    minutes_out: Fraction = Fraction(0)
    days: Fraction = Fraction(0)
    country: str = ""


class Cut(Struct, frozen=True):
    """A power cut. places: keys of the engine; food: (value, unit) that the meat reads."""

    hours: Fraction | None = None
    places: tuple[str, ...] = ()
    food: tuple[Fraction, str] | None = None
    icy: bool = False


class Reheat(Struct, frozen=True):
    """How hot leftovers must be, or (chill) how soon they must be in the fridge."""

    scale: str = ""
    named: frozenset[str] = field(default_factory=frozenset)
    chill: bool = False


class Label(Struct, frozen=True):
    """A pack with a use-by date of its own. day: that date, None where it was only said to be past."""

    day: Day | None = None
    past: bool = False


Request = Label | Kept | Cold | Refrozen | Cut | Reheat


class StoreTopic:
    """Keeping meat."""

    name = "store"
    examples = ("How long does mince keep in the fridge?", "Ground on Wednesday, ok for Saturday?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question of keeping, a follow-up to one, or the day that was asked for."""
        if sentence.has(*heard.PLANNING) and not sentence.has("fridge", "freezer", "use_by", "power_cut", "refreeze"):
            return None
        return (
            _label(sentence)
            or _power_cut(sentence)
            or _refreeze(sentence)
            or _reheat(sentence)
            or _cold(sentence)
            or _kept(sentence)
            or _reply(sentence, talk)
        )

    def answer(self, request: Request, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The days, the date or the verdict, from the safety file."""
        if isinstance(request, Label):
            return _answer_label(request, kitchen)
        if isinstance(request, Cut):
            return _answer_cut(request, kitchen)
        if isinstance(request, Refrozen):
            return _answer_refreeze(request, kitchen)
        if isinstance(request, Reheat):
            return _answer_reheat(request, kitchen)
        if isinstance(request, Cold):
            return _answer_cold(request, kitchen)
        return _answer_kept(request, kitchen)


# ---- reading


def _label(sentence: Sentence) -> Reading | None:
    if not sentence.has("label_date"):
        return None
    days = heard.days(sentence)
    spells = heard.durations(sentence)
    past = any(word in sentence.text.lower() for word in ("past", "expired", "out of date", "after", "ago"))
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days[:1]])
    return Reading(Label(days[0].day if days else None, past or bool(spells)), used, 2)


def _power_cut(sentence: Sentence) -> Reading | None:
    if sentence.has("jam", "in_grinder"):
        return None
    if not sentence.has("power_cut") and not POWER.search(sentence.text.lower()):
        return None
    spells = heard.durations(sentence)
    clocks = heard.clocks(sentence)
    hours = max((most for _, _, most in spells), default=NO_LIMIT if sentence.has("long_spell") else None)
    food = next((heat for heat in heard.heats(sentence, low=0, high=100)), None)
    request = Cut(hours, _cut_places(sentence), _marked(food, "fridge"), sentence.has("icy"))
    used = heard.plain_words(sentence) | heard.all_of(
        [*(phrase for phrase, _, _ in spells), food.phrase if food else None]
    )
    return Reading(request, used if hours is not None or not clocks else used - heard.all_of(clocks), 2)


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


def _refreeze(sentence: Sentence) -> Reading | None:
    again = sentence.has("refreeze") or (
        sentence.has("thaw")
        and any(word.text.lower().startswith(("freez", "refreez")) for word in sentence.words("cue"))
    )
    if not again or sentence.has("temp", "when"):
        return None
    method = next((key for cue, key in METHODS if sentence.has(cue)), "fridge" if sentence.has("fridge") else "")
    spells = heard.durations(sentence)
    out = sum((most for _, _, most in spells if most < 24 and method != "fridge"), Fraction(0))
    out += sum(
        (most for _, _, most in spells if most < 24 and method == "fridge" and sentence.has("out_in")), Fraction(0)
    )
    days = sum((most for _, _, most in spells if most >= 24), Fraction(0)) / 24
    request = Refrozen(method, out * 60, days, heard.country(sentence))
    return Reading(request, heard.plain_words(sentence) | heard.all_of(phrase for phrase, _, _ in spells), 2)


def _reheat(sentence: Sentence) -> Reading | None:
    words = [word.text.lower() for word in sentence.words("cue") if word.payload == "leftover"]
    if words and re.search(r"\bhow (fast|soon|quick|quickly)\b|\bwhen (do|must|should)\b", sentence.text.lower()):
        return Reading(Reheat(chill=True), heard.plain_words(sentence), 2)
    warming = any(text.startswith(("reheat", "re heat", "warm", "heat")) for text in words)
    if not warming and not (words and sentence.has("temp")):
        return None
    if heard.durations(sentence) or heard.days(sentence):
        return None
    return Reading(Reheat(heard.asked_scale(sentence), heard.meat(sentence).species), heard.plain_words(sentence), 2)


def _cold(sentence: Sentence) -> Reading | None:
    """ "What temperature should my fridge be", "freezer reads -4", "is 45 F ok for a fridge"."""
    if not sentence.has("fridge", "freezer") or sentence.has(
        "thaw", "firm", "out_in", "freeze_patties", "cooked", "leftover"
    ):
        return None
    readings = heard.heats(sentence, low=-60, high=90)
    times = heard.durations(sentence) or heard.days(sentence) or sentence.has("how_long", "keep", "use_by", "is_it_ok")
    if times or not (sentence.has("temp", "reads", "how_cold") or readings):
        return None
    where = "freezer" if sentence.has("freezer") else "fridge"
    heat = readings[0] if readings else None
    request = Cold(where, _marked(heat, where), bool(heat and not heat.unit))
    return Reading(request, heard.plain_words(sentence) | heard.all_of([heat.phrase if heat else None]), 2)


def _kept(sentence: Sentence) -> Reading | None:
    spells, days = _ages(sentence), heard.days(sentence)
    sure = _is_kept(sentence, bool(spells or days))
    if sure is None:
        return None
    cues = sentence.cues
    place = cues & {"fridge", "freezer"}
    heats = [heat for heat in heard.heats(sentence, low=-60, high=90) if heat.unit or place]
    heat = next(iter(heats), None)
    request = Kept(
        food=_food(sentence),
        where=_place(sentence),
        days=max((most for _, _, most in spells), default=None),
        start=days[0].day if days else None,
        end=days[1].day if len(days) > 1 else None,
        later=bool(LATER.search(sentence.text.lower())),
        at=_marked(heat, "freezer" if place == {"freezer"} else "fridge"),
        asks="use by" if "use_by" in cues else "ok" if spells or days else "how long",
        named=heard.meat(sentence).species,
        smelled=sentence.has("smell"),
    )
    request = replace(request, days=None if request.days is None else request.days / 24)
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days[:2]])
    return Reading(request, used | heard.all_of([heat.phrase if heat else None]), 2 if sure else 1)


def _ages(sentence: Sentence) -> list[tuple[Amount, Fraction, Fraction]]:
    """Times long enough to be the age of something kept."""
    return [spell for spell in heard.durations(sentence) if spell[2] >= SHORTEST_AGE]


def _is_kept(sentence: Sentence, aged: bool) -> bool | None:
    """Whether the line is about keeping: True outright, False as far as it goes, None not at all. aged: a day or an age
    was said."""
    cues, text = sentence.cues, sentence.text.lower()
    if cues & NOT_KEPT or (re.search(r"\bwhen (do|should|must|to)\b", text) and not cues & {"use_by", "keep", "ago"}):
        return None
    place = cues & {"fridge", "freezer"}
    if place and re.search(r"\b(forgot|never|didn'?t|did not)\b", text) and "how_long" not in cues:
        return None
    if "not" in cues and "fridge" in cues and heard.durations(sentence) and "how_long" not in cues:
        # "it was not in the fridge for 3 hours" is time out, which another topic judges
        return None
    asks = bool(cues & {"how_long", "safe", "yes", "is_it_ok"})
    if "use_by" in cues or ("keep" in cues and (asks or "when" in cues or aged)):
        return True
    if (place and (asks or aged or cues & {"keep", "ago", "leftover"})) or ("leftover" in cues and (asks or aged)):
        return True
    meat = "mix" in cues or bool(sentence.of(CutName)) or bool(sentence.of(Patties))
    judged = bool(cues & {"is_it_ok", "safe", "yes"}) or "old" in text
    two_days = len(heard.days(sentence)) > 1 and "mix" in cues and heard.asks_leave(sentence)
    if two_days or (aged and "ago" in cues) or (meat and aged and judged and not heard.clocks(sentence)):
        return False
    return None


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    """The day or the days asked for; "what about in the freezer?" after an answer about keeping."""
    pending = talk.pending
    spells, days = heard.durations(sentence), heard.days(sentence)
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days[:1]])
    if pending is not None and (spells or days):
        waiting = pending.request if pending.topic == StoreTopic.name else None
        if isinstance(waiting, Kept):
            hours = max((most for _, _, most in spells), default=None)
            since = days[0].day if days else None
            return Reading(replace(waiting, start=since, days=None if hours is None else hours / 24), used, 2)
        if pending.topic == "safe" and pending.missing == "how long" and all(least >= 24 for _, least, _ in spells):
            hours = max((most for _, _, most in spells), default=None)
            since = days[0].day if days else None
            days_kept = None if hours is None else hours / 24
            return Reading(Kept(_food(sentence), "fridge", days_kept, since, asks="ok"), used, 2)
    before = talk.last
    if not isinstance(before, Kept) or talk.topic != StoreTopic.name or len(list(sentence.substance())) > 5:
        return None
    if not sentence.has("fridge", "freezer", "leftover", "cooked", "raw") and not sentence.of(CutName):
        return None
    if sentence.has("temp", "thaw", *heard.PLANNING):
        return None
    fresh = sentence.has("leftover", "cooked", "raw") or bool(sentence.of(CutName))
    food, place = _food(sentence) if fresh else before.food, _place(sentence) or before.where
    return Reading(replace(before, food=food, where=place, named=heard.meat(sentence).species), used, 2)


def _place(sentence: Sentence) -> str:
    fridge, freezer = sentence.has("fridge"), sentence.has("freezer")
    if fridge == freezer:
        return ""
    return "fridge" if fridge else "freezer"


def _food(sentence: Sentence) -> str:
    """The storage row that the line means; where ground or whole was not said, ground, which keeps the shortest."""
    species = heard.meat(sentence).species
    if sentence.has("leftover", "cooked", "done"):
        return COOKED_CHICKEN if is_poultry(species) else COOKED
    cuts = sentence.of(CutName)
    # "can I still grind this brisket": what will be ground is a whole piece yet
    whole_yet = bool(cuts) and all(word.text.lower() in ("grind", "grinding") for word in _mixes(sentence))
    ground = bool(_mixes(sentence) and not whole_yet) or bool(sentence.of(Patties))
    if any("sausage" in phrase.text.lower() for phrase in sentence.phrases):
        return "raw sausage"
    if ground:
        return GROUND
    rows = [_row_of(cut, species) for cut in cuts]
    # of several foods the one that keeps the shortest rules
    return min(rows, key=lambda key: safety_book().storage[key].days_high, default=GROUND)


def _mixes(sentence: Sentence) -> list[Word]:
    return [word for word in sentence.words("cue") if word.payload == "mix"]


def _row_of(cut: CutName, species: frozenset[str]) -> str:
    book = safety_book()
    if cut.name in book.storage_names:
        return book.storage_names[cut.name]
    if cut.name in GENERAL or "ground" in cut.name or "mince" in cut.name or cut.name.removesuffix("s") in GENERAL:
        return GROUND
    for word, key in (
        ("suet", "raw fat"),
        ("fat", "raw fat"),
        ("bacon", "bacon"),
        ("liver", "offal"),
        ("heart", "offal"),
    ):
        if word in cut.name:
            return key
    if is_poultry(species):
        return "whole poultry" if "whole" in cut.name else "poultry pieces"
    return "steaks" if "steak" in cut.name else "roasts"


def _marked(heat: heard.Heat | None, where: str) -> tuple[Fraction, str] | None:
    """A reading with its scale. A bare fridge reading has only one that makes sense; a bare freezer reading is taken
    on the scale on which it is the warmer, so that a warm freezer never passes for a cold one."""
    if heat is None:
        return None
    if heat.unit:
        return heat.value, heat.unit
    if where == "fridge":
        return heat.value, "degC" if heat.value < COLDER_THAN_ANY_FRIDGE_F else "degF"
    return heat.value, "degC" if heat.value > -40 else "degF"


# ---- answering: how long


def _answer_kept(request: Kept, kitchen: Kitchen) -> Outcome:
    where = request.where or "fridge"
    if where == "fridge" and request.at is not None and not _kept_at(request, kitchen).counts:
        return _too_warm(request, kitchen)
    today = kitchen.now().date()
    start, end = _dates(request, today)
    if request.asks == "use by" or (request.asks == "ok" and start is not None):
        if start is None:
            what = "cooked" if request.food in (COOKED, COOKED_CHICKEN) else "ground"
            question = f"When was it {what}? For example: Wednesday, or 19 June."
            return verdict.ask_back("store", f"Use-by date of {request.food}", question, request, "start")
        return _dated(request, kitchen, start, end, today)
    if request.days is not None:
        return _aged(request, kitchen, request.days, "")
    return _how_long(request, kitchen)


def _dates(request: Kept, today: date) -> tuple[date | None, date | None]:
    if request.start is None:
        if request.days is not None and request.asks == "use by":
            return today - timedelta(days=int(request.days)), None
        return None, None
    start = heard.day_on(request.start, today, past=not request.later)
    if start is None:
        return None, None
    return start, heard.following(request.end, start, today) if request.end is not None else None


def _kept_at(request: Kept, kitchen: Kitchen) -> Keeps:
    where = request.where or "fridge"
    at = None if request.at is None else units.to(*request.at, "degF")
    if (
        at is not None
        and where == "fridge"
        and kitchen.country in ("uk", "au")
        and at <= _agency_max(kitchen.country).f
    ):
        # these agencies set the fridge at 5 °C and count the same short days
        at = verdict.temperature("fridge_max").f
    try:
        return keeps(request.food, where, at)
    except BadInput:
        return keeps(request.food, where, verdict.temperature("fridge_max").f + 1)


def _agency_max(country: str) -> Degrees:
    key = f"fridge_max_{country}"
    return verdict.temperature(key if key in safety_book().temperatures else "fridge_max")


def _too_warm(request: Kept, kitchen: Kitchen) -> Outcome:
    assert request.at is not None
    scale = verdict.scale_of(kitchen)
    limit = verdict.temperature("fridge_max")
    source = safety_book().temperatures["fridge_max"].source
    return verdict.told(
        "store",
        f"How long {request.food} keeps in a fridge at {verdict.reading(*request.at)}",
        f"No days at all: {verdict.reading(*request.at)} is too warm. Its days count only at "
        f"{verdict.degrees(limit, scale)} or colder.",
        figures=[
            *verdict.temperature_figures("fridge at most", limit, source, scale),
            verdict.from_book("limit above that", verdict.figure("out_of_fridge")),
        ],
        cautions=verdict.with_meat(heard.Meat(request.named), kitchen, {"fridge_temp", "keep_cold"}),
        notes=[
            "Warmer than that for more than 2 hours: throw it away. Turn the fridge down before the next pack goes in.",
            f"Source: {source}. {verdict.LOCAL}",
        ],
        working=(f"{verdict.reading(*request.at)} against {verdict.degrees(limit, scale)} ({source}).",),
    )


def _how_long(request: Kept, kitchen: Kitchen) -> Outcome:
    row = safety_book().storage[request.food]
    figures, parts = [], []
    scale = verdict.scale_of(kitchen)
    if request.where != "freezer":
        figures.append(_days_figure(row))
        parts.append(
            f"{figures[-1].shown} in the fridge at {verdict.degrees(verdict.temperature('fridge_max'), scale)} or colder"
        )
    if request.where != "fridge":
        low, high = Fraction(row.months_low), Fraction(row.months_high)
        figures.append(verdict.time_figure("keeps in the freezer", low, "month", row.source, low, high))
        freezer = verdict.degrees(verdict.temperature("freezer_max"), scale)
        parts.append(f"{figures[-1].shown} in the freezer at {freezer} or colder")
    notes = [row.note]
    if request.where != "fridge":
        notes.append("Freezer months are for quality: hard frozen it stays safe.")
    place = f" in the {request.where}" if request.where else ""
    return _told_kept(
        request, kitchen, f"{_keeps_words(row)} {', '.join(parts)}.", figures, notes, f"How long {row.key} keeps{place}"
    )


def _dated(request: Kept, kitchen: Kitchen, start: date, end: date | None, today: date) -> Outcome:
    row = safety_book().storage[request.food]
    if request.asks == "ok" and (request.where or "fridge") == "fridge":
        until = end or max(today, start)
        when = f" ({wording.day(start)} to {wording.day(until)})"
        return _aged(request, kitchen, Fraction((until - start).days), when, start)
    where = request.where or "fridge"
    first, last = use_by(start, request.food, Where(where))
    latest = "" if first == last else f", {wording.day(last)} at the very latest"
    past = " That day has passed: throw it away." if where == "fridge" and last < today else ""
    figures = [
        _date_figure("use by", first, row),
        _days_figure(row) if where == "fridge" else _date_figure("latest", last, row),
    ]
    if first != last and where == "fridge":
        figures.append(_date_figure("latest", last, row))
    quality = ["A freezer date is for quality: hard frozen it stays safe."] if where == "freezer" else [row.note]
    return _told_kept(
        request,
        kitchen,
        f"Use it by {wording.day(first)}{latest}.{past}",
        figures,
        quality,
        f"Use-by date of {row.key} from {wording.day(start)} in the {where}",
    )


def _aged(request: Kept, kitchen: Kitchen, days: Fraction, when: str, start: date | None = None) -> Outcome:
    row = safety_book().storage[request.food]
    if request.where == "freezer":
        return _long_frozen(request, kitchen, days, row)
    span = verdict.span(Fraction(row.days_low), Fraction(row.days_high), "day")
    spent = f"{wording.number(days)} {'day' if days == 1 else 'days'}"
    cold = verdict.degrees(verdict.temperature("fridge_max"), verdict.scale_of(kitchen))
    figures = [_days_figure(row)]
    if start is not None:
        figures += [_date_figure("use by", start + timedelta(days=row.days_low), row)]
    if days > row.days_high:
        says = (
            f"No: {spent} is too long{when}. {_keeps_words(row)} {span} at {cold} or colder; past that, throw it away."
        )
    elif days > row.days_low:
        says = f"Only if you cook or freeze it that day: {spent}{when} is the end of its {span} at {cold} or colder."
    else:
        says = f"Yes, if it was at {cold} or colder all the time: {spent}{when} of its {span}."
    notes = [row.note]
    if days > row.days_high and start is not None and request.food == GROUND:
        notes.append("For a later day, freeze it within its days and thaw it in the fridge.")
    return _told_kept(
        request, kitchen, says, figures, notes, f"{_cap(row.key)} kept {spent} in the fridge{when}: is it ok?"
    )


def _long_frozen(request: Kept, kitchen: Kitchen, days: Fraction, row: Storage) -> Outcome:
    span = verdict.span(Fraction(row.months_low), Fraction(row.months_high), "month")
    months = days / Fraction(365, 12)
    good = "still within" if months <= row.months_high else "past"
    says = (
        f"Yes, if it stayed frozen hard: it is safe, and {good} its {span} of best quality. Thaw it in the fridge and cook "
        "it through."
    )
    warm: tuple[Figure, ...] = ()
    if request.at is not None and not _kept_at(request, kitchen).counts:
        freezer = safety_book().temperatures["freezer_max"]
        mark = verdict.degrees(freezer.at, verdict.scale_of(kitchen))
        says = (
            f"No: {verdict.reading(*request.at)} is too warm for that. Its {span} count at {mark} or colder; use it soon, "
            "and throw away what has thawed."
        )
        warm = verdict.temperature_figures("freezer at most", freezer.at, freezer.source, verdict.scale_of(kitchen))
    low, high = Fraction(row.months_low), Fraction(row.months_high)
    figures = [*warm, verdict.time_figure("best quality in the freezer", low, "month", row.source, low, high)]
    spent = f"{wording.number(months)} months"
    return _told_kept(request, kitchen, says, figures, [row.note], f"{_cap(row.key)} frozen for {spent}: is it ok?")


def _told_kept(
    request: Kept, kitchen: Kitchen, says: str, figures: list[Figure], notes: list[str], understood: str
) -> Outcome:
    row = safety_book().storage[request.food]
    cooked = request.food in (COOKED, COOKED_CHICKEN)
    touches = {"leftovers"} if cooked else {"storage" if request.food == GROUND else "keep_cold", "cook_temperature"}
    scale = verdict.scale_of(kitchen)
    limit = safety_book().temperatures["fridge_max"]
    cold = (
        ()
        if request.where == "freezer"
        else verdict.temperature_figures("fridge at most", limit.at, limit.source, scale)
    )
    return verdict.told(
        "store",
        understood,
        says,
        figures=[*figures, *cold],
        cautions=verdict.with_meat(
            heard.Meat(request.named), kitchen, touches | {"fridge_temp", *(("smell",) if request.smelled else ())}
        ),
        notes=[*notes, f"Source: {row.source}{' (from memory)' if 'memory' in row.checked else ''}. {verdict.LOCAL}"],
        working=(
            f"{row.key}: {row.days_low} to {row.days_high} days, {row.months_low} to {row.months_high} months ({row.source}).",
        ),
    )


def _days_figure(row: Storage) -> Figure:
    low, high = Fraction(row.days_low), Fraction(row.days_high)
    return verdict.time_figure("keeps in the fridge", low, "day", row.source, low, high)


def _date_figure(name: str, day: date, row: Storage) -> Figure:
    return Figure(name, Role.DATE, day.isoformat(), "date", source=row.source, shown=wording.day(day))


def _keeps_words(row: Storage) -> str:
    """ "Ground meat keeps", "Cooked patties keep"."""
    name = {"roasts": "a whole piece", "offal": "heart, liver or tongue"}.get(row.key, row.key)
    return f"{_cap(name)} {'keep' if name.endswith(('patties', 's')) else 'keeps'}"


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]


def _answer_label(request: Label, kitchen: Kitchen) -> Outcome:
    today = kitchen.now().date()
    day = None if request.day is None else heard.day_on(request.day, today, past=request.past)
    row = safety_book().storage[GROUND]
    when = f" of {wording.day(day)}" if day else ""
    if request.past or (day is not None and day < today):
        says = f"No: it is past its use-by date{when}. Throw it away, however it looks or smells."
    elif day is not None:
        says = f"Until {wording.day(day)} at the latest, and 1 to 2 days from when it was ground or opened, whichever is sooner."
    else:
        question = "What date is on the pack? For example: 19 June."
        return verdict.ask_back("store", "A pack with a use-by date", question, request, "date")
    return verdict.told(
        "store",
        f"A pack with a use-by date{when}: is it ok?",
        says,
        figures=[_days_figure(row)],
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"storage", "smell"}),
        notes=[
            "Frozen before that date it stays safe; thaw it in the fridge.",
            f"Source: {row.source}. {verdict.LOCAL}",
        ],
        working=(f"{row.key}: {row.days_low} to {row.days_high} days ({row.source}).",),
    )


# ---- answering: how cold, power cuts, freezing again, reheating


def _answer_cold(request: Cold, kitchen: Kitchen) -> Outcome:
    row = safety_book().temperatures["fridge_max" if request.where == "fridge" else "freezer_max"]
    limit = _agency_max(kitchen.country) if request.where == "fridge" else row.at
    scale = verdict.scale_of(kitchen)
    mark = verdict.degrees(limit, scale)
    if request.at is None:
        says = f"{_cap(request.where)}: {mark} or colder."
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


def _answer_cut(request: Cut, kitchen: Kitchen) -> Outcome:
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
    left = f", {wording.duration(cut.left_hours * 60)} left of its {limit} hours" if cut.left_hours else ""
    return f"Yes, keep it{left}." if request.food or request.icy else f"Yes, if it stayed shut{left}."


def _answer_refreeze(request: Refrozen, kitchen: Kitchen) -> Outcome:
    kitchen = verdict.kitchen_in(kitchen, request.country)
    says = _refreeze_words(request, kitchen.country)
    limit = safety_book().temperatures["fridge_max"]
    uk = kitchen.country == "uk"
    return verdict.told(
        "store",
        f"May meat thawed {_how_thawed(request.method)} be frozen again?",
        says,
        figures=[
            *verdict.temperature_figures("meat at most", limit.at, limit.source, verdict.scale_of(kitchen)),
            verdict.from_book("limit out of the fridge", verdict.figure("out_of_fridge")),
        ],
        cautions=verdict.with_meat(
            heard.Meat(), kitchen, {"keep_cold", "cook_temperature", *(() if uk else ("refreeze",))}
        ),
        notes=[
            "Thawed ground meat counts its 1 to 2 days from when it thawed. Firming cubes for an hour is no freezing.",
            f"Source: {'Food Standards Agency' if uk else 'USDA FSIS'}. {verdict.LOCAL}",
        ],
        working=tuple(f"{rule.text} ({rule.source})" for rule in safety_book().rules_on("refreeze")[:3]),
    )


def _refreeze_words(request: Refrozen, country: str) -> str:
    too_old = request.days > (verdict.figure("thawed_keeps_ground").high or 0)
    if too_old:
        return "No: thawed ground meat keeps 1 to 2 days in the fridge. Older than that, throw it away."
    if not request.method:
        if country == "uk":
            return "No: not raw. Cook it within 24 hours of full thaw; the cooked meat may be frozen."
        return "Only if it thawed in the fridge at 40 °F (4 °C) or colder and was out no more than 2 hours; else cook it first."
    minutes = request.minutes_out
    unknown = request.method in ("counter", "hot water") and not minutes
    try:
        judged = refreeze(request.method, None if unknown else minutes, None, country)
    except BadInput:
        judged = Refreeze.THROW_AWAY
    if judged is Refreeze.MAY:
        return "Yes: thawed in the fridge and never out for more than 2 hours, it may be frozen again raw, within its 1 to 2 days."
    if judged is Refreeze.COOK_FIRST:
        return "No: not raw. Cook it first, right away, to 160 °F (71 °C), with poultry 165 °F (74 °C); then it may be frozen."
    return f"No: thawed {_how_thawed(request.method)} it may have been warm for more than 2 hours. Throw it away."


def _how_thawed(method: str) -> str:
    return {"fridge": "in the fridge", "microwave": "in the microwave", "counter": "on the counter", "": "before"}.get(
        method, f"in {method}"
    )


def _answer_reheat(request: Reheat, kitchen: Kitchen) -> Outcome:
    if request.chill:
        return _answer_chill(request, kitchen)
    row = safety_book().temperatures["leftovers"]
    scale = verdict.scale_of(kitchen, request.scale)
    return verdict.told(
        "store",
        "How hot to reheat leftovers",
        f"Reheat cooked patties to {verdict.degrees(row.at, scale)} in the middle.",
        figures=verdict.temperature_figures("middle of the leftovers", row.at, row.source, scale),
        cautions=verdict.with_meat(heard.Meat(request.named), kitchen, {"leftovers", "thermometer"}),
        notes=["They keep 3 to 4 days at 40 °F (4 °C) or colder.", f"Source: {row.source}. {verdict.LOCAL}"],
        working=(f"Leftovers: {verdict.degrees(row.at, scale)} ({row.source}).",),
    )


def _answer_chill(request: Reheat, kitchen: Kitchen) -> Outcome:
    usual, hot = verdict.figure("leftovers_chill_within"), verdict.figure("out_of_fridge_hot_day")
    return verdict.told(
        "store",
        "How soon leftovers must be in the fridge",
        "Within 2 hours, 1 hour above 90 °F (32 °C), in dishes no deeper than 2 in (5 cm).",
        figures=[verdict.from_book("in the fridge within", usual), verdict.from_book("above 90 °F within", hot)],
        cautions=verdict.with_meat(heard.Meat(request.named), kitchen, {"leftovers", "keep_cold"}),
        notes=["They keep 3 to 4 days at 40 °F (4 °C) or colder.", f"Source: {usual.source}. {verdict.LOCAL}"],
        working=(f"{usual.value} h ({usual.source}).",),
    )


TOPIC = StoreTopic()
