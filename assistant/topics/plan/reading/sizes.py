"""Patties, people, sizes and losses."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Patties,
    People,
    PerEach,
    Phrase,
    Scale,
    SeasoningName,
    Word,
)
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.request import Group, Loss, PattyWish


class Sizes(Figures):
    """Portions and what is lost on the way to them."""

    def _find_losses_and_spare(self) -> None:
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if not self._free(place) or phrase.kind not in ("percent", "weight"):
                continue
            if self._is_spare(place, phrase):
                self._set(spare=phrase.measure.value)
                self.used.add(place)
                continue
            where = self._loss_kind(place, phrase)
            if where:
                self._set(losses=(*self.plan.losses, Loss(where, phrase.measure)))
                self.used.add(place)

    def _is_spare(self, place: int, phrase: Amount) -> bool:
        if phrase.kind != "percent":
            return False
        if self._is_word(place + 1, "cue", "spare", "more", "bigger") or self._is_word(place - 1, "cue", "spare"):
            for near in (place - 1, place + 1):
                if self._is_word(near, "cue", "spare", "more", "bigger"):
                    self.used.add(near)
            return True
        plus = self._is_word(place - 1, "join") and self.sentence.text[self.phrases[place - 1].first] == "+"
        return plus and bool(self.sentence.of(People) or self.sentence.of(Patties))

    def _loss_kind(self, place: int, phrase: Amount) -> str:
        near = None
        for cue_place, word in enumerate(self.phrases):
            if not (isinstance(word, Word) and word.kind == "cue" and word.payload in ("lose", "trim_loss")):
                continue
            between = owners.barrier(self.phrases, cue_place, place)
            if between < 5 and not (phrase.kind == "weight" and cue_place > place and between > 1):
                near = cue_place if near is None or abs(near - place) > abs(cue_place - place) else near
        if near is None:
            return ""
        if phrase.kind == "weight" and self._item_at(place + 1) is not None and near > place:
            return ""
        if self._is_word(place - 1, "cue", "want") or self._is_word(place + 1, "cue", "usable"):
            return ""
        self.used.add(near)
        text = self.sentence.text.lower()
        if "trim" in self.phrases[near].text.lower() and phrase.kind == "percent":
            return "trim"
        around = text[max(0, self.phrases[min(near, place)].first - 40) : self.phrases[max(near, place)].last + 40]
        if phrase.kind == "weight" and "trim" in self.phrases[near].text:
            return "trimmed"
        if any(word in around for word in ("grinder", "mincer", "grinding", "mincing", "head", "keeps back", "stays")):
            return "grinder"
        if any(
            word in around for word in ("barbecue", "grill", "cook", "shrink", "pan", "fry", "bbq", "oven", "smoker")
        ):
            return "cooking"
        return "trim" if phrase.kind == "percent" else "grinder"

    def _find_sizes(self) -> None:
        wish = PattyWish()
        for place in self._places(Patties):
            phrase = self.phrases[place]
            assert isinstance(phrase, Patties)
            self.used.add(place)
            if phrase.count is not None:
                wish = replace(
                    wish, count=phrase.count.value, count_high=phrase.count.high, count_is=phrase.count.bound
                )
            if phrase.each is not None and phrase.each.kind == "weight":
                if phrase.count is None and rough_grams(phrase.each.measure) > 900:
                    # "4 lb burger" is meat for burgers, not one burger of four pounds
                    self._set(batch=phrase.each.measure, batch_is=phrase.each.bound)
                    continue
                wish = replace(wish, size=phrase.each.measure)
            elif phrase.each is not None and phrase.each.kind == "length":
                wish = replace(wish, diameter=phrase.each.measure)
            elif phrase.each is not None:
                self.used.discard(place)
        wish = self._sizes_apart(wish)
        wish = self._count_apart(wish)
        if wish != PattyWish() or (self._places(Patties) and self.plan.batch is None):
            self._set(patties=wish)

    def _sizes_apart(self, wish: PattyWish) -> PattyWish:
        """Sizes that stand apart from the word burger: "into 6 oz", "burgers, 150 g", "@140g", "6 oz each"."""
        for place in self._places(PerEach):
            phrase = self.phrases[place]
            assert isinstance(phrase, PerEach)
            if phrase.kind == "weight":
                wish = replace(wish, size=phrase.measure)
                self.used.add(place)
            elif phrase.kind == "count":
                wish = replace(wish, count=phrase.measure.value)
                self.used.add(place)
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if not self._free(place):
                continue
            if phrase.kind == "length":
                wish = self._length(place, phrase, wish)
            elif phrase.kind == "weight" and wish.size is None and self._looks_like_a_patty(place, phrase, wish):
                wish = replace(wish, size=phrase.measure)
                self.used.add(place)
        if self.sentence.has("cooked") and wish.size is not None:
            wish = replace(wish, cooked=True)
        return wish

    def _looks_like_a_patty(self, place: int, phrase: Amount, wish: PattyWish) -> bool:
        size = rough_grams(phrase.measure)
        if self._is_word(place - 1, "cue", "into") and size < 700 and not isinstance(self._at(place + 1), CutName):
            return size < 400 or self._is_word(place + 1, "cue", "across")
        if self._is_word(place + 1, "cue", "cooked") or (self._is_word(place + 1, "pereach")):
            return size < 700
        owned = self._item_at(place + 1) is not None or (
            self._is_word(place + 1, "of") and self._item_at(place + 2) is not None
        )
        if owned or self._is_word(place + 1, "of"):
            return False
        eaters = bool(self.sentence.of(People) or self.sentence.of(Patties) or self.sentence.of(Scale))
        people_first = eaters and size < 700
        seasoned = isinstance(self._at(place + 1), SeasoningName) or isinstance(self._at(place - 1), SeasoningName)
        after_cut = isinstance(self._at(place - 1), CutName)
        return people_first and not seasoned and not after_cut

    def _length(self, place: int, phrase: Amount, wish: PattyWish) -> PattyWish:
        self.used.add(place)
        for near in (place + 1, place + 2, place - 1):
            if self._is_word(near, "cue", "thick"):
                self.used.add(near)
                return replace(wish, thickness=phrase.measure)
            if self._is_word(near, "cue", "bun"):
                self.used.add(near)
                return replace(wish, bun=phrase.measure)
            if self._is_word(near, "cue", "across"):
                self.used.add(near)
                return replace(wish, diameter=phrase.measure)
        if self.sentence.has("bun"):
            return replace(wish, bun=phrase.measure)
        if self.sentence.has("thick") and wish.thickness is None:
            return replace(wish, thickness=phrase.measure)
        if not (self.sentence.of(Patties) or self.sentence.has("across")):
            self.used.discard(place)
            return wish
        return replace(wish, diameter=phrase.measure)

    def _count_apart(self, wish: PattyWish) -> PattyWish:
        """ "9 of em", "exactly 14", "split into 3", "make 6"."""
        if wish.count is not None:
            return wish
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            if not self._free(place) or phrase.piece or phrase.proportion or phrase.value.denominator != 1:
                continue
            into = self._is_word(place - 1, "cue", "into", "split") or self._is_word(place - 2, "cue", "split")
            of_them = self._is_word(place + 1, "cue", "this") and "of" in self.phrases[place + 1].text
            if into or of_them or (self._is_word(place + 1, "cue", "equal") and self.sentence.has("split", "into")):
                self.used.add(place)
                return replace(wish, count=phrase.value, count_is=phrase.bound)
        return wish

    def _find_people(self) -> None:
        groups: list[Group] = []
        for place in self._places(People):
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            self.used.add(place)
            if phrase.count is None:
                continue
            if self._is_word(place - 1, "cue", "fewer") or self._is_word(place + 1, "cue", "fewer"):
                self.used.update({place - 1, place + 1})
                groups = [replace(group, count=group.count - phrase.count.value) for group in groups[:1]] + groups[1:]
                continue
            groups.append(Group(count=phrase.count.value, sort=phrase.sort))
        for place in self._places(Count):
            phrase = self.phrases[place]
            if self._is_word(place - 1, "cue", "crowd") and self._free(place) and isinstance(phrase, Count):
                self.used.update({place, place - 1})
                groups.append(Group(count=phrase.value))
        if not groups:
            return
        groups = self._each_for(groups)
        self._set(groups=tuple(groups))

    def _each_for(self, groups: list[Group]) -> list[Group]:
        """Patties for each eater, and sizes per group: "70 adults x2 @140g; 30 kids x1 @90g"."""
        places = [p for p in self._places(People) if self.phrases[p].count is not None]  # type: ignore[attr-defined]
        places = places or [0]
        wish = self.plan.patties or PattyWish()
        each, size = wish.count, wish.size
        multi = len(groups) > 1
        for index, place in enumerate(places[: len(groups)]):
            end = places[index + 1] if index + 1 < len(places) else len(self.phrases)
            start = place if multi else 0
            for at in range(start, end):
                phrase = self.phrases[at]
                if isinstance(phrase, Scale):
                    groups[index] = replace(groups[index], each=phrase.factor)
                    self.used.add(at)
                elif multi and isinstance(phrase, Patties | PerEach | Amount):
                    groups[index] = self._one_group(groups[index], phrase, at)
        if multi:
            shared = [replace(g, each=g.each if g.each is not None else each, size=g.size or size) for g in groups]
            self._set(patties=replace(wish, count=None))
            return shared
        per_person = self._per_person(places[0], wish)
        if per_person is not None and groups[0].each is None:
            groups[0] = replace(groups[0], each=per_person)
            self._set(patties=replace(wish, count=None))
        return groups

    def _one_group(self, group: Group, phrase: Phrase, at: int) -> Group:
        if isinstance(phrase, Patties):
            if phrase.count is not None:
                group = replace(group, each=phrase.count.value)
            if phrase.each is not None:
                group = replace(group, size=phrase.each.measure)
        elif isinstance(phrase, PerEach):
            if phrase.kind == "count":
                group = replace(group, each=phrase.measure.value)
            elif phrase.kind == "weight":
                group = replace(group, size=phrase.measure)
        elif isinstance(phrase, Amount) and phrase.kind == "weight" and rough_grams(phrase.measure) < 700:
            group = replace(group, size=phrase.measure)
            self.used.add(at)
        return group

    def _per_person(self, _place: int, wish: PattyWish) -> Fraction | None:
        """ "2 burgers each", "one and a half burgers each", "everyone gets one burger": a count for every eater."""
        if wish.count is None:
            return None
        if any(self._is_word(at, "pereach") for at in range(len(self.phrases))) or self.sentence.has("everyone"):
            for at in range(len(self.phrases)):
                if self._is_word(at, "pereach"):
                    self.used.add(at)
            return wish.count
        if any(isinstance(phrase, PerEach) and phrase.kind == "count" for phrase in self.phrases):
            return wish.count
        return wish.count if wish.count <= 4 and self.plan.groups == () and self.sentence.of(People) else None

    def _seconds(self) -> None:
        if self.sentence.has("seconds"):
            share = Fraction(1, 2)
            for place in self._places(Count):
                phrase = self.phrases[place]
                assert isinstance(phrase, Count)
                if phrase.piece and self._free(place):
                    share = phrase.value
                    self.used.add(place)
            for place in self._places(Amount):
                phrase = self.phrases[place]
                assert isinstance(phrase, Amount)
                if phrase.kind == "percent" and self._free(place):
                    share = phrase.measure.value / 100
                    self.used.add(place)
            self._set(seconds=share)
