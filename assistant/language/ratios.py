"""Figures that belong together without a unit: lean to fat, and shares by parts."""

from __future__ import annotations

from fractions import Fraction

from assistant.language.looking import Looking
from assistant.language.numbers import read_number

MOST_SHARES = 12
"""Numbers in a row of shares such as 60/25/15; a longer row is none."""


class Ratios(Looking):
    """Attempts to read a ratio."""

    def _ratio(self) -> bool:
        """80/20, 80:20, 80-20, 80 20, 8020; and proportions of cuts: 3:1, two to one."""
        at, marks = self.at, self.marks
        phrase = self._longest(at) if marks[at].kind == "number" else None
        if phrase is not None and phrase[0].terminal == "CUE":
            # "50 50 mix of": a phrase of its own
            return False
        if marks[at].kind != "number":
            return self._spoken_ratio() or self._proportion()
        first = marks[at].text
        if (
            len(first) == 4
            and first.isdecimal()
            and int(first[:2]) + int(first[2:]) == 100
            and self._unit(at + 1) is None
        ):
            return self._emit("RATIO", (int(first[:2]), int(first[2:])), at, at + 1)
        if first == "100" and self._is(at + 1, "/", ":") and at + 2 < len(marks) and marks[at + 2].text == "0":
            # no fat at all: that none is so lean is for the answer to say
            return self._emit("RATIO", (100, 0), at, at + 3)
        if not (first.isdecimal() and len(first) <= 2):
            return self._proportion()
        second = at + 1
        joined = self._is(second, "/", ":", "-") and second + 1 < len(marks)
        if joined:
            second += 1
        if second < len(marks) and marks[second].kind == "number" and marks[second].text.isdecimal():
            other = marks[second].text
            apart = int(first) + int(other) == 100 and len(other) <= 2 and int(other) > 0 and int(first) > 0
            if apart and (joined or self._unit(second + 1) is None):
                return self._emit("RATIO", (int(first), int(other)), at, second + 1)
        return self._proportion()

    def _proportion(self) -> bool:
        """3:1, 2 to 1, two to one, 2:1:1 of things: shares by parts."""
        values = []
        at = self.at
        slashed = self._slashed()
        if slashed is not None:
            return self._emit("NUM", slashed[0], self.at, slashed[1])
        while True:
            number = read_number(self.marks, at)
            if number is None or number.bad or number.piece:
                break
            values.append(number.value)
            at = number.end
            if self._is(at, ":") or (self._is(at, "to") and not self._unit(at + 1)):
                following = read_number(self.marks, at + 1)
                if following is not None and not following.bad and not following.piece:
                    at += 1
                    continue
            break
        if len(values) < 2 or self._unit(at) is not None or self._longer(values):
            return False
        found = self._longest(at)
        if found is not None and found[0].terminal in ("PATTY", "PEOPLE"):
            return False
        return self._emit("NUM", tuple(values), self.at, at)

    def _spoken_ratio(self) -> bool:
        """ "eighty twenty", "seventy-five twenty-five": two spoken numbers that make a hundred, and no unit after them."""
        first = read_number(self.marks, self.at)
        second = None if first is None or first.bad or first.piece else read_number(self.marks, first.end)
        if first is None or second is None or second.bad or self.marks[first.end].kind != "word":
            return False
        whole = first.value.denominator == 1 and first.value + second.value == 100 and second.value >= 5
        if not whole or self._unit(second.end) is not None:
            return False
        return self._emit("RATIO", (int(first.value), int(second.value)), self.at, second.end)

    def _slashed(self) -> tuple[tuple[Fraction, ...], int] | None:
        """60/25/15: three or more shares that make 100, or small parts such as 2/1/1 and 6-3-1."""
        values: list[Fraction] = []
        at = self.at
        while at < len(self.marks) and self.marks[at].kind == "number" and self.marks[at].text.isdecimal():
            if len(values) == MOST_SHARES:
                return None
            values.append(Fraction(int(self.marks[at].text[:6])))
            at += 1
            tied = self._is(at, "/", "-") and self.marks[at].glued
            if not tied or (len(values) > 1 and self.marks[at].text != self.marks[at - 2].text):
                break
            at += 1
        whole = sum(values) == 100 or all(value < 10 for value in values)
        return (tuple(values), at) if len(values) > 2 and whole else None

    @staticmethod
    def _longer(values: list[Fraction]) -> bool:
        """6 to 8 is a range; 2 to 1 and 1:1 are proportions. 1 to 3 is a proportion only with a colon, so: a range."""
        return len(values) == 2 and values[0] < values[1] and values[0] != 1
