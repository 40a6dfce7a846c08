"""So many patties of a weight, told beside the meat that there is; sizes told by a word: "and thirds"."""

from __future__ import annotations

from fractions import Fraction

from assistant import units
from assistant.language.phrases import Amount, Count, Measure, Patties, People, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_whole, is_word

_HEAVIEST_PATTY = 700
"""Grams. A heavier weight is the meat for all of them. Common practice, no source."""
_FEWEST = 7
"""A smaller number beside a want is what each eater gets. A choice."""
_PARTS = {"thirds": Fraction(1, 3), "quarters": Fraction(1, 4), "halves": Fraction(1, 2)}
_ALONE = Pattern(
    r"^\W*(?:and|or|what about|how about|now|then|what if)\W+(?:in\W+|as\W+)?(?:thirds|quarters|halves)\W*$"
)


def wanted_at(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "1.5 kg mince. I need 12 at 200 g", "I have 2 lb and want 10 at 1/3 lb": so many patties of a weight."""
    if any(isinstance(p, Patties | People) for p in phrases):
        return
    for at in range(1, len(phrases) - 2):
        want, count, link, size = phrases[at - 1 : at + 3]
        wanted = is_cue(want, "want", "have", "into") and is_whole(count) and is_word(link, "at")
        small = isinstance(size, Amount) and size.kind == "weight" and _grams(size.measure) <= _HEAVIEST_PATTY
        heaps = [p for p in phrases[: at - 1] if isinstance(p, Amount) and p.kind == "weight"]
        if not (wanted and small and isinstance(count, Count) and isinstance(size, Amount) and len(heaps) == 1):
            continue
        follows = phrases[at + 3] if at + 3 < len(phrases) else None
        if (
            count.value >= _FEWEST
            and not isinstance(follows, PerEach)
            and _grams(heaps[0].measure) > _grams(size.measure)
        ):
            phrases[at : at + 3] = [Patties(count.first, size.last, f"{count.text} at {size.text}", count, size)]
            return


def size_by_its_part(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "And thirds" after quarter pounders: a third of a pound each."""
    if _ALONE.search(sentence.text.lower()) is None:
        return
    for at, word in enumerate(phrases):
        part = _PARTS.get(word.text.lower()) if isinstance(word, Word | Count) else None
        if part is not None:
            size = Amount(word.first, word.last, word.text, "weight", Measure(part, "lb"))
            phrases[at] = Patties(word.first, word.last, word.text, None, size)


def _grams(measure: Measure) -> Fraction:
    return units.grams(measure.value, measure.unit)
