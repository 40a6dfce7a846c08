"""An answer for a person at a terminal: figures in columns with shares drawn as bars, numbered steps, dim notes.

Everything is broken into lines here, by our own rule that never parts a number from its unit; rich only
colours what it is given. Text enters rich as Text and never as markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from io import StringIO

from rich.console import Console
from rich.text import Text

from assistant.answer import Answer, Figure, Role, Status
from assistant.render import words
from assistant.render.lines import NARROWEST, WIDEST_PROSE, cells, fill

_GAP = 2
_MARGIN = 2
_LEAST_NAME = 8
_LEAST_BAR, _MOST_BAR = 6, 24
_FULL, _HALF, _FULL_ASCII = "█", "▌", "#"


def render(answer: Answer, width: int = 80, color: bool = False, ascii_only: bool = False) -> str:
    """The answer laid out for a terminal of `width` columns, each line ended by a newline.

    Without color there is not one escape in it. Order: message and headline, figures, steps, cautions, notes.
    """
    room = max(width, NARROWEST)
    out = StringIO()
    console = Console(
        file=out,
        width=room,
        force_terminal=color,
        color_system="standard" if color else None,
        no_color=not color,
        legacy_windows=False,
        markup=False,
        emoji=False,
        highlight=False,
        _environ={},
    )
    _draw(console, answer, room, ascii_only)
    return "".join(line.rstrip(" ") + "\n" for line in out.getvalue().splitlines())


def _draw(console: Console, answer: Answer, width: int, ascii_only: bool) -> None:
    prose = min(width, WIDEST_PROSE)

    def paragraph(text: str, style: str = "", first: str = "", rest: str = "") -> None:
        for line in fill(words.say(text, ascii_only), prose, first, rest) or [""]:
            console.print(Text(line, style=style), no_wrap=True, overflow="ignore", crop=False)

    answer = words.page(answer)
    for number, text in enumerate(words.opening(answer)):
        paragraph(text, style="" if number else _opening_style(answer))
    for line in answer.document:
        paragraph(line, rest="  ")
    if answer.figures:
        _draw_figures(console, answer.figures, prose, ascii_only)
    for number, step in enumerate(answer.steps, start=1):
        mark = f"{number:>2}. "
        paragraph(step, first=mark, rest=" " * len(mark))
    for reminder in answer.cautions:
        paragraph(words.caution(reminder), style="yellow", rest="  ")
    for note in words.notes(answer):
        paragraph(note, style="dim", first="- ", rest="  ")


def _opening_style(answer: Answer) -> str:
    return "bold" if answer.status is Status.ANSWERED else "bold yellow"


# ---- figures


def _draw_figures(console: Console, figures: Sequence[Figure], width: int, ascii_only: bool) -> None:
    names = [words.say(figure.name, ascii_only) for figure in figures]
    amounts = [words.say(words.amount(figure), ascii_only) for figure in figures]
    fats = [words.say(words.assumed_fat(figure), ascii_only) for figure in figures]
    widest = max(map(cells, amounts))
    name_room = width - _MARGIN - _GAP - widest
    if name_room < _LEAST_NAME:
        _list_figures(console, names, amounts, fats, width)
        return
    name_width = min(max(map(cells, names)), name_room)
    left = name_room - name_width - _GAP
    fat_width = max(map(cells, fats))
    show_fat = 0 < fat_width <= left
    if show_fat:
        left -= fat_width + _GAP
    bars = _bars(figures, min(left, _MOST_BAR), ascii_only)
    for row, name in enumerate(names):
        lines = fill(name, name_width) or [""]
        if fats[row] and not show_fat:  # no room beside it: below the name, where it still cannot be overlooked
            lines += fill(fats[row], name_width)
        beside = [_padded(amounts[row], widest)]
        beside += [_padded(fats[row], fat_width)] if show_fat else []
        beside += [bars[row]] if bars else []
        for number, line in enumerate(lines):
            columns = [_padded(line, name_width), *(beside if number == 0 else [])]
            text = " " * _MARGIN + (" " * _GAP).join(columns)
            console.print(Text(text.rstrip()), no_wrap=True, overflow="ignore", crop=False)


def _padded(text: str, width: int) -> str:
    """Text filled up with blanks, by the same count of columns that broke it into lines: two rulers would disagree."""
    return text + " " * (width - cells(text))


def _list_figures(
    console: Console, names: Sequence[str], amounts: Sequence[str], fats: Sequence[str], width: int
) -> None:
    """The layout for narrow terminals: one figure after another."""
    for name, shown, fat in zip(names, amounts, fats, strict=True):
        for line in fill(f"{name}: {shown}" + (f", {fat}" if fat else ""), width, " " * _MARGIN, " " * (_MARGIN + 2)):
            console.print(Text(line), no_wrap=True, overflow="ignore", crop=False)


def _bars(figures: Sequence[Figure], longest: int, ascii_only: bool) -> list[str]:
    """A bar for each component, as long as its share of the batch; nothing where there is no room or no share."""
    parts = [
        figure.value for figure in figures if figure.role is Role.COMPONENT and isinstance(figure.value, int | float)
    ]
    units = {figure.unit for figure in figures if figure.role is Role.COMPONENT}
    whole = sum(parts)
    if longest < _LEAST_BAR or len(parts) < 2 or len(units) != 1 or whole <= 0 or min(parts) < 0:
        return []
    return [
        _bar(figure.value / whole, longest, ascii_only)
        if figure.role is Role.COMPONENT and isinstance(figure.value, int | float)
        else ""
        for figure in figures
    ]


def _bar(share: float, longest: int, ascii_only: bool) -> str:
    halves = round(share * longest * 2)
    if ascii_only:
        return _FULL_ASCII * max(halves // 2, 1 if share else 0)
    return _FULL * (halves // 2) + _HALF * (halves % 2 or (halves == 0 and share > 0))
