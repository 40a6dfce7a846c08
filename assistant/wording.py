"""Numbers and units as people write them: the only place that rounds.

Everything takes exact values and hands back text. Halves round up. What is not nothing is never shown as nothing: it
becomes "less than" the smallest step. Plain ASCII is used for fractions unless glyphs are asked for ("1½"); the degree
sign is the one other character beyond it, and a renderer that cannot show it has `DEGREE` to look for.

Raises BadInput for what is no finite number and for negative weights, lengths, times and spoons.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from fractions import Fraction
from functools import cache
from math import floor
from typing import Final

from assistant import units
from assistant.errors import BadInput

Number = int | float | Fraction

DEGREE: Final = "°"
GLYPHS: Final = {
    Fraction(1, 2): "½",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}
CURRENCY_SYMBOLS: Final = {"USD": "$", "GBP": "£", "EUR": "€", "AUD": "A$", "CAD": "C$", "NZD": "NZ$"}
HOME_CURRENCY: Final = {"us": "USD", "uk": "GBP", "ie": "EUR", "ca": "CAD", "au": "AUD", "nz": "NZD"}
SYSTEMS: Final = ("us", "metric")
DAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
ODD_PLURALS: Final = {"person": "people", "loaf": "loaves", "half": "halves", "knife": "knives", "foot": "feet"}

OUNCES_IN_POUND: Final = 16
MINUTES_IN_HOUR: Final = 60
MINUTES_IN_DAY: Final = 24 * MINUTES_IN_HOUR


# ------------------------------------------------------------------------------------------------ plain numbers


def rounded(value: Number, step: Number = 1) -> Fraction:
    """The multiple of step nearest to the value; a value halfway goes up (and below zero, away from zero)."""
    exact_value, exact_step = _exact("value", value), _exact("step", step)
    if exact_step.numerator <= 0:
        raise BadInput("step", step, "more than 0")
    steps = _steps(exact_value, exact_step.numerator, exact_step.denominator)
    return Fraction(steps * exact_step.numerator, exact_step.denominator)


def number(value: Number, digits: int = 1) -> str:
    """Up to so many decimals, no trailing zeros, commas from ten thousand: "1.4", "12", "2250", "12,500"."""
    in_one = 10**digits
    steps = _steps(_exact("value", value), 1, in_one)
    whole, part = divmod(abs(steps), in_one)
    shown = f"{whole:,}" if whole >= 10_000 else str(whole)
    decimals = f".{part:0{digits}d}".rstrip("0") if part else ""
    return f"{'-' if steps < 0 else ''}{shown}{decimals}"


def fraction(value: Number, step: Number = Fraction(1, 4), *, glyphs: bool = False) -> str:
    """A kitchen fraction to the nearest step: "2 1/4", "3/4", "3"; with glyphs "2¼"."""
    near = rounded(value, step)
    return _mixed(near.numerator, near.denominator, glyphs)


def _mixed(above: int, below: int, glyphs: bool) -> str:
    """A fraction in lowest terms as whole and part: "2 1/4"."""
    whole, part = divmod(abs(above), below)
    sign = "-" if above < 0 else ""
    if not part:
        return f"{sign}{whole}"
    glyph = GLYPHS.get(Fraction(part, below)) if glyphs else None
    if glyph is not None:
        return f"{sign}{whole or ''}{glyph}"
    return f"{sign}{whole} {part}/{below}" if whole else f"{sign}{part}/{below}"


def percent(value: Number, digits: int = 1) -> str:
    """Percent points as "19.2%"."""
    shown = number(value, digits)
    if shown == "0" and value != 0:
        return f"less than {number(Fraction(1, 10**digits), digits)}%"
    return f"{shown}%"


def percent_range(low: Number, high: Number, digits: int = 0) -> str:
    """Two ends as "16 to 24%"; one figure where both ends are shown alike."""
    if low > high:
        raise BadInput("low", low, f"no more than {high}")
    first, last = number(low, digits), number(high, digits)
    return f"{last}%" if first == last else f"{first} to {last}%"


def percent_at_worst(value: Number, low: Number, high: Number) -> str:
    """A percent with its worst case, the three rounded alike: "20% (12.8 to 30% at the worst)"; alone where both ends
    are shown alike."""
    alike = number(low) == number(high)
    return percent(value) if alike else f"{percent(value)} ({percent_range(low, high, 1)} at the worst)"


def lean_fat(fat: Number, digits: int = 1) -> str:
    """Fat in percent as the trade writes it, lean first: "80/20", "82.5/17.5". The two always make 100."""
    near = rounded(_within("fat", fat, 100), Fraction(1, 10**digits))
    return f"{number(100 - near, digits)}/{number(near, digits)}"


def counted(count: int, thing: str, plural: str | None = None) -> str:
    """A number of things: "1 patty", "12 patties"."""
    return f"{number(count, 0)} {thing if count == 1 else plural or plural_of(thing)}"


def plural_of(thing: str) -> str:
    """The usual English plural of the last word."""
    *before, last = thing.split(" ")
    if last in ODD_PLURALS:
        ending = ODD_PLURALS[last]
    elif last.endswith("y") and last[-2:-1] not in tuple("aeiou"):
        ending = last[:-1] + "ies"
    elif last.endswith(("s", "x", "ch", "sh")):
        ending = last + "es"
    else:
        ending = last + "s"
    return " ".join((*before, ending))


def listing(words: Sequence[str], last: str = "and") -> str:
    """Words in a row: "a", "a and b", "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


