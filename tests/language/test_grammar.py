"""The grammar takes every sequence of its terminals: whatever the lexer hands over, no sentence runs into a dead end."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lark import Lark, Token, Transformer
from lark.lexer import Lexer

from assistant.built import grammar_folder
from assistant.language.grammar import phrases
from assistant.language.lexer import lex
from assistant.language.looking import Piece
from assistant.language.parse_table import DeadEnd, walk
from assistant.language.phrases import Phrases
from assistant.language.text import clean
from tests.requests import judge
from tests.strategies import any_text

REQUESTS = sorted((Path(__file__).parents[1] / "requests").glob("*.jsonl"))
UNITS = {
    "WNUM": "MASS",
    "VNUM": "VOLUME",
    "PNUM": "PCT",
    "MNUM": "CUR",
    "LNUM": "LENGTH",
    "TNUM": "TIME",
    "DNUM": "DEGREE",
}
"""A number with a unit comes in two terminals, which the lexer always emits together."""


def source() -> str:
    """The grammar's own text."""
    return (grammar_folder() / "phrases.lark").read_text(encoding="utf-8")


def terminals() -> list[str]:
    """Every terminal that the grammar declares."""
    return [name for line in re.findall(r"^%declare (.+)$", source(), re.MULTILINE) for name in line.split()]


ATOMS: list[tuple[str, ...]] = [
    *UNITS.items(),
    *((name,) for name in terminals() if name not in UNITS and name not in UNITS.values()),
]


def parses(sequence: tuple[tuple[str, ...], ...]) -> bool:
    """Whether the grammar takes these terminals."""
    pieces = [Piece(name, "x", 0, 0) for atom in sequence for name in atom]
    try:
        walk(pieces, lambda _rule, _parts: None)
    except DeadEnd:
        return False
    return True


def test_the_atoms_are_all_the_terminals_there_are() -> None:
    assert {name for atom in ATOMS for name in atom} == set(terminals())
    assert len(ATOMS) > 35


@pytest.mark.parametrize("length", [0, 1, 2])
def test_every_short_sequence_is_a_sentence(length: int) -> None:
    dead = [sequence for sequence in itertools.product(ATOMS, repeat=length) if not parses(sequence)]
    assert dead == []


@pytest.mark.slow
def test_every_sequence_of_three_is_a_sentence() -> None:
    dead = [sequence for sequence in itertools.product(ATOMS, repeat=3) if not parses(sequence)]
    assert dead == []


@given(st.lists(st.sampled_from(ATOMS), max_size=40).map(tuple))
def test_every_long_sequence_is_a_sentence(sequence: tuple[tuple[str, ...], ...]) -> None:
    assert parses(sequence)


@given(any_text())
def test_the_lexer_never_parts_a_number_from_its_unit(typed: str) -> None:
    kinds = [str(piece.type) for piece in lex(clean(typed).text).pieces]
    for kind, after in zip([*kinds, ""], [*kinds[1:], "", ""], strict=False):
        assert kind not in UNITS or after == UNITS[kind]
    for before, kind in itertools.pairwise(["", *kinds]):
        assert kind not in UNITS.values() or UNITS.get(before) == kind


class Bare(Lexer):
    """Hands lark pieces as tokens of its own."""

    def __init__(self, _settings: object) -> None: ...

    def lex(self, data: Any, _state: Any = None) -> Iterator[Token]:
        """The pieces, each under the name of its terminal."""
        yield from (Token(piece.type, piece) for piece in data)


def test_the_walk_makes_what_lark_makes_of_every_request() -> None:
    """Lark's own parser and tree, with the same methods called on it, beside our walk over its table."""
    lark = Lark(source(), parser="lalr", lexer=Bare)
    lines = {turn for path in REQUESTS for case in judge.read_cases(path) for turn in case["turns"]}
    assert len(lines) > 500
    for line in sorted(lines):
        text = clean(line).text[:500]
        pieces = lex(text).pieces
        methods = Phrases(text)

        class Made(Transformer[Token, Any]):
            def __default__(self, data: Any, children: list[Any], _meta: Any, methods: Phrases = methods) -> Any:
                return methods.make(str(data), [part.value if isinstance(part, Token) else part for part in children])

        assert tuple(Made().transform(lark.parse(cast(Any, pieces)))) == phrases(pieces, text), line


def test_a_number_without_what_it_counts_is_no_sentence() -> None:
    # the lexer always hands over the two together; alone it is a fault of ours, and raised as one
    assert not parses((("PNUM",),))
