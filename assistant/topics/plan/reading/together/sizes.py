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


_CAME_OFF = Pattern(
    r"\b(?:came|come|comes|cooked|went|goes|gone|ended|is now|now|weighed|weighs|finished)\b[^.;?]{0,30}\b(?:off|down|up|out|now|after|cooked|weighed|weighs)\b"
    r"|\b(?:weighed|weighs|is now|was)\b"
)
_ASKS_LOSS = Pattern(r"\b(?:lose|loses|lost|losing|loss|shrink|shrinkage|shrunk|yield|keeps?|kept)\b")
_COOKED = Pattern(r"\b(?:grill|pan|hot ?plate|griddle|barbecue|bbq|oven|cook(?:ed|ing|s)?|fried|skillet|flat ?top)\b")


def came_off_at(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "A 200 g raw patty came off the hotplate at 146 g. What did it lose?": a raw weight, and what is left of it."""
    text = sentence.text.lower()
    weights = [at for at, p in enumerate(phrases) if _weight_of(p) is not None]
    if len(weights) != 2 or not (_ASKS_LOSS.search(text) and _COOKED.search(text)):
        return
    first, second = weights
    raw, left = _weight_of(phrases[first]), phrases[second]
    between = text[phrases[first].last : left.first]
    counted = any(
        isinstance(p, People) or (isinstance(p, Patties) and p.count is not None and p.count.value != 1)
        for p in phrases
    )
    if raw is None or not isinstance(left, Amount) or counted or _CAME_OFF.search(between) is None:
        return
    if not _grams(left.measure) < _grams(raw.measure):
        return
    after = [p for p in phrases[second + 1 :] if not isinstance(p, Patties)]
    before = [p for p in phrases[:first] if not isinstance(p, Patties)]
    was = Word(raw.last, raw.last, "raw", "cue", "raw")
    now = Word(left.first, left.first, "cooked", "cue", "cooked")
    phrases[:] = [*before, raw, was, now, left, *after]


def _weight_of(phrase: Phrase) -> Amount | None:
    if isinstance(phrase, Patties):
        return phrase.each if phrase.each is not None and phrase.each.kind == "weight" else None
    return phrase if isinstance(phrase, Amount) and phrase.kind == "weight" else None


_NO_CASINGS = Pattern(
    r"\b(?:not counting|not including|excluding|without|ignor(?:e|ing)|forget(?:ting)?|leav(?:e|ing) out|never mind)(?: the)? (?:casings?|skins?)\b"
    r"|\b(?:casings?|skins?) (?:don['’]?t|do not|doesn['’]?t|not) (?:count(?:ed)?|matter|included)\b"
)


def casings_left_out(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "3 dozen brats at 4 oz each, casings dont count": what they are filled into weighs nothing here anyway."""
    said = _NO_CASINGS.search(sentence.text.lower())
    if said is not None:
        phrases[:] = [p for p in phrases if p.last <= said.start() or p.first >= said.end()]


_ROUNDED = Pattern(
    r"\bround(?:ed|ing)?(?: it| that| them)? up (?:to )?(?:the )?(?:next |nearest |a )*(?:whole |full |even )*(?P<unit>kilos?|kgs?|kilogram(?:me)?s?|pounds?|lbs?)\b"
)
ROUNDED_UP = "rounded_up"
"""The cue that the join of that name makes; its text ends in the unit."""


def rounded_up(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Rounded up to whole kilos", "round it up to the next pound": no cut of that name, and no bound."""
    said = _ROUNDED.search(sentence.text.lower())
    if said is None:
        return
    word = Word(said.start(), said.end(), said["unit"], "cue", ROUNDED_UP)
    kept = [p for p in phrases if p.last <= said.start() or p.first >= said.end()]
    at = next((at for at, p in enumerate(kept) if p.first >= said.end()), len(kept))
    phrases[:] = [*kept[:at], word, *kept[at:]]


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
