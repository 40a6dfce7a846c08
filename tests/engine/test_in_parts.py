"""Blends in which some cuts keep a proportion, against the equations that they have to fulfil."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import linalg

from assistant.engine import in_parts
from assistant.engine.kinds import Blend, Cut, NoBlend, Reason

PERCENT = st.integers(2, 40).map(Fraction)
PART = st.integers(1, 5).map(Fraction)


@given(lean=PERCENT, middle=PERCENT, fat=st.integers(60, 95).map(Fraction), few=PART, many=PART)
def test_the_parts_stand_and_the_fat_is_reached(
    lean: Fraction, middle: Fraction, fat: Fraction, few: Fraction, many: Fraction
) -> None:
    """Three unknowns and three equations: the weight, the fat and the proportion (solved by scipy)."""
    cuts = [Cut("lean", lean), Cut("middle", middle), Cut("fat", fat)]
    mean = (few * lean + many * middle) / (few + many)
    wanted = (mean + fat) / 2
    found = in_parts.nearest(cuts, [few, many, None], Fraction(1000), fat=wanted)
    assert isinstance(found, Blend)
    rows = [[1, 1, 1], [float(lean), float(middle), float(fat)], [float(many), -float(few), 0]]
    solved = linalg.solve(rows, [1000, 1000 * float(wanted), 0])
    assert [float(grams) for grams in found.grams] == pytest.approx(list(solved), rel=1e-9, abs=1e-6)
    assert found.fat == wanted


def test_a_proportion_that_does_not_reach_the_fat_is_no_blend() -> None:
    """Two lean cuts and a leaner one: what is wanted is too fat for them."""
    cuts = [Cut("chuck", Fraction(16)), Cut("round", Fraction(7)), Cut("flank", Fraction(7))]
    found = in_parts.nearest(cuts, [Fraction(1), Fraction(1), None], Fraction(1000), fat=Fraction(20))
    assert isinstance(found, NoBlend)
    assert found.reason is Reason.TOO_FAT
