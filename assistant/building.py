"""Make every table that a start would otherwise make anew: `python -m assistant.building` (see `built.py`)."""

from __future__ import annotations

import assistant.data
import assistant.data.safety
import assistant.language.parse_table
import assistant.language.vocabulary  # noqa: F401  (each of these names the tables that it makes)
from assistant import built


def main() -> None:
    """Write them all. Raises OSError where the package's folder cannot be written."""
    for name in built.MAKERS:
        built.write(name)


if __name__ == "__main__":
    main()
