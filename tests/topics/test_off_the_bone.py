"""Meat off the bone, by the published share."""

from __future__ import annotations

import pytest

from assistant import Conversation
from assistant.answer import Role, Status
from tests.topics.kitchen_talk import value


@pytest.mark.parametrize(
    ("line", "meat"),
    [
        ("How much meat should I get off a 3 kg shoulder of lamb on the bone?", 2.34),
        ("bone-in pork shoulder 8 lb how much meat", 6.0),
    ],
)
def test_the_bone_is_taken_off_by_its_published_share(line: str, meat: float) -> None:
    """22 % of a lamb shoulder (USDA SR28), 25 % of a pork shoulder with its skin."""
    assert value(Conversation().ask(line), Role.TOTAL) == pytest.approx(meat)


def test_a_cut_without_a_published_bone_is_not_guessed() -> None:
    """Nothing is known of the bone of a whole chuck."""
    assert Conversation().ask("bone-in chuck 8 lb how much meat").status is not Status.ANSWERED
