"""A request as the topics read it: its phrases, its cues, and the account of every word."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import Any, TypeVar, cast

from msgspec import Struct

from assistant.language import grammar, naming
from assistant.language.lexer import lex
from assistant.language.phrases import Amount, Count, CutName, Fatness, Phrase, Rate, Word
from assistant.language.scan import scan
from assistant.language.text import LONGEST, clean

P = TypeVar("P", bound=Phrase)
T = TypeVar("T")


MOST_MARKS, MOST_PHRASES = 500, 200
"""Words and signs of one request, and phrases that they make. The longest request among two thousand written by hand has
42 and 31; what is above the bounds is noise ("1-1-1-…", a page of prose), over which the topics, who look at phrases in
pairs, would take longer than the 50 ms that a line may take."""


class TooLong(Exception):
    """The line is longer than any request; it was not read. length: how many of `what` it had, most: how many are read."""

    def __init__(self, length: int, most: int = LONGEST, what: str = "characters") -> None:
        self.length, self.most, self.what = length, most, what
        super().__init__(length, most, what)


class Sentence(Struct, frozen=True, dict=True):
    """One request. text: as it was read; hidden: invisible characters were taken out;
    corrections: (typed, taken for). asides: words that were passed over and are named where the answer used none of them."""

    text: str
    phrases: tuple[Phrase, ...]
    corrections: tuple[tuple[str, str], ...] = ()
    hidden: bool = False
    asides: tuple[Word, ...] = ()

    def of(self, kind: type[P]) -> list[P]:
        """All phrases of one type, in order."""
        found = self._by_type.get(kind)
        if found is None:
            found = self._by_type[kind] = tuple(phrase for phrase in self.phrases if isinstance(phrase, kind))
        return cast(list[P], list(found))

    def once(self, work: Callable[[Sentence], T]) -> T:
        """What `work` makes of the line; worked out once, for several topics ask the same of it."""
        if work not in self._worked_out:
            self._worked_out[work] = work(self)
        return cast(T, self._worked_out[work])

    def words(self, kind: str) -> list[Word]:
        """All words of one kind ("cue", "unknown", …), in order."""
        return [phrase for phrase in self.phrases if isinstance(phrase, Word) and phrase.kind == kind]

    def cue(self, *names: str) -> Word | None:
        """The first of the named cues, or None."""
        return next((word for word in self._cue_words if word.payload in names), None)

    def has(self, *names: str) -> bool:
        """Whether any of the named cues is there."""
        return not self.cues.isdisjoint(names)

    @cached_property
    def cues(self) -> frozenset[str]:
        """The names of all cues that are there."""
        return frozenset(word.payload for word in self._cue_words)

    @cached_property
    def _cue_words(self) -> tuple[Word, ...]:
        # found once: every topic asks for dozens of them, and a long line has hundreds of phrases
        return tuple(self.words("cue"))

    @property
    def unknown(self) -> list[Word]:
        """The words that nobody has taught us."""
        return self.words("unknown")

    def place(self, phrase: Phrase) -> int:
        """Which phrase of the line it is, from 0."""
        return self._places[phrase]

    @cached_property
    def _places(self) -> dict[Phrase, int]:
        # looked up, not searched for: a line of a thousand phrases is asked about each of them many times
        return {phrase: at for at, phrase in reversed(tuple(enumerate(self.phrases)))}

    @cached_property
    def _worked_out(self) -> dict[Callable[[Sentence], Any], Any]:
        return {}

    @cached_property
    def _by_type(self) -> dict[type[Phrase], tuple[Phrase, ...]]:
        return {}

    def before(self, phrase: Phrase) -> Phrase | None:
        """The phrase just before another."""
        at = self.place(phrase)
        return self.phrases[at - 1] if at else None

    def after(self, phrase: Phrase) -> Phrase | None:
        """The phrase just after another."""
        at = self.place(phrase)
        return self.phrases[at + 1] if at + 1 < len(self.phrases) else None

    def substance(self) -> Iterator[Phrase]:
        """The phrases that say something: all but separators, joins and brackets."""
        for phrase in self.phrases:
            if not (isinstance(phrase, Word) and phrase.kind in ("sep", "join", "open", "close", "of", "at")):
                yield phrase


def read(raw: str, names: Mapping[str, str] | None = None, dates: str = "") -> Sentence:
    """Read one request. names: folded names the notebook knows -> as kept; dates: the order of a date in figures.

    Raises TooLong.
    """
    if len(raw) > LONGEST:
        raise TooLong(len(raw))
    typed = clean(raw)
    marks = scan(typed.text)
    if len(marks) > MOST_MARKS:
        raise TooLong(len(marks), MOST_MARKS, "words and signs")
    spans = naming.new_names(typed.text)
    lexed = lex(typed.text, names, spans, dates, marks)
    if len(lexed.pieces) > MOST_PHRASES:
        raise TooLong(len(lexed.pieces), MOST_PHRASES, "figures and names")
    asides = tuple(Word(first, last, typed.text[first:last], "aside", "") for first, last in lexed.asides)
    phrases = _lean_in_the_name(_opening_no(grammar.phrases(lexed.pieces, typed.text)))
    return Sentence(typed.text, phrases, lexed.corrections, typed.hidden, asides)


_ANEW = frozenset(("make_it", "correction", "what_about", "want", "how_much", "how_many"))
"""What a cook says after a no that takes back the line before."""


def _opening_no(phrases: tuple[Phrase, ...]) -> tuple[Phrase, ...]:
    """ "No make it 75/25", "no 80/20": a no that opens the line takes back what was said before. Before a name, or a
    figure with one ("no suet", "no 6 oz patties"), it rules that out and stays what it is."""
    if len(phrases) < 2 or not isinstance(phrases[0], Word) or phrases[0].text.lower() != "no":
        return phrases
    no, following = phrases[:2]
    anew = isinstance(following, Word) and following.kind == "cue" and following.payload in _ANEW
    lone = len(phrases) == 2 and isinstance(following, Amount | Count | Fatness | Rate)
    if not (anew or lone):
        return phrases
    return (Word(no.first, no.last, no.text, "cue", "correction"), *phrases[1:])


_LEANEST_LABEL = 60
"""Percent. Ground meat is sold as so lean or leaner; a smaller figure before "lean beef" counts something. A choice."""


def _lean_in_the_name(phrases: tuple[Phrase, ...]) -> tuple[Phrase, ...]:
    """ "70 lean ground beef", "95% lean beef": so lean it is; lean is no name of a meat there, and nothing is 95 % fat."""
    found = list(phrases)
    for at in range(len(found) - 1):
        figure, cut = found[at : at + 2]
        value = figure.measure.value if isinstance(figure, Amount) and figure.kind == "percent" else None
        if isinstance(figure, Count) and not figure.piece and not figure.proportion and figure.value.denominator == 1:
            value = figure.value
        named = isinstance(cut, CutName) and cut.text.lower().startswith("lean ")
        if value is None or not named or not isinstance(cut, CutName) or not _LEANEST_LABEL <= value <= 99:
            continue
        start = cut.first + len("lean ")
        name = cut.text[len("lean ") :]
        label = Fatness(figure.first, start, f"{float(value):g} lean", 100 - value, said_as_lean=True)
        found[at : at + 2] = [label, CutName(start, cut.last, name, name.lower(), cut.keys)]
    return tuple(found)
