"""What the grammar's rules become: small typed phrases, each knowing the characters it came from."""

from __future__ import annotations

from datetime import time
from enum import StrEnum
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.looking import Piece
from assistant.language.numbers import Number
from assistant.language.vocabulary import Meaning
from assistant.language.when import Clock, Day


class Bound(StrEnum):
    """How strictly an amount was meant."""

    IS = "is"
    LEAST = "at_least"
    MOST = "at_most"
    ABOUT = "about"
    EXACTLY = "exactly"
    ONLY = "only"


class Measure(Struct, frozen=True):
    """An amount of something. unit is a vocabulary payload (a pint name, "percent", or a currency)."""

    value: Fraction
    unit: str
    high: Fraction | None = None


class Phrase(Struct, frozen=True):
    """One phrase of a request. first, last: its characters in the cleaned text."""

    first: int
    last: int
    text: str


class Amount(Phrase, frozen=True):
    """A weight, volume, percent, sum of money, length, duration or temperature."""

    kind: str
    measure: Measure
    bound: Bound = Bound.IS


class Count(Phrase, frozen=True):
    """A bare number. proportion: several numbers said as parts (2:1:1)."""

    value: Fraction
    high: Fraction | None = None
    bound: Bound = Bound.IS
    piece: bool = False
    proportion: tuple[Fraction, ...] = ()


class Fatness(Phrase, frozen=True):
    """A share of fat in percent, however it was said. ratio: said as two numbers; reversed_: fat named first;
    high: the fatter end where a range was said."""

    fat: Fraction
    ratio: bool = False
    reversed_: bool = False
    bound: Bound = Bound.IS
    grade: bool = False
    said_as_lean: bool = False
    high: Fraction | None = None


class Rate(Phrase, frozen=True):
    """An amount per weight: 16 g/kg, £9.80/kg, 3.29/lb (unit "")."""

    kind: str
    measure: Measure
    per: Measure


class PerEach(Phrase, frozen=True):
    """An amount or a number for each patty or person."""

    kind: str
    measure: Measure
    payload: str = "each"
    bound: Bound = Bound.IS


class Patties(Phrase, frozen=True):
    """Patties, with how many and how heavy as far as it was said."""

    count: Count | None = None
    each: Amount | None = None


class People(Phrase, frozen=True):
    """People of one sort: person, adult or kid."""

    sort: str
    count: Count | None = None


class Scale(Phrase, frozen=True):
    """So many times something."""

    factor: Fraction


class Parts(Phrase, frozen=True):
    """So many parts of what is named beside it."""

    value: Fraction


class Moment(Phrase, frozen=True):
    """A clock time or a day. loose: nobody said whether the hour is before or after noon."""

    clock: time | None = None
    day: Day | None = None
    loose: bool = False


class CutName(Phrase, frozen=True):
    """A cut by one of its names, with the keys it may stand for (none: known, but without a figure)."""

    name: str
    keys: tuple[str, ...]


class SeasoningName(Phrase, frozen=True):
    """A seasoning by one of its names."""

    name: str
    key: str


class Per(Phrase, frozen=True):
    """ "per lb" standing apart from its amount ("3/4 tsp kosher per lb")."""

    per: Measure


class Word(Phrase, frozen=True):
    """Anything else that counts: kind is "cue", "sep", "join", "of", "at", "open", "close",
    "unknown", "badnum", "name", "bound", "side", "part", "times", "pereach", "permass"; payload says which."""

    kind: str
    payload: str


def _span(pieces: list[Any]) -> tuple[int, int]:
    return min(piece.first for piece in pieces), max(piece.last for piece in pieces)


