"""Fats and weights: which figure belongs to which cut."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant import data
from assistant.language.phrases import Amount, Bound, Count, CutName, Fatness, Parts
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.cut_shares import CutShares
from assistant.topics.plan.reading.marks import Mention
from assistant.topics.plan.reading.odd import figure_of
from assistant.topics.plan.request import Item

_POSSIBLE_FAT = Fraction(100)
_ALL_FAT = Fraction(60)
"""Percent: what suet, back fat and dripping have at the least, and no batch has of them. A choice."""


_BRINGS = Pattern(r"(?:to |so )?(?:bring|get|take|knock|top|bulk|turn|fatten|thin)\w*\b.*\b(?:it|this|that|down|up)\b")
"""Bringing what there is to another fat: the weight that was said stays what there is."""


_IT_TO = Pattern(
    r"\b(?:want|need|get|bring|take|lift|raise|push|like)\s+(?:it|this|that|them)\s+(?:up\s+|down\s+)?(?:to|at)\b",
    re.IGNORECASE,
)
_WISHES = ("want", "make_it", "into")
_HOW_MUCH_FAT = Pattern(r"\bhow much (?:of )?(?:the|that) (?:\w+ )?(?:fat|suet|trim)\b", re.IGNORECASE)


def is_brought(sentence: Sentence) -> bool:
    """Whether what there is is brought to another fat, in whichever words."""
    text = sentence.text
    if _HOW_MUCH_FAT.search(text) is not None or _IT_TO.search(text) is not None:
        return True
    return any(_BRINGS.match(word.text.lower()) for word in sentence.words("cue"))


class Figures(CutShares):
    """The figures of each cut."""

    def _give_fats(self) -> None:
        self._lean_meats()
        self._fat_named_short()
        names = self._name_places()
        self._limits_in_percent(names)
        figures = [
            place
            for place, phrase in enumerate(self.phrases)
            if self._free(place)
            and (isinstance(phrase, Fatness) or (isinstance(phrase, Amount) and phrase.kind == "percent"))
            and not self._labels_a_heap(place)
        ]
        for place, name in self._pairs(figures, names, 12, before=0, after=0):
            phrase = self.phrases[place]
            item = self._item_at(name)
            assert item is not None
            if not self._free(place) or self.items[item].fat is not None:
                continue
            fat = phrase.fat if isinstance(phrase, Fatness) else phrase.measure.value  # type: ignore[attr-defined]
            about = phrase.bound is Bound.ABOUT  # type: ignore[attr-defined]
            upper = phrase.high if isinstance(phrase, Fatness) else phrase.measure.high  # type: ignore[attr-defined]
            self._change(item, fat=fat, fat_about=about, fat_high=upper)
            self.used.add(place)
        self._fat_of_the_fat()
        self._limit_of_the_fat()
        for place, phrase in enumerate(self.phrases):
            if self._free(place) and isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
                self._bare_fat(place, phrase, names)
        self._mixes()
        self._two_fats_of_one()
        self._equal_parts()

    def _limit_of_the_fat(self) -> None:
        """ "…, fat no more than 1 kg": the one fat of the line, named short, with a limit."""
        fats = [index for index, item in enumerate(self.items) if "fat" in item.name.split() and item.weight is None]
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            limit = phrase.kind == "weight" and phrase.bound in (Bound.LEAST, Bound.MOST)
            if self._free(place) and limit and self._is_word(place - 1, "side", "fat") and len(fats) == 1:
                self._change(fats[0], weight=phrase.measure, weight_is=str(phrase.bound))
                self.used.update({place, place - 1})

    def _labels_a_heap(self, place: int) -> bool:
        """ "5 lb of 90/10, …": a ratio said of a weight, with no cut right after it, is of meat ground already."""
        phrase = self.phrases[place]
        if self._of_ground(place):
            return True
        known = self.plan.target is not None or self._is_of_a_heap(place)
        ratio = isinstance(phrase, Fatness) and phrase.ratio and known
        return ratio and self._has_weight_before(place) and self._item_at(place + 1) is None

    def _of_ground(self, place: int) -> bool:
        """ "4 lb of mince at 12% and suet", "2 kg of mince at 10% plus 500 g belly": the fat of a weighed mince."""
        mince = place - 2 if self._is_word(place - 1, "at") else place - 1
        weight = mince - 2 if self._is_word(mince - 1, "of") else mince - 1
        heap = self._at(weight)
        weighed = self._is_word(mince, "cue", "mix") and isinstance(heap, Amount) and heap.kind == "weight"
        return weighed and bool(self.items) and self._item_at(place + 1) is None

    def _fat_of_the_fat(self) -> None:
        """ "topside and brisket fat, topside 4%, fat 70%": the fat named short, with its figure."""
        fats = [index for index, item in enumerate(self.items) if "fat" in item.name.split() and item.fat is None]
        for place, phrase in enumerate(self.phrases):
            percent = isinstance(phrase, Amount) and phrase.kind == "percent"
            if self._free(place) and percent and self._is_word(place - 1, "side", "fat") and len(fats) == 1:
                self._change(fats[0], fat=phrase.measure.value, fat_about=phrase.bound is Bound.ABOUT)  # type: ignore[attr-defined]
                self.used.update({place, place - 1})
                return

    def _lean_meats(self) -> None:
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            # "beef fat (10% lean)" is told of the cut before it
            of_a_cut = self._item_at(place - 2 if self._is_word(place - 1, "open") else place - 1) is not None
            if self._free(place) and self._is_lean_meat(phrase) and self._item_at(place + 1) is None and not of_a_cut:
                self._add_lean(place, 100 - phrase.fat)
        for place in range(len(self.phrases)):
            # "how much lean (5%)", "lean at 5%"
            figure = place + 2 if self._is_word(place + 1, "open") or self._is_word(place + 1, "at") else place + 1
            beside = self._at(figure)
            percent = isinstance(beside, Amount) and beside.kind == "percent"
            if not (percent or isinstance(beside, Fatness)) or not self._free(figure):
                continue
            fat, _ = figure_of(self.phrases[figure])
            # "bison, super lean like 3%" describes the bison
            told_of_a_cut = self._is_word(place - 1, "sep") and self._item_at(place - 2) is not None
            if self._is_word(place, "side", "lean") and fat < 30 and not told_of_a_cut:
                self._add_lean(figure, fat)
                self.used.add(place)
        self.mentions.sort(key=lambda mention: mention.place)

    def _add_lean(self, place: int, fat: Fraction) -> None:
        self.items.append(Item(name=f"lean at {float(fat):g}% fat", fat=fat))
        self.mentions.append(Mention(place, len(self.items) - 1))
        self.used.add(place)

    def _pairs(self, places: list[int], names: list[int], reach: int, **how: int) -> list[tuple[int, int]]:
        """Figures and the names they may belong to, nearest pairs first; of equally near ones the earlier figure,
        and the name before it."""
        found = []
        for place in places:
            for distance, name in owners.nearest(self.phrases, place, names, **how):
                if distance < reach and self._item_at(name) is not None:
                    found.append((distance, place, name > place, name))
        return [(place, name) for _, place, _, name in sorted(found)]

    def _give_fat(self, place: int, names: list[int], fat: Fraction, bound: Bound, reach: int = 12) -> bool:
        for distance, name in owners.nearest(self.phrases, place, names, before=1, after=0):
            item = self._item_at(name)
            if item is None or distance >= reach or self.items[item].fat is not None:
                continue
            self._change(item, fat=fat, fat_about=bound is Bound.ABOUT)
            self.used.add(place)
            return True
        return False

    def _limits_in_percent(self, names: list[int]) -> None:
        """ "at least 40% chuck": a percent with a limit is a share of the batch, not fat."""
        for place, phrase in enumerate(self.phrases):
            if not (self._free(place) and isinstance(phrase, Amount) and phrase.kind == "percent"):
                continue
            if phrase.bound not in (Bound.LEAST, Bound.MOST):
                continue
            bound = phrase.bound
            if self._negated_wish(place):
                bound = Bound.MOST if bound is Bound.LEAST else Bound.LEAST
            for distance, name in owners.nearest(self.phrases, place, names, before=0, after=1):
                item = self._item_at(name)
                if item is not None and distance < 9 and self.items[item].share is None:
                    self._change(item, share=phrase.measure.value / 100, share_is=bound)
                    self.used.add(place)
                    break

    def _bare_fat(self, place: int, phrase: Count, names: list[int]) -> None:
        """ "suet's about 95", "bacon (call it 40)", "chuck 20, round 8"."""
        if not 0 < phrase.value <= _POSSIBLE_FAT or phrase.value.denominator > 10:
            return
        if self._is_word(place + 1, "cue", "pack"):
            return  # "chuck 2 packs"
        beside = (
            isinstance(self._at(place - 1), CutName)
            or self._item_at(place - 1) is not None
            or (self._is_word(place - 1, "open") and isinstance(self._at(place - 2), CutName))
            or self._is_word(place - 1, "cue", "make_it")
            or (self._is_word(place - 1, "at") and isinstance(self._at(place - 2), CutName))
            or (
                self._is_word(place - 1, "at")
                and self._is_word(place - 2, "cue", "have")
                and self._item_at(place - 3) is not None
            )
            or self._after_its_weight(place)
        )
        if beside:
            self._give_fat(place, names, phrase.value, phrase.bound, reach=6)

    def _after_its_weight(self, place: int) -> bool:
        """ "brisket 500 g at 30": a cut, what there is of it and its fat."""
        weight, cut = self._at(place - 2), self._item_at(place - 3)
        weighed = isinstance(weight, Amount) and weight.kind == "weight" and self._is_word(place - 1, "at")
        return weighed and cut is not None and self.items[cut].fat is None

    def _mixes(self) -> None:
        """ "4 lb of 90/10, want 80/20": a ratio that is neither a cut's nor the target is the meat in hand."""
        self._mix_in_percent()
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            if not self._free(place):
                continue
            if self._said_before(place, phrase) and not self._has_weight_before(place):
                # "75/25 75/25": the same label once more is no other meat
                self.used.add(place)
                continue
            weight = place - 2 if self._is_word(place - 1, "of") or self._is_word(place - 1, "at") else place - 1
            before = self._at(weight)
            name = phrase.text if phrase.ratio else f"{phrase.text} mix"
            item = Item(name=name, fat=phrase.fat)
            if isinstance(before, Amount) and before.kind == "weight" and self._free(weight):
                item = replace(item, weight=before.measure)
                self.used.update({weight})
            elif isinstance(before, Parts) and self._free(weight):
                item = replace(item, parts=before.value)
                self.used.update({weight})
            self.used.add(place)
            self.items.append(item)
            self.mentions.append(Mention(place, len(self.items) - 1))
        self._heap_apart()

    def _said_before(self, place: int, phrase: Fatness) -> bool:
        before = self._at(place - 1)
        return phrase.fat == self.plan.target or (isinstance(before, Fatness) and before.text == phrase.text)

    def _heap_apart(self) -> None:
        """ "mince is 14%, 2.4 kg of it, needs to be 20%", "the batch came out 14": beside a word for the mix, the fat
        that it has now; its weight may stand anywhere else in the line."""
        if self.plan.target is None or any(not item.keys and item.weight is not None for item in self.items):
            return
        weights = [p for p in self._places(Amount) if self._free(p) and self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        figures = [p for p in self._free_figures() if self._told_of_the_mix(p)]
        if len(weights) != 1 or len(figures) != 1 or not self.items:
            return
        fat, upper = figure_of(self.phrases[figures[0]])
        weight = self.phrases[weights[0]]
        assert isinstance(weight, Amount)
        name = f"mix at {float(fat):g}% fat"
        self.items.append(Item(name=name, fat=fat, fat_high=upper, weight=weight.measure))
        self.mentions.append(Mention(figures[0], len(self.items) - 1))
        self.used.update({figures[0], weights[0]})

    def _free_figures(self) -> list[int]:
        return [
            place
            for place, phrase in enumerate(self.phrases)
            if self._free(place)
            and (
                (isinstance(phrase, Amount) and phrase.kind == "percent")
                or isinstance(phrase, Fatness)
                or (
                    isinstance(phrase, Count) and not phrase.piece and not phrase.proportion and 1 <= phrase.value <= 70
                )
            )
        ]

    def _told_of_the_mix(self, place: int) -> bool:
        """Whether "mince is", "came out at", "it's" or the weight itself stands before a figure."""
        at = place - 1
        while self._is_word(at, "at") or self._is_word(at, "of") or self._is_word(at, "cue", "this", "out_in"):
            at -= 1
        if self._is_word(at, "cue", "mix", "too_fat", "too_lean") or self._is_word(place - 1, "cue", "out_in"):
            return True
        before = self._at(at)
        if isinstance(before, Amount) and before.kind == "weight":
            return True
        said = self.sentence.text[: self.phrases[place].first].lower().replace("'", "").split()
        return (at < 0 or self._is_word(at, "sep")) and said[-1:] == ["its"]

    def _mix_in_percent(self) -> None:
        """ "2.5 lb at 35", "my 10 lb is 27%": a weight with its fat beside it, where another fat is wanted."""
        for place, phrase in enumerate(self.phrases):
            if not self._free(place) or isinstance(phrase, Fatness):
                continue
            percent = isinstance(phrase, Amount) and phrase.kind == "percent"
            number = isinstance(phrase, Count) and not phrase.piece and 1 <= phrase.value <= 70
            led = number and self._is_word(place - 1, "at")
            labelled = self._of_a_pack(place) or self._of_ground(place) or place in self._other_labels
            if self.plan.target is None and not labelled:
                continue
            weight = self._heap_before(place)
            before = self._at(weight)
            if not (percent or led) or not (
                isinstance(before, Amount) and before.kind == "weight" and self._free(weight)
            ):
                continue
            fat = phrase.measure.value if isinstance(phrase, Amount) else phrase.value  # type: ignore[attr-defined]
            name = f"mix at {fat}% fat" if fat.denominator == 1 else f"mix at {float(fat):g}% fat"
            self.items.append(Item(name=name, fat=fat, weight=before.measure))
            self.mentions.append(Mention(place, len(self.items) - 1))
            self.used.update({place, weight})

    def _heap_before(self, place: int) -> int:
        """Where the weight of a labelled heap stands: "5 kg of mince at 8%", "500 g packs of 12%"."""
        at = place - 1
        while self._is_word(at, "at", "at") or self._is_word(at, "of") or self._is_word(at, "cue", "mix", "pack"):
            at -= 1
        return at

    def _of_a_pack(self, place: int) -> bool:
        """ "500 g packs of 12% mince", "750 g of 20% mince": a label on ground meat, without any target."""
        if self._is_word(place - 1, "cue", "pack") and self.phrases[place - 1].text.lower().endswith(" of"):
            return True
        return self._is_word(place - 1, "of") and (
            self._is_word(place - 2, "cue", "pack") or self._is_word(place + 1, "cue", "mix")
        )

    def _weigh_the_mix(self) -> None:
        """ "my mince came out at 28% fat, 3 kg of it": the one weight of the line is the mix's."""
        asked = self._asked_cut()
        heaps = [
            index
            for index, item in enumerate(self.items)
            if not item.keys and item.weight is None and index != asked and not item.name.startswith("lean")
        ]
        free = [
            place
            for place in self._places(Amount)
            if self._free(place) and self.phrases[place].kind == "weight"  # type: ignore[attr-defined]
        ]
        owned = len(free) == 1 and (
            self._item_at(free[0] + 1) is not None
            or (self._is_word(free[0] + 1, "of") and self._item_at(free[0] + 2) is not None)
        )
        if len(heaps) == 1 and len(free) == 1 and not owned and len(self.items) > 1 and self._is_heap(free[0]):
            phrase = self.phrases[free[0]]
            assert isinstance(phrase, Amount)
            self._weigh(heaps[0], free[0], phrase)

    def _is_heap(self, place: int) -> bool:
        of_it = self._is_word(place + 1, "of") and self._is_word(place + 2, "cue", "this")
        if self._asked_cut() is not None and self.plan.target is not None:
            return True
        return of_it or self.sentence.has("too_fat", "too_lean", "have") or self._is_word(place + 1, "cue", "this")

    def _give_weights(self) -> None:
        names = self._name_places()
        self._mince_wanted()
        free = [
            place
            for place in self._places(Amount)
            if self._free(place)
            and self.phrases[place].kind == "weight"  # type: ignore[attr-defined]
            and not self._is_pack_size(place)
        ]
        self._weigh_the_mix()
        self._weights_in_turn([place for place in free if self._free(place)])
        self._weights_of_them([place for place in free if self._free(place)])
        loose: list[tuple[int, int]] = []
        for place, name in self._pairs(free, names, owners.FAR, before=0, after=1, comma_before=5):
            phrase = self.phrases[place]
            item = self._item_at(name)
            assert isinstance(phrase, Amount)
            assert item is not None
            if not self._free(place) or self.items[item].weight is not None or any(place == p for p, _ in loose):
                continue
            if (name < place or self._beside_target(place)) and self._is_whole(place):
                continue
            if name < place and self._comma_between(name, place) and not self._tied_back(place):
                loose.append((place, item))
                continue
            self._weigh(item, place, phrase)
        self._loose_weights(loose)

    def _weights_in_turn(self, free: list[int]) -> None:
        """ "chuck is 16% and I've 2 kg, brisket's 30% and I've 500 g": a meat and what there is of it, in turn."""
        named = [mention.place for mention in self.mentions]
        free = [place for place in free if not self._is_word(place - 1, "cue", *_WISHES)]
        each = len({mention.item for mention in self.mentions}) == len(named) == len(free) > 1
        turns = list(zip(named, free, strict=True)) if each else []
        order = [place for pair in turns for place in pair]
        had = [place for place in free if self._is_word(place - 1, "cue", "have")]
        if each and all(self._item_at(place + 1) == m.item for place, m in zip(free, self.mentions, strict=True)):
            # "3 lb 4 oz round 1 lb 2 oz bacon 12 oz suet, use it all": each weight right before its meat
            had, order = free, sorted(order)
        if not had or order != sorted(order) or any(self._item_at(name) is None for name in named):
            return
        for name, place in turns:
            item, phrase = self._item_at(name), self.phrases[place]
            if item is not None and isinstance(phrase, Amount) and self.items[item].weight is None:
                self._weigh(item, place, phrase)

    def _mince_wanted(self) -> None:
        """ "I need 3.3 kg of mince … I have leg of mutton": the weight of what is to be made is no cut's."""
        weights = [p for p in self._places(Amount) if self._free(p) and self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        for place in self._places(Amount):
            amount = self.phrases[place]
            assert isinstance(amount, Amount)
            weighed = amount.kind == "weight" and self._free(place) and self.plan.batch is None
            wanted = self._is_word(place - 1, "cue", "want", "make_it")
            of_mix = wanted and self._is_word(place + 1, "of") and self._is_word(place + 2, "cue", "mix")
            # "9 lb equal parts chuck and brisket": the weight of all the parts
            parted = self._is_word(place + 1, "cue", "equal") and self._item_at(place + 2) is not None
            # "6 lb total of deer and pork belly"
            of = place + 3 if self._is_word(place + 2, "of") else place + 2
            in_all = self._is_word(place + 1, "cue", "total") and self._item_at(of) is not None and len(self.items) > 1
            if weighed and self.seasonings and self._is_word(place - 1, "cue", "recipe_for") and len(weights) > 1:
                # "the recipe is for 14 lb of pork: 4 oz salt. I've only 3.5 lb": what it is written for
                self._set(recipe_for=amount.measure)
                self.used.add(place)
                return
            if weighed and (of_mix or parted or in_all):
                self._set(batch=amount.measure, batch_is=amount.bound)
                self.used.update({place, place + 1} if in_all else {place})
                return

    def _is_pack_size(self, place: int) -> bool:
        """ "chuck comes in 2.5 lb packs": how it is sold, not how much of it there is ("two 2 lb packs" is, see packed)."""
        return self._is_word(place + 1, "cue", "pack") and self.phrases[place + 1].text.lower().endswith("s")

    def _weights_of_them(self, free: list[int]) -> None:
        """ "scotch fillet off-cuts, about 28% fat, 1.1 kg of them": the cut named last before it."""
        for place in free:
            before = [mention for mention in self.mentions if mention.place < place]
            of_them = self._is_word(place + 1, "cue", "this") and "of" in self.phrases[place + 1].text
            of_them = of_them or (self._is_word(place + 1, "of") and self._is_word(place + 2, "cue", "this"))
            of_them = of_them or any(self._is_word(at, "cue", "use_up") for at in range(place + 1, place + 4))
            phrase = self.phrases[place]
            if self._is_whole(place):
                continue
            if before and of_them and self.items[before[-1].item].weight is None and isinstance(phrase, Amount):
                self._weigh(before[-1].item, place, phrase)

    def _beside_target(self, place: int) -> bool:
        """ "2 kg 8020 topside", "2 kg at 20% with topside": the weight that the target is said of."""
        tied = self._is_word(place + 1, "at") or self._is_word(place + 1, "of")
        return self.target_place == (place + 2 if tied else place + 1)

    def _is_whole(self, place: int) -> bool:
        """ "… with round for 3 lb of 85/15", "…, 4 lb total": the weight of all of it, not of the cut before it."""
        if "for" in self._gap(place - 1, place) or self._is_word(place + 1, "cue", "total"):
            return True
        # "the cost of 6 lb 80/20" is asked of all of it
        of_what = self._is_word(place - 1, "of") and not self._is_word(place - 2, "cue", "cost")
        if self.target_place is not None and not of_what:
            beside = self.target_place in (place + 1, place - 1)
            if beside or (self._is_word(place + 1, "at") and self.target_place == place + 2):
                return True
        return self._is_word(place + 1, "of") and isinstance(self._at(place + 2), Fatness)

    def _comma_between(self, first: int, second: int) -> bool:
        return any(self._is_word(at, "sep", ",") or self._is_word(at, "join") for at in range(first + 1, second))

    def _tied_back(self, place: int) -> bool:
        return self._is_word(place + 1, "cue", "this", "use_up") or self._is_word(place - 1, "open")

    def _loose_weights(self, loose: list[tuple[int, int]]) -> None:
        """ "round and flank, 4 lb" is a batch; "round, 4 lb, flank, 2 lb" are weights of each."""
        if not loose:
            return
        weighed = sum(item.weight is not None for item in self.items)
        each = len(loose) + weighed >= len(self.items) or all(
            self._at(p + 1) is not None and self._is_word(p + 1, "open") for p, _ in loose
        )
        if each and len(self.items) > 1 and len(loose) > 1:
            for place, item in loose:
                phrase = self.phrases[place]
                assert isinstance(phrase, Amount)
                self._weigh(item, place, phrase)
        elif len(loose) == 1 and (
            (len(self.items) == 1 and self.sentence.has("have", "use_up"))
            or self._to_be_used_up(loose[0])
            or self._is_to_be_brought(loose[0])
            or (self.sentence.has("use_up") and self._asked_cut() is not None)
        ):
            place, item = loose[0]
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            self._weigh(item, place, phrase)

    def _is_to_be_brought(self, loose: tuple[int, int]) -> bool:
        """ "Shin, 750 g, about 6% fat. I'd like to take it up to 16 with marrow": the weight of what there is."""
        return is_brought(self.sentence) and loose[1] == 0 and len(self.items) > 1 and self.plan.batch is None

    def _to_be_used_up(self, loose: tuple[int, int]) -> bool:
        """ "use up all the brisket, 2.2 kg": the weight after a cut that is to be used up."""
        named = [m.place for m in self.mentions if m.item == loose[1] and m.place < loose[0]]
        return bool(named) and self._is_word(named[-1] - 1, "cue", "use_up")

    def _weigh(self, item: int, place: int, phrase: Amount) -> None:
        kind = "is"
        if phrase.bound in (Bound.LEAST, Bound.MOST):
            bound = phrase.bound
            if self._negated_wish(place):
                bound = Bound.MOST if bound is Bound.LEAST else Bound.LEAST
            kind = str(bound)
        elif self._is_had(place) or phrase.bound is Bound.ONLY:
            kind = "have"
        elif phrase.bound is Bound.ABOUT:
            kind = "is"
        self._change(item, weight=phrase.measure, weight_is=kind)
        self.weight_places[item] = place
        self.used.add(place)

    def _is_had(self, place: int) -> bool:
        """Whether "I have" governs a weight: before it in the same sentence, or in a list that it opened."""
        for at in range(place, -1, -1):
            if self._is_word(at, "sep", "."):
                return False
            if self._is_word(at, "cue", "want", "into"):
                return False
            if self._is_word(at, "cue", "have") or self._is_word(at, "bound", "only"):
                self.used.add(at)
                return True
        return False

    def _settle_percents(self) -> None:
        """Percents of cuts that add up to 100, with no fat wanted, are shares of the batch, not fat."""
        given = [item for item in self.items if item.fat is not None]
        unmarked = [item for item in given if not self._fat_word_said()]
        if self.plan.target is not None or not unmarked or len(unmarked) != len(given):
            return
        if self._all_led_by_shares(given):
            # "2 kg with 60% chuck and 50% brisket": no chuck is as fat as that, so they say how much goes in, whatever
            # it adds up to, and the weight is the batch's
            batch = self.items[0].weight
            if batch is not None:
                self._set(batch=batch)
            self.items = [
                replace(item, share=(item.fat or Fraction(0)) / 100, fat=None, weight=None) for item in self.items
            ]
            return
        odd = [item for item in given if self._leads_what_it_cannot_be(item) and item.weight is None]
        if len(odd) == 1 and len(self.items) == 2 and (len(given) == 1 or self._is_a_fat(odd[0])):
            # "chuck and 25% suet", "20% suet, 10 lb venison 2%": no suet is as lean as that, so it is how much goes in
            self.items = [
                replace(item, share=item.fat / 100, fat=None) if item.fat is not None and item in odd else item
                for item in self.items
            ]
            return
        rest = [item for item in self.items if item.fat is None and item.rest]
        if len(given) == len(self.items) and len(given) > 1 and any(self._is_pure_fat(item) for item in given):
            # "round 8% and suet 92%": that they add up is chance, for nobody grinds 92 % suet
            return
        if len(given) == len(self.items) and len(given) > 1 and sum(i.fat or 0 for i in given) == 100:
            self.items = [replace(item, share=(item.fat or Fraction(0)) / 100, fat=None) for item in self.items]
        elif self._make_up_the_whole(given, rest):
            self.items = [
                replace(item, share=item.fat / 100, fat=None) if item.fat is not None else item for item in self.items
            ]

    def _make_up_the_whole(self, given: list[Item], rest: list[Item]) -> bool:
        """ "60% shoulder, a quarter chuck, the rest back fat": percents and shares of one batch, and nothing else in it."""
        shared = [item for item in self.items if item.share is not None]
        told_twice = any(item.share is not None or item.rest for item in given)
        if told_twice or len(given) + len(rest) + len(shared) != len(self.items):
            return False
        whole = sum((item.fat or Fraction(0) for item in given), Fraction(0))
        whole += sum(((item.share or Fraction(0)) * 100 for item in shared), Fraction(0))
        led = bool(shared) and all(self._is_led(item) for item in given)
        return bool(rest) or led or (bool(shared) and whole == 100)

    def _all_led_by_shares(self, given: list[Item]) -> bool:
        """Whether every cut has a percent right before its name, one at least that no such cut has as its fat, and
        none a weight but the first, which may be the batch's."""
        if not len(given) == len(self.items) > 1 or any(item.weight is not None for item in self.items[1:]):
            return False
        led = all(self._is_led(item) for item in given)
        return led and any(self._leads_what_it_cannot_be(item) for item in given)

    def _is_led(self, item: Item) -> bool:
        """Whether a percent stands right before a cut's name."""
        place = next(m.place for m in self.mentions if self.items[m.item] is item)
        before = self._at(place - 1)
        return isinstance(before, Amount) and before.kind == "percent"

    def _leads_what_it_cannot_be(self, item: Item) -> bool:
        """Whether a cut's one percent stands right before its name, and is not as fat as it is sold."""
        return (
            self._is_led(item) and item.fat is not None and bool(item.keys) and not self._could_be_fat(item, item.fat)
        )

    @staticmethod
    def _is_a_fat(item: Item) -> bool:
        return any(data.cuts()[key].kind == "fat" for key in item.keys if key in data.cuts())

    def _is_pure_fat(self, item: Item) -> bool:
        return item.fat is not None and item.fat >= _ALL_FAT and self._is_a_fat(item)

    def _fat_word_said(self) -> bool:
        return any(isinstance(phrase, Fatness) for phrase in self.phrases)
