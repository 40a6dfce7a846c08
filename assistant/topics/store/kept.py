"""How long it keeps, until when to use it, and whether it is still good."""

from __future__ import annotations

import re
from datetime import date, timedelta
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure
from assistant.data.safety import Storage, safety_book
from assistant.engine.safety import Keeps, Where, keeps, use_by
from assistant.errors import BadInput
from assistant.language.phrases import Amount, CutName, Patties
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.store import since
from assistant.topics.store.cold import COOL_F, ICY_F, capital, fridge_limit, marked
from assistant.topics.store.food import COOKED, COOKED_CHICKEN, GROUND, date_figure, days_figure, food_of, foods_of
from assistant.topics.store.since import Since

_A_DAY = 24
SHORTEST_AGE = Fraction(1)
"""Hours: nobody gives the age of kept meat in minutes."""
NOT_KEPT = frozenset(
    ("temp", "cook_time", "out_in", "counter", "part_cook", "firm", "freeze_patties", "clean", "hold_hot", "go_back")
) | {"thaw", "from_frozen", "cold_water", "hot_water", "leave_dirty", "germs", "label_date"}
"""Cues of other kinds of question."""


class Kept(Struct, frozen=True):
    """Food that is kept. where: "fridge", "freezer" or "" for both; since: how long already, from which day and to
    which; at: (value, unit) that the fridge reads; asks: "how long", "use by" or "ok"; box: the fridge is a cool box of
    which nobody said how cold it is."""

    food: str = GROUND
    where: str = ""
    since: Since = Since()
    at: tuple[Fraction, str] | None = None
    asks: str = "how long"
    named: frozenset[str] = frozenset()
    smelled: bool = False
    country: str = ""
    others: tuple[str, ...] = ()
    box: bool = False


def read(sentence: Sentence) -> Reading | None:
    """A line about how long something keeps, with its age or its days."""
    spells, days = _ages(sentence), heard.days(sentence)
    told = since.read(sentence, list(spells))
    sure = _is_kept(sentence, told)
    if sure is None:
        return None
    cues = sentence.cues
    place = cues & {"fridge", "freezer"}
    heats = [heat for heat in heard.heats(sentence, low=-60, high=90) if heat.unit or place]
    heat = next(iter(heats), None)
    request = Kept(
        food=food_of(sentence),
        others=_compared(sentence),
        where=_place(sentence) or _place_so_cold(heats),
        since=told,
        at=marked(heat, "freezer" if place == {"freezer"} or _place_so_cold(heats) else "fridge"),
        asks=_asked(sentence, place, told),
        named=heard.meat(sentence).species,
        smelled=sentence.has("smell"),
        country=heard.country(sentence),
        box=heat is None and _is_a_box(sentence),
    )
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days[:3]])
    used |= {word for word in sentence.unknown for month in since.months(sentence) if word.text.lower() == month.text}
    return Reading(request, used | heard.all_of([heat.phrase if heat else None]), 2 if sure else 1)


_BY_WHEN = Pattern(r"\bwhen\b.*\b(?:use|using|used|eat|eating|eaten)\b")


def _asked(sentence: Sentence, place: frozenset[str], told: Since) -> str:
    """What is wanted: a date, a verdict or a span. "Ground it today, into the freezer" is dated, and nothing to judge."""
    frozen, both = place == {"freezer"}, told.start is not None and told.end is not None
    if _asks_by_when(sentence) and (not both or frozen):
        return "use by"
    if not told.known:
        return "how long"
    dated = frozen and told.start is not None and not (both or heard.asks_leave(sentence))
    return "use by" if dated else "ok"


def _asks_by_when(sentence: Sentence) -> bool:
    return sentence.has("use_by") or _BY_WHEN.search(sentence.text.lower()) is not None


_BOX = Pattern(r"\b(esky|cool ?box|cooler|ice ?box|chilly bin|ice chest)\b")
_ON_ICE = Pattern(r"\b(ice|icy|frozen|ice ?packs?|gel packs?|freezer blocks?)\b")


def _is_a_box(sentence: Sentence) -> bool:
    text = sentence.text.lower()
    return _BOX.search(text) is not None and _ON_ICE.search(text) is None


def _ages(sentence: Sentence) -> list[tuple[Amount, Fraction, Fraction]]:
    """Times long enough to be the age of something kept."""
    return [spell for spell in heard.durations(sentence) if spell[2] >= SHORTEST_AGE]


