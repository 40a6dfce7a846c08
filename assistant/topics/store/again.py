"""Freezing again, reheating, and packs with a date of their own."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant import wording
from assistant.data.safety import safety_book
from assistant.engine.safety import Refreeze, refreeze
from assistant.language.phrases import Count, Moment
from assistant.language.sentence import Sentence
from assistant.language.when import Day
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.store.food import GROUND, days_figure

METHODS = (("cold_water", "cold water"), ("hot_water", "hot water"), ("microwave", "microwave"), ("counter", "counter"))


class Refrozen(Struct, frozen=True):
    """May it be frozen again? method: a key of the thaw rows, "" where not said; days: since it thawed; thawed: the
    day on which it did."""

    method: str = ""
    minutes_out: Fraction = Fraction(0)
    days: Fraction = Fraction(0)
    country: str = ""
    thawed: Day | None = None


class Reheat(Struct, frozen=True):
    """How hot leftovers must be, or (chill) how soon they must be in the fridge."""

    scale: str = ""
    named: frozenset[str] = field(default_factory=frozenset)
    chill: bool = False


class Label(Struct, frozen=True):
    """A pack with a use-by date of its own. day: that date, None where it was only said to be past; frozen: it was in
    the freezer; wanted: the day on which it is to be cooked."""

    day: Day | None = None
    past: bool = False
    frozen: bool = False
    wanted: Day | None = None


_PRINTED = Pattern(
    r"\b(?:pack(?:et|age)?|packaging|label|tray|sticker)(?:'?s)?\b.*\b(?:use|sell|best|eat|cook|expir)"
    r"|\b(?:use|sell|eat|best)[\s-](?:by|before)\b.*\bon\s+(?:the|its|my)\s+(?:pack(?:et|age)?|label|tray|sticker)\b",
    re.IGNORECASE,
)


_DATED = Pattern(r"\b(use|sell|best)[ -]?(by|before)( date)?( is| was| of| says| said|:)?( on)?$")
"""What stands just before the day that a pack bears: "use by yesterday"."""
_WORKED = Pattern(r"\b(ground|minced|made|bought|opened|formed)\b")
_DATED_AGO = Pattern(r"\b(use|sell|best)[ -]?(by|before)( date)?( is| was)? [\w ]{1,14} ago\b")
"""A date that is past by so many days: "sell by 2 days ago"."""
_BEGAN = Pattern(r"\b(ground|minced|made|bought|opened|formed|cooked|grind|mince) (it|them|on|this|today|at)\b")
"""A day of grinding beside it: then the day after "use by" is the cook's own wish."""


def read_label(sentence: Sentence) -> Reading | None:
    """A pack with a date of its own."""
    days = heard.days(sentence)
    printed = sentence.has("use_by") and _PRINTED.search(sentence.text) is not None
    dated = 1 <= len(days) <= 2 and _DATED.search(sentence.text[: days[0].first].lower().rstrip()) is not None
    # "use by saturday if ground thursday" tells the day of the grinding, and a wish
    dated = dated and (len(days) == 1 or _WORKED.search(sentence.text.lower()) is None)
    dated = (
        (dated or _DATED_AGO.search(sentence.text.lower()) is not None)
        and _BEGAN.search(sentence.text.lower()) is None
        and not sentence.has("what", "how_long", "when")
    )
    if not printed and not dated and not sentence.has("label_date"):
        return None
    spells = heard.durations(sentence)
    past = any(word in sentence.text.lower() for word in ("past", "expired", "out of date", "after", "ago"))
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *days])
    wanted = days[1].day if len(days) > 1 else None
    return Reading(Label(days[0].day if days else None, past or bool(spells), sentence.has("freezer"), wanted), used, 2)


def reply_label(sentence: Sentence, talk: Talk) -> Reading | None:
    """The date on the pack, where that was asked for."""
    pending, days = talk.pending, heard.days(sentence)
    if pending is None or not isinstance(pending.request, Label) or not days:
        return None
    return Reading(replace(pending.request, day=days[0].day), heard.plain_words(sentence) | heard.all_of(days[:1]), 2)


