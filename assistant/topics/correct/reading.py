"""Which figure is what in a correction: the batch and its fat, its salt, the fat wanted, and what may be added."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.language.phrases import Amount, Count, CutName, Fatness, Measure, Phrase, Rate, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.request import Item, Plan

Fat = Fatness | Amount | Count

_WANTED = Pattern(
    r"(?:\bto|\bfor|\bwant(?:ed|s)?(?:\s+(?:it|that))?(?:\s+(?:at|to\s+be))?|\bneed(?:s|ed)?(?:\s+it)?(?:\s+(?:at|to\s+be))?"
    r"|\breach(?:ing)?|\bhit|\b(?:should|must|to)\s+be|\bmakes?(?:\s+(?:it|that))?|\btarget(?:\s+is)?|\baim(?:ing)?(?:\s+(?:for|at))?"
    r"|\b(?:until|till|so)\s+it'?s|\bget)\s*(?:about\s+|around\s+)?$",
    re.IGNORECASE,
)
_KEEP = Pattern(
    r"\bkeep(?:ing)?\s+(?:it\s+at|it\b|the\s+(?:weight|total|size))|\bsame\s+(?:weight|total)|\bwithout\s+(?:changing\s+the\s+weight|making\s+(?:it\s+(?:heavier|bigger|any\s+bigger)|more))"
    r"|\b(?:take|taking|pull|scoop)\s+(?:some|out)\b|\breplace\s+some|\bswap\s+some|\bstill\b",
    re.IGNORECASE,
)
_SALTED_BEFORE = Pattern(r"\bsalt(?:ed)?(?:\s+(?:at|to|with|is|of|in\s+it|already))*\s*:?\s*$", re.IGNORECASE)
_SALT_IT_HAD = Pattern(r"\bsalt\b[^.;?]*\b(?:it|that|mix|batch|meat|mince)\s+(?:had|has|holds|held)\s*$", re.IGNORECASE)
_SALTED_AFTER = Pattern(r"^\s*(?:of\s+)?salt(?:ed)?\b", re.IGNORECASE)
_HEAP_WORDS = frozenset(
    (
        "mix",
        "bowl",
        "this",
        "have",
        "already_salted",
        "total",
        "works_out",
        "composition",
        "out_in",
        "too_lean",
        "too_fat",
    )
)
_ASKS = ("too_fat", "too_lean", "keep_weight", "already_salted", "swap", "add")


class _Marks(Struct):
    """A correction while it is read."""

    heap: Amount
    heap_fat: Fat
    additions: dict[str, Item]
    used: set[Phrase]


def correction(sentence: Sentence) -> tuple[Plan, frozenset[Phrase]] | None:
    """The correction that a line asks for, as a plan, and the phrases it accounts for; None where it asks for none."""
    weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
    salt = next((p for p in sentence.phrases if _is_salt(sentence, p)), None)
    fats = [p for p in sentence.phrases if _may_be_fat(p) and p is not salt]
    came, meant = _instead(sentence)
    keep = bool(_KEEP.search(sentence.text)) or sentence.has("keep_weight")
    if came is None and keep and not sentence.of(CutName):
        # "keep it 5 lb: it's 85/15 and should be 80/20": nothing else is there that the figure could be of
        there = [f for f in fats if not isinstance(f, Count) and not _wanted(sentence, f)]  # type: ignore[arg-type]
        came = there[0] if len(there) == 1 else None  # type: ignore[assignment]
    marks = _heap(sentence, weights, fats, came)  # type: ignore[arg-type]
    if marks is None or _is_wished(sentence, marks.heap):
        return None
    if not _additions(sentence, marks, fats, weights) and (sentence.of(CutName) or not keep):  # type: ignore[arg-type]
        return None
    target = meant or _target(sentence, [f for f in fats if f not in marks.used and not isinstance(f, Count)])  # type: ignore[misc]
    if target is None or _percent(target) == _percent(marks.heap_fat):
        return None
    if not sentence.has(*_ASKS) and _both_sides(marks.additions.values(), _percent(target)):
        # "4 lb at 80/20, make that 75/25, sirloin and suet": a batch from two cuts, and its target changed
        return None
    _again(sentence, marks, weights, keep=keep)
    heap = Item(
        f"mix at {wording.percent(_percent(marks.heap_fat))} fat",
        fat=_percent(marks.heap_fat),
        weight=marks.heap.measure,
    )
    plan = Plan(
        items=(heap, *marks.additions.values()),
        target=_percent(target),
        keep=keep,
        heap=heap.name,
        salted=sentence.has("already_salted") or salt is not None,
        salt_in=None if salt is None else _salt_percent(salt),
    )
    small = _small(sentence, keep=keep)
    if meant is not None:
        small |= {w for w in sentence.words("cue") if w.payload in ("instead", "not")}
    return plan, frozenset({*marks.used, target, *([salt] if salt else []), *small})


def _is_wished(sentence: Sentence, heap: Amount) -> bool:
    """ "Need 8 lb of 78/22": what is wanted is no batch to put right."""
    before = sentence.before(heap)
    return isinstance(before, Word) and before.payload == "want"


def _small(sentence: Sentence, *, keep: bool) -> set[Phrase]:
    """Words that say no more than what was read: "lean", "only", "without" of "without making it heavier"."""
    words: set[Phrase] = {*sentence.words("side"), *(s for s in sentence.of(SeasoningName) if "salt" in s.key)}
    words |= {w for w in sentence.words("bound") if w.payload not in ("at_most", "at_least")}
    words |= {w for w in sentence.words("unknown") if w.text.lower() in ("salted", "seasoned", "after", "afterwards")}
    if keep:
        words |= {w for w in sentence.words("cue") if w.payload in ("not", "swap", "drop")}
        words |= {
            w
            for w in sentence.words("unknown")
            if w.text.lower() in ("heavier", "bigger", "still", "changing", "replace")
        }
    return words


def _may_be_fat(phrase: Phrase) -> bool:
    if isinstance(phrase, Amount):
        return phrase.kind == "percent"
    bare = isinstance(phrase, Count) and not phrase.piece and not phrase.proportion and 1 <= phrase.value <= 100
    return isinstance(phrase, Fatness) or bare


def _percent(phrase: Fat) -> Fraction:
    if isinstance(phrase, Fatness):
        return phrase.fat
    return phrase.measure.value if isinstance(phrase, Amount) else phrase.value


def _is_salt(sentence: Sentence, phrase: Phrase) -> bool:
    """ "salted at 1.5%", "1.5% salt", "salted with 15 g/kg"."""
    percent = isinstance(phrase, Amount) and phrase.kind == "percent"
    rate = isinstance(phrase, Rate) and phrase.kind == "weight"
    if not percent and not rate:
        return False
    if _SALT_IT_HAD.search(sentence.text[: phrase.first]):
        return True
    near = _SALTED_BEFORE.search(sentence.text[: phrase.first]) or _SALTED_AFTER.match(sentence.text[phrase.last :])
    return near is not None and (sentence.has("already_salted") or "salted" in sentence.text.lower())


def _salt_percent(phrase: Phrase) -> Fraction:
    if isinstance(phrase, Rate):
        amount = units.grams(phrase.measure.value, phrase.measure.unit)
        return amount / units.grams(phrase.per.value, phrase.per.unit) * 100
    assert isinstance(phrase, Amount)
    return phrase.measure.value


def _touch(sentence: Sentence, one: Phrase, other: Phrase, cues: frozenset[str] = frozenset()) -> bool:
    """Whether only small words stand between two phrases, in either order; cues: those that may stand there too."""
    first, last = sorted((sentence.place(one), sentence.place(other)))
    for phrase in sentence.phrases[first + 1 : last]:
        small = isinstance(phrase, Word) and phrase.kind in ("at", "of", "open", "close", "side", "bound")
        said = isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload in cues
        if not (small or said):
            return False
    return True


def _instead(sentence: Sentence) -> tuple[Fat | None, Fat | None]:
    """ "came out 90/10 instead of 80/20": the fat that it has, and the one that was meant."""
    for word in sentence.words("cue"):
        came, meant = sentence.before(word), sentence.after(word)
        if (
            word.payload in ("instead", "not")
            and isinstance(came, Fatness | Amount)
            and isinstance(meant, Fatness | Amount)
        ):
            if _may_be_fat(came) and _may_be_fat(meant) and sentence.has("too_lean", "too_fat", "works_out", "out_in"):
                return came, meant
    return None, None


def _heap(sentence: Sentence, weights: Sequence[Amount], fats: Sequence[Fat], came: Fat | None = None) -> _Marks | None:
    """The batch that is there: the first weight with a fat beside it ("4 lb of 90/10", "3 kg of mince at 30%").

    came: the fat that it is said to have come out at, which may stand further off.
    """
    free = [weight for weight in weights if not _is_stock(sentence, weight)]
    if came is not None and len(free) == 1:
        return _Marks(free[0], came, {}, {free[0], came})
    for weight in weights:
        if _is_stock(sentence, weight):
            continue
        beside = [
            f
            for f in fats
            if not isinstance(f, Count) and _touch(sentence, weight, f, _HEAP_WORDS) and weight.first < f.first
        ]
        if beside and not _wanted(sentence, beside[0]):
            return _Marks(weight, beside[0], {}, {weight, beside[0]})
    return None


def _is_stock(sentence: Sentence, weight: Amount) -> bool:
    """Whether a weight limits what may be added: "only 3 oz", "at most 1 lb"."""
    before = sentence.before(weight)
    return weight.bound.value in ("only", "at_most") or (
        isinstance(before, Word) and before.kind == "cue" and before.payload == "have" and "only" in before.text.lower()
    )


def _additions(sentence: Sentence, marks: _Marks, fats: Sequence[Fat], weights: Sequence[Amount]) -> bool:
    """What may go in, each with its own fat and with how much of it there is. False where nothing is named."""
    for cut in sentence.of(CutName):
        rows = [data.cuts()[key] for key in cut.keys if key in data.cuts()]
        if _touch(sentence, cut, marks.heap_fat) or _touch(sentence, cut, marks.heap, _HEAP_WORDS):
            if all(row.kind == "ground" for row in rows):
                marks.used.add(cut)
                continue
            return False
        name = _said_before(cut, marks.additions)
        item = marks.additions.get(name, Item(cut.name, cut.keys))
        beside = [f for f in fats if f not in marks.used and _touch(sentence, cut, f) and not _wanted(sentence, f)]
        beside.sort(key=lambda f: f.first < cut.first)
        if beside and item.fat is None:
            item = replace(item, fat=_percent(beside[0]))
            marks.used.add(beside[0])
        stock = next((w for w in weights if w not in marks.used and _touch(sentence, cut, w)), None)
        if stock is not None:
            item = replace(item, weight=stock.measure, weight_is="have")
            marks.used.add(stock)
        marks.additions[name] = item
        marks.used.add(cut)
    loose = [w for w in weights if w not in marks.used and _is_stock(sentence, w)]
    if len(loose) == 1 and len(marks.additions) == 1:
        (name, item), *_ = marks.additions.items()
        marks.additions[name] = replace(item, weight=loose[0].measure, weight_is="have")
        marks.used.add(loose[0])
    return bool(marks.additions)


def _said_before(cut: CutName, named: Collection[str]) -> str:
    """The name under which a cut was said already, also where it is now said shorter: "pork belly … 100 g belly"."""
    words = set(cut.name.split())
    longer = [name for name in named if words < set(name.split())]
    return longer[0] if len(longer) == 1 and cut.name not in named else cut.name


def _wanted(sentence: Sentence, fat: Fat) -> bool:
    before = sentence.before(fat)
    led = (
        isinstance(before, Word)
        and before.kind == "cue"
        and before.payload in ("want", "make_it", "must_be", "into", "final")
    )
    # only the end of what stands before: a long line of ratios asks this of each of them
    return led or _WANTED.search(sentence.text[max(0, fat.first - 60) : fat.first]) is not None


def _target(sentence: Sentence, fats: Sequence[Fat]) -> Fat | None:
    """The fat that is wanted: the one said so, else the only one left where the line asks for a correction."""
    said = [fat for fat in fats if _wanted(sentence, fat)]
    if said:
        return said[-1]
    return fats[0] if len(fats) == 1 and sentence.has(*_ASKS) else None


def _both_sides(additions: Collection[Item], target: Fraction) -> bool:
    """Whether leaner and fatter meat than the target is named: from those two a batch is made, not put right."""
    fats = [
        item.fat if item.fat is not None else data.cuts()[item.keys[0]].fat
        for item in additions
        if item.fat is not None or item.keys
    ]
    return any(fat > target for fat in fats) and any(fat < target for fat in fats)


def _again(sentence: Sentence, marks: _Marks, weights: Sequence[Amount], *, keep: bool) -> None:
    """ "keep it at 2 kg", "and still 6 lb": the batch's own weight once more."""
    for weight in weights:
        if keep and weight not in marks.used and _same(weight.measure, marks.heap.measure):
            marks.used.add(weight)


def _same(one: Measure, other: Measure) -> bool:
    return one.value == other.value and one.unit == other.unit
