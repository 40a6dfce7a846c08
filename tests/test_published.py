"""Each row of the table of outside checks (published.py) agrees to the digits that its source prints."""

from __future__ import annotations

import pytest

from tests import published

TABLE = published.checks()


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.what)
def test_ours_is_theirs(row: published.Check) -> None:
    assert row.agrees, f"{row.source}: {row.what}: {row.expected} against {row.ours}"


def test_every_row_names_its_source_and_there_are_many() -> None:
    assert all(len(row.source) > 10 for row in TABLE)
    assert len(TABLE) > 60
    assert sum(row.published for row in TABLE) > 30


def test_the_printed_table_has_them_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert published.main() == 0
    assert f"{len(TABLE)} checks, {len(TABLE)} agree" in capsys.readouterr().out
