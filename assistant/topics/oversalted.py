"""A batch that got more salt, or less, than was meant: "40 g salt in 2 kg instead of 1.5%", "oversalted: meant 30 g"."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from msgspec import Struct
from msgspec.structs import replace

from assistant import wording
from assistant.answer import Role, Status
from assistant.language.phrases import Amount, CutName, Measure, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan import TOPIC as PLAN
from assistant.topics.plan.request import Pinch, Plan
from assistant.topics.plan.section import grams

NAME: Final = "oversalted"
_SALTED = Pattern(r"\bover ?-?salted\b|\bunder ?-?salted\b|\bsalty\b|\bsalt\b")
_WENT_IN = Pattern(
    r"\bover ?-?salted\b|\bunder ?-?salted\b|\btoo (?:much|little) salt\b|\btoo salty\b|\b(?:went|put|added|tipped|threw|dumped|got|used|has|have|had)\b"
)
_MEANT = Pattern(
    r"\b(?:(?:i |we )?(?:wanted|want|meant|intended|needed)(?: it)?(?: to be| at)?|instead of|rather than|should(?:'ve| have)? (?:been|be|had)"
    r"|supposed to (?:be|have been)|not|recipe (?:says|said)|was meant to be|to be|bring(?: it)?(?: up)? to|get(?: it)? to|take it to)\s*(?:only |just |about |at )*$"
)
_MOST_SALT = Fraction(1, 5)
"""Of the meat: more is no salting that anybody meant, so the lighter weight is then no salt. A choice, no source."""
_PLAIN = frozenset(("oversalted", "undersalted", "salted", "salty", "meant", "supposed", "instead", "went", "recipe"))


class Oversalted(Struct, frozen=True):
    """The batch as its plan, with the salt that is in it already and the salt that was meant."""

    plan: Plan


class OversaltedTopic:
    """The topic of salt that went in wrongly."""

    name = NAME
    examples = ("oversalted: 40 g in 2 kg, wanted 1.5%",)
    passes: frozenset[str] = frozenset(
        (
            "off_taste",
            "want",
            "instead",
            "mix",
            "this",
            "what",
            "how_much",
            "correction",
            "add",
            "too_fat",
            "have",
        )
        + (
            "already_salted",
            "not",
            "must_be",
            "make_it",
            "season",
        )
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Salt by weight in so much meat, and the percent or the weight that was meant."""
        if len(sentence.of(Amount)) != 3:
            return None
        text = sentence.text.lower()
        if not (_SALTED.search(text) and (_WENT_IN.search(text) or "already" in text)) or len(sentence.of(CutName)) > 1:
            return None
        if any(not isinstance(p, Amount | Word | SeasoningName | CutName) for p in sentence.phrases):
            return None
        plan = _topped_up(sentence) or _gone_wrong(sentence)
        if plan is None:
            return None
        plain = {word for word in sentence.unknown if word.text.lower() in _PLAIN}
        used: set[Phrase] = {*sentence.of(Amount), *plain}
        return Reading(Oversalted(plan), heard.plain_words(sentence, weights=False) | used, 3)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """How much more to add, or the meat that thins it, by the plan."""
        outcome = PLAN.answer(request.plan, kitchen, talk)
        thinned = next((figure for figure in outcome.answer.figures if figure.role is Role.ADD), None)
        if outcome.answer.status is not Status.IMPOSSIBLE or thinned is None:
            return outcome
        (pinch,) = request.plan.seasonings
        assert pinch.amount is not None and pinch.already is not None
        says = (
            f"Mix in {thinned.shown} more meat without {pinch.name}: that thins it from "
            f"{wording.percent(pinch.already.value, 2)} to {wording.percent(pinch.amount.value, 2)}. None can be taken out."
        )
        answered = replace(
            outcome.answer,
            topic="season",
            status=Status.ANSWERED,
            headline=says,
            message="",
            cautions=verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature", "keep_cold"}),
        )
        return replace(outcome, answer=answered)


TOPIC = OversaltedTopic()


def _gone_wrong(sentence: Sentence) -> Plan | None:
    """So much salt in so much meat, and the percent or the weight that was meant."""
    text, names = sentence.text.lower(), sentence.of(SeasoningName)
    meant = [a for a in sentence.of(Amount) if _MEANT.search(text[: a.first]) and a.kind in ("weight", "percent")]
    told = [a for a in sentence.of(Amount) if a not in meant and a.kind == "weight"]
    if len(names) > 1 or len(meant) != 1 or len(told) != 2:
        return None
    salt, meat = sorted(told, key=lambda amount: grams(amount.measure))
    wanted = _percent(meant[0], meat)
    if wanted is None or grams(salt.measure) > grams(meat.measure) * _MOST_SALT:
        return None
    held = Measure(grams(salt.measure) / grams(meat.measure) * 100, "percent")
    key, called = (names[0].key, names[0].name) if names else ("table salt", "salt")
    return Plan(batch=meat.measure, seasonings=(Pinch(called, key, amount=wanted, already=held),))


def _topped_up(sentence: Sentence) -> Plan | None:
    """ "2% salt on 3 kg, but the meat already has 0.5%": two rates of one seasoning, of which one is in it."""
    text, names = sentence.text.lower(), sentence.of(SeasoningName)
    weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
    rates = [a for a in sentence.of(Amount) if a.kind == "percent"]
    if len(weights) != 1 or len(rates) != 2 or len({name.key for name in names}) != 1:
        return None
    held = [a for a in rates if _HAS_ALREADY.search(text[: a.first]) or _IN_ALREADY.match(text[a.last :])]
    if len(held) != 1:
        return None
    wanted = next(rate for rate in rates if rate is not held[0])
    pinch = Pinch(names[0].name, names[0].key, amount=wanted.measure, already=held[0].measure)
    return Plan(batch=weights[0].measure, seasonings=(pinch,))


_HAS_ALREADY = Pattern(
    r"\balready (?:has|have|had|contains?|got|holds?|is|at|salted)\b[\w' ]{0,16}$|\b(?:has|have|had|contains?) already\b[\w' ]{0,12}$"
)
_IN_ALREADY = Pattern(r"^(?: of)?(?: salt)?(?: is| are)?(?: in)?(?: it| there| the (?:meat|mince|mix))?,? already\b")


def _percent(meant: Amount, meat: Amount) -> Measure | None:
    """The salt that was meant, as a percent of the meat."""
    if meant.kind == "percent":
        return meant.measure
    if grams(meat.measure) <= 0 or grams(meant.measure) > grams(meat.measure) * _MOST_SALT:
        return None
    return Measure(grams(meant.measure) / grams(meat.measure) * 100, "percent")
