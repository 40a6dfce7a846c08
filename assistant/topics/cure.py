"""Curing salt: the arithmetic of the cook's own stated rate by weight, and never a dose of ours."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import data, units, wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.data.safety import safety_book
from assistant.engine import season
from assistant.language.phrases import Amount, Count, Measure, Per, Phrase, Rate, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.cautions import reminders

NAME: Final = "cure"

_PURE: Final = frozenset(("nitrite", "sodium nitrite", "nitrate", "sodium nitrate"))
"""Names of the chemical itself: a rate meant for a curing mix would be a poisonous dose of it."""

_SWAP: Final = Pattern(r"\b(instead|in place of|substitute|replace|swap|same (dose|amount|rate)|rather than)\b")
"""How people ask whether one salt may stand in for another."""

_PARTS_PER_MILLION: Final = 1_000_000
_LEEWAY: Final = Fraction(101, 100)
"""The trade's own ounce to twenty-five pounds comes to a hair over the limit: rounding, not a fault."""


class Cure(Struct, frozen=True):
    """A cure as the cook named it. rate: of the meat, weight for weight (None: none was stated). meat: its weight;
    swap: whether another salt is to stand in for it, or it for another."""

    name: str
    rate: Fraction | None = None
    unit: str = "g"
    per: Measure | None = None
    amount: Fraction | None = None
    meat: Measure | None = None
    swap: bool = False


