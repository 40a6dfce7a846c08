"""A kept batch in figures and words."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Figure, Role
from assistant.notebook import Batch, Comparison
from assistant.notebook.records import Part, Seasoned, as_weighed
from assistant.topics.base import Kitchen


def quoted(name: str) -> str:
    """A name as it is shown: it is plain text of the cook's, so it stands in quotes."""
    return f'"{name}"'


def titled(batch: Batch) -> str:
    """The name with its version, where it is not the first."""
    return quoted(batch.name) + (f" (version {batch.version})" if batch.version > 1 else "")


def speak(batch: Batch, kitchen: Kitchen) -> str:
    """The unit system of a batch: the one it was said in."""
    return batch.units if batch.units in wording.SYSTEMS else kitchen.units


def contents(batch: Batch, system: str) -> str:
    """ "2 kg chuck and 500 g suet: 2.5 kg at 80/20; 12 g salt"; as weighed, with what had been planned in brackets."""
    made = as_weighed(batch)
    shown, whole = wording.weights([part.grams for part in made.parts], system)
    text = wording.listing(
        [f"{weight} {part.cut}{_planned(part, system)}" for weight, part in zip(shown, batch.parts, strict=True)]
    )
    if len(made.parts) > 1:
        text += f": {whole} in all"
    if made.fat is not None and made.parts:
        text += f" at {wording.lean_fat(made.fat)}"
    if made.seasonings:
        seasoned = wording.listing(
            [
                _seasoning(item, system) + _as_planned(planned, system)
                for item, planned in zip(made.seasonings, batch.seasonings, strict=True)
            ]
        )
        text = f"{text}; {seasoned}" if text else seasoned
    if made.patty_count and made.patty_grams:
        text += f"; {wording.counted(made.patty_count, 'patty')} of {wording.weight(made.patty_grams, system)}"
    return text or "nothing weighed"


def _planned(part: Part, system: str) -> str:
    """What had been planned of a cut of which another weight went in."""
    if part.weighed is None or part.weighed == part.grams:
        return ""
    return f" ({wording.weight(part.grams, system)} planned)"


def _as_planned(item: Seasoned, system: str) -> str:
    """What had been planned of a seasoning of which another weight went in."""
    if item.weighed is None or item.weighed == item.grams:
        return ""
    if item.grams is None:
        return f" ({_measured(item)} planned)" if item.amount is not None else ""
    return f" ({seasoned_weight(item.grams, system)} planned)"


def score(batch: Batch) -> str:
    """The marks as people write them: "7/10", "" where there are none."""
    return "" if batch.rating is None else f"{wording.number(batch.rating, 2)}/{batch.rating_top}"


def figures(batch: Batch, system: str) -> tuple[Figure, ...]:
    """Everything that is known of a batch, as figures: the weights and the fat as it was truly made."""
    planned, batch = batch, as_weighed(batch)
    unit = "lb" if system == "us" else "kg"
    found = [_weight(part.cut, part.grams, unit, system, Role.COMPONENT, part.fat) for part in batch.parts]
    if batch.parts:
        found.append(_weight("batch", batch.grams, unit, system, Role.TOTAL))
    if batch.fat is not None:
        found.append(replace(fat_figure(batch), name="fat"))
    for item in batch.seasonings:
        found += seasoned(item, system)
    if batch.patty_grams:
        found.append(_weight("patty", batch.patty_grams, "oz" if system == "us" else "g", system, Role.PATTY_WEIGHT))
    if batch.patty_count:
        count = wording.counted(batch.patty_count, "patty")
        found.append(Figure("patties", Role.PATTY_COUNT, float(batch.patty_count), "count", shown=count))
    if batch.cost is not None and batch.currency:
        found.append(
            Figure(
                "cost as planned" if planned.cuts_weighed else "cost",
                Role.COST,
                float(batch.cost),
                batch.currency,
                shown=wording.money(batch.cost, batch.currency),
            )
        )
    if batch.rating is not None:
        found.append(rating(batch))
    return tuple(found)


