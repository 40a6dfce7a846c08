"""The cheapest whole packs for a batch: what to buy, what it costs, and what is left over."""

from __future__ import annotations

from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.packs import reading
from assistant.topics.packs.request import Packs

_PASSED = frozenset(
    (
        "pack",
        "want",
        "have",
        "what",
        "how_much",
        "how_many",
        "buy",
        "cheapest",
        "cost",
        "mix",
        "into",
        "out_of",
        "total",
    )
    + ("this", "shop_price", "works_out", "yes", "hello", "thanks", "correction", "bowl", "for_that", "worth")
    + ("make_it", "what_about", "nothing_else", "new_batch", "plenty", "equals", "budget")
)


class PacksTopic:
    """The topic of whole packs."""

    name = reading.NAME
    examples = ("round comes in 2 lb packs at $9, suet in 1 lb packs at $3, need 5 lb at 80/20",)
    passes = _PASSED

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Packs with their prices, or the reply to what was asked back about them."""
        return reading.reply(sentence, talk) or reading.offered(sentence, talk) or reading.amended(sentence, talk)

    def answer(self, request: Packs, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The packs to buy; asks for the batch, its lean to fat, a weight or a price that is missing."""
        from assistant.topics.packs import answers

        return answers.answer(request, kitchen)


TOPIC = PacksTopic()
