"""Patties: how many, how heavy, how wide, how thick."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Fatness,
    Patties,
    People,
    PerEach,
    Scale,
    SeasoningName,
    Word,
)
from assistant.pattern import Pattern
from assistant.topics.plan.reading.lengths import asked_for, lengths_of
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.to_the_kilo import ToTheKilo
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import PattyWish

_BIG_BURGER, _SMALL_BURGER = 250, 55
"""Grams; common practice, no source. "250 g, 4 burgers" may be 250 g each; "1 lb, 4 burgers" is a pound of meat, and
"10 burgers, 12 oz" would be slivers if it were."""
_CALLED_IN_WISH = {"bun": "bun", "thick": "thickness", "across": "diameter"}
_BATCH = 900
"""Grams: a heavier weight is no patty's. Common practice, no source."""
_PATTIES = Pattern(r"\b(?:patties|burgers|sliders)\b", re.IGNORECASE)
_PACKS = Pattern(r"\b(\d{1,3}) (?:\w+ )?(?:packs|packets|bags|trays|boxes)\b", re.IGNORECASE)


class Sizes(ToTheKilo):
    """How big the patties are, and how many."""

    def _find_sizes(self) -> None:
        wish = self.links
        for place in self._places(Patties):
            phrase = self.phrases[place]
            assert isinstance(phrase, Patties)
            if not self._free(place):
                continue
            self.used.add(place)
            if phrase.count is not None:
                wish = replace(
                    wish,
                    count=phrase.count.value * self._lots_of(place),
                    count_high=phrase.count.high,
                    count_is=phrase.count.bound,
                )
            if phrase.each is not None and phrase.each.kind == "weight":
                if phrase.count is None and rough_grams(phrase.each.measure) > 900:
                    # "4 lb burger" is meat for burgers, not one burger of four pounds
                    self._set(batch=phrase.each.measure, batch_is=phrase.each.bound)
                    continue
                wish = replace(wish, size=phrase.each.measure)
                wish = self._counted_before(place, phrase, wish)
            elif phrase.each is not None and phrase.each.kind == "length":
                wish = replace(wish, diameter=phrase.each.measure)
            elif phrase.each is not None:
                self.used.discard(place)
        self._two_sizes()
        wish = self._in_each_pack(wish)
        wish = self._sizes_apart(wish)
        wish = self._count_apart(wish)
        # "how many patties from 5 lb"
        asked = any(_PATTIES.search(word.text) for word in self.sentence.words("cue") if word.payload == "how_many")
        weights = [p for p in self._places(Amount) if self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        asked = asked and any(rough_grams(self.phrases[p].measure) > _BATCH for p in weights)  # type: ignore[attr-defined]
        if wish != PattyWish() or (self._places(Patties) and self.plan.batch is None) or asked:
            self._set(patties=wish)

    def _in_each_pack(self, wish: PattyWish) -> PattyWish:
        """ "5 packs of 2 lb, 6 patties a pack": so many times as many, and each weighs its part of a pack."""
        packs = _PACKS.search(self.sentence.text)
        places = [place for place in self._places(Patties) if self._is_a_pack(place + 1)]
        if packs is None or len(places) != 1 or wish.count is None:
            return wish
        self.used.add(places[0] + 1)
        number = next((p for p in self._places(Count) if self.phrases[p].first == packs.start(1)), None)
        if number is not None:
            self.used.update({number, number + 1})
        many = int(packs.group(1))
        if self.plan.pack is not None and self.plan.batch is None:
            self._set(batch=replace(self.plan.pack, value=self.plan.pack.value * many), pack=None)
        return replace(wish, count=wish.count * many)

    def _is_a_pack(self, place: int) -> bool:
        word = self._at(place)
        return (
            isinstance(word, Word)
            and word.payload == "pack"
            and word.text.lower() in ("a pack", "per pack", "each pack")
        )

    def _two_sizes(self) -> None:
        """ "5 lb, how many quarter pounders and how many third pounders": one size at a time."""
        sizes = [p.each.text for p in self.sentence.of(Patties) if p.count is None and p.each is not None]
        if len(sizes) == 2 and sum(word.payload == "how_many" for word in self.sentence.words("cue")) == 2:
            self._set(question=f"One size at a time, please: {sizes[0]}, or {sizes[1]}?")

    def _counted_before(self, place: int, phrase: Patties, wish: PattyWish) -> PattyWish:
        """ "150 x 120 g burgers", "40 cooked weight 110 g burgers": their number before what is said of them."""
        before = self._at(place - 1)
        if phrase.count is None and isinstance(before, Scale) and self._free(place - 1):
            self.used.add(place - 1)
            return replace(wish, count=before.factor)
        count = whole_count(self._at(place - 2)) if self._is_word(place - 1, "cue", "cooked", "raw") else None
        if phrase.count is None and count is not None and self._free(place - 2):
            self.used.add(place - 2)
            return replace(wish, count=count)
        return wish

    def _lots_of(self, place: int) -> Fraction:
        """ "20 lots of 5 burgers": so many times as many."""
        lots, word = self._at(place - 2), self._at(place - 1)
        several = isinstance(word, Word) and word.text.lower() in ("lots of", "loads of", "batches of", "trays of")
        if not (several and isinstance(lots, Count)):
            return Fraction(1)
        self.used.update((place - 2, place - 1))
        return lots.value

    def _sizes_apart(self, wish: PattyWish) -> PattyWish:
        """Sizes that stand apart from the word burger: "into 6 oz", "burgers, 150 g", "@140g", "6 oz each"."""
        for place in self._places(PerEach):
            phrase = self.phrases[place]
            assert isinstance(phrase, PerEach)
            if not self._free(place) or (phrase.kind == "weight" and self._each_cut(place, phrase)):
                continue
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
            if phrase.kind == "weight" and wish.size is None and self._looks_like_a_patty(place, phrase, wish):
                wish = replace(wish, size=phrase.measure)
                self.used.add(place)
                self.size_places.add(place)
                before = self._at(place - 1)
                if (
                    isinstance(before, Scale)
                    and self._free(place - 1)
                    and before.factor > MOST_EACH
                    and wish.count is None
                ):
                    # "120 x 110 g"
                    wish = replace(wish, count=before.factor)
                    self.used.add(place - 1)
        return self._on_the_plate(self._lengths(wish))

    def _each_cut(self, place: int, phrase: PerEach) -> bool:
        """ "chuck and brisket, 3 lb each": with no patties and nobody to eat them, each is each cut."""
        eaters = bool(self.sentence.of(People)) or bool(self.sentence.of(Patties)) or bool(self.company)
        weighed = any(item.weight is not None for item in self.items)
        if eaters or len(self.items) < 2 or weighed or rough_grams(phrase.measure) <= _BIG_BURGER:
            return False
        for item in self._each_named(place):
            self._change(item, weight=phrase.measure)
        self.used.add(place)
        return True

    def _each_named(self, place: int) -> list[int]:
        """ "2 lb each of chuck and round, half a lb of suet": those that are named before the next weight."""
        weights = [p for p in self._places(Amount) if p > place and self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        led = [m.item for m in self.mentions if m.place > place and m.place < min(weights, default=len(self.phrases))]
        return led if weights and len(led) > 1 else list(range(len(self.items)))

    def _on_the_plate(self, wish: PattyWish) -> PattyWish:
        """Whether "cooked" is said of the figure ("6 oz cooked"), or is what is asked ("what does 6 oz weigh cooked")."""
        cooked = self._word_places("cue", "cooked")
        if not cooked and self.sentence.has("raw"):
            # "4 lb of cooked mince, how much raw": what is wanted, and nothing that was left over
            named = self._word_places("cue", "leftover")
            cooked = [at for at in named if self.phrases[at].text.lower().startswith("cooked ")]
        if not cooked:
            return wish
        figures = [p for p, phrase in enumerate(self.phrases) if isinstance(phrase, Amount | Patties | PerEach)]
        raw = self._word_places("cue", "raw")
        # "4 oz raw" and "raw 4 oz", but not "raw weight for 4 oz cooked"
        raw_figure = any(
            r - f == 1 or (f - r == 1 and not self._gap(r, f) & {"for", "to", "gives"}) for r in raw for f in figures
        )
        beside = any(0 < c - f <= 1 for c in cooked for f in figures)
        asking = ("how_much", "what", "equals", "unit:oz", "unit:g")
        asked = any(self._is_word(at, "cue", *asking) for c in cooked for at in (c - 1, c - 2))
        # "6 oz patty 80/20 cooked weight?": asked at the end, with another figure between
        last = max((p for p in range(len(self.phrases)) if not self._is_word(p, "sep")), default=-1)
        apart = last in cooked and isinstance(self._at(last - 1), Fatness)
        asked = asked or (apart and self.phrases[last].text.lower() == "cooked weight")
        told = [p for p in figures if p + 1 in cooked and p - 1 not in raw and isinstance(self.phrases[p], PerEach)]
        if told and wish.size is not None:
            # "12 kg raw, will it give 60 people 150 g each on the plate?"
            return replace(wish, cooked=True)
        if raw_figure or (asked and not beside) or any(self._is_of_a_raw_patty(c) for c in cooked):
            self._set(cooked="asked")
            return wish
        if wish.size is None:
            whole = self._cooked_whole(cooked)
            if whole:
                self._set(cooked=whole)
            elif beside and self._any_weight():
                self._set(cooked="given")
            return wish
        return replace(wish, cooked=True)

    def _cooked_whole(self, cooked: list[int]) -> str:
        """ "Cooked weight of 5 lb", "5 lb of 80/20 cooked, what will it weigh": asked; "8 lb of cooked meat … how much raw": given."""
        for place in cooked:
            weight = self._at(place + 2) if self._is_word(place + 1, "of") else None
            if "weight" in self.phrases[place].text.lower() and isinstance(weight, Amount) and weight.kind == "weight":
                return "asked"
            before = self._at(place - 2) if self._is_word(place - 1, "of") else None
            if isinstance(before, Amount) and before.kind == "weight" and self.sentence.has("raw"):
                return "given"
            labelled = isinstance(self._at(place - 1), Fatness) and self.sentence.has("equals")
            if labelled and any(isinstance(p, Amount) and p.kind == "weight" for p in self.phrases[:place]):
                return "asked"
        return ""

    def _is_of_a_raw_patty(self, cooked: int) -> bool:
        """ "the cooked weight of a 6 oz 80/20 patty": what is named after it is raw, unless the weight is wished for."""
        at = cooked + 2
        if not self._is_word(cooked + 1, "of") or self.sentence.has("want"):
            return False
        while isinstance(self._at(at), Amount | Fatness | CutName):
            at += 1
        named = self._at(at)
        return isinstance(named, Patties) and (at > cooked + 2 or named.each is not None)

    def _looks_like_a_patty(self, place: int, phrase: Amount, wish: PattyWish) -> bool:
        size = rough_grams(phrase.measure)
        if self._is_word(place - 1, "of") and self._counts_patties(place - 2):
            return size < 700
        if self._is_word(place - 1, "cue", "how_many") and self._is_word(place + 1, "cue", "out_of", "for_that"):
            # "how many 4 oz from 5 lb"
            return size < 700
        if self._is_word(place - 1, "of") and self._is_word(place - 2, "cue", "cooked") and self.sentence.has("raw"):
            # "a cooked weight of 150 g, how much raw"
            return size < 700
        if self._is_word(place - 1, "cue", "into") and size < 700 and not isinstance(self._at(place + 1), CutName):
            return size < 400 or self._is_word(place + 1, "cue", "across")
        if self._is_word(place + 1, "cue", "cooked") or self._is_for_each(place):
            return size < 700
        links = place - 3 if self._is_word(place - 1, "at") or self._is_word(place - 1, "of") else place - 2
        if self._at_so_much(place) or self._counts_links(links):
            return size < 700
        if self._is_word(place - 1, "cue", "everyone") or self._is_word(place - 2, "cue", "everyone"):
            return size < 700
        if self._is_a_heap(place, size):
            return False
        owned = self._item_at(place + 1) is not None or (
            self._is_word(place + 1, "of") and self._item_at(place + 2) is not None
        )
        if owned or self._is_word(place + 1, "of"):
            return False
        eaters = bool(self.sentence.of(People) or self.sentence.of(Patties) or self.sentence.of(Scale))
        eaters = eaters or bool(self.company) or self.sentence.has("thick", "across", "bun")
        people_first = eaters and size < 700
        seasoned = isinstance(self._at(place + 1), SeasoningName) or isinstance(self._at(place - 1), SeasoningName)
        after_cut = isinstance(self._at(place - 1), CutName)
        return people_first and not seasoned and not after_cut

    def _counts_patties(self, place: int) -> bool:
        """ "how many patties of 120 g": the burgers stand within the asking words."""
        asking = self._at(place)
        return self._is_word(place, "cue", "how_many") and asking is not None and len(asking.text.split()) > 2

    def _is_a_written_mix(self) -> bool:
        """ "2 tsp salt for 3 lb, making 6": of a mix that was written for a weight, the number is pounds and no patties."""
        return bool(self.sentence.of(SeasoningName)) and self.sentence.has("recipe_for") and not self._places(Patties)

    def _is_for_each(self, place: int) -> bool:
        """ "180 g a head", "160 g of raw mince per person"."""
        at = place + 1
        while self._is_word(at, "of") or self._is_word(at, "cue", "raw", "mix"):
            at += 1
        return self._is_word(at, "pereach")

    def _is_a_heap(self, place: int, size: float) -> bool:
        """ "1 1/2 lb at 80/20, into 6 patties", "4 burgers from 1 lb": what is divided is the batch, however small."""
        divided = any(
            isinstance(phrase, Patties)
            and phrase.count is not None
            and self._is_word(later - 1, "cue", "into", "split")
            for later, phrase in enumerate(self.phrases)
            if later > place
        )
        told_its_fat = self._is_word(place + 1, "at", "at") and isinstance(self._at(place + 2), Fatness)
        mouths = max(self._mouths(), default=0.0)
        drawn_from = bool(mouths) and self._is_word(place - 1, "cue", "out_of")
        shared = bool(mouths) and size / mouths > _SMALL_BURGER
        return divided or drawn_from or (size > _BIG_BURGER and (told_its_fat or shared))

    def _mouths(self) -> list[float]:
        """How many burgers, or people to eat them, were counted."""
        counts = [patties.count for patties in self.sentence.of(Patties)]
        counts += [people.count for people in self.sentence.of(People)]
        return [float(count.value) for count in counts if count is not None and count.value > 0]

    def _at_so_much(self, place: int) -> bool:
        """ "2 1/2 lb @ 5 oz": a small weight told off a large one."""
        before, phrase = self._at(place - 2), self.phrases[place]
        if not (self._is_word(place - 1, "at") and isinstance(before, Amount) and isinstance(phrase, Amount)):
            return False
        return before.kind == "weight" and rough_grams(phrase.measure) * 2 <= rough_grams(before.measure)

    def _lengths(self, wish: PattyWish) -> PattyWish:
        """How wide and how thick the patty is, and how wide its bun."""
        free = [p for p in self._places(Amount) if self._free(p) and self.phrases[p].kind == "length"]  # type: ignore[attr-defined]
        for place, (of, word) in lengths_of(self.phrases, free).items():
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            self.used.add(place)
            told = [word] if word is not None else []
            # "my bun is 10 cm across, how wide do I shape the patty": the bun's own width
            told += [place + 1] if of == "bun" and self._is_word(place + 1, "cue", "across") else []
            self.used.update((*told, *asked_for(self.phrases)))
            wish = replace(wish, **{_CALLED_IN_WISH[of]: phrase.measure})
        return wish

    def _count_apart(self, wish: PattyWish) -> PattyWish:
        """ "9 of em", "exactly 14", "split into 3", "make 6"."""
        if wish.count is not None:
            return wish
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            if not self._free(place) or phrase.piece or phrase.proportion or phrase.value.denominator != 1:
                continue
            if self._is_word(place - 1, "cue", "into") and self._is_a_written_mix():
                continue
            into = self._is_word(place - 1, "cue", "into", "split") or self._is_word(place - 2, "cue", "split")
            enough = self._gap(place - 1, place) & {"do", "cover"} or self._is_word(place - 1, "cue", "is_enough")
            if enough and wish.size is not None and self._any_weight() and self._ends_clause(place + 1):
                # "11 lb, will that do 36?"
                self.used.add(place)
                return replace(wish, count=phrase.value)
            of_them = self._is_word(place + 1, "cue", "this") and "of" in self.phrases[place + 1].text
            if (
                into
                or of_them
                or self._counts_links(place)
                or (self._is_word(place + 1, "cue", "equal") and self.sentence.has("split", "into"))
            ):
                self.used.add(place)
                return replace(wish, count=phrase.value, count_is=phrase.bound)
        return wish
