"""Seasoning by weight: percent of the meat or of the finished batch, rates, written mixes, and the spoons for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from fractions import Fraction
from math import lcm
from typing import Final

from msgspec import Struct

from assistant.engine.kinds import HUNDRED, ZERO, above_nothing, exact
from assistant.errors import BadInput

SALT_PER_SODIUM: Final = Fraction("2.542")
"""Grams of salt that hold one gram of sodium: molar masses, NaCl 58.443 over Na 22.990."""

SALTY_ABOVE: Final = Fraction("2.5")
"""Percent of salt above which ground meat is unusually salty. Common practice, no source: burgers get about 1,
fresh sausage 1.5 to 2."""

US_TEASPOON_ML: Final = Fraction("4.92892159375")
US_TABLESPOON_ML: Final = 3 * US_TEASPOON_ML
"""The spoons that published spoon weights are for (NIST Handbook 44 Appendix C)."""


# ------------------------------------------------------------------------------------------------ by weight


def of_meat(meat: Fraction, percent: Fraction) -> Fraction:
    """Grams of a seasoning that is `percent` of the meat's weight (grams): meat x percent / 100. Raises BadInput."""
    return exact("meat", meat) * exact("percent", percent) / HUNDRED


def percent_of_meat(grams: Fraction, meat: Fraction) -> Fraction:
    """A seasoning (grams) as percent of the meat (grams). Raises BadInput where there is no meat."""
    return exact("grams", grams) * HUNDRED / above_nothing("meat", meat)


