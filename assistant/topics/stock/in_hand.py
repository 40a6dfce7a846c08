"""Meat that is there, said by itself: "I have 2 kg round and 1 kg fat trim"; and said again, corrected or added to."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.phrases import Amount, CutName, Fatness, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Reading, Talk
from assistant.topics.plan.request import Item, Plan
from assistant.topics.stock.items import LITTLE_WORDS, target, weighed
from assistant.topics.stock.request import FromStock, InHand, Keep

_HAVE = Pattern(
    r"^\W*(?:(?:ok|so|right|well|actually|no|sorry|wait|hi|hello|and|oh)\W+)*(?:i|we|i've|we've|ive|weve)\s+"
    r"(?:(?:now|still|also|only|actually|just)\s+)*(?:have|have\s+got|got|'ve\s+got)\b(?!\s+to\b)(?!.*\?)",
    re.IGNORECASE,
)
_CORRECTING = Pattern(
    r"^\W*(?:no|actually|sorry|wait|correct(?:ion)?(?:\s+(?:that|it))?|make\s+(?:that|it)|change\s+(?:that|it)(?:\s+to)?|it'?s(?:\s+only)?)\b(?!.*\?)",
    re.IGNORECASE,
)
_BOUGHT = Pattern(
    r"^\W*(?:(?:ok|so|and|then|right)\W+)*(?:i|we|i've|we've|ive|weve)\s+(?:(?:just|also|now)\s+)*(?:bought|picked\s+up|got\s+in|took\s+in)\b(?!.*\?)",
    re.IGNORECASE,
)
_MORE = Pattern(r"\b(?:another|more|extra|additional)\b", re.IGNORECASE)
_WISHES = ("how_much", "how_many", "what", "want", "use_up", "for", "not", "drop", "swap", "again")


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """Meat to remember, with the batch that it makes where there is no other on the table; None where the line wants
    something of it, or where a batch is being planned that this may be the limits of."""
    stock_last = talk.topic == "stock" and not isinstance(talk.last, FromStock)
    stated, lead = None, frozenset[Phrase]()
    bought = _BOUGHT.match(sentence.text) is not None
    if bought or _HAVE.match(sentence.text):
        stated = _stated(sentence)
    elif stock_last and (said := _CORRECTING.match(sentence.text)):
        lead = within.overlapping(sentence, *said.span())
        stated = _stated(within.without(sentence, lead))
    if stated is None:
        return None
    items, words = stated
    fresh = talk.pending is None and (talk.plan is None or _begins_another(sentence, talk, items))
    if not fresh and not stock_last:
        return None
    used = words | lead | within.cues(sentence, LITTLE_WORDS)
    how = "add" if bought or _MORE.search(sentence.text) else "have"
    if fresh:
        return Reading(InHand(Plan(items=items), items, how), used, 3 if bought else 2)
    if how == "add":
        return Reading(Keep(items, how), used, 3)
    if isinstance(talk.last, InHand) and isinstance(talk.plan, Plan):
        return Reading(InHand(_with(talk.plan, items), items), used, 3)
    return Reading(Keep(items), used, 3)


def _begins_another(sentence: Sentence, talk: Talk, items: tuple[Item, ...]) -> bool:
    """Whether the plan itself takes the line for another batch, of which the one on the table has no cut."""
    read = within.plan_of(sentence, talk)
    plan = None if read is None else read.request
    named = {item.name for item in items}
    if not isinstance(plan, Plan) or not isinstance(talk.plan, Plan) or {item.name for item in plan.items} != named:
        return False
    return talk.topic != "stock" and not named & {item.name for item in talk.plan.items}


def _with(plan: Plan, items: tuple[Item, ...]) -> Plan:
    """The batch with these cuts as they are now said, and new ones beside them."""
    now = {item.name: item for item in items}
    kept = tuple(now.pop(item.name, item) for item in plan.items)
    return replace(plan, items=(*kept, *now.values()))


def _stated(sentence: Sentence) -> tuple[tuple[Item, ...], frozenset[Phrase]] | None:
    """The cuts of the line, each with its weight, and the phrases that say so; None where it says or asks anything
    else."""
    if not all(isinstance(p, Word | CutName | Amount | Fatness) or _is_price(p) for p in sentence.substance()):
        return None
    if not sentence.of(CutName) or sentence.has(*_WISHES) or target(sentence):
        return None
    read = within.plan_of(sentence, Talk())
    plan = None if read is None else read.request
    items = weighed(plan) if isinstance(plan, Plan) and not plan.asks else None
    weights = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
    if len(weights) != len(sentence.of(Amount)):
        return None
    if read is None or items is None or len(weights) != len(items) or not all(map(_is_one_weight, items)):
        return None
    return items, read.used


def _is_one_weight(item: Item) -> bool:
    """Whether a cut has its weight; "2 or 3 kg" is none that can be written down."""
    return item.weight is not None and item.weight.high is None


def _is_price(phrase: Phrase) -> bool:
    return isinstance(phrase, Rate) and phrase.kind == "money"