def read_refreeze(sentence: Sentence) -> Reading | None:
    """May it be frozen again."""
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
    before = [day for day in heard.days(sentence) if _is_gone(sentence, day)]
    request = Refrozen(method, out * 60, days, heard.country(sentence), before[0].day if before else None)
    # half of it or all of it: the rule is the same
    some = [count for count in sentence.of(Count) if count.piece]
    used = heard.plain_words(sentence) | heard.all_of([*(phrase for phrase, _, _ in spells), *some, *before[:1]])
    return Reading(request, used, 2)


def _is_gone(sentence: Sentence, moment: Moment) -> bool:
    """Whether a day is one that has passed: "yesterday", "last Monday", "thawed on Monday", but not "for Monday"."""
    day = moment.day
    told = re.search(r"\b(on|since)\s*$", sentence.text[: moment.first].lower()) is not None
    return day is not None and ((day.relative or 0) < 0 or day.last or told)


_COOLING = Pattern(
    r"\bhow (fast|soon|quick|quickly|long)\b[\w ]*\b(cool|chill)\b|\b(cool|chill)(ing)?\b.*\b(fast|quick\w*|before|fridge|overnight)\b"
)
"""How people ask how soon what is cooked must be cold."""


def read_reheat(sentence: Sentence) -> Reading | None:
    """How hot to reheat, or how soon leftovers must be cold."""
    words = [word.text.lower() for word in sentence.words("cue") if word.payload == "leftover"]
    if heard.still_warm_into_the_fridge(sentence):
        return Reading(Reheat(chill=True), heard.plain_words(sentence), 2)
    text = sentence.text.lower()
    cooked = sentence.has("cooked", "leftover") or heard.HOT_DISH.search(text) is not None
    if cooked and _COOLING.search(text) and not heard.durations(sentence) and not heard.clocks(sentence):
        return Reading(Reheat(chill=True), heard.plain_words(sentence), 2)
    if words and re.search(r"\bhow (fast|soon|quick|quickly)\b|\bwhen (do|must|should)\b", sentence.text.lower()):
        return Reading(Reheat(chill=True), heard.plain_words(sentence), 2)
    warming = any(text.startswith(("reheat", "re heat", "warm", "heat")) for text in words)
    before = [day for day in heard.days(sentence) if day.day is not None and (day.day.relative or 0) < 0]
    told = heard.warmed_again(sentence) and sentence.has("temp", "middle", "how_much")
    if not warming and not told and not (words and sentence.has("temp")):
        return None
    if heard.durations(sentence) or len(before) != len(heard.days(sentence)):
        return None
    used = heard.plain_words(sentence) | heard.all_of(before)
    return Reading(Reheat(heard.asked_scale(sentence), heard.meat(sentence).species), used, 2)


def answer_label(request: Label, kitchen: Kitchen) -> Outcome:
    """Whether the pack's own date has passed."""
    today = kitchen.now().date()
    day = None if request.day is None else _printed_day(request, today)
    row = safety_book().storage[GROUND]
    when = f" of {wording.day(day)}" if day else ""
    wanted = None if request.wanted is None else heard.day_on(request.wanted, today, past=False)
    passed = request.past or (day is not None and day < (wanted or today))
    if passed and request.frozen:
        says = f"Only if it was frozen before its use-by date{when} and stayed frozen hard. Frozen after that day: throw it away."
    elif passed:
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
        figures=[days_figure(row)],
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"storage", "smell"}),
        notes=[
            "Frozen before that date it stays safe; thaw it in the fridge.",
            f"Source: {row.source}. {verdict.LOCAL}",
        ],
        working=(f"{row.key}: {row.days_low} to {row.days_high} days ({row.source}).",),
    )


_THROW = "throw it away."


