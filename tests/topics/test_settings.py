"""The kitchen's settings in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "key", "kept"),
    [
        ("use grams", "units", "metric"),
        ("use grams from now on", "units", "metric"),
        ("metric please", "units", "metric"),
        ("pounds from now on", "units", "us"),
        ("switch to imperial", "units", "us"),
        ("I'm in Australia", "country", "au"),
        ("im in the uk", "country", "uk"),
        ("we live in new zealand", "country", "nz"),
        ("Ireland", "country", "ie"),
        ("my scale shows 5 g", "scale_grams", "5"),
        ("my scale only goes to the nearest 10 g", "scale_grams", "10"),
        ("my freezer is at -18", "freezer_celsius", "-18"),
        ("my freezer's at 0 F", "freezer_celsius", "-160/9"),
        ("day first dates", "dates", "day first"),
        ("use month first dates", "dates", "month first"),
    ],
)
def test_a_setting_is_kept_for_the_next_conversation(evening: Evening, line: str, key: str, kept: str) -> None:
    assert evening.ask(line).status is Status.ANSWERED
    assert Notebook(evening.path).settings()[key] == kept
    assert said(evening.another().ask("my settings")) == said(evening.ask("my settings"))


def test_the_country_changes_the_spoon(evening: Evening) -> None:
    answer = evening.ask("im in australia", "how many grams of table salt in a tablespoon")
    assert any(f.unit == "g" and isinstance(f.value, float) and 21 <= f.value <= 25.5 for f in answer.figures)


def test_units_follow_the_country_until_they_are_chosen(evening: Evening) -> None:
    evening.ask("I'm in the UK")
    assert Notebook(evening.path).settings()["units"] == "metric"
    evening.ask("use pounds", "I'm in Australia")
    assert Notebook(evening.path).settings()["units"] == "us"


def test_a_setting_and_a_batch_in_one_line(evening: Evening) -> None:
    answer = evening.ask("use grams, 3 lb at 80/20 from round 8% and suet 92%")
    assert value(answer, "component", "suet") == pytest.approx(3 / 7)
    assert "from now on" in said(answer)


@pytest.mark.parametrize("line", ["my scale shows 1000 kg", "my freezer is at 40 F", "I'm in France"])
def test_what_cannot_be_set_is_said(evening: Evening, line: str) -> None:
    assert evening.ask(line).status is Status.IMPOSSIBLE
    assert not evening.path.exists()


@pytest.mark.parametrize("line", ["how many grams in a metric cup of water", "convert 3 lb to metric", "5 lb in grams"])
def test_units_in_a_question_set_nothing(evening: Evening, line: str) -> None:
    evening.ask(line)
    assert not evening.path.exists()


def test_reset(evening: Evening) -> None:
    evening.ask("use grams", "my scale shows 5 g", "reset my settings")
    assert Notebook(evening.path).settings() == {}


def test_without_a_notebook_they_hold_for_the_conversation(tmp_path: Path) -> None:
    (tmp_path / "notebook.db").write_bytes(b"no notebook at all")
    evening = Evening(tmp_path)
    answer = evening.ask("use grams")
    assert answer.status is Status.ANSWERED
    assert "this conversation only" in said(answer)
    assert "grams and kilograms" in said(evening.ask("my settings"))


def test_my_kitchen_has_the_meat_and_its_prices_too(evening: Evening) -> None:
    answer = evening.ask(
        "I have 2 kg round", "chuck costs $14 a kilo, remember that", "my bowl holds 3 kg", "my kitchen"
    )
    for words in ("in stock:", "2 kg", "chuck ($14.00/kg)", "bowl"):
        assert words in said(answer)


@pytest.mark.parametrize(
    ("said_before", "line", "shown"),
    [
        ("my scale goes in 10 g steps", "what scale do I have?", "10 g"),
        ("my bowl holds 3 kg", "which bowl have I got", "3 kg"),
        ("I've got a food processor", "what machine am I using?", "food processor"),
    ],
)
def test_one_thing_of_the_kitchen_is_asked_after(evening: Evening, said_before: str, line: str, shown: str) -> None:
    assert shown in said(evening.ask(said_before, line))


@pytest.mark.parametrize(("line", "key"), [("forget my bowl", "bowl_grams"), ("clear the scale step", "scale_grams")])
def test_one_setting_is_forgotten_and_brought_back(evening: Evening, line: str, key: str) -> None:
    evening.ask("use metric", "my bowl holds 3 kg", "my scale shows 5 g")
    before = Notebook(evening.path).settings()
    assert "forgotten: a" in said(evening.ask(line))
    assert Notebook(evening.path).settings() == {name: value for name, value in before.items() if name != key}
    evening.ask("undo")
    assert Notebook(evening.path).settings() == before


def test_a_setting_that_is_not_there_is_told(evening: Evening) -> None:
    assert "nothing of that is set" in said(evening.ask("forget my freezer"))


def test_forgetting_without_a_notebook_holds_for_the_conversation(tmp_path: Path) -> None:
    (tmp_path / "notebook.db").write_bytes(b"no notebook at all")
    evening = Evening(tmp_path)
    answer = evening.ask("my bowl holds 3 kg", "forget my bowl")
    assert "this conversation only" in said(answer)
    assert "bowl" not in said(evening.ask("my settings"))


def test_a_setting_is_told_in_the_units_of_the_kitchen(evening: Evening) -> None:
    """A bowl was told in pounds to a kitchen of grams."""
    assert "a bowl for 3 kg" in evening.ask("use metric", "my bowl holds 3 kg").headline
