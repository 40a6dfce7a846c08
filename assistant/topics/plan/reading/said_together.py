"""Phrases that say one thing between them: a pound for three people, adults 55, a crew of 8, "25 brisket" after "40% chuck"."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TypeGuard

from msgspec.structs import replace

from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Fatness,
    Patties,
    People,
    PerEach,
    Phrase,
    Rate,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern

_FEEDS = Pattern(
    r"^\s*(?:of (?:meat|mince|beef|burger))?\s*(?:for|to|per|feeds?|does|serves?|between)( every| each)?\s*$"
)
_TO_A = Pattern(r"^\s*(?:to|per|from|out of|on|for)( every| each)?\s*$")
_OTHERS = Pattern(r"\s+(other(s| people)|grown[- ]?ups)\b", re.IGNORECASE)
_AT_ONE_TABLE = 4
"""More people than that are a crowd, for whom a weight is said whole. A choice."""


def said_together(sentence: Sentence) -> Sentence:
    """The sentence with such phrases made one."""
    phrases = list(sentence.phrases)
    for join in (
        _shared,
        _crew,
        _counted_after,
        _others,
        _so_many,
        _spoken_price,
        _in_the_unit_before,
        _of_each_size,
        _one_of_them_scaled,
        _colons,
        _taken_from,
        _raised,
        _mix_of_a_kind,
        _mix_of_two,
        _against_a_label,
        _share_of_the_batch,
    ):
        join(phrases, sentence)
    joined = tuple(phrases)
    return sentence if joined == sentence.phrases else replace(sentence, phrases=joined)


def _shared(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "A pound of meat for every three people", "3 people to a pound": so much for each, where the guests are counted
    besides."""
    if sum(isinstance(phrase, People) and phrase.count is not None for phrase in phrases) < 2:
        return
    for at in range(len(phrases) - 1):
        meat = next((p for p in (at + 1, at + 2) if p < len(phrases) and not _is_of_meat(phrases[p])), at + 1)
        first, second = phrases[at], phrases[meat]
        led = isinstance(first, Amount)
        amount, people = (first, second) if led else (second, first)
        if not (isinstance(amount, Amount) and isinstance(people, People) and amount.kind == "weight"):
            continue
        gap = sentence.text[phrases[meat - 1].last : second.first].lower()
        said = _FEEDS if led else _TO_A
        if people.count is None or people.count.value <= 1 or people.count.high or not said.match(gap):
            continue
        if "every" not in gap and "each" not in gap and people.count.value > _AT_ONE_TABLE:
            # "5 lb for 12 people and 3 kids": the meat for all of them
            continue
        each = replace(amount.measure, value=amount.measure.value / people.count.value)
        text = sentence.text[first.first : second.last]
        phrases[at : meat + 1] = [PerEach(first.first, second.last, text, "weight", each)]
        return


def _is_of_meat(phrase: Phrase) -> bool:
    return isinstance(phrase, Word) and phrase.payload in ("meat_only", "mix")


