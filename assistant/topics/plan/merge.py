"""Following a conversation: whether a line begins a new batch or changes the one on the table, and how."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import asdict, replace

from assistant import data, units
from assistant.language.phrases import Bound, Measure, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan import crowd
from assistant.topics.plan.request import Item, PattyWish, Pinch, Plan
from assistant.topics.plan.section import grams

_AMENDS = (
    "make_it",
    "instead",
    "swap",
    "drop",
    "what_about",
    "same_again",
    "correction",
    "double",
    "halve",
    "triple",
    "half_again",
    "bigger",
    "smaller",
    "leaner",
    "fattier",
    "scale_to",
    "too_fat",
    "too_lean",
    "season",
    "works_out",
)

_SAME_MEAT = Pattern(
    r"\b(?:same|that|this)\s+(?:\w+\s+of\s+)?(?:mince|meat|batch|weight|amount|lot|mix|kilos|pounds)\b|\b(?:with|from|out of) (?:that|it)\b",
    re.IGNORECASE,
)
_MEAT_FOR = Pattern(
    r"\bhow much (?:meat|mince|beef|pork|lamb) (?:do i need |will i need |should i get )?for\b", re.IGNORECASE
)
_HEAVIEST_PATTY = 500
"""Grams: what is more after "8 of them" is the meat for all. Common practice, no source."""
_PORTIONS = ("spare_count", "servings", "absent", "at_once", "appetite", "cooked")


def is_new(plan: Plan, old: Plan | None, sentence: Sentence) -> bool:
    """Whether a line stands alone. A line with food and a weight of its own does, unless it says it amends."""
    if old is None or sentence.has("new_batch"):
        return True
    if crowd.comes_on_top(plan, old, sentence):
        return False
    if plan.swaps or (plan.without and not plan.items):
        return False
    if (plan.items and _speaks_of(plan, old)) or makes_up_the_rest(plan, old):
        return False
    if _opens_with_and(sentence) and old.items and plan == Plan(items=plan.items):
        # "and 1 lb suet", after 4 lb chuck
        return False
    if _only_a_price(plan) and (not old.items or all(item.price is None for item in old.items)):
        return False
    if _only_meat(plan) and not old.items and (old.groups or old.patties is not None):
        # "use rump and suet, 80/20" once it is settled who eats: the meat for them
        return False
    if sentence.has("add") and old.items and plan.items and plan.batch is None and plan.target is None:
        return False
    if sentence.has(*_AMENDS) and not _complete(plan):
        return False
    if sentence.has("make_it", "instead", "same_again", "correction", "what_about"):
        return False
    return _complete(plan)


def makes_up_the_rest(plan: Plan, old: Plan) -> bool:
    """ "Sirloin for the rest of 5 lb", after meats that are all weighed: it fills up, and they stay as they are."""
    lone = len(plan.items) == 1 and plan.items[0].rest and plan.batch is not None
    weighed = bool(old.items) and all(item.weight is not None for item in old.items)
    return lone and weighed and old.target is None and plan.target is None


def _opens_with_and(sentence: Sentence) -> bool:
    first = sentence.phrases[0] if sentence.phrases else None
    return isinstance(first, Word) and first.kind == "join"


def _speaks_of(plan: Plan, old: Plan) -> bool:
    """ "I only have 8 oz suet", "take 200 g off the rump": only cuts that are on the table, and no batch of their own."""
    if plan.batch is not None or plan.target is not None or plan.groups or plan.equal:
        return False
    priced = all(item.price is not None and item.weight is None and item.share is None for item in plan.items)
    return (len(plan.items) < len(old.items) or priced) and all(
        any(same_meat(known, item) for known in old.items) for item in plan.items
    )


def _only_a_price(plan: Plan) -> bool:
    """ "mince is £8.40 a kilo, what's it costing?": a price for the meat on the table, and no batch beside it."""
    lone = len(plan.items) == 1 and plan.items[0].price is not None and not plan.items[0].keys
    nothing = plan.batch is None and plan.target is None and not plan.groups and plan.patties is None
    return lone and nothing and plan.items[0].weight is None and plan.budget is None


def _only_meat(plan: Plan) -> bool:
    """Cuts and the fat that is wanted, without a weight, a price, patties or people."""
    told = plan.batch is not None or plan.groups or plan.patties is not None or plan.seasonings
    return bool(plan.items) and not told and all(item.weight is None and item.price is None for item in plan.items)


def _complete(plan: Plan) -> bool:
    sized = plan.patties is not None and plan.patties.size is not None
    weighed = plan.batch is not None or any(item.weight is not None for item in plan.items)
    if plan.items:
        return (
            weighed
            or bool(plan.groups)
            or (sized and plan.patties is not None and plan.patties.count is not None)
            or (plan.target is not None and len(plan.items) > 1)
            or any(item.price is not None for item in plan.items)
        )
    if plan.groups:
        return sized or any(group.size is not None for group in plan.groups)
    if plan.seasonings:
        return plan.batch is not None and any(pinch.amount is not None for pinch in plan.seasonings)
    return (plan.batch is not None and (sized or (plan.patties is not None and plan.patties.count is not None))) or (
        sized and plan.patties is not None and plan.patties.count is not None
    )


def merged(old: Plan, new: Plan, sentence: Sentence) -> Plan:
    """The old batch as the new line changes it."""
    if (
        sentence.has("same_again")
        and len(new.items) > 1
        and not any(same_meat(k, i) for k in old.items for i in new.items)
    ):
        # "same but with loin and back fat": other cuts in place of all of them
        old = replace(old, items=())
    if _only_a_price(new) and old.items and all(item.price is None for item in old.items):
        # "what does it cost at 6.50 a lb": of all the meat on the table
        price = new.items[0].price
        return replace(old, items=tuple(replace(item, price=price) for item in old.items), asks=new.asks, too=new.too)
    if _SAME_MEAT.search(sentence.text) and new.batch is not None and _is_a_size(new) and (old.patties or old.groups):
        # "same meat though 120 g": the meat is as it was, and the weight is that of a patty
        new = replace(new, batch=None, patties=PattyWish(size=new.batch))
    if makes_up_the_rest(new, old):
        return replace(old, items=(*old.items, *new.items), batch=new.batch, asks=new.asks, too=new.too)
    new = _more_of_them(old, new, sentence)
    new = crowd.told_why(crowd.patty_of(old, _size_not_batch(old, new), _HEAVIEST_PATTY), old)
    new = _by_difference(old, new, sentence)
    plan = _with_items(old, new)
    plan = _seasoned(plan, new, sentence)
    changes: dict[str, object] = {}
    counted, unsure = False, ""
    for name in (
        "target",
        "wish",
        "spare",
        "seconds",
        "recipe_for",
        "budget",
        "shop",
        "extra",
        "paid",
        "spoons",
        "bowl",
        "pack",
        "aside",
        "units",
        "trimmed_off",
        "round_up",
        *_PORTIONS,
    ):
        value = getattr(new, name)
        if value not in (None, ""):
            changes[name] = value
    if new.target is not None:
        changes.update(target_is=new.target_is, target_reversed=new.target_reversed)
    if crowd.comes_on_top(new, old, sentence):
        old, new = crowd.with_own_sizes(old), crowd.with_own_sizes(new)
    again = crowd.all_of_it(old) if not old.groups or _SAME_MEAT.search(sentence.text) else None
    if new.patties is not None and old.groups and not new.groups and not new.regroup:
        old = crowd.without_heads(old, new.patties)
        unsure = old.question
        counted = not old.groups and new.patties.size is None
    groups, question = crowd.changed(old, new, sentence)
    question = question or unsure
    changes.update(groups=groups, question=question or new.question)
    if groups and not old.groups and old.regroup:
        changes["groups"] = crowd.changed(replace(old, groups=groups), old, sentence)[0]
    if new.spare is not None and not groups and (old.patties is None or old.patties.count is None):
        # "a third more" of a batch that nobody counted
        plan = scaled(plan, 1 + new.spare / 100)
        changes["spare"] = old.spare
    if new.losses:
        kept = [loss for loss in old.losses if loss.where not in {n.where for n in new.losses}]
        changes["losses"] = (*kept, *new.losses)
    if new.equal:
        changes["equal"] = True
    if new.salted:
        changes["salted"] = True
    if new.keep:
        changes["keep"] = True
    same_meat_said = (
        _SAME_MEAT.search(sentence.text) is not None and new.patties is not None and new.patties.size is not None
    )
    if (
        again is not None
        and ("how_many" in new.asks or same_meat_said)
        and new.patties is not None
        and new.patties.count is None
    ):
        # "how many could I do at 4 oz with the same meat", "make them 4 oz, same meat though"
        changes.update(batch=again, groups=())
    if new.patties is not None:
        changes["patties"] = _patties(old, new.patties, weighed="batch" in changes)
        if new.patties.count is not None and new.patties.size is not None and sentence.has("make_it", "is_enough"):
            # "make it enough for 16 six oz burgers": the batch is what they weigh
            changes["batch"] = None
        if new.patties.count is not None and _MEAT_FOR.search(sentence.text) is not None:
            # "no, how much meat for 12 burgers": the meat is what is asked for
            changes["batch"] = None
    # "and without the suet?": what was asked of the heap is asked of it again
    changes["asks"] = new.asks | ({"how_much"} if counted else set()) or old.asks & {"composition"}
    changes["too"] = new.too
    plan = replace(plan, **changes)
    if new.batch is not None:
        plan = resized(plan, new.batch, new.batch_is, patties_said=new.patties is not None)
    if new.factor is not None:
        plan = replace(scaled(plan, new.factor), factor=None)
    return plan


def _is_a_size(new: Plan) -> bool:
    """Whether the one weight of a line may be that of a patty."""
    alone = new.patties is None and not new.items and not new.groups and not new.seasonings
    return alone and new.batch is not None and grams(new.batch) <= _HEAVIEST_PATTY


def _size_not_batch(old: Plan, new: Plan) -> Plan:
    """ "no wait 4 oz" after 6 oz patties: a small weight in the unit of the patty is the patty."""
    size = old.patties.size if old.patties is not None else None
    if old.budget is not None and new.batch is not None and "how_many" in new.asks and grams(new.batch) < 700:
        # "at 120 g, how many burgers?" of what the budget buys
        return replace(new, batch=None, patties=PattyWish(size=new.batch))
    if new.batch is None or size is None or new.patties is not None or new.items:
        return new
    whole = old.batch or next((item.weight for item in old.items if item.weight is not None), None)
    near_patty = grams(new.batch) < 4 * grams(size)
    if near_patty and (whole is None or grams(new.batch) * 2 < grams(whole)):
        return replace(new, batch=None, patties=PattyWish(size=new.batch))
    return new


def _more_of_them(old: Plan, new: Plan, sentence: Sentence) -> Plan:
    """ "Ten more people, one burger each" after twenty burgers that were counted without their eaters: thirty."""
    wish = old.patties
    on_top = wish is not None and wish.count is not None and not old.groups and crowd.says_more_people(sentence)
    if (
        not on_top
        or wish is None
        or wish.count is None
        or replace(new, groups=(), patties=None) != Plan(asks=new.asks, touches=new.touches)
    ):
        return new
    more = [group.count * group.each for group in new.groups if group.each is not None and group.size is None]
    if not more or len(more) < len(new.groups):
        return new
    return replace(new, groups=(), patties=PattyWish(count=wish.count + sum(more)))


_LESS = Pattern(r"\b(?:off|less|fewer|minus|take (?:out|away))\b")
_MORE = Pattern(r"\b(?:more|another|extra|add)\b")


def difference_said(sentence: Sentence) -> int:
    """-1 for "take 200 g off the rump", 1 for "another 200 g of rump", 0 where the weight is the new weight."""
    text = sentence.text.lower()
    if _LESS.search(text):
        return -1
    return 1 if _MORE.search(text) else 0


def _heap_of(plan: Plan) -> Measure | None:
    """The weight of all of it: as said, or that of its meats together."""
    weights = [item.weight for item in plan.items if item.weight is not None]
    if plan.batch is not None or not weights or len(weights) < len(plan.items):
        return plan.batch
    whole = sum((grams(weight) for weight in weights), Fraction(0))
    return Measure(units.to(whole, "g", weights[0].unit), weights[0].unit)


_SIZE_APART = Pattern(
    r"\b(?:oz|ounces?|g|grams?|lb|pounds?) (?:each )?(?:(?P<more>more|bigger|heavier|larger)|(?:less|smaller|lighter))\b"
)
"""How much heavier or lighter each patty is to be."""


def _by_size(old: Plan, new: Plan, sentence: Sentence) -> Plan | None:
    """ "An ounce less each", "make them 20 g bigger": said of the patty's weight; None where it is not."""
    said = _SIZE_APART.search(sentence.text.lower())
    each = _each_now(old)
    if said is None or each is None:
        return None
    apart = new.patties.size if new.patties is not None else new.batch
    if apart is None or grams(apart) > _HEAVIEST_PATTY:
        return None
    alone = (Plan(patties=PattyWish(size=apart)), Plan(batch=apart))
    if replace(new, asks=frozenset(), touches=frozenset()) not in alone:
        return None
    before = units.to(each.value, each.unit, apart.unit)
    if apart.value * 2 > before:
        # "a pound less" of patties of half a pound is said of the whole batch
        return None
    after = before + apart.value if said["more"] else before - apart.value
    return replace(new, batch=None, patties=PattyWish(size=replace(apart, value=after)))


