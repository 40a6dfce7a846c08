"""From a batch to patties and back: how many, how heavy, how wide, how much to buy, for how many people."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant.engine.kinds import HUNDRED, ZERO, above_nothing, all_are, exact
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

SIZE_BAND: Final = 0.05
"""Share by which a computed size may be off for packed meat; loosely shaped patties hold air and come out thicker.
Measured densities of 23.8 % fat beef, 1.006 to 1.033 g/mL (Pan and Singh 2001), lie well inside."""

SHRINK, LEAST_SHRINK, MOST_SHRINK = Fraction(20), Fraction(15), Fraction(25)
"""Percent that a patty draws in across while it cooks, one band for every blend. Common practice, no source; measured
pork patties of 10 to 25 % fat lost 21 to 23 % (Food Science of Animal Resources 36(4), table 2)."""

FATTEST_FOR_DENSITY: Final = Fraction(50)
"""Percent. Beyond it the composition line below leaves no room for the protein of real meat."""


# ------------------------------------------------------------------------------------------------ counting


class Portions(Struct, frozen=True):
    """So many of `each` grams, and grams left over (less than one more)."""

    count: int
    each: Fraction
    left_over: Fraction


def count_from(mass: Fraction, each: Fraction) -> Portions:
    """How many patties of `each` grams `mass` grams make: floor(mass / each), exact. Raises BadInput."""
    size = above_nothing("each", each)
    count, left_over = divmod(exact("mass", mass), size)
    return Portions(count, size, left_over)


def equal_shares(mass: Fraction, count: int) -> Fraction:
    """Grams in each of so many equal patties. Raises BadInput."""
    return exact("mass", mass) / _whole("count", count, least=1)


def mass_for(count: int, each: Fraction) -> Fraction:
    """Grams of meat in so many patties of `each` grams. Raises BadInput."""
    return _whole("count", count) * exact("each", each)


def rounds(count: int, at_a_time: int) -> tuple[int, int]:
    """Rounds where a grill or pan takes so many at a time, and how many go on in the last: 45 by 20 is (3, 5).

    None at all is (0, 0). Raises BadInput.
    """
    full, rest = divmod(_whole("count", count), _whole("at_a_time", at_a_time, least=1))
    return (full + 1, rest) if rest else (full, at_a_time if full else 0)


def even_rounds(count: int, at_a_time: int) -> tuple[int, ...]:
    """As few rounds as `rounds`, as even as can be: 45 with 20 at a time is (15, 15, 15). Raises BadInput."""
    needed, _ = rounds(count, at_a_time)
    return tuple(count * (i + 1) // needed - count * i // needed for i in range(needed))


def bowls(mass: Fraction, bowl: Fraction) -> Portions:
    """Equal lots, as few as possible, that each fit a bowl (grams). Nothing is left over. Raises BadInput."""
    total = above_nothing("mass", mass)
    count = math.ceil(total / above_nothing("bowl", bowl))
    return Portions(count, total / count, ZERO)


# ------------------------------------------------------------------------------------------------ people


class Group(Struct, frozen=True):
    """People who eat alike: how many, patties for each (an average such as 3/2 will do), grams in a patty."""

    people: int
    patties: Fraction
    grams: Fraction


class Serving(Struct, frozen=True):
    """Patties of one weight: how many, how many of them are spare, grams in each."""

    count: int
    spare: int
    each: Fraction


class Servings(Struct, frozen=True):
    """What a gathering needs. servings: one for each patty weight, in the order first named. grams: of all patties."""

    servings: tuple[Serving, ...]
    count: int
    grams: Fraction


def for_people(groups: Sequence[Group], spare_percent: Fraction = ZERO) -> Servings:
    """Patties for groups of people, with a spare percentage on top.

    For each patty weight: eaten = sum of people x patties, rounded up; spare = eaten x spare percent, rounded up.
    Raises BadInput for nobody, or figures that make no sense.
    """
    if not groups:
        raise BadInput("groups", tuple(groups), "at least one group")
    spare_share = exact("spare_percent", spare_percent) / HUNDRED
    wanted: dict[Fraction, Fraction] = {}
    for group in all_are("groups", groups, Group):
        size = above_nothing("grams", group.grams)
        patties = _whole("people", group.people) * exact("patties", group.patties)
        wanted[size] = wanted.get(size, ZERO) + patties
    servings = tuple(_serving(patties, size, spare_share) for size, patties in wanted.items())
    return Servings(servings, sum(s.count for s in servings), sum((s.count * s.each for s in servings), ZERO))


def _serving(patties: Fraction, size: Fraction, spare_share: Fraction) -> Serving:
    eaten = math.ceil(patties)
    spare = math.ceil(eaten * spare_share)
    return Serving(eaten + spare, spare, size)


# ------------------------------------------------------------------------------------------------ buying


def purchase(usable: Fraction, loss_percent: Fraction = ZERO, retained: Fraction = ZERO) -> Fraction:
    """Grams to buy for so many usable grams: usable / (1 - loss) + retained.

    loss_percent: lost in proportion (bone, trim, what sticks to bowls). retained: grams that stay in the grinder head
    whatever the batch. Raises BadInput.
    """
    return exact("usable", usable) / _kept_share(loss_percent) + exact("retained", retained)


def usable_from(bought: Fraction, loss_percent: Fraction = ZERO, retained: Fraction = ZERO) -> Fraction:
    """Usable grams out of so many bought: (bought - retained) x (1 - loss), the inverse of `purchase`.

    Raises BadInput, also where the grinder would keep it all.
    """
    kept_back = exact("retained", retained)
    if exact("bought", bought) < kept_back:
        raise BadInput("bought", bought, f"at least the {kept_back} g that stay in the grinder")
    return (bought - kept_back) * _kept_share(loss_percent)


def _kept_share(percent: Fraction, argument: str = "loss_percent") -> Fraction:
    loss = exact(argument, percent, high=HUNDRED)
    if loss == HUNDRED:
        raise BadInput(argument, percent, "less than 100")
    return 1 - loss / HUNDRED


# ------------------------------------------------------------------------------------------------ size


def density_of(water: float, protein: float, fat: float, ash: float, celsius: float = 4.0) -> float:
    """Density in g/mL of meat without air: 1 / sum(share / density), shares 0 to 1 that make 1.

    Component densities: Choi and Okos (1986), valid from -40 to 150 C. Raises BadInput where shares do not make 1.
    """
    shares = (water, protein, fat, ash)
    said = {"water": water, "protein": protein, "fat": fat, "ash": ash, "celsius": celsius}
    for argument, value in said.items():
        if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
            raise BadInput(argument, value, "a number")
        if argument != "celsius" and not 0 <= value <= 1:
            raise BadInput(argument, value, "a share from 0 to 1")
    if not math.isclose(sum(shares), 1, abs_tol=0.001):
        raise BadInput("shares", shares, "shares that make 1 together")
    if not -40 <= celsius <= 150:
        raise BadInput("celsius", celsius, "-40 to 150")
    densities = (
        997.18 + 0.0031439 * celsius - 0.0037574 * celsius**2,
        1329.9 - 0.5184 * celsius,
        925.59 - 0.41757 * celsius,
        2423.8 - 0.28063 * celsius,
    )
    return 1 / sum(share / density for share, density in zip(shares, densities, strict=True)) / 1000


def density(fat: Fraction) -> float:
    """Density in g/mL of raw ground beef of so much fat (percent, up to 50) at 4 C, without air.

    Composition: straight lines through SR28's ground beef of 3 to 30 % fat, water 77.03 - 0.7575 fat and protein
    22.82 - 0.2825 fat; the rest is taken as ash. Other species differ by less than the air in a patty. Raises BadInput.
    """
    share = float(exact("fat", fat, high=FATTEST_FOR_DENSITY)) / 100
    water, protein = 0.7703 - 0.7575 * share, 0.2282 - 0.2825 * share
    return density_of(water, protein, share, 1 - share - water - protein)


def thickness_mm(grams: Fraction, diameter_mm: float, fat: Fraction) -> Ranged[float]:
    """Thickness of a flat round patty, mm: t = 4 m / (pi rho d^2), give or take SIZE_BAND. Raises BadInput."""
    across = length("diameter_mm", diameter_mm)
    return _banded(4 * _volume_mm3(grams, fat) / (math.pi * across**2))


def diameter_mm(grams: Fraction, thickness_mm: float, fat: Fraction) -> Ranged[float]:
    """Diameter of a flat round patty, mm: d = sqrt(4 m / (pi rho t)), give or take SIZE_BAND. Raises BadInput."""
    thick = length("thickness_mm", thickness_mm)
    return _banded(math.sqrt(4 * _volume_mm3(grams, fat) / (math.pi * thick)))


def patty_grams(diameter_mm: float, thickness_mm: float, fat: Fraction) -> Ranged[float]:
    """Grams in a flat round patty of this size: m = rho pi d^2 t / 4, give or take SIZE_BAND. Raises BadInput."""
    volume = math.pi * length("diameter_mm", diameter_mm) ** 2 * length("thickness_mm", thickness_mm) / 4
    return _banded(volume * density(fat) / 1000)


def _volume_mm3(grams: Fraction, fat: Fraction) -> float:
    return float(above_nothing("grams", grams)) / density(fat) * 1000


def _banded(value: float) -> Ranged[float]:
    return Ranged(value, value * (1 - SIZE_BAND), value * (1 + SIZE_BAND))


# ------------------------------------------------------------------------------------------------ buns and shrink


def raw_diameter(cooked: float, shrink_percent: Fraction) -> float:
    """How wide to shape a patty that must be `cooked` wide: cooked / (1 - shrink), any unit. Raises BadInput."""
    return length("cooked", cooked) / float(_kept_share(shrink_percent, "shrink_percent"))


def shape_for_bun(bun: float) -> Ranged[float]:
    """How wide to shape a patty for a bun (any unit of length), for the band of SHRINK. Raises BadInput."""
    wide = length("bun", bun)
    return Ranged(raw_diameter(wide, SHRINK), raw_diameter(wide, LEAST_SHRINK), raw_diameter(wide, MOST_SHRINK))


def shrink_bounds(yield_percent: Fraction) -> tuple[float, float]:
    """What is left of the diameter, as shares of it, if a patty shrinks alike in all directions, and if its thickness
    stays: cube and square root of the weight yield (density unchanged). Raises BadInput."""
    share = float(exact("yield_percent", yield_percent, high=HUNDRED)) / 100
    return share ** (1 / 3), share**0.5


# ------------------------------------------------------------------------------------------------ checks


def _whole(argument: str, value: object, least: int = 0) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise BadInput(argument, value, f"a whole number from {least}")
    return value


def length(argument: str, value: float) -> float:
    """A length above nothing, as a float. Raises BadInput."""
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        raise BadInput(argument, value, "a length")
    size = float(value)
    if not (math.isfinite(size) and size > 0):
        raise BadInput(argument, value, "a length above 0")
    return size
