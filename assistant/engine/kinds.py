"""What goes into a blend and what comes out: cuts with limits, blends, and the reasons why there is none."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from fractions import Fraction
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import force_setattr

from assistant.errors import BadInput

Kind = TypeVar("Kind")
ZERO, ONE, HUNDRED = Fraction(0), Fraction(1), Fraction(100)


def exact(argument: str, value: object, low: Fraction = ZERO, high: Fraction | None = None) -> Fraction:
    """The value as a fraction between two ends. Raises BadInput for floats (not exact) and values outside."""
    number = value if type(value) is Fraction else Fraction(value) if type(value) is int else None
    if number is None or _less(number, low) or (high is not None and _less(high, number)):
        raise BadInput(argument, value, f"a whole number or Fraction from {low}{'' if high is None else f' to {high}'}")
    return number


def _less(one: Fraction, other: Fraction) -> bool:
    # in whole numbers: every figure of every cut passes here, and comparing Fractions takes several times as long
    return one.numerator * other.denominator < other.numerator * one.denominator


def above_nothing(argument: str, value: object) -> Fraction:
    """The value as a fraction above 0. Raises BadInput otherwise."""
    number = exact(argument, value)
    if number == 0:
        raise BadInput(argument, value, "more than 0")
    return number


def all_are(argument: str, values: Sequence[Kind], kind: type[Kind]) -> tuple[Kind, ...]:
    """The values, if every one is of that kind. Raises BadInput otherwise."""
    strange = next((value for value in values if not isinstance(value, kind)), None)
    if strange is not None:
        raise BadInput(argument, strange, f"only {kind.__name__} in the list")
    return tuple(values)


class Cut(Struct, frozen=True):
    """One cut of meat (or a pack of trim, or a batch already ground) and what is asked of it.

    fat, low, high: percent; low and high are the range the true fat may lie in (None: taken as the fat itself).
    at_least, at_most: grams of trimmed meat (None: no end to the stock). share_at_least, share_at_most: 0 to 1 of the
    batch. price: money per gram of trimmed meat. wish: weight of the share asked for; None on every cut asks for
    equal shares. Limits that contradict each other are allowed here: they make a NoBlend. Raises BadInput.
    """

    name: str
    fat: Fraction
    low: Fraction | None = None
    high: Fraction | None = None
    at_least: Fraction = ZERO
    at_most: Fraction | None = None
    share_at_least: Fraction = ZERO
    share_at_most: Fraction = ONE
    price: Fraction | None = None
    wish: Fraction | None = None

    def __post_init__(self) -> None:
        fat = exact("fat", self.fat, high=HUNDRED)
        self._keep("fat", fat)
        if self.low is not None:
            self._keep("low", exact("low", self.low, high=fat))
        if self.high is not None:
            self._keep("high", exact("high", self.high, fat, HUNDRED))
        self._keep("at_least", exact("at_least", self.at_least))
        if self.at_most is not None:
            self._keep("at_most", exact("at_most", self.at_most))
        self._keep("share_at_least", exact("share_at_least", self.share_at_least, high=ONE))
        self._keep("share_at_most", exact("share_at_most", self.share_at_most, high=ONE))
        if self.price is not None:
            self._keep("price", exact("price", self.price))
        if self.wish is not None:
            self._keep("wish", above_nothing("wish", self.wish))

    def _keep(self, field: str, value: Fraction) -> None:
        force_setattr(self, field, value)

    @property
    def lowest(self) -> Fraction:
        """Least fat it may have, percent."""
        return self.fat if self.low is None else self.low

    @property
    def highest(self) -> Fraction:
        """Most fat it may have, percent."""
        return self.fat if self.high is None else self.high


class Limit(Enum):
    """Kinds of demand. In brackets: the unit of a Demand's value, and of one step of easing it."""

    AT_LEAST = "at least"  # grams
    AT_MOST = "at most"  # grams
    SHARE_AT_LEAST = "share at least"  # share 0 to 1; eased by one percent point
    SHARE_AT_MOST = "share at most"  # share 0 to 1; eased by one percent point
    LEFT_OUT = "left out"  # nothing of this cut is used, and less than nothing cannot be
    FAT = "fat"  # percent, an exact figure; eased by one point upwards
    FAT_AT_LEAST = "fat at least"  # percent; eased by one point
    FAT_AT_MOST = "fat at most"  # percent; eased by one point
    BATCH = "batch"  # grams
    WHOLE = "whole"  # all shares together: 1


