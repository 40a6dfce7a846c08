"""Lines that nobody would type, by the hundred thousand, through the one road in.

    python -m tests.fuzz --lines 1000000 --seed 1 [--slow-ms 100] [--source grammar]

Five sources of lines: real requests with slips in them ("slipped"), sentences made from the rules of the grammar
("grammar"), words of the vocabulary in any order ("words"), random characters of all planes ("unicode"), and hostile
samples. Each line is asked in a conversation that lasts some turns, with a notebook in a temporary folder and a fixed
clock. An answer must come without an exception and keep what is published of it (`answer_format.faults`). Lines that
take more processor time than --slow-ms are counted and the slowest are shown; processor time, so that a busy machine
blames no line. The same seed asks the same lines. A count is told on the way. Exit status 1 where anything was found.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from msgspec import Struct, field

from assistant import Conversation
from assistant.language import vocabulary
from assistant.language.parse_table import parse_table
from tests.answer_format import faults

REQUESTS = Path(__file__).parent / "requests"
TURNS = 40
"""Turns of one conversation, after which a new one begins with an empty notebook."""

TOLD_EVERY = 20_000
"""Lines between two counts."""

CLOCK = datetime(2027, 6, 18, 16, 30, tzinfo=UTC)

HOSTILE = (
    "",
    " ",
    "\x00",
    "\ud800",
    "a" * 2000,
    "a" * 2001,
    "1" * 1999,
    "1 " * 1000,
    "1/" * 900,
    "1/0 lb of chuck",
    "9**9**9 lb of chuck",
    "1e400 lb of chuck",
    "NaN lb at 80/20 from chuck and suet",
    "-3 lb of chuck",
    "0 lb at 80/20 from chuck and suet",
    "99999999999999999999 kg of chuck",
    "3 lb at 120/-20 from chuck",
    "((((" * 400,
    "lb " * 600,
    "and " * 500,
    "80/20 " * 300,
    "half a half a half a half a dozen " * 50,
    "no no no no not without chuck",
    "-" * 2000,
    "'; DROP TABLE batches; --",
    "__import__('os').system('true')",
    "{0.__class__.__mro__}",
    "../../../../etc/passwd",
    "%s%s%s%n",
    "\x1b[2J\x1b[31m3 lb of chuck",
    "ﷺ" * 600,
    "🍔" * 900,
    "é" * 1000,
    "e\u0301" * 900,
    "\u202e3 lb of chuck",
    "сhuck 3 lb",
    "３ ｌｂ ｏｆ ｃｈｕｃｋ",
    "1,2,3,4,5,6,7,8,9 lb",
    "24:99",
    "31 February 2027",
    "99:99 pm",
    "0000-00-00",
    "9999-99-99",
    "half past 31 o'clock",
    "save that as " + "x" * 1900,
    "undo",
    "again",
    "double that",
    "why",
)

_LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789 /.,-%#'\"½£$:°&()"
_AMOUNTS = (
    "{n} lb|{n} oz|{n} kg|{n}g|{n} pounds|{n}% |{n}|{n}/{m}|{n} tsp|{n} per lb|£{n}|${n}/lb|{n} in|{n} min|{n} F|x{n}"
)


# ------------------------------------------------------------------------------------------------ lines


class Larder(Struct, frozen=True):
    """What lines are made from: real requests, the phrases of every terminal, and the rules of the grammar.

    rules: a rule's name -> the ways to write it, each a row of names of rules and terminals.
    """

    requests: tuple[str, ...]
    phrases: Mapping[str, tuple[str, ...]]
    rules: Mapping[str, tuple[tuple[str, ...], ...]]

    @classmethod
    def stocked(cls) -> Larder:
        """The requests beside this module (but those held back), the whole vocabulary, the whole grammar."""
        lines = [
            turn
            for path in sorted(REQUESTS.glob("*.jsonl"))
            if "holdback" not in path.name
            for line in path.read_text(encoding="utf-8").splitlines()
            for turn in json.loads(line)["turns"]
        ]
        by_terminal: dict[str, list[str]] = {}
        for phrase, meaning in vocabulary.vocabulary().meanings.items():
            by_terminal.setdefault(meaning.terminal, []).append(phrase)
        by_rule: dict[str, list[tuple[str, ...]]] = {}
        for rule in parse_table().rules:
            by_rule.setdefault(rule.name, []).append(rule.takes)
        return cls(
            tuple(lines),
            {terminal: tuple(words) for terminal, words in sorted(by_terminal.items())},
            {name: tuple(sorted(ways)) for name, ways in sorted(by_rule.items())},
        )


Source = Callable[[random.Random, Larder], str]


def any_line(chance: random.Random, larder: Larder, only: str = "") -> tuple[str, str]:
    """One line of any source, or of the one named; and the source's name."""
    name = only or chance.choices(tuple(SOURCES), (4, 3, 2, 1, 1))[0]
    return SOURCES[name](chance, larder), name


