""" "Same meat though, how many do I get?" after another size: the meat of the answer before the change."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Measure
from assistant.pattern import Pattern
from assistant.topics.base import Talk
from assistant.topics.plan.request import Plan

_SAID = Pattern(
    r"^\W*(?:(?:but|and|with|from|out of|no|it'?s|still|keep|using)\W+)*(?:the )?same (?:meat|mince|amount of (?:meat|mince)|weight of (?:meat|mince))"
    r"(?: though| as before)?\W*(?:(?:so )?how many(?: (?:do|will|would|can|could|is|are) .{1,20}| then)?)?\W*$"
)


def as_before(text: str, talk: Talk) -> Plan | None:
    """The batch on the table with the meat of before and the size of now; None where it was not just the size that changed."""
    old, now, before = talk.plan, talk.answer, talk.before
    if not isinstance(old, Plan) or now is None or before is None or _SAID.search(text.lower()) is None:
        return None
    wish = old.patties
    if wish is None or wish.count is None or wish.size is None or old.batch is not None or old.groups or old.items:
        return None
    whole = _one(before, Role.TOTAL)
    as_many = _value(before, Role.PATTY_COUNT) == _value(now, Role.PATTY_COUNT) is not None
    as_heavy = _value(before, Role.PATTY_WEIGHT) == _value(now, Role.PATTY_WEIGHT)
    if whole is None or before.status is not Status.ANSWERED or not as_many or as_heavy:
        return None
    meat = Measure(Fraction(whole.value).limit_denominator(10**6), whole.unit)
    return replace(old, batch=meat, patties=replace(wish, count=None))


def _one(answer: Answer, role: Role) -> Figure | None:
    found = [figure for figure in answer.figures if figure.role is role]
    return found[0] if len(found) == 1 else None


def _value(answer: Answer, role: Role) -> float | str | None:
    figure = _one(answer, role)
    return None if figure is None else figure.value
