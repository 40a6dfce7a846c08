"""The notebook's schema as numbered steps; each runs in a transaction of its own together with its number.

A step is a tuple of single statements (never executescript: it commits on its own). Steps are only ever added.
The schema's number is SQLite's user_version: step 1 leads from an empty file to version 1, and so on.
"""

from __future__ import annotations

# "MnWs" as the four bytes of application_id: how the file says whose it is.
APPLICATION_ID = 0x4D6E5773

Step = tuple[str, ...]

# batches.body holds the whole record; the other columns are copies to look it up by, and digest seals them all.
# finder is kept apart and narrow so that a search reads little. cards holds stock, settings and timers.
# changes holds what stood there before each change, for undo.
_FIRST_PAGES: Step = (
    """CREATE TABLE batches (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        key TEXT NOT NULL,
        version INTEGER NOT NULL,
        day TEXT NOT NULL,
        score REAL,
        body TEXT NOT NULL,
        digest TEXT NOT NULL,
        UNIQUE (key, version)
    )""",
    "CREATE INDEX batches_by_day ON batches (day, id)",
    "CREATE INDEX batches_by_score ON batches (score, id) WHERE score IS NOT NULL",
    """CREATE TABLE finder (
        id INTEGER PRIMARY KEY REFERENCES batches (id) ON DELETE CASCADE,
        words TEXT NOT NULL
    )""",
    """CREATE TABLE cards (
        kind TEXT NOT NULL,
        key TEXT NOT NULL,
        body TEXT NOT NULL,
        digest TEXT NOT NULL,
        PRIMARY KEY (kind, key)
    ) WITHOUT ROWID""",
    """CREATE TABLE changes (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        at TEXT NOT NULL,
        what TEXT NOT NULL,
        name TEXT NOT NULL,
        before TEXT NOT NULL,
        digest TEXT NOT NULL
    )""",
)

# A seasoning in a body may say what was truly weighed of it. The tables stay as they are; the number alone makes an
# older program, which does not know that field, refuse the file instead of calling it damaged.
_WEIGHED_SEASONINGS: Step = ()

STEPS: tuple[Step, ...] = (_FIRST_PAGES, _WEIGHED_SEASONINGS)
TABLES = frozenset({"batches", "finder", "cards", "changes"})
