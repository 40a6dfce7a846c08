"""Whose is it? Deciding which cut or seasoning an amount belongs to.

People put figures before a name (2 lb of round), after it (round, 2 lb), in brackets (round (8%)) and in
the next sentence. What stands between a figure and a name says how near the two are: nothing or "of" ties
them, a comma loosens, a full stop or another name parts them. The nearest name that still lacks such a figure
takes it; a figure that is near to none is the batch's, the target's, or is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language.phrases import Amount, CutName, Fatness, Per, Phrase, SeasoningName, Word

FAR = 7
"""A figure this far from a name is not its own."""

_SEPARATORS = {",": 4, ".": 14, ":": 8, "/": 3, " ": 0}
_WORDS = {
    "join": 5,
    "open": 2,
    "close": 2,
    "of": 0,
    "at": 0,
    "bound": 1,
    "side": 1,
    "unknown": 2,
    "pereach": 2,
}
_CUES = {
    "want": 9,
    "must_be": 0,
    "mix": 2,
    "how_much": 9,
    "how_many": 9,
    "into": 9,
    "out_of": 9,
    "have": 5,
    "this": 0,
    "goes_in": 1,
    "add": 4,
    "rest": 4,
    "not": 9,
    "make_it": 0,
    "use_up": 3,
    "too_fat": 9,
    "too_lean": 9,
    "lose": 3,
    "recipe_for": 1,
    "shop_price": 1,
    "what": 1,
}

_FAR = 100
"""Farther than any figure reaches for its name; what stands farther off is not counted, for a line may be long."""


def barrier(phrases: Sequence[Phrase], first: int, second: int) -> int:
    """How much stands between two places of a line (the places themselves not counted), counted up to _FAR."""
    low, high = min(first, second), max(first, second)
    between = 0
    for place, phrase in enumerate(phrases[low + 1 : high], low + 1):
        between += 0 if _opens_its_figures(phrases, place) else _weight(phrase)
        if between >= _FAR:
            break
    return between


def _opens_its_figures(phrases: Sequence[Phrase], place: int) -> bool:
    """ "Skirt: 900 g, 8% fat; suet: 300 g": a colon between the name that opens a clause and its own figure."""
    if not _is_sep(phrases[place], ":") or not isinstance(phrases[place - 1], CutName):
        return False
    opens = place == 1 or _is_sep(phrases[place - 2], ".")
    return opens and isinstance(phrases[place + 1], Amount | Fatness)


def _is_sep(phrase: Phrase, payload: str) -> bool:
    return isinstance(phrase, Word) and phrase.kind == "sep" and phrase.payload == payload


def _weight(phrase: Phrase) -> int:
    if isinstance(phrase, CutName | SeasoningName):
        return 9
    if isinstance(phrase, Per):
        return 0
    if not isinstance(phrase, Word):
        return 1
    if phrase.kind == "sep":
        return _SEPARATORS.get(phrase.payload, 4)
    if phrase.kind == "cue":
        return _CUES.get(phrase.payload, 3)
    return _WORDS.get(phrase.kind, 3)


def nearest(
    phrases: Sequence[Phrase],
    place: int,
    names: Sequence[int],
    *,
    before: int = 1,
    after: int = 0,
    comma_before: int = 0,
) -> list[tuple[int, int]]:
    """(distance, place of the name), nearest first, for the names just left and right of a figure.

    before: extra distance of a name that comes after the figure; after: of one that comes before it;
    comma_before: extra for every comma between the figure and a name that follows it.
    """
    left = [name for name in names if name < place]
    right = [name for name in names if name > place]
    found = []
    if left:
        found.append((barrier(phrases, left[-1], place) + after, left[-1]))
    if right:
        commas = sum(
            isinstance(phrase, Word) and phrase.kind == "sep" and phrase.payload == ","
            for phrase in phrases[place + 1 : right[0]]
        )
        found.append((barrier(phrases, place, right[0]) + before + commas * comma_before, right[0]))
    return sorted(found)
