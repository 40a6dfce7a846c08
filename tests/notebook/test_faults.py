"""Twelve ways in which a notebook's file can come to harm, and what must hold in each.

The faults are made for real wherever the system allows it: processes are killed, disks filled, locks held.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from fractions import Fraction
from io import StringIO
from pathlib import Path

import pytest

from assistant.notebook import (
    Batch,
    Damage,
    Notebook,
    NotebookDamaged,
    NotebookError,
    NotebookFull,
    NotebookInUse,
    NotebookMissingHome,
    NotebookNewer,
    Part,
    Seasoned,
    Stocked,
    default_path,
    export_jsonl,
    import_jsonl,
    table,
)
from assistant.notebook.migrations import STEPS
from assistant.notebook.rescue import salvage, set_aside
from tests.notebook.samples import FRIDAY, SUPPER
from tests.notebook.worker import SLOW_STEP, batch

PROJECT = Path(__file__).parents[2]
WORKER = Path(__file__).with_name("worker.py")
NOON = datetime(2026, 6, 6, 12, 0, 0).astimezone()


def start(action: str, path: Path, *arguments: str, prefix: tuple[str, ...] = ()) -> subprocess.Popen[str]:
    """A worker at the notebook, as a program of its own."""
    return subprocess.Popen(
        [*prefix, sys.executable, str(WORKER), action, str(path), *arguments],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(PROJECT), "PYTHONDONTWRITEBYTECODE": "1"},
    )


def outcome(worker: subprocess.Popen[str]) -> str:
    """What the worker said, once it has ended."""
    said, complaints = worker.communicate(timeout=60)
    assert complaints == ""
    return said.strip()


def filled(path: Path, count: int = 30) -> tuple[Batch, ...]:
    """A notebook with some batches; returns them newest first."""
    with Notebook(path) as notebook:
        for number in range(count):
            notebook.save(batch(f"supper {number}"))
        notebook.put_stock(Stocked("chuck", Fraction(900)))
        return notebook.all()


def raw(path: Path, *statements: str) -> None:
    """Change the file behind the notebook's back."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)


# --- 1: killed at any moment ----------------------------------------------------------------------------------------


def kill_while_saving(path: Path, times: int, chance: random.Random) -> int:
    """Start, kill -9 and look, again and again; returns how many promises were made, all of which were kept."""
    saved: dict[int, str] = {}
    for turn in range(times):
        worker = start("save_until_killed", path, f"turn {turn}")
        if turn % 4:  # mostly amid saving; every fourth time at any moment from the start of the program
            assert worker.stdout is not None
            first = worker.stdout.readline()
            time.sleep(chance.uniform(0, 0.03))
        else:
            first = ""
            time.sleep(chance.uniform(0.02, 0.3))
        worker.kill()
        ratings = promises(first + rest_of(worker), saved)
        with Notebook(path) as notebook:
            kept = {found.id: found for found in notebook.all()}
            assert saved.items() <= {number: found.name for number, found in kept.items()}.items()
            assert all(kept[number].rating == rating for number, rating in ratings.items())
            assert len(kept) - len(saved) <= 1  # what was on disk and not yet acknowledged when the kill came
            saved = {number: found.name for number, found in kept.items()}
    with Notebook(path) as notebook:
        notebook.check()
    return len(saved)


def rest_of(worker: subprocess.Popen[str]) -> str:
    """All that the worker said after the lines already read. communicate() would lose what was read ahead with them."""
    assert worker.stdout is not None
    with worker:
        return worker.stdout.read()


def promises(said: str, saved: dict[int, str]) -> dict[int, int]:
    """Add the saves said to `saved`, return the ratings said, by id; a line cut off by the kill is no promise."""
    ratings = {}
    for line in said.splitlines(keepends=True):
        if line.endswith("\n"):
            what, number, rest = line.strip().split(" ", 2)
            if what == "saved":
                saved[int(number)] = rest
            else:
                ratings[int(number)] = int(rest)
    return ratings


def test_fault_01_killed_twenty_times_loses_nothing_acknowledged(tmp_path: Path) -> None:
    assert kill_while_saving(tmp_path / "n.db", 20, random.Random(1)) >= 15  # one for every kill amid saving


