"""The notebook in words."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant import Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import Evening, said, value

BLEND = "5 lb at 80/20 from sirloin at 8% fat and beef fat at 80% fat"


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("save that as fair stall", "fair stall"),
        ("save it as fair stall please", "fair stall"),
        ("put that in the notebook as Fete trial 1", "Fete trial 1"),
        ("log it as Heat 4", "Heat 4"),
        ("jot that down as Tuesday special", "Tuesday special"),
        ("keep this one as mac and cheese", "mac and cheese"),
        ("add that to my notebook as Ninth", "Ninth"),
        ("remember this mix as Tenth", "Tenth"),
        ("save it under pier two", "pier two"),
        ('save as "burger night", 8/10', "burger night"),
        ("call it Club night", "Club night"),
        ("save it as one", "one"),
        ("save as 80/20 classic", "80/20 classic"),
        ("save this batch as Robert'); DROP TABLE batches;--", "Robert'); DROP TABLE batches;--"),
        ("save this batch as \u202eyadnuS", "yadnuS"),
        ("save", "sirloin and beef fat"),
    ],
)
def test_a_batch_is_saved_under_the_name_that_was_said(evening: Evening, line: str, name: str) -> None:
    answer = evening.ask(BLEND, line)
    assert answer.status is Status.ANSWERED
    assert f'"{name}"' in answer.headline
    assert list(Notebook(evening.path).names().values()) == [name]
    assert f'"{name}"' in evening.ask("show my saved batches").headline


@pytest.mark.parametrize("line", ["save it", "log it as Heat 1", "save that as x"])
def test_with_nothing_planned_there_is_nothing_to_save(evening: Evening, line: str) -> None:
    assert evening.ask(line).status is Status.NEEDS_DETAIL
    assert not evening.path.exists()


def test_a_plan_and_its_saving_in_one_line(evening: Evening) -> None:
    answer = evening.ask("Topside 75%, brisket 25%, 2 kg. Save it as Sunday mix.")
    assert value(answer, "component", "topside") == 1.5
    assert "sunday mix" in said(answer)


def test_again_at_another_weight_scales_every_cut(evening: Evening) -> None:
    answer = evening.ask("Topside 75%, brisket 25%, 2 kg. Save it as Sunday mix.", "Repeat Sunday mix for 4 kg")
    assert value(answer, "component", "topside") == 3
    assert value(answer, "component", "brisket") == 1
    assert value(answer, "total") == 4


def test_again_in_another_conversation(evening: Evening) -> None:
    evening.ask(BLEND, "save it as fair stall")
    answer = evening.another().ask("fair stall for 10 lb")
    assert value(answer, "component", "beef fat") == pytest.approx(5 / 3)


def test_again_with_another_fat_and_weight(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save it as fair stall", "fair stall again at 75/25 for 8 lb")
    assert value(answer, "total") == 8
    assert value(answer, "fat") == 25


def test_again_for_people_gives_the_blend_for_them(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save it as fair stall", "fair stall for 24 burgers of 6 oz")
    assert value(answer, "total", "batch") == pytest.approx(9)
    assert value(answer, "component", "sirloin") == pytest.approx(7.5)


def test_a_small_new_weight_is_the_size_of_a_patty(evening: Evening) -> None:
    answer = evening.ask("2 kg chuck into 150 g patties", "save as smash", "smash but 120 g")
    assert value(answer, "patty_count") == 16


def test_half_and_double(evening: Evening) -> None:
    evening.ask(BLEND, "save it as fair stall")
    assert value(evening.ask("double fair stall"), "total") == pytest.approx(10)
    assert value(evening.ask("half of fair stall"), "total") == pytest.approx(2.5)


def test_half_the_size(evening: Evening) -> None:
    answer = evening.ask("2 kg at 20% fat, topside 5% and suet 90%", "save as Tideway", "Tideway at half the size")
    assert value(answer, "total") == pytest.approx(1)


def test_a_number_in_a_name_is_no_rating(evening: Evening) -> None:
    evening.ask(BLEND, "Please save that as Regatta No. 1")
    kept = Notebook(evening.path).get("Regatta No. 1")
    assert kept.rating is None


def test_small_talk_with_again_in_it_is_no_repeat(evening: Evening) -> None:
    answer = evening.ask("Evening! Rained off again. Anyhow, 2 kg into 100 g patties, how many?")
    assert value(answer, "patty_count") == 20


@pytest.mark.parametrize(
    "line", ["show boathouse", "what's in boathouse?", "what was in boathouse", "what was boathouse rated"]
)
def test_a_one_word_name_is_found_by_what_stands_before_it(evening: Evening, line: str) -> None:
    evening.ask(BLEND, "save it as boathouse", "rate it 8")
    assert "sirloin" in evening.another().ask(line).headline


WORDS = """save it that as log rate note : compare rename to forget again the last one two best 7/10 8 out of 10 what
    was in pier show tag average timer 5 minutes for cubes stock remember i have 2 kg round use grams kitchen from now
    on , . ? half"""


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(WORDS.split()), max_size=9).map(" ".join))
def test_no_mixture_of_these_words_breaks_it(evening: Evening, line: str) -> None:
    evening.ask("2 kg round and 200 g suet")
    assert evening.ask(line).status in Status


def test_a_change_in_seasoning_is_no_rating(evening: Evening) -> None:
    evening.ask("2 kg chuck and 200 g suet", "save as club night", "give me club night again with 1.2% salt")
    assert Notebook(evening.path).get("club night").rating is None


def test_a_version_made_again(evening: Evening) -> None:
    evening.ask(BLEND, "save as club night", "make it 8 lb", "save as club night")
    assert value(evening.ask("club night v1 again"), "total") == pytest.approx(5)


def test_a_question_with_again_is_no_repeat(evening: Evening) -> None:
    assert evening.ask("what was the safe temp again").topic != "notes"


def test_a_logged_single_cut_can_be_made_again(evening: Evening) -> None:
    answer = evening.ask("log 2 kg chuck as Heat 1, 7/10", "Heat 1 again for 5 kg")
    assert value(answer, "component", "chuck") == 5


def test_what_was_in_it(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save it as fair stall", "what was in fair stall")
    assert value(answer, "component", "sirloin") == pytest.approx(25 / 6)
    assert value(answer, "total") == pytest.approx(5)
    assert value(answer, "fat") == 20
    assert "fair stall" in said(answer)


def test_ratings_average(evening: Evening) -> None:
    evening.ask(
        "log 2 kg chuck as Heat 1, 7/10", "log 2 kg brisket as Heat 2, 8/10", "log 2 kg short rib as Heat 3, 6/10"
    )
    answer = evening.ask("what do they average?")
    assert value(answer, "rating") == 7
    assert answer.figures[0].unit == "1"


def test_marks_out_of_five_and_ten_average_on_one_scale(evening: Evening) -> None:
    evening.ask("log 2 kg chuck as Heat 1, 4/5", "log 2 kg brisket as Heat 2, 6/10")
    assert value(evening.ask("average rating"), "rating") == 7


def test_what_changed_between_two_labels(evening: Evening) -> None:
    evening.ask(
        "v1: 2 kg rump and 1 kg brisket. save as Show v1",
        "v2: 2 kg rump, 600 g brisket, 400 g short rib. save as Show v2",
    )
    answer = evening.ask("what changed between v1 and v2?")
    assert [(f.name, f.value, f.unit) for f in answer.figures if f.role.value == "conversion"] == [
        ("brisket, less", 400.0, "g"),
        ("short rib, more", 400.0, "g"),
    ]


def test_labels_without_saving_are_kept_for_the_conversation(evening: Evening) -> None:
    answer = evening.ask(
        "Mix one: 2 kg rump and 1 kg brisket", "Mix two: 2 kg rump and 500 g brisket", "compare mix one and mix two"
    )
    assert "500 g less brisket" in answer.headline
    assert not evening.path.exists()


def test_rating_with_a_remark(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save it as pier", "rate the last one 7, crust great")
    assert value(answer, "rating") == 7
    kept = Notebook(evening.path).get("pier")
    assert kept.rating == 7
    assert [remark.text for remark in kept.remarks] == ["crust great"]


@pytest.mark.parametrize(
    ("line", "marks"),
    [
        ("8 out of 10", (8, 10)),
        ("rate it 8", (8, 10)),
        ("give it 4 stars", (4, 5)),
        ("i'd give it an 8", (8, 10)),
        ("it was a 7", (7, 10)),
        ("rate pier night 4/5", (4, 5)),
        ("score it 6 out of 10 - too dry", (6, 10)),
        ("that was a solid 9/10", (9, 10)),
        ("8.5/10", (8.5, 10)),
        ("eight out of ten", (8, 10)),
    ],
)
def test_ways_to_give_marks(evening: Evening, line: str, marks: tuple[float, int]) -> None:
    assert evening.ask(BLEND, "save it as pier night", line).status is Status.ANSWERED
    kept = Notebook(evening.path).get("pier night")
    assert kept.rating is not None
    assert (float(kept.rating), kept.rating_top) == marks


def test_marks_over_the_top_are_refused(evening: Evening) -> None:
    assert evening.ask(BLEND, "save it as pier night", "rate it 12/10").status is not Status.ANSWERED
    assert Notebook(evening.path).get("pier night").rating is None


def test_marks_that_are_missing_are_asked_for(evening: Evening) -> None:
    evening.ask(BLEND, "save it as pier night")
    assert evening.ask("rate the last one").status is Status.NEEDS_DETAIL
    assert value(evening.ask("9"), "rating") == 9


def test_two_marks_in_one_line_are_not_guessed(evening: Evening) -> None:
    evening.ask(BLEND, "save it as one", "log 2 kg chuck as two")
    assert evening.ask("rate one 6/10 and two 8/10").status is Status.NEEDS_DETAIL


def test_remarks(evening: Evening) -> None:
    evening.ask(BLEND, "save it as pier night", "note: a touch dry, 2 more oz of fat next time")
    assert Notebook(evening.path).get("pier night").remarks[0].text == "a touch dry, 2 more oz of fat next time"


def test_rename_and_forget(evening: Evening) -> None:
    evening.ask(BLEND, "save it as pier night", "rename pier night to regatta")
    assert "regatta" in said(evening.ask("list my batches"))
    evening.ask("delete regatta")
    assert Notebook(evening.path).count() == 0


def test_removing_an_unknown_name_removes_nothing(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save it as pier night", "remove Ninth from the notebook")
    assert answer.status is Status.IMPOSSIBLE
    assert Notebook(evening.path).count() == 1


def test_a_name_used_twice_is_a_new_version(evening: Evening) -> None:
    evening.ask(BLEND, "save it as pier night", "log 2 kg chuck as pier night")
    assert "2 kg chuck" in evening.ask("what was in pier night").headline
    assert "sirloin" in evening.ask("pier night version 1").headline


def test_naming_after_saving_renames(evening: Evening) -> None:
    evening.ask(BLEND, "save", "call it Pier")
    assert list(Notebook(evening.path).names().values()) == ["Pier"]


def test_how_much_salt_last_time(evening: Evening) -> None:
    answer = evening.ask("5 lb ground chuck, 1.5% salt", "save as taco meat", "how much salt did i use last time")
    assert value(answer, "seasoning", "salt") == pytest.approx(34.0194, rel=1e-4)


def test_what_was_used_in_a_month(evening: Evening) -> None:
    evening.ask("log 2 kg chuck as A one", "log 3 kg chuck and 1 kg suet as A two")
    assert value(evening.ask("how much chuck did I use in June"), "total") == pytest.approx(5000)
    assert "no batch" in said(evening.ask("what did I use in May"))


def test_a_batch_of_its_own_is_not_taken_for_the_saved_one(evening: Evening) -> None:
    evening.ask("5 lb ground chuck, 1.5% salt", "save as taco meat")
    answer = evening.ask("3 lb taco meat from chuck and suet at 80/20")
    assert value(answer, "total", "batch") == 3
    assert "was not used" in said(answer)


@pytest.mark.parametrize("name", ["burgers", "beef", "chuck and suet", "sunday"])
def test_a_name_that_means_something_does_not_take_over_later_lines(evening: Evening, name: str) -> None:
    evening.ask(BLEND, f"save it as {name}")
    assert value(evening.ask("12 burgers, 6 oz each, from chuck"), "patty_count") == 12
    assert "sirloin" in evening.ask(f"what was in {name}").headline


def test_what_to_try_next(evening: Evening) -> None:
    assert evening.ask("what should I try next?").status is Status.NEEDS_DETAIL
    for fat, marks in ((200, 6), (400, 8), (600, 7)):
        evening.ask(f"log 2 kg chuck and {fat} g suet as R{fat}, {marks}/10")
    answer = evening.ask("what should I try next?")
    assert sum(f.value for f in answer.figures if f.unit == "%" and f.role.value == "ratio") == pytest.approx(100)


@pytest.mark.parametrize(
    "line",
    [
        "show my saved batches", "the best so far", "what do they average?", "compare the last two", "rate it 8",
        "note: dry", "what was in fair stall", "fair stall again for 4 kg", "how much salt did I use last time",
        "forget fair stall", "rename X to Y", "what did I use in June",
    ],
)  # fmt: skip
def test_asking_an_empty_notebook_makes_no_file(evening: Evening, line: str) -> None:
    assert evening.ask(line).status is not Status.NOT_UNDERSTOOD
    assert not evening.path.exists()


def test_a_damaged_notebook_costs_the_saving_and_not_the_answer(tmp_path: Path) -> None:
    (tmp_path / "notebook.db").write_bytes(b"no notebook at all")
    answer = Evening(tmp_path).ask("Topside 75%, brisket 25%, 2 kg. Save it as Sunday mix.")
    assert answer.status is Status.IMPOSSIBLE  # it was to be saved, and is not
    assert value(answer, "component", "topside") == 1.5
    assert "not saved" in said(answer)


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_read_only_folder_is_told_in_plain_words(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    answer = Evening(tmp_path).ask(BLEND, "save it as fair stall")
    tmp_path.chmod(0o700)
    assert answer.status is Status.IMPOSSIBLE
    assert "not saved" in said(answer)
