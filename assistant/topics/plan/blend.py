"""The blend of a batch: which cut weighs how much, how fat the whole comes out, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.engine import blend as engine
from assistant.engine import portion, scale
from assistant.engine.kinds import Blend, Cut, Demand, Limit, NoBlend, Reason, mix
from assistant.language.phrases import Bound
from assistant.topics.plan import buying, doubt, limits, mass
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Item, Plan
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit

_FATTIEST_ASKED = Fraction(60)


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
    if (plan.equal or shared) and len(meats) > 1:
        total = batch if batch is not None else mass.weighed(plan)
        if total is None:
            total = units.grams(1, "lb" if speak == "us" else "kg")
            return _shares(plan, meats, total, speak, assumed=True)
        return _shares(plan, meats, total, speak)
    if batch is not None and weighed and _one_makes_up_the_rest(meats):
        return _filled_up(plan, meats, batch, speak)
    if len(weighed) == len(meats) and (len(meats) > 1 or "composition" in plan.asks):
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
    shown = _percent_shown(meat.fat, meat.low, meat.high)
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
    parts = [_part(plan, meat.item) for meat in meats]
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
    return _made(plan, meats, weights, speak, assumed=assumed)


def _part(plan: Plan, item: Item) -> Fraction | None:
    if item.parts is not None:
        return item.parts
    if item.share is not None:
        return item.share
    return Fraction(1) if plan.equal else None


def _limited_shares(plan: Plan, meats: Sequence[Meat], total: Fraction, speak: str) -> Section:
    found = engine.nearest(cuts_of(meats), total)
    if isinstance(found, NoBlend):
        return _no_blend(plan, meats, found, speak)
    return _made(plan, meats, found.grams, speak)


def _heap(plan: Plan, meats: Sequence[Meat], speak: str) -> Section:
    return _made(plan, meats, [grams(meat.item.weight) for meat in meats if meat.item.weight is not None], speak)


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
        notes = ("No batch weight was said: worked out for one " + ("pound." if speak == "us" else "kilo."),)
    return told(plan, meats, found, speak, notes=notes)


def _weights_only(plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction], speak: str) -> Section:
    total = sum(weights, Fraction(0))
    unknown = [meat.name for meat in meats if meat.fat is None]
    figures = _components(plan, meats, weights, speak)
    shown = wording.both(total, speak)
    return Section(
        headline=f"{shown} in all: " + wording.listing([f.shown + " " + f.name for f in figures]) + ".",
        figures=(*figures, _total(plan, total, speak)),
        notes=(f"Fat not worked out: tell me which cut the {wording.listing(unknown)} is, or its fat in %.",),
        grams=total,
        touches=frozenset(meat.species for meat in meats),
    )


# ---- with a target


def _one_meat(plan: Plan, meat: Meat, batch: Fraction | None, speak: str) -> Section | None:
    assert plan.target is not None and meat.fat is not None
    if abs(meat.fat - plan.target) <= Fraction(1, 2):
        return None
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
                _no_blend(plan, stock, found, speak) if isinstance(found, NoBlend) else told(plan, stock, found, speak)
            )
        if len(weighed) == len(meats) and all(meat.item.weight_is == "is" for meat in meats):
            return _heap_against_target(plan, meats, speak)
        found = engine.complete([_kept(cut, meat) for cut, meat in zip(cuts, meats, strict=True)], **band)
    elif batch is None:
        found = engine.nearest(cuts, units.grams(1, "lb" if speak == "us" else "kg"), **band)
        if isinstance(found, NoBlend) and found.reason in (Reason.TOO_LEAN, Reason.TOO_FAT):
            return _no_blend(plan, meats, found, speak)
        return Section(asks="weight", message="How much do you want to make in all?")
    elif plan.wish == "cheapest" and any(cut.price is not None for cut in cuts):
        missing = [meat.name for meat in meats if meat.item.price is None]
        if missing:
            return Section(asks="price", message=f"What does the {wording.listing(missing)} cost?")
        found = engine.cheapest(_edible(plan, cuts), batch, **band)
    elif plan.wish == "leanest":
        found = engine.leanest(cuts, batch)
    else:
        found = engine.nearest(cuts, batch, **band)
    if isinstance(found, NoBlend):
        return _no_blend(plan, meats, found, speak)
    return told(plan, meats, found, speak)


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
        note += " " + _reason(plan, meats, found, speak)
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
        return _no_blend(plan, meats, found, speak)
    return told(plan, meats, found, speak)


def cuts_of(meats: Sequence[Meat], *, limits: bool = True) -> list[Cut]:
    """The meats as the engine takes them, with the limits that were said."""
    cuts = []
    wishes = [_wish(meat.item) for meat in meats]
    wished = any(wish is not None for wish in wishes)
    for meat, wish in zip(meats, wishes, strict=True):
        assert meat.fat is not None
        item = meat.item
        extra: dict[str, Fraction | None] = {}
        if limits and item.weight is not None:
            whole = grams(item.weight)
            kind = item.weight_is
            if kind == "have" or kind == Bound.MOST:
                extra["at_most"] = whole
            elif kind == Bound.LEAST:
                extra["at_least"] = whole
            else:
                extra["at_least"] = extra["at_most"] = whole
        if limits and item.share is not None:
            if item.share_is in (Bound.IS, Bound.LEAST, Bound.EXACTLY, Bound.ABOUT):
                extra["share_at_least"] = item.share
            if item.share_is in (Bound.IS, Bound.MOST, Bound.EXACTLY, Bound.ABOUT):
                extra["share_at_most"] = item.share
        cuts.append(
            Cut(
                meat.name,
                meat.fat,
                meat.low,
                meat.high,
                price=_per_gram(item),
                wish=(wish or Fraction(1)) if wished else None,
                **extra,  # type: ignore[arg-type]
            )
        )
    return cuts


def _wish(item: Item) -> Fraction | None:
    return item.parts


def _per_gram(item: Item) -> Fraction | None:
    if item.price is None:
        return None
    if item.price.per is not None:
        return item.price.amount / grams(item.price.per)
    return item.price.amount / grams(item.weight) if item.weight is not None and item.weight.value else None


# ---- telling it


def told(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str, *, notes: tuple[str, ...] = ()) -> Section:
    """A blend as it is told: headline, figures, notes and working."""
    figures = _components(plan, meats, found.grams, speak)
    fixed = plan.batch is None and any(meat.item.weight is None for meat in meats)
    if fixed:
        figures += tuple(
            Figure(
                f"{meat.name} to add",
                Role.ADD,
                in_unit(g, weight_unit(plan, speak, g)),
                weight_unit(plan, speak, g),
                shown=wording.both(g, speak),
            )
            for meat, g in zip(meats, found.grams, strict=True)
            if meat.item.weight is None and any(other.item.weight is not None for other in meats)
        )
    fat = Figure(
        "fat",
        Role.FAT,
        float(found.fat),
        "%",
        None if found.low == found.high else float(found.low),
        None if found.low == found.high else float(found.high),
        shown=_percent_shown(found.fat, found.low, found.high),
    )
    lean = Figure(
        "lean",
        Role.LEAN,
        float(100 - found.fat),
        "%",
        None if found.low == found.high else float(100 - found.high),
        None if found.low == found.high else float(100 - found.low),
        shown=_percent_shown(100 - found.fat, 100 - found.high, 100 - found.low),
    )
    if "percent" in plan.asks and not plan.seasonings:
        figures += _shares_of(meats, found)
    parts = [f"{figure.shown} {figure.name}" for figure in figures if figure.role is Role.COMPONENT and figure.value]
    headline = f"{wording.listing(parts)}: {wording.both(found.total, speak)} at {wording.lean_fat(found.fat)}."
    return Section(
        headline=headline,
        figures=(*figures, _total(plan, found.total, speak), fat, lean, *_left(plan, meats, found, speak)),
        notes=(*_patties_note(plan, found.total, speak), *notes, *_notes(plan, meats, found, speak)),
        working=_working(meats, found, speak),
        grams=found.total,
        fat=found.fat,
        low=found.low,
        high=found.high,
        cost=found.cost,
        touches=frozenset(meat.species for meat in meats),
    )


def _shares_of(meats: Sequence[Meat], found: Blend) -> tuple[Figure, ...]:
    """Each cut's share of the batch, where percents were asked for."""
    return tuple(
        Figure(
            f"{meat.name} share",
            Role.RATIO,
            float(g / found.total * 100),
            "%",
            shown=wording.percent(g / found.total * 100),
        )
        for meat, g in zip(meats, found.grams, strict=True)
    )


