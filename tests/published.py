"""Every check against something outside, as one table: source, what, expected, ours, difference.

`python -m tests.published` prints it; tests/test_published.py asserts each row of it. "Published" means that the source
states the answer; "worked out" that it states the problem or the formula, and the answer was worked out apart from
this code. Masses stand for grams whatever the source's unit: a blend does not depend on the unit.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from assistant import units
from assistant.data.safety import safety_book
from assistant.engine import blend, correct, cost, learn, portion, season, spread
from assistant.engine.kinds import Blend, Cut, NoBlend
from assistant.engine.ranged import Ranged
from tests.engine.test_blend_published import PEARSON, PORK


class Check(Struct, frozen=True):
    """One figure that somebody else worked out, and ours. tolerance: how far apart the two may be, in the figure's unit;
    half a step of the last digit that the source prints."""

    source: str
    what: str
    expected: float
    ours: float
    tolerance: float
    published: bool = True

    @property
    def difference(self) -> float:
        """Ours less theirs."""
        return self.ours - self.expected

    @property
    def agrees(self) -> bool:
        """Whether the two are as near as the source's digits allow."""
        return abs(self.difference) <= self.tolerance + 1e-9


def checks() -> list[Check]:
    """All of them, subject by subject."""
    return [
        *_two_cuts(),
        *_corrections(),
        *_least_cost(),
        *_spreads(),
        *_patties(),
        *_buying(),
        *_seasonings(),
        *_learning(),
        *_units(),
        *_heat(),
    ]


def _blend(found: Blend | NoBlend) -> Blend:
    assert isinstance(found, Blend), found
    return found


def _two_cuts() -> Iterator[Check]:
    for name, (high, low, target, total, expected, tolerance, source) in PEARSON.items():
        found = _blend(
            blend.nearest([Cut("high", Fraction(high)), Cut("low", Fraction(low))], Fraction(total), Fraction(target))
        )
        who, _, how = source.rpartition(", ")
        yield Check(who, f"{name}: of the fatter", expected, float(found.grams[0]), tolerance, how == "published")


def _corrections() -> Iterator[Check]:
    rows = (
        # source, have, its percent, percent of what is added, target, to add, published
        ("University of Guelph, dairy education", 500, 4, 35, 10, 120.0, True),
        ("University of Guelph, dairy education", 160, 40, 0, 32, 40.0, True),
        ("Dairy fundamentals (early 20th century), p. 48", 500, 3, 30, 5, 40.0, False),
        ("algebra textbook problem, public question archive", 30, 15, 7, 10, 50.0, True),
    )
    for source, have, fat, added, target, expected, published in rows:
        found = correct.add_to_reach(Fraction(have), Fraction(fat), [Cut("added", Fraction(added))], Fraction(target))
        assert not isinstance(found, NoBlend)
        what = f"{have} at {fat} % brought to {target} % with {added} %: to add"
        yield Check(source, what, expected, float(found.add[0]), 0.01, published)


def _least_cost() -> Iterator[Check]:
    dakota = {"chuck": ("21", "1.3"), "brisket": ("17", "0.98"), "trim": ("50", "0.9"), "round": ("4", "1.09")}
    contests = (
        ("North Dakota FFA meats evaluation contest 2009", dakota, 20, 0.97),
        ("Georgia FFA meats evaluation contest 2016, option 7", PORK, 28, 1.76),
    )
    for source, cuts, fat, expected in contests:
        offered = [Cut(name, Fraction(part[0]), price=Fraction(part[1])) for name, part in cuts.items()]
        found = _blend(blend.cheapest(offered, Fraction(1), Fraction(fat)))
        assert found.cost is not None
        yield Check(source, f"cheapest blend at {fat} %, a pound", expected, float(found.cost), 0.005)
    for fatter, leaner, expected in (
        ("40% lean trim", "shoulder", 1.77),
        ("50% lean trim", "shoulder", 1.80),
        ("30% lean trim", "ham", 2.31),
        ("40% lean trim", "ham", 2.30),
        ("50% lean trim", "ham", 2.30),
    ):
        pair = [Cut(name, Fraction(PORK[name][0]), price=Fraction(PORK[name][1])) for name in (fatter, leaner)]
        found = _blend(blend.nearest(pair, Fraction(1), Fraction(28)))
        assert found.cost is not None
        source = "Georgia FFA meats evaluation contest 2016, other options"
        yield Check(source, f"{fatter} and {leaner} at 28 %, a pound", expected, float(found.cost), 0.006)


