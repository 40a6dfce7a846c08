"""Salt, spice and water for a batch: by rate, by percent, or scaled from what was written; in grams and in spoons."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role
from assistant.data.seasonings import Seasoning
from assistant.engine import season
from assistant.language.phrases import Measure
from assistant.topics.plan.request import Pinch, Plan
from assistant.topics.plan.section import Section, grams, in_unit, system, weight_unit

SPOON_COUNTRY = {"us": "us", "au": "au"}
_SPOONS = {
    "tsp": Fraction(1),
    "tbsp": Fraction(3),
    "pinch": Fraction(1, 16),
    "dash": Fraction(1, 8),
    "cup": Fraction(48),
}
_WEIGHTS = ("g", "kg", "oz", "lb", "mg")
_MOST_SPOONS = 48
"""Teaspoons in a cup: above it nobody counts spoons."""
_USUAL_SPOONS = {
    "black pepper": (Fraction(1, 2), "pepper"),
    "garlic powder": (Fraction(1, 2), "garlic powder"),
    "cumin seed": (Fraction(1, 8), "cumin"),
}
"""Teaspoons to a pound of burger meat where the cook has no rate. Common practice, no source."""


def section(plan: Plan, meat: Fraction | None, salt_in: Fraction, country: str, default_system: str) -> Section | None:
    """The seasonings of a batch of so many grams of meat; salt_in: percent of salt already in the meat."""
    if not plan.seasonings:
        return None
    speak = system(plan, default_system)
    spoons = plan.spoons or SPOON_COUNTRY.get(country, "metric")
    bare = [pinch for pinch in plan.seasonings if pinch.amount is None]
    if bare:
        return _rate_missing(bare, meat, spoons)
    if meat is None and plan.per is not None and all(p.per is not None or _is_percent(p) for p in plan.seasonings):
        # "16 g/kg salt, what is that a pound": the weight asked about is all the meat there is
        meat = grams(plan.per)
        plan = replace(plan, per=None)
    if meat is None and _asks_percent(plan) and plan.seasonings[0].per is not None:
        # "a tsp of salt per lb as a percent": of the pound that the rate is told by
        meat = grams(plan.seasonings[0].per)
    if plan.finished and meat is not None:
        meat = _meat_in(plan, meat)
    said_salt = plan.seasonings
    if salt_in > 0:
        plan = replace(plan, seasonings=tuple(_counting(p, salt_in) for p in plan.seasonings))
    counted = plan.seasonings != said_salt
    saltier = next((p for p in plan.seasonings if _is_over(p)), None)
    if saltier is not None:
        return _too_much_in_it(saltier, meat, speak)
    factor = _factor(plan, meat)
    lines: list[Figure] = []
    notes: list[str] = []
    shown: list[str] = []
    lead = ""
    weights = _weights(plan, meat, factor, spoons)
    if weights is None:
        return Section(asks="weight", message="How much meat is it for?")
    mixed = Fraction(0)
    for pinch, amount in zip(plan.seasonings, weights, strict=True):
        if plan.units == "us" and amount.unit in ("g", "kg"):
            # "in oz" was said of it
            ounces = units.to(amount.value, amount.unit, "oz")
            high = None if amount.high is None else units.to(amount.high, amount.unit, "oz")
            amount = Measure(ounces, "oz", high)
        figures, text, mass, note = _one(pinch, amount, spoons)
        lines += figures
        shown.append(text)
        mixed += mass or Fraction(0)
        notes += note
    if meat and _asks_percent(plan):
        shares = _as_percent(plan, meat, weights, spoons)
        lines += shares
        shown += [f"{share.shown} of the {share.name.split(' of the ')[-1]}" for share in shares]
    if meat and "is_it_much" in plan.asks:
        shares = _as_percent(plan, meat, weights, spoons)
        lines += shares
        lead = _beside_usual(shares)
        notes += [
            f"For burgers {usual} is usual (common practice, no source)."
            if (usual := _usual(pinch, meat, spoons))
            else f"How much {pinch.name} is usual I do not know."
            for pinch in plan.seasonings
        ]
    if meat and plan.per is not None:
        rates = _as_rate(plan, meat, weights, spoons)
        lines += rates
        asked = [
            f"{rate.shown} {rate.name}"
            for rate in rates
            if rate.role is Role.SEASONING and "by weight" not in rate.name
        ]
        lead = f"{wording.listing(asked)}: " if asked else ""
    notes += [
        f"That much more, on top of the {wording.percent(pinch.already.value, 2)} that is in it."
        for pinch in said_salt
        if pinch.already is not None
    ]
    if counted and meat is not None:
        held = season.of_meat(meat, salt_in)
        lines.append(
            Figure(
                "salt in the meat already",
                Role.SEASONING,
                float(held),
                "g",
                source="sodium, USDA SR28",
                shown=wording.weight(held, "metric"),
            )
        )
        notes.append(
            f"The meat already holds {wording.weight(held, 'metric')} of salt ({wording.percent(salt_in, 2)}, from its "
            "sodium): counted, this is what is still to add."
        )
    in_all = "total" in plan.asks and meat is not None and mixed > meat / 50
    finished = any(_is_percent(p) for p in plan.seasonings) or "of_total" in plan.asks or in_all
    if meat is not None and mixed and meat > 0 and finished:
        unit = weight_unit(plan, speak, meat)
        lines.append(
            Figure(
                "mixed weight", Role.TOTAL, in_unit(meat + mixed, unit), unit, shown=wording.both(meat + mixed, speak)
            )
        )
    if plan.finished and meat is not None:
        # the batch that was said is the mix; how much meat goes into it is what is worked out
        unit = weight_unit(plan, speak, meat)
        lines.append(Figure("meat", Role.TOTAL, in_unit(meat, unit), unit, shown=wording.both(meat, speak)))
    notes += _salt_notes(plan, meat, weights, Fraction(0) if counted else salt_in, spoons)
    for_what = f" for {wording.both(meat, speak)} of meat" if meat is not None else ""
    return Section(
        headline=_capital(f"{lead}{wording.listing(shown)}{for_what}.") if shown else "",
        figures=tuple(lines),
        notes=tuple(notes),
        steps=_steps(plan),
        working=tuple(_working(pinch, meat, speak) for pinch in plan.seasonings),
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _counting(pinch: Pinch, salt_in: Fraction) -> Pinch:
    """A wish for so much salt in all, by percent or by grams a kilo, with what the meat brings taken off."""
    assert pinch.amount is not None
    if "salt" not in pinch.key or pinch.already is not None or pinch.of_total:
        return pinch
    if pinch.amount.unit == "percent":
        return replace(pinch, already=Measure(salt_in, "percent"))
    if pinch.per is not None and pinch.amount.unit in _WEIGHTS and pinch.amount.high is None:
        percent = units.grams(pinch.amount.value, pinch.amount.unit) / grams(pinch.per) * 100
        return replace(pinch, amount=Measure(percent, "percent"), per=None, already=Measure(salt_in, "percent"))
    return pinch


def _is_over(pinch: Pinch) -> bool:
    held = pinch.already
    return held is not None and pinch.amount is not None and held.value > pinch.amount.value


def _too_much_in_it(pinch: Pinch, meat: Fraction | None, speak: str) -> Section:
    """More is in it than is wanted: nothing can be taken out, but meat can be added."""
    assert pinch.amount is not None and pinch.already is not None
    held, wanted = pinch.already.value, pinch.amount.value
    message = f"There is more {pinch.name} in it already: {wording.percent(held, 2)}, not {wording.percent(wanted, 2)}."
    figures: tuple[Figure, ...] = ()
    if meat is not None and wanted > 0:
        more = meat * (held - wanted) / wanted
        unit = weight_unit(Plan(), speak, more)
        figures = (Figure("meat to add", Role.ADD, in_unit(more, unit), unit, shown=wording.both(more, speak)),)
        message += (
            f" It cannot be taken out; {wording.both(more, speak)} more meat without {pinch.name} thins it to that."
        )
    return Section(impossible=True, message=message, figures=figures)


def _rate_missing(bare: list[Pinch], meat: Fraction | None, spoons: str) -> Section:
    """The question for a rate, with what is usual for burgers beside it; which of it is wanted stays the cook's choice."""
    hints = [hint for hint in (_usual(pinch, meat, spoons) for pinch in bare) if hint]
    usual = f" For burgers {wording.listing(hints)} is usual (common practice, no source)." if hints else ""
    names = wording.listing([pinch.name for pinch in bare])
    return Section(
        asks="rate", message=f"At what rate: how much {names} per lb or kg, or what percent of the meat?{usual}"
    )


