"""Phrases: typed, in order, each with the characters that it came from."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given

from assistant.language import grammar
from assistant.language.lexer import lex
from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Moment,
    Parts,
    Patties,
    People,
    Per,
    PerEach,
    Phrase,
    Rate,
    Scale,
    SeasoningName,
    Word,
)
from assistant.language.sentence import read
from assistant.language.text import clean
from tests.strategies import any_text


def types(typed: str) -> list[type[Phrase]]:
    """The types of a line's phrases."""
    return [type(phrase) for phrase in read(typed).phrases]


@pytest.mark.parametrize(
    ("typed", "kinds"),
    [
        ("3 lb", [Amount]),
        ("12", [Count]),
        ("80/20", [Fatness]),
        ("20% fat", [Fatness]),
        ("75% lean", [Fatness]),
        ("16 g/kg", [Rate]),
        ("6 oz each", [PerEach]),
        ("12 burgers", [Patties]),
        ("burgers", [Patties]),
        ("twelve 6 oz burgers", [Patties]),
        ("70 adults", [People]),
        ("3 times", [Scale]),
        ("2 parts", [Parts]),
        ("1:15 pm", [Moment]),
        ("chuck", [CutName]),
        ("salt", [SeasoningName]),
        ("3/4 tsp salt per lb", [Amount, SeasoningName, Per]),
        ("3 lb chuck, suet", [Amount, CutName, Word, CutName]),
    ],
)
def test_types(typed: str, kinds: list[type[Phrase]]) -> None:
    assert types(typed) == kinds


def test_a_ratio_the_wrong_way_round_is_marked() -> None:
    (fatness,) = read("20/80").of(Fatness)
    assert fatness.reversed_
    assert fatness.fat == Fraction(20)


def test_lean_is_turned_into_fat_and_marked() -> None:
    (fatness,) = read("at least 85% lean").of(Fatness)
    assert (fatness.fat, fatness.said_as_lean, fatness.bound) == (Fraction(15), True, Bound.LEAST)


def test_people_have_their_sort() -> None:
    people = read("40 adults, 12 kids").of(People)
    assert [(one.sort, one.count.value) for one in people if one.count] == [
        ("adult", Fraction(40)),
        ("kid", Fraction(12)),
    ]


@pytest.mark.parametrize(("typed", "grams"), [("2 kg 250 g", Fraction(9, 4)), ("1 kg 5 g", Fraction(201, 200))])
def test_two_steps_of_one_weight_add_up(typed: str, grams: Fraction) -> None:
    (amount,) = read(typed).of(Amount)
    assert amount.measure.value == grams


@given(any_text())
def test_phrases_lie_in_order_within_the_text_and_hold_their_own_words(typed: str) -> None:
    text = clean(typed).text
    end = 0
    for phrase in grammar.phrases(lex(text).pieces, text):
        assert end <= phrase.first <= phrase.last <= len(text)
        assert phrase.text == text[phrase.first : phrase.last]
        end = phrase.last
