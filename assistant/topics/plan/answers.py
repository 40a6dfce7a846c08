"""The answer to a batch: its parts worked out in turn, put together, or the one question that is missing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.engine import portion, season
from assistant.errors import BadInput
from assistant.topics.base import Kitchen, Outcome, Pending, Talk
from assistant.topics.cautions import reminders
from assistant.topics.plan import (
    blend,
    correcting,
    ends,
    fat_in,
    larder,
    mass,
    meat,
    money,
    portions,
    seasonings,
    steps,
)
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.own import own_fats
from assistant.topics.plan.request import Plan
from assistant.topics.plan.restate import understood
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit

STEPS: Final = "steps"
"""Among the asks of a plan: the steps are wanted, also where one cut makes no blend."""
HEAVIEST = Fraction(20_000_000)
"""Twenty tonnes: above any kitchen; a weight over it is a slip of the finger."""


def answer(plan: Plan, kitchen: Kitchen, talk: Talk) -> Outcome:
    """The plan worked out, at both ends of a range that was said. Never raises for what people can say."""
    both = ends.ends(plan)
    if both is None:
        return _answer(plan, kitchen, talk)
    upper_first = ends.buys_for_more(plan)
    first, other = (_answer(end, kitchen, talk) for end in (reversed(both) if upper_first else both))
    return ends.told(first, other, plan, upper_first=upper_first)


def _answer(plan: Plan, kitchen: Kitchen, talk: Talk) -> Outcome:
    fault = _impossible_amount(plan)
    if fault:
        return _refused(plan, Section(impossible=True, message=fault), kitchen)
    if plan.question:
        return _asked(plan, Section(asks="people", message=plan.question))
    meats, doubt = meat.find(plan, kitchen.country, _choices(talk), own_fats(kitchen) if plan.items else None)
    if doubt is not None and plan.target is not None:
        return _asked(plan, Section(asks=f"cut:{doubt.word}", message=doubt.question))
    try:
        priced, prices = larder.with_prices(plan, kitchen)
        if prices:
            meats, _ = meat.find(priced, kitchen.country, _choices(talk), own_fats(kitchen))
        sections = _worked_out(priced, meats, kitchen)
    except BadInput as slip:
        return _refused(plan, Section(impossible=True, message=f"That cannot be worked out: {slip}."), kitchen)
    stopped = next((section for section in sections if section.impossible), None)
    if stopped is not None:
        return _refused(plan, stopped, kitchen, meats)
    asking = next((section for section in sections if section.asks), None)
    if asking is not None:
        return _asked(plan, asking)
    if not any(section.figures for section in sections):
        missing = _what_is_missing(plan, meats)
        more = larder.hint(kitchen) if missing.asks == "cuts" else ""
        return _asked(plan, replace(missing, message=missing.message + more))
    outcome = _given(plan, sections, meats, kitchen)
    outcome = replace(outcome, answer=_rounded_up(plan, outcome.answer))
    shortfalls = larder.shortfalls(outcome.answer.figures, kitchen)
    notes = (*prices, *outcome.answer.notes, *shortfalls, *_loads(plan, sections, kitchen))
    return replace(outcome, answer=replace(outcome.answer, notes=notes))


def _rounded_up(plan: Plan, answer: Answer) -> Answer:
    """The meat in whole kilos or pounds beside the exact weight, where that was wished; what is to be bought if that was
    told."""
    weights = [f for role in (Role.PURCHASE, Role.TOTAL) for f in answer.figures if f.role is role]
    if not plan.round_up or not weights or isinstance(weights[0].value, str):
        return answer
    exact = units.to(Fraction(weights[0].value).limit_denominator(10**6), weights[0].unit, plan.round_up)
    whole = units.grams(Fraction(math.ceil(exact)), plan.round_up)
    shown = wording.both(whole, "us" if plan.round_up == "lb" else "metric")
    figure = Figure("rounded up", Role.PURCHASE, float(math.ceil(exact)), plan.round_up, shown=shown)
    return replace(answer, headline=f"{answer.headline} Rounded up: {shown}.", figures=(*answer.figures, figure))


def _loads(plan: Plan, sections: Sequence[Section], kitchen: Kitchen) -> tuple[str, ...]:
    """How to share a batch out over the kitchen's bowl, where it does not hold all of it and no other was spoken of."""
    holds = kitchen.settings.get("bowl_grams")
    totals = [f for s in sections for f in s.figures if f.role is Role.TOTAL and not isinstance(f.value, str)]
    if not holds or plan.bowl is not None or not totals or isinstance(totals[0].value, str):
        return ()
    whole = units.grams(Fraction(totals[0].value).limit_denominator(10**9), totals[0].unit)
    if whole <= Fraction(holds):
        return ()
    loads, speak = portion.bowls(whole, Fraction(holds)), system(plan, kitchen.units)
    return (
        f"More than your bowl holds: mix it in {wording.counted(loads.count, 'load')} of {wording.both(loads.each, speak)}.",
    )


