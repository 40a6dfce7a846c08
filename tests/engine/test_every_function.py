"""A walk over every public function of the engine: bad input raises BadInput, which names the argument and what would do.

The solver's own parts (fills, simplex, solve, nearest, why_not) are called by `blend` and `packs` alone, with what those
have checked, and are left out.
"""

from __future__ import annotations

import inspect
from datetime import UTC, date, datetime
from fractions import Fraction
from importlib import import_module
from types import ModuleType
from typing import Any

import pytest

from assistant import data
from assistant.engine.blend import Cut
from assistant.engine.cost import Bought, ByProduct
from assistant.engine.learn import Kept
from assistant.engine.packs import Pack
from assistant.engine.portion import Group
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

MODULES = (
    *("blend", "correct", "cost", "packs", "portion", "cook", "season", "spread", "learn", "scale", "cold", "safety"),
    "kinds",
)
F = Fraction
CUTS = [Cut("lean", F(5), price=F(1), at_most=F(900), at_least=F(10)), Cut("fat", F(60), price=F(1), at_most=F(900))]
KEPT = [Kept(F(10), F(80)), Kept(F(30), F(50))]
SIX = datetime(2026, 6, 19, 18, 0, tzinfo=UTC)
VALID: dict[str, dict[str, Any]] = {
    **{f"blend.{name}": {"cuts": CUTS, "batch": F(1000)} for name in ("leanest", "fattest", "reach")},
    **{f"blend.{name}": {"cuts": CUTS, "batch": F(1000), "fat": F(20)} for name in ("nearest", "cheapest")},
    "blend.most_of": {"cuts": CUTS, "batch": F(1000), "which": 0, "fat": F(20)},
    **{f"blend.{name}": {"cuts": CUTS, "fat": F(20)} for name in ("largest", "complete")},
    "correct.add_to_reach": {"mass": F(1000), "fat": F(30), "additions": CUTS, "target": F(20)},
    "correct.swap_to_reach": {"mass": F(1000), "fat": F(30), "replacements": CUTS, "target": F(20)},
    "correct.salt_after": {"mass": F(1000), "salt_percent": F(1), "added": F(100)},
    "cost.per_gram": {"price": F(5), "grams": F(454)},
    "cost.price_for": {"price": F(5), "grams": F(454)},
    "cost.usable_percent": {"bought": F(10), "usable": F(8)},
    "cost.usable_price": {"price": F(5), "percent": F(80)},
    "cost.cutting_test": {"bought": F(10), "price": F(5), "usable": F(8), "by_products": [ByProduct(F(1), F(1))]},
    "cost.blend_cost": {"cuts": [Bought(F(1), F(1))]},
    "cost.shared": {"total": F(10), "count": 4},
    "cost.lean_price": {"price": F(5), "fat": F(20)},
    "cost.compare": {"own": F(5), "own_fat": F(20), "shop": F(6), "shop_fat": F(15)},
    "cost.break_even_price": {"wanted": F(5), "others": [Bought(F(1), F(1))], "grams": F(10), "percent": F(90)},
    "cost.pays_off_after": {"spent": F(100), "saving": F(1)},
    "cost.mass_for_budget": {"budget": F(10), "price": F(2)},
    "cost.count_for_budget": {"budget": F(10), "each": F(2)},
    "packs.cheapest_packs": {
        "cuts": CUTS,
        "packs": [Pack(0, F(500), F(5)), Pack(1, F(500), F(2))],
        "batch": F(900),
        "fat": F(20),
        "have": [F(0), F(0)],
    },
    "portion.count_from": {"mass": F(1000), "each": F(150)},
    "portion.equal_shares": {"mass": F(1000), "count": 6},
    "portion.mass_for": {"count": 6, "each": F(150)},
    "portion.rounds": {"count": 45, "at_a_time": 20},
    "portion.even_rounds": {"count": 45, "at_a_time": 20},
    "portion.bowls": {"mass": F(1000), "bowl": F(300)},
    "portion.for_people": {"groups": [Group(4, F(1), F(150))], "spare_percent": F(10)},
    "portion.purchase": {"usable": F(1000), "loss_percent": F(10), "retained": F(20)},
    "portion.usable_from": {"bought": F(1000), "loss_percent": F(10), "retained": F(20)},
    "portion.density_of": {"water": 0.6, "protein": 0.2, "fat": 0.19, "ash": 0.01, "celsius": 4.0},
    "portion.density": {"fat": F(20)},
    "portion.thickness_mm": {"grams": F(150), "diameter_mm": 110.0, "fat": F(20)},
    "portion.diameter_mm": {"grams": F(150), "thickness_mm": 18.0, "fat": F(20)},
    "portion.patty_grams": {"diameter_mm": 110.0, "thickness_mm": 18.0, "fat": F(20)},
    "portion.raw_diameter": {"cooked": 100.0, "shrink_percent": F(20)},
    "portion.shape_for_bun": {"bun": 100.0},
    "portion.shrink_bounds": {"yield_percent": F(70)},
    "cook.cooked_yield": {"rows": data.cooked_yields(), "fat": F(20), "method": "broiled", "fat_range": (F(18), F(22))},
    "cook.cooked_from_raw": {"raw": F(100), "percent": Ranged(F(70), F(65), F(75))},
    "cook.raw_for_cooked": {"cooked": F(100), "percent": Ranged(F(70), F(65), F(75))},
    "cook.cooked_diameter": {"raw": 110.0},
    "cook.fat_kept": {"raw_fat": F(20), "cooked_fat": F(17), "percent": F(69)},
    "season.of_meat": {"meat": F(1000), "percent": F(1)},
    "season.percent_of_meat": {"grams": F(10), "meat": F(1000)},
    "season.of_finished": {"meat": F(1000), "percents": [F(1), F(2)]},
    "season.percent_of_finished": {"grams": [F(10), F(2)], "meat": F(1000)},
    "season.by_rate": {"meat": F(1000), "amount": F(1), "per": F(454)},
    "season.scale_mix": {"amounts": [F(1), F(2)], "written_for": F(1000), "wanted_for": F(2000)},
    "season.judge_salt": {"percent": F(1)},
    "season.salt_from_sodium": {"grams": F(100), "sodium": F(600)},
    "season.salt_to_add": {"meat": F(1000), "percent": F(2), "already": F(5)},
    "season.spoons_weigh": {"amount": F(1), "unit": "tsp", "teaspoon": F(6), "tablespoon": F(18), "spoon_set": "us"},
    "season.spoonfuls": {"grams": F(10), "teaspoon": F(6), "tablespoon": F(18), "spoon_set": "us", "within": F(2)},
    "spread.spread": {"cuts": CUTS, "grams": [F(10), F(20)]},
    "learn.after_trimming": {"fat": Ranged(F(30)), "piece": F(1000), "cut_off": F(100), "trim_fat": Ranged(F(70))},
    "learn.from_parting": {"lean": F(800), "fat": F(200), "lean_fat": Ranged(F(5)), "trim_fat": Ranged(F(70))},
    "learn.kept_between": {"kept": KEPT, "raw_fat": F(20)},
    "learn.from_cook_out": {"raw": F(100), "cooked": F(70), "rendered": F(8), "kept": KEPT, "margin": F(5)},
    "scale.weigh_out": {
        "grams": [F(10), F(20)],
        "fats": [F(5), F(60)],
        "step": F(5),
        "at_least": [F(0), F(0)],
        "at_most": [F(100), None],
    },
    "cold.firm_cubes": {"side_mm": 25, "freezer_c": -18, "start_c": 4, "firmness": "firm", "arrangement": "spaced"},
    "cold.freeze_patties": {"thickness_mm": 15, "stack": 1, "freezer_c": -18},
    "cold.lots": {"mass_g": 2000, "machine": "grinder"},
    "safety.endpoint": {"species": ["beef"], "country": "us"},
    "safety.judge_temperature": {"f": 160, "species": ["beef"], "country": "us"},
    "safety.cook_caution": {"species": ["beef"], "country": "us"},
    "safety.out_of_fridge": {"minutes": 30, "ambient_f": 70},
    "safety.keeps": {"food": "ground meat", "where": "fridge", "at_f": 38},
    "safety.use_by": {"start": date(2026, 6, 1), "food": "ground meat", "where": "fridge", "at_f": 38},
    "safety.thaw": {"mass_g": 1000, "method": "fridge", "thickness_mm": 30},
    "safety.take_out": {"ready": SIX, "mass_g": 1000, "thickness_mm": 30},
    "safety.refreeze": {"how_thawed": "fridge", "minutes_out": 10, "ambient_f": 70, "country": "us"},
    "safety.power_cut": {"hours": 2, "place": "fridge", "food_f": 38},
    "kinds.above_nothing": {"value": F(1), "argument": "grams"},
    "kinds.exact": {"value": F(1), "argument": "grams"},
    "kinds.all_are": {"argument": "cuts", "values": CUTS, "kind": Cut},
    "portion.length": {"argument": "bun", "value": 100.0},
    "kinds.mix": {"cuts": CUTS, "grams": [F(10), F(20)]},
}
CHECKED_BY_THEIR_CALLERS = {"cold.cube_seconds", "safety.hours_before"}
"""Steps of a sum that only their own module takes, and the tests of it."""
NO_ARGUMENTS = {"safety.known_species", "safety.licensed_combinations"}
NUMBERS = ("Fraction", "int", "float", "Number")
LISTS = ("Sequence[Fraction]", "Sequence[Fraction | None]", "Sequence[Cut]", "Sequence[Bought]", "Sequence[Group]")
NAMES = (
    "unit",
    "spoon_set",
    "country",
    "where",
    "method",
    "place",
    "how_thawed",
    "food",
    "machine",
    "firmness",
    "arrangement",
)
EMPTY_IS_FINE = {"cost.break_even_price", "season.of_finished", "season.percent_of_finished", "season.scale_mix"}
"""Nothing beside the one cut, and no seasoning at all, are answers too."""


