"""What is made of a heap: how many a pound, how many of a size, and mince by its label out of several."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import data, units
from assistant.language.phrases import Amount, Count, CutName, Fatness, Patties, People, PerEach, Phrase, Scale, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import HEAVIEST_PATTY, is_cue, is_sep, is_whole, is_word

_TIMES = Pattern(r"(?:x|times|\u00d7)$")


def times_a_weight(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "3 x 1.25 lb of 80/20 and 1 lb of 93/7": three of the one, and not three times all of it."""
    for at in range(len(phrases) - 1):
        times, weight = phrases[at : at + 2]
        multiplied = isinstance(times, Scale) and _TIMES.search(times.text) is not None
        if not (multiplied and isinstance(times, Scale) and isinstance(weight, Amount) and _is_weight(weight)):
            continue
        following = next((p for p in phrases[at + 2 :] if not is_word(p, "of")), None)
        heavy = units.grams(weight.measure.value, weight.measure.unit) > HEAVIEST_PATTY
        if heavy or isinstance(following, Fatness):
            phrases[at : at + 2] = [_so_many_of(times.factor, weight, times.first, times.text)]
            return


def packs_of_a_label(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "3 packs of 80/20, 1.25 lb each" and "one 1 lb pack of 93/7": so much of each label, where there are two."""
    if sum(isinstance(phrase, Fatness) and phrase.ratio for phrase in phrases) < 2:
        return
    at = 0
    while at < len(phrases):
        shape = [p for p in phrases[at : at + 6] if not (is_sep(p, ",") or is_word(p, "of"))][:4]
        if len(shape) == 4 and _is_packs_each(shape):
            count, _, label, each = shape
            assert isinstance(count, Count) and isinstance(each, PerEach)
            last = phrases.index(each)
            phrases[at : last + 1] = [_so_many_of(count.value, each, count.first, f"{count.text} x"), label]
        elif at and is_cue(phrases[at], "pack") and (one := _one_pack(phrases[at - 1])) is not None:
            phrases[at - 1 : at + 1] = [one]
        at += 1


def _one_pack(phrase: Phrase) -> Amount | None:
    """ "1 lb" or "one 1 lb" before "pack of 93/7"."""
    if isinstance(phrase, Patties) and phrase.each is not None and (phrase.count is None or phrase.count.value == 1):
        return phrase.each
    return phrase if isinstance(phrase, Amount) and _is_weight(phrase) else None


def _is_packs_each(shape: list[Phrase]) -> bool:
    count, pack, label, each = shape
    labelled = is_cue(pack, "pack") and isinstance(label, Fatness) and label.ratio
    return is_whole(count) and labelled and isinstance(each, PerEach) and each.kind == "weight"


def _so_many_of(count: Fraction, one: Amount | PerEach, first: int, said: str) -> Amount:
    measure = replace(one.measure, value=one.measure.value * count)
    return Amount(first, one.last, f"{said} {one.text}", "weight", measure)


def so_much_more_than(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "A pound more chuck than round, five pounds altogether": the one and the other from their sum and difference."""
    cuts = [phrase for phrase in phrases if isinstance(phrase, CutName)]
    weights = [phrase for phrase in phrases if isinstance(phrase, Amount) and _is_weight(phrase)]
    if len(cuts) != 2 or len(weights) != 2:
        return
    for at in range(len(phrases) - 4):
        apart, more, first, than, second = phrases[at : at + 5]
        told = is_cue(more, "bigger") and is_cue(than, "as_much") and than.text.lower() == "than"
        if not (told and [first, second] == cuts and isinstance(apart, Amount) and apart in weights):
            continue
        whole = next(weight for weight in weights if weight is not apart)
        unit = whole.measure.unit
        difference = units.to(apart.measure.value, apart.measure.unit, unit)
        low = (whole.measure.value - difference) / 2
        if low > 0:
            much, little = (
                Amount(apart.first, apart.last, apart.text, "weight", replace(whole.measure, value=value))
                for value in (low + difference, low)
            )
            phrases[at : at + 5] = [much, first, Word(than.first, than.last, "and", "join", "and"), little, second]
        return


def rest_of_so_much(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Sirloin for the rest of 5 lb": the weight is that of all of it, and the cut makes up what is missing."""
    for at in range(len(phrases) - 3):
        cut, rest, of, weight = phrases[at : at + 4]
        if isinstance(cut, CutName) and is_cue(rest, "rest") and is_word(of, "of") and _is_weight(weight):
            comma = Word(of.first, of.last, ",", "sep", ",")
            total = Word(weight.last, weight.last, "total", "cue", "total")
            phrases[at : at + 4] = [rest, cut, comma, weight, total]
            return


def less_so_much(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5 lb less half a pound for meatballs": what is left of it."""
    for at in range(1, len(phrases) - 1):
        whole, less, off = phrases[at - 1 : at + 2]
        if not (is_cue(less, "smaller") and less.text.lower() == "less" and isinstance(whole, Amount)):
            continue
        part = off.each if isinstance(off, Patties) and off.count is None and " for " in off.text else off
        if not (isinstance(part, Amount) and _is_weight(whole) and _is_weight(part)):
            continue
        off_whole = units.to(part.measure.value, part.measure.unit, whole.measure.unit)
        if off_whole < whole.measure.value:
            measure = replace(whole.measure, value=whole.measure.value - off_whole)
            text = f"{whole.text} {less.text} {part.text}"
            phrases[at - 1 : at + 2] = [Amount(whole.first, off.last, text, "weight", measure)]
            return


def from_labels(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "6 lb from the 90/10 and 4 lb from 70/30": so much of each."""
    found = [at for at in range(len(phrases) - 2) if _is_from_a_label(phrases, at)]
    if len(found) > 1:
        for at in reversed(found):
            del phrases[at + 1]


def _is_from_a_label(phrases: list[Phrase], at: int) -> bool:
    weight, word, label = phrases[at : at + 3]
    return _is_weight(weight) and is_cue(word, "out_of") and isinstance(label, Fatness) and label.ratio


def so_many_wanted(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Patty size if I want 18 from 5 lb": eighteen patties, where nothing is said of fat and no cut is named."""
    if any(isinstance(phrase, CutName | Fatness) for phrase in phrases):
        return
    named = [p for p in sentence.of(Patties) if p.count is None and p.each is None]
    for at in range(1, len(phrases) - 2):
        want, count, of, weight = phrases[at - 1 : at + 3]
        counted = is_cue(want, "want") and is_whole(count) and is_cue(of, "out_of") and _is_weight(weight)
        if named and counted and isinstance(count, Count):
            phrases[at] = Patties(count.first, count.last, count.text, count)
            return


def so_many_a_pound(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "8 patties a pound from 6 lb": an eighth of a pound each."""
    weights = [p for p in sentence.of(Amount) if p.kind == "weight"]
    for at in range(len(phrases) - 1):
        many, pound = phrases[at : at + 2]
        several = isinstance(many, Patties) and many.count is not None and many.each is None
        one = isinstance(pound, Amount) and pound.text.lower().startswith(("a ", "an ")) and pound.measure.value == 1
        if several and one and isinstance(many, Patties) and isinstance(pound, Amount) and len(weights) > 1:
            assert many.count is not None
            each = replace(pound, measure=replace(pound.measure, value=Fraction(1) / many.count.value))
            phrases[at : at + 2] = [Patties(many.first, pound.last, many.text, None, each)]
            return


def how_many_of_a_size(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "2 kg mince makes how many 110 g": patties of that size."""
    for at in range(1, len(phrases)):
        asked, size = phrases[at - 1 : at + 1]
        last = at + 1 == len(phrases)
        before = [p for p in phrases[: at - 1] if isinstance(p, Amount) and p.kind == "weight"]
        if last and is_cue(asked, "how_many") and isinstance(size, Amount) and _is_weight(size) and before:
            grams = [units.grams(p.measure.value, p.measure.unit) for p in (size, *before)]
            if grams[0] <= HEAVIEST_PATTY and grams[0] * 2 <= min(grams[1:]):
                phrases[at] = Patties(size.first, size.last, size.text, None, size)


def the_other_to_get(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "10 lb chuck roast, suet to get 80/20": how much of the other goes with all of the first."""
    shape = [phrase for phrase in phrases if not is_word(phrase, "of")]
    if len(shape) != 6 or not (_is_weight(shape[0]) and isinstance(shape[1], CutName) and is_sep(shape[2], ",")):
        return
    other, get, target = shape[3:]
    led = is_cue(get, "want", "make_it") and get.text.lower().startswith("to ")
    if isinstance(other, CutName) and led and isinstance(target, Fatness):
        phrases.insert(phrases.index(other), Word(other.first, other.first, "how much", "cue", "how_much"))


def as_many_as_buns(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Got 18 buns and 4.5 lb, how big": a patty for each of them, where nothing else is counted."""
    if any(isinstance(phrase, Patties | People) or is_cue(phrase, "pack", "how_many") for phrase in phrases):
        return
    for at in range(1, len(phrases)):
        count, bun = phrases[at - 1 : at + 1]
        if is_whole(count) and isinstance(count, Count) and is_cue(bun, "bun") and bun.text.lower() in _BUNS:
            phrases[at - 1 : at + 1] = [Patties(count.first, bun.last, f"{count.text} {bun.text}", count)]
            return


_BUNS = ("buns", "rolls", "baps")


def pieces_of_one_weight(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "4 chuck roasts about 2.5 lb each": what all of them weigh."""
    for at in range(len(phrases) - 2):
        count, cut, each = phrases[at : at + 3]
        several = isinstance(cut, CutName) and cut.text.lower().endswith("s") and is_whole(count)
        weighed = isinstance(each, PerEach) and each.kind == "weight"
        if not (several and weighed and isinstance(count, Count) and isinstance(each, PerEach)):
            continue
        if units.grams(each.measure.value, each.measure.unit) <= HEAVIEST_PATTY:
            continue
        measure = replace(each.measure, value=each.measure.value * count.value)
        weight = Amount(count.first, count.last, f"{count.text} x {each.text}", "weight", measure)
        phrases[at : at + 3] = [weight, cut]
        return


def what_is_left_of_it(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "12 lb brisket, lose 25% trimming, how much ground beef do I get": what it makes, and no other meat."""
    cuts = sentence.of(CutName)
    if len(cuts) != 2 or not sentence.has("lose", "trim_loss"):
        return
    rows = [data.cuts()[key] for key in cuts[1].keys if key in data.cuts()]
    ground = bool(rows) and all(row.kind == "ground" for row in rows)
    at = phrases.index(cuts[1]) if cuts[1] in phrases else 0
    if ground and at and is_cue(phrases[at - 1], "how_much"):
        del phrases[at]


def _is_weight(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind == "weight"
