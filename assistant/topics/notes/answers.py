"""What the notebook does and says. A fault of the file is told in plain words and never costs the answer itself."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import Any

from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.engine import next_blend as engine
from assistant.errors import BadInput
from assistant.language.phrases import Measure, Patties, People
from assistant.language.sentence import Sentence
from assistant.notebook import (
    Batch,
    ManyBatches,
    NoSuchBatch,
    NotebookError,
    NothingToUndo,
    compare_batches,
    folded,
)
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Pending, Talk, Unclear, answered, ended, pending_for
from assistant.topics.notes import batches, finding, periods, request, telling
from assistant.topics.notes.finding import NothingSaved
from assistant.topics.plan import mass, meat
from assistant.topics.plan.request import Item, PattyWish, Plan
from assistant.topics.plan.section import grams

_SHOWN = 30
"""Names told in one answer; the count says how many there are."""


def answer(wish: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The outcome of a request of the notebook. Never raises for what people can say or for a bad file."""
    try:
        return _DOERS[type(wish)](wish, kitchen, talk)
    except NothingSaved:
        return _asks(
            'Nothing is saved in the notebook yet. Plan a batch, then say for example "save it as fair stall".'
        )
    except NoSuchBatch as missing:
        near = (
            f" There is {wording.listing([telling.quoted(name) for name in missing.near], 'or')}."
            if missing.near
            else ""
        )
        return _ends(Status.IMPOSSIBLE, f"No saved batch is called {telling.quoted(missing.name)}.{near}")
    except ManyBatches as several:
        names = wording.listing([telling.quoted(name) for name in several.matches], "or")
        return _asks(f"Which one do you mean: {names}?")
    except NotebookError as fault:
        return _ends(Status.IMPOSSIBLE, _fault(fault))
    except BadInput as slip:
        return _ends(Status.IMPOSSIBLE, f"That cannot be done: {slip.argument} must be {slip.wanted}.")


def undo_notebook(kitchen: Kitchen) -> str:
    """Take back the last change to the notebook and say which it was; "" where there was none to take back."""
    try:
        change = kitchen.notebook().undo_last()
    except NothingToUndo:
        return ""
    except NotebookError as fault:
        return _fault(fault)
    of = f" of {telling.quoted(change.name)}" if change.name else ""
    return f"Taken back in the notebook: {change.what}{of}."


def _fault(fault: NotebookError) -> str:
    return f"The notebook cannot be used: {fault.problem}."


# ---- saving


def _save(wish: request.Save, kitchen: Kitchen, talk: Talk) -> Outcome:
    outcome = _to_save(wish, kitchen, talk)
    if outcome is None:
        return _asks('There is nothing to save yet. Tell me the batch first, such as "2 kg chuck and 500 g suet".')
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
        shown = told if outcome.answer.status is Status.ANSWERED else _told(batch, told.message, kitchen)
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
        why = _fault(fault) if isinstance(fault, NotebookError) else _slip(fault)
        shown = outcome.answer if fresh else _told(batch, "", kitchen)
        shown = replace(shown, notes=(f"Not saved. {why}", *shown.notes), message=f"Not saved. {why}")
        status = Status.ANSWERED if fresh else Status.IMPOSSIBLE
        return replace(outcome, answer=replace(shown, status=status), plan=plan, pending=None)
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
        shown = _told(saved, f"{said}: {telling.contents(saved, system)}.", kitchen, notes)
    shown = replace(shown, understood=f"Save as {saved.name}: {outcome.answer.understood}")
    here = ",".join(filter(None, [kitchen.settings.get(finding.HERE, ""), str(saved.id)]))
    memory = {**finding.current(saved), finding.HERE: here, **finding.labelled(wish.label, saved)}
    return Outcome(
        shown, plan=plan, settings={**outcome.settings, **memory}, undoable=True, amends=outcome.amends or not fresh
    )


