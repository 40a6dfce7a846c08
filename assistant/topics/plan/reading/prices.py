"""Money: prices of cuts, the shop's price, a budget."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Fatness, Measure, Patties, People, Per, Rate, Word
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.reading.marks import Mention
from assistant.topics.plan.request import Item, Loss, Price

_BOUGHT = frozenset(["for", "was", "were", "is", "paid", "cost", "costs", "came", "to", "=", "equals", "spent"])
"""Words before a sum of money that tie it to all that stands before it."""


class Prices(Figures):
    """The prices."""

    def _find_prices(self) -> None:
        names = [mention.place for mention in self.mentions]
        self._price_now()
        self._bare_prices()
        self._bare_shop_price()
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Rate) and phrase.kind == "money":
                self._give_price(place, Price(phrase.measure.value, phrase.measure.unit, phrase.per), names)
            elif isinstance(phrase, Amount) and phrase.kind == "money":
                self._money(place, phrase, names)
        self._priced_alike()
        self._bare_price_alike()
        self._bare_to_the_cent()
        self._trim_as_loss()

    def _price_the_labels(self) -> None:
        """ "from 73/27 at $3.79/lb and 93/7 at $5.49/lb": a label is a meat of its own only once the fats are given out."""
        names = [mention.place for mention in self.mentions if self.items[mention.item].price is None]
        rates = [place for place in self._places(Rate) if self._free(place)]
        if names and rates and len(names) == len(rates):
            for place, rate in zip(rates, (self.phrases[at] for at in rates), strict=True):
                if isinstance(rate, Rate) and rate.kind == "money":
                    self._give_price(place, Price(rate.measure.value, rate.measure.unit, rate.per), names)

    def _priced_alike(self) -> None:
        """ "round $5.50 a lb, chuck $6, trim $2.50": in a list the weight is said once, with the first price."""
        pers = {item.price.per for item in self.items if item.price is not None and item.price.per is not None}
        first = next((item.price for item in self.items if item.price is not None), None)
        if len(pers) != 1 or first is None or first.per is None:
            return
        for at, item in enumerate(self.items):
            if item.price is not None and item.price.per is None and item.weight is None:
                self._change(at, price=replace(item.price, per=first.per))

    def _bare_price_alike(self) -> None:
        """ "rump 9 quid a kilo, suet 3", "round 8% 5.49/lb, chuck 16% 4.99": once one cut has a price by weight, a bare
        number right after the fat of another cut is its price by the same weight, and so is one right after a cut where
        no fat is said at all."""
        rates = {item.price for item in self.items if item.price is not None and item.price.per is not None}
        fat_said = any(isinstance(p, Fatness) or (isinstance(p, Amount) and p.kind == "percent") for p in self.phrases)
        if len({(rate.currency, rate.per) for rate in rates}) != 1:
            return
        rate = next(iter(rates))
        for mention in self.mentions:
            item, place = self.items[mention.item], mention.place + 1
            if fat_said:
                fat, place = self._at(place), place + 1
                if not (isinstance(fat, Amount) and fat.kind == "percent"):
                    continue
            number = self._at(place)
            bare = isinstance(number, Count) and not number.piece and not number.proportion
            if bare and self._free(place) and item.price is None and (fat_said or item.fat is None):
                assert isinstance(number, Count)
                self._change(mention.item, price=replace(rate, amount=number.value))
                self.used.add(place)

    def _bare_to_the_cent(self) -> None:
        """ "lowest cost, plate 3.49 clod 5.29", "if chuck is 5.49 and suet is 2 a lb": where the line is about money."""
        rates = {item.price for item in self.items if item.price is not None and item.price.per is not None}
        if not (rates or self.sentence.has("cheapest", "cost", "budget", "good_part")):
            return
        for mention in self.mentions:
            place = mention.place + 2 if self._is_word(mention.place + 1, "at") else mention.place + 1
            number, item = self._at(place), self.items[mention.item]
            cents = isinstance(number, Count) and re.fullmatch(r"\d+[.,]\d\d", number.text) is not None
            if not cents or not self._free(place) or item.price is not None:
                continue
            assert isinstance(number, Count)
            alike = (
                next(iter(rates))
                if len({(rate.currency, rate.per) for rate in rates}) == 1
                else Price(number.value, "", None)
            )
            self._change(mention.item, price=replace(alike, amount=number.value))
            self.used.add(place)
            if alike.per is None:
                self.unsaid_prices.add(item.name)
                self._change(
                    mention.item, price=replace(alike, amount=number.value, per=self._unit_priced(place, mention.place))
                )

    def _trim_as_loss(self) -> None:
        """ "chuck at 6.49 a lb with 15% trim": beside a priced cut, trim is what comes off it, not another meat."""
        for mention in list(self.mentions):
            item, percent = self.items[mention.item], self._at(mention.place - 1)
            priced = any(other.price is not None and other is not item for other in self.items)
            if item.name != "trim" or item.price is not None or not priced or self.plan.target is not None:
                continue
            if isinstance(percent, Amount) and percent.kind == "percent" and self._free(mention.place - 1):
                self._set(losses=(*self.plan.losses, Loss("trim", percent.measure)))
                self.used.add(mention.place - 1)
                self._forget(mention)
                return

    def _price_now(self) -> None:
        """ "what if the beef goes up to 5.50": to the cent, and no fat: the price of what was priced before."""
        if not self.sentence.has("what_about", "make_it", "correction") or self.sentence.of(Rate):
            return
        for place in self._places(Count):
            phrase = self.phrases[place]
            owner = self._item_at(place - 1)
            if owner is None or not self._free(place) or not re.fullmatch(r"\d+\.\d\d", phrase.text.split()[-1]):
                continue
            assert isinstance(phrase, Count)
            self._change(owner, price=Price(phrase.value, "", None))
            self.used.add(place)

    def _bare_prices(self) -> None:
        """ "4 lb chuck at 6.99 …, what per lb": numbers to the cent after "at", where a price per weight is asked."""
        per = next((p for p in self.phrases if isinstance(p, Per)), None)
        if per is None or not self.sentence.has("what", "cost", "works_out", "how_much"):
            return
        for place in self._places(Count):
            phrase = self.phrases[place]
            owner = self._item_at(place - 2)
            to_the_cent = re.fullmatch(r"\d+[.,]\d\d", phrase.text)
            if self._free(place) and self._is_word(place - 1, "at") and to_the_cent and owner is not None:
                weight = self._at(place - 3)
                unit = weight.measure.unit if isinstance(weight, Amount) and weight.kind == "weight" else per.per.unit
                assert isinstance(phrase, Count)
                self._change(owner, price=Price(phrase.value, "", Measure(Fraction(1), unit)))
                self.used.add(place)

    def _bare_shop_price(self) -> None:
        """ "my mix is $6.10/lb, store 80/20 is 6.99": the shop's price to the cent, for the weight of the one said."""
        shop = next(iter(self._word_places("cue", "shop_price")), None)
        rate = next((p for p in self.phrases if isinstance(p, Rate) and p.kind == "money"), None)
        if shop is None or rate is None:
            return
        for place in range(shop + 1, min(shop + 4, len(self.phrases))):
            phrase = self.phrases[place]
            if isinstance(phrase, Rate) or self._is_word(place, "sep"):
                return
            if isinstance(phrase, Count) and self._free(place) and re.fullmatch(r"\d+[.,]\d\d", phrase.text):
                self._set(shop=Price(phrase.value, rate.measure.unit, rate.per))
                self.used.update({place, shop})
                if self.target_place is not None and shop < self.target_place < place:
                    # the shop's own label is no wish
                    self._set(target=None)
                return

    def _prices_per(self) -> None:
        """ "per kilo?", "a lb": the unit in which a price is wanted."""
        if any(item.price is not None for item in self.items) or self.plan.shop is not None:
            for place, phrase in enumerate(self.phrases):
                if self._free(place) and isinstance(phrase, Per):
                    self._set(per=phrase.per)
                    self.used.add(place)
        priced = self.sentence.has("cost", "paid", "budget") or self._priced_by_weight()
        alone = all(isinstance(phrase, Word) for phrase in self.phrases)
        for place in range(len(self.phrases)):
            # a share for each guest or patty is always told with a price
            if self._is_word(place, "pereach") and (priced or alone) and self._free(place):
                self._set(heads=True)
                self.used.add(place)

    def _give_price(self, place: int, price: Price, names: list[int]) -> None:
        if self._price_of_a_label(place, price):
            return
        shop = next(iter(self._word_places("cue", "shop_price")), None)
        found = owners.nearest(self.phrases, place, names, before=2, after=0, comma_before=4)
        if (
            shop is not None
            and self.plan.shop is None
            and (not found or owners.barrier(self.phrases, shop, place) <= found[0][0])
        ):
            self._set(shop=price)
            self.used.update({place, shop})
            return
        for distance, name in found:
            item = self._item_at(name)
            if item is not None and distance < 9 and self.items[item].price is None:
                self._change(item, price=price)
                self.used.add(place)
                return
        if self.plan.shop is None and (shop is not None or self.sentence.has("worth")) and self.items:
            self._set(shop=price)
            self.used.add(place)
            return
        if not self.items:
            self.items.append(Item(name="mix", price=price))
            self.mentions.append(Mention(place, len(self.items) - 1))
            self.used.add(place)

    def _price_of_a_label(self, place: int, price: Price) -> bool:
        """ "90VL at $4.10/lb", "73/27 is $3.79": ground meat sold by its label, which the price is said of."""
        at = place - 1
        while self._is_word(at, "at") or self._is_word(at, "cue", "cost", "this"):
            at -= 1
        label = self._at(at)
        alone = at == self.target_place and not self.items and len(self._places(Fatness)) == 1
        if not isinstance(label, Fatness) or not (label.ratio or label.grade) or not (alone or self._free(at)):
            return False
        if alone:
            # "3 lb 80/20 at $4.99/lb": bought as it is
            self._set(target=None)
            self.target_place = None
        weighed = self._at(at - 2 if self._is_word(at - 1, "of") else at - 1)
        weight = weighed.measure if isinstance(weighed, Amount) and weighed.kind == "weight" else None
        self.items.append(Item(name=label.text, fat=label.fat, price=price, weight=weight))
        self.mentions.append(Mention(at, len(self.items) - 1))
        self.used.update({at, place} if weight is None else {at, place, self.phrases.index(weighed)})
        return True

    def _money(self, place: int, phrase: Amount, names: list[int]) -> None:
        if self._is_fee(place, phrase) or self._is_budget(place, phrase, names) or self._is_paid(place, phrase):
            return
        price = Price(phrase.measure.value, phrase.measure.unit, None)
        weight = self._weight_for(place)
        if weight is not None:
            amount = self.phrases[weight]
            assert isinstance(amount, Amount)
            price = replace(price, per=amount.measure)
            owner = next((self._item_at(at) for at in (weight + 1, weight + 2) if self._item_at(at) is not None), None)
            if owner is None and self.items:
                return
            if owner is None:
                self.items.append(Item(name="mix", price=price))
                self.mentions.append(Mention(place, len(self.items) - 1))
                self.used.add(weight)
            elif self.items[owner].price is None:
                self._change(owner, price=price)
            self.used.add(place)
            return
        if self.sentence.has("worth", "shop_price") and any(
            item.price is not None and item.price.per is not None for item in self.items
        ):
            per = next(item.price.per for item in self.items if item.price is not None)
            self._give_price(place, replace(price, per=per), names)
            return
        found = owners.nearest(self.phrases, place, names, before=2, after=0, comma_before=4)
        for distance, name in found:
            item = self._item_at(name)
            if item is not None and distance < 7 and self.items[item].price is None:
                self._change(item, price=replace(price, per=self._unit_priced(place, name)))
                self.used.add(place)
                if not self._says_what_it_buys(place):
                    self.unsaid_prices.add(self.items[item].name)
                return

    def _unit_priced(self, place: int, name: int) -> Measure | None:
        """ "4 lb chuck at $6.99" is a price for each pound; "4 lb chuck for $28" is for the piece (None)."""
        weight = self._at(name - 2 if self._is_word(name - 1, "of") else name - 1)
        if self._is_word(place - 1, "at") and isinstance(weight, Amount) and weight.kind == "weight":
            return Measure(Fraction(1), weight.measure.unit)
        return None

    def _says_what_it_buys(self, place: int) -> bool:
        """Whether a word tells that the money bought the piece ("for $28", "paid", "it was") or each pound of it."""
        gap = self._gap(place - 1, place) | set(self.phrases[place - 1].text.lower().split() if place else ())
        return bool(gap & _BOUGHT) or self._is_word(place - 1, "at") or self.sentence.has("paid", "total")

    def _weight_for(self, place: int) -> int | None:
        """ "£6.50 for half a kilo", "500 g for £4": the weight that a sum of money is for."""
        for beside in (place + 1, place - 1):
            amount = self._at(beside)
            gap = self._gap(min(place, beside), max(place, beside))
            if isinstance(amount, Amount) and amount.kind == "weight" and "for" in gap:
                return beside
        return None

    def _priced_by_weight(self) -> bool:
        return any(isinstance(phrase, Rate) and phrase.kind == "money" for phrase in self.phrases)

    def _is_fee(self, place: int, phrase: Amount) -> bool:
        """ "plus £6 for delivery": money on top of the meat, whatever the meat weighs."""
        named = self._is_word(place + 1, "cue", "fee", "out_shop")
        added = self._is_word(place - 1, "join")
        if not (added and named and self._priced_by_weight()) or self.plan.extra is not None:
            return False
        self._set(extra=phrase.measure)
        self.used.update({place, place + 1})
        return True

    def _is_budget(self, place: int, phrase: Amount, names: list[int]) -> bool:
        said = self.sentence.has("budget") or bool(self._gap(place - 1, place) & {"spend"} and not names)
        had = self._priced_by_weight() and self._is_word(place - 1, "cue", "have")
        first = self._priced_by_weight() and place == 0 and self._is_word(1, "sep")
        sized = any(isinstance(p, Patties) and p.each is not None for p in self.phrases)
        # "how many 4 oz patties for $30 at $6.50 a pound"
        spent = self._priced_by_weight() and sized and not names and "for" in self._gap(place - 1, place)
        if self.plan.budget is not None or not (said or had or first or spent):
            return False
        self._set(budget=phrase.measure)
        self.used.add(place)
        return True

    def _is_paid(self, place: int, phrase: Amount) -> bool:
        """ "mince comes to £186 for 120 guests": what all of it cost, to be shared out."""
        shared = any(isinstance(p, People) or (isinstance(p, Patties) and p.count is not None) for p in self.phrases)
        led = self._is_word(place - 1, "cue", "works_out", "cost", "paid")
        if not (shared and led) or self._priced_by_weight() or self._weight_for(place) is not None:
            return False
        self._set(paid=phrase.measure)
        self.used.add(place)
        self.used.update(at for at in range(len(self.phrases)) if self._is_word(at, "pereach"))
        return True
