"""What is kept between two lines is what stands in the file now."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from fractions import Fraction
from pathlib import Path

from msgspec.structs import replace

from assistant.notebook import Notebook, Stocked
from assistant.notebook.seen import Seen
from tests.notebook.samples import SUPPER


def test_a_table_is_read_again_only_after_somebody_wrote() -> None:
    seen, read = Seen(), [0]

    def count() -> int:
        read[0] += 1
        return read[0]

    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        connection.execute("CREATE TABLE jars (lid)")
        assert [seen.since_written(connection, "jars", count) for _ in range(3)] == [1, 1, 1]
        connection.execute("INSERT INTO jars VALUES ('tin')")
        assert [seen.since_written(connection, "jars", count) for _ in range(3)] == [2, 2, 2]


def test_what_a_rollback_takes_back_is_not_kept() -> None:
    seen = Seen()
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        connection.execute("CREATE TABLE jars (lid)")

        def jars() -> int:
            return int(connection.execute("SELECT count(*) FROM jars").fetchone()[0])

        connection.execute("BEGIN")
        connection.execute("INSERT INTO jars VALUES ('tin')")
        assert seen.since_written(connection, "jars", jars) == 1
        connection.execute("ROLLBACK")
        assert seen.since_written(connection, "jars", jars) == 0


def test_stock_that_another_program_wrote_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "notebook.db"
    with Notebook(path) as here, Notebook(path) as there:
        assert here.stock() == ()
        there.put_stock(Stocked("chuck", Fraction(900)))
        assert [item.grams for item in here.stock()] == [900]
        here.put_stock(Stocked("chuck", Fraction(400)))
        there.drop_stock("suet")
        assert [item.grams for item in here.stock()] == [item.grams for item in there.stock()] == [400]
        here.undo_last()
        assert [item.grams for item in here.stock()] == [item.grams for item in there.stock()] == [900]


def test_names_stay_right_when_rows_in_the_middle_change(tmp_path: Path) -> None:
    """Only changed rows are read again: a rating, a new name and one forgotten must not leave an old name behind."""
    with Notebook(tmp_path / "notebook.db") as notebook:
        for name in ("Quay", "Regatta", "Fair stall"):
            notebook.save(replace(SUPPER, name=name))
        assert list(notebook.names()) == ["fair stall", "regatta", "quay"]
        notebook.rate("Regatta", Fraction(4))
        assert list(notebook.names()) == ["fair stall", "regatta", "quay"]
        notebook.rename("Regatta", "REGATTA night")
        assert list(notebook.names().items())[1] == ("regatta night", "REGATTA night")
        notebook.forget("Fair stall")
        assert list(notebook.names()) == ["regatta night", "quay"]
