"""Money beyond the batch: own against the shop lean for lean, what a cut may cost, what its usable part costs."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Measure, Per, Phrase, Rate
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import heard
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, pending_for
from assistant.topics.plan import TOPIC as PLAN
from assistant.topics.plan.request import Plan
from assistant.topics.prices import cutting, losing, per_unit, telling
from assistant.topics.prices.offers import Listed, Offer, are_prices, listed
from assistant.topics.prices.request import BreakEven, Compare, Paid, PaysOff, Piece

_MAY_COST = Pattern(
    r"\b(?:what|how\s+much|the\s+most)\b[^.;?]*\b(?:can|could|may|should|must|would|shall|do)\b[^.;?]*\b(?:pay|cost|spend|give|afford\s+to\s+pay)\b"
    r"|\bbreak\W?even\b|\bmost\s+i\s+(?:can|should|could)\s+pay\b",
    re.IGNORECASE,
)
_PAYS_OFF = Pattern(
    r"\bpa(?:y|ys|id|ying)\b[^.;?]*\b(?:itself|off|back)\b|\brecoup|\bmoney\s+back\b|\bearn(?:s|ed)?\s+(?:itself|its)\b"
    r"|\bbreak\W?even\b[^.;?]*\b(?:grinder|mincer|machine)\b|\b(?:grinder|mincer|machine)\b[^.;?]*\bbreak\W?even\b",
    re.IGNORECASE,
)
_AGAINST = Pattern(
    r"\blean\s+for\s+lean\b|\bof\s+lean\b|\bagainst\b|\bcheaper\b|\bdearer\b|\bbetter\s+(?:buy|value|deal)\b|\bsav(?:e|es|ing)\b|\bworth\b|\bversus\b|\bvs\b|\bcompare",
    re.IGNORECASE,
)
_PLAIN = frozenset(
    (
        "against",
        "after",
        "match",
        "matches",
        "pay",
        "has",
        "have",
        "gave",
        "gives",
        "boning",
        "own",
        "real",
        "really",
        "true",
        "until",
    )
)


class PricesTopic:
    """The topic of prices compared."""

    name = "prices"
    examples = (
        "chuck at $5.49/lb against store 80/20 at $5.99/lb, lean for lean",
        "what can I pay for chuck to beat store 80/20 at $5.99/lb?",
        "a 12 lb brisket at $4/lb gave 8 lb usable and 2 lb of trim worth $2/lb",
        "the grinder cost $120 and I save $1.50 a lb, when has it paid for itself?",
    )
    passes: frozenset[str] = frozenset(
        ("cost", "worth", "what", "how_much", "cheapest", "mix", "this", "into", "in_grinder", "save_it", "when", "yes")
        + ("want", "works_out", "usable", "good_part", "left_with", "paid", "lose", "trim_loss", "bone", "have", "buy")
        + ("composition", "hello", "thanks", "correction", "total", "bigger", "budget", "equals", "goes_in", "add")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """Two prices against each other, the most a cut may cost, a piece cut up, or when a grinder pays."""
        money = any(_is_money(phrase) for phrase in sentence.phrases)
        if not money and isinstance(talk.last, Paid) and talk.topic == self.name:
            told = per_unit.again(sentence, talk.last)
            if told is not None:
                return Reading(told[0], told[1] | _small(sentence), 3)
        if not (
            money
            or sentence.has("worth", "shop_price")
            or are_prices(sentence)
            or pending_for(talk, telling.TOPIC_NAME)
        ):
            return None
        return (
            _reply(sentence, talk)
            or _pays_off(sentence)
            or _may_cost(sentence)
            or _piece(sentence)
            or _paid(sentence)
            or _against(sentence)
            or _losing(sentence)
        )

    def answer(
        self, request: Compare | BreakEven | PaysOff | Piece | Paid | Plan, kitchen: Kitchen, talk: Talk
    ) -> Outcome:
        """The comparison worked out; a batch by the plan's own topic."""
        if isinstance(request, Plan):
            return PLAN.answer(request, kitchen, talk)
        from assistant.topics.prices import breakeven, compare

        if isinstance(request, Compare):
            return compare.answer(request, kitchen)
        if isinstance(request, Paid):
            return per_unit.answer(request, kitchen)
        if isinstance(request, BreakEven):
            return breakeven.may_cost(request, kitchen)
        return (
            breakeven.pays_off(request, kitchen) if isinstance(request, PaysOff) else cutting.answer(request, kitchen)
        )


def _is_money(phrase: Phrase) -> bool:
    return isinstance(phrase, Rate | Amount) and phrase.kind == "money"


def _small(sentence: Sentence) -> frozenset[Phrase]:
    """Words of the question, not of a figure: "lean for lean", "against", "after boning", a unit asked for."""
    plain = [w for w in sentence.words("unknown") if w.text.lower() in _PLAIN]
    loose = [w for w in sentence.words("bound") if w.payload not in ("at_most", "at_least")]
    return frozenset([*sentence.words("side"), *sentence.of(Per), *loose, *plain])


def _paid(sentence: Sentence) -> Reading | None:
    found = per_unit.read(sentence)
    # nothing but a sum, a weight and a unit is in the line: no other topic has a better claim
    return None if found is None else Reading(found[0], found[1] | _small(sentence), 3)


def _reading(request: object, sentence: Sentence, found: Listed) -> Reading:
    return Reading(request, found.used | _small(sentence), 2)


