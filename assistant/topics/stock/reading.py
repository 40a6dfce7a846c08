"""From a line to a request about the stock."""

from __future__ import annotations

import re

from msgspec.structs import replace

from assistant import wording
from assistant.language.phrases import Amount, CutName, Fatness, Moment, Patties, People, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics import within
from assistant.topics.base import Reading, Talk, Unclear
from assistant.topics.plan.request import Plan
from assistant.topics.stock import in_hand
from assistant.topics.stock.items import LITTLE_WORDS, target, weighed
from assistant.topics.stock.request import Clear, FromStock, Keep, Made, Show, Unprice

PLACE = r"(?:stock|(?:freezer|fridge|kitchen|larder|pantry|chiller|cool\s?room)(?:\s+stock)?)"
_THE = r"(?:my\s+|the\s+|our\s+)?"
_HAVE = Pattern(
    rf"\b(?:please\s+)?(?:remember|keep\s+in\s+mind|bear\s+in\s+mind|don'?t\s+forget)\s*(?:that|:)?\s*"
    rf"(?:i\s+have|i'?ve\s+got|i\s+got|we\s+have|we'?ve\s+got|there'?s|there\s+is|there\s+are|i\s+keep|i\s+still\s+have)?"
    rf"(?:\s+in\s+{_THE}{PLACE})?|^\W*(?:my\s+|the\s+)?stock\s*(?:is|now|:|-|=)+(?:\s*(?:now|is))?"
    rf"|\bin\s+{_THE}{PLACE}\s+(?:i|we)\s+(?:keep|have|now\s+have|always\s+have|always\s+keep)"
    rf"|\b(?:actually\s+|now\s+)?(?:(?:i|we)\s+(?:now\s+|still\s+|only\s+)?(?:have|keep)|there'?s|there\s+is|there\s+are|i'?ve\s+got|we'?ve\s+got)\b"
    rf"(?=.*\b(?:in|into)\s+{_THE}{PLACE}\b)",
    re.IGNORECASE,
)
_REMEMBER_IT = Pattern(
    rf"^\W*(?:please\s+|and\s+)?(?:remember|keep)\s+(?:that|this|it|them|those|all\s+that)(?:\s+(?:as|in|for)\s+{_THE}{PLACE})?(?:\s+please)?\W*$",
    re.IGNORECASE,
)
_ADD = Pattern(
    rf"\b(?:put|add|store|bought|got|buy)\b(?=.*\b(?:in|into|to|for)\s+{_THE}(?:\w+\s+)?stock\b)|^\W*stock\s+up\b",
    re.IGNORECASE,
)
_TAKE = Pattern(
    rf"\b(?:take|took|remove|removed|used|use)\b(?=.*\b(?:out\s+of|from|off|in)\s+{_THE}(?:\w+\s+)?stock\b)"
    rf"|\b(?:i'?m|we'?re|i\s+am|we\s+are)\s+(?:now\s+|all\s+)?out\s+of\b|\b(?:no\s+more|none\s+of\s+the)\b(?=.*\bleft\b)",
    re.IGNORECASE,
)
_WHERE = Pattern(rf"\s*\b(?:in|into|to|for|out\s+of|from|off)\s+{_THE}{PLACE}\b", re.IGNORECASE)
_SHOW = Pattern(
    rf"\bwhat(?:'?s|\s+is|\s+do\s+(?:i|we)\s+have|\s+have\s+(?:i|we)\s+got|'?s\s+left|\s+meat\s+do\s+i\s+have|\s+is\s+left|\s+are)?\s+(?:left\s+)?"
    rf"(?:in|on)\s+{_THE}{PLACE}\W*$|\b(?:show|list|check|see)\s+(?:me\s+)?{_THE}stock\W*$|^\W*(?:my|the|our)?\s*stock(?:\s+list)?\W*$"
    rf"|\bhow\s+much\s+(?P<rest>[a-z ]+?)\s+(?:is\s+left|have\s+(?:i|we)\s+(?:got\s+)?left|do\s+(?:i|we)\s+have\s+left|have\s+(?:i|we)\s+got)\W*$"
    rf"|\bhow\s+much\s+(?P<cut>.+?)\s+(?:is|do\s+i\s+have|have\s+i\s+got|is\s+left|left)\b.*\b(?:in\s+)?{_THE}stock\W*$",
    re.IGNORECASE,
)
_OWN = Pattern(
    r"^\W*what(?:'?s|\s+is)\s+left\W*$|^\W*what\s+(?:meat\s+)?(?:do\s+(?:i|we)\s+have|have\s+(?:i|we)\s+got)(?:\s+left)?\W*$",
    re.IGNORECASE,
)
_CLEAR = Pattern(
    rf"\b(?:forget|clear|empty|wipe|reset)\s+(?:all\s+(?:of\s+)?)?{_THE}(?:whole\s+)?stock\W*$", re.IGNORECASE
)
_GONE = Pattern(
    r"\b(?:is|are)\s+(?:now\s+)?(?:all\s+)?(?:gone|used\s+up|finished)\W*$|^\W*no\s+(?:more\s+)?[a-z ]+\s+left\W*$",
    re.IGNORECASE,
)
_UNPRICED = Pattern(
    r"^\W*(?:please\s+)?(?:forget|clear|drop|remove|delete)\s+(?:(?P<all>(?:all\s+)?(?:my|the|our)\s+prices)\W*$|(?:the|my|our)\s+(?:price\s+(?:of|for)|\w[\w ]*\s+price))",
    re.IGNORECASE,
)
_USED = Pattern(
    r"^\W*(?:(?:and|then|ok|so)\W+)*(?:(?:i|we|i've|we've)\s+)?(?:just\s+|have\s+)*(?:used|took|ate|cooked|binned|threw\s+out|gave\s+away)\b(?:\s+up\b)?",
    re.IGNORECASE,
)
"""Said after talk of the stock: so much less of it."""
_MADE = Pattern(
    r"^\W*(?:ok\W+|right\W+)?(?:(?:i|we|i've|we've|ive|weve)\s+)?(?:just\s+)?(?:made|ground|minced|did|cooked)\s+"
    r"(?:it|that|this|them|(?:that|the|this)\s+(?:batch|one|blend|mix))(?:\s+up)?(?:\s+(?:now|today|just\s+now))?[\s.!]*$",
    re.IGNORECASE,
)
_MADE_ONE = Pattern(
    r"^\W*(?:ok\W+|right\W+)?(?:(?:i|we|i've|we've|ive|weve)\s+)?(?:just\s+)?(?:made|ground|minced|did)\s+(?!.*\b(?:again|rated|scored)\b)",
    re.IGNORECASE,
)
ALL_OF_IT = "everything in stock"
_FROM = Pattern(
    rf"\b(?:from|with|using|use|out\s+of|of)\s+(?:(?:what'?s|what\s+is|what\s+(?:i|we)\s+have|the\s+meat|everything)\s+in\s+{_THE}{PLACE}|what\s+(?:i|we)(?:\s+have|'ve)(?:\s+got)?|{_THE}stock)\b",
    re.IGNORECASE,
)


