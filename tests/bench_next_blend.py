"""How many batches it takes to find a blend that a taster loves: proposals against trying at random.

Run: python -m tests.bench_next_blend [tasters per kind]. Seeds are fixed, so every run prints the same table.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Mapping
from fractions import Fraction
from math import exp
from statistics import median

from msgspec import Struct

from assistant.engine.next_blend import Offered, Proposal, Tasted, next_blend

# Typical fats of a kitchen's cuts, rounded, for a simulation only: nothing is concluded from them about meat.
KITCHEN = (
    Offered("round", Fraction(8)),
    Offered("chuck", Fraction(18)),
    Offered("short rib", Fraction(32)),
    Offered("brisket", Fraction(24)),
    Offered("brisket trim", Fraction(45)),
    Offered("fatback", Fraction(88)),
)
FATS = {cut.cut: cut.fat for cut in KITCHEN}
ENOUGH = 0.95  # of the best that this taster could have
PATIENCE = 30  # batches

Shares = Mapping[str, Fraction]


class Taster(Struct, frozen=True):
    """A made-up person: like(shares) is the true pleasure, 0 to 1; what is said of it is noisy, in half stars of 5."""

    like: Callable[[Shares], float]
    best: float

    def rate(self, shares: Shares, chance: random.Random) -> Fraction:
        stars = 5 * self.like(shares) + chance.gauss(0, 0.35)
        return Fraction(round(2 * min(max(stars, 0), 5)), 10)


def fat_of(shares: Shares) -> Fraction:
    return sum((share * FATS[cut] for cut, share in shares.items()), Fraction(0))


def any_blend(chance: random.Random) -> Shares:
    """Two or three cuts in steps of a twentieth, 10 to 35 % fat: what someone might try without a plan."""
    while True:
        cuts = chance.sample(sorted(FATS), chance.choice((2, 3)))
        marks = sorted(chance.sample(range(1, 20), len(cuts) - 1))
        parts = [end - start for start, end in zip([0, *marks], [*marks, 20], strict=True)]
        shares = {cut: Fraction(part, 20) for cut, part in zip(cuts, parts, strict=True)}
        if 10 <= fat_of(shares) <= 35:
            return shares


def fat_minded(chance: random.Random) -> Callable[[Shares], float]:
    """Cares for the fat, and a little for one cut."""
    fat, cut = chance.uniform(14, 30), chance.choice(sorted(FATS)[:3])
    return lambda shares: 0.85 * exp(-(((float(fat_of(shares)) - fat) / 4) ** 2)) + 0.15 * float(shares.get(cut, 0))


def cut_minded(chance: random.Random) -> Callable[[Shares], float]:
    """Likes each cut more or less, whatever the fat, as long as that is not extreme."""
    liking = {cut: chance.random() for cut in sorted(FATS)}
    middle = chance.uniform(18, 26)

    def like(shares: Shares) -> float:
        pleasure = sum(float(share) * liking[cut] for cut, share in shares.items())
        return pleasure * exp(-(((float(fat_of(shares)) - middle) / 12) ** 2))

    return like


def blend_minded(chance: random.Random) -> Callable[[Shares], float]:
    """Has one blend in mind; every step away from it tastes less good."""
    ideal = any_blend(chance)

    def like(shares: Shares) -> float:
        off = sum(abs(float(shares.get(cut, 0) - ideal.get(cut, 0))) for cut in FATS) / 2
        return 0.6 * (1 - off) + 0.4 * exp(-((float(fat_of(shares) - fat_of(ideal)) / 6) ** 2))

    return like


KINDS = {"fat-minded": fat_minded, "cut-minded": cut_minded, "blend-minded": blend_minded}
_SURVEY = [any_blend(random.Random(seed)) for seed in range(3000)]


def taster(kind: str, seed: int) -> Taster:
    """One person of a kind, always the same for a seed."""
    like = KINDS[kind](random.Random(f"{kind} {seed}"))
    return Taster(like, max(map(like, _SURVEY)))


def batches_needed(person: Taster, seed: int, planned: bool) -> int:
    """Batches until one is near the best; both ways begin with the same three blends. PATIENCE + 1: never."""
    chance = random.Random(seed)
    starts = [any_blend(chance) for _ in range(3)]
    tasted: list[Tasted] = []
    for number in range(1, PATIENCE + 1):
        if number <= 3:
            shares: Shares = starts[number - 1]
        elif planned:
            proposal = next_blend(tasted, KITCHEN)
            assert isinstance(proposal, Proposal)
            shares = dict(proposal.shares)
        else:
            shares = any_blend(chance)
        if person.like(shares) >= ENOUGH * person.best:
            return number
        tasted.append(Tasted(shares, fat_of(shares), person.rate(shares, chance)))
    return PATIENCE + 1


def compare(kind: str, tasters: int) -> tuple[list[int], list[int]]:
    """Batches needed by each of the tasters of a kind: as proposed, and at random."""
    people = [(taster(kind, seed), seed) for seed in range(tasters)]
    planned = [batches_needed(person, seed, planned=True) for person, seed in people]
    return planned, [batches_needed(person, seed, planned=False) for person, seed in people]


def main(tasters: int) -> None:
    """Print the table."""
    print(f"Batches until one reaches {ENOUGH:.0%} of the best, of at most {PATIENCE}; {tasters} tasters a kind")
    print(f"{'taster':14}{'median planned':>16}{'median random':>15}{'<= 12 planned':>15}{'<= 12 random':>14}")
    began = time.perf_counter()
    for kind in KINDS:
        planned, at_random = compare(kind, tasters)
        soon = [sum(count <= 12 for count in counts) / tasters for counts in (planned, at_random)]
        print(f"{kind:14}{median(planned):16g}{median(at_random):15g}{soon[0]:15.0%}{soon[1]:14.0%}", flush=True)
    print(f"{time.perf_counter() - began:.0f} s; {PATIENCE + 1} in a median: most never got there")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
