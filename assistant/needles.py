"""What a text must hold for a regular expression to match in it, so that most need never be compiled.

`needles` reads a parsed expression and finds a few pieces of plain text of which every match holds at least one, as
"(?:save|keep)\\s+it" holds "save" or "keep". That takes as long as compiling, so it is done when the package is built.
It goes through the expression from the outside in and keeps, wherever a part can be told word by word, all its words; the
pieces of the best part are the answer. What it does not know it takes as anything at all, which only ever costs a needle.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from re import _constants as op
from re import _parser
from typing import Any

_MOST = 40
"""Words of one part that are kept apart; looking for more in a text would cost as much as the expression."""
_SHORTEST = 3
"""Letters of a needle: shorter ones lie in most lines."""

Words = frozenset[str]


def needles(text: str, flags: int) -> tuple[str, ...]:
    """Pieces in lower case of which one stands in every text, in ASCII and lower case, that the expression matches in; none
    where that cannot be told. Raises re.error for a text that is no expression."""
    found = _Part(_parser.parse(text, flags))
    return tuple(sorted(found.best)) if found.best is not None else ()


class _Part:
    """One part of an expression. words: all that it can be, where that is a few words; best: the needles found in it."""

    def __init__(self, parsed: Iterable[tuple[Any, Any]]) -> None:
        self.words: Words | None = frozenset([""])
        self.best: Words | None = None
        self._run: Words = frozenset([""])
        """What can stand before the place that is looked at, back to the last one that was not told word by word."""
        for kind, content in parsed:
            self._add(kind, content)
        self._close()

    def _add(self, kind: Any, content: Any) -> None:
        if kind in (op.AT, op.ASSERT, op.ASSERT_NOT):
            return  # takes up nothing; what a look ahead asks for is left alone
        words, best = _told(kind, content)
        self._offer(best)
        both = None if words is None else frozenset(map("".join, product(self._run, words)))
        if both is None or len(both) > _MOST:
            self.words = None
            self._close()
            both = words if words is not None and len(words) <= _MOST else frozenset([""])
        self._run = both
        if self.words is not None:
            self.words = both

    def _close(self) -> None:
        self._offer(self._run)
        self._run = frozenset([""])

    def _offer(self, words: Words | None) -> None:
        """Take these for the best needles, if they are needles and better than those found before."""
        if words is None or any((len(word) < _SHORTEST and word.isalnum()) or not word.strip() for word in words):
            return
        if self.best is None or _worth(words) > _worth(self.best):
            # "rates" lies nowhere without "rate"
            self.best = frozenset(word for word in words if not any(word != one and one in word for one in words))


def _worth(words: Words) -> tuple[int, int]:
    """Long needles are rare, and few are soon looked for."""
    return min(4, *map(len, words)), -len(words)


def _told(kind: Any, content: Any) -> tuple[Words | None, Words | None]:
    """All words that a step of an expression can be, and the needles in it."""
    if kind is op.LITERAL:
        return (frozenset([chr(content).lower()]) if content < 128 else None), None
    if kind is op.IN and all(one is op.LITERAL and value < 128 for one, value in content):
        return frozenset(chr(value).lower() for _, value in content), None
    if kind is op.SUBPATTERN:
        part = _Part(content[-1])
        return part.words, part.best
    if kind is op.BRANCH:
        parts = [_Part(branch) for branch in content[1]]
        return _all(part.words for part in parts), _all(part.best for part in parts)
    if kind in (op.MAX_REPEAT, op.MIN_REPEAT):
        least, most, inner = content
        part = _Part(inner)
        if (least, most) == (0, 1):
            return (None if part.words is None else part.words | {""}), None
        return None, part.best if least else None
    return None, None


def _all(found: Iterable[Words | None]) -> Words | None:
    """Everything that one of several parts can be; None where one of them cannot be told."""
    joined: set[str] = set()
    for words in found:
        if words is None:
            return None
        joined |= words
    return frozenset(joined)
