"""An answer in plain lines that read aloud in order: no boxes, no colour, label and value on one line."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.answer import Answer
from assistant.render import words
from assistant.render.lines import NARROWEST, WIDEST_PROSE, fill


def render(answer: Answer, width: int = 72, ascii_only: bool = False) -> str:
    """The answer as lines of at most `width` columns (100 at most), each ended by a newline.

    In this order: message and headline, figures, steps, cautions, notes. Nothing of these is left out.
    """
    room = min(max(width, NARROWEST), WIDEST_PROSE)
    lines: list[str] = []
    for text, first, rest in _paragraphs(answer):
        lines.extend(fill(words.say(text, ascii_only), room, first, rest) or [""])
    return "".join(line + "\n" for line in lines)


def _paragraphs(answer: Answer) -> Iterator[tuple[str, str, str]]:
    """Each paragraph, with what opens its first line and its later lines."""
    answer = words.page(answer)
    for text in words.opening(answer):
        yield text, "", ""
    for line in answer.document:
        yield line, "", "  "
    for figure in words.figures(answer):
        fat = words.assumed_fat(figure)
        yield f"{figure.name}: {words.amount(figure)}" + (f", {fat}" if fat else ""), "  ", "    "
    for number, step in enumerate(answer.steps, start=1):
        yield step, f"{number}. ", "   "
    for reminder in answer.cautions:
        yield words.caution(reminder), "", "  "
    for note in words.notes(answer):
        yield f"Note: {note}", "", "  "
