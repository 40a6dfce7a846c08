"""From a line to packs: which size, price and cut belong together, and which weight and fat are the batch's."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, wording
from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Measure,
    Parts,
    Patties,
    Per,
    PerEach,
    Phrase,
    Rate,
    Scale,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.topics import heard
from assistant.topics.base import Reading, Talk, pending_for
from assistant.topics.packs.request import Offer, Packs
from assistant.topics.plan.request import Plan

NAME = "packs"


def offered(sentence: Sentence, talk: Talk) -> Reading | None:
    sizes = [a for a in sentence.of(Amount) if a.kind == "weight" and _is_of_a_pack(sentence, a)]
    money = [p for p in sentence.phrases if isinstance(p, Amount | PerEach) and p.kind == "money"]
    bare = [c for c in sentence.of(Count) if sizes and _is_a_bare_price(sentence, c)]
    rates = [rate for rate in sentence.of(Rate) if rate.kind == "money"]
    if not (money or bare or rates) or not any(_is_pack(word) for word in sentence.words("cue")):
        return None
    if len(rates) < len(sentence.of(Rate)) or any(
        isinstance(p, Per | Patties | Parts | Scale) for p in sentence.phrases
    ):
        return None
    batch, target = _batch_and_target(sentence, sizes)
    offers, have, used = _grouped(sentence, batch, target)
    if not any(offer.cut for offer in offers) or not any(offer.size for offer in offers):
        return None
    table = talk.plan if isinstance(talk.plan, Plan) else Plan()
    fat, fat_is = (table.target, table.target_is) if target is None else (_percent(target), target.bound)
    request = Packs(offers, batch.measure if batch is not None else table.batch, fat, fat_is, have)
    return Reading(request, used | heard.all_of([batch, target]) | _plain(sentence), 2)


def _is_pack(word: Phrase | None) -> bool:
    """A word for a pack; a tray is one here, and so is no grill that "takes 20 at a time"."""
    if not isinstance(word, Word) or word.kind != "cue":
        return False
    return word.payload == "pack" or (word.payload == "bowl" and word.text.lower().startswith("tray"))


def _is_pack_price(sentence: Sentence, rate: Rate) -> bool:
    """ "$9 per 2 lb pack", "$9 for a 2 lb pack of round": the price of the pack, not of so much meat."""
    return rate.kind == "money" and _is_pack(sentence.after(rate))


def _percent(said: Fatness | Amount) -> Fraction:
    return said.fat if isinstance(said, Fatness) else said.measure.value


def _plain(sentence: Sentence) -> frozenset[Phrase]:
    """Unknown words in a list of prices ("sold", "the") name no food where every cut is known."""
    return frozenset(
        w for kind in ("species", "bound") for w in sentence.words(kind) if w.payload in ("about", "only", "exactly")
    )


def _is_of_a_pack(sentence: Sentence, amount: Amount) -> bool:
    """ "2 lb packs", "packs of 2 lb", "a 2 lb tray", "comes in 2 lb"."""
    before = sentence.before(amount)
    if isinstance(before, Word) and before.kind == "of":
        before = sentence.before(before)
    # "how many packs for 5 lb" asks what the batch takes
    said_of = before is not None and "for" not in sentence.text[before.last : amount.first].lower().split()
    return _is_pack(sentence.after(amount)) or (said_of and _is_pack(before))


def _is_a_bare_price(sentence: Sentence, count: Count) -> bool:
    """ "2 lb packs at 9": the money's name left out, straight after the pack."""
    at = sentence.before(count)
    return isinstance(at, Word) and at.kind == "at" and _is_pack(sentence.before(at)) and not count.proportion


def _batch_and_target(sentence: Sentence, sizes: Sequence[Amount]) -> tuple[Amount | None, Fatness | Amount | None]:
    """The weight and lean to fat that are wanted: beside each other, or after "need", "make", "for"."""
    free = [a for a in sentence.of(Amount) if a.kind == "weight" and a not in sizes]
    fats: list[Fatness | Amount] = [p for p in sentence.phrases if isinstance(p, Fatness) or _is_share(p)]  # type: ignore[misc]
    for fat in fats:
        near = [a for a in free if _beside(sentence, a, fat)]
        if near and not isinstance(sentence.after(fat), CutName):
            return near[0], fat
    wanted = [a for a in free if _is_wanted(sentence, a)]
    batch = wanted[0] if len(wanted) == 1 else None
    ratios = [fat for fat in fats if _is_ratio(fat) or fat.bound is not Bound.IS or _is_wanted(sentence, fat)]
    return batch, ratios[0] if len(ratios) == 1 else None


