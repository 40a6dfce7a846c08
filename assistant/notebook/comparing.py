"""Two saved batches side by side, as data."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import fields

from assistant.notebook.records import Batch, Comparison, FieldChange, Part, PartChange, as_weighed, folded

# Compared cut by cut instead, or about the saving rather than the batch.
_NOT_COMPARED = frozenset({"parts", "id", "name", "version", "saved_at", "request"})


def compare_batches(first: Batch, second: Batch) -> Comparison:
    """Every cut of either batch in the order met, with grams and shares; and every other field that differs. Where it is
    known what was truly weighed, that is compared: it is what was eaten."""
    first, second = as_weighed(first), as_weighed(second)
    ours, theirs = _by_cut(first), _by_cut(second)
    cuts = {key: part.cut for key, part in [*theirs.items(), *ours.items()]}
    order = [*ours, *(key for key in theirs if key not in ours)]
    return Comparison(
        first,
        second,
        tuple(_part_change(cuts[key], ours.get(key), theirs.get(key), first.grams, second.grams) for key in order),
        tuple(
            FieldChange(field.name, (getattr(first, field.name), getattr(second, field.name)))
            for field in fields(Batch)
            if field.name not in _NOT_COMPARED and getattr(first, field.name) != getattr(second, field.name)
        ),
    )


def _by_cut(batch: Batch) -> dict[str, Part]:
    """Parts by cut; a cut that was put in twice is added up, or its second helping would be lost from sight."""
    found: dict[str, Part] = {}
    for part in batch.parts:
        key = folded(part.cut)
        earlier = found.get(key)
        found[key] = part if earlier is None else Part(earlier.cut, earlier.grams + part.grams)
    return found


def _part_change(
    cut: str, ours: Part | None, theirs: Part | None, our_total: Fraction, their_total: Fraction
) -> PartChange:
    return PartChange(
        cut,
        (ours.grams if ours else None, theirs.grams if theirs else None),
        (_share(ours, our_total), _share(theirs, their_total)),
    )


def _share(part: Part | None, total: Fraction) -> Fraction | None:
    return None if part is None or total == 0 else part.grams / total
