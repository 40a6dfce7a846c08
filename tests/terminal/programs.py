"""Running the program as people do: in a process of its own, with pipes or on a terminal of a given size."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
STANDIN = (sys.executable, "-m", "tests.terminal.standin")
STILL = (sys.executable, "-m", "tests.terminal.still")
REAL = (sys.executable, "-m", "assistant")


def environment(home: Path, **more: str) -> dict[str, str]:
    """A bare environment with a home of its own."""
    return {
        "PATH": os.environ["PATH"],
        "HOME": str(home),
        "LANG": "C.UTF-8",
        "TERM": "xterm",
        "PYTHONPATH": str(ROOT),
        "PYTHONDONTWRITEBYTECODE": os.environ.get("PYTHONDONTWRITEBYTECODE", ""),
        **more,
    }


def run(
    home: Path, *arguments: str, stdin: bytes = b"", program: tuple[str, ...] = STANDIN, **more: str
) -> subprocess.CompletedProcess[bytes]:
    """The program with pipes at both ends, until it ends."""
    return subprocess.run(
        [*program, *arguments], input=stdin, capture_output=True, env=environment(home, **more), cwd=ROOT, timeout=60
    )


class Screen:
    """The program on a terminal of its own, as pyte draws it. Answers the cursor-position request as terminals do."""

    def __init__(
        self,
        home: Path,
        columns: int,
        *arguments: str,
        rows: int = 40,
        program: tuple[str, ...] = STANDIN,
        **more: str,
    ) -> None:
        import pexpect
        import pyte

        self.screen = pyte.Screen(columns, rows)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""
        self.child: Any = pexpect.spawn(
            program[0],
            [*program[1:], *arguments],
            env=environment(home, **more),
            cwd=str(ROOT),
            dimensions=(rows, columns),
            timeout=20,
        )

    def send(self, text: str) -> None:
        """Type."""
        self.child.send(text)

    def read(self, quiet: float = 0.4) -> None:
        """Take in what the program writes until it has been quiet for a while (a toolbar is never quiet for 1 s)."""
        import time

        import pexpect

        end = time.monotonic() + max(5 * quiet, 3)
        while time.monotonic() < end:
            try:
                data = self.child.read_nonblocking(65536, timeout=quiet)
            except (pexpect.TIMEOUT, pexpect.EOF):
                return
            self.raw += data
            self.stream.feed(data)
            for _ in range(data.count(b"\x1b[6n")):
                self.child.send(f"\x1b[{self.screen.cursor.y + 1};{self.screen.cursor.x + 1}R")

    def until(self, text: str, seconds: float = 20) -> None:
        """Wait for text on the screen."""
        import time

        end = time.monotonic() + seconds
        while text not in self.text():
            assert time.monotonic() < end, f"{text!r} never came:\n{self.text()}"
            self.read(0.1)
        self.read(0.3)

    def text(self) -> str:
        """The screen's lines without blanks at their ends."""
        return "\n".join(line.rstrip() for line in self.screen.display).rstrip()

    def end(self) -> int:
        """Wait for the end; the exit status, or 128 + the signal."""
        self.read(0.3)
        self.child.expect(_eof(), timeout=20)
        self.child.close()
        status: int | None = self.child.exitstatus
        return status if status is not None else 128 + int(self.child.signalstatus)


def _eof() -> Any:
    import pexpect

    return pexpect.EOF
