"""Burgers counted into bags, boxes or trays: "8 to a bag, how many bags?"."""

from __future__ import annotations

from msgspec import Struct

from assistant import wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.engine import portion
from assistant.language.phrases import Amount, Count, CutName, Patties, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME = "bags"
_INTO = Pattern(
    r"^\s*(?:(?:go|goes|fit|fits|come|in|will go|will fit)\s+)*(?:to|per|in|into|inside|for)?\s*(?:a|an|each|every|the|one)?\s*"
    r"(?P<what>(?:freezer )?(?:bag|box|tray|tub|packet|pack|carton|container))\b"
)
_HOW_MANY = Pattern(r"\bhow many (?:freezer )?(?P<what>bags|boxes|trays|tubs|packets|packs|cartons|containers)\b")
_OF = Pattern(r"\b(?:bags|boxes|trays|tubs|packets|packs|cartons|containers) of $")
_ELSE = Pattern(r"\b(?:rolls?|buns?|baps?|cobs?|slices?|cheese|casings?)\b")
"""What is bought in packs beside the burgers: the plan counts those."""
_MOST = 100_000
"""Burgers: more are no kitchen's."""


class Bags(Struct, frozen=True):
    """So many burgers, so many of them into each of what is asked for ("bags")."""

    burgers: int
    each: int
    what: str


class BagsTopic:
    """The topic of burgers counted into bags."""

    name = NAME
    examples = ("60 burgers, 8 to a bag, how many bags?",)
    passes: frozenset[str] = frozenset(
        ("how_many", "pack", "bowl", "freezer", "want", "into", "this", "buy", "have", "freeze", "go", "total")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """How many bags is asked, how many go into one is said, and burgers are counted here or on the table."""
        text = sentence.text.lower()
        asked = _HOW_MANY.search(text)
        if asked is None or _ELSE.search(text) or any(isinstance(p, CutName | Amount) for p in sentence.phrases):
            return None
        each = next((c for c in sentence.of(Count) if _goes_into_one(c, text)), None)
        said = [patties.count for patties in sentence.of(Patties) if patties.count is not None]
        burgers = int(said[0].value) if len(said) == 1 else None if said else _on_the_table(talk.answer)
        if each is None or burgers is None or not 0 < burgers <= _MOST:
            return None
        figures = [p for p in sentence.phrases if isinstance(p, Count) and p is not each]
        if figures or each.value < 1:
            return None
        used: set[Phrase] = {each, *sentence.of(Patties)}
        used |= {
            word for word in sentence.phrases if isinstance(word, Word) and word.payload in ("pack", "bowl", "freezer")
        }
        return Reading(Bags(burgers, int(each.value), asked["what"]), frozenset(used), 3)

    def answer(self, request: Bags, _kitchen: Kitchen, _talk: Talk) -> Outcome:
        """Full bags, and what is in the last one."""
        needed, last = portion.rounds(request.burgers, request.each)
        said = f"{request.burgers} patties, {request.each} to each, how many {request.what}?"
        headline = f"{needed} {request.what if needed > 1 else request.what.removesuffix('s')}"
        headline += f": the last holds {last}." if last < request.each else ", all full."
        figures = (
            Figure(request.what, Role.RATIO, float(needed), "count", shown=str(needed)),
            Figure("patties", Role.PATTY_COUNT, float(request.burgers), "count", shown=str(request.burgers)),
        )
        working = (f"{request.burgers} over {wording.number(request.each)}, rounded up.",)
        return verdict.told(NAME, said, headline, figures=figures, working=working)


def _goes_into_one(count: Count, text: str) -> bool:
    """ "8 to a bag", "24 fit in a box", "a dozen per tray", "packs of 8"."""
    whole = count.value.denominator == 1 and not count.piece and not count.proportion and count.high is None
    return whole and (_INTO.match(text[count.last :]) is not None or _OF.search(text[: count.first]) is not None)


def _on_the_table(answer: Answer | None) -> int | None:
    """How many burgers the last answer counted; None where it counted none."""
    if answer is None or answer.status is not Status.ANSWERED:
        return None
    counted = [figure.value for figure in answer.figures if figure.role is Role.PATTY_COUNT]
    return int(counted[0]) if counted and isinstance(counted[0], float) else None


TOPIC = BagsTopic()
