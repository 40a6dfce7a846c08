"""A blend in which some of the cuts keep a proportion: twice as much chuck as brisket, and suet for the fat."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from assistant.engine import blend
from assistant.engine.kinds import Blend, Cut, NoBlend, mix


def nearest(
    cuts: Sequence[Cut], parts: Sequence[Fraction | None], batch: Fraction, **band: Fraction | None
) -> Blend | NoBlend:
    """The blend of `batch` grams with the fat of `band` (as `blend.nearest` takes it) whose parted cuts stay in proportion.

    parts: one per cut, None for a cut that is free. The parted cuts are one cut to the engine, as fat as their mix; with
    limits of their own they are not, and no such cut may have any. Raises BadInput as `blend.nearest` does.
    """
    tied = [at for at, part in enumerate(parts) if part is not None]
    whole = sum((parts[at] or Fraction(0) for at in tied), Fraction(0))
    shares = [(parts[at] or Fraction(0)) / whole for at in tied]

    def mean(values: Sequence[Fraction]) -> Fraction:
        return sum((share * value for share, value in zip(shares, values, strict=True)), Fraction(0))

    tied_cuts = [cuts[at] for at in tied]
    one = Cut(
        " and ".join(cut.name for cut in tied_cuts),
        mean([cut.fat for cut in tied_cuts]),
        mean([cut.fat if cut.low is None else cut.low for cut in tied_cuts]),
        mean([cut.fat if cut.high is None else cut.high for cut in tied_cuts]),
    )
    free = [at for at in range(len(cuts)) if at not in tied]
    found = blend.nearest([one, *(replace(cuts[at], wish=None) for at in free)], batch, **band)
    if isinstance(found, NoBlend):
        return found
    grams = dict(zip(free, found.grams[1:], strict=True))
    grams |= {at: found.grams[0] * share for at, share in zip(tied, shares, strict=True)}
    return mix([replace(cut, wish=None) for cut in cuts], [grams[at] for at in range(len(cuts))])
