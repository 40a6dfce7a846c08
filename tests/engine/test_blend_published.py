"""Worked examples of blends and least cost, each with its source.

"Published" means that the source states the answer; "computed" that it states the problem and the answer was worked
out apart from this code. Masses stand for grams whatever the source's unit: a blend does not depend on the unit.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant.engine.blend import Blend, Cut, Limit, cheapest, mix, nearest
from assistant.engine.simplex import Row, minimise

# high percent, low percent, target, total, mass of the high one, tolerance, source
PEARSON: dict[str, tuple[str, str, str, str, float, float, str]] = {
    "hay and silage": ("12.25", "10.8", "11", "1000", 138.0, 0.5, "Montana State University Extension, published"),
    "hay and supplement": ("40", "8.95", "9.8", "100", 2.7, 0.05, "Montana State University Extension, published"),
    "milk of 22 and 3": ("22", "3", "4", "95", 5.0, 0.01, "dairy laboratory manual p. 13, published"),
    "milk of 3.9 and skim": ("3.9", "0", "2.6", "3.9", 2.6, 0.01, "milk standardisation page, published"),
    "hamburger 21 and 15": ("21", "15", "17", "78", 26.0, 0.01, "algebra textbook, question 395832, published"),
    "hamburger 18 and 15": ("18", "15", "16", "87", 29.0, 0.01, "algebra textbook, question 831074, published"),
    "hamburger 25 and 15": ("25", "15", "18", "90", 27.0, 0.01, "algebra textbook, fast food restaurant, published"),
    "93/7 and pure fat": ("100", "7", "20", "20", 2.7957, 0.001, "systems-of-equations lesson, computed"),
    "cow and bull beef": ("23", "5", "15", "9", 5.0, 0.01, "Earle, Unit Operations, ch. 2, from memory"),
    "minced meat 25 and 5": ("25", "5", "15", "2", 1.0, 0.001, "classroom variant of Earle's, published"),
    "cow meat and trim": ("25", "10", "20", "1000", 666.6667, 0.01, "FFA teaching slides, computed"),
}


@pytest.mark.parametrize("name", PEARSON)
def test_two_cuts_agree_with_the_square(name: str) -> None:
    high, low, target, total, expected, tolerance, _source = PEARSON[name]
    blend = nearest([Cut("high", Fraction(high)), Cut("low", Fraction(low))], Fraction(total), Fraction(target))
    assert isinstance(blend, Blend)
    assert float(blend.grams[0]) == pytest.approx(expected, abs=tolerance)
    assert float(blend.grams[1]) == pytest.approx(float(Fraction(total)) - expected, abs=tolerance)


def test_cow_meat_and_trim_cost_per_pound() -> None:
    """FFA meats evaluation slides: cow meat of 10 percent at 0.99, trim of 25 percent at 0.79; computed 0.856667."""
    blend = nearest(
        [Cut("trim", Fraction(25), price=Fraction("0.79")), Cut("cow", Fraction(10), price=Fraction("0.99"))],
        Fraction(1),
        Fraction(20),
    )
    assert isinstance(blend, Blend)
    assert blend.cost is not None
    assert float(blend.cost) == pytest.approx(0.856667, abs=1e-6)


def test_four_ingredients_by_two_premixes() -> None:
    """Montana State University Extension: premixes of 39 and 10.8 percent published, the last step computed."""
    high = mix([Cut("a", Fraction(54)), Cut("b", Fraction(24))], [Fraction(1), Fraction(1)])
    low = mix([Cut("c", Fraction(10)), Cut("d", Fraction(12))], [Fraction(6), Fraction(4)])
    assert (high.fat, low.fat) == (Fraction(39), Fraction("10.8"))
    blend = nearest([Cut("high", high.fat), Cut("low", low.fat)], Fraction(100), Fraction(15))
    assert isinstance(blend, Blend)
    masses = [blend.grams[0] / 2, blend.grams[0] / 2, blend.grams[1] * Fraction(3, 5), blend.grams[1] * Fraction(2, 5)]
    assert [float(m) for m in masses] == pytest.approx([7.4468, 7.4468, 51.0638, 34.0426], abs=0.001)


def test_frankfurter_of_three_components() -> None:
    """Toledo, material balances, from memory: lean 14/19, pork fat 89/3, water, to 20 fat and 15 protein of 100 kg."""
    rows = [
        Row((Fraction(14), Fraction(89), Fraction(0)), Fraction(2000)),
        Row((Fraction(19), Fraction(3), Fraction(0)), Fraction(1500)),
        Row((Fraction(1), Fraction(1), Fraction(1)), Fraction(100)),
    ]
    found = minimise([Fraction(0)] * 3, rows, [Fraction(0)] * 3, [None] * 3)
    assert found is not None
    assert [float(x) for x in found.amounts] == pytest.approx([77.3196, 10.3093, 12.3711], abs=0.001)
    back = mix([Cut("lean", Fraction(14)), Cut("fat", Fraction(89)), Cut("water", Fraction(0))], found.amounts)
    assert back.fat == 20


def test_north_dakota_contest_2009() -> None:
    """State FFA meats evaluation contest 2009; its options 0.97 USD/lb, 910 lb of trim in 10,000 are this optimum."""
    cuts = [
        Cut("chuck", Fraction(21), price=Fraction("1.3")),
        Cut("brisket", Fraction(17), price=Fraction("0.98")),
        Cut("trim", Fraction(50), price=Fraction("0.9")),
        Cut("round", Fraction(4), price=Fraction("1.09")),
    ]
    blend = cheapest(cuts, Fraction(1), Fraction(20))
    assert isinstance(blend, Blend)
    assert blend.cost is not None
    assert [float(g) for g in blend.grams] == pytest.approx([0, 0.90909, 0.09091, 0], abs=1e-4)
    assert float(blend.cost) == pytest.approx(0.972727, abs=1e-4)
    assert not blend.tied


PORK = {
    "50% lean trim": ("50", "1.89"),
    "40% lean trim": ("60", "1.69"),
    "ham": ("20", "2.45"),
    "shoulder": ("23", "1.78"),
    "30% lean trim": ("70", "1.56"),
}


def test_georgia_contest_2016() -> None:
    """Georgia FFA state problem 2016, option 7 (30 percent lean trim and shoulder, 1.76 USD/lb)."""
    cuts = [Cut(name, Fraction(fat), price=Fraction(price)) for name, (fat, price) in PORK.items()]
    blend = cheapest(cuts, Fraction(1), Fraction(28))
    assert isinstance(blend, Blend)
    assert blend.cost is not None
    assert [float(g) for g in blend.grams] == pytest.approx([0, 0, 0, 0.893617, 0.106383], abs=1e-4)
    assert float(blend.cost) == pytest.approx(1.756596, abs=1e-4)


@pytest.mark.parametrize(
    ("fat_cut", "lean_cut", "price"),
    [
        ("40% lean trim", "shoulder", 1.77),
        ("50% lean trim", "shoulder", 1.80),
        ("30% lean trim", "ham", 2.31),
        ("40% lean trim", "ham", 2.30),
        ("50% lean trim", "ham", 2.30),
    ],
)
def test_georgia_contest_other_options(fat_cut: str, lean_cut: str, price: float) -> None:
    """The losing options of the same problem, published to the cent."""
    cuts = [Cut(name, Fraction(PORK[name][0]), price=Fraction(PORK[name][1])) for name in (fat_cut, lean_cut)]
    blend = nearest(cuts, Fraction(1), Fraction(28))
    assert isinstance(blend, Blend)
    assert blend.cost is not None
    assert float(blend.cost) == pytest.approx(price, abs=0.006)


def test_meat_loaf_180_pounds() -> None:
    """Sullivan, Algebra and Trigonometry, 11th ed., ch. 12 problem 25, computed: 120 beef, 60 pork, 351 USD.

    At most 200 lb of beef, at least 50 lb of pork, 180 lb in all, at most 30 percent fat.
    """
    beef = Cut("beef 75/25", Fraction(25), at_most=Fraction(200), price=Fraction("2.25"))
    pork = Cut("pork 60/40", Fraction(40), at_least=Fraction(50), price=Fraction("1.35"))
    blend = cheapest([beef, pork], Fraction(180), fat_at_most=Fraction(30))
    assert isinstance(blend, Blend)
    assert blend.grams == (Fraction(120), Fraction(60))
    assert blend.cost == 351
    assert Limit.FAT_AT_MOST in {b.limit for b in blend.binding}


def test_butcher_sausage_50_kilograms() -> None:
    """Algebra textbook, question 1148051, published: 32 beef, 8 pork, 10 fat, cost 244."""
    rows = [Row((Fraction(-1, 4), Fraction(1), Fraction(0)), Fraction(0))]
    found = minimise(
        [Fraction(6), Fraction(4), Fraction(2)],
        [Row((Fraction(1), Fraction(1), Fraction(1)), Fraction(50))],
        [Fraction(0)] * 3,
        [None, None, Fraction(10)],
        rows,
    )
    assert found is not None
    assert found.amounts == (Fraction(32), Fraction(8), Fraction(10))
    assert found.cost == 244


# costs, equal rows, at-most rows, lower, upper, amounts, cost, tolerance
Coefficients = tuple[str, ...]
PROGRAMMES: dict[str, tuple[Coefficients, list[tuple[Coefficients, str]], list[tuple[Coefficients, str]], Coefficients,
                            tuple[str | None, ...], list[float], float, float]] = {
    # Sullivan, older edition, "Managing a Meat Market", published: 100 beef, 50 pork, 97.50 USD.
    "meat loaf, older edition": (
        ("0.75", "0.45"), [], [(("-0.05", "0.1"), "0")], ("0", "50"), ("200", None), [100, 50], 97.5, 0.01,
    ),
    # limSolve manual, "Blending"; shares published, cost computed.
    "three feeds with filler": (
        ("40", "60", "0"),
        [(("1", "1", "1"), "1")],
        [(("-100", "-200", "0"), "-80"), (("-50", "-150", "0"), "-50"), (("-40", "-10", "0"), "-25"),
         (("-10", "0", "0"), "-5")],
        ("0", "0", "0"), (None, None, None), [0.5909, 0.1364, 0.2727], 31.8182, 1e-4,
    ),
    # PuLP case study "A Blending Problem"; optimum from memory and recomputed: 60 beef, 40 gel, 0.52.
    "six feeds": (
        ("0.013", "0.008", "0.010", "0.002", "0.005", "0.001"),
        [(("1",) * 6, "100")],
        [(("-0.1", "-0.2", "-0.15", "0", "-0.04", "0"), "-8"),
         (("-0.08", "-0.1", "-0.11", "-0.01", "-0.01", "0"), "-6"),
         (("0.001", "0.005", "0.003", "0.1", "0.15", "0"), "2"),
         (("0.002", "0.005", "0.007", "0.002", "0.008", "0"), "0.4")],
        ("0",) * 6, (None,) * 6, [0, 60, 0, 0, 0, 40], 0.52, 0.001,
    ),
    # Manning, Optimization Algorithms, 2.1.4, published 65 / 3 / 32 percent, 0.4916 USD/kg.
    "corn, limestone, soy": (
        ("30.5", "10", "90"),
        [(("1", "1", "1"), "1")],
        [(("-0.001", "-0.38", "-0.002"), "-0.008"), (("0.001", "0.38", "0.002"), "0.012"),
         (("-0.09", "0", "-0.5"), "-0.22"), (("0.02", "0", "0.08"), "0.05")],
        ("0", "0", "0"), (None, None, None), [0.65, 0.03, 0.32], 49.16, 0.006,
    ),
    # Taha, Operations Research, feed for a farm: 470.6 and 329.4 lb, 437.64 USD (answer from memory, recomputed).
    "farm feed": (
        ("0.3", "0.9"), [],
        [(("-1", "-1"), "-800"), (("0.21", "-0.3"), "0"), (("-0.03", "0.01"), "0")],
        ("0", "0"), (None, None), [470.588, 329.412], 437.647, 0.01,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", PROGRAMMES)
def test_programmes_of_several_rows(name: str) -> None:
    costs, equal, at_most, lower, upper, amounts, cost, tolerance = PROGRAMMES[name]
    found = minimise(
        [Fraction(c) for c in costs],
        [Row(tuple(Fraction(c) for c in row), Fraction(right)) for row, right in equal],
        [Fraction(v) for v in lower],
        [None if v is None else Fraction(v) for v in upper],
        [Row(tuple(Fraction(c) for c in row), Fraction(right)) for row, right in at_most],
    )
    assert found is not None
    assert [float(x) for x in found.amounts] == pytest.approx(amounts, abs=tolerance)
    assert float(found.cost) == pytest.approx(cost, abs=tolerance)
