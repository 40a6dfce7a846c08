"""Allergens: the listed ones, which ingredients of a burger hold them, and the meat allergy after a tick bite.

What an ingredient may hold is from the safety file; a label always knows better, and the answer says so.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from assistant import wording
from assistant.data.safety import Allergens, safety_book
from assistant.language.phrases import Amount, Fatness, Rate
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

NAME: Final = "allergens"

_NAMED: Final = {
    "milk": r"milk|dairy|lactose|casein",
    "egg": r"eggs?",
    "fish": r"fish|anchov(y|ies)",
    "crustacean shellfish": r"shellfish|crustaceans?|shrimps?|prawns?|crab",
    "tree nuts": r"tree nuts?|nuts?|almonds?|walnuts?|hazelnuts?|cashews?",
    "peanut": r"peanuts?",
    "wheat": r"wheat|gluten|c(o)?eliacs?",
    "soy": r"soy|soya",
    "sesame": r"sesame",
    "mustard": r"mustard",
    "celery": r"celery",
}
"""Each allergen by the words that people use for it."""

_FOODS: Final = {
    "worcestershire sauce": r"worcester(shire)?( sauce)?",
    "soy sauce": r"soy sauce",
    "bread crumbs": r"bread ?crumbs?|breadcrumbs?|panko|crumbs",
    "egg": r"egg binder|eggs?",
    "dry milk": r"dry milk|milk powder|powdered milk",
    "cheese": r"cheeses?",
    "mustard": r"mustard",
    "celery seed": r"celery seeds?",
    "buns": r"buns?|rolls?",
}
"""The ingredients of the safety file by the words that people use for them."""

_ASKS_WHAT_IS_IN: Final = Pattern(r"\b(is|are|does|do|has|have|any|contains?|holds?|free|without)\b")
_FREE_OF: Final = Pattern(r"\b(free|without)\b")
_MEAT_ALLERGY: Final = Pattern(r"\b(tick|alpha.?gal|mammals?|red meat allergy)\b")


class Question(Struct, frozen=True):
    """What is asked. allergens, foods: those named; meat: the allergy to the meat of mammals; without:
    asked for something free of it."""

    allergens: tuple[str, ...] = ()
    foods: tuple[str, ...] = ()
    meat: bool = False
    without: bool = False


class AllergenTopic:
    """The topic of allergens."""

    name = NAME
    examples = ("Does Worcestershire sauce have fish in it?", "A guest has a sesame allergy, what to watch?")
    passes: frozenset[str] = frozenset()

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """A question that names an allergy, or an allergen and an ingredient that may hold it."""
        if any(isinstance(phrase, Rate | Fatness) or _weighs(phrase) for phrase in sentence.phrases):
            return None
        text = sentence.text.lower()
        foods = tuple(key for key, words in _FOODS.items() if re.search(rf"\b({words})\b", text))
        rest = text
        for key in foods:
            # the soy of "soy sauce" is the sauce; an egg is an allergen by itself
            rest = rest if key in _NAMED else re.sub(rf"\b({_FOODS[key]})\b", " ", rest)
        allergens = tuple(key for key, words in _NAMED.items() if re.search(rf"\b({words})\b", rest))
        foods = tuple(key for key in foods if key not in allergens)
        what = bool(allergens) and not foods and re.search(r"\b(what|which)\b.*\b(has|have|contains?|holds?)\b", text)
        asked = (
            sentence.has("allergy")
            or bool(what)
            or (bool(foods and allergens) and _ASKS_WHAT_IS_IN.search(text) is not None)
        )
        if not asked or sentence.has("temp", "fridge", "freezer", "how_much", "how_many"):
            return None
        request = Question(allergens, foods, _MEAT_ALLERGY.search(text) is not None, _FREE_OF.search(text) is not None)
        words = frozenset(word for word in sentence.words("unknown") if _is_named(word.text))
        return Reading(request, heard.plain_words(sentence) | words, 2)

    def answer(self, request: Question, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The ingredients that hold it, or the list."""
        if request.meat:
            return _mammals(kitchen)
        if request.allergens:
            return _holding(request, kitchen)
        return _list(kitchen) if not request.foods else _foods(request, kitchen)


TOPIC = AllergenTopic()


def _weighs(phrase: object) -> bool:
    return isinstance(phrase, Amount) and phrase.kind in ("weight", "percent", "volume")


def _is_named(word: str) -> bool:
    return any(re.fullmatch(words, word.lower()) for words in (*_NAMED.values(), *_FOODS.values()))