def _written(batch: Batch, wish: request.Save, kitchen: Kitchen) -> tuple[Batch, tuple[str, ...]]:
    notes: tuple[str, ...] = ()
    if wish.score is not None:
        _check_score(wish.score)
        batch = replace(batch, rating=wish.score.value, rating_top=wish.score.top)
        notes = _scale_note(wish.score)
    notebook = kitchen.notebook()
    saved = notebook.save(replace(batch, saved_at=kitchen.now()))
    if wish.remark:
        saved = notebook.note(saved.name, wish.remark, saved.version)
    return saved, notes


def _check_score(score: request.Score) -> None:
    if not 0 <= score.value <= score.top:
        raise BadInput("the rating", str(score.value), f"from 0 to {score.top}")


def _scale_note(score: request.Score) -> tuple[str, ...]:
    number = wording.number(score.value, 2)
    return (
        (f"Taken as {number} out of {score.top}. Say {number}/5 for marks out of five.",)
        if score.taken and score.value <= 5
        else ()
    )


# ---- changing one batch


def _rate(wish: request.Rate, kitchen: Kitchen, talk: Talk) -> Outcome:
    if wish.score is None:
        return replace(_asks("How many marks out of 10?"), pending=Pending("notes", wish, "marks"))
    _check_score(wish.score)
    if wish.name == request.IT and _unsaved(kitchen, talk):
        return _asks(
            'The batch on the table is not in the notebook yet. Say "save it as …" with its marks, or name the '
            "batch to rate."
        )
    batch = finding.find(kitchen, wish.name)
    notebook = kitchen.notebook()
    rated = notebook.rate(batch.name, wish.score.value, wish.score.top, batch.version)
    if wish.remark:
        rated = notebook.note(batch.name, wish.remark, batch.version)
    said = f"{telling.titled(rated)} is rated {telling.score(rated)}" + (
        f", with the note: {wish.remark}." if wish.remark else "."
    )
    return _wrote(
        f"Rate {rated.name} {telling.score(rated)}", said, rated, (telling.rating(rated),), _scale_note(wish.score)
    )


def _unsaved(kitchen: Kitchen, talk: Talk) -> bool:
    """Whether "it" is a batch on the table that was never saved, rather than the batch last spoken of."""
    return talk.plan is not None and finding.CURRENT not in kitchen.settings


def _remarked(wish: request.Remarked, kitchen: Kitchen, talk: Talk) -> Outcome:
    if wish.name == request.IT and _unsaved(kitchen, talk):
        return _asks('The batch on the table is not in the notebook yet. Say "save it as …" first, then the note.')
    batch = finding.find(kitchen, wish.name)
    noted = kitchen.notebook().note(batch.name, wish.text, batch.version)
    return _wrote(
        f"Note on {noted.name}: {wish.text}", f"Noted on {telling.titled(noted)}: {noted.remarks[-1].text}", noted
    )


def _tagged(wish: request.Tagged, kitchen: Kitchen, _talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.name)
    tagged = kitchen.notebook().tag(batch.name, wish.tag, version=batch.version)
    return _wrote(
        f"Tag {tagged.name} as {wish.tag}",
        f"{telling.titled(tagged)} is tagged {wording.listing(tagged.tags)}.",
        tagged,
    )


def _rename(wish: request.Rename, kitchen: Kitchen, _talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.old)
    renamed = kitchen.notebook().rename(batch.name, wish.new)[-1]
    said = f"{telling.quoted(batch.name)} is now called {telling.quoted(renamed.name)}."
    return _wrote(f"Rename {batch.name} to {renamed.name}", said, renamed)


def _forget(wish: request.Forget, kitchen: Kitchen, _talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.name)
    numbered = finding.is_numbered(wish.name) or wish.name in (request.IT, request.LAST)
    gone = kitchen.notebook().forget(batch.name, batch.version if numbered else None)
    many = f" ({len(gone)} versions)" if len(gone) > 1 else ""
    name = telling.titled(batch) if numbered else telling.quoted(batch.name)
    said = f"{name}{many} is out of the notebook. Undo brings it back."
    return Outcome(_answer(f"Forget {batch.name}", said), undoable=True)


