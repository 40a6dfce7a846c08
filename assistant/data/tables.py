"""Reading the data files: every field is checked, and a bad row says exactly where it is wrong.

Decimals are read straight from the text into exact fractions, so 15.7 is 157/10 and never a rounded binary number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path

from assistant.errors import BadTable

SEPARATOR = ";"
"""Between the words of a list: a list in one string loads several times faster than a TOML array."""


def read_text(file: str) -> str:
    """The text of one data file that ships beside this module, for example "cuts.toml"."""
    return Path(__file__).with_name(file).read_text(encoding="utf-8")


def exact(text: str) -> Fraction:
    """A TOML float's text as an exact fraction: "15.7" is 157/10. Quicker than Fraction's own reading of text,
    which falls in only for exponents, infinities and the like (it refuses the latter)."""
    whole, _, decimals = text.partition(".")
    if decimals.isdigit() and whole.isdigit():
        return Fraction(int(whole + decimals), 10 ** len(decimals))
    return Fraction(text)


class Table:
    """One data file, parsed: its rows by section, and the sections themselves."""

    def __init__(self, file: str, text: str, sections: Iterable[str]) -> None:
        """sections: the only top-level names allowed. Raises BadTable where the file is not TOML or holds others."""
        import tomllib  # not needed where the tables are built

        self.file = file
        try:
            self._content: dict[str, object] = tomllib.loads(text, parse_float=exact)
        except ValueError as fault:  # TOML's own error is one, and so is a number that is no number
            raise BadTable(file, "", "", f"not readable as TOML: {fault}") from fault
        for section in self._content.keys() - set(sections):
            raise BadTable(file, section, "", "unknown section")

    def rows(self, section: str, key_field: str = "key") -> Iterator[Row]:
        """The rows of an array of tables, in the order of the file. Raises BadTable where a key is missing or twice."""
        seen: set[str] = set()
        found = self._content.get(section, [])
        if not isinstance(found, list):
            raise BadTable(self.file, section, "", "must be an array of tables")
        for place, fields in enumerate(found, start=1):
            if not isinstance(fields, dict):
                raise BadTable(self.file, f"{section} {place}", "", "must be a table")
            key = fields.get(key_field)
            if not isinstance(key, str) or not key:
                raise BadTable(self.file, f"{section} {place}", key_field, "missing")
            if key in seen:
                raise BadTable(self.file, key, key_field, "used by two rows")
            seen.add(key)
            yield Row(self.file, key, {name: value for name, value in fields.items() if name != key_field})

    def single(self, section: str) -> Row:
        """A section that is one table. Raises BadTable where it is missing."""
        found = self._content.get(section)
        if not isinstance(found, dict):
            raise BadTable(self.file, section, "", "missing")
        return Row(self.file, section, found)


class Row:
    """One row being read. Take each field once, then call `done`, which refuses whatever was not asked for."""

    def __init__(self, file: str, key: str, fields: Mapping[str, object]) -> None:
        self.file = file
        self.key = key
        self._left = dict(fields)

    def bad(self, field: str, problem: str) -> BadTable:
        """The error to raise for a field of this row."""
        return BadTable(self.file, self.key, field, problem)

    def text(self, field: str, default: str | None = None) -> str:
        """A text; without a default it must be there and not empty."""
        value = self._left.pop(field, default)
        if value is None or (default is None and value == ""):
            raise self.bad(field, "missing")
        if not isinstance(value, str):
            raise self.bad(field, f"must be text, is {value!r}")
        return value

    def choice(self, field: str, allowed: Iterable[str], default: str | None = None) -> str:
        """A text that is one of `allowed`, or the default where it is not given."""
        value = self.text(field, default)
        if value != default and value not in allowed:
            raise self.bad(field, f"{value!r} is not one of {', '.join(sorted(allowed))}")
        return value

    def words(self, field: str, *, required: bool = True) -> tuple[str, ...]:
        """A list written as one text with semicolons between; empty pieces are refused."""
        value = self.text(field, None if required else "")
        if not value:
            return ()
        pieces = tuple(piece.strip() for piece in value.split(SEPARATOR))
        if not all(pieces):
            raise self.bad(field, "has an empty piece")
        return pieces

    def flag(self, field: str) -> bool:
        """A yes or no; no where it is not given."""
        value = self._left.pop(field, False)
        if not isinstance(value, bool):
            raise self.bad(field, f"must be true or false, is {value!r}")
        return value

    def maybe(self, field: str, *, most: int | None = None) -> Fraction | None:
        """An exact number of zero or more, and no more than `most`; None where it is not given."""
        value = self._left.pop(field, None)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, (int, Fraction)):
            raise self.bad(field, f"must be a number, is {value!r}")
        # whole-number comparison: a Fraction compares several times slower, and this runs for every figure
        if value.numerator < 0 or (most is not None and value.numerator > most * value.denominator):
            raise self.bad(field, f"{value} is outside 0..{'' if most is None else most}")
        return value if isinstance(value, Fraction) else Fraction(value)

    def number(self, field: str, *, most: int | None = None) -> Fraction:
        """As `maybe`, but the field must be there."""
        value = self.maybe(field, most=most)
        if value is None:
            raise self.bad(field, "missing")
        return value

    def texts(self, field: str) -> dict[str, str]:
        """A small table of texts; empty where it is not given."""
        value = self._left.pop(field, {})
        if not isinstance(value, dict) or not all(isinstance(text, str) for text in value.values()):
            raise self.bad(field, f"must be a table of texts, is {value!r}")
        return dict(value)

    def done(self) -> None:
        """Raises BadTable where the row holds a field that nobody asked for."""
        for field in self._left:
            raise self.bad(field, "unknown field")
