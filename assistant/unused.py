"""The words of a line that weigh something and that its answer did not use: they are named beside it.

A word that no topic accounts for, and a word without which the line comes to the very same answer, changed nothing. For
most words that is as it should be ("please", "the kids love it"); those listed here could have meant another meat,
another weight or another rule, and whoever said them has to see that they were left aside.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from msgspec.structs import replace

from assistant.answer import Answer
from assistant.language.phrases import Amount, Count, CutName, Fatness, Patties, People, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Reading, Talk, Topic

_WEIGHTY = frozenset(
    (
        *("allergy", "fewer"),  # gluten free, vegan: another meal
        *(
            "freezer",
            "from_frozen",
            "thaw",
            "cooked",
            "leftover",
            "rare",
            "icy",
            "marinade",
        ),  # another state of the meat
        *("bone", "trimmed", "already_salted"),  # less of it to eat, or salt in it
        *("thick", "which_plate", "passes"),  # another shape or grind
        *(
            "bigger",
            "smaller",
            "fattier",
            "leaner",
            "double",
            "halve",
            "triple",
            "half_again",
            "twice_as",
        ),  # another size
        *("not", "instead", "drop", "swap", "nothing_else"),  # something else, or none of it
        "convert",  # told otherwise
    )
)
"""Cues that are named where they changed nothing. Raw, total and each are not among them: weights are raw weights of the
whole batch, and a size is that of each patty, unless another word says otherwise."""

_ABOUT: dict[str, frozenset[str]] = {
    "allergens": frozenset(("allergy", "fewer", "not")),
    "convert": frozenset(("convert",)),
    "cook": frozenset(("from_frozen", "rare")),
    "correct": frozenset(("swap", "drop", "instead")),
    "firm": frozenset(("freezer", "icy", "thick", "which_plate", "passes", "not")),
    "learn": frozenset(("cooked", "thaw")),
    "prices": frozenset(("trimmed",)),
    "safe": frozenset(("cooked", "bone", "leftover")),
    "shrink": frozenset(("cooked", "fattier", "leaner", "thick")),
    "store": frozenset(("freezer", "thaw", "icy", "leftover", "cooked")),
    "thaw": frozenset(("freezer", "from_frozen", "thaw", "icy")),
    "timetable": frozenset(("freezer", "thaw", "cooked")),
}
"""What a topic is about: there such a word says no more than the answer does."""

_DECLINES = frozenset(("courtesy", "cure", "guide", "outside"))
"""Topics that give no figure: nothing that was said could have changed one."""

_ASIDES: dict[str, frozenset[str]] = {
    "salty": frozenset(("plan", "correct")),
    "untrimmed": frozenset(("plan", "correct", "prices")),
    "fresh": frozenset(("safe", "store")),
    "cold": frozenset(("safe",)),
}
"""Where a word that reading passes over could have changed an answer; other words everywhere that they stand before food."""

_READ_WHOLE = frozenset(("store", "thaw"))
"""Topics that take a line as theirs whole and judge by its figures. Rulings of safety and heat mostly hold for any figure:
"an hour", "1 day" or an oven's heat is no news beside a no."""

_UNITS = {
    "g": ("gram", " g"),
    "kg": ("kilo", "kg", "metric"),
    "oz": ("ounce", "oz"),
    "lb": ("pound", "lb", "imperial"),
    "tsp": ("teaspoon", "tsp"),
    "tbsp": ("tablespoon", "tbsp"),
    "cup": ("cup",),
    "ml": ("ml", "millilit"),
    "mm": ("mm", "millimet"),
    "cm": ("cm", "centimet"),
    "in": ("inch",),
    "°F": (" f", "fahrenheit"),
    "°C": (" c", "celsius", "centigrade"),
}
"""A unit as answers show it -> how it is asked for."""

_MOST = 6
"""Words that one line is tried without: a line has one or two of them, and each costs another reading."""

