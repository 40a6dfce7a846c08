"""A kitchen timetable, worked backwards from the moment of serving. Pure: the moment is handed in, naive or aware.

Steps never overlap and stand in the order they are done; the last ends at the serving moment. Aware moments count
real hours across clock changes. How fast people work is common practice without a source, and can be replaced.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from assistant.engine.safety import Number, Out, hours_before, keeps, out_of_fridge, take_out
from assistant.errors import BadInput

EVENING = time(20)
"""Work of the day before is over by then, and shops close: a choice, no source."""
SHOPS_OPEN = time(9)
"""Nothing is bought before: a choice, no source."""
NIGHT_ENDS, NIGHT_STARTS = time(6), time(23)
MOST_PATTIES = 10_000
MOST_HANDS = 20


class Kind(StrEnum):
    """What is done in a step, in the order of the work."""

    BUY = "buy"
    KEEP = "keep"
    THAW = "thaw"
    CUBE = "cube"
    CHILL_CUBES = "chill_cubes"
    FIRM = "firm"
    GRIND = "grind"
    SEASON = "season"
    CHILL = "chill"
    FORM = "form"
    CHILL_PATTIES = "chill_patties"
    SALT = "salt"
    COOK = "cook"
    REST = "rest"


HANDS_ON = frozenset({Kind.CUBE, Kind.SEASON, Kind.GRIND, Kind.FORM, Kind.SALT})
"""Steps in which the meat is out of the fridge."""


class Have(StrEnum):
    """What there is to start from."""

    NOTHING = "nothing"
    CUTS = "cuts"
    GROUND = "ground"
    PATTIES = "patties"


class Ahead(StrEnum):
    """What is done the day before."""

    NOTHING = "nothing"
    CUBES = "cubes"
    PATTIES = "patties"


class Pace(Struct, frozen=True):
    """How long the work takes, in minutes. All common practice, no source; firming is the middle of 30 to 60.

    slack: the share of the hands-on work that is kept free on top, slack_least minutes at the least, while the patties
    wait in the fridge. Patties made the day before wait there overnight and need none.
    """

    buy: int = 60
    cube_per_kg: Fraction = Fraction(8)
    cube_least: int = 15
    firm: int = 45
    season: int = 10
    grind_per_kg: Fraction = Fraction(6)
    grind_least: int = 20
    chill: int = 30
    form_per_patty: Fraction = Fraction(1, 2)
    form_least: int = 10
    salt: int = 5
    rest: int = 3
    slack: Fraction = Fraction(1, 5)
    slack_least: int = 15

    def shared(self, hands: int) -> Pace:
        """The pace of so many people, who cube and form side by side; there is one grinder. Raises BadInput."""
        if isinstance(hands, bool) or not isinstance(hands, int) or not 1 <= hands <= MOST_HANDS:
            raise BadInput("hands", hands, f"a whole number from 1 to {MOST_HANDS}")
        return replace(self, cube_per_kg=self.cube_per_kg / hands, form_per_patty=self.form_per_patty / hands)


class Cookout(Struct, frozen=True):
    """What is planned.

    serve: when everything is on the plate; patties: how many; per_round: how many fit on the grill; round_minutes:
    minutes for one round, turning included; mass_g: raw meat in all. frozen: what there is (`have`) is frozen, in packs
    of pack_g (all of it in one where not given), pack_mm thick where known. season: a step for seasoning the cubes.
    poultry: some of it is. ambient_f: the hottest it gets where the work is done. gap_minutes: between two
    rounds, for scraping and loading.
    """

    serve: datetime
    patties: int
    per_round: int
    round_minutes: Number
    mass_g: Number
    have: Have = Have.CUTS
    ahead: Ahead = Ahead.NOTHING
    frozen: bool = False
    pack_g: Number | None = None
    pack_mm: Number | None = None
    season: bool = False
    poultry: bool = False
    ambient_f: Number | None = None
    gap_minutes: Number = 0
    pace: Pace = field(default_factory=Pace)


class Step(Struct, frozen=True):
    """One step. note: where meat that is kept lies, "fridge" or "freezer", or "overnight" for a wait until the day of
    serving; number: the round on the grill, else 0."""

    kind: Kind
    start: datetime
    end: datetime
    note: str = ""
    number: int = 0


class Timetable(Struct, frozen=True):
    """The steps in order, and what to watch.

    rounds: on the grill. hands_on_minutes: the meat's time out of the fridge if it were worked in one lot; lots: how
    many to work it in so that each stays within the limit. first_waits_minutes: from the first round's end to serving,
    to be held hot; waits_too_long: that is past the limit for food that is not held hot. buy_from: the first date on
    which to buy it fresh (None where nothing is bought). by_night: some work falls between 11 pm and 6 am.
    split_packs: the frozen packs are too big to thaw in one piece within their days. slack_minutes: kept free while the
    patties chill.
    """

    steps: tuple[Step, ...]
    rounds: int
    hands_on_minutes: int
    lots: int
    first_waits_minutes: int
    waits_too_long: bool
    buy_from: date | None
    by_night: bool
    split_packs: bool
    slack_minutes: int


def timetable(cookout: Cookout) -> Timetable:
    """The timetable of a cookout. Raises BadInput for counts, minutes or masses that are not above zero, for work ahead
    of what there already is, for a clock time that a clock change skips, before the calendar starts, and where so few
    go on the grill at once that ground meat would wait longer than it keeps in the fridge.
    """
    _check(cookout)
    work = _Backwards(cookout.serve)
    rounds = math.ceil(cookout.patties / cookout.per_round)
    _cook(work, cookout, rounds)
    slack = _make(work, cookout)
    split = _thaw(work, cookout)
    buy_from = _buy(work, cookout)
    steps = tuple(reversed(work.steps))
    _keeps_until_served(steps, cookout)
    hands_on = sum(_minutes(step) for step in steps if step.kind in HANDS_ON)
    out = out_of_fridge(hands_on, cookout.ambient_f)
    first_done = next(step.end for step in steps if step.kind is Kind.COOK)
    waits = math.ceil(_elapsed(first_done, cookout.serve) / timedelta(minutes=1))
    return Timetable(
        steps=steps,
        rounds=rounds,
        hands_on_minutes=hands_on,
        lots=max(1, math.ceil(Fraction(hands_on) / out.limit_minutes)),
        first_waits_minutes=waits,
        waits_too_long=out_of_fridge(waits, cookout.ambient_f).verdict is Out.THROW_AWAY,
        buy_from=buy_from,
        by_night=any(_by_night(step) for step in steps if step.kind in HANDS_ON | {Kind.BUY}),
        split_packs=split,
        slack_minutes=slack,
    )


def late(table: Timetable, now: datetime) -> tuple[Step, ...]:
    """The steps that should have begun before `now` (naive or aware as the table is), in order."""
    return tuple(step for step in table.steps if _elapsed(step.start, now) > timedelta(0))


def earliest(cookout: Cookout, now: datetime) -> Timetable:
    """The timetable of the same cookout, served as early as can be when it is begun at `now`, to the full five minutes.

    Nothing is squeezed: everything moves on until the first step lies ahead of `now`. Raises BadInput as `timetable`.
    """
    table = timetable(cookout)
    while late(table, now):
        behind = _elapsed(table.steps[0].start, now)
        cookout = replace(cookout, serve=_full_five(hours_before(cookout.serve, -_hours(behind))))
        table = timetable(cookout)
    return table


def earliest_day(cookout: Cookout, now: datetime) -> Timetable:
    """The timetable of the same cookout at the same clock time of the first day for which nothing is late at `now`."""
    table = timetable(cookout)
    while late(table, now):
        days = max(1, math.ceil(_elapsed(table.steps[0].start, now) / timedelta(days=1)))
        try:
            cookout = replace(cookout, serve=cookout.serve + timedelta(days=days))
        except OverflowError as fault:
            raise BadInput("serve", cookout.serve, "a moment well before the end of the calendar") from fault
        table = timetable(cookout)
    return table


def _hours(span: timedelta) -> Fraction:
    return Fraction(span // timedelta(microseconds=1), 3_600_000_000)


def _full_five(moment: datetime) -> datetime:
    """The next full five minutes; a moment that stands on them already stays."""
    past = timedelta(minutes=moment.minute % 5, seconds=moment.second, microseconds=moment.microsecond)
    return hours_before(moment, _hours(past - timedelta(minutes=5))) if past else moment


class _Backwards:
    """Steps collected from the last to the first; `moment` is when the next one to be added has to end."""

    def __init__(self, serve: datetime) -> None:
        self.moment = serve
        self.serve = serve
        self.steps: list[Step] = []

    def add(self, kind: Kind, minutes: Number, number: int = 0) -> None:
        whole = math.ceil(minutes)
        if whole:
            self.to(kind, hours_before(self.moment, Fraction(whole, 60)), number=number)

    def pause(self, minutes: Number) -> None:
        """Time in which nothing of the timetable is done."""
        self.moment = hours_before(self.moment, Fraction(math.ceil(minutes), 60))

    def to(self, kind: Kind, start: datetime, note: str = "", number: int = 0) -> None:
        self.steps.append(Step(kind, start, self.moment, note, number))
        self.moment = start

    def until_the_evening_before(self, kind: Kind) -> bool:
        """A night in the fridge, so that the work before it ends on the evening before serving; False where that is
        over by then anyway."""
        evening = self.evening_before(self.serve)
        if evening >= self.moment:
            return False
        self.to(kind, evening, "overnight")
        return True

    def evening_before(self, moment: datetime) -> datetime:
        return datetime.combine(moment.date() - timedelta(days=1), EVENING, self.serve.tzinfo)

    def until_shops_were_open(self, minutes: int, place: str) -> None:
        """Time in the fridge or freezer, so that shopping of so many minutes falls between their opening and their closing."""
        opened = hours_before(self.moment, Fraction(minutes, 60))
        if opened.date() != self.moment.date() or opened.time() < SHOPS_OPEN:
            self.to(Kind.KEEP, self.evening_before(self.moment), place)
        elif self.moment.time() > EVENING:
            self.to(Kind.KEEP, datetime.combine(self.moment.date(), EVENING, self.serve.tzinfo), place)


def _cook(work: _Backwards, cookout: Cookout, rounds: int) -> None:
    work.add(Kind.REST, cookout.pace.rest)
    for number in range(rounds, 0, -1):
        work.add(Kind.COOK, cookout.round_minutes, number)
        if number > 1:
            work.pause(cookout.gap_minutes)
    work.add(Kind.SALT, cookout.pace.salt)


def _make(work: _Backwards, cookout: Cookout) -> int:
    """From cubing to formed patties, as far as it is not done already; the minutes of slack in it."""
    pace, kilos = cookout.pace, Fraction(cookout.mass_g) / 1000
    if cookout.have is Have.PATTIES:
        return 0
    form = max(Fraction(pace.form_least), pace.form_per_patty * cookout.patties)
    grind = max(Fraction(pace.grind_least), pace.grind_per_kg * kilos)
    cube = max(Fraction(pace.cube_least), pace.cube_per_kg * kilos)
    slack = 0
    if not (cookout.ahead is Ahead.PATTIES and work.until_the_evening_before(Kind.CHILL_PATTIES)):
        hands_on = form if cookout.have is Have.GROUND else form + grind + cube
        slack = math.ceil(max(Fraction(pace.slack_least), pace.slack * hands_on))
        work.add(Kind.CHILL_PATTIES, pace.chill + slack)
    work.add(Kind.FORM, form)
    if cookout.have is Have.GROUND:
        return slack
    work.add(Kind.CHILL, pace.chill)
    if cookout.season:
        work.add(Kind.SEASON, pace.season)
    work.add(Kind.GRIND, grind)
    work.add(Kind.FIRM, pace.firm)
    if cookout.ahead is Ahead.CUBES:
        work.until_the_evening_before(Kind.CHILL_CUBES)
    work.add(Kind.CUBE, cube)
    return slack


def _thaw(work: _Backwards, cookout: Cookout) -> bool:
    """The days in the fridge; True where a pack is too big for them."""
    if not cookout.frozen:
        return False
    pack = cookout.mass_g if cookout.pack_g is None else cookout.pack_g
    plan = take_out(work.moment, pack, cookout.pack_mm)
    work.to(Kind.THAW, plan.best)
    return plan.split


def _buy(work: _Backwards, cookout: Cookout) -> date | None:
    """Buying ends where the work starts, or the evening before where no shop is open by then; fresh cuts may be bought
    as many days before as they surely keep."""
    if cookout.have is not Have.NOTHING:
        return None
    begins = work.moment
    work.until_shops_were_open(cookout.pace.buy, "freezer" if cookout.frozen else "fridge")
    work.add(Kind.BUY, cookout.pace.buy)
    days = keeps("poultry pieces" if cookout.poultry else "roasts", "fridge").low or 0
    return work.moment.date() if cookout.frozen else begins.date() - timedelta(days=days)


def _keeps_until_served(steps: Sequence[Step], cookout: Cookout) -> None:
    """Ground meat must be cooked within the days that it keeps in the fridge, however slow the grill."""
    days = keeps("ground meat", "fridge").high or 0
    ground = next((step.start for step in steps if step.kind is Kind.GRIND), None)
    if ground is not None and _elapsed(ground, cookout.serve) >= timedelta(days=days):
        raise BadInput(
            "per_round", cookout.per_round, f"so many at once that all are cooked within {days} days of grinding"
        )


def _check(cookout: Cookout) -> None:
    for argument, count in (("patties", cookout.patties), ("per_round", cookout.per_round)):
        if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST_PATTIES:
            raise BadInput(argument, count, f"a whole number from 1 to {MOST_PATTIES}")
    day = 24 * 60
    minutes = cookout.round_minutes
    if not (_is_number(minutes) and 0 < minutes <= day):
        raise BadInput("round_minutes", minutes, "more than 0 minutes, up to a day")
    if not (_is_number(cookout.gap_minutes) and 0 <= cookout.gap_minutes <= day):
        raise BadInput("gap_minutes", cookout.gap_minutes, "no less than 0 minutes, up to a day")
    for argument, size in (("mass_g", cookout.mass_g), ("pack_g", cookout.pack_g), ("pack_mm", cookout.pack_mm)):
        if size is not None and not (_is_number(size) and 0 < size < math.inf):
            raise BadInput(argument, size, "more than zero")
    order = list(Have)
    done = {Ahead.NOTHING: Have.PATTIES, Ahead.CUBES: Have.CUTS, Ahead.PATTIES: Have.GROUND}[cookout.ahead]
    if order.index(cookout.have) > order.index(done):
        raise BadInput("ahead", cookout.ahead, "work that is not done already")
    if cookout.serve.tzinfo is not None:
        there_and_back = cookout.serve.astimezone(UTC).astimezone(cookout.serve.tzinfo)
        if there_and_back.replace(tzinfo=None) != cookout.serve.replace(tzinfo=None):
            raise BadInput("serve", cookout.serve, "a clock time that exists on that day")


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float, Fraction)) and not isinstance(value, bool)


def _elapsed(start: datetime, end: datetime) -> timedelta:
    """Real time between two moments; two aware ones in the same zone would otherwise be compared by the wall clock."""
    if start.tzinfo is None:
        return end - start
    return end.astimezone(UTC) - start.astimezone(UTC)


def _minutes(step: Step) -> int:
    return round(_elapsed(step.start, step.end) / timedelta(minutes=1))


def _by_night(step: Step) -> bool:
    return any(not NIGHT_ENDS <= moment.time() <= NIGHT_STARTS for moment in (step.start, step.end))