_WORKED = Pattern(r"\b(ground|minced|made|bought|formed|cooked|opened)\b")
_WORKED_IT = Pattern(r"\b(minced|(ground|made|bought|formed|opened) (it|them|this|these))\b")
"""Work that was done on the meat, which names it as well as a noun would."""


_EATEN = Pattern(r"\b(cook|eat|use|grill|fry|bbq|barbecue|serve)\b")


def _is_kept(sentence: Sentence, told: Since) -> bool | None:
    """Whether the line is about keeping: True outright, False as far as it goes, None not at all. told: the days and
    the age that were said."""
    aged = told.known
    cues, text = sentence.cues, sentence.text.lower()
    if {"keep", "how_long"} <= cues and cues & {"fridge", "freezer"}:
        # "how long do the cubes keep in the fridge before grinding"
        cues = cues - {"firm"}
    stood = heard.stands_at(sentence)
    cool = stood is not None and stood.f("") <= COOL_F and heard.asks_leave(sentence)
    if cool:
        # "held at 3 C for four days" is no holding hot
        cues = cues - {"hold_hot"}
    if cues & NOT_KEPT or (
        re.search(r"\bwhen (do|does|should|must|shall|can|to|into)\b", text)
        and not (cues & {"use_by", "keep", "ago"} or (_BY_WHEN.search(text) and _WORKED_IT.search(text)))
    ):
        return None
    if "slow_cooker" in cues and all(most < _A_DAY for _, _, most in _ages(sentence)) and not heard.days(sentence):
        # "frozen meatballs in the slow cooker, 8 hours": the hours are the cooker's
        return None
    if "microwave" in cues and not aged and not cues & {"keep", "leftover"}:
        # "frozen mince in the microwave, ok?" is thawing
        return None
    if cool:
        return True
    place = cues & {"fridge", "freezer"}
    unkept = re.search(r"\b(forgot|never|didn'?t|did not)\b", text) is not None and not heard.NOT_YET.search(text)
    if place and unkept and "how_long" not in cues:
        return None
    away = "not" in cues and not heard.NOT_YET.search(text)
    if away and "fridge" in cues and heard.durations(sentence) and "how_long" not in cues:
        # "it was not in the fridge for 3 hours" is time out, which another topic judges
        return None
    asks = bool(cues & {"how_long", "safe", "yes", "is_it_ok", "unit:day", "unit:week", "unit:month"})
    if re.search(r"\b(fridge|freezer|shelf|storage) life\b", text):
        return True
    if told.start is not None and _BY_WHEN.search(text) and _WORKED_IT.search(text):
        # "ground it Sunday, when do I need to use it"
        return True
    if "use_by" in cues or ("keep" in cues and (asks or "when" in cues or aged)):
        return True
    if (place and (asks or aged or cues & {"keep", "ago", "leftover"})) or ("leftover" in cues and (asks or aged)):
        return True
    meat = "mix" in cues or bool(sentence.of(CutName)) or bool(sentence.of(Patties)) or bool(_WORKED_IT.search(text))
    judged = bool(cues & {"is_it_ok", "safe", "yes"}) or "old" in text
    two_days = told.start is not None and told.end is not None and meat and heard.asks_leave(sentence)
    asked = told.start is not None and told.end is not None and meat and text.rstrip().endswith("?")
    if (two_days or (asked and _EATEN.search(text))) and _WORKED.search(text):
        return True
    if aged and "ago" not in cues and all(most < _A_DAY for _, _, most in _ages(sentence)) and not heard.days(sentence):
        # "stands since 3 hours in the kitchen": nobody said that it was cold
        return None
    if two_days or (aged and "ago" in cues) or (meat and aged and judged and not heard.clocks(sentence)):
        return False
    return None


