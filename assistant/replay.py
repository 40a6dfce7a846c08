"""Written conversations, run again: every answer is compared with the one that stands in the file.

A transcript is a text file:

    # a comment
    @ clock 2026-07-04 15:00
    @ country uk
    > 3 lb at 80/20 from chuck and suet
    the answer, as plain lines of 72 columns

Lines that begin with ">" are typed, with "@" are settings (clock, country, units), with "#" are comments; all
others are the answer expected. An answer line that begins with one of these marks has a backslash before it.
Blank lines at the end of an answer do not count. The clock may be set again between requests; country and units
stand before the first. The notebook of a transcript is empty at its start and gone after it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TextIO

from msgspec import Struct
from msgspec.structs import replace

from assistant import asking
from assistant.asking import Talker
from assistant.errors import MincewiseError
from assistant.render import RENDERERS
from assistant.render.reminders import Reminders
from assistant.render.screen import Page

WIDTH = 72
SAME, DIFFERENT, UNUSABLE = 0, 1, 2
_START = datetime(2026, 7, 4, 15, 0).astimezone()
_MARKS = (">", "@", "#", "\\")
_SETTINGS = ("clock", "country", "units")
_TYPING = 0.04
_READING = 60 / 230
_LONGEST_PAUSE = 8.0

Starter = Callable[[Path, Callable[[], datetime], dict[str, str]], Talker]
"""Starts a conversation from a notebook path, a clock and settings."""


class BadTranscriptError(MincewiseError, ValueError):
    """A transcript cannot be read. line: counted from 1; problem: in a few words."""

    def __init__(self, line: int, problem: str) -> None:
        self.line = line
        self.problem = problem
        super().__init__(line, problem)

    def __str__(self) -> str:
        return f"line {self.line}: {self.problem}"


class Comment(Struct, frozen=True):
    """A comment line, with its mark."""

    text: str


class Setting(Struct, frozen=True):
    """A setting: key "clock", "country" or "units", and its value as written."""

    key: str
    value: str


class Turn(Struct, frozen=True):
    """What was typed and the lines expected as the answer. line: where it stands in the file, counted from 1."""

    typed: str
    expected: tuple[str, ...]
    line: int


Item = Comment | Setting | Turn


def read(text: str) -> tuple[Item, ...]:
    """A transcript's items in order. Raises BadTranscriptError."""
    items: list[Item] = []
    turn: int | None = None
    for number, line in enumerate(text.split("\n"), start=1):
        if line.startswith("#"):
            items.append(Comment(line))
        elif line.startswith("@"):
            items.append(_setting(line, number, asked=turn is not None))
        elif line.startswith(">"):
            turn = len(items)
            items.append(Turn(line[1:].strip(), (), number))
        elif turn is not None:
            items[turn] = _with_line(items[turn], line.removeprefix("\\") if line[1:2] in _MARKS else line)
        elif line.strip():
            raise BadTranscriptError(number, "an answer before anything was typed (typed lines begin with >)")
    return tuple(replace(item, expected=_trimmed(item.expected)) if isinstance(item, Turn) else item for item in items)


def write(items: Iterable[Item]) -> str:
    """The text of a transcript: what `read` reads back as the same items."""
    lines: list[str] = []
    for item in items:
        if isinstance(item, Turn):
            lines += [f"> {item.typed}".rstrip(), *map(_escaped, item.expected), ""]
        else:
            lines.append(item.text if isinstance(item, Comment) else f"@ {item.key} {item.value}")
    return "\n".join(lines).rstrip("\n") + "\n"


def run(items: Iterable[Item], start: Starter) -> tuple[Item, ...]:
    """The same transcript with the answers of today in place of those expected."""
    with _kitchen(start) as kitchen:
        return tuple(kitchen.answered(item) if isinstance(item, Turn) else kitchen.heed(item) for item in items)


def compare_files(paths: Iterable[str], out: TextIO, update: bool = False, start: Starter | None = None) -> int:
    """Run every file and write out where an answer differs; with update, write today's answers into the files.

    Returns 0 where all are the same (or updated), 1 where one differs, 2 where a file cannot be used.
    """
    worst = SAME
    for path in paths:
        try:
            worst = max(worst, _compare(Path(path), out, update, start or _conversation))
        except (OSError, UnicodeDecodeError, BadTranscriptError) as fault:
            sys.stderr.write(f"mincewise: {path}: {fault}\n")
            worst = UNUSABLE
    return worst


