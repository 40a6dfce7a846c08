"""The batch: blending, correcting, portioning, seasoning, buying and cost, in one request that grows over the talk."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant.answer import Status
from assistant.data.safety import safety_book
from assistant.language.phrases import Amount, Count, CutName, Fatness, Moment, Per, Phrase, Rate
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard
from assistant.topics.base import Kitchen, Outcome, Pending, Reading, Talk, Unclear, ended, pending_for
from assistant.topics.plan import answers, crowd, followups, heap, merge, same_meat, short, two_ways
from assistant.topics.plan.choice import Choice
from assistant.topics.plan.line import Line, Missing
from assistant.topics.plan.reading import PlanReader
from assistant.topics.plan.reading.together.shapes import MOST_EACH
from assistant.topics.plan.request import Group, Item, PattyWish, Plan
from assistant.topics.plan.section import grams
from assistant.topics.plan.slots import value_of

_WHICH_MIX = Pattern(r"\bwhich\b.*\b(?:leaner|fatter|fattier|cheaper|better)\b.*\bor\b", re.IGNORECASE)
"""Two mixes against each other: their cuts must not be put into one batch."""
_TOUCHES = {
    "at_risk": "at_risk",
    "rare": "at_risk",
    "hot_day": "hot_day",
    "fingers": "grinder_hands",
    "processor": "processor",
    "leftover": "leftovers",
    "raw_eating": "raw_service",
}
"""Words in a request for a batch that call for a safety reminder of their own."""


class PlanTopic(Struct, frozen=True):
    """The topic of the batch being planned."""

    name: str = "plan"
    examples: tuple[str, ...] = (
        "3 lb at 80/20 from brisket trim and round",
        "2½ lb of chuck into 4 oz patties",
        "60 guests, 2 burgers each, 150 g, 10% spare",
        "16 g/kg salt and 3 g/kg pepper for 8 lb",
        "4 lb of 90/10 is too lean, want 80/20, add suet at 95%",
        "topside £9.80/kg 3 kg, brisket £8.20/kg 1.5 kg: cost per 150 g burger",
    )
    passes: frozenset[str] = frozenset(
        [
            "how_much",
            "how_many",
            "what",
            "want",
            "have",
            "mix",
            "total",
            "together",
            "this",
            "out_of",
            "into",
            "goes_in",
            "make_it",
            "rest",
            "add",
            "meat_only",
            "usable",
            "works_out",
            "cost",
            "buy",
            "in_grinder",
            "cooked",
            "raw",
            "equals",
            "equal",
            "split",
            "composition",
            "in_shares",
            "nothing_else",
            "too_fat",
            "too_lean",
            "correction",
            "new_batch",
            "same_again",
            "what_about",
            "instead",
            "swap",
            "season",
            "recipe_for",
            "rate_of",
            "use_up",
            "plenty",
            "cheapest",
            "largest",
            "leanest",
            "fattest",
            "everyone",
            "half_of_them",
            "seconds",
            "must_be",
            "yes",
            "hello",
            "thanks",
            "praise",
            "when",
            "when_ready",
            "pack",
            "bowl",
            "rounds",
            "bun",
            "across",
            "thick",
            "spare",
            "lose",
            "trim_loss",
            "good_part",
            "worth",
            "shop_price",
            "budget",
            "as_much",
            "double",
            "halve",
            "triple",
            "half_again",
            "scale_to",
            "convert",
            "unit:percent",
            "unit:each",
            "bakers_percent",
            "of_total",
            "bone",
            "fewer",
            "big_eaters",
            "small_eaters",
            "already_salted",
            "fattier",
            "leaner",
            "bigger",
            "smaller",
            "twice_as",
            "crowd",
            "for_that",
            "help",
            "is_enough",
            "more",
            "off_taste",
            "is_it_much",
            "no_scale",
        ]
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """A batch, a change to the batch on the table, or the answer to a question about it."""
        pending = pending_for(talk, self.name)
        kept = same_meat.as_before(sentence.text, talk) if pending is None else None
        if kept is not None:
            return Reading(Amended(kept), frozenset(sentence.phrases), 2)
        reader = PlanReader(sentence)
        plan, used = reader.read()
        if "percent" in {cue[5:] for cue in sentence.cues if cue.startswith("unit:")}:
            plan = replace(plan, asks=plan.asks | {"percent"})
        plan = replace(plan, touches=frozenset(_TOUCHES[cue] for cue in sentence.cues if cue in _TOUCHES))
        air = heard.air(sentence)
        if air is not None and plan.groups:
            # "35 degrees out and 20 people want burgers": how hot it is changes no amount, only what is told besides
            used |= {air.phrase}
            hot = air.f("") > safety_book().temperatures["hot_day"].at.f
            plan = replace(plan, touches=plan.touches | {"hot_day"} if hot else plan.touches)
        if pending is not None and isinstance(pending.request, Choice):
            # "leave the salt out" is another wish, and no answer to which of them
            chosen = pending.request.chosen(sentence) if not plan.without or sentence.has("not") else None
            if chosen is not None:
                return Reading(Amended(chosen), frozenset(sentence.phrases), 2)
        elif pending is not None:
            return self._completed(plan, used, pending, sentence, talk)
        if not self._is_mine(plan, sentence, talk):
            return None
        if len(plan.items) > 2 and _WHICH_MIX.search(sentence.text):
            return Reading(
                Unclear("One mix at a time, please: what goes into the first?"), frozenset(sentence.phrases), 2
            )
        if merge.is_new(plan, talk.plan, sentence):
            factor = merge.factor_said(sentence)
            taken = any(
                word in used
                for word in sentence.words("cue")
                if word.payload in ("double", "halve", "triple", "half_again", "twice_as")
            )
            if factor is not None and plan.factor is None and not taken:
                plan = replace(plan, factor=factor)
            settled = two_ways.settled(heap.only_had(plan, sentence), reader.heard_twice, reader.unsaid_prices)
            return Reading(settled, used, self._strength(plan) + self._outright(plan, sentence))
        return self._changed(plan, used, sentence, talk)

    def answer(self, request: Any, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The batch worked out."""
        if isinstance(request, Unclear):
            return ended(self.name, "", Status.NEEDS_DETAIL, request.question)
        if isinstance(request, Choice):
            asked = ended(self.name, "", Status.NEEDS_DETAIL, request.question)
            return replace(asked, pending=Pending(self.name, request, "choice"))
        if isinstance(request, Missing):
            asked = ended(self.name, "", Status.NEEDS_DETAIL, request.question)
            return replace(asked, pending=Pending(self.name, talk.plan, request.missing))
        if isinstance(request, Amended):
            return replace(answers.answer(request.plan, kitchen, talk), amends=True)
        return answers.answer(request, kitchen, talk)

    def _is_mine(self, plan: Plan, sentence: Sentence, talk: Talk) -> bool:
        bare = replace(plan, asks=frozenset(), without=(), touches=frozenset(), label="")
        if bare != Plan():
            return True
        if talk.plan is not None:
            return bool(
                plan.without
                or plan.asks
                or sentence.has(
                    "double",
                    "halve",
                    "triple",
                    "half_again",
                    "twice_as",
                    "same_again",
                    "bigger",
                    "smaller",
                    "make_it",
                    "scale_to",
                )
                or sentence.of(Count)
                or (talk.plan.seasonings and sentence.of(Rate))
                or (sentence.has("convert") and not sentence.of(Amount))
                or any(amount.kind == "percent" for amount in sentence.of(Amount))
                or (sentence.has("correction", "not") and sentence.has("unit:kg", "unit:g", "unit:lb", "unit:oz"))
            )
        return bool(plan.asks) or sentence.has("same_again", "make_it", "bigger", "smaller")

    def _strength(self, plan: Plan) -> int:
        return 1 if plan.items or plan.batch or plan.patties or plan.groups or plan.seasonings else 0

    @staticmethod
    def _outright(plan: Plan, sentence: Sentence) -> int:
        """More for a line that says who eats how much, or what fits a bowl, and asks nothing of keeping or of safety."""
        other = sentence.has("safe", "is_it_ok", "how_long", "when", "out_in", "long_spell", "ago", "counter", "rare")
        other = other or any(moment.clock is not None for moment in sentence.of(Moment))
        sized = any(group.size is not None for group in plan.groups)
        sized = sized or (bool(plan.groups) and plan.patties is not None and plan.patties.size is not None)
        return 2 if not other and (sized or (plan.bowl is not None and plan.batch is not None)) else 0

    # ---- following up

    @staticmethod
    def _for_each_of_them(plan: Plan, sentence: Sentence, old: Plan) -> Plan:
        """ "2 burgers each", "make it two burgers", said of the people on the table: for every one of them, not two in
        all."""
        wish = plan.patties
        if not old.groups or plan.groups or wish is None or wish.count is None:
            return plan
        few = wish.count <= MOST_EACH and all(wish.count <= group.count for group in old.groups)
        if not sentence.words("pereach") and not few:
            return plan
        groups = tuple(replace(group, each=wish.count) for group in old.groups)
        left = replace(wish, count=None)
        return replace(plan, groups=groups, patties=None if left == PattyWish() else left)

    def _changed(self, plan: Plan, used: frozenset[Phrase], sentence: Sentence, talk: Talk) -> Reading:
        old: Plan = talk.plan
        plan = self._for_each_of_them(plan, sentence, old)
        plan = _as_the_patty(crowd.without_the_reason(plan, old), replace(old, asks=frozenset()))
        number = followups.of_the_crowd(Line(plan, used, sentence, old))
        if isinstance(number, Choice):
            return Reading(number, frozenset(sentence.phrases), 2)
        if number is not None:
            return Reading(Amended(number), frozenset(sentence.phrases), 2)
        known = short.of_one_size(old, sentence) or short.told_why(old, sentence)
        if known is not None:
            return Reading(Amended(known[0]), short.accounted(sentence, known[1]), 2)
        if crowd.is_about_them(plan, old):
            return Reading(Amended(merge.merged(old, plan, sentence)), used, 2)
        line = followups.read(Line(plan, used, sentence, old))
        if not isinstance(line, Line):
            return Reading(line, frozenset(sentence.phrases), 1)
        if line.settled is not None:
            return Reading(Amended(line.settled), line.used, 2)
        plan, used = line.plan, line.used
        unclear = self._which(plan, sentence, talk)
        if unclear is not None:
            return Reading(unclear, used, 1)
        new = merge.merged(old, plan, sentence)
        factor = merge.factor_said(sentence)
        if factor is not None and not plan.seasonings:
            new = merge.scaled(new, factor)
            used |= frozenset(word for word in sentence.words("cue") if word.payload == "twice_as")
        another = sentence.has("same_again") and not crowd.comes_on_top(plan, old, sentence)
        outright = 3 if plan.without or plan.swaps else self._strength(plan)
        return Reading(new if another else Amended(new, factor), used, outright)

    @staticmethod
    def _which(plan: Plan, sentence: Sentence, talk: Talk) -> Unclear | None:
        """ "take half a kilo off the rump" with rump in two batches: in which?"""
        before = talk.earlier[-1] if talk.earlier else None
        both = talk.topic == "turns" and before is not None and merge.difference_said(sentence) != 0
        if (
            both
            and plan.items
            and before is not None
            and any(merge.same_meat(known, plan.items[0]) for known in before.items)
        ):
            return Unclear(f"Both batches have {plan.items[0].name}. Which one do you mean, the first or the second?")
        return None

    # ---- answering a question of ours

    def _completed(
        self, plan: Plan, used: frozenset[Phrase], pending: Pending, sentence: Sentence, talk: Talk
    ) -> Reading | None:
        old: Plan = pending.request
        if merge.is_new(plan, old, sentence) and plan.items and old.items:
            return Reading(plan, used, self._strength(plan))
        if pending.missing.startswith("cut:"):
            chosen = self._chosen_cut(old, pending.missing[4:], sentence, plan)
            if chosen is not None:
                figures = (*sentence.of(Amount), *sentence.of(Count), *sentence.of(Fatness))
                return Reading(chosen, used | frozenset(sentence.of(CutName)) | frozenset(figures), 2)
        if pending.missing.startswith("swap:") and len(plan.items) == 1:
            gone = pending.missing[5:]
            plan = replace(plan, swaps=((gone, plan.items[0].name),), without=(gone,))
            return Reading(Amended(merge.merged(old, plan, sentence)), used, 2)
        if pending.missing == "ratio":
            settled = _settled_ratio(old, sentence)
            if settled is not None:
                return Reading(settled, frozenset(sentence.phrases), 2)
        unit = short.which_unit(plan, old, pending.missing, sentence, talk.settings.get("units", ""))
        if isinstance(unit, Choice):
            return Reading(unit, frozenset(sentence.phrases), 2)
        plan, more = self._lone_number(plan, pending.missing, sentence, old)
        used |= more
        plan, more = _asked_rate(plan, old, sentence, used)
        used |= more
        plan = _as_the_patty(plan, old)
        plan = self._as_the_mix(plan, pending.missing)
        if pending.missing == "mix":
            old, plan, more = heap.fat_told(old, plan, sentence, used)
            used |= more
        old = heap.put_right(old, plan)
        bare = replace(plan, asks=frozenset(), without=(), touches=frozenset(), label="")
        if bare == Plan() and not plan.without:
            if sentence.has("correction"):
                # "no 2%" while it is asked how much meat the salt is for
                line = followups.read(Line(plan, used, sentence, old))
                if isinstance(line, Line) and line.settled is not None:
                    return Reading(line.settled, line.used, 2)
            if plan.asks and talk.plan is None:
                return Reading(merge.merged(old, plan, sentence), used, 0)
            return None
        if merge.is_new(plan, old, sentence) and old == Plan():
            return Reading(plan, used, self._strength(plan))
        new = merge.merged(old, plan, sentence)
        return Reading(replace(new, asks=old.asks | plan.asks, too=old.too or plan.too), used, 2)

    @staticmethod
    def _as_the_mix(plan: Plan, missing: str) -> Plan:
        """ "3 lb at 10%" said of what is too lean: the meat in hand, not the fat that is wanted."""
        if missing != "mix" or plan.items or plan.batch is None or plan.target is None:
            return plan
        name = f"mix at {float(plan.target):g}% fat"
        mix = Item(name=name, fat=plan.target, weight=plan.batch)
        return replace(plan, items=(mix,), batch=None, target=None)

    def _lone_number(self, plan: Plan, missing: str, sentence: Sentence, old: Plan) -> tuple[Plan, frozenset[Phrase]]:
        """ "5 lb", "20", "12": a bare number is what was asked for."""
        numbers = [p for p in sentence.of(Count) if not p.piece and not p.proportion]
        percents = [p for p in sentence.of(Amount) if p.kind == "percent"]
        if missing == "target" and len(percents) == 1 and plan.target is None and not (plan.items or plan.seasonings):
            return replace(plan, target=percents[0].measure.value), frozenset(percents)
        if len(numbers) != 1 or len(list(sentence.substance())) > 2:
            return plan, frozenset()
        number = numbers[0]
        used = frozenset((number,))
        if missing == "people":
            return replace(plan, groups=(Group(count=number.value),)), used
        shared = old.patties is None and ("split" in old.asks or old.equal)
        patties = shared or (old.patties is not None and old.patties.count is None)
        patties = patties and old.batch is None and not old.groups and not old.items
        if missing == "count" or (missing == "weight" and patties and number.value.denominator == 1):
            return replace(plan, patties=PattyWish(count=number.value)), used
        return plan, frozenset()

    def _chosen_cut(self, old: Plan, word: str, sentence: Sentence, plan: Plan) -> Plan | None:
        """The cook's choice for an ambiguous word: a cut, or a fat figure of their own."""
        place = next((i for i, item in enumerate(old.items) if item.name == word), None)
        if place is None:
            return None
        item = old.items[place]
        for phrase in sentence.of(CutName):
            keys = [key for key in phrase.keys if key in item.keys] or list(phrase.keys)
            if keys:
                return self._with_item(old, place, replace(item, keys=(keys[0],), name=phrase.name))
        figures = [value_of(p) for p in (*sentence.of(Fatness), *sentence.of(Amount), *sentence.of(Count))]
        said = [value for value in figures if value is not None]
        fat = plan.target if plan.target is not None else next((i.fat for i in plan.items if i.fat is not None), None)
        if fat is None and len(said) == 1 and 0 < said[0] <= 100:
            fat = said[0]
        if fat is not None:
            return self._with_item(old, place, replace(item, fat=fat))
        return None

    @staticmethod
    def _with_item(plan: Plan, place: int, item: Any) -> Plan:
        return replace(plan, items=(*plan.items[:place], item, *plan.items[place + 1 :]))


