"""A second program at the same notebook, for tests that kill it, let it wait or let it fail.

Usage: python worker.py ACTION PATH [ARGUMENT [USER]]; the project's folder must be on PYTHONPATH.
With USER (a number) it gives up its own rights before it acts.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import sys
from fractions import Fraction
from pathlib import Path

from assistant.notebook import Batch, Notebook, NotebookError, Part
from assistant.notebook import rescue as rescue  # all that is otherwise imported late, while it can be read
from assistant.notebook.migrations import STEPS, Step

# A second step that takes long enough to be interrupted, and that leaves traces in the schema and in the rows.
SLOW_STEP: Step = (
    "ALTER TABLE batches ADD COLUMN heft INTEGER",
    "CREATE TABLE grinds (id INTEGER PRIMARY KEY, size TEXT)",
    """INSERT INTO grinds (size) WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 150000)
       SELECT 'plate ' || i FROM n""",
    "UPDATE batches SET heft = length(body)",
)


def batch(name: str) -> Batch:
    """A batch of some size, so that saving writes more than one page now and then."""
    return Batch(name, (Part("chuck", Fraction(1000, 3)), Part("short rib", Fraction(500))), request="x" * 900)


def say(text: str) -> None:
    """Tell the parent, at once and in one write."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def save_until_killed(path: str, name: str) -> None:
    """Save and rate for ever; each line said is a promise."""
    with Notebook(path) as notebook:
        number = 0
        while True:
            number += 1
            kept = notebook.save(batch(f"{name} {number}"))
            say(f"saved {kept.id} {kept.name}")
            notebook.rate(kept.name, Fraction(number % 6))
            say(f"rated {kept.id} {number % 6}")


def save_some(path: str, name: str) -> None:
    """Save forty batches and end."""
    with Notebook(path, patience=60) as notebook:
        for number in range(40):
            notebook.save(batch(f"{name} {number}"))
    say("done")


def save_one(path: str, name: str) -> None:
    """Save one batch, and say what came of it."""
    try:
        with Notebook(path, patience=0.2) as notebook:
            say(f"saved {notebook.save(batch(name)).id}")
    except NotebookError as error:
        say(f"{type(error).__name__}: {error}")


def read(path: str, _: str) -> None:
    """Say how many batches there are."""
    try:
        with Notebook(path, patience=0.2) as notebook:
            say(f"read {len(notebook.all())}")
    except NotebookError as error:
        say(f"{type(error).__name__}: {error}")


def hold(path: str, lock: str) -> None:
    """Take a lock (IMMEDIATE or EXCLUSIVE) and keep it until a line comes in."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute(f"BEGIN {lock}")
    say("held")
    sys.stdin.readline()
    connection.execute("ROLLBACK")
    connection.close()


def upgrade(path: str, _: str) -> None:
    """Open with one step more than the notebook has."""
    say("opening")
    with Notebook(path, steps=(*STEPS, SLOW_STEP)) as notebook:
        say(f"upgraded {notebook.count()}")


ACTIONS = {
    "save_until_killed": save_until_killed,
    "save_some": save_some,
    "save_one": save_one,
    "read": read,
    "hold": hold,
    "upgrade": upgrade,
}

if __name__ == "__main__":
    action, where, argument, *user = [*sys.argv[1:], ""] if len(sys.argv) == 3 else sys.argv[1:]
    if user:
        hashlib.sha256(b"")
        os.setgid(int(user[0]))
        os.setuid(int(user[0]))
    ACTIONS[action](str(Path(where)), argument)
