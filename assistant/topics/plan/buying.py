"""Losses in both directions: what to buy for so much in the bowl, and what is left of so much bought."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Figure, Role
from assistant.engine import portion
from assistant.topics.plan.request import Loss, Plan
from assistant.topics.plan.section import Section, grams, in_unit, weight_unit

_ORDER = ("grinder", "trim", "bone")
"""Backwards from the bowl: the grinder keeps its share of what trimming and boning left of what was bought."""


def is_buying(plan: Plan) -> bool:
    """Whether losses before cooking were said, or the question is what to buy."""
    return bool(_before_cooking(plan)) or "buy" in plan.asks


def _before_cooking(plan: Plan) -> list[Loss]:
    return [loss for loss in plan.losses if loss.where != "cooking"]


def section(plan: Plan, whole: Fraction, components: Mapping[str, Fraction], speak: str) -> Section | None:
    """The shopping for a batch of so many grams, or what so many grams bought leave; None without losses.

    components: grams of each meat of the blend, by name, for losses that belong to one of them.
    """
    if not _before_cooking(plan):
        return None
    if any(loss.cut for loss in plan.losses) and components:
        return _by_cut(plan, components, speak)
    if is_forward(plan):
        return _left(plan, whole, speak)
    return _either_way(plan, whole, speak) if _is_unsaid(plan) else _to_buy(plan, whole, speak)


def is_forward(plan: Plan) -> bool:
    """Whether the weight that was said is what was bought: a cut's own weight, or "what am I left with"."""
    if "left_with" in plan.asks:
        return True
    if plan.asks & {"usable", "want"}:
        # "need 6 kg clean": what is wanted in the bowl
        return False
    weighed = any(item.weight is not None for item in plan.items)
    return plan.batch is None and weighed and "buy" not in plan.asks


def _is_unsaid(plan: Plan) -> bool:
    """ "15 lb, 12% trim loss" and no more: nobody said whether so much is bought or wanted."""
    return plan.batch is not None and not (plan.items or plan.patties or plan.groups or plan.asks - {"what"})


def _either_way(plan: Plan, said: Fraction, speak: str) -> Section:
    """What is left of so much bought, and what to buy for so much: both, where the line fits either."""
    left, bought = _left(plan, said, speak), _to_buy(plan, said, speak)
    if left.impossible:
        return bought
    return replace(
        left,
        headline=f"{left.figures[0].shown} left where {wording.both(said, speak)} is what you bought; "
        f"buy {bought.figures[0].shown} where you need so much to use.",
        figures=(*left.figures, *bought.figures),
        grams=None,
        working=(*left.working, *bought.working),
    )


def shaped_from(plan: Plan, whole: Fraction | None) -> Fraction | None:
    """Grams that are there to shape, out of so many that were said: what was bought loses bone and trim first."""
    if whole is None or not _before_cooking(plan) or "buy" in plan.asks:
        return whole
    if any(loss.cut for loss in plan.losses) or sum((kept for _, kept in _stages(plan, "")), Fraction(0)) >= whole:
        return whole
    return usable_grams(plan, whole)


def is_topping_up(plan: Plan) -> bool:
    """ "have 3 kg, need 55 burgers at 150 g, how much more to buy": what is there is only the beginning."""
    return bool(plan.asks & {"buy", "bigger"}) and plan.batch is not None


def more(plan: Plan, there: Fraction, need: Fraction, speak: str) -> Section:
    """What to buy on top of what is there."""
    short = need - there
    bought = buy_grams(plan, short)
    unit = weight_unit(plan, speak, bought)
    return Section(
        headline=f"Buy {wording.both(bought, speak)} more: it takes {wording.both(need, speak)} "
        f"and there is {wording.both(there, speak)}.",
        figures=(
            Figure("buy", Role.PURCHASE, in_unit(bought, unit), unit, shown=wording.both(bought, speak)),
            Figure("meat needed", Role.TOTAL, in_unit(need, unit), unit, shown=wording.both(need, speak)),
        ),
        working=(f"{wording.both(need, speak)} less {wording.both(there, speak)}.",),
    )


def told_as_two(plan: Plan, speak: str) -> Section:
    """ "bought 14 kg, trimmed it to 11.9 kg": what was lost, and the share that is left."""
    assert plan.pair is not None
    before, after = (grams(measure) for measure in plan.pair)
    lost, kept = 100 - after / before * 100, after / before * 100
    unit = plan.pair[0].unit
    return Section(
        headline=f"{wording.percent(lost)} lost: {wording.both(after, speak)} of {wording.both(before, speak)} is left, "
        f"{wording.percent(kept)}.",
        figures=(
            Figure("lost", Role.RATIO, float(lost), "%", shown=wording.percent(lost)),
            Figure("usable share", Role.YIELD, float(kept), "%", shown=wording.percent(kept)),
            Figure(
                "weight lost",
                Role.LEFT_OVER,
                in_unit(before - after, unit),
                unit,
                shown=wording.both(before - after, speak),
            ),
        ),
        working=(
            f"{wording.both(before, speak)} less {wording.both(after, speak)}, over {wording.both(before, speak)}.",
        ),
    )


