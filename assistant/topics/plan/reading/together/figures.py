"""Figures said by two phrases: six fifty a pound, a bare number in the unit of the one before it, so many at 120 g."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
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
from assistant.topics.plan.reading.together.shapes import HEAVIEST_PATTY, ends_at, is_cue, is_sep, is_whole, is_word


def so_many(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "What's each burger if I make 10": the number is of the patties named before it."""
    bare = any(isinstance(phrase, Patties) and phrase.count is None and phrase.each is None for phrase in phrases)
    for at in range(1, len(phrases)):
        make, count = phrases[at - 1 : at + 1]
        made = isinstance(make, Word) and make.payload == "into" and make.text.lower() in ("make", "i make", "made")
        if (
            bare
            and made
            and ends_at(phrases, at)
            and isinstance(count, Count)
            and not count.piece
            and not count.proportion
        ):
            phrases[at] = Patties(count.first, count.last, count.text, count)


def spoken_price(phrases: list[Phrase], sentence: Sentence) -> None:
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


def in_the_unit_before(phrases: list[Phrase], _sentence: Sentence) -> None:
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


def _is_of_a_mix(phrases: list[Phrase], at: int) -> bool:
    """ "5 tsp salt for 4 lb, do it for 11", "recipe is for 10 lb, I have 6.3": the weight it is written for, and the
    weight it is wanted for, where nobody who eats is named."""
    if any(isinstance(phrase, Patties | People) for phrase in phrases):
        return False
    written = any(isinstance(phrase, SeasoningName) for phrase in phrases[:at])
    asked = is_cue(phrases[at - 1], "how_much", "this", "make_it", "have", "want")
    return asked and (written or any(is_cue(phrase, "recipe_for") for phrase in phrases[:at]))


def _figure_alike(phrases: list[Phrase], at: int) -> Amount | Rate | None:
    """The figure whose unit the bare number at a place is in."""
    before, after = phrases[at - 1], phrases[at + 1] if at + 1 < len(phrases) else None
    earlier = [phrase for phrase in phrases[:at] if isinstance(phrase, Amount | Rate)]
    last = earlier[-1] if earlier else None
    ends = ends_at(phrases, at)
    if isinstance(before, SeasoningName) and isinstance(last, Rate) and ends:
        named = phrases[phrases.index(last) - 1]
        return last if last.kind == "weight" and isinstance(named, SeasoningName) else None
    if isinstance(after, CutName) and isinstance(last, Amount) and last.kind == "percent" and is_sep(before, ","):
        shared = any(isinstance(phrase, Word) and phrase.payload == "rest" for phrase in phrases)
        return last if shared and isinstance(phrases[phrases.index(last) + 1], CutName) else None
    weighed = isinstance(last, Amount) and last.kind == "weight" and ends
    if weighed and isinstance(last, Amount) and _is_of_a_mix(phrases, at):
        return last
    held = isinstance(before, Word) and before.payload == "bowl"
    cooked = isinstance(before, Word) and before.payload == "cooked" and is_cue(phrases[at - 2], "raw")
    return last if weighed and isinstance(last, Amount) and (held or cooked) else None


