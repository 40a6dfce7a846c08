"""Slow work on constant files, done once: what the grammar, the words and the data tables come to, as JSON in the package.

`python -m assistant.building` writes it, and so does installing or building the package. It is used only while its
sources are the very ones that it was made of; else the work is done again in memory, and nothing is written.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, TypeVar
from zlib import crc32

from msgspec import json

T = TypeVar("T")

PACKAGE = Path(__file__).parent
FOLDER = PACKAGE / "_built"
MAKERS: dict[str, Callable[[], Any]] = {}
"""What makes each table from its sources, by the name it is kept under; filled by `kept`."""


def kept(name: str, kind: type[T]) -> Callable[[Callable[[], T]], Callable[[], T]]:
    """A decorator for a function that makes a table of type `kind`: called once a process, and read where it is built."""

    def decorate(make: Callable[[], T]) -> Callable[[], T]:
        MAKERS[name] = make

        @cache
        def table() -> T:
            found = read(name, kind)
            return make() if found is None else found

        return table

    return decorate


def read(name: str, kind: type[T]) -> T | None:
    """A table as it was built; None where it was not, or its sources have changed since."""
    found = _read(name)
    return None if found is None else json.decode(found, type=kind, dec_hook=_exact)


def write(name: str) -> None:
    """Make one table and keep it. Raises KeyError for a name that nothing makes, OSError where it cannot be written."""
    FOLDER.mkdir(exist_ok=True)
    body = json.encode(MAKERS[name](), enc_hook=_plain)
    (FOLDER / f"{name}.json").write_bytes(stamp() + b"\n" + body)


@cache
def grammar_folder() -> Path:
    """Where the grammar lies: inside the installed package, else beside it in a checkout."""
    packed = PACKAGE / "_grammar"
    return packed if packed.is_dir() else PACKAGE.parent / "grammar"


@cache
def stamp() -> bytes:
    """A mark of every file that the tables come from, the code that reads them included."""
    grammar = grammar_folder()
    sources = [PACKAGE / "needles.py", *grammar.glob("*.lark"), *(grammar / "words").glob("*.toml")]
    sources += [path for part in ("data", "language") for path in (PACKAGE / part).iterdir()]
    mark = 0
    for path in sorted(path for path in sources if path.suffix in (".lark", ".toml", ".txt", ".py")):
        mark = crc32(path.read_bytes(), crc32(path.name.encode(), mark))
    return b"%08x" % mark


def _read(name: str) -> bytes | None:
    try:
        mark, _, body = (FOLDER / f"{name}.json").read_bytes().partition(b"\n")
    except OSError:
        return None
    return body if mark == stamp() else None


def _plain(value: Any) -> Any:
    return str(value) if isinstance(value, Fraction) else dict(value)


def _exact(_kind: type[Any], text: str) -> Fraction:
    """A fraction of `_plain`; several times quicker than Fraction's own reading of text."""
    above, _, below = text.partition("/")
    return Fraction(int(above), int(below or "1"))
