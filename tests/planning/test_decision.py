"""What an estimate of the gauge asks for, at the limits that are written down."""

from __future__ import annotations

import pytest
from scipy import stats  # type: ignore[import-untyped]

from companion.planning.decision import (
    CLEARLY,
    MATTERS,
    SURE_ENOUGH,
    Planned,
    differs,
    is_open,
    may_matter,
    more_to_count,
)
from companion.planning.evidence import Estimate, Gauges

PLANNED = Planned(stitches=30, rounds=42)


def found(per_10cm: float, deviation: float, *, counted: bool = True) -> Estimate:
    return Estimate(per_10cm=per_10cm, deviation=deviation, counted=counted, seen=(), why="")


def gauges(off: float, deviation: float) -> Gauges:
    """Stitches that differ from the plan by so many; rounds that were not counted."""
    return Gauges(stitches=found(30 + off, deviation), rounds=found(42, 2, counted=False))


@pytest.mark.parametrize(
    ("deviations", "follows", "changes"),
    [(2.9, False, False), (3.1, False, True), (0.9, True, False), (1.1, True, True)],
)
@pytest.mark.parametrize("way", [-1, 1])
def test_a_change_needs_three_deviations_and_one_where_the_plan_already_follows(
    deviations: float, way: int, follows: bool, changes: bool
) -> None:
    assert differs(found(30 + way * deviations * 0.2, 0.2), 30, follows=follows) == changes
    assert not differs(found(30 + way * deviations * 0.2, 0.2, counted=False), 30, follows=follows)


def test_a_right_gauge_gets_one_false_alarm_in_three_hundred() -> None:
    """Normal errors (scipy): a check that is right in all but its errors."""
    assert 2 * stats.norm.sf(CLEARLY) < 1 / 300


def test_what_is_felt_is_three_millimetres_of_a_foot() -> None:
    assert MATTERS["rounds"] * 250 == pytest.approx(3)


@pytest.mark.parametrize(
    ("off", "deviation", "matters"),
    # 2.5 % of 30 stitches are 0.75: as far as the estimate is off and two of its deviations beyond.
    [(0.0, 0.37, False), (0.0, 0.38, True), (0.3, 0.22, False), (0.3, 0.23, True), (-0.76, 0.0, True)],
)
def test_a_difference_matters_where_it_may_be_felt(off: float, deviation: float, matters: bool) -> None:
    assert may_matter(found(30 + off, deviation), 30, "stitches") == matters


@pytest.mark.parametrize("deviation", [0.16, 0.2, 0.3, 0.5, 1.0])
def test_as_many_spots_are_asked_for_as_make_it_sure_enough_and_no_more(deviation: float) -> None:
    """Inverse variance by hand: a spot of 10 cm is off by 0.29 of a count and by 1 % of its gauge."""
    asked = more_to_count(gauges(0.6, deviation), PLANNED)
    assert asked
    assert (asked.round_spots, asked.rounds) == (0, 0)
    one = 0.29**2 + (0.01 * 30.6) ** 2

    def error(spots: int) -> float:
        return float((deviation**-2 + spots / one) ** -0.5) / 30.6

    assert error(asked.stitch_spots) <= SURE_ENOUGH < error(asked.stitch_spots - 1)


def test_nothing_more_is_asked_for_once_it_is_sure_enough() -> None:
    assert more_to_count(gauges(0.6, 0.15), PLANNED) is None


@pytest.mark.parametrize(("off", "opens"), [(0.25, False), (0.35, True), (0.55, True), (-0.35, True)])
def test_it_is_open_where_the_fabric_looks_different_and_more_counting_would_tell(off: float, opens: bool) -> None:
    assert is_open(gauges(off, 0.3), PLANNED) == opens
