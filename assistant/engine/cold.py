"""Firming cubes, freezing patties, and how much meat to work at once.

Only what is good enough to tell a cook: rounded ranges, never a temperature in the middle, a share of ice or a depth
of crust. The physics is one energy balance; against the full 3-D enthalpy model it runs 0 to 8 % short.
"""

from __future__ import annotations

import math
from enum import StrEnum
from fractions import Fraction

from msgspec import Struct

from assistant.data.safety import PattyFreeze, SafetyFigure, safety_book
from assistant.engine.safety import GRAMS_PER_POUND, Number
from assistant.errors import BadInput

DENSITY = 1048.8
"""kg/m3, lean beef (72.83 % water, 4.89 % fat) at 4 C: Choi and Okos (1986) on SR28 composition."""
HEAT_CAPACITY = 3593.0
"""J/kgK, the same meat."""
WATER = 0.7283
"""Share of the weight."""
CONDUCTIVITY = 0.75
"""W/mK, between raw and partly frozen meat: fitted so that the balance follows the 3-D model."""
LATENT_HEAT = 333_600.0
"""J/kg of water."""
FREEZING_C = -1.2
"""Between the published freezing points of lean beef, -1.0 to -2.1 C."""
STILL_AIR = 7.5
"""W/m2K for a home freezer without a fan: 5 to 10, estimated; no handbook figure for it was found."""

SIDE_MM = (15, 40)
FREEZER_C = (-23, -12)
START_C = (2, 7)
"""The three ranges in which the balance was checked against the 3-D model."""

QUICKEST, SLOWEST = 0.75, 1.5
"""The band to tell: film coefficients of 10 and of 5 about the middle one."""
TOUCHING = 3.0
"""Cubes that touch in one layer take three times as long (3-D model: 74 minutes against 25)."""

MOST_STACKED = 6
OVERNIGHT_STACK = 4
"""From four high the range is told as overnight."""


class Firmness(StrEnum):
    """How firm cubes are, by touch."""

    FIRM = "firm"
    VERY_FIRM = "very_firm"
    HARD = "hard"


FROZEN_SHARE = {Firmness.FIRM: 0.1, Firmness.VERY_FIRM: 0.2, Firmness.HARD: 0.4}
"""Share of the water frozen. A tenth is what cooks call firm enough to grind; four tenths is hard on a home grinder."""


class Arrangement(StrEnum):
    """How cubes lie in the freezer, in one layer on metal."""

    SPACED = "spaced"
    TOUCHING = "touching"


class Machine(StrEnum):
    """What the meat is ground with."""

    GRINDER = "grinder"
    PROCESSOR = "processor"


class Span(Struct, frozen=True):
    """A range of time with its middle, in minutes or hours as the function says."""

    low: float
    middle: float
    high: float


class PattiesFrozen(Struct, frozen=True):
    """Whole hours to tell a cook. overnight: a stack, for which nothing finer should be promised."""

    low_hours: int
    high_hours: int
    overnight: bool


class Lots(Struct, frozen=True):
    """How many lots a batch is worked in. lot_low_g..lot_high_g: the weight of one lot; fewest..most lots."""

    fewest: int
    most: int
    lot_low_g: Fraction
    lot_high_g: Fraction
    source: str
    checked: str


def firm_cubes(
    side_mm: Number,
    freezer_c: Number = -18,
    start_c: Number = 4,
    firmness: Firmness | str = Firmness.FIRM,
    arrangement: Arrangement | str = Arrangement.SPACED,
) -> Span:
    """Minutes in the freezer until cubes are firm: a range, to be confirmed by touch.

    side_mm: 15 to 40; freezer_c: -23 to -12; start_c: 2 to 7; firmness FIRM is enough to grind. Lean beef; fatty
    pieces take about two thirds of it. Raises BadInput outside those ranges, where the formula was not checked.
    Formula: `cube_seconds` in still air, x0.75 to x1.5, three times as long where cubes touch. Untested in a kitchen.
    """
    side = _within("side_mm", side_mm, SIDE_MM, "mm")
    air = _within("freezer_c", freezer_c, FREEZER_C, "C")
    start = _within("start_c", start_c, START_C, "C")
    seconds = cube_seconds(side / 1000, air, start, FROZEN_SHARE[_firmness(firmness)], STILL_AIR)
    middle = seconds / 60 * (TOUCHING if _arrangement(arrangement) is Arrangement.TOUCHING else 1.0)
    return Span(middle * QUICKEST, middle, middle * SLOWEST)


def cube_seconds(side_m: float, air_c: float, start_c: float, frozen_share: float, film: float) -> float:
    """Seconds until a share of a cube's water has frozen, all six faces in air. For firm_cubes and its proof.

    side_m in metres, film in W/m2K. t = (rho c a / 6U) ln((T0 - Ta) / (Tf - Ta)) + rho x_w s L a / (6U (Tf - Ta)),
    1/U = 1/h + a / 10k: cooling to the freezing point, then freezing at it.
    """
    resistance = 1 / film + side_m / (10 * CONDUCTIVITY)
    drive = FREEZING_C - air_c
    cooling = HEAT_CAPACITY * math.log((start_c - air_c) / drive)
    freezing = WATER * frozen_share * LATENT_HEAT / drive
    return DENSITY * side_m * resistance / 6 * (cooling + freezing)