def _percent_shown(value: Fraction, low: Fraction, high: Fraction) -> str:
    """A percent with its worst case, where it has one."""
    if low == high:
        return wording.percent(value)
    return f"{wording.percent(value)} ({wording.percent_range(low, high)} at the worst)"


def _patties_note(plan: Plan, total: Fraction, speak: str) -> tuple[str, ...]:
    """How many patties it makes, in the two usual sizes, where none was asked for."""
    if plan.patties is not None or plan.groups or plan.seasonings:
        return ()
    sizes = [units.grams(4, "oz"), units.grams(6, "oz")] if speak == "us" else [Fraction(115), Fraction(170)]
    counts = [portion.count_from(total, size).count for size in sizes]
    if counts[0] == 0:
        return ()
    shown = [
        f"{wording.counted(n, 'patty')} of {wording.weight(g, speak)}" for n, g in zip(counts, sizes, strict=True) if n
    ]
    return (f"Makes {wording.listing(shown, 'or')}.",)


def _components(plan: Plan, meats: Sequence[Meat], weights: Sequence[Fraction], speak: str) -> tuple[Figure, ...]:
    total = sum(weights, Fraction(0))
    unit = weight_unit(plan, speak, total)
    other = "metric" if speak == "us" else "us"
    first, _ = wording.weights(weights, speak)
    second, _ = wording.weights(weights, other)
    return tuple(
        Figure(
            meat.name,
            Role.COMPONENT,
            in_unit(g, unit),
            unit,
            fat_percent=None if meat.fat is None else float(meat.fat),
            source=meat.source or None,
            shown=f"{here} ({there})",
        )
        for meat, g, here, there in zip(meats, weights, first, second, strict=True)
    )


