"""What every pass of the reader shares: the phrases, what is used up, and small looks left and right."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Measure,
    Patties,
    People,
    Per,
    PerEach,
    Phrase,
    Rate,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together import said_together
from assistant.topics.plan.request import Item, Pinch, Plan
from assistant.topics.plan.two_ways import Twice

_OFF = Pattern(r"\s+(?:off|away)\b", re.IGNORECASE)
_LINKS = frozenset(
    ["sausage", "banger", "snag", "link", "brat", "bratwurst", "hotdog", "hot dog", "frank", "frankfurter", "chipolata"]
)


class Mention(Struct):
    """One place where a cut is named, and the item that it is about."""

    place: int
    item: int


class Marks:
    """One reading in the making: mutable while a sentence is read, and thrown away after it."""

    def __init__(self, sentence: Sentence, known: tuple[Item, ...] = ()) -> None:
        self.sentence = limited_after(added_up(packed(said_together(fat_listed(told_by(corrected(sentence)))))))
        # what a correction took back, or a count of packs took up, is accounted for
        self.dropped = frozenset(sentence.phrases) - frozenset(self.sentence.phrases)
        self.phrases = self.sentence.phrases
        self._by_kind: dict[type[Phrase], tuple[int, ...]] = {}
        self._words = {place: phrase for place, phrase in enumerate(self.phrases) if isinstance(phrase, Word)}
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
        self.heard_twice: list[Twice] = []
        self.unsaid_prices: set[str] = set()
        """Names of cuts with a sum of money and no word for what it buys."""

    def _at(self, place: int) -> Phrase | None:
        return self.phrases[place] if 0 <= place < len(self.phrases) else None

    def _is_word(self, place: int, kind: str, *payloads: str) -> bool:
        word = self._words.get(place)
        return word is not None and word.kind == kind and (not payloads or word.payload in payloads)

    def _word_places(self, kind: str, *payloads: str) -> list[int]:
        """Where such words stand."""
        words = self._words.items()
        return [at for at, word in words if word.kind == kind and (not payloads or word.payload in payloads)]

    def _gap(self, left: int, right: int) -> set[str]:
        """The passed-over words that stand between two neighbouring phrases ("for", "to", "in")."""
        if not (0 <= left < len(self.phrases) and right < len(self.phrases)):
            return set()
        return set(self.sentence.text[self.phrases[left].last : self.phrases[right].first].lower().split())

    def _is_cut_off(self, place: int) -> bool:
        """ "trimmed 4 lb off", "trimmed 12% off": the figure between the verb and its off."""
        amount = self.phrases[place]
        measured = isinstance(amount, Amount) and amount.kind in ("weight", "percent")
        verb = self._free(place) and measured and self._is_word(place - 1, "cue", "trimmed")
        return verb and _OFF.match(self.sentence.text, amount.last) is not None

    def _free(self, place: int) -> bool:
        return place not in self.used

    def _may_be_food(self, place: int) -> bool:
        """An unknown word that a figure beside it may make a meat or a seasoning; "after 3%" only joins."""
        if not (self._is_word(place, "unknown") and self._free(place)):
            return False
        word = self.phrases[place].text.lower()
        return word not in _JOINING and _NO_NOUN.fullmatch(word) is None

    def _counts_links(self, place: int) -> bool:
        """ "40 bangers": so many sausages, which are shaped from the mix as patties are."""
        named = self._at(place + 1)
        return (
            isinstance(self._at(place), Count) and isinstance(named, Word) and named.text.lower().rstrip("s") in _LINKS
        )

    def _set(self, **changes: object) -> None:
        self.plan = replace(self.plan, **changes)

    def _change(self, item: int, **changes: object) -> None:
        self.items[item] = replace(self.items[item], **changes)

    def _forget(self, mention: Mention) -> None:
        """Take back a meat that was none."""
        gone = mention.item
        del self.items[gone]
        self.mentions = [Mention(m.place, m.item - (m.item > gone)) for m in self.mentions if m.item != gone]

    def _name_places(self) -> list[int]:
        return sorted([mention.place for mention in self.mentions] + list(self.seasonings))

    def _item_at(self, place: int) -> int | None:
        return next((mention.item for mention in self.mentions if mention.place == place), None)

    def _places(self, kind: type[Phrase]) -> tuple[int, ...]:
        found = self._by_kind.get(kind)
        if found is None:
            places = enumerate(self.phrases)
            found = self._by_kind[kind] = tuple(place for place, phrase in places if isinstance(phrase, kind))
        return found


_JOINING = frozenset(
    (
        *("after", "before", "once", "until", "till", "during", "since", "while", "when", "whenever", "if", "unless"),
        *("then", "above", "below", "under", "over", "within", "beyond", "against", "between", "per", "via", "than"),
        *("though", "although", "because", "so", "most", "least"),
    )
)
"""Words that join and never name food, however near a figure stands."""
_NO_NOUN = Pattern(
    r"gone|risen|fallen|grown|shrunk|become|done|gotten|got|begun|given|taken|made|sold|paid|spent|kept|held|lost|found"
    r"|felt|thought|brought|knew|known|seen|saw|drawn|driven|eaten|drunk|broken|chosen|forgotten|hidden|ridden|shown|shot"
    r"|worn|written|whole|entire|full|extra|overall|altogether|exact|real|normal|usual|same|similar"
    r"|\w{2,}(?:ally|edly|ingly|ely|ily)"
)
"""Participles, adverbs and words of degree: "gone up 8%" and "4 kg whole" name no food."""

_ANY_MORE = Pattern(r"\s*(?:any ?more|any longer)\b", re.IGNORECASE)
_FIGURES = (Amount, Count, Fatness, Rate, Patties, PerEach, People)


def _not_this_but_that(phrases: list[Phrase]) -> list[Phrase]:
    """ "not 3 kg, 2 kg": the figure after the no is taken back, where another of its kind follows."""
    for at in range(len(phrases) - 3):
        if phrases[at + 2].text.lower() == "this" and phrases[at + 3].text.lower() == "time":
            # "not 80/20 this time, 70/30"
            phrases = [*phrases[: at + 2], *phrases[at + 4 :]]
        if at + 3 >= len(phrases):
            break
        no, wrong, comma, right = phrases[at : at + 4]
        if not (isinstance(no, Word) and no.kind == "cue" and no.payload == "not"):
            continue
        if not (isinstance(comma, Word) and comma.kind in ("sep", "join") and isinstance(wrong, _FIGURES)):
            continue
        if isinstance(wrong, People) and wrong.count is not None and isinstance(right, Count):
            # "not 40 people, 14!"
            heads = People(wrong.first, right.last, right.text + wrong.text[len(wrong.count.text) :], wrong.sort, right)
            return [*phrases[:at], heads, *phrases[at + 4 :]]
        if _same_kind(wrong, right):
            return [*phrases[:at], *phrases[at + 3 :]]
    return phrases


def _no_longer(phrases: list[Phrase], text: str) -> list[Phrase]:
    """ "don't need it for 60 any more, it's 45": the figure that no longer holds is taken back."""
    for at in range(1, len(phrases) - 1):
        wrong = phrases[at]
        if not isinstance(wrong, _FIGURES) or not _ANY_MORE.match(text[wrong.last :]):
            continue
        no = next((p for p in phrases[max(0, at - 4) : at] if isinstance(p, Word) and p.payload == "not"), None)
        right = any(_same_kind(wrong, later) for later in phrases[at + 1 :])
        if no is not None and right:
            return [p for p in phrases if p is not wrong and p is not no]
    return phrases


def _no_that(phrases: list[Phrase]) -> list[Phrase]:
    """ "round 8% no 9%", "1.5% salt, no 1.8%": a no between two figures of a kind takes the first one back; what the
    first was said of stays, unless a name follows the second."""
    for at in range(1, len(phrases) - 1):
        no, right = phrases[at : at + 2]
        if not (isinstance(no, Word) and no.kind == "cue" and no.payload == "not" and no.text.lower() == "no"):
            continue
        wrong = at - 1
        while wrong >= 0 and isinstance(phrases[wrong], CutName | SeasoningName | Word) and at - wrong < 4:
            word = phrases[wrong]
            if isinstance(word, Word) and not (word.kind == "of" or (word.kind == "sep" and word.payload == ",")):
                break
            wrong -= 1
        named = _names(phrases[wrong + 1 : at])
        following = _names(phrases[at + 2 : at + 4])[:1]
        right = _in_its_unit(phrases[wrong], right) if wrong >= 0 and not following else right
        if wrong < 0 or not isinstance(phrases[wrong], _FIGURES) or not _same_kind(phrases[wrong], right):
            continue
        if following and named and _called(following[0]) != _called(named[0]):
            continue
        kept = [] if following else named
        return [*phrases[:wrong], right, *kept, *phrases[at + 2 :]]
    return phrases


def _in_its_unit(wrong: Phrase, right: Phrase) -> Phrase:
    """ "3 lb chuck no 4": the number in the unit of the figure that it takes the place of."""
    plain = isinstance(right, Count) and not right.piece and not right.proportion
    if not (plain and isinstance(right, Count) and isinstance(wrong, Amount) and wrong.kind == "weight"):
        return right
    measure = replace(wrong.measure, value=right.value, high=right.high)
    return Amount(right.first, right.last, right.text, wrong.kind, measure)


def _names(phrases: list[Phrase]) -> list[Phrase]:
    """The cuts and seasonings among some phrases, up to the first comma after them."""
    return [phrase for phrase in phrases if isinstance(phrase, CutName | SeasoningName)]


def _called(name: Phrase) -> str:
    assert isinstance(name, CutName | SeasoningName)
    return name.name


def _packs_of_so_much_each(phrases: list[Phrase]) -> None:
    """ "5 packs of mince, 450 g each": so many times so much is one weight."""
    for at in range(len(phrases) - 2):
        count, pack = phrases[at], phrases[at + 1]
        if not (isinstance(count, Count) and isinstance(pack, Word) and pack.payload == "pack"):
            continue
        later = range(at + 2, min(at + 6, len(phrases)))
        place = next((p for p in later if isinstance(phrases[p], PerEach)), None)
        each = None if place is None else phrases[place]
        named = all(
            isinstance(p, CutName) or (isinstance(p, Word) and p.kind != "unknown") for p in phrases[at + 2 : place]
        )
        if not isinstance(each, PerEach) or each.kind != "weight" or not named or count.value.denominator != 1:
            continue
        measure = replace(each.measure, value=each.measure.value * count.value)
        last = phrases[place] if place is not None else each
        phrases[at : (place or at) + 1] = [
            Amount(count.first, last.last, f"{count.text} x {each.text}", "weight", measure),
            *(p for p in phrases[at + 2 : place] if isinstance(p, CutName)),
        ]
        return


def packed(sentence: Sentence) -> Sentence:
    """ "two 500 g packs of mince": so many packs of so much are one weight."""
    phrases = list(sentence.phrases)
    _packs_of_so_much_each(phrases)
    for at, phrase in enumerate(phrases):
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        pack = isinstance(after, Word) and after.kind == "cue" and after.payload == "pack"
        if not (pack and isinstance(phrase, Patties) and phrase.count is not None and phrase.each is not None):
            continue
        if phrase.each.kind == "weight" and not phrase.text.lower().rstrip("s").endswith(("patty", "burger")):
            measure = replace(phrase.each.measure, value=phrase.each.measure.value * phrase.count.value)
            phrases[at] = Amount(phrase.first, phrase.last, phrase.text, "weight", measure)
    return replace(sentence, phrases=tuple(phrases))


def told_by(sentence: Sentence) -> Sentence:
    """ "ox cheek, which my butcher says is 9%": who says so stands between a cut and its figure, and changes nothing."""
    phrases = list(sentence.phrases)
    for at, phrase in enumerate(sentence.phrases):
        if not (isinstance(phrase, Word) and phrase.payload == "what" and phrase.text.lower() in ("which", "that")):
            continue
        first = at - 1 if _is_comma(sentence.phrases[at - 1] if at else None) else at
        after = at + 1
        while after < len(sentence.phrases) and _tells_who(sentence.phrases[after]):
            after += 1
        figure = sentence.phrases[after] if after < len(sentence.phrases) else None
        percent = isinstance(figure, Fatness) or (isinstance(figure, Amount) and figure.kind == "percent")
        if first and isinstance(sentence.phrases[first - 1], CutName) and percent:
            said = sentence.phrases[first:after]
            phrases = [one for one in phrases if one not in said]
    return replace(sentence, phrases=tuple(phrases))


def limited_after(sentence: Sentence) -> Sentence:
    """ "3 lb of round at most", "brisket 20% at least": a limit said after the cut and its figure."""
    phrases = list(sentence.phrases)
    for at in range(len(phrases) - 1, 0, -1):
        bound = phrases[at]
        limit = isinstance(bound, Word) and bound.kind == "bound" and bound.payload in ("at_most", "at_least")
        if not limit or not _ends_a_clause(phrases[at + 1] if at + 1 < len(phrases) else None):
            continue
        cut = next((p for p in (at - 1, at - 2) if p >= 0 and isinstance(phrases[p], CutName)), None)
        if cut is None:
            continue
        of = isinstance(phrases[cut - 1], Word) and phrases[cut - 1].kind == "of"  # type: ignore[attr-defined]
        figure = at - 1 if cut == at - 2 else cut - 2 if of else cut - 1
        amount = phrases[figure] if figure >= 0 else None
        if isinstance(amount, Amount) and amount.kind in ("weight", "percent") and amount.bound is Bound.IS:
            assert isinstance(bound, Word)
            phrases[figure] = replace(amount, bound=Bound(bound.payload))
            del phrases[at]
    return replace(sentence, phrases=tuple(phrases))


def _ends_a_clause(phrase: Phrase | None) -> bool:
    return phrase is None or (isinstance(phrase, Word) and phrase.kind in ("sep", "join", "close"))


def fat_listed(sentence: Sentence) -> Sentence:
    """ "chuck 17 fat 70 round 6": the fat is the next meat of the list, and 17 is the chuck's."""
    phrases = list(sentence.phrases)
    for at in range(len(phrases) - 2, 0, -1):
        before, both, figure = phrases[at - 1 : at + 2]
        listed = isinstance(before, CutName) and isinstance(both, Fatness) and both.text.lower().endswith(" fat")
        plain = isinstance(figure, Count) and not figure.piece and _PURE <= figure.value <= 100
        if not (listed and plain and isinstance(both, Fatness) and isinstance(figure, Count)) or both.said_as_lean:
            continue
        cut = both.last - len("fat")
        own = Count(both.first, cut, sentence.text[both.first : cut].strip(), both.fat)
        fat = Fatness(cut, figure.last, sentence.text[cut : figure.last], figure.value)
        phrases[at : at + 2] = [own, fat]
    return replace(sentence, phrases=tuple(phrases))


