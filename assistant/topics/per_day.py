"""What is on the table shared out over days, and what all its days come to: "split that evenly over three days"."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant import units, wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Amount, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Unclear, ended
from assistant.topics.plan.request import Plan

NAME = "per_day"
_OVER = Pattern(r"\b(?:over|across|between|among|into|for)\s+(?:the\s+)?$")
_ASKS_A_SHARE = Pattern(
    r"\b(?:split|divide[ds]?|share[ds]?|spread|evenly|equally|(?:a|per|each|every) (?:day|night))\b"
)
_MOST_DAYS = 366


class Days(Struct, frozen=True):
    """So many days. whole: what all of them come to is asked, and not what one gets."""

    days: int
    whole: bool


class PerDayTopic:
    """The topic of days that share what is on the table."""

    name = NAME
    examples = ("split that evenly over three days",)
    passes: frozenset[str] = frozenset(
        ("split", "this", "equal", "spare", "unit:kg", "unit:lb", "total", "mix", "how_much")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A number of days and nothing else that is counted, after an answer that weighed or counted."""
        spans = [p for p in sentence.of(Amount) if p.kind == "duration" and p.measure.unit == "day"]
        several = [p for p in spans if p.measure.value > 1 and not p.text.lower().startswith("a ")]
        if len(several) != 1:
            return None
        (days,) = several
        number = days.measure.value
        if number.denominator != 1 or number > _MOST_DAYS or days.measure.high is not None:
            return None
        if any(not isinstance(p, Word) and p not in spans for p in sentence.substance()):
            return None
        used = frozenset((*spans, *(w for w in sentence.words("cue") if w.payload in self.passes)))
        text = sentence.text.lower()
        shared = _ASKS_A_SHARE.search(text) is not None
        if not isinstance(talk.plan, Plan) or talk.answer is None or _total(talk.answer) is None:
            split = shared and sentence.has("split")
            return (
                Reading(Unclear("What is shared out? Say how much meat, or how many burgers."), used) if split else None
            )
        labels = {group.label for group in talk.plan.groups if group.label}
        if sentence.has("total", "how_much") and not shared:
            return Reading(Days(int(number), whole=True), used, 3) if len(labels) == number else None
        over = _OVER.search(text[: days.first]) is not None
        return Reading(Days(int(number), whole=False), used, 3) if shared and over else None

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """An even share of the meat, and of the burgers where they were counted."""
        if isinstance(request, Unclear):
            return ended(NAME, "", Status.NEEDS_DETAIL, request.question)
        wanted: Days = request
        if wanted.whole:
            from assistant.topics.plan import answers

            return answers.answer(answers.reopened(talk.plan), kitchen, talk)
        assert talk.answer is not None
        whole = _total(talk.answer)
        assert whole is not None
        weight = units.grams(Fraction(whole.value).limit_denominator(10**6), whole.unit) / wanted.days
        speak = "us" if whole.unit in ("lb", "oz") else "metric"
        shown = wording.both(weight, speak)
        figures = [Figure("meat a day", Role.TOTAL, float(whole.value) / wanted.days, whole.unit, shown=shown)]
        headline = f"{shown} a day over {wanted.days} days."
        count = next((f.value for f in talk.answer.figures if f.role is Role.PATTY_COUNT), None)
        if isinstance(count, float) and count > 0:
            each, more = divmod(int(count), wanted.days)
            burgers = f"{each} burgers a day" + (f", and one more on {more} of them" if more else "")
            figures.append(Figure("burgers a day", Role.PATTY_COUNT, float(each), "count", shown=str(each)))
            headline += f" {burgers[0].upper()}{burgers[1:]}."
        said = f"The {wording.both(weight * wanted.days, speak)} on the table over {wanted.days} days"
        working = (f"{wording.both(weight * wanted.days, speak)} over {wanted.days}.",)
        cautions = talk.answer.cautions
        return verdict.told(NAME, said, headline, figures=figures, cautions=cautions, working=working)


def _total(answer: Answer) -> Figure | None:
    """The meat of the last answer, where it came to one weight."""
    if answer.status is not Status.ANSWERED:
        return None
    found = next((figure for figure in answer.figures if figure.role is Role.TOTAL), None)
    return (
        found
        if found is not None and not isinstance(found.value, str) and found.unit in ("kg", "g", "lb", "oz")
        else None
    )


TOPIC = PerDayTopic()
