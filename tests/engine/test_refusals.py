"""What no engine function takes: each bad figure is refused by the name of its argument, and the edges are allowed.

One row per function: a call that works, and for its arguments the figures that must not. What each refusal says, which
a cook may come to read, stands in refusals.txt: `python -m tests.engine.test_refusals` writes it anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from assistant.engine import blend, cold, cook, correct, cost, kinds, learn, portion, safety, scale, season
from assistant.engine.kinds import Cut
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput

F = Fraction
SAID = Path(__file__).with_name("refusals.txt")
Call = tuple[Callable[..., Any], Mapping[str, Any], Mapping[str, tuple[Any, ...]]]
OVER = (F(-1), F(101), 20.0)
"""No percent: less than nothing, more than all, and a float, which is not exact."""

NOT_ABOVE_NOTHING = (F(-1), F(0), 2.5)
LESS_THAN_NOTHING = (F(-1), 2.5)
SUET = Cut("suet", F(90))
CALLS: list[Call] = [
    (cook.cooked_from_raw, {"raw": F(450), "percent": Ranged(F(70), F(65), F(75))}, {"raw": LESS_THAN_NOTHING}),
    (cook.raw_for_cooked, {"cooked": F(300), "percent": Ranged(F(70), F(65), F(75))}, {"cooked": LESS_THAN_NOTHING}),
    (
        cook.fat_kept,
        {"raw_fat": F(20), "cooked_fat": F(18), "percent": F(70)},
        {"raw_fat": (F(0), F(-1)), "cooked_fat": OVER, "percent": NOT_ABOVE_NOTHING},
    ),
    (
        correct.add_to_reach,
        {"mass": F(1000), "fat": F(10), "additions": [SUET], "target": F(20)},
        {"mass": NOT_ABOVE_NOTHING, "fat": OVER, "target": OVER},
    ),
    (
        correct.swap_to_reach,
        {"mass": F(1000), "fat": F(10), "replacements": [SUET], "target": F(20)},
        {"mass": NOT_ABOVE_NOTHING, "fat": OVER, "target": OVER},
    ),
    (
        correct.salt_after,
        {"mass": F(1000), "salt_percent": F(2), "added": F(200)},
        {"mass": NOT_ABOVE_NOTHING, "salt_percent": OVER, "added": LESS_THAN_NOTHING},
    ),
    (cost.per_gram, {"price": F(9), "grams": F(500)}, {"price": LESS_THAN_NOTHING, "grams": NOT_ABOVE_NOTHING}),
    (cost.price_for, {"price": F(1, 50), "grams": F(500)}, {"price": LESS_THAN_NOTHING, "grams": LESS_THAN_NOTHING}),
    (
        cost.usable_percent,
        {"bought": F(500), "usable": F(400)},
        {"bought": NOT_ABOVE_NOTHING, "usable": (F(-1), F(501))},
    ),
    (
        cost.usable_price,
        {"price": F(1, 50), "percent": F(80)},
        {"price": LESS_THAN_NOTHING, "percent": (F(0), F(-1), F(101))},
    ),
    (cost.shared, {"total": F(20), "count": 4}, {"total": LESS_THAN_NOTHING, "count": (0, -1)}),
    (cost.lean_price, {"price": F(10), "fat": F(20)}, {"price": LESS_THAN_NOTHING, "fat": OVER}),
    (
        cost.mass_for_budget,
        {"budget": F(20), "price": F(1, 50)},
        {"budget": LESS_THAN_NOTHING, "price": NOT_ABOVE_NOTHING},
    ),
    (cost.count_for_budget, {"budget": F(20), "each": F(2)}, {"budget": LESS_THAN_NOTHING, "each": NOT_ABOVE_NOTHING}),
    (cost.pays_off_after, {"spent": F(20), "saving": F(1, 50)}, {"spent": LESS_THAN_NOTHING, "saving": (0.02,)}),
    (
        learn.from_cook_out,
        {
            "raw": F(100),
            "cooked": F(70),
            "rendered": F(4),
            "kept": (learn.Kept(F(20), F(90)), learn.Kept(F(30), F(80))),
        },
        {
            "raw": NOT_ABOVE_NOTHING,
            "cooked": (F(-1),),
            "rendered": (F(-1), F(1)),
            "kept": ((), (learn.Kept(F(20), F(90)),), (F(20),)),
            "margin": OVER,
        },
    ),
    (
        learn.after_trimming,
        {"fat": Ranged(F(20)), "piece": F(1000), "cut_off": F(100), "trim_fat": Ranged(F(70))},
        {
            "fat": (Ranged(F(101)),),
            "piece": NOT_ABOVE_NOTHING,
            "cut_off": (F(-1), F(300), F(1000), F(1001)),
            "trim_fat": (Ranged(F(101)), Ranged(F(-1))),
        },
    ),
    (
        learn.from_parting,
        {"lean": F(700), "fat": F(300), "lean_fat": Ranged(F(8)), "trim_fat": Ranged(F(70))},
        {
            "lean": LESS_THAN_NOTHING,
            "fat": LESS_THAN_NOTHING,
            "lean_fat": (Ranged(F(101)),),
            "trim_fat": (Ranged(F(101)),),
        },
    ),
    (learn.kept_between, {"kept": (learn.Kept(F(20), F(90)),), "raw_fat": F(20)}, {"raw_fat": OVER}),
    (
        Cut,
        {"name": "chuck", "fat": F(20)},
        {
            "fat": OVER,
            "low": (F(-1), F(21), 19.5),
            "high": (F(19), F(101), 20.5),
            "at_least": LESS_THAN_NOTHING,
            "at_most": LESS_THAN_NOTHING,
            "share_at_least": (F(-1), F(2), 0.5),
            "share_at_most": (F(-1), F(2), 0.5),
            "price": LESS_THAN_NOTHING,
            "wish": NOT_ABOVE_NOTHING,
        },
    ),
    (
        kinds.mix,
        {"cuts": [SUET], "grams": [F(100)]},
        {"cuts": ([], ["suet"]), "grams": ([], [F(1), F(2)], [F(0)], [F(-1)], [2.5])},
    ),
    (
        blend.nearest,
        {"cuts": [SUET], "batch": F(1000)},
        {
            "cuts": ([], ["suet"]),
            "batch": NOT_ABOVE_NOTHING,
            "fat": OVER,
            "fat_at_most": OVER,
            "fat_at_least": OVER,
        },
    ),
    (portion.count_from, {"mass": F(1000), "each": F(150)}, {"mass": LESS_THAN_NOTHING, "each": NOT_ABOVE_NOTHING}),
    (portion.equal_shares, {"mass": F(1000), "count": 8}, {"mass": LESS_THAN_NOTHING, "count": (0, -1)}),
    (portion.mass_for, {"count": 8, "each": F(150)}, {"count": (-1,), "each": LESS_THAN_NOTHING}),
    (portion.rounds, {"count": 20, "at_a_time": 6}, {"count": (-1,), "at_a_time": (0, -1)}),
    (portion.even_rounds, {"count": 20, "at_a_time": 6}, {"count": (-1,), "at_a_time": (0, -1)}),
    (portion.bowls, {"mass": F(5000), "bowl": F(2000)}, {"mass": LESS_THAN_NOTHING, "bowl": NOT_ABOVE_NOTHING}),
    (
        portion.purchase,
        {"usable": F(1000), "loss_percent": F(10), "retained": F(50)},
        {"usable": LESS_THAN_NOTHING, "loss_percent": (F(-1), F(100), F(101)), "retained": LESS_THAN_NOTHING},
    ),
    (
        portion.usable_from,
        {"bought": F(1000), "loss_percent": F(10), "retained": F(50)},
        {"bought": LESS_THAN_NOTHING, "loss_percent": (F(-1), F(101)), "retained": LESS_THAN_NOTHING},
    ),
    (portion.density, {"fat": F(20)}, {"fat": (F(-1), F(101))}),
    (
        scale.weigh_out,
        {"grams": [F(600), F(400)], "fats": [F(10), F(40)], "step": F(5)},
        {
            "grams": ([F(-1), F(2)],),
            "fats": ([F(101), F(1)], [F(1)]),
            "step": NOT_ABOVE_NOTHING,
            "at_least": ([F(-1), F(0)], [F(0)]),
            "at_most": ([F(-1), None], []),
        },
    ),
    (season.of_meat, {"meat": F(1000), "percent": F(2)}, {"meat": LESS_THAN_NOTHING, "percent": (F(-1),)}),
    (
        season.percent_of_meat,
        {"grams": F(20), "meat": F(1000)},
        {"grams": LESS_THAN_NOTHING, "meat": NOT_ABOVE_NOTHING},
    ),
    (
        season.by_rate,
        {"meat": F(1000), "amount": F(2), "per": F(454)},
        {"meat": LESS_THAN_NOTHING, "amount": LESS_THAN_NOTHING, "per": NOT_ABOVE_NOTHING},
    ),
    (
        season.scale_mix,
        {"amounts": [F(2)], "written_for": F(454), "wanted_for": F(1000)},
        {"amounts": ([F(-1)],), "written_for": NOT_ABOVE_NOTHING, "wanted_for": LESS_THAN_NOTHING},
    ),
    (
        season.salt_to_add,
        {"meat": F(1000), "percent": F(2), "already": F(1)},
        {"meat": LESS_THAN_NOTHING, "percent": (F(-1),), "already": (F(-1),)},
    ),
    (
        season.salt_from_sodium,
        {"grams": F(100), "sodium": F(500)},
        {"grams": LESS_THAN_NOTHING, "sodium": LESS_THAN_NOTHING},
    ),
    (safety.thaw, {"mass_g": 900, "thickness_mm": 25}, {"mass_g": (0, -1), "thickness_mm": (0, -1)}),
    (safety.out_of_fridge, {"minutes": 30, "ambient_f": 70}, {"minutes": (-1,)}),
    (safety.power_cut, {"hours": 3, "place": "fridge"}, {"hours": (-1,), "place": ("cellar",)}),
    (safety.refreeze, {"how_thawed": "fridge", "minutes_out": 30}, {"how_thawed": ("sun",)}),
    (safety.keeps, {"food": "ground meat", "where": "fridge"}, {"food": ("cake",), "where": ("cellar",)}),
    (safety.endpoint, {"species": {"beef"}}, {"species": (set(), {"dragon"}), "country": ("moon",)}),
    (cold.firm_cubes, {"side_mm": 25}, {"side_mm": (0, -1), "freezer_c": (5,), "start_c": (-30,)}),
    (cold.freeze_patties, {"thickness_mm": 13}, {"thickness_mm": (0, -1), "stack": (0,), "freezer_c": (5,)}),
    (cold.lots, {"mass_g": 2000}, {"mass_g": (0, -1)}),
]


def refusals() -> Iterator[Any]:
    """Every call with one figure made bad."""
    for function, good, bad in CALLS:
        for argument, values in bad.items():
            for value in values:
                name = f"{function.__module__.rsplit('.', 1)[1]}.{function.__name__}({argument}={value})"
                yield pytest.param(function, {**good, argument: value}, argument, value, id=name)


@pytest.mark.parametrize(("function", "good"), [call[:2] for call in CALLS])
def test_the_good_call_is_taken(function: Callable[..., Any], good: Mapping[str, Any]) -> None:
    function(**good)


@pytest.mark.parametrize(("function", "arguments", "argument", "value"), list(refusals()))
def test_a_bad_figure_is_refused_by_name(
    function: Callable[..., Any], arguments: Mapping[str, Any], argument: str, value: object
) -> None:
    with pytest.raises(BadInput) as refused:
        function(**arguments)
    assert refused.value.argument == argument
    if isinstance(value, Fraction | int):
        assert refused.value.value == value


def told() -> str:
    """What every refusal says, a line each."""
    lines = []
    for case in refusals():
        function, arguments, _, _ = case.values
        try:
            function(**arguments)
        except BadInput as refused:
            lines.append(f"{case.id}: {refused}\n")
    return "".join(lines)


def test_refusals_say_what_they_said() -> None:
    assert told() == SAID.read_text(encoding="utf-8")


if __name__ == "__main__":
    SAID.write_text(told(), encoding="utf-8")
