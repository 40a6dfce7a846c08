"""The meats of a batch as the engine takes them: fat, limits, price and wish."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant.engine.kinds import Cut
from assistant.language.phrases import Bound
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Item
from assistant.topics.plan.section import grams


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
