"""Changes to one kept batch."""

from __future__ import annotations

from msgspec.structs import replace

from assistant import wording
from assistant.topics.base import Kitchen, Outcome, Pending, Talk
from assistant.topics.notes import finding, request, telling
from assistant.topics.notes.answering.saying import answered_with, asks, check_score, scale_note, wrote


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
    rated = notebook.rate(batch.name, wish.score.value, wish.score.top, batch.version)
    if wish.remark:
        rated = notebook.note(batch.name, wish.remark, batch.version)
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
    tagged = kitchen.notebook().tag(batch.name, wish.tag, version=batch.version)
    return wrote(
        f"Tag {tagged.name} as {wish.tag}",
        f"{telling.titled(tagged)} is tagged {wording.listing(tagged.tags)}.",
        tagged,
    )


def rename(wish: request.Rename, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Another name for every version of a batch."""
    batch = finding.find(kitchen, wish.old)
    renamed = kitchen.notebook().rename(batch.name, wish.new)[-1]
    said = f"{telling.quoted(batch.name)} is now called {telling.quoted(renamed.name)}."
    return wrote(f"Rename {batch.name} to {renamed.name}", said, renamed)


def forget(wish: request.Forget, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """Out of the notebook: every version, or the one that was meant."""
    batch = finding.find(kitchen, wish.name)
    numbered = finding.is_numbered(wish.name) or wish.name in (request.IT, request.LAST)
    gone = kitchen.notebook().forget(batch.name, batch.version if numbered else None)
    many = f" ({len(gone)} versions)" if len(gone) > 1 else ""
    name = telling.titled(batch) if numbered else telling.quoted(batch.name)
    said = f"{name}{many} is out of the notebook. Undo brings it back."
    return Outcome(answered_with(f"Forget {batch.name}", said), undoable=True)
