"""Who eats: how many of which sort, how many patties each, who wants more, who stays away, how often they sit down."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, Fatness, Patties, People, PerEach, Phrase, Scale, Word
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.losses import Losses, whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.request import LOT, Group, Item, PattyWish

_HEAVIEST_PATTY = 700
"""Grams. A heavier figure beside people is the meat for all of them, not a patty. Common practice, no source."""

_MOST_EACH = 6
"""A bare number up to this beside an eater counts patties; a larger one counts something else."""

_GROWN = 13
"""Years from which an age that was said is taken as a grown eater's; below it, a child's."""

_OLD = re.compile(r"\s*-?\s*(?:years?|yrs?)?[\s-]*olds?\b", re.IGNORECASE)
_PARTY = re.compile(r"[^.;,]{0,14}\b(?:birthday|bday|b day|party)", re.IGNORECASE)
_TAKES = ("want", "have", "everyone", "eats")


class Opening(Struct, frozen=True):
    """A place of the line from which it speaks of one group. count None: a group named again."""

    place: int
    sort: str
    count: Fraction | None


class Eaters(Losses):
    """The people of a sentence."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        super().__init__(sentence, known)
        self.company: list[Opening] = []
        self.more_share: Fraction | None = None
        self.more_people: Fraction | None = None
        self.size_places: set[int] = set()

    def _find_company(self) -> None:
        """Numbers that count people without a word for people, before any other pass takes them for something else."""
        self._lots()
        self._ages()
        self._sittings()
        self._who_wants_more()
        self._turnout()
        self._at_a_time()

    # ---- patties of several sizes

    def _lots(self) -> None:
        """ "fifty 4 oz patties and twenty 6 oz ones", "8 burgers at 5 oz plus 4 at 3 oz": lots that nobody is counted for."""
        if self.sentence.of(People):
            return
        lots: list[tuple[Group, set[int]]] = []
        for place, phrase in enumerate(self.phrases):
            count, size, places = self._lot(place, phrase, begun=bool(lots))
            if count is not None and size is not None and size.kind == "weight":
                lots.append((Group(count.value, LOT, Fraction(1), size.measure), places))
        if len(lots) > 1:
            self.used.update(*(places for _, places in lots))
            self._set(groups=tuple(group for group, _ in lots))

    def _lot(self, place: int, phrase: Phrase, *, begun: bool) -> tuple[Count | None, Amount | None, set[int]]:
        """Count and size of one lot; after the first, the number alone counts patties too."""
        if isinstance(phrase, Patties) and phrase.each is not None:
            return phrase.count, phrase.each, {place}
        size = self._at(place + 2)
        led = self._is_word(place + 1, "at") or self._is_word(place + 1, "of")
        if not led or not isinstance(size, Amount):
            return None, None, set()
        count = phrase.count if isinstance(phrase, Patties) else phrase if begun and isinstance(phrase, Count) else None
        return count, size, {place, place + 1, place + 2}

    # ---- numbers that are people

    def _ages(self) -> None:
        """ "my 8 yr old gets 3 oz", "two 5 year olds": an age is no amount, and whoever has it eats."""
        for place, phrase in enumerate(self.phrases):
            years = self._years(place, phrase)
            if years is None:
                continue
            self.used.add(place)
            if _PARTY.match(self.sentence.text[phrase.last :]):
                continue
            before = whole_count(self._at(place - 1))
            if before is not None:
                self.used.add(place - 1)
            self.company.append(Opening(place, "kid" if years < _GROWN else "adult", before or Fraction(1)))

    def _years(self, place: int, phrase: Phrase) -> Fraction | None:
        years: Fraction | None = None
        risk = self._at(place + 1)
        if isinstance(phrase, Amount) and phrase.kind == "duration" and phrase.measure.unit == "year":
            years = phrase.measure.value if _OLD.match(self.sentence.text[phrase.last :]) else None
        elif isinstance(risk, Word) and risk.payload == "at_risk" and risk.text.lower().rstrip("s").endswith("old"):
            years = whole_count(phrase)
        return years if years is not None and (self.sentence.of(People) or self._any_weight()) else None

    def _any_weight(self) -> bool:
        return any(isinstance(p, Amount | PerEach) and p.kind == "weight" for p in self.phrases)

    def _turnout(self) -> None:
        """ "feeding 25", "75 at the do", "only 60 turn up", "2 burgers each for 12"."""
        if any(phrase.count is not None for phrase in self.sentence.of(People)):
            return
        for place, phrase in enumerate(self.phrases):
            count = whole_count(phrase)
            if count is None or not self._free(place):
                continue
            led = self._is_word(place - 1, "cue", "crowd", "feeding")
            comes = self._is_word(place + 1, "cue", "coming")
            if led or comes or self._is_for_them(place):
                self.used.update({place, place - 1} if led else {place, place + 1} if comes else {place})
                self.company.append(Opening(place, "person", count))

    def _is_for_them(self, place: int) -> bool:
        portions = self.sentence.of(PerEach) or any(p.each for p in self.sentence.of(Patties))
        other = any(isinstance(p, Fatness) for p in self.phrases) or bool(self.items)
        led = "for" in self._gap(place - 1, place) and self._ends_clause(place + 1)
        return bool(portions) and led and not other

    def _ends_clause(self, place: int) -> bool:
        return self._at(place) is None or self._is_word(place, "sep") or self._is_word(place, "join")

    def _sittings(self) -> None:
        """ "three sittings of 40", "130 people a day for two days": everybody is fed so many times."""
        for place in range(len(self.phrases)):
            count = whole_count(self._at(place - 1))
            if not self._is_word(place, "cue", "sitting") or count is None or not self._free(place - 1):
                continue
            self.used.update({place, place - 1})
            self._set(servings=count)
            seated = whole_count(self._at(place + 2)) if self._is_word(place + 1, "of") else None
            if seated is not None:
                self.used.update({place + 1, place + 2})
                self.company.append(Opening(place + 2, "person", seated))
        self._days()

    def _days(self) -> None:
        days = [p for p in self._places(Amount) if self._is_days(p)]
        daily = [p for p in days if self.phrases[p].text.lower().startswith("a")]
        several = [p for p in days if p not in daily]
        marks = [p for p in range(len(self.phrases)) if self._is_word(p, "cue", "per_day")]
        if not (self.sentence.of(People) and (daily or marks)):
            return
        self.used.update(daily + marks)
        if len(several) == 1:
            phrase = self.phrases[several[0]]
            assert isinstance(phrase, Amount)
            self.used.add(several[0])
            self._set(servings=phrase.measure.value)

    def _is_days(self, place: int) -> bool:
        phrase = self.phrases[place]
        return isinstance(phrase, Amount) and phrase.measure.unit == "day" and phrase.measure.value.denominator == 1

    # ---- who wants more, who stays away

    def _who_wants_more(self) -> None:
        """ "half of em want two", "a third will want seconds", "one in five comes back", "10 of them have two"."""
        for place in range(len(self.phrases)):
            found = self._some_of_them(place)
            if found is None:
                continue
            value, places = found
            after = max(places) + 1
            while self._is_word(after, "cue", "this", *_TAKES) or self._is_word(after, "of"):
                after += 1
            takes = whole_count(self._at(after))
            verb = any(self._is_word(at, "cue", *_TAKES) for at in range(max(places) + 1, after))
            if self._is_word(after, "cue", "seconds", "unit:second"):
                more = Fraction(1)
            elif verb and takes is not None and 2 <= takes <= _MOST_EACH and value < 1:
                more = takes - 1
            else:
                continue
            self.used.update(range(min(places), after + 1))
            if value >= 1:
                self.more_people = value * more
            else:
                self.more_share = value * more
            return
        cue = self.sentence.cue("seconds")
        if cue is not None:
            self.used.add(self.phrases.index(cue))
            self.more_share = Fraction(1, 2)

    def _some_of_them(self, place: int) -> tuple[Fraction, list[int]] | None:
        """A share of the people ("half", "20%", "one in five") or a number of them, and the places it takes up."""
        phrase = self._at(place)
        if self._is_word(place, "cue", "half_of_them"):
            return Fraction(1, 2), [place]
        if isinstance(phrase, Amount) and phrase.kind == "percent":
            return phrase.measure.value / 100, [place]
        if not isinstance(phrase, Count) or phrase.proportion:
            return None
        if phrase.piece:
            return phrase.value, [place]
        of_place = place + 2 if self._is_word(place + 1, "cue", "out_of") else place + 1
        whole = whole_count(self._at(of_place))
        if whole and ("in" in self._gap(of_place - 1, of_place) or of_place == place + 2) and phrase.value < whole:
            return phrase.value / whole, list(range(place, of_place + 1))
        return phrase.value, [place]

    def _stay_away(self) -> tuple[Fraction, Fraction]:
        """People who do not eat: (a number of them, a share of them)."""
        gone, share = Fraction(0), Fraction(0)
        for place in range(len(self.phrases)):
            if not self._is_word(place, "cue", "fewer"):
                continue
            for near in (place - 1, place - 2, place - 3, place + 1):
                found = self._some_of_them(near) if near >= 0 and self._free(near) else None
                between = range(min(near, place) + 1, max(near, place))
                if found is None or not all(
                    self._is_word(at, "cue", "this", "not") or self._is_word(at, "of") for at in between
                ):
                    continue
                value, places = found
                self.used.update({place, *places, *between})
                if value >= 1:
                    gone += value
                else:
                    share += value
                break
        return gone, share

    def _at_a_time(self) -> None:
        """ "the grill takes 8 at a time", "bowl holds 5 lb"."""
        for place in range(len(self.phrases)):
            if not self._is_word(place, "cue", "bowl"):
                continue
            for near in (place + 1, place - 1):
                phrase = self._at(near)
                count = whole_count(phrase)
                if count is not None and self._free(near) and self.plan.at_once is None:
                    self._set(at_once=count)
                    self.used.update({place, near})
                weights = [p for p in self.sentence.of(Amount) if p.kind == "weight"]
                if isinstance(phrase, Amount) and phrase.kind == "weight" and self._free(near) and len(weights) > 1:
                    self._set(bowl=phrase.measure)
                    self.used.update({place, near})

    # ---- groups

    def _find_people(self) -> None:
        openings, gone = self._openings()
        counted = [opening for opening in openings if opening.count is not None]
        if not counted:
            return
        named = [Group(count=opening.count or Fraction(0), sort=opening.sort) for opening in counted]
        groups = self._each_for(named, openings)
        if groups is None:
            return
        number, share = self._stay_away()
        away = gone + number + math.ceil(sum((g.count for g in groups), Fraction(0)) * share)
        if away:
            groups[0] = replace(groups[0], count=groups[0].count - away)
            self._set(absent=away)
        self._set(groups=tuple(groups), seconds=self._seconds_of(groups), appetite=self._appetite())

    def _openings(self) -> tuple[list[Opening], Fraction]:
        """Where the line turns to a group, in order; and people who are named only to be taken off."""
        found, gone = list(self.company), Fraction(0)
        for place in self._places(People):
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            self.used.add(place)
            away = [at for at in (place - 1, place + 1) if self._is_word(at, "cue", "fewer")]
            if away and phrase.count is not None:
                self.used.update(away)
                gone += phrase.count.value
                continue
            found.append(Opening(place, phrase.sort, None if phrase.count is None else phrase.count.value))
        found.sort(key=lambda opening: opening.place)
        sorts = {opening.sort for opening in found if opening.count is not None}
        return [o for o in found if o.count is not None or o.sort in sorts], gone

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

    def _each_for(self, groups: list[Group], openings: list[Opening]) -> list[Group] | None:
        """Patties for each eater, and sizes per group: "70 adults x2 @140g; 30 kids x1 @90g".

        None where the number of patties is said outright, so that the people do not change it.
        """
        wish = self.plan.patties or PattyWish()
        if len(groups) > 1:
            return self._several(groups, openings, wish)
        each = self._scale_each() or self._per_person(wish, groups[0].count)
        if each is None and wish.count is not None:
            return None
        if each is None and self._one_for_each(wish):
            each = Fraction(1)
        if wish.count is not None:
            self._set(patties=replace(wish, count=None))
        return [replace(groups[0], each=each)]

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
        said_each = any(isinstance(p, PerEach) and p.kind == "weight" for p in self.phrases)
        return said_each or self.sentence.has("everyone") or bool(self.sentence.words("pereach"))

    def _several(self, groups: list[Group], openings: list[Opening], wish: PattyWish) -> list[Group] | None:
        counted = [opening for opening in openings if opening.count is not None]
        for opening, start, end in self._segments(openings):
            same = (
                i for i, o in enumerate(counted) if o is opening or (opening.count is None and o.sort == opening.sort)
            )
            index = next(same, 0)
            for at in range(start, end):
                groups[index] = self._one_group(groups[index], self.phrases[at], at)
        sizes = {group.size for group in groups if group.size is not None}
        eaches = {group.each for group in groups if group.each is not None}
        size = next(iter(sizes)) if len(sizes) == 1 else wish.size
        each = next(iter(eaches)) if len(eaches) == 1 and self._said_last(openings) else None
        if each is None and not eaches:
            each = wish.count
        if each is not None and each > _MOST_EACH:
            return None
        if each is None and sizes:
            each = Fraction(1)
        self._set(patties=replace(wish, count=None))
        return [
            replace(group, each=each if group.each is None else group.each, size=group.size or size) for group in groups
        ]

    def _said_last(self, openings: list[Opening]) -> bool:
        """Whether a number each comes after all groups are named, and so is meant for all ("…, one each")."""
        last = max((p for p in self._places(PerEach) if self._is_count_each(p)), default=-1)
        return last > openings[-1].place

    def _is_count_each(self, place: int) -> bool:
        phrase = self.phrases[place]
        return isinstance(phrase, PerEach) and phrase.kind == "count"

    def _segments(self, openings: list[Opening]) -> list[tuple[Opening, int, int]]:
        """The stretch of the line that speaks of each group: from its name on, or up to it ("6 oz for 14 adults")."""
        places = [opening.place for opening in openings]
        led = [place for place in places if "for" in self._gap(place - 1, place) and self._is_portion(place - 1)]
        if len(led) > 1 and len(led) == len(places):
            return [(o, start, o.place) for o, start in zip(openings, [0, *[p + 1 for p in places]], strict=False)]
        return [(o, o.place, end) for o, end in zip(openings, [*places[1:], len(self.phrases)], strict=True)]

    def _is_portion(self, place: int) -> bool:
        phrase = self._at(place)
        return isinstance(phrase, Patties | PerEach) or (isinstance(phrase, Amount) and phrase.kind == "weight")

    def _one_group(self, group: Group, phrase: Phrase, at: int) -> Group:
        """The group with what one phrase of its stretch says of it."""
        if isinstance(phrase, Patties):
            each = group.each if phrase.count is None else phrase.count.value
            sized = phrase.each is not None and phrase.each.kind == "weight"
            return replace(group, each=each, size=phrase.each.measure if sized and phrase.each else group.size)
        if isinstance(phrase, PerEach):
            if phrase.kind == "count":
                return replace(group, each=phrase.measure.value)
            return replace(group, size=phrase.measure) if phrase.kind == "weight" else group
        if isinstance(phrase, Amount):
            ours = phrase.kind == "weight" and (self._free(at) or at in self.size_places)
            if not ours or rough_grams(phrase.measure) >= _HEAVIEST_PATTY:
                return group
            self.used.add(at)
            return replace(group, size=phrase.measure)
        count = phrase.factor if isinstance(phrase, Scale) else whole_count(phrase)
        if count is None or count > _MOST_EACH or not self._free(at):
            return group
        self.used.add(at)
        return replace(group, each=count)

    def _per_person(self, wish: PattyWish, people: Fraction) -> Fraction | None:
        """ "2 burgers each", "everyone gets two", "one and a half burgers each": a count for every eater."""
        if wish.count is None:
            return self._count_for_everyone()
        each_words = [at for at in range(len(self.phrases)) if self._is_word(at, "pereach")]
        if each_words or self.sentence.has("everyone"):
            self.used.update(each_words)
            return wish.count
        if any(isinstance(phrase, PerEach) and phrase.kind == "count" for phrase in self.phrases):
            return wish.count
        return wish.count if wish.count <= 4 and wish.count < people else None

    def _count_for_everyone(self) -> Fraction | None:
        for place, phrase in enumerate(self.phrases):
            count = phrase.value if isinstance(phrase, Count) and not phrase.piece and not phrase.proportion else None
            if count is None or count > _MOST_EACH or not self._free(place):
                continue
            led = any(self._is_word(at, "cue", "everyone", "eats") for at in (place - 1, place - 2))
            have = self._is_word(place - 1, "cue", "have", "want") and self._ends_clause(place + 1)
            if led or have:
                self.used.add(place)
                return count
        return None
