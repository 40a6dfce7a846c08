"""From marks to the grammar's terminals: numbers told by what follows them, words by the vocabulary.

Longest phrase first. Words that mean nothing for an answer are passed over; words that nobody has
taught us stay in the line as UNKNOWN and are accounted for later, never dropped here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant.language import naming, shorthand, vocabulary, when
from assistant.language.numbers import VULGAR, Number, read_number
from assistant.language.scan import Mark, scan

_NUMBER_BEFORE = {
    "MASS": "WNUM",
    "VOLUME": "VNUM",
    "PCT": "PNUM",
    "CUR": "MNUM",
    "LENGTH": "LNUM",
    "TIME": "TNUM",
    "DEGREE": "DNUM",
}
_SEPARATORS = {",": ",", ";": ".", ".": ".", "?": ".", "!": ".", ":": ":", "-": ",", "…": ".", "/": "/"}
_SYMBOL_CURRENCY = {
    "$": "USD",
    "us$": "USD",
    "a$": "AUD",
    "au$": "AUD",
    "nz$": "NZD",
    "c$": "CAD",
    "ca$": "CAD",
    "£": "GBP",
    "€": "EUR",
    "¢": "USD_cent",
}
_VOWELS = frozenset("aeiouy")
_SHORT_VERBS = frozenset(["s", "ll", "d", "ve", "re", "m"])
_AFTER_DEGREES = frozenset(["in", "to", "is", "as", "ok", "okay", "inside", "enough", "for", "and", "or", "into"])
_WRITTEN_SHORT = {
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
_DETERMINERS = frozenset(["the", "my", "our", "us", "them", "him", "her", "their", "these", "those", "everyone"])
_NO_NAME = frozenset(["rest", "other", "others", "same", "remaining", "first", "last"])
"""Words after "the" that say more of a number before it ("want 4, the rest …")."""
MOST_SHARES = 12
"""Numbers in a row of shares such as 60/25/15; a longer row is none."""
MOST_LOOKED_UP = 30
"""Words of one line whose spelling is looked into: a line with more unknown words is no misspelt request."""
_PARTS_A_COUNT = frozenset(
    ["for", "to", "in", "on", "by", "as", "if", "when", "enough", "but", "still", "then", "though", "yet"]
)
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


class Lexed(Struct, frozen=True):
    """The terminals of a request, the corrections that were made and the words that were set aside at once."""

    pieces: tuple[Piece, ...]
    corrections: tuple[tuple[str, str], ...]


def lex(
    text: str,
    names: Mapping[str, str] | None = None,
    spans: Sequence[tuple[int, int, str]] = (),
    dates: str = "",
    marks: list[Mark] | None = None,
) -> Lexed:
    """The terminals of a cleaned request.

    names: folded names that the notebook knows -> the name as it is kept.
    spans: stretches of the text that are a new name ("save as …"): (first, last, name).
    dates: the order of a date in figures (when.DAY_FIRST, when.MONTH_FIRST), "" where it is not known.
    marks: those of the text, where it was scanned already.
    """
    return _Reader(text, scan(text) if marks is None else marks, names or {}, spans, dates).read()


class _Reader:
    """One pass over the marks of one request."""

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
        self.looked_up = 0
        self.at = 0

    def read(self) -> Lexed:
        while self.at < len(self.marks):
            for attempt in (
                self._name,
                self._four_is_for,
                self._moment,
                self._ordinal,
                self._per,
                self._ratio,
                self._money,
                self._short_patties,
                self._article_unit,
                self._phrase_over_number,
                self._number,
                self._phrase,
                self._sign,
                self._unknown,
            ):
                if attempt():
                    break
        return Lexed(tuple(self.pieces), tuple(self.corrections))

    # ---- small helpers

    def _emit(self, kind: str, payload: Any, first: int, after: int) -> bool:
        start, end = self.marks[first].start, self.marks[after - 1].end
        self.pieces.append(Piece(kind, payload, start, end))
        self.at = after
        return True

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
        if found is not None and found[0].terminal in _NUMBER_BEFORE:
            return found
        return None

    def _ends(self, at: int) -> bool:
        """Whether nothing that an f could belong to follows: the line ends, or goes on with a sign or a small word."""
        return at >= len(self.marks) or self.marks[at].kind == "sign" or self.marks[at].text in _AFTER_DEGREES

    def _too_many_cups(self, at: int) -> bool:
        """ "74 c", "160 f": a small letter apart is a scale where nobody would count so many cups."""
        before = self.marks[at - 1] if at else None
        whole = before is not None and before.kind == "number" and before.text.isdigit()
        return whole and 20 <= int(before.text[:4]) <= 600 and not self._is(at + 1, "of") if before else False

    def _in_is_inches(self, at: int) -> bool:
        after = self.marks[at + 1].text if at + 1 < len(self.marks) else ""
        return self.marks[at].glued or after == "in" or after in _IN_IS_LENGTH_BEFORE

    def _longest(self, at: int) -> tuple[vocabulary.Meaning, int] | None:
        """The longest known phrase from `at`: its meaning and the mark after it."""
        words: list[str] = []
        found: tuple[vocabulary.Meaning, int] | None = None
        scan_at = at
        while scan_at < len(self.marks) and len(words) < vocabulary.LONGEST_PHRASE:
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
            words.append(_WRITTEN_SHORT.get(mark.text, mark.text))
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

    # ---- attempts, in order; each takes up marks and says whether it did

    def _four_is_for(self) -> bool:
        """ "pattys 4 the kids": a 4 before the, my or our is the word, and is told as such; "the 4 the rest" is not."""
        before_a_name = self._is(self.at, "4") and self._is(self.at + 1, *_DETERMINERS)
        if not before_a_name or self.marks[self.at + 1].glued or self._is(self.at + 2, *_NO_NAME):
            return False
        mark = self.marks[self.at]
        self.marks[self.at] = Mark("word", "for", mark.raw, mark.start, mark.end, mark.glued)
        self.corrections.append((mark.raw, "for"))
        return True

    def _name(self) -> bool:
        start = self.marks[self.at].start
        if start in self.spans:
            last, name = self.spans[start]
            after = self.at
            while after < len(self.marks) and self.marks[after].start < last:
                after += 1
            return self._emit("NAME", name, self.at, after)
        if not self.names:
            return False
        words: list[str] = []
        best: tuple[str, int] | None = None
        for at in range(self.at, min(self.at + 8, len(self.marks))):
            words.append(self.marks[at].text)
            known = self.names.get(" ".join(words))
            if known is not None:
                best = (known, at + 1)
        if best is None:
            best = naming.loaded_name(self.names, self.marks, self.at)
        return best is not None and self._emit("NAME", best[0], self.at, best[1])

    def _ordinal(self) -> bool:
        """ "my 40th", "the 3rd": a place in a row is no amount."""
        mark = self.marks[self.at]
        after = self.marks[self.at + 1] if self.at + 1 < len(self.marks) else None
        if mark.text == "#" and after is not None and after.glued and after.kind == "number":
            # "my #12 grinder": a number that names, and no amount of anything
            return self._emit("UNKNOWN", f"#{after.text}", self.at, self.at + 2)
        ordinal = after is not None and after.glued and after.text in ("st", "nd", "rd", "th")
        if mark.kind != "number" or not ordinal:
            return False
        self.at += 2
        return True

    def _per(self) -> bool:
        """ "/kg", "per lb", "a pound" after money, "to the lb", "for every kilo", "per 100 g", "a head"."""
        at = self.at
        mark = self.marks[at]
        after_amount = self._last() in ("CUR", "MASS", "VOLUME", "NUM", "SEASONING", "PCT", "PATTY")
        if mark.text in ("/", "per") or (
            mark.text in ("a", "an")
            and (self._last() in ("CUR", "VOLUME", "NUM", "MASS", "SEASONING") or self._after_cost())
        ):
            start = at + 1
        elif mark.text in ("to", "for") and self._is(at + 1, "the", "a", "each", "every") and after_amount:
            start = at + 2
            if mark.text == "for" and self._is(at + 1, "the"):
                return False
        elif mark.text in ("every", "each") and after_amount and self._unit(at + 1) is not None:
            start = at + 1
        elif mark.text == "to" and self._last() in ("MASS", "VOLUME"):
            return self._to_amount(at)
        else:
            return False
        amount = read_number(self.marks, start)
        if amount is not None and (amount.bad or self._parts_a_list(amount)):
            return False
        unit = self._unit(amount.end if amount else start)
        if unit is None or unit[0].terminal not in ("MASS", "VOLUME"):
            return False
        if mark.text in ("a", "an") and amount is not None and not amount.piece:
            return False
        if mark.text in ("a", "an") and self._last() == "SEASONING" and unit[0].terminal == "VOLUME":
            # "a tbsp of paprika a tsp of cayenne": the next spoon, not a spoon per spoon
            return False
        follows = self._longest(unit[1])
        if unit[0].payload == "pounder" or (follows is not None and follows[0].terminal == "PATTY"):
            # "per 150 g burger": for each such burger, not per 150 g
            return mark.text == "per" and self._emit("PEREACH", "each", at, at + 1)
        value = amount.value if amount else Fraction(1)
        after = unit[1]
        # "per pound of meat": the meat is what the rate is counted on
        if self._is(after, "of", "o") and self._is(after + 1, "meat", "mince", "mix", "beef", "pork", "grind"):
            after += 2
        elif self._is(after, "meat", "mince", "beef", "pork"):
            after += 1
        return self._emit("PERMASS", (value, unit[0].payload), at, after)

    def _parts_a_list(self, amount: Number) -> bool:
        """ "2 burgers / 115 g / 10% spare": a stroke between spaces, after what is counted, sets the next thing apart."""
        loose = self._is(self.at, "/") and not self.marks[self.at].glued and not amount.piece
        return loose and self._last() in ("PATTY", "PEOPLE", "PEREACH")

    def _after_cost(self) -> bool:
        """ "what did it cost a lb": a pound is what the price is counted on."""
        return self._last() == "CUE" and self.pieces[-1].payload in ("cost", "works_out", "this", "total")

    def _to_amount(self, at: int) -> bool:
        """ "1 oz to 25 lb": a rate, where the units differ ("2 lb to 3 lb" is a range)."""
        amount = read_number(self.marks, at + 1)
        unit = self._unit(amount.end) if amount and not amount.bad else None
        if amount is None or unit is None or unit[0].terminal != "MASS" or unit[0].payload == self.pieces[-1].payload:
            return False
        after = unit[1]
        if self._is(after, "meat", "mince"):
            after += 1
        elif self._is(after, "of") and self._is(after + 1, "meat", "mince"):
            after += 2
        return self._emit("PERMASS", (amount.value, unit[0].payload), at, after)

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
            and first.isdigit()
            and int(first[:2]) + int(first[2:]) == 100
            and self._unit(at + 1) is None
        ):
            return self._emit("RATIO", (int(first[:2]), int(first[2:])), at, at + 1)
        if not (first.isdigit() and len(first) <= 2):
            return self._proportion()
        second = at + 1
        joined = self._is(second, "/", ":", "-") and second + 1 < len(marks)
        if joined:
            second += 1
        if second < len(marks) and marks[second].kind == "number" and marks[second].text.isdigit():
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
        """60/25/15: three or more shares that make 100, or small parts such as 2/1/1."""
        values: list[Fraction] = []
        at = self.at
        while at < len(self.marks) and self.marks[at].kind == "number" and self.marks[at].text.isdigit():
            if len(values) == MOST_SHARES:
                return None
            values.append(Fraction(int(self.marks[at].text[:6])))
            at += 1
            if not (self._is(at, "/") and self.marks[at].glued):
                break
            at += 1
        whole = sum(values) == 100 or all(value < 10 for value in values)
        return (tuple(values), at) if len(values) > 2 and whole else None

    @staticmethod
    def _longer(values: list[Fraction]) -> bool:
        """6 to 8 is a range; 2 to 1 and 1:1 are proportions. 1 to 3 is a proportion only with a colon, so: a range."""
        return len(values) == 2 and values[0] < values[1] and values[0] != 1

    def _moment(self) -> bool:
        found = when.read(self.marks, self.at, self.dates)
        if found is None:
            # "25:00 pm", "2027-02-30": told as no moment at all, never passed over; "03/04/2026" is asked about
            mark = self.marks[self.at]
            if not self.dates and when.either_day(self.marks, self.at):
                return self._emit("BADNUM", "date", self.at, self.at + 3)
            either = mark.kind == "figured" and len(when.figured_dates(mark.text, self.dates)) > 1
            no_moment = mark.kind in ("clock", "iso", "figured")
            return no_moment and self._emit("BADNUM", "date" if either else "moment", self.at, self.at + 1)
        kind, payload, after = found
        return self._emit(kind, payload, self.at, after)

    def _money(self) -> bool:
        mark = self.marks[self.at]
        if mark.kind != "money":
            return False
        amount = read_number(self.marks, self.at + 1)
        if amount is None:
            return False
        first = self.at
        if amount.bad:
            return self._emit("BADNUM", None, first, amount.end)
        currency = _SYMBOL_CURRENCY[mark.text]
        self._emit("MNUM", amount, first, amount.end)
        return self._emit("CUR", currency, first, amount.end)

    def _short_patties(self) -> bool:
        """ "150s": patties of 150 g."""
        if not shorthand.is_so_many_grams(self.marks, self.at) or shorthand.is_trade_lean(self.marks, self.at):
            return False
        first, after = self.at, self.at + 2
        self._emit("WNUM", Number(Fraction(self.marks[first].text), after), first, after)
        self._emit("MASS", "g", first, after)
        return self._emit("PATTY", "patty", first, after)

    def _article_unit(self) -> bool:
        """ "a pound", "an ounce and a half" and, the article left out, "kilo and a half"; "the pound" never."""
        article = self._is(self.at, "a", "an") or (self._is(self.at, "another") and self._is_time(self.at + 1))
        if not article and self.marks[self.at].kind != "word":
            return False
        start = self.at + 1 if article else self.at
        unit = self._unit(start)
        if unit is None or unit[0].terminal not in ("MASS", "VOLUME", "TIME", "LENGTH"):
            return False
        if not article and self._piece_more(unit[1]) is None:
            return False
        return self._measure(Number(Fraction(1), start))

    def _is_time(self, at: int) -> bool:
        unit = self._unit(at)
        return unit is not None and unit[0].terminal == "TIME"

    def _piece_more(self, at: int) -> Number | None:
        """The "and a half" after a unit; none in "15% and half a pound" (two amounts) or "5 lb and half of it chuck"."""
        piece = read_number(self.marks, at + 1) if self._is(at, "and") else None
        if piece is None or not piece.piece:
            return None
        if self._is(piece.end, "of") and self._is(piece.end + 1, "it", "them", "that", "which"):
            return None
        return piece if self._unit(self._past_of_a(piece.end)) is None else None

    def _past_of_a(self, at: int) -> int:
        """The place of the unit in "half of a pound", "half an ounce", "half pound"."""
        after_of = at + 1 if self._is(at, "of") else at
        return after_of + 1 if self._is(after_of, "a", "an") else after_of

    def _phrase_over_number(self) -> bool:
        """Phrases that begin with a number word or a digit and mean something of their own ("half and half")."""
        mark = self.marks[self.at]
        if mark.kind == "number" and (
            self._is(self.at + 1, "vl", "cl") or shorthand.is_trade_lean(self.marks, self.at)
        ):
            return self._emit("GRADE", Fraction(mark.text), self.at, self.at + 2)
        found = self._longest(self.at)
        if found is None or found[1] <= self.at + 1:
            return False
        number = read_number(self.marks, self.at)
        if number is None or found[1] <= number.end:
            return False
        meaning, after = found
        return self._emit(meaning.terminal, (meaning.keys and meaning) or meaning.payload, self.at, after)

    def _number(self) -> bool:
        number = self._signed()
        if number is None:
            return False
        if number.bad:
            return self._emit("BADNUM", None, self.at, number.end)
        if self._is_a_false_ratio(number.end):
            return self._emit("BADNUM", "ratio", self.at, number.end)
        self._mend_unit(number.end)
        return self._measure(self._ranged(number))

    def _mend_unit(self, at: int) -> None:
        """ "150 grms": a misspelt unit is mended before the number is told by it."""
        mark = self.marks[at] if at < len(self.marks) else None
        if mark is None or mark.kind != "word" or self._longest(at) is not None or self.looked_up >= MOST_LOOKED_UP:
            return
        self.looked_up += 1
        near = vocabulary.nearest(mark.text)
        meaning = None if near is None else self.words.find(near)
        if near is not None and meaning is not None and meaning.terminal in _NUMBER_BEFORE:
            self.corrections.append((mark.raw, near))
            self.marks[at] = Mark("word", near, mark.raw, mark.start, mark.end, mark.glued)

    def _is_a_false_ratio(self, after: int) -> bool:
        """ "80/30": two whole tens over another, the larger first, is lean to fat that does not come to 100."""
        above, stroke, below = (mark.text for mark in (*self.marks[self.at : after], *[self.marks[self.at]] * 3)[:3])
        tens = after - self.at == 3 and above.isdigit() and below.isdigit() and len(below) == 2
        return tens and stroke == "/" and int(above) >= 50 and int(below) <= int(above) and self._unit(after) is None

    def _signed(self) -> Number | None:
        mark = self.marks[self.at]
        glued_sign = mark.text == "-" and self.at + 1 < len(self.marks) and self.marks[self.at + 1].glued
        if glued_sign and (not mark.glued or self.at == 0) and self.marks[self.at + 1].kind == "number":
            number = read_number(self.marks, self.at + 1)
            return None if number is None else Number(-number.value, number.end, bad=number.bad)
        if self._is(self.at, "minus", "negative"):
            number = read_number(self.marks, self.at + 1)
            return None if number is None else Number(-number.value, number.end, bad=number.bad)
        return read_number(self.marks, self.at)

    def _ranged(self, number: Number) -> Number:
        """2-3 lb, 6 to 8 oz, two or three, 2 lb to 3 lb."""
        at = number.end
        unit = self._unit(at)
        between = self.at > 0 and self._is(self.at - 1, "between")
        if unit is not None and (self._is(unit[1], "to", "-", "or") or (between and self._is(unit[1], "and"))):
            upper = read_number(self.marks, unit[1] + 1)
            again = self._unit(upper.end) if upper and not upper.bad else None
            if upper and again and again[0] == unit[0] and upper.value > number.value:
                return Number(number.value, upper.end, high=upper.value)
        if not self._is(at, "-", "to", "or") and not (between and self._is(at, "and")):
            return number
        upper = read_number(self.marks, at + 1)
        if upper is None or upper.bad or upper.value <= number.value or upper.piece != number.piece:
            return number
        return Number(number.value, upper.end, high=upper.value)

    def _measure(self, number: Number) -> bool:
        """A number with its unit ("1 lb", "a pound and a half", "half a pound", "three quarters of a lb") or alone."""
        number = self._past_whose(number)
        at = number.end
        unit = self._unit(at)
        if unit is not None:
            self._part_from_the_last(unit[0].terminal)
        fraction_of = 0 < number.value < 1 and self._is(at, "of") and self._is(at + 1, "a", "an")
        if unit is None and (number.piece or fraction_of):
            skip = at
            if self._is(skip, "of"):
                skip += 1
            article = self._is(skip, "a", "an")
            if article:
                skip += 1
            unit = self._unit(skip) if skip > at else None
            if unit is not None and unit[0].terminal == "PCT" and not article:
                # "half of 20%" is no half per cent; "half a per cent" is
                unit = None
        if unit is None:
            return self._count(number)
        meaning, after = unit
        kind = _NUMBER_BEFORE.get(meaning.terminal)
        if kind is None:
            return self._count(number)
        value, high = number.value, number.high
        more = self._piece_more(after)
        if more is not None:
            value, after = value + more.value, more.end
        first = self.at
        loose = self.marks[after] if after < len(self.marks) else None
        if meaning.terminal == "CUR" and high is None and value.denominator == 1 and loose is not None:
            after_it = self._unit(after + 1)
            small = loose.kind == "number" and len(loose.text) == 2 and loose.text.isdigit() and after_it is None
            if small and not meaning.payload.endswith(("_penny", "_cent")):
                # "8 euro 50 a kilo"
                value, after = value + Fraction(int(loose.text), 100), after + 1
        elif meaning.payload == "kg" and high is None and value.denominator == 1 and loose is not None:
            grams = (
                loose.kind == "number"
                and loose.text.isdigit()
                and len(loose.text) == 3
                and self._unit(after + 1) is None
            )
            if grams and not self._is(after + 1, "/", ":"):
                # "1 kg 250": the grams are left unsaid
                value, after = value + Fraction(int(loose.text), 1000), after + 1
        if self._portion_of_a_heap(kind, meaning.payload, after):
            self._separate(first)
        elif (
            self._last() == "MASS"
            and kind == "WNUM"
            and meaning.payload == "oz"
            and self.pieces[-1].payload == "lb"
            and not self._words_between(first)
        ):
            self._emit(kind, Number(value, after, high), first, after)
            return self._emit(meaning.terminal, meaning.payload, first, after)
        if (
            self._last() == "MASS"
            and kind == "WNUM"
            and (not (self.pieces[-1].payload == "kg" and meaning.payload == "g") or self._words_between(first))
        ):
            # two weights in a row that are not one ("2 lb 3 lb"): keep them apart for the grammar
            self._separate(first)
        self._emit(kind, Number(value, after, high), first, after)
        if meaning.payload == "pounder":
            self._emit("MASS", "lb", first, after)
            return self._emit("PATTY", "patty", first, after)
        return self._emit(meaning.terminal, meaning.payload, first, after)

    def _words_between(self, at: int) -> bool:
        """ "for 2 kg it has 30 g": a word passed over between two weights keeps them apart; "2 kg and 30 g" is one."""
        since = self.pieces[-1].last if self.pieces else 0
        return any(m.kind == "word" and m.text != "and" and m.start >= since for m in self.marks[:at])

    def _past_whose(self, number: Number) -> Number:
        """ "2 Australian tablespoons", "half an imperial pint": whose measures they are is a cue beside the amount."""
        at = number.end
        if self._is(at, "a", "an") and number.piece:
            at += 1
        found = self._longest(at)
        whose = "measures_uk" if self._is(at, "imperial") else found[0].payload if found is not None else ""
        unit = self._unit(found[1]) if found is not None and whose.startswith("measures_") else None
        if found is None or unit is None or unit[0].terminal != "VOLUME":
            return number
        self.pieces.append(Piece("CUE", whose, self.marks[at].start, self.marks[found[1] - 1].end))
        return replace(number, end=found[1])

    def _portion_of_a_heap(self, kind: str, unit: str, after: int) -> bool:
        """ "5 lb 6 oz patties": the ounces before a word for patties are each patty's, not part of the pounds."""
        if not (self._last() == "MASS" and kind == "WNUM" and unit == "oz" and self.pieces[-1].payload == "lb"):
            return False
        follows = self._longest(after)
        return follows is not None and follows[0].terminal == "PATTY"

    def _separate(self, at: int) -> None:
        start = self.marks[at].start
        self.pieces.append(Piece("SEP", " ", start, start))

    def _part_from_the_last(self, kind: str) -> None:
        """ "for 2 kg has 30 g salt": with a word between them two weights are two, and no 2 kg 30 g."""
        last = self.pieces[-1] if self.pieces else None
        if last is None or last.type != kind or kind not in ("MASS", "VOLUME", "TIME"):
            return
        if self.text[last.last : self.marks[self.at].start].strip(" -"):
            self._separate(self.at)

    def _count(self, number: Number) -> bool:
        if self._is_minutes(number):
            self.pieces.append(Piece("TNUM", number, self.marks[self.at].start, self.marks[number.end - 1].end))
            return self._emit("TIME", "minute", number.end - 1, number.end)
        return self._emit("NUM", number, self.at, number.end)

    def _is_minutes(self, number: Number) -> bool:
        """The bare number in "1 hour 15", "2 hrs 10 out": minutes, unless it counts what comes after."""
        hour = self.pieces[-1] if self._last() == "TIME" else None
        whole = number.high is None and number.value.denominator == 1 and 1 < number.value < 60
        if hour is None or hour.payload != "hour" or not whole or hour.last != self.marks[self.at].start - 1:
            return False
        if number.end >= len(self.marks) or self.marks[number.end].kind == "sign":
            return True
        after = self._longest(number.end)
        return self.marks[number.end].text in self.words.harmless or (after is not None and after[0].terminal == "CUE")

    def _phrase(self) -> bool:
        found = self._longest(self.at)
        if found is None:
            return False
        meaning, after = found
        if meaning.terminal in ("MASS", "VOLUME", "LENGTH", "TIME", "DEGREE", "PCT", "CUR"):
            # a unit without a number ("in grams" is a phrase of its own): worth a cue, not an amount
            return self._emit("CUE", f"unit:{meaning.payload}", self.at, after)
        return self._emit(
            meaning.terminal, meaning if meaning.keys or meaning.terminal == "CUT" else meaning.payload, self.at, after
        )

    def _sign(self) -> bool:
        mark = self.marks[self.at]
        if mark.text in _SEPARATORS:
            return self._emit("SEP", _SEPARATORS[mark.text], self.at, self.at + 1)
        if mark.text in "([{":
            return self._emit("OPEN", mark.text, self.at, self.at + 1)
        if mark.text in ")]}":
            return self._emit("CLOSE", mark.text, self.at, self.at + 1)
        if mark.text in ("&", "+"):
            return self._emit("JOIN", "and", self.at, self.at + 1)
        if mark.text in "'\"*~_^|#<>" or mark.text in VULGAR:
            self.at += 1
            return True
        return False

    def _written_together(self, word: str) -> tuple[str, str] | None:
        """ "shortribs", "porkbelly": the two words of one cut or seasoning, written as one."""
        for at in range(3, len(word) - 2):
            meaning = self.words.find(f"{word[:at]} {word[at:]}")
            if meaning is not None and meaning.terminal in ("CUT", "SEASONING"):
                return word[:at], word[at:]
        return None

    def _elliptic(self) -> bool:
        """ "brisket flat and point", "top and bottom round": what two cuts have in common is said once."""
        word = self.marks[self.at].text
        before = self.pieces[-2:]
        if len(before) == 2 and before[1].type == "JOIN" and before[0].type == "CUT":
            stem = self.text[before[0].first : before[0].last].lower().split()[:-1]
            meaning = self.words.find(" ".join([*stem, word])) if stem else None
            if meaning is not None and meaning.terminal == "CUT":
                return self._emit("CUT", meaning, self.at, self.at + 1)
        if self._is(self.at + 1, "and", "n", "&", "or"):
            following = self._longest(self.at + 2)
            if following is not None and following[0].terminal == "CUT" and following[1] > self.at + 3:
                meaning = self.words.find(f"{word} {self.marks[following[1] - 1].text}")
                if meaning is not None and meaning.terminal == "CUT":
                    return self._emit("CUT", meaning, self.at, self.at + 1)
        return False

    def _unknown(self) -> bool:
        mark = self.marks[self.at]
        tied = self.marks[self.at + 1 : self.at + 3]
        if len(tied) == 2 and tied[0].text == "-" and all(one.glued for one in tied):
            # "off-cuts" is the harmless offcuts, not off and cuts
            if mark.text + tied[1].text in self.words.harmless:
                self.at += 3
                return True
        if self._elliptic():
            return True
        if mark.text in _WRITTEN_SHORT:
            self.marks[self.at] = Mark("word", _WRITTEN_SHORT[mark.text], mark.raw, mark.start, mark.end, mark.glued)
            return True
        if mark.text in _PARTS_A_COUNT and self._last() in ("NUM", "TIME", "DEGREE"):
            # "is 145 enough for burgers", "10 minutes for the patties": the number does not count what follows
            self._separate(self.at)
        plain = vocabulary.drawn_out(mark.text)
        if plain is not None:
            # "uhh", "sooo", "pleeease"
            self.marks[self.at] = Mark("word", plain, mark.raw, mark.start, mark.end, mark.glued)
            return True
        if mark.text in self.words.harmless or (mark.kind == "sign" and ord(mark.text[0]) > 0x2000):
            self.at += 1
            return True
        stem, _, short = mark.raw.lower().replace("’", "'").rpartition("'")
        if short in _SHORT_VERBS and (self.words.find(stem) or stem in self.words.harmless):
            # "gran's 84", "what'll it weigh": the short verb says no more than is or will
            self.marks[self.at] = Mark("word", stem, mark.raw, mark.start, mark.end, mark.glued)
            return True
        if mark.kind == "word" and self.looked_up < MOST_LOOKED_UP:
            self.looked_up += 1
            parts = self._written_together(mark.text)
            if parts is not None:
                self.corrections.append((mark.raw, " ".join(parts)))
                both = [Mark("word", part, mark.raw, mark.start, mark.end, mark.glued) for part in parts]
                self.marks[self.at : self.at + 1] = both
                return True
            near = vocabulary.nearest(mark.text)
            if near is not None:
                self.corrections.append((mark.raw, near))
                self.marks[self.at] = Mark("word", near, mark.raw, mark.start, mark.end, mark.glued)
                return True
        return self._emit("UNKNOWN", mark.raw, self.at, self.at + 1)
