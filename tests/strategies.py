"""Kitchen sentences for hypothesis: whole requests that must work, and lines that need only be survived."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from hypothesis import strategies as st
from msgspec import Struct

from assistant.language import vocabulary

LEAN = ("round", "brisket 20%", "shin 6%", "venison 2%", "topside 7%")
FAT = ("suet 92%", "fatback 88%", "brisket trim 45%", "short rib 36%")
SIZES = ("4 oz", "5 oz", "6 oz", "150 g", "120 g", "1/4 lb")


class Blend(Struct, frozen=True):
    """A batch that can be made: so many pounds at a whole percent of fat from a lean and a fat meat."""

    pounds: Fraction
    fat: int
    lean_meat: str
    fat_meat: str

    def line(self, weight: str = "") -> str:
        """The request in words; `weight` in place of the pounds."""
        said = weight or f"{float(self.pounds):g} lb"
        return f"{said} at {100 - self.fat}/{self.fat} from {self.lean_meat} and {self.fat_meat}"


def blends() -> st.SearchStrategy[Blend]:
    """Batches of half a pound to fifty pounds whose fat lies between that of their two meats."""
    return st.builds(
        Blend,
        pounds=st.integers(2, 200).map(lambda quarters: Fraction(quarters, 4)),
        fat=st.integers(21, 35),
        lean_meat=st.sampled_from(LEAN),
        fat_meat=st.sampled_from(FAT),
    )


def kitchen_words() -> st.SearchStrategy[str]:
    """Two to twelve phrases of the vocabulary and amounts, in any order."""
    phrases = sorted(vocabulary.vocabulary().meanings)
    amounts = st.sampled_from(
        (
            "3",
            "3 lb",
            "1/2",
            "80/20",
            "20%",
            "6 oz",
            "150 g",
            "a pound",
            "two",
            "$4.50",
            "16 g/kg",
            "71 C",
            "1:15 pm",
            "1/0",
        )
    )
    return st.lists(st.one_of(st.sampled_from(phrases), amounts), min_size=2, max_size=12).map(" ".join)


def any_text() -> st.SearchStrategy[str]:
    """Any unicode text up to the longest line, lone surrogates and control characters among it."""
    return st.one_of(
        st.text(max_size=300),
        st.text(st.characters(), max_size=300),
        st.text(alphabet="0123456789/.,-+:%#'\"½⅓ eE*x", max_size=200),
        kitchen_words(),
        st.builds(lambda piece, times: (piece * times)[:2000], st.text(min_size=1, max_size=8), st.integers(1, 400)),
    )


def spaced(line: str, gaps: Iterator[int]) -> str:
    """The same line with other white space between its words."""
    return " ".join(word + " " * next(gaps) for word in line.split(" "))