class Binding(Struct, frozen=True):
    """A limit that the blend rests on. cut: index, or None for the fat of the whole blend.

    gain: how much better the thing sought becomes when the limit is eased by one unit (see Limit), as long as the
    same limits stay in force: money saved (cheapest), grams more (largest), fat points further (leanest, fattest).
    For Limit.FAT it is the money saved by one point more fat, negative when one point less would save.
    None where nothing is sought but nearness.
    """

    cut: int | None
    limit: Limit
    gain: Fraction | None = None


class Blend(Struct, frozen=True):
    """A blend. grams: one per cut, in the order given; total: their sum, grams; fat, low, high: percent.

    low and high are the worst case, every cut at the end of its range. cost: money for all, None when a cut that is
    used has no price. tied: another blend is just as cheap (only `cheapest` looks).
    """

    grams: tuple[Fraction, ...]
    total: Fraction
    fat: Fraction
    low: Fraction
    high: Fraction
    cost: Fraction | None
    binding: tuple[Binding, ...] = ()
    tied: bool = False


class Reach(Struct, frozen=True):
    """The ends of what a batch can be."""

    leanest: Blend
    fattest: Blend


class Reason(Enum):
    """Why there is no blend."""

    TOO_LEAN = "too lean"  # the wanted fat is leaner than the leanest blend
    TOO_FAT = "too fat"  # the wanted fat is fatter than the fattest blend
    MINIMUMS_EXCEED_BATCH = "minimums exceed batch"
    STOCK_SHORT = "stock short"  # all that may be used does not fill the batch
    SHARES_CLASH = "shares clash"  # minimum shares over 100 percent, or maximum shares under
    CUT_LIMITS_CLASH = "cut limits clash"  # one cut must weigh more than it may
    STOCK_UNLIMITED = "stock unlimited"  # any batch can be made, so there is no largest


class Demand(Struct, frozen=True):
    """One of the demands that collide: which kind, of which cuts (indices, together), and its value (see Limit)."""

    limit: Limit
    cuts: tuple[int, ...]
    value: Fraction


class More(Struct, frozen=True):
    """One way out by stock: this many grams more of these cuts, as (index, grams), and the batch works."""

    grams: tuple[tuple[int, Fraction], ...]


class NoBlend(Struct, frozen=True):
    """No blend satisfies everything, and what comes nearest.

    batch: grams wanted (None: any). clash: the demands that collide. lean_end, fat_end: percent of fat that the limits
    leave (None when the limits clash without any fat figure). leanest, fattest: the blends there; None where the end
    is only approached by an ever larger batch. nearest: a blend with the fat nearest to the wanted one. largest,
    smallest: the batch nearest in size that has the wanted fat. more: ways out by more stock, each enough by itself.
    """

    reason: Reason
    batch: Fraction | None
    clash: tuple[Demand, ...]
    lean_end: Fraction | None = None
    fat_end: Fraction | None = None
    leanest: Blend | None = None
    fattest: Blend | None = None
    nearest: Blend | None = None
    largest: Blend | None = None
    smallest: Blend | None = None
    more: tuple[More, ...] = ()


def mix(cuts: Sequence[Cut], grams: Sequence[Fraction]) -> Blend:
    """The blend of given weights (grams, one per cut), limits not looked at.

    Mass balance: fat = sum(grams x fat) / sum(grams). Raises BadInput for no cuts, a wrong count, a negative weight
    or no weight at all.
    """
    cuts = all_are("cuts", cuts, Cut)
    if not cuts:
        raise BadInput("cuts", cuts, "at least one cut")
    if len(cuts) != len(grams):
        raise BadInput("grams", len(grams), f"one weight for each of {len(cuts)} cuts")
    weights = tuple(exact("grams", g) for g in grams)
    total = sum(weights, ZERO)
    if total == 0:
        raise BadInput("grams", tuple(grams), "some weight")
    return Blend(
        grams=weights,
        total=total,
        fat=sum((c.fat * g for c, g in zip(cuts, weights, strict=True)), ZERO) / total,
        low=sum((c.lowest * g for c, g in zip(cuts, weights, strict=True)), ZERO) / total,
        high=sum((c.highest * g for c, g in zip(cuts, weights, strict=True)), ZERO) / total,
        cost=_cost(cuts, weights),
    )


def _cost(cuts: Sequence[Cut], weights: Sequence[Fraction]) -> Fraction | None:
    cost = ZERO
    for cut, grams in zip(cuts, weights, strict=True):
        if grams and cut.price is None:
            return None
        cost += grams * (cut.price or ZERO)
    return cost