# ------------------------------------------------------------------------------------------------ weights


def weight(grams: Number, system: str = "us", *, glyphs: bool = False) -> str:
    """A weight on its own: "2 lb 3 1/4 oz", "1.36 kg", "450 g". system: "us" or "metric"."""
    exact_grams = _not_negative("grams", grams)
    return _weight(exact_grams, system, weight_step(exact_grams, system), glyphs)


def both(grams: Number, first: str = "us", *, glyphs: bool = False) -> str:
    """A weight in both systems, `first` first: "2 lb 3 oz (992 g)"."""
    second = "metric" if _system("first", first) == "us" else "us"
    return f"{weight(grams, first, glyphs=glyphs)} ({weight(grams, second, glyphs=glyphs)})"


def weight_step(grams: Number, system: str = "us") -> Fraction:
    """The step, in grams, that a weight of this size is shown in.

    US: 1/8 oz below 4 oz, 1/4 oz below 20 lb, then 1 oz. Metric: 0.1 g below 10 g, 1 g below 1 kg, 10 g below 20 kg,
    then 100 g. What scales can show and a cook can use: common practice, no source.
    """
    exact_grams = _not_negative("grams", grams)
    steps, coarsest = _steps_by_size(_system("system", system))
    # in whole numbers, as in _steps
    above, one = exact_grams.numerator, exact_grams.denominator
    return next((step for below, step in steps if above * below.denominator < below.numerator * one), coarsest)


@cache
def _steps_by_size(system: str) -> tuple[tuple[tuple[Fraction, Fraction], ...], Fraction]:
    """The steps of weights below so many grams, and the step of all above."""
    if system == "us":
        return ((4 * _ounce(), _ounce() / 8), (units.grams(20, "pound"), _ounce() / 4)), _ounce()
    tenth, whole, ten = Fraction(1, 10), Fraction(1), Fraction(10)
    return ((Fraction(10), tenth), (Fraction(1000), whole), (Fraction(20_000), ten)), Fraction(100)


@cache
def _ounce() -> Fraction:
    """An ounce in grams."""
    return units.grams(1, "ounce")


