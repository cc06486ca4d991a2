"""The estimate of the gauge, with numpy's fits and scipy's distributions as witnesses."""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy  # type: ignore[import-untyped]
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError

from companion.planning import Check
from companion.planning.gauge.check import Spot, Stretch
from companion.planning.gauge.estimate import DRIFTS, estimate, gauges_of
from companion.planning.gauge.observations import (
    COUNTING_ERROR,
    FABRIC_SPREAD,
    GIVE_OR_TAKE,
    SOURCE_ERROR,
    STEP_MOVES,
    TAPE_ERROR_CM,
    Assumed,
)
from companion.planning.gauge.steps import WANDERS

LENGTHS = st.lists(st.integers(20, 240).map(lambda millimetres: millimetres / 10), min_size=1, max_size=5)


def spots(gauge: float, lengths: list[float]) -> tuple[Spot, ...]:
    return tuple(Spot(count=round(gauge * length / 10 * 2) / 2, over_cm=length) for length in lengths)


def check(gauge: float, at: int | None = None, lengths: tuple[float, ...] = (10, 10, 10)) -> Check:
    return Check(stitches=spots(gauge, list(lengths)), round=at)


def swatch(stitches: float) -> Assumed:
    return Assumed(basis="swatch", stitches_per_10cm=stitches)


def test_reading_a_count_to_the_nearest_whole_has_the_deviation_of_a_uniform_error() -> None:
    assert pytest.approx(scipy.stats.uniform(-0.5, 1).std(), abs=0.005) == COUNTING_ERROR


def test_give_or_take_holds_nineteen_times_in_twenty() -> None:
    assert scipy.stats.norm.cdf(GIVE_OR_TAKE) - scipy.stats.norm.cdf(-GIVE_OR_TAKE) == pytest.approx(0.95, abs=0.005)


@given(LENGTHS)
def test_a_check_is_all_counts_over_all_lengths(lengths: list[float]) -> None:
    found = estimate([Check(stitches=spots(40, lengths))], "stitches")
    counts = np.array([round(40 * length / 10 * 2) / 2 for length in lengths])
    assert found.per_10cm == pytest.approx(10 * counts.sum() / sum(lengths))


def test_one_spot_has_the_counting_error_and_the_usual_spread() -> None:
    found = estimate([check(30, lengths=(10,))], "stitches")
    assert found.deviation == pytest.approx(math.hypot(0.29, 30 * FABRIC_SPREAD))


def test_spots_that_agree_by_chance_are_not_taken_for_an_even_fabric() -> None:
    """The mean of n spots is never surer than 1 / sqrt(n) of the usual spread of one."""
    for number in (2, 3, 5):
        found = estimate([check(30, lengths=(10,) * number)], "stitches")
        assert found.error >= FABRIC_SPREAD / math.sqrt(number)


def test_an_uneven_fabric_is_less_sure() -> None:
    uneven = Check(stitches=tuple(Spot(count=count, over_cm=10) for count in (27, 33, 28, 32)))
    even = Check(stitches=tuple(Spot(count=count, over_cm=10) for count in (30, 30, 30, 30)))
    assert estimate([uneven], "stitches").deviation > 3 * estimate([even], "stitches").deviation
    # With many spots it comes near the textbook's standard error of the mean.
    many = tuple(Spot(count=count, over_cm=10) for count in (27, 33, 28, 32) * 5)
    sem = scipy.stats.sem([spot.count for spot in many])
    assert estimate([Check(stitches=many)], "stitches").deviation == pytest.approx(sem, rel=0.12)


@given(st.lists(st.tuples(st.integers(280, 320), LENGTHS), min_size=2, max_size=6))
def test_checks_are_combined_as_a_weighted_fit_of_a_constant(drawn: list[tuple[int, list[float]]]) -> None:
    """numpy.polyfit: the covariance by the errors as they are, and scaled by the misfit."""
    found = estimate([Check(stitches=spots(tenths / 10, lengths)) for tenths, lengths in drawn], "stitches")
    values = [seen.per_10cm for seen in found.seen]
    weights = [1 / seen.deviation for seen in found.seen]
    [mean], [[trusted]] = np.polyfit(np.zeros(len(values)), values, 0, w=weights, cov="unscaled")
    _, [[scaled]] = np.polyfit(np.zeros(len(values)), values, 0, w=weights, cov=True)
    assert found.per_10cm == pytest.approx(mean, rel=1e-6)
    assert found.deviation == pytest.approx(math.sqrt(max(trusted, scaled)), rel=1e-5)


