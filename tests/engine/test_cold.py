"""The one-line cube model against published worked examples, textbook series and the 3-D model; the printed ranges.

Plank's equation and the Fourier series live here and not in the engine: they prove the model, and are too coarse or
too fine to be told to a cook.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from assistant.engine.cold import (
    CONDUCTIVITY,
    DENSITY,
    FREEZING_C,
    HEAT_CAPACITY,
    LATENT_HEAT,
    WATER,
    Arrangement,
    Firmness,
    Machine,
    cube_seconds,
    firm_cubes,
    freeze_patties,
    lots,
)
from assistant.engine.safety import GRAMS_PER_POUND
from assistant.errors import BadInput

# side mm, freezer C, start C; minutes to 10, 20 and 40 % ice, each for a film coefficient of 10, 7.5 and 5 W/m2K.
# 3-D finite volumes, enthalpy method, Choi-Okos properties: computed, not measured. Whole minutes.
CUBE_TABLE = """
15 -12 2 15 19 29 25 33 50 48 63 94
15 -12 4 17 22 33 27 36 54 50 66 98
15 -12 7 20 26 39 30 40 60 53 70 104
15 -18 2 9 13 19 16 22 32 30 40 60
15 -18 4 11 15 22 18 24 35 32 42 63
15 -18 7 13 17 26 20 26 39 34 45 67
15 -23 2 7 10 14 12 17 25 23 31 46
15 -23 4 9 11 17 14 18 27 25 33 48
15 -23 7 10 14 20 16 21 31 26 35 52
20 -12 2 19 26 39 34 45 67 64 85 126
20 -12 4 22 30 44 37 49 73 67 89 132
20 -12 7 26 35 52 41 54 80 71 94 139
20 -18 2 13 17 25 22 29 43 41 54 80
20 -18 4 15 20 29 24 32 47 43 57 84
20 -18 7 18 23 35 27 35 53 46 61 90
20 -23 2 10 13 19 17 22 33 31 41 62
20 -23 4 11 15 23 18 24 36 33 44 65
20 -23 7 14 18 27 21 28 41 35 47 70
25 -12 2 24 32 48 43 56 84 81 107 158
25 -12 4 28 37 56 46 61 91 85 112 166
25 -12 7 33 44 65 51 68 100 90 118 175
25 -18 2 16 21 31 27 36 54 51 68 101
25 -18 4 19 25 37 30 40 59 54 71 106
25 -18 7 22 29 44 34 44 66 58 76 113
25 -23 2 12 16 24 21 28 42 39 52 77
25 -23 4 14 19 28 23 31 46 42 55 82
25 -23 7 17 23 34 26 35 51 45 59 87
30 -12 2 30 39 58 51 68 101 98 129 191
30 -12 4 34 45 67 56 74 110 102 135 200
30 -12 7 40 53 78 62 82 121 108 143 211
30 -18 2 19 25 38 33 44 65 62 82 121
30 -18 4 22 30 44 36 48 71 65 86 128
30 -18 7 27 35 52 41 54 80 70 92 136
30 -23 2 15 20 29 25 34 50 48 63 93
30 -23 4 17 23 34 28 37 55 50 66 98
30 -23 7 21 28 41 32 42 62 54 71 105
40 -12 2 40 53 78 69 91 135 132 174 257
40 -12 4 46 61 90 75 99 147 138 182 269
40 -12 7 54 71 105 84 110 163 147 193 284
40 -18 2 26 34 51 44 59 87 84 110 163
40 -18 4 30 40 59 49 64 95 88 116 172
40 -18 7 36 48 70 55 72 107 94 124 183
40 -23 2 20 26 39 34 45 67 64 85 125
40 -23 4 23 31 46 38 50 74 68 89 132
40 -23 7 28 37 55 43 56 83 73 96 142
"""
FILMS = (10.0, 7.5, 5.0)
SHARES = (0.1, 0.2, 0.4)


class ModelCase(Struct, frozen=True):
    side_mm: int
    air_c: int
    start_c: int
    share: float
    film: float
    minutes: int


def model_cases() -> list[ModelCase]:
    cases: list[ModelCase] = []
    for line in CUBE_TABLE.split("\n"):
        if not line:
            continue
        side, air, start, *minutes = map(int, line.split())
        pairs = [(share, film) for share in SHARES for film in FILMS]
        cases += [
            ModelCase(side, air, start, share, film, told) for (share, film), told in zip(pairs, minutes, strict=True)
        ]
    return cases


# ------------------------------------------------------------------------------- Plank (1913), for the proof only


def brick(longest: float, middle: float) -> tuple[float, float]:
    """Plank's P and R for a brick; both arguments are shares of the shortest side."""
    shape = longest * middle / (2 * (longest * middle + longest + middle))
    spread = math.sqrt((longest - middle) * (longest - 1) + (middle - 1) ** 2)
    if spread == 0:
        return shape, 1 / 24
    ends = [(longest + middle + 1 + sign * spread) / 3 for sign in (1, -1)]
    one, other = (
        0.0 if abs(z - 1) < 1e-12 else (z - 1) * (longest - z) * (middle - z) * math.log(z / (z - 1)) for z in ends
    )
    return shape, (one - other) / (8 * spread) + (2 * longest + 2 * middle - 1) / 72