_CORRECTS = Pattern(r"\s*(,|-|—|$|wait|hang on|make)")
_MEASURES = frozenset(("bigger", "smaller", "fattier", "leaner", "thick"))
"""What is asked for after "how": "how thick", "how much leaner"; "how many vegan patties" asks for no vegan."""
_ASKED = Pattern(r"\b(how|what|how much|how many|how wide and|any|no|not|as) $")
_A_PLACE = Pattern(r".*(freezer|plates?)$")
"""Where something lies, not how it is."""
_HOUR = Pattern(r"\b(at|by|since|till|until|from|to|im|is|s) $")
_NEXT_WORD = Pattern(r" [\w'-]+")
_COMPARED = Pattern(r"\b(fattier|leaner) than\b")
"""The two sides of a question that one figure answers."""
_MEANS_NO = Pattern(r"(no|not|none|never|without|except|skip|omit|minus|leave out|w o|w/o|avoid)$")

Again = Callable[[str], tuple[Topic, Reading] | None]
"""The topic that reads a text best in the same conversation, and how; None where nobody does."""


def unused(
    sentence: Sentence,
    topic: Topic,
    read: Reading,
    left: Iterable[Phrase],
    talk: Talk,
    answer: Answer,
    again: Again,
    told: Callable[[Any], Answer],
) -> list[str]:
    """The weighty words of the line, as they were typed, that the answer would be the same without.

    left: what the topic did not account for. again: reads a text anew. told: the topic's answer to a request.
    """
    if topic.name in _DECLINES:
        return []
    unaccounted = set(left)
    alike: dict[tuple[str, str], list[Phrase]] = {}
    for phrase in (*sentence.phrases, *sentence.asides):
        if _weighs(phrase, sentence, topic, talk) and not _is_obeyed(phrase, answer):
            alike.setdefault(_sort(phrase), []).append(phrase)
    found: list[Phrase] = []
    for phrases in list(alike.values())[:_MOST]:
        # a word said twice is left out twice: else each would seem to be of no use
        if unaccounted.issuperset(phrases) or _change_nothing(phrases, sentence, topic, read, again, told):
            found.extend(phrases)
    named: list[str] = []
    for phrase in sorted(found, key=lambda phrase: phrase.first):
        text = _named(phrase, sentence)
        if not any(text in longer for longer in named):
            named.append(text)
    return named


def _named(phrase: Phrase, sentence: Sentence) -> str:
    """A phrase as it was typed; a no with the word that it stands before."""
    if isinstance(phrase, Word) and phrase.payload == "not":
        follows = _NEXT_WORD.match(sentence.text[phrase.last :])
        return phrase.text + (follows.group() if follows else "")
    return phrase.text


def _sort(phrase: Phrase) -> tuple[str, str]:
    if isinstance(phrase, Word):
        return phrase.kind, phrase.payload or phrase.text.lower()
    return type(phrase).__name__, phrase.text.lower()


def _weighs(phrase: Phrase, sentence: Sentence, topic: Topic, talk: Talk) -> bool:
    """Whether a phrase could have changed the answer of this topic."""
    if isinstance(phrase, People):
        # "12 burgers for 8 people": how many are made is said, and how many eat them may not matter
        made = any(patties.count is not None for patties in sentence.of(Patties))
        return topic.name == "plan" and phrase.count is not None and made
    if not isinstance(phrase, Word):
        return topic.name in _READ_WHOLE and _is_a_figure(phrase, sentence)
    if phrase.kind == "aside":
        return topic.name in _ASIDES.get(phrase.text.lower(), _READS_FOOD) and (
            phrase.text.lower() in _ASIDES or _stands_before_food(phrase, sentence)
        )
    if phrase.kind == "side":
        return phrase.text.lower() == "fatty" or isinstance(sentence.after(phrase), CutName | Patties)
    if phrase.kind == "bound":
        return phrase.payload == "only" and phrase.text.lower() != "just" and isinstance(sentence.after(phrase), Amount)
    if phrase.kind != "cue" or phrase.payload not in _WEIGHTY or phrase.payload in _ABOUT.get(topic.name, ()):
        return False
    before, after = sentence.text[: phrase.first].lower(), sentence.text[phrase.last :].lower()
    if phrase.payload == "not":
        corrects = _CORRECTS.match(after) or _is_between_figures(phrase, sentence)
        return bool(_MEANS_NO.match(phrase.text.lower())) and not (corrects or sentence.has("why"))
    if phrase.payload == "instead":
        return talk.last is None
    if phrase.payload in ("fattier", "leaner") and _COMPARED.search(sentence.text.lower()):
        return False
    if phrase.payload == "fewer":
        return not isinstance(sentence.before(phrase), Count)
    if phrase.text.lower().startswith("how ") or phrase.text.lower() == "thickness":
        return False  # it asks, and changes nothing
    if phrase.payload == "thick" and isinstance(sentence.before(phrase), Amount):
        return False  # "60 mm thick": the figure says it
    measured = phrase.payload in _MEASURES and _ASKED.search(before)
    return not (measured or _A_PLACE.match(phrase.text.lower()))


