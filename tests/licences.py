"""What is installed to run the program: name, version, licence and who needs it, from the packages' own metadata.

    python -m tests.licences

The table in DEVELOPERS.md says why each is there and why its upper limit stands where it does; tests/test_licences.py
compares the two.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parents[1]
FREE = re.compile(r"\b(?:MIT|BSD|Apache|Python Software Foundation|PSF|ISC|Unlicense)\b")
"""Licences that a kitchen tool may build on without conditions for whoever uses it."""


def direct() -> dict[str, str]:
    """The dependencies of the project: name -> the limits written down for it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    found = [re.match(r"([A-Za-z0-9_.-]+)\s*(.*)", line) for line in project["dependencies"]]
    return {_canonical(match[1]): match[2] for match in found if match is not None}


def needed() -> dict[str, str]:
    """Every distribution that running needs, with what needs it; the project's own are needed by "mincewise"."""
    found: dict[str, str] = {}
    waiting = [(name, "mincewise") for name in direct()]
    while waiting:
        name, whose = waiting.pop(0)
        if name in found:
            continue
        found[name] = whose
        waiting += [(other, name) for other in _requirements(name)]
    return found


def licence(name: str) -> str:
    """The licence that a distribution says of itself: its expression, else its classifiers, else its field."""
    about = metadata.metadata(name)
    expressions = about.get_all("License-Expression") or []
    classified = [line.rpartition(" :: ")[2] for line in about.get_all("Classifier") or [] if "License ::" in line]
    told = [line.splitlines()[0] for line in about.get_all("License") or [] if line]
    return "; ".join(expressions or classified or told) or "not said"


def _requirements(name: str) -> Iterator[str]:
    """What a distribution needs here and now, without its extras and without what is for other systems."""
    for line in metadata.requires(name) or []:
        requirement, _, marker = line.partition(";")
        if "extra" in marker or "win32" in marker or "Windows" in marker or "python_version <" in marker:
            continue
        match = re.match(r"[A-Za-z0-9_.-]+", requirement.strip())
        if match is not None:
            yield _canonical(match[0])


def _canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def main() -> int:
    """Print the table; 1 where a licence is none of the free ones."""
    doubtful = []
    for name, whose in sorted(needed().items()):
        said = licence(name)
        print(f"{name:<20} {metadata.version(name):<12} {said:<45} needed by {whose}")
        doubtful += [] if FREE.search(said) else [name]
    print(f"look at: {', '.join(doubtful)}" if doubtful else "all free")
    return 1 if doubtful else 0


if __name__ == "__main__":
    raise SystemExit(main())
