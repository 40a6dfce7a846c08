"""Before any batch: how fat the mince for a dish usually is, and which cuts come to that."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from assistant import data, wording
from assistant.answer import Caution, Figure, Role
from assistant.data.cuts import SOURCE, CutRow
from assistant.language.phrases import Amount, Count, CutName, Fatness, Patties, People, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk

COMMON: Final = "common practice, no source"
FATS: Final = {
    "smash burgers": (Fraction(20), Fraction(20), Fraction(30)),
    "burgers": (Fraction(20), Fraction(15), Fraction(25)),
    "sausages": (Fraction(25), Fraction(20), Fraction(30)),
    "meatballs": (Fraction(18), Fraction(15), Fraction(20)),
    "koftas": (Fraction(20), Fraction(15), Fraction(25)),
    "chilli": (Fraction(12), Fraction(8), Fraction(20)),
}
"""Percent of fat that the mince for a dish usually has: what to begin with, the least and the most. Common practice, no
source."""
_DISHES: Final = (
    ("smash burgers", Pattern(r"\bsmash\w*\b")),
    ("sausages", Pattern(r"\b(?:sausages?|bangers?|snags?|brats?|hot ?dogs?)\b")),
    ("meatballs", Pattern(r"\bmeat ?(?:balls?|loaf)\b")),
    ("koftas", Pattern(r"\b(?:koftas?|kebabs?|kofte)\b")),
    ("chilli", Pattern(r"\b(?:chill?i|bolognese|ragu|tacos?|sauce|pie)\b")),
    ("burgers", Pattern(r"\b(?:burgers?|patty|patties|sliders?)\b")),
)
"""The first that a line speaks of; the general one last."""
_HOW_FAT: Final = Pattern(
    r"\b(?:how (?:lean|fat|fatty)|(?:best|good|ideal|right|usual|typical|what|which|whats|what's) (?:lean|fat|ratio|blend|mix|grind|percent\w*)"
    r"|(?:best|good|ideal|right|usual|typical) (?:\w+ )?(?:fat|ratio|blend|mix|grind))\b"
)
_WHICH_CUTS: Final = Pattern(
    r"\b(?:(?:what|which|best|good) (?:cuts?|meats?|beef|pork|lamb)|cuts? (?:of (?:meat|beef|pork|lamb) )?(?:for|to use))\b"
)
_EXTREME: Final = Pattern(
    r"\b(leanest|fattiest|fattest) (?:cuts?|bits?|parts?|meats?)\b|\b(?:what|which|whats|what's)\b.*\b(leanest|fattiest|fattest)\b"
)
_SPECIES: Final = Pattern(r"\b(beef|pork|lamb)\b")
_PLAIN: Final = frozenset(("best", "smash", "ideal", "typical", "usual"))
_PAIRS: Final = {"beef": "chuck and suet", "pork": "pork shoulder and back fat", "lamb": "lamb leg and lamb breast"}
_NEAR: Final = 3
"""Points of fat from what is wanted that one cut alone may lie. A choice."""
_SHOWN: Final = 3


_JUDGED: Final = Pattern(
    r"\b(?:ok|okay|good|fine|enough|right|suitable|(?:too|bit|very) (?:lean|fat|fatty|dry|rich|greasy))\b"
)
_OPENS: Final = Pattern(r"\W*(?:and |so |but )?(?:is|are|isn'?t|would|will|does|do)\b")
_COMPARED: Final = Pattern(r"\b(?:leaner|fattier|fatter)\b(?!.* than it\b)")


class Choosing(Struct, frozen=True):
    """What is asked: the fat of a dish ("" for none), or of a ratio that was said; which: "cuts" are asked for, the
    "leanest" or the "fattest", "judged" where the ratio is to be judged for the dish; species: whose cuts; cuts: keys of
    those that are compared."""

    dish: str
    fat: Fraction | None = None
    which: str = ""
    species: str = "beef"
    cuts: tuple[str, ...] = ()


class ChoosingTopic:
    """A good fat for a dish, and cuts to begin with."""

    name = "choosing"
    examples = ("What is a good fat ratio for sausages?", "Which cuts for 80/20?")
    passes: frozenset[str] = frozenset(
        {
            "what",
            "mix",
            "this",
            "want",
            "raw",
            "how_much",
            "leaner",
            "fattier",
            "fattest",
            "safe",
            "which_plate",
            "must_be",
            "off",
        }
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A question about fat or cuts in general: nothing is weighed or counted, and no batch is on the table."""
        text = sentence.text.lower()
        figures = sentence.of(Fatness)
        weighed = any(isinstance(p, Amount | Count | People | SeasoningName) for p in sentence.phrases)
        counted = any(p.count is not None or p.each is not None for p in sentence.of(Patties))
        if weighed or counted or len(figures) > 1:
            return None
        cuts = [cut for cut in sentence.of(CutName) if _is_a_cut(cut)]
        request = _compared(text, cuts) if cuts else _asked(text, figures[0].fat if figures else None)
        if request is None or sentence.has("have", "not", "drop", "swap", "how_long", "temp"):
            return None
        words = {p for p in sentence.phrases if isinstance(p, Word | Patties | CutName)}
        used = {p for p in words if p not in sentence.unknown or p.text.lower() in _PLAIN}
        return Reading(request, frozenset((*used, *figures)), 3)

    def answer(self, request: Choosing, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The usual fat with its range, or the cuts that come to it."""
        del talk
        cautions = verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature", "keep_cold"})
        if request.cuts:
            rows = sorted((data.cuts()[key] for key in request.cuts), key=lambda row: row.fat)
            says = f"{_name(rows[0]).capitalize()} is the leaner: {_told(rows)}."
            understood = f"Which is leaner: {wording.listing([_name(row) for row in rows], 'or')}"
            return verdict.told(
                "blend", understood, says, figures=_figures(rows), cautions=cautions, notes=(_FROM_TABLE,)
            )
        if request.which == "judged":
            return _judged(request, cautions)
        if request.which in ("leanest", "fattest"):
            rows = sorted(_cuts(request.species), key=lambda row: row.fat, reverse=request.which == "fattest")
            understood = f"The {request.which} cuts of {request.species}"
            return verdict.told(
                "blend", understood, f"{_told(rows)}.", figures=_figures(rows), cautions=cautions, notes=(_FROM_TABLE,)
            )
        fat, low, high = FATS.get(request.dish, (request.fat, None, None))
        assert fat is not None
        lean_fat = wording.lean_fat(fat)
        figure = Figure(
            "usual fat" if request.dish else "fat",
            Role.FAT,
            float(fat),
            "%",
            low=None if low is None else float(low),
            high=None if high is None else float(high),
            source=COMMON if request.dish else None,
            shown=wording.percent(fat),
        )
        usual = ""
        if low is not None and high is not None:
            usual = f"For {request.dish} about {lean_fat}, {wording.percent_range(low, high)} fat ({COMMON})."
        if not request.which:
            step = f'Say how much and of what: "3 lb at {lean_fat} from {_PAIRS[request.species]}".'
            return verdict.told(
                "blend",
                f"How fat the mince for {request.dish} is",
                usual,
                figures=(figure,),
                cautions=cautions,
                steps=(step,),
            )
        rows = _cuts(request.species)
        near = sorted((row for row in rows if abs(row.fat - fat) <= _NEAR), key=lambda row: abs(row.fat - fat))
        lean = [row for row in sorted(rows, key=lambda row: -row.fat) if row.fat < fat - _NEAR]
        fatter = [row for row in sorted(rows, key=lambda row: row.fat) if row.fat > fat + _NEAR]
        steps = [f"Alone near {lean_fat}: {_told(near)}."] if near else []
        steps += [f"Or a leaner one ({_told(lean)}) with a fatter one ({_told(fatter)}): say which, and how much."]
        shown = (*near[:_SHOWN], *lean[:_SHOWN], *fatter[:_SHOWN])
        understood = f"Which cuts of {request.species} for {request.dish or lean_fat}"
        headline = usual or f"{steps[0]}"
        return verdict.told(
            "blend",
            understood,
            headline,
            figures=(figure, *_figures(shown)),
            cautions=cautions,
            steps=steps if usual else steps[1:],
            notes=(_FROM_TABLE,),
        )


TOPIC = ChoosingTopic()
_FROM_TABLE: Final = f"Fat as bought, from {SOURCE}; a label or a close trim changes it."


def _judged(request: Choosing, cautions: Sequence[Caution]) -> Outcome:
    """Whether a fat is what a dish usually has."""
    assert request.fat is not None
    begin, low, high = FATS[request.dish]
    usual = f"{request.dish} usually have {wording.percent_range(low, high)} fat ({COMMON})"
    if low <= request.fat <= high:
        says = f"Yes: {usual}."
    else:
        way = "leaner: they come out drier" if request.fat < low else "fatter: they shrink and flare more"
        says = f"It is {way}. {usual.capitalize()}; {wording.lean_fat(begin)} is a good start."
    figures = (
        Figure("fat", Role.FAT, float(request.fat), "%", shown=wording.percent(request.fat)),
        Figure("usual fat", Role.FAT, float(begin), "%", low=float(low), high=float(high), source=COMMON),
    )
    understood = f"Is {wording.lean_fat(request.fat)} good for {request.dish}?"
    return verdict.told("blend", understood, says, figures=figures, cautions=cautions)


def _compared(text: str, cuts: Sequence[CutName]) -> Choosing | None:
    """ "What's leaner, sirloin or round": two cuts of which the table knows the fat."""
    keys = [next((key for key in cut.keys if key in data.cuts()), "") for cut in cuts]
    if len(set(keys)) < 2 or "" in keys or _COMPARED.search(text) is None or " or " not in text:
        return None
    return Choosing("", cuts=tuple(dict.fromkeys(keys)))


def _asked(text: str, fat: Fraction | None) -> Choosing | None:
    species = _SPECIES.search(text)
    dish = next((name for name, pattern in _DISHES if pattern.search(text)), "")
    whose = species.group(1) if species else "pork" if dish == "sausages" else "beef"
    extreme = _EXTREME.search(text)
    if extreme is not None:
        return Choosing("", which="leanest" if "leanest" in extreme.groups() else "fattest", species=whose)
    asked = "?" in text or _OPENS.match(text) is not None
    if dish and fat is not None and asked and _JUDGED.search(text) is not None:
        return Choosing(dish, fat, "judged", whose)
    if _WHICH_CUTS.search(text) and (dish or fat is not None):
        return Choosing("" if fat is not None else dish, fat, "cuts", whose)
    if dish and fat is None and _HOW_FAT.search(text):
        return Choosing(dish, species=whose)
    return None


def _is_a_cut(phrase: CutName) -> bool:
    """ "pork" alone says whose cuts are asked for."""
    return bool(phrase.keys) and _SPECIES.fullmatch(phrase.text.lower()) is None


def _cuts(species: str) -> list[CutRow]:
    """The cuts of a species that are bought to be ground: no offal, and no bare fat but the one that is trimmed off."""
    return [
        row
        for row in data.cuts().values()
        if row.species == species and row.kind == "cut" and row.names and _is_meat(row)
    ]


def _is_meat(row: CutRow) -> bool:
    return not set(row.key.split()) & {"liver", "kidney", "heart", "tongue", "carcass", "cheek", "foot", "hog"}


def _told(rows: Sequence[CutRow]) -> str:
    return wording.listing([f"{_name(row)} {wording.percent(row.fat, 0)}" for row in rows[:_SHOWN]])


def _name(row: CutRow) -> str:
    """ "beef chuck eye" as it is called where the beast is known."""
    return row.key.removeprefix(f"{row.species} ")


def _figures(rows: Sequence[CutRow]) -> list[Figure]:
    return [
        Figure(
            _name(row),
            Role.FAT,
            float(row.fat),
            "%",
            low=float(row.low),
            high=float(row.high),
            source=row.source,
            shown=wording.percent(row.fat),
        )
        for row in rows[: 3 * _SHOWN]
    ]
