"""What the notebook keeps: frozen records with exact numbers, and their form as JSON-ready data.

Fractions travel as text ("340/3"), times as ISO 8601 with their offset, so that a round trip loses nothing.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import fields, replace

from assistant.errors import BadInput

NAME_LIMIT = 80
REMARK_LIMIT = 2000

# Control and format characters (bidirectional overrides among them), lone surrogates: a terminal may obey them.
_UNPRINTABLE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
# Format characters that scripts and emoji need to be spelled right: zero-width joiner and non-joiner.
_NEEDED_FORMAT = frozenset({"\u200c", "\u200d"})


class CleanText(Struct, frozen=True):
    """Text fit to be stored and shown. removed: the code points taken out, such as "U+202E", in order."""

    text: str
    removed: tuple[str, ...] = ()


class Part(Struct, frozen=True):
    """One cut of a batch. grams: as planned; fat, low, high: percent points; weighed: grams truly put in."""

    cut: str
    grams: Fraction
    fat: Fraction | None = None
    low: Fraction | None = None
    high: Fraction | None = None
    weighed: Fraction | None = None

    @property
    def used(self) -> Fraction:
        """Grams that went in: as weighed, else as planned."""
        return self.grams if self.weighed is None else self.weighed


class Seasoned(Struct, frozen=True):
    """One seasoning: grams where known, and the amount in the unit it was said in (such as 2 "teaspoon"), both as
    planned; weighed: grams truly put in."""

    name: str
    grams: Fraction | None = None
    amount: Fraction | None = None
    unit: str = ""
    weighed: Fraction | None = None

    @property
    def used(self) -> Fraction | None:
        """Grams that went in: as weighed, else as planned where that is known."""
        return self.grams if self.weighed is None else self.weighed


class Remark(Struct, frozen=True):
    """A note on a batch. at: aware time of writing."""

    at: datetime
    text: str


class Batch(Struct, frozen=True):
    """A batch as saved. id 0 and saved_at None mean: not saved yet.

    version: 1 for the first batch of its name, 2 for the second, and so on.
    target_fat, fat, fat_low, fat_high: percent points. patty_grams: grams a patty. cost: in currency (ISO 4217).
    rating: out of rating_top. units: "us" or "metric" as the cook speaks. request: JSON text, opaque here.
    """

    name: str
    parts: tuple[Part, ...] = ()
    target_fat: Fraction | None = None
    fat: Fraction | None = None
    fat_low: Fraction | None = None
    fat_high: Fraction | None = None
    seasonings: tuple[Seasoned, ...] = ()
    patty_grams: Fraction | None = None
    patty_count: int | None = None
    cost: Fraction | None = None
    currency: str = ""
    rating: Fraction | None = None
    rating_top: int = 5
    remarks: tuple[Remark, ...] = ()
    tags: tuple[str, ...] = ()
    units: str = ""
    request: str = ""
    id: int = 0
    version: int = 1
    saved_at: datetime | None = None

    @property
    def grams(self) -> Fraction:
        """Planned weight of all cuts, in grams."""
        return sum((part.grams for part in self.parts), Fraction(0))

    @property
    def cuts_weighed(self) -> bool:
        """Whether what was truly weighed is written down for any cut."""
        return any(part.weighed is not None for part in self.parts)

    @property
    def was_weighed(self) -> bool:
        """Whether what was truly weighed is written down for any cut or seasoning."""
        return self.cuts_weighed or any(item.weighed is not None for item in self.seasonings)

    @property
    def score(self) -> Fraction | None:
        """The rating as a share of its top, 0 to 1, so that 8 of 10 and 4 of 5 compare as equals."""
        return None if self.rating is None else self.rating / self.rating_top


def as_weighed(batch: Batch) -> Batch:
    """The batch as it was truly made: weights as weighed, the fat that follows from them, and the patties they give.

    What was eaten and rated is this one; where nothing was weighed, it is the batch as planned.
    """
    seasonings = tuple(item if item.weighed is None else Seasoned(item.name, item.weighed) for item in batch.seasonings)
    batch = replace(batch, seasonings=seasonings)
    if not batch.cuts_weighed:
        return batch
    parts = tuple(replace(part, grams=part.used) for part in batch.parts)
    whole = sum((part.grams for part in parts), Fraction(0))
    count = batch.patty_count
    return replace(
        batch,
        parts=parts,
        fat=mean_by_weight(parts, "fat"),
        fat_low=mean_by_weight(parts, "low"),
        fat_high=mean_by_weight(parts, "high"),
        patty_count=int(count * whole / batch.grams) if count is not None and batch.grams else count,
    )


def mean_by_weight(parts: tuple[Part, ...], field: str) -> Fraction | None:
    """The mean of a part's figure (such as "fat") by planned weight; None where a part lacks it."""
    figures = [getattr(part, field) for part in parts]
    whole = sum((part.grams for part in parts), Fraction(0))
    if not whole or any(figure is None for figure in figures):
        return None
    return sum((part.grams * figure for part, figure in zip(parts, figures, strict=True)), Fraction(0)) / whole


