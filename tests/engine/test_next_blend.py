"""What to try next: sensible, exact, repeatable, and better than trying at random."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import exp, log, pi, sqrt
from statistics import NormalDist, median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.engine.next_blend import (
    Aim,
    NothingNew,
    Offered,
    Proposal,
    Tasted,
    TooFew,
    _apart,
    _as_blend,
    _Blend,
    _cholesky,
    _differs,
    _fit,
    _forward,
    _learn,
    _Taste,
    next_blend,
)
from assistant.errors import BadInput
from tests.bench_next_blend import KINDS, KITCHEN, batches_needed, compare, taster


def fitted(blends: Sequence[_Blend], scores: Sequence[float], fat_scale: float, share_scale: float) -> _Taste:
    """The process of these scales, over blends that are told apart here."""
    between = [[_apart(one, other) for other in blends[: place + 1]] for place, one in enumerate(blends)]
    return _fit(blends, between, scores, fat_scale, share_scale)


HALF = Fraction(1, 2)
PAIR = (Offered("round", Fraction(8)), Offered("trim", Fraction(45)))


def pair(trim: Fraction, score: Fraction) -> Tasted:
    """Round with so much trim, rated."""
    return Tasted({"round": 1 - trim, "trim": trim}, 8 + 37 * trim, score)


RATED = [
    pair(Fraction(1, 10), Fraction(2, 5)),
    pair(Fraction(1, 4), Fraction(4, 5)),
    pair(Fraction(3, 5), Fraction(1, 5)),
]


@pytest.mark.parametrize("have", [0, 1, 2])
def test_fewer_than_three_ratings_are_too_few(have: int) -> None:
    assert next_blend(RATED[:have], PAIR) == TooFew(have, 3)


def test_three_ratings_give_a_blend_near_the_best_with_its_reasons() -> None:
    found = next_blend(RATED, (*PAIR, Offered("chuck", Fraction(18))))
    assert isinstance(found, Proposal)
    assert sum(share for _, share in found.shares) == 1
    assert 12 < found.fat < 26
    assert found.best_fats == (Fraction(117, 10), Fraction(302, 10))
    assert found.untried == ("chuck",)
    assert (found.used, found.given) == (3, 3)
    assert found.gain > 0
    assert found.aim == (Aim.BETTER if found.mean >= found.best_mean else Aim.LEARN)


_shares = st.lists(st.integers(1, 20), min_size=1, max_size=4).map(
    lambda parts: {cut.cut: Fraction(part, sum(parts)) for cut, part in zip(KITCHEN, parts, strict=False)}
)
_tasted = st.builds(
    Tasted,
    shares=_shares,
    fat=st.fractions(min_value=0, max_value=60, max_denominator=10),
    score=st.fractions(min_value=0, max_value=1, max_denominator=10),
)


def furthest_apart(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> Fraction:
    """The largest difference between two blends in the share of a cut."""
    return max(abs(one.get(cut, Fraction(0)) - other.get(cut, Fraction(0))) for cut in {**one, **other})


@given(tasted=st.lists(_tasted, min_size=3, max_size=8), cuts=st.integers(1, 5))
@settings(max_examples=20, deadline=None)
def test_any_ratings_give_a_new_sensible_blend_and_the_same_one_again(tasted: list[Tasted], cuts: int) -> None:
    offered = KITCHEN[:cuts]
    found = next_blend(tasted, offered)
    assert next_blend(tasted, offered) == found
    if isinstance(found, Proposal):
        fats = {cut.cut: cut.fat for cut in offered}
        assert sum(share for _, share in found.shares) == 1
        assert all(share > 0 for _, share in found.shares)
        assert len(found.shares) <= 3
        assert found.fat == sum(share * fats[cut] for cut, share in found.shares)
        assert 10 <= found.fat <= 35
        assert found.sd >= 0
        for batch in tasted:
            assert furthest_apart(dict(found.shares), batch.shares) >= Fraction(1, 20)
    else:
        assert isinstance(found, NothingNew)


def test_cuts_that_cannot_reach_a_sensible_fat_are_told() -> None:
    lean = (Offered("round", Fraction(4)), Offered("loin", Fraction(7)))
    assert next_blend(RATED, lean) == NothingNew((Fraction(4), Fraction(7)))


def test_a_single_cut_that_was_tasted_leaves_nothing_new() -> None:
    chuck = [Tasted({"chuck": Fraction(1)}, Fraction(18), Fraction(score, 5)) for score in (3, 4, 4)]
    assert next_blend(chuck, [Offered("chuck", Fraction(18))]) == NothingNew((Fraction(18), Fraction(18)))


def test_of_many_ratings_the_last_sixty_are_used_and_that_is_said() -> None:
    many = [pair(Fraction(number % 19 + 1, 20), Fraction(number % 6, 5)) for number in range(70)]
    found = next_blend(many, (*PAIR, Offered("chuck", Fraction(18))))
    assert isinstance(found, Proposal)
    assert (found.used, found.given) == (60, 70)
    assert next_blend(many[10:], (*PAIR, Offered("chuck", Fraction(18)))) == replace(found, given=60)


@pytest.mark.parametrize(
    ("tasted", "offered", "argument"),
    [
        (RATED, [], "offered"),
        (RATED, [*PAIR, PAIR[0]], "offered"),
        (RATED, [Offered(str(number), Fraction(20)) for number in range(21)], "offered"),
        (RATED, [Offered("round", Fraction(101))], "fat"),
        ([Tasted({"round": HALF}, Fraction(8), HALF)], PAIR, "shares"),
        ([Tasted({"round": Fraction(3, 2), "trim": -HALF}, Fraction(8), HALF)], PAIR, "shares"),
        ([Tasted({"round": Fraction(1)}, Fraction(-1), HALF)], PAIR, "fat"),
        ([Tasted({"round": Fraction(1)}, Fraction(8), Fraction(4))], PAIR, "score"),
    ],
)
def test_bad_input_is_named(tasted: list[Tasted], offered: list[Offered], argument: str) -> None:
    with pytest.raises(BadInput) as caught:
        next_blend(tasted, offered)
    assert caught.value.argument == argument


@pytest.mark.parametrize(
    ("by", "another"),
    [
        (Fraction(1, 10), True),
        (Fraction(1, 20), True),
        (Fraction(1, 20) - Fraction(1, 10**12), False),
        (Fraction(1, 40), False),
    ],
)
def test_a_twentieth_of_a_share_makes_another_blend_and_a_hair_less_does_not(by: Fraction, another: bool) -> None:
    # 1/3 and 1/3 + 1/20 as floats lie apart by a hair less than a twentieth: such pairs are compared exactly
    one = _as_blend({"round": Fraction(1, 3), "trim": Fraction(2, 3)}, Fraction(20))
    other = _as_blend({"round": Fraction(1, 3) + by, "trim": Fraction(2, 3) - by}, Fraction(20))
    assert _differs(one, other) == another == _differs(other, one)


# --- the published formulas -----------------------------------------------------------------------------------------


def test_the_factor_and_the_solver_against_a_case_done_by_hand() -> None:
    # [[4, 2], [2, 5]] = L L^T with L = [[2, 0], [1, 2]]; L x = (2, 5) has x = (1, 2).
    root = _cholesky([[4.0], [2.0, 5.0]])
    assert root == [[2.0], [1.0, 2.0]]
    assert _forward(root, [2.0, 5.0]) == [1.0, 2.0]


def test_prediction_far_from_everything_tasted_is_the_mean_rating_with_the_full_spread() -> None:
    taste = _learn([_as_blend(batch.shares, batch.fat) for batch in RATED], [float(batch.score) for batch in RATED])
    mean, sd = taste.predict(_as_blend({"lamb": Fraction(1)}, Fraction(300)))
    assert mean == pytest.approx(float(sum(batch.score for batch in RATED)) / 3)
    assert sd == pytest.approx(sqrt(taste.spread))


def test_one_blend_rated_twice_against_the_closed_form() -> None:
    # Two ratings of one blend, kernel s2 and noise n2: mean of their residuals is 0, so the prediction is the level,
    # and the variance is s2 - s2^2 * 2 / (2 s2 + n2) = s2 n2 / (2 s2 + n2).
    blend = _as_blend({"round": Fraction(1)}, Fraction(8))
    taste = fitted([blend, blend], [0.2, 0.6], 7.0, 0.6)
    mean, sd = taste.predict(blend)
    s2, n2 = taste.spread, 0.08**2
    assert mean == pytest.approx(0.4)
    assert sd**2 == pytest.approx(s2 * n2 / (2 * s2 + n2))


def test_the_gain_where_the_mean_equals_the_best_is_the_spread_over_root_two_pi() -> None:
    # Jones, Schonlau & Welch 1998, eq. 15 at mean = best: s * phi(0) = s / sqrt(2 pi).
    taste = fitted([_as_blend({"round": Fraction(1)}, Fraction(8))] * 2, [0.5, 0.5], 7.0, 0.6)
    far = _as_blend({"lamb": Fraction(1)}, Fraction(300))
    assert taste.predict(far)[0] == 0.5
    level = replace(taste, best=0.5)
    assert level.gain(far) == pytest.approx(sqrt(taste.spread) / sqrt(2 * pi))


def test_the_gain_above_and_below_the_best_is_the_published_formula() -> None:
    """Jones, Schonlau & Welch 1998, eq. 15, at one spread above the best and one below: s (Phi(1) + phi(1)) and
    s (phi(1) - Phi(-1)), with Phi(1) = 0.841345 and phi(1) = 0.241971 from any table of the normal distribution."""
    taste = fitted([_as_blend({"round": Fraction(1)}, Fraction(8))] * 2, [0.5, 0.5], 7.0, 0.6)
    far = _as_blend({"lamb": Fraction(1)}, Fraction(300))
    sd = sqrt(taste.spread)
    assert replace(taste, best=0.5 - sd).gain(far) == pytest.approx(sd * (0.841345 + 0.241971), rel=1e-5)
    assert replace(taste, best=0.5 + sd).gain(far) == pytest.approx(sd * (0.241971 - 0.158655), rel=1e-4)


@pytest.mark.parametrize(("fat", "share"), [(4.0, 0.3), (7.0, 1.2), (12.0, 0.6)])
def test_how_likely_two_ratings_are_is_the_density_of_a_pair_of_normals(fat: float, share: float) -> None:
    """Two ratings 0.2 under and 0.2 over their mean, variance v = s2 + n2 each and covariance c: their sum is normal
    with variance 2 (v + c) and is 0, their difference with 2 (v - c) and is 0.4; densities of the two multiplied, and
    by 2 for the change of variables. Rasmussen & Williams 2006, equation 2.30 says the same."""
    lean, rich = _as_blend({"round": Fraction(1)}, Fraction(8)), _as_blend({"chuck": Fraction(1)}, Fraction(18))
    taste = fitted([lean, rich], [0.2, 0.6], fat, share)
    own, both = taste.spread + 0.08**2, taste.spread * exp(-((10 / fat) ** 2 + 2 / share**2) / 2)
    of_sum = NormalDist(0, sqrt(2 * (own + both))).pdf(0)
    of_difference = NormalDist(0, sqrt(2 * (own - both))).pdf(0.4)
    assert taste.spread == pytest.approx(0.08)
    assert taste.likelihood == pytest.approx(log(2 * of_sum * of_difference))


def test_a_cut_of_which_nothing_went_in_may_be_named() -> None:
    named = [Tasted({**batch.shares, "chuck": Fraction(0)}, batch.fat, batch.score) for batch in RATED]
    with_chuck, without = (*PAIR, Offered("chuck", Fraction(18))), next_blend(RATED, PAIR)
    assert next_blend(named, PAIR) == without
    found = next_blend(named, with_chuck)
    assert isinstance(found, Proposal)
    assert found.untried == ("chuck",)


# --- does it find what people like? ---------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_a_few_tasters_are_pleased_sooner_than_at_random(kind: str) -> None:
    planned, at_random = compare(kind, 4)
    assert sum(planned) < sum(at_random)


@pytest.mark.oracle
@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_many_tasters_are_pleased_in_clearly_fewer_batches_than_at_random(kind: str) -> None:
    planned, at_random = compare(kind, 30)
    assert median(planned) <= 0.75 * median(at_random)


def test_a_simulation_repeats_itself() -> None:
    person = taster("fat-minded", 1)
    assert batches_needed(person, 1, planned=True) == batches_needed(person, 1, planned=True)
