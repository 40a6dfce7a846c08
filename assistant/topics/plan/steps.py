"""What to do with the meat, in order, in the words of a kitchen: from cuts to the plate, for the machine that is there.

Few and short: nobody at a grinder reads a page. Figures are from the safety table or from the model of freezing cubes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction

from assistant import wording
from assistant.data.safety import HUNTED, SafetyFigure, safety_book
from assistant.engine.cold import firm_cubes
from assistant.engine.safety import GRAMS_PER_POUND, endpoint, known_species
from assistant.errors import BadInput
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan

MOST, LONGEST = 8, 160
"""At most so many steps of at most so many characters: what can be followed between two looks at a screen."""
CUBE_MM = 25
MACHINE, FREEZER = "machine", "freezer_celsius"
GRINDER, HAND, MIXER, PROCESSOR = "grinder", "hand grinder", "mixer", "processor"
MACHINES = {
    GRINDER: "a grinder",
    HAND: "a hand grinder",
    MIXER: "a grinder on the stand mixer",
    PROCESSOR: "a food processor, no grinder",
}
"""The values of the setting "machine", in words."""
SOURCES = (
    "Steps: the freezing time is from a heat-flow model, untested in a kitchen; food-processor loads and pulses from "
    "cookery books; cubes, plates, lots, chilling between passes: common practice, no source; 40 °F: USDA FSIS."
)
_USUAL_FREEZER_C = Fraction(-18)
_BY_CUSTOM = (30, 60)
"""Minutes for cubes to firm where the model was not checked: trade custom, no source."""
_CLEAN = {
    PROCESSOR: "Unplug it, lift the blade by its hub, then wash bowl and blade in hot soapy water, sanitise, air dry.",
}
_CLEAN_GRINDER = "Unplug it and take it apart at once: hot soapy water and a brush, rinse, sanitise, air dry."


def of_batch(
    plan: Plan,
    meats: Sequence[Meat],
    species: Collection[str],
    said: Sequence[str],
    *,
    grind: bool,
    country: str = "us",
    settings: Mapping[str, str],
) -> tuple[str, ...]:
    """The steps of a batch, at most MOST of at most LONGEST characters wherever that can be done.

    species: of every part. said: steps that belong to its figures (loads, rounds, salt). grind: whether the batch
    starts from cuts. settings: "machine" (MACHINES), "freezer_celsius" and "units". Nothing where nothing is made.
    """
    form = _is_formed(plan)
    steps = [*(grinding(plan, meats, species, settings) if grind else ()), *said]
    if form:
        steps += forming(plan, species, country, said, settings)
    if grind and _from_cuts(meats):
        steps.append(_CLEAN.get(settings.get(MACHINE, GRINDER), _CLEAN_GRINDER))
    return _joined(steps)


def grinding(
    plan: Plan, meats: Sequence[Meat], species: Collection[str], settings: Mapping[str, str]
) -> tuple[str, ...]:
    """From cuts to ground meat with the machine that is there; nothing for meat that is ground already."""
    if not _from_cuts(meats):
        return ()
    machine = settings.get(MACHINE, GRINDER)
    sausage = _is_sausage(plan, species)
    work = _pulsed(settings) if machine == PROCESSOR else _ground(machine, settings, sausage=sausage)
    # the word about salt comes before the grinding: one step at a time, it would be read too late after it
    return (*_weighed_right(meats), _trimmed(meats), _frozen(machine, settings), _kept_cold(sausage=sausage), *work)


def forming(
    plan: Plan, species: Collection[str], country: str, said: Sequence[str], settings: Mapping[str, str]
) -> tuple[str, ...]:
    """From ground meat to the plate: shaped, chilled, salted outside, cooked. said: steps that are told already.

    Raises nothing for unknown species: they are taken as plain ground meat. Cooking: the endpoint rows of the country.
    """
    dimple = "" if any("dimple" in step for step in said) else ", a shallow dimple in the middle"
    chill = f"Shape them gently with wet hands{dimple}. Chill 30 min in the fridge."
    salt = "" if plan.salted or _has_salt(plan) else "Salt the outside just before they go on. "
    return chill, salt + _cooked(species, country, settings)


def cubes_firm_in(settings: Mapping[str, str]) -> tuple[int, int]:
    """Minutes until 25 mm cubes that lie apart are firm, in fives; by custom where the freezer is out of the model."""
    try:
        span = firm_cubes(CUBE_MM, Fraction(settings.get(FREEZER) or _USUAL_FREEZER_C))
    except BadInput:
        return _BY_CUSTOM
    low, high = (max(5, round(minutes / 5) * 5) for minutes in (span.low, span.high))
    return low, high


# ---- the single steps


def _weighed_right(meats: Sequence[Meat]) -> tuple[str, ...]:
    """What to know before the knife: bone is not in the weights, and skin is fat."""
    steps = [f"Weigh the {meat.name} without its bone." for meat in meats if meat.row is not None and meat.row.bone]
    if any("skin on" in meat.name for meat in meats):
        steps.append("Grind the skin in only if you want its fat.")
    return tuple(steps)


def _trimmed(meats: Sequence[Meat]) -> str:
    fat = "take the outside fat off where you said trimmed"
    fat = fat if any(meat.item.trimmed for meat in meats) else "leave the fat on"
    return f"Cut out silver skin, glands and gristle; {fat}. Cube it 1 in (25 mm), in one layer on a metal tray, with gaps."


def _frozen(machine: str, settings: Mapping[str, str]) -> str:
    low, high = cubes_firm_in(settings)
    parts = "bowl and blade" if machine == PROCESSOR else "head, worm, knife and plate"
    return f"Freeze {low} to {high} min, until the cubes are firm at the edges, soft inside; {parts} go in too."


def _ground(machine: str, settings: Mapping[str, str], *, sausage: bool) -> tuple[str, ...]:
    how = {
        HAND: "Clamp it tight and turn steadily: ",
        MIXER: "At the speed its maker gives: ",
    }.get(machine, "Grind ")
    first = f"{how}{_load('grinder_lot', settings)} at a time, {_plate('3/8 in')}. Pusher only: no fingers or tools in the tube."
    fine = f"Chill 15 min, then grind again through {_plate('3/16 in')}"
    if sausage:
        return first, f"That is enough for coarse sausage. Finer: {fine[0].lower()}{fine[1:]}."
    return first, f"{fine}; for a coarse burger one pass will do."


def _pulsed(settings: Mapping[str, str]) -> tuple[str, ...]:
    row = safety_book().figures["processor_pulses"]
    pulses = f"{wording.number(row.value)} to {wording.number(row.high or row.value)} pulses of a second"
    return (
        f"Work {_load('processor_batch', settings)} at a time: {pulses}; stop before paste. Leave the others in the fridge.",
        "Tip it out, pick out strings and big lumps; pulse only those again. Never reach in while it is plugged in.",
    )


def _kept_cold(*, sausage: bool) -> str:
    if sausage:
        return "Keep the meat below 40 °F (4 °C). No salt before grinding: mix it in after, cold, until the meat is sticky."
    return "Keep the meat below 40 °F (4 °C). No salt before grinding: for burgers it goes on the outside, at the end."


def _cooked(species: Collection[str], country: str, settings: Mapping[str, str]) -> str:
    known = known_species() & set(species) - {HUNTED}
    needed = endpoint(known or {"beef", "pork"}, country, hunted=HUNTED in species)
    scales = [f"{wording.number(needed.f)} °F", f"{wording.number(needed.c)} °C"]
    first, other = reversed(scales) if settings.get("units") == "metric" else scales
    hold = f", held for {wording.duration(Fraction(needed.hold_seconds, 60))}" if needed.hold_seconds else ""
    rest = f" Rest {needed.rest_minutes} min." if needed.rest_minutes else " No rest needed."
    return f"Cook to {first} ({other}) in the middle{hold}, thermometer in from the side.{rest}"


def _load(key: str, settings: Mapping[str, str]) -> str:
    row: SafetyFigure = safety_book().figures[key]
    speak = settings.get("units") or "us"
    low, high = (wording.weight(pounds * GRAMS_PER_POUND, speak) for pounds in (row.value, row.high or row.value))
    return f"{low} to {high}"


def _plate(key: str) -> str:
    row = safety_book().plates[key]
    return f"{row.key} ({wording.number(row.mm or 0)} mm) plate"


# ---- what kind of batch it is


def _from_cuts(meats: Sequence[Meat]) -> bool:
    return any(meat.row is None or meat.row.kind != "ground" for meat in meats)


def _is_formed(plan: Plan) -> bool:
    """Patties are made of it now; a line that only asks what to buy needs no lesson in shaping."""
    return plan.patties is not None and not plan.groups and not plan.asks & {"buy", "how_much", "cost"}


def _is_sausage(plan: Plan, species: Collection[str]) -> bool:
    """Nobody says what it is for: pork alone without patties is mostly for sausage, everything else for burgers."""
    return set(species) == {"pork"} and plan.patties is None and not plan.groups


def _has_salt(plan: Plan) -> bool:
    return any("salt" in pinch.key for pinch in plan.seasonings)


def _joined(steps: Sequence[str]) -> tuple[str, ...]:
    """Neighbours put together, the shortest first, until there are no more than MOST; nothing is ever left out."""
    left = list(steps)
    while len(left) > MOST:
        at = min(range(len(left) - 1), key=lambda place: len(left[place]) + len(left[place + 1]))
        if len(left[at]) + len(left[at + 1]) >= LONGEST:
            break
        left[at : at + 2] = [f"{left[at]} {left[at + 1]}"]
    return tuple(left)
