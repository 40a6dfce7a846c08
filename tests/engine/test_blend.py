"""What must hold for every blend, and how impossible wishes are answered."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assistant.engine.blend import (
    Blend,
    Cut,
    Demand,
    Limit,
    NoBlend,
    Reach,
    Reason,
    cheapest,
    complete,
    fattest,
    largest,
    leanest,
    mix,
    most_of,
    nearest,
    reach,
)
from assistant.errors import BadInput

POUND = Fraction("453.59237")
BATCH = Fraction(1000)
# Drawn limits often contradict each other, and such draws are set aside where a blend is wanted.
QUICK = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])


def parts(low: int, high: int, of: int = 10) -> st.SearchStrategy[Fraction]:
    return st.integers(low, high).map(lambda n: Fraction(n, of))


@st.composite
def cuts_lists(draw: st.DrawFn) -> list[Cut]:
    count = draw(st.integers(1, 6))
    return [
        Cut(
            f"cut {i}",
            draw(parts(20, 950)),
            at_most=draw(st.none() | parts(0, 20000)),
            at_least=draw(st.just(Fraction(0)) | parts(0, 4000 // count)),
            share_at_most=draw(st.just(Fraction(1)) | parts(20, 100, 100)),
            share_at_least=draw(st.just(Fraction(0)) | parts(0, 90 // count, 100)),
            price=draw(parts(0, 200, 1000)),
            wish=draw(parts(1, 9, 1)),
        )
        for i in range(count)
    ]


fats = parts(20, 950)


def made(found: Blend | NoBlend) -> Blend:
    assume(isinstance(found, Blend))
    assert isinstance(found, Blend)
    return found


def none(found: Blend | Reach | NoBlend) -> NoBlend:
    assert isinstance(found, NoBlend)
    return found


def keeps_limits(cuts: list[Cut], blend: Blend) -> bool:
    return all(
        max(c.at_least, c.share_at_least * blend.total) <= g <= c.share_at_most * blend.total
        and (c.at_most is None or g <= c.at_most)
        for c, g in zip(cuts, blend.grams, strict=True)
    )


def middle_fat(cuts: list[Cut], place: Fraction) -> Fraction:
    """A fat that the batch can have: `place` of the way from its leanest to its fattest blend."""
    ends = reach(cuts, BATCH)
    assume(isinstance(ends, Reach))
    assert isinstance(ends, Reach)
    return ends.leanest.fat + place * (ends.fattest.fat - ends.leanest.fat)


places = parts(0, 12, 12)
solvers = pytest.mark.parametrize("solve", [nearest, cheapest])
Solver = Callable[..., Blend | NoBlend]


@solvers
@QUICK
@given(cuts=cuts_lists(), place=places)
def test_parts_add_up_on_target_within_limits(solve: Solver, cuts: list[Cut], place: Fraction) -> None:
    fat = middle_fat(cuts, place)
    blend = solve(cuts, BATCH, fat)
    assert isinstance(blend, Blend), "every fat between the ends can be made"
    assert sum(blend.grams) == blend.total == BATCH
    assert sum(g * c.fat for g, c in zip(blend.grams, cuts, strict=True)) == fat * BATCH
    assert keeps_limits(cuts, blend)
    assert min(blend.grams) >= 0


@solvers
@QUICK
@given(cuts=cuts_lists(), place=places, data=st.data())
def test_order_of_cuts_does_not_matter(solve: Solver, cuts: list[Cut], place: Fraction, data: st.DataObject) -> None:
    fat = middle_fat(cuts, place)
    order = data.draw(st.permutations(range(len(cuts))))
    straight, mixed = made(solve(cuts, BATCH, fat)), made(solve([cuts[i] for i in order], BATCH, fat))
    assert mixed.grams == tuple(straight.grams[i] for i in order)


@solvers
@QUICK
@given(cuts=cuts_lists(), place=places, unit=st.sampled_from([POUND, Fraction(1, 1000), Fraction(7)]))
def test_units_do_not_matter_and_scaling_is_linear(
    solve: Solver, cuts: list[Cut], place: Fraction, unit: Fraction
) -> None:
    fat = middle_fat(cuts, place)
    scaled = [
        replace(
            c,
            at_least=c.at_least * unit,
            at_most=None if c.at_most is None else c.at_most * unit,
            price=None if c.price is None else c.price / unit,
        )
        for c in cuts
    ]
    small, large = made(solve(cuts, BATCH, fat)), made(solve(scaled, BATCH * unit, fat))
    assert large.grams == tuple(g * unit for g in small.grams)
    assert large.cost == small.cost


@QUICK
@given(cuts=cuts_lists(), place=places, which=st.integers(0, 5), slack=parts(0, 3000))
def test_looser_limits_are_never_worse(cuts: list[Cut], place: Fraction, which: int, slack: Fraction) -> None:
    fat = middle_fat(cuts, place)
    i = which % len(cuts)
    stock = cuts[i].at_most
    looser = [*cuts[:i], replace(cuts[i], at_most=None if stock is None else stock + slack), *cuts[i + 1 :]]
    before, after = made(cheapest(cuts, BATCH, fat)), made(cheapest(looser, BATCH, fat))
    assert before.cost is not None
    assert after.cost is not None
    assert after.cost <= before.cost
    biggest = largest(cuts, fat)
    if isinstance(biggest, Blend):
        more = largest(looser, fat)
        assert none(more).reason is Reason.STOCK_UNLIMITED if isinstance(more, NoBlend) else more.total >= biggest.total


@QUICK
@given(cuts=cuts_lists(), low=fats, width=parts(0, 100))
def test_a_band_is_kept_and_never_worse_than_a_figure_inside_it(
    cuts: list[Cut], low: Fraction, width: Fraction
) -> None:
    high = min(low + width, Fraction(100))
    band = made(cheapest(cuts, BATCH, fat_at_least=low, fat_at_most=high))
    assert low <= band.fat <= high
    assert keeps_limits(cuts, band)
    assert band.cost is not None
    for figure in (low, high):
        exact = cheapest(cuts, BATCH, figure)
        if isinstance(exact, Blend):
            assert exact.cost is not None
            assert band.cost <= exact.cost


@QUICK
@given(cuts=cuts_lists(), fat=fats)
def test_a_refusal_names_the_reason_and_its_offers_hold(cuts: list[Cut], fat: Fraction) -> None:
    refusal = nearest(cuts, BATCH, fat)
    assume(isinstance(refusal, NoBlend))
    no = none(refusal)
    assert no.clash
    if no.reason in (Reason.TOO_LEAN, Reason.TOO_FAT):
        assert no.leanest is not None
        assert no.fattest is not None
        assert no.nearest is not None
        outside = fat < no.leanest.fat if no.reason is Reason.TOO_LEAN else fat > no.fattest.fat
        assert outside
        assert keeps_limits(cuts, no.nearest)
        assert abs(no.nearest.fat - fat) == min(abs(no.leanest.fat - fat), abs(no.fattest.fat - fat))
    for other in (no.largest, no.smallest):
        if other is not None:
            assert other.fat == fat
            assert keeps_limits(cuts, other)
    assert no.largest is None or no.largest.total < BATCH
    assert no.smallest is None or no.smallest.total > BATCH
    for way in no.more:
        for eased, works in ((Fraction(1), True), (Fraction(99, 100), False)):
            stocked = list(cuts)
            for i, grams in way.grams:
                stocked[i] = replace(cuts[i], at_most=(cuts[i].at_most or Fraction(0)) + eased * grams)
            assert isinstance(nearest(stocked, BATCH, fat), Blend) is works


@QUICK
@given(cuts=cuts_lists(), place=places)
def test_no_batch_is_larger_than_the_largest_nor_smaller_than_the_smallest(cuts: list[Cut], place: Fraction) -> None:
    fat = middle_fat(cuts, place)
    most = largest(cuts, fat)
    if isinstance(most, Blend):
        assert (most.fat, keeps_limits(cuts, most)) == (fat, True)
        assert isinstance(nearest(cuts, most.total * Fraction(1001, 1000), fat), NoBlend)
    else:
        assert most.reason is Reason.STOCK_UNLIMITED
        assert isinstance(nearest(cuts, BATCH * 1000, fat), Blend)
    if any(c.at_least for c in cuts):
        least = complete(cuts, fat)
        assert isinstance(least, Blend)
        assert (least.fat, keeps_limits(cuts, least)) == (fat, True)
        assert isinstance(nearest(cuts, least.total * Fraction(999, 1000), fat), NoBlend)


@QUICK
@given(cuts=cuts_lists(), fat=fats)
def test_free_batch_refusals_say_what_can_be_reached(cuts: list[Cut], fat: Fraction) -> None:
    assume(any(c.at_least for c in cuts))
    found = complete(cuts, fat)
    assume(isinstance(found, NoBlend))
    no = none(found)
    if no.reason in (Reason.TOO_LEAN, Reason.TOO_FAT):
        assert no.lean_end is not None
        assert no.fat_end is not None
        assert fat <= no.lean_end if no.reason is Reason.TOO_LEAN else fat >= no.fat_end
        for blend, end in ((no.leanest, no.lean_end), (no.fattest, no.fat_end)):
            if blend is not None:
                assert blend.fat == end
                assert keeps_limits(cuts, blend)
    for way in no.more:
        ((i, grams),) = way.grams
        eased = [*cuts[:i], replace(cuts[i], at_most=(cuts[i].at_most or Fraction(0)) + grams), *cuts[i + 1 :]]
        assert isinstance(complete(eased, fat), Blend)


@QUICK
@given(cuts=cuts_lists(), place=places)
def test_shadow_values_tell_what_one_gram_more_saves(cuts: list[Cut], place: Fraction) -> None:
    """The cost is convex in a limit, so its first gram saves at least as much as any later one: a bound, exactly."""
    fat = middle_fat(cuts, place)
    blend = made(cheapest(cuts, BATCH, fat))
    assert blend.cost is not None
    for binding in blend.binding:
        if binding.cut is None or binding.limit is not Limit.AT_MOST:
            continue
        assert binding.gain is not None
        stock = cuts[binding.cut].at_most
        assert stock is not None
        eased = list(cuts)
        eased[binding.cut] = replace(cuts[binding.cut], at_most=stock + Fraction(1, 1000))
        cheaper = made(cheapest(eased, BATCH, fat))
        assert cheaper.cost is not None
        assert 0 <= blend.cost - cheaper.cost <= binding.gain / 1000


def by_one_unit(cut: Cut, limit: Limit) -> Cut:
    """The cut with one limit eased by a gram or by a hundredth of the batch."""
    hundredth = Fraction(1, 100)
    return {
        Limit.AT_MOST: lambda: replace(cut, at_most=(cut.at_most or 0) + 1),
        Limit.AT_LEAST: lambda: replace(cut, at_least=max(Fraction(0), cut.at_least - 1)),
        Limit.SHARE_AT_MOST: lambda: replace(cut, share_at_most=min(Fraction(1), cut.share_at_most + hundredth)),
        Limit.SHARE_AT_LEAST: lambda: replace(cut, share_at_least=max(Fraction(0), cut.share_at_least - hundredth)),
    }[limit]()


@QUICK
@given(cuts=cuts_lists(), place=places)
def test_gains_of_the_largest_batch_are_what_easing_a_limit_adds(cuts: list[Cut], place: Fraction) -> None:
    fat = middle_fat(cuts, place)
    cuts = [c if c.at_most is not None else replace(c, at_most=2 * BATCH) for c in cuts]
    blend = made(largest(cuts, fat))
    for binding in blend.binding:
        if binding.cut is None or binding.limit is Limit.LEFT_OUT:
            assert binding.gain is None
            continue
        eased = list(cuts)
        eased[binding.cut] = by_one_unit(cuts[binding.cut], binding.limit)
        more = largest(eased, fat)
        assert binding.gain == (more.total - blend.total if isinstance(more, Blend) else None)


PLAIN = [Cut("a", Fraction(8)), Cut("b", Fraction(50))]
TRIM_AND_ROUND = [Cut("trim", Fraction(50), at_most=POUND), Cut("round", Fraction(8), at_most=20 * POUND)]


def test_one_pound_of_trim_is_too_little_for_ten_pounds() -> None:
    """By hand: 10 lb hold at best (50 + 9 x 8) / 10 = 12.2 percent; 1 lb of trim carries 2.5 lb of round to 20."""
    no = none(nearest(TRIM_AND_ROUND, 10 * POUND, Fraction(20)))
    assert no.reason is Reason.TOO_FAT
    assert no.clash == (Demand(Limit.FAT, (), Fraction(20)), Demand(Limit.AT_MOST, (0,), POUND))
    assert no.nearest is not None
    assert no.nearest.fat == Fraction("12.2")
    assert no.largest is not None
    assert no.largest.total == Fraction("3.5") * POUND
    # 10 lb at 20 percent take 120 / 42 lb of trim.
    assert [m.grams for m in no.more] == [((0, (Fraction(120, 42) - 1) * POUND),)]


def test_a_gram_more_of_the_scarce_cut_gives_three_and_a_half_more_of_the_batch() -> None:
    blend = largest(TRIM_AND_ROUND, Fraction(20))
    assert isinstance(blend, Blend)
    assert [(b.cut, b.limit, b.gain) for b in blend.binding if b.cut is not None] == [
        (0, Limit.AT_MOST, Fraction(7, 2))
    ]


def test_a_share_eased_to_nothing_frees_the_rest_of_the_stock() -> None:
    """10 g that must be 1 percent end the batch at 1000 g; free of that, all 10 + 2000 g go in."""
    cuts = [
        Cut("bacon", Fraction(20), at_most=Fraction(10), share_at_least=Fraction(1, 100)),
        Cut("chuck", Fraction(20), at_most=Fraction(2000)),
    ]
    blend = largest(cuts, Fraction(20))
    assert isinstance(blend, Blend)
    assert blend.total == 1000
    assert {b.limit: b.gain for b in blend.binding if b.cut == 0}[Limit.SHARE_AT_LEAST] == 1010


def test_a_gram_that_no_cut_gives_at_first_pull_is_still_found() -> None:
    """Wished 250 and 750 g, held to 600 or more and to just 399: every pull but a strong one leaves a gram missing."""
    cuts = [
        Cut("a", Fraction(20), wish=Fraction(1), at_least=Fraction(600)),
        Cut("b", Fraction(20), wish=Fraction(3), at_least=Fraction(399), at_most=Fraction(399)),
    ]
    blend = nearest(cuts, BATCH)
    assert isinstance(blend, Blend)
    assert blend.grams == (Fraction(601), Fraction(399))


def test_both_cuts_short_are_bought_each_what_it_lacks() -> None:
    """1 kg of 20 percent from 10 and 30 is 500 g each: of 450 and 300 g at hand 50 and 200 lack, no one cut helps."""
    cuts = [Cut("lean", Fraction(10), at_most=Fraction(450)), Cut("fat", Fraction(30), at_most=Fraction(300))]
    no = none(nearest(cuts, BATCH, Fraction(20)))
    assert [way.grams for way in no.more] == [((0, Fraction(50)), (1, Fraction(200)))]


def test_two_minimums_above_the_stock_are_both_bought() -> None:
    """500 g of each must go in and 400 and 300 are there: 100 and 200 more, and half 10 half 30 percent is 20."""
    cuts = [
        Cut("lean", Fraction(10), at_least=Fraction(500), at_most=Fraction(400)),
        Cut("fat", Fraction(30), at_least=Fraction(500), at_most=Fraction(300)),
    ]
    no = none(nearest(cuts, BATCH, Fraction(20)))
    assert no.reason is Reason.CUT_LIMITS_CLASH
    assert [way.grams for way in no.more] == [((0, Fraction(100)), (1, Fraction(200)))]


def test_what_keeps_a_blend_too_fat_is_little_lean_and_much_fat() -> None:
    """1000 g with all 300 g of 8 percent and no less than 600 g of 50: at its leanest 300 x 8 + 100 x 20 + 600 x 50."""
    cuts = [
        Cut("round", Fraction(8), at_most=Fraction(300)),
        Cut("chuck", Fraction(20), at_most=Fraction(500)),
        Cut("trim", Fraction(50), share_at_least=Fraction(6, 10), at_most=Fraction(700)),
    ]
    no = none(nearest(cuts, BATCH, Fraction(20)))
    assert no.reason is Reason.TOO_LEAN
    assert no.lean_end == Fraction("34.4")
    assert no.clash == (
        Demand(Limit.FAT, (), Fraction(20)),
        Demand(Limit.AT_MOST, (0,), Fraction(300)),
        Demand(Limit.SHARE_AT_LEAST, (2,), Fraction(6, 10)),
    )


def test_a_weight_beside_a_cut_that_must_be_everything_is_told_for_the_least_batch() -> None:
    """100 g of one cut and a share of all of another: at 100 g, the least the weight allows, 200 g would have to fit."""
    cuts = [Cut("a", Fraction(10), at_least=Fraction(100)), Cut("b", Fraction(30), share_at_least=Fraction(1))]
    no = none(complete(cuts, Fraction(20)))
    assert no.reason is Reason.MINIMUMS_EXCEED_BATCH
    assert no.clash == (Demand(Limit.AT_LEAST, (0, 1), Fraction(200)), Demand(Limit.BATCH, (), Fraction(100)))


def test_use_up_one_cut_and_find_the_other() -> None:
    """1 kg of 8 percent with 50 percent trim to 20: 1000 x 12 / 30 = 400 g."""
    blend = complete(
        [Cut("round", Fraction(8), at_least=BATCH, at_most=BATCH), Cut("trim", Fraction(50))], Fraction(20)
    )
    assert isinstance(blend, Blend)
    assert blend.grams == (BATCH, Fraction(400))


def test_a_fat_that_is_only_approached_is_refused() -> None:
    no = none(complete([Cut("round", Fraction(8), at_least=BATCH), Cut("trim", Fraction(50))], Fraction(50)))
    assert (no.reason, no.fat_end, no.fattest) == (Reason.TOO_FAT, Fraction(50), None)


@pytest.mark.parametrize(
    ("cuts", "reason", "limits"),
    [
        ([Cut("a", Fraction(10)), Cut("b", Fraction(12))], Reason.TOO_FAT, [Limit.FAT]),
        ([Cut("a", Fraction(30)), Cut("b", Fraction(40))], Reason.TOO_LEAN, [Limit.FAT]),
        (
            [Cut("a", Fraction(8), at_least=Fraction(600)), Cut("b", Fraction(50), at_least=Fraction(600))],
            Reason.MINIMUMS_EXCEED_BATCH,
            [Limit.AT_LEAST, Limit.BATCH],
        ),
        (
            [Cut("a", Fraction(8), at_most=Fraction(300)), Cut("b", Fraction(50), at_most=Fraction(300))],
            Reason.STOCK_SHORT,
            [Limit.AT_MOST, Limit.BATCH],
        ),
        (
            [
                Cut("a", Fraction(8), share_at_least=Fraction(6, 10)),
                Cut("b", Fraction(50), share_at_least=Fraction(1, 2)),
            ],
            Reason.SHARES_CLASH,
            [Limit.SHARE_AT_LEAST, Limit.WHOLE],
        ),
        (
            [
                Cut("a", Fraction(8), share_at_most=Fraction(4, 10)),
                Cut("b", Fraction(50), share_at_most=Fraction(1, 2)),
            ],
            Reason.SHARES_CLASH,
            [Limit.SHARE_AT_MOST, Limit.WHOLE],
        ),
        (
            [Cut("a", Fraction(8), at_most=Fraction(300), share_at_least=Fraction(1, 2)), Cut("b", Fraction(50))],
            Reason.CUT_LIMITS_CLASH,
            [Limit.SHARE_AT_LEAST, Limit.AT_MOST],
        ),
    ],
)
def test_each_reason_has_its_name(cuts: list[Cut], reason: Reason, limits: list[Limit]) -> None:
    no = none(nearest(cuts, BATCH, Fraction(20)))
    assert no.reason is reason
    assert [d.limit for d in no.clash] == limits


def test_wishes_are_met_exactly_when_nothing_forbids() -> None:
    cuts = [Cut("a", Fraction(8), wish=Fraction(60)), Cut("b", Fraction(50), wish=Fraction(40))]
    blend = nearest(cuts, BATCH)
    assert isinstance(blend, Blend)
    assert blend.grams == (Fraction(600), Fraction(400))


def test_equally_cheap_blends_are_said_to_be() -> None:
    cuts = [Cut(n, Fraction(f), price=Fraction(1)) for n, f in (("a", 10), ("b", 20), ("c", 30))]
    blend = cheapest(cuts, BATCH, Fraction(20))
    assert isinstance(blend, Blend)
    assert blend.tied
    assert blend.grams == (BATCH / 3,) * 3


def test_a_blend_without_ranges_or_prices() -> None:
    blend = mix([Cut("a", Fraction(8), low=Fraction(6), high=Fraction(11)), Cut("b", Fraction(50))], [BATCH, BATCH])
    assert (blend.fat, blend.low, blend.high, blend.cost) == (Fraction(29), Fraction(28), Fraction(61, 2), None)


def test_ends_of_the_reach_have_names_of_their_own() -> None:
    ends = reach(TRIM_AND_ROUND, 10 * POUND)
    assert isinstance(ends, Reach)
    assert (leanest(TRIM_AND_ROUND, 10 * POUND), fattest(TRIM_AND_ROUND, 10 * POUND)) == (ends.leanest, ends.fattest)


def test_contradicting_limits_are_not_taken_for_endless_stock() -> None:
    """Found against HiGHS: against a batch without end, 218 g at least and 85 g at most both count as nothing."""
    torn = Cut("a", Fraction(20), at_least=Fraction(218), at_most=Fraction(85))
    assert none(largest([torn, *PLAIN], Fraction(20))).reason is Reason.CUT_LIMITS_CLASH


def test_the_largest_batch_is_the_same_without_what_easing_gives() -> None:
    cuts = [Cut("lean", Fraction(5), at_most=Fraction(900)), Cut("fat", Fraction(60), at_most=Fraction(500))]
    told, plain = largest(cuts, Fraction(20)), largest(cuts, Fraction(20), gains=False)
    assert isinstance(told, Blend) and isinstance(plain, Blend)
    assert (plain.grams, [b.limit for b in plain.binding]) == (told.grams, [b.limit for b in told.binding])
    assert [b.gain for b in plain.binding] == [None] * len(plain.binding)
    assert any(b.gain for b in told.binding)


def test_no_end_of_stock_means_no_largest_batch() -> None:
    assert none(largest([Cut("a", Fraction(8)), Cut("b", Fraction(50))], Fraction(20))).reason is Reason.STOCK_UNLIMITED


@pytest.mark.slow
def test_two_hundred_cuts_are_still_exact() -> None:
    cuts = [Cut(f"cut {i}", Fraction(3 + i % 90), price=Fraction(i * 37 % 101, 1000)) for i in range(200)]
    for solve in (nearest, cheapest):
        blend = solve(cuts, BATCH, Fraction(20))
        assert isinstance(blend, Blend)
        assert (blend.total, blend.fat) == (BATCH, Fraction(20))


@pytest.mark.parametrize(
    ("argument", "call"),
    [
        ("fat", lambda: Cut("a", Fraction(101))),
        ("fat", lambda: Cut("a", 20.5)),  # type: ignore[arg-type]
        ("low", lambda: Cut("a", Fraction(20), low=Fraction(21))),
        ("high", lambda: Cut("a", Fraction(20), high=Fraction(19))),
        ("at_least", lambda: Cut("a", Fraction(20), at_least=Fraction(-1))),
        ("share_at_most", lambda: Cut("a", Fraction(20), share_at_most=Fraction(2))),
        ("wish", lambda: Cut("a", Fraction(20), wish=Fraction(0))),
        ("cuts", lambda: nearest([], BATCH)),
        ("cuts", lambda: nearest([Cut("a", Fraction(20))] * 201, BATCH)),
        ("batch", lambda: nearest(PLAIN, Fraction(0))),
        ("fat", lambda: nearest(PLAIN, BATCH, Fraction(120))),
        ("fat", lambda: nearest(PLAIN, BATCH, Fraction(20), fat_at_most=Fraction(25))),
        ("fat_at_least", lambda: nearest(PLAIN, BATCH, fat_at_most=Fraction(20), fat_at_least=Fraction(25))),
        ("wish", lambda: nearest([Cut("a", Fraction(8), wish=Fraction(1)), Cut("b", Fraction(50))], BATCH)),
        ("price", lambda: cheapest(PLAIN, BATCH, Fraction(20))),
        ("which", lambda: most_of(PLAIN, BATCH, len(PLAIN), Fraction(20))),
        ("cuts", lambda: complete(PLAIN, Fraction(20))),
        ("grams", lambda: mix(PLAIN, [BATCH])),
        ("grams", lambda: mix(PLAIN, [Fraction(0), Fraction(0)])),
        ("grams", lambda: mix(PLAIN, [Fraction(-1), Fraction(2)])),
    ],
)
def test_senseless_input_is_refused_by_name(argument: str, call: Callable[[], object]) -> None:
    with pytest.raises(BadInput) as caught:
        call()
    assert caught.value.argument == argument


@QUICK
@given(
    lows=st.tuples(st.integers(0, 600), st.integers(0, 600)),
    rooms=st.tuples(st.integers(0, 900), st.integers(0, 900)),
    wishes=st.tuples(st.integers(1, 9), st.integers(1, 9)),
)
def test_two_like_cuts_tie_just_where_one_can_stand_in_for_the_other(
    lows: tuple[int, int], rooms: tuple[int, int], wishes: tuple[int, int]
) -> None:
    """Two cuts of one fat and one price: every split within the limits costs the same."""
    cuts = [
        Cut(
            f"cut {i}",
            Fraction(20),
            at_least=Fraction(lows[i]),
            at_most=Fraction(lows[i] + rooms[i]),
            price=Fraction(1),
            wish=Fraction(wishes[i]),
        )
        for i in (0, 1)
    ]
    blend = made(cheapest(cuts, BATCH, Fraction(20)))
    first = (Fraction(lows[0]), Fraction(lows[0] + rooms[0]))
    least, most = max(first[0], BATCH - lows[1] - rooms[1]), min(first[1], BATCH - lows[1])
    assert blend.tied is (least < most)


def test_a_cut_on_its_limit_that_nothing_can_move_is_no_tie() -> None:
    """10 and 30 percent to 20: half and half is the only blend, whatever the limits."""
    cuts = [
        Cut("lean", Fraction(10), at_most=Fraction(500), price=Fraction(1)),
        Cut("fat", Fraction(30), price=Fraction(1)),
    ]
    blend = cheapest(cuts, BATCH, Fraction(20))
    assert isinstance(blend, Blend)
    assert blend.grams == (Fraction(500), Fraction(500))
    assert not blend.tied
