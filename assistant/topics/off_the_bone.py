"""How much meat a piece bought on the bone holds, by the published share of its bone."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct

from assistant import data, wording
from assistant.answer import Figure, Role
from assistant.language.phrases import Amount, Count, CutName, Measure, Patties, People, PerEach
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict, within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.restate import measure
from assistant.topics.plan.section import grams, in_unit

NAME = "off_the_bone"
_ON_THE_BONE = Pattern(r"\b(?:on the bone|bone[- ]in|with (?:the |its )?bones? (?:in|on)|bones? (?:still )?in)\b")
_ASKS = Pattern(
    r"\bhow much (?:usable |clean |boneless |actual |pure )?(?:meat|mince|is meat|of it is meat|is usable|will i get|do i get)\b"
    r"|\bwhat(?:'s| is| will be)? (?:the )?(?:usable )?(?:meat|yield|left)\b"
)


class OffTheBone(Struct, frozen=True):
    """So much of a cut, bone and all."""

    weight: Measure
    key: str
    name: str
    meat: heard.Meat = heard.Meat()


class OffTheBoneTopic:
    """The topic of meat off the bone."""

    name = NAME
    examples = ("how much meat will I get off a 3 kg bone-in lamb shoulder?",)
    passes: frozenset[str] = frozenset(
        ("how_much", "bone", "safe", "what", "left_with", "usable", "mix", "this", "have")
    )

    def read(self, sentence: Sentence, _talk: Talk) -> Reading | None:
        """One weight of one cut that is said to be on the bone, and how much meat it holds is asked."""
        text = sentence.text.lower()
        cuts, weights = sentence.of(CutName), [a for a in sentence.of(Amount) if a.kind == "weight"]
        if len(cuts) != 1 or len(weights) != 1 or not (_ON_THE_BONE.search(text) and _ASKS.search(text)):
            return None
        others = [p for p in sentence.phrases if isinstance(p, Amount | Count | Patties | People | PerEach)]
        keys = [key for key in cuts[0].keys if key in data.cuts()]
        if len(others) != 1 or len(keys) != 1 or not _bone(keys[0]):
            return None
        request = OffTheBone(weights[0].measure, keys[0], cuts[0].name, heard.meat(sentence))
        return Reading(request, frozenset((cuts[0], weights[0])) | within.cues(sentence, self.passes), 3)

    def answer(self, request: Any, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The meat, and the bone that was taken off."""
        wanted: OffTheBone = request
        row, bone = data.cuts()[wanted.key], _bone(wanted.key)
        whole = grams(wanted.weight)
        left = whole * (100 - bone) / 100
        speak = "us" if wanted.weight.unit in ("lb", "oz") else "metric"
        unit = wanted.weight.unit
        source = row.source
        figures = (
            Figure("meat", Role.TOTAL, in_unit(left, unit), unit, source=source, shown=wording.both(left, speak)),
            Figure(row.bone_what, Role.RATIO, float(bone), "%", source=source, shown=wording.percent(bone)),
        )
        return verdict.told(
            NAME,
            f"{measure(wanted.weight)} {wanted.name} on the bone: how much meat",
            f"About {wording.both(left, speak)} of meat: {wording.percent(bone)} of it is {row.bone_what}.",
            figures=figures,
            cautions=verdict.with_meat(wanted.meat, kitchen, {"keep_cold"}),
            notes=("Weigh your own once: how it is cut changes the share of bone.", f"Source: {source}."),
            working=(f"{wording.both(whole, speak)} less {wording.percent(bone)}.",),
        )


def _bone(key: str) -> Fraction:
    """Percent of the bought piece that is bone, with the gristle or skin that the table counts to it; 0 where it has none."""
    row = data.cuts()[key]
    return row.bone if row.bone is not None and "bone" in row.bone_what else Fraction(0)


TOPIC = OffTheBoneTopic()
