"""A line as a conversion."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from fractions import Fraction
from typing import Final

from msgspec.structs import replace

from assistant import data, units
from assistant.language import vocabulary
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, Per, Phrase, Rate, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Talk
from assistant.topics.convert.measures import kind_of
from assistant.topics.convert.request import CURRENCIES, NAME, STRANGE, Conversion, Mention
from assistant.topics.convert.written import first_name

_US_SPOONS = Pattern(r"\bUS\b|\bu\.?s\.? (?=cup|tbsp|tablesp|tsp|teasp|pint|quart|gallon|fl)")
"""A lower-case "us" alone is a pronoun."""
_IMPERIAL = Pattern(r"\bimperial\s+(?:pint|quart|gallon|fl|fluid|cup|spoon|tablesp|teasp|tbsp|tsp)", re.IGNORECASE)
"""Pints and gallons are called imperial to tell them from the American ones; of weights it means pounds and ounces."""
WHOSE: Final = {"measures_au": "au", "measures_us": "us", "measures_uk": "uk"}
_LANDS: Final = ("country_uk", "country_au", "country_us", "country_ie", "country_ca", "country_nz")
"""Whose measures they are where a country stands beside a spoon, cup or pint: "a UK pint"."""
_UNIT_TERMINALS: Final = ("MASS", "VOLUME", "LENGTH", "TIME", "DEGREE")
_KINDS: Final = ("weight", "volume", "length", "degrees", "duration")
_SYSTEMS: Final = {"metric": "metric", "imperial": "us", "us": "us", "american": "us"}

_WHOLE: Final = Pattern(
    r"\bnearest (whole )?(g|gram|gramme|kg|kilo|oz|ounce|lb|pound|degree|ml|mm|minute|number)\b|\bwhole (grams|ounces)\b"
)
"""How people ask for a figure without decimals."""

HEAVIEST_PATTY: Final = 1000
"""Grams: what is said of a heavier one is about several."""

PASSES: Final = frozenset(
    (
        *("what", "how_much", "how_many", "equals", "convert", "yes", "hello", "thanks", "cost", "works_out"),
        *WHOSE,
        *("as_decimal", "mix", "this", "want", "what_about", "correction", "for_that", "into"),
    )
)
"""Cues that mean nothing further in the line of a conversion."""


_WEIGHS = Pattern(r"\b(weighs?|heavy|weight)\b")


def read_conversion(sentence: Sentence) -> Reading | None:
    """One amount, or none, and the unit that it is wanted in."""
    if _about_something_else(sentence):
        return None
    amounts = [amount for amount in sentence.of(Amount) if amount.kind in _KINDS]
    money = [amount for amount in sentence.of(Amount) if amount.kind == "money"]
    counts = sentence.of(Count)
    mentions = mentions_of(sentence)
    if len(amounts) == 1 and amounts[0].kind == "volume" and not mentions and not sentence.of(SeasoningName):
        # "what does a cup weigh": a weight is wanted, and of what has to be known
        mentions = [Mention(word, "g") for word in sentence.words("cue") if _WEIGHS.search(word.text.lower())][:1]
    if len(money) == 1 and not amounts and not counts:
        return _exchange(money[0], mentions)
    stone = _stone_and_pounds(sentence, amounts)
    if stone is not None:
        return _reading(sentence, stone, None, mentions, *amounts)
    if money or len(amounts) + len(counts) > 1:
        return None
    if sentence.has("as_decimal") and len(amounts) == 1 and not counts:
        # "1 lb 6 oz as a decimal": in the first of its own units
        own = Mention(sentence.words("cue")[0], amounts[0].measure.unit)
        return _reading(sentence, amounts[0].measure, amounts[0], [own])
    said_outright = sentence.has("convert", "equals")
    taken: Amount | Count | Per
    spoons = _a_spoonful(sentence)
    if spoons is not None:
        source, taken = spoons.per, spoons
    elif amounts:
        source, taken = amounts[0].measure, amounts[0]
    elif counts and _whose(sentence) and (unit := _unit_of(sentence, counts[0], mentions)) is not None:
        # "2 Australian tablespoons", "ml in half an imperial pint": the number and its unit stand apart
        others = [mention for mention in mentions if mention is not unit]
        measure = Measure(counts[0].value, unit.unit, counts[0].high)
        return _reading(sentence, measure, counts[0], others, unit.word)
    elif counts:
        if counts[0].proportion or not said_outright:
            return None
        source, taken = Measure(counts[0].value, "", counts[0].high), counts[0]
    else:
        return _of_one(sentence, mentions)
    if not (said_outright or mentions) or not _stands_free(sentence, taken):
        return None
    return _reading(sentence, source, taken, mentions)


def read_patty(sentence: Sentence) -> Reading | None:
    """ "1/3 lb patty in grams", "how many grams is a quarter pounder": one patty's weight, and nothing but the units."""
    patties, mentions = sentence.of(Patties), mentions_of(sentence)
    if len(patties) != 1 or not mentions or any(not isinstance(p, Patties | Word) for p in sentence.phrases):
        return None
    (patty,) = patties
    if patty.each is None or patty.each.kind != "weight" or (patty.count is not None and patty.count.value != 1):
        return None
    if units.grams(patty.each.measure.value, patty.each.measure.unit) > HEAVIEST_PATTY:
        # "8 1/3 lb patties": eight of them, and a batch
        return None
    if any(kind_of(mention.unit) != "mass" for mention in mentions) or not _is_plainly_ours(sentence, ()):
        return None
    return _reading(sentence, patty.each.measure, patty, mentions)


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
    if len(pers) != 1 or kind_of(pers[0].per.unit) != "volume":
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
    sentence: Sentence, source: Measure, taken: Phrase | None, mentions: Sequence[Mention], *more: Phrase
) -> Reading | None:
    to = tuple(dict.fromkeys(mention.unit for mention in mentions if mention.unit not in CURRENCIES))
    if any(mention.unit in CURRENCIES for mention in mentions):
        return None
    things = _things(sentence)
    of, said = "", ""
    if things:
        thing, of = things[0]
        said = thing.text.lower()
        if isinstance(thing, CutName) and not _crosses(source, to):
            of = ""
    if not things and _crosses(source, to):
        things = _strange(sentence, taken)
        of, said = (STRANGE, " ".join(thing.text.lower() for thing, _key in things)) if things else ("", "")
    scale = _other_scale(to) if source.unit in ("", "deg") else ""
    source = replace(source, unit=scale or source.unit)
    request = Conversion(
        source,
        to,
        of,
        said,
        country=_whose(sentence),
        letter=_letter(taken),
        assumed=bool(scale),
        whole=_WHOLE.search(sentence.text.lower()) is not None,
    )
    named = [*(thing for thing, _key in things), *(word for word in sentence.words("cue") if word.payload in _LANDS)]
    used = frozenset((*([taken] if taken else []), *(mention.word for mention in mentions), *named, *more))
    return Reading(request, used, 2 if _is_plainly_ours(sentence, {thing for thing, _key in things}) else 1)


