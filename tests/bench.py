"""Timings, printed and never asserted: `python -m tests.bench [--write]`, on a quiet machine.

Whole processes stand beside the bare import of what they loaded, from elsewhere and in all; blends beside HiGHS through scipy on
the same problem. --write puts the table, with machine and date, into DEVELOPERS.md and README.md, between
<!-- timings --> and <!-- end -->.
"""

from __future__ import annotations

import contextlib
import os
import platform
import re
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path

from assistant.engine import blend
from assistant.engine.kinds import Blend, Cut, NoBlend
from assistant.errors import BadInput
from assistant.language import sentence
from assistant.notebook import Notebook
from assistant.render import json_lines, plain
from assistant.session import Conversation
from tests.notebook.bench_notebook import opened_and_read, pile
from tests.notebook.samples import SUPPER
from tests.requests import judge

ROOT = Path(__file__).resolve().parents[1]
QUESTION = "3 lb at 80/20 from brisket trim and round"
REQUESTS = sorted((Path(__file__).parent / "requests").glob("*.jsonl"))
WRITTEN = (ROOT / "DEVELOPERS.md", ROOT / "README.md")
PART = re.compile(r"(<!-- timings -->\n).*?(<!-- end -->)", re.DOTALL)
PROMPT = r"\?2004h.*>"
"""Bracketed paste is switched on, then the prompt is drawn."""

Row = tuple[str, str, str]
"""What was measured, how much it was, and what stands beside it ("" for nothing)."""

