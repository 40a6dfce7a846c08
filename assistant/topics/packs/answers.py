"""The cheapest whole packs worked out and told."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant import units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import packs
from assistant.engine.kinds import Cut, NoBlend, Reason
from assistant.engine.packs import MOST_PACKS, Shopping
from assistant.engine.safety import known_species
from assistant.language.phrases import Bound
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.packs.reading import NAME
from assistant.topics.packs.request import Offer, Packs
from assistant.topics.plan import meat
from assistant.topics.plan.own import own_fats
from assistant.topics.plan.request import Item, Plan

MOST_GRAMS = 1_000_000
"""A batch above a tonne is a slip of the finger here, and each pack of it a number to count."""


def _system(request: Packs, kitchen: Kitchen) -> str:
    said = [request.batch, *(offer.size for offer in request.offers)]
    unit = next((measure.unit for measure in said if measure is not None), "")
    return {"lb": "us", "oz": "us", "g": "metric", "kg": "metric"}.get(unit, kitchen.units)


def _batch(request: Packs) -> Fraction:
    return Fraction(0) if request.batch is None else units.grams(request.batch.value, request.batch.unit)


def _pack_words(offer: Offer, speak: str) -> str:
    return f"{wording.weight(offer.grams, speak)} packs of {offer.cut}" if offer.grams > 0 else f"packs of {offer.cut}"


def _understood(request: Packs, kitchen: Kitchen) -> str:
    speak = _system(request, kitchen)
    currency = _currency(request, kitchen)
    packs_said = [
        _pack_words(offer, speak)
        + (f" at {wording.money(offer.cost, currency)}" if offer.price is not None and currency else "")
        for offer in request.offers
    ]
    batch = f" for {wording.weight(_batch(request), speak)}" if _batch(request) > 0 else ""
    fat = f" {_fat_words(request)}" if request.fat is not None else ""
    return f"Cheapest whole packs{batch}{fat}: {wording.listing(packs_said)}"


def _fat_words(request: Packs) -> str:
    assert request.fat is not None
    bound = {Bound.MOST: "at most ", Bound.LEAST: "at least "}.get(request.fat_is, "")
    return f"with {bound}{wording.percent(request.fat)} fat" if bound else f"at {wording.lean_fat(request.fat)}"


def _currency(request: Packs, kitchen: Kitchen) -> str:
    """The one currency of all prices; "" where there are several. A price without one is in the country's own."""
    said = {offer.price.unit for offer in request.offers if offer.price is not None and offer.price.unit}
    if len(said) > 1:
        return ""
    return next(iter(said), wording.HOME_CURRENCY.get(kitchen.country, "USD"))


def _missing(request: Packs) -> tuple[str, str] | None:
    for offer in request.offers:
        if not offer.cut:
            return "cut:", "Which cut is in the packs?"
        if offer.size is None:
            return "size", f"What does a pack of {offer.cut} weigh?"
        if offer.price is None:
            return "price", f"What does a pack of {offer.cut} cost?"
    if request.batch is None:
        return "batch", "How much do you want to make, and at what lean to fat? For example: 5 lb at 80/20."
    if request.fat is None and len({offer.cut for offer in (*request.offers, *request.have)}) > 1:
        return "fat", "At what lean to fat? For example: 80/20."
    return None


def answer(request: Packs, kitchen: Kitchen) -> Outcome:
    """The packs to buy; asks for the batch, its lean to fat, a weight or a price that is missing."""
    missing = _missing(request)
    if missing is not None:
        return verdict.ask_back(NAME, _understood(request, kitchen), missing[1], request, missing[0])
    understood = _understood(request, kitchen)
    fault = _fault(request, kitchen)
    if fault:
        return verdict.told(NAME, understood, fault, status=Status.IMPOSSIBLE)
    names = list(dict.fromkeys(offer.cut for offer in (*request.offers, *request.have)))
    first = {name: next(o for o in (*request.offers, *request.have) if o.cut == name) for name in names}
    plan = Plan(items=tuple(Item(name, first[name].keys, fat=first[name].fat) for name in names))
    meats, doubt = meat.find(plan, kitchen.country, {}, own_fats(kitchen))
    if doubt is not None:
        return verdict.ask_back(NAME, understood, doubt.question, request, f"cut:{doubt.word}")
    cuts = [Cut(m.name, m.fat or Fraction(0), m.low, m.high) for m in meats]
    on_sale = [packs.Pack(names.index(o.cut), o.grams, o.cost, o.most) for o in request.offers]
    stock = [sum((o.grams for o in request.have if o.cut == name), Fraction(0)) for name in names]
    found = packs.cheapest_packs(
        cuts,
        on_sale,
        _batch(request),
        request.fat if request.fat_is not in (Bound.MOST, Bound.LEAST) else None,
        fat_at_most=request.fat if request.fat_is is Bound.MOST else None,
        fat_at_least=request.fat if request.fat_is is Bound.LEAST else None,
        have=stock,
    )
    if isinstance(found, NoBlend):
        says, figures = _why_not(request, found, kitchen), _nearest(request, found, kitchen)
        return verdict.told(NAME, understood, says, figures=figures, status=Status.IMPOSSIBLE)
    return _told(request, meats, found, kitchen)


def _fault(request: Packs, kitchen: Kitchen) -> str:
    if not _currency(request, kitchen):
        return "The prices are in different currencies, and I never convert money. Give them all in one."
    if not 0 < _batch(request) <= MOST_GRAMS:
        return "That is no batch to buy packs for. How much do you want to make?"
    if any(offer.grams <= 0 or offer.cost < 0 for offer in request.offers):
        return "A pack has to weigh something, and cost nothing less than nothing. Which figure is a slip?"
    if len(request.offers) > MOST_PACKS:
        return f"That is more than {MOST_PACKS} kinds of pack. Leave out the dearest by weight."
    if request.fat is not None and not 0 <= request.fat <= 100:
        return "Fat runs from 0 to 100%. Which lean to fat do you want, such as 80/20?"
    if any(offer.fat is not None and not 0 <= offer.fat <= 100 for offer in request.offers):
        return "Fat runs from 0 to 100%. What does the label say?"
    return ""


