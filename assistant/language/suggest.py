"""Ways to go on with a line: completion of the last words from names of cuts, seasonings, batches and openings."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Final, Protocol

from assistant import data
from assistant.language.text import fold

MOST: Final = 8
"""Suggestions at a time: more than fit under the line help nobody."""

_LONGEST_NAME: Final = 4
"""Words of a line's end that may be the beginning of one name ("top round ca")."""

_SHORTEST: Final = 2
"""Letters that must be there: one letter begins too many names to be a help."""


class HasExamples(Protocol):
    """What is needed of a topic here: its examples, which show how a request may open."""

    @property
    def examples(self) -> tuple[str, ...]:
        """Requests of this kind as a cook would write them."""


def suggest(text: str, names: Mapping[str, str], topics: Sequence[HasExamples]) -> list[str]:
    """Up to MOST ways to go on with `text`, each the whole line as it would then stand; the same for the same input.

    names: names the notebook knows, folded -> as kept. topics: whose examples open an empty or a first word.
    Case does not count. The longest end of the line that begins a name is completed; openings come first, then the
    notebook's names, then cuts and seasonings, shorter names before longer ones.
    """
    line = text.lstrip()
    if not line:
        return [topic.examples[0] for topic in topics if topic.examples][:MOST]
    found = [example for example in _openings(line, topics) if fold(example) != fold(line)]
    found += _endings(line, names)
    return list(dict.fromkeys(found))[:MOST]


def _openings(line: str, topics: Sequence[HasExamples]) -> list[str]:
    start = fold(line)
    if len(start) < _SHORTEST:
        return []
    return [example for topic in topics for example in topic.examples if fold(example).startswith(start)]


def _endings(line: str, names: Mapping[str, str]) -> list[str]:
    """The line with its last words completed; nothing after a finished word and its space."""
    words = line.split(" ")
    if not words[-1]:
        return []
    for count in range(min(_LONGEST_NAME, len(words)), 0, -1):
        end = fold(" ".join(words[-count:]))
        if len(end) < _SHORTEST:
            continue
        completed = [*_beginning(end, sorted(names.values())), *_beginning_known(end)]
        if completed:
            before = " ".join(words[:-count])
            return [f"{before} {name}".lstrip() for name in completed]
    return []


def _beginning(end: str, kept: Iterable[str]) -> list[str]:
    return [name for name in kept if fold(name).startswith(end) and fold(name) != end]


def _beginning_known(end: str) -> list[str]:
    """Names of cuts and seasonings that begin so, the shortest first."""
    known = _known()
    at = bisect_left(known, (end, ""))
    found = []
    while at < len(known) and known[at][0].startswith(end):
        if known[at][0] != end:
            found.append(known[at][1])
        at += 1
    return sorted(found, key=lambda name: (len(name), name))


@cache
def _known() -> tuple[tuple[str, str], ...]:
    """(folded, as written) of every name of a cut or seasoning, in order."""
    names = {*data.cut_names(), *data.seasoning_names()}
    return tuple(sorted((fold(name), name) for name in names if "," not in name))