WHAT_IT_LOADED = """
import sys
before = set(sys.modules)
from assistant.cli import main
main({arguments!r})
print(",".join(name for name in sys.modules if name not in before and name != "__main__"), file=sys.stderr)
"""
PEAK = """
import sys
from assistant.session import Conversation
talk = Conversation()
for line in sys.argv[1:]:
    talk.ask(line)
# not getrusage: what it tells begins with the memory of the process that forked this one
print(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""


def environment(home: str) -> dict[str, str]:
    """A home of its own, no waiting for a terminal to say where its cursor is, and bytecode kept as in an installed program."""
    keeps = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**keeps, "HOME": home, "XDG_DATA_HOME": home, "TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1"}


def process(home: str, *arguments: str, runs: int = 15) -> float:
    """Median milliseconds of a whole Python process; the first two are not timed."""

    def run() -> None:
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True, env=environment(home))

    run()
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


def floors(home: str, *arguments: str) -> tuple[float, float]:
    """Milliseconds of a process that only imports what the program loads for a call: what others wrote, and all of it."""
    code = WHAT_IT_LOADED.format(arguments=list(arguments))
    done = subprocess.run(
        [sys.executable, "-c", code], check=False, capture_output=True, text=True, env=environment(home)
    )
    names = done.stderr.strip().splitlines()[-1].split(",")
    others = [name for name in names if name.split(".")[0] != "assistant"]
    return process(home, "-c", f"import {', '.join(others)}"), process(home, "-c", f"import {', '.join(names)}")


def prompt(home: str, runs: int = 9) -> float:
    """Median milliseconds from the start of the chat on a terminal to its prompt."""
    import pexpect

    def run() -> None:
        child = pexpect.spawn(sys.executable, ["-m", "assistant"], env=environment(home), timeout=20)
        child.expect(PROMPT)
        child.close(force=True)

    run()
    return median(run, runs)


def starts(home: str) -> list[Row]:
    """Whole processes."""
    one_shot = process(home, "-m", "assistant", "ask", "--json", QUESTION)
    others, every = floors(home, "ask", "--json", QUESTION)
    chat, toolkit = prompt(home), process(home, "-c", "import prompt_toolkit")
    return [
        (
            "one-shot answer, whole process",
            f"{one_shot:.0f} ms",
            f"bare imports of what others wrote {others:.0f} ms, {one_shot / others:.2f} times; of every module it loads "
            f"{every:.0f} ms, {one_shot / every:.2f} times",
        ),
        ("`--version`, whole process", f"{process(home, '-m', 'assistant', '--version'):.0f} ms", ""),
        ("chat, from the start to the prompt", f"{chat:.0f} ms", f"bare import of prompt_toolkit {toolkit:.0f} ms"),
    ]


def answers() -> list[Row]:
    """A warm answer and its parts; varied requests."""
    talk = Conversation(notebook_path=Path("no such folder") / "notebook.db")
    answer = talk.ask(QUESTION)
    two = [Cut("brisket trim", Fraction(45)), Cut("round", Fraction(9))]
    solve = median(lambda: blend.nearest(two, Fraction(1361), Fraction(20)))
    return [
        ("warm typical answer", f"{median(lambda: talk.ask(QUESTION)):.2f} ms", ""),
        ("of it: understanding", f"{median(lambda: sentence.read(QUESTION)):.2f} ms", ""),
        ("of it: solving", f"{solve:.2f} ms", ""),
        ("of it: rendering plain, JSON", f"{median(lambda: plain.render(answer)):.2f}, {median(lambda: json_lines.render(answer)):.2f} ms", ""),
        ("varied requests a second, one process", f"{requests_a_second():,.0f}", ""),
    ]  # fmt: skip


def requests_a_second() -> float:
    """Varied requests through one process, each in a conversation that goes on."""
    lines = [turn for path in REQUESTS for case in judge.read_cases(path) for turn in judge.turns_of(case)]
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):  # some requests save a file
        talk = Conversation(notebook_path=Path(folder) / "notebook.db")
        start = time.perf_counter()
        for line in lines:
            talk.ask(line)
        return len(lines) / (time.perf_counter() - start)


def cuts(count: int) -> list[Cut]:
    """So many cuts from lean to fat, the leaner the dearer, none for more than half of the batch."""
    return [
        Cut(
            f"cut {i}",
            Fraction(5) + Fraction(80 * i, count),
            price=Fraction(count - i, 100),
            share_at_most=Fraction(3, 4),
        )
        for i in range(count)
    ]


def limited(count: int, *, stock: int) -> list[Cut]:
    """So many cuts, each with every kind of limit; stock: about how many grams there are of all together."""
    return [
        Cut(
            f"cut {i}",
            Fraction(5) + Fraction(60 * i, count),
            at_least=Fraction(150 * (i % 3), count),
            at_most=Fraction(stock * (20 + i % 7), 23 * count),
            share_at_least=Fraction(i % 2, 10 * count),
            share_at_most=Fraction(1, 10) + Fraction(4, count),
            price=Fraction(count - i, 100),
            wish=Fraction(1 + i % 9),
        )
        for i in range(count)
    ]


def limited_blends(count: int, aim: str) -> list[Row]:
    """Blends with every limit on every cut, and the same asked to be leaner, or larger, than they can be."""
    many, scarce = limited(count, stock=6000), limited(count, stock=2500)
    batch, fat, too_lean = Fraction(3000), Fraction(25), Fraction(6)
    made: dict[str, Callable[[], Blend | NoBlend]] = {
        "nearest": lambda: blend.nearest(many, batch, fat),
        "cheapest": lambda: blend.cheapest(many, batch, fat),
        "largest with what easing each limit gives": lambda: blend.largest(many, fat),
    }
    refused: dict[str, Callable[[], Blend | NoBlend]] = {
        "too lean": lambda: blend.nearest(many, batch, too_lean),
        "too little stock": lambda: blend.nearest(scarce, batch, fat),
        "at no size": lambda: blend.largest(many, too_lean),
    }
    found = []
    for calls, kind, what in ((made, Blend, "all limits"), (refused, NoBlend, "impossible: why, and ways out")):
        assert all(isinstance(call(), kind) for call in calls.values())
        spent = ", ".join(f"{name} {median(call, 15):.1f}" for name, call in calls.items())
        found.append((f"blend of {count} cuts, {what}", f"{spent} ms", aim))
    return found


def blends() -> list[Row]:
    """The cheapest and the nearest blend of so many cuts, and the cheapest by HiGHS."""
    from scipy.optimize import linprog

    found = []
    for count in (2, 20, 200, 5000):
        many, batch, fat = cuts(count), Fraction(1000), Fraction(25)
        runs = 50 if count < 200 else 5

        def highs(many: Sequence[Cut] = many, batch: Fraction = batch, fat: Fraction = fat) -> None:
            linprog(
                [float(cut.price or 0) for cut in many],
                A_eq=[[1.0] * len(many), [float(cut.fat - fat) for cut in many]],
                b_eq=[float(batch), 0.0],
                bounds=[(0.0, float(cut.share_at_most * batch)) for cut in many],
            )

        beside = f"cheapest by HiGHS {median(highs, runs):.1f} ms"
        try:
            cheapest = median(lambda many=many: blend.cheapest(many, Fraction(1000), Fraction(25)), runs)  # type: ignore[misc]
            nearest = median(lambda many=many: blend.nearest(many, Fraction(1000), Fraction(25)), runs)  # type: ignore[misc]
        except BadInput as refused:
            found.append((f"blend of {count:,} cuts", f"refused: {refused.wanted}", beside))
            continue
        found.append((f"cheapest, nearest blend of {count} cuts, exactly", f"{cheapest:.1f}, {nearest:.1f} ms", beside))
    return found


def notebook(count: int = 100_000) -> list[Row]:
    """Everyday calls of a notebook with many batches in it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "notebook.db"
        with Notebook(path) as full:
            full.take_in(pile(count), (), {}, ())
            calls: dict[str, Callable[[], object]] = {
                "open and read the last batch": lambda: opened_and_read(path),
                "save": lambda: full.save(SUPPER),
                "the best five": lambda: full.best(5),
                "search for a word": lambda: full.search("chuck"),
            }
            spent = ", ".join(f"{name} {median(call, 15):.1f}" for name, call in calls.items())
    return [(f"notebook of {count:,} batches", f"{spent} ms", "")]


