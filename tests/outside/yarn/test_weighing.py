"""Yarn by weight against sums by hand, textile science, and scipy's weighted least squares."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import scipy  # type: ignore[import-untyped]
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from companion.planning.fit.targets import fit_of
from companion.planning.gauge.observations import GIVE_OR_TAKE
from companion.planning.units import in_one_unit
from companion.planning.yarn.forecast import progress_of, yarns_left
from companion.planning.yarn.loops import MUNDEN_WET_RELAXED
from companion.planning.yarn.weighing import LABEL_ERROR, MODEL_ERROR, PART_ERROR, SCALE_ERROR_G, Weighed, use_of
from tests.planning.asking import planned

CALCULATED = 3.0
"""Grams in 1,000 stitches: 12.4 mm of a yarn of 250 tex are 3.1."""

Array = NDArray[np.float64]


def fitted(rows: object, values: object, deviations: object) -> tuple[Array, Array]:
    """Weighted least squares by scipy.optimize.curve_fit, trusting the errors: parameters and their covariance."""
    design = np.array(rows, dtype=float)

    def linear(_: object, *parameters: float) -> Array:
        return np.asarray(design @ np.array(parameters), dtype=float)

    count = len(design)
    parameters, covariance = scipy.optimize.curve_fit(
        linear,
        np.arange(count),
        values,
        np.ones(design.shape[1]),
        deviations,
        absolute_sigma=True,
        jac=lambda *_: design,  # found by small steps it may be lost where a parameter is nothing
    )
    return parameters, covariance


def misfit(rows: object, values: list[float], deviations: list[float]) -> float:
    """Squares of the residuals, each in its deviations, over the degrees of freedom (chi-squared, reduced)."""
    parameters, _ = fitted(rows, values, deviations)
    residuals = (np.array(values) - np.array(rows) @ parameters) / np.array(deviations)
    return float(residuals @ residuals) / (len(values) - len(parameters))


def test_what_a_ball_lost_is_divided_by_the_stitches() -> None:
    """50 - 31 = 19 g over 4,120 stitches are 4.61 g per 1,000; the errors of both weights add by Pythagoras."""
    use = use_of(1.7 * CALCULATED, 50, [Weighed(31, 4120)])
    error = GIVE_OR_TAKE * math.hypot(50 * LABEL_ERROR, SCALE_ERROR_G) / 4.12
    assert in_one_unit(use.sums[1], "cm") == (
        f"50 g at the start and 31 g after 4,120 stitches: 4.61 g per 1,000 stitches, give or take {error:.2f} g."
    )


def test_a_small_ball_is_known_no_better_than_a_scale_would_tell() -> None:
    """3 % of 5 g are less than a kitchen scale shows: both weights have its error, by Pythagoras."""
    use = use_of(CALCULATED, 5, [Weighed(3, 600)])
    error = GIVE_OR_TAKE * math.hypot(SCALE_ERROR_G, SCALE_ERROR_G) / 0.6
    assert in_one_unit(use.sums[1], "cm").endswith(f": 3.33 g per 1,000 stitches, give or take {error:.2f} g.")


@pytest.mark.parametrize(("deviations", "aside"), [(1.9, False), (2.1, True)])
def test_a_model_two_deviations_away_is_not_of_this_yarn(deviations: float, aside: bool) -> None:
    weighed = math.hypot(SCALE_ERROR_G, SCALE_ERROR_G) / 10
    off = deviations * math.hypot(weighed, CALCULATED * MODEL_ERROR)
    use = use_of(CALCULATED, 100, [Weighed(100, 0), Weighed(100 - 10 * (CALCULATED + off), 10_000)])
    assert ("left out" in use.why) == aside


@pytest.mark.parametrize(("deviations", "another"), [(2.9, False), (3.1, True)])
def test_a_ball_that_grows_by_three_deviations_is_another(deviations: float, another: bool) -> None:
    heavier = 60 + deviations * math.hypot(SCALE_ERROR_G, SCALE_ERROR_G)
    use = use_of(CALCULATED, 100, [Weighed(60, 12_000), Weighed(heavier, 12_000)])
    assert (use.ball.grams == pytest.approx(heavier)) == another


def test_model_and_weighing_count_by_inverse_variance() -> None:
    use = use_of(CALCULATED, 100, [Weighed(99, 0), Weighed(70, 9000)])
    weights = [(CALCULATED * MODEL_ERROR) ** -2, (math.hypot(SCALE_ERROR_G, SCALE_ERROR_G) / 9) ** -2]
    assert use.per_thousand == pytest.approx(np.average([CALCULATED, (99 - 70) / 9], weights=weights))
    assert use.deviation == pytest.approx(sum(weights) ** -0.5)


def test_a_scale_of_whole_grams_reads_to_half_a_gram() -> None:
    """A reading to the nearest gram alone has the deviation of a uniform error (scipy)."""
    assert scipy.stats.uniform(-0.5, 1).std() < SCALE_ERROR_G < 1


@given(st.lists(st.integers(300, 4000), min_size=1, max_size=6), st.integers(-20, 20), st.integers(0, 2**32 - 1))
def test_one_ball_is_a_mixed_estimate_of_level_and_slope(steps: list[int], percent: int, seed: int) -> None:
    """H. Theil and A. Goldberger, International Economic Review 2 (1961) 65: what is known before is another row."""
    at = np.concatenate([[0.0], np.cumsum(steps)]) / 1000
    assume(at[-1] * CALCULATED * 1.3 < 100)
    noise = np.random.default_rng(seed).uniform(-0.5, 0.5, len(at))
    grams = [float(g) for g in np.round(100 - CALCULATED * (1 + percent / 100) * at + noise)]
    deviations = [100 * LABEL_ERROR, *[SCALE_ERROR_G] * (len(at) - 1)]
    use = use_of(CALCULATED, 100, [Weighed(g, x * 1000) for g, x in zip(grams[1:], at[1:], strict=True)])
    rows = [[1.0, -x] for x in at]
    # Weighings that stray further than a scale are less sure than this sum has it.
    assume(len(at) < 3 or misfit(rows, grams, deviations) <= 1)
    assume("left out" not in use.why)
    parameters, covariance = fitted([*rows, [0.0, 1.0]], [*grams, CALCULATED], [*deviations, CALCULATED * MODEL_ERROR])
    level, slope = parameters
    assert use.per_thousand == pytest.approx(slope, rel=1e-5)
    assert use.deviation == pytest.approx(math.sqrt(covariance[1, 1]), rel=1e-5)
    for stitches in (at[-1], at[-1] + 8):
        told = use.left(stitches * 1000)
        row = np.array([1.0, -stitches])
        unlike = (stitches - at[-1]) * PART_ERROR * use.per_thousand
        assert told.grams == pytest.approx(level - slope * stitches, rel=1e-5, abs=1e-4)
        assert told.deviation == pytest.approx(math.hypot(math.sqrt(row @ covariance @ row), unlike), rel=1e-5)


def test_a_second_ball_has_a_level_of_its_own_and_the_same_slope() -> None:
    """A column for each ball, and one for the stitches of both (scipy)."""
    grams = [50.0, 41, 29, 62, 51]
    at = [0.0, 3.0, 7.0, 11.0, 15.0]
    rows = [[float(number < 3), float(number >= 3), -x] for number, x in enumerate(at)]
    deviations = [50 * LABEL_ERROR, *[SCALE_ERROR_G] * 4, CALCULATED * MODEL_ERROR]
    parameters, covariance = fitted([*rows, [0, 0, 1]], [*grams, CALCULATED], deviations)
    use = use_of(CALCULATED, 50, [Weighed(g, x * 1000) for g, x in zip(grams[1:], at[1:], strict=True)])
    assert len(use.sums) == 4
    assert use.per_thousand == pytest.approx(parameters[2])
    assert use.left(20_000).grams == pytest.approx(parameters[1] - 20 * parameters[2])
    row = np.array([0, 1, -15])
    assert use.left(15_000).deviation == pytest.approx(math.sqrt(row @ covariance @ row))


def test_weighings_that_stray_from_their_line_are_less_sure() -> None:
    """As R. T. Birge has it (Physical Review 40, 1932, 207): by the root of the reduced chi-squared."""
    at, grams = [0.0, 3.0, 6.0, 9.0], [100.0, 88.0, 84.0, 71.0]
    rows, deviations = [[1.0, x] for x in at], [3.0, *[SCALE_ERROR_G] * 3]
    use = use_of(CALCULATED, 100, [Weighed(g, x * 1000) for g, x in zip(grams[1:], at[1:], strict=True)])
    strays = misfit(rows, grams, deviations)
    assert strays > 1
    _, covariance = fitted(rows, grams, deviations)
    weights = [(CALCULATED * MODEL_ERROR) ** -2, 1 / (covariance[1, 1] * strays)]
    assert use.deviation == pytest.approx(sum(weights) ** -0.5)


def test_the_model_is_mundens_relation_and_the_bands_metres() -> None:
    """Mass per area in g/m2 = loops/cm2 x l(mm) x tex/100 (Texcoms handbook, p. 147); tex is grams in 1000 m."""
    plan = planned(yarns=[{"metres_per_100g": 400}])
    loops = 3.2 * 4.4
    length_mm = 10 * math.sqrt(MUNDEN_WET_RELAXED / loops)
    grams_per_square_metre = loops * length_mm * (100_000 / 400) / 100
    [yarn] = yarns_left(progress_of((plan, plan), (0, 0)), {})
    assert yarn.use.per_thousand == pytest.approx(grams_per_square_metre / (loops * 10_000) * 1000)
    assert yarn.cm == pytest.approx(length_mm / 10)
    # The grams of the whole pair are those of the plan, less its tenth in hand and the woven-in tails.
    assert yarn.pair.grams == pytest.approx(plan.yarn[0].grams_a_pair / 1.1, rel=0.01)


def test_the_interval_holds_what_is_left_as_often_as_it_says() -> None:
    """Simulated by numpy: yarns off from the model, parts that differ, whole grams, one to four weighings."""
    draw = np.random.default_rng(1959)
    held = []
    for _ in range(1500):
        truth = CALCULATED * (1 + MODEL_ERROR * draw.standard_normal())
        at_hand = 100 * (1 + LABEL_ERROR * draw.standard_normal())
        places = np.sort(draw.uniform(500, 14_000, draw.integers(1, 5)))
        left = at_hand - truth * places / 1000
        read = np.round(left + 0.4 * draw.standard_normal(len(left)))
        use = use_of(CALCULATED, 100, [Weighed(float(g), float(x)) for g, x in zip(read, places, strict=True)])
        ahead = (24_000 - places[-1]) / 1000
        end = left[-1] - ahead * truth * (1 + PART_ERROR * draw.standard_normal())
        told = use.left(24_000)
        held.append(told.low <= end <= told.high)
    assert 0.93 <= np.mean(held) <= 0.99


def test_more_weighings_are_surer() -> None:
    def unsure(weighings: int) -> float:
        places: Array = np.linspace(0, 12_000, weighings + 1)[1:]
        left = use_of(CALCULATED, 100, [Weighed(100 - CALCULATED * x / 1000, x) for x in places]).left(24_000)
        return left.high - left.low

    assert all(fewer > more for fewer, more in pairwise(unsure(number) for number in range(4)))


def test_grams_and_stitches_are_those_of_the_plans_fabric() -> None:
    """A stitch of 1.24 cm, 3.2 x 4.4 to the square cm (Munden, by hand): sqrt(21.6 / 14.08) = 1.2386."""
    plan = planned()
    fabric = fit_of(plan.request).fabric
    assert (fabric.stitches, fabric.rounds) == (3.2, 4.4)
    [yarn] = yarns_left(progress_of((plan, plan), (0, 0)), {})
    assert yarn.cm == pytest.approx(1.2386, abs=1e-4)
