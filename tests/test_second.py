"""A second question in a line is answered, or named as not answered; a question that hangs on the first is no second."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Conversation

NAMED = "Not answered here"


@pytest.mark.parametrize(
    ("line", "named"),
    [
        ("what temp for turkey burgers and how long does it keep in the fridge", "keep in the fridge"),
        ("salt for 4 lb at 1.5%, and is pink ok?", "is pink ok"),
        ("meat out 3 hours, ok? also what's 2 lb in kg", "2 lb in kg"),
        ("how long can mince stay out and can I refreeze it after?", "stay out"),
        ("what's 3 kg in lb? how long does mince keep in the freezer?", "3 kg in lb"),
    ],
)
def test_a_question_that_is_left_out_is_named(line: str, named: str, tmp_path: Path) -> None:
    notes = Conversation(notebook_path=tmp_path / "notebook").ask(line).notes
    assert any(note.startswith(NAMED) and named in note for note in notes), notes


@pytest.mark.parametrize(
    "line",
    [
        "fridge reading 3 C, mince kept at 3 C, is that ok",
        "reheating last night's burgers, what temp",
        "7 lb 8 oz of beef, 5 oz patties, how many and whats left",
        "Finished mincing at 10:40, kitchen's about 21 degrees. When does it have to be back in the fridge?",
        "3 lb 80/20 from chuck and suet, and what temp do I cook it to?",
    ],
)
def test_a_question_of_the_same_matter_is_no_other(line: str, tmp_path: Path) -> None:
    answer = Conversation(notebook_path=tmp_path / "notebook").ask(line)
    assert answer.status.value == "answered"
    assert not any(note.startswith(NAMED) for note in answer.notes), answer.notes


def test_a_batch_with_a_question_of_heat_is_the_batch_and_says_the_heat(tmp_path: Path) -> None:
    answer = Conversation(notebook_path=tmp_path / "notebook").ask("3 lb 80/20 from chuck and suet, and what temp?")
    assert answer.topic == "blend"
    assert any("160 °F" in caution.text for caution in answer.cautions)
