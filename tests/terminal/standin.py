"""A conversation with fixed answers, for tests of the screen, and the program run with it in place of the real one."""

from __future__ import annotations

import sys
import time
import types
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from assistant.answer import Answer, Caution, Figure, Role, Status

COOK = Caution("cook_temperature", "Cook it to 160 °F (71 °C) in the middle.", "USDA FSIS")
COLD = Caution("keep_cold", "Keep it at 40 °F (4 °C) or below.", "USDA FSIS")
HANDS = Caution("clean_hands", "Wash your hands after raw meat.", "USDA FSIS")

BLEND = Answer(
    heard="3 lb at 80/20 from brisket trim and round",
    understood="Plan 3 lb at 80% lean / 20% fat from brisket trim and round",
    status=Status.ANSWERED,
    topic="blend",
    headline="15 oz brisket trim and 2 lb 1 oz round.",
    figures=(
        Figure("brisket trim", Role.COMPONENT, 0.93, "lb", fat_percent=45.0, source="typical", shown="15 oz"),
        Figure("round", Role.COMPONENT, 2.07, "lb", fat_percent=8.8, source="typical", shown="2 lb 1 oz"),
        Figure("batch", Role.TOTAL, 3.0, "lb", shown="3 lb"),
        Figure("fat", Role.FAT, 20.0, "%", 16.1, 24.2),
    ),
    steps=("Cut both into 1½ in cubes and chill them until firm.", "Grind coarse, then fine."),
    cautions=(COOK, COLD, HANDS),
    notes=("The fat of both cuts is a typical value; yours may differ.",),
)


def unknown(text: str) -> Answer:
    """The answer to a line that is not understood."""
    return Answer("", Status.NOT_UNDERSTOOD, "not_understood", message=f'I did not understand "{text}".', heard=text)


class StandIn:
    """Answers "3 lb ..." with BLEND; counts what it is asked."""

    def __init__(
        self,
        notebook_path: Path | None = None,
        now: Callable[[], datetime] | None = None,
        settings: dict[str, str] | None = None,
        folder: Path | None = None,
    ) -> None:
        self.notebook_path = notebook_path
        self.now = now
        self.settings = settings or {}
        self.asked: list[str] = []
        self.blend = BLEND
        self.bar = ""
        self.waiting: list[str] = []

    def ask(self, text: str) -> Answer:
        self.asked.append(text)
        if text == "break":
            raise KeyError("a drawer that is not there")
        if text == "slow":
            time.sleep(30)
        if text == "timer":
            self.bar, self.waiting = "rest 4:59", ["Timer: rest is done."]
        if text == "count":
            return Answer("", Status.ANSWERED, "count", headline=f"asked {len(self.asked)}", heard=text)
        if text == "units":
            return Answer("", Status.ANSWERED, "units", headline=f"units {self.settings.get('units')}", heard=text)
        if text == "clock":
            moment = self.now() if self.now else None
            return Answer("", Status.ANSWERED, "clock", headline=f"it is {moment:%Y-%m-%d %H:%M}", heard=text)
        return self.blend if text.startswith("3 lb") else unknown(text)

    def suggest(self, before: str) -> list[str]:
        return [word for word in ("chuck", "brisket", "round") if word.startswith(before.rsplit(" ", 1)[-1])]

    def toolbar(self) -> str:
        return self.bar

    def announcements(self) -> list[str]:
        waiting, self.waiting = self.waiting, []
        return waiting


def put_in_place() -> None:
    """From now on the program finds this conversation where the real one would be."""
    module = types.ModuleType("assistant.session")
    module.Conversation = StandIn  # type: ignore[attr-defined]
    sys.modules["assistant.session"] = module


def main() -> int:
    """The program, with this conversation."""
    put_in_place()
    from assistant import cli

    return cli.main()


if __name__ == "__main__":
    sys.exit(main())