def weighed(plan: Plan, kitchen: Kitchen, talk: Talk) -> tuple[tuple[Meat, ...], list[Fraction]] | None:
    """The meats of a plan with the grams of each; None where it has no blend to weigh out, or has to be asked about."""
    meats, doubt = meat.find(plan, kitchen.country, _choices(talk), own_fats(kitchen) if plan.items else None)
    if doubt is not None or not meats or _impossible_amount(plan):
        return None
    try:
        blended = correcting.section(plan, meats, kitchen.units) or blend.section(plan, meats, kitchen.units)
    except BadInput:
        return None
    if blended is not None and (blended.impossible or blended.asks):
        return None
    weights = _weights(blended, meats, Fraction(1))
    return None if weights is None or not sum(weights) else (meats, weights)


def _choices(talk: Talk) -> dict[str, str]:
    return {name[4:]: key for name, key in talk.settings.items() if name.startswith("cut:")}


def _impossible_amount(plan: Plan) -> str:
    """The first amount that nobody can weigh: nothing, less than nothing, or tonnes."""
    measures = [plan.batch, *(item.weight for item in plan.items), plan.patties.size if plan.patties else None]
    for measure in measures:
        if measure is None:
            continue
        if measure.value <= 0:
            return f"A weight of {float(measure.value):g} {measure.unit} is nothing to grind. How much do you want to make?"
        if grams(measure) > HEAVIEST:
            return f"{float(measure.value):,.6g} {measure.unit} is more than any kitchen grinds. Is the number right?"
    for item in plan.items:
        if item.fat is not None and not 0 <= item.fat <= 100:
            return f"{item.name.capitalize()} cannot be {float(item.fat):g}% fat: fat runs from 0 to 100%."
    for loss in plan.losses:
        if loss.amount.unit == "percent" and not 0 <= loss.amount.value < 100:
            return f"A loss of {float(loss.amount.value):g}% leaves nothing: it has to be under 100%."
    for pinch in plan.seasonings:
        if pinch.amount is not None and pinch.amount.value < 0:
            return f"Less than no {pinch.name} cannot be added."
        if pinch.amount is not None and pinch.amount.unit == "percent" and pinch.amount.value >= 100:
            return f"{float(pinch.amount.value):g}% {pinch.name} would be all {pinch.name} and no meat."
    return ""


def _worked_out(plan: Plan, meats: Sequence[Meat], kitchen: Kitchen) -> list[Section]:
    sections: list[Section] = []
    plan = money.batch_for_budget(plan, meats)
    step = kitchen.settings.get("scale_grams")
    blended = correcting.section(plan, meats, kitchen.units) or blend.section(
        plan, meats, kitchen.units, Fraction(step) if step else None
    )
    if blended is not None:
        sections.append(blended)
        if blended.impossible or blended.asks:
            return sections
    fatty = fat_in.section(plan, blended, kitchen.units)
    if fatty is not None:
        sections.append(fatty)
    if fatty is not None and not plan.items:
        return sections
    whole = _meat_grams(plan, meats, blended, kitchen)
    fat = blended.fat if blended is not None else (meats[0].fat if len(meats) == 1 else None)
    species = _species(plan, meats)
    part = portions.section(plan, whole, fat, next(iter(species), "beef"), kitchen.units, _components(blended))
    if (part is not None and part.asks and whole is None and money.prices_a_patty(plan)) or money.only_shares(plan):
        part = None
    if part is not None:
        sections.append(part)
        if whole is None:
            whole = part.grams
    spiced = seasonings.section(plan, whole, _salt_in(meats, blended), kitchen.country, kitchen.units)
    if spiced is not None:
        sections.append(spiced)
    weighed = (f.name for s in sections for f in s.figures if f.role == "total")
    if whole is not None and sections and not plan.finished and all(name == "mixed weight" for name in weighed):
        sections.append(_total_of(plan, whole, kitchen))
    weights = _weights(blended, meats, whole)
    count = next((f.value for s in sections for f in s.figures if f.role == "patty_count"), None)
    priced = money.section(
        plan, meats, weights, None if count is None else Fraction(str(count)), kitchen.country, kitchen.units
    )
    if priced is not None and priced.asks and any(section.figures for section in sections):
        sections.append(Section(notes=(f"For the cost: {priced.message[:1].lower()}{priced.message[1:]}",)))
    elif priced is not None:
        sections.append(priced)
    return sections