_PURE = 50
"""Percent. What is fatter is fat, and no mix. A choice."""


def _is_comma(phrase: Phrase | None) -> bool:
    return isinstance(phrase, Word) and phrase.kind == "sep" and phrase.payload == ","


def _tells_who(phrase: Phrase) -> bool:
    if not isinstance(phrase, Word):
        return False
    return phrase.kind in ("unknown", "at", "bound") or phrase.payload in (
        "shop_price",
        "recipe_for",
        "label_it",
        "must_be",
    )


def added_up(sentence: Sentence) -> Sentence:
    """ "1 tbsp plus 1 tsp salt" is one amount, and so is "a third of 3.6 kg"."""
    phrases = list(sentence.phrases)
    at = 0
    while at + 2 < len(phrases):
        first, word, second = phrases[at : at + 3]
        one = _as_one(first, word, second, phrases[at + 3] if at + 3 < len(phrases) else None)
        if one is not None:
            phrases[at : at + 3] = [one]
        at += 1
    return replace(sentence, phrases=tuple(phrases))


def _as_one(first: Phrase, word: Phrase, second: Phrase, name: Phrase | None) -> Amount | None:
    if not (isinstance(word, Word) and isinstance(second, Amount) and second.kind in ("weight", "volume")):
        return None
    text = f"{first.text} {word.text} {second.text}"
    measure = second.measure
    if isinstance(first, Count) and first.piece and word.kind == "of" and measure.high is None:
        part = replace(measure, value=measure.value * first.value)
        return Amount(first.first, second.last, text, second.kind, part, first.bound)
    spoons = isinstance(first, Amount) and first.kind == second.kind == "volume" and word.kind == "join"
    if not spoons or not isinstance(name, SeasoningName) or not isinstance(first, Amount):
        return None
    ratio = _SMALLER_SPOON.get((first.measure.unit, measure.unit))
    if ratio is None or first.measure.high is not None or measure.high is not None:
        return None
    whole = Measure(first.measure.value / ratio + measure.value, measure.unit)
    return Amount(first.first, second.last, text, "volume", whole, first.bound)


