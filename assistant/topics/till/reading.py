"""From a line to a bill: which sum is the price of what, which is the money in hand, which weight is wanted."""

from __future__ import annotations

import re
from fractions import Fraction

from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Measure,
    Patties,
    People,
    Per,
    PerEach,
    Phrase,
    Rate,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Reading
from assistant.topics.till.request import Bill, Priced

PASSED = frozenset(
    ("cost", "what", "how_much", "how_many", "total", "works_out", "want", "have", "mix", "pack", "bowl", "bill", "buy")
    + ("out_of", "this", "shop_price", "budget", "worth", "left_with", "spare", "is_enough", "safe", "everyone", "paid")
    + ("equals", "for_that", "yes", "into", "together", "raw", "unit:each", "convert", "what_about", "thanks", "hello")
    + ("cheapest", "largest", "smaller", "bigger", "charge", "shop", "save_it", "compare", "kitty", "rest", "use_up")
)
"""Cues that mean nothing further beside the figures of a bill."""
_ANOTHERS: tuple[str, ...] = (
    *("charge", "selling", "profit", "lose", "trim_loss", "bone", "usable", "good_part", "cooked", "fee"),
    *(
        "seconds",
        "fewer",
        "half_of_them",
        "double",
        "halve",
        "in_grinder",
        "not",
        "spare",
        "bun",
        "too_fat",
        "too_lean",
    ),
)
"""Cues of what no bill takes into account: whoever reads them has the better claim, or the line is asked about."""
_PURSE = Pattern(
    r"\b(?:budget|kitty|enough|cover|will|would|have|ive|i've|we've|got|spend|afford|buys?|change from|float|raised)\b",
    re.IGNORECASE,
)
_IN_ALL = Pattern(r"\s*,?\s*(?:in total|altogether|all in|in all|all told|for the lot|the lot|total)\b", re.IGNORECASE)
_MOST_EACH = 6
_UP = Pattern(r"\b(?:up|rises?|rose|risen|dearer|increas\w*|vat|tax|gst|surcharge|on top|tip)\b", re.IGNORECASE)
_OFF = Pattern(r"\b(?:off|discount|less|down|cheaper|knock\w*|reduc\w*|drop\w*|falls?|fell|rebate)\b", re.IGNORECASE)
_FOR = Pattern(r"\b(?:for|costs?|is|was|are|at|=|comes? to|came to|sells? for|go(?:es)? for)\b|@", re.IGNORECASE)
_HOW_BIG = Pattern(r"\b(?:how\s+(?:heavy|big|large)|size|weight|weigh)\b", re.IGNORECASE)
_SAVES = Pattern(r"\b(?:sav(?:e|es|ing)|diff|difference|dearer|extra cost)\b", re.IGNORECASE)
_BARE_UNIT = {"g": "kg", "kg": "kg", "oz": "lb", "lb": "lb"}
_NEAR = 3
"""Phrases that may stand between a sum and the weight that it is for."""


def read(sentence: Sentence) -> Reading | None:
    """A bill, or None where the line has figures that no bill has, or too little for one."""
    reader = _Reader(sentence)
    bill = reader.bill() if reader.is_a_bill() else None
    return None if bill is None else Reading(bill, frozenset(reader.used), _strength(bill, sentence))


def _strength(bill: Bill, sentence: Sentence) -> int:
    """Surer than a batch where only a bill has the question: how big a burger the money allows, what one cut saves."""
    sized = bill.purse is not None and bool(bill.heads) and bill.weight is None and _HOW_BIG.search(sentence.text)
    saved = len(bill.prices) == 2 and _SAVES.search(sentence.text) and not sentence.has("shop_price")
    return 3 if sized else 2 if saved or bill.change is not None else 0


