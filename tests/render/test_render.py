"""Renderers over any answer: nothing dropped, nothing cut, nothing that moves the cursor."""

from __future__ import annotations

import json
import tempfile
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant import Conversation
from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.render import RENDERERS, json_lines, plain, words
from assistant.render.clean import clean, to_ascii
from assistant.render.lines import GLUE, cells, fill, held_together
from assistant.render.screen import Page
from assistant.topics import topics
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


# ---- drawings, and what is worth reading twice


PAIR = (
    Figure("brisket trim", Role.COMPONENT, 0.93, "lb", fat_percent=45.0, shown="15 oz"),
    Figure("round", Role.COMPONENT, 2.07, "lb", fat_percent=8.8, shown="2 lb 1 oz"),
)
SQUARE = Answer(
    "How this was worked out",
    Status.ANSWERED,
    "why",
    "Here is the working.",
    figures=(
        *PAIR,
        Figure("fat", Role.FAT, 20.0, "%", shown="20% (16 to 24%)"),
        Figure("brisket trim, parts", Role.RATIO, 11.2, "1", shown="11.2 parts"),
        Figure("round, parts", Role.RATIO, 25.0, "1", shown="25 parts"),
    ),
)


def test_the_balance_square_is_drawn_without_colour_and_in_ascii() -> None:
    drawn = RENDERERS["terminal"](SQUARE, Page("terminal", 60, ascii_only=True))
    assert drawn.splitlines()[1:] == [
        "  brisket trim 45%  \\     /  11.2 parts",
        "                      20%",
        "  round 8.8%        /     \\  25 parts",
    ]


def test_the_balance_square_fits_a_narrow_screen_or_becomes_a_table() -> None:
    assert RENDERERS["terminal"](SQUARE, Page("terminal", 32)).splitlines()[1:] == [
        "  brisket trim",
        "  45%   \\     /  11.2 parts",
        "          20%",
        "  round",
        "  8.8%  /     \\  25 parts",
    ]
    assert "round,     25 parts" in RENDERERS["terminal"](SQUARE, Page("terminal", 22))


@pytest.mark.parametrize(("ascii_only", "bar"), [(False, "████████████████░░░░"), (True, "################....")])
def test_lean_and_fat_stand_in_one_bar_with_their_percent(ascii_only: bool, bar: str) -> None:
    figures = (Figure("fat", Role.FAT, 20.0, "%", shown="20%"), Figure("lean", Role.LEAN, 80.0, "%", shown="80%"))
    drawn = RENDERERS["terminal"](replace(BLEND, figures=figures), Page("terminal", 42, ascii_only=ascii_only))
    assert f"  lean | fat  80% {bar} 20%" in drawn.splitlines()


def test_a_share_is_as_long_as_the_figure_says() -> None:
    lines = RENDERERS["terminal"](BLEND, Page("terminal", 80, ascii_only=True)).splitlines()
    assert [line.count("#") for line in lines[1:3]] == [7, 16]  # 0.93 and 2.07 of 3 lb, of 24 columns


def test_a_range_of_nothing_is_not_shown() -> None:
    known = Figure("fat", Role.FAT, 20.0, "%", 20.0, 20.001, shown="20%")
    assert words.amount(known) == "20%"
    assert words.amount(replace(known, low=16.0, high=24.0)) == "20% (16 to 24%)"


@pytest.mark.parametrize(
    ("value", "low", "high", "unit", "shown", "said"),
    [
        (19.06, 15.7, 19.06, "%", "19.1%", "19.1% (15.7 to 19.1%)"),
        (68.96, 63.96, 72.42, "%", "69%", "69% (64 to 72.4%)"),
        (6.584, 6.205, 7.05, "USD", "$6.58", "$6.58 ($6.21 to $7.05)"),
        (2.83, 2.66, 3.04, "g", "2.8 g", "2.8 g (2.7 to 3 g)"),
    ],
)
def test_the_bounds_are_rounded_as_the_figure_between_them(
    value: float, low: float, high: float, unit: str, shown: str, said: str
) -> None:
    assert words.amount(Figure("one", Role.RATIO, value, unit, low, high, shown=shown)) == said


def test_a_list_that_only_repeats_the_opening_is_left_out() -> None:
    echo = Answer("", Status.ANSWERED, "convert", "3 lb 6 oz is 1531 g", (Figure("g", Role.CONVERSION, 1531.0, "g"),))
    assert words.figures(echo) == ()
    other = replace(echo, headline="3 lb 6 oz is 11531 g")
    assert words.figures(other) == echo.figures


@pytest.mark.parametrize(
    ("heard", "understood", "headline", "shown"),
    [
        ("3 lb at 80/20 from chuck", "Plan 3 lb at 80/20 from chuck", "", False),
        ("make it 5 lb", "Plan 5 lb at 80/20 from chuck", "5 lb at 80/20.", False),
        ("make it five", "Plan 5 lb at 80/20 from chuck", "1 lb chuck.", True),
        ("patties out at 97 f", "Patties out at 97 °C", "Throw them away.", True),
        ("set a timer", "Timers", "For how long?", False),
    ],
)
def test_a_reading_is_shown_where_it_holds_a_figure_that_nothing_else_shows(
    heard: str, understood: str, headline: str, shown: bool
) -> None:
    answer = Answer(understood, Status.ANSWERED, "blend", headline, heard=heard)
    assert bool(words.notes(answer)) is shown


@pytest.fixture(scope="module")
def real_answers() -> list[Answer]:
    """What the program says to every example of every kind of request, and along a walk through a batch."""
    home = Path(tempfile.mkdtemp())
    talk = Conversation(home / "notebook.db", folder=home)
    lines = [example for topic in topics() for example in topic.examples]
    lines += [
        "3 lb at 80/20 from brisket trim and round",
        "why",
        "I have a grinder",
        "walk me through it",
        "next",
        "next",
    ]
    return [talk.ask(line) for line in lines]


@pytest.mark.parametrize("layout", ["plain", "terminal"])
@pytest.mark.parametrize("width", [30, 40, 60, 80, 120, 200])
def test_every_real_answer_fits_from_30_to_200_columns_and_loses_no_figure(
    real_answers: list[Answer], width: int, layout: str
) -> None:
    for answer in real_answers:
        drawn = answer.topic == "why" or answer.document  # a square, or a page, in place of the list
        shown = RENDERERS[layout](answer, Page(layout, width))
        assert max(map(cells, shown.splitlines())) <= min(width, 100), answer.heard
        run_on = " ".join(shown.split())
        for figure in () if drawn else answer.figures:
            # the lean of a blend stands in its bar, without the range that the fat has already
            whole = words.amount(figure).split(" (")[0] if figure.role is Role.LEAN else words.amount(figure)
            for piece in held_together(clean(whole)).split(" "):
                assert piece.replace(GLUE, " ") in shown, (answer.heard, whole)
        for reminder in () if answer.document else answer.cautions:
            assert " ".join(clean(reminder.text).split()) in run_on, answer.heard


def test_every_real_answer_can_be_written_in_ascii(real_answers: list[Answer]) -> None:
    for answer in real_answers:
        for layout in ("plain", "terminal"):
            shown = RENDERERS[layout](answer, Page(layout, 80, ascii_only=True))
            whole = RENDERERS[layout](answer, Page(layout, 80))
            assert shown.isascii()
            assert shown.count("?") == whole.count("?"), shown  # nothing became a "?" for want of a form in ASCII
