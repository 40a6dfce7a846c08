"""How many people a weight of meat feeds: "9.6 kg at 120 g a burger, how many people can have two?"."""

from __future__ import annotations

from fractions import Fraction

from assistant.language.phrases import Amount, Count, Patties, People, PerEach
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.shares import Shares
from assistant.topics.plan.reading.together.shapes import MOST_EACH

_HEAP = 700
"""Grams. A lighter weight is what each gets. Common practice, no source."""


class Fed(Shares):
    """People who are asked for, where the meat is given."""

    def _how_many_fed(self) -> Fraction | None:
        """Patties for each of the people whose number is asked; None where it is not."""
        asked = next((at for at in self._places(People) if self._is_asked(at)), None)
        heaps = [p for p in self.sentence.of(Amount) if p.kind == "weight" and rough_grams(p.measure) >= _HEAP]
        if asked is None or not heaps or any(people.count is not None for people in self.sentence.of(People)):
            return None
        self.used.add(asked)
        for place in range(len(self.phrases)):
            each = self._for_each(place)
            if each is not None:
                self.used.add(place)
                self.used.update(at for at in (place - 1, place + 1) if self._is_word(at, "pereach"))
                return each
        return Fraction(1)

    def _is_asked(self, place: int) -> bool:
        return self._is_word(place - 1, "cue", "how_many") and self.phrases[place].count is None  # type: ignore[attr-defined]

    def _for_each(self, place: int) -> Fraction | None:
        """ "two each", "two burgers each", "can have two"."""
        phrase = self.phrases[place]
        if isinstance(phrase, PerEach) and phrase.kind == "count":
            return phrase.measure.value
        if isinstance(phrase, Patties):
            return None if phrase.count is None or phrase.count.value > MOST_EACH else phrase.count.value
        count = whole_count(phrase) if isinstance(phrase, Count) else None
        led = self._is_word(place - 1, "cue", "have", "want", "eats", "everyone") or self._is_word(place + 1, "pereach")
        return count if led and count is not None and count <= MOST_EACH else None
