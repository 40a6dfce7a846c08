"""Wording: as people write it, never further off than the step shown, and adding up."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import units, wording
from assistant.errors import BadInput

POUND = units.grams(1, "lb")
OUNCE = units.grams(1, "oz")
grams = st.fractions(min_value=0, max_value=100_000, max_denominator=10_000)
parts = st.lists(grams, min_size=1, max_size=6)
systems = st.sampled_from(wording.SYSTEMS)


def read_back(text: str) -> Fraction:
    """Grams of a weight as written; written here on its own, so that the two can disagree."""
    total = Fraction(0)
    for amount, unit in re.findall(r"([\d,./ ]+?) (lb|oz|kg|g)\b", text):
        pieces = amount.replace(",", "").split()
        total += sum((Fraction(piece) for piece in pieces), Fraction(0)) * units.grams(1, unit)
    return total


@pytest.mark.parametrize(
    ("weight", "us", "metric"),
    [
        (Fraction(0), "0 oz", "0 g"),
        (Fraction(992), "2 lb 3 oz", "992 g"),
        (3 * POUND, "3 lb", "1.36 kg"),
        (Fraction(450), "15 3/4 oz", "450 g"),
        (POUND * 2 + OUNCE * Fraction(13, 4), "2 lb 3 1/4 oz", "999 g"),
        (OUNCE * Fraction(9, 8), "1 1/8 oz", "32 g"),
        (Fraction("4.56"), "1/8 oz", "4.6 g"),
        (Fraction("999.6"), "2 lb 3 1/4 oz", "1 kg"),
        (25 * POUND, "25 lb", "11.34 kg"),
        (Fraction("0.01"), "less than 1/8 oz", "less than 0.1 g"),
    ],
)
def test_weights(weight: Fraction, us: str, metric: str) -> None:
    assert wording.weight(weight) == us
    assert wording.weight(weight, "metric") == metric
    assert wording.both(weight) == f"{us} ({metric})"
    assert wording.both(weight, "metric") == f"{metric} ({us})"


def test_sixteen_ounces_are_never_written() -> None:
    assert wording.weight(POUND - Fraction(1, 100)) == "1 lb"
    assert wording.weight(2 * POUND - Fraction(1, 100)) == "2 lb"


def test_glyphs_only_when_asked_for() -> None:
    assert wording.weight(Fraction(9, 4) * OUNCE, glyphs=True) == "2¼ oz"
    assert wording.weight(OUNCE / 2, glyphs=True) == "½ oz"
    assert wording.both(Fraction(9, 4) * OUNCE).isascii()


@given(grams, systems)
def test_a_weight_is_within_half_a_step(weight: Fraction, system: str) -> None:
    text = wording.weight(weight, system)
    step = wording.weight_step(weight, system)
    if text.startswith("less than"):
        assert 0 < weight < step
    else:
        assert abs(read_back(text) - weight) <= step / 2


@given(parts, st.fractions(min_value=Fraction(1, 8), max_value=30, max_denominator=8))
def test_rounded_parts_add_up(values: list[Fraction], step: Fraction) -> None:
    near = wording.rounded_parts(values, step)
    assert sum(near) == wording.rounded(sum(values), step)
    assert all(abs(shown - value) < step for shown, value in zip(near, values, strict=True))
    assert all((shown / step).denominator == 1 and shown >= 0 for shown in near)


@given(parts, systems)
def test_shown_parts_add_up_to_the_shown_total(values: list[Fraction], system: str) -> None:
    texts, total = wording.weights(values, system)
    if any(text.startswith("less than") for text in (*texts, total)):
        texts = tuple(text for text in texts if not text.startswith("less than"))
    if not total.startswith("less than"):
        assert sum((read_back(text) for text in texts), Fraction(0)) == read_back(total)


@given(st.fractions(min_value=0, max_value=100), st.integers(0, 3))
def test_lean_and_fat_make_a_hundred(fat: Fraction, digits: int) -> None:
    lean, shown_fat = wording.lean_fat(fat, digits).split("/")
    assert Fraction(lean) + Fraction(shown_fat) == 100


@pytest.mark.parametrize(
    ("measures", "text"),
    [
        ([(2, "tbsp"), (Fraction(1, 4), "tsp")], "2 tbsp + 1/4 tsp"),
        ([(1, "tsp"), (Fraction(1, 2), "tsp")], "1 1/2 tsp"),
        ([(Fraction(1, 3), "cup")], "1/3 cup"),
        ([(1, "tsp"), (1, "pinch")], "1 tsp + a pinch"),
        ([(0, "tbsp"), (Fraction(1, 16), "tsp")], "1/16 tsp"),
        ([(Fraction(1, 1000), "tsp")], "less than 1/48 tsp"),
        ([(2, "pinch")], "2 pinches"),
        ([], "none"),
    ],
)
def test_spoons(measures: list[tuple[Fraction, str]], text: str) -> None:
    assert wording.spoons(measures) == text


@pytest.mark.parametrize(
    ("amount", "currency", "text"),
    [
        (Fraction("4.28"), "USD", "$4.28"),
        (Fraction("4.275"), "USD", "$4.28"),
        (5, "GBP", "£5.00"),
        (5, "EUR", "€5.00"),
        (1250, "AUD", "A$1,250.00"),
        (-3, "CAD", "-C$3.00"),
        (Fraction(1, 1000), "NZD", "less than NZ$0.01"),
        (4, "SEK", "4.00 SEK"),
        (0, "USD", "$0.00"),
    ],
)
def test_money(amount: Fraction, currency: str, text: str) -> None:
    assert wording.money(amount, currency) == text


def test_prices() -> None:
    assert wording.price(Fraction("4.99"), "USD", "lb") == "$4.99/lb"
    assert wording.price(Fraction("1.2"), "GBP", "patty") == "£1.20 a patty"


def test_temperatures() -> None:
    assert wording.temperature(160) == "160 °F (71 °C)"
    assert wording.temperature(4, "degC") == "4 °C (39 °F)"
    assert wording.temperature(160, "degF", first="degC") == "71 °C (160 °F)"
    assert wording.temperature(Fraction("71.1"), "degC") == "71.1 °C (160 °F)"
    assert wording.temperature(0) == "0 °F (-18 °C)"
    with pytest.raises(units.WrongKind):
        wording.temperature(1, "lb")


@pytest.mark.parametrize(
    ("millimetres", "text"),
    [
        (Fraction("114.3"), "4 1/2 in (11.4 cm)"),
        (Fraction("12.7"), "1/2 in (13 mm)"),
        (Fraction("4.7625"), "3/16 in (4.8 mm)"),
        (Fraction("3.96875"), "5/32 in (4 mm)"),
        (Fraction("13.57"), "1/2 in (14 mm)"),
        (Fraction("0.01"), "less than 1/32 in (less than 0.1 mm)"),
    ],
)
def test_lengths(millimetres: Fraction, text: str) -> None:
    assert wording.length(millimetres) == text


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        *((0, "0 s"), (Fraction(1, 2), "30 s"), (45, "45 min"), (60, "1 h"), (75, "1 h 15 min")),
        *((Fraction("59.7"), "1 h"), (30 * 60, "30 h"), (2880, "2 days"), (3060, "2 days 3 h"), (1.5, "2 min")),
    ],
)
def test_durations(minutes: float, text: str) -> None:
    assert wording.duration(minutes) == text


def test_clock_and_calendar() -> None:
    assert wording.clock(time(13, 15)) == "1:15 pm"
    assert wording.clock(time(0, 5)) == "12:05 am"
    assert wording.clock(time(12, 30)) == "12:30 pm"
    assert wording.clock(time(0, 0)) == "12 midnight"
    assert wording.clock(time(12, 0)) == "12 noon"
    assert wording.day(date(2027, 6, 19)) == "Sat 19 June 2027"
    assert wording.day_and_time(datetime(2027, 6, 19, 13, 15)) == "Sat 19 June 2027, 1:15 pm"


@given(st.dates())
def test_a_written_day_is_that_day(when: date) -> None:
    weekday, day, month, year = wording.day(when).split(" ")
    back = date(int(year), wording.MONTHS.index(month) + 1, int(day))
    assert back == when
    assert wording.DAYS[back.weekday()] == weekday


def test_numbers_counts_and_lists() -> None:
    assert wording.number(Fraction(14, 10)) == "1.4"
    assert wording.number(2250) == "2250"
    assert wording.number(12500) == "12,500"
    assert wording.number(Fraction("-0.04")) == "0"
    assert wording.number(Fraction("-17.78"), 0) == "-18"
    assert wording.percent(Fraction("19.16")) == "19.2%"
    assert wording.percent(Fraction("0.01")) == "less than 0.1%"
    assert wording.percent_range(Fraction("16.1"), Fraction("24.2")) == "16 to 24%"
    assert wording.percent_range(20, 20) == "20%"
    assert wording.lean_fat(20) == "80/20"
    assert wording.lean_fat(Fraction("17.45")) == "82.5/17.5"
    assert wording.counted(1, "patty") == "1 patty"
    assert wording.counted(12, "quarter-pound patty") == "12 quarter-pound patties"
    assert [wording.plural_of(word) for word in ("day", "box", "loaf", "batch", "person")] == [
        *("days", "boxes", "loaves", "batches", "people"),
    ]
    assert [wording.listing("abc"[:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert wording.listing(["round", "chuck"], "or") == "round or chuck"


@given(st.fractions(min_value=-1000, max_value=1000), st.sampled_from([Fraction(1, 8), Fraction(1, 4), Fraction(1, 3)]))
def test_kitchen_fractions_read_back(value: Fraction, step: Fraction) -> None:
    text = wording.fraction(value, step)
    size = sum((Fraction(piece) for piece in text.lstrip("-").split(" ")), Fraction(0))
    assert (-size if text.startswith("-") else size) == wording.rounded(value, step)


def test_halves_go_up_and_below_zero_away_from_it() -> None:
    assert [wording.rounded(Fraction(n, 2)) for n in (-3, -1, 1, 3, 5)] == [-2, -1, 1, 2, 3]


@pytest.mark.parametrize("value", [-1, float("nan"), float("inf"), True, "3"])
def test_what_cannot_be_written_is_refused(value: float) -> None:
    for write in (wording.weight, wording.length, wording.duration, wording.lean_fat):
        with pytest.raises(BadInput):
            write(value)


def test_wrong_demands_are_refused() -> None:
    with pytest.raises(BadInput):
        wording.weight(1, "troy")
    with pytest.raises(BadInput):
        wording.rounded(1, 0)
    with pytest.raises(BadInput):
        wording.percent_range(3, 2)
    with pytest.raises(BadInput):
        wording.lean_fat(101)


@given(
    value=st.fractions(0, 100, max_denominator=1000),
    low=st.fractions(0, 100, max_denominator=1000),
    high=st.fractions(0, 100, max_denominator=1000),
)
def test_a_percent_never_stands_outside_of_its_worst_case(value: Fraction, low: Fraction, high: Fraction) -> None:
    least, middle, most = sorted((value, low, high))
    said = wording.percent_at_worst(middle, least, most)
    numbers = [Fraction(figure) for figure in re.findall(r"[\d.]+(?=%| to)", said.replace("less than 0.1", "0"))]
    shown, ends = numbers[0], numbers[1:] or [numbers[0]]
    assert ends[0] <= shown <= ends[-1]
    assert all(abs(end - exact) <= Fraction(1, 20) for end, exact in zip(ends, (least, most), strict=False))


def test_a_worst_case_that_is_shown_alike_is_left_out() -> None:
    assert wording.percent_at_worst(Fraction(20), Fraction("12.84"), Fraction(30)) == "20% (12.8 to 30% at the worst)"
    assert wording.percent_at_worst(Fraction(20), Fraction("19.99"), Fraction("20.01")) == "20%"
    assert wording.percent_at_worst(Fraction(1, 21), Fraction(0), Fraction(1, 21)) == "less than 0.1%"
