"""Free text inside a request, found before words are read: names, labels, marks out of ten, and remarks.

What a cook calls a batch is not language to be understood ("Robert'); DROP TABLE batches;--" is a name), so it is
cut out of the line by where it stands: after "save that as", before a colon, after "note:". The patterns are strict
on purpose: "keep it under 20% fat" and "call it 12 lb" are no names.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from assistant.language.numbers import ONES, read_number
from assistant.language.scan import Mark, scan
from assistant.language.vocabulary import vocabulary
from assistant.language.when import WEEKDAYS
from assistant.pattern import Pattern

LONGEST_NAME = 200
"""Characters looked at for a name; the notebook itself says how long a name it keeps."""
_MOST_WORDS = 8
"""Marks of a name that the lexer looks at."""
LOADED = "?"
"""Before a name among those looked for that is one only in some places of a line."""
_AFTER_A_NAME = frozenset(("for", "but", "with", "without", "times", "x", ""))
_BEFORE_A_NAME = frozenset(
    (
        "in",
        "into",
        "show",
        "open",
        "rate",
        "rename",
        "forget",
        "delete",
        "tag",
        "compare",
        "between",
        "triple",
        "double",
    )
)
_DAYS = frozenset((*WEEKDAYS, "today", "tomorrow", "yesterday", "tonight"))

_WHICH = (
    r"(?:it|this|that|these|those|them|(?:the|this|that|my|our|last|whole|\s)*(?:one|batch|blend|mix|recipe|plan|lot))"
)
_BOOK = r"(?:\s+(?:down|away|up))?(?:\s+(?:in|into|to)\s+(?:the|my|our)\s+(?:note\s?book|book|log))?"
_AS = r"(?:as|called|named|under\s+the\s+name(?:\s+of)?|with\s+the\s+name|by\s+the\s+name\s+of)\s+"
_SAVING = Pattern(
    rf"""\b(?:save|log|record|file|jot(?:\s+down)?)\b(?:[^.;?!]|\.(?=[0-9]))*?\s{_AS}
      | \b(?:store|keep|put|pop|stick|write|note|enter|bookmark|remember|add)\s+{_WHICH}{_BOOK}\s+{_AS}
      | \b(?:save|log|record|file|keep)\s+{_WHICH}\s+under\s+
    """,
    re.VERBOSE | re.IGNORECASE,
)
_CALLING = Pattern(
    r"\b(?:call|name|title|label)\s+(?:it|this|that|(?:this|that|the)(?:\s+\w+)?\s+(?:one|batch|blend|mix))\s+",
    re.IGNORECASE,
)
_RENAMING = Pattern(
    r"\b(?:rename|retitle)\s+(?P<old>.+?)\s+(?:to|as|into)\s+(?P<new>.+?)\s*[.!?]*\s*$"
    r"|\bchange\s+the\s+name\s+(?:of\s+(?P<whose>.+?)\s+)?(?:to|from\s+(?P<was>.+?)\s+to)\s+(?P<now>.+?)\s*[.!?]*\s*$",
    re.IGNORECASE,
)
_QUOTED = Pattern(r"(?P<quote>[\"'])(?P<name>[^\"]+?)(?P=quote)(?=\s*(?:[,.;:!?]|$|\s(?:and|with|,|[0-9])))")
_NAME_ENDS = Pattern(
    r"""\s*[.,;:(\[-]?\s*(?=[0-9]+(?:\.[0-9]+)?\s*(?:/|out\s+of)\s*(?:5|10|five|ten)\b)
      | \s*[,;:]\s*(?=[a-z]+(?:\s+and\s+a\s+half)?\s+out\s+of\s+(?:5|10|five|ten)\b)
      | \s*[,;]\s*(?=[0-9]+(?:\.[0-9]+)?\s*(?:[,;.!?]|$))
      | \s*,\s*(?=(?:i'?d|i\s+would|it'?s|it\s+was|was)\s)
      | \s+(?=(?:rated|scored|rating|scoring)\s+[0-9])
      | \s*(?:[,;]|\swith|\sand)\s+(?=[0-9]+(?:[./][0-9]+)?\s*(?:g|kg|grams?|kilos?|oz|ounces?|lbs?|pounds?|tsp|teaspoons?|tbsp|tablespoons?|%|percent)\b)
      | \s*(?:[,;]|\swith|\sand)\s+(?=[0-9]+(?:\.[0-9]+)?\s*%)
      | \s*(?:[,;]|\s-)\s*(?:and\s+)?(?=(?:rat(?:e|ed|ing)|scor(?:e|ed|ing)|not(?:e|es)|remark|tag|then)\b)
      | \s+and\s+(?:then\s+)?(?=(?:rate|score|give|make|scale|double|halve|show|tell|tag|note|how|what|split)\b)
      | (?<!\bNo)\.\s(?!\s*[0-9]+\W*$) | \s;\s | \?
    """,
    re.VERBOSE | re.IGNORECASE,
)
_COURTESY = Pattern(
    r"(?:[\s,]+(?:please|pls|plz|thanks|thank\s+you|ta|cheers|for\s+me|for\s+next\s+time|for\s+later"
    r"|in\s+(?:the|my|our)\s+(?:notebook|book|log)|would\s+you|will\s+you|ok|okay)|[\s,.!?])+$",
    re.IGNORECASE,
)
_NO_NAME = Pattern(
    r"""(?:is|it\s+is|it\s+was|was|before|usual|above|below|well|one|they\s+are|a\s+day|quits|good|done|even|soon)\b\s*\S*$
      | \S+\s+as\b | (?:long|much|many|far|little)\s | (?:about|around|approx|roughly|nearly|say)\b
      | (?:fat|lean|ground|raw|cooked|frozen|cold|cool|warm|hot|fresh|dry|safe)$
    """,
    re.VERBOSE | re.IGNORECASE,
)
_ASKED = Pattern(
    r"\b(?:how|when|why|should|could|may|what|which|does|do|is|are|will|would)\b[^.;?!]*$|\bcan\s+i\b[^.;?!]*$",
    re.IGNORECASE,
)
_LABEL = Pattern(
    r"""^\s*(?P<label>
        v\.?\s?[0-9]{1,3} | [A-HJ-PR-Z]
      | (?:ver(?:sion)?|mix|batch|blend|trial|option|test|plan|attempt|try|take|heat|recipe|grind)\s?\.?\s?
        (?:[0-9]{1,3}|[a-z]|one|two|three|four|five|six|seven|eight|nine|ten)
    )\s*:\s*(?=\S)""",
    re.VERBOSE | re.IGNORECASE,
)
_MARKS = Pattern(
    r"(?<![0-9./])(?P<mark>[0-9]{1,3}(?:\.[0-9]{1,2})?(?:\s+1/2|½)?|½)\s*(?P<half>and\s+a\s+half\s+)?"
    r"(?:/|out\s+of)\s*(?P<top>5|10|five|ten)(?![0-9/.])(?:\s*stars?)?(?!\s*(?:lbs?|pounds?|oz|kg|kilos?|g|tsp|tbsp|in|inch|cups?)\b)"
    r"|(?<![0-9./])(?P<stars>[0-9]{1,2}(?:\.[0-9])?(?:\s+1/2|½)?)\s+stars?\b",
    re.IGNORECASE,
)
_WORD_MARKS = Pattern(
    r"\b(?P<word>zero|one|two|three|four|five|six|seven|eight|nine|ten)(?P<half>\s+and\s+a\s+half)?\s+"
    r"(?:out\s+of\s+(?P<top>five|ten|5|10)|(?P<stars>stars?))\b",
    re.IGNORECASE,
)
_DECIMAL_MARKS = Pattern(r"(?<![0-9./])[0-9]{1,2}\.[0-9]{1,2}\s*/\s*(?:5|10)(?![0-9/.])")
_REMARK = Pattern(
    r"\b(?:note|notes|remark|comment)\b\s*(?P<whose>(?:on|for|about|to)\s+[^:]{1,80}?)?\s*(?:[:,]|\s-\s|that\s)\s*(?P<text>.+)$"
    r"|\b(?:jot|write|put|note)\s+(?:this\s+|it\s+|that\s+)?down\s*(?:[:,]|that\s)\s*(?P<jotted>.+)$"
    r"|\b(?:add|make|write|take)\s+a\s+(?:note|remark|comment)\s*(?P<whom>(?:on|for|about|to)\s+[^:]{1,80}?)?\s*(?:[:,]|\s-\s|that\b)?\s*"
    r"(?P<added>.+)$",
    re.IGNORECASE,
)


class Marks(Struct, frozen=True):
    """Marks given to a batch: value out of top. first, last: the characters that say so."""

    first: int
    last: int
    value: Fraction
    top: int


class Remark(Struct, frozen=True):
    """A remark: its words, from `first` on to the end, and the batch that it names ("" where it names none)."""

    first: int
    text: str
    whose: str = ""


def new_names(text: str) -> list[tuple[int, int, str]]:
    """(first, last, name) of each name or label given in a cleaned request, in order."""
    label = _LABEL.match(text)
    found = [] if label is None else [(*label.span("label"), label["label"])]
    renaming = _RENAMING.search(text)
    if renaming is not None:
        group = "new" if renaming["new"] else "now"
        return [_span(text, renaming.start(group), renaming.end(group))]
    for match in _SAVING.finditer(text):
        _add(
            found, text, match, plain_verb=match.group().split()[0].lower() in ("save", "log", "record", "file", "jot")
        )
    for match in _CALLING.finditer(text):
        _add(found, text, match, plain_verb=False)
    found += [(*match.span(), match.group()) for match in _DECIMAL_MARKS.finditer(text)]
    return sorted(found)


def is_marks(name: str) -> bool:
    """Whether a span of new_names is marks with a decimal ("8.5/10"), which reads as no number, and not a name."""
    return _DECIMAL_MARKS.fullmatch(name) is not None


def renamed(text: str) -> tuple[str, str] | None:
    """(old name, new name) of "rename X to Y"; the old one is "" where it is not said."""
    match = _RENAMING.search(text)
    if match is None:
        return None
    old = match["old"] or match["whose"] or match["was"] or ""
    start, end = match.span("new" if match["new"] else "now")
    return _unquoted(old.strip()), _span(text, start, end)[2]


def many_marks(text: str) -> bool:
    """Whether marks are given more than once in the line."""
    first = marks(text)
    return first is not None and marks(text[first.last :]) is not None


def marks(text: str) -> Marks | None:
    """The first marks in the line that say what they are out of: "7/10", "8 out of 10", "four stars"."""
    for match in _MARKS.finditer(text):
        number = match["mark"] or match["stars"]
        value = _decimal(number) + (Fraction(1, 2) if match["half"] else 0)
        top = 5 if match["stars"] and value <= 5 else _top(match["top"] or "10")
        if "/" in match.group() and value + top == 100:
            # 90/10 is lean to fat
            continue
        return Marks(*match.span(), value, top)
    for match in _WORD_MARKS.finditer(text):
        value = Fraction(ONES[match["word"].lower()]) + (Fraction(1, 2) if match["half"] else 0)
        top = _top(match["top"]) if match["top"] else (5 if value <= 5 else 10)
        return Marks(*match.span(), value, top)
    return None


def remark(text: str) -> Remark | None:
    """The remark of "note: a touch dry" or "note on fair stall: too salty"."""
    match = _REMARK.search(text)
    if match is None:
        return None
    group = next(name for name in ("text", "jotted", "added") if match[name])
    whose = match["whose"] or match["whom"] or ""
    words = match[group].strip()
    named = re.sub(r"^(?:on|for|about|to)\s+", "", whose.strip(), flags=re.IGNORECASE)
    return Remark(match.start(group), words, _unquoted(named)) if words else None


def known_names(kept: Iterable[str]) -> dict[str, str]:
    """Names of saved batches as the lexer looks for them: as scanned -> as kept.

    Left out are names that mean something by themselves ("burgers", "chuck and suet", "80/20"): they would be taken
    for the batch in every later line. Such a batch is found by what stands before its name ("what was in burgers"). A
    word for people or one that changes nothing ("Crew", "lovely") is kept behind LOADED: see loaded_name.
    """
    found: dict[str, str] = {}
    for name in kept:
        words = [mark.text for mark in scan(name)]
        if 0 < len(words) <= _MOST_WORDS and not _means_something(words):
            found.setdefault(" ".join(words), name)
        elif (len(words) == 1 and _is_no_food_or_wish(words[0])) or _is_of_people(words):
            found.setdefault(LOADED + " ".join(words), name)
    return found


def loaded_name(names: Mapping[str, str], marks: Sequence[Mark], at: int) -> tuple[str, int] | None:
    """The batch of which words that mean something by themselves are the name where they stand: after a word that a
    name follows ("in crew", "what's in kid burgers"), before "again", or written with the capital of the name ("half of
    Crew", "Crew for 4 kg"); and the mark after them."""
    led = at > 0 and marks[at - 1].text in _BEFORE_A_NAME
    for end in range(min(at + _MOST_WORDS, len(marks)), at, -1):
        name = names.get(LOADED + " ".join(mark.text for mark in marks[at:end]))
        if name is None:
            continue
        after = marks[end].text if end < len(marks) else ""
        capital = end == at + 1 and name[:1].isupper() and marks[at].raw == name
        if led or after == "again" or (capital and (at > 0 or after in _AFTER_A_NAME)):
            return name, end
    return None


def _is_of_people(words: list[str]) -> bool:
    """Whether a name is made of people and of patties only ("kid burgers"): no food that a batch is made of."""
    meanings = [vocabulary().find(word) for word in words]
    kinds = [None if meaning is None else meaning.terminal for meaning in meanings]
    return len(words) > 1 and "PEOPLE" in kinds and set(kinds) <= {"PEOPLE", "PATTY", None}


def _is_no_food_or_wish(word: str) -> bool:
    known = vocabulary()
    meaning = known.find(word)
    return len(word) > 2 and (word in known.harmless if meaning is None else meaning.terminal == "PEOPLE")


def _means_something(words: list[str]) -> bool:
    known = vocabulary()
    whole = " ".join(words)
    if len(words) == 1:
        return len(whole) < 3 or known.find(whole) is not None or whole in known.harmless or whole in _DAYS
    if known.find(whole) is not None:
        return True
    return all(len(word) < 3 or not word.isalpha() or word == "and" or _is_food_or_unit(word) for word in words) and (
        words[0][0].isdigit() or any(len(word) > 2 for word in words)
    )


def _is_food_or_unit(word: str) -> bool:
    meaning = vocabulary().find(word)
    return meaning is not None and meaning.terminal != "CUE"


def tidy(name: str) -> str:
    """A name without quotes around it and courtesies after it."""
    return _unquoted(_COURTESY.sub("", name).strip())


def _add(found: list[tuple[int, int, str]], text: str, match: re.Match[str], *, plain_verb: bool) -> None:
    """The name that begins where a saying of naming ends, unless what follows is no name."""
    start = match.end()
    if any(first <= start < last for first, last, _ in found):
        return
    if not plain_verb and (_ASKED.search(text[: match.start()]) or text.rstrip().endswith("?")):
        return
    first, last, name = _name_at(text, start)
    if name and not _is_no_name(name, strict=not plain_verb):
        found.append((first, last, name))


def _name_at(text: str, start: int) -> tuple[int, int, str]:
    quoted = _QUOTED.match(text, start)
    if quoted is not None:
        return start, quoted.end(), quoted["name"].strip()
    end = _NAME_ENDS.search(text, start, start + LONGEST_NAME)
    return _span(text, start, len(text) if end is None else end.start())


def _span(text: str, start: int, end: int) -> tuple[int, int, str]:
    whole = text[start:end]
    name = _COURTESY.sub("", whole)
    first = start + len(name) - len(name.lstrip())
    return first, start + len(name), _unquoted(name.strip())


def _unquoted(name: str) -> str:
    if len(name) > 2 and name[0] == name[-1] and name[0] in "\"'":
        return name[1:-1].strip()
    return name.strip('"').strip()


def _is_no_name(name: str, *, strict: bool) -> bool:
    """Whether words in the place of a name are something else: "as lean as you can", "call it 12 lb"."""
    if not strict:
        return name.lower() in ("is", "it is", "usual", "before")
    if _NO_NAME.match(name):
        return True
    words = scan(re.sub(r"^(?:an?|the|even|another|about)\s+", "", name, flags=re.IGNORECASE))
    return not words or read_number(words, 0) is not None or name.lower().startswith(("a ", "an "))


def _decimal(number: str) -> Fraction:
    half = Fraction(1, 2) if number.endswith(("1/2", "½")) else Fraction(0)
    whole = re.sub(r"\s*(?:1/2|½)$", "", number)
    return (Fraction(whole) if whole else Fraction(0)) + half


def _top(word: str) -> int:
    return {"five": 5, "ten": 10}.get(word.lower()) or int(word)
