"""What the usable meat of a piece really costs, once bone and trim are off and what they are worth is taken back."""

from __future__ import annotations

import re
from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cost
from assistant.engine.kinds import HUNDRED
from assistant.errors import BadInput
from assistant.language.phrases import Amount, CutName, Measure, Patties, Per, Phrase, Rate
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.prices import telling
from assistant.topics.prices.request import ByProduct, Piece

_USABLE = Pattern(
    r"\b(?:usable|edible|good\s+(?:meat|part)|clean\s+meat|lean\s+meat|trimmed\s+(?:meat|weight)|boned?\s+out|after\s+(?:trimming|boning|cutting)|left|to\s+use|of\s+meat|for\s+(?:mincing|grinding)|useable)\b",
    re.IGNORECASE,
)
_GAVE = Pattern(
    r"\b(?:gave|gives?|yield(?:s|ed)?|got|left|leaves?|leaving|down\s+to|kept|came\s+to)\b(?:\s+(?:me|us|with))?\s*$",
    re.IGNORECASE,
)
_BY_PRODUCT = Pattern(
    r"^\s*(?:of\s+)?(?:\w+\s+)?(?P<what>trim(?:mings)?|bones?|fat|scraps?|suet|off\s?cuts?|stew(?:ing)?(?:\s+meat)?|mince|dripping)\b",
    re.IGNORECASE,
)
_BY_PRODUCT_BEFORE = Pattern(
    r"\b(?P<what>trim(?:mings)?|bones?|fat|scraps?|suet|off\s?cuts?)\s*(?:of|was|were|is|:|,)?\s*$", re.IGNORECASE
)
_USABLE_BEFORE = Pattern(
    r"\b(?:usable|edible|useable|good\s+meat|clean\s+meat)(?:\s+(?:meat|part))?\s*(?:of|was|is|:)?\s*$", re.IGNORECASE
)
_CUT_UP = Pattern(
    r"\b(?:off|gave|gives?|got|left|bones?|scraps?|waste|worth|trimmed|trimming|cutt?(?:ing)?\s+(?:up|off)|boned|leftovers?)\b",
    re.IGNORECASE,
)
_PARTS = frozenset(
    (
        "trim",
        "trimmings",
        "fat",
        "bone",
        "bones",
        "suet",
        "beef fat",
        "fat trim",
        "stewing",
        "stew meat",
        "offcuts",
        "scraps",
        "stewing beef",
    )
)


def read(sentence: Sentence) -> tuple[Piece, frozenset[Phrase]] | None:
    """A piece bought, what was usable of it, and by-products that are worth something; None where it is not that."""
    weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
    pieces = [r for r in sentence.of(Rate) if r.kind == "money" and r.per.value != 1]
    prices = [r for r in sentence.of(Rate) if r.kind == "money" and r not in pieces]
    sums = [a for a in sentence.of(Amount) if a.kind == "money"]
    cuts = [c for c in sentence.of(CutName) if c.name not in _PARTS]
    usable = next((w for w in weights if _is_usable(sentence, weights, w)), None)
    by = [w for w in weights if w is not usable and _by_product(sentence, w)]
    worth = {w: next((r for r in prices if w.last <= r.first < _next(sentence, weights, w)), None) for w in by}
    plain = [w for w in weights if w is not usable and w not in by]
    if len(plain) + len(pieces) != 1 or len(sums) > 1 or len(cuts) > 1:
        return None
    if usable is None and not (any(worth.values()) and _CUT_UP.search(sentence.text)):
        # "2 kg chuck at 11/kg and 400 g suet at 4/kg" are two things bought, unless something was cut off
        return None
    left = [r for r in prices if r not in worth.values()]
    if len(left) + len(pieces) + len(sums) != 1:
        return None
    bought = plain[0].measure if plain else pieces[0].per
    portion = next((p.each for p in sentence.of(Patties) if p.each is not None and p.each.kind == "weight"), None)
    price, per, currency = _price(left, pieces, sums)
    kept = usable.measure if usable is not None else _rest(bought, by)
    asked = next(iter(sentence.of(Per)), None)
    piece = Piece(
        name=cuts[0].name if cuts else "piece",
        bought=bought,
        usable=kept,
        price=price,
        per=per,
        currency=currency,
        by_products=tuple(
            ByProduct(_by_product(sentence, w), w.measure, rate.measure.value, rate.per)
            for w, rate in worth.items()
            if rate is not None
        ),
        portion=None if portion is None else portion.measure,
        asked_per=None if asked is None else asked.per,
    )
    sized = [p for p in sentence.of(Patties) if p.count is None]
    used = heard.all_of([*weights, *sentence.of(Rate), *sums, *sentence.of(CutName), *sized, *sentence.of(Per)])
    return piece, used


def _next(sentence: Sentence, weights: list[Amount], weight: Amount) -> int:
    return min((w.first for w in weights if w.first > weight.last), default=len(sentence.text))


def _is_usable(sentence: Sentence, weights: list[Amount], weight: Amount) -> bool:
    after = re.split(r"[,;.:]|\band\b", sentence.text[weight.last : _next(sentence, weights, weight)])[0]
    before = sentence.text[: weight.first]
    if _USABLE_BEFORE.search(before) or _USABLE.search(after):
        return True
    return bool(_GAVE.search(before)) and not _by_product(sentence, weight)