def memory(home: str) -> list[Row]:
    """Peak resident memory of a process that asks."""

    def peak(*lines: str) -> float:
        done = subprocess.run(
            [sys.executable, "-c", PEAK, *lines], check=True, capture_output=True, text=True, env=environment(home)
        )
        return int(done.stdout) / 1024

    if not Path("/proc/self/status").exists():
        return []
    return [
        ("peak memory, one answer", f"{peak(QUESTION):.0f} MB", ""),
        ("peak memory, 2,000 answers in one conversation", f"{peak(*[QUESTION, 'double that'] * 1000):.0f} MB", ""),
    ]


def table() -> str:
    """Everything, as Markdown, with machine and date."""
    with tempfile.TemporaryDirectory() as home:
        rows = [
            *starts(home),
            *answers(),
            *blends(),
            *limited_blends(20, "aim 5 ms"),
            *limited_blends(200, "aim 200 ms"),
            *notebook(),
            *memory(home),
        ]
    machine = f"{platform.machine()}, {os.cpu_count()} cores, {platform.system()}, Python {platform.python_version()}"
    head = [
        f"`python -m tests.bench`, {date.today()}, {machine}; medians:",
        "",
        "| what | how long | beside |",
        "|---|---|---|",
    ]
    return "\n".join([*head, *(f"| {what} | {how_long} | {beside} |" for what, how_long, beside in rows)]) + "\n"


def main(arguments: Sequence[str]) -> int:
    """Print the table; with --write also put it where it is read."""
    found = table()
    print(found, end="")
    if "--write" in arguments:
        for path in WRITTEN:
            text = path.read_text(encoding="utf-8")
            path.write_text(PART.sub(lambda part: part.group(1) + found + part.group(2), text), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
