"""The timetable of a meal: settle the moment, take the amounts from the batch, work back, and say what is too late."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from fractions import Fraction

from msgspec.structs import replace

from assistant import data
from assistant.answer import Answer, Caution, Status
from assistant.engine import timetable as engine
from assistant.engine.timetable import Ahead, Cookout, Have, Pace, Timetable
from assistant.errors import BadInput
from assistant.topics.base import Kitchen, Outcome, Pending, Talk
from assistant.topics.cautions import is_poultry, reminders
from assistant.topics.plan.request import Plan
from assistant.topics.timetable import telling
from assistant.topics.timetable.amounts import Amounts, of_batch
from assistant.topics.timetable.request import Meal
from assistant.topics.timetable.telling import TOPIC, Shown

AT_ONCE, ROUND_MINUTES = 12, Fraction(10)
"""Patties in a round and minutes of one where nobody said: common practice, no source; always told as assumed."""


def answer(meal: Meal, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The timetable of a meal, or what is missing for it. Never raises for what people can say."""
    keep = replace(meal, plan=None)
    asked = talk.pending.request if talk.pending is not None and isinstance(talk.pending.request, Plan) else None
    request = meal.plan or asked or talk.plan
    found = None if request is None else of_batch(request, kitchen, talk)
    if isinstance(found, Outcome):
        return replace(found, meal=keep)
    if found is None:
        question = "For how many people, or how many patties or how much meat?"
        return _ask(keep, None, "amounts", question)
    outcome = _worked_back(keep, found, kitchen)
    return replace(outcome, plan=found.plan, amends=found.amends)


def _worked_back(meal: Meal, amounts: Amounts, kitchen: Kitchen) -> Outcome:
    now = kitchen.now()
    if meal.clock is None:
        return _ask(meal, amounts, "clock", "At what time do you serve? For example: 1 pm.")
    if not meal.half:
        hour = f"{meal.clock.hour}:{meal.clock.minute:02d}"
        return _ask(meal, amounts, "half", f"Is that {hour} in the morning or {hour} in the evening?")
    serve = moment(meal, now)
    if serve is None:
        return _ask(replace(meal, day=None), amounts, "day", "No calendar has that day. On which day do you serve?")
    meal = replace(meal, on=_on(meal, serve))
    if meal.frozen and meal.pack_g is None and meal.have != "patties":
        return _ask(meal, amounts, "pack", "How heavy is one frozen pack? For example: 2 lb, or 1 kg.")
    if serve <= now:
        past = f"{telling.when(serve, now)} is past already. When do you serve?"
        return _ask(replace(meal, day=None, on=None), amounts, "day", past)
    try:
        return _told(meal, amounts, cookout_of(meal, amounts, serve, kitchen), kitchen, now)
    except BadInput as fault:
        if fault.argument != "serve":
            raise
        skipped = f"The clocks go forward on {telling.day(serve, now)}: {telling.clock(serve)} does not exist that day."
        return _ask(replace(meal, clock=None, half=""), amounts, "clock", f"{skipped} At what time do you serve?")


def _told(meal: Meal, amounts: Amounts, cookout: Cookout, kitchen: Kitchen, now: datetime) -> Outcome:
    table = engine.timetable(cookout)
    if table.by_night and not meal.ahead and cookout.have is not Have.PATTIES:
        cookout = replace(cookout, ahead=Ahead.PATTIES)
        table = engine.timetable(cookout)
    shown = Shown(meal, cookout, table, amounts, kitchen, now)
    behind = engine.late(table, now)
    if behind:
        soonest = engine.earliest(cookout, now)
        if soonest.by_night or soonest.steps[-1].end.date() != cookout.serve.date():
            # nobody wants burgers at two in the morning: the same hour of another day
            soonest = engine.earliest_day(cookout, now)
        told = telling.too_late(shown, behind, replace(shown, table=soonest))
    else:
        told = telling.told(shown)
    return Outcome(replace(told, cautions=_cautions(amounts, kitchen, cookout, table)), meal=meal)


