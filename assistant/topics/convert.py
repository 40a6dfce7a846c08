"""Converting: weights, volumes, lengths, temperatures, times, prices per unit, and spoons of a named thing.

What is exact stays exact; what rests on a typical weight of a spoonful says on which. Money is never exchanged.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.data import Seasoning
from assistant.language import vocabulary
from assistant.language.phrases import Amount, Count, CutName, Measure, Per, Phrase, Rate, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.topics.base import Kitchen, Outcome, Pending, Reading, Talk
from assistant.topics.cautions import reminders

NAME: Final = "convert"

_US_SPOONS = re.compile(r"\bUS\b|\bu\.?s\.? (?=cup|tbsp|tablesp|tsp|teasp|pint|quart|gallon|fl)")
"""A lower-case "us" alone is a pronoun."""
_WHOSE: Final = {"measures_au": "au", "measures_us": "us", "measures_uk": "uk"}
_MEASURES_OF: Final = {"au": "Australian", "us": "American", "uk": "British"}

_CURRENCIES: Final = frozenset({"USD", "GBP", "EUR", "AUD", "CAD", "NZD", "GBP_penny", "USD_cent"})
_UNIT_TERMINALS: Final = ("MASS", "VOLUME", "LENGTH", "TIME", "DEGREE")
_KINDS: Final = ("weight", "volume", "length", "degrees", "duration")
_SYSTEMS: Final = {"metric": "metric", "imperial": "us", "us": "us", "american": "us"}

_IMPERIAL: Final = {
    "fluid_ounce": "imperial_fluid_ounce",
    "pint": "imperial_pint",
    "quart": "imperial_quart",
    "gallon": "imperial_gallon",
}
_METRIC: Final = {
    "pinch": "metric_pinch",
    "dash": "metric_dash",
    "tsp": "metric_teaspoon",
    "tbsp": "metric_tablespoon",
    "cup": "metric_cup",
    **_IMPERIAL,
}
_MEASURES: Final = {"us": {}, "au": {**_METRIC, "tbsp": "australian_tablespoon"}}
"""The measures of a country by the cook's word, where they are not the US ones; every other country: _METRIC."""

_US_MILLILITRES: Final = {"tsp": "tsp", "tbsp": "tbsp", "cup": "cup", "fl_oz": "fluid_ounce"}
_PREFERRED: Final = {
    "tsp": ("tsp", "tbsp", "cup", "fl_oz"),
    "tbsp": ("tbsp", "tsp", "cup", "fl_oz"),
    "cup": ("cup", "tbsp", "tsp", "fl_oz"),
    "fluid_ounce": ("fl_oz", "cup", "tbsp", "tsp"),
}
"""Which published spoon weight serves a measure best: its own, else the nearest in size."""

_OF_A_TEASPOON: Final = {"pinch": Fraction(1, 16), "dash": Fraction(1, 8)}
"""As in data/units.txt: common practice, no source."""

_COLDEST: Final = Fraction("-273.15")
"""Degrees Celsius: absolute zero, by definition of the kelvin."""

_WRITTEN: Final = {
    "g": "grams",
    "cup": "cups",
    "fluid_ounce": "fl oz",
    "l": "litres",
    "inch": "inches",
    "foot": "feet",
    "meter": "metres",
    "degC": "celsius",
    "degF": "fahrenheit",
    "minute": "minutes",
    "hour": "hours",
    "day": "days",
    "week": "weeks",
    "month": "months",
    "second": "seconds",
    "us": "us units",
}
_SHORT: Final = {
    "fluid_ounce": "fl oz",
    "foot": "ft",
    "meter": "m",
    "degC": "°C",
    "degF": "°F",
    "minute": "min",
    "hour": "h",
    "second": "s",
}
_SPOKEN: Final = {
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "fluid_ounce": "fluid ounce",
    "ml": "millilitre",
    "l": "litre",
}
_SOURCES: Final = {
    "mass": "NIST Handbook 44 Appendix C",
    "volume": "NIST Handbook 44 Appendix C",
    "length": "NIST Handbook 44 Appendix C",
    "time": "exact by definition",
    "temperature": "NIST SP 811",
}