class Phrases:
    """What each rule of the grammar makes. Rule names and method names correspond."""

    def __init__(self, text: str) -> None:
        self.text = text

    def make(self, rule: str, parts: list[Any]) -> Any:
        """What one rule makes of its parts."""
        return getattr(self, rule)(parts)

    def _at(self, children: list[Any]) -> tuple[int, int, str]:
        first, last = _span(children)
        return first, last, self.text[first:last]

    def start(self, phrases: list[Phrase]) -> list[Phrase]:
        """All phrases in order."""
        return phrases

    def bound(self, pieces: list[Piece]) -> Word:
        """at least, about, …"""
        return Word(*self._at(pieces), kind="bound", payload=pieces[0].payload)

    def side(self, pieces: list[Piece]) -> Word:
        """fat or lean."""
        return Word(*self._at(pieces), kind="side", payload=pieces[0].payload)

    def _measure(self, pieces: list[Piece], kind: str) -> Amount:
        number: Number = pieces[0].payload
        unit: str = pieces[1].payload
        value, high = number.value, number.high
        for more, more_unit in zip(pieces[2::2], pieces[3::2], strict=True):
            small = more.payload.value * _step_down(unit, more_unit.payload)
            value += small
            high = None if high is None else high + small
        if unit == "GBP_penny" or unit == "USD_cent":
            unit, value = unit.split("_")[0], value / 100
        return Amount(*self._at(pieces), kind=kind, measure=Measure(value, unit, high))

    def weight(self, pieces: list[Piece]) -> Amount:
        """1 lb 9 oz."""
        return self._measure(pieces, "weight")

    def volume(self, pieces: list[Piece]) -> Amount:
        """1 tbsp 1 tsp."""
        return self._measure(pieces, "volume")

    def percent(self, pieces: list[Piece]) -> Amount:
        """20 %."""
        return self._measure(pieces, "percent")

    def money(self, pieces: list[Piece]) -> Amount:
        """£150, 99p."""
        return self._measure(pieces, "money")

    def length(self, pieces: list[Piece]) -> Amount:
        """4 1/2 in."""
        return self._measure(pieces, "length")

    def duration(self, pieces: list[Piece]) -> Amount:
        """1 h 30 min."""
        return self._measure(pieces, "duration")

    def degrees(self, pieces: list[Piece]) -> Amount:
        """97 F."""
        return self._measure(pieces, "degrees")

    def amount(self, parts: list[Any]) -> Amount:
        """A measure with how strictly it is meant."""
        measure: Amount = parts[-1]
        bound = Bound(parts[0].payload) if len(parts) > 1 else Bound.IS
        return Amount(*self._at(parts), kind=measure.kind, measure=measure.measure, bound=bound)

    def count(self, parts: list[Any]) -> Count:
        """A bare number."""
        bound = Bound(parts[0].payload) if len(parts) > 1 else Bound.IS
        payload = parts[-1].payload
        if isinstance(payload, tuple):
            return Count(*self._at(parts), value=payload[0], bound=bound, proportion=payload)
        number: Number = payload
        return Count(*self._at(parts), value=number.value, high=number.high, bound=bound, piece=number.piece)

    def fatness(self, parts: list[Any]) -> Phrase:
        """80/20, 20 % fat, 75 lean, fat at 22, 80VL."""
        head, side = parts[0], parts[-1] if isinstance(parts[-1], Word) and parts[-1].kind == "side" else None
        place = self._at(parts)
        if isinstance(head, Piece) and head.type == "GRADE":
            return Fatness(*place, fat=100 - head.payload, grade=True)
        if isinstance(head, Piece) and head.type == "RATIO":
            first, second = head.payload
            # 20/80 is 80 lean written backwards: nobody grinds 80 % fat; the reading is said aloud
            return Fatness(*place, fat=Fraction(min(first, second)), ratio=True, reversed_=first < second)
        if isinstance(head, Piece):
            number = parts[1].payload
            if isinstance(number, tuple):
                return Fatness(*place, fat=number[0])
            return Fatness(*place, fat=number.value, high=number.high)
        if isinstance(head, Amount) and head.kind != "percent":
            return Phrases._split(head)
        if isinstance(head, Count) and head.piece:
            # "a quarter fat"
            head = replace(head, value=head.value * 100)
        value = head.measure.value if isinstance(head, Amount) else head.value
        upper = head.measure.high if isinstance(head, Amount) else head.high
        lean = side is not None and side.payload == "lean"
        if lean:
            value, upper = (100 - value, None) if upper is None else (100 - upper, 100 - value)
        return Fatness(*place, fat=value, bound=head.bound, said_as_lean=lean, high=upper)

    @staticmethod
    def _split(head: Amount) -> Phrase:
        """ "3 lb lean …": the weight stands; lean is a word about the meat that follows."""
        return head

    def parts(self, parts: list[Any]) -> Parts:
        """2 parts."""
        return Parts(*self._at(parts), value=parts[0].value)

    def rate(self, parts: list[Any]) -> Rate | Word:
        """An amount per weight; per no weight at all is a figure that nobody can use."""
        head, per = parts[0], parts[1].payload
        if per[0] <= 0:
            return Word(*self._at(parts), kind="badnum", payload="number")
        if isinstance(head, Count):
            kind, measure = "money", Measure(head.value, "", head.high)
        else:
            kind, measure = head.kind, head.measure
        return Rate(*self._at(parts), kind=kind, measure=measure, per=Measure(per[0], per[1]))

    def price(self, parts: list[Any]) -> PerEach:
        """An amount or number for each."""
        head = parts[0]
        if isinstance(head, Count):
            return PerEach(*self._at(parts), kind="count", measure=Measure(head.value, "", head.high), bound=head.bound)
        return PerEach(*self._at(parts), kind=head.kind, measure=head.measure, bound=head.bound)

    def multiple(self, parts: list[Any]) -> Patties:
        """twelve 6 oz."""
        return Patties(*self._at(parts), count=parts[0], each=parts[1])

    def patties(self, parts: list[Any]) -> Patties:
        """8 burgers, 150 g burgers, twelve 6 oz patties, burgers."""
        head = parts[0]
        if isinstance(head, Count):
            return Patties(*self._at(parts), count=head)
        if isinstance(head, Amount):
            return Patties(*self._at(parts), each=head)
        if isinstance(head, Patties):
            return Patties(*self._at(parts), count=head.count, each=head.each)
        return Patties(*self._at(parts))

    def people(self, parts: list[Any]) -> People:
        """70 adults."""
        sort = parts[-1].payload
        return People(*self._at(parts), sort=sort, count=parts[0] if isinstance(parts[0], Count) else None)

    def scale(self, parts: list[Any]) -> Scale:
        """1 1/2 times."""
        if isinstance(parts[0], Count):
            return Scale(*self._at(parts), factor=parts[0].value)
        number = parts[1].payload
        return Scale(*self._at(parts), factor=number[0] if isinstance(number, tuple) else number.value)

    def moment(self, pieces: list[Piece]) -> Moment:
        """A clock time or a day."""
        payload = pieces[0].payload
        if isinstance(payload, Day):
            return Moment(*self._at(pieces), day=payload)
        clock: Clock = payload
        return Moment(*self._at(pieces), clock=clock.at, loose=clock.loose)

    def word(self, parts: list[Any]) -> Phrase:
        """A cut, a seasoning, a cue, a separator, an unknown word."""
        piece = parts[0]
        if isinstance(piece, Word):
            return piece
        place = self._at(parts)
        if piece.type == "CUT":
            meaning: Meaning = piece.payload
            return CutName(*place, name=meaning.payload, keys=meaning.keys)
        if piece.type == "SEASONING":
            return SeasoningName(*place, name=piece.payload.payload, key=piece.payload.keys[0])
        if piece.type == "PERMASS":
            return Per(*place, per=Measure(*piece.payload))
        payload = piece.payload if isinstance(piece.payload, str) else ""
        return Word(*place, kind=piece.type.lower(), payload=payload)


def _step_down(unit: str, smaller: str) -> Fraction:
    """How much of `unit` one `smaller` is, for amounts said in two steps (1 lb 9 oz, 1 h 30 min)."""
    steps = {
        ("lb", "oz"): Fraction(1, 16),
        ("stone", "lb"): Fraction(1, 14),
        ("kg", "g"): Fraction(1, 1000),
        ("tbsp", "tsp"): Fraction(1, 3),
        ("cup", "tbsp"): Fraction(1, 16),
        ("hour", "minute"): Fraction(1, 60),
        ("day", "hour"): Fraction(1, 24),
        ("minute", "second"): Fraction(1, 60),
        ("week", "day"): Fraction(1, 7),
        ("month", "week"): Fraction(7, 30),
    }
    return steps.get((unit, smaller), Fraction(1) if unit == smaller else Fraction(0))
