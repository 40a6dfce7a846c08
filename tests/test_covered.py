"""The gate of coverage lets nothing through that it says it holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import covered

ROOT = Path(__file__).resolve().parents[1]


def test_enough_is_enough() -> None:
    assert covered.shortfalls(95.0, {"assistant/engine/blend.py": covered.EACH, "assistant/chat.py": 10.0}) == []


@pytest.mark.parametrize(
    ("percent", "files"),
    [
        (covered.ALL - 0.1, {}),
        (99.0, {"assistant/engine/blend.py": covered.EACH - 0.1}),
        (99.0, {"assistant/topics/safe/out.py": covered.EACH - 0.1}),
        (99.0, {"assistant/language/lexer.py": 50.0}),
    ],
)
def test_too_little_is_told(percent: float, files: dict[str, float]) -> None:
    assert len(covered.shortfalls(percent, files)) == 1


@pytest.mark.parametrize("pattern", covered.HELD_EACH)
def test_every_held_place_is_there(pattern: str) -> None:
    assert list(ROOT.glob(pattern)), "renamed: the gate would hold nothing"
