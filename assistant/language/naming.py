"""Names that a cook gives to a batch ("save that as fair stall"): free text, found before words are read."""

from __future__ import annotations

import re

_NAMING = re.compile(
    r"""\b(?:save|log|store|keep|record|put|file|note|write|jot)\b[^.;?!]*?\s(?:as|called|named|under|name)\s+(?P<name>[^;?!]+?)
        \s*(?:[,;?!]\s*(?=[0-9]|rat|scor|and\b)|\.(?:\s|$)|$)
      | \b(?:rename)\b[^.;?!]*?\sto\s+(?P<new>[^;?!]+?)\s*(?:\.(?:\s|$)|$)
      | \bcall\s+(?:it|this|that|this\ one|that\ one|the\ batch|this\ batch)\s+(?!about|around|approx|[0-9])(?P<called>[^,;?!]+?)\s*(?:\.(?:\s|$)|$)
    """,
    re.VERBOSE | re.IGNORECASE,
)


def new_names(text: str) -> list[tuple[int, int, str]]:
    """(first, last, name) of each name given in a cleaned request."""
    found = []
    for match in _NAMING.finditer(text):
        group = match.lastgroup or "name"
        name = match.group(group).strip().strip("\"'").strip()
        if name:
            start = match.start(group) + (len(match.group(group)) - len(match.group(group).lstrip()))
            found.append((start, match.end(group), name))
    return found
