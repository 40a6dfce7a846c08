"""What can be said and asked of the meat in the kitchen, each as a small record of its own."""

from __future__ import annotations

from msgspec import Struct

from assistant.language.phrases import Measure
from assistant.topics.plan.request import Item, Plan


class Keep(Struct, frozen=True):
    """Cuts to remember. how: "have" (this much is there now), "add" (so much more) or "take" (so much less)."""

    items: tuple[Item, ...]
    how: str = "have"


class Show(Struct, frozen=True):
    """What is in stock; cut: only this one."""

    cut: str = ""


class InHand(Struct, frozen=True):
    """Meat that is there, said by itself: what to remember (how: as for Keep), and the batch that it makes as it
    stands."""

    plan: Plan
    items: tuple[Item, ...]
    how: str = "have"


class Clear(Struct, frozen=True):
    """Forget all stock, or these cuts."""

    cuts: tuple[str, ...] = ()


class Unprice(Struct, frozen=True):
    """Forget the prices of these cuts, or all of them."""

    cuts: tuple[str, ...] = ()


class Made(Struct, frozen=True):
    """A batch was made: what it took comes off the stock. name: a saved one ("": the one on the table); weight: so
    much of it."""

    name: str = ""
    weight: Measure | None = None


class FromStock(Struct, frozen=True):
    """A batch out of what is in stock."""

    plan: Plan