def _crosses(source: Measure, to: Sequence[str]) -> bool:
    """Whether spoons are wanted by weight, or a weight in spoons."""
    return bool(source.unit) and any(kind_of(unit) not in ("", kind_of(source.unit)) for unit in to)


def _strange(sentence: Sentence, taken: Phrase | None) -> list[tuple[Phrase, str]]:
    """The words right after the amount that nobody has taught us, where they are all such words of the line: what the
    spoon is of ("1 tsp sumac in grams"). It has no known weight, which is to be said."""
    found: list[tuple[Phrase, str]] = []
    after = sentence.after(taken) if taken is not None else None
    while isinstance(after, Word) and (after.kind == "unknown" or (after.kind == "of" and not found)):
        found += [(after, STRANGE)] if after.kind == "unknown" else []
        after = sentence.after(after)
    return found if len(found) == len(sentence.unknown) <= 3 else []


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


def _is_plainly_ours(sentence: Sentence, named: Collection[Phrase]) -> bool:
    """Whether every cue is one that a conversion has, or names what is measured; with others it is a guess."""
    cues = (word for word in sentence.words("cue") if word not in named)
    return all(word.payload in PASSES or word.payload.startswith("unit:") for word in cues)


def _of_one(sentence: Sentence, mentions: Sequence[Mention]) -> Reading | None:
    """No number: "tbs paprika = how many g", "grams to ounces" and "how many tsp in tbsp" are about one."""
    if len({mention.unit for mention in mentions}) < 2:
        return None
    # "fl oz in a pint" asks for the first, too
    asked_first = (
        _asks(sentence, mentions[0]) or re.search(r"\b(in|per) (a|an|one|the)\b", sentence.text.lower()) is not None
    )
    source = mentions[-1] if asked_first else mentions[0]
    rest = [mention for mention in mentions if mention.unit != source.unit]
    return _reading(sentence, Measure(Fraction(1), source.unit), None, rest, source.word)