def _is_between_figures(word: Word, sentence: Sentence) -> bool:
    """ "12 lb not 10": the second says what the first was taken for."""
    return isinstance(sentence.before(word), Amount | Count) and isinstance(sentence.after(word), Amount | Count)


_READS_FOOD = frozenset(("plan", "correct", "packs", "prices", "cook", "shrink", "evenly"))


def _stands_before_food(word: Word, sentence: Sentence) -> bool:
    after = next((phrase for phrase in sentence.phrases if phrase.first >= word.last), None)
    if not isinstance(after, CutName | Patties | SeasoningName):
        return False
    return not sentence.text[word.last : after.first].strip()


def _is_a_figure(phrase: Phrase, sentence: Sentence) -> bool:
    """A figure or an ingredient. The kind, the share and the weight of a meat are none: a rule of safety holds for each
    kind and for any weight, or is that of the strictest in the mix; nor is the age or the number of those who eat."""
    if isinstance(phrase, Amount):
        return phrase.kind != "weight"
    if isinstance(phrase, Count):
        an_age_or_hour = sentence.of(People) or sentence.has("at_risk") or _HOUR.search(sentence.text[: phrase.first])
        return not (phrase.piece or an_age_or_hour)
    if isinstance(phrase, SeasoningName):
        return phrase.key != "water"
    return isinstance(phrase, Fatness)


def _is_obeyed(phrase: Phrase, answer: Answer) -> bool:
    """Whether "in grams" is met, as the answer tells its weights in both systems, and "left over", where it tells that."""
    if isinstance(phrase, Word) and phrase.payload == "leftover":
        return any(figure.role == "left_over" for figure in answer.figures)
    if not isinstance(phrase, Word) or phrase.payload != "convert":
        return False
    text = f" {phrase.text.lower()}"
    wanted = [unit for unit, asked in _UNITS.items() if any(part in text for part in asked)]
    shown = f"{answer.headline} " + " ".join(f"{figure.unit} {figure.shown}" for figure in answer.figures)
    return any(f" {unit}" in f" {shown}" for unit in wanted)


def _change_nothing(
    phrases: Sequence[Phrase],
    sentence: Sentence,
    topic: Topic,
    read: Reading,
    again: Again,
    told: Callable[[Any], Answer],
) -> bool:
    """Whether the line comes to the same answer without some phrases."""
    text = sentence.text
    for phrase in phrases:
        text = text[: phrase.first] + " " * (phrase.last - phrase.first) + text[phrase.last :]
    other = again(text)
    if other is None or other[0] is not topic:
        return False
    first, second = read.request, other[1].request
    if first == second:
        return True
    asks = getattr(first, "asks", None)
    if not isinstance(asks, frozenset) or type(first) is not type(second) or replace(second, asks=asks) != first:
        return False
    # it was heard as a wish; whether that wish was met shows in the answer only
    return told(first) == told(second)
