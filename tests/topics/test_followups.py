"""Follow-ups that change one figure, one cut or one seasoning of the batch on the table; and what they leave to a question."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.answer import Answer, Status
from assistant.session import Conversation

ROUND = "5 lb 80/20 from round 8% and suet 92%"


@pytest.fixture
def talk(tmp_path: Path) -> Conversation:
    return Conversation(notebook_path=tmp_path / "notebook")


def said(talk: Conversation, *lines: str) -> Answer:
    """The last answer of a conversation."""
    answers: list[Answer] = [talk.ask(line) for line in lines]
    return answers[-1]


def parts(answer: Answer) -> dict[str, float]:
    """Weight of each cut, in the unit of the answer."""
    return {f.name: round(float(f.value), 3) for f in answer.figures if f.role.value == "component"}


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        # two cuts a, b at fats p, q for fat t: b is (t - p) / (q - p) of the batch
        ("its 94 not 92", {"round": 4.302, "suet": 0.698}),
        ("not 92, 94", {"round": 4.302, "suet": 0.698}),
        ("no the round is 10%", {"round": 4.390, "suet": 0.610}),
        ("25% instead", {"round": 3.988, "suet": 1.012}),
        ("5 points leaner", {"round": 4.583, "suet": 0.417}),
        ("no wait 4", {"round": 3.429, "suet": 0.571}),
        ("one and a half times that", {"round": 6.429, "suet": 1.071}),
        ("a third more", {"round": 5.714, "suet": 0.952}),
        ("sorry, kilos not pounds", {"round": 4.286, "suet": 0.714}),
        ("use dripping instead, 99%", {"round": 4.341, "dripping": 0.659}),
    ],
)
def test_a_figure_is_changed_where_only_it_can_be_meant(
    talk: Conversation, line: str, expected: dict[str, float]
) -> None:
    answer = said(talk, ROUND, line)
    assert answer.status is Status.ANSWERED, answer.message
    assert parts(answer) == pytest.approx(expected, abs=0.001)


@pytest.mark.parametrize(
    ("line", "reply", "expected"),
    [
        ("make it 25", "the fat", {"round": 3.988, "suet": 1.012}),
        ("make it 25", "25 lb", {"round": 21.429, "suet": 3.571}),
        ("10% less", "the batch", {"round": 3.857, "suet": 0.643}),
        ("10% less", "the second", {"round": 4.881, "suet": 0.119}),
        ("swap the suet", "dripping 99%", {"round": 4.341, "dripping": 0.659}),
        ("what about lamb shoulder at 22%", "the suet", {"round": 0.714, "lamb shoulder": 4.286}),
    ],
)
def test_what_could_mean_two_things_is_asked_and_a_word_answers(
    talk: Conversation, line: str, reply: str, expected: dict[str, float]
) -> None:
    asked = said(talk, ROUND, line)
    assert asked.status is Status.NEEDS_DETAIL
    assert asked.message.endswith("?") or "Say" in asked.message
    assert parts(talk.ask(reply)) == pytest.approx(expected, abs=0.001)


def test_a_ratio_of_two_cuts_may_be_lean_to_fat_or_parts(talk: Conversation) -> None:
    line = "5 lb sausage, 70/30 pork shoulder and fatback"
    assert said(talk, line).status is Status.NEEDS_DETAIL
    assert parts(talk.ask("parts")) == {"pork shoulder": 3.5, "fatback": 1.5}
    assert said(talk, line, "lean to fat").understood.startswith("Plan 5 lb at 70/30")


def test_half_and_half_of_two_meats_is_no_fat(talk: Conversation) -> None:
    assert parts(said(talk, "braising steak and pork belly, 60:40, 1750 g all in")) == {
        "braising steak": 1050.0,
        "pork belly": 700.0,
    }


@pytest.mark.parametrize("line", ["swap it", "swap the suet", "swap the chuck for brisket"])
def test_fixed_a_swap_that_does_not_say_all_is_asked_about(talk: Conversation, line: str) -> None:
    assert said(talk, ROUND, line).status is Status.NEEDS_DETAIL


@pytest.mark.parametrize("aside", ["why", "what temp for burgers", "how did you get that"])
def test_fixed_undo_takes_back_the_last_change_whatever_was_asked_since(talk: Conversation, aside: str) -> None:
    back = said(talk, ROUND, "make it 8 lb", aside, "undo")
    assert back.headline.startswith("Taken back.")
    assert parts(back) == pytest.approx({"round": 4.286, "suet": 0.714}, abs=0.001)


def test_fixed_a_weight_to_be_brought_to_a_fat_stays_what_there_is(talk: Conversation) -> None:
    assert parts(said(talk, "2.5 kg shin at 7%, bring it to 20% with suet at 92%")) == pytest.approx(
        {"shin": 2.5, "suet": 0.451}, abs=0.001
    )


@pytest.mark.parametrize(
    "line",
    [
        "1,5 kg topside 5% suet 90% 20%",
        "20%, 1.5 kg, topside 5% suet 90%",
        "topside 5%, suet 90%, 1.5 kg, 20%",
        "1.5 kg mince at 20%: topside 5%, suet 90%",
        "1.5 kg 20% topside 5% suet 90%",
        "one point five kilos, suet 90% and topside 5%, 20% overall",
    ],
)
def test_the_odd_figure_out_is_the_fat_that_is_wanted(talk: Conversation, line: str) -> None:
    assert parts(said(talk, line)) == pytest.approx({"topside": 1.235, "suet": 0.265}, abs=0.001)


def test_fixed_two_exchanges_in_one_line_are_both_made(talk: Conversation) -> None:
    both = said(talk, ROUND, "replace suet with bacon ends at 44 and round with sirloin at 10")
    assert set(parts(both)) == {"bacon ends", "sirloin"}


@pytest.mark.parametrize("line", ["double the suet", "more suet", "use less suet"])
def test_fixed_a_weight_that_follows_from_the_fat_is_not_doubled_alone(talk: Conversation, line: str) -> None:
    assert said(talk, ROUND, line).status is Status.NEEDS_DETAIL


def test_fixed_a_no_and_a_new_weight_never_change_another_figure(talk: Conversation) -> None:
    assert said(talk, ROUND, "no, 8 lb. and 15%").status is not Status.ANSWERED


def test_fixed_a_correction_finds_the_same_name(talk: Conversation) -> None:
    answer = said(talk, "season 3 lb burger with 1 tsp salt and 1/2 tsp pepper per lb, no wait 3/4 tsp salt")
    amounts = {f.name: float(f.value) for f in answer.figures if f.unit == "tsp"}
    assert amounts["salt"] == pytest.approx(2.25)
    assert amounts["pepper"] == pytest.approx(1.5)


def test_fixed_grams_of_salt_in_it_already_are_no_percent(talk: Conversation) -> None:
    answer = said(talk, "25 g salt in 2 kg, I want 1.5%")
    assert any(f.name == "salt" and f.unit == "g" and float(f.value) == pytest.approx(5) for f in answer.figures)
    assert "1.25%" in answer.understood


def test_another_spice_comes_at_the_rate_of_the_one_that_goes(talk: Conversation) -> None:
    answer = said(talk, "salt 18 g/kg, pepper 3 g/kg, 4 kg", "swap the pepper for paprika")
    assert {f.name for f in answer.figures if f.role.value == "seasoning" and f.unit == "g"} == {"salt", "paprika"}


def test_fixed_a_share_added_to_a_weight_leaves_the_weight(talk: Conversation) -> None:
    # 10 lb is 80 % of the whole: 10 / 0.8 = 12.5 lb
    answer = said(talk, "10 lb deer plus 20% pork fat")
    assert parts(answer) == {"deer": 10.0, "pork fat": 2.5}
    assert any("of the whole mix" in note for note in answer.notes)


def test_fixed_half_the_salt_is_no_share_of_the_suet(talk: Conversation) -> None:
    answer = said(talk, "3 lb at 80/20 from chuck 16% and suet 92%, half the salt of last time")
    assert answer.status is not Status.ANSWERED
    assert "50% suet" not in answer.understood


def test_cuts_written_as_one_word_are_read_and_told(talk: Conversation) -> None:
    answer = said(talk, "4 lb 80/20 shortribs and porkloin")
    assert set(parts(answer)) == {"short ribs", "pork loin"}
    assert any("short rib" in note for note in answer.notes)


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("1.5 kg chuck and 500 g suet", "drop the suet"), {"chuck": 1.5}),
        (("1.5 kg chuck, 500 g suet, save as Bow", "Bow again for 4 kg", "and without the suet"), {"chuck": 3.0}),
        (("2 kg chuck, 1 kg suet and 1 kg round", "drop the suet"), {"chuck": 2.0, "round": 1.0}),
    ],
)
def test_what_is_left_after_a_cut_is_dropped_is_the_batch(
    talk: Conversation, lines: tuple[str, ...], expected: dict[str, float]
) -> None:
    """Of two cuts one was left, and what to make of it was asked."""
    answer = said(talk, *lines)
    assert answer.status is Status.ANSWERED
    assert parts(answer) == expected


def test_a_dropped_cut_leaves_less_than_was_wanted_which_is_told(talk: Conversation) -> None:
    answer = said(talk, "8 kg: 4 kg chuck, 2 kg suet and 2 kg round", "drop the suet")
    assert any('say "make it 8 kg"' in note for note in answer.notes)
    assert parts(said(talk, "make it 8 kg")) == {"chuck": 5.333, "round": 2.667}
    assert not any("make it" in note for note in talk.ask("why?").notes)


def test_an_amount_of_salt_grows_with_a_batch_of_weighed_cuts(talk: Conversation) -> None:
    """70 g of salt for 4 kg stayed 70 g for 2 kg."""
    answer = said(talk, "4 kg chuck, 70 g salt", "make it 2 kg")
    salt = next(f for f in answer.figures if f.role.value == "seasoning")
    assert salt.value == pytest.approx(35)
