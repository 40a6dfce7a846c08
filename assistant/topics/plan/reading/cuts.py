"""Which meats are named, which are named only to be left out, and which takes another's place."""

from __future__ import annotations

import re
from itertools import pairwise

from assistant import data
from assistant.language.phrases import Amount, Bound, Count, CutName, Fatness, Rate, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.marks import Marks, Mention
from assistant.topics.plan.request import Item

PURE_FAT = 50
"""Percent. "yak fat 80%" is a fat; "chuck fat 18" says how fat the chuck is. A choice."""
FAT_FIRST = Pattern(r"fat\b", re.IGNORECASE)
"""A fat figure that begins with the word: "fat is 90"."""
_FOR_THE = Pattern(r"\b(?:for|in place of|instead of) (?:the|that|my)\b")


class Cuts(Marks):
    """The cuts of a sentence."""

    def _cuts_named(self) -> None:
        for place in self._places(CutName):
            phrase = self.phrases[place]
            assert isinstance(phrase, CutName)
            self.used.add(place)
            if self._is_negated(place):
                self.out.append(phrase.name)
                continue
            if self._more_of_the_name(place, phrase):
                continue
            if self._fat_of_the_beast(place, phrase) or self._all_of_a_beast(place, phrase):
                continue
            self._mention(place, phrase.name, phrase.keys)
        self._fat_as_meat()
        self._meats_of_their_own()
        self._trimmed()
        self._product()
        self._swapped()
        self._graded_names()

    def _trimmed(self) -> None:
        """ "trimmed brisket", "topside (6%), fat cap removed": a property of the cut beside it."""
        for place in self._word_places("cue", "trimmed"):
            names = [mention.place for mention in self.mentions]
            near = owners.nearest(self.phrases, place, names, before=0, after=1)
            item = self._item_at(near[0][1]) if near and near[0][0] < 12 else None
            if item is not None:
                self._change(item, trimmed=True)
                self.used.add(place)

    def _is_negated(self, place: int) -> bool:
        """Whether "no", "not", "without" or "drop" governs the cut: just before it, or before a list it stands in."""
        if self._left_out(place):
            return True
        if self._told_again(place):
            return False
        at = place - 1
        asked = False
        while at >= 0:
            if self._is_word(at, "cue", "not", "drop") or self._is_unwanted(at):
                if any(self._is_limit(after) for after in range(at, min(place + 4, len(self.phrases)))):
                    return False
                self.used.add(at)
                return True
            if not asked and self._names_out(at):
                at -= 1
                continue
            if self._is_word(at, "cue", "want", "add", "out_of", "have"):
                # "don't want bacon" is a no to bacon; "without chuck from round" is none to round
                asked = True
                at -= 1
                continue
            if self._is_word(at, "join"):
                at -= 1
                continue
            return False
        return False

    def _is_out(self, name: str) -> bool:
        """Whether a meat was taken back: by its name, by its last word ("lamb shoulder, sorry, leg not shoulder"), or by
        its beast, of which it is the only one ("veal shoulder. Sorry, not veal")."""
        return any(name == gone or name.endswith(f" {gone}") or self._only_one_of(name, gone) for gone in self.out)

    def _only_one_of(self, name: str, gone: str) -> bool:
        named = [item.name for item in self.items if item.name.split()[0] == gone]
        return named == [name]

    def _is_unwanted(self, place: int) -> bool:
        """ "dont want any pork in it": said of people it means that they stay away, said of a meat it is a no."""
        return self._is_word(place, "cue", "fewer") and self.phrases[place].text.lower().startswith(
            ("don", "won", "can")
        )

    def _fat_of_the_beast(self, place: int, phrase: CutName) -> bool:
        """ "yak 5% and yak fat 80%": the fat of a beast, known only by the cook's own figure, is a meat of its own."""
        figure = self._at(place + 2)
        percent = isinstance(figure, Amount) and figure.kind == "percent" and figure.measure.value >= PURE_FAT
        number = isinstance(figure, Count) and not figure.piece and figure.value >= PURE_FAT
        if not (self._is_word(place + 1, "side", "fat") and (percent or number)):
            return False
        self._mention(place, f"{phrase.name} fat", ())
        self.used.add(place + 1)
        return True

    def _all_of_a_beast(self, place: int, phrase: CutName) -> bool:
        """ "2 lb shoulder, 1 lb belly, all pork": of which beast the cuts are, and no cut beside them."""
        species = {data.cuts()[key].species for key in phrase.keys if key in data.cuts()}
        one = phrase.name in data.ambiguous() and len(species) == 1
        headed = self._is_word(place + 1, "sep", ":") and self._is_of(place + 2, species)
        ends = self._at(place + 1) is None or self._is_word(place + 1, "sep")
        all_of_it = "all" in self._gap(place - 1, place) and len(self.items) > 1 and ends
        if not one or not (headed or all_of_it):
            return False
        self._set(species=tuple(species))
        return True

    def _is_of(self, place: int, species: set[str]) -> bool:
        """Whether a cut of one of these beasts is named here ("lamb: lamb leg 9%, …")."""
        phrase = self._at(place)
        keys = phrase.keys if isinstance(phrase, CutName) else ()
        return any(data.cuts()[key].species in species for key in keys if key in data.cuts())

    def _told_again(self, place: int) -> bool:
        """ "no the round is 6%": a no to what was said, and then the figure as it should be."""
        figure = isinstance(self._at(place + 1), Amount | Count | Fatness)
        no = self._is_word(place - 1, "cue", "not") and self.phrases[place - 1].text.lower() in ("no", "nope")
        if figure and no and self._gap(place - 1, place) & {"the", "my"}:
            self.used.add(place - 1)
            return True
        return False

    def _more_of_the_name(self, place: int, phrase: CutName) -> bool:
        """ "emu fillet": a part that could be of any beast, right after the beast, is one meat."""
        before = self._at(place - 1)
        if not isinstance(before, CutName) or self._gap(place - 1, place) or self._item_at(place - 1) is None:
            return False
        item = self._item_at(place - 1)
        rows = [data.cuts()[key] for key in before.keys if key in data.cuts()]
        mine = {data.cuts()[key].species for key in phrase.keys if key in data.cuts()}
        together = data.cut_names().get(f"{before.name} {phrase.name}")
        if together and item is not None:
            # "pork sholder": once the second word is mended, the two are one name
            self._change(item, name=f"{before.name} {phrase.name}", keys=tuple(together))
            self.mentions.append(Mention(place, item))
            return True
        whole = all(row.species not in mine for row in rows) and phrase.name in data.ambiguous()
        whole = whole or (_is_trim(phrase.name) and not _is_trim(before.name))
        if whole and item is not None:
            # trim of a cut, or a part of a beast without a row, is known by the cook's own figure only
            self._change(item, name=f"{before.name} {phrase.name}", keys=self.items[item].keys if rows and mine else ())
            self.mentions.append(Mention(place, item))
        return whole

    def _left_out(self, place: int) -> bool:
        """ "leave the shin out", "take the bacon out"."""
        out = self._at(place + 1)
        if not (isinstance(out, Word) and out.text.lower() == "out"):
            return False
        before = self.sentence.text[: self.phrases[place].first].lower().split()[-4:]
        if {"leave", "leaving", "take", "taking", "keep", "cut", "miss", "pull"} & set(before):
            self.used.add(place + 1)
            return True
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

    def _negated_wish(self, place: int) -> bool:
        """ "I don't want short rib to be more than a third": the no turns the limit round."""
        for at in range(place - 1, max(-1, place - 6), -1):
            if self._is_word(at, "cue", "not"):
                self.used.add(at)
                return True
            if self._is_word(at, "sep", "."):
                return False
        return False

    def _mention(self, place: int, name: str, keys: tuple[str, ...]) -> None:
        item = self._same(name, keys)
        if item is not None and self.items[item].name != name and self._listed_after(place, item):
            item = None
        if item is None:
            self.items.append(Item(name=name, keys=keys))
            item = len(self.items) - 1
        self.mentions.append(Mention(place, item))

    def _same(self, name: str, keys: tuple[str, ...]) -> int | None:
        """The item that a later mention means again: the same name, or a shorter one for it ("the fat")."""
        for index, item in enumerate(self.items):
            if item.name == name or (len(keys) == 1 and keys == item.keys and name.split()[-1] in item.name):
                return index
        words = _plainly(name)
        shorter = [i for i, item in enumerate(self.items) if words < _plainly(item.name)]
        return shorter[0] if len(shorter) == 1 else None

    def _listed_after(self, place: int, item: int) -> bool:
        """ "brisket trim 45% and brisket 20%": joined to the longer name by an and, it is a meat of its own."""
        joined = False
        for at in range(place - 1, -1, -1):
            phrase = self._at(at)
            if self._is_word(at, "join"):
                joined = True
            elif not isinstance(phrase, Amount | Count | Fatness):
                return joined and self._item_at(at) == item
        return False

    def _fat_as_meat(self) -> None:
        """ "shoulder and fat", "how much fat do I add": fat named as what goes in, not as a figure's unit."""
        for place in self._word_places("side", "fat"):
            led = self._is_word(place - 1, "join") or self._is_word(
                place - 1, "cue", "out_of", "add", "how_much", "instead"
            )
            figure = isinstance(self._at(place + 1), Fatness | Count | Amount)
            led, figure = led or self._is_pure(place + 1), figure and not self._is_pure(place + 1)
            if self._has_price(place):
                # "4 bucks a lb fat": what is bought is meat, and no figure's unit
                led, figure = True, False
            known = any("fat" in item.name or "suet" in item.name for item in self.items)
            asked = self._is_word(place - 1, "cue", "how_much") and not self.sentence.has("add", "goes_in", "too_lean")
            there = bool(self.items) or self.sentence.has("add") or self._is_pure(place + 1)
            if led and not figure and not known and not asked and there:
                word = data.ambiguous().get("fat")
                self._mention(place, "fat", tuple(word.keys) if word is not None else ())
                self.used.add(place)
        self._fat_with_its_figure()
        self.mentions.sort(key=lambda mention: mention.place)

    def _has_price(self, place: int) -> bool:
        """Whether money by weight stands right before or after: "fat $2 a lb", "fat at $2 a lb", "$2 a lb fat"."""
        after = place + 2 if self._is_word(place + 1, "at") else place + 1
        beside = (self._at(place - 1), self._at(after))
        return any(isinstance(phrase, Rate) and phrase.kind == "money" for phrase in beside)

    def _fat_with_its_figure(self) -> None:
        """ "chuck 17 fat 70 round 6": so fat is no mix, but the fat that goes in."""
        known = any({"fat", "suet"} & set(item.name.split()) for item in self.items)
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            if self.items and not known and FAT_FIRST.match(phrase.text) and phrase.fat >= PURE_FAT:
                word = data.ambiguous().get("fat")
                self._mention(place, "fat", tuple(word.keys) if word is not None else ())
                self._change(len(self.items) - 1, fat=phrase.fat)
                self.used.add(place)
                return

    def _is_pure(self, place: int) -> bool:
        """Whether a figure here is fatter than any mix: "fat 71", "fat's 75%" is what goes in, and how fat it is."""
        phrase = self._at(place)
        percent = isinstance(phrase, Amount) and phrase.kind == "percent" and phrase.measure.value >= PURE_FAT
        return percent or (isinstance(phrase, Count) and not phrase.piece and PURE_FAT <= phrase.value <= 100)

    def _product(self) -> None:
        """ "2 kg of pork mince from shoulder and belly": the ground meat is what is made, not what goes in."""
        if len(self.items) < 3:
            return
        first, second = self.mentions[0], self.mentions[1]
        rows = [data.cuts()[key] for key in self.items[first.item].keys if key in data.cuts()]
        ground = bool(rows) and all(row.kind in ("ground", "seasoned") for row in rows)
        beast = self.items[first.item].name in data.ambiguous() and len({row.species for row in rows}) == 1
        between = range(first.place + 1, second.place)
        made_of = any(self._is_word(at, "cue", "out_of") for at in between)
        told = ground and self._weight_before(first.place) and not any(self._is_word(at, "join") for at in between)
        if not (made_of and (ground or beast)) and not (told and self._is_word(second.place - 1, "sep")):
            return
        self._set(species=(rows[0].species,))
        self.product = self.items[first.item]
        del self.items[first.item]
        self.mentions = [Mention(m.place, m.item - 1) for m in self.mentions[1:]]

    def _weight_before(self, place: int) -> bool:
        before = self._at(place - 2 if self._is_word(place - 1, "of") else place - 1)
        return isinstance(before, Amount) and before.kind == "weight"

    def _meats_of_their_own(self) -> None:
        """ "muskox 4%", "oxtail meat at 22%": a word nobody taught us, with the cook's own figure, is a meat."""
        for place, phrase in enumerate(self.phrases):
            if not self._may_be_food(place):
                continue
            if self._of_a_stranger(place) or self._tells_a_figure(place):
                continue
            if self._item_at(place - 1) is not None and not self._gap(place - 1, place):
                # "emu fillet at 3%": more of the name that stands before it
                self.used.add(place)
                continue
            if self._is_word(place - 1, "open") and self._item_at(place - 2) is not None:
                # "chuck (measured 16% fat)": what stands in brackets is said of the cut before them
                self.used.add(place)
                continue
            if self._listed_with_cuts(place):
                self.items.append(Item(name=phrase.text.lower()))
                self.mentions.append(Mention(place, len(self.items) - 1))
                self.used.add(place)
                continue
            after = place + 1
            while self._is_word(after, "unknown") or self._is_word(after, "cue", "mix") or self._is_word(after, "at"):
                after += 1
            figure = self._at(after)
            fat = isinstance(figure, Fatness) or (isinstance(figure, Amount) and figure.kind == "percent")
            if self._gap(after - 1, after) & {"for", "to"}:
                continue
            if not fat or isinstance(self._at(after + 1), CutName | SeasoningName) or len(phrase.text) < 3:
                continue
            words = [self.phrases[p].text for p in range(place, after) if not self._is_word(p, "at")]
            self.used.update(range(place, after))
            self.items.append(Item(name=" ".join(words).lower()))
            self.mentions.append(Mention(after - 1, len(self.items) - 1))
        self.mentions.sort(key=lambda mention: mention.place)

    def _tells_a_figure(self, place: int) -> bool:
        """ "chuck (metered 16% fat)", "whose fat hovers at 18%": a word that only leads in the figure of what stands
        before it is no meat of its own."""
        bracketed = self._is_word(place - 1, "open") and self._item_at(place - 2) is not None
        return bracketed or self._is_word(place - 1, "side", "fat")

    def _listed_with_cuts(self, place: int) -> bool:
        """ "from aoudad and suet": a word nobody taught us, in a list of cuts, is a meat whose fat has to be asked."""
        listed = self._is_word(place + 1, "join") and isinstance(self._at(place + 2), CutName)
        return listed and self._is_word(place - 1, "cue", "out_of") and not self._gap(place, place + 1)

    def _of_a_stranger(self, place: int) -> bool:
        """ "camel leg 4%": a part of a beast nobody taught us, with the cook's own figure."""
        item = self._item_at(place + 1)
        figure = self._at(
            place + 3 if self._is_word(place + 2, "at") or self._is_word(place + 2, "open") else place + 2
        )
        percent = isinstance(figure, Fatness) or (isinstance(figure, Amount) and figure.kind == "percent")
        if item is None or not percent or self._gap(place, place + 1) or self.items[item].name not in data.ambiguous():
            return False
        self._change(item, name=f"{self.phrases[place].text.lower()} {self.items[item].name}", keys=())
        self.used.add(place)
        return True

    def _swapped(self) -> None:
        """ "swap the round for sirloin", "sirloin instead of round", "swap short rib in for that"."""
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
            self._used_for_another()
            return
        place = self.phrases.index(swap)
        named = [m for m in self.mentions if m.place > place]
        for_that = self.sentence.cue("for_that")
        if for_that is not None and named and self.out:
            self.used.update({place, self.phrases.index(for_that)})
            self._set(swaps=((self.out[-1], self.items[named[0].item].name),))
        elif len(named) == 4:
            # "replace suet with bacon and round with sirloin"
            for gone, come in ((named[0], named[1]), (named[2], named[3])):
                self._swap(gone, come, place)
        elif len(named) >= 2:
            gone, come = named[0], named[1]
            inward = "in" in self._gap(gone.place, come.place) or swap.text.lower().split()[0] in ("sub", "substitute")
            if inward and "with" not in self.sentence.text[gone.place : come.place]:
                gone, come = come, gone
            self._swap(gone, come, place)

    def _used_for_another(self) -> None:
        """ "use sirloin for the round, sirloin's 12%": the newcomer, and the one in whose place it comes."""
        for come, gone in pairwise(self.mentions):
            use = self._is_word(come.place - 1, "cue", "out_of") and self.phrases[come.place - 1].text.lower()
            between = self.sentence.text[self.phrases[come.place].last : self.phrases[gone.place].first].lower()
            if use in ("use", "using") and _FOR_THE.search(between) and come.item != gone.item:
                self._swap(gone, come, come.place - 1)
                return

    def _swap(self, gone: Mention, come: Mention | None, cue: int) -> None:
        self.used.add(cue)
        name = self.items[gone.item].name
        self.out.append(name)
        if come is not None:
            self._set(swaps=(*self.plan.swaps, (name, self.items[come.item].name)))

    def _graded_names(self) -> None:
        """ "95VL trim": the grade is the meat's fat and part of its name, so that two trims stay two."""
        for place in self._places(Fatness):
            phrase = self.phrases[place]
            assert isinstance(phrase, Fatness)
            item = self._item_at(place + 1)
            if not (phrase.grade or phrase.ratio or phrase.said_as_lean) or item is None:
                continue
            if not phrase.grade and not self._trim_like(item):
                continue
            if phrase.ratio and self._heads_a_list(place):
                continue
            name = f"{phrase.text} {self.items[item].name}"
            others = [mention for mention in self.mentions if mention.item == item and mention.place != place + 1]
            if others:
                self.items.append(Item(name=name, keys=self.items[item].keys, fat=phrase.fat))
                self._move(place + 1, len(self.items) - 1)
            else:
                self._change(item, name=name, fat=phrase.fat)
            self.used.add(place)

    def _heads_a_list(self, place: int) -> bool:
        """ "5 kg 75/25 brisket trim, round and suet": the one weight and the one fat of a line, before all its cuts, are
        the batch's."""
        figures = [p for p in self.phrases if isinstance(p, Fatness | Amount | Count)]
        weight = self._at(place - 1)
        led = isinstance(weight, Amount) and weight.kind == "weight" and figures == [weight, self.phrases[place]]
        return led and len(self.items) > 1 and _is_trim(self.phrases[place + 1].text.lower())

    def _trim_like(self, item: int) -> bool:
        words = self.items[item].name.split()
        return words[-1] in ("trim", "trimmings", "beef", "pork", "lamb", "meat", "mince") or words[:1] == ["ground"]

    def _move(self, place: int, item: int) -> None:
        for mention in self.mentions:
            if mention.place == place:
                mention.item = item

    def _asked_cut(self) -> int | None:
        """The cut in "how much belly goes in?"."""
        for place in self._word_places("cue", "how_much"):
            for mention in self.mentions:
                if mention.place > place and owners.barrier(self.phrases, place, mention.place) <= 4:
                    return mention.item
        return None


def _plainly(name: str) -> set[str]:
    """The words of a name, with trim for trimmings and the like, so that "the trim" is the brisket trimmings."""
    return {"trim" if word in ("trimmings", "trimming") else word for word in name.split()}


def _is_trim(name: str) -> bool:
    return name.split()[-1] in ("trim", "trimmings", "trimming", "offcuts", "scraps", "scrap", "ends")
