"""What raw meat weighs once cooked, and the fat still in it."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant.data.tables import Row, Table

FILE = "yields.toml"
PERCENT = 100
FORMS = frozenset({"patty", "crumbles", "loaf", "sausage", "slices", "any"})
METHODS = frozenset({"broiled", "pan-broiled", "pan-browned", "pan-fried", "baked", "microwaved", "any"})
FAT_CLASSES = frozenset({"low", "medium", "high", "any"})


class CookedYield(Struct, frozen=True):
    """Cooked weight as percent of raw, exact. "broiled" covers grilling.

    It holds for raw fat above fat_from up to fat_to, in percent. low..high: smallest and largest group of samples,
    None where the table does not say; samples: how many groups.
    """

    key: str
    species: str
    form: str
    method: str
    fat_class: str
    fat_from: Fraction
    fat_to: Fraction
    percent: Fraction
    low: Fraction | None
    high: Fraction | None
    samples: int | None
    source: str
    note: str


class CookedFat(Struct, frozen=True):
    """Ground beef before and after: raw and cooked fat in percent of the raw and the cooked weight, for one way to
    cook it. The SR28 entries stand beside it."""

    raw_fat: Fraction
    form: str
    method: str
    cooked_fat: Fraction
    ndb_raw: str
    ndb_cooked: str
    source: str


class YieldBook(Struct, frozen=True):
    """The whole of the yields file."""

    yields: tuple[CookedYield, ...]
    cooked_fats: tuple[CookedFat, ...]


def parse_yields(text: str, file: str = FILE) -> YieldBook:
    """The yields file's text as a YieldBook. Raises BadTable for the first row that is wrong."""
    table = Table(file, text, ("yield", "cooked_fat"))
    return YieldBook(
        yields=tuple(_cooked_yield(row) for row in table.rows("yield")),
        cooked_fats=tuple(_cooked_fat(row) for row in table.rows("cooked_fat")),
    )


def _cooked_yield(row: Row) -> CookedYield:
    samples = row.maybe("samples")
    if samples is not None and (samples.denominator != 1 or samples < 1):
        raise row.bad("samples", f"{samples} is not a whole number of one or more")
    found = CookedYield(
        key=row.key,
        species=row.text("species"),
        form=row.choice("form", FORMS),
        method=row.choice("method", METHODS),
        fat_class=row.choice("fat_class", FAT_CLASSES, "any"),
        fat_from=row.maybe("fat_from", most=PERCENT) or Fraction(0),
        fat_to=_or(row.maybe("fat_to", most=PERCENT), PERCENT),
        percent=row.number("percent", most=PERCENT),
        low=row.maybe("low", most=PERCENT),
        high=row.maybe("high", most=PERCENT),
        samples=None if samples is None else int(samples),
        source=row.text("source"),
        note=row.text("note", ""),
    )
    row.done()
    if found.fat_from >= found.fat_to:
        raise row.bad("fat_from", "is not below fat_to")
    if found.low is not None and found.low > found.percent:
        raise row.bad("low", "is above percent")
    if found.high is not None and found.high < found.percent:
        raise row.bad("high", "is below percent")
    return found


def _cooked_fat(row: Row) -> CookedFat:
    found = CookedFat(
        raw_fat=row.number("raw_fat", most=PERCENT),
        form=row.choice("form", FORMS),
        method=row.choice("method", METHODS),
        cooked_fat=row.number("cooked_fat", most=PERCENT),
        ndb_raw=row.text("ndb_raw"),
        ndb_cooked=row.text("ndb_cooked"),
        source="USDA SR28",
    )
    row.done()
    return found


def _or(value: Fraction | None, default: int) -> Fraction:
    return Fraction(default) if value is None else value