def _each_now(plan: Plan) -> Measure | None:
    """What each patty on the table weighs: as said, or its share of the meat."""
    wish, heap = plan.patties, _heap_of(plan)
    if wish is None or wish.size is not None:
        return None if wish is None else wish.size
    if wish.count is None or wish.count <= 0 or heap is None:
        return None
    return Measure(grams(heap) / wish.count, "g")


def _by_difference(old: Plan, new: Plan, sentence: Sentence) -> Plan:
    sized = _by_size(old, new, sentence)
    if sized is not None:
        return sized
    sign = difference_said(sentence)
    if not sign:
        return new
    if new.batch is not None and not new.items and not new.seasonings:
        before = _heap_of(old)
        if before is not None:
            value = units.to(before.value, before.unit, new.batch.unit) + sign * new.batch.value
            return replace(new, batch=replace(new.batch, value=value))
    items = []
    for item in new.items:
        known = next((one for one in old.items if same_meat(one, item)), None)
        if known is not None and known.weight is not None and item.weight is not None and item.weight_is == "is":
            value = units.to(known.weight.value, known.weight.unit, item.weight.unit) + sign * item.weight.value
            item = replace(item, weight=replace(item.weight, value=value))
        items.append(item)
    return replace(new, items=tuple(items))


def _patties(before: Plan, new: PattyWish, *, weighed: bool) -> PattyWish:
    """The patties as a line changes them. weighed: what the line says makes the meat known."""
    old = before.patties
    if old is None:
        return new
    weighed = weighed or before.batch is not None or any(item.weight is not None for item in before.items)
    changes = {
        name: value
        for name, value in asdict(new).items()
        if value not in (None, False) and not (name == "count_is" and value is Bound.IS)
    }
    if new.size is not None and new.count is None and weighed:
        # a new size for the same meat: the count follows from it
        changes.setdefault("count", None)
    return replace(old, **changes)


