"""Words about the conversation itself: why, undo, back to the first one, say it again, both together."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.language.phrases import Amount, Count, CutName, Fatness, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan import Amended, answers, mass, merge
from assistant.topics.plan.request import Plan
from assistant.topics.plan.section import grams, in_unit, system
from assistant.topics.plan.slots import value_of

_IN_THE_NOTEBOOK = Pattern(
    r"^\W*(?:please\s+)?(?:undo|take\s+back|revert)\s+(?:it\s+|that\s+)?(?:(?:the\s+)?last\s+(?:change|thing|entry)(?:\s+(?:in|to|of)\s+(?:the|my)\s+note\s?book)?|(?:in|from)\s+(?:the|my)\s+note\s?book)\W*$",
    re.IGNORECASE,
)
_BEFORE = Pattern(r"\b(as|like) (it was |we had )?before\b|\b(as|like) it was\b|\bback to (what|how) (it was|we had)\b")
_LEFT_OVER = Pattern(
    r"\W*(and |so |then )?(what'?s|what is|how much( is| will be)?|is any(thing)?|any(thing)?|will there be any)"
    r"( meat| mince| of it)? left( over)?( then)?\W*"
)
"""What the answer of before says besides; no question of a timer."""
_NEVER_MIND = Pattern(r"\b(never ?mind|forget (it|that)|no,?|back|put it)\b")
_ASKED = ("why", "undo", "first_one", "repeat", "together", "changed", "new_batch")


class Turn(Struct, frozen=True):
    """What is wanted of the conversation: one of the cues above. written: it is the notebook that undo is about."""

    wish: str
    again: bool = False
    written: bool = False


class TurnsTopic(Struct, frozen=True):
    """The topic of the conversation itself."""

    name: str = "turns"
    examples: tuple[str, ...] = ("why", "undo that", "go back to the first one")
    passes: frozenset[str] = frozenset(
        [
            "what",
            "this",
            "total",
            "how_much",
            "mix",
            "have",
            "want",
            "works_out",
            "equals",
            "yes",
            "thanks",
            "praise",
            "correction",
            "make_it",
            "convert",
        ]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Only where nothing else is asked in the line."""
        if _IN_THE_NOTEBOOK.match(sentence.text):
            return Reading(Turn("undo", written=True), frozenset(sentence.phrases), 3)
        if _as_before(sentence, talk):
            return Reading(Turn("undo"), frozenset(sentence.phrases), 3)
        if talk.plan is not None and _LEFT_OVER.fullmatch(sentence.text.lower()):
            return Reading(Turn("repeat"), frozenset(sentence.phrases), 3)
        wish = next((name for name in _ASKED if sentence.has(name)), None)
        if wish is None and self._asks_what_changed(sentence, talk):
            wish = "changed"
        if wish is None or any(isinstance(p, Amount | CutName) for p in sentence.phrases):
            return None
        if wish == "together" and (not talk.earlier or _holds_all_days(talk.plan)):
            return None
        if wish == "repeat" and talk.plan is None:
            return None
        if wish == "new_batch" and talk.pending is not None:
            return None
        words = [word for word in sentence.words("cue") if word.payload in (wish, "compare")]
        dates = [p for p in sentence.substance() if not isinstance(p, Word)]
        if dates and wish != "together":
            return None
        used = frozenset((*words, *(dates if wish == "together" else ())))
        again = any(word.text.lower() in ("again", "once more") for word in words)
        return Reading(Turn(wish, again), used, 2)

    @staticmethod
    def _asks_what_changed(sentence: Sentence, talk: Talk) -> bool:
        cue = sentence.cue("compare")
        return (
            cue is not None and "change" in cue.text.lower() and not sentence.words("name") and talk.before is not None
        )

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The last answer's working, the batch again, or the batch of before."""
        turn: Turn = request
        if turn.wish == "why":
            return _why(talk)
        if turn.wish == "changed":
            return _changed(talk)
        if turn.wish == "together":
            return _together(kitchen, talk)
        if turn.wish == "undo":
            return _undo_of_before(turn, kitchen) if talk.answer is None else Outcome(_note("Taken back."), back=1)
        if turn.wish == "new_batch":
            before = '. "Undo" brings back what stood there' if talk.plan is not None else ""
            return Outcome(_note(f"The table is empty{before}. What shall I work out?"), clears=True)
        if turn.wish == "first_one":
            return Outcome(_note("Back to the first one."), back=-1)
        if isinstance(talk.last, Amended) and talk.last.factor is not None and turn.wish == "repeat" and turn.again:
            again = Amended(merge.scaled(talk.plan, talk.last.factor), talk.last.factor)
            return replace(answers.answer(again.plan, kitchen, talk), amends=True)
        return answers.answer(answers.reopened(talk.plan), kitchen, talk)


def _as_before(sentence: Sentence, talk: Talk) -> bool:
    """ "Never mind, 90 as before": the last change taken back, where every figure of the line stood in the answer before it."""
    if _BEFORE.search(sentence.text.lower()) is None or talk.before is None or not isinstance(talk.last, Amended):
        return False
    figures = [phrase for phrase in sentence.phrases if isinstance(phrase, Amount | Count | Fatness)]
    others = [phrase for phrase in sentence.phrases if not isinstance(phrase, Amount | Count | Fatness | Word)]
    if others or not (figures or _NEVER_MIND.search(sentence.text.lower())) or "same" in sentence.text.lower():
        return False
    known = {round(float(value), 3) for figure in talk.before.figures for value in _figures_in(figure)}
    said = [value_of(figure) for figure in figures]
    return all(value is not None and round(float(value), 3) in known for value in said)


