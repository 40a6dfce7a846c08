"""The dependencies are those that DEVELOPERS.md speaks of, each with an upper limit and a free licence."""

from __future__ import annotations

import re

import pytest

from tests import licences

TABLE = (
    (licences.ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Dependencies")[2].partition("\n## ")[0]
)
ROWS = {
    cells[0]: cells
    for cells in ([cell.strip() for cell in line.strip("|").split("|")] for line in TABLE.splitlines() if "|" in line)
    if cells[0] not in ("package", "---")
}


def test_every_direct_dependency_stands_in_the_table_with_its_limits() -> None:
    assert {name: cells[1] for name, cells in ROWS.items()} == licences.direct()


@pytest.mark.parametrize("name", sorted(licences.direct()))
def test_every_limit_has_an_upper_end_and_a_reason(name: str) -> None:
    assert re.search(r"<[0-9]", licences.direct()[name])
    assert all(len(cell) > 2 for cell in ROWS[name])


@pytest.mark.parametrize("name", sorted(licences.needed()))
def test_every_licence_is_free_and_the_one_that_is_told(name: str) -> None:
    said = licences.licence(name)
    assert licences.FREE.search(said), f"{name}: {said}"
    family = next(word for word in ("MIT", "BSD", "Apache", "PSF") if word in said or word == "PSF")
    assert family in (ROWS[name][2] if name in ROWS else TABLE)


def test_what_only_comes_along_is_named() -> None:
    along = set(licences.needed()) - set(licences.direct())
    assert all(f"`{each}`" in TABLE for each in along), along
