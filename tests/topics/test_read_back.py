"""What was understood, typed again, is understood as the same request: over made-up wordings and over all requests kept.

The reading and the restating share no code, so each checks the other: a share restated as a fat, a patty size run
into its count or a recipe's weight taken for the batch would come back as another batch.
"""

from __future__ import annotations

import tempfile
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import Conversation
from assistant.answer import Answer, Status
from tests.requests import judge

REQUESTS = Path(__file__).parent.parent / "requests"
TOPICS = ("blend", "season", "portion", "cost")
ROLES = ("component", "total", "fat", "add", "seasoning", "patty_count", "patty_weight", "cost", "purchase")
LEAST_READ_BACK = 0.92
"""Share of the kept requests that read back to the same figures. What does not hangs on a notebook or a setting, or
says more of its eaters (who eats twice what others do, ranges of guests) than is told back yet. To be raised."""


@pytest.fixture(autouse=True)
def somewhere_to_write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some requests save a file where the person stands."""
    monkeypatch.chdir(tmp_path)


def told(answer: Answer) -> set[tuple[str, str, float | str, str]]:
    """The figures of an answer that a request decides."""
    return {
        (f.name, f.role.value, f.value if isinstance(f.value, str) else round(f.value, 4), f.unit)
        for f in answer.figures
        if f.role.value in ROLES
    }


def reads_back(lines: list[str], folder: Path) -> bool | None:
    """Whether the last answer's understood gives the same figures; None where the last line was no batch answered."""
    talk = Conversation(notebook_path=folder / "notebook")
    answer = [talk.ask(line) for line in lines][-1]
    if answer.topic not in TOPICS or answer.status is not Status.ANSWERED or not answer.understood.startswith("Plan "):
        return None
    again = Conversation(notebook_path=folder / "other").ask(answer.understood)
    return again.status is Status.ANSWERED and told(again) == told(answer)


@pytest.mark.parametrize(
    "lines",
    [
        ["half chuck, a quarter short rib, the rest sirloin. 8 lb"],
        ["half chuck at 16, half brisket at 24, lean to fat?"],
        ["a third of it brisket, the rest chuck, 6 lb"],
        ["1 lb brisket and the rest chuck, 5 lb in all"],
        ["2 kg at 20%: shin 6%, chuck 16%, suet 90%, with half of it chuck"],
        ["use up all the brisket, 2.2 kg at 24%, with shin 6%, to make 15%"],
        ["2.5 kg shin at 7%, bring it to 20% with suet at 92%"],
        ["8 half pounders"],
        ["ten 1/3 lb burgers at 80/20 from round 8% and suet 92%"],
        ["1/3 lb of mince into 3 sliders"],
        ["recipe says for 2 lb: 1 tbsp salt, 2 tsp pepper. im making 5 lb"],
        ["95VL and 65VL, 10 kg at 85VL"],
        ["3 parts 95 lean to 1 part 73 lean, what lean is it"],
        ["1 kg of 5% mince and 500 g of 20% mince, what have I got"],
        ["mince is 14%, 2.4 kg of it, needs to be 20%. I've suet at 90%"],
        ["how much 5% lean for 1 lb of trim at 55 so its 85/15"],
        ["round 8% at 5.49/lb, chuck 18% at 6.29/lb, beef fat 70% at 1.99/lb. cheapest 10 lb of 80/20"],
        ["fattest 2 kg from topside 5% and brisket 22% if at most 1.2 kg is brisket"],
        ["suet 65p per 100 g, I need 380 g"],
        ["have 4 tsp salt total in 6 lb. how much is that a pound"],
        ["10 lb deer plus 20% pork fat"],
        ["5 lb 80/20 from round 8% and suet 92%", "its 94 not 92"],
        ["5 lb 80/20 from round 8% and suet 92%", "swap the suet for dripping 99%", "a third more"],
        ["5 lb 80/20 from round 8% and suet 92%", "and 1.5% salt", "half the salt"],
    ],
)
def test_what_was_understood_reads_back(lines: list[str], tmp_path: Path) -> None:
    assert reads_back(lines, tmp_path) is True


def test_nearly_all_kept_requests_read_back() -> None:
    asked, kept = 0, 0
    for path in sorted(REQUESTS.glob("*.jsonl")):
        if "holdback" in path.stem:
            continue
        for case in judge.read_cases(path):
            with tempfile.TemporaryDirectory() as folder:
                same = reads_back(judge.turns_of(case), Path(folder))
            asked += same is not None
            kept += same is True
    assert asked > 400
    assert kept >= LEAST_READ_BACK * asked, (kept, asked)


LEANS = st.sampled_from(["round", "topside", "shin", "sirloin", "venison", "pork loin"])
FATS = st.sampled_from(["suet", "pork back fat", "beef dripping", "lamb fat"])
WEIGHTS = st.tuples(
    st.sampled_from([Fraction(n, d) for d in (1, 2, 3, 4, 8) for n in range(1, 30)]), st.sampled_from(["lb", "kg"])
)


def written(value: Fraction) -> str:
    """3 1/2 as a cook writes it."""
    whole, rest = divmod(value, 1)
    return " ".join(filter(None, [str(whole) if whole else "", str(rest) if rest else ""]))


@st.composite
def wordings(draw: st.DrawFn) -> str:
    """A blend, a share, a use-up, a correction, a recipe or patties, in one of the ways people say them."""
    lean, fat = draw(LEANS), draw(FATS)
    amount, unit = draw(WEIGHTS)
    weight = f"{written(amount)} {unit}"
    low, high = draw(st.integers(2, 12)), draw(st.integers(75, 99))
    target = draw(st.integers(14, 35))
    count, share = (
        draw(st.integers(2, 40)),
        draw(st.sampled_from(["half", "a third", "a quarter", "1/5", "two thirds"])),
    )
    return draw(
        st.sampled_from(
            [
                f"{weight} at {100 - target}/{target} from {lean} {low}% and {fat} {high}%",
                f"{lean} {low}% {fat} {high}% {weight} {target}%",
                f"{weight} of {lean} at {low}%, get it to {target}% with {fat} at {high}%",
                f"use up {weight} of {fat} ({high}%), how much {low}% {lean} for {target}%",
                f"{weight} of {100 - low}/{low}, want {100 - target}/{target}, have {fat} at {high}%",
                f"{share} of it {lean}, the rest {fat}, {weight}",
                f"{weight}, {count} parts {lean} to 1 part {fat}",
                f"recipe for {weight}: {count} g salt, 3 tsp pepper. I have 5 kg",
                f"{count} patties of {weight}",
                f"1.5% salt and {count} g/kg paprika in {weight}",
                f"{weight} at {target}% from {lean} {low}% and {fat} {high}%, at least {share} {lean}",
            ]
        )
    )


@given(wordings())
def test_any_wording_reads_back(line: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert reads_back([line], Path(folder)) in (True, None)
