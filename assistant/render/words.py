"""Figures and cautions as words, the same in every renderer."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Caution, Figure
from assistant.pattern import Pattern
from assistant.render.clean import clean, to_ascii
from assistant.render.lines import GLUE, held_together

_UNIT_SHOWN = {"count": "", "1": "", "date": "", "time": "", "degF": "°F", "degC": "°C", "pound": "lb", "ounce": "oz"}
MOST_IN_A_LINE = 3
"""Figures that are read as well in a sentence as in a list."""
_ONE_NUMBER = Pattern(r"\D*\d+(?:\.(?P<decimals>\d+))?\D*")
_OPENERS = ("safety:", "warning:", "caution:", "careful:", "danger:", "stop:")


def say(text: str, ascii_only: bool) -> str:
    """Any text of an answer, ready for the screen."""
    cleaned = clean(text)
    return to_ascii(cleaned) if ascii_only else cleaned


def page(answer: Answer) -> Answer:
    """The answer as a screen shows it: a page that was asked for stands for the figures, steps and reminders in it."""
    return replace(answer, figures=(), steps=(), cautions=()) if answer.document else answer


def opening(answer: Answer) -> tuple[str, ...]:
    """What comes first: the message (an answer yes or no, a question, a refusal), then the headline."""
    return tuple(dict.fromkeys(text for text in (answer.message, answer.headline) if text.strip()))


def figures(answer: Answer) -> tuple[Figure, ...]:
    """The figures to list: none where they are few and the opening says every one of them, for then a list is an echo."""
    if len(answer.figures) > MOST_IN_A_LINE:
        return answer.figures
    told = f" {' '.join(opening(answer))} "
    said = all(re.search(rf"(?<![\w.]){re.escape(amount(figure))}(?![\w%])", told) for figure in answer.figures)
    return () if said and not any(figure.fat_percent is not None for figure in answer.figures) else answer.figures


def amount(figure: Figure) -> str:
    """A figure as people write it, with its bounds where it has any that its own wording does not give."""
    shown = figure.shown or _with_unit(_number(figure.value), figure.unit)
    if figure.low is None or figure.high is None or _names_a_range(shown):
        return shown
    low, high = _ends(figure.low, figure.high, figure.unit, figure.shown)
    return shown if low == high else f"{shown} ({low} to {high})"  # a range of nothing helps nobody


def _ends(low: float | str, high: float | str, unit: str, shown: str) -> tuple[str, str]:
    """The bounds, rounded as the figure between them is, so that it never stands outside; the unit with the last."""
    if isinstance(low, str) or isinstance(high, str):
        return str(low), str(high)
    if unit in wording.CURRENCY_SYMBOLS:
        return wording.money(low, unit), wording.money(high, unit)
    like = _ONE_NUMBER.fullmatch(shown)
    decimals = len(like["decimals"] or "") if like is not None else 0
    first, last = (_number(end, decimals or (1 if unit == "%" and shown else 2)) for end in (low, high))
    return (first, last) if first == last else (first, _with_unit(last, unit))


def assumed_fat(figure: Figure) -> str:
    """The fat that was assumed for a cut, to a tenth of a percent (no table knows it closer), or nothing."""
    return "" if figure.fat_percent is None else f"{f'{figure.fat_percent:.1f}'.removesuffix('.0')}% fat"


def caution(reminder: Caution) -> str:
    """A caution that begins with a word that says what it is, so that colour never carries it alone."""
    return reminder.text if reminder.text.lower().startswith(_OPENERS) else f"Safety: {reminder.text}"


def notes(answer: Answer) -> tuple[str, ...]:
    """The notes, and before them how the request was read where that says more than is on the screen already."""
    return (*([f"Read as: {answer.understood}"] if _reads_more(answer) else []), *answer.notes)


def _reads_more(answer: Answer) -> bool:
    """Whether the reading holds a figure that neither the line nor the answer to it shows: then it must be seen.

    Where every figure of it stands on the screen with its unit, reading it again helps nobody.
    """
    read = set(_figures_in(answer.understood))
    shown = [answer.heard, *opening(answer), *answer.steps, *answer.document]
    shown += [text for figure in answer.figures for text in (amount(figure), assumed_fat(figure))]
    return bool(read - {each for text in shown for each in _figures_in(text)})


def _figures_in(text: str) -> Iterator[str]:
    """Every number in the text with what is joined to it, such as "3 lb" or "80/20", written in one way."""
    for piece in held_together(text.replace("°", "")).split(" "):
        if any(char.isdigit() for char in piece):
            yield piece.replace(GLUE, "").strip(".,;:?!()\"'").lower()


def _names_a_range(shown: str) -> bool:
    return " to " in shown or "–" in shown or "(" in shown


def _with_unit(number: str, unit: str) -> str:
    shown = _UNIT_SHOWN.get(unit, unit.replace("_", " "))
    return number + shown if shown in ("%", "°F", "°C") else f"{number} {shown}".rstrip()


def _number(value: float | str, decimals: int = 2) -> str:
    if isinstance(value, str):
        return value
    rounded = f"{float(wording.rounded(value, Fraction(1, 10**decimals))):.{decimals}f}"
    if float(rounded) == 0 and value != 0:
        return f"{value:.2g}"  # a pinch must not read as nothing
    return rounded.rstrip("0").rstrip(".")
