"""Numbers and the units that they count: "1 lb 3 oz", "a pound and a half", "2 to 3 kg"; a number alone is a count."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language import shorthand, vocabulary
from assistant.language.looking import NUMBER_BEFORE, Looking, Piece
from assistant.language.numbers import Number, read_number

MOST_LOOKED_UP = 30
"""Words of one line whose spelling is looked into: a line with more unknown words is no misspelt request."""


class Measures(Looking):
    """Attempts to read an amount."""

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
        piece = read_number(self.marks, at + 1) if self._is(at, "and", "n", "&") else None
        if piece is None or not piece.piece:
            return None
        if not self._is(at + 1, "a") and self._is(at - 1, "%", "percent", "pct"):
            # "half shoulder at 20% and half beef at 8%": a share of the next meat
            return None
        if self._is(piece.end, "of") and self._is(piece.end + 1, "it", "them", "that", "which"):
            return None
        return piece if self._unit(self._past_of_a(piece.end)) is None else None

    def _past_of_a(self, at: int) -> int:
        """The place of the unit in "half of a pound", "half an ounce", "half pound"."""
        after_of = at + 1 if self._is(at, "of") else at
        return after_of + 1 if self._is(after_of, "a", "an") else after_of

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
        if near is not None and meaning is not None and meaning.terminal in NUMBER_BEFORE:
            self.corrections.append((mark.raw, near))
            self._take_for(at, near)

    def _is_a_false_ratio(self, after: int) -> bool:
        """ "80/30": two whole tens over another, the larger first, is lean to fat that does not come to 100."""
        above, stroke, below = (mark.text for mark in (*self.marks[self.at : after], *[self.marks[self.at]] * 3)[:3])
        tens = after - self.at == 3 and above.isdecimal() and below.isdecimal() and len(below) == 2
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
        kind = NUMBER_BEFORE.get(meaning.terminal)
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
            small = loose.kind == "number" and len(loose.text) == 2 and loose.text.isdecimal() and after_it is None
            if small and not meaning.payload.endswith(("_penny", "_cent")):
                # "8 euro 50 a kilo"
                value, after = value + Fraction(int(loose.text), 100), after + 1
        elif meaning.payload == "kg" and high is None and value.denominator == 1 and loose is not None:
            grams = (
                loose.kind == "number"
                and loose.text.isdecimal()
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
