"""Sausages and burgers sold by how many go to a weight: "8 to the kilo, 60 of them"."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Count, Measure, Rate
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.eaters import Eaters
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.request import Item, PattyWish

_LINKS = ("sausage", "banger", "link", "chipolata", "burger", "brat")


class ToTheKilo(Eaters):
    """So many to a weight, and how many of them."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        super().__init__(sentence, known)
        self.links = PattyWish()

    def _find_to_the_kilo(self) -> None:
        """The weight that "six to the pound" gives each, and their number where it is said."""
        for place in range(len(self.phrases)):
            size = self._told_by_number(place)
            if size is not None:
                self.links = PattyWish(size=size, count=self._number_of_them())
                return

    def _told_by_number(self, place: int) -> Measure | None:
        """ "8 to the kilo", "six bangers to the pound": what each weighs."""
        phrase = self.phrases[place]
        if not self._free(place):
            return None
        if isinstance(phrase, Rate) and not phrase.measure.unit and " to " in phrase.text.lower():
            number, whole, taken = phrase.measure.value, phrase.per, {place}
        elif whole_count(phrase) is not None and isinstance(phrase, Count) and self._is_link(place + 1):
            unit = self._at(place + 2)
            named = unit is not None and self._is_word(place + 2, "cue", "unit:lb", "unit:kg")
            if not named or "to" not in self._gap(place + 1, place + 2):
                return None
            kind = "lb" if self._is_word(place + 2, "cue", "unit:lb") else "kg"
            number, whole, taken = phrase.value, Measure(Fraction(1), kind), {place, place + 1, place + 2}
        else:
            return None
        if number.denominator != 1 or not 1 < number <= 60:
            return None
        self.used.update(taken)
        each = whole.value / number
        return Measure(each * 1000, "g") if whole.unit == "kg" else replace(whole, value=each)

    def _is_link(self, place: int) -> bool:
        phrase = self._at(place)
        return phrase is not None and self._is_word(place, "cue", "mix") and phrase.text.lower().startswith(_LINKS)

    def _number_of_them(self) -> Fraction | None:
        """ "I need 54", "96 sausages", "60 of them"."""
        for place in self._places(Count):
            count = whole_count(self.phrases[place])
            wanted = self._is_word(place - 1, "cue", "want", "buy") or self._is_link(place + 1)
            if count is not None and self._free(place) and (wanted or self._is_word(place + 1, "cue", "this")):
                self.used.add(place)
                return count
        return None
