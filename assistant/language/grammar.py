"""The lark grammar, built once, and the one call that turns terminals into phrases."""

from __future__ import annotations

from functools import cache
from typing import Any, cast

from lark import Lark

from assistant.language.lexer import Piece, Ready
from assistant.language.phrases import Phrase, Phrases
from assistant.language.vocabulary import grammar_folder


@cache
def parser() -> Lark:
    """The LALR parser of grammar/phrases.lark over our own lexer."""
    text = (grammar_folder() / "phrases.lark").read_text(encoding="utf-8")
    return Lark(text, parser="lalr", lexer=Ready)


def phrases(pieces: tuple[Piece, ...], text: str) -> tuple[Phrase, ...]:
    """The phrases of a lexed request. The grammar takes any order, so this cannot fail on known terminals."""
    tree = parser().parse(cast(Any, pieces))
    return tuple(Phrases(text).transform(tree))
