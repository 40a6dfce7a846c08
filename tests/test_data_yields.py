"""Cooked yields against the published table, typed in here again, and cooked fat against SR28's own files."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pytest

from assistant import data
from assistant.data.yields import CookedFat, CookedYield, parse_yields
from assistant.errors import BadTable

FAT = "204"
TABLE = "USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014)"


def _yield(key: str) -> CookedYield:
    (found,) = [row for row in data.cooked_yields() if row.key == key]
    return found


@pytest.mark.parametrize(
    ("key", "percent", "low", "high", "samples"),
    [
        # USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014)
        ("beef patty, broiled, high fat", "63", "55.33", "69.44", 4),
        ("beef patty, broiled, medium fat", "69", "63.96", "72.42", 4),
        ("beef patty, broiled, low fat", "73", "72.82", "74.68", 4),
        ("beef patty, pan-broiled, high fat", "69", "67.55", "72.23", 4),
        ("beef patty, pan-broiled, medium fat", "73", "70.78", "75.97", 4),
        ("beef patty, pan-broiled, low fat", "77", "76.37", "78.3", 4),
        ("beef crumbles, pan-browned, high fat", "62", "60.31", "63.89", 4),
        ("beef crumbles, pan-browned, medium fat", "67", "63.7", "71.62", 4),
        ("beef crumbles, pan-browned, low fat", "69", "67.08", "69.53", 4),
        ("beef loaf, baked, high fat", "63", "61.94", "63.89", 4),
        ("beef loaf, baked, medium fat", "70", "65.08", "76.25", 4),
        ("beef loaf, baked, low fat", "72", "67.59", "73.93", 4),
        ("pork patty, broiled, high fat", "69", "65", "72", 4),
        ("pork patty, broiled, medium fat", "68", "66", "69", 4),
        ("pork patty, broiled, low fat", "68", "64", "70", 4),
        ("pork crumbles, pan-browned, high fat", "66", "56", "81", 4),
        ("pork crumbles, pan-browned, medium fat", "67", "62", "75", 4),
        ("pork crumbles, pan-browned, low fat", "68", "61", "74", 4),
        ("bison patty, broiled", "77", "75.56", "78.86", 6),
        ("venison patty, broiled", "83", "81.22", "84.87", 3),
        ("elk patty, broiled", "84", "80.05", "88.91", 5),
        ("bacon, baked", "32", "30.53", "32.57", 3),
        ("bacon, microwaved", "29", "28.89", "30.13", 3),
    ],
)
def test_yields_of_the_usda_table(key: str, percent: str, low: str, high: str, samples: int) -> None:
    row = _yield(key)
    assert (row.percent, row.low, row.high) == (Fraction(percent), Fraction(low), Fraction(high))
    assert (row.samples, row.source) == (samples, TABLE)


@pytest.mark.parametrize(
    ("key", "percent"),
    [("pork sausage, pan-fried", 80), ("turkey sausage, broiled", 77), ("bacon, pan-fried", 32)],
)
def test_single_group_yields_have_no_range(key: str, percent: int) -> None:
    row = _yield(key)
    assert (row.percent, row.samples, row.source) == (Fraction(percent), 1, TABLE)
    assert row.low is None
    assert row.high is None


@pytest.mark.parametrize(
    ("key", "cooked_grams"),
    # SR28 WEIGHT.txt: what one pound raw came down to, NDB 17225, 17143, 05306
    [("lamb, any way", 313), ("veal, any way", 299), ("turkey, any way", 330)],
)
def test_yields_from_a_pound_of_raw_meat(key: str, cooked_grams: int) -> None:
    row = _yield(key)
    assert abs(row.percent - cooked_grams / Fraction("453.59237") * 100) <= Fraction(1, 20)
    assert "SR28" in row.source


def test_classes_of_fat_meet_without_gap_or_overlap() -> None:
    kinds: dict[tuple[str, str, str], list[CookedYield]] = {}
    for row in data.cooked_yields():
        if row.fat_class != "any":
            kinds.setdefault((row.species, row.form, row.method), []).append(row)
    assert len(kinds) == 6
    for rows in kinds.values():
        rows.sort(key=lambda row: row.fat_from)
        assert [rows[0].fat_from, rows[-1].fat_to] == [0, 100]
        assert [row.fat_to for row in rows[:-1]] == [row.fat_from for row in rows[1:]]
        assert [row.fat_class for row in rows] == ["low", "medium", "high"]


@pytest.fixture(scope="module")
def fat_by_entry() -> Mapping[str, Fraction]:
    spec = find_spec("usda_nutrition")
    assert spec is not None
    assert spec.submodule_search_locations is not None
    path = Path(next(iter(spec.submodule_search_locations))) / "data" / "sr28" / "NUT_DATA.txt"
    rows = (line.split("^", 3) for line in path.read_text(encoding="latin-1").splitlines())
    return {cells[0].strip("~"): Fraction(cells[2]) for cells in rows if cells[1] == f"~{FAT}~"}


@pytest.mark.parametrize("row", data.cooked_fats(), ids=lambda row: f"{row.raw_fat} {row.form} {row.method}")
def test_cooked_fat_is_sr28s(fat_by_entry: Mapping[str, Fraction], row: CookedFat) -> None:
    assert fat_by_entry[row.ndb_raw] == row.raw_fat
    assert fat_by_entry[row.ndb_cooked] == row.cooked_fat


def test_cooked_fat_covers_eight_grinds_four_ways() -> None:
    assert len({(row.raw_fat, row.form, row.method) for row in data.cooked_fats()}) == len(data.cooked_fats()) == 32


GOOD = "[[yield]]\nkey = 'a'\nspecies = 'beef'\nform = 'patty'\nmethod = 'broiled'\npercent = 69\nsource = 's'\n"


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (GOOD + "colour = 'red'\n", "colour"),
        (GOOD.replace("source = 's'\n", ""), "source"),
        (GOOD.replace("69", "169"), "percent"),
        (GOOD + "low = 70\n", "low"),
        (GOOD + "high = 60\n", "high"),
        (GOOD + "fat_from = 30\nfat_to = 20\n", "fat_from"),
        (GOOD + "samples = 1.5\n", "samples"),
        (GOOD.replace("patty", "pie"), "form"),
        (GOOD.replace("broiled", "wished"), "method"),
        (GOOD + "fat_class = 'huge'\n", "fat_class"),
        (GOOD + GOOD, "key"),
    ],
)
def test_bad_row_is_refused_by_name(text: str, field: str) -> None:
    with pytest.raises(BadTable) as refusal:
        parse_yields(text, "test.toml")
    assert (refusal.value.file, refusal.value.key, refusal.value.field) == ("test.toml", "a", field)