def test_a_swatch_counts_by_its_own_error() -> None:
    """Inverse variance by hand: 3 % of 32 is 0.96, and three spots of 10 cm have 0.24."""
    found = estimate([swatch(32), check(31)], "stitches")
    own = estimate([check(31)], "stitches")
    weights = np.array([(32 * SOURCE_ERROR["swatch"]) ** -2, own.deviation**-2])
    assert found.per_10cm == pytest.approx(np.average([32, 31], weights=weights))
    assert found.deviation == pytest.approx(weights.sum() ** -0.5)


def test_an_assumption_that_is_far_off_is_set_aside() -> None:
    found = estimate([swatch(34), check(30)], "stitches")
    assert found.per_10cm == pytest.approx(30)
    assert [seen.counts for seen in found.seen] == [False, True]
    assert "left out" in found.why


def test_sources_are_trusted_in_their_order() -> None:
    assert SOURCE_ERROR["ball band"] > SOURCE_ERROR["swatch"] > SOURCE_ERROR["measured"]


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(270, 330)), min_size=2, max_size=6))
def test_a_drift_is_the_line_of_a_weighted_fit(drawn: list[tuple[int, int]]) -> None:
    """numpy.polyfit of a line; its value and error at the newest check."""
    assume(len({at for at, _ in drawn}) > 1)
    checks = [check(tenths / 10, at) for at, tenths in drawn]
    found = estimate(checks, "stitches")
    at = np.array([seen.round for seen in found.seen], dtype=float)
    values, weights = zip(*((seen.per_10cm, 1 / seen.deviation) for seen in found.seen), strict=True)
    (slope, level), variance = np.polyfit(at - at.max(), values, 1, w=weights, cov="unscaled")
    steep = abs(slope) / math.sqrt(variance[0, 0])
    assume(abs(steep - DRIFTS) > 1e-3)
    assert found.drifting == (steep > DRIFTS)
    if found.drifting:
        assert found.per_10cm == pytest.approx(level, rel=1e-5)
        assert found.deviation == pytest.approx(math.sqrt(variance[1, 1]), rel=1e-4)
        assert "as you go on" in found.why


@given(st.lists(st.tuples(st.integers(0, 400), st.integers(295, 305)), min_size=1, max_size=6))
def test_older_checks_count_less_as_in_generalized_least_squares(drawn: list[tuple[int, int]]) -> None:
    """numpy, the textbook's formula: two checks share the way that the gauge has wandered since the newer of them."""
    found = estimate([check(tenths / 10, at) for at, tenths in drawn], "stitches")
    assume(not found.drifting)
    at = np.array([seen.round for seen in found.seen], dtype=float)
    value = np.array([seen.per_10cm for seen in found.seen])
    since = at.max() - at
    shared = (WANDERS * value[0]) ** 2 / 100 * np.minimum.outer(since, since)
    inverse = np.linalg.inv(shared + np.diag([seen.deviation**2 for seen in found.seen]))
    mean = inverse.sum(axis=0) @ value / inverse.sum()
    misfit = (value - mean) @ inverse @ (value - mean) / max(1, len(value) - 1)
    assert found.per_10cm == pytest.approx(mean, rel=1e-6)
    assert found.deviation == pytest.approx(math.sqrt(max(1, misfit) / inverse.sum()), rel=1e-5)


def test_the_newest_of_two_checks_counts_more() -> None:
    found = estimate([check(30, 40), check(30.6, 160)], "stitches")
    assert not found.drifting
    assert 30.3 < found.per_10cm < 30.6
    assert "the surest and newest counting most" in found.why


def test_noise_is_seldom_taken_for_a_drift_and_a_drift_is_found() -> None:
    """Simulated by numpy: four checks of three spots each, counts rounded to the nearest whole."""
    draw = np.random.default_rng(1932)

    def seen_to_drift(change: float) -> bool:
        checks = []
        for at in (30, 70, 110, 150):
            gauge = 31 * (1 + change * at / 150)
            counts = np.rint(gauge * (1 + 0.01 * draw.standard_normal(3)))
            checks.append(Check(stitches=tuple(Spot(count=float(count), over_cm=10) for count in counts), round=at))
        return estimate(checks, "stitches").drifting

    assert np.mean([seen_to_drift(0.0) for _ in range(500)]) < 0.01
    assert np.mean([seen_to_drift(0.08) for _ in range(200)]) > 0.8


