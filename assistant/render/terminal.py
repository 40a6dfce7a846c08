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
from assistant.render import drawings, words
from assistant.render.lines import NARROWEST, WIDEST_PROSE, cells, fill, widest_piece

_GAP = 2
_MARGIN = 2
_LEAST_NAME = 8
_LEAN_AND_FAT = "lean | fat"


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
    square = drawings.square(answer, prose, ascii_only)
    for line in square:
        console.print(Text(line), no_wrap=True, overflow="ignore", crop=False)
    figures = () if square else words.figures(answer)
    if figures:
        _draw_figures(console, figures, prose, ascii_only)
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
    """The table: names, amounts, and for cuts the fat assumed and their share as a bar."""
    names = [words.say(figure.name, ascii_only) for figure in figures]
    amounts = [words.say(words.amount(figure), ascii_only) for figure in figures]
    fats = [words.say(words.assumed_fat(figure), ascii_only) for figure in figures]
    longest = max(map(cells, [*names, _LEAN_AND_FAT] if drawings.pair(figures) else names))
    name_width = min(longest, max(_LEAST_NAME, (width - _MARGIN - _GAP) // 2))
    room = width - _MARGIN - name_width - _GAP
    if widest_piece([*amounts, *fats]) > room:
        _list_figures(console, names, amounts, fats, width)
        return
    with_fat = [row for row, fat in enumerate(fats) if fat]
    amount_width = max((cells(amounts[row]) for row in with_fat), default=0)
    fat_width = max(map(cells, fats))
    left = room - amount_width - _GAP - fat_width
    beside = bool(with_fat) and left >= 0
    shares = drawings.bars(figures, min(left - _GAP, drawings.MOST_BAR), ascii_only) if beside else []
    split = drawings.lean_and_fat(figures, room, ascii_only)
    for row, name in enumerate(names):
        if split and figures[row].role is Role.LEAN:
            _print_row(console, fill(_LEAN_AND_FAT, name_width), [split], name_width)
            continue
        cells_beside = fill(amounts[row], room) or [""]
        if fats[row] and beside:
            shown = [drawings.padded(amounts[row], amount_width), drawings.padded(fats[row], fat_width)]
            cells_beside = [(" " * _GAP).join([*shown, shares[row]] if shares else shown)]
        elif fats[row]:  # no room beside it: below the weight, where it still cannot be overlooked
            cells_beside += fill(fats[row], room)
        _print_row(console, fill(name, name_width) or [""], cells_beside, name_width)


def _print_row(console: Console, name: Sequence[str], beside: Sequence[str], name_width: int) -> None:
    for number in range(max(len(name), len(beside))):
        label = drawings.padded(name[number] if number < len(name) else "", name_width)
        text = " " * _MARGIN + label + " " * _GAP + (beside[number] if number < len(beside) else "")
        console.print(Text(text.rstrip()), no_wrap=True, overflow="ignore", crop=False)


def _list_figures(
    console: Console, names: Sequence[str], amounts: Sequence[str], fats: Sequence[str], width: int
) -> None:
    """The layout for narrow terminals: one figure after another."""
    for name, shown, fat in zip(names, amounts, fats, strict=True):
        for line in fill(f"{name}: {shown}" + (f", {fat}" if fat else ""), width, " " * _MARGIN, " " * (_MARGIN + 2)):
            console.print(Text(line), no_wrap=True, overflow="ignore", crop=False)
