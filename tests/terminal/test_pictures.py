"""The pictures in README are what the program shows."""

from __future__ import annotations

import pytest

from tests import pictures
from tests.documents import README


@pytest.mark.slow
@pytest.mark.parametrize("name", pictures.CONVERSATIONS)
def test_a_picture_is_what_the_program_shows_now(name: str) -> None:
    columns, rows, lines = pictures.CONVERSATIONS[name]
    kept = (pictures.FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert pictures.drawn(columns, rows, lines) == kept


def test_every_picture_stands_in_the_readme_with_words_for_who_cannot_see_it() -> None:
    page = README.read_text(encoding="utf-8")
    for name in pictures.CONVERSATIONS:
        before, _, _ = page.partition(f"](transcripts_demo/screens/{name}.svg)")
        assert len(before) < len(page)
        assert len(before.rpartition("![")[2]) > 20
