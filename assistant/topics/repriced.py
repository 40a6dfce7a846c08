"""What was priced becomes dearer or cheaper by a percent: "chuck is 10% off today", "the price has gone up 8%"."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from assistant.answer import Status
from assistant.language.phrases import Amount, CutName, Moment, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.base import Kitchen, Outcome, Reading, Talk, ended
from assistant.topics.plan.request import Item, Plan

NAME: Final = "repriced"
_SHARE = r"\d[\d.,]* ?(?:%|percent|per cent|pct)"
_CHEAPER = Pattern(
    rf"{_SHARE} (?:off\b|cheaper|discount|reduc(?:ed|tion)|less (?:money|expensive)|lower)"
    rf"|\b(?:off|discount|reduced|drop(?:s|ped)?|fell|falls?|fallen|down|cut)(?: of| by| to)? {_SHARE}"
)
_HALF = Pattern(r"\bhalf (?:the )?(?:price|off|cost)\b")
_DEARER = Pattern(
    rf"{_SHARE} (?:dearer|more expensive|increase|price (?:rise|hike)|rise|higher|mark ?up|more money|up\b)"
    rf"|\b(?:up|risen|rise[sn]?|rose|increased?|increases|raised|jumped|more|dearer)(?: by| of)? {_SHARE}"
)
_MONEY = Pattern(r"\b(?:price[sd]?|costs?|money|off|cheaper|discount|dearer|expensive|sale|mark ?up)\b|\$|£|€")
_NO_PRICE = Pattern(
    r"\b(?:fat|lean|salt|trim|trimmed|cut|bone|shr[iu]nk\w*|people|guests|weight|heat|power|seasoning)\b"
)
_PLAIN = frozenset(
    ("gone", "went", "price", "prices", "sale", "dearer", "risen", "rose", "dropped", "fell", "discount")
)


class Repriced(Struct, frozen=True):
    """A batch whose prices change by a percent, above nothing for dearer. name: the one meat, "" for all of them."""

    percent: Fraction
    name: str = ""


class RepricedTopic:
    """The topic of prices that move."""

    name = NAME
    examples = ("chuck is 10% off today",)
    passes: frozenset[str] = frozenset(
        ("cost", "safe", "this", "what", "works_out", "bigger", "smaller", "buy", "cheapest", "worth")
        + ("make_it", "what_about", "have", "correction", "fewer")
    )

    def read(self, sentence: Sentence, talk: Talk) -> Reading | None:
        """One percent with the words that move a price, and at most one meat."""
        figures = [p for p in sentence.phrases if not isinstance(p, Word | Moment | CutName)]
        if len(figures) != 1:
            return None
        text = sentence.text.lower()
        if not _MONEY.search(text) or _NO_PRICE.search(text):
            return None
        percent = _moved_by(sentence, text)
        cuts = [cut for cut in sentence.of(CutName) if cut.text.lower() not in _PLAIN]
        if percent is None or len(cuts) > 1:
            return None
        name = cuts[0].name if cuts else ""
        if name and isinstance(talk.plan, Plan) and not any(item.name == name for item in talk.plan.items):
            return None
        return Reading(Repriced(percent, name), _used(sentence), 3)

    def answer(self, request: Repriced, kitchen: Kitchen, talk: Talk) -> Outcome:
        """The batch on the table at the new prices, or the question what the old ones were."""
        from assistant.topics.plan import answers

        said = f"{'Dearer' if request.percent > 0 else 'Cheaper'} by {abs(float(request.percent)):g}%"
        priced = [item for item in talk.plan.items if _is_meant(item, request)] if isinstance(talk.plan, Plan) else []
        if not priced:
            whose = f" of the {request.name}" if request.name else ""
            return ended(
                "cost", said, Status.NEEDS_DETAIL, f"Off or on what price{whose}? Say it whole: 6 lb at $5.49/lb."
            )
        if request.percent <= -100:
            return ended("cost", said, Status.IMPOSSIBLE, "That would make it free, or less than free.")
        plan = replace(talk.plan, items=tuple(_moved(item, request) for item in talk.plan.items))
        return replace(answers.answer(plan, kitchen, talk), amends=True)


TOPIC = RepricedTopic()


def _moved_by(sentence: Sentence, text: str) -> Fraction | None:
    """The percent that a price goes up by, below nothing for down; None where the line says neither or both."""
    cheaper, dearer = _CHEAPER.search(text), _DEARER.search(text)
    shares = [a.measure for a in sentence.of(Amount) if a.kind == "percent" and a.measure.high is None]
    if _HALF.search(text) and not shares:
        return Fraction(-50)
    if len(shares) != 1 or (cheaper is None) == (dearer is None):
        return None
    return shares[0].value if dearer else -shares[0].value


def _used(sentence: Sentence) -> frozenset[Phrase]:
    """All that was counted, with the words of prices."""
    return frozenset(
        phrase
        for phrase in sentence.phrases
        if not isinstance(phrase, Word) or phrase.kind != "unknown" or phrase.text.lower() in _PLAIN
    )


def _is_meant(item: Item, request: Repriced) -> bool:
    return item.price is not None and request.name in ("", item.name)


def _moved(item: Item, request: Repriced) -> Item:
    if not _is_meant(item, request) or item.price is None:
        return item
    return replace(item, price=replace(item.price, amount=item.price.amount * (100 + request.percent) / 100))