def rounded_parts(parts: Sequence[Number], step: Number) -> tuple[Fraction, ...]:
    """The parts as multiples of step that add up to their rounded total, by largest remainder.

    Every part is less than one step away from the truth. Ties go to the earlier part. Any one unit.
    """
    exact_parts = [_not_negative("parts", part) for part in parts]
    exact_step = _exact("step", step)
    total_steps = int(rounded(sum(exact_parts, Fraction(0)), exact_step) / exact_step)
    steps = [floor(part / exact_step) for part in exact_parts]
    by_remainder = sorted(range(len(steps)), key=lambda i: steps[i] - exact_parts[i] / exact_step)
    for i in by_remainder[: total_steps - sum(steps)]:
        steps[i] += 1
    return tuple(count * exact_step for count in steps)


def parts_step(parts: Sequence[Number], system: str = "us") -> Fraction:
    """The step, in grams, in which parts and their total are shown together: the finest that any part needs."""
    return min((weight_step(part, system) for part in parts if part), default=weight_step(0, system))


def weights(parts: Sequence[Number], system: str = "us", *, glyphs: bool = False) -> tuple[tuple[str, ...], str]:
    """Parts in grams as people write them, and their total: the parts shown add up to the total shown."""
    step = parts_step(parts, system)
    near = rounded_parts(parts, step)
    shown = (
        _less_than(system, step, glyphs) if part and not whole else _weight(whole, system, step, glyphs)
        for part, whole in zip(parts, near, strict=True)
    )
    return tuple(shown), _weight(sum(near, Fraction(0)), system, step, glyphs)


def _weight(grams: Fraction, system: str, step: Fraction, glyphs: bool) -> str:
    near = rounded(grams, step)
    if near == 0 and grams:
        return _less_than(system, step, glyphs)
    return _pounds_and_ounces(near, glyphs) if system == "us" else _metric(near, step)


def _less_than(system: str, step: Fraction, glyphs: bool) -> str:
    return f"less than {_weight(step, system, step, glyphs)}"


def _pounds_and_ounces(grams: Fraction, glyphs: bool) -> str:
    """A weight that is a multiple of a step of ounces already."""
    shown = grams / _ounce()
    pounds, above = divmod(shown.numerator, OUNCES_IN_POUND * shown.denominator)
    loose = f"{_mixed(above, shown.denominator, glyphs)} oz"
    if not pounds:
        return loose
    return f"{number(pounds, 0)} lb {loose}" if above else f"{number(pounds, 0)} lb"


def _metric(grams: Fraction, step: Fraction) -> str:
    if grams.numerator < 1000 * grams.denominator:
        return f"{number(grams, 1)} g"
    return f"{number(grams / 1000, 4 if step.numerator < step.denominator else 3)} kg"


# ------------------------------------------------------------------------------------------------ spoons, sizes, heat


def in_steps(grams: Number, step: Number) -> str:
    """A weight as a scale with this step shows it: "1 lb 7.6 oz" for tenths of an ounce, "1 lb 7 3/4 oz" for quarters,
    grams for any other step. Raises BadInput.
    """
    exact, one = _not_negative("grams", grams), _exact("step", step)
    ounce = Fraction("28.349523125")
    parts = (one / ounce).limit_denominator(20)
    if one <= 0 or abs(parts * ounce - one) > one / 10_000 or parts.denominator > 20 or parts < Fraction(1, 20):
        return f"{number(exact, 2)} g"
    pounds, ounces = divmod(round(exact / one) * parts, 16)
    shown = number(ounces, 2) if parts.denominator % 5 == 0 else fraction(ounces, Fraction(1, 8))
    if not pounds:
        return f"{shown} oz"
    return f"{pounds} lb {shown} oz" if ounces else f"{pounds} lb"


