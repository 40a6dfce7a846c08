"""A mix told by two phrases: its kind beside its cuts, a label that it is held against, a share of a batch."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Bound,
    Count,
    CutName,
    Fatness,
    Measure,
    Parts,
    Phrase,
    Rate,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_sep, is_whole, is_word


def colons(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5:3:2 chuck:brisket:short rib": a colon between two meats parts them as a comma does."""
    for at in range(1, len(phrases) - 1):
        if is_sep(phrases[at], ":") and isinstance(phrases[at - 1], CutName) and isinstance(phrases[at + 1], CutName):
            phrases[at] = replace(phrases[at], payload=",")


_RAISES = Pattern(r"\b(takes?|brings?|gets?|want|raises?|lifts?|push|bump|comes?)\b[^.;?!]*$")


def raised(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "How much suet takes 900 g of 6% beef up to 18?": where it is to go, and no limit."""
    fats = [phrase for phrase in phrases if isinstance(phrase, Fatness) or is_percent(phrase)]
    for at, phrase in enumerate(phrases):
        up = phrase.text.lower().startswith("up to ") and _RAISES.search(sentence.text[: phrase.first].lower())
        bare = isinstance(phrase, Count) and not phrase.piece and phrase.high is None and 3 <= phrase.value <= 60
        if up and bare and isinstance(phrase, Count) and fats:
            phrases[at] = Fatness(phrase.first, phrase.last, phrase.text, phrase.value)


KINDS = frozenset(("beef", "pork", "lamb", "mutton", "veal", "venison", "turkey", "chicken", "game"))


def mix_of_a_kind(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5 kg pork mix … belly 50%, shoulder 20%": the kind of the mix, where the cuts of it are named besides."""
    cuts = [phrase for phrase in phrases if isinstance(phrase, CutName) and phrase.text.lower() not in KINDS]
    for at in range(len(phrases) - 2):
        weight, kind, mix = phrases[at : at + 3]
        named = isinstance(kind, CutName) and kind.text.lower() in KINDS and len(cuts) > 1
        if named and is_cue(mix, "mix") and isinstance(weight, Amount) and weight.kind == "weight":
            del phrases[at + 1]
            return


def mix_of_two(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "I got ten pounds of deer and pork mix at thirty percent, how much deer do I add": ground already, and told by its
    one figure; wanted, it would be made of the two."""
    if not sentence.has("add", "too_fat", "too_lean"):
        return
    for at in range(len(phrases) - 6):
        weight, of, first, both, second, mix = phrases[at : at + 6]
        link = phrases[at + 6]
        after = at + 7 if is_word(link, "at") else at + 6
        fat = phrases[after] if after < len(phrases) else None
        cuts = isinstance(first, CutName) and isinstance(second, CutName) and is_cue(mix, "mix")
        joined = is_word(of, "of") and is_word(both, "join")
        told = fat is not None and (isinstance(fat, Fatness) or is_percent(fat))
        more = any(isinstance(phrase, CutName) for phrase in phrases[after:])
        if cuts and joined and told and more and isinstance(weight, Amount) and weight.kind == "weight":
            del phrases[at + 1 : at + 5]
            return


def against_a_label(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "3 lb sirloin plus 1 lb suet, is that fattier than 75/25 or leaner": what it is made of is asked; the label is
    what to hold it against, and no wish."""
    for at in range(1, len(phrases) - 2):
        that, side, than, label = phrases[at - 1 : at + 3]
        asked = is_cue(that, "this") and is_cue(side, "fattier", "leaner") and than.text.lower() == "than"
        if asked and isinstance(label, Fatness) and label.ratio:
            end = at + 4 if at + 3 < len(phrases) and is_cue(phrases[at + 3], "fattier", "leaner") else at + 3
            phrases[at - 1 : end] = [Word(that.first, label.last, "how fat", "cue", "composition")]
            return


def share_of_the_batch(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "At least 30% of the 3 kg should be shin": the batch, and a share of it."""
    for at in range(len(phrases) - 4):
        share, of, weight, be, cut = phrases[at : at + 5]
        whole = isinstance(weight, Amount) and weight.kind == "weight" and is_percent(share)
        joined = is_word(of, "of") and is_cue(be, "want", "must_be")
        if whole and joined and isinstance(cut, CutName):
            comma = Word(of.first, of.last, of.text, "sep", ",")
            phrases[at : at + 4] = [weight, comma, share]
            return


def so_many_of_each(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "One of brisket, two of chuck, 6 lb": parts."""
    places = [
        at
        for at in range(len(phrases) - 2)
        if is_whole(phrases[at]) and is_word(phrases[at + 1], "of") and isinstance(phrases[at + 2], CutName)
    ]
    if len(places) < 2 or len(places) != sum(isinstance(phrase, CutName) for phrase in phrases):
        return
    for at in reversed(places):
        count = phrases[at]
        if isinstance(count, Count):
            phrases[at : at + 2] = [Parts(count.first, count.last, count.text, count.value)]


_BIRDS = frozenset(
    ("chicken", "turkey", "duck", "goose", "pheasant", "rabbit", "hare", "lamb", "deer", "animal", "hog", "pig")
)


def whole_piece(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Whole rump 4 kg": a piece as the butcher cuts it. A whole animal is more than its meat, and stays asked about."""
    for at in range(len(phrases) - 1):
        whole, cut = phrases[at : at + 2]
        named = isinstance(cut, CutName) and not _BIRDS & set(cut.text.lower().split())
        if is_word(whole, "unknown") and whole.text.lower() == "whole" and named:
            del phrases[at]
            return


def fat_after_the_price(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Rump £9 a kilo fat 3%, suet …, 5 kg at 80/20": how fat the cut is whose price was just said."""
    wanted = any(isinstance(phrase, Fatness) and phrase.ratio for phrase in phrases)
    for at in range(len(phrases) - 4, -1, -1):
        cut, price, side, fat = phrases[at : at + 4]
        priced = isinstance(cut, CutName) and isinstance(price, Rate) and price.kind == "money"
        if wanted and priced and is_word(side, "side", "fat") and is_percent(fat):
            phrases[at : at + 4] = [cut, fat, price]


_MORE_THAN_HALF = ("mostly", "mainly", "largely")


def mostly(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Mostly chuck, some short rib": half of it at least, which the answer says back."""
    for at in range(len(phrases) - 1):
        word, cut = phrases[at : at + 2]
        if is_word(word, "unknown") and word.text.lower() in _MORE_THAN_HALF and isinstance(cut, CutName):
            half = Measure(Fraction(50), "percent")
            phrases[at] = Amount(word.first, word.last, word.text, "percent", half, Bound.LEAST)


def listed_without_commas(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "2 lb chuck 18 percent 1 lb brisket 22 percent half lb bacon 40 percent": a meat begins with each weight."""
    for at in range(len(phrases) - 2, 1, -1):
        fat, weight, cut = phrases[at - 1 : at + 2]
        told = isinstance(fat, Fatness) or is_percent(fat)
        weighed = isinstance(weight, Amount) and weight.kind == "weight" and isinstance(cut, CutName)
        if told and weighed and _is_weighed_before(phrases, at - 1):
            phrases[at:at] = [Word(weight.first, weight.first, ",", "sep", ",")]


def _is_weighed_before(phrases: list[Phrase], fat: int) -> bool:
    """Whether the cut whose fat stands at a place has its weight before its name."""
    cut = fat - 2 if is_word(phrases[fat - 1], "at") else fat - 1
    of = cut - 1 if cut > 0 and is_word(phrases[cut - 1], "of") else cut
    weight = phrases[of - 1] if of > 0 else None
    return isinstance(phrases[cut], CutName) and isinstance(weight, Amount) and weight.kind == "weight"