def slipped(chance: random.Random, larder: Larder) -> str:
    """A real request with one to four slips."""
    line = chance.choice(larder.requests)
    for _ in range(chance.randint(1, 4)):
        line = chance.choice(_SLIPS)(line, chance, larder)
    return line


def by_rule(chance: random.Random, larder: Larder) -> str:
    """One to eight phrases, each made from a rule of the grammar, with a space between all words."""
    phrases = [_written("phrase", chance, larder) for _ in range(chance.randint(1, 8))]
    return chance.choice((" ", " ", ", ", " and ", " from ")).join(phrases)


def _written(name: str, chance: random.Random, larder: Larder) -> str:
    """A rule or terminal in words. Rules of the grammar go down only, but for the plus that lark unrolls."""
    if name not in larder.rules:
        return terminal(name, chance, larder)
    return " ".join(_written(part, chance, larder) for part in chance.choice(larder.rules[name]))


def terminal(name: str, chance: random.Random, larder: Larder) -> str:
    """Words that the lexer may make this terminal of."""
    if name in larder.phrases:
        return chance.choice(larder.phrases[name])
    if name.endswith("NUM") and name != "BADNUM":
        return chance.choice(
            (str(chance.randint(0, 40)), f"{chance.uniform(0, 9):.1f}", "2 1/2", "half a", "three", "6 to 8")
        )
    lean = chance.randint(50, 97)
    made = {
        "RATIO": f"{lean}/{100 - lean}",
        "CLOCK": f"{chance.randint(0, 12)}:{chance.randint(0, 59):02} pm",
        "DATE": f"{chance.randint(1, 31)} {chance.choice(('June', 'Feb', 'September'))}",
        "PERMASS": chance.choice(("per lb", "/kg", "a pound", "per 100 g")),
        "GRADE": f"{lean}VL",
        "SEP": chance.choice(",.;:"),
        "OPEN": "(",
        "CLOSE": ")",
        "NAME": "friday batch",
        "BADNUM": chance.choice(("1/0", "25:99 pm", "1e400")),
        "UNKNOWN": "".join(chance.choices("abcdefghijklmnopqrstuvwxyz", k=chance.randint(2, 9))),
    }
    return made[name]


def in_any_order(chance: random.Random, larder: Larder) -> str:
    """Two to fourteen phrases of the vocabulary and amounts, in any order."""
    terminals = list(larder.phrases)
    words = []
    for _ in range(chance.randint(2, 14)):
        if chance.random() < 0.35:
            words.append(amount(chance))
        else:
            liked = chance.choice(("CUT", "SEASONING", "CUE", "CUE", "MASS", "FAT", "PATTY", chance.choice(terminals)))
            words.append(chance.choice(larder.phrases[liked]))
    return chance.choice((" ", " ", ", ", " and ")).join(words)


def amount(chance: random.Random) -> str:
    """A number with or without a unit; now and then one that is none."""
    number = chance.choice(
        (
            str(chance.randint(0, 30)),
            f"{chance.uniform(0, 50):.2f}",
            "1 1/2",
            "½",
            "two",
            "half a",
            "a",
            "-1",
            "1/0",
            "1e9",
        )
    )
    return chance.choice(_AMOUNTS.split("|")).format(n=number, m=chance.randint(0, 90))


def characters(chance: random.Random, _larder: Larder) -> str:
    """Random characters of all planes, up to 300."""
    top = chance.choice((0x7F, 0x24F, 0x2FFF, 0x10FFFF))
    return "".join(chr(chance.randint(0, top)) for _ in range(chance.randint(1, 300)))


