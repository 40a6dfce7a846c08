"""Patterns that are compiled late are still sound, and behave as those of the standard library."""

import gc
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import assistant
from assistant import built
from assistant import pattern as patterns
from assistant.pattern import Pattern


def test_every_pattern_of_the_program_compiles() -> None:
    """A slip in one shows here, and not first to the cook whose line reaches it."""
    for module in pkgutil.walk_packages(assistant.__path__, "assistant."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    found = [one for one in gc.get_objects() if isinstance(one, Pattern)]
    in_the_text = sum(file.read_text().count("Pattern(") for file in Path(assistant.__path__[0]).rglob("*.py"))
    assert len(found) > in_the_text / 2
    for pattern in found:
        re.compile(pattern.text, pattern.flags)


def test_a_pattern_finds_what_the_standard_library_finds() -> None:
    late, text = Pattern(r"\b(B)?[0-9]+", re.IGNORECASE), "b12, 7 and B3"
    now = re.compile(r"\b(B)?[0-9]+", re.IGNORECASE)
    assert [found.span() for found in late.finditer(text)] == [found.span() for found in now.finditer(text)]
    assert late.split(text) == now.split(text)
    assert late.sub(lambda found: found[0].lower(), text) == "b12, 7 and b3"
    assert late.match(text, 5) is not None and late.match(text, 4) is None
    assert late.fullmatch("b12") is not None and late.fullmatch(text) is None
    found = late.search(text, 1, 6)
    assert found is not None and found[0] == "7"
    assert late.search(text, 1, 5) is None


@pytest.fixture
def suet(monkeypatch: pytest.MonkeyPatch) -> Pattern:
    """A pattern whose needle is known."""
    pattern = Pattern(r"\bsuets?\b", re.IGNORECASE)
    monkeypatch.setattr(patterns, "_all_needles", lambda: {pattern.key: ("suet",)})
    return pattern


def test_in_a_text_without_its_needle_nothing_is_found_and_nothing_compiled(suet: Pattern) -> None:
    text = "3 lb of chuck"
    assert suet.search(text) is suet.match(text) is suet.fullmatch(text) is None
    assert list(suet.finditer(text)) == []
    assert suet.split(text) == [text]
    assert suet.sub("fat", text) == text
    assert "_compiled" not in vars(suet)


def test_with_its_needle_or_with_letters_beyond_ascii_the_pattern_itself_looks(suet: Pattern) -> None:
    assert suet.sub("fat", "3 lb of SUET") == "3 lb of fat"
    assert suet.fullmatch("\N{LATIN SMALL LETTER LONG S}uet") is not None
    assert suet.search("presuet") is None


def test_without_built_needles_every_text_is_looked_through(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(built, "read", lambda _name, _kind: None)
    assert patterns._all_needles.__wrapped__() == {}
