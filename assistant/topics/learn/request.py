"""What a cook weighed of a cut, how it is to be found out, and what is to be kept of it."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from assistant.language.phrases import Measure

NAME = "learn"
PAN = ("crumbles", "pan-browned")
"""How a sample is cooked out where nobody says: crumbled in a pan, as in our steps."""


class Trimmed(Struct, frozen=True):
    """Visible fat cut off a piece. fat: the piece's own figure before, where it was said; piece None: to be asked."""

    cut: str
    keys: tuple[str, ...]
    piece: Measure | None
    off: Measure
    fat: Fraction | None = None


class Parted(Struct, frozen=True):
    """A cut parted into meat without visible fat, and visible fat."""

    cut: str
    keys: tuple[str, ...]
    lean: Measure
    fat: Measure


class CookedOut(Struct, frozen=True):
    """A sample cooked out; what is None is to be asked. form, method: how, as in the table of yields."""

    cut: str
    raw: Measure | None
    cooked: Measure | None
    rendered: Measure | None
    form: str = PAN[0]
    method: str = PAN[1]
    assumed: bool = True


class HowTo(Struct, frozen=True):
    """How to find out how fat a cut is. cut: "" where none was named."""

    cut: str = ""


class Keep(Struct, frozen=True):
    """Keep the figure just worked out. cut: "" where it has to be asked."""

    of: Trimmed | Parted | CookedOut
    cut: str = ""


Weighed = Trimmed | Parted | CookedOut
