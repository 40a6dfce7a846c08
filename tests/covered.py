"""Line and branch coverage of assistant/, reported and held: `python -m tests.covered` after the tests of the check.

Reads what `coverage run` left behind, prints every file that is not wholly covered, and fails where the whole is
under ALL percent or a file of the engine, the language or the safety rules under EACH. A percentage counts lines and
branches together, as coverage does.
"""

from __future__ import annotations

import fnmatch
import json
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

ALL, EACH = 95.0, 98.0

HELD_EACH = (
    "assistant/engine/*",
    "assistant/language/*",
    "assistant/data/safety.py",
    "assistant/topics/safe/*",
    "assistant/topics/store/*",
    "assistant/topics/cook.py",
    "assistant/topics/thaw.py",
    "assistant/topics/verdict.py",
    "assistant/topics/cautions.py",
    "assistant/topics/cure.py",
    "assistant/topics/firm.py",
    "assistant/topics/heard.py",
)


def measured() -> tuple[float, Mapping[str, float]]:
    """Percent covered in all, and of every file."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "coverage.json"
        _coverage("json", "--quiet", "-o", str(report))
        data = json.loads(report.read_text(encoding="utf-8"))
    files = {name: entry["summary"]["percent_covered"] for name, entry in data["files"].items()}
    return data["totals"]["percent_covered"], files


def shortfalls(all_percent: float, files: Mapping[str, float]) -> list[str]:
    """What is covered too little, a sentence each."""
    short = [] if all_percent >= ALL else [f"in all {all_percent:.1f} %, wanted {ALL:g}"]
    held = {name: percent for name, percent in files.items() if any(fnmatch.fnmatch(name, p) for p in HELD_EACH)}
    return short + [f"{name} {percent:.1f} %, wanted {EACH:g}" for name, percent in held.items() if percent < EACH]


def _coverage(*arguments: str) -> None:
    subprocess.run([sys.executable, "-m", "coverage", *arguments], check=True)


def main() -> int:
    """Report; 1 where too little is covered."""
    _coverage("report", "--show-missing", "--skip-covered")
    short = shortfalls(*measured())
    print("\n".join(short))
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
