"""What to do with the meat, in order, in the words of a kitchen: from cuts to ground meat, for the machine that is there.

Few and short: nobody at a grinder reads a page. Figures are from the safety table or from the model of freezing cubes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from assistant import wording
from assistant.answer import Wait
from assistant.data.safety import safety_book
from assistant.engine.cold import firm_cubes
from assistant.engine.safety import GRAMS_PER_POUND
from assistant.errors import BadInput
from assistant.topics.plan.meat import Meat
from assistant.topics.plan.request import Plan

MACHINE, FREEZER, CUBE = "machine", "freezer_celsius", "cube_mm"
"""The settings that the steps heed, as the notebook calls them."""
GRINDER, HAND, MIXER, PROCESSOR = "grinder", "hand grinder", "mixer", "processor"
MACHINES = {
    GRINDER: "a grinder",
    HAND: "a hand grinder",
    MIXER: "a grinder on the stand mixer",
    PROCESSOR: "a food processor",
}
"""The values of the setting "machine", in words."""
SOURCES = (
    "Steps: the freezing time is from a heat-flow model, untested in a kitchen; food-processor loads and pulses from "
    "cookery books; cubes, plates, lots, chilling between passes: common practice, no source; 40 °F: USDA FSIS."
)
_USUAL_CUBE = Fraction(254, 10)
_USUAL_FREEZER_C = Fraction(-18)
_SMALL_LOT = 500
_BETWEEN_PASSES, _BEFORE_COOKING = 15, 30
"""Minutes in the freezer between two passes, and of shaped patties in the fridge: common practice, no source."""


class Step(Struct, frozen=True):
    """One step. wait: what a timer for it is called; minutes: when to look first; most: the latest (0: no waiting)."""

    text: str
    wait: str = ""
    minutes: int = 0
    most: int = 0


class Work(Struct, frozen=True):
    """What the steps depend on. grams: of the batch; species: of all its parts; settings: MACHINE, FREEZER and CUBE.

    system: the person's units, "us" or "metric".
    """

    plan: Plan
    meats: Sequence[Meat]
    species: Collection[str]
    grams: Fraction | None
    settings: Mapping[str, str]
    system: str = "us"

    @property
    def machine(self) -> str:
        """What it is ground with; a grinder where nobody said."""
        return self.settings.get(MACHINE) or GRINDER


def of_batch(work: Work, mixing: Sequence[str], patties: Sequence[str], *, grind: bool) -> tuple[Step, ...]:
    """The steps of a batch, in order; none where nothing is made.

    mixing, patties: steps that belong to the figures of seasoning and of patties (salt; loads, dimple, rounds).
    grind: whether it is ground here; meat that is ground already never is.
    """
    ground = grind and _from_cuts(work.meats)
    steps = [*grinding(work)] if ground else []
    steps += [Step(text) for text in mixing]
    if ground and _is_formed(work.plan):
        steps.append(_shaped())
    steps += [Step(text) for text in patties]
    if ground:
        steps.append(Step(_clean(work.machine)))
    return tuple(steps)


def waits(steps: Sequence[Step]) -> tuple[Wait, ...]:
    """The steps that take time by themselves, for whoever offers a timer."""
    return tuple(Wait(at, step.wait, step.minutes, step.most) for at, step in enumerate(steps) if step.minutes)


def grinding(work: Work) -> tuple[Step, ...]:
    """From cuts to ground meat with the machine that is there."""
    sausage = _is_sausage(work)
    last = _pulsed(work) if work.machine == PROCESSOR else _ground(work, sausage=sausage)
    # the word about salt comes before the grinding: read one step at a time, it would come too late after it
    return Step(_trimmed(work)), _frozen(work), Step(_kept_cold(work, sausage=sausage)), *last


def cubes_firm_in(settings: Mapping[str, str]) -> tuple[int, int]:
    """Minutes until cubes that lie apart are firm, in fives; by custom where the model was not checked for them."""
    try:
        side = Fraction(settings.get(CUBE) or _USUAL_CUBE)
        span = firm_cubes(side, Fraction(settings.get(FREEZER) or _USUAL_FREEZER_C))
    except BadInput:
        custom = safety_book().figures["firm_cubes"]
        return int(custom.value), int(custom.high or custom.value)
    low, high = (max(5, round(minutes / 5) * 5) for minutes in (span.low, span.high))
    return low, high


# ---- the single steps


def _trimmed(work: Work) -> str:
    off = any(meat.item.trimmed for meat in work.meats)
    fat = "take the outside fat off where you said trimmed" if off else "leave the fat on, it is counted"
    cube = wording.length(Fraction(work.settings.get(CUBE) or 25), work.system)
    text = f"Cut out silver skin, glands and gristle; {fat}. Cut {cube} cubes."
    boned = [m.name for m in work.meats if m.row is not None and m.row.bone and "one" in m.row.bone_what]
    if boned:
        text += f" Weigh the {boned[0]} without its bone."
    if any("skin on" in meat.name for meat in work.meats):
        text += " Grind the skin in only if you want its fat."
    return text


def _frozen(work: Work) -> Step:
    low, high = cubes_firm_in(work.settings)
    parts = "the bowl and blade" if work.machine == PROCESSOR else "the grinder's metal parts"
    text = f"Spread them on a metal tray, with gaps. Freeze {low} to {high} min, with {parts}: firm edges, soft middle."
    return Step(text, "cubes", low, high)


def _kept_cold(work: Work, *, sausage: bool) -> str:
    when = (
        "mix it in after, cold, until the meat is sticky" if sausage else "it goes on the outside, just before cooking"
    )
    mark = "4 °C (40 °F)" if work.system == "metric" else "40 °F (4 °C)"
    cold = f"Keep the meat below {mark}. No salt before grinding"
    return f"{cold}." if _has_salt(work.plan) else f"{cold}: {when}."


def _ground(work: Work, *, sausage: bool) -> tuple[Step, ...]:
    how = {
        HAND: "Clamp it tight, turn steadily and grind",
        MIXER: "At the speed its maker gives, grind",
    }.get(work.machine, "Grind")
    lots = _lots(work, "grinder_lot")
    first = (
        f"{how} through the {_plate('3/8 in', work.system)} plate{lots}. Pusher only: no fingers or tools in the tube."
    )
    again = f"Chill {_BETWEEN_PASSES} min, then grind again through the {_plate('3/16 in', work.system)} plate"
    if sausage:
        second = f"Coarse sausage is done. Finer: {again[0].lower()}{again[1:]}."
    else:
        second = f"{again}. For a coarse burger one pass is enough."
    return Step(first), Step(second, "second pass", _BETWEEN_PASSES, _BETWEEN_PASSES)


def _pulsed(work: Work) -> tuple[Step, ...]:
    row = safety_book().figures["processor_pulses"]
    pulses = f"{wording.number(row.value)} to {wording.number(row.high or row.value)} pulses of a second"
    return (
        Step(f"Pulse{_lots(work, 'processor_batch')}: {pulses}; stop before it turns to paste."),
        Step("Tip it out; pick out strings and big lumps and pulse only those again. Unplug it before you reach in."),
    )


def _lots(work: Work, key: str) -> str:
    """How much at a time, where the batch is more than that."""
    row = safety_book().figures[key]
    low, high = (pounds * GRAMS_PER_POUND for pounds in (row.value, row.high or row.value))
    if work.grams is not None and work.grams <= high:
        return " all of it at once" if key == "processor_batch" else ""
    shown = f"{_lot(low, work.system)} to {_lot(high, work.system)}"
    return (
        f" {shown} at a time, the rest in the fridge"
        if key == "processor_batch"
        else (f", {shown} at a time; the rest stays in the fridge")
    )


def _lot(weight: Fraction, system: str) -> str:
    """A handful as a cook would weigh it: the sources say pounds, and nobody needs 907 g of it."""
    if system != "metric":
        return wording.weight(weight, system)
    step = 25 if weight < _SMALL_LOT else 100
    return wording.weight(round(weight / step) * step, system)


def _shaped() -> Step:
    text = f"Shape the patties gently with wet hands and chill them {_BEFORE_COOKING} min in the fridge."
    return Step(text, "patties", _BEFORE_COOKING, _BEFORE_COOKING)


def _clean(machine: str) -> str:
    if machine == PROCESSOR:
        return "Unplug it, lift the blade by its hub; wash bowl and blade in hot soapy water, sanitise, air dry."
    apart = "Take it apart at once" if machine == HAND else "Unplug it and take it apart at once"
    return f"{apart}: hot soapy water and a brush, rinse, sanitise, air dry."


def _plate(key: str, system: str) -> str:
    row = safety_book().plates[key]
    metric = f"{wording.number(row.mm or 0, 0)} mm"
    return f"{metric} ({row.key})" if system == "metric" else f"{row.key} ({metric})"


# ---- what kind of batch it is


def _from_cuts(meats: Sequence[Meat]) -> bool:
    return any(meat.row is None or meat.row.kind != "ground" for meat in meats)


def _is_formed(plan: Plan) -> bool:
    """Patties are made of it now; a line that only asks what to buy needs no lesson in shaping."""
    return plan.patties is not None and not plan.groups and not plan.asks & {"buy", "how_much", "cost"}


def _is_sausage(work: Work) -> bool:
    """Nobody says what it is for: pork alone without patties is mostly for sausage, everything else for burgers."""
    return set(work.species) == {"pork"} and work.plan.patties is None and not work.plan.groups


def _has_salt(plan: Plan) -> bool:
    return any("salt" in pinch.key for pinch in plan.seasonings)