def of_finished(meat: Fraction, percents: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """Grams of each seasoning, so that each is its percent of meat and seasonings together.

    meat: grams. With all of them going in, finished = meat / (1 - sum of percents / 100), and each is its percent of
    that. Raises BadInput where the percents leave no room for meat.
    """
    shares = [exact("percents", percent, high=HUNDRED) for percent in percents]
    left_for_meat = HUNDRED - sum(shares, ZERO)
    if left_for_meat <= 0:
        raise BadInput("percents", tuple(percents), "less than 100 together")
    finished = exact("meat", meat) * HUNDRED / left_for_meat
    return tuple(finished * share / HUNDRED for share in shares)


def percent_of_finished(grams: Sequence[Fraction], meat: Fraction) -> tuple[Fraction, ...]:
    """Seasonings (grams) as percent of meat and seasonings together. Raises BadInput where there is no meat."""
    weights = [exact("grams", weight) for weight in grams]
    finished = above_nothing("meat", meat) + sum(weights, ZERO)
    return tuple(weight * HUNDRED / finished for weight in weights)


def by_rate(meat: Fraction, amount: Fraction, per: Fraction) -> Fraction:
    """What "so much to every so much meat" comes to: meat x amount / per.

    meat, per: grams of meat (per: 453.59237 for "a pound"). amount: of anything, spoons or grams; the result is in the
    same. Raises BadInput.
    """
    return exact("meat", meat) * exact("amount", amount) / above_nothing("per", per)


def scale_mix(amounts: Sequence[Fraction], written_for: Fraction, wanted_for: Fraction) -> tuple[Fraction, ...]:
    """A written mix for another batch: every amount x wanted_for / written_for.

    amounts: each in its own unit, kept. written_for, wanted_for: grams of meat. Raises BadInput.
    """
    factor = exact("wanted_for", wanted_for) / above_nothing("written_for", written_for)
    return tuple(exact("amounts", amount) * factor for amount in amounts)


# ------------------------------------------------------------------------------------------------ salt


class Saltiness(Enum):
    """Salt in the finished meat against what is usual."""

    USUAL = "usual"
    UNUSUALLY_SALTY = "unusually salty"


def judge_salt(percent: Fraction) -> Saltiness:
    """Whether so much salt (percent of the weight) is unusual; see SALTY_ABOVE. Raises BadInput."""
    salty = exact("percent", percent, high=HUNDRED) > SALTY_ABOVE
    return Saltiness.UNUSUALLY_SALTY if salty else Saltiness.USUAL


def salt_from_sodium(grams: Fraction, sodium: Fraction) -> Fraction:
    """Grams of salt in so many grams of something with `sodium` mg of sodium in 100 g: sodium x 2.542.

    All sodium is counted as salt, so plain raw meat shows its natural 0.1 to 0.2 percent. Raises BadInput where sodium
    is more than pure sodium would be.
    """
    most = HUNDRED * 1000
    return exact("grams", grams) * exact("sodium", sodium, high=most) / most * SALT_PER_SODIUM


def salt_to_add(meat: Fraction, percent: Fraction, already: Fraction = ZERO) -> Fraction:
    """Grams of salt still to add for `percent` of the meat's weight, with `already` grams of salt in it.

    Below zero where there is too much salt already, by that many grams: it cannot be taken out, only thinned.
    Raises BadInput.
    """
    return of_meat(meat, percent) - exact("already", already)


# ------------------------------------------------------------------------------------------------ spoons


class SpoonSet(Struct, frozen=True):
    """The spoons of one country, in millilitres of water; all have halves, quarters, eighths and a pinch (1/16)."""

    teaspoon: Fraction
    tablespoon: Fraction


SPOON_SETS: Final = {
    "us": SpoonSet(US_TEASPOON_ML, US_TABLESPOON_ML),
    "metric": SpoonSet(Fraction(5), Fraction(15)),
    "au": SpoonSet(Fraction(5), Fraction(20)),
}
"""US: NIST Handbook 44 Appendix C. Metric: Canada, New Zealand, United Kingdom. Australia: a tablespoon of 20 mL.
The small spoons and the pinch as a sixteenth of a teaspoon: common practice, no source."""

PINCHES: Final = 16
"""In a teaspoon."""


class Spoonfuls(Struct, frozen=True):
    """Spoons to fill: (amount, "tbsp" | "tsp" | "pinch"), biggest first; empty where even a pinch is too much.

    grams: what they hold. error: percent by which that misses the weight wanted, above zero for too much.
    """

    measures: tuple[tuple[Fraction, str], ...]
    grams: Fraction
    error: Fraction


def spoons_weigh(
    amount: Fraction, unit: str, teaspoon: Fraction, tablespoon: Fraction | None = None, spoon_set: str = "us"
) -> Fraction:
    """Grams in so many spoons. unit: "tsp", "tbsp" or "pinch"; the rest as for `spoonfuls`. Raises BadInput."""
    small, big = _spoon_grams(teaspoon, tablespoon, spoon_set)
    weights = {"tsp": small, "tbsp": big, "pinch": small / PINCHES}
    if unit not in weights:
        raise BadInput("unit", unit, "one of " + ", ".join(weights))
    return exact("amount", amount) * weights[unit]


def spoonfuls(
    grams: Fraction,
    teaspoon: Fraction,
    tablespoon: Fraction | None = None,
    spoon_set: str = "us",
    within: Fraction = Fraction(2),
) -> Spoonfuls:
    """The spoons that come to so many grams.

    teaspoon, tablespoon: grams in the level US spoon, as tables publish them (None: three teaspoons); they are
    converted by volume for other spoons. spoon_set: "us", "metric" or "au". within: percent; of the combinations that
    miss by no more than this the one with the fewest spoonfuls is taken, and where there is none, the nearest.
    Raises BadInput.
    """
    wanted = above_nothing("grams", grams)
    tolerance = exact("within", within)
    full, big = _spoon_grams(teaspoon, tablespoon, spoon_set)
    small = full / PINCHES
    spoons = SPOON_SETS[spoon_set]
    pinches_in_tablespoon = int(spoons.tablespoon / spoons.teaspoon) * PINCHES

    # some sixty choices are held against each other: in whole numbers of one unit, which takes a tenth of the time
    unit = lcm(wanted.denominator, big.denominator, small.denominator, (wanted * tolerance).denominator)
    whole, a_big, a_small, slack = (int(weight * unit) for weight in (wanted, big, small, wanted * tolerance))

    def rank(choice: tuple[int, int]) -> tuple[bool, int, int]:
        miss = abs(choice[0] * a_big + choice[1] * a_small - whole)
        many = _spoons_filled(*choice)
        return (False, many, miss) if miss * 100 <= slack else (True, miss, many)

    tablespoons, pinches = min(_choices(wanted, big, pinches_in_tablespoon), key=rank)
    held = tablespoons * big + pinches * small
    return Spoonfuls(_measures(tablespoons, pinches), held, (held - wanted) * HUNDRED / wanted)


def _spoon_grams(teaspoon: Fraction, tablespoon: Fraction | None, spoon_set: str) -> tuple[Fraction, Fraction]:
    """Grams in the teaspoon and the tablespoon of a set, from those in the US spoons."""
    if spoon_set not in SPOON_SETS:
        raise BadInput("spoon_set", spoon_set, "one of " + ", ".join(SPOON_SETS))
    spoons = SPOON_SETS[spoon_set]
    small = above_nothing("teaspoon", teaspoon)
    big = 3 * small if tablespoon is None else above_nothing("tablespoon", tablespoon)
    return small * spoons.teaspoon / US_TEASPOON_ML, big * spoons.tablespoon / US_TABLESPOON_ML


def _choices(wanted: Fraction, tablespoon: Fraction, pinches_in_tablespoon: int) -> Iterator[tuple[int, int]]:
    """(tablespoons, pinches) worth weighing up: the full tablespoons with every lot of small spoons, or one more."""
    full = int(wanted / tablespoon)
    yield from ((full, pinches) for pinches in range(pinches_in_tablespoon))
    yield full + 1, 0


def _measures(tablespoons: int, pinches: int) -> tuple[tuple[Fraction, str], ...]:
    eighths, odd_pinch = divmod(pinches, 2)
    measures = ((Fraction(tablespoons), "tbsp"), (Fraction(eighths, 8), "tsp"), (Fraction(odd_pinch), "pinch"))
    return tuple((amount, unit) for amount, unit in measures if amount)


def _spoons_filled(tablespoons: int, pinches: int) -> int:
    """How often a spoon is filled: whole teaspoons one by one, then a half, a quarter, an eighth and a pinch."""
    teaspoons, rest = divmod(pinches, PINCHES)
    return tablespoons + teaspoons + rest.bit_count()
