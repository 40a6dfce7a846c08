"""What can go wrong with the notebook's file and with names in it, as typed errors with fields."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

from assistant.errors import MincewiseError


class Damage(StrEnum):
    """Why a file is not used as a notebook."""

    EMPTY = "empty"  # zero bytes: SQLite would take it for a healthy new database
    FOREIGN = "foreign"  # a database, but of another program
    UNREADABLE = "unreadable"  # not a database, cut short, or broken inside
    ROWS = "rows"  # the file opens, but rows do not match their digest


class NotebookError(MincewiseError):
    """The notebook's file cannot be used as asked. path: the file; problem: what happened, in a few words."""

    def __init__(self, path: Path, problem: str) -> None:
        self.path = path
        self.problem = problem
        super().__init__(path, problem)

    def __str__(self) -> str:
        return f"The notebook {self.path}: {self.problem}."


class NotebookInUse(NotebookError):
    """Another program held the lock for longer than we wait. waited: seconds."""

    def __init__(self, path: Path, waited: float) -> None:
        self.waited = waited
        super().__init__(path, f"it is in use by another program (waited {waited:g} s)")


class NotebookDamaged(NotebookError):
    """The file was refused and left as it was. damage: why; rows: what cannot be trusted, where that is known."""

    def __init__(self, path: Path, damage: Damage, problem: str, rows: tuple[str, ...] = ()) -> None:
        self.damage = damage
        self.rows = rows
        super().__init__(path, problem)


class NotebookNewer(NotebookError):
    """The file was written by a later version of the program; it was not touched. found, known: schema versions."""

    def __init__(self, path: Path, found: int, known: int) -> None:
        self.found = found
        self.known = known
        super().__init__(path, f"it has version {found}, and this program knows versions up to {known}")


class NotebookFull(NotebookError):
    """No room left on the disk; nothing of the last change was kept, everything earlier was."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            path, "the disk is full, so nothing of this change was kept; everything earlier is still there"
        )


class NotebookReadOnly(NotebookError):
    """The file, its folder or its disk does not allow writing."""

    def __init__(self, path: Path) -> None:
        super().__init__(path, "it cannot be written: the file, its folder or its disk is read-only")


class NotebookMissingHome(NotebookError):
    """The folder for the notebook is not there and cannot be made."""

    def __init__(self, path: Path, problem: str = "its folder is missing and cannot be made") -> None:
        super().__init__(path, problem)


class NoSuchBatch(MincewiseError):
    """No saved batch goes by this name. near: names that come close, best first."""

    def __init__(self, name: str, near: tuple[str, ...] = ()) -> None:
        self.name = name
        self.near = near
        super().__init__(name, near)

    def __str__(self) -> str:
        return f"no batch is called {self.name!r}"


class ManyBatches(MincewiseError):
    """A shortened name fits several batches. matches: some of the full names, in alphabetical order."""

    def __init__(self, name: str, matches: tuple[str, ...]) -> None:
        self.name = name
        self.matches = matches
        super().__init__(name, matches)

    def __str__(self) -> str:
        return f"{self.name!r} could be any of {', '.join(self.matches)}"


class NothingToUndo(MincewiseError):
    """No change is remembered that could be taken back."""


class BadExport(MincewiseError):
    """A line of an exported file cannot be read; nothing of the file was taken in. line: counted from 1."""

    def __init__(self, line: int, problem: str) -> None:
        self.line = line
        self.problem = problem
        super().__init__(line, problem)

    def __str__(self) -> str:
        return f"line {self.line}: {self.problem}"
