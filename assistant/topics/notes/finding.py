"""Which batch is meant: by its name, a shorter name that only one batch has, "it", "the last one" or a label."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping

from assistant import data
from assistant.notebook import Batch, ManyBatches, NoSuchBatch, Notebook, as_data, folded
from assistant.notebook.records import batch_from
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen
from assistant.topics.notes.request import BEST, IT, LAST, PREVIOUS

CURRENT, HERE = "notes current", "notes here"
"""Settings of the conversation: the batch last spoken of, and the ids of those saved in it."""
_LABEL, _GONE = "label ", "gone "
_VERSION = Pattern(
    r"^(?P<name>.+?),?\s+\(?(?:version|ver\.?|v)\s?(?P<number>[0-9]{1,4})\)?$|^version\s(?P<first>[0-9]{1,4})\sof\s(?P<of>.+)$",
    re.IGNORECASE,
)


class NothingSaved(Exception):
    """The notebook is empty."""


class NothingRated(Exception):
    """No batch has marks."""


def find(kitchen: Kitchen, name: str) -> Batch:
    """The batch. Raises NothingSaved, NoSuchBatch, ManyBatches, and the notebook's own errors."""
    notebook = kitchen.notebook()
    if name.startswith(PREVIOUS):
        return _before(notebook, find(kitchen, name.removeprefix(PREVIOUS)))
    if name == BEST:
        best = notebook.best()
        if not best:
            raise NothingRated
        return best[0]
    if name == IT and CURRENT in kitchen.settings:
        version, _, current = kitchen.settings[CURRENT].partition(" ")
        try:
            return notebook.get(current, int(version))
        except NoSuchBatch:  # forgotten or renamed since
            pass
    if name in (IT, LAST):
        latest = notebook.last()
        if not latest:
            raise NothingSaved
        return latest[0]
    return _labelled(kitchen.settings, name) or _by_name(notebook, name)


def _before(notebook: Notebook, batch: Batch) -> Batch:
    """The version before a batch; of a first version, the batch that was saved before it."""
    earlier = [other for other in notebook.versions(batch.name) if other.version < batch.version]
    others = [other for other in notebook.last(50) if other.id < batch.id]
    if not earlier and not others:
        raise NoSuchBatch(f"{batch.name} (version {batch.version - 1})")
    return earlier[-1] if earlier else others[0]


def is_of(cut: str, asked: str) -> bool:
    """Whether a cut is what was asked for: all the words of it, or meat of that species ("beef")."""
    if set(folded(asked).split()) <= set(folded(cut).split()):
        return True
    rows = [data.cuts()[key] for key in data.cut_names().get(cut.lower(), ()) if key in data.cuts()]
    return bool(rows) and all(row.species == folded(asked) for row in rows)


def cuts_named(name: str, batch: Batch) -> list[str]:
    """The batch's cuts that a name means: itself, the same row of the cut table, or one that has its words."""
    return _meant(name, [part.cut for part in batch.parts], data.cut_names())


def seasonings_named(name: str, batch: Batch) -> list[str]:
    """The batch's seasonings that a name means, as for cuts."""
    return _meant(name, [item.name for item in batch.seasonings], data.seasoning_names())


def _meant(name: str, there: Iterable[str], table: Mapping[str, tuple[str, ...]]) -> list[str]:
    there = list(dict.fromkeys(there))
    same = [each for each in there if folded(each) == folded(name)]
    keys = table.get(name.lower(), ())
    same = same or [each for each in there if keys and table.get(each.lower(), ()) == keys]
    words = set(folded(name).split())
    return same or [each for each in there if words & set(folded(each).split())]


def is_numbered(name: str) -> bool:
    """Whether a name says which version of a batch is meant."""
    return _VERSION.match(name) is not None


def labelled(label: str, batch: Batch) -> dict[str, str]:
    """The settings that keep a batch under a word of this conversation ("v1")."""
    return {_LABEL + folded(label): json.dumps(as_data(batch))} if label else {}


def gone(name: str) -> dict[str, str]:
    """The settings that keep a name in mind which a batch no longer has: "fair stall again" is then no small talk."""
    return {_GONE + name: name}


def names_spoken_of(settings: Mapping[str, str]) -> list[str]:
    """Names of this conversation that the notebook does not have: labels, and what was forgotten or renamed."""
    return [key.removeprefix(kind) for kind in (_LABEL, _GONE) for key in settings if key.startswith(kind)]


def current(batch: Batch) -> dict[str, str]:
    """The settings that make a saved batch the one that "it" means."""
    return {CURRENT: f"{batch.version} {batch.name}"}


def _labelled(settings: Mapping[str, str], name: str) -> Batch | None:
    kept = settings.get(_LABEL + folded(name))
    return None if kept is None else batch_from(json.loads(kept))


def _by_name(notebook: Notebook, name: str) -> Batch:
    """By the whole name, its beginning, its end, or words of it, where only one batch has them."""
    try:
        return notebook.get(name)
    except NoSuchBatch as missing:
        numbered = _VERSION.match(name)
        if numbered is not None:
            wanted = numbered["name"] or numbered["of"]
            try:
                return notebook.get(wanted, int(numbered["number"] or numbered["first"]))
            except (NoSuchBatch, ManyBatches):
                pass
        return notebook.get(_only_fitting(notebook, name, missing))


def _only_fitting(notebook: Notebook, name: str, missing: NoSuchBatch) -> str:
    names = notebook.names()
    asked = folded(name).split()
    ending = [kept for key, kept in names.items() if key.split()[-len(asked) :] == asked]
    holding = [kept for key, kept in names.items() if asked and set(asked) <= set(key.split())]
    for fitting in (ending, holding):
        if len(fitting) == 1:
            return fitting[0]
        if fitting:
            raise ManyBatches(name, tuple(fitting[:6]))
    if not names:
        raise NothingSaved
    raise NoSuchBatch(name, missing.near or tuple(names.values())[:4])
