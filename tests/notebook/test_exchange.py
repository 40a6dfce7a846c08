"""Exports that lose nothing, imports that take in all or nothing, and tables for a spreadsheet."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from datetime import timedelta
from fractions import Fraction
from hashlib import sha256
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.notebook import (
    BadExport,
    Batch,
    Notebook,
    Part,
    Stocked,
    TimerNote,
    export_csv,
    export_jsonl,
    import_jsonl,
)
from tests.notebook.samples import FRIDAY, SUPPER, batches, ticking


@pytest.fixture
def notebook(tmp_path: Path) -> Iterator[Notebook]:
    with Notebook(tmp_path / "notebook.db", now=ticking()) as opened:
        opened.save(SUPPER)
        opened.save(replace(SUPPER, name="Köfte 羊肉 \U0001f525"))
        opened.save(SUPPER)
        opened.note("köfte", "=1+1 is no formula")
        opened.rate("regatta", Fraction(9, 2))
        opened.forget("regatta", version=1)
        opened.put_stock(Stocked("chuck", Fraction(500), Fraction(1, 3), "EUR", Fraction(20)))
        opened.set_setting("Units", "metric")
        opened.put_timer(TimerNote("rest", FRIDAY + timedelta(minutes=5), FRIDAY))
        yield opened


def exported(notebook: Notebook) -> str:
    stream = StringIO()
    export_jsonl(notebook, stream)
    return stream.getvalue()


def test_export_into_an_empty_notebook_is_identical(notebook: Notebook, tmp_path: Path) -> None:
    text = exported(notebook)
    with Notebook(tmp_path / "other.db") as other:
        done = import_jsonl(other, StringIO(text))
        assert (done.added, done.left_out) == (5, ())
        assert exported(other) == text
        assert other.all() == notebook.all()
        other.check()


@given(pile=st.lists(batches(), max_size=4))
@settings(max_examples=15, deadline=None)
def test_any_batches_make_the_round_trip(pile: list[Batch]) -> None:
    with (
        TemporaryDirectory() as folder,
        Notebook(Path(folder) / "a.db") as one,
        Notebook(Path(folder) / "b.db") as other,
    ):
        for batch in pile:
            one.save(batch)
        import_jsonl(other, StringIO(exported(one)))
        assert exported(other) == exported(one)


def test_an_export_of_the_first_format_is_read(notebook: Notebook, tmp_path: Path) -> None:
    """It says nothing of what was weighed of a seasoning."""
    records = [json.loads(line) for line in exported(notebook).splitlines()]
    for record in records[1:-1]:
        for item in record["record"].get("seasonings", ()):
            del item["weighed"]
        plain = json.dumps([record["kind"], record["record"]], sort_keys=True)
        record["digest"] = sha256(plain.encode()).hexdigest()
    records[0]["format"] = 1
    with Notebook(tmp_path / "other.db") as other:
        assert import_jsonl(other, StringIO("\n".join(map(json.dumps, records)))).added == 5
        salt, pepper = other.get("regatta").seasonings
        assert (salt.grams, salt.weighed, pepper.weighed) == (Fraction(204, 10), None, None)


def test_importing_again_leaves_everything_as_it_was_and_says_so(notebook: Notebook) -> None:
    text = exported(notebook)
    done = import_jsonl(notebook, StringIO(text))
    assert done.added == 0
    assert done.left_out == (
        "Köfte 羊肉 \U0001f525", "Regatta supper", "stock chuck", "setting Units", "timer rest",
    )  # fmt: skip
    assert exported(notebook) == text


def test_two_equal_batches_of_one_moment_are_both_taken_in(tmp_path: Path) -> None:
    """Found by generated batches: the second was taken for the first, and left out."""
    with Notebook(tmp_path / "a.db") as one, Notebook(tmp_path / "b.db") as other:
        for _ in range(2):
            one.save(replace(SUPPER, saved_at=FRIDAY))
        text = exported(one)
        assert import_jsonl(other, StringIO(text)).added == 2
        assert exported(other) == text
        assert import_jsonl(other, StringIO(text)).left_out == ("Regatta supper", "Regatta supper")


def test_importing_beside_other_batches_adds_versions_and_replaces_nothing(notebook: Notebook, tmp_path: Path) -> None:
    with Notebook(tmp_path / "other.db", now=ticking()) as other:
        mine = other.save(replace(SUPPER, name="regatta SUPPER", fat=Fraction(30)))
        kept = other.put_stock(Stocked("Chuck", Fraction(1)))
        done = import_jsonl(other, StringIO(exported(notebook)))
        assert (done.added, done.left_out) == (4, ("stock chuck",))
        assert [batch.version for batch in other.versions("regatta supper")] == [1, 2]
        assert other.get("regatta supper", version=1) == mine
        assert other.stocked("chuck") == kept
        assert import_jsonl(other, StringIO(exported(notebook))).added == 0
        other.check()
        assert other.undo_last().what == "import"


@pytest.mark.parametrize(
    ("spoil", "line"),
    [
        (lambda _: [], 1),
        (lambda lines: ["name,grams", *lines], 1),
        (lambda lines: ["[1]", *lines[1:]], 1),
        (lambda lines: lines[1:], 1),
        (lambda lines: [lines[0].replace('"format":2', '"format":3'), *lines[1:]], 1),
        (lambda lines: lines[:-1], 7),
        (lambda lines: [*lines[:2], *lines[3:]], 6),
        (lambda lines: [*lines, lines[1]], 8),
        (lambda lines: [lines[0], lines[1].replace("2800/3", "2900/3"), *lines[2:]], 2),
        (lambda lines: [lines[0], lines[1][:-40], *lines[2:]], 2),
        (lambda lines: [lines[0], lines[1].replace('"kind":"batch"', '"kind":"boat"'), *lines[2:]], 2),
    ],
)  # fmt: skip
def test_a_spoilt_export_is_refused_whole_with_its_line(
    notebook: Notebook, tmp_path: Path, spoil: object, line: int
) -> None:
    lines = spoil(exported(notebook).splitlines())  # type: ignore[operator]
    with Notebook(tmp_path / "other.db") as other:
        with pytest.raises(BadExport) as caught:
            import_jsonl(other, StringIO("\n".join(lines) + "\n" if lines else ""))
        assert caught.value.line == line
        assert other.count() == 0


def test_every_line_of_an_export_is_json_in_ascii(notebook: Notebook) -> None:
    text = exported(notebook)
    assert text.isascii()
    assert [json.loads(line)["kind"] for line in text.splitlines()] == [
        "notebook", "batch", "batch", "stock", "setting", "timer", "end",
    ]  # fmt: skip


def test_csv_has_one_row_a_cut_with_decimals(notebook: Notebook) -> None:
    stream = StringIO()
    assert export_csv(notebook, stream) == 4
    rows = list(csv.DictReader(StringIO(stream.getvalue())))
    assert [(row["name"], row["version"], row["cut"]) for row in rows[2:]] == [
        ("Regatta supper", "2", "round"),
        ("Regatta supper", "2", "brisket trim"),
    ]
    first = rows[2]
    assert (first["grams"], first["cut_fat"], first["fat_low"], first["cost"]) == ("933.333333", "8.8", "16.1", "12.99")
    assert (first["rating"], first["rating_top"], first["patty_count"]) == ("4.5", "5", "9")
    assert first["seasonings"] == "salt 20.4 g (19 g weighed); black pepper 1.5 teaspoon"
    assert rows[0]["remarks"].endswith("=1+1 is no formula")


def test_csv_disarms_what_a_spreadsheet_would_run(tmp_path: Path) -> None:
    with Notebook(tmp_path / "n.db") as notebook:
        notebook.save(Batch("=HYPERLINK(1)", (Part("@chuck", Fraction(5)),), tags=("-x",)))
        notebook.save(Batch("nothing in it yet"))
        stream = StringIO()
        assert export_csv(notebook, stream) == 2
    row, empty = csv.DictReader(StringIO(stream.getvalue()))
    assert (row["name"], row["cut"], row["tags"]) == ("'=HYPERLINK(1)", "'@chuck", "'-x")
    assert (empty["name"], empty["cut"], empty["grams"]) == ("nothing in it yet", "", "")
