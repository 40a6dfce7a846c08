"""Seasonings and their rates, in all the orders in which they are said."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Amount, Count, Measure, Patties, Per, PerEach, Rate, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.mixes import SpiceMixes
from assistant.topics.plan.request import Pinch

_SPOON_CUES = ("unit:tsp", "unit:tbsp", "unit:cup", "unit:pinch", "unit:dash")
_SPOONS = ("tsp", "tbsp")
_ASKING = ("how_much", "how_many", "what", "this", "works_out", "equals", "convert", "rate_of", "cost")


_SEASONED = 4
"""Percent: "how much salt for 2 lb of pork at 1.6%" is the salt, for no pork has as little fat. A choice."""


class Spices(SpiceMixes):
    """The seasonings."""

    def _find_seasonings(self) -> None:
        self._seasonings_named()
        self._seasonings_of_their_own()
        self._seasoning_at_a_rate()
        self._rate_of_nothing_named()
        self._nothing_named()
        if not self.seasonings:
            return
        self._whose_spoons()
        self._bare_spoons()
        self._each_of()
        self._names_first()
        self._list_beside_list()
        self._amounts_given()
        self._of_and_of()
        self._shares_of_the_mix()
        self._half_of_one()
        self._spoon_left_unsaid()
        self._said_twice()
        self._as_another()
        self._rates_apart()
        self._half_that()
        self._mix_itself()
        self._less_of_it()
        self._finished_weight()
        self._wanted_rate()
        self._left_out_again()

    def _seasonings_named(self) -> None:
        for place in self._places(SeasoningName):
            phrase = self.phrases[place]
            assert isinstance(phrase, SeasoningName)
            self.used.add(place)
            if self._is_negated(place):
                self.out.append(phrase.name)
                continue
            self.seasonings[place] = Pinch(phrase.name, phrase.key)
        for place in range(len(self.phrases)):
            iced = self._is_word(place, "cue", "probe_check") and "water" in self.phrases[place].text.lower()
            if (iced or self._is_word(place, "cue", "cold_water")) and self._figure_beside(place):
                self.used.add(place)
                self.seasonings[place] = Pinch("cold water", "water")

    def _seasonings_of_their_own(self) -> None:
        """ "mint at 4 g per kg", "2 tsp zaatar": a seasoning that no table has can still be weighed or spooned."""
        known = bool(self.seasonings)
        for place, phrase in enumerate(self.phrases):
            if not self._may_be_food(place):
                continue
            after = place + 2 if self._is_word(place + 1, "at") else place + 1
            before = self._at(place - 2 if self._is_word(place - 1, "of") else place - 1)
            rated = isinstance(self._at(place - 1), Rate) or isinstance(self._at(after), Rate)
            small = isinstance(before, Amount) and (
                before.kind == "volume" or (before.kind == "weight" and rough_grams(before.measure) < 400)
            )
            spooned = small and (known or isinstance(self._at(place + 1), Per))
            if rated or spooned:
                self.used.add(place)
                self.seasonings[place] = Pinch(phrase.text.lower(), "")
        for place, phrase in enumerate(self.phrases):
            if self._is_word(place, "unknown") and self._free(place) and self._is_negated(place):
                if any(pinch.name == phrase.text.lower() for pinch in self.seasonings.values()):
                    self.out.append(phrase.text.lower())
                    self.used.add(place)

    def _seasoning_at_a_rate(self) -> None:
        """ "seasoning 20 g per kg": a ready mix, by the word for it; alone it is what the rate of the line is of."""
        for place in self._word_places("cue", "season"):
            after = place + 2 if self._is_word(place + 1, "at") else place + 1
            spooned = isinstance(self._at(place - 1), Amount) and isinstance(self._at(place + 1), Per)
            beside = isinstance(self._at(after), Rate) or isinstance(self._at(place - 1), Rate) or spooned
            if (beside and self.phrases[place].text.lower().startswith("season")) or (
                not self.seasonings and self._has_rate()
            ):
                self.seasonings[place] = Pinch("seasoning", "seasoning")
                self.used.add(place)
                return

    def _nothing_named(self) -> None:
        """ "4 tsp total in 6 lb, how much is that a pound": spoons of something, and a rate asked for."""
        spoons = [p for p in self._places(Amount) if self._free(p) and self.phrases[p].kind == "volume"]  # type: ignore[attr-defined]
        unnamed = not self.seasonings and not self.items and len(spoons) == 1 and not self.out
        if unnamed and any(self._rate_is_asked(place) for place in self._places(Per)):
            self.seasonings[spoons[0]] = Pinch("seasoning", "", self.phrases[spoons[0]].measure)  # type: ignore[attr-defined]
            self.used.add(spoons[0])

    def _rate_of_nothing_named(self) -> None:
        """ "0.75 tsp per pound, 6.5 pounds": one rate and a weight are a seasoning, whatever it is called."""
        rates = [place for place in self._places(Rate) if self.phrases[place].kind in ("weight", "volume")]  # type: ignore[attr-defined]
        named = bool(self.seasonings or self.items or self.sentence.of(Patties))
        if named or len(rates) != 1 or not self._free(rates[0]):
            return
        if any(isinstance(phrase, Amount) and phrase.kind == "weight" for phrase in self.phrases):
            rate = self.phrases[rates[0]]
            assert isinstance(rate, Rate)
            self.seasonings[rates[0]] = Pinch("seasoning", "seasoning", rate.measure, rate.per)
            self.used.add(rates[0])

    def _whose_spoons(self) -> None:
        for place in range(len(self.phrases)):
            for country in ("us", "uk", "au"):
                if self._is_word(place, "cue", f"measures_{country}"):
                    self.used.add(place)
                    self._set(spoons={"uk": "metric"}.get(country, country))

    def _bare_spoons(self) -> None:
        """ "tbsp of paprika", "pinch of cayenne": a spoon without a number, before what is in it, is one."""
        for place, phrase in enumerate(self.phrases):
            if not (isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload in _SPOON_CUES):
                continue
            asked = self._is_word(place - 1, "cue", "how_many", "how_much", "what", "convert")
            counted = isinstance(self._at(place - 1), Count)
            if asked or counted or self._gap(place - 1, place) & {"in", "to", "into"}:
                continue
            name = place + 2 if self._is_word(place + 1, "of") else place + 1
            if name in self.seasonings and self.seasonings[name].amount is None:
                one = Measure(Fraction(1), phrase.payload.removeprefix("unit:"))
                self.seasonings[name] = replace(self.seasonings[name], amount=one)
                self.used.add(place)

    def _names_first(self) -> None:
        """ "salt 2 tsp pepper 1 tsp": where every name has its amount right after it, none belongs to the next name."""
        names = sorted(self.seasonings)
        before = self._at(names[0] - 1)
        if len(names) < 2 or isinstance(before, Amount | Rate) or self._is_word(names[0] - 1, "of"):
            return
        given = [self._at(name + 1) for name in names]
        kinds = ("volume", "weight", "percent")
        if not all(isinstance(phrase, Amount | Rate) and phrase.kind in kinds for phrase in given):
            return
        for name, phrase in zip(names, given, strict=True):
            assert isinstance(phrase, Amount | Rate)
            if self._free(name + 1):
                per = phrase.per if isinstance(phrase, Rate) else None
                self.seasonings[name] = replace(self.seasonings[name], amount=phrase.measure, per=per)
                self.used.add(name + 1)

    def _list_beside_list(self) -> None:
        """ "salt, pepper and garlic at 1.5, .3 and .2 percent": as many figures in a row as names in a row before them."""
        names = [place for place in sorted(self.seasonings) if self.seasonings[place].amount is None]
        figures = [place for place in range(len(self.phrases)) if self._free(place) and self._is_percent_or_bare(place)]
        last = self._at(figures[-1]) if figures else None
        if len(names) < 2 or len(names) != len(figures) or figures[0] < names[-1] or not isinstance(last, Amount):
            return
        if not (self._is_a_row(names) and self._is_a_row(figures)):
            return
        for name, place in zip(names, figures, strict=True):
            figure = self.phrases[place]
            assert isinstance(figure, Amount | Count)
            value = figure.measure.value if isinstance(figure, Amount) else figure.value
            self.seasonings[name] = replace(self.seasonings[name], amount=Measure(value, "percent"))
            self.used.add(place)

    def _is_percent_or_bare(self, place: int) -> bool:
        phrase = self.phrases[place]
        return isinstance(phrase, Count) or (isinstance(phrase, Amount) and phrase.kind == "percent")

    def _is_a_row(self, places: list[int]) -> bool:
        """Whether nothing but commas and joins stands between the phrases."""
        between = [at for at in range(places[0], places[-1]) if at not in places]
        return all(self._is_word(at, "sep") or self._is_word(at, "join") for at in between)

    def _amounts_given(self) -> None:
        for place, phrase in enumerate(self.phrases):
            if self._free(place) and isinstance(phrase, Rate) and phrase.kind in ("weight", "volume"):
                self._give_pinch(place, phrase.measure, phrase.per)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "volume":
                self._give_pinch(place, phrase.measure, None)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "percent":
                # "salt to be 1.6%": the wish stands between the two
                wished = place - 2 in self.seasonings and self._is_word(place - 1, "cue", "want", "must_be", "make_it")
                self._give_pinch(place, phrase.measure, None, reach=10 if wished else 6)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "weight":
                if not self._gap(place - 1, place) & {"for", "in", "into"}:
                    self._give_pinch(place, phrase.measure, None, reach=2, tight=True)
            elif self._free(place) and isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
                self._bare_pinch(place, phrase)

    def _of_and_of(self) -> None:
        """ "half a teaspoon of pepper and of garlic powder": as much of the one as of the other."""
        for name in sorted(self.seasonings):
            again = self._is_word(name - 1, "of") and self._is_word(name - 2, "join") and name - 3 in self.seasonings
            if again and self.seasonings[name].amount is None:
                before = self.seasonings[name - 3]
                self.seasonings[name] = replace(self.seasonings[name], amount=before.amount, per=before.per)

    def _spoon_left_unsaid(self) -> None:
        """ "half a teaspoon of pepper and an eighth of cumin a pound": a piece of the spoon spoken of, else of a teaspoon,
        which is the only spoon that is sold in eighths."""
        spoons = {p.amount.unit for p in self.seasonings.values() if p.amount is not None and p.amount.unit in _SPOONS}
        for place, phrase in enumerate(self.phrases):
            name = place + 2 if self._is_word(place + 1, "of") else place + 1
            if not (isinstance(phrase, Count) and phrase.piece and self._free(place) and name in self.seasonings):
                continue
            if self.seasonings[name].amount is None and (spoons or isinstance(self._at(name + 1), Per)):
                unit = next(iter(spoons)) if len(spoons) == 1 else "tsp"
                amount = Measure(phrase.value, unit, phrase.high)
                self.seasonings[name] = replace(self.seasonings[name], amount=amount)
                self.used.add(place)

    def _as_another(self) -> None:
        """ "twice as much pepper as nutmeg" is told off the nutmeg; "double the pepper" off the pepper's own amount."""
        for place in self._word_places("cue", "twice_as", "as_much"):
            name = place + 2 if self._is_word(place + 1, "of") else place + 1
            if self._off_the_next(place, name):
                continue
            pinch = self._pinch_named(name)
            if pinch is None:
                continue
            others = [at for at in range(name + 1, len(self.phrases)) if self._pinch_named(at) is not None]
            between = others and all(self._is_word(at, "cue", "as_much") for at in range(name + 1, others[0]))
            basis = self._pinch_named(others[0]) if between else pinch
            mine = name if name in self.seasonings else self._place_of(pinch)
            if basis is None or basis.amount is None or (between and pinch.amount is not None):
                continue
            self._as_so_much(mine, basis, _times_said(self.phrases[place].text))
            self.used.add(place)

    def _less_of_it(self) -> None:
        """ "20 g salt a kilo but she wants a quarter less": so much less of every seasoning that was told."""
        told = [name for name, pinch in self.seasonings.items() if pinch.amount is not None]
        for place in self._places(Count):
            phrase = self.phrases[place]
            more = self._is_word(place + 1, "cue", "bigger")
            said = isinstance(phrase, Count) and phrase.piece and self._free(place)
            if not (
                said and isinstance(phrase, Count) and told and (more or self._is_word(place + 1, "cue", "smaller"))
            ):
                continue
            factor = 1 + phrase.value if more else 1 - phrase.value
            for name in told:
                amount = self.seasonings[name].amount
                assert amount is not None
                self.seasonings[name] = replace(
                    self.seasonings[name], amount=replace(amount, value=amount.value * factor)
                )
            self.used.update((place, place + 1))

    def _off_the_next(self, place: int, name: int) -> bool:
        """ "sugar half as much as the salt": the one before it has no amount, the one after it has."""
        mine, basis = self.seasonings.get(place - 1), self._pinch_named(name)
        if not (self._is_word(place, "cue", "twice_as") and mine is not None and basis is not None):
            return False
        if mine.amount is not None or basis.amount is None or basis.key == mine.key:
            return False
        self._as_so_much(place - 1, basis, _times_said(self.phrases[place].text))
        self.used.add(place)
        return True

    def _as_so_much(self, name: int, basis: Pinch, factor: Fraction) -> None:
        """A seasoning by another one's amount; the factor is spent on it, and the rest of the mix keeps its amounts."""
        assert basis.amount is not None
        upper = None if basis.amount.high is None else basis.amount.high * factor
        amount = replace(basis.amount, value=basis.amount.value * factor, high=upper)
        self.seasonings[name] = replace(self.seasonings[name], amount=amount, per=basis.per, of_total=basis.of_total)
        self._set(factor=Fraction(1))

    def _half_that(self) -> None:
        """ "3/4 tsp salt a pound, half that pepper", "pepper half that": off the seasoning that was told before."""
        cue = self.sentence.cue("halve", "double")
        if cue is None:
            return
        place = self.phrases.index(cue)
        bare = [name for name in (place + 1, place + 2, place - 1) if name in self.seasonings]
        bare = [name for name in bare if self.seasonings[name].amount is None]
        told = [name for name in sorted(self.seasonings) if name < place and self.seasonings[name].amount is not None]
        if bare and told:
            self._as_so_much(
                bare[0], self.seasonings[told[-1]], Fraction(1, 2) if cue.payload == "halve" else Fraction(2)
            )
            self.used.add(place)

    def _pinch_named(self, place: int) -> Pinch | None:
        """The seasoning that a name at a place means: the one it opened, or an earlier mention with a figure."""
        phrase = self._at(place)
        if place in self.seasonings and self.seasonings[place].amount is not None:
            return self.seasonings[place]
        if not isinstance(phrase, SeasoningName):
            return None
        figured = [p for p in self.seasonings.values() if p.key == phrase.key and p.amount is not None]
        return figured[0] if figured else self.seasonings.get(place)

    def _place_of(self, pinch: Pinch) -> int:
        return next(place for place, known in self.seasonings.items() if known == pinch)

    def _mix_itself(self) -> None:
        """ "my seasoning is for 5 lb: 2 tsp salt, 1 tsp pepper": the word for the mix, beside what it is made of."""
        bare = [name for name, pinch in self.seasonings.items() if pinch.amount is None and self._is_the_mix(name)]
        told = [pinch for pinch in self.seasonings.values() if pinch.amount is not None and pinch.per is None]
        if len(told) > 1 and self.sentence.has("recipe_for", "scale_to"):
            for name in bare:
                del self.seasonings[name]

    def _left_out_again(self) -> None:
        """ "30 g salt, 4 g chilli …, leave out the chilli": named with its amount, and then not wanted after all."""
        gone = set(self.out)
        keys = {p.key for p in self.phrases if isinstance(p, SeasoningName) and p.name in gone}
        self.seasonings = {
            place: pinch
            for place, pinch in self.seasonings.items()
            if pinch.name not in gone and not (pinch.key and pinch.key in keys)
        }

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
            held = self._held_percent(pinch)
            if self._free(place) and phrase.kind == "percent" and wanted and held is not None:
                self.seasonings[name] = replace(pinch, amount=phrase.measure, already=held)
                self.used.add(place)

    def _held_percent(self, pinch: Pinch) -> Measure | None:
        """What is in it already, in percent: as said, or "25 g salt in 2 kg"; None where the weight is not there."""
        if pinch.amount is None or pinch.amount.unit == "percent":
            return pinch.amount
        weights = [p for p in self._places(Amount) if self._free(p) and self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        if len(weights) != 1 or pinch.per is not None or units.kind(pinch.amount.unit) != "mass":
            return None
        meat: Measure = self.phrases[weights[0]].measure  # type: ignore[attr-defined]
        if meat.value <= 0:
            return None
        share = units.grams(pinch.amount.value, pinch.amount.unit) / units.grams(meat.value, meat.unit)
        return Measure(share * 100, "percent")

    def _figure_between(self, place: int, name: int) -> bool:
        """ "6 lb at 1 tsp salt": what is nearer to the name is its own."""
        between = self.phrases[min(place, name) + 1 : max(place, name)]
        return any(isinstance(phrase, Amount | Count | Rate) for phrase in between)

    def _figure_beside(self, place: int) -> bool:
        """Whether an amount stands just before or after a word ("cold water 5", "10% cold water")."""
        before = place - 2 if self._is_word(place - 1, "of") else place - 1
        return any(isinstance(self._at(at), Amount | Count | Rate) for at in (before, place + 1))

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
            if tight and (distance > 1 or self._figure_between(place, name)):
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
            salted = measure.value <= _SEASONED and self._is_word(lone[0] - 1, "cue", "how_much")
            if measure.unit == "percent" and self.items and not salted:
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
        """ "3/4 tsp kosher per lb": the weight that the amount is counted on stands after the name; in "4 tsp in 6 lb,
        how much is that a pound" it is the weight that a rate is asked for."""
        for place in self._places(Per):
            phrase = self.phrases[place]
            assert isinstance(phrase, Per)
            left = [name for name in self.seasonings if name < place] or list(self.seasonings)
            pending = [n for n in left if self.seasonings[n].per is None and self.seasonings[n].amount is not None]
            pending = [n for n in pending if not self._is_in_total(n)]
            if self._rate_is_asked(place):
                if self.plan.per is None:
                    self._set(per=phrase.per)
                    self.used.add(place)
            elif pending:
                if all(self.seasonings[n].amount.unit == "percent" for n in pending):  # type: ignore[union-attr]
                    # "how many tsp of salt per lb is 1.5%": a percent needs no weight, so this is the one asked for
                    self._set(per=phrase.per)
                for name in pending:
                    if self.seasonings[name].amount.unit != "percent":  # type: ignore[union-attr]
                        self.seasonings[name] = replace(self.seasonings[name], per=phrase.per)
                self.used.add(place)
            elif left and any(self.seasonings[name].amount is not None for name in left) and self.plan.per is None:
                self._set(per=phrase.per)
                self.used.add(place)
            elif left and self._no_weight_said() and self.plan.per is None:
                # "how much salt per lb": so much meat is what it is asked for
                self._set(batch=phrase.per)
                self.used.add(place)

    def _no_weight_said(self) -> bool:
        return not any(isinstance(p, Amount | Rate) for p in self.phrases) and len(self._places(Per)) == 1

    def _rate_is_asked(self, place: int) -> bool:
        """Whether "per lb" is what is wanted: a question, or the weight of the batch, stands between it and the food."""
        for at in range(place - 1, -1, -1):
            phrase = self.phrases[at]
            if isinstance(phrase, Word):
                if phrase.kind == "cue" and (phrase.payload in _ASKING or phrase.payload.startswith("unit:")):
                    return True
                continue
            return isinstance(phrase, Amount) and phrase.kind == "weight" and at not in self.used
        return False

    def _finished_weight(self) -> None:
        percents = [p for p in self._places(Amount) if self.phrases[p].kind == "percent"]  # type: ignore[attr-defined]
        # "2% of the meat", "2% salt of the meat", "8% rusk and 10% water, both on the meat"
        told = {place + step for place in percents for step in (1, 2)}
        of_meat = any(
            at in told or self._is_word(at - 1, "cue", "together") for at in self._word_places("cue", "meat_only")
        )
        if self.sentence.has("of_total") and not of_meat and not self._finished_is_asked():
            by_weight = _PER_FINISHED.search(self.sentence.text) is not None
            self.seasonings = {
                place: _of_the_finished(pinch, by_weight=by_weight) for place, pinch in self.seasonings.items()
            }

    def _finished_is_asked(self) -> bool:
        """ "… what's the finished weight?": what is asked for, and not what the percents are of."""
        cue = self.sentence.cue("of_total")
        if cue is None or cue.text.lower().startswith("of "):
            return False
        place = self.phrases.index(cue)
        mark = self._at(place + 1)
        return self._is_word(place - 1, "cue", "what") or (isinstance(mark, Word) and mark.text == "?")

    def _is_finished(self, place: int) -> bool:
        """ "finished weight 4 kg", "10 lb finished sausage": the batch with its seasonings in it."""
        before = place - 2 if self._is_word(place - 1, "cue", "want", "must_be") else place - 1
        after = place + 2 if self._is_word(place + 1, "of") else place + 1
        said = [p for p in (before, after) if self._is_word(p, "cue", "of_total")]
        return any(re.search(r"(?:weight?|sausages?|batch)$", self.phrases[p].text.lower()) for p in said)

    def _bare_batch(self) -> None:
        """ "3 tbsp per 5 lb, how much for 12", "for every 4 lb. have 10": a number in the unit spoken of last."""
        if self.plan.batch is not None or not self.seasonings:
            return
        counted_on = [pinch.per for pinch in self.seasonings.values()] + [self.plan.recipe_for]
        # "2 tsp per cup … have 10": meat is weighed, whatever the rate is counted on
        unit = next((per.unit for per in counted_on if per is not None and units.kind(per.unit) == "mass"), None)
        place = self._wished_number()
        if unit and place is not None:
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            self._set(batch=Measure(phrase.value, unit, phrase.high))
            self.used.add(place)

    def _wished_number(self) -> int | None:
        """A bare number after "have", "making", "for": how much is wanted of what was written for another weight."""
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            led = self._is_word(place - 1, "cue", "have", "scale_to", "make_it", "want", "into")
            led = led or bool({"for", "doing"} & (self._gap(place - 1, place) | set(phrase.text.lower().split())))
            if led and self._free(place) and not phrase.piece and not phrase.proportion:
                return place
        return None

    def _is_recipe_weight(self, place: int) -> bool:
        """Whether a weight is the one that the amounts were written for: said so, or the first of two for plain
        amounts ("30 g salt, 6 g pepper does 2 kg. do me 3 kg")."""
        if not self.seasonings:
            return False
        if self._says_recipe(place):
            return True
        weights = [
            at
            for at in self._places(Amount)
            if self.phrases[at].kind == "weight" and (self._free(at) or at == place)  # type: ignore[attr-defined]
        ]
        if any(self._says_recipe(at) for at in weights):
            return False
        written = all(p.amount is not None and p.per is None and p.amount.unit != "percent" for p in self._pinches())
        if not written or self.items or not 1 <= len(weights) <= 2:
            return False
        if len(weights) == 1 and written and not self.items and self._wished_number() is not None:
            # "2 tsp salt for 3 lb, making 6"
            return True
        if len(weights) != 2:
            return False
        wished = [at for at in weights if self._is_wished(at)]
        written_for = next((at for at in weights if at not in wished), None) if wished else weights[0]
        return place == written_for

    def _says_recipe(self, place: int) -> bool:
        if self._is_word(place + 1, "cue", "recipe_for") and self.phrases[place + 1].text.lower() == "uses":
            # "10 lb uses 3 tbsp salt"
            return True
        written = self._is_word(place + 1, "cue", "mix") and self.phrases[place + 1].text.lower().endswith("recipe")
        return written or any(self._is_word(at, "cue", "recipe_for") for at in range(max(0, place - 2), place + 1))

    def _pinches(self) -> list[Pinch]:
        return list(self.seasonings.values())

    def _is_wished(self, place: int) -> bool:
        """Whether "have", "want", "do me" stand before a weight in its own clause."""
        for at in range(place - 1, max(-1, place - 5), -1):
            if self._is_word(at, "sep") or isinstance(self.phrases[at], SeasoningName | Amount):
                return False
            if self._is_word(at, "cue", "have", "want", "make_it", "scale_to", "how_much", "into", "what_about"):
                return True
        return False


def _times_said(text: str) -> Fraction:
    """twice, half as much, three times, as much."""
    first = text.lower().split()[0]
    return {"half": Fraction(1, 2), "three": Fraction(3), "as": Fraction(1), "than": Fraction(1)}.get(
        first, Fraction(2)
    )


_PER_FINISHED = Pattern(
    r"\b(?:per|every|each|an?|to the|/) ?(?:kilo\w*|kg|pound|lb)s? of (?:the )?finished (?:sausages?|mix\w*|batch|weight)\b",
    re.IGNORECASE,
)


def _of_the_finished(pinch: Pinch, *, by_weight: bool) -> Pinch:
    """A percent is of the finished weight; so is so much "per kilo of finished sausage", which is a percent too."""
    amount, per = pinch.amount, pinch.per
    if amount is None:
        return pinch
    if amount.unit == "percent":
        return replace(pinch, of_total=True)
    masses = units.kind(amount.unit) == "mass" and (per is None or units.kind(per.unit) == "mass")
    if not (by_weight and masses):
        return replace(pinch, of_total=False)
    whole = (
        units.grams(per.value, per.unit) if per is not None else units.grams(1, "kg" if amount.unit == "g" else "lb")
    )
    share = units.grams(amount.value, amount.unit) / whole * 100
    return replace(pinch, amount=Measure(share, "percent"), per=None, of_total=True)