class Stocked(Struct, frozen=True):
    """What is known of a cut in the fridge. grams in hand; price per kilogram in currency; fat: own figure, percent."""

    cut: str
    grams: Fraction | None = None
    price: Fraction | None = None
    currency: str = ""
    fat: Fraction | None = None
    updated: datetime | None = None


class TimerNote(Struct, frozen=True):
    """A running or paused timer. due: when it rings; paused: since when it stands still, None while it runs."""

    name: str
    due: datetime
    started: datetime
    paused: datetime | None = None


class PartChange(Struct, frozen=True):
    """One cut in two batches: grams and share of the batch (0 to 1) in each, None where the cut is absent."""

    cut: str
    grams: tuple[Fraction | None, Fraction | None]
    share: tuple[Fraction | None, Fraction | None]


class FieldChange(Struct, frozen=True):
    """One field that differs between two batches, with both values."""

    field: str
    values: tuple[Any, Any]


class Comparison(Struct, frozen=True):
    """Two batches side by side: every cut of either, and every other field that differs."""

    first: Batch
    second: Batch
    parts: tuple[PartChange, ...]
    fields: tuple[FieldChange, ...]


class Change(Struct, frozen=True):
    """A change that was made, or taken back. what: save, rate, forget …; name: of what it was made to."""

    what: str
    name: str
    at: datetime


# --- plain text -------------------------------------------------------------------------------------------------


def clean_text(text: str, limit: int = REMARK_LIMIT, argument: str = "text") -> CleanText:
    """Text without characters that a terminal or a reader's eye could be fooled by; all else stays as typed.

    Line breaks and tabs become spaces, blanks at the ends go. Raises BadInput where nothing is left or where
    more than `limit` characters are.
    """
    spaced = "".join(" " if char in "\t\n\r\v\f" else char for char in text)
    removed = tuple(f"U+{ord(char):04X}" for char in spaced if _is_unprintable(char))
    kept = "".join(char for char in spaced if not _is_unprintable(char)).strip()
    if not kept:
        raise BadInput(argument, text, "at least one letter, digit or sign")
    if len(kept) > limit:
        raise BadInput(argument, text, f"at most {limit} characters")
    return CleanText(kept, removed)


def clean_name(text: str) -> CleanText:
    """A batch's name fit to be stored: see clean_text; at most 80 characters."""
    return clean_text(text, NAME_LIMIT, "name")


def folded(text: str) -> str:
    """Text as it is compared: case, width and runs of blanks make no difference."""
    return " ".join(unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold()).split())


def _is_unprintable(char: str) -> bool:
    return unicodedata.category(char) in _UNPRINTABLE and char not in _NEEDED_FORMAT


# --- records as data and back -----------------------------------------------------------------------------------


def as_data(record: Any) -> dict[str, Any]:
    """A record as JSON-ready data, field by field."""
    return {field.name: _plain(getattr(record, field.name)) for field in fields(record)}


def _plain(value: Any) -> Any:
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return as_data(value) if isinstance(value, Struct) else value


