"""A word that could have changed the answer changes it or is named beside it: a fixed grid of lines and words put into them."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from assistant import Conversation
from assistant.answer import Answer, Status

LINES = {
    "blend": "3 lb at 80/20 from {} chuck and suet",
    "portion": "30 people, 2 quarter pounders each, {} cost at $5.50 a lb",
    "season": "{} 1.4% salt for 2 lb 9 oz",
    "safe": "raw burgers {} sat out for two and a half hours",
    "store": "how many days does {} ground beef keep in the fridge",
    "cook": "what temperature do {} moose burgers need",
}
WORDS = (
    *("gluten free", "vegan", "halal", "bone-in", "frozen", "cooked", "thawed", "smoked", "leftover", "fatty"),
    *("coarse", "thick", "minced twice", "more", "less", "bigger", "smaller", "double", "twice", "half", "instead"),
    *("no", "not", "without", "except", "salty", "cold", "fresh", "big", "large", "thin", "cumin", "2%", "200 g"),
)

WITHOUT_EFFECT = {
    ("safe", "bone-in"): "bones do not change how long meat may stand out",
    ("safe", "200 g"): "the two hours hold for any weight",
    ("store", "200 g"): "the days hold for any weight",
    ("cook", "half"): "half a burger needs the same temperature",
    ("safe", "cumin"): "a spice gives meat no longer time",
    ("cook", "cumin"): "a spice does not change the temperature",
    ("cook", "200 g"): "the middle has to reach the same temperature at any weight",
    ("store", "cold"): "the days are those of a cold fridge",
    ("cook", "2%"): "a share of a meat changes nothing: the strictest in the mix decides",
    ("blend", "cold"): "grinding meat is cold: the steps say so",
    ("portion", "cold"): "cold changes no weight",
    ("season", "cold"): "cold changes no weight",
    ("cook", "cold"): "the middle has to reach the same temperature from any start",
    ("blend", "fresh"): "fresh meat is what every figure stands for",
    ("portion", "fresh"): "fresh meat is what every figure stands for",
    ("season", "fresh"): "fresh meat is what every figure stands for",
    ("cook", "fresh"): "freshly ground meat needs the same temperature",
    ("safe", "salty"): "salt in a mix gives it no longer time",
    ("store", "salty"): "salt in a mix gives it no more days",
    ("cook", "salty"): "salt does not change the temperature",
    **{
        (line, size): "the size of a piece is not asked about; weights and rules hold for any"
        for line in ("portion", "season", "safe", "store")
        for size in ("big", "large", "thin")
    },
}
"""Words that rightly change nothing in a line, each with its reason."""

STILL_DROPPED = {
    *(("blend", "double"), ("blend", "twice"), ("portion", "2%")),
    *(("store", "not"), ("store", "fresh"), ("cook", "not")),
}
"""Faults that are known: the word is dropped and not named. Mending one makes its test fail until it is taken off here."""


def _ask(line: str) -> Answer:
    answer: Answer = replace(Conversation().ask(line), heard="")
    return answer


def _is_named(word: str, answer: Answer) -> bool:
    said = " ".join((*answer.notes, answer.message)).lower()
    return any(part in said for part in word.replace("-", " ").split()) or word in said


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("topic", LINES)
def test_a_weighty_word_changes_the_answer_or_is_named(topic: str, word: str) -> None:
    plain, said = _ask(LINES[topic].format("")), _ask(LINES[topic].format(word))
    assert plain.status is Status.ANSWERED
    if (topic, word) in WITHOUT_EFFECT:
        assert said == plain, "it changes something by now: take it off the list"
        return
    bare = replace(said, notes=(), understood=plain.understood, working=())
    changed = bare != replace(plain, notes=(), working=())
    kept = changed or _is_named(word, said)
    assert kept is not ((topic, word) in STILL_DROPPED), (said.headline, said.notes)


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("3 lb at 80/20 from chuck and suet, thanks", ()),
        ("how long do frozen burgers keep in the freezer", ()),
        ("convert 2 lb to grams", ()),
        ("its 12 lb not 10, 80/20 from chuck and suet", ()),
        ("6 oz patty 5 inches across how thick", ()),
        ("3 lb at 80/20 from frozen chuck and gluten free suet", ("frozen", "gluten free")),
    ],
)
def test_only_what_was_left_aside_is_named(line: str, kept: tuple[str, ...]) -> None:
    notes = [note for note in _ask(line).notes if note.startswith("Not taken into account")]
    assert all(word in " ".join(notes) for word in kept)
    assert bool(notes) == bool(kept)
