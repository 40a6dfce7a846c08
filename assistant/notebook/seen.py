"""What was read of the notebook, kept until somebody writes: every line that is asked wants the same few tables."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    import sqlite3

T = TypeVar("T")


class Seen:
    """The last reading of each table that is asked for; there are as many as the store has names for, and no more."""

    def __init__(self) -> None:
        self._state: tuple[int, ...] = ()
        self._found: dict[str, Any] = {}

    def since_written(self, connection: sqlite3.Connection, table: str, read: Callable[[], T]) -> T:
        """What `read` finds in a table, read again only once this program or another has written.

        Within a transaction it is always read: what a rollback takes back must not be kept.
        """
        if connection.in_transaction:
            return read()
        others_wrote: int = connection.execute("PRAGMA data_version").fetchone()[0]
        state = (id(connection), others_wrote, connection.total_changes)
        if state != self._state:
            self._state, self._found = state, {}
        if table not in self._found:
            self._found[table] = read()
        found: T = self._found[table]
        return found
