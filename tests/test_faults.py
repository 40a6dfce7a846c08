"""Faults of the machine around the program: no home, a broken locale, a clock set back, bytes that are no text, no
output, a terminal that changes its size, a line of ten megabytes, an evening of very many turns; and what is opened.

The faults of the notebook's file have tests of their own in tests/notebook/test_faults.py.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant import Conversation, Status
from assistant.language.text import LONGEST
from tests import long_evening
from tests.terminal.programs import REAL, ROOT, Screen, environment, run
from tests.topics.kitchen_talk import said

BLEND = "3 lb at 80/20 from round 8% and suet 92%"
WATCHED = """
import os, sys
MEANT = os.path.realpath(sys.argv[1])
def seen(event, given):
    if event.startswith("socket.") and event != "socket.gethostname":
        os.write(2, f"NETWORK {event}\\n".encode())
    if event in ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.fork", "os.forkpty", "pty.spawn"):
        os.write(2, f"PROGRAM {event}\\n".encode())
    path = given[0] if given else ""
    writes = event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.chmod", "os.truncate")
    if event == "open":
        writes = bool((given[2] or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
    if event == "sqlite3.connect":
        path = str(path).removeprefix("file://").partition("?")[0]
        writes = path != ":memory:"
    if writes and isinstance(path, (str, bytes, os.PathLike)):
        where = os.path.realpath(os.fsdecode(path))
        if not where.startswith(MEANT + os.sep) and where != MEANT and "__pycache__" not in where and where != "/dev/null":
            os.write(2, f"OUTSIDE {event} {where}\\n".encode())
sys.addaudithook(seen)
sys.argv[1:] = sys.argv[2:]
from assistant.cli import main
raise SystemExit(main(sys.argv[1:]))
"""
"""The program under an audit hook, which sees every file, socket and process that Python and its libraries open."""


@pytest.fixture
def evening_lines() -> bytes:
    lines = [
        BLEND,
        "save that as ../../outside",
        "rate it 8",
        "note: a touch dry",
        "actually 1 lb of suet",
        "remember I have 4 lb round",
        "made it",
        "set a timer for 10 minutes",
        "use metric",
        "what temperature for pork",
        "save that as ~/../$HOME/x",
        "undo",
        "show my saved batches",
    ]
    return "\n".join(lines).encode()


# --- what is opened ---------------------------------------------------------------------------------------------------


def test_the_whole_program_opens_no_socket_starts_no_program_and_writes_only_into_its_folder(
    tmp_path: Path, evening_lines: bytes
) -> None:
    folder = tmp_path / "kitchen"
    folder.mkdir()
    watched = (sys.executable, "-c", WATCHED, str(folder))
    told = run(folder, stdin=evening_lines, program=watched)
    assert (told.returncode, told.stderr) == (0, b"")
    assert b"8/10" in told.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["kitchen"]
    out = run(folder, "notebook", "export", str(folder / "out.jsonl"), program=watched)
    assert (out.returncode, out.stderr) == (0, b"")


def test_the_watch_sees_what_it_is_there_to_see(tmp_path: Path) -> None:
    folder = tmp_path / "kitchen"
    folder.mkdir()
    watched = (sys.executable, "-c", WATCHED, str(folder))
    beside = run(folder, "ask", "log 2 kg chuck as x", "--notebook", str(tmp_path / "beside.db"), program=watched)
    assert b"OUTSIDE" in beside.stderr  # a place that the person named, and not this folder


# --- the surroundings -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("home", ["/dev/null/nowhere", "", None])
def test_without_a_home_it_answers_and_says_what_it_cannot_keep(tmp_path: Path, home: str | None) -> None:
    env = {"PATH": os.environ["PATH"], "LANG": "C.UTF-8", "PYTHONPATH": str(ROOT)}
    env |= {"XDG_DATA_HOME": "/dev/null/data", "XDG_STATE_HOME": "/dev/null/state"}
    if home is not None:
        env["HOME"] = home
    call = [*REAL, "ask", "--json"]
    stdin = f"{BLEND}\nsave that as pier\nwhat temperature for pork\n".encode()
    told = subprocess.run(call, input=stdin, capture_output=True, env=env, cwd=tmp_path, timeout=60)
    blend, save, heat = map(json.loads, told.stdout.splitlines())
    assert (blend["status"], heat["status"]) == ("answered", "answered")
    assert save["status"] == "impossible"
    assert save["message"].startswith("Not saved.")
    assert told.stderr == b""
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "locale",
    [
        {},
        {"LANG": "xx_XX.NONSENSE", "LC_ALL": "xx_XX.NONSENSE"},
        {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"},
        {"LC_ALL": "POSIX", "LANGUAGE": "%s"},
        {"TZ": "Nowhere/Never", "LANG": ""},
    ],
)
def test_an_unset_or_broken_locale_changes_no_figure(tmp_path: Path, locale: dict[str, str]) -> None:
    env = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "PYTHONPATH": str(ROOT), **locale}
    request = "2½ lb at 80/20 from round 8% and suet 92%".encode()
    told = subprocess.run([*REAL, "ask"], input=request, capture_output=True, env=env, timeout=60)
    assert (told.returncode, told.stderr) == (0, b"")
    assert b"2 lb 2 1/4 oz" in told.stdout
    assert b"80/20" in told.stdout


def test_a_clock_set_back_loses_nothing_and_orders_by_what_was_saved_last(tmp_path: Path) -> None:
    now = datetime(2027, 6, 18, 16, 0, tzinfo=UTC)
    talk = Conversation(tmp_path / "notebook.db", now=lambda: now)
    talk.ask("log 2 kg chuck as Early, 6/10")
    talk.ask("set a timer for 10 minutes")
    now -= timedelta(days=400)
    lines = (
        "log 3 kg round as Late, 8/10",
        "what timers are running",
        "compare the last two",
        "remember I have 2 kg round",
    )
    answers = [talk.ask(line) for line in (*lines, "made it", "undo", "what did I use this week", "cancel the timer")]
    assert all(answer.status in Status and "-" not in answer.headline.split("minutes")[0][:3] for answer in answers)
    assert "Late" in talk.ask("show the last one").headline
    now += timedelta(days=800)
    assert "Early" in talk.ask("show my saved batches").headline


# --- the two ends -----------------------------------------------------------------------------------------------------


def test_bytes_that_are_no_text_are_answered_line_by_line(tmp_path: Path) -> None:
    hostile = b"\xff\xfe\x00\n\xc3\x28\n" + bytes(range(256)) + b"\n\xed\xa0\x80 2 kg\n" + BLEND.encode() + b"\n"
    told = run(tmp_path, "ask", "--json", stdin=hostile, program=REAL)
    answers = [json.loads(line) for line in told.stdout.splitlines()]
    assert answers[-1]["status"] == "answered"
    assert told.stderr == b""


@pytest.mark.parametrize("arguments", [["ask", BLEND], ["notebook", "list"], ["--help"], []])
def test_a_closed_output_is_no_traceback(tmp_path: Path, arguments: list[str]) -> None:
    call = ["sh", "-c", 'exec "$@" >&-', "sh", *REAL, *arguments]
    told = subprocess.run(
        call, stdin=subprocess.DEVNULL, stderr=subprocess.PIPE, env=environment(tmp_path), cwd=ROOT, timeout=60
    )
    assert b"Traceback" not in told.stderr
    assert b"Exception ignored" not in told.stderr


def test_a_full_output_is_told_and_no_traceback(tmp_path: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("there is no /dev/full here")
    with Path("/dev/full").open("wb") as full:
        told = subprocess.run(
            [*REAL, "ask", BLEND], stdout=full, stderr=subprocess.PIPE, env=environment(tmp_path), cwd=ROOT, timeout=60
        )
    assert told.returncode != 0
    assert b"Traceback" not in told.stderr


def test_a_terminal_resized_during_an_answer_goes_on(tmp_path: Path) -> None:
    shown = Screen(tmp_path, 80)
    try:
        shown.until("\n>")
        for columns in (80, 33, 120, 7, 60):
            shown.send("3 lb of it\r")
            shown.child.setwinsize(40, columns)  # while the answer is being made and drawn
        deadline = time.monotonic() + 30
        while shown.raw.count(b"Grind coarse") < 5 or not shown.text().rstrip().endswith(">"):
            assert time.monotonic() < deadline, shown.text()
            shown.read(0.2)
        assert b"Traceback" not in shown.raw
        shown.send("\x04")
        assert shown.end() == 0
    finally:
        shown.child.close(force=True)


# --- too much ---------------------------------------------------------------------------------------------------------


def test_a_line_of_ten_megabytes_is_refused_and_the_next_is_answered(tmp_path: Path) -> None:
    long = b"2 kg chuck and " * 700_000 + b"\n" + BLEND.encode() + b"\n"
    assert len(long) > 10_000_000
    told = run(tmp_path, "ask", "--json", stdin=long, program=REAL)
    refused, answered = map(json.loads, told.stdout.splitlines())
    assert (refused["status"], answered["status"]) == ("not_understood", "answered")
    assert f"{LONGEST:,}" in refused["message"]
    assert len(told.stdout) < 20_000
    assert told.stderr == b""


@pytest.mark.slow
def test_many_turns_leave_the_memory_flat(tmp_path: Path) -> None:
    """3,000 of them; `python -m tests.long_evening` has 100,000."""
    if not Path("/proc/self/statm").exists():
        pytest.skip("the memory is read from /proc")
    marks = long_evening.evening(3_000, tmp_path)
    assert marks[-1] - marks[len(marks) // 2 - 1] <= long_evening.ALLOWED


def test_every_line_of_the_long_evening_is_answered(tmp_path: Path) -> None:
    talk = Conversation(tmp_path / "notebook.db", now=lambda: datetime(2027, 6, 18, 16, 0, tzinfo=UTC))
    answers = [talk.ask(line) for line in long_evening.lines(2 * len(long_evening.LINES))]
    assert all(said(answer) for answer in answers)
    assert sum(answer.status is Status.ANSWERED for answer in answers) > 0.7 * len(answers)
