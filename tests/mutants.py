"""Mutants of the engine and of the safety rules, a sample of every module: `python -m tests.mutants`.

    python -m tests.mutants --sample 60 --seed 1 [MODULE ...]

mutmut (which is installed for this command alone: `pip install "mutmut>=3.8,<4"`) changes one thing in one function
at a time, a sign, a figure, a word, a call, and the tests must notice. Its settings are in pyproject.toml. All the
mutants are some twelve thousand, a night's work; the seed says which are run. Printed per module: how many of the
sampled were killed, the share, and the names of the survivors, for `mutmut show NAME`. Exit status 1 where a module
has fewer killed than --least percent. A mutant that makes the tests hang counts as killed. Tables that are loaded
once (assistant/data) are left out: mutmut forks a process that has them already; the tests type their figures again.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MADE = ROOT / "mutants"
"""Where mutmut keeps the changed program and, beside each module, what became of its mutants."""

SURVIVED, UNTESTED = 0, (5, 33)
"""mutmut's exit codes of a mutant that no test noticed, and of one that no test reached."""

TALK = 15
"""How many of mutmut's last lines are shown where it ran nothing: mostly the test that fails without any mutant."""


def results(module: Path) -> Mapping[str, int | None]:
    """Every mutant of a module by name, with the exit code of its tests; None where they were not run."""
    return json.loads(module.read_text(encoding="utf-8"))["exit_code_by_key"]  # type: ignore[no-any-return]


def modules(named: Sequence[str]) -> list[Path]:
    """mutmut's results of the modules that were mutated, or of those named ("scale", "topics/store")."""
    found = sorted(path for path in MADE.rglob("*.py.meta") if results(path))
    return [path for path in found if not named or any(path.as_posix().endswith(f"/{name}.py.meta") for name in named)]


def sampled(module: Path, size: int, seed: int) -> list[str]:
    """So many mutants of the module, always the same for the same seed; all of them where there are no more."""
    names = sorted(results(module))
    return sorted(random.Random(f"{seed} {module.name}").sample(names, min(size, len(names))))


def mutmut(*names: str) -> str:
    """Make the mutants where they are not made yet, and run those named; the end of what mutmut said is handed back."""
    command = [sys.executable, "-m", "mutmut", "run", *names]
    done = subprocess.run(command, cwd=ROOT, check=False, capture_output=True, text=True)
    return "\n".join((done.stdout + done.stderr).splitlines()[-TALK:])


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the sample and report."""
    options = argparse.ArgumentParser(
        prog="python -m tests.mutants", description="Change the program; tests must notice."
    )
    options.add_argument("--sample", type=int, default=60, help="mutants of each module")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--least", type=float, default=90.0, help="percent of each module that must be killed")
    options.add_argument("modules", nargs="*", help="such as scale or topics/store; all where none is named")
    chosen = options.parse_args(arguments)
    if not MADE.exists():
        mutmut("no such mutant")
    short = []
    for module in modules(chosen.modules):
        names = sampled(module, chosen.sample, chosen.seed)
        talk = mutmut(*names)
        codes = results(module)
        alive = [name for name in names if codes[name] == SURVIVED or codes[name] in UNTESTED]
        unrun = [name for name in names if codes[name] is None]
        killed = len(names) - len(alive) - len(unrun)
        share = 100 * killed / max(len(names) - len(unrun), 1)
        name = module.relative_to(MADE).as_posix().removesuffix(".meta")
        if len(unrun) == len(names):
            print(f"{name}: nothing was run, which is no result. mutmut's last words:\n{talk}", flush=True)
            short.append(name)
            continue
        print(f"{name}: {killed} of {len(names) - len(unrun)} killed ({share:.0f} %)", flush=True)
        print("".join(f"    survived: {one}\n" for one in alive), end="", flush=True)
        if share < chosen.least:
            short.append(name)
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
