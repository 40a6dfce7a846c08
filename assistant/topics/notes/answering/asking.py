"""What was kept, shown: one batch, two side by side, or all of them."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.notebook import Batch, compare_batches, folded
from assistant.notebook.records import as_weighed
from assistant.topics.base import Kitchen, Outcome, Talk
from assistant.topics.notes import batches, finding, periods, request, telling
from assistant.topics.notes.answering.saying import about, answered_with, asks, ends, told_of

_SHOWN = 30
"""Names told in one answer; the count says how many there are."""


def recall(wish: request.Recall, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """One batch, which is on the table from then on."""
    batch = finding.find(kitchen, wish.name)
    rated = f", rated {telling.score(batch)}" if batch.rating is not None else ", not rated yet" if wish.marks else ""
    contents = telling.contents(batch, telling.speak(batch, kitchen))
    shown = told_of(batch, f"{telling.titled(batch)}{rated}: {contents}.", kitchen)
    shown = replace(shown, understood=f"Show {batch.name}", notes=(*about(batch), *shown.notes))
    return Outcome(shown, plan=batches.plan_of(batch), settings=finding.current(batch) if batch.id else {})


def amount(wish: request.Amount, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """How much of one thing went into a batch."""
    batch = as_weighed(finding.find(kitchen, wish.name or request.LAST))
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
            answered_with(
                understood,
                f"No {wish.thing} is written down for {telling.titled(batch)}: {telling.contents(batch, system)}.",
            )
        )
    weight, *spoons = [figure.shown for figure in figures]
    amounts = weight + (f" ({spoons[0]})" if spoons else "")
    said = f"{amounts} of {wish.thing} in {telling.titled(batch)}."
    return Outcome(answered_with(understood, said, tuple(figures)), settings=finding.current(batch) if batch.id else {})


def compare(wish: request.Compare, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Two batches side by side."""
    return _side_by_side(finding.find(kitchen, wish.first), finding.find(kitchen, wish.second), kitchen)


