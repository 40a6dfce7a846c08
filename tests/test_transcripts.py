"""Every conversation in transcripts_demo/ comes back as it is written there."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli import main

FOLDER = Path(__file__).resolve().parents[1] / "transcripts_demo"
FILES = sorted(FOLDER.glob("*.txt"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_conversation_comes_back_as_written(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["replay", str(path)]) == 0, capsys.readouterr().out


def test_there_are_at_least_eight_conversations() -> None:
    assert len(FILES) >= 8