def _with_items(old: Plan, new: Plan) -> Plan:
    gone = set(new.without) | {name for name, _ in new.swaps}
    coming = {come: went for went, come in new.swaps}
    items = [item for item in old.items if not named(item, gone)]
    went_items = {item.name: item for item in old.items}
    for item in new.items:
        place = next((i for i, known in enumerate(items) if same_meat(known, item)), None)
        if place is None and len(items) == 1 and _priced_anew(items[0], item):
            place = 0
        if place is not None:
            items[place] = _updated(items[place], item)
            continue
        went = went_items.get(coming.get(item.name, ""))
        if went is None and item.name in coming:
            went = next((known for known in old.items if named(known, {coming[item.name]})), None)
        if went is not None and item.weight is None and item.share is None and item.parts is None:
            item = replace(
                item,
                weight=went.weight,
                weight_is=went.weight_is,
                share=went.share,
                share_is=went.share_is,
                parts=went.parts,
            )
        items.append(item)
    back = {item.name for item in new.items}
    without = dict.fromkeys(name for name in (*old.without, *new.without) if name not in back)
    return replace(old, items=tuple(items), without=tuple(without))


def named(item: Item, names: set[str]) -> bool:
    """Whether one of some names is the item's, or a shorter one for it."""
    return any(item.name == name or set(name.split()) <= set(item.name.split()) for name in names)


