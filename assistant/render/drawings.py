"""Pictures in characters: shares as bars, lean against fat, and the balance square. Every length is a figure's own.

None of them needs colour, and each has a form for outputs that know only ASCII.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.answer import Answer, Figure, Role
from assistant.render import words
from assistant.render.lines import cells

LEAST_BAR, MOST_BAR = 6, 24
_FULL, _HALF, _LIGHT = "█", "▌", "░"
_FULL_ASCII, _LIGHT_ASCII = "#", "."


def padded(text: str, width: int) -> str:
    """Text filled up with blanks, by the same count of columns that breaks lines: two rulers would disagree."""
    return text + " " * (width - cells(text))


def bars(figures: Sequence[Figure], longest: int, ascii_only: bool) -> list[str]:
    """A bar for each component, as long as its share of the batch; nothing where there is no room or no share."""
    parts = {place: value for place, value in enumerate(map(_component, figures)) if value is not None}
    units = {figures[place].unit for place in parts}
    whole = sum(parts.values())
    if longest < LEAST_BAR or len(parts) < 2 or len(units) != 1 or whole <= 0 or min(parts.values()) < 0:
        return []
    return [_bar(parts[place] / whole, longest, ascii_only) if place in parts else "" for place in range(len(figures))]


def _component(figure: Figure) -> float | None:
    known = figure.role is Role.COMPONENT and isinstance(figure.value, int | float)
    return float(figure.value) if known else None


def _bar(share: float, longest: int, ascii_only: bool) -> str:
    halves = round(share * longest * 2)
    if ascii_only:
        return _FULL_ASCII * max(halves // 2, 1 if share else 0)
    return _FULL * (halves // 2) + _HALF * (halves % 2 or (halves == 0 and share > 0))


def lean_and_fat(figures: Sequence[Figure], room: int, ascii_only: bool) -> str:
    """Lean on the left and fat on the right of one bar, each with its percent at its end, in `room` columns at most.

    "" where an answer has not one of each, or no room. The range of both stands with the fat alone: it is one range.
    """
    both = pair(figures)
    if not both:
        return ""
    lean, fat = (words.say(words.amount(each).split(" (")[0], ascii_only) for each in both)
    length = min(room - cells(lean) - cells(fat) - 2, MOST_BAR)
    share = both[0].value
    if length < LEAST_BAR or not isinstance(share, int | float) or not 0 <= share <= 100:
        return ""
    full, light = (_FULL_ASCII, _LIGHT_ASCII) if ascii_only else (_FULL, _LIGHT)
    filled = round(share / 100 * length)
    return f"{lean} {full * filled}{light * (length - filled)} {fat}"


def pair(figures: Sequence[Figure]) -> tuple[Figure, ...]:
    """The lean and the fat of an answer that has one of each, in percent; nothing otherwise."""
    found = [[each for each in figures if each.role is role and each.unit == "%"] for role in (Role.LEAN, Role.FAT)]
    return (found[0][0], found[1][0]) if [len(each) for each in found] == [1, 1] else ()


def square(answer: Answer, width: int, ascii_only: bool) -> list[str]:
    """The balance square of two cuts: their fat on the left, the wanted fat between, the parts of each on the right.

    Nothing where the answer does not hold those five figures. Each cut's parts are the other's distance from the
    middle, which the crossing lines show.
    """
    cuts = [figure for figure in answer.figures if figure.role is Role.COMPONENT and figure.fat_percent is not None]
    parts = [figure for figure in answer.figures if figure.role is Role.RATIO]
    wanted = [figure for figure in answer.figures if figure.role is Role.FAT]
    if (len(cuts), len(parts), len(wanted)) != (2, 2, 1):
        return []
    names = [words.say(cut.name, ascii_only) for cut in cuts]
    fats = [words.assumed_fat(cut).removesuffix(" fat") for cut in cuts]
    shares = [words.say(words.amount(part), ascii_only) for part in parts]
    middle = words.say(wanted[0].shown or words.amount(wanted[0]), ascii_only).split(" ")[0]
    beside = [f"{name} {fat}" for name, fat in zip(names, fats, strict=True)]
    drawn = _crossed(beside, middle, shares)
    if max(map(cells, drawn)) <= width:
        return drawn
    first, between, last = _crossed(fats, middle, shares)
    drawn = [f"  {names[0]}", first, between, f"  {names[1]}", last]
    return drawn if max(map(cells, drawn)) <= width else []


def _crossed(left: Sequence[str], middle: str, right: Sequence[str]) -> list[str]:
    room, gap = max(map(cells, left)), " " * cells(middle)
    return [
        f"  {padded(left[0], room)}  \\ {gap} /  {right[0]}",
        f"  {' ' * room}    {middle}",
        f"  {padded(left[1], room)}  / {gap} \\  {right[1]}",
    ]
