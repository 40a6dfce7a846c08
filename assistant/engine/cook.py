"""What cooking leaves: weight, size and fat, from published yields handed in as rows."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Protocol

from msgspec import Struct

from assistant.engine.kinds import HUNDRED, above_nothing, exact
from assistant.engine.portion import LEAST_SHRINK, MOST_SHRINK, SHRINK, length
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

ANY = "any"
"""In a row: the table does not say which, so it stands for every form or method."""


class YieldRow(Protocol):
    """A line of a table of yields: cooked weight in percent of raw, for raw fat above fat_from up to fat_to."""

    @property
    def species(self) -> str: ...
    @property
    def form(self) -> str: ...
    @property
    def method(self) -> str: ...
    @property
    def fat_from(self) -> Fraction: ...
    @property
    def fat_to(self) -> Fraction: ...
    @property
    def percent(self) -> Fraction: ...
    @property
    def low(self) -> Fraction | None: ...
    @property
    def high(self) -> Fraction | None: ...
    @property
    def source(self) -> str: ...


class CookedYield(Struct, frozen=True):
    """Cooked weight in percent of raw, its range (ends None where the table gives none), and whose figure it is.

    exact_match: False where the table does not say for which form or method its figure holds.
    """

    percent: Ranged[Fraction]
    source: str
    exact_match: bool = True


def cooked_yield(
    rows: Sequence[YieldRow],
    fat: Fraction,
    method: str,
    species: str = "beef",
    form: str = "patty",
    fat_range: tuple[Fraction, Fraction] | None = None,
) -> CookedYield | None:
    """The published yield for raw meat of so much fat (percent), or None where the rows hold none.

    method, species, form: as the rows spell them; a row for "any" is used where no other fits. The table steps from
    one class of fat to the next; fat_range (percent) widens the range to every class the fat may really be in.
    Raises BadInput.
    """
    exact("fat", fat, high=HUNDRED)
    low, high = (fat, fat) if fat_range is None else fat_range
    exact("fat_range", high, low=exact("fat_range", low, high=fat), high=HUNDRED)
    if high < fat:
        raise BadInput("fat_range", fat_range, f"a range with {fat} in it")
    fitting = [row for row in rows if row.species == species and row.form == form and row.method == method]
    vague = [row for row in rows if row.species == species and row.form in (form, ANY) and row.method in (method, ANY)]
    for kin in (fitting, vague):
        found = _class_of(kin, fat)
        if found is not None:
            break
    else:
        return None
    touched = [row for row in kin if _holds(row, low, high)]
    return CookedYield(
        percent=Ranged(found.percent, _end(touched, lowest=True), _end(touched, lowest=False)),
        source=found.source,
        exact_match=ANY not in (found.form, found.method),
    )


def _class_of(rows: Sequence[YieldRow], fat: Fraction) -> YieldRow | None:
    return next((row for row in rows if _holds(row, fat, fat)), None)


def _holds(row: YieldRow, low: Fraction, high: Fraction) -> bool:
    """Whether any fat from low to high is above the row's fat_from and up to its fat_to; 0 counts in the first row."""
    return (high > row.fat_from or (high == row.fat_from == 0)) and low <= row.fat_to


def _end(rows: Sequence[YieldRow], *, lowest: bool) -> Fraction | None:
    ends = [row.low if lowest else row.high for row in rows]
    known = [end for end in ends if end is not None]
    if not known or len(known) < len(ends):
        return None
    return min(known) if lowest else max(known)


def cooked_from_raw(raw: Fraction, percent: Ranged[Fraction]) -> Ranged[Fraction]:
    """Cooked grams from raw grams: raw x yield, with the yield's range. Raises BadInput."""
    grams = exact("raw", raw)
    low = None if percent.low is None else grams * percent.low / HUNDRED
    high = None if percent.high is None else grams * percent.high / HUNDRED
    return Ranged(grams * above_nothing("percent", percent.value) / HUNDRED, low, high)


def raw_for_cooked(cooked: Fraction, percent: Ranged[Fraction]) -> Ranged[Fraction]:
    """Raw grams for so many cooked grams: cooked / yield. The high end is what is needed at the lowest yield.

    Raises BadInput.
    """
    grams = exact("cooked", cooked)
    low = None if percent.high is None else grams * HUNDRED / above_nothing("percent", percent.high)
    high = None if percent.low is None else grams * HUNDRED / above_nothing("percent", percent.low)
    return Ranged(grams * HUNDRED / above_nothing("percent", percent.value), low, high)


def cooked_diameter(raw: float) -> Ranged[float]:
    """How wide a patty is once cooked, in the unit of raw: portion.SHRINK, common practice. Raises BadInput."""
    width = length("raw", raw)
    shrunk = [width * float(1 - percent / HUNDRED) for percent in (SHRINK, MOST_SHRINK, LEAST_SHRINK)]
    return Ranged(*shrunk)


def fat_kept(raw_fat: Fraction, cooked_fat: Fraction, percent: Fraction) -> Fraction:
    """Percent of the raw meat's fat that is still in it once cooked: yield x cooked fat / raw fat.

    raw_fat, cooked_fat: percent of the raw and of the cooked weight; percent: the yield. A little above 100 for the
    leanest meat only means that raw and cooked samples differed. Raises BadInput.
    """
    left = exact("cooked_fat", cooked_fat, high=HUNDRED) * above_nothing("percent", percent)
    return left / above_nothing("raw_fat", raw_fat)
