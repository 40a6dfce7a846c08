"""What a line says of the meat that is there: of which beast it is, and how much of it there is."""

from __future__ import annotations

from msgspec.structs import replace

from assistant import data, units
from assistant.language.phrases import Amount, Bound, Measure, Word
from assistant.topics.plan.choice import Choice, Option
from assistant.topics.plan.line import Line, Step, settle
from assistant.topics.plan.request import Item, Plan

# ---- of which beast


def of_that_beast(line: Line) -> Step:
    """ "lamb" after "1 kg of shoulder and 200 g of suet": which beast's shoulder it is, and no other meat."""
    bare = replace(line.plan, items=(), asks=frozenset(), touches=frozenset(), without=())
    if bare != Plan() or len(line.plan.items) != 1 or line.sentence.has("add", "swap", "instead", "what_about"):
        return line
    said = line.plan.items[0]
    species = {data.cuts()[key].species for key in said.keys if key in data.cuts()}
    if said.name not in data.ambiguous() or len(species) != 1 or replace(said, name="", keys=()) != Item(name=""):
        return line
    for place, item in enumerate(line.old.items):
        fitting = [key for key in item.keys if key in data.cuts() and data.cuts()[key].species in species]
        if item.name in data.ambiguous() and len(fitting) == 1 and len(item.keys) > 1:
            named = replace(item, name=f"{said.name} {item.name}", keys=(fitting[0],))
            items = (*line.old.items[:place], named, *line.old.items[place + 1 :])
            return settle(line, replace(line.old, items=items))
    return line


# ---- stock

_FAR_BELOW = 4
"""So many times less than the batch is a stock of one of its meats, not another batch. A choice."""


def _far_below_all(old: Plan, weight: Measure) -> bool:
    """ "I only have 3 oz", for 3.5 lb that are to be made fatter."""
    heap = next((item.weight for item in old.items if item.name == old.heap), None)
    whole = heap if heap is not None else old.batch
    if whole is None:
        return False
    return units.grams(weight.value, weight.unit) * _FAR_BELOW < units.grams(whole.value, whole.unit)


def only_so_much(line: Line) -> Step:
    """ "i only have half a pound of it" after a batch of several meats: of which of them, is the question."""
    weights = [p for p in line.sentence.of(Amount) if p.kind == "weight"]
    had = line.sentence.has("have") or any(word.payload == "only" for word in line.sentence.words("bound"))
    had = had or any(p.bound is Bound.ONLY for p in weights)
    if not had or len(weights) != 1 or line.plan.items or len(line.old.items) < 2 or line.plan.seasonings:
        return line
    (weight,) = weights
    of = isinstance(after := line.sentence.after(weight), Word) and after.kind == "of"
    if not (line.sentence.has("this") if of else _far_below_all(line.old, weight.measure)):
        return line

    def limited(item: Item) -> Plan:
        own = replace(item, weight=weight.measure, weight_is="have")
        return replace(line.old, items=tuple(own if one is item else one for one in line.old.items))

    open_ = [item for item in line.old.items if item.weight is None] or list(line.old.items)
    if len(open_) == 1:
        return settle(line, limited(open_[0]), weight)
    options = tuple(Option(item.name, frozenset(item.name.split()), limited(item)) for item in open_)
    return Choice(f"{weight.text} of which: the {' or the '.join(item.name for item in open_)}?", options)
