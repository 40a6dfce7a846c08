"""Pictures of real screens for README: the program on a terminal of its own, drawn as SVG.

    python -m tests.pictures            tell whether the pictures are up to date
    python -m tests.pictures --update   draw them anew

The program's clock is held, so that the same program always gives the same picture.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from html import escape
from itertools import groupby
from pathlib import Path
from typing import Any

from tests.terminal.programs import STILL, Screen

FOLDER = Path(__file__).resolve().parents[1] / "transcripts_demo" / "screens"
CONVERSATIONS: dict[str, tuple[int, int, tuple[tuple[str, str], ...]]] = {
    "batch": (80, 35, (("3 lb at 80/20 from brisket trim and round", "type more"),)),
    "walk": (
        64,
        26,
        (
            ("2 kg at 80/20 from chuck and suet into 150 g patties", "air dry"),
            ("walk me through it", "What do you grind with"),
            ("no grinder, just a food processor", "Step 1 of"),
            ("next", "Step 2 of"),
            ("next", "Shall I set a timer"),
            ("yes", "until 1:35 pm"),
            ("meat's out", "2 h left"),
        ),
    ),
    "why": (
        40,
        31,
        (("5 lb at 80/20 from sirloin at 8% fat and suet at 94% fat", "air dry"), ("why", "Square:")),
    ),
}
"""Columns, rows, and what is typed, each with words of the answer to wait for."""
WIDE, HIGH, MARGIN, SIZE = 8.4, 18, 14, 14
PAPER, INK = "#fbfaf6", "#22262b"
INKS = {"default": INK, "brown": "#8a5a00"}
"""pyte calls yellow brown; on paper it has to be dark to be read."""


def drawn(columns: int, rows: int, lines: Sequence[tuple[str, str]]) -> str:
    """The screen after these lines were typed, as SVG."""
    with tempfile.TemporaryDirectory() as home:
        talk = Screen(Path(home), columns, program=STILL, rows=rows)
        talk.until("\n>")
        for line, answered in lines:
            talk.send(line + "\r")
            talk.until(answered)
            talk.until("\n>")
        talk.read(1)
        picture = svg(talk.screen)
        talk.send("\x04")
        talk.end()
    return picture


def svg(screen: Any) -> str:
    """A terminal's screen as SVG: one line of text for each row, bold and yellow kept, no font fetched from anywhere."""
    used = max(number for number, line in enumerate(screen.display) if line.strip()) + 1
    width, height = screen.columns * WIDE + 2 * MARGIN, used * HIGH + 2 * MARGIN
    rows = [_row(screen, number) for number in range(used)]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" role="img">',
            f'<rect width="100%" height="100%" rx="6" fill="{PAPER}"/>',
            f'<g font-family="ui-monospace, Menlo, Consolas, DejaVu Sans Mono, monospace" font-size="{SIZE}" fill="{INK}">',
            *filter(None, rows),
            "</g>",
            "</svg>\n",
        ]
    )


def _row(screen: Any, number: int) -> str:
    chars = [screen.buffer[number][column] for column in range(screen.columns)]
    length = len("".join(char.data for char in chars).rstrip())
    pieces = []
    at = 0
    for (bold, ink), run in groupby(chars[:length], key=lambda char: (char.bold, char.fg)):
        text = "".join(char.data for char in run)
        weight = ' font-weight="bold"' if bold else ""
        fill = f' fill="{INKS.get(ink, INK)}"' if ink in INKS and ink != "default" else ""
        # the length is given so that every font keeps the columns
        pieces.append(
            f'<tspan x="{MARGIN + at * WIDE:g}" textLength="{len(text) * WIDE:g}" lengthAdjust="spacingAndGlyphs"'
            f"{weight}{fill}>{escape(text)}</tspan>"
        )
        at += len(text)
    return (
        f'<text xml:space="preserve" y="{MARGIN + (number + 0.75) * HIGH:g}">{"".join(pieces)}</text>' if pieces else ""
    )


def main(arguments: Sequence[str]) -> int:
    """0 where every picture is up to date, or was drawn anew; 1 where one is not."""
    old = []
    for name, (columns, rows, lines) in CONVERSATIONS.items():
        picture, file = drawn(columns, rows, lines), FOLDER / f"{name}.svg"
        if "--update" in arguments:
            FOLDER.mkdir(exist_ok=True)
            file.write_text(picture, encoding="utf-8")
        elif not file.exists() or file.read_text(encoding="utf-8") != picture:
            old.append(name)
    if old:
        print(f"Not what the program shows now: {', '.join(old)}. python -m tests.pictures --update")
    return 1 if old else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