def plank_hours(
    density: float,
    latent: float,
    freezing: float,
    air: float,
    thickness: float,
    film: float,
    conductivity: float,
    shape: tuple[float, float],
) -> float:
    p, r = shape
    return density * latent / (freezing - air) * (p * thickness / film + r * thickness**2 / conductivity) / 3600


SLAB, BALL = (1 / 2, 1 / 8), (1 / 6, 1 / 24)


@pytest.mark.parametrize(
    ("longest", "middle", "p", "r"),
    [
        (1.0, 1.0, 0.1667, 0.0417),
        (1.5, 1.0, 0.1875, 0.0491),
        (2.0, 1.0, 0.2, 0.0525),
        (4.0, 2.4, 0.3, 0.085),
        (10.0, 10.0, 0.4167, 0.1101),
    ],
)
def test_plank_shape_factors_are_those_of_the_published_table(
    longest: float, middle: float, p: float, r: float
) -> None:
    """ASHRAE table; Singh and Heldman's chart for 4 and 2.4."""
    assert brick(longest, middle) == pytest.approx((p, r), abs=6e-4)


@pytest.mark.parametrize(
    ("hours", "within", "known"),
    [
        # Geankoplis, example 9.11-1: meat slabs in an air blast
        (6.65, 0.02, (1057, 251_250, -2.75, -28.85, 0.0635, 17, 1.038, SLAB)),
        # Singh and Heldman, example 7.4: a sphere of 7 cm
        (0.72, 0.005, (1000, 250_000, -1.25, -40, 0.07, 50, 1.2, BALL)),
        # Singh and Heldman, older editions: lean beef, 1 x 0.6 x 0.25 m
        (18.7, 0.05, (1050, 248_249, -1.75, -30, 0.25, 30, 1.108, (0.3, 0.085))),
        # Earle, chapter 6: a slab between plates with a card, without it, and with all the enthalpy
        (4.1, 0.05, (1090, 256_000, -2, -34, 0.1, 54.5455, 1.6, SLAB)),
        (2.1, 0.05, (1090, 256_000, -2, -34, 0.1, 600, 1.6, SLAB)),
        (5.2, 0.05, (1090, 323_000, -2, -34, 0.1, 54.5455, 1.6, SLAB)),
    ],
)
def test_plank_gives_the_published_worked_examples(
    hours: float, within: float, known: tuple[float, float, float, float, float, float, float, tuple[float, float]]
) -> None:
    assert plank_hours(*known) == pytest.approx(hours, abs=within)


@pytest.mark.parametrize("side_m", [0.015, 0.025, 0.040])
@pytest.mark.parametrize("film", FILMS)
def test_freezing_alone_agrees_with_plank_for_a_cube(side_m: float, film: float) -> None:
    """From the freezing point, all water frozen: 0 to 8 % short of Plank's cube, as it is of the 3-D model."""
    ours = cube_seconds(side_m, -18, FREEZING_C, 1.0, film) / 3600
    theirs = plank_hours(DENSITY, WATER * LATENT_HEAT, FREEZING_C, -18, side_m, film, CONDUCTIVITY, BALL)
    assert 0.92 * theirs <= ours <= theirs


# ------------------------------------------------------------------------------- Fourier series, for the proof only


def slab_root(biot: float, number: int) -> float:
    """The root of z tan z = Bi in the branch from number x pi, by halving: z tan z grows from 0 without end there."""
    low, high = number * math.pi, (number + 0.5) * math.pi
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if middle * math.tan(middle) < biot else (low, middle)
    return (low + high) / 2


def coefficient(root: float) -> float:
    return 4 * math.sin(root) / (2 * root + math.sin(2 * root))


def slab(biot: float, fourier: float, place: float) -> float:
    """Remaining share of the temperature difference; place 0 is the middle, 1 the surface."""
    roots = [slab_root(biot, number) for number in range(80)]
    return sum(coefficient(root) * math.exp(-(root**2) * fourier) * math.cos(root * place) for root in roots)


