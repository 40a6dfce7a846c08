"""Patterns of text that cost nothing until they are used.

A topic has many patterns and one request needs few of them; compiling them all took a seventh of every start. Of most it is
known besides which words a text must hold for them to match (`needles.py`, built into the package): a text without one is
told off at once, and the pattern is not even compiled for it.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from functools import cache, cached_property

from assistant import built

NEEDLES = "needles"


class Pattern:
    """A regular expression, compiled when a text may first match it; otherwise like that of the standard library."""

    def __init__(self, text: str, flags: int = 0) -> None:
        self.text = text
        self.flags = flags

    @property
    def key(self) -> str:
        """What its needles are kept under: itself, so that those of a pattern that was changed are not found."""
        return f"{int(self.flags)} {self.text}"

    @cached_property
    def _needles(self) -> tuple[str, ...]:
        return _all_needles().get(self.key, ())

    @cached_property
    def _compiled(self) -> re.Pattern[str]:
        return re.compile(self.text, self.flags)

    def _may_match(self, text: str) -> bool:
        # beyond ASCII one letter can match another (the long s an s): there the pattern itself has to look
        if not self._needles or not text.isascii():
            return True
        small = text.lower()
        return any(needle in small for needle in self._needles)

    def match(self, text: str, first: int = 0) -> re.Match[str] | None:
        """The match that begins at `first`."""
        return self._compiled.match(text, first) if self._may_match(text) else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """The match that takes up the whole text."""
        return self._compiled.fullmatch(text) if self._may_match(text) else None

    def search(self, text: str, first: int = 0, after: int = sys.maxsize) -> re.Match[str] | None:
        """The first match from `first` on, and before `after`."""
        return self._compiled.search(text, first, after) if self._may_match(text) else None

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Every match, from left to right."""
        return self._compiled.finditer(text) if self._may_match(text) else iter(())

    def split(self, text: str) -> list[str]:
        """The text between the matches."""
        return self._compiled.split(text) if self._may_match(text) else [text]

    def sub(self, put: str | Callable[[re.Match[str]], str], text: str) -> str:
        """The text with every match replaced."""
        return self._compiled.sub(put, text) if self._may_match(text) else text


@cache
def _all_needles() -> dict[str, tuple[str, ...]]:
    """Working them out takes as long as compiling: where they are not built, patterns do without."""
    return built.read(NEEDLES, dict[str, tuple[str, ...]]) or {}
