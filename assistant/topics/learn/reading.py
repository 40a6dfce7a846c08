"""Which weight is whose: the piece, the fat cut off, the sample raw and cooked, and what ran out of it."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant.language.phrases import Amount, CutName, Fatness, Measure, Patties, People, Phrase, Rate, SeasoningName
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard
from assistant.topics.base import Reading, Talk
from assistant.topics.learn.request import NAME, PAN, CookedOut, HowTo, Keep, Parted, Trimmed
from assistant.topics.plan.section import grams

_TRIMMED = Pattern(
    r"\b(?:trimmed|trimming|trim|cut|cutting|took|taken|pared|shaved|sliced|carved|pulled|removed|got)\b[^.;?]*?\b(?:off|away|from|of\s+fat)\b"
    r"|\bfat\s+(?:i\s+|that\s+)*(?:came|comes|was|went)\s+off\b|\btrimmed\b",
    re.IGNORECASE,
)
_PARTED = Pattern(r"\b(?:parted|separated|sorted|divided|split|cut\s+up|cut|boned\s+out|came\s+apart)\b", re.IGNORECASE)
_HOW = Pattern(
    r"\b(?:how\s+(?:can|do|could|should|would|to|might)|what'?s\s+the\s+(?:best\s+)?way|is\s+there\s+a\s+way|way\s+to|can\s+i|help\s+me|show\s+me\s+how)\b"
    r"[^.;]*\b(?:find\s+out|work\s+out|tell|measure|test|check|learn|know|figure\s+out|determine|estimate|gauge)\b"
    r"[^.;]*\b(?:fat|fatty|lean|fattiness)\b"
    r"|\b(?:how|what|explain|steps|walk)\b[^.;]*\b(?:cook\s?-?out|render(?:ing)?|fry|fat)\s+(?:test|sample)\b"
    r"|^\W*(?:a\s+|the\s+)?(?:cook\s?-?out|render(?:ing)?|fat)\s+test\W*$",
    re.IGNORECASE,
)
_KEEP = Pattern(
    r"^\W*(?:(?:yes|ok|okay|please|yep|sure|good|great|right)\W+)*(?:please\s+)?(?:remember|keep|store|note)\s+(?:that|it|this)(?:\s+figure)?"
    r"(?:\s+(?:for|as|under|about|of)\s+(?P<cut>[^.,;!?]+?))?(?:\s+(?:please|then|from\s+now\s+on))?[\s.!]*$",
    re.IGNORECASE,
)
_RAW = Pattern(r"\b(?:raw|uncooked|before|sample|started?|start\s+with|went\s+in|to\s+begin)\b", re.IGNORECASE)
_COOKED = Pattern(r"\b(?:cooked|after|left|meat|drained|done|browned|fried|came\s+to|weighed)\b", re.IGNORECASE)
_FAT = Pattern(r"\b(?:fat|grease|dripping|drippings|rendered|melted|lard|tallow|ran\s+out)\b", re.IGNORECASE)
_SAMPLE = Pattern(
    r"\b(?:cooked|fried|browned|cook|fry)\b[^.;?]*\b(?:fat|grease|drippings?)\b|\bsample\b[^.;?]*\b(?:fat|grease|drippings?)\b",
    re.IGNORECASE,
)
"""A piece that was cooked, and the fat that came out of it: with three weights it is a test."""
SMALL = frozenset(
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
    [
        "fat",
        "trim",
        "cap",
        "hard",
        "soft",
        "visible",
        "outside",
        "external",
        "pure",
        "raw",
        "lean",
        "dripping",
        "drippings",
    ]
    + ["grease", "lard", "tallow", "rendered", "separable", "mince", "meat"]
)


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """Something weighed, how to weigh it, what was asked back, or "remember that" after it."""
    return _kept(sentence, talk) or _reply(sentence, talk) or _weighed(sentence) or _how_to(sentence)


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
    return abs(grams(lean) + grams(fat) - grams(whole)) <= grams(whole) / 50


def _cooked_out(sentence: Sentence) -> Reading | None:
    weights = _weights(sentence)
    about_it = sentence.has("cook_out", "rendered") or re.search(
        r"\bcook(?:ed)?\s?-?out\b", sentence.text, re.IGNORECASE
    )
    told = len(weights) == 3 and _SAMPLE.search(sentence.text) and not _has_patties_or_share(sentence)
    if not (about_it or told) or not weights or len(weights) > 3:
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
            found[role] = max(open_, key=lambda a: grams(a.measure))
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
