"""On paper: recipe cards, labels and calendar files, shown or written where the person said."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.answer import Answer, Role, Status
from assistant.cli import main
from assistant.render import plain, terminal
from assistant.session import Conversation
from assistant.topics.card import labels, pages

LONDON = ZoneInfo("Europe/London")
WEDNESDAY = datetime(2026, 11, 25, 9, 0, 30, 500, tzinfo=LONDON)
BATCH = "6 lb at 80/20 from brisket trim and round"
MEAL = "timetable for that, serving at 1 pm on Saturday"


def talk(folder: Path, now: datetime = WEDNESDAY, **settings: str) -> Conversation:
    return Conversation(folder / "notebook.db", now=lambda: now, folder=folder, settings=settings)


def asked(folder: Path, *lines: str, now: datetime = WEDNESDAY, **settings: str) -> Answer:
    conversation = talk(folder, now, **settings)
    return [conversation.ask(line) for line in lines][-1]


def files(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()} - {"notebook.db"}


# ---- the card


@pytest.mark.parametrize(
    "line", ["write that down", "write it down", "recipe card", "print that", "recipe card please"]
)
def test_the_card_holds_cuts_amounts_steps_and_reminders(tmp_path: Path, line: str) -> None:
    answer = asked(tmp_path, BATCH, line)
    assert answer.topic == "card"
    headings = [text for text in answer.document if text.isupper()]
    assert headings == ["CUTS", "AMOUNTS", "STEPS", "REMINDERS", "NOTES"]
    text = "\n".join(answer.document)
    assert "brisket trim (45.5% fat)" in text and "160 °F (71 °C)" in text
    assert answer.document[1] == "Wed 25 November 2026"
    assert files(tmp_path) == set()


def test_the_card_has_the_seasoning_and_the_timetable_where_there_is_one(tmp_path: Path) -> None:
    lines = (
        "8 kg beef chuck, 16 g/kg salt and 3 g/kg pepper",
        "timetable for that, 60 burgers, serving at 1 pm on Saturday",
    )
    text = "\n".join(asked(tmp_path, *lines, "write that down").document)
    assert "SEASONING" in text and "128 g salt" in text
    assert "TIMETABLE" in text and "serve: 1:00 pm" in text


def test_saved_as_markdown_and_as_text(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask(BATCH)
    assert conversation.ask("save that as supper.md").status is Status.ANSWERED
    assert conversation.ask("write that down as supper.txt").status is Status.ANSWERED
    assert files(tmp_path) == {"supper.md", "supper.txt"}
    markdown = (tmp_path / "supper.md").read_text(encoding="utf-8")
    assert markdown.startswith("# 6 lb at 80/20 from brisket trim and round\n")
    assert "\n## Cuts\n\n- 1 lb 15 3/4 oz (904 g) brisket trim (45.5% fat)\n" in markdown
    text = (tmp_path / "supper.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= pages.TEXT_WIDTH


def test_a_file_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "supper.md").write_text("mine", encoding="utf-8")
    answer = asked(tmp_path, BATCH, "save that as supper.md")
    assert answer.status is Status.IMPOSSIBLE
    assert "there already" in answer.message
    assert (tmp_path / "supper.md").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["../supper.md", "/tmp/supper.md", "a/b.txt", "con.txt"])
def test_names_that_leave_the_place_are_refused_in_words(tmp_path: Path, name: str) -> None:
    answer = asked(tmp_path, BATCH, f"save that as {name}")
    assert answer.status is Status.IMPOSSIBLE
    assert answer.message.startswith("Nothing is written")
    assert files(tmp_path) == set()


def test_without_a_batch_there_is_nothing_to_write(tmp_path: Path) -> None:
    for line in ("write that down", "label for that", "save it as supper.ics", "save that as supper.md"):
        answer = asked(tmp_path, line)
        assert answer.status is Status.NEEDS_DETAIL
        assert files(tmp_path) == set()


def test_a_name_without_an_ending_still_goes_to_the_notebook(tmp_path: Path) -> None:
    assert asked(tmp_path, BATCH, "save that as river mix").topic == "notes"
    assert asked(tmp_path, BATCH, "write it down, call it boathouse").topic == "notes"
    assert files(tmp_path) == set()


@given(st.text(max_size=60).filter(lambda text: "\n" not in text and "\r" not in text))
def test_no_text_becomes_markup(text: str) -> None:
    """Every character that Markdown would read stands behind a backslash."""
    shown = pages.escaped(text)
    unescaped, at = "", 0
    while at < len(shown):
        at += shown[at] == "\\"
        unescaped += shown[at]
        at += 1
    assert unescaped == text
    for mark in "`*_[]<>|#":
        assert shown.count(mark) == shown.count(f"\\{mark}")


def test_a_screen_shows_the_page_once_and_json_all_of_it(tmp_path: Path) -> None:
    answer = asked(tmp_path, BATCH, "write that down")
    first = " ".join(answer.steps[0].split()[:4])
    for drawn in (plain.render(answer, 72), terminal.render(answer, 72)):
        assert drawn.count(first) == 1
        assert "\n\nCUTS\n" in drawn
        assert all(len(line) <= 72 for line in drawn.splitlines())
    assert answer.as_data()["document"] == list(answer.document)
    assert answer.as_data()["figures"]
    assert "document" not in asked(tmp_path, BATCH).as_data()


# ---- the label


def test_a_label_for_the_freezer(tmp_path: Path) -> None:
    """FoodSafety.gov: ground meat 3 to 4 months at 0 F; the earlier date is printed."""
    assert asked(tmp_path, BATCH, "label for that").document == (
        "GROUND BRISKET TRIM + ROUND",
        "80/20 lean:fat",
        "6 lb (2.72 kg)",
        "Made Wed 25 Nov 2026",
        "Use by Thu 25 Feb 2027",
        "Raw. Cook to 160 F (71 C)",
    )


def test_a_label_for_packs_says_how_many_are_needed(tmp_path: Path) -> None:
    answer = asked(tmp_path, BATCH, "freezer labels for 2 lb packs")
    assert answer.headline.startswith("3 labels")
    assert "2 lb (907 g)" in answer.document


def test_a_label_for_the_fridge_counts_days(tmp_path: Path) -> None:
    assert "Use by Thu 26 Nov 2026" in asked(tmp_path, BATCH, "label for the fridge").document


def test_seasoned_meat_keeps_as_sausage_does(tmp_path: Path) -> None:
    """FoodSafety.gov: raw sausage 1 to 2 months, as salt turns the fat rancid sooner."""
    answer = asked(tmp_path, "2 kg pork shoulder, 16 g/kg salt", "label for that")
    assert "Use by Fri 25 Dec 2026" in answer.document


def test_poultry_and_warm_freezers(tmp_path: Path) -> None:
    bird = asked(tmp_path, "2 kg from chicken thigh and chicken skin, 15% fat", "label for that")
    assert "Raw. Cook to 165 F (74 C)" in bird.document
    warm = asked(tmp_path, BATCH, "label for that", freezer_celsius="-10")
    assert "Use by: no date holds" in warm.document
    assert not [figure for figure in warm.figures if figure.role is Role.DATE]


def test_the_label_of_a_pack_is_no_label_to_print(tmp_path: Path) -> None:
    line = "4 kg at 18% fat from shin 6% and pork back fat 80%"
    assert asked(tmp_path, line, "the shin is 9% by the label").topic == "blend"


def test_labels_are_narrow_and_can_be_saved(tmp_path: Path) -> None:
    long = "3 kg from beef short rib, pork shoulder and brisket trim, equal parts"
    assert asked(tmp_path, long, "save the label as label.txt").status is Status.ANSWERED
    lines = (tmp_path / "label.txt").read_text(encoding="utf-8").splitlines()
    assert lines and max(map(len, lines)) <= labels.WIDTH


# ---- the calendar


def saved_calendar(folder: Path, *lines: str, now: datetime = WEDNESDAY) -> icalendar.Calendar:
    answer = asked(folder, *lines, "save it as supper.ics", now=now)
    assert answer.status is Status.ANSWERED, answer.message
    return icalendar.Calendar.from_ical((folder / "supper.ics").read_bytes())


def test_the_calendar_reads_back_as_the_timetable(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask(BATCH)
    table = conversation.ask(MEAL)
    conversation.ask("save it as supper.ics")
    calendar = icalendar.Calendar.from_ical((tmp_path / "supper.ics").read_bytes())
    events = {str(event["summary"]).lower(): event for event in calendar.walk("VEVENT")}
    begins = {
        figure.name: datetime.fromisoformat(str(figure.value))
        for figure in table.figures
        if figure.role is Role.CLOCK_TIME
    }
    for name in ("cube", "firm up", "grind", "chill", "form", "chill patties", "salt", "rest", "serve"):
        assert events[name].decoded("dtstart") == begins[name]
    assert events["cook"].decoded("dtstart") == begins["round 1"]
    assert events["buy"].decoded("dtend") == begins["buy by"]
    assert events["serve"].decoded("dtstart") == datetime(2026, 11, 28, 13, tzinfo=LONDON)
    assert "brisket trim" in str(events["buy"]["description"])


def test_stamps_are_the_clock_that_was_handed_in_and_all_moments_are_in_utc(tmp_path: Path) -> None:
    calendar = saved_calendar(tmp_path, BATCH, MEAL)
    events = calendar.walk("VEVENT")
    assert {event.decoded("dtstamp") for event in events} == {datetime(2026, 11, 25, 9, 0, 30, tzinfo=UTC)}
    for event in events:
        for key in ("dtstart", "dtend"):
            if key in event:
                assert event.decoded(key).utcoffset() == timedelta(0)
    assert len({str(event["uid"]) for event in events}) == len(events)
    assert (calendar["version"], str(calendar["prodid"])) == ("2.0", "-//Mincewise//Kitchen timetable//EN")


def test_a_summer_meal_planned_in_winter_is_an_hour_earlier_in_utc(tmp_path: Path) -> None:
    calendar = saved_calendar(tmp_path, "serving 20 at 1 pm on 3 April 2027")
    serve = next(event for event in calendar.walk("VEVENT") if str(event["summary"]) == "Serve")
    assert serve.decoded("dtstart") == datetime(2027, 4, 3, 12, tzinfo=UTC)


def test_the_same_meal_saved_again_is_the_same_entries(tmp_path: Path) -> None:
    """So that a calendar takes the later file in place of the first."""
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    one = saved_calendar(tmp_path / "one", BATCH, MEAL)
    two = saved_calendar(tmp_path / "two", BATCH, MEAL, "serve at 2 instead")
    assert {str(event["uid"]) for event in one.walk("VEVENT")} == {str(event["uid"]) for event in two.walk("VEVENT")}


def test_calendar_without_a_name_asks_for_one(tmp_path: Path) -> None:
    conversation = talk(tmp_path)
    conversation.ask("serving 20 at 1 pm on Saturday")
    assert "file name" in conversation.ask("put that in my calendar").message
    assert conversation.ask("river supper").status is Status.ANSWERED
    assert files(tmp_path) == {"river supper.ics"}


def test_a_meal_and_its_file_in_one_line(tmp_path: Path) -> None:
    answer = asked(tmp_path, "timetable for 60 people at 1 pm on Saturday, save it as supper.ics")
    assert answer.status is Status.ANSWERED
    assert files(tmp_path) == {"supper.ics"}


def test_a_timetable_that_is_too_late_is_not_put_into_a_calendar(tmp_path: Path) -> None:
    answer = asked(tmp_path, "serving 40 burgers at noon today", "save it as supper.ics")
    assert answer.status is Status.IMPOSSIBLE
    assert "should have begun" in answer.message
    assert files(tmp_path) == set()


# ---- from the command line, and what a start costs


def test_the_command_line_saves_beside_the_answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    notebook, file = str(tmp_path / "notebook.db"), tmp_path / "supper.ics"
    line = "serving 20 at 1 pm on 3 April 2099"
    assert main(["ask", "--notebook", notebook, "--save", str(file), line]) == 0
    assert "written to supper.ics" in capsys.readouterr().out
    assert icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert main(["ask", "--notebook", notebook, "--save", str(file), line]) == 1
    assert "there already" in capsys.readouterr().out


@pytest.mark.parametrize(
    "call",
    [
        ["ask", "--save", "supper.doc", "3 lb"],
        ["ask", "--save", 'a".md', "3 lb"],
        ["ask", "--independent", "--save", "a.md", "3 lb"],
        ["notebook", "list", "--save", "a.md"],
    ],
)
def test_calls_that_cannot_save_are_wrong_calls(call: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(call) == 2
    assert "--save" in capsys.readouterr().err


def test_only_who_saves_a_calendar_loads_the_library(tmp_path: Path) -> None:
    program = (
        "import sys; from pathlib import Path; from assistant.session import Conversation\n"
        f"talk = Conversation(Path({str(tmp_path / 'n.db')!r}), folder=Path({str(tmp_path)!r}))\n"
        "talk.ask('serving 20 at 1 pm on 3 April 2099'); talk.ask('write that down')\n"
        "assert 'icalendar' not in sys.modules and 'zoneinfo' not in sys.modules\n"
        "talk.ask('save it as supper.ics'); assert 'icalendar' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
