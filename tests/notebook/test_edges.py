"""What seldom happens to a notebook: odd errors of the system, odd exports, and how its faults read."""

from __future__ import annotations

import errno
import json
import os
import sqlite3
from fractions import Fraction
from hashlib import sha256
from io import StringIO
from pathlib import Path
from typing import Any, NoReturn

import pytest
from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook import (
    BadExport,
    ManyBatches,
    NoSuchBatch,
    Notebook,
    NotebookDamaged,
    NotebookError,
    NotebookFull,
    NotebookInUse,
    NotebookMissingHome,
    NotebookReadOnly,
    import_jsonl,
)
from assistant.notebook.connection import translated
from tests.notebook.samples import FRIDAY, SUPPER

HERE = Path("notebook.db")


def sqlite_error(code: int | None, text: str = "spoilt") -> sqlite3.Error:
    error = sqlite3.OperationalError(text)
    if code is not None:
        error.sqlite_errorcode = code
    return error


@pytest.mark.parametrize(
    ("error", "kind", "words"),
    [
        (sqlite_error(sqlite3.SQLITE_BUSY), NotebookInUse, "in use by another program"),
        (sqlite_error(sqlite3.SQLITE_LOCKED), NotebookInUse, "in use by another program"),
        (sqlite_error(sqlite3.SQLITE_FULL), NotebookFull, "full"),
        (sqlite_error(sqlite3.SQLITE_READONLY), NotebookReadOnly, "written"),
        (sqlite_error(sqlite3.SQLITE_CANTOPEN), NotebookReadOnly, "written"),
        (sqlite_error(sqlite3.SQLITE_CORRUPT), NotebookDamaged, "damaged"),
        (sqlite_error(sqlite3.SQLITE_NOTADB), NotebookDamaged, "damaged"),
        (sqlite_error(sqlite3.SQLITE_CONSTRAINT), NotebookDamaged, "do not fit together"),
        (sqlite_error(sqlite3.SQLITE_CORRUPT | 1 << 8), NotebookDamaged, "damaged"),
        (sqlite_error(sqlite3.SQLITE_IOERR, "disk I/O error"), NotebookError, "disk I/O error"),
        (sqlite_error(None, "could not decode to UTF-8"), NotebookDamaged, "text in it is damaged"),
        (UnicodeDecodeError("utf-8", b"\xff", 0, 1, "invalid"), NotebookDamaged, "damaged"),
        (OSError(errno.ENOSPC, "no room"), NotebookFull, "full"),
        (OSError(errno.EROFS, "read-only"), NotebookReadOnly, "written"),
        (OSError(errno.ENOENT, "gone"), NotebookMissingHome, ""),
        (OSError(errno.EIO, "the cable fell out"), NotebookError, "the cable fell out"),
    ],
)
def test_every_error_of_the_disk_is_one_of_the_notebooks_own(
    error: Exception, kind: type[NotebookError], words: str
) -> None:
    with pytest.raises(NotebookError) as caught, translated(HERE, 5):
        raise error
    assert type(caught.value) is kind
    assert words in caught.value.problem
    assert caught.value.path == HERE


def test_that_a_file_exists_is_for_the_caller_to_handle() -> None:
    with pytest.raises(FileExistsError), translated(HERE, 5):
        raise FileExistsError


def raising(number: int) -> Any:
    def fail(*_: object, **__: object) -> NoReturn:
        raise OSError(number, os.strerror(number))

    return fail


@pytest.mark.parametrize(("number", "kind"), [(errno.ENOSPC, NotebookFull), (errno.EACCES, NotebookMissingHome)])
def test_a_folder_that_cannot_be_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, kind: type[NotebookError]
) -> None:
    monkeypatch.setattr(Path, "mkdir", raising(number))
    with Notebook(tmp_path / "new" / "n.db") as notebook, pytest.raises(NotebookError) as caught:
        notebook.save(SUPPER)
    assert type(caught.value) is kind


def test_a_folder_that_another_program_made_in_this_moment_will_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make = Path.mkdir

    def made_already(folder: Path, *arguments: Any, **named: Any) -> None:
        make(folder, *arguments, **named)
        if folder.name == "new":
            raise FileExistsError

    monkeypatch.setattr(Path, "mkdir", made_already)
    with Notebook(tmp_path / "new" / "n.db") as notebook:
        assert notebook.save(SUPPER).id == 1


