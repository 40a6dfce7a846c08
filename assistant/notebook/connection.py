"""Opening, making, upgrading and copying the notebook's file; the only door to SQLite's own errors.

Rollback journal and full sync: SQLite up to 3.51.2 can lose commits in WAL mode under concurrent checkpoints
(sqlite.org/wal.html), and a file without WAL can be copied as one file. The file is never opened by other means
while SQLite may hold it: closing any descriptor of a file drops this process's POSIX locks on it.
"""

from __future__ import annotations

import errno
import os
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from itertools import count, filterfalse
from pathlib import Path
from time import monotonic

from assistant.notebook.faults import (
    Damage,
    NotebookDamaged,
    NotebookError,
    NotebookFull,
    NotebookInUse,
    NotebookMissingHome,
    NotebookNewer,
    NotebookReadOnly,
)
from assistant.notebook.migrations import APPLICATION_ID, STEPS, TABLES, Step

PATIENCE = 5.0  # seconds to wait for another program's lock
_BETWEEN_TRIES = 0.01  # seconds; a busy writer lets go only for moments, so that few and far tries may all miss them

_DAMAGED = "the file is damaged or is no notebook; it was left as it is"
_FULL_ERRNOS = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_READ_ONLY_ERRNOS = {errno.EROFS, errno.EACCES, errno.EPERM}


def open_file(path: Path, patience: float = PATIENCE, steps: Sequence[Step] = STEPS) -> sqlite3.Connection:
    """A connection to the existing notebook at path, upgraded to the newest schema where it is older.

    Raises NotebookDamaged, NotebookNewer, NotebookInUse, NotebookReadOnly, NotebookFull; a refused file is left as
    it was.
    """
    with translated(path, patience):
        if path.stat().st_size == 0:
            raise NotebookDamaged(path, Damage.EMPTY, "the file is empty (zero bytes), so it is no notebook")
        connection = _connect(path, patience)
        try:
            _check_identity(connection, path, len(steps))
            _prepare(connection)
            if _version(connection) < len(steps):
                _upgrade(connection, path, steps)
            _check_tables(connection, path)
        except BaseException:
            connection.close()
            raise
        return connection


def create_file(path: Path, steps: Sequence[Step] = STEPS) -> None:
    """Make an empty notebook at path, complete from its first moment; keep what is there if another was faster.

    It is built beside its place and then linked there: a program killed half-way leaves no empty notebook behind.
    The folder is made for the owner only (0700) where it is missing; the file is the owner's only (0600).
    """
    with translated(path, PATIENCE):
        _refuse_orphan(path)
        _make_folder(path.parent)
        with _draft_beside(path) as draft:
            with closing(_connect(draft, PATIENCE)) as connection:
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                _prepare(connection)
                _apply(connection, steps)
            with suppress(FileExistsError):
                _publish(draft, path)


def blank(steps: Sequence[Step] = STEPS) -> sqlite3.Connection:
    """An empty notebook in memory: what reading sees while there is no file, so that reading makes none."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    _apply(connection, steps)
    return connection


def copy_file(connection: sqlite3.Connection, path: Path, target: Path, patience: float = PATIENCE) -> None:
    """A consistent copy of the notebook open at path, also while others write.

    Raises FileExistsError, and NotebookInUse where the lock stays with another program for longer than patience.
    """
    deadline = monotonic() + patience

    def give_up(status: int, _: int, __: int) -> None:
        """Called after every try; the copying itself would try for ever."""
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and monotonic() > deadline:
            raise NotebookInUse(path, patience)

    with _draft_beside(target) as draft:
        with closing(sqlite3.connect(draft, isolation_level=None)) as copy:
            connection.backup(copy, progress=give_up, sleep=_BETWEEN_TRIES)
        _publish(draft, target)


def move_aside(path: Path, stamp: str) -> Path:
    """Rename the file (and its journal, which belongs to it) so that its place is free; returns the new path."""
    with translated(path, PATIENCE):
        target = next(_names_beside(path, f"set-aside-{stamp}"))
        if journal := _journal(path).exists():
            os.replace(_journal(path), _journal(target))
        if path.exists() or not journal:
            os.replace(path, target)
        return target


@contextmanager
def translated(path: Path, patience: float) -> Iterator[None]:
    """Turn SQLite's and the system's errors into the notebook's own, which carry fields."""
    try:
        yield
    except sqlite3.Error as error:
        raise _from_sqlite(error, path, patience) from error
    except UnicodeDecodeError as error:  # SQLite's complaint quotes a damaged name
        raise NotebookDamaged(path, Damage.UNREADABLE, _DAMAGED) from error
    except FileExistsError:
        raise
    except OSError as error:
        raise _from_system(error, path) from error


def read_only_connection(path: Path) -> sqlite3.Connection:
    """A connection for rescue work that never writes to the file, not even to roll back a journal.

    writable_schema is how SQLite is told to go on although the file is shorter than it says of itself.
    """
    connection = sqlite3.connect(f"{_uri(path)}?mode=ro&immutable=1", uri=True, isolation_level=None)
    connection.execute("PRAGMA writable_schema = ON")
    return connection


# --- SQLite's errors ------------------------------------------------------------------------------------------------