def read(sentence: Sentence, talk: Talk) -> Reading | None:
    """A request about the stock, or None."""
    text = sentence.text
    whole = frozenset(sentence.phrases)
    if _MADE.match(text):
        return Reading(Made(), whole, 2)
    if (made := _made_by_name(sentence)) is not None:
        return Reading(made, whole, 3)  # surer than making it again, which "made" is a form of
    if isinstance(talk.plan, Plan) and _REMEMBER_IT.match(text) and (items := weighed(talk.plan)) is not None:
        return Reading(Keep(items), whole, 3)
    if (unpriced := _UNPRICED.match(text)) is not None:
        cuts = tuple(cut.name for cut in sentence.of(CutName))
        if cuts or unpriced["all"]:
            return Reading(Unprice(cuts), whole, 3)
    if _CLEAR.search(text):
        return Reading(Clear(), whole, 3)  # surer than a batch without a food called stock
    for how, pattern in (("take", _TAKE), ("add", _ADD), ("have", _HAVE)):
        said = pattern.search(text)
        if said is not None and said.group().strip() and not _is_asking(sentence):
            return _kept(sentence, said, how)
    if talk.topic == "stock" and _GONE.search(text) and sentence.of(CutName) and not sentence.of(Amount):
        return Reading(Clear(tuple(cut.name for cut in sentence.of(CutName))), whole, 3)
    if talk.topic == "stock" and (said := _USED.match(text)) and not _is_asking(sentence):
        used = _kept(sentence, said, "take")
        return None if used is None else replace(used, strength=3)
    if (stated := in_hand.read(sentence, talk)) is not None:
        return stated
    if (talk.plan is None or talk.topic == "stock") and _OWN.match(text):
        # after talk of the stock surer than what is left of the batch on the table
        return Reading(Show(), whole, 4 if talk.topic == "stock" else 2)
    planned = _from_stock(sentence, talk)
    if planned is not None:
        return planned
    shown = None if sentence.of(Amount) else _SHOW.search(text)
    if shown:
        return Reading(Show((shown["cut"] or shown["rest"] or "").strip()), whole, 2)
    return None


