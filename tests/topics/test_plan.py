"""The batch in words: what a cook types, and the blend, portion or question that comes back."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from assistant import units
from assistant.answer import Answer, Role, Status
from assistant.session import Conversation


def _parts(answer: Answer) -> dict[str, float]:
    return {f.name: float(f.value) for f in answer.figures if f.role == "component"}


def test_common_rules_of_thumb_are_told_as_they_are() -> None:
    # common practice, no source: two parts sirloin to one of bacon near 80/20 (SR28: 78/22);
    # equal chuck and sirloin taken for 80/20 (SR28: about 86/14, 82/18 to 89/11 as bought)
    bacon = Conversation().ask("two parts sirloin to one part bacon, 3 lb")
    fat = next(f for f in bacon.figures if f.role == "fat")
    assert float(fat.value) == pytest.approx(21.7, abs=0.2)
    equal = Conversation().ask("is chuck and sirloin half and half 80/20?")
    assert equal.headline.startswith("Equal parts are 86/14 (82/18 to 89/11 as bought), not 80/20")


@pytest.mark.parametrize(
    "line", ["4 lb 70/30 out of top round and flank steak", "5 lb of 95/5 from chuck 15% and brisket 30%"]
)
def test_a_target_out_of_reach_is_impossible_with_the_reach_named(line: str) -> None:
    answer = Conversation().ask(line)
    assert answer.status is Status.IMPOSSIBLE
    assert "cannot be reached" in answer.message
    assert any(f.role == "fat" for f in answer.figures)


def test_negated_cuts_stay_out() -> None:
    answer = Conversation().ask("4 lb of 75/25 from round at 8% fat and pork belly at 50% fat, no bacon please")
    assert set(_parts(answer)) == {"round", "pork belly"}


def test_parts_add_up_to_the_batch_in_every_unit() -> None:
    for unit in ("lb", "kg", "oz", "g"):
        answer = Conversation().ask(f"300 {unit} at 80/20 from round 8% and suet 90%")
        assert sum(_parts(answer).values()) == pytest.approx(300)


def test_doubling_doubles_and_undo_restores() -> None:
    talk = Conversation()
    first = _parts(talk.ask("5 lb 80/20 from round 8% and suet 90%"))
    double = _parts(talk.ask("double it"))
    assert double == pytest.approx({name: 2 * weight for name, weight in first.items()})
    assert _parts(talk.ask("undo")) == pytest.approx(first)


def test_fixed_product_is_not_an_ingredient() -> None:
    answer = Conversation().ask("2 kg of pork mince at 25% from pork shoulder and pork belly")
    assert set(_parts(answer)) == {"pork shoulder", "pork belly"}


def test_fixed_weight_beside_a_run_together_ratio_is_the_batch() -> None:
    assert sum(_parts(Conversation().ask("2 kg 8020 topside 6% suet 90%")).values()) == pytest.approx(2)


def test_fixed_unicorn_flank_is_not_flank() -> None:
    assert Conversation().ask("unicorn flank and suet, 2 kg at 20%").status is not Status.ANSWERED


def test_mass_balance_holds_exactly() -> None:
    answer = Conversation().ask("6 lb at 22 from round 8%, chuck 20% and trim 60%")
    parts = [f for f in answer.figures if f.role == "component"]
    fat = sum(Fraction(f.value) * Fraction(f.fat_percent or 0) for f in parts) / 6
    assert float(fat) == pytest.approx(22)


@pytest.mark.parametrize(
    ("line", "meat_lb", "each_oz"),
    [
        ("1.5 lb at 79/21 from round 8% and suet 92%, into 6 patties", 1.5, 4),
        ("1 lb at 80/20 from round 8% and suet 92% for 4 people", 1, 4),
        ("1 lb, 4 burgers", 1, 4),
        ("4 burgers from 1 lb", 1, 4),
        ("1 lb for 4 people", 1, 4),
        ("6 burgers, 1/2 lb, 80/20 from round 8% and suet 92%", 3, 8),
        ("10 burgers, 12 oz", 7.5, 12),
    ],
)
def test_fixed_a_small_batch_beside_a_count_is_no_patty_weight(line: str, meat_lb: float, each_oz: float) -> None:
    answer = Conversation().ask(line)
    each = next(figure for figure in answer.figures if figure.role == "patty_weight")
    total = next(figure for figure in answer.figures if figure.role == "total")
    assert float(units.to(Fraction(each.value), each.unit, "oz")) == pytest.approx(each_oz)
    assert float(units.to(Fraction(total.value), total.unit, "lb")) == pytest.approx(meat_lb)


def test_fixed_brisket_trim_and_brisket_are_two_meats() -> None:
    answer = Conversation().ask("2 lb at 75/25 from brisket trim 45% and brisket 20%")
    assert set(_parts(answer)) == {"brisket trim", "brisket"}


@pytest.mark.parametrize(
    ("line", "weights"),
    [
        # was 1 lb of suet, and 15.5% fat
        ("a pound and a half of chuck at 15% and half a pound of suet", {"chuck": 1.5, "suet": 0.5}),
        # was 1 lb of suet and 2.5 lb of round
        ("2 lb round at 8% and half a pound of suet, what fat", {"round": 2, "suet": 0.5}),
        ("round 2 lb and half a pound suet, what fat", {"round": 2, "suet": 0.5}),
        # was half of it all
        ("pound and a half of round and half a pound of suet, what fat", {"round": 1.5, "suet": 0.5}),
        ("kilo and a quarter of round and 250 g suet, what fat", {"round": 1.25, "suet": 0.25}),
    ],
)
def test_and_a_half_belongs_to_the_amount_that_it_ends(line: str, weights: dict[str, float]) -> None:
    assert _parts(Conversation().ask(line)) == pytest.approx(weights)


def test_half_of_it_is_a_share_and_no_half_pound_more() -> None:
    assert "5 1/2" not in Conversation().ask("5 lb and half of it chuck").understood


def test_the_size_of_packs_is_not_the_meat_in_hand() -> None:
    answer = Conversation().ask("chuck comes in 2.5 lb packs and round in 3 lb packs, i need 8 lb 80/20")
    assert answer.status is Status.NOT_UNDERSTOOD
    assert _parts(Conversation().ask("two 2 lb packs of chuck and a 1 lb pack of suet")) == {"chuck": 4, "suet": 1}


def test_a_joining_word_beside_a_percent_is_no_meat() -> None:
    # was a meat called "after" of 3% fat
    answer = Conversation().ask("how many 4 oz patties from 5 lb after 3% loss")
    assert "after at" not in answer.understood
    # 4.85 lb are left, 19.4 patties
    assert next(figure.value for figure in answer.figures if figure.role is Role.PATTY_COUNT) == 19
    answer = Conversation().ask("how many 4 oz burgers out of 5 lb once trimmed by 10%")
    assert answer.status is not Status.ANSWERED
    assert "once trimmed at" not in answer.understood


@pytest.mark.parametrize(
    "line", ["90VL and 50VL and 50VL into 25 kg of 75VL", "equal amounts of 93/7 and 93/7, 4 lb in all"]
)
def test_two_lots_of_one_mix_are_two_parts(line: str) -> None:
    # the second was dropped from the figures where both weighed the same, and the parts did not make the batch
    answer = Conversation().ask(line)
    parts = [figure for figure in answer.figures if figure.role is Role.COMPONENT]
    total = next(figure for figure in answer.figures if figure.role is Role.TOTAL)
    assert sum(part.value for part in parts) == pytest.approx(total.value)  # type: ignore[misc]


@pytest.mark.parametrize(
    ("line", "patties", "grams"),
    [
        ("fifty 4 oz patties and twenty 6 oz patties how much meat", 70, 20 * 453.59237),
        ("8 burgers at 5 oz plus 4 at 3 oz", 12, 3.25 * 453.59237),
        ("20 patties of 150 g and 10 of 100 g", 30, 4000),
    ],
)
def test_fixed_lots_of_two_sizes_are_both_counted(line: str, patties: int, grams: float) -> None:
    answer = Conversation().ask(line)
    meat = next(figure for figure in answer.figures if figure.role is Role.TOTAL)
    assert next(f.value for f in answer.figures if f.role is Role.PATTY_COUNT) == patties
    assert isinstance(meat.value, float)
    assert float(units.grams(Fraction(meat.value), meat.unit)) == pytest.approx(grams)


@pytest.mark.parametrize("said", ["2 burgers each", "two burgers a head", "2 each"])
def test_patties_each_are_for_the_people_on_the_table(tmp_path: Path, said: str) -> None:
    """Named after a fault: "2 burgers each" after "60 guests" was passed over, and 90 patties stayed 90."""
    talk = Conversation(tmp_path / "notebook.db")
    talk.ask("60 guests")
    assert "120 patties" in talk.ask(said).headline
