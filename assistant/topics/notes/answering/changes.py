"""Changes to one kept batch."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Status
from assistant.language.phrases import Measure
from assistant.notebook import Batch, folded
from assistant.notebook.checks import with_weights
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Pending, Talk
from assistant.topics.notes import batches, finding, request, telling
from assistant.topics.notes.answering.saying import answered_with, asks, check_score, ends, scale_note, told_of, wrote
from assistant.topics.plan.answers import reopened
from assistant.topics.plan.keep import plan_to_text
from assistant.topics.plan.section import grams


def rate(wish: request.Rate, kitchen: Kitchen, talk: Talk) -> Outcome:
    """Marks for a batch."""
    if wish.score is None:
        return replace(asks("How many marks out of 10?"), pending=Pending("notes", wish, "marks"))
    check_score(wish.score)
    if wish.name == request.IT and _unsaved(kitchen, talk):
        return asks(
            'The batch on the table is not in the notebook yet. Say "save it as …" with its marks, or name the '
            "batch to rate."
        )
    batch = finding.find(kitchen, wish.name)
    notebook = kitchen.notebook()
    rated = notebook.rate(batch.name, wish.score.value, wish.score.top, batch.version, remark=wish.remark)
    said = f"{telling.titled(rated)} is rated {telling.score(rated)}" + (
        f", with the note: {wish.remark}." if wish.remark else "."
    )
    return wrote(
        f"Rate {rated.name} {telling.score(rated)}", said, rated, (telling.rating(rated),), scale_note(wish.score)
    )


def _unsaved(kitchen: Kitchen, talk: Talk) -> bool:
    """Whether "it" is a batch on the table that was never saved, rather than the batch last spoken of."""
    return talk.plan is not None and finding.CURRENT not in kitchen.settings


def remarked(wish: request.Remarked, kitchen: Kitchen, talk: Talk) -> Outcome:
    """A remark on a batch."""
    if wish.name == request.IT and _unsaved(kitchen, talk):
        return asks('The batch on the table is not in the notebook yet. Say "save it as …" first, then the note.')
    batch = finding.find(kitchen, wish.name)
    noted = kitchen.notebook().note(batch.name, wish.text, batch.version)
    return wrote(
        f"Note on {noted.name}: {wish.text}", f"Noted on {telling.titled(noted)}: {noted.remarks[-1].text}", noted
    )


def tagged(wish: request.Tagged, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """A tag on a batch."""
    batch = finding.find(kitchen, wish.name)
    named = wording.listing(wish.tags)
    if wish.off:
        there = {folded(tag) for tag in batch.tags}
        lacking = [tag for tag in wish.tags if folded(tag) not in there]
        if lacking:
            has = f"it has {wording.listing(batch.tags)}" if batch.tags else "it has no tags"
            return ends(Status.IMPOSSIBLE, f"{telling.titled(batch)} is not tagged {wording.listing(lacking)}: {has}.")
        left = kitchen.notebook().untag(batch.name, *wish.tags, version=batch.version)
        tags = f"tagged {wording.listing(left.tags)}" if left.tags else "without tags"
        return wrote(f"Take {named} off {left.name}", f"{telling.titled(left)} is now {tags}.", left)
    tagged = kitchen.notebook().tag(batch.name, *wish.tags, version=batch.version)
    said = f"{telling.titled(tagged)} is tagged {wording.listing(tagged.tags)}."
    return wrote(f"Tag {tagged.name} as {named}", said, tagged)


def rename(wish: request.Rename, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Another name for every version of a batch."""
    batch = finding.find(kitchen, wish.old)
    renamed = kitchen.notebook().rename(batch.name, wish.new)[-1]
    said = f"{telling.quoted(batch.name)} is now called {telling.quoted(renamed.name)}."
    done = wrote(f"Rename {batch.name} to {renamed.name}", said, renamed)
    return replace(done, settings={**done.settings, **finding.gone(batch.name)})


