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
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from msgspec import Struct, field
from msgspec.structs import replace

from assistant.errors import BadInput
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

if TYPE_CHECKING:
    import sqlite3

PATIENCE = 5.0
KEPT_CHANGES = 100  # how many changes can be taken back, newest first
_MOST = 2**62  # "no limit" for SQLite
_NEAR = 6  # names offered where one is not found or not clear
_LAST_CODE_POINT = "\U0010ffff"

_STOCK, _SETTING, _TIMER = "stock", "setting", "timer"
_COLUMNS = "id, key, version, day, score, body, digest"
_Record = TypeVar("_Record")


def _local_now() -> datetime:
    return datetime.now().astimezone()


class _BatchRow(NamedTuple):
    id: int
    key: str
    version: int
    day: str
    score: float | None
    body: str
    digest: str


class _Ledger(Struct):
    """A change under way: its name as stored, and what stood there before as (kind, key, body or None), for undo."""

    connection: sqlite3.Connection
    name: str
    before: list[tuple[str, str, str | None]] = field(default_factory=list)


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

    @property
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
            self._connection = None

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
            needles = (*(f" {word}" for word in words), _at_least_one("limit", limit))
            return self._batches(connection, f"WHERE id IN ({found}) ORDER BY id DESC", *needles)

    def all(self, limit: int | None = None) -> tuple[Batch, ...]:
        """Every batch, newest first, or the newest `limit` of them."""
        count = _MOST if limit is None else _at_least_one("limit", limit)
        with self._reading() as connection:
            return self._batches(connection, "ORDER BY id DESC LIMIT ?", count)

    def last(self, n: int = 1) -> tuple[Batch, ...]:
        """The n batches saved last, newest first; fewer where there are fewer."""
        return self.all(_at_least_one("n", n))

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
            return self._batches(connection, order, _at_least_one("n", n))

    def rated(self) -> tuple[Batch, ...]:
        """Every rated batch, oldest first."""
        with self._reading() as connection:
            return self._batches(connection, "WHERE score IS NOT NULL ORDER BY id")

    def names(self, limit: int = 500) -> dict[str, str]:
        """The names of the newest `limit` batches: as compared (see folded) -> as kept, newest first."""
        names: dict[str, str] = {}
        with self._reading() as connection:
            query = f"SELECT {_COLUMNS} FROM batches ORDER BY id DESC LIMIT ?"
            for row in self._sealed(connection, query, _at_least_one("limit", limit)):
                names.setdefault(row.key, json.loads(row.body)["name"])
        return names

    def count(self) -> int:
        """How many batches there are, all versions counted."""
        with self._reading() as connection:
            return int(connection.execute("SELECT count(*) FROM batches").fetchone()[0])

    def compare(self, first: str, second: str) -> Comparison:
        """Two batches side by side, cut by cut and field by field."""
        return compare_batches(self.get(first), self.get(second))

    # --- changing batches -------------------------------------------------------------------------------------------

    def save(self, batch: Batch) -> Batch:
        """Keep a batch under its name; a name already there is kept too, and the new batch is its next version.

        Returns the batch as kept: with id, version, saved_at (now, where the batch brings none) and cleaned name
        (see clean_name). It is on disk when this returns.
        """
        name = clean_name(batch.name).text
        _check_batch(batch)
        with self._changing("save", name) as ledger:
            return _add_batch(ledger, replace(batch, name=name, saved_at=batch.saved_at or self._now()))

    def rate(self, name: str, rating: Fraction, top: int = 5, version: int | None = None) -> Batch:
        """Give a batch a rating from 0 to top (halves and other fractions are fine)."""
        _check_rating(rating, top)
        return self._edit("rate", name, version, lambda batch: replace(batch, rating=Fraction(rating), rating_top=top))

    def note(self, name: str, text: str, version: int | None = None) -> Batch:
        """Add a remark, cleaned by clean_text, with the time of writing."""
        remark = Remark(self._now(), clean_text(text).text)
        return self._edit("note", name, version, lambda batch: replace(batch, remarks=(*batch.remarks, remark)))

    def tag(self, name: str, *tags: str, version: int | None = None) -> Batch:
        """Add tags; one that is there already, whatever its case, is not added again."""
        clean = [clean_text(tag, 40, "tag").text for tag in tags]
        return self._edit("tag", name, version, lambda batch: replace(batch, tags=_with_tags(batch.tags, clean)))

    def untag(self, name: str, tag: str, version: int | None = None) -> Batch:
        """Take a tag off. Raises BadInput where the batch does not have it."""
        return self._edit("untag", name, version, lambda batch: replace(batch, tags=_without_tag(batch.tags, tag)))

    def weighed(self, name: str, actual: Mapping[str, Fraction], version: int | None = None) -> Batch:
        """Write down what was truly weighed, in grams by cut. Raises BadInput for a cut the batch does not have."""
        return self._edit("weigh", name, version, lambda batch: _with_weights(batch, actual))

    def rename(self, old: str, new: str) -> tuple[Batch, ...]:
        """Give every version of a name a new name; where that is taken, they become its next versions.

        Returns the batches as renamed, oldest first.
        """
        name = clean_name(new).text
        with self._changing("rename", name) as ledger:
            key = self._key(ledger.connection, old)
            batches = self._batches(ledger.connection, "WHERE key = ? ORDER BY version", key)
            if key == folded(name):
                return tuple(_rewrite(ledger, replace(batch, name=name)) for batch in batches)
            first_free = _next_version(ledger.connection, folded(name))
            return tuple(
                _rewrite(ledger, replace(batch, name=name, version=version))
                for version, batch in enumerate(batches, start=first_free)
            )

    def forget(self, name: str, version: int | None = None) -> tuple[Batch, ...]:
        """Remove every version of a name, or the one asked for; returns what was removed. undo_last brings it back."""
        with self._changing("forget", name) as ledger:
            leaving = self.versions(name) if version is None else (self.get(name, version),)
            ledger.name = leaving[-1].name
            for batch in leaving:
                _remember_batch(ledger, batch.id)
                _delete_batch(ledger.connection, batch.id)
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
            if seal(at, what, name, before) != digest:
                raise self._rotten(f"change {number}")
            for kind, key, body in reversed(json.loads(before)):
                _put_back(connection, kind, key, body)
            connection.execute("DELETE FROM changes WHERE id = ?", (number,))
            return Change(what, name, datetime.fromisoformat(at))

    def last_changes(self, n: int = 10) -> tuple[Change, ...]:
        """What undo_last would take back, next one first."""
        with self._reading() as connection:
            rows = connection.execute(
                "SELECT what, name, at FROM changes ORDER BY id DESC LIMIT ?", (_at_least_one("n", n),)
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
        cut = clean_name(item.cut).text
        kept = replace(item, cut=cut, updated=item.updated or self._now())
        self._put_card("stock", _STOCK, cut, as_data(kept))
        return kept

    def drop_stock(self, cut: str) -> bool:
        """Forget a cut's stock; False where there was none."""
        return self._drop_card("drop stock", _STOCK, cut)

    def settings(self) -> dict[str, str]:
        """Every setting, by key."""
        return dict(self._cards(_SETTING, _setting_from))

    def setting(self, key: str) -> str | None:
        """One setting's value, or None where it is not set."""
        found = self._card(_SETTING, folded(key), _setting_from)
        return None if found is None else found[1]

    def set_setting(self, key: str, value: str) -> None:
        """Set one setting, in place of what it was."""
        name = clean_name(key).text
        self._put_card("set", _SETTING, name, {"key": name, "value": value})

    def drop_setting(self, key: str) -> bool:
        """Unset one setting; False where it was not set."""
        return self._drop_card("unset", _SETTING, key)

    def timers(self) -> tuple[TimerNote, ...]:
        """Every timer, the one due first in front."""
        return tuple(sorted(self._cards(_TIMER, timer_from), key=lambda timer: timer.due))

    def put_timer(self, timer: TimerNote) -> TimerNote:
        """Write down a timer, in place of one of the same name. undo_last leaves timers alone: time cannot go back."""
        kept = replace(timer, name=clean_name(timer.name).text)
        with self._writing() as connection:
            _write_card(connection, _TIMER, folded(kept.name), _dumped(as_data(kept)))
        return kept

    def drop_timer(self, name: str) -> bool:
        """Forget a timer; False where there was none."""
        with self._writing() as connection:
            return _delete_card(connection, _TIMER, folded(name))

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
            rows = [_BatchRow(*row) for row in connection.execute(f"SELECT {_COLUMNS} FROM batches ORDER BY id")]
            rotten = [f"batch {row.id}" for row in rows if row.digest != seal(*row[:-1])]
            sealed = {row.id: row.body for row in rows if row.digest == seal(*row[:-1])}
            words = dict(connection.execute("SELECT id, words FROM finder").fetchall())
            rotten += [f"search words of batch {id}" for id, body in sealed.items() if words.get(id) != _words(body)]
            cards = connection.execute("SELECT kind, key, body, digest FROM cards").fetchall()
            rotten += [f"{kind} {key}" for kind, key, body, digest in cards if digest != seal(kind, key, body)]
            verdict = [text for (text,) in connection.execute("PRAGMA integrity_check").fetchall()]
        if rotten or verdict != ["ok"]:
            problem = "; ".join(["not everything in it can be trusted", *verdict[:1]])
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
            asked = [(batch.name, _take_in_batch(ledger, batch, claimed)) for batch in batches]
            cards = [(_STOCK, item.cut, as_data(item)) for item in stock]
            cards += [(_SETTING, key, {"key": key, "value": value}) for key, value in settings.items()]
            cards += [(_TIMER, timer.name, as_data(timer)) for timer in timers]
            asked += [(f"{kind} {name}", _take_in_card(ledger, kind, name, data)) for kind, name, data in cards]
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
                yield files.blank(self._steps)
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
    def _changing(self, what: str, name: str) -> Iterator[_Ledger]:
        """A transaction that also writes down what was there before, for undo_last."""
        with self._writing() as connection:
            ledger = _Ledger(connection, name)
            yield ledger
            self._write_change(ledger, what)

    def _write_change(self, ledger: _Ledger, what: str) -> None:
        at, name, before = self._now().isoformat(), ledger.name, _dumped(ledger.before)
        cursor = ledger.connection.execute(
            "INSERT INTO changes (at, what, name, before, digest) VALUES (?, ?, ?, ?, ?)",
            (at, what, name, before, seal(at, what, name, before)),
        )
        ledger.connection.execute("DELETE FROM changes WHERE id <= ?", ((cursor.lastrowid or 0) - KEPT_CHANGES,))

    def _opened(self, path: Path) -> sqlite3.Connection:
        if self._connection is None:
            from assistant.notebook import connection as files

            self._connection = files.open_file(path, self._patience, self._steps)
        return self._connection

    def _edit(self, what: str, name: str, version: int | None, edit: Callable[[Batch], Batch]) -> Batch:
        with self._changing(what, name) as ledger:
            batch = self.get(name, version)
            ledger.name = batch.name
            return _rewrite(ledger, edit(batch))

    def _key(self, connection: sqlite3.Connection, name: str) -> str:
        """The one stored key that the name means: itself, or the only one that it begins."""
        key = folded(name)
        if connection.execute("SELECT 1 FROM batches WHERE key = ?", (key,)).fetchone():
            return key
        longer = _keys(connection, "key BETWEEN ? AND ?", key, key + _LAST_CODE_POINT) if key else []
        if len(longer) == 1:
            return longer[0]
        if longer:
            raise ManyBatches(name, self._names(connection, longer))
        raise NoSuchBatch(name, self._names(connection, _near_keys(connection, key)))

    def _names(self, connection: sqlite3.Connection, keys: Iterable[str]) -> tuple[str, ...]:
        newest = "WHERE key = ? ORDER BY version DESC LIMIT 1"
        return tuple(batch.name for key in keys for batch in self._batches(connection, newest, key))

    def _batches(self, connection: sqlite3.Connection, clause: str, *values: object) -> tuple[Batch, ...]:
        rows = self._sealed(connection, f"SELECT {_COLUMNS} FROM batches {clause}", *values)
        return tuple(batch_from(json.loads(row.body)) for row in rows)

    def _sealed(self, connection: sqlite3.Connection, query: str, *values: object) -> list[_BatchRow]:
        """The rows found, each of which still matches its digest."""
        rows = [_BatchRow(*row) for row in connection.execute(query, values)]
        if rotten := [f"batch {row.id}" for row in rows if row.digest != seal(*row[:-1])]:
            raise self._rotten(*rotten)
        return rows

    def _cards(self, kind: str, reader: Callable[[Mapping[str, Any]], _Record]) -> tuple[_Record, ...]:
        with self._reading() as connection:
            rows = connection.execute(
                "SELECT key, body, digest FROM cards WHERE kind = ? ORDER BY key", (kind,)
            ).fetchall()
        if rotten := [f"{kind} {key}" for key, body, digest in rows if digest != seal(kind, key, body)]:
            raise self._rotten(*rotten)
        return tuple(reader(json.loads(body)) for _, body, _ in rows)

    def _card(self, kind: str, key: str, reader: Callable[[Mapping[str, Any]], _Record]) -> _Record | None:
        with self._reading() as connection:
            row = connection.execute(
                "SELECT body, digest FROM cards WHERE kind = ? AND key = ?", (kind, key)
            ).fetchone()
        if row is None:
            return None
        if row[1] != seal(kind, key, row[0]):
            raise self._rotten(f"{kind} {key}")
        return reader(json.loads(row[0]))

    def _put_card(self, what: str, kind: str, name: str, data: Mapping[str, Any]) -> None:
        with self._changing(what, name) as ledger:
            _remember_card(ledger, kind, folded(name))
            _write_card(ledger.connection, kind, folded(name), _dumped(data))

    def _drop_card(self, what: str, kind: str, name: str) -> bool:
        with self._reading() as connection:
            if _card_body(connection, kind, folded(name)) is None:
                return False  # and nothing to undo
        with self._changing(what, name) as ledger:
            _remember_card(ledger, kind, folded(name))
            return _delete_card(ledger.connection, kind, folded(name))

    def _rotten(self, *rows: str) -> NotebookDamaged:
        return NotebookDamaged(self.path, Damage.ROWS, f"{', '.join(rows[:5])} changed on disk by a fault", rows)


# --- checks of what comes in ----------------------------------------------------------------------------------------


def _at_least_one(argument: str, value: int) -> int:
    if value < 1:
        raise BadInput(argument, value, "1 or more")
    return value


def _check_rating(rating: Fraction, top: int) -> None:
    if top < 1:
        raise BadInput("top", top, "1 or more")
    if not 0 <= rating <= top:
        raise BadInput("rating", rating, f"0 to {top}")


def _check_batch(batch: Batch) -> None:
    if batch.rating is not None:
        _check_rating(batch.rating, batch.rating_top)
    if batch.saved_at is not None and batch.saved_at.tzinfo is None:
        raise BadInput("saved_at", batch.saved_at, "a time with its offset from UTC")


def _with_tags(tags: tuple[str, ...], more: Iterable[str]) -> tuple[str, ...]:
    kept: dict[str, str] = {}
    for tag in (*tags, *more):
        kept.setdefault(folded(tag), tag)
    return tuple(kept.values())


def _without_tag(tags: tuple[str, ...], tag: str) -> tuple[str, ...]:
    left = tuple(kept for kept in tags if folded(kept) != folded(tag))
    if left == tags:
        raise BadInput("tag", tag, f"one of {', '.join(tags)}" if tags else "a batch that has tags")
    return left


def _with_weights(batch: Batch, actual: Mapping[str, Fraction]) -> Batch:
    weights = {folded(cut): grams for cut, grams in actual.items()}
    for cut, grams in actual.items():
        if grams < 0:
            raise BadInput("actual", grams, "0 g or more")
        if folded(cut) not in {folded(part.cut) for part in batch.parts}:
            raise BadInput("actual", cut, f"one of {', '.join(part.cut for part in batch.parts)}")
    parts = (replace(part, weighed=weights.get(folded(part.cut), part.weighed)) for part in batch.parts)
    return replace(batch, parts=tuple(parts))


# --- rows -----------------------------------------------------------------------------------------------------------


def _dumped(data: Any) -> str:
    return json.dumps(data, separators=(",", ":"))


def seal(*values: object) -> str:
    """The digest that a row carries: over every value of it, written so that no two rows write alike."""
    from hashlib import sha256

    # repr: a flipped bit can turn a text into bytes, which must read as a wrong digest and not as a crash
    return sha256(json.dumps(values, default=repr).encode()).hexdigest()


def _words(body: str) -> str:
    """What a search looks through: every word, folded, with a blank before it."""
    batch = batch_from(json.loads(body))
    texts = [batch.name, *batch.tags, *(remark.text for remark in batch.remarks)]
    texts += [part.cut for part in batch.parts] + [seasoned.name for seasoned in batch.seasonings]
    return " " + folded(" ".join(texts))


def _add_batch(ledger: _Ledger, batch: Batch) -> Batch:
    connection = ledger.connection
    latest = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'batches'").fetchone()
    number = 1 if latest is None else latest[0] + 1
    kept = replace(batch, id=number, version=_next_version(connection, folded(batch.name)))
    ledger.before.append(("batch", str(number), None))
    _write_batch(connection, kept)
    return kept


def _next_version(connection: sqlite3.Connection, key: str) -> int:
    return int(
        connection.execute("SELECT coalesce(max(version), 0) + 1 FROM batches WHERE key = ?", (key,)).fetchone()[0]
    )


def _write_batch(connection: sqlite3.Connection, batch: Batch) -> None:
    if batch.saved_at is None:
        raise BadInput("saved_at", None, "the time of saving")
    score = None if batch.score is None else float(batch.score)
    body = _dumped(as_data(batch))
    columns = (batch.id, folded(batch.name), batch.version, f"{batch.saved_at:%Y-%m-%d}", score, body)
    connection.execute(f"INSERT INTO batches ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)", (*columns, seal(*columns)))
    connection.execute("INSERT INTO finder (id, words) VALUES (?, ?)", (batch.id, _words(body)))


def _rewrite(ledger: _Ledger, batch: Batch) -> Batch:
    _remember_batch(ledger, batch.id)
    _delete_batch(ledger.connection, batch.id)
    _write_batch(ledger.connection, batch)
    return batch


def _remember_batch(ledger: _Ledger, number: int) -> None:
    (body,) = ledger.connection.execute("SELECT body FROM batches WHERE id = ?", (number,)).fetchone()
    ledger.before.append(("batch", str(number), body))


def _delete_batch(connection: sqlite3.Connection, number: int) -> None:
    connection.execute("DELETE FROM batches WHERE id = ?", (number,))


def _keys(connection: sqlite3.Connection, condition: str, *values: str) -> list[str]:
    query = f"SELECT DISTINCT key FROM batches WHERE {condition} ORDER BY key LIMIT {_NEAR}"
    return [key for (key,) in connection.execute(query, values)]


def _near_keys(connection: sqlite3.Connection, key: str) -> list[str]:
    """Names with a word that begins as the longest word of the one not found does, else as the next longest."""
    for word in sorted(key.split(), key=len, reverse=True):
        if found := _keys(connection, "instr(' ' || key, ?) > 0", f" {word[:4]}"):
            return found
    return []


def _write_card(connection: sqlite3.Connection, kind: str, key: str, body: str) -> None:
    connection.execute("INSERT OR REPLACE INTO cards VALUES (?, ?, ?, ?)", (kind, key, body, seal(kind, key, body)))


def _delete_card(connection: sqlite3.Connection, kind: str, key: str) -> bool:
    return connection.execute("DELETE FROM cards WHERE kind = ? AND key = ?", (kind, key)).rowcount > 0


def _card_body(connection: sqlite3.Connection, kind: str, key: str) -> str | None:
    row = connection.execute("SELECT body FROM cards WHERE kind = ? AND key = ?", (kind, key)).fetchone()
    return None if row is None else str(row[0])


def _remember_card(ledger: _Ledger, kind: str, key: str) -> None:
    ledger.before.append((kind, key, _card_body(ledger.connection, kind, key)))


def _put_back(connection: sqlite3.Connection, kind: str, key: str, body: str | None) -> None:
    """What stood under a kind and key before a change: write it again, or take away what had not been there."""
    if kind == "batch":
        _delete_batch(connection, int(key))
        if body is not None:
            _write_batch(connection, batch_from(json.loads(body)))
    elif body is None:
        _delete_card(connection, kind, key)
    else:
        _write_card(connection, kind, key, body)


def _setting_from(data: Mapping[str, Any]) -> tuple[str, str]:
    return str(data["key"]), str(data["value"])


def _take_in_batch(ledger: _Ledger, batch: Batch, claimed: set[int]) -> bool:
    """Add a batch unless it is there already. claimed: ids that an earlier batch of the same import stands for."""
    connection, key = ledger.connection, folded(batch.name)
    _check_batch(batch)
    if batch.saved_at is None:
        raise BadInput("saved_at", None, "the time of saving")
    there = next((id for id in _twins(connection, batch, f"{batch.saved_at:%Y-%m-%d}") if id not in claimed), None)
    if there is not None:
        claimed.add(there)
        return False
    taken = "SELECT 1 FROM batches WHERE id = ? OR (key = ? AND version = ?)"
    fits = 1 <= batch.id <= _MOST and 1 <= batch.version <= _MOST
    if not fits or connection.execute(taken, (batch.id, key, batch.version)).fetchone():
        claimed.add(_add_batch(ledger, batch).id)
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


def _take_in_card(ledger: _Ledger, kind: str, name: str, data: Mapping[str, Any]) -> bool:
    if _card_body(ledger.connection, kind, folded(name)) is not None:
        return False
    _remember_card(ledger, kind, folded(name))
    _write_card(ledger.connection, kind, folded(name), _dumped(data))
    return True
