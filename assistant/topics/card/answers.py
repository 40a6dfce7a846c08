"""The page that was asked for: shown, or written into the file that the person named."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Figure, Status
from assistant.engine import timetable as engine
from assistant.files import FileRefused, put
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Pending, Talk, Unclear
from assistant.topics.card import calendar, labels, pages
from assistant.topics.card.request import SUFFIXES, Kind, Paper
from assistant.topics.plan.answers import cautions_of, reopened
from assistant.topics.plan.request import Plan
from assistant.topics.plan.restate import understood as restated
from assistant.topics.timetable import answers as meals
from assistant.topics.timetable import telling
from assistant.topics.timetable.request import Meal
from assistant.topics.timetable.telling import Shown

TOPIC = "card"
NOTHING = 'Nothing is on the table yet. Tell me the batch first, such as "3 lb at 80/20 from chuck and suet".'
NO_MEAL = 'There is no timetable yet. Say when you serve, such as "serving 60 at 1 pm on Saturday".'


def answer(paper: Paper, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The page; a batch or meal of the same line is worked out first and stays on the table."""
    if isinstance(paper.first, Unclear):
        return _said(paper, Status.NEEDS_DETAIL, paper.first.question)
    if paper.first is None:
        return _page(paper, kitchen, talk)
    meal = isinstance(paper.first, Meal)
    before = (meals.answer if meal else within.answered)(paper.first, kitchen, talk)
    if before.answer.status is not Status.ANSWERED:
        return before
    talk = replace(talk, plan=before.plan or talk.plan, meal=before.meal or talk.meal, pending=None)
    page = _page(replace(paper, first=None), kitchen, talk)
    return replace(page, plan=before.plan, meal=before.meal, amends=before.amends)


def _page(paper: Paper, kitchen: Kitchen, talk: Talk) -> Outcome:
    if talk.plan is None:
        return _said(paper, Status.NEEDS_DETAIL, NOTHING)
    if paper.kind is Kind.LABEL:
        return _label(paper, kitchen, talk)
    if paper.kind is Kind.CALENDAR:
        return _calendar(paper, kitchen, talk)
    return _card(paper, kitchen, talk)


# ---- the recipe card


def _card(paper: Paper, kitchen: Kitchen, talk: Talk) -> Outcome:
    batch = within.answered(reopened(talk.plan), kitchen, replace(talk, pending=None))
    batched = batch.answer if batch.answer.status is Status.ANSWERED else None
    shown = _meal(kitchen, talk)
    if batched is None and shown is None:
        return batch
    timed: Answer | None = None
    moments: tuple[Figure, ...] = ()
    if shown is not None:
        moments = telling.moments(shown)
        timed = replace(telling.told(shown), cautions=meals.cautions(shown))
    title = restated(talk.plan).removeprefix("Plan ")
    card = pages.card_of(title[:1].upper() + title[1:], wording.day(kitchen.now()), batched, timed, moments)
    whole = timed or batched
    assert whole is not None
    markdown = pages.as_markdown(card)
    if not paper.file:
        lines = markdown if paper.markdown else pages.as_text(card)
        given = replace(whole, topic=TOPIC, understood=_understood(paper, talk), headline="", notes=(), document=lines)
        return Outcome(given)
    kind = SUFFIXES[Path(paper.file).suffix.lower()]
    lines = markdown if kind == "markdown" else pages.broken(pages.as_text(card))
    return _written(paper, kitchen, talk, "\n".join((*lines, "")).encode())


def _meal(kitchen: Kitchen, talk: Talk) -> Shown | None:
    """The timetable of the meal on the table; None where there is none, or it cannot be told any more."""
    if talk.meal is None or talk.meal.clock is None:
        return None
    shown = meals.worked_back(talk.meal, kitchen, replace(talk, pending=None))
    return None if isinstance(shown, Outcome) else shown


# ---- the label


def _label(paper: Paper, kitchen: Kitchen, talk: Talk) -> Outcome:
    plan: Plan = talk.plan
    batch = within.answered(reopened(plan), kitchen, replace(talk, pending=None)).answer
    made = labels.label_of(plan, batch.figures if batch.status is Status.ANSWERED else (), kitchen, paper)
    if made is None:
        return _said(paper, Status.NEEDS_DETAIL, "How much is in a pack? For example: label for 2 lb packs.")
    if paper.file:
        return _written(paper, kitchen, talk, "\n".join((*made.lines, "")).encode())
    given = Answer(
        understood=_understood(paper, talk),
        status=Status.ANSWERED,
        topic=TOPIC,
        headline=f"{wording.counted(made.packs, 'label')} like this:" if made.packs > 1 else "",
        figures=made.figures,
        cautions=cautions_of(plan, (), kitchen),
        notes=made.notes,
        document=made.lines,
    )
    return Outcome(given)


# ---- the calendar


def _calendar(paper: Paper, kitchen: Kitchen, talk: Talk) -> Outcome:
    if talk.meal is None:
        return _said(paper, Status.NEEDS_DETAIL, NO_MEAL)
    shown = meals.worked_back(talk.meal, kitchen, replace(talk, pending=None))
    if isinstance(shown, Outcome):
        return shown
    if not paper.file:
        question = "Under what file name? For example: supper.ics."
        asked = _said(paper, Status.NEEDS_DETAIL, question)
        return replace(asked, pending=Pending(TOPIC, paper, "file"))
    late = engine.late(shown.table, shown.now)
    if late:
        missed = f"{telling.DONE[late[0].kind][1]} should have begun at {telling.when(late[0].start, shown.now)}"
        return _said(paper, Status.IMPOSSIBLE, f"Nothing is written: {missed}. Say when you serve instead.")
    return _written(paper, kitchen, talk, calendar.entries(shown))


# ---- saying and writing


def _written(paper: Paper, kitchen: Kitchen, talk: Talk, content: bytes) -> Outcome:
    """Into the folder of this call, under the name that the person gave; never over another file."""
    try:
        path = put(kitchen.folder or Path.cwd(), paper.file, content)
    except FileRefused as refused:
        return _said(paper, Status.IMPOSSIBLE, f"Nothing is written: {refused}.")
    what = {Kind.CARD: "recipe card", Kind.LABEL: "label", Kind.CALENDAR: "timetable"}[paper.kind]
    told = Answer(
        understood=_understood(paper, talk),
        status=Status.ANSWERED,
        topic=TOPIC,
        headline=f"The {what} is written to {path.name}.",
        notes=() if kitchen.folder is not None else (f"It is in {path.parent}.",),
    )
    return Outcome(told)


def _said(paper: Paper, status: Status, message: str) -> Outcome:
    return Outcome(Answer(_understood(paper, None), status, TOPIC, message=message))


def _understood(paper: Paper, talk: Talk | None) -> str:
    what = {Kind.CARD: "Recipe card", Kind.LABEL: "Label", Kind.CALENDAR: "Calendar entries"}[paper.kind]
    batch = "" if talk is None or talk.plan is None else f": {restated(talk.plan).removeprefix('Plan ')}"
    return f"{what}{batch}" + (f"; into {paper.file}" if paper.file else "")
