"""The cook's words: what each one stands for, and which misspelling is near enough to be one of them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from msgspec import Struct, field

from assistant import built, data
from assistant.language.text import fold
from assistant.pattern import Pattern

_MENDED = frozenset(("CUT", "SEASONING", "MASS", "VOLUME", "LENGTH", "PATTY", "PEOPLE", "LEAST", "MOST"))
"""Only words of these kinds are offered as corrections: food, units, limits. A mended verb helps nobody."""

_VOWELS = frozenset("aeiou")


class Meaning(Struct, frozen=True, array_like=True):
    """What a word or phrase stands for: the grammar's terminal and the payload it carries."""

    terminal: str
    payload: str
    keys: tuple[str, ...] = ()


class Vocabulary(Struct, frozen=True):
    """Every known phrase (words joined by one space) and the harmless words. reach: words in the longest phrase that begins
    with a word, where that is more than the word itself. weighty: harmless words that are named where an answer did not use them."""

    meanings: Mapping[str, Meaning]
    harmless: frozenset[str]
    singles: frozenset[str] = field(default_factory=frozenset)
    known: frozenset[str] = field(default_factory=frozenset)
    reach: Mapping[str, int] = field(default_factory=dict)
    weighty: frozenset[str] = field(default_factory=frozenset)

    def find(self, phrase: str) -> Meaning | None:
        """The meaning of a whole phrase; a plain plural is looked up without its s."""
        found = self.meanings.get(phrase)
        if found is None and len(phrase) > 3 and phrase.endswith("s") and not phrase.endswith("ss"):
            found = self.meanings.get(phrase[:-1])
            if found is None and phrase.endswith("es"):
                found = self.meanings.get(phrase[:-2])
            if found is not None and found.terminal not in ("CUT", "SEASONING"):
                found = None
        return found


def read_words() -> Iterator[tuple[str, str, str, str]]:
    """Every (file, terminal, payload, phrase) of the vocabulary files, in file order; of a word that is passed over the
    terminal is empty and the payload "words" or "weighty"."""
    import tomllib  # not needed where the words are built

    for path in sorted((built.grammar_folder() / "words").iterdir(), key=lambda path: path.name):
        if not path.name.endswith(".toml"):
            continue
        for terminal, table in tomllib.loads(path.read_text(encoding="utf-8")).items():
            if terminal in ("words", "weighty"):
                for word in table.split():
                    yield path.name, "", terminal, word
            else:
                for payload, phrases in table.items():
                    for phrase in phrases:
                        for one in _spelled_out(phrase):
                            yield path.name, terminal, payload, one


def _spelled_out(phrase: str) -> Iterator[str]:
    """ "(get|bring) it (up|) to": every phrase that it stands for."""
    opened = phrase.find("(")
    if opened < 0:
        yield " ".join(phrase.split())
        return
    closed = phrase.index(")", opened)
    for choice in phrase[opened + 1 : closed].split("|"):
        yield from _spelled_out(phrase[:opened] + choice + phrase[closed + 1 :])


@built.kept("words", Vocabulary)
def vocabulary() -> Vocabulary:
    """The whole vocabulary, built once: the word files, then the names of cuts and seasonings."""
    meanings: dict[str, Meaning] = {}
    harmless, weighty = set(), set()
    for _file, terminal, payload, phrase in read_words():
        if terminal:
            food = terminal in ("CUT", "SEASONING")
            meanings.setdefault(phrase, Meaning(terminal, phrase, (payload,)) if food else Meaning(terminal, payload))
        else:
            harmless.add(phrase)
            if payload == "weighty":
                weighty.add(phrase)
    for phrase, meaning in _named():
        meanings.setdefault(phrase, meaning)
    singles = {
        word
        for phrase, meaning in meanings.items()
        if meaning.terminal in _MENDED or phrase in ("without", "except")
        for word in phrase.split()
        if len(word) > 3 and word.isalpha() and word.isascii()
    }
    known = frozenset(word for phrase in meanings for word in phrase.split())
    plain = frozenset(harmless)
    return Vocabulary(meanings, plain, frozenset(singles - harmless), known, _reach(meanings), frozenset(weighty))


def _reach(phrases: Iterable[str]) -> dict[str, int]:
    reach: dict[str, int] = {}
    for words in (phrase.split() for phrase in phrases):
        if len(words) > 1:
            reach[words[0]] = max(len(words), reach.get(words[0], 0))
    return reach


def _named() -> Iterator[tuple[str, Meaning]]:
    for name, keys in data.cut_names().items():
        yield spelled(name), Meaning("CUT", name, tuple(keys))
    for word, ambiguous in data.ambiguous().items():
        yield spelled(word), Meaning("CUT", word, tuple(ambiguous.keys))
    for name in data.absent():
        yield spelled(name), Meaning("CUT", name, ())
    for name, seasonings in data.seasoning_names().items():
        yield spelled(name), Meaning("SEASONING", name, tuple(seasonings))
    for name in data.never_by_spoon():
        yield spelled(name), Meaning("SEASONING", name, ("cure",))


def spelled(name: str) -> str:
    """A name as the lexer sees it: folded, hyphens, commas and points as spaces."""
    return " ".join(fold(name).replace("-", " ").replace(",", " ").replace(".", " ").replace("&", " ").split())


