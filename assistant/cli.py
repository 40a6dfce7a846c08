"""The command line: what was called for, and the exit status. Everything heavy is imported where it is used.

Exit status: 0 every request was answered; 1 at least one was not, or a file could not be used; 2 the call
itself was wrong; 130 stopped with Ctrl-C.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from assistant import __version__
from assistant.errors import MincewiseError

if TYPE_CHECKING:
    from typing import BinaryIO

    from assistant.asking import Request, Talker
    from assistant.render.screen import Page

OK, UNANSWERED, WRONG_CALL, STOPPED = 0, 1, 2, 130

HELP = """\
Mincewise: plain words in; the right blend, steps and safety reminders out.

Examples
  mincewise                                        talk in the terminal
  mincewise ask 3 lb at 80/20 from brisket trim and round
  mincewise ask --units metric "2 kg from chuck and pork belly, 25% fat"
  echo "24 burgers of 6 oz" | mincewise ask --json
  mincewise notebook export > batches.jsonl

Commands
  ask [TEXT...]            answer one request and end; without TEXT, one request
                           a line from standard input, as one conversation
  replay FILE...           run written conversations and compare every answer
  notebook where           show which places and settings are in force, and why
  notebook list            name the saved batches
  notebook export [FILE]   write all of it as JSON Lines (--csv: batches only)
  notebook import FILE     take in what was exported
  notebook backup FILE     copy the notebook, also while it is in use
  notebook check           look for damage
  notebook rescue          set a damaged notebook aside, keep what reads
  notebook forget NAME     delete a saved batch (asks first; --yes does not ask)
  completion SHELL         print the completion script for bash, zsh or fish
  Without a command: a conversation; with input piped in, one request a line.

Options
  --notebook PATH          the notebook file
  --units us|metric        pounds and inches, or grams and millimetres
  --plain                  plain lines in reading order, for screen readers
  --color WHEN             auto (on a terminal only), always or never
  -h, --help               this page
  --version                the version

Options of ask
  --json                   one JSON object for each request
  --independent            each line is a conversation of its own
  --save FILE              then write the batch into a new file: a recipe card
                           (.md, .txt) or the timetable's calendar (.ics)
  --                       all that follows is the request

Options of replay
  --live                   play it at reading speed
  --update                 write the answers of today into the files

In the conversation
  why, more, undo, again, help          the last answer, or what can be asked
  walk me through it, next, back, skip  one step at a time
  15 minutes for the cubes, meat's out  timers and the clock of meat that is out
  my kitchen                            units, country, scale, freezer, machine
  Tab or the arrows choose a completion, Enter runs the line as it stands;
  Ctrl-R searches what was typed before, Ctrl-L clears the screen, Ctrl-C drops
  the line, Ctrl-D or "bye" leaves. A paste of several lines is asked line by
  line.

Files
  The notebook and the history of lines typed, both for your eyes only;
  "mincewise notebook where" names them.

Environment
  MINCEWISE_NOTEBOOK       the notebook file, where no option names one
  MINCEWISE_HISTORY        the file of lines typed, or "off"
  NO_COLOR, FORCE_COLOR, COLUMNS and TERM=dumb are heeded; options come first.