def _crew(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "For a crew of 8": so many people."""
    for at in range(len(phrases) - 2):
        crew, of, count = phrases[at : at + 3]
        named = isinstance(crew, Word) and crew.payload == "per_table" and crew.text.lower().startswith("a ")
        joined = _is_word(of, "of")
        if named and joined and isinstance(count, Count) and count.value.denominator == 1 and not count.proportion:
            phrases[at : at + 3] = [People(crew.first, count.last, f"{count.text} {crew.text}", "person", count)]
            return


def _counted_after(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Adults 55, kids 25", "adults: 55": the number after the word, in a list where none stands before it."""
    heads = [at for at, phrase in enumerate(phrases) if isinstance(phrase, People)]
    if not heads or any(phrases[at].count is not None for at in heads):  # type: ignore[attr-defined]
        return
    for at in reversed(heads):
        people = phrases[at]
        colon = at + 1 < len(phrases) and _is_sep(phrases[at + 1], ":")
        figure = at + 2 if colon else at + 1
        count = phrases[figure] if figure < len(phrases) else None
        if _is_whole(count) and _ends_at(phrases, figure) and isinstance(people, People):
            merged = People(people.first, count.last, f"{count.text} {people.text}", people.sort, count)
            phrases[at : figure + 1] = [merged]


def _others(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "18 kids on 3 oz, 40 others on 6 oz": more people, after some that were counted."""
    for at, count in enumerate(phrases):
        said = _OTHERS.match(sentence.text[count.last :]) if _is_whole(count) else None
        counted = any(isinstance(phrase, People) and phrase.count is not None for phrase in phrases[:at])
        if said is not None and counted and isinstance(count, Count):
            phrases[at] = People(
                count.first, count.last + said.end(), count.text + said.group().lower(), "person", count
            )


def _so_many(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "What's each burger if I make 10": the number is of the patties named before it."""
    bare = any(isinstance(phrase, Patties) and phrase.count is None and phrase.each is None for phrase in phrases)
    for at in range(1, len(phrases)):
        make, count = phrases[at - 1 : at + 1]
        made = isinstance(make, Word) and make.payload == "into" and make.text.lower() in ("make", "i make", "made")
        if (
            bare
            and made
            and _ends_at(phrases, at)
            and isinstance(count, Count)
            and not count.piece
            and not count.proportion
        ):
            phrases[at] = Patties(count.first, count.last, count.text, count)


def _spoken_price(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Six fifty a pound", "six dollars fifty a pound": whole money and its hundredths, as they are spoken."""
    for at in range(len(phrases) - 1):
        whole, rest = phrases[at : at + 2]
        if not (isinstance(rest, Rate) and rest.text[:1].isalpha() and 10 <= rest.measure.value < 100):
            continue
        apart = sentence.text[whole.last : rest.first].strip()
        spoken = isinstance(whole, Count) and not whole.piece and whole.high is None and not whole.proportion
        money = isinstance(whole, Amount) and whole.kind == "money"
        if apart or rest.kind != "money" or not whole.text[:1].isalpha() or not (spoken or money):
            continue
        value = whole.measure.value if isinstance(whole, Amount) else whole.value  # type: ignore[attr-defined]
        if value.denominator == 1 and 0 < value < 100:
            unit = whole.measure.unit if isinstance(whole, Amount) else rest.measure.unit
            measure = replace(rest.measure, value=value + rest.measure.value / 100, unit=unit)
            text = sentence.text[whole.first : rest.last]
            phrases[at : at + 2] = [replace(rest, first=whole.first, text=text, measure=measure)]
            return


def _in_the_unit_before(phrases: list[Phrase], _sentence: Sentence) -> None:
    """A bare number in the unit of the figure before it: "salt 15 g a kilo, mace 0.8", "40% chuck, 25 brisket",
    "10 lb and my bowl only takes 4", "6 oz raw came off the grill 4.5"."""
    for at in range(2, len(phrases)):
        count = phrases[at]
        if not isinstance(count, Count) or count.piece or count.proportion or count.high is not None:
            continue
        figure = _figure_alike(phrases, at)
        if figure is not None:
            measure = replace(figure.measure, value=count.value)
            phrases[at] = replace(figure, first=count.first, last=count.last, text=count.text, measure=measure)


def _figure_alike(phrases: list[Phrase], at: int) -> Amount | Rate | None:
    """The figure whose unit the bare number at a place is in."""
    before, after = phrases[at - 1], phrases[at + 1] if at + 1 < len(phrases) else None
    earlier = [phrase for phrase in phrases[:at] if isinstance(phrase, Amount | Rate)]
    last = earlier[-1] if earlier else None
    ends = _ends_at(phrases, at)
    if isinstance(before, SeasoningName) and isinstance(last, Rate) and ends:
        named = phrases[phrases.index(last) - 1]
        return last if last.kind == "weight" and isinstance(named, SeasoningName) else None
    if isinstance(after, CutName) and isinstance(last, Amount) and last.kind == "percent" and _is_sep(before, ","):
        shared = any(isinstance(phrase, Word) and phrase.payload == "rest" for phrase in phrases)
        return last if shared and isinstance(phrases[phrases.index(last) + 1], CutName) else None
    weighed = isinstance(last, Amount) and last.kind == "weight" and ends
    held = isinstance(before, Word) and before.payload == "bowl"
    cooked = isinstance(before, Word) and before.payload == "cooked" and _is_cue(phrases[at - 2], "raw")
    return last if weighed and isinstance(last, Amount) and (held or cooked) else None


def _of_each_size(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "How many would that do at 120 g?": a weight for each of what is counted, where nothing else is."""
    end = len(phrases) - (1 if phrases and _is_sep(phrases[-1], ".") else 0)
    if end < 3 or not sentence.has("how_many") or any(isinstance(phrase, Patties) for phrase in phrases):
        return
    that, at, size = phrases[end - 3 : end]
    led = _is_cue(that, "this") and _is_word(at, "at")
    if led and isinstance(size, Amount) and size.kind == "weight":
        phrases[end - 1] = Patties(size.first, size.last, size.text, None, size)


_TIMES = {"halve": Fraction(1, 2), "double": Fraction(2), "triple": Fraction(3)}


def _one_of_them_scaled(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Halve the salt, leave the rest: 18 g salt, 4 g pepper": the one that is named changes, and no other."""
    for at in range(len(phrases) - 3):
        by, what = phrases[at : at + 2]
        if not (isinstance(by, Word) and by.payload in _TIMES and isinstance(what, SeasoningName)):
            continue
        for figure in range(at + 2, len(phrases) - 1):
            amount, name = phrases[figure : figure + 2]
            if isinstance(name, SeasoningName) and name.name == what.name and isinstance(amount, Amount):
                measure = replace(amount.measure, value=amount.measure.value * _TIMES[by.payload])
                phrases[figure] = replace(amount, measure=measure)
                told = at + 2
                while told < figure and isinstance(phrases[told], Word):
                    told += 1
                del phrases[at - 1 if at and _is_word(phrases[at - 1], "bound", "only") else at : told]
                return


def _colons(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5:3:2 chuck:brisket:short rib": a colon between two meats parts them as a comma does."""
    for at in range(1, len(phrases) - 1):
        if _is_sep(phrases[at], ":") and isinstance(phrases[at - 1], CutName) and isinstance(phrases[at + 1], CutName):
            phrases[at] = replace(phrases[at], payload=",")


def _taken_from(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "5 kg less 32 patties of 140 g: what is left over?": so many are made, and the rest is asked for."""
    for at in range(1, len(phrases) - 1):
        less, patties = phrases[at : at + 2]
        taken = _is_cue(less, "smaller") and less.text.lower() in ("less", "minus", "take away")
        made = isinstance(patties, Patties) and patties.count is not None
        if taken and made and isinstance(phrases[at - 1], Amount) and sentence.has("leftover"):
            del phrases[at]
            return


_RAISES = Pattern(r"\b(takes?|brings?|gets?|want|raises?|lifts?|push|bump|comes?)\b[^.;?!]*$")


def _raised(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "How much suet takes 900 g of 6% beef up to 18?": where it is to go, and no limit."""
    fats = [phrase for phrase in phrases if isinstance(phrase, Fatness) or _is_percent(phrase)]
    for at, phrase in enumerate(phrases):
        up = phrase.text.lower().startswith("up to ") and _RAISES.search(sentence.text[: phrase.first].lower())
        bare = isinstance(phrase, Count) and not phrase.piece and phrase.high is None and 3 <= phrase.value <= 60
        if up and bare and isinstance(phrase, Count) and fats:
            phrases[at] = Fatness(phrase.first, phrase.last, phrase.text, phrase.value)


_KINDS = frozenset(("beef", "pork", "lamb", "mutton", "veal", "venison", "turkey", "chicken", "game"))


def _mix_of_a_kind(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5 kg pork mix … belly 50%, shoulder 20%": the kind of the mix, where the cuts of it are named besides."""
    cuts = [phrase for phrase in phrases if isinstance(phrase, CutName) and phrase.text.lower() not in _KINDS]
    for at in range(len(phrases) - 2):
        weight, kind, mix = phrases[at : at + 3]
        named = isinstance(kind, CutName) and kind.text.lower() in _KINDS and len(cuts) > 1
        if named and _is_cue(mix, "mix") and isinstance(weight, Amount) and weight.kind == "weight":
            del phrases[at + 1]
            return


def _mix_of_two(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "I got ten pounds of deer and pork mix at thirty percent, how much deer do I add": ground already, and told by its
    one figure; wanted, it would be made of the two."""
    if not sentence.has("add", "too_fat", "too_lean"):
        return
    for at in range(len(phrases) - 6):
        weight, of, first, both, second, mix = phrases[at : at + 6]
        link = phrases[at + 6]
        after = at + 7 if _is_word(link, "at") else at + 6
        fat = phrases[after] if after < len(phrases) else None
        cuts = isinstance(first, CutName) and isinstance(second, CutName) and _is_cue(mix, "mix")
        joined = _is_word(of, "of") and _is_word(both, "join")
        told = fat is not None and (isinstance(fat, Fatness) or _is_percent(fat))
        more = any(isinstance(phrase, CutName) for phrase in phrases[after:])
        if cuts and joined and told and more and isinstance(weight, Amount) and weight.kind == "weight":
            del phrases[at + 1 : at + 5]
            return


def _against_a_label(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "3 lb sirloin plus 1 lb suet, is that fattier than 75/25 or leaner": what it is made of is asked; the label is
    what to hold it against, and no wish."""
    for at in range(1, len(phrases) - 2):
        that, side, than, label = phrases[at - 1 : at + 3]
        asked = _is_cue(that, "this") and _is_cue(side, "fattier", "leaner") and than.text.lower() == "than"
        if asked and isinstance(label, Fatness) and label.ratio:
            end = at + 4 if at + 3 < len(phrases) and _is_cue(phrases[at + 3], "fattier", "leaner") else at + 3
            phrases[at - 1 : end] = [Word(that.first, label.last, "how fat", "cue", "composition")]
            return


def _share_of_the_batch(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "At least 30% of the 3 kg should be shin": the batch, and a share of it."""
    for at in range(len(phrases) - 4):
        share, of, weight, be, cut = phrases[at : at + 5]
        whole = isinstance(weight, Amount) and weight.kind == "weight" and _is_percent(share)
        joined = _is_word(of, "of") and _is_cue(be, "want", "must_be")
        if whole and joined and isinstance(cut, CutName):
            comma = Word(of.first, of.last, of.text, "sep", ",")
            phrases[at : at + 4] = [weight, comma, share]
            return


def _ends_at(phrases: list[Phrase], at: int) -> bool:
    """Whether a list or a sentence goes no further after a place."""
    return at + 1 >= len(phrases) or _is_sep(phrases[at + 1], ",", ".", ";")


def _is_whole(phrase: Phrase | None) -> TypeGuard[Count]:
    plain = isinstance(phrase, Count) and not phrase.piece and not phrase.proportion
    return plain and isinstance(phrase, Count) and phrase.value.denominator == 1


def _is_percent(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind == "percent"


def _is_word(phrase: Phrase, kind: str, *payloads: str) -> bool:
    return isinstance(phrase, Word) and phrase.kind == kind and (not payloads or phrase.payload in payloads)


def _is_cue(phrase: Phrase, *names: str) -> bool:
    return _is_word(phrase, "cue", *names)


def _is_sep(phrase: Phrase, *signs: str) -> bool:
    return _is_word(phrase, "sep", *signs)
