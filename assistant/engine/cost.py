"""What meat costs: as bought, as usable, in a blend, on a plate, and against the shop.

A price is money per gram and stays exact; `per_gram` and `price_for` go from and to the pound or kilogram. Which
currency it is plays no part: amounts of one currency go in, the same comes out.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from assistant.engine.kinds import HUNDRED, ZERO, above_nothing, all_are, exact
from assistant.errors import BadInput


def per_gram(price: Fraction, grams: Fraction) -> Fraction:
    """Money per gram, from money for so many grams (453.59237 for a price a pound). Raises BadInput."""
    return exact("price", price) / above_nothing("grams", grams)


def price_for(price: Fraction, grams: Fraction) -> Fraction:
    """Money for so many grams at a price per gram: a pound, a kilogram, a patty, a guest's share. Raises BadInput."""
    return exact("price", price) * exact("grams", grams)


# ------------------------------------------------------------------------------------------------ usable meat


def usable_percent(bought: Fraction, usable: Fraction) -> Fraction:
    """Usable weight as percent of the weight bought, both in grams. Raises BadInput where it is more."""
    whole = above_nothing("bought", bought)
    return exact("usable", usable, high=whole) * HUNDRED / whole


def usable_price(price: Fraction, percent: Fraction) -> Fraction:
    """Price of the usable part, where so many percent of what is bought can be used: price x 100 / percent.

    Both prices are for the same weight. Raises BadInput.
    """
    return exact("price", price) * HUNDRED / _usable_share(percent)


class ByProduct(Struct, frozen=True):
    """Trim or bone that is worth something: grams, and its worth per gram."""

    grams: Fraction
    price: Fraction


class CuttingTest(Struct, frozen=True):
    """What a piece came to. paid: for the piece; worth: paid less what the by-products are worth; price: worth per
    usable gram; factor: that price as a multiple of the price paid per gram."""

    paid: Fraction
    worth: Fraction
    price: Fraction
    factor: Fraction


def cutting_test(
    bought: Fraction, price: Fraction, usable: Fraction, by_products: Sequence[ByProduct] = ()
) -> CuttingTest:
    """A piece weighed before and after cutting it up. bought, usable: grams; price: per gram bought.

    Usable price = (paid - worth of by-products) / usable weight. Raises BadInput where the parts weigh more than the
    piece or the by-products are worth more than was paid.
    """
    paid = price_for(above_nothing("price", price), above_nothing("bought", bought))
    by_products = all_are("by_products", by_products, ByProduct)
    parts = above_nothing("usable", usable) + sum((exact("grams", part.grams) for part in by_products), ZERO)
    if parts > bought:
        raise BadInput("usable", usable, f"no more than the {bought} g bought, by-products included")
    given_back = sum((price_for(part.price, part.grams) for part in by_products), ZERO)
    if given_back > paid:
        raise BadInput("by_products", tuple(by_products), f"a worth of no more than the {paid} paid")
    worth = paid - given_back
    return CuttingTest(paid, worth, worth / usable, worth / usable / price)


# ------------------------------------------------------------------------------------------------ blends


class Bought(Struct, frozen=True):
    """One cut in a blend: grams in the bowl, price per gram as bought, percent of what was bought that is usable."""

    grams: Fraction
    price: Fraction
    usable_percent: Fraction = HUNDRED


class BlendCost(Struct, frozen=True):
    """Money for the whole blend, money for each cut in the order given, and money per gram of blend."""

    total: Fraction
    parts: tuple[Fraction, ...]
    price: Fraction


def blend_cost(cuts: Sequence[Bought]) -> BlendCost:
    """sum(grams x price / usable share), and that over sum(grams). Raises BadInput for no meat at all."""
    cuts = all_are("cuts", cuts, Bought)
    parts = tuple(price_for(usable_price(cut.price, cut.usable_percent), cut.grams) for cut in cuts)
    grams = sum((cut.grams for cut in cuts), ZERO)
    if not grams:
        raise BadInput("cuts", tuple(cuts), "some meat")
    total = sum(parts, ZERO)
    return BlendCost(total, parts, total / grams)


def shared(total: Fraction, count: int) -> Fraction:
    """Money for each of so many patties or guests. Raises BadInput."""
    if isinstance(count, bool) or not isinstance(count, int) or count < 1:
        raise BadInput("count", count, "a whole number from 1")
    return exact("total", total) / count