def _from_sqlite(error: sqlite3.Error, path: Path, patience: float) -> NotebookError:
    code = getattr(error, "sqlite_errorcode", None)
    primary = None if code is None else code & 0xFF  # the low byte; the rest says where it happened
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return NotebookInUse(path, patience)
    if primary == sqlite3.SQLITE_FULL:
        return NotebookFull(path)
    if primary in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_AUTH):
        return NotebookReadOnly(path)
    if primary in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return NotebookDamaged(path, Damage.UNREADABLE, _DAMAGED)
    if primary in (sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CONSTRAINT, sqlite3.SQLITE_MISMATCH):
        # Our own statements are right for a sound file: its description of itself must be spoilt.
        return NotebookDamaged(path, Damage.UNREADABLE, f"its parts do not fit together ({error})")
    if code is None and "decode" in str(error):  # Python's own complaint about bytes that are no text
        return NotebookDamaged(path, Damage.ROWS, "a text in it is damaged")
    return NotebookError(path, f"the disk or the database reported an error ({error})")


def _from_system(error: OSError, path: Path) -> NotebookError:
    if error.errno in _FULL_ERRNOS:
        return NotebookFull(path)
    if error.errno in _READ_ONLY_ERRNOS:
        return NotebookReadOnly(path)
    if error.errno in (errno.ENOENT, errno.ENOTDIR):
        return NotebookMissingHome(path)
    return NotebookError(path, f"the system reported an error ({error.strerror})")


# --- the file -------------------------------------------------------------------------------------------------------


def _connect(path: Path, patience: float) -> sqlite3.Connection:
    return sqlite3.connect(f"{_uri(path)}?mode=rw", uri=True, isolation_level=None, timeout=patience)


def _uri(path: Path) -> str:
    return path.absolute().as_uri()


def _journal(path: Path) -> Path:
    return path.with_name(f"{path.name}-journal")


def _refuse_orphan(path: Path) -> None:
    """SQLite would roll a journal left by a notebook that is gone back into the new one, and spoil it.

    The journal is looked for first: one that another program writes just now has its notebook beside it.
    """
    if _journal(path).exists() and not path.exists():
        raise NotebookDamaged(path, Damage.UNREADABLE, f"it is gone, but its journal {_journal(path).name} is there")


def _make_folder(folder: Path) -> None:
    if folder.is_dir():
        return
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        folder.mkdir(mode=0o700)
        folder.chmod(0o700)
    except FileExistsError:
        if not folder.is_dir():  # a file of that name; a folder was made by another program just now
            raise NotebookMissingHome(folder) from None
    except OSError as error:
        if error.errno in _FULL_ERRNOS:
            raise
        raise NotebookMissingHome(folder) from error


@contextmanager
def _draft_beside(path: Path) -> Iterator[Path]:
    """An empty file beside path, the owner's only whatever the umask; gone in the end."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".draft", dir=path.parent)
    os.close(handle)
    os.chmod(name, 0o600)  # a strange umask can take more away than others' rights
    try:
        yield Path(name)
    finally:
        Path(name).unlink(missing_ok=True)


def _publish(draft: Path, path: Path) -> None:
    """Give the finished draft its name, or raise FileExistsError: a link never replaces what is there."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        _copy_to_new(draft, path)
    _sync_folder(path.parent)


def _copy_to_new(draft: Path, path: Path) -> None:
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as target:
        try:
            target.write(draft.read_bytes())
            target.flush()
            os.fsync(target.fileno())
        except OSError:
            path.unlink()  # it is ours, and it is half a notebook
            raise


def _sync_folder(folder: Path) -> None:
    """Make a new name in the folder survive a power cut; where folders cannot be synced, nothing is to be done."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _names_beside(path: Path, label: str) -> Iterator[Path]:
    """Names like "notebook.<label>.db", "notebook.<label>-2.db" … that nobody has yet."""

    def numbered(number: int) -> Path:
        suffix = "" if number == 1 else f"-{number}"
        return path.with_name(f"{path.stem}.{label}{suffix}{path.suffix}")

    return filterfalse(Path.exists, map(numbered, count(1)))


# --- the schema -----------------------------------------------------------------------------------------------------


def _prepare(connection: sqlite3.Connection) -> None:
    connection.execute("PRAGMA journal_mode = DELETE")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")


def _check_identity(connection: sqlite3.Connection, path: Path, known: int) -> None:
    """Refuse what is not ours before anything is set: setting the journal mode may already write."""
    owner = _number(connection, "application_id")
    if owner != APPLICATION_ID:
        raise NotebookDamaged(path, Damage.FOREIGN, "the file is a database, but not a notebook of this program")
    found = _version(connection)
    if found < 1:  # no notebook is ever given its name before its first step is done
        raise NotebookDamaged(path, Damage.UNREADABLE, "the file does not say which version it has")
    if found > known:
        raise NotebookNewer(path, found, known)


def _check_tables(connection: sqlite3.Connection, path: Path) -> None:
    present = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    if missing := sorted(TABLES - present):
        raise NotebookDamaged(path, Damage.UNREADABLE, f"it lacks {', '.join(missing)}")


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def _version(connection: sqlite3.Connection) -> int:
    return _number(connection, "user_version")


def _upgrade(connection: sqlite3.Connection, path: Path, steps: Sequence[Step]) -> None:
    """Keep a copy of the old file under a name that tells its version, then take the missing steps."""
    copy_file(connection, path, next(_names_beside(path, f"before-version-{_version(connection) + 1}")))
    _apply(connection, steps)


def _apply(connection: sqlite3.Connection, steps: Sequence[Step]) -> None:
    for number, step in enumerate(steps, start=1):
        connection.execute("BEGIN IMMEDIATE")
        try:
            # Asked again under the lock: another program may have taken this step in the meantime.
            if _version(connection) < number:
                for statement in step:
                    connection.execute(statement)
                connection.execute(f"PRAGMA user_version = {number}")
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise
