"""Walk me through it: the steps of the batch one at a time, with next, back, again, skip and "where was I".

The walk is kept beside the talk: any other question may come between, and "next" goes on from where it was. The steps
are made anew from the batch at every turn, so that a changed weight or machine never leaves an old step behind.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import timedelta
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Caution, Role, Status, Wait
from assistant.language.phrases import Word
from assistant.language.sentence import Sentence
from assistant.notebook import NotebookError
from assistant.pattern import Pattern
from assistant.topics import equipment, settings, timers
from assistant.topics.base import Kitchen, Outcome, Pending, Reading, Talk, pending_for
from assistant.topics.cautions import COOKING
from assistant.topics.plan import answers
from assistant.topics.plan.request import Plan
from assistant.topics.plan.steps import GRINDER, MACHINE

START, NEXT, BACK, SKIP, AGAIN, WHERE, END = (
    "walk_me",
    "next_step",
    "back_step",
    "skip_step",
    "again",
    "where_walk",
    "walk_end",
)
TIMETABLE = "timetable"
"""The topic whose steps are a day's."""
TIMER, NO_TIMER = "timer", "no timer"
_CUES = {START: START, NEXT: NEXT, BACK: BACK, SKIP: SKIP, "repeat_step": AGAIN, WHERE: WHERE, END: END}
_BY_CUE_OF_OTHERS = {"repeat": AGAIN, "undo": BACK, "yes": NEXT, "more": AGAIN}
"""What the words of other topics mean while a step is being read."""
_PLAIN = Pattern(
    r"^\W*(?:ok(?:ay)?\W+)?(?:(?P<next>done|ready|continue|finished|ok(?:ay)?|right|got it)|(?P<skip>skip))\W*$", re.I
)
QUESTION = "What do you grind with: a grinder, a hand grinder, a grinder on the stand mixer, or a food processor?"


class Place(Struct, frozen=True):
    """Where in the walk somebody is. at: the step, from 0; text: that step as it was read out.

    plan: the batch it is for; answer: what holds the steps where they are no batch's.
    """

    at: int
    plan: Plan | None
    answer: Answer | None = None
    text: str = ""


class Walk(Struct, frozen=True):
    """What is wanted: one of the wishes above. machine: what was answered to the question for it."""

    wish: str
    machine: str = ""


class Stage(Struct, frozen=True):
    """One step as it is read out. wait: the timer that goes with it, if any."""

    text: str
    wait: Wait | None = None


class WalkTopic:
    """The topic of being led through the steps."""

    name = "walk"
    examples = ("walk me through it", "next", "where was I")
    passes = frozenset(["yes", "thanks", "praise", "hello", "want", "this", "correction", "what", "help"])

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A word about the steps, where nothing else is said in the line."""
        asked = pending_for(talk, self.name)
        if asked is not None and asked.missing == MACHINE:
            said = equipment.machine(sentence)
            named = said[0][0][1] if said else equipment.machine_named(sentence.text)
            if named:
                return Reading(Walk(START, named), frozenset(sentence.phrases), 3)
        if not all(isinstance(phrase, Word) for phrase in sentence.substance()):
            return None
        wish = _wish(sentence, talk, asked)
        if not wish:
            return None
        sure = wish != START or talk.plan is not None or len(list(sentence.substance())) == 1
        return Reading(Walk(wish), frozenset(sentence.phrases), 3 if sure else 0)

    def answer(self, request: Walk, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The step that is wanted, or what is missing for one."""
        place = talk.kept.get(self.name)
        pending = pending_for(talk, self.name)
        if request.wish == END:
            return _told("The steps are put away.", keeps=Place(-1, None))
        if pending is not None and pending.missing == MACHINE:
            return _with_machine(request, kitchen, talk)
        if pending is not None and pending.missing == TIMER and request.wish in (TIMER, NO_TIMER):
            return _timer(request.wish, pending.request, kitchen, talk)
        if not isinstance(place, Place) or place.at < 0 or request.wish == START:
            return _begin(kitchen, talk)
        return _go(request.wish, place, kitchen, talk)


