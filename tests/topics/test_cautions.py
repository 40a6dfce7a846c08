"""Which reminders an answer carries."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.answer import Status
from assistant.data import cuts
from assistant.data.safety import COUNTRIES, safety_book
from assistant.engine.safety import known_species
from assistant.topics.cautions import is_poultry, reminders
from tests.topics.kitchen_talk import Evening

COLD_AND_HOT = {"cook_temperature", "keep_cold"}


@pytest.mark.parametrize(
    ("species", "says"),
    [
        ({"beef"}, "160"),
        ({"pork"}, "160"),
        ({"beef", "pork"}, "160"),
        ({"venison"}, "160"),
        ({"chicken"}, "165"),
        ({"beef", "turkey"}, "165"),
        ({"beef", "hunted"}, "165"),
        (set(), "160"),
    ],
)
def test_a_batch_carries_the_strictest_temperature_and_the_cold(species: set[str], says: str) -> None:
    cooking, cold = reminders(species, touches=COLD_AND_HOT)
    assert cooking.topic == "cook_temperature"
    assert says in cooking.text
    assert (cold.topic, "40 °F" in cold.text) == ("keep_cold", True)


@pytest.mark.parametrize(("country", "says"), [("uk", "70 °C"), ("ie", "75 °C"), ("ca", "71 °C"), ("au", "75 °C")])
def test_the_country_words_it(country: str, says: str) -> None:
    (cooking,) = reminders({"beef"}, country, touches={"cook_temperature"})
    assert says in cooking.text


def test_poultry_in_the_uk_is_not_let_down_to_the_red_meat_figure() -> None:
    (cooking,) = reminders({"beef", "chicken"}, "uk", touches={"cook_temperature"})
    assert "165" in cooking.text


@pytest.mark.parametrize("topic", ["colour", "cured_bacon"])
def test_no_reminder_of_a_poultry_batch_names_the_lower_figure(topic: str) -> None:
    (reminder,) = reminders({"turkey"}, touches={topic})
    assert "165" in reminder.text
    assert "160" not in reminder.text


def test_every_topic_of_the_file_can_be_asked_for_in_every_country() -> None:
    topics = {row.topic for row in safety_book().cautions.values()}
    for country in COUNTRIES:
        told = reminders({"beef"}, country, touches=topics)
        assert {caution.topic for caution in told} == topics
        assert all(caution.source for caution in told)


def test_urgent_ones_are_marked() -> None:
    marked = reminders({"beef"}, touches=COLD_AND_HOT, urgent={"keep_cold"})
    assert [caution.topic for caution in marked if caution.urgent] == ["keep_cold"]


def test_a_topic_that_is_not_there_is_a_slip_of_the_caller() -> None:
    with pytest.raises(KeyError):
        reminders({"beef"}, touches={"cold_keeping"})


def test_every_species_of_the_cuts_has_a_temperature() -> None:
    species = {row.species for row in cuts().values() if row.kind != "plain"}
    assert species <= known_species()


def test_birds() -> None:
    assert is_poultry({"beef", "duck"})
    assert not is_poultry({"beef", "hunted"})


@pytest.mark.parametrize(
    ("line", "cooked"),
    [
        ("ground beef was on the counter for 5 hours", False),
        ("mince left out overnight, is it still ok?", False),
        ("mince in the fridge for 5 days, still good?", False),
        ("mince ground 1 June, use by?", False),
        ("can I refreeze mince thawed on the counter", False),
        ("can I refreeze mince thawed in the fridge 5 days ago", False),
        ("thawed mince has been in the fridge 4 days, ok?", False),
        ("ground beef was out 1 hour", True),
        ("ground beef was out 2 hours", True),
        ("mince in the fridge for 2 days, still good?", True),
        ("can I refreeze mince thawed in the fridge", True),
        ("how long does thawed mince keep in the fridge", True),
    ],
)
def test_meat_to_be_thrown_away_is_not_to_be_cooked(tmp_path: Path, line: str, cooked: bool) -> None:
    """ "Throw it away" stood over "cook it to 160 °F"."""
    answer = Evening(tmp_path).ask(line)
    assert answer.status is Status.ANSWERED
    if not cooked:
        assert "throw it away" in answer.headline.lower()
    assert any(caution.topic == "cook_temperature" for caution in answer.cautions) is cooked
    assert answer.cautions
