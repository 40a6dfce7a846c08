"""Who wants more, who stays away, and crowds of which so many have one and the others two."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, PerEach, Word
from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.heads import Heads
from assistant.topics.plan.reading.losses import whole_count
from assistant.topics.plan.reading.marks import rough_grams
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import Item

_TAKES = ("want", "have", "everyone", "eats", "safe")
_EATS = frozenset(
    [
        "eat",
        "eats",
        "eating",
        "want",
        "wants",
        "come",
        "coming",
        "turn",
        "show",
        "take",
        "buy",
        "buys",
        "have",
        "has",
        "having",
    ]
)
"""Verbs of those of a crowd who eat: "60% will eat one", "two thirds turn up"."""
_HEAVIEST_PATTY = 700
"""Grams. A heavier weight is the meat for all of them. Common practice, no source."""
_REST = ("most", "others", "remaining")


class Lot(Struct, frozen=True):
    """Some of a crowd who eat alike. value: a share (below 1), a number of them, or None for the rest; size: of their
    patties, where it is theirs alone."""

    value: Fraction | None
    each: Fraction
    places: tuple[int, ...]
    size: Measure | None = None


class Shares(Heads):
    """Parts of a crowd."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        super().__init__(sentence, known)
        self.more_share: Fraction | None = None
        self.more_people: Fraction | None = None
        self.none_share = Fraction(0)
        self.lots: list[Lot] = []

    # ---- some have one, the others two

    def _find_lots(self) -> None:
        """ "two thirds will have one and the rest two", "half have one, half have two": what everybody eats."""
        found = [lot for place in range(len(self.phrases)) if (lot := self._lot(place)) is not None]
        shares = sum((lot.value for lot in found if lot.value is not None and lot.value < 1), Fraction(0))
        if shares > 1 or sum(lot.value is None for lot in found) > 1:
            return
        alone = found[0] if len(found) == 1 and found[0].size is None else None
        if alone is not None and alone.value is not None and alone.value < 1 and alone.each == 1:
            # "60% of them will eat a burger": the others eat none
            self.none_share = Fraction(1) - alone.value
            self.used.update(alone.places)
            return
        if len(found) < 2 and not (found and (self._is_lot_of_burgers(found[0]) or self._is_lot_by_size(found[0]))):
            return
        self.lots = found
        for lot in found:
            self.used.update(lot.places)

    def _is_lot_of_burgers(self, lot: Lot) -> bool:
        """ "half of them have two burgers": said of those alone; the others have one."""
        last = max(lot.places)
        burgers = any(isinstance(self._at(at), Patties) for at in (last, last + 1))
        verb = any(self._is_word(at, "cue", *_TAKES) for at in lot.places)
        return burgers and verb and lot.value is not None and lot.each > 1

    def _lot(self, place: int) -> Lot | None:
        some = self._some(place)
        if some is None:
            return None
        value, last = some
        after = last + 1
        while self._only_leads(after):
            after += 1
        phrase = self._at(after)
        if isinstance(phrase, Amount | PerEach) and phrase.kind == "weight":
            light = rough_grams(phrase.measure) < _HEAVIEST_PATTY
            return Lot(value, Fraction(1), tuple(range(place, after + 1)), phrase.measure) if light else None
        each = phrase.count.value if isinstance(phrase, Patties) and phrase.count is not None else whole_count(phrase)
        if self._is_word(after, "pereach") and phrase is not None and phrase.text.lower() == "a burger":
            each = Fraction(1)
        if isinstance(phrase, Patties) and phrase.each is not None:
            # the size is said with it, and has to stay for who looks for sizes
            return None if each is None or each > MOST_EACH else Lot(value, each, tuple(range(place, after)))
        if each is None or each > MOST_EACH:
            return None
        return Lot(value, each, tuple(range(place, after + 1)))

    def _only_leads(self, place: int) -> bool:
        """A word between some of a crowd and what they get: "of them will be kids who get …"."""
        phrase = self._at(place)
        if isinstance(phrase, People):
            return phrase.count is None or self._is_word(place - 1, "of")
        led = self._is_word(place, "cue", "this", "everyone", *_TAKES) or self._is_word(place, "of")
        return led or self._is_word(place, "open")

    def _is_lot_by_size(self, lot: Lot) -> bool:
        """ "half of them 100 g, the others 150 g": the other weight is what the rest get."""
        weights = [p for p in range(len(self.phrases)) if self._is_light(p) and p not in lot.places]
        return lot.size is not None and lot.value is not None and len(weights) == 1

    def _is_light(self, place: int) -> bool:
        phrase = self.phrases[place]
        weighed = isinstance(phrase, Amount | PerEach) and phrase.kind == "weight"
        return weighed and rough_grams(phrase.measure) < _HEAVIEST_PATTY  # type: ignore[attr-defined]

    def _some(self, place: int) -> tuple[Fraction | None, int] | None:
        """A share, a number of them or the rest, with the last place it takes up."""
        phrase = self._at(place)
        if self._is_word(place, "cue", "rest") or (phrase is not None and phrase.text.lower() in _REST):
            return None, place
        if isinstance(phrase, People) and phrase.count is not None and phrase.text.lower().endswith("of us"):
            earlier = any(isinstance(p, People) and p.count is not None for p in self.phrases[:place])
            return (phrase.count.value, place) if earlier else None
        if isinstance(phrase, Count) and not phrase.piece and not self._is_word(place + 1, "cue", "this"):
            return None
        found = self._some_of_them(place)
        return None if found is None else (found[0], max(found[1]))

    # ---- who wants more

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
            takes = Fraction(2) if self._is_word(after, "cue", "doubles") else whole_count(self._at(after))
            verb = any(self._is_word(at, "cue", *_TAKES) for at in range(max(places) + 1, after))
            if self._is_word(after, "cue", "seconds", "unit:second"):
                more = Fraction(1)
            elif verb and takes is not None and 2 <= takes <= MOST_EACH and (value < 1 or self._of_them(places, after)):
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

    def _of_them(self, places: list[int], end: int) -> bool:
        """ "4 of them want doubles": a number of those who were counted."""
        return any(self._is_word(at, "cue", "this") for at in range(max(places) + 1, end))

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
        of_place = (
            place + 2
            if self._is_word(place + 1, "cue", "out_of") or self._is_word(place + 1, "sep", " ")
            else place + 1
        )
        whole = whole_count(self._at(of_place))
        said = "in" in self._gap(of_place - 1, of_place) or "in" in self._gap(place, place + 1)
        if whole and (said or self._is_word(place + 1, "cue", "out_of")) and phrase.value < whole:
            return phrase.value / whole, list(range(place, of_place + 1))
        return phrase.value, [place]

    # ---- who stays away

    def _stay_away(self) -> tuple[Fraction, Fraction]:
        """People who do not eat: (a number of them, a share of them)."""
        gone, share = Fraction(0), self.none_share
        for place in range(len(self.phrases)):
            if not self._is_word(place, "cue", "fewer") or not self._free(place):
                continue
            # "1 in 10 won't show" begins three places before, and is no 10 of them
            for near in (place - 3, place - 2, place - 1, place + 1):
                found = self._some_of_them(near) if near >= 0 and self._free(near) else None
                if found is None:
                    continue
                value, places = found
                between = [at for at in range(min(near, place) + 1, max(near, place)) if at not in places]
                if not all(self._is_among_these(at, value) for at in between):
                    continue
                between = [at for at in between if not isinstance(self._at(at), People)]
                self.used.update({place, *places, *between})
                self._none_for_them(place + 1)
                if value >= 1:
                    gone += value
                else:
                    share += value
                break
        return gone, share or self._share_not_eating()

    def _share_not_eating(self) -> Fraction:
        """ "250 coming, about 60% of them will eat a burger": the share that is left of the crowd, from the share of it
        that eats at all. What those eat more than once is told otherwise ("60% will have two")."""
        for place in range(len(self.phrases)):
            found = self._some_of_them(place) if self._free(place) else None
            if found is None or not 0 < found[0] < 1 or self.lots:
                continue
            after = max(found[1]) + 1
            of_them = after
            while (
                self._is_word(of_them, "of")
                or self._is_word(of_them, "cue", "this")
                or isinstance(self._at(of_them), People)
            ):
                of_them += 1
            verb, no = self._at(of_them), self._is_word(of_them, "cue", "not")
            if no:
                of_them += 1
                verb = self._at(of_them)
            words = verb.text.lower().split() if isinstance(verb, Word) and verb.kind == "cue" else []
            eats = bool(_EATS & set(words))
            one = of_them + 1
            once = self._is_word(one, "pereach") or whole_count(self._at(one)) == 1 or self._at(one) is None
            once = once or self._is_word(one, "sep") or self._is_word(one, "cue", "mix")
            if eats and once:
                self.used.update({*found[1], *range(after, of_them + 1)})
                if not self._is_word(one, "sep") and self._at(one) is not None:
                    self.used.add(one)
                return found[0] if no else 1 - found[0]
        return Fraction(0)

    def _none_for_them(self, place: int) -> None:
        """ "vegan so no beef for them", "veggie, so no burger": only says again that they eat none."""
        while self._is_word(place, "sep", ","):
            place += 1
        what = self._at(place + 1)
        bare = isinstance(what, Patties) and what.count is None and what.each is None
        if not self._is_word(place, "cue", "not") or not (bare or isinstance(what, CutName)):
            return
        if isinstance(what, CutName):
            self.out = [name for name in self.out if name != what.name]
        for mention in [mention for mention in self.mentions if mention.place == place + 1]:
            self._forget(mention)
        self.used.update({place, place + 1, *(at for at in (place + 2,) if self._is_word(at, "cue", "this"))})

    def _is_among_these(self, place: int, value: Fraction) -> bool:
        """Whether a word between a share and what is said of those tells only of whom it is: "10% of my 80 guests are"."""
        if value < 1 and isinstance(self._at(place), People):
            return True
        return self._is_word(place, "cue", "this", "not") or self._is_word(place, "of")
