"""How long it keeps. Figures: FoodSafety.gov Cold Food Storage Chart; power cuts and refreezing: USDA FSIS."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import Answer, Conversation, Status
from tests.topics.kitchen_talk import Evening, said


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    """A conversation on Friday 19 June 2026."""
    return Evening(tmp_path)


def span(answer: Answer, unit: str) -> tuple[float | None, float | None]:
    """Low and high of the first length of time in the unit."""
    return next((figure.low, figure.high) for figure in answer.figures if figure.unit == unit)


@pytest.mark.parametrize(
    ("line", "unit", "ends"),
    [
        ("how long does ground beef keep in the fridge", "day", (1, 2)),
        ("how many days can I keep patties in the fridge", "day", (1, 2)),
        ("how long will ground pork last", "day", (1, 2)),
        ("when does mince go off", "day", (1, 2)),
        ("how long does chicken mince keep in fridge", "day", (1, 2)),
        ("how long does mince last in the freezer", "month", (3, 4)),
        ("how long can I freeze ground beef", "month", (3, 4)),
        ("how long can i keep sausage in the freezer", "month", (1, 2)),
        ("how long do cooked burgers keep", "day", (3, 4)),
        ("how long does brisket keep in the fridge", "day", (3, 5)),
        ("how long do chicken thighs keep in the fridge", "day", (1, 2)),
        ("how long does suet keep in the fridge", "day", (3, 5)),
    ],
)
def test_how_long(evening: Evening, line: str, unit: str, ends: tuple[float, float]) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.ANSWERED
    assert span(answer, unit) == ends


@pytest.mark.parametrize(
    ("line", "opening"),
    [
        (
            "I minced some beef on Wednesday and it's been in the fridge at 4 degrees. "
            "Is it still all right for Saturday's burgers?",
            "No:",
        ),
        ("mince in the fridge for 3 days, ok?", "No:"),
        ("4 day old mince ok?", "No:"),
        ("I ground it 3 days ago. still good?", "No:"),
        ("mince smells fine but is 5 days old", "No:"),
        ("mince bought monday, can i use it thursday", "No:"),
        ("home-ground beef in the fridge since Sunday, ok?", "No:"),
        ("leftover burgers 5 days in the fridge ok?", "No:"),
        ("minced on 1 June is it still ok", "No:"),
        ("is sausage meat ok after 3 days in the fridge", "No:"),
        ("my mince has a use by date of yesterday", "No:"),
        ("mince is 2 days past its use by, ok?", "No:"),
        ("mince, 2 days in the fridge, ok?", "Only if"),
        ("raw mince 36 hours in the fridge ok", "Only if"),
        ("ground beef 2 days in the fridge smells fine, ok?", "Only if"),
        ("minced it yesterday, ok today?", "Yes, if"),
        ("frozen mince from 8 months ago ok?", "Yes, if"),
        ("mince in the freezer for 2 years ok?", "Yes, if"),
    ],
)
def test_age(evening: Evening, line: str, opening: str) -> None:
    answer = evening.ask(line)
    assert answer.status is Status.ANSWERED
    assert answer.headline.startswith(opening), answer.headline


@pytest.mark.parametrize(
    "line",
    [
        "My fridge runs at 48 F. How many days will the mince keep in it?",
        "my fridge is 7 C is the mince ok for 2 days",
        "fridge at 5 degrees, mince 1 day old ok",
    ],
)
def test_no_days_in_a_warm_fridge(evening: Evening, line: str) -> None:
    answer = evening.ask(line)
    assert answer.headline.startswith("No")
    assert 40 in [figure.value for figure in answer.figures if figure.unit == "degF"]
    assert "day" not in [figure.unit for figure in answer.figures]
    assert any("40 °F" in caution.text for caution in answer.cautions)


@pytest.mark.parametrize(
    ("line", "opening"),
    [
        ("is 45 F ok for a fridge", "No:"),
        ("fridge is at 38", "Yes:"),
        ("is -10 C cold enough for the freezer", "No:"),
        ("freezer reads -4", "Yes if that is -4 °F, no if it is -4 °C"),
        ("freezer reads -20 C", "Yes:"),
        ("what temp should my fridge be", "Fridge: 40 °F (4 °C)"),
        ("what temperature should a freezer be", "Freezer: 0 °F (-18 °C)"),
    ],
)
def test_how_cold(evening: Evening, line: str, opening: str) -> None:
    assert evening.ask(line).headline.startswith(opening)


@pytest.mark.parametrize(
    ("line", "first", "last"),
    [
        ("use by if ground on 15 June", "2026-06-16", "2026-06-17"),
        ("ground it tuesday, use by?", "2026-06-17", "2026-06-18"),
        ("minced today, use by when?", "2026-06-20", "2026-06-21"),
        ("ground beef ground on 18 June, use by date?", "2026-06-19", "2026-06-20"),
    ],
)
def test_use_by(evening: Evening, line: str, first: str, last: str) -> None:
    dates = [figure.value for figure in evening.ask(line).figures if figure.unit == "date"]
    assert dates == [first, last]


def test_use_by_asks_for_the_day(evening: Evening) -> None:
    assert evening.ask("use by?").status is Status.NEEDS_DETAIL
    assert "2026-06-18" in [figure.value for figure in evening.ask("wednesday").figures]


def test_following_up(evening: Evening) -> None:
    assert span(evening.ask("how long does mince keep in the fridge"), "day") == (1, 2)
    assert span(evening.ask("what about in the freezer?"), "month") == (3, 4)
    assert span(evening.ask("and cooked?"), "month") == (2, 3)


def test_the_reply_to_is_it_still_ok(evening: Evening) -> None:
    evening.ask("is it still ok?")
    assert evening.ask("3 days").headline.startswith("No:")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("power out nine hours", "fridge: no, throw raw meat away"),
        ("power cut 3 hours fridge", "yes, if it stayed shut"),
        ("power was out 9 hours, freezer half full", "15 h left of its 24 hours"),
        ("power out 5 hours, what about the mince in the fridge", "throw raw meat away"),
        ("fridge died, meat is 50 F", "throw raw meat away"),
        ("freezer was off for 30 hours, half full", "ice crystals"),
        ("freezer died overnight, still icy, keep it?", "yes, keep it"),
    ],
)
def test_power_cut(evening: Evening, line: str, words: str) -> None:
    assert words in said(evening.ask(line))


@pytest.mark.parametrize(
    ("line", "opening"),
    [
        ("can i refreeze mince thawed in the fridge", "Yes:"),
        ("can i refreeze thawed mince", "Only if"),
        ("thawed in cold water, can i freeze it again", "No: not raw"),
        ("refreeze after thawing in the microwave?", "No: not raw"),
        ("can I refreeze meat that thawed on the counter", "No:"),
        ("thawed in the fridge 3 days ago, refreeze?", "No:"),
        ("in the UK can i refreeze mince thawed in the fridge", "No: not raw"),
    ],
)
def test_freezing_again(evening: Evening, line: str, opening: str) -> None:
    assert evening.ask(line).headline.startswith(opening)


@pytest.mark.parametrize("line", ["what temp to reheat burgers", "reheat leftover patties to what temp"])
def test_reheating(evening: Evening, line: str) -> None:
    assert 165 in [figure.value for figure in evening.ask(line).figures]


@given(days=st.integers(3, 60))
def test_no_mince_past_two_days_is_let_through(tmp_path_factory: pytest.TempPathFactory, days: int) -> None:
    answer = Evening(tmp_path_factory.mktemp("evening")).ask(f"mince has been in the fridge for {days} days, is it ok?")
    assert answer.headline.startswith("No:"), answer


def test_the_power_is_not_the_age_of_the_mince(evening: Evening) -> None:
    answer = evening.ask("Power's been off nine hours and the fridge door stayed shut. Mince in it?")
    assert "throw raw meat away" in answer.headline


def test_a_warm_freezer_gets_no_months(evening: Evening) -> None:
    answer = evening.ask("my freezer says -10 C, ok for six months?")
    assert answer.headline.startswith("No:")
    assert -18 in [figure.value for figure in answer.figures if figure.unit == "degC"]


def test_frozen_on_a_day_good_until_a_day(evening: Evening) -> None:
    answer = evening.ask("froze patties march 1 2026, good til when")
    assert "2026-06-01" in [figure.value for figure in answer.figures if figure.unit == "date"]


def test_leftovers_into_the_fridge(evening: Evening) -> None:
    answer = evening.ask("how fast do i gotta get leftovers in the fridge")
    assert 2 in [figure.value for figure in answer.figures if figure.unit == "hour"]


def test_a_smell_beside_the_days_keeps_its_reminder(evening: Evening) -> None:
    answer = evening.ask("smells perfectly fine, been in the fridge 6 days. so good to go?")
    assert answer.headline.startswith("No:")
    assert "smell" in {caution.topic for caution in answer.cautions}


def test_the_date_on_the_pack_comes_before_its_colour(evening: Evening) -> None:
    answer = evening.ask("use-by was yesterday, it's gone grey in the middle, still all right?")
    assert "use-by date" in answer.headline


def test_the_place_comes_two_turns_later(evening: Evening) -> None:
    assert span(evening.ask("how long does it keep?", "raw beef mince", "in the fridge"), "day") == (1, 2)


def test_rounds_on_the_grill_are_no_age_and_no_fridge(evening: Evening) -> None:
    answer = evening.ask("70 burgers, grill holds 14, 8 minutes a round", "allow 2 minutes between rounds")
    assert answer.topic != "store"


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (("how long does pork heart keep in the fridge",), "heart, liver or tongue keeps 1 to 2 days"),
        (("how long does a whole chicken keep",), "whole poultry keeps 1 to 2 days"),
        (("how long do sirloin steaks keep in the fridge",), "steaks keep 3 to 5 days"),
        (("how long does ground beef keep in the fridge", "and cooked?"), "cooked patties keep 3 to 4 days"),
        (("Set country to uk.", "how long does mince keep in a fridge at 5 C"), "keeps 1 to 2 days"),
        (("Set country to uk.", "how long does mince keep in a fridge at 8 C"), "too warm"),
        (("can I refreeze mince that thawed in the fridge and sat out 3 hours",), "throw it away"),
        (("can I refreeze mince thawed in hot water",), "throw it away"),
        (("can I refreeze mince thawed in the microwave",), "not raw. cook it first"),
        (("Set country to uk.", "can I refreeze mince"), "cook it within 24 hours of full thaw"),
        (("is the pack still ok past its use by date",), "no: it is past its use-by date"),
        (("the use by date was yesterday",), "no: it is past its use-by date of thu 18 june"),
        (("it was ground 2 days ago, use by?",), "use it by thu 18 june 2026, fri 19 june 2026"),
    ],
)
def test_keeping_in_words(tmp_path: Path, lines: tuple[str, ...], says: str) -> None:
    assert says in said(Evening(tmp_path).ask(*lines))


def test_reheating_for_some_minutes_is_no_temperature_and_no_permission(tmp_path: Path) -> None:
    assert Evening(tmp_path).ask("reheat leftovers for 5 minutes").status is Status.NOT_UNDERSTOOD


def test_if_i_ground_it_speaks_of_the_past(tmp_path: Path) -> None:
    """Named after a fault: "if I ground it on 20 November", said on the 25th, was dated a year ahead."""
    talk = Conversation(tmp_path / "notebook.db", lambda: datetime(2026, 11, 25, 9, tzinfo=UTC))
    assert "Sat 21 November 2026" in talk.ask("use by date if I ground it on 20 November").headline
    assert "Sat 28 November 2026" in talk.ask("use by date if I grind it on Friday").headline


WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
ASKED_OF_TWO_DAYS = (
    "mince in the fridge since {start}, ok for {end}?",
    "mince made {start}, ok {end}?",
    "is it ok {end} if i minced it {start}",
    "ground it on {start}, can we eat it on {end}",
    "for {end}, is mince from {start} ok?",
    "beef bought {start}, is it fine to cook it {end}?",
    "made patties {start}, are they good until {end}",
    "is {start}'s mince ok for {end}",
    "can i use it {end}, i ground it {start}",
    "minced it {start}, going to cook it {end}, ok?",
    "we made the burgers {start} and plan to eat them {end}, is that safe?",
)
AT_THE_LATEST = 2
"""Days that ground meat keeps in the fridge (FoodSafety.gov, Cold Food Storage Chart)."""


@pytest.mark.parametrize("wording", ASKED_OF_TWO_DAYS)
def test_no_yes_past_the_days_whatever_the_weekdays(tmp_path: Path, wording: str) -> None:
    # "mince since Monday, ok for tomorrow?" once counted backwards, to -2 days, and said yes
    evening = Evening(tmp_path)
    monday = evening.now - timedelta(days=evening.now.weekday())
    starts = {day: number for number, day in enumerate(WEEK)} | {"yesterday": None, "last night": None}
    ends = {day: number for number, day in enumerate(WEEK)} | {"today": None, "tomorrow": None}
    relative = {"yesterday": 1, "last night": 1, "today": 0, "tomorrow": 1}
    for today in range(7):
        evening.now = monday + timedelta(days=today)
        for start, began in starts.items():
            gone = relative[start] if began is None else (today - began) % 7
            for end, ended in ends.items():
                to_come = relative[end] if ended is None else (ended - today) % 7
                line = wording.format(start=start, end=end)
                answer = evening.ask(line)
                kept = 7 if start == end else gone + to_come
                opening = "Yes" if kept < AT_THE_LATEST else "Only if" if kept == AT_THE_LATEST else "No: "
                if answer.status is Status.ANSWERED:
                    assert answer.headline.startswith(opening), (line, today, answer.headline)
                assert "-" not in answer.headline, (line, answer.headline)


@given(
    st.integers(0, 6),
    st.integers(0, 20),
    st.integers(0, 20),
    st.sampled_from(["ago, ok", "old, ok", "in the fridge, good"]),
)
def test_an_age_and_a_day_to_come_add_up(
    tmp_path_factory: pytest.TempPathFactory, today: int, age: int, ahead: int, asked: str
) -> None:
    evening = Evening(tmp_path_factory.getbasetemp(), "days.db")
    evening.now += timedelta(days=today)
    until = (evening.now + timedelta(days=ahead)).date()
    answer = evening.ask(f"mince {age} days {asked} for {until.isoformat()}?")
    assert not (answer.headline.startswith("Yes") and age + ahead >= AT_THE_LATEST), answer.headline
    assert not (answer.headline.startswith("Only") and age + ahead > AT_THE_LATEST), answer.headline


@pytest.mark.parametrize(
    ("lines", "opening"),
    [
        (["mince made last night, ok tomorrow?"], "Only if"),
        (["mince made last night, ok on sunday?"], "No: 3 days"),
        (["mince ground 3 days ago, ok today?"], "No: 3 days"),
        (["mince 2 days old, ok tomorrow?"], "No: 3 days"),
        (["minced it yesterday, is it ok for 2 days more?"], "No: 3 days"),
        (["ground yesterday, ok in 2 days?"], "No: 3 days"),
        (["made patties this morning, ok til monday?"], "No: 3 days"),
        (["mince in the fridge, ok for tomorrow?", "wednesday"], "No: 3 days"),
        (["if i grind it saturday will it be ok on monday"], "Only if"),
        (["leftover raw mince, 3 days in the fridge, ok?"], "No: 3 days"),
        (["leftover mince in the fridge 3 days, ok?"], "No: 3 days"),
        (["leftover cooked mince in the fridge 3 days, ok?"], "Yes, if"),
        (["mince from wednesday, ok for next friday?"], "No: 9 days"),
    ],
)
def test_days_that_are_told_by_two_ends(evening: Evening, lines: list[str], opening: str) -> None:
    assert evening.ask(*lines).headline.startswith(opening)


def test_which_day_is_asked_where_the_last_is_before_the_first(evening: Evening) -> None:
    answer = evening.ask("grinding it monday, ok for tomorrow?")
    assert answer.status is Status.NEEDS_DETAIL
    assert "before" in answer.message


def test_what_the_fridge_is_at_is_named(evening: Evening) -> None:
    # "kept at 3 degrees" was taken for the fridge's in silence
    answer = evening.ask("mince in the fridge, kept at 3 degrees")
    assert "3 °c" in said(answer)
    assert "fridge is at: cold enough" in said(answer)


@pytest.mark.parametrize("line", ["can i refreeze mince", "can I refreeze mince thawed in the fridge"])
def test_the_uk_reminder_of_freezing_again(evening: Evening, line: str) -> None:
    # Food Standards Agency: cook within 24 hours of full thaw, and do not freeze again raw
    answer = evening.ask("my country is uk", line)
    assert answer.headline.startswith("No: not raw")
    assert any("24 hours" in caution.text and "again raw" in caution.text for caution in answer.cautions)
    assert "1 to 2 days" not in said(answer)


def test_the_uk_throws_away_what_thawed_days_ago(evening: Evening) -> None:
    answer = evening.ask("my country is uk", "refreeze mince thawed in the fridge on wednesday, ok?")
    assert answer.headline.startswith("No: thawed meat is cooked within 24 hours")


def test_no_other_note_pushes_the_source_out(evening: Evening) -> None:
    # the note on how cold the fridge is stood first, and the fourth, the source, was left out in silence
    answer = evening.ask("ground the pork on sunday, fridge 3C, using it wednesday, fine?")
    assert any(note.startswith("Source: ") for note in answer.notes)
    assert any("cold enough" in note for note in answer.notes)


def test_a_month_without_a_day_counts_from_its_first_and_to_its_last(evening: Evening) -> None:
    """ "January" and "July" were set aside, and the reply was how hot to cook it."""
    answer = evening.ask("ground pork frozen in January, still good in July?")
    assert answer.topic == "store"
    assert "past its 3 to 4 months of best quality" in answer.headline
    assert {figure.name: figure.value for figure in answer.figures}["best used by"] == "2026-04-01"
    assert "6.9 months since Thu 1 January 2026" in answer.understood
