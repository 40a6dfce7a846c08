"""Every kind of request, said otherwise: other case, gaps, courtesies, order, units, a slip of the pen: the same figures.

`test_metamorphic.py` does this for random blends; here each kind has its own lines, with the other ways to say them.
"""

from __future__ import annotations

import pytest

from assistant.answer import Answer, Role, Status
from assistant.session import Conversation
from tests.test_metamorphic import figures, same

SAID_OTHERWISE = {
    # portions and people
    "8 burgers of 150 g": ("8 150 g burgers", "150 g burgers, 8 of them", "eight burgers of 150 grams", "8 burgers of 0.15 kg"),
    "10 lb into 6 oz patties": ("into 6 oz patties, 10 lb", "160 oz into 6 oz patties", "ten pounds into 6 oz patties"),
    "how many 4 oz patties from 5 lb": ("5 lb, how many 4 oz patties", "how many quarter pound patties from 5 pounds"),
    "feed 12 adults and 6 kids, 5 oz each": ("5 oz each, feed 6 kids and 12 adults", "feed twelve adults and six kids, 5 oz each"),
    # seasoning
    "12 g salt per kg for 2 kg": ("2 kg, 12 g salt per kg", "for 2000 g, 12 g of salt a kilo"),
    "1.5% salt and 0.3% pepper for 3 kg": ("3 kg, 0.3% pepper and 1.5% salt", "for 3000 g, 1.5 percent salt and 0.3 percent pepper"),
    "3 tsp salt per 5 lb, I have 8 lb": ("1 tbsp salt per 5 lb, I have 8 lb", "three teaspoons of salt per 5 pounds, I have 8 pounds"),
    # cost
    "chuck 3 lb at $5.99/lb and suet 1 lb at $2/lb, what does it cost": (
        "suet 1 lb at $2/lb and chuck 3 lb at $5.99/lb, what does it cost",
        "what does it cost: 3 lb chuck at $5.99 a pound and 1 lb suet at $2 a pound",
    ),
    # trimming and cooking losses
    "20 lb chuck, 12% loss in trimming, how much do I have": ("320 oz chuck, 12% loss in trimming, how much do I have",),
    "cook 5 lb of 80/20, what weight will it be cooked": ("cook 5 lb of 80% lean, what weight will it be cooked",),
    # heat, cold and time
    "is 145 F enough for burgers": ("is 145F enough for burgers?", "burgers: is 145 degrees F enough", "is 145 °F enough for hamburgers"),
    "mince sat out 3 hours at 70 F": ("mince sat out 180 minutes at 70 F", "at 70 F the mince sat out for three hours"),
    "how long does ground beef keep in the fridge": ("in the fridge how long does ground beef keep", "how long does mince keep in the refrigerator"),
    "what temperature for turkey burgers": ("turkey burgers, what temperature", "what temp for turkey burgers"),
    "how long to thaw 3 lb in cold water": ("in cold water how long to thaw 3 lb", "how long to thaw 48 oz in cold water", "how long to defrost three pounds in cold water"),
    # conversions
    "3 lb 6 oz in grams": ("3 pounds 6 ounces in grams", "convert 3 lb 6 oz to grams", "how many grams is 3 lb 6 oz"),
}  # fmt: skip
SLIPS = {
    "10 lb into 6 oz patties": "10 lb into 6 oz pattys",
    "8 burgers of 150 g": "8 burgres of 150 g",
    "12 g salt per kg for 2 kg": "12 g slat per kg for 2 kg",
    "chuck 3 lb at $5.99/lb and suet 1 lb at $2/lb, what does it cost": "chuk 3 lb at $5.99/lb and suet 1 lb at $2/lb, what does it cost",
}
DOUBLED = {
    "8 burgers of 150 g": "16 burgers of 150 g",
    "9 lb into 6 oz patties": "18 lb into 6 oz patties",
    "12 g salt per kg for 2 kg": "12 g salt per kg for 4 kg",
    "20 lb chuck, 12% loss in trimming, how much do I have": "40 lb chuck, 12% loss in trimming, how much do I have",
}


def ask(*lines: str) -> Answer:
    """The answer to the last line of a conversation."""
    conversation = Conversation()
    return [conversation.ask(line) for line in lines][-1]


def pairs() -> list[tuple[str, str]]:
    """Each line with each other way to say it."""
    return [(line, other) for line, others in SAID_OTHERWISE.items() for other in others]


@pytest.mark.parametrize("line", SAID_OTHERWISE)
def test_case_gaps_and_courtesies_change_nothing(line: str) -> None:
    plain = ask(line)
    assert plain.figures, plain.message
    for other in (line.capitalize(), line.replace(" ", "   "), f" {line}\t", f"please {line}", f"{line} please", f"hello, {line}, thanks"):  # fmt: skip
        same(plain, ask(other))


@pytest.mark.parametrize(("line", "other"), pairs())
def test_said_otherwise_it_is_the_same(line: str, other: str) -> None:
    left, right = ask(line), ask(other)
    assert right.topic == left.topic
    assert figures(right) == pytest.approx(figures(left), rel=1e-6)


@pytest.mark.parametrize(("line", "slip"), SLIPS.items())
def test_a_slip_of_the_pen_changes_nothing_and_is_told(line: str, slip: str) -> None:
    answer = ask(slip)
    same(ask(line), answer)
    assert any(note.startswith("Took ") for note in answer.notes)


@pytest.mark.parametrize(("line", "double"), DOUBLED.items())
def test_twice_as_much_is_twice_the_weight(line: str, double: str) -> None:
    once, twice = ask(line), ask(double)
    assert once.status is twice.status is Status.ANSWERED
    weights = [
        (one.value, two.value)
        for one, two in zip(once.figures, twice.figures, strict=False)
        if one.role in (Role.TOTAL, Role.SEASONING, Role.YIELD, Role.LEFT_OVER) and one.unit in ("g", "kg", "lb", "oz")
    ]
    assert weights
    assert all(float(two) == pytest.approx(2 * float(one)) for one, two in weights)
