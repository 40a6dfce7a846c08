"""What the topics of safety hear in a line, where no whole answer shows it."""

from __future__ import annotations

from datetime import date

import pytest

from assistant.language.sentence import read
from assistant.topics import heard

THURSDAY = date(2027, 6, 17)


@pytest.mark.parametrize(
    ("line", "shared"),
    [
        ("can cooked burgers go back on the plate I carried them out on raw?", True),
        ("raw burgers on a plate", False),
        ("cooked burgers on a clean plate", False),
        ("raw and cooked burgers in the fridge", False),
    ],
)
def test_a_plate_is_shared_by_raw_and_cooked(line: str, shared: bool) -> None:
    assert heard.shares_a_plate(read(line)) is shared


def test_poultry_counts_as_chicken_and_stuffed_meat_as_such() -> None:
    assert "chicken" in heard.meat(read("is minced poultry ok at 160 F")).species
    assert "stuffed meat" in heard.meat(read("stuffed burgers, what temperature")).species


def test_a_meat_that_no_rule_names_is_unsure_and_gets_the_strictest() -> None:
    found = heard.meat(read("kangaroo burgers, what temperature"))
    assert found.species == frozenset()
    assert found.unsure == ("kangaroo",)
