"""When and where to salt: on the outside of a burger just before cooking, into the mix of a sausage."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.language.phrases import Amount, Count, Rate, SeasoningName
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

SOURCE: Final = "common practice, no source"
_WHERE = Pattern(r"\b(outside|surface|before|after|when|inside|into|in) \b|\bmix it in\b|\bin or on\b|\boutside\b")
_ASKS = Pattern(r"\b(does|do|should|can|when|where|why)\b.*\bsalt\b|\bsalt\b.*\bor\b|\bwhen\b.*\bsalt")
_KIND = Pattern(r"\bsausages?\b|\bbangers?\b|\bmeatloaf\b")


class Salting(Struct, frozen=True):
    """The question where or when the salt goes. sausage: said of sausage or meatloaf, which want it mixed in."""

    sausage: bool = False


class SaltingTopic:
    """Salt in the mix, or on the outside."""

    name = "salting"
    examples = ("Does the salt go in the mix or on the outside?",)
    passes: frozenset[str] = frozenset({"what", "when", "mix", "out_in", "this", "season", "raw", "why"})

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about salting without any amount in it."""
        del talk
        salt = [name for name in sentence.of(SeasoningName) if "salt" in name.key]
        text = sentence.text.lower()
        if (
            not salt
            or any(name.key == "cure" for name in sentence.of(SeasoningName))
            or any(isinstance(phrase, Amount | Rate | Count) for phrase in sentence.phrases)
        ):
            return None
        if not (_ASKS.search(text) and _WHERE.search(text)) or sentence.has("how_much", "convert"):
            return None
        no = frozenset(word for word in sentence.words("cue") if word.payload == "not" and "why" in text)
        plain = frozenset(heard.plain_words(sentence, weights=False))
        return Reading(Salting(bool(_KIND.search(text))), plain | frozenset(salt) | no, 3)

    def answer(self, request: Salting, kitchen: Kitchen, talk: Talk) -> Outcome:
        """Where and when, with the reason."""
        del talk
        if request.sausage:
            understood = "Where the salt of sausage or meatloaf goes"
            says = "Into the mix: salt draws out protein that binds it, which sausage and meatloaf want."
        else:
            understood = "Where the salt of a burger goes: in the mix or on the outside"
            says = "On the outside, just before cooking: mixed in or left on, salt binds the meat and makes it springy."
        return verdict.told(
            "season",
            understood,
            says,
            figures=[],
            cautions=verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature", "keep_cold"}),
            notes=["Pepper and spices may go in the mix.", f"Source: {SOURCE}."],
            working=(f"{understood}: {SOURCE}.",),
        )


TOPIC = SaltingTopic()