def _wrote(
    understood: str, said: str, batch: Batch, figures: tuple[Figure, ...] = (), notes: tuple[str, ...] = ()
) -> Outcome:
    return Outcome(_answer(understood, said, figures, notes), settings=finding.current(batch), undoable=True)


# ---- one batch shown, or made again


def _recall(wish: request.Recall, kitchen: Kitchen, _talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.name)
    rated = f", rated {telling.score(batch)}" if batch.rating is not None else ""
    contents = telling.contents(batch, telling.speak(batch, kitchen))
    shown = _told(batch, f"{telling.titled(batch)}{rated}: {contents}.", kitchen)
    shown = replace(shown, understood=f"Show {batch.name}", notes=(*_about(batch), *shown.notes))
    return Outcome(shown, plan=batches.plan_of(batch), settings=finding.current(batch) if batch.id else {})


def _about(batch: Batch) -> tuple[str, ...]:
    saved = f"Saved {wording.day(batch.saved_at)}." if batch.saved_at is not None else ""
    rated = f"Rated {telling.score(batch)}." if batch.rating is not None else ""
    tags = f"Tagged {wording.listing(batch.tags)}." if batch.tags else ""
    return tuple(
        filter(
            None, (" ".join(filter(None, (saved, rated, tags))), *(f"Note: {remark.text}" for remark in batch.remarks))
        )
    )


def _again(wish: request.Again, kitchen: Kitchen, talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.name)
    plan: Plan | None = batches.plan_of(batch)
    if wish.weight is not None:
        if wish.weight.value <= 0:
            return _ends(Status.IMPOSSIBLE, "A batch of nothing is nothing to grind. For what weight?")
        plan = (
            batches.for_weight(batch, wish.weight)
            if not _is_patty_size(wish.weight, plan, batch)
            else _of_size(plan, wish.weight)
        )
    elif wish.factor is not None and batch.grams:
        plan = batches.times(batch, wish.factor)
    if plan is None:
        return _asks(f"The weight of {telling.titled(batch)} is not known, so it cannot be scaled. What went into it?")
    if wish.change is not None and (bool(wish.change.of(People)) or bool(wish.change.of(Patties))):
        served = _served(batch, plan, wish.change, kitchen, talk)
        if served is not None:
            return served
    wanted: Any = plan
    if wish.change is not None:
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
    told = replace(_told(batch, said, kitchen), understood=outcome.answer.understood)
    return replace(outcome, answer=told, plan=asked, pending=None)


def _beside(wish: request.Beside, kitchen: Kitchen, talk: Talk) -> Outcome:
    outcome = within.answered(wish.batch, kitchen, talk)
    note = f'The saved batch {telling.quoted(wish.name)} was not used here; say "{wish.name} again" for it.'
    return replace(outcome, answer=replace(outcome.answer, notes=(note, *outcome.answer.notes)))


def _amount(wish: request.Amount, kitchen: Kitchen, _talk: Talk) -> Outcome:
    batch = finding.find(kitchen, wish.name or request.LAST)
    system = telling.speak(batch, kitchen)
    asked = set(folded(wish.thing).split())
    figures: list[Figure] = []
    for item in batch.seasonings:
        if asked <= set(folded(item.name).split()) or set(folded(item.name).split()) <= asked:
            figures += telling.seasoned(item, system)
    for part in batch.parts:
        if asked <= set(folded(part.cut).split()):
            figures.append(telling.weight_figure(part.cut, part.grams, system, Role.COMPONENT))
    understood = f"How much {wish.thing} went into {batch.name}"
    if not figures:
        return Outcome(
            _answer(
                understood,
                f"No {wish.thing} is written down for {telling.titled(batch)}: {telling.contents(batch, system)}.",
            )
        )
    amounts = wording.listing([figure.shown for figure in figures][:2])
    said = f"{amounts} of {wish.thing} in {telling.titled(batch)}."
    return Outcome(_answer(understood, said, tuple(figures)), settings=finding.current(batch) if batch.id else {})


