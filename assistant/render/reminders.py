"""What a screen shows of an answer's reminders, notes and steps: each once in a conversation, the rest for "more".

An answer itself always carries all of them; this only decides what stands on the screen.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from typing import TypeVar

from msgspec.structs import replace

from assistant.answer import Answer, Caution

Told = TypeVar("Told", Caution, str)
SAME_STEPS = "The steps stay the same."


class Reminders:
    """What has been told in one conversation, and what is held back.

    most: how many cautions, and how many notes, one answer may show; None: all of them, every time for notes and
    steps, as where nobody can ask for more. Urgent cautions come first and are never held back for having been told.
    """

    def __init__(self, most: int | None = None) -> None:
        self._most = most
        self._told: set[Hashable] = set()
        self._held: tuple[Caution, ...] = ()
        self._held_notes: tuple[str, ...] = ()
        self._steps: tuple[str, ...] = ()
        self._headline = ""

    @property
    def held(self) -> tuple[Caution, ...]:
        """The cautions of the latest answer that had no room."""
        return self._held

    @property
    def held_notes(self) -> tuple[str, ...]:
        """The notes of the latest answer that had no room."""
        return self._held_notes

    def pick(self, answer: Answer) -> Answer:
        """The answer with what is to be shown now.

        Steps, notes and a reading that stand on the screen already are not read out again, unless the same answer is asked
        for once more: then somebody wants to see it whole.
        """
        wanted = [each for each in answer.cautions if each.urgent or _key(each) not in self._told]
        wanted.sort(key=lambda each: not each.urgent)
        shown, self._held = self._with_room(wanted)
        notes: Sequence[str] = answer.notes
        steps, understood = answer.steps, answer.understood
        if self._most is not None and answer.headline != self._headline:
            notes = [note for note in notes if note not in self._told]
            if steps and steps == self._steps:
                steps, notes = (), [SAME_STEPS, *notes]
            if understood in self._told:
                understood = ""
        notes, self._held_notes = self._with_room(notes)
        if answer.steps:
            self._steps = answer.steps
        self._headline = answer.headline
        self._tell([*map(_key, shown), *notes, answer.understood])
        return replace(answer, cautions=shown, notes=notes, steps=steps, understood=understood)

    def more(self) -> tuple[tuple[Caution, ...], tuple[str, ...]]:
        """The cautions and notes held back, which count as told from now on."""
        held, notes = self._held, self._held_notes
        self._held, self._held_notes = (), ()
        self._tell([*map(_key, held), *notes])
        return held, notes

    def _with_room(self, wanted: Sequence[Told]) -> tuple[tuple[Told, ...], tuple[Told, ...]]:
        most = len(wanted) if self._most is None else self._most
        return tuple(wanted[:most]), tuple(wanted[most:])

    def _tell(self, keys: Iterable[Hashable]) -> None:
        self._told.update(keys)


def _key(caution: Caution) -> Hashable:
    return caution.topic, caution.text
