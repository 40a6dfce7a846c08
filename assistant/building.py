"""Make every table that a start would otherwise make anew: `python -m assistant.building` (see `built.py`)."""

from __future__ import annotations

import gc
import importlib
import pkgutil

import assistant.data
import assistant.data.safety
import assistant.language.parse_table
import assistant.language.vocabulary  # noqa: F401  (each of these names the tables that it makes)
from assistant import built, language, topics
from assistant.needles import needles
from assistant.pattern import NEEDLES, Pattern


def needles_of_patterns() -> dict[str, tuple[str, ...]]:
    """The needles of every pattern that has some, by its key."""
    for package in (language, topics):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            importlib.import_module(module.name)
    patterns = {found.key: found for found in gc.get_objects() if isinstance(found, Pattern)}
    found = {key: needles(pattern.text, pattern.flags) for key, pattern in sorted(patterns.items())}
    return {key: pieces for key, pieces in found.items() if pieces}


built.MAKERS[NEEDLES] = needles_of_patterns


def main() -> None:
    """Write them all. Raises OSError where the package's folder cannot be written."""
    for name in built.MAKERS:
        built.write(name)


if __name__ == "__main__":
    main()
