"""What is lost on the way to the plate, and what is put on top to be safe."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, CutName, Fatness, Measure, Patties, People, PerEach, Scale, Word
from assistant.pattern import Pattern
from assistant.topics.plan import owners
from assistant.topics.plan.reading.packs import Packs
from assistant.topics.plan.request import Loss

_MORE = ("more", "bigger")
_LESS = ("smaller",)
"""The cues of "10% more" and "10 less"."""

_LOSS_WORDS = ("lose", "trim_loss", "bone", "in_grinder")
_KINDS = (
    ("bone", Pattern(r"\bbones?\b(?!\s+in\b)")),
    ("grinder", Pattern(r"grinder|mincer|grinding|mincing|\bhead\b|machine|\bauger\b|\bworm\b")),
    (
        "cooking",
        Pattern(
            r"cook|grill|shrink|coals|charcoal|\bpan\b|\bfry|frying|bbq|barbecue|barbie|oven|smoker|broil|render|\bfire\b|\bserved\b"
        ),
    ),
    (
        "trim",
        Pattern(
            r"trim|gristle|sinew|silver|\bfat cap\b|peel|\bbin(?:ned)?\b|trash|garbage|threw|thrown|tossed|went to|goes to|of fat\b"
        ),
    ),
)
_STARTED = Pattern(
    r"\b(?:start(?:s|ed|ing)?(?: out)?(?: (?:with|from|at))|to (?:start|begin)(?: with)?|began with|beginning with|bought|paid for|as bought|(?:i|we)(?:'ve| have)?(?: got)? (?:have|got|bought)"
    r"|(?:have|got|i've|we've|ive))\b(?!.*\b(?:need|want|usable)\b)",
    re.IGNORECASE,
)
"""What says that a weight is the one before anything came off it."""
_TO_START = Pattern(r"\s+(?:to (?:start|begin)|as bought|at the start)\b", re.IGNORECASE)
_CLAUSE_ENDS = Pattern(r"[.;,:?!]|\band\b|\bplus\b|\bthen\b|\bbut\b")


class Losses(Packs):
    """Losses and spare."""

    def _trim_is_lost(self) -> None:
        """ "15 lb usable, 20% trim", "5 lb after 10% trim, how many": what comes off the meat, not a meat of its own."""
        self._bone_and_trim()
        asked = self.sentence.has("buy", "usable", "left_with", "lose", "bone", "how_many")
        alone = len(self.items) == 1 and (bool(self.sentence.of(People)) or self.plan.pack is not None)
        if not (asked or alone) or self.sentence.of(Fatness) or self.sentence.has("out_of"):
            return
        for mention in list(self.mentions):
            near = [at for at in (mention.place - 1, mention.place + 1) if self._is_percent(at)]
            if self.phrases[mention.place].text.lower() != "trim" or not near:
                continue
            percent = self.phrases[near[0]]
            assert isinstance(percent, Amount)
            self._set(losses=(*self.plan.losses, Loss("trim", percent.measure)))
            self.used.update({near[0], mention.place, *(at for at in (near[0] - 1,) if self._says(at, "after"))})
            self._forget(mention)
            return

    def _bone_and_trim(self) -> None:
        """ "bone and trim is about 30% loss": joined to the bone, trim is what comes off."""
        for mention in list(self.mentions):
            beside = [(mention.place - 1, mention.place - 2), (mention.place + 1, mention.place + 2)]
            bone = any(self._is_word(join, "join") and self._is_word(at, "cue", "bone") for join, at in beside)
            done = self._gap(mention.place - 1, mention.place) & {"i", "we", "you", "they"}
            if bone and self._says(mention.place, "trim", "skin", "rind") and not done:
                self.used.add(mention.place)
                self._forget(mention)

    def _is_percent(self, place: int) -> bool:
        phrase = self._at(place)
        return isinstance(phrase, Amount) and phrase.kind == "percent" and self._free(place)

    def _find_losses(self) -> None:
        lost = []
        for place, cue in self._lost_pairs():
            measure = self._as_loss(place)
            assert measure is not None
            self.used.update({place, cue, *(at for at in (place + 1,) if self._says(at, "back"))})
            lost.append(replace(Loss(self._where(place, cue, measure), measure), cut=self._cut_that_loses(place)))
        self._set(losses=(*self.plan.losses, *lost))

    def _loses_from_the_start(self) -> bool:
        """ "Starting with 15 lb, I lose 12%": the weight is the one before anything came off it."""
        told = self.plan.losses and self.plan.batch is not None and not self.sentence.has("buy")
        return bool(told) and _STARTED.search(self.sentence.text) is not None

    # ---- spare

    def _find_spare(self) -> None:
        """What is made on top, or left off: before any percent is taken for the fat that is wanted."""
        self._put_aside()
        for place in self._places(Amount) + self._places(Count) + self._places(Patties):
            if not self._free(place):
                continue
            share, count = self._spare_share(place), self._spare_count(place)
            if share is not None:
                self._set(spare=share)
            elif count is not None:
                self._set(spare_count=count)

    def _spare_words(self, place: int) -> list[int]:
        """The word beside a figure that says it is on top, or off: "10% spare", "a margin of 12%"."""
        before = place - 2 if self._is_word(place - 1, "of") else place - 1
        return [at for at in (place + 1, before) if self._is_word(at, "cue", "spare", *_MORE, *_LESS)]

    def _spare_share(self, place: int) -> Fraction | None:
        """ "10% spare", "+15%", "a quarter more", "less 10 percent": in percent, below nothing where it is left off."""
        phrase = self.phrases[place]
        if isinstance(phrase, Amount) and phrase.kind == "percent":
            share = phrase.measure.value
        elif isinstance(phrase, Count) and phrase.piece:
            share = phrase.value * 100
        else:
            return None
        said = self._spare_words(place)
        if isinstance(phrase, Amount) and not said and not self._is_plus(place):
            return None
        if isinstance(phrase, Count) and not said:
            return None
        bare = not any(self._is_word(at, "cue", "spare") for at in said) and not self._is_plus(place)
        counted = self.sentence.of(People) + self.sentence.of(Patties) + self.sentence.of(Scale)
        if self._is_of_the_crowd(place, said) or (bare and not counted):
            # "a third more" alone is said of whatever is on the table
            return None
        self.used.update({place, *said})
        return -share if any(self._is_word(at, "cue", *_LESS) for at in said) else share

    def _is_of_the_crowd(self, place: int, said: list[int]) -> bool:
        """ "20% more guests", "a quarter fewer people": the crowd itself, not what is made for it."""
        return isinstance(self._at(max([place, *said]) + 1), People)

    def _is_plus(self, place: int) -> bool:
        plus = self._is_word(place - 1, "join") and self.sentence.text[self.phrases[place - 1].first] == "+"
        return plus and any(isinstance(p, People | Patties) for p in self.phrases)

    def _spare_count(self, place: int) -> Fraction | None:
        """ "2 extra", "plus 6 for the helpers", "a dozen extra", "less 10 burgers", "minus the 6 we have"."""
        phrase = self.phrases[place]
        if isinstance(phrase, Patties):
            count = None if phrase.each is not None or phrase.count is None else whole_count(phrase.count)
        else:
            count = whole_count(phrase)
        if count is None:
            return None
        spare = [at for at in (place + 1,) if self._is_word(at, "cue", "spare")]
        less = [at for at in (place - 1,) if self._is_word(at, "cue", *_LESS) or self._says(at, "minus")]
        for_others = self._is_word(place - 1, "join") and self._is_for_others(place)
        if not spare and not less and not for_others:
            return None
        self.used.update({place, *spare, *less})
        return -count if less else count * self._tables(max([place, *spare]) + 1)

    def _tables(self, place: int) -> Fraction:
        """ "8 tables of 10, 1 spare per table": how many times over the spare is said."""
        if not self._is_word(place, "cue", "per_table"):
            return Fraction(1)
        of = (at for at in range(len(self.phrases)) if self._is_word(at, "cue", "tables_of", "sitting"))
        told = next((count for at in of if (count := whole_count(self._at(at - 1))) is not None), None)
        if told is None:
            self._set(question="How many tables are there?")
        self.used.add(place)
        return told or Fraction(1)

    def _is_for_others(self, place: int) -> bool:
        """ "plus 6 for the helpers": a number for some who are named and not counted."""
        after = place + 2 if self._is_word(place + 1, "sep", " ") else place + 1
        people = self._at(after)
        if (
            isinstance(people, People)
            and people.count is None
            and "for" in self._gap(place, place + 1) | self._gap(after - 1, after)
        ):
            self.used.add(after)
            return True
        return False

    def _says(self, place: int, *words: str) -> bool:
        phrase = self._at(place)
        return phrase is not None and phrase.text.lower() in words

    def _put_aside(self) -> None:
        """ "keep back half a kilo for the cooks", "keep 500 g aside", "2 lb left over for the freezer"."""
        machine = self.sentence.has("in_grinder")
        for place in self._places(Amount):
            if self.phrases[place].kind != "weight" or machine or self.plan.aside is not None:  # type: ignore[attr-defined]
                continue
            said = [at for at in (place - 1, place + 1) if self._is_word(at, "cue", "aside")]
            following = self._at(place + 2)
            if said == [place + 1] and isinstance(following, Amount) and following.kind == "weight":
                # "from 7.5 lb if I hold back a pound": what stands behind the verb is its own
                continue
            if self._is_word(place - 1, "cue", "keep") and self._says(place + 1, "back", "by", "apart"):
                said = [place - 1, place + 1]
            over = self._is_word(place + 1, "cue", "leftover") and self._is_word(place - 1, "cue", "want", "keep")
            if not said and not over:
                continue
            after = [at for at in (place + 1, place + 2, place + 3) if self._is_word(at, "cue", "leftover", "freezer")]
            self.used.update({place, *said, *after, *(at for at in (place - 1,) if self._is_word(at, "cue", "keep"))})
            self._set(aside=self.phrases[place].measure)  # type: ignore[attr-defined]

    # ---- losses

    def _lost_pairs(self) -> list[tuple[int, int]]:
        """Each figure of loss with the word that says so, in the order of the line; a word serves one figure."""
        cues = self._word_places("cue", *_LOSS_WORDS)
        found = []
        for place in self._places(Amount) + self._places(Count):
            if not self._free(place) or self._as_loss(place) is None or self._is_kept(place):
                continue
            for cue in cues:
                between = 0 if self._is_of_the_cut(place, cue) else owners.barrier(self.phrases, cue, place)
                if between < 5 and not self._too_loose(place, cue, between):
                    found.append((between, cue > place, place, cue))
        pairs = {place: place - 1 for place in self._places(Amount) if self._is_cut_off(place)}
        for _between, _after, place, cue in sorted(found):
            if place not in pairs and cue not in pairs.values():
                pairs[place] = cue
        return sorted(pairs.items())

    def _is_of_the_cut(self, place: int, cue: int) -> bool:
        """ "22% of a shoulder of lamb is bone", "18% of the chuck roll trimming it"."""
        return cue == place + 3 and self._is_word(place + 1, "of") and self._item_at(place + 2) is not None

    def _as_loss(self, place: int) -> Measure | None:
        """The figure as a loss: a percent, a weight, or a part of it all (a quarter is 25 %)."""
        phrase = self.phrases[place]
        if isinstance(phrase, Amount) and phrase.kind in ("percent", "weight"):
            return phrase.measure
        if isinstance(phrase, Count) and phrase.piece:
            return Measure(phrase.value * 100, "percent")
        if whole_count(phrase) is not None and not self.sentence.of(Amount) and self._alone_in_it(place):
            # "no, loss is more like 20"
            assert isinstance(phrase, Count)
            return Measure(phrase.value, "percent")
        return None

    def _alone_in_it(self, place: int) -> bool:
        """Whether a number is the only one of the line, and a percent by its size."""
        phrase = self.phrases[place]
        return len(self.sentence.of(Count)) == 1 and isinstance(phrase, Count) and phrase.value < 90

    def _too_loose(self, place: int, cue: int, between: int) -> bool:
        phrase = self.phrases[place]
        weight = isinstance(phrase, Amount) and phrase.kind == "weight"
        if self._is_word(cue, "cue", "in_grinder", "bone"):
            # "the bone" and "the grinder" only say where: a figure belongs to them when it stands beside them
            return weight or between > 1 or (cue > place + 1 and not self._is_word(place + 1, "of"))
        if weight and cue > place:
            return between > 1 or self._item_at(place + 1) is not None
        return weight and self._item_at(place + 1) is not None and not isinstance(self._at(place - 1), Word)

    def _is_kept(self, place: int) -> bool:
        """A figure that is wanted, or that says what a cut consists of: "want 5 lb", "suet 70%, …"."""
        if self._is_word(place - 1, "cue", "want", "buy") or self._is_word(place + 1, "cue", "usable"):
            return True
        if _TO_START.match(self.sentence.text, self.phrases[place].last) is not None:
            return True
        after_cut = isinstance(self._at(place - 1), CutName)
        return after_cut and self._is_word(place + 1, "sep") and not self._is_word(place + 2, "cue", "bone")

    def _where(self, place: int, cue: int, measure: Measure) -> str:
        """Where it is lost, by the words of its own clause: those after the figure first, then those before it."""
        text = self.sentence.text.lower()
        figure = self.phrases[place]
        after = text[figure.last :]
        after = after[: max(_first_end(after), self.phrases[cue].last - figure.last)]
        earlier = [self.phrases[p].last for p in range(place) if isinstance(self.phrases[p], Amount | PerEach)]
        before = text[max(earlier, default=0) : figure.first]
        for clause in (after, before):
            for where, words in _KINDS:
                if words.search(clause):
                    return "trimmed" if where == "trim" and measure.unit != "percent" else where
        if measure.unit == "percent":
            return "cooking" if self.sentence.has("cooked") else "trim"
        return "grinder"

    def _cut_that_loses(self, place: int) -> str:
        """ "i lose 12% trimming the sirloin": of several cuts, the one that the loss is said of; "" for all of it."""
        if len(self.items) < 2:
            return ""
        after = next((m for m in self.mentions if place < m.place <= place + 4), None)
        before = next((m for m in reversed(self.mentions) if place - 3 <= m.place < place), None)
        for mention in (after, before):
            if mention is not None and self._same_clause(mention.place, place):
                return self.items[mention.item].name
        return ""

    def _same_clause(self, first: int, second: int) -> bool:
        low, high = sorted((first, second))
        return not any(self._is_word(at, "sep") or self._is_word(at, "join") for at in range(low, high))


def _first_end(text: str) -> int:
    found = _CLAUSE_ENDS.search(text)
    return found.start() if found else len(text)


def whole_count(phrase: object) -> Fraction | None:
    """The value of a bare whole number above nothing, or None."""
    if not isinstance(phrase, Count) or phrase.piece or phrase.proportion or phrase.high is not None:
        return None
    return phrase.value if phrase.value.denominator == 1 and phrase.value > 0 else None
