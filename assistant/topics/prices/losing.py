"""Priced cuts that each lose some of their weight: a batch whose price is that of the part that can be eaten.

It only reads: the batch goes to the plan's own topic, which works it out and carries it on.
"""

from __future__ import annotations

from fractions import Fraction

from assistant.language.phrases import Amount, Bound, Fatness, Measure, Per, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics import heard
from assistant.topics.plan.request import Item, Loss, Plan, Price
from assistant.topics.prices.offers import Offer, listed

_BOUNDS = {Bound.MOST: Bound.MOST, Bound.LEAST: Bound.LEAST, Bound.ONLY: "have"}


def batch(sentence: Sentence) -> tuple[Plan, frozenset[Phrase]] | None:
    """Several priced cuts, at least one with a loss of its own, as a plan; None for anything else."""
    wanted = _wanted(sentence)
    skipped = heard.all_of(wanted or ())
    found = listed(sentence, skipped)
    offers = found.offers
    if len(offers) < 2 or found.shop is not None or any(offer.per_gram is None or not offer.name for offer in offers):
        return None
    if not any(offer.lost for offer in offers) or len({offer.name for offer in offers}) < len(offers):
        return None
    weight = wanted[0].measure if wanted is not None else found.batch
    weighed = all(offer.weight is not None for offer in offers)
    if wanted is None and not weighed:
        return None
    cheapest = sentence.has("cheapest")
    plan = Plan(
        items=tuple(_item(offer) for offer in offers),
        batch=weight,
        target=None if wanted is None else _percent(wanted[1]),
        target_is=Bound.IS if wanted is None else wanted[1].bound,
        wish="cheapest" if cheapest else "",
        losses=tuple(Loss("trim", Measure(offer.lost, "percent"), offer.name) for offer in offers if offer.lost),
        asks=frozenset({"cost"}),
        per=next((phrase.per for phrase in sentence.of(Per)), None),
    )
    return plan, found.used | skipped | frozenset(sentence.of(Per))


def _item(offer: Offer) -> Item:
    assert offer.price is not None
    return Item(
        offer.name,
        offer.keys,
        fat=offer.fat,
        weight=offer.weight,
        weight_is=_BOUNDS.get(offer.bound, "is"),
        price=Price(offer.price, offer.currency, offer.per),
    )


def _percent(said: Fatness | Amount) -> Fraction:
    return said.fat if isinstance(said, Fatness) else said.measure.value


def _wanted(sentence: Sentence) -> tuple[Amount, Fatness | Amount] | None:
    """The weight and the lean to fat of the batch, said together: "5 lb at 80/20", "80/20, 5 lb"."""
    for weight in (a for a in sentence.of(Amount) if a.kind == "weight"):
        for fat in sentence.phrases:
            if not (isinstance(fat, Fatness) or (isinstance(fat, Amount) and fat.kind == "percent")):
                continue
            first, last = sorted((sentence.place(weight), sentence.place(fat)))
            between = sentence.phrases[first + 1 : last]
            if all(isinstance(w, Word) and (w.kind in ("at", "of") or w.payload == "mix") for w in between):
                return weight, fat
    return None