def freeze_patties(thickness_mm: Number, stack: int = 1, freezer_c: Number = -18) -> PattiesFrozen:
    """Hours to freeze patties through, rounded to whole hours.

    thickness_mm: 13 to 20; stack: 1 to 6 on top of one another; freezer_c: -23 to -18. Raises BadInput outside.
    Straight lines between the rows of the freezing table (computed, checked against no kitchen).
    """
    rows = safety_book().patty_freeze
    thickness = _between("thickness_mm", thickness_mm, {row.thickness_mm for row in rows}, "mm")
    air = _between("freezer_c", freezer_c, {row.at.c for row in rows}, "C")
    if isinstance(stack, bool) or not isinstance(stack, int) or not 1 <= stack <= MOST_STACKED:
        raise BadInput("stack", stack, f"a whole number from 1 to {MOST_STACKED}")
    quick, slow = (_interpolated(rows, thickness, Fraction(stack), air, pace) for pace in (0, 2))
    return PattiesFrozen(round(quick), round(slow), stack >= OVERNIGHT_STACK)


def lots(mass_g: Number, machine: Machine | str = Machine.GRINDER) -> Lots:
    """How much to work at once, so that the rest stays cold: lots for a grinder, batches for a food processor.

    Raises BadInput for a mass that is not above zero and for another machine.
    Source: processor 1/2 to 3/4 lb (cookery books); grinder 2 to 3 lb at a time (common practice, no source).
    """
    if isinstance(mass_g, bool) or not isinstance(mass_g, (int, float, Fraction)) or not 0 < mass_g < math.inf:
        raise BadInput("mass_g", mass_g, "more than zero grams")
    try:
        key = "grinder_lot" if Machine(machine) is Machine.GRINDER else "processor_batch"
    except ValueError as fault:
        raise BadInput("machine", machine, f"one of {', '.join(Machine)}") from fault
    figure: SafetyFigure = safety_book().figures[key]
    small, large = figure.value * GRAMS_PER_POUND, (figure.high or figure.value) * GRAMS_PER_POUND
    mass = Fraction(mass_g)
    return Lots(math.ceil(mass / large), math.ceil(mass / small), small, large, figure.source, figure.checked)


def _interpolated(
    rows: tuple[PattyFreeze, ...], thickness: Fraction, stack: Fraction, air: Fraction, pace: int
) -> Fraction:
    """Hours at a point inside the table, one direction after the other. pace: 0 quick, 1 middle, 2 slow."""
    table = {(row.thickness_mm, Fraction(row.stack), row.at.c): row.hours[pace] for row in rows}
    for place, wanted in enumerate((thickness, stack, air)):
        table = _along(table, place, wanted)
    return table[thickness, stack, air]


Point = tuple[Fraction, Fraction, Fraction]


def _along(table: dict[Point, Fraction], place: int, wanted: Fraction) -> dict[Point, Fraction]:
    """The table cut at `wanted` in one direction: its two nearest slices joined by a straight line."""
    below = max(point[place] for point in table if point[place] <= wanted)
    above = min(point[place] for point in table if point[place] >= wanted)
    part = (wanted - below) / (above - below) if above > below else Fraction(0)
    cut: dict[Point, Fraction] = {}
    for point, hours in table.items():
        if point[place] == below:
            further = table[_moved(point, place, above)]
            cut[_moved(point, place, wanted)] = hours + (further - hours) * part
    return cut


def _moved(point: Point, place: int, to: Fraction) -> Point:
    first, second, third = (to if place == here else figure for here, figure in enumerate(point))
    return first, second, third


def _between(argument: str, value: Number, ends: set[Fraction], unit: str) -> Fraction:
    low, high = min(ends), max(ends)
    _within(argument, value, (low, high), unit)
    return Fraction(value)


def _within(argument: str, value: Number, ends: tuple[Number, Number], unit: str) -> float:
    if (
        isinstance(value, bool)
        or not isinstance(value, (int, float, Fraction))
        or not math.isfinite(value)
        or not ends[0] <= value <= ends[1]
    ):
        raise BadInput(argument, value, f"{ends[0]} to {ends[1]} {unit}")
    return float(value)


def _firmness(firmness: Firmness | str) -> Firmness:
    try:
        return Firmness(firmness)
    except ValueError as fault:
        raise BadInput("firmness", firmness, f"one of {', '.join(Firmness)}") from fault


def _arrangement(arrangement: Arrangement | str) -> Arrangement:
    try:
        return Arrangement(arrangement)
    except ValueError as fault:
        raise BadInput("arrangement", arrangement, f"one of {', '.join(Arrangement)}") from fault
