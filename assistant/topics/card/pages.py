"""The recipe card and the label, line by line: the same card as plain text and as Markdown."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from assistant import wording
from assistant.answer import Answer, Figure, Role
from assistant.pattern import Pattern

TEXT_WIDTH = 72
_SPECIAL = Pattern(r"([\\`*_\[\]<>|#])")
_HELD = Pattern(r"(?<=[0-9¼-¾⅐-⅞]) (?=[A-Za-z°(])|(?<=[0-9]) (?=[0-9]+/[0-9])")
_NO_BREAK = "\N{NO-BREAK SPACE}"


class Part(Struct, frozen=True):
    """One part of a card: its heading, and its lines, numbered where they are done one after the other."""

    heading: str
    lines: tuple[str, ...]
    numbered: bool = False


class Card(Struct, frozen=True):
    """A recipe card: a title, a line below it, and the parts that have something to say."""

    title: str
    below: str
    parts: tuple[Part, ...]


def card_of(
    title: str, below: str, batch: Answer | None, timetable: Answer | None, moments: tuple[Figure, ...]
) -> Card:
    """The card of a batch and of the timetable for it, either of which may be missing. moments: of the timetable."""
    whole = timetable or batch
    assert whole is not None
    figures = batch.figures if batch is not None and batch.figures else whole.figures
    figures = tuple(figure for figure in figures if figure.role is not Role.CLOCK_TIME)
    cuts = tuple(_line(figure) for figure in figures if figure.role is Role.COMPONENT)
    spices = tuple(_line(figure) for figure in figures if figure.role is Role.SEASONING)
    rest = tuple(
        f"{figure.name}: {_shown(figure)}"
        for figure in figures
        if figure.role not in (Role.COMPONENT, Role.SEASONING) and (figure.shown or isinstance(figure.value, str))
    )
    parts = (
        Part("Cuts", cuts),
        Part("Seasoning", spices),
        Part("Amounts", rest),
        Part("Timetable", tuple(f"{figure.name}: {figure.shown}" for figure in moments)),
        Part("Steps", whole.steps, numbered=True),
        Part("Reminders", tuple(caution.text for caution in whole.cautions)),
        Part("Notes", tuple(dict.fromkeys((*(batch.notes if batch is not None else ()), *whole.notes)))),
    )
    return Card(title, below, tuple(part for part in parts if part.lines))


def _line(figure: Figure) -> str:
    fat = "" if figure.fat_percent is None else f" ({wording.percent(Fraction(figure.fat_percent))} fat)"
    return f"{_shown(figure)} {figure.name}{fat}"


def _shown(figure: Figure) -> str:
    return figure.shown or str(figure.value)


def as_text(card: Card) -> tuple[str, ...]:
    """Plain lines, not yet broken."""
    return tuple(_text(card))


def _text(card: Card) -> Iterator[str]:
    yield card.title
    yield card.below
    for part in card.parts:
        yield ""
        yield part.heading.upper()
        for number, line in enumerate(part.lines, 1):
            yield f"{number}. {line}" if part.numbered else f"- {line}"


def as_markdown(card: Card) -> tuple[str, ...]:
    """Markdown; what was typed by people is escaped, and means nothing but itself."""
    return tuple(_markdown(card))


def _markdown(card: Card) -> Iterator[str]:
    yield f"# {escaped(card.title)}"
    yield ""
    yield escaped(card.below)
    for part in card.parts:
        yield ""
        yield f"## {part.heading}"
        yield ""
        for number, line in enumerate(part.lines, 1):
            yield f"{number}. {escaped(line)}" if part.numbered else f"- {escaped(line)}"


def escaped(text: str) -> str:
    """Text that Markdown shows as it is."""
    return _SPECIAL.sub(r"\\\1", text)


def broken(lines: tuple[str, ...], width: int = TEXT_WIDTH) -> tuple[str, ...]:
    """Plain lines broken for paper, never between a number and its unit."""
    found: list[str] = []
    for line in lines:
        hang = "   " if re.match(r"[0-9]+\. ", line) else "  " if line.startswith("- ") else ""
        found += textwrap.wrap(_HELD.sub(_NO_BREAK, line), width, subsequent_indent=hang, break_on_hyphens=False) or [
            ""
        ]
    return tuple(line.replace(_NO_BREAK, " ") for line in found)