def test_the_interval_holds_the_true_gauge_as_often_as_it_says() -> None:
    """Simulated by numpy: an even fabric with the usual spread, one to four checks, one to three spots each."""
    draw = np.random.default_rng(1959)
    held = []
    for _ in range(1500):
        gauge = draw.uniform(26, 38)
        checks = []
        for _ in range(draw.integers(1, 5)):
            lengths = draw.uniform(6, 11, draw.integers(1, 4))
            counts = np.rint(gauge * lengths / 10 * (1 + FABRIC_SPREAD * draw.standard_normal(len(lengths))))
            checks.append(Check(stitches=tuple(map(_spot, counts, lengths))))
        found = estimate(checks, "stitches")
        held.append(found.low <= gauge <= found.high)
    assert 0.94 <= np.mean(held) <= 0.99


def _spot(count: float, length: float) -> Spot:
    return Spot(count=float(count), over_cm=float(length))


def test_a_length_by_tape_is_a_check_of_the_rounds() -> None:
    tape = Check(tape=(Stretch(section="leg", rounds=61, length_cm=14.5),))
    found = gauges_of([Assumed(basis="swatch", stitches_per_10cm=32), tape]).rounds
    [_, seen] = found.seen
    assert seen.per_10cm == pytest.approx(42.07, abs=0.01)
    assert seen.deviation / seen.per_10cm == pytest.approx(math.hypot(TAPE_ERROR_CM / 14.5, FABRIC_SPREAD))
    assert "61 rounds of the leg are 14.5 cm (5 3/4 in) long" in seen.why


def test_rounds_never_counted_are_calculated_from_the_stitches() -> None:
    found = gauges_of([swatch(32), check(31)])
    assert found.rounds.per_10cm == pytest.approx(found.stitches.per_10cm * 1.35)
    assert not found.rounds.counted


def test_the_sum_is_shown_in_both_units() -> None:
    found = estimate([Check(stitches=(Spot(count=30, over_cm=10.2), Spot(count=31, over_cm=10.0)))], "stitches")
    # (30 + 31) / (10.2 + 10.0) = 3.02 a cm, and 4 in are 10.16 cm.
    assert found.seen[0].why == (
        "30 stitches over 10.2 cm (4 in) and 31 over 10 cm (3 7/8 in) are 30.2 over 10 cm (30.7 over 4 in), "
        "give or take 0.9"
    )


def test_a_needle_step_moves_the_gauge_as_the_weight_classes_do() -> None:
    """The yarn industry's table: 32 to 27 stitches on 2.25 to 3.25 mm, 40 to 33 on 1.5 to 2.25 mm."""
    for fine, coarse, steps in ((32, 27, 4), (40, 33, 3)):
        assert (fine / coarse) ** (1 / steps) - 1 == pytest.approx(STEP_MOVES, abs=0.02)


def test_nothing_that_speaks_of_the_gauge_is_a_programmers_error() -> None:
    with pytest.raises(ValueError, match="no evidence"):
        estimate([], "stitches")


def test_the_smallest_spot_is_that_of_a_counting_glass() -> None:
    """BS 5441:1988 counts knitted fabric with a glass of 2 cm."""
    assert Spot(count=6, over_cm=2).over_cm == 2
    with pytest.raises(ValidationError, match="greater than or equal to 2"):
        Spot(count=6, over_cm=1.9)


def test_wales_and_courses_are_counted_apart() -> None:
    """ASTM D8007: each for itself, and neither says anything of the other where both are known."""
    told = Assumed(basis="swatch", stitches_per_10cm=30, rounds_per_10cm=42)
    before = gauges_of([told])
    stitches = gauges_of([told, Check(stitches=spots(28, [10, 10]))])
    rounds = gauges_of([told, Check(rounds=spots(40, [10, 10]))])
    assert stitches.rounds == before.rounds
    assert rounds.stitches == before.stitches
    assert stitches.stitches.counted
    assert rounds.rounds.counted


def test_five_places_are_as_sure_as_the_mean_of_five() -> None:
    """Five places a fabric (from memory of textile testing): the error of a mean of n falls with the root of n."""
    lengths = [9.0, 9.5, 10.0, 10.5, 11.0]
    five = estimate([Check(stitches=spots(30, lengths))], "stitches").deviation
    ones = [estimate([Check(stitches=spots(30, [length]))], "stitches").deviation for length in lengths]
    assert five == pytest.approx(np.sqrt(np.mean(np.square(ones)) / 5), rel=0.03)
