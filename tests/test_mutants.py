"""The sampling of mutants says so where it could not run any."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests import mutants


def test_a_module_of_which_nothing_was_run_is_no_success(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # a test that failed without any mutant stopped mutmut, and "0 of 0" was all that was printed
    (tmp_path / "scale.py.meta").write_text(json.dumps({"exit_code_by_key": {"one": None}}), encoding="utf-8")
    monkeypatch.setattr(mutants, "MADE", tmp_path)
    monkeypatch.setattr(mutants, "mutmut", lambda *_: "FAILED tests/test_of_something.py")
    assert mutants.main(["scale"]) == 1
    said = capsys.readouterr().out
    assert "0 of 0" not in said
    assert "FAILED tests/test_of_something.py" in said
