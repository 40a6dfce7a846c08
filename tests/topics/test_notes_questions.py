"""Questions to the notebook in the words of cooks, and batches made again in every way that people say it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Status
from assistant.notebook import Notebook
from tests.topics.kitchen_talk import Evening, said, value

BLEND = "2.4 kg round at 6% fat and 1.6 kg brisket trim at 40% fat, 18 g salt per kilo"
LOG = ("log 2 kg chuck as Stroke, 6/10", "log 1.5 kg chuck and 500 g suet as Bow, 9/10", "log 3 kg round as Cox, 7/10")


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.fixture
def season(evening: Evening) -> Evening:
    evening.ask(*LOG)
    return evening


@pytest.mark.parametrize(
    ("line", "kilos"),
    [
        ("fair stall times three", 12),
        ("3x fair stall", 12),
        ("two batches of fair stall", 8),
        ("one and a half times fair stall", 6),
        ("a batch and a half of fair stall", 6),
        ("fair stall but 50% more", 6),
        ("a quarter of fair stall", 1),
        ("how much round do I need for 9 kg of fair stall?", 9),
        ("fair stall again using 1 kg of trim", 2.5),
        ("as much fair stall as 1 kg of trim makes", 2.5),
        ("make the best one again for 4 kg", 4),
    ],
)
def test_made_again_in_many_words(evening: Evening, line: str, kilos: float) -> None:
    answer = evening.ask(BLEND, "save that as fair stall", "rate it 8/10", line)
    assert value(answer, "component", "round") == pytest.approx(0.6 * kilos, rel=0.001)
    assert value(answer, "seasoning", "salt") == pytest.approx(18 * kilos, rel=0.001)


def test_people_and_their_patties_weigh_the_same_in_both_sentences(evening: Evening) -> None:
    """A metric batch in a kitchen of pounds took the meat by one patty and the blend by another."""
    answer = evening.ask(BLEND, "save that as fair stall", "fair stall for 30 people")
    totals = {round(f.value, 6) for f in answer.figures if f.role.value == "total" and isinstance(f.value, float)}
    assert totals == {6.75}


def test_another_fat_is_worked_out_anew(evening: Evening) -> None:
    """The kept weights held, and the fat asked for was only a note."""
    answer = evening.ask(BLEND, "save that as fair stall", "fair stall again at 25% fat")
    assert value(answer, "fat") == pytest.approx(25)
    assert value(answer, "total") == pytest.approx(4)


def test_leaner_is_not_dropped(evening: Evening) -> None:
    assert evening.ask(BLEND, "save that as fair stall", "fair stall again, leaner").status is Status.NEEDS_DETAIL


def test_the_weight_of_a_patty_is_no_batch(evening: Evening) -> None:
    """ "how many patties of 120 g" made the whole batch weigh 120 g."""
    assert value(evening.ask(BLEND, "how many patties of 160 g does that make"), "patty_count") == 25
    answer = evening.ask("save that as fair stall", "how many patties of 100 g does fair stall make")
    assert value(answer, "patty_count") == 40


def test_a_word_that_is_not_understood_beside_a_name_is_named(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save that as fair stall", "quarantine fair stall")
    assert answer.status is Status.NEEDS_DETAIL
    assert '"quarantine"' in answer.message


@pytest.mark.parametrize(
    "line", ["fair stall was a 6", "I'd give fair stall 6", "we gave fair stall a 6", "fair stall got 6/10"]
)
def test_marks_for_a_named_batch(evening: Evening, line: str) -> None:
    evening.ask(BLEND, "save that as fair stall", line)
    assert Notebook(evening.path).get("fair stall").rating == 6


def test_tags_on_and_off(evening: Evening) -> None:
    evening.ask(BLEND, "save that as fair stall", "tag it summer, quick and club")
    assert Notebook(evening.path).get("fair stall").tags == ("summer", "quick", "club")
    evening.ask("take the quick tag off fair stall", "untag it club")
    assert Notebook(evening.path).get("fair stall").tags == ("summer",)
    assert evening.ask("remove the tag winter").status is Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("line", "there", "absent"),
    [
        ("which batch did we like most?", ["bow"], ["cox"]),
        ("rank my batches", ["bow", "cox", "stroke"], []),
        ("batches rated 7 or more", ["bow", "cox"], ["stroke"]),
        ("anything under 7?", ["stroke"], ["bow", "cox"]),
        ("the last two batches", ["cox", "bow"], ["stroke"]),
        ("have I ever used suet?", ["bow"], ["cox", "stroke"]),
        ("find suet", ["bow"], ["cox"]),
        ("how many batches have I saved", ["3"], []),
        ("what did Cox score?", ["7/10"], ["bow"]),
        ("Bow vs Cox", ["500 g less suet"], ["stroke"]),
        ("what did I change since last time", ["cox", "bow"], ["stroke"]),
    ],
)
def test_questions_over_many_batches(season: Evening, line: str, there: list[str], absent: list[str]) -> None:
    answer = season.ask(line)
    assert answer.status is Status.ANSWERED
    for word in there:
        assert word in said(answer)
    for word in absent:
        assert word not in said(answer)


def test_a_version_is_compared_with_the_one_before(season: Evening) -> None:
    answer = season.ask("log 1.5 kg chuck and 300 g suet as Bow", "compare Bow with the version before")
    assert "200 g less suet" in answer.headline


def test_a_species_is_every_cut_of_it(season: Evening) -> None:
    """ "how much beef" was looked for in the names of the cuts."""
    assert value(season.ask("how much beef did I grind this week"), "total") == pytest.approx(7000)


def test_three_are_not_compared_in_silence(season: Evening) -> None:
    assert season.ask("compare Bow, Cox and Stroke").status is Status.NEEDS_DETAIL


def test_a_save_with_a_remark_is_one_change(evening: Evening) -> None:
    """Undo took back the remark and left the batch."""
    evening.ask(BLEND, "save it as pier, note: a touch dry", "undo")
    assert Notebook(evening.path).count() == 0


@pytest.mark.parametrize(
    "line", ["throw fair stall away", "bin fair stall", "get rid of fair stall please", "forget fair stall"]
)
def test_a_batch_is_thrown_away(evening: Evening, line: str) -> None:
    evening.ask(BLEND, "save that as fair stall", line)
    assert Notebook(evening.path).count() == 0
    evening.ask("undo")
    assert Notebook(evening.path).count() == 1


@pytest.mark.parametrize("line", ["call fair stall quay stall from now on", "rename fair stall to quay stall"])
def test_a_batch_gets_another_name(evening: Evening, line: str) -> None:
    evening.ask(BLEND, "save that as fair stall", line)
    assert list(Notebook(evening.path).names()) == ["quay stall"]


def test_what_is_jotted_down_is_a_remark(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save that as fair stall", "jot down: pan was too crowded", "fair stall notes")
    assert "pan was too crowded" in said(answer)