def _to_buy(plan: Plan, usable: Fraction, speak: str) -> Section:
    buy = purchase(plan, usable, speak)
    return Section(
        headline=f"Buy {buy[0].shown} for {wording.both(usable, speak)} to use.",
        figures=buy,
        working=("Losses divide: what you need over what is left of each pound or kilo.",),
    )


def purchase(plan: Plan, usable: Fraction, speak: str, name: str = "buy", cut: str = "") -> tuple[Figure, ...]:
    """What to buy for so many grams in the bowl, as a figure."""
    need = buy_grams(plan, usable, cut)
    unit = weight_unit(plan, speak, need) if plan.batch or plan.items else ("lb" if speak == "us" else "kg")
    return (Figure(name, Role.PURCHASE, in_unit(need, unit), unit, shown=wording.both(need, speak)),)


def buy_grams(plan: Plan, usable: Fraction, cut: str = "", *, percents_only: bool = False) -> Fraction:
    """Grams to buy for so many usable grams, from the losses said of everything and of that cut.

    Percentages divide, one after the other; a weight that stays behind adds (unless percents_only: for one gram more
    it plays no part). Raises BadInput for 100 % or more.
    """
    need = usable
    for percent, kept in _stages(plan, cut):
        need = portion.purchase(need, percent) + (Fraction(0) if percents_only else kept)
    return need


def usable_grams(plan: Plan, bought: Fraction) -> Fraction:
    """Grams left of so many bought, the inverse of `buy_grams`. Raises BadInput where nothing would be left."""
    left = bought
    for percent, kept in reversed(_stages(plan, "")):
        left = portion.usable_from(left, percent, kept)
    return left


def _stages(plan: Plan, cut: str) -> list[tuple[Fraction, Fraction]]:
    """(percent lost, grams kept back) of each loss, from the bowl back to the butcher's."""
    losses = [loss for loss in _before_cooking(plan) if loss.cut in ("", cut)]
    stages = []
    for where in (*_ORDER, "trimmed"):
        for loss in losses:
            if loss.where == where:
                percent = loss.amount.unit == "percent"
                stages.append((loss.amount.value, Fraction(0)) if percent else (Fraction(0), grams(loss.amount)))
    return stages


def _left(plan: Plan, bought: Fraction, speak: str) -> Section:
    try_kept = sum((kept for _, kept in _stages(plan, "")), Fraction(0))
    if try_kept >= bought:
        return Section(
            impossible=True,
            message=f"{wording.both(try_kept, speak)} cannot come off {wording.both(bought, speak)} and leave any: "
            "is one of the two weights a slip?",
        )
    left = usable_grams(plan, bought)
    lost = 100 - left / bought * 100
    unit = weight_unit(plan, speak, left)
    return Section(
        headline=f"{wording.both(left, speak)} left of {wording.both(bought, speak)}: {wording.percent(lost)} lost.",
        figures=(
            Figure("left to use", Role.TOTAL, in_unit(left, unit), unit, shown=wording.both(left, speak)),
            Figure("lost", Role.RATIO, float(lost), "%", shown=wording.percent(lost)),
            Figure("usable share", Role.YIELD, float(100 - lost), "%", shown=wording.percent(100 - lost)),
        ),
        grams=left,
        working=(
            f"{wording.both(bought, speak)} less {wording.both(bought - left, speak)} lost is "
            f"{wording.both(left, speak)}.",
        ),
    )


def _by_cut(plan: Plan, components: Mapping[str, Fraction], speak: str) -> Section:
    """What to buy of each meat of a blend, each with the losses said of it."""
    figures: tuple[Figure, ...] = ()
    for name, usable in components.items():
        if not usable:
            continue
        figures += purchase(plan, usable, speak, name, name)
    shown = wording.listing([f"{figure.shown} {figure.name}" for figure in figures])
    losing = wording.listing(sorted({loss.cut for loss in plan.losses if loss.cut}))
    return Section(
        headline=f"Buy {shown}.",
        figures=figures,
        notes=(f"The fat of the {losing} is taken as that of what is left after trimming.",),
        working=("Losses divide: what goes into the bowl over what is left of each pound or kilo.",),
    )
