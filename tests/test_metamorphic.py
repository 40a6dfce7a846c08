"""What may be changed in a request without changing the answer, and what must change with it.

The fats are given in the line, so that nothing here leans on a table.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant import Answer, Conversation, Role, Status, units
from tests.strategies import Blend, blends


def ask(*lines: str) -> Answer:
    """The answer to the last line of a conversation."""
    conversation = Conversation()
    return [conversation.ask(line) for line in lines][-1]


def figures(answer: Answer) -> dict[tuple[str, str], float | str]:
    """Every figure by role and name, weights in grams, spoons in millilitres."""
    assert answer.status is Status.ANSWERED, answer.message
    found = {}
    for figure in answer.figures:
        value = figure.value
        if not isinstance(value, str) and figure.unit in ("lb", "oz", "g", "kg"):
            value = float(units.grams(Fraction(value), figure.unit))
        elif not isinstance(value, str) and figure.unit in ("tsp", "tbsp", "cup"):
            value = float(units.to(Fraction(value), figure.unit, "ml"))
        found[figure.role.value, figure.name] = value
    return found


def same(left: Answer, right: Answer) -> None:
    """Both answers hold the same figures, whatever their units."""
    assert figures(left) == pytest.approx(figures(right), rel=1e-6)


def components(answer: Answer) -> dict[str, float]:
    """Grams of each part of a blend."""
    return {name: float(value) for (role, name), value in figures(answer).items() if role == Role.COMPONENT.value}


@given(blends())
def test_parts_add_up_to_the_batch_and_their_fat_to_its_fat(blend: Blend) -> None:
    answer = ask(blend.line())
    parts = [figure for figure in answer.figures if figure.role is Role.COMPONENT]
    total = sum(float(part.value) for part in parts)
    assert total == pytest.approx(float(blend.pounds), rel=1e-9)
    fat = sum(float(part.value) * (part.fat_percent or 0) for part in parts) / total
    assert fat == pytest.approx(blend.fat, abs=1e-6)
    assert all(float(part.value) >= 0 for part in parts)


@given(blends(), st.sampled_from(("upper", "capitalize", "title")))
def test_capitals_change_nothing(blend: Blend, how: str) -> None:
    line = blend.line()
    same(ask(line), ask(getattr(line, how)()))


@given(blends(), st.lists(st.integers(1, 4), min_size=20, max_size=20))
def test_white_space_changes_nothing(blend: Blend, gaps: Sequence[int]) -> None:
    words = blend.line().split(" ")
    spaced = "".join(word + " " * gap for word, gap in zip(words, gaps, strict=False))
    same(ask(blend.line()), ask(f"  {spaced}\t"))


@given(blends(), st.sampled_from(("please {}", "{} please", "{}, please!", "hello, {}, thanks", "could you do {}?")))
def test_courtesy_changes_nothing(blend: Blend, courtesy: str) -> None:
    same(ask(blend.line()), ask(courtesy.format(blend.line())))


@given(blends())
def test_the_unit_of_the_batch_changes_nothing(blend: Blend) -> None:
    kilos = units.to(blend.pounds, "lb", "kg")
    same(ask(blend.line()), ask(blend.line(f"{float(kilos):.9f} kg")))
    same(ask(blend.line()), ask(blend.line(f"{float(blend.pounds) * 16:g} oz")))


@given(blends())
def test_the_order_of_the_meats_changes_nothing(blend: Blend) -> None:
    turned = Blend(blend.pounds, blend.fat, blend.fat_meat, blend.lean_meat)
    same(ask(blend.line()), ask(turned.line()))


@given(blends())
def test_lean_and_fat_say_the_same(blend: Blend) -> None:
    ratio = f"{100 - blend.fat}/{blend.fat}"
    said = [f"{blend.fat}% fat", f"{100 - blend.fat}% lean", f"{100 - blend.fat}:{blend.fat}"]
    for other in said:
        same(ask(blend.line()), ask(blend.line().replace(ratio, other)))


@given(blends(), st.sampled_from((("double that", 2), ("halve that", 0.5), ("triple that", 3))))
def test_so_many_times_the_batch_is_so_many_times_each_part(blend: Blend, change: tuple[str, float]) -> None:
    words, factor = change
    once, more = components(ask(blend.line())), components(ask(blend.line(), words))
    assert more == pytest.approx({name: factor * grams for name, grams in once.items()}, rel=1e-9)


@given(blends(), st.sampled_from(("no {}", "without the {}", "leave out the {}")))
def test_a_meat_that_is_taken_out_is_out(blend: Blend, how: str) -> None:
    assume("suet" not in blend.fat_meat)
    third = f"{blend.line()} and suet 95%"
    answer = ask(third, how.format("suet"))
    assert "suet" not in components(answer)
    assert sum(components(answer).values()) == pytest.approx(float(units.grams(blend.pounds, "lb")), rel=1e-9)


@given(blends(), st.integers(1, 60))
def test_so_many_patties_share_the_batch(blend: Blend, count: int) -> None:
    answer = ask(f"{blend.line()}, into {count} patties")
    told = figures(answer)
    each = next(float(value) for (role, _), value in told.items() if role == Role.PATTY_WEIGHT.value)
    assert each * count == pytest.approx(float(units.grams(blend.pounds, "lb")), rel=1e-6)


@given(blends())
def test_what_was_understood_reads_back_to_the_same_request(blend: Blend) -> None:
    answer = ask(blend.line())
    again = ask(answer.understood)
    assert again.understood == answer.understood
    same(answer, again)


@pytest.mark.parametrize(
    ("words", "digits"),
    [
        ("three pounds", "3 lb"),
        ("a pound and a half", "1.5 lb"),
        ("half a dozen pounds", "6 lb"),
        ("two and a quarter kilos", "2.25 kg"),
        ("three quarters of a pound", "0.75 lb"),
        ("3/4 of a pound", "12 oz"),
        ("one hundred and twenty ounces", "120 oz"),
        ("1,5 kg", "1.5 kg"),
        ("1,500 g", "1.5 kg"),
        ("2½ lb", "2 lb 8 oz"),
        ("5#", "80 oz"),
    ],
)
def test_a_weight_in_words_or_digits_is_the_same_weight(words: str, digits: str) -> None:
    rest = "at 80/20 from round 8% and suet 92%"
    same(ask(f"{words} {rest}"), ask(f"{digits} {rest}"))


def test_numbers_of_the_line_are_never_lost_from_sight() -> None:
    """A figure more than was explained is asked about, not passed over."""
    base = "3 lb at 80/20 from round 8% and suet 92%"
    for extra in (" 17", " 250 g", " 45%", " 12 lb"):
        answer = ask(base + extra)
        told = " ".join((answer.message, answer.understood, *answer.notes))
        assert answer.status is not Status.ANSWERED or re.search(extra.strip().split()[0].rstrip("%"), told), extra
