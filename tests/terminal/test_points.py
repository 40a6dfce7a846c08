"""The thirty conventions of a good terminal program, each with a test that names its number."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import signal
import stat
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from msgspec.structs import replace

from assistant import cli
from assistant.answer import Answer
from assistant.completion import script
from assistant.render import RENDERERS, terminal
from assistant.render.lines import cells
from assistant.render.screen import Page, page_for, wants_color, width_of
from tests.terminal.programs import REAL, ROOT, STANDIN, Screen, environment, run
from tests.terminal.standin import BLEND

HEAVY = ("rich", "prompt_toolkit", "asyncio", "importlib.metadata", "lark", "pint", "platformdirs", "sqlite3")
WAITING = "\n>"
PREPARE = "from tests.terminal import standin; standin.put_in_place()"


def loaded_after(call: list[str], home: Path, prepare: str = PREPARE) -> set[str]:
    """The modules that a process has loaded once it has carried out a call, without those of the stand-in."""
    code = f"""
import io, sys
{prepare}
from assistant import cli
sys.stdout = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
cli.main({call!r})
sys.__stdout__.write("\\n".join(sys.modules))
"""
    found = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env=environment(home),
        cwd=ROOT,
        check=True,
        input="",
    )
    return set(found.stdout.split("\n"))


def shown(answer: Answer, width: int, layout: str = "terminal", ascii_only: bool = False, color: bool = False) -> str:
    return RENDERERS[layout](answer, Page(layout, width, ascii_only, color))


@pytest.fixture
def talk(tmp_path: Path) -> Screen:
    screen = Screen(tmp_path, 80)
    screen.until(WAITING)
    return screen


def test_point_01_answers_on_stdout_diagnostics_on_stderr(tmp_path: Path) -> None:
    answered = run(tmp_path, "ask", "--json", "3 lb of it")
    assert json.loads(answered.stdout)["status"] == "answered"
    assert answered.stderr == b""
    refused = run(tmp_path, "ask", "--json", "nonsense")
    assert json.loads(refused.stdout)["status"] == "not_understood"
    wrong = run(tmp_path, "ask", "--jsn", "3 lb of it")
    assert wrong.stdout == b""
    assert wrong.stderr.startswith(b"mincewise: ")


def test_point_02_exit_status(tmp_path: Path) -> None:
    assert run(tmp_path, "ask", "3 lb of it").returncode == 0
    assert run(tmp_path, "ask", stdin=b"3 lb of it\nnonsense\n3 lb of it\n").returncode == 1
    assert run(tmp_path, "ask", "--units", "stone", "3 lb").returncode == 2
    slow = subprocess.Popen(
        [*STANDIN, "ask", "slow"], env=environment(tmp_path), cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    time.sleep(1)
    slow.send_signal(signal.SIGINT)
    out, err = slow.communicate(timeout=20)
    assert (slow.returncode, out, err) == (130, b"", b"")


@pytest.mark.parametrize("call", [["--help"], ["-h"], ["ask", "-h"], ["ask", "3 lb", "--help"], ["--version"]])
def test_point_03_help_and_version_anywhere_and_nothing_heavy(tmp_path: Path, call: list[str]) -> None:
    assert not loaded_after(call, tmp_path, prepare="") & {*HEAVY, "assistant.answer", "argparse"}
    told = run(tmp_path, *call, program=REAL)
    assert told.returncode == 0
    if "--version" not in call:
        page = told.stdout.decode()
        assert page.index("Examples") < page.index("Commands") < page.index("Options")
        assert max(map(len, page.splitlines())) <= 80


def test_point_04_piped_input_loads_no_line_editor_and_ends_with_its_input(tmp_path: Path) -> None:
    assert not loaded_after([], tmp_path) & {"prompt_toolkit", "asyncio", "rich"}
    empty = run(tmp_path)
    assert (empty.returncode, empty.stdout, empty.stderr) == (0, b"", b"")
    two = run(tmp_path, stdin=b"count\n\n  \ncount")
    assert two.stdout.decode().split() == ["asked", "1", "asked", "2"]


def test_point_05_piped_output_has_no_escape_and_a_width(tmp_path: Path) -> None:
    piped = run(tmp_path, "ask", "3 lb of it").stdout.decode()
    assert "\x1b" not in piped
    assert max(map(cells, piped.splitlines())) <= 80
    narrow = run(tmp_path, "ask", "3 lb of it", COLUMNS="44").stdout.decode()
    assert max(map(cells, narrow.splitlines())) <= 44


def test_point_06_each_end_is_decided_by_itself(tmp_path: Path) -> None:
    into_file = Screen(tmp_path, 80, "ask")  # a terminal at both ends, but asked for lines: colour, no prompt
    into_file.until("One request a line")
    into_file.send("3 lb of it\r")
    into_file.until("Grind coarse")
    assert b"\x1b[1m" in into_file.raw
    assert b"\x1b[?2004h" not in into_file.raw
    into_file.send("\x04")
    assert into_file.end() == 0
    out = tmp_path / "out.txt"
    command = f"{' '.join(STANDIN)} > {out}"
    import pexpect

    child = pexpect.spawn("/bin/sh", ["-c", command], env=environment(tmp_path), cwd=str(ROOT), timeout=20)
    child.expect("One request a line")
    child.sendline("3 lb of it")
    child.sendeof()
    child.expect(pexpect.EOF)
    assert "\x1b" not in out.read_text(encoding="utf-8")
    assert out.read_text(encoding="utf-8").startswith("15 oz brisket trim")


def test_point_07_no_color_means_none(tmp_path: Path) -> None:
    assert not wants_color("auto", {"NO_COLOR": "1"}, terminal=True)
    assert wants_color("auto", {"NO_COLOR": ""}, terminal=True)
    screen = Screen(tmp_path, 80, "ask", "3 lb of it", NO_COLOR="1")
    screen.end()
    assert b"\x1b" not in screen.raw


def test_point_08_force_color_0_does_not_force() -> None:
    assert not wants_color("auto", {"FORCE_COLOR": "0"}, terminal=False)
    assert not wants_color("auto", {"FORCE_COLOR": "0"}, terminal=True)
    assert wants_color("auto", {"FORCE_COLOR": "1"}, terminal=False)


def test_point_09_the_flag_beats_the_variables(tmp_path: Path) -> None:
    assert wants_color("always", {"NO_COLOR": "1", "TERM": "dumb"}, terminal=False)
    assert not wants_color("never", {"FORCE_COLOR": "1"}, terminal=True)
    assert not wants_color("auto", {"NO_COLOR": "1", "FORCE_COLOR": "1"}, terminal=True)
    assert b"\x1b[1m" in run(tmp_path, "ask", "--color", "always", "3 lb of it", NO_COLOR="1").stdout
    assert b"\x1b" not in run(tmp_path, "ask", "--color=never", "3 lb of it", FORCE_COLOR="1").stdout


def test_point_10_dumb_terminal_gets_no_escape_in_chat_either(tmp_path: Path) -> None:
    screen = Screen(tmp_path, 50, TERM="dumb")
    screen.until(WAITING)
    screen.send("3 lb of it\r")
    screen.until("type more")
    screen.send("\x04")
    assert screen.end() == 0
    assert b"\x1b" not in screen.raw
    assert max(map(len, screen.raw.decode().splitlines())) <= 50


@pytest.mark.parametrize("layout", ["plain", "terminal"])
@pytest.mark.parametrize("width", range(30, 201, 10))
def test_point_11_no_number_unit_or_safety_word_is_cut(width: int, layout: str) -> None:
    lines = shown(BLEND, width, layout).splitlines()
    for whole in (
        "15 oz",
        "2 lb 1 oz",
        "3 lb",
        "20%",
        "16.1",
        "24.2%",
        "45% fat",
        "8.8% fat",
        "160 °F",
        "71 °C",
        "Safety:",
    ):
        assert any(whole in line for line in lines), whole


@pytest.mark.parametrize("layout", ["plain", "terminal"])
@pytest.mark.parametrize("width", [40, 60, 80, 120, 200])
def test_point_12_no_line_is_longer_than_the_terminal_nor_prose_than_100(width: int, layout: str) -> None:
    long = replace(BLEND, steps=("Turn the meat and look at it again. " * 12,), notes=("x" * 250,))
    assert max(map(cells, shown(long, width, layout).splitlines())) <= min(width, 100)


def test_point_13_the_next_answer_uses_the_new_width(talk: Screen) -> None:
    talk.child.setwinsize(40, 44)
    talk.screen.resize(40, 44)
    talk.send("3 lb of it\r")
    talk.until("type more")
    answer = talk.text()[talk.text().index("15 oz brisket") :]
    assert "Read as: Plan 3 lb at 80% lean / 20% fat" in answer
    assert max(map(len, answer.splitlines())) <= 44
    assert "  from brisket trim and round" in answer


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437"])
def test_point_14_an_output_without_utf_8_gets_words_not_a_traceback(tmp_path: Path, encoding: str) -> None:
    told = run(tmp_path, "ask", "3 lb of it", PYTHONIOENCODING=encoding)
    assert (told.returncode, told.stderr) == (0, b"")
    assert b"1 1/2 in cubes" in told.stdout
    assert b"160 deg F (71 deg C)" in told.stdout
    assert told.stdout.isascii()


def test_point_15_colour_carries_nothing_alone() -> None:
    colored = shown(BLEND, 80, color=True)
    assert re.sub(r"\x1b\[[0-9;]*m", "", colored) == shown(BLEND, 80)
    assert sum(line.startswith("Safety:") for line in shown(BLEND, 80).splitlines()) == 3


def test_point_16_linear_mode_has_label_and_value_on_one_line_and_nothing_moves(tmp_path: Path) -> None:
    lines = shown(BLEND, 72, "plain").splitlines()
    assert lines[:5] == [
        "15 oz brisket trim and 2 lb 1 oz round.",
        "  brisket trim: 15 oz, 45% fat",
        "  round: 2 lb 1 oz, 8.8% fat",
        "  batch: 3 lb",
        "  fat: 20% (16.1 to 24.2%)",
    ]
    screen = Screen(tmp_path, 80, "--plain")
    screen.until(WAITING)
    screen.send("3 lb of it\r")
    screen.until("type more")
    assert b"\x1b" not in screen.raw
    assert not re.search(r"[\u2500-\u259f]", screen.text())


@pytest.mark.parametrize("text", ["[brisket]", "[/oops]", "[bold red]x[/]", ":fire:", "**x**"])
def test_point_17_people_s_text_is_printed_literally(text: str) -> None:
    named = replace(BLEND, headline=text, steps=(text,), notes=(text,), figures=(replace(BLEND.figures[0], name=text),))
    for layout in ("plain", "terminal"):
        assert shown(named, 80, layout).count(text) == 4


def test_point_18_control_bytes_never_reach_the_screen() -> None:
    bad = "a\x1b[31mb\x07c\x9b2Jd\u202ee\u200bf\rg\x00"
    named = replace(
        BLEND,
        headline=bad,
        message=bad + "!",
        understood=bad,
        steps=(bad,),
        notes=(bad,),
        figures=(replace(BLEND.figures[0], name=bad, shown=bad),),
    )
    for layout in ("plain", "terminal", "json"):
        text = shown(named, 80, layout)
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069]", text), layout
    assert "a[31mbc2Jdef g" in shown(named, 80)


def test_point_18_what_is_typed_or_pasted_never_reaches_the_terminal_raw(talk: Screen) -> None:
    talk.send("\x1b[200~count \u202eabc\u200b \x1b]0;title\x07 x\x1b[201~")
    talk.until("abc")
    assert not re.search("[\u202a-\u202e\u2066-\u2069\u200b]", talk.raw.decode("utf-8", "replace"))
    assert b"\x1b]0;" not in talk.raw
    assert "count \ufffdabc\ufffd" in talk.text()
    talk.send("\r")
    talk.until("did not understand")
    assert not re.search("[\u202a-\u202e\u2066-\u2069\u200b]", talk.raw.decode("utf-8", "replace"))


def test_point_18_nor_does_what_the_notebook_holds(tmp_path: Path) -> None:
    from assistant.notebook import Notebook, Stocked

    file = tmp_path / "notebook.db"
    with Notebook(file) as notebook:
        notebook.set_setting("label \u202eevil\x1b[31m", "4.5")
        notebook.put_stock(Stocked("bad\x1b[2J\u202ecut", grams=Fraction(1000)))
    told = run(tmp_path, "ask", "what's in my kitchen?", "--notebook", str(file), program=REAL).stdout.decode()
    assert "bad" in told
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069]", told)


@pytest.mark.slow
def test_point_19_ctrl_c_drops_the_line_and_says_how_to_leave_and_stops_work(talk: Screen) -> None:
    talk.send("half a line")
    talk.until("half a line")
    talk.send("\x03")
    talk.until("Line dropped. Ctrl-D leaves.")
    talk.send("count\r")
    talk.until("asked 1")
    talk.send("slow\r")
    talk.until("> slow")
    talk.send("\x03")
    talk.until("Stopped.", seconds=10)
    talk.send("count\r")
    talk.until("asked 3")


def test_point_20_ctrl_d_leaves_only_from_an_empty_line(talk: Screen) -> None:
    talk.send("cou\x04")
    talk.read()
    talk.send("nt\r")
    talk.until("asked 1")
    talk.send("\x04")
    assert talk.end() == 0


def test_point_20_enter_runs_the_line_and_never_a_suggestion(talk: Screen) -> None:
    talk.send("count")
    talk.send("\r")
    talk.until("asked 1")
    talk.send("bri")
    talk.until("brisket")
    talk.send("\r")
    talk.until('did not understand "bri"')
    talk.send("bri")
    talk.until("> bri")
    talk.send("\t\r")
    talk.until('did not understand "brisket"')


def test_point_21_a_paste_of_several_lines_runs_line_by_line(talk: Screen) -> None:
    talk.send("\x1b[200~count\ncount\ncount\x1b[201~")
    talk.read()
    assert "asked" not in talk.text()
    talk.send("\r")
    talk.until("asked 3")
    assert [f"asked {number}" in talk.text() for number in (1, 2, 3)] == [True] * 3


@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_point_22_a_signal_gives_the_terminal_back(tmp_path: Path, number: signal.Signals, status: int) -> None:
    import termios

    talk = Screen(tmp_path, 80)
    before = termios.tcgetattr(talk.child.fileno())[3]
    talk.until(WAITING)
    assert termios.tcgetattr(talk.child.fileno())[3] & termios.ICANON == 0
    os.kill(talk.child.pid, number)
    talk.read(1)
    after = termios.tcgetattr(talk.child.fileno())[3]
    assert after & (termios.ECHO | termios.ICANON) == before & (termios.ECHO | termios.ICANON)
    assert b"\x1b[?2004l" in talk.raw
    assert talk.end() == status


def test_point_23_head_closes_the_pipe_in_silence(tmp_path: Path) -> None:
    many = "count\n" * 20000
    told = subprocess.run(
        ["/bin/sh", "-c", f"{' '.join(STANDIN)} | head -1"],
        input=many.encode(),
        capture_output=True,
        env=environment(tmp_path),
        cwd=ROOT,
        timeout=60,
    )
    assert told.stdout == b"asked 1\n"
    assert told.stderr == b""


@pytest.mark.slow
def test_point_24_history_is_private_capped_can_be_off_and_only_the_chats(tmp_path: Path) -> None:
    run(tmp_path, "ask", "3 lb of it")
    assert not (tmp_path / ".local").exists()
    old = tmp_path / "old" / "history"
    old.parent.mkdir()
    old.write_text("".join(f"\n# day {number}\n+line {number}\n" for number in range(1500)))
    talk = Screen(tmp_path, 80, MINCEWISE_HISTORY=str(old))
    talk.until(WAITING)
    talk.send("count\r")
    talk.until("asked 1")
    assert stat.S_IMODE(old.stat().st_mode) == 0o600
    entries = [line for line in old.read_text().splitlines() if line.startswith("+")]
    assert (len(entries), entries[0], entries[-1]) == (1001, "+line 500", "+count")
    usual = Screen(tmp_path, 80)
    usual.until(WAITING)
    folder = tmp_path / ".local/state/mincewise"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / "history").stat().st_mode) == 0o600
    off = Screen(tmp_path / "nobody", 80, MINCEWISE_HISTORY="off")
    off.until(WAITING)
    assert not (tmp_path / "nobody").exists()


def test_point_24_ctrl_r_searches_the_history(talk: Screen) -> None:
    talk.send("count\r")
    talk.until("asked 1")
    talk.send("units\r")
    talk.until("units None")
    talk.send("\x12")
    talk.until("reverse-i-search")
    talk.send("cou")
    talk.until("`cou': count")
    talk.send("\r\r")
    talk.until("asked 3")


def test_point_25_xdg_folders_are_heeded_relative_ones_are_not(tmp_path: Path) -> None:
    state, data = tmp_path / "state", tmp_path / "data"
    told = run(tmp_path, "notebook", "where", XDG_STATE_HOME=str(state), XDG_DATA_HOME=str(data)).stdout.decode()
    assert f"notebook: {data}/mincewise/notebook.db" in told
    assert f"history: {state}/mincewise/history" in told
    relative = run(tmp_path, "notebook", "where", XDG_STATE_HOME="state").stdout.decode()
    assert "history: state" not in relative
    assert "platformdirs" not in loaded_after(["ask", "--json", "3 lb of it"], tmp_path)


def test_point_26_flag_then_environment_then_default_and_one_command_shows_it(tmp_path: Path) -> None:
    by_flag = run(tmp_path, "notebook", "where", "--notebook", "/tmp/flag.db", MINCEWISE_NOTEBOOK="/tmp/variable.db")
    by_variable = run(tmp_path, "notebook", "where", MINCEWISE_NOTEBOOK="/tmp/variable.db", MINCEWISE_HISTORY="off")
    assert b"notebook: /tmp/flag.db\n" in by_flag.stdout
    assert b"notebook: /tmp/variable.db\nhistory: off\n" in by_variable.stdout


@pytest.mark.slow
def test_point_27_timers_in_the_toolbar_and_announced_once_with_the_bell(tmp_path: Path) -> None:
    talk = Screen(tmp_path, 80)
    talk.until(WAITING)
    talk.send("timer\r")
    talk.until("Timer: rest is done.")
    talk.until("rest 4:59")
    for _ in range(6):
        talk.read(0.4)
    assert talk.text().splitlines()[-1] == "rest 4:59"
    assert talk.raw.count(b"Timer: rest is done.") == 1
    assert talk.raw.count(b"\x07") == 1
    silent = Screen(tmp_path, 80, PROMPT_TOOLKIT_BELL="false")
    silent.until(WAITING)
    silent.send("timer\r")
    silent.until("Timer: rest is done.")
    assert b"\x07" not in silent.raw


@pytest.mark.slow
def test_point_27_a_real_timer_rings_once_beside_others_and_one_that_ended_meanwhile_says_since_when(
    tmp_path: Path,
) -> None:
    talk = Screen(tmp_path, 60, program=REAL)
    talk.until(WAITING)
    talk.send("15 minutes for the cubes\r")
    talk.until("cubes 14:5")
    talk.send("set a 2 second timer for the pan\r")
    talk.until("Timer: pan done.")
    talk.until("pan done | cubes 14:")
    assert talk.raw.count(b"Timer: pan done.") == 1
    assert talk.raw.count(b"\x07") == 1
    assert talk.text().splitlines()[-1].startswith("pan done | cubes 14:")
    talk.send("\x04")
    assert talk.end() == 0
    from assistant.notebook import Notebook, TimerNote

    file = tmp_path / ".local/share/mincewise/notebook.db"
    ended = datetime.now(tz=UTC) - timedelta(minutes=5, seconds=30)
    with Notebook(file) as notebook:
        notebook.put_timer(TimerNote("ribs", ended, ended - timedelta(minutes=20)))
    again = Screen(tmp_path, 60, program=REAL)
    again.until("Timer: ribs done, 5 min ago.")
    again.until("cubes 14:")


def test_point_28_never_a_prompt_where_nobody_sits(tmp_path: Path) -> None:
    from assistant.notebook import Batch, Notebook

    file = tmp_path / "notebook.db"
    with Notebook(file) as notebook:
        notebook.save(Batch(name="river supper"))
    refused = run(tmp_path, "notebook", "forget", "river supper", "--notebook", str(file))
    assert refused.returncode == 1
    assert b"--yes" in refused.stderr
    assert run(tmp_path, "notebook", "list", "--notebook", str(file)).stdout.startswith(b"river supper (version 1")
    gone = run(tmp_path, "notebook", "forget", "river supper", "--yes", "--notebook", str(file))
    assert gone.returncode == 0
    assert run(tmp_path, "notebook", "list", "--notebook", str(file)).stdout == b""


def test_point_29_completion_is_a_static_script(tmp_path: Path) -> None:
    for shell in ("bash", "zsh", "fish"):
        text = run(tmp_path, "completion", shell, program=REAL).stdout.decode()
        assert text == script(shell)
        assert "$(mincewise" not in text
    code = script("bash") + "COMP_WORDS=(mincewise --color a); COMP_CWORD=2; _mincewise; echo ${COMPREPLY[@]}"
    told = subprocess.run(["bash", "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout == "auto always\n"
    assert run(tmp_path, "completion", "tcsh", program=REAL).returncode == 2


def test_point_29_every_command_and_option_is_completed_in_every_shell() -> None:
    options = {flag for flags in cli._FLAGS.values() for flag in flags} | set(cli._VALUES) | {"--help", "--version"}
    for shell in ("bash", "zsh", "fish"):
        text = script(shell)
        for word in (*cli.COMMANDS, "forget", "auto always never", "us metric"):
            assert word in text, (shell, word)
        for option in options:
            assert (f"-l {option[2:]}" if shell == "fish" else option) in text, (shell, option)


@pytest.mark.parametrize(("shell", "check"), [("zsh", "-n"), ("fish", "--no-execute")])
def test_point_29_the_other_shells_read_their_script(tmp_path: Path, shell: str, check: str) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed here")
    file = tmp_path / "completion"
    file.write_text(script(shell), encoding="utf-8")
    assert subprocess.run([shell, check, str(file)], capture_output=True).stderr == b""


def test_point_30_nothing_that_windows_lacks_is_needed_at_import(tmp_path: Path) -> None:
    code = """
import sys
for name in ("fcntl", "termios", "pwd", "grp", "resource"):
    sys.modules[name] = None
import signal
del signal.SIGHUP
from tests.terminal import standin
standin.put_in_place()
import assistant.chat, assistant.replay, assistant.notebook_command, assistant.completion
from assistant import cli
sys.exit(cli.main(["ask", "3 lb of it"]))
"""
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, env=environment(tmp_path), cwd=ROOT)
    assert (told.returncode, told.stderr) == (0, b"")
    assert width_of(io.StringIO(), {}) == 80
    assert page_for(io.StringIO(), {}).layout == "plain"
    assert terminal.render(BLEND, 80).endswith("\n")
