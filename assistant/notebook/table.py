"""The rows of the notebook's tables: how a record is written, sealed, found and put back, one connection at a time."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from msgspec import Struct, field
from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook.checks import check_batch
from assistant.notebook.records import Batch, as_data, batch_from, folded

if TYPE_CHECKING:
    import sqlite3

_MOST = 2**62  # "no limit" for SQLite
NEAR = 6  # names offered where one is not found or not clear
COLUMNS = "id, key, version, day, score, body, digest"


class BatchRow(NamedTuple):
    """A row of the table of batches. body: the batch as JSON; the columns before it are for finding."""

    id: int
    key: str
    version: int
    day: str
    score: float | None
    body: str
    digest: str


class Ledger(Struct):
    """A change under way: its name as stored, and what stood there before as (kind, key, body or None), for undo."""

    connection: sqlite3.Connection
    name: str
    before: list[tuple[str, str, str | None]] = field(default_factory=list)


def dumped(data: Any) -> str:
    """JSON as short as it can be written."""
    return json.dumps(data, separators=(",", ":"))


def seal(*values: object) -> str:
    """The digest that a row carries: over every value of it, written so that no two rows write alike."""
    from hashlib import sha256

    # repr: a flipped bit can turn a text into bytes, which must read as a wrong digest and not as a crash
    return sha256(json.dumps(values, default=repr).encode()).hexdigest()


def words(body: str) -> str:
    """What a search looks through: every word, folded, with a blank before it."""
    batch = batch_from(json.loads(body))
    texts = [batch.name, *batch.tags, *(remark.text for remark in batch.remarks)]
    texts += [part.cut for part in batch.parts] + [seasoned.name for seasoned in batch.seasonings]
    return " " + folded(" ".join(texts))


def add_batch(ledger: Ledger, batch: Batch) -> Batch:
    """Write a new batch with the next id and the next version of its name."""
    connection = ledger.connection
    latest = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'batches'").fetchone()
    number = 1 if latest is None else latest[0] + 1
    kept = replace(batch, id=number, version=next_version(connection, folded(batch.name)))
    ledger.before.append(("batch", str(number), None))
    _write_batch(connection, kept)
    return kept


def next_version(connection: sqlite3.Connection, key: str) -> int:
    """The version that the next batch of a name gets."""
    return int(
        connection.execute("SELECT coalesce(max(version), 0) + 1 FROM batches WHERE key = ?", (key,)).fetchone()[0]
    )


def _write_batch(connection: sqlite3.Connection, batch: Batch) -> None:
    assert batch.saved_at is not None  # whoever writes a batch has given it its time
    score = None if batch.score is None else float(batch.score)
    body = dumped(as_data(batch))
    columns = (batch.id, folded(batch.name), batch.version, f"{batch.saved_at:%Y-%m-%d}", score, body)
    connection.execute(f"INSERT INTO batches ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)", (*columns, seal(*columns)))
    connection.execute("INSERT INTO finder (id, words) VALUES (?, ?)", (batch.id, words(body)))


def rewrite(ledger: Ledger, batch: Batch) -> Batch:
    """Write a changed batch in place of what stood there."""
    remember_batch(ledger, batch.id)
    delete_batch(ledger.connection, batch.id)
    _write_batch(ledger.connection, batch)
    return batch


def remember_batch(ledger: Ledger, number: int) -> None:
    """Keep what stood there in the ledger, for undo."""
    (body,) = ledger.connection.execute("SELECT body FROM batches WHERE id = ?", (number,)).fetchone()
    ledger.before.append(("batch", str(number), body))


def delete_batch(connection: sqlite3.Connection, number: int) -> None:
    """Take a batch out."""
    connection.execute("DELETE FROM batches WHERE id = ?", (number,))


def keys(connection: sqlite3.Connection, condition: str, *values: str) -> list[str]:
    """A few keys of batches that meet a condition, in order."""
    query = f"SELECT DISTINCT key FROM batches WHERE {condition} ORDER BY key LIMIT {NEAR}"
    return [key for (key,) in connection.execute(query, values)]


def near_keys(connection: sqlite3.Connection, key: str) -> list[str]:
    """Names with a word that begins as the longest word of the one not found does, else as the next longest."""
    for word in sorted(key.split(), key=len, reverse=True):
        if found := keys(connection, "instr(' ' || key, ?) > 0", f" {word[:4]}"):
            return found
    return []


def write_card(connection: sqlite3.Connection, kind: str, key: str, body: str) -> None:
    """Write stock, a setting or a timer, with its digest."""
    connection.execute("INSERT OR REPLACE INTO cards VALUES (?, ?, ?, ?)", (kind, key, body, seal(kind, key, body)))


def delete_card(connection: sqlite3.Connection, kind: str, key: str) -> bool:
    """Take a card out; whether there was one."""
    return connection.execute("DELETE FROM cards WHERE kind = ? AND key = ?", (kind, key)).rowcount > 0


def card_body(connection: sqlite3.Connection, kind: str, key: str) -> str | None:
    """The JSON text of a card, or None."""
    row = connection.execute("SELECT body FROM cards WHERE kind = ? AND key = ?", (kind, key)).fetchone()
    return None if row is None else str(row[0])


def remember_card(ledger: Ledger, kind: str, key: str) -> None:
    """Keep what stood under a card's key in the ledger, for undo."""
    ledger.before.append((kind, key, card_body(ledger.connection, kind, key)))


