"""Help: what can be asked, by example; and more of what the last answer kept short."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from assistant.answer import Answer, Status
from assistant.language.phrases import Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME: Final = "guide"

CAN: Final = "I can plan a blend, size and count patties, season, convert, and keep times and temperatures."
"""What the program does, in one line; refusals end with it too."""

_WITHOUT_EXAMPLE: Final = frozenset(("guide", "courtesy", "outside"))
_FIRST: Final = ("plan", "walk", "timers", "cook", "safe", "store", "convert", "notes", "settings", "turns")
"""The kinds that a new cook meets first: as many as a small screen shows at once; the others come on "more help"."""
_SMALL_TALK: Final = frozenset(
    ("help", "all_help", "more", "what", "hello", "thanks", "yes", "this", "praise", "how_are_you", "who_are_you")
)


class Guide(Struct, frozen=True):
    """What is wanted: "help", "all_help" or "more"."""

    wish: str


class GuideTopic:
    """The topic of the program itself."""

    name = NAME
    examples = ("help", "what can you do", "show more")
    passes = _SMALL_TALK

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """Help where nothing but help is asked: "help me plan 3 lb of chuck and suet" is a batch."""
        if any(not isinstance(phrase, Word) for phrase in sentence.phrases):
            return None
        cues = sentence.words("cue")
        if any(word.payload not in self.passes for word in cues):
            return None
        wish = next((word for name in ("more", "all_help", "help") for word in cues if word.payload == name), None)
        return None if wish is None else Reading(Guide(wish.payload), frozenset(cues), 0 if sentence.unknown else 2)

    def answer(self, request: Guide, _kitchen: Kitchen, talk: Talk) -> Outcome:
        """Examples of every topic, or the reminders of the last answer in full."""
        return _more(talk) if request.wish == "more" else _help(whole=request.wish == "all_help")


TOPIC = GuideTopic()


def _help(*, whole: bool) -> Outcome:
    from assistant.topics import topics

    kinds = {topic.name: topic.examples[0] for topic in topics() if topic.name not in _WITHOUT_EXAMPLE}
    named = [name for name in kinds if name not in _FIRST] if whole else [name for name in _FIRST if name in kinds]
    more = "" if whole else f' Say it like this; "more help" shows {len(kinds) - len(named)} other kinds.'
    return _told("What can you do", message=f"{CAN}{more}", steps=tuple(f'"{kinds[name]}"' for name in named))


def _more(talk: Talk) -> Outcome:
    last = talk.answer
    if last is None or not (last.cautions or last.working):
        return _told("Show more", message=f"There is nothing more to tell. {CAN}")
    answer = Answer(
        understood="Show more",
        status=Status.ANSWERED,
        topic=NAME,
        message="The reminders that go with the last answer, and how it was worked out.",
        cautions=last.cautions,
        working=last.working,
    )
    return Outcome(answer)


def _told(understood: str, *, message: str, steps: tuple[str, ...] = ()) -> Outcome:
    return Outcome(Answer(understood=understood, status=Status.ANSWERED, topic=NAME, message=message, steps=steps))