# ---- many batches


def _compare(wish: request.Compare, kitchen: Kitchen, _talk: Talk) -> Outcome:
    return _side_by_side(finding.find(kitchen, wish.first), finding.find(kitchen, wish.second), kitchen)


def _last_two(_wish: request.LastTwo, kitchen: Kitchen, _talk: Talk) -> Outcome:
    found = kitchen.notebook().last(2)
    if len(found) < 2:
        return _asks(f"Two saved batches are needed, and there {'is only one' if found else 'are none'} so far.")
    return _side_by_side(found[1], found[0], kitchen)


def _side_by_side(first: Batch, second: Batch, kitchen: Kitchen) -> Outcome:
    system = telling.speak(second, kitchen)
    words, figures = telling.differences(compare_batches(first, second), system)
    names = f"{telling.titled(second)} against {telling.titled(first)}"
    said = f"{names}: {wording.listing(words)}." if words else f"{names}: no difference in what went in."
    notes = tuple(f"{telling.titled(batch)}: {telling.contents(batch, system)}." for batch in (first, second))
    figures += [telling.fat_figure(batch) for batch in (first, second) if batch.fat is not None]
    ratings = tuple(telling.rating(batch) for batch in (first, second) if batch.rating is not None)
    return Outcome(_answer(f"Compare {first.name} with {second.name}", said, (*figures, *ratings), notes))


def _best(wish: request.Best, kitchen: Kitchen, _talk: Talk) -> Outcome:
    notebook = kitchen.notebook()
    ordered = (
        sorted(notebook.rated(), key=lambda batch: batch.score or 0)[: wish.count]
        if wish.worst
        else notebook.best(wish.count)
    )
    if not ordered:
        return _asks('No batch is rated yet. Say for example "rate the last one 7".')
    which = "lowest" if wish.worst else "best"
    told = [
        f"{telling.titled(batch)} {telling.score(batch)}: {telling.contents(batch, telling.speak(batch, kitchen))}"
        for batch in ordered
    ]
    said = (
        f"The {which} so far: {told[0]}." if len(told) == 1 else f"The {which} {len(told)} so far: {'; '.join(told)}."
    )
    figures = tuple(telling.rating(batch) for batch in ordered)
    notes = _about(ordered[0]) if len(ordered) == 1 else ()
    return Outcome(_answer(f"The {which} rated batch", said, figures, notes), settings=finding.current(ordered[0]))


def _average(wish: request.Average, kitchen: Kitchen, _talk: Talk) -> Outcome:
    rated = _to_average(wish, kitchen)
    if not rated:
        return _asks('No batch is rated yet. Say for example "rate the last one 7".')
    tops = {batch.rating_top for batch in rated}
    top = tops.pop() if len(tops) == 1 else 10
    mean = sum((batch.score or Fraction(0) for batch in rated), Fraction(0)) / len(rated) * top
    names = wording.listing([f"{telling.quoted(batch.name)} {telling.score(batch)}" for batch in rated[:8]])
    more = f" and {len(rated) - 8} more" if len(rated) > 8 else ""
    figure = Figure("average rating", Role.RATING, float(mean), "1", shown=f"{wording.number(mean, 2)}/{top}")
    count = wording.counted(len(rated), "batch")
    said = f"{wording.number(mean, 2)} out of {top} on average, over {count}: {names}{more}."
    return Outcome(_answer("The average rating", said, (figure,)))


def _to_average(wish: request.Average, kitchen: Kitchen) -> list[Batch]:
    """The named ones; else, for "they", those saved in this conversation where two or more are rated; else all."""
    if wish.names:
        return [batch for name in wish.names for batch in [finding.find(kitchen, name)] if batch.rating is not None]
    rated = list(kitchen.notebook().rated())
    here = set(kitchen.settings.get(finding.HERE, "").split(","))
    ours = [batch for batch in rated if str(batch.id) in here]
    return ours if wish.here and len(ours) > 1 else rated