def _spreads() -> Iterator[Check]:
    source = "law of propagation of uncertainty, JCGM 100:2008 (GUM)"
    fats, halves, shares = ("15.7", "8.8", "70.9"), ("5.3", "2", "6"), ("0.6", "0.3", "0.1")
    cuts = [
        Cut("cut", Fraction(fat), Fraction(fat) - Fraction(half), Fraction(fat) + Fraction(half))
        for fat, half in zip(fats, halves, strict=True)
    ]
    grams = [Fraction(share) * 1000 for share in shares]
    uniform = spread.spread(cuts, grams)
    normal = spread.spread(cuts, grams, spread.RangeMeans.TWO_SD)
    yield Check(source, "three cuts, fat", 19.15, float(uniform.fat), 0.001, False)
    yield Check(source, "three cuts, worst case", 4.38, float(uniform.worst_half), 0.001, False)
    yield Check(source, "three cuts, ranges even all over: deviation", 1.9003, uniform.sd, 0.0001, False)
    yield Check(source, "three cuts, ranges of two deviations: deviation", 1.6457, normal.sd, 0.0001, False)
    two = [Cut("fat", Fraction("70.9")), Cut("lean", Fraction("8.8"))]
    share = (20 - Fraction("8.8")) / (Fraction("70.9") - Fraction("8.8"))
    weighed = spread.spread(two, [share * 1000, (1 - share) * 1000])
    yield Check(
        source, "scale of 5 g deviation, on 1 kg at 20 %", 0.2606, weighed.from_scale(Fraction(5)), 0.0001, False
    )


def _patties() -> Iterator[Check]:
    disc = "disc of the density of 80/20, V = pi d^2 t / 4"
    fat = Fraction(20)
    for grams, across, thick in (
        ("113.398", 101.6, 13.57),
        ("113.398", 88.9, 17.72),
        ("151.197", 114.3, 14.30),
        ("170.097", 101.6, 20.36),
        ("226.796", 127.0, 17.37),
    ):
        ours = portion.thickness_mm(Fraction(grams), across, fat).value
        yield Check(disc, f"{grams} g, {across} mm across: thickness, mm", thick, ours, 0.02, False)
    for grams, thickness, wide in (("113.398", 19.05, 85.75), ("150", 16.0, 107.62), ("180", 20.0, 105.44)):
        ours = portion.diameter_mm(Fraction(grams), thickness, fat).value
        yield Check(disc, f"{grams} g, {thickness} mm thick: across, mm", wide, ours, 0.05, False)
    okos = "Choi and Okos (1986) component densities on SR28 composition"
    for parts, expected in (
        ((0.543, 0.1435, 0.3, 0.0135), 1.0174),
        ((0.6187, 0.1717, 0.2, 0.0096), 1.0307),
        ((0.6945, 0.2, 0.1, 0.0055), 1.0443),
    ):
        ours = portion.density_of(*parts)
        yield Check(okos, f"density of {1 - parts[2]:.0%} lean at 4 C, g/mL", expected, ours, 0.0005, False)
    middle = (1.006 + 1.033) / 2
    yield Check(
        "Pan and Singh (2001): 76 % lean, measured 1.006 to 1.033",
        "density of 23.8 % fat, g/mL",
        middle,
        portion.density(Fraction("23.8")),
        0.0145,
    )
    for percent, alike, flat in ((63, 0.8573, 0.7937), (69, 0.8837, 0.8307), (73, 0.9004, 0.8544)):
        bounds = portion.shrink_bounds(Fraction(percent))
        yield Check("cube and square root of the yield", f"{percent} % kept, alike", alike, bounds[0], 1e-4, False)
        yield Check("cube and square root of the yield", f"{percent} % kept, flat", flat, bounds[1], 1e-4, False)


