"""Asking, one request after another: what was typed or piped in, and an answer to each, whatever happens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol, runtime_checkable

from msgspec import Struct
from msgspec.structs import replace

from assistant.answer import Answer, Status

_BOM = b"\xef\xbb\xbf"
_UNREADABLE = "Some bytes of that line were not UTF-8 and were read as \N{REPLACEMENT CHARACTER}; see how it was read."


class Talker(Protocol):
    """What a conversation offers to whoever shows it."""

    def ask(self, text: str) -> Answer:
        """Answer one request."""

    def suggest(self, before: str) -> list[str]:
        """Ways to go on with a line."""


@runtime_checkable
class GetsReady(Protocol):
    """A conversation that is slow at its first answer and can load for it beforehand."""

    def get_ready(self) -> None:
        """Load what the first answer needs; may run beside somebody's typing."""


@runtime_checkable
class ShowsToolbar(Protocol):
    """A conversation that keeps clocks which can be shown."""

    def toolbar(self) -> str:
        """The running timers and the warm clock on one line, or nothing."""


@runtime_checkable
class RingsBell(Protocol):
    """A conversation in which the bell can be turned off."""

    def rings(self) -> bool:
        """Whether a bell may be rung."""


@runtime_checkable
class SpeaksUp(Protocol):
    """A conversation that has things to say without being asked."""

    def announcements(self) -> list[str]:
        """What has to be said now, such as a timer that is done; each once."""


class Request(Struct, frozen=True):
    """One request. unreadable: whether bytes had to be replaced to make text of it."""

    text: str
    unreadable: bool = False


def from_argument(text: str) -> Request:
    """A request from the command line, whose undecodable bytes the interpreter hands on as lone surrogates."""
    return _decoded(text.encode("utf-8", "surrogateescape"))


def from_lines(source: Iterable[bytes]) -> Iterator[Request]:
    """One request a line; empty lines ask nothing. UTF-8, with or without a byte order mark."""
    for number, line in enumerate(source):
        request = _decoded((line.removeprefix(_BOM) if number == 0 else line).rstrip(b"\r\n"))
        if request.text.strip():
            yield request


def _decoded(raw: bytes) -> Request:
    try:
        return Request(raw.decode("utf-8"))
    except UnicodeDecodeError:
        return Request(raw.decode("utf-8", "replace"), unreadable=True)


def answer(talk: Talker, request: Request) -> Answer:
    """The answer to a request.

    A fault of the program itself becomes an answer that says so: what was asked before and what comes after
    it stay alive, and nobody standing at a grinder reads a traceback.
    """
    try:
        given = talk.ask(request.text)
    except Exception as fault:
        given = _fault(request.text, fault)
    return replace(given, notes=(*given.notes, _UNREADABLE)) if request.unreadable else given


def _fault(text: str, fault: Exception) -> Answer:
    return Answer(
        heard=text[:500],
        understood="",
        status=Status.NOT_UNDERSTOOD,
        topic="fault",
        message="Something went wrong inside the program, so that line is not answered "
        f"({type(fault).__name__}: {fault}). "
        'Try it in other words, such as "3 lb at 80/20 from chuck and suet".',
    )