def _figures_in(figure: Figure) -> list[float]:
    return [float(v) for v in (figure.value, figure.fat_percent) if v is not None and not isinstance(v, str)]


def _holds_all_days(plan: Any) -> bool:
    """Whether several days or sittings are in the one plan, which tells their sum itself."""
    return isinstance(plan, Plan) and len({group.label for group in plan.groups}) > 1


def _note(text: str) -> Answer:
    return Answer(understood=text, status=Status.ANSWERED, topic="turns", message=text)


def _undo_of_before(turn: Turn, kitchen: Kitchen) -> Outcome:
    """Undo where nothing was said yet: what an earlier conversation wrote is taken back only where that is said."""
    from assistant.topics.notes.answering import last_change, undo_notebook

    if turn.written:
        done, said = undo_notebook(kitchen)
        if done:
            return Outcome(_note(said))
    change = last_change(kitchen)
    message = "There is nothing to undo yet. What shall I work out?"
    if change:
        message = (
            "Nothing was said here yet that could be undone. The last change in the notebook is "
            f'{change}: "undo in the notebook" takes it back.'
        )
    return Outcome(Answer(understood="Undo", status=Status.NEEDS_DETAIL, topic="turns", message=message))


def _why(talk: Talk) -> Outcome:
    last = talk.answer
    if last is not None and not last.working and not last.notes and talk.planned is not None:
        last = talk.planned  # a step read out has no working of its own: the batch behind it has
    if last is None:
        question = "There is nothing to explain yet. What shall I work out?"
        return Outcome(Answer(understood="Explain", status=Status.NEEDS_DETAIL, topic="turns", message=question))
    working = last.working or last.notes or (last.headline or last.message,)
    return Outcome(
        replace(
            last,
            topic="why",
            understood=f"How this was worked out: {last.understood}",
            headline=last.headline,
            figures=_square(last) or last.figures,
            steps=working,
            waits=(),
            notes=(),
            message="Here is the working.",
        )
    )


def _square(answer: Answer) -> tuple[Figure, ...]:
    """The figures of the balance square (Pearson square) of a blend of two cuts, nothing for any other answer.

    Each cut's parts are the other's distance in percent of fat from the blend's, which must lie between them.
    """
    cuts = [figure for figure in answer.figures if figure.role is Role.COMPONENT]
    fat = [figure for figure in answer.figures if figure.role is Role.FAT]
    fats = [figure.fat_percent for figure in cuts if figure.fat_percent is not None]
    if len(cuts) != 2 or len(fats) != 2 or len(fat) != 1 or isinstance(fat[0].value, str):
        return ()
    wanted = fat[0].value
    if not min(fats) < wanted < max(fats):
        return ()
    parts = [abs(other - wanted) for other in reversed(fats)]
    shown = [f"{wording.number(part, 1)} parts" for part in parts]
    ratios = [
        Figure(f"{cut.name}, parts", Role.RATIO, part, "1", shown=words)
        for cut, part, words in zip(cuts, parts, shown, strict=True)
    ]
    return *cuts, fat[0], *ratios


def _changed(talk: Talk) -> Outcome:
    """The figures of the last answer that differ from the one before."""
    assert talk.answer is not None
    assert talk.before is not None
    was = {(figure.name, figure.role): figure for figure in talk.before.figures}
    lines = []
    for figure in talk.answer.figures:
        old = was.pop((figure.name, figure.role), None)
        if old is None:
            lines.append(f"{figure.name}: new, {figure.shown}.")
        elif old.value != figure.value:
            lines.append(f"{figure.name}: {old.shown} before, now {figure.shown}.")
    lines += [f"{figure.name}: {figure.shown} before, now gone." for figure in was.values()]
    return Outcome(
        replace(
            talk.answer,
            topic="turns",
            understood="What changed in the batch",
            headline=" ".join(lines[:3]) if lines else "Nothing changed in the figures.",
            steps=tuple(lines),
        )
    )


def _together(kitchen: Kitchen, talk: Talk) -> Outcome:
    """The weights of the last two batches of the talk, and their sum."""
    plans: list[Plan] = [*talk.earlier[-1:], talk.plan]
    speak = system(plans[-1], kitchen.units)
    weights = [_weight(plan, speak) for plan in plans]
    if any(weight is None for weight in weights):
        message = "I do not have the weights of both. Say each of them, such as 5 kg and 3 kg."
        return Outcome(Answer(understood="", status=Status.NEEDS_DETAIL, topic="turns", message=message))
    known = [weight for weight in weights if weight is not None]
    total = sum(known, Fraction(0))
    unit = "lb" if speak == "us" else "kg"
    figures = [
        Figure(f"batch {place}", Role.TOTAL, in_unit(weight, unit), unit, shown=wording.both(weight, speak))
        for place, weight in enumerate(known, 1)
    ]
    whole = Figure("both together", Role.TOTAL, in_unit(total, unit), unit, shown=wording.both(total, speak))
    return Outcome(
        Answer(
            understood="The last two batches together",
            status=Status.ANSWERED,
            topic="turns",
            headline=f"{wording.both(total, speak)} for both together.",
            figures=(whole, *figures),
            cautions=answers.cautions_of(plans[-1], (), kitchen),
        )
    )


def _weight(plan: Plan, speak: str) -> Fraction | None:
    weighed = mass.weighed(plan)
    if plan.batch is not None:
        return grams(plan.batch)
    return weighed if weighed is not None else mass.wanted(plan, speak)


TOPIC = TurnsTopic()
