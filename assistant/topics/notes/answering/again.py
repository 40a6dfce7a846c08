"""A kept batch made again."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Status
from assistant.language.phrases import CutName, Fatness, Measure, Patties, People
from assistant.language.sentence import Sentence
from assistant.notebook import Batch
from assistant.notebook.records import as_weighed
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Talk
from assistant.topics.notes import batches, finding, request, telling
from assistant.topics.notes.answering.saying import asks, ends, told_of
from assistant.topics.plan import mass
from assistant.topics.plan.request import PattyWish, Plan
from assistant.topics.plan.section import grams


def again(wish: request.Again, kitchen: Kitchen, talk: Talk) -> Outcome:
    """A kept batch at another weight, so many times, for so many people, or changed."""
    batch = finding.find(kitchen, wish.name)
    plan: Plan | None = batches.plan_of(batch)
    if wish.cut and wish.weight is not None:
        return _for_a_cut(batch, wish.cut, wish.weight, kitchen, talk)
    if wish.weight is not None:
        if wish.weight.value <= 0:
            return ends(Status.IMPOSSIBLE, "A batch of nothing is nothing to grind. For what weight?")
        plan = (
            batches.for_weight(batch, wish.weight)
            if not _is_patty_size(wish.weight, plan, batch)
            else _of_size(plan, wish.weight)
        )
    elif wish.factor is not None and batch.grams:
        plan = batches.times(batch, wish.factor)
    if plan is None:
        return asks(f"The weight of {telling.titled(batch)} is not known, so it cannot be scaled. What went into it?")
    if wish.change is not None and (bool(wish.change.of(People)) or bool(wish.change.of(Patties))):
        served = _served(batch, plan, wish.change, kitchen, talk)
        if served is not None:
            return served
    wanted: Any = plan
    if wish.fat is not None:
        wanted = plan = replace(batches.freed(plan), target=wish.fat, target_high=None, ratio=None, wish="")
    if wish.change is not None:
        if wish.change.of(Fatness) and not wish.change.of(CutName):
            plan = batches.freed(plan)
        read = within.plan_of(wish.change, replace(talk, plan=plan))
        wanted = plan if read is None else read.request
    outcome = _with_weights(within.answered(wanted, kitchen, replace(talk, plan=plan)), kitchen)
    note = f"From {telling.titled(batch)} of the notebook."
    memory = finding.current(batch) if batch.id else {}
    return replace(
        outcome,
        answer=replace(outcome.answer, notes=(note, *outcome.answer.notes)),
        plan=outcome.plan or plan,
        settings={**outcome.settings, **memory},
        amends=False,
    )


def _for_a_cut(batch: Batch, cut: str, weight: Measure, kitchen: Kitchen, talk: Talk) -> Outcome:
    """As much of the batch as a weight of one of its cuts gives."""
    made = as_weighed(batch)
    fitting = finding.cuts_named(cut, made)
    part = next((part for part in made.parts if fitting == [part.cut] and part.grams), None)
    if part is None:
        there = wording.listing(fitting or [each.cut for each in made.parts], "or")
        return asks(f"By the weight of which cut of {telling.titled(batch)}: {there}?")
    whole = made.grams * grams(weight) / part.grams
    plan = batches.for_weight(batch, Measure(units.to(whole, "g", weight.unit), weight.unit))
    outcome = within.answered(plan, kitchen, talk)
    shown = f"{wording.number(weight.value)} {weight.unit} {part.cut}"
    notes = (
        f"As much of {telling.titled(batch)} as {shown} gives.",
        f'To change only that cut, make it again and then say "make it {shown}".',
    )
    told = replace(outcome.answer, notes=(*notes, *outcome.answer.notes))
    return replace(outcome, answer=told, plan=outcome.plan or plan, settings=finding.current(batch), amends=False)


def _served(batch: Batch, plan: Plan, change: Sentence, kitchen: Kitchen, talk: Talk) -> Outcome | None:
    """A kept blend for so many people or patties: how much meat that is, and the blend at that weight.

    None where the change does not come to a weight; the size of patties is the batch's own where none is said.
    """
    read = within.plan_of(change, replace(talk, plan=None))
    eaters = None if read is None else read.request
    if not isinstance(eaters, Plan) or not batch.grams:
        return None
    size = plan.patties.size if plan.patties is not None else None
    if size is not None and (eaters.patties is None or eaters.patties.size is None):
        eaters = replace(eaters, patties=replace(eaters.patties or PattyWish(), size=size))
    system = telling.speak(batch, kitchen)
    eaters = replace(eaters, units=system)  # one system for both: a patty nobody sized has a round weight in each
    weight = mass.wanted(eaters, system)
    if weight is None or weight <= 0:
        return None
    unit = "lb" if system == "us" else "kg"
    portions = within.answered(eaters, kitchen, replace(talk, plan=None))
    scaled = batches.for_weight(batch, Measure(units.to(weight, "g", unit), unit))
    if portions.answer.status is not Status.ANSWERED or scaled is None:
        return None
    scaled = replace(scaled, patties=None)
    blended = _with_weights(within.answered(scaled, kitchen, replace(talk, plan=plan)), kitchen)
    names = {(figure.name, figure.role) for figure in blended.answer.figures}
    told = replace(
        blended.answer,
        headline=f"{portions.answer.headline} {blended.answer.headline}".strip(),
        figures=(*blended.answer.figures, *(f for f in portions.answer.figures if (f.name, f.role) not in names)),
        notes=(f"From {telling.titled(batch)} of the notebook.", *blended.answer.notes, *portions.answer.notes),
    )
    memory = finding.current(batch) if batch.id else {}
    return replace(blended, answer=told, settings=memory, amends=False)


def _is_patty_size(weight: Measure, plan: Plan | None, batch: Batch) -> bool:
    """ "smash but 120 g", where smash is 2 kg in patties of 150 g: the new weight is a patty's."""
    size = plan.patties.size if plan is not None and plan.patties is not None else None
    return size is not None and grams(weight) <= 3 * grams(size) and grams(weight) * 3 < batch.grams


def _of_size(plan: Plan | None, size: Measure) -> Plan | None:
    if plan is None or plan.patties is None:
        return plan
    return replace(plan, patties=replace(plan.patties, size=size, count=None, count_high=None))


def _with_weights(outcome: Outcome, kitchen: Kitchen) -> Outcome:
    """A batch of one cut is complete in the notebook, where the plan would still ask what to make of it."""
    asked = outcome.pending.request if outcome.pending is not None else None
    batch = batches.batch_of(asked, outcome.answer, kitchen) if isinstance(asked, Plan) else None
    if batch is None or outcome.pending is None or outcome.pending.missing.startswith("cut:"):
        return outcome
    said = f"{telling.contents(batch, telling.speak(batch, kitchen))}.".capitalize()
    told = replace(told_of(batch, said, kitchen), understood=outcome.answer.understood)
    return replace(outcome, answer=told, plan=asked, pending=None)


def beside(wish: request.Beside, kitchen: Kitchen, talk: Talk) -> Outcome:
    """A batch of its own, with a note that the saved one of that name was not used."""
    outcome = within.answered(wish.batch, kitchen, talk)
    note = f'The saved batch {telling.quoted(wish.name)} was not used here; say "{wish.name} again" for it.'
    return replace(outcome, answer=replace(outcome.answer, notes=(note, *outcome.answer.notes)))