@pytest.mark.slow
def test_fault_01_killed_two_hundred_times_loses_nothing_acknowledged(tmp_path: Path) -> None:
    chance = random.Random(2)
    kept = sum(kill_while_saving(tmp_path / f"n{round}.db", 20, chance) for round in range(10))
    assert kept >= 150


def test_fault_01_a_program_killed_while_making_the_notebook_leaves_none_half_made(tmp_path: Path) -> None:
    path, chance = tmp_path / "n.db", random.Random(3)
    for _ in range(10):
        worker = start("save_one", path, "x")
        time.sleep(chance.uniform(0.04, 0.2))
        worker.kill()
        worker.communicate()
        with Notebook(path) as notebook:
            assert all(found.name == "x" for found in notebook.all())
        path.unlink(missing_ok=True)


# --- 2: "saved" is said after the disk has it -------------------------------------------------------------------------


def test_fault_02_saved_is_said_only_when_the_disk_has_it(tmp_path: Path) -> None:
    if shutil.which("strace") is None:
        pytest.skip("strace is not installed, so the order of syncs cannot be seen")
    path, log = tmp_path / "n.db", tmp_path / "trace"
    filled(path, 1)
    calls = "trace=fsync,fdatasync,write,pwrite64,unlink"
    worker = start("save_one", path, "late supper", prefix=("strace", "-f", "-y", "-e", calls, "-o", str(log)))
    said, _ = worker.communicate(timeout=60)
    if not said.startswith("saved"):
        pytest.skip(f"strace may not trace here: {said!r}")
    lines = log.read_text().splitlines()
    told = next(number for number, line in enumerate(lines) if "write(1" in line and "saved" in line)
    writes = [number for number, line in enumerate(lines) if "pwrite64(" in line and "/n.db>" in line]
    syncs = [number for number, line in enumerate(lines) if "sync(" in line and "/n.db>" in line]
    commit = [number for number, line in enumerate(lines) if "unlink(" in line and "n.db-journal" in line]
    assert writes[-1] < syncs[-1] < commit[-1] < told


# --- 3: disk full -----------------------------------------------------------------------------------------------------


def fill_up(notebook: Notebook) -> tuple[int, NotebookFull]:
    """Save until there is no room; returns how many were acknowledged, and the error."""
    for number in range(5000):
        try:
            notebook.save(batch(f"supper {number}"))
        except NotebookFull as error:
            return number, error
    raise AssertionError("the disk never became full")


@contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    """A disk of 600 kB."""
    mount = ["mount", "-t", "tmpfs", "-o", "size=600k", "none", str(folder)]
    if os.name != "posix" or os.geteuid() != 0 or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("a small disk can only be mounted as root, and where mounting is allowed")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_fault_03_a_full_disk_loses_only_the_batch_that_did_not_fit(tmp_path: Path) -> None:
    with small_disk(tmp_path) as disk, Notebook(disk / "n.db") as notebook:
        acknowledged, error = fill_up(notebook)
        assert acknowledged > 50
        assert str(error).count(".") >= 1
        assert "disk is full" in str(error)
        assert notebook.count() == acknowledged
        notebook.check()
        with pytest.raises(NotebookFull):
            notebook.backup(disk / "copy.db")
        assert [file.name for file in disk.iterdir()] == ["n.db"]


def test_fault_03_a_notebook_is_not_half_made_on_a_full_disk(tmp_path: Path) -> None:
    with small_disk(tmp_path) as disk:
        (disk / "ballast").write_bytes(b"x" * 590_000)
        with Notebook(disk / "n.db") as notebook, pytest.raises(NotebookFull):
            notebook.save(SUPPER)
        assert [file.name for file in disk.iterdir()] == ["ballast"]


def test_fault_03_no_more_pages_is_the_same_as_a_full_disk(tmp_path: Path) -> None:
    filled(tmp_path / "n.db", 1)
    with Notebook(tmp_path / "n.db") as notebook:
        notebook.count()
        assert notebook._connection is not None
        notebook._connection.execute("PRAGMA max_page_count = 40")
        acknowledged, _ = fill_up(notebook)
        assert notebook.count() == acknowledged + 1
        notebook.check()


# --- 4: many writers --------------------------------------------------------------------------------------------------


