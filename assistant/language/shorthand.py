"""How cooks shorten a patty's weight: "how many 150s from 8 kg" means patties of 150 g."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language.scan import Mark

_LEAST_G, _MOST_G = 50, 400
"""Grams. What is lighter or heavier than any burger is not shortened so. Common practice, no source."""
_DECADES = frozenset(("the", "their", "his", "her", "my", "our", "in", "early", "mid", "late", "low", "high", "-"))
"""Before "60s" these make it years of age, a decade or a temperature."""


def is_so_many_grams(marks: Sequence[Mark], at: int) -> bool:
    """Whether a number with an s straight after it stands for patties of so many grams."""
    if at + 1 >= len(marks):
        return False
    number, ending = marks[at], marks[at + 1]
    if not (number.kind == "number" and number.text.isdigit() and ending.text == "s" and ending.glued):
        return False
    before = marks[at - 1].text if at else ""
    return _LEAST_G <= int(number.text[:6]) <= _MOST_G and before not in _DECADES
