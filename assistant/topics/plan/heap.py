"""Ground meat that is there already, told in one line and put right in the next."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import data, wording
from assistant.language.phrases import Amount, Fatness, Measure, Phrase
from assistant.language.sentence import Sentence
from assistant.topics.plan.request import Item, Plan

_SAYS_NO_MORE = Plan(asks=frozenset(("mix",)))


def only_had(plan: Plan, sentence: Sentence) -> Plan:
    """ "Got 7 lb of 93/7": so much of a fat that is there, and not yet what is wanted of it."""
    if plan.batch is None or plan.target is None or not sentence.has("have") or sentence.has("want", "make_it"):
        return plan
    bare = replace(plan, batch=None, target=None, target_reversed=False, asks=plan.asks | {"mix"})
    return _as_heap(plan, plan.batch, plan.target) if bare == _SAYS_NO_MORE else plan


def put_right(old: Plan, new: Plan) -> Plan:
    """The lot of the line before as meat that is there, where the next line can be meant of nothing else: "7 lb of
    93/7", then "want it 85/15, bacon 40%", which bacon alone is too fat for and with the 93/7 is not."""
    if old.items or old.batch is None or old.target is None or new.target in (None, old.target) or not new.items:
        return old
    assert new.target is not None
    fats = [_fat(item) for item in new.items]
    across = [fat is not None and (fat > new.target) != (old.target > new.target) for fat in fats]
    if new.batch is not None or not all(across):
        return old
    return _as_heap(old, old.batch, old.target)


def fat_told(old: Plan, new: Plan, sentence: Sentence, used: frozenset[Phrase]) -> tuple[Plan, Plan, frozenset[Phrase]]:
    """The two lines and what more is accounted for: of "4 lb" that is too fat, "30 percent, should be 20, round 6%" or
    "it's 70/30 and want 80/20, round 6%" tells how fat it is, beside the fat that is wanted."""
    if old.items or old.batch is None or old.target is not None or new.target is None or new.batch is not None:
        return old, new, frozenset()
    free = [p for p in sentence.phrases if p not in used and _is_fat(p)]
    lots = [item for item in new.items if not item.keys and item.fat is not None and item.weight is None]
    if len(free) == 1 and not lots:
        return _as_heap(old, old.batch, _value(free[0])), new, frozenset(free)
    if len(lots) == 1 and not free:
        (lot,) = lots
        assert lot.fat is not None
        rest = tuple(item for item in new.items if item is not lot)
        return _as_heap(old, old.batch, lot.fat), replace(new, items=rest), frozenset()
    return old, new, frozenset()


def _as_heap(plan: Plan, weight: Measure, fat: Fraction) -> Plan:
    heap = Item(name=f"mix at {wording.percent(fat)} fat", fat=fat, weight=weight)
    return replace(plan, items=(heap,), batch=None, target=None, target_reversed=False)


def _fat(item: Item) -> Fraction | None:
    rows: Sequence[Fraction] = [data.cuts()[key].fat for key in item.keys if key in data.cuts()]
    if item.fat is not None:
        return item.fat
    return rows[0] if len(rows) == 1 else None


def _is_fat(phrase: Phrase) -> bool:
    return isinstance(phrase, Fatness) or (isinstance(phrase, Amount) and phrase.kind == "percent")


def _value(phrase: Phrase) -> Fraction:
    assert isinstance(phrase, Fatness | Amount)
    return phrase.fat if isinstance(phrase, Fatness) else phrase.measure.value
