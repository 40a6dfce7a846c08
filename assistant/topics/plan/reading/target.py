"""Which figure is the fat that is wanted: the one that looks most like it, by what stands beside it."""

from __future__ import annotations

from functools import cached_property

from assistant import data
from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Parts,
    Patties,
    Phrase,
    SeasoningName,
    Word,
)
from assistant.topics.plan.reading.odd import figure_of
from assistant.topics.plan.reading.ratio import Ratios

_LEAN_SAID = 65
"""From here on a bare number said of a batch is its lean. A choice, no source."""
_LEANEST_SAID = 3
"""Percent. A bare one or two is a number of something: no grind is as lean as that. A choice, no source."""
_FATTEST_GRIND = 60
"""Percent. Fatter is nobody's mince; what is said of it is said of a meat. A choice, no source."""


class Target(Ratios):
    """The wanted fat."""

    def _find_target(self) -> None:
        if self._split_range() or self._window():
            return
        self._ratio_of_two()
        if self.plan.ratio is not None or any(item.parts is not None for item in self.items):
            return
        best: tuple[int, int] | None = None
        for place, phrase in enumerate(self.phrases):
            score = self._target_score(place, phrase) if self._free(place) else 0
            if score > 0 and (best is None or score >= best[0]):
                best = (score, place)
        wanted = best[1] if best is not None else self._odd_one_out()
        if wanted is not None and not self._only_asks_for_the_fat():
            self._take_target(wanted)

    def _only_asks_for_the_fat(self) -> bool:
        """ "fat content please: venison 1.8 kg at 3%, pork shoulder 1.2 kg at 20%": as many weights and figures as meats."""
        weights = [p for p in self._places(Amount) if self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        figures = [p for p in range(len(self.phrases)) if self._is_fat_figure(p) or self._after_at(p)]
        wanted = self.sentence.has("want", "make_it", "must_be", "too_fat", "too_lean")
        asked = not wanted and (self.sentence.has("composition") or self._each_has_its_own(weights, figures))
        return asked and len(self.items) > 1 and len(figures) == len(weights) == len(self.items)

    def _after_at(self, place: int) -> bool:
        """ "brisket 500 g at 30": a bare number that can be a fat."""
        number = self._at(place)
        plain = isinstance(number, Count) and not number.piece and not number.proportion
        return plain and self._is_word(place - 1, "at") and number.value >= _LEANEST_SAID  # type: ignore[union-attr]

    def _each_has_its_own(self, weights: list[int], figures: list[int]) -> bool:
        """ "chuck 3 lb 20%, sirloin 1 lb 10% fat": beside every cut a weight and a fat, and nothing is left over."""
        if any(isinstance(phrase, Fatness) and phrase.ratio for phrase in self.phrases) or len(self.mentions) < 2:
            return False
        near = [{m.place + step for step in (-2, -1, 1, 2)} for m in self.mentions]
        ends = [m.place for m in self.mentions[1:]] + [len(self.phrases)]
        # "chuck is 16% and I've 2 kg, brisket 500 g at 30%": all that is said from one cut to the next
        after = [set(range(m.place, end)) for m, end in zip(self.mentions, ends, strict=True)]
        return any(
            all(len(places & set(weights)) == len(places & set(figures)) == 1 for places in spans)
            for spans in (near, after)
        )

    def _take_target(self, place: int) -> None:
        phrase = self.phrases[place]
        self.used.add(place)
        self.target_place = place
        if isinstance(phrase, Fatness):
            self._set(
                target=phrase.fat,
                target_is=phrase.bound,
                target_reversed=phrase.reversed_,
                target_high=phrase.high,
            )
        elif isinstance(phrase, Amount | Count):
            value, upper = figure_of(phrase)
            if self._bare_lean(place, phrase):
                value = 100 - value
            elif value > _FATTEST_GRIND and upper is None and len(self.items) > 1:
                # "5 lb from chuck and brisket at 85%": nobody's mince is so fat, and how it was read is told
                value = 100 - value
                self._set(target_reversed=True)
            self._set(target=value, target_is=phrase.bound, target_high=upper)
        for beside in (place - 1, place + 1):
            if self._is_word(beside, "at") or self._is_word(beside, "cue", "want", "too_lean", "too_fat"):
                self.used.add(beside)

    def _split_range(self) -> bool:
        """ "short rib 36 and chuck 18 to 25% fat": beside a cut's plain figure, what reads as a range is
        the next cut's fat and the fat that is wanted."""
        others = [p for p in self._places(Count) if isinstance(self._at(p - 1), CutName)]
        if not others or len(self.items) < 2:
            return False
        for place, phrase in enumerate(self.phrases):
            figure = isinstance(phrase, Fatness) or (isinstance(phrase, Amount) and phrase.kind == "percent")
            beside = isinstance(self._at(place - 1), CutName) and " to " in phrase.text
            if not (figure and beside):
                continue
            item = self._item_at(place - 1)
            low = phrase.fat if isinstance(phrase, Fatness) else phrase.measure.value  # type: ignore[attr-defined]
            high = phrase.high if isinstance(phrase, Fatness) else phrase.measure.high  # type: ignore[attr-defined]
            if item is not None and high is not None:
                self._change(item, fat=low)
                self._set(target=high)
                self.used.add(place)
                return True
        return False

    def _window(self) -> bool:
        """ "not more than 25% fat and not less than 20": a least and a most, of which one is called fat."""
        ends: dict[Bound, int] = {}
        for place, phrase in enumerate(self.phrases):
            figure = isinstance(phrase, Fatness | Count) or (isinstance(phrase, Amount) and phrase.kind == "percent")
            bound = phrase.bound if isinstance(phrase, Fatness | Count | Amount) else Bound.IS
            if figure and bound in (Bound.LEAST, Bound.MOST) and self._item_at(place + 1) is None:
                ends[bound] = place
        if len(ends) != 2 or not any(isinstance(self.phrases[place], Fatness) for place in ends.values()):
            return False
        low, high = (figure_of(self.phrases[ends[bound]])[0] for bound in (Bound.LEAST, Bound.MOST))
        self._set(target=min(low, high), target_high=max(low, high))
        self.used.update(ends.values())
        return True

    def _target_score(self, place: int, phrase: Phrase) -> int:
        """How much a figure looks like the fat that is wanted. Above 0: it may be; the highest is taken."""
        if self._is_lean_meat(phrase) or (
            "to" in self._gap(place + 1, place + 2) and self._item_at(place + 2) is not None
        ):
            return 0
        if isinstance(phrase, Fatness):
            score = 5 if phrase.ratio else 3
            if phrase.grade:
                score = 2
        elif isinstance(phrase, Amount) and phrase.kind == "percent":
            score = 0
        elif self._bare_lean(place, phrase):
            return 4
        elif (
            isinstance(phrase, Count)
            and not phrase.piece
            and not phrase.proportion
            and _LEANEST_SAID <= phrase.value <= 60
        ):
            score = -1
        else:
            return 0
        if isinstance(phrase, Fatness | Amount | Count) and phrase.bound in (Bound.LEAST, Bound.MOST):
            score -= 1
        before, after = place - 1, place + 1
        if self._is_word(before, "cue", "crowd", "how_many") or self._counts_links(place):
            return 0
        if isinstance(phrase, Amount) and self._is_word(after, "cue", "lose", "trim_loss", "bone"):
            # "need 15 lb after 12% trim loss"
            return 0
        if isinstance(phrase, Amount) and phrase.kind == "percent" and self._is_cut_off(place):
            return 0
        made = self._made_from_labels
        if place in made:
            return 12 if place == made[0] else 0
        gap = self._gap(before, place)
        asked = False
        if self._is_word(before, "bound"):
            before -= 1
        if self._is_word(before, "of") and self._is_word(before - 1, "sep", ","):
            before -= 1
            if isinstance(self._at(before - 1), Amount):
                score += 5
        plain = isinstance(phrase, Amount)
        if isinstance(phrase, Amount) and self._any_seasoning() and not self.items:
            return 0
        wished = before - 1 if self._is_word(before, "cue", "want", "must_be", "make_it") else before
        if isinstance(phrase, Amount) and isinstance(self._at(wished), SeasoningName):
            # "salt to 1.5%", "salt to be 1.6%"
            return 0
        if isinstance(phrase, Count) and not self.items and (self._any_seasoning() or not self._any_fat()):
            return 0
        if isinstance(phrase, Count) and not self.items and self._shapes_without_fat():
            # "six bangers to the pound, I need 54"
            return 0
        if isinstance(phrase, Count) and not self.items and not self._other_fat() and self.sentence.has("make_it"):
            # "make it 6" changes a batch: of what, is for the talk to say
            return 0
        if self._weighed_ratios(place) or (self._is_word(before, "at") and self._is_word(before - 1, "side", "lean")):
            return 0
        if self._is_word(before, "side", "fat") and not self._names_a_fat():
            # "fat 22, 4 lb": the word for fat stands before its figure
            self.used.add(before)
            return 9
        if isinstance(phrase, Fatness) and phrase.fat > _FATTEST_GRIND and not self._is_word(before, "cue", "want"):
            # "dripping to use up, 100% fat": no grind is as fat as that, so it is some meat's
            return 0
        if self._two_mixes(phrase):
            score -= 9
        score -= self._told_as_it_is(place)
        if self.product is not None and self._after_product(place):
            score += 8
        if self._is_word(after, "cue", "final"):
            self.used.add(after)
            score += 6
            asked = True
        if self._is_word(before, "cue", "this") and self._is_word(before - 1, "cue", "want", "make_it"):
            before -= 1
        if self._is_word(before, "cue", "want", "too_lean", "too_fat", "into", "make_it", "must_be"):
            asked = not (plain and isinstance(self._at(after), CutName))
            score += 6 if asked else 0
        elif gap & {"for", "to"}:
            score += 5
            asked = True
        if self._is_word(before, "at") and self._is_word(before - 1, "cue", "want", "works_out"):
            score += 6
            asked = True
        elif self._of_all_named(place):
            score += 9
            asked = True
        elif self._is_word(before, "at") or self._is_word(before, "of"):
            owner = self._at(before - 1)
            if (
                self._of_what_is_made(before, after, phrase)
                or (isinstance(owner, Amount) and owner.kind == "weight")
                or (self._fat_of_cut(before - 1) and self._is_word(before, "at"))
            ):
                score += 5
            elif (self._item_at(before - 1) is not None and not isinstance(owner, CutName)) or (
                isinstance(owner, CutName)
                and not (isinstance(phrase, Fatness) and phrase.ratio and self._ratios() == 1)
            ):
                score -= 6
            elif (owner is None or isinstance(owner, Word)) and (isinstance(phrase, Fatness) or len(self.phrases) <= 4):
                score += 3
        elif isinstance(self._at(before), Amount) and not asked:
            weight = self._at(before)
            assert isinstance(weight, Amount)
            if weight.kind == "weight" and not isinstance(self._at(before - 1), CutName):
                score += 3
        elif isinstance(self._at(before), CutName) and not asked and not self._lone_ratio(phrase):
            score -= 7
        if self._is_word(before, "open") or (not asked and self._is_ground(before) and len(self.items) > 1):
            score -= 9
        if self._is_word(before, "at") and not asked and self._is_ground(before - 1) and self._all_weighed():
            # "2 lb ground turkey at 93/7 and half a pound of bacon": its label, and every weight is said
            score -= 9
        if not asked and self._item_at(after) is not None and not self._lone_after(place):
            score -= 7
        if not asked and self._seasoning_near(place):
            score -= 9
        after_cut = self._is_word(before, "sep", ",") and isinstance(self._at(before - 1), CutName)
        if after_cut and not asked and not self._only_figure(phrase):
            score -= 4
        if isinstance(phrase, Amount) and self._item_near(place):
            score -= 3
        return score

    def _of_what_is_made(self, before: int, after: int, phrase: Phrase) -> bool:
        """ "2.5 kg mince at 18% from shin and brisket": the fat of the mince that the cuts are to make."""
        weight = before - 3 if self._is_word(before - 2, "of") else before - 2
        mince = self._is_word(before, "at") and self._is_word(before - 1, "cue", "mix")
        weighed = isinstance(heap := self._at(weight), Amount) and heap.kind == "weight"
        asked = self.sentence.has("composition", "works_out", "total")
        made = self._is_word(after, "cue", "out_of") or (self._only_figure(phrase) and not asked)
        return mince and weighed and made

    def _of_all_named(self, place: int) -> bool:
        """ "From chuck and brisket at 18%", "20% from chuck and suet": the one figure, before what goes in or after all."""
        named = [mention.place for mention in self.mentions]
        phrase = self.phrases[place]
        if len(named) < 2 or not self._only_figure(phrase) or figure_of(phrase)[0] > _FATTEST_GRIND:
            return False
        start = next((at for at in range(named[0]) if self._is_word(at, "cue", "out_of")), None)
        after = place - 1 == named[-1] + 1 and self._is_word(place - 1, "at")
        if start is not None:
            return place == start - 1 or after
        # "burgers for 12, round and chuck at 15%"
        return after and named[-2] == named[-1] - 2 and self._is_word(named[-1] - 1, "join")

    @cached_property
    def _shaped(self) -> bool:
        """Whether patties or sausages are counted or named."""
        return bool(self._places(Patties)) or any(self._counts_links(place) for place in self._places(Count))

    def _shapes_without_fat(self) -> bool:
        """Whether the line is about patties or sausages and says nothing of fat."""
        return self._shaped and not self._other_fat() and not self.sentence.has("too_lean", "too_fat")

    @cached_property
    def _made_from_labels(self) -> tuple[int, ...]:
        """ "10 kg of 85/15 out of 3 kg of 70/30 and 95/5": the label before the from is what is made, and those after it
        what goes in. Empty where the line is not of that shape."""
        start = next((at for at in range(len(self.phrases)) if self._is_word(at, "cue", "out_of")), -1)
        labels = [p for p in self._places(Fatness) if self._is_label(p)]
        if start < 0 and len(labels) > 2:
            # "I want burgers that are 80/20, I have 93/7 and 70/30 ground beef"
            start = self._had_after_a_wish()
        before, after = [p for p in labels if p < start], [p for p in labels if p > start]
        wished = any(self._is_word(p - 1, "cue", "want", "make_it", "must_be") for p in after)
        named = any(self._item_at(at) is not None for p in before for at in (p - 1, p + 1))
        return (*before, *after) if len(before) == 1 and after and not wished and not named else ()

    def _is_label(self, place: int) -> bool:
        """80/20, "93 lean", 95CL."""
        phrase = self.phrases[place]
        return isinstance(phrase, Fatness) and (phrase.ratio or phrase.said_as_lean)

    def _had_after_a_wish(self) -> int:
        """Where "I have" follows "I want"; -1 for nowhere."""
        want = next((at for at in range(len(self.phrases)) if self._is_word(at, "cue", "want")), None)
        later = range(len(self.phrases)) if want is None else range(want, len(self.phrases))
        return -1 if want is None else next((at for at in later if self._is_word(at, "cue", "have")), -1)

    def _names_a_fat(self) -> bool:
        """Whether a fat is among the meats, whose figure "fat 70%" would be."""
        return any("fat" in item.name.split() for item in self.items)

    @staticmethod
    def _is_lean_meat(phrase: Phrase) -> bool:
        """ "5% lean": nobody means meat that is 95 % fat; it is lean meat of 5 % fat."""
        return isinstance(phrase, Fatness) and phrase.said_as_lean and phrase.fat > 70

    def _any_seasoning(self) -> bool:
        return any(isinstance(phrase, SeasoningName) for phrase in self.phrases)

    def _any_fat(self) -> bool:
        """Whether the line speaks of fat at all: a ratio, a percent, or a cue such as too lean."""
        return any(
            isinstance(phrase, Fatness) or (isinstance(phrase, Amount) and phrase.kind == "percent")
            for phrase in self.phrases
        ) or self.sentence.has("too_lean", "too_fat", "want", "make_it")

    def _bare_lean(self, place: int, phrase: Phrase) -> bool:
        """ "3 lb @ 82": a number as large as this, said of the batch's weight, is the lean of it."""
        weight = self._at(place - 2)
        of_batch = isinstance(weight, Amount) and weight.kind == "weight" and self._is_word(place - 1, "at")
        if not (isinstance(phrase, Count) and of_batch) or phrase.piece or phrase.proportion:
            return False
        return _LEAN_SAID <= phrase.value <= 98 and len(self.items) > 1

    def _other_fat(self) -> bool:
        return any(self._is_fat_figure(place) for place in range(len(self.phrases)))

    def _two_mixes(self, phrase: Phrase) -> bool:
        """ "equal amounts of 80/20 and 93/7": ratios beside each other are what is mixed, not what is wanted."""
        return isinstance(phrase, Fatness) and phrase.ratio and not self.items and self.sentence.has("equal")

    def _told_as_it_is(self, place: int) -> int:
        """ "came out at 28%", "is 27%": what the meat is, not what it should be."""
        if any(self._is_word(at, "cue", "want", "make_it", "must_be") for at in (place - 1, place - 2)):
            return 0
        start = self.phrases[max(0, place - 3)].first
        words = self.sentence.text[start : self.phrases[place].first].lower().replace("'", "").split()
        if {"came", "was", "were", "tested", "turned", "ended"} & set(words[-5:]):
            return 9
        if self._has_and_wants(place):
            return 9
        return 3 if words[-1:] in (["is"], ["its"], ["at"]) and {"is", "its"} & set(words[-3:]) else 0

    def _has_and_wants(self, place: int) -> bool:
        """ "4 lb at 12% fat. want 20": told of a weight, where another figure is what is wanted."""
        phrase, at = self.phrases[place], place - 1
        while self._is_word(at, "at") or self._is_word(at, "of") or self._is_word(at, "cue", "out_in", "this", "mix"):
            at -= 1
        weight = self._at(at)
        heap = isinstance(weight, Amount) and weight.kind == "weight" and at < place - 1
        if not heap or (isinstance(phrase, Fatness) and phrase.ratio):
            return False
        later = range(place + 1, len(self.phrases))
        wished = [p for p in later if self._is_word(p - 1, "cue", "want", "must_be")]
        return any(isinstance(self.phrases[p], Count | Fatness) or self._is_fat_figure(p) for p in wished)

    def _after_product(self, place: int) -> bool:
        """ "2 kg of pork mince at 25% from …": the fat said of what is made."""
        before = place - 2 if self._is_word(place - 1, "at") else place - 1
        named = self._at(before)
        return isinstance(named, CutName) and self.product is not None and named.name == self.product.name

    def _is_ground(self, place: int) -> bool:
        """ "2 lb ground beef 80/20 and 1 lb ground pork": the ratio on the label of what is ground already."""
        item = self._item_at(place)
        keys = self.items[item].keys if item is not None else ()
        return bool(keys) and all(data.cuts()[key].kind == "ground" for key in keys if key in data.cuts())

    def _weighed_ratios(self, place: int) -> bool:
        """ "3 lb 90/10 with 2 lb 73/27", "1 kg of 5% mince and 500 g of 20% mince", "3 parts 95 lean to 1 part 73
        lean": labels that each have a weight or parts are meats in hand."""
        weighed = self._weighed_fatness
        if place in weighed and self._is_of_a_heap(place):
            return True
        if len(self._other_labels) > 1 and place in self._other_labels:
            return True
        return place in weighed and len(weighed) > 1 and not self._is_word(place - 1, "at")

    def _is_of_a_heap(self, place: int) -> bool:
        """ "3 lb sirloin tip with a lb and a half of 70/30, whats the ratio": asked what it comes to, a weighed label is
        meat in hand."""
        asked = self.sentence.has("composition", "left_with", "works_out", "add", "total")
        wanted = self.sentence.has("want", "make_it", "must_be", "too_fat", "too_lean", "out_of", "rest")
        weights = [p for p in self._places(Amount) if self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        each = len(weights) == len(self.items) + len(self._weighed_fatness)
        tied = self._is_word(place - 1, "of") or isinstance(self._at(place - 1), Amount)
        ratio = self.phrases[place]
        return (
            asked and not wanted and each and tied and isinstance(ratio, Fatness) and ratio.ratio and bool(self.items)
        )

    @cached_property
    def _other_labels(self) -> frozenset[int]:
        parted = [p for p in self._places(Fatness) if isinstance(self._at(p - 1), Parts)]
        packed = [p for p in self._places(Amount) if self._is_word(p - 1, "of") and self._labels_mince(p)]
        if not self.items and not self.sentence.has("want", "make_it", "must_be", "too_fat", "too_lean"):
            # "1.2 kg mince at 25%, 0.8 kg at 10%, what is it"
            heaps = [p for p in self._places(Amount) if self._is_fat_figure(p)]
            heaps += [p for p in self._places(Count) if self._is_word(p - 1, "at") and self._heap_weight(p)]
            packed = heaps if all(self._heap_weight(p) for p in heaps) else packed
        return frozenset(parted if len(parted) > 1 else packed)

    @cached_property
    def _weighed_fatness(self) -> frozenset[int]:
        # found once: it is asked of every figure, and a long line may have hundreds
        return frozenset(place for place in self._places(Fatness) if self._has_weight_before(place))

    def _heap_weight(self, place: int) -> bool:
        at = place - 1
        while self._is_word(at, "at") or self._is_word(at, "of") or self._is_word(at, "cue", "mix", "pack"):
            at -= 1
        before = self._at(at)
        # "4.5 kg at 23% made up to 5 kg at 20%": what it is made up to is no heap
        if not (isinstance(before, Amount) and before.kind == "weight" and at < place - 1):
            return False
        return "to" not in self._gap(at - 1, at) and before.bound not in (Bound.LEAST, Bound.MOST)

    def _labels_mince(self, place: int) -> bool:
        phrase = self.phrases[place]
        percent = isinstance(phrase, Amount) and phrase.kind == "percent"
        return percent and self._has_weight_before(place) and self._is_word(place + 1, "cue", "mix", "pack")

    def _has_weight_before(self, place: int) -> bool:
        before = self._at(place - 2 if self._is_word(place - 1, "of") else place - 1)
        return isinstance(before, Amount) and before.kind == "weight"

    def _fat_of_cut(self, place: int) -> bool:
        """Whether the figure at a place stands beside a cut, as its fat ("suet 90% at 20")."""
        figure = self._at(place)
        if not (isinstance(figure, Fatness | Count) or (isinstance(figure, Amount) and figure.kind == "percent")):
            return False
        return isinstance(self._at(place - 1), CutName)

    def _ratios(self) -> int:
        return sum(isinstance(phrase, Fatness) and phrase.ratio for phrase in self.phrases)

    def _lone_ratio(self, phrase: Phrase) -> bool:
        """ "chuck and suet 80/20": the only ratio of a line with several cuts is the target, wherever it stands."""
        if not isinstance(phrase, Fatness) or len(self.items) < 2:
            return False
        return self._only_figure(phrase) or (phrase.ratio and self._ratios() == 1)

    def _only_figure(self, phrase: Phrase) -> bool:
        """The only fat or percent of a line that names several cuts."""
        figures = [p for p in self.phrases if isinstance(p, Fatness) or (isinstance(p, Amount) and p.kind == "percent")]
        return figures == [phrase] and len(self.items) > 1

    def _lone_after(self, place: int) -> bool:
        """ "4 lb 80/20 brisket and round" with one ratio and several cuts: the target as well."""
        return self._lone_ratio(self.phrases[place])

    def _item_near(self, place: int) -> bool:
        return any(isinstance(self._at(near), CutName) for near in (place - 1, place + 1))
