"""Two numbers and two cuts: lean to fat, or so much of the one and so much of the other?

"80/20 from chuck and suet" is lean to fat, as on every label; "pork and veal, 50:50" and "40/60 venison and pork" can
only be shares of the two meats, since nobody grinds half fat and lean stands first; "70/30 pork shoulder and fatback"
may be either, and is asked about.
"""

from __future__ import annotations

from fractions import Fraction

from assistant import data
from assistant.language.phrases import Amount, Fatness
from assistant.topics.plan.reading.odd import OddOneOut

_FAT_OF_A_GRIND = Fraction(35)
"""Percent. Ratios with as much fat as this, or more, are no label of any mince (the trade's end at 70/30): a choice."""
_FAT_OF_A_RICH_GRIND = Fraction(30)
"""Percent. Between the two a ratio may be lean to fat or a recipe's parts."""
_FATTEST_OF_PARTS = Fraction(45)
"""Percent. Parts that come out fatter than this are no recipe, and the ratio is lean to fat. A choice."""
_HALF = Fraction(45)
_SOLD_BY_FAT = ("trim", "trimmings", "trimming", "offcuts")
_WANTS = ("want", "make_it", "must_be", "too_lean", "too_fat", "out_of", "final")


class Ratios(OddOneOut):
    """What a ratio beside two cuts is a ratio of."""

    def _ratio_of_two(self) -> None:
        """Gives the two cuts their parts, or leaves the question with the plan; otherwise does nothing."""
        ratios = [p for p in self._places(Fatness) if self._free(p) and self.phrases[p].ratio]  # type: ignore[attr-defined]
        if len(ratios) != 1 or len(self.items) != 2:
            return
        place = ratios[0]
        if self._all_weighed():
            self._label_of_a_trim(place)
            return
        phrase = self.phrases[place]
        assert isinstance(phrase, Fatness)
        asked = self._asks_what_it_is(place, phrase)
        if self._fat_is_said(place) and not (asked or self._halves_them(place, phrase)):
            return
        parts = (phrase.fat, 100 - phrase.fat) if phrase.reversed_ else (100 - phrase.fat, phrase.fat)
        of_each = self._comes_to(parts)
        shares = asked or phrase.fat >= _FAT_OF_A_GRIND or (phrase.reversed_ and not self._reachable(phrase.fat))
        beside = self._right_before_a_cut(place) or (self._right_after_cuts(place) and not self._reachable(phrase.fat))
        open_ = phrase.reversed_ or (phrase.fat >= _FAT_OF_A_RICH_GRIND and beside)
        if shares or (open_ and not self._reachable(phrase.fat)):
            for item, part in enumerate(parts):
                self._change(item, parts=part)
        elif open_ and of_each is not None and of_each < _FATTEST_OF_PARTS:
            self._set(ratio=parts)
        else:
            return
        self.used.add(place)

    def _all_weighed(self) -> bool:
        """ "3 lb flap and 1.5 lb trim": so much of each is said, and no ratio can say it otherwise."""
        return all(self._weighed(mention.place) for mention in self.mentions)

    def _weighed(self, cut: int) -> bool:
        before = cut - 2 if self._is_word(cut - 1, "of") else cut - 1
        if isinstance(self._at(before), Fatness):
            before -= 2 if self._is_word(before - 1, "of") else 1
        return self._is_weight(before) or (self._is_weight(cut + 1) and not self._is_weight(cut - 1))

    def _is_weight(self, place: int) -> bool:
        phrase = self._at(place)
        return isinstance(phrase, Amount) and phrase.kind == "weight"

    def _label_of_a_trim(self, place: int) -> None:
        """ "3 lb flap and 1.5 lb beef trim 50/50": trim is sold by its lean and fat, and nobody's mince is half fat."""
        phrase, item = self.phrases[place], self._item_at(place - 2 if self._is_word(place - 1, "at") else place - 1)
        assert isinstance(phrase, Fatness)
        trim = item is not None and self.items[item].name.split()[-1] in _SOLD_BY_FAT
        if item is not None and trim and phrase.fat >= _FAT_OF_A_GRIND and not phrase.reversed_:
            self._change(item, name=f"{phrase.text} {self.items[item].name}", fat=phrase.fat)
            self.used.add(place)

    def _halves_them(self, place: int, phrase: Fatness) -> bool:
        """ "4.5 lb lamb shoulder + beef chuck 50/50, fat pct?": nobody's label, whatever else the line says of fat."""
        wished = self._is_word(place - 1, "cue", *_WANTS) or self._is_word(place - 1, "at")
        weighed = sum(item.weight is not None for item in self.items)
        return phrase.fat >= _HALF and not wished and weighed < 2 and not any(item.parts for item in self.items)

    def _asks_what_it_is(self, place: int, phrase: Fatness) -> bool:
        """ "60/40 chuck brisket 5 lb, fat?": the fat is asked for, and these two never come to forty."""
        asked = self.sentence.has("composition") or self._is_word(len(self.phrases) - 1, "side", "fat")
        asked = asked or (
            self._is_word(len(self.phrases) - 1, "sep") and self._is_word(len(self.phrases) - 2, "side", "fat")
        )
        told = any(self._is_fat_figure(p) for p in range(len(self.phrases)) if p != place)
        fatty = phrase.fat >= _FAT_OF_A_RICH_GRIND and not phrase.reversed_
        return asked and fatty and not told and self._right_before_a_cut(place) and not self._reachable(phrase.fat)

    def _fat_is_said(self, place: int) -> bool:
        """Whether the line calls the ratio fat or wants it, gives the fat of each cut, or leaves the ratio to itself."""
        figures = [p for p in range(len(self.phrases)) if p != place and self._is_fat_figure(p)]
        named = any(self._is_word(p, "side") for p in range(len(self.phrases))) or self.sentence.has("composition")
        wanted = self._is_word(place - 1, "cue", *_WANTS) or self._is_word(place - 1, "at")
        return bool(figures) or named or wanted or any(item.weight or item.parts for item in self.items)

    def _is_fat_figure(self, place: int) -> bool:
        phrase = self.phrases[place]
        percent = isinstance(phrase, Amount) and phrase.kind == "percent" and not self._seasoning_near(place)
        return percent or isinstance(phrase, Fatness)

    def _right_before_a_cut(self, place: int) -> bool:
        at = place + 1
        while self._is_word(at, "of") or self._is_word(at, "cue", "mix"):
            at += 1
        return self._item_at(at) is not None

    def _right_after_cuts(self, place: int) -> bool:
        """ "chuck brisket 70 30": right after the names, with nothing between them."""
        return self._item_at(place - 1) is not None and self._item_at(place - 2) is not None

    def _comes_to(self, parts: tuple[Fraction, ...]) -> Fraction | None:
        """The fat of so many parts of each cut, in percent by the table; None where a cut has no row."""
        fats = [self._table_fat(item) for item in range(len(self.items))]
        known = [fat for fat in fats if fat is not None]
        if len(known) != len(parts):
            return None
        return sum((part * fat for part, fat in zip(parts, known, strict=True)), Fraction(0)) / sum(parts)

    def _reachable(self, fat: Fraction) -> bool:
        fats = [self._table_fat(item) for item in range(len(self.items))]
        return any(one is None for one in fats) or min(f for f in fats if f is not None) <= fat <= max(
            f for f in fats if f is not None
        )

    def _table_fat(self, item: int) -> Fraction | None:
        row = next((data.cuts()[key] for key in self.items[item].keys if key in data.cuts()), None)
        return None if row is None else row.fat
