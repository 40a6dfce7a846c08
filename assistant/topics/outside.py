"""What lies outside the job: a kind refusal without a single number, and what can be done instead."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.answer import Answer, Status
from assistant.language.phrases import Amount, CutName, Fatness, Patties, People, Rate, SeasoningName
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.cautions import reminders
from assistant.topics.guide import CAN

NAME: Final = "outside"


class Subject(Struct, frozen=True):
    """One subject that we leave to others: why, and the words for it that read back to it."""

    refusal: str
    words: str
    caution: str = ""


SUBJECTS: Final = {
    "canning": Subject(
        "I give no canning times: meat in jars needs a pressure canner and a tested guide, such as the one of your "
        "country's home canning authority.",
        "canning",
        "canning",
    ),
    "out_health": Subject(
        "I am no source for medicine or nutrition: ask a doctor, a pharmacist or a dietitian.", "nutrition"
    ),
    "out_pets": Subject("I grind for people only: ask a vet what an animal may eat.", "pet food"),
    "out_baking": Subject("Baking is outside what I know.", "baking"),
    "out_cooking": Subject("I have recipes for ground meat only.", "side dishes"),
    "out_money": Subject("I have no exchange rates and give no advice on money.", "exchange rates"),
    "out_writing": Subject("Writing is not my trade.", "homework"),
    "out_oven": Subject("Gas marks are an oven's, and no table of mine has them: say it in °F or °C.", "gas marks"),
    "out_code": Subject("I am no programmer, and there is nothing in here to unlock.", "programming"),
    "out_weather": Subject("I cannot see the sky from here: ask a weather service.", "the weather forecast"),
    "out_news": Subject("I know nothing of the world outside the kitchen.", "news"),
    "out_shop": Subject("I sell, recommend and send nothing.", "delivery"),
    "out_fun": Subject("I am better at burgers than at games.", "something silly"),
    "out_hostile": Subject("Let us keep to the meat.", "something rude"),
}
"""By cue, the graver first: where a line touches two, the first is answered."""


_NEVER_OURS: Final = frozenset(("out_pets", "out_health"))
_QUESTION_WORDS: Final = frozenset(
    (
        "what",
        "when",
        "why",
        "how_long",
        "how_much",
        "how_many",
        "this",
        "hello",
        "yes",
        "want",
        "have",
        "into",
        "mix",
        "recipe_for",
    )
)


class Outside(Struct, frozen=True):
    """The subject, by its cue."""

    subject: str


class OutsideTopic:
    """The topic of everything that is somebody else's job."""

    name = NAME
    examples = ("how long do I can meat in jars", "how do I bake bread")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """A subject that is not ours. It accounts for the whole line, but gives way to any topic that can, too."""
        subject = next((cue for cue in SUBJECTS if sentence.has(cue)), None)
        if subject is None:
            return None
        return Reading(Outside(subject), frozenset(sentence.phrases), _how_sure(sentence, subject))

    def answer(self, request: Outside, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The refusal and what can be done here."""
        subject = SUBJECTS[request.subject]
        touches = (subject.caution,) if subject.caution else ()
        return Outcome(
            Answer(
                understood=f"A question about {subject.words}",
                status=Status.IMPOSSIBLE,
                topic=NAME,
                message=f"{subject.refusal} {CAN}",
                cautions=reminders((), kitchen.country, touches=touches),
            )
        )


TOPIC = OutsideTopic()


def _how_sure(sentence: Sentence, subject: str) -> int:
    """A guess where meat, an amount or a cue of another topic is in the line; an animal's dinner never is ours."""
    if any(isinstance(phrase, Amount | Rate | CutName | SeasoningName | Fatness) for phrase in sentence.phrases):
        return 0
    if subject in _NEVER_OURS:
        return 2
    others = sentence.cues - set(SUBJECTS) - _QUESTION_WORDS
    return 0 if others or any(isinstance(phrase, Patties | People) for phrase in sentence.phrases) else 1