def _holding(request: Question, kitchen: Kitchen) -> Outcome:
    """Whether the named ingredients hold the allergen; with none named, which of the table's do."""
    book = safety_book()
    rows = [book.holds[key] for key in request.foods] or list(book.holds.values())
    wanted = wording.listing(request.allergens)
    sure = [row.key for row in rows if _degree(row, request.allergens) == "holds"]
    may = [row.key for row in rows if _degree(row, request.allergens) == "may"]
    if request.foods:
        says = _verdict(request, sure, may, wanted)
    elif sure or may:
        found = [f"{_hold(sure)} it"] if sure else []
        found += [f"{wording.listing(may)} may"] if may else []
        says = f"For {wanted}: {'; '.join(found)}. Plain meat and salt do not; read every label, of spice mixes too."
    else:
        says = f"For {wanted}: none of the usual burger ingredients holds it by itself; read every label."
    notes = [f"{row.key.capitalize()}: {', '.join(row.names)}." for row in rows if row.key in request.foods]
    return _told(f"Which ingredients hold {wanted}{_in(request.foods)}", says, notes, rows[0], kitchen)


def _verdict(request: Question, sure: list[str], may: list[str], wanted: str) -> str:
    if sure:
        yes = "No" if request.without else "Yes"
        return f"{yes}: {_hold(sure)} {wanted}. Leave it out, or find one without."
    if may:
        return f"It may: {wording.listing(may)} can hold {wanted}, depending on the maker. Read the label."
    return f"Not usually: {_hold(request.foods)} no {wanted} as such. Read the label all the same."


def _hold(foods: Sequence[str]) -> str:
    """ "bread crumbs hold", "soy sauce holds"."""
    many = len(foods) > 1 or foods[0] in ("buns", "bread crumbs")
    return f"{wording.listing(foods)} {'hold' if many else 'holds'}"


def _degree(row: Allergens, wanted: tuple[str, ...]) -> str:
    """ "holds", "may" or "" for the first of the wanted allergens that the ingredient has."""
    for name in row.names:
        words = re.sub(r"\(.*?\)", "", name)
        if any(re.search(rf"\b{re.escape(one)}\b", words) for one in wanted):
            return "may" if words.startswith(("sometimes", "often")) else "holds"
    return ""


def _in(foods: tuple[str, ...]) -> str:
    return f": {wording.listing(foods)}" if foods else ""


def _foods(request: Question, kitchen: Kitchen) -> Outcome:
    rows = [safety_book().holds[key] for key in request.foods]
    says = " ".join(f"{row.key.capitalize()}: {', '.join(row.names)}." for row in rows)
    return _told(f"What allergens are in {wording.listing(request.foods)}", says, [], rows[0], kitchen)


def _list(kitchen: Kitchen) -> Outcome:
    """The allergens that a label has to name, of the cook's country as far as the file has it."""
    book = safety_book()
    names = [*book.allergens["us"].names]
    whose = "US law names nine"
    if kitchen.country in ("uk", "ie"):
        names += book.allergens["eu_uk_extra"].names
        whose = "A label has to name"
    return _told("The listed allergens", f"{whose}: {wording.listing(names)}.", [], book.allergens["us"], kitchen)


def _mammals(kitchen: Kitchen) -> Outcome:
    rule = safety_book().rules["alpha_gal"]
    says = "No beef, pork, lamb, venison or any fat of theirs: grind poultry instead, with poultry fat or skin."
    return verdict.told(
        NAME,
        "The meat allergy after a tick bite",
        says,
        cautions=verdict.with_meat(heard.Meat(frozenset({"chicken"})), kitchen, {"allergen", "cook_temperature"}),
        notes=[
            rule.text,
            "Clean the grinder before it: what is left of other meat goes along.",
            _source(rule.source, rule.checked),
        ],
        working=(f"{rule.text} ({rule.checked})",),
    )


def _told(understood: str, says: str, notes: list[str], row: Allergens, kitchen: Kitchen) -> Outcome:
    return verdict.told(
        NAME,
        understood,
        says,
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"allergen"}),
        notes=[*notes, _source(row.source, row.checked)],
        working=(f"{row.key}: {', '.join(row.names)} ({row.checked}).",),
    )


def _source(source: str, checked: str) -> str:
    memory = ", from memory" if "memory" in checked else ""
    named = "" if source == "read the label" else f"{source}"
    return f"Source: {named or 'what such products usually hold'}{memory}. A doctor decides what an allergic guest may eat."