def _wish(sentence: Sentence, talk: Talk, asked: Pending | None) -> str:
    own = next((wish for cue, wish in _CUES.items() if sentence.has(cue)), "")
    if asked is not None and asked.missing == TIMER and not own:
        if sentence.has("yes"):
            return TIMER
        if sentence.has("no", "not"):
            return NO_TIMER
    if own in (START, WHERE, END):
        return own
    under_way = isinstance(talk.kept.get("walk"), Place)
    if own == NEXT and (under_way or (talk.planned is not None and talk.planned.steps)):
        return own
    if not under_way:
        return own if len(list(sentence.substance())) == 1 else ""
    if own:
        return own
    reading = talk.topic == "walk"
    plain = _PLAIN.match(sentence.text)
    if plain:
        return (SKIP if plain["skip"] else NEXT) if reading else ""
    if reading or asked is not None:
        return next((wish for cue, wish in _BY_CUE_OF_OTHERS.items() if sentence.has(cue)), "")
    return ""


# ---- beginning


def _begin(kitchen: Kitchen, talk: Talk) -> Outcome:
    if talk.plan is None and (talk.answer is None or not talk.answer.steps):
        message = 'Through what? Say first what you are making, such as "3 lb at 80/20 from chuck and suet".'
        return Outcome(Answer("Walk me through it", Status.NEEDS_DETAIL, "walk", message=message))
    if talk.topic == TIMETABLE and talk.answer is not None and talk.answer.steps:
        # the steps of the day, from buying to resting, are the ones that were told last
        return _read_out(Place(0, None, talk.answer), kitchen, talk)
    if talk.plan is not None and not kitchen.settings.get(MACHINE):
        question = Answer("Walk me through it", Status.NEEDS_DETAIL, "walk", message=QUESTION)
        return Outcome(question, pending=Pending("walk", None, MACHINE))
    return _first(kitchen, talk)


