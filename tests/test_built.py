"""The tables that are built into the package are what their sources come to, and are not used once these change."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from assistant import building, built, data
from assistant.data.safety import SafetyBook
from assistant.language import parse_table, vocabulary


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Somewhere else to build to."""
    monkeypatch.setattr(built, "FOLDER", tmp_path / "built")
    return tmp_path / "built"


KINDS: dict[str, Any] = {
    "cuts": data.CutBook,
    "seasonings": data.SeasoningBook,
    "yields": data.YieldBook,
    "safety": SafetyBook,
    "words": vocabulary.Vocabulary,
    "grammar": parse_table.ParseTable,
    "needles": dict[str, tuple[str, ...]],
}


@pytest.mark.parametrize("name", sorted(KINDS))
def test_a_table_is_read_back_as_it_is_made(name: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = built.MAKERS[name]()
    building.main()
    assert (folder / f"{name}.json").is_file()
    monkeypatch.setattr(built, "MAKERS", dict(built.MAKERS))  # `kept` registers under the same name again
    assert built.kept(name, KINDS[name])(_never)() == made


def test_every_table_is_compared() -> None:
    assert set(built.MAKERS) == set(KINDS)


def test_a_table_of_other_sources_is_not_used(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    building.main()
    monkeypatch.setattr(built, "stamp", lambda: b"other")
    monkeypatch.setattr(built, "MAKERS", dict(built.MAKERS))
    assert built.kept("yields", str)(lambda: "made anew")() == "made anew"


@pytest.mark.parametrize("torn", [b"", b"{}", b"no stamp"])
def test_a_torn_table_is_not_used(torn: bytes, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder.mkdir()
    (folder / "yields.json").write_bytes(torn)
    monkeypatch.setattr(built, "MAKERS", dict(built.MAKERS))
    assert built.kept("yields", str)(lambda: "made anew")() == "made anew"


def test_the_stamp_changes_with_any_source(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sources = tmp_path / "assistant"
    for part in ("data", "language"):
        shutil.copytree(built.PACKAGE / part, sources / part)
    shutil.copytree(built.grammar_folder(), sources / "_grammar")
    shutil.copy(built.PACKAGE / "needles.py", sources)
    monkeypatch.setattr(built, "PACKAGE", sources)
    built.grammar_folder.cache_clear()
    try:
        before = built.stamp.__wrapped__()
        for changed in (
            "_grammar/words/core.toml",
            "_grammar/phrases.lark",
            "data/cuts.toml",
            "language/vocabulary.py",
            "needles.py",
        ):
            with (sources / changed).open("a") as file:
                file.write("\n")
            after = built.stamp.__wrapped__()
            assert after != before, changed
            before = after
    finally:
        built.grammar_folder.cache_clear()


def _never() -> None:
    raise AssertionError("made anew, though it is built")