def test_a_file_where_the_folder_should_be(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "new").write_text("a file")
    with Notebook(tmp_path / "new" / "n.db") as notebook, pytest.raises(NotebookMissingHome):
        notebook.save(SUPPER)


def test_a_notebook_that_cannot_be_copied_whole_is_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a file system without links, and the disk fails while it is written."""
    monkeypatch.setattr(os, "link", raising(errno.EPERM))
    sync, calls = os.fsync, []

    def fail_at_the_copy(handle: int) -> None:
        calls.append(handle)
        raise OSError(errno.ENOSPC, "no room")

    monkeypatch.setattr(os, "fsync", fail_at_the_copy)
    with Notebook(tmp_path / "n.db") as notebook, pytest.raises(NotebookFull):
        notebook.save(SUPPER)
    assert calls
    assert list(tmp_path.iterdir()) == []
    monkeypatch.setattr(os, "fsync", sync)
    with Notebook(tmp_path / "n.db") as notebook:
        assert notebook.save(SUPPER).id == 1


# ---- exports


def line(kind: str, record: dict[str, Any]) -> str:
    digest = sha256(json.dumps([kind, record], sort_keys=True).encode()).hexdigest()
    return json.dumps({"kind": kind, "record": record, "digest": digest})


def exported(*records: str) -> StringIO:
    head = json.dumps({"kind": "notebook", "program": "mincewise", "format": 2})
    return StringIO("\n".join((head, *records, json.dumps({"kind": "end", "records": len(records)}))))


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (line("setting", {"key": "units", "value": 3}), "a setting's key and value are texts"),
        (line("setting", {"value": "us"}), "key"),
        (line("stock", {"cut": "chuck"}), "fields"),
        (line("timer", {"name": "rest", "due": "soon", "started": "now", "paused": None}), "due"),
    ],
)
def test_a_record_that_makes_no_sense_is_named_by_its_line(tmp_path: Path, record: str, words: str) -> None:
    sound = line("setting", {"key": "country", "value": "uk"})
    with Notebook(tmp_path / "n.db") as notebook:
        with pytest.raises(BadExport) as caught:
            import_jsonl(notebook, exported(sound, record))
        assert caught.value.line == 3
        assert words in caught.value.problem
        assert str(caught.value).startswith("line 3: ")
        assert not notebook.path.exists()


def test_a_batch_without_its_time_is_not_taken_in(tmp_path: Path) -> None:
    from assistant.notebook import as_data

    with Notebook(tmp_path / "n.db") as notebook:
        with pytest.raises(BadExport, match="a saved batch has a time"):
            import_jsonl(notebook, exported(line("batch", as_data(SUPPER))))
        with pytest.raises(BadInput):
            notebook.take_in([SUPPER], [], {}, [])
        assert notebook.count() == 0


def test_a_batch_with_a_number_that_none_can_have_gets_the_next(tmp_path: Path) -> None:
    with Notebook(tmp_path / "n.db") as notebook:
        notebook.take_in([replace(SUPPER, id=-4, version=0, saved_at=FRIDAY)], [], {}, [])
        assert [(batch.id, batch.version) for batch in notebook.all()] == [(1, 1)]


# ---- single cards, weights, words


def test_one_setting_and_one_cut(tmp_path: Path) -> None:
    with Notebook(tmp_path / "n.db") as notebook:
        assert notebook.setting("units") is None
        notebook.set_settings({})
        notebook.set_setting("Units", "metric")
        assert notebook.setting("units") == "metric"
        with sqlite3.connect(notebook.path) as behind:
            behind.execute("UPDATE cards SET body = replace(body, 'metric', 'us')")
        with pytest.raises(NotebookDamaged) as caught:
            notebook.setting("units")
        assert caught.value.rows == ("setting units",)


def test_what_went_in_is_what_was_weighed() -> None:
    salt, pepper = SUPPER.seasonings
    assert (salt.used, pepper.used) == (Fraction(19), None)
    assert SUPPER.was_weighed
    assert not SUPPER.cuts_weighed
    assert not replace(SUPPER, seasonings=(pepper,)).was_weighed


def test_faults_read_as_sentences() -> None:
    assert str(NoSuchBatch("pier", ("quay",))) == "no batch is called 'pier'"
    assert str(ManyBatches("p", ("pier", "pontoon"))) == "'p' could be any of pier, pontoon"
