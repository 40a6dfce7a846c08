"""How much of the batch is which cut: shares, parts, proportions, equal parts."""

from __future__ import annotations

from fractions import Fraction

from assistant.language.phrases import Amount, Bound, Count, CutName, Fatness, Parts, Per, SeasoningName
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.two_fats import TwoFats

_TO_BE = Pattern(r"\b(be|is)\s*$|^\s*of (it|that|this|them|the (mix|batch|total|lot|meat))\s*$")
_TIMES = {"three": Fraction(3), "half": Fraction(1, 2)}


class CutShares(TwoFats):
    """The share of each cut."""

    def _give_shares(self) -> None:
        names = [mention.place for mention in self.mentions]
        self._parts_in_turn()
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Parts):
                for distance, name in owners.nearest(self.phrases, place, names, before=0, after=2):
                    item = self._item_at(name)
                    if item is not None and distance < owners.FAR and self.items[item].parts is None:
                        self._change(item, parts=phrase.value)
                        self.used.add(place)
                        break
            elif isinstance(phrase, Fatness) and phrase.ratio and self._ratio_of_cuts(place):
                self._proportion(place, (100 - phrase.fat, phrase.fat))
            elif isinstance(phrase, Count) and phrase.proportion:
                self._proportion(place, phrase.proportion)
            elif isinstance(self._at(place + 1), SeasoningName):
                # "half the salt of last time" is no share of the meat
                continue
            elif isinstance(phrase, Count) and (phrase.piece or 0 < phrase.value < 1):
                self._piece(place, phrase, names)
        self._row_of_parts()
        self._shares_beside_fats()
        self._bare_parts()
        self._parts_per()
        self._share_of_it()

    def _share_to_be(self) -> None:
        """ "at least a third of it should be chuck", "40% of it to be chuck", "40% of it chuck": the figure is the share of
        what it names."""
        for place, phrase in enumerate(self.phrases):
            percent = isinstance(phrase, Amount) and phrase.kind == "percent"
            piece = isinstance(phrase, Count) and phrase.piece and not phrase.proportion
            if not self._free(place) or not (percent or piece):
                continue
            at = place + 1
            while self._is_word(at, "of") or self._is_word(at, "cue", "this", "mix", "want", "must_be"):
                at += 1
            item = self._item_at(at)
            if item is None or not _TO_BE.search(self.sentence.text[phrase.last : self.phrases[at].first].lower()):
                continue
            assert isinstance(phrase, Amount | Count)
            share = phrase.measure.value / 100 if isinstance(phrase, Amount) else phrase.value
            self._change(item, share=share, share_is=phrase.bound)
            self.used.update(range(place, at + 1))

    def _parts_in_turn(self) -> None:
        """ "chuck 3 parts brisket 2 parts short rib 1 part": after each cut its parts."""
        parts = self._places(Parts)
        items = [self._item_at(place - 1) for place in parts]
        if len(parts) < 2 or None in items or len(parts) != len(self.mentions):
            return
        for place, item in zip(parts, items, strict=True):
            self._change(item, parts=self.phrases[place].value)  # type: ignore[arg-type, attr-defined]
        self.used.update(parts)

    def _row_of_parts(self) -> None:
        """ "chuck, short rib and brisket 60 25 15": as many numbers in a row as cuts, which add up to a hundred."""
        row: list[int] = []
        for place, phrase in enumerate(self.phrases):
            number = isinstance(phrase, Count) and self._free(place) and not phrase.piece and not phrase.proportion
            if number and (not row or all(self._is_word(at, "sep") for at in range(row[-1] + 1, place))):
                row.append(place)
            elif number:
                row = [place]
        values = [self.phrases[place].value for place in row]  # type: ignore[attr-defined]
        fresh = not any(item.parts or item.share or item.fat is not None for item in self.items)
        if len(row) == len(self.items) > 2 and sum(values) == 100 and fresh:
            for at, value in enumerate(values):
                self._change(at, parts=value)
            self.used.update(row)

    def _shares_beside_fats(self) -> None:
        """ "50% chuck at 16% fat": a percent before a cut that has its fat said after it is its share of the batch."""
        for mention in self.mentions:
            before, place = self._at(mention.place - 1), mention.place - 1
            at = mention.place + 2 if self._is_word(mention.place + 1, "at") else mention.place + 1
            fat = self._at(at)
            percent = isinstance(before, Amount) and before.kind == "percent"
            if percent and self._free(place) and isinstance(fat, Fatness) and not fat.ratio and self._free(at):
                self._change(mention.item, share=before.measure.value / 100, share_is=before.bound)  # type: ignore[union-attr]
                self.used.add(place)

    def _ratio_of_cuts(self, place: int) -> bool:
        """ "60:40 chuck to brisket": a ratio of two cuts, not of lean to fat."""
        first, second = self._item_at(place + 1), self._item_at(place + 2)
        return first is not None and second is not None and "to" in self._gap(place + 1, place + 2)

    def _proportion(self, place: int, parts: tuple[Fraction, ...]) -> None:
        if len(parts) != len(self.items) or any(item.parts is not None for item in self.items):
            return
        for index, part in enumerate(parts):
            self._change(index, parts=part)
        self.used.add(place)

    def _piece(self, place: int, phrase: Count, names: list[int]) -> None:
        bound = phrase.bound
        if bound in (Bound.LEAST, Bound.MOST) and self._negated_wish(place):
            bound = Bound.MOST if bound is Bound.LEAST else Bound.LEAST
        for distance, name in owners.nearest(self.phrases, place, names, before=0, after=1):
            item = self._item_at(name)
            if item is not None and distance < 9 and self.items[item].share is None:
                self._change(item, share=phrase.value, share_is=bound)
                self.used.add(place)
                return

    def _bare_parts(self) -> None:
        """ "4 parts chuck 2 brisket 1 short rib": once parts were said, the numbers that follow are parts too."""
        said = self._places(Parts)
        if not said:
            return
        after = isinstance(self._at(said[0] - 1), CutName)
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            item = self._item_at(place - 1 if after else place + 1)
            plain = not phrase.piece and not phrase.proportion
            if self._free(place) and plain and item is not None and self.items[item].parts is None:
                self._change(item, parts=phrase.value)
                self.used.add(place)

    def _parts_per(self) -> None:
        """ "1 lb bacon per 4 lb venison" are parts; "how much suet per lb of round" asks for one pound of round."""
        for place in self._places(Per):
            phrase = self.phrases[place]
            assert isinstance(phrase, Per)
            after = place + 2 if self._is_word(place + 1, "of") else place + 1
            base = self._item_at(after)
            other = self._item_at(place - 1)
            if base is None or other is None or other == base or not self._free(place):
                continue
            before = self._at(place - 3 if self._is_word(place - 2, "of") else place - 2)
            if isinstance(before, Amount) and before.kind == "weight":
                self._change(other, parts=Fraction(rough_grams(before.measure)).limit_denominator(10**6))
                self._change(base, parts=Fraction(rough_grams(phrase.per)).limit_denominator(10**6))
                self.used.update({place, self.phrases.index(before)})
            elif self.plan.target is not None:
                self._change(base, weight=phrase.per)
                self.used.add(place)

    def _share_of_it(self) -> None:
        """ "a fifth of it", "half of that": a part of everything that was said."""
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            of_it = self._is_word(place + 1, "of") and self._is_word(place + 2, "cue", "this", "mix")
            whole = self.seasonings and all(p.per is None for p in self.seasonings.values())
            if self._free(place) and phrase.piece and of_it and whole and self.plan.factor is None:
                self._set(factor=phrase.value)
                self.used.update({place, place + 1, place + 2})

    def _equal_parts(self) -> None:
        cue = self.sentence.cue("equal")
        if cue is not None and len(self.items) > 1 and not self.sentence.has("split"):
            place = self.phrases.index(cue)
            self.used.add(place)
            some = self._of_some(place)
            for item in some:
                self._change(item, parts=Fraction(1))
            if not some:
                self._set(equal=True)
        for place in range(len(self.phrases)):
            told = any(item.parts is not None for item in self.items)
            if len(self.items) >= 2 and (
                self._is_word(place, "cue", "twice_as") or (told and self._says_as_much(place))
            ):
                self._so_many_times(place)

    def _says_as_much(self, place: int) -> bool:
        """ "…, and as much suet as short rib": once, where others are told in times of it."""
        phrase = self._at(place)
        return self._is_word(place, "cue", "as_much") and phrase is not None and phrase.text.lower() == "as much"

    def _of_some(self, cue: int) -> list[int]:
        """ "…, equal amounts of brisket and short rib": those named once more after it; none where it is said of all."""
        after = {m.item for m in self.mentions if m.place > cue and self._is_word(cue + 1, "of")}
        again = {m.item for m in self.mentions if m.place < cue and m.item in after}
        alone = 1 < len(after) < len(self.items) and after == again
        return sorted(after) if alone and not any(item.parts for item in self.items) else []

    def _so_many_times(self, place: int) -> None:
        """ "twice as much chuck as brisket, half as much bacon as brisket": parts, counted off the cut named second."""
        said = self.phrases[place].text.lower()
        factor = Fraction(1) if said == "as much" else _TIMES.get(said.split()[0], Fraction(2))
        after = [mention.item for mention in self.mentions if mention.place > place]
        if len(after) < 2:
            return
        first, second = after[:2]
        one = self.items[second].parts or Fraction(1)
        self._change(second, parts=one)
        self._change(first, parts=factor * one)
        self.used.add(place)