ALIASES = {
    # told by the rule that judges them
    ("safety.refreeze", "minutes_out"): "minutes",
    # two lists that do not fit each other: the second is named
    ("scale.weigh_out", "grams"): "fats",
    # named as the caller says
    ("portion.length", "value"): "bun",
    ("kinds.above_nothing", "value"): "grams",
    ("kinds.exact", "value"): "grams",
}


def public() -> list[str]:
    """Every public function of the walked modules, by module and name."""
    found = []
    for name in MODULES:
        module: ModuleType = import_module(f"assistant.engine.{name}")
        for function, value in vars(module).items():
            if "__mutmut_" in function:
                continue  # a changed copy, where mutants are made
            if inspect.isfunction(value) and value.__module__ == module.__name__ and not function.startswith("_"):
                found.append(f"{name}.{function}")
    return found


def bad_values(name: str, parameter: inspect.Parameter) -> list[object]:
    """What this argument must not be: no number, below anything, not a name that is known, nothing at all."""
    wanted = str(parameter.annotation).removesuffix(" | None")
    if wanted in NUMBERS:
        return (
            ["lots"]
            if parameter.name in ("freezer_c", "start_c", "celsius", "saving", "ambient_f", "at_f")
            else ["lots", F(-1000)]
        )
    if wanted in LISTS:
        return (
            [["lots"]]
            if name in EMPTY_IS_FINE or parameter.name in ("additions", "replacements", "at_most")
            else [["lots"], []]
        )
    # a way of cooking that no table has is an answer: None
    return ["nonsense"] if parameter.name in NAMES and name != "cook.cooked_yield" else []


