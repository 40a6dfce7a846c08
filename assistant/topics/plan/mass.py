"""How much meat the request is about, from whatever was said: a batch, weights, patties, people, a recipe."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.engine import portion
from assistant.language.phrases import Measure
from assistant.topics.plan.request import LOT, Group, PattyWish, Plan
from assistant.topics.plan.section import grams

HEAD_PATTIES = Fraction(3, 2)
"""Patties a head where nobody said: common practice, no source. The range given with it is 1 to 2."""

HEAD_SIZE = {"us": Measure(Fraction(6), "oz"), "metric": Measure(Fraction(150), "g")}
"""Raw weight of a patty where nobody said: common practice, no source."""


class Eaters(Struct, frozen=True):
    """Patties for the people named. assumed: how many each, or the size, was our assumption. occasions: the patties of
    each day or sitting, where several were named."""

    servings: portion.Servings
    people: int
    patties_each: Fraction
    size: Fraction
    assumed_count: bool
    assumed_size: bool
    occasions: Mapping[str, portion.Servings]


def eaters(plan: Plan, system: str, cooked_yield: Fraction | None = None) -> Eaters | None:
    """The patties that the people of a plan eat; None without people, or where the batch sets the size instead."""
    if not plan.groups:
        return None
    wish = plan.patties or PattyWish()
    by_label: dict[str, list[portion.Group]] = {}
    assumed_count = assumed_size = False
    for group in plan.groups:
        each = group.each
        size = group.size or wish.size
        if each is None and plan.appetite is None and (size is not None or plan.seconds is not None or plan.batch):
            # "6 people, 150 g each": one for each of them
            each = Fraction(1)
        if each is None:
            each, assumed_count = plan.appetite or HEAD_PATTIES, True
        each = (each + (plan.seconds or 0)) * (plan.servings or 1)
        if size is None:
            size, assumed_size = HEAD_SIZE[system], True
        raw = grams(size)
        if wish.cooked and cooked_yield:
            raw = raw * 100 / cooked_yield
        by_label.setdefault(group.label, []).append(_group(group, each, raw))
    spare = plan.spare or Fraction(0)
    # each sitting is rounded up by itself, so that what is shown of each adds up to what is shown of all
    occasions = {label: portion.for_people(groups, spare) for label, groups in by_label.items()}
    servings = _with_spare_count(_together(list(occasions.values())), plan.spare_count)
    people = sum(group.count for group in plan.groups if group.sort != LOT)
    first = next(iter(by_label.values()))[0]
    told = occasions if len(occasions) > 1 else {}
    return Eaters(servings, int(people), first.patties, first.grams, assumed_count, assumed_size, told)


def _together(parts: Sequence[portion.Servings]) -> portion.Servings:
    """The patties of several sittings as one list, those of one weight together."""
    found: dict[Fraction, portion.Serving] = {}
    for one in (serving for part in parts for serving in part.servings):
        known = found.get(one.each, portion.Serving(0, 0, one.each))
        found[one.each] = portion.Serving(known.count + one.count, known.spare + one.spare, one.each)
    return portion.Servings(
        tuple(found.values()), sum(part.count for part in parts), sum((part.grams for part in parts), Fraction(0))
    )


def _with_spare_count(found: portion.Servings, spare: Fraction | None) -> portion.Servings:
    """So many patties on top, or left off; they are of the first weight."""
    if not spare:
        return found
    first = found.servings[0]
    more = replace(first, count=first.count + int(spare), spare=first.spare + int(spare))
    return portion.Servings((more, *found.servings[1:]), found.count + int(spare), found.grams + spare * first.each)


def with_spare(count: Fraction, plan: Plan) -> Fraction:
    """Patties to make where `count` are to be eaten: spare percent rounded up to whole ones, then so many spare."""
    return count + math.ceil(count * (plan.spare or Fraction(0)) / 100) + (plan.spare_count or Fraction(0))


def aside(plan: Plan) -> Fraction:
    """Grams of meat that are kept back for something else."""
    return grams(plan.aside) if plan.aside is not None else Fraction(0)


def is_given(plan: Plan) -> bool:
    """Whether the meat is there already, so that what is kept back comes off it and is not added."""
    return plan.batch is not None or weighed(plan) is not None


def all_weighed(plan: Plan) -> bool:
    """Whether every cut has its weight and no fat is wanted: what there is, is what all of them share."""
    return bool(plan.items) and plan.target is None and all(item.weight is not None for item in plan.items)


def on_top(plan: Plan) -> Fraction:
    """Grams kept back that have to be bought as well; nothing where they come off the meat that there is."""
    return Fraction(0) if is_given(plan) else aside(plan)


def _group(group: Group, each: Fraction, raw: Fraction) -> portion.Group:
    return portion.Group(people=int(group.count), patties=each, grams=raw)


def wanted(plan: Plan, system: str) -> Fraction | None:
    """Grams that the batch should weigh, from what was said apart from the weights of single cuts."""
    if plan.batch is not None:
        return grams(plan.batch)
    wish = plan.patties
    if plan.groups and (wish is None or not wish.cooked):
        found = eaters(plan, system)
        return None if found is None else found.servings.grams + on_top(plan)
    if wish is not None and wish.count is not None and wish.size is not None and not wish.cooked:
        return with_spare(wish.count, plan) * grams(wish.size) + on_top(plan)
    return None


def weighed(plan: Plan) -> Fraction | None:
    """The sum of the weights said for single cuts; None where there is none."""
    said = [grams(item.weight) for item in plan.items if item.weight is not None]
    return sum(said, Fraction(0)) if said else None
