"""Money: prices of cuts, the shop's price, a budget."""

from __future__ import annotations

from dataclasses import replace

from assistant.language.phrases import Amount, Per, Rate
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.reading.marks import Mention
from assistant.topics.plan.request import Item, Price


class Prices(Figures):
    """The prices."""

    def _find_prices(self) -> None:
        names = [mention.place for mention in self.mentions]
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Rate) and phrase.kind == "money":
                self._give_price(place, Price(phrase.measure.value, phrase.measure.unit, phrase.per), names)
            elif isinstance(phrase, Amount) and phrase.kind == "money":
                self._money(place, phrase, names)

    def _prices_per(self) -> None:
        """ "per kilo?", "a lb": the unit in which a price is wanted."""
        if any(item.price is not None for item in self.items) or self.plan.shop is not None:
            for place, phrase in enumerate(self.phrases):
                if self._free(place) and isinstance(phrase, Per):
                    self._set(per=phrase.per)
                    self.used.add(place)

    def _give_price(self, place: int, price: Price, names: list[int]) -> None:
        shop = next((p for p in range(len(self.phrases)) if self._is_word(p, "cue", "shop_price")), None)
        found = owners.nearest(self.phrases, place, names, before=2, after=0, comma_before=4)
        if shop is not None and (not found or owners.barrier(self.phrases, shop, place) <= found[0][0]):
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

    def _money(self, place: int, phrase: Amount, names: list[int]) -> None:
        if self.sentence.has("budget") or (self._gap(place - 1, place) & {"spend", "for"} and not names):
            self._set(budget=phrase.measure)
            self.used.add(place)
            return
        price = Price(phrase.measure.value, phrase.measure.unit, None)
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
                self._change(item, price=price)
                self.used.add(place)
                return
