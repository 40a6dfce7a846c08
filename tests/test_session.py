"""The one road in: choosing a topic, refusing what is not explained, remembering, going back."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant import Answer, Conversation, Role, Status, ask
from assistant.topics.base import Pending, Talk, pending_for

BATCH = "3 lb at 80/20 from round 8% and suet 92%"


def talk(*lines: str) -> Answer:
    """The answer to the last line of a new conversation."""
    conversation = Conversation(now=lambda: datetime(2027, 6, 18, 16, 30, tzinfo=UTC))
    return [conversation.ask(line) for line in lines][-1]


def total(answer: Answer) -> float:
    """The weight of the batch in the unit that it is told in."""
    return next(float(figure.value) for figure in answer.figures if figure.role is Role.TOTAL)


def test_one_question_is_a_conversation_of_its_own() -> None:
    assert ask(BATCH) == talk(BATCH)


def test_what_was_heard_is_given_back_as_typed_and_not_at_full_length() -> None:
    assert talk("  3 LB of Chuck, 4 oz patties ").heard == "  3 LB of Chuck, 4 oz patties "
    assert len(talk("x" * 1999).heard) == 501


def test_a_line_over_the_limit_is_refused_with_both_figures() -> None:
    answer = talk("a" * 2001)
    assert answer.status is Status.NOT_UNDERSTOOD
    assert "2,001 characters" in answer.message
    assert "2,000" in answer.message


def test_noise_in_many_signs_is_refused_with_both_figures() -> None:
    answer = talk("1-" * 1000)
    assert answer.status is Status.NOT_UNDERSTOOD
    assert "2,000 words and signs" in answer.message
    assert "500" in answer.message


@pytest.mark.parametrize(
    ("line", "named"), [("1/0 lb of chuck", "1/0"), ("9**9**9 lb of chuck", "9**9**9"), ("1e400 lb of chuck", "1e400")]
)
def test_a_number_that_is_none_is_named(line: str, named: str) -> None:
    answer = talk(line)
    assert answer.status is Status.IMPOSSIBLE
    assert named in answer.message
    assert answer.figures == ()


def test_a_time_that_is_none_is_named_as_a_time() -> None:
    answer = talk("dinner at 25:00 pm, when do i take 5 lb out of the freezer")
    assert answer.status is Status.IMPOSSIBLE
    assert '"25:00 pm" is no time' in answer.message


@pytest.mark.parametrize(
    "line",
    [
        "powers been out -1 min",
        "roast was fridge thawed -1 lb yesterday then i ground it, how long now",
        "my scale only goes -1 kg",
        "is it still ok after -1 min",
    ],
)
def test_fixed_less_than_nothing_is_told_and_never_raised(line: str) -> None:
    answer = talk(line)
    assert answer.status is not Status.ANSWERED
    assert answer.message


@pytest.mark.parametrize("line", ["asdf qwer zxcv", "", "???", "🍔🍔🍔"])
def test_nonsense_is_not_understood_and_an_example_is_given(line: str) -> None:
    answer = talk(line)
    assert answer.status is not Status.ANSWERED
    assert answer.message


@pytest.mark.parametrize("extra", ["and 17", "and 5 oz of xylophone", "but not the qwrtzpsk", "for 12 gallons"])
def test_what_is_not_explained_is_refused_and_named(extra: str) -> None:
    answer = talk(f"{BATCH} {extra}")
    assert answer.status is not Status.ANSWERED
    assert answer.figures == () or answer.status is Status.IMPOSSIBLE


def test_words_that_change_nothing_are_set_aside_and_named() -> None:
    answer = talk("4 lb of chuck into 6 oz patties blorptastic")
    told = " ".join((answer.message, *answer.notes))
    assert answer.status is not Status.ANSWERED or "blorptastic" in told


def test_a_correction_is_told() -> None:
    assert any('"briskett"' in note for note in talk("3 lb at 80/20 from round 8% and briskett 45%").notes)


def test_invisible_characters_are_told() -> None:
    assert any("Invisible" in note for note in talk("3 lb at 80/20 from ro\u200bund 8% and suet 92%").notes)


def test_that_without_anything_before_is_asked_about() -> None:
    assert talk("double that").status is Status.NEEDS_DETAIL


# ---- remembering and going back


def test_undo_brings_back_the_answer_before() -> None:
    before, after = talk(BATCH), talk(BATCH, "double that", "undo")
    assert after.figures == before.figures
    assert total(talk(BATCH, "double that")) == 2 * total(before)


def test_undo_goes_back_step_by_step() -> None:
    assert total(talk(BATCH, "double that", "double that", "undo", "undo")) == total(talk(BATCH))


def test_undo_of_the_first_thing_said_empties_the_table() -> None:
    assert "empty" in talk(BATCH, "undo").message
    assert talk(BATCH, "undo", "double that").status is Status.NEEDS_DETAIL


@pytest.mark.parametrize("aside", ["what is the weather", "convert 2 lb to g", "thanks", "qwrtzpsk"])
def test_fixed_undo_after_an_aside_brings_back_the_batch(aside: str) -> None:
    """The batch before the doubling, and not the refusal that was said in between."""
    assert talk(BATCH, aside, "double that", "undo").figures == talk(BATCH).figures


def test_the_first_one_is_the_first_batch() -> None:
    first = talk(BATCH, "double that", "double that", "go back to the first one")
    assert first.figures == talk(BATCH).figures


def test_a_question_asked_back_is_completed_by_a_short_reply() -> None:
    asked = talk("how long does it take to thaw in the fridge")
    assert asked.status is Status.NEEDS_DETAIL
    assert talk("how long does it take to thaw in the fridge", "2 kg").status is Status.ANSWERED


def test_a_full_request_wins_over_a_question_asked_back() -> None:
    assert talk("how long does it take to thaw in the fridge", BATCH).figures == talk(BATCH).figures


def test_an_unanswered_line_leaves_the_batch_as_it_is() -> None:
    assert total(talk(BATCH, "qwrtzpsk blorp 17", "double that")) == 2 * total(talk(BATCH))


def test_two_conversations_know_nothing_of_each_other(tmp_path: Path) -> None:
    one, other = Conversation(tmp_path / "one.db"), Conversation(tmp_path / "other.db")
    one.ask(BATCH)
    assert other.ask("double that").status is Status.NEEDS_DETAIL


def test_settings_handed_in_hold_from_the_first_line() -> None:
    metric = Conversation(settings={"units": "metric"}).ask("12 burgers at 80/20 from round 8% and suet 92%")
    assert {figure.unit for figure in metric.figures if figure.role is Role.TOTAL} <= {"kg", "g"}


def test_a_notebook_that_is_not_there_is_not_made_by_asking(tmp_path: Path) -> None:
    Conversation(tmp_path / "notebook.db").ask(BATCH)
    assert list(tmp_path.iterdir()) == []


def test_every_answer_carries_its_reminders() -> None:
    assert {"cook_temperature", "keep_cold"} <= {caution.topic for caution in talk(BATCH).cautions}


def test_the_pending_question_belongs_to_who_asked() -> None:
    pending = Pending("thaw", None, "weight")
    assert pending_for(Talk(pending=pending), "thaw") == pending
    assert pending_for(Talk(pending=pending), "plan") is None
    assert pending_for(Talk(), "plan") is None


def test_completion_offers_ways_to_go_on() -> None:
    assert all(isinstance(way, str) for way in Conversation().suggest("3 lb at 80/20 from "))
    assert Conversation().suggest("3 lb of chu")


@pytest.mark.parametrize(
    ("lines", "status"),
    [
        (("chuck $1/0 per lb and suet $2 per lb, 3 lb at 80/20",), Status.IMPOSSIBLE),
        (("chuck in 2 lb packs at $9, suet in 1 lb packs at $3, I want 4 lb at 0/0 lb",), Status.IMPOSSIBLE),
        (("salt at 2 g per 0 kg for 3 kg",), Status.IMPOSSIBLE),
        (("7 g of mince into 0.0000001 g patties",), Status.IMPOSSIBLE),
        (("3 lb of mince", "35 meat eaters at 0 each"), Status.IMPOSSIBLE),
        (("remember that round is -1% fat",), Status.IMPOSSIBLE),
        (("remember I have 3 kg round at 101% fat",), Status.IMPOSSIBLE),
    ],
)
def test_a_figure_that_no_kitchen_has_is_refused_and_not_read_as_nothing(
    lines: tuple[str, ...], status: Status, tmp_path: Path
) -> None:
    """1/0 after a money sign was once read as no money, and a price per no weight ended in a division."""
    conversation = Conversation(tmp_path / "notebook.db")
    assert [conversation.ask(line) for line in lines][-1].status is status


def test_a_cut_named_twice_after_its_loss_keeps_the_loss_once() -> None:
    line = "is grinding worth it: round at €9/kg, shop mince at €10/kg, but I lose 20% of the round in round"
    assert "11.25" in Conversation().ask(line).headline


def test_a_mix_of_less_than_no_parts_is_refused() -> None:
    """Parts that come to nothing together once ended in a division."""
    answer = Conversation().ask("-1 parts paprika, half a part cumin, half a part garlic powder, 80 g of rub all told")
    assert answer.status is not Status.ANSWERED


@pytest.mark.parametrize(
    "lines",
    [
        ("12 6 oz burgers and a dozen 120 g ones, mince in kilos", "2 more kids coming"),
        ("half a dozen 200 g burgers and a dozen 120 g ones, mince in kilos", "2 more kids coming"),
        ("£3.80 @ g pack 400 or 750 g pack £6.75, which is the better buy",),
    ],
)
def test_lines_that_once_raised_are_answered(lines: tuple[str, ...]) -> None:
    conversation = Conversation()
    assert "went wrong inside" not in [conversation.ask(line) for line in lines][-1].message
