"""Keeping meat: fridge and freezer, use-by dates, how cold, power cuts, freezing again, leftovers."""

from __future__ import annotations

from assistant.language.sentence import Sentence
from assistant.topics import heard
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.store import again, cold, kept
from assistant.topics.store.again import Label, Refrozen, Reheat
from assistant.topics.store.cold import Cold, Cut
from assistant.topics.store.kept import Kept

Request = Label | Kept | Cold | Refrozen | Cut | Reheat


class StoreTopic:
    """Keeping meat."""

    name = "store"
    examples = ("How long does mince keep in the fridge?", "Ground on Wednesday, ok for Saturday?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question of keeping, a follow-up to one, or the day that was asked for."""
        if sentence.has(*heard.PLANNING) and not sentence.has("fridge", "freezer", "use_by", "power_cut", "refreeze"):
            return None
        return (
            again.read_label(sentence)
            or cold.read_power_cut(sentence)
            or again.read_refreeze(sentence)
            or again.read_reheat(sentence)
            or cold.read_cold(sentence)
            or kept.read(sentence)
            or again.reply_label(sentence, talk)
            or kept.reply(sentence, talk)
        )

    def answer(self, request: Request, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The days, the date or the verdict, from the safety file."""
        if isinstance(request, Label):
            return again.answer_label(request, kitchen)
        if isinstance(request, Cut):
            return cold.answer_power_cut(request, kitchen)
        if isinstance(request, Refrozen):
            return again.answer_refreeze(request, kitchen)
        if isinstance(request, Reheat):
            return again.answer_reheat(request, kitchen)
        if isinstance(request, Cold):
            return cold.answer_cold(request, kitchen)
        return kept.answer(request, kitchen)


TOPIC = StoreTopic()
