"""What stands in the kitchen, in words: the machine that grinds, and how big the cubes are cut.

A part of the settings. The machine decides the steps, the cubes and the freezer how long they take to firm.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from assistant import units, wording
from assistant.language.phrases import Amount, Phrase
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, within
from assistant.topics.plan.steps import CUBE, GRINDER, HAND, MACHINE, MACHINES, MIXER, PROCESSOR

BOWL = "bowl_grams"
"""What the mixing bowl holds."""
SMALLEST_BOWL, LARGEST_BOWL = Fraction(200), Fraction(100_000)
"""Grams: a cup, and a tub for a fair; bounds of ours, no source."""
SMALLEST_CUBE, LARGEST_CUBE = 10, 60
"""Millimetres: below it is mince already, above it no feed tube takes it."""

_KINDS = (
    (PROCESSOR, r"(?:food[\s-]*)?processor|blender"),
    (
        MIXER,
        r"(?:stand[\s-]*)?mixer(?:'?s)?(?:\s+with\s+(?:a|the))?(?:\s+(?:grinder|grinding|mincer|mincing))?(?:\s+attachment)?"
        r"|(?:grinder|grinding|mincer|mincing)\s+attachment(?:\s+(?:on|for)\s+(?:a|the|my)\s+(?:stand[\s-]*)?mixer)?"
        r"|(?:grinder|mincer)\s+on\s+(?:a|the|my)\s+(?:stand[\s-]*)?mixer|attachment",
    ),
    (HAND, r"(?:hand|manual|crank|cast[\s-]*iron)(?:[\s-]*crank(?:ed)?)?[\s-]+(?:grinder|mincer)|hand[\s-]*crank"),
    (GRINDER, r"(?:electric\s+|meat\s+|proper\s+|real\s+|normal\s+)*(?:grinder|mincer)"),
)
_ANY = "|".join(f"(?:{words})" for _, words in _KINDS)
_LACK = r"(?:no|without\s+an?|haven'?t\s+(?:got\s+)?an?|don'?t\s+have\s+an?|do\s+not\s+have\s+an?|not\s+got\s+an?)"
_FILL = r"(?:but|just|only|i|we|have|'ve|ve|got|a|an|my|our|the|use|using|so|with|there'?s|is|it'?s|here|small|little|and|,|;|\.|-|\s)"
_SAID = (
    Pattern(rf"\b{_LACK}\s+(?:meat\s+)?(?:grinder|mincer)\b{_FILL}*\b(?P<machine>{_ANY})\b", re.I),
    Pattern(
        r"\b(?:i|we)(?:\s+have|'?ve)?\s*(?:only\s+|just\s+)*(?:got|have|own|use|bought|grind\s+with|work\s+with|am\s+using|are\s+using)?\s*"
        rf"(?:only\s+|just\s+)*(?:a|an|my|our|the)\s+(?:small\s+|little\s+)?(?P<machine>{_ANY})\b",
        re.I,
    ),
    Pattern(
        rf"\b(?:use|using|with|in|on)\s+(?:just\s+)?(?:a|an|my|our|the)\s+(?:small\s+|little\s+)?(?P<machine>{_KINDS[0][1]}|{_KINDS[1][1]}|{_KINDS[2][1]})\b",
        re.I,
    ),
    Pattern(
        rf"\b(?:my|our)\s+(?:machine|grinder|mincer|kit)\s+is\s+(?:just\s+)?(?:a|an|the)\s+(?P<machine>{_ANY})\b", re.I
    ),
    Pattern(rf"^\W*(?:use|using|just|only)\s+(?:a|an|my|our|the)\s+(?P<machine>{_ANY})\W*$", re.I),
)
_ALONE = Pattern(
    rf"^\W*(?:just\s+|only\s+|an?\s+|the\s+|my\s+|with\s+)*(?P<machine>{_ANY})(?:\s+(?:please|only|thanks))?\W*$", re.I
)
_LACKS = Pattern(rf"\b{_LACK}\s+(?:meat\s+)?(?:grinder|mincer)\b", re.I)
_CUBES = Pattern(
    r"\b(?:(?:i|we)\s+(?:always\s+|usually\s+)?(?:cut|cube|dice|chop)\b|(?:my|our)\s+(?:cubes|chunks|pieces)\s+are\b)",
    re.I,
)
_BOWL = Pattern(
    r"\b(?:my|our|the)\s+(?:mixing\s+|big\s+|largest\s+|biggest\s+)?bowl\s+(?:only\s+|just\s+)?(?:holds|takes|fits)\b",
    re.I,
)
_NAMED = Pattern(_ANY, re.I)
"""A line without the name of a machine says nothing of one: one pattern to try where there would be seven."""
_ASKING = ("how_much", "how_many", "how_long", "what", "which_plate", "safe")

Found = tuple[list[tuple[str, str]], set[Phrase]]


def machine(sentence: Sentence) -> Found | None:
    """The machine that the line says is there, as a setting; None where it asks, or says nothing of one."""
    if not _speaks_of_one(sentence) or "?" in sentence.text or sentence.has(*_ASKING) or heard.asks_leave(sentence):
        return None
    match = next((found for pattern in _SAID if (found := pattern.search(sentence.text))), None)
    if match is None:
        return None
    return [(MACHINE, kind_of(match["machine"]))], set(within.overlapping(sentence, *match.span()))


def lacks_grinder(sentence: Sentence) -> bool:
    """Whether the line says that there is no grinder, and not what there is."""
    if not _speaks_of_one(sentence):
        return False
    asks = "?" in sentence.text or sentence.has("processor", *_ASKING) or heard.asks_leave(sentence)
    return not asks and _LACKS.search(sentence.text) is not None


def _speaks_of_one(sentence: Sentence) -> bool:
    return _NAMED.search(sentence.text) is not None


def machine_named(text: str) -> str:
    """The machine in an answer that is nothing else: "a food processor"; "" where it is something else."""
    match = _ALONE.match(text)
    return kind_of(match["machine"]) if match else ""


def kind_of(words: str) -> str:
    """The machine that a name of one means."""
    return next(kind for kind, pattern in _KINDS if re.fullmatch(pattern, words, re.I))


def cubes(sentence: Sentence) -> Found | str | None:
    """The size of the cubes as a setting; why it cannot be, where no grinder takes such cubes."""
    match = _CUBES.search(sentence.text)
    sizes = [amount for amount in sentence.of(Amount) if amount.kind == "length"]
    if match is None or not sizes or "?" in sentence.text or sentence.has(*_ASKING):
        return None
    side = units.to(sizes[0].measure.value, sizes[0].measure.unit, "mm")
    if not SMALLEST_CUBE <= side <= LARGEST_CUBE:
        return f"Cubes of {sizes[0].text} do not go through a grinder: {SMALLEST_CUBE} to {LARGEST_CUBE} mm do."
    return [(CUBE, str(side))], {sizes[0], *within.overlapping(sentence, *match.span())}


def bowl(sentence: Sentence) -> Found | str | None:
    """What the bowl holds as a setting; why it cannot be, where that is no weight of meat."""
    match = _BOWL.search(sentence.text)
    if match is None or "?" in sentence.text or sentence.has(*_ASKING):
        return None
    sizes = [amount for amount in sentence.of(Amount) if amount.first >= match.end() - 1]
    if not sizes:
        return None
    if sizes[0].kind != "weight":
        return f'How much meat does the bowl hold, by weight? {sizes[0].text} is no weight; "my bowl holds 3 kg" is.'
    holds = units.grams(sizes[0].measure.value, sizes[0].measure.unit)
    if not SMALLEST_BOWL <= holds <= LARGEST_BOWL:
        return f"A bowl for {sizes[0].text} of meat is no bowl to mix in: 200 g to 100 kg make sense."
    return [(BOWL, str(holds))], {sizes[0], *within.overlapping(sentence, *match.span())}


def told(settings: Mapping[str, str], system: str) -> list[str]:
    """The machine and the cubes in words, as far as they were said."""
    words = []
    if settings.get(MACHINE):
        words.append(MACHINES[settings[MACHINE]])
    if settings.get(CUBE):
        words.append(f"cubes of {wording.length(Fraction(settings[CUBE]), system)}")
    if settings.get(BOWL):
        words.append(f"a bowl for {wording.both(Fraction(settings[BOWL]), system)} of meat")
    return words
