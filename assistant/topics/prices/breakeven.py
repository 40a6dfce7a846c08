"""What a cut may cost at the most, and when a grinder has paid for itself."""

from __future__ import annotations

from fractions import Fraction

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.engine import cost
from assistant.engine.kinds import HUNDRED
from assistant.language.phrases import Measure
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.plan.meat import Doubt, Meat
from assistant.topics.prices import telling
from assistant.topics.prices.offers import Offer
from assistant.topics.prices.request import BreakEven, PaysOff


def may_cost(request: BreakEven, kitchen: Kitchen) -> Outcome:
    """The most that a cut may cost: to match the shop lean for lean, or to bring a blend to a price."""
    understood = _understood(request)
    goal = request.goal
    if goal is None or goal.per_gram is None:
        question = "What is the price to beat, such as the shop's 80/20 at $5.99/lb?"
        if goal is not None and goal.price is not None:
            said = wording.money(goal.price, telling.currency((goal.currency,), kitchen))
            question = f"Is {said} for a pound or a kilo, and how fat is it? Say it such as: 80/20 at {said}/lb."
        return verdict.ask_back(telling.TOPIC_NAME, understood, question, request, "goal")
    offers = (request.cut, *request.others, goal)
    currency = telling.currency((offer.currency for offer in offers), kitchen)
    if not currency:
        return verdict.told(telling.TOPIC_NAME, understood, telling.TWO_MONEYS, status=Status.IMPOSSIBLE)
    if any(not 0 <= offer.lost < HUNDRED for offer in offers):
        return verdict.told(telling.TOPIC_NAME, understood, "A loss has to be under 100%.", status=Status.IMPOSSIBLE)
    unit = telling.unit_of([offer.per for offer in offers], kitchen)
    if request.others:
        return _in_a_blend(request, goal.per_gram, currency, unit)
    mine, theirs = telling.fat_of(request.cut, kitchen), telling.fat_of(goal, kitchen)
    if isinstance(mine, Doubt):
        return verdict.ask_back(telling.TOPIC_NAME, understood, mine.question, request, "cut")
    if isinstance(theirs, Doubt) or theirs.fat is None or mine.fat is None or max(mine.fat, theirs.fat) >= HUNDRED:
        question = "How fat is the shop's, such as 80/20? Without it lean cannot be compared with lean."
        return verdict.ask_back(telling.TOPIC_NAME, understood, question, request, "goal fat")
    wanted = _as_lean(goal.per_gram, theirs.fat, mine.fat)
    price = _alone(wanted, request.cut)
    ends = tuple(
        _alone(_as_lean(goal.per_gram, theirs.fat, fat), request.cut) * telling.one(unit)
        for fat in (mine.high or mine.fat, mine.low or mine.fat)
    )
    return _told_alone(request, mine, price * telling.one(unit), (ends[0], ends[1]), currency, unit)


def _as_lean(shop: Fraction, shop_fat: Fraction, fat: Fraction) -> Fraction:
    """What meat of this fat may cost to be as dear as the shop's, lean for lean."""
    return cost.compare(shop, fat, shop, shop_fat).break_even


def _alone(wanted: Fraction, cut: Offer) -> Fraction:
    return cost.break_even_price(wanted, [], Fraction(1), HUNDRED - cut.lost)


def _understood(request: BreakEven) -> str:
    goal = request.goal
    with_others = f" with {wording.listing([offer.name for offer in request.others])}" if request.others else ""
    loss = f", {wording.percent(request.cut.lost)} lost in bone and trim" if request.cut.lost else ""
    against = "" if goal is None else f" to match {telling.called(goal)}" if goal.shop else " for the wanted price"
    return f"What {request.cut.name} may cost{with_others}{against}{loss}"


def _told_alone(
    request: BreakEven, mine: Meat, price: Fraction, ends: tuple[Fraction, Fraction], currency: str, unit: str
) -> Outcome:
    assert request.goal is not None and mine.fat is not None and request.goal.per_gram is not None
    name = request.cut.name
    shop = request.goal.per_gram * telling.one(unit)
    losing = f" as bought, {wording.percent(request.cut.lost)} of it lost," if request.cut.lost else ""
    ranged = (
        f" ({wording.money(ends[0], currency)} to {wording.money(ends[1], currency)} as its fat varies)"
        if ends[0] != ends[1]
        else ""
    )
    return verdict.told(
        telling.TOPIC_NAME,
        _understood(request),
        f"{name.capitalize()}{losing} breaks even at {wording.price(price, currency, unit)}{ranged}: "
        f"below that its lean is cheaper than in {telling.called(request.goal)} at {wording.price(shop, currency, unit)}.",
        figures=[
            telling.money(f"{name} may cost per {unit}", Role.PRICE, price, currency, ends),
            telling.money(f"{telling.called(request.goal)} per {unit}", Role.PRICE, shop, currency),
            Figure("fat", Role.FAT, float(mine.fat), "%", source=mine.source, shown=wording.percent(mine.fat)),
        ],
        notes=[mine.note, "Your own work and the grinder are not counted."],
        working=(
            f"Lean for lean: shop price x {wording.percent(HUNDRED - mine.fat)} lean of the {name} over the shop's lean.",
            "Bone and trim divide: what is left of a pound carries its whole price.",
        ),
    )


