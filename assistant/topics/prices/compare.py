"""Own grind against the shop's, or one mince against another: by weight, and lean for lean."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cost
from assistant.engine.kinds import HUNDRED, Cut, mix
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.plan.meat import Doubt, Meat
from assistant.topics.prices import telling
from assistant.topics.prices.offers import Offer
from assistant.topics.prices.request import Compare


class _Side(Struct, frozen=True):
    """One side of the comparison: its name, its price per gram in the bowl, its fat in percent (None: unknown)."""

    name: str
    price: Fraction
    fat: Fraction | None
    low: Fraction | None
    high: Fraction | None
    notes: tuple[str, ...] = ()


def answer(request: Compare, kitchen: Kitchen) -> Outcome:
    """Which is cheaper by weight and lean for lean, and by how much."""
    offers = (*request.own, request.other)
    currency = telling.currency((offer.currency for offer in offers), kitchen)
    understood = _understood(request)
    if not currency:
        return verdict.told(telling.TOPIC_NAME, understood, telling.TWO_MONEYS, status=Status.IMPOSSIBLE)
    if any(not 0 <= offer.lost < HUNDRED for offer in offers):
        return verdict.told(telling.TOPIC_NAME, understood, "A loss has to be under 100%.", status=Status.IMPOSSIBLE)
    own, other = _own(request, kitchen), _other(request.other, kitchen)
    unit = telling.unit_of([request.per, *(offer.per for offer in offers)], kitchen)
    figures, says, notes = _told(request, own, other, currency, unit)
    return verdict.told(
        telling.TOPIC_NAME,
        understood,
        says,
        figures=figures,
        notes=[*notes, *own.notes, *other.notes],
        working=(
            "Bone and trim divide: the price over the share that is left.",
            "Lean for lean: the price over the share that is not fat; the fat is taken as worth nothing.",
        ),
    )


def _understood(request: Compare) -> str:
    mine = wording.listing([telling.called(offer) for offer in request.own])
    return f"{_capital(mine)} against {telling.called(request.other)}, by weight and lean for lean"


def _own(request: Compare, kitchen: Kitchen) -> _Side:
    meats = [telling.fat_of(offer, kitchen) for offer in request.own]
    weights = [offer.grams if len(request.own) > 1 else Fraction(1) for offer in request.own]
    bought = [
        cost.Bought(weight or Fraction(1), offer.per_gram or Fraction(0), HUNDRED - offer.lost)
        for offer, weight in zip(request.own, weights, strict=True)
    ]
    price = cost.blend_cost(bought).price
    name = "your own" if request.other.shop else telling.called(request.own[0])
    known = [one for one in meats if isinstance(one, Meat) and one.fat is not None]
    if len(known) < len(meats):
        return _Side(name, price, None, None, None)
    cuts = [Cut(one.name, one.fat or Fraction(0), one.low, one.high) for one in known]
    whole = mix(cuts, [cut.grams for cut in bought])
    return _Side(name, price, whole.fat, whole.low, whole.high, tuple(one.note for one in known if one.note))


def _other(offer: Offer, kitchen: Kitchen) -> _Side:
    found = telling.fat_of(offer, kitchen)
    price = cost.usable_price(offer.per_gram or Fraction(0), HUNDRED - offer.lost)
    if isinstance(found, Doubt) or found.fat is None:
        return _Side(telling.called(offer), price, None, None, None)
    return _Side(telling.called(offer), price, found.fat, found.low, found.high)


def _told(request: Compare, own: _Side, other: _Side, currency: str, unit: str) -> tuple[list[Figure], str, list[str]]:
    size = telling.one(unit)
    mine, theirs = own.price * size, other.price * size
    figures = [
        telling.money(f"{own.name} per {unit}", Role.PRICE, mine, currency),
        telling.money(f"{other.name} per {unit}", Role.PRICE, theirs, currency),
        telling.money(f"difference per {unit}", Role.PRICE, abs(theirs - mine), currency),
    ]
    notes = ["Lean for lean only if both have the same fat: one of the two was not said."]
    lean: tuple[Fraction, Fraction] | None = None
    if own.fat is not None and other.fat is not None and max(own.fat, other.fat) < HUNDRED and other.price > 0:
        found = cost.compare(own.price, own.fat, other.price, other.fat)
        lean = found.own_lean * size, found.shop_lean * size
        figures += _lean_figures(own, other, found, size, currency, unit)
        notes = [
            f"At {wording.price(found.break_even * size, currency, unit)} {own.name}, {wording.percent(own.fat)} fat, "
            f"would be as dear as {other.name} lean for lean."
        ]
    says = _verdict(own, other, (mine, theirs), lean, currency, unit)
    batch = request.batch or (request.own[0].weight if len(request.own) == 1 else None)
    if batch is not None and batch.value > 0:
        saved = (other.price - own.price) * telling.grams(batch)
        figures += [
            telling.money("own grind", Role.COST, own.price * telling.grams(batch), currency),
            telling.money("from the shop", Role.COST, other.price * telling.grams(batch), currency),
            telling.money("saved" if saved >= 0 else "dearer by", Role.COST, abs(saved), currency),
        ]
        word = "saves" if saved >= 0 else "costs more by"
        amount = wording.weight(telling.grams(batch), "us" if unit == "lb" else "metric")
        says += f" For {amount} {own.name} {word} {wording.money(abs(saved), currency)}."
    return figures, says, notes


def _verdict(
    own: _Side,
    other: _Side,
    prices: tuple[Fraction, Fraction],
    lean: tuple[Fraction, Fraction] | None,
    currency: str,
    unit: str,
) -> str:
    """Which is the better buy, lean for lean where both fats are known, with both pairs of prices."""
    judged = lean or prices
    if judged[0] == judged[1]:
        return f"{_capital(own.name)} and {other.name} cost the same."
    better, worse = (own, other) if judged[0] < judged[1] else (other, own)
    low, high = (prices[0], prices[1]) if better is own else (prices[1], prices[0])
    weighed = f"{wording.price(low, currency, unit)} against {wording.price(high, currency, unit)} for {worse.name}"
    if lean is None:
        return f"{_capital(better.name)} is the better buy: {weighed}."
    by_lean = (
        f"lean for lean {wording.money(min(lean), currency)} against {wording.money(max(lean), currency)} a {unit}"
    )
    if low <= high:
        return f"{_capital(better.name)} is the better buy: {weighed}; {by_lean}."
    return f"{_capital(better.name)} is the better buy {by_lean}, although by weight it costs {weighed}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _lean_figures(
    own: _Side, other: _Side, found: cost.Comparison, size: Fraction, currency: str, unit: str
) -> list[Figure]:
    """Prices of the lean, with the range that the fat's own range gives them."""

    def ends(side: _Side) -> tuple[Fraction, Fraction] | None:
        if side.low is None or side.high is None or side.high >= HUNDRED:
            return None
        return cost.lean_price(side.price, side.low) * size, cost.lean_price(side.price, side.high) * size

    return [
        telling.money(f"{own.name}, lean per {unit}", Role.PRICE, found.own_lean * size, currency, ends(own)),
        telling.money(f"{other.name}, lean per {unit}", Role.PRICE, found.shop_lean * size, currency, ends(other)),
        telling.money(f"break-even price per {unit}", Role.PRICE, found.break_even * size, currency),
        Figure(
            "saved lean for lean",
            Role.RATIO,
            float(found.lean_saving_percent),
            "%",
            shown=wording.percent(found.lean_saving_percent),
        ),
    ]