_SMALLER_SPOON = {
    ("tbsp", "tsp"): Fraction(1, 3),
    ("cup", "tbsp"): Fraction(1, 16),
    ("cup", "tsp"): Fraction(1, 48),
}


def _resizes(wrong: Patties, right: Amount) -> bool:
    """Whether a weight can take the place of the weight of each patty."""
    return wrong.each is not None and wrong.each.kind == right.kind == "weight"


def _same_kind(wrong: Phrase, right: Phrase) -> bool:
    """Whether one figure can take another's place: 5 lb for 7 lb, 85 for 82 lean."""
    percent = isinstance(wrong, Amount) and wrong.kind == "percent"
    if (isinstance(wrong, Count) or percent) and isinstance(right, Fatness):
        return True
    return type(wrong) is type(right) and getattr(wrong, "kind", "") == getattr(right, "kind", "")


def _named_before(phrases: list[Phrase], cue: int, figure: int) -> int | None:
    """ "1 tsp salt and 1/2 tsp pepper, no wait 3/4 tsp salt": the place of the figure that the same name had before."""
    name = phrases[figure + 1] if figure + 1 < len(phrases) else None
    if not isinstance(name, CutName | SeasoningName):
        return None
    for at in range(cue - 1, -1, -1):
        known = phrases[at]
        if type(known) is type(name) and known.name == name.name:
            beside = [p for p in (at - 1, at + 1) if 0 <= p < cue and _same_kind(phrases[p], phrases[figure])]
            return beside[0] if len(beside) == 1 else None
    return None


