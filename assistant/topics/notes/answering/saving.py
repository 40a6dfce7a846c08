"""Keeping a batch. Where the file cannot take it, the batch itself is still answered."""

from __future__ import annotations

from msgspec.structs import replace

from assistant.answer import Status
from assistant.errors import BadInput
from assistant.notebook import Batch, NotebookError
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Talk, pending_for
from assistant.topics.notes import batches, finding, request, telling
from assistant.topics.notes.answering.saying import asks, check_score, scale_note, told_fault, told_of
from assistant.topics.plan.request import Plan


def save(wish: request.Save, kitchen: Kitchen, talk: Talk) -> Outcome:
    """Keep the batch of the line, or the one on the table."""
    outcome = _to_save(wish, kitchen, talk)
    if outcome is None:
        return asks('There is nothing to save yet. Tell me the batch first, such as "2 kg chuck and 500 g suet".')
    plan = outcome.plan or (outcome.pending.request if outcome.pending is not None else None)
    batch = batches.batch_of(plan, outcome.answer, kitchen) if isinstance(plan, Plan) else None
    if (
        not isinstance(plan, Plan)
        or batch is None
        or outcome.answer.status in (Status.IMPOSSIBLE, Status.NOT_UNDERSTOOD)
    ):
        return replace(
            outcome, answer=replace(outcome.answer, message=f"{outcome.answer.message} Nothing is saved yet.".strip())
        )
    if wish.name is None:
        told = replace(outcome.answer, message=f"Kept in mind as {telling.quoted(wish.label)} for this conversation.")
        label = finding.labelled(wish.label, replace(batch, name=wish.label))
        shown = told if outcome.answer.status is Status.ANSWERED else told_of(batch, told.message, kitchen)
        return replace(outcome, answer=shown, plan=plan, pending=None, settings={**outcome.settings, **label})
    return _kept(wish, batch, plan, outcome, kitchen)


def _slip(fault: BadInput) -> str:
    what = "A rating must be" if fault.argument == "the rating" else "A name must have"
    return f"{what} {fault.wanted}."


def _to_save(wish: request.Save, kitchen: Kitchen, talk: Talk) -> Outcome | None:
    """The batch worked out: the one of the line, else the one on the table, else the one that was being asked about."""
    if wish.batch is not None:
        return within.answered(wish.batch, kitchen, talk)
    pending = pending_for(talk, "plan")
    asked = None if pending is None else pending.request
    plan = asked if isinstance(asked, Plan) else talk.plan
    return None if plan is None else within.answered(plan, kitchen, talk)


def _kept(wish: request.Save, batch: Batch, plan: Plan, outcome: Outcome, kitchen: Kitchen) -> Outcome:
    """Write the batch; where that fails, the batch itself is still answered and a note says what is wrong."""
    name = wish.name or batches.automatic_name(batch)
    system = telling.speak(batch, kitchen)
    fresh = wish.batch is not None and outcome.answer.status is Status.ANSWERED
    try:
        saved, notes = _written(replace(batch, name=name), wish, kitchen)
    except (NotebookError, BadInput) as fault:
        why = told_fault(fault) if isinstance(fault, NotebookError) else _slip(fault)
        shown = outcome.answer if fresh else told_of(batch, "", kitchen)
        shown = replace(shown, message=f"Not saved. {why}", status=Status.IMPOSSIBLE)
        return replace(outcome, answer=shown, plan=plan, pending=None)
    said = f"Saved as {telling.titled(saved)}"
    if saved.version > 1:
        said += "; the earlier ones of that name are kept too"
    if saved.rating is not None:
        said += f", rated {telling.score(saved)}"
    if not wish.name:
        notes = (*notes, 'No name was given, so it is called after its cuts. Say "call it …" for another name.')
    marks = (telling.rating(saved),) if saved.rating is not None else ()
    if fresh:
        shown = replace(
            outcome.answer,
            message=f"{said}.",
            notes=(*notes, *outcome.answer.notes),
            figures=(*outcome.answer.figures, *marks),
        )
    else:
        shown = told_of(saved, f"{said}: {telling.contents(saved, system)}.", kitchen, notes)
    shown = replace(shown, understood=f"Save as {saved.name}: {outcome.answer.understood}")
    here = ",".join(filter(None, [kitchen.settings.get(finding.HERE, ""), str(saved.id)]))
    memory = {**finding.current(saved), finding.HERE: here, **finding.labelled(wish.label, saved)}
    return Outcome(
        shown, plan=plan, settings={**outcome.settings, **memory}, undoable=True, amends=outcome.amends or not fresh
    )


def _written(batch: Batch, wish: request.Save, kitchen: Kitchen) -> tuple[Batch, tuple[str, ...]]:
    notes: tuple[str, ...] = ()
    if wish.score is not None:
        check_score(wish.score)
        batch = replace(batch, rating=wish.score.value, rating_top=wish.score.top)
        notes = scale_note(wish.score)
    return kitchen.notebook().save(replace(batch, saved_at=kitchen.now()), wish.remark), notes
