"""What an output can show: its width, whether it knows more than ASCII, whether it takes colour, and the layout."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import TextIO

from msgspec import Struct

USUAL_WIDTH = 80
_PROBE = "½°–é"
_OFF = ("", "0", "false", "no")


class Page(Struct, frozen=True):
    """What an answer is laid out for. layout: a key of RENDERERS; width: columns."""

    layout: str
    width: int = USUAL_WIDTH
    ascii_only: bool = False
    color: bool = False


def page_for(stream: TextIO, environ: Mapping[str, str] = os.environ, color: str = "auto", plain: bool = False) -> Page:
    """The page that a stream offers. color: "auto", "always" or "never", as asked for on the command line.

    Plain lines where they were asked for, on a dumb terminal, and where the output is no terminal (unless
    colour was asked for outright, as for a pager that shows it).
    """
    terminal = is_terminal(stream)
    colored = wants_color(color, environ, terminal)
    linear = plain or environ.get("TERM") == "dumb" or not (terminal or colored)
    return Page(
        layout="plain" if linear else "terminal",
        width=width_of(stream, environ),
        ascii_only=not _writes(stream, _PROBE),
        color=colored and not linear,
    )


def is_terminal(stream: TextIO) -> bool:
    """Whether a person sits at the other end of the stream; no for a closed one."""
    try:
        return stream.isatty()
    except ValueError:
        return False


def wants_color(asked: str, environ: Mapping[str, str], terminal: bool) -> bool:
    """Colour or not: the flag, then NO_COLOR, then a dumb terminal, then FORCE_COLOR, then whether it is a terminal.

    An empty NO_COLOR counts as unset, and FORCE_COLOR=0 means none: both as their own pages define them.
    """
    if asked != "auto":
        return asked == "always"
    if environ.get("NO_COLOR") or environ.get("TERM") == "dumb":
        return False
    forced = environ.get("FORCE_COLOR")
    if forced:
        return forced.lower() not in _OFF
    return terminal


def width_of(stream: TextIO, environ: Mapping[str, str] = os.environ) -> int:
    """Columns of the stream now: the terminal's own word, else COLUMNS, else 80."""
    try:
        columns = os.get_terminal_size(stream.fileno()).columns if is_terminal(stream) else 0
    except (OSError, ValueError):
        columns = 0
    stated = environ.get("COLUMNS", "")
    if columns <= 0 and stated.isascii() and stated.isdigit():
        columns = int(stated)
    return columns if columns > 0 else USUAL_WIDTH


def _writes(stream: TextIO, text: str) -> bool:
    try:
        text.encode(stream.encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return False
    return True
