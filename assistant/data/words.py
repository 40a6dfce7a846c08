"""Names and the rows they mean: one owner for each name, and words with several readings said to be so."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from types import MappingProxyType

from msgspec import Struct

from assistant.data.tables import Row, Table

COUNTRIES = frozenset({"us", "uk", "au"})


class AmbiguousWord(Struct, frozen=True):
    """A word that could be several rows. default is the key to use when nothing else helps, "" for none.

    ask: true where guessing would be too risky. country: the reading by "us", "uk" or "au". note: what was assumed.
    """

    word: str
    keys: tuple[str, ...]
    default: str
    ask: bool
    question: str
    country: Mapping[str, str]
    note: str


def read_ambiguous(table: Table, rows: Container[str], names: dict[str, tuple[str, ...]]) -> dict[str, AmbiguousWord]:
    """The [[ambiguous]] rows of a file. rows: the keys there are; names: gains every ambiguous word.

    Raises BadTable for an unknown key or country, a word already taken, or no default where nothing is asked.
    """
    found: dict[str, AmbiguousWord] = {}
    for row in table.rows("ambiguous", key_field="word"):
        keys = row.words("keys")
        default = row.text("default", "")
        country = row.texts("country")
        known(row, "keys", keys, rows)
        known(row, "default", [default] if default else [], rows)
        known(row, "country", country.values(), rows)
        for place in country.keys() - COUNTRIES:
            raise row.bad("country", f"{place!r} is not one of {', '.join(sorted(COUNTRIES))}")
        ask = row.flag("ask")
        question = row.text("question", None if ask else "")
        note = row.text("note", "")
        if not ask and not default:
            raise row.bad("default", "is needed where nothing is asked")
        for word in (row.key, *row.words("also", required=False)):
            claim(names, word, keys, row)
            found[word] = AmbiguousWord(word, keys, default, ask, question, MappingProxyType(country), note)
        row.done()
    return found


def claim(names: dict[str, tuple[str, ...]], name: str, keys: tuple[str, ...], row: Row) -> None:
    """Give a name to its keys; two owners of one name would make the answer depend on the order of the file."""
    if name != name.lower():
        raise row.bad("names", f"{name!r} must be lower case")
    if name in names:
        raise row.bad("names", f"{name!r} also belongs to {', '.join(names[name])}")
    names[name] = keys


def known(row: Row, field: str, keys: Iterable[str], rows: Container[str]) -> None:
    """Raises BadTable where a row points at a key that is not there."""
    for key in keys:
        if key not in rows:
            raise row.bad(field, f"{key!r} is not a row of this file")
