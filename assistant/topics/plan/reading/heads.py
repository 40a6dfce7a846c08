"""Which numbers count people: those beside a word for people, and those that stand alone."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Count,
    Fatness,
    Moment,
    Patties,
    People,
    PerEach,
    Phrase,
    Scale,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.losses import Losses, whole_count
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import Item

GROWN = 13
"""Years from which an age that was said is taken as a grown eater's; below it, a child's."""


_OLD = Pattern(r"\s*-?\s*(?:years?|yrs?)?[\s-]*olds?\b", re.IGNORECASE)
_PARTY = Pattern(r"[^.;,]{0,14}\b(?:birthday|bday|b day|party)", re.IGNORECASE)
_MEAL_FOR = Pattern(
    r"\b(?:burgers|patties|sausages|sliders|meat|mince|beef|pork|lamb|barbecue|barbie|bbq|braai|cook-?out|party|breakfast|brunch"
    r"|lunch|tea|dinner|supper|meal)(?: (?:on )?(?:mon|tues?|wed|thurs?|fri|sat|sun)(?:nes|ur)?(?:day)?)?"
    r" for(?: (?:about|around|roughly|say|maybe|some))?\s*$",
    re.IGNORECASE,
)
_OVER_HEAT = Pattern(
    r"\b(?:cook|grill|fry|sear|leave|rest|chill|put|freeze)\b|^\W*(?:min|hour|hr|sec|day|week|month)", re.IGNORECASE
)
"""What is done to meat for so long, and the units of that: not the company."""
_MEALS = frozenset(("breakfast", "brunch", "lunch", "tea", "dinner", "supper"))
_RELATIVE = r"(?:mum|mom|mam|mummy|dad|daddy|wife|husband|me|myself|grandad|granddad|grandpa|uncle|auntie|aunt)"
_FAMILY = Pattern(rf"\b(?:(?:my |the )?{_RELATIVE}(?: and |, (?:and )?| & | \+ | plus ))+$")
_AND_THE_COX = Pattern(
    r"\s*(?:and|plus|with|[+&])\s+(?:a|an|one|my|the|our|their)\s+"
    r"(?:cox|steersman|skipper|captain|chef|cook|driver|ref|host|hostess|bride|groom|dad|mum|mom|friend|mate|boss|vicar|helper|volunteer|teacher|parent|cousin|neighbou?r|student)\b"
)
_TURNING = Pattern(r"(?<!\bit )(?<!\bthat )(?<!\bmix )\b(?:turning|turns|turned|hitting|hits|reaching|aged)\s+$")
"""Before somebody's age; a mix that hits 20 has so much fat."""
_AND_A = Pattern(r"(?:\b(?:and|plus|with)|[+&])\s+(?:a|an|one|my|the|our|their)\s+$")
_EVERYBODY = frozenset(("guest", "people", "person", "ppl", "folk", "head", "of u", "mouth"))
_OF_WHOM = ("of whom", "of which", "of them are", "including", "incl")


class Opening(Struct, frozen=True):
    """A place of the line from which it speaks of one group. count None: a group named again.

    noun: the word for them, without its plural s. label: the day, sitting or table. among: they are some of the group
    named before.
    """

    place: int
    sort: str
    count: Fraction | None
    noun: str = ""
    label: str = ""
    among: bool = False


