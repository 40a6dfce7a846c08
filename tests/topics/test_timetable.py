"""Working back from a meal in words: the moment, the amounts, what is too late, and every change by a word."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.answer import Answer, Role, Status
from assistant.session import Conversation

LONDON = ZoneInfo("Europe/London")
WEDNESDAY = datetime(2026, 11, 25, 9, 0, tzinfo=LONDON)


ROUNDS = {f"round {number}" for number in range(1, 9)}


def talk(folder: Path, now: datetime = WEDNESDAY) -> Conversation:
    return Conversation(folder / "notebook.db", now=lambda: now)


def asked(folder: Path, *lines: str, now: datetime = WEDNESDAY) -> Answer:
    """The answer to the last of some lines."""
    conversation = talk(folder, now)
    return [conversation.ask(line) for line in lines][-1]


def moments(answer: Answer) -> dict[str, datetime]:
    return {
        figure.name: datetime.fromisoformat(str(figure.value))
        for figure in answer.figures
        if figure.role is Role.CLOCK_TIME
    }


def served(answer: Answer) -> str:
    return f"{moments(answer)['serve']:%a %d %b %Y %H:%M}"


def value(answer: Answer, role: Role) -> float:
    return next(float(figure.value) for figure in answer.figures if figure.role is role)


@pytest.mark.parametrize(
    ("line", "when"),
    [
        ("serving 60 at one o'clock on Saturday", "Sat 28 Nov 2026 13:00"),
        ("we eat at 6 tomorrow, 40 burgers", "Thu 26 Nov 2026 18:00"),
        ("when do I start for Sunday lunch at 12:30, 20 lb", "Sun 29 Nov 2026 12:30"),
        ("burgers for 12 at 7pm tonight", "Wed 25 Nov 2026 19:00"),
        ("dinner for 8 at 7 on Friday", "Fri 27 Nov 2026 19:00"),
        ("timetable for 30 people, lunch at 11:30 on Saturday", "Sat 28 Nov 2026 11:30"),
        ("serving 20 people at 18:30 on 4 December", "Fri 04 Dec 2026 18:30"),
        ("serving 20 people at 9 in the evening on Saturday", "Sat 28 Nov 2026 21:00"),
        ("serving 20 people at 12 noon on Saturday", "Sat 28 Nov 2026 12:00"),
        ("serving 20 people at midnight on Saturday", "Sun 29 Nov 2026 00:00"),
        ("burgers on the table at 12.30 sunday for 15", "Sun 29 Nov 2026 12:30"),
        ("I need 24 patties ready by 6pm friday", "Fri 27 Nov 2026 18:00"),
        ("cook out at noon on the 4th of July, 100 people", "Sun 04 Jul 2027 12:00"),
        ("when does the shopping have to be done, serving 60 at 1 pm Saturday", "Sat 28 Nov 2026 13:00"),
        (
            "when do I take the meat out if we eat at 6 tomorrow, 20 burgers, frozen in 1 lb packs",
            "Thu 26 Nov 2026 18:00",
        ),
        ("serving 10 burgers at 1 pm on 2 January", "Sat 02 Jan 2027 13:00"),
    ],
)
def test_the_moment_of_serving(tmp_path: Path, line: str, when: str) -> None:
    assert served(asked(tmp_path, line)) == when


def test_a_weekday_that_is_over_today_is_next_weeks(tmp_path: Path) -> None:
    late_on_saturday = datetime(2026, 11, 28, 15, 0, tzinfo=LONDON)
    answer = asked(tmp_path, "serving 10 at 1 pm on Saturday", now=late_on_saturday)
    assert served(answer) == "Sat 05 Dec 2026 13:00"


def test_another_day_of_a_meal_that_is_far_ahead_lies_near_it(tmp_path: Path) -> None:
    assert (
        served(asked(tmp_path, "serving 10 at 1 pm on 4 April 2099", "on 5 April instead")) == "Sun 05 Apr 2099 13:00"
    )
    assert served(asked(tmp_path, "serving 10 at 1 pm on 12 December", "on Sunday instead")) == "Sun 13 Dec 2026 13:00"
    assert served(asked(tmp_path, "serving 10 at 1 pm on 12 December", "tomorrow instead")) == "Thu 26 Nov 2026 13:00"


def test_without_a_day_the_next_time_that_the_clock_shows_it(tmp_path: Path) -> None:
    assert moments(asked(tmp_path, "serving 4 burgers at 8 am"))["serve"].date() == datetime(2026, 11, 26).date()


def test_an_hour_that_could_be_morning_or_evening_is_asked_about(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    question = conversation.ask("serving 20 at 9 on Saturday")
    assert question.status is Status.NEEDS_DETAIL
    assert "morning" in question.message
    assert served(conversation.ask("in the evening")) == "Sat 28 Nov 2026 21:00"


def test_what_is_missing_is_asked_for_in_turn(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    assert "how many" in conversation.ask("timetable").message
    assert "what time" in conversation.ask("60").message
    assert served(conversation.ask("1 pm on Saturday")) == "Sat 28 Nov 2026 13:00"


def test_the_amounts_are_those_of_the_batch_on_the_table(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    batch = conversation.ask("60 guests, 2 burgers each, 150 g")
    table = conversation.ask("timetable for that, serving at 1 on Saturday")
    assert value(table, Role.PATTY_COUNT) == value(batch, Role.PATTY_COUNT) == 120
    assert value(table, Role.TOTAL) == value(batch, Role.TOTAL)
    assert served(table) == "Sat 28 Nov 2026 13:00"


def test_the_cuts_of_a_blend_are_what_is_bought(tmp_path: Path) -> None:
    table = asked(tmp_path, "6 lb at 80/20 from brisket trim and round", "timetable for that, serving at 1 on Saturday")
    assert "brisket trim" in table.steps[0] and "round" in table.steps[0]


def test_cuts_that_are_weighed_out_are_shared_among_the_people(tmp_path: Path) -> None:
    answer = asked(tmp_path, "lunch for 20 at 1 on Saturday from 5 lb chuck and 1 lb suet")
    assert value(answer, Role.PATTY_COUNT) == 20
    assert value(answer, Role.PATTY_WEIGHT) == pytest.approx(6 * 16 / 20)


def test_cuts_that_do_not_make_the_patties_are_told(tmp_path: Path) -> None:
    answer = asked(tmp_path, "lunch for 20 at 1 on Saturday, 6 oz each, from 5 lb chuck and 1 lb suet")
    assert answer.status is Status.IMPOSSIBLE
    assert "takes 7 lb 8 oz (3.4 kg) and there is 6 lb (2.72 kg)" in answer.message


@pytest.mark.parametrize(
    "lines",
    [
        ("serving 60 at 1 pm on Saturday, 0 minutes a round",),
        ("serving 60 at 1 pm on Saturday", "50 of us"),
        ("serving 60 at 1 pm on Saturday", "frozen in 0 kg packs"),
        ("serving 20000 people at 1 pm on Saturday",),
        ("serving 0 people at 1 pm on Saturday",),
    ],
)
def test_what_nobody_can_cook_with_is_refused_and_never_replaced(tmp_path: Path, lines: tuple[str, ...]) -> None:
    answer = asked(tmp_path, *lines)
    assert answer.status is Status.IMPOSSIBLE
    assert not moments(answer)


def test_a_line_that_brings_a_batch_makes_it_the_batch_on_the_table(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask("serving 60 at 1 pm on Saturday, 2 each")
    assert "120" in conversation.ask("show me the batch").headline


@pytest.mark.parametrize(
    ("change", "check"),
    [
        ("grill takes 20 at a time", lambda answer: value(answer, Role.RATIO) == 2),
        ("8 minutes a round", lambda answer: "8 min each" in " ".join(answer.steps)),
        ("serve at 2 instead", lambda answer: served(answer) == "Sat 28 Nov 2026 14:00"),
        ("serve on Sunday instead", lambda answer: served(answer) == "Sun 29 Nov 2026 18:00"),
        ("make it 60 burgers", lambda answer: value(answer, Role.PATTY_COUNT) == 60),
        ("make them the day before", lambda answer: moments(answer)["form"].day == 27),
        ("I have the meat", lambda answer: "buy by" not in moments(answer)),
        ("the patties are already made", lambda answer: set(moments(answer)) <= {*ROUNDS, "salt", "rest", "serve"}),
        ("the meat is already minced", lambda answer: "grind" not in moments(answer) and "form" in moments(answer)),
        ("frozen in 2 lb packs", lambda answer: "thaw" in moments(answer)),
        ("it's 95 F out there", lambda answer: "over 1 h" in " ".join(answer.steps)),
    ],
)
def test_changed_by_a_word(tmp_path: Path, change: str, check: object) -> None:
    answer = asked(tmp_path, "serving 40 burgers at 6 pm on Saturday", change)
    assert answer.topic == "timetable"
    assert callable(check) and check(answer)


@pytest.mark.parametrize(
    ("question", "headline"),
    [
        ("when do I grind", "Grind at 2:47 pm on Sat 28 Nov."),
        ("when do I need to buy", "Have bought the meat by 1:07 pm on Sat 28 Nov."),
        ("what time do I salt them", "Salt at 5:12 pm on Sat 28 Nov."),
        ("when do they go on the grill", "Cook at 5:17 pm on Sat 28 Nov."),
        ("when do I thaw it", "There is no thawing in this timetable: begin cubing at 1:07 pm."),
    ],
)
def test_one_step_is_asked_about(tmp_path: Path, question: str, headline: str) -> None:
    answer = asked(tmp_path, "serving 40 burgers at 6 pm on Saturday", question)
    assert answer.headline == headline
    assert len(answer.steps) <= 1


@pytest.mark.parametrize(
    ("change", "when"),
    [
        ("an hour earlier", "Sat 28 Nov 2026 17:00"),
        ("half an hour later please", "Sat 28 Nov 2026 18:30"),
        ("make it Sunday", "Sun 29 Nov 2026 18:00"),
        ("what if we eat at seven", "Sat 28 Nov 2026 19:00"),
    ],
)
def test_the_moment_is_moved(tmp_path: Path, change: str, when: str) -> None:
    assert served(asked(tmp_path, "serving 40 burgers at 6 pm on Saturday", change)) == when


def test_a_day_in_passing_does_not_move_the_meal(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask("serving 40 burgers at 6 pm on Saturday")
    conversation.ask("we only have the kitchen for Friday evening")
    assert served(conversation.ask("timetable")) == "Sat 28 Nov 2026 18:00"


def test_the_heat_of_the_grill_is_not_that_of_the_day(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 40 burgers at 6 pm on Saturday", "cook to 160 F")
    assert answer.topic != "timetable"


def test_it_can_be_walked_through_step_by_step(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    steps = conversation.ask("serving 40 burgers at 6 pm on Saturday").steps
    read = [conversation.ask("walk me through it")]
    read += [conversation.ask("next") for _ in range(2)]
    for number, (step, answer) in enumerate(zip(steps, read, strict=False), 1):
        assert answer.headline.startswith(f"Step {number} of ")
        assert step in f"{answer.headline} {' '.join(answer.steps)}"
    assert "timer" in f"{read[-1].headline} {read[-1].message} {' '.join(read[-1].notes)}".lower()


def test_two_of_us_begin_later_than_one(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    alone = moments(conversation.ask("serving 40 burgers at 6 pm on Saturday"))
    both = moments(conversation.ask("two of us"))
    assert both["cube"] > alone["cube"] and both["serve"] == alone["serve"]


def test_frozen_meat_asks_how_heavy_a_pack_is(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask("serving 40 burgers at 6 pm on Saturday")
    assert "pack" in conversation.ask("from frozen").message
    assert "thaw" in moments(conversation.ask("2 lb"))


def test_what_should_have_begun_is_said_first_and_nothing_is_squeezed(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 40 burgers at noon today")
    assert answer.status is Status.IMPOSSIBLE
    assert answer.message.startswith("Too late for 12 noon on Wed 25 Nov: you should have begun cubing at ")
    table = moments(answer)
    assert min(table.values()) >= WEDNESDAY
    assert table["serve"] > datetime(2026, 11, 25, 12, tzinfo=LONDON)


def test_asked_again_while_the_work_goes_on_it_says_where_it_stands(tmp_path: Path) -> None:
    """Saturday, six o'clock: at four the patties are being formed, and nothing is too late."""
    moment = WEDNESDAY
    conversation = Conversation(tmp_path / "notebook.db", now=lambda: moment)
    table = moments(conversation.ask("serving 40 burgers at 6 pm on Saturday"))
    moment = datetime(2026, 11, 28, 16, 0, tzinfo=LONDON)
    answer = conversation.ask("timetable")
    assert answer.headline == (
        "Now: forming, until 4:18 pm; next chilling the patties at 4:18 pm. You serve at 6:00 pm on Sat 28 Nov."
    )
    assert moments(answer) == table
    late = conversation.ask("make it 80 burgers")
    assert late.message.startswith("Too late for 6:00 pm on Sat 28 Nov")
    assert '"the patties are made"' in late.message


