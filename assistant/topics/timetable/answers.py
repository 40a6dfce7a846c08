"""The timetable of a meal: settle the moment, take the amounts from the batch, work back, and say what is too late."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from fractions import Fraction

from msgspec.structs import replace

from assistant import data
from assistant.answer import Answer, Caution, Status
from assistant.engine import timetable as engine
from assistant.engine.timetable import Ahead, Cookout, Have, Kind, Pace, Timetable
from assistant.errors import BadInput
from assistant.language.when import Day
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
    found = worked_back(meal, kitchen, talk)
    if isinstance(found, Outcome):
        return found
    behind = engine.late(found.table, found.now)
    if meal.asks:
        told = telling.one_step(found, Kind(meal.asks))
        return Outcome(replace(told, cautions=cautions(found)), meal=replace(found.meal, asks=""))
    if behind and meal == talk.meal and meal.in_time:
        told = telling.under_way(found)
    elif behind:
        told = telling.too_late(found, behind, replace(found, table=_soonest(found)))
    else:
        told = telling.told(found)
    told = replace(told, cautions=cautions(found))
    kept = replace(found.meal, in_time=not behind or found.meal.in_time)
    return Outcome(told, plan=found.amounts.plan, meal=kept, amends=found.amounts.amends)


def worked_back(meal: Meal, kitchen: Kitchen, talk: Talk) -> Shown | Outcome:
    """A meal worked back from, whether or not it can still be done; or the question that it lacks an answer to."""
    asked = talk.pending.request if talk.pending is not None and isinstance(talk.pending.request, Plan) else None
    request = meal.plan or asked or talk.plan
    meal = replace(meal, plan=None)
    found = None if request is None else of_batch(request, kitchen, talk)
    if isinstance(found, Outcome):
        return replace(found, meal=meal)
    if found is None:
        return _ask(meal, None, "amounts", "For how many people, or how many patties or how much meat?")
    if (meal.clock is None or meal.lit is not None) and meal.grill_only and found.plan.at_once:
        return _at_the_fire(meal, found, kitchen)
    settled = _settled(meal, found, kitchen.now())
    if isinstance(settled, Outcome):
        return replace(settled, plan=found.plan, amends=found.amends)
    meal, serve = settled
    try:
        return _planned(meal, found, cookout_of(meal, found, serve), kitchen)
    except BadInput as fault:
        if fault.argument == "per_round":
            return _too_slow(meal, found)
        if fault.argument != "serve":
            raise
        named = telling.day(serve, kitchen.now())
        skipped = f"The clocks go forward on {named}: {telling.clock(serve)} does not exist that day."
        again = replace(meal, clock=None, half="")
        return replace(_ask(again, found, "clock", f"{skipped} At what time do you serve?"), plan=found.plan)


def _too_slow(meal: Meal, amounts: Amounts) -> Outcome:
    """More rounds than fit into the two days that ground meat keeps: nobody is told to start earlier."""
    question = (
        "With so few on the grill at once, the first mince would wait longer than the 1 to 2 days that it keeps in the "
        "fridge. How many fit on at once, or how many fewer do you need?"
    )
    return replace(_ask(meal, amounts, "amounts", question), plan=amounts.plan)


def _at_the_fire(meal: Meal, amounts: Amounts, kitchen: Kitchen) -> Outcome:
    """How long all rounds take, where no hour was named."""
    shown = _planned(meal, amounts, cookout_of(meal, amounts, kitchen.now()), kitchen)
    told = replace(telling.fire(shown), cautions=cautions(shown))
    return Outcome(told, plan=amounts.plan, meal=meal, amends=amounts.amends)


def _settled(meal: Meal, amounts: Amounts, now: datetime) -> tuple[Meal, datetime] | Outcome:
    """The meal with its day, and the moment of serving; or the question for what is not said or not clear."""
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
    return meal, serve


def _planned(meal: Meal, amounts: Amounts, cookout: Cookout, kitchen: Kitchen) -> Shown:
    table = engine.timetable(cookout)
    if table.by_night and not meal.ahead and cookout.have is not Have.PATTIES:
        cookout = replace(cookout, ahead=Ahead.PATTIES)
        table = engine.timetable(cookout)
    return Shown(meal, cookout, table, amounts, kitchen, kitchen.now())


def _soonest(shown: Shown) -> Timetable:
    """The same meal as soon as it can be; nobody wants burgers at two in the morning, so rather at its own hour of
    another day."""
    soonest = engine.earliest(shown.cookout, shown.now)
    same_day = soonest.steps[-1].end.date() == shown.cookout.serve.date()
    return soonest if same_day and not soonest.by_night else engine.earliest_day(shown.cookout, shown.now)


def cookout_of(meal: Meal, amounts: Amounts, serve: datetime) -> Cookout:
    """The meal as the engine takes it, with what was not said taken for granted."""
    plan = amounts.plan
    have = Have.PATTIES if meal.grill_only else Have(meal.have) if meal.have else _had(amounts, meal)
    ahead = Ahead(meal.ahead) if meal.ahead else Ahead.NOTHING
    if have is Have.PATTIES or (have is Have.GROUND and ahead is Ahead.CUBES):
        ahead = Ahead.NOTHING
    pace = Pace().shared(meal.hands)
    if meal.grill_only:
        pace = replace(pace, rest=0, salt=0)
    return Cookout(
        serve=serve,
        patties=amounts.count,
        per_round=int(plan.at_once) if plan.at_once else AT_ONCE,
        round_minutes=ROUND_MINUTES if meal.round_minutes is None else meal.round_minutes,
        gap_minutes=meal.gap_minutes or 0,
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
    day = meal.on or (None if meal.day is None else _named(meal.day, meal.near, now.date()))
    if day is None:
        return None
    serve = datetime.combine(day + tomorrow, clock, now.tzinfo)
    named = meal.on is None and meal.day is not None and meal.day.weekday is not None
    return serve + timedelta(days=7) if named and serve <= now else serve


def _named(day: Day, near: date | None, today: date) -> date | None:
    """The calendar day that was named; one that changes a day said before lies as near to it as can be."""
    spread = timedelta(days=3 if day.weekday is not None and day.day is None else 182)
    if near is None or day.relative is not None or near - today <= spread:
        return day.on(today)
    return day.on(near - spread)


def _on(meal: Meal, serve: datetime) -> date:
    """The day that was named: midnight is the end of it."""
    at_midnight = serve.time() == time(0) and (meal.day is not None or meal.on is not None)
    return serve.date() - timedelta(days=1) if at_midnight else serve.date()


def _ask(meal: Meal, amounts: Amounts | None, missing: str, question: str) -> Outcome:
    understood = telling.understood(meal, amounts)
    asked = Answer(understood, Status.NEEDS_DETAIL, TOPIC, message=question)
    return Outcome(asked, pending=Pending(TOPIC, meal, missing), meal=meal)


def cautions(shown: Shown) -> tuple[Caution, ...]:
    """The reminders that a timetable touches; holding hot is pressing where the first round would wait too long."""
    plan = shown.amounts.plan
    touches = {"cook_temperature", "keep_cold", *plan.touches}
    if shown.cookout.frozen:
        touches.add("thaw_counter")
    if shown.table.rounds > 1:
        touches.add("hold_hot")
    if any(group.sort == "kid" for group in plan.groups):
        touches.add("at_risk")
    urgent = {"hold_hot"} if shown.table.waits_too_long else set()
    return reminders(shown.amounts.species, shown.kitchen.country, touches=touches, urgent=urgent)
