"""Learning a cut's own fat: from visible fat cut off and weighed, or from a sample cooked out; and keeping the figure."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import astuple, replace

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.data import CutRow
from assistant.engine import learn
from assistant.engine.ranged import Ranged
from assistant.errors import BadInput
from assistant.language.phrases import Amount, CutName, Fatness, Measure, Patties, People, Phrase, Rate, SeasoningName
from assistant.language.sentence import Sentence
from assistant.notebook import NotebookError
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.kept import kept_shares
from assistant.topics.plan import meat
from assistant.topics.plan.own import OwnFat, keep
from assistant.topics.plan.request import Item, Plan

NAME = "learn"
VISIBLE_FAT = {"beef": "beef fat", "pork": "pork fat", "lamb": "lamb fat", "veal": "veal fat"}
LEAN = {"beef": "beef lean", "pork": "pork lean", "lamb": "lamb lean", "veal": "veal lean"}
"""Rows of the cut table for visible fat and for meat without any, by species."""
PAN = ("crumbles", "pan-browned")
"""How a sample is cooked out where nobody says: crumbled in a pan, as in our steps."""

_TRIMMED = re.compile(
    r"\b(?:trimmed|trimming|trim|cut|cutting|took|taken|pared|shaved|sliced|carved|pulled|removed|got)\b[^.;?]*?\b(?:off|away|from|of\s+fat)\b"
    r"|\bfat\s+(?:i\s+|that\s+)*(?:came|comes|was|went)\s+off\b|\btrimmed\b",
    re.IGNORECASE,
)
_PARTED = re.compile(
    r"\b(?:parted|separated|sorted|divided|split|cut\s+up|cut|boned\s+out|came\s+apart)\b", re.IGNORECASE
)
_HOW = re.compile(
    r"\b(?:how\s+(?:can|do|could|should|would|to|might)|what'?s\s+the\s+(?:best\s+)?way|is\s+there\s+a\s+way|way\s+to|can\s+i|help\s+me|show\s+me\s+how)\b"
    r"[^.;]*\b(?:find\s+out|work\s+out|tell|measure|test|check|learn|know|figure\s+out|determine|estimate|gauge)\b"
    r"[^.;]*\b(?:fat|fatty|lean|fattiness)\b"
    r"|\b(?:how|what|explain|steps|walk)\b[^.;]*\b(?:cook\s?-?out|render(?:ing)?|fry|fat)\s+(?:test|sample)\b"
    r"|^\W*(?:a\s+|the\s+)?(?:cook\s?-?out|render(?:ing)?|fat)\s+test\W*$",
    re.IGNORECASE,
)
_KEEP = re.compile(
    r"^\W*(?:(?:yes|ok|okay|please|yep|sure|good|great|right)\W+)*(?:please\s+)?(?:remember|keep|store|note)\s+(?:that|it|this)(?:\s+figure)?"
    r"(?:\s+(?:for|as|under|about|of)\s+(?P<cut>[^.,;!?]+?))?(?:\s+(?:please|then|from\s+now\s+on))?[\s.!]*$",
    re.IGNORECASE,
)
_RAW = re.compile(r"\b(?:raw|uncooked|before|sample|started?|start\s+with|went\s+in|to\s+begin)\b", re.IGNORECASE)
_COOKED = re.compile(r"\b(?:cooked|after|left|meat|drained|done|browned|fried|came\s+to|weighed)\b", re.IGNORECASE)
_FAT = re.compile(r"\b(?:fat|grease|dripping|drippings|rendered|melted|lard|tallow|ran\s+out)\b", re.IGNORECASE)
_SMALL = frozenset(
    [
        "raw",
        "cooked",
        "lose",
        "trim_loss",
        "have",
        "what",
        "how_much",
        "composition",
        "how_many",
        "want",
        "this",
        "mix",
        "rest",
        "out_in",
        "out_of",
        "safe",
        "not",
        "out_fun",
        "works_out",
        "total",
        "after",
        "into",
        "left_with",
        "cook_out",
        "rendered",
        "split",
        "correction",
        "yes",
        "hello",
        "thanks",
        "good_part",
        "leftover",
        "final",
        "when",
        "is_enough",
        "drop",
        "trim",
        "convert",
        "equals",
        "worth",
        "goes_in",
        "more",
        "whole_cut",
        "done",
        "unit:g",
        "unit:percent",
        "add",
    ]
)


_PARTS = frozenset(
    ["fat", "cap", "hard", "soft", "visible", "outside", "external", "pure", "raw", "lean", "dripping", "drippings"]
    + ["grease", "lard", "tallow", "rendered", "separable", "mince", "meat"]
)


class Trimmed(Struct, frozen=True):
    """Visible fat cut off a piece. fat: the piece's own figure before, where it was said; piece None: to be asked."""

    cut: str
    keys: tuple[str, ...]
    piece: Measure | None
    off: Measure
    fat: Fraction | None = None


