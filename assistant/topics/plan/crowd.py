"""A crowd that changes from turn to turn: groups that come on top, other days, more or fewer of them, other appetites."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant import units
from assistant.language.phrases import Measure, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.request import LOT, Group, PattyWish, Plan, Turn


def is_about_them(new: Plan, old: Plan) -> bool:
    """Whether a line without a crowd of its own says something of the one on the table."""
    said = new.crowd_factor is not None or new.crowd_change is not None or bool(new.regroup) or new.turn is not None
    return said and bool(old.groups)


def without_the_reason(new: Plan, old: Plan) -> Plan:
    """ "make it 12 people cuz 3 bailed" after 15: those 3 are why there are 12, and are not taken off once more."""
    if len(new.groups) != 1 or len(old.groups) != 1:
        return new
    before, left = old.groups[0].count, new.groups[0].count
    if new.absent is not None and left + new.absent == before - new.absent:
        return replace(new, absent=None, groups=(replace(new.groups[0], count=left + new.absent),))
    if new.crowd_change is not None and before + new.crowd_change == left:
        return replace(new, crowd_change=None)
    return new


def comes_on_top(new: Plan, old: Plan, sentence: Sentence) -> bool:
    """Whether the people of a line join those on the table: "plus 5 kids at 3 oz", or another day beside the first."""
    if not new.groups or not old.groups or sentence.has("new_batch", "make_it", "correction", "instead"):
        return False
    first = sentence.phrases[0] if sentence.phrases else None
    only = "only" in sentence.text.lower().split()
    joined = isinstance(first, Word) and (first.kind == "join" or first.payload in ("add", "spare"))
    return ((joined or says_more_people(sentence)) and not only) or _another_occasion(new, old)


_MORE_PEOPLE = Pattern(r"\b(?:more|extra|another \w+) (?:people|guests|kids|children|adults|mouths|heads|eaters)\b")


def says_more_people(sentence: Sentence) -> bool:
    """ "Ten more people, one each": beside those that were counted before."""
    return _MORE_PEOPLE.search(sentence.text.lower()) is not None


def _another_occasion(new: Plan, old: Plan) -> bool:
    said, known = {group.label for group in new.groups}, {group.label for group in old.groups}
    return "" not in said and "" not in known and not said & known


def with_own_sizes(plan: Plan) -> Plan:
    """A plan whose groups carry the patty that was said for all of them, so that others may come beside them."""
    size = plan.patties.size if plan.patties is not None else None
    if size is None or plan.patties is None:
        return plan
    groups = tuple(replace(group, size=group.size or size) for group in plan.groups)
    wish = replace(plan.patties, size=None)
    return replace(plan, groups=groups, patties=None if wish == PattyWish() else wish)


def without_heads(plan: Plan, burgers: PattyWish) -> Plan:
    """ "make it 80 burgers" after 60 guests: the burgers are counted outright, however many eat."""
    if not plan.groups or burgers.count is None:
        return plan
    sizes = {group.size for group in plan.groups}
    if len(sizes) > 1:
        return replace(plan, question=f"{float(burgers.count):g} burgers of which size, or how many of each?")
    (size,) = sizes
    wish = plan.patties or PattyWish()
    return replace(plan, groups=(), patties=replace(wish, size=size or wish.size), appetite=None)


def all_of_it(plan: Plan) -> Measure | None:
    """What the patties of a plan weigh together, where their number and weight were said."""
    wish = plan.patties or PattyWish()
    if plan.groups and plan.batch is None:
        each = [(group, group.size or wish.size) for group in plan.groups]
        unit = next((size.unit for _, size in each if size is not None), "g")
        weights = [
            group.count * group.each * units.to(size.value, size.unit, unit)
            for group, size in each
            if size is not None and group.each is not None
        ]
        return Measure(sum(weights, Fraction(0)), unit) if len(weights) == len(each) else None
    if wish.count is None or wish.size is None or plan.groups or plan.batch is not None:
        return None
    return replace(wish.size, value=wish.size.value * wish.count)


def changed(old: Plan, new: Plan, sentence: Sentence) -> tuple[tuple[Group, ...], str]:
    """The groups after a line about them, and the question it raises where it does not say whose it is ("" for none)."""
    groups = old.groups
    if new.turn is not None and not new.turn.like:
        groups, question = _turned(groups, new.turn)
        if question:
            return groups, question
    elif new.groups:
        groups = _with_groups(old, new, sentence)
    elif new.label and new.label not in {group.label for group in groups} and groups:
        groups = _on_another_day(old, new)
    elif new.crowd_factor is not None:
        groups = tuple(_times(group, new.crowd_factor) for group in groups)
    if new.crowd_change is not None and groups:
        named = [group for group in groups if group.sort != LOT]
        meant = [group for group in named if new.crowd_of and group.sort == new.crowd_of] or named
        if len(meant) > 1:
            return groups, "Which of them: " + " or ".join(_noun(group) for group in meant) + "?"
        if new.crowd_of and named and meant == named and named[0].sort not in (new.crowd_of, "person", ""):
            return groups, f"Are they among {_noun(named[0])}? Say for example 3 adults and 2 kids."
        change = new.crowd_change
        groups = tuple(
            replace(group, count=max(group.count + change, Fraction(0))) if group in meant else group
            for group in groups
        )
    for said in new.regroup:
        if new.label and said.count and not said.sort:
            groups, question = _counted_on(old, groups, said.count, new.label)
            if question:
                return groups, question
            continue
        if said.count and not said.sort and len(groups) > 1:
            return groups, f"{float(said.count):g} of whom: " + " or ".join(_noun(group) for group in groups) + "?"
        if said.noun and _index_of(groups, said) is None and groups:
            return old.groups, f"How many of them are {said.noun}s?"
        groups = _said_of(groups, said, new.label)
    return groups, ""


def _turned(groups: tuple[Group, ...], turn: Turn) -> tuple[tuple[Group, ...], str]:
    """The groups after a part of them changes, or as they were with a question."""
    if turn.day_gone:
        left = tuple(group for group in groups if group.label != turn.day_gone)
        days = " and ".join(dict.fromkeys(group.label.capitalize() for group in groups if group.label))
        question = f"Nobody is down for {turn.day_gone.capitalize()}" + (f", only for {days}." if days else ".")
        return (groups, question) if not left or left == groups else (left, "")
    if turn.sort_gone:
        left = tuple(group for group in groups if group.sort != turn.sort_gone)
        question = f"How many of them are {'children' if turn.sort_gone == 'kid' else 'adults'}?"
        return (groups, question) if not left or left == groups else (left, "")
    whom = " of whom: " + " or ".join(_noun(group) for group in groups) + "?"
    if turn.some is not None:
        if len(groups) != 1 or turn.some.count >= groups[0].count:
            return groups, f"{float(turn.some.count):g}{whom}"
        each = groups[0].each if turn.some.each is None else turn.some.each
        some = replace(groups[0], count=turn.some.count, sort=turn.some.sort, each=each, noun=turn.some.noun)
        return (replace(groups[0], count=groups[0].count - some.count), some), ""
    if len(groups) != 1:
        return groups, f"Half{whom}"
    half = Fraction(groups[0].count // 2)
    return (
        replace(groups[0], count=groups[0].count - half),
        replace(groups[0], count=half, each=turn.half_each),
    ), ""


def _counted_on(old: Plan, groups: tuple[Group, ...], count: Fraction, label: str) -> tuple[tuple[Group, ...], str]:
    """So many on one day: those who were down for it, or as many more on another day that eat alike."""
    there = [group for group in groups if group.label == label]
    if len(there) > 1:
        return groups, f"{float(count):g} of whom: " + " or ".join(_noun(group) for group in there) + "?"
    if there:
        return tuple(replace(g, count=count) if g.label == label else g for g in groups), ""
    alike = {(group.sort, group.each, group.size, group.heft) for group in groups}
    if len(alike) != 1 or any(not group.label for group in groups) or not groups:
        return groups, f"What do the {float(count):g} on {label.capitalize()} get?" if old.groups else ""
    return (*groups, replace(groups[0], count=count, label=label, high=None)), ""


def _with_groups(old: Plan, new: Plan, sentence: Sentence) -> tuple[Group, ...]:
    if comes_on_top(new, old, sentence):
        own = (replace(g, each=Fraction(1)) if g.size is not None and g.each is None else g for g in new.groups)
        # a size said of all before, or of all that come now, is not the other's
        come = _sized((_as_before(group, old.groups) for group in own), new)
        return (*_sized(old.groups, old), *come) if new.patties is not None else (*old.groups, *come)
    if len(old.groups) == 1 and len(new.groups) == 1:
        return (_as_before(new.groups[0], old.groups),)
    known = {index: group for group in new.groups if (index := _index_of(old.groups, group)) is not None}
    if known and len(known) == len(new.groups) < len(old.groups):
        # "make that 16 kids" beside adults who stay as they were
        return tuple(
            _as_before(known[index], (group,)) if index in known else group for index, group in enumerate(old.groups)
        )
    return new.groups


def _as_before(group: Group, known: Sequence[Group]) -> Group:
    """A group with the patties a head and the size of its like, where the line says none."""
    if group.each is not None and group.size is not None:
        return group
    index = _index_of(known, group)
    was = known[index] if index is not None else known[0] if len(known) == 1 else None
    if was is None:
        return group
    return replace(
        group,
        each=group.each if group.each is not None else was.each,
        size=group.size or was.size,
        label=group.label or was.label,
    )


def _sized(groups: Iterable[Group], plan: Plan) -> tuple[Group, ...]:
    """The groups with the size that their own line gave to all patties, where they have none."""
    size = None if plan.patties is None else plan.patties.size
    return tuple(replace(group, size=group.size or size) for group in groups)


def _index_of(groups: Sequence[Group], wanted: Group) -> int | None:
    """Which of the groups is meant: by its noun, else as the adults or the children."""
    for index, group in enumerate(groups):
        if wanted.noun and wanted.noun == group.noun and wanted.label in ("", group.label):
            return index
    same = [i for i, group in enumerate(groups) if group.sort == wanted.sort and wanted.sort in ("adult", "kid")]
    return same[0] if len(same) == 1 else None


def _on_another_day(old: Plan, new: Plan) -> tuple[Group, ...]:
    """ "Sunday half as many", "day two: a quarter more people", "one each for the Sunday, same crowd"."""
    if new.crowd_factor is None:
        return old.groups
    first = new.turn.like if new.turn is not None and new.turn.like else old.groups[0].label
    known = tuple(replace(group, label=group.label or "first day") for group in old.groups)
    again = tuple(
        replace(_times(group, new.crowd_factor), label=new.label) for group in old.groups if group.label == first
    )
    return (*known, *again)


def _times(group: Group, factor: Fraction) -> Group:
    count = group.count * factor
    return replace(group, count=Fraction(-(-count.numerator // count.denominator)))


def _said_of(groups: tuple[Group, ...], said: Group, label: str) -> tuple[Group, ...]:
    """What a line says anew of one sort of people, or of everybody."""
    index = _index_of(groups, said)
    found = []
    for at, group in enumerate(groups):
        meant = at == index if index is not None else group.label == label or not label
        if meant:
            group = replace(
                group,
                count=said.count or group.count,
                each=said.each if said.each is not None else group.each,
                size=said.size or group.size,
            )
        found.append(group)
    return tuple(found)


def _noun(group: Group) -> str:
    return f"the {float(group.count):g} {group.noun}s" if group.noun else f"the {float(group.count):g}"


def patty_of(plan: Plan, new: Plan, heaviest: int) -> Plan:
    """A small weight after so many patties without a weight of their own: what each of them weighs."""
    wish = plan.patties
    if wish is None or wish.count is None or wish.size is not None or plan.batch is not None or plan.items:
        return new
    batch = new.batch
    if batch is None or new.patties is not None or new.items or new.groups or new.seasonings:
        return new
    if units.grams(batch.value, batch.unit) > heaviest:
        return new
    return replace(new, batch=None, patties=PattyWish(size=batch))


def told_why(new: Plan, old: Plan) -> Plan:
    """ "Make it 12 because 3 bailed", of 15: the three are in the twelve already, and are not taken off again."""
    if not new.absent or len(old.groups) != 1 or len(new.groups) != 1:
        return new
    stated = new.groups[0].count + new.absent
    if old.groups[0].count - new.absent != stated:
        return new
    return replace(new, absent=None, groups=(replace(new.groups[0], count=stated),))
