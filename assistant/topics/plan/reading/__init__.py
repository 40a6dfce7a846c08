"""From phrases to a batch: what is the batch, what the target, what belongs to which cut, what is asked.

One pass per question, in the order in which the answers depend on each other. Every phrase that is made
sense of is marked as used; what is left over is reported by the session, never dropped.
"""

from __future__ import annotations

from msgspec.structs import replace

from assistant import data
from assistant.language.phrases import CutName, Phrase
from assistant.pattern import Pattern
from assistant.topics.plan import fat_in
from assistant.topics.plan.reading.batch import Batch
from assistant.topics.plan.reading.together.sizes import ROUNDED_UP
from assistant.topics.plan.request import Item, Plan

_ASKS = (
    "how_much",
    "as_much",
    "how_many",
    "composition",
    "cost",
    "why",
    "buy",
    "usable",
    "in_shares",
    "want",
    "worth",
    "cooked",
    "total",
    "together",
    "season",
    "largest",
    "split",
    "good_part",
    "pack",
    "too_fat",
    "too_lean",
    "add",
    "convert",
    "swap",
    "fattier",
    "leaner",
    "what",
    "mix",
    "raw",
    "bigger",
    "smaller",
    "use_up",
    "left_with",
    "of_total",
    "is_it_much",
)


def _filled_up(plan: Plan) -> Plan:
    """ "12 oz bacon with 3 lb venison, how much chuck to make 6 lb": what is asked for makes up the batch."""
    free = [item for item in plan.items if not _is_told(item)]
    others = [item for item in plan.items if item not in free]
    asked = "how_much" in plan.asks and plan.batch is not None and plan.target is None and not plan.wish
    weighed = bool(others) and all(item.weight is not None and item.weight_is == "is" for item in others)
    if not (asked and len(free) == 1 and weighed) or plan.ratio is not None or plan.equal:
        return plan
    return replace(plan, items=tuple(replace(i, rest=True) if i is free[0] else i for i in plan.items))


def _is_told(item: Item) -> bool:
    return item.weight is not None or item.share is not None or item.parts is not None or item.rest


_CALLED = Pattern(r"\b(call|say|reckon|figure) (it|them|that|those)( about| around| at)?\s*$")


class PlanReader(Batch):
    """Reads one sentence into a batch."""

    def read(self) -> tuple[Plan, frozenset[Phrase]]:
        """The batch as this sentence describes it, and the phrases that it accounts for."""
        self._cuts_named()
        self._trim_is_lost()
        self._share_to_be()
        self._find_packs()
        self._find_yield()
        self._find_spare()
        self._find_to_the_kilo()
        self._find_company()
        self._find_target()
        self._find_losses()
        self._find_sizes()
        self._find_people()
        self._people_in_a_range()
        self._find_seasonings()
        self._find_prices()
        self._prices_per()
        self._give_shares()
        self._give_fats()
        self._price_the_labels()
        self._give_weights()
        self._find_batch()
        self._find_wishes()
        self._settle_percents()
        self._fat_of_the_newcomer()
        self._meats_of_the_groups()
        self._rounded_up()
        plan = replace(
            self.plan,
            items=tuple(item for item in self.items if not self._is_out(item.name)),
            seasonings=tuple(self.seasonings.values()),
            without=tuple(self.out),
            asks=frozenset(cue for cue in self.sentence.cues if cue in _ASKS) - self._no_question(),
        )
        if self.sentence.has("off_taste") and any(pinch.amount is not None for pinch in plan.seasonings):
            # "3 tbsp salt in 5 lb, is that too much": what it comes to in percent tells
            plan = replace(plan, asks=plan.asks | {"percent"})
        plan = _filled_up(plan)
        if self._loses_from_the_start():
            plan = replace(plan, asks=plan.asks | {"left_with"})
        lone = [place for place, phrase in enumerate(self.phrases) if not self._is_word(place, "sep")]
        if len(lone) == 1 and self._is_word(lone[0], "side", "fat"):
            # "fat?" alone
            self.used.add(lone[0])
            plan = replace(plan, asks=plan.asks | {"composition"})
        if fat_in.asks(self.sentence.text):
            plan = replace(plan, asks=plan.asks | {"composition", fat_in.ASKED})
        return plan, frozenset(self.phrases[place] for place in self.used) | self.dropped

    def _rounded_up(self) -> None:
        """ "Rounded up to whole kilos"."""
        for place in self._word_places("cue", ROUNDED_UP):
            self.used.add(place)
            self._set(round_up="kg" if self.phrases[place].text.startswith("k") else "lb")

    def _meats_of_the_groups(self) -> None:
        """ "30 eat beef and 8 eat chicken": the meats that name the groups are cooked too, each as hot as it needs."""
        labels = {group.label for group in self.plan.groups}
        named = [cut for cut in self.dropped if isinstance(cut, CutName) and cut.text.lower() in labels]
        rows = [data.cuts()[key] for cut in named for key in cut.keys if key in data.cuts()]
        if rows:
            self._set(species=tuple(sorted({*self.plan.species, *(row.species for row in rows)})))

    def _fat_of_the_newcomer(self) -> None:
        """ "use elk instead of the deer, same two percent": the one fat of the line is that of what comes."""
        for gone, come in self.plan.swaps:
            told = [item for item in self.items if item.fat is not None]
            newcomer = next((at for at, item in enumerate(self.items) if item.name == come), None)
            if len(told) == 1 and told[0].name == gone and newcomer is not None:
                self._change(newcomer, fat=told[0].fat, fat_about=told[0].fat_about)
            if newcomer is not None and self.items[newcomer].fat is None and self._is_called_so():
                self._change(newcomer, fat=self.plan.target)
                self._set(target=None)

    def _is_called_so(self) -> bool:
        """ "swap the round for elk, call it 2%": the figure is of what comes, and not wanted."""
        if self.target_place is None or self.plan.target is None:
            return False
        before = self.sentence.text[: self.phrases[self.target_place].first].lower()
        return _CALLED.search(before) is not None

    def _fat_to_add(self) -> bool:
        """ "how much fat do i need to add to my deer" asks for fat to add, and not how fat the deer is."""
        cue = self.sentence.cue("composition")
        return cue is not None and cue.text.lower().startswith("how much fat")

    def _no_question(self) -> frozenset[str]:
        """ "half chuck, the rest split so it hits 20": the rest is divided among cuts, and nothing into patties."""
        if self.sentence.has("composition") and self.sentence.has("add") and self._fat_to_add():
            return frozenset(("composition",))
        rests = any(
            self._is_word(place, "cue", "rest") and self._is_word(place + 1, "cue", "split")
            for place in range(len(self.phrases))
        )
        return frozenset(("split",)) if rests else frozenset()