def _in_a_blend(request: BreakEven, wanted: Fraction, currency: str, unit: str) -> Outcome:
    understood = _understood(request)
    missing = next((o.name for o in (request.cut, *request.others) if o.grams is None), "")
    if missing:
        question = f"How much {missing} goes in?"
        return verdict.ask_back(telling.TOPIC_NAME, understood, question, request, f"weight:{missing}")
    others = [
        cost.Bought(offer.grams or Fraction(0), offer.per_gram or Fraction(0), HUNDRED - offer.lost)
        for offer in request.others
    ]
    weight = request.cut.grams or Fraction(0)
    price = cost.break_even_price(wanted, others, weight, HUNDRED - request.cut.lost) * telling.one(unit)
    goal = wording.price(wanted * telling.one(unit), currency, unit)
    if price < 0:
        return verdict.told(
            telling.TOPIC_NAME,
            understood,
            f"It cannot come to {goal}: {wording.listing([o.name for o in request.others])} alone cost more than that.",
            status=Status.IMPOSSIBLE,
            figures=[telling.money("over the wanted price", Role.COST, -price * weight / telling.one(unit), currency)],
        )
    return verdict.told(
        telling.TOPIC_NAME,
        understood,
        f"{request.cut.name.capitalize()} may cost {wording.price(price, currency, unit)} for the blend to come to {goal}.",
        figures=[
            telling.money(f"{request.cut.name} may cost per {unit}", Role.PRICE, price, currency),
            telling.money(f"blend per {unit}", Role.PRICE, wanted * telling.one(unit), currency),
        ],
        working=(
            "(wanted price x all the meat - what the rest costs) over the weight of this cut, x its usable share.",
        ),
    )


def pays_off(request: PaysOff, kitchen: Kitchen) -> Outcome:
    """How much meat to grind before the grinder has paid for itself."""
    offers = [offer for offer in (request.saving, request.own, request.shop) if offer is not None]
    currency = telling.currency([request.currency, *(offer.currency for offer in offers)], kitchen)
    understood = "When the grinder has paid for itself"
    if not currency:
        return verdict.told(telling.TOPIC_NAME, understood, telling.TWO_MONEYS, status=Status.IMPOSSIBLE)
    saving = _saving(request)
    if saving is None:
        question = "What do you save per lb or kg: what does your own cost, and what the shop's?"
        return verdict.ask_back(telling.TOPIC_NAME, understood, question, request, "saving")
    unit = telling.unit_of([request.pace, *(offer.per for offer in offers)], kitchen)
    understood += f": {wording.money(request.spent, currency)} at {wording.price(saving * telling.one(unit), currency, unit)} saved"
    grams = cost.pays_off_after(request.spent, saving)
    if grams is None:
        says = "It never does: your own meat costs as much as the shop's or more, so nothing is saved."
        return verdict.told(telling.TOPIC_NAME, understood, says, status=Status.IMPOSSIBLE)
    system = "us" if unit == "lb" else "metric"
    amount = float(grams / telling.one(unit))
    figures = [
        Figure("meat to grind", Role.TOTAL, amount, unit, shown=wording.both(grams, system)),
        telling.money(f"saved per {unit}", Role.PRICE, saving * telling.one(unit), currency),
        telling.money("paid for the grinder", Role.COST, request.spent, currency),
    ]
    says = f"After {wording.both(grams, system)} of meat."
    if request.pace is not None and request.every is not None and request.pace.value > 0:
        times = grams / telling.grams(request.pace) * request.every.value
        figures.append(_span(times, request.every))
        says = f"After {wording.both(grams, system)} of meat: {figures[-1].shown} at that pace."
    return verdict.told(
        telling.TOPIC_NAME,
        understood,
        says,
        figures=figures,
        notes=["Your own work, power and wear are not counted."],
        working=("What was paid over what each pound or kilo saves.",),
    )


def _saving(request: PaysOff) -> Fraction | None:
    if request.saving is not None:
        return request.saving.per_gram
    if request.own is None or request.shop is None:
        return None
    own, shop = request.own.per_gram, request.shop.per_gram
    return None if own is None or shop is None else shop - cost.usable_price(own, HUNDRED - request.own.lost)


def _span(times: Fraction, every: Measure) -> Figure:
    shown = wording.counted(-int(-times // 1), every.unit)
    return Figure("time", Role.DURATION, float(times), every.unit, shown=shown)