def _total(plan: Plan, total: Fraction, speak: str) -> Figure:
    unit = weight_unit(plan, speak, total)
    return Figure("batch", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak))


def _left(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str) -> tuple[Figure, ...]:
    """What stays in the fridge of a stock that was named."""
    left = []
    for meat, used in zip(meats, found.grams, strict=True):
        if meat.item.weight is None or meat.item.weight_is != "have":
            continue
        rest = grams(meat.item.weight) - used
        if rest > 0:
            unit = weight_unit(plan, speak, rest)
            left.append(
                Figure(f"{meat.name} left", Role.LEFT_OVER, in_unit(rest, unit), unit, shown=wording.both(rest, speak))
            )
    return tuple(left)


def _notes(plan: Plan, meats: Sequence[Meat], found: Blend, speak: str) -> tuple[str, ...]:
    notes = [meat.note for meat in meats if meat.note]
    if plan.target_reversed and plan.target is not None:
        notes.append(
            f"Read as {wording.lean_fat(plan.target)}: {wording.percent(100 - plan.target)} lean, {wording.percent(plan.target)} fat."
        )
    notes.extend(_all_but_one(meats, found))
    if found.high - found.low > 1:
        whole = doubt.spread_of(meats, found.grams)
        if whole is not None and whole.largest is not None:
            low, high = doubt.likely(whole)
            ends = wording.percent_range(found.low, found.high)
            most = "" if (low, high) == (found.low, found.high) else f"{wording.percent_range(low, high)} most likely, "
            notes.append(
                f"Typical figures: the fat is {most}{ends} at the worst, mostly because of the "
                f"{meats[whole.largest].name}. Its label, or weighing the fat you trim off, narrows that."
            )
    if plan.target is None and found.fat > 30:
        notes.append(
            f"{wording.percent(found.fat)} fat is over the 30% that US law allows in ground beef for sale (9 CFR 319.15)."
        )
    notes.extend(limits.that_bind(plan, meats, found, cuts_of(meats), speak))
    if found.tied:
        notes.append("Another mix costs exactly the same.")
    return tuple(notes)


def _all_but_one(meats: Sequence[Meat], found: Blend) -> list[str]:
    gone = [meat.name for meat, g in zip(meats, found.grams, strict=True) if g == 0]
    return [f"No {wording.listing(gone, 'or')} is needed for this."] if gone else []


def _working(meats: Sequence[Meat], found: Blend, speak: str) -> tuple[str, ...]:
    lines = []
    for meat, g in zip(meats, found.grams, strict=True):
        assert meat.fat is not None
        span = "" if meat.low == meat.high else f", as bought {wording.percent_range(meat.low or 0, meat.high or 0)}"
        lines.append(f"{meat.name}: {wording.percent(meat.fat)} fat ({meat.source}{span}).")
        lines.append(f"{wording.weight(g, speak)} of it holds {wording.weight(g * meat.fat / 100, speak)} of fat.")
    lines.append(
        f"Together {wording.weight(found.total * found.fat / 100, speak)} of fat in {wording.weight(found.total, speak)}: "
        f"{wording.percent(found.fat)} (mass balance)."
    )
    if len(meats) == 2 and meats[0].fat != meats[1].fat and None not in (meats[0].fat, meats[1].fat):
        lines.append(_square(meats, found))
    elif len(meats) > 2:
        lines.append(
            "Several mixes would do: this one stays as near as it can to equal shares, or to the parts you asked for."
        )
    return tuple(lines)


def _square(meats: Sequence[Meat], found: Blend) -> str:
    """The Pearson square in a line: each cut's part is the other's distance from the target."""
    one, two = meats[0].fat or Fraction(0), meats[1].fat or Fraction(0)
    return (
        f"Square: {meats[0].name} {wording.percent(abs(two - found.fat))} parts to "
        f"{meats[1].name} {wording.percent(abs(one - found.fat))} parts, the distances from {wording.percent(found.fat)}."
    ).replace("% parts", " parts")