def test_thawing_that_is_too_late_names_its_day(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 40 burgers at 6 pm on Thursday, frozen in 5 lb packs")
    assert "you should have begun thawing at 1:07 am on Tue 24 Nov" in answer.message
    assert (
        served(answer) == "Sat 28 Nov 2026 18:00"
    )  # the same hour of the first day that works, not two in the morning


def test_a_moment_that_is_past_is_asked_about(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 10 at 2 pm yesterday")
    assert answer.status is Status.NEEDS_DETAIL
    assert "is past already" in answer.message


def test_work_that_would_fall_into_the_night_is_done_the_evening_before_and_told(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 60 at 1 pm on Saturday")
    assert moments(answer)["form"].date() == datetime(2026, 11, 27).date()
    assert any("evening before" in note for note in answer.notes)


def test_when_to_put_the_first_on_counts_only_the_rounds(tmp_path: Path) -> None:
    """Six rounds of ten minutes before one o'clock: noon."""
    line = "90 burgers all to be cooked by 1 pm, the barbecue holds 15 and a round is 10 minutes. When do I start?"
    answer = asked(tmp_path, line)
    assert f"{moments(answer)['round 1']:%H:%M}" == "12:00"


def test_rounds_without_an_hour_take_so_long(tmp_path: Path) -> None:
    """100 over 20 is five rounds of 8 minutes; over 16 seven."""
    conversation = talk(tmp_path)
    answer = conversation.ask("100 burgers, grill takes 20 at a time, 8 minutes a round")
    assert (value(answer, Role.DURATION), value(answer, Role.RATIO)) == (40, 5)
    assert value(conversation.ask("grill takes 16 at a time"), Role.DURATION) == 56
    assert f"{moments(conversation.ask('we eat at 1 pm on Saturday'))['serve']:%H:%M}" == "13:00"


def test_when_to_light_the_grill_is_about_the_fire(tmp_path: Path) -> None:
    """Four rounds of ten minutes, both taken for granted and told: twenty past twelve."""
    answer = asked(tmp_path, "when do I light the grill for 1 pm, 40 burgers")
    assert f"{moments(answer)['round 1']:%H:%M}" == "12:20"
    assert any("12 on the grill at a time and 10 min a round" in note for note in answer.notes)


def test_a_night_with_a_clock_change_is_told_and_counts_real_hours(tmp_path: Path) -> None:
    """London, 28 March 2027: the clocks go forward at 1 am."""
    friday = datetime(2027, 3, 26, 9, 0, tzinfo=LONDON)
    answer = asked(tmp_path, "serving 40 burgers at 1 pm on Sunday, made the day before", now=friday)
    table = moments(answer)
    assert table["serve"].utcoffset() == timedelta(hours=1)
    assert table["form"].utcoffset() == timedelta(0)
    assert table["salt"] - table["chill patties"] == timedelta(hours=15, minutes=12)  # the wall says 16 h 12 min
    assert any("clocks change" in note for note in answer.notes)


def test_an_hour_that_the_clocks_skip_is_asked_about(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 10 at 1:30 am on 28 March 2027")
    assert answer.status is Status.NEEDS_DETAIL
    assert "1:30 am does not exist" in answer.message


def test_poultry_is_bought_no_sooner_than_the_day_before_and_cooked_hotter(tmp_path: Path) -> None:
    answer = asked(tmp_path, "6 lb of chicken thigh", "timetable for that, serving at 1 pm on Sunday")
    assert moments(answer)["buy by"] == datetime(2026, 11, 28, 20, tzinfo=LONDON)
    assert "from" not in answer.steps[0]  # bought that day and no sooner
    assert any("165" in caution.text for caution in answer.cautions)


def test_reminders_of_heat_and_cold_come_with_it(tmp_path: Path) -> None:
    topics = {caution.topic for caution in asked(tmp_path, "serving 60 at 1 pm on Saturday").cautions}
    assert {"cook_temperature", "keep_cold", "hold_hot"} <= topics


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    people=st.integers(1, 120),
    hour=st.sampled_from([1, 2, 5, 6, 7]),
    change=st.sampled_from(
        ["", "two of us", "make them the day before", "8 minutes a round", "grill takes 15 at a time"]
    ),
)
def test_steps_stand_in_order_and_end_at_serving(tmp_path: Path, people: int, hour: int, change: str) -> None:
    lines = [f"serving {people} people at {hour} pm on Saturday", *([change] if change else [])]
    table = list(moments(asked(tmp_path, *lines)).items())
    assert table[-1] == ("serve", datetime(2026, 11, 28, hour + 12, tzinfo=LONDON))
    for (_, before), (_, after) in pairwise(table):
        assert before <= after


@pytest.mark.parametrize(
    "line",
    [
        "Serving burgers at 1 pm, where does my 2 hour limit start?",
        "2 lb frozen ground chuck, cooking saturday at noon, when do i move it to the fridge",
        "took it out of the fridge at 4:45 pm",
        "how long does mince keep in the fridge",
    ],
)
def test_other_questions_with_a_clock_time_stay_where_they_belong(tmp_path: Path, line: str) -> None:
    assert asked(tmp_path, line).topic != "timetable"


@pytest.mark.parametrize(
    "lines",
    [
        ("serving 60 at one o'clock on Saturday",),
        ("serving 40 burgers at 6 pm on Saturday", "two of us", "frozen in 2 lb packs"),
        ("6 lb at 80/20 from brisket trim and round", "timetable for that, serving at 1 on Saturday"),
        ("serving 20 people at midnight on Saturday", "make them the day before"),
    ],
)
def test_what_it_says_it_understood_reads_back_to_the_same_timetable(tmp_path: Path, lines: tuple[str, ...]) -> None:
    first = asked(tmp_path, *lines)
    again = asked(tmp_path / "again.db", first.understood)
    assert moments(again) == moments(first)


def test_a_batch_that_could_be_two_asks_which_before_any_times(tmp_path: Path) -> None:
    # raised: the question of the plan was taken for a plan
    talk = Conversation(tmp_path / "notebook.db")
    talk.ask("2.4 kg round at 6% fat and 1.6 kg brisket trim at 40%")
    answer = talk.ask("47 pounds, order of work, chicken fat trim burger")
    assert answer.status is not Status.ANSWERED
    assert answer.message


@pytest.mark.parametrize(
    ("lines", "minutes"),
    [
        (("one grill takes 12 and the other 8, ten minutes a round, 140 burgers in all. How long?",), 70),
        (("70 burgers, grill holds 14, 8 minutes a round", "allow 2 minutes between rounds"), 48),
        (("60 burgers on a barbecue that takes 18, 10 minutes a go and 5 minutes to scrape down in between",), 55),
        (("grill does 40 burgers every quarter of an hour. 180 burgers - how long?",), 75),
        (("48 burgers, pan holds 6, 7 minutes each batch", "found a second pan"), 28),
        (("100 burgers, grill takes 20 at a time, 8 minutes a round", "the grill's smaller, only 16"), 56),
    ],
)
def test_rounds_with_gaps_two_grills_and_rates_are_timed(lines: tuple[str, ...], minutes: int) -> None:
    """No gap after the last round; a second pan of no size said is as big as the first."""
    talk = Conversation()
    for line in lines:
        answer = talk.ask(line)
    found = [figure.value for figure in answer.figures if figure.role is Role.DURATION]
    assert found == [minutes]


def test_lit_at_an_hour_the_rounds_are_done_by_another() -> None:
    """Seven rounds of 7 minutes from 5:15 are over four minutes after the doors."""
    line = "doors at 6 pm, 84 burgers, 12 at a time, 7 min each time - if I start at 5.15 will I be done?"
    assert "6:04 pm, 4 min after 6:00 pm" in Conversation().ask(line).headline
