"""What is known of each piece of meat: fat with its range, water, protein, sodium, bone, and the names cooks use.

Figures are for the raw edible part, from the USDA National Nutrient Database for Standard Reference, Release 28
(public domain). The NDB numbers behind each figure stand in the row.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from msgspec import Struct

from assistant.data.tables import Row, Table
from assistant.data.words import AmbiguousWord, claim, known, read_ambiguous

FILE = "cuts.toml"
SOURCE = "USDA SR28"
PERCENT = 100
KINDS = frozenset({"cut", "fat", "cured", "seasoned", "ground", "computed", "plain"})

SPREAD_SHARE = Fraction(182, 1000)
"""Half the as-bought range as a share of the fat figure: the median over the cuts with three or more SR28 entries."""
SPREAD_LEAST = Fraction(1)
"""No range is taken to be tighter than a point of fat either way (a choice, no source)."""


class CutRow(Struct, frozen=True):
    """One kind of meat. Percents are of the raw edible weight, exact; sodium is mg per 100 g.

    fat is what to assume as bought; low..high is its range as bought, widened by the spread model where `spread`
    is true (the source holds too few entries to give one). lean_only: with every visible bit of fat cut off.
    bone: percent of the piece as bought that is not meat, and bone_what says what it is. None means not known.
    ndb, ndb_bought, ndb_lean: the SR28 entries behind fat, range and lean_only; `source` puts it in words.
    """

    key: str
    species: str
    kind: str
    names: tuple[str, ...]
    fat: Fraction
    low: Fraction
    high: Fraction
    lean_only: Fraction | None
    water: Fraction | None
    protein: Fraction | None
    sodium: Fraction | None
    bone: Fraction | None
    bone_what: str
    spread: bool
    ndb: tuple[str, ...]
    ndb_bought: tuple[str, ...]
    ndb_lean: tuple[str, ...]
    source: str
    note: str

    @property
    def cured(self) -> bool:
        """True for bacon, ham, salt pork and the like, which bring salt and usually nitrite."""
        return self.kind == "cured"

    @property
    def salted(self) -> bool:
        """True where the meat already holds salt, cured or not."""
        return self.kind in ("cured", "seasoned")


class CutBook(Struct, frozen=True):
    """The whole of the cuts file. `names` maps every lower-case name and ambiguous word to the keys it may mean;
    `absent` maps names without a figure to the key of the nearest row, "" where there is none."""

    cuts: Mapping[str, CutRow]
    names: Mapping[str, tuple[str, ...]]
    ambiguous: Mapping[str, AmbiguousWord]
    absent: Mapping[str, str]


def spread_half(fat: Fraction) -> Fraction:
    """Half the width of the range to take for a cut with a single source entry, in points of fat.

    fat: percent. With m the scarcer part, min(fat, 100 - fat): half = min(m, max(1, 0.182 * m)), so that suet at
    94 % cannot spread past 100 nor moose at 0.7 % below 0. 0.182 is computed from SR28, the rest a choice, no source.
    """
    scarcer = min(fat, PERCENT - fat)
    return min(scarcer, max(SPREAD_LEAST, SPREAD_SHARE * scarcer))


def parse_cuts(text: str, file: str = FILE) -> CutBook:
    """The cuts file's text as a CutBook. Raises BadTable for the first row that is wrong."""
    table = Table(file, text, ("cut", "ambiguous", "absent"))
    rows: dict[str, CutRow] = {}
    names: dict[str, tuple[str, ...]] = {}
    for row in table.rows("cut"):
        cut = _cut(row)
        rows[cut.key] = cut
        for name in (cut.key, *cut.names):
            claim(names, name, (cut.key,), row)
    ambiguous = read_ambiguous(table, rows, names)
    absent = _absent(table, rows, names)
    return CutBook(
        cuts=MappingProxyType(rows),
        names=MappingProxyType(names),
        ambiguous=MappingProxyType(ambiguous),
        absent=MappingProxyType(absent),
    )


def _cut(row: Row) -> CutRow:
    fat = row.number("fat", most=PERCENT)
    low, high = _range(row, fat)
    spread = row.flag("spread")
    if spread:
        half = spread_half(fat)
        low, high = min(low, fat - half), max(high, fat + half)
    lean_only = row.maybe("lean_only", most=PERCENT)
    if lean_only is not None and lean_only > fat:
        raise row.bad("lean_only", "is above fat")
    ndb = _entries(row, "ndb")
    cut = CutRow(
        key=row.key,
        species=row.text("species"),
        kind=row.choice("kind", KINDS, "cut"),
        names=row.words("names", required=False),
        fat=fat,
        low=low,
        high=high,
        lean_only=lean_only,
        water=row.maybe("water", most=PERCENT),
        protein=row.maybe("protein", most=PERCENT),
        sodium=row.maybe("sodium"),
        bone=row.maybe("bone", most=PERCENT),
        bone_what=row.text("bone_what", ""),
        spread=spread,
        ndb=ndb,
        ndb_bought=_entries(row, "bought") or ndb,
        ndb_lean=_entries(row, "lean"),
        source=_source(row, ndb),
        note=row.text("note", ""),
    )
    row.done()
    return cut


def _range(row: Row, fat: Fraction) -> tuple[Fraction, Fraction]:
    """The range as bought; an end that is not given is the figure itself."""
    low, high = row.maybe("low", most=PERCENT), row.maybe("high", most=PERCENT)
    low, high = fat if low is None else low, fat if high is None else high
    if low > fat:
        raise row.bad("low", "is above fat")
    if high < fat:
        raise row.bad("high", "is below fat")
    return low, high


def _entries(row: Row, field: str) -> tuple[str, ...]:
    """NDB numbers, five digits each, written with spaces between."""
    entries = tuple(row.text(field, "").split())
    for entry in entries:
        if len(entry) != 5 or not entry.isdigit():
            raise row.bad(field, f"{entry!r} is not an NDB number")
    return entries


def _source(row: Row, ndb: tuple[str, ...]) -> str:
    """The row's own source, or SR28 with the entries; a row with neither is refused."""
    if ndb:
        given = row.text("source", "")
        return given or f"{SOURCE} {', '.join(ndb)}"
    return row.text("source")


def _absent(table: Table, rows: Mapping[str, CutRow], names: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    found: dict[str, str] = {}
    for row in table.rows("absent", key_field="name"):
        closest = row.text("closest", "")
        known(row, "closest", [closest] if closest else [], rows)
        for name in (row.key, *row.words("also", required=False)):
            if name in names or name in found:
                raise row.bad("name", f"{name!r} is used twice")
            found[name] = closest
        row.done()
    return found
