"""Questions to the notebook in the words of cooks, and batches made again in every way that people say it."""

from __future__ import annotations

from fractions import Fraction
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


@pytest.mark.parametrize(
    ("line", "marks"),
    [("make that 8", 8), ("actually 9", 9), ("no, 6.5", 6.5), ("make it 9 out of 10", 9), ("sorry, 4/5", 4)],
)
def test_marks_are_corrected_in_the_next_breath(evening: Evening, line: str, marks: float) -> None:
    """The number became a weight of the batch on the table."""
    answer = evening.ask(BLEND, "save that as fair stall", "rate it 7", line)
    assert value(answer, "rating") == marks


def test_rate_it_asks_for_the_marks(evening: Evening) -> None:
    assert "how many marks" in said(evening.ask(BLEND, "save that as fair stall", "rate it"))
    assert value(evening.ask("nine"), "rating") == 9


def test_marks_after_other_numbers(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save that as fair stall", "half a point short of perfect, 9.5 out of 10")
    assert value(answer, "rating") == 9.5


def test_marks_in_words_after_a_name(evening: Evening) -> None:
    """They became a part of the name."""
    evening.ask("log 4 kg shin as Oars, 9 out of ten", "log 4 kg chuck as Blades, five out of ten")
    kept = {batch.name: batch.rating for batch in Notebook(evening.path).all()}
    assert kept == {"Oars": Fraction(9), "Blades": Fraction(5)}
    assert value(evening.ask("which came out lower?"), "rating", "Blades") == 5


@pytest.mark.parametrize("gone", ["forget fair stall", "rename fair stall to quay stall"])
def test_a_name_that_is_gone_is_told_and_not_taken_for_small_talk(evening: Evening, gone: str) -> None:
    """The batch on the table was answered instead."""
    answer = evening.ask(
        BLEND, "save that as fair stall", "2 kg chuck, save as plain", gone, "fair stall again for 4 kg"
    )
    assert answer.status is Status.IMPOSSIBLE
    assert 'no saved batch is called "fair stall"' in said(answer)


@pytest.mark.parametrize("line", ["which is better, Bow or Cox?", "did we prefer Bow or Cox"])
def test_which_of_two_was_better_is_told_by_their_marks(season: Evening, line: str) -> None:
    answer = season.ask(line)
    assert value(answer, "rating", "Bow") == 9
    assert value(answer, "rating", "Cox") == 7


@pytest.mark.parametrize("line", ["which one was dry?", "which batch came out a bit dry"])
def test_a_batch_is_found_by_what_was_noted_of_it(season: Evening, line: str) -> None:
    """It was taken for a wish to mend the batch on the table."""
    assert "bow" in said(season.ask("note on Bow: too dry on the day", line))


def test_marks_that_nobody_gave_are_told(evening: Evening) -> None:
    answer = evening.ask(BLEND, "save that as fair stall", "what did fair stall get?")
    assert "not rated yet" in answer.headline
    assert "not rated yet" not in evening.ask("show fair stall").headline


@pytest.mark.parametrize("line", ["note: juicy and a bit graesy", "rate it 7, juicy"])
def test_a_remark_is_kept_as_it_was_typed(evening: Evening, line: str) -> None:
    """It was said to be taken for another word."""
    assert not any("Took" in note for note in evening.ask(BLEND, "save that as fair stall", line).notes)


@pytest.mark.parametrize("line", ["half of Bow", "Bow for 10 people at 100 g each"])
def test_a_name_that_is_a_small_word_is_known_by_its_capital(season: Evening, line: str) -> None:
    assert value(season.ask(line), "component", "chuck") == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("line", "round_", "salt"),
    [
        # 4 kg: 6 a + 40 (4 - a) = 100 at 25 % gives 60/34 kg of round
        ("fair stall again but 25%", 60 / 34, 72),
        ("fair stall at 25%", 60 / 34, 72),
        ("fair stall for 2 kg at 25 percent", 30 / 34, 36),
        ("fair stall with 12 g salt per kilo", 2.4, 48),
        ("fair stall at 2% salt", 2.4, 80),
        ("fair stall with 10% spare", 2.64, 79.2),
        ("fair stall for 2 kg with 12 g salt per kilo", 1.2, 24),
        ("fair stall again for 2 kg and 20 g salt", 1.2, 20),
    ],
)
def test_made_again_with_another_figure(evening: Evening, line: str, round_: float, salt: float) -> None:
    """A bare percent was not understood, and a rate beside a weight lost the cuts."""
    answer = evening.ask(BLEND, "save that as fair stall", line)
    found = value(answer, "component", "round")
    assert (found if found < 100 else found / 1000) == pytest.approx(round_, rel=0.001)
    assert value(answer, "seasoning", "salt") == pytest.approx(salt, rel=0.001)


def test_marks_and_a_remark_that_says_best(evening: Evening) -> None:
    """The marks were lost, and the best so far was told."""
    assert value(evening.ask(BLEND, "save that as fair stall", "rate it 9, best so far"), "rating") == 9


@pytest.mark.parametrize("line", ["what changed between them", "compare them", "what's the difference between the two"])
def test_the_two_just_compared_are_compared_again(season: Evening, line: str) -> None:
    """What had changed between the two answers was told."""
    assert season.ask("compare Bow and Stroke", line).understood == "Compare Bow with Stroke"
    assert season.ask("2 kg chuck", "show Bow", line).understood == "Compare Bow with Cox"


def test_several_tags_are_put_on_at_once(evening: Evening) -> None:
    evening.ask(BLEND, "save that as fair stall", "add tags summer, club to fair stall")
    assert Notebook(evening.path).get("fair stall").tags == ("summer", "club")


def test_a_proposal_tells_how_it_was_found(evening: Evening) -> None:
    """Why told only what stood there already."""
    for fat, name, marks in ((500, "pier", 8), (250, "quay", 5), (1000, "boom", 4)):
        evening.ask(f"log 2 kg round at 6% fat and {fat} g suet at 90% fat as {name}, {marks}/10")
    working = " ".join(evening.ask("what should I try next?", "why?").steps)
    assert "22.8% fat 8/10, 15.3% fat 5/10 and 34% fat 4/10" in working
    assert "Gaussian process" in working
    assert "expected improvement" in working
