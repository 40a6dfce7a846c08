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


@pytest.mark.parametrize(
    "line",
    [
        "cure 1 at 2.5 g per kg for 3 lb",
        # "#1" was taken for the number of a grinder and set aside
        "#1 cure at 2.5 g per kg for 3 lb",
        "number 1 cure at 2.5 g per kg for 3 lb",
    ],
)
def test_the_number_of_a_cure_is_part_of_its_name(line: str) -> None:
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    assert answer.figures[0].shown == "3.4 g"
    assert "1" in answer.headline.split("cure")[-1] + answer.headline.split("of")[-1]
    assert not any("Set aside" in note for note in answer.notes)


def test_a_cure_of_nothing_is_no_dose() -> None:
    assert Conversation().ask("0.25% cure #1 for 0 kg").status is Status.IMPOSSIBLE
    assert Conversation().ask("cure #1 at 0 g per kg for 3 lb").status is Status.IMPOSSIBLE


def test_an_odd_rate_of_a_cure_is_told_back_so_that_it_reads_back() -> None:
    answer = Conversation().ask("cure #1 at 1/7 g per 3 lb for 2 1/3 kg")
    assert answer.understood == "cure #1 at 1/7 g per 3 lb, for 2 1/3 kg"
    assert Conversation().ask(answer.understood).figures == answer.figures
