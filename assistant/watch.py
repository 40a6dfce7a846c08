"""Watching the clocks of a notebook: what the toolbar shows, and what has to be said without being asked.

Timers live in the notebook, so that they go on while the program is away; whoever watches announces each once.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from assistant.clock import Clocks, announcement, toolbar
from assistant.notebook.faults import NotebookError
from assistant.notebook.store import Notebook
from assistant.topics import timers

LOOK_AGAIN = timedelta(seconds=10)
"""How old the known clocks may be: another window may have set or stopped one meanwhile."""
SHOWN_AS_DONE = timedelta(minutes=10)
"""How long a timer that rang stays in the toolbar, for whoever was at the sink."""


class Watch:
    """Watches the clocks of one notebook.

    notebook: the notebook, or None while there is none; now: the moment, aware. What was announced is remembered:
    a timer rings once, a warning about warm meat is given once. A timer that has rung is taken out of the notebook
    after SHOWN_AS_DONE, and one that rang while nobody watched is announced with the time since then.
    """

    def __init__(self, notebook: Callable[[], Notebook | None], now: Callable[[], datetime]) -> None:
        self._notebook = notebook
        self._now = now
        self._clocks = Clocks()
        self._read_at: datetime | None = None

    def look(self) -> None:
        """Read the clocks anew: something may have set, stopped or paused one."""
        self._read_at = None

    def toolbar(self) -> str:
        """All clocks on one line, the most pressing first; "" where none runs."""
        now = self._now()
        return toolbar(self._current(now), now)

    def announcements(self) -> list[str]:
        """What is due now and was not said yet."""
        now = self._now()
        self._clocks, due = self._current(now).due(now)
        self._forget_old(now)
        return [announcement(each) for each in due]

    def _current(self, now: datetime) -> Clocks:
        """The clocks as the notebook has them, with what was announced already; those known where it cannot be read."""
        if self._read_at is None or now - self._read_at >= LOOK_AGAIN:
            self._read_at = now
            try:
                notebook = self._notebook()
                found = Clocks() if notebook is None else timers.load(notebook)
            except NotebookError:
                return self._clocks
            self._clocks = found.told_as(self._clocks)
        return self._clocks

    def _forget_old(self, now: datetime) -> None:
        old = [timer.name for timer in self._clocks.timers if timer.rung and -timer.left(now) > SHOWN_AS_DONE]
        if not old:
            return
        try:
            notebook = self._notebook()
            for name in old:
                self._clocks = self._clocks.cancel(name)
                if notebook is not None:
                    notebook.drop_timer(name)
        except NotebookError:
            return
