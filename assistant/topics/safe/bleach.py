"""How much sanitiser."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Amount, Measure, Per, Phrase
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading
from assistant.topics.heard import Meat
from assistant.topics.safe.ruled import told_by_more_than_a_word

UNIT_WORDS = {"l": "litre", "ml": "millilitre", "fluid_ounce": "fluid ounce"}


class Sanitiser(Struct, frozen=True):
    """How much bleach. litres: of water, None for a US gallon."""

    litres: Fraction | None = None
    unit: str = "gallon"
    amount: Fraction = Fraction(1)


def read(sentence: Sentence) -> Reading | None:
    """A line about sanitiser, with its water where that is said."""
    if not sentence.has("bleach") or told_by_more_than_a_word(sentence) & {"bad mix", "sour sanitiser"}:
        return None
    volumes: list[tuple[Phrase, Measure]] = [
        (amount, amount.measure) for amount in sentence.of(Amount) if amount.kind == "volume"
    ]
    volumes += [(per, per.per) for per in sentence.of(Per) if units.kind(per.per.unit) == units.kind("l")]
    water = max(volumes, key=lambda pair: units.millilitres(pair[1].value, pair[1].unit), default=None)
    used = heard.plain_words(sentence) | heard.all_of([water and water[0]])
    if water is None:
        return Reading(Sanitiser(), used, 2)
    measure = water[1]
    litres = units.millilitres(measure.value, measure.unit) / 1000
    return Reading(Sanitiser(litres, measure.unit, measure.value), used, 2)


def answer(request: Sanitiser, kitchen: Kitchen) -> Outcome:
    """Spoons of plain bleach for the water."""
    row = verdict.figure("bleach_per_us_gallon")
    gallon = units.millilitres(1, "gallon") / 1000
    litres = request.litres if request.litres is not None else gallon
    spoons = row.value * litres / gallon
    millilitres = units.millilitres(spoons, "tablespoon")
    unit = UNIT_WORDS.get(request.unit, request.unit)
    water = f"{wording.number(request.amount)} {wording.plural_of(unit) if request.amount != 1 else unit}"
    small = spoons < 1
    much = f"{wording.fraction(spoons * 3 if small else spoons)} {'tsp' if small else 'tbsp'} ({wording.number(millilitres, 0)} mL)"
    return verdict.told(
        "safe",
        f"How much bleach for {water} of water",
        f"{much} of plain unscented bleach in {water} of water. Flood it, wait a few minutes, rinse, air dry.",
        figures=[Figure("plain bleach", Role.ADD, float(spoons), "tablespoon", source=row.source, shown=much)],
        cautions=verdict.with_meat(Meat(), kitchen, {"clean_grinder"}),
        notes=[
            "Wash it clean with hot soapy water first: sanitiser does not work through grease.",
            "Never mix bleach with an acid (vinegar, lemon) or with ammonia.",
            f"Source: {row.source}: 1 tablespoon in a US gallon. {verdict.LOCAL}",
        ],
        working=(f"1 tablespoon x {wording.number(litres, 2)} L / {wording.number(gallon, 3)} L.",),
    )