def _total_of(plan: Plan, whole: Fraction, kitchen: Kitchen) -> Section:
    """The weight of meat that the other figures are for."""
    speak = system(plan, kitchen.units)
    unit = weight_unit(plan, speak, whole)
    figure = Figure("meat", Role.TOTAL, in_unit(whole, unit), unit, shown=wording.both(whole, speak))
    return Section(figures=(figure,))


def _meat_grams(plan: Plan, meats: Sequence[Meat], blended: Section | None, kitchen: Kitchen) -> Fraction | None:
    if blended is not None and blended.grams is not None:
        return blended.grams
    if plan.batch is not None:
        return grams(plan.batch)
    weighed = mass.weighed(plan)
    if weighed is not None and len(meats) == sum(item.weight is not None for item in plan.items):
        return weighed
    if plan.patties is not None and plan.patties.count is not None and not plan.seasonings:
        return None
    return mass.wanted(plan, system(plan, kitchen.units))


def _components(blended: Section | None) -> dict[str, Fraction]:
    """Grams of each meat of the blend, by name."""
    return {
        figure.name: units.grams(Fraction(figure.value), figure.unit)
        for figure in (blended.figures if blended is not None else ())
        if figure.role == "component" and not isinstance(figure.value, str)
    }


def _weights(blended: Section | None, meats: Sequence[Meat], whole: Fraction | None) -> list[Fraction] | None:
    if blended is not None and blended.grams is not None:
        return [
            units.grams(Fraction(figure.value), figure.unit)
            for figure in blended.figures
            if figure.role == "component" and not isinstance(figure.value, str)
        ]
    if len(meats) == 1 and whole is not None:
        return [whole]
    said = [grams(m.item.weight) for m in meats if m.item.weight is not None]
    return said if len(said) == len(meats) and said else None


def _salt_in(meats: Sequence[Meat], blended: Section | None) -> Fraction:
    """Percent of salt that cured or seasoned meats bring to the whole batch."""
    weights = _weights(blended, meats, Fraction(1))
    if not weights or not sum(weights):
        return Fraction(0)
    salt = Fraction(0)
    for one, weight in zip(meats, weights, strict=False):
        if one.row is not None and one.row.salted and one.row.sodium is not None:
            salt += season.salt_from_sodium(weight, one.row.sodium)
    return salt / sum(weights) * 100


def _species(plan: Plan, meats: Sequence[Meat]) -> set[str]:
    return {one.species for one in meats if one.species} | {word for word in plan.species if word}


# ---- putting it together


def _given(plan: Plan, sections: Sequence[Section], meats: Sequence[Meat], kitchen: Kitchen) -> Outcome:
    told = [section for section in sections if section.figures]
    headline = " ".join(section.headline for section in told if section.headline)
    notes = tuple(note for section in sections for note in section.notes)
    if all(section.fat is None for section in told):
        notes += tuple(one.note for one in meats if one.note)
    blended = next((section for section in told if section.fat is not None), None)
    ground = blended is not None and bool(blended.steps)
    grind = not ground and ((blended is not None and len(meats) > 1) or STEPS in plan.asks)
    whole = next((section.grams for section in told if section.grams is not None), None)
    speak = system(plan, kitchen.units)
    work = steps.Work(plan, meats, _species(plan, meats), whole or mass.weighed(plan), kitchen.settings, speak)
    formed = [section for section in told if any(f.role.value.startswith("patty") for f in section.figures)]
    mixing = [step for section in told if section not in formed for step in section.steps]
    doing = steps.of_batch(work, mixing, [step for section in formed for step in section.steps], grind=grind)
    given = Answer(
        understood=understood(plan),
        status=Status.ANSWERED,
        topic=_topic(told),
        headline=headline,
        figures=_once(told),
        steps=tuple(step.text for step in doing),
        waits=steps.waits(doing),
        cautions=cautions_of(plan, meats, kitchen),
        notes=notes,
        working=tuple(line for section in told for line in section.working)
        + ((steps.SOURCES,) if grind and doing else ()),
    )
    return Outcome(given, plan=plan)


