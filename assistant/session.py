"""Conversation.ask(text) -> Answer: the one road in, for chat, one-shot, pipe, replay and tests."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from assistant import corrected, second, unchanged, unused, wording
from assistant.answer import Answer, Caution, Status
from assistant.errors import BadInput
from assistant.language import naming, when
from assistant.language import sentence as reading
from assistant.language.phrases import (
    Amount,
    Count,
    CutName,
    Fatness,
    Patties,
    People,
    Phrase,
    Rate,
    SeasoningName,
    Word,
)
from assistant.language.sentence import Sentence, TooLong
from assistant.language.text import LONGEST, clean
from assistant.topics import topics
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, Topic
from assistant.zone import here_and_now

if TYPE_CHECKING:
    from assistant.notebook import Notebook
    from assistant.watch import Watch

_HEARD = 500
"""Characters of a request that are given back in `heard`: a long line is not echoed in full."""

_KEPT_TURNS = 50
"""How far undo reaches; older turns are let go, so that a long evening does not fill the memory."""


class Conversation:
    """One conversation. Not safe to share between threads.

    notebook_path: the notebook file (default: the platform's data folder). now: the clock, handed in so
    that tests are deterministic; it should give an aware time in the zone of the kitchen. settings: country, units and
    the like. folder: where files that the person names are written (default: the current one).
    """

    def __init__(
        self,
        notebook_path: Path | None = None,
        now: Callable[[], datetime] | None = None,
        settings: dict[str, str] | None = None,
        folder: Path | None = None,
    ) -> None:
        self._path = notebook_path
        self._now = now or here_and_now
        self._folder = folder
        self._talk = Talk(settings=dict(settings or {}))
        self._turns: list[Talk] = []
        self._undated = ""
        """A line that waits to be told whether its dates name the day or the month first."""
        self._notebook: Notebook | None = None
        self._watch: Watch | None = None
        self._known: tuple[list[str], dict[str, str]] = ([], {})
        """The names that the last line was read with, and what was made of them."""

    # ---- the one road in

    def ask(self, text: str) -> Answer:
        """Answer one request. Never raises for anything that a person can type."""
        heard = text if len(text) <= _HEARD else text[:_HEARD] + "…"
        try:
            sentence = reading.read(text, self._names(), self._talk.settings.get("dates", ""))
        except TooLong as line:
            return replace(_too_long(line), heard=heard)
        if any(word.payload == "date" for word in sentence.words("badnum")):
            self._undated = text
            return replace(_which_date(sentence), heard=heard)
        undated, self._undated = self._undated, ""
        answer = self._answer(sentence)
        if undated and sentence.has("day_first", "month_first"):
            answer = self.ask(undated)
        if self._watch is not None:
            self._watch.look()
        return replace(answer, heard=heard)

    # ---- what a screen wants between two requests

    def get_ready(self) -> None:
        """Load what the first answer needs. The notebook is left alone: it belongs to the thread that asks."""
        topics()
        reading.read("3 lb", {})

    def toolbar(self) -> str:
        """The running timers and warm clocks on one line, or nothing."""
        return self._watching().toolbar()

    def announcements(self) -> list[str]:
        """What has to be said now without being asked, each once: a timer that is done, meat that is out too long."""
        return self._watching().announcements()

    def rings(self) -> bool:
        """Whether a bell may be rung: yes, until somebody says "no bell"."""
        return self._talk.settings.get("bell") != "off"

    def _watching(self) -> Watch:
        if self._watch is None:
            from assistant.watch import Watch

            self._watch = Watch(self._notebook_there, self._now)
        return self._watch

    def suggest(self, before: str) -> list[str]:
        """Ways to go on with a line, for completion as one types."""
        from assistant.language import suggest

        return suggest.suggest(clean(before[-LONGEST:]).text, self._names(), topics())

    def _answer(self, sentence: Sentence) -> Answer:
        talk = self._talk
        bad = sentence.words("badnum")
        if bad:
            return _bad_number(sentence, bad)
        put_right = self._put_right(sentence)
        if put_right is not None:
            return put_right
        chosen = self._choose(sentence, talk)
        if chosen is None:
            if sentence.has("this", "double", "halve", "triple") and talk.answer is None:
                return _nothing_on_the_table(sentence)
            return self._not_understood(sentence, sentence.unknown or list(sentence.substance()))
        topic, read, left = chosen
        serious = [phrase for phrase in left if _is_serious(phrase, sentence)]
        if serious:
            return self._not_understood(sentence, serious, topic)
        try:
            outcome = topic.answer(read.request, self._kitchen(), talk)
        except BadInput as fault:
            return _not_workable(sentence, fault)
        if outcome.back:
            return self._go_back(outcome)
        if outcome.clears:
            self._turns = self._turns_so_far()
            self._talk = Talk(settings=self._talk.settings, answer=outcome.answer)
            return outcome.answer
        if unchanged.asks_in_vain(sentence, talk, outcome):
            return replace(
                outcome.answer,
                status=Status.NEEDS_DETAIL,
                headline="",
                figures=(),
                steps=(),
                message=unchanged.QUESTION,
            )
        asked = (
            *self._unused(sentence, topic, read, left, outcome.answer),
            *self._left_out(sentence, topic, read, outcome.answer),
        )
        if asked:
            outcome = replace(outcome, answer=replace(outcome.answer, notes=(*asked, *outcome.answer.notes)))
        return self._finish(outcome, topic, read, sentence, left)

    def _put_right(self, sentence: Sentence) -> Answer | None:
        """The change of before once more with another figure, on the batch that it changed: "no wait, 6"."""
        before = self._turns[-1] if self._turns else None
        if before is None or before.plan is None or self._talk.line is None or not sentence.has("correction"):
            return None
        again = corrected.retold(sentence, self._talk.line)
        if again is None:
            return None
        now, turns = self._talk, self._turns
        self._talk, self._turns = before, turns[:-1]
        answer = self._answer(reading.read(again, self._names(), now.settings.get("dates", "")))
        if answer.status in (Status.ANSWERED, Status.IMPOSSIBLE) and self._talk.plan not in (before.plan, now.plan):
            return answer
        self._talk, self._turns = now, turns
        return None

    def _left_out(self, sentence: Sentence, topic: Topic, read: Reading, answer: Answer) -> tuple[str, ...]:
        """What the line asks besides, named as not answered; a line that goes on from the one before is read whole."""
        if answer.status is not Status.ANSWERED or (self._talk.plan is not None and read.request == self._talk.plan):
            return ()

        def choose(text: str) -> tuple[Topic, Reading] | None:
            part = reading.read(text, self._names())
            chosen = self._choose(part, Talk(settings=self._talk.settings))
            if chosen is None or any(_is_serious(phrase, part) for phrase in chosen[2]):
                return None
            return chosen[0], chosen[1]

        return tuple(
            f'Not answered here: "{part}". Ask it by itself.'
            for part in second.left_out(sentence, topic, read, answer, choose)
        )

    def _unused(
        self, sentence: Sentence, topic: Topic, read: Reading, left: list[Phrase], answer: Answer
    ) -> tuple[str, ...]:
        """The words that could have changed the answer and did not, named."""
        if answer.status not in (Status.ANSWERED, Status.IMPOSSIBLE):
            return ()
        talk = self._talk

        def again(text: str) -> tuple[Topic, Reading] | None:
            part = reading.read(text, self._names(), talk.settings.get("dates", ""))
            chosen = self._choose(part, talk)
            return None if chosen is None else chosen[:2]

        def told(request: Any) -> Answer:
            return topic.answer(request, self._kitchen(), talk).answer

        words = unused.unused(sentence, topic, read, left, talk, answer, again, told)
        named = ", ".join(f'"{word}"' for word in words)
        return (f"Not taken into account: {named}.",) if words else ()

    def _turns_so_far(self) -> list[Talk]:
        """The states that undo can go back to, the present one last."""
        return [*self._turns[-_KEPT_TURNS:], self._talk]

    def _go_back(self, outcome: Outcome) -> Answer:
        """Undo, or the first batch again: an older state of the talk, and its answer said once more."""
        wrote = self._turn_that_wrote() if outcome.back > 0 else None
        if wrote is not None and (taken_back := self._undo_in_the_notebook(wrote)):
            return replace(outcome.answer, message=taken_back)
        at = self._before_the_change() if outcome.back > 0 else self._first_batch()
        if at is None:
            self._talk, self._turns = Talk(settings=self._talk.settings), []
            return replace(outcome.answer, message="Taken back: the table is empty again.")
        target = self._turns[at]
        self._turns = self._turns[:at] if outcome.back > 0 else self._turns_so_far()
        # what is put back is the batch, not the small talk that came after it
        said = target.planned if target.planned != self._talk.planned else target.answer
        said = said or target.answer
        assert said is not None
        self._talk = replace(target, answer=said, pending=None)
        return _told_first(outcome.answer.message, said)

    def _turn_that_wrote(self) -> int | None:
        """The state before the last turn that changed anything, where that turn wrote in the notebook; else None.
        A question asked in between changes nothing, and undo goes past it."""
        now = self._talk
        for at in range(len(self._turns) - 1, -1, -1):
            if now.wrote:
                return at
            if self._turns[at].plan != now.plan:
                return None
            now = self._turns[at]
        return None

    def _undo_in_the_notebook(self, before: int) -> str:
        """Take back in the notebook what the turn after a state wrote, and go back to that state; "" where there is
        nothing left to take back, or what is wrong with the file, and then all stays as it is."""
        from assistant.topics.notes.answering import undo_notebook

        done, said = undo_notebook(self._kitchen())
        if done:
            self._talk = replace(self._turns[before], pending=None)
            self._turns = self._turns[:before]
        return said

    def _before_the_change(self) -> int | None:
        """The turn before the last one that changed the batch; where no batch is planned, before the last answer.
        Asking why, or what temperature, changes nothing, and undo goes past it."""
        now = self._talk
        for at in range(len(self._turns) - 1, -1, -1):
            was = self._turns[at]
            changed = was.plan != now.plan or was.settings != now.settings
            if changed if now.plan is not None else was.answer != now.answer:
                return at if was.answer is not None and (now.plan is None or was.plan is not None) else None
        return None

    def _first_batch(self) -> int | None:
        said = [at for at, state in enumerate(self._turns) if state.answer is not None]
        planned = [at for at in said if self._turns[at].plan is not None]
        return next(iter(planned or said), None)

    # ---- choosing

    def _choose(self, sentence: Sentence, talk: Talk) -> tuple[Topic, Reading, list[Phrase]] | None:
        best: tuple[tuple[int, int, int, int], Topic, Reading, list[Phrase]] | None = None
        for place, topic in enumerate(topics()):
            try:
                read = topic.read(sentence, talk)
            except BadInput:
                # a figure that no sum can take (minus one ounce each, "13 pounders" as a weight) is no request of this topic
                continue
            if read is None:
                continue
            left = _left_over(sentence, topic, read)
            serious = sum(_is_serious(phrase, sentence) for phrase in left)
            rank = (serious, -read.strength, len(left), place)
            if best is None or rank < best[0]:
                best = (rank, topic, read, left)
        return None if best is None else best[1:]

    # ---- remembering

    def _finish(
        self, outcome: Outcome, topic: Topic, read: Reading, sentence: Sentence, left: Iterable[Phrase]
    ) -> Answer:
        answer = outcome.answer
        shown = f"{answer.understood} {answer.headline}".lower()
        as_typed = re.findall(r"[^\W\d_]+", shown)  # a remark is kept as it was typed
        notes = (*_notes(sentence, left, as_typed), *answer.notes)
        answer = replace(answer, notes=tuple(dict.fromkeys(notes)), cautions=self._cautions(answer))
        self._turns = self._turns_so_far()
        settings = {**self._talk.settings, **outcome.settings}
        talk = replace(
            self._talk,
            pending=outcome.pending,
            wrote=outcome.undoable,
            settings=settings,
            told=self._talk.told | {caution.topic for caution in answer.cautions},
            line=sentence,
            kept=self._talk.kept if outcome.keeps is None else {**self._talk.kept, topic.name: outcome.keeps},
        )
        if answer.status in (Status.ANSWERED, Status.IMPOSSIBLE):
            talk = replace(talk, topic=topic.name, last=read.request, answer=answer, before=self._talk.answer)
        if outcome.meal is not None:
            talk = replace(talk, meal=outcome.meal)
        if outcome.plan is not None:
            another = talk.plan is not None and talk.plan != outcome.plan and not outcome.amends
            earlier = (*talk.earlier[-20:], talk.plan) if another else talk.earlier
            worked_out = answer.status in (Status.ANSWERED, Status.IMPOSSIBLE)
            planned = answer if worked_out else talk.planned
            talk = replace(talk, plan=outcome.plan, earlier=earlier, planned=planned)
        self._talk = talk
        return answer

    def _cautions(self, answer: Answer) -> tuple[Caution, ...]:
        """All cautions that the answer touches. Which of them a screen repeats is for the screen to say."""
        return tuple({caution.topic + caution.text: caution for caution in answer.cautions}.values())

    def _kitchen(self) -> Kitchen:
        settings = self._talk.settings
        return Kitchen(
            now=self._now,
            notebook=self._open_notebook,
            country=settings.get("country", "us"),
            units=settings.get("units", "us"),
            settings=settings,
            folder=self._folder,
        )

    def _open_notebook(self) -> Notebook:
        if self._notebook is None:
            from assistant.notebook import Notebook, default_path

            self._notebook = Notebook(self._path or default_path())
        return self._notebook

    def _names(self) -> dict[str, str]:
        """The names that the notebook knows, if it has been opened or there is one to open, and those of this talk.

        A notebook that cannot be read knows none here; whoever needs it says what is wrong with it.
        """
        from assistant.notebook.faults import NotebookError
        from assistant.topics.notes.finding import names_spoken_of

        spoken_of = names_spoken_of(self._talk.settings)
        try:
            notebook = self._notebook_there()
            kept = [] if notebook is None else list(notebook.names().values())
        except NotebookError:
            kept = []
        names = [*spoken_of, *kept]
        if names != self._known[0]:
            self._known = names, naming.known_names(names)
        return self._known[1]

    def _notebook_there(self) -> Notebook | None:
        """The notebook where there is a file of it; None, and nothing is opened, where there is none.

        Its settings become those of the conversation, except where this call brought its own.
        """
        if self._notebook is None:
            from assistant.notebook.places import default_path

            if not (self._path or default_path()).exists():
                return None
            self._talk = replace(self._talk, settings={**self._open_notebook().settings(), **self._talk.settings})
        return self._notebook

    # ---- not understood

    def _not_understood(self, sentence: Sentence, words: Iterable[Phrase], topic: Topic | None = None) -> Answer:
        named = list(dict.fromkeys(phrase.text for phrase in words if phrase.text))[:4]
        example = (topic.examples[0] if topic else "3 lb at 80/20 from brisket trim and round") or ""
        marked = ", ".join(f'"{name[:60]}"' for name in named)
        message = (
            f"I did not understand {marked or 'that'}. I can plan a blend, portion patties, season, convert, "
            f'keep times and temperatures. Try for example: "{example}".'
        )
        return Answer(
            understood="",
            status=Status.NOT_UNDERSTOOD,
            topic="not_understood",
            message=message,
            notes=_notes(sentence, ()),
        )


def _told_first(done: str, said: Answer) -> Answer:
    """An older answer said once more, with what was done before everything else."""
    if said.headline:
        return replace(said, headline=f"{done} {said.headline}")
    return replace(said, message=f"{done} {said.message}")


def ask(text: str) -> Answer:
    """Answer one request in a conversation of its own.

    >>> ask("3 lb at 80/20 from brisket trim and round").status.value
    'answered'
    """
    return Conversation().ask(text)


def _left_over(sentence: Sentence, topic: Topic, read: Reading) -> list[Phrase]:
    left = []
    for phrase in sentence.substance():
        if phrase in read.used:
            continue
        if isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload in (*topic.passes, "new_batch"):
            continue
        left.append(phrase)
    return left


def _is_serious(phrase: Phrase, sentence: Sentence) -> bool:
    """Whether a left-over phrase could change the answer: numbers, food, limits and negations always,
    an unknown word where it stands in a place that names food or an amount."""
    if not isinstance(phrase, Word):
        # "gonna be a hot one": the word one, standing alone, counts nothing
        return phrase.text.lower() != "one"
    if phrase.kind == "unknown":
        return _in_a_loaded_place(phrase, sentence)
    if phrase.kind in ("name", "badnum"):
        return True
    if phrase.kind == "bound":
        return phrase.payload not in ("about", "only", "exactly")
    if phrase.kind == "cue" and phrase.payload == "not":
        return _negates_something(phrase, sentence)
    if phrase.kind == "cue" and (phrase.payload.startswith("out_") and phrase.payload != "out_in"):
        # cakes, dogs, essays: what lies outside the job is not ours to answer around; a scrap of code beside an amount
        # is no wish for anything else
        return phrase.payload != "out_of" and not _is_code_beside_an_amount(phrase, sentence)
    return phrase.kind == "cue" and phrase.payload in ("drop", "swap", "instead", "canning")


def _is_code_beside_an_amount(phrase: Phrase, sentence: Sentence) -> bool:
    return (
        isinstance(phrase, Word) and phrase.payload == "out_code" and bool(sentence.of(Amount) or sentence.of(Patties))
    )


def _negates_something(word: Word, sentence: Sentence) -> bool:
    """Whether a no stands before food or a figure; "no problem", "don't worry", "none of that" change nothing."""
    at = sentence.phrases.index(word)
    for phrase in sentence.phrases[at + 1 : at + 4]:
        if isinstance(phrase, CutName | SeasoningName | Amount | Fatness):
            return True
        if isinstance(phrase, Word) and phrase.kind == "unknown":
            return True
        if isinstance(phrase, Word) and phrase.kind == "sep":
            return False
    return False


_LEADING_AWAY = frozenset(
    ("for", "at", "in", "on", "by", "my", "our", "because", "cos", "since", "while", "who", "whose", "when")
)
"""Words between a figure and an unknown word that part the two: "10 percent because the Cambridge lot …"."""


def _in_a_loaded_place(word: Word, sentence: Sentence) -> bool:
    """An unknown word beside an amount, after "of", "no" or "from", or in a list of cuts, may be food."""
    before, after = sentence.before(word), sentence.after(word)
    if isinstance(after, People) and before is None and not sentence.of(CutName) and not sentence.of(Patties):
        # "cupcakes for 24 people": what they are to eat is not ours to overlook
        return True
    if before is not None and _LEADING_AWAY & set(sentence.text[before.last : word.first].lower().split()):
        return False
    if isinstance(before, Word) and before.kind == "of":
        return True
    if isinstance(before, Word) and before.payload == "what" and _asks_after_more(before, word, after, sentence):
        return True
    if isinstance(after, CutName) and not sentence.text[word.last : after.first].strip():
        # "unicorn flank": a word in front of a cut may make it another meat
        return True
    if (
        isinstance(before, Word)
        and before.kind == "cue"
        and before.payload in ("not", "out_of", "drop", "swap", "add", "have")
    ):
        return True
    if isinstance(before, Amount) and before.kind in ("weight", "percent", "volume"):
        return True
    if isinstance(before, Rate | Count | Fatness):
        return True
    if isinstance(after, Fatness | Amount) and not isinstance(before, CutName | SeasoningName):
        return isinstance(after, Fatness) or after.kind in ("percent", "weight")
    if isinstance(before, Word) and before.kind in ("join", "sep") and before.payload in ("and", ","):
        earlier = sentence.before(before)
        return isinstance(earlier, CutName) and not isinstance(after, Word)
    return False


def _asks_after_more(what: Word, word: Word, after: Phrase | None, sentence: Sentence) -> bool:
    """ "3 kg of pork for sausage and what casing": a second question, after something that nobody taught us."""
    later = sentence.before(what) is not None
    close = what.text.lower() in ("what", "which") and sentence.text[what.last : word.first].isspace()
    described = isinstance(after, Word) and after.kind == "cue" and sentence.text[word.last : after.first].isspace()
    return later and close and not described


def _notes(sentence: Sentence, left: Iterable[Phrase], as_typed: Collection[str] = ()) -> tuple[str, ...]:
    mended = [(typed, taken) for typed, taken in sentence.corrections if typed.lower() not in as_typed]
    notes = [f'Took "{typed}" for "{taken}".' for typed, taken in mended]
    words = (phrase for phrase in left if isinstance(phrase, Word))
    told = ("out_code", "background")
    aside = list(dict.fromkeys(word.text for word in words if word.kind == "unknown" or word.payload in told))
    if aside:
        notes.append("Set aside, not needed for the figures: " + ", ".join(f'"{word}"' for word in aside[:8]) + ".")
    if sentence.hidden:
        notes.append("Invisible characters were taken out of the line.")
    return tuple(notes)


def _nothing_on_the_table(sentence: Sentence) -> Answer:
    return Answer(
        understood="",
        status=Status.NEEDS_DETAIL,
        topic="not_understood",
        message="What do you mean by that? Nothing is on the table yet. Name the meat, the weight and what you want, "
        'such as "3 lb at 80/20 from chuck and suet".',
        notes=_notes(sentence, ()),
    )


def _not_workable(sentence: Sentence, fault: BadInput) -> Answer:
    """A figure that the engine cannot take, such as minus one hour, where the topic has no better words for it."""
    if fault.argument in ("unit", "to", "source"):
        # a unit that is none is no figure of the person's: say what was not understood, not how we keep units
        said = ", ".join(f'"{phrase.text}"' for phrase in sentence.substance() if not isinstance(phrase, Word))
        message = (
            f"I could not bring {said or 'that'} together. Say the weight, the price and the size one by one, such as "
        )
        return Answer(
            understood="",
            status=Status.NOT_UNDERSTOOD,
            topic="not_understood",
            message=message + '"80 lb at $4.65 a lb into 4 oz patties, what does each cost".',
            notes=_notes(sentence, ()),
        )
    return Answer(
        understood="",
        status=Status.IMPOSSIBLE,
        topic="not_understood",
        message=f"That cannot be worked out: the {fault.argument.replace('_', ' ')} would have to be {fault.wanted}. "
        "Write amounts such as 3 lb, 40 min or 1 1/2 tsp.",
        notes=_notes(sentence, ()),
    )


def _too_long(line: TooLong) -> Answer:
    return Answer(
        understood="",
        status=Status.NOT_UNDERSTOOD,
        topic="not_understood",
        message=f"That line has {line.length:,} {line.what}; I read up to {line.most:,}. Ask one thing at a time, such as "
        '"3 lb at 80/20 from chuck and suet": I can plan a blend, portion patties, season or convert.',
    )


def _which_date(sentence: Sentence) -> Answer:
    """The one question about a date in figures; the order that is said is kept as a setting."""
    text = next(word.text for word in sentence.words("badnum") if word.payload == "date")
    whole = text if text.count("/") + text.count(".") + text.count("-") > 1 else f"{text}/2028"
    days = [wording.day_of_month(day.day or 1, day.month or 1) for day in when.figured_dates(whole)]
    return Answer(
        understood="",
        status=Status.NEEDS_DETAIL,
        topic="not_understood",
        message=f'Is {text} {wording.listing(days, "or")}? Say "day first" or "month first"; I keep it for all dates.',
    )


def _bad_number(sentence: Sentence, bad: list[Word]) -> Answer:
    words = ", ".join(f'"{word.text[:40]}"' for word in bad[:3])
    message = f"{words} is not a number that I can weigh out. Write it as 3, 3.5, 3 1/2 or three."
    if all(word.payload == "moment" for word in bad):
        message = f"{words} is no time or date that there is. Write it as 1:15 pm, 18:30 or 19 June."
    if all(word.payload == "ratio" for word in bad):
        message = f"{words} does not come to 100. Lean to fat is two numbers that do, such as 80/20."
    return Answer(
        understood="",
        status=Status.IMPOSSIBLE,
        topic="not_understood",
        message=message,
        notes=_notes(sentence, ()),
    )
