"""What the notebook does with sound files: finding, changing, taking back, exact numbers."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from fractions import Fraction
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.errors import BadInput
from assistant.notebook import (
    Batch,
    ManyBatches,
    NoSuchBatch,
    Notebook,
    NothingToUndo,
    Part,
    Stocked,
    TimerNote,
    as_data,
    clean_name,
    clean_text,
    default_path,
    export_jsonl,
)
from assistant.notebook.records import batch_from
from tests.notebook.samples import FRIDAY, SUPPER, batches, ticking


@pytest.fixture
def notebook(tmp_path: Path) -> Iterator[Notebook]:
    with Notebook(tmp_path / "notebook.db", now=ticking()) as opened:
        yield opened


def named(name: str, **fields: object) -> Batch:
    return replace(SUPPER, name=name, **fields)


def names(found: tuple[Batch, ...]) -> list[str]:
    return [batch.name for batch in found]


# --- saving and finding ---------------------------------------------------------------------------------------------


def test_a_saved_batch_comes_back_exactly(notebook: Notebook) -> None:
    kept = notebook.save(SUPPER)
    assert kept == replace(SUPPER, id=1, version=1, saved_at=FRIDAY)
    assert notebook.get("Regatta supper") == kept
    assert kept.parts[0].grams == Fraction(2800, 3)
    assert kept.grams == Fraction(4070, 3)


@given(batch=batches())
@settings(max_examples=60, deadline=None)
def test_any_batch_survives_json_text(batch: Batch) -> None:
    assert batch_from(json.loads(json.dumps(as_data(batch)))) == batch


@given(pile=st.lists(batches(), min_size=1, max_size=4))
@settings(max_examples=15, deadline=None)
def test_any_batches_survive_the_file(pile: list[Batch]) -> None:
    with TemporaryDirectory() as folder:
        with Notebook(Path(folder) / "n.db") as notebook:
            kept = [notebook.save(batch) for batch in pile]
        with Notebook(Path(folder) / "n.db") as again:
            assert list(reversed(again.all())) == kept
            again.check()
    for batch, saved in zip(pile, kept, strict=True):
        assert replace(saved, id=0, version=1, name=batch.name, saved_at=batch.saved_at) == batch


def test_names_match_whatever_their_case_and_blanks(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    assert notebook.get("  REGATTA   supper ").id == 1


def test_a_beginning_is_enough_where_it_is_unique(notebook: Notebook) -> None:
    for name in ("Friday burgers", "Friday sausages", "Monday mix"):
        notebook.save(named(name))
    assert notebook.get("mon").name == "Monday mix"
    with pytest.raises(ManyBatches) as caught:
        notebook.get("friday")
    assert caught.value.matches == ("Friday burgers", "Friday sausages")


def test_the_whole_name_beats_a_longer_one_that_begins_so(notebook: Notebook) -> None:
    notebook.save(named("Friday"))
    notebook.save(named("Friday burgers"))
    assert notebook.get("friday").name == "Friday"


def test_an_unknown_name_is_answered_with_near_ones(notebook: Notebook) -> None:
    notebook.save(named("Friday burgers"))
    with pytest.raises(NoSuchBatch) as caught:
        notebook.get("burgers of sunday")
    assert caught.value.near == ("Friday burgers",)
    with pytest.raises(NoSuchBatch):
        notebook.get("  ")


def test_the_same_name_twice_keeps_both(notebook: Notebook) -> None:
    first = notebook.save(SUPPER)
    second = notebook.save(named("regatta  SUPPER", fat=Fraction(25)))
    assert (first.version, second.version) == (1, 2)
    assert notebook.versions("regatta supper") == (first, second)
    assert notebook.get("regatta supper") == second
    assert notebook.get("regatta supper", version=1) == first
    with pytest.raises(NoSuchBatch) as caught:
        notebook.get("regatta supper", version=3)
    assert caught.value.near == ("version 1", "version 2")


def test_a_version_that_was_forgotten_is_not_given_again(notebook: Notebook) -> None:
    for _ in range(3):
        notebook.save(SUPPER)
    notebook.forget("regatta supper", version=2)
    assert notebook.save(SUPPER).version == 4


def test_search_looks_at_words_of_names_cuts_seasonings_tags_and_remarks(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    notebook.save(named("Monday mix", parts=(Part("lamb shoulder", Fraction(900)),), tags=(), seasonings=()))
    notebook.note("monday mix", "Rather dry.")
    assert names(notebook.search("BRISKET")) == ["Regatta supper"]
    assert names(notebook.search("pepp boat")) == ["Regatta supper"]
    assert names(notebook.search("dry lamb")) == ["Monday mix"]
    assert names(notebook.search("m")) == ["Monday mix"]
    assert notebook.search("isket") == ()
    assert notebook.search("lamb brisket") == ()
    with pytest.raises(BadInput):
        notebook.search("  ")


def test_last_all_between_best(notebook: Notebook) -> None:
    for number in range(1, 5):
        notebook.save(named(f"supper {number}"))  # one a day from 5 June, the clock ticks twice a save
    assert names(notebook.last()) == ["supper 4"]
    assert names(notebook.last(2)) == names(notebook.all(2)) == ["supper 4", "supper 3"]
    assert names(notebook.all()) == ["supper 4", "supper 3", "supper 2", "supper 1"]
    assert names(notebook.between(date(2026, 6, 7), date(2026, 6, 9))) == ["supper 2", "supper 3"]
    assert notebook.best() == ()
    notebook.rate("supper 1", Fraction(4))
    notebook.rate("supper 2", Fraction(8), top=10)
    notebook.rate("supper 3", Fraction(9, 2))
    assert names(notebook.best(3)) == ["supper 3", "supper 2", "supper 1"]
    assert names(notebook.rated()) == ["supper 1", "supper 2", "supper 3"]
    assert notebook.get("supper 2").score == Fraction(4, 5)
    assert notebook.count() == 4
    assert list(notebook.names(2).items()) == [("supper 4", "supper 4"), ("supper 3", "supper 3")]


@pytest.mark.parametrize("count", [0, -1])
def test_fewer_than_one_cannot_be_asked_for(notebook: Notebook, count: int) -> None:
    for ask in (notebook.last, notebook.best, notebook.all, notebook.last_changes, notebook.names):
        with pytest.raises(BadInput):
            ask(count)
    with pytest.raises(BadInput):
        notebook.between(date(2026, 6, 2), date(2026, 6, 1))


def test_days_are_those_of_the_kitchen_and_not_of_greenwich(notebook: Notebook) -> None:
    late = datetime.fromisoformat("2026-06-05T23:30:00-05:00")  # the 6th in Greenwich
    notebook.save(named("late supper", saved_at=late))
    assert names(notebook.between(date(2026, 6, 5), date(2026, 6, 5))) == ["late supper"]


def test_a_time_without_offset_cannot_be_kept(notebook: Notebook) -> None:
    with pytest.raises(BadInput):
        notebook.save(named("odd", saved_at=datetime(2026, 6, 5, 18, 30)))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("fat", 20.5), ("fat", "1/0"), ("name", 3), ("patty_count", True), ("tags", "a"), ("saved_at", "2026-06-05"),
        ("parts", [{"cut": "chuck"}]), ("parts", ["chuck"]),
    ],
)  # fmt: skip
def test_ill_typed_data_is_no_batch_and_the_field_is_named(field: str, value: object) -> None:
    with pytest.raises(ValueError, match=field):
        batch_from({**as_data(SUPPER), field: value})
    with pytest.raises(ValueError, match="extra"):
        batch_from({**as_data(SUPPER), "extra": 1})


# --- changing -------------------------------------------------------------------------------------------------------


def test_rating_is_checked(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    assert notebook.rate("regatta", Fraction(7, 2)).rating == Fraction(7, 2)
    for rating, top in ((Fraction(6), 5), (Fraction(-1), 5), (Fraction(0), 0)):
        with pytest.raises(BadInput):
            notebook.rate("regatta", rating, top)
    assert notebook.get("regatta").rating == Fraction(7, 2)
    with pytest.raises(BadInput):
        notebook.save(named("odd", rating=Fraction(9)))


def test_remarks_and_tags_add_up(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    notebook.note("regatta", "Too salty\x1b[31m")
    batch = notebook.note("regatta", "Better the next day")
    assert [remark.text for remark in batch.remarks] == ["Too salty[31m", "Better the next day"]
    assert notebook.tag("regatta", "Summer", "BOATHOUSE").tags == ("boathouse", "Summer")
    assert notebook.untag("regatta", "summer").tags == ("boathouse",)
    with pytest.raises(BadInput):
        notebook.untag("regatta", "winter")


def test_weights_are_written_beside_the_plan(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    batch = notebook.weighed("regatta", {"ROUND": Fraction(950)})
    assert [(part.weighed, part.grams) for part in batch.parts] == [
        (Fraction(950), Fraction(2800, 3)),
        (None, Fraction(1270, 3)),
    ]
    for wrong in ({"lamb": Fraction(3)}, {"round": Fraction(-1)}):
        with pytest.raises(BadInput):
            notebook.weighed("regatta", wrong)


def test_renaming_takes_every_version_along_and_overwrites_none(notebook: Notebook) -> None:
    notebook.save(named("Sunday mix"))
    notebook.save(SUPPER)
    notebook.save(SUPPER)
    assert [(batch.name, batch.version) for batch in notebook.rename("regatta", "sunday mix")] == [
        ("sunday mix", 2),
        ("sunday mix", 3),
    ]
    assert [batch.version for batch in notebook.versions("Sunday mix")] == [1, 2, 3]
    with pytest.raises(NoSuchBatch):
        notebook.get("regatta supper")
    assert names(notebook.rename("sunday mix", "SUNDAY MIX")) == ["SUNDAY MIX"] * 3


def test_forgetting_tells_what_went(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    notebook.save(SUPPER)
    assert [batch.version for batch in notebook.forget("regatta supper", version=1)] == [1]
    assert [batch.version for batch in notebook.forget("regatta supper")] == [2]
    assert notebook.count() == 0
    assert notebook.search("regatta") == ()
    with pytest.raises(NoSuchBatch):
        notebook.forget("regatta supper")


def test_comparing_shows_every_cut_of_either_and_every_field_that_differs(notebook: Notebook) -> None:
    notebook.save(named("v1", parts=(Part("rump", Fraction(2000)), Part("brisket", Fraction(1000)))))
    parts = (Part("Rump", Fraction(2000)), Part("brisket", Fraction(300)), Part("brisket", Fraction(300)))
    notebook.save(named("v2", parts=(*parts, Part("short rib", Fraction(400))), fat=Fraction(22)))
    compared = notebook.compare("v1", "v2")
    assert [(part.cut, part.grams, part.share[1]) for part in compared.parts] == [
        ("rump", (Fraction(2000), Fraction(2000)), Fraction(2, 3)),
        ("brisket", (Fraction(1000), Fraction(600)), Fraction(1, 5)),
        ("short rib", (None, Fraction(400)), Fraction(2, 15)),
    ]
    assert [(change.field, change.values) for change in compared.fields] == [("fat", (Fraction(20), Fraction(22)))]


# --- taking back ----------------------------------------------------------------------------------------------------


def exported(notebook: Notebook) -> str:
    stream = StringIO()
    export_jsonl(notebook, stream)
    return stream.getvalue()


_CHANGES = {
    "save": lambda notebook: notebook.save(SUPPER),
    "save other": lambda notebook: notebook.save(named("Boat race")),
    "rate": lambda notebook: notebook.rate("regatta supper", Fraction(3)),
    "note": lambda notebook: notebook.note("regatta supper", "good"),
    "tag": lambda notebook: notebook.tag("boat race", "spring"),
    "rename": lambda notebook: notebook.rename("regatta supper", "Boat race"),
    "rename back": lambda notebook: notebook.rename("boat race", "Regatta supper"),
    "forget": lambda notebook: notebook.forget("regatta supper"),
    "weigh": lambda notebook: notebook.weighed("boat race", {"round": Fraction(900)}),
    "stock": lambda notebook: notebook.put_stock(Stocked("chuck", Fraction(500), Fraction(12), "EUR")),
    "more stock": lambda notebook: notebook.put_stock(Stocked("Chuck", Fraction(900))),
    "drop stock": lambda notebook: notebook.drop_stock("chuck"),
    "set": lambda notebook: notebook.set_setting("units", "metric"),
    "unset": lambda notebook: notebook.drop_setting("units"),
}


@given(plan=st.lists(st.sampled_from(sorted(_CHANGES)), max_size=12))
@settings(max_examples=25, deadline=None)
def test_undo_walks_back_through_any_changes_state_by_state(plan: list[str]) -> None:
    with TemporaryDirectory() as folder, Notebook(Path(folder) / "n.db", now=ticking()) as notebook:
        states = [exported(notebook)]
        for change in plan:
            remembered = len(notebook.last_changes(100))
            try:
                _CHANGES[change](notebook)
            except NoSuchBatch:
                assert exported(notebook) == states[-1]  # refused: nothing changed, and nothing to take back
            if len(notebook.last_changes(100)) > remembered:
                states.append(exported(notebook))
        for state in reversed(states[:-1]):
            notebook.undo_last()
            assert exported(notebook) == state
        with pytest.raises(NothingToUndo):
            notebook.undo_last()
        notebook.check()


def test_undo_tells_what_it_took_back(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    notebook.rate("regatta", Fraction(2))
    assert [(change.what, change.name) for change in notebook.last_changes()] == [
        ("rate", "Regatta supper"),
        ("save", "Regatta supper"),
    ]
    assert notebook.undo_last().what == "rate"
    assert notebook.get("regatta").rating is None


def test_only_so_many_changes_are_remembered(notebook: Notebook) -> None:
    for number in range(120):
        notebook.set_setting("count", str(number))
    assert len(notebook.last_changes(500)) == 100


def test_an_id_is_never_given_twice(notebook: Notebook) -> None:
    first = notebook.save(SUPPER)
    notebook.undo_last()
    assert notebook.save(SUPPER).id > first.id


# --- stock, settings, timers ----------------------------------------------------------------------------------------


def test_stock_is_kept_by_cut(notebook: Notebook) -> None:
    kept = notebook.put_stock(Stocked("Pork Shoulder", Fraction(1361), Fraction(7, 2), "GBP", Fraction(23)))
    assert kept.updated == FRIDAY
    assert notebook.stocked("pork shoulder") == kept
    assert notebook.stocked("chuck") is None
    newer = notebook.put_stock(Stocked("pork shoulder", Fraction(900)))
    assert notebook.stock() == (newer,)
    assert notebook.drop_stock("PORK shoulder")
    assert not notebook.drop_stock("pork shoulder")


def test_settings_are_texts(notebook: Notebook) -> None:
    notebook.set_setting("units", "metric")
    notebook.set_setting("Country", "gb")
    assert notebook.settings() == {"Country": "gb", "units": "metric"}
    assert (notebook.setting("UNITS"), notebook.setting("voice")) == ("metric", None)
    assert notebook.drop_setting("units")
    assert not notebook.drop_setting("units")


def test_timers_come_the_next_due_first_and_are_no_matter_for_undo(notebook: Notebook) -> None:
    late = TimerNote("grill", FRIDAY + timedelta(minutes=9), FRIDAY)
    soon = TimerNote("rest", FRIDAY + timedelta(minutes=5), FRIDAY, paused=FRIDAY + timedelta(minutes=1))
    notebook.put_timer(late)
    notebook.put_timer(soon)
    assert notebook.timers() == (soon, late)
    with pytest.raises(NothingToUndo):
        notebook.undo_last()
    assert notebook.drop_timer("Rest")
    assert not notebook.drop_timer("rest")
    assert notebook.timers() == (late,)


# --- text -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "kept", "removed"),
    [
        ("Friday burgers", "Friday burgers", ()),
        ("\u202eyadnuS", "yadnuS", ("U+202E",)),
        ("a\x1b[31mb\x00", "a[31mb", ("U+001B", "U+0000")),
        (" two\nlines\tand a tab ", "two lines and a tab", ()),
        ("Köfte 羊肉 ½ 👨‍🍳", "Köfte 羊肉 ½ 👨‍🍳", ()),
        ("Robert'); DROP TABLE batches;--", "Robert'); DROP TABLE batches;--", ()),
        ("\ud800x", "x", ("U+D800",)),
    ],
)
def test_names_are_plain_text(notebook: Notebook, typed: str, kept: str, removed: tuple[str, ...]) -> None:
    assert (clean_name(typed).text, clean_name(typed).removed) == (kept, removed)
    assert notebook.save(named(typed)).name == kept
    assert notebook.get(kept).name == kept


@pytest.mark.parametrize("name", ["", "  ", "\u202e\x00", "x" * 81])
def test_names_that_cannot_be_kept_are_refused(notebook: Notebook, name: str) -> None:
    with pytest.raises(BadInput):
        notebook.save(named(name))
    assert notebook.count() == 0


@given(text=st.text(max_size=60))
@settings(max_examples=100, deadline=None)
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    try:
        once = clean_text(text)
    except BadInput:
        return
    assert clean_text(once.text) == replace(once, removed=())


# --- the file -------------------------------------------------------------------------------------------------------


def test_reading_makes_no_file_and_writing_does(tmp_path: Path) -> None:
    path = tmp_path / "new" / "notebook.db"
    with Notebook(path) as notebook:
        assert notebook.all() == ()
        assert notebook.settings() == {}
        assert notebook.drop_stock("chuck") is False
        assert not path.parent.exists()
        notebook.save(SUPPER)
        assert [file.name for file in path.parent.iterdir()] == ["notebook.db"]


def test_two_notebooks_on_one_file_see_each_other(tmp_path: Path) -> None:
    with Notebook(tmp_path / "n.db") as one, Notebook(tmp_path / "n.db") as other:
        assert other.all() == ()
        one.save(SUPPER)
        assert names(other.all()) == ["Regatta supper"]
        other.save(SUPPER)
        assert one.get("regatta").version == 2


def test_a_closed_notebook_opens_again(notebook: Notebook) -> None:
    notebook.save(SUPPER)
    notebook.close()
    assert notebook.count() == 1


def test_importing_the_notebook_loads_no_database() -> None:
    late = "{'sqlite3', 'platformdirs', 'tempfile', 'csv'}"
    code = f"import sys, assistant.notebook; print(sorted({late} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_place_of_the_notebook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert default_path(tmp_path / "a.db", {"MINCEWISE_NOTEBOOK": "/b.db"}) == tmp_path / "a.db"
    assert default_path(None, {"MINCEWISE_NOTEBOOK": "/b.db"}) == Path("/b.db")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    if sys.platform == "linux":
        assert default_path(None, {}) == tmp_path / "mincewise" / "notebook.db"


def test_the_names_are_those_of_now_also_when_another_program_writes(tmp_path: Path) -> None:
    """They are asked for at every line and kept between two, so a save elsewhere must be seen, and an undo here."""
    path = tmp_path / "notebook.db"
    with Notebook(path) as here, Notebook(path) as there:
        assert here.names() == {}
        there.save(named("Fair stall"))
        assert list(here.names().values()) == ["Fair stall"]
        here.save(named("Regatta"))
        assert list(here.names().values()) == ["Regatta", "Fair stall"]
        here.undo_last()
        assert list(here.names().values()) == ["Fair stall"]
        assert list(here.names(limit=1)) == ["fair stall"]
