"""Files for people: whole or not at all, only where they were named, never over another one."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.files import FileRefused, put


def test_a_new_file_holds_what_was_given_and_nothing_lies_beside_it(tmp_path: Path) -> None:
    path = put(tmp_path, "river supper.md", b"# Supper\n")
    assert path == tmp_path / "river supper.md"
    assert path.read_bytes() == b"# Supper\n"
    assert os.listdir(tmp_path) == ["river supper.md"]


def test_a_file_that_is_there_is_left_as_it_is(tmp_path: Path) -> None:
    put(tmp_path, "supper.md", b"old")
    with pytest.raises(FileRefused) as refused:
        put(tmp_path, "supper.md", b"new")
    assert "there already" in str(refused.value)
    assert (tmp_path / "supper.md").read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["supper.md"]


def test_a_link_to_nowhere_is_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere.md"
    place = tmp_path / "place"
    place.mkdir()
    (place / "supper.md").symlink_to(elsewhere)
    with pytest.raises(FileRefused):
        put(place, "supper.md", b"new")
    assert not elsewhere.exists()


@pytest.mark.parametrize(
    "name",
    [
        *("../supper.md", "/etc/supper.md", "a/b.md", "a\\b.md", "c:supper.md", "~/supper.md", "~supper.md"),
        *(".hidden.md", "..md", "-supper.md", "con.txt", "COM1.ics", "nul.md", "supper", "", "  .md", "a\nb.md"),
        *("a\x1bb.md", "supper..md", "x" * 200 + ".md", "supper?.md", "a|b.md", "\N{RIGHT-TO-LEFT OVERRIDE}a.md"),
    ],
)
def test_names_that_could_surprise_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileRefused):
        put(tmp_path, name, b"x")
    assert os.listdir(tmp_path) == []


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=40))
def test_whatever_the_name_nothing_is_written_outside_the_folder(tmp_path: Path, name: str) -> None:
    place = tmp_path / "place"
    place.mkdir(exist_ok=True)
    try:
        path = put(place, name, b"x")
    except FileRefused:
        pass
    else:
        assert path.parent == place
        assert path.is_file()
    assert os.listdir(tmp_path) == ["place"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as refused:
        put(tmp_path / "nowhere", "supper.md", b"x")
    assert "cannot write into" in str(refused.value)


def test_without_hard_links_the_name_is_taken_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", no_links)
    assert put(tmp_path, "supper.md", b"x").read_bytes() == b"x"
    with pytest.raises(FileRefused) as refused:
        put(tmp_path, "supper.md", b"y")
    assert "there already" in str(refused.value)
    assert os.listdir(tmp_path) == ["supper.md"]
