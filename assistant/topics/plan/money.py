"""What a batch costs: by weight, by patty, by guest; against the shop; and how far a budget goes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import cost, portion
from assistant.language.phrases import Measure
from assistant.topics.plan.buying import buy_grams, is_forward, usable_grams
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import LOT, PattyWish, Plan, Price
from assistant.topics.plan.section import Section, grams, in_unit, system


def section(
    plan: Plan,
    meats: Sequence[Meat],
    weights: Sequence[Fraction] | None,
    count: Fraction | None,
    country: str,
    default_system: str,
) -> Section | None:
    """The cost of a plan, or None where money is not its business.

    weights: grams of each meat in the bowl; count: patties. A currency that was not said is the country's own.
    """
    priced = [meat for meat in meats if meat.item.price is not None]
    currency = _currency(plan, priced, country)
    speak = system(plan, default_system)
    if plan.paid is not None:
        return _shared_out(plan, count, weights, speak)
    if plan.budget is not None:
        return _budget(plan, priced, currency, speak)
    if plan.shop is not None:
        return _against_shop(plan, meats, weights, currency, speak)
    if not priced:
        if "cost" in plan.asks and "what" not in plan.asks | {"what"}:
            return None
        if plan.asks & {"cost"}:
            return Section(asks="price", message="What does each cut cost, per lb or kg?")
        return None
    if plan.trimmed_off is not None or any(loss.where == "trimmed" for loss in plan.losses):
        return _good_part(plan, priced[0], currency, speak)
    if weights is None or sum(weights, Fraction(0)) == 0:
        return _unit_price(plan, priced, currency, speak)
    missing = [meat.name for meat in meats if meat.item.price is None]
    if missing:
        return (
            Section(asks="price", message=f"What does the {wording.listing(missing)} cost?")
            if "cost" in plan.asks
            else None
        )
    return _batch(plan, meats, weights, count, currency, speak)


def _currency(plan: Plan, priced: Sequence[Meat], country: str) -> str:
    said = [meat.item.price.currency for meat in priced if meat.item.price is not None]
    said += [
        plan.extra.unit if plan.extra else "",
        plan.shop.currency if plan.shop else "",
        plan.budget.unit if plan.budget else "",
    ]
    return next((currency for currency in said if currency), wording.HOME_CURRENCY.get(country, "USD"))


def _per_gram(price: Price, whole: Fraction | None) -> Fraction | None:
    if price.per is not None:
        return cost.per_gram(price.amount, grams(price.per)) if price.per.value > 0 else None
    return cost.per_gram(price.amount, whole) if whole else None


def _wanted(plan: Plan, speak: str) -> tuple[str, Fraction]:
    """The weight that prices are told for: as asked ("per kilo"), else the pound or kilo of the system."""
    if plan.per is not None and plan.per.unit in ("lb", "kg", "oz", "g"):
        name = plan.per.unit if plan.per.value == 1 else f"{wording.number(plan.per.value)} {plan.per.unit}"
        return name, grams(plan.per)
    return _unit(speak)


def _unit(speak: str) -> tuple[str, Fraction]:

    name = "lb" if speak == "us" else "kg"
    return name, units.grams(1, name)


def _priced(meat: Meat) -> Fraction | None:
    price = meat.item.price
    if price is None:
        return None
    whole = None if meat.item.weight is None else grams(meat.item.weight)
    return _per_gram(price, whole)


def _figure(name: str, role: Role, amount: Fraction, currency: str) -> Figure:
    return Figure(name, role, float(amount), currency, shown=wording.money(amount, currency))


def _batch(
    plan: Plan,
    meats: Sequence[Meat],
    weights: Sequence[Fraction],
    count: Fraction | None,
    currency: str,
    speak: str,
) -> Section | None:
    if plan.losses and is_forward(plan) and not any(loss.cut for loss in plan.losses):
        # "25 kg at £7 with 18% loss": the weights are of what was bought
        weights = [usable_grams(plan, g) for g in weights]
    whole = sum(weights, Fraction(0))
    bought = []
    for meat, g in zip(meats, weights, strict=True):
        price = _priced(meat)
        if price is None:
            return None
        usable = cost.usable_percent(buy_grams(plan, g, meat.name), g) if plan.losses and g else Fraction(100)
        bought.append(cost.Bought(g, price, usable))
    found = cost.blend_cost(bought)
    total = found.total
    figures = [
        _figure(f"{meat.name} cost", Role.COST, part, currency) for meat, part in zip(meats, found.parts, strict=True)
    ]
    if plan.extra is not None:
        total += plan.extra.value
        figures.append(_figure("on top of the meat", Role.COST, plan.extra.value, currency))
    name, size = _wanted(plan, speak)
    figures.insert(0, _figure("batch cost", Role.COST, total, currency))
    figures.insert(1, _figure(f"cost per {name}", Role.PRICE, total / whole * size, currency))
    headline = f"{wording.money(total, currency)} in all, {wording.price(total / whole * size, currency, name)}"
    wish = plan.patties or PattyWish()
    each = None
    mixed = len({group.size for group in plan.groups}) > 1
    made = count or wish.count
    if wish.size is not None and not mixed and not wish.cooked:
        each = total / whole * grams(wish.size)
    elif made:
        each = total / made
    if each is not None:
        figures.append(_figure("cost per patty", Role.COST, each, currency))
        headline += f", {wording.money(each, currency)} a patty{' on average' if mixed else ''}"
    people = _guests(plan)
    if people:
        figures.append(_figure("cost per guest", Role.COST, total / people, currency))
        headline += f", {wording.money(total / people, currency)} a guest"
    working: tuple[str, ...] = ()
    if plan.losses:
        working = ("Bone and trim divide: each price is over the share of the cut that reaches the bowl.",)
    return Section(headline=headline + ".", figures=tuple(figures), cost=total, working=working)


def _guests(plan: Plan) -> Fraction:
    """How many people eat; patties counted by the lot are none."""
    return sum((group.count for group in plan.groups if group.sort != LOT), Fraction(0))


def _shared_out(plan: Plan, count: Fraction | None, weights: Sequence[Fraction] | None, speak: str) -> Section | None:
    """What all of it cost, for each guest, each patty and each pound or kilo, as far as they were said."""
    assert plan.paid is not None
    currency, total = plan.paid.unit, plan.paid.value
    shares = []
    people = _guests(plan)
    if people:
        shares.append(("cost per guest", Role.COST, total / people, "a guest"))
    said = plan.patties.count if plan.patties is not None else None
    if said:
        shares.append(("cost per patty", Role.COST, total / said, "a patty"))
    elif count and plan.batch is not None:
        shares.append(("cost per patty", Role.COST, total / count, "a patty"))
    if plan.batch is not None or any(item.weight is not None for item in plan.items):
        name, size = _wanted(plan, speak)
        whole = sum(weights or (), Fraction(0))
        if whole:
            shares.append((f"cost per {name}", Role.PRICE, total / whole * size, f"a {name}"))
    if not shares:
        return None
    told = ", ".join(f"{wording.money(each, currency)} {per}" for _, _, each, per in shares)
    figures = tuple(_figure(name, role, each, currency) for name, role, each, _ in shares)
    return Section(headline=f"{told}.", figures=(*figures, _figure("paid", Role.COST, total, currency)))


def _unit_price(plan: Plan, priced: Sequence[Meat], currency: str, speak: str) -> Section | None:
    """A price alone: said again per lb and per kg, and per patty where a size was said."""
    if len(priced) != 1 or priced[0].item.price is None:
        return None
    price = _priced(priced[0])
    if price is None:
        return None
    loss = next((loss for loss in plan.losses if loss.amount.unit == "percent"), None)
    if loss is not None:
        price = cost.usable_price(price, 100 - loss.amount.value)
    name, size = _wanted(plan, speak)
    figures = [_figure(f"price per {name}", Role.PRICE, price * size, currency)]
    headline = wording.price(price * size, currency, name)
    wish = plan.patties
    if wish is not None and wish.size is not None:
        figures.append(_figure("cost per patty", Role.COST, price * grams(wish.size), currency))
        headline += f", {wording.money(price * grams(wish.size), currency)} a patty"
    return Section(headline=headline + ("." if loss is None else " once the loss is counted."), figures=tuple(figures))


def _good_part(plan: Plan, meat: Meat, currency: str, speak: str) -> Section | None:
    """A piece bought, so much trimmed off: what the good part cost."""
    price, item = _priced(meat), meat.item
    loss = next((loss for loss in plan.losses if loss.where == "trimmed"), None)
    if price is None or item.weight is None or loss is None:
        return Section(asks="weight", message=f"How much did the {meat.name} weigh before trimming?")
    bought = grams(item.weight)
    usable = bought - grams(loss.amount)
    if usable <= 0:
        return Section(impossible=True, message="More was trimmed off than there was: check the two weights.")
    name, size = _wanted(plan, speak)
    good = cost.usable_price(price, cost.usable_percent(bought, usable))
    kept = in_unit(usable, _unit(speak)[0])
    return Section(
        headline=f"The good part cost {wording.price(good * size, currency, name)}: "
        f"{wording.money(price * bought, currency)} over {wording.both(usable, speak)}.",
        figures=(
            _figure(f"price per {name} of good meat", Role.PRICE, good * size, currency),
            _figure("paid", Role.COST, price * bought, currency),
            Figure("good meat", Role.TOTAL, kept, _unit(speak)[0], shown=wording.both(usable, speak)),
            Figure(
                "usable", Role.YIELD, float(usable / bought * 100), "%", shown=wording.percent(usable / bought * 100)
            ),
        ),
        working=("Trim divides: the whole price over what is left.",),
    )


def prices_a_patty(plan: Plan) -> bool:
    """ "what's a 115 g patty cost at £9.40 a kilo?": a size and a price per weight are all that takes."""
    sized = plan.patties is not None and plan.patties.size is not None and plan.patties.count is None
    priced = len(plan.items) == 1 and plan.items[0].price is not None and plan.items[0].price.per is not None
    return sized and priced and "cost" in plan.asks and "how_many" not in plan.asks


def only_shares(plan: Plan) -> bool:
    """ "5 kg at €9.80/kg, 40 people, cost a head": the people share the money, and nothing is said of what they eat."""
    unsaid = all(group.each is None and group.size is None for group in plan.groups) and plan.patties is None
    priced = [item for item in plan.items if item.price is not None and item.weight is not None]
    bought = bool(priced) and len(priced) == len(plan.items)
    return bool(plan.groups) and unsaid and (plan.paid is not None or bought) and "how_many" not in plan.asks


def batch_for_budget(plan: Plan, meats: Sequence[Meat]) -> Plan:
    """The plan with the meat that its budget buys as its batch, where people share it and no size was said."""
    sized = any(group.size is not None for group in plan.groups) or (plan.patties is not None and plan.patties.size)
    priced = [meat for meat in meats if meat.item.price is not None and meat.item.price.per is not None]
    if plan.budget is None or not plan.groups or sized or plan.batch is not None or len(priced) != 1:
        return plan
    price = _priced(priced[0])
    if not price or any(group.each is None for group in plan.groups):
        return plan
    lost = sum((loss.amount.value for loss in plan.losses if loss.amount.unit == "percent"), Fraction(0))
    usable = portion.usable_from(cost.mass_for_budget(plan.budget.value, price), lost)
    said = priced[0].item.price
    assert said is not None and said.per is not None
    unit = said.per.unit if said.per.unit in ("lb", "kg") else ("lb" if said.per.unit == "oz" else "kg")
    return replace(plan, batch=Measure(usable / grams(Measure(Fraction(1), unit)), unit))


def _budget(plan: Plan, priced: Sequence[Meat], currency: str, speak: str) -> Section:
    assert plan.budget is not None
    if not priced:
        return Section(asks="price", message="What does the meat cost, per lb or kg?")
    price = _priced(priced[0])
    if price is None or price <= 0:
        return Section(asks="price", message="What does the meat cost, per lb or kg?")
    mass = cost.mass_for_budget(plan.budget.value, price)
    lost = sum((loss.amount.value for loss in plan.losses if loss.amount.unit == "percent"), Fraction(0))
    name, _size = _unit(speak)
    figures = [Figure("meat", Role.PURCHASE, in_unit(mass, name), name, shown=wording.both(mass, speak))]
    headline = f"{wording.money(plan.budget.value, currency)} buys {wording.both(mass, speak)}"
    wish = plan.patties
    if wish is not None and wish.size is not None and grams(wish.size) > 0:
        each = cost.price_for(cost.usable_price(price, 100 - lost), grams(wish.size))
        found = cost.count_for_budget(plan.budget.value, each)
        figures.insert(0, Figure("patties", Role.PATTY_COUNT, float(found.count), "count", shown=str(found.count)))
        figures.append(_figure("cost per patty", Role.COST, each, currency))
        figures.append(_figure("left of the budget", Role.COST, found.left, currency))
        headline = f"{found.count} patties of {wording.both(grams(wish.size), speak)} for {wording.money(plan.budget.value, currency)}"
        eaten = next((group.each for group in plan.regroup if group.each), None)
        if eaten is not None:
            fed = int(found.count // eaten)
            figures.append(Figure("people", Role.RATIO, float(fed), "count", shown=str(fed)))
            headline += f", for {wording.counted(fed, 'person')} at {wording.number(eaten)} each"
    return Section(headline=headline + ".", figures=tuple(figures))


def _own_price(meats: Sequence[Meat], weights: Sequence[Fraction] | None) -> Fraction | None:
    """Money per gram of all the meat together; None where a price, or what goes in of each, is missing."""
    prices = [_priced(meat) for meat in meats]
    if len(prices) == 1:
        return prices[0]
    if weights is None or len(weights) != len(prices) or not sum(weights):
        return None
    total = Fraction(0)
    for price, weight in zip(prices, weights, strict=True):
        if price is None:
            return None
        total += price * weight
    return total / sum(weights)


def _against_shop(
    plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction] | None, currency: str, speak: str
) -> Section | None:
    """Own grind against the shop's, for a weight or per unit; trim and bone divide."""
    assert plan.shop is not None
    shop = _per_gram(plan.shop, None)
    name, size = _wanted(plan, speak)
    if shop is None:
        return Section(asks="price", message="Is the shop's price per lb, per kg or per pack?")
    if not any(meat.item.price is not None for meat in meats):
        return Section(
            headline=f"The shop's is {wording.price(shop * size, currency, name)}.",
            figures=(_figure(f"shop price per {name}", Role.PRICE, shop * size, currency),),
        )
    price = _own_price(meats, weights)
    if price is None:
        return Section(
            asks="price", message="What does each of your own cuts cost, per lb or kg, and how much of each goes in?"
        )
    lost = sum((loss.amount.value for loss in plan.losses if loss.amount.unit == "percent"), Fraction(0))
    if lost >= 100:
        return Section(impossible=True, message="A loss has to be under 100%.")
    own = cost.usable_price(price, 100 - lost)
    whole = grams(plan.batch) if plan.batch is not None else size
    mine, theirs = own * whole, shop * whole
    better = "Yes" if mine < theirs else "No"
    saved = abs(theirs - mine)
    word = "saves" if mine < theirs else "costs more by"
    return Section(
        headline=f"{better}: your own is {wording.money(mine, currency)} against {wording.money(theirs, currency)} "
        f"for {wording.both(whole, speak)}: it {word} {wording.money(saved, currency)}.",
        figures=(
            _figure("own grind", Role.COST, mine, currency),
            _figure("from the shop", Role.COST, theirs, currency),
            _figure("difference", Role.COST, saved, currency),
            _figure(f"own per {name}", Role.PRICE, own * size, currency),
        ),
        notes=("Lean for lean only if both have the same fat.",),
        working=("What is lost divides: price over the share that is left.",),
    )
