"""What a line without a crowd of its own says of the crowd on the table: another day, more of them, two each now."""

from __future__ import annotations

import re
from fractions import Fraction

from assistant.language.phrases import Amount, Bound, Count, Measure, Moment, Patties, People, PerEach
from assistant.pattern import Pattern
from assistant.topics.plan.reading.fed import Fed
from assistant.topics.plan.reading.heads import noun_of
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import Group, Turn

_AS_MANY = Pattern(r"\b(half|twice|double|three times) (?:as many|the (?:people|number|crowd|guests))", re.IGNORECASE)
_PART_AS_MANY = Pattern(
    r"\s*(?:of )?(?:again )?(?:as many|(?:the|that) (?:people|number|crowd|guests|headcount|turnout))(?: again)?\b"
)
_DROP = Pattern(
    r"^(?:ok |okay |actually |no |and )*(?:drop|cancel|forget|scrap|lose|skip|leave out|no)(?: about)?(?: the)? $"
)
_SAME = Pattern(r"\bsame (?:crowd|people|number|lot|guests|again|numbers|headcount)\b", re.IGNORECASE)
_COME = Pattern(
    r"\s*(?:of (?:them|em|us|those) )?(?:actually )?(?:come|comes|turn up|turns up|show|shows|make it)\b(?!\s+(?:off|away|out|to|at|in at)\b)"
)
_HEAVIEST_PATTY = 700
"""Grams. A heavier weight is the meat for all of them. Common practice, no source."""
_TIMES = {"half": Fraction(1, 2), "twice": Fraction(2), "double": Fraction(2), "three times": Fraction(3)}


