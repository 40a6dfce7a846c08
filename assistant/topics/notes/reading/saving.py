"""Saving a batch: the one on the table, or one that the line itself describes."""

from __future__ import annotations

import re

from assistant.language import naming
from assistant.language.phrases import Phrase, Word
from assistant.language.sentence import Sentence
from assistant.topics import within
from assistant.topics.base import Reading, Unclear
from assistant.topics.notes import request
from assistant.topics.notes.reading.line import ASKING, Line
from assistant.topics.notes.reading.marks import score_in, why_said
from assistant.topics.notes.request import IT, Score


def saved(line: Line) -> Reading | None:
    """A batch to be kept, with its name, its marks and a remark where the line has them."""
    label = _label(line)
    new = [span for span in line.new if label is None or span[0] != label.first]
    cue = line.sentence.cue("save_it")
    named = line.sentence.cue("name_it") or line.sentence.cue("make_it")
    if not new and label is None and cue is None and not line.sentence.has("save_help"):
        return None
    if cue is None and new and named is None:
        return None
    if line.sentence.has("save_help"):
        return line.whole(request.Help())
    if not new and cue is not None and ASKING.search(line.text[: cue.first]):
        return line.whole(request.Help()) if line.is_plain() else None
    if (
        label is None
        and cue is None
        and new
        and isinstance(line.talk.last, request.Save)
        and line.talk.topic == "notes"
    ):
        return line.whole(request.Rename(IT, new[-1][2]))
    if not new and cue is not None and re.search(r"\b(?:as|called|named)\W*\S", line.text[cue.first :], re.IGNORECASE):
        return line.whole(Unclear("Save it under what name?"))
    if not new and cue is not None and line.sentence.has("saved_list", "search", "recall", "last_one"):
        return None
    taken, score, remark = _extras(line, new, label)
    rest = within.without(line.sentence, taken)
    plan = within.plan_of(rest, line.talk)
    if plan is None and label is not None and not new:
        return None
    batch = None if plan is None or not _says_something(rest) else plan.request
    used = taken | (plan.used if plan is not None else frozenset())
    name = new[-1][2] if new else ("" if cue is not None else None)
    return Reading(
        request.Save(name, batch, score, remark, "" if label is None else label.text),
        used | within.cues(line.sentence, ("this", "mix", "yes", "thanks", "praise", "new_batch", "keep", "what")),
        2,
    )


def _label(line: Line) -> Word | None:
    spans = line.new
    names = within.names(line.sentence)
    if not spans or not names or spans[0][0] != names[0].first or line.text[: spans[0][0]].strip():
        return None
    after = line.text[spans[0][1] :].lstrip()
    return names[0] if after.startswith(":") else None


def _extras(
    line: Line, new: list[tuple[int, int, str]], label: Word | None
) -> tuple[frozenset[Phrase], Score | None, str]:
    """The phrases of names, saving words, marks and a remark; and the marks and the remark."""
    sentence = line.sentence
    taken = within.cues(sentence, ("save_it", "name_it", "rate_it", "note_it"))
    names = [*new, *([] if label is None else [(label.first, label.last, "")])]
    for first, last, _ in names:
        taken |= within.overlapping(sentence, first, last)
        # "save this one under Garage Night": what leads to a name is no limit
        taken |= {word for word in sentence.words("bound") if line.text[word.first : first].lower().strip() == "under"}
    if new and not sentence.has("save_it"):
        taken |= within.cues(sentence, ("make_it",))
    end = new[-1][1] if new else 0
    score, remark = None, ""
    said = naming.remark(line.text)
    if said is not None and said.first > end:
        remark = said.text
        taken |= within.overlapping(sentence, said.first, len(line.text))
    score, marked = score_in(line, after=end)
    if score is not None and not (marked and remark and marked[0] >= len(line.text) - len(remark)):
        taken |= within.overlapping(sentence, *marked)
        why = why_said(line.text[marked[1] :])
        if why and not remark and all(isinstance(p, Word) for p in sentence.phrases if p.first >= marked[1]):
            remark, taken = why, taken | within.overlapping(sentence, marked[1], len(line.text))
    return taken, score, remark


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