_DRAWN_OUT = Pattern(r"(.)\1+$|(.)\2{2,}")


@lru_cache(maxsize=4096)
def drawn_out(word: str) -> str | None:
    """A harmless word with its letters drawn out ("uhh", "sooo") as it is spelled; None for any other word.

    Only harmless words: a letter too many in the name of a food or a limit is a slip, and told as one.
    """
    harmless = vocabulary().harmless
    if word in harmless or vocabulary().find(word) is not None or not _DRAWN_OUT.search(word):
        return None
    return next((plain for fold in (r"\1", r"\1\1") if (plain := re.sub(r"(.)\1+", fold, word)) in harmless), None)


@lru_cache(maxsize=4096)
def nearest(word: str) -> str | None:
    """The one known word within reach of a misspelt one: one slip in 4-6 letters, two in 7 or more.

    Harmless everyday words are never corrected, nor is anything corrected when two known words are equally near.
    """
    words = vocabulary()
    if len(word) < 3 or not word.isalpha() or not word.isascii() or word in words.harmless or word in words.known:
        return None
    if _VOWELS.isdisjoint(word):
        short = _with_vowels(word, words.singles)
        if short is not None:
            return short
    if len(word) < 4:
        return None
    reach = 1 if len(word) < 7 else 2
    best: list[str] = []
    for known in words.singles:
        if abs(len(known) - len(word)) > reach or (known[0] != word[0] and known[1:2] != word[1:2]):
            continue
        if len(known) < 5 and known[0] != word[0]:
            continue
        away = slips(word, known, reach)
        if away is None or away > reach:
            continue
        if away < reach:
            reach, best = away, []
        best.append(known)
    # "sueet" is as near to "sweet", which is only part of a name, as to "suet"
    best = [known for known in best if _is_food(words.meanings.get(known))] or best
    stems = {known.rstrip("s") for known in best}
    return min(best, key=len) if len(stems) == 1 else None


def _without_vowels(word: str) -> str:
    return "".join(letter for letter in word if letter not in _VOWELS)


_EVERYDAY = 7
"""Letters from which a slip in a harmless word is seen as one: shorter words lie too near to others. A choice."""


def mended(word: str) -> str | None:
    """What a misspelt word was meant as: one that means something, or an everyday word that it is nearer to."""
    known, plain = nearest(word), everyday(word)
    if known is None or (plain is not None and slips(word, known, 1) is None):
        return plain
    return known


@lru_cache(maxsize=4096)
def everyday(word: str) -> str | None:
    """The one harmless word that was typed with a letter too few or too many, two of them swapped, or another vowel
    ("somthing", "definately").

    Never with another consonant: that may as well be a food that nobody taught us ("pheasant" is near to pleasant).
    """
    if len(word) < _EVERYDAY or not word.isalpha():
        return None
    near = [
        plain
        for plain in vocabulary().harmless
        if plain[0] == word[0]
        and abs(len(plain) - len(word)) <= 1
        and (
            len(plain) != len(word) or sorted(plain) == sorted(word) or _without_vowels(plain) == _without_vowels(word)
        )
        and slips(word, plain, 1) is not None
    ]
    return near[0] if len({plain.rstrip("s") for plain in near}) == 1 else None


def _is_food(meaning: Meaning | None) -> bool:
    return meaning is not None and meaning.terminal in ("CUT", "SEASONING")


def _with_vowels(word: str, known: Iterable[str]) -> str | None:
    """The one word that was written without its vowels: "trky", "chkn". One of several like letters may be left out too."""
    found = [
        one
        for one in known
        if one[0] == word[0]
        and _stands_in(word, one)
        and (word[-1] == one[-1] or word[-1] == one.rstrip("s")[-1])
        and sum(letter not in _VOWELS for letter in one) <= len(word) + 1
    ]
    stems = {one.rstrip("s") for one in found}
    return min(found, key=len) if len(stems) == 1 else None


def _stands_in(word: str, one: str) -> bool:
    """Whether the letters of a word come in this order in another."""
    rest = iter(one)
    return all(letter in rest for letter in word)


def slips(left: str, right: str, reach: int) -> int | None:
    """Letters to add, drop, change or swap with a neighbour between two words; None once over `reach`.

    Optimal string alignment (Damerau 1964, restricted form).
    """
    before: list[int] = []
    row = list(range(len(right) + 1))
    for i, a in enumerate(left, 1):
        current = [i]
        for j, b in enumerate(right, 1):
            cost = min(row[j] + 1, current[j - 1] + 1, row[j - 1] + (a != b))
            if i > 1 and j > 1 and a == right[j - 2] and left[i - 2] == b:
                cost = min(cost, before[j - 2] + 1)
            current.append(cost)
        if min(current) > reach:
            return None
        before, row = row, current
    return row[-1] if row[-1] <= reach else None


def duplicates() -> Iterable[tuple[str, str, str]]:
    """Phrases that stand in two places of the word files: (phrase, first place, second place)."""
    seen: dict[str, str] = {}
    for file, terminal, payload, phrase in read_words():
        place = f"{file}:{terminal or 'harmless'}.{payload}"
        if phrase in seen and seen[phrase] != place:
            yield phrase, seen[phrase], place
        seen.setdefault(phrase, place)
