"""Who eats: how many of which sort, how many patties each, how heavy each patty."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Measure,
    Patties,
    People,
    PerEach,
    Scale,
    SeasoningName,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.again import Again
from assistant.topics.plan.reading.align import EVERYONE, OTHERS, Named, shared_out
from assistant.topics.plan.reading.heads import Opening, same_people
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.together import days
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import LOT, Group, Item, PattyWish

_FACTORS = {"half": Fraction(1, 2), "halve": Fraction(1, 2), "three": Fraction(3), "triple": Fraction(3)}
_TAKES_SO_MANY = Pattern(
    r"\b(?:barbecue|barbie|bbq|grill|griddle|pan|skillet|plancha|braai|flat ?top|hot ?plate)s?\s+"
    r"(?:that\s+|which\s+|only\s+|just\s+)*(?:takes|holds|fits|does|can take|can hold)\s+(?:only\s+|just\s+|about\s+)*$"
)
_IN_THE_BOWL = Pattern(r"\b(?:in|into) (?:the|my|a) $")
_OTHERS = Pattern(r"\b(?:the others?|the remaining|the remainder)\b", re.IGNORECASE)
_HEAVIEST_PATTY = 700
"""Grams. A heavier figure beside people is the meat for all of them, not a patty. Common practice, no source."""


class Eaters(Again):
    """The people of a sentence."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        super().__init__(sentence, known)
        self.size_places: set[int] = set()
        self.crowd: list[Group] = []
        self.gone = Fraction(0)
        self.few: dict[int, Fraction] = {}
        """Of which counted opening so many eat none."""

    def _people_in_a_range(self) -> None:
        """ "20 to 25 people": of one group, the upper end is kept too."""
        ranges = [people.count.high for people in self.sentence.of(People) if people.count is not None]
        if len(self.plan.groups) == 1 and len(ranges) == 1 and ranges[0] is not None:
            self._set(groups=(replace(self.plan.groups[0], high=ranges[0]),))

    def _find_company(self) -> None:
        """Numbers that count people without a word for people, before any other pass takes them for something else."""
        self._part_stays_away()
        unclear = days.difference_of_days(self.phrases)
        if unclear:
            self._set(question=unclear)
        self._ages()
        self._sittings()
        self._find_lots()
        if not self.lots:
            self._who_wants_more()
        self._turnout()
        self._at_a_time()
        self._find_crowd()
        if not any(opening.count is not None for opening in self.company):
            self._find_changes()

    def _at_a_time(self) -> None:
        """ "the grill takes 8 at a time", "two barbecues of 12", "bowl holds 5 lb"."""
        self._several_grills()
        self._on_the_grill()
        for place in self._word_places("cue", "bowl"):
            if _IN_THE_BOWL.search(self.sentence.text[: self.phrases[place].first].lower()):
                # "to have 6 kg in the bowl": what is wanted, and not what it holds
                continue
            for near in (place + 1, place - 1):
                phrase = self._at(near)
                count = whole_count(phrase)
                if count is not None and self._free(near) and self.plan.at_once is None:
                    self._set(at_once=count + self._on_the_other(near))
                    self.used.update({place, near})
                weights = [p for p in self.sentence.of(Amount) if p.kind == "weight"]
                # beside people the one weight is no meat that is there either
                held = len(weights) > 1 or any(people.count is not None for people in self.sentence.of(People))
                if isinstance(phrase, Amount) and phrase.kind == "weight" and self._free(near) and held:
                    self._set(bowl=phrase.measure)
                    self.used.update({place, near})

    def _on_the_other(self, place: int) -> Fraction:
        """ "one grill takes 12 and the other 8": what the second one holds."""
        after = place + 2 if self._is_word(place + 1, "join") or self._is_word(place + 1, "sep", ",") else place + 1
        said = self._gap(after - 1, after) & {"other", "second"}
        count = whole_count(self._at(after)) if said else None
        if count is not None:
            self.used.add(after)
        return count or Fraction(0)

    def _several_grills(self) -> None:
        """ "two barbecues of 12", "3 grills holding 12 each": so many times so many in one round."""
        for place in range(len(self.phrases)):
            number = whole_count(self._at(place - 1))
            if not self._is_word(place, "cue", "grills") or number is None:
                continue
            after = place + 1
            while (
                self._is_word(after, "of")
                or self._is_word(after, "sep", ",")
                or self._is_word(after, "cue", "have", "bowl")
            ):
                after += 1
            held = self._at(after)
            each = held.measure.value if isinstance(held, PerEach) and held.kind == "count" else whole_count(held)
            if each is not None and self.plan.at_once is None:
                self._set(at_once=number * each)
                self.used.update(range(place - 1, after + 1))

    def _on_the_grill(self) -> None:
        """ "a barbecue that takes 18", "15 at once": how many go on in one round, where burgers are counted."""
        if self.plan.at_once is not None or not self._counts_burgers():
            return
        for place in self._places(Count):
            count = whole_count(self.phrases[place])
            led = _TAKES_SO_MANY.search(self.sentence.text[: self.phrases[place].first].lower())
            at_once = self._is_word(place + 1, "cue", "at_once")
            if count is not None and self._free(place) and (led or at_once):
                self._set(at_once=count + self._on_the_other(place))
                self.used.update({place, place + 1} if at_once else {place})
                return

    def _counts_burgers(self) -> bool:
        return any(patties.count is not None for patties in self.sentence.of(Patties))

    # ---- several groups

    def _find_crowd(self) -> None:
        """Several groups, or burgers in several sizes, each with its own figures: read at once and taken whole."""
        openings, self.gone = self._openings()
        counted = [opening for opening in openings if opening.count is not None]
        sizes_of_patties = self._burgers_in_sizes()
        if sizes_of_patties:
            openings = counted = sizes_of_patties
        self._who_eat_none(counted)
        self.company = openings
        if len(counted) == 1 and not self.lots:
            self._how_many_of_each_sort(counted[0])
        if len(counted) < 2 or (not sizes_of_patties and self._counts_them_outright()):
            return
        groups = [
            Group(
                (opening.count or Fraction(0)) - self.few.get(at, 0),
                opening.sort,
                noun=opening.noun,
                label=opening.label,
            )
            for at, opening in enumerate(counted)
        ]
        mentions = self._mentions(openings, counted)
        eaches = {} if sizes_of_patties else self._eaches()
        sizes = self._sizes()
        owned = self._whose(mentions, list(eaches), len(groups))
        weighed = self._whose(mentions, list(sizes), len(groups))
        if owned is None or weighed is None:
            unsure = "many" if owned is None else "heavy"
            self._set(
                question=f"Which figure is whose? Say for each group how {unsure} each one is: {_names(counted)}."
            )
            owned, weighed = owned or {}, weighed or {}
        for index, group in enumerate(groups):
            each = eaches[owned[index]] if index in owned else None
            size = sizes[weighed[index]] if index in weighed else None
            one_each = sizes_of_patties or (each is None and (size is not None or bool(eaches)))
            groups[index] = replace(group, each=Fraction(1) if one_each else each, size=size)
        if self.sentence.has("same_again"):
            # "Sunday 50 people, same size"
            like = next((group.size for group in groups if group.size is not None), None)
            groups = [replace(group, size=group.size or like) for group in groups]
        groups = self._by_comparison(groups, mentions)
        self.used.update(eaches, sizes, (opening.place for opening in counted))
        self.crowd = _without_those_among(groups, counted)

    def _by_comparison(self, groups: list[Group], mentions: list[Named]) -> list[Group]:
        """ "the adults get one twice the weight of the kids'": a patty told by that of another group."""
        for place in range(len(self.phrases)):
            part = self._part_of_the_size(place)
            said = part is not None or self._is_word(place, "cue", "double", "twice_as", "halve", "triple")
            if not said or not self._free(place):
                continue
            before = [named.group for named in mentions if named.place < place and named.group >= 0]
            after = [named.group for named in mentions if named.place > place and named.group >= 0]
            if before and not after:
                # "40 adults at 160 g, 25 kids at half that": of the one before whose size was said
                after = [group for group in reversed(before) if group != before[-1] and groups[group].size is not None][
                    :1
                ]
            if not before or not after or before[-1] == after[0]:
                self._set(question="Twice as much as whom? Say for each group how heavy a patty is.")
                return groups
            factor = part or _FACTORS.get(self.phrases[place].text.lower().split()[0], Fraction(2))
            bigger, like = before[-1], after[0]
            size = groups[like].size
            self.used.update({place, *(at for at in (place + 1,) if self._is_word(at, "unknown") or part is not None)})
            told = None if size is None else replace(size, value=size.value * factor)
            groups[bigger] = replace(groups[bigger], size=told, heft=factor if told is None else Fraction(1))
            return groups
        return groups

    def _part_of_the_size(self, place: int) -> Fraction | None:
        """ "20 kids at half the size", "kids two thirds of the size"."""
        part = self.phrases[place]
        sized = isinstance(part, Count) and part.piece and self._says(place + 1, "size", "weight")
        return part.value if sized and isinstance(part, Count) else None

    def _whose(self, mentions: list[Named], values: list[int], groups: int) -> dict[int, int] | None:
        """The place of each group's figure; "130 g burgers", said once and of no number, are everybody's."""
        lone = self.phrases[values[0]] if len(values) == 1 else None
        if isinstance(lone, Patties) and lone.count is None and lone.text.lower().endswith("s"):
            return dict.fromkeys(range(groups), values[0])
        last = max((named.place for named in mentions), default=0)
        if len(values) > 1 and min(values) > last and self._is_word(last + 1, "at"):
            # "of which 15 kids at 80 g, … 150 g": the first is theirs, and whose the second is was not said
            return None
        return shared_out(mentions, values, groups, lambda a, b: owners.barrier(self.phrases, a, b))

    def _who_eat_none(self, counted: list[Opening]) -> None:
        """ "48 adults, 36 children, 6 veggies having none", "10 vegetarians, 35 meat eaters": named beside the others,
        and not among them."""
        for place in range(len(self.phrases)):
            beside = self._is_word(place, "cue", "fewer") and whole_count(self._at(place - 1)) is not None
            listed = len(counted) > 1 or any(opening.place > place for opening in counted)
            if not (beside and listed and self._free(place) and self._free(place - 1)):
                continue
            among = [at for at, opening in enumerate(counted) if opening.place < place - 1]
            if (
                among
                and self._says(place - 2, "of")
                and self._gap(place - 2, place - 1) & {"whom", "which", "them", "those"}
            ):
                self.few[among[-1]] = whole_count(self._at(place - 1)) or Fraction(0)
            elif len(among) > 1 and self._gap(place - 1, place) & {"are", "were", "is"}:
                # "40 adults and 25 kids, 6 are vegetarian": among whom was not said
                names = _names([counted[at] for at in among])
                few = self.phrases[place - 1].text
                self._set(question=f"Who eats none: {names}? Say for example: {few} of the adults are vegetarian.")
            self.used.update({place - 1, place})
            if self._is_word(place + 1, "cue", "eats") and self._is_word(place + 2, "cue", "not"):
                self.used.update({place + 1, place + 2})

    def _counts_them_outright(self) -> bool:
        """ "45 burgers for 30 adults and 15 kids": however many eat, the burgers were counted."""
        return any(p.count is not None and p.count.value > MOST_EACH for p in self.sentence.of(Patties))

    def _burgers_in_sizes(self) -> list[Opening]:
        """ "24 burgers of 100 g and 36 burgers of 150 g", "Sat: 80 x 120 g, Sun: 55 x 150 g"."""
        found: list[Opening] = []
        for place, phrase in enumerate(self.phrases):
            count = phrase.count.value if isinstance(phrase, Patties) and phrase.count is not None else None
            after = self._at(place + 1)
            if isinstance(phrase, Scale) and isinstance(after, Amount) and after.kind == "weight":
                count = phrase.factor if rough_grams(after.measure) < _HEAVIEST_PATTY else None
            elif isinstance(phrase, Scale) and isinstance(after, Patties) and after.count is None and after.each:
                # "9 x 4 oz and 6 x 6 oz burgers"
                count = phrase.factor
            elif (
                found
                and isinstance(phrase, Count)
                and (self._is_word(place + 1, "at") or self._is_word(place + 1, "of"))
            ):
                # "8 burgers at 5 oz plus 4 at 3 oz"
                count = whole_count(phrase)
            if count is not None and not self._is_extra(place):
                found.append(Opening(place, LOT, count, label=self._label(place)))
        few = all((opening.count or 0) <= MOST_EACH for opening in found)
        if len(found) < 2 or (few and self.sentence.of(People)):
            return []
        people = [
            replace(opening, sort=LOT)
            for place in self._places(People)
            if isinstance(phrase := self.phrases[place], People) and phrase.count is not None
            for opening in [self._opening(place, phrase)]
        ]
        if people and (self.company or any(self.phrases[o.place].text.startswith("for ") for o in people)):
            return []
        labels = [opening.label for opening in found]
        by_day = all(labels) and len(set(labels)) == len(labels) and not people and len(self._sizes()) <= 1
        if not by_day and len(self._sizes()) < len(found) + len(people):
            return []
        return sorted([*found, *people], key=lambda opening: opening.place)

    def _is_extra(self, place: int) -> bool:
        """ "less 10 burgers", "plus 4 burgers spare": not a size of its own."""
        return self._is_word(place - 1, "cue", "smaller", "spare") or self._is_word(place + 1, "cue", "spare")

    def _mentions(self, openings: list[Opening], counted: list[Opening]) -> list[Named]:
        """Every place that names one of the groups, all of them, or the others."""
        found = []
        for opening in openings:
            same = (
                i for i, o in enumerate(counted) if o is opening or (opening.count is None and same_people(opening, o))
            )
            index = next(same, None)
            if index is not None:
                found.append(Named(opening.place, index))
        for place in range(len(self.phrases)):
            if self._is_word(place, "cue", "everyone"):
                rest = self.sentence.text[self.phrases[place].last :].lower().lstrip().startswith("else")
                found.append(Named(place, OTHERS if rest else EVERYONE))
            elif self._is_word(place, "cue", "rest") and self._free(place):
                self.used.add(place)
                found.append(Named(place, OTHERS))
        others = _OTHERS.search(self.sentence.text)
        if others is not None:
            after = next((at for at, p in enumerate(self.phrases) if p.first >= others.end()), len(self.phrases))
            found.append(Named(after, OTHERS))
        return sorted(found, key=lambda named: named.place)

    def _eaches(self) -> dict[int, Fraction]:
        """Places that say how many patties somebody gets."""
        found = {place: self._each_said(place) for place in range(len(self.phrases)) if self._free(place)}
        return {place: each for place, each in found.items() if each is not None}

    def _each_said(self, place: int) -> Fraction | None:
        phrase = self.phrases[place]
        if isinstance(phrase, Patties) and phrase.count is not None:
            return phrase.count.value if phrase.count.value <= MOST_EACH else None
        if isinstance(phrase, PerEach):
            return phrase.measure.value if phrase.kind == "count" else None
        if isinstance(phrase, Scale):
            return phrase.factor if phrase.factor <= MOST_EACH else None
        if not isinstance(phrase, Count) or phrase.piece or phrase.proportion or not 0 < phrase.value <= MOST_EACH:
            return None
        takes = self._is_word(place - 1, "cue", "eats", "have", "want", "everyone", "rest", "safe")
        named = isinstance(self._at(place - 1), People) or self._is_word(place - 1, "cue", "at_risk")
        return phrase.value if takes or named else None

    def _sizes(self) -> dict[int, Measure]:
        """Places that say how heavy a patty is."""
        found = {place: self._size_at(place) for place in range(len(self.phrases)) if self._free(place)}
        return {place: size for place, size in found.items() if size is not None}

    def _size_at(self, place: int) -> Measure | None:
        phrase = self.phrases[place]
        if isinstance(phrase, Patties):
            measure = phrase.each.measure if phrase.each is not None and phrase.each.kind == "weight" else None
        elif isinstance(phrase, PerEach | Amount) and phrase.kind == "weight":
            measure = phrase.measure if not self._is_put_aside(place) else None
        else:
            return None
        return measure if measure is not None and rough_grams(measure) < _HEAVIEST_PATTY else None

    def _is_put_aside(self, place: int) -> bool:
        """A weight that is of a meat or a seasoning, lost or kept back: no patty's."""
        after = self._at(place + 1) if not self._is_word(place + 1, "of") else self._at(place + 2)
        kept = self._is_word(place - 1, "cue", "keep", "lose", "in_grinder", "have", "bowl")
        return kept or isinstance(after, CutName | SeasoningName)

    # ---- the people, settled

    def _is_share_that_eats(self, place: int) -> bool:
        """ "10% want chicken", "a fifth want lamb": part of the guests, and no fat of the meat."""
        share, eats = self._at(place), self._is_word(place + 1, "cue", "want", "eats")
        part = (isinstance(share, Amount) and share.kind == "percent") or (isinstance(share, Count) and share.piece)
        return part and eats and isinstance(self._at(place + 2), CutName)

    def _find_people(self) -> None:
        groups = list(self.crowd) or self._one_group()
        if not groups:
            self._who_can_be_fed()
            return
        shares = [p for p in self.sentence.of(Patties) if p.count is not None and p.count.piece]
        if shares:
            # "40 kids, half 80 g half 100 g": a share of them, and no half a patty
            self._set(question="How many of them get each size? Say for example 20 at 80 g and 20 at 100 g.")
        if any(self._is_share_that_eats(place) for place in range(len(self.phrases))):
            self._set(question="How many eat which meat? Say for example: 70 eat beef and 10 eat chicken, 150 g each.")
        number, share = self._stay_away()
        away = self.gone + number + math.ceil(sum((g.count for g in groups), Fraction(0)) * share)
        if away:
            groups[0] = replace(groups[0], count=groups[0].count - away)
            self._set(absent=away)
        groups = self._on_the_other_day(groups)
        halves = [at for at in range(len(self.phrases)) if self._is_word(at, "cue", "half_of_them") and self._free(at)]
        if halves:
            self._set(question="What does each half get? Say how many, or how heavy, for the one and for the other.")
            self.used.update(halves)
        if self.lots and len(groups) == 1:
            groups = self._in_lots(groups[0])
        self._set(groups=tuple(groups), seconds=self._seconds_of(groups), appetite=self._appetite())

    def _how_many_of_each_sort(self, whole: Opening) -> None:
        """ "12 people, adults 150 g, kids 90 g": each sort has its size, and how many there are of each was not said."""
        sorts = {people.sort for people in self.sentence.of(People) if people.count is None}
        sizes = self._sizes()
        if whole.sort == "person" and sorts >= {"kid", "adult"} and len(sizes) > 1:
            count = f"{float(whole.count or 0):g}"
            self._set(question=f"How many of the {count} are children? Say for example 8 adults and 4 kids.")
            self.used.update(sizes)

    def _who_can_be_fed(self) -> None:
        each = self._how_many_fed()
        if each is not None:
            wish = self.plan.patties
            self._set(feeds=each, patties=wish and replace(wish, count=None))

    def _on_the_other_day(self, groups: list[Group]) -> list[Group]:
        """ "55 people on Friday and the same again on Saturday", "twice the crowd on Sunday: 40 on Saturday"."""
        days = [label for place in range(len(self.phrases)) if (label := self._occasion(place))]
        told = {group.label for group in groups}
        rest = [label for label in dict.fromkeys(days) if label not in told]
        if len(told) != 1 or not told & set(days) or len(rest) != 1:
            return self._doubled(groups)
        factor = self._factor_said()
        if factor is None:
            return self._doubled(groups)
        again = (replace(group, label=rest[0], count=Fraction(math.ceil(group.count * factor))) for group in groups)
        return [*groups, *again]

    def _doubled(self, groups: list[Group]) -> list[Group]:
        """ "double", said of nothing in particular beside a crowd, is asked about."""
        free = [
            at
            for at in range(len(self.phrases))
            if self._is_word(at, "cue", "double", "triple", "halve", "doubles") and self._free(at)
        ]
        if free and not self.sentence.of(SeasoningName):
            word = self.phrases[free[0]].text
            self._set(question=f"{word.capitalize()} of what: the people, the burgers for each, or their weight?")
            self.used.update(free)
        return groups

    def _in_lots(self, group: Group) -> list[Group]:
        """One group as the lots of it that eat alike; the last lot is what is left, so that all are counted once."""
        found, left = [], group.count
        rest = next((lot for lot in self.lots if lot.value is None), None)
        shares = sum((lot.value for lot in self.lots if lot.value is not None and lot.value < 1), Fraction(0))
        for lot in self.lots:
            if lot.value is None:
                continue
            last = rest is None and shares == 1 and lot is self.lots[-1]
            count = left if last else lot.value if lot.value >= 1 else Fraction(round(group.count * lot.value))
            found.append(replace(group, count=count, each=lot.each, size=lot.size))
            left -= count
        if left > 0:
            each, size = (Fraction(1), None) if rest is None else (rest.each, rest.size)
            found.append(replace(group, count=left, each=each, size=size))
        return found

    def _seconds_of(self, groups: list[Group]) -> Fraction | None:
        people = sum((group.count for group in groups), Fraction(0))
        if self.more_people is not None and people > 0:
            return self.more_people / people
        return self.more_share

    def _appetite(self) -> Fraction | None:
        """Patties a head for those said to be hungry or not: common practice, no source."""
        if self.sentence.has("big_eaters"):
            return Fraction(2)
        return Fraction(1) if self.sentence.has("small_eaters") else None

    # ---- one group

    def _one_group(self) -> list[Group]:
        """The one group of a line; none where the number of patties is said outright, so that it changes nothing."""
        counted = [opening for opening in self.company if opening.count is not None]
        if not counted:
            return []
        opening = counted[0]
        people = Group(opening.count or Fraction(0), opening.sort, noun=opening.noun, label=opening.label)
        wish = self.plan.patties or PattyWish()
        each = None if self.lots else self._scale_each() or self._per_person(wish, people.count)
        if each is None and wish.count is not None and not self.lots:
            return []
        if each is None and self._one_for_each(wish):
            each = Fraction(1)
        if wish.count is not None:
            self._set(patties=replace(wish, count=None))
        return [replace(people, each=each)]

    def _scale_each(self) -> Fraction | None:
        for place in self._places(Scale):
            phrase = self.phrases[place]
            assert isinstance(phrase, Scale)
            if self._free(place):
                self.used.add(place)
                return phrase.factor
        return None

    def _one_for_each(self, wish: PattyWish) -> bool:
        """ "6 oz each", "everyone gets 180 g": a weight for each eater is one portion each."""
        if wish.size is None:
            return False
        said_each = any(isinstance(p, PerEach) and p.kind in ("weight", "duration") for p in self.phrases)
        return said_each or self.sentence.has("everyone") or bool(self.sentence.words("pereach"))

    def _per_person(self, wish: PattyWish, people: Fraction) -> Fraction | None:
        """ "2 burgers each", "everyone gets two", "one and a half burgers each": a count for every eater."""
        if wish.count is None:
            return self._count_for_everyone()
        each_words = self._word_places("pereach")
        if each_words or self.sentence.has("everyone"):
            self.used.update(each_words)
            return wish.count
        if any(isinstance(phrase, PerEach) and phrase.kind == "count" for phrase in self.phrases):
            return wish.count
        return wish.count if wish.count <= 4 and wish.count < people else None

    def _count_for_everyone(self) -> Fraction | None:
        for place, phrase in enumerate(self.phrases):
            count = phrase.value if isinstance(phrase, Count) and not phrase.piece and not phrase.proportion else None
            if count is None or count > MOST_EACH or not self._free(place):
                continue
            led = any(self._is_word(at, "cue", "everyone", "eats") for at in (place - 1, place - 2))
            have = self._is_word(place - 1, "cue", "have", "want") and self._ends_clause(place + 1)
            if led or have:
                self.used.add(place)
                return count
        return None


def _without_those_among(groups: list[Group], openings: list[Opening]) -> list[Group]:
    """ "60 in all, 20 of whom are children": those among a group named before are taken off it."""
    found = list(groups)
    for index, opening in enumerate(openings):
        if opening.among and index:
            whole = next(at for at in range(index - 1, -1, -1) if not openings[at].among)
            found[whole] = replace(found[whole], count=found[whole].count - groups[index].count)
    return [group for group in found if group.count > 0]


def _names(openings: list[Opening]) -> str:
    return ", ".join(
        f"{float(o.count or 0):g} {o.noun + 's' if o.noun else 'burgers' if o.sort == 'patty' else 'people'}"
        for o in openings
    )
