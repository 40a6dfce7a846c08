"""Building or installing the package makes its tables first (assistant/building.py)."""

import sys
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BuildTables(BuildHookInterface):
    """Called by hatchling, which finds it by the path in pyproject.toml."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the tables from the sources in this folder, which need no installed copy of the package."""
        sys.path.insert(0, self.root)
        from assistant import building

        building.main()