class CureTopic:
    """The topic of nitrite and nitrate cures."""

    name = NAME
    examples = ("cure #1 at 1 oz to 25 lb, for 7 lb of sausage",)
    passes = frozenset(
        (
            *("what", "how_much", "how_many", "want", "have", "mix", "yes", "this"),
            *("season", "recipe_for", "rate_of", "convert", "equals"),
        )
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """A line about one cure. With a rate and a weight of its own it is arithmetic; else it is refused whole."""
        names = sentence.of(SeasoningName)
        cures = [name for name in names if name.key == "cure"]
        if not cures or sentence.has("out_health"):
            # "does a drug cure worms" speaks of no salt
            return None
        # the plainest name of it: "cure" alone may be the verb of "cure with nitrite"
        cure = max(cures, key=lambda name: len(name.text))
        stated = _stated(sentence, cure) if len(names) == 1 else None
        if stated is not None:
            return stated
        doses = any(isinstance(phrase, Amount | Rate) for phrase in sentence.phrases)
        asked = heard.asks_leave(sentence) and not doses
        swap = len(names) > 1 and (asked or _SWAP.search(sentence.text.lower()) is not None)
        sure = 2 if swap else _how_sure(sentence, cure, len(names))
        return Reading(Cure(cure.text.lower(), swap=swap), frozenset(sentence.phrases), sure)

    def answer(self, request: Cure, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The cook's rate worked out, with the caution; or why there is no dose."""
        return Outcome(_answer(request, kitchen))


TOPIC = CureTopic()


def _stated(sentence: Sentence, cure: SeasoningName) -> Reading | None:
    """The reading where one rate by weight and one weight of meat are there and no other amount is."""
    rates = [rate for rate in sentence.of(Rate) if rate.kind == "weight" and rate.measure.high is None]
    if any(units.kind(rate.per.unit) != "mass" for rate in rates):
        return None
    apart = _rate_apart(sentence, cure)
    percents = [amount for amount in sentence.of(Amount) if amount.kind == "percent" and amount.measure.high is None]
    meats = [amount for amount in sentence.of(Amount) if amount.kind == "weight" and amount.measure.high is None]
    if apart is not None:
        rates, meats = [apart], [amount for amount in meats if amount.first != apart.first]
    number = _number_of_name(sentence, cure)
    known: set[Phrase] = {cure, *rates, *percents, *meats, *([number] if number else [])}
    if apart is not None:
        known |= {phrase for phrase in sentence.phrases if apart.first <= phrase.first < apart.last}
    if len(rates) + len(percents) != 1 or len(meats) != 1:
        return None
    if any(not isinstance(phrase, Word) and phrase not in known for phrase in sentence.phrases):
        return None
    name = f"cure #{number.value}" if number else cure.text.lower()
    meat = meats[0].measure
    if rates:
        rate, per = rates[0].measure, rates[0].per
        share = units.grams(rate.value, rate.unit) / units.grams(per.value, per.unit)
        request = Cure(name, share, rate.unit, per, rate.value, meat)
    else:
        request = Cure(name, percents[0].measure.value / 100, _small(meat.unit), None, percents[0].measure.value, meat)
    return Reading(request, frozenset(known), 2)


def _rate_apart(sentence: Sentence, cure: SeasoningName) -> Rate | None:
    """ "2.5 g of cure #1 per kilo": the rate with the name inside it. Its characters run from the weight to the "per"."""
    pers = sentence.of(Per)
    before = [p for p in sentence.of(Amount) if p.kind == "weight" and p.last <= cure.first and p.measure.high is None]
    if len(pers) != 1 or not before or pers[0].first < cure.last or units.kind(pers[0].per.unit) != units.kind("g"):
        return None
    weight = before[-1]
    text = sentence.text[weight.first : pers[0].last]
    return Rate(weight.first, pers[0].last, text, kind="weight", measure=weight.measure, per=pers[0].per)


def _small(unit: str) -> str:
    """The unit that a cure is weighed in where the meat is said in another."""
    return "oz" if unit in ("lb", "oz", "stone") else "g"


def _how_sure(sentence: Sentence, cure: SeasoningName, names: int) -> int:
    """A cure by the spoon is refused whatever else the line holds; one among other seasonings is theirs to read."""
    beside = (sentence.before(cure), sentence.before(sentence.before(cure) or cure))
    if any(isinstance(phrase, Amount | Rate) and phrase.kind == "volume" for phrase in beside):
        return 2
    dosed = any(isinstance(phrase, Amount | Rate) for phrase in sentence.phrases)
    if names > 1:
        # "how much celery powder instead of nitrite", "give me the nitrite grams" ask for a dose
        asked = sentence.of(Per) or sentence.has("how_much", "how_many", "convert", "unit:g", "unit:oz", "instead")
        return 2 if asked and not dosed else 0
    if heard.asks_leave(sentence):
        return 2
    asked = sentence.has("how_much", "how_many") or any(isinstance(p, Amount | Rate | Per) for p in sentence.phrases)
    return 2 if asked else 1


def _number_of_name(sentence: Sentence, cure: SeasoningName) -> Count | None:
    """The 1 of "#1 cure" and "cure #1", which is a name and no amount."""
    for beside in (sentence.before(cure), sentence.after(cure)):
        if isinstance(beside, Count) and beside.value in (1, 2) and beside.high is None:
            return beside
    return None


def _answer(request: Cure, kitchen: Kitchen) -> Answer:
    refusal = _refusal(request)
    if refusal:
        return _told(request, kitchen, Status.IMPOSSIBLE, message=refusal)
    assert request.rate is not None
    assert request.meat is not None
    meat = units.grams(request.meat.value, request.meat.unit)
    value = units.to(season.of_meat(meat, request.rate * 100), "g", request.unit)
    shown = f"{wording.number(value, 2)} {request.unit}"
    grams = f"{wording.number(units.grams(value, request.unit), 1)} g"
    both = shown if request.unit == "g" else f"{shown} ({grams})"
    figure = Figure(
        request.name, Role.SEASONING, float(value), request.unit, source="the cook's own rate, worked out", shown=shown
    )
    return _told(
        request,
        kitchen,
        Status.ANSWERED,
        headline=f"At your rate, {_measure(request.meat)} takes {both} of {request.name}",
        figures=(figure,),
        notes=("This is your own rate worked out; check the rate itself in a tested recipe.",),
    )


def _refusal(request: Cure) -> str:
    """Why there is no figure, or "" where the cook's own rate can be worked out."""
    if request.swap:
        return (
            "No: curing salt and other salts never stand in for one another. The one is poisonous at the other's dose, "
            "and without nitrite nothing is cured. Follow a tested recipe to the letter."
        )
    salt = data.never_by_spoon().get(request.name)
    if request.name in _PURE or (salt is not None and salt.key == "saltpetre"):
        return "I work out no amount of a pure nitrite or nitrate: a slip of the scale is a poisoning."
    if request.rate is None or request.meat is None:
        return (
            "I give no dose of curing salt. Take the rate from a tested recipe and weigh it; with that rate and the "
            "weight of your meat I can do the sum."
        )
    if request.meat.value <= 0 or request.rate <= 0:
        return "A rate and a weight above nothing are needed before I do the sum."
    book = safety_book()
    nitrite = request.rate * book.figures["curing_salt_1_nitrite"].value / 100 * _PARTS_PER_MILLION
    if nitrite > book.figures["nitrite_ground_max"].value * _LEEWAY:
        return (
            "That rate would put more nitrite into ground meat than a licensed plant may use, so I do not work it out. "
            "Check it in a tested recipe."
        )
    return ""


def _told(
    request: Cure,
    kitchen: Kitchen,
    status: Status,
    *,
    headline: str = "",
    figures: tuple[Figure, ...] = (),
    notes: tuple[str, ...] = (),
    message: str = "",
) -> Answer:
    return Answer(
        understood=_understood(request),
        status=status,
        topic=NAME,
        headline=headline,
        figures=figures,
        cautions=reminders((), kitchen.country, touches=("curing_salt",), urgent=("curing_salt",)),
        notes=notes,
        message=message,
    )


def _understood(request: Cure) -> str:
    if request.meat is None or request.amount is None:
        return f"A dose of {request.name}"
    rate = f"{_number(request.amount)}%" if request.per is None else _rate(request, request.per)
    return f"{request.name} at {rate}, for {_measure(request.meat)}"


def _rate(request: Cure, per: Measure) -> str:
    assert request.amount is not None
    return f"{_number(request.amount)} {request.unit} per {_measure(per)}"


def _measure(measure: Measure) -> str:
    return f"{_number(measure.value)} {measure.unit}"


def _number(value: Fraction) -> str:
    """Written so that it reads back as itself."""
    if (value * 10**6).denominator == 1:
        return wording.number(value, 6).replace(",", "")
    whole, part = divmod(value, 1)
    return f"{whole} {part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"