def _made_by_name(sentence: Sentence) -> Made | None:
    """ "we made fair stall", "made 6 kg of fair stall today"."""
    names = within.names(sentence)
    weights = [amount for amount in sentence.of(Amount) if amount.kind == "weight"]
    plain = all(isinstance(p, Word | Moment) or p in weights for p in sentence.substance())
    if len(names) != 1 or len(weights) > 1 or not plain or not _MADE_ONE.match(sentence.text) or "?" in sentence.text:
        return None
    return Made(names[0].payload, weights[0].measure if weights else None)


def _is_asking(sentence: Sentence) -> bool:
    """Whether a line that speaks of meat in the kitchen wants something else than that it be remembered."""
    if "?" in sentence.text or sentence.has("how_long", "when", "thaw", "safe"):
        return True
    kept = re.search(
        r"\bstock\b|\b(?:remember|keep\s+in\s+mind|bear\s+in\s+mind|forget)\b", sentence.text, re.IGNORECASE
    )
    wants = sentence.has("how_much", "how_many", "want", "use_up", "instead") or any(
        isinstance(p, Moment | Patties | People) for p in sentence.phrases
    )
    return kept is None and (wants or (len(sentence.of(CutName)) > 1 and target(sentence)))


def _kept(sentence: Sentence, said: re.Match[str], how: str) -> Reading | None:
    spoken = within.overlapping(sentence, *said.span())
    spoken = frozenset(p for p in spoken if not isinstance(p, CutName | Amount))
    for place in _WHERE.finditer(sentence.text):
        spoken |= within.overlapping(sentence, *place.span())
    rest = within.without(sentence, spoken)
    if not sentence.of(CutName):
        return (
            Reading(Unclear("What have you got: which cuts, and how much of each?"), frozenset(sentence.phrases), 1)
            if how == "have" and ("stock" in said.group().lower())
            else None
        )
    cuts = tuple(cut.name for cut in sentence.of(CutName))
    if how == "take" and not sentence.of(Amount):
        return Reading(Clear(cuts), frozenset(sentence.phrases), 3)
    read = within.plan_of(rest, Talk())
    plan = None if read is None else read.request
    if read is None or not isinstance(plan, Plan):
        return None
    items = weighed(plan)
    used = spoken | read.used | within.cues(sentence, LITTLE_WORDS)
    if items is None:
        return Reading(Unclear(f"How much of each: {wording.listing(cuts)}?"), used, 2)
    return Reading(Keep(items, how), used, 2)


def _from_stock(sentence: Sentence, talk: Talk) -> Reading | None:
    said = _FROM.search(sentence.text)
    if said is None or (
        talk.plan is not None and talk.plan.items and not re.search(rf"\b{PLACE}\b", said.group(), re.IGNORECASE)
    ):
        return None  # "from what I have" is what was just named, where something was
    spoken: frozenset[Phrase] = within.overlapping(sentence, *said.span())
    rest, open_talk = within.without(sentence, spoken), replace(talk, plan=None)
    read = within.plan_of(rest, open_talk)
    if read is None or any(isinstance(p, Amount | Fatness) and p not in read.used for p in rest.substance()):
        # a figure found no owner: a cut where the stock was said shows whose it is
        meat = CutName(*said.span(), said.group(), ALL_OF_IT, ())
        phrases = tuple(sorted((*rest.phrases, meat), key=lambda phrase: phrase.first))
        read = within.plan_of(replace(sentence, phrases=phrases), open_talk)
    if read is None or not isinstance(read.request, Plan):
        return None
    plan = _without_the_stand_in(read.request)
    return Reading(FromStock(plan), read.used | spoken, max(2, read.strength))


def _without_the_stand_in(plan: Plan) -> Plan:
    """The plan without the cut that stood for the stock; a fat that was given to it is what is aimed at."""
    meat = next((item for item in plan.items if item.name == ALL_OF_IT), None)
    if meat is None:
        return plan
    others = tuple(item for item in plan.items if item is not meat)
    return replace(plan, items=others, target=plan.target or meat.fat, batch=plan.batch or meat.weight)
