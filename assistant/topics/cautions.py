"""Which safety reminders go with an answer: the one place that turns rows of the safety file into cautions."""

from __future__ import annotations

from collections.abc import Collection

from assistant.answer import Caution
from assistant.data.safety import HUNTED, safety_book
from assistant.engine.safety import cook_caution, known_species

COOKING = "cook_temperature"
"""What an answer touches when its batch will be cooked: a blend, patties, a season."""
WITH_POULTRY = frozenset({"colour", "cured_bacon"})
"""Reminders with a wording of their own for a batch that holds poultry."""


def reminders(
    species: Collection[str], country: str = "us", *, touches: Collection[str], urgent: Collection[str] = ()
) -> tuple[Caution, ...]:
    """The reminders that an answer carries, each once, the cooking temperature first and the rest by topic.

    species: of every part of the batch ("hunted" among them where some is game from the field); an unknown or missing
    one is read as plain ground meat. country: us, uk, ie, ca, au or nz. touches: topics of the caution rows,
    "cook_temperature" for the one of the strictest species. urgent: those to be said again although already told.
    Raises KeyError for a topic that the safety file does not have: a slip of the caller, never of the cook.
    """
    known = known_species() & set(species)
    hunted = HUNTED in species
    keys = {touch: _key(touch, known, country, hunted=hunted) for touch in touches}
    return tuple(_caution(keys[touch], touch in urgent) for touch in sorted(keys, key=_order))


def is_poultry(species: Collection[str]) -> bool:
    """Whether any part of the batch is a bird, by the row of the safety file that makes the whole blend 165 F."""
    return bool(set(species) & set(safety_book().endpoints["any_ground_poultry"].species))


def _key(touch: str, species: frozenset[str], country: str, *, hunted: bool) -> str:
    if touch == COOKING:
        # nobody said what it is: the plain "160 F by thermometer", which no red meat undercuts
        return cook_caution(species or {"pork", "beef"}, country, hunted=hunted)
    if touch in WITH_POULTRY and is_poultry(species):
        return f"{touch}.poultry"
    own = f"{touch}.{country}"
    return own if own in safety_book().cautions else touch


def _caution(key: str, urgent: bool) -> Caution:
    row = safety_book().cautions[key]
    return Caution(topic=row.topic, text=row.text, source=row.source, urgent=urgent)


def _order(touch: str) -> tuple[bool, str]:
    return touch != COOKING, touch
