"""How sure a blend is, in words. The sums are the engine's: tests/engine/test_spread.py."""

from __future__ import annotations

import pytest

from assistant import Answer
from assistant.session import Conversation
from tests.topics.kitchen_talk import said, value

BATCH = "3 lb at 80/20 from chuck, brisket and suet"


def ends(answer: Answer, name: str) -> tuple[float, float]:
    """Both ends of the fat figure of that name."""
    figure = next(f for f in answer.figures if f.name == name)
    assert figure.low is not None and figure.high is not None
    return figure.low, figure.high


@pytest.mark.parametrize(
    "lines",
    [
        (f"{BATCH}, how sure is the fat?",),
        (BATCH, "how sure are you?"),
        (BATCH, "which cut matters most?"),
        (BATCH, "what would narrow it?"),
        (BATCH, "how far off can the fat be?"),
        (BATCH, "what's the worst case?"),
    ],
)
def test_the_same_answer_in_many_words(lines: tuple[str, ...]) -> None:
    talk = Conversation()
    answer = [talk.ask(line) for line in lines][-1]
    likely, worst, known = (
        ends(answer, name) for name in ("fat, likely", "fat, worst case", "fat, if the brisket were known")
    )
    assert worst[0] < likely[0] < known[0] < 20 < known[1] < likely[1] <= worst[1]
    parts = [f.value for f in answer.figures if f.role == "ratio"]
    assert sum(p for p in parts if isinstance(p, float)) == pytest.approx(100)
    assert "brisket's label" in said(answer)
    assert "cook-out test" in said(answer)


def test_own_figures_are_exact_unless_about() -> None:
    exact = Conversation().ask("2 kg from round at 8% and suet at 92%, 20% fat. how sure is that?")
    assert "exactly" in said(exact)
    assert value(exact, "fat") == 20
    about = Conversation().ask("2 kg from round at about 8% and suet at about 92%, 20% fat. how sure is that?")
    assert ends(about, "fat, worst case") == (18, 22)
    # both ±2 as two standard deviations: 2 x sqrt(0.857² + 0.143²) to either side
    assert ends(about, "fat, likely")[1] == pytest.approx(20 + 2 * ((6 / 7) ** 2 + (1 / 7) ** 2) ** 0.5, abs=0.001)


def test_the_batch_stays_on_the_table() -> None:
    talk = Conversation()
    for line in (BATCH, "how sure is it?"):
        talk.ask(line)
    assert value(talk.ask("make it 6 lb"), "total", "batch") == 6


def test_what_the_scale_adds() -> None:
    talk = Conversation()
    talk.ask("my scale shows 5 g")
    assert "weighing to 5 g" in said(talk.ask(f"{BATCH}, how sure is the fat?"))
