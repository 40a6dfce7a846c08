"""What meat is in the kitchen: remembered when told, shown, corrected, and drawn down when a batch was made."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from assistant.answer import Status
from assistant.language.sentence import Sentence
from assistant.notebook import NotebookError
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.stock.items import LITTLE_WORDS
from assistant.topics.stock.reading import read as read_line


class StockTopic(Struct, frozen=True):
    """The topic of the stock."""

    name: str = "stock"
    examples: tuple[str, ...] = (
        "remember I have 2 kg round and 1 kg fat trim",
        "what's in my kitchen?",
        "made it",
        "2 kg at 80/20 from my stock",
    )
    passes: frozenset[str] = LITTLE_WORDS

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A request about the stock."""
        return read_line(sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """What is in stock now."""
        from assistant.topics.stock.answers import DOERS, ends

        try:
            outcome: Outcome = DOERS[type(request)](request, kitchen, talk)
            return outcome
        except NotebookError as fault:
            return ends(Status.IMPOSSIBLE, f"The stock is kept in the notebook, which cannot be used: {fault.problem}.")


TOPIC = StockTopic()
__all__ = ["TOPIC", "StockTopic"]