def _listing(_wish: request.Listing, kitchen: Kitchen, _talk: Talk) -> Outcome:
    names = list(kitchen.notebook().names().values())
    if not names:
        return Outcome(
            _answer("Show the saved batches", 'Nothing is saved yet. After a batch, say "save it as" and a name.')
        )
    shown = ", ".join(telling.quoted(name) for name in names[:_SHOWN])
    more = f" and {len(names) - _SHOWN} older ones" if len(names) > _SHOWN else ""
    return Outcome(_answer("Show the saved batches", f"Saved, newest first: {shown}{more}."))


def _search(wish: request.Search, kitchen: Kitchen, _talk: Talk) -> Outcome:
    found = kitchen.notebook().search(wish.words)
    understood = f"Batches with {wish.words}"
    if not found:
        return Outcome(
            _answer(
                understood,
                f"No saved batch has {telling.quoted(wish.words)} in its name, cuts, seasonings, tags or notes.",
            )
        )
    told = [f"{telling.titled(batch)}: {telling.contents(batch, telling.speak(batch, kitchen))}" for batch in found[:8]]
    more = f" And {len(found) - 8} more." if len(found) > 8 else ""
    return Outcome(_answer(understood, f"{'; '.join(told)}.{more}"))


def _used(wish: request.Used, kitchen: Kitchen, _talk: Talk) -> Outcome:
    days = wish.period.days(kitchen.now().date())
    if days is None:
        return _ends(Status.IMPOSSIBLE, f"No calendar has the day {telling.quoted(wish.period.said)}.")
    if days[1] < days[0]:
        return _ends(Status.IMPOSSIBLE, f"That is still to come: {periods.shown(days)}.")
    found = kitchen.notebook().between(*days)
    understood = f"What was used {periods.shown(days)}"
    used: dict[str, Fraction] = {}
    asked = set(folded(wish.cut).split())
    found = tuple(batch for batch in found if any(asked <= set(folded(part.cut).split()) for part in batch.parts))
    for batch in found:
        for part in batch.parts:
            if asked <= set(folded(part.cut).split()):
                used[part.cut] = used.get(part.cut, Fraction(0)) + part.grams
    what = wish.cut or "batch"
    if not used:
        return Outcome(_answer(understood, f"No {what} was saved {periods.shown(days)}."))
    system = kitchen.units
    figures = [telling.weight_figure(cut, mass, system, Role.COMPONENT) for cut, mass in used.items()]
    whole = sum(used.values(), Fraction(0))
    figures.append(telling.weight_figure("total", whole, system, Role.TOTAL))
    parts = wording.listing([f"{wording.weight(mass, system)} {cut}" for cut, mass in used.items()])
    total = f", {wording.both(whole, system)} in all" if len(used) > 1 else ""
    said = f"{parts}{total}, in {wording.counted(len(found), 'saved batch', 'saved batches')} {periods.shown(days)}."
    names = tuple(f"{telling.titled(batch)}: {telling.contents(batch, system)}." for batch in found[:10])
    return Outcome(_answer(understood, said, tuple(figures), names))


# ---- what next