class Heads(Losses):
    """The people of a sentence, one opening for each place that speaks of some."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        super().__init__(sentence, known)
        self.company: list[Opening] = []

    # ---- ages

    def _ages(self) -> None:
        """ "my 8 yr old gets 3 oz", "two 5 year olds": an age is no amount, and whoever has it eats."""
        self._kids_by_age()
        for place, phrase in enumerate(self.phrases):
            turning = not self.items and _TURNING.search(self.sentence.text[: phrase.first].lower()) is not None
            if turning and whole_count(phrase) is not None:
                # "my dad's turning 60"
                self.used.add(place)
                continue
            years = self._years(place, phrase)
            if years is None:
                continue
            self.used.add(place)
            if _PARTY.match(self.sentence.text[phrase.last :]):
                continue
            before = whole_count(self._at(place - 1))
            if before is not None:
                self.used.add(place - 1)
            self.company.append(Opening(place, "kid" if years < GROWN else "adult", before or Fraction(1)))

    def _kids_by_age(self) -> None:
        """ "my kids are 7 and 9": as many children as ages."""
        for place in self._places(People):
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            if phrase.count is not None or phrase.sort != "kid" or not self._gap(place, place + 1) & {"are"}:
                continue
            ages, at = [], place + 1
            while whole_count(self._at(at)) is not None:
                ages.append(at)
                joined = self._is_word(at + 1, "join") or self._is_word(at + 1, "sep", ",")
                at += 2 if joined and self.phrases[at + 1].text.lower() != "plus" else 1
            if len(ages) > 1 and all(whole_count(self.phrases[at]) < GROWN + 6 for at in ages):  # type: ignore[operator]
                self.used.update((place, *ages))
                self.company.append(Opening(place, "kid", Fraction(len(ages)), noun_of(phrase)))

    def _years(self, place: int, phrase: Phrase) -> Fraction | None:
        if not (self.sentence.of(People) or self._any_weight()):
            return None
        if isinstance(phrase, Amount) and phrase.kind == "duration" and phrase.measure.unit == "year":
            return phrase.measure.value if _OLD.match(self.sentence.text[phrase.last :]) else None
        risk = self._at(place + 1)
        old = isinstance(risk, Word) and risk.payload == "at_risk" and _OLD.match(risk.text) is not None
        return whole_count(phrase) if old else None

    def _any_weight(self) -> bool:
        return any(isinstance(p, Amount | PerEach) and p.kind == "weight" for p in self.phrases)

    # ---- numbers alone

    def _turnout(self) -> None:
        """Numbers that count people without a word for people: "feeding 25", "75 at the do", "Saturday 65"."""
        told = any(phrase.count is not None for phrase in self.sentence.of(People))
        for place, phrase in enumerate(self.phrases):
            count = whole_count(phrase)
            if count is None and self._free(place):
                count = self._upper_of_range(place)
            if count is None or not self._free(place):
                continue
            found = self._of_a_sort(place, count) or self._at_an_occasion(place, count) or self._called(place, count)
            if found is None and not told:
                found = self._led(place, count)
            if found is not None:
                self.company.append(found)
        if not told and not self.company:
            self._the_one_number()

    def _upper_of_range(self, place: int) -> Fraction | None:
        """ "between 60 and 75 are coming": for which of the two is asked."""
        phrase = self.phrases[place]
        led = self._is_word(place + 1, "cue", "coming") or self._is_word(place - 1, "cue", "crowd", "feeding")
        if not isinstance(phrase, Count) or phrase.high is None or not led:
            return None
        low, high = f"{float(phrase.value):g}", f"{float(phrase.high):g}"
        self._set(question=f"For how many shall I plan: {low}, or {high} to be safe?")
        return phrase.high

    def _of_a_sort(self, place: int, count: Fraction) -> Opening | None:
        """ "48 hungry rowers", "9 grown men", "30 seniors", "10 minis" beside other groups."""
        after, noun = self._at(place + 1), self._at(place + 2)
        describing = self._is_word(place + 1, "unknown") or self._is_word(place + 1, "cue", "big_eaters", "at_risk")
        if describing and isinstance(noun, People) and noun.count is None and not self._stop_between(place, place + 2):
            self.used.update({place, place + 1, place + 2})
            return Opening(place, noun.sort, count, noun_of(noun))
        others = any(people.count is not None for people in self.sentence.of(People))
        named = self._is_word(place + 1, "unknown") or (
            self._is_word(place + 1, "cue", "at_risk") and self._any_weight()
        )
        if named and others and after is not None and self._close(place, place + 1) and not _is_beast(after.text):
            self.used.update({place, place + 1})
            return Opening(place, "person", count, _singular(after.text.lower()))
        return None

    def _at_an_occasion(self, place: int, count: Fraction) -> Opening | None:
        """ "Saturday 65", "day two: 40", "24 at the first": the number beside a day or a sitting."""
        before = place - 1 if not self._is_word(place - 1, "sep", ":", ",", " ") else place - 2
        led, follows = self._occasion(before), self._occasion(place + 1)
        beside = self._at(place + 1)
        ends = beside is None or isinstance(beside, Word | PerEach | Patties | Amount)
        told = self._any_portion() or self.sentence.has("same_again")
        if (led or follows) and ends and not isinstance(beside, Scale) and told:
            self.used.add(place)
            return Opening(place, "person", count)
        return None

    def _occasion(self, place: int) -> str:
        """The day, sitting or table that a place names; "" for none."""
        phrase = self._at(place)
        if isinstance(phrase, Moment) and phrase.day is not None:
            return phrase.text.lower().replace("’", "'").removesuffix("'s")
        return phrase.text.lower() if phrase is not None and self._is_word(place, "cue", "occasion") else ""

    def _called(self, place: int, count: Fraction) -> Opening | None:
        """ "crew of 8", "feeding 25"."""
        if not self._is_word(place - 1, "cue", "crowd", "feeding") and not self._says(place - 1, "to feed"):
            return None
        self.used.update({place, place - 1})
        return Opening(place, "person", count, _singular(self.phrases[place - 1].text.lower().split()[0]))

    def _led(self, place: int, count: Fraction) -> Opening | None:
        if self._is_word(place + 1, "cue", "coming"):
            self.used.update({place, place + 1})
            return Opening(place, "person", count)
        if (
            self._on_plates(place)
            or self._is_for_them(place)
            or self._is_a_meal_for(place)
            or self._of_a_gathering(place)
            or self._with_some_of_them(place)
        ):
            self.used.add(place)
            return Opening(place, "person", count)
        return None

    def _on_plates(self, place: int) -> bool:
        """ "130 g cooked on 60 plates": as many eat."""
        return self.sentence.text[self.phrases[place].last :].lower().startswith(" plates") and self._any_portion()

    def _is_for_them(self, place: int) -> bool:
        """ "2 burgers each for 12", "lunch for 30", "10 kg for 84 at 130 g each"."""
        led = "for" in self._gap(place - 1, place) or (place == 0 and self._starts_with_for())
        return led and self._any_portion() and not any(isinstance(p, Fatness) for p in self.phrases[place:])

    def _is_a_meal_for(self, place: int) -> bool:
        """ "Burgers for 20", "how much meat for about 20": those who eat, where nothing else is counted or weighed."""
        text, number = self.sentence.text, self.phrases[place]
        if _OVER_HEAT.search(text[: number.first]) is not None or _OVER_HEAT.search(text[number.last :]) is not None:
            return False
        meal = _MEAL_FOR.search(text, 0, number.first) is not None
        follows = self._at(place + 1)
        ends = self._ends_clause(place + 1) or isinstance(follows, Word | Moment)
        ends = ends and not (self._is_word(place + 1, "at") and isinstance(self._at(place + 2), Moment))
        figures = [p for p in self.phrases if isinstance(p, Count | Amount | SeasoningName | PerEach)]
        return meal and ends and figures == [number]

    def _starts_with_for(self) -> bool:
        return "for" in self.sentence.text[: self.phrases[0].first].lower().split()

    def _of_a_gathering(self, place: int) -> bool:
        """ "a wedding of 140": of, and a number that nothing follows."""
        led = self._is_word(place - 1, "of") and not isinstance(self._at(place - 2), Count | Amount | Patties)
        return led and self._ends_clause(place + 1) and self._any_portion()

    def _with_some_of_them(self, place: int) -> bool:
        """ "60 in all, 20 of whom are children": the number that others are some of."""
        text = self.sentence.text[self.phrases[place].last :].lower().split(".")[0]
        if self._is_word(place + 1, "of"):
            return False
        return any(words in text for words in _OF_WHOM) and bool(self.sentence.of(People)) and self._any_portion()

    def _the_one_number(self) -> None:
        """ "36 at 4 oz each": the only number of a line that says what each of them gets."""
        free = [p for p in self._places(Count) if self._free(p) and whole_count(self.phrases[p]) is not None]
        large = [p for p in free if (whole_count(self.phrases[p]) or 0) > MOST_EACH]
        patties = any(
            patties.count is not None and patties.count.value > MOST_EACH for patties in self.sentence.of(Patties)
        )
        each = any(isinstance(p, PerEach) and p.kind == "weight" for p in self.phrases)
        each = each or (bool(self.sentence.words("pereach")) and self._any_portion())
        if len(large) != 1 or patties or not each or self.items or self.sentence.of(Scale):
            return
        self.used.add(large[0])
        self.company.append(Opening(large[0], "person", whole_count(self.phrases[large[0]])))

    def _any_portion(self) -> bool:
        """Whether the line says what somebody gets: a weight or a number each, or a patty of some weight."""
        sized = any(p.each is not None or p.count is not None for p in self.sentence.of(Patties))
        return sized or any(
            isinstance(p, PerEach) or (isinstance(p, Amount) and p.kind == "weight") for p in self.phrases
        )

    def _ends_clause(self, place: int) -> bool:
        return self._at(place) is None or self._is_word(place, "sep") or self._is_word(place, "join")

    def _close(self, left: int, right: int) -> bool:
        return self._gap(left, right) <= {"the", "of", "-"}

    def _stop_between(self, first: int, last: int) -> bool:
        return any(self._is_word(at, "sep") for at in range(first, last + 1))

    # ---- how often they sit down

    def _sittings(self) -> None:
        """ "three sittings of 40", "10 tables of 8", "130 people a day for two days"."""
        for place in range(len(self.phrases)):
            count = whole_count(self._at(place - 1))
            if count is None or not self._free(place - 1):
                continue
            if self._is_word(place, "cue", "tables_of"):
                seated = whole_count(self._at(place + 1))
                if seated is not None:
                    self.used.update({place - 1, place, place + 1})
                    self.company.append(Opening(place + 1, "person", count * seated))
            elif self._is_word(place, "cue", "sitting"):
                self._sitting(place, count)
        self._days()

    def _sitting(self, place: int, count: Fraction) -> None:
        self.used.update({place, place - 1})
        seated = whole_count(self._at(place + 2)) if self._is_word(place + 1, "of") else None
        if seated is not None:
            self.used.update({place + 1, place + 2})
            self.company.append(Opening(place + 2, "person", seated))
        each_told = sum(bool(self._occasion(at)) for at in range(len(self.phrases)))
        if each_told < 2:
            # "two sittings, 24 at the first and 36 at the second" are told one by one
            self._set(servings=count)

    def _days(self) -> None:
        days = [p for p in self._places(Amount) if self._is_days(p)]
        daily = [p for p in days if self.phrases[p].text.lower().startswith(("a ", "one "))]
        several = [p for p in days if p not in daily]
        marks = [p for p in range(len(self.phrases)) if self._is_word(p, "cue", "per_day") or self._is_daily(p)]
        lasting = [p for p in self._places(Amount) if self._is_word(p + 1, "sep", ",") and self._says(p + 2, "long")]
        told = [p for p in several if p not in lasting]
        self.used.update(lasting if told else [])
        several = told or several
        if not (self.sentence.of(People) and (daily or marks)):
            return
        self.used.update(daily + marks)
        if len(several) == 1:
            phrase = self.phrases[several[0]]
            assert isinstance(phrase, Amount)
            self.used.add(several[0])
            self._set(servings=phrase.measure.value)

    def _is_daily(self, place: int) -> bool:
        """ "100 g a day each": for each of them and each day."""
        phrase = self.phrases[place]
        return isinstance(phrase, PerEach) and phrase.kind == "duration" and phrase.measure.unit == "day"

    def _is_days(self, place: int) -> bool:
        phrase = self.phrases[place]
        return isinstance(phrase, Amount) and phrase.measure.unit == "day" and phrase.measure.value.denominator == 1

    # ---- all of them, in order

    def _openings(self) -> tuple[list[Opening], Fraction]:
        """Where the line turns to a group, in order; and people who are named only to be taken off."""
        found, gone = list(self.company), Fraction(0)
        for place in self._places(People):
            if not self._free(place):
                continue
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            self.used.add(place)
            away = [at for at in (place - 1, place + 1) if self._is_word(at, "cue", "fewer") and self._free(at)]
            if away and phrase.count is not None and not self._is_shared(place):
                self.used.update(away)
                gone += phrase.count.value
                continue
            found.append(self._opening(place, phrase))
        found = [self._with_one_more(opening) for opening in found]
        found.sort(key=lambda opening: opening.place)
        found = self._the_rest_of_them(found)
        found = [replace(o, label=self._label(o.place), among=self._is_among(o)) for o in found]
        if any(opening.among and opening.sort == "kid" for opening in found):
            # who is left when the children are told apart is grown up
            found = [replace(o, sort="adult") if o.count is not None and not o.among else o for o in found]
        return self._known_again(found), gone

    def _is_shared(self, place: int) -> bool:
        """ "10% of my 80 guests": only some of these are spoken of."""
        share = self._at(place - 2)
        part = (isinstance(share, Count) and share.piece) or (isinstance(share, Amount) and share.kind == "percent")
        return self._is_word(place - 1, "of") and part

    def _the_rest_of_them(self, found: list[Opening]) -> list[Opening]:
        """ "64 in all: 40 grown-ups, the rest kids": those who are left of the number told first."""
        left = next(
            (at for at, o in enumerate(found) if o.count is None and self._is_word(o.place - 1, "cue", "rest")), None
        )
        whole = found[0] if found else None
        if left is None or left < 2 or whole is None or whole.count is None or whole.sort != "person":
            return found
        told = sum((opening.count or Fraction(0) for opening in found[1:left]), Fraction(0))
        if not 0 < told < whole.count:
            return found
        self.used.add(found[left].place - 1)
        found[left] = replace(found[left], count=whole.count - told)
        return found[1:]

    def _opening(self, place: int, phrase: People) -> Opening:
        count = None if phrase.count is None else phrase.count.value
        scale = self._at(place + 1)
        led = self._at(place - 1)
        if count is None and isinstance(led, Scale) and led.factor > MOST_EACH and self._free(place - 1):
            # "200 g a head x 18 people"
            self.used.add(place - 1)
            count = led.factor
        if count is None and self._is_one_more(place):
            count = Fraction(1)
        if count is not None:
            count += self._family(phrase)
        if count is None and isinstance(scale, Scale) and scale.factor > MOST_EACH:
            # "adults 32 x 170 g"
            self.used.add(place + 1)
            count = scale.factor
        before = whole_count(self._at(place - 2)) if self._is_word(place - 1, "of") else None
        if count is None and before is not None and self._free(place - 2):
            # "20 of whom are children"
            self.used.update({place - 1, place - 2})
            count = before
        return Opening(place, phrase.sort, count, noun_of(phrase))

    def _is_one_more(self, place: int) -> bool:
        """ "crew of 8 plus a cox", "12 guests and one helper": one person, joined on to those who were counted."""
        said = self.sentence.text[: self.phrases[place].first].lower()
        counted = bool(self.company) or any(p.count is not None for p in self.sentence.of(People))
        return counted and _AND_A.search(said) is not None and not self.phrases[place].text.lower().endswith("s")

    def _with_one_more(self, opening: Opening) -> Opening:
        """ "the crew is 8 plus a cox", "12 guests and the cook": one more of them, by a word that counts nobody elsewhere."""
        rest = self.sentence.text[self.phrases[opening.place].last :].lower()
        if opening.count is None or _AND_THE_COX.match(rest) is None:
            return opening
        return replace(opening, count=opening.count + 1)

    def _family(self, phrase: People) -> int:
        """ "mum, dad and four kids": those who are named one by one and joined on eat too."""
        told = _FAMILY.search(self.sentence.text[: phrase.first].lower())
        return (
            len(re.findall(r"\w+", told.group())) - len(re.findall(r"\b(?:and|plus|my|the)\b", told.group()))
            if told
            else 0
        )

    def _known_again(self, found: list[Opening]) -> list[Opening]:
        """The openings without those that name, without a number, a group that was never counted."""
        counted = [opening for opening in found if opening.count is not None]
        return [o for o in found if o.count is not None or any(same_people(o, other) for other in counted)]

    def _is_among(self, opening: Opening) -> bool:
        """ "60 in all, 20 of whom are children", "40 guests including 12 kids"."""
        place = opening.place
        if opening.count is None:
            return False
        stops = [self.phrases[at].last for at in range(place) if self._is_word(at, "sep", ".")]
        said = self.sentence.text[max(stops, default=0) : self.phrases[place].last].lower()
        led = self.sentence.text[: self.phrases[place].first].lower().rstrip().endswith(" the")
        if led and opening.sort == "kid" and self._after_guests(place):
            # "60 guests, two each, but the 12 kids only one"
            return True
        return any(words in said for words in _OF_WHOM) and place > min(self._counting_places(), default=place)

    def _after_guests(self, place: int) -> bool:
        """Whether people of every sort were counted before a place."""
        people = [self.phrases[at] for at in self._places(People) if at < place]
        return any(isinstance(p, People) and p.count is not None and noun_of(p) in _EVERYBODY for p in people)

    def _counting_places(self) -> list[int]:
        counted = [p for p in self._places(People) if self.phrases[p].count is not None]  # type: ignore[attr-defined]
        return counted + [opening.place for opening in self.company]

    def _label(self, place: int) -> str:
        """The day, sitting or meal that an opening is for."""
        before = place - 1
        while self._is_word(before, "sep", ":", ",", " "):
            before -= 1
        between = self._gap(before, place)
        start = 0 if before < 0 else self.phrases[before].last
        words = re.findall(r"[a-z]+", self.sentence.text[start : self.phrases[place].first].lower())
        meal = next((word for word in words if word in _MEALS), "")
        later = place + 2 if self._is_word(place + 1, "at") or self._is_word(place + 1, "sep", " ") else place + 1
        after = self._occasion(later)
        if after and self._days_come_after(place):
            return after
        return self._occasion(before) or (meal if between or before < 0 else "") or after or self._day_of_all()

    def _day_of_all(self) -> str:
        """ "Saturday: same plan, 38 heads": the one day of a line that counts people once."""
        days = {day for at in range(len(self.phrases)) if (day := self._occasion(at))}
        once = len(set(self._counting_places())) == 1
        led = bool(self._occasion(0)) and self.sentence.has("same_again")
        return days.pop() if once and led and len(days) == 1 else ""

    def _days_come_after(self, place: int) -> bool:
        """ "12 on Saturday, 20 on Sunday": each day is said after its people, for people are the first to be named."""
        days = [at for at in range(len(self.phrases)) if self._occasion(at)]
        return min(self._counting_places(), default=place) < days[0]


def same_people(again: Opening, known: Opening) -> bool:
    """Whether a group named again is the one that was counted: by its noun, or as the adults or the children."""
    if again.noun and again.noun == known.noun:
        return True
    return again.sort == known.sort and again.sort != "person"


def noun_of(phrase: People) -> str:
    """The word for some people, without its plural s."""
    text = phrase.text if phrase.count is None else phrase.text[len(phrase.count.text) :]
    return _singular(text.strip().lower())


def _is_beast(noun: str) -> bool:
    """ "12 people, 2 cats": who is not fed from the grill."""
    return _singular(noun.lower()) in ("cat", "dog", "puppy", "kitten", "horse", "pony", "hen", "rabbit", "hamster")


def _singular(noun: str) -> str:
    irregular = {"men": "man", "women": "woman", "children": "child"}
    return irregular.get(noun, noun.removesuffix("s"))
