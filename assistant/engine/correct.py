"""Putting a batch right: what to add, or take out and replace, to reach a fat; what adding meat does to the salt.

One addition: grams = mass x (target - fat) / (fat of the addition - target), by mass balance. Several additions are a
blend in which the batch is one of the cuts, so they come from the same exact solver.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.engine.blend import Blend, Cut, NoBlend, cheapest, complete
from assistant.engine.kinds import HUNDRED, ZERO, above_nothing, all_are, exact


class Correction(Struct, frozen=True):
    """How to put a batch right.

    take_out: grams of the batch to set aside; add: grams of each addition, in the order given; blend: the corrected
    batch, whose first cut is what is kept of the old one.
    """

    take_out: Fraction
    add: tuple[Fraction, ...]
    blend: Blend


def add_to_reach(mass: Fraction, fat: Fraction, additions: Sequence[Cut], target: Fraction) -> Correction | NoBlend:
    """The smallest addition, from one or several cuts within their limits, that brings the whole batch to `target`.

    One addition: grams = mass x (target - fat) / (its fat - target). Of additions of the same weight, the one nearest to
    the cuts' wishes. In a NoBlend the batch is cut 0 and the additions follow. Raises BadInput.
    """
    weight, aim = above_nothing("mass", mass), exact("target", target, high=HUNDRED)
    others = all_are("additions", additions, Cut)
    batch = Cut("batch", fat, at_least=weight, at_most=weight, wish=_batch_wish(others))
    found = complete([batch, *others], aim)
    return found if isinstance(found, NoBlend) else Correction(ZERO, found.grams[1:], found)


def swap_to_reach(mass: Fraction, fat: Fraction, replacements: Sequence[Cut], target: Fraction) -> Correction | NoBlend:
    """What to take out of `mass` grams and replace, from one or several cuts within their limits, to reach `target`.

    The weight stays, and as little is taken out as can be; with one cut grams = mass x (target - fat) / (its fat - fat).
    In a NoBlend the batch is cut 0. Raises BadInput.
    """
    weight, aim = above_nothing("mass", mass), exact("target", target, high=HUNDRED)
    # Every gram put in counts one, every gram kept nothing: the cheapest blend keeps the most.
    others = [replace(cut, price=Fraction(1)) for cut in all_are("replacements", replacements, Cut)]
    batch = Cut("batch", fat, at_most=weight, price=ZERO, wish=_batch_wish(others))
    found = cheapest([batch, *others], weight, aim)
    if isinstance(found, NoBlend):
        return found
    return Correction(weight - found.grams[0], found.grams[1:], replace(found, cost=None, binding=()))


def _batch_wish(others: Sequence[Cut]) -> Fraction | None:
    """The batch's own weight is settled, but a blend wants a wish for every cut or for none."""
    return Fraction(1) if any(c.wish is not None for c in others) else None


def salt_after(mass: Fraction, salt_percent: Fraction, added: Fraction) -> Fraction:
    """Percent of salt after `added` grams of unsalted meat go into `mass` grams: salt x mass / (mass + added).

    Raises BadInput.
    """
    weight, salt = above_nothing("mass", mass), exact("salt_percent", salt_percent, high=HUNDRED)
    return salt * weight / (weight + exact("added", added))
