"""The blend of a batch: which question its words put to the engine, and what is answered where they leave it open."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import blend as engine
from assistant.engine import in_parts, scale
from assistant.engine.kinds import Cut, NoBlend, Reason, mix
from assistant.language.phrases import Bound
from assistant.topics.plan import buying, limits, mass
from assistant.topics.plan.cuts import cuts_of
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.no_blend import no_blend, reason
from assistant.topics.plan.request import Item, Plan
from assistant.topics.plan.section import Section, grams, system
from assistant.topics.plan.telling import batch_figure, components, told


def section(
    plan: Plan, meats: Sequence[Meat], default_system: str, scale_step: Fraction | None = None
) -> Section | None:
    """The blend that a plan asks for, or None where it asks for none. Never raises for what people can say.

    scale_step: grams that the cook's scale shows, if it was said; the weights are then told in such steps.
    """
    found = _section(plan, meats, default_system)
    if found is None or scale_step is None or not found.figures or found.impossible:
        return found
    return _on_the_scale(plan, meats, found, scale_step, system(plan, default_system))


def _on_the_scale(plan: Plan, meats: Sequence[Meat], exact: Section, step: Fraction, speak: str) -> Section:
    """The same blend in whole steps of the scale, with the fat that those weights have."""
    parts = [figure for figure in exact.figures if figure.role is Role.COMPONENT]
    if exact.fat is None or len(parts) != len(meats):
        return exact
    grams_of = [units.grams(Fraction(f.value), f.unit) for f in parts if not isinstance(f.value, str)]
    stocks = [_stock(meat) for meat in meats]
    weights = scale.weigh_out(grams_of, [meat.fat or Fraction(0) for meat in meats], step, at_most=stocks)
    if not sum(weights):
        return exact
    rounded = told(plan, meats, mix(cuts_of(meats, limits=False), weights), speak)
    shown = [wording.in_steps(weight, step) for weight in weights]
    named = wording.listing([f"{text} {meat.name}" for text, meat, w in zip(shown, meats, weights, strict=True) if w])
    texts = iter(shown)
    figures = tuple(replace(f, shown=next(texts)) if f.role is Role.COMPONENT else f for f in rounded.figures)
    note = f"In steps of {wording.in_steps(step, step)}: {wording.percent(rounded.fat or 0, 2)} fat in these weights."
    total = wording.in_steps(sum(weights, Fraction(0)), step)
    return replace(
        rounded,
        headline=f"{named}: {total} at {wording.lean_fat(rounded.fat or 0)}.",
        figures=figures,
        notes=(note, *exact.notes),
    )


def _stock(meat: Meat) -> Fraction | None:
    """Grams that there are of a meat, None where there is no end to it."""
    limited = meat.item.weight is not None and meat.item.weight_is in ("have", "all", Bound.MOST)
    return grams(meat.item.weight) if limited and meat.item.weight is not None else None


def _section(plan: Plan, meats: Sequence[Meat], default_system: str) -> Section | None:
    speak = system(plan, default_system)
    if not meats:
        return None
    batch = mass.wanted(plan, speak)
    weighed = [meat for meat in meats if meat.item.weight is not None]
    shared = [meat for meat in meats if meat.item.parts is not None or meat.item.share is not None]
    if plan.ratio is not None and plan.target is None:
        return _which_ratio(plan, meats)
    if plan.target is None and plan.wish in ("leanest", "fattest") and batch is not None and len(meats) > 1:
        return _fat_unknown(meats) or _extreme(plan, meats, batch, speak)
    if plan.target is None:
        return _without_target(plan, meats, batch, weighed, shared, speak)
    unknown = _fat_unknown(meats)
    if unknown is not None:
        return unknown
    if not 0 <= plan.target <= 100:
        return Section(
            impossible=True, message=f"{wording.number(plan.target)} % fat cannot be: fat runs from 0 to 100 %."
        )
    if len(meats) == 1:
        return _one_meat(plan, meats[0], batch, speak)
    return _with_target(plan, meats, batch, weighed, speak)


def _which_ratio(plan: Plan, meats: Sequence[Meat]) -> Section:
    assert plan.ratio is not None
    first, second = (wording.number(part) for part in plan.ratio)
    parts = wording.listing([f"{n}% {meat.name}" for n, meat in zip((first, second), meats, strict=False)])
    return Section(asks="ratio", message=f"Is {first}/{second} lean to fat, or {parts}? Say lean to fat, or parts.")


def _fat_unknown(meats: Sequence[Meat]) -> Section | None:
    """The question for the first meat that has no figure; None where every one has."""
    unknown = next((meat for meat in meats if meat.fat is None), None)
    if unknown is None:
        return None
    return Section(asks="fat", message=f"Which cut is the {unknown.name}, or how fat is it (in %)?")


# ---- without a target: what does it come to


def _without_target(
    plan: Plan,
    meats: Sequence[Meat],
    batch: Fraction | None,
    weighed: Sequence[Meat],
    shared: Sequence[Meat],
    speak: str,
) -> Section | None:
    if batch is None and len(weighed) == 1 and len(shared) == len(meats) - 1 and not plan.equal:
        added = _shares_added(plan, meats, weighed[0], speak)
        if added is not None:
            return added
    if len(meats) == 1 and batch is not None and meats[0].item.share is not None and meats[0].item.share < 1:
        missing = wording.percent((1 - meats[0].item.share) * 100)
        return Section(asks="share", message=f"That leaves {missing} open. Which cut makes up the rest?")
    if batch is not None and weighed and len(weighed) + len(shared) == len(meats) and not plan.equal:
        parted = _parts_of_the_rest(plan, meats, batch, speak)
        if parted is not None:
            return parted
    if (plan.equal or shared) and len(meats) > 1:
        total = batch if batch is not None else mass.weighed(plan)
        if total is None:
            total = units.grams(1, "lb" if speak == "us" else "kg")
            return _shares(plan, meats, total, speak, assumed=True)
        return _shares(plan, meats, total, speak)
    if batch is not None and weighed and _one_makes_up_the_rest(meats):
        return _filled_up(plan, meats, batch, speak)
    if (
        batch is not None
        and not plan.groups
        and len(meats) > 1
        and (short := _which_part(meats, batch, speak)) is not None
    ):
        return short
    if len(weighed) == len(meats) and (len(meats) > 1 or "composition" in plan.asks or _is_what_is_left(plan)):
        return _heap(plan, meats, speak)
    if len(meats) == 1 and "composition" in plan.asks and meats[0].fat is not None:
        return _as_bought(meats[0])
    return None


def _shares_added(plan: Plan, meats: Sequence[Meat], base: Meat, speak: str) -> Section | None:
    """ "10 lb deer plus 20% pork fat": the deer stays as it is, and the share is taken of the whole:
    whole = deer / (1 - share). What the share of the deer alone would be is told beside it."""
    shares = {meat.name: meat.item.share for meat in meats if meat is not base}
    exact = all(meat.item.share_is is Bound.IS for meat in meats if meat is not base)
    known = [share for share in shares.values() if share is not None]
    if base.item.weight is None or not exact or len(known) != len(shares) or not 0 < sum(known) < 1:
        return None
    fixed = grams(base.item.weight)
    whole = fixed / (1 - sum(known))
    told = _made(plan, meats, [fixed if m is base else whole * (m.item.share or 0) for m in meats], speak)
    beside = wording.listing([f"{wording.both(fixed * (s or 0), speak)} {name}" for name, s in shares.items()])
    note = f"The share is of the whole mix; as much of the {base.name} alone would be {beside}."
    return replace(told, notes=(note, *told.notes))


def _parts_of_the_rest(plan: Plan, meats: Sequence[Meat], batch: Fraction, speak: str) -> Section | None:
    """ "2.5 kg, 250 g of it suet, and for the rest twice as much rump as brisket": parts of what the weights leave."""
    fixed = sum((grams(m.item.weight) for m in meats if m.item.weight is not None), Fraction(0))
    parts = sum((m.item.parts or Fraction(0) for m in meats if m.item.weight is None), Fraction(0))
    exact = all(m.item.weight_is in ("is", "all") for m in meats if m.item.weight is not None)
    if not exact or not parts or any(m.item.weight is None and m.item.parts is None for m in meats) or fixed >= batch:
        return None
    left = batch - fixed
    whole = [grams(m.item.weight) if m.item.weight is not None else left * (m.item.parts or 0) / parts for m in meats]
    return _made(plan, meats, whole, speak)


def _one_makes_up_the_rest(meats: Sequence[Meat]) -> bool:
    left = [meat for meat in meats if meat.item.weight is None]
    exact = all(meat.item.weight_is in ("is", "all") for meat in meats if meat.item.weight is not None)
    return len(left) == 1 and left[0].item.rest and exact


def _filled_up(plan: Plan, meats: Sequence[Meat], batch: Fraction, speak: str) -> Section:
    """ "1 lb brisket and the rest chuck, 5 lb in all"."""
    said = sum((grams(meat.item.weight) for meat in meats if meat.item.weight is not None), Fraction(0))
    if said > batch:
        return Section(
            impossible=True,
            message=f"The weights said come to {wording.both(said, speak)}: more than the {wording.both(batch, speak)} batch.",
        )
    left = batch - said
    return _made(plan, meats, [left if m.item.weight is None else grams(m.item.weight) for m in meats], speak)


def _as_bought(meat: Meat) -> Section:
    """How fat one cut is, as the table has it."""
    assert meat.fat is not None and meat.low is not None and meat.high is not None
    shown = wording.percent_at_worst(meat.fat, meat.low, meat.high)
    return Section(
        headline=f"{meat.name.capitalize()} is about {shown} fat.",
        figures=(
            Figure(
                "fat",
                Role.FAT,
                float(meat.fat),
                "%",
                float(meat.low),
                float(meat.high),
                source=meat.source,
                shown=shown,
            ),
        ),
        fat=meat.fat,
        low=meat.low,
        high=meat.high,
        working=(f"{meat.name}: {meat.source}.",),
    )


def _shares(plan: Plan, meats: Sequence[Meat], total: Fraction, speak: str, *, assumed: bool = False) -> Section:
    parts = [_part(plan, meat.item, total) for meat in meats]
    open_parts = [index for index, part in enumerate(parts) if part is None]
    by_share = any(meat.item.share is not None for meat in meats)
    given = sum((part for part in parts if part is not None), Fraction(0))
    if by_share and any(meat.item.share_is in (Bound.LEAST, Bound.MOST) for meat in meats):
        return _fat_unknown(meats) or _limited_shares(plan, meats, total, speak)
    if by_share and given > 1:
        return Section(
            impossible=True,
            message=f"Those shares add up to {wording.percent(given * 100)}: more than the whole batch.",
        )
    if open_parts:
        if not by_share:
            name = meats[open_parts[0]].name
            return Section(asks="share", message=f"How many parts of {name}?")
        left = (1 - given) / len(open_parts)
        parts = [left if part is None else part for part in parts]
        given = Fraction(1)
    if by_share and given < 1:
        missing = wording.percent((1 - given) * 100)
        return Section(asks="share", message=f"Those shares leave {missing} open. Which cut makes up the rest?")
    weights = [total * part / given for part in parts if part is not None]
    short = _short_of(meats, weights, total, speak)
    if short is not None:
        return short
    return _made(plan, meats, weights, speak, assumed=assumed)


def _short_of(meats: Sequence[Meat], weights: Sequence[Fraction], total: Fraction, speak: str) -> Section | None:
    """ "only 1 lb brisket; 6 lb, half brisket half chuck": shares that take more of a cut than there is, and how much
    could be made in these shares; None where there is enough of everything."""
    stocks = [(meat, weight, _stock(meat)) for meat, weight in zip(meats, weights, strict=True)]
    over = [
        (stock / weight, meat, weight, stock) for meat, weight, stock in stocks if stock is not None and weight > stock
    ]
    if not over:
        return None
    part, meat, weight, stock = min(over, key=lambda one: one[0])
    return Section(
        impossible=True,
        message=f"That takes {wording.both(weight, speak)} {meat.name} and there is {wording.both(stock, speak)}: "
        f"in these shares it makes {wording.both(total * part, speak)} at the most.",
    )


def _part(plan: Plan, item: Item, total: Fraction) -> Fraction | None:
    shared = any(other.share is not None for other in plan.items)
    if shared and item.share is None and item.weight is not None and item.weight_is == "is" and total > 0:
        # "a quarter belly, 500 g bacon, the rest shoulder"
        return grams(item.weight) / total
    if item.parts is not None:
        return item.parts
    if item.share is not None:
        return item.share
    return Fraction(1) if plan.equal else None


def _limited_shares(plan: Plan, meats: Sequence[Meat], total: Fraction, speak: str) -> Section:
    found = engine.nearest(cuts_of(meats), total)
    if isinstance(found, NoBlend):
        return no_blend(plan, meats, found, speak)
    return _made(plan, meats, found.grams, speak)


def _which_part(meats: Sequence[Meat], batch: Fraction, speak: str) -> Section | None:
    """The question where a batch is wanted out of what is there, which is another weight, and no fat was said."""
    there = [grams(meat.item.weight) for meat in meats if meat.item.weight is not None]
    limits = any(meat.item.weight_is in ("have", Bound.MOST) for meat in meats if meat.item.weight is not None)
    if not limits or len(there) < len(meats) or sum(there) == batch:
        return None
    all_of_it, wanted = wording.weight(sum(there, Fraction(0)), speak), wording.weight(batch, speak)
    message = f"At what lean to fat (such as 80/20)? All of it together is {all_of_it}, not {wanted}."
    return Section(asks="target", message=message)


def _is_what_is_left(plan: Plan) -> bool:
    """Whether a cut was dropped and nothing else asked: then the one that is left is the batch."""
    return bool(plan.without) and plan.patties is None and not plan.groups and not plan.seasonings and not plan.asks


def _heap(plan: Plan, meats: Sequence[Meat], speak: str) -> Section:
    made = _made(plan, meats, [grams(meat.item.weight) for meat in meats if meat.item.weight is not None], speak)
    if not plan.without or plan.batch is None or made.grams is None or made.grams >= grams(plan.batch):
        return made
    before = wording.weight(grams(plan.batch), speak)
    note = f'Without the {wording.listing(plan.without)} it is less than the {before} of before; say "make it {before}" for all of that.'
    return replace(made, notes=(note, *made.notes))


def _made(
    plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction], speak: str, *, assumed: bool = False
) -> Section:
    """A blend of known weights."""
    if sum(weights, Fraction(0)) == 0:
        return Section(impossible=True, message="A batch of 0 is nothing to grind. How much do you want to make?")
    if any(meat.fat is None for meat in meats):
        return _weights_only(plan, meats, weights, speak)
    found = mix(cuts_of(meats, limits=False), weights)
    notes: tuple[str, ...] = ()
    if assumed:
        notes = (_for_one(speak),)
    return told(plan, meats, found, speak, notes=notes)


def _for_one(speak: str) -> str:
    return "No batch weight was said: worked out for one " + ("pound." if speak == "us" else "kilo.")


def _weights_only(plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction], speak: str) -> Section:
    total = sum(weights, Fraction(0))
    unknown = [meat.name for meat in meats if meat.fat is None]
    figures = components(plan, meats, weights, speak)
    shown = wording.both(total, speak)
    return Section(
        headline=f"{shown} in all: " + wording.listing([f.shown + " " + f.name for f in figures]) + ".",
        figures=(*figures, batch_figure(plan, total, speak)),
        notes=(f"Fat not worked out: tell me which cut the {wording.listing(unknown)} is, or its fat in %.",),
        grams=total,
        touches=frozenset(meat.species for meat in meats),
    )


# ---- with a target


def _one_meat(plan: Plan, meat: Meat, batch: Fraction | None, speak: str) -> Section | None:
    assert plan.target is not None and meat.fat is not None
    if abs(meat.fat - plan.target) <= Fraction(1, 2):
        return _as_it_is(plan, meat, batch, speak)
    if plan.only:
        return Section(
            impossible=True,
            message=f"{wording.percent(plan.target)} fat cannot be reached with {meat.name} alone: it is about "
            f"{wording.percent(meat.fat)} fat. It takes something {'fatter' if meat.fat < plan.target else 'leaner'} beside it.",
        )
    want = "fatter" if meat.fat < plan.target else "leaner"
    other = "suet, fat trim or belly" if want == "fatter" else "round, shoulder clod or another lean cut"
    return Section(
        asks="second cut",
        message=f"{meat.name.capitalize()} is about {wording.percent(meat.fat)} fat, and you want "
        f"{wording.percent(plan.target)}: it takes something {want} beside it, such as {other}. Which have you got?",
    )


def _as_it_is(plan: Plan, meat: Meat, batch: Fraction | None, speak: str) -> Section | None:
    """ "4 lb chuck at 20%, want 80/20": the one cut is what is wanted. None where more than the blend is asked for."""
    weight = grams(meat.item.weight) if meat.item.weight is not None else batch
    more = plan.patties is not None or plan.groups or plan.seasonings or plan.losses or meat.item.price is not None
    if weight is None or more or plan.asks & {"cost", "buy", "split"}:
        return None
    found = _made(plan, [meat], [weight], speak)
    return replace(found, headline=f"{found.headline} Nothing to add: the {meat.name} is that lean by itself.")


def _with_target(
    plan: Plan, meats: Sequence[Meat], batch: Fraction | None, weighed: Sequence[Meat], speak: str
) -> Section:
    cuts = cuts_of(meats)
    target = plan.target
    assert target is not None
    band = _band(plan)
    if batch is not None and batch == 0:
        return Section(impossible=True, message="A batch of 0 is nothing to grind. How much do you want to make?")
    if plan.equal and not shared_freedom(meats):
        return _shares_against_target(plan, meats, batch, speak)
    if plan.wish == "largest" or (batch is None and _is_stock(plan, weighed, meats)):
        meats = [_as_stock(meat) for meat in meats]
        found = engine.largest(cuts_of(meats), **band, gains=len(meats) <= limits.MOST_EASED)
    elif batch is None and weighed:
        if len(weighed) == len(meats) and plan.asks & {"as_much", "largest"}:
            stock = [_as_stock(meat) for meat in meats]
            found = engine.largest(cuts_of(stock), **band, gains=len(meats) <= limits.MOST_EASED)
            return (
                no_blend(plan, stock, found, speak) if isinstance(found, NoBlend) else told(plan, stock, found, speak)
            )
        if len(weighed) == len(meats) and all(meat.item.weight_is == "is" for meat in meats):
            return _heap_against_target(plan, meats, speak)
        found = engine.complete([_kept(cut, meat) for cut, meat in zip(cuts, meats, strict=True)], **band)
    elif batch is None:
        found = engine.nearest(cuts, units.grams(1, "lb" if speak == "us" else "kg"), **band)
        if isinstance(found, NoBlend) and found.reason in (Reason.TOO_LEAN, Reason.TOO_FAT):
            return no_blend(plan, meats, found, speak)
        if not isinstance(found, NoBlend) and plan.asks & {"in_shares", "percent"}:
            return told(replace(plan, asks=plan.asks | {"percent"}), meats, found, speak, notes=(_for_one(speak),))
        return Section(asks="weight", message="How much do you want to make in all?")
    elif plan.wish == "cheapest" and any(cut.price is not None for cut in cuts):
        missing = [meat.name for meat in meats if meat.item.price is None]
        if missing:
            return Section(asks="price", message=f"What does the {wording.listing(missing)} cost?")
        found = engine.cheapest(_edible(plan, cuts), batch, **band)
    elif plan.wish == "leanest":
        found = engine.leanest(cuts, batch)
    elif pushed := [at for at, meat in enumerate(meats) if meat.item.push]:
        least = meats[pushed[0]].item.push == "least"
        found = engine.most_of(cuts, batch, pushed[0], **band, least=least)
    else:
        return _nearest(plan, meats, batch, band, speak)
    if isinstance(found, NoBlend):
        return no_blend(plan, meats, found, speak)
    return told(plan, meats, found, speak)


def _nearest(
    plan: Plan, meats: Sequence[Meat], batch: Fraction, band: dict[str, Fraction | None], speak: str
) -> Section:
    """The blend nearest to equal shares; some in the parts that were said, where the others leave them their parts."""
    cuts, parts = cuts_of(meats), [meat.item.parts for meat in meats]
    some = 1 < sum(part is not None for part in parts) < len(parts)
    limited = any(m.item.parts is not None and (m.item.weight or m.item.share) is not None for m in meats)
    notes: tuple[str, ...] = ()
    if some and not limited:
        kept = in_parts.nearest(cuts, parts, batch, **band)
        if not isinstance(kept, NoBlend):
            return told(plan, meats, kept, speak)
        names = wording.listing([meat.name for meat in meats if meat.item.parts is not None])
        notes = (f"The parts of {names} had to give way for that fat.",)
    found = engine.nearest(cuts, batch, **band)
    return (
        no_blend(plan, meats, found, speak)
        if isinstance(found, NoBlend)
        else told(plan, meats, found, speak, notes=notes)
    )


def _edible(plan: Plan, cuts: Sequence[Cut]) -> list[Cut]:
    """The cuts at the price of what reaches the bowl: bone and trim said of a cut, or of all, are in it."""
    hundred = Fraction(100)
    return [
        cut
        if cut.price is None
        else replace(cut, price=cut.price * buying.buy_grams(plan, hundred, cut.name, percents_only=True) / hundred)
        for cut in cuts
    ]


def shared_freedom(meats: Sequence[Meat]) -> bool:
    """Whether limits or weights were said that equal parts would have to bend to."""
    return any(meat.item.weight is not None or meat.item.share is not None for meat in meats)


def _shares_against_target(plan: Plan, meats: Sequence[Meat], batch: Fraction | None, speak: str) -> Section:
    """Equal parts and a target leave no choice: say what equal parts come to, and what would reach the target."""
    total = batch if batch is not None else units.grams(1, "lb" if speak == "us" else "kg")
    told = _made(plan, meats, [total / len(meats)] * len(meats), speak, assumed=batch is None)
    assert plan.target is not None and told.fat is not None and told.low is not None and told.high is not None
    if abs(told.fat - plan.target) <= Fraction(1, 2):
        return told
    low, high = wording.lean_fat(told.low, 0), wording.lean_fat(told.high, 0)
    note = f"Equal parts are {wording.lean_fat(told.fat, 0)} ({high} to {low} as bought), not {wording.lean_fat(plan.target)}."
    found = engine.nearest(cuts_of(meats), total, plan.target)
    if isinstance(found, NoBlend):
        note += " " + reason(plan, meats, found, speak)
    else:
        weights = wording.listing(
            [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(found.grams, meats, strict=True)]
        )
        note += f" For that take {weights}."
    return replace(told, headline=f"{note.split('.')[0]}. {told.headline}", notes=(note, *told.notes))


def _band(plan: Plan) -> dict[str, Fraction | None]:
    if plan.target_high is not None and plan.target is not None and plan.target_high > plan.target:
        return {"fat_at_least": plan.target, "fat_at_most": plan.target_high}
    if plan.target_is is Bound.MOST:
        return {"fat_at_most": plan.target}
    if plan.target_is is Bound.LEAST:
        return {"fat_at_least": plan.target}
    return {"fat": plan.target}


def _as_stock(meat: Meat) -> Meat:
    """A weight that is there to be used, up to all of it."""
    if meat.item.weight is None or meat.item.weight_is != "is":
        return meat
    return replace(meat, item=replace(meat.item, weight_is="have"))


def _is_stock(plan: Plan, weighed: Sequence[Meat], meats: Sequence[Meat]) -> bool:
    return len(weighed) == len(meats) and all(meat.item.weight_is == "have" for meat in weighed) and not plan.too


def _kept(cut: Cut, meat: Meat) -> Cut:
    """In "I have 2 kg of boar … how much belly?" the weighed meat all goes in."""
    if meat.item.weight is None or meat.item.weight_is not in ("is", "have", "all"):
        return cut
    whole = grams(meat.item.weight)
    return Cut(cut.name, cut.fat, cut.low, cut.high, at_least=whole, at_most=whole, price=cut.price, wish=cut.wish)


def _heap_against_target(plan: Plan, meats: Sequence[Meat], speak: str) -> Section:
    """All weights are said and a target too: say what it comes to, and what would bring it there."""
    heap = mix(cuts_of(meats, limits=False), [grams(m.item.weight) for m in meats if m.item.weight is not None])
    assert plan.target is not None
    if abs(heap.fat - plan.target) <= Fraction(1, 2):
        return told(plan, meats, heap, speak)
    answer = told(plan, meats, heap, speak)
    helper = engine.largest(
        [
            Cut(c.name, c.fat, c.low, c.high, at_most=grams(m.item.weight))
            for c, m in zip(cuts_of(meats, limits=False), meats, strict=True)
            if m.item.weight is not None
        ],
        plan.target,
    )
    if isinstance(helper, NoBlend):
        note = (
            f"That is {wording.percent(heap.fat)} fat, not {wording.percent(plan.target)}: these cuts cannot reach it."
        )
    else:
        weights = wording.listing(
            [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(helper.grams, meats, strict=True)]
        )
        note = f"For {wording.percent(plan.target)} fat out of these the most is {wording.weight(helper.total, speak)}: {weights}."
    return replace(answer, notes=(note, *answer.notes))


def _extreme(plan: Plan, meats: Sequence[Meat], batch: Fraction, speak: str) -> Section:
    cuts = cuts_of(meats)
    found = engine.leanest(cuts, batch) if plan.wish == "leanest" else engine.fattest(cuts, batch)
    if isinstance(found, NoBlend):
        return no_blend(plan, meats, found, speak)
    return told(plan, meats, found, speak)
