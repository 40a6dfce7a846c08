"""Conversions: exact figures against their definitions, spoons against USDA SR28, and what is asked or refused."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant import Conversation
from assistant.answer import Answer, Role, Status
from assistant.language import sentence
from assistant.topics.base import Kitchen, Talk
from assistant.topics.convert import TOPIC


def _no_notebook() -> None:
    raise AssertionError("a conversion opens no notebook")


def _answered(line: str, country: str = "us") -> Answer:
    read = TOPIC.read(sentence.read(line), Talk())
    assert read is not None, line
    notebook: Callable[[], object] = _no_notebook
    kitchen = Kitchen(lambda: datetime(2027, 6, 19, tzinfo=UTC), notebook, country)  # type: ignore[arg-type]
    return TOPIC.answer(read.request, kitchen, Talk()).answer


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        # NIST Handbook 44 Appendix C: 1 lb = 453.59237 g, 1 in = 25.4 mm, 1 US gallon = 3.785411784 L
        ("3 lb 6oz in grams", 54 * 28.349523125, "g"),
        ("2 stone to kg", 28 * 0.45359237, "kg"),
        ("half a pound in grams", 226.796185, "g"),
        ("how many ounces in a pound", 16, "oz"),
        ("how many lbs in 2 kilos", 2 / 0.45359237, "lb"),
        ("16 oz to lb", 1, "lb"),
        ("12 oz = ? g", 12 * 28.349523125, "g"),
        ("grams to ounces", 1 / 28.349523125, "oz"),
        ("what is 4 1/2 inches in cm", 11.43, "cm"),
        ("6 ft in cm", 182.88, "cm"),
        ("1 gallon in ml", 3785.411784, "ml"),
        ("how many teaspoons in a tablespoon", 3, "tsp"),
        ("90 minutes in hours", 1.5, "hour"),
        ("2 stone 3 lb of venison in kg", 31 * 0.45359237, "kg"),
        ("how many teaspoons in an Australian tablespoon", 4, "metric_teaspoon"),
        ("2 Australian tablespoons in ml", 40, "ml"),
        # NIST SP 811: F = 1.8 C + 32
        ("what's 71 C in F", 159.8, "degF"),
        ("350f to c", 1590 / 9, "degC"),
        ("180°C in fahrenheit", 356, "degF"),
        ("160 in c", 640 / 9, "degC"),
        ("-40 C in F", -40, "degF"),
        # USDA SR28 weight table: paprika 6.8 g a tablespoon (02028), cayenne 1.8 g a teaspoon (02031), salt 18 (02047)
        ("tbs smoked paprika = how many g", 6.8, "g"),
        ("7.5 g cayenne -> tsp", 7.5 / 1.8, "tsp"),
        ("how many grams of salt in a tablespoon", 18, "g"),
        ("1/3 cup milk in g", 244 / 3, "g"),
        # water: 1 g/mL
        ("how many grams does 8 fluid ounces of ice water weigh", 236.5882365, "g"),
    ],
)
def test_figures(line: str, value: float, unit: str) -> None:
    answer = _answered(line)
    assert answer.status is Status.ANSWERED
    (figure,) = answer.figures
    assert (figure.role, figure.unit) == (Role.CONVERSION, unit)
    assert figure.value == pytest.approx(value, rel=1e-12)
    assert figure.source


def test_the_headline_is_short() -> None:
    assert _answered("3 lb 6oz in grams").headline == "3 lb 6 oz is 1531 g"
    assert _answered("1.2 kg in lb and oz").headline == "1.2 kg is 2 lb 10.33 oz"
    assert _answered("7.5 g cayenne -> tsp").headline == "7.5 g cayenne is 4.17 tsp, about 4 1/8 tsp"
    assert _answered("3-4 oz in g").headline == "3 to 4 oz is 85.05 to 113.4 g"


def test_both_ends_of_a_range_are_figures() -> None:
    low, high = _answered("1/4 to 1/2 tsp pepper in g").figures
    assert [low.value, high.value] == pytest.approx([0.575, 1.15])


@pytest.mark.parametrize(
    ("country", "grams", "note"),
    [
        ("us", 18, "Taken in US measures: a tablespoon of 14.8 ml."),
        ("uk", 18 * 15 / 14.78676478125, "Taken in UK measures: a tablespoon of 15 ml."),
        ("au", 18 * 20 / 14.78676478125, "Taken in Australian measures: a tablespoon of 20 ml."),
    ],
)
def test_a_tablespoon_is_its_country_s(country: str, grams: float, note: str) -> None:
    answer = _answered("1 tbsp salt in grams", country)
    assert answer.figures[0].value == pytest.approx(grams)
    assert note in answer.notes


def test_a_pint_is_its_country_s() -> None:
    assert _answered("1 pint in ml", "uk").figures[0].value == pytest.approx(568.26125)
    assert _answered("1 pint in ml", "us").figures[0].value == pytest.approx(473.176473)


def test_a_us_cup_is_one_in_every_kitchen() -> None:
    assert _answered("1 US cup in ml", "uk").figures[0].value == pytest.approx(236.5882365)
    assert _answered("1 cup in ml", "uk").figures[0].value == pytest.approx(250)


def test_a_typical_spoon_has_a_range() -> None:
    (figure,) = _answered("1 tbsp sea salt in grams").figures
    assert (figure.low, figure.value, figure.high) == (15, 16.5, 18)


def test_capital_and_small_t() -> None:
    big, small = _answered("1 T table salt in grams"), _answered("1 t table salt in grams")
    assert (big.figures[0].value, small.figures[0].value) == (18, 6)
    assert any(note.startswith('"T" is read as tablespoons') for note in big.notes)


def test_of_what_is_asked_and_answered(tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    asked = cook.ask("how many grams in a tablespoon")
    assert asked.status is Status.NEEDS_DETAIL
    assert asked.figures == ()
    told = cook.ask("paprika")
    assert (told.status, told.figures[0].value) == (Status.ANSWERED, pytest.approx(6.8))
    assert cook.ask("and in oz?").figures[0].value == pytest.approx(6.8 / 28.349523125)


def test_kosher_salt_is_two_salts(tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    asked = cook.ask("2 T kosher salt in grams")
    assert asked.status is Status.NEEDS_DETAIL
    assert [(f.low, f.value, f.high) for f in asked.figures] == [(16.2, 16.8, 18), (24, 28.8, 30)]
    told = cook.ask("the flakes")
    assert (told.status, told.figures[0].value) == (Status.ANSWERED, pytest.approx(16.8))


def test_a_number_without_a_unit_is_asked_for_it(tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    assert cook.ask("convert 500 to oz").status is Status.NEEDS_DETAIL
    assert cook.ask("grams").figures[0].value == pytest.approx(500 / 28.349523125)


@pytest.mark.parametrize(
    ("line", "value", "currency"),
    [
        ("99p per 100 g per kilo", 9.9, "GBP"),
        ("$4.99 a pound per kilo", 4.99 / 0.45359237, "USD"),
        ("what's £9.80 a kilo per pound", 9.8 * 0.45359237, "GBP"),
    ],
)
def test_prices_per_unit(line: str, value: float, currency: str) -> None:
    (figure,) = _answered(line).figures
    assert (figure.role, figure.unit) == (Role.PRICE, currency)
    assert figure.value == pytest.approx(value)


def test_money_is_never_exchanged() -> None:
    refused = _answered("20 bucks in euros")
    assert (refused.status, refused.figures) == (Status.IMPOSSIBLE, ())
    half = _answered("$4.99/lb in £/kg")
    assert half.status is Status.IMPOSSIBLE
    assert [f.unit for f in half.figures] == ["USD"]
    assert half.figures[0].value == pytest.approx(4.99 / 0.45359237)


@pytest.mark.parametrize(
    "line",
    [
        "2 cups of suet to grams",
        "1 tsp liquid smoke in g",
        "1 tsp pink salt in grams",
        "3 lb in cm",
        "-3 lb in g",
        "-500 C in F",
    ],
)
def test_what_cannot_be_converted_has_no_figure(line: str) -> None:
    answer = _answered(line)
    assert (answer.status, answer.figures) == (Status.IMPOSSIBLE, ())
    assert answer.message


def test_curing_salt_by_the_spoon_carries_the_caution() -> None:
    assert [caution.topic for caution in _answered("1 tsp pink salt in grams").cautions] == ["curing_salt"]


@pytest.mark.parametrize(
    "line",
    ["500g", "how much salt for 5 lb in tsp", "3 lb at 80/20 in kg", "12 burgers in grams", "2 lb chuck and 1 lb suet"],
)
def test_what_is_not_a_conversion(line: str) -> None:
    assert TOPIC.read(sentence.read(line), Talk()) is None


@pytest.mark.parametrize(
    "line",
    [
        *TOPIC.examples,
        "1.2 kg in lb and oz",
        "99p per 100 g per kilo",
        "$4.99/lb in £/kg",
        "160 in c",
        "3-4 oz in g",
        "1/3 cup milk in g",
        "2 T kosher salt in grams",
        "what is 4 1/2 inches in cm",
        "how many cups in a pint",
        "2 stone 3 lb in kg",
        "how many teaspoons in an Australian tablespoon",
    ],
)
def test_what_was_understood_reads_back(line: str) -> None:
    first = TOPIC.read(sentence.read(line), Talk())
    assert first is not None
    again = TOPIC.read(sentence.read(_answered(line).understood), Talk())
    assert again is not None
    # the letter of a spoon and the scale of bare degrees are how it was said, not what was asked
    assert again.request == replace(first.request, letter="", assumed=False)


@given(st.fractions(min_value=0, max_value=1000, max_denominator=16))
def test_there_and_back_again(pounds: Fraction) -> None:
    grams = _answered(f"{float(pounds):.4f} lb in g").figures[0].value
    assert isinstance(grams, float)
    back = _answered(f"{grams:.6f} g in lb").figures[0].value
    assert back == pytest.approx(float(pounds), abs=1e-4)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("which is more, 8 oz or 200 g", "8 oz (226.8 g) is more than 200 g, by 26.8 g"),
        ("is 8 fl oz the same as 8 oz", "not the same thing: 8 fl oz is a volume"),
        ("difference between oz and fl oz", "1 oz is a weight (28.35 g), 1 fl oz is a volume (29.57 ml)"),
        ("whats the difference between a tsp and a tbsp", "1 tbsp is 3 tsp"),
        ("compare 2 lb and 1 kg", "2 lb (0.907 kg) is less than 1 kg"),
        ("is a kilo more than 2 lb", "1 kg (2.2 lb) is more than 2 lb, by 3.27 oz"),
        ("is 16 oz the same as a pound", "16 oz and 1 lb are the same"),
        ("which is hotter, 70 C or 160 F", "70 °c (158 °f) is colder than 160 °f"),
        ("is 12 oz of mince more than 350 g of mince", "12 oz (340.2 g) is less than 350 g"),
        ("a third of 6 lb is how much", "is 2 lb"),
        ("what's two thirds of 900 g", "is 600 g"),
    ],
)
def test_two_amounts_beside_each_other(line: str, says: str) -> None:
    answer = Conversation().ask(line)
    assert says in answer.headline.lower()


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("how many kilos is 25 cl of water", 0.25),
        ("50 cl of water in kg", 0.5),
        ("75 cl in litres", 0.75),
    ],
)
def test_centilitres_of_a_liquid_are_no_lean_points(line: str, value: float) -> None:
    # "25 cl" was read as trim of 25 % chemical lean
    answer = Conversation().ask(line)
    assert answer.figures[0].value == pytest.approx(value, rel=0.005)


def test_lean_points_of_trim_stay(tmp_path: Path) -> None:
    assert "95CL" in Conversation(tmp_path / "n.db").ask("95CL bull beef and 50CL trim, 12 kg of 85CL").headline
