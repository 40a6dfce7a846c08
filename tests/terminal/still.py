"""The real program with a clock that stands still, so that what it shows can be kept and compared."""

from __future__ import annotations

import sys
from datetime import datetime, timedelta, timezone
from typing import Any

AFTERNOON = datetime(2026, 6, 19, 13, 15, tzinfo=timezone(timedelta(hours=1)))


def stand_still() -> None:
    """From now on every conversation that the program begins is held at one moment."""
    from assistant import session

    class Held(session.Conversation):
        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **{"now": lambda: AFTERNOON, **named})

    session.Conversation = Held  # type: ignore[misc]


def main() -> int:
    """The program, at one moment."""
    stand_still()
    from assistant import cli

    return cli.main()


if __name__ == "__main__":
    sys.exit(main())