class Conversion(Struct, frozen=True):
    """What is to be converted.

    amount: as it was said; its unit is "" or "deg" where no unit or no scale was named. to: units or systems
    ("metric", "us"), none where that is left to us. of, said: the thing by its key and as it was called.
    per, to_per: for a price, what it is for and what it is wanted for. currency: another money that was asked for.
    country: whose spoons, cups and pints, where that was said ("" for the kitchen's own).
    letter: "T" or "t" where a spoon was written so. assumed: the scale of the degrees was not said.
    """

    amount: Measure
    to: tuple[str, ...] = ()
    of: str = ""
    said: str = ""
    per: Measure | None = None
    to_per: Measure | None = None
    currency: str = ""
    country: str = ""
    letter: str = ""
    assumed: bool = False


# ------------------------------------------------------------------------------------------------ reading


class _Mention(Struct, frozen=True):
    """A unit that is named without a number, and the word that names it."""

    word: Word
    unit: str


class Convert:
    """The topic of conversions."""

    name = NAME
    examples = (
        "3 lb 6 oz in grams",
        "1 tbsp smoked paprika in grams",
        "7.5 g cayenne in tsp",
        "71 C in F",
        "£9.80 a kilo per lb",
    )
    passes = frozenset(
        (
            *("what", "how_much", "how_many", "equals", "convert", "yes", "hello", "thanks", "cost", "works_out"),
            *_WHOSE,
            *("mix", "this", "want", "what_about", "correction", "for_that", "into"),
        )
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A conversion, the reply to a question of ours, or other units for the last one."""
        wanted = _reply(sentence, talk) or _price_wanted(sentence) or _conversion(sentence)
        return wanted or _other_units(sentence, talk)

    def answer(self, request: Conversion, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The converted amount with its range and source, or what is missing."""
        return _answer(request, kitchen)


TOPIC = Convert()


def _conversion(sentence: Sentence) -> Reading | None:
    if _about_something_else(sentence):
        return None
    amounts = [amount for amount in sentence.of(Amount) if amount.kind in _KINDS]
    money = [amount for amount in sentence.of(Amount) if amount.kind == "money"]
    counts = sentence.of(Count)
    mentions = _mentions(sentence)
    if len(money) == 1 and not amounts and not counts:
        return _exchange(money[0], mentions)
    stone = _stone_and_pounds(sentence, amounts)
    if stone is not None:
        return _reading(sentence, stone, None, mentions, *amounts)
    if money or len(amounts) + len(counts) > 1:
        return None
    said_outright = sentence.has("convert", "equals")
    taken: Amount | Count | Per
    spoons = _a_spoonful(sentence)
    if spoons is not None:
        source, taken = spoons.per, spoons
    elif amounts:
        source, taken = amounts[0].measure, amounts[0]
    elif counts and mentions and _whose(sentence) and _follows(sentence, counts[0], mentions[0].word):
        # "2 Australian tablespoons": the number and its unit stand apart
        return _reading(
            sentence,
            Measure(counts[0].value, mentions[0].unit, counts[0].high),
            counts[0],
            mentions[1:],
            mentions[0].word,
        )
    elif counts:
        if counts[0].proportion or not said_outright:
            return None
        source, taken = Measure(counts[0].value, "", counts[0].high), counts[0]
    else:
        return _of_one(sentence, mentions)
    if not (said_outright or mentions) or not _stands_free(sentence, taken):
        return None
    return _reading(sentence, source, taken, mentions)


def _about_something_else(sentence: Sentence) -> bool:
    """Percents, rates, people, patties, days and the like: an amount to be planned with, not to be converted."""
    plain = (Amount, Count, CutName, SeasoningName, Word)
    spoonful = _a_spoonful(sentence)
    if any(not isinstance(phrase, plain) and phrase is not spoonful for phrase in sentence.phrases):
        return True
    if any(amount.kind == "percent" for amount in sentence.of(Amount)):
        return True
    return len(_things(sentence)) > 1


def _stone_and_pounds(sentence: Sentence, amounts: Sequence[Amount]) -> Measure | None:
    """2 stone 3 lb, which the grammar leaves as two weights; 14 lb to the stone."""
    if [amount.measure.unit for amount in amounts] != ["stone", "lb"] or sentence.of(Count):
        return None
    stone, pounds = amounts
    if sentence.text[stone.last : pounds.first].strip() or pounds.measure.value >= 14:
        return None
    return Measure(stone.measure.value + pounds.measure.value / 14, "stone")


def _a_spoonful(sentence: Sentence) -> Per | None:
    """The "a tablespoon" of "how many grams of salt in a tablespoon"; "per lb" would ask for a rate."""
    pers = sentence.of(Per)
    if len(pers) != 1 or _kind(pers[0].per.unit) != "volume":
        return None
    return None if any(isinstance(phrase, Amount | Count | Rate) for phrase in sentence.phrases) else pers[0]


def _stands_free(sentence: Sentence, amount: Phrase) -> bool:
    """Whether an amount is the thing converted: "salt for 5 lb in tsp" asks for something else."""
    before = sentence.text[: amount.first].lower().split()
    if before and before[-1] in ("for", "per", "with", "from", "into", "serves", "makes", "every"):
        return False
    after = sentence.after(amount)
    if isinstance(after, Word) and after.kind == "of":
        after = sentence.after(after)
    meat_follows = isinstance(after, Word) and after.kind == "cue" and after.payload == "mix"
    return not (meat_follows and sentence.of(SeasoningName))


def _reading(
    sentence: Sentence, source: Measure, taken: Phrase | None, mentions: Sequence[_Mention], *more: Phrase
) -> Reading | None:
    to = tuple(dict.fromkeys(mention.unit for mention in mentions if mention.unit not in _CURRENCIES))
    if any(mention.unit in _CURRENCIES for mention in mentions):
        return None
    things = _things(sentence)
    of, said = "", ""
    if things:
        thing, of = things[0]
        said = thing.text.lower()
        crossing = bool(source.unit) and any(_kind(unit) not in ("", _kind(source.unit)) for unit in to)
        if isinstance(thing, CutName) and not crossing:
            of = ""
    scale = _other_scale(to) if source.unit in ("", "deg") else ""
    source = replace(source, unit=scale or source.unit)
    request = Conversion(source, to, of, said, country=_whose(sentence), letter=_letter(taken), assumed=bool(scale))
    named = [thing for thing, _key in things]
    used = frozenset((*([taken] if taken else []), *(mention.word for mention in mentions), *named, *more))
    return Reading(request, used, 2 if _is_plainly_ours(sentence) else 1)


def _things(sentence: Sentence) -> list[tuple[Phrase, str]]:
    """What is named, with its key; "ice water" is a thing here, whatever else its words mean to other topics."""
    found: list[tuple[Phrase, str]] = []
    for phrase in sentence.phrases:
        if isinstance(phrase, SeasoningName):
            found.append((phrase, phrase.key))
        elif isinstance(phrase, CutName):
            found.append((phrase, f"cut:{phrase.name}"))
        elif isinstance(phrase, Word) and phrase.kind == "cue":
            keys = data.seasoning_names().get(vocabulary.spelled(phrase.text), ())
            found.extend((phrase, key) for key in keys[:1])
    return found


def _other_scale(to: tuple[str, ...]) -> str:
    """ "160 in C" is said of Fahrenheit."""
    return {"degC": "degF", "degF": "degC"}.get(to[0], "") if to else ""


def _is_plainly_ours(sentence: Sentence) -> bool:
    """Whether every cue is one that a conversion has; with others in the line, it is a guess."""
    known = Convert.passes
    return all(cue in known or cue.startswith("unit:") for cue in sentence.cues)


def _of_one(sentence: Sentence, mentions: Sequence[_Mention]) -> Reading | None:
    """No number: "tbs paprika = how many g", "grams to ounces" and "how many tsp in tbsp" are about one."""
    if len({mention.unit for mention in mentions}) < 2:
        return None
    asked_first = _asks(sentence, mentions[0])
    source = mentions[-1] if asked_first else mentions[0]
    rest = [mention for mention in mentions if mention.unit != source.unit]
    return _reading(sentence, Measure(Fraction(1), source.unit), None, rest, source.word)


def _asks(sentence: Sentence, mention: _Mention) -> bool:
    """Whether a unit is what "how many" asks for."""
    asking = ("how_many", "how_much")
    before = sentence.before(mention.word)
    return mention.word.payload in asking or (isinstance(before, Word) and before.payload in asking)


def _exchange(money: Amount, mentions: Sequence[_Mention]) -> Reading | None:
    others = [mention for mention in mentions if mention.unit in _CURRENCIES]
    if not others or len(others) != len(mentions):
        return None
    request = Conversion(money.measure, currency=others[0].unit.split("_")[0])
    return Reading(request, frozenset((money, *(mention.word for mention in others))), 2)


def _price_wanted(sentence: Sentence) -> Reading | None:
    """ "99p per 100 g per kilo", "$4.99/lb in £/kg", "£9.80 a kilo in lb"."""
    rates = [rate for rate in sentence.of(Rate) if rate.kind == "money"]
    others = (Amount, Count, Rate, CutName, SeasoningName)
    if len(rates) != 1 or sum(isinstance(phrase, others) for phrase in sentence.phrases) > 1:
        return None
    if any(not isinstance(phrase, (Rate, Per, Word)) for phrase in sentence.phrases):
        return None
    rate, pers, mentions = rates[0], sentence.of(Per), _mentions(sentence)
    masses = [mention for mention in mentions if mention.unit not in _CURRENCIES]
    currencies = [mention for mention in mentions if mention.unit in _CURRENCIES]
    if len(pers) + len(masses) + len(currencies) == 0 or len(pers) + len(masses) > 1 or len(currencies) > 1:
        return None
    to_per = pers[0].per if pers else Measure(Fraction(1), masses[0].unit) if masses else rate.per
    if _kind(to_per.unit) != _kind(rate.per.unit):
        return None
    currency = currencies[0].unit.split("_")[0] if currencies else ""
    currency = "" if currency == rate.measure.unit else currency
    request = Conversion(rate.measure, per=rate.per, to_per=to_per, currency=currency)
    return Reading(request, frozenset((rate, *pers, *(mention.word for mention in mentions))), 2)


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    """The answer to what we asked: of what, which salt, which unit."""
    pending = talk.pending
    if (
        pending is None
        or pending.topic != NAME
        or any(isinstance(phrase, Amount | Count) for phrase in sentence.phrases)
    ):
        return None
    request: Conversion = pending.request
    mentions = _mentions(sentence)
    if pending.missing == "unit" and len(mentions) == 1:
        return Reading(_with_unit(request, mentions[0].unit), frozenset((mentions[0].word,)), 2)
    things = _things(sentence)
    named = frozenset(thing for thing, _key in things)
    salt = sentence.cue("flake_salt", "rolled_salt")
    if pending.missing == "which" and salt is not None:
        key = "kosher salt, flake" if salt.payload == "flake_salt" else "kosher salt, rolled"
        return Reading(replace(request, of=key, said=_first_name(key)), named | {salt}, 2)
    if len(things) == 1 and pending.missing in ("of what", "which") and not mentions:
        thing, key = things[0]
        return Reading(replace(request, of=key, said=thing.text.lower()), named, 2)
    return None


def _with_unit(request: Conversion, unit: str) -> Conversion:
    return replace(request, amount=replace(request.amount, unit=unit))


def _other_units(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "and in ounces?" after a conversion."""
    if talk.topic != NAME or not isinstance(talk.last, Conversion) or talk.last.per is not None:
        return None
    mentions = _mentions(sentence)
    if not mentions or any(not isinstance(phrase, Word) for phrase in sentence.phrases):
        return None
    to = tuple(dict.fromkeys(mention.unit for mention in mentions))
    if any(unit in _CURRENCIES for unit in to):
        return None
    return Reading(replace(talk.last, to=to), frozenset(mention.word for mention in mentions), 1)


def _mentions(sentence: Sentence) -> list[_Mention]:
    """Every unit or system that is named without a number, in order."""
    found = []
    for word in sentence.words("cue"):
        if word.payload.startswith("unit:"):
            found.append(_Mention(word, word.payload.removeprefix("unit:")))
        elif word.payload in ("convert", "how_much", "how_many", "equals"):
            found.extend(_Mention(word, unit) for unit in _units_in(word.text))
    return [mention for mention in found if mention.unit != "percent"]


def _units_in(text: str) -> list[str]:
    """The units that a cue such as "in lb and oz" or "how many grams" names."""
    words = vocabulary.spelled(text).split()
    found = []
    at = 0
    while at < len(words):
        pair = vocabulary.vocabulary().meanings.get(" ".join(words[at : at + 2]))
        if len(words) > at + 1 and pair is not None and pair.terminal in _UNIT_TERMINALS:
            found.append(pair.payload)
            at += 2
            continue
        word = words[at]
        single = vocabulary.vocabulary().meanings.get(word)
        if word in ("c", "f"):
            found.append("degC" if word == "c" else "degF")
        elif word in _SYSTEMS:
            found.append(_SYSTEMS[word])
        elif single is not None and single.terminal in _UNIT_TERMINALS:
            found.append(single.payload)
        at += 1
    return found


def _whose(sentence: Sentence) -> str:
    """Whose measures were named: "an Australian tablespoon", "a US cup"."""
    word = sentence.cue(*_WHOSE)
    if word is not None:
        return _WHOSE[word.payload]
    return "us" if _US_SPOONS.search(sentence.text) else ""


def _follows(sentence: Sentence, count: Count, unit: Word) -> bool:
    """Whether nothing but the word for whose measures they are stands between a number and a unit."""
    before = sentence.before(unit)
    if isinstance(before, Word) and before.payload in _WHOSE:
        before = sentence.before(before)
    return before is count


def _letter(phrase: Phrase | None) -> str:
    match = re.search(r"[\d\s]([Tt])\b", phrase.text) if phrase else None
    return match.group(1) if match else ""


def _first_name(key: str) -> str:
    row = data.seasonings()[key]
    return next(name for name in (key, *row.names) if "," not in name)


# ------------------------------------------------------------------------------------------------ answering


def _answer(request: Conversion, kitchen: Kitchen) -> Outcome:
    if request.country:
        kitchen = replace(kitchen, country=request.country)
    if request.per is not None:
        return _price(request, kitchen)
    if request.currency:
        return _finish(request, Status.IMPOSSIBLE, message=_NO_EXCHANGE)
    if request.amount.unit in ("", "deg"):
        return _which_unit(request)
    kind = _kind(request.amount.unit)
    if not kind:
        message = f"I have no figure for a {request.amount.unit}: say it in another unit."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    if kind != units.TEMPERATURE and request.amount.value < 0:
        message = "An amount below nothing cannot be converted: which amount is it?"
        return _finish(request, Status.IMPOSSIBLE, message=message)
    to = _wanted(request, kitchen)
    kinds = {_kind(unit) for unit in to}
    if kinds == {kind}:
        return _same_kind(request, to, kind, kitchen)
    if kinds | {kind} == {"mass", "volume"} and len(kinds) == 1:
        return _by_the_spoon(request, to, kitchen)
    message = f"{_amount_text(request.amount)} cannot be turned into {_listed(to)}: they measure different things."
    return _finish(request, Status.IMPOSSIBLE, message=message)


_NO_EXCHANGE: Final = (
    "I have no exchange rates, so I cannot change one money into another. "
    "I can turn a price per kilo into a price per pound, or work out what a batch costs in one money."
)


def _wanted(request: Conversion, kitchen: Kitchen) -> tuple[str, ...]:
    """The units to convert to; where a system or nothing was named, those that suit the amount."""
    kind = _kind(request.amount.unit)
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
    return unit in ("g", "kg", "mg", "ml", "l", "cm", "mm", "meter", "degC")


def _which_unit(request: Conversion) -> Outcome:
    wanted = f" into {_listed(request.to)}" if request.to else ""
    message = f"{_exact_text(request.amount.value)} of which unit{wanted}? Such as grams, oz, lb, tsp, °F or °C."
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
        values = [_in(value, amount.unit, unit, country) for value in _ends(amount)]
        texts = [_mixed_text(value) if mixed else _value_text(value, unit) for value in values]
        source = _source(kind, (amount.unit, unit), country)
        for said, value, text in zip(_ends(amount), values, texts, strict=True):
            figures.append(_figure(request, said, value, unit, country, text, source))
        shown.append(_span(texts))
    notes = _measure_notes((amount.unit, *to), country)
    return _finish(
        request,
        Status.ANSWERED,
        headline=f"{_subject(request)} is {wording.listing(shown, 'or')}",
        figures=figures,
        notes=notes,
        cautions=_cautions(request),
    )


def _by_the_spoon(request: Conversion, to: tuple[str, ...], kitchen: Kitchen) -> Outcome:
    """From a volume of a named thing to its weight, or back: grams = millilitres x grams per millilitre."""
    if not request.of:
        return _ask(request, "of what", _of_what(request, to))
    if request.of.startswith("cut:"):
        message = f"Meat is not measured by the {_spoken(_volume_in(request, to))}: it packs too differently. Weigh it."
        return _finish(request, Status.IMPOSSIBLE, message=message)
    if request.of == "cure":
        message = "Curing salt is never measured by the spoon: weigh it, by a tested recipe."
        return _finish(request, Status.IMPOSSIBLE, message=message, cautions=_cautions(request))
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
    ends = len(_ends(request.amount))
    texts = [figure.shown for figure in figures]
    shown = [_span(texts[at : at + ends]) for at in range(0, len(texts), ends)]
    headline = f"{_subject(request)} is {wording.listing(shown, 'or')}{_as_spoons(figures, to)}"
    about_weight = "; ".join(part for part in row.note.split("; ") if not part.startswith("sodium"))
    notes += [
        f"{about_weight.capitalize()}." if about_weight else "",
        *_measure_notes((request.amount.unit, *to), kitchen.country),
    ]
    if row.density is None:
        notes.append("A level spoon, not packed; a scale is surer.")
    return _finish(request, Status.ANSWERED, headline=headline, figures=figures, notes=notes)


def _spoon_figures(request: Conversion, row: Seasoning, to: Iterable[str], country: str) -> list[Figure]:
    amount = request.amount
    heavier = _kind(amount.unit) == "volume"
    figures = []
    for unit in to:
        measure = amount.unit if heavier else unit
        density = _density(row, measure)
        if density is None:
            return []
        for said in _ends(amount):
            if heavier:
                millilitres = _in(said, measure, "ml", country)
                value, low, high = (_in(millilitres * per_ml, "g", unit, country) for per_ml in density)
            else:
                grams = _in(said, amount.unit, "g", country)
                value, high, low = (_in(grams / per_ml, "ml", unit, country) for per_ml in density)
            figure = _figure(request, said, value, unit, country, _value_text(value, unit), row.source)
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
    spoon = _spoken(_volume_in(request, to))
    return f"Of what? A {spoon} of salt weighs far more than a {spoon} of pepper: name it, such as paprika or water."


def _which(request: Conversion, keys: Sequence[str], to: tuple[str, ...], kitchen: Kitchen) -> Outcome:
    """Each reading with its figure, and the question which it is."""
    figures = []
    said = []
    for key in keys:
        found = _spoon_figures(replace(request, said=key), data.seasonings()[key], to, kitchen.country)
        figures += found
        said += [f"{found[0].shown} of {_first_name(key)}"] if found else []
    salts = "light hollow flakes or dense rolled crystals" if "kosher" in request.of else wording.listing(keys, "or")
    message = f"Which {request.said}: {salts}? {_amount_text(request.amount)} is {wording.listing(said, 'or')}."
    notes = _measure_notes((request.amount.unit, *to), kitchen.country)
    return _ask(request, "which", message, figures, notes)


def _price(request: Conversion, kitchen: Kitchen) -> Outcome:
    """A price for another weight: price x (new / old), both in one unit."""
    per, to_per = request.per, request.to_per
    assert per is not None
    assert to_per is not None
    country = kitchen.country
    factor = _in(to_per.value, to_per.unit, per.unit, country) / per.value
    currency = request.amount.unit or wording.HOME_CURRENCY[country]
    wanted = _per_text(to_per)
    shown = []
    figures = []
    for value in _ends(request.amount):
        price = value * factor
        text = wording.price(price, currency, wanted)
        figures.append(
            Figure(f"price per {wanted}", Role.PRICE, float(price), currency, source="arithmetic", shown=text)
        )
        shown.append(text)
    said = " to ".join(wording.money(value, currency) for value in _ends(request.amount))
    headline = f"{said} per {_per_text(per)} is {' to '.join(shown)}"
    notes = [] if request.amount.unit else [f"Taken as {currency}: no currency was named."]
    if request.currency:
        message = f"{_NO_EXCHANGE.split('. ')[0]}. In the same money: {headline}."
        return _finish(request, Status.IMPOSSIBLE, message=message, figures=figures, notes=notes)
    return _finish(request, Status.ANSWERED, headline=headline, figures=figures, notes=notes)


def _per_text(per: Measure) -> str:
    unit = _SHORT.get(per.unit, per.unit)
    return unit if per.value == 1 else f"{_exact_text(per.value)} {unit}"


# ------------------------------------------------------------------------------------------------ units by country


def _kind(unit: str) -> str:
    """What a cook's unit measures, "" for what the units table does not have."""
    try:
        return units.kind(unit)
    except units.UnknownUnit:
        return ""


def _table_unit(unit: str, country: str) -> str:
    """The units table's name for a cook's unit: spoons, cups and pints are not of one size in every country."""
    return _MEASURES.get(country, _METRIC).get(unit, unit)


def _in(value: Fraction, unit: str, other: str, country: str) -> Fraction:
    """The value in another unit of the same kind, in the measures of the country; exact."""
    return units.to(value, _table_unit(unit, country), _table_unit(other, country))


def _source(kind: str, named: Iterable[str], country: str) -> str:
    tables = {_table_unit(unit, country) for unit in named}
    if any(table.startswith("imperial") for table in tables):
        return "UK Weights and Measures Act 1985, from memory"
    if any(table.startswith("australian") for table in tables):
        return "AS 1325, from memory"
    if any(table.startswith("metric") for table in tables):
        return "metric spoons and cup as sold, from memory"
    return _SOURCES[kind]


def _measure_notes(named: Iterable[str], country: str) -> list[str]:
    """Which spoons, cups and pints were meant, where their size depends on the country."""
    sizes = []
    named = tuple(dict.fromkeys(named))
    for unit in named:
        if unit in _METRIC:
            table = _table_unit(unit, country)
            size = wording.number(units.millilitres(1, table), 1)
            sizes.append(f"a {_spoken(unit)} of {size} ml")
    whose = {"us": "US", "au": "Australian"}.get(country, "UK" if country == "uk" else "metric and imperial")
    notes = [f"Taken in {whose} measures: {wording.listing(sizes)}."] if sizes else []
    for unit in named:
        if unit in _OF_A_TEASPOON:
            share = wording.fraction(_OF_A_TEASPOON[unit], Fraction(1, 16))
            notes = [*notes, f"A {unit} is counted as {share} tsp (common practice, no source)."]
    return notes


# ------------------------------------------------------------------------------------------------ words


def _ends(measure: Measure) -> tuple[Fraction, ...]:
    return (measure.value,) if measure.high is None else (measure.value, measure.high)


def _in_base(measure: Measure, kitchen: Kitchen) -> Fraction:
    base = {"mass": "g", "volume": "ml"}.get(_kind(measure.unit))
    return _in(measure.value, measure.unit, base, kitchen.country) if base else Fraction(0)


def _volume_in(request: Conversion, to: tuple[str, ...]) -> str:
    return request.amount.unit if _kind(request.amount.unit) == "volume" else to[0]


def _spoken(unit: str) -> str:
    return _SPOKEN.get(unit, unit)


def _exact_text(value: Fraction) -> str:
    """A number written so that it reads back as itself: decimals where they end, else a mixed fraction."""
    decimals = value * 10**6
    if decimals.denominator == 1:
        return wording.number(value, 6).replace(",", "")
    whole, part = divmod(value, 1)
    return f"{whole} {part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"


def _with_its_unit(value: Fraction, unit: str) -> str:
    whole, ounces = divmod(value * 16, 16)
    if unit == "lb" and whole and ounces and ounces.denominator == 1:
        return f"{whole} lb {ounces} oz"
    return f"{_exact_text(value)} {_unit_text(unit, value)}".rstrip()


def _unit_text(unit: str, value: Fraction) -> str:
    plural = unit in ("cup", "pint", "quart", "gallon", "inch", "pinch", "dash", "day", "week", "month") and value > 1
    return wording.plural_of(unit) if plural else _SHORT.get(unit, unit)


def _amount_text(measure: Measure) -> str:
    if measure.high is None:
        return _with_its_unit(measure.value, measure.unit)
    return f"{_exact_text(measure.value)} to {_with_its_unit(measure.high, measure.unit)}"


def _subject(request: Conversion) -> str:
    return f"{_amount_text(request.amount)} {request.said}".rstrip()


def _value_text(value: Fraction, unit: str) -> str:
    """Four figures or so, and never nothing for something."""
    size = abs(value)
    if _kind(unit) == units.TEMPERATURE:
        digits = 1
    else:
        digits = 0 if size >= 1000 else 1 if size >= 100 else 2 if size >= 1 else 3
    while value and digits < 9 and not wording.rounded(value, Fraction(1, 10**digits)):
        digits += 1
    return f"{wording.number(value, digits)} {_unit_text(unit, value)}"


def _mixed_text(pounds: Fraction) -> str:
    """Pounds and ounces to a hundredth of an ounce."""
    hundredths = wording.rounded(pounds * 16, Fraction(1, 100))
    whole, ounces = divmod(hundredths, 16)
    return f"{whole} lb {wording.number(ounces, 2)} oz" if whole else f"{wording.number(ounces, 2)} oz"


def _span(texts: Sequence[str]) -> str:
    """Both ends of a range; the unit once where they share it."""
    first, _, unit = texts[0].rpartition(" ")
    shared = len(texts) > 1 and texts[-1].endswith(f" {unit}") and first.replace(".", "").isdigit()
    return " to ".join((first if shared else texts[0], *texts[1:]))


def _as_spoons(figures: Sequence[Figure], to: Sequence[str]) -> str:
    """What to fill, to the nearest eighth, where one spoon size was asked for and the figure is not one itself."""
    if len(to) != 1 or to[0] not in ("tsp", "tbsp", "cup") or len(figures) != 1:
        return ""
    value = Fraction(figures[0].value)
    near = wording.rounded(value, Fraction(1, 8))
    return f", about {wording.fraction(near, Fraction(1, 8))} {to[0]}" if near and near != value else ""


def _figure(
    request: Conversion, said: Fraction, value: Fraction, unit: str, country: str, shown: str, source: str
) -> Figure:
    name = f"{_with_its_unit(said, request.amount.unit)} {request.said}".rstrip()
    return Figure(name, Role.CONVERSION, float(value), _table_unit(unit, country), source=source, shown=shown)


def _listed(to: Sequence[str]) -> str:
    return wording.listing([_WRITTEN.get(unit, unit) for unit in to])


def _understood(request: Conversion) -> str:
    """The request in full words, which read back to the same request."""
    if request.per is not None and request.to_per is not None:
        return f"Convert {_money_text(request.amount)} per {_per_text(request.per)} to{_money_wanted(request)}"
    if request.currency:
        return f"Convert {_money_text(request.amount)} to {request.currency}"
    of = f" of {request.said}" if request.said else ""
    to = f" to {_listed(request.to)}" if request.to else ""
    whose = f" in {_MEASURES_OF[request.country]} measures" if request.country else ""
    return f"Convert {_amount_text(request.amount)}{of}{to}{whose}"


def _money_wanted(request: Conversion) -> str:
    assert request.to_per is not None
    currency = f" {request.currency}" if request.currency else ""
    return f"{currency} per {_per_text(request.to_per)}"


def _money_text(amount: Measure) -> str:
    symbol = wording.CURRENCY_SYMBOLS.get(amount.unit, "")
    return " to ".join(f"{symbol}{_coins_text(value)}" for value in _ends(amount))


def _coins_text(value: Fraction) -> str:
    """Two decimals where the sum is in whole cents, as prices are written; else as exact as it was said."""
    cents = value * 100
    if cents.denominator != 1 or value < 0:
        return _exact_text(value)
    return f"{cents.numerator // 100}.{cents.numerator % 100:02d}".removesuffix(".00")


# ------------------------------------------------------------------------------------------------ answers


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
        said.append(f"{_exact_text(request.amount.value)} is read as {_SHORT[request.amount.unit]}.")
    if request.letter:
        spoon = "tablespoons" if request.letter == "T" else "teaspoons"
        said.append(f'"{request.letter}" is read as {spoon}: a capital T is a tablespoon, a small t a teaspoon.')
    answer = Answer(
        understood=_understood(request),
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
