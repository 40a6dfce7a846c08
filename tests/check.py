"""The whole gate in one command: format, lint, types, import contracts, tests, coverage, wheel.

python -m tests.check            everything
python -m tests.check --quick    without the slow tests and the wheel
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence

Gate = tuple[str, Sequence[str]]

PYTHON = sys.executable
BESIDE = "tests against other solvers"
"""Runs beside the gate before it: sums that need no terminal, on the machine's other core."""


def gates(*, quick: bool) -> list[Gate]:
    """Name and command of every gate, in the order in which they are cheapest to fail."""
    here = ["assistant", "tests"]
    steps: list[Gate] = [
        ("tables", [PYTHON, "-m", "assistant.building"]),
        ("format", [PYTHON, "-m", "ruff", "format", "--check", *here]),
        ("lint", [PYTHON, "-m", "ruff", "check", *here]),
        ("types", [PYTHON, "-m", "mypy"]),
        (
            "import contracts",
            [PYTHON, "-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"],
        ),
    ]
    if quick:
        return [*steps, ("tests", [PYTHON, "-m", "pytest", "-m", "not slow"])]
    return [
        *steps,
        ("old coverage gone", [PYTHON, "-m", "coverage", "erase"]),
        ("tests", [PYTHON, "-m", "coverage", "run", "-m", "pytest", "-m", "not oracle"]),
        (BESIDE, [PYTHON, "-m", "pytest", "-m", "oracle"]),
        ("coverage", [PYTHON, "-m", "tests.covered"]),
        ("wheel", [PYTHON, "-m", "tests.wheel"]),
    ]


def main(arguments: Sequence[str]) -> int:
    """Run the gates; stop at none, and fail if any failed."""
    failed = []
    steps = gates(quick="--quick" in arguments)
    with tempfile.TemporaryFile() as said:
        beside = None
        for name, command in steps:
            start = time.perf_counter()
            if name == "tests" and BESIDE in dict(steps):
                beside = subprocess.Popen(dict(steps)[BESIDE], stdout=said, stderr=said)
            if name == BESIDE and beside is not None:
                code = beside.wait()
                said.seek(0)
                print(said.read().decode(), end="")
            else:
                code = subprocess.run(command, check=False).returncode
            print(f"{name}: {'ok' if code == 0 else 'FAILED'} ({time.perf_counter() - start:.0f} s)", flush=True)
            if code != 0:
                failed.append(name)
    print("all gates passed" if not failed else f"failed: {', '.join(failed)}")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
