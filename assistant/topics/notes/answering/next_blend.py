"""Which blend to try next, learned from the ratings."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import data, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import next_blend as engine
from assistant.notebook import Batch
from assistant.notebook.records import as_weighed
from assistant.topics.base import Kitchen, Outcome, Talk
from assistant.topics.notes import request
from assistant.topics.notes.answering.saying import answered_with, asks, ends
from assistant.topics.plan import meat
from assistant.topics.plan.request import Item, Plan

_TOLD = 8
"""Ratings told where it is asked how a proposal was found."""


def next_to_try(_wish: request.Next, kitchen: Kitchen, _talk: Talk) -> Outcome:
    """The blend to try next, and why."""
    tasted = [
        _tasted(batch) for batch in map(as_weighed, kitchen.notebook().rated()) if batch.fat is not None and batch.grams
    ]
    offered = _offered(kitchen)
    if len(tasted) < engine.FEWEST_RATINGS or not offered:
        return asks(
            f"It takes {engine.FEWEST_RATINGS} rated blends to learn from, and there "
            f"{'is 1' if len(tasted) == 1 else f'are {len(tasted)}'} so far. Save batches and rate them, such as "
            '"rate the last one 7".'
        )
    found = engine.next_blend(tasted, offered)
    if isinstance(found, engine.TooFew):
        return asks(f"It takes {found.wanted} rated blends to learn from, and there are {found.have} so far.")
    if isinstance(found, engine.NothingNew):
        low, high = (wording.percent(end) for end in found.reach)
        return ends(
            Status.IMPOSSIBLE,
            f"These cuts give nothing new: they reach {low} to {high} fat and all of that was tried. "
            "Name another cut in stock.",
        )
    figures = [
        Figure(cut, Role.RATIO, float(share * 100), "%", shown=wording.percent(share * 100, 0))
        for cut, share in found.shares
    ]
    figures.append(Figure("fat", Role.FAT, float(found.fat), "%", shown=wording.percent(found.fat)))
    expected = Figure(
        "expected rating",
        Role.RATING,
        found.mean * 10,
        "1",
        max(0.0, (found.mean - 2 * found.sd) * 10),
        min(10.0, (found.mean + 2 * found.sd) * 10),
        source="a Gaussian process over your own ratings",
        shown=f"about {wording.number(found.mean * 10)}/10",
    )
    blend = wording.listing([f"{wording.percent(share * 100, 0)} {cut}" for cut, share in found.shares])
    said = f"Try {blend}, {wording.lean_fat(found.fat)}, because {_why(found)}."
    notes = (
        f"Learned from {wording.counted(found.used, 'rated batch', 'rated batches')}; "
        "a rough model of taste, not a promise.",
        'Say "3 kg of that" for the weights.',
    )
    answer = answered_with("Which blend to try next", said, (*figures, expected), notes)
    return Outcome(replace(answer, working=_working(tasted, offered)), plan=_plan(found, offered))


def _working(tasted: list[engine.Tasted], offered: list[engine.Offered]) -> tuple[str, ...]:
    """What it was learned from, and by which published method."""
    marks = [f"{wording.percent(one.fat)} fat {wording.number(one.score * 10)}/10" for one in tasted[-_TOLD:]]
    least, most = wording.percent(engine.LEAST_FAT), wording.percent(engine.MOST_FAT)
    return (
        f"{'Tasted' if len(tasted) <= _TOLD else f'The last {_TOLD} tasted'}: {wording.listing(marks)}.",
        f"To choose from: up to three of {wording.listing([cut.cut for cut in offered])}, {least} to {most} fat.",
        "Method: ratings as a Gaussian process over fat and shares of the cuts (Rasmussen and Williams 2006); of all "
        "blends the one of largest expected improvement on the best tasted (Jones, Schonlau and Welch 1998).",
    )


def _why(found: engine.Proposal) -> str:
    """What speaks for the proposal, in half a sentence: where the best lie, what is new in it, and what it is for."""
    low, high = (wording.percent(end) for end in found.best_fats)
    best = f"your three best lie at {low} fat" if low == high else f"your three best lie between {low} and {high} fat"
    new = [cut for cut, _ in found.shares if cut in found.untried]
    fresh = f", you have not tried {wording.listing(new, 'or')}" if new else ""
    if found.aim is engine.Aim.BETTER:
        return f"{best}{fresh}, and it promises to be at least as good as the best so far"
    return f"{best}{fresh}, and with little known near it, it teaches most"


def _plan(found: engine.Proposal, offered: list[engine.Offered]) -> Plan:
    """The proposal as a batch that only lacks its weight."""
    fats = {cut.cut: cut.fat for cut in offered}
    items = [Item(cut, _keys(cut), fat=fats[cut], share=share) for cut, share in found.shares]
    return Plan(items=tuple(items))


def _tasted(batch: Batch) -> engine.Tasted:
    shares: dict[str, Fraction] = {}
    for part in batch.parts:
        shares[part.cut] = shares.get(part.cut, Fraction(0)) + part.grams / batch.grams
    return engine.Tasted(shares, batch.fat or Fraction(0), batch.score or Fraction(0))


def _offered(kitchen: Kitchen) -> list[engine.Offered]:
    """The cuts in stock; with none there, the cuts of the rated batches. Only those whose fat is known."""
    fats: dict[str, Fraction] = {}
    for item in kitchen.notebook().stock():
        if not item.grams:
            continue  # its fat or price is known, and there is none of it
        meats, _ = meat.find(Plan(items=(Item(item.cut, _keys(item.cut), fat=item.fat),)), kitchen.country, {})
        if meats and meats[0].fat is not None:
            fats[item.cut] = meats[0].fat
    if not fats:
        for batch in kitchen.notebook().rated():
            fats.update({part.cut: part.fat for part in batch.parts if part.fat is not None})
    return [engine.Offered(cut, fat) for cut, fat in list(fats.items())[: engine.MOST_CUTS]]


def _keys(cut: str) -> tuple[str, ...]:

    return data.cut_names().get(cut.lower(), ())
