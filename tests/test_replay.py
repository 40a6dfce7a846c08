"""Written conversations: reading, writing, comparing, rewriting, playing."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import replay
from assistant.asking import Talker
from assistant.render.screen import Page
from assistant.replay import BadTranscriptError, Comment, Item, Setting, Turn
from tests.terminal.standin import StandIn

TEXT = """\
# Friday's supper
@ clock 2026-07-04 18:30
@ country uk
> clock
it is 2026-07-04 18:30

@ clock 2026-07-04 19:00
> clock
it is 2026-07-04 19:00
"""


def start(notebook: Path, now: Callable[[], datetime], settings: dict[str, str]) -> Talker:
    return StandIn(notebook, now, settings)


def compared(path: Path, update: bool = False) -> tuple[int, str]:
    out = io.StringIO()
    return replay.compare_files([str(path)], out, update, start), out.getvalue()


def test_a_transcript_that_holds(tmp_path: Path) -> None:
    path = tmp_path / "supper.txt"
    path.write_text(TEXT)
    assert compared(path) == (0, f"{path}: all answers as expected\n")


def test_a_difference_is_shown_line_by_line_and_update_rewrites_only_the_answer(tmp_path: Path) -> None:
    path = tmp_path / "supper.txt"
    path.write_text(TEXT.replace("it is 2026-07-04 19:00", "it is late"))
    status, told = compared(path)
    assert status == 1
    assert told.splitlines() == [f"{path}:8: > clock", "    - it is late", "    + it is 2026-07-04 19:00"]
    assert compared(path, update=True) == (0, f"{path}: 1 answers rewritten\n")
    assert path.read_text() == TEXT
    assert compared(path)[0] == 0


def test_a_figure_of_an_answer_is_compared_at_72_columns(tmp_path: Path) -> None:
    path = tmp_path / "blend.txt"
    path.write_text("> 3 lb of it\n")
    compared(path, update=True)
    lines = path.read_text().splitlines()
    assert lines[1:3] == ["15 oz brisket trim and 2 lb 1 oz round.", "  brisket trim: 15 oz, 45% fat"]
    assert max(map(len, lines)) <= 72


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("an answer\n", 1),
        ("# fine\n@ moon full\n", 2),
        ("@ clock yesterday\n", 1),
        ("@ country\n", 1),
        ("> clock\nit is\n@ country uk\n", 3),
    ],
)
def test_a_transcript_that_cannot_be_read_names_its_line(text: str, line: int) -> None:
    with pytest.raises(BadTranscriptError) as refused:
        replay.read(text)
    assert refused.value.line == line


def test_a_missing_file_is_told_and_the_others_still_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "supper.txt"
    path.write_text(TEXT)
    out = io.StringIO()
    assert replay.compare_files([str(tmp_path / "none"), str(path)], out, start=start) == 2
    assert "all answers as expected" in out.getvalue()
    assert "No such file" in capsys.readouterr().err


line_text = st.text(st.characters(codec="ascii", exclude_categories=["Cc"]), max_size=12).map(str.rstrip)
answers = st.lists(line_text, max_size=4).map(lambda lines: (*lines, "end"))
item_lists = st.lists(
    st.one_of(
        line_text.map(lambda text: Comment(f"#{text}")),
        st.just(Setting("clock", "2026-07-04 18:30")),
        st.builds(Turn, line_text.map(str.strip), answers, st.just(0)),
    ),
    max_size=6,
)


@given(item_lists)
def test_what_is_written_is_read_back(items: list[Item]) -> None:
    again = replay.read(replay.write(items))
    assert [Turn(item.typed, item.expected, 0) if isinstance(item, Turn) else item for item in again] == items


def test_live_play_types_and_waits_to_be_read(tmp_path: Path) -> None:
    path = tmp_path / "supper.txt"
    path.write_text(TEXT)
    out = io.StringIO()
    pauses: list[float] = []
    assert replay.play_files([str(path)], Page("plain", 72), out, pauses.append, start) == 0
    assert out.getvalue().startswith("> clock\nit is 2026-07-04 18:30\n")
    assert len(pauses) == 2 * (len("clock") + 1)