def cookout_of(meal: Meal, amounts: Amounts, serve: datetime, kitchen: Kitchen) -> Cookout:
    """The meal as the engine takes it, with what was not said taken for granted."""
    plan = amounts.plan
    have = Have.PATTIES if meal.grill_only else Have(meal.have) if meal.have else _had(amounts, meal)
    ahead = Ahead(meal.ahead) if meal.ahead else Ahead.NOTHING
    if have is Have.PATTIES or (have is Have.GROUND and ahead is Ahead.CUBES):
        ahead = Ahead.NOTHING
    pace = Pace().shared(max(1, min(meal.hands, engine.MOST_HANDS)))
    if meal.grill_only:
        pace = replace(pace, rest=0, salt=0)
    return Cookout(
        serve=serve,
        patties=amounts.count,
        per_round=int(plan.at_once) if plan.at_once else AT_ONCE,
        round_minutes=meal.round_minutes or ROUND_MINUTES,
        mass_g=amounts.grams,
        have=have,
        ahead=ahead,
        frozen=bool(meal.frozen) and not meal.grill_only,
        pack_g=meal.pack_g,
        season=any(pinch.key not in ("salt", "cure") for pinch in plan.seasonings),
        poultry=is_poultry(amounts.species),
        ambient_f=meal.ambient_f,
        pace=pace,
    )


def _had(amounts: Amounts, meal: Meal) -> Have:
    """What there is to start from, by how the batch was put: "I have 6 lb of chuck", "5 lb of mince"."""
    items, rows = amounts.plan.items, data.cuts()
    if items and all(item.keys and all(rows[key].kind == "ground" for key in item.keys) for item in items):
        return Have.GROUND
    if meal.frozen or any(item.weight_is in ("have", "all") for item in items):
        return Have.CUTS
    return Have.NOTHING


def moment(meal: Meal, now: datetime) -> datetime | None:
    """When it is served, in the zone of `now`; None for a day that no calendar has.

    Without a day the next time that the clock shows the hour; midnight ends the day that was named.
    """
    assert meal.clock is not None
    hour = meal.clock.hour % 12 + (12 if meal.half == "pm" else 0)
    clock = time(hour, meal.clock.minute)
    tomorrow = timedelta(days=1) if clock == time(0) else timedelta(0)
    if meal.on is None and meal.day is None:
        today = datetime.combine(now.date(), clock, now.tzinfo)
        return today if today > now else datetime.combine(now.date() + timedelta(days=1), clock, now.tzinfo)
    day = meal.on or (None if meal.day is None else meal.day.on(now.date()))
    if day is None:
        return None
    serve = datetime.combine(day + tomorrow, clock, now.tzinfo)
    named = meal.on is None and meal.day is not None and meal.day.weekday is not None
    return serve + timedelta(days=7) if named and serve <= now else serve


def _on(meal: Meal, serve: datetime) -> date:
    """The day that was named: midnight is the end of it."""
    at_midnight = serve.time() == time(0) and (meal.day is not None or meal.on is not None)
    return serve.date() - timedelta(days=1) if at_midnight else serve.date()


def _ask(meal: Meal, amounts: Amounts | None, missing: str, question: str) -> Outcome:
    understood = telling.understood(meal, amounts)
    asked = Answer(understood, Status.NEEDS_DETAIL, TOPIC, message=question)
    return Outcome(asked, pending=Pending(TOPIC, meal, missing), meal=meal)


def _cautions(amounts: Amounts, kitchen: Kitchen, cookout: Cookout, table: Timetable) -> tuple[Caution, ...]:
    touches = {"cook_temperature", "keep_cold", *amounts.plan.touches}
    if cookout.frozen:
        touches.add("thaw_counter")
    if table.rounds > 1:
        touches.add("hold_hot")
    if any(group.sort == "kid" for group in amounts.plan.groups):
        touches.add("at_risk")
    urgent = {"hold_hot"} if table.waits_too_long else set()
    return reminders(amounts.species, kitchen.country, touches=touches, urgent=urgent)