def spoons(measures: Sequence[tuple[Number, str]], *, glyphs: bool = False) -> str:
    """Spoons to fill, biggest first as given: [(2, "tbsp"), (1/4, "tsp")] is "2 tbsp + 1/4 tsp".

    Neighbours of one unit are added: [(1, "tsp"), (1/2, "tsp")] is "1 1/2 tsp". A pinch is counted in words.
    """
    sums: list[tuple[Fraction, str]] = []
    for amount, unit in measures:
        spoonful = _not_negative("measures", amount)
        if sums and sums[-1][1] == unit:
            spoonful += sums.pop()[0]
        if spoonful:
            sums.append((spoonful, unit))
    return " + ".join(_spoonful(amount, unit, glyphs) for amount, unit in sums) or "none"


def _spoonful(amount: Fraction, unit: str, glyphs: bool) -> str:
    if unit == "pinch":
        return "a pinch" if amount == 1 else f"{fraction(amount, glyphs=glyphs)} pinches"
    # the finest step that keeps thirds and sixteenths both exact
    return f"{_fraction_or_less(amount, Fraction(1, 48), glyphs)} {unit}"


def length(millimetres: Number, first: str = "us", *, glyphs: bool = False) -> str:
    """A size in both systems: "4 1/2 in (11.4 cm)"; below 3 cm in millimetres: "1/2 in (13 mm)"."""
    size = _not_negative("millimetres", millimetres)
    size_in_inches = size / units.to(1, "inch", "millimeter")
    inches = f"{_fraction_or_less(size_in_inches, _inch_step(size_in_inches), glyphs)} in"
    metric = _metric_length(size)
    return f"{inches} ({metric})" if _system("first", first) == "us" else f"{metric} ({inches})"


def _inch_step(inches: Fraction) -> Fraction:
    """A ruler's eighths; finer for thin things, and where a plate or a slice is made to a finer fraction."""
    finest = Fraction(1, 32)
    if inches < Fraction(1, 4) or (inches / finest).denominator == 1:
        return finest
    return Fraction(1, 16) if inches < Fraction(1, 2) else Fraction(1, 8)


def _metric_length(millimetres: Fraction) -> str:
    if millimetres >= 30:
        return f"{number(millimetres / 10, 1)} cm"
    digits = 1 if millimetres < 10 else 0
    return f"{_number_or_less(millimetres, digits)} mm"


def _number_or_less(value: Fraction, digits: int) -> str:
    step = Fraction(1, 10**digits)
    if value and not rounded(value, step):
        return f"less than {number(step, digits)}"
    return number(value, digits)


def _fraction_or_less(value: Fraction, step: Fraction, glyphs: bool) -> str:
    if value and not rounded(value, step):
        return f"less than {fraction(step, step, glyphs=glyphs)}"
    return fraction(value, step, glyphs=glyphs)


def temperature(value: Number, unit: str = "degF", first: str | None = None) -> str:
    """A temperature on both scales: "160 °F (71 °C)"; as given to a tenth, converted to a whole degree.

    first: the scale shown first, else `unit`. Raises units.UnknownUnit, units.WrongKind.
    """
    scales = ("degF", "degC") if (first or unit) == "degF" else ("degC", "degF")
    shown, other = (
        f"{number(units.to(value, unit, scale), 1 if scale == unit else 0)} {DEGREE}{scale[-1]}" for scale in scales
    )
    return f"{shown} ({other})"


def money(amount: Number, currency: str) -> str:
    """ "$4.28", "A$1,250.00"; a code without a symbol here follows: "4.28 SEK". currency: an ISO 4217 code."""
    exact_amount = _exact("amount", amount)
    near = rounded(abs(exact_amount), Fraction(1, 100))
    if near == 0 and exact_amount:
        return f"less than {money(Fraction(1, 100), currency)}"
    cents = int(near * 100)
    digits = f"{cents // 100:,}.{cents % 100:02d}"
    symbol = CURRENCY_SYMBOLS.get(currency)
    sign = "-" if exact_amount < 0 else ""
    return f"{sign}{symbol}{digits}" if symbol else f"{sign}{digits} {currency}"


