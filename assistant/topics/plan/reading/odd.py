"""The fat figure that is nobody's: with one figure more than there are meats, the odd one out is what is wanted.

What stands beside a figure often says nothing ("topside 5% suet 90% 20%", "rump and belly at 15%"). Then the figures
are shared out among the meats, and the target is the one that, left over, lets all others lie nearest to their meats.
"""

from __future__ import annotations

from fractions import Fraction

from assistant import data
from assistant.language.phrases import Amount, Bound, Count, Fatness, Phrase, SeasoningName
from assistant.topics.plan import owners
from assistant.topics.plan.reading.cuts import Cuts
from assistant.topics.plan.request import Item

_MOST_MEATS = 6
"""Beyond it the shares are not tried out: a line that names more meats says its target in words."""
_MIXED, _NO_MATCH = 2, 10**6
"""Added to the distances where figures stand on both sides of their meats; and where they cannot be matched at all."""
_POINTS = 5
"""Points of fat outside a cut's usual range that a cook's own figure for it may still lie."""
_FATTEST_LABEL = 45
"""Percent. Ground meat is not sold fatter. A choice, no source."""


class OddOneOut(Cuts):
    """The wanted fat, where no word beside it says that it is wanted."""

    def _odd_one_out(self) -> int | None:
        """The place of the figure that is no meat's; None where two would do as well, or none is left over."""
        meats = len(self.items)
        if (
            not 2 <= meats <= _MOST_MEATS
            or any(item.fat is not None for item in self.items)
            or self.sentence.has("rest")
        ):
            return None
        figures = self._fat_figures()
        if len(figures) == meats + 1:
            return self._left_over(figures)
        led = self._said_of_the_batch(figures)
        if led is not None:
            return led
        if len(figures) == 1:
            before_a_cut = self._item_at(figures[0] + 1) is not None
            return None if before_a_cut or self._fits_its_neighbour(figures[0]) else figures[0]
        loose = [place for place in figures if not self._beside_a_meat(place)]
        return loose[0] if len(loose) == 1 and len(figures) > 1 else None

    def _beside_a_meat(self, place: int) -> bool:
        """Whether a cut stands right before or after a figure, with at most "at" or a bracket between."""
        before, after = place - 1, place + 1
        while self._is_word(before, "at") or self._is_word(before, "open") or self._is_word(before, "bound"):
            before -= 1
        while self._is_word(after, "of") or self._is_word(after, "cue", "mix"):
            after += 1
        return self._item_at(before) is not None or self._item_at(after) is not None

    def _fat_figures(self) -> list[int]:
        """Percents and fats that are free, and no seasoning's; plain numbers too where percents alone are too few."""
        percents = [place for place, phrase in enumerate(self.phrases) if self._free(place) and _is_percent(phrase)]
        percents = [place for place in percents if not self._seasoning_near(place)]
        if len(percents) > len(self.items):
            return percents
        numbers = [p for p in self._places(Count) if self._free(p) and self._may_be_fat(p)]
        return sorted(percents + numbers) if len(percents) + len(numbers) == len(self.items) + 1 else percents

    def _may_be_fat(self, place: int) -> bool:
        phrase = self.phrases[place]
        assert isinstance(phrase, Count)
        plain = not phrase.piece and not phrase.proportion and phrase.bound not in (Bound.LEAST, Bound.MOST)
        beside = self._item_at(place - 1) is not None or self._is_word(place - 1, "at", "at")
        return plain and 1 <= phrase.value <= 100 and (beside or self._is_word(place - 1, "sep", ","))

    def _left_over(self, figures: list[int]) -> int | None:
        near = {(place, item): self._to_meat(place, item) for place in figures for item in range(len(self.items))}
        costs = sorted((self._apart([other for other in figures if other != place], near), place) for place in figures)
        return costs[0][1] if costs[0][0] < costs[1][0] else None

    def _apart(self, figures: list[int], near: dict[tuple[int, int], int]) -> int:
        """How far the figures lie from the meats, each with one of its own, at the best. One line puts its figures all
        before its meats or all after them: a mixed order counts as farther."""
        mixed = self._matched(figures, near, (True, False)) + _MIXED
        return min(mixed, *(self._matched(figures, near, (side,)) for side in (True, False)))

    def _matched(self, figures: list[int], near: dict[tuple[int, int], int], sides: tuple[bool, ...]) -> int:
        """The least sum of distances with each figure at a meat of its own; sides: figure before its meat or not."""
        first = [next(m.place for m in self.mentions if m.item == item) for item in range(len(self.items))]
        sums = {0: 0}  # which meats have a figure, as bits -> the least sum so far
        for place in figures:
            following: dict[int, int] = {}
            for taken, whole in sums.items():
                for item, name in enumerate(first):
                    if not taken & 1 << item and (place < name) in sides:
                        cost = whole + near[place, item]
                        now = taken | 1 << item
                        following[now] = min(cost, following.get(now, cost))
            sums = following
        return min(sums.values(), default=_NO_MATCH)

    def _to_meat(self, place: int, item: int) -> int:
        far = min(owners.barrier(self.phrases, m.place, place) for m in self.mentions if m.item == item)
        figure, _ = figure_of(self.phrases[place])
        odd = bool(self.items[item].keys) and not self._could_be_fat(self.items[item], figure)
        return 2 * far + odd

    def _said_of_the_batch(self, figures: list[int]) -> int | None:
        """ "2 kg at 20% oyster blade and dripping": right after the line's only weight, before all meats, and not one
        of as many figures as meats ("5 lb 20% chuck and 90% suet")."""
        weights = [p for p in self._places(Amount) if self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        if len(weights) != 1 or weights[0] > self.mentions[0].place:
            return None
        place = weights[0] + 1
        while self._is_word(place, "at") or self._is_word(place, "sep", ",") or self._is_word(place, "of"):
            place += 1
        others = [figure for figure in figures if figure != place]
        apart = self._is_word(place + 1, "sep")
        shared = len(figures) == len(self.items) and all(figure + 1 == name for figure, name in self._faced(figures))
        return place if place in figures and len(others) < len(self.items) and (apart or not shared) else None

    def _faced(self, figures: list[int]) -> list[tuple[int, int]]:
        return list(zip(figures, (mention.place for mention in self.mentions), strict=False))

    def _fits_its_neighbour(self, place: int) -> bool:
        """Whether the one figure of a line could be the fat of the meat beside it, as that meat is sold."""
        near = owners.nearest(self.phrases, place, [mention.place for mention in self.mentions])
        item = self._item_at(near[0][1]) if near else None
        if item is None or not self.items[item].keys:
            return True
        return self._could_be_fat(self.items[item], figure_of(self.phrases[place])[0])

    @staticmethod
    def _could_be_fat(item: Item, fat: Fraction) -> bool:
        """Whether a figure is about as fat as a cut is sold; ground meat is sold at any fat."""
        rows = [data.cuts()[key] for key in item.keys if key in data.cuts()]
        if any(row.kind == "ground" for row in rows):
            return fat <= _FATTEST_LABEL
        return any(row.low - _POINTS <= fat <= row.high + _POINTS for row in rows)

    def _seasoning_near(self, place: int) -> bool:
        return any(isinstance(self._at(near), SeasoningName) for near in (place - 1, place + 1)) or (
            self._is_word(place - 1, "at") and isinstance(self._at(place - 2), SeasoningName)
        )


def _is_percent(phrase: Phrase) -> bool:
    if isinstance(phrase, Amount):
        return phrase.kind == "percent" and phrase.bound not in (Bound.LEAST, Bound.MOST)
    return isinstance(phrase, Fatness) and not phrase.ratio and not phrase.grade


def figure_of(phrase: Phrase) -> tuple[Fraction, Fraction | None]:
    """A figure for fat, and the upper end of a range, from a fat, a percent or a plain number."""
    if isinstance(phrase, Fatness):
        return phrase.fat, phrase.high
    if isinstance(phrase, Amount):
        return phrase.measure.value, phrase.measure.high
    assert isinstance(phrase, Count)
    return phrase.value, phrase.high
