"""Packs and offers by what a pound or a kilo of each costs: "5 lb for $22.50 or $4.79 a lb", "3 packs of 2 lb at $4.99 each"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, Per, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict, within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.prices import telling
from assistant.topics.prices.offers import TO_THE_CENT

NAME: Final = "deals"
_FOR = Pattern(r"\b(?:for|is|costs?|@|=)\s*(?:about |only |just )?$|[,:=@]\s*$")
_ONE_PACK = Pattern(r"pack|packet|tray|box|bag|tub|joint|roll")
_AT = Pattern(r"(?:\b(?:at|are|is)|@)\s*$")
_COMPARES = Pattern(
    r"\bor\b|\bvs?\b|\bversus\b|\bthan\b|\bbetter\b|\bbest\b|\bcheap\w*|\bdearer\b|\bvalue\b|\bdeal\b|\bagainst\b|\bcompared?\b"
)
_PLAIN = frozenset(("better", "deal", "best", "value", "which", "go", "bargain"))


class Deal(Struct, frozen=True):
    """So much money for so much meat. name: the meat, "" where it was not said; rate: said as a price by weight."""

    money: Fraction
    currency: str
    weight: Measure
    name: str = ""
    rate: bool = False

    @property
    def per_gram(self) -> Fraction:
        """Money for a gram; the weight is above nothing."""
        return self.money / telling.grams(self.weight)


class Deals(Struct, frozen=True):
    """The offers of a line, and the weight to tell their prices by."""

    offers: tuple[Deal, ...]
    unit: str


class DealsTopic:
    """The topic of offers by weight."""

    name = NAME
    examples = ("5 lb for $22.50 or $4.79 a lb, which is cheaper?",)
    passes: frozenset[str] = frozenset(
        (
            "worth",
            "pack",
            "what",
            "this",
            "yes",
            "as_much",
            "have",
            "buy",
            "mix",
            "cheapest",
            "cost",
            "safe",
            "works_out",
        )
        + ("how_much", "save_it", "want")
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Two offers against each other, or packs of one price told by weight; labels and losses are for a fuller look."""
        found = _offers(sentence) if _names_money(sentence) else None
        if found is None:
            return None
        offers, used = found
        text = sentence.text.lower()
        asked = [per.per for per in sentence.of(Per)]
        if len(offers) == 2 and not asked:
            told = _COMPARES.search(text) is not None and not all(offer.rate for offer in offers)
        else:
            told = len(offers) == 1 and len(asked) == 1 and not offers[0].rate
        if not told or any(telling.grams(offer.weight) <= 0 or offer.money <= 0 for offer in offers):
            return None
        first = next((offer.weight for offer in offers if offer.rate), offers[0].weight)
        unit = asked[0].unit if asked else "kg" if first.unit in ("g", "kg") else "lb"
        plain = frozenset(word for word in sentence.words("unknown") if word.text.lower() in _PLAIN)
        words = within.cues(sentence, self.passes) | frozenset(sentence.words("at"))
        return Reading(Deals(tuple(offers), unit), heard.all_of([*used, *sentence.of(Per)]) | plain | words, 3)

    def answer(self, request: Deals, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The price of each by the one unit, the cheaper one first."""
        currency = telling.currency((offer.currency for offer in request.offers), kitchen)
        said = " or ".join(_said(offer, currency or offer.currency) for offer in request.offers)
        understood = f"{said}, which is cheaper?" if len(request.offers) > 1 else f"{said}, per {request.unit}"
        if not currency:
            return verdict.told(telling.TOPIC_NAME, understood, telling.TWO_MONEYS, status=Status.IMPOSSIBLE)
        size = units.grams(1, request.unit)
        prices = [offer.per_gram * size for offer in request.offers]
        figures = [
            telling.money(f"{_called(offer, at, len(prices))} per {request.unit}", Role.PRICE, price, currency)
            for at, (offer, price) in enumerate(zip(request.offers, prices, strict=True))
        ]
        if len(prices) == 1:
            headline = f"{wording.price(prices[0], currency, request.unit)}."
        else:
            figures.append(_difference(prices, currency, request.unit))
            headline = _verdict(request.offers, prices, currency, request.unit)
        apart = len({offer.name for offer in request.offers}) > 1
        return verdict.told(
            telling.TOPIC_NAME,
            understood,
            headline,
            figures=figures,
            notes=("By weight alone: bone, trim and fat are not counted.",) if apart else (),
            working=("Money over weight.",),
        )


TOPIC = DealsTopic()


def _called(offer: Deal, at: int, among: int) -> str:
    return offer.name or (f"offer {at + 1}" if among > 1 else "price")


def _said(offer: Deal, currency: str) -> str:
    named = f" {offer.name}" if offer.name else ""
    weight = f"{wording.number(offer.weight.value)} {offer.weight.unit}"
    if offer.rate and offer.weight.value == 1:
        return f"{wording.price(offer.money, currency, offer.weight.unit)}{named}"
    return f"{weight}{named} for {wording.money(offer.money, currency)}"


def _difference(prices: Sequence[Fraction], currency: str, unit: str) -> Figure:
    return telling.money(f"difference per {unit}", Role.PRICE, abs(prices[0] - prices[1]), currency)


def _verdict(offers: Sequence[Deal], prices: Sequence[Fraction], currency: str, unit: str) -> str:
    if prices[0] == prices[1]:
        return f"They cost the same: {wording.price(prices[0], currency, unit)}."
    low, high = (0, 1) if prices[0] < prices[1] else (1, 0)
    return (
        f"{_said(offers[low], currency)} is cheaper: {wording.price(prices[low], currency, unit)} against "
        f"{wording.price(prices[high], currency, unit)}, {wording.money(prices[high] - prices[low], currency)} less a {unit}."
    )


# ---- reading


def _names_money(sentence: Sentence) -> bool:
    return any(
        _money(phrase) is not None or (isinstance(phrase, Rate) and phrase.kind == "money")
        for phrase in sentence.phrases
    )


class _Open(Struct):
    """The offer that is being told."""

    weight: Measure | None = None
    money: Fraction | None = None
    currency: str = ""
    name: str = ""
    pack: bool = False
    packs: Fraction = Fraction(1)
    each: bool = False


def _offers(sentence: Sentence) -> tuple[list[Deal], list[Phrase]] | None:
    """Every offer of the line with the phrases it is made of; None where there is anything else to reckon with."""
    found: list[Deal] = []
    used: list[Phrase] = []
    told = _Open()
    for phrase in sentence.phrases:
        if isinstance(phrase, Word | Per):
            if isinstance(phrase, Word) and phrase.payload in ("pack", "bowl"):
                told.pack = True
                told.name = told.name or (_ONE_PACK.fullmatch(phrase.text.lower()) or [""])[0]
            continue
        used.append(phrase)
        if isinstance(phrase, CutName):
            if told.name and (told.weight is None and told.money is None):
                return None
            if found and not found[-1].name and used[-2:-1] == [sentence.before(phrase)]:
                # "$21.90/kg topside": the meat of the price before it
                found[-1] = replace(found[-1], name=phrase.name)
            else:
                told.name = phrase.name
        elif isinstance(phrase, Rate) and phrase.kind == "money":
            found.append(Deal(phrase.measure.value, phrase.measure.unit, phrase.per, told.name, rate=True))
            told = _Open()
        elif (weight := _weight(phrase)) is not None and told.weight is None:
            told.weight = weight
        elif (money := _money(phrase)) is not None and told.money is None and _is_for_all(sentence, phrase, told):
            told.money, told.currency = money
            told.each = isinstance(phrase, PerEach)
        elif isinstance(phrase, Count) and told.weight is None and _counts_packs(sentence, phrase):
            told.packs = phrase.value
        else:
            return None
        if told.weight is not None and told.money is not None:
            # "3 packs for £10, 500 g each": the money is for all three
            packs = Fraction(1) if told.each else told.packs
            weight = replace(told.weight, value=told.weight.value * packs)
            found.append(Deal(told.money, told.currency, weight, told.name))
            told = _Open()
    left = told.weight is not None or told.money is not None
    return None if left or not found else (found, used)


def _weight(phrase: Phrase) -> Measure | None:
    """The weight of one pack: "5 lb", "2 lb each", "3 2 lb packs"."""
    if isinstance(phrase, Patties):
        return phrase.each.measure if phrase.each is not None and phrase.count is not None else None
    weighs = isinstance(phrase, Amount | PerEach) and phrase.kind == "weight" and phrase.measure.high is None
    return phrase.measure if weighs and isinstance(phrase, Amount | PerEach) else None


def _money(phrase: Phrase) -> tuple[Fraction, str] | None:
    if isinstance(phrase, Amount | PerEach) and phrase.kind == "money":
        return phrase.measure.value, phrase.measure.unit
    if isinstance(phrase, Count) and TO_THE_CENT.fullmatch(phrase.text):
        return phrase.value, ""
    return None


def _is_for_all(sentence: Sentence, phrase: Phrase, told: _Open) -> bool:
    """Whether the money is for all of the weight: "5 lb for $22", "10 lb box at $38"; "5 lb at $22" is by the pound."""
    before = sentence.text[: phrase.first].lower()
    if isinstance(phrase, PerEach) or told.weight is None:
        return True
    return told.pack or (_FOR.search(before) is not None and _AT.search(before) is None)


def _counts_packs(sentence: Sentence, phrase: Count) -> bool:
    after = sentence.after(phrase)
    return isinstance(after, Word) and after.payload == "pack"