def _against(sentence: Sentence) -> Reading | None:
    if not _AGAINST.search(sentence.text):
        return None
    found = listed(sentence)
    if any(offer.per_gram is None for offer in found.offers) or len(found.offers) < 2:
        return None
    shop = found.shop
    if shop is None:
        if len(found.offers) != 2:
            return None
        ready = [o for o in found.offers if _is_ready(o)]
        shop = ready[0] if len(ready) == 1 and sentence.has("worth", "mix") else found.offers[1]
        shop = replace(shop, shop=len(ready) == 1)
    own = tuple(o for o in found.offers if o is not found.shop and replace(o, shop=True) != replace(shop, shop=True))
    if not own or (len(own) > 1 and any(offer.weight is None for offer in own)):
        return None
    per = next((phrase.per for phrase in sentence.of(Per)), None)
    return _reading(Compare(own, shop, found.batch, per), sentence, found)


def _is_ready(offer: Offer) -> bool:
    """Whether a meat is bought ground: no cut of it, or a row of the table for ground meat."""
    return not offer.keys or offer.name.startswith(("ground", "minced"))


def _may_cost(sentence: Sentence) -> Reading | None:
    if not _MAY_COST.search(sentence.text):
        return None
    found = listed(sentence)
    asked = [offer for offer in found.offers if offer.price is None and offer.name and not offer.shop]
    if len(asked) != 1:
        return None
    others = tuple(o for o in found.offers if o is not asked[0] and not o.shop and o.weight is not None and o.name)
    goals = [o for o in found.offers if o is not asked[0] and o not in others]
    if len(goals) > 1 or (others and any(o.per_gram is None for o in others)):
        return None
    goal = goals[0] if goals else None
    if goal is None and not sentence.has("worth", "shop_price"):
        return None
    cut = asked[0]
    if goal is not None and not others:
        if not cut.lost:
            # "against $5.99 ground with 15% loss": what is bought ground loses nothing more
            cut, goal = replace(cut, lost=goal.lost), replace(goal, lost=Fraction(0))
        goal = replace(goal, shop=True)
    return _reading(BreakEven(cut, others, goal), sentence, found)


def _pays_off(sentence: Sentence) -> Reading | None:
    spent = next((a for a in sentence.of(Amount) if a.kind == "money"), None)
    if (
        spent is None
        or not _PAYS_OFF.search(sentence.text)
        or not sentence.has("in_grinder", "machine", "save_it", "paid")
    ):
        return None
    pace, every = _pace(sentence)
    skipped = heard.all_of([spent, pace, every])
    found = listed(sentence, skipped)
    priced = [offer for offer in found.offers if offer.per_gram is not None]
    shop = found.shop
    own = next((o for o in priced if not o.shop), None)
    if shop is None and len(priced) > 1:
        return None
    request = PaysOff(
        spent.measure.value,
        spent.measure.unit,
        saving=own if shop is None else None,
        own=None if shop is None else own,
        shop=shop,
        pace=None if pace is None else pace.measure,
        every=None if every is None else every.measure,
    )
    read = _reading(request, sentence, found)
    return replace(read, used=read.used | skipped)


def _pace(sentence: Sentence) -> tuple[Amount | None, Amount | None]:
    """ "3 lb a week": how much is ground, how often."""
    for weight in sentence.of(Amount):
        after = sentence.after(weight)
        if weight.kind == "weight" and isinstance(after, Amount) and after.kind == "duration":
            return weight, after
    return None, None


def _losing(sentence: Sentence) -> Reading | None:
    """Priced cuts with losses of their own: the batch that they make, priced by what can be eaten of each."""
    found = losing.batch(sentence)
    return None if found is None else Reading(found[0], found[1] | _small(sentence), 2)


def _piece(sentence: Sentence) -> Reading | None:
    found = cutting.read(sentence)
    if found is None:
        return None
    piece, used = found
    return Reading(piece, used | _small(sentence), 2)


def _reply(sentence: Sentence, talk: Talk) -> Reading | None:
    """What was asked back: a price to beat, a fat, a weight."""
    waiting = pending_for(talk, telling.TOPIC_NAME)
    if waiting is None or not isinstance(waiting.request, BreakEven | PaysOff):
        return None
    request, found = waiting.request, listed(sentence)
    if len(found.offers) > 1:
        return None
    said = found.offers[0] if found.offers else Offer()
    new: BreakEven | PaysOff = request
    if isinstance(request, PaysOff):
        if said.per_gram is not None:
            new = replace(request, saving=said)
    elif waiting.missing == "goal" and said.per_gram is not None:
        new = replace(request, goal=replace(said, shop=True))
    elif waiting.missing == "goal fat" and said.fat is not None and request.goal is not None:
        new = replace(request, goal=replace(request.goal, fat=said.fat))
    elif waiting.missing == "cut" and (said.fat is not None or said.keys):
        fat = said.fat if said.fat is not None else request.cut.fat
        keys = (said.name, said.keys) if said.keys else (request.cut.name, request.cut.keys)
        new = replace(request, cut=replace(request.cut, fat=fat, name=keys[0], keys=keys[1]))
    elif waiting.missing.startswith("weight:") and found.batch is not None:
        new = _weighed(request, waiting.missing[7:], found.batch)
    return None if new == request else _reading(new, sentence, found)


def _weighed(request: BreakEven, name: str, weight: Measure) -> BreakEven:
    if request.cut.name == name:
        return replace(request, cut=replace(request.cut, weight=weight))
    others = tuple(replace(o, weight=weight) if o.name == name else o for o in request.others)
    return replace(request, others=others)


TOPIC = PricesTopic()
