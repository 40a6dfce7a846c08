"""Lines that nobody would type, by the hundred thousand, through the one road in.

    python -m tests.fuzz --lines 1000000 --seed 1 [--slow-ms 100]

Four kinds of line: real requests with slips in them, sentences put together from the vocabulary, random characters,
and hostile samples. Each is asked in a conversation that lasts some turns, with a notebook in a temporary folder and
a fixed clock. An answer must come without an exception and in the published shape; lines slower than --slow-ms are
counted, the slowest are shown. The same seed asks the same lines. Exit status 1 where anything was found.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from datetime import time as day_time
from functools import cache
from pathlib import Path
from typing import Any

from assistant import Conversation, units
from assistant.answer import Role, Status
from assistant.errors import BadInput
from assistant.language import vocabulary

REQUESTS = Path(__file__).parent / "requests"
CURRENCIES = frozenset(("USD", "GBP", "EUR", "AUD", "CAD", "NZD"))
TURNS = 40
"""Turns of one conversation, after which a new one begins with an empty notebook."""

CLOCK = datetime(2027, 6, 18, 16, 30, tzinfo=UTC)
KEYS = {"heard", "understood", "status", "topic", "figures", "steps", "cautions", "notes", "message"}
FIGURE_KEYS = {"name", "role", "value", "unit", "low", "high", "source"}

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


def faults(data: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with the shape of an answer as data; nothing where it is as published."""
    if set(data) != KEYS:
        yield f"keys are {sorted(data)}"
        return
    if data["status"] not in [status.value for status in Status]:
        yield f"status {data['status']!r}"
    if data["status"] == Status.ANSWERED.value and not (data["message"] or data["figures"] or data["steps"]):
        yield "answered with nothing"
    if data["status"] != Status.ANSWERED.value and not data["message"]:
        yield f"{data['status']} without a message"
    for key in ("heard", "understood", "topic", "message"):
        if not isinstance(data[key], str):
            yield f"{key} is a {type(data[key]).__name__}"
    for key in ("steps", "notes"):
        if not all(isinstance(line, str) and line for line in data[key]):
            yield f"an empty line, or none, in {key}"
    for caution in data["cautions"]:
        if set(caution) != {"topic", "text", "source"} or not all(caution.values()):
            yield f"caution {caution}"
    for figure in data["figures"]:
        yield from _figure_faults(figure)
    try:
        json.dumps(data, allow_nan=False)
    except (TypeError, ValueError) as error:
        yield f"no JSON: {error}"


def _figure_faults(figure: Mapping[str, Any]) -> Iterator[str]:
    if not FIGURE_KEYS <= set(figure) <= FIGURE_KEYS | {"fat_percent"}:
        yield f"figure keys {sorted(figure)}"
        return
    said = f"{figure['role']} {figure['name']!r} {figure['value']!r} {figure['unit']!r}"
    if figure["role"] not in [role.value for role in Role] or not figure["name"]:
        yield f"role or name of {said}"
    yield from (f"{problem} of {said}" for problem in _value_faults(figure))


def _value_faults(figure: Mapping[str, Any]) -> Iterator[str]:
    value, unit = figure["value"], figure["unit"]
    if isinstance(value, str):
        if unit not in ("date", "time") or not _is_moment(value):
            yield "moment"
        return
    if isinstance(value, bool) or not isinstance(value, int | float):
        yield f"type {type(value).__name__}"
        return
    numbers = [value, *(figure[key] for key in ("low", "high", "fat_percent") if figure.get(key) is not None)]
    if not all(isinstance(number, int | float) and math.isfinite(number) for number in numbers):
        yield "a number that is none"
        return
    if not _is_unit(unit):
        yield "unit"
    low, high = figure["low"], figure["high"]
    slack = 1e-6 * max(1.0, abs(value))
    if (low is not None and low > value + slack) or (high is not None and high < value - slack):
        yield f"range {low}..{high}"


def _is_moment(text: str) -> bool:
    """Whether it is an ISO 8601 date, time or both."""
    for kind in (date, datetime, day_time):
        try:
            kind.fromisoformat(text)
        except ValueError:
            continue
        return True
    return False


@cache
def _is_unit(unit: str) -> bool:
    """A name of the units table, one over another (g/kg), a currency, or one of the three without a unit."""
    if unit in ("%", "count", "1") or unit in CURRENCIES:
        return True
    try:
        return all(units.kind(name) for name in unit.split("/", 1))
    except BadInput:
        return False


# ------------------------------------------------------------------------------------------------ lines