def batch_from(data: Mapping[str, Any]) -> Batch:
    """A batch from its data. Raises ValueError, naming the field, where anything is missing, extra or ill-typed."""
    return Batch(**_read(data, _BATCH))


def stocked_from(data: Mapping[str, Any]) -> Stocked:
    """Stock from its data; errors as batch_from."""
    return Stocked(**_read(data, _STOCKED))


def timer_from(data: Mapping[str, Any]) -> TimerNote:
    """A timer from its data; errors as batch_from."""
    return TimerNote(**_read(data, _TIMER))


_Reader = Callable[[Any], Any]


def _read(
    data: Mapping[str, Any], readers: Mapping[str, _Reader], newer: frozenset[str] = frozenset()
) -> dict[str, Any]:
    """newer: fields that an older notebook does not write; they keep their defaults."""
    if not isinstance(data, Mapping) or not set(readers) - newer <= set(data) <= set(readers):
        raise ValueError(f"fields {sorted(data)} instead of {sorted(readers)}")
    return {name: _read_field(name, data[name], reader) for name, reader in readers.items() if name in data}


def _read_field(name: str, value: Any, reader: _Reader) -> Any:
    try:
        return reader(value)
    except (TypeError, ValueError, ZeroDivisionError) as error:
        raise ValueError(f"{name}: {error}") from None


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is not text")
    return value


def _whole(value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise ValueError(f"{value!r} is not a whole number")
    return value


def _exact(value: Any) -> Fraction:
    above, stroke, below = _text(value).partition("/")
    if above.isdecimal() and (below.isdecimal() or not stroke):
        return Fraction(int(above), int(below or "1"))  # as it is written; Fraction reads text several times as slowly
    return Fraction(value)


def _time(value: Any) -> datetime:
    moment = datetime.fromisoformat(_text(value))
    if moment.tzinfo is None:
        raise ValueError(f"{value!r} has no offset from UTC")
    return moment


def _maybe(reader: _Reader) -> _Reader:
    return lambda value: None if value is None else reader(value)


def _each(reader: _Reader) -> _Reader:
    def read(value: Any) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise ValueError(f"{value!r} is not a list")
        return tuple(reader(item) for item in value)

    return read


_PART: dict[str, _Reader] = {
    "cut": _text,
    "grams": _exact,
    "fat": _maybe(_exact),
    "low": _maybe(_exact),
    "high": _maybe(_exact),
    "weighed": _maybe(_exact),
}
_SEASONED: dict[str, _Reader] = {
    "name": _text,
    "grams": _maybe(_exact),
    "amount": _maybe(_exact),
    "unit": _text,
    "weighed": _maybe(_exact),
}
_REMARK: dict[str, _Reader] = {"at": _time, "text": _text}
_BATCH: dict[str, _Reader] = {
    "name": _text,
    "parts": _each(lambda data: Part(**_read(data, _PART))),
    "target_fat": _maybe(_exact),
    "fat": _maybe(_exact),
    "fat_low": _maybe(_exact),
    "fat_high": _maybe(_exact),
    "seasonings": _each(lambda data: Seasoned(**_read(data, _SEASONED, frozenset({"weighed"})))),
    "patty_grams": _maybe(_exact),
    "patty_count": _maybe(_whole),
    "cost": _maybe(_exact),
    "currency": _text,
    "rating": _maybe(_exact),
    "rating_top": _whole,
    "remarks": _each(lambda data: Remark(**_read(data, _REMARK))),
    "tags": _each(_text),
    "units": _text,
    "request": _text,
    "id": _whole,
    "version": _whole,
    "saved_at": _maybe(_time),
}
_STOCKED: dict[str, _Reader] = {
    "cut": _text,
    "grams": _maybe(_exact),
    "price": _maybe(_exact),
    "currency": _text,
    "fat": _maybe(_exact),
    "updated": _maybe(_time),
}
_TIMER: dict[str, _Reader] = {"name": _text, "due": _time, "started": _time, "paused": _maybe(_time)}
