"""Whole screens of conversations at 40, 80 and 120 columns, against those kept beside this file.

One conversation is with fixed answers, so that only the screen is looked at; the others are with the real program,
its clock held. UPDATE_SCREENS=1 writes them anew; look at the difference before keeping it.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from tests.terminal.programs import STILL, Screen

KEPT = Path(__file__).parent / "screens"
WIDTHS = (40, 80, 120)

CONVERSATIONS = {
    "batch": (
        ("3 lb at 80/20 from brisket trim and round", "type more"),
        ("more", "Typical figures"),
        ("why", "Square:"),
        ("make it 5 lb", "2 lb to 3 lb at a time"),
    ),
    "walk": (
        ("2 kg at 80/20 from chuck and suet into 150 g patties", "air dry"),
        ("walk me through it", "What do you grind with"),
        ("no grinder, just a food processor", "Step 1 of"),
        ("next", "Step 2 of"),
        ("next", "Shall I set a timer"),
        ("yes", "at the latest"),
        ("is 145 F enough for burgers?", "not enough"),
        ("where was I", "Shall I set a timer"),
    ),
    "clocks": (
        ("15 minutes for the cubes", "until 1:30 pm"),
        ("25 min for the rest", "until 1:40 pm"),
        ("meat's out", "back in the fridge by"),
        ("pause the rest", "paused"),
        ("how long left", "must"),
        ("my kitchen", "a tablespoon"),
    ),
}


def kept_or_same(name: str, shown: str) -> None:
    """Compare a screen with the one that is kept, or keep it; the empty part above the toolbar is left out."""
    shown = re.sub(r"\n{3,}", "\n\n", shown)
    kept = KEPT / f"{name}.txt"
    if os.environ.get("UPDATE_SCREENS"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(shown + "\n", encoding="utf-8")
    assert shown + "\n" == kept.read_text(encoding="utf-8")


@pytest.mark.parametrize("columns", WIDTHS)
def test_the_screen_of_a_short_conversation(tmp_path: Path, columns: int) -> None:
    talk = Screen(tmp_path, columns)
    talk.until("\n>")
    talk.send("3 lb at 80/20\r")
    talk.until("type more")
    talk.send("more\r")
    talk.until("Wash your hands")
    talk.send("nonsense\r")
    talk.until("did not understand")
    kept_or_same(f"blend_{columns}", talk.text())
    talk.send("\x04")
    assert talk.end() == 0


@pytest.mark.parametrize("columns", WIDTHS)
@pytest.mark.parametrize("name", CONVERSATIONS)
def test_the_screens_of_the_real_program(tmp_path: Path, name: str, columns: int) -> None:
    talk = Screen(tmp_path, columns, program=STILL, rows=150)
    talk.until("\n>")
    for line, answered in CONVERSATIONS[name]:
        talk.send(line + "\r")
        talk.until(answered)
        talk.until("\n>")
    kept_or_same(f"{name}_{columns}", talk.text())
    talk.send("\x04")
    assert talk.end() == 0
