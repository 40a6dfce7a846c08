"""What a line changes of the seasonings on the table: one in another's place, and another dose of one."""

from __future__ import annotations

from msgspec.structs import replace

from assistant import units, wording
from assistant.language.phrases import Amount, Measure, Phrase, Rate, SeasoningName
from assistant.topics.plan.choice import Choice, Option
from assistant.topics.plan.line import Line, Step, free_figures, settle
from assistant.topics.plan.request import Pinch, Plan

_NOTHING = 25
"""No batch is put right to one so many times lighter. A choice."""


def other_spice(line: Line) -> Step:
    """ "swap the pepper for paprika", "paprika instead of pepper": the newcomer at the rate of the one that goes."""
    names = line.sentence.of(SeasoningName)
    instead = line.sentence.cue("instead")
    if instead is not None:
        names.sort(key=lambda name: (name.first < instead.first, name.first))
    known = [pinch for pinch in line.old.seasonings if names and means(names[0], pinch)]
    led = line.sentence.has("swap", "instead")
    if not led or len(names) != 2 or len(known) != 1 or free_figures(line):
        return line
    come = names[1]
    pinches = tuple(replace(p, name=come.name, key=come.key) if p is known[0] else p for p in line.old.seasonings)
    return settle(line, replace(line.old, seasonings=pinches), *names)


def other_dose(line: Line) -> Step:
    """ "20 g/kg" after 15 g/kg, "make it 1 1/2 tsp": spoons or a rate that name no seasoning."""
    bare = replace(line.plan, asks=frozenset(), touches=frozenset(), too="")
    weight = _of_a_pinch(line.old, bare)
    if weight is not None:
        bare = replace(bare, batch=None)
    said = [
        p
        for p in line.sentence.phrases
        if (_is_dose(p) and p not in line.used) or (isinstance(p, Amount) and p.measure == weight)
    ]
    if len(said) != 1 or bare != Plan() or len(free_figures(line)) > 1 or line.sentence.of(SeasoningName):
        return line
    (dose,) = said
    found = [
        Option(f"the {pinch.name}", frozenset(pinch.name.split()), _dosed(line.old, pinch, dose))
        for pinch in line.old.seasonings
        if pinch.amount is not None
    ]
    if len(found) == 1:
        return settle(line, found[0].plan, dose)
    if not found:
        return line
    names = wording.listing([option.label for option in found], "or")
    return Choice(f"{dose.text} of which: {names}?", tuple(found))


def _is_dose(phrase: Phrase) -> bool:
    return isinstance(phrase, Rate | Amount) and (
        phrase.kind == "volume" or (isinstance(phrase, Rate) and phrase.kind == "weight")
    )


def _of_a_pinch(old: Plan, bare: Plan) -> Measure | None:
    """ "Make it 20 g" after 18 g of salt a kilo: a weight like that of a seasoning, and nothing beside the batch."""
    weight, batch = bare.batch, old.batch
    if (
        weight is None
        or batch is None
        or units.grams(weight.value, weight.unit) * _NOTHING > units.grams(batch.value, batch.unit)
    ):
        return None
    amounts = [pinch.amount for pinch in old.seasonings if pinch.amount is not None]
    like = [one for one in amounts if one.unit == weight.unit and one.value / 3 <= weight.value <= one.value * 3]
    return weight if like else None


def _dosed(plan: Plan, pinch: Pinch, dose: Phrase) -> Plan:
    """The batch with another amount of one seasoning; a bare amount stays a rate where the old one was one."""
    assert isinstance(dose, Rate | Amount)
    per = dose.per if isinstance(dose, Rate) else pinch.per
    changed = replace(pinch, amount=dose.measure, per=per)
    return replace(plan, seasonings=tuple(changed if one is pinch else one for one in plan.seasonings))


def means(name: SeasoningName, pinch: Pinch) -> bool:
    """Whether a name is a seasoning of the mix: its own name, or a shorter one for it ("garlic" for garlic powder)."""
    return name.key == pinch.key or set(name.name.split()) <= set(pinch.name.split())
