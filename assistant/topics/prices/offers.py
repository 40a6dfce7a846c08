"""Meats with prices, as a line lists them: which name, fat, weight, price and loss belong together."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Bound, Count, CutName, Fatness, Measure, Patties, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern

_OR = Pattern(r"\bor\b", re.IGNORECASE)
_PACK = Pattern(r"\s*(?:pack|packet|bag|tray|box|tub|roll|chub)s?\b", re.IGNORECASE)
TO_THE_CENT = Pattern(r"[0-9]+[.,][0-9][0-9]")
"""A bare figure as prices are written: 4.99."""
_LOST_AFTER = Pattern(
    r"^\s*(?:of\s+(?:it\s+)?|in\s+|is\s+|gets\s+|to\s+|goes\s+(?:to|in)\s+)*(?:the\s+)?(?:bin\b|binned|thrown|tossed|bone|trim|loss|lost|waste|gristle|fat\s+trim|sinew|skin|off\b|silver)",
    re.IGNORECASE,
)
_LOST_BEFORE = Pattern(
    r"(?:\blos(?:e|es|ing|t)|\bloss(?:\s+(?:of|is))?|\btrim(?:ming)?(?:\s+(?:of|is|loss))?|\bbones?(?:\s+(?:of|is))?|\bwaste(?:\s+of)?)\s*$",
    re.IGNORECASE,
)
_ONLY_LOST = frozenset(("trim", "trimmings", "fat trim", "skin", "bone", "fat", "trimming"))
_READY = Pattern(r"\b(?:mince|minced|ground|mix|blend)\b", re.IGNORECASE)


class Offer(Struct, frozen=True):
    """One meat with what was said of it. fat: its own figure, percent; lost: percent of it that is bone and trim;
    price: money for `per`; shop: ground meat that is bought as it is.
    """

    name: str = ""
    keys: tuple[str, ...] = ()
    fat: Fraction | None = None
    weight: Measure | None = None
    bound: Bound = Bound.IS
    price: Fraction | None = None
    currency: str = ""
    per: Measure | None = None
    lost: Fraction = Fraction(0)
    shop: bool = False

    @property
    def per_gram(self) -> Fraction | None:
        """Money per gram as bought; None without a price for a weight."""
        if self.price is None or self.per is None or self.per.value <= 0 or units.kind(self.per.unit) != "mass":
            return None
        return self.price / units.grams(self.per.value, self.per.unit)

    @property
    def grams(self) -> Fraction | None:
        """Grams that go in, None where not said."""
        return None if self.weight is None else units.grams(self.weight.value, self.weight.unit)


class Listed(Struct, frozen=True):
    """The meats of a line in order, the weight of a batch that stands by itself, and the phrases that were used."""

    offers: tuple[Offer, ...]
    batch: Measure | None
    used: frozenset[Phrase]

    @property
    def own(self) -> tuple[Offer, ...]:
        """What is bought as cuts."""
        return tuple(offer for offer in self.offers if not offer.shop)

    @property
    def shop(self) -> Offer | None:
        """What the shop has ground, None without any."""
        return next((offer for offer in self.offers if offer.shop), None)


def listed(sentence: Sentence, skipped: Collection[Phrase] = ()) -> Listed:
    """Every meat that the line names or prices. skipped: phrases that are read elsewhere."""
    groups: list[dict[str, Phrase]] = []
    losses: list[list[Amount]] = []
    used: set[Phrase] = set()
    last, lost_at = 0, -1
    for phrase in sentence.phrases:
        kind = "" if phrase in skipped else _kind(sentence, phrase)
        if not kind:
            continue
        used.add(phrase)
        if kind == "word":
            continue
        if kind == "lost" and groups:
            assert isinstance(phrase, Amount)
            losses[-1].append(phrase)
            last, lost_at = sentence.place(phrase), sentence.place(phrase)
            continue
        again = _again(groups, phrase) if lost_at == last and kind == "name" else None
        if again is not None:
            # "I lose 20% of the round": said of a meat that was named before
            losses[again].append(losses[-1].pop())
            lost_at = -1
            continue
        if not groups or not _goes_on(sentence, groups[-1], kind, last, sentence.place(phrase)):
            groups.append({})
            losses.append([])
        groups[-1][kind] = phrase
        last = sentence.place(phrase)
    offers = [_offer(group, lost, sentence.text) for group, lost in zip(groups, losses, strict=True)]
    batch = next((offer.weight for offer in offers if offer.weight is not None and _is_only_weight(offer)), None)
    named = [offer for offer in offers if not _is_only_weight(offer)]
    return Listed(tuple(_with_units(_merged(named))), batch, frozenset(used))


def _again(groups: Sequence[dict[str, Phrase]], cut: Phrase) -> int | None:
    """Which meat of the list is named once more, if any."""
    assert isinstance(cut, CutName)
    for at, group in enumerate(groups):
        known = group.get("name")
        if isinstance(known, CutName) and known.name == cut.name:
            return at
    return None


def _is_only_weight(offer: Offer) -> bool:
    return not offer.name and not offer.shop and offer.fat is None and offer.price is None


def _kind(sentence: Sentence, phrase: Phrase) -> str:
    """The part of an offer that a phrase is; "word" for one that only goes with a part, "" for neither."""
    if isinstance(phrase, CutName):
        return "word" if _names_a_loss(sentence, phrase) else "name"
    if isinstance(phrase, Amount) and phrase.kind == "percent":
        return "lost" if _is_lost(sentence, phrase) else "fat"
    if isinstance(phrase, Fatness):
        return "fat"
    if isinstance(phrase, Amount) and phrase.kind == "weight":
        return "weight"
    if isinstance(phrase, Rate) and phrase.kind == "money":
        return "price"
    if isinstance(phrase, Amount) and phrase.kind == "money":
        return "price"
    if (
        isinstance(phrase, Count)
        and TO_THE_CENT.fullmatch(phrase.text)
        and (any(r.kind == "money" for r in sentence.of(Rate)) or are_prices(sentence))
    ):
        return "price"
    if isinstance(phrase, Patties) and phrase.count is None and phrase.each is None:
        return "word"
    if not isinstance(phrase, Word) or phrase.kind != "cue":
        return ""
    if phrase.payload == "shop_price":
        return "shop"
    return "ready" if phrase.payload == "mix" and _READY.search(phrase.text) and "ing" not in phrase.text else ""


def are_prices(sentence: Sentence) -> bool:
    """Whether bare figures are prices: "chuck at 4.99 or 80/20 at 5.49": two bare figures to the cent where the cheaper is asked for."""
    cents = [count for count in sentence.of(Count) if TO_THE_CENT.fullmatch(count.text)]
    return len(cents) > 1 and sentence.has("worth", "shop_price", "cheapest")


def _names_a_loss(sentence: Sentence, cut: CutName) -> bool:
    """ "15% trim", "losing 10% in trim": what comes off, not another meat."""
    before = sentence.before(cut)
    return cut.name in _ONLY_LOST and isinstance(before, Amount) and before.kind == "percent"


def _is_lost(sentence: Sentence, amount: Amount) -> bool:
    """ "15% bone", "losing 10%": what comes off. "Brisket trim 35%" is the fat of that cut."""
    if _LOST_AFTER.match(sentence.text[amount.last :]):
        return True
    before = sentence.before(amount)
    if isinstance(before, CutName) and (before.name not in _ONLY_LOST or _is_priced(sentence, amount)):
        return False
    return bool(_LOST_BEFORE.search(sentence.text[: amount.first]))


def _is_priced(sentence: Sentence, figure: Phrase) -> bool:
    """ "trim 50% at $3/lb": with a price behind it, trim is a meat of its own."""
    after = sentence.after(figure)
    if isinstance(after, Word) and after.kind == "at":
        after = sentence.after(after)
    if isinstance(after, Count):
        return TO_THE_CENT.fullmatch(after.text) is not None
    return isinstance(after, Rate | Amount) and after.kind == "money"


def _goes_on(sentence: Sentence, group: dict[str, Phrase], kind: str, last: int, place: int) -> bool:
    """Whether a part is still of the meat before it."""
    between = sentence.phrases[last + 1 : place]
    if kind in group or any(_turns(phrase) for phrase in between):
        return False
    if "price" in group and _OR.search(sentence.text[sentence.phrases[last].last : sentence.phrases[place].first]):
        # "mince at £8 or chuck at £7.50"
        return False
    if kind == "shop":
        # "80/20 from the store", "mince at £6 from the shop"; but "chuck … store" and "own £6, shop £8" are two meats
        return "name" not in group and not any(isinstance(p, Word) and p.kind in ("sep", "join") for p in between)
    if kind == "weight" and "name" in group:
        return not between
    if kind == "price":
        return True
    # "$7.50/kg for 12% mince" goes on after its price; ", round …" begins another
    apart = any(isinstance(phrase, Word) and phrase.kind in ("sep", "join") for phrase in between)
    return not (apart and ("price" in group or (kind in ("name", "weight") and len(group) > 1)))


def _turns(phrase: Phrase) -> bool:
    """ "chuck against 80/20", "chuck vs ground beef": words between two meats."""
    cue = isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload in ("worth", "instead")
    return cue or (isinstance(phrase, Word) and phrase.kind == "unknown")


def _offer(group: dict[str, Phrase], losses: Sequence[Amount], text: str) -> Offer:
    """One meat of the list. A price that stands behind the weight of a pack ("3 lb pack is $12") is for that weight."""
    name, fat, weight, price = (group.get(kind) for kind in ("name", "fat", "weight", "price"))
    offer = Offer(shop="shop" in group, lost=sum((loss.measure.value for loss in losses), Fraction(0)))
    if isinstance(name, CutName):
        offer = replace(offer, name=name.name, keys=name.keys)
    elif "ready" in group and not offer.shop:
        offer = replace(offer, name=group["ready"].text.lower().removeprefix("my ").removeprefix("the "))
    if isinstance(fat, Fatness):
        offer = replace(offer, fat=fat.fat)
    elif isinstance(fat, Amount):
        offer = replace(offer, fat=fat.measure.value)
    if isinstance(weight, Amount):
        offer = replace(offer, weight=weight.measure, bound=weight.bound)
    if isinstance(price, Rate):
        offer = replace(offer, price=price.measure.value, currency=price.measure.unit, per=price.per)
    elif isinstance(price, Amount):
        offer = replace(offer, price=price.measure.value, currency=price.measure.unit)
        if offer.weight is not None and weight is not None and _PACK.match(text[weight.last : price.first]):
            offer = replace(offer, per=offer.weight, weight=None)
    elif isinstance(price, Count):
        offer = replace(offer, price=price.value)
    return offer


def _merged(offers: Sequence[Offer]) -> list[Offer]:
    """Without the bare mention of a meat that is told of elsewhere: "what may chuck cost so that 2 lb chuck …"."""
    told = {offer.name for offer in offers if offer != Offer(offer.name, offer.keys)}
    # "cost per lb of blend" names no meat either
    return [o for o in offers if not (o == Offer(o.name, o.keys) and (o.name in told or not o.keys))]


def _with_units(offers: Sequence[Offer]) -> list[Offer]:
    """A price without a weight is for the weight of the one that has it: "$6.10/lb, store 80/20 is 6.99"."""
    model = next((offer for offer in offers if offer.per is not None), None)
    if model is None:
        priced = [offer for offer in offers if offer.price is not None]
        if len(priced) < 2 or any(offer.weight is not None for offer in offers):
            return list(offers)
        # both are for the same weight, whichever it is: the one that shops of that money sell by
        unit = "kg" if any(offer.currency not in ("", "USD", "CAD") for offer in priced) else "lb"
        model = replace(priced[0], per=Measure(Fraction(1), unit))
    return [
        replace(o, per=model.per, currency=o.currency or model.currency) if o.price is not None and o.per is None else o
        for o in offers
    ]
