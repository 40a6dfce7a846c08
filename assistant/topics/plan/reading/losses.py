"""What is lost on the way to the plate, and what is put on top to be safe."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, PerEach, Word
from assistant.topics.plan import owners
from assistant.topics.plan.reading.figures import Figures
from assistant.topics.plan.request import Loss

_LOSS_WORDS = ("lose", "trim_loss", "bone", "in_grinder")
_KINDS = (
    ("bone", re.compile(r"\bbones?\b(?!\s+in\b)")),
    ("grinder", re.compile(r"grinder|mincer|grinding|mincing|\bhead\b|machine|\bauger\b|\bworm\b")),
    ("cooking", re.compile(r"cook|grill|shrink|\bpan\b|\bfry|frying|bbq|barbecue|barbie|oven|smoker|broil|render")),
    ("trim", re.compile(r"trim|gristle|sinew|silver|\bfat cap\b|peel")),
)
_CLAUSE_ENDS = re.compile(r"[.;,:?!]|\band\b|\bplus\b|\bthen\b|\bbut\b")


class Losses(Figures):
    """Losses and spare."""

    def _find_losses_and_spare(self) -> None:
        for place in self._places(Amount) + self._places(Count):
            if self._free(place) and self._is_spare(place):
                self.used.add(place)
        lost = []
        for place, cue in self._lost_pairs():
            measure = self._as_loss(place)
            assert measure is not None
            self.used.update({place, cue})
            lost.append(replace(Loss(self._where(place, cue, measure), measure), cut=self._cut_that_loses(place)))
        self._set(losses=(*self.plan.losses, *lost))

    # ---- spare

    def _is_spare(self, place: int) -> bool:
        """ "10% spare", "+15%", "2 extra", "3 over"; sets the spare it finds."""
        phrase = self.phrases[place]
        named = [near for near in (place + 1, place - 1) if self._is_word(near, "cue", "spare")]
        if isinstance(phrase, Amount) and phrase.kind == "percent":
            more = [near for near in (place + 1, place - 1) if self._is_word(near, "cue", "more", "bigger")]
            plus = self._is_word(place - 1, "join") and self.sentence.text[self.phrases[place - 1].first] == "+"
            if not named and not more and not (plus and any(isinstance(p, People | Patties) for p in self.phrases)):
                return False
            self.used.update(named + more)
            self._set(spare=phrase.measure.value)
            return True
        if isinstance(phrase, Count) and named[:1] == [place + 1] and whole_count(phrase) is not None:
            self.used.add(place + 1)
            self._set(spare_count=phrase.value)
            return True
        return False

    # ---- losses

    def _lost_pairs(self) -> list[tuple[int, int]]:
        """Each figure of loss with the word that says so, in the order of the line; a word serves one figure."""
        cues = [place for place in range(len(self.phrases)) if self._is_word(place, "cue", *_LOSS_WORDS)]
        found = []
        for place in self._places(Amount) + self._places(Count):
            if not self._free(place) or self._as_loss(place) is None or self._is_kept(place):
                continue
            for cue in cues:
                between = owners.barrier(self.phrases, cue, place)
                if between < 5 and not self._too_loose(place, cue, between):
                    found.append((between, cue > place, place, cue))
        pairs: dict[int, int] = {}
        for _between, _after, place, cue in sorted(found):
            if place not in pairs and cue not in pairs.values():
                pairs[place] = cue
        return sorted(pairs.items())

    def _as_loss(self, place: int) -> Measure | None:
        """The figure as a loss: a percent, a weight, or a part of it all (a quarter is 25 %)."""
        phrase = self.phrases[place]
        if isinstance(phrase, Amount) and phrase.kind in ("percent", "weight"):
            return phrase.measure
        if isinstance(phrase, Count) and phrase.piece:
            return Measure(phrase.value * 100, "percent")
        return None

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
        return "trim" if measure.unit == "percent" else "grinder"

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