def cases() -> list[tuple[str, str, object]]:
    """(function, argument, bad value) for the whole walk."""
    found: list[tuple[str, str, object]] = []
    for name, valid in VALID.items():
        for parameter in inspect.signature(function(name)).parameters.values():
            if parameter.name in valid:
                found += [(name, parameter.name, bad) for bad in bad_values(name, parameter)]
    return found


def function(name: str) -> Any:
    """The function of that name."""
    module, attribute = name.split(".")
    return getattr(import_module(f"assistant.engine.{module}"), attribute)


def test_the_walk_leaves_none_out() -> None:
    assert set(public()) == set(VALID) | CHECKED_BY_THEIR_CALLERS | NO_ARGUMENTS


@pytest.mark.parametrize("name", VALID)
def test_good_input_is_taken(name: str) -> None:
    function(name)(**VALID[name])


@pytest.mark.parametrize(("name", "argument", "bad"), cases(), ids=lambda value: str(value))
def test_bad_input_is_refused_by_name(name: str, argument: str, bad: object) -> None:
    with pytest.raises(BadInput) as caught:
        function(name)(**{**VALID[name], argument: bad})
    refused = caught.value
    assert refused.argument == ALIASES.get((name, argument), argument)
    assert refused.wanted
    assert str(refused.value) in str(refused)