def fat_figure(batch: Batch) -> Figure:
    """The fat of a batch, with its range where one is known."""
    assert batch.fat is not None
    low = None if batch.fat_low is None else float(batch.fat_low)
    high = None if batch.fat_high is None else float(batch.fat_high)
    return Figure(f"fat of {batch.name}", Role.FAT, float(batch.fat), "%", low, high, shown=_fat(batch))


def _fat(batch: Batch) -> str:
    assert batch.fat is not None
    if batch.fat_low is None or batch.fat_high is None:
        return wording.percent(batch.fat)
    return wording.percent_at_worst(batch.fat, batch.fat_low, batch.fat_high)


def rating(batch: Batch) -> Figure:
    """The marks of a rated batch."""
    assert batch.rating is not None
    return Figure(batch.name, Role.RATING, float(batch.rating), "1", shown=score(batch))


def seasoned(item: Seasoned, system: str) -> list[Figure]:
    """A seasoning by weight and by the spoon, as far as each is known."""
    found = []
    if item.grams is not None:
        found.append(
            Figure(item.name, Role.SEASONING, float(item.grams), "g", shown=seasoned_weight(item.grams, system))
        )
    if item.amount is not None and item.unit:
        found.append(
            Figure(f"{item.name}, as measured", Role.SEASONING, float(item.amount), item.unit, shown=_measured(item))
        )
    return found


def weight_figure(name: str, mass: Fraction, system: str, role: Role) -> Figure:
    """A weight in grams as a figure in the unit of its system."""
    return _weight(name, mass, "lb" if system == "us" else "g", system, role)


def differences(found: Comparison, system: str) -> tuple[list[str], list[Figure]]:
    """What the second batch has more or less of than the first, in words and figures."""
    words, lines = [], []
    for part in found.parts:
        before, after = (weight or Fraction(0) for weight in part.grams)
        if before == after:
            continue
        more = "more" if after > before else "less"
        gap = abs(after - before)
        words.append(f"{wording.weight(gap, system)} {more} {part.cut}")
        lines.append(weight_figure(f"{part.cut}, {more}", gap, system, Role.CONVERSION))
    first, second = found.first, found.second
    if first.grams != second.grams:
        words.append(f"{wording.weight(second.grams, system)} in all instead of {wording.weight(first.grams, system)}")
    if first.fat is not None and second.fat is not None and first.fat != second.fat:
        words.append(f"{wording.percent(second.fat)} fat instead of {wording.percent(first.fat)}")
    words += _seasoning_differences(first, second, system)
    if first.rating is not None and second.rating is not None and first.score != second.score:
        words.append(f"rated {score(second)} instead of {score(first)}")
    return words, lines


def _seasoning_differences(first: Batch, second: Batch, system: str) -> list[str]:
    before = {item.name: item for item in first.seasonings}
    after = {item.name: item for item in second.seasonings}
    words = [f"no {name}" for name in before if name not in after]
    for name, item in after.items():
        if name not in before:
            words.append(f"with {_seasoning(item, system)}")
        elif before[name] != item:
            words.append(f"{_seasoning(item, system)} instead of {_seasoning(before[name], system)}")
    return words


def _weight(name: str, mass: Fraction, unit: str, system: str, role: Role, fat: Fraction | None = None) -> Figure:
    value = float(units.to(mass, "g", unit))
    percent = None if fat is None else float(fat)
    return Figure(name, role, value, unit, fat_percent=percent, shown=wording.both(mass, system))


def _seasoning(item: Seasoned, system: str) -> str:
    if item.grams is not None:
        return f"{seasoned_weight(item.grams, system)} {item.name}"
    return f"{_measured(item)} {item.name}" if item.amount is not None else item.name


def seasoned_weight(mass: Fraction, system: str) -> str:
    """Salt and spice are weighed in grams everywhere; ounces beside them where the batch was said in pounds."""
    return wording.both(mass, "metric") if system == "us" and mass >= 100 else wording.weight(mass, "metric")


def _measured(item: Seasoned) -> str:
    assert item.amount is not None
    unit = item.unit.replace("_", " ")
    return (
        f"{wording.fraction(item.amount, Fraction(1, 8))} {unit}"
        if item.amount >= Fraction(1, 16)
        else f"{float(item.amount):.3g} {unit}"
    )
