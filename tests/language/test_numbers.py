"""Numbers as cooks write them: each must come to exactly this value, range and unit, or to none at all."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language import numbers
from assistant.language.numbers import BEGINNINGS, VULGAR, literal, read_number
from assistant.language.phrases import Amount, Bound, Count, Fatness, Patties, PerEach, Rate, Word
from assistant.language.scan import scan
from assistant.language.sentence import read
from assistant.language.text import clean
from assistant.language.vocabulary import vocabulary

F = Fraction


def value_of(typed: str) -> Fraction | None:
    """The number that the whole of the typed text is; None where there is none or something is left over."""
    marks = scan(clean(typed).text)
    number = read_number(marks, 0)
    if number is None or number.bad:
        return None
    assert number.end == len(marks), f"{typed}: read only up to mark {number.end}"
    return number.value


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("3", F(3)),
        ("3.5", F(7, 2)),
        (".5", F(1, 2)),
        ("0.125", F(1, 8)),
        ("1,5", F(3, 2)),
        ("0,75", F(3, 4)),
        ("1,500", F(1500)),
        ("12,500", F(12500)),
        ("1,500.5", F(3001, 2)),
        ("1/2", F(1, 2)),
        ("3/4", F(3, 4)),
        ("1 1/2", F(3, 2)),
        ("1-1/2", F(3, 2)),
        ("1 and 1/2", F(3, 2)),
        ("1 & 1/2", F(3, 2)),
        ("2 3/4", F(11, 4)),
        ("½", F(1, 2)),
        ("⅔", F(2, 3)),
        ("2½", F(5, 2)),
        ("2 ½", F(5, 2)),
        ("2-½", F(5, 2)),
        ("1⅓", F(4, 3)),
        ("1⁄2", F(1, 2)),
        ("1∕2", F(1, 2)),
        ("３", F(3)),
        ("１．５", F(3, 2)),
        ("１／２", F(1, 2)),
        ("zero", F(0)),
        ("three", F(3)),
        ("Twelve", F(12)),
        ("twenty five", F(25)),
        ("twenty-five", F(25)),
        ("ninety nine", F(99)),
        ("a hundred", F(100)),
        ("one hundred", F(100)),
        ("a hundred and twenty", F(120)),
        ("two hundred and fifty", F(250)),
        ("two thousand", F(2000)),
        ("two hundred and fifty thousand", F(250_000)),
        ("1.5 thousand", F(1500)),
        ("a dozen", F(12)),
        ("dozen", F(12)),
        ("half a dozen", F(6)),
        ("half dozen", F(6)),
        ("a half dozen", F(6)),
        ("two dozen", F(24)),
        ("2 doz", F(24)),
        ("3 dozen", F(36)),
        ("a dozen and a half", F(18)),
        ("a baker's dozen", F(13)),
        ("a couple", F(2)),
        ("a couple of", F(2)),
        ("a pair of", F(2)),
        ("half", F(1, 2)),
        ("a half", F(1, 2)),
        ("a third", F(1, 3)),
        ("a quarter", F(1, 4)),
        ("one quarter", F(1, 4)),
        ("three quarters", F(3, 4)),
        ("three-quarter", F(3, 4)),
        ("two thirds", F(2, 3)),
        ("five eighths", F(5, 8)),
        ("one and a half", F(3, 2)),
        ("two and a half", F(5, 2)),
        ("two and a quarter", F(9, 4)),
        ("two and three quarters", F(11, 4)),
        ("2 and a half", F(5, 2)),
    ],
)
def test_a_number_is_exactly(typed: str, value: Fraction) -> None:
    assert value_of(typed) == value


@pytest.mark.parametrize(
    "typed",
    [
        "1/0",
        "0/0",
        "1/0 lb",
        "1.5/2.5",
        "9**9**9",
        "9 ** 9 ** 9",
        "1e400",
        "1E99",
        "NaN",
        "infinity",
        "99999999999999999999",
        "1" * 500,
        "a thousand thousand thousand thousand thousand",
        "dozen " * 100,
    ],
)
def test_what_is_no_amount_of_anything_is_never_a_number(typed: str) -> None:
    marks = scan(clean(typed).text)
    number = read_number(marks, 0)
    assert number is None or number.bad or (typed.startswith("dozen") and number.value == 12)


@pytest.mark.parametrize(
    ("typed", "kind", "value", "high", "unit"),
    [
        ("3 lb", "weight", F(3), None, "lb"),
        ("3lb", "weight", F(3), None, "lb"),
        ("3 lbs", "weight", F(3), None, "lb"),
        ("3 pounds", "weight", F(3), None, "lb"),
        ("3-lb", "weight", F(3), None, "lb"),
        ("5#", "weight", F(5), None, "lb"),
        ("5 #", "weight", F(5), None, "lb"),
        (".5 lb", "weight", F(1, 2), None, "lb"),
        ("6 oz", "weight", F(6), None, "oz"),
        ("6 ounces", "weight", F(6), None, "oz"),
        ("6 fl oz", "volume", F(6), None, "fluid_ounce"),
        ("6 fluid ounces", "volume", F(6), None, "fluid_ounce"),
        ("500g", "weight", F(500), None, "g"),
        ("1,500 g", "weight", F(1500), None, "g"),
        ("1,5 kg", "weight", F(3, 2), None, "kg"),
        ("2 kilos", "weight", F(2), None, "kg"),
        ("1 stone", "weight", F(1), None, "stone"),
        ("1 lb 9 oz", "weight", F(25, 16), None, "lb"),
        ("2 kg 250 g", "weight", F(9, 4), None, "kg"),
        ("a pound", "weight", F(1), None, "lb"),
        ("a pound and a half", "weight", F(3, 2), None, "lb"),
        ("two pounds and a quarter", "weight", F(9, 4), None, "lb"),
        ("half a pound", "weight", F(1, 2), None, "lb"),
        ("half pound", "weight", F(1, 2), None, "lb"),
        ("a half pound", "weight", F(1, 2), None, "lb"),
        ("quarter of a pound", "weight", F(1, 4), None, "lb"),
        ("three quarters of a pound", "weight", F(3, 4), None, "lb"),
        ("3/4 of a pound", "weight", F(3, 4), None, "lb"),
        ("two thirds of a lb", "weight", F(2, 3), None, "lb"),
        ("a couple of pounds", "weight", F(2), None, "lb"),
        ("a couple pounds", "weight", F(2), None, "lb"),
        ("half a kilo", "weight", F(1, 2), None, "kg"),
        ("one and a half kilos", "weight", F(3, 2), None, "kg"),
        ("2-3 lb", "weight", F(2), F(3), "lb"),
        ("2 - 3 lb", "weight", F(2), F(3), "lb"),
        ("2–3 lb", "weight", F(2), F(3), "lb"),
        ("2 to 3 lb", "weight", F(2), F(3), "lb"),
        ("6 to 8 oz", "weight", F(6), F(8), "oz"),
        ("6 or 8 oz", "weight", F(6), F(8), "oz"),
        ("two or three pounds", "weight", F(2), F(3), "lb"),
        ("2 lb to 3 lb", "weight", F(2), F(3), "lb"),
        ("1 1/2 to 2 lb", "weight", F(3, 2), F(2), "lb"),
        ("1½-2 lb", "weight", F(3, 2), F(2), "lb"),
        ("2½ to 3½ lb", "weight", F(5, 2), F(7, 2), "lb"),
        ("0 lb", "weight", F(0), None, "lb"),
        ("-3 lb", "weight", F(-3), None, "lb"),
        ("−3 lb", "weight", F(-3), None, "lb"),
        ("minus 3 lb", "weight", F(-3), None, "lb"),
        ("３ lb", "weight", F(3), None, "lb"),
        ("100000 kg", "weight", F(100000), None, "kg"),
        ("1 t", "volume", F(1), None, "tsp"),
        ("1 tsp", "volume", F(1), None, "tsp"),
        ("2 T", "volume", F(2), None, "tbsp"),
        ("2 Tbsp", "volume", F(2), None, "tbsp"),
        ("2 tbsp", "volume", F(2), None, "tbsp"),
        ("1 tbsp 1 tsp", "volume", F(4, 3), None, "tbsp"),
        ("3/4 tsp", "volume", F(3, 4), None, "tsp"),
        ("half a teaspoon", "volume", F(1, 2), None, "tsp"),
        ("2 cups", "volume", F(2), None, "cup"),
        ("1/4 cup", "volume", F(1, 4), None, "cup"),
        ("250 ml", "volume", F(250), None, "ml"),
        ('4"', "length", F(4), None, "inch"),
        ("4 inches", "length", F(4), None, "inch"),
        ("4 1/2 inch", "length", F(9, 2), None, "inch"),
        ("4.5in", "length", F(9, 2), None, "inch"),
        ("10 mm", "length", F(10), None, "mm"),
        ("11 cm", "length", F(11), None, "cm"),
        ("71°C", "degrees", F(71), None, "degC"),
        ("71 °C", "degrees", F(71), None, "degC"),
        ("71C", "degrees", F(71), None, "degC"),
        ("160°F", "degrees", F(160), None, "degF"),
        ("160F", "degrees", F(160), None, "degF"),
        ("160 F", "degrees", F(160), None, "degF"),
        ("160 degrees F", "degrees", F(160), None, "degF"),
        ("160º F", "degrees", F(160), None, "degF"),
        ("-2 °C", "degrees", F(-2), None, "degC"),
        ("20%", "percent", F(20), None, "percent"),
        ("1.5 %", "percent", F(3, 2), None, "percent"),
        ("1,5 percent", "percent", F(3, 2), None, "percent"),
        ("20 per cent", "percent", F(20), None, "percent"),
        ("1.5 to 2%", "percent", F(3, 2), F(2), "percent"),
        ("90 min", "duration", F(90), None, "minute"),
        ("1 h 30 min", "duration", F(3, 2), None, "hour"),
        ("an hour and a half", "duration", F(3, 2), None, "hour"),
        ("half an hour", "duration", F(1, 2), None, "hour"),
        ("two days", "duration", F(2), None, "day"),
        ("$4.5", "money", F(9, 2), None, "USD"),
        ("$ 4.50", "money", F(9, 2), None, "USD"),
        ("99p", "money", F(99, 100), None, "GBP"),
        ("£150", "money", F(150), None, "GBP"),
        ("1,500 dollars", "money", F(1500), None, "USD"),
        ("75¢", "money", F(3, 4), None, "USD"),
        ("€12,50", "money", F(25, 2), None, "EUR"),
    ],
)
def test_an_amount_is_exactly(typed: str, kind: str, value: Fraction, high: Fraction | None, unit: str) -> None:
    (amount,) = read(typed).phrases
    assert isinstance(amount, Amount), amount
    assert (amount.kind, amount.measure.value, amount.measure.high, amount.measure.unit) == (kind, value, high, unit)


@pytest.mark.parametrize(
    ("typed", "bound"),
    [
        ("about 3 lb", Bound.ABOUT),
        ("around 3 lb", Bound.ABOUT),
        ("roughly 3 lb", Bound.ABOUT),
        ("at least 3 lb", Bound.LEAST),
        ("no less than 3 lb", Bound.LEAST),
        ("at most 3 lb", Bound.MOST),
        ("up to 3 lb", Bound.MOST),
        ("no more than 3 lb", Bound.MOST),
        ("not over 3 lb", Bound.MOST),
        ("exactly 3 lb", Bound.EXACTLY),
        ("only 3 lb", Bound.ONLY),
        ("3 lb", Bound.IS),
    ],
)
def test_how_strictly_it_is_meant(typed: str, bound: Bound) -> None:
    (amount,) = read(typed).of(Amount)
    assert (amount.bound, amount.measure.value) == (bound, F(3))


@pytest.mark.parametrize(
    ("typed", "fat"),
    [
        ("80/20", F(20)),
        ("80 20", F(20)),
        ("80:20", F(20)),
        ("80-20", F(20)),
        ("8020", F(20)),
        ("20/80", F(20)),
        ("75/25", F(25)),
        ("90/10", F(10)),
        ("80VL", F(20)),
        ("80 vl", F(20)),
        ("20% fat", F(20)),
        ("80% lean", F(20)),
        ("20 percent fat", F(20)),
        ("fat at 22", F(22)),
        ("fat of 22", F(22)),
        ("1,5% fat", F(3, 2)),
        ("12 1/2% fat", F(25, 2)),
    ],
)
def test_a_share_of_fat_is_exactly(typed: str, fat: Fraction) -> None:
    (fatness,) = read(typed).phrases
    assert isinstance(fatness, Fatness), fatness
    assert fatness.fat == fat
    assert fatness.high is None


@pytest.mark.parametrize(
    ("typed", "fat", "high"),
    [
        ("18-20% fat", F(18), F(20)),
        ("18 to 20 percent fat", F(18), F(20)),
        ("fat at 18-20", F(18), F(20)),
        ("75-80% lean", F(20), F(25)),
    ],
)
def test_a_range_of_fat_keeps_both_ends(typed: str, fat: Fraction, high: Fraction) -> None:
    (fatness,) = read(typed).of(Fatness)
    assert (fatness.fat, fatness.high) == (fat, high)


@pytest.mark.parametrize(
    ("typed", "kind", "value", "unit", "per", "per_unit"),
    [
        ("£9.80/kg", "money", F(49, 5), "GBP", F(1), "kg"),
        ("£9.80 a kilo", "money", F(49, 5), "GBP", F(1), "kg"),
        ("A$13/kg", "money", F(13), "AUD", F(1), "kg"),
        ("$4.5/lb", "money", F(9, 2), "USD", F(1), "lb"),
        ("$4.50 per lb", "money", F(9, 2), "USD", F(1), "lb"),
        ("$4.50 a pound", "money", F(9, 2), "USD", F(1), "lb"),
        ("99p per 100 g", "money", F(99, 100), "GBP", F(100), "g"),
        ("3.29/lb", "money", F(329, 100), "", F(1), "lb"),
        ("16 g/kg", "weight", F(16), "g", F(1), "kg"),
        ("16 g per kilo", "weight", F(16), "g", F(1), "kg"),
        ("3/4 tsp per lb", "volume", F(3, 4), "tsp", F(1), "lb"),
        ("1 oz to 25 lb", "weight", F(1), "oz", F(25), "lb"),
    ],
)
def test_a_rate_is_exactly(typed: str, kind: str, value: Fraction, unit: str, per: Fraction, per_unit: str) -> None:
    (rate,) = read(typed).phrases
    assert isinstance(rate, Rate), rate
    assert (rate.kind, rate.measure.value, rate.measure.unit) == (kind, value, unit)
    assert (rate.per.value, rate.per.unit) == (per, per_unit)


@pytest.mark.parametrize(
    ("typed", "count", "size", "unit"),
    [
        ("twenty five-ounce patties", 20, F(5), "oz"),
        ("twenty-five ounce patties", None, F(25), "oz"),
        ("two quarter-pound burgers", 2, F(1, 4), "lb"),
        ("two half pound burgers", 2, F(1, 2), "lb"),
        ("twelve 6 oz patties", 12, F(6), "oz"),
        ("twelve 6-oz patties", 12, F(6), "oz"),
        ("12 6oz patties", 12, F(6), "oz"),
        ("half a dozen 5 oz burgers", 6, F(5), "oz"),
        ("150 g burgers", None, F(150), "g"),
        ("8 burgers", 8, None, ""),
        ("quarter pounders", None, F(1, 4), "lb"),
        ("6 third-pound patties", 6, F(1, 3), "lb"),
        ("ten 1/3 lb burgers", 10, F(1, 3), "lb"),
    ],
)
def test_patties_are_exactly(typed: str, count: int | None, size: Fraction | None, unit: str) -> None:
    patties = [phrase for phrase in read(typed).phrases if isinstance(phrase, Patties)]
    assert len(patties) == 1, read(typed).phrases
    read_count = None if patties[0].count is None else patties[0].count.value
    read_size = None if patties[0].each is None else patties[0].each.measure
    assert read_count == count
    assert (None if read_size is None else (read_size.value, read_size.unit)) == (
        None if size is None else (size, unit)
    )


def test_each_is_for_each() -> None:
    (each,) = read("6 oz each").phrases
    assert isinstance(each, PerEach)
    assert (each.measure.value, each.measure.unit) == (F(6), "oz")


def test_two_weights_in_a_row_are_two() -> None:
    weights = read("2 lb 3 lb").of(Amount)
    assert [weight.measure.value for weight in weights] == [2, 3]


def test_proportions_keep_every_part() -> None:
    (count,) = read("2:1:1").of(Count)
    assert [int(part) for part in count.proportion] == [2, 1, 1]


@pytest.mark.parametrize("typed", ["1/0 lb of chuck", "NaN lb", "9**9**9 lb", "1e400 g", "12345678901234567890 kg"])
def test_a_bad_number_is_told_as_one(typed: str) -> None:
    words = [phrase for phrase in read(typed).phrases if isinstance(phrase, Word) and phrase.kind == "badnum"]
    assert len(words) == 1


@given(st.integers(0, 999_999))
def test_digits_are_their_own_value(number: int) -> None:
    assert literal(str(number)) == number
    assert value_of(f"{number:,}") == number


@given(st.integers(0, 999), st.sampled_from(sorted(VULGAR)))
def test_whole_and_vulgar_fraction_add_up(whole: int, piece: str) -> None:
    assert value_of(f"{whole}{piece}") == value_of(f"{whole} {piece}") == whole + VULGAR[piece]


@given(st.integers(1, 99), st.integers(1, 64), st.integers(2, 64))
def test_whole_and_fraction_add_up(whole: int, above: int, below: int) -> None:
    if above < below:
        assert value_of(f"{whole} {above}/{below}") == value_of(f"{whole}-{above}/{below}") == whole + F(above, below)


@given(st.integers(0, 9999), st.integers(0, 99))
def test_point_and_decimal_comma_say_the_same(whole: int, cents: int) -> None:
    assert value_of(f"{whole}.{cents:02}") == value_of(f"{whole},{cents:02}") == whole + F(cents, 100)


def test_more_digits_than_any_amount_has_are_no_number() -> None:
    assert literal("9" * 14) is None
    number = read_number(scan("9" * 14), 0)
    assert number is not None
    assert number.bad


def test_a_word_that_is_not_listed_begins_no_number() -> None:
    for word in vocabulary().known - BEGINNINGS:
        for after in ("", " dozen", " half", " and a half", "-quarter", " point five", " of"):
            assert numbers._words(scan(word + after), 0) is None, word + after