def _beside_usual(shares: list[Figure]) -> str:
    """Whether the salt is more or less than burgers usually have; "" without salt."""
    level = data.salt_levels().get("burger")
    salt = next((share for share in shares if "salt" in share.name), None)
    if salt is None or level is None or not isinstance(salt.value, float):
        return ""
    if salt.value > level.high:
        told = "more than is usual for burgers"
    else:
        told = "less than is usual for burgers" if salt.value < level.low else "as is usual for burgers"
    return f"{salt.shown} salt, {told}: "


def _usual(pinch: Pinch, meat: Fraction | None, spoons: str) -> str:
    """What is usual of a seasoning in burgers, and what it comes to for the meat there is; "" where nothing is known."""
    level = data.salt_levels().get("burger")
    if pinch.key in ("table salt", "salt", "kosher salt", "sea salt") and level is not None:
        text = f"{wording.number(level.low, 2)} to {wording.number(level.high, 2)}% salt"
        if meat is not None and meat > 0:
            low, high = season.of_meat(meat, level.low), season.of_meat(meat, level.high)
            text += f" ({wording.weight(low, 'metric')} to {wording.weight(high, 'metric')})"
        return text
    if pinch.key not in _USUAL_SPOONS:
        return ""
    rate, name = _USUAL_SPOONS[pinch.key]
    text = f"{wording.spoons([(rate, 'tsp')])} {name} a pound"
    if meat is not None and meat > 0:
        spooned = Measure(season.by_rate(meat, rate, units.grams(1, "lb")), "tsp")
        weight = _spoon_mass(data.seasonings().get(pinch.key), spooned, spoons)
        by_weight = f", {wording.weight(weight, 'metric')}" if weight is not None else ""
        filled = _filled(data.seasonings().get(pinch.key), spooned, spoons)
        text += f" ({filled.text if filled is not None else ''}{by_weight})"
    return text


