"""Meat that is sold in packs, and what one weight left of another: "1 kg gives me 780 g"."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, Word
from assistant.pattern import Pattern
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.request import Loss

_LIGHTEST_PACK = 200
"""Grams. What is sold in lighter lots is a patty. Common practice, no source."""


_ASIDE = ("how_many", "have", "this", "mix", "buy", "correction", "shop_price")
"""Words beside the weight of a pack that say nothing more of it."""
_AFTERWARDS = Pattern(r"[^.;,]{0,16}\b(?:after|once)\b[^.;,]{0,12}\b(?:trim|bon|cook|grill)")
"""What makes a second weight the one that was left: "got 7.65 kg after trimming"."""


class Packs(Figures):
    """Packs, and yields told as two weights."""

    def _find_packs(self) -> None:
        """ "mince comes in 2.5 kg trays", "in packs of 500 g", "rolls come in packs of 12"."""
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if self._is_pack_of_meat(place):
                measure = phrase.each.measure if isinstance(phrase, Patties) and phrase.each else phrase.measure  # type: ignore[attr-defined]
                self._set(pack=measure, packed_into=self._is_word(place - 1, "cue", "into"))
                self.used.add(place)
                return
            if isinstance(phrase, Count) and self.sentence.has("bun") and self._is_packed_by(place):
                self._set(rolls_a_pack=phrase.value, rolls=self._rolls_counted())
                self.used.add(place)
                return

    def _is_pack_of_meat(self, place: int) -> bool:
        phrase = self.phrases[place]
        if isinstance(phrase, Patties):
            # "3 kg pieces"
            each = phrase.each if phrase.count is None else None
            return (
                each is not None
                and each.kind == "weight"
                and phrase.text.lower().endswith("pieces")
                and rough_grams(each.measure) > _LIGHTEST_PACK
            )
        if not (isinstance(phrase, Amount) and phrase.kind == "weight") or rough_grams(phrase.measure) < _LIGHTEST_PACK:
            return False
        beside = (
            self._is_pack_word(place + 1)
            or self._is_pack_word(place - 1)
            or (self._is_word(place - 1, "of") and self._is_pack_word(place - 2))
        )
        # "what's that in packs of 5 kg", "packs are 5 kg": the meat on the table is what is needed
        needed = (
            self.sentence.has("this")
            or self._tells_only_the_pack()
            or any(
                isinstance(p, People)
                or (isinstance(p, Patties) and p.count is not None)
                or (isinstance(p, Amount) and p.kind == "weight")
                for p in self.phrases
                if p is not phrase
            )
        )
        of_a_meat = self._is_pack_word(place + 1) and (self._is_word(place + 2, "of") or self._is_word(place + 2, "at"))
        labelled = of_a_meat or self._names_what(place + 1)
        return beside and needed and not labelled and not isinstance(self._at(place - 1), Count)

    def _tells_only_the_pack(self) -> bool:
        """ "packs are 5 kg", "it comes in 2 kg bags", "sold in 5 lb packs": a pack's weight and nothing else."""
        said = [p for p in self.sentence.substance() if not (isinstance(p, Word) and p.payload in _ASIDE)]
        return len(said) == 2 and not any(isinstance(p, CutName) for p in said)

    def _names_what(self, place: int) -> bool:
        """ "1 lb pack of suet": how it was bought, and no size to count by."""
        phrase = self._at(place)
        return self._is_word(place, "cue", "pack") and phrase is not None and phrase.text.lower().endswith("of")

    def _is_pack_word(self, place: int) -> bool:
        phrase = self._at(place)
        tray = self._is_word(place, "cue", "bowl") and phrase is not None and phrase.text.lower().startswith("tray")
        return tray or self._is_word(place, "cue", "pack")

    def _is_packed_by(self, place: int) -> bool:
        return self._is_pack_word(place - 1) or (self._is_word(place - 1, "of") and self._is_pack_word(place - 2))

    def _rolls_counted(self) -> Fraction | None:
        """ "sixty rolls": said of the rolls themselves, and not of burgers."""
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            if self._is_word(place + 1, "cue", "bun") and phrase.value.denominator == 1:
                self.used.add(place)
                return phrase.value
        return None

    # ---- one weight out of another

    def _find_yield(self) -> None:
        """ "1 kg of brisket gives me 780 g", "7 lb from a 10 lb shoulder", "bought 14 kg, trimmed it to 11.9 kg"."""
        weights = [p for p in self._places(Amount) if self.phrases[p].kind == "weight" and self._free(p)]  # type: ignore[attr-defined]
        for first, second in pairwise(weights):
            pair = self._before_and_after(first, second, alone=len(weights) == 2)
            if pair is None:
                continue
            before, after, where = pair
            whole, left = self._measure_at(before), self._measure_at(after)
            share = units.to(left.value, left.unit, whole.unit) / whole.value if whole.value > 0 else Fraction(1)
            if not 0 < share < 1:
                continue
            self._set(
                losses=(*self.plan.losses, Loss(where, Measure(100 - 100 * share, "percent"))), pair=(whole, left)
            )
            self.used.update({before, after})
            self.used.update(at for at in (after + 1,) if self._is_word(at, "unknown"))
            for item in range(len(self.items)):
                self.items[item] = replace(self.items[item], weight=None)
            return

    def _measure_at(self, place: int) -> Measure:
        phrase = self.phrases[place]
        assert isinstance(phrase, Amount)
        return phrase.measure

    def _before_and_after(self, first: int, second: int, *, alone: bool) -> tuple[int, int, str] | None:
        """(weight before, weight after, where it went), or None where the two weights tell no yield."""
        between = range(first + 1, second)
        if any(self._is_word(at, "cue", "yielding") for at in between):
            return first, second, self._place_of_loss()
        after = self.sentence.text[self.phrases[second].last :].lower()
        if alone and any(self._is_word(at, "cue", "have", "paid") for at in between) and _AFTERWARDS.match(after):
            return first, second, self._place_of_loss()
        back = any(self._is_word(at, "cue", "out_of") for at in between) and not alone
        if back and self._measure_at(second).value > self._measure_at(first).value:
            return second, first, self._place_of_loss()
        off_the_grill = [p for p in (second - 1, second + 1) if self._is_word(p, "cue", "cooked")]
        if alone and off_the_grill and any(self._is_word(p, "cue", "raw") for p in range(first - 1, second)):
            return first, second, "cooking"
        return None

    def _place_of_loss(self) -> str:
        return "cooking" if self.sentence.has("cooked") else "trim"
