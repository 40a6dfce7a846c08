"""Checks of what comes into the notebook, and the small changes to a batch that need them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook.records import Batch, folded


def at_least_one(argument: str, value: int) -> int:
    """The value. Raises BadInput below 1."""
    if value < 1:
        raise BadInput(argument, value, "1 or more")
    return value


def check_rating(rating: Fraction, top: int) -> None:
    """Raises BadInput for a rating outside its scale."""
    if top < 1:
        raise BadInput("top", top, "1 or more")
    if not 0 <= rating <= top:
        raise BadInput("rating", rating, f"0 to {top}")


def check_batch(batch: Batch) -> None:
    """Raises BadInput for a rating out of its scale or a time without an offset."""
    if batch.rating is not None:
        check_rating(batch.rating, batch.rating_top)
    if batch.saved_at is not None and batch.saved_at.tzinfo is None:
        raise BadInput("saved_at", batch.saved_at, "a time with its offset from UTC")


def with_tags(tags: tuple[str, ...], more: Iterable[str]) -> tuple[str, ...]:
    """The tags and some more, each once whatever its case."""
    kept: dict[str, str] = {}
    for tag in (*tags, *more):
        kept.setdefault(folded(tag), tag)
    return tuple(kept.values())


def without_tag(tags: tuple[str, ...], tag: str) -> tuple[str, ...]:
    """The tags without one. Raises BadInput where it is not among them."""
    left = tuple(kept for kept in tags if folded(kept) != folded(tag))
    if left == tags:
        raise BadInput("tag", tag, f"one of {', '.join(tags)}" if tags else "a batch that has tags")
    return left


def with_weights(batch: Batch, actual: Mapping[str, Fraction]) -> Batch:
    """The batch with what was truly weighed, in grams by cut or seasoning. Raises BadInput for what is not in it."""
    weights = {folded(name): grams for name, grams in actual.items()}
    there = [part.cut for part in batch.parts] + [item.name for item in batch.seasonings]
    for name, grams in actual.items():
        if grams < 0:
            raise BadInput("actual", grams, "0 g or more")
        if folded(name) not in map(folded, there):
            raise BadInput("actual", name, f"one of {', '.join(there)}")
    parts = (replace(part, weighed=weights.get(folded(part.cut), part.weighed)) for part in batch.parts)
    seasonings = (replace(item, weighed=weights.get(folded(item.name), item.weighed)) for item in batch.seasonings)
    return replace(batch, parts=tuple(parts), seasonings=tuple(seasonings))
