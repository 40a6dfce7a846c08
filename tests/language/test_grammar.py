"""The grammar takes every sequence of its terminals: whatever the lexer hands over, no sentence runs into a dead end."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lark import Token
from lark.exceptions import UnexpectedToken

from assistant.language.grammar import parser
from assistant.language.lexer import lex
from assistant.language.text import clean
from assistant.language.vocabulary import grammar_folder
from tests.strategies import any_text

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
    tokens = [Token(name, "x") for atom in sequence for name in atom]
    try:
        parser().parse(tokens)
    except UnexpectedToken:
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
