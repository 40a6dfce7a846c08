"""The notebook as text: JSON lines that lose nothing and can be read back, and CSV for a spreadsheet.

JSON lines: the first line names the format, then comes one record a line (batch, stock, setting, timer), each with
its digest, and the last line tells how many there were, so that neither a changed nor a missing line goes unnoticed.
What undo remembers is not part of an export.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Any, TextIO

from msgspec import Struct
from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook.faults import BadExport
from assistant.notebook.records import Batch, Part, Seasoned, as_data, batch_from, clean_name, stocked_from, timer_from
from assistant.notebook.store import Notebook

FORMAT = 2
_READ_FORMATS = (1, FORMAT)  # format 1 says nothing of a seasoning as weighed
_HEAD = {"kind": "notebook", "program": "mincewise", "format": FORMAT}

CSV_COLUMNS = (
    "name", "version", "saved_at", "cut", "grams", "cut_fat", "cut_fat_low", "cut_fat_high", "weighed_grams",
    "batch_grams", "target_fat", "fat", "fat_low", "fat_high", "patty_grams", "patty_count", "cost", "currency",
    "rating", "rating_top", "seasonings", "tags", "remarks",
)  # fmt: skip


class Imported(Struct, frozen=True):
    """added: records taken in; left_out: names of those that were there already and stayed as they were."""

    added: int
    left_out: tuple[str, ...]


def export_jsonl(notebook: Notebook, stream: TextIO) -> int:
    """Write everything to stream, batches oldest first; returns the number of records.

    Raises NotebookDamaged before the first line where a row cannot be trusted.
    """
    records = [*_records(notebook)]
    _write_line(stream, _HEAD)
    for kind, record in records:
        _write_line(stream, {"kind": kind, "record": record, "digest": _digest(kind, record)})
    _write_line(stream, {"kind": "end", "records": len(records)})
    return len(records)


def import_jsonl(notebook: Notebook, stream: TextIO) -> Imported:
    """Take in an export, all of it or nothing; what is there already stays and is named in the result.

    Raises BadExport with the line where the file is not an export, was changed, or was cut short.
    """
    found: dict[str, list[Any]] = {kind: [] for kind in _READERS}
    for kind, record in _checked(stream):
        found[kind].append(record)
    added, left_out = notebook.take_in(found["batch"], found["stock"], dict(found["setting"]), found["timer"])
    return Imported(added, left_out)


def export_csv(notebook: Notebook, stream: TextIO) -> int:
    """Write one row a cut of every batch, oldest first, for a spreadsheet; returns the number of rows.

    Weights in grams, fat in percent; numbers as decimals, of six places where they never end (the JSON lines keep
    them exactly). Text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    import csv

    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(CSV_COLUMNS)
    rows = [row for batch in reversed(notebook.all()) for row in _csv_rows(batch)]
    writer.writerows(rows)
    return len(rows)


# --- JSON lines -----------------------------------------------------------------------------------------------------


def _records(notebook: Notebook) -> Iterator[tuple[str, Mapping[str, Any]]]:
    yield from (("batch", as_data(batch)) for batch in reversed(notebook.all()))
    yield from (("stock", as_data(item)) for item in notebook.stock())
    yield from (("setting", {"key": key, "value": value}) for key, value in notebook.settings().items())
    yield from (("timer", as_data(timer)) for timer in notebook.timers())


def _write_line(stream: TextIO, data: Mapping[str, Any]) -> None:
    stream.write(json.dumps(data, separators=(",", ":")) + "\n")


def _digest(kind: str, record: Mapping[str, Any]) -> str:
    from hashlib import sha256

    return sha256(json.dumps([kind, record], sort_keys=True).encode()).hexdigest()


def _batch(record: Mapping[str, Any]) -> Batch:
    """A batch with its name cleaned: an export may come from anybody."""
    batch = batch_from(record)
    if batch.saved_at is None:
        raise ValueError("saved_at: a saved batch has a time")
    return replace(batch, name=clean_name(batch.name).text)


def _setting(record: Mapping[str, Any]) -> tuple[str, str]:
    key, value = record["key"], record["value"]
    if not isinstance(key, str) or not isinstance(value, str):
        raise ValueError("a setting's key and value are texts")
    return key, value


_READERS: dict[str, Callable[[Mapping[str, Any]], Any]] = {
    "batch": _batch,
    "stock": stocked_from,
    "setting": _setting,
    "timer": timer_from,
}


