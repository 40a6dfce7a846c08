"""How much sanitiser."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Amount, Measure, Per, Phrase
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading
from assistant.topics.heard import Meat
from assistant.topics.safe.ruled import told_by_more_than_a_word

LEEWAY = Fraction(1, 4)
"""How far a dose may be from the rule before it is called wrong: a spoon is no finer."""
SPOONED = frozenset({"gallon", "quart", "pint", "cup"})
"""Units that a kitchen measures in halves and quarters."""
SMALLEST_SPOON = Fraction(1, 24)
"""An eighth of a teaspoon, in tablespoons: below it, only millilitres are told."""
UNIT_WORDS = {"l": "litre", "ml": "millilitre", "fluid_ounce": "fluid ounce"}


class Sanitiser(Struct, frozen=True):
    """How much bleach. litres: of water, None for a US gallon; bleach: the tablespoons of it that were said."""

    litres: Fraction | None = None
    unit: str = "gallon"
    amount: Fraction = Fraction(1)
    bleach: Fraction | None = None


def read(sentence: Sentence) -> Reading | None:
    """A line about sanitiser, with its water where that is said."""
    if not sentence.has("bleach") or told_by_more_than_a_word(sentence) & {"bad mix", "sour sanitiser"}:
        return None
    volumes: list[tuple[Phrase, Measure]] = [
        (amount, amount.measure) for amount in sentence.of(Amount) if amount.kind == "volume"
    ]
    volumes += [(per, per.per) for per in sentence.of(Per) if units.kind(per.per.unit) == units.kind("l")]
    poured = next((pair for pair in volumes if _is_the_bleachs(sentence, pair[0])), None)
    others = [pair for pair in volumes if pair is not poured]
    water = max(others, key=lambda pair: units.millilitres(pair[1].value, pair[1].unit), default=None)
    used = heard.plain_words(sentence) | heard.all_of([water and water[0], poured and poured[0]])
    request = Sanitiser()
    if water is not None:
        measure = water[1]
        request = Sanitiser(units.millilitres(measure.value, measure.unit) / 1000, measure.unit, measure.value)
    if poured is not None:
        millilitres = units.millilitres(poured[1].value, poured[1].unit)
        request = replace(request, bleach=millilitres / units.millilitres(1, "tablespoon"))
    return Reading(request, used, 2)


def _is_the_bleachs(sentence: Sentence, phrase: Phrase) -> bool:
    """Whether a volume stands just beside the bleach: "1/4 cup of bleach", "bleach 1/4 cup"; "bleach for a gallon" is
    of the water."""
    if isinstance(phrase, Per):
        return False
    before, after = sentence.text[: phrase.first].lower(), sentence.text[phrase.last :].lower()
    return (
        re.search(r"\bbleach[ ,:]*$", before) is not None
        or re.match(r"[ ,]*(of )?(plain |household |unscented )*bleach\b", after) is not None
    )


def answer(request: Sanitiser, kitchen: Kitchen) -> Outcome:
    """Spoons of plain bleach for the water; for a dose that was said, whether it is right, or its water."""
    row = verdict.figure("bleach_per_us_gallon")
    gallon = units.millilitres(1, "gallon") / 1000
    if request.bleach is not None and request.litres is None:
        # the cook has measured the bleach: what is missing is the water
        gallons = request.bleach / row.value
        request = replace(request, amount=gallons, litres=gallons * gallon)
    litres = request.litres if request.litres is not None else gallon
    spoons = row.value * litres / gallon
    unit = UNIT_WORDS.get(request.unit, request.unit)
    quarters = request.unit in SPOONED and (request.amount * 4).denominator == 1
    amount = wording.fraction(request.amount) if quarters else wording.number(request.amount)
    water = f"{amount} {wording.plural_of(unit) if request.amount > 1 else unit}"
    much = _spoons(spoons)
    said = ""
    if request.bleach is not None and abs(request.bleach - spoons) > spoons * LEEWAY:
        said = f"No, not {_spoons(request.bleach)}: that is too {'much' if request.bleach > spoons else 'little'}. "
    return verdict.told(
        "safe",
        f"How much bleach for {water} of water",
        f"{said}{much} of plain unscented bleach in {water} of water. Flood it, wait a few minutes, rinse, air dry.",
        figures=[Figure("plain bleach", Role.ADD, float(spoons), "tablespoon", source=row.source, shown=much)],
        cautions=verdict.with_meat(Meat(), kitchen, {"clean_grinder"}),
        notes=[
            "Wash it clean with hot soapy water first: sanitiser does not work through grease.",
            "Never mix bleach with an acid (vinegar, lemon) or with ammonia.",
            f"Source: {row.source}: 1 tablespoon in a US gallon. {verdict.LOCAL}",
        ],
        working=(f"1 tablespoon x {wording.number(litres, 2)} L / {wording.number(gallon, 3)} L.",),
    )


def _spoons(tablespoons: Fraction) -> str:
    """ "3/4 tsp (4 mL)"; in millilitres alone where no spoon is so small."""
    millilitres = units.millilitres(tablespoons, "tablespoon")
    if tablespoons < SMALLEST_SPOON:
        return f"{wording.number(millilitres, 2)} mL"
    small = tablespoons < 1
    spoons = f"{wording.fraction(tablespoons * 3 if small else tablespoons)} {'tsp' if small else 'tbsp'}"
    return f"{spoons} ({wording.number(millilitres, 0)} mL)"
