"""What to try next: the blend from which the ratings so far promise most, found by expected improvement.

Method. Ratings are modelled as a Gaussian process over fat and shares of cuts with a squared exponential kernel
(Rasmussen & Williams, Gaussian Processes for Machine Learning, MIT Press 2006: algorithm 2.1 for mean and variance,
equation 2.30 for the marginal likelihood that picks the length scales). The next blend is the one of largest expected
improvement (Jones, Schonlau & Welch, Journal of Global Optimization 13, 1998, 455-492); as ratings are noisy, it is
improvement on the best predicted mean among the blends tasted, not on the best single rating (Vazquez et al., Journal
of Physics: Conference Series 135, 2008, 012100). The references are named from memory.

Taste is data of a person and the model is a rough one, so sums are in floats; shares and fat come out exact.
The same ratings and cuts always give the same proposal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from fractions import Fraction
from itertools import combinations, product
from math import erf, exp, log, pi, sqrt
from operator import mul

from msgspec import Struct
from msgspec.structs import replace

from assistant.errors import BadInput

LEAST_FAT, MOST_FAT = (
    Fraction(10),
    Fraction(35),
)  # percent; below it crumbles, above it runs: common practice, no source
FEWEST_RATINGS = 3
MOST_RATINGS = 60  # of more, the last ones are used: taste drifts, and the sums grow with the square
MOST_CUTS = 20
_MOST_CUTS_IN_A_BLEND = 3  # a kitchen's blend; common practice, no source

# Length scales to choose from: how far apart in fat (percent points) and in shares two blends still taste alike.
_FAT_SCALES = (4.0, 7.0, 12.0)
_SHARE_SCALES = (0.3, 0.6, 1.2)
_NOISE = 0.08  # standard deviation of one rating, of a scale from 0 to 1: half a star of five is 0.1
_LEAST_SPREAD = 0.15  # of taste itself: three equal ratings do not prove that nothing matters

_NEAR = Fraction(1, 20)  # shares that differ by less are the same blend to a cook; also the step of the last search
_NEAR_AS_FLOAT = float(_NEAR)
_DOUBT = 1e-9  # far above the slip of a float share: what lies nearer to a limit than this is compared exactly


class Aim(StrEnum):
    """Why the proposal is worth a try."""

    BETTER = "better"  # predicted to be at least as good as the best so far
    LEARN = "learn"  # predicted to be a little worse, but too little is known there to be sure


class Offered(Struct, frozen=True):
    """A cut at hand. fat: percent."""

    cut: str
    fat: Fraction


class Tasted(Struct, frozen=True):
    """A rated batch. shares: fraction of the weight by cut, together 1; fat: percent; score: 0 (bad) to 1 (best)."""

    shares: Mapping[str, Fraction]
    fat: Fraction
    score: Fraction


class TooFew(Struct, frozen=True):
    """Not enough ratings to learn from."""

    have: int
    wanted: int = FEWEST_RATINGS


class NothingNew(Struct, frozen=True):
    """No blend of the cuts at hand lies between the fats and differs from all tasted ones.

    reach: lowest and highest fat that the cuts can give, percent.
    """

    reach: tuple[Fraction, Fraction]


class Proposal(Struct, frozen=True):
    """The blend to try next, and why.

    shares: cut and fraction of the weight, largest first, together exactly 1. fat: percent.
    mean, sd: predicted score and its standard deviation, 0 to 1 (the mean may lie a little outside).
    best_mean: predicted score of the best blend tasted. gain: expected improvement on it.
    best_fats: lowest and highest fat of the three best rated batches. untried: cuts at hand in no rated batch.
    used, given: ratings that were used, and that there were.
    """

    shares: tuple[tuple[str, Fraction], ...]
    fat: Fraction
    mean: float
    sd: float
    best_mean: float
    gain: float
    aim: Aim
    best_fats: tuple[Fraction, Fraction]
    untried: tuple[str, ...]
    used: int
    given: int


def next_blend(tasted: Sequence[Tasted], offered: Sequence[Offered]) -> Proposal | TooFew | NothingNew:
    """The blend of at most three of the offered cuts, of 10 to 35 % fat, with the largest expected improvement.

    tasted: rated batches, oldest first; with fewer than three the answer is TooFew. Shares come in steps of 1/20.
    Raises BadInput for no or more than 20 cuts, a cut offered twice, shares that do not add up to 1, or a fat or
    score out of range.
    """
    _check_offered(offered)
    for batch in tasted:
        _check_tasted(batch)
    if len(tasted) < FEWEST_RATINGS:
        return TooFew(len(tasted))
    recent = tasted[-MOST_RATINGS:]
    fats = {cut.cut: cut.fat for cut in offered}
    known = [_as_blend(batch.shares, batch.fat) for batch in recent]
    candidates = _new_ones(_COARSE, fats, known) or _new_ones(_FINE, fats, known)
    if not candidates:
        return NothingNew((min(fats.values()), max(fats.values())))
    taste = _learn(known, [float(batch.score) for batch in recent])
    found = _climb(max(candidates, key=taste.gain), fats, taste)
    return _proposal(found, taste, recent, fats, len(tasted))


# --- blends to choose from ------------------------------------------------------------------------------------------


class _Blend(Struct, frozen=True):
    """shares by cut, exact; fat in percent; point: the shares as floats, for distances."""

    shares: Mapping[str, Fraction]
    fat: Fraction
    point: Mapping[str, float]


def _as_blend(shares: Mapping[str, Fraction], fat: Fraction) -> _Blend:
    return _Blend(shares, fat, {cut: float(share) for cut, share in shares.items()})


def _mixed(shares: Mapping[str, Fraction], fats: Mapping[str, Fraction]) -> _Blend:
    return _as_blend(shares, sum((share * fats[cut] for cut, share in shares.items()), Fraction(0)))


_COARSE = ((1, 1), (2, 10), (3, 5))
"""How many cuts, and in how many steps: enough to find the neighbourhood, from where the search climbs on."""
_FINE = ((2, 20), (3, 20))
"""Every step that a kitchen tells apart, for two or three cuts of which the coarse blends were all tasted."""


def _new_ones(grid: Iterable[tuple[int, int]], fats: Mapping[str, Fraction], tasted: Sequence[_Blend]) -> list[_Blend]:
    return [blend for blend in _candidates(grid, fats) if _is_new(blend, tasted)]


def _candidates(grid: Iterable[tuple[int, int]], fats: Mapping[str, Fraction]) -> Iterator[_Blend]:
    """Every blend of so many cuts in so many steps, wherever the fat is sensible."""
    for size, steps in grid:
        for cuts in combinations(fats, size):
            for parts in _splits(size, steps):
                blend = _mixed(dict(zip(cuts, parts, strict=True)), fats)
                if LEAST_FAT <= blend.fat <= MOST_FAT:
                    yield blend


def _splits(size: int, steps: int) -> list[tuple[Fraction, ...]]:
    """Every way to split 1 into `size` shares that are whole steps of 1/steps, none of them zero."""
    wholes = product(range(1, steps + 1), repeat=size)
    return [tuple(Fraction(part, steps) for part in parts) for parts in wholes if sum(parts) == steps]


def _is_new(blend: _Blend, tasted: Iterable[_Blend]) -> bool:
    return all(_differs(blend, batch) for batch in tasted)


def _differs(one: _Blend, other: _Blend) -> bool:
    widest = max(abs(one.point.get(cut, 0.0) - other.point.get(cut, 0.0)) for cut in {**one.point, **other.point})
    if abs(widest - _NEAR_AS_FLOAT) > _DOUBT:
        return widest > _NEAR_AS_FLOAT
    none = Fraction(0)
    return any(
        abs(one.shares.get(cut, none) - other.shares.get(cut, none)) >= _NEAR for cut in {**one.shares, **other.shares}
    )


def _climb(blend: _Blend, fats: Mapping[str, Fraction], taste: _Taste) -> _Blend:
    """From a blend of the coarse grid, move 1/20 from one cut to another as long as that promises more."""
    gain = taste.gain(blend)
    while True:
        near = [move for move in _moves(blend, fats) if _is_new(move, taste.blends)]
        best = max(near, key=taste.gain, default=blend)
        promised = taste.gain(best)
        if promised <= gain + 1e-12:
            return blend
        blend, gain = best, promised


def _moves(blend: _Blend, fats: Mapping[str, Fraction]) -> Iterator[_Blend]:
    for giver, taker in product(blend.shares, fats):
        shares = {**blend.shares, giver: blend.shares[giver] - _NEAR}
        shares[taker] = shares.get(taker, Fraction(0)) + _NEAR
        kept = {cut: share for cut, share in shares.items() if share > 0}
        moved = _mixed(kept, fats)
        if giver != taker and len(kept) <= _MOST_CUTS_IN_A_BLEND and LEAST_FAT <= moved.fat <= MOST_FAT:
            yield moved


# --- the model of taste ---------------------------------------------------------------------------------------------

_Matrix = list[list[float]]

_Apart = tuple[float, float]
"""How far two blends lie apart: in fat, and the square of it in shares. The same for every length scale."""


class _Taste(Struct, frozen=True):
    """A Gaussian process fitted to ratings: everything that predictions need."""

    blends: Sequence[_Blend]
    fat_scale: float
    share_scale: float
    spread: float  # variance of taste
    level: float  # mean rating, the prediction far from everything tasted
    root: _Matrix  # Cholesky factor of the kernel matrix with noise
    weights: Sequence[float]  # (K + noise)^-1 (ratings - level)
    likelihood: float  # log marginal likelihood
    best: float = 0.0  # the best predicted mean among the blends tasted

    def predict(self, blend: _Blend) -> tuple[float, float]:
        """Mean and standard deviation of the taste (not of a noisy rating) of a blend."""
        near = [_likeness(_apart(blend, other), self.fat_scale, self.share_scale, self.spread) for other in self.blends]
        mean = self.level + sum(map(mul, near, self.weights))
        explained = sum(value * value for value in _forward(self.root, near))
        return mean, sqrt(max(self.spread - explained, 0.0))

    def gain(self, blend: _Blend) -> float:
        """Expected improvement on the best so far: (m - b) Phi(z) + s phi(z), z = (m - b) / s."""
        mean, sd = self.predict(blend)
        if sd == 0.0:
            return max(mean - self.best, 0.0)
        z = (mean - self.best) / sd
        return (mean - self.best) * (1 + erf(z / sqrt(2))) / 2 + sd * exp(-z * z / 2) / sqrt(2 * pi)


def _learn(blends: Sequence[_Blend], scores: Sequence[float]) -> _Taste:
    """The process whose length scales make the ratings most likely; of equals, the first (shortest) scales."""
    between = [[_apart(one, other) for other in blends[: place + 1]] for place, one in enumerate(blends)]
    fits = (_fit(blends, between, scores, *scales) for scales in product(_FAT_SCALES, _SHARE_SCALES))
    taste = max(fits, key=lambda fit: fit.likelihood)
    best = max(taste.predict(blend)[0] for blend in blends)
    return replace(taste, best=best)


def _fit(
    blends: Sequence[_Blend],
    between: Sequence[Sequence[_Apart]],
    scores: Sequence[float],
    fat_scale: float,
    share_scale: float,
) -> _Taste:
    """The process of these scales. between: how far each blend lies from those before it and from itself."""
    count = len(scores)
    level = sum(scores) / count
    residuals = [score - level for score in scores]
    spread = max(sum(residual**2 for residual in residuals) / (count - 1), _LEAST_SPREAD**2)
    kernel = [[_likeness(apart, fat_scale, share_scale, spread) for apart in row] for row in between]
    for row in kernel:
        row[-1] += _NOISE**2
    root = _cholesky(kernel)
    half = _forward(root, residuals)
    likelihood = -sum(value**2 for value in half) / 2 - sum(log(row[-1]) for row in root)
    weights = _backward(root, half)
    return _Taste(blends, fat_scale, share_scale, spread, level, root, weights, likelihood - count * log(2 * pi) / 2)


def _apart(one: _Blend, other: _Blend) -> _Apart:
    theirs = other.point
    shares = sum([(share - theirs.get(cut, 0.0)) ** 2 for cut, share in one.point.items()])
    shares += sum([share**2 for cut, share in theirs.items() if cut not in one.point])
    return float(one.fat - other.fat), shares


def _likeness(apart: _Apart, fat_scale: float, share_scale: float, spread: float) -> float:
    """The squared exponential kernel over fat and shares."""
    fat, shares = apart
    return spread * exp(-((fat / fat_scale) ** 2 + shares / share_scale**2) / 2)


# A product of rows ends with the shorter one: a row of a lower triangle stops at the diagonal, and so do these sums.


def _cholesky(matrix: _Matrix) -> _Matrix:
    """The lower triangle L with L L^T = matrix, for the lower triangle of a positive definite matrix."""
    root: _Matrix = []
    for wanted in matrix:
        row: list[float] = []
        for above, value in zip(root, wanted, strict=False):
            row.append((value - sum(map(mul, row, above))) / above[-1])
        row.append(sqrt(wanted[-1] - sum(map(mul, row, row))))
        root.append(row)
    return root


def _forward(root: _Matrix, right: Sequence[float]) -> list[float]:
    """Solve L x = right."""
    solved: list[float] = []
    for row, value in zip(root, right, strict=True):
        solved.append((value - sum(map(mul, row, solved))) / row[-1])
    return solved


def _backward(root: _Matrix, right: Sequence[float]) -> list[float]:
    """Solve L^T x = right."""
    solved = [0.0] * len(right)
    for i in reversed(range(len(right))):
        done = sum(root[k][i] * solved[k] for k in range(i + 1, len(right)))
        solved[i] = (right[i] - done) / root[i][i]
    return solved


# --- the answer -----------------------------------------------------------------------------------------------------


def _proposal(
    blend: _Blend, taste: _Taste, tasted: Sequence[Tasted], fats: Mapping[str, Fraction], given: int
) -> Proposal:
    mean, sd = taste.predict(blend)
    best_three = sorted(tasted, key=lambda batch: batch.score, reverse=True)[:3]
    best_fats = [batch.fat for batch in best_three]
    known = {cut for batch in tasted for cut, share in batch.shares.items() if share > 0}
    return Proposal(
        shares=tuple(sorted(blend.shares.items(), key=lambda item: (-item[1], item[0]))),
        fat=blend.fat,
        mean=mean,
        sd=sd,
        best_mean=taste.best,
        gain=taste.gain(blend),
        aim=Aim.BETTER if mean >= taste.best else Aim.LEARN,
        best_fats=(min(best_fats), max(best_fats)),
        untried=tuple(cut for cut in fats if cut not in known),
        used=len(tasted),
        given=given,
    )


def _check_offered(offered: Sequence[Offered]) -> None:
    if not 1 <= len(offered) <= MOST_CUTS:
        raise BadInput("offered", len(offered), f"1 to {MOST_CUTS} cuts")
    if len({cut.cut for cut in offered}) < len(offered):
        raise BadInput("offered", tuple(cut.cut for cut in offered), "each cut once")
    for cut in offered:
        _check_range("fat", cut.fat, 100)


def _check_tasted(batch: Tasted) -> None:
    _check_range("fat", batch.fat, 100)
    _check_range("score", batch.score, 1)
    if any(share < 0 for share in batch.shares.values()) or sum(batch.shares.values()) != 1:
        raise BadInput("shares", dict(batch.shares), "shares of at least 0 that add up to exactly 1")


def _check_range(argument: str, value: Fraction, most: int) -> None:
    if not 0 <= value <= most:
        raise BadInput(argument, value, f"0 to {most}")
