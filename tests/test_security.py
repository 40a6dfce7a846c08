"""Nothing leaves this machine, nothing is run, and nothing is written outside the data folder."""

from __future__ import annotations

import ast
import socket
import subprocess
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

import assistant
from assistant import Conversation

SOURCES = sorted(Path(assistant.__file__).parent.rglob("*.py"))
FORBIDDEN_CALLS = {"eval", "exec", "compile", "__import__"}
FORBIDDEN_MODULES = {
    "pickle",
    "marshal",
    "shelve",
    "subprocess",
    "socket",
    "ssl",
    "urllib",
    "http",
    "ftplib",
    "smtplib",
    "telnetlib",
    "requests",
    "ctypes",
    "pty",
    "code",
    "webbrowser",
}
FORBIDDEN_OS = {"system", "popen", "spawnl", "spawnv", "execv", "execl", "execvp", "fork", "posix_spawn"}

EVENING = (
    "3 lb at 80/20 from round 8% and suet 92%",
    "into 6 oz patties",
    "salt 1.5%",
    "save that as Regatta",
    "rate Regatta 4/5",
    "show Regatta",
    "how long to thaw 2 lb in the fridge",
    "set a timer for 10 minutes",
    "convert 2 lb to kg",
    "i have 4 lb round in the freezer, remember that",
    "save that as ../../outside",
    "save that as '; DROP TABLE batches; --",
    "$(touch canary) `touch canary` | touch canary",
    "__import__('os').system('touch canary')",
    "{0.__class__.__init__.__globals__}",
    "undo",
)


def _parsed() -> Iterator[tuple[Path, ast.AST]]:
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield path, node


def test_there_are_sources_to_look_at() -> None:
    assert len(SOURCES) > 50


def test_nothing_is_evaluated_and_no_module_that_runs_or_sends_is_imported() -> None:
    found = []
    for path, node in _parsed():
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in FORBIDDEN_CALLS:
            found.append(f"{path.name}:{node.lineno} {node.func.id}()")
        if isinstance(node, ast.Import):
            found += [f"{path.name}:{node.lineno}" for a in node.names if a.name.split(".")[0] in FORBIDDEN_MODULES]
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in FORBIDDEN_MODULES:
            found.append(f"{path.name}:{node.lineno} from {node.module}")
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "os":
            found += [f"{path.name}:{node.lineno} os.{node.attr}"] if node.attr in FORBIDDEN_OS else []
    assert found == []


def test_sql_is_never_put_together_from_what_was_typed() -> None:
    """An f-string or a sum handed to execute() may hold only names of our own tables: none is used at all with
    values, which go in as parameters."""
    found = []
    for path, node in _parsed():
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "execute"):
            continue
        if node.args and isinstance(node.args[0], ast.BinOp) and isinstance(node.args[0].op, ast.Mod):
            found.append(f"{path.name}:{node.lineno}")
        if node.args and isinstance(node.args[0], ast.Call) and isinstance(node.args[0].func, ast.Attribute):
            found += [f"{path.name}:{node.lineno}"] if node.args[0].func.attr == "format" else []
    assert found == []


@pytest.fixture
def sealed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A folder to work in, with every way out closed."""

    def no_way_out(*_: object, **__: object) -> None:
        raise AssertionError("a request opened a socket or started a program")

    monkeypatch.setattr(socket, "socket", no_way_out)
    monkeypatch.setattr(socket, "create_connection", no_way_out)
    monkeypatch.setattr(socket, "getaddrinfo", no_way_out)
    monkeypatch.setattr(subprocess, "Popen", no_way_out)
    monkeypatch.setattr("os.system", no_way_out)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_asking_opens_no_socket_and_writes_only_into_the_data_folder(sealed: Path) -> None:
    data = sealed / "data"
    data.mkdir()
    conversation = Conversation(data / "notebook.db", now=lambda: datetime(2027, 6, 18, 16, 30, tzinfo=UTC))
    answers = [conversation.ask(line) for line in EVENING]
    assert all(answer.message or answer.headline for answer in answers)
    written = {path.relative_to(sealed).parts[0] for path in sealed.rglob("*")}
    assert written == {"data"}
    assert (data / "notebook.db").exists()
    assert all(path.name.startswith("notebook.db") for path in data.rglob("*"))


def test_a_question_that_needs_no_notebook_writes_nothing_at_all(sealed: Path) -> None:
    conversation = Conversation(sealed / "data" / "notebook.db")
    conversation.ask("3 lb at 80/20 from round 8% and suet 92%")
    assert list(sealed.rglob("*")) == []


def test_names_with_sql_in_them_are_only_names(tmp_path: Path) -> None:
    conversation = Conversation(tmp_path / "notebook.db")
    conversation.ask("3 lb at 80/20 from round 8% and suet 92%")
    conversation.ask("save that as Robert'); DROP TABLE batches;--")
    conversation.ask("save that as Regatta")
    again = Conversation(tmp_path / "notebook.db")
    assert "Regatta" in str(again.ask("show my saved batches").as_data())