def reply(sentence: Sentence, talk: Talk) -> Reading | None:
    """The day or the days asked for; "what about in the freezer?" after an answer about keeping."""
    pending = talk.pending
    spells, days = heard.durations(sentence), heard.days(sentence)
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days[:1]])
    if pending is not None and (spells or days):
        waiting = pending.request if pending.topic == "store" else None
        if isinstance(waiting, Kept):
            return Reading(replace(waiting, since=_filled(waiting.since, sentence, pending.missing)), used, 2)
        if pending.topic == "safe" and pending.missing == "how long" and all(least >= 24 for _, least, _ in spells):
            told = _filled(Since(), sentence, "start")
            return Reading(Kept(food_of(sentence), "fridge", told, asks="ok"), used, 2)
    before = talk.last
    if not isinstance(before, Kept) or talk.topic != "store" or len(list(sentence.substance())) > 5:
        return None
    if not sentence.has("fridge", "freezer", "leftover", "cooked", "raw") and not sentence.of(CutName):
        return None
    if sentence.has("temp", "thaw", *heard.PLANNING):
        return None
    fresh = sentence.has("leftover", "cooked", "raw") or bool(sentence.of(CutName))
    food, place = food_of(sentence) if fresh else before.food, _place(sentence) or before.where
    return Reading(replace(before, food=food, where=place, named=heard.meat(sentence).species), used, 2)


def _filled(before: Since, sentence: Sentence, missing: str) -> Since:
    """What was known of the days, with the end that was asked for."""
    spells, days = heard.durations(sentence), heard.days(sentence)
    hours = max((most for _, _, most in spells), default=None)
    day = days[0].day if days else None
    if missing == "end":
        return replace(before, end=day, ahead=hours)
    return replace(before, start=day, age=hours, later=False)


def _compared(sentence: Sentence) -> tuple[str, ...]:
    """The other foods of "steak or mince, how long": each has its own days."""
    if not re.search(r"\b(vs|versus|or|and|than|compared)\b", sentence.text.lower()):
        return ()
    return tuple(key for key in foods_of(sentence) if key != food_of(sentence))


def _place(sentence: Sentence) -> str:
    fridge, freezer = sentence.has("fridge"), sentence.has("freezer")
    if fridge == freezer:
        return ""
    return "fridge" if fridge else "freezer"


def _place_so_cold(heats: list[heard.Heat]) -> str:
    """ "held at 0 °F": so cold a place is a freezer, where the scale was said."""
    return "freezer" if heats and all(heat.unit and heat.f("") < ICY_F for heat in heats) else ""


def answer(request: Kept, kitchen: Kitchen) -> Outcome:
    """The days, the date or the verdict."""
    kitchen = verdict.kitchen_in(kitchen, request.country)
    where = request.where or "fridge"
    if where == "fridge" and request.at is not None and not _kept_at(request, kitchen).counts:
        return _too_warm(request, kitchen)
    if (
        where == "freezer"
        and request.asks == "how long"
        and request.at is not None
        and not _kept_at(request, kitchen).counts
    ):
        return _not_so_cold(request, kitchen)
    today = kitchen.now().date()
    start, end = since.dates(request.since, today)
    days = since.days_kept(request.since, start, end, today)
    if request.asks == "how long":
        return _how_long(request, kitchen)
    if request.asks == "ok" and _is_still_to_come(request.since, start, end, today):
        assert start is not None
        question = f"{wording.day(start)} is still to come. Until which day is it to keep?"
        return verdict.ask_back(
            "store", f"{capital(request.food)} ground on {wording.day(start)}: is it ok?", question, request, "end"
        )
    if request.asks == "use by" and start is None and request.since.age is not None:
        start = today - timedelta(days=int(request.since.age / 24))
    if days is None or (start is not None and end is not None and end < start):
        return _which_day(request, start, end)
    if start is not None and (request.asks == "use by" or (request.where == "freezer" and request.asks != "ok")):
        return _dated(request, kitchen, start, today)
    return _aged(request, kitchen, days, start, end or today)


def _is_still_to_come(told: Since, start: date | None, end: date | None, today: date) -> bool:
    return start is not None and start > today and end is None and told.ahead is None


def _which_day(request: Kept, start: date | None, end: date | None) -> Outcome:
    """Ask for the day that is not known, or that comes after the last one."""
    what = "cooked" if request.food in (COOKED, COOKED_CHICKEN) else "ground"
    until = f" until {wording.day(end)}" if end is not None else ""
    asked = f"Use-by date of {request.food}" if request.asks == "use by" else f"{capital(request.food)} kept{until}"
    before = f"{wording.day(end)} is before {wording.day(start)}. " if start is not None and end is not None else ""
    question = f"{before}When was it {what}? For example: Wednesday, or 19 June."
    return verdict.ask_back("store", asked, question, request, "start")