def _meat_in(plan: Plan, finished: Fraction) -> Fraction:
    """Grams of meat in so much finished mix: with s % of the finished weight and m % of the meat in seasonings, the
    finished weight is meat * (1 + m / 100) / (1 - s / 100)."""
    of_finished = sum(
        (p.amount.value for p in plan.seasonings if p.amount and _is_percent(p) and p.of_total), Fraction(0)
    )
    of_meat = sum((_of_meat(p) for p in plan.seasonings if not p.of_total), Fraction(0))
    return finished * (1 - of_finished / 100) / (1 + of_meat / 100)


def _of_meat(pinch: Pinch) -> Fraction:
    """Percent of the meat: as said, or a weight for each kilo of it; 0 for spoons, which weigh next to nothing."""
    amount, per = pinch.amount, pinch.per
    if amount is None or _is_percent(pinch):
        return Fraction(0) if amount is None else amount.value
    if per is None or units.kind(amount.unit) != "mass" or units.kind(per.unit) != "mass":
        return Fraction(0)
    return units.grams(amount.value, amount.unit) / grams(per) * 100


def _factor(plan: Plan, meat: Fraction | None) -> Fraction:
    if plan.recipe_for is not None and meat is not None and plan.recipe_for.value > 0:
        return meat / grams(plan.recipe_for)
    return plan.factor or Fraction(1)


def _is_percent(pinch: Pinch) -> bool:
    return pinch.amount is not None and pinch.amount.unit == "percent"


def _weighed_in(plan: Plan, meat: Fraction, factor: Fraction, spoons: str) -> Fraction:
    """Grams of everything but the seasonings that are told by the finished weight ("1.6% of it; 400 g rusk, 600 g water")."""
    others = replace(plan, seasonings=tuple(pinch for pinch in plan.seasonings if not pinch.of_total))
    amounts = _weights(others, meat, factor, spoons) or []
    masses = [_mass(pinch, amount, spoons) for pinch, amount in zip(others.seasonings, amounts, strict=True)]
    return sum((mass for mass in masses if mass is not None), Fraction(0))