def test_series_root_is_the_textbook_one() -> None:
    """Cengel, Heat and Mass Transfer: Bi 0.2 has root 0.4328 and coefficient 1.0311."""
    root = slab_root(0.2, 0)
    assert (root, coefficient(root)) == pytest.approx((0.4328, 1.0311), abs=1e-4)


@pytest.mark.parametrize(
    ("biot", "fourier", "centre", "surface"),
    [
        (0.1, 1.0, 0.92239, 0.87813),
        (0.2, 5.085, 0.3977, 0.36102),
        (0.5, 1.0, 0.69838, 0.55459),
        (1.0, 0.5, 0.77253, 0.50452),
        (1.0, 0.1, 0.99311, 0.72358),
    ],
)
def test_series_values(biot: float, fourier: float, centre: float, surface: float) -> None:
    """Independently computed with 80 terms; the second row is Cengel's steak."""
    assert (slab(biot, fourier, 0), slab(biot, fourier, 1)) == pytest.approx((centre, surface), abs=3e-5)


def test_series_gives_the_published_steak() -> None:
    """Cengel, problem 11-44: 2 cm steaks from 25 C to 2 C at the surface in air of -11 C, 93.1 minutes."""
    biot, per_second = 9 * 0.01 / 0.45, 9.1e-8 / 0.01**2
    assert slab(biot, per_second * 93.1 * 60, 1) == pytest.approx((2 + 11) / (25 + 11), abs=1e-3)


@pytest.mark.parametrize("side_m", [0.015, 0.025, 0.040])
@pytest.mark.parametrize("film", FILMS)
def test_cooling_alone_agrees_with_the_series_for_a_cube(side_m: float, film: float) -> None:
    """From 4 C to the freezing point without ice: mean of a cube as the product of three slabs, k 0.47, within 3 %."""
    seconds = cube_seconds(side_m, -18, 4, 0.0, film)
    raw_k = 0.47
    biot = film * side_m / 2 / raw_k
    fourier = raw_k / (DENSITY * HEAT_CAPACITY) * seconds / (side_m / 2) ** 2
    roots = [slab_root(biot, number) for number in range(20)]
    mean = sum(coefficient(z) * math.exp(-(z**2) * fourier) * math.sin(z) / z for z in roots)
    wanted = (FREEZING_C + 18) / (4 + 18)
    assert mean**3 == pytest.approx(wanted, rel=0.03)


# ------------------------------------------------------------------------------- the model itself


def test_the_worked_cube() -> None:
    """25 mm from 4 C in -18 C, 10 % ice, still air: 24.0 minutes by the corrected closed form."""
    assert cube_seconds(0.025, -18, 4, 0.1, 7.5) / 60 == pytest.approx(24.0, abs=0.1)


def test_the_one_line_model_follows_the_full_one_in_all_405_cases() -> None:
    """Never longer and at most 8 % shorter than the 3-D model, whose table is in whole minutes."""
    cases = model_cases()
    assert len(cases) == 405
    for case in cases:
        ours = cube_seconds(case.side_mm / 1000, case.air_c, case.start_c, case.share, case.film) / 60
        assert 0.92 * (case.minutes - 0.5) - 0.05 <= ours <= case.minutes + 0.55, case


def test_the_range_told_covers_the_full_model_for_the_usual_cube() -> None:
    """25 mm, 4 C, -18 C: 19, 25 and 37 minutes spaced; 56, 74 and 110 touching (3-D model)."""
    spaced, touching = firm_cubes(25), firm_cubes(25, arrangement=Arrangement.TOUCHING)
    assert (spaced.low, spaced.middle, spaced.high) == pytest.approx((19, 25, 37), rel=0.08)
    assert (touching.low, touching.middle, touching.high) == pytest.approx((56, 74, 110), rel=0.08)


@given(st.floats(15, 40), st.floats(15, 40), st.floats(-23, -12), st.floats(2, 7), st.sampled_from(list(Firmness)))
def test_smaller_cubes_firm_sooner(one: float, other: float, air: float, start: float, firmness: Firmness) -> None:
    small, large = (firm_cubes(side, air, start, firmness) for side in sorted((one, other)))
    assert small.low <= small.middle <= small.high
    assert small.middle <= large.middle


@given(st.floats(15, 40), st.floats(-23, -12), st.floats(-23, -12), st.floats(2, 7), st.floats(2, 7))
def test_colder_air_and_colder_meat_firm_sooner(
    side: float, air_one: float, air_other: float, start_one: float, start_other: float
) -> None:
    colder, warmer = sorted((air_one, air_other))
    cool, mild = sorted((start_one, start_other))
    assert firm_cubes(side, colder, cool).middle <= firm_cubes(side, warmer, mild).middle