def _printed_day(request: Label, today: date) -> date | None:
    """The day on the pack: of two years that it may be, the one that is nearer to today."""
    assert request.day is not None
    coming = heard.day_on(request.day, today, past=request.past)
    gone = heard.day_on(request.day, today, past=True)
    near = gone is not None and coming is not None and coming > today and today - gone < coming - today
    return gone if near and request.day.weekday is None else coming


def answer_refreeze(request: Refrozen, kitchen: Kitchen) -> Outcome:
    """By how it thawed and how long it was out."""
    kitchen = verdict.kitchen_in(kitchen, request.country)
    today = kitchen.now().date()
    thawed = None if request.thawed is None else heard.day_on(request.thawed, today, past=True)
    if thawed is not None:
        request = replace(request, days=max(request.days, Fraction((today - thawed).days)))
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
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"keep_cold", "cook_temperature", "refreeze"}),
        notes=[
            f"{_counts(uk=uk)} Firming cubes for an hour is no freezing.",
            f"Source: {'Food Standards Agency' if uk else 'USDA FSIS'}. {verdict.LOCAL}",
        ],
        working=tuple(f"{rule.text} ({rule.source})" for rule in safety_book().rules_on("refreeze")[:3]),
        thrown=says.endswith(_THROW),
    )


def _counts(*, uk: bool) -> str:
    if uk:
        return "Thawed meat is cooked within 24 hours of full thaw."
    return "Thawed ground meat counts its 1 to 2 days from when it thawed."


def _refreeze_words(request: Refrozen, country: str) -> str:
    row = verdict.figure("uk_fully_thawed_cook_within" if country == "uk" else "thawed_keeps_ground")
    too_old = request.days > (Fraction(1) if country == "uk" else row.high or 0)
    if too_old and country == "uk":
        return f"No: thawed meat is cooked within 24 hours of full thaw. Older than that, {_THROW}"
    if too_old:
        return f"No: thawed ground meat keeps 1 to 2 days in the fridge. Older than that, {_THROW}"
    if not request.method:
        if country == "uk":
            return "No: not raw. Cook it within 24 hours of full thaw; the cooked meat may be frozen."
        return "Only if it thawed in the fridge at 40 °F (4 °C) or colder and was out no more than 2 hours; else cook it first."
    minutes = request.minutes_out
    unknown = request.method in ("counter", "hot water") and not minutes
    judged = refreeze(request.method, None if unknown else minutes, None, country)
    if judged is Refreeze.MAY:
        return "Yes: thawed in the fridge and never out for more than 2 hours, it may be frozen again raw, within its 1 to 2 days."
    if judged is Refreeze.COOK_FIRST:
        needed, scale = verdict.needed_for(heard.Meat(), country), "degF" if country == "us" else "degC"
        mark = f"{verdict.degrees(needed, scale)}{verdict.hold_words(needed)}"
        poultry = verdict.degrees(verdict.needed_for(heard.Meat(frozenset({"chicken"})), country), scale)
        return f"No: not raw. Cook it first, right away, to {mark}, with poultry {poultry}; then it may be frozen."
    return f"No: thawed {_how_thawed(request.method)} it may have been warm for more than 2 hours: {_THROW}"


def _how_thawed(method: str) -> str:
    return {"fridge": "in the fridge", "microwave": "in the microwave", "counter": "on the counter", "": "before"}.get(
        method, f"in {method}"
    )


def answer_reheat(request: Reheat, kitchen: Kitchen) -> Outcome:
    """The temperature, or how soon to chill."""
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
        "Straight into the fridge, warm as they are: within 2 hours, 1 hour above 90 °F (32 °C), in dishes no deeper than "
        "2 in (5 cm).",
        figures=[verdict.from_book("in the fridge within", usual), verdict.from_book("above 90 °F within", hot)],
        cautions=verdict.with_meat(heard.Meat(request.named), kitchen, {"leftovers", "keep_cold"}),
        notes=["They keep 3 to 4 days at 40 °F (4 °C) or colder.", f"Source: {usual.source}. {verdict.LOCAL}"],
        working=(f"{usual.value} h ({usual.source}).",),
    )