Exit status: 0 all answered, 1 something was not, 2 wrong call, 130 Ctrl-C.
"""

COMMANDS = ("ask", "replay", "notebook", "completion")
SHELLS = ("bash", "zsh", "fish")
_FLAGS = {
    "": ("--plain",),
    "ask": ("--json", "--independent", "--plain"),
    "replay": ("--live", "--update", "--plain"),
    "notebook": ("--csv", "--yes"),
    "completion": (),
}
_VALUES: dict[str, tuple[str, ...]] = {
    "--notebook": (),
    "--units": ("us", "metric"),
    "--color": ("auto", "always", "never"),
    "--save": (),
}
"""Options that take a value, and the values there are (none named: any)."""


class WrongCallError(MincewiseError):
    """The command line cannot be carried out; the text says what to write instead."""


class Call:
    """What was called for. command: "" for the conversation; words: what is not an option, in order."""

    def __init__(self) -> None:
        self.command = ""
        self.words: list[str] = []
        self.flags: set[str] = set()
        self.values: dict[str, str] = {}

    def has(self, flag: str) -> bool:
        """Whether a flag was given."""
        return flag in self.flags


def read_call(arguments: list[str]) -> Call:
    """The call that the arguments make. Raises WrongCallError.

    Options may stand anywhere before "--". A word such as -5 or -10C is part of a request, not an option.
    """
    call = Call()
    rest = iter(arguments)
    for word in rest:
        if word == "--":
            call.words.extend(rest)
        elif word.startswith("-") and len(word) > 1 and not word[1].isdigit() and word[1] != ".":
            _read_option(call, word, rest)
        elif not call.command and not call.words and word in COMMANDS:
            call.command = word
        else:
            call.words.append(word)
    _check(call)
    return call


def _read_option(call: Call, word: str, rest: Iterator[str]) -> None:
    name, has_value, value = word.partition("=")
    if name in ("-h", "--help"):
        call.flags.add("--help")
    elif name in _VALUES:
        if not has_value:
            value = next(rest, "")
        if not value or (_VALUES[name] and value not in _VALUES[name]):
            raise WrongCallError(f"{name} needs {' or '.join(_VALUES[name]) or 'a path'} after it")
        call.values[name] = value
    elif has_value:
        raise WrongCallError(f"{name} takes no value")
    else:
        call.flags.add(name)


def _check(call: Call) -> None:
    if call.flags & {"--help", "--version"}:
        return
    for flag in sorted(call.flags):
        if flag not in _FLAGS[call.command]:
            where = f"mincewise {call.command}".rstrip()
            raise WrongCallError(f"{where} knows no option {flag} (put -- before a request that begins with a dash)")
    save = call.values.get("--save", "")
    if save and (call.command != "ask" or call.has("--independent")):
        raise WrongCallError("--save belongs to one conversation of mincewise ask")
    if save and (not save.lower().endswith((".md", ".txt", ".ics")) or '"' in save):
        raise WrongCallError("--save needs a file whose name ends in .md, .txt or .ics")
    if not call.command and call.words:
        raise WrongCallError(
            f'"{call.words[0]}" is no command; to ask something: mincewise ask "{" ".join(call.words)}"'
        )


def main(arguments: list[str] | None = None) -> int:
    """Carry out a call; gives the exit status. Never a traceback for what a person can type or pipe in."""
    _open_closed_ends()
    try:
        status = _carry_out(read_call(sys.argv[1:] if arguments is None else arguments))
        sys.stdout.flush()
    except WrongCallError as wrong:
        _complain(f"{wrong}.\nmincewise --help shows examples.")
        return WRONG_CALL
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:  # whoever read the answers has gone, as `head` does: nobody is left to tell
        _write_nowhere()
        return UNANSWERED
    except OSError as fault:  # a full disk behind `> file`: what is left in the buffer would fail once more at the end
        _write_nowhere()
        _complain(f"the answer cannot be written: {fault.strerror}")
        return UNANSWERED
    return status


def _open_closed_ends() -> None:
    """Where the caller closed an end (`>&-`), Python has None in its place: what is said there is said to nobody."""
    sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: SIM115 - open as long as the program
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - open as long as the program
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - open as long as the program


def _write_nowhere() -> None:
    """Let what is still in the buffer of the output go nowhere when the program ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _carry_out(call: Call) -> int:
    if call.has("--help"):
        return _print(HELP)
    if call.has("--version"):
        return _print(f"mincewise {__version__}\n")
    return {"": _talk, "ask": _ask, "replay": _replay, "notebook": _notebook, "completion": _completion}[call.command](
        call
    )


def _print(text: str) -> int:
    sys.stdout.write(text)
    return OK


def _complain(text: str) -> None:
    sys.stderr.write(f"mincewise: {text}\n")


