"""How sure a gauge check makes us, with numpy and scipy as witnesses."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats  # type: ignore[import-untyped]

from companion.planning.check import COUNTING_ERROR, GIVE_OR_TAKE, Check, Spot, estimate, read_check

COUNTS = st.lists(st.tuples(st.integers(4, 400), st.integers(2, 60)), min_size=1, max_size=20)


def spots(*counted: tuple[float, float]) -> list[Spot]:
    return [Spot(count=count, over_cm=over) for count, over in counted]


def test_reading_a_count_to_the_nearest_whole_has_the_deviation_of_a_uniform_error() -> None:
    assert pytest.approx(stats.uniform(-0.5, 1).std(), abs=0.005) == COUNTING_ERROR


@given(COUNTS)
def test_the_gauge_is_all_counts_over_all_lengths(counted: list[tuple[int, int]]) -> None:
    counts, lengths = np.array(counted).T
    assert estimate(spots(*counted)).per_10cm == pytest.approx(10 * counts.sum() / lengths.sum())


@given(COUNTS.filter(lambda counted: len(counted) > 1))
def test_the_deviation_has_the_counting_error_and_the_spread_between_spots(counted: list[tuple[int, int]]) -> None:
    counts, lengths = np.array(counted, dtype=float).T
    between = stats.sem(10 * counts / lengths)
    counting = 10 * COUNTING_ERROR * math.sqrt(len(counts)) / lengths.sum()
    assert estimate(spots(*counted)).deviation == pytest.approx(math.hypot(between, counting))


def test_one_spot_has_the_counting_error_alone() -> None:
    found = estimate(spots((30, 10)))
    assert (found.per_10cm, found.deviation) == pytest.approx((30, 0.29))
    assert found.give_or_take == pytest.approx(GIVE_OR_TAKE * 0.29)
    assert estimate(spots((60, 20))).deviation == pytest.approx(0.145)


def test_even_fabric_is_told_apart_from_its_own_gauge_in_fewer_than_one_check_in_twenty() -> None:
    """Simulated by numpy: three spots of unlike lengths, each count rounded to the nearest whole."""
    draw = np.random.default_rng(1959)
    gauges = draw.uniform(24, 36, 2000)
    lengths = draw.uniform(6, 12, (2000, 3))
    counts = np.rint(gauges[:, None] * lengths / 10)
    errors = 10 * counts.sum(axis=1) / lengths.sum(axis=1) - gauges
    counting = 10 * COUNTING_ERROR * math.sqrt(3) / lengths.sum(axis=1)
    assert (errors / counting).std() == pytest.approx(1, abs=0.05)
    alarms = [
        estimate(spots(*zip(count, length, strict=True))).tells_apart(gauge)
        for count, length, gauge in zip(counts, lengths, gauges, strict=True)
    ]
    assert 0 < np.mean(alarms) < 1 / 20


def test_a_right_count_of_even_fabric_is_never_told_apart_from_its_gauge() -> None:
    for tenths in range(200, 481):
        gauge = tenths / 10
        for over in (4, 5, 10):
            counted = round(gauge * over / 10)
            assert not estimate(spots((counted, over))).tells_apart(gauge)


def test_a_stitch_too_many_over_10_cm_is_told_apart() -> None:
    found = estimate(spots((31, 10)))
    assert found.tells_apart(30)
    assert not found.tells_apart(30.5)
    # Where spots differ by more than that it is not.
    assert not estimate(spots((29, 10), (33, 10))).tells_apart(30)


def test_nothing_counted_is_a_programmers_error() -> None:
    with pytest.raises(ValueError, match="no spot was counted"):
        estimate([])


def test_a_check_may_have_stitches_or_rounds_or_both() -> None:
    for data in (
        {"stitches": [{"count": 30, "over_cm": 10}]},
        {"rounds": [{"count": 42.5, "over_cm": 10}], "stitches": []},
        {"stitches": [{"count": 30, "over_cm": 10}], "rounds": [{"count": 42, "over_cm": 10}]},
    ):
        check, faults = read_check(data)
        assert isinstance(check, Check), faults


@pytest.mark.parametrize("data", [{}, {"stitches": [], "rounds": []}])
def test_an_empty_check_says_what_to_count(data: object) -> None:
    check, faults = read_check(data)
    assert check is None
    assert [str(fault) for fault in faults] == ["count stitches over a width, rounds over a height, or both"]


@pytest.mark.parametrize(
    ("spot", "where", "allowed"),
    [
        ({"count": 3, "over_cm": 10}, "count", "from 4 up"),
        ({"count": 401, "over_cm": 10}, "count", "up to 400"),
        ({"count": math.nan, "over_cm": 10}, "count", "a number is needed"),
        ({"count": 30, "over_cm": 1}, "over_cm", "from 2 up"),
        ({"count": 30, "over_cm": 61}, "over_cm", "up to 60"),
        ({"count": 30}, "over_cm", "missing"),
        ({"count": 30, "over_cm": 10, "side": "left"}, "side", "not an entry"),
    ],
)
def test_a_faulty_spot_is_named_with_what_is_allowed(spot: dict[str, object], where: str, allowed: str) -> None:
    check, faults = read_check({"stitches": [spot]})
    assert check is None
    assert [fault.where for fault in faults] == [f"stitches.0.{where}"]
    assert allowed in faults[0].message