def corrected(sentence: Sentence) -> Sentence:
    """ "5 lb, no wait 7 lb", "round 8% scratch that 9%": the figure before the correction is taken back."""
    phrases = _no_longer(_no_that(_not_this_but_that(list(sentence.phrases))), sentence.text)
    for cue in [word for word in sentence.words("cue") if word.payload == "correction"]:
        if cue not in phrases:
            continue
        at = phrases.index(cue)
        before = next((p for p in range(at - 1, max(-1, at - 6), -1) if isinstance(phrases[p], _FIGURES)), None)
        after = next((p for p in range(at + 1, min(at + 4, len(phrases))) if isinstance(phrases[p], _FIGURES)), None)
        if before is None or after is None:
            continue
        wrong, right = phrases[before], phrases[after]
        named = _named_before(phrases, at, after)
        if named is not None:
            phrases[named] = right
            del phrases[at : after + 2]
            continue
        if isinstance(wrong, Amount) and isinstance(right, Count) and not right.proportion:
            measure = replace(wrong.measure, value=right.value, high=right.high)
            right = Amount(right.first, right.last, right.text, wrong.kind, measure)
        elif isinstance(wrong, Count) and isinstance(right, People | Patties) and right.count is not None:
            # "for 31, no wait 13 people"
            phrases[before : after + 1] = [right]
            continue
        elif isinstance(wrong, Patties) and isinstance(right, Amount) and _resizes(wrong, right):
            # "4 oz patties, scratch that, 5 oz"
            right = replace(wrong, each=right)
        elif isinstance(wrong, Rate) and isinstance(right, Amount) and wrong.kind == right.kind:
            # "2 tsp sage a lb, no wait 1": so much of it per the same weight
            right = Rate(right.first, right.last, right.text, right.kind, right.measure, wrong.per)
        elif not _same_kind(wrong, right):
            continue
        phrases[before : after + 1] = [right, *_said_of_both(phrases[before + 1 : at], phrases[after + 1 : after + 3])]
    return replace(sentence, phrases=tuple(phrases))


def _said_of_both(wrong: list[Phrase], right: list[Phrase]) -> list[Phrase]:
    """ "2 tsp a lb salt, no sorry 1 tsp a lb", "2 tsp sage to the pound, no wait 1 1/2 tsp": what the wrong figure was
    said of and per, the right one is said of too, unless it has its own; wrong, right: what stands after each."""
    other = next((at for at, phrase in enumerate(right) if isinstance(phrase, _FIGURES)), len(right))
    own = right[:other]
    names = [] if _names(own) else _names(wrong)
    per = [] if any(isinstance(phrase, Per) for phrase in own) else [p for p in wrong if isinstance(p, Per)]
    return [*names, *per[:1]]


def rough_grams(measure: Measure) -> float:
    """A weight in grams, near enough to tell a patty from a batch."""
    factor = {"lb": 453.6, "oz": 28.35, "g": 1.0, "kg": 1000.0, "stone": 6350.0, "mg": 0.001}
    return float(measure.value) * factor.get(measure.unit, 1e9)