def _asks(sentence: Sentence, mention: Mention) -> bool:
    """Whether a unit is what "how many" asks for."""
    asking = ("how_many", "how_much")
    before = sentence.before(mention.word)
    return mention.word.payload in asking or (isinstance(before, Word) and before.payload in asking)


def _exchange(money: Amount, mentions: Sequence[Mention]) -> Reading | None:
    others = [mention for mention in mentions if mention.unit in CURRENCIES]
    if not others or len(others) != len(mentions):
        return None
    request = Conversion(money.measure, currency=others[0].unit.split("_")[0])
    return Reading(request, frozenset((money, *(mention.word for mention in others))), 2)


def read_price(sentence: Sentence) -> Reading | None:
    """ "99p per 100 g per kilo", "$4.99/lb in £/kg", "£9.80 a kilo in lb"."""
    rates = [rate for rate in sentence.of(Rate) if rate.kind == "money"]
    others = (Amount, Count, Rate, CutName, SeasoningName)
    if len(rates) != 1 or sum(isinstance(phrase, others) for phrase in sentence.phrases) > 1:
        return None
    if any(not isinstance(phrase, (Rate, Per, Word)) for phrase in sentence.phrases):
        return None
    rate, pers, mentions = rates[0], sentence.of(Per), mentions_of(sentence)
    masses = [mention for mention in mentions if mention.unit not in CURRENCIES]
    currencies = [mention for mention in mentions if mention.unit in CURRENCIES]
    if len(pers) + len(masses) + len(currencies) == 0 or len(pers) + len(masses) > 1 or len(currencies) > 1:
        return None
    to_per = pers[0].per if pers else Measure(Fraction(1), masses[0].unit) if masses else rate.per
    if kind_of(to_per.unit) != kind_of(rate.per.unit):
        return None
    currency = currencies[0].unit.split("_")[0] if currencies else ""
    currency = "" if currency == rate.measure.unit else currency
    request = Conversion(rate.measure, per=rate.per, to_per=to_per, currency=currency)
    return Reading(request, frozenset((rate, *pers, *(mention.word for mention in mentions))), 2)