# ------------------------------------------------------------------------------------------------ own or shop


def lean_price(price: Fraction, fat: Fraction) -> Fraction:
    """Price of the lean alone, the fat taken as worth nothing: price / (1 - fat / 100). Raises BadInput for all fat."""
    return exact("price", price) * HUNDRED / _lean(fat)


class Comparison(Struct, frozen=True):
    """Own grind against the shop's, prices for the same weight as went in.

    saving: shop less own, below zero where own is dearer; saving_percent: of the shop's price. own_lean, shop_lean:
    price of the lean in each. lean_saving_percent: the same saving, lean for lean. break_even: what the own grind may
    cost, for its fat, to be as dear as the shop's lean for lean.
    """

    saving: Fraction
    saving_percent: Fraction
    own_lean: Fraction
    shop_lean: Fraction
    lean_saving_percent: Fraction
    break_even: Fraction


def compare(own: Fraction, own_fat: Fraction, shop: Fraction, shop_fat: Fraction) -> Comparison:
    """Own grind against ground meat from the shop. Prices for one weight, fat in percent. Raises BadInput."""
    own_price, shop_price = exact("own", own), above_nothing("shop", shop)
    own_share, shop_share = _lean(own_fat, "own_fat"), _lean(shop_fat, "shop_fat")
    own_lean, shop_lean = own_price * HUNDRED / own_share, shop_price * HUNDRED / shop_share
    return Comparison(
        saving=shop_price - own_price,
        saving_percent=(shop_price - own_price) * HUNDRED / shop_price,
        own_lean=own_lean,
        shop_lean=shop_lean,
        lean_saving_percent=(shop_lean - own_lean) * HUNDRED / shop_lean,
        break_even=shop_lean * own_share / HUNDRED,
    )


def break_even_price(
    wanted: Fraction, others: Sequence[Bought], grams: Fraction, percent: Fraction = HUNDRED
) -> Fraction:
    """What one cut may cost per gram as bought, so that the blend comes to `wanted` per gram.

    others: the rest of the blend; grams: of the cut asked about; percent: usable of it. Below zero where the others
    alone are already too dear. Raises BadInput.
    """
    weight = above_nothing("grams", grams)
    others = all_are("others", others, Bought)
    rest = sum((price_for(usable_price(cut.price, cut.usable_percent), cut.grams) for cut in others), ZERO)
    whole = weight + sum((cut.grams for cut in others), ZERO)
    return (exact("wanted", wanted) * whole - rest) / weight * _usable_share(percent) / HUNDRED


def pays_off_after(spent: Fraction, saving: Fraction) -> Fraction | None:
    """Grams to grind before a grinder has paid for itself: spent / saving per gram. None where nothing is saved.

    saving may be below zero. Raises BadInput.
    """
    if not isinstance(saving, int | Fraction):
        raise BadInput("saving", saving, "a whole number or Fraction")
    return exact("spent", spent) / saving if saving > 0 else None


# ------------------------------------------------------------------------------------------------ budget


def mass_for_budget(budget: Fraction, price: Fraction) -> Fraction:
    """Grams that a sum of money buys at a price per gram. Raises BadInput where it costs nothing."""
    return exact("budget", budget) / above_nothing("price", price)


class Affordable(Struct, frozen=True):
    """How many can be paid for, and the money left (less than one more costs)."""

    count: int
    left: Fraction


def count_for_budget(budget: Fraction, each: Fraction) -> Affordable:
    """How many patties at so much each a sum of money pays for. Raises BadInput where they cost nothing."""
    count, left = divmod(exact("budget", budget), above_nothing("each", each))
    return Affordable(count, left)


# ------------------------------------------------------------------------------------------------ checks


def _usable_share(percent: Fraction) -> Fraction:
    share = exact("percent", percent, high=HUNDRED)
    if not share:
        raise BadInput("percent", percent, "more than 0")
    return share


def _lean(fat: Fraction, argument: str = "fat") -> Fraction:
    lean = HUNDRED - exact(argument, fat, high=HUNDRED)
    if not lean:
        raise BadInput(argument, fat, "less than 100")
    return lean
