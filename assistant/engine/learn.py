"""Learning what fat a cut really has: by weighing the fat cut off, or by cooking a sample out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from assistant.engine.kinds import HUNDRED, ZERO, above_nothing, all_are, exact
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

KEPT_MARGIN = Fraction(5)
"""Points that the share of fat kept may be off. Our own reading: at one raw fat from 7 to 30 %, the shares that
follow from USDA yields and SR28 for broiling, pan-broiling, crumbles and loaf lie within 7 points of each other."""


def after_trimming(
    fat: Ranged[Fraction], piece: Fraction, cut_off: Fraction, trim_fat: Ranged[Fraction]
) -> Ranged[Fraction]:
    """Fat, percent, of what is left of a piece once visible fat is cut off it.

    fat: of the piece before, percent; piece, cut_off: grams; trim_fat: fat in what is cut off, percent (beef 70.9,
    pork 65.7, lamb 70.6, veal 67.8, USDA SR28: cut-off fat is not pure fat). With s = cut_off / piece:
    (fat - s x trim fat) / (1 - s). The range is the worst case: the low end with the least fat before and the fattest
    trim. An end that would be below no fat at all is None: the figures for that end cannot be true together.
    Raises BadInput, also where the middle figures cannot be true together.
    """
    whole = above_nothing("piece", piece)
    share = exact("cut_off", cut_off) / whole
    if share >= 1:
        raise BadInput("cut_off", cut_off, f"less than the whole piece, {whole} g")

    def left(before: Fraction, trim: Fraction) -> Fraction | None:
        fat_left = exact("fat", before, high=HUNDRED) - share * exact("trim_fat", trim, high=HUNDRED)
        percent = fat_left / (1 - share)
        return percent if 0 <= percent <= HUNDRED else None

    value = left(fat.value, trim_fat.value)
    if value is None:
        most = whole * fat.value / trim_fat.value if trim_fat.value else ZERO
        raise BadInput("cut_off", cut_off, f"no more than {float(most):.0f} g: the piece is said to hold no more fat")
    return Ranged(value, _end(left, fat.low, trim_fat.high), _end(left, fat.high, trim_fat.low))


def from_parting(
    lean: Fraction, fat: Fraction, lean_fat: Ranged[Fraction], trim_fat: Ranged[Fraction]
) -> Ranged[Fraction]:
    """Fat, percent, of a whole cut that was parted into lean and visible fat and weighed.

    lean, fat: grams; lean_fat, trim_fat: fat in each part, percent. Mass balance. Raises BadInput for no meat.
    """
    lean_grams, fat_grams = exact("lean", lean), exact("fat", fat)
    total = above_nothing("lean and fat", lean_grams + fat_grams)

    def whole(in_lean: Fraction, in_fat: Fraction) -> Fraction:
        inside = lean_grams * exact("lean_fat", in_lean, high=HUNDRED)
        return (inside + fat_grams * exact("trim_fat", in_fat, high=HUNDRED)) / total

    value = whole(lean_fat.value, trim_fat.value)
    return Ranged(value, _end(whole, lean_fat.low, trim_fat.low), _end(whole, lean_fat.high, trim_fat.high))


def _end(
    formula: Callable[[Fraction, Fraction], Fraction | None], first: Fraction | None, second: Fraction | None
) -> Fraction | None:
    return None if first is None or second is None else formula(first, second)


class Kept(Struct, frozen=True):
    """One published figure: meat of so much raw fat (percent) keeps so much of its fat (percent) in cooking."""

    raw_fat: Fraction
    percent: Fraction


def kept_between(kept: Sequence[Kept], raw_fat: Fraction) -> Fraction | None:
    """Share of its fat, percent, that meat of `raw_fat` percent keeps, on straight lines between published figures.

    None outside them. Raises BadInput.
    """
    fat = exact("raw_fat", raw_fat, high=HUNDRED)
    points = sorted((above_nothing("raw_fat", k.raw_fat), exact("kept", k.percent)) for k in kept)
    for (below, share), (above, next_share) in pairwise(points):
        if below <= fat <= above:
            return share if below == above else share + (next_share - share) * (fat - below) / (above - below)
    return None


class CookOut(Struct, frozen=True):
    """fat: of the raw meat, percent (an end is None where it lies beyond the published figures). water_lost: percent of
    the raw weight that went as water and steam; about 20 to 25 is usual for a patty (USDA yields less the fat lost)."""

    fat: Ranged[Fraction]
    water_lost: Fraction


def from_cook_out(
    raw: Fraction, cooked: Fraction, rendered: Fraction, kept: Sequence[Kept], margin: Fraction = KEPT_MARGIN
) -> CookOut:
    """Fat of raw ground meat from a sample cooked out.

    raw, cooked: grams before and after; rendered: grams of fat alone that ran out (chilled, lifted off the juices).
    kept: published shares of fat kept for the way it was cooked, at several raw fats; above 100 counts as all of it.
    Fat runs out of fat meat more freely, so the raw fat is sought for which fat x (1 - kept) is what ran out, on
    straight lines between the figures.
    The range is that of shares `margin` points lower and higher. Fat that stayed in the pan is not in `rendered`: the
    true figure is rather above than below. Raises BadInput, also where what ran out lies outside the figures.
    """
    before = above_nothing("raw", raw)
    lost = before - exact("cooked", cooked) - exact("rendered", rendered)
    if lost < 0:
        raise BadInput("cooked and rendered", (cooked, rendered), f"together no more than the {raw} g raw")
    ran_out = rendered * HUNDRED / before
    points = sorted(
        (above_nothing("raw_fat", k.raw_fat), exact("kept", k.percent)) for k in all_are("kept", kept, Kept)
    )
    if len(points) < 2:
        raise BadInput("kept", tuple(kept), "figures at two raw fats or more")
    spread = exact("margin", margin, high=HUNDRED)
    middle = _raw_fats(points, ZERO, ran_out)
    if middle is None:
        covered = [float(before * loss / HUNDRED) for _, loss in _losses(points, ZERO)]
        raise BadInput("rendered", rendered, f"{min(covered):.1f} to {max(covered):.1f} g, which the figures cover")
    least, most = _raw_fats(points, -spread, ran_out), _raw_fats(points, spread, ran_out)
    low, high = (None if least is None else least[0]), (None if most is None else most[1])
    return CookOut(Ranged((middle[0] + middle[1]) / 2, low, high), lost * HUNDRED / before)


def _raw_fats(
    points: Sequence[tuple[Fraction, Fraction]], shift: Fraction, ran_out: Fraction
) -> tuple[Fraction, Fraction] | None:
    """Lowest and highest raw fat that loses `ran_out` percent of the raw weight; None where the figures do not reach.

    Where lean meat loses nothing at all, many fats fit; elsewhere the two are the same.
    """
    fits: list[Fraction] = []
    for (fat, loss), (next_fat, next_loss) in pairwise(_losses(points, shift)):
        if min(loss, next_loss) <= ran_out <= max(loss, next_loss):
            if loss == next_loss:
                fits += [fat, next_fat]
            else:
                fits.append(fat + (next_fat - fat) * (ran_out - loss) / (next_loss - loss))
    return (min(fits), max(fits)) if fits else None


def _losses(points: Sequence[tuple[Fraction, Fraction]], shift: Fraction) -> list[tuple[Fraction, Fraction]]:
    """(raw fat, fat that runs out), both in percent of the raw weight, for (raw fat, share kept).

    shift: points added to every share kept; no meat keeps more than all its fat, or less than none.
    """
    return [(fat, fat * (HUNDRED - min(HUNDRED, max(ZERO, share + shift))) / HUNDRED) for fat, share in points]
