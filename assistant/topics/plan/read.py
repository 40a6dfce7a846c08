"""From phrases to a batch: what is the batch, what the target, what belongs to which cut, what is asked.

One pass per question, in the order in which the answers depend on each other. Every phrase that is made
sense of is marked as used; what is left over is reported by the session, never dropped.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Measure,
    Moment,
    Parts,
    Patties,
    People,
    Per,
    PerEach,
    Phrase,
    Rate,
    Scale,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.topics.plan import owners
from assistant.topics.plan.request import Group, Item, Loss, PattyWish, Pinch, Plan, Price

_POSSIBLE_FAT = Fraction(100)
_ASKS = (
    "how_much", "how_many", "composition", "cost", "why", "buy", "worth", "cooked", "total", "together",
    "season", "largest", "split", "good_part", "pack", "too_fat", "too_lean", "add", "convert", "swap", "fattier",
    "leaner", "what", "mix", "raw", "bigger", "smaller", "use_up",
)


@dataclass
class _Mention:
    """One place where a cut is named, and the item that it is about."""

    place: int
    item: int


class PlanReader:
    """Reads one sentence. known: items already spoken of, so that "the fat" can mean the beef fat of before."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        self.sentence = sentence
        self.phrases = sentence.phrases
        self.known = known
        self.used: set[int] = set()
        self.items: list[Item] = []
        self.mentions: list[_Mention] = []
        self.plan = Plan()
        self.seasonings: dict[int, Pinch] = {}
        self.out: list[str] = []
        self.count_of_cuts = 0

    def read(self) -> tuple[Plan, frozenset[Phrase]]:
        """The batch as this sentence describes it, and the phrases that it accounts for."""
        self._cuts_named()
        self._find_target()
        self._find_losses_and_spare()
        self._find_sizes()
        self._find_people()
        self._find_seasonings()
        self._find_prices()
        self._prices_per()
        self._give_shares()
        self._give_fats()
        self._give_weights()
        self._find_batch()
        self._find_wishes()
        self._settle_percents()
        plan = replace(
            self.plan,
            items=tuple(item for item in self.items if item.name not in self.out),
            seasonings=tuple(self.seasonings.values()),
            without=tuple(self.out),
            asks=frozenset(cue for cue in self.sentence.cues if cue in _ASKS),
        )
        return plan, frozenset(self.phrases[place] for place in self.used)

    # ---- small helpers

    def _at(self, place: int) -> Phrase | None:
        return self.phrases[place] if 0 <= place < len(self.phrases) else None

    def _is_word(self, place: int, kind: str, *payloads: str) -> bool:
        phrase = self._at(place)
        return isinstance(phrase, Word) and phrase.kind == kind and (not payloads or phrase.payload in payloads)

    def _gap(self, left: int, right: int) -> set[str]:
        """The passed-over words that stand between two neighbouring phrases ("for", "to", "in")."""
        if not (0 <= left < len(self.phrases) and right < len(self.phrases)):
            return set()
        return set(self.sentence.text[self.phrases[left].last : self.phrases[right].first].lower().split())

    def _free(self, place: int) -> bool:
        return place not in self.used

    def _set(self, **changes: object) -> None:
        self.plan = replace(self.plan, **changes)  # type: ignore[arg-type]

    def _change(self, item: int, **changes: object) -> None:
        self.items[item] = replace(self.items[item], **changes)  # type: ignore[arg-type]

    def _name_places(self) -> list[int]:
        return sorted([mention.place for mention in self.mentions] + list(self.seasonings))

    def _item_at(self, place: int) -> int | None:
        return next((mention.item for mention in self.mentions if mention.place == place), None)

    def _places(self, kind: type[Phrase]) -> list[int]:
        return [place for place, phrase in enumerate(self.phrases) if isinstance(phrase, kind)]

    # ---- cuts

    def _cuts_named(self) -> None:
        for place in self._places(CutName):
            phrase = self.phrases[place]
            assert isinstance(phrase, CutName)
            self.used.add(place)
            if self._is_negated(place):
                self.out.append(phrase.name)
                continue
            self._mention(place, phrase.name, phrase.keys)
        self._swapped()
        self._graded_names()

    def _is_negated(self, place: int) -> bool:
        """Whether "no", "not", "without" or "drop" governs the cut: just before it, or before a list it stands in."""
        at = place - 1
        while at >= 0:
            if self._is_word(at, "cue", "not", "drop"):
                if any(self._is_limit(after) for after in range(at, min(place + 4, len(self.phrases)))):
                    return False
                self.used.add(at)
                return True
            if isinstance(self.phrases[at], CutName) and self.phrases[at].text and self._names_out(at):
                at -= 1
                continue
            if self._is_word(at, "join") or self._is_word(at, "cue", "want", "add", "out_of", "have"):
                at -= 1
                continue
            return False
        return False

    def _is_limit(self, place: int) -> bool:
        """A limit after a no belongs to it: "I don't want short rib to be more than a third"."""
        phrase = self._at(place)
        if isinstance(phrase, Count | Amount) and phrase.bound in (Bound.LEAST, Bound.MOST):
            return True
        return self._is_word(place, "bound", "at_least", "at_most") or self._is_word(place, "cue", "use_up")

    def _names_out(self, place: int) -> bool:
        phrase = self.phrases[place]
        return isinstance(phrase, CutName) and phrase.name in self.out

    def _mention(self, place: int, name: str, keys: tuple[str, ...]) -> None:
        item = self._same(name, keys)
        if item is None:
            self.items.append(Item(name=name, keys=keys))
            item = len(self.items) - 1
        self.mentions.append(_Mention(place, item))

    def _same(self, name: str, keys: tuple[str, ...]) -> int | None:
        """The item that a later mention means again: the same name, or a shorter one for it ("the fat")."""
        for index, item in enumerate(self.items):
            if item.name == name or (len(keys) == 1 and keys == item.keys and name.split()[-1] in item.name):
                return index
        words = name.split()
        shorter = [i for i, item in enumerate(self.items) if set(words) < set(item.name.split())]
        if len(shorter) == 1:
            return shorter[0]
        longer = [
            i
            for i, item in enumerate(self.items)
            if set(item.name.split()) < set(words) and set(item.keys) & set(keys) and item.weight is None
        ]
        return None if len(longer) != 1 else None

    def _swapped(self) -> None:
        """"swap the round for sirloin", "sirloin instead of round", "swap short rib in for that"."""
        instead = self.sentence.cue("instead")
        if instead is not None:
            place = self.phrases.index(instead)
            gone = next((m for m in self.mentions if m.place > place), None)
            come = next((m for m in reversed(self.mentions) if m.place < place), None)
            if gone is not None:
                self._swap(gone, come, place)
                return
        swap = self.sentence.cue("swap")
        if swap is None:
            return
        place = self.phrases.index(swap)
        named = [m for m in self.mentions if m.place > place]
        for_that = self.sentence.cue("for_that")
        if for_that is not None and named and self.out:
            self.used.update({place, self.phrases.index(for_that)})
            self._set(swaps=((self.out[-1], self.items[named[0].item].name),))
        elif len(named) >= 2:
            gone, come = named[0], named[1]
            inward = "in" in self._gap(gone.place, come.place) or swap.text.lower().split()[0] in ("sub", "substitute")
            if inward and "with" not in self.sentence.text[gone.place : come.place]:
                gone, come = come, gone
            self._swap(gone, come, place)

    def _swap(self, gone: _Mention, come: _Mention | None, cue: int) -> None:
        self.used.add(cue)
        name = self.items[gone.item].name
        self.out.append(name)
        if come is not None:
            self._set(swaps=((name, self.items[come.item].name),))

    def _graded_names(self) -> None:
        """"95VL trim": the grade is the meat's fat and part of its name, so that two trims stay two."""
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            item = self._item_at(place + 1)
            if not (phrase.grade or phrase.ratio) or item is None or not self._trim_like(item):
                continue
            name = f"{phrase.text} {self.items[item].name}"
            others = [mention for mention in self.mentions if mention.item == item and mention.place != place + 1]
            if others:
                self.items.append(Item(name=name, keys=self.items[item].keys, fat=phrase.fat))
                self._move(place + 1, len(self.items) - 1)
            else:
                self._change(item, name=name, fat=phrase.fat)
            self.used.add(place)

    def _trim_like(self, item: int) -> bool:
        return any(word in self.items[item].name for word in ("trim", "trimmings", "beef", "pork", "meat"))

    def _move(self, place: int, item: int) -> None:
        for mention in self.mentions:
            if mention.place == place:
                mention.item = item

    # ---- target

    def _find_target(self) -> None:
        best: tuple[int, int] | None = None
        for place, phrase in enumerate(self.phrases):
            score = self._target_score(place, phrase) if self._free(place) else 0
            if score > 0 and (best is None or score >= best[0]):
                best = (score, place)
        if best is None:
            return
        phrase = self.phrases[best[1]]
        self.used.add(best[1])
        if isinstance(phrase, Fatness):
            self._set(target=phrase.fat, target_is=phrase.bound, target_reversed=phrase.reversed_)
        elif isinstance(phrase, Amount | Count):
            value = phrase.measure.value if isinstance(phrase, Amount) else phrase.value
            self._set(target=value, target_is=phrase.bound)
        for beside in (best[1] - 1, best[1] + 1):
            if self._is_word(beside, "at") or self._is_word(beside, "cue", "want", "too_lean", "too_fat"):
                self.used.add(beside)

    def _target_score(self, place: int, phrase: Phrase) -> int:
        """How much a figure looks like the fat that is wanted. Above 0: it may be; the highest is taken."""
        if isinstance(phrase, Fatness):
            score = 5 if phrase.ratio else 3
            if phrase.grade:
                score = 2
        elif isinstance(phrase, Amount) and phrase.kind == "percent":
            score = 0
        elif isinstance(phrase, Count) and not phrase.piece and not phrase.proportion and 1 <= phrase.value <= 60:
            score = -1
        else:
            return 0
        if isinstance(phrase, Fatness | Amount | Count) and phrase.bound in (Bound.LEAST, Bound.MOST):
            score -= 1
        before, after = place - 1, place + 1
        if self._is_word(before, "cue", "crowd", "how_many"):
            return 0
        gap = self._gap(before, place)
        asked = False
        if self._is_word(before, "bound"):
            before -= 1
        plain = isinstance(phrase, Amount)
        if self._is_word(before, "cue", "want", "too_lean", "too_fat", "into", "make_it", "must_be"):
            asked = not (plain and isinstance(self._at(after), CutName))
            score += 6 if asked else 0
        elif gap & {"for", "to"}:
            score += 4 if isinstance(phrase, Fatness) else 2
            asked = isinstance(phrase, Fatness)
        if self._is_word(before, "at") and self._is_word(before - 1, "cue", "want", "works_out", "mix"):
            score += 6
            asked = True
        elif self._is_word(before, "at") or self._is_word(before, "of"):
            owner = self._at(before - 1)
            if isinstance(owner, Amount) and owner.kind == "weight":
                score += 5
            elif isinstance(owner, CutName) and not (isinstance(phrase, Fatness) and phrase.ratio and self._ratios() == 1):
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
        if self._is_word(before, "open"):
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

    def _ratios(self) -> int:
        return sum(isinstance(phrase, Fatness) and phrase.ratio for phrase in self.phrases)

    def _lone_ratio(self, phrase: Phrase) -> bool:
        """"chuck and suet 80/20": the only ratio of a line with several cuts is the target, wherever it stands."""
        if not isinstance(phrase, Fatness) or len(self.items) < 2:
            return False
        return self._only_figure(phrase) or (phrase.ratio and self._ratios() == 1)

    def _only_figure(self, phrase: Phrase) -> bool:
        """The only fat or percent of a line that names several cuts."""
        figures = [p for p in self.phrases if isinstance(p, Fatness) or (isinstance(p, Amount) and p.kind == "percent")]
        return figures == [phrase] and len(self.items) > 1

    def _lone_after(self, place: int) -> bool:
        """"4 lb 80/20 brisket and round" with one ratio and several cuts: the target as well."""
        return self._lone_ratio(self.phrases[place])

    def _seasoning_near(self, place: int) -> bool:
        return any(isinstance(self._at(near), SeasoningName) for near in (place - 1, place + 1)) or (
            self._is_word(place - 1, "at") and isinstance(self._at(place - 2), SeasoningName)
        )

    def _item_near(self, place: int) -> bool:
        return any(isinstance(self._at(near), CutName) for near in (place - 1, place + 1))

    # ---- losses, spare

    def _find_losses_and_spare(self) -> None:
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if not self._free(place) or phrase.kind not in ("percent", "weight"):
                continue
            if self._is_spare(place, phrase):
                self._set(spare=phrase.measure.value)
                self.used.add(place)
                continue
            where = self._loss_kind(place, phrase)
            if where:
                self._set(losses=(*self.plan.losses, Loss(where, phrase.measure)))
                self.used.add(place)

    def _is_spare(self, place: int, phrase: Amount) -> bool:
        if phrase.kind != "percent":
            return False
        if self._is_word(place + 1, "cue", "spare", "more", "bigger") or self._is_word(place - 1, "cue", "spare"):
            for near in (place - 1, place + 1):
                if self._is_word(near, "cue", "spare", "more", "bigger"):
                    self.used.add(near)
            return True
        plus = self._is_word(place - 1, "join") and self.sentence.text[self.phrases[place - 1].first] == "+"
        return plus and bool(self.sentence.of(People) or self.sentence.of(Patties))

    def _loss_kind(self, place: int, phrase: Amount) -> str:
        near = None
        for cue_place, word in enumerate(self.phrases):
            if not (isinstance(word, Word) and word.kind == "cue" and word.payload in ("lose", "trim_loss")):
                continue
            between = owners.barrier(self.phrases, cue_place, place)
            if between < 5 and not (phrase.kind == "weight" and cue_place > place and between > 1):
                near = cue_place if near is None or abs(near - place) > abs(cue_place - place) else near
        if near is None:
            return ""
        if phrase.kind == "weight" and self._item_at(place + 1) is not None and near > place:
            return ""
        if self._is_word(place - 1, "cue", "want") or self._is_word(place + 1, "cue", "usable"):
            return ""
        self.used.add(near)
        text = self.sentence.text.lower()
        if "trim" in self.phrases[near].text.lower() and phrase.kind == "percent":
            return "trim"
        around = text[max(0, self.phrases[min(near, place)].first - 40) : self.phrases[max(near, place)].last + 40]
        if phrase.kind == "weight" and "trim" in self.phrases[near].text:
            return "trimmed"
        if any(word in around for word in ("grinder", "mincer", "grinding", "mincing", "head", "keeps back", "stays")):
            return "grinder"
        if any(word in around for word in ("barbecue", "grill", "cook", "shrink", "pan", "fry", "bbq", "oven", "smoker")):
            return "cooking"
        return "trim" if phrase.kind == "percent" else "grinder"

    # ---- patties, sizes, people

    def _find_sizes(self) -> None:
        wish = PattyWish()
        for place in self._places(Patties):
            phrase = self.phrases[place]
            assert isinstance(phrase, Patties)
            self.used.add(place)
            if phrase.count is not None:
                wish = replace(wish, count=phrase.count.value, count_high=phrase.count.high, count_is=phrase.count.bound)
            if phrase.each is not None and phrase.each.kind == "weight":
                wish = replace(wish, size=phrase.each.measure)
            elif phrase.each is not None and phrase.each.kind == "length":
                wish = replace(wish, diameter=phrase.each.measure)
            elif phrase.each is not None:
                self.used.discard(place)
        wish = self._sizes_apart(wish)
        wish = self._count_apart(wish)
        if wish != PattyWish() or self._places(Patties):
            self._set(patties=wish)

    def _sizes_apart(self, wish: PattyWish) -> PattyWish:
        """Sizes that stand apart from the word burger: "into 6 oz", "burgers, 150 g", "@140g", "6 oz each"."""
        for place in self._places(PerEach):
            phrase = self.phrases[place]
            assert isinstance(phrase, PerEach)
            if phrase.kind == "weight":
                wish = replace(wish, size=phrase.measure)
                self.used.add(place)
            elif phrase.kind == "count":
                wish = replace(wish, count=phrase.measure.value)
                self.used.add(place)
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if not self._free(place):
                continue
            if phrase.kind == "length":
                wish = self._length(place, phrase, wish)
            elif phrase.kind == "weight" and wish.size is None and self._looks_like_a_patty(place, phrase, wish):
                wish = replace(wish, size=phrase.measure)
                self.used.add(place)
        if self.sentence.has("cooked") and wish.size is not None:
            wish = replace(wish, cooked=True)
        return wish

    def _looks_like_a_patty(self, place: int, phrase: Amount, wish: PattyWish) -> bool:
        size = _rough_grams(phrase.measure)
        if self._is_word(place - 1, "cue", "into") and size < 700 and not isinstance(self._at(place + 1), CutName):
            return size < 400 or self._is_word(place + 1, "cue", "across")
        if self._is_word(place + 1, "cue", "cooked") or (self._is_word(place + 1, "pereach")):
            return size < 700
        owned = self._item_at(place + 1) is not None or (
            self._is_word(place + 1, "of") and self._item_at(place + 2) is not None
        )
        if owned or self._is_word(place + 1, "of"):
            return False
        eaters = bool(self.sentence.of(People) or self.sentence.of(Patties) or self.sentence.of(Scale))
        people_first = eaters and size < 700
        seasoned = isinstance(self._at(place + 1), SeasoningName) or isinstance(self._at(place - 1), SeasoningName)
        after_cut = isinstance(self._at(place - 1), CutName)
        return people_first and not seasoned and not after_cut

    def _length(self, place: int, phrase: Amount, wish: PattyWish) -> PattyWish:
        self.used.add(place)
        for near in (place + 1, place + 2, place - 1):
            if self._is_word(near, "cue", "thick"):
                self.used.add(near)
                return replace(wish, thickness=phrase.measure)
            if self._is_word(near, "cue", "bun"):
                self.used.add(near)
                return replace(wish, bun=phrase.measure)
            if self._is_word(near, "cue", "across"):
                self.used.add(near)
                return replace(wish, diameter=phrase.measure)
        if self.sentence.has("bun"):
            return replace(wish, bun=phrase.measure)
        if self.sentence.has("thick") and wish.thickness is None:
            return replace(wish, thickness=phrase.measure)
        if not (self.sentence.of(Patties) or self.sentence.has("across")):
            self.used.discard(place)
            return wish
        return replace(wish, diameter=phrase.measure)

    def _count_apart(self, wish: PattyWish) -> PattyWish:
        """"9 of em", "exactly 14", "split into 3", "make 6"."""
        if wish.count is not None:
            return wish
        for place in self._places(Count):
            phrase = self.phrases[place]
            assert isinstance(phrase, Count)
            if not self._free(place) or phrase.piece or phrase.proportion or phrase.value.denominator != 1:
                continue
            into = self._is_word(place - 1, "cue", "into", "split") or self._is_word(place - 2, "cue", "split")
            of_them = self._is_word(place + 1, "cue", "this") and "of" in self.phrases[place + 1].text
            if into or of_them or (self._is_word(place + 1, "cue", "equal") and self.sentence.has("split", "into")):
                self.used.add(place)
                return replace(wish, count=phrase.value, count_is=phrase.bound)
        return wish

    def _find_people(self) -> None:
        groups: list[Group] = []
        for place in self._places(People):
            phrase = self.phrases[place]
            assert isinstance(phrase, People)
            self.used.add(place)
            if phrase.count is None:
                continue
            if self._is_word(place - 1, "cue", "fewer") or self._is_word(place + 1, "cue", "fewer"):
                self.used.update({place - 1, place + 1})
                groups = [replace(group, count=group.count - phrase.count.value) for group in groups[:1]] + groups[1:]
                continue
            groups.append(Group(count=phrase.count.value, sort=phrase.sort))
        for place in self._places(Count):
            phrase = self.phrases[place]
            if self._is_word(place - 1, "cue", "crowd") and self._free(place) and isinstance(phrase, Count):
                self.used.update({place, place - 1})
                groups.append(Group(count=phrase.value))
        if not groups:
            return
        groups = self._each_for(groups)
        self._set(groups=tuple(groups))

    def _each_for(self, groups: list[Group]) -> list[Group]:
        """Patties for each eater, and sizes per group: "70 adults x2 @140g; 30 kids x1 @90g"."""
        places = [p for p in self._places(People) if self.phrases[p].count is not None]  # type: ignore[attr-defined]
        places = places or [0]
        wish = self.plan.patties or PattyWish()
        each, size = wish.count, wish.size
        multi = len(groups) > 1
        for index, place in enumerate(places[: len(groups)]):
            end = places[index + 1] if index + 1 < len(places) else len(self.phrases)
            start = place if multi else 0
            for at in range(start, end):
                phrase = self.phrases[at]
                if isinstance(phrase, Scale):
                    groups[index] = replace(groups[index], each=phrase.factor)
                    self.used.add(at)
                elif multi and isinstance(phrase, Patties | PerEach | Amount):
                    groups[index] = self._one_group(groups[index], phrase, at)
        if multi:
            shared = [replace(g, each=g.each if g.each is not None else each, size=g.size or size) for g in groups]
            self._set(patties=replace(wish, count=None))
            return shared
        per_person = self._per_person(places[0], wish)
        if per_person is not None and groups[0].each is None:
            groups[0] = replace(groups[0], each=per_person)
            self._set(patties=replace(wish, count=None))
        return groups

    def _one_group(self, group: Group, phrase: Phrase, at: int) -> Group:
        if isinstance(phrase, Patties):
            if phrase.count is not None:
                group = replace(group, each=phrase.count.value)
            if phrase.each is not None:
                group = replace(group, size=phrase.each.measure)
        elif isinstance(phrase, PerEach):
            if phrase.kind == "count":
                group = replace(group, each=phrase.measure.value)
            elif phrase.kind == "weight":
                group = replace(group, size=phrase.measure)
        elif isinstance(phrase, Amount) and phrase.kind == "weight" and _rough_grams(phrase.measure) < 700:
            group = replace(group, size=phrase.measure)
            self.used.add(at)
        return group

    def _per_person(self, _place: int, wish: PattyWish) -> Fraction | None:
        """"2 burgers each", "one and a half burgers each", "everyone gets one burger": a count for every eater."""
        if wish.count is None:
            return None
        if any(self._is_word(at, "pereach") for at in range(len(self.phrases))) or self.sentence.has("everyone"):
            for at in range(len(self.phrases)):
                if self._is_word(at, "pereach"):
                    self.used.add(at)
            return wish.count
        if any(isinstance(phrase, PerEach) and phrase.kind == "count" for phrase in self.phrases):
            return wish.count
        return wish.count if wish.count <= 4 and self.plan.groups == () and self.sentence.of(People) else None

    # ---- seasonings

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
        general = next((p for p, w in enumerate(self.phrases) if self._is_word(p, "cue", "season")), None)
        if not self.seasonings and general is not None and self._has_rate():
            self.seasonings[general] = Pinch("seasoning", "seasoning")
            self.used.add(general)
        if not self.seasonings:
            return
        for place, phrase in enumerate(self.phrases):
            if self._free(place) and isinstance(phrase, Rate) and phrase.kind in ("weight", "volume"):
                self._give_pinch(place, phrase.measure, phrase.per)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "volume":
                self._give_pinch(place, phrase.measure, None)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "percent":
                self._give_pinch(place, phrase.measure, None, reach=6)
            elif self._free(place) and isinstance(phrase, Amount) and phrase.kind == "weight":
                self._give_pinch(place, phrase.measure, None, reach=2, tight=True)
            elif self._free(place) and isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
                self._bare_pinch(place, phrase)
        self._rates_apart()

    def _figure_beside(self, place: int) -> bool:
        """Whether an amount stands just before or after a word ("cold water 5", "10% cold water")."""
        return any(isinstance(self._at(at), Amount | Count | Rate) for at in (place - 1, place + 1))

    def _has_rate(self) -> bool:
        return any(isinstance(p, Rate) and p.kind in ("weight", "volume") for p in self.phrases) or any(
            isinstance(p, Amount) and p.kind == "percent" for p in self.phrases
        )

    def _give_pinch(self, place: int, measure: Measure, per: Measure | None, reach: int = 7, *, tight: bool = False) -> None:
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
        if len(lone) == 1 and len(self.seasonings) == 1 and (per is not None or measure.unit not in ("lb", "kg", "oz", "g")):
            if measure.unit == "percent" and self.items:
                return
            self.seasonings[lone[0]] = replace(self.seasonings[lone[0]], amount=measure, per=per)
            self.used.add(place)

    def _bare_pinch(self, place: int, phrase: Count) -> None:
        """Baker's percentages: "salt 1.6, onion powder 0.8", with the meat at 100."""
        if self._is_word(place - 1, "cue", "mix") and phrase.value == 100 and self.sentence.has("bakers_percent"):
            self.used.add(place)
            return
        if not self.sentence.has("bakers_percent"):
            return
        if place - 1 in self.seasonings:
            self.seasonings[place - 1] = replace(
                self.seasonings[place - 1], amount=Measure(phrase.value, "percent", phrase.high)
            )
            self.used.add(place)

    def _rates_apart(self) -> None:
        """"3/4 tsp kosher per lb": the weight that the amount is counted on stands after the name."""
        for place in self._places(Per):
            phrase = self.phrases[place]
            assert isinstance(phrase, Per)
            left = [name for name in self.seasonings if name < place]
            pending = [n for n in left if self.seasonings[n].per is None and self.seasonings[n].amount is not None]
            if pending:
                for name in pending:
                    if self.seasonings[name].amount.unit != "percent":  # type: ignore[union-attr]
                        self.seasonings[name] = replace(self.seasonings[name], per=phrase.per)
                self.used.add(place)
        if self.sentence.has("of_total"):
            self.seasonings = {
                place: replace(pinch, of_total=pinch.amount is not None and pinch.amount.unit == "percent")
                for place, pinch in self.seasonings.items()
            }

    # ---- prices

    def _find_prices(self) -> None:
        names = [mention.place for mention in self.mentions]
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Rate) and phrase.kind == "money":
                self._give_price(place, Price(phrase.measure.value, phrase.measure.unit, phrase.per), names)
            elif isinstance(phrase, Amount) and phrase.kind == "money":
                self._money(place, phrase, names)

    def _prices_per(self) -> None:
        """"per kilo?", "a lb": the unit in which a price is wanted."""
        if any(item.price is not None for item in self.items) or self.plan.shop is not None:
            for place, phrase in enumerate(self.phrases):
                if self._free(place) and isinstance(phrase, Per):
                    self._set(per=phrase.per)
                    self.used.add(place)

    def _give_price(self, place: int, price: Price, names: list[int]) -> None:
        shop = next((p for p in range(len(self.phrases)) if self._is_word(p, "cue", "shop_price")), None)
        found = owners.nearest(self.phrases, place, names, before=2, after=0, comma_before=4)
        if shop is not None and (not found or owners.barrier(self.phrases, shop, place) <= found[0][0]):
            self._set(shop=price)
            self.used.update({place, shop})
            return
        for distance, name in found:
            item = self._item_at(name)
            if item is not None and distance < 9 and self.items[item].price is None:
                self._change(item, price=price)
                self.used.add(place)
                return
        if self.plan.shop is None and (shop is not None or self.sentence.has("worth")) and self.items:
            self._set(shop=price)
            self.used.add(place)
            return
        if not self.items:
            self.items.append(Item(name="mix", price=price))
            self.mentions.append(_Mention(place, len(self.items) - 1))
            self.used.add(place)

    def _money(self, place: int, phrase: Amount, names: list[int]) -> None:
        if self.sentence.has("budget") or self._gap(place - 1, place) & {"spend", "for"} and not names:
            self._set(budget=phrase.measure)
            self.used.add(place)
            return
        price = Price(phrase.measure.value, phrase.measure.unit, None)
        if self.sentence.has("worth", "shop_price") and any(
            item.price is not None and item.price.per is not None for item in self.items
        ):
            per = next(item.price.per for item in self.items if item.price is not None)
            self._give_price(place, replace(price, per=per), names)
            return
        found = owners.nearest(self.phrases, place, names, before=2, after=0, comma_before=4)
        for distance, name in found:
            item = self._item_at(name)
            if item is not None and distance < 7 and self.items[item].price is None:
                self._change(item, price=price)
                self.used.add(place)
                return

    # ---- shares, fats, weights of cuts

    def _give_shares(self) -> None:
        names = [mention.place for mention in self.mentions]
        for place, phrase in enumerate(self.phrases):
            if not self._free(place):
                continue
            if isinstance(phrase, Parts):
                for distance, name in owners.nearest(self.phrases, place, names, before=0, after=2):
                    item = self._item_at(name)
                    if item is not None and distance < owners.FAR and self.items[item].parts is None:
                        self._change(item, parts=phrase.value)
                        self.used.add(place)
                        break
            elif isinstance(phrase, Count) and phrase.proportion:
                self._proportion(place, phrase.proportion)
            elif isinstance(phrase, Count) and phrase.piece:
                self._piece(place, phrase, names)
        self._equal_parts()

    def _proportion(self, place: int, parts: tuple[Fraction, ...]) -> None:
        if len(parts) != len(self.items) or any(item.parts is not None for item in self.items):
            return
        for index, part in enumerate(parts):
            self._change(index, parts=part)
        self.used.add(place)

    def _piece(self, place: int, phrase: Count, names: list[int]) -> None:
        bound = phrase.bound
        if bound in (Bound.LEAST, Bound.MOST) and self._negated_wish(place):
            bound = Bound.MOST if bound is Bound.LEAST else Bound.LEAST
        for distance, name in owners.nearest(self.phrases, place, names, before=0, after=1):
            item = self._item_at(name)
            if item is not None and distance < 9 and self.items[item].share is None:
                self._change(item, share=phrase.value, share_is=bound)
                self.used.add(place)
                return

    def _negated_wish(self, place: int) -> bool:
        """"I don't want short rib to be more than a third": the no turns the limit round."""
        for at in range(place - 1, max(-1, place - 6), -1):
            if self._is_word(at, "cue", "not"):
                self.used.add(at)
                return True
            if self._is_word(at, "sep", "."):
                return False
        return False

    def _equal_parts(self) -> None:
        cue = self.sentence.cue("equal")
        if cue is not None and len(self.items) > 1 and not self.sentence.has("split"):
            self._set(equal=True)
            self.used.add(self.phrases.index(cue))
        twice = self.sentence.cue("twice_as")
        if twice is not None and len(self.items) >= 2:
            factor = {"three": Fraction(3), "half": Fraction(1, 2)}.get(twice.text.lower().split()[0], Fraction(2))
            after = [m.item for m in self.mentions if m.place > self.phrases.index(twice)]
            if len(after) >= 2:
                self._change(after[0], parts=factor)
                self._change(after[1], parts=Fraction(1))
                self.used.add(self.phrases.index(twice))

    def _give_fats(self) -> None:
        names = self._name_places()
        self._limits_in_percent(names)
        figures = [
            place
            for place, phrase in enumerate(self.phrases)
            if self._free(place)
            and (isinstance(phrase, Fatness) or (isinstance(phrase, Amount) and phrase.kind == "percent"))
        ]
        for place, name in self._pairs(figures, names, 12, before=0, after=0):
            phrase = self.phrases[place]
            item = self._item_at(name)
            assert item is not None
            if not self._free(place) or self.items[item].fat is not None:
                continue
            fat = phrase.fat if isinstance(phrase, Fatness) else phrase.measure.value  # type: ignore[attr-defined]
            about = phrase.bound is Bound.ABOUT  # type: ignore[attr-defined]
            self._change(item, fat=fat, fat_about=about)
            self.used.add(place)
        for place, phrase in enumerate(self.phrases):
            if self._free(place) and isinstance(phrase, Count) and not phrase.piece and not phrase.proportion:
                self._bare_fat(place, phrase, names)
        self._mixes()

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
        """"at least 40% chuck": a percent with a limit is a share of the batch, not fat."""
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
        """"suet's about 95", "bacon (call it 40)", "chuck 20, round 8"."""
        if not 0 < phrase.value <= _POSSIBLE_FAT or phrase.value.denominator > 10:
            return
        beside = isinstance(self._at(place - 1), CutName) or self._is_word(place - 1, "cue", "make_it") or (
            self._is_word(place - 1, "at") and isinstance(self._at(place - 2), CutName)
        )
        if beside:
            self._give_fat(place, names, phrase.value, phrase.bound, reach=4)

    def _mixes(self) -> None:
        """"4 lb of 90/10, want 80/20": a ratio that is neither a cut's nor the target is the meat in hand."""
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            if not self._free(place):
                continue
            weight = place - 2 if self._is_word(place - 1, "of") or self._is_word(place - 1, "at") else place - 1
            before = self._at(weight)
            name = phrase.text if phrase.ratio else f"{phrase.text} mix"
            item = Item(name=name, fat=phrase.fat)
            if isinstance(before, Amount) and before.kind == "weight" and self._free(weight):
                item = replace(item, weight=before.measure)
                self.used.update({weight})
            self.used.add(place)
            self.items.append(item)
            self.mentions.append(_Mention(place, len(self.items) - 1))

    def _give_weights(self) -> None:
        names = self._name_places()
        free = [
            place
            for place in self._places(Amount)
            if self._free(place) and self.phrases[place].kind == "weight"  # type: ignore[attr-defined]
        ]
        self._weights_of_them(free)
        loose = []
        for place, name in self._pairs(free, names, owners.FAR, before=0, after=1, comma_before=5):
            phrase = self.phrases[place]
            item = self._item_at(name)
            assert isinstance(phrase, Amount)
            assert item is not None
            if not self._free(place) or self.items[item].weight is not None or any(place == p for p, _ in loose):
                continue
            if name < place and self._is_whole(place):
                continue
            if name < place and self._comma_between(name, place) and not self._tied_back(place):
                loose.append((place, item))
                continue
            self._weigh(item, place, phrase)
        self._loose_weights(loose)

    def _weights_of_them(self, free: list[int]) -> None:
        """"scotch fillet off-cuts, about 28% fat, 1.1 kg of them": the cut named last before it."""
        for place in free:
            before = [mention for mention in self.mentions if mention.place < place]
            of_them = self._is_word(place + 1, "cue", "this") and "of" in self.phrases[place + 1].text
            phrase = self.phrases[place]
            if before and of_them and self.items[before[-1].item].weight is None and isinstance(phrase, Amount):
                self._weigh(before[-1].item, place, phrase)

    def _is_whole(self, place: int) -> bool:
        """"… with round for 3 lb of 85/15", "…, 4 lb total": the weight of all of it, not of the cut before it."""
        if "for" in self._gap(place - 1, place) or self._is_word(place + 1, "cue", "total"):
            return True
        return self._is_word(place + 1, "of") and isinstance(self._at(place + 2), Fatness)

    def _comma_between(self, first: int, second: int) -> bool:
        return any(self._is_word(at, "sep", ",") or self._is_word(at, "join") for at in range(first + 1, second))

    def _tied_back(self, place: int) -> bool:
        return self._is_word(place + 1, "cue", "this", "use_up") or self._is_word(place - 1, "open")

    def _loose_weights(self, loose: list[tuple[int, int]]) -> None:
        """"round and flank, 4 lb" is a batch; "round, 4 lb, flank, 2 lb" are weights of each."""
        if not loose:
            return
        weighed = sum(item.weight is not None for item in self.items)
        if len(loose) + weighed >= len(self.items) and len(self.items) > 1 and len(loose) > 1:
            for place, item in loose:
                phrase = self.phrases[place]
                assert isinstance(phrase, Amount)
                self._weigh(item, place, phrase)
        elif len(self.items) == 1 and len(loose) == 1 and self.sentence.has("have", "use_up"):
            place, item = loose[0]
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            self._weigh(item, place, phrase)

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

    # ---- batch and wishes

    def _find_batch(self) -> None:
        for place in self._places(Amount):
            phrase = self.phrases[place]
            assert isinstance(phrase, Amount)
            if phrase.kind != "weight" or not self._free(place):
                continue
            recipe = self._is_recipe_weight(place)
            if recipe and self.plan.recipe_for is None:
                self._set(recipe_for=phrase.measure)
                self.used.add(place)
            elif self.plan.batch is None:
                self._set(batch=phrase.measure, batch_is=phrase.bound)
                self.used.add(place)
        self._batch_said_of_the_first()
        for place in self._places(Scale):
            phrase = self.phrases[place]
            assert isinstance(phrase, Scale)
            if self._free(place):
                self._set(factor=phrase.factor)
                self.used.add(place)

    def _is_recipe_weight(self, place: int) -> bool:
        if not self.seasonings:
            return False
        near = any(self._is_word(at, "cue", "recipe_for") for at in range(max(0, place - 2), place + 1))
        return near or (self._is_word(place - 1, "cue", "recipe_for"))

    def _batch_said_of_the_first(self) -> None:
        """"4 lb chuck and suet at 80/20": the weight before the first cut of a list is the batch."""
        weighed = [index for index, item in enumerate(self.items) if item.weight is not None]
        if self.plan.batch is not None or len(self.items) < 2 or weighed != [0]:
            return
        item = self.items[0]
        first = self.mentions[0].place
        before = self._at(first - 2 if self._is_word(first - 1, "of") else first - 1)
        led = isinstance(before, Amount) and before.kind == "weight"
        second = next((m.place for m in self.mentions if m.item == 1), None)
        joined = second is not None and all(
            self._is_word(at, "join") or self._is_word(at, "sep", ",") for at in range(first + 1, second)
        )
        if led and joined and item.weight_is == "is" and not self.sentence.has("add", "goes_in", "too_lean", "too_fat"):
            self._set(batch=item.weight)
            self._change(0, weight=None)

    def _find_wishes(self) -> None:
        wishes = [name for name in ("cheapest", "largest", "leanest", "fattest") if self.sentence.has(name)]
        if wishes:
            self._set(wish=wishes[0])
        if self.sentence.has("too_fat", "leaner"):
            self._set(too="fat")
        elif self.sentence.has("too_lean", "fattier"):
            self._set(too="lean")
        if self.sentence.has("already_salted"):
            self._set(salted=True)
        self._plenty()
        self._crowd_and_days()
        self._whole_stock()
        self._rest()
        self._asked_for()
        self._seconds()
        self._species()

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
            if mention.place > place and self.items[mention.item].weight is None:
                self._change(mention.item, rest=True)

    def _asked_for(self) -> None:
        """"how much belly goes in?": the cut whose weight is the question."""
        for place in range(len(self.phrases)):
            if not self._is_word(place, "cue", "how_much"):
                continue
            for mention in self.mentions:
                if mention.place > place and owners.barrier(self.phrases, place, mention.place) <= 4:
                    self._change(mention.item, wanted=True)
                    break

    def _seconds(self) -> None:
        if self.sentence.has("seconds"):
            share = Fraction(1, 2)
            for place in self._places(Count):
                phrase = self.phrases[place]
                assert isinstance(phrase, Count)
                if phrase.piece and self._free(place):
                    share = phrase.value
                    self.used.add(place)
            for place in self._places(Amount):
                phrase = self.phrases[place]
                assert isinstance(phrase, Amount)
                if phrase.kind == "percent" and self._free(place):
                    share = phrase.measure.value / 100
                    self.used.add(place)
            self._set(seconds=share)

    def _species(self) -> None:
        said = []
        for word in self.sentence.words("species"):
            said.append(word.payload)
            self.used.add(self.phrases.index(word))
        self._set(species=tuple(said))

    def _settle_percents(self) -> None:
        """Percents of cuts that add up to 100, with no fat wanted, are shares of the batch, not fat."""
        given = [item for item in self.items if item.fat is not None]
        unmarked = [item for item in given if not self._fat_word_said()]
        if self.plan.target is not None or not unmarked or len(unmarked) != len(given):
            return
        rest = [item for item in self.items if item.fat is None and item.rest]
        if len(given) == len(self.items) and len(given) > 1 and sum(i.fat or 0 for i in given) == 100:
            self.items = [replace(item, share=(item.fat or 0) / 100, fat=None) for item in self.items]
        elif rest and len(given) + len(rest) == len(self.items):
            self.items = [
                replace(item, share=item.fat / 100, fat=None) if item.fat is not None else item for item in self.items
            ]

    def _fat_word_said(self) -> bool:
        return any(isinstance(phrase, Fatness) for phrase in self.phrases)


def _rough_grams(measure: Measure) -> float:
    """A weight in grams, near enough to tell a patty from a batch."""
    factor = {"lb": 453.6, "oz": 28.35, "g": 1.0, "kg": 1000.0, "stone": 6350.0, "mg": 0.001}
    return float(measure.value) * factor.get(measure.unit, 1e9)

