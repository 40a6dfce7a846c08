"""Numbers as cooks write them: 1 1/2, 2½, 1,5, 1,500, half a dozen, a couple, two or three, 2-3.

The reader works on scanned marks (see scan.py) and either gives an exact fraction or none at all:
it never guesses. Written here because no library was right often enough: the best one misread a
quarter of forty kitchen phrases without an error (DEVELOPERS.md, decisions).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from assistant.language.scan import Mark

VULGAR = {
    "½": Fraction(1, 2),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
    "⅕": Fraction(1, 5),
    "⅙": Fraction(1, 6),
}
ONES = dict(
    zip(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
        ],
        range(20),
        strict=True,
    )
)
_TENS = dict(
    zip(["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], range(20, 100, 10), strict=True)
)
_TENS["fourty"] = 40
_PIECES = {
    "half": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "fourth": Fraction(1, 4),
    "fifth": Fraction(1, 5),
    "fifths": Fraction(1, 5),
    "sixth": Fraction(1, 6),
    "eighth": Fraction(1, 8),
    "eighths": Fraction(1, 8),
    "tenth": Fraction(1, 10),
    "tenths": Fraction(1, 10),
}
BEGINNINGS = frozenset((*ONES, *_TENS, "a", "an", "bakers", "dozen", "couple", "pair"))
BEGINNINGS |= frozenset(("half", "third", "quarter", "fifth"))
"""Every word that a number can begin with; most words of a line are none and need no further look."""
_TIMES = {"dozen": 12, "doz": 12, "hundred": 100, "thousand": 1000}
_LONGEST_DIGITS = 9
_LARGEST = 10**13
"""A number above it is no amount of anything, however it was said ("a thousand thousand thousand thousand")."""


_MEASURES = frozenset(
    [
        "lb",
        "lbs",
        "pound",
        "pounds",
        "kg",
        "kilo",
        "kilos",
        "ounces",
        "oz",
        "cups",
        "tsp",
        "teaspoons",
        "tbsp",
        "tablespoons",
        "inches",
    ]
)
"""Units after a piece that was said without its article ("two and half pounds")."""


class Number(Struct, frozen=True):
    """A number that was read: its value, the upper end where a range was said, and the mark after it.

    piece: a bare fraction word ("a third"), which may be a share rather than an amount.
    bad: digits that are no usable number (1/0, 1e400, NaN); the value is then meaningless.
    """

    value: Fraction
    end: int
    high: Fraction | None = None
    piece: bool = False
    bad: bool = False


def read_number(marks: Sequence[Mark], at: int) -> Number | None:
    """The number that starts at `at`, without looking for a range."""
    number = _number(marks, at) if at < len(marks) else None
    if number is not None and number.value > _LARGEST:
        return Number(Fraction(0), number.end, bad=True)
    return number


def _number(marks: Sequence[Mark], at: int) -> Number | None:
    mark = marks[at]
    if mark.kind == "bad":
        return Number(Fraction(0), at + 1, bad=True)
    if mark.kind == "number":
        return _digits(marks, at)
    if mark.text in VULGAR:
        return _with_tail(marks, VULGAR[mark.text], at + 1)
    return _words(marks, at) if mark.kind == "word" and mark.text in BEGINNINGS else None


def literal(text: str) -> Fraction | None:
    """The value of a digit string, or None where it is too long to be an amount of anything.

    1,500 is fifteen hundred; 1,5 is one and a half.
    """
    if len(text) > _LONGEST_DIGITS + 4:
        return None
    if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?", text):
        text = text.replace(",", "")
    return Fraction(text.replace(",", "."))


def _digits(marks: Sequence[Mark], at: int) -> Number | None:
    value = literal(marks[at].text)
    if value is None:
        return Number(Fraction(0), at + 1, bad=True)
    over = _fraction(marks, at)
    if over is not None:
        return over
    mixed = _mixed(marks, at, value)
    if mixed is not None:
        return mixed
    return _with_tail(marks, value, at + 1)


def _fraction(marks: Sequence[Mark], at: int) -> Number | None:
    """1/2, 3/4 at `at`; 1/0 is bad."""
    if not (
        _is(marks, at + 1, "/") and marks[at + 1].glued and _kind(marks, at + 2) == "number" and marks[at + 2].glued
    ):
        return None
    above, below = literal(marks[at].text), literal(marks[at + 2].text)
    if above is None or below is None or below == 0:
        return Number(Fraction(0), at + 3, bad=True)
    if below.denominator != 1 or above.denominator != 1:
        return Number(Fraction(0), at + 3, bad=True)
    return _with_tail(marks, above / below, at + 3, whole=False)


def _mixed(marks: Sequence[Mark], at: int, whole: Fraction) -> Number | None:
    """1 1/2, 1-1/2, 1 and 1/2, 2½."""
    after = at + 1
    if after < len(marks) and marks[after].text in VULGAR:
        return Number(whole + VULGAR[marks[after].text], after + 1)
    if (_is(marks, after, "-") and marks[after].glued) or _is(marks, after, "and", "&", "n"):
        after += 1
    if after < len(marks) and marks[after].text in VULGAR and after > at + 1:
        return Number(whole + VULGAR[marks[after].text], after + 1)
    if _kind(marks, after) == "number" and whole.denominator == 1 and "." not in marks[after].text:
        part = _fraction(marks, after)
        if part is not None and not part.bad and part.value < 1:
            return Number(whole + part.value, part.end)
    return None


def _with_tail(marks: Sequence[Mark], value: Fraction, end: int, *, whole: bool = True) -> Number:
    """Take up "dozen", "hundred", "and a half" after a number."""
    while _text(marks, end) in _TIMES:
        value *= _TIMES[marks[end].text]
        end += 1
        # "a hundred and twenty", but "a dozen and two packs" are two things
        more = _count(marks, end + 1) if value >= 100 and _is(marks, end, "and") else None
        if more is not None and _text(marks, more[1]) not in ("dozen", "doz", "hundred"):
            value, end = value + more[0], more[1]
    dozens = end > 0 and marks[end - 1].text in ("dozen", "doz")
    if dozens:
        end = _past_of(marks, end)
    if not (whole and _is(marks, end, "and", "n", "&")):
        return Number(value, end)
    if _is(marks, end + 1, "a") and _text(marks, end + 2) in ("half", "third", "quarter"):
        piece = _PIECES[marks[end + 2].text]
        # a dozen and a half are eighteen, two and a half dozen thirty
        both = value + (12 * piece if dozens else piece)
        times = _TIMES[marks[end + 3].text] if _text(marks, end + 3) in ("dozen", "doz") else 1
        return Number(both * times, _past_of(marks, end + 4) if times > 1 else end + 3)
    if _text(marks, end + 1) in ("half", "quarter") and _text(marks, end + 2) in _MEASURES:
        # "one and half kilos", "2 and quarter lb"
        return Number(value + _PIECES[marks[end + 1].text], end + 2)
    pieces = _pieces(marks, end + 1, after_whole=True)
    return Number(value, end) if pieces is None else Number(value + pieces.value, pieces.end)


def _pieces(marks: Sequence[Mark], at: int, *, after_whole: bool = False) -> Number | None:
    """ "three quarters" and "three-quarter" are 3/4; "two quarter-pound burgers" are two of a quarter.

    after_whole: a whole number and an "and" stand before it: "two and three quarter pounds"."""
    count = _count(marks, at)
    if count is None or not 0 < count[0] < 20:
        return None
    value, end = count
    tied = _is(marks, end, "-") and marks[end].glued
    piece = end + 1 if tied else end
    name = _text(marks, piece)
    if name not in _PIECES or name == "half" or not (tied or after_whole or name.endswith("s") or value == 1):
        return None
    return Number(value * _PIECES[name], piece + 1, piece=True)


_UNTIED = (
    "percent",
    "%",
    "teaspoon",
    "teaspoons",
    "tsp",
    "tablespoon",
    "tablespoons",
    "tbsp",
    "inch",
    "inches",
    "hour",
    "hours",
)
"""Units that no patty is named after: "three quarter teaspoon" is 3/4 of one, "three quarter pound burgers" are three."""


def _words(marks: Sequence[Mark], at: int) -> Number | None:
    word = _text(marks, at)
    if word in ("a", "an"):
        return _after_article(marks, at)
    if word == "bakers" and _is(marks, at + 1, "dozen"):
        return Number(Fraction(13), _past_of(marks, at + 2))
    if word == "dozen":
        return Number(Fraction(12), at + 1)
    if word in ("couple", "pair"):
        return Number(Fraction(2), at + 2 if _is(marks, at + 1, "of") else at + 1)
    if word == "half" and _is(marks, at + 1, "dozen"):
        return Number(Fraction(6), at + 2)
    if word == "half" and _is(marks, at + 1, "a") and _is(marks, at + 2, "dozen"):
        return Number(Fraction(6), at + 3)
    if word in _PIECES and word in ("half", "third", "quarter", "fifth"):
        return Number(_PIECES[word], at + 1, piece=True)
    pieces = _pieces(marks, at)
    if pieces is not None:
        return pieces
    spoken = _pieces(marks, at, after_whole=True)
    if spoken is not None and spoken.value < 1 and _text(marks, spoken.end) in _UNTIED:
        return spoken
    count = _count(marks, at)
    if count is None:
        return None
    return _decimal_words(marks, *count) or _with_tail(marks, Fraction(count[0]), count[1])


def _decimal_words(marks: Sequence[Mark], whole: int, at: int) -> Number | None:
    """ "one point four", "zero point two five": the digits after the point, one by one."""
    digits = ""
    end = at + 1
    while _is(marks, at, "point") and ONES.get(_text(marks, end), 10) < 10:
        digits += str(ONES[_text(marks, end)])
        end += 1
    return Number(Fraction(f"{whole}.{digits}"), end) if digits else None


def _count(marks: Sequence[Mark], at: int) -> tuple[int, int] | None:
    word = _text(marks, at)
    if word in ONES:
        return ONES[word], at + 1
    if word not in _TENS:
        return None
    value, end = _TENS[word], at + 1
    ones = end + 1 if _is(marks, end, "-") and marks[end].glued else end
    small = ONES.get(_text(marks, ones))
    # "twenty five-ounce patties" is twenty of five ounces: the hyphen ties five to the ounce.
    tied = _is(marks, ones + 1, "-") and marks[ones + 1].glued and ones == end
    if small is not None and 0 < small < 10 and not tied:
        return value + small, ones + 1
    return value, end


def _after_article(marks: Sequence[Mark], at: int) -> Number | None:
    word = _text(marks, at + 1)
    if word in ("dozen", "hundred", "thousand"):
        return _with_tail(marks, Fraction(1), at + 1)
    if word == "bakers" and _is(marks, at + 2, "dozen"):
        return _words(marks, at + 1)
    if word in ("couple", "pair"):
        return Number(Fraction(2), at + 3 if _is(marks, at + 2, "of") else at + 2)
    if word == "half" and _is(marks, at + 2, "dozen"):
        return Number(Fraction(6), at + 3)
    if word in ("half", "third", "quarter", "fifth", "fourth", "sixth", "eighth", "tenth"):
        return Number(_PIECES[word], at + 2, piece=True)
    return None


def _past_of(marks: Sequence[Mark], at: int) -> int:
    """ "a dozen of 5 oz": the of before another number is passed over."""
    return at + 1 if _is(marks, at, "of") and _kind(marks, at + 1) == "number" else at


def _text(marks: Sequence[Mark], at: int) -> str:
    return marks[at].text if at < len(marks) else ""


def _kind(marks: Sequence[Mark], at: int) -> str:
    return marks[at].kind if at < len(marks) else ""


def _is(marks: Sequence[Mark], at: int, *texts: str) -> bool:
    return at < len(marks) and marks[at].text in texts