def _weights(plan: Plan, meat: Fraction | None, factor: Fraction, spoons: str) -> list[Measure] | None:
    """Each seasoning's amount for this batch, in its own unit (percents in grams); None where the meat is missing."""
    finished = [pinch.amount.value for pinch in plan.seasonings if pinch.of_total and pinch.amount is not None]
    beside = _weighed_in(plan, meat, factor, spoons) if finished and meat is not None else Fraction(0)
    of_finished = iter(season.of_finished(meat + beside, finished)) if finished and meat is not None else iter(())
    amounts = []
    for pinch in plan.seasonings:
        assert pinch.amount is not None
        if pinch.amount.unit == "percent" or pinch.per is not None:
            if meat is None:
                return None
            if pinch.of_total:
                amounts.append(Measure(next(of_finished), "g"))
            elif pinch.per is None:
                held = season.of_meat(meat, pinch.already.value) if pinch.already is not None else Fraction(0)
                amounts.append(Measure(season.salt_to_add(meat, pinch.amount.value, held), "g"))
            elif pinch.per is not None and pinch.amount.unit == "percent":
                amounts.append(Measure(season.of_meat(meat, pinch.amount.value), "g"))
            else:
                value = season.by_rate(meat, pinch.amount.value, grams(pinch.per))
                high = pinch.amount.high
                upper = None if high is None else season.by_rate(meat, high, grams(pinch.per))
                amounts.append(Measure(value, pinch.amount.unit, upper))
        else:
            amounts.append(_scaled(plan, meat, pinch.amount, factor))
            continue
        if plan.factor is not None and plan.recipe_for is None:
            # "2 tsp a lb for 3 lb, doubled": twice the meat or twice the rate, the spoons are the same
            amounts[-1] = _times(amounts[-1], plan.factor)
    return amounts


def _scaled(plan: Plan, meat: Fraction | None, amount: Measure, factor: Fraction) -> Measure:
    """An amount of a written mix for this batch."""
    if plan.recipe_for is None or meat is None or plan.recipe_for.value <= 0:
        return _times(amount, factor)
    ends = [amount.value] if amount.high is None else [amount.value, amount.high]
    value, *high = season.scale_mix(ends, grams(plan.recipe_for), meat)
    return Measure(value, amount.unit, high[0] if high else None)


def _times(amount: Measure, factor: Fraction) -> Measure:
    return Measure(amount.value * factor, amount.unit, None if amount.high is None else amount.high * factor)


def _one(pinch: Pinch, amount: Measure, spoons: str) -> tuple[list[Figure], str, Fraction | None, list[str]]:
    """The figures of one seasoning, its text, its weight in grams where known, and notes."""
    row = data.seasonings().get(pinch.key)
    high = None if amount.high is None else float(amount.high)
    if amount.unit in _WEIGHTS:
        mass = units.grams(amount.value, amount.unit)
        text = wording.weight(mass, "us" if amount.unit in ("oz", "lb") else "metric")
        figures = [Figure(pinch.name, Role.SEASONING, float(amount.value), amount.unit, high=high, shown=text)]
        if amount.unit in ("oz", "lb"):
            text = wording.both(mass, "us")
            figures[0] = Figure(pinch.name, Role.SEASONING, float(amount.value), amount.unit, high=high, shown=text)
        spooned = _in_spoons(row, mass, spoons)
        if spooned is not None:
            exact, in_spoons = spooned
            about = in_spoons.text if in_spoons.text.startswith("about") else f"about {in_spoons.text}"
            about += f", {in_spoons.off}" if in_spoons.off else ""
            figures.append(
                Figure(
                    f"{pinch.name}, by spoon",
                    Role.SEASONING,
                    float(exact),
                    "tsp",
                    source=row.source if row else None,
                    shown=about,
                )
            )
            figures += _spoon_error(pinch.name, in_spoons)
            text += f" ({about})"
        return figures, f"{text} {pinch.name}", mass, []
    filled = _filled(row, amount, spoons)
    text = f"{wording.fraction(amount.value, Fraction(1, 8))} {amount.unit.replace('_', ' ')}"
    if filled is not None:
        text = filled.text
    spoon = Measure(amount.value * _SPOONS[amount.unit], "tsp") if amount.unit in ("pinch", "dash") else amount
    figures = [Figure(pinch.name, Role.SEASONING, float(spoon.value), spoon.unit, high=high, shown=text)]
    weight = _spoon_mass(row, amount, spoons)
    notes: list[str] = []
    if weight is not None:
        figures.append(
            Figure(
                f"{pinch.name}, by weight",
                Role.SEASONING,
                float(weight),
                "g",
                source=row.source if row else None,
                shown=wording.weight(weight, "metric"),
            )
        )
        off = f", spoons {filled.off}" if filled is not None and filled.off else ""
        text += f" ({wording.weight(weight, 'metric')}{off})"
    elif filled is not None and filled.off:
        text += f" ({filled.off})"
    figures += _spoon_error(pinch.name, filled)
    if pinch.name in ("kosher salt", "kosher"):
        notes.append("Kosher salts differ nearly twofold by the spoon: weigh it if you can.")
    return figures, f"{text} {pinch.name}", weight, notes


