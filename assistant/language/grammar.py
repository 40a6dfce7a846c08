"""The one call that turns terminals into phrases."""

from __future__ import annotations

from assistant.language.looking import Piece
from assistant.language.parse_table import walk
from assistant.language.phrases import Phrase, Phrases


def phrases(pieces: tuple[Piece, ...], text: str) -> tuple[Phrase, ...]:
    """The phrases of a lexed request. The grammar takes any order, so this cannot fail on known terminals."""
    return tuple(walk(pieces, Phrases(text).make))
