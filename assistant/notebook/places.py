"""Where the notebook lies: an explicit path, else MINCEWISE_NOTEBOOK, else the system's folder for data."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from assistant.notebook.faults import NotebookMissingHome

VARIABLE = "MINCEWISE_NOTEBOOK"
FILE_NAME = "notebook.db"


def data_folder() -> Path:
    """The system's folder for this program's data (XDG_DATA_HOME on Linux); it is not made here.

    Raises NotebookMissingHome where the system names no absolute folder.
    """
    from platformdirs import user_data_path  # costs 15 ms, and an explicit path needs none of it

    folder = user_data_path("mincewise", appauthor=False)
    if not folder.is_absolute():
        raise NotebookMissingHome(folder, "the system names no home folder to keep it in")
    return folder


def default_path(explicit: str | Path | None = None, environ: Mapping[str, str] = os.environ) -> Path:
    """The notebook's file: the path given, else the one in MINCEWISE_NOTEBOOK, else the one in data_folder()."""
    chosen = explicit or environ.get(VARIABLE)
    return Path(chosen).expanduser() if chosen else data_folder() / FILE_NAME
