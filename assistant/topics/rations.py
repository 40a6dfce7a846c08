"""Meat by the head where nobody counted patties: "how much meat per person", "how far will 4 kg go"."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.mass import HEAD_PATTIES, HEAD_SIZE
from assistant.topics.plan.section import grams, in_unit

NAME: Final = "rations"
_A_HEAD = Pattern(
    r"\b(?:how (?:much|many (?:grams|g|oz|ounces|pounds|lbs?))|what(?:'s| is|s)?)\b.*\b(?:per|a|each|for (?:one|a|each)) (?:person|head|guest|adult|eater|mouth|portion)\b"
    r"|\b(?:portion|serving) (?:size )?(?:of \w+ )?(?:per|a|for a|each) (?:person|head|guest|adult)\b"
)
_HOW_FAR = Pattern(
    r"\bhow far (?:will|does|would|do|can|did)\b|\bhow many\b(?: \w+){0,3} (?:will|does|do|would|can|could)\b.*\b(?:feed|serve|do)\b"
    r"|\b(?:feeds?|serves?|does|do) how many\b|\bhow many (?:people |mouths |guests )?(?:for|from|out of|with)\b"
)
_LEAST, _MOST = Fraction(1), Fraction(2)
"""Patties a head. Common practice, no source."""
_HEAVIEST_PATTY = 500
"""Grams. A lighter weight is that of a patty. Common practice, no source."""
_PLAIN = frozenset(("how", "far", "portion", "serving", "normal", "usual", "allow", "typical", "size", "go"))


class Rations(Struct, frozen=True):
    """Meat by the head. weight: the meat that is there, None where the question is how much one gets."""

    weight: Measure | None = None


class RationsTopic:
    """The topic of meat by the head."""

    name = NAME
    examples = ("how much meat per person?", "how many people does 4 kg feed?")
    passes: frozenset[str] = frozenset(
        (
            "how_much",
            "how_many",
            "mix",
            "feeding",
            "what",
            "want",
            "eats",
            "have",
            "this",
            "go",
            "into",
            "buy",
            "out_of",
        )
        + ("split", "equals", "when", "safe", "for_that")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question by the head without any figure, or how far one weight goes."""
        text = sentence.text.lower()
        figures = [p for p in sentence.phrases if isinstance(p, Amount | Count | PerEach | Rate)]
        counts = [p.count for p in sentence.of(Patties)] + [p.count for p in sentence.of(People)]
        counted = [count for count in counts if count is not None and count.value != 1]
        if counted or any(patty.each is not None for patty in sentence.of(Patties)) or len(sentence.of(CutName)) > 1:
            return None
        if not figures and talk.plan is None and _A_HEAD.search(text):
            return Reading(Rations(), _used(sentence, []), 3)
        weights = [p for p in figures if isinstance(p, Amount) and p.kind == "weight" and p.measure.high is None]
        heavy = len(weights) == 1 and grams(weights[0].measure) > _HEAVIEST_PATTY
        if heavy and len(figures) == 1 and _HOW_FAR.search(text):
            return Reading(Rations(weights[0].measure), _used(sentence, weights), 3)
        return None

    def answer(self, request: Rations, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """What one gets by custom, or how many the meat feeds at that."""
        metric = kitchen.units != "us" if request.weight is None else request.weight.unit in ("g", "kg")
        speak, unit = ("metric", "g") if metric else ("us", "oz")
        size = HEAD_SIZE[speak]
        each = grams(size) * HEAD_PATTIES
        low, high = grams(size) * _LEAST, grams(size) * _MOST
        head = Figure(
            "a head",
            Role.PATTY_WEIGHT,
            in_unit(each, unit),
            unit,
            in_unit(low, unit),
            in_unit(high, unit),
            shown=wording.both(each, speak),
        )
        custom = (
            f"By custom 1 to 2 patties of {wording.weight(grams(size), speak)} a head (common practice, no source): "
            "say how many, or how heavy, if you know."
        )
        touches = verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature"})
        if request.weight is None:
            says = f"{wording.both(each, speak)} of raw meat a head, {wording.weight(low, speak)} to {wording.weight(high, speak)}."
            return verdict.told(
                NAME,
                "How much meat per person",
                says,
                figures=(head,),
                cautions=touches,
                notes=(custom,),
                working=(f"{wording.number(HEAD_PATTIES)} patties of {wording.weight(grams(size), speak)}.",),
            )
        whole = grams(request.weight)
        said = f"How many people {wording.weight(whole, speak)} feeds"
        if whole <= 0:
            return verdict.told(NAME, said, "The meat has to weigh something.", status=Status.IMPOSSIBLE)
        fed = int(whole / each)
        few, many = int(whole / high), int(whole / low)
        people = Figure("people fed", Role.PATTY_COUNT, float(fed), "count", float(few), float(many), shown=str(fed))
        return verdict.told(
            NAME,
            said,
            f"About {fed} people, {few} to {many}: {wording.both(each, speak)} of raw meat a head.",
            figures=(people, head),
            cautions=touches,
            notes=(custom,),
            working=(f"{wording.weight(whole, speak)} over {wording.weight(each, speak)}.",),
        )


TOPIC = RationsTopic()


def _used(sentence: Sentence, weights: list[Amount]) -> frozenset[Phrase]:
    plain = {word for word in sentence.unknown if word.text.lower() in _PLAIN}
    loose = {word for word in sentence.of(Word) if word.kind == "pereach"}
    return heard.plain_words(sentence, weights=False) | plain | loose | heard.all_of(weights)