def same_meat(known: Item, item: Item) -> bool:
    """Whether two mentions are of one meat: the same name or row, or a shorter name for it."""
    if known.name == item.name:
        return True
    if len(item.keys) == 1 and item.keys == known.keys:
        return True
    return set(item.name.split()) < set(known.name.split())


def _priced_anew(known: Item, item: Item) -> bool:
    """ "what if the beef goes up to 5.50" after "at $5 a lb": the one priced meat, whatever it is called."""
    return known.price is not None and item.price is not None and not item.price.currency and item.weight is None


def _updated(known: Item, item: Item) -> Item:
    changes: dict[str, object] = {}
    for name in ("fat", "weight", "share", "parts", "price"):
        if getattr(item, name) is not None:
            changes[name] = getattr(item, name)
    if item.price is not None and not item.price.currency and known.price is not None:
        # "what if it goes up to 5.50": in the money, and for the weight, of before
        changes["price"] = replace(known.price, amount=item.price.amount)
    if item.fat is not None:
        changes["fat_about"] = item.fat_about
    if item.weight is not None:
        changes["weight_is"] = item.weight_is
    if item.share is not None:
        changes["share_is"] = item.share_is
    said = [name for name in ("weight", "share", "parts") if getattr(item, name) is not None]
    if said:
        # a weight in place of a share, or the other way: the old wish is not kept beside the new one
        changes.update({name: None for name in ("weight", "share", "parts") if name not in said})
    changes["rest"] = item.rest
    changes["wanted"] = item.wanted
    changes["push"] = item.push
    return replace(known, **changes)