def read_reply(sentence: Sentence, talk: Talk) -> Reading | None:
    """The answer to what we asked: of what, which salt, which unit."""
    pending = talk.pending
    if (
        pending is None
        or pending.topic != NAME
        or any(isinstance(phrase, Amount | Count) for phrase in sentence.phrases)
    ):
        return None
    request: Conversion = pending.request
    mentions = mentions_of(sentence)
    if pending.missing == "unit" and len(mentions) == 1:
        return Reading(_with_unit(request, mentions[0].unit), frozenset((mentions[0].word,)), 2)
    things = _things(sentence)
    named = frozenset(thing for thing, _key in things)
    salt = sentence.cue("flake_salt", "rolled_salt")
    if pending.missing == "which" and salt is not None:
        key = "kosher salt, flake" if salt.payload == "flake_salt" else "kosher salt, rolled"
        return Reading(replace(request, of=key, said=first_name(key)), named | {salt}, 2)
    if len(things) == 1 and pending.missing in ("of what", "which") and not mentions:
        thing, key = things[0]
        return Reading(replace(request, of=key, said=thing.text.lower()), named, 2)
    return None


def _with_unit(request: Conversion, unit: str) -> Conversion:
    return replace(request, amount=replace(request.amount, unit=unit))


def read_next_amount(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "And 5?" after a conversion: another amount in the same unit, to the same units."""
    before = talk.last
    if talk.topic != NAME or not isinstance(before, Conversion) or before.per is not None:
        return None
    figures = [phrase for phrase in sentence.phrases if not isinstance(phrase, Word)]
    words = [word for word in sentence.substance() if isinstance(word, Word)]
    if len(figures) != 1 or any(word.payload not in ("what_about", "what", "this", "how_much") for word in words):
        return None
    (figure,) = figures
    led = words or sentence.text.lower().lstrip().startswith(("and ", "& ", "or ", "then "))
    if not led or not isinstance(figure, Count) or figure.proportion:
        return None
    amount = replace(before.amount, value=figure.value, high=None)
    return Reading(replace(before, amount=amount), frozenset(sentence.phrases), 2)


def read_other_units(sentence: Sentence, talk: Talk) -> Reading | None:
    """ "and in ounces?" after a conversion."""
    if talk.topic != NAME or not isinstance(talk.last, Conversion) or talk.last.per is not None:
        return None
    mentions = mentions_of(sentence)
    if not mentions or any(not isinstance(phrase, Word) for phrase in sentence.phrases):
        return None
    to = tuple(dict.fromkeys(mention.unit for mention in mentions))
    if any(unit in CURRENCIES for unit in to):
        return None
    return Reading(replace(talk.last, to=to), frozenset(mention.word for mention in mentions), 1)


def mentions_of(sentence: Sentence, *, percent: bool = False) -> list[Mention]:
    """Every unit or system that is named without a number, in order. percent: percent among them."""
    found = []
    for word in sentence.words("cue"):
        before = sentence.before(word)
        if isinstance(before, Word) and before.payload == "not":
            # "10 kg, not lb" corrects, and asks for no pounds
            continue
        if word.payload.startswith("unit:"):
            found.append(Mention(word, word.payload.removeprefix("unit:")))
        elif word.payload in ("convert", "how_much", "how_many", "equals"):
            found.extend(Mention(word, unit) for unit in _units_in(word.text))
    return [mention for mention in found if percent or mention.unit != "percent"]


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
    word = sentence.cue(*WHOSE)
    if word is not None:
        return WHOSE[word.payload]
    land = sentence.cue(*_LANDS)
    if land is not None:
        return land.payload.removeprefix("country_")
    if _IMPERIAL.search(sentence.text):
        return "uk"
    return "us" if _US_SPOONS.search(sentence.text) else ""


def _unit_of(sentence: Sentence, count: Count, mentions: Sequence[Mention]) -> Mention | None:
    """The unit after a number with nothing but the word for whose measure it is between them."""
    for mention in mentions:
        before = sentence.before(mention.word)
        if isinstance(before, Word) and (before.payload in WHOSE or before.text.lower() == "imperial"):
            before = sentence.before(before)
        if before is count:
            return mention
    return None


def _letter(phrase: Phrase | None) -> str:
    match = re.search(r"[\d\s]([Tt])\b", phrase.text) if phrase else None
    return match.group(1) if match else ""
