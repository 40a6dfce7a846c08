"""What was said of whole packs: the packs on sale, what is there already, and the batch they are for."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant import units
from assistant.language.phrases import Bound, Measure


class Offer(Struct, frozen=True):
    """A pack on sale, as far as it was said. fat: the label's own figure; price: of the pack, or of `per` of the meat
    in it; most: packs there are.
    """

    cut: str = ""
    keys: tuple[str, ...] = ()
    fat: Fraction | None = None
    size: Measure | None = None
    price: Measure | None = None
    per: Measure | None = None
    most: int | None = None

    @property
    def grams(self) -> Fraction:
        """Grams in the pack; 0 where it was not said."""
        return Fraction(0) if self.size is None else units.grams(self.size.value, self.size.unit)

    @property
    def cost(self) -> Fraction:
        """Money for the pack; 0 where it was not said."""
        if self.price is None:
            return Fraction(0)
        if self.per is None:
            return self.price.value
        return self.price.value * self.grams / units.grams(self.per.value, self.per.unit)


class Packs(Struct, frozen=True):
    """Packs on sale and the batch they are for. have: what is there already, as offers without a price."""

    offers: tuple[Offer, ...] = ()
    batch: Measure | None = None
    fat: Fraction | None = None
    fat_is: Bound = Bound.IS
    have: tuple[Offer, ...] = ()
