"""How cooks shorten a patty's weight, and the trade its trim: "how many 150s from 8 kg", "mix 90s and 50s"."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language.scan import Mark

_LEAST_G, _MOST_G = 50, 400
"""Grams. What is lighter or heavier than any burger is not shortened so. Common practice, no source."""
_TRADE_LEAN = 100
_COUNTED = frozenset(("many", "into", "make", "of"))
"""Before "80s" these make it patties; otherwise two figures with an s are trim, by its lean points of a hundred."""
_DECADES = frozenset(("the", "their", "his", "her", "my", "our", "in", "early", "mid", "late", "low", "high", "-"))
"""Before "60s" these make it years of age, a decade or a temperature."""
_FATTEST_TRIM = 50
"""Trim is traded by its lean from fifty points on (50s, 65s, 85s, 90s): a term of the trade, from memory."""
_LIQUIDS = frozenset(
    ("water", "stock", "broth", "wine", "beer", "ale", "cider", "milk", "cream", "vinegar", "juice", "oil", "brine")
)
_OF_TRIM = frozenset(("lean", "trim", "trimmings", "mix", "blend"))


def is_so_many_grams(marks: Sequence[Mark], at: int) -> bool:
    """Whether a number with an s straight after it stands for patties of so many grams."""
    if at + 1 >= len(marks):
        return False
    number, ending = marks[at], marks[at + 1]
    if not (number.kind == "number" and number.text.isdecimal() and ending.text == "s" and ending.glued):
        return False
    before = marks[at - 1].text if at else ""
    if int(number.text[:6]) < _TRADE_LEAN and before not in _COUNTED:
        # "90s and 50s": trim by its lean points
        return False
    return _LEAST_G <= int(number.text[:6]) <= _MOST_G and before not in _DECADES


def is_trade_lean(marks: Sequence[Mark], at: int) -> bool:
    """Whether "90s", "50s" is trim by its lean points, as the trade calls it: a line that speaks of trim, lean or a mix."""
    if at + 1 >= len(marks) or not any(mark.text in _OF_TRIM for mark in marks):
        return False
    number, ending = marks[at], marks[at + 1]
    plain = number.kind == "number" and number.text.isdecimal() and len(number.text) == 2
    return plain and ending.text == "s" and ending.glued and _FATTEST_TRIM <= int(number.text) < 100


def is_chemical_lean(marks: Sequence[Mark], at: int) -> bool:
    """Whether "85CL" is trim by its chemical lean, and no centilitres: of a liquid, below any trim, or to be converted."""
    number = marks[at].text
    lean = number.isdecimal() and len(number) == 2 and int(number) >= _FATTEST_TRIM
    following = [mark.text for mark in marks[at + 2 : at + 5]]
    liquid = any(text in _LIQUIDS for text in following)
    return lean and not liquid and not (following and following[0] in ("in", "to", "into", "is", "="))


def is_pounds_of_money(marks: Sequence[Mark], at: int) -> bool:
    """Whether the pounds at a place are money: "9 pounds 50 a kilo". Pence follow, and what they are counted on."""
    if at + 2 >= len(marks) or marks[at].text not in ("pound", "pounds", "quid"):
        return False
    pence, per = marks[at + 1], marks[at + 2]
    return (
        pence.kind == "number"
        and len(pence.text) == 2
        and pence.text.isdecimal()
        and per.text in ("a", "per", "/", "each")
    )
