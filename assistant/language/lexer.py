"""From marks to the grammar's terminals: numbers told by what follows them, words by the vocabulary.

Longest phrase first. Words that mean nothing for an answer are passed over; words that nobody has
taught us stay in the line as UNKNOWN and are accounted for later, never dropped here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from assistant.language import naming, shorthand, vocabulary, when
from assistant.language.background import background_ends
from assistant.language.looking import WRITTEN_SHORT, Piece
from assistant.language.measures import MOST_LOOKED_UP, Measures
from assistant.language.numbers import BEGINNINGS, VULGAR, Number, read_number
from assistant.language.ratios import Ratios
from assistant.language.scan import Mark, scan

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
_SHORT_VERBS = frozenset(["s", "ll", "d", "ve", "re", "m"])
_AFTER_A_VISIT = (
    ",",
    ".",
    ";",
    "?",
    "!",
    "-",
    "for",
    "on",
    "at",
    "tonight",
    "tomorrow",
    "later",
    "this",
    "so",
    "today",
)
_DETERMINERS = frozenset(["the", "my", "our", "us", "them", "him", "her", "their", "these", "those", "everyone"])
_NO_NAME = frozenset(["rest", "other", "others", "same", "remaining", "first", "last"])
"""Words after "the" that say more of a number before it ("want 4, the rest …")."""
_PARTS_A_COUNT = frozenset(
    ["for", "to", "in", "on", "by", "as", "if", "when", "enough", "but", "still", "then", "though", "yet"]
)


class Lexed(Struct, frozen=True):
    """The terminals of a request, the corrections that were made, and where the words stand that were passed over and
    may have to be named: (first, last) character."""

    pieces: tuple[Piece, ...]
    corrections: tuple[tuple[str, str], ...]
    asides: tuple[tuple[int, int], ...] = ()


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


class _Reader(Ratios, Measures):
    """One pass over the marks of one request: the attempts in their order, each of which takes up marks or does not."""

    def read(self) -> Lexed:
        while self.at < len(self.marks):
            for attempt in _ATTEMPTS[_sort(self.marks[self.at])]:
                if attempt(self):
                    break
        return Lexed(tuple(self.pieces), tuple(self.corrections), tuple(self.asides))

    def _background(self) -> bool:
        """ "class 4B has 28 kids": a number that only names something is set aside, and told as such."""
        after = background_ends(self.marks, self.at)
        if after == self.at or self._unit(after) is not None:
            return False
        follows = self._longest(after) if after < len(self.marks) else None
        if follows is not None and follows[0].terminal in ("PEOPLE", "PATTY", "CUT", "SEASONING", "PART", "TIMES"):
            return False
        return self._emit("CUE", "background", self.at, after)

    def _four_is_for(self) -> bool:
        """ "pattys 4 the kids": a 4 before the, my or our is the word, and is told as such; "the 4 the rest" is not."""
        before_a_name = self._is(self.at, "4") and self._is(self.at + 1, *_DETERMINERS)
        if not before_a_name or self.marks[self.at + 1].glued or self._is(self.at + 2, *_NO_NAME):
            return False
        self.corrections.append((self.marks[self.at].raw, "for"))
        self._take_for(self.at, "for")
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
            # "my #12 grinder": a number that names, and no amount of anything; in "#1 cure" it is part of the name
            name = self._longest(self.at)
            if name is not None and name[1] > self.at + 2:
                return False
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
        if mark.text == "/" and self._is(at - 1, "w"):
            # "4 lb w/ 12 oz bacon": short for with
            self.at += 1
            return True
        after_amount = self._last() in ("CUR", "MASS", "VOLUME", "NUM", "SEASONING", "PCT", "PATTY")
        if mark.text in ("/", "per") or (
            mark.text in ("a", "an", "the")
            and (mark.text != "the" or self._last() == "CUR")
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
        return loose and self._last() in ("PATTY", "PEOPLE", "PEREACH", "SEASONING")

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

    def _phrase_over_number(self) -> bool:
        """Phrases that begin with a number word or a digit and mean something of their own ("half and half")."""
        mark = self.marks[self.at]
        if mark.kind == "number" and (
            self._is(self.at + 1, "vl")
            or (self._is(self.at + 1, "cl") and shorthand.is_chemical_lean(self.marks, self.at))
            or shorthand.is_trade_lean(self.marks, self.at)
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

    def _phrase(self) -> bool:
        found = self._longest(self.at)
        if found is None:
            return False
        meaning, after = found
        if self._is_about_something(after):
            self.at += 1
            return True
        if meaning.terminal in ("MASS", "VOLUME", "LENGTH", "TIME", "DEGREE", "PCT", "CUR"):
            # a unit without a number ("in grams" is a phrase of its own): worth a cue, not an amount
            return self._emit("CUE", f"unit:{meaning.payload}", self.at, after)
        return self._emit(
            meaning.terminal, meaning if meaning.keys or meaning.terminal == "CUT" else meaning.payload, self.at, after
        )

    def _is_about_something(self, after: int) -> bool:
        """ "Stuck round the auger": round is no cut before "the" and after a word that is no amount and no cut; nor is it
        in "got the neighbours round, …"."""
        led = (
            self.at > 0 and self.marks[self.at - 1].kind == "word" and self._last() not in ("MASS", "CUT", "JOIN", "OF")
        )
        alone = self._is(self.at, "round") and after == self.at + 1
        visits = self._last() == "PEOPLE" and (after == len(self.marks) or self._is(after, *_AFTER_A_VISIT))
        the = self._is(after, *_DETERMINERS) and not self._is(after + 1, "rest", *_NO_NAME)
        return led and alone and (visits or the)

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

    def _known(self, word: str) -> bool:
        """Whether a word means something, begins a phrase or is harmless."""
        return word in self.words.reach or word in self.words.harmless or self.words.find(word) is not None

    def _unknown(self) -> bool:
        mark = self.marks[self.at]
        if self._elliptic():
            return True
        if mark.text in WRITTEN_SHORT:
            self._take_for(self.at, WRITTEN_SHORT[mark.text])
            return True
        if mark.text in _PARTS_A_COUNT and self._last() in ("NUM", "TIME", "DEGREE"):
            # "is 145 enough for burgers", "10 minutes for the patties": the number does not count what follows
            self._separate(self.at)
        if len(mark.text) > 4 and mark.text.endswith("in") and self._known(mark.text + "g"):
            # "aimin for", "needin": the g that nobody speaks
            self._take_for(self.at, mark.text + "g")
            return True
        plain = vocabulary.drawn_out(mark.text)
        if plain is not None:
            # "uhh", "sooo", "pleeease"
            self._take_for(self.at, plain)
            return True
        if mark.text in self.words.harmless or (mark.kind == "sign" and ord(mark.text[0]) > 0x2000):
            if mark.text in self.words.weighty:
                self.asides.append((mark.start, mark.end))
            self.at += 1
            return True
        stem, _, short = mark.raw.lower().replace("’", "'").rpartition("'")
        if short in _SHORT_VERBS and (self.words.find(stem) or stem in self.words.harmless):
            # "gran's 84", "what'll it weigh": the short verb says no more than is or will
            self._take_for(self.at, stem)
            return True
        if mark.kind == "word" and self.looked_up < MOST_LOOKED_UP:
            self.looked_up += 1
            parts = self._written_together(mark.text)
            if parts is not None:
                self.corrections.append((mark.raw, " ".join(parts)))
                self._take_for(self.at, *parts)
                return True
            near = vocabulary.mended(mark.text)
            if near is not None:
                self.corrections.append((mark.raw, near))
                self._take_for(self.at, near)
                return True
        return self._emit("UNKNOWN", mark.raw, self.at, self.at + 1)


_Attempt = Callable[[_Reader], bool]


def _attempts(*left_out: _Attempt) -> tuple[_Attempt, ...]:
    """The attempts in their order, but for those that nothing of a sort can pass. The last takes up any mark."""
    every: tuple[_Attempt, ...] = (
        _Reader._name,
        _Reader._four_is_for,
        _Reader._moment,
        _Reader._ordinal,
        _Reader._background,
        _Reader._per,
        _Reader._ratio,
        _Reader._money,
        _Reader._short_patties,
        _Reader._article_unit,
        _Reader._phrase_over_number,
        _Reader._number,
        _Reader._phrase,
        _Reader._sign,
        _Reader._unknown,
    )
    return tuple(attempt for attempt in every if attempt not in left_out)


_OF_DIGITS = (_Reader._four_is_for, _Reader._ordinal, _Reader._money, _Reader._short_patties)
_OF_NUMBERS = (_Reader._ratio, _Reader._phrase_over_number, _Reader._number)
_ATTEMPTS: dict[str, tuple[_Attempt, ...]] = {
    "word": _attempts(*_OF_DIGITS, *_OF_NUMBERS),
    "number word": _attempts(*_OF_DIGITS),
    "number": _attempts(_Reader._money, _Reader._article_unit),
    "sign": _attempts(_Reader._four_is_for, _Reader._background, _Reader._money, _Reader._short_patties),
    **dict.fromkeys(("bad", "clock", "iso", "figured", "money", "arrow"), _attempts()),
}
"""What is attempted with a mark of each sort: a line is mostly plain words, which are none of the numbers and dates."""


def _sort(mark: Mark) -> str:
    return "number word" if mark.kind == "word" and mark.text in _NUMBER_WORDS else mark.kind


_NUMBER_WORDS = BEGINNINGS | {"minus", "negative"}
