"""What is left is the batch; and the wishes that go with it."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.phrases import Amount, Bound, Count, Moment, Patties, Scale
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import is_brought
from assistant.topics.plan.reading.prices import Prices
from assistant.topics.plan.reading.pushed import pushed
from assistant.topics.plan.reading.sizes import Sizes
from assistant.topics.plan.reading.spices import Spices

_AS_IT_TAKES = Pattern(r"\bas\s+(?:it\s+takes|it\s+needs|needed|is\s+needed|required)\b", re.IGNORECASE)
_CAN = Pattern(r"\b(?:can|could|possible)\b", re.IGNORECASE)
_WHATEVER = frozenset(["some", "enough", "whatever", "any", "bit", "little", "touch", "splash"])
"""Words before a cut of which as much goes in as it takes."""


class Batch(Sizes, Spices, Prices):
    """The batch and the wishes."""

    def _find_batch(self) -> None:
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if phrase.kind != "weight" or not self._free(place):
                continue
            scaled = bool(self.seasonings) and self.sentence.has("scale_to") and self.plan.recipe_for is None
            # "scale this to 7 lb: for 5 lb meat, …": what follows the word itself is what is wanted
            to = "to" in self._gap(place - 1, place) or self.sentence.text[: phrase.first].rstrip().lower().endswith(
                " to"
            )
            wanted = to and self._is_word(place - 1, "cue", "scale_to") and len(self._free_weights()) > 1
            # "scale 28 g salt per 1.5 kg up to 4.2 kg": what it is written for is told by the per
            wanted = wanted or (
                len(self._free_weights()) == 1 and all(p.per is not None for p in self.seasonings.values())
            )
            recipe = self._is_recipe_weight(place) or (scaled and not wanted)
            said = phrase.measure
            if scaled and said.high is not None:
                # "scale from 3 lb to 8 lb": from one weight to the other, and no range
                self._set(recipe_for=replace(said, high=None), batch=replace(said, value=said.high, high=None))
                self.used.add(place)
            elif recipe and self.plan.recipe_for is None:
                self._set(recipe_for=phrase.measure)
                self.used.add(place)
            elif self.plan.batch is None:
                bound = Bound.IS if scaled else phrase.bound  # "scale it up to 4 kg" is to 4 kg
                self._set(batch=phrase.measure, batch_is=bound, finished=self._is_finished(place))
                self.used.add(place)
        self._part_of_it()
        self._batch_said_of_the_first()
        self._made_with_a_share()
        self._bare_batch()
        for place in self._places(Scale):
            phrase = self.phrases[place]
            assert isinstance(phrase, Scale)
            if self._free(place):
                self._set(factor=phrase.factor)
                self.used.add(place)

    def _free_weights(self) -> list[int]:
        amounts = [(place, self.phrases[place]) for place in self._places(Amount) if self._free(place)]
        return [place for place, amount in amounts if isinstance(amount, Amount) and amount.kind == "weight"]

    def _batch_said_of_the_first(self) -> None:
        """ "4 lb chuck and suet at 80/20": the one weight of a line with several cuts and a target is the batch,
        unless the line says that it is what there is, or what goes in."""
        weighed = [index for index, item in enumerate(self.items) if item.weight is not None]
        if self.plan.batch is not None or len(self.items) < 2 or len(weighed) != 1:
            return
        item = self.items[weighed[0]]
        if item.share is not None and item.weight_is == "is":
            # "5 lb and half of it chuck": what it is half of is the batch
            self._set(batch=item.weight)
            self._change(weighed[0], weight=None)
            return
        fixed = self.sentence.has(
            "add", "goes_in", "too_lean", "too_fat", "use_up", "have", "rest", "swap", "keep_weight", "plenty"
        )
        fixed = fixed or self._wanted_between() or self._shares_added(weighed[0])
        fixed = fixed or _AS_IT_TAKES.search(self.sentence.text) is not None or self._as_needed(weighed[0])
        fixed = fixed or (is_brought(self.sentence) and item.fat is not None)
        asked = any(other.wanted or other.rest for other in self.items) or self._asked_cut() is not None
        led = weighed[0] == 0 and self._leads(self.mentions[0].place)
        first = weighed[0] == 0 and self._weight_first(self.mentions[0].place) and self.plan.target is not None
        last = self.plan.target is not None and self._weight_last(weighed[0])
        shared = self.plan.equal or all(other.share is not None or other.parts is not None for other in self.items)
        if item.weight_is != "is" or fixed or asked or not item.keys or not (first or led or last or shared):
            return
        self._set(batch=item.weight)
        self._change(weighed[0], weight=None)

    def _wanted_between(self) -> bool:
        """ "10 lb deer, want 15% fat, pork fat 85%": what is wanted of the first cut, before the next is named."""
        first, second = (next((m.place for m in self.mentions if m.item == item), -1) for item in (0, 1))
        wished = self.target_place is not None and first < self.target_place < second
        return wished and self._is_word(self.target_place - 1, "cue", "want")  # type: ignore[operator]

    def _shares_added(self, weighed: int) -> bool:
        """ "10 lb deer plus 20% pork fat", "add 10% suet to 9 lb venison": the weight is what the shares are added to."""
        others = [item for at, item in enumerate(self.items) if at != weighed]
        plus = any(word.text.lower() in ("plus", "+") for word in self.sentence.words("join"))
        return (plus or self.sentence.has("add")) and all(item.share is not None for item in others)

    def _part_of_it(self) -> None:
        """ "9 lb ground. a third of it goes to burgers": so much of the batch is what is spoken of."""
        batch = self.plan.batch
        for place in self._places(Count):
            phrase = self.phrases[place]
            of_it = self._is_word(place + 1, "of") and self._is_word(place + 2, "cue", "this", "mix")
            if not (isinstance(phrase, Count) and phrase.piece and self._free(place) and of_it) or batch is None:
                continue
            if not self.items and not self.seasonings and self._places(Patties):
                self._set(batch=replace(batch, value=batch.value * phrase.value))
                self.used.update((place, place + 1, place + 2))
                return

    def _made_with_a_share(self) -> None:
        """ "10 lb deer burger with 20% suet", "make 6 lb of venison, 15% pork fat": the weight of what is made, and not
        of the lean that the share is added to ("5 lb venison plus 20% suet")."""
        weighed = [index for index, item in enumerate(self.items) if item.weight is not None]
        if self.plan.batch is not None or self.plan.target is not None or len(weighed) != 1 or len(self.items) < 2:
            return
        others = [item for at, item in enumerate(self.items) if at != weighed[0]]
        shares = all(item.share is not None or self._leads_what_it_cannot_be(item) for item in others)
        item = self.items[weighed[0]]
        plus = any(word.text.lower() in ("plus", "+") for word in self.sentence.words("join"))
        if not shares or plus or self.sentence.has("add", "have", "use_up", "goes_in") or item.weight_is != "is":
            return
        if self._is_made(weighed[0]):
            self._set(batch=item.weight)
            self._change(weighed[0], weight=None)

    def _is_made(self, item: int) -> bool:
        """Whether a meat is named as what is made: ground, burger or sausage, or after "make", "want", "need"."""
        place = next(mention.place for mention in self.mentions if mention.item == item)
        name, after = self.items[item].name.split(), self._at(place + 1)
        weight = self.weight_places.get(item, place)
        made = isinstance(after, Patties) and after.count is None and after.each is None
        made = made or self._is_word(place + 1, "cue", "mix") or bool({"burger", "sausage", "mince"} & set(name))
        return made or self._is_word(min(weight, place) - 1, "cue", "want", "make_it", "into")

    def _as_needed(self, weighed: int) -> bool:
        """ "2 lb round and some suet", "…, enough suet for 25%": of the others whatever it takes, beside the weight."""
        others = [mention.place for mention in self.mentions if mention.item != weighed]
        led = [bool(self._words_before(place) & _WHATEVER) for place in others]
        return bool(led) and all(led)

    def _words_before(self, place: int) -> set[str]:
        """The words that were passed over right before a phrase, and a bare measure of no size ("a little")."""
        at = place - 2 if self._is_word(place - 1, "of") else place - 1
        words = self._gap(at, at + 1) | self._gap(place - 1, place)
        said = self._is_word(at, "unknown") or self._is_word(at, "cue", "is_enough")
        return words | {self.phrases[at].text.lower()} if said else words

    def _rest_up_to(self, index: int) -> None:
        """ "the rest brisket, up to 3 kg": the weight is that of all of it, for the rest has none of its own."""
        item = self.items[index]
        others = any(other.weight is not None for other in self.items if other is not item)
        if item.weight is not None and item.weight_is == Bound.MOST and others and self.plan.batch is None:
            self._set(batch=item.weight)
            self._change(index, weight=None, weight_is="is")

    def _weight_first(self, first: int) -> bool:
        """Whether a weight stands right before the first cut: "4 lb chuck …", not "chuck 4 lb"."""
        before = self._at(first - 2 if self._is_word(first - 1, "of") else first - 1)
        return isinstance(before, Amount) and before.kind == "weight"

    def _weight_last(self, item: int) -> bool:
        """ "80/20 from sirloin 10% and navel 50% 4 lb": a weight after all the cuts is of all of them."""
        place = self.weight_places.get(item, -1)
        return all(mention.place < place for mention in self.mentions)

    def _leads(self, first: int) -> bool:
        """Whether a weight stands before the first cut, and the second cut is joined to it."""
        before = self._at(first - 2 if self._is_word(first - 1, "of") else first - 1)
        second = next((m.place for m in self.mentions if m.item == 1), None)
        joined = second is not None and all(
            self._is_word(at, "join") or self._is_word(at, "sep", ",") for at in range(first + 1, second)
        )
        return isinstance(before, Amount) and before.kind == "weight" and joined

    def _find_wishes(self) -> None:
        wishes = [name for name in ("cheapest", "largest", "leanest", "fattest") if self.sentence.has(name)]
        most = next((p for p in range(len(self.phrases)) if self._is_the_most(p)), None)
        if most is not None:
            self.used.add(most)
            wishes = wishes or ["largest"]
        if wishes:
            self._set(wish=wishes[0])
        if self.sentence.has("too_fat", "leaner"):
            self._set(too="fat")
        elif self.sentence.has("too_lean", "fattier"):
            self._set(too="lean")
        if self.sentence.has("nothing_else") or self._only_said():
            self._set(only=True)
        if self.sentence.has("keep_weight"):
            self._set(keep=True)
        if self.sentence.has("already_salted"):
            self._set(salted=True)
        self._equal_though_weighed()
        self._plenty()
        self._crowd_and_days()
        self._pushed()
        self._whole_stock()
        self._rest()
        self._asked_for()

    def _equal_though_weighed(self) -> None:
        """ "2 kg pork and 1 kg beef, equal amounts of salt": what has two weights of its own is not in equal parts."""
        weighed = {item.weight for item in self.items if item.weight is not None and item.weight_is == Bound.IS}
        if self.plan.equal and len(weighed) > 1:
            self._set(question="Equal amounts of what? The meats have weights of their own, and they differ.")

    def _pushed(self) -> None:
        """ "As much chuck as possible", "max chuck", "as little suet as I can": of one cut the most, or the least."""
        for mention in self.mentions:
            push = pushed(self.sentence.text, self.phrases[mention.place])
            if push is None:
                continue
            if any(item.push for item in self.items):
                self._set(question="As much or as little as possible of one cut at a time, please: of which?")
            self._change(mention.item, push=push.way)
            self._take(push.first, push.last)
            self._set(wish="", asks=self.plan.asks - {"largest", "as_much"})

    def _is_the_most(self, place: int) -> bool:
        """ "most 80/20 i can get outta that": as large a batch as can be made."""
        most = self._is_word(place, "unknown") and self.phrases[place].text.lower() == "most"
        return most and _CAN.search(self.sentence.text[self.phrases[place].last :]) is not None

    def _only_said(self) -> bool:
        """ "using only topside", "just the chuck"."""
        return any(word.payload == "only" for word in self.sentence.words("bound"))

    def _plenty(self) -> None:
        cue = self.sentence.cue("plenty")
        if cue is None:
            return
        place = self.phrases.index(cue)
        self.used.add(place)
        for mention in self.mentions:
            if mention.place > place:
                self._change(mention.item, plenty=True)
                break

    def _crowd_and_days(self) -> None:
        """A day that is named in passing is no figure of the batch; "a crowd of 45" is people."""
        self.used.update(self._places(Moment))

    def _whole_stock(self) -> None:
        cue = self.sentence.cue("use_up")
        if cue is None:
            return
        place = self.phrases.index(cue)
        self.used.add(place)
        weighed = [m for m in self.mentions if self.items[m.item].weight is not None]
        if weighed:
            near = min(weighed, key=lambda m: owners.barrier(self.phrases, m.place, place))
            self._change(near.item, weight_is="all")
            if len(weighed) == len(self.items):
                for mention in weighed:
                    self._change(mention.item, weight_is="all")

    def _rest(self) -> None:
        cue = self.sentence.cue("rest")
        if cue is None:
            return
        place = self.phrases.index(cue)
        self.used.add(place)
        for mention in self.mentions:
            if mention.place <= place:
                continue
            self._rest_up_to(mention.item)
            if self.items[mention.item].weight is None:
                self._change(mention.item, rest=True)

    def _asked_for(self) -> None:
        asked = self._asked_cut()
        if asked is not None:
            self._change(asked, wanted=True)
