"""What the notebook does and says. A fault of the file is told in plain words and never costs the answer itself."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from assistant import wording
from assistant.answer import Status
from assistant.errors import BadInput
from assistant.notebook import Change, ManyBatches, NoSuchBatch, NotebookError, NothingToUndo
from assistant.topics.base import Kitchen, Outcome, Talk, Unclear
from assistant.topics.notes import request, telling
from assistant.topics.notes.answering import again, asking, changes, next_blend, saving
from assistant.topics.notes.answering.saying import answered_with, asks, ends, told_fault
from assistant.topics.notes.finding import NothingRated, NothingSaved


def answer(wish: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The outcome of a request of the notebook. Never raises for what people can say or for a bad file."""
    try:
        return _DOERS[type(wish)](wish, kitchen, talk)
    except NothingSaved:
        return asks('Nothing is saved in the notebook yet. Plan a batch, then say for example "save it as fair stall".')
    except NothingRated:
        return asks('No batch is rated yet. Say for example "rate the last one 7".')
    except NoSuchBatch as missing:
        near = (
            f" There is {wording.listing([telling.quoted(name) for name in missing.near], 'or')}."
            if missing.near
            else ""
        )
        return ends(Status.IMPOSSIBLE, f"No saved batch is called {telling.quoted(missing.name)}.{near}")
    except ManyBatches as several:
        names = wording.listing([telling.quoted(name) for name in several.matches], "or")
        return asks(f"Which one do you mean: {names}?")
    except NotebookError as fault:
        return ends(Status.IMPOSSIBLE, told_fault(fault))
    except BadInput as slip:
        return ends(Status.IMPOSSIBLE, f"That cannot be done: {slip.argument} must be {slip.wanted}.")


def undo_notebook(kitchen: Kitchen) -> tuple[bool, str]:
    """Take back the last change to the notebook: whether it was done, and which it was; or "" where there was none to
    take back, or what is wrong with the file."""
    try:
        change = kitchen.notebook().undo_last()
    except NothingToUndo:
        return False, ""
    except NotebookError as fault:
        return False, told_fault(fault)
    return True, f"Taken back in the notebook: {_in_words(change)}."


def last_change(kitchen: Kitchen) -> str:
    """What undo_notebook would take back, and when it was done; "" where there is nothing."""
    try:
        notebook = kitchen.notebook()
        change = next(iter(notebook.last_changes(1)), None) if notebook.path.exists() else None
    except NotebookError:
        return ""
    return "" if change is None else f"{_in_words(change)} ({wording.day(change.at)}, {change.at:%H:%M})"


def _in_words(change: Change) -> str:
    whose = f" of {telling.quoted(change.name)}" if change.name and change.what not in ("set", "unset") else ""
    return f"{_CHANGES.get(change.what, change.what)}{whose}"


_CHANGES = {
    "save": "the saving",
    "rate": "the marks",
    "note": "the note",
    "tag": "the tag",
    "untag": "the taking off of a tag",
    "weigh": "the weights",
    "rename": "the renaming",
    "forget": "the forgetting",
    "stock": "the stock",
    "drop stock": "the clearing",
    "drawing down": "the drawing down",
    "prices": "the forgetting of prices",
    "set": "the setting",
    "unset": "the resetting",
    "import": "the import",
}
"""What a change is called, where it is taken back."""


def _help(_wish: request.Help, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    said = (
        'After a batch, say "save it as fair stall". Later say "what was in fair stall", "fair stall again for 4 kg", '
        '"rate fair stall 8/10", "note: a touch dry", "compare the last two" or "show my saved batches".'
    )
    return Outcome(answered_with("How to save a batch", said))


def _unclear(wish: Unclear, _kitchen: Kitchen, _talk: Talk) -> Outcome:
    return asks(wish.question)


_DOERS: dict[type, Callable[[Any, Kitchen, Talk], Outcome]] = {
    request.Save: saving.save,
    request.Recall: asking.recall,
    request.Again: again.again,
    request.Rate: changes.rate,
    request.Remarked: changes.remarked,
    request.Best: asking.best,
    request.Average: asking.average,
    request.Compare: asking.compare,
    request.LastTwo: asking.last_two,
    request.Latest: asking.latest,
    request.Listing: asking.listing,
    request.Search: asking.search,
    request.Rename: changes.rename,
    request.Forget: changes.forget,
    request.Weighed: changes.weighed,
    request.Tagged: changes.tagged,
    request.Used: asking.used,
    request.Amount: asking.amount,
    request.Next: next_blend.next_to_try,
    request.Beside: again.beside,
    request.Help: _help,
    Unclear: _unclear,
}
