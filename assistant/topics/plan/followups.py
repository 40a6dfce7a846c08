"""What a line changes of the batch on the table when it names no cut and no seasoning in full.

"25% instead", "its 94 not 92", "no wait 1.75", "5 points leaner", "a third more", "half the pepper", "kilos not pounds":
each step below knows one way of saying it, and hands the line on where it is not said that way. A figure that could
stand in two places is asked about; the choices go with the question, so that a word is enough for an answer.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import data, wording
from assistant.language.phrases import Amount, Count, Fatness, Measure, Phrase, SeasoningName, Word
from assistant.pattern import Pattern
from assistant.topics.base import Unclear
from assistant.topics.plan import asked_back, doses, merge, short, there
from assistant.topics.plan.choice import Choice, Option
from assistant.topics.plan.line import Line, Missing, Step, free_figures, settle
from assistant.topics.plan.reading.odd import figure_of
from assistant.topics.plan.request import Item, PattyWish, Plan
from assistant.topics.plan.slots import FAT, Slot, slots, takes, value_of

_CORRECTS = ("make_it", "scale_to", "correction", "what_about", "instead", "same_again", "off_taste")
_WEIGHTS = ("unit:kg", "unit:g", "unit:lb", "unit:oz")
_ON_TOP = ("plus ", "+", "add ", "and another ", "with another ", "allow ", "make it plus ")
_SALTY, _FAT = 4, 5
"""Percent. A percent below the first is a seasoning's, one from the second on is fat: no mince has less than 3 % fat
asked for, and nobody salts at 5 %. Common practice, no source."""
_SAY_NOTHING = ("this", "into", "smaller", "bigger", "how_many", "what", "about", "only")
"""Words beside a bare figure that do not say what it is of."""
_FAR = 5
"""Nobody corrects 5 lb to more than 25, or to less than 1, by a number alone, where it could be another figure."""
_MUCH = 4
"""So many times nearer, as factors go, makes one of two figures the one that is corrected. A choice."""
_CLEARLY = 8
"""Points of fat above or below what is wanted from which a cut is clearly the fat or the lean of a batch. A choice."""
_LEAN_SAID = 60
"""From here on a bare number for the fat is the lean: "make it 85"."""
_BATCH_FAT = (12, 40)
"""A bare number between these may be the fat that is wanted; below, only the batch. A choice."""


_SOME_BIGGER = Pattern(
    r"\b(?:of them|of those|of the (?:burgers|patties))\b.*\b(?:bigger|smaller|heavier|lighter|larger)\b"
)
_STIRRED_IN = Pattern(
    r"\b(?:add|adding|plus|stir(?:red|ring)? in|mix(?:ed|ing)? in|throw in|another|further|chuck in)\b|^and\b",
    re.IGNORECASE,
)
_JUST_AFTER = 6
"""Characters: "5 lb of 85/15"."""


def read(line: Line) -> Step:
    """The line with everything that it changes by figures alone, or a question back."""
    steps = (
        *(
            _some_of_them,
            asked_back.of_which_batch,
            asked_back.so_much_less_of_one,
            _short,
            _left_out,
            there.of_that_beast,
            there.only_so_much,
            _salt_in_it,
            _on_top,
            doses.other_spice,
            _named_dose,
            doses.other_dose,
            _fat_of_the_heap,
            _so_much_of_the_fat,
            _times_one_cut,
            _in_another_unit,
            _told_in_units,
            _not_that_figure,
            _points,
            _label_on_top,
            _part_of_it,
            _part_more,
            _part_of_one,
        ),
        *(_lone_figure, _exchanged, _vague),
    )
    for step in steps:
        found = step(line)
        if not isinstance(found, Line) or found.settled is not None:
            return found
        line = found
    return line


# ---- told by more than a figure


def _short(line: Line) -> Step:
    for change in (short.other_unit, short.fewer_eat, short.come):
        found = change(line.old, line.sentence)
        if found is not None:
            plan, taken = found
            return settle(line, plan, *taken)
    return line


def _left_out(line: Line) -> Step:
    """ "Leave out the garlic" of a mix with garlic powder."""
    names = line.plan.without
    if not names or not line.old.seasonings or line.plan.items:
        return line
    found = short.left_out(line.old, names)
    return found if isinstance(found, Unclear) else replace(line, plan=replace(line.plan, without=found))


# ---- salt


def _salt_in_it(line: Line) -> Step:
    """ "already salted at 1.2%": the salt of the meat that is there, and no fat."""
    percents = [p for p in line.sentence.of(Amount) if p.kind == "percent"]
    there = [item for item in line.old.items if item.weight is not None]
    if not line.sentence.has("already_salted") or len(percents) != 1 or not there:
        return line
    heap = line.old.heap or min(there, key=lambda item: bool(item.keys)).name
    plan = replace(line.old, salted=True, salt_in=percents[0].measure.value, heap=heap)
    return settle(line, plan, percents[0])


# ---- spare


def _on_top(line: Line) -> Step:
    """ "plus 10 percent": spare once people or patties are counted, else so much more of the batch; never fat."""
    figures = [p for p in line.sentence.phrases if isinstance(p, Amount | Count | Fatness)]
    counted = line.old.groups or (line.old.patties is not None and line.old.patties.count is not None)
    added = line.sentence.text.lower().lstrip(" .,").startswith(_ON_TOP)
    one = figures[0] if len(figures) == 1 else None
    if not added or not isinstance(one, Amount) or one.kind != "percent" or line.plan.seasonings or line.plan.items:
        return line
    if counted:
        return settle(line, replace(line.old, spare=one.measure.value), one)
    return settle(line, merge.scaled(line.old, 1 + one.measure.value / 100), one)


# ---- people

_LIKE_A_SIZE, _LIKE_A_CROWD = Fraction(5, 2), Fraction(5)
"""How many times more or less a bare number may be than the weight of a patty, or the people, that it replaces."""


_WENT_UP = Pattern(r"\b(?:gone up|went up|risen|rose|grown|up to|raise|bump)\b", re.IGNORECASE)
_WENT_DOWN = Pattern(
    r"\b(?:gone down|went down|come down|dropped|fallen|fell|shrunk|down to|cut to|reduce)\b", re.IGNORECASE
)


def of_the_crowd(line: Line) -> Plan | Choice | None:
    """ "make them 110" after 50 people at 125 g: the patties or the people; where it may be either, it is asked."""
    old, numbers = line.old, [p for p in line.sentence.of(Count) if p not in line.used and not p.piece]
    size = old.patties.size if old.patties is not None else None
    said = replace(line.plan, asks=frozenset(), touches=frozenset(), patties=None)
    if len(numbers) != 1 or len(old.groups) != 1 or not line.sentence.has("make_it") or said != Plan():
        return None
    value, people = numbers[0].value, old.groups[0].count
    fits = _near(value, people, _LIKE_A_CROWD) and value.denominator == 1
    way = _way(line.sentence.text)
    fits = fits and (not way or way * (value - people) > 0)
    if size is not None and way and way * (value - size.value) <= 0:
        size = None
    crowd = replace(old, groups=(replace(old.groups[0], count=value),))
    if size is None or not _near(value, size.value, _LIKE_A_SIZE):
        return crowd if fits else None
    heavier = replace(old, patties=replace(old.patties or PattyWish(), size=replace(size, value=value)))
    if not fits or line.sentence.text.lower().split()[1:2] in (["them"], ["em"]):
        return heavier
    weight, heads = f"{value} {size.unit} each", f"{value} people"
    options = (
        Option(weight, frozenset(("each", "size", "weight", "burgers", "patties", size.unit)), heavier),
        Option(heads, frozenset(("people", "guests", "heads", "crowd")), crowd),
    )
    return Choice(f"{weight}, or {heads}?", options)


def _way(text: str) -> int:
    """1 where a line says that something went up, -1 down, 0 where it does not say."""
    up, down = _WENT_UP.search(text) is not None, _WENT_DOWN.search(text) is not None
    return up - down


def _near(value: Fraction, known: Fraction, times: Fraction) -> bool:
    return value > 0 and known > 0 and 1 / times <= value / known <= times


def _off(value: Fraction, known: Fraction) -> Fraction:
    """How many times one figure is the other, the larger through the smaller."""
    return max(value / known, known / value)


# ---- units


def _in_another_unit(line: Line) -> Step:
    """ "make that kilos", "kilos not pounds": the same number in another unit."""
    phrases = line.sentence.phrases
    said = [
        w for at, w in enumerate(phrases) if isinstance(w, Word) and w.payload in _WEIGHTS and not _negated(phrases, at)
    ]
    bare = replace(line.plan, asks=frozenset(), touches=frozenset(), without=()) == Plan()
    batch = line.old.batch
    if len(said) != 1 or not bare or batch is None or not line.sentence.has("make_it", "correction", "not"):
        return line
    return settle(line, merge.resized(line.old, replace(batch, unit=said[0].payload[5:])), *said)


def _negated(phrases: Sequence[Phrase], at: int) -> bool:
    before = phrases[at - 1] if at else None
    return isinstance(before, Word) and before.payload == "not"


def _told_in_units(line: Line) -> Step:
    """ "in grams": the batch on the table, told in the other system first."""
    cue = line.sentence.cue("convert")
    if cue is None or line.sentence.of(Amount):
        return line
    words = set(cue.text.lower().split())
    if words & {"grams", "g", "kilos", "kg", "metric"}:
        return replace(line, plan=replace(line.plan, units="metric"))
    if words & {"lb", "lbs", "oz", "pounds", "ounces", "imperial"}:
        return replace(line, plan=replace(line.plan, units="us"))
    return line


# ---- one figure for another


def _not_that_figure(line: Line) -> Step:
    """ "its 94 not 92", "not 50 but 45": the figure that has the old value gets the new one."""
    pair = _right_and_wrong(line)
    if pair is None:
        return line
    right, wrong = pair
    was, value = value_of(wrong), value_of(right)
    assert was is not None and value is not None
    named = _of_the_named(
        line, [slot for slot in slots(line.old) if slot.value == was and takes(slot, right) and takes(slot, wrong)]
    )
    if not named:
        return Unclear(f"I see no {wrong.text} in this batch. Which figure should be {right.text}?")
    return _put(line, named, right, value, wrong)


def _right_and_wrong(line: Line) -> tuple[Phrase, Phrase] | None:
    phrases = [
        p for p in line.sentence.phrases if not (isinstance(p, Word) and p.kind in ("sep", "open", "close", "at"))
    ]
    for at, word in enumerate(phrases):
        if not (isinstance(word, Word) and word.payload == "not") or at + 1 >= len(phrases):
            continue
        if line.sentence.after(word) is not phrases[at + 1]:
            # "no, 8 lb": a no to what was said, and then the figure as it should be
            continue
        wrong = phrases[at + 1]
        right = phrases[at - 1] if at else None
        if at == 0 or (right is not None and value_of(right) is None):
            later = [p for p in phrases[at + 2 :] if value_of(p) is not None]
            right = later[0] if len(later) == 1 else None
        if right is not None and value_of(right) is not None and value_of(wrong) is not None:
            return right, wrong
    return None


def _of_the_named(line: Line, found: list[Slot]) -> list[Slot]:
    """Of several figures with one value, those of the cut that the line names."""
    names = {word for item in line.plan.items for word in item.name.split()}
    named = [slot for slot in found if slot.words & names]
    return named or found


def _put(line: Line, found: list[Slot], phrase: Phrase, value: Fraction, *used: Phrase) -> Step:
    if len(found) == 1:
        (slot,) = found
        whole = _whole(line.old)
        if slot.of_cut and whole is not None and slot.label == whole.label and line.sentence.has("scale_to", "make_it"):
            # all the meat there is: what was written for it grows with it
            return settle(line, merge.resized(line.old, Measure(value, slot.unit)), phrase, *used)
        return settle(line, _changed(line.old, slot, value), phrase, *used)
    labels = [slot.label for slot in found]
    question = f"{phrase.text} in place of what: {', '.join(labels[:-1])} or {labels[-1]}?"
    return Choice(question, tuple(Option(s.label, s.words, _changed(line.old, s, value)) for s in found))


def _changed(old: Plan, slot: Slot, value: Fraction) -> Plan:
    if slot.unit == FAT and value >= _LEAN_SAID and old.target is not None and slot.value == old.target:
        if not slot.of_cut:
            value = 100 - value
    changed = slot.put(value)
    if old.batch is not None and changed.batch is not None and changed.batch != old.batch:
        return merge.resized(old, changed.batch)
    return changed


def _lone_figure(line: Line) -> Step:
    """ "no wait 1.75", "25% instead", "make it 9": one figure and nothing that it is said of."""
    line = _of_no_fat(line)
    free = free_figures(line)
    same = None if line.plan.crowd_factor == 1 else line.plan.crowd_factor
    said = replace(
        line.plan, asks=frozenset(), touches=frozenset(), too="", patties=None, without=(), crowd_factor=same
    )
    if len(free) != 1 or said != Plan():
        return line
    (figure,) = free
    value = value_of(figure)
    percent = isinstance(figure, Amount) and figure.kind == "percent"
    if value is None or not (isinstance(figure, Count) or percent) or not _is_led(line, figure):
        return line
    wish = line.plan.patties
    if wish is not None and (wish.count == value or wish.size is not None):
        return line
    fitting = [slot for slot in slots(line.old) if takes(slot, figure) and _may_be(line, slot, value, percent)]
    if not _corrects(line, figure):
        # "and at 180?", "hmm, 125": only what is almost that already
        fitting = [slot for slot in fitting if _near(value, slot.value, _LIKE_A_SIZE)]
    fitting = _likeliest(fitting, value) if not percent else fitting
    if not fitting:
        return line
    if len(fitting) == 1 and fitting[0].unit == "count":
        changed = replace(line.plan, patties=PattyWish(count=value))
        return replace(line, plan=changed, used=line.used | {figure})
    return _put(line, fitting, figure, value)


def _of_no_fat(line: Line) -> Line:
    """ "make it 2%", of salt: the percent that was read as a fat that nobody grinds is free again for what it is of."""
    fat = line.plan.target
    salted = any(slot.unit == "percent" for slot in slots(line.old))
    if fat is None or fat >= _SALTY or not salted or line.sentence.of(Fatness):
        return line
    percents = {p for p in line.sentence.of(Amount) if p.kind == "percent" and value_of(p) == fat}
    return replace(line, plan=replace(line.plan, target=None), used=line.used - percents)


def _is_led(line: Line, figure: Phrase) -> bool:
    """Whether the line corrects something, or says nothing but the figure."""
    others = (p for p in line.sentence.substance() if p is not figure)
    nothing_else = all(isinstance(p, Word) and p.payload in _SAY_NOTHING for p in others)
    marks = line.sentence.text[: figure.first].lower().endswith((" a ", " an "))
    return (isinstance(figure, Count) and nothing_else and not marks) or _corrects(line, figure)


def _corrects(line: Line, figure: Phrase) -> bool:
    """Whether the line corrects something, or is nothing but the figure with a percent sign."""
    value = value_of(figure)
    alone = isinstance(figure, Amount) and all(p is figure for p in line.sentence.substance())
    alone = alone and value is not None and (_BATCH_FAT[0] <= value <= _BATCH_FAT[1] or value < _SALTY)
    no = line.sentence.cue("not")
    return alone or line.sentence.has(*_CORRECTS) or (no is not None and no.text.lower() == "no")


def _may_be(line: Line, slot: Slot, value: Fraction, percent: bool) -> bool:
    """Whether a lone figure can be meant for a place; the fat of a cut is never changed without naming it."""
    of_batch = not slot.of_cut
    off_taste = line.sentence.cue("off_taste", "is_it_much")
    if off_taste is not None:
        # "too much, make it 1.5" is said of a seasoning, "too salty" of the salt
        names = {word for pinch in line.old.seasonings for word in pinch.name.split()}
        return bool(slot.words & (names & {"salt", "kosher"} if "salt" in off_taste.text.lower() else names))
    if slot.unit == FAT:
        if not of_batch or line.sentence.has("scale_to"):
            return False
        return value >= _FAT if percent else _BATCH_FAT[0] <= value <= _BATCH_FAT[1] or value >= _LEAN_SAID
    if slot.unit == "percent":
        return value < _SALTY if percent else line.sentence.has("correction")
    if slot.unit == "count":
        return line.old.batch is None
    if slot.each:
        return _near(value, slot.value, _LIKE_A_SIZE)
    corrects = line.sentence.has("correction") or line.sentence.has("not")
    if slot.unit == "people":
        corrects = corrects or not line.sentence.has(*_CORRECTS)
    whole = _whole(line.old)
    if whole is not None and slot.label == whole.label:
        return True
    if of_batch and _near(value, slot.value, _LIKE_A_SIZE):
        # the amount of a seasoning, where it is nearer than the weight of the batch
        return whole is None or _off(value, slot.value) < _off(value, whole.value)
    return corrects and line.old.batch is None


def _whole(old: Plan) -> Slot | None:
    """What the batch weighs: said of it, or of the one meat that is all of it."""
    found = [slot for slot in slots(old) if slot.label.endswith(" batch")]
    if not found and len(old.items) == 1:
        found = [slot for slot in slots(old) if slot.of_cut and f"unit:{slot.unit}" in _WEIGHTS]
    return found[0] if found else None


def _likeliest(found: list[Slot], value: Fraction) -> list[Slot]:
    """Of several places those whose figure is not far from it, or the one that it is much the nearest to; all where
    none is near."""
    near = [slot for slot in found if value > 0 and slot.value > 0 and 1 / _FAR <= value / slot.value <= _FAR]
    off = sorted((abs(math.log(float(value / slot.value))), place) for place, slot in enumerate(near))
    if len(off) > 1 and off[0][0] * _MUCH < off[1][0] and any(slot.each for slot in near):
        return [near[off[0][1]]]
    return near or found


def _named_dose(line: Line) -> Step:
    """ "salt only 16", "the pepper 3": a bare number beside a seasoning of the mix is its amount, in its own unit."""
    names, free = line.sentence.of(SeasoningName), free_figures(line)
    known = [p for p in line.old.seasonings if len(names) == 1 and doses.means(names[0], p) and p.amount is not None]
    number = free[0] if len(free) == 1 else None
    bare = replace(line.plan, asks=frozenset(), touches=frozenset(), too="", seasonings=()) == Plan()
    plain = isinstance(number, Count) and not number.piece and not number.proportion
    if len(known) != 1 or not plain or not bare or number is None or line.sentence.has("not", "bigger", "smaller"):
        return line
    (pinch,) = known
    amount, value = pinch.amount, value_of(number)
    if amount is None or value is None or not _near(value, amount.value, _LIKE_A_CROWD):
        return line
    changed = replace(pinch, amount=replace(amount, value=value, high=None))
    pinches = tuple(changed if p is pinch else p for p in line.old.seasonings)
    return settle(line, replace(line.old, seasonings=pinches), number, *names)


def _fat_of_the_heap(line: Line) -> Step:
    """ "it's actually 30% fat", of mince that is being put right: how fat it is, and not how fat it shall be."""
    heap = next((item for item in line.old.items if item.name == line.old.heap and item.fat is not None), None)
    free = [p for p in line.sentence.phrases if isinstance(p, Amount | Fatness) and value_of(p) is not None]
    told = _IT_IS.search(line.sentence.text.lower()) and not line.sentence.has("make_it", "want", "instead", "not")
    if not told or heap is None or len(free) != 1 or any(item.keys for item in line.plan.items):
        return line
    fat = value_of(free[0])
    if fat is None or (isinstance(free[0], Amount) and free[0].kind != "percent"):
        return line
    name = f"mix at {float(fat):g}% fat"
    items = tuple(replace(item, fat=fat, name=name) if item is heap else item for item in line.old.items)
    return settle(line, replace(line.old, items=items, heap=name), free[0])


def _so_much_of_the_fat(line: Line) -> Step:
    """ "i only got 2 lb of the fat": a limit of the one fat of the batch, and no new weight of the batch."""
    weights = [p for p in line.sentence.of(Amount) if p.kind == "weight"]
    phrases = line.sentence.phrases
    if len(weights) != 1 or line.plan.items or not line.old.items:
        return line
    after = [p for p in phrases[phrases.index(weights[0]) + 1 :] if not (isinstance(p, Word) and p.kind == "of")][:1]
    if not (after and isinstance(after[0], Word) and after[0].kind == "side" and after[0].payload == "fat"):
        return line
    fats = [item for item in line.old.items if {"fat", "suet", "lard"} & set(item.name.split())]
    if len(fats) != 1:
        return Unclear(f"{weights[0].text} of which of them: {_listed(line.old)}?")
    stock = replace(fats[0], weight=weights[0].measure, weight_is="have" if line.sentence.has("have") else "is")
    items = tuple(stock if item is fats[0] else item for item in line.old.items)
    return settle(line, replace(line.old, items=items), weights[0], after[0])


_IT_IS = Pattern(
    r"^\W*(?:(?:no|oh|oops|sorry|wait|actually|hang on)\W+)*(?:it'?s|it is|it was|turns out|(?:the|that|my) (?:mince|meat|mix|stuff|beef|pork) (?:is|was))\b"
)


# ---- one cut for another


def _times_one_cut(line: Line) -> Step:
    """ "double the suet", "more suet": a weight that follows from the fat cannot be asked for by itself."""
    known = [item for item in line.old.items if any(merge.same_meat(item, said) for said in line.plan.items)]
    factor = merge.factor_said(line.sentence)
    vague = line.sentence.has("bigger", "smaller") and not line.sentence.has("what_about")
    bare = (
        len(line.plan.items) == 1 and _says_nothing_of(line.plan) and not free_figures(line) and line.plan.batch is None
    )
    if len(known) != 1 or not bare or not (factor or vague):
        return line
    (item,) = known
    if factor is not None and item.weight is not None:
        changed = replace(item, weight=merge.measured_times(item.weight, factor))
        return settle(line, replace(line.old, items=tuple(changed if i is item else i for i in line.old.items)))
    if factor is not None and item.parts is not None:
        changed = replace(item, parts=item.parts * factor)
        return settle(line, replace(line.old, items=tuple(changed if i is item else i for i in line.old.items)))
    return Unclear(f"How much {item.name}: say a weight of it, or another lean to fat for the batch.")


def _exchanged(line: Line) -> Step:
    """ "swap it", "swap the suet", "what about lamb", "use shin instead": which goes, and what comes."""
    old, plan = line.old, line.plan
    gone = next((name for name, _ in plan.swaps if not any(merge.named(item, {name}) for item in old.items)), None)
    if gone is not None and old.items:
        return Unclear(f"There is no {gone} in this batch: it is {_listed(old)}. Which of them shall go?")
    new = [item for item in plan.items if not any(merge.same_meat(known, item) for known in old.items)]
    if plan.swaps or not old.items:
        return line
    if line.sentence.has("swap") and not new and not plan.without:
        named = [item for item in old.items if any(merge.same_meat(item, said) for said in plan.items)]
        if len(named) == 1 and _says_nothing_of(plan):
            return Missing(f"What shall take the place of the {named[0].name}?", f"swap:{named[0].name}")
        return Unclear(f"Swap which of them ({_listed(old)}), and for what?") if not named else line
    if len(new) == 1 and new[0].price is not None:
        # "what if the beef goes up to 5.50": its price, and no other meat
        return line
    if len(new) != 1 or len(plan.items) != 1 or not line.sentence.has("what_about", "instead") or plan.without:
        return line
    return _in_whose_place(line, new[0])


def _says_nothing_of(plan: Plan) -> bool:
    return all(item.fat is None and item.weight is None and item.share is None for item in plan.items)


def _listed(plan: Plan) -> str:
    return wording.listing([item.name for item in plan.items])


def _in_whose_place(line: Line, new: Item) -> Step:
    """The one cut that a newcomer can replace: not the batch in hand, and of two the one as lean or as fat as it."""
    old = line.old
    going = [item for item in old.items if item.keys or item.fat is None] or list(old.items)
    alike = [item for item in going if _side(item, old.target) == _side(new, old.target) is not None]
    weighed = [item for item in going if item.weight is None]
    for some in (going, alike, weighed):
        if len(some) == 1:
            return replace(line, plan=_swap(line.plan, some[0], new))
    options = tuple(
        Option(item.name, frozenset(item.name.split()), merge.merged(old, _swap(line.plan, item, new), line.sentence))
        for item in going
    )
    names = " or the ".join(item.name for item in going)
    return Choice(f"In place of which: the {names}? Say for example {new.name} instead of {going[0].name}.", options)


def _swap(plan: Plan, went: Item, come: Item) -> Plan:
    return replace(plan, swaps=((went.name, come.name),), without=(*plan.without, went.name))


def _side(item: Item, target: Fraction | None) -> bool | None:
    """Whether a cut is fatter than what is wanted; None where that cannot be told."""
    row = next((data.cuts()[key] for key in item.keys if key in data.cuts()), None)
    fat = item.fat if item.fat is not None else None if row is None else row.fat
    if fat is None or target is None or abs(fat - target) < _CLEARLY:
        return None
    return fat > target


# ---- more and less


def _points(line: Line) -> Step:
    """ "5 points leaner", "2% fattier"."""
    cue = line.sentence.cue("leaner", "fattier")
    free = [p for p in free_figures(line) if value_of(p) is not None]
    if cue is None or len(free) != 1 or line.old.target is None or line.plan.items:
        return line
    value = value_of(free[0])
    assert value is not None
    target = line.old.target + (value if cue.payload == "fattier" else -value)
    return settle(line, replace(line.old, target=target), free[0])


def _label_on_top(line: Line) -> Step:
    """ "Add 5 lb of 85/15", "I stir in a further 5 lb of 85% lean": ground meat by its label beside meats that are
    weighed, where no fat is wanted yet."""
    old, new = line.old, line.plan
    weighed = bool(old.items) and all(item.weight is not None for item in old.items) and old.target is None
    labels = line.sentence.of(Fatness)
    if not weighed or len(labels) != 1 or new.items or new.batch is None or not _STIRRED_IN.search(line.sentence.text):
        return line
    (label,) = labels
    if not (label.ratio or label.said_as_lean):
        return line
    heap = next((p for p in line.sentence.of(Amount) if p.measure == new.batch), None)
    if heap is None or not 0 <= label.first - heap.last <= _JUST_AFTER:
        return line
    item = Item(label.text, fat=label.fat, weight=new.batch)
    return settle(line, replace(old, items=(*old.items, item), batch=None), heap, label)


def _part_of_it(line: Line) -> Step:
    """ "a quarter of that", "two thirds of it": so much of the whole batch."""
    free = free_figures(line)
    bare = replace(line.plan, asks=frozenset(), touches=frozenset(), without=()) == Plan()
    if len(free) != 1 or not bare or merge.difference_said(line.sentence):
        return line
    (figure,) = free
    after = line.sentence.after(figure)
    of_it = isinstance(after, Word) and after.kind == "of" and line.sentence.has("this", "mix")
    if not (isinstance(figure, Count) and figure.piece and of_it):
        return line
    return settle(line, merge.scaled(line.old, figure.value), figure)


def _part_more(line: Line) -> Step:
    """ "a third more", "10% less": of the batch, or with a percent perhaps of the fat."""
    sign = merge.difference_said(line.sentence)
    free = free_figures(line)
    if not sign or len(free) != 1 or line.plan.items or line.plan.seasonings:
        return line
    (figure,) = free
    piece = isinstance(figure, Count) and figure.piece
    percent = isinstance(figure, Amount) and figure.kind == "percent"
    if not (piece or percent):
        return line
    value, _ = figure_of(figure)
    part = value if piece else value / 100
    whole = merge.scaled(line.old, 1 + sign * part)
    if piece or line.old.target is None:
        return settle(line, whole, figure)
    fat = replace(line.old, target=line.old.target + sign * part * 100)
    words = frozenset(("batch", "weight", "meat", "total", "size"))
    return Choice(
        f"{figure.text} {'more' if sign > 0 else 'less'} of what: the batch, or the fat?",
        (Option("the batch", words, whole), Option("the fat", frozenset(("fat", "lean", "points")), fat)),
    )


def _part_of_one(line: Line) -> Step:
    """ "half the pepper", "double the garlic": one seasoning of the mix, the others as they were."""
    names = line.sentence.of(SeasoningName)
    factor = merge.factor_said(line.sentence)
    piece = next((p for p in free_figures(line) if isinstance(p, Count) and p.piece), None)
    factor = piece.value if factor is None and piece is not None else factor
    if len(names) != 1 or factor is None or any(p.amount is not None for p in line.plan.seasonings):
        return line
    known = [pinch for pinch in line.old.seasonings if doses.means(names[0], pinch)]
    if len(known) != 1 or known[0].amount is None:
        return line
    amount = merge.measured_times(known[0].amount, factor)
    pinches = tuple(replace(p, amount=amount) if p is known[0] else p for p in line.old.seasonings)
    return settle(line, replace(line.old, seasonings=pinches), names[0], *([piece] if piece is not None else []))


def _some_of_them(line: Line) -> Step:
    """ "Three of them bigger": how heavy those, and how heavy the others, nobody said."""
    weights = [amount for amount in line.sentence.of(Amount) if amount.kind == "weight"]
    if weights or line.old.patties is None or not _SOME_BIGGER.search(line.sentence.text.lower()):
        return line
    return Unclear("How heavy shall those be, and how heavy the others?")


def _vague(line: Line) -> Step:
    """ "a bit bigger", "same again but for more people": how much, is the question."""
    if not line.sentence.has("bigger", "smaller", "fattier", "leaner"):
        return line
    if replace(line.plan, asks=frozenset(), without=(), too="", touches=frozenset()) != Plan():
        return line
    if line.sentence.has("fattier", "leaner"):
        return Unclear("By how much: which lean to fat do you want, such as 78/22?")
    return Unclear("How much bigger or smaller: what weight, or for how many people?")
