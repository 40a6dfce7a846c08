"""Which cautions a screen shows: each once in a conversation, urgent ones every time, the rest kept for "more"."""

from __future__ import annotations

from msgspec.structs import replace

from assistant.answer import Answer, Caution


class Reminders:
    """What has been told in one conversation, and what is held back.

    most: how many cautions one answer may show; None for no limit. An answer itself always carries all of
    its cautions; this only decides what stands on the screen. Urgent ones come first and are never held
    back for having been told before.
    """

    def __init__(self, most: int | None = None) -> None:
        self._most = most
        self._told: set[tuple[str, str]] = set()
        self._held: tuple[Caution, ...] = ()

    @property
    def held(self) -> tuple[Caution, ...]:
        """The cautions of the latest answer that had no room."""
        return self._held

    def pick(self, answer: Answer) -> Answer:
        """The answer with the cautions to show now."""
        wanted = [each for each in answer.cautions if each.urgent or (each.topic, each.text) not in self._told]
        wanted.sort(key=lambda each: not each.urgent)
        most = len(wanted) if self._most is None else self._most
        self._held = tuple(wanted[most:])
        self._tell(wanted[:most])
        return replace(answer, cautions=tuple(wanted[:most]))

    def more(self) -> tuple[Caution, ...]:
        """The cautions held back, which count as told from now on."""
        held, self._held = self._held, ()
        self._tell(held)
        return held

    def _tell(self, cautions: list[Caution] | tuple[Caution, ...]) -> None:
        self._told.update((each.topic, each.text) for each in cautions)
