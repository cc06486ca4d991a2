"""Feet and gauges as they are typed for a range of sizes."""

from __future__ import annotations

import pytest

from companion.planning.request.plan_request import Gauge
from companion.planning.request.size_range import (
    CIRCUMFERENCES,
    GAUGES,
    LENGTH_TO_BALL,
    gauges_round,
    read_feet,
    read_gauges,
    typed_list,
)
from companion.planning.units import Unit


def test_feet_are_read_in_either_unit() -> None:
    feet, faults = read_feet(["20", "22,5"], [], "cm")
    assert not faults
    assert [foot.ball_circumference_cm for foot in feet] == [20, 22.5]
    assert [foot.length_cm for foot in feet] == [round(20 * LENGTH_TO_BALL, 1), round(22.5 * LENGTH_TO_BALL, 1)]
    feet, faults = read_feet(["8", "8 1/2"], ["9 in", "24 cm"], "in")
    assert not faults
    assert [foot.ball_circumference_cm for foot in feet] == pytest.approx([8 * 2.54, 8.5 * 2.54])
    assert [foot.length_cm for foot in feet] == pytest.approx([9 * 2.54, 24])


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_the_ranges_offered_are_sound(unit: Unit) -> None:
    feet, faults = read_feet(CIRCUMFERENCES[unit], [], unit)
    assert (len(feet), faults) == (len(CIRCUMFERENCES[unit]), [])
    gauges, faults = read_gauges(GAUGES, unit)
    assert (len(gauges), faults) == (len(GAUGES), [])


def test_gauges_are_read_with_and_without_rounds() -> None:
    gauges, faults = read_gauges(["30", "30x42", "7 1/2 × 10"], "cm")
    assert [str(fault) for fault in faults] == ["gauges: 7 1/2 × 10 given; allowed: 14 to 60 over 10 cm"]
    assert [(gauge.stitches_per_10cm, gauge.rounds_per_10cm) for gauge in gauges] == [(30, None), (30, 42)]
    [gauge], _ = read_gauges(["32x44"], "in")
    # 4 in are 10.16 cm.
    assert gauge.stitches_per_10cm == pytest.approx(32 / 1.016)
    assert gauge.rounds_per_10cm == pytest.approx(44 / 1.016)


@pytest.mark.parametrize(
    ("balls", "lengths", "says"),
    [
        (["round"], [], "circumferences: round given; a number is needed here"),
        (["3"], [], "circumferences: 3 given; needed is the way round the ball of a foot; allowed: 9 to 35 cm"),
        (["34"], [], "allowed: 8 to 36 cm, and with it a length that a foot can have"),
        (["20"], ["long"], "lengths: long given; a number is needed here"),
        (["20"], ["50"], "lengths: 50 given; the length of a foot is needed here; allowed: 8 to 36 cm"),
        (["20", "22"], ["24"], "lengths: 1 given; one for each of the 2 circumferences is needed"),
        (["20"] * 21, [], "circumferences: 21 given; at most 20"),
    ],
)
def test_what_is_no_foot_is_reported(balls: list[str], lengths: list[str], says: str) -> None:
    _, faults = read_feet(balls, lengths, "cm")
    assert len(faults) == 1
    assert says in str(faults[0])


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("fine", "gauges: fine given; needed are stitches"),
        ("30x", "gauges: 30x given; needed are stitches"),
        ("12", "allowed: 14 to 60 over 10 cm"),
        ("30x300", "allowed: 16 to 100 over 10 cm"),
        ("30x80", "1 to 1.9 times the stitches"),
    ],
)
def test_what_is_no_gauge_is_reported(text: str, says: str) -> None:
    gauges, faults = read_gauges([text], "cm")
    assert not gauges
    assert len(faults) == 1
    assert says in str(faults[0])


def test_too_many_gauges_are_reported() -> None:
    _, faults = read_gauges(["30"] * 9, "cm")
    assert [str(fault) for fault in faults] == ["gauges: 9 given; at most 8 are allowed"]


def test_a_known_gauge_is_in_the_middle_of_others_like_it() -> None:
    found = gauges_round(Gauge(stitches_per_10cm=30, rounds_per_10cm=42))
    assert [gauge.stitches_per_10cm for gauge in found] == [26, 28, 30, 32, 34]
    assert all(gauge.rounds_per_10cm == pytest.approx(gauge.stitches_per_10cm * 1.4, abs=0.05) for gauge in found)
    assert [gauge.stitches_per_10cm for gauge in gauges_round(Gauge(stitches_per_10cm=59))] == [55, 57, 59]


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        ("", ()),
        ("20 22 24", ("20", "22", "24")),
        ("20, 22,5, 24", ("20", "22,5", "24")),
        ("20,22,24", ("20", "22", "24")),
        ("20,5,22,5", ("20,5", "22,5")),
        ("20;22.5 ; 24", ("20", "22.5", "24")),
        ("7 1/2, 8, 8 1/2", ("7 1/2", "8", "8 1/2")),
        ("7½ 8 8½", ("7½", "8", "8½")),
        ("28 30x42", ("28", "30x42")),
    ],
)
def test_a_list_is_taken_apart_as_it_is_typed(text: str, listed: tuple[str, ...]) -> None:
    assert typed_list(text) == listed


def test_a_pattern_can_have_fewer_sizes_than_a_grid() -> None:
    _, faults = read_feet(["20"] * 9, [], "cm", most=8)
    assert [str(fault) for fault in faults] == ["circumferences: 9 given; at most 8 are allowed"]


def test_sizes_typed_out_of_order_are_sorted_each_with_its_length() -> None:
    """A pattern names its sizes from the smallest on (common practice)."""
    feet, faults = read_feet(["24", "20", "22"], ["26", "21", "23,5"], "cm")
    assert not faults
    assert [(foot.ball_circumference_cm, foot.length_cm) for foot in feet] == [(20, 21), (22, 23.5), (24, 26)]
