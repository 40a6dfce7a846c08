"""Questions of the hand: what was asked is recognised, whatever else stands in the line, and figures go elsewhere."""

from __future__ import annotations

import pytest

from assistant import Conversation, Role, Status
from assistant.topics.craft.advice import ADVICE

ASKED = [
    ("should i put paper between patties?", "Whether paper goes between patties"),
    ("do i stack patties with wax paper", "Whether paper goes between patties"),
    ("how do i label my packs", "What goes on a label"),
    ("what should i write on the freezer bag", "What goes on a label"),
    ("why do my burgers fall apart", "Why patties fall apart"),
    ("burgers keep crumbling on the grill", "Why patties fall apart"),
    ("patties wont stick together", "Why patties fall apart"),
    ("burgers puff up in the middle", "Why patties puff up in the middle"),
    ("do i make a dimple in the patty", "Why patties puff up in the middle"),
    ("why are my burgers tough", "Why burgers turn out tough or rubbery"),
    ("burgers are rubbery", "Why burgers turn out tough or rubbery"),
    ("my burgers came out dry", "Why burgers turn out dry"),
    ("should I press the burgers down with the spatula", "Whether to press burgers while they cook"),
    ("patties stick to the grill", "Why patties stick"),
    ("do i oil the grill or the burger", "Why patties stick"),
    ("how often do I flip", "How often to turn burgers"),
    ("do I need egg or breadcrumbs in burgers", "Whether burgers need egg or crumbs"),
    ("how do i shape patties", "How to shape patties"),
    ("how big should the cubes be", "How big to cut the cubes"),
    ("do i trim the silverskin", "What to trim and what to leave"),
    ("should i leave the fat cap on", "What to trim and what to leave"),
    ("do I need to sharpen the blade", "How the knife goes in, and when to sharpen it"),
    ("which way round does the knife go", "How the knife goes in, and when to sharpen it"),
    ("how do i get the last bit of meat out of the grinder", "How to get the last meat out of the grinder"),
    ("can i add ice to the meat when grinding", "Whether ice goes in with the meat"),
    ("how long should i mix the meat", "How long to mix"),
    ("how do I mix seasoning in evenly", "How long to mix"),
    ("should i vacuum seal or wrap", "How to pack and wrap"),
    ("why is there water in my mince after thawing", "Why thawed meat drips"),
    ("how do I stop freezer burn", "How to avoid freezer burn"),
    ("can i make burgers the day before", "Whether burgers can be shaped the day before"),
    ("how do I check seasoning before cooking", "How to taste for seasoning"),
    ("do i season before or after grinding", "When to season"),
    ("how thick should a patty be", "How thick a patty should be"),
    ("does it help to let the mix sit overnight after seasoning", "Whether it is left to stand after seasoning"),
]


@pytest.mark.parametrize(("line", "about"), ASKED)
def test_a_question_of_the_hand_is_told_what_the_trade_does(line: str, about: str) -> None:
    """Most of these were asked back how much meat there is."""
    answer = Conversation().ask(line)
    assert answer.status is Status.ANSWERED
    assert (answer.topic, answer.understood) == ("craft", about)
    assert any("common practice, no source" in note for note in answer.notes)
    assert answer.cautions
    assert not answer.figures


def test_every_piece_of_advice_is_asked_for_above() -> None:
    """None is written that nobody can reach."""
    assert {about for _, about in ASKED} == {advice.about for advice in ADVICE}


def test_what_was_understood_reads_back() -> None:
    """The restated question, asked again, is the same question."""
    for advice in ADVICE:
        again = Conversation().ask(f"{advice.about}?")
        assert (again.topic, again.understood) == ("craft", advice.about)


@pytest.mark.parametrize(
    "line",
    [
        "6 oz patties from 5 lb, paper between them",
        "my 4 lb of 90/10 is too dry",
        "5 lb of mince for 3/4 in thick patties",
    ],
)
def test_a_line_with_figures_is_worked_out(line: str) -> None:
    """The weights are not passed over for a piece of advice."""
    answer = Conversation().ask(line)
    assert answer.topic != "craft"


def test_meat_that_came_out_like_paste_was_not_left_out_in_the_warm() -> None:
    """ "Came out" was read as time out of the fridge, and nothing was answered."""
    answer = Conversation().ask("meat came out like paste")
    assert answer.topic == "firm"
    assert any(figure.role is Role.TEMPERATURE for figure in answer.figures)


def test_the_labels_of_a_batch_are_its_own() -> None:
    """With a batch on the table "how do I label them" means that batch."""
    talk = Conversation()
    talk.ask("5 lb at 80/20 from chuck and suet")
    assert talk.ask("how do i label the packs").topic != "craft"
