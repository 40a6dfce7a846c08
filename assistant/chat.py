"""The conversation at a terminal: a prompt at once, the kitchen loaded behind it, the terminal always given back."""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from msgspec.structs import replace

from assistant import __version__, asking
from assistant.asking import GetsReady, RingsBell, ShowsToolbar, SpeaksUp, Talker
from assistant.clock import BETWEEN
from assistant.render import RENDERERS, words
from assistant.render.clean import clean, marked
from assistant.render.lines import WIDEST_PROSE, cells, fill, fitted
from assistant.render.reminders import Reminders
from assistant.render.screen import Page, width_of

if TYPE_CHECKING:
    from prompt_toolkit import PromptSession
    from prompt_toolkit.completion import Completer
    from prompt_toolkit.history import History
    from prompt_toolkit.layout.processors import Processor

PROMPT = "> "
EXAMPLE = "3 lb at 80/20 from brisket trim and round"
OPENING = (f"Mincewise {__version__}: say what you want to grind. Ctrl-D leaves.", f"For example: {EXAMPLE}")
MORE = frozenset({"more", "show more", "more please", "tell me more", "the rest"})
FAREWELLS = frozenset({"quit", "exit", "bye", "goodbye"})
MOST_CAUTIONS = 2
MOST_BAR_LINES = 3
MENU_LINES = 5
"""Kept free under the line for completions: more would push the answer off a small screen."""
HISTORY_VARIABLE = "MINCEWISE_HISTORY"
HISTORY_LINES = 1000
_BELL = "\a"
_BELL_OFF = ("false", "0", "off", "no")

Starter = Callable[[], Talker]


def run(start: Starter, page: Page) -> int:
    """Talk until the person leaves; gives the exit status. start: makes the conversation, called once.

    page: how the first answer is shown; later ones follow the terminal's size.
    A dumb terminal gets a plain loop of lines, and prompt_toolkit is not loaded.
    """
    counter = Counter(start, sys.stdout, _page_again(page))
    for line in OPENING:
        counter.say(line)
    with _terminal_given_back():
        if page.layout == "plain":
            return plain_loop(counter, sys.stdin, sys.stdout)
        return prompt_loop(counter, prompt_session(counter, os.environ))


class Counter:
    """The counter between the person and the kitchen: takes lines, shows answers, keeps reminders held back.

    start: makes the conversation; it is called once, in the background where load() is called first.
    out: where answers go. page: gives the page as it is now, so that a resized terminal is heeded.
    """

    def __init__(self, start: Starter, out: TextIO, page: Callable[[], Page]) -> None:
        self._start = start
        self._out = out
        self.page = page
        self._reminders = Reminders(MOST_CAUTIONS)
        self._talk: Talker | None = None
        self._lock = threading.Lock()

    def load(self) -> None:
        """Load the kitchen while the person types. A fault shows when the first line is asked."""

        def quietly() -> None:
            with self._lock:  # whoever asks meanwhile waits here, and finds everything loaded
                try:
                    talk = self._talk or self._start()
                    if isinstance(talk, GetsReady):
                        talk.get_ready()
                    self._talk = talk
                except Exception:
                    return

        threading.Thread(target=quietly, daemon=True).start()

    def talk(self) -> Talker:
        """The conversation, waiting for it where it is still being made."""
        with self._lock:
            if self._talk is None:
                self._talk = self._start()
            return self._talk

    def suggest(self, before: str) -> list[str]:
        """Ways to go on with a line; none while the kitchen is still loading.

        A fault in here must not take away the line that somebody is typing: then there is nothing to suggest.
        """
        try:
            return self._talk.suggest(before) if self._talk else []
        except Exception:
            return []

    def toolbar(self) -> str:
        """What stands at the bottom, such as the running timers: one line, or a few where one is too narrow."""
        try:
            shown = self._talk.toolbar() if isinstance(self._talk, ShowsToolbar) else ""
        except Exception:  # as in suggest: the line that is being typed is worth more
            shown = ""
        page = self.page()
        return "\n".join(_bar(words.say(shown, page.ascii_only), page.width)) if shown else ""

    def announcements(self) -> list[str]:
        """What has to be said now without being asked, each once."""
        return self._talk.announcements() if isinstance(self._talk, SpeaksUp) else []

    def rings(self) -> bool:
        """Whether the conversation wants the bell."""
        return self._talk.rings() if isinstance(self._talk, RingsBell) else True

    def take(self, typed: str) -> bool:
        """Answer what was typed, line by line where it was pasted; False when the person wants to leave."""
        for line in typed.splitlines():
            if not line.strip():
                continue
            if line.strip().lower() in FAREWELLS:
                return False
            self._take_line(line)
        return True

    def say(self, text: str, rest: str = "  ") -> None:
        """A line of the program's own."""
        page = self.page()
        for line in fill(words.say(text, page.ascii_only), min(page.width, WIDEST_PROSE), rest=rest):
            self._out.write(line + "\n")
        self._out.flush()

    def announce(self, texts: Iterable[str], ring: bool) -> None:
        """Say what has to be said now, with the bell where that is wanted."""
        for text in texts:
            self._out.write(_BELL if ring else "")
            self.say(text)

    def _take_line(self, line: str) -> None:
        if line.strip().lower().strip("?!. ") in MORE and self._held():
            cautions, notes = self._reminders.more()
            for text in map(words.caution, cautions):
                self.say(text)
            for text in notes:
                self.say(f"- {text}")
            return
        try:
            answer = asking.answer(self.talk(), asking.Request(line))
        except KeyboardInterrupt:
            self.say("Stopped. Ctrl-D leaves.")
            return
        page = self.page()
        self._out.write(RENDERERS[page.layout](self._reminders.pick(answer), page))
        if self._held():
            self.say(f"{self._held()}: type more")
        self._out.flush()

    def _held(self) -> str:
        """What was held back, counted in words; "" for nothing."""
        kinds = (("reminder", self._reminders.held), ("note", self._reminders.held_notes))
        counted = [f"{len(held)} more {name}{'' if len(held) == 1 else 's'}" for name, held in kinds if held]
        return ", ".join(counted)