def _why_not(request: Packs, found: NoBlend, kitchen: Kitchen) -> str:
    if found.reason in (Reason.TOO_LEAN, Reason.TOO_FAT) and found.lean_end is not None and found.fat_end is not None:
        ends = wording.percent_range(found.lean_end, found.fat_end, 1)
        return f"No packs of these make a batch {_fat_words(request)}: between them they reach {ends} fat. Add something {'leaner' if found.reason is Reason.TOO_LEAN else 'fatter'}."
    if found.reason is Reason.STOCK_SHORT:
        most = wording.both(found.largest.total, _system(request, kitchen)) if found.largest is not None else "less"
        return f"There are not enough packs for that much: they make {most} at the most."
    return "No set of whole packs makes that. Ease a limit, or add another pack."


def _nearest(request: Packs, found: NoBlend, kitchen: Kitchen) -> list[Figure]:
    """What comes nearest: the fat that can be reached, or the weight that there are packs for."""
    if found.nearest is not None and found.lean_end is not None and found.fat_end is not None:
        low, high = float(found.lean_end), float(found.fat_end)
        shown = wording.percent(found.nearest.fat)
        return [Figure("nearest fat", Role.FAT, float(found.nearest.fat), "%", low, high, shown=shown)]
    if found.largest is None:
        return []
    speak = _system(request, kitchen)
    unit = "lb" if speak == "us" else "kg"
    most = found.largest.total
    return [Figure("most that works", Role.TOTAL, _in(most, unit), unit, shown=wording.both(most, speak))]


def _told(request: Packs, meats: Sequence[meat.Meat], found: Shopping, kitchen: Kitchen) -> Outcome:
    speak, currency = _system(request, kitchen), _currency(request, kitchen)
    unit = "lb" if speak == "us" else "kg"
    bought = [(offer, count) for offer, count in zip(request.offers, found.packs, strict=True) if count]
    figures = [
        Figure(_pack_words(offer, speak), Role.PURCHASE, float(count), "count", shown=wording.counted(count, "pack"))
        for offer, count in bought
    ]
    figures.append(
        Figure("packs in all", Role.COST, float(found.cost), currency, shown=wording.money(found.cost, currency))
    )
    parts, total = wording.weights(found.blend.grams, speak)
    for one, mass, shown in zip(meats, found.blend.grams, parts, strict=True):
        fat = None if one.fat is None else float(one.fat)
        figures.append(
            Figure(one.name, Role.COMPONENT, _in(mass, unit), unit, fat_percent=fat, source=one.source, shown=shown)
        )
    figures.append(
        Figure("batch", Role.TOTAL, _in(found.blend.total, unit), unit, shown=wording.both(found.blend.total, speak))
    )
    figures.append(_fat_figure(found))
    for one, mass in zip(meats, found.left_over, strict=True):
        if mass:
            figures.append(
                Figure(f"{one.name}, left over", Role.LEFT_OVER, _in(mass, unit), unit, shown=wording.both(mass, speak))
            )
    to_buy = wording.listing([f"{count} x {wording.weight(offer.grams, speak)} {offer.cut}" for offer, count in bought])
    uses = wording.listing(
        [f"{shown} {one.name}" for one, mass, shown in zip(meats, found.blend.grams, parts, strict=True) if mass]
    )
    says = f"Buy {to_buy}: {wording.money(found.cost, currency)}. Grind {uses} for {total} at {wording.lean_fat(found.blend.fat)}."
    if not bought:
        says = (
            f"Nothing to buy: what is there makes it. Grind {uses} for {total} at {wording.lean_fat(found.blend.fat)}."
        )
    return verdict.told(
        NAME,
        _understood(request, kitchen),
        says,
        figures=figures,
        cautions=verdict.with_meat(_species(meats), kitchen, {"cook_temperature", "keep_cold"}),
        notes=_notes(meats, found, currency, speak),
        working=(
            f"No set of whole packs that makes the batch costs less than {wording.money(found.floor, currency)} "
            "(branch and bound over exact linear programmes).",
        ),
    )


def _notes(meats: Sequence[meat.Meat], found: Shopping, currency: str, speak: str) -> list[str]:
    left = [f"{wording.both(mass, speak)} {one.name}" for one, mass in zip(meats, found.left_over, strict=True) if mass]
    notes = [f"Left over: {wording.listing(left)}." if left else "Nothing is left over."]
    if not found.proved:
        notes.append(f"The search was stopped: no set costs less than {wording.money(found.floor, currency)}.")
    return [*notes, *(one.note for one in meats if one.note)]


def _fat_figure(found: Shopping) -> Figure:
    blend = found.blend
    shown = wording.percent(blend.fat)
    ranged = blend.low != blend.high
    if ranged:
        shown += f" ({wording.percent_range(blend.low, blend.high)} at the worst)"
    return Figure(
        "fat",
        Role.FAT,
        float(blend.fat),
        "%",
        low=float(blend.low) if ranged else None,
        high=float(blend.high) if ranged else None,
        shown=shown,
    )


def _in(mass: Fraction, unit: str) -> float:
    return float(units.to(mass, "g", unit))


def _species(meats: Sequence[meat.Meat]) -> heard.Meat:
    known = {one.species for one in meats if one.species} & known_species()
    return heard.Meat(frozenset(known))
