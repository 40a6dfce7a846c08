"""Small talk and help: short, without figures, and never in the way of a real question."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Conversation
from assistant.answer import Status
from assistant.language import sentence
from assistant.topics import topics
from assistant.topics.base import Pending, Talk
from assistant.topics.courtesy import TOPIC


@pytest.mark.parametrize(
    ("line", "reply"),
    [
        ("hello", "Hello. What are we grinding?"),
        ("hi there how are you", "All well here. What are we grinding?"),
        ("Thanks a lot!", "You are welcome."),
        ("thanks, bye", "Goodbye. Clean the grinder while it is still easy."),
        ("that was great", "Good to hear."),
        ("ok", "Good. Nothing was left open; what comes next?"),
        ("no", "Right. Nothing was changed; what comes next?"),
    ],
)
def test_small_talk(line: str, reply: str, tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask(line)
    assert (answer.status, answer.topic, answer.message, answer.figures) == (Status.ANSWERED, "courtesy", reply, ())


@pytest.mark.parametrize("line", ["thanks, what's 71 C in F", "hello, 3 lb 6 oz in grams please", "ok so 160 in c"])
def test_a_real_question_wins(line: str, tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask(line)
    assert (answer.status, answer.topic) == (Status.ANSWERED, "convert")


def test_yes_and_no_to_an_open_question_are_for_who_asked() -> None:
    waiting = Talk(pending=Pending("convert", None, "of what"))
    assert TOPIC.read(sentence.read("yes"), waiting) is None
    assert TOPIC.read(sentence.read("no"), waiting) is None


@pytest.mark.parametrize(
    "line", ["hello", "thanks", "bye", "yes", "nope", "who are you", "how are you", "sorry", "lovely"]
)
def test_what_was_understood_reads_back(line: str, tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    first = cook.ask(line)
    assert cook.ask(first.understood).message == first.message


@pytest.mark.parametrize("line", ["help", "what can you do", "help me please"])
def test_help_shows_an_example_of_every_kind_of_request(line: str, tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    answer, rest = cook.ask(line), cook.ask("more help")
    assert (answer.status, answer.topic, answer.figures) == (Status.ANSWERED, "guide", ())
    assert len(answer.steps) <= 10  # on a small screen at once
    assert "more help" in answer.message
    shown = " ".join((*answer.steps, *rest.steps))
    for topic in topics():
        if topic.name not in ("guide", "courtesy", "outside"):
            assert topic.examples[0] in shown


def test_help_with_a_batch_is_a_batch(tmp_path: Path) -> None:
    assert Conversation(tmp_path / "kitchen.db").ask("help me plan 3 lb 80/20 from chuck and suet").topic == "blend"


def test_more_gives_the_last_reminders_again(tmp_path: Path) -> None:
    cook = Conversation(tmp_path / "kitchen.db")
    assert "nothing more" in cook.ask("show more").message
    told = cook.ask("3 lb 80/20 from chuck and suet")
    assert told.cautions
    assert cook.ask("show more").cautions == told.cautions
