"""Which length is what of a patty: the width of its bun, its own width, or how thick it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant import units
from assistant.language.phrases import Amount, Patties, Phrase, Word
from assistant.topics.plan.reading.together.shapes import is_cue, is_word

LENGTHS = ("bun", "thick", "across")
"""What a length may be of, under the cue that says so."""
_REACH = 2
"""How many phrases may stand between a length and the word that says what it is of."""
_THICKEST_MM = 45
"""Millimetres. Nobody forms a thicker patty, and no bun or patty is narrower. Common practice, no source."""


def lengths_of(phrases: Sequence[Phrase], places: Sequence[int]) -> dict[int, tuple[str, int | None]]:
    """What each length is of, and the place of the word that says so: "a 4 inch bun, half inch thick". The nearest word
    goes first, though across is said of a bun too ("my bun is 10 cm across"); without one a length is what its size
    allows."""
    found: dict[int, tuple[str, int | None]] = {}
    for place, at in _nearest_first(phrases, places):
        taken = {word for _, word in found.values()}
        said = phrases[at]
        assert isinstance(said, Word)
        if place not in found and at not in taken and said.payload not in {of for of, _ in found.values()}:
            found[place] = (said.payload, at)
    for place in places:
        if place not in found:
            of = _by_size(phrases, place, {of for of, _ in found.values()})
            if of:
                found[place] = (of, None)
    return found


def asked_for(phrases: Sequence[Phrase]) -> list[int]:
    """Where words stand that ask for a length, and tell none: "how wide and thick", "thickness?"."""
    asked = []
    for at, phrase in enumerate(phrases):
        led = at >= 2 and at - 2 in asked and is_word(phrases[at - 1], "join")
        question = phrase.text.lower().startswith("how ") or phrase.text.lower() in ("thickness", "width", "diameter")
        if is_cue(phrase, "thick", "across") and (led or question):
            asked.append(at)
    return asked


def _nearest_first(phrases: Sequence[Phrase], places: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Lengths and the words near them, the surest pair first; a word across another length is none of its own."""
    pairs = []
    for place in places:
        for at in range(max(0, place - _REACH), min(len(phrases), place + _REACH + 1)):
            between = range(min(at, place) + 1, max(at, place))
            if _says_of_what(phrases[at]) and not any(near in places for near in between):
                distance = abs(at - place)
                pairs.append((distance > 1, is_cue(phrases[at], "across"), distance, at < place, place, at))
    return ((place, at) for *_, place, at in sorted(pairs))


def _says_of_what(phrase: Phrase) -> bool:
    """Whether a word tells what a length is of; "how thick" asks for it."""
    return is_cue(phrase, *LENGTHS) and not phrase.text.lower().startswith("how")


def _by_size(phrases: Sequence[Phrase], place: int, taken: set[str]) -> str:
    """What a bare length can be: no bun is as narrow as a patty is thick. "" where the line speaks of no such thing."""
    length = phrases[place]
    assert isinstance(length, Amount)
    spoken = {word.payload for word in phrases if isinstance(word, Word) and word.kind == "cue"}
    asked = {w.payload for w in phrases if isinstance(w, Word) and w.text.lower().startswith("how")}
    if not (spoken & {*LENGTHS} or any(isinstance(phrase, Patties) for phrase in phrases)):
        return ""
    if units.to(length.measure.value, length.measure.unit, "mm") <= _THICKEST_MM:
        return "" if "thick" in taken else "thick"
    if "bun" in spoken and "bun" not in taken:
        return "bun"
    return "across" if "across" not in taken and "across" not in asked else ""
