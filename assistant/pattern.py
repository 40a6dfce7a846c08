"""Patterns of text that cost nothing until they are used.

A topic has many patterns and one request needs few of them; compiling them all took a seventh of every start.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from functools import cached_property


class Pattern:
    """A regular expression, compiled when it is first used; otherwise like that of the standard library."""

    def __init__(self, text: str, flags: int = 0) -> None:
        self._text = text
        self._flags = flags

    @cached_property
    def _compiled(self) -> re.Pattern[str]:
        return re.compile(self._text, self._flags)

    def match(self, text: str, first: int = 0) -> re.Match[str] | None:
        """The match that begins at `first`."""
        return self._compiled.match(text, first)

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """The match that takes up the whole text."""
        return self._compiled.fullmatch(text)

    def search(self, text: str, first: int = 0, after: int = sys.maxsize) -> re.Match[str] | None:
        """The first match from `first` on, and before `after`."""
        return self._compiled.search(text, first, after)

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Every match, from left to right."""
        return self._compiled.finditer(text)

    def split(self, text: str) -> list[str]:
        """The text between the matches."""
        return self._compiled.split(text)

    def sub(self, put: str | Callable[[re.Match[str]], str], text: str) -> str:
        """The text with every match replaced."""
        return self._compiled.sub(put, text)
