"""A request with its account of every word."""

from __future__ import annotations

import pytest
from hypothesis import given

from assistant.language.lexer import lex
from assistant.language.phrases import Amount, CutName, Word
from assistant.language.scan import scan
from assistant.language.sentence import MOST_MARKS, MOST_PHRASES, TooLong, read
from assistant.language.text import LONGEST, clean
from tests.strategies import any_text

LINE = read("3 lb at 80/20 from chuck and suet, no brisket please")


def test_phrases_are_found_by_type_and_kind() -> None:
    assert [cut.name for cut in LINE.of(CutName)] == ["chuck", "suet", "brisket"]
    assert [amount.text for amount in LINE.of(Amount)] == ["3 lb"]
    assert [word.payload for word in LINE.words("join")] == ["and"]


def test_cues_are_found_by_name() -> None:
    assert LINE.has("not")
    assert not LINE.has("double")
    assert "not" in LINE.cues
    cue = LINE.cue("double", "not")
    assert cue is not None
    assert cue.text == "no"


def test_neighbours() -> None:
    chuck, suet, _ = LINE.of(CutName)
    join = LINE.after(chuck)
    assert isinstance(join, Word)
    assert LINE.after(join) == suet
    assert LINE.before(suet) == join
    assert LINE.before(LINE.phrases[0]) is None
    assert LINE.after(LINE.phrases[-1]) is None
    assert [LINE.place(phrase) for phrase in LINE.phrases] == list(range(len(LINE.phrases)))


def test_substance_leaves_out_what_only_joins() -> None:
    assert all(not isinstance(phrase, Word) or phrase.kind not in ("sep", "join") for phrase in LINE.substance())


def test_unknown_words_stay_in_the_line() -> None:
    assert [word.text for word in read("3 lb of qwrtzpsk").unknown] == ["qwrtzpsk"]


def test_hidden_characters_are_told() -> None:
    assert read("ch\u200buck").hidden
    assert not read("chuck").hidden


def test_too_many_characters_are_not_read() -> None:
    with pytest.raises(TooLong) as caught:
        read("a" * (LONGEST + 1))
    assert (caught.value.length, caught.value.most, caught.value.what) == (LONGEST + 1, LONGEST, "characters")


def test_too_many_phrases_are_not_looked_at() -> None:
    with pytest.raises(TooLong) as caught:
        read("lb " * (MOST_PHRASES + 1))
    assert (caught.value.length, caught.value.what) == (MOST_PHRASES + 1, "figures and names")


def test_too_many_marks_are_not_even_looked_up() -> None:
    with pytest.raises(TooLong) as caught:
        read("the " * (MOST_MARKS - 1) + "a b")
    assert (caught.value.length, caught.value.what) == (MOST_MARKS + 1, "words and signs")
    assert read("the " * MOST_MARKS).phrases == ()


@given(any_text())
def test_reading_is_total(typed: str) -> None:
    """Every text is read, or refused for its length alone."""
    pieces, marks = len(lex(clean(typed).text).pieces), len(scan(clean(typed).text))
    if len(typed) > LONGEST or pieces > MOST_PHRASES or marks > MOST_MARKS:
        with pytest.raises(TooLong):
            read(typed)
        return
    sentence = read(typed)
    for phrase in sentence.phrases:
        assert sentence.phrases[sentence.place(phrase)] == phrase