def price(amount: Number, currency: str, per: str) -> str:
    """Money for one of something: "$4.99/lb", "$1.20 a patty"."""
    joint = "/" if per in ("lb", "oz", "kg", "g", "100 g", "stone") else " a "
    return f"{money(amount, currency)}{joint}{per}"


# ------------------------------------------------------------------------------------------------ time


def duration(minutes: Number) -> str:
    """A length of time to the minute: "45 min", "1 h 15 min", "2 days 3 h"; below a minute "30 s".

    From two days on to the hour.
    """
    exact_minutes = _not_negative("minutes", minutes)
    if exact_minutes < 1:
        return f"{_number_or_less(exact_minutes * 60, 0)} s"
    whole = int(rounded(exact_minutes))
    if whole < 2 * MINUTES_IN_DAY:
        return _two_parts(whole, MINUTES_IN_HOUR, "h", "min")
    hours = int(rounded(exact_minutes / MINUTES_IN_HOUR))
    days, rest = divmod(hours, 24)
    return f"{counted(days, 'day')} {rest} h" if rest else counted(days, "day")


def _two_parts(value: int, size: int, big: str, small: str) -> str:
    many, rest = divmod(value, size)
    if not many:
        return f"{rest} {small}"
    return f"{many} {big} {rest} {small}" if rest else f"{many} {big}"


def clock(moment: time | datetime) -> str:
    """A time of day to the minute: "1:15 pm"; "12 noon" and "12 midnight", which am and pm leave open."""
    if (moment.hour, moment.minute) == (0, 0):
        return "12 midnight"
    if (moment.hour, moment.minute) == (12, 0):
        return "12 noon"
    return f"{(moment.hour - 1) % 12 + 1}:{moment.minute:02d} {'am' if moment.hour < 12 else 'pm'}"


def day(when: date) -> str:
    """A date that is read alike in every country: "Sat 19 June 2027"."""
    return f"{DAYS[when.weekday()]} {when.day} {MONTHS[when.month - 1]} {when.year}"


def short_day(when: date, year: int | None = None) -> str:
    """A date in a list of near ones: "Sat 28 Nov", with the year where one is given."""
    shown = f"{DAYS[when.weekday()]} {when.day} {MONTHS[when.month - 1][:3]}"
    return shown if year is None else f"{shown} {year}"


def day_of_month(day: int, month: int) -> str:
    """ "3 April": a date whose year is plain or unsaid."""
    return f"{day} {MONTHS[month - 1]}"


def day_and_time(moment: datetime) -> str:
    """ "Sat 19 June 2027, 1:15 pm"."""
    return f"{day(moment)}, {clock(moment)}"


# ------------------------------------------------------------------------------------------------ checks


def _exact(argument: str, value: Number) -> Fraction:
    if type(value) is Fraction:
        return value
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        raise BadInput(argument, value, "a number")
    try:
        return Fraction(value)
    except (OverflowError, ValueError):
        raise BadInput(argument, value, "a finite number") from None


def _not_negative(argument: str, value: Number) -> Fraction:
    exact_value = _exact(argument, value)
    if exact_value.numerator < 0:
        raise BadInput(argument, value, "0 or more")
    return exact_value


def _within(argument: str, value: Number, most: int) -> Fraction:
    exact_value = _not_negative(argument, value)
    if exact_value > most:
        raise BadInput(argument, value, f"0 to {most}")
    return exact_value


def _system(argument: str, system: str) -> str:
    if system not in SYSTEMS:
        raise BadInput(argument, system, '"us" or "metric"')
    return system


def _steps(value: Fraction, above: int, below: int) -> int:
    """How many steps of above/below the value is nearest to; halfway counts away from zero.

    Whole numbers throughout: every figure shown passes here, and Fractions are ten times slower.
    """
    doubled = 2 * abs(value.numerator) * below
    one = value.denominator * above
    steps = (doubled + one) // (2 * one)
    return steps if value.numerator >= 0 else -steps