def hostile(chance: random.Random, larder: Larder) -> str:
    """A hostile sample, as it is or stuck to a real request."""
    sample = chance.choice(HOSTILE)
    return sample if chance.random() < 0.5 else f"{chance.choice(larder.requests)} {sample}"


def _drop_word(line: str, chance: random.Random, _larder: Larder) -> str:
    words = line.split(" ")
    del words[chance.randrange(len(words))]
    return " ".join(words)


def _double_word(line: str, chance: random.Random, _larder: Larder) -> str:
    words = line.split(" ")
    at = chance.randrange(len(words))
    return " ".join([*words[:at], words[at], *words[at:]])


def _swap_words(line: str, chance: random.Random, _larder: Larder) -> str:
    words = line.split(" ")
    left, right = chance.randrange(len(words)), chance.randrange(len(words))
    words[left], words[right] = words[right], words[left]
    return " ".join(words)


def _change_letter(line: str, chance: random.Random, _larder: Larder) -> str:
    at = chance.randrange(len(line) + 1)
    return line[:at] + chance.choice(_LETTERS) + line[at + chance.randint(0, 1) :]


def _put_in_word(line: str, chance: random.Random, larder: Larder) -> str:
    words = line.split(" ")
    terminal = chance.choice(list(larder.phrases))
    words.insert(chance.randint(0, len(words)), chance.choice(larder.phrases[terminal]))
    return " ".join(words)


def _put_in_amount(line: str, chance: random.Random, _larder: Larder) -> str:
    words = line.split(" ")
    words.insert(chance.randint(0, len(words)), amount(chance))
    return " ".join(words)


def _join_lines(line: str, chance: random.Random, larder: Larder) -> str:
    return line + chance.choice((" and ", ", ", ". ", " ")) + chance.choice(larder.requests)


def _change_number(line: str, chance: random.Random, _larder: Larder) -> str:
    words = line.split(" ")
    at = [number for number, word in enumerate(words) if any(char.isdigit() for char in word)]
    if at:
        words[chance.choice(at)] = amount(chance)
    return " ".join(words)


_SLIPS = (
    _drop_word,
    _double_word,
    _swap_words,
    _change_letter,
    _put_in_word,
    _put_in_amount,
    _join_lines,
    _change_number,
)


SOURCES: Mapping[str, Source] = {
    "slipped": slipped,
    "grammar": by_rule,
    "words": in_any_order,
    "unicode": characters,
    "hostile": hostile,
}


# ------------------------------------------------------------------------------------------------ asking


class Found(Struct):
    """What a run came to: how many lines of each source, how each ended, what was wrong (kind -> the lines that
    showed it), how often, and the time: seconds in all and the ten slowest lines."""

    sources: Counter[str] = field(default_factory=Counter)
    statuses: Counter[str] = field(default_factory=Counter)
    wrong: dict[str, list[list[str]]] = field(default_factory=dict)
    times: Counter[str] = field(default_factory=Counter)
    slow: int = 0
    slowest: list[tuple[float, list[str]]] = field(default_factory=list)
    seconds: float = 0.0

    def blame(self, kind: str, turns: Sequence[str]) -> None:
        """Keep what was wrong, with the turns that led there."""
        self.times[kind] += 1
        kept = self.wrong.setdefault(kind, [])
        if len(kept) < 3:
            kept.append(list(turns))

    def timed(self, seconds: float, turns: Sequence[str], slow_s: float) -> None:
        """Add a line's time; keep the ten slowest lines."""
        self.seconds += seconds
        self.slow += seconds > slow_s
        if len(self.slowest) < 10 or seconds > self.slowest[-1][0]:
            self.slowest = sorted([*self.slowest, (seconds, list(turns))], key=lambda entry: -entry[0])[:10]

    def report(self) -> list[str]:
        """The findings, a line each."""
        lines = sum(self.sources.values())
        shares = (
            ", ".join(f"{name} {count:,}" for name, count in counted.most_common())
            for counted in (self.sources, self.statuses)
        )
        told = [f"{lines:,} lines: " + "; ".join(shares)]
        told.append(f"{self.seconds:.1f} s of processor time, {1000 * self.seconds / max(lines, 1):.2f} ms a line")
        told.append(f"over the time allowed: {self.slow:,} lines; the slowest:")
        told += [f"  {1000 * took:7.1f} ms  turn {len(turns)}: {turns[-1][:150]!r}" for took, turns in self.slowest[:5]]
        for kind, examples in sorted(self.wrong.items(), key=lambda entry: -self.times[entry[0]]):
            told.append(f"{self.times[kind]} x {kind}")
            told += ["    " + " || ".join(repr(turn[:200]) for turn in turns[-4:]) for turns in examples]
        return told


