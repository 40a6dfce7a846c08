"""The command line: reading the call, pipes, exit status, what is loaded."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import asking
from assistant.cli import WrongCallError, main, read_call
from tests.terminal.programs import run


def test_options_may_stand_anywhere_before_the_dashes() -> None:
    call = read_call(["ask", "3", "lb", "--json", "of", "--units=metric", "it", "--", "--plain"])
    assert (call.command, call.words) == ("ask", ["3", "lb", "of", "it", "--plain"])
    assert (call.flags, call.values) == ({"--json"}, {"--units": "metric"})


@pytest.mark.parametrize("word", ["-5", "-10C", "-.5", "-"])
def test_a_number_below_zero_is_no_option(word: str) -> None:
    assert read_call(["ask", word, "C", "in", "F"]).words[0] == word


@pytest.mark.parametrize(
    "arguments",
    [["--jsn"], ["ask", "-x"], ["--units", "stone"], ["--units"], ["--notebook"], ["--notebook="], ["3 lb"], ["--json"],
     ["ask", "--live", "x"], ["ask", "--plain=1", "x"], ["replay"], ["completion"], ["completion", "bash", "zsh"]],
)  # fmt: skip
def test_a_wrong_call_says_what_to_write(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("mincewise: ")
    assert "--help" in told.err


@given(st.lists(st.text(max_size=6), max_size=5))
def test_any_arguments_make_a_call_or_a_refusal(arguments: list[str]) -> None:
    try:
        call = read_call(["ask", *arguments])
    except WrongCallError:
        assert any(argument.startswith("-") for argument in arguments)
        return
    assert call.command == "ask"
    assert len(call.words) <= len(arguments)


def test_one_conversation_for_all_lines_or_one_for_each(tmp_path: Path) -> None:
    together = run(tmp_path, "ask", "--json", stdin=b"count\ncount\n").stdout.splitlines()
    apart = run(tmp_path, "ask", "--json", "--independent", stdin=b"count\ncount\n").stdout.splitlines()
    assert [json.loads(line)["message"] for line in together] == ["asked 1", "asked 2"]
    assert [json.loads(line)["message"] for line in apart] == ["asked 1", "asked 1"]


def test_units_reach_the_conversation(tmp_path: Path) -> None:
    assert run(tmp_path, "ask", "--units", "metric", "units").stdout == b"units metric\n"


def test_bytes_that_are_not_utf_8_are_replaced_and_told(tmp_path: Path) -> None:
    told = run(tmp_path, "ask", "--json", stdin=b"\xef\xbb\xbfcount\r\n3 lb \xff\xfe\n")
    first, second = map(json.loads, told.stdout.splitlines())
    assert (told.returncode, told.stderr) == (0, b"")
    assert first["message"] == "asked 1"
    assert first["notes"] == []
    assert "not UTF-8" in second["notes"][-1]
    argument = asking.from_argument(b"3 lb \xff".decode("utf-8", "surrogateescape"))
    assert argument == asking.Request("3 lb \N{REPLACEMENT CHARACTER}", unreadable=True)


def test_a_very_long_line_reaches_the_conversation_whole(tmp_path: Path) -> None:
    long = "x" * 50_000
    answer = json.loads(run(tmp_path, "ask", "--json", stdin=long.encode()).stdout)
    assert answer["heard"] == long


def test_a_caution_is_repeated_neither_in_one_conversation_nor_left_out_of_json(tmp_path: Path) -> None:
    plain = run(tmp_path, stdin=b"3 lb of it\n3 lb of it\n").stdout.decode()
    assert plain.count("160 °F") == 1
    lines = run(tmp_path, "ask", "--json", stdin=b"3 lb of it\n3 lb of it\n").stdout.splitlines()
    assert [len(json.loads(line)["cautions"]) for line in lines] == [3, 3]


def test_a_fault_inside_is_an_answer_and_the_next_line_is_still_answered(tmp_path: Path) -> None:
    told = run(tmp_path, "ask", "--json", stdin=b"break\ncount\n")
    fault, after = map(json.loads, told.stdout.splitlines())
    assert (told.returncode, fault["status"], fault["topic"]) == (1, "not_understood", "fault")
    assert after["message"] == "asked 2"


def test_notebook_out_and_in_again(tmp_path: Path) -> None:
    from assistant.notebook import Batch, Notebook

    first, second, out = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "out.jsonl"
    with Notebook(first) as notebook:
        notebook.save(Batch(name="river supper"))
    assert run(tmp_path, "notebook", "export", str(out), "--notebook", str(first)).returncode == 0
    assert run(tmp_path, "notebook", "export", str(out), "--notebook", str(first)).returncode == 1  # never overwritten
    assert run(tmp_path, "notebook", "import", str(out), "--notebook", str(second)).stdout == b"1 records taken in\n"
    again = run(tmp_path, "notebook", "export", "--notebook", str(second))
    assert again.stdout == out.read_bytes()
    assert run(tmp_path, "notebook", "check", "--notebook", str(second)).stdout == b"1 batch, nothing damaged\n"