@dataclass(frozen=True)
class Larder:
    """What lines are made from: real requests, and the phrases of every terminal of the grammar."""

    requests: tuple[str, ...]
    phrases: Mapping[str, tuple[str, ...]]

    @classmethod
    def stocked(cls) -> Larder:
        """The requests beside this module and the whole vocabulary."""
        lines = [
            turn
            for path in sorted(REQUESTS.glob("*.jsonl"))
            for line in path.read_text(encoding="utf-8").splitlines()
            for turn in json.loads(line)["turns"]
        ]
        by_terminal: dict[str, list[str]] = {}
        for phrase, meaning in vocabulary.vocabulary().meanings.items():
            by_terminal.setdefault(meaning.terminal, []).append(phrase)
        return cls(tuple(lines), {terminal: tuple(words) for terminal, words in sorted(by_terminal.items())})


def any_line(chance: random.Random, larder: Larder) -> str:
    """One line of any kind."""
    kinds: tuple[Callable[[random.Random, Larder], str], ...] = (slipped, built, characters, hostile)
    return chance.choices(kinds, (5, 3, 1, 1))[0](chance, larder)


def slipped(chance: random.Random, larder: Larder) -> str:
    """A real request with one to four slips."""
    line = chance.choice(larder.requests)
    for _ in range(chance.randint(1, 4)):
        line = chance.choice(_SLIPS)(line, chance, larder)
    return line


def built(chance: random.Random, larder: Larder) -> str:
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


# ------------------------------------------------------------------------------------------------ asking


@dataclass
class Found:
    """What a run came to: how each line ended, what was wrong (kind -> the lines that showed it), and the time."""

    statuses: Counter[str] = field(default_factory=Counter)
    wrong: dict[str, list[list[str]]] = field(default_factory=dict)
    times: Counter[str] = field(default_factory=Counter)
    slowest: list[tuple[float, list[str]]] = field(default_factory=list)
    seconds: float = 0.0

    def blame(self, kind: str, turns: Sequence[str]) -> None:
        """Keep what was wrong, with the turns that led there."""
        self.times[kind] += 1
        kept = self.wrong.setdefault(kind, [])
        if len(kept) < 3:
            kept.append(list(turns))

    def timed(self, seconds: float, turns: Sequence[str]) -> None:
        """Keep the ten slowest lines."""
        self.seconds += seconds
        if len(self.slowest) < 10 or seconds > self.slowest[-1][0]:
            self.slowest = sorted([*self.slowest, (seconds, list(turns))], key=lambda entry: -entry[0])[:10]


def run(lines: int, seed: int, slow_s: float = 0.1) -> Found:
    """Ask so many lines; what was found. Slow lines are counted under "slow" in `times`, and blame nobody."""
    chance = random.Random(seed)
    larder = Larder.stocked()
    found = Found()
    with tempfile.TemporaryDirectory() as folder:
        notebook = Path(folder) / "notebook.db"
        for start in range(0, lines, TURNS):
            for old in Path(folder).iterdir():
                old.unlink()
            _talk([any_line(chance, larder) for _ in range(min(TURNS, lines - start))], notebook, found, slow_s)
    return found


def _talk(turns: Sequence[str], notebook: Path, found: Found, slow_s: float) -> None:
    conversation = Conversation(notebook_path=notebook, now=lambda: CLOCK)
    for number, turn in enumerate(turns, 1):
        begun = time.perf_counter()
        try:
            data = conversation.ask(turn).as_data()
        except Exception as error:
            kind = _kind(error)
            known = len(found.wrong.get(kind, ())) >= 3
            found.blame(kind, turns[:number] if known else _fewest(turns[:number], kind))
            found.statuses["raised"] += 1
            continue
        took = time.perf_counter() - begun
        found.timed(took, turns[:number])
        if took > slow_s:
            found.times["slow"] += 1
        found.statuses[data["status"]] += 1
        for fault in faults(data):
            found.blame("shape: " + fault.split(" of ")[0][:80], [turn, fault])


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
    options.add_argument("--slow-ms", type=float, default=100.0)
    chosen = options.parse_args(arguments)
    found = run(chosen.lines, chosen.seed, chosen.slow_ms / 1000)
    shares = ", ".join(f"{status} {count}" for status, count in found.statuses.most_common())
    print(f"{chosen.lines:,} lines, seed {chosen.seed}: {shares}")
    print(f"{found.seconds:.1f} s in all, {1000 * found.seconds / max(chosen.lines, 1):.2f} ms a line on average")
    print(f"slower than {chosen.slow_ms:g} ms: {found.times['slow']}")
    for took, turns in found.slowest[:5]:
        print(f"  {1000 * took:7.1f} ms  turn {len(turns)}: {turns[-1][:150]!r}")
    for kind, examples in sorted(found.wrong.items(), key=lambda entry: -found.times[entry[0]]):
        print(f"{found.times[kind]} x {kind}")
        for turns in examples:
            print("    " + " || ".join(repr(turn[:200]) for turn in turns[-4:]))
    return 1 if found.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
