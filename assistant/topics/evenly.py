"""A batch shared out evenly with nothing left over: patties of at least, at most or about a weight."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from assistant import data, units, wording
from assistant.answer import Figure, Role, Status
from assistant.engine import portion
from assistant.language.phrases import Amount, Bound, CutName, Measure, Patties, PerEach, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome, Reading, Talk
from assistant.topics.plan.request import Item, PattyWish, Plan

NAME = "portion"


class Evenly(Struct, frozen=True):
    """So much meat into equal patties. size: their weight, with its upper end where a range was said; bound: at least or
    at most that; plan: the batch on the table, where it is that one."""

    batch: Measure
    size: Measure
    bound: Bound = Bound.IS
    cut: str = ""
    keys: tuple[str, ...] = ()
    plan: Plan | None = None
    meat: heard.Meat = heard.Meat()


class EvenlyTopic:
    """The topic of equal patties with nothing left."""

    name = "evenly"
    examples = ("3 lb into equal patties of at least 5 oz, nothing left over",)
    passes: frozenset[str] = frozenset(
        ("equal", "use_up", "split", "into", "spare", "mix", "how_many", "how_much", "want", "have", "what")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A weight, patties, and a weight that each is to have at least, at most, between, or about with none left."""
        patties = sentence.of(Patties)
        weights = [a for a in sentence.of(Amount) if a.kind == "weight"]
        cuts = sentence.of(CutName)
        if len(patties) != 1 or patties[0].count is not None or len(cuts) > 1:
            return None
        size = patties[0].each or _size(sentence, patties[0], weights)
        rest = [a for a in weights if size is None or a.first != size.first]
        if size is None or size.kind != "weight" or len(rest) > 1 or not _asks(sentence, size):
            return None
        plan = talk.plan if isinstance(talk.plan, Plan) and not rest else None
        batch = rest[0].measure if rest else plan.batch if plan is not None else None
        if batch is None:
            return None
        cut = cuts[0] if cuts else None
        request = Evenly(
            batch,
            size.measure,
            size.bound,
            cut.name if cut else "",
            cut.keys if cut else (),
            plan,
            _meat(sentence, plan),
        )
        left = {w for w in sentence.words("cue") if w.payload == "not"}
        each = [p for p in sentence.of(PerEach) if p.first == size.first]
        taken: list[Phrase | None] = [patties[0], size, *each, *rest, cut, *left]
        return Reading(request, heard.all_of(taken), 3)

    def answer(self, request: Evenly, kitchen: Kitchen, _talk: Talk) -> Outcome:
        """How many patties, and exactly how heavy each."""
        whole, low = _grams(request.batch), _grams(request.size)
        high = low if request.size.high is None else _grams(Measure(request.size.high, request.size.unit))
        system = "us" if request.batch.unit in ("lb", "oz") else "metric"
        said = (
            f"{wording.weight(whole, system)} into equal patties {_wish(request, low, high, system)}, nothing left over"
        )
        if whole <= 0 or low <= 0:
            return verdict.told(
                NAME, said, "The meat and the patties both have to weigh something.", status=Status.IMPOSSIBLE
            )
        count = _count(request, whole, low, high)
        if count is None:
            return _none(said, whole, low, system)
        each = portion.equal_shares(whole, count)
        unit = request.size.unit
        figures = [
            Figure("patties", Role.PATTY_COUNT, float(count), "count", shown=str(count)),
            Figure(
                "each patty",
                Role.PATTY_WEIGHT,
                float(units.to(each, "g", unit)),
                unit,
                shown=wording.both(each, system),
            ),
            Figure(
                "meat", Role.TOTAL, float(request.batch.value), request.batch.unit, shown=wording.both(whole, system)
            ),
        ]
        told = verdict.told(
            NAME,
            said,
            f"{wording.counted(count, 'patty')} of {wording.both(each, system)}, nothing left over.",
            figures=figures,
            cautions=verdict.with_meat(request.meat, kitchen, {"cook_temperature", "keep_cold"}),
            working=(f"{wording.both(whole, system)} / {count}.",),
        )
        items = (Item(request.cut, request.keys),) if request.cut else ()
        plan = replace(request.plan or Plan(items=items, batch=request.batch), patties=PattyWish(count=Fraction(count)))
        return Outcome(told.answer, plan=plan, amends=request.plan is not None)


