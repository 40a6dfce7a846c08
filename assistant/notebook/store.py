"""The notebook of batches: what the cook saved, rated and remarked, with stock, settings and timers beside it.

Every change is one transaction that ends on disk before the call returns, and is remembered so that it can be taken
back. Every row carries a digest of its content, checked whenever it is read: single flipped bits pass SQLite's own
check more often than not. SQLite is imported and the file opened only when something is first read or written.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from fractions import Fraction
from functools import cached_property, reduce
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, TypeVar

from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook import table
from assistant.notebook.checks import at_least_one, check_batch, check_rating, with_tags, with_weights, without_tag
from assistant.notebook.comparing import compare_batches
from assistant.notebook.faults import Damage, ManyBatches, NoSuchBatch, NotebookDamaged, NothingToUndo
from assistant.notebook.migrations import STEPS, Step
from assistant.notebook.records import (
    Batch,
    Change,
    Comparison,
    Remark,
    Stocked,
    TimerNote,
    as_data,
    batch_from,
    clean_name,
    clean_text,
    folded,
    stocked_from,
    timer_from,
)
from assistant.notebook.seen import Seen

if TYPE_CHECKING:
    import sqlite3

PATIENCE = 5.0
KEPT_CHANGES = 100  # how many changes can be taken back, newest first
_MOST = 2**62  # "no limit" for SQLite
_LAST_CODE_POINT = "\U0010ffff"

_STOCK, _SETTING, _TIMER = "stock", "setting", "timer"
_Record = TypeVar("_Record")


def _local_now() -> datetime:
    return datetime.now().astimezone()


class Notebook:
    """The notebook in the file at path; use it as a context, or call close().

    path: the file; it is made, with its folder, by the first write, and a missing file reads as an empty notebook.
    patience: seconds to wait while another program writes. now: the clock, giving aware times.
    Every method may raise the errors of assistant.notebook.faults. Names match whatever their case and blanks.
    """

    def __init__(
        self,
        path: str | Path,
        *,
        patience: float = PATIENCE,
        now: Callable[[], datetime] = _local_now,
        steps: Sequence[Step] = STEPS,
    ) -> None:
        self._given_path = Path(path)
        self._patience = patience
        self._now = now
        self._steps = steps
        self._connection: sqlite3.Connection | None = None
        self._seen = Seen()
        self._named: dict[str, tuple[str, str]] = {}
        """Key and name by the digest of their row, of the rows that the names were read from last."""

    @cached_property
    def path(self) -> Path:
        """The file itself, symbolic links followed."""
        return Path(os.path.realpath(self._given_path))

    def __enter__(self) -> Notebook:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file; the next call opens it again."""
        if self._connection is not None:
            self._connection.close()
            self._connection, self._seen = None, Seen()

    # --- finding batches --------------------------------------------------------------------------------------------

    def get(self, name: str, version: int | None = None) -> Batch:
        """The newest batch of this name, or of the one name that begins so; or the version asked for.

        Raises NoSuchBatch (with near names) or ManyBatches (with the names it could be).
        """
        found = self.versions(name)
        if version is None:
            return found[-1]
        for batch in found:
            if batch.version == version:
                return batch
        raise NoSuchBatch(f"{found[-1].name} (version {version})", tuple(f"version {batch.version}" for batch in found))

    def versions(self, name: str) -> tuple[Batch, ...]:
        """Every batch saved under this name, oldest first; names and errors as for get."""
        with self._reading() as connection:
            return self._batches(connection, "WHERE key = ? ORDER BY version", self._key(connection, name))

    def search(self, text: str, limit: int = 50) -> tuple[Batch, ...]:
        """Batches, newest first, where each word of text begins a word of name, cuts, seasonings, tags or remarks."""
        words = folded(text).split()
        if not words:
            raise BadInput("text", text, "a word to look for")
        condition = " AND ".join("instr(words, ?) > 0" for _ in words)
        found = f"SELECT id FROM finder WHERE {condition} ORDER BY id DESC LIMIT ?"
        with self._reading() as connection:
            needles = (*(f" {word}" for word in words), at_least_one("limit", limit))
            return self._batches(connection, f"WHERE id IN ({found}) ORDER BY id DESC", *needles)

    def all(self, limit: int | None = None) -> tuple[Batch, ...]:
        """Every batch, newest first, or the newest `limit` of them."""
        count = _MOST if limit is None else at_least_one("limit", limit)
        with self._reading() as connection:
            return self._batches(connection, "ORDER BY id DESC LIMIT ?", count)

    def last(self, n: int = 1) -> tuple[Batch, ...]:
        """The n batches saved last, newest first; fewer where there are fewer."""
        return self.all(at_least_one("n", n))

    def between(self, first: date, last: date) -> tuple[Batch, ...]:
        """Batches saved from the first to the last day, both included, oldest first, by the kitchen's own clock."""
        if last < first:
            raise BadInput("last", last, f"a day not before {first}")
        days = (f"{first:%Y-%m-%d}", f"{last:%Y-%m-%d}")
        with self._reading() as connection:
            return self._batches(connection, "WHERE day BETWEEN ? AND ? ORDER BY day, id", *days)

    def best(self, n: int = 1) -> tuple[Batch, ...]:
        """The n best rated batches, best first, the newer first where ratings are equal; unrated ones never."""
        with self._reading() as connection:
            order = "WHERE score IS NOT NULL ORDER BY score DESC, id DESC LIMIT ?"
            return self._batches(connection, order, at_least_one("n", n))

    def rated(self) -> tuple[Batch, ...]:
        """Every rated batch, oldest first."""
        with self._reading() as connection:
            return self._batches(connection, "WHERE score IS NOT NULL ORDER BY id")

    def names(self, limit: int = 500) -> dict[str, str]:
        """The names of the newest `limit` batches: as compared (see folded) -> as kept, newest first."""
        with self._reading() as connection:
            return dict(
                self._seen.since_written(connection, f"names {limit}", lambda: self._all_names(connection, limit))
            )

    def count(self) -> int:
        """How many batches there are, all versions counted."""
        with self._reading() as connection:
            return int(connection.execute("SELECT count(*) FROM batches").fetchone()[0])

    def compare(self, first: str, second: str) -> Comparison:
        """Two batches side by side, cut by cut and field by field."""
        return compare_batches(self.get(first), self.get(second))

    # --- changing batches -------------------------------------------------------------------------------------------

    def save(self, batch: Batch, remark: str = "") -> Batch:
        """Keep a batch under its name; a name already there is kept too, and the new batch is its next version.

        remark: a first remark on it, in the same change.
        Returns the batch as kept: with id, version, saved_at (now, where the batch brings none) and cleaned name
        (see clean_name). It is on disk when this returns.
        """
        name = clean_name(batch.name).text
        check_batch(batch)
        remarks = (*batch.remarks, self._remark(remark)) if remark else batch.remarks
        with self._changing("save", name) as ledger:
            at = batch.saved_at or self._now()
            return table.add_batch(ledger, replace(batch, name=name, saved_at=at, remarks=remarks))

    def rate(self, name: str, rating: Fraction, top: int = 5, version: int | None = None, *, remark: str = "") -> Batch:
        """Give a batch a rating from 0 to top (halves and other fractions are fine), and a remark in the same change."""
        check_rating(rating, top)
        said = (self._remark(remark),) if remark else ()
        return self._edit(
            "rate",
            name,
            version,
            lambda batch: replace(batch, rating=Fraction(rating), rating_top=top, remarks=(*batch.remarks, *said)),
        )

    def note(self, name: str, text: str, version: int | None = None) -> Batch:
        """Add a remark, cleaned by clean_text, with the time of writing."""
        remark = self._remark(text)
        return self._edit("note", name, version, lambda batch: replace(batch, remarks=(*batch.remarks, remark)))

    def tag(self, name: str, *tags: str, version: int | None = None) -> Batch:
        """Add tags; one that is there already, whatever its case, is not added again."""
        clean = [clean_text(tag, 40, "tag").text for tag in tags]
        return self._edit("tag", name, version, lambda batch: replace(batch, tags=with_tags(batch.tags, clean)))

    def untag(self, name: str, *tags: str, version: int | None = None) -> Batch:
        """Take tags off. Raises BadInput where the batch does not have one of them."""
        return self._edit(
            "untag", name, version, lambda batch: replace(batch, tags=reduce(without_tag, tags, batch.tags))
        )

    def weighed(self, name: str, actual: Mapping[str, Fraction], version: int | None = None) -> Batch:
        """Write down what was truly weighed, in grams by cut or seasoning. Raises BadInput for what is not in it."""
        return self._edit("weigh", name, version, lambda batch: with_weights(batch, actual))

    def rename(self, old: str, new: str) -> tuple[Batch, ...]:
        """Give every version of a name a new name; where that is taken, they become its next versions.

        Returns the batches as renamed, oldest first.
        """
        name = clean_name(new).text
        with self._changing("rename", name) as ledger:
            key = self._key(ledger.connection, old)
            batches = self._batches(ledger.connection, "WHERE key = ? ORDER BY version", key)
            if key == folded(name):
                return tuple(table.rewrite(ledger, replace(batch, name=name)) for batch in batches)
            first_free = table.next_version(ledger.connection, folded(name))
            return tuple(
                table.rewrite(ledger, replace(batch, name=name, version=version))
                for version, batch in enumerate(batches, start=first_free)
            )

    def forget(self, name: str, version: int | None = None) -> tuple[Batch, ...]:
        """Remove every version of a name, or the one asked for; returns what was removed. undo_last brings it back."""
        with self._changing("forget", name) as ledger:
            leaving = self.versions(name) if version is None else (self.get(name, version),)
            ledger.name = leaving[-1].name
            for batch in leaving:
                table.remember_batch(ledger, batch.id)
                table.delete_batch(ledger.connection, batch.id)
            return leaving

    def undo_last(self) -> Change:
        """Take back the last change to batches, stock or settings (of the last 100) and tell which it was.

        Raises NothingToUndo.
        """
        with self._writing() as connection:
            row = connection.execute("SELECT * FROM changes ORDER BY id DESC LIMIT 1").fetchone()
            if row is None:
                raise NothingToUndo
            number, at, what, name, before, digest = row
            if table.seal(at, what, name, before) != digest:
                raise self._rotten(f"change {number}")
            for kind, key, body in reversed(json.loads(before)):
                table.put_back(connection, kind, key, body)
            connection.execute("DELETE FROM changes WHERE id = ?", (number,))
            return Change(what, name, datetime.fromisoformat(at))

    def last_changes(self, n: int = 10) -> tuple[Change, ...]:
        """What undo_last would take back, next one first."""
        with self._reading() as connection:
            rows = connection.execute(
                "SELECT what, name, at FROM changes ORDER BY id DESC LIMIT ?", (at_least_one("n", n),)
            ).fetchall()
        return tuple(Change(what, name, datetime.fromisoformat(at)) for what, name, at in rows)

    # --- stock, settings, timers ------------------------------------------------------------------------------------

    def stock(self) -> tuple[Stocked, ...]:
        """Everything in stock, by name of cut."""
        return self._cards(_STOCK, stocked_from)

    def stocked(self, cut: str) -> Stocked | None:
        """What is known of one cut, or None."""
        return self._card(_STOCK, folded(cut), stocked_from)

    def put_stock(self, item: Stocked) -> Stocked:
        """Write down what is known of a cut, in place of what was; returns it with its time of writing."""
        return self.put_stocks([item])[0]

    def put_stocks(self, items: Iterable[Stocked], what: str = "stock") -> tuple[Stocked, ...]:
        """Write down what is known of several cuts as one change, which one undo_last takes back whole."""
        kept = tuple(
            replace(item, cut=clean_name(item.cut).text, updated=item.updated or self._now()) for item in items
        )
        self._put_cards(what, _STOCK, {item.cut: as_data(item) for item in kept})
        return kept

    def drop_stock(self, *cuts: str) -> bool:
        """Forget the stock of these cuts as one change; False where there was none of any."""
        return self._drop_cards("drop stock", _STOCK, cuts)

    def settings(self) -> dict[str, str]:
        """Every setting, by key."""
        return dict(self._cards(_SETTING, table.setting_from))

    def setting(self, key: str) -> str | None:
        """One setting's value, or None where it is not set."""
        found = self._card(_SETTING, folded(key), table.setting_from)
        return None if found is None else found[1]

    def set_setting(self, key: str, value: str) -> None:
        """Set one setting, in place of what it was."""
        self.set_settings({key: value})

    def set_settings(self, values: Mapping[str, str]) -> None:
        """Set several settings as one change, which one undo_last takes back whole."""
        named = {clean_name(key).text: value for key, value in values.items()}
        self._put_cards("set", _SETTING, {key: {"key": key, "value": value} for key, value in named.items()})

    def drop_setting(self, *keys: str) -> bool:
        """Unset these settings as one change; False where none of them was set."""
        return self._drop_cards("unset", _SETTING, keys)

    def timers(self) -> tuple[TimerNote, ...]:
        """Every timer, the one due first in front."""
        return tuple(sorted(self._cards(_TIMER, timer_from), key=lambda timer: timer.due))

    def put_timer(self, timer: TimerNote) -> TimerNote:
        """Write down a timer, in place of one of the same name. undo_last leaves timers alone: time cannot go back."""
        kept = replace(timer, name=clean_name(timer.name).text)
        with self._writing() as connection:
            table.write_card(connection, _TIMER, folded(kept.name), table.dumped(as_data(kept)))
        return kept

    def drop_timer(self, name: str) -> bool:
        """Forget a timer; False where there was none."""
        with self._writing() as connection:
            return table.delete_card(connection, _TIMER, folded(name))

    # --- the whole notebook -----------------------------------------------------------------------------------------

    def backup(self, target: str | Path) -> Path:
        """A consistent copy as a file of its own, also while others write. Raises FileExistsError: none is replaced."""
        from assistant.notebook import connection as files

        copy = Path(target)
        with self._reading() as connection, files.translated(copy, self._patience):
            files.copy_file(connection, self.path, copy, self._patience)
        return copy

    def check(self) -> None:
        """Read everything and run SQLite's own check. Raises NotebookDamaged that names every row not to be trusted."""
        with self._reading() as connection:
            rows = [
                table.BatchRow(*row) for row in connection.execute(f"SELECT {table.COLUMNS} FROM batches ORDER BY id")
            ]
            rotten = [f"batch {row.id}" for row in rows if row.digest != table.seal(*row[:-1])]
            sealed = {row.id: row.body for row in rows if row.digest == table.seal(*row[:-1])}
            words = dict(connection.execute("SELECT id, words FROM finder").fetchall())
            rotten += [
                f"search words of batch {id}" for id, body in sealed.items() if words.get(id) != table.words(body)
            ]
            cards = connection.execute("SELECT kind, key, body, digest FROM cards").fetchall()
            rotten += [f"{kind} {key}" for kind, key, body, digest in cards if digest != table.seal(kind, key, body)]
            verdict = [text for (text,) in connection.execute("PRAGMA integrity_check").fetchall()]
        if rotten or verdict != ["ok"]:
            named = f" ({', '.join(rotten[:5])})" if rotten else ""
            said = [text for text in verdict[:1] if text != "ok"]
            problem = "; ".join([f"not everything in it can be trusted{named}", *said])
            raise NotebookDamaged(self.path, Damage.ROWS, problem, tuple(rotten))

    def take_in(
        self,
        batches: Iterable[Batch],
        stock: Iterable[Stocked],
        settings: Mapping[str, str],
        timers: Iterable[TimerNote],
    ) -> tuple[int, tuple[str, ...]]:
        """Add whole records in one transaction, as an import does: all of them or none.

        A batch keeps its id and version where both are free, and gets the next ones where not. A batch that is there
        already, word for word, and stock, settings or timers under a key that is taken are left out.
        Returns how many records were added, and the names of those left out.
        """
        with self._changing("import", "") as ledger:
            claimed: set[int] = set()
            asked = [(batch.name, table.take_in_batch(ledger, batch, claimed)) for batch in batches]
            cards = [(_STOCK, item.cut, as_data(item)) for item in stock]
            cards += [(_SETTING, key, {"key": key, "value": value}) for key, value in settings.items()]
            cards += [(_TIMER, timer.name, as_data(timer)) for timer in timers]
            asked += [(f"{kind} {name}", table.take_in_card(ledger, kind, name, data)) for kind, name, data in cards]
        left_out = tuple(name for name, added in asked if not added)
        return len(asked) - len(left_out), left_out

    # --- inside -----------------------------------------------------------------------------------------------------

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        """The open notebook; a passing empty one where there is no file, so that reading never makes one."""
        from assistant.notebook import connection as files

        path = self.path
        with files.translated(path, self._patience):
            if self._connection is None and not path.exists():
                yield self._blank
                return
            yield self._opened(path)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction, holding the write lock from its start: on disk when the block ends, undone if it fails."""
        from assistant.notebook import connection as files

        path = self.path
        with files.translated(path, self._patience):
            if self._connection is None and not path.exists():
                files.create_file(path, self._steps)
            connection = self._opened(path)
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:  # a full disk has already rolled it back
                    connection.execute("ROLLBACK")
                raise

    @contextmanager
    def _changing(self, what: str, name: str) -> Iterator[table.Ledger]:
        """A transaction that also writes down what was there before, for undo_last."""
        with self._writing() as connection:
            ledger = table.Ledger(connection, name)
            yield ledger
            self._write_change(ledger, what)

    def _write_change(self, ledger: table.Ledger, what: str) -> None:
        at, name, before = self._now().isoformat(), ledger.name, table.dumped(ledger.before)
        cursor = ledger.connection.execute(
            "INSERT INTO changes (at, what, name, before, digest) VALUES (?, ?, ?, ?, ?)",
            (at, what, name, before, table.seal(at, what, name, before)),
        )
        ledger.connection.execute("DELETE FROM changes WHERE id <= ?", ((cursor.lastrowid or 0) - KEPT_CHANGES,))

    @cached_property
    def _blank(self) -> sqlite3.Connection:
        from assistant.notebook import connection as files

        return files.blank(self._steps)

    def _opened(self, path: Path) -> sqlite3.Connection:
        if self._connection is None:
            from assistant.notebook import connection as files

            self._connection = files.open_file(path, self._patience, self._steps)
        return self._connection

    def _remark(self, text: str) -> Remark:
        return Remark(self._now(), clean_text(text).text)

    def _edit(self, what: str, name: str, version: int | None, edit: Callable[[Batch], Batch]) -> Batch:
        with self._changing(what, name) as ledger:
            batch = self.get(name, version)
            ledger.name = batch.name
            return table.rewrite(ledger, edit(batch))

    def _key(self, connection: sqlite3.Connection, name: str) -> str:
        """The one stored key that the name means: itself, or the only one that it begins."""
        key = folded(name)
        if connection.execute("SELECT 1 FROM batches WHERE key = ?", (key,)).fetchone():
            return key
        longer = table.keys(connection, "key BETWEEN ? AND ?", key, key + _LAST_CODE_POINT) if key else []
        if len(longer) == 1:
            return longer[0]
        if longer:
            raise ManyBatches(name, self._names(connection, longer))
        raise NoSuchBatch(name, self._names(connection, table.near_keys(connection, key)))

    def _names(self, connection: sqlite3.Connection, keys: Iterable[str]) -> tuple[str, ...]:
        newest = "WHERE key = ? ORDER BY version DESC LIMIT 1"
        return tuple(batch.name for key in keys for batch in self._batches(connection, newest, key))

    def _all_names(self, connection: sqlite3.Connection, limit: int) -> dict[str, str]:
        """Only rows that have changed since the last time are read whole and held against their digests."""
        query = "SELECT id, digest FROM batches ORDER BY id DESC LIMIT ?"
        newest = connection.execute(query, (at_least_one("limit", limit),)).fetchall()
        fresh = [number for number, digest in newest if digest not in self._named]
        marks = ", ".join("?" * len(fresh))
        rows = self._sealed(connection, f"SELECT {table.COLUMNS} FROM batches WHERE id IN ({marks})", *fresh)
        named = {**self._named, **{row.digest: (row.key, json.loads(row.body)["name"]) for row in rows}}
        # a row that another program changed just now is read with the next line, which finds that it has written
        self._named = {digest: named[digest] for _, digest in newest if digest in named}
        names: dict[str, str] = {}
        for key, name in self._named.values():
            names.setdefault(key, name)
        return names

    def _batches(self, connection: sqlite3.Connection, clause: str, *values: object) -> tuple[Batch, ...]:
        rows = self._sealed(connection, f"SELECT {table.COLUMNS} FROM batches {clause}", *values)
        return tuple(batch_from(json.loads(row.body)) for row in rows)

    def _sealed(self, connection: sqlite3.Connection, query: str, *values: object) -> list[table.BatchRow]:
        """The rows found, each of which still matches its digest."""
        rows = [table.BatchRow(*row) for row in connection.execute(query, values)]
        if rotten := [f"batch {row.id}" for row in rows if row.digest != table.seal(*row[:-1])]:
            raise self._rotten(*rotten)
        return rows

    def _cards(self, kind: str, reader: Callable[[Mapping[str, Any]], _Record]) -> tuple[_Record, ...]:
        with self._reading() as connection:
            return self._seen.since_written(connection, kind, lambda: self._all_cards(connection, kind, reader))

    def _all_cards(
        self, connection: sqlite3.Connection, kind: str, reader: Callable[[Mapping[str, Any]], _Record]
    ) -> tuple[_Record, ...]:
        rows = connection.execute("SELECT key, body, digest FROM cards WHERE kind = ? ORDER BY key", (kind,)).fetchall()
        if rotten := [f"{kind} {key}" for key, body, digest in rows if digest != table.seal(kind, key, body)]:
            raise self._rotten(*rotten)
        return tuple(reader(json.loads(body)) for _, body, _ in rows)

    def _card(self, kind: str, key: str, reader: Callable[[Mapping[str, Any]], _Record]) -> _Record | None:
        with self._reading() as connection:
            row = connection.execute(
                "SELECT body, digest FROM cards WHERE kind = ? AND key = ?", (kind, key)
            ).fetchone()
        if row is None:
            return None
        if row[1] != table.seal(kind, key, row[0]):
            raise self._rotten(f"{kind} {key}")
        return reader(json.loads(row[0]))

    def _put_cards(self, what: str, kind: str, cards: Mapping[str, Mapping[str, Any]]) -> None:
        if not cards:
            return
        with self._changing(what, ", ".join(cards)) as ledger:
            for name, data in cards.items():
                table.remember_card(ledger, kind, folded(name))
                table.write_card(ledger.connection, kind, folded(name), table.dumped(data))

    def _drop_cards(self, what: str, kind: str, names: Sequence[str]) -> bool:
        with self._reading() as connection:
            there = [name for name in names if table.card_body(connection, kind, folded(name)) is not None]
        if not there:
            return False  # and nothing to undo
        with self._changing(what, ", ".join(there)) as ledger:
            for name in there:
                table.remember_card(ledger, kind, folded(name))
                table.delete_card(ledger.connection, kind, folded(name))
        return True

    def _rotten(self, *rows: str) -> NotebookDamaged:
        return NotebookDamaged(self.path, Damage.ROWS, f"{', '.join(rows[:5])} changed on disk by a fault", rows)