def test_fault_04_eight_programs_write_at_once_beginning_with_no_notebook(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    workers = [start("save_some", path, "club supper") for _ in range(8)]
    assert [outcome(worker) for worker in workers] == ["done"] * 8
    with Notebook(path) as notebook:
        assert notebook.count() == 320
        assert [found.version for found in notebook.versions("club supper 7")] == [1, 2, 3, 4, 5, 6, 7, 8]
        notebook.check()
    assert [file.name for file in tmp_path.iterdir()] == ["n.db"]


# --- 5: the lock is held ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("lock", ["IMMEDIATE", "EXCLUSIVE"])
def test_fault_05_a_held_lock_is_told_after_the_wait(tmp_path: Path, lock: str) -> None:
    path = tmp_path / "n.db"
    filled(path, 2)
    holder = start("hold", path, lock)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    with Notebook(path, patience=0.1) as notebook:
        with pytest.raises(NotebookInUse) as caught:
            notebook.save(SUPPER)
        assert (caught.value.waited, caught.value.path) == (0.1, path)
        if lock == "IMMEDIATE":
            assert notebook.count() == 2  # one who prepares to write does not keep others from reading
        else:
            with pytest.raises(NotebookInUse):
                notebook.count()
        holder.communicate("go\n")
        assert notebook.save(SUPPER).id == 3


def test_fault_05_a_lock_let_go_within_the_wait_is_no_error(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 1)
    holder = start("hold", path, "IMMEDIATE")
    assert holder.stdout is not None
    assert holder.stdin is not None
    holder.stdout.readline()
    saver = start("save_some", path, "patient")
    time.sleep(0.3)
    holder.communicate("go\n")
    assert outcome(saver) == "done"


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("save 2 kg chuck at 15% fat and 500 g suet at 90% fat as bow", "Not saved."),
        ("I have 2 kg chuck at 15% fat and 500 g suet at 90% fat", "Not kept as stock."),
    ],
)
def test_fault_05_the_answer_itself_is_given_while_another_program_holds_the_lock(
    tmp_path: Path, line: str, told: str
) -> None:
    path = tmp_path / "n.db"
    filled(path, 1)
    holder = start("hold", path, "IMMEDIATE")
    assert holder.stdout is not None
    holder.stdout.readline()
    call = [sys.executable, "-m", "assistant", "--notebook", str(path), "ask", "--json", line]
    done = subprocess.run(call, capture_output=True, text=True, cwd=PROJECT, timeout=60)
    holder.communicate("go\n")
    answer = json.loads(done.stdout)
    assert done.stderr == ""
    assert done.returncode == (1 if "save" in line else 0)  # the saving was asked for, the remembering was not
    assert answer["message"].startswith(told)
    assert "in use by another program" in answer["message"]
    fat = next(figure for figure in answer["figures"] if figure["role"] == "fat")
    assert fat["value"] == pytest.approx(30)


# --- 6 and 7: the file is no notebook ---------------------------------------------------------------------------------