def _next(_wish: request.Next, kitchen: Kitchen, _talk: Talk) -> Outcome:
    tasted = [_tasted(batch) for batch in kitchen.notebook().rated() if batch.fat is not None and batch.grams]
    offered = _offered(kitchen)
    if len(tasted) < engine.FEWEST_RATINGS or not offered:
        return _asks(
            f"It takes {engine.FEWEST_RATINGS} rated blends to learn from, and there "
            f"{'is 1' if len(tasted) == 1 else f'are {len(tasted)}'} so far. Save batches and rate them, such as "
            '"rate the last one 7".'
        )
    found = engine.next_blend(tasted, offered)
    if isinstance(found, engine.TooFew):
        return _asks(f"It takes {found.wanted} rated blends to learn from, and there are {found.have} so far.")
    if isinstance(found, engine.NothingNew):
        low, high = (wording.percent(end) for end in found.reach)
        return _ends(
            Status.IMPOSSIBLE,
            f"These cuts give nothing new: they reach {low} to {high} fat and all of that was tried. "
            "Name another cut in stock.",
        )
    figures = [
        Figure(cut, Role.RATIO, float(share * 100), "%", shown=wording.percent(share * 100, 0))
        for cut, share in found.shares
    ]
    figures.append(Figure("fat", Role.FAT, float(found.fat), "%", shown=wording.percent(found.fat)))
    expected = Figure(
        "expected rating",
        Role.RATING,
        found.mean * 10,
        "1",
        max(0.0, (found.mean - 2 * found.sd) * 10),
        min(10.0, (found.mean + 2 * found.sd) * 10),
        source="a Gaussian process over your own ratings",
        shown=f"about {wording.number(found.mean * 10)}/10",
    )
    blend = wording.listing([f"{wording.percent(share * 100, 0)} {cut}" for cut, share in found.shares])
    aim = (
        "it promises to be at least as good as the best so far"
        if found.aim is engine.Aim.BETTER
        else "little is known there, so it teaches most"
    )
    said = f"Try {blend}, {wording.lean_fat(found.fat)}: {aim}."
    notes = (
        f"Learned from {wording.counted(found.used, 'rated batch', 'rated batches')}; "
        "a rough model of taste, not a promise.",
    )
    return Outcome(_answer("Which blend to try next", said, (*figures, expected), notes))


def _tasted(batch: Batch) -> engine.Tasted:
    shares: dict[str, Fraction] = {}
    for part in batch.parts:
        shares[part.cut] = shares.get(part.cut, Fraction(0)) + part.grams / batch.grams
    return engine.Tasted(shares, batch.fat or Fraction(0), batch.score or Fraction(0))


def _offered(kitchen: Kitchen) -> list[engine.Offered]:
    """The cuts in stock; with none there, the cuts of the rated batches. Only those whose fat is known."""
    fats: dict[str, Fraction] = {}
    for item in kitchen.notebook().stock():
        meats, _ = meat.find(Plan(items=(Item(item.cut, _keys(item.cut), fat=item.fat),)), kitchen.country, {})
        if meats and meats[0].fat is not None:
            fats[item.cut] = meats[0].fat
    if not fats:
        for batch in kitchen.notebook().rated():
            fats.update({part.cut: part.fat for part in batch.parts if part.fat is not None})
    return [engine.Offered(cut, fat) for cut, fat in list(fats.items())[: engine.MOST_CUTS]]


def _keys(cut: str) -> tuple[str, ...]:

    return data.cut_names().get(cut.lower(), ())


# ---- the shape of an answer


def _help(_wish: request.Help, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    said = (
        'After a batch, say "save it as fair stall". Later say "what was in fair stall", "fair stall again for 4 kg", '
        '"rate fair stall 8/10", "note: a touch dry", "compare the last two" or "show my saved batches".'
    )
    return Outcome(_answer("How to save a batch", said))


def _unclear(wish: Unclear, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    return _asks(wish.question)


def _told(batch: Batch, message: str, kitchen: Kitchen, notes: tuple[str, ...] = ()) -> Answer:
    return _answer("", message, telling.figures(batch, telling.speak(batch, kitchen)), notes)


_answer = partial(answered, "notes")
_ends = partial(ended, "notes", "The notebook")


def _asks(question: str) -> Outcome:
    return _ends(Status.NEEDS_DETAIL, question)


_DOERS: dict[type, Callable[[Any, Kitchen, Talk], Outcome]] = {
    request.Save: _save,
    request.Recall: _recall,
    request.Again: _again,
    request.Rate: _rate,
    request.Remarked: _remarked,
    request.Best: _best,
    request.Average: _average,
    request.Compare: _compare,
    request.LastTwo: _last_two,
    request.Listing: _listing,
    request.Search: _search,
    request.Rename: _rename,
    request.Forget: _forget,
    request.Tagged: _tagged,
    request.Used: _used,
    request.Amount: _amount,
    request.Next: _next,
    request.Beside: _beside,
    request.Help: _help,
    Unclear: _unclear,
}
