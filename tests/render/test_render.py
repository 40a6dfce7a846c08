"""Renderers over any answer: nothing dropped, nothing cut, nothing that moves the cursor."""

from __future__ import annotations

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.render import RENDERERS, json_lines, plain, words
from assistant.render.clean import clean, to_ascii
from assistant.render.lines import cells, fill
from assistant.render.screen import Page
from tests.terminal.standin import BLEND

texts = st.text(max_size=40)
numbers = st.one_of(st.floats(allow_nan=False, allow_infinity=False, width=32), st.just(0.004))
figures = st.builds(
    Figure,
    name=texts,
    role=st.sampled_from(Role),
    value=numbers,
    unit=st.sampled_from(["lb", "g", "%", "count", "degF", "USD"]),
    low=st.none() | numbers,
    high=st.none() | numbers,
    fat_percent=st.none() | st.floats(0, 100),
    shown=texts,
)
answers = st.builds(
    Answer,
    heard=texts,
    understood=texts,
    status=st.sampled_from(Status),
    topic=texts,
    headline=texts,
    figures=st.lists(figures, max_size=4).map(tuple),
    steps=st.lists(texts, max_size=3).map(tuple),
    cautions=st.lists(st.builds(Caution, topic=texts, text=texts, source=texts), max_size=3).map(tuple),
    notes=st.lists(texts, max_size=3).map(tuple),
    message=texts,
)


@given(answers, st.sampled_from(["plain", "terminal"]), st.integers(20, 200), st.booleans())
def test_any_answer_fits_and_moves_no_cursor(answer: Answer, layout: str, width: int, ascii_only: bool) -> None:
    shown = RENDERERS[layout](answer, Page(layout, width, ascii_only))
    for line in shown.splitlines():
        assert cells(line) <= width
        assert not any(unicodedata.category(char) in ("Cc", "Cf", "Cs") for char in line)
    assert shown == "" or shown.endswith("\n")
    assert not ascii_only or shown.isascii()


@given(answers)
def test_json_is_one_line_that_gives_back_exactly_what_was_heard(answer: Answer) -> None:
    line = json_lines.render(answer)
    assert len(line.splitlines()) == 1
    assert not any(unicodedata.category(char) in ("Cc", "Cf", "Cs") for char in line)
    assert json.loads(line) == json.loads(json.dumps(answer.as_data()))


def test_json_keeps_letters_and_fractions_readable() -> None:
    line = json_lines.render(replace(BLEND, heard="2½ lb of crème \u202e\x1b[31m"))
    assert "2½ lb of crème \\u202e\\u001b[31m" in line


@given(texts.map(clean), st.integers(20, 100))
def test_filling_loses_no_letter(text: str, width: int) -> None:
    assert "".join("".join(fill(text, width)).split()) == "".join(text.split())


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        (Figure("fat", Role.FAT, 20.0, "%", 16.1, 24.25), "20% (16.1 to 24.25%)"),
        (Figure("pinch", Role.SEASONING, 0.004, "oz"), "0.004 oz"),
        (Figure("nothing", Role.LEFT_OVER, 0.0, "lb"), "0 lb"),
        (Figure("middle", Role.TEMPERATURE, 160.0, "degF"), "160°F"),
        (Figure("patties", Role.PATTY_COUNT, 24.0, "count"), "24"),
        (Figure("day", Role.DATE, "2026-07-04", "date"), "2026-07-04"),
        (Figure("fat", Role.FAT, 20.0, "%", 16.1, 24.2, shown="16 to 24%"), "16 to 24%"),
        (Figure("cost", Role.COST, 1234567.0, "USD"), "1234567 USD"),
    ],
)
def test_a_figure_without_words_of_its_own(figure: Figure, shown: str) -> None:
    assert words.amount(figure) == shown


@pytest.mark.parametrize(
    ("text", "ascii_text"),
    [
        ("2½ lb", "2 1/2 lb"),
        ("½ lb", "1/2 lb"),
        ("160°F", "160 deg F"),
        ("160 °F (71 °C)", "160 deg F (71 deg C)"),
        ("2–3 crème", "2-3 creme"),
        ("肉", "?"),
        ("1 ⅛ in × 2", "1 1/8 in x 2"),
    ],
)
def test_ascii_fallback(text: str, ascii_text: str) -> None:
    assert to_ascii(text) == ascii_text


def test_order_is_message_figures_steps_cautions_notes() -> None:
    for layout in ("plain", "terminal"):
        text = RENDERERS[layout](replace(BLEND, message="Yes."), Page(layout, 100))
        parts = ["Yes.", BLEND.headline, "45% fat", "Cut both", "Safety: Cook", "Read as:", BLEND.notes[0]]
        places = [text.index(part) for part in parts]
        assert places == sorted(places)


def test_a_caution_that_names_itself_is_not_named_twice() -> None:
    warned = replace(BLEND, cautions=(Caution("x", "Warning: throw it away.", "s"),))
    assert "Safety: Warning" not in plain.render(warned)


def test_a_letter_that_terminals_measure_differently_does_not_push_the_bar_out() -> None:
    parts = tuple(
        Figure(name, Role.COMPONENT, 1.0, "lb", shown=name) for name in ("\N{EMOJI MODIFIER FITZPATRICK TYPE-1-2}", "b")
    )
    shown = RENDERERS["terminal"](replace(BLEND, figures=parts), Page("terminal", 20))
    assert max(map(cells, shown.splitlines())) <= 20
