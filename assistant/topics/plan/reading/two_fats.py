"""One cut with two fats: neither is dropped in silence, and neither is given to the next cut.

"chuck 18% 20% and suet", "18% chuck 20%, suet 90%", "chuck 18%, suet 90%, chuck 20%": each figure stands right beside the
one name, and right beside no other.
"""

from __future__ import annotations

from fractions import Fraction

from assistant.language.phrases import Amount, Bound, Fatness
from assistant.topics.plan.reading.cuts import FAT_FIRST, PURE_FAT
from assistant.topics.plan.reading.odd import figure_of
from assistant.topics.plan.reading.target import Target
from assistant.topics.plan.two_ways import Twice


class TwoFats(Target):
    """The second figure of a cut that has one."""

    def _two_fats_of_one(self) -> None:
        for at, item in enumerate(self.items):
            said = list(dict.fromkeys(figure_of(self.phrases[p])[0] for p in self._fats_beside(at)))
            if item.fat is None or len(said) < 2 or item.fat not in said:
                continue
            other = next(fat for fat in said if fat != item.fat)
            places = {p for p in self._fats_beside(at) if figure_of(self.phrases[p])[0] == other}
            self.used.update(places)
            self.heard_twice.append(Twice(item.name, (item.fat, other), self._taken_by(at, other)))

    def _fats_beside(self, item: int) -> list[int]:
        """Fats right before or after a cut's name, and those right after such a one ("18% 20%")."""
        found: list[int] = []
        for mention in self.mentions:
            if mention.item != item:
                continue
            after = mention.place + 2 if self._is_word(mention.place + 1, "at") else mention.place + 1
            while self._is_its_fat(after):
                found.append(after)
                after += 1
            if self._is_its_fat(mention.place - 1):
                found.append(mention.place - 1)
        return found

    def _is_its_fat(self, place: int) -> bool:
        """Whether a fat stands here that is not the one wanted, not a share, and not right before another name."""
        phrase = self._at(place)
        fat = isinstance(phrase, Fatness) and not phrase.grade
        percent = isinstance(phrase, Amount) and phrase.kind == "percent" and not self._seasoning_near(place)
        if not (fat or percent) or place == self.target_place or self._is_share(place):
            return False
        led = self._is_word(place - 1, "at") or self._is_word(place - 1, "open")
        before, after = self._item_at(place - 2 if led else place - 1), self._item_at(place + 1)
        return before is None or after is None or before == after

    def _is_share(self, place: int) -> bool:
        figure = figure_of(self.phrases[place])[0] / 100
        return any(item.share == figure for item in self.items)

    def _taken_by(self, item: int, fat: Fraction) -> str:
        """The cut that was given the second figure, though it stands beside another name."""
        others = (o for at, o in enumerate(self.items) if at != item and o.fat == fat and not self._fats_beside(at))
        return next((other.name for other in others), "")

    def _fat_named_short(self) -> None:
        """ "deer and pork fat, deer is 3 fat is 90": so fat is no mix, but the one fat that goes in."""
        fats = [index for index, item in enumerate(self.items) if "fat" in item.name.split() and item.fat is None]
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            short = FAT_FIRST.match(phrase.text) is not None and phrase.fat >= PURE_FAT
            if self._free(place) and short and len(fats) == 1:
                self._change(fats[0], fat=phrase.fat, fat_about=phrase.bound is Bound.ABOUT, fat_high=phrase.high)
                self.used.add(place)
                return
