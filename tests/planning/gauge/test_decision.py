"""What an estimate of the gauge asks for, at the limits that are written down."""

from __future__ import annotations

import math

import pytest
import scipy  # type: ignore[import-untyped]

from companion.planning.gauge.decision import (
    CLEARLY,
    MATTERS,
    Planned,
    Room,
    count_again,
    counted_enough,
    differs,
    is_open,
    may_matter,
)
from companion.planning.gauge.estimate import Estimate, Gauges

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
    """The deviation of the estimate, 0.2, and that of a steady gauge from day to day, half a part in a hundred."""
    off = way * deviations * math.hypot(0.2, 0.15)
    assert differs(found(30 + off, 0.2), 30, follows=follows) == changes
    assert not differs(found(30 + off, 0.2, counted=False), 30, follows=follows)


def test_a_right_gauge_gets_one_false_alarm_in_three_hundred() -> None:
    """Normal errors (scipy): a check that is right in all but its errors."""
    assert 2 * scipy.stats.norm.sf(CLEARLY) < 1 / 300


def test_what_is_felt_is_three_millimetres_of_a_foot() -> None:
    assert MATTERS["rounds"] * 250 == pytest.approx(3)


@pytest.mark.parametrize(
    ("off", "deviation", "matters"),
    # 2.5 % of 30 stitches are 0.75: as far as the estimate is off and two of its deviations beyond.
    [(0.0, 0.37, False), (0.0, 0.38, True), (0.3, 0.22, False), (0.3, 0.23, True), (-0.76, 0.0, True)],
)
def test_a_difference_matters_where_it_may_be_felt(off: float, deviation: float, matters: bool) -> None:
    assert may_matter(found(30 + off, deviation), 30, "stitches") == matters


@pytest.mark.parametrize(
    ("stitches", "rounds", "enough"),
    [(3, 3, False), (2, 9, False), (0, 9, False), (4, 0, True), (3, 4, True), (4, 4, True)],
)
def test_what_may_matter_has_to_be_counted_and_confirmed_once(stitches: int, rounds: int, *, enough: bool) -> None:
    """The rounds of these estimates were never counted, so nothing of them can be said to differ."""
    assert counted_enough(gauges(0.6, 0.3), PLANNED, {"stitches": stitches, "rounds": rounds}) == enough


@pytest.mark.parametrize("over", [5, 10])
def test_three_spots_are_asked_for_with_what_they_are_worth(over: float) -> None:
    """Inverse variance by hand: a spot is off by 0.29 of a count and by 1 % of its gauge."""
    asked = count_again(gauges(0.6, 0.3), Room(stitches_cm=over, rounds_cm=5), None)
    assert (asked.stitch_spots, asked.round_spots, asked.stitches_over_cm) == (3, 3, over)
    one = (0.29 * 10 / over) ** 2 + (0.01 * 30.6) ** 2
    then = float((0.3**-2 + 3 / one) ** -0.5)
    assert f"With 3 more that becomes {2 * then:.1f}." in asked.sums[0]


def test_without_room_the_round_is_named_up_to_which_to_knit_first() -> None:
    asked = count_again(gauges(0.6, 0.3), Room(stitches_cm=9, rounds_cm=4), 36)
    assert asked.after_round == 36
    assert asked.ask.startswith("knit on to round 36 of the sock, and then count stitches over 9 cm")


@pytest.mark.parametrize(("off", "opens"), [(0.25, False), (0.35, True), (0.55, True), (-0.35, True)])
def test_it_is_open_where_the_fabric_looks_different(off: float, opens: bool) -> None:
    assert is_open(gauges(off, 0.3), PLANNED) == opens