def run(lines: int, seed: int, slow_s: float = 0.1, only: str = "", tell: Callable[[str], None] | None = None) -> Found:
    """Ask so many lines, of one source if `only` names it; what was found. `tell` hears the findings now and then."""
    chance = random.Random(seed)
    larder = Larder.stocked()
    found = Found()
    for first in ("3 lb at 80/20 from chuck and suet", "71 C in F"):  # what is loaded once is no line's fault
        Conversation(Path("no such folder") / "notebook.db").ask(first)
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):  # some lines save a file where they say
        notebook = Path(folder) / "notebook.db"
        for start in range(0, lines, TURNS):
            for old in Path(folder).iterdir():
                old.unlink()
            made = [any_line(chance, larder, only) for _ in range(min(TURNS, lines - start))]
            found.sources.update(source for _, source in made)
            _talk([line for line, _ in made], notebook, found, slow_s)
            if tell is not None and start and start % TOLD_EVERY == 0:
                tell("\n".join(found.report()))
    return found


def _talk(turns: Sequence[str], notebook: Path, found: Found, slow_s: float) -> None:
    conversation = Conversation(notebook_path=notebook, now=lambda: CLOCK)
    for number, turn in enumerate(turns, 1):
        begun = time.process_time()
        try:
            data = conversation.ask(turn).as_data()
        except Exception as error:
            kind = _kind(error)
            known = len(found.wrong.get(kind, ())) >= 3
            found.blame(kind, turns[:number] if known else _fewest(turns[:number], kind))
            found.statuses["raised"] += 1
            continue
        found.timed(time.process_time() - begun, turns[:number], slow_s)
        found.statuses[data["status"]] += 1
        for fault in faults(data):
            found.blame("format: " + fault.split(" of ")[0][:80], [*turns[max(number - 4, 0) : number], fault])


def _raised(turns: Sequence[str]) -> Exception | None:
    """What the last of these turns raises, asked in a new conversation with an empty notebook."""
    last: Exception | None = None
    with tempfile.TemporaryDirectory() as folder:
        conversation = Conversation(notebook_path=Path(folder) / "notebook.db", now=lambda: CLOCK)
        for turn in turns:
            last = None
            try:
                conversation.ask(turn)
            except Exception as error:
                last = error
    return last


def _fewest(turns: Sequence[str], kind: str) -> list[str]:
    """As few of the turns as still raise the same."""
    fewest = list(turns)
    for turn in turns[:-1]:
        without = [other for other in fewest if other is not turn]
        error = _raised(without)
        if error is not None and _kind(error) == kind:
            fewest = without
    return fewest


def _kind(error: Exception) -> str:
    places = [place for place in traceback.extract_tb(error.__traceback__) if "assistant" in place.filename]
    road = " > ".join(f"{Path(place.filename).name}:{place.lineno}" for place in places[-3:])
    return f"{type(error).__name__} at {road}"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run and report; 1 where an answer raised or had no shape."""
    options = argparse.ArgumentParser(prog="python -m tests.fuzz", description="Ask lines that nobody would type.")
    options.add_argument("--lines", type=int, default=10_000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--slow-ms", type=float, default=100.0, help="processor time that a line may take")
    options.add_argument("--source", default="", choices=["", *SOURCES], help="lines of this source only")
    chosen = options.parse_args(arguments)
    found = run(
        chosen.lines,
        chosen.seed,
        chosen.slow_ms / 1000,
        chosen.source,
        lambda text: print(text, file=sys.stderr, flush=True),
    )
    print("\n".join([f"seed {chosen.seed}", *found.report()]))
    return 1 if found.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
