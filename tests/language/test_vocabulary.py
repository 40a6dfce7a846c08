"""The cook's words: one place each, and every name of a cut understood as that cut."""

from __future__ import annotations

import pytest

from assistant import data
from assistant.language import vocabulary
from assistant.language.phrases import Amount, CutName, Patties
from assistant.language.sentence import read


def test_no_phrase_stands_in_two_places() -> None:
    assert list(vocabulary.duplicates()) == []


def test_every_cut_is_found_under_its_own_key() -> None:
    words = vocabulary.vocabulary()
    for key in data.cuts():
        meaning = words.find(vocabulary.spelled(key))
        assert meaning is not None, key


@pytest.mark.parametrize(
    ("typed", "value", "unit"),
    [
        ("3 lb", 3, "lb"),
        (".5 lb", 0.5, "lb"),
        ("1,5 kg", 1.5, "kg"),
        ("1,500 g", 1500, "g"),
        ("1 1/2 lb", 1.5, "lb"),
        ("1-1/2 lb", 1.5, "lb"),
        ("2½ lb", 2.5, "lb"),
        ("a pound and a half", 1.5, "lb"),
        ("three quarters of a pound", 0.75, "lb"),
        ("a couple of pounds", 2, "lb"),
        ("half a pound", 0.5, "lb"),
        ("5#", 5, "lb"),
        ("３ lb", 3, "lb"),
        ("1 lb 9 oz", 1.5625, "lb"),
    ],
)
def test_weights_are_read_exactly(typed: str, value: float, unit: str) -> None:
    (amount,) = read(typed).of(Amount)
    assert (float(amount.measure.value), amount.measure.unit) == (value, unit)


def test_twenty_five_ounce_patties_are_twenty() -> None:
    (patties,) = read("twenty five-ounce patties").of(Patties)
    assert patties.count is not None
    assert patties.each is not None
    assert (int(patties.count.value), int(patties.each.measure.value)) == (20, 5)


def test_a_misspelt_cut_is_mended_and_told() -> None:
    sentence = read("2 lb of briskett")
    assert sentence.of(CutName)[0].name == "brisket"
    assert sentence.corrections == (("briskett", "brisket"),)


def test_fixed_145_enough_for_burgers_counts_no_burgers() -> None:
    assert read("is 145 enough for burgers").of(Patties)[0].count is None