def put_back(connection: sqlite3.Connection, kind: str, key: str, body: str | None) -> None:
    """What stood under a kind and key before a change: write it again, or take away what had not been there."""
    if kind == "batch":
        delete_batch(connection, int(key))
        if body is not None:
            _write_batch(connection, batch_from(json.loads(body)))
    elif body is None:
        delete_card(connection, kind, key)
    else:
        write_card(connection, kind, key, body)


def setting_from(data: Mapping[str, Any]) -> tuple[str, str]:
    """Key and value of a setting."""
    return str(data["key"]), str(data["value"])


def take_in_batch(ledger: Ledger, batch: Batch, claimed: set[int]) -> bool:
    """Add a batch unless it is there already. claimed: ids that an earlier batch of the same import stands for."""
    connection, key = ledger.connection, folded(batch.name)
    check_batch(batch)
    if batch.saved_at is None:
        raise BadInput("saved_at", None, "the time of saving")
    there = next((id for id in _twins(connection, batch, f"{batch.saved_at:%Y-%m-%d}") if id not in claimed), None)
    if there is not None:
        claimed.add(there)
        return False
    taken = "SELECT 1 FROM batches WHERE id = ? OR (key = ? AND version = ?)"
    fits = 1 <= batch.id <= _MOST and 1 <= batch.version <= _MOST
    if not fits or connection.execute(taken, (batch.id, key, batch.version)).fetchone():
        claimed.add(add_batch(ledger, batch).id)
    else:
        ledger.before.append(("batch", str(batch.id), None))
        _write_batch(connection, batch)
        claimed.add(batch.id)
    return True


def _twins(connection: sqlite3.Connection, batch: Batch, day: str) -> list[int]:
    """Ids of kept batches that are the same but for id and version."""
    same_day = connection.execute("SELECT body FROM batches WHERE key = ? AND day = ?", (folded(batch.name), day))
    kept = (batch_from(json.loads(body)) for (body,) in same_day)
    return [other.id for other in kept if replace(other, id=batch.id, version=batch.version) == batch]


def take_in_card(ledger: Ledger, kind: str, name: str, data: Mapping[str, Any]) -> bool:
    """Add a card unless its key is taken; whether it was added."""
    if card_body(ledger.connection, kind, folded(name)) is not None:
        return False
    remember_card(ledger, kind, folded(name))
    write_card(ledger.connection, kind, folded(name), dumped(data))
    return True
