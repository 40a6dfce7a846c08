"""The lexer: total, in order, and telling apart the letters that mean several units."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language import lexer
from assistant.language.lexer import lex
from assistant.language.phrases import Rate
from assistant.language.sentence import read
from assistant.language.text import clean
from tests.strategies import any_text, kitchen_words


def kinds(typed: str) -> list[str]:
    """The terminals of a line."""
    return [str(piece.type) for piece in lex(clean(typed).text).pieces]


@pytest.mark.parametrize(
    ("typed", "terminals"),
    [
        ("3 lb", ["WNUM", "MASS"]),
        ("6 oz", ["WNUM", "MASS"]),
        ("6 fl oz", ["VNUM", "VOLUME"]),
        ("1 T", ["VNUM", "VOLUME"]),
        ("5#", ["WNUM", "MASS"]),
        ("71 C", ["DNUM", "DEGREE"]),
        ('4"', ["LNUM", "LENGTH"]),
        ("4 in thick", ["LNUM", "LENGTH", "CUE"]),
        ("99p", ["MNUM", "CUR"]),
        ("$4", ["MNUM", "CUR"]),
        ("20%", ["PNUM", "PCT"]),
        ("80/20", ["RATIO"]),
        ("80VL", ["GRADE"]),
        ("1/0", ["BADNUM"]),
        ("25:00 pm", ["BADNUM"]),
        ("2027-02-30", ["BADNUM"]),
        ("noon", ["CLOCK"]),
        ("Saturday 19 June 2027", ["DATE"]),
        ("at least 3 lb", ["LEAST", "WNUM", "MASS"]),
        ("16 g/kg", ["WNUM", "MASS", "PERMASS"]),
        ("12 burgers", ["NUM", "PATTY"]),
        ("2 parts", ["NUM", "PART"]),
        ("chuck", ["CUT"]),
        ("salt", ["SEASONING"]),
        ("qwrtzpsk", ["UNKNOWN"]),
    ],
)
def test_terminals(typed: str, terminals: list[str]) -> None:
    assert kinds(typed) == terminals


def test_a_ratio_needs_to_add_up_to_a_hundred() -> None:
    assert "RATIO" not in kinds("80/30")
    assert "RATIO" not in kinds("80 30")


def test_a_known_word_within_a_slip_is_mended_and_kept() -> None:
    lexed = lex("2 lb of chcuk")
    assert lexed.corrections == (("chcuk", "chuck"),)
    assert [str(piece.type) for piece in lexed.pieces][-1] == "CUT"


@pytest.mark.parametrize("word", ["dog", "human", "cardboard", "plutonium"])
def test_what_is_no_food_is_never_mended_into_food(word: str) -> None:
    assert "CUT" not in kinds(f"2 lb of {word}")
    assert "SEASONING" not in kinds(f"2 tsp of {word}")


@given(any_text())
def test_any_text_is_lexed_in_order_and_within_the_text(typed: str) -> None:
    text = clean(typed[:2000]).text
    at = 0
    for piece in lex(text).pieces:
        assert 0 <= piece.first <= piece.last <= len(text)
        assert piece.first >= at or str(piece.type) in (
            "CUR",
            "MASS",
            "VOLUME",
            "PCT",
            "LENGTH",
            "TIME",
            "DEGREE",
            "PATTY",
        )
        at = piece.first


@given(kitchen_words())
def test_capitals_change_nothing_but_the_spoons(typed: str) -> None:
    """T is a tablespoon, t a teaspoon, F and C are degrees, NaN is no number: those spellings are left out."""
    if any(len(word) == 1 and word.isalpha() for word in typed.split()):
        return
    assert kinds(typed) == kinds(typed.capitalize())


@pytest.mark.parametrize(
    "pattern", ["one hundred and ", "one and ", "hundred ", "1 and ", "half a ", "a dozen and ", "1/"]
)
def test_fixed_number_words_in_a_long_row_are_read_in_no_time(pattern: str) -> None:
    """Doubled with every "and" before; 2,000 characters of it would never have ended."""
    assert kinds((pattern * 500)[:2000])


def test_a_thousand_hyphens_after_a_number_are_no_unit_and_no_fault() -> None:
    # was one call within another for every hyphen
    assert "MASS" not in kinds("5" + "-" * 1500)
    assert kinds("6-oz") == ["WNUM", "MASS"]


def test_a_rate_on_the_weight_of_meat() -> None:
    (rate,) = read("1 oz to 25 lb of meat").of(Rate)
    assert (rate.measure.value, rate.measure.unit) == (Fraction(1), "oz")
    assert (rate.per.value, rate.per.unit) == (Fraction(25), "lb")


@given(st.one_of(kitchen_words(), any_text()))
def test_the_attempts_that_are_left_out_for_a_sort_of_mark_would_find_nothing(typed: str) -> None:
    text = clean(typed).text
    with pytest.MonkeyPatch.context() as patch:
        found = lex(text)
        patch.setattr(lexer, "_sort", lambda _mark: "bad")  # every attempt is made with one of those
        assert lex(text) == found
