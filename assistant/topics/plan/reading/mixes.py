"""Mixes of seasonings: their parts and shares, what is said in total, and one of them halved.

"60% salt, 25% pepper, 15% garlic powder at 25 g/kg" and "2 parts paprika, 1 part cumin, 80 g all told" are shares of a
mix, not of the meat: each seasoning gets its share of what is said of the whole mix.
"""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Measure, Parts, Rate, SeasoningName
from assistant.topics.plan.reading.figures import Figures

_WHOLE = (Fraction(99), Fraction(101))
"""Percents that add up to this are shares of one mix: nobody seasons meat with its own weight of spice."""


class SpiceMixes(Figures):
    """What is said of several seasonings together."""

    def _shares_of_the_mix(self) -> None:
        """Each seasoning's share of the mix, once what is said of the mix itself is known."""
        parts = self._parts_said()
        whole = self._said_of_the_mix(list(parts))
        if len(parts) < 2 or whole is None:
            return
        measure, per, place = whole
        total = sum(parts.values(), Fraction(0))
        for name, part in parts.items():
            amount = replace(measure, value=measure.value * part / total, high=None)
            self.seasonings[name] = replace(self.seasonings[name], amount=amount, per=per)
        for name in [name for name in self.seasonings if name not in parts and self._is_the_mix(name)]:
            del self.seasonings[name]
        self.used.add(place)

    def _parts_said(self) -> dict[int, Fraction]:
        """The parts of each seasoning by its place: "2 parts paprika", or percents that add up to the whole."""
        before = {name: self._at(name - 2 if self._is_word(name - 1, "of") else name - 1) for name in self.seasonings}
        parts = {name: phrase.value for name, phrase in before.items() if isinstance(phrase, Parts)}
        if len(parts) > 1 and min(parts.values()) > 0:
            self.used.update(self.sentence.place(phrase) for phrase in before.values() if isinstance(phrase, Parts))
            return parts
        shares = {
            name: pinch.amount.value
            for name, pinch in self.seasonings.items()
            if pinch.amount is not None and pinch.amount.unit == "percent"
        }
        low, high = _WHOLE
        return shares if len(shares) > 1 and min(shares.values()) > 0 and low <= sum(shares.values()) <= high else {}

    def _said_of_the_mix(self, named: list[int]) -> tuple[Measure, Measure | None, int] | None:
        """What is said of the whole mix: a rate, a percent of the meat, or its weight; and where it stands."""
        mixes = [name for name, pinch in self.seasonings.items() if name not in named and self._is_the_mix(name)]
        for name in mixes:
            pinch = self.seasonings[name]
            if pinch.amount is not None:
                return pinch.amount, pinch.per, name
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Rate) and phrase.kind in ("weight", "volume"):
                return phrase.measure, phrase.per, place
            if isinstance(phrase, Amount) and (phrase.kind == "percent" or self._weighs_the_mix(place, mixes)):
                return phrase.measure, None, place
        return None

    def _weighs_the_mix(self, place: int, mixes: list[int]) -> bool:
        """ "80 g of rub", "80 g all told", "makes 100 g": with no meat in the line, its one weight is the mix's."""
        phrase = self.phrases[place]
        assert isinstance(phrase, Amount)
        beside = any(name - place in (1, 2) for name in mixes) or self._is_word(place + 1, "cue", "total")
        meat = bool(self.items) or any(self._is_word(at, "cue", "mix") for at in (place + 1, place + 2))
        return phrase.kind in ("weight", "volume") and (beside or not meat)

    def _is_the_mix(self, name: int) -> bool:
        return self.seasonings[name].key == "seasoning"

    def _half_of_one(self) -> None:
        """ "…, just half the salt": of a seasoning that had its amount before, so much of it."""
        for place in self._places(Count):
            phrase, name = self.phrases[place], self._at(place + 1)
            if not (
                isinstance(phrase, Count) and phrase.piece and self._free(place) and isinstance(name, SeasoningName)
            ):
                continue
            known = [
                at for at, pinch in self.seasonings.items() if at < place and pinch.key == name.key and pinch.amount
            ]
            if len(known) == 1 and self.seasonings.get(place + 1, self.seasonings[known[0]]).amount in (
                None,
                self.seasonings[known[0]].amount,
            ):
                pinch = self.seasonings[known[0]]
                assert pinch.amount is not None
                amount = replace(pinch.amount, value=pinch.amount.value * phrase.value)
                self.seasonings[known[0]] = replace(pinch, amount=amount)
                self.seasonings.pop(place + 1, None)
                self.used.add(place)

    def _is_in_total(self, name: int) -> bool:
        """ "20 g paprika in total": right after the seasoning or its amount, and so no rate."""
        return any(self._is_word(name + at, "cue", "total") for at in (1, 2)) and not isinstance(
            self._at(name + 1), SeasoningName
        )