class Parted(Struct, frozen=True):
    """A cut parted into meat without visible fat, and visible fat."""

    cut: str
    keys: tuple[str, ...]
    lean: Measure
    fat: Measure


class CookedOut(Struct, frozen=True):
    """A sample cooked out; what is None is to be asked. form, method: how, as in the table of yields."""

    cut: str
    raw: Measure | None
    cooked: Measure | None
    rendered: Measure | None
    form: str = PAN[0]
    method: str = PAN[1]
    assumed: bool = True


class HowTo(Struct, frozen=True):
    """How to find out how fat a cut is. cut: "" where none was named."""

    cut: str = ""


class Keep(Struct, frozen=True):
    """Keep the figure just worked out. cut: "" where it has to be asked."""

    of: Trimmed | Parted | CookedOut
    cut: str = ""


class _Learned(Struct, frozen=True):
    """What weighing showed: the fat with its range, and the words that go with it."""

    name: str
    fat: Ranged[Fraction]
    says: str
    source: str
    figures: tuple[Figure, ...] = ()
    notes: tuple[str, ...] = ()


class LearnTopic:
    """The topic of a cut's own fat."""

    name = NAME
    examples = (
        "I trimmed 300 g of fat off a 2 kg brisket",
        "cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered",
        "how can I find out how fat my trim is?",
    )
    passes = _SMALL

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Something weighed, how to weigh it, what was asked back, or "remember that" after it."""
        return _kept(sentence, talk) or _reply(sentence, talk) or _weighed(sentence) or _how_to(sentence)

    def answer(self, request: Trimmed | Parted | CookedOut | HowTo | Keep, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """The fat with its range, the steps, or what was kept; asks for a weight that is missing."""
        if isinstance(request, HowTo):
            return _steps(request, kitchen)
        if isinstance(request, Keep):
            return _keep(request, kitchen)
        missing = _missing(request)
        if missing is not None:
            return verdict.ask_back(NAME, _understood(request, kitchen), missing[1], request, missing[0])
        found = _worked_out(request, kitchen)
        if isinstance(found, str):
            return verdict.told(NAME, _understood(request, kitchen), found, status=Status.IMPOSSIBLE)
        return _told(request, found, kitchen)


# ---- reading


def _weighed(sentence: Sentence) -> Reading | None:
    planned = any(isinstance(phrase, People | Rate | SeasoningName) for phrase in sentence.phrases)
    if planned or any(amount.kind == "money" for amount in heard.amounts(sentence)):
        return None
    return _cooked_out(sentence) or _parted(sentence) or _trimmed(sentence)


def _weights(sentence: Sentence) -> list[Amount]:
    return sorted((a for a in heard.amounts(sentence) if a.kind == "weight"), key=lambda a: a.first)


def _cut_of(sentence: Sentence) -> CutName | None:
    """The cut that is weighed; "fat", "lean" and their like are its parts."""
    names = [cut for cut in sentence.of(CutName) if not _is_part(cut)]
    return names[0] if len(names) == 1 else None


def _is_part(cut: CutName) -> bool:
    """Whether a name is of a part that came off, not of the piece: "hard fat", "fat cap", "lean"."""
    return set(cut.name.split()) <= _PARTS


def _reading(sentence: Sentence, request: object, taken: list[Amount], strength: int = 2) -> Reading:
    """The reading, with every word accounted for that means nothing further here; other figures stay unexplained."""
    inside = [patties for patties in sentence.of(Patties) if patties.count is None or patties.count.value == 1]
    cut = _cut_of(sentence)
    parts = [name for name in sentence.of(CutName) if name is cut or _is_part(name)]
    words = [w for kind in ("side", "unknown", "bound") for w in sentence.words(kind) if w.payload != "at_most"]
    return Reading(request, frozenset({*taken, *inside, *parts, *words}), strength)


def _trimmed(sentence: Sentence) -> Reading | None:
    weights = _weights(sentence)
    if not _TRIMMED.search(sentence.text) or not 1 <= len(weights) <= 2 or sentence.has("bone"):
        return None
    off = next((a for a in weights if _is_fat_cut_off(sentence, a)), None)
    said = sentence.of(Fatness)
    if off is None or len(said) > 1 or sentence.of(Patties):
        return None
    piece = next((a for a in weights if a is not off), None)
    cut = _cut_of(sentence)
    if cut is None and sentence.of(CutName) and any(not _is_part(name) for name in sentence.of(CutName)):
        return None
    name, keys = (cut.name, cut.keys) if cut is not None else ("", ())
    request = Trimmed(name, keys, None if piece is None else piece.measure, off.measure, said[0].fat if said else None)
    read = _reading(sentence, request, [a for a in (off, piece) if a is not None])
    return replace(read, used=read.used | frozenset(said))


def _is_fat_cut_off(sentence: Sentence, amount: Amount) -> bool:
    """Whether the fat is what this weight is of: "300 g of fat", "300 g fat", "fat: 300 g", "300 g of visible fat"."""
    after = sentence.text[amount.last :].lower()
    before = sentence.text[: amount.first].lower()
    return (
        re.match(
            r"\s*(?:worth\s+)?(?:of\s+)?(?:the\s+|its\s+|hard\s+|surface\s+|outside\s+|visible\s+|external\s+|excess\s+|pure\s+)*fat\b(?!\s+trim\b)",
            after,
        )
        is not None
        or re.search(
            r"\bfat\s+(?:that\s+)?(?:i\s+)?(?:came\s+off\s+|cut\s+off\s+|trimmed\s+off\s+|trimmed\s+|off\s+)?(?:was|weighs|weighed|is|came\s+to|:)?\s*$",
            before,
        )
        is not None
    )


def _parted(sentence: Sentence) -> Reading | None:
    weights = _weights(sentence)
    if not _PARTED.search(sentence.text) or not 2 <= len(weights) <= 3 or _has_patties_or_share(sentence):
        return None
    fat = next((a for a in weights if _is_fat_cut_off(sentence, a)), None)
    lean = next(
        (
            a
            for a in weights
            if re.match(r"\s*(?:of\s+)?(?:clean\s+|pure\s+)?(?:lean|meat|red\s+meat)\b", sentence.text[a.last :], re.I)
        ),
        None,
    )
    whole = [a for a in weights if a not in (fat, lean)]
    cut = _cut_of(sentence)
    if fat is None or lean is None or cut is None:
        return None
    if whole and not _adds_up(whole[0].measure, lean.measure, fat.measure):
        return None
    return _reading(sentence, Parted(cut.name, cut.keys, lean.measure, fat.measure), [fat, lean, *whole])


def _has_patties_or_share(sentence: Sentence) -> bool:
    return any(isinstance(phrase, Patties | Fatness) for phrase in sentence.phrases)


def _adds_up(whole: Measure, lean: Measure, fat: Measure) -> bool:
    """Whether the parts make the whole, within the two per cent that knife, board and drip take."""
    return abs(_grams(lean) + _grams(fat) - _grams(whole)) <= _grams(whole) / 50


def _cooked_out(sentence: Sentence) -> Reading | None:
    weights = _weights(sentence)
    about_it = sentence.has("cook_out", "rendered") or re.search(
        r"\bcook(?:ed)?\s?-?out\b", sentence.text, re.IGNORECASE
    )
    if not about_it or not weights or len(weights) > 3:
        return None
    roles = _roles(sentence, weights)
    if roles is None:
        return None
    cut = _cut_of(sentence)
    form, method, assumed = _way(sentence)
    request = CookedOut(cut.name if cut else "", roles["raw"], roles["cooked"], roles["fat"], form, method, assumed)
    return _reading(sentence, request, weights)


def _roles(sentence: Sentence, weights: list[Amount]) -> dict[str, Measure | None] | None:
    """Which weight is the raw sample, the cooked meat and the fat: by the word after it, else before it, else by
    size. None where two weights claim the same."""
    found: dict[str, Amount] = {}
    open_ = list(weights)
    for side in (1, 0):
        for amount in list(open_):
            role = _role(_beside(sentence, weights, amount)[side])
            if role and role not in found:
                found[role] = amount
                open_.remove(amount)
    for role in ("raw", "cooked", "fat"):
        # what is left heaviest is the raw sample, then the meat, then what ran out of it
        if role not in found and open_ and (len(open_) + len(found)) == 3:
            found[role] = max(open_, key=lambda a: _grams(a.measure))
            open_.remove(found[role])
    if open_:
        return None
    return {role: (found[role].measure if role in found else None) for role in ("raw", "cooked", "fat")}


def _beside(sentence: Sentence, weights: list[Amount], amount: Amount) -> tuple[str, str]:
    """The words between this weight and its neighbours, up to the nearest mark of punctuation."""
    at = weights.index(amount)
    first = weights[at - 1].last if at else 0
    last = weights[at + 1].first if at + 1 < len(weights) else len(sentence.text)
    before = re.split(r"[,;.:]", sentence.text[first : amount.first])[-1]
    # "and" begins what belongs to the next weight: "68 g cooked and 9 g fat"
    return before, re.split(r"[,;.:]|\band\b", sentence.text[amount.last : last])[0]


def _role(words: str) -> str:
    places = [
        (m.start(), role)
        for role, pattern in (("fat", _FAT), ("cooked", _COOKED), ("raw", _RAW))
        if (m := pattern.search(words))
    ]
    return min(places)[1] if places else ""


def _way(sentence: Sentence) -> tuple[str, str, bool]:
    text = sentence.text.lower()
    if re.search(r"\b(?:broiled|grilled|grill|broiler)\b", text):
        return "patty", "broiled", False
    if re.search(r"\b(?:loaf|baked|oven)\b", text):
        return "loaf", "baked", False
    if sentence.of(Patties) and re.search(r"\b(?:pan|skillet|fried|griddle)\b", text):
        return "patty", "pan-broiled", False
    return (*PAN, not re.search(r"\b(?:crumbled|crumbles|browned)\b", text))


def _how_to(sentence: Sentence) -> Reading | None:
    if not _HOW.search(sentence.text) or any(isinstance(p, Amount | Fatness | Patties) for p in sentence.phrases):
        return None
    cut = _cut_of(sentence)
    taken = {p for p in sentence.phrases if not isinstance(p, Rate | People)}
    return Reading(HowTo(cut.name if cut else ""), frozenset(taken), 2)


def _kept(sentence: Sentence, talk: Talk) -> Reading | None:
    said = _KEEP.match(sentence.text)
    before = talk.last if talk.topic == NAME else None
    if said is None or not isinstance(before, Trimmed | Parted | CookedOut):
        return None
    cut = re.sub(r"^(?:(?:my|the|our|this|that)\s+)+", "", (said["cut"] or "").strip().lower())
    return Reading(Keep(before, cut or before.cut), frozenset(sentence.phrases), 3)


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    waiting = talk.pending
    if waiting is None or waiting.topic != NAME:
        return None
    request, weights = waiting.request, _weights(sentence)
    cut = next(iter(sentence.of(CutName)), None)
    whole = frozenset(sentence.phrases)
    if waiting.missing == "cut" and cut is not None and not weights:
        if isinstance(request, Keep):
            return Reading(replace(request, cut=cut.name), whole, 2)
        return Reading(replace(request, cut=cut.name, keys=cut.keys), whole, 2)
    if waiting.missing in ("piece", "raw", "cooked", "rendered") and len(weights) == 1 and len(whole) < 6:
        taken: set[Phrase] = {*weights, *sentence.of(CutName), *sentence.words("side")}
        return Reading(replace(request, **{waiting.missing: weights[0].measure}), frozenset(taken), 2)
    return None


# ---- answering


def _grams(measure: Measure) -> Fraction:
    return units.grams(measure.value, measure.unit)


def _shown(measure: Measure | None, kitchen: Kitchen) -> str:
    if measure is None:
        return "some"
    return wording.weight(_grams(measure), "us" if measure.unit in ("lb", "oz") else "metric")


def _understood(request: Trimmed | Parted | CookedOut, kitchen: Kitchen) -> str:
    cut = request.cut or "meat"
    if isinstance(request, Trimmed):
        before = "" if request.fat is None else f" at {wording.percent(request.fat)} fat"
        piece = f"a {_shown(request.piece, kitchen)} {cut}" if request.piece is not None else f"the {cut}"
        return f"Trimmed {_shown(request.off, kitchen)} of fat off {piece}{before}"
    if isinstance(request, Parted):
        return f"{cut.capitalize()} parted into {_shown(request.lean, kitchen)} lean and {_shown(request.fat, kitchen)} fat"
    weights = [
        f"{_shown(measure, kitchen)} {what}"
        for measure, what in ((request.raw, "raw"), (request.cooked, "cooked"), (request.rendered, "fat rendered"))
        if measure is not None
    ]
    of = f" of {request.cut}" if request.cut else ""
    way = "grilled" if request.method == "broiled" else request.method
    return f"Cook-out test{of}: {', '.join(weights)}" + ("" if request.assumed else f", {request.form}, {way}")


def _missing(request: Trimmed | Parted | CookedOut) -> tuple[str, str] | None:
    if isinstance(request, CookedOut):
        if request.raw is None:
            return "raw", "What did the sample weigh raw?"
        if request.rendered is None:
            return "rendered", "How much fat ran out, weighed alone: chilled and lifted off the juices?"
        return ("cooked", "What did the meat weigh once cooked?") if request.cooked is None else None
    if not request.cut and not (isinstance(request, Trimmed) and request.fat is not None):
        return "cut", "Off which cut? For example: brisket, or pork shoulder."
    if isinstance(request, Trimmed) and request.piece is None:
        return "piece", f"What did the whole {request.cut or 'piece'} weigh before trimming?"
    return None


def _row(cut: str, keys: tuple[str, ...], kitchen: Kitchen) -> CutRow | str:
    """The row of a cut as the batch would take it; the question where the word is open."""
    meats, doubt = meat.find(Plan(items=(Item(cut, keys),)), kitchen.country, {})
    if doubt is not None or meats[0].row is None:
        return doubt.question if doubt is not None else f"I have no fat figure for {cut}."
    return meats[0].row


def _ranged(row: CutRow) -> Ranged[Fraction]:
    return Ranged(row.fat, row.low, row.high)


def _worked_out(request: Trimmed | Parted | CookedOut, kitchen: Kitchen) -> _Learned | str:
    """What the weights show, or why they cannot all be right."""
    weights = [value for value in astuple(request) if isinstance(value, Measure)]
    if any(measure.value <= 0 for measure in weights):
        return "Every weight has to be above nothing. Which one is a slip?"
    if isinstance(request, CookedOut):
        return _from_cook_out(request, kitchen)
    return _from_trimming(request, kitchen) if isinstance(request, Trimmed) else _from_parting(request, kitchen)


def _from_trimming(request: Trimmed, kitchen: Kitchen) -> _Learned | str:
    assert request.piece is not None
    row = _row(request.cut, request.keys, kitchen) if request.cut else data.cuts()["beef, any cut"]
    if isinstance(row, str):
        return row
    if row.species not in VISIBLE_FAT:
        return f"I have no figure for the fat cut off {row.species}. A cook-out test of what is left tells: ask me how."
    trim = data.cuts()[VISIBLE_FAT[row.species]]
    piece, off = _grams(request.piece), _grams(request.off)
    if off >= piece:
        return f"{_shown(request.off, kitchen)} cannot come off {_shown(request.piece, kitchen)}. Is one of the two weights a slip?"
    before = _ranged(row) if request.fat is None else Ranged(request.fat, request.fat, request.fat)
    try:
        left = learn.after_trimming(before, piece, off, _ranged(trim))
    except BadInput as fault:
        if request.fat is not None:
            return f"That does not add up: {fault.wanted} could come off a piece of {wording.percent(request.fat)} fat. Which figure is off?"
        left = None
    return _left_of(request, row, trim, left, kitchen)


def _left_of(
    request: Trimmed, row: CutRow, trim: CutRow, left: Ranged[Fraction] | None, kitchen: Kitchen
) -> _Learned | str:
    """The fat of what is left, never taken for leaner than the cut is with no visible fat at all."""
    assert request.piece is not None
    off, rest = _grams(request.off), _grams(request.piece) - _grams(request.off)
    name = f"{request.cut or 'meat'}, trimmed"
    floor = row.lean_only if request.fat is None else None
    notes = []
    if floor is not None:
        whole = learn.from_parting(rest, off, Ranged(floor), Ranged(trim.fat)).value
        notes.append(
            f"The low end is {request.cut} with no visible fat left on it ({wording.percent(floor)}, {row.source}); "
            f"the whole piece would then have held {wording.percent(whole)}. The table has it at {wording.percent(row.fat)}."
        )
        if left is None or left.value < floor:
            notes.insert(0, f"More fat came off than a usual {request.cut} carries: taken as trimmed clean.")
            # the fat end still holds where the table's fattest piece allows it, else it is open
            left = Ranged(floor, floor, None if left is None else left.high)
        elif left.low is None or left.low < floor:
            left = replace(left, low=floor)
    if left is None:
        return f"More fat came off than a usual {request.cut} carries, so the table cannot tell. A cook-out test of what is left will: ask me how."
    share = off / _grams(request.piece) * 100
    shown = _range_words(left)
    return _Learned(
        name,
        left,
        f"What is left of the {request.cut or 'piece'} is about {shown} fat: {wording.lean_fat(left.value, 0)}.",
        f"{row.source}; fat cut off: {trim.source}; mass balance"
        if request.fat is None
        else f"your figure; fat cut off: {trim.source}",
        (
            _weight_figure("left after trimming", Role.TOTAL, rest, request.piece),
            Figure("share cut off", Role.RATIO, float(share), "%", shown=wording.percent(share)),
        ),
        tuple(notes),
    )


def _from_parting(request: Parted, kitchen: Kitchen) -> _Learned | str:
    row = _row(request.cut, request.keys, kitchen)
    if isinstance(row, str):
        return row
    if row.species not in VISIBLE_FAT:
        return f"I have no figures for the lean and the fat of {row.species}. A cook-out test tells: ask me how."
    trim, lean = data.cuts()[VISIBLE_FAT[row.species]], data.cuts()[LEAN[row.species]]
    of_lean = (
        _ranged(lean)
        if row.lean_only is None
        else Ranged(row.lean_only, min(lean.low, row.lean_only), max(lean.high, row.lean_only))
    )
    found = learn.from_parting(_grams(request.lean), _grams(request.fat), of_lean, _ranged(trim))
    return _Learned(
        request.cut,
        found,
        f"Your {request.cut} is about {_range_words(found)} fat: {wording.lean_fat(found.value, 0)}.",
        f"lean: {lean.source}; visible fat: {trim.source}; mass balance",
        (_weight_figure("lean and fat", Role.TOTAL, _grams(request.lean) + _grams(request.fat), request.lean),),
    )


def _from_cook_out(request: CookedOut, kitchen: Kitchen) -> _Learned | str:
    assert request.raw is not None and request.cooked is not None and request.rendered is not None
    raw, cooked, fat = (_grams(m) for m in (request.raw, request.cooked, request.rendered))
    if cooked + fat > raw:
        return f"{_shown(request.cooked, kitchen)} and {_shown(request.rendered, kitchen)} are more than the {_shown(request.raw, kitchen)} raw. Which weight is a slip?"
    shares = kept_shares(request.form, request.method)
    out = wording.percent(fat / raw * 100)
    try:
        found = learn.from_cook_out(raw, cooked, fat, shares)
    except BadInput:
        ends = " to ".join(f"{wording.number(pick(k.raw_fat for k in shares))}%" for pick in (min, max))
        if fat / raw > Fraction(1, 20):
            return (
                f"It is fatter than the published figures reach ({ends}): {out} of it ran out, so it holds at least that much. "
                "Mix it half and half with a lean cut and test that: twice the answer, less the lean one's fat, is yours."
            )
        return f"So little ran out ({out}) that the published figures ({ends}) cannot tell how lean it is; the label or the butcher can."
    name = request.cut or "sample"
    way = {"crumbles": "crumbled in a pan", "loaf": "baked as a loaf"}.get(
        request.form, f"a patty, {'grilled' if request.method == 'broiled' else 'in a pan'}"
    )
    notes = [
        f"Taken as {way}; say grilled or baked if it was." if request.assumed else f"Cooked: {way}.",
        "Fat that stayed in the pan is not counted, so the truth is rather above than below.",
    ]
    if request.cut and not _is_beef(request.cut):
        notes.append("The published shares are of ground beef; for other meat they are a stand-in.")
    return _Learned(
        name,
        found.fat,
        f"The raw {name} was about {_range_words(found.fat)} fat: {wording.lean_fat(found.fat.value, 0)}.",
        "USDA cooking yields and SR28: share of its fat that ground beef keeps",
        (
            Figure("fat that ran out, of the raw weight", Role.RATIO, float(fat / raw * 100), "%", shown=out),
            Figure(
                "water and steam, of the raw weight",
                Role.RATIO,
                float(found.water_lost),
                "%",
                shown=wording.percent(found.water_lost),
            ),
            Figure(
                "cooked, of the raw weight",
                Role.YIELD,
                float(cooked / raw * 100),
                "%",
                shown=wording.percent(cooked / raw * 100),
            ),
        ),
        tuple(notes),
    )


def _is_beef(cut: str) -> bool:
    rows = data.cuts()
    return all(rows[key].species == "beef" for key in data.cut_names().get(cut.lower(), ()))


def _range_words(fat: Ranged[Fraction]) -> str:
    """ "12% (10 to 14%)"; an end that is not known is said to be open."""
    middle = wording.percent(fat.value, 0)
    if fat.low is not None and fat.high is not None:
        return f"{middle} ({wording.percent_range(fat.low, fat.high)})"
    if fat.low is not None:
        return f"{middle} (at least {wording.percent(fat.low, 0)})"
    return f"{middle} (at most {wording.percent(fat.high, 0)})" if fat.high is not None else middle


def _weight_figure(name: str, role: Role, grams: Fraction, like: Measure) -> Figure:
    unit = like.unit if like.unit in ("g", "kg", "lb", "oz") else "g"
    system = "us" if unit in ("lb", "oz") else "metric"
    return Figure(name, role, float(units.to(grams, "g", unit)), unit, shown=wording.both(grams, system))


def _told(request: Trimmed | Parted | CookedOut, found: _Learned, kitchen: Kitchen) -> Outcome:
    fat = Figure(
        found.name,
        Role.FAT,
        float(found.fat.value),
        "%",
        low=None if found.fat.low is None else float(found.fat.low),
        high=None if found.fat.high is None else float(found.fat.high),
        source=found.source,
        shown=_range_words(found.fat),
    )
    trimmed = ", trimmed like this," if isinstance(request, Trimmed) else ""
    offer = (
        f'Say "remember that" and your {request.cut}{trimmed} counts so from now on.'
        if request.cut
        else 'Say "remember that for my …" with the cut\'s name, and it counts from now on.'
    )
    return verdict.told(
        NAME,
        _understood(request, kitchen),
        found.says,
        figures=(fat, *found.figures),
        notes=(offer, *found.notes),
        working=(f"{found.says} From: {found.source}.",),
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"keep_cold"}),
    )


def _keep(wish: Keep, kitchen: Kitchen) -> Outcome:
    found = _worked_out(wish.of, kitchen)
    understood = f"Keep the fat of {wish.cut or 'this cut'}"
    if isinstance(found, str):
        return verdict.told(NAME, understood, found, status=Status.IMPOSSIBLE)
    if not wish.cut:
        return verdict.ask_back(NAME, understood, 'For which cut? For example: "brisket trim".', wish, "cut")
    value = _tidy(found.fat.value)
    low, high = found.fat.low, found.fat.high
    figure = OwnFat(value, value if low is None else _tidy(low), value if high is None else _tidy(high))
    try:
        keep(kitchen, wish.cut, figure)
    except NotebookError as fault:
        return verdict.told(
            NAME,
            understood,
            f"It is kept in the notebook, which cannot be used: {fault.problem}.",
            status=Status.IMPOSSIBLE,
        )
    says = (
        f"Kept: {wish.cut} at {_range_words(found.fat)} fat. It counts in every batch that names it without a figure."
    )
    outcome = verdict.told(
        NAME,
        understood,
        says,
        figures=(
            Figure(
                wish.cut,
                Role.FAT,
                float(value),
                "%",
                low=float(figure.low),
                high=float(figure.high),
                source="your figure",
                shown=_range_words(found.fat),
            ),
        ),
    )
    return replace(outcome, undoable=True)


def _tidy(percent: Fraction) -> Fraction:
    """To a tenth: finer than any of this is known, and short enough to be read in the notebook."""
    return wording.rounded(percent, Fraction(1, 10))


def _steps(request: HowTo, kitchen: Kitchen) -> Outcome:
    cut = request.cut or "meat"
    needed = verdict.needed_for(heard.Meat(), kitchen.country)
    steps = (
        f"Grind or chop some of the {cut} fine, mix it well and weigh out 100 g (3 1/2 oz), to the gram.",
        "Crumble it into a dry pan and brown it over medium heat, past "
        + verdict.degrees(needed, verdict.scale_of(kitchen))
        + ".",
        "Tip it into a sieve over a weighed bowl and scrape the pan into it. Let it drain; weigh the meat.",
        "Chill the bowl until the fat is hard, lift the fat off the juices, dab it dry and weigh it alone.",
        'Tell me the three weights: "cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered".',
    )
    says = "Cook a small sample out and weigh what runs off; the published share of fat that stays in does the rest."
    notes = (
        "It works from lean up to 30% fat. Fatter trim: mix it half and half with a lean cut first; twice the answer, less the lean one's fat, is the trim's.",
        f'Or part it by knife and weigh both: "parted {cut if request.cut else "brisket"} into 1.5 kg lean and 500 g fat".',
        "The way of weighing is common practice, no source; the shares are from USDA cooking yields and SR28.",
    )
    return verdict.told(
        NAME,
        f"How to find out how fat {'my ' + request.cut if request.cut else 'meat'} is",
        says,
        steps=steps,
        notes=notes,
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature"}),
    )


TOPIC = LearnTopic()