_RATES: dict[type[Phrase], tuple[str, ...]] = {Rate: ("weight", "volume"), Amount: ("percent", "volume")}


def _asked_rate(plan: Plan, old: Plan, sentence: Sentence, used: frozenset[Phrase]) -> tuple[Plan, frozenset[Phrase]]:
    """ "1.5%", "16 g a kilo" or "3/4 tsp per lb" after "at what rate?": for every seasoning that has none yet."""
    bare = [pinch for pinch in old.seasonings if pinch.amount is None]
    said: list[Rate | Amount] = [
        phrase
        for phrase in sentence.phrases
        if isinstance(phrase, Rate | Amount) and phrase.kind in _RATES[type(phrase)] and phrase not in used
    ]
    if not bare or plan.seasonings or len(said) not in (1, len(bare)):
        return plan, frozenset()
    apart = next((one.per for one in sentence.of(Per)), None)
    pinches = tuple(
        replace(pinch, amount=rate.measure, per=rate.per if isinstance(rate, Rate) else apart)
        for pinch, rate in zip(bare, said * len(bare) if len(said) == 1 else said, strict=False)
    )
    return replace(plan, seasonings=pinches), frozenset([*said, *sentence.of(Per)])


def _settled_ratio(old: Plan, sentence: Sentence) -> Plan | None:
    """ "lean to fat", "the first", "parts", "the second" in answer to what two numbers are a ratio of."""
    assert old.ratio is not None
    said = set(sentence.text.lower().replace(".", " ").replace(",", " ").split())
    if said & {"parts", "part", "shares", "second", "latter", "cuts", "meats", "each"}:
        items = tuple(replace(item, parts=part) for item, part in zip(old.items, old.ratio, strict=False))
        return replace(old, items=items, ratio=None)
    if said & {"fat", "lean", "first", "former"}:
        return replace(old, target=min(old.ratio), ratio=None)
    return None