def last_two(_wish: request.LastTwo, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The two saved last side by side."""
    found = kitchen.notebook().last(2)
    if len(found) < 2:
        return asks(f"Two saved batches are needed, and there {'is only one' if found else 'are none'} so far.")
    return _side_by_side(found[1], found[0], kitchen)


def _side_by_side(first: Batch, second: Batch, kitchen: Kitchen) -> Outcome:
    system = telling.speak(second, kitchen)
    words, figures = telling.differences(compare_batches(first, second), system)
    names = f"{telling.titled(second)} against {telling.titled(first)}"
    said = f"{names}: {wording.listing(words)}." if words else f"{names}: no difference in what went in."
    notes = tuple(f"{telling.titled(batch)}: {telling.contents(batch, system)}." for batch in (first, second))
    figures += [telling.fat_figure(batch) for batch in (first, second) if batch.fat is not None]
    ratings = tuple(telling.rating(batch) for batch in (first, second) if batch.rating is not None)
    return Outcome(answered_with(f"Compare {first.name} with {second.name}", said, (*figures, *ratings), notes))


def best(wish: request.Best, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The best or the worst rated, or those in a range of marks."""
    ordered = _ordered(wish, kitchen)
    if not ordered:
        if wish.least is None and wish.most is None:
            return asks('No batch is rated yet. Say for example "rate the last one 7".')
        return Outcome(answered_with("Batches by their marks", "No batch has marks in that range."))
    which = "lowest" if wish.worst else "best"
    told = [
        f"{telling.titled(batch)} {telling.score(batch)}: {telling.contents(batch, telling.speak(batch, kitchen))}"
        for batch in ordered
    ]
    said = (
        f"The {which} so far: {told[0]}." if len(told) == 1 else f"The {which} {len(told)} so far: {'; '.join(told)}."
    )
    if wish.least is not None or wish.most is not None:
        said = f"{'; '.join(told)}."
    figures = tuple(telling.rating(batch) for batch in ordered)
    notes = about(ordered[0]) if len(ordered) == 1 else ()
    return Outcome(
        answered_with(f"The {which} rated batch", said, figures, notes), settings=finding.current(ordered[0])
    )


def _ordered(wish: request.Best, kitchen: Kitchen) -> list[Batch]:
    notebook = kitchen.notebook()
    if not wish.worst and wish.least is None and wish.most is None:
        return list(notebook.best(wish.count))
    fitting = [batch for batch in notebook.rated() if _has_marks(batch, wish)]
    return sorted(fitting, key=lambda batch: batch.score or 0, reverse=not wish.worst)[: wish.count]


def _has_marks(batch: Batch, wish: request.Best) -> bool:
    score = batch.score or Fraction(0)
    if wish.strictly and score in (wish.least, wish.most):
        return False
    return (wish.least is None or score >= wish.least) and (wish.most is None or score <= wish.most)


def latest(wish: request.Latest, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The batches saved last, newest first."""
    found = kitchen.notebook().last(wish.count)
    if not found:
        raise finding.NothingSaved
    told = "; ".join(_dated(batch, kitchen) for batch in found)
    figures = tuple(telling.rating(batch) for batch in found if batch.rating is not None)
    return Outcome(
        answered_with(f"The last {len(found)} batches", f"{told}.", figures), settings=finding.current(found[0])
    )


def _dated(batch: Batch, kitchen: Kitchen) -> str:
    """A batch in one line, with its day and its marks."""
    day = f", {wording.day(batch.saved_at)}" if batch.saved_at is not None else ""
    marks = f", rated {telling.score(batch)}" if batch.rating is not None else ""
    return f"{telling.titled(batch)}{day}{marks}: {telling.contents(batch, telling.speak(batch, kitchen))}"


def average(wish: request.Average, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The mean rating."""
    rated = _to_average(wish, kitchen)
    if not rated:
        return asks('No batch is rated yet. Say for example "rate the last one 7".')
    tops = {batch.rating_top for batch in rated}
    top = tops.pop() if len(tops) == 1 else 10
    mean = sum((batch.score or Fraction(0) for batch in rated), Fraction(0)) / len(rated) * top
    names = wording.listing([f"{telling.quoted(batch.name)} {telling.score(batch)}" for batch in rated[:8]])
    more = f" and {len(rated) - 8} more" if len(rated) > 8 else ""
    figure = Figure("average rating", Role.RATING, float(mean), "1", shown=f"{wording.number(mean, 2)}/{top}")
    count = wording.counted(len(rated), "batch")
    said = f"{wording.number(mean, 2)} out of {top} on average, over {count}: {names}{more}."
    return Outcome(answered_with("The average rating", said, (figure,)))


def _to_average(wish: request.Average, kitchen: Kitchen) -> list[Batch]:
    """The named ones; else, for "they", those saved in this conversation where two or more are rated; else all."""
    if wish.names:
        return [batch for name in wish.names for batch in [finding.find(kitchen, name)] if batch.rating is not None]
    rated = list(kitchen.notebook().rated())
    here = set(kitchen.settings.get(finding.HERE, "").split(","))
    ours = [batch for batch in rated if str(batch.id) in here]
    return ours if wish.here and len(ours) > 1 else rated


def listing(_wish: request.Listing, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The names of what is saved."""
    notebook = kitchen.notebook()
    names = list(notebook.names().values())
    if not names:
        return Outcome(
            answered_with("Show the saved batches", 'Nothing is saved yet. After a batch, say "save it as" and a name.')
        )
    shown = ", ".join(telling.quoted(name) for name in names[:_SHOWN])
    count = wording.counted(notebook.count(), "batch", "batches")
    more = f" and {len(names) - _SHOWN} older ones" if len(names) > _SHOWN else ""
    return Outcome(answered_with("Show the saved batches", f"{count} saved, newest first: {shown}{more}."))


def search(wish: request.Search, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Batches with these words."""
    found = kitchen.notebook().search(wish.words)
    understood = f"Batches with {wish.words}"
    if not found:
        return Outcome(
            answered_with(
                understood,
                f"No saved batch has {telling.quoted(wish.words)} in its name, cuts, seasonings, tags or notes.",
            )
        )
    told = [_dated(batch, kitchen) for batch in found[:8]]
    more = f" And {len(found) - 8} more." if len(found) > 8 else ""
    return Outcome(answered_with(understood, f"{'; '.join(told)}.{more}"))


def used(wish: request.Used, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """What was used in a stretch of days."""
    days = wish.period.days(kitchen.now().date())
    if days is None:
        return ends(Status.IMPOSSIBLE, f"No calendar has the day {telling.quoted(wish.period.said)}.")
    if days[1] < days[0]:
        return ends(Status.IMPOSSIBLE, f"That is still to come: {periods.shown(days)}.")
    found = tuple(as_weighed(batch) for batch in kitchen.notebook().between(*days))
    understood = f"What was used {periods.shown(days)}"
    used: dict[str, Fraction] = {}
    found = tuple(batch for batch in found if any(finding.is_of(part.cut, wish.cut) for part in batch.parts))
    for batch in found:
        for part in batch.parts:
            if finding.is_of(part.cut, wish.cut):
                used[part.cut] = used.get(part.cut, Fraction(0)) + part.grams
    what = wish.cut or "batch"
    if not used:
        return Outcome(answered_with(understood, f"No {what} was saved {periods.shown(days)}."))
    spoken = {telling.speak(batch, kitchen) for batch in found}
    system = spoken.pop() if len(spoken) == 1 else kitchen.units
    figures = [telling.weight_figure(cut, mass, system, Role.COMPONENT) for cut, mass in used.items()]
    whole = sum(used.values(), Fraction(0))
    figures.append(telling.weight_figure("total", whole, system, Role.TOTAL))
    parts = wording.listing([f"{wording.weight(mass, system)} {cut}" for cut, mass in used.items()])
    total = f", {wording.both(whole, system)} in all" if len(used) > 1 else ""
    said = f"{parts}{total}, in {wording.counted(len(found), 'saved batch', 'saved batches')} {periods.shown(days)}."
    names = tuple(f"{telling.titled(batch)}: {telling.contents(batch, system)}." for batch in found[:10])
    return Outcome(answered_with(understood, said, tuple(figures), names))
