"""How long the slowest lines take, printed and never asserted: `python -m tests.bench_slowest [SEED]`.

The aim is 50 ms of one core for any line under 2,000 characters, to be answered or refused. Lines are noise and hostile
repetition, and heaps of real phrases of every length up to the bounds, where the work is greatest. Every line is asked
twice in a conversation of its own and the second time counts, so that what is loaded once is not in it.
"""

from __future__ import annotations

import platform
import random
import sys
import time
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from assistant import Conversation
from assistant.language import vocabulary
from assistant.language.text import LONGEST

AIM_MS = 50.0
SIGNS = "([{)]}-,.;:/?!'\"%°#&+@=<>|*~_^$£€¢½¼"
WORDS = (
    *("chuck", "lb", "3", "160", "and", "no", "80/20", "3 lb", "20%", "burgers", "salt", "at least", "half", "twice"),
    *("people", "for", "mince", "out", "Saturday", "6pm", "$3/lb", "each", "not", "qwertz", "chukc", "brisket trim"),
    *("to", "1-", "1/", "1:", "12/", "the", "how", "quarter to", "half past", "per lb", "in", "a", "another"),
    *("1 kg 250", "lb oz", "between 3 and", "no wait", "instead of", "as much as", "how many days", "-"),
)
FIGURES = ("3", "1/2", "80/20", "2 1/2", "half", "a dozen", "20%", "3 lb", "6 oz", "-4", "1:30", "160 F", "£3/kg")
LENGTHS = (150, 300, 600, 900, 1200, LONGEST - 1)
Line = Callable[[random.Random, int], str]


def _joined(item: Callable[[random.Random], str], between: str) -> Line:
    """Lines of so many characters, of items that differ."""

    def line(chance: random.Random, length: int) -> str:
        items: list[str] = []
        while sum(map(len, items)) + len(between) * len(items) < length:
            items.append(item(chance))
        return between.join(items)[:length]

    return line


def _letters(chance: random.Random) -> str:
    return "".join(chance.choice("abcdefghijklmnopqrstuvwxyz") for _ in range(chance.randrange(2, 12)))


def _swapped(word: str) -> str:
    return word[:1] + word[2:3] + word[1:2] + word[3:]


def kinds() -> dict[str, Line]:
    """Every kind of line by its name."""
    meanings = vocabulary.vocabulary().meanings
    known = list(meanings)
    cuts = [word for word, meaning in meanings.items() if meaning.terminal == "CUT"]
    seasonings = [word for word, meaning in meanings.items() if meaning.terminal == "SEASONING"]
    return {
        "random marks": _joined(lambda chance: chr(chance.randrange(33, 127)), ""),
        "random characters": _joined(lambda chance: chr(chance.choice((chance.randrange(32, 127), 0x4E00, 0x301))), ""),
        "digits": _joined(lambda chance: str(chance.randrange(10)), ""),
        "random letters": _joined(_letters, " "),
        "known words": _joined(lambda chance: chance.choice(known), " "),
        "misspelt words": _joined(lambda chance: _swapped(chance.choice(known)), " "),
        "figures": _joined(lambda chance: chance.choice(FIGURES), " "),
        "cuts": _joined(lambda chance: chance.choice(cuts), " and "),
        "cuts with fat": _joined(lambda c: f"{c.randrange(1, 9)} lb {c.choice(cuts)} at {c.randrange(3, 60)}%", ", "),
        "cuts with prices": _joined(lambda c: f"{c.choice(cuts)} ${c.randrange(1, 20)}.{c.randrange(10, 99)}/lb", ", "),
        "seasonings": _joined(
            lambda c: f"{c.randrange(1, 9)} {c.choice(('g', 'tsp', 'oz'))} {c.choice(seasonings)}", ", "
        ),
        "patties": _joined(
            lambda c: f"{c.randrange(1, 90)} {c.randrange(2, 9)} oz patties for {c.randrange(1, 90)} people", " "
        ),
        "times out": _joined(lambda c: f"out {c.randrange(1, 90)} minutes at {c.randrange(40, 110)} F", " and "),
    }


def lines(seed: int) -> Iterator[tuple[str, str]]:
    """(kind, line): signs and words over and over, nested brackets, and every kind at every length."""
    chance = random.Random(seed)
    for sign in SIGNS:
        yield "one sign over and over", sign * (LONGEST - 1)
        yield "one sign over and over", f"{sign} " * 240
    for word in WORDS:
        for times in (80, 240, 500):
            yield "one phrase over and over", (f"{word} " * times)[: LONGEST - 1]
            yield "one phrase over and over", (word * times)[: LONGEST - 1]
    for depth in (200, 450, 2500):
        yield "nested brackets", "(" * depth + "3 lb" + ")" * depth
    yield "5,000 digits", "7" * 5000
    for name, line in kinds().items():
        for length in LENGTHS:
            for _ in range(6):
                yield name, line(chance, length)


def spent(line: str) -> float:
    """Milliseconds of processor time for one line, the second time it is asked."""
    took = 0.0
    for _ in range(2):
        talk = Conversation(notebook_path=Path("no such folder") / "notebook.db")
        start = time.process_time()
        talk.ask(line)
        took = (time.process_time() - start) * 1000
    return took


def main(arguments: list[str] | None = None) -> int:
    """Print the slowest line of every kind."""
    given = sys.argv[1:] if arguments is None else arguments
    slowest: dict[str, tuple[float, str]] = {}
    asked = over = 0
    for kind, line in lines(int(given[0]) if given else 1):
        took = spent(line)
        asked, over = asked + 1, over + (took > AIM_MS)
        slowest[kind] = max(slowest.get(kind, (0.0, "")), (took, line))
    print(f"{date.today()}, {platform.machine()}, Python {platform.python_version()}")
    print(f"{asked:,} lines; over {AIM_MS:g} ms: {over}")
    for kind, (took, line) in sorted(slowest.items(), key=lambda item: -item[1][0]):
        print(f"| {kind} | {took:.0f} ms | {len(line)} characters, {line[:60]!r} |")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