# ------------------------------------------------------------------------------- patties


@pytest.mark.parametrize(
    ("thick", "stack", "freezer", "low", "high", "overnight"),
    [
        (13, 1, -18, 2, 4, False),  # told as 2 to 4 hours in one layer
        (20, 1, -18, 3, 6, False),  # told as 3 to 6
        (13, 4, -18, 6, 11, True),  # a stack of four: overnight
        (20, 6, -23, 7, 12, True),
    ],
)
def test_patties_as_told(thick: int, stack: int, freezer: int, low: int, high: int, overnight: bool) -> None:
    found = freeze_patties(thick, stack, freezer)
    assert (found.low_hours, found.high_hours, found.overnight) == (low, high, overnight)


@given(
    st.floats(13, 20),
    st.floats(13, 20),
    st.integers(1, 6),
    st.integers(1, 6),
    st.floats(-23, -18),
    st.floats(-23, -18),
)
def test_thinner_fewer_colder_patties_freeze_sooner(
    thick_one: float, thick_other: float, stack_one: int, stack_other: int, air_one: float, air_other: float
) -> None:
    thin, thick = sorted((thick_one, thick_other))
    few, many = sorted((stack_one, stack_other))
    colder, warmer = sorted((air_one, air_other))
    sooner, later = freeze_patties(thin, few, colder), freeze_patties(thick, many, warmer)
    assert sooner.low_hours <= later.low_hours
    assert sooner.high_hours <= later.high_hours
    assert later.overnight >= sooner.overnight


# ------------------------------------------------------------------------------- lots


def test_processor_batches_of_half_to_three_quarters_of_a_pound() -> None:
    found = lots(3 * GRAMS_PER_POUND, Machine.PROCESSOR)
    assert (found.fewest, found.most) == (4, 6)
    assert found.checked.startswith("found")


def test_grinder_lots_say_that_they_are_custom() -> None:
    found = lots(6 * GRAMS_PER_POUND)
    assert (found.fewest, found.most) == (2, 3)
    assert found.checked == "common practice, no source"


@given(st.fractions(Fraction(1), 50_000, max_denominator=10), st.sampled_from(list(Machine)))
def test_lots_hold_the_whole_batch(mass: Fraction, machine: Machine) -> None:
    found = lots(mass, machine)
    assert 1 <= found.fewest <= found.most
    assert found.fewest * found.lot_high_g >= mass
    assert found.most * found.lot_low_g >= mass
    assert (found.fewest - 1) * found.lot_high_g < mass


@pytest.mark.parametrize(
    ("ask", "argument"),
    [
        (lambda: firm_cubes(14), "side_mm"),
        (lambda: firm_cubes(51), "side_mm"),
        (lambda: firm_cubes(float("nan")), "side_mm"),
        (lambda: firm_cubes(True), "side_mm"),
        (lambda: firm_cubes(25, -30), "freezer_c"),
        (lambda: firm_cubes(25, -18, 20), "start_c"),
        (lambda: firm_cubes(25, firmness="rock"), "firmness"),
        (lambda: firm_cubes(25, arrangement="heap"), "arrangement"),
        (lambda: freeze_patties(30), "thickness_mm"),
        (lambda: freeze_patties(13, 0), "stack"),
        (lambda: freeze_patties(13, 7), "stack"),
        (lambda: freeze_patties(13, 1, -12), "freezer_c"),
        (lambda: lots(0), "mass_g"),
        (lambda: lots(float("inf")), "mass_g"),
        (lambda: lots(500, "hammer"), "machine"),
    ],
)
def test_bad_input_names_its_argument(ask: Callable[[], object], argument: str) -> None:
    with pytest.raises(BadInput) as fault:
        ask()
    assert fault.value.argument == argument


def test_time_in_the_freezer_by_hand() -> None:
    """A 25 mm cube from 4 C in still air of -18 C until a fifth of its water is ice: the formula, typed again."""
    resistance = 1 / 7.5 + 0.025 / 7.5
    heat = 3593 * math.log(22 / 16.8) + 0.7283 * 0.2 * 333_600 / 16.8
    by_hand = 1048.8 * 0.025 * resistance / 6 * heat
    assert cube_seconds(0.025, -18, 4, 0.2, 7.5) == pytest.approx(by_hand, rel=1e-6)
    assert by_hand == pytest.approx(2306, abs=1)
