"""Patterns that are compiled late are still sound, and behave as those of the standard library."""

import gc
import importlib
import pkgutil
import re
from pathlib import Path

import assistant
from assistant.pattern import Pattern


def test_every_pattern_of_the_program_compiles() -> None:
    """A slip in one shows here, and not first to the cook whose line reaches it."""
    for module in pkgutil.walk_packages(assistant.__path__, "assistant."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    patterns = [found for found in gc.get_objects() if isinstance(found, Pattern)]
    in_the_text = sum(file.read_text().count("Pattern(") for file in Path(assistant.__path__[0]).rglob("*.py"))
    assert len(patterns) > in_the_text / 2
    for pattern in patterns:
        pattern.search("3 lb at 80/20 from chuck")


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