def _is_bare_rate(pinch: Pinch, sentence: Sentence) -> bool:
    """Whether a rate names no seasoning."""
    unnamed = pinch.key == "seasoning" and not sentence.of(SeasoningName) and not sentence.has("season")
    return unnamed and pinch.amount is not None and pinch.per is not None


def _seasoned(plan: Plan, new: Plan, sentence: Sentence) -> Plan:
    gone = set(new.without)
    pinches = [pinch for pinch in plan.seasonings if pinch.name not in gone and not (gone and pinch.key in gone)]
    factor = factor_said(sentence)
    for pinch in new.seasonings:
        place = next((i for i, known in enumerate(pinches) if known.key == pinch.key or known.name == pinch.name), None)
        salts = [i for i, known in enumerate(pinches) if _is_salt(known) and _is_salt(pinch)]
        if place is None and len(pinches) == 1 and _is_bare_rate(pinch, sentence):
            # "rather 20 g per kg, on 4 lb": of the one seasoning that there is
            pinches[0] = replace(pinches[0], amount=pinch.amount, per=pinch.per)
        elif place is None and len(salts) == 1 and pinch.amount is None:
            # "kosher" after "how much salt": which salt it is
            pinches[salts[0]] = replace(pinches[salts[0]], name=pinch.name, key=pinch.key)
        elif place is None:
            pinches.append(pinch)
        elif pinch.amount is not None:
            pinches[place] = pinch
        elif factor is not None:
            pinches[place] = _times(pinches[place], factor)
    return replace(plan, seasonings=tuple(pinches))


