"""The ways to show an answer. Renderers compute nothing: they lay out what the answer already says.

Each is loaded when first used, so that a line of JSON never waits for the tables of the terminal view.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from assistant.answer import Answer
from assistant.render.screen import Page

Renderer = Callable[[Answer, Page], str]
"""Takes an answer and the page that it is for; gives text that ends with a newline."""


def _json(answer: Answer, page: Page) -> str:
    from assistant.render import json_lines

    return json_lines.render(answer) + "\n"


def _plain(answer: Answer, page: Page) -> str:
    from assistant.render import plain

    return plain.render(answer, page.width, page.ascii_only)


def _terminal(answer: Answer, page: Page) -> str:
    from assistant.render.terminal import render

    return render(answer, page.width, page.color, page.ascii_only)


RENDERERS: Mapping[str, Renderer] = MappingProxyType({"json": _json, "plain": _plain, "terminal": _terminal})