class _Reader:
    """The figures of one line, sorted into those of a bill."""

    def __init__(self, sentence: Sentence) -> None:
        self.sentence = sentence
        self.phrases = sentence.phrases
        amounts = sentence.of(Amount)
        self.rates = [rate for rate in sentence.of(Rate) if rate.kind == "money"]
        self.weights = [amount for amount in amounts if amount.kind == "weight"]
        self.percents = [amount for amount in amounts if amount.kind == "percent"]
        self.sums: list[Amount | PerEach] = [amount for amount in amounts if amount.kind == "money"]
        self.sums += [each for each in sentence.of(PerEach) if each.kind == "money"]
        self.sums.sort(key=lambda one: one.first)
        self.used: set[Phrase] = set()

    def is_a_bill(self) -> bool:
        """Whether every figure of the line is money, a weight, people, packs or one percent of change."""
        known = {*self.rates, *self.weights, *self.percents, *self.sums}
        others = [p for p in self.phrases if not isinstance(p, Word) and p not in known]
        if self.sentence.has(*_ANOTHERS):
            return False
        plain = all(isinstance(p, People | CutName | Per) or self._is_small(p) for p in others)
        return bool(self.rates or self.sums) and plain and len(self.percents) <= 1

    def _is_small(self, phrase: Phrase) -> bool:
        """A count of packs, or of burgers for each of the people."""
        if isinstance(phrase, Count):
            return (
                phrase.value.denominator == 1
                and not phrase.piece
                and not phrase.proportion
                and self._counts_packs(phrase)
            )
        if isinstance(phrase, Patties):
            few = phrase.count is not None and phrase.count.value <= _MOST_EACH and bool(self.sentence.of(People))
            return phrase.each is None and (phrase.count is None or few)
        return isinstance(phrase, PerEach) and phrase.kind == "count"

    def bill(self) -> Bill | None:
        """The bill as far as the line says it all."""
        prices = [Priced(rate.measure, rate.per, name=self._named(rate)) for rate in self.rates]
        self.used.update(self.rates)
        wanted = list(self.weights)
        packs = next((count for count in self.sentence.of(Count)), None)
        for money in list(self.sums):
            tied = None if self.rates else self._priced(money, packs)
            if tied is None:
                continue
            price, weight = tied
            prices.append(price)
            self.used.add(money)
            if price.pack or not price.assumed:
                self.used.add(weight)
                wanted = [one for one in wanted if one is not weight]
            self.sums.remove(money)
        purse = self._purse()
        change = self._change()
        if len(wanted) > 1 or not prices or len(self.sums) > (purse is not None) or (self.percents and change is None):
            return None
        found = Bill(
            tuple(prices),
            weight=wanted[0].measure if wanted else self._all_of_it(prices),
            packs=packs.value if packs is not None else None,
            change=change,
            purse=purse,
            heads=self._heads(),
            each=self._each(),
            per=self._asked_unit(),
        )
        self.used.update([*wanted, *self.percents, *self.sentence.of(CutName), *self.sentence.of(Per), *self.sums])
        self.used.update([*self.sentence.of(People), *self.sentence.of(Count), *self.sentence.of(Patties)])
        self.used.update([*self.sentence.of(PerEach), *self.sentence.words("pereach")])
        return found if _is_enough(found) else None

    # ---- prices

    def _priced(self, money: Amount | PerEach, packs: Count | None) -> tuple[Priced, Amount] | None:
        """The weight that a sum is for: "500 g packs at £4.25", "half a kilo costs £4.20", "16 kg at £7.95"."""
        free = [weight for weight in self.weights if weight not in self.used]
        near = [weight for weight in free if self._between(weight, money) is not None]
        near.sort(key=lambda weight: self._away(weight, money))
        packs_free = [weight for weight in free if self._is_pack(weight)]
        packs_free.sort(key=lambda weight: self._away(weight, money))
        pack = packs_free[0] if packs_free else None
        if pack is not None and (
            isinstance(money, PerEach) or packs is not None or money is self.sums[0] or self._between_packs(pack, money)
        ):
            whole = packs is not None and isinstance(money, Amount) and "each" not in money.text
            price = money.measure
            if whole and packs is not None and packs.value > 0:
                price = Measure(price.value / packs.value, price.unit)
            return Priced(price, pack.measure, pack=True), pack
        if isinstance(money, PerEach) or money.bound is not Bound.IS or not near:
            return None
        weight = near[0]
        between = self._between(weight, money) or ""
        whole = _IN_ALL.match(self.sentence.text[money.last :]) is not None or self._asked_unit() is not None
        told_at = weight.first < money.first and re.search(r"\bat\b|@", between) is not None
        if told_at and not whole and weight.measure.unit in _BARE_UNIT:
            per = Measure(Fraction(1), _BARE_UNIT[weight.measure.unit])
            return Priced(money.measure, per, assumed=weight.measure != per), weight
        return Priced(money.measure, weight.measure), weight

    def _between(self, weight: Amount, money: Phrase) -> str | None:
        """The words from a weight to its sum, or None where something parts the two."""
        first, last = sorted((self.sentence.place(weight), self.sentence.place(money)))
        between = self.phrases[first + 1 : last]
        text = self.sentence.text[self.phrases[first].last : self.phrases[last].first].lower()
        parted = any(isinstance(p, Word) and (p.kind == "sep" or p.payload in ("how_much", "want")) for p in between)
        if len(between) > _NEAR or parted or not _FOR.search(text):
            return None
        return text

    def _away(self, weight: Amount, money: Phrase) -> float:
        """How far a weight stands from a sum; one that comes after it is farther."""
        steps = self.sentence.place(money) - self.sentence.place(weight)
        return steps if steps > 0 else _NEAR - steps

    def _between_packs(self, pack: Amount, money: Phrase) -> bool:
        """ "400 g pack £3.80": only the word for it between a pack and its price."""
        return 0 < self.sentence.place(money) - self.sentence.place(pack) <= _NEAR

    def _is_pack(self, weight: Amount) -> bool:
        return any(self._is_pack_word(self.sentence.place(weight) + step) for step in (1, -1)) or self._in_each(weight)

    def _in_each(self, weight: Amount) -> bool:
        """ "each pack holding 1.25 lb"."""
        place = self.sentence.place(weight)
        return any(self._is_pack_word(at) for at in range(max(0, place - 3), place)) and "each" in self.sentence.text

    def _is_pack_word(self, place: int) -> bool:
        word = self.phrases[place] if 0 <= place < len(self.phrases) else None
        if not isinstance(word, Word) or word.kind != "cue":
            return False
        return word.payload == "pack" or (word.payload == "bowl" and word.text.lower().startswith("tray"))

    def _counts_packs(self, count: Count) -> bool:
        return self._is_pack_word(self.sentence.place(count) + 1)

    def _named(self, rate: Rate) -> str:
        """The cut that a price stands beside."""
        before = self.sentence.before(rate)
        while isinstance(before, Word) and before.kind in ("at", "sep", "cue") and before.text not in (".", "or"):
            before = self.sentence.before(before)
        return before.name if isinstance(before, CutName) else ""

    def _all_of_it(self, prices: list[Priced]) -> Measure | None:
        """ "12 kg at £84 altogether, 40 people": what the sum was for is what is shared out."""
        alone = len(prices) == 1 and not prices[0].pack and not self.rates and bool(self.sentence.of(People))
        return prices[0].per if alone else None

    # ---- what else

    def _purse(self) -> Measure | None:
        """The one sum that is no price: the money there is."""
        if not _PURSE.search(self.sentence.text):
            return None
        left = [money for money in self.sums if isinstance(money, Amount)]
        return left[0].measure if len(left) == 1 and len(self.sums) == 1 else None

    def _change(self) -> Fraction | None:
        """ "goes up 8%", "knocks off 12%", "plus 20% VAT": by the words around the percent."""
        if not self.percents:
            return None
        percent = self.percents[0]
        around = self.sentence.text[max(0, percent.first - 24) : percent.last + 16]
        up, off = _UP.search(around) is not None, _OFF.search(around) is not None
        if up == off:
            return None
        self.used.update(word for word in self.sentence.unknown if (_UP if up else _OFF).search(word.text))
        return percent.measure.value if up else -percent.measure.value

    def _heads(self) -> Fraction | None:
        counts = [people.count.value for people in self.sentence.of(People) if people.count is not None]
        return sum(counts, Fraction(0)) or None

    def _each(self) -> Fraction:
        burgers = [p.count.value for p in self.sentence.of(Patties) if p.count is not None]
        burgers += [p.measure.value for p in self.sentence.of(PerEach) if p.kind == "count"]
        return burgers[0] if len(burgers) == 1 and burgers[0] > 0 else Fraction(1)

    def _asked_unit(self) -> Measure | None:
        """ "what's that a kilo?"."""
        said = [per.per for per in self.sentence.of(Per)]
        said += [Measure(Fraction(1), cue[5:]) for cue in self.sentence.cues if cue in ("unit:kg", "unit:lb")]
        return said[0] if len(said) == 1 else None


def _is_enough(bill: Bill) -> bool:
    """Whether something can be worked out of it."""
    if len(bill.prices) > 2 or (len(bill.prices) == 2 and (bill.purse is not None or bill.heads is not None)):
        return False
    if len(bill.prices) == 2 and bill.weight is None:
        return not any(price.assumed for price in bill.prices) and len({price.pack for price in bill.prices}) == 1
    price = bill.prices[0]
    asked = bill.per is not None
    return bill.weight is not None or bill.purse is not None or asked or (price.pack and bill.packs is not None)
