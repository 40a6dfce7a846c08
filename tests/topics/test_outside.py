"""What lies outside the job is refused kindly, without a number; a cure is worked out at the cook's own rate only."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant import Conversation
from assistant.answer import Role, Status
from assistant.topics.outside import SUBJECTS


@pytest.mark.parametrize(
    "line",
    [
        "how do I bake bread",
        "recipe for chocolate chip cookies",
        "write my 500 word essay on the French Revolution",
        "write python code",
        "what's the weather tomorrow",
        "who won the world cup",
        "tell me a joke",
        "how many calories in a burger",
        "can my dog eat burgers",
        "what is the exchange rate",
        "you suck",
        "you are stupid",
    ],
)
def test_refused_kindly_and_without_a_number(line: str, tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask(line)
    assert (answer.status, answer.topic, answer.figures) == (Status.IMPOSSIBLE, "outside", ())
    assert "plan a blend" in answer.message
    assert not re.search(r"[0-9]", answer.message)


@pytest.mark.parametrize("cue", SUBJECTS)
def test_every_refusal_is_free_of_numbers_and_reads_back(cue: str, tmp_path: Path) -> None:
    subject = SUBJECTS[cue]
    assert not re.search(r"[0-9]", subject.refusal)
    answer = Conversation(tmp_path / "kitchen.db").ask(f"A question about {subject.words}")
    assert answer.status in (Status.IMPOSSIBLE, Status.ANSWERED)
    assert answer.figures == ()


def test_canning_points_to_a_tested_guide(tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask("how do I can burgers in jars")
    assert "tested guide" in answer.headline + answer.message
    assert [caution.topic for caution in answer.cautions] == ["canning"]
    assert answer.figures == ()


@pytest.mark.parametrize(
    "line",
    [
        "#1 cure is 1 oz to 25 lb meat right? i got 7 lb of sausage",
        "cure #1 at 1 oz to 25 lb, for 7 lb of sausage",
    ],
)
def test_the_cook_s_own_rate_is_worked_out(line: str, tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask(line)
    assert (answer.status, answer.topic) == (Status.ANSWERED, "cure")
    (figure,) = answer.figures
    assert (figure.role, figure.unit) == (Role.SEASONING, "oz")
    assert figure.value == pytest.approx(7 / 25)
    assert [caution.topic for caution in answer.cautions] == ["curing_salt"]
    again = Conversation(tmp_path / "kitchen.db").ask(answer.understood)
    assert (again.status, again.figures[0].value) == (answer.status, figure.value)


def test_a_percentage_is_a_rate(tmp_path: Path) -> None:
    (figure,) = Conversation(tmp_path / "kitchen.db").ask("0.25% cure for 4 kg").figures
    assert (figure.unit, figure.value) == ("g", pytest.approx(10))


@pytest.mark.parametrize(
    "line",
    [
        "how much cure for 5 lb",
        "1 tsp pink salt for 5 lb",
        "how much pink salt do I need",
        "sodium nitrite at 1 oz to 25 lb for 7 lb",
        # 1 oz in 10 lb is 391 ppm nitrite; 156 ppm is the most in ground meat, 9 CFR 424.21
        "#1 cure at 1 oz to 10 lb, for 7 lb",
    ],
)
def test_no_dose_of_ours(line: str, tmp_path: Path) -> None:
    answer = Conversation(tmp_path / "kitchen.db").ask(line)
    assert (answer.status, answer.topic, answer.figures) == (Status.IMPOSSIBLE, "cure", ())
    assert [caution.topic for caution in answer.cautions] == ["curing_salt"]


def test_himalayan_salt_is_no_cure(tmp_path: Path) -> None:
    assert Conversation(tmp_path / "kitchen.db").ask("1.5% pink Himalayan salt for 5 lb of beef").topic != "cure"