def cut_short(path: Path) -> None:
    os.truncate(path, path.stat().st_size // 2)


def first_page_zeroed(path: Path) -> None:
    path.write_bytes(b"\0" * 4096 + path.read_bytes()[4096:])


def text_instead(path: Path) -> None:
    path.write_text("Shopping: 3 lb of chuck, salt\n" * 40)


def other_database(path: Path) -> None:
    path.unlink()
    raw(path, "PRAGMA journal_mode = WAL", "CREATE TABLE batches (id)", "PRAGMA user_version = 1")


def lacking_a_table(path: Path) -> None:
    raw(path, "DROP TABLE finder")


def without_version(path: Path) -> None:
    raw(path, "PRAGMA user_version = 0")


def zero_length(path: Path) -> None:
    path.write_bytes(b"")


def check_refused(path: Path, damage: Damage, error: NotebookDamaged, before: bytes) -> None:
    """Refused, untouched, put aside on request, and a new notebook can begin."""
    assert (error.damage, error.path) == (damage, path)
    assert path.read_bytes() == before
    aside = set_aside(path, NOON)
    assert aside.name == "n.set-aside-20260606-120000.db"
    assert aside.read_bytes() == before
    with Notebook(path) as notebook:
        assert notebook.save(SUPPER).id == 1
    zero_length(path)
    assert set_aside(path, NOON).name == "n.set-aside-20260606-120000-2.db"
    assert aside.read_bytes() == before


@pytest.mark.parametrize(
    ("harm", "damage"),
    [
        (cut_short, Damage.UNREADABLE),
        (first_page_zeroed, Damage.UNREADABLE),
        (text_instead, Damage.UNREADABLE),
        (other_database, Damage.FOREIGN),
        (lacking_a_table, Damage.UNREADABLE),
        (without_version, Damage.UNREADABLE),
    ],
)
def test_fault_06_a_damaged_or_foreign_file_is_refused_and_never_overwritten(
    tmp_path: Path, harm: Callable[[Path], None], damage: Damage
) -> None:
    path = tmp_path / "n.db"
    filled(path)
    harm(path)
    before = path.read_bytes()
    uses: tuple[Callable[[Notebook], object], ...] = (Notebook.all, lambda notebook: notebook.save(SUPPER))
    for use in uses:
        with Notebook(path) as notebook, pytest.raises(NotebookDamaged) as caught:
            use(notebook)
    check_refused(path, damage, caught.value, before)


def test_fault_06_what_can_still_be_read_is_salvaged(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    original = {kept.id: kept for kept in filled(path, 60)}
    cut_short(path)
    before = path.read_bytes()
    result = salvage(path, tmp_path / "saved.db")
    assert path.read_bytes() == before
    with Notebook(tmp_path / "saved.db") as notebook:
        saved = {kept.id: kept for kept in notebook.all()}
        notebook.check()
    assert len(saved) >= 20
    assert saved.items() <= original.items()
    assert result.lost
    with pytest.raises(ValueError):
        salvage(path, tmp_path / "saved.db")


def test_fault_06_salvage_of_a_sound_file_is_everything_and_of_rubbish_nothing(tmp_path: Path) -> None:
    original = filled(tmp_path / "n.db", 5)
    raw(tmp_path / "n.db", "UPDATE batches SET score = 1.0 WHERE id = 3")
    result = salvage(tmp_path / "n.db", tmp_path / "saved.db")
    assert (result.kept, result.lost) == (5, ("batch 3",))  # four batches and the stock
    with Notebook(tmp_path / "saved.db") as notebook:
        assert notebook.all() == tuple(kept for kept in original if kept.id != 3)
    text_instead(tmp_path / "n.db")
    assert salvage(tmp_path / "n.db", tmp_path / "nothing.db").kept == 0
    with pytest.raises(NotebookError):
        salvage(tmp_path / "absent.db", tmp_path / "none.db")


def test_fault_06_a_broken_page_hides_only_its_own_rows(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    original = {kept.id: kept for kept in filled(path, 60)}
    with closing(sqlite3.connect(path)) as connection:
        leaves = connection.execute(
            "SELECT pageno FROM dbstat WHERE name = 'batches' AND pagetype = 'leaf' ORDER BY path"
        ).fetchall() if has_dbstat(connection) else []  # fmt: skip
    if not leaves:
        pytest.skip("this SQLite cannot tell which page holds what")
    spoilt = bytearray(path.read_bytes())
    start = 4096 * (leaves[len(leaves) // 2][0] - 1)
    spoilt[start : start + 4096] = b"\xff" * 4096
    path.write_bytes(spoilt)
    result = salvage(path, tmp_path / "saved.db")
    with Notebook(tmp_path / "saved.db") as notebook:
        saved = {kept.id: kept for kept in notebook.all()}
    assert 50 <= len(saved) < 60
    assert saved.items() <= original.items()
    assert {f"batch {number}" for number in original.keys() - saved.keys()} <= set(result.lost)


def has_dbstat(connection: sqlite3.Connection) -> bool:
    """Whether this SQLite was built with the table that tells of its pages."""
    return bool(
        connection.execute(
            "SELECT 1 FROM pragma_compile_options WHERE compile_options = 'ENABLE_DBSTAT_VTAB'"
        ).fetchone()
    )


def test_fault_07_a_zero_length_file_is_refused_and_not_taken_for_new(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    zero_length(path)
    with Notebook(path) as notebook:
        with pytest.raises(NotebookDamaged):
            notebook.save(SUPPER)
        with pytest.raises(NotebookDamaged) as caught:
            notebook.all()
    check_refused(path, Damage.EMPTY, caught.value, b"")


def test_fault_07_a_journal_without_its_notebook_is_refused_too(tmp_path: Path) -> None:
    """SQLite would roll it back into the new notebook."""
    path, journal = tmp_path / "n.db", tmp_path / "n.db-journal"
    journal.write_bytes(b"left over")
    with Notebook(path) as notebook:
        with pytest.raises(NotebookDamaged):
            notebook.save(SUPPER)
        assert journal.read_bytes() == b"left over"
        aside = set_aside(path, NOON)
        assert aside.with_name(f"{aside.name}-journal").read_bytes() == b"left over"
        assert notebook.save(SUPPER).id == 1
    with pytest.raises(NotebookMissingHome):
        set_aside(tmp_path / "nothing.db", NOON)


# --- 8: flipped bits --------------------------------------------------------------------------------------------------


def flips_noticed(path: Path, flips: int, chance: random.Random) -> int:
    """Flip single bits, one at a time; everything read is right or refused. Returns how often it was refused."""
    with Notebook(path) as notebook:
        batches, stock = notebook.all(), notebook.stock()
    sound, refused = path.read_bytes(), 0
    for _ in range(flips):
        spoilt = bytearray(sound)
        spoilt[chance.randrange(len(sound))] ^= 1 << chance.randrange(8)
        path.write_bytes(spoilt)
        try:
            with Notebook(path) as notebook:
                assert notebook.all() == batches
                assert notebook.stock() == stock
        except (NotebookDamaged, NotebookNewer):  # any other error fails the test
            refused += 1
    path.write_bytes(sound)
    return refused


def test_fault_08_a_flipped_bit_is_never_read_as_a_batch(tmp_path: Path) -> None:
    filled(tmp_path / "n.db", 20)
    assert flips_noticed(tmp_path / "n.db", 150, random.Random(8)) > 20


@pytest.mark.slow
def test_fault_08_thousands_of_flipped_bits_are_never_read_as_a_batch(tmp_path: Path) -> None:
    filled(tmp_path / "n.db", 40)
    assert flips_noticed(tmp_path / "n.db", 4000, random.Random(88)) > 1000


def test_fault_08_the_rotten_row_is_named_and_the_others_are_still_given(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 3)
    raw(path, "UPDATE batches SET body = replace(body, '1000/3', '1001/3') WHERE id = 2")
    with Notebook(path) as notebook:
        for use in (
            notebook.all,
            notebook.check,
            lambda: notebook.get("supper 1"),
            lambda: notebook.rate("supper 1", Fraction(3)),
        ):
            with pytest.raises(NotebookDamaged) as caught:
                use()
            assert (caught.value.damage, caught.value.rows) == (Damage.ROWS, ("batch 2",))
        with pytest.raises(NotebookDamaged):
            export_jsonl(notebook, StringIO())
        assert notebook.get("supper 0").id == 1
        assert notebook.last()[0].id == 3


@pytest.mark.parametrize(
    ("harm", "rows"),
    [
        ("UPDATE finder SET words = 'x' WHERE id = 2", ("search words of batch 2",)),
        ("DELETE FROM finder WHERE id = 2", ("search words of batch 2",)),
        ("UPDATE cards SET body = replace(body, '900', '901')", ("stock chuck",)),
    ],
)
def test_fault_08_the_check_sees_what_reading_batches_does_not(
    tmp_path: Path, harm: str, rows: tuple[str, ...]
) -> None:
    filled(tmp_path / "n.db", 3)
    raw(tmp_path / "n.db", harm)
    with Notebook(tmp_path / "n.db") as notebook, pytest.raises(NotebookDamaged) as caught:
        notebook.check()
    assert caught.value.rows == rows


def test_fault_08_a_rotten_memory_of_changes_is_not_used(tmp_path: Path) -> None:
    filled(tmp_path / "n.db", 1)
    raw(tmp_path / "n.db", "UPDATE changes SET before = '[]'")
    with Notebook(tmp_path / "n.db") as notebook, pytest.raises(NotebookDamaged):
        notebook.undo_last()


# --- 9: killed while upgrading ----------------------------------------------------------------------------------------


OLD, NEW = len(STEPS), len(STEPS) + 1


def schema(path: Path) -> tuple[int, bool, bool]:
    """Version, whether the new table is there, whether the new column is."""
    with closing(sqlite3.connect(path)) as connection:
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
        columns = {row[1] for row in connection.execute("PRAGMA table_info(batches)")}
    return version, "grinds" in tables, "heft" in columns


def kill_while_upgrading(folder: Path, times: int, chance: random.Random) -> set[int]:
    """Kill upgrades at random moments; the schema is the old one or the new one. Returns the versions met."""
    original = filled(folder / "old.db", 20)
    met = set()
    for turn in range(times):
        path = folder / f"n{turn}.db"
        shutil.copy(folder / "old.db", path)
        worker = start("upgrade", path)
        assert worker.stdout is not None
        worker.stdout.readline()
        time.sleep(chance.uniform(0, 0.25))
        worker.kill()
        worker.communicate()
        if not path.with_name(f"{path.name}-journal").exists() or chance.random() < 0.5:
            assert schema(path) in {(OLD, False, False), (NEW, True, True)}
            met.add(schema(path)[0])
        with Notebook(path, steps=(*STEPS, SLOW_STEP)) as notebook:
            assert notebook.all() == original
        assert schema(path) == (NEW, True, True)
        assert schema(path.with_name(f"n{turn}.before-version-{NEW}.db")) == (OLD, False, False)
    return met


def test_fault_09_killed_in_an_upgrade_the_schema_is_old_or_new(tmp_path: Path) -> None:
    assert kill_while_upgrading(tmp_path, 6, random.Random(9)) <= {OLD, NEW}


@pytest.mark.slow
def test_fault_09_killed_in_forty_upgrades_the_schema_is_old_or_new(tmp_path: Path) -> None:
    assert kill_while_upgrading(tmp_path, 40, random.Random(99)) == {OLD, NEW}


def test_fault_09_a_step_that_fails_leaves_the_old_schema_and_its_copy(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    original = filled(path, 3)
    broken = ("ALTER TABLE batches ADD COLUMN heft INTEGER", "UPDATE nothing SET x = 1")
    with Notebook(path, steps=(*STEPS, broken)) as notebook, pytest.raises(NotebookError):
        notebook.all()
    assert schema(path) == (OLD, False, False)
    with Notebook(path) as notebook:
        assert notebook.all() == original
    with Notebook(tmp_path / f"n.before-version-{NEW}.db") as copy:
        assert copy.all() == original


def test_fault_09_a_notebook_of_the_first_version_is_read_and_a_copy_of_it_kept(tmp_path: Path) -> None:
    """Its seasonings say nothing of what was weighed."""
    path = tmp_path / "n.db"
    salted = Batch("fair stall", (Part("chuck", Fraction(1000)),), seasonings=(Seasoned("salt", Fraction(15)),))
    with Notebook(path, steps=STEPS[:1]) as notebook:
        kept = notebook.save(salted)
    with closing(sqlite3.connect(path)) as connection, connection:
        *columns, body, _ = connection.execute(f"SELECT {table.COLUMNS} FROM batches").fetchone()
        older = body.replace(',"weighed":null}],"patty', '}],"patty')
        assert older != body
        connection.execute("UPDATE batches SET body = ?, digest = ?", (older, table.seal(*columns, older)))
    with Notebook(path) as notebook:
        assert notebook.get("fair stall") == kept
        assert notebook.weighed("fair stall", {"salt": Fraction(14)}).seasonings[0].used == 14
    assert schema(path)[0] == len(STEPS)
    assert schema(tmp_path / "n.before-version-2.db")[0] == 1


# --- 10: a newer notebook ---------------------------------------------------------------------------------------------


def test_fault_10_a_notebook_of_a_later_version_is_refused_untouched(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 3)
    raw(path, "PRAGMA user_version = 99", "PRAGMA journal_mode = WAL")
    before, changed = path.read_bytes(), path.stat().st_mtime_ns
    uses: tuple[Callable[[Notebook], object], ...] = (Notebook.all, lambda notebook: notebook.save(SUPPER))
    for use in uses:
        with Notebook(path) as notebook, pytest.raises(NotebookNewer) as caught:
            use(notebook)
        assert (caught.value.found, caught.value.known) == (99, len(STEPS))
    assert (path.read_bytes(), path.stat().st_mtime_ns) == (before, changed)


# --- 11: copies -------------------------------------------------------------------------------------------------------


def test_fault_11_a_copy_taken_while_others_write_is_sound(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 20)
    worker = start("save_until_killed", path, "busy")
    assert worker.stdout is not None
    worker.stdout.readline()
    with Notebook(path, patience=60) as notebook:  # how long it waits is another test; here it must come and be sound
        for number in range(8):
            notebook.backup(tmp_path / f"copy{number}.db")
        with pytest.raises(FileExistsError):
            notebook.backup(tmp_path / "copy0.db")
    worker.kill()
    worker.communicate()
    for number in range(8):
        with Notebook(tmp_path / f"copy{number}.db") as copy:
            copy.check()
            assert copy.count() >= 20
        assert stat.S_IMODE((tmp_path / f"copy{number}.db").stat().st_mode) == 0o600


def test_fault_11_a_copy_does_not_wait_for_ever(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 2)
    with Notebook(path, patience=0.1) as notebook:
        assert notebook.count() == 2
        holder = start("hold", path, "EXCLUSIVE")
        assert holder.stdout is not None
        holder.stdout.readline()
        with pytest.raises(NotebookInUse):
            notebook.backup(tmp_path / "copy.db")
        holder.communicate("go\n")
        notebook.backup(tmp_path / "copy.db")
    assert sorted(file.name for file in tmp_path.iterdir()) == ["copy.db", "n.db"]


def test_fault_11_export_and_import_give_the_same_notebook(tmp_path: Path) -> None:
    filled(tmp_path / "n.db", 12)
    first, second = StringIO(), StringIO()
    with Notebook(tmp_path / "n.db") as notebook, Notebook(tmp_path / "again.db") as again:
        export_jsonl(notebook, first)
        import_jsonl(again, StringIO(first.getvalue()))
        export_jsonl(again, second)
    assert second.getvalue() == first.getvalue()


def test_fault_11_an_upgrade_keeps_a_copy_of_the_old_notebook_each_time(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    original = filled(path, 3)
    shutil.copy(path, tmp_path / f"n.before-version-{NEW}.db")
    with Notebook(path, steps=(*STEPS, SLOW_STEP)) as notebook:
        assert notebook.all() == original
    with Notebook(tmp_path / f"n.before-version-{NEW}-2.db") as copy:
        assert copy.all() == original


# --- 12: places where nothing can be written --------------------------------------------------------------------------


@pytest.fixture
def shared_folder() -> Iterator[Path]:
    """A folder that another user of the system can reach."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def said_by_someone_else(action: str, path: Path) -> str:
    """What a worker says that may not write: as nobody where we are root, who may write everywhere."""
    return outcome(start(action, path, "x", *(["65534"] if os.geteuid() == 0 else [])))


@pytest.mark.skipif(os.name != "posix", reason="permissions as on POSIX systems")
def test_fault_12_a_read_only_notebook_can_be_read_and_says_why_it_cannot_be_written(shared_folder: Path) -> None:
    path = shared_folder / "n.db"
    filled(path, 3)
    path.chmod(0o444)
    shared_folder.chmod(0o555)
    assert said_by_someone_else("read", path) == "read 3"
    assert said_by_someone_else("save_one", path).startswith("NotebookReadOnly")
    assert said_by_someone_else("save_one", shared_folder / "new.db").startswith("NotebookReadOnly")
    assert said_by_someone_else("save_one", shared_folder / "sub" / "new.db").startswith("NotebookMissingHome")
    path.chmod(0o666)  # the file may be written, its folder (where the journal would be) not
    assert said_by_someone_else("save_one", path).startswith("NotebookReadOnly")
    path.chmod(0o600)
    if os.geteuid() == 0:
        assert said_by_someone_else("read", path).startswith("NotebookReadOnly")
    shared_folder.chmod(0o755)


def test_fault_12_a_missing_home_is_told_only_when_the_notebook_is_needed(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    with Notebook(tmp_path / "file" / "sub" / "n.db") as notebook:
        assert notebook.path.name == "n.db"
        with pytest.raises(NotebookMissingHome) as caught:
            notebook.save(SUPPER)
    assert "cannot be made" in str(caught.value)


def test_fault_12_a_folder_in_its_place_is_an_error_and_no_traceback(tmp_path: Path) -> None:
    with Notebook(tmp_path) as notebook, pytest.raises(NotebookError):
        notebook.all()


@pytest.mark.skipif(os.name != "posix", reason="permissions as on POSIX systems")
@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077, 0o777])
def test_fault_12_the_file_is_the_owners_alone_whatever_the_umask(tmp_path: Path, umask: int) -> None:
    path = tmp_path / "home" / "n.db"
    before = os.umask(umask)
    try:
        with Notebook(path) as notebook:
            notebook.save(SUPPER)
            notebook.backup(path.with_name("copy.db"))
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.with_name("copy.db").stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


@pytest.mark.skipif(os.name != "posix", reason="symbolic links as on POSIX systems")
def test_fault_12_a_symbolic_link_is_followed_and_stays_one(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    link = tmp_path / "n.db"
    link.symlink_to(tmp_path / "real" / "notes.db")
    with Notebook(link) as notebook:
        notebook.save(SUPPER)
    assert link.is_symlink()
    assert [file.name for file in (tmp_path / "real").iterdir()] == ["notes.db"]
    zero_length(link)
    assert set_aside(link, FRIDAY).parent == tmp_path / "real"


def test_fault_12_a_file_system_without_links_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_link(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)
    with Notebook(tmp_path / "n.db") as notebook:
        notebook.save(SUPPER)
        notebook.backup(tmp_path / "copy.db")
        with pytest.raises(FileExistsError):
            notebook.backup(tmp_path / "copy.db")
    with Notebook(tmp_path / "copy.db") as copy:
        assert copy.count() == 1


def test_fault_12_no_home_at_all_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda *_, **__: Path("relative"))
    with pytest.raises(NotebookMissingHome):
        default_path(None, {})


# --- rescue: what the person does about a damaged file -----------------------------------------------------------------


def rescue(home: Path, *flags: str) -> subprocess.CompletedProcess[str]:
    """`mincewise notebook rescue` with nobody at the keyboard."""
    call = [sys.executable, "-m", "assistant", "notebook", "rescue", *flags, "--notebook", str(home / "n.db")]
    return subprocess.run(call, stdin=subprocess.DEVNULL, capture_output=True, text=True, cwd=PROJECT, timeout=60)


def test_rescue_sets_a_damaged_notebook_aside_and_takes_over_what_can_be_trusted(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 3)
    spoilt = path.read_bytes().replace(b'"name":"supper 1"', b'"name":"supper 7"')
    path.write_bytes(spoilt)
    asked = rescue(tmp_path)
    assert (asked.returncode, path.read_bytes()) == (1, spoilt)  # nobody said yes
    told = rescue(tmp_path, "--yes")
    assert told.returncode == 0
    assert "3 records taken over" in told.stdout  # two batches and the stock
    assert "lost: batch 2" in told.stdout
    aside = next(tmp_path.glob("n.set-aside-*.db"))
    assert str(aside) in told.stdout
    assert aside.read_bytes() == spoilt
    with Notebook(path) as notebook:
        assert [found.name for found in notebook.all()] == ["supper 2", "supper 0"]
        notebook.check()
    assert "nothing to rescue" in rescue(tmp_path, "--yes").stdout


def test_rescue_of_a_file_that_is_no_notebook_keeps_it_and_clears_its_place(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    path.write_text("not a notebook at all\n" * 99)
    assert rescue(tmp_path, "--yes").returncode == 0
    assert next(tmp_path.glob("n.set-aside-*.db")).read_text().startswith("not a notebook")
    with Notebook(path) as notebook:
        assert notebook.save(SUPPER).id == 1


def test_rescue_leaves_a_newer_notebook_alone(tmp_path: Path) -> None:
    path = tmp_path / "n.db"
    filled(path, 1)
    raw(path, "PRAGMA user_version = 999")
    before = path.read_bytes()
    told = rescue(tmp_path, "--yes")
    assert (told.returncode, path.read_bytes()) == (1, before)
    assert "999" in told.stderr
