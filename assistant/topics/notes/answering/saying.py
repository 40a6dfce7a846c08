"""The shape of what the notebook says."""

from __future__ import annotations

from functools import partial

from assistant import wording
from assistant.answer import Answer, Figure, Status
from assistant.errors import BadInput
from assistant.notebook import Batch, NotebookDamaged, NotebookError
from assistant.topics.base import Kitchen, Outcome, answered, ended
from assistant.topics.notes import finding, request, telling

answered_with = partial(answered, "notes")
ends = partial(ended, "notes", "The notebook")


def told_of(batch: Batch, message: str, kitchen: Kitchen, notes: tuple[str, ...] = ()) -> Answer:
    """An answer with everything that is known of a batch as figures."""
    return answered_with("", message, telling.figures(batch, telling.speak(batch, kitchen)), notes)


def asks(question: str) -> Outcome:
    """A question back."""
    return ends(Status.NEEDS_DETAIL, question)


def wrote(
    understood: str, said: str, batch: Batch, figures: tuple[Figure, ...] = (), notes: tuple[str, ...] = ()
) -> Outcome:
    """What is said after a change to a batch, which can be undone."""
    return Outcome(answered_with(understood, said, figures, notes), settings=finding.current(batch), undoable=True)


def about(batch: Batch) -> tuple[str, ...]:
    """When a batch was saved, its marks, tags and remarks, as notes."""
    saved = f"Saved {wording.day(batch.saved_at)}." if batch.saved_at is not None else ""
    rated = f"Rated {telling.score(batch)}." if batch.rating is not None else ""
    tags = f"Tagged {wording.listing(batch.tags)}." if batch.tags else ""
    aimed = (
        f"Aimed at {wording.percent(batch.target_fat)} fat."
        if batch.target_fat is not None and batch.cuts_weighed
        else ""
    )
    return tuple(
        filter(
            None,
            (
                " ".join(filter(None, (saved, rated, tags, aimed))),
                *(f"Note: {remark.text}" for remark in batch.remarks),
            ),
        )
    )


def check_score(score: request.Score) -> None:
    """Raises BadInput for marks outside their scale."""
    if not 0 <= score.value <= score.top:
        raise BadInput("the rating", str(score.value), f"from 0 to {score.top}")


def scale_note(score: request.Score) -> tuple[str, ...]:
    """How a rating was taken, where no scale was said."""
    number = wording.number(score.value, 2)
    return (
        (f"Taken as {number} out of {score.top}. Say {number}/5 for marks out of five.",)
        if score.taken and score.value <= 5
        else ()
    )


def told_fault(fault: NotebookError) -> str:
    """What is wrong with the notebook's file."""
    said = f"The notebook cannot be used: {fault.problem}."
    if isinstance(fault, NotebookDamaged):
        said += ' "mincewise notebook rescue" sets it aside and takes over what can still be read.'
    return said
