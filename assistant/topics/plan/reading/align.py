"""Whose figure is whose, where several groups are named and several figures are given.

Cooks give a figure after each group (20 adults 6 oz, 9 kids 3 oz), before each (6 oz for the adults, 3 oz for the
kids), in the order of the groups at the end (adults, kids: 6 oz and 3 oz), or once for all of them. A way of speaking
is taken only where it fits every figure of the line; where none fits, nothing is given to anybody.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

EVERYONE, OTHERS = -1, -2
"""Owners that are no group of their own: all groups, and those that no other figure was given to."""


class Named(Struct, frozen=True):
    """A place of the line that names a group (its number, or EVERYONE or OTHERS)."""

    place: int
    group: int


def shared_out(
    mentions: Sequence[Named], values: Sequence[int], groups: int, between: Callable[[int, int], int]
) -> dict[int, int] | None:
    """group -> place of its figure, for figures at the given places. A group may be left without one.

    between: how much stands between two places of the line; of two ways that fit, the one with less between is meant.
    None where the figures fit no way of speaking, so that one has to ask.
    """
    if not values:
        return {}
    if len(values) == 1 and _apart(mentions, values[0]):
        return dict.fromkeys(range(groups), values[0])
    ways = [_beside(mentions, values, before=True), _beside(mentions, values, before=False)]
    fitting = [
        (len(own) < groups, sum(between(named.place, value) for named, value in way), own)
        for way in ways
        if way is not None and (own := _settled([(named.group, value) for named, value in way], groups)) is not None
    ]
    if fitting and not min(fitting, key=lambda way: way[:2])[0]:
        return min(fitting, key=lambda way: way[:2])[2]
    in_order = _in_order(mentions, values, groups)
    if in_order is not None:
        return in_order
    return min(fitting, key=lambda way: way[:2])[2] if fitting else None


def _apart(mentions: Sequence[Named], value: int) -> bool:
    """Whether a figure comes before or after all groups, and so is meant for all of them."""
    places = [mention.place for mention in mentions if mention.group >= 0]
    if any(mention.group < 0 and mention.place < value for mention in mentions):
        return all(mention.group != OTHERS for mention in mentions)
    return value < min(places) or value > max(places)


def _beside(mentions: Sequence[Named], values: Sequence[int], *, before: bool) -> list[tuple[Named, int]] | None:
    """Each figure with the last group named before it, or with the next one after it."""
    pairs = []
    for value in values:
        near = [m for m in mentions if (m.place <= value if before else m.place >= value)]
        if not near:
            return None
        pairs.append((near[-1] if before else near[0], value))
    return pairs


def _in_order(mentions: Sequence[Named], values: Sequence[int], groups: int) -> dict[int, int] | None:
    """As many figures as groups, all of them after the last group or before the first."""
    places = [mention.place for mention in mentions]
    if len(values) != groups or not (min(values) > max(places) or max(values) < min(places)):
        return None
    return dict(enumerate(values))


def _settled(pairs: Sequence[tuple[int, int]], groups: int) -> dict[int, int] | None:
    """The figures by group, with everyone's and the others' handed on; None where a group has two."""
    own: dict[int, int] = {}
    for group, value in pairs:
        if own.setdefault(group, value) != value:
            return None
    everyone, others = own.pop(EVERYONE, None), own.pop(OTHERS, None)
    rest = others if others is not None else everyone
    if rest is not None:
        for group in range(groups):
            own.setdefault(group, rest)
    return own
