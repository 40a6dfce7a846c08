"""One conversation of very many turns, and what it does to memory.

    python -m tests.long_evening [TURNS]

Prints the memory of the process at ten points, and ends with 1 where it still grew in the last half of the turns by
more than ALLOWED. The turns are planning, changing, small talk, hostile text, saving, rating, stock, undo.
"""

from __future__ import annotations

import gc
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from assistant import Conversation

ALLOWED = 4_000_000
"""Bytes: arenas of the allocator come and go by the megabyte; a leak of one answer a turn is far above it."""

LINES = (
    "{n} lb at 80/20 from round 8% and suet 92%",
    "into 6 oz patties",
    "make it {n} kg",
    "salt 1.5%",
    "and pepper 2 g/kg",
    "without salt",
    "undo",
    "what temperature for pork",
    "why",
    "how long to thaw {n} lb in the fridge",
    "convert {n} lb to kg",
    "thanks",
    "qwertz {n} asdf",
    "%s%n\u202e{n}",
    "save that as batch {few}",
    "rate it 7",
    "note: turn {n}",
    "batch {few} again for 2 kg",
    "actually 1.1 kg of suet",
    "the best so far",
    "undo",
    "remember I have {n} kg round and 1 kg suet",
    "made it",
    "what's in stock?",
    "forget batch {few}",
)


def lines(turns: int) -> Iterator[str]:
    """So many turns, no two alike in their figures for long; few names, so that the notebook itself stays small."""
    for turn in range(turns):
        yield LINES[turn % len(LINES)].replace("{n}", str(2 + turn % 97)).replace("{few}", str(turn // len(LINES) % 5))


def resident() -> int:
    """Bytes of this process in memory."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096


def evening(turns: int, folder: Path) -> list[int]:
    """Have the conversation; memory after each tenth of it."""
    start = datetime(2027, 6, 18, 16, 0, tzinfo=UTC)
    told = 0
    talk = Conversation(folder / "notebook.db", now=lambda: start + timedelta(seconds=told))
    marks = []
    for line in lines(turns):
        talk.ask(line)
        told += 1
        if told % max(1, turns // 10) == 0:
            gc.collect()
            marks.append(resident())
    return marks


def main(arguments: list[str]) -> int:
    """Print the memory at ten points; 1 where it grew in the last half."""
    turns = int(arguments[0]) if arguments else 100_000
    with tempfile.TemporaryDirectory() as folder:
        marks = evening(turns, Path(folder))
    for number, size in enumerate(marks, start=1):
        print(f"{number * turns // 10:>8,} turns {size / 1e6:8.1f} MB")
    growth = marks[-1] - marks[len(marks) // 2 - 1]
    print(f"last half: {growth / 1e6:+.1f} MB, allowed {ALLOWED / 1e6:.0f} MB")
    return 0 if growth <= ALLOWED else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
