"""Whole screens of the conversation at 40, 80 and 120 columns, against those kept beside this file.

UPDATE_SCREENS=1 writes them anew; look at the difference before keeping it.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.terminal.programs import Screen

KEPT = Path(__file__).parent / "screens"


@pytest.mark.parametrize("columns", [40, 80, 120])
def test_the_screen_of_a_short_conversation(tmp_path: Path, columns: int) -> None:
    talk = Screen(tmp_path, columns)
    talk.until("\n>")
    talk.send("3 lb at 80/20\r")
    talk.until("type more")
    talk.send("more\r")
    talk.until("Wash your hands")
    talk.send("nonsense\r")
    talk.until("did not understand")
    kept = KEPT / f"blend_{columns}.txt"
    if os.environ.get("UPDATE_SCREENS"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(talk.text() + "\n", encoding="utf-8")
    assert talk.text() + "\n" == kept.read_text(encoding="utf-8")
    talk.send("\x04")
    assert talk.end() == 0
