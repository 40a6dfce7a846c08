"""Timings, printed and never asserted: `python -m tests.bench`.

One-shot wall time stands beside the bare import of the libraries that the path needs, both as whole processes.
"""

from __future__ import annotations

import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path

from assistant import Conversation
from assistant.engine import blend
from assistant.engine.kinds import Cut
from assistant.language import sentence
from assistant.render import json_lines, plain
from tests.requests import judge

QUESTION = "3 lb at 80/20 from brisket trim and round"
REQUESTS = sorted((Path(__file__).parent / "requests").glob("*.jsonl"))


def process(code: list[str], runs: int = 9) -> float:
    """Median milliseconds of a whole Python process, bytecode kept as in an installed program: the first is not timed."""
    keeps = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def run() -> None:
        subprocess.run([sys.executable, *code], check=True, stdout=subprocess.DEVNULL, env=keeps)

    run()
    return median(run, runs)


def median(work: Callable[[], object], runs: int = 200) -> float:
    """Median milliseconds of a call in this process."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def requests_a_minute() -> float:
    """Varied requests through one process, each in a conversation that goes on."""
    lines = [turn for path in REQUESTS for case in judge.read_cases(path) for turn in judge.turns_of(case)]
    with tempfile.TemporaryDirectory() as folder:
        talk = Conversation(notebook_path=Path(folder) / "notebook.db")
        start = time.perf_counter()
        for line in lines:
            talk.ask(line)
        return len(lines) / (time.perf_counter() - start) * 60


def cuts(count: int) -> list[Cut]:
    """So many cuts from lean to fat."""
    return [Cut(f"cut {i}", Fraction(5) + Fraction(80 * i, count)) for i in range(count)]


def rows() -> list[tuple[str, str]]:
    """What was measured, and how much it was."""
    one_shot = process(["-m", "assistant", "ask", "--json", QUESTION])
    bare = process(["-c", "import lark, json, re, fractions, dataclasses, tomllib"])
    talk = Conversation(notebook_path=Path("no such folder") / "notebook.db")
    answer = talk.ask(QUESTION)
    found = [
        ("one-shot answer, whole process", f"{one_shot:.0f} ms"),
        ("bare import of what it needs, whole process", f"{bare:.0f} ms"),
        ("the two as a ratio", f"{one_shot / bare:.2f}"),
        ("warm blend answer", f"{median(lambda: talk.ask(QUESTION)):.2f} ms"),
        ("of it: understanding", f"{median(lambda: sentence.read(QUESTION)):.2f} ms"),
        ("of it: rendering plain", f"{median(lambda: plain.render(answer)):.2f} ms"),
        ("of it: rendering JSON", f"{median(lambda: json_lines.render(answer)):.2f} ms"),
        ("varied requests a minute", f"{requests_a_minute():,.0f}"),
    ]
    for count in (2, 20, 200):
        many = cuts(count)
        runs = 50 if count < 200 else 5
        took = median(lambda many=many: blend.nearest(many, Fraction(1000), Fraction(20)), runs)  # type: ignore[misc]
        found.append((f"blend of {count} cuts", f"{took:.1f} ms"))
    return found


def main() -> int:
    """Print the table."""
    print(f"{date.today()}, {platform.machine()}, Python {platform.python_version()}")
    for name, value in rows():
        print(f"| {name} | {value} |")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
