"""Builds the wheel from the sdist, installs it in an environment of its own elsewhere, and asks it one question."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
QUESTION = "3 lb at 80/20 from brisket trim and round"


def main() -> int:
    """0 where the installed command answers the question; raises where a step fails."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        venv.create(place / "env", with_pip=True)
        scripts = place / "env" / ("Scripts" if sys.platform == "win32" else "bin")
        python = str(scripts / "python")
        _run([python, "-m", "pip", "install", "--quiet", "build"])
        # "python -m build" makes the sdist first and the wheel out of that sdist, not out of this folder
        _run([python, "-m", "build", "--outdir", str(place / "dist"), str(ROOT)])
        wheel = next((place / "dist").glob("*.whl"))
        _run([python, "-m", "pip", "install", "--quiet", str(wheel)])
        out = _run([str(scripts / "mincewise"), "ask", "--json", QUESTION], cwd=place)
        answer = json.loads(out)
        assert answer["status"] == "answered", answer
        assert sum(f["value"] for f in answer["figures"] if f["role"] == "component") == 3.0, answer
        print(f"{wheel.name}: installed elsewhere, answered {QUESTION!r}")
    return 0


def _run(command: list[str], cwd: Path | None = None) -> str:
    done = subprocess.run(command, cwd=cwd, check=False, capture_output=True, text=True)
    if done.returncode != 0:
        print(done.stdout, done.stderr, file=sys.stderr)
        raise SystemExit(f"failed: {' '.join(command)}")
    return done.stdout


if __name__ == "__main__":
    raise SystemExit(main())