# ---- the plain loop


def plain_loop(counter: Counter, source: TextIO, out: TextIO) -> int:
    """Lines in, answers out, nothing that moves on the screen; gives the exit status."""
    while True:
        out.write(PROMPT)
        out.flush()
        try:
            line = source.readline()
        except KeyboardInterrupt:
            out.write("\nLine dropped. Ctrl-D leaves.\n")
            continue
        if not line:
            out.write("\n")
            return 0
        if not counter.take(line):
            return 0
        counter.announce(counter.announcements(), ring=False)


# ---- the prompt


def prompt_loop(counter: Counter, session: PromptSession[str]) -> int:
    """The loop with line editing, completion and toolbar; gives the exit status."""
    while True:
        try:
            typed = session.prompt(pre_run=_before_typing(counter))
        except KeyboardInterrupt:
            counter.say("Line dropped. Ctrl-D leaves.")
            continue
        except EOFError:
            return 0
        if not counter.take(typed):
            return 0


def prompt_session(counter: Counter, environ: Mapping[str, str], **terminal: Any) -> PromptSession[str]:
    """The line editor. terminal: input and output of prompt_toolkit, for tests."""
    from prompt_toolkit import PromptSession
    from prompt_toolkit.output import ColorDepth
    from prompt_toolkit.styles import Style

    return PromptSession(
        message=PROMPT,
        history=_history(history_path(environ)),
        completer=_completer(counter),
        complete_while_typing=True,
        reserve_space_for_menu=MENU_LINES,
        input_processors=[_seen_as_it_is()],
        bottom_toolbar=lambda: counter.toolbar() or None,
        color_depth=None if counter.page().color else ColorDepth.DEPTH_1_BIT,
        style=Style.from_dict({"bottom-toolbar": "noreverse"}),
        **terminal,
    )


def _before_typing(counter: Counter) -> Callable[[], None]:
    """What runs once the prompt stands: load the kitchen, and watch the clocks while the person types."""

    def begin() -> None:
        import asyncio

        from prompt_toolkit.application import get_app, run_in_terminal

        async def watch() -> None:
            while True:
                texts = counter.announcements()
                if texts:
                    await run_in_terminal(partial(counter.announce, texts, _wants_bell(os.environ) and counter.rings()))
                elif counter.toolbar():
                    get_app().invalidate()
                await asyncio.sleep(1)

        counter.load()
        get_app().create_background_task(watch())

    return begin