def forget(wish: request.Forget, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Out of the notebook: every version, or the one that was meant."""
    batch = finding.find(kitchen, wish.name)
    numbered = finding.is_numbered(wish.name) or wish.name in (request.IT, request.LAST)
    gone = kitchen.notebook().forget(batch.name, batch.version if numbered else None)
    many = f" ({len(gone)} versions)" if len(gone) > 1 else ""
    name = telling.titled(batch) if numbered else telling.quoted(batch.name)
    said = f"{name}{many} is out of the notebook. Undo brings it back."
    return Outcome(answered_with(f"Forget {batch.name}", said), settings=finding.gone(batch.name), undoable=True)


def weighed(wish: request.Weighed, kitchen: Kitchen, talk: Talk) -> Outcome:
    """What was truly weighed, written down with the kept batch; or, where the one on the table is not kept, worked out."""
    if wish.name == request.IT and not _is_on_the_table(kitchen, talk):
        return _weighed_on_the_table(wish, kitchen, talk)
    batch = finding.find(kitchen, wish.name)
    weights = _by_name(wish, batch)
    if isinstance(weights, str):
        return asks(weights)
    kept = kitchen.notebook().weighed(batch.name, weights, batch.version)
    system = telling.speak(kept, kitchen)
    said = f"Weighed, in {telling.titled(kept)}: {telling.contents(kept, system)}."
    shown = told_of(kept, said, kitchen)
    pinches = {item.name for item in kept.seasonings}
    told = wording.listing(
        [
            f"{telling.seasoned_weight(mass, system) if name in pinches else wording.weight(mass, system)} {name}"
            for name, mass in weights.items()
        ]
    )
    return Outcome(
        replace(shown, understood=f"{kept.name} as weighed: {told}"),
        plan=batches.plan_of(kept),
        settings=finding.current(kept),
        undoable=True,
        amends=True,
    )


def _weighed_on_the_table(wish: request.Weighed, kitchen: Kitchen, talk: Talk) -> Outcome:
    worked = within.answered(talk.plan, kitchen, talk)
    batch = batches.batch_of(talk.plan, worked.answer, kitchen)
    if batch is None or not batch.parts:
        return asks('Weighed for which batch? Tell me what went in, such as "2 kg chuck and 500 g suet".')
    weights = _by_name(wish, batch)
    if isinstance(weights, str):
        return asks(weights)
    plan = batches.plan_of(with_weights(batch, weights))
    outcome = within.answered(plan, kitchen, talk)
    note = 'This is the batch as weighed; say "save it as" and a name to keep it.'
    return replace(outcome, answer=replace(outcome.answer, notes=(note, *outcome.answer.notes)), plan=plan, amends=True)


def _is_on_the_table(kitchen: Kitchen, talk: Talk) -> bool:
    """Whether the batch last spoken of is the one on the table, unchanged: then what is said of the table is of it."""
    if finding.CURRENT not in kitchen.settings:
        return False
    if talk.plan is None:
        return True
    kept = batches.plan_of(finding.find(kitchen, request.IT))
    return plan_to_text(kept) == plan_to_text(reopened(talk.plan))


def _by_name(wish: request.Weighed, batch: Batch) -> dict[str, Fraction] | str:
    """Grams by the batch's own names of its cuts and seasonings; or the question that a name earns which is none of
    them."""
    found: dict[str, Fraction] = {}
    for name, weight in wish.weights:
        fitting = finding.cuts_named(name, batch)
        if len(fitting) != 1:
            there = wording.listing(fitting or [part.cut for part in batch.parts], "or")
            return f"Which cut was the {name}: {there}?"
        found[fitting[0]] = grams(weight)
    for name, weight in wish.pinches:
        fitting = finding.seasonings_named(name, batch)
        if len(fitting) > 1:
            return f"Which seasoning was the {name}: {wording.listing(fitting, 'or')}?"
        if not fitting:
            return _not_in_it(name, weight, batch)
        found[fitting[0]] = grams(weight)
    return found


def _not_in_it(name: str, weight: Measure, batch: Batch) -> str:
    known = [item.name for item in batch.seasonings]
    only = f"only {wording.listing(known)}" if known else "and no other seasoning"
    added = f"add {wording.weight(grams(weight), 'metric')} {name}"
    return f'No {name} is written down for this batch, {only}. To keep it, say "{added}" and save that.'
