"""A timetable in words: the moment of every step as a figure, what to do as steps, what was taken for granted as notes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from itertools import groupby

from msgspec import Struct
from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Figure, Role, Status, Wait
from assistant.data.safety import safety_book
from assistant.engine.portion import even_rounds
from assistant.engine.safety import out_of_fridge
from assistant.engine.timetable import Ahead, Cookout, Have, Kind, Step, Timetable
from assistant.topics.base import Kitchen
from assistant.topics.plan.restate import understood as restated
from assistant.topics.plan.section import system
from assistant.topics.timetable.amounts import Amounts
from assistant.topics.timetable.request import Meal
from assistant.topics.verdict import degrees, scale_of

TOPIC = "timetable"
MOST_ROUNDS = 4
"""More rounds than this are told as the first, the last and how far apart."""
DONE = {
    Kind.BUY: ("buy", "shopping"),
    Kind.KEEP: ("keep cold", "shopping"),
    Kind.THAW: ("thaw", "thawing"),
    Kind.CUBE: ("cube", "cubing"),
    Kind.CHILL_CUBES: ("chill the cubes", "chilling the cubes"),
    Kind.FIRM: ("firm up", "firming up the cubes"),
    Kind.GRIND: ("grind", "grinding"),
    Kind.SEASON: ("season", "seasoning"),
    Kind.CHILL: ("chill", "chilling"),
    Kind.FORM: ("form", "forming"),
    Kind.CHILL_PATTIES: ("chill patties", "chilling the patties"),
    Kind.SALT: ("salt", "salting"),
    Kind.COOK: ("cook", "cooking"),
    Kind.REST: ("rest", "resting"),
}
"""What a step is called in a table, and in a sentence about beginning it."""


TIMED = {Kind.FIRM: "cubes", Kind.CHILL: "chill", Kind.CHILL_PATTIES: "patties", Kind.REST: "rest"}
"""Steps that take time by themselves, and what a timer for one is called."""
LONGEST_TIMER = 180
"""Minutes: nobody sets a kitchen timer for a night."""


class Shown(Struct, frozen=True):
    """All that a timetable is told from."""

    meal: Meal
    cookout: Cookout
    table: Timetable
    amounts: Amounts
    kitchen: Kitchen
    now: datetime

    @property
    def serve(self) -> datetime:
        """When the last step ends."""
        return self.table.steps[-1].end


def told(shown: Shown) -> Answer:
    """The timetable of a meal that lies far enough ahead."""
    return _told(shown, f"{what_is_served(shown)} for {when(shown.serve, shown.now)}: {_begins(shown)}.")


def under_way(shown: Shown) -> Answer:
    """The timetable of a meal that was told in time, asked for again while the work goes on: where it stands now."""
    begun = [step for step in shown.table.steps if step.start.astimezone(UTC) <= shown.now.astimezone(UTC)]
    ahead = [step for step in shown.table.steps if step not in begun]
    now = f"Now: {DONE[begun[-1].kind][1]}, until {_at(begun[-1].end, shown.now, shown.now)}"
    nxt = f"next {DONE[ahead[0].kind][1]}" if ahead else "next you serve"
    at = shown.serve if not ahead else ahead[0].start
    return _told(
        shown, f"{now}; {nxt} at {_at(at, shown.now, shown.now)}. You serve at {when(shown.serve, shown.now)}."
    )


def fire(shown: Shown) -> Answer:
    """How long the rounds take one after the other, and when they are done where it was said when they begin."""
    rounds, gap = shown.table.rounds, Fraction(shown.cookout.gap_minutes)
    minutes = Fraction(shown.cookout.round_minutes) * rounds + gap * (rounds - 1)
    headline = f"{what_is_served(shown)}: {wording.counted(rounds, 'round')} take {wording.duration(minutes)}"
    headline += f", {wording.duration(gap)} between them counted in." if gap and rounds > 1 else "."
    told = _told(shown, headline)
    kept = tuple(figure for figure in told.figures if figure.role is not Role.CLOCK_TIME)
    whole = Figure("all rounds", Role.DURATION, float(minutes), "minute", shown=wording.duration(minutes))
    said = restated(shown.amounts.plan) + f"; {wording.duration(shown.cookout.round_minutes)} a round"
    said += f"; {wording.duration(gap)} between rounds" if gap else ""
    fire = replace(told, understood=said, figures=(*kept, whole), notes=("Say when you serve for the times of day.",))
    return fire if shown.meal.lit is None else _done_at(shown, fire, minutes)


def _done_at(shown: Shown, fire: Answer, minutes: Fraction) -> Answer:
    """When the last round comes off, where the first goes on at a clock time; and whether that is before the meal."""
    assert shown.meal.lit is not None
    start = datetime.combine(shown.now.date(), shown.meal.lit)
    end = start + timedelta(minutes=math.ceil(minutes))
    text = f"{fire.headline} Lit at {clock(start)}, the last come off at {clock(end)}"
    meal = shown.meal.clock
    if meal is not None and shown.meal.half:
        hour = meal.hour % 12 + (12 if shown.meal.half == "pm" else 0)
        served = start.replace(hour=hour, minute=meal.minute)
        late = math.ceil((end - served) / timedelta(minutes=1))
        spare = wording.duration(Fraction(abs(late)))
        text += f", {spare} {'after' if late > 0 else 'before'} {clock(served)}" if late else f", at {clock(served)}"
    figure = Figure("last round off", Role.CLOCK_TIME, end.strftime("%H:%M"), "time", shown=clock(end))
    return replace(fire, headline=f"{text}.", figures=(*fire.figures, figure), notes=())


def one_step(shown: Shown, kind: Kind) -> Answer:
    """When one step of the timetable begins, and what is done in it."""
    group = [step for step in shown.table.steps if step.kind is kind]
    name, doing = DONE[kind]
    if not group:
        headline = f"There is no {doing} in this timetable: {_begins(shown)}."
        return replace(_told(shown, headline), figures=(), steps=(), waits=())
    at = group[-1].end if kind is Kind.BUY else group[0].start
    opening = "Have bought the meat by" if kind is Kind.BUY else f"{name.capitalize()} at"
    figure = Figure(name, Role.CLOCK_TIME, at.isoformat(), "time", shown=f"{day(at, shown.now)}, {clock(at)}")
    told = _told(shown, f"{opening} {when(at, shown.now)}.")
    return replace(told, figures=(figure,), steps=(what_to_do(shown, kind, group),), notes=(), waits=())


def _told(shown: Shown, headline: str) -> Answer:
    return Answer(
        understood=understood(shown.meal, shown.amounts),
        status=Status.ANSWERED,
        topic=TOPIC,
        headline=headline,
        figures=figures(shown),
        steps=steps(shown),
        notes=notes(shown),
        working=_working(shown),
        waits=_waits(shown),
    )


def _begins(shown: Shown) -> str:
    """When the work begins, and where that is on another day when to have bought the meat."""
    steps = shown.table.steps
    work = next((step for step in steps if step.kind not in (Kind.BUY, Kind.KEEP)), steps[0])
    text = f"begin {DONE[work.kind][1]} at {_at(work.start, shown.serve, shown.now)}"
    bought = next((step.end for step in steps if step.kind is Kind.BUY), None)
    if bought is not None and bought.date() != work.start.date():
        text += f", buy by {when(bought, shown.now)}"
    return text


def too_late(shown: Shown, behind: Sequence[Step], best: Shown) -> Answer:
    """What should have been begun already, said first, and the earliest that it can be served instead."""
    first = behind[0]
    work = next((step for step in behind if step.kind not in (Kind.BUY, Kind.KEEP)), None)
    missed = first if work is None else work
    says = [
        f"Too late for {when(shown.serve, shown.now)}: you should have begun {DONE[missed.kind][1]} "
        f"at {when(missed.start, shown.now)}.",
        f"Begun now, it can be served at {when(best.serve, shown.now)}.",
    ]
    if missed.kind is Kind.BUY:
        says.append('If the meat is here already, say "I have the meat".')
    elif missed.kind is Kind.THAW:
        says.append("Or thaw small packs in cold water and cook the meat at once.")
    else:
        says.append('If it is done already, say so: "the meat is minced", "the patties are made".')
    return Answer(
        understood=understood(shown.meal, shown.amounts),
        status=Status.IMPOSSIBLE,
        topic=TOPIC,
        message=" ".join(says),
        figures=figures(best),
        steps=steps(best),
        notes=notes(best),
        working=_working(best),
    )


def understood(meal: Meal, amounts: Amounts | None) -> str:
    """The request in full, in words that read back to the same one."""
    words = ["Timetable"]
    if meal.on is not None and meal.clock is not None and meal.half:
        hour = meal.clock.hour % 12 + (12 if meal.half == "pm" else 0)
        words.append(f"serving at {wording.clock(meal.clock.replace(hour=hour))} on {wording.day(meal.on)}")
    if amounts is not None:
        plan = restated(amounts.plan)
        words.append(plan[:1].lower() + plan[1:])
    if meal.frozen:
        packs = f" in {wording.weight(meal.pack_g, 'metric')} packs" if meal.pack_g else ""
        words.append(f"frozen{packs}")
    if meal.hands > 1:
        words.append(f"{meal.hands} of us")
    if meal.ahead in ("patties", "cubes"):
        words.append(f"{'made' if meal.ahead == 'patties' else 'cubed'} the day before")
    return "; ".join(words)


# ---- figures


def figures(shown: Shown) -> tuple[Figure, ...]:
    """The amounts, then the moment at which each step begins, the rounds together where there are many."""
    fire = (Role.PATTY_COUNT,) if shown.meal.grill_only else tuple(Role)
    found = [figure for figure in shown.amounts.figures if figure.role in fire]
    if shown.table.rounds > 1:
        found.append(Figure("rounds", Role.RATIO, float(shown.table.rounds), "count", shown=str(shown.table.rounds)))
    return (*found, *moments(shown))


def moments(shown: Shown) -> tuple[Figure, ...]:
    """When each step begins, and when it is served; a day is named where it changes."""
    rows = [(name, step.end if step.kind is Kind.BUY else step.start) for name, step in _rows(shown)]
    found, told_on = [], None
    for name, at in (*rows, ("serve", shown.serve)):
        text = clock(at) if at.date() == told_on else f"{day(at, shown.now)}, {clock(at)}"
        told_on = at.date()
        found.append(Figure(name, Role.CLOCK_TIME, at.isoformat(), "time", shown=text))
    return tuple(found)


def _rows(shown: Shown) -> list[tuple[str, Step]]:
    rows = []
    for step in shown.table.steps:
        if step.kind is Kind.KEEP:
            continue
        if step.kind is Kind.COOK:
            if shown.table.rounds == 1:
                rows.append(("cook", step))
            elif shown.table.rounds <= MOST_ROUNDS or step.number in (1, shown.table.rounds):
                rows.append((f"round {step.number}", step))
            continue
        rows.append((f"{DONE[step.kind][0]} by" if step.kind is Kind.BUY else DONE[step.kind][0], step))
    return rows


# ---- steps


def steps(shown: Shown) -> tuple[str, ...]:
    """What to do, in order; the rounds are one step."""
    return tuple(
        what_to_do(shown, kind, list(group)) for kind, group in groupby(shown.table.steps, key=lambda step: step.kind)
    )


def _waits(shown: Shown) -> tuple[Wait, ...]:
    """The steps of some minutes in which nobody has anything to do: those that are worth a timer."""
    found = []
    for place, (kind, group) in enumerate(groupby(shown.table.steps, key=lambda step: step.kind)):
        minutes = int(_span(list(group)))
        if kind in TIMED and minutes <= LONGEST_TIMER:
            found.append(Wait(place, TIMED[kind], minutes, minutes))
    return tuple(found)


def what_to_do(shown: Shown, kind: Kind, group: Sequence[Step]) -> str:
    """One step as a sentence, with its amounts and how long it takes."""
    long = _long(group)
    whole = wording.both(shown.amounts.grams, _speak(shown))
    lots = "" if shown.table.lots < 2 else f" Work in {shown.table.lots} lots; the others stay in the fridge."
    processor = shown.kitchen.settings.get("machine") == "processor"
    limit = wording.duration(_out_limit(shown))
    fridge = degrees(safety_book().temperatures["fridge_max"].at, scale_of(shown.kitchen))
    if kind is Kind.BUY:
        return f"Buy {_bought(shown, whole)}{_from(shown)}; straight into the fridge with it."
    if kind is Kind.KEEP:
        place = "the freezer" if group[0].note == "freezer" else f"the fridge at {fridge} or colder"
        return f"Keep the meat in {place} until then."
    if kind is Kind.THAW:
        return f"Move the packs from the freezer to the fridge: {long}. Never on the counter."
    if kind is Kind.CUBE:
        return f"Trim and cut {whole} into 1 in (25 mm) cubes: {long}. No meat out of the fridge over {limit} in all.{lots}"
    if kind is Kind.CHILL_CUBES:
        return f"Leave the cubes overnight in the fridge at {fridge} or colder: {long}."
    if kind is Kind.FIRM:
        parts = "bowl and blade" if processor else "grinder parts"
        return f"Freeze the cubes on trays until firm at the edges, about {long}; chill the {parts} with them."
    if kind is Kind.GRIND:
        if processor:
            return f"Pulse loads of 1/2 lb (225 g): {long} or more; each back into the fridge as it is done."
        return f"Grind: {long}. Each lot goes back into the fridge as it is done."
    if kind is Kind.SEASON:
        return f"Mix in the seasoning, but no salt yet: {long}."
    if kind is Kind.CHILL:
        return f"Chill the mix in the fridge: {long}."
    if kind is Kind.FORM:
        return f"Form {what_is_served(shown)}, a dimple in each: {long}. Trays back into the fridge as they fill."
    if kind is Kind.CHILL_PATTIES:
        if group[0].note == "overnight":
            keeps = _patties_keep()
            return f"Leave the patties overnight in the fridge at {fridge} or colder: {long}; {keeps} is the most."
        slack = wording.duration(shown.table.slack_minutes)
        return f"Chill the patties in the fridge: {long}, {slack} of it slack."
    if kind is Kind.SALT:
        return f"Light the grill early enough. Salt the outside just before {'each round' if shown.table.rounds > 1 else 'cooking'}."
    if kind is Kind.COOK:
        return _cooking(shown)
    return f"Rest {long} and serve."


def _cooking(shown: Shown) -> str:
    each = wording.duration(shown.cookout.round_minutes)
    hot = degrees(safety_book().temperatures["hot_hold"].at, scale_of(shown.kitchen))
    if shown.table.rounds == 1:
        return f"Cook all {shown.amounts.count} in one round, about {each}, by thermometer."
    fill = even_rounds(shown.amounts.count, shown.cookout.per_round)
    most = f"{max(fill)}" if max(fill) == min(fill) else f"{min(fill)} or {max(fill)}"
    waits = wording.duration(shown.table.first_waits_minutes)
    text = f"Cook {len(fill)} rounds of {most}, {each} each, by thermometer. "
    if shown.table.waits_too_long:
        return text + f"The first would wait {waits}: serve them as they come, or hold them at {hot} or hotter."
    return text + f"The first round waits {waits}: hold it at {hot} or hotter."


def _bought(shown: Shown, whole: str) -> str:
    """The cuts by weight where the batch has them, what to buy where trimming was counted, else the whole."""
    parts = [f"{figure.shown} {figure.name}" for figure in shown.amounts.figures if figure.role is Role.COMPONENT]
    buy = next((figure.shown for figure in shown.amounts.figures if figure.role is Role.PURCHASE), None)
    if buy is not None:
        return f"{buy} to have {whole}"
    names = wording.listing([item.name for item in shown.amounts.plan.items])
    return wording.listing(parts) if parts else f"{whole} of {names or 'meat'}"


def _from(shown: Shown) -> str:
    buy_from = shown.table.buy_from
    bought_by = next(step.end for step in shown.table.steps if step.kind is Kind.BUY)
    if shown.cookout.frozen or buy_from is None or buy_from >= bought_by.date():
        return ""
    return f", fresh, from {day(max(buy_from, shown.now.date()), shown.now)} on"


# ---- notes


def notes(shown: Shown) -> tuple[str, ...]:
    """What was taken for granted, the slack, and what may be changed by a word."""
    return tuple(text for text in (*_assumed(shown), *_of_time(shown)) if text)


def _assumed(shown: Shown) -> list[str]:
    found = [] if shown.meal.grill_only else list(shown.amounts.notes)
    guesses = []
    if not shown.amounts.plan.at_once and shown.amounts.count > 1:
        guesses.append(f"{shown.cookout.per_round} on the grill at a time")
    if shown.meal.round_minutes is None:
        guesses.append(f"{wording.duration(shown.cookout.round_minutes)} a round")
    if guesses:
        found.append(f'Taken as {wording.listing(guesses)}: say "grill takes 20 at a time" or "8 minutes a round".')
    if shown.meal.hands > 1:
        found.append(f"{shown.meal.hands} of you cube and form side by side; there is one grinder.")
    if shown.meal.grill_only:
        found.append("Only the rounds are counted: no salting, and no rest after them.")
    return found


def _of_time(shown: Shown) -> list[str]:
    found = []
    meal, cookout, table = shown.meal, shown.cookout, shown.table
    if meal.next_said:
        found.append(f"The coming one was taken, {day(shown.serve, shown.now)}: say the date if you mean another.")
    if shown.serve.hour == shown.serve.minute == 0 and meal.day is not None:
        found.append(f"Midnight ends the day named: the night to {day(shown.serve, shown.now)}.")
    if cookout.ahead is Ahead.PATTIES and not meal.ahead:
        found.append("The patties are made the evening before, so that no work falls into the night.")
    elif table.by_night:
        found.append('Some of it falls into the night: "make them the day before" moves it.')
    elif cookout.ahead is Ahead.NOTHING and cookout.have is not Have.PATTIES:
        found.append('To do it earlier: "make them the day before"; overnight in the fridge is allowed.')
    if table.split_packs:
        found.append("One block of this size thaws too slowly to keep. Freeze flat packs of 1 to 2 lb.")
    first = table.steps[0].start
    if first.utcoffset() != shown.serve.utcoffset():
        found.append("The clocks change in between: every span is counted in hours that really pass.")
    if not meal.grill_only and cookout.have is not Have.PATTIES:
        found.append("How long the work takes is common practice, no source.")
    return found


def _working(shown: Shown) -> tuple[str, ...]:
    spans = [
        f"{DONE[kind][0]}: {_long(list(group))}"
        for kind, group in groupby(shown.table.steps, key=lambda step: step.kind)
    ]
    return (
        f"Worked backwards from {when(shown.serve, shown.now)}.",
        *spans,
        f"Hands on the meat for {wording.duration(shown.table.hands_on_minutes)} in all, at most "
        f"{wording.duration(_out_limit(shown))} out of the fridge at a stretch: {wording.counted(shown.table.lots, 'lot')}.",
    )


# ---- words


def when(moment: datetime, now: datetime) -> str:
    """ "1:00 pm on Sat 28 Nov"."""
    return f"{clock(moment)} on {day(moment, now)}"


def day(moment: date, now: datetime) -> str:
    """ "Sat 28 Nov", with the year where it is not the present one."""
    return wording.short_day(moment, None if moment.year == now.year else moment.year)


def clock(moment: datetime) -> str:
    """ "1:00 pm"."""
    return wording.clock(moment)


def _at(moment: datetime, beside: datetime, now: datetime) -> str:
    """A moment beside another one, whose day is said already: "1:07 pm", or with its own day."""
    return clock(moment) if moment.date() == beside.date() else when(moment, now)


def what_is_served(shown: Shown) -> str:
    """ "40 patties of 6 oz (170 g)"."""
    each = next((f.shown for f in shown.amounts.figures if f.role is Role.PATTY_WEIGHT), "")
    sizes = sum(f.role is Role.PATTY_WEIGHT for f in shown.amounts.figures)
    of = f" of {each}" if each and sizes == 1 and not shown.meal.grill_only else ""
    return f"{wording.counted(shown.amounts.count, 'patty')}{of}"


def _long(group: Sequence[Step]) -> str:
    return wording.duration(_span(group))


def _span(group: Sequence[Step]) -> Fraction:
    """Minutes that really pass from the beginning of the first step to the end of the last."""
    start, end = group[0].start, group[-1].end
    span = end - start if start.tzinfo is None else end.astimezone(UTC) - start.astimezone(UTC)
    return Fraction(round(span.total_seconds() / 60))


def _out_limit(shown: Shown) -> int:
    return out_of_fridge(0, shown.cookout.ambient_f).limit_minutes


def _patties_keep() -> str:
    row = safety_book().storage["ground meat"]
    return f"{row.days_low} to {row.days_high} days"


def _speak(shown: Shown) -> str:
    return system(shown.amounts.plan, shown.kitchen.units)
