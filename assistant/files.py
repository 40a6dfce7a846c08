"""Files for people: only where they were named, never over another file, and whole or not at all."""

from __future__ import annotations

import contextlib
import os
import re
from pathlib import Path

from assistant.errors import MincewiseError
from assistant.pattern import Pattern

LONGEST_NAME = 100
_NAME = Pattern(r"\w[\w .,()&'+-]*\.\w+", re.UNICODE)
_RESERVED = Pattern(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])\s*(?:\..*)?", re.IGNORECASE)
"""Names that are devices on Windows, whatever comes after the point."""


class FileRefused(MincewiseError):
    """A file that was not written. name: as it was said; why: in a few words."""

    def __init__(self, name: str, why: str) -> None:
        self.name = name
        self.why = why
        super().__init__(name, why)

    def __str__(self) -> str:
        return self.why


def put(folder: Path, name: str, content: bytes) -> Path:
    """Write a new file of this name into the folder; gives its path.

    The name is a name and no path: no folder, no hidden file, no device. Raises FileRefused for other names, for one
    that is taken, and where the folder cannot be written to; then nothing has been written.
    """
    check(name)
    target, beside = folder / name, folder / f".mincewise-{os.urandom(8).hex()}.part"
    try:
        handle = os.open(beside, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
    except OSError as fault:
        raise FileRefused(name, f"cannot write into {folder}: {fault.strerror}") from fault
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        _link(beside, target)
    except FileExistsError as fault:
        raise FileRefused(name, f"{name} is there already and is left as it is; say another name") from fault
    except OSError as fault:
        raise FileRefused(name, f"{name} cannot be written: {fault.strerror}") from fault
    finally:
        with contextlib.suppress(FileNotFoundError):
            os.unlink(beside)
    return target


def check(name: str) -> None:
    """Whether a name may be given to a new file. Raises FileRefused with the reason."""
    if "/" in name or "\\" in name or ":" in name or name.startswith("~"):
        raise FileRefused(
            name, "give a plain file name, no folder: it goes into the folder where Mincewise was started"
        )
    if len(name) > LONGEST_NAME:
        raise FileRefused(name, f"a file name of more than {LONGEST_NAME} letters is too long")
    if not _NAME.fullmatch(name) or ".." in name or _RESERVED.fullmatch(name):
        raise FileRefused(name, f'"{name}" is no file name that every computer takes; letters and digits will do')


def _link(written: Path, target: Path) -> None:
    """Give the finished file its name, which fails where the name is taken: there is no moment with half a file."""
    try:
        os.link(written, target)
    except FileExistsError:
        raise
    except OSError:
        # a file system without hard links: take the name first, then put the finished file in its place
        os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        os.replace(written, target)