class Again(Fed):
    """Changes to the people of before."""

    def _find_changes(self) -> None:
        if self.plan.crowd_change is None:
            change, sort = self._change_said()
            self._set(crowd_change=change, crowd_of=sort)
        like = self._as_on_a_day()
        self._set(crowd_factor=Fraction(1) if like else self._factor_said())
        self._set(label=like or self._day_said(), regroup=tuple(self._said_anew()))
        self._day_dropped()
        self._half_of_them()
        self._sort_dropped()
        self._split_off()

    def _as_on_a_day(self) -> str:
        """ "Sunday same as Friday": the day that is new; as many come on it as on the other."""
        for place in self._word_places("cue", "same_again"):
            new, known = self._occasion(place - 1), self._occasion(place + 1)
            if new and known and new != known and not self._places(Count):
                self.used.update((place - 1, place, place + 1))
                self._set(turn=Turn(like=known))
                return new
        return ""

    def _day_dropped(self) -> None:
        """ "Drop Friday", "forget the Sunday": nobody comes on that day."""
        place = next((at for at in self._places(Moment) if self._occasion(at)), None)
        dropped = place is not None and _DROP.search(self.sentence.text[: self.phrases[place].first].lower())
        if place is not None and dropped and not self.sentence.of(People):
            self.used.update(range(place + 1))
            self._set(turn=Turn(day_gone=self._occasion(place)))

    def _sort_dropped(self) -> None:
        """ "The kids aren't coming now": nobody of that sort."""
        for place in self._places(People):
            people = self.phrases[place]
            assert isinstance(people, People)
            away = self._is_word(place + 1, "cue", "fewer") and self._free(place + 1)
            if people.count is None and people.sort != "person" and away and not self._is_word(place - 1, "of"):
                self.used.update((place, place + 1))
                self._set(turn=Turn(sort_gone=people.sort))

    def _split_off(self) -> None:
        """ "Ten of them are kids and only have one": some of the crowd on the table, who eat so many."""
        for place in self._places(Count):
            count, at = whole_count(self.phrases[place]), place + 1
            while self._is_word(at, "of") or self._is_word(at, "cue", "this"):
                at += 1
            people = self._at(at)
            sort = people.sort if isinstance(people, People) and people.count is None else ""
            at = at + 1 if sort else at
            while self._is_word(at, "join") or self._is_word(at, "sep", ",") or self._is_word(at, "bound", "only"):
                at += 1
            eats = self._is_word(at, "cue", "want", "have", "eats") and at > place + 1
            if eats:
                at = at + 2 if self._is_word(at + 1, "bound", "only") else at + 1
            if (
                sort
                and not eats
                and self._at(at) is None
                and at == place + 3
                and count is not None
                and self._free(place)
            ):
                # "3 of them are kids": of another sort, who eat as before until it is said otherwise
                self.used.update(range(place, at))
                self._set(turn=Turn(some=Group(count, sort)))
                return
            said = self._at(at)
            only = isinstance(said, Count) and said.bound is Bound.ONLY and at > place + 1
            each = whole_count(said) if eats or only else None
            if count is not None and each is not None and each <= MOST_EACH and self._free(place):
                self.used.update(range(place, at + 1))
                self._set(turn=Turn(some=Group(count, sort or "person", each)))
                return

    def _half_of_them(self) -> None:
        """ "Half of them only want one": so many each for half of the crowd on the table."""
        for place in self._word_places("cue", "half_of_them"):
            at = place + 1
            while self._is_word(at, "bound", "only") or self._is_word(at, "cue", "want", "eats", "have"):
                at += 1
            each = whole_count(self._at(at))
            if self._free(place) and at > place + 1 and each is not None and each <= MOST_EACH:
                self.used.update(range(place, at + 1))
                self._set(turn=Turn(half_each=each))

    def _day_said(self) -> str:
        """The one day or sitting that the line names."""
        labels = [label for place in range(len(self.phrases)) if (label := self._occasion(place))]
        return labels[0] if len(set(labels)) == 1 else ""

    def _factor_said(self) -> Fraction | None:
        """ "half as many", "20% more guests", "a quarter fewer", "only half come", "same crowd"."""
        text = self.sentence.text
        said = _AS_MANY.search(text)
        if said is not None:
            factor, rest = _TIMES[said.group(1).lower()], text[said.end() :].lower()
            on_top = factor < 1 and rest.lstrip().startswith("again")
            self._take(said.start(), said.end() + (len(rest) - len(rest.lstrip()) + len("again") if on_top else 0))
            return 1 + factor if on_top else factor
        same = _SAME.search(text)
        if same is not None:
            self._take(same.start(), same.end())
            return Fraction(1)
        for place, phrase in enumerate(self.phrases):
            share = self._share_at(place)
            if share is None or not self._free(place):
                continue
            as_many = _PART_AS_MANY.match(text[phrase.last :].lower())
            if as_many is not None:
                self._take(phrase.first, phrase.last + as_many.end())
                return 1 + share if "again" in as_many.group() else share
            if self._is_word(place + 1, "cue", "bigger", "smaller") and isinstance(self._at(place + 2), People):
                less = self._is_word(place + 1, "cue", "smaller")
                self.used.update({place, place + 1, place + 2})
                return 1 - share if less else 1 + share
            if self._stays_away(place):
                return 1 - share
            if _COME.match(text[phrase.last :].lower()):
                self.used.add(place)
                return share
        return None

    def _stays_away(self, place: int) -> bool:
        """ "a fifth of them are veggie", "10% won't come": said of the crowd on the table."""
        after = place + 1
        while self._is_word(after, "cue", "this") or self._is_word(after, "of"):
            after += 1
        if not self._is_word(after, "cue", "fewer") or self.sentence.of(People):
            return False
        self.used.update(range(place, after + 1))
        return True

    def _share_at(self, place: int) -> Fraction | None:
        phrase = self.phrases[place]
        if self._is_word(place, "cue", "half_of_them"):
            return Fraction(1, 2)
        if isinstance(phrase, Amount) and phrase.kind == "percent":
            return phrase.measure.value / 100
        return phrase.value if isinstance(phrase, Count) and phrase.piece else None

    def _take(self, first: int, last: int) -> None:
        """Account for every phrase within these characters of the line."""
        self.used.update(at for at, p in enumerate(self.phrases) if first <= p.first and p.last <= last)

    def _change_said(self) -> tuple[Fraction | None, str]:
        """ "five more are coming", "eight have cried off", "3 fewer people", "2 more kids": how many, and of whom."""
        for place in self._places(Count):
            count = whole_count(self.phrases[place])
            if count is None or not self._free(place):
                continue
            after = place + 1
            while (
                self._is_word(after, "cue", "this", "have", "bigger") or self._is_word(after, "of") or self._who(after)
            ):
                after += 1
            more = self._is_word(place + 1, "cue", "bigger")
            if more and (self._is_word(after, "cue", "coming") or isinstance(self._at(after), People)):
                self.used.update(range(place, after + 1))
                return count, self._of_whom(place, after)
            less = self._is_word(place + 1, "cue", "smaller")
            if self._is_word(after, "cue", "fewer") or (less and isinstance(self._at(place + 2), People)):
                last = after if not less else place + 2
                self.used.update(range(place, last + 1))
                return -count, self._of_whom(place, last)
        return None, ""

    def _of_whom(self, first: int, last: int) -> str:
        """The sort of people named among some phrases, "" where it may be any of them."""
        named = [p for p in self.phrases[first : last + 1] if isinstance(p, People) and p.sort != "person"]
        return named[0].sort if len(named) == 1 else ""

    def _part_stays_away(self) -> None:
        """ "two of the kids dropped out", "3 kids can't come": not two kids, but two fewer; told before anybody counts
        them."""
        counted = [at for at in self._places(People) if self.phrases[at].count is not None]  # type: ignore[attr-defined]
        if len(counted) == 1 and self._is_word(counted[0] + 1, "cue", "fewer"):
            people = self.phrases[counted[0]]
            assert isinstance(people, People)
            assert people.count is not None
            if people.count.value.denominator == 1 and len(list(self.sentence.substance())) <= 3:
                self.used.update({counted[0], counted[0] + 1})
                self._set(crowd_change=-people.count.value, crowd_of="" if people.sort == "person" else people.sort)
            return
        if any(people.count is not None for people in self.sentence.of(People)) or not self.sentence.has("fewer"):
            return
        of_them = (at + 2 for at in self._places(Count) if self._is_word(at + 1, "of"))
        if any(self._who(at) for at in of_them):
            change, sort = self._change_said()
            self._set(crowd_change=change, crowd_of=sort)

    def _who(self, place: int) -> bool:
        """ "two of the kids dropped out": the people before what they do."""
        phrase = self._at(place)
        does = self._is_word(place + 1, "cue", "fewer", "coming")
        return isinstance(phrase, People) and phrase.count is None and does

    # ---- another number, appetite or size for them

    def _said_anew(self) -> list[Group]:
        """ "the kids are 16 now", "kids get two as well", "make it two each"."""
        found = self._on_that_day() or self._come_in_all()
        names = [p for p in self._places(People) if self.phrases[p].count is None]  # type: ignore[attr-defined]
        for place in names:
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            number = whole_count(self._at(place + 1))
            group = Group(Fraction(0), phrase.sort, noun=noun_of(phrase))
            if number is not None and self._gap(place, place + 1) & {"are", "is", "re"}:
                found.append(Group(number, phrase.sort, noun=noun_of(phrase)))
            elif (each := self._each_at(place + 1)) is not None:
                found.append(Group(Fraction(0), phrase.sort, each=each, noun=group.noun))
            else:
                continue
            self.used.update({place, place + 1})
        if not found and len(names) == 1 and not self._patties_counted():
            # "the kids get 3 oz": their own size, and nobody else's
            phrase = self.phrases[names[0]]
            size = self._only_size()
            if isinstance(phrase, People) and size is not None:
                self.used.add(names[0])
                found.append(Group(Fraction(0), phrase.sort, size=size, noun=noun_of(phrase)))
        each_now = next((p for p in self._places(PerEach) if self.phrases[p].kind == "count"), None)  # type: ignore[attr-defined]
        if not found and each_now is not None and not self._patties_counted():
            phrase = self.phrases[each_now]
            assert isinstance(phrase, PerEach)
            self.used.add(each_now)
            found.append(Group(Fraction(0), "", each=phrase.measure.value, size=self._size_beside(each_now)))
        return found

    def _on_that_day(self) -> list[Group]:
        """ "make the Saturday lot 60", "60 on Saturday now": as many on that day, where days are on the table."""
        counts = [place for place in self._places(Count) if whole_count(self.phrases[place]) is not None]
        if len(counts) != 1 or not self._free(counts[0]) or self.sentence.of(People) or self._patties_counted():
            return []
        (place,) = counts
        near = [at for at in (place - 1, place - 2, place + 1, place + 2) if self._occasion(at)]
        others = [p for p in self.phrases if isinstance(p, Amount | PerEach | Patties)]
        if not near or others:
            return []
        led = [at for at in range(place) if self._is_word(at, "cue", "into", "make_it", "correction")]
        self.used.update({place, near[0], *led})
        return [Group(whole_count(self.phrases[place]) or Fraction(0), "")]

    def _come_in_all(self) -> list[Group]:
        """ "what if 190 come", "only 60 turned up": so many people in all."""
        for place in self._places(Count):
            count = whole_count(self.phrases[place])
            follows = self.sentence.text[self.phrases[place].last :].lower()
            comes = _COME.match(follows) is not None or self._is_word(place + 1, "cue", "coming")
            if count is not None and self._free(place) and comes:
                self.used.add(place)
                return [Group(count, "")]
        return []

    def _only_size(self) -> Measure | None:
        """The one weight of a patty that the line names."""
        sizes = [p for p in self._places(Amount) + self._places(PerEach) if self.phrases[p].kind == "weight"]  # type: ignore[attr-defined]
        if len(sizes) != 1 or not self._free(sizes[0]):
            return None
        phrase = self.phrases[sizes[0]]
        assert isinstance(phrase, Amount | PerEach)
        if rough_grams(phrase.measure) > _HEAVIEST_PATTY:
            return None
        self.used.add(sizes[0])
        return phrase.measure

    def _each_at(self, place: int) -> Fraction | None:
        phrase = self._at(place)
        if isinstance(phrase, Patties) and phrase.count is not None and phrase.each is None:
            return phrase.count.value if phrase.count.value <= MOST_EACH else None
        if isinstance(phrase, PerEach) and phrase.kind == "count":
            return phrase.measure.value
        count = whole_count(phrase)
        return count if count is not None and count <= MOST_EACH else None

    def _size_beside(self, place: int) -> Measure | None:
        """ "150 g, one each": the weight told with the number."""
        for near in (place - 1, place - 2, place + 1, place + 2):
            phrase = self._at(near)
            if isinstance(phrase, Amount) and phrase.kind == "weight" and self._free(near):
                self.used.add(near)
                return phrase.measure
        return None

    def _patties_counted(self) -> bool:
        return any(patties.count is not None for patties in self.sentence.of(Patties))