def _kept_at(request: Kept, kitchen: Kitchen) -> Keeps:
    where = request.where or "fridge"
    at = None if request.at is None else units.to(*request.at, "degF")
    if (
        at is not None
        and where == "fridge"
        and kitchen.country in ("uk", "au")
        and at <= fridge_limit(kitchen.country).at.f
    ):
        # these agencies set the fridge at 5 °C and count the same short days
        at = verdict.temperature("fridge_max").f
    try:
        return keeps(request.food, where, at)
    except BadInput:
        return keeps(request.food, where, verdict.temperature("fridge_max").f + 1)


def _cold_enough(request: Kept) -> str:
    """The reading that was told, named, so that nobody takes it for one of the meat's; "" where there is none."""
    if request.at is None:
        return ""
    return f"{verdict.reading(*request.at)} was read as what the {request.where or 'fridge'} is at: cold enough."


def _too_warm(request: Kept, kitchen: Kitchen) -> Outcome:
    assert request.at is not None
    scale = verdict.scale_of(kitchen)
    row = fridge_limit(kitchen.country)
    limit, source = row.at, row.source
    return verdict.told(
        "store",
        f"How long {request.food} {'keep' if request.food.endswith('s') else 'keeps'} in a fridge at {verdict.reading(*request.at)}",
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


def _not_so_cold(request: Kept, kitchen: Kitchen) -> Outcome:
    """A freezer that is warmer than its months count at: what freezes keeps its safety, and loses its quality sooner."""
    assert request.at is not None
    scale, row = verdict.scale_of(kitchen), safety_book().temperatures["freezer_max"]
    reading, mark = verdict.reading(*request.at), verdict.degrees(row.at, scale)
    frozen = units.to(*request.at, "degF") < verdict.temperature("ice_point").f
    says = (
        f"Not as many as the table says: its months count at {mark} or colder, and {reading} is warmer. Use it soon."
        if frozen
        else f"No months at all: meat does not stay frozen at {reading}. Treat it as thawed, and turn the freezer to {mark}."
    )
    return verdict.told(
        "store",
        f"How long {request.food} {'keep' if request.food.endswith('s') else 'keeps'} in a freezer at {reading}",
        says,
        figures=verdict.temperature_figures("freezer at most", row.at, row.source, scale),
        cautions=verdict.with_meat(heard.Meat(request.named), kitchen, {"keep_cold"}),
        notes=[
            "What stays hard frozen stays safe; its quality goes sooner." if frozen else "",
            f"Source: {row.source}. {verdict.LOCAL}",
        ],
        working=(f"{reading} against {mark} ({row.source}).",),
    )


def _how_long(request: Kept, kitchen: Kitchen) -> Outcome:
    rows = [safety_book().storage[key] for key in (request.food, *request.others)]
    told = [_how_long_one(row, request.where, kitchen, named=len(rows) > 1) for row in rows]
    row = rows[0]
    notes = [_cold_enough(request), row.note]
    if request.where != "fridge":
        notes.append("Freezer months are for quality: hard frozen it stays safe.")
    place = f" in the {request.where}" if request.where else ""
    whose = wording.listing([one.key for one in rows])
    verb = "keep" if whose.endswith("s") or len(rows) > 1 else "keeps"
    says = " ".join(said for said, _ in told)
    figures = [figure for _, found in told for figure in found]
    return _told_kept(request, kitchen, says, figures, notes, f"How long {whose} {verb}{place}")


def _how_long_one(row: Storage, where: str, kitchen: Kitchen, *, named: bool) -> tuple[str, list[Figure]]:
    """One food's days and months. named: among others, so its figures carry its name."""
    figures, parts = [], []
    scale = verdict.scale_of(kitchen)
    if where != "freezer":
        figures.append(days_figure(row))
        parts.append(
            f"{figures[-1].shown} in the fridge at {verdict.degrees(fridge_limit(kitchen.country).at, scale)} or colder"
        )
    if where != "fridge":
        low, high = Fraction(row.months_low), Fraction(row.months_high)
        figures.append(verdict.time_figure("keeps in the freezer", low, "month", row.source, low, high))
        freezer = verdict.degrees(verdict.temperature("freezer_max"), scale)
        parts.append(f"{figures[-1].shown} in the freezer at {freezer} or colder")
    if named:
        figures = [replace(figure, name=f"{row.key}: {figure.name}") for figure in figures]
    return f"{_keeps_words(row)} {', '.join(parts)}.", figures


def _dated(request: Kept, kitchen: Kitchen, start: date, today: date) -> Outcome:
    row = safety_book().storage[request.food]
    where = request.where or "fridge"
    first, last = use_by(start, request.food, Where(where))
    latest = "" if first == last else f", {wording.day(last)} at the very latest"
    past = " That day has passed: throw it away." if where == "fridge" and last < today else ""
    figures = [date_figure("use by", first, row), days_figure(row) if where == "fridge" else _months_figure(row)]
    if first != last or where == "freezer":
        figures.append(date_figure("latest", last, row))
    quality = ["A freezer date is for quality: hard frozen it stays safe."] if where == "freezer" else [row.note]
    return _told_kept(
        request,
        kitchen,
        f"Use it by {wording.day(first)}{latest}.{past}",
        figures,
        quality,
        f"Use-by date of {row.key} from {wording.day(start)} in the {where}",
        thrown=bool(past),
    )


def _months_figure(row: Storage) -> Figure:
    low, high = Fraction(row.months_low), Fraction(row.months_high)
    return verdict.time_figure("best quality in the freezer", low, "month", row.source, low, high)


def _aged(request: Kept, kitchen: Kitchen, days: Fraction, start: date | None, until: date) -> Outcome:
    assert days >= 0
    row = safety_book().storage[request.food]
    if request.where == "freezer":
        return _long_frozen(request, kitchen, days, row, start)
    span = verdict.span(Fraction(row.days_low), Fraction(row.days_high), "day")
    hours = days * 24
    spent = f"{wording.number(days)} {'day' if days == 1 else 'days'}" if hours >= 24 else f"{wording.number(hours)} h"
    place = "a cool box" if request.box else "the fridge"
    when = f" ({wording.day(start)} to {wording.day(until)})" if start is not None else ""
    cold = verdict.degrees(fridge_limit(kitchen.country).at, verdict.scale_of(kitchen))
    figures = [days_figure(row)]
    if start is not None:
        figures += [date_figure("use by", start + timedelta(days=row.days_low), row)]
    if days > row.days_high:
        says = (
            f"No: {spent} is too long{when}. {_keeps_words(row)} {span} at {cold} or colder; past that, throw it away."
        )
    elif days > row.days_low:
        says = f"Only if you cook or freeze it that day: {spent}{when} is the end of its {span} at {cold} or colder."
    else:
        says = f"Yes, if it was at {cold} or colder all the time: {spent}{when} of its {span}."
        if request.box:
            says += " A cool box is so cold only when packed with ice: without it, 2 hours out are the most."
    notes = [_cold_enough(request), row.note]
    if days > row.days_high and start is not None and request.food == GROUND:
        notes.append("For a later day, freeze it within its days and thaw it in the fridge.")
    return _told_kept(
        request,
        kitchen,
        says,
        figures,
        notes,
        f"{capital(row.key)} kept {spent} in {place}{when}: is it ok?",
        thrown=days > row.days_high,
    )


def _long_frozen(request: Kept, kitchen: Kitchen, days: Fraction, row: Storage, start: date | None) -> Outcome:
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
    figures = [*warm, _months_figure(row)]
    if start is not None:
        first, last = use_by(start, request.food, Where.FREEZER)
        figures += [date_figure("best used by", first, row), date_figure("latest", last, row)]
    spent = f"{wording.number(months)} months"
    since_when = f" since {wording.day(start)}" if start is not None else ""
    understood = f"{capital(row.key)} frozen for {spent}{since_when}: is it ok?"
    return _told_kept(request, kitchen, says, figures, [row.note], understood)


def _told_kept(
    request: Kept,
    kitchen: Kitchen,
    says: str,
    figures: list[Figure],
    notes: list[str],
    understood: str,
    *,
    thrown: bool = False,
) -> Outcome:
    row = safety_book().storage[request.food]
    cooked = request.food in (COOKED, COOKED_CHICKEN)
    touches = {"leftovers"} if cooked else {"storage" if request.food == GROUND else "keep_cold", "cook_temperature"}
    scale = verdict.scale_of(kitchen)
    limit = fridge_limit(kitchen.country)
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
        thrown=thrown,
    )


def _keeps_words(row: Storage) -> str:
    """ "Ground meat keeps", "Cooked patties keep"."""
    name = {"roasts": "a whole piece", "offal": "heart, liver or tongue"}.get(row.key, row.key)
    return f"{capital(name)} {'keep' if name.endswith(('patties', 's')) else 'keeps'}"
