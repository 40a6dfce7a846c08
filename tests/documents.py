"""The parts of README.md that the program itself writes: a screen, real questions with their answers, the kinds.

    python -m tests.documents            tell whether README.md is up to date
    python -m tests.documents --update   rewrite those parts

A part begins with <!-- name --> or <!-- name: argument --> and ends with <!-- end -->.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from assistant import Conversation
from assistant.render import plain
from assistant.topics import topics

README = Path(__file__).resolve().parents[1] / "README.md"
NOW = datetime(2026, 7, 4, 15, 0, tzinfo=UTC)
QUESTIONS = (
    "gonna grind 4 lb, 80/20, top round plus beef suet. how much of each",
    "I have 2 kg of wild boar shoulder at 5% fat and pork belly at 45%. I want it at 22. How much belly?",
    "need ten lb of 80/20, have 1 lb trim at 50% and 20 lb of round at 8%",
    "too lean!! 4 lb of 90/10, want 80/20, suet's about 95",
    "2½ lb of chuck into 4 oz patties",
    "70 adults x2 @140g; 30 kids x1 @90g. mince total?",
    "2 tsp salt to the lb, I've 1.36 kg",
    "is chuck and sirloin half and half 80/20?",
    "topside £9.80/kg 3 kg, brisket £8.20/kg 1.5 kg. per kilo? per 150 g burger?",
    "patties sat out about 90 min, it's 97 F out here",
    "is 145 enough for burgers?",
    "3 lb 6 oz in grams",
)
PART = re.compile(
    r"(<!-- (?P<name>screen|questions|kinds)(?:: (?P<argument>[^>]*?))? -->\n).*?(<!-- end -->)", re.DOTALL
)


def written(text: str) -> str:
    """The text with every such part as the program writes it now."""
    return PART.sub(
        lambda part: part.group(1) + _part(part.group("name"), part.group("argument") or "") + part.group(4), text
    )


def _part(name: str, argument: str) -> str:
    if name == "screen":
        return f"```\n$ mincewise ask {argument!r}\n{plain.render(_asked(argument), width=78)}```\n".replace(
            "'", '"', 2
        )
    if name == "questions":
        return "\n" + "".join(_question(question) for question in QUESTIONS) + "\n"
    return "\n| kind | for example |\n|---|---|\n" + "".join(_kinds()) + "\n"


def _question(question: str) -> str:
    answer = _asked(question)
    return f"- **{question}**  \n  {answer.headline or answer.message}\n"


def _kinds() -> list[str]:
    return [f"| {topic.name} | {topic.examples[0]} |\n" for topic in topics() if topic.examples]


def _asked(question: str):  # type: ignore[no-untyped-def]
    with tempfile.TemporaryDirectory() as folder:
        return Conversation(notebook_path=Path(folder) / "notebook.db", now=lambda: NOW).ask(question)


def main(arguments: Sequence[str]) -> int:
    """0 where README.md is up to date, or was rewritten; 1 where it is not."""
    now = README.read_text(encoding="utf-8")
    new = written(now)
    if "--update" in arguments:
        README.write_text(new, encoding="utf-8")
        return 0
    if new != now:
        print("README.md is not what the program says now: python -m tests.documents --update")
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
