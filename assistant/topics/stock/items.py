"""The meat of a line about the stock: which cuts, with what weight, fat or price."""

from __future__ import annotations

from msgspec.structs import replace

from assistant.language.phrases import CutName, Fatness
from assistant.language.sentence import Sentence
from assistant.topics.plan.request import Item, Plan

LITTLE_WORDS = frozenset(
    [
        "have",
        "keep",
        "this",
        "what",
        "yes",
        "thanks",
        "praise",
        "correction",
        "add",
        "out_of",
        "not",
        "use_up",
        "drop",
        "total",
        "hello",
        "from_now_on",
    ]
)


def weighed(plan: Plan) -> tuple[Item, ...] | None:
    """The cuts with their weights; a single weight before a list that the plan took as the whole is no stock."""
    items = plan.items
    if len(items) == 1 and items[0].weight is None and plan.batch is not None:
        items = (replace(items[0], weight=plan.batch),)
    if len(items) == 1 and items[0].fat is None and plan.target is not None:
        items = (replace(items[0], fat=plan.target),)  # "my brisket trim is 55% fat"
    return items if items and all(_says_something(item) for item in items) else None


def _says_something(item: Item) -> bool:
    return item.weight is not None or item.fat is not None or item.price is not None


def target(sentence: Sentence) -> bool:
    """Whether a fat is said that is of no cut: there are more of them than cuts, or a ratio is one."""
    fats = sentence.of(Fatness)
    return any(fat.ratio for fat in fats) or len(fats) > len(sentence.of(CutName))