class _Filled(Struct, frozen=True):
    """Spoons that exist: what to fill, by how much it misses in words ("" under one percent), and in percent."""

    text: str
    off: str
    error: Fraction


def _spoon_error(name: str, filled: _Filled | None) -> list[Figure]:
    """By how much the real spoons miss, for programs; nothing under one percent."""
    if filled is None or not filled.off:
        return []
    return [Figure(f"{name}, error by spoon", Role.RATIO, float(filled.error), "%", shown=filled.off)]


def _in_spoons(row: Seasoning | None, mass: Fraction, spoons: str) -> tuple[Fraction, _Filled] | None:
    """A weight in teaspoons of this set, exactly, and in spoons that exist; None where no table has its spoon."""
    teaspoon = _teaspoon(row)
    if teaspoon is None or mass <= 0:
        return None
    exact = mass / teaspoon
    if spoons != "us":
        exact = exact * season.SPOON_SETS["us"].teaspoon / season.SPOON_SETS[spoons].teaspoon
    filled = _spooned(mass, teaspoon, spoons)
    return None if filled is None or exact > _MOST_SPOONS else (exact, filled)


def _filled(row: Seasoning | None, amount: Measure, spoons: str) -> _Filled | None:
    """An amount said in spoons as spoons that exist; None where it is no matter of spoons, or less than a pinch."""
    if amount.unit not in ("tsp", "tbsp", "pinch", "dash"):
        return None
    # without a published weight a spoon of anything stands for itself
    teaspoon = _teaspoon(row) or Fraction(1)
    said = Measure(amount.value * _SPOONS[amount.unit], "tsp") if amount.unit == "dash" else amount
    mass = season.spoons_weigh(said.value, said.unit, teaspoon, None, spoons)
    if mass <= 0 or mass / teaspoon > _MOST_SPOONS:
        return _Filled(wording.spoons([(said.value, said.unit)]), "", Fraction(0))
    return _spooned(mass, teaspoon, spoons) or _Filled("less than a pinch", "", Fraction(0))


def _spooned(mass: Fraction, teaspoon: Fraction, spoons: str) -> _Filled | None:
    """So many grams in a set of spoons: "1 tbsp + 2 1/4 tsp", "about 1 5/8 tsp"; None for less than a pinch."""
    found = season.spoonfuls(mass, teaspoon, None, spoons)
    if not found.measures:
        return None
    text = wording.spoons([(amount, unit) for amount, unit in found.measures])
    off = f"{wording.percent(abs(found.error), 0)} {'over' if found.error > 0 else 'under'}"
    return _Filled(f"about {text}" if found.error else text, off if abs(found.error) >= 1 else "", found.error)


def _teaspoon(row: Seasoning | None) -> Fraction | None:
    """Grams in a level US teaspoon of a seasoning, from whichever measure is published."""
    if row is None:
        return None
    for unit, factor in (("tsp", 1), ("tbsp", 3), ("cup", 48)):
        spoon = row.weights.get(unit)
        if spoon is not None:
            return spoon.grams / factor
    if row.density is not None:
        return row.density * season.SPOON_SETS["us"].teaspoon
    return None


def _spoon_mass(row: Seasoning | None, amount: Measure, spoons: str) -> Fraction | None:
    teaspoon = _teaspoon(row)
    if teaspoon is None:
        return None
    if amount.unit in ("tsp", "tbsp", "pinch"):
        return season.spoons_weigh(amount.value, amount.unit, teaspoon, None, spoons)
    if amount.unit in ("ml", "cl", "dl", "l", "cup", "fluid_ounce", "pint", "quart", "gallon"):
        return units.millilitres(amount.value, amount.unit) / season.SPOON_SETS["us"].teaspoon * teaspoon
    return None


def _mass(pinch: Pinch, amount: Measure, spoons: str) -> Fraction | None:
    """A seasoning's amount in grams, from its own weight or its spoons; None where no table has its spoon."""
    if amount.unit in _WEIGHTS:
        return units.grams(amount.value, amount.unit)
    return _spoon_mass(data.seasonings().get(pinch.key), amount, spoons)


def _asks_percent(plan: Plan) -> bool:
    if "of_total" in plan.asks and not any(_is_percent(pinch) for pinch in plan.seasonings):
        return True
    return "percent" in plan.asks or ("what" in plan.asks and "unit:percent" in plan.asks)


