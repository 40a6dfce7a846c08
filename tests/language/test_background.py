"""Numbers that only name something, told from those that count."""

import pytest

from assistant.language.background import background_ends
from assistant.language.scan import scan


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("class 4B has 28 kids", 3),
        ("table 7 wants burgers", 2),
        ("since 1998 we do 70", 2),
        ("at number 42 tonight", 3),
        ("im 73 and cooking", 2),
        ("im 73", 2),
        ("im 3 lb short", 0),
        ("in 200 g of mince", 0),
        ("number 2", 0),
        ("step 4", 0),
        ("batch 3 again", 0),
        ("year ²", 0),
    ],
)
def test_a_number_of_the_background_ends_after_what_it_names(text: str, taken: int) -> None:
    assert background_ends(scan(text), 0) == taken