# ---- asking


def _ask(call: Call) -> int:
    if call.words:
        # one answer and then the end: looking for garbage among the modules being loaded takes longer than leaving it
        gc.disable()
    from assistant import asking

    if call.words:
        requests: Iterable[Request] = [asking.from_argument(" ".join(call.words))]
    else:
        requests = _typed_lines()
    if "--save" in call.values:
        requests = _and_save(requests, call.values["--save"])
    return _answer_all(call, requests, _page(call))


def _and_save(requests: Iterable[Request], path: str) -> Iterator[Request]:
    """What is asked, and then that it be written: into the folder of this path, which the conversation is given."""
    from assistant.asking import Request

    yield from requests
    yield Request(f'save it as "{os.path.basename(path)}"')


def _talk(call: Call) -> int:
    from assistant.render.screen import is_terminal

    if is_terminal(sys.stdin) and is_terminal(sys.stdout):
        from assistant import chat

        return chat.run(_opener(call), _page(call))
    return _answer_all(call, _typed_lines(), _page(call))


def _typed_lines() -> Iterator[Request]:
    from assistant import asking
    from assistant.render.screen import is_terminal

    if is_terminal(sys.stdin):
        sys.stderr.write("One request a line; Ctrl-D ends.\n")
    source: BinaryIO = sys.stdin.buffer
    return asking.from_lines(source)


def _answer_all(call: Call, requests: Iterable[Request], page: Page) -> int:
    """Answer every request, each written out before the next is read; 1 if any was not answered."""
    from assistant import asking
    from assistant.answer import Status
    from assistant.render import RENDERERS
    from assistant.render.reminders import Reminders

    open_talk, draw = _opener(call), RENDERERS[page.layout]
    talk: Talker | None = None
    reminders = Reminders()
    status, first = OK, True
    for request in requests:
        if talk is None or call.has("--independent"):
            talk, reminders = open_talk(), Reminders()
        answer = asking.answer(talk, request)
        if page.layout != "json":
            answer = reminders.pick(answer)
            sys.stdout.write("" if first else "\n")
        sys.stdout.write(draw(answer, page))
        sys.stdout.flush()
        status, first = status if answer.status is Status.ANSWERED else UNANSWERED, False
    return status


def _opener(call: Call) -> Callable[[], Talker]:
    """Starts a conversation with the notebook and the units of this call."""

    def start() -> Talker:
        from pathlib import Path

        from assistant.session import Conversation

        path, units, save = (call.values.get(option) for option in ("--notebook", "--units", "--save"))
        return Conversation(
            Path(path).expanduser() if path else None,
            settings={"units": units} if units else None,
            folder=Path(save).expanduser().parent if save else None,
        )

    return start


def _page(call: Call) -> Page:
    from assistant.render.screen import Page, page_for

    if call.has("--json"):
        _write_utf8()
        return Page("json")
    page = page_for(sys.stdout, color=call.values.get("--color", "auto"), plain=call.has("--plain"))
    _never_stumble()
    return page


def _write_utf8() -> None:
    """JSON is UTF-8 wherever it goes."""
    import io

    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8", newline="\n")


def _never_stumble() -> None:
    """A letter that the output cannot write becomes "?" instead of ending the program."""
    import io

    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")


# ---- the other commands


def _replay(call: Call) -> int:
    from assistant import replay

    if not call.words:
        raise WrongCallError("replay needs at least one file")
    page = _page(call)
    if call.has("--live"):
        return replay.play_files(call.words, page)
    return replay.compare_files(call.words, sys.stdout, update=call.has("--update"))


def _notebook(call: Call) -> int:
    from assistant import notebook_command

    return notebook_command.run(call.words, call.flags, call.values.get("--notebook"))


def _completion(call: Call) -> int:
    from assistant.completion import script

    if len(call.words) != 1 or call.words[0] not in SHELLS:
        raise WrongCallError(f"completion needs one of {', '.join(SHELLS)}")
    return _print(script(call.words[0]))
