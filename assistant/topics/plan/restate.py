"""Saying a batch back in full, so that it reads back to the same batch (tests/topics/test_read_back.py)."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.language.phrases import Bound, Measure
from assistant.pattern import Pattern
from assistant.topics.plan import fat_in
from assistant.topics.plan.request import LOT, Item, Pinch, Plan, Price

_QUESTIONS = (("composition", "how fat is it"), ("cost", "what does it cost"))
"""What was asked of a single meat, without which nothing would be worked out of it."""
_WISHES = {
    "largest": "largest batch",
    "cheapest": "cheapest",
    "leanest": "as lean as possible",
    "fattest": "as fat as possible",
}
_PUSHED = {"most": "much", "least": "little"}
_LIMIT = {Bound.LEAST: "at least ", Bound.MOST: "at most "}


def understood(plan: Plan) -> str:
    """The batch in one line: "Plan 3 lb at 80/20 from brisket trim and round, into 6 oz patties"."""
    parts = [*(_corrected(plan) or _batch(plan)), *_eaters(plan), *_seasonings(plan), *_losses(plan), *_money(plan)]
    if fat_in.ASKED in plan.asks:
        parts.append("how much fat is in it")
    else:
        parts += [question for ask, question in _QUESTIONS if ask in plan.asks and len(plan.items) == 1]
    parts += ["in what proportion"] if "in_shares" in plan.asks else []
    text = "; ".join(part for part in parts if part)
    return ("Plan " + text) if text else "Nothing to plan yet"


def _corrected(plan: Plan) -> list[str]:
    """A ground batch put right: "bring 4 lb at 90/10 to 80/20 with at most 3 oz suet, keep the weight"."""
    heap = _heap(plan)
    if heap is None or heap.weight is None or heap.fat is None or plan.target is None:
        return []
    others = [_item(item) for item in plan.items if item is not heap]
    weight = measure(plan.batch or heap.weight)
    text = f"bring {weight} at {wording.lean_fat(heap.fat)} to {wording.lean_fat(plan.target)}"
    if others:
        text += f" with {wording.listing(others)}"
    if plan.keep:
        text += ", keep the weight"
    if plan.salt_in is not None:
        text += f", already salted at {_number(plan.salt_in)}%"
    return [text]


def _heap(plan: Plan) -> Item | None:
    """The one ground batch that is put right: the weighed meat without a name of its own, beside cuts without weights."""
    if plan.heap:
        return next((item for item in plan.items if item.name == plan.heap), None)
    weighed = [item for item in plan.items if item.weight is not None]
    lone = len(weighed) == 1 and len(plan.items) > 1 and not weighed[0].keys and weighed[0].fat_high is None
    plain = plan.target_high is None and plan.target_is not in _LIMIT and not plan.equal
    return weighed[0] if lone and plain and _MIX.match(weighed[0].name) else None


_MIX = Pattern(r"mix at [0-9.]+% fat$|[0-9.]+ ?% fat mix$|[0-9]+/[0-9]+$")
"""How the reading names meat that is known by its fat alone."""
_LABEL = Pattern(r"[0-9]+ ?(?:VL|CL|/ ?[0-9]+|lean)\b|lean at ", re.IGNORECASE)
"""Names that say the fat themselves: "95VL mix", "93/7", "lean at 5% fat"."""


def measure(amount: Measure) -> str:
    """An amount as it was said: "2 1/4 lb", "150 g", "1.5%"."""
    unit = {"percent": "%", "fluid_ounce": " fl oz"}.get(amount.unit, f" {amount.unit}")
    text = _number(amount.value, amount.unit)
    if amount.high is not None:
        text += f"-{_number(amount.high, amount.unit)}"
    return text + unit


def _number(value: Fraction, unit: str = "") -> str:
    if unit in ("lb", "oz", "tsp", "tbsp", "cup", "inch") and value.denominator in (2, 3, 4, 8, 16):
        whole, rest = divmod(value, 1)
        return (f"{whole} " if whole else "") + f"{rest.numerator}/{rest.denominator}" if rest else str(whole)
    if value.denominator == 1:
        return str(value)
    if Fraction(f"{float(value):.6g}") != value and value.denominator <= 16:
        whole, rest = divmod(value, 1)
        return (f"{whole} " if whole else "") + f"{rest.numerator}/{rest.denominator}"
    return f"{float(value):.6g}"


def _batch(plan: Plan) -> list[str]:
    text = ""
    if plan.batch is not None:
        text = _LIMIT.get(plan.batch_is, "") + measure(plan.batch) + (" finished weight" if plan.finished else "")
    if plan.target is not None:
        fat = f"{wording.lean_fat(plan.target)}" if 0 <= plan.target <= 100 else f"{_number(plan.target)}% fat"
        if plan.target_high is not None:
            fat = f"{_number(plan.target)}-{_number(plan.target_high)}% fat"
        if plan.target_is in _LIMIT:
            fat = f"{_LIMIT[plan.target_is]}{_number(plan.target)}% fat"
        text += f" at {fat}" if text else fat
    if plan.wish:
        text = _WISHES.get(plan.wish, plan.wish) + (f", {text}" if text else "")
    if plan.items:
        told = [_item(item, fixed=_is_fixed(plan, item)) for item in plan.items]
        items = " plus ".join(told) if _shares_are_added(plan) else wording.listing(told)
        text = f"{text} from {items}" if text else items
    if plan.equal:
        text += ", equal parts"
    if plan.too:
        text = f"Too {plan.too}: {text}"
    if plan.without:
        text += f", no {wording.listing(list(plan.without), 'or')}"
    return [text]


def _shares_are_added(plan: Plan) -> bool:
    """Whether shares come on top of one weighed meat ("10 lb deer plus 20% pork fat")."""
    weighed = sum(item.weight is not None for item in plan.items)
    shared = sum(item.share is not None for item in plan.items)
    return plan.batch is None and plan.target is None and weighed == 1 and shared == len(plan.items) - 1 > 0


def _is_fixed(plan: Plan, item: Item) -> bool:
    """Whether a weight says how much of a cut goes in, beside cuts that make up the rest: "all of 2 kg rump …"."""
    if item.weight is None or item.weight_is not in ("is", "have") or plan.target is None or plan.batch is not None:
        return False
    if plan.patties is not None or plan.groups:
        return False
    return len(plan.items) > 1 and sum(other.weight is not None for other in plan.items) == 1 and not plan.wish


def _item(item: Item, *, fixed: bool = False) -> str:
    text = f"the rest {item.name}" if item.rest and item.weight is None else item.name
    labelled = _LABEL.match(item.name) is not None
    if item.weight is not None and item.fat is not None and _MIX.match(item.name) and not _LABEL.match(item.name):
        text, labelled = f"{measure(item.weight)} of {_number(item.fat)}% mince", True
    elif item.weight is not None:
        said = measure(item.weight)
        lead = {"have": "at most ", "all": "all of ", Bound.LEAST: "at least ", Bound.MOST: "at most "}.get(
            item.weight_is, ""
        )
        text = f"{'all of ' if fixed else lead}{said} {item.name}"
    elif item.share is not None:
        text = f"{_LIMIT.get(item.share_is, '')}{_share(item.share)} {item.name}"
    elif item.push:
        text = f"as {_PUSHED[item.push]} {item.name} as possible"
    elif item.parts is not None:
        text = f"{_number(item.parts)} {'part' if item.parts == 1 else 'parts'} {item.name}"
    if item.fat is not None and not labelled and f"{_number(item.fat)}% fat" not in item.name:
        upper = "" if item.fat_high is None else f"-{_number(item.fat_high)}"
        text += f" at {'about ' if item.fat_about else ''}{_number(item.fat)}{upper}% fat"
    if item.price is not None:
        text += f" at {_price(item.price)}" if item.price.currency else f", {_price(item.price)}"
    return text


def _share(share: Fraction) -> str:
    percent = share * 100
    return f"{_number(percent)}%" if percent.denominator <= 2 else f"{share.numerator}/{share.denominator}"


def _sum(amount: Measure) -> str:
    return _money_of(amount.value, amount.unit)


def _money_of(value: Fraction, currency: str) -> str:
    """Money without a comma for the thousands, so that it reads back."""
    return f"{wording.CURRENCY_SYMBOLS.get(currency, '')}{float(value):.2f}"


def _price(price: Price) -> str:
    money = _money_of(price.amount, price.currency)
    if price.per is None:
        return money
    return f"{money}/{price.per.unit}" if price.per.value == 1 else f"{money} per {measure(price.per)}"


def _eaters(plan: Plan) -> list[str]:
    parts = []
    wish = plan.patties
    if wish is not None and plan.groups and all(group.size is not None for group in plan.groups):
        # every group says its own size; said before them too, it would be one more
        wish = replace(wish, size=None)
    if wish is not None:
        count = (
            ""
            if wish.count is None
            else f"{_number(wish.count)}{'' if wish.count_high is None else f'-{_number(wish.count_high)}'} "
        )
        size = "" if wish.size is None else f"{measure(wish.size)} "
        text = f"{count}{size}patties" if count or size or not plan.groups else ""
        if count and wish.size is not None and "/" in size:
            # 8 patties of 1/2 lb: "8 1/2 lb patties" would be eight and a half pounds
            text = f"{count}patties of {measure(wish.size)}"
        if wish.cooked and text:
            text += " (cooked weight)"
        for name, value in (("thick", wish.thickness), ("across", wish.diameter), ("bun", wish.bun)):
            if value is not None:
                text += f", {measure(value)} {name}"
        divided = (plan.batch or plan.items) and (wish.count is None or wish.size is None)
        parts.append(("into " if divided and text else "") + text)
    for group in plan.groups:
        if group.sort == LOT and group.size is not None:
            parts.append(f"{_number(group.count)} patties of {measure(group.size)}")
            continue
        noun = {"adult": "adults", "kid": "children"}.get(group.sort, "people")
        upper = "" if group.high is None else f"-{_number(group.high)}"
        text = f"{group.label}: " if group.label else ""
        noun = "person" if noun == "people" and group.count == 1 else noun
        text += f"for {_number(group.count)}{upper} {noun}"
        if group.each is not None:
            text += f", {_number(group.each)} each"
        if group.size is not None:
            text += f" of {measure(group.size)}"
        parts.append(text)
    if plan.seconds is not None:
        parts.append(f"{_number(plan.seconds * 100)}% come back for another")
    if plan.spare is not None:
        parts.append(f"{_number(plan.spare)}% spare" if plan.spare >= 0 else f"less {_number(-plan.spare)}%")
    if plan.round_up:
        parts.append(f"rounded up to whole {'pounds' if plan.round_up == 'lb' else 'kilos'}")
    if plan.spare_count is not None:
        few = plan.spare_count < 0
        parts.append(f"less {_number(-plan.spare_count)} patties" if few else f"{_number(plan.spare_count)} spare")
    if plan.aside is not None:
        parts.append(f"{measure(plan.aside)} set aside")
    if plan.pack is not None:
        parts.append(f"{'into' if plan.packed_into else 'sold in'} packs of {measure(plan.pack)}")
    if plan.servings is not None:
        parts.append(f"{_number(plan.servings)} sittings")
    if plan.feeds is not None:
        parts.append(f"how many people, {_number(plan.feeds)} each")
    if plan.at_once is not None:
        parts.append(f"{_number(plan.at_once)} at a time")
    if plan.cooked:
        parts.append("cooked weight" if plan.cooked == "given" else "how much cooked")
    return parts


def _seasonings(plan: Plan) -> list[str]:
    parts = [wording.listing([pinch(one) for one in plan.seasonings])] if plan.seasonings else []
    if plan.recipe_for is not None:
        parts.append(f"written for {measure(plan.recipe_for)}")
    if plan.factor is not None and plan.factor != 1:
        parts.append(f"{_number(plan.factor)} times that")
    if plan.per is not None and plan.seasonings:
        parts.append(f"how much is that per {plan.per.unit if plan.per.value == 1 else measure(plan.per)}")
    return parts


def pinch(one: Pinch) -> str:
    """One seasoning as said: "16 g per kg salt"."""
    if one.amount is None:
        return one.name
    per = ""
    if one.per is not None:
        per = f" per {one.per.unit}" if one.per.value == 1 else f" per {measure(one.per)}"
    whole = " of the finished weight" if one.of_total else ""
    held = "" if one.already is None else f" ({measure(one.already)} of it in already)"
    return f"{measure(one.amount)}{per} {one.name}{whole}{held}"


def _losses(plan: Plan) -> list[str]:
    where = {
        "trim": "lost in trimming",
        "bone": "bone",
        "grinder": "lost in the grinder",
        "cooking": "lost in cooking",
        "trimmed": "trimmed off",
    }
    return [
        f"{measure(loss.amount)} {where[loss.where]}{' of the ' + loss.cut if loss.cut else ''}" for loss in plan.losses
    ]


def _money(plan: Plan) -> list[str]:
    parts = []
    if plan.budget is not None:
        parts.append(f"budget {_sum(plan.budget)}")
    if plan.extra is not None:
        parts.append(f"plus {_sum(plan.extra)} delivery")
    if plan.paid is not None:
        parts.append(f"comes to {_sum(plan.paid)}")
    if plan.shop is not None:
        parts.append(f"shop price {_price(plan.shop)}")
    return parts