def measured_times(amount: Measure, factor: Fraction) -> Measure:
    """An amount times a factor, both ends of a range."""
    return replace(amount, value=amount.value * factor, high=None if amount.high is None else amount.high * factor)


def _is_salt(pinch: Pinch) -> bool:
    rows = [data.seasonings().get(key) for key in data.seasoning_names().get(pinch.name, (pinch.key,))]
    return all(row is not None and row.salt for row in rows)


def _times(pinch: Pinch, factor: Fraction) -> Pinch:
    if pinch.amount is None:
        return pinch
    return replace(pinch, amount=measured_times(pinch.amount, factor))


def factor_said(sentence: Sentence) -> Fraction | None:
    """double, halve, triple as a factor; "half as much again" is one and a half times."""
    for cue, factor in (
        ("double", Fraction(2)),
        ("halve", Fraction(1, 2)),
        ("triple", Fraction(3)),
        ("half_again", Fraction(3, 2)),
    ):
        if sentence.has(cue):
            return factor
    twice = sentence.cue("twice_as")
    if twice is not None and not sentence.has("as_much"):
        # "double the pepper"
        return {"double": Fraction(2), "twice": Fraction(2), "three": Fraction(3)}.get(twice.text.lower().split()[0])
    return None


def resized(plan: Plan, batch: Measure, bound: Bound = Bound.IS, *, patties_said: bool = False) -> Plan:
    """The plan for another batch weight: weights said for single cuts keep their proportions."""
    said = [item.weight for item in plan.items if item.weight is not None]
    total = sum((grams(weight) for weight in said), Fraction(0)) if len(said) == len(plan.items) else Fraction(0)
    before = grams(plan.batch) if plan.batch is not None else total
    if before > 0 and plan.recipe_for is None:
        pinches = tuple(_written_amount(pinch, grams(batch) / before) for pinch in plan.seasonings)
        plan = replace(plan, seasonings=pinches)
    if said and len(said) == len(plan.items) and plan.target is None:
        if total > 0:
            factor = grams(batch) / total
            items = tuple(
                replace(item, weight=measured_times(item.weight, factor)) if item.weight is not None else item
                for item in plan.items
            )
            return replace(plan, items=items, batch=batch, batch_is=bound)
    wish = plan.patties
    if wish is not None and wish.count is not None and wish.size is not None and not patties_said:
        plan = replace(plan, patties=replace(wish, count=None))
    if plan.groups and not patties_said:
        plan = replace(plan, groups=())
    return replace(plan, batch=batch, batch_is=bound)


def _written_amount(pinch: Pinch, factor: Fraction) -> Pinch:
    """An amount written for a batch (18 g of salt) grows with it; a rate or a percent does so by itself."""
    if pinch.amount is None or pinch.per is not None or pinch.amount.unit == "percent":
        return pinch
    return _times(pinch, factor)


def scaled(plan: Plan, factor: Fraction) -> Plan:
    """Every quantity of the plan times a factor."""
    items = tuple(
        item if item.weight is None else replace(item, weight=measured_times(item.weight, factor))
        for item in plan.items
    )
    batch = None if plan.batch is None else measured_times(plan.batch, factor)
    wish = plan.patties
    if wish is not None and wish.count is not None:
        wish = replace(wish, count=wish.count * factor)
    groups = tuple(replace(group, count=group.count * factor) for group in plan.groups)
    pinches = tuple(
        pinch
        if pinch.per is not None or (pinch.amount is not None and pinch.amount.unit == "percent")
        else _times(pinch, factor)
        for pinch in plan.seasonings
    )
    return replace(plan, items=items, batch=batch, patties=wish, groups=groups, seasonings=pinches)