# ---- why there is no blend


def _no_blend(plan: Plan, meats: Sequence[Meat], found: NoBlend, speak: str) -> Section:
    figures: list[Figure] = []
    lines = [_reason(plan, meats, found, speak)]
    if found.largest is not None and found.largest.total > 0 and found.batch is not None:
        lines.append(
            f"The most at that fat is {wording.both(found.largest.total, speak)}: "
            + wording.listing(
                [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(found.largest.grams, meats, strict=True) if g]
            )
            + "."
        )
        unit = weight_unit(plan, speak, found.largest.total)
        figures.append(
            Figure(
                "most that works",
                Role.TOTAL,
                in_unit(found.largest.total, unit),
                unit,
                shown=wording.both(found.largest.total, speak),
            )
        )
    for more in found.more[:2]:
        needed = wording.listing([f"{wording.both(g, speak)} more {meats[i].name}" for i, g in more.grams])
        lines.append(f"Or get {needed}.")
        for index, g in more.grams:
            unit = weight_unit(plan, speak, g)
            figures.append(
                Figure(f"{meats[index].name} more", Role.ADD, in_unit(g, unit), unit, shown=wording.both(g, speak))
            )
    if found.lean_end is not None and found.fat_end is not None:
        nearest = found.nearest
        if nearest is not None:
            lines.append(
                f"Nearest: {wording.percent(nearest.fat)} fat, "
                + wording.listing(
                    [f"{wording.weight(g, speak)} {m.name}" for g, m in zip(nearest.grams, meats, strict=True) if g]
                )
                + "."
            )
            figures.append(
                Figure(
                    "nearest fat",
                    Role.FAT,
                    float(nearest.fat),
                    "%",
                    float(found.lean_end),
                    float(found.fat_end),
                    shown=wording.percent(nearest.fat),
                )
            )
    return Section(
        impossible=True,
        message=" ".join(lines),
        figures=tuple(figures),
        notes=tuple(meat.note for meat in meats if meat.note),
        touches=frozenset(meat.species for meat in meats),
    )


def _reason(plan: Plan, meats: Sequence[Meat], found: NoBlend, speak: str) -> str:
    names = wording.listing([meat.name for meat in meats])
    if found.reason in (Reason.TOO_LEAN, Reason.TOO_FAT) and found.lean_end is not None and found.fat_end is not None:
        want = wording.percent(plan.target or 0)
        ends = f"{wording.number(found.lean_end)} to {wording.percent(found.fat_end)}"
        within = (
            " within the limits given"
            if any(m.item.weight is not None or m.item.share is not None for m in meats)
            else ""
        )
        return f"{want} fat cannot be reached with {names}{within}: they reach {ends} fat."
    if found.reason is Reason.SHARES_CLASH:
        total = sum((m.item.share or Fraction(0) for m in meats), Fraction(0))
        if total > 1:
            said = [f"{wording.percent(m.item.share * 100)} {m.name}" for m in meats if m.item.share]
            return f"{wording.listing(said)} add up to {wording.percent(total * 100)}: those shares are more than the whole."
        return "Those shares cannot make up a whole batch: " + _demands(meats, found.clash, speak) + "."
    if found.reason is Reason.STOCK_SHORT:
        return (
            f"There is not enough meat for {wording.both(found.batch or 0, speak)}: "
            + _demands(meats, found.clash, speak)
            + "."
        )
    if found.reason is Reason.STOCK_UNLIMITED:
        return "With no limit on any cut there is no largest batch: how much do you want, or how much have you got?"
    if found.reason is Reason.MINIMUMS_EXCEED_BATCH:
        return "What must go in weighs more than the batch: " + _demands(meats, found.clash, speak) + "."
    return "These demands collide: " + _demands(meats, found.clash, speak) + "."


def _demands(meats: Sequence[Meat], demands: Sequence[Demand], speak: str) -> str:
    lines = []
    for demand in demands:
        names = wording.listing([meats[index].name for index in demand.cuts])
        if demand.limit in (Limit.AT_LEAST, Limit.AT_MOST, Limit.BATCH):
            value = wording.weight(demand.value, speak)
        elif demand.limit in (Limit.SHARE_AT_LEAST, Limit.SHARE_AT_MOST):
            value = wording.percent(demand.value * 100)
        elif demand.limit is Limit.WHOLE:
            continue
        elif demand.limit is Limit.LEFT_OUT:
            value = "none"
        else:
            value = wording.percent(demand.value)
        lines.append(f"{names} {demand.limit.value} {value}".strip())
    return " against ".join(lines)
