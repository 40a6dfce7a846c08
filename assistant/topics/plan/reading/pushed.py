"""As much, or as little, of one cut as the batch allows."""

from __future__ import annotations

from msgspec import Struct

from assistant.language.phrases import Phrase
from assistant.pattern import Pattern

_LED = Pattern(
    r"\b(?P<way>as much|as little|the most|the least|most|least|max(?:imum|imise|imize)?|min(?:imum|imise|imize)?|the more|the less)"
    r"(?: of)?(?: the| that| my| this)? ?$"
)
_AS_CAN_BE = Pattern(
    r"^(?: in(?: it| there)?)?,? (?:as|that) (?:is )?(?:possible|(?:i|we|you) can(?: (?:get|put|fit)(?: in| away with)?)?|it (?:can )?takes?"
    r"|will go)\b"
)
_THE_BETTER = Pattern(r"^ the better\b")
_LEAST = ("as little", "the least", "least", "min", "minimum", "minimise", "minimize", "the less")


class Push(Struct, frozen=True):
    """way: "most" or "least"; first, last: the characters that say it, the cut among them."""

    way: str
    first: int
    last: int


def pushed(text: str, cut: Phrase) -> Push | None:
    """What the words around a cut make of it; None where they say nothing of the kind."""
    led = _LED.search(text[: cut.first].lower())
    if led is None:
        return None
    said, after = led["way"], text[cut.last :].lower()
    tail = (_THE_BETTER if said in ("the more", "the less") else _AS_CAN_BE).match(after)
    if tail is None and said in ("as much", "as little", "the more", "the less"):
        return None
    return Push("least" if said in _LEAST else "most", led.start(), cut.last + (0 if tail is None else tail.end()))
