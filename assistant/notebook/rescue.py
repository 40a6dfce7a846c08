"""First aid for a notebook that is refused: put the file aside, and read out of it what can still be trusted."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec import Struct, field

from assistant.errors import BadInput
from assistant.notebook.connection import move_aside, read_only_connection, translated
from assistant.notebook.records import Batch, Stocked, TimerNote, batch_from, stocked_from, timer_from
from assistant.notebook.store import Notebook
from assistant.notebook.table import seal

_COLUMNS = "id, key, version, day, score, body, digest"


class Salvaged(Struct, frozen=True):
    """kept: records now in the new notebook; lost: what was seen to be there and could not be trusted or read."""

    kept: int
    lost: tuple[str, ...]


class _Finds(Struct):
    batches: list[Batch] = field(default_factory=list)
    stock: list[Stocked] = field(default_factory=list)
    settings: dict[str, str] = field(default_factory=dict)
    timers: list[TimerNote] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)


def set_aside(path: str | Path, now: datetime) -> Path:
    """Rename the file so that a new notebook can begin; returns its new path, beside the old one.

    Raises NotebookMissingHome where there is no file, NotebookReadOnly where it cannot be renamed.
    """
    return move_aside(Path(path).resolve(), f"{now:%Y%m%d-%H%M%S}")


def salvage(path: str | Path, into: str | Path) -> Salvaged:
    """Copy every record that still matches its digest from a damaged file into a new notebook at `into`.

    The damaged file is only read. Raises BadInput where `into` is there already, and the errors of writing a notebook.
    """
    source, target = Path(path).resolve(), Path(into)
    if target.exists():
        raise BadInput("into", str(target), "a file that is not there yet")
    finds = _Finds()
    with translated(source, 0), closing(read_only_connection(source)) as connection:
        source.stat()  # a missing file is an error of its own, not a notebook without records
        _gather_batches(connection, finds)
        _gather_cards(connection, finds)
    with Notebook(target) as notebook:
        kept, _ = notebook.take_in(finds.batches, finds.stock, finds.settings, finds.timers)
    return Salvaged(kept, tuple(finds.lost))


def _gather_batches(connection: sqlite3.Connection, finds: _Finds) -> None:
    """Row by row, by number: one broken page must not hide the rows behind it."""
    numbers = [*_until_broken(connection, "SELECT id FROM batches ORDER BY id", finds, "batches")]
    numbers += _until_broken(connection, "SELECT id FROM batches ORDER BY id DESC", finds, "batches")
    for number in range(1, max((id for (id,) in numbers if isinstance(id, int)), default=0) + 1):
        try:
            row = connection.execute(f"SELECT {_COLUMNS} FROM batches WHERE id = ?", (number,)).fetchone()
        except sqlite3.Error:
            finds.lost.append(f"batch {number}")
            continue
        if row is not None:
            _take(finds, f"batch {number}", row, lambda data: finds.batches.append(batch_from(data)))


def _gather_cards(connection: sqlite3.Connection, finds: _Finds) -> None:
    keepers: dict[str, Callable[[Mapping[str, Any]], None]] = {
        "stock": lambda data: finds.stock.append(stocked_from(data)),
        "setting": lambda data: finds.settings.__setitem__(str(data["key"]), str(data["value"])),
        "timer": lambda data: finds.timers.append(timer_from(data)),
    }
    for row in _until_broken(connection, "SELECT kind, key, body, digest FROM cards", finds, "stock and settings"):
        kind, key = row[0], row[1]
        _take(finds, f"{kind} {key}", row, keepers.get(kind, lambda _: None))


def _take(finds: _Finds, name: str, row: tuple[Any, ...], keep: Callable[[Mapping[str, Any]], None]) -> None:
    """Keep a row whose digest (its last value) matches its other values; the body stands just before the digest."""
    if row[-1] == seal(*row[:-1]):
        keep(json.loads(row[-2]))
    else:
        finds.lost.append(name)


def _until_broken(connection: sqlite3.Connection, query: str, finds: _Finds, what: str) -> Iterator[tuple[Any, ...]]:
    """Rows up to the first unreadable place; where that is, is written to the losses once."""
    try:
        yield from connection.execute(query)
    except sqlite3.Error:
        if (loss := f"some {what}: a part of the file cannot be read") not in finds.lost:
            finds.lost.append(loss)