def _with_machine(request: Walk, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The first step, once the machine is known; who just goes on is taken to have a grinder, which is said."""
    machine = request.machine or GRINDER
    changes = {MACHINE: machine}
    notes, kept = settings.keep(changes, kitchen) if request.machine else (_TAKEN_FOR_A_GRINDER, False)
    now = replace(kitchen, settings={**kitchen.settings, **changes})
    first = _first(now, talk)
    return replace(
        first, answer=replace(first.answer, notes=(*notes, *first.answer.notes)), settings=changes, undoable=kept
    )


_TAKEN_FOR_A_GRINDER = ('Taken for a grinder; say "no grinder, just a food processor" if it is not.',)


def _first(kitchen: Kitchen, talk: Talk) -> Outcome:
    if talk.plan is None:
        return _read_out(Place(0, None, talk.answer), kitchen, talk)
    return _read_out(Place(0, talk.plan), kitchen, talk)


# ---- going on


def _go(wish: str, place: Place, kitchen: Kitchen, talk: Talk) -> Outcome:
    stages, now = _stages(place, kitchen, talk)
    last = len(stages) - 1
    at = min(place.at, last)
    note: tuple[str, ...] = ()
    if place.plan is not None and talk.plan is not None and talk.plan != place.plan:
        note = (f"The batch has changed since: {now.headline}",)
        now_place = Place(at, talk.plan)
    else:
        now_place = replace(place, at=at)
    if wish == NEXT and place.text and stages[at].text != place.text:
        note += ("This step has changed, so here it is again.",)
    elif wish in (NEXT, SKIP):
        if at == last:
            return _told("That was the last step.", keeps=now_place)
        at += 1
    elif wish == BACK:
        if at == 0:
            note += ("This is the first step.",)
        at = max(at - 1, 0)
    skipped = (_SAFE_TO_SAY,) if wish == SKIP and place.at > 0 and _is_cold(stages[place.at].text) else ()
    return _read_out(replace(now_place, at=at), kitchen, talk, (*note, *skipped))


_SAFE_TO_SAY = "Skipped, but keep it cold all the same: below 40 °F (4 °C)."


def _is_cold(text: str) -> bool:
    return "4 °C" in text


def _read_out(place: Place, kitchen: Kitchen, talk: Talk, notes: tuple[str, ...] = ()) -> Outcome:
    stages, whole = _stages(place, kitchen, talk)
    stage = stages[place.at]
    said = f"Step {place.at + 1} of {len(stages)}: {stage.text}"
    pending = None
    running = "" if stage.wait is None else _running(stage.wait, kitchen)
    if running:
        said += f" {running}"
    elif stage.wait is not None:
        said += f" Shall I set a timer for {wording.duration(stage.wait.minutes)}?"
        pending = Pending("walk", stage.wait, TIMER)
    elif place.at == 0:
        said += ' Say "next" when it is done.'
    cautions = whole.cautions if place.at == 0 else ()
    step = Answer(
        f"Step {place.at + 1} of {len(stages)}", Status.ANSWERED, "walk", said, cautions=cautions, notes=notes
    )
    return Outcome(step, pending=pending, keeps=replace(place, text=stage.text))


def _running(wait: Wait, kitchen: Kitchen) -> str:
    """How long the timer of a step has left, where it was set already."""
    try:
        clocks = timers.load(kitchen.notebook()).timers
    except NotebookError:
        return ""
    left = [timer.left(kitchen.now()) for timer in clocks if timer.name == wait.name]
    lasting = [each for each in left if each > timedelta(0)]
    return f"Its timer has {wording.duration(min(lasting) / timedelta(minutes=1))} left." if lasting else ""


# ---- the steps


def _stages(place: Place, kitchen: Kitchen, talk: Talk) -> tuple[list[Stage], Answer]:
    """All steps of what is walked through as it stands now, from weighing out to the thermometer, and its answer."""
    plan: Plan | None = None if place.answer is not None else talk.plan or place.plan
    if plan is None:
        whole = place.answer or Answer("", Status.ANSWERED, "walk")
    else:
        asked = replace(answers.reopened(plan), asks=frozenset((answers.STEPS,)))
        whole = answers.answer(asked, kitchen, talk).answer
    waiting: Mapping[int, Wait] = {wait.step: wait for wait in whole.waits}
    stages = [Stage(step, waiting.get(at)) for at, step in enumerate(whole.steps)]
    only = plan.items[0].name if plan is not None and len(plan.items) == 1 else "meat"
    # a day begins with the shopping, not with the scale
    weights = "" if whole.topic == TIMETABLE else _weights(whole, only)
    return [*([Stage(weights)] if weights else []), *stages, *_cooking(whole)], whole


def _weights(whole: Answer, only: str) -> str:
    """The first step: everything on the scale, as the answer has it. only: the name of a meat that is no blend."""
    meats = [f"{figure.shown} {figure.name}" for figure in whole.figures if figure.role is Role.COMPONENT]
    spices = [f"{figure.shown} {figure.name}" for figure in whole.figures if figure.role is Role.SEASONING]
    if not meats:
        meats = [f"{figure.shown} {only}" for figure in whole.figures if figure.role is Role.TOTAL][:1]
    return f"Weigh out {wording.listing([*meats, *spices])}." if meats or spices else ""


def _cooking(whole: Answer) -> list[Stage]:
    """The last step is the reminder to cook it through, in its published words."""
    found: list[Caution] = [each for each in whole.cautions if each.topic == COOKING]
    return [Stage(each.text) for each in found[:1]]


# ---- timers


def _timer(wish: str, wait: Wait, kitchen: Kitchen, talk: Talk) -> Outcome:
    if wish == NO_TIMER:
        return _told('No timer, then. Say "next" when it is time.')
    length = timedelta(minutes=wait.minutes)
    begun = timers.TOPIC.answer(timers.Start(wait.name, length), kitchen, talk)
    latest = (
        f" Look at them then; {wording.duration(Fraction(wait.most))} at the latest."
        if wait.most > wait.minutes
        else ""
    )
    headline = f'{begun.answer.headline}{latest} Say "next" when they are ready.' if begun.answer.headline else ""
    return replace(begun, answer=replace(begun.answer, headline=headline))


def _told(text: str, keeps: Place | None = None) -> Outcome:
    return Outcome(Answer("Walk me through it", Status.ANSWERED, "walk", text), keeps=keeps)


TOPIC = WalkTopic()
