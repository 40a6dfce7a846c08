"""What every attempt to read a terminal shares: the marks, what was made of them so far, and looks ahead at units and phrases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from assistant.language import shorthand, vocabulary
from assistant.language.scan import Mark

NUMBER_BEFORE = {
    "MASS": "WNUM",
    "VOLUME": "VNUM",
    "PCT": "PNUM",
    "CUR": "MNUM",
    "LENGTH": "LNUM",
    "TIME": "TNUM",
    "DEGREE": "DNUM",
}
_AFTER_DEGREES = frozenset(["in", "to", "is", "as", "ok", "okay", "inside", "enough", "for", "and", "or", "into"])
WRITTEN_SHORT = {
    "u": "you",
    "ur": "your",
    "btwn": "between",
    "betw": "between",
    "cuz": "because",
    "thru": "through",
    "tmrw": "tomorrow",
    "tmr": "tomorrow",
    "tonite": "tonight",
    "ea": "each",
    "pp": "per person",
    "wnt": "want",
}
"""Letters that stand for a word, as in a text message."""
_VOWELS = frozenset("aeiouy")
_IN_IS_LENGTH_BEFORE = frozenset(
    [
        "thick",
        "wide",
        "across",
        "bun",
        "buns",
        "cube",
        "cubes",
        "plate",
        "patty",
        "patties",
        "burger",
        "burgers",
        "deep",
        "diameter",
        "rolls",
        "roll",
        "round",
        "x",
        "by",
        "high",
    ]
)


class Piece(Struct, frozen=True):
    """A terminal with what it stands for. first, last: the characters of the cleaned text that it came from."""

    type: str
    payload: Any
    first: int
    last: int


class Looking:
    """The marks of one request while they are read, from left to right."""

    def __init__(
        self, text: str, marks: list[Mark], names: Mapping[str, str], spans: Sequence[tuple[int, int, str]], dates: str
    ) -> None:
        self.dates = dates
        self.text = text
        self.marks = marks
        self.names = names
        self.spans = {first: (last, name) for first, last, name in spans}
        self.words = vocabulary.vocabulary()
        self.pieces: list[Piece] = []
        self.corrections: list[tuple[str, str]] = []
        self.asides: list[tuple[int, int]] = []
        self.looked_up = 0
        self.at = 0
        self._phrases_at: dict[int, tuple[vocabulary.Meaning, int] | None] = {}
        """The longest phrases found so far: most places are looked at from several sides."""

    def _emit(self, kind: str, payload: Any, first: int, after: int) -> bool:
        start, end = self.marks[first].start, self.marks[after - 1].end
        self.pieces.append(Piece(kind, payload, start, end))
        self.at = after
        return True

    def _take_for(self, at: int, *words: str) -> None:
        """Go on as if these words had been typed in the place of a mark."""
        mark = self.marks[at]
        self.marks[at : at + 1] = [Mark("word", word, mark.raw, mark.start, mark.end, mark.glued) for word in words]
        self._phrases_at.clear()

    def _is(self, at: int, *texts: str) -> bool:
        return at < len(self.marks) and self.marks[at].text in texts

    def _last(self) -> str:
        return self.pieces[-1].type if self.pieces else ""

    def _unit(self, at: int) -> tuple[vocabulary.Meaning, int] | None:
        """The unit that stands at `at`: its meaning and the mark after it."""
        while self._is(at, "-") and self.marks[at].glued and at + 1 < len(self.marks) and self.marks[at + 1].glued:
            at += 1
        if at >= len(self.marks):
            return None
        mark = self.marks[at]
        if mark.raw in ("T", "Tb", "Tbl"):
            return vocabulary.Meaning("VOLUME", "tbsp"), at + 1
        if mark.raw == "t":
            return vocabulary.Meaning("VOLUME", "tsp"), at + 1
        if mark.text == "#":
            return vocabulary.Meaning("MASS", "lb"), at + 1
        if mark.text == '"' and mark.glued:
            return vocabulary.Meaning("LENGTH", "inch"), at + 1
        if mark.text == "p" and mark.glued:
            return vocabulary.Meaning("CUR", "GBP_penny"), at + 1
        apart = self._too_many_cups(at) or (mark.text == "f" and self._ends(at + 1))
        if mark.text in ("f", "c") and (mark.glued or mark.raw.isupper() or apart):
            return vocabulary.Meaning("DEGREE", "degF" if mark.text == "f" else "degC"), at + 1
        if mark.text == "in" and self._in_is_inches(at):
            return vocabulary.Meaning("LENGTH", "inch"), at + 1
        if shorthand.is_pounds_of_money(self.marks, at):
            return vocabulary.Meaning("CUR", "GBP"), at + 1
        found = self._longest(at)
        if found is not None and found[0].terminal in NUMBER_BEFORE:
            return found
        return None

    def _ends(self, at: int) -> bool:
        """Whether nothing that an f could belong to follows: the line ends, or goes on with a sign or a small word."""
        return at >= len(self.marks) or self.marks[at].kind == "sign" or self.marks[at].text in _AFTER_DEGREES

    def _too_many_cups(self, at: int) -> bool:
        """ "74 c", "160 f": a small letter apart is a scale where nobody would count so many cups."""
        before = self.marks[at - 1] if at else None
        whole = before is not None and before.kind == "number" and before.text.isdecimal()
        return whole and 20 <= int(before.text[:4]) <= 600 and not self._is(at + 1, "of") if before else False

    def _in_is_inches(self, at: int) -> bool:
        after = self.marks[at + 1].text if at + 1 < len(self.marks) else ""
        return self.marks[at].glued or after == "in" or after in _IN_IS_LENGTH_BEFORE

    def _longest(self, at: int) -> tuple[vocabulary.Meaning, int] | None:
        """The longest known phrase from `at`: its meaning and the mark after it."""
        if at not in self._phrases_at:
            self._phrases_at[at] = self._look_for_a_phrase(at)
        return self._phrases_at[at]

    def _look_for_a_phrase(self, at: int) -> tuple[vocabulary.Meaning, int] | None:
        words: list[str] = []
        found: tuple[vocabulary.Meaning, int] | None = None
        scan_at = at
        first = self.marks[at].text if at < len(self.marks) else ""
        # signs that stand between two words of a phrase are counted as words too: each pair has one at most
        most = 2 * self.words.reach.get(WRITTEN_SHORT.get(first, first), 1) - 1
        while scan_at < len(self.marks) and len(words) < most:
            mark = self.marks[scan_at]
            if (
                mark.text == "-"
                and words
                and scan_at + 1 < len(self.marks)
                and self.marks[scan_at + 1].glued
                and mark.glued
            ):
                scan_at += 1
                continue
            if mark.kind not in ("word", "number", "money", "arrow") and mark.text not in "%°=#&/.@":
                break
            if mark.text in ("/", ".") and (not mark.glued or self._ends_a_sentence(scan_at)):
                break
            words.append(WRITTEN_SHORT.get(mark.text, mark.text))
            scan_at += 1
            phrase = " ".join(words)
            if words[-1] in ("/", "."):
                continue
            meaning = self.words.find(phrase.replace(" / ", " ").replace(" . ", " "))
            if meaning is not None:
                found = (meaning, scan_at)
        return found

    def _ends_a_sentence(self, at: int) -> bool:
        """ "2% fat. Back fat is 85": a full stop before a space, but not after a word cut short ("st. louis ribs", "no. 1")."""
        apart = self._is(at, ".") and at + 1 < len(self.marks) and not self.marks[at + 1].glued
        return apart and at > 0 and bool(_VOWELS & set(self.marks[at - 1].text)) and not self._is(at - 1, "no")
