"""Lines found by following the coverage of the language front: `python -m tests.fuzz_guided [--seconds 60]`.

atheris (`pip install "atheris>=3,<4"`, needed by nothing else) changes lines towards code that no line has reached.
It begins with the real requests beside this module. A line must be read without an exception, into phrases that lie
in the line, in order. What breaks that is shown and ends the run; the lines that reached something new are kept in a
temporary folder only. Other arguments are handed on to the fuzzer (such as -runs=100000 or -seed=3).
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["assistant.language"]):
    from assistant.language import sentence

from tests.fuzz import Larder

LONGEST_LINE = 400
"""Bytes of a line: longer ones reach nothing more and are slower."""


def read(data: bytes) -> None:
    """Read one line, and hold what came of it against the line."""
    text = data.decode("utf-8", errors="replace")
    found = sentence.read(text)
    places = [(phrase.first, phrase.last) for phrase in found.phrases]
    assert all(0 <= first <= last <= len(found.text) for first, last in places), (text, places)
    assert places == sorted(places), (text, places)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run until the time is over or a line breaks it; the exit status is the fuzzer's."""
    options = argparse.ArgumentParser(prog="python -m tests.fuzz_guided", description="Fuzz the language by coverage.")
    options.add_argument("--seconds", type=int, default=60)
    chosen, handed_on = options.parse_known_args(arguments)
    with tempfile.TemporaryDirectory() as folder:
        for number, line in enumerate(Larder.stocked().requests):
            (Path(folder) / f"{number:05}").write_text(line, encoding="utf-8")
        limits = [f"-max_total_time={chosen.seconds}", f"-max_len={LONGEST_LINE}"]
        atheris.Setup([sys.argv[0], folder, *limits, *handed_on], read)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