def _buying() -> Iterator[Check]:
    yields = (
        ("cook-training trade mathematics, striploin", 5.2, 4.6, 88.5),
        ("Basic Kitchen and Food Service Management, BC Cook Articulation Committee", 2.5, 1.75, 70.0),
        ("Traster, Foundations of Cost Control, example 4a", 17.0, 10.0, 58.8),
        ("Traster, Foundations of Cost Control, example 4b", 8.0, 6.4375, 80.5),
        ("cooked yield test of a roast ribeye", 1605.0, 1468.0, 91.5),
    )
    for source, bought, kept, expected in yields:
        ours = float(cost.usable_percent(Fraction(str(bought)), Fraction(str(kept))))
        yield Check(source, f"{kept} usable of {bought}, percent", expected, ours, 0.05)
    needed = float(portion.purchase(Fraction("12.5"), Fraction(48)))
    yield Check(yields[1][0], "to buy for 12.5 kg at 52 % usable, kg", 24.04, needed, 0.011)
    loin = cost.cutting_test(
        Fraction(12),
        Fraction("6.65"),
        Fraction(6),
        [cost.ByProduct(Fraction(1), Fraction("6.1")), cost.ByProduct(Fraction("1.5"), Fraction("4.6"))],
    )
    card = "food-service cost-control textbook, exercise 6.3, lamb loin"
    yield Check(card, "paid for the piece", 79.80, float(loin.paid), 0.006)
    yield Check(card, "worth of the usable meat", 66.80, float(loin.worth), 0.006)
    yield Check(card, "usable meat, a pound", 11.13, float(loin.price), 0.006)
    yield Check(card, "cost factor", 1.67, float(loin.factor), 0.006)


def _seasonings() -> Iterator[Check]:
    source = "sodium is 39.34 % of salt by weight (atomic masses 22.990 and 35.453)"
    ours = float(season.salt_from_sodium(Fraction(100), Fraction(1000)))
    yield Check(source, "salt in 100 g of meat with 1000 mg sodium per 100 g, g", 2.542, ours, 0.003, False)
    ours = float(season.of_finished(Fraction(985), [Fraction("1.5")])[0])
    yield Check("rule of three", "1.5 % of the finished weight, on 985 g of meat, g", 15.0, ours, 1e-6, False)


def _learning() -> Iterator[Check]:
    # mass balance: 2000 g at 20 % less 300 g at 70 % leaves 1700 g with 190 g of fat
    whole, trim = (Ranged(fat, fat, fat) for fat in (Fraction(20), Fraction(70)))
    left = learn.after_trimming(whole, Fraction(2000), Fraction(300), trim)
    what = "2 kg at 20 %, 300 g at 70 % cut off: percent left"
    yield Check("mass balance of fat", what, 11.176, float(left.value), 0.001, False)


def _units() -> Iterator[Check]:
    nist = "NIST SP 811 (2008), appendix B: exact"
    for value, unit, other, expected in (
        (1, "lb", "g", 453.59237),
        (1, "oz", "g", 28.349523125),
        (1, "stone", "kg", 6.35029318),
        (1, "inch", "mm", 25.4),
        (212, "degF", "degC", 100.0),
        (-40, "degF", "degC", -40.0),
    ):
        yield Check(nist, f"{value} {unit} in {other}", expected, float(units.to(value, unit, other)), 1e-9)
    for inch, expected in (("1/8", 3.175), ("3/16", 4.7625), ("1/4", 6.35), ("3/8", 9.525), ("1/2", 12.7)):
        ours = float(units.to(Fraction(inch), "inch", "mm"))
        yield Check("25.4 mm to the inch, exact", f"plate of {inch} in, mm", expected, ours, 1e-9, False)


def _heat() -> Iterator[Check]:
    chart = "FoodSafety.gov, Safe Minimum Internal Temperature Chart"
    rows = safety_book().endpoints
    for key, what, expected in (
        ("us_ground_red", "ground beef, pork, veal, lamb, °F", 160.0),
        ("any_ground_poultry", "ground poultry, °F", 165.0),
    ):
        yield Check(chart, what, expected, float(rows[key].at.f), 0.0)
    yield Check("Food Standards Agency", "burgers, °C, held for 2 minutes", 70.0, float(rows["uk_ground"].at.c), 0.0)


def main() -> int:
    """Print the table as Markdown; 1 where a row does not agree."""
    print("| source | what | theirs | ours | difference | |")
    print("|---|---|---|---|---|---|")
    table = checks()
    for row in table:
        kind = "published" if row.published else "worked out"
        verdict = kind if row.agrees else f"{kind}, DIFFERS"
        print(f"| {row.source} | {row.what} | {row.expected:g} | {row.ours:.6g} | {row.difference:+.2g} | {verdict} |")
    print(f"\n{len(table)} checks, {sum(row.agrees for row in table)} agree.")
    return 0 if all(row.agrees for row in table) else 1


if __name__ == "__main__":
    sys.exit(main())
