"""`mincewise notebook ...`: where things lie, and the notebook out, in, copied, checked, without a conversation."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import datetime
from pathlib import Path

from assistant import wording
from assistant.errors import MincewiseError
from assistant.notebook import (
    BadExport,
    ManyBatches,
    NoSuchBatch,
    Notebook,
    NotebookDamaged,
    NotebookError,
    default_path,
    export_csv,
    export_jsonl,
    import_jsonl,
)
from assistant.render.clean import clean

OK, FAILED, WRONG_CALL = 0, 1, 2


class WrongUseError(MincewiseError):
    """The words after `notebook` make no sense together."""


def run(words: Sequence[str], flags: Collection[str], path: str | None) -> int:
    """Carry out one notebook command; gives the exit status. path: from --notebook, or None."""
    command, *rest = words or [""]
    action = _ACTIONS.get(command)
    if action is None or len(rest) > 1:
        return _fail(f"notebook needs one of: {', '.join(_ACTIONS)}", WRONG_CALL)
    try:
        with Notebook(default_path(path)) as notebook:
            return action(notebook, rest[0] if rest else "", flags)
    except WrongUseError as wrong:
        return _fail(str(wrong), WRONG_CALL)
    except NoSuchBatch as unknown:
        return _fail(f"{unknown}" + (f"; there is {', '.join(unknown.near)}" if unknown.near else ""), FAILED)
    except (NotebookError, ManyBatches, BadExport, OSError, UnicodeDecodeError) as fault:
        return _fail(str(fault), FAILED)


def _where(notebook: Notebook, _name: str, _flags: Collection[str]) -> int:
    from assistant.chat import history_path

    environ: Mapping[str, str] = os.environ
    history = history_path(environ)
    print(f"notebook: {clean(str(notebook.path))}")
    print(f"history: {clean(str(history)) if history else 'off'}")
    print("order: option, then environment (MINCEWISE_NOTEBOOK, MINCEWISE_HISTORY), then the system's folders")
    print("configuration file: none; settings told in a conversation are kept in the notebook")
    return OK


def _list(notebook: Notebook, _name: str, _flags: Collection[str]) -> int:
    for batch in notebook.all():
        day = f", {batch.saved_at:%Y-%m-%d}" if batch.saved_at else ""
        print(f"{clean(batch.name)} (version {batch.version}{day})")
    return OK


def _export(notebook: Notebook, name: str, flags: Collection[str]) -> int:
    write = export_csv if "--csv" in flags else export_jsonl
    if not name:
        write(notebook, sys.stdout)
        return OK
    with open(name, "x", encoding="utf-8", newline="") as file:  # "x": an older export is never written over
        count = write(notebook, file)
    print(f"{count} {'rows' if '--csv' in flags else 'records'} written to {clean(name)}")
    return OK


def _import(notebook: Notebook, name: str, _flags: Collection[str]) -> int:
    with open(_needed(name, "import"), encoding="utf-8", newline="") as file:
        taken = import_jsonl(notebook, file)
    print(f"{taken.added} records taken in")
    if taken.left_out:
        print(f"there already, left as they were: {', '.join(map(clean, taken.left_out))}")
    return OK


def _backup(notebook: Notebook, name: str, _flags: Collection[str]) -> int:
    print(f"copied to {clean(str(notebook.backup(Path(_needed(name, 'backup')))))}")
    return OK


def _check(notebook: Notebook, _name: str, _flags: Collection[str]) -> int:
    notebook.check()
    print(f"{wording.counted(notebook.count(), 'batch')}, nothing damaged")
    return OK


def _rescue(notebook: Notebook, _name: str, flags: Collection[str]) -> int:
    """Set a damaged notebook aside and take over into a fresh one what can still be trusted; nothing is written over."""
    from assistant.notebook.rescue import salvage, set_aside

    try:
        notebook.check()
        print(f"{wording.counted(notebook.count(), 'batch')}, nothing damaged: nothing to rescue")
        return OK
    except NotebookDamaged as damage:
        problem = damage.problem
    notebook.close()
    question = f"Damaged: {clean(problem)}. Set the file aside and begin a fresh one with what can be read?"
    if "--yes" not in flags and not _agreed(question):
        return _fail(f"{problem}; nothing touched (--yes does it without asking)", FAILED)
    aside = set_aside(notebook.path, datetime.now().astimezone())
    print(f"set aside as {clean(str(aside))}")
    try:
        saved = salvage(aside, notebook.path)
    except NotebookDamaged:
        print("nothing in it can be read; the next save begins a fresh notebook")
        return OK
    print(f"{saved.kept} records taken over into {clean(str(notebook.path))}")
    if saved.lost:
        print(f"lost: {', '.join(map(clean, saved.lost[:20]))}" + (" and more" if len(saved.lost) > 20 else ""))
    return OK


def _forget(notebook: Notebook, name: str, flags: Collection[str]) -> int:
    batch = notebook.get(_needed(name, "forget"))
    if "--yes" not in flags and not _agreed(
        f"Delete {clean(batch.name)}, all {len(notebook.versions(name))} versions?"
    ):
        return _fail("nothing deleted (--yes deletes without asking)", FAILED)
    gone = notebook.forget(batch.name)
    print(f"{clean(batch.name)}: {wording.counted(len(gone), 'version')} deleted")
    return OK


def _agreed(question: str) -> bool:
    """Whether a person says yes; without a person at the terminal, no."""
    if not sys.stdin.isatty():
        return False
    try:
        return input(f"{question} [y/N] ").strip().lower() in ("y", "yes")
    except EOFError:
        return False


def _needed(name: str, command: str) -> str:
    if not name:
        raise WrongUseError(f"notebook {command} needs {'a name' if command == 'forget' else 'a file'} after it")
    return name


def _fail(problem: str, status: int) -> int:
    sys.stderr.write(f"mincewise: {clean(problem)}\n")
    return status


_ACTIONS: dict[str, Callable[[Notebook, str, Collection[str]], int]] = {
    "where": _where,
    "list": _list,
    "export": _export,
    "import": _import,
    "backup": _backup,
    "check": _check,
    "rescue": _rescue,
    "forget": _forget,
}
