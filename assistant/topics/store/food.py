"""Which row of the storage table a line means."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role
from assistant.data.safety import Storage, safety_book
from assistant.language.phrases import CutName, Patties, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.cautions import is_poultry

GROUND, COOKED, COOKED_CHICKEN = "ground meat", "cooked patties", "cooked chicken patties"
GENERAL = frozenset(
    {"beef", "pork", "lamb", "veal", "venison", "chicken", "turkey", "meat", "duck", "deer", "bison", "elk"}
)
"""Names of an animal: ground or whole was not said, so the shorter days of ground meat are told."""


def food_of(sentence: Sentence) -> str:
    """The storage row that the line means; where ground or whole was not said, ground, which keeps the shortest."""
    species = heard.meat(sentence).species
    if _is_cooked(sentence):
        return COOKED_CHICKEN if is_poultry(species) else COOKED
    cuts = sentence.of(CutName)
    # "can I still grind this brisket": what will be ground is a whole piece yet
    whole_yet = bool(cuts) and all(word.text.lower() in ("grind", "grinding") for word in _mixes(sentence))
    if cuts and re.search(r"\bbefore (i |you |we )?(grind|minc)", sentence.text.lower()):
        # pieces that are still to be ground keep as pieces
        return min((_row_of(cut, species) for cut in cuts), key=lambda key: safety_book().storage[key].days_high)
    ground = bool(_mixes(sentence) and not whole_yet) or bool(sentence.of(Patties))
    if any("sausage" in phrase.text.lower() for phrase in sentence.phrases):
        return "raw sausage"
    if ground:
        return GROUND
    rows = [_row_of(cut, species) for cut in cuts]
    # of several foods the one that keeps the shortest rules
    return min(rows, key=lambda key: safety_book().storage[key].days_high, default=GROUND)


def _is_cooked(sentence: Sentence) -> bool:
    """Whether it is cooked. What is left over of mince that nobody called cooked may be raw, which keeps shorter."""
    if sentence.has("raw"):
        return sentence.has("cooked")
    told = " ".join(word.text.lower() for word in sentence.words("cue") if word.payload == "leftover")
    plain = sentence.has("leftover") and _COOKED.search(told) is None
    return sentence.has("cooked", "done") or (sentence.has("leftover") and not (plain and _mixes(sentence)))


_COOKED = Pattern(r"\b(cook|heat|reheat|warm|burgers|patties|hamburgers|meatballs|meatloaf|cold|doggy)")
"""Words of leftovers that were cooked: "heat it up again", "burgers from last night"."""


def foods_of(sentence: Sentence) -> tuple[str, ...]:
    """Every row that the line names, each once."""
    species = heard.meat(sentence).species
    rows = [_row_of(cut, species) for cut in sentence.of(CutName)]
    return tuple(dict.fromkeys([*rows, *([GROUND] if _mixes(sentence) or bool(sentence.of(Patties)) else [])]))


def _mixes(sentence: Sentence) -> list[Word]:
    return [word for word in sentence.words("cue") if word.payload == "mix"]


def _row_of(cut: CutName, species: frozenset[str]) -> str:
    book = safety_book()
    if cut.name in book.storage_names:
        return book.storage_names[cut.name]
    if cut.name in GENERAL or "ground" in cut.name or "mince" in cut.name or cut.name.removesuffix("s") in GENERAL:
        return GROUND
    for word, key in (
        ("suet", "raw fat"),
        ("fat", "raw fat"),
        ("bacon", "bacon"),
        ("liver", "offal"),
        ("heart", "offal"),
    ):
        if word in cut.name:
            return key
    if is_poultry(species):
        return "whole poultry" if "whole" in cut.name else "poultry pieces"
    return "steaks" if "steak" in cut.name else "roasts"


def days_figure(row: Storage) -> Figure:
    """How many days it keeps in the fridge."""
    low, high = Fraction(row.days_low), Fraction(row.days_high)
    return verdict.time_figure("keeps in the fridge", low, "day", row.source, low, high)


def date_figure(name: str, day: date, row: Storage) -> Figure:
    """A day by which to use it."""
    return Figure(name, Role.DATE, day.isoformat(), "date", source=row.source, shown=wording.day(day))