def _bar(text: str, width: int) -> list[str]:
    """The clocks on as few lines as take them whole; the most pressing stand first, and what is over is counted."""
    lines: list[str] = []
    clocks = text.split(BETWEEN)
    for number, each in enumerate(clocks):
        if lines and cells(lines[-1] + BETWEEN + each) <= width:
            lines[-1] += BETWEEN + each
        elif len(lines) < MOST_BAR_LINES:
            lines.append(each)
        else:
            lines[-1] += f" +{len(clocks) - number}"
            break
    return [fitted(line, width) for line in lines]


def _wants_bell(environ: Mapping[str, str]) -> bool:
    return environ.get("PROMPT_TOOLKIT_BELL", "true").lower() not in _BELL_OFF


def _completer(counter: Counter) -> Completer:
    from prompt_toolkit.completion import CompleteEvent, Completer, Completion
    from prompt_toolkit.document import Document

    class FromKitchen(Completer):
        """What the conversation suggests, in place of the part of it that stands on the line already."""

        def get_completions(
            self,
            document: Document,
            complete_event: CompleteEvent,
        ) -> Iterable[Completion]:
            before = document.text_before_cursor
            for text in map(clean, counter.suggest(before)):
                kept = overlap(before, text)
                # the menu shows what would be added to the word that stands there, not the whole line once more
                start = text.rfind(" ", 0, kept) + 1
                yield Completion(text, start_position=-kept, display=text[start:])

    return FromKitchen()


def _seen_as_it_is() -> Processor:
    """Marks what cannot be seen or turns the writing round, while it is typed or pasted: it never reaches the terminal."""
    from prompt_toolkit.layout.processors import Processor, Transformation, TransformationInput

    class Marked(Processor):
        """One mark for each such character, so that the cursor stays where it belongs."""

        def apply_transformation(self, transformation_input: TransformationInput) -> Transformation:
            return Transformation(
                [(style, marked(text), *rest) for style, text, *rest in transformation_input.fragments]  # type: ignore[misc]
            )

    return Marked()


def overlap(before: str, suggestion: str) -> int:
    """How many characters at the end of a line are the beginning of a suggestion, whatever their case.

    Counts from the beginning of a word only: "chuck" goes on from "chu", not from the "c" of "tic".
    """
    line, wanted = before.lower(), suggestion.lower()
    for length in range(min(len(line), len(wanted)), 0, -1):
        start = len(line) - length
        if line.endswith(wanted[:length]) and (start == 0 or not line[start - 1].isalnum()):
            return length
    return 0


# ---- history


def history_path(environ: Mapping[str, str]) -> Path | None:
    """The file of lines typed: MINCEWISE_HISTORY, else in the system's state folder; None when it is turned off."""
    stated = environ.get(HISTORY_VARIABLE, "")
    if stated.lower() == "off":
        return None
    if stated:
        return Path(stated).expanduser()
    from platformdirs import user_state_path

    folder = user_state_path("mincewise", appauthor=False)
    return folder / "history" if folder.is_absolute() else None


def _history(path: Path | None) -> History:
    from prompt_toolkit.history import FileHistory, InMemoryHistory

    if path is None:
        return InMemoryHistory()
    try:
        make_private(path)
        cap(path)
    except OSError:  # a read-only home is no reason to go without an assistant
        return InMemoryHistory()
    return FileHistory(str(path))


def make_private(path: Path) -> None:
    """Make the file and its folder where they are missing, for their owner only. Raises OSError."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600))
    path.chmod(0o600)


def cap(path: Path, most: int = HISTORY_LINES) -> None:
    """Drop the oldest entries of a history file, each of which begins with a line "# and the time"."""
    entries = path.read_text(encoding="utf-8", errors="replace").split("\n# ")
    if len(entries) > most:
        path.write_text("\n# " + "\n# ".join(entries[-most:]), encoding="utf-8")


# ---- the terminal


@contextmanager
def _terminal_given_back() -> Iterator[None]:
    """SIGTERM and SIGHUP leave by the same door as everything else, so that the terminal is restored on the way."""

    def leave(number: int, _frame: object) -> None:
        raise SystemExit(128 + number)

    numbers = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before = {number: signal.signal(number, leave) for number in numbers}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _page_again(page: Page) -> Callable[[], Page]:
    """The page as the terminal is now; layout and colour stay as they were settled at the start."""

    def now() -> Page:
        return replace(page, width=width_of(sys.stdout))

    return now
