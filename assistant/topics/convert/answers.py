"""Working a conversion out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.data import Seasoning
from assistant.language.phrases import Measure
from assistant.topics.base import Kitchen, Outcome, Pending
from assistant.topics.cautions import reminders
from assistant.topics.convert.measures import kind_of, measure_notes, measured_in, source_of, spoken, table_unit
from assistant.topics.convert.request import NAME, STRANGE, Conversion
from assistant.topics.convert.written import (
    SHORT,
    amount_text,
    as_spoons,
    ends,
    exact_text,
    first_name,
    listed,
    mixed_text,
    per_text,
    span_text,
    subject_text,
    understood_text,
    value_text,
    with_its_unit,
)

_US_MILLILITRES: Final = {"tsp": "tsp", "tbsp": "tbsp", "cup": "cup", "fl_oz": "fluid_ounce"}
_PREFERRED: Final = {
    "tsp": ("tsp", "tbsp", "cup", "fl_oz"),
    "tbsp": ("tbsp", "tsp", "cup", "fl_oz"),
    "cup": ("cup", "tbsp", "tsp", "fl_oz"),
    "fluid_ounce": ("fl_oz", "cup", "tbsp", "tsp"),
}
"""Which published spoon weight serves a measure best: its own, else the nearest in size."""
_COLDEST: Final = Fraction("-273.15")
"""Degrees Celsius: absolute zero, by definition of the kelvin."""


def answer(request: Conversion, kitchen: Kitchen) -> Outcome:
    """The converted amount with its range and source, or what is missing."""
    if request.country:
        kitchen = replace(kitchen, country=request.country)
    if request.per is not None:
        return _price(request, kitchen)
    if request.currency:
        return _finish(request, Status.IMPOSSIBLE, message=_NO_EXCHANGE)
    if request.amount.unit in ("", "deg"):
        return _which_unit(request)
    kind = kind_of(request.amount.unit)
    if not kind:
        message = f"I have no figure for a {request.amount.unit}: say it in another unit."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    if kind != units.TEMPERATURE and request.amount.value < 0:
        message = "An amount below nothing cannot be converted: which amount is it?"
        return _finish(request, Status.IMPOSSIBLE, message=message)
    to = _wanted(request, kitchen)
    kinds = {kind_of(unit) for unit in to}
    if kinds == {kind}:
        return _same_kind(request, to, kind, kitchen)
    if kinds | {kind} == {"mass", "volume"} and len(kinds) == 1:
        return _by_the_spoon(request, to, kitchen)
    message = f"{amount_text(request.amount)} cannot be turned into {listed(to)}: they measure different things."
    return _finish(request, Status.IMPOSSIBLE, message=message)


_NO_EXCHANGE: Final = (
    "I have no exchange rates, so I cannot change one money into another. "
    "I can turn a price per kilo into a price per pound, or work out what a batch costs in one money."
)


def _wanted(request: Conversion, kitchen: Kitchen) -> tuple[str, ...]:
    """The units to convert to; where a system or nothing was named, those that suit the amount."""
    kind = kind_of(request.amount.unit)
    if request.to and request.to[0] not in ("metric", "us"):
        return request.to
    if kind == "volume" and request.of and not request.to:
        return ("g", "oz") if kitchen.units == "us" else ("g",)
    metric = (request.to[0] == "metric") if request.to else not _is_metric(request.amount.unit)
    small = abs(_in_base(request.amount, kitchen)) < 1000
    if kind == "mass":
        return ("g" if small else "kg",) if metric else (("oz",) if small else ("lb", "oz"))
    if kind == "volume":
        return ("ml" if small else "l",) if metric else (("fluid_ounce",) if small else ("quart",))
    if kind == "length":
        return ("cm",) if metric else ("inch",)
    if kind == units.TEMPERATURE:
        return ("degC",) if metric else ("degF",)
    return ("hour",) if request.amount.unit == "minute" else ("minute",)


def _is_metric(unit: str) -> bool:
    return unit in ("g", "kg", "mg", "ml", "cl", "dl", "l", "cm", "mm", "meter", "degC")


def _which_unit(request: Conversion) -> Outcome:
    wanted = f" into {listed(request.to)}" if request.to else ""
    message = f"{exact_text(request.amount.value)} of which unit{wanted}? Such as grams, oz, lb, tsp, °F or °C."
    return _ask(request, "unit", message)


def _same_kind(request: Conversion, to: tuple[str, ...], kind: str, kitchen: Kitchen) -> Outcome:
    amount, country = request.amount, kitchen.country
    if kind == units.TEMPERATURE and units.to(amount.value, amount.unit, "degC") < _COLDEST:
        message = "Nothing can be that cold: it lies below absolute zero. Check the figure and the scale."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    mixed = set(to) == {"lb", "oz"}
    figures: list[Figure] = []
    shown = []
    for unit in ("lb",) if mixed else to:
        values = [measured_in(value, amount.unit, unit, country) for value in ends(amount)]
        texts = [mixed_text(value) if mixed else value_text(value, unit, whole=request.whole) for value in values]
        source = source_of(kind, (amount.unit, unit), country)
        for said, value, text in zip(ends(amount), values, texts, strict=True):
            figures.append(_figure(request, said, value, unit, country, text, source))
        shown.append(span_text(texts))
    notes = measure_notes((amount.unit, *to), country)
    return _finish(
        request,
        Status.ANSWERED,
        headline=f"{subject_text(request)} is {wording.listing(shown, 'or')}",
        figures=figures,
        notes=notes,
        cautions=_cautions(request),
    )


def _by_the_spoon(request: Conversion, to: tuple[str, ...], kitchen: Kitchen) -> Outcome:
    """From a volume of a named thing to its weight, or back: grams = millilitres x grams per millilitre."""
    if not request.of:
        return _ask(request, "of what", _of_what(request, to))
    if request.of.startswith("cut:"):
        message = f"Meat is not measured by the {spoken(_volume_in(request, to))}: it packs too differently. Weigh it."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    if request.of == "cure":
        message = "Curing salt is never measured by the spoon: weigh it, by a tested recipe."
        return _finish(request, Status.IMPOSSIBLE, message=message, cautions=_cautions(request))
    if request.of == STRANGE:
        message = (
            f"I have no weight by the spoon for {request.said}. Weigh 10 level teaspoons of yours: a tenth of that is "
            "one teaspoon, and 3 teaspoons are a tablespoon."
        )
        return _finish(request, Status.IMPOSSIBLE, message=message)
    ambiguous = data.ambiguous_seasonings().get(request.of)
    notes: list[str] = []
    key = request.of
    if ambiguous is not None and ambiguous.ask:
        return _which(request, ambiguous.keys, to, kitchen)
    if ambiguous is not None:
        key = ambiguous.country.get(kitchen.country, ambiguous.default)
        notes.append(f"{request.said.capitalize()} is {ambiguous.note}." if ambiguous.note else "")
    row = data.seasonings()[key]
    figures = _spoon_figures(request, row, to, kitchen.country)
    if not figures:
        message = f"No published weight by the spoon for {request.said}. Weigh one level spoon of yours on a scale."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    many = len(ends(request.amount))
    texts = [figure.shown for figure in figures]
    shown = [span_text(texts[at : at + many]) for at in range(0, len(texts), many)]
    headline = f"{subject_text(request)} is {wording.listing(shown, 'or')}{as_spoons(figures, to)}"
    about_weight = "; ".join(part for part in row.note.split("; ") if not part.startswith("sodium"))
    notes += [
        f"{about_weight.capitalize()}." if about_weight else "",
        *measure_notes((request.amount.unit, *to), kitchen.country),
    ]
    if row.density is None:
        notes.append("A level spoon, not packed; a scale is surer.")
    return _finish(request, Status.ANSWERED, headline=headline, figures=figures, notes=notes)


def _spoon_figures(request: Conversion, row: Seasoning, to: Iterable[str], country: str) -> list[Figure]:
    amount = request.amount
    heavier = kind_of(amount.unit) == "volume"
    figures = []
    for unit in to:
        measure = amount.unit if heavier else unit
        density = _density(row, measure)
        if density is None:
            return []
        for said in ends(amount):
            if heavier:
                millilitres = measured_in(said, measure, "ml", country)
                value, low, high = (measured_in(millilitres * per_ml, "g", unit, country) for per_ml in density)
            else:
                grams = measured_in(said, amount.unit, "g", country)
                value, high, low = (measured_in(grams / per_ml, "ml", unit, country) for per_ml in density)
            figure = _figure(
                request, said, value, unit, country, value_text(value, unit, whole=request.whole), row.source
            )
            if low < high:
                figure = replace(figure, low=float(low), high=float(high))
            figures.append(figure)
    return figures


def _density(row: Seasoning, measure: str) -> tuple[Fraction, Fraction, Fraction] | None:
    """Grams in a millilitre: (typical, low, high), from the published weight that is nearest to the measure."""
    if row.density is not None and measure not in _PREFERRED:
        return row.density, row.density, row.density
    for spoon in _PREFERRED.get(measure, ("cup", "fl_oz", "tbsp", "tsp")):
        weight = row.weights.get(spoon)
        if weight is not None:
            size = units.millilitres(1, _US_MILLILITRES[spoon])
            return weight.grams / size, weight.low / size, weight.high / size
    return None if row.density is None else (row.density, row.density, row.density)


def _of_what(request: Conversion, to: tuple[str, ...]) -> str:
    spoon = spoken(_volume_in(request, to))
    return f"Of what? A {spoon} of salt weighs far more than a {spoon} of pepper: name it, such as paprika or water."


def _which(request: Conversion, keys: Sequence[str], to: tuple[str, ...], kitchen: Kitchen) -> Outcome:
    """Each reading with its figure, and the question which it is."""
    figures = []
    said = []
    for key in keys:
        found = _spoon_figures(replace(request, said=key), data.seasonings()[key], to, kitchen.country)
        figures += found
        said += [f"{found[0].shown} of {first_name(key)}"] if found else []
    salts = "light hollow flakes or dense rolled crystals" if "kosher" in request.of else wording.listing(keys, "or")
    message = f"Which {request.said}: {salts}? {amount_text(request.amount)} is {wording.listing(said, 'or')}."
    notes = measure_notes((request.amount.unit, *to), kitchen.country)
    return _ask(request, "which", message, figures, notes)


def _price(request: Conversion, kitchen: Kitchen) -> Outcome:
    """A price for another weight: price x (new / old), both in one unit."""
    per, to_per = request.per, request.to_per
    assert per is not None
    assert to_per is not None
    country = kitchen.country
    factor = measured_in(to_per.value, to_per.unit, per.unit, country) / per.value
    currency = request.amount.unit or wording.HOME_CURRENCY[country]
    wanted = per_text(to_per)
    shown = []
    figures = []
    for value in ends(request.amount):
        price = value * factor
        text = wording.price(price, currency, wanted)
        figures.append(
            Figure(f"price per {wanted}", Role.PRICE, float(price), currency, source="arithmetic", shown=text)
        )
        shown.append(text)
    said = " to ".join(wording.money(value, currency) for value in ends(request.amount))
    headline = f"{said} per {per_text(per)} is {' to '.join(shown)}"
    notes = [] if request.amount.unit else [f"Taken as {currency}: no currency was named."]
    if request.currency:
        message = f"{_NO_EXCHANGE.split('. ')[0]}. In the same money: {headline}."
        return _finish(request, Status.IMPOSSIBLE, message=message, figures=figures, notes=notes)
    return _finish(request, Status.ANSWERED, headline=headline, figures=figures, notes=notes)


def _in_base(measure: Measure, kitchen: Kitchen) -> Fraction:
    base = {"mass": "g", "volume": "ml"}.get(kind_of(measure.unit))
    return measured_in(measure.value, measure.unit, base, kitchen.country) if base else Fraction(0)


def _volume_in(request: Conversion, to: tuple[str, ...]) -> str:
    return request.amount.unit if kind_of(request.amount.unit) == "volume" else to[0]


def _figure(
    request: Conversion, said: Fraction, value: Fraction, unit: str, country: str, shown: str, source: str
) -> Figure:
    name = f"{with_its_unit(said, request.amount.unit)} {request.said}".rstrip()
    return Figure(name, Role.CONVERSION, float(value), table_unit(unit, country), source=source, shown=shown)


def _cautions(request: Conversion) -> tuple[Caution, ...]:
    return reminders((), touches=("curing_salt",)) if request.of == "cure" else ()


def _finish(
    request: Conversion,
    status: Status,
    *,
    headline: str = "",
    message: str = "",
    figures: Sequence[Figure] = (),
    notes: Iterable[str] = (),
    cautions: tuple[Caution, ...] = (),
    pending: Pending | None = None,
) -> Outcome:
    said = [note for note in notes if note]
    if request.assumed:
        said.append(f"{exact_text(request.amount.value)} is read as {SHORT[request.amount.unit]}.")
    if request.letter:
        spoon = "tablespoons" if request.letter == "T" else "teaspoons"
        said.append(f'"{request.letter}" is read as {spoon}: a capital T is a tablespoon, a small t a teaspoon.')
    answer = Answer(
        understood=understood_text(request),
        status=status,
        topic=NAME,
        headline=headline,
        figures=tuple(figures),
        cautions=cautions,
        notes=tuple(said),
        message=message,
    )
    return Outcome(answer, pending=pending)


def _ask(
    request: Conversion, missing: str, message: str, figures: Sequence[Figure] = (), notes: Iterable[str] = ()
) -> Outcome:
    pending = Pending(NAME, request, missing)
    return _finish(request, Status.NEEDS_DETAIL, message=message, figures=figures, notes=notes, pending=pending)