def of_each_size(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "How many would that do at 120 g?": a weight for each of what is counted, where nothing else is."""
    end = len(phrases) - (1 if phrases and is_sep(phrases[-1], ".") else 0)
    if end < 3 or not sentence.has("how_many") or any(isinstance(phrase, Patties) for phrase in phrases):
        return
    that, at, size = phrases[end - 3 : end]
    led = is_cue(that, "this") and is_word(at, "at")
    if led and isinstance(size, Amount) and size.kind == "weight":
        phrases[end - 1] = Patties(size.first, size.last, size.text, None, size)


_TIMES = {"halve": Fraction(1, 2), "double": Fraction(2), "triple": Fraction(3)}


def one_of_them_scaled(phrases: list[Phrase], _sentence: Sentence) -> None:
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
                del phrases[at - 1 if at and is_word(phrases[at - 1], "bound", "only") else at : told]
                return


def taken_from(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "5 kg less 32 patties of 140 g: what is left over?": so many are made, and the rest is asked for."""
    for at in range(1, len(phrases) - 1):
        less, patties = phrases[at : at + 2]
        taken = is_cue(less, "smaller") and less.text.lower() in ("less", "minus", "take away")
        made = isinstance(patties, Patties) and patties.count is not None
        if taken and made and isinstance(phrases[at - 1], Amount) and sentence.has("leftover"):
            del phrases[at]
            return


def equal_patties(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "12 equal patties from 2 kg", "12 same-size pork patties": so many patties, which are always made alike."""
    for at in range(len(phrases) - 2):
        after = at + 1
        while after < len(phrases) and _says_alike(phrases[after]):
            after += 1
        cut = phrases[after : after + 1] if after < len(phrases) and isinstance(phrases[after], CutName) else []
        last = after + len(cut)
        count, patties = phrases[at], phrases[last] if last < len(phrases) else None
        alone = isinstance(patties, Patties) and patties.count is None
        if is_whole(count) and after > at + 1 and alone and isinstance(patties, Patties):
            text = f"{count.text} {patties.text}"
            made = Patties(count.first, patties.last, text, count, patties.each)
            phrases[at : after + len(cut) + 1] = [made, *cut]
            return


def _says_alike(phrase: Phrase) -> bool:
    """ "equal", "same-size"."""
    said = phrase.text.lower()
    return (
        is_cue(phrase, "equal") or (is_cue(phrase, "same_again") and said == "same") or said in ("-", "size", "sized")
    )


def to_the_pound(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "How many 5 oz to the pound", "how many 4 oz burgers to a pound": patties of that size out of that weight."""
    if not sentence.has("how_many"):
        return
    for at, phrase in enumerate(phrases):
        before = phrases[at - 1] if at else None
        if isinstance(phrase, Per) and isinstance(before, Patties) and before.each is not None:
            phrases[at] = Amount(phrase.first, phrase.last, phrase.text, "weight", phrase.per)
            return
        if isinstance(phrase, Rate) and phrase.kind == "weight" and before is not None and is_cue(before, "how_many"):
            size = Amount(phrase.first, phrase.last, phrase.text, "weight", phrase.measure)
            each = Patties(phrase.first, phrase.last, phrase.text, None, size)
            phrases[at : at + 1] = [each, Amount(phrase.last, phrase.last, phrase.text, "weight", phrase.per)]
            return


_DOUBLED = {"double": Fraction(2), "doubles": Fraction(2), "triple": Fraction(3)}


def batches(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "3 batches of 4 lb", "two lots of 2 kg", "a double batch of 3 lb": what all of them weigh."""
    for at in range(len(phrases) - 2):
        times, word, *rest = phrases[at : at + 4]
        of = bool(rest) and is_word(rest[0], "of")
        weight = rest[1] if of and len(rest) > 1 else rest[0]
        if not (isinstance(weight, Amount) and weight.kind == "weight") or not _stands_for_all(
            phrases, weight, sentence
        ):
            continue
        several = is_whole(times) and is_cue(word, "batches", "plenty") and "of" in word.text.lower()
        doubled = is_cue(times, *_DOUBLED) and is_cue(word, "mix", "batches") and word.text.lower().startswith("batch")
        if several or doubled:
            factor = times.value if isinstance(times, Count) else _DOUBLED[times.payload]  # type: ignore[attr-defined]
            measure = replace(weight.measure, value=weight.measure.value * factor)
            text = sentence.text[times.first : weight.last]
            end = phrases.index(weight) + 1
            phrases[at:end] = [replace(weight, first=times.first, text=text, measure=measure)]
            return


def _stands_for_all(phrases: list[Phrase], weight: Amount, sentence: Sentence) -> bool:
    """Whether no other weight is what the batches come out of ("12 lb in 3 batches of 4 lb")."""
    others = [p for p in phrases if isinstance(p, Amount) and p.kind == "weight" and p is not weight]
    return not others or sentence.has("have")


_GONE = ("bin", "binned", "trash", "garbage", "waste", "away", "out", "tossed")


def went_away(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "900 g of fat off it went in the bin": lost, as in "trimmed off 900 g"."""
    for at, gone in enumerate(phrases):
        if not (is_cue(gone, "lose") and gone.text.lower().split()[-1] in _GONE):
            continue
        start = at - 1
        while start >= 0 and _tells_what_went(phrases[start]):
            start -= 1
        amount = phrases[start] if start >= 0 else None
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if isinstance(amount, Amount) and amount.kind == "weight" and not isinstance(after, Amount):
            phrases[start : at + 1] = [gone, *phrases[start:at]]
            return


def _tells_what_went(phrase: Phrase) -> bool:
    return is_word(phrase, "of") or is_word(phrase, "side") or (is_cue(phrase, "safe", "this") and len(phrase.text) < 5)


_DOES = Pattern(r"\b(?:i|we|you|they|to|and|after|when|i'll|we'll|ill)\s*$")
_OF_IT = Pattern(r"^(?:'s|’s| is| takes| off| comes to| runs| costs me)\b")


def trimming(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "The rump loses 18% when I trim it", "trim's 12% on brisket": what is done to meat, or comes off it; no meat."""
    text = sentence.text.lower()
    for at, trim in enumerate(phrases):
        name = trim.text.lower().replace("’", "'")
        if not (isinstance(trim, CutName) and name in ("trim", "trim's")):
            continue
        after = name.removeprefix("trim") + text[trim.last :]
        done = _DOES.search(text[: trim.first]) and after[:4].strip() in ("it", "it.", "it,", "off", "the", "them", "")
        figure = phrases[at + 1] if at + 1 < len(phrases) else None
        share = isinstance(figure, Amount) and figure.kind == "percent"
        lost = (
            share
            and _OF_IT.match(after)
            and figure is not None
            and text[figure.last :].startswith((" on", " of", " off"))
        )
        if done or lost:
            phrases[at] = Word(trim.first, trim.last, trim.text, "cue", "trim_loss")


def at_the_next_size(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "20 sliders @ 3 oz plus 4 kid ones @ 2": so many more, in the unit of the size before."""
    for at in range(5, len(phrases)):
        ones, link, size = phrases[at - 2 : at + 1]
        led = sentence.text[ones.last : link.first].lower().strip() == "ones"
        if not (led and isinstance(ones, People) and ones.count is not None and is_word(link, "at")):
            continue
        before = [phrase for phrase in phrases[: at - 2] if isinstance(phrase, Amount) and phrase.kind == "weight"]
        if is_whole(size) and before:
            measure = replace(before[-1].measure, value=size.value)
            phrases[at] = Amount(size.first, size.last, size.text, "weight", measure)
        phrases[at - 2] = Patties(ones.first, ones.last, ones.text, ones.count)
        return


def after_a_loss(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "After an 8% trimming loss": what is lost; when, changes nothing."""
    for at in range(len(phrases) - 1):
        after, share = phrases[at : at + 2]
        led = is_word(after, "unknown") and after.text.lower() == "after"
        if led and isinstance(share, Amount) and sentence.has("lose", "trim_loss"):
            del phrases[at]
            return


def clean_weight(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "My grinder eats 3 oz, I want 5 lb clean": what is to come out of it, and nothing is washed."""
    for at in range(len(phrases) - 1):
        weight, clean = phrases[at : at + 2]
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if weighed and is_cue(clean, "clean") and clean.text.lower() == "clean" and sentence.has("lose", "trim_loss"):
            del phrases[at + 1]
            return


def wished_after(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Fifteen kilos is what I'm after": as in "I'm after fifteen kilos"."""
    for at in range(len(phrases) - 2):
        weight, what, want = phrases[at : at + 3]
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if weighed and is_cue(what, "what") and what.text.lower() == "what" and is_cue(want, "want"):
            phrases[at : at + 3] = [want, weight]
            return


def held_at_once(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "The grill holds 18 burgers, 100 burgers": how many go on at once, beside how many there are."""
    counted = [phrase for phrase in phrases if isinstance(phrase, Patties) and phrase.count is not None]
    for at in range(1, len(phrases)):
        burgers = phrases[at]
        held = isinstance(burgers, Patties) and burgers.count is not None and burgers.each is None and len(counted) > 1
        if held and is_cue(phrases[at - 1], "bowl") and isinstance(burgers, Patties) and burgers.count is not None:
            phrases[at] = burgers.count
            return


_BARE_INCHES, _BARE_MM = 8, 10
"""A bare number up to the one is inches, from the other on millimetres, of a patty or its bun. Common practice, no source."""


def bare_length(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Patty 3/4 thick", "10 thick and 110 wide": the unit that a kitchen leaves out."""
    for at in range(len(phrases) - 1):
        count, word = phrases[at : at + 2]
        said = is_cue(word, "thick", "across") and not word.text.lower().startswith("how")
        if not (said and isinstance(count, Count) and (not count.proportion or count.piece)):
            continue
        unit = "inch" if count.value <= _BARE_INCHES else "mm" if count.value >= _BARE_MM else ""
        if unit:
            phrases[at] = Amount(count.first, count.last, count.text, "length", Measure(count.value, unit))


_LOST = (3, 60)
"""Percent. What meat loses in the pan or at the knife lies between. A choice, no source."""


def bare_loss(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "5 oz after cooking, lose 25": a bare number behind the word for a loss is percent."""
    for at in range(1, len(phrases)):
        number = phrases[at]
        lost = is_cue(phrases[at - 1], "lose") and is_whole(number) and ends_at(phrases, at)
        if lost and isinstance(number, Count) and _LOST[0] <= number.value <= _LOST[1]:
            measure = Measure(number.value, "percent", number.high)
            phrases[at] = Amount(number.first, number.last, number.text, "percent", measure, number.bound)


def served(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "They lose 27% on the fire; I want 140 g served": what comes to the table is cooked."""
    if not any(is_cue(phrase, "lose") for phrase in phrases):
        return
    for at in range(1, len(phrases)):
        weight, word = phrases[at - 1 : at + 1]
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if weighed and is_cue(word, "serve") and word.text.lower() == "served":
            phrases[at] = Word(word.first, word.last, word.text, "cue", "cooked")


_MOST_PIECES = 12


def pieces(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Two lamb breasts, 1.6 kg in all, and a 2 kg leg": how many there are of a cut that is weighed tells nothing more;
    "in all" before the next weighed cut is said of the pieces."""
    for at in range(len(phrases) - 2):
        count, cut = phrases[at : at + 2]
        several = isinstance(cut, CutName) and cut.text.lower().endswith("s") and is_whole(count)
        if not several or not isinstance(count, Count) or not 1 < count.value <= _MOST_PIECES:
            continue
        after = next((p for p in range(at + 2, len(phrases)) if _ends_a_cut(phrases[p])), len(phrases))
        weights = [p for p in range(at + 2, after) if _is_weight(phrases[p])]
        more = [p for p in range(after, len(phrases)) if _is_weight(phrases[p])]
        before = [p for p in range(at) if _is_weight(phrases[p])]
        next_cut = after < len(phrases) and isinstance(phrases[after], CutName)
        if not weights or not (more or before or (len(weights) == 2 and next_cut)) or len(weights) > 1 + next_cut:
            continue
        weight, in_all = phrases[weights[0]], weights[0] + 1
        told = in_all < len(phrases) and is_cue(phrases[in_all], "total")
        del phrases[weights[0] : in_all + told]
        phrases[at] = weight
        return


def _is_weight(phrase: Phrase) -> bool:
    return isinstance(phrase, Amount) and phrase.kind == "weight"


def _ends_a_cut(phrase: Phrase) -> bool:
    return isinstance(phrase, CutName) or is_sep(phrase, ".", ";")


def same_amount_of(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "The same amount of chuck and brisket": equal amounts of those, and not the weight of before."""
    for at in range(len(phrases) - 4):
        said, of, cut, join, other = phrases[at : at + 5]
        row = is_word(of, "of") and isinstance(cut, CutName) and is_word(join, "join") and isinstance(other, CutName)
        if row and is_cue(said, "keep_weight") and said.text.lower().endswith("same amount"):
            phrases[at] = Word(said.first, said.last, said.text, "cue", "equal")


_AGED = Pattern(r"\b(?:aged|ages)\b:? *((?:\d{1,3}(?:,? and |, ?| ?& ?| or )?)+)", re.IGNORECASE)


def ages_in_a_row(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Aged 7, 9, 41, 43 and 80": no numbers of anything."""
    said = _AGED.search(sentence.text)
    if said is None:
        return
    phrases[:] = [p for p in phrases if not (isinstance(p, Count) and said.start(1) <= p.first < said.end(1))]


def not_each(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "12 burgers in total, not each", "3 each, not in total": what is denied is said of nothing."""
    for at in range(len(phrases) - 2, -1, -1):
        no, manner = phrases[at : at + 2]
        each = isinstance(manner, Word) and manner.kind == "pereach" and manner.text.lower() in ("each", "apiece")
        denied = is_cue(manner, "total") or each
        if is_cue(no, "not") and no.text.lower() == "not" and denied:
            del phrases[at : at + 2]
            return


def each_must_weigh(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Each must weigh 6 oz": of the patties on the table."""
    for at in range(len(phrases) - 2):
        each, weighs, size = phrases[at : at + 3]
        of_each = isinstance(each, Word) and each.kind == "pereach" and is_cue(weighs, "equals")
        if of_each and isinstance(size, Amount) and size.kind == "weight":
            if units.grams(size.measure.value, size.measure.unit) <= HEAVIEST_PATTY:
                phrases[at : at + 3] = [Patties(each.first, size.last, size.text, None, size)]
            return


def taken_off(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Take a pound off": so much less of what is on the table."""
    for at in range(len(phrases) - 1):
        weight, off = phrases[at : at + 2]
        away = isinstance(off, Word) and off.text.lower() == "off"
        alone = all(is_sep(p) or isinstance(p, Word) for p in (*phrases[:at], *phrases[at + 2 :]))
        if away and alone and isinstance(weight, Amount) and weight.kind == "weight":
            phrases[at + 1] = Word(off.first, off.last, "less", "cue", "smaller")
            return


def asked_and_denied(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "2 lb per person? no, 2 burgers per person": a figure alone that the cook takes back in the same line."""
    if len(phrases) < 5:
        return
    figure, mark, no, comma = phrases[:4]
    bare = isinstance(figure, Amount | Count | PerEach | Patties)
    if (
        bare
        and is_sep(mark)
        and mark.text == "?"
        and is_cue(no, "not")
        and no.text.lower() == "no"
        and is_sep(comma, ",")
    ):
        del phrases[:4]