def play_files(
    paths: Iterable[str],
    page: Page,
    out: TextIO | None = None,
    sleep: Callable[[float], None] = time.sleep,
    start: Starter | None = None,
) -> int:
    """Play the files at reading speed, as a person would see them. Returns 0, or 2 where a file cannot be used."""
    screen = out or sys.stdout
    worst = SAME
    for path in paths:
        try:
            items = read(Path(path).read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, BadTranscriptError) as fault:
            sys.stderr.write(f"mincewise: {path}: {fault}\n")
            worst = UNUSABLE
            continue
        _play(items, page, screen, sleep, start or _conversation)
    return worst


def _compare(path: Path, out: TextIO, update: bool, start: Starter) -> int:
    items = read(path.read_text(encoding="utf-8"))
    today = run(items, start)
    pairs = [(then, now) for then, now in zip(items, today, strict=True) if isinstance(then, Turn) and then != now]
    if not pairs:
        out.write(f"{path}: all answers as expected\n")
        return SAME
    if update:
        path.write_text(write(today), encoding="utf-8", newline="\n")
        out.write(f"{path}: {len(pairs)} answers rewritten\n")
        return SAME
    for then, now in pairs:
        assert isinstance(now, Turn)
        out.write("\n".join([f"{path}:{then.line}: > {then.typed}", *_difference(then, now), ""]))
    return DIFFERENT


def _difference(then: Turn, now: Turn) -> Iterator[str]:
    """Line by line: "-" was expected, "+" is the answer of today, others agree."""
    import difflib

    for line in difflib.ndiff(then.expected, now.expected):
        if not line.startswith("?"):
            yield f"    {line}".rstrip()


def _play(items: Iterable[Item], page: Page, out: TextIO, sleep: Callable[[float], None], start: Starter) -> None:
    with _kitchen(start) as kitchen:
        for item in items:
            if not isinstance(item, Turn):
                kitchen.heed(item)
                continue
            out.write("> ")
            for char in item.typed:
                out.write(char)
                out.flush()
                sleep(_TYPING)
            shown = kitchen.shown(item.typed, page)
            out.write(f"\n{shown}\n")
            out.flush()
            sleep(min(len(shown.split()) * _READING, _LONGEST_PAUSE))


class _Kitchen:
    """The conversation of one transcript, started at its first request, with the clock that the transcript sets."""

    def __init__(self, folder: Path, start: Starter) -> None:
        self._folder = folder
        self._start = start
        self._settings: dict[str, str] = {}
        self._now = _START
        self._talk: Talker | None = None
        self._reminders = Reminders()

    def heed(self, item: Comment | Setting) -> Comment | Setting:
        """Put a setting into force."""
        if isinstance(item, Setting):
            if item.key == "clock":
                self._now = _moment(item.value)
            else:
                self._settings[item.key] = item.value
        return item

    def answered(self, turn: Turn) -> Turn:
        """The turn with the answer of today."""
        return replace(turn, expected=_trimmed(tuple(self.shown(turn.typed, Page("plain", WIDTH)).splitlines())))

    def shown(self, typed: str, page: Page) -> str:
        """The answer to what was typed, as the page shows it."""
        if self._talk is None:
            self._talk = self._start(self._folder / "notebook.db", lambda: self._now, self._settings)
        answer = self._reminders.pick(asking.answer(self._talk, asking.Request(typed)))
        return RENDERERS[page.layout](answer, page)


@contextmanager
def _kitchen(start: Starter) -> Iterator[_Kitchen]:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        yield _Kitchen(Path(folder), start)


def _conversation(notebook: Path, now: Callable[[], datetime], settings: dict[str, str]) -> Talker:
    from assistant.session import Conversation

    return Conversation(notebook, now, settings, folder=notebook.parent)


def _setting(line: str, number: int, asked: bool) -> Setting:
    key, _, value = line[1:].strip().partition(" ")
    value = value.strip()
    if key not in _SETTINGS or not value:
        raise BadTranscriptError(number, f"a setting is one of {', '.join(_SETTINGS)}, and a value after it")
    if key != "clock" and asked:
        raise BadTranscriptError(number, f"{key} must stand before the first request")
    if key == "clock":
        try:
            _moment(value)
        except ValueError as fault:
            raise BadTranscriptError(number, "the clock is written as 2026-07-04 15:00") from fault
    return Setting(key, value)


def _moment(written: str) -> datetime:
    return datetime.fromisoformat(written).astimezone()


def _with_line(item: Item, line: str) -> Item:
    assert isinstance(item, Turn)
    return replace(item, expected=(*item.expected, line.rstrip()))


def _escaped(line: str) -> str:
    return f"\\{line}" if line.startswith(_MARKS) else line


def _trimmed(lines: tuple[str, ...]) -> tuple[str, ...]:
    last = max((number for number, line in enumerate(lines, start=1) if line.strip()), default=0)
    return lines[:last]
