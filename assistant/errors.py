"""Everything that can go wrong, as data first and words last."""

from __future__ import annotations


class MincewiseError(Exception):
    """Root of every error that this project raises on purpose."""


class BadInput(MincewiseError, ValueError):
    """A public engine function was handed something it cannot use.

    argument: the parameter's name; value: what it was; wanted: what would do.
    """

    def __init__(self, argument: str, value: object, wanted: str) -> None:
        self.argument = argument
        self.value = value
        self.wanted = wanted
        super().__init__(argument, value, wanted)

    def __str__(self) -> str:
        return f"{self.argument} is {self.value!r}: wanted {self.wanted}"


class BadTable(MincewiseError):
    """A row of a data file is wrong; names the file, the row's key and the field."""

    def __init__(self, file: str, key: str, field: str, problem: str) -> None:
        self.file = file
        self.key = key
        self.field = field
        self.problem = problem
        super().__init__(file, key, field, problem)

    def __str__(self) -> str:
        return f"{self.file}: {self.key}: {self.field}: {self.problem}"