def _checked(lines: Iterable[str]) -> Iterator[tuple[str, Any]]:
    """Every record of the export, read; BadExport at the first thing that is not as written."""
    number, ended = 0, False
    for number, line in enumerate(lines, start=1):
        data = _parsed(number, line)
        if number == 1:
            _check_head(data)
        elif ended:
            raise BadExport(number, "there is more after the last line")
        elif data.get("kind") == "end":
            _check_count(number, data)
            ended = True
        else:
            yield _record(number, data)
    if not ended:
        raise BadExport(number + 1, "the file is cut short: its last line is missing")


def _parsed(number: int, line: str) -> dict[str, Any]:
    try:
        data = json.loads(line)
    except ValueError:
        raise BadExport(number, "this is not a line of JSON") from None
    if not isinstance(data, dict):
        raise BadExport(number, "this is not a record")
    return data


def _check_head(data: Mapping[str, Any]) -> None:
    if data.get("kind") != _HEAD["kind"] or data.get("program") != _HEAD["program"]:
        raise BadExport(1, "this is not an export of a notebook")
    if data.get("format") not in _READ_FORMATS:
        raise BadExport(1, f"the export has format {data.get('format')!r}, and this program reads up to {FORMAT}")


def _check_count(number: int, data: Mapping[str, Any]) -> None:
    if data.get("records") != number - 2:
        raise BadExport(number, f"there should be {data.get('records')} records, and there are {number - 2}")


def _record(number: int, data: Mapping[str, Any]) -> tuple[str, Any]:
    kind, record = data.get("kind"), data.get("record")
    if kind not in _READERS or not isinstance(record, dict):
        raise BadExport(number, f"a record of the unknown kind {kind!r}")
    if data.get("digest") != _digest(kind, record):
        raise BadExport(number, "the record was changed after it was exported (its digest does not match)")
    try:
        return kind, _READERS[kind](record)
    except (ValueError, KeyError, BadInput) as error:
        raise BadExport(number, str(error)) from None


# --- CSV ------------------------------------------------------------------------------------------------------------


def _csv_rows(batch: Batch) -> Iterator[list[str]]:
    for part in batch.parts or (None,):
        yield [*_name_cells(batch), *_part_cells(part), *_batch_cells(batch)]


def _name_cells(batch: Batch) -> list[str]:
    saved = "" if batch.saved_at is None else batch.saved_at.isoformat(timespec="seconds")
    return [_cell(batch.name), str(batch.version), saved]


def _part_cells(part: Part | None) -> list[str]:
    if part is None:
        return [""] * 6
    numbers = (part.grams, part.fat, part.low, part.high, part.weighed)
    return [_cell(part.cut), *(_decimal(number) for number in numbers)]


def _batch_cells(batch: Batch) -> list[str]:
    fats = (batch.grams, batch.target_fat, batch.fat, batch.fat_low, batch.fat_high, batch.patty_grams)
    patties = "" if batch.patty_count is None else str(batch.patty_count)
    rating = [_decimal(batch.rating), "" if batch.rating is None else str(batch.rating_top)]
    seasonings = [_seasoning_cell(item) for item in batch.seasonings]
    remarks = [f"{remark.at:%Y-%m-%d}: {remark.text}" for remark in batch.remarks]
    texts = ["; ".join(seasonings), "; ".join(batch.tags), "; ".join(remarks)]
    numbers = [_decimal(number) for number in fats]
    return [*numbers, patties, _decimal(batch.cost), _cell(batch.currency), *rating, *(_cell(text) for text in texts)]


def _seasoning_cell(item: Seasoned) -> str:
    """ "salt 40 g (38 g weighed)"."""
    planned = f"{_decimal(item.grams)} g" if item.grams is not None else f"{_decimal(item.amount)} {item.unit}".strip()
    weighed = "" if item.weighed is None else f"({_decimal(item.weighed)} g weighed)"
    return " ".join(filter(None, (item.name, planned, weighed)))


def _cell(text: str) -> str:
    return f"'{text}" if text.startswith(("=", "+", "-", "@")) else text


def _decimal(number: Fraction | None) -> str:
    """A number as a decimal: all its places where they end within twelve, else six of them."""
    if number is None:
        return ""
    for places in range(13):
        scaled = number * 10**places
        if scaled.denominator == 1:
            return f"{_shifted(scaled.numerator, places)}"
    return _shifted(round(number * 10**6), 6)


def _shifted(digits: int, places: int) -> str:
    sign, text = ("-" if digits < 0 else ""), str(abs(digits)).rjust(places + 1, "0")
    return f"{sign}{text[:-places]}.{text[-places:]}" if places else f"{sign}{text}"
