"""What every pass of the reader shares: the phrases, what is used up, and small looks left and right."""

from __future__ import annotations

from dataclasses import dataclass, replace

from assistant.language.phrases import Amount, Count, Fatness, Measure, Patties, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.topics.plan.request import Item, Pinch, Plan


@dataclass
class Mention:
    """One place where a cut is named, and the item that it is about."""

    place: int
    item: int


class Marks:
    """One reading in the making: mutable while a sentence is read, and thrown away after it."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        self.sentence = corrected(sentence)
        self.dropped = frozenset(sentence.phrases) - frozenset(self.sentence.phrases)
        self.phrases = self.sentence.phrases
        self.known = known
        self.used: set[int] = set()
        self.items: list[Item] = []
        self.mentions: list[Mention] = []
        self.plan = Plan()
        self.seasonings: dict[int, Pinch] = {}
        self.out: list[str] = []
        self.target_place: int | None = None
        self.product: Item | None = None
        self.weight_places: dict[int, int] = {}

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


_FIGURES = (Amount, Count, Fatness, Rate, Patties, PerEach)


def corrected(sentence: Sentence) -> Sentence:
    """ "5 lb, no wait 7 lb", "round 8% scratch that 9%": the figure before the correction is taken back."""
    phrases = list(sentence.phrases)
    for cue in [word for word in sentence.words("cue") if word.payload == "correction"]:
        if cue not in phrases:
            continue
        at = phrases.index(cue)
        before = next((p for p in range(at - 1, max(-1, at - 6), -1) if isinstance(phrases[p], _FIGURES)), None)
        after = next((p for p in range(at + 1, min(at + 4, len(phrases))) if isinstance(phrases[p], _FIGURES)), None)
        if before is None or after is None:
            continue
        wrong, right = phrases[before], phrases[after]
        if isinstance(wrong, Amount) and isinstance(right, Count) and not right.proportion:
            measure = replace(wrong.measure, value=right.value, high=right.high)
            right = Amount(right.first, right.last, right.text, wrong.kind, measure)
        elif (isinstance(wrong, Amount) and isinstance(right, Amount) and wrong.kind != right.kind) or type(
            wrong
        ) is not type(right):
            continue
        phrases[before : after + 1] = [right]
    return replace(sentence, phrases=tuple(phrases))


def rough_grams(measure: Measure) -> float:
    """A weight in grams, near enough to tell a patty from a batch."""
    factor = {"lb": 453.6, "oz": 28.35, "g": 1.0, "kg": 1000.0, "stone": 6350.0, "mg": 0.001}
    return float(measure.value) * factor.get(measure.unit, 1e9)
