"""Judging temperatures, hours, days and thawing: the published rules, and what must hold for every input."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.data import cuts
from assistant.data.safety import COUNTRIES, safety_book
from assistant.engine.safety import (
    GRAMS_PER_POUND,
    AfterCut,
    Out,
    Refreeze,
    Where,
    cook_caution,
    endpoint,
    hours_before,
    judge_temperature,
    keeps,
    known_species,
    licensed_combinations,
    out_of_fridge,
    power_cut,
    refreeze,
    take_out,
    thaw,
    use_by,
)
from assistant.errors import BadInput

SPECIES = sorted(known_species())
POULTRY = ["chicken", "turkey", "duck", "goose", "pheasant"]
some_species = st.sets(st.sampled_from(SPECIES), min_size=1, max_size=4)
countries = st.sampled_from(COUNTRIES)
readings = st.integers(40, 220)
minutes = st.integers(0, 400)
ambients = st.none() | st.integers(30, 120)
pounds = st.fractions(Fraction(1, 10), 40, max_denominator=100)


# ------------------------------------------------------------------------------- how hot


@pytest.mark.parametrize(
    ("species", "country", "hunted", "f", "c", "hold"),
    [
        ({"beef"}, "us", False, 160, 71, 0),  # USDA FSIS
        ({"pork", "beef"}, "us", False, 160, 71, 0),
        ({"turkey"}, "us", False, 165, 74, 0),
        ({"beef", "chicken"}, "us", False, 165, 74, 0),
        ({"venison", "pork"}, "us", False, 160, 71, 0),
        ({"venison", "pork"}, "us", True, 165, 74, 0),  # field-dressed game
        ({"beef"}, "uk", False, 158, 70, 120),  # Food Standards Agency
        ({"chicken"}, "uk", False, 165, 74, 0),
        ({"beef"}, "ie", False, 167, 75, 0),  # FSAI
        ({"beef"}, "ca", False, 160, 71, 0),  # Health Canada
        ({"chicken"}, "ca", False, 165, 74, 0),
        ({"venison"}, "ca", False, 165, 74, 0),
        ({"beef"}, "au", False, 167, 75, 0),  # FSIC
        ({"lamb"}, "nz", False, 167, 75, 0),  # MPI
    ],
)
def test_ground_meat_by_country(species: set[str], country: str, hunted: bool, f: int, c: int, hold: int) -> None:
    found = endpoint(species, country, hunted=hunted)
    assert [found.f, found.c, found.hold_seconds] == [f, c, hold]


@pytest.mark.parametrize(
    ("species", "country", "f", "rest"),
    [
        ("beef", "us", 145, 3),  # FoodSafety.gov
        ("pork", "ca", 160, 0),  # Health Canada
        ("veal", "au", 145, 0),
        ("chicken", "us", 165, 0),
        ("goat", "us", 160, 0),  # no whole figure: the ground one
        ("beef", "uk", 158, 0),
    ],
)
def test_whole_cuts(species: str, country: str, f: int, rest: int) -> None:
    found = endpoint({species}, country, ground=False)
    assert [found.f, found.rest_minutes] == [f, rest]


def test_the_deciding_part_is_named() -> None:
    assert endpoint({"beef", "duck"}).why == "duck"
    assert endpoint({"beef"}, hunted=True).why == "hunted"


def test_every_species_of_the_cuts_file_has_a_temperature_in_every_country() -> None:
    species = {row.species for row in cuts().values() if row.species not in {"", "any", "mixed"}}
    for name in species:
        for country in COUNTRIES:
            assert endpoint({name}, country).f >= 158


@given(some_species, some_species, countries, st.booleans(), st.booleans())
def test_a_mixture_is_never_less_strict_than_a_part(
    some: set[str], others: set[str], country: str, hunted: bool, ground: bool
) -> None:
    whole = endpoint(some | others, country, hunted=hunted, ground=ground)
    for part in (some, others, *({name} for name in some)):
        alone = endpoint(part, country, ground=ground)
        assert (whole.f, whole.hold_seconds) >= (alone.f, alone.hold_seconds)


@given(some_species, countries)
def test_poultry_anywhere_means_at_least_165(species: set[str], country: str) -> None:
    for bird in POULTRY:
        assert endpoint(species | {bird}, country).f >= 165


@given(some_species, countries, st.booleans())
def test_grinding_never_lowers_the_temperature(species: set[str], country: str, hunted: bool) -> None:
    assert endpoint(species, country, hunted=hunted).f >= endpoint(species, country, hunted=hunted, ground=False).f


@given(readings, readings, some_species, countries, st.booleans())
def test_a_hotter_reading_is_never_judged_worse(
    one: int, other: int, species: set[str], country: str, ground: bool
) -> None:
    cooler = judge_temperature(min(one, other), species, country, ground=ground)
    hotter = judge_temperature(max(one, other), species, country, ground=ground)
    assert hotter.enough >= cooler.enough
    assert hotter.short_by_f <= cooler.short_by_f
    assert hotter.hold_seconds <= cooler.hold_seconds


@given(readings, some_species, countries)
def test_enough_and_short_agree(f: int, species: set[str], country: str) -> None:
    found = judge_temperature(f, species, country)
    assert found.enough is (found.short_by_f == 0)
    assert found.needed.f == f + found.short_by_f or found.enough


def test_145_is_for_whole_cuts_only() -> None:
    assert not judge_temperature(145, {"beef"}).enough
    assert judge_temperature(145, {"beef"}).short_by_f == 15
    assert judge_temperature(145, {"beef"}, ground=False).enough


def test_just_under_is_not_enough() -> None:
    assert not judge_temperature(159.9, {"beef"}).enough
    assert judge_temperature(160, {"beef"}).enough


@pytest.mark.parametrize(("f", "seconds"), [(158, 120), (166, 120), (167, 30), (176, 6), (200, 6)])
def test_the_uk_holding_time_shortens_with_heat(f: int, seconds: int) -> None:
    """Food Standards Agency: 70 C 2 minutes, 75 C 30 seconds, 80 C 6 seconds."""
    found = judge_temperature(f, {"beef"}, "uk")
    assert (found.enough, found.hold_seconds) == (True, seconds)


@pytest.mark.parametrize(
    ("species", "country", "hunted", "variant"),
    [
        ({"beef"}, "us", False, "beef"),
        ({"beef", "pork"}, "us", False, "red"),
        ({"pork", "venison"}, "us", False, "game"),
        ({"pork", "venison"}, "us", True, "hunted"),
        ({"pork", "turkey"}, "us", False, "poultry"),
        ({"beef"}, "uk", False, "uk"),
        ({"beef", "turkey"}, "uk", False, "poultry"),
        ({"venison"}, "uk", True, "hunted"),
        ({"turkey"}, "ca", False, "ca"),
        ({"beef", "turkey"}, "au", True, "au"),
    ],
)
def test_the_reminder_fits_the_batch(species: set[str], country: str, hunted: bool, variant: str) -> None:
    assert cook_caution(species, country, hunted=hunted) == f"cook_temperature.{variant}"


@given(some_species, countries, st.booleans())
def test_the_reminder_says_the_temperature_that_is_needed(species: set[str], country: str, hunted: bool) -> None:
    text = safety_book().cautions[cook_caution(species, country, hunted=hunted)].text
    assert f"{endpoint(species, country, hunted=hunted).f} °F" in text


def test_licensed_combinations_are_for_licensed_kitchens_only() -> None:
    assert {pair.place for pair in licensed_combinations()} == {"licensed kitchen"}
    assert {int(pair.at.f): pair.seconds for pair in licensed_combinations() if pair.food == "ground meat"} == {
        145: 180,
        150: 60,
        155: 17,
        158: 0,
    }
    assert not endpoint({"beef"}).also


# ------------------------------------------------------------------------------- out of the fridge


@pytest.mark.parametrize(
    ("spent", "ambient", "verdict", "limit", "left"),
    [
        (0, None, Out.FINE_SO_FAR, 120, 120),
        (120, 90, Out.FINE_SO_FAR, 120, 0),
        (121, None, Out.THROW_AWAY, 120, 0),
        (90, 97, Out.THROW_AWAY, 60, 0),  # 90 minutes on a day of 97 F
        (45, 91, Out.FINE_SO_FAR, 60, 15),
    ],
)
def test_the_two_hour_rule(spent: int, ambient: int | None, verdict: Out, limit: int, left: int) -> None:
    found = out_of_fridge(spent, ambient)
    assert found.verdict is verdict
    assert [found.limit_minutes, found.left_minutes] == [limit, left]
    assert found.ambient_known is (ambient is not None)


@given(minutes, minutes, ambients)
def test_less_time_out_is_never_judged_worse(one: int, other: int, ambient: int | None) -> None:
    shorter, longer = (out_of_fridge(spent, ambient) for spent in sorted((one, other)))
    assert shorter.verdict is Out.FINE_SO_FAR or longer.verdict is Out.THROW_AWAY
    assert shorter.left_minutes >= longer.left_minutes


@given(minutes, st.integers(30, 120), st.integers(30, 120))
def test_a_cooler_kitchen_is_never_judged_worse(spent: int, one: int, other: int) -> None:
    cooler, hotter = (out_of_fridge(spent, ambient) for ambient in sorted((one, other)))
    assert cooler.verdict is Out.FINE_SO_FAR or hotter.verdict is Out.THROW_AWAY


# ------------------------------------------------------------------------------- how long it keeps


def test_ground_meat_keeps_a_day_or_two_and_three_to_four_months() -> None:
    fridge, freezer = keeps("ground meat", Where.FRIDGE), keeps("burgers", "freezer")
    assert (fridge.low, fridge.high, fridge.unit, fridge.counts) == (1, 2, "day", True)
    assert (freezer.low, freezer.high, freezer.unit, freezer.food) == (3, 4, "month", "ground meat")


@pytest.mark.parametrize(
    ("place", "at", "counts"), [("fridge", 40, True), ("fridge", 48, False), ("freezer", 5, False)]
)
def test_no_figure_holds_where_it_is_too_warm(place: str, at: int, counts: bool) -> None:
    found = keeps("mince", place, at)
    assert found.counts is counts
    assert (found.low is None) is (not counts)


def test_ground_on_wednesday_is_used_by_friday() -> None:
    wednesday = date(2027, 6, 16)
    assert use_by(wednesday, "ground meat", "fridge") == (date(2027, 6, 17), date(2027, 6, 18))


def test_months_end_on_the_last_day_of_a_short_month() -> None:
    assert use_by(date(2027, 11, 30), "ground meat", "freezer") == (date(2028, 2, 29), date(2028, 3, 30))


# ------------------------------------------------------------------------------- thawing


def test_fridge_rule_of_a_day_for_five_pounds() -> None:
    """USDA FSIS: 24 hours for each 5 lb; a pound takes a day all the same."""
    assert thaw(5 * GRAMS_PER_POUND, "fridge", 40).low_hours == 24
    assert thaw(GRAMS_PER_POUND, "fridge", 25).low_hours == 24
    assert thaw(20 * GRAMS_PER_POUND, "fridge", 40).low_hours == 96


@pytest.mark.parametrize(
    ("weight", "low", "high"),
    [("1", 30, 60), ("3", 120, 140), ("4", 120, 180)],
)
def test_cold_water_rule(weight: str, low: int, high: int) -> None:
    """The Big Thaw: a pound within the hour, 3 to 4 lb in 2 to 3 hours, about 30 minutes a pound."""
    found = thaw(Fraction(weight) * GRAMS_PER_POUND, "cold water")
    assert (found.low_hours, found.high_hours) == (Fraction(low, 60), Fraction(high, 60))
    assert found.method.change_water_minutes == 30
    assert found.method.cook_at_once


def test_thick_blocks_take_longer() -> None:
    """Model, slow end: a 2 kg block of 65 mm takes 63 hours at 2 C and 286 minutes in water of 15 C."""
    assert thaw(2000, "fridge", 65).high_hours == 72
    assert thaw(2000, "cold water", 65).high_hours == Fraction(286, 60)
    assert thaw(2000, "fridge", 25).high_hours == 36
    assert thaw(2000, "fridge").may_be_thick
    assert not thaw(500, "fridge").may_be_thick


@pytest.mark.parametrize("method", ["counter", "hot water", "cook from frozen"])
def test_methods_without_a_thawing_time(method: str) -> None:
    found = thaw(500, method)
    assert (found.low_hours, found.high_hours) == (None, None)
    assert found.method.allowed is (method == "cook from frozen")


@given(
    pounds,
    pounds,
    st.sampled_from(["fridge", "cold water", "microwave"]),
    st.none() | st.integers(10, 100),
)
def test_more_meat_never_thaws_sooner(one: Fraction, other: Fraction, method: str, thick: int | None) -> None:
    small, large = (thaw(weight * GRAMS_PER_POUND, method, thick) for weight in sorted((one, other)))
    assert small.low_hours is not None
    assert small.high_hours is not None
    assert large.low_hours is not None
    assert large.high_hours is not None
    assert small.low_hours <= small.high_hours
    assert small.low_hours <= large.low_hours
    assert small.high_hours <= large.high_hours


@given(pounds, st.integers(5, 150), st.integers(5, 150), st.sampled_from(["fridge", "cold water"]))
def test_a_thicker_pack_never_thaws_sooner_nor_inside_the_published_rule(
    weight: Fraction, one: int, other: int, method: str
) -> None:
    thin, thick = (thaw(weight * GRAMS_PER_POUND, method, mm) for mm in sorted((one, other)))
    plain = thaw(weight * GRAMS_PER_POUND, method, 20)
    assert thin.high_hours is not None
    assert thick.high_hours is not None
    assert plain.low_hours is not None
    assert thin.high_hours <= thick.high_hours
    assert thin.low_hours == plain.low_hours
    if method == "fridge":
        assert thin.high_hours >= max(Fraction(24), 24 * weight / 4)


def test_two_kilos_for_saturday_come_out_between_wednesday_and_friday() -> None:
    found = take_out(datetime(2027, 6, 19, 12), 2000)
    assert found.low == datetime(2027, 6, 16, 12)
    assert found.best == datetime(2027, 6, 17)
    assert found.high == datetime(2027, 6, 18, 12)
    assert not found.split


def test_a_huge_block_has_to_be_split() -> None:
    assert take_out(datetime(2027, 6, 19, 12), 20_000).split


@given(pounds, st.none() | st.integers(10, 150))
def test_taking_out_is_in_order(weight: Fraction, thick: int | None) -> None:
    ready = datetime(2027, 6, 19, 12)
    found = take_out(ready, weight * GRAMS_PER_POUND, thick)
    assert found.low <= found.best <= found.high <= ready - timedelta(hours=24)


def test_real_hours_over_a_clock_change() -> None:
    """Clocks in New York went forward at 2 am on 14 March 2027: 24 real hours before noon is 11 am."""
    zone = ZoneInfo("America/New_York")
    noon = datetime(2027, 3, 14, 12, tzinfo=zone)
    assert hours_before(noon, Fraction(24)) == datetime(2027, 3, 13, 11, tzinfo=zone)


# ------------------------------------------------------------------------------- freezing again, power, leftovers


@pytest.mark.parametrize(
    ("how", "spent", "ambient", "country", "verdict"),
    [
        ("fridge", 0, None, "us", Refreeze.MAY),
        ("fridge", 0, None, "uk", Refreeze.COOK_FIRST),
        ("fridge", 121, None, "us", Refreeze.THROW_AWAY),
        ("fridge", 61, 95, "us", Refreeze.THROW_AWAY),
        ("cold water", 0, None, "us", Refreeze.COOK_FIRST),
        ("microwave", 0, None, "us", Refreeze.COOK_FIRST),
        ("counter", 60, None, "us", Refreeze.COOK_FIRST),
        ("counter", 180, None, "us", Refreeze.THROW_AWAY),
        ("counter", None, None, "us", Refreeze.THROW_AWAY),
    ],
)
def test_freezing_again(how: str, spent: int | None, ambient: int | None, country: str, verdict: Refreeze) -> None:
    assert refreeze(how, spent, ambient, country) is verdict


@given(st.sampled_from(["fridge", "cold water", "microwave"]), minutes, minutes, ambients)
def test_less_time_out_never_bars_freezing(how: str, one: int, other: int, ambient: int | None) -> None:
    order = [Refreeze.MAY, Refreeze.COOK_FIRST, Refreeze.THROW_AWAY]
    shorter, longer = (refreeze(how, spent, ambient) for spent in sorted((one, other)))
    assert order.index(shorter) <= order.index(longer)


@pytest.mark.parametrize(
    ("hours", "place", "food", "icy", "verdict"),
    [
        (4, "fridge", None, False, AfterCut.KEEP),
        (5, "fridge", None, False, AfterCut.THROW_AWAY),
        (5, "fridge", 39, False, AfterCut.KEEP),
        (3, "fridge", 45, False, AfterCut.THROW_AWAY),
        (48, "freezer_full", None, False, AfterCut.KEEP),
        (30, "freezer_half", None, False, AfterCut.CHECK_EACH),
        (30, "freezer_half", None, True, AfterCut.KEEP),
        (30, "freezer_half", 50, True, AfterCut.THROW_AWAY),
    ],
)
def test_power_cuts(hours: int, place: str, food: int | None, icy: bool, verdict: AfterCut) -> None:
    assert power_cut(hours, place, food, icy=icy).verdict is verdict


@given(
    st.integers(0, 100),
    st.integers(0, 100),
    st.sampled_from(["fridge", "freezer_full", "freezer_half"]),
    st.none() | st.integers(0, 80),
    st.booleans(),
)
def test_a_shorter_cut_is_never_judged_worse(one: int, other: int, place: str, food: int | None, icy: bool) -> None:
    order = [AfterCut.KEEP, AfterCut.CHECK_EACH, AfterCut.THROW_AWAY]
    shorter, longer = (power_cut(hours, place, food, icy=icy) for hours in sorted((one, other)))
    assert order.index(shorter.verdict) <= order.index(longer.verdict)


# ------------------------------------------------------------------------------- what cannot be judged


@pytest.mark.parametrize(
    ("ask", "argument"),
    [
        (lambda: endpoint(set()), "species"),
        (lambda: endpoint({"unicorn"}), "species"),
        (lambda: endpoint({"beef"}, "fr"), "country"),
        (lambda: judge_temperature(float("nan"), {"beef"}), "f"),
        (lambda: judge_temperature(5000, {"beef"}), "f"),
        (lambda: judge_temperature(True, {"beef"}), "f"),
        (lambda: out_of_fridge(-1), "minutes"),
        (lambda: out_of_fridge(float("inf")), "minutes"),
        (lambda: out_of_fridge(5, 4000), "ambient_f"),
        (lambda: keeps("paint", "fridge"), "food"),
        (lambda: keeps("mince", "shed"), "where"),
        (lambda: use_by(date(2027, 1, 1), "mince", "fridge", 48), "at_f"),
        (lambda: use_by(date.max, "mince", "fridge"), "start"),
        (lambda: use_by(date.max, "mince", "freezer"), "start"),
        (lambda: thaw(0), "mass_g"),
        (lambda: thaw(500, "sunlight"), "method"),
        (lambda: thaw(500, "fridge", 0), "thickness_mm"),
        (lambda: take_out(datetime.min, 500), "moment"),
        (lambda: refreeze("cook from frozen"), "how_thawed"),
        (lambda: refreeze("fridge", country="fr"), "country"),
        (lambda: refreeze("counter"), "minutes_out"),
        (lambda: power_cut(3, "cellar"), "place"),
        (lambda: power_cut(-3, "fridge"), "hours"),
    ],
)
def test_bad_input_names_its_argument(ask: Callable[[], object], argument: str) -> None:
    with pytest.raises(BadInput) as fault:
        ask()
    assert fault.value.argument == argument


def test_what_keeps_tells_where_it_keeps() -> None:
    assert keeps("ground meat", "fridge").where == "fridge"
    assert keeps("ground meat", "freezer").where == "freezer"
