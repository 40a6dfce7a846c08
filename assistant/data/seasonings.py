"""Salt, spices, liquids and binders: what a spoon of each weighs, the sodium in it, and its allergens.

Spoon weights are from the weight table of USDA SR28 (public domain) where it has the thing, in US spoons
(teaspoon 4.93 mL, tablespoon 14.79 mL, cup 236.6 mL). Anything else says what it rests on.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from msgspec import Struct

from assistant.data.tables import Row, Table
from assistant.data.words import AmbiguousWord, claim, read_ambiguous

FILE = "seasonings.toml"
MEASURES = ("tsp", "tbsp", "cup", "fl_oz", "each")
TEASPOONS_PER_TABLESPOON = 3
ALLERGENS = frozenset({"wheat", "barley", "milk", "egg", "soy", "mustard", "celery", "fish", "molluscs", "sesame"})


class SpoonWeight(Struct, frozen=True):
    """Grams in one measure. low and high are equal to it where an official table gives one figure.

    derived: true where a teaspoon was taken as a third of the tablespoon, or the tablespoon as three teaspoons.
    """

    grams: Fraction
    low: Fraction
    high: Fraction
    derived: bool


class Seasoning(Struct, frozen=True):
    """One thing that goes into the meat beside meat.

    weights: by measure ("tsp", "tbsp", "cup", "fl_oz", "each"); a measure that is not there has no figure.
    each_what: what one of it is, such as "clove". sodium: mg per 100 g, None where not known. salt: true for what is
    wholly salt. density: g/mL for liquids, else None. allergens: the usual ones; a label may hold more.
    """

    key: str
    names: tuple[str, ...]
    form: str
    weights: Mapping[str, SpoonWeight]
    each_what: str
    sodium: Fraction | None
    salt: bool
    density: Fraction | None
    allergens: tuple[str, ...]
    ndb: str
    source: str
    note: str


class CuringSalt(Struct, frozen=True):
    """A nitrite or nitrate cure: it must be weighed, so no spoon weight is kept for it anywhere."""

    key: str
    names: tuple[str, ...]
    rule: str


class SaltLevel(Struct, frozen=True):
    """The usual added salt for one kind of ground meat, as percent of the meat's weight."""

    key: str
    low: Fraction
    high: Fraction
    source: str


class SeasoningBook(Struct, frozen=True):
    """The whole of the seasonings file. `names` maps each name, ambiguous words too, to the keys it may mean."""

    seasonings: Mapping[str, Seasoning]
    names: Mapping[str, tuple[str, ...]]
    ambiguous: Mapping[str, AmbiguousWord]
    curing_salts: Mapping[str, CuringSalt]
    salt_levels: Mapping[str, SaltLevel]


def parse_seasonings(text: str, file: str = FILE) -> SeasoningBook:
    """The seasonings file's text as a SeasoningBook. Raises BadTable for the first row that is wrong."""
    table = Table(file, text, ("seasoning", "ambiguous", "curing_salt", "salt_level"))
    names: dict[str, tuple[str, ...]] = {}
    rows: dict[str, Seasoning] = {}
    for row in table.rows("seasoning"):
        seasoning = _seasoning(row)
        rows[seasoning.key] = seasoning
        for name in (seasoning.key, *seasoning.names):
            claim(names, name, (seasoning.key,), row)
    ambiguous = read_ambiguous(table, rows, names)
    cures: dict[str, CuringSalt] = {}
    taken = dict(names)
    for row in table.rows("curing_salt"):
        cure = CuringSalt(row.key, row.words("names"), row.text("rule"))
        row.done()
        for name in (cure.key, *cure.names):
            claim(taken, name, (cure.key,), row)
            cures[name] = cure
    levels: dict[str, SaltLevel] = {}
    for row in table.rows("salt_level"):
        levels[row.key] = _salt_level(row)
    return SeasoningBook(
        seasonings=MappingProxyType(rows),
        names=MappingProxyType(names),
        ambiguous=MappingProxyType(ambiguous),
        curing_salts=MappingProxyType(cures),
        salt_levels=MappingProxyType(levels),
    )


def _seasoning(row: Row) -> Seasoning:
    ndb = row.text("ndb", "")
    if ndb and (len(ndb) != 5 or not ndb.isdigit()):
        raise row.bad("ndb", f"{ndb!r} is not an NDB number")
    source = row.text("source", "") if ndb else row.text("source")
    allergens = row.words("allergens", required=False)
    for allergen in allergens:
        if allergen not in ALLERGENS:
            raise row.bad("allergens", f"{allergen!r} is not one of {', '.join(sorted(ALLERGENS))}")
    seasoning = Seasoning(
        key=row.key,
        names=row.words("names", required=False),
        form=row.text("form", ""),
        weights=MappingProxyType(_weights(row)),
        each_what=row.text("each_what", ""),
        sodium=row.maybe("sodium"),
        salt=row.flag("salt"),
        density=row.maybe("density"),
        allergens=allergens,
        ndb=ndb,
        source=source or f"USDA SR28 {ndb}",
        note=row.text("note", ""),
    )
    row.done()
    return seasoning


def _weights(row: Row) -> dict[str, SpoonWeight]:
    weights: dict[str, SpoonWeight] = {}
    for measure in MEASURES:
        grams = row.maybe(measure)
        low, high = row.maybe(f"{measure}_low"), row.maybe(f"{measure}_high")
        if grams is None:
            if low is not None or high is not None:
                raise row.bad(measure, "has a range and no figure")
            continue
        low, high = grams if low is None else low, grams if high is None else high
        if not 0 < low <= grams <= high:
            raise row.bad(measure, f"{grams} is not above 0 and inside {low}..{high}")
        weights[measure] = SpoonWeight(grams, low, high, derived=False)
    _fill_spoon(weights, "tsp", "tbsp", Fraction(1, TEASPOONS_PER_TABLESPOON))
    _fill_spoon(weights, "tbsp", "tsp", Fraction(TEASPOONS_PER_TABLESPOON))
    return weights


def _fill_spoon(weights: dict[str, SpoonWeight], missing: str, known: str, ratio: Fraction) -> None:
    """Give the missing spoon from the other one: the table often holds only one of the two."""
    if missing in weights or known not in weights:
        return
    other = weights[known]
    weights[missing] = SpoonWeight(other.grams * ratio, other.low * ratio, other.high * ratio, derived=True)


def _salt_level(row: Row) -> SaltLevel:
    level = SaltLevel(row.key, row.number("low", most=100), row.number("high", most=100), row.text("source"))
    row.done()
    if level.low > level.high:
        raise row.bad("low", "is above high")
    return level
