"""From a line to a request of the notebook. Names and remarks are free text, so whole stretches of the line count as
read; a line that describes a batch besides is handed to the plan for that part."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from assistant.language import naming
from assistant.language.numbers import ONES
from assistant.language.phrases import Amount as Weighed
from assistant.language.phrases import Count, CutName, Moment, Patties, People, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.topics import within
from assistant.topics.base import Reading, Talk, Unclear
from assistant.topics.notes import periods, request
from assistant.topics.notes.request import IT, LAST, Score
from assistant.topics.plan.merge import factor_said
from assistant.topics.plan.request import Plan

_RATING_CUES = ("rate_it", "rate_of")
_BARE_MARKS = re.compile(
    r"^\W*(?:(?:it|that|this|they|those)(?:\s*'?s|\s+is|\s+was|\s+were|\s+gets?|\s+got)?|i'?d\s+say|call\s+it)?\s*"
    r"(?:an?\s+)?(?:solid|strong|good|easy|definite|about|maybe|probably)?\s*"
    r"(?P<value>[0-9]{1,2}(?:\.[0-9])?)(?:\s*,\s*(?P<why>[^0-9]+))?[\s.!]*$",
    re.IGNORECASE,
)
_GIVEN = re.compile(
    r"\b(?:rat(?:e|ed|ing)|scor(?:e|ed|es)|give|gave|gets|rates)\b.*?\s(?:an?\s+|at\s+|as\s+|:\s*)?"
    r"(?P<value>[0-9]{1,2}(?:\.[0-9])?|(?<!last\s)(?<!that\s)(?<!this\s)(?<!the\s)(?<!best\s)(?<!first\s)one|two|three|four|five|six|seven|eight|nine|ten)(?P<half>\s+and\s+a\s+half|\s+1/2|½)?"
    r"(?![0-9.]*[0-9])(?!\s*(?:/|%|g\b|kg|lb|oz|tsp))\s*(?=[,;!:-]|\.(?:\s|$)|$|\s(?:and|for|because|but|-))",
    re.IGNORECASE,
)
_SPLIT = re.compile(r"\s+(?:and|with|to|vs\.?|versus|against|or|from)\s+|\s*[,&]\s*", re.IGNORECASE)
_REMOVED = re.compile(
    r"\b(?:remove|delete|take|drop|erase|forget|strike|cross)\s+(?P<name>.+?)\s+(?:from|out\s+of)\s+(?:the|my|our)\s+(?:note\s?book|book|log)\b",
    re.IGNORECASE,
)
_ABOUT = re.compile(
    r"\b(?:note|notes|remarks?)\b.*?\b(?:on|for|about)\s+(?P<noted>.+)$|\bhow\s+did\s+(?P<done>.+?)\s+(?:score|do|rate|turn|go|come)\b"
    r"|\bwhen\s+did\s+(?:i|we)\s+(?:make|save|do)\s+(?P<made>.+)$|\bwhat\s+was\s+(?P<rated>.+?)\s+(?:rated|scored)\b",
    re.IGNORECASE,
)
_SHOWN = re.compile(
    r"^\W*(?:please\s+)?(?:show(?:\s+me)?|open|what'?s\s+in|what\s+is\s+in)\s+(?P<name>[^?!]{2,60}?)\W*$", re.IGNORECASE
)
_VERSION_AFTER = re.compile(r"\s*,?\s*\(?(?:version|ver|v)\s?([0-9]{1,4})\b\)?", re.IGNORECASE)
_IN_THE_PAST = re.compile(
    r"\bwhat\s+(?:was|went)\s+in(?:to)?\b|\bwhat\s+did\s+(?:i|we)\s+put\s+in|\brecipe\s+for\b", re.IGNORECASE
)
_BARE_WISHES = {
    "note": 'Note what, and on which batch? Say for example "note: a touch dry".',
    "rate": "Rate which batch, and how many marks out of 10?",
    "compare": "Compare which two batches?",
    "forget": "Forget which batch?",
    "delete": "Delete which batch?",
}
_ASKING = re.compile(r"\b(?:how|where|can|could|should|do|does|is|what)\b", re.IGNORECASE)
_FOR_WEIGHT = re.compile(r"\s+(?:for|to|at|but|scaled|as|into|in)\s+(?=\S*[0-9])", re.IGNORECASE)
_POINTING = re.compile(r"^(?:it|this|that|this one|that one|them|the batch|this batch|that batch|)$", re.IGNORECASE)
_HEAD = re.compile(
    r"^(?:the|my|our|a|batch|called|named|saved|recipe|for|of|in|was|is|batch called|about)\s+", re.IGNORECASE
)
_TAIL = re.compile(r"\s+(?:again|once more|one more time|recipe|please|pls|thanks|batch)$", re.IGNORECASE)
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5}


class Reader(Struct, frozen=True):
    """One line. known: the names in it, new ones (given here) and those that the notebook has."""

    sentence: Sentence
    talk: Talk

    def read(self) -> Reading | None:
        """The request of the notebook in this line, or None."""
        attempts: tuple[Callable[[], Reading | None], ...] = (
            self._renamed,
            self._remarked,
            self._saved,
            self._compared,
            self._asked_over_all,
            self._rated,
            self._tagged,
            self._forgotten,
            self._searched,
            self._amount_used,
            self._used,
            self._again,
            self._listed,
            self._recalled,
        )
        bare = _BARE_WISHES.get(self._text.strip(" .!?").lower())
        if bare is not None:
            return self._all(Unclear(bare))
        for attempt in attempts:
            found = attempt()
            if found is not None:
                return found
        return None

    # ---- small helpers

    @property
    def _text(self) -> str:
        return self.sentence.text

    @property
    def _new(self) -> list[tuple[int, int, str]]:
        return [span for span in naming.new_names(self._text) if not naming.is_marks(span[2])]

    @property
    def _known(self) -> list[Word]:
        """Names that the notebook has, as they stand in the line."""
        starts = {first for first, _, _ in naming.new_names(self._text)}
        return [name for name in within.names(self.sentence) if name.first not in starts]

    def _all(self, wanted: Any, strength: int = 2) -> Reading:
        return Reading(wanted, frozenset(self.sentence.phrases), strength)

    def _plain(self, *allowed: type[Phrase]) -> bool:
        """Whether the line has no figures or food of its own, besides the allowed kinds."""
        return all(
            isinstance(phrase, (Word, *allowed)) and not (isinstance(phrase, Word) and phrase.kind == "badnum")
            for phrase in self.sentence.substance()
        )

    def _region(self, *cues: str) -> str:
        """The free text after the first of the cues, without courtesies."""
        cue = self.sentence.cue(*cues)
        return "" if cue is None else _bare(self._text[cue.last :])

    def _named(self, name: Word) -> str:
        """A known name, with the version that is said after it."""
        version = _VERSION_AFTER.match(self._text[name.last :])
        return name.payload if version is None else f"{name.payload} version {version[1]}"

    def _version_words(self, name: Word) -> frozenset[Phrase]:
        version = _VERSION_AFTER.match(self._text[name.last :])
        return (
            frozenset() if version is None else within.overlapping(self.sentence, name.last, name.last + version.end())
        )

    def _which(self, text: str = "") -> str:
        """The batch that the line is about: a known name, the last one, or the one last spoken of."""
        if self._known:
            return self._named(self._known[0])
        if self.sentence.has("last_one") or re.match(r"(?:the\s+)?(?:last|latest|previous)\b", text, re.IGNORECASE):
            return LAST
        return IT if _POINTING.match(text) else text

    # ---- saving

    def _saved(self) -> Reading | None:
        label = self._label()
        new = [span for span in self._new if label is None or span[0] != label.first]
        cue = self.sentence.cue("save_it")
        named = self.sentence.cue("name_it") or self.sentence.cue("make_it")
        if not new and label is None and cue is None and not self.sentence.has("save_help"):
            return None
        if cue is None and new and named is None:
            return None
        if self.sentence.has("save_help"):
            return self._all(request.Help())
        if not new and cue is not None and _ASKING.search(self._text[: cue.first]):
            return self._all(request.Help()) if self._plain() else None
        if (
            label is None
            and cue is None
            and new
            and isinstance(self.talk.last, request.Save)
            and self.talk.topic == "notes"
        ):
            return self._all(request.Rename(IT, new[-1][2]))
        if (
            not new
            and cue is not None
            and re.search(r"\b(?:as|called|named)\W*\S", self._text[cue.first :], re.IGNORECASE)
        ):
            return self._all(Unclear("Save it under what name?"))
        if not new and cue is not None and self.sentence.has("saved_list", "search", "recall", "last_one"):
            return None
        taken, score, remark = self._extras(new, label)
        rest = within.without(self.sentence, taken)
        plan = within.plan_of(rest, self.talk)
        if plan is None and label is not None and not new:
            return None
        batch = None if plan is None or not _says_something(rest) else plan.request
        used = taken | (plan.used if plan is not None else frozenset())
        name = new[-1][2] if new else ("" if cue is not None else None)
        return Reading(
            request.Save(name, batch, score, remark, "" if label is None else label.text),
            used | within.cues(self.sentence, ("this", "mix", "yes", "thanks", "praise", "new_batch", "keep", "what")),
            2,
        )

    def _label(self) -> Word | None:
        spans = self._new
        names = within.names(self.sentence)
        if not spans or not names or spans[0][0] != names[0].first or self._text[: spans[0][0]].strip():
            return None
        after = self._text[spans[0][1] :].lstrip()
        return names[0] if after.startswith(":") else None

    def _extras(
        self, new: list[tuple[int, int, str]], label: Word | None
    ) -> tuple[frozenset[Phrase], Score | None, str]:
        """The phrases of names, saving words, marks and a remark; and the marks and the remark."""
        sentence = self.sentence
        taken = within.cues(sentence, ("save_it", "name_it", "rate_it", "note_it"))
        names = [*new, *([] if label is None else [(label.first, label.last, "")])]
        for first, last, _ in names:
            taken |= within.overlapping(sentence, first, last)
        if new and not sentence.has("save_it"):
            taken |= within.cues(sentence, ("make_it",))
        end = new[-1][1] if new else 0
        score, remark = None, ""
        said = naming.remark(self._text)
        if said is not None and said.first > end:
            remark = said.text
            taken |= within.overlapping(sentence, said.first, len(self._text))
        score, marked = self._score(after=end)
        if score is not None and not (marked and remark and marked[0] >= len(self._text) - len(remark)):
            taken |= within.overlapping(sentence, *marked)
            why = _why(self._text[marked[1] :])
            if why and not remark and all(isinstance(p, Word) for p in sentence.phrases if p.first >= marked[1]):
                remark, taken = why, taken | within.overlapping(sentence, marked[1], len(self._text))
        return taken, score, remark

    def _score(self, after: int = 0) -> tuple[Score | None, tuple[int, int]]:
        """The marks that stand after a place of the line, and where."""
        found = naming.marks(self._text[after:])
        if found is not None:
            return Score(found.value, found.top), (found.first + after, found.last + after)
        tail = re.match(r"\s*[,:;-]\s*(?P<value>[0-9]{1,2}(?:\.[0-9])?)\W*$", self._text[after:]) if after else None
        given = tail or _GIVEN.search(self._text[after:])
        if given is None:
            return None, (0, 0)
        half = Fraction(1, 2) if given.re is _GIVEN and given["half"] else Fraction(0)
        value = _value(given["value"]) + half
        return Score(value, 10, taken=True), (given.start("value") + after, given.end() + after)

    # ---- one batch

    def _renamed(self) -> Reading | None:
        if not self.sentence.has("rename", "forget_batch", "swap"):
            return None
        found = naming.renamed(self._text)
        if found is None:
            return self._all(Unclear("Rename which batch, and to what?")) if self.sentence.has("rename") else None
        old = _bare(found[0])
        return self._all(request.Rename(self._which(old), found[1]))

    def _remarked(self) -> Reading | None:
        if not self.sentence.has("note_it", "save_it"):
            return None
        said = naming.remark(self._text)
        if said is None:
            return None
        cue = self.sentence.cue("note_it")
        if cue is None or not re.match(
            r"^\W*(?:and|also|please|add|make|write|take|a|put|one)?\W*(?:a\s+)?$", self._text[: cue.first]
        ):
            return None
        return self._all(request.Remarked(self._which(_bare(said.whose)), said.text))

    def _rated(self) -> Reading | None:
        sentence, text = self.sentence, self._text
        bare = _BARE_MARKS.match(text)
        if bare and self.talk.pending is not None and isinstance(self.talk.pending.request, request.Rate):
            marks = Score(_value(bare["value"]), 10, taken=True)
            return self._all(request.Rate(self.talk.pending.request.name, marks, (bare["why"] or "").strip()))
        score, place = self._score()
        found = naming.marks(text)
        asked = sentence.has("rate_it") or (sentence.has("rate_of") and (bool(self._known) or sentence.has("last_one")))
        asked = asked or bool(re.match(r"\W*(?:please\s+)?(?:rate|score|give(?!\s+me))\b", text, re.IGNORECASE))
        if found is None and sentence.has("again", "repeat", "same_again"):
            return None
        if not asked and found is None and not (bare and self._may_be_marks()):
            return None
        if found is not None and not asked and self._more_than_marks(found.first, found.last):
            return None
        if naming.many_marks(text) and asked:
            return self._all(Unclear("One batch at a time, please: say the marks of the first one by itself."))
        if score is None and bare:
            score, place = Score(_value(bare["value"]), 10, taken=True), bare.span("value")
        if score is None:
            if (found is None and not (self._known or sentence.has("last_one"))) or not self._plain():
                return None
            if _ASKING.match(text.strip()):
                return self._all(request.Recall(self._which()))
            return self._all(request.Rate(self._which(), None))
        if not self._only_about_batches(place):
            return None
        return self._all(
            request.Rate(self._rated_name(place[0]), score, _why(text[place[1] :])), 2 if asked or found else 1
        )

    def _may_be_marks(self) -> bool:
        """ "it was a 7" follows a batch that was just saved or shown."""
        return self.talk.topic == "notes" and bool(re.search(r"\b(?:was|is|gets?|solid)\b", self._text))

    def _more_than_marks(self, first: int, last: int) -> bool:
        """Whether figures or food stand beside the marks: then "4/5" is a fraction of something."""
        beside = [p for p in self.sentence.substance() if p.last <= first or p.first >= last]
        return any(not isinstance(p, Word | Moment) for p in beside)

    def _only_about_batches(self, place: tuple[int, int]) -> bool:
        """No amounts or food before the marks: what comes after them is the cook's remark, whatever it names."""
        return all(isinstance(p, Word | Moment) or p.first >= place[0] for p in self.sentence.substance())

    def _rated_name(self, until: int) -> str:
        if self._known or self.sentence.has("last_one"):
            return self._which()
        if not re.match(r"\W*(?:please\s+)?(?:rate|score|give|i)\b", self._text, re.IGNORECASE):
            return IT
        before = re.sub(
            r"^\W*(?:please\s+)?(?:rate|score|give|i'?d\s+(?:rate|give)|i\s+(?:rate|give))\s+",
            "",
            self._text[:until],
            flags=re.I,
        )
        before = re.sub(
            r"\s*(?:an?|at|as|:|was|is|gets?|got|scored|rated|maybe|about|for|-|,)?\s*$", "", before.strip(), flags=re.I
        )
        name = _bare(before)
        words = {word.text.lower() for word in self.sentence.unknown}
        return name if words & set(name.lower().split()) else IT

    def _tagged(self) -> Reading | None:
        if not self.sentence.has("tag"):
            return None
        match = re.search(r"\b(?:tag|tagged)\s+(?P<rest>.+)$", self._text, re.IGNORECASE)
        if match is None:
            return self._all(Unclear("Tag which batch, and with what word?"))
        rest = naming.tidy(match["rest"])
        split = re.match(r"(?:(?P<name>.+?)\s+)?(?:as|with|for)\s+(?P<tag>.+)$", rest, re.IGNORECASE)
        if split is not None:
            return self._all(request.Tagged(self._which(_bare(split["name"] or "")), naming.tidy(split["tag"])))
        words = re.sub(r"^(?:it|that|this|the\s+last\s+one)\s*", "", rest, flags=re.IGNORECASE)
        if not words:
            return self._all(Unclear("Tag it with what word?"))
        return self._all(request.Tagged(LAST if "last one" in rest.lower() else IT, words))

    def _forgotten(self) -> Reading | None:
        cue = self.sentence.cue("forget_batch")
        if cue is None or not (self._plain(Moment) or self._known):
            return None
        removed = _REMOVED.search(self._text)
        region = _bare(removed["name"]) if removed is not None else self._region("forget_batch")
        pointed = self.sentence.has("last_one") or re.search(r"\bbatch\b|\bnotebook\b", self._text, re.IGNORECASE)
        if self._known or pointed:
            if removed is None and cue.text.lower().split()[0] in ("from", "out"):
                return self._all(Unclear("Take which batch out of the notebook?"))
            return self._all(request.Forget(self._which(region)))
        verb = cue.text.lower().split()[0]
        if (
            verb in ("delete", "erase", "forget")
            and self._plain()
            and not re.match(r"(?:about|all|everything)\b", region)
        ):
            if not _POINTING.match(region):
                return self._all(request.Forget(region), 1)
            return self._all(request.Forget(IT), 1) if verb != "forget" else None
        return None

    def _again(self) -> Reading | None:
        sentence = self.sentence
        cue = sentence.cue("again", "repeat", "same_again")
        weights = [amount for amount in sentence.of(Weighed) if amount.kind == "weight"]
        factor = factor_said(sentence)
        pieces = [count for count in sentence.of(Count) if count.piece]
        if self._known and len(pieces) == len(sentence.of(Count)) == 1:
            factor = pieces[0].value  # "half of fair stall", "fair stall at half the size"
        name = self._known[0].payload if self._known else ""
        if not name:
            if cue is None or (self.talk.plan is not None and not sentence.has("last_one")):
                return None
            past = sentence.has("last_one") or re.search(r"\b(?:last time|as before|like before)\b", self._text, re.I)
            name = LAST if past else self._name_beside(cue)
            if not name:
                return None
        elif (
            cue is None
            and not weights
            and factor is None
            and not sentence.of(People)
            and not sentence.of(Patties)
            and not sentence.has("make_it", "not", "swap", "drop", "instead")
        ):
            return None
        if self._new:
            return None
        changed = sentence.has("not", "swap", "drop", "instead") and bool(self._known)
        if cue is None and self._known and len(sentence.of(CutName)) > 0 and not changed:
            return self._beside(name)
        taken = within.cues(
            sentence,
            [
                "again",
                "repeat",
                "same_again",
                "last_one",
                "this",
                "recall",
                "show",
                "into",
                "want",
                "make_it",
                "scale_to",
                "double",
                "halve",
                "triple",
                "have",
                "what",
                "yes",
                "thanks",
                "praise",
                "hello",
                "out_of",
                "mix",
                "how_much",
                "batch",
                "what_about",
                "total",
                "correction",
            ],
        )
        taken |= frozenset(self._known) | frozenset(sentence.of(Moment)) | self._name_words(name)
        if self._known:
            name = self._named(self._known[0])
            taken |= self._version_words(self._known[0])
        open_plan = replace(self.talk, plan=self.talk.plan or Plan())
        own = not (bool(sentence.of(Patties)) or bool(sentence.of(People)) or bool(sentence.of(CutName)))
        if len(weights) == 1 and own and not sentence.of(SeasoningName):
            taken |= {weights[0]}
            rest = within.without(sentence, taken)
            more = None if self._says_no_more(rest) else within.plan_of(rest, open_plan)
            if more is None:
                return Reading(request.Again(name, weights[0].measure), taken, 2)
            return Reading(request.Again(name, weights[0].measure, change=rest), taken | more.used, 2)
        if factor is not None and not weights:
            halves = frozenset(count for count in sentence.of(Count) if count.piece)
            words = frozenset(phrase for phrase in sentence.phrases if isinstance(phrase, Word))
            return Reading(request.Again(name, factor=factor), taken | halves | words, 2)
        rest = within.without(sentence, taken - within.cues(sentence, ("into", "want", "make_it", "out_of")))
        if not any(not isinstance(p, Word) or p.kind != "cue" for p in rest.substance()):
            return Reading(request.Again(name), taken, 2)
        change = within.plan_of(rest, open_plan)
        used = taken | (change.used if change is not None else frozenset())
        return Reading(request.Again(name, change=rest), used, 2)

    def _beside(self, name: str) -> Reading | None:
        """A batch of its own ("3 lb taco meat from chuck and suet"), where a batch called "taco meat" is saved."""
        rest = within.without(self.sentence, self._known)
        plan = within.plan_of(rest, self.talk)
        return (
            None if plan is None else Reading(request.Beside(plan.request, name), plan.used | frozenset(self._known), 1)
        )

    @staticmethod
    def _says_no_more(rest: Sentence) -> bool:
        return all(isinstance(p, Word) for p in rest.substance())

    def _name_beside(self, cue: Word) -> str:
        """A name that the vocabulary hid: "repeat taco meat for 4 kg", "taco meat again"."""
        if re.search(r"[.;!?]\s+\S|\b(?:what|how|when|which|why|can|could|do|does|is)\b", self._text, re.IGNORECASE):
            return ""  # "Rained off again. Anyhow, …" is small talk
        after = _FOR_WEIGHT.split(self._text[cue.last :])[0]
        name = _bare(after) or _bare(self._text[: cue.first])
        name = re.sub(r"^(?:make|do|let'?s\s+(?:do|make|have))\s+", "", name, flags=re.IGNORECASE)
        return (
            ""
            if _POINTING.match(name) or not re.search(r"[A-Za-z]{2}", name) or re.search(r"\bbut\b|\bfor\b", name)
            else name
        )

    def _name_words(self, name: str) -> frozenset[Phrase]:
        at = self._text.find(name) if name not in (IT, LAST) else -1
        return within.overlapping(self.sentence, at, at + len(name)) if at >= 0 else frozenset()

    def _recalled(self) -> Reading | None:
        sentence = self.sentence
        if self._new:
            return None
        asked = _ABOUT.search(self._text)
        if asked is not None and self._plain():
            told = next(said for said in asked.groups() if said is not None)
            return self._all(request.Recall(self._which(_bare(told))))
        if sentence.has("recall"):
            region = self._region("recall")
            if self._known or sentence.has("last_one"):
                return self._all(request.Recall(self._which(region)))
            if region and _IN_THE_PAST.search(self._text) and not sentence.of(Weighed):
                return self._all(request.Recall(region))
            if not region or not (sentence.unknown or self.talk.plan is None or region[0].isupper()):
                return None
            figures = any(
                not isinstance(p, Word | CutName | Moment | SeasoningName) and not hasattr(p, "each")
                for p in sentence.substance()
            )
            return None if figures else self._all(request.Recall(region), 1)
        if self._known and self._plain(Moment, Count):
            return self._all(request.Recall(self._named(self._known[0])), 1)
        if sentence.has("show") and sentence.has("last_one") and self._plain():
            return self._all(request.Recall(LAST))
        named = _SHOWN.match(self._text)
        name = "" if named is None else _bare(named["name"])
        if name and self._plain() and not _POINTING.match(name) and len(name.split()) <= 5 and not self._is_talk(name):
            return self._all(request.Recall(name), 1)
        return None

    @staticmethod
    def _is_talk(name: str) -> bool:
        """Things that are shown or asked about but are no saved batch."""
        return (
            re.search(
                r"\b(?:there|mix|plan|steps?|math|working|more|here|fridge|freezer|kitchen|settings)\b", name, re.I
            )
            is not None
        )

    # ---- many batches

    def _compared(self) -> Reading | None:
        sentence = self.sentence
        if not sentence.has("compare") and not (sentence.has("worth", "best") and len(self._known) == 2):
            return None
        if len(self._known) >= 2:
            return self._all(request.Compare(self._named(self._known[0]), self._named(self._known[1])))
        if sentence.has("last_two") or re.search(r"\b(?:last|latest)\s+(?:two|2|couple)\b", self._text, re.I):
            return self._all(request.LastTwo())
        region = self._region("compare")
        if not region and sentence.has("compare"):
            region = _bare(self._text[: _place(sentence.cue("compare"))])
        region = re.sub(r"^(?:between|how|do|does)\s+|[?]|\s+differ.*$", "", region, flags=re.IGNORECASE)
        halves = [_bare(half) for half in _SPLIT.split(region) if _bare(half)]
        if len(halves) == 2 and not sentence.of(Weighed):
            sure = all(self._is_labelled(half) for half in halves) or bool(self._known)
            return self._all(request.Compare(*(self._which_half(half) for half in halves)), 2 if sure else 1)
        return None

    def _is_labelled(self, name: str) -> bool:
        return f"label {name.casefold()}" in self.talk.settings

    @staticmethod
    def _which_half(half: str) -> str:
        if re.match(r"(?:the\s+)?(?:last|latest)\b", half, re.IGNORECASE):
            return LAST
        return IT if _POINTING.match(half) else half

    def _asked_over_all(self) -> Reading | None:
        sentence = self.sentence
        if sentence.has("next_blend") and self._plain(CutName):
            return self._all(request.Next())
        if sentence.has("average") and self._plain(Moment):
            here = re.search(r"\b(?:they|them|those|these)\b", self._text, re.IGNORECASE) is not None
            return self._all(request.Average(tuple(name.payload for name in self._known), here))
        if sentence.has("best", "worst") and self._plain(Count, Moment):
            cue = sentence.cue("best", "worst")
            count = self._how_many(cue)
            return self._all(request.Best(count, sentence.has("worst")))
        if re.match(
            r"\W*(?:the\s+)?(?:top|best)\s+(?:[0-9]{1,2}|two|three|four|five)\W*(?:so far|batches|of them)?\W*$",
            self._text,
            re.I,
        ):
            return self._all(request.Best(self._how_many(None)))
        return None

    def _how_many(self, cue: Word | None) -> int:
        numbers = [count.value for count in self.sentence.of(Count)]
        if numbers and numbers[0].denominator == 1 and 0 < numbers[0] <= 50:
            return int(numbers[0])
        words = self._text.lower().split()
        if cue is not None and cue.text.lower().split()[-1] in ("batches", "favourites", "favorites"):
            return 3
        return next((_NUMBERS[word] for word in words if word in _NUMBERS), 1)

    def _listed(self) -> Reading | None:
        if not self.sentence.has("saved_list") or self._known or not self._plain():
            return None
        return self._all(request.Listing(), 1 if self._text.strip().lower() in ("list", "saved", "list them") else 2)

    def _searched(self) -> Reading | None:
        if not self.sentence.has("search"):
            return None
        words = self._region("search")
        words = re.sub(
            r"\b(?:in\s+(?:it|them)|in\s+the\s+notebook|did\s+(?:i|we)\s+use|with|had|has|have|used|tagged)\b",
            "",
            words,
            flags=re.I,
        )
        words = " ".join(words.split())
        return self._all(request.Search(words)) if words else self._all(Unclear("Look for what in the notebook?"))

    def _amount_used(self) -> Reading | None:
        """ "how much salt did I use last time", "how much chuck was in fair stall"."""
        sentence = self.sentence
        past = sentence.has("used", "last_one", "recall") or bool(self._known)
        things: list[CutName | SeasoningName] = [*sentence.of(SeasoningName), *sentence.of(CutName)]
        if not past or not sentence.has("how_much", "what", "how_many") or len(things) != 1 or sentence.of(Weighed):
            return None
        if periods.find(self._text) is not None or sentence.of(Moment):
            return None
        within_name = re.search(r"\bin\s+(?:the\s+)?(?P<name>[^?]+?)\s*\??$", self._text, re.IGNORECASE)
        name = self._which() if self._known or sentence.has("last_one") else ""
        if not name and within_name is not None and not _POINTING.match(_bare(within_name["name"])):
            name = _bare(within_name["name"])
        return self._all(request.Amount(name, things[0].name))

    def _used(self) -> Reading | None:
        sentence = self.sentence
        if not sentence.has("used"):
            return None
        found = periods.find(self._text)
        days = [moment for moment in sentence.of(Moment) if moment.day is not None]
        cuts = sentence.of(CutName)
        if found is not None:
            period = found[2]
        elif len(days) == 1 and days[0].day is not None:
            since = re.search(r"\bsince\b", self._text, re.IGNORECASE) is not None
            period = periods.Period(days[0].text, "day", since=since, day=days[0].day)
        elif sentence.has("last_one") and not cuts:
            return self._all(request.Recall(LAST))
        else:
            return None
        if len(cuts) > 1 or sentence.of(Weighed):
            return None
        return self._all(request.Used(period, cuts[0].name if cuts else ""))


def _says_something(rest: Sentence) -> bool:
    """Whether what is left beside a saving describes or changes a batch: more than small words."""
    return any(
        not isinstance(phrase, Word)
        or (
            phrase.kind == "cue"
            and phrase.payload in ("double", "halve", "triple", "cheapest", "leanest", "fattest", "largest")
        )
        for phrase in rest.substance()
    )


def _bare(text: str) -> str:
    """A stretch of the line as a name: without courtesies, articles and "again"."""
    name = naming.tidy(text.strip(" ,.;:?!"))
    for pattern in (_HEAD, _TAIL, _HEAD):
        name = pattern.sub("", name).strip(" ,.;:?!")
    return name


def _why(text: str) -> str:
    """What follows the marks, as a remark: "crust great"."""
    words = re.sub(r"^[\s,;.:!-]*(?:(?:and|but|because|as|since)\s+)?", "", naming.tidy(text))
    return words.strip() if re.search(r"[A-Za-z]{3}", words) and not re.match(r"(?:for|please|out of)\b", words) else ""


def _value(word: str) -> Fraction:
    return Fraction(ONES[word.lower()]) if word.lower() in ONES else Fraction(word)


def _place(word: Word | None) -> int:
    return 0 if word is None else word.first
