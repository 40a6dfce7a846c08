"""Seasonings and their rates, in all the orders in which they are said."""

from __future__ import annotations

from dataclasses import replace

from assistant.language.phrases import Amount, Count, Measure, Patties, Per, PerEach, Rate, SeasoningName
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.request import Pinch


class Spices(Figures):
    """The seasonings."""

    def _find_seasonings(self) -> None:
        names = self._places(SeasoningName)
        for place in names:
            phrase = self.phrases[place]
            assert isinstance(phrase, SeasoningName)
            self.used.add(place)
            if self._is_negated(place):
                self.out.append(phrase.name)
                continue
            self.seasonings[place] = Pinch(phrase.name, phrase.key)
        for place in range(len(self.phrases)):
            if self._is_word(place, "cue", "cold_water") and self._figure_beside(place):
                self.used.add(place)
                self.seasonings[place] = Pinch("cold water", "water")
        for place, phrase in enumerate(self.phrases):
            # "mint at 4 g per kg": a seasoning that no table has can still be weighed by its rate
            if not self._is_word(place, "unknown"):
                continue
            after = place + 2 if self._is_word(place + 1, "at") else place + 1
            if isinstance(self._at(place - 1), Rate) or isinstance(self._at(after), Rate):
                self.used.add(place)
                self.seasonings[place] = Pinch(phrase.text.lower(), "")
        general = next((p for p, w in enumerate(self.phrases) if self._is_word(p, "cue", "season")), None)
        if not self.seasonings and general is not None and self._has_rate():
            self.seasonings[general] = Pinch("seasoning", "seasoning")
            self.used.add(general)
        if not self.seasonings:
            return
        self._each_of()
        for place, phrase in enumerate(self.phrases):
            if self._free(place) and isinstance(phrase, Rate) and phrase.kind in ("weight", "volume"):
                self._give_pinch(place, phrase.measure, phrase.per)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "volume":
                self._give_pinch(place, phrase.measure, None)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "percent":
                self._give_pinch(place, phrase.measure, None, reach=6)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "weight":
                if "for" not in self._gap(place - 1, place):
                    self._give_pinch(place, phrase.measure, None, reach=2, tight=True)
            elif self._free(place) and isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
                self._bare_pinch(place, phrase)
        self._said_twice()
        self._rates_apart()
        self._wanted_rate()

    def _each_of(self) -> None:
        """ "1 tsp each of salt and pepper": one amount for every name that follows."""
        for place in self._places(PerEach):
            phrase = self.phrases[place]
            assert isinstance(phrase, PerEach)
            after = [
                name for name in self.seasonings if name > place and owners.barrier(self.phrases, place, name) < 24
            ]
            if phrase.kind in ("volume", "weight", "percent") and after and not self.sentence.of(Patties):
                for name in after:
                    self.seasonings[name] = replace(self.seasonings[name], amount=phrase.measure)
                self.used.add(place)
        for place, phrase in enumerate(self.phrases):
            if not (
                isinstance(phrase, Amount)
                and phrase.kind in ("volume", "percent")
                and self._is_word(place + 1, "pereach")
            ):
                continue
            after = [
                name for name in self.seasonings if name > place and owners.barrier(self.phrases, place, name) < 24
            ]
            for name in after:
                self.seasonings[name] = replace(self.seasonings[name], amount=phrase.measure)
            if after:
                self.used.update({place, place + 1})

    def _said_twice(self) -> None:
        """A second mention of a seasoning without a figure is the first one again ("whats that in table salt")."""
        figured = {pinch.key for pinch in self.seasonings.values() if pinch.amount is not None}
        for place, pinch in list(self.seasonings.items()):
            if pinch.amount is None and pinch.key in figured:
                del self.seasonings[place]

    def _wanted_rate(self) -> None:
        """ "had 1% salt in 4 lb, want 1.5%": what is in it already, and what it should be."""
        if len(self.seasonings) != 1 or not self.sentence.has("want", "make_it"):
            return
        ((name, pinch),) = self.seasonings.items()
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            wanted = any(self._is_word(at, "cue", "want", "make_it") for at in (place - 1, place - 2))
            if self._free(place) and phrase.kind == "percent" and wanted and pinch.amount is not None:
                self.seasonings[name] = replace(pinch, amount=phrase.measure, already=pinch.amount)
                self.used.add(place)

    def _figure_beside(self, place: int) -> bool:
        """Whether an amount stands just before or after a word ("cold water 5", "10% cold water")."""
        return any(isinstance(self._at(at), Amount | Count | Rate) for at in (place - 1, place + 1))

    def _has_rate(self) -> bool:
        return any(isinstance(p, Rate) and p.kind in ("weight", "volume") for p in self.phrases) or any(
            isinstance(p, Amount) and p.kind == "percent" for p in self.phrases
        )

    def _give_pinch(
        self, place: int, measure: Measure, per: Measure | None, reach: int = 7, *, tight: bool = False
    ) -> None:
        names = self._name_places()
        for distance, name in owners.nearest(self.phrases, place, names, before=0, after=1):
            if distance > reach:
                continue
            if name not in self.seasonings:
                if tight or measure.unit == "percent":
                    return
                continue
            if tight and distance > 1:
                continue
            if self.seasonings[name].amount is None:
                self.seasonings[name] = replace(self.seasonings[name], amount=measure, per=per)
                self.used.add(place)
                return
        lone = [name for name in self.seasonings if self.seasonings[name].amount is None]
        if (
            len(lone) == 1
            and len(self.seasonings) == 1
            and (per is not None or measure.unit not in ("lb", "kg", "oz", "g"))
        ):
            if measure.unit == "percent" and self.items:
                return
            self.seasonings[lone[0]] = replace(self.seasonings[lone[0]], amount=measure, per=per)
            self.used.add(place)

    def _bare_pinch(self, place: int, phrase: Count) -> None:
        """ "salt 1.6, onion powder 0.8" with the meat at 100, or with percent said once at the end."""
        if self._is_word(place - 1, "cue", "mix") and phrase.value == 100 and self.sentence.has("bakers_percent"):
            self.used.add(place)
            return
        percents = (
            self.sentence.has("bakers_percent")
            or any(pinch.amount is not None and pinch.amount.unit == "percent" for pinch in self.seasonings.values())
            or any(isinstance(p, Amount) and p.kind == "percent" for p in self.phrases[place:])
        )
        if not percents or phrase.value > 30:
            return
        if place - 1 in self.seasonings and self.seasonings[place - 1].amount is None:
            self.seasonings[place - 1] = replace(
                self.seasonings[place - 1], amount=Measure(phrase.value, "percent", phrase.high)
            )
            self.used.add(place)

    def _rates_apart(self) -> None:
        """ "3/4 tsp kosher per lb": the weight that the amount is counted on stands after the name."""
        for place in self._places(Per):
            phrase = self.phrases[place]
            assert isinstance(phrase, Per)
            left = [name for name in self.seasonings if name < place] or list(self.seasonings)
            pending = [n for n in left if self.seasonings[n].per is None and self.seasonings[n].amount is not None]
            if pending:
                for name in pending:
                    if self.seasonings[name].amount.unit != "percent":  # type: ignore[union-attr]
                        self.seasonings[name] = replace(self.seasonings[name], per=phrase.per)
                self.used.add(place)
            elif left and any(self.seasonings[name].amount is not None for name in left) and self.plan.per is None:
                self._set(per=phrase.per)
                self.used.add(place)
        if self.sentence.has("of_total"):
            self.seasonings = {
                place: replace(pinch, of_total=pinch.amount is not None and pinch.amount.unit == "percent")
                for place, pinch in self.seasonings.items()
            }

    def _bare_batch(self) -> None:
        """ "3 tbsp per 5 lb, how much for 12", "for every 4 lb. have 10": a number in the unit spoken of last."""
        if self.plan.batch is not None or not self.seasonings:
            return
        unit = next((pinch.per.unit for pinch in self.seasonings.values() if pinch.per is not None), None)
        unit = unit or (self.plan.recipe_for.unit if self.plan.recipe_for is not None else None)
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            led = self._is_word(place - 1, "cue", "have", "scale_to", "make_it", "want") or "for" in self._gap(
                place - 1, place
            )
            if unit and led and self._free(place) and not phrase.piece and not phrase.proportion:
                self._set(batch=Measure(phrase.value, unit, phrase.high))
                self.used.add(place)
                return

    def _is_recipe_weight(self, place: int) -> bool:
        if not self.seasonings:
            return False
        near = any(self._is_word(at, "cue", "recipe_for") for at in range(max(0, place - 2), place + 1))
        return near or (self._is_word(place - 1, "cue", "recipe_for"))
