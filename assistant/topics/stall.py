"""Burgers for money: what is left of the selling price, rolls in the cost, a bill shared out, how big a patty may be."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from assistant import wording
from assistant.answer import Answer, Figure, Role, Status
from assistant.engine import cost
from assistant.language.phrases import Amount, Bound, Count, Measure, PerEach, Phrase, Rate, Word
from assistant.language.sentence import Sentence
from assistant.topics import within
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, ended
from assistant.topics.plan import buying, mass
from assistant.topics.plan.request import PattyWish, Plan
from assistant.topics.plan.restate import understood
from assistant.topics.plan.section import grams, in_unit, system

NAME = "stall"
_A_GUEST = frozenset(("head", "person", "guest", "guests", "people", "us"))
_REACH = 5
"""Phrases between "sell" and its price."""
_HEAVIEST_PATTY = 700
"""Grams. A heavier weight beside a selling price is the meat, not a burger. Common practice, no source."""
_PUBLIC = "For selling to the public a licensed kitchen's local rules decide: ask your health department."


class Stall(Struct, frozen=True):
    """plan: the burgers, the people and the price of the meat; sell: what one burger brings in; extra: what goes with
    each burger, such as a roll; paid: what all the meat cost; most: what the meat of one burger, or of one guest
    (per_head), may cost."""

    plan: Plan
    sell: Measure | None = None
    extra: Measure | None = None
    paid: Measure | None = None
    most: Measure | None = None
    per_head: bool = False


class StallTopic:
    """The topic of burgers for money."""

    name = NAME
    examples = ("selling 150 g burgers at £6.50, mince £9.20/kg, rolls 22p each: what is left of each?",)
    passes: frozenset[str] = frozenset(
        ["selling", "charge", "profit", "cost", "paid", "budget", "bill", "spare", "left_with", "total", "bun", "mix"]
        + [
            "unit:percent",
            "largest",
            "how_much",
            "what",
            "everyone",
            "split",
            "meat_only",
            "want",
            "have",
            "reads",
            "this",
        ]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A line with money that is no price by weight."""
        taken: set[Phrase] = set()
        found = {
            "extra": _taken(taken, _with_rolls(sentence)),
            "sell": _taken(taken, _sold_at(sentence)),
            "most": _taken(taken, _at_most(sentence)),
        }
        found["paid"] = _taken(taken, _paid(sentence, taken, bool(found["sell"])))
        if not any(found.values()):
            return None
        each = frozenset(sentence.words("pereach"))
        read = within.plan_of(
            within.without(sentence, taken | (each if found["most"] or found["paid"] else set())), talk
        )
        plan = getattr(read.request, "plan", read.request) if read is not None else Plan()
        if not isinstance(plan, Plan) or sum(item.price is not None for item in plan.items) > 1:
            return None
        used = frozenset(taken) | each | (read.used if read is not None else frozenset())
        per_head = any(_A_GUEST & set(p.text.lower().split()) for p in (*taken, *each))
        request = Stall(plan, per_head=per_head, **{name: _measure(p) for name, p in found.items() if p is not None})
        request, used = _burgers_alone(request, sentence, used)
        return Reading(request, used, 2) if _is_enough(request) else None

    def answer(self, request: Stall, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The money worked out, or the one thing that is missing."""
        said = (request.sell, request.extra, request.paid, request.most, _price(request.plan))
        currencies = {measure.unit for measure in said if measure is not None and measure.unit}
        if len(currencies) > 1:
            return _asked(f"One figure is in {' and another in '.join(sorted(currencies))}: which money is meant?")
        currency = next(iter(currencies), wording.HOME_CURRENCY.get(kitchen.country, "USD"))
        sums = _Sums(request, currency, system(request.plan, kitchen.units))
        return sums.outcome()


def _taken(taken: set[Phrase], phrases: tuple[Phrase, ...]) -> Phrase | None:
    """The first of the phrases, all of which are now taken."""
    taken.update(phrases)
    return phrases[0] if phrases else None


def _money(sentence: Sentence) -> Iterable[tuple[int, Amount | PerEach]]:
    for place, phrase in enumerate(sentence.phrases):
        if isinstance(phrase, Amount | PerEach) and phrase.kind == "money":
            yield place, phrase


def _cue(phrase: Phrase, *names: str) -> bool:
    return isinstance(phrase, Word) and phrase.kind == "cue" and phrase.payload in names


def _measure(phrase: Phrase) -> Measure:
    assert isinstance(phrase, Amount | PerEach)
    return phrase.measure


def _with_rolls(sentence: Sentence) -> tuple[Phrase, ...]:
    """ "rolls 22p each": money for each, right after the roll."""
    for place, phrase in _money(sentence):
        near = sentence.phrases[max(0, place - 2) : place]
        rolls = [word for word in near if _cue(word, "bun")]
        if isinstance(phrase, PerEach) and rolls:
            return (phrase, *rolls)
    return ()


def _sold_at(sentence: Sentence) -> tuple[Phrase, ...]:
    """ "we charge £4 a burger", "sell 90 burgers at £5 each", "I sell them at A$6.50"."""
    for place, phrase in _money(sentence):
        for word in sentence.phrases[max(0, place - _REACH) : place]:
            if _cue(word, "selling", "charge"):
                return (phrase, word)
    return ()


def _at_most(sentence: Sentence) -> tuple[Phrase, ...]:
    """ "£2.40 a head to spend", "each burger must cost no more than £1.20"."""
    for _, phrase in _money(sentence):
        limited = isinstance(phrase, Amount) and phrase.bound is Bound.MOST and bool(sentence.words("pereach"))
        if limited or (isinstance(phrase, PerEach) and sentence.has("budget")):
            return (phrase,)
    return ()


def _paid(sentence: Sentence, taken: set[Phrase], sells: bool) -> tuple[Phrase, ...]:
    """ "the mince cost me £140 all in", "split £163.20 of meat": all of the meat, and no price by weight beside it."""
    if any(rate.kind == "money" for rate in sentence.of(Rate)):
        return ()
    free = [phrase for _, phrase in _money(sentence) if phrase not in taken and isinstance(phrase, Amount)]
    led = sentence.has("bill", "split") or (sells and sentence.has("cost", "paid", "bill"))
    return (
        (free[0], *(word for word in sentence.words("cue") if word.payload == "bill")) if len(free) == 1 and led else ()
    )


def _burgers_alone(request: Stall, sentence: Sentence, used: frozenset[Phrase]) -> tuple[Stall, frozenset[Phrase]]:
    """ "we charge £4 a burger and expect 150": a number by itself counts the burgers that are sold."""
    free = [p for p in sentence.of(Count) if p not in used and not p.piece and p.value.denominator == 1 and p.value > 0]
    counted = _count(request.plan) is not None
    if request.sell is None or counted or len(free) != 1:
        return request, used
    wish = replace(request.plan.patties or PattyWish(), count=free[0].value)
    return replace(request, plan=replace(request.plan, patties=wish)), used | {free[0]}


def _is_enough(request: Stall) -> bool:
    """Whether the money can be worked out from what was said, so that the line is a stall's."""
    priced = _price(request.plan) is not None
    if request.paid is not None:
        return _count(request.plan) is not None or bool(request.plan.groups)
    if request.most is not None:
        return priced
    return priced and _size(request.plan) is not None


def _price(plan: Plan) -> Measure | None:
    """Money per gram of the one priced meat; the unit is the currency."""
    for item in plan.items:
        if item.price is not None and item.price.per is not None and item.price.per.value > 0:
            return Measure(cost.per_gram(item.price.amount, grams(item.price.per)), item.price.currency)
    return None


def _size(plan: Plan) -> Fraction | None:
    """Grams of one burger."""
    sizes = [group.size for group in plan.groups if group.size is not None]
    if plan.patties is not None and plan.patties.size is not None:
        sizes.append(plan.patties.size)
    heaps = [plan.batch, *(item.weight for item in plan.items)]
    if not sizes:
        # "£9.20 a kilo at 140 g": too little to be all of the meat
        sizes = [heap for heap in heaps if heap is not None and grams(heap) < _HEAVIEST_PATTY]
    weights = {grams(size) for size in sizes}
    return weights.pop() if len(weights) == 1 else None


def _count(plan: Plan) -> int | None:
    """How many burgers there are."""
    if plan.groups:
        found = mass.eaters(plan, "metric")
        return None if found is None else found.servings.count
    return int(plan.patties.count) if plan.patties is not None and plan.patties.count is not None else None


def _asked(question: str) -> Outcome:
    return ended(NAME, "", Status.NEEDS_DETAIL, question)


class _Sums:
    """One stall worked out: figures and the parts of the headline, collected in the order in which they are told."""

    def __init__(self, request: Stall, currency: str, speak: str) -> None:
        self.request, self.currency, self.speak = request, currency, speak
        self.figures: list[Figure] = []
        self.told: list[str] = []
        self.working: list[str] = []

    def outcome(self) -> Outcome:
        """The answer, or a question where a weight or a number is missing."""
        request = self.request
        if request.most is not None:
            self._biggest(request.most)
        elif request.paid is not None:
            self._shared(request.paid)
        elif (size := _size(request.plan)) is not None:
            self._by_weight(size)
        else:
            return _asked("How heavy is one burger?")
        notes = (_PUBLIC,) if request.sell is not None else ()
        headline = ", ".join(self.told) + "."
        return Outcome(
            Answer(
                _understood(request, self.currency),
                Status.ANSWERED,
                NAME,
                headline,
                figures=tuple(self.figures),
                notes=notes,
                working=tuple(self.working),
            )
        )

    def _tell(self, name: str, role: Role, amount: Fraction, words: str) -> None:
        shown = wording.money(amount, self.currency)
        self.figures.append(Figure(name, role, float(amount), self.currency, shown=shown))
        self.told.append(f"{shown} {words}")

    def _biggest(self, most: Measure) -> None:
        price = _price(self.request.plan)
        assert price is not None
        whole = cost.mass_for_budget(most.value, price.value)
        each = max((group.each or Fraction(1) for group in self.request.plan.groups), default=Fraction(1))
        size = whole / each if self.request.per_head else whole
        unit = "oz" if self.speak == "us" else "g"
        shown = wording.both(size, self.speak)
        self.figures.append(Figure("each patty at most", Role.PATTY_WEIGHT, in_unit(size, unit), unit, shown=shown))
        self.told.append(f"{shown} each at most for {wording.money(most.value, self.currency)}")
        self.working.append("The money over the price of a gram.")

    def _shared(self, paid: Measure) -> None:
        people = int(sum(group.count for group in self.request.plan.groups))
        count = _count(self.request.plan)
        if self.request.sell is not None and count is not None:
            self._profit(self.request.sell.value * count, paid.value, count)
        elif people:
            self._tell("cost per guest", Role.COST, cost.shared(paid.value, people), "a guest")
        elif count:
            self._tell("cost per patty", Role.COST, cost.shared(paid.value, count), "a patty")

    def _by_weight(self, size: Fraction) -> None:
        plan, price = self.request.plan, _price(self.request.plan)
        assert price is not None
        bought = buying.buy_grams(plan, size) if plan.losses else size
        meat = cost.price_for(price.value, bought)
        extra = self.request.extra.value if self.request.extra is not None else Fraction(0)
        count, each = _count(plan), meat + extra
        people = int(sum(group.count for group in plan.groups))
        if self.request.sell is not None:
            self._margin(self.request.sell.value, each)
            if count is not None:
                self._profit(self.request.sell.value * count, each * count, count)
        elif people and count is not None:
            self._tell("cost per guest", Role.COST, cost.shared(each * count, people), "a guest")
        if self.request.sell is None and count is not None:
            self._tell("cost in all", Role.COST, each * count, f"for {wording.counted(count, 'patty')}")
        self._tell("cost per patty", Role.COST, each, "a patty" + (" with what goes with it" if extra else " of meat"))
        self.working.append(f"{wording.both(size, self.speak)} of meat is {wording.money(meat, self.currency)}.")

    def _margin(self, sell: Fraction, each: Fraction) -> None:
        self._tell("left of each", Role.COST, sell - each, f"left of {wording.money(sell, self.currency)}")
        if sell > 0:
            share = each / sell * 100
            shown = wording.percent(share)
            self.figures.append(Figure("cost as a share of the price", Role.RATIO, float(share), "%", shown=shown))
            self.told.append(f"cost {shown} of the price")

    def _profit(self, taken: Fraction, spent: Fraction, count: int) -> None:
        self._tell("left in all", Role.COST, taken - spent, f"left of {wording.counted(count, 'patty')}")
        self._tell("taken in", Role.COST, taken, "taken")
        self._tell("spent", Role.COST, spent, "spent")


def _understood(request: Stall, currency: str) -> str:
    """The burgers as the plan says them, with the money beside."""
    said = (("sold at", request.sell), ("rolls at", request.extra), ("paid", request.paid), ("at most", request.most))
    money = [f"{name} {wording.money(measure.value, currency)}" for name, measure in said if measure is not None]
    return "; ".join([understood(request.plan), *money])


TOPIC = StallTopic()
