"""The LALR table of grammar/phrases.lark, made by lark, and the walk over it that turns terminals into phrases.

Lark reads the grammar, checks it and makes the table when the package is built. Walking a table needs twenty lines
and no lark, whose import would take longer than the whole of the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any, Protocol

from msgspec import Struct

from assistant import built

END = "$END"


class Terminal(Protocol):
    """What is needed of a piece here."""

    @property
    def type(self) -> str:
        """The grammar's name for it."""


class Rule(Struct, frozen=True):
    """One rule. name: what it makes; takes: the rules and terminals it is made of; helper: lark made it for a repetition, so that
    what it takes goes straight into the rule around it; single: of one thing alone it makes just that thing."""

    name: str
    takes: tuple[str, ...]
    helper: bool
    single: bool


class ParseTable(Struct, frozen=True):
    """moves: per state, the terminal or rule name to the next state, or -1 - n for "reduce by rule n"."""

    rules: tuple[Rule, ...]
    moves: tuple[dict[str, int], ...]
    start: int
    end: int


class DeadEnd(Exception):
    """The grammar has no sentence that goes on so. Its tests show that no line of a person leads here."""


@built.kept("grammar", ParseTable)
def parse_table() -> ParseTable:
    """The table of the grammar as it stands."""
    return make((built.grammar_folder() / "phrases.lark").read_text(encoding="utf-8"))


def make(grammar: str) -> ParseTable:
    """The table that lark makes of a grammar's text. Raises lark's own errors for a grammar with a fault."""
    from lark import Lark, Token
    from lark.lexer import Lexer
    from lark.parsers.lalr_analysis import Shift

    class NoCharacters(Lexer):
        """Lark wants a lexer; ours works apart from it, on the words."""

        def __init__(self, _settings: object) -> None: ...

        def lex(self, _state: object, _parser_state: object) -> Iterator[Token]:
            return iter(())

    table = Lark(grammar, parser="lalr", lexer=NoCharacters).parser.parser._parse_table
    start, end = table.start_states["start"], table.end_states["start"]
    number = {start: 0}
    for state in (found := [start]):
        # in the order of the names, for lark's own numbers differ from one run to the next
        for _name, (act, after) in sorted(table.states[state].items()):
            if act is Shift and after not in number:
                number[after] = len(number)
                found.append(after)
    reduced = {rule for moves in table.states.values() for act, rule in moves.values() if act is not Shift}
    rules = sorted(reduced, key=lambda rule: (rule.origin.name, [part.name for part in rule.expansion]))
    place = {rule: at for at, rule in enumerate(rules)}
    return ParseTable(
        rules=tuple(
            Rule(
                str(rule.origin.name),
                tuple(str(part.name) for part in rule.expansion),
                rule.origin.name.startswith("_"),
                rule.options.expand1,
            )
            for rule in rules
        ),
        moves=tuple(
            {str(name): number[arg] if act is Shift else -1 - place[arg] for name, (act, arg) in moves.items()}
            for moves in (table.states[state] for state in found)
        ),
        start=number[start],
        end=number[end],
    )


class _Spliced(list[Any]):
    """What a helper rule took: the rule around it takes these one by one."""


def walk(pieces: Iterable[Terminal], build: Callable[[str, list[Any]], Any]) -> Any:
    """What `build(rule name, its parts)` makes of the whole line. Raises DeadEnd."""
    table = parse_table()
    rules, moves, end = table.rules, table.moves, table.end
    states = [table.start]
    values: list[Any] = []
    for piece in pieces:
        _reduce(piece.type, rules, moves, states, values, build)
        states.append(moves[states[-1]][piece.type])
        values.append(piece)
    _reduce(END, rules, moves, states, values, build, end)
    return values[-1]


def _reduce(
    ahead: str,
    rules: tuple[Rule, ...],
    moves: tuple[dict[str, int], ...],
    states: list[int],
    values: list[Any],
    build: Callable[[str, list[Any]], Any],
    end: int = -1,
) -> None:
    """Close every rule that is complete before the terminal ahead."""
    while states[-1] != end:
        move = moves[states[-1]].get(ahead)
        if move is None:
            raise DeadEnd(f"{ahead} after {len(values)} parts")
        if move >= 0:
            return
        rule = rules[-1 - move]
        parts: list[Any] = []
        size = len(rule.takes)
        if size:
            for part in values[-size:]:
                if type(part) is _Spliced:
                    parts += part
                else:
                    parts.append(part)
            del values[-size:], states[-size:]
        if rule.helper:
            made: Any = _Spliced(parts)
        elif rule.single and len(parts) == 1:
            made = parts[0]
        else:
            made = build(rule.name, parts)
        values.append(made)
        states.append(moves[states[-1]][rule.name])