_HEAVIEST_PATTY = 700
"""Grams. What is heavier is the meat. Common practice, no source."""
_SMALLEST_PATTY = 40
"""Grams. Common practice, no source."""


def _as_the_patty(plan: Plan, old: Plan) -> Plan:
    """ "4 oz" after "how many patties", "quarter lb" after "8 of them": so small a weight is the patty, not the meat."""
    sized = old.patties is not None and old.patties.size is not None
    numbered = old.patties is not None and old.patties.count is not None
    counted = (numbered or bool(old.groups)) and old.batch is None and not old.items
    asked = not sized and ("how_many" in old.asks or counted)
    asked = asked or _too_light_for(None if old.patties is None else old.patties.count, plan, old)
    if not asked or plan.batch is None or plan.patties is not None or plan.items or plan.seasonings:
        return plan
    small = grams(plan.batch) < _HEAVIEST_PATTY and (old.batch is None or grams(plan.batch) * 2 < grams(old.batch))
    if counted and old.patties is not None and old.patties.count is not None:
        # "burgers | 8 of em | quarter lb": shared out it would be a sliver each
        small = small and grams(plan.batch) < old.patties.count * _SMALLEST_PATTY
    return replace(plan, batch=None, patties=PattyWish(size=plan.batch)) if small else plan


def _too_light_for(count: Fraction | None, plan: Plan, old: Plan) -> bool:
    """Whether a weight, shared out among so many patties of no weight yet, would leave none of them a patty."""
    if plan.batch is None or old.batch is not None or (old.patties is not None and old.patties.size is not None):
        return False
    if old.groups:
        # "6 oz" once it is known who eats
        return all(group.size is None for group in old.groups) and grams(plan.batch) < _HEAVIEST_PATTY
    if old.patties is None:
        return False
    if count is None:
        return grams(plan.batch) < _LIGHTEST_LOT
    return count > 1 and grams(plan.batch) / count < _LIGHTEST_PATTY


_LIGHTEST_PATTY = 28
"""Grams (an ounce). Nobody forms a lighter patty. Common practice, no source."""
_LIGHTEST_LOT = 340
"""Grams (12 oz). Less meat than that is one patty and no lot to form some of. Common practice, no source."""


class Amended(Struct, frozen=True):
    """The batch on the table, changed: not another batch beside it."""

    plan: Plan
    factor: Fraction | None = None


TOPIC = PlanTopic()