def _by_product(sentence: Sentence, weight: Amount) -> str:
    """What a weight of trim, bone or the like is of; "" where it is of none."""
    after, before = sentence.text[weight.last :], sentence.text[: weight.first]
    found = _BY_PRODUCT.match(after) or _BY_PRODUCT_BEFORE.search(before)
    return found["what"].lower() if found else ""


def _rest(bought: Measure, by: list[Amount]) -> Measure:
    taken = sum((telling.grams(w.measure) for w in by), Fraction(0))
    return Measure((telling.grams(bought) - taken) / telling.one(bought.unit), bought.unit)


def _price(left: list[Rate], pieces: list[Rate], sums: list[Amount]) -> tuple[Fraction, Measure | None, str]:
    """The price, what it is for (None: the whole piece), and its currency."""
    if left:
        return left[0].measure.value, left[0].per, left[0].measure.unit
    said = pieces[0].measure if pieces else sums[0].measure
    return said.value, None, said.unit


def answer(piece: Piece, kitchen: Kitchen) -> Outcome:
    """The price of the usable meat, with the worth of the by-products taken off."""
    assert piece.bought is not None and piece.usable is not None and piece.price is not None
    currency = telling.currency([piece.currency], kitchen)
    unit = telling.unit_of([piece.asked_per, piece.per, piece.bought], kitchen)
    understood = _understood(piece, currency)
    bought, usable = telling.grams(piece.bought), telling.grams(piece.usable)
    if bought <= 0 or usable <= 0 or piece.price <= 0:
        says = "The piece, what is usable of it and its price all have to be above nothing. Which one is a slip?"
        return verdict.told(telling.TOPIC_NAME, understood, says, status=Status.IMPOSSIBLE)
    price = piece.price / (bought if piece.per is None else telling.grams(piece.per))
    parts = [cost.ByProduct(telling.grams(by.weight), by.price / telling.grams(by.per)) for by in piece.by_products]
    try:
        found = cost.cutting_test(bought, price, usable, parts)
    except BadInput as slip:
        says = f"Those weights and prices cannot all be right: {slip.argument.replace('_', '-')} must be {slip.wanted}."
        if slip.argument == "usable":
            says = "The parts weigh more than the piece did. Which weight is a slip?"
        return verdict.told(telling.TOPIC_NAME, understood, says, status=Status.IMPOSSIBLE)
    return _told(piece, found, parts, currency, unit, understood)


def _understood(piece: Piece, currency: str) -> str:
    assert piece.bought is not None and piece.usable is not None and piece.price is not None
    system = "us" if piece.bought.unit in ("lb", "oz") else "metric"
    said = f"{wording.weight(telling.grams(piece.usable), system)} usable of {wording.weight(telling.grams(piece.bought), system)} {piece.name}"
    worth = wording.listing([f"{by.name}" for by in piece.by_products])
    return f"What the usable meat costs: {said}" + (f", {worth} worth something" if worth else "")


def _told(
    piece: Piece,
    found: cost.CuttingTest,
    parts: list[cost.ByProduct],
    currency: str,
    unit: str,
    understood: str,
) -> Outcome:
    assert piece.bought is not None and piece.usable is not None
    size, usable = telling.one(unit), telling.grams(piece.usable)
    share = cost.usable_percent(telling.grams(piece.bought), usable)
    system = "us" if unit == "lb" else "metric"
    figures = [
        telling.money(f"price per {unit} of usable meat", Role.PRICE, found.price * size, currency),
        telling.money("paid", Role.COST, found.paid, currency),
        Figure("usable", Role.YIELD, float(share), "%", shown=wording.percent(share)),
        Figure("usable meat", Role.TOTAL, float(usable / size), unit, shown=wording.both(usable, system)),
        Figure("times the price paid", Role.RATIO, float(found.factor), "1", shown=wording.number(found.factor, 2)),
    ]
    if parts:
        figures.append(telling.money("worth of the by-products", Role.COST, found.paid - found.worth, currency))
        figures.append(telling.money("worth of the usable meat", Role.COST, found.worth, currency))
    says = (
        f"The usable meat costs {wording.price(found.price * size, currency, unit)}: "
        f"{wording.money(found.worth, currency)} over {wording.both(usable, system)}, {wording.percent(share)} of the piece."
    )
    if piece.portion is not None:
        each = cost.price_for(found.price, telling.grams(piece.portion))
        figures.append(telling.money("cost per patty", Role.COST, each, currency))
        says = f"{says[:-1]}; {wording.money(each, currency)} for each {wording.weight(telling.grams(piece.portion), system)}."
    taken = f", less {wording.money(found.paid - found.worth, currency)} of by-products" if parts else ""
    return verdict.told(
        telling.TOPIC_NAME,
        understood,
        says,
        figures=figures,
        working=(
            f"Paid {wording.money(found.paid, currency)}{taken}, over {wording.both(usable, system)} usable.",
            f"That is {wording.number(found.factor, 2)} times the price paid: trim and bone divide, they do not multiply.",
        ),
        notes=[] if HUNDRED - share < HUNDRED else ["Nothing was lost."],
    )
