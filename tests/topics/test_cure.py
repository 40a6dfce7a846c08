"""Curing salt: the sum of somebody else's tested rate, and never a dose of ours."""

from __future__ import annotations

import pytest

from assistant.answer import Status
from assistant.session import Conversation


@pytest.mark.parametrize(
    "line",
    [
        # raised: a weight was divided by a spoon
        "2 oz a tsp of curing salt #2 for 5 lb",
        "a pounds two oz -1 pounds a tsp round # 2 curing salt",
    ],
)
def test_a_cure_by_the_spoon_is_refused(line: str) -> None:
    answer = Conversation().ask(line)
    assert answer.status is Status.IMPOSSIBLE
    assert "no dose" in answer.message