def _as_percent(plan: Plan, meat: Fraction, weights: list[Measure], spoons: str) -> list[Figure]:
    found = []
    masses = [_mass(pinch, amount, spoons) for pinch, amount in zip(plan.seasonings, weights, strict=True)]
    known = [mass for mass in masses if mass is not None]
    if "of_total" in plan.asks and len(known) == len(masses) and meat > 0:
        shares = season.percent_of_finished(known, meat)
        return [
            Figure(
                f"{pinch.name} of the finished weight", Role.RATIO, float(share), "%", shown=wording.percent(share, 2)
            )
            for pinch, share in zip(plan.seasonings, shares, strict=True)
        ]
    for pinch, amount in zip(plan.seasonings, weights, strict=True):
        mass = _mass(pinch, amount, spoons)
        if mass is not None and meat > 0:
            share = season.percent_of_meat(mass, meat)
            found.append(
                Figure(f"{pinch.name} of the meat", Role.RATIO, float(share), "%", shown=wording.percent(share, 2))
            )
    return found


def _as_rate(plan: Plan, meat: Fraction, weights: list[Measure], spoons: str) -> list[Figure]:
    """Each amount per pound or kilo, where that was asked ("how much is that a pound")."""
    assert plan.per is not None
    found = []
    for pinch, amount in zip(plan.seasonings, weights, strict=True):
        unit, value = amount.unit, amount.value
        if unit in ("tbsp", "cup") and value * grams(plan.per) / meat < 1:
            unit, value = "tsp", value * _SPOONS[unit]
        rate = value * grams(plan.per) / meat
        per = plan.per.unit if plan.per.value == 1 else f"{wording.number(plan.per.value)} {plan.per.unit}"
        text = wording.spoons([(rate, unit)]) if unit in ("tsp", "tbsp") else f"{wording.number(rate, 2)} {unit}"
        found.append(Figure(f"{pinch.name} per {per}", Role.SEASONING, float(rate), unit, shown=text))
        mass = _mass(pinch, Measure(rate, unit), spoons)
        if unit in ("g", "oz") and per in ("kg", "lb"):
            found.append(Figure(f"{pinch.name} rate", Role.RATIO, float(rate), f"{unit}/{per}", shown=f"{text}/{per}"))
        if mass is not None and unit not in _WEIGHTS:
            shown = wording.weight(mass, "metric")
            found.append(Figure(f"{pinch.name} per {per}, by weight", Role.SEASONING, float(mass), "g", shown=shown))
    return found


def _salt_notes(plan: Plan, meat: Fraction | None, weights: list[Measure], salt_in: Fraction, spoons: str) -> list[str]:
    """Too salty to be meant, or salt that the meat brings along."""
    notes = []
    salts = [(p, amount) for p, amount in zip(plan.seasonings, weights, strict=True) if "salt" in p.key]
    for pinch, amount in salts:
        mass = _mass(pinch, amount, spoons)
        if mass is None or meat is None or meat == 0:
            continue
        share = season.percent_of_meat(mass, meat)
        if share > 100 or season.judge_salt(share) is not season.Saltiness.USUAL:
            notes.append(
                f"{wording.percent(share)} salt is more than burgers or fresh sausage usually take: check the figure."
            )
        if salt_in > 0:
            held = wording.weight(meat * salt_in / 100, "metric")
            notes.append(f"The meat already holds about {held} of salt: take that off if this is to be the total.")
    if salts and plan.salted and not salt_in:
        notes.append("How much salt is in it already I do not know: cook a bite and taste it before adding this.")
    return notes


def _steps(plan: Plan) -> tuple[str, ...]:
    if any("salt" in pinch.key for pinch in plan.seasonings):
        return (
            "For burgers keep the salt for the outside, just before cooking: mixed in, it binds the meat like sausage.",
        )
    return ()


def _working(pinch: Pinch, meat: Fraction | None, speak: str) -> str:
    assert pinch.amount is not None
    if pinch.amount.unit == "percent":
        basis = "the finished mix" if pinch.of_total else "the meat"
        return f"{pinch.name}: {wording.percent(pinch.amount.value, 2)} of {basis}" + (
            f", {wording.both(meat, speak)}." if meat else "."
        )
    per = "" if pinch.per is None else f" per {wording.number(pinch.per.value)} {pinch.per.unit}"
    return f"{pinch.name}: {wording.fraction(pinch.amount.value, Fraction(1, 16))} {pinch.amount.unit}{per}."
