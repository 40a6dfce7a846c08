"""Heat, cold and time where few cooks ask: what each line must come to."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from tests.topics.kitchen_talk import Evening, said, value


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (("mince 3 days in the fridge then 1 hour out",), "no: throw it away"),
        (("ground beef out since yesterday, ok?",), "no: throw it away"),
        (("mince was left out last night",), "no: throw it away"),
        (("mince is out, when must it be back in the fridge",), "when did it come out of the fridge"),
        (("wash the grinder with the meat in",), "take the grinder apart"),
        (("wash the meat before grinding?",), "do not wash or rinse raw meat"),
    ],
)
def test_out_of_the_fridge_and_washing(evening: Evening, lines: tuple[str, ...], words: str) -> None:
    assert words in said(evening.ask(*lines))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("the pack says use by 30 June", "until tue 30 june 2026"),
        ("pack's use-by is 10 June, ok?", "no: it is past its use-by date of wed 10 june 2026"),
        ("use by 12 June on the packet, is it fine", "no: it is past its use-by date of fri 12 june 2026"),
        ("label says best before 2 December", "until wed 2 december 2026"),
        ("it says use by Monday on the label", "until mon 22 june 2026"),
        ("the use by date was yesterday", "past its use-by date of thu 18 june 2026"),
        ("the pack is past its use-by", "past its use-by date"),
        ("the label says sell by 30 May 2027", "until sun 30 may 2027"),
        ("the packet says use by yesterday but I only opened it today. ok to grind?", "no: it is past its use-by date"),
    ],
)
def test_the_date_on_a_pack_is_the_packs_own(evening: Evening, line: str, words: str) -> None:
    """A date to come was read as the day of grinding a year ago."""
    assert words in said(evening.ask(line))


@pytest.mark.parametrize(
    ("reply", "words"), [("30 June", "until tue 30 june"), ("it was yesterday", "past its use-by")]
)
def test_the_date_on_the_pack_is_asked_and_taken(evening: Evening, reply: str, words: str) -> None:
    answer = evening.ask("use by date on the pack, still ok?")
    assert answer.status is Status.NEEDS_DETAIL
    assert "what date is on the pack" in said(answer)
    assert words in said(evening.ask(reply))


def test_another_question_is_no_date_on_the_pack(evening: Evening) -> None:
    evening.ask("use by date on the pack, still ok?")
    assert "use-by date of" not in said(evening.ask("2 kg chuck and 500 g suet"))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("my freezer reads 0, cold enough?", "yes if that is 0 °f, no if it is 0 °c"),
        ("my freezer says -30 is that cold enough", "yes: -30"),
        ("my freezer reads 40", "no: 40"),
        ("power cut, what do I do", "keep the doors shut"),
        ("how long does chicken wing keep", "poultry pieces keep 1 to 2 days"),
        ("how long does a whole chicken keep", "whole poultry keeps 1 to 2 days"),
        ("how long does beef heart keep in the fridge", "heart, liver or tongue keeps 1 to 2 days"),
        ("how long does rump steak keep in the fridge", "steaks keep 3 to 5 days"),
        ("mince kept at 200 F in the fridge 1 day ok", "200 °f (93 °c) is too warm"),
        ("mince kept since 31 June in the fridge, ok?", ""),
    ],
)
def test_cold_and_keeping(evening: Evening, line: str, words: str) -> None:
    answer = evening.ask(line)
    assert words in said(answer)
    assert "yes: 1 to 2 days" not in said(answer)


@pytest.mark.parametrize(
    ("follow_up", "topic"),
    [
        ("and the freezer", "store"),
        ("is the fridge temp ok", ""),
        ("and salt?", ""),
        ("and the whole long and winding road to the fridge", ""),
    ],
)
def test_what_follows_a_question_of_keeping(evening: Evening, follow_up: str, topic: str) -> None:
    answer = evening.ask("how long does mince keep in the fridge", follow_up)
    assert (answer.topic == "store" and answer.status is Status.ANSWERED) or answer.topic != topic


@pytest.mark.parametrize(("country", "days"), [("I'm in the UK", "yes"), ("I'm in the US", "no days at all")])
def test_a_british_fridge_may_be_at_five_degrees(evening: Evening, country: str, days: str) -> None:
    assert days in said(evening.ask(country, "mince kept at 5 C in the fridge for 1 day, ok?"))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("can I thaw in the fridge", "yes: the fridge is the safest way"),
        ("is it ok to thaw mince in cold water?", "yes: in a leak-proof bag"),
        ("ok to thaw in the microwave", "yes: at half power"),
        ("can i defrost mince", "never on the counter"),
        ("thaw 2 lb for tomorrow", "too late for the fridge"),
        ("thaw 20 lb for 25 June", "move it to the fridge now"),
        ("thaw 30 lb for 5 July", "freeze flat packs"),
        ("three 2 lb packs to thaw in cold water", "a pack of 2 lb"),
        ("how long to thaw 2 lb | what about cold water", "in cold water"),
    ],
)
def test_thawing(evening: Evening, line: str, words: str) -> None:
    assert words in said(evening.ask(*line.split(" | ")))


@pytest.mark.parametrize(
    "follow_up", ["and the temp?", "how much salt for 2 lb", "what about cold water, how much salt"]
)
def test_what_does_not_follow_a_question_of_thawing(evening: Evening, follow_up: str) -> None:
    assert "in cold water" not in evening.ask("how long to thaw 2 lb in the fridge", follow_up).headline.lower()


def test_packs_asked_for_by_their_number_thaw_each_by_itself(evening: Evening) -> None:
    evening.ask("how long to thaw mince in cold water?")
    assert "a pack of 2 lb" in said(evening.ask("three 2 lb packs"))


@pytest.mark.parametrize("line", ["cutting for 50 min and grinding for 40, rare", "burgers on for 10 minutes, pink"])
def test_minutes_are_no_temperature(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert "10 °f" not in said(answer)
    assert "40 °f" not in answer.headline.lower()


def test_a_licensed_kitchen_elsewhere_asks_its_own_authority(evening: Evening) -> None:
    answer = evening.ask("I'm in Australia", "burgers at 155 F for 15 seconds in my licensed kitchen?")
    assert "ask your local food authority" in said(answer)
    assert value(answer, "temperature") == 75


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("can I refreeze mince thawed in the microwave, it was out 3 hours", "throw it away"),
        ("can I refreeze mince thawed in the microwave, it was out 1 hour", "cook it first"),
        ("can I refreeze mince thawed in hot water after 1 hour", "cook it first"),
        ("can I refreeze mince thawed in hot water", "throw it away"),
        ("can I refreeze mince thawed in the fridge", "yes: thawed in the fridge"),
        ("in the UK, can I refreeze mince thawed in the fridge", "no: not raw"),
    ],
)
def test_freezing_again(evening: Evening, line: str, words: str) -> None:
    answer = evening.ask(line)
    assert words in said(answer)
    (again,) = [caution.text for caution in answer.cautions if caution.topic == "refreeze"]
    assert ("not freeze it again raw" in again) is ("UK" in line)
    assert {figure.name for figure in answer.figures} == {"meat at most", "limit out of the fridge"}


def test_leftovers_are_heated_through(evening: Evening) -> None:
    answer = evening.ask("how hot to reheat leftover burgers")
    assert {figure.name for figure in answer.figures} == {"middle of the leftovers"}
    assert value(answer, "temperature") == 165


@pytest.mark.parametrize(
    ("line", "words"),
    [
        # 0 °F is what the months count at; 15 °F was called cold enough
        ("My freezer only gets down to 15 F. How many months will the patties keep?", "not as many"),
        ("my freezer is at 35 F, how long does mince keep in it", "no months at all"),
        ("my freezer is at -20 C, how long does mince keep in it", "cold enough"),
    ],
)
def test_a_freezer_is_held_against_its_own_mark(evening: Evening, line: str, words: str) -> None:
    assert words in said(evening.ask(line))


def test_jars_on_a_shelf_are_no_question_of_shelves(evening: Evening) -> None:
    answer = evening.ask("how many minutes do I boil jars of sausage meat to keep them on the shelf?")
    assert "No canning times" in answer.message
    assert not answer.figures
