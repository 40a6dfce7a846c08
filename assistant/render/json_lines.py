"""An answer as one line of JSON: the published shape, and nothing that could upset a terminal that shows it."""

from __future__ import annotations

import json
import unicodedata

from assistant.answer import Answer

_ESCAPED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def render(answer: Answer) -> str:
    r"""The answer as a JSON object on one line, without the line's end.

    Letters stand as they are; control, direction and invisible characters only as \u escapes, which any
    JSON reader turns back, so that what was heard is still given back exactly. Raises ValueError for a
    figure that is not a finite number: JSON has no word for it, and no answer should hold one.
    """
    line = json.dumps(answer.as_data(), ensure_ascii=False, allow_nan=False)
    return line if line.isascii() and line.isprintable() else "".join(map(_escaped, line))


def _escaped(char: str) -> str:
    if unicodedata.category(char) not in _ESCAPED:
        return char
    return json.dumps(char)[1:-1] if not char.isascii() else f"\\u{ord(char):04x}"