def _meat(sentence: Sentence, plan: Plan | None) -> heard.Meat:
    """Whose meat it is: as the line names it, and that of the batch on the table."""
    meat = heard.meat(sentence)
    if plan is None:
        return meat
    rows = [data.cuts()[key] for item in plan.items for key in item.keys if key in data.cuts()]
    return replace(meat, species=meat.species | {row.species for row in rows} | set(plan.species))


def _grams(measure: Measure) -> Fraction:
    return units.grams(measure.value, measure.unit)


def _size(sentence: Sentence, patties: Patties, weights: list[Amount]) -> Amount | None:
    """ "patties of at least 5 oz", "burgers, no more than 150 g", "patties between 5 and 6 oz each": the weight said
    just after the patties; after a comma only where it is a bound."""
    after = sentence.after(patties)
    apart = False
    while isinstance(after, Word) and after.kind in ("of", "sep"):
        apart = apart or after.kind == "sep"
        after = sentence.after(after)
    if isinstance(after, PerEach) and after.kind == "weight":
        return Amount(after.first, after.last, after.text, "weight", after.measure, after.bound)
    size = next((weight for weight in weights if weight is after), None)
    return None if size is None or (apart and size.bound is Bound.IS) else size


def _asks(sentence: Sentence, size: Amount) -> bool:
    bounded = size.bound in (Bound.LEAST, Bound.MOST) or size.measure.high is not None
    return bounded or sentence.has("use_up") or (sentence.has("equal") and sentence.has("split", "into"))


def _count(request: Evenly, whole: Fraction, low: Fraction, high: Fraction) -> int | None:
    """How many equal patties; None where no number has a weight within the ends."""
    most = portion.count_from(whole, low).count
    if request.bound is Bound.LEAST and request.size.high is None:
        return most or None
    fewest = ceil(whole / high)
    if request.bound is Bound.MOST and request.size.high is None:
        return fewest
    if request.size.high is None:
        near = [n for n in (most, most + 1) if n]
        return min(near, key=lambda n: abs(whole / n - low))
    fitting = [n for n in range(fewest, most + 1) if n]
    middle = (low + high) / 2
    return min(fitting, key=lambda n: abs(whole / n - middle)) if fitting else None


def _wish(request: Evenly, low: Fraction, high: Fraction, system: str) -> str:
    if request.size.high is not None:
        return f"of {wording.weight(low, system)} to {wording.weight(high, system)}"
    bound = {Bound.LEAST: "at least", Bound.MOST: "at most"}.get(request.bound, "about")
    return f"of {bound} {wording.weight(low, system)}"


def _none(said: str, whole: Fraction, low: Fraction, system: str) -> Outcome:
    """No number of patties fits: what the two nearest numbers would weigh."""
    count = max(1, portion.count_from(whole, low).count)
    near = [(n, portion.equal_shares(whole, n)) for n in (count, count + 1)]
    shown = wording.listing(
        [f"{wording.counted(n, 'patty')} of {wording.both(each, system)}" for n, each in near], "or"
    )
    figures = [
        Figure(f"each of {n}", Role.PATTY_WEIGHT, float(each), "g", shown=wording.both(each, system))
        for n, each in near
    ]
    says = f"No number of equal patties uses it up at that weight. Nearest: {shown}."
    return verdict.told(NAME, said, says, figures=figures, status=Status.IMPOSSIBLE)


TOPIC = EvenlyTopic()
