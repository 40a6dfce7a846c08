"""Published measurements that no single function states, held against what the engine gives."""

from __future__ import annotations

from fractions import Fraction

import pytest

from assistant import data
from assistant.engine import cook, portion


@pytest.mark.parametrize("grams_per_ml", [1.006, 1.033])
def test_density_of_ground_beef_as_measured(grams_per_ml: float) -> None:
    """23.8 % fat, 1.006 to 1.033 g/mL: Pan and Singh (2001), Lebensmittel-Wissenschaft und -Technologie 34:437-444."""
    ours = portion.density(Fraction("23.8"))
    assert abs(ours - grams_per_ml) / ours < portion.SIZE_BAND


@pytest.mark.parametrize(
    ("fat", "lost"),
    [(5, (24.7, 26.0)), (20, (24.7, 26.0)), (25, (28.9, 28.9)), (30, (32.1, 32.1))],
)
def test_cooking_loss_of_beef_patties_as_measured(fat: int, lost: tuple[float, float]) -> None:
    """Troutt et al. (1992), J. Food Science 57:25-29, cooked to 71 and 77 °C. The two sources lie up to 8 points apart:
    the table of yields steps from one class of fat to the next."""
    found = cook.cooked_yield(data.cooked_yields(), Fraction(fat), "broiled")
    assert found is not None
    kept = [100 - percent for percent in lost]
    assert min(abs(float(found.percent.value) - percent) for percent in kept) < 9


@pytest.mark.parametrize(
    ("fat", "lost", "narrower", "thinner"),
    # salted pork patties: fat, weight, diameter and thickness lost, all percent
    [
        ("10", 23.38, 21.29, 13.77),
        ("15", 24.18, 21.35, 14.34),
        ("20", 27.38, 23.12, 15.95),
        ("25", 27.88, 22.09, 15.68),
    ],
)
def test_pork_patties_shrink_more_across_than_alike(fat: str, lost: float, narrower: float, thinner: float) -> None:
    """Food Science of Animal Resources 36(4), table 2: why the weight alone does not tell the width."""
    alike, flat = portion.shrink_bounds(Fraction(str(100 - lost)))
    across = 1 - narrower / 100
    assert across < flat < alike
    assert portion.LEAST_SHRINK <= Fraction(str(narrower)) <= portion.MOST_SHRINK
    assert thinner < narrower
