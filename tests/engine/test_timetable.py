"""The kitchen timetable: in order, without overlaps, ending when it is served, over midnight and clock changes."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.engine.timetable import (
    HANDS_ON,
    Ahead,
    Cookout,
    Have,
    Kind,
    Pace,
    Timetable,
    earliest,
    earliest_day,
    late,
    timetable,
)
from assistant.errors import BadInput

SUPPER = Cookout(
    serve=datetime(2027, 6, 19, 18, 30), patties=40, per_round=10, round_minutes=10, mass_g=6000, have=Have.NOTHING
)
CLOCKS_FORWARD = date(2027, 3, 14)  # New York, 2 am
CLOCKS_BACK = date(2027, 11, 7)
ZONES = st.sampled_from([None, ZoneInfo("America/New_York"), ZoneInfo("Europe/London"), ZoneInfo("Australia/Sydney")])


def real(moment: datetime) -> datetime:
    """For comparing: two moments of one zone would be compared by the wall clock, which repeats an hour in autumn."""
    return moment if moment.tzinfo is None else moment.astimezone(UTC)


def kinds(table: Timetable) -> list[Kind]:
    return [step.kind for step in table.steps]


@st.composite
def cookouts(draw: st.DrawFn) -> Cookout:
    have = draw(st.sampled_from(list(Have)))
    possible = {
        Have.NOTHING: list(Ahead),
        Have.CUTS: list(Ahead),
        Have.GROUND: [Ahead.NOTHING, Ahead.PATTIES],
        Have.PATTIES: [Ahead.NOTHING],
    }[have]
    day = draw(st.dates(date(2026, 1, 1), date(2028, 12, 31)) | st.sampled_from([CLOCKS_FORWARD, CLOCKS_BACK]))
    hour = draw(st.integers(3, 23))  # 1 to 3 am may not exist on the day the clocks go forward
    patties, minutes = draw(st.integers(1, 200)), draw(st.integers(1, 20) | st.fractions(1, 20, max_denominator=4))
    # at the most a day on the grill: what takes longer is refused, see below
    least = math.ceil(Fraction(patties) * minutes / (24 * 60))
    return Cookout(
        serve=datetime(day.year, day.month, day.day, hour, draw(st.integers(0, 59)), tzinfo=draw(ZONES)),
        patties=patties,
        per_round=draw(st.integers(least, 60)),
        round_minutes=minutes,
        mass_g=draw(st.integers(100, 30_000)),
        have=have,
        ahead=draw(st.sampled_from(possible)),
        frozen=draw(st.booleans()),
        pack_g=draw(st.none() | st.integers(200, 3000)),
        pack_mm=draw(st.none() | st.integers(10, 80)),
        season=draw(st.booleans()),
        poultry=draw(st.booleans()),
        ambient_f=draw(st.none() | st.integers(50, 110)),
    )


def test_a_grill_too_slow_for_ground_meat_is_refused() -> None:
    # 136 rounds of 20 minutes are 45 hours; with the work before them the mince would be more than two days old
    with pytest.raises(BadInput) as caught:
        timetable(replace(SUPPER, patties=136, per_round=1, round_minutes=20))
    assert caught.value.argument == "per_round"


@given(cookouts())
def test_steps_follow_one_another_and_end_when_it_is_served(cookout: Cookout) -> None:
    table = timetable(cookout)
    assert table.steps[-1].end == cookout.serve
    for step in table.steps:
        assert real(step.start) < real(step.end)
        assert step.start.tzinfo is cookout.serve.tzinfo
    for before, after in pairwise(table.steps):
        assert real(before.end) == real(after.start)


@given(cookouts())
def test_work_stands_in_its_order(cookout: Cookout) -> None:
    order = list(Kind)
    places = [order.index(kind) for kind in kinds(timetable(cookout))]
    assert places == sorted(places)


@given(cookouts())
def test_every_patty_gets_its_round(cookout: Cookout) -> None:
    table = timetable(cookout)
    cooking = [step for step in table.steps if step.kind is Kind.COOK]
    assert [step.number for step in cooking] == list(range(1, table.rounds + 1))
    assert (table.rounds - 1) * cookout.per_round < cookout.patties <= table.rounds * cookout.per_round
    for step in cooking:
        assert real(step.end) - real(step.start) >= timedelta(minutes=float(cookout.round_minutes))


@given(cookouts())
def test_each_lot_stays_within_the_limit(cookout: Cookout) -> None:
    table = timetable(cookout)
    limit = 60 if cookout.ambient_f is not None and cookout.ambient_f > 90 else 120
    assert table.lots >= 1
    assert Fraction(table.hands_on_minutes, table.lots) <= limit
    assert table.lots == 1 or Fraction(table.hands_on_minutes, table.lots - 1) > limit


@given(cookouts())
def test_ground_meat_never_waits_past_two_days(cookout: Cookout) -> None:
    table = timetable(cookout)
    for step in table.steps:
        if step.kind is Kind.GRIND:
            assert real(cookout.serve) - real(step.start) < timedelta(days=2)


@given(cookouts())
def test_work_of_the_day_before_ends_that_evening(cookout: Cookout) -> None:
    table = timetable(cookout)
    for step in table.steps:
        if step.note == "overnight":
            assert step.start.date() == cookout.serve.date() - timedelta(days=1)
            assert step.start.hour == 20


def test_a_summer_supper_for_forty() -> None:
    table = timetable(SUPPER)
    assert kinds(table) == [
        Kind.BUY,
        Kind.CUBE,
        Kind.FIRM,
        Kind.GRIND,
        Kind.CHILL,
        Kind.FORM,
        Kind.CHILL_PATTIES,
        Kind.SALT,
        *[Kind.COOK] * 4,
        Kind.REST,
    ]
    rest = table.steps[-1]
    assert (rest.start, rest.end) == (datetime(2027, 6, 19, 18, 27), datetime(2027, 6, 19, 18, 30))
    assert table.steps[8].start == datetime(2027, 6, 19, 17, 47)
    # 6 kg: 48 minutes of cubing, 36 of grinding, 20 of forming, 5 of salting
    assert table.hands_on_minutes == 48 + 36 + 20 + 5
    # a fifth of the 104 minutes before the salting, beside the half hour in the fridge
    assert table.slack_minutes == 21
    assert table.steps[6].end - table.steps[6].start == timedelta(minutes=30 + 21)
    assert (table.lots, table.first_waits_minutes, table.waits_too_long) == (1, 33, False)
    assert table.buy_from == date(2027, 6, 16)


def test_a_hot_day_needs_more_lots() -> None:
    assert timetable(replace(SUPPER, ambient_f=95)).lots == 2


def test_poultry_is_bought_no_more_than_a_day_before() -> None:
    assert timetable(replace(SUPPER, poultry=True)).buy_from == date(2027, 6, 18)


def test_patties_the_day_before_wait_overnight_in_the_fridge() -> None:
    table = timetable(replace(SUPPER, ahead=Ahead.PATTIES))
    night = next(step for step in table.steps if step.kind is Kind.CHILL_PATTIES)
    assert (night.start, night.note) == (datetime(2027, 6, 18, 20), "overnight")
    assert all(step.start.date() == date(2027, 6, 18) for step in table.steps if step.kind is Kind.GRIND)


def test_cubes_the_day_before_are_firmed_on_the_day() -> None:
    table = timetable(replace(SUPPER, ahead=Ahead.CUBES))
    by_kind = {step.kind: step for step in table.steps}
    assert by_kind[Kind.CUBE].end == by_kind[Kind.CHILL_CUBES].start == datetime(2027, 6, 18, 20)
    assert by_kind[Kind.FIRM].start.date() == date(2027, 6, 19)


def test_frozen_meat_thaws_before_the_work() -> None:
    table = timetable(replace(SUPPER, have=Have.CUTS, frozen=True, pack_g=2000, pack_mm=40))
    assert kinds(table)[:2] == [Kind.THAW, Kind.CUBE]
    thawing = table.steps[0]
    assert timedelta(hours=24) <= thawing.end - thawing.start <= timedelta(hours=48)
    assert not table.split_packs
    assert timetable(replace(SUPPER, have=Have.CUTS, frozen=True, pack_g=20_000)).split_packs


def test_a_breakfast_starts_the_night_before() -> None:
    table = timetable(replace(SUPPER, serve=datetime(2027, 6, 20, 1, 30), have=Have.CUTS))
    assert table.steps[0].start.date() == date(2027, 6, 19)
    assert table.by_night
    assert not timetable(SUPPER).by_night


def test_many_rounds_keep_the_first_waiting_too_long() -> None:
    table = timetable(replace(SUPPER, patties=200))
    assert (table.rounds, table.first_waits_minutes, table.waits_too_long) == (20, 193, True)


def test_a_night_with_a_clock_change_counts_real_hours() -> None:
    """New York, 14 March 2027: from 8 pm to the salting at 7 am the wall says 11 hours, and 10 pass."""
    zone = ZoneInfo("America/New_York")
    serve = datetime(2027, 3, 14, 7, 18, tzinfo=zone)
    table = timetable(replace(SUPPER, serve=serve, patties=10, ahead=Ahead.PATTIES))
    night = next(step for step in table.steps if step.kind is Kind.CHILL_PATTIES)
    assert (night.start.hour, night.end.hour) == (20, 7)
    assert real(night.end) - real(night.start) == timedelta(hours=10)


@given(cookouts(), st.integers(-30, 30))
def test_serving_so_many_days_later_moves_every_step_as_many_days(cookout: Cookout, days: int) -> None:
    naive = replace(cookout, serve=cookout.serve.replace(tzinfo=None))
    moved = timetable(replace(naive, serve=naive.serve + timedelta(days=days)))
    assert [step.start - timedelta(days=days) for step in moved.steps] == [
        step.start for step in timetable(naive).steps
    ]


@given(cookouts(), st.integers(1, 600))
def test_serving_so_many_minutes_later_moves_every_step_as_much(cookout: Cookout, minutes: int) -> None:
    """Where no evening and no opening hour stands in the way: nothing is bought and nothing is done the day before."""
    plain = replace(cookout, have=max(cookout.have, Have.CUTS, key=list(Have).index), ahead=Ahead.NOTHING)
    later = replace(plain, serve=_later(plain.serve, minutes))
    shift = [real(b.start) - real(a.start) for a, b in zip(timetable(plain).steps, timetable(later).steps, strict=True)]
    assert set(shift) == {timedelta(minutes=minutes)}


def _later(moment: datetime, minutes: int) -> datetime:
    if moment.tzinfo is None:
        return moment + timedelta(minutes=minutes)
    return (moment.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(moment.tzinfo)


@given(cookouts())
def test_shopping_falls_between_opening_and_closing(cookout: Cookout) -> None:
    for step in timetable(replace(cookout, have=Have.NOTHING)).steps:
        if step.kind is Kind.BUY:
            assert time(9) <= step.start.time() < step.end.time() <= time(20)


@given(cookouts(), st.integers(-3000, 3000))
def test_the_earliest_serving_leaves_nothing_behind(cookout: Cookout, minutes: int) -> None:
    now = _later(cookout.serve, minutes)
    table = earliest(cookout, now)
    assert not late(table, now)
    assert real(table.steps[-1].end) >= real(cookout.serve)
    if late(timetable(cookout), now):
        assert real(table.steps[-1].end) > real(now)
    else:
        assert table == timetable(cookout)


@given(st.integers(1, 7200))
def test_the_earliest_serving_is_at_the_next_full_five_minutes(seconds: int) -> None:
    """Patties that are there already hang on no shop and no night: so much late is served so much later."""
    ready = replace(SUPPER, have=Have.PATTIES)
    now = timetable(ready).steps[0].start + timedelta(seconds=seconds)
    served = earliest(ready, now).steps[-1].end
    wait = served - SUPPER.serve - timedelta(seconds=seconds)
    assert timedelta(0) <= wait < timedelta(minutes=5)
    assert (served.minute % 5, served.second) == (0, 0)


@given(cookouts(), st.integers(-20_000, 20_000))
def test_the_earliest_day_keeps_the_hour_and_no_day_before_it_would_do(cookout: Cookout, minutes: int) -> None:
    naive = replace(cookout, serve=cookout.serve.replace(tzinfo=None))
    now = naive.serve + timedelta(minutes=minutes)
    table = earliest_day(naive, now)
    served = table.steps[-1].end
    assert not late(table, now)
    assert served.time() == naive.serve.time()
    assert served >= naive.serve
    if served > naive.serve:
        assert late(timetable(replace(naive, serve=served - timedelta(days=1))), now)


def test_a_block_that_thaws_for_years_is_worked_out_at_once_or_refused() -> None:
    """Named after a fault: day after day was tried, and a slip of the keyboard took seconds."""
    block = replace(SUPPER, have=Have.CUTS, frozen=True, pack_g=10**8)
    assert earliest_day(block, SUPPER.serve).steps[-1].end.year > 2100
    with pytest.raises(BadInput):
        earliest_day(replace(block, pack_g=10**10), SUPPER.serve)


def test_the_end_of_the_calendar_is_refused_by_name() -> None:
    last = replace(SUPPER, serve=datetime(9999, 12, 31, 18, 30))
    with pytest.raises(BadInput) as fault:
        earliest_day(last, last.serve)
    assert fault.value.argument == "serve"


def test_late_steps_are_those_that_should_have_begun() -> None:
    table = timetable(SUPPER)
    assert late(table, datetime(2027, 6, 1)) == ()
    cube = next(step for step in table.steps if step.kind is Kind.CUBE)
    assert [step.kind for step in late(table, cube.start + timedelta(minutes=1))] == [Kind.BUY, Kind.CUBE]
    assert [step.kind for step in late(table, cube.start)] == [Kind.BUY]


def test_cubes_too_early_for_the_shops_are_bought_the_evening_before() -> None:
    """Lunch at noon: cubing would begin at 8:46 am, before any shop is open."""
    table = timetable(replace(SUPPER, serve=datetime(2027, 6, 19, 12)))
    buy, keep = table.steps[:2]
    assert (buy.kind, buy.end) == (Kind.BUY, datetime(2027, 6, 18, 20))
    assert (keep.kind, keep.note, keep.end) == (Kind.KEEP, "fridge", table.steps[2].start)
    assert timetable(replace(SUPPER, serve=datetime(2027, 6, 19, 12), frozen=True)).steps[1].kind is not Kind.CUBE


def test_two_people_cube_and_form_in_half_the_time_but_there_is_one_grinder() -> None:
    minutes = {
        hands: {
            step.kind: step.end - step.start for step in timetable(replace(SUPPER, pace=Pace().shared(hands))).steps
        }
        for hands in (1, 2)
    }
    assert minutes[2][Kind.CUBE] * 2 == minutes[1][Kind.CUBE]
    assert minutes[2][Kind.FORM] * 2 == minutes[1][Kind.FORM]
    assert minutes[2][Kind.GRIND] == minutes[1][Kind.GRIND]
    with pytest.raises(BadInput) as fault:
        Pace().shared(0)
    assert fault.value.argument == "hands"


def test_without_rest_the_last_round_ends_at_serving() -> None:
    table = timetable(replace(SUPPER, pace=Pace(rest=0)))
    assert table.steps[-1].kind is Kind.COOK
    assert table.steps[-1].end == SUPPER.serve


def test_hands_on_steps_are_those_with_meat_out() -> None:
    assert {Kind.BUY, Kind.THAW, Kind.FIRM, Kind.CHILL, Kind.COOK, Kind.REST}.isdisjoint(HANDS_ON)


@pytest.mark.parametrize(
    ("plan", "argument"),
    [
        (lambda: replace(SUPPER, patties=0), "patties"),
        (lambda: replace(SUPPER, patties=True), "patties"),
        (lambda: replace(SUPPER, per_round=-1), "per_round"),
        (lambda: replace(SUPPER, round_minutes=0), "round_minutes"),
        (lambda: replace(SUPPER, round_minutes=float("nan")), "round_minutes"),
        (lambda: replace(SUPPER, mass_g=0), "mass_g"),
        (lambda: replace(SUPPER, have=Have.PATTIES, ahead=Ahead.PATTIES), "ahead"),
        (lambda: replace(SUPPER, have=Have.GROUND, ahead=Ahead.CUBES), "ahead"),
        (lambda: replace(SUPPER, serve=datetime(2027, 3, 14, 2, 30, tzinfo=ZoneInfo("America/New_York"))), "serve"),
        (lambda: replace(SUPPER, serve=datetime(1, 1, 1, 0, 30)), "moment"),
        (lambda: replace(SUPPER, frozen=True, pack_g=-1), "pack_g"),
        (lambda: replace(SUPPER, frozen=True, pack_mm=0), "pack_mm"),
        (lambda: replace(SUPPER, mass_g=float("inf")), "mass_g"),
    ],
)
def test_bad_input_names_its_argument(plan: Callable[[], Cookout], argument: str) -> None:
    with pytest.raises(BadInput) as fault:
        timetable(plan())
    assert fault.value.argument == argument


def test_between_two_rounds_lies_the_gap_and_none_after_the_last() -> None:
    """40 at 10 a round: three gaps of 5 minutes move the first round 15 minutes forward."""
    gapped = timetable(replace(SUPPER, gap_minutes=5))
    rounds = [step for step in gapped.steps if step.kind is Kind.COOK]
    plain = [step for step in timetable(SUPPER).steps if step.kind is Kind.COOK]
    assert [(b.start - a.end) for a, b in pairwise(rounds)] == [timedelta(minutes=5)] * 3
    assert rounds[-1] == plain[-1]
    assert plain[0].start - rounds[0].start == timedelta(minutes=15)
    with pytest.raises(BadInput):
        timetable(replace(SUPPER, gap_minutes=-1))