def _is_share(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind == "percent"


def _is_ratio(phrase: Phrase) -> bool:
    return isinstance(phrase, Fatness) and phrase.ratio


def _beside(sentence: Sentence, amount: Amount, fat: Phrase) -> bool:
    """Whether only small words stand between the two."""
    first, last = sorted((sentence.place(amount), sentence.place(fat)))
    between = sentence.phrases[first + 1 : last]
    return all(
        isinstance(p, Word) and (p.kind in ("at", "of", "sep", "join") or p.payload == "mix") and p.payload != "."
        for p in between
    )


def _is_wanted(sentence: Sentence, phrase: Phrase) -> bool:
    before = sentence.text[: phrase.first].lower().replace("'", "").rstrip()
    word = sentence.before(phrase)
    cue = isinstance(word, Word) and word.payload in ("want", "into", "make_it", "largest", "buy")
    return (
        cue or before.endswith((" for", " need", " make", " want", " to make", "for:", "need about")) or before == "for"
    )


class _Group(Struct):
    """One pack while it is read: what was said of it, and where its last word stands."""

    said: dict[str, Phrase] = {}
    last: int = 0

    def takes(self, kind: str, apart: bool) -> bool:
        """Whether a word of this kind is still of this pack. apart: a comma or an "and" stands before it."""
        if kind in self.said or kind == "have":
            return False
        complete = {"size", "price"} <= set(self.said)
        return not complete or (kind == "cut" and not apart) or kind == "most"


def _grouped(
    sentence: Sentence, batch: Amount | None, target: Fatness | Amount | None
) -> tuple[tuple[Offer, ...], tuple[Offer, ...], frozenset[Phrase]]:
    """The packs in the order in which they were said, each a cut, a weight and a price, in any order among the three;
    what is there already; and the phrases that were used.
    """
    groups: list[_Group] = []
    used: set[Phrase] = set()
    for kind, phrase in _tokens(sentence):
        if phrase in (batch, target):
            continue
        place = sentence.place(phrase)
        apart = bool(groups) and any(
            isinstance(p, Word) and p.kind in ("sep", "join") for p in sentence.phrases[groups[-1].last : place]
        )
        if not groups or not groups[-1].takes(kind, apart):
            groups.append(_Group())
        groups[-1].said[kind], groups[-1].last = phrase, place
        used.add(phrase)
    offers: list[Offer] = []
    have: list[Offer] = []
    for group in groups:
        if set(group.said) == {"have"}:
            continue
        offer = _offer(group.said, offers[-1] if offers else None)
        own = "have" in group.said and offer.price is None and offer.size is not None
        (have if own else offers).append(offer)
    return _told_apart(offers), tuple(have), frozenset(used)


def _told_apart(offers: Sequence[Offer]) -> tuple[Offer, ...]:
    """Packs of one name and several labels get the label into the name: "5% mince" and "20% mince"."""
    labels: dict[str, set[Fraction | None]] = {}
    for offer in offers:
        labels.setdefault(offer.cut, set()).add(offer.fat)

    def named(offer: Offer) -> Offer:
        if len(labels[offer.cut]) < 2 or offer.fat is None:
            return offer
        return replace(offer, cut=f"{wording.percent(offer.fat)} {offer.cut}")

    return tuple(map(named, offers))


def _tokens(sentence: Sentence) -> list[tuple[str, Phrase]]:
    """What packs are made of, in order: ("cut" | "fat" | "size" | "price" | "most" | "have", phrase)."""
    found: list[tuple[str, Phrase]] = []
    for phrase in sentence.phrases:
        if isinstance(phrase, Rate) and _is_pack_price(sentence, phrase):
            found += [("size", phrase), ("price", phrase)]
            continue
        kind = _kind(sentence, phrase)
        if kind:
            found.append((kind, phrase))
    return found


def _kind(sentence: Sentence, phrase: Phrase) -> str:
    if isinstance(phrase, CutName) or _is_chuck(phrase):
        return "cut"
    if isinstance(phrase, Fatness) or _is_share(phrase):
        return "fat"
    if isinstance(phrase, Rate):
        return "price" if phrase.kind == "money" else ""
    if isinstance(phrase, Amount | PerEach) and phrase.kind in ("weight", "money"):
        return "size" if phrase.kind == "weight" else "price"
    if isinstance(phrase, Count):
        if _is_a_bare_price(sentence, phrase):
            return "price"
        whole = phrase.bound in (Bound.MOST, Bound.ONLY) and phrase.value.denominator == 1
        return "most" if whole and _is_pack(sentence.after(phrase)) else ""
    return "have" if isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload == "have" else ""


def _is_chuck(phrase: Phrase | None) -> bool:
    """ "Chuck in 1 kg bags": the cut, although "chuck in" elsewhere means to add."""
    return isinstance(phrase, Word) and phrase.payload == "add" and phrase.text.lower() == "chuck in"


def _offer(group: dict[str, Phrase], before: Offer | None) -> Offer:
    """One pack; a pack without a name is another size of the one before."""
    cut, fat, size, price, most = (group.get(kind) for kind in ("cut", "fat", "size", "price", "most"))
    offer = Offer()
    if isinstance(cut, CutName):
        offer = Offer(cut.name, cut.keys)
    elif cut is not None:
        offer = Offer("chuck", data.cut_names()["chuck"])
    if isinstance(fat, Fatness | Amount):
        offer = replace(offer, fat=_percent(fat))
    if not offer.cut and offer.fat is not None:
        offer = replace(offer, cut=f"{wording.percent(offer.fat)} mince")
    if not offer.cut and before is not None:
        offer = replace(offer, cut=before.cut, keys=before.keys, fat=before.fat)
    if isinstance(size, Rate):
        offer = replace(offer, size=size.per)
    elif isinstance(size, Amount):
        offer = replace(offer, size=size.measure)
    if isinstance(price, Count):
        offer = replace(offer, price=Measure(price.value, ""))
    elif isinstance(price, Amount | PerEach | Rate):
        offer = replace(offer, price=price.measure)
    if isinstance(price, Rate) and price is not size:
        offer = replace(offer, per=price.per)
    return replace(offer, most=int(most.value)) if isinstance(most, Count) else offer


def reply(sentence: Sentence, talk: Talk) -> Reading | None:
    waiting = pending_for(talk, NAME)
    if waiting is None:
        return None
    request: Packs = waiting.request
    weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
    money = [a for a in sentence.phrases if isinstance(a, Amount | PerEach) and a.kind == "money"]
    fats: list[Fatness | Amount] = [*sentence.of(Fatness), *(a for a in sentence.of(Amount) if a.kind == "percent")]
    fat = fats[0] if len(fats) == 1 else None
    new = request
    if waiting.missing in ("batch", "fat") and not money and len(weights) <= 1:
        if weights and request.batch is None:
            new = replace(new, batch=weights[0].measure)
        if fat is not None:
            new = replace(new, fat=_percent(fat), fat_is=fat.bound)
    at = next((i for i, offer in enumerate(request.offers) if offer.price is None or offer.size is None), None)
    if at is not None and waiting.missing == "price" and len(money) == 1 and not weights:
        new = _with(request, at, replace(request.offers[at], price=money[0].measure))
    if at is not None and waiting.missing == "size" and len(weights) == 1 and not money:
        new = _with(request, at, replace(request.offers[at], size=weights[0].measure))
    if waiting.missing.startswith("cut:"):
        new = _chosen(request, waiting.missing[4:], sentence, fat)
    if new == request:
        return None
    return Reading(new, heard.all_of([*weights, *money, fat, *sentence.of(CutName)]), 2)


def _with(request: Packs, at: int, offer: Offer) -> Packs:
    return replace(request, offers=(*request.offers[:at], offer, *request.offers[at + 1 :]))


def _chosen(request: Packs, word: str, sentence: Sentence, fat: Fatness | Amount | None) -> Packs:
    """The cook's choice for an open name: a closer one, or its fat."""
    named = next(iter(sentence.of(CutName)), None)

    def settled(offer: Offer) -> Offer:
        if offer.cut != word:
            return offer
        if fat is not None:
            return replace(offer, fat=_percent(fat))
        return offer if named is None else replace(offer, cut=named.name, keys=named.keys)

    return replace(request, offers=tuple(map(settled, request.offers)), have=tuple(map(settled, request.have)))


def amended(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "make it 8 lb", "and at 75/25?" after packs were worked out: another batch from the same packs."""
    before = talk.last if talk.topic == NAME else None
    if not isinstance(before, Packs) or len(list(sentence.substance())) > 5 or sentence.of(CutName):
        return None
    weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
    fats = sentence.of(Fatness)
    if len(weights) > 1 or len(fats) > 1 or not (weights or fats):
        return None
    new = before
    if weights:
        new = replace(new, batch=weights[0].measure)
    if fats:
        new = replace(new, fat=fats[0].fat, fat_is=fats[0].bound)
    return Reading(new, heard.all_of([*weights, *fats]), 2)