def _topic(sections: Sequence[Section]) -> str:
    roles = {figure.role.value for section in sections for figure in section.figures}
    if "component" in roles:
        return "blend"
    if "seasoning" in roles:
        return "season"
    if roles & {"cost", "price"} and not roles & {"patty_count", "patty_weight"}:
        return "cost"
    return "portion"


def _once(sections: Sequence[Section]) -> tuple[Figure, ...]:
    """All figures; a batch weight said by two sections is shown once. What one section says twice (two lots of the
    same mix, of one weight) is two figures, or the parts would not make the batch."""
    told: list[Figure] = []
    seen: set[tuple[str, Role, float | str]] = set()
    for section in sections:
        new = [figure for figure in section.figures if _same_again(figure) not in seen]
        told += new
        seen.update(map(_same_again, new))
    return tuple(told)


def _same_again(figure: Figure) -> tuple[str, Role, float | str]:
    value = round(figure.value, 6) if isinstance(figure.value, float) else figure.value
    return figure.name, figure.role, value


def cautions_of(plan: Plan, meats: Sequence[Meat], kitchen: Kitchen) -> tuple[Caution, ...]:
    """The reminders that a batch touches."""
    species = _species(plan, meats)
    touches = {"cook_temperature", "keep_cold", *plan.touches}
    if any(one.row is not None and one.row.kind == "cured" for one in meats):
        touches.add("cured_bacon")
    if any(pinch.key == "cure" for pinch in plan.seasonings):
        touches.add("curing_salt")
    if any(group.sort == "kid" for group in plan.groups):
        touches.add("at_risk")
    return reminders(species, kitchen.country, touches=touches)


def _refused(plan: Plan, section: Section, kitchen: Kitchen, meats: Sequence[Meat] = ()) -> Outcome:
    refusal = Answer(
        understood=understood(plan),
        status=Status.IMPOSSIBLE,
        topic="blend" if plan.items else "portion",
        message=section.message,
        figures=section.figures,
        notes=section.notes,
        cautions=cautions_of(plan, meats, kitchen) if meats else (),
    )
    return Outcome(refusal, plan=plan if plan.items else None)


def _asked(plan: Plan, section: Section) -> Outcome:
    question = Answer(
        understood=understood(plan),
        status=Status.NEEDS_DETAIL,
        topic="blend" if plan.items else "portion",
        message=section.message,
        figures=section.figures,
        notes=section.notes,
    )
    return Outcome(question, pending=Pending("plan", plan, section.asks))


def _what_is_missing(plan: Plan, meats: Sequence[Meat]) -> Section:
    """The question for a request that says too little to work out anything."""
    if plan.too and plan.items and plan.target is None:
        return Section(asks="target", message="What lean to fat do you want it to be, and what have you got to add?")
    if plan.too:
        return Section(
            asks="mix",
            message="How much is there, how fat is it now (say 4 lb of 70/30), and what do you want it to be?",
        )
    if plan.target is not None and not meats:
        return Section(asks="cuts", message="From which cuts, and how much of it?")
    if len(meats) > 1 and plan.batch is None:
        return Section(asks="weight", message="How much of it, and at what lean to fat (such as 80/20)?")
    if len(meats) > 1:
        return Section(asks="target", message="At what lean to fat (such as 80/20), or in what parts?")
    if "cost" in plan.asks:
        return Section(asks="price", message="The cost of what? Name the cuts, their weights and prices.")
    if plan.seasonings:
        return Section(asks="rate", message="How much per lb or kg, and for how much meat?")
    if plan.patties is not None or "split" in plan.asks:
        return Section(asks="weight", message="How much meat is there, and how heavy should each patty be?")
    if meats and (meats[0].item.weight is not None or plan.batch is not None):
        message = (
            f"What would you like to make of the {meats[0].name}? Say a fat to bring it to, a size of patty or a salt."
        )
        return Section(asks="target", message=message)
    if meats:
        return Section(asks="weight", message=f"How much {meats[0].name}, and what would you like to make of it?")
    if plan.batch is not None:
        return Section(
            asks="cuts", message="Of what, and what would you like: a blend (say 80/20), patties, seasoning?"
        )
    if "how_much" in plan.asks:
        return Section(asks="people", message="For how many people, or how many patties of what weight?")
    return Section(asks="all", message='What are you making? For example "3 lb at 80/20 from chuck and suet".')


def reopened(plan: Plan) -> Plan:
    """A plan as it is shown again: without the questions of the turn that made it."""
    return replace(plan, asks=frozenset(), touches=frozenset())
